//! What is printed, drawn by the window's own functions and without anything to take hold of: the sheet of a chart.

use eframe::egui::{Label, RichText, Ui, UiBuilder, Vec2, vec2};

use crate::model::wording;
use crate::ui::chart;
use crate::ui::theme::{self, Palette};
use crate::ui::view::{ChartView, Screen};
use crate::ui::widgets::label;

/// Size of a chart's sheet, in points of the layout.
pub const CHART_SHEET: Vec2 = vec2(1000.0, 660.0);
/// Room about it.
const MARGIN: f32 = 2.0 * theme::STEP;

/// Draws a chart by itself, with what it is of over it.
pub fn chart_sheet(ui: &mut Ui, screen: &Screen<'_>, seen: ChartView) {
    let palette = theme::palette(ui);
    let inner = ui.max_rect().shrink(MARGIN);
    let mut ui = ui.new_child(UiBuilder::new().max_rect(inner));
    heading(&mut ui, screen, palette);
    let verdict = wording::verdict(screen.job, screen.answer, screen.units);
    let told = label::kept_together(&verdict.headline);
    ui.add(Label::new(RichText::new(told).font(theme::regular(theme::BODY)).color(palette.ink)).wrap());
    ui.add_space(theme::STEP);
    chart::printed(&mut ui, screen, seen);
}

/// What the job is called, where and when it was read, on which machine, and whether all that is invented.
fn heading(ui: &mut Ui, screen: &Screen<'_>, palette: &Palette) {
    let job = screen.job;
    let title = if job.title.is_empty() { "Untitled job" } else { &job.title };
    ui.add(Label::new(RichText::new(title).font(theme::strong(theme::VERDICT)).color(palette.ink)).wrap());
    let machine = job.machine.as_ref().map(|table| table.name.as_str()).unwrap_or_default();
    let told = [machine, &job.place, &job.date].into_iter().filter(|told| !told.is_empty());
    let invented = job.illustrative.then_some(INVENTED);
    let line = told.chain(invented).collect::<Vec<_>>().join(" · ");
    if !line.is_empty() {
        ui.add(Label::new(RichText::new(line).font(theme::regular(theme::CHART)).color(palette.quiet)).wrap());
    }
}

/// The mark of a job whose house and machine nobody has.
pub const INVENTED: &str = "invented for illustration";
