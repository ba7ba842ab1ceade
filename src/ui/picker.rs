//! The blower picker: search as one types, take with Enter; under the list what else can be done with a table.

mod foot;
mod moving;
mod rows;

use eframe::egui::{self, Event, Id, Key, Modal, Modifiers, Role, ScrollArea, TextEdit, Ui, WidgetInfo};

use crate::files::library::{Library, LibraryEntry};
use crate::model::facts::blower::BlowerTable;
use crate::model::typed::table_draft::TableFor;
use crate::ui::picker::foot::Work;
use crate::ui::picker::rows::{Pressed, ROW, RowWords};
use crate::ui::theme;
use crate::ui::view::action::{Action, Command, Keeping, Tables};
use crate::ui::view::library::{Moving, Picker, Searched};
use crate::ui::view::{Screen, View};
use crate::ui::widgets::label;
use crate::units::{UnitSystem, show};

/// Widest that the picker gets, points.
const WIDTH: f32 = 620.0;
/// Tallest that the list gets, points.
const LIST_HEIGHT: f32 = 420.0;
/// Height of everything in the picker but the list, points.
const AROUND_THE_LIST: f32 = 340.0;
/// Name of the search field.
const SEARCH: &str = "blower search";
/// Lines under the tables: to type one, to read some from a file.
const OTHER_WAYS: usize = 2;

/// What a person chose.
enum Chosen {
    /// A table, by index in the library.
    Table(usize),
    /// To type a new one.
    NewTable,
    /// To read it from a file.
    File,
    /// To do something else with the table under the cursor.
    Work(Work),
}

/// Draws the picker while `view.picker` is there.
pub fn show(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let Some(picker) = view.picker.as_mut() else {
        return;
    };
    let title = match view.table_for {
        TableFor::Job => "Choose the blower",
        TableFor::OtherMachine(_) => "Choose the other machine for these ducts",
    };
    let window = ui.ctx().content_rect().size();
    let frame = egui::Frame::popup(ui.style()).inner_margin(16);
    let modal = Modal::new(Id::unique("blower picker")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width((window.x - 64.0).min(WIDTH));
        contents(ui, screen, picker, title, (window.y - AROUND_THE_LIST).clamp(ROW * 2.0, LIST_HEIGHT))
    });
    match modal.inner {
        Some(Chosen::Table(index)) => {
            view.picker = None;
            let table = screen.library.entries.get(index).map(|entry| Box::new(entry.table.clone()));
            out.extend(table.map(Action::UseTable));
        }
        Some(Chosen::NewTable) => {
            view.picker = None;
            view.edit_table(None, view.table_for);
        }
        Some(Chosen::File) => out.push(Command::OpenTable.into()),
        Some(Chosen::Work(work)) => out.extend(begin(&work, screen.library, picker)),
        None if modal.should_close() && picker.moving.is_none() => view.picker = None,
        None => {}
    }
    moving::show(ui, screen, view, out);
}

/// Begins work on the table under the cursor.
fn begin(work: &Work, library: &Library, picker: &mut Picker) -> Option<Action> {
    let listed = |index: &usize| library.entries.get(*index);
    if matches!(work, Work::WriteAll) {
        let all = picker.found.iter().filter_map(listed).map(|entry| entry.table.clone());
        return Some(Action::WriteTables(Tables::These(all.collect())));
    }
    let entry = picker.found.get(picker.cursor).and_then(listed)?;
    let table = entry.table.clone();
    match (work, entry.own_file()) {
        (Work::Change, Some(file)) => Some(Action::ChangeTable(Box::new(table), Keeping::Over(file.to_path_buf()))),
        (Work::Move, Some(file)) => {
            picker.moving = Some(Moving::of(table.name, file.to_path_buf(), entry.folder.clone()));
            None
        }
        (Work::Change | Work::Copy | Work::Move, _) => Some(copy(entry)),
        (Work::Write | Work::WriteAll, _) => Some(Action::WriteTables(Tables::These(vec![table]))),
    }
}

/// The editor on a copy of a table, which is kept beside it.
fn copy(entry: &LibraryEntry) -> Action {
    let table = BlowerTable { name: format!("{} (copy)", entry.table.name), ..entry.table.clone() };
    Action::ChangeTable(Box::new(table), Keeping::Beside(entry.folder.clone()))
}

