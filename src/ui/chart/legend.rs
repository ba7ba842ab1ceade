//! The legend of the chart's marks, on request: beside it, or where it has no room there in the job's place, or under it: what is drawn just now, each as it is drawn.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align, Align2, Galley, Label, Layout, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, UiBuilder, WidgetInfo,
    pos2, vec2,
};

use crate::model::curves::Part;
use crate::model::wording::{changes, visit};
use crate::ui::chart::scene::{Drawn, Scene};
use crate::ui::chart::{after, aside, paint, visit as visit_marks};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::view::action::Command;
use crate::ui::widgets::{hint, label, whole_rows};

/// Width of the legend beside the chart, points.
const WIDTH: f32 = 172.0;
/// Least width that a legend beside it leaves to the chart.
const CHART_LEAST: f32 = 420.0;
/// Width of a column of the legend under the chart.
const COLUMN: f32 = 240.0;
/// Most of the height that a legend under the chart takes.
const UNDER_MOST: f32 = 0.3;
/// Room of a mark before its words.
const MARK: f32 = 34.0;
/// Least height of a line.
const LINE: f32 = 24.0;
/// Radius of a number's disk.
const NUMBER: f32 = 8.0;
/// Room between the words of two lines.
const BETWEEN: f32 = 3.0;

/// A mark as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mark {
    Point,
    InUse,
    Published,
    Extrapolated,
    Barred,
    Crossing,
    AsFound,
    Visit,
    Dot,
    OtherJob,
    OtherOption,
    Band,
    Changed,
    ChangedPoint,
    Target,
    TargetBand,
    Rated,
    Wish,
}

/// What is drawn, with its words.
fn marks(screen: &Screen<'_>, scene: &Scene<'_>, hidden: &BTreeSet<usize>) -> Vec<(Mark, String)> {
    let parts = scene.taps.iter().filter_map(|tap| match &tap.drawn {
        Drawn::Curve { parts, .. } => Some(parts),
        Drawn::Mark(_) => None,
    });
    let has = |part| parts.clone().flatten().any(|other| *other == part);
    let is_running = screen.answer.point().is_some();
    let is_changed = changes::with_changes(screen.job, screen.answer).is_some();
    let counts = scene.counts();
    let others = || (0..screen.job.sets.len()).filter(|set| *set != screen.job.judged);
    let has_told = others().any(|set| visit_marks::is_told(screen.job, set, None));
    let has_dots = others().any(|set| !visit_marks::is_told(screen.job, set, None));
    let path = format!("the path {}", visit::as_found(screen.job));
    let beside = screen.beside.map(|beside| format!("another job, as read: {}", beside.name()));
    let all = [
        (is_running, Mark::Point, "the measured point: drag it"),
        (scene.in_use().is_some(), Mark::InUse, "the curve that ran while reading"),
        (has(Part::Published), Mark::Published, "another curve, published"),
        (has(Part::Extended), Mark::Extrapolated, "extrapolated, past the table's rows"),
        (has(Part::Barred), Mark::Barred, "not allowed by the table"),
        (is_running && scene.taps.len() > 1, Mark::Crossing, "where another tap would run"),
        (is_running, Mark::AsFound, path.as_str()),
        (screen.answer.visit.is_some() && has_told, Mark::Visit, "the other readings of the visit, with their paths"),
        (screen.answer.visit.is_some() && has_dots, Mark::Dot, "more readings: point at one in the list"),
        (beside.is_some(), Mark::OtherJob, beside.as_deref().unwrap_or_default()),
        (aside::has_option(screen, hidden), Mark::OtherOption, "another option, with its path"),
        (is_running, Mark::Band, "± of its airflow, 95 %"),
        (is_changed, Mark::Changed, "the path with changes"),
        (is_changed, Mark::ChangedPoint, "where it runs with changes"),
        (is_running, Mark::Wish, "pull: how easy must the path become?"),
        (counts.target.is_some(), Mark::Target, "the target"),
        (counts.target.is_some(), Mark::TargetBand, "accepted around the target"),
        (counts.rated.is_some(), Mark::Rated, "over the rated maximum"),
    ];
    all.into_iter().filter(|(is_drawn, ..)| *is_drawn).map(|(_, mark, words)| (mark, words.to_owned())).collect()
}

/// Where the legend stands: beside the chart, or under it where a chart beside it would be too small.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Places {
    chart: Rect,
    legend: Rect,
    /// Columns of the legend.
    columns: usize,
}

