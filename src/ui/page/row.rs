//! Rows of a printed table.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Align, Color32, FontId, Galley, Sense, Ui, pos2, vec2};

use std::sync::Arc;

use crate::ui::theme;
use crate::ui::widgets::label;

/// Room between two columns.
const GAP: f32 = 10.0;
/// Room over and under a row's text.
const PAD: f32 = 0.5;

/// Least size that a word is set in to stay whole, points.
const LEAST_SIZE: f32 = 5.0;

/// A column of a table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Its share of the table's width, over the sum of all.
    pub share: f32,
    /// Where its texts stand.
    pub align: Align,
}

/// A column of words.
pub const fn words(share: f32) -> Column {
    Column { share, align: Align::Min }
}

/// A column of figures.
pub const fn figures(share: f32) -> Column {
    Column { share, align: Align::Max }
}

/// How a row stands out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Heads of the columns, with a rule under them.
    Head,
    /// A row.
    Plain,
    /// A row that counts: the tap that runs.
    Strong,
    /// All together, with a rule over it.
    Sum,
}

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its columns.
    pub columns: &'static [Column],
    /// What stands in each, first and under it a quiet second text.
    pub cells: Vec<(String, String)>,
    /// How it stands out.
    pub weight: Weight,
    /// True where the next row belongs on the same page.
    pub goes_on: bool,
}

impl Row {
    /// A row of plain texts.
    pub fn new(columns: &'static [Column], weight: Weight, cells: impl IntoIterator<Item = String>) -> Self {
        Self { columns, cells: cells.into_iter().map(|text| (text, String::new())).collect(), weight, goes_on: true }
    }
}

/// Draws a row as wide as its room.
pub fn draw(ui: &mut Ui, row: &Row) {
    let palette = theme::palette(ui);
    let (font, ink) = match row.weight {
        Weight::Head => (theme::regular(theme::SMALL), palette.quiet),
        Weight::Plain => (theme::regular(theme::CHART), palette.ink),
        Weight::Strong | Weight::Sum => (theme::strong(theme::CHART), palette.ink),
    };
    let width = ui.available_width();
    let all: f32 = row.columns.iter().map(|column| column.share).sum();
    let free = width - GAP * row.columns.len().saturating_sub(1) as f32;
    let mut x = 0.0;
    let mut placed = Vec::new();
    for (column, (first, second)) in row.columns.iter().zip(&row.cells) {
        let room = free * column.share / all;
        placed.push((
            x,
            room,
            column.align,
            set(ui, (first, second), font.clone(), (ink, palette.quiet), room, column.align),
        ));
        x += room + GAP;
    }
    let height = placed.iter().map(|(.., galley)| galley.size().y).fold(0.0, f32::max) + 2.0 * PAD;
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    for (x, room, align, galley) in placed {
        let left = rect.left() + x;
        let at = match align {
            Align::Min => left,
            Align::Center => left + room / 2.0,
            Align::Max => left + room,
        };
        ui.painter().galley(pos2(at, rect.top() + PAD), galley, ink);
    }
    let rule = match row.weight {
        Weight::Head => Some(rect.bottom()),
        Weight::Sum => Some(rect.top()),
        Weight::Plain | Weight::Strong => None,
    };
    if let Some(y) = rule {
        ui.painter().hline(rect.x_range(), y, (1.0, palette.hairline));
    }
}

/// A text with a quiet second one under it, as wide as its room.
pub(super) fn set(
    ui: &Ui,
    (first, second): (&str, &str),
    font: FontId,
    (ink, quiet): (Color32, Color32),
    room: f32,
    align: Align,
) -> Arc<Galley> {
    let mut job = LayoutJob::default();
    job.wrap.max_width = room;
    job.halign = align;
    let format = |font, ink| eframe::egui::TextFormat::simple(font, ink);
    let first = label::kept_together(first);
    let font = whole_words(ui, &first, font, room);
    job.append(&first, 0.0, format(font, ink));
    if !second.is_empty() {
        let second = format!("\n{}", label::kept_together(second));
        let font = whole_words(ui, &second, theme::regular(theme::SMALL), room);
        job.append(&second, 0.0, format(font, quiet));
    }
    ui.painter().layout_job(job)
}

/// A font in which every word of a text has room in its column: a price that is broken reads as another.
fn whole_words(ui: &Ui, text: &str, font: FontId, room: f32) -> FontId {
    let width = |word: &str| ui.painter().layout_no_wrap(word.to_owned(), font.clone(), Color32::PLACEHOLDER).size().x;
    let widest = text.split([' ', '\n']).map(width).fold(0.0, f32::max);
    // A hair's breadth under it, for widths are rounded.
    if widest > room { FontId::new((font.size * room / widest * 0.98).max(LEAST_SIZE), font.family) } else { font }
}
