//! What is printed, drawn by the window's own functions and without anything to take hold of: the pages of a report, and the sheet of a chart.
//!
//! A report is a row of blocks ([`content`]), each as high as what stands in it; they fill one page after another ([`breaks`]).

pub mod block;
pub mod breaks;
mod company;
pub mod content;
pub mod field_sheet;
pub mod fill;
pub mod row;
mod scope;

use eframe::egui::{Align2, Label, Rect, RichText, Ui, UiBuilder, Vec2, pos2, vec2};

use crate::model::wording;
use crate::model::wording::paper::INVENTED;
use crate::ui::chart;
use crate::ui::theme::{self, Palette};
use crate::ui::view::{ChartView, Screen};
use crate::ui::widgets::label;
use block::Block;

/// Size of a chart's sheet, in points of the layout.
pub const CHART_SHEET: Vec2 = vec2(1000.0, 660.0);
/// Room about it.
const CHART_MARGIN: f32 = 2.0 * theme::STEP;
/// Room left and right on a page, and over and under what stands on it, in points of the layout.
const MARGIN: Vec2 = vec2(56.0, 36.0);
/// Room at the foot of a page for its number.
const FOOT: f32 = 20.0;

/// Draws a chart by itself, with what it is of over it.
pub fn chart_sheet(ui: &mut Ui, screen: &Screen<'_>, seen: ChartView) {
    let palette = theme::palette(ui);
    let inner = ui.max_rect().shrink(CHART_MARGIN);
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner));
    let text = |text: String, font, ink| Label::new(RichText::new(text).font(font).color(ink)).wrap();
    ui.add(text(title(screen).to_owned(), theme::strong(theme::VERDICT), palette.ink));
    let invented = screen.job.illustrative.then(|| INVENTED.to_owned());
    let line = about(screen).into_iter().chain(invented).collect::<Vec<_>>().join(SEPARATOR);
    if !line.is_empty() {
        ui.add(text(line, theme::regular(theme::CHART), palette.quiet));
    }
    let verdict = wording::verdict(screen.job, screen.answer, screen.units);
    ui.add(text(label::kept_together(&verdict.headline), theme::regular(theme::BODY), palette.ink));
    ui.add_space(theme::STEP);
    chart::printed(&mut ui, screen, seen);
}

/// What the job is called.
pub fn title<'a>(screen: &Screen<'a>) -> &'a str {
    if screen.job.title.is_empty() { "Untitled job" } else { &screen.job.title }
}

/// Between two things that are told on one line.
const SEPARATOR: &str = " · ";

/// The machine, where and when it was read.
fn about(screen: &Screen<'_>) -> Vec<String> {
    let job = screen.job;
    let machine = job.machine.as_ref().map(|table| table.name.clone()).unwrap_or_default();
    [machine, job.place.clone(), job.date.clone()].into_iter().filter(|told| !told.is_empty()).collect()
}

/// The room of blocks on a page of a size.
fn room(page: Vec2) -> Rect {
    Rect::from_min_max(pos2(MARGIN.x, MARGIN.y), pos2(page.x - MARGIN.x, page.y - MARGIN.y - FOOT))
}

/// How high each block is on pages of a size; drawn on a sheet that is high enough for all of them.
pub fn heights(ui: &mut Ui, screen: &Screen<'_>, blocks: &[Block], page: Vec2) -> Vec<f32> {
    let mut ui = ui.new_child(UiBuilder::new().max_rect(room(page).with_max_y(ui.max_rect().bottom())));
    ui.spacing_mut().item_spacing = Vec2::ZERO;
    let of = |block: &Block| {
        let top = ui.cursor().top();
        block::draw(&mut ui, screen, block);
        ui.cursor().top() - top
    };
    blocks.iter().map(of).collect()
}

/// What fits on each page of a size: the first block of it, and the first that is on the next.
pub fn pages(blocks: &[Block], heights: &[f32], page: Vec2) -> Vec<std::ops::Range<usize>> {
    let goes_on: Vec<bool> = blocks.iter().map(Block::goes_on).collect();
    breaks::pages(heights, &goes_on, room(page).height())
}

/// What stands at the foot of a page.
#[derive(Clone, Copy, Debug)]
pub struct Foot<'a> {
    /// What the pages are of.
    pub name: &'a str,
    /// The page, from 1.
    pub number: usize,
    /// Of how many.
    pub of: usize,
}

/// Draws one page of a number of them.
pub fn page(ui: &mut Ui, screen: &Screen<'_>, blocks: &[Block], page: Vec2, at_foot: Foot<'_>) {
    let room = room(page);
    let palette = theme::palette(ui);
    let mut inner = ui.new_child(UiBuilder::new().max_rect(room));
    inner.spacing_mut().item_spacing = Vec2::ZERO;
    for block in blocks {
        block::draw(&mut inner, screen, block);
    }
    foot(ui, room, palette, at_foot);
}

fn foot(ui: &Ui, room: Rect, palette: &Palette, Foot { name, number, of }: Foot<'_>) {
    let y = room.bottom() + FOOT;
    ui.painter().hline(room.x_range(), room.bottom() + FOOT * 0.45, (1.0, palette.hairline));
    let made_by = concat!("Tapcross ", env!("CARGO_PKG_VERSION"));
    let about = label::one_line(ui, name, theme::regular(theme::SMALL), palette.quiet, room.width() * 0.6);
    ui.painter().galley(Align2::LEFT_CENTER.anchor_size(pos2(room.left(), y), about.size()).min, about, palette.quiet);
    let told = format!("page {number} of {of} · {made_by}");
    ui.painter().text(pos2(room.right(), y), Align2::RIGHT_CENTER, told, theme::regular(theme::SMALL), palette.quiet);
}