/// Whether a legend has room beside a chart in so wide a room, points.
pub fn has_room_beside(width: f32) -> bool {
    width - WIDTH >= CHART_LEAST
}

/// Shares a room among the chart and the legend of so many marks.
fn shared(room: Rect, marks: usize) -> Places {
    if has_room_beside(room.width()) {
        let (chart, legend) = room.split_left_right_at_x(room.right() - WIDTH);
        return Places { chart, legend, columns: 1 };
    }
    let columns = ((room.width() / COLUMN) as usize).max(1);
    let lines = marks.div_ceil(columns) as f32;
    let most = (room.height() * UNDER_MOST / LINE).floor().max(1.0);
    let (chart, legend) = room.split_top_bottom_at_y(room.bottom() - lines.min(most) * LINE);
    Places { chart, legend, columns }
}

/// Draws the legend in its share of a room; gives what is left to the chart.
pub fn legend(
    ui: &mut Ui,
    screen: &Screen<'_>,
    scene: &Scene<'_>,
    hidden: &BTreeSet<usize>,
    (over, room): (f32, Rect),
) -> Rect {
    let marks = marks(screen, scene, hidden);
    let Places { chart, legend, columns } = shared(room, marks.len());
    let is_beside = legend.left() > chart.left();
    let rect = if is_beside { legend.with_min_y(legend.top() + over) } else { legend };
    let is_changed = changes::with_changes(screen.job, screen.answer).is_some();
    lines(ui, &marks, rect, columns, is_changed, if is_beside { usize::MAX } else { 1 });
    chart
}

/// Draws it in a panel of its own, while the chart has nothing to spare; gives whether it was closed.
pub fn in_a_panel(ui: &mut Ui, screen: &Screen<'_>, hidden: &BTreeSet<usize>) -> bool {
    let marks = marks(screen, &Scene::of(screen), hidden);
    let mut is_closed = false;
    ui.horizontal(|ui| {
        label::plain_heading(ui, "Marks of the chart");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let close = ui.button("Close");
            close.widget_info(|| WidgetInfo::labeled(Role::Button, true, "Close the legend"));
            is_closed = hint::and_under_the_pointer(close, &Command::Legend.told(ui.ctx())).clicked();
        });
    });
    ui.add_space(theme::STEP * 0.5);
    let is_changed = changes::with_changes(screen.job, screen.answer).is_some();
    lines(ui, &marks, ui.available_rect_before_wrap(), 1, is_changed, usize::MAX);
    is_closed
}

/// The marks with their words in a room, in columns, on at most so many lines each.
fn lines(ui: &mut Ui, marks: &[(Mark, String)], rect: Rect, columns: usize, is_changed: bool, most_lines: usize) {
    let width = rect.width() / columns as f32 - theme::STEP;
    let rows: Vec<&[(Mark, String)]> = marks.chunks(columns).collect();
    let galleys: Vec<Vec<Arc<Galley>>> = rows
        .iter()
        .map(|row| row.iter().map(|(_, words)| laid_out(ui, words, width - MARK, most_lines)).collect())
        .collect();
    let tallest = |row: &Vec<Arc<Galley>>| row.iter().map(|words| words.size().y + BETWEEN).fold(LINE, f32::max);
    let heights: Vec<f32> = galleys.iter().map(tallest).collect();
    let mut part = ui.new_child(UiBuilder::new().max_rect(rect));
    whole_rows::whole_rows(&mut part, "legend", rect.height(), &heights, |ui, index| {
        let place = ui.max_rect();
        for (column, ((mark, words), galley)) in rows[index].iter().zip(&galleys[index]).enumerate() {
            let left = place.left() + column as f32 * (width + theme::STEP);
            let line = Rect::from_min_size(pos2(left, place.top()), vec2(width, place.height()));
            one(ui, line, (*mark, words), galley, is_changed);
        }
    });
}

/// The words of a mark, on at most so many lines.
fn laid_out(ui: &Ui, words: &str, width: f32, lines: usize) -> Arc<Galley> {
    let mut job =
        LayoutJob::simple(words.to_owned(), theme::regular(theme::SMALL), theme::palette(ui).ink, width.max(1.0));
    job.wrap.max_rows = lines;
    ui.painter().layout_job(job)
}

