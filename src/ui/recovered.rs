//! The question about work that killed windows left: each by name, file and time, beside the file as it is now.

use std::path::Path;
use std::time::SystemTime;

use eframe::egui::{Id, Modal, Response, Role, ScrollArea, Ui, WidgetInfo};

use crate::files::autosave::{Original, Recovered};
use crate::ui::view::action::Action;
use crate::ui::widgets::{focus, label};
use crate::ui::{overlays, theme};

/// Width where the window has it, points.
const WIDTH: f32 = 480.0;
/// Most of the window's height that the list takes.
const MOST_OF_HEIGHT: f32 = 0.5;

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
    let job = if found.job.title.is_empty() { "Untitled job" } else { &found.job.title };
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
        let window = ui.ctx().content_rect();
        ui.set_width(overlays::width(ui, WIDTH));
        label::strong(ui, "Work that was not saved was found");
        label::caption(ui, "The program ended before it was saved. Each stays until it is restored or thrown away.");
        let most = window.height() * MOST_OF_HEIGHT;
        ScrollArea::vertical().max_height(most).show(ui, |ui| {
            for (index, one) in found.iter().enumerate() {
                ui.add_space(theme::STEP);
                if let Some(action) = row(ui, one, index == 0) {
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

/// One of them; what restores the first is the question's default.
fn row(ui: &mut Ui, found: &Recovered, is_first: bool) -> Option<Action> {
    let mut action = None;
    let named = name(found);
    label::strong(ui, &named);
    let place = found.original.as_deref().map_or("no file yet".to_owned(), |path| path.display().to_string());
    let autosaved = format!("Autosaved {}; {place}", clock(found.modified));
    // The newer of the two stands first.
    let lines = match found.original_now {
        Original::Other(written) if written > found.modified => {
            vec![format!("The file was written later, {}, and says something else", clock(written)), autosaved]
        }
        Original::Other(written) => {
            vec![autosaved, format!("The file was written before, {}, and says something else", clock(written))]
        }
        Original::Gone if found.original.is_some() => vec![autosaved, "The file is gone or cannot be read".to_owned()],
        Original::Gone | Original::Same => vec![autosaved],
    };
    for line in lines {
        label::caption(ui, line);
    }
    ui.horizontal_wrapped(|ui| {
        let restore = button(ui, "Restore", &format!("Restore {named}"));
        if is_first {
            focus::by_default(&restore);
        }
        if restore.clicked() {
            action = Some(Action::Restore(found.path.clone()));
        }
        if let (Original::Other(_), Some(path)) = (found.original_now, &found.original)
            && ui.button(format!("Open {}", file_name(path))).clicked()
        {
            action = Some(Action::OpenPath(path.clone()));
        }
        if button(ui, "Throw away", &format!("Throw away {named}")).clicked() {
            action = Some(Action::ThrowAway(found.path.clone()));
        }
    });
    action
}

/// A button under the name of what it acts on; those who hear the screen hear the name with it.
fn button(ui: &mut Ui, text: &str, heard: &str) -> Response {
    let response = ui.button(text);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, heard));
    response
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}
