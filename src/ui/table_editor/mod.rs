//! The table editor: a blower table typed as it is printed, checked and drawn while it is typed.

mod grid;
mod head;
mod keys;
mod photo;
mod preview;
mod remarks;

use eframe::egui::{Align, Button, Event, Key, Layout, Modifiers, RichText, Ui, Vec2, vec2};

use crate::model::typed::table_paste;
use crate::ui::theme;
use crate::ui::view::action::{Action, Command, Keeping};
use crate::ui::view::table_editor::{GoTo, Leaving, TableEditor};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{focus, hint, label, sheet};

/// Largest that the editor gets, points.
const LARGEST: Vec2 = vec2(1100.0, 760.0);
/// Largest with a photograph over the grid.
const LARGEST_WITH_PHOTO: Vec2 = vec2(1360.0, 900.0);
/// Share of the height that the photograph takes: while its corners are pressed, and while it is typed off.
const PHOTO: [f32; 2] = [0.66, 0.42];
/// Least height of the photograph, points.
const PHOTO_LEAST: f32 = 190.0;
/// Under this width the parts stand under each other.
const SIDE_BY_SIDE: f32 = 820.0;
/// Width of the fields beside the grid.
const HEAD_WIDTH: f32 = 264.0;
/// Width of the preview and the remarks.
const PREVIEW_WIDTH: f32 = 244.0;

/// How the editor ends.
#[derive(Clone, Copy)]
enum Ending {
    Use,
    Keep,
    Leave,
    /// Not yet: a photograph of the printed table is asked for.
    Photograph,
}

/// Draws the editor while `view.table_editor` is there.
pub fn show(ui: &mut Ui, _screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(editor) = view.table_editor.as_mut() else {
        return;
    };
    let largest = if editor.photo.is_some() { LARGEST_WITH_PHOTO } else { LARGEST };
    let modal = sheet::over_all(ui, "table editor", largest, |ui, size| contents(ui, editor, size));
    let mut ending = modal.inner;
    if ending.is_none() && editor.leaving == Leaving::No && modal.should_close() {
        ending = Some(Ending::Leave);
    }
    if editor.leaving == Leaving::Asking {
        match ask(ui, &editor.keeping) {
            Some(Answer::Keep) => keep_typing(editor),
            Some(Answer::ThrowAway) => view.table_editor = None,
            None => {}
        }
        return;
    }
    match ending {
        Some(Ending::Use) => out.push(Action::UseTable(Box::new(editor.reading.table.clone()))),
        Some(Ending::Keep) => out.push(Action::KeepTable(Box::new(editor.reading.table.clone()))),
        Some(Ending::Photograph) => out.push(Action::Command(Command::OpenTable)),
        Some(Ending::Leave) if editor.is_changed() => editor.leaving = Leaving::Asking,
        Some(Ending::Leave) => view.table_editor = None,
        None => {}
    }
}

fn keep_typing(editor: &mut TableEditor) {
    editor.leaving = Leaving::No;
    editor.go_to = Some(GoTo::Grid(editor.cursor));
}

/// What to do with a table half typed.
enum Answer {
    Keep,
    ThrowAway,
}

fn ask(ui: &Ui, keeping: &Keeping) -> Option<Answer> {
    let mut answer = None;
    let modal = sheet::question(ui, "leave the table", |ui| {
        ui.set_width(340.0);
        let place = if *keeping == Keeping::AndUse { "in the job" } else { "kept in your tables" };
        label::strong(ui, format!("This table is not {place} yet. Throw away what was typed?"));
        ui.add_space(theme::STEP);
        ui.horizontal(|ui| {
            let keep = ui.button("Keep typing");
            focus::by_default(&keep);
            if keep.clicked() {
                answer = Some(Answer::Keep);
            }
            if ui.button(RichText::new("Throw the table away").color(theme::palette(ui).over)).clicked() {
                answer = Some(Answer::ThrowAway);
            }
        });
    });
    if answer.is_none() && modal.should_close() {
        answer = Some(Answer::Keep);
    }
    answer
}

fn contents(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) -> Option<Ending> {
    let accept =
        editor.leaving == Leaving::No && ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
    take_paste(ui, editor);
    let title = if editor.opened.has_no_cells() { "Type a blower table" } else { "Change the blower table" };
    let asked = ui.horizontal(|ui| {
        label::strong(ui, title);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let button = ui.button("Type off a photograph…");
            hint::hint(&button, || "Lays a photograph of the printed table over the grid (PNG or JPEG)".to_owned());
            button.clicked()
        })
        .inner
    });
    label::caption(ui, "Type the maker's own table for this very model; its notes and limits come first");
    let body = vec2(size.x, (size.y - 86.0).max(120.0));
    if size.x >= SIDE_BY_SIDE {
        side_by_side(ui, editor, body);
    } else {
        under_each_other(ui, editor, body);
    }
    editor.read_again();
    let asked = asked.inner.then_some(Ending::Photograph);
    foot(ui, editor, accept).or(asked)
}

