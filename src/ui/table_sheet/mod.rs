//! A file of blower tables before it is taken: every row as it was read, what each cell became, and every guess open to correction.

mod cells;
mod choices;

use eframe::egui::{self, Button, Key, Modifiers, RichText, Ui, Vec2, vec2};

use crate::model::typed::table_sheet::SheetRefusal;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::table_sheet::{Found, TableSheet};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{self, choice, focus, label};

/// Largest that the sheet gets, points.
const LARGEST: Vec2 = vec2(1180.0, 780.0);
/// Under this width the parts stand under each other.
const SIDE_BY_SIDE: f32 = 760.0;
/// Width of the choices beside the rows.
const CHOICES: f32 = 300.0;
/// Height of the rows where the parts stand under each other.
const ROWS_LEAST: f32 = 220.0;
/// Most errors of one table that are told.
const MOST_ERRORS: usize = 4;

/// How it ends.
enum Ending {
    Take,
    KeepSound,
    Close,
}

/// Draws the file while `view.table_sheet` is there.
pub fn show(ui: &mut Ui, _screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(sheet) = view.table_sheet.as_mut() else {
        return;
    };
    let modal = widgets::sheet::over_all(ui, "table sheet", LARGEST, |ui, size| contents(ui, sheet, size));
    let close = modal.should_close().then_some(Ending::Close);
    match modal.inner.or(close) {
        Some(Ending::Take) => {
            if let Some(draft) = sheet.draft() {
                view.take_draft(draft);
            }
        }
        Some(Ending::KeepSound) => out.push(Action::KeepTables(sheet.sound())),
        Some(Ending::Close) => view.table_sheet = None,
        None => {}
    }
}

fn contents(ui: &mut Ui, sheet: &mut TableSheet, size: Vec2) -> Option<Ending> {
    let accept = ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
    label::strong(ui, format!("Blower tables in {}", sheet.file));
    label::caption(ui, sheet.reading().sentence());
    let body = vec2(size.x, (size.y - 92.0).max(120.0));
    if size.x >= SIDE_BY_SIDE {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0 * theme::STEP;
            widgets::sheet::part(ui, "choices", vec2(CHOICES, body.y), |ui| beside(ui, sheet));
            let rows = vec2(body.x - CHOICES - 2.0 * theme::STEP, body.y);
            ui.allocate_ui_with_layout(rows, egui::Layout::top_down(egui::Align::Min), |ui| {
                ui.set_min_size(rows);
                cells::cells(ui, sheet, rows.y);
            });
        });
    } else {
        widgets::sheet::part(ui, "all", body, |ui| {
            cells::cells(ui, sheet, ROWS_LEAST.max(body.y * 0.5));
            beside(ui, sheet);
        });
    }
    foot(ui, sheet, accept)
}

/// Choices, what was guessed, what is refused and the tables that were found.
fn beside(ui: &mut Ui, sheet: &mut TableSheet) {
    refused(ui, sheet);
    choices::choices(ui, sheet);
    tables(ui, sheet);
    let said = sheet.letters.into_iter().map(str::to_owned).chain(sheet.reading().said.clone());
    let said: Vec<String> = said.collect();
    if !said.is_empty() {
        label::heading(ui, "What was guessed or left aside");
        for sentence in said {
            label::caption(ui, sentence);
        }
    }
}

fn refused(ui: &mut Ui, sheet: &TableSheet) {
    let sentences = sheet.reading().refused.iter().map(SheetRefusal::sentence);
    for sentence in sentences.collect::<Vec<_>>() {
        label::error(ui, &sentence);
    }
    for question in &sheet.reading().asked {
        label::question(ui, question.sentence());
    }
}

/// The tables that were found, one of which is looked at.
fn tables(ui: &mut Ui, sheet: &mut TableSheet) {
    let found = sheet.tables();
    if found.is_empty() || !sheet.reading().is_taken() {
        return;
    }
    label::heading(ui, if found.len() == 1 { "The table" } else { "The tables" });
    if found.len() > 1 {
        let lines: Vec<(String, String, bool)> = found
            .iter()
            .enumerate()
            .map(|(index, found)| (found.table.name.clone(), in_short(found), index == sheet.shown))
            .collect();
        if let Some(index) = choice::lines(ui, "Table", &lines).pressed {
            sheet.shown = index;
        }
    }
    if let Some(found) = sheet.tables().get(sheet.shown) {
        if sheet.tables().len() == 1 {
            label::caption(ui, in_short(found));
        }
        for error in found.errors.iter().take(MOST_ERRORS) {
            label::question(ui, error);
        }
        let more = found.errors.len().saturating_sub(MOST_ERRORS);
        if more > 0 {
            label::caption(ui, format!("{more} more, which the table editor leads to"));
        }
    }
}

/// What a table holds, in a few words.
fn in_short(found: &Found) -> String {
    let counted = |count: usize, what: &str| format!("{count} {what}{}", if count == 1 { "" } else { "s" });
    if !found.errors.is_empty() {
        return format!("{} to mend", counted(found.errors.len(), "place"));
    }
    let rows = found.table.taps.iter().map(|tap| tap.data.rows().len()).max().unwrap_or_default();
    format!("{}, {}", counted(found.table.taps.len(), found.table.motor.tap_word()), counted(rows, "row"))
}

fn foot(ui: &mut Ui, sheet: &TableSheet, accept: bool) -> Option<Ending> {
    let mut ending = None;
    let is_ready = sheet.reading().is_ready();
    let (all, sound) = (sheet.tables().len(), sheet.sound().len());
    ui.add_space(theme::STEP * 0.5);
    ui.horizontal_wrapped(|ui| {
        let button = |text: &str, strong: bool| {
            let font = if strong { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
            Button::new(RichText::new(text).font(font))
        };
        let several = all > 1;
        let take = if several { "Open this one in the table editor" } else { "Open in the table editor" };
        let response = ui.add_enabled(is_ready, button(take, !several));
        focus::by_default(&response);
        if response.clicked() || accept && is_ready {
            ending = Some(Ending::Take);
        }
        if several {
            let keep = match (sound, all) {
                (sound, all) if sound == all => format!("Keep all {all} in my tables"),
                (sound, all) => format!("Keep {sound} of {all} in my tables"),
            };
            if ui.add_enabled(sound > 0, button(&keep, true)).clicked() {
                ending = Some(Ending::KeepSound);
            }
        }
        if ui.button("Close").clicked() {
            ending = Some(Ending::Close);
        }
        label::caption(ui, "Ctrl+Enter opens it in the editor");
    });
    ending
}
