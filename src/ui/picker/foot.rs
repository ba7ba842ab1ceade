//! What stands under the list: the table under the cursor, what else of its name is there, and what can be done with it.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Button, Label, Ui, vec2};

use crate::files::library::{Library, LibraryEntry, Origin, Twin, folders};
use crate::model::wording::table_differences;
use crate::ui::theme;
use crate::ui::view::Screen;
use crate::ui::view::library::Picker;
use crate::ui::widgets::hint;
use crate::units::UnitSystem;

/// Lines of what is told of a table; the rest shows on hover.
const LINES: usize = 2;
/// Height of those, points.
const TOLD: f32 = 40.0;
/// Most tables that are written as one sheet: as many as one can be read back with.
const MOST_ON_A_SHEET: usize = 200;

/// What is asked for of the table under the cursor.
pub(super) enum Work {
    /// To change it where it lies.
    Change,
    /// To change a copy of it.
    Copy,
    /// To move it to another folder.
    Move,
    /// To write it as a file to be given away.
    Write,
    /// To write every table that is listed as one file.
    WriteAll,
}

/// Draws the foot, which is as high whatever is under the cursor.
pub(super) fn foot(ui: &mut Ui, screen: &Screen<'_>, picker: &mut Picker) -> Option<Work> {
    let index = picker.found.get(picker.cursor).copied();
    let entry = index.and_then(|index| Some((index, screen.library.entries.get(index)?)));
    let told = entry.map(|(index, entry)| told(screen, picker, index, entry)).unwrap_or_default();
    ui.allocate_ui(vec2(ui.available_width(), TOLD), |ui| {
        ui.set_min_size(vec2(ui.available_width(), TOLD));
        let (font, ink) = (theme::regular(theme::SMALL), theme::palette(ui).quiet);
        let mut text = LayoutJob::simple(told.clone(), font, ink, ui.available_width());
        text.wrap.max_rows = LINES;
        ui.add(Label::new(text).show_tooltip_when_elided(false)).on_hover_text(told);
    });
    let count = picker.found.len();
    let mut asked = None;
    ui.horizontal_wrapped(|ui| {
        ui.set_min_height(theme::FINGER);
        let mut button = |ui: &mut Ui, name: &str, about: &str, work: Work| {
            let button = Button::new(name).min_size(vec2(0.0, theme::FINGER));
            if hint::and_under_the_pointer(ui.add(button), about).clicked() {
                asked = Some(work);
            }
        };
        match entry.map(|(_, entry)| &entry.origin) {
            Some(Origin::Own(_)) => {
                button(
                    ui,
                    "Change…",
                    "Change this table of your own where it lies; no job changes with it",
                    Work::Change,
                );
                button(ui, "Copy…", "Change a copy of it and keep both", Work::Copy);
                button(ui, "Move…", "Put it into another folder of your tables", Work::Move);
            }
            Some(Origin::Shipped(_)) => {
                button(ui, "Copy…", "Change a copy of it and keep that among your own", Work::Copy);
            }
            None => {}
        }
        if entry.is_some() {
            button(ui, "Write as a file…", "To give it away: all of it, or a sheet for spreadsheets", Work::Write);
        }
        if (2..=MOST_ON_A_SHEET).contains(&count) {
            let name = format!("Write all {count}…");
            button(ui, &name, "Every table that is listed, as one sheet for spreadsheets", Work::WriteAll);
        }
    });
    asked
}

/// What is told of the table under the cursor, worked out once for each library and units.
fn told(screen: &Screen<'_>, picker: &mut Picker, index: usize, entry: &LibraryEntry) -> String {
    let of = (screen.library.changes(), screen.units);
    if picker.told_of != Some(of) {
        picker.told.clear();
        picker.told_of = Some(of);
    }
    let tell = || {
        let twin = screen.library.twin(index).and_then(|twin| of_twin(screen.library, entry, twin, screen.units));
        [Some(table_differences::lies(entry.own_file().is_some(), &folders::words(&entry.folder))), twin]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(". ")
    };
    picker.told.entry(index).or_insert_with(tell).clone()
}

fn of_twin(library: &Library, entry: &LibraryEntry, twin: Twin, units: UnitSystem) -> Option<String> {
    let place =
        |other: &LibraryEntry| table_differences::place(other.own_file().is_some(), &folders::words(&other.folder));
    match twin {
        Twin::Same(other) => Some(table_differences::same_twice(&place(library.entries.get(other)?))),
        Twin::Other(other) => {
            let other = library.entries.get(other)?;
            table_differences::two_of_a_name(&entry.table, &other.table, &place(other), units)
        }
    }
}
