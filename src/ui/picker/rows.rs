//! The rows of the picker: what each says and how it is drawn.

use eframe::egui::{self, Align, Button, FontId, Rect, Role, Sense, Ui, UiBuilder, WidgetInfo, pos2, vec2};

use crate::files::library::{Library, LibraryEntry, Origin, Twin, folders};
use crate::ui::picker::about;
use crate::ui::theme;
use crate::ui::view::action::Command;
use crate::ui::widgets::hint;
use crate::units::UnitSystem;

/// Height of one row, points.
pub(super) const ROW: f32 = 48.0;
/// Widest that a folder or another mark at the end of a row gets, points.
const MARK: f32 = 170.0;
/// Width of what opens the work on a table, points.
const MORE: f32 = 34.0;

/// What a row says.
pub(super) struct RowWords {
    /// The model, or what the row does.
    name: String,
    /// The rest, in a line.
    about: String,
    /// Whose table it is, or where it lies.
    mark: String,
    /// Whether another of its name is there.
    twin: &'static str,
    /// What a screen reader says of it.
    said: String,
    /// True for a table, with which more can be done.
    is_table: bool,
}

impl RowWords {
    fn other_way(name: &str, about: &str) -> Self {
        Self {
            name: name.to_owned(),
            about: about.to_owned(),
            mark: String::new(),
            twin: "",
            said: name.to_owned(),
            is_table: false,
        }
    }

    /// To type a new table.
    pub(super) fn new_table() -> Self {
        Self::other_way("Type a new table…", "From the door panel, the manual, or pasted from a sheet")
    }

    /// To read tables from a file.
    pub(super) fn file() -> Self {
        Self::other_way(
            Command::OpenTable.name(),
            "CSV or text from a spreadsheet, several machines at once; or a picture of a chart or table",
        )
    }

    /// A table of the library.
    pub(super) fn of(library: &Library, index: usize, entry: &LibraryEntry, units: UnitSystem) -> Self {
        let table = &entry.table;
        let folder = folders::words(&entry.folder);
        let kind = match (&entry.origin, table.illustrative) {
            (_, true) => "illustrative",
            (Origin::Own(_), false) => "own table",
            (Origin::Shipped(_), false) => "",
        };
        let is_in_folder = !folder.is_empty();
        Self {
            name: table.name.clone(),
            about: about(table, units),
            said: if is_in_folder { format!("{}, in {folder}", table.name) } else { table.name.clone() },
            mark: if is_in_folder { folder } else { kind.to_owned() },
            twin: match library.twin(index) {
                Some(Twin::Same(_)) => "there twice",
                Some(Twin::Other(_)) => "two of this name",
                None => "",
            },
            is_table: true,
        }
    }
}

/// What a hand does with a row.
pub(super) enum Pressed {
    /// It takes what the row stands for.
    Row,
    /// It asks what else can be done with the table.
    More,
}

/// Draws a row; Tab passes it, for the arrows choose among them.
pub(super) fn table_row(ui: &mut Ui, words: &RowWords, is_under_cursor: bool) -> Option<Pressed> {
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::CLICK);
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, true, is_under_cursor, &words.said));
    let (fill, bar) = (palette.raised, palette.tap_high);
    if is_under_cursor || response.contains_pointer() {
        ui.painter().rect_filled(rect, 5.0, fill);
    }
    if is_under_cursor {
        let edge = Rect::from_min_size(rect.min, vec2(3.0, rect.height()));
        ui.painter().rect_filled(edge, 1.5, bar);
    }
    let mut inner = rect.shrink2(vec2(12.0, 5.0));
    let more = words.is_table.then(|| {
        let place = Rect::from_min_max(pos2(rect.max.x - MORE, rect.min.y + 6.0), rect.max - vec2(4.0, 6.0));
        inner.max.x = place.min.x - theme::STEP;
        more(ui, place, &words.said)
    });
    let lower = Rect::from_min_max(pos2(inner.min.x, inner.min.y + 20.0), inner.max);
    let small = || theme::regular(theme::SMALL);
    let mark = line(ui, &words.mark, small(), palette.quiet, at_end(inner), Align::Max);
    let twin = line(ui, words.twin, small(), palette.change, at_end(lower), Align::Max);
    line(ui, &words.name, theme::strong(theme::BODY), palette.ink, before(inner, mark), Align::Min);
    line(ui, &words.about, small(), palette.quiet, before(lower, twin), Align::Min);
    match more {
        Some(true) => Some(Pressed::More),
        Some(false) | None => response.clicked().then_some(Pressed::Row),
    }
}

/// The button behind which the work on a table stands; true when it was pressed.
fn more(ui: &mut Ui, place: Rect, name: &str) -> bool {
    let mut beside = ui.new_child(UiBuilder::new().max_rect(place));
    let response = beside.add_sized(place.size(), Button::new("…").sense(Sense::CLICK));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Work on {name}")));
    hint::and_under_the_pointer(response, "Change, copy, move or write this table: under the list").clicked()
}

fn at_end(within: Rect) -> Rect {
    Rect::from_min_max(pos2((within.max.x - MARK).max(within.min.x), within.min.y), within.max)
}

fn before(within: Rect, mark: f32) -> Rect {
    let room = if mark > 0.0 { mark + theme::STEP } else { 0.0 };
    Rect::from_min_max(within.min, pos2(within.max.x - room, within.max.y))
}

/// One line of text at the top of a rectangle, cut with an ellipsis; gives its width.
fn line(ui: &Ui, text: &str, font: FontId, colour: egui::Color32, within: Rect, align: Align) -> f32 {
    if text.is_empty() {
        return 0.0;
    }
    let mut job = egui::text::LayoutJob::simple_singleline(text.to_owned(), font, colour);
    job.wrap = egui::text::TextWrapping::truncate_at_width(within.width());
    let galley = ui.painter().layout_job(job);
    let width = galley.size().x;
    let left = if align == Align::Max { within.max.x - width } else { within.min.x };
    ui.painter().galley(pos2(left, within.min.y), galley, colour);
    width
}
