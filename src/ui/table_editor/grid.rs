//! The grid as on the door panel: a row for each static pressure, a column for each tap.

use eframe::egui::{
    self, Align, Id, Key, Label, Modifiers, Rect, RichText, Role, ScrollArea, Stroke, StrokeKind, TextEdit, Ui,
    WidgetInfo, vec2,
};

use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{Block, Place};
use crate::ui::table_editor::keys;
use crate::ui::table_editor::remarks;
use crate::ui::theme;
use crate::ui::view::table_editor::{GoTo, Spot, TableEditor};
use crate::ui::widgets::{choice, hint, label};

/// Width of the static pressures' column.
const ESP_WIDTH: f32 = 70.0;
/// Narrowest and widest column of a tap.
const TAP_WIDTH: (f32, f32) = (58.0, 96.0);
/// Space between boxes.
const GAP: f32 = 4.0;

/// Draws tabs, grid and the buttons under it.
pub(super) fn grid(ui: &mut Ui, editor: &mut TableEditor) {
    tabs(ui, editor);
    take_steps(ui, editor);
    let spot = editor.cursor;
    let step = keys::take(ui, spot.id(editor.block));
    let width = tap_width(ui, editor.draft.taps.len());
    ScrollArea::horizontal().id_salt("grid").auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(GAP, GAP);
        names(ui, editor, width);
        for row in 1..=editor.draft.rows.len() {
            ui.horizontal(|ui| {
                for column in 0..=editor.draft.taps.len() {
                    cell(ui, editor, Spot { row, column }, if column == 0 { ESP_WIDTH } else { width });
                }
            });
        }
        ui.add_space(theme::STEP);
    });
    if let Some(step) = step {
        editor.go_to = Some(keys::target(&mut editor.draft, spot, step).map_or(GoTo::Name, GoTo::Grid));
    }
    follow(ui, editor);
    under(ui, editor);
}

/// Undo and redo of the grid, while the hand is in it; a field beside it has its own.
fn take_steps(ui: &Ui, editor: &mut TableEditor) {
    if !ui.memory(|memory| memory.has_focus(editor.cursor.id(editor.block))) {
        return;
    }
    let pressed = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    // With Shift first, for the other also matches then.
    let again = pressed(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z) || pressed(Modifiers::COMMAND, Key::Y);
    if again {
        editor.step_forward();
    } else if pressed(Modifiers::COMMAND, Key::Z) {
        editor.step_back();
    }
}

fn tap_width(ui: &Ui, taps: usize) -> f32 {
    let room = ui.available_width() - ESP_WIDTH - theme::STEP;
    (room / taps.max(1) as f32 - GAP).clamp(TAP_WIDTH.0, TAP_WIDTH.1).floor()
}

fn tabs(ui: &mut Ui, editor: &mut TableEditor) {
    let options: Vec<(String, bool)> =
        Block::ALL.iter().map(|block| (block.name().to_owned(), *block == editor.block)).collect();
    let pressed = choice::buttons(ui, "Grid", &options);
    let keys = [Key::Num1, Key::Num2, Key::Num3];
    let by_key = ui.input_mut(|input| keys.into_iter().position(|key| input.consume_key(Modifiers::COMMAND, key)));
    if let Some(block) = pressed.or(by_key).and_then(|index| Block::ALL.get(index)) {
        editor.block = *block;
        editor.go_to = Some(GoTo::Grid(editor.cursor));
    }
}

/// The row of the columns' names.
fn names(ui: &mut Ui, editor: &mut TableEditor, width: f32) {
    let quiet = theme::palette(ui).quiet;
    let unit = match editor.block {
        Block::Airflow => editor.draft.head.airflow_unit.name(),
        Block::Watts => "W",
        Block::Rpm => "rpm",
    };
    let text = format!("{} / {unit}", editor.draft.head.pressure_unit.name());
    ui.horizontal(|ui| {
        let small = RichText::new(text).font(theme::regular(11.0)).color(quiet);
        ui.add_sized([ESP_WIDTH, 28.0], Label::new(small).truncate());
        for column in 1..=editor.draft.taps.len() {
            cell(ui, editor, Spot { row: 0, column }, width);
        }
    });
}

/// Where a spot's remarks belong.
fn place_of(spot: Spot, block: Block) -> Place {
    match (spot.row.checked_sub(1), spot.column.checked_sub(1)) {
        (Some(row), Some(tap)) => Place::Cell { row, tap, block },
        (Some(row), None) => Place::Esp(row),
        (None, tap) => Place::Tap(tap.unwrap_or_default()),
    }
}

/// What a spot is called for screen readers.
fn name_of(editor: &TableEditor, spot: Spot) -> String {
    let draft = &editor.draft;
    let tap = spot.column.checked_sub(1).and_then(|tap| draft.taps.get(tap));
    let esp = spot.row.checked_sub(1).and_then(|row| draft.rows.get(row)).map_or("", |row| row.esp.trim());
    match (spot.row, tap) {
        (0, _) => format!("Name of column {}", spot.column),
        (row, None) => format!("Static pressure of row {row}"),
        (row, Some(tap)) => format!("{} of {tap}, row {row}, {esp}", editor.block.name()),
    }
}