fn side_by_side(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) {
    let middle = size.x - HEAD_WIDTH - PREVIEW_WIDTH - 4.0 * theme::STEP;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0 * theme::STEP;
        column(ui, "head", vec2(HEAD_WIDTH, size.y), |ui| head::head(ui, editor));
        ui.allocate_ui_with_layout(
            vec2(middle + PREVIEW_WIDTH + 2.0 * theme::STEP, size.y),
            Layout::top_down(Align::Min),
            |ui| {
                let photo = over_the_grid(ui, editor, size.y);
                ui.horizontal_top(|ui| {
                    let height = size.y - photo;
                    column(ui, "grid", vec2(middle, height), |ui| grid::grid(ui, editor));
                    column(ui, "preview", vec2(PREVIEW_WIDTH, height), |ui| {
                        preview::preview(ui, &editor.reading);
                        remarks::remarks(ui, editor);
                    });
                });
            },
        );
    });
}

/// Draws the photograph, where there is one, and says how much of the height it took.
fn over_the_grid(ui: &mut Ui, editor: &mut TableEditor, height: f32) -> f32 {
    let Some(view) = &editor.photo else {
        return 0.0;
    };
    let top = ui.cursor().top();
    let share = PHOTO[usize::from(view.is_flat())];
    let size = vec2(ui.available_width(), (height * share).max(PHOTO_LEAST));
    photo::photo(ui, editor, size);
    ui.add_space(theme::STEP);
    ui.cursor().top() - top
}

fn column(ui: &mut Ui, salt: &str, size: Vec2, contents: impl FnOnce(&mut Ui)) {
    sheet::part(ui, salt, size, |ui| {
        ui.spacing_mut().item_spacing = vec2(theme::STEP, theme::STEP * 0.5);
        contents(ui);
    });
}

fn under_each_other(ui: &mut Ui, editor: &mut TableEditor, size: Vec2) {
    let photo = over_the_grid(ui, editor, size.y);
    column(ui, "all", vec2(size.x, size.y - photo), |ui| {
        head::name(ui, editor);
        grid::grid(ui, editor);
        remarks::remarks(ui, editor);
        preview::preview(ui, &editor.reading);
        head::rest(ui, editor);
    });
}

fn foot(ui: &mut Ui, editor: &mut TableEditor, accept: bool) -> Option<Ending> {
    let errors = editor.reading.errors();
    let mut ending = None;
    ui.add_space(theme::STEP * 0.5);
    ui.horizontal(|ui| {
        let button = |text: &str, strong: bool| {
            let font = if strong { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
            Button::new(RichText::new(text).font(font))
        };
        // First what it was opened for: a table of the library goes back there.
        let mut ways = [("Use in this job", Ending::Use), ("Keep in my tables", Ending::Keep)];
        if editor.keeping != Keeping::AndUse {
            ways.reverse();
        }
        for (index, (name, way)) in ways.into_iter().enumerate() {
            let is_first = index == 0;
            let pressed = ui.add_enabled(errors == 0, button(name, is_first)).clicked();
            if pressed || accept && is_first && errors == 0 {
                ending = Some(way);
            }
        }
        if ui.button("Close").clicked() {
            ending = Some(Ending::Leave);
        }
        if errors == 0 {
            let what =
                if editor.keeping == Keeping::AndUse { "uses it in this job" } else { "keeps it in your tables" };
            label::caption(ui, format!("Ctrl+Enter {what}"));
            return;
        }
        if ui.button("Go to the first").clicked() {
            remarks::go_to_first_error(editor);
        }
        let places = if errors == 1 { "One place".to_owned() } else { format!("{errors} places") };
        label::error(ui, &format!("{places} must be mended first"));
    });
    ending
}

/// Takes a pasted block before a field sees it.
fn take_paste(ui: &Ui, editor: &mut TableEditor) {
    let taken = ui.input_mut(|input| {
        let place =
            input.events.iter().position(|event| matches!(event, Event::Paste(text) if table_paste::is_block(text)))?;
        if let Event::Paste(text) = input.events.remove(place) { Some(text) } else { None }
    });
    let Some(text) = taken else {
        return;
    };
    editor.begin_step();
    let (row, tap) = (editor.cursor.row.saturating_sub(1), editor.cursor.column.checked_sub(1));
    editor.said = table_paste::parse(&text).put_into(&mut editor.draft, editor.block, row, tap);
    editor.cursor = editor.cursor.within(&editor.draft);
    editor.go_to = Some(GoTo::Grid(editor.cursor));
    editor.begin_step();
}
