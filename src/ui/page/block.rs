//! The blocks that pages are made of.

use eframe::egui::{Align2, Color32, FontId, Rect, Sense, Ui, UiBuilder, pos2, vec2};

use crate::model::facts::company::Company;
use crate::model::verdicts::findings::Weight;
use crate::model::wording::field_sheet::Line;
use crate::model::wording::headline::{Half, Tone};
use crate::model::wording::paper::{Fact, INVENTED};
use crate::ui::page::row::{self, Row};
use crate::ui::page::{company, fill};
use crate::ui::theme::{self, Palette};
use crate::ui::view::{ChartView, Screen};
use crate::ui::widgets::label;
use crate::ui::{chart, path_strip};

/// Height of the chart.
const CHART: f32 = 344.0;
/// Width of what a fact is of.
const FACT: f32 = 170.0;
/// Room of the mark before a sentence.
const MARK: f32 = 16.0;
/// Height of the lines to be signed on.
const SIGNED: f32 = 54.0;

/// One block.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// Whose report it is.
    Company(Box<Company>),
    /// What the job is called, and the line under it.
    Title(String, String),
    /// Both answers side by side.
    Halves(Box<Half>, Side),
    /// One or two sentences over everything.
    Lead(String),
    /// The chart.
    Chart,
    /// The air path.
    Path,
    /// What the blocks under it are of.
    Heading(String),
    /// A sentence of a list, with how grave it is.
    Said(Weight, String),
    /// Sentences that stand by themselves, quiet.
    Quiet(String),
    /// A fact.
    Fact(Fact),
    /// A row of a table.
    Row(Row),
    /// What is filled in by hand.
    Fill(Line),
    /// Lines to be signed on, by what stands under each.
    Signature(Vec<&'static str>),
}

/// What stands right of the answer as found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Side {
    /// The answer with changes.
    Then(Box<Half>),
    /// What would be needed, under its title.
    Wanted(&'static str, String),
}

impl Block {
    /// True for what stands over other blocks and for nothing by itself, and for every row of a table but the last.
    pub fn goes_on(&self) -> bool {
        match self {
            Self::Heading(_) => true,
            Self::Row(row) => row.goes_on,
            Self::Company(_)
            | Self::Title(..)
            | Self::Halves(..)
            | Self::Lead(_)
            | Self::Chart
            | Self::Path
            | Self::Said(..)
            | Self::Quiet(_)
            | Self::Fact(_)
            | Self::Fill(_)
            | Self::Signature(_) => false,
        }
    }
}

/// Rows under a heading, the last of which ends its table.
pub(super) fn table(heading: &str, mut rows: Vec<Row>) -> Vec<Block> {
    if let Some(last) = rows.last_mut() {
        last.goes_on = false;
    }
    std::iter::once(Block::Heading(heading.to_owned())).chain(rows.into_iter().map(Block::Row)).collect()
}

/// Draws a block, with the room that it keeps from the one before it.
pub fn draw(ui: &mut Ui, screen: &Screen<'_>, block: &Block) {
    let palette = theme::palette(ui);
    match block {
        Block::Company(of) => company::draw(ui, of),
        Block::Title(title, line) => name(ui, title, line, screen.job.illustrative),
        Block::Halves(found, beside) => halves(ui, found, beside),
        Block::Lead(text) => {
            ui.add_space(2.0);
            wrapped(ui, text, theme::regular(theme::BODY), palette.ink, 0.0);
            ui.add_space(theme::STEP);
        }
        Block::Chart => {
            ui.add_space(theme::STEP);
            place(ui, CHART, |ui| chart::printed(ui, screen, ChartView::default()));
        }
        Block::Path => {
            let height = path_strip::printed_height(ui, screen, ui.available_width());
            place(ui, height, |ui| path_strip::printed(ui, screen));
        }
        Block::Heading(text) => {
            ui.add_space(theme::STEP);
            wrapped(ui, text, theme::strong(theme::BODY), palette.tap_high, 0.0);
            ui.add_space(2.0);
        }
        Block::Said(weight, text) => said(ui, *weight, text),
        Block::Quiet(text) => {
            ui.add_space(3.0);
            wrapped(ui, text, theme::regular(theme::SMALL), palette.quiet, 0.0);
            ui.add_space(3.0);
        }
        Block::Fact((name, told)) => fact(ui, name, told),
        Block::Row(row) => row::draw(ui, row),
        Block::Fill(line) => fill::draw(ui, line),
        Block::Signature(names) => signature(ui, names),
    }
}

/// A place as wide as the page for a drawing of its own.
fn place(ui: &mut Ui, height: f32, draw: impl FnOnce(&mut Ui)) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let mut inner = ui.new_child(UiBuilder::new().max_rect(rect));
    inner.shrink_clip_rect(rect.expand(2.0));
    // Blocks stand close; what is in a drawing stands as in the window.
    inner.spacing_mut().item_spacing = theme::SPACING;
    draw(&mut inner);
}

/// A text on as many lines as it needs, so far from the left.
fn wrapped(ui: &mut Ui, text: &str, font: FontId, ink: Color32, off: f32) {
    let room = ui.available_width() - off;
    let galley = ui.painter().layout(label::kept_together(text), font, ink, room);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), galley.size().y), Sense::hover());
    ui.painter().galley(rect.min + vec2(off, 0.0), galley, ink);
}

