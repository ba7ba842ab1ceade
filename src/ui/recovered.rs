//! The question about work that killed windows left: each by name, file and time, beside the file as it is now.

use std::path::Path;
use std::time::SystemTime;

use eframe::egui::{Id, Modal, ScrollArea, Ui};

use crate::app::action::Action;
use crate::files::autosave::{Original, Recovered};
use crate::ui::theme;
use crate::ui::widgets::label;

/// Most of the window's height that the list takes.
const MOST_OF_HEIGHT: f32 = 0.6;

/// What a person chose.
#[derive(Clone, Debug, PartialEq)]
pub enum Choice {
    /// To do something with one of them.
    Do(Action),
    /// To come back to the rest by the menu.
    Later,
}

/// What a job is called: its title, and the table that was being typed in its window.
pub fn name(found: &Recovered) -> String {
    let job = if found.job.title.is_empty() { "an untitled job" } else { &found.job.title };
    let Some(table) = &found.table else {
        return job.to_owned();
    };
    match table.draft.head.name.trim() {
        "" => format!("{job}, with a table half typed"),
        table => format!("{job}, with the table {table} half typed"),
    }
}

/// A time as the person's own clock shows it.
fn clock(time: SystemTime) -> String {
    jiff::Timestamp::try_from(time).map_or_else(
        |_beyond_any_calendar| "at a time that is not known".to_owned(),
        |time| time.to_zoned_datetime(jiff::tz::TimeZone::system()).strftime("%Y-%m-%d %H:%M:%S").to_string(),
    )
}

/// Draws the question over everything else.
pub fn question(ui: &Ui, found: &[Recovered]) -> Option<Choice> {
    let mut choice = None;
    Modal::new(Id::unique("recovered")).show(ui.ctx(), |ui| {
        ui.set_width(480.0);
        label::strong(ui, "Work that was not saved was found. The program ended before it was saved.");
        let most = ui.ctx().content_rect().height() * MOST_OF_HEIGHT;
        ScrollArea::vertical().max_height(most).show(ui, |ui| {
            for one in found {
                ui.add_space(theme::STEP);
                if let Some(action) = row(ui, one, found.len() > 1) {
                    choice = Some(Choice::Do(action));
                }
            }
        });
        ui.add_space(theme::STEP * 2.0);
        if ui.button("Decide later").on_hover_text("File, Recovered work… shows them again").clicked() {
            choice = Some(Choice::Later);
        }
    });
    choice
}

/// One of them; where there are several, its buttons say which one they are of.
fn row(ui: &mut Ui, found: &Recovered, is_one_of_several: bool) -> Option<Action> {
    let mut action = None;
    let named = name(found);
    label::strong(ui, &named);
    let original = found.original_now;
    let place = found.original.as_deref().map_or("has no file yet".to_owned(), |path| path.display().to_string());
    let autosaved = format!("Autosaved {}; {place}", clock(found.modified));
    let file_line = match original {
        Original::Other(written) if written > found.modified => {
            Some(format!("The file was written later, {}, and says something else", clock(written)))
        }
        Original::Other(written) => Some(format!("The file is as it was written {}", clock(written))),
        Original::Gone if found.original.is_some() => Some("The file is gone or cannot be read".to_owned()),
        Original::Gone | Original::Same => None,
    };
    let is_file_newer = matches!(original, Original::Other(written) if written > found.modified);
    let autosaved_line = Some(autosaved);
    let lines = if is_file_newer { [file_line, autosaved_line] } else { [autosaved_line, file_line] };
    lines.into_iter().flatten().for_each(|line| drop(label::caption(ui, &line)));
    ui.horizontal(|ui| {
        let [restore, throw_away] = if is_one_of_several {
            [format!("Restore {named}"), format!("Throw away {named}")]
        } else {
            ["Restore it".to_owned(), "Throw it away".to_owned()]
        };
        if ui.button(restore).clicked() {
            action = Some(Action::Restore(found.path.clone()));
        }
        if let (Original::Other(_), Some(path)) = (original, &found.original)
            && ui.button(format!("Open {}", file_name(path))).clicked()
        {
            action = Some(Action::OpenPath(path.clone()));
        }
        if ui.button(throw_away).clicked() {
            action = Some(Action::ThrowAway(found.path.clone()));
        }
    });
    action
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}