/// A mark with its words, the whole of which is told under the pointer too.
fn one(ui: &mut Ui, line: Rect, (mark, words): (Mark, &str), galley: &Arc<Galley>, is_changed: bool) {
    let response = ui.interact(line, ui.scope_id().with(("legend", words)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::ListItem, true, words));
    let palette = theme::palette(ui);
    let sign = Rect::from_center_size(pos2(line.left() + MARK / 2.0, line.center().y), vec2(MARK, LINE));
    draw(ui.painter(), palette, mark, sign.shrink2(vec2(2.0, 4.0)), is_changed);
    let at = Rect::from_min_max(pos2(line.left() + MARK + theme::STEP * 0.5, line.top()), line.max);
    let at = Rect::from_center_size(at.center(), vec2(at.width(), galley.size().y));
    let told = ui.put(Rect::from_min_size(at.min, galley.size()), Label::new(Arc::clone(galley)));
    if galley.elided {
        told.on_hover_text(words);
    }
}

/// Paints a mark as the chart paints it.
fn draw(painter: &Painter, palette: &Palette, mark: Mark, place: Rect, is_changed: bool) {
    let (left, at, right) = (place.left_center(), place.center(), place.right_center());
    let line = |stroke: Stroke| painter.line_segment([left, right], stroke);
    let dashed = |stroke: Stroke, dash, gap| painter.extend(Shape::dashed_line(&[left, right], stroke, dash, gap));
    let tap = Stroke::new(theme::CURVE, palette.tap(2, 5));
    match mark {
        Mark::Point => paint::ring(painter, at, palette.ink, palette.card, false),
        Mark::InUse => drop(line(Stroke::new(theme::CURVE_IN_USE, palette.tap_high))),
        Mark::Published => drop(line(tap)),
        Mark::Extrapolated => dashed(tap, 6.0, 5.0),
        Mark::Barred => {
            painter.extend(Shape::dotted_line(&[left, right], tap.color, 6.0, 1.2));
            paint::cross(painter, at, 3.5, Stroke::new(1.4, tap.color));
        }
        Mark::Crossing => drop(painter.circle(at, paint::CROSS, palette.card, Stroke::new(1.6, tap.color))),
        Mark::AsFound if is_changed => dashed(Stroke::new(theme::CURVE, palette.quiet), 7.0, 5.0),
        Mark::AsFound => drop(line(Stroke::new(theme::CURVE, palette.quiet))),
        Mark::Visit => {
            painter.extend(Shape::dotted_line(&[left, right], palette.quiet, 6.0, 0.9));
            painter.circle_filled(left + vec2(visit_marks::POINT, 0.0), visit_marks::POINT, palette.quiet);
            let disk = right - vec2(NUMBER, 0.0);
            painter.circle(disk, NUMBER, palette.card, Stroke::new(1.0, palette.quiet));
            painter.text(disk, Align2::CENTER_CENTER, 1, theme::strong(theme::SMALL), palette.quiet);
        }
        Mark::Dot => drop(painter.circle_filled(at, visit_marks::DOT, palette.quiet)),
        Mark::OtherJob => {
            painter.extend(aside::dashes(&[left, right], palette));
            painter.add(aside::diamond(at, palette));
        }
        Mark::OtherOption => {
            painter.add(aside::thin(&[left, right], palette));
            painter.add(aside::dot(at, palette));
        }
        Mark::Band => {
            let ground = if is_changed { palette.change_band() } else { palette.found_band() };
            painter.rect_filled(place, 2.0, ground);
        }
        Mark::Changed => drop(line(Stroke::new(theme::CURVE_IN_USE, palette.change))),
        Mark::ChangedPoint => {
            painter.circle(at, after::DOT, palette.change, Stroke::new(1.5, palette.card));
        }
        Mark::Target => paint::target_line(painter, at.x, place.y_range(), palette.target),
        Mark::TargetBand => painter.extend(paint::target_band(place, palette)),
        Mark::Rated => rated(painter, palette, place),
        Mark::Wish => paint::grip(painter, at, paint::GRIP, palette.quiet, palette.card),
    }
}

/// The rated maximum's line, and the hatching over it.
fn rated(painter: &Painter, palette: &Palette, place: Rect) {
    let line: [Pos2; 2] = [pos2(place.left(), place.bottom()), pos2(place.right(), place.bottom())];
    painter.extend(paint::hatching(place, palette));
    painter.line_segment(line, Stroke::new(1.2, palette.over));
}