fn contents(ui: &mut Ui, screen: &Screen<'_>, picker: &mut Picker, title: &str, height: f32) -> Option<Chosen> {
    label::strong(ui, title);
    let keys = if picker.moving.is_none() { Keys::take(ui, picker) } else { Keys::default() };
    let is_first = picker.searched.is_none();
    let field = search_field(ui, picker, is_first);
    search(picker, screen.library);
    let moved = keys.steps != 0;
    let last = picker.found.len() + OTHER_WAYS - 1;
    picker.cursor = picker.cursor.saturating_add_signed(keys.steps).min(last);
    if picker.found.is_empty() {
        nothing_found(ui, picker, screen.library);
    }
    let clicked = list(ui, screen, picker, height, moved || field.changed());
    ui.add_space(theme::STEP * 0.5);
    let work = foot::foot(ui, screen, picker);
    label::caption(ui, "Arrow keys move, Enter takes, Tab goes to what else can be done, Escape closes");
    if work.is_some() {
        return work.map(Chosen::Work);
    }
    let entered = (keys.enter && (field.has_focus() || field.lost_focus())).then_some(picker.cursor);
    let row = clicked.or(entered)?;
    let other_way = if row == picker.found.len() { Chosen::NewTable } else { Chosen::File };
    Some(picker.found.get(row).map_or(other_way, |index| Chosen::Table(*index)))
}

/// Keys that belong to the list, taken before the search field sees them.
#[derive(Default)]
struct Keys {
    steps: isize,
    enter: bool,
}

impl Keys {
    /// Enter belongs to whatever button has the keys.
    fn take(ui: &Ui, picker: &Picker) -> Self {
        let takes = picker.searched.is_none() || ui.memory(|memory| memory.has_focus(Id::unique(SEARCH)));
        ui.input_mut(|input| {
            let mut count = |key| input.count_and_consume_key(Modifiers::NONE, key).cast_signed();
            let lines = count(Key::ArrowDown) - count(Key::ArrowUp);
            let pages = count(Key::PageDown) - count(Key::PageUp);
            Self { steps: lines + 8 * pages, enter: takes && count(Key::Enter) > 0 }
        })
    }
}

fn search_field(ui: &mut Ui, picker: &mut Picker, is_first: bool) -> egui::Response {
    let before = picker.words.clone();
    let response = ui.add(
        TextEdit::singleline(&mut picker.words)
            .id(Id::unique(SEARCH))
            .hint_text("Model, motor, tons, folder: 42t, psc, 3½ ton")
            .desired_width(f32::INFINITY)
            .margin(egui::Margin::symmetric(10, 8)),
    );
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::SearchInput, true, "Search blowers");
        info.current_text_value = Some(picker.words.clone());
        info
    });
    if is_first {
        response.request_focus();
        // What was typed while the picker opened still counts.
        let typed: String = ui.input(|input| input.events.iter().filter_map(text_of).collect());
        if picker.words == before && !typed.is_empty() {
            picker.words.push_str(&typed);
        }
    }
    response
}

fn text_of(event: &Event) -> Option<&str> {
    if let Event::Text(text) = event { Some(text) } else { None }
}

/// Searches again when the words or the library have changed; the cursor begins anew with other words only.
fn search(picker: &mut Picker, library: &Library) {
    let changes = library.changes();
    let is_searched = |searched: &Searched| searched.words == picker.words && searched.changes == changes;
    if picker.searched.as_ref().is_some_and(is_searched) {
        return;
    }
    let under_cursor = table_under_cursor(picker, library);
    picker.found = library.search(&picker.words);
    let place = under_cursor.and_then(|table| picker.found.iter().position(|found| *found == table));
    picker.cursor = place.unwrap_or_default();
    picker.searched = Some(Searched { words: picker.words.clone(), tables: library.entries.len(), changes });
}

/// The table that the cursor was moved to, where it stands now that own tables have come in before the program's; nothing once the words are others.
fn table_under_cursor(picker: &Picker, library: &Library) -> Option<usize> {
    let searched = picker.searched.as_ref().filter(|searched| searched.words == picker.words && picker.cursor > 0)?;
    let table = *picker.found.get(picker.cursor)?;
    let came_in = library.entries.len().checked_sub(searched.tables)?;
    let was_own = table + came_in < library.own_count();
    Some(if was_own { table } else { table + came_in })
}