fn name(ui: &mut Ui, title: &str, line: &str, is_invented: bool) {
    let palette = theme::palette(ui);
    wrapped(ui, title, theme::strong(theme::VERDICT + 2.0), palette.ink, 0.0);
    if !line.is_empty() {
        wrapped(ui, line, theme::regular(theme::CHART), palette.quiet, 0.0);
    }
    if is_invented {
        wrapped(ui, &format!("This job is {INVENTED}."), theme::strong(theme::CHART), palette.over, 0.0);
    }
    let rect = ui.allocate_exact_size(vec2(ui.available_width(), theme::STEP * 1.25), Sense::hover()).0;
    ui.painter().hline(rect.x_range(), rect.center().y, (1.5, palette.ink));
}

/// Both answers, the higher one saying how high.
fn halves(ui: &mut Ui, found: &Half, beside: &Side) {
    let palette = theme::palette(ui);
    let top = ui.cursor().min;
    let width = (ui.available_width() - 2.0 * theme::STEP) / 2.0;
    let left = Rect::from_min_size(top, vec2(width, 0.0));
    let right = left.translate(vec2(width + 2.0 * theme::STEP, 0.0));
    let first = half(ui, found, left, palette.ink);
    let second = match beside {
        Side::Then(then) => half(ui, then, right, palette.change),
        Side::Wanted(title, sentence) => {
            let y = below(ui, title, theme::strong(theme::SMALL), palette.quiet, right);
            below(ui, sentence, theme::regular(theme::BODY), palette.ink, right.with_min_y(y + 2.0))
        }
    };
    let bottom = first.max(second);
    ui.painter().vline(right.left() - theme::STEP, top.y..=bottom, (1.0, palette.hairline));
    ui.allocate_exact_size(vec2(ui.available_width(), bottom - top.y), Sense::hover());
}

/// One answer from a place downward; gives where it ends.
fn half(ui: &Ui, half: &Half, room: Rect, ink: Color32) -> f32 {
    let palette = theme::palette(ui);
    let [title, ..] = &half.title;
    let y = below(ui, title, theme::strong(theme::SMALL), ink, room);
    let figure = ui.painter().layout_no_wrap(half.airflow.clone(), theme::strong(theme::FIGURE), ink);
    let size = figure.size();
    ui.painter().galley(pos2(room.left(), y), figure, ink);
    let beside = Rect::from_min_max(pos2(room.left() + size.x + theme::STEP * 0.75, y), pos2(room.right(), y));
    let told = ui.painter().layout(
        label::kept_together(&half.beside),
        theme::regular(theme::SMALL),
        palette.quiet,
        beside.width(),
    );
    let at = Align2::LEFT_BOTTOM.anchor_size(pos2(beside.left(), y + size.y - 3.0), told.size());
    ui.painter().galley(at.min, told, palette.quiet);
    half.lines.iter().fold(y + size.y, |y, told| {
        let ink = tone(palette, told.tone);
        let text = told.wordings.first().map_or("", String::as_str);
        below(ui, text, theme::regular(theme::CHART), ink, room.with_min_y(y))
    })
}

const fn tone(palette: &Palette, tone: Tone) -> Color32 {
    match tone {
        Tone::Good => palette.target,
        Tone::Bad => palette.over,
        Tone::Plain => palette.ink,
    }
}

/// Writes a text at the top of a room, on as many lines as it needs; gives where it ends.
fn below(ui: &Ui, text: &str, font: FontId, ink: Color32, room: Rect) -> f32 {
    let galley = ui.painter().layout(label::kept_together(text), font, ink, room.width());
    let end = room.top() + galley.size().y;
    ui.painter().galley(room.min, galley, ink);
    end
}

fn said(ui: &mut Ui, weight: Weight, text: &str) {
    let palette = theme::palette(ui);
    let (mark, ink) = match weight {
        Weight::Act => ("!", palette.over),
        Weight::Look => ("?", palette.change),
        Weight::Note => ("·", palette.quiet),
    };
    let at = ui.cursor().min;
    ui.painter().text(at + vec2(2.0, 0.0), Align2::LEFT_TOP, mark, theme::strong(theme::CHART), ink);
    wrapped(ui, text, theme::regular(theme::CHART), palette.ink, MARK);
    ui.add_space(2.0);
}

fn fact(ui: &mut Ui, name: &str, told: &str) {
    let palette = theme::palette(ui);
    let at = ui.cursor().min;
    let room = Rect::from_min_size(at, vec2(FACT - theme::STEP, 0.0));
    let end = below(ui, name, theme::regular(theme::CHART), palette.quiet, room);
    wrapped(ui, told, theme::regular(theme::CHART), palette.ink, FACT);
    ui.add_space((end - ui.cursor().top()).max(0.0) + 1.0);
}

fn signature(ui: &mut Ui, names: &[&str]) {
    let palette = theme::palette(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), SIGNED), Sense::hover());
    let between = 4.0 * theme::STEP;
    let count = names.len().max(1) as f32;
    let width = (rect.width() - between * (count - 1.0)) / count;
    for (index, name) in names.iter().enumerate() {
        let left = rect.left() + index as f32 * (width + between);
        ui.painter().hline(left..=left + width, rect.bottom() - 20.0, (1.0, palette.ink));
        let at = pos2(left, rect.bottom() - 17.0);
        ui.painter().text(at, Align2::LEFT_TOP, *name, theme::regular(theme::SMALL), palette.quiet);
    }
}