fn text_of(editor: &mut TableEditor, spot: Spot) -> Option<&mut String> {
    match (spot.row.checked_sub(1), spot.column.checked_sub(1)) {
        (Some(row), Some(tap)) => Some(editor.draft.rows.get_mut(row)?.cells.get_mut(tap)?.text_mut(editor.block)),
        (Some(row), None) => Some(&mut editor.draft.rows.get_mut(row)?.esp),
        (None, Some(tap)) => editor.draft.taps.get_mut(tap),
        (None, None) => None,
    }
}

fn cell(ui: &mut Ui, editor: &mut TableEditor, spot: Spot, width: f32) {
    let palette = theme::palette(ui);
    let id = spot.id(editor.block);
    let name = name_of(editor, spot);
    let remark =
        editor.remark_on(place_of(spot, editor.block)).map(|problem| (problem.severity, problem.message.clone()));
    let is_heading = spot.row == 0 || spot.column == 0;
    let ink = match (&remark, is_heading) {
        (Some((Severity::Error, _)), _) => palette.over,
        _ => palette.ink,
    };
    let Some(text) = text_of(editor, spot) else {
        return;
    };
    let font = if is_heading { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    let mut edit = TextEdit::singleline(text)
        .id(id)
        .font(font)
        .text_color(ink)
        .align(egui::Align2([Align::Max, Align::Center]))
        .desired_width(width)
        .margin(egui::Margin::symmetric(6, 4))
        .lock_focus(true);
    if is_heading {
        edit = edit.background_color(palette.card);
    }
    let response = ui.add(edit);
    let now = text.clone();
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::TextInput, true, &name);
        info.current_text_value = Some(now.clone());
        info
    });
    keys::remember_length(ui, id, &now);
    let rect = response.rect;
    if response.has_focus() {
        editor.cursor = spot;
    }
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    if let Some((severity, message)) = remark {
        mark(ui, rect, severity);
        response.on_hover_text(message);
    }
}

/// Frames a place that has a remark.
fn mark(ui: &Ui, rect: Rect, severity: Severity) {
    let palette = theme::palette(ui);
    let stroke = match severity {
        Severity::Error => Stroke::new(2.0, palette.over),
        Severity::Question => Stroke::new(1.0, palette.change),
    };
    ui.painter().rect_stroke(rect, 5.0, stroke, StrokeKind::Inside);
}

/// Gives the hand to the place it goes to, with its text selected.
fn follow(ui: &Ui, editor: &mut TableEditor) {
    let Some(GoTo::Grid(spot)) = editor.go_to else {
        return;
    };
    editor.go_to = None;
    let spot = spot.within(&editor.draft);
    let id = spot.id(editor.block);
    editor.cursor = spot;
    let length = text_of(editor, spot).map_or(0, |text| text.chars().count());
    select(ui, id, length);
    ui.memory_mut(|memory| memory.request_focus(id));
}

fn select(ui: &Ui, id: Id, length: usize) {
    let mut state = TextEdit::load_state(ui.ctx(), id).unwrap_or_default();
    let (start, end) = (egui::text::CCursor::new(0), egui::text::CCursor::new(length));
    state.cursor.set_char_range(Some(egui::text::CCursorRange::two(start, end)));
    state.store(ui.ctx(), id);
    keys::remember_length(ui, id, &" ".repeat(length));
}

/// The buttons under the grid and what the last paste did.
fn under(ui: &mut Ui, editor: &mut TableEditor) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
        if ui.button("Add row").clicked() {
            editor.draft.add_row();
            editor.go_to = Some(GoTo::Grid(Spot { row: editor.draft.rows.len(), column: 0 }));
        }
        if ui.button("Add column").clicked() {
            editor.draft.add_tap();
            editor.go_to = Some(GoTo::Grid(Spot { row: 0, column: editor.draft.taps.len() }));
        }
        remove_buttons(ui, editor);
        if !editor.undo.is_empty() {
            let back = ui.button("Put back what was there");
            hint::hint(&back, || "Takes the last step in the grid back (Ctrl+Z)".to_owned());
            if back.clicked() {
                editor.step_back();
            }
        }
    });
    remarks::on(ui, editor, place_of(editor.cursor, editor.block));
    for said in editor.said.clone() {
        label::caption(ui, said);
    }
    label::caption(
        ui,
        "Tab goes right, Enter down, Ctrl+1, 2, 3 to airflow, watts, rpm. Empty or - means not given, x or \"x: why\" not allowed, \"1190 over plate\" a note, \"600 from 0.1 to 0.8\" one airflow over a range. A block copied from a sheet or a page can be pasted.",
    );
}

fn remove_buttons(ui: &mut Ui, editor: &mut TableEditor) {
    let row = editor.cursor.row.checked_sub(1).filter(|row| *row < editor.draft.rows.len());
    let column = editor.cursor.column.checked_sub(1).filter(|tap| *tap < editor.draft.taps.len());
    if let Some(row) = row {
        let esp = editor.draft.rows[row].esp.trim().to_owned();
        let name = if esp.is_empty() { format!("Remove row {}", row + 1) } else { format!("Remove row {esp}") };
        if ui.button(name).clicked() {
            editor.begin_step();
            editor.draft.remove_row(row);
            editor.cursor = editor.cursor.within(&editor.draft);
        }
    }
    if let Some(tap) = column
        && ui.button(format!("Remove column {}", editor.draft.taps[tap])).clicked()
    {
        editor.begin_step();
        editor.draft.remove_tap(tap);
        editor.cursor = editor.cursor.within(&editor.draft);
    }
}
