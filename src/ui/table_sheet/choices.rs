//! How a file of blower tables is taken: each guess with what else it could be.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::model::facts::blower::{EquipmentKind, MotorFamily};
use crate::model::typed::table_draft::AirflowUnit;
use crate::model::typed::table_paste::grid::Separator;
use crate::model::typed::table_paste::units::PrintedPressure;
use crate::model::typed::table_sheet::{Choices, SheetLayout, SheetQuestion};
use crate::ui::view::table_sheet::TableSheet;
use crate::ui::widgets::{choice, hint, label};

/// Most lines of headings that can be said.
const MOST_HEADS: usize = 6;
/// Width and height of a choice's name, points.
const NAMES: f32 = 116.0;
const LINE: f32 = 26.0;
/// What stands where nobody has said yet.
const NOT_SAID: &str = "not said";
/// Letters of a heading that name its column in the list of columns.
const OF_A_HEADING: usize = 18;

/// Draws the choices.
pub(super) fn choices(ui: &mut Ui, sheet: &mut TableSheet) {
    let mut said = sheet.choices.clone();
    let settled = sheet.reading().settled;
    label::heading(ui, "How it is read");
    if let Some(layout) = one_of(ui, "Readings lie", &SheetLayout::ALL, settled.layout, SheetLayout::name) {
        said.layout = Some(layout);
    }
    if let Some(separator) = one_of(ui, "Columns parted by", &Separator::ALL, settled.separator, Separator::name) {
        said.separator = Some(separator);
    }
    let decimal = |is_comma| if is_comma { "comma" } else { "point" };
    if let Some(comma) = one_of(ui, "Decimal sign", &[false, true], settled.decimal_comma, decimal) {
        said.decimal_comma = Some(comma);
    }
    let heads: Vec<String> = (0..=MOST_HEADS).map(|count| count.to_string()).collect();
    if let Some(count) = listed(ui, "Lines of headings", &settled.heads.to_string(), &heads) {
        said.heads = Some(count);
    }
    if let Some(unit) = one_of(ui, "Static in", &PrintedPressure::ALL, settled.pressure, PrintedPressure::name) {
        said.pressure = Some(unit);
    }
    let is_asked = sheet.reading().asked.contains(&SheetQuestion::AirflowUnit);
    let airflow = (!is_asked).then_some(settled.airflow);
    if let Some(unit) = one_of_asked(ui, "Airflow in", &AirflowUnit::ALL, airflow, AirflowUnit::name) {
        said.airflow = Some(unit);
    }
    blower(ui, sheet, &mut said);
    label::heading(ui, "Of every table");
    if let Some(kind) = one_of_asked(ui, "Machine", &EquipmentKind::ALL, said.kind, EquipmentKind::name) {
        said.kind = Some(kind);
    }
    if let (None, Some(kind)) = (said.kind, sheet.reading().kind_named) {
        let guess = ui.button(format!("{}, by its name", kind.name()));
        if hint::and_under_the_pointer(guess, "The word in its name; it decides what the table's static takes in")
            .clicked()
        {
            said.kind = Some(kind);
        }
    }
    if let Some(motor) = one_of(ui, "Motor", &MotorFamily::ALL, said.motor, MotorFamily::name) {
        said.motor = motor;
    }
    if said != Choices::default() && ui.button("Guess everything again").clicked() {
        said = Choices::default();
    }
    sheet.say(said);
}

/// The column that names the machine.
fn blower(ui: &mut Ui, sheet: &TableSheet, said: &mut Choices) {
    let first = sheet.reading().rows.iter().find(|row| row.cells.len() > 1);
    let cells = first.map_or(&[][..], |row| &row.cells);
    let name = |(index, text): (usize, &String)| {
        let text: String = text.chars().take(OF_A_HEADING).collect();
        format!("column {} ({text})", index + 1)
    };
    let names: Vec<String> =
        std::iter::once("no column".to_owned()).chain(cells.iter().enumerate().map(name)).collect();
    let chosen = sheet.reading().settled.blower.map_or(0, |column| column + 1);
    let shown = names.get(chosen).cloned().unwrap_or_default();
    if let Some(index) = listed(ui, "Machine named in", &shown, &names) {
        said.blower = Some(index.checked_sub(1));
    }
}

/// One of a few, by its name.
fn one_of<T: Copy>(ui: &mut Ui, name: &str, all: &[T], chosen: T, word: impl Fn(T) -> &'static str) -> Option<T> {
    let names: Vec<String> = all.iter().map(|one| word(*one).to_owned()).collect();
    listed(ui, name, word(chosen), &names).and_then(|index| all.get(index)).copied()
}

/// The same of what nobody may have said yet.
fn one_of_asked<T: Copy>(
    ui: &mut Ui,
    name: &str,
    all: &[T],
    chosen: Option<T>,
    word: impl Fn(T) -> &'static str,
) -> Option<T> {
    let names: Vec<String> = all.iter().map(|one| word(*one).to_owned()).collect();
    listed(ui, name, chosen.map_or(NOT_SAID, &word), &names).and_then(|index| all.get(index)).copied()
}

/// A list with its name before it; gives the place of what was picked.
fn listed(ui: &mut Ui, name: &str, chosen: &str, options: &[String]) -> Option<usize> {
    let options: Vec<&str> = options.iter().map(String::as_str).collect();
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(vec2(NAMES, LINE), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(NAMES);
            label::caption(ui, name);
        });
        choice::list(ui, name, chosen, &options)
    })
    .inner
}
