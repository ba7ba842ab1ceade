//! Where a table is moved to: one of the folders, or a new one in it.

use std::path::{Path, PathBuf};

use eframe::egui::{Key, RichText, TextEdit, Ui};

use crate::files::library::folders;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::library::Moving;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{choice, label, sheet};

/// Width of the question, points.
const WIDTH: f32 = 380.0;
/// How the library's own folder is called.
const NO_FOLDER: &str = "Your tables, in no folder";

/// Draws the question while `picker.moving` is there.
pub(super) fn show(ui: &Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(moving) = view.picker.as_mut().and_then(|picker| picker.moving.as_mut()) else {
        return;
    };
    let room = ui.ctx().content_rect().width() - 8.0 * theme::STEP;
    let modal = sheet::question(ui, "move table", |ui| {
        ui.set_width(WIDTH.min(room));
        contents(ui, screen, moving, out)
    });
    if modal.inner || modal.should_close() {
        view.picker.iter_mut().for_each(|picker| picker.moving = None);
    }
}

/// Draws the question; true when it is given up.
fn contents(ui: &mut Ui, screen: &Screen<'_>, moving: &mut Moving, out: &mut Vec<Action>) -> bool {
    label::strong(ui, format!("Move {}", moving.name));
    let there = screen.library.folders();
    let quiet = theme::palette(ui).quiet;
    let named = |folder: &Path| if folder == Path::new("") { NO_FOLDER.to_owned() } else { folders::words(folder) };
    let names: Vec<String> = there.iter().map(|folder| named(folder)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    ui.label(RichText::new("To").color(quiet));
    if let Some(folder) = choice::list(ui, "Folder", &named(&moving.inside), &names).and_then(|index| there.get(index))
    {
        moving.inside = folder.to_path_buf();
        moving.problem = None;
    }
    let caption = ui.label(RichText::new("New folder in it, if any").color(quiet));
    let field = ui
        .add(TextEdit::singleline(&mut moving.new).hint_text("Such as Furnaces").desired_width(f32::INFINITY))
        .labelled_by(caption.id);
    // Until it has come: in the first pictures the question does not lie over the list yet.
    if moving.is_new {
        field.request_focus();
        moving.is_new = !field.has_focus();
    }
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    if let Some(problem) = &moving.problem {
        label::error(ui, problem);
    }
    let mut is_given_up = false;
    ui.horizontal(|ui| {
        if ui.button("Move").clicked() || entered {
            match folder_of(moving, &there) {
                Ok(folder) => out.push(Action::MoveTable { file: moving.file.clone(), folder }),
                Err(problem) => moving.problem = Some(problem),
            }
            moving.is_new = moving.problem.is_some();
        }
        is_given_up = ui.button("Cancel").clicked();
    });
    is_given_up
}

fn folder_of(moving: &Moving, there: &[&Path]) -> Result<PathBuf, String> {
    folders::named(&moving.inside, &moving.new, there).map_err(|error| error.to_string())
}