fn nothing_found(ui: &mut Ui, picker: &Picker, library: &Library) {
    let text = if library.entries.is_empty() {
        "The library is empty; type the maker's table from the door panel or the manual".to_owned()
    } else {
        format!("No blower has \"{}\"; try fewer letters, or type the maker's table: Enter", picker.words.trim())
    };
    label::caption(ui, text);
}

/// Draws the rows that can be seen; gives the one that was taken. One that more is asked of comes under the cursor.
fn list(ui: &mut Ui, screen: &Screen<'_>, picker: &mut Picker, height: f32, follow: bool) -> Option<usize> {
    let rows = picker.found.len() + OTHER_WAYS;
    ui.spacing_mut().item_spacing.y = 2.0;
    let mut area = ScrollArea::vertical().id_salt("blowers").max_height(height).auto_shrink([false, true]);
    if follow {
        area = area.vertical_scroll_offset(offset_for(ui, picker.cursor, rows, height));
    }
    let mut clicked = None;
    area.show_rows(ui, ROW, rows, |ui, range| {
        for row in range {
            let index = picker.found.get(row);
            let entry = index.and_then(|index| Some((*index, screen.library.entries.get(*index)?)));
            let words = match entry {
                Some((index, entry)) => RowWords::of(screen.library, index, entry, screen.units),
                None if row == picker.found.len() => RowWords::new_table(),
                None => RowWords::file(),
            };
            match rows::table_row(ui, &words, row == picker.cursor) {
                Some(Pressed::Row) => clicked = Some(row),
                Some(Pressed::More) => picker.cursor = row,
                None => {}
            }
        }
    });
    clicked
}

/// Scroll offset that keeps the cursor in the middle of the list.
fn offset_for(ui: &Ui, cursor: usize, rows: usize, height: f32) -> f32 {
    let step = ROW + ui.spacing().item_spacing.y;
    let most = (rows as f32 * step - height).max(0.0);
    ((cursor as f32 + 0.5) * step - height / 2.0).clamp(0.0, most)
}

/// A machine in a line: motor, capacity, kind, plate, taps.
pub fn about(table: &BlowerTable, units: UnitSystem) -> String {
    let word = table.motor.tap_word();
    let plural = if table.taps.len() == 1 { "" } else { "s" };
    let mut parts = vec![table.motor.name().to_owned()];
    parts.extend(table.cooling.map(|cooling| show::capacity(cooling, units)));
    parts.push(table.kind.name().to_owned());
    parts.extend(table.rated_maximum.map(|plate| format!("rated to {}", show::pressure(plate, units))));
    parts.push(format!("{} {word}{plural}", table.taps.len()));
    parts.join(" · ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::library::Origin;

    fn own(name: &str) -> LibraryEntry {
        let table = BlowerTable { name: name.to_owned(), ..BlowerTable::default() };
        LibraryEntry::new(table, Origin::Own(name.into()))
    }

    fn under_cursor(picker: &Picker, library: &Library) -> String {
        library.entries[picker.found[picker.cursor]].table.name.clone()
    }

    #[test]
    fn the_cursor_stays_on_its_table_while_own_tables_come_in() {
        let mut library = Library::shipped().0;
        library.add_own(vec![own("a"), own("b")]);
        for (steps, name) in [(1, "b".to_owned()), (5, library.entries[5].table.name.clone())] {
            let mut library = library.clone();
            let mut picker = Picker::default();
            search(&mut picker, &library);
            picker.cursor = steps;
            library.add_own(vec![own("c"), own("d"), own("e")]);
            search(&mut picker, &library);
            assert_eq!(under_cursor(&picker, &library), name);
        }
    }

    #[test]
    fn the_best_match_stays_under_a_cursor_that_was_not_moved_and_other_words_begin_anew() {
        let mut library = Library::shipped().0;
        let mut picker = Picker::default();
        search(&mut picker, &library);
        library.add_own(vec![own("first")]);
        search(&mut picker, &library);
        assert_eq!(under_cursor(&picker, &library), "first");
        picker.cursor = 3;
        picker.words = "gf".to_owned();
        search(&mut picker, &library);
        assert_eq!(picker.cursor, 0);
    }
}
