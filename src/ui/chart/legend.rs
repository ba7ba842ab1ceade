//! The legend of the chart's marks, beside it on request: what is drawn just now, each as it is drawn.

use eframe::egui::{
    Label, Painter, Pos2, Rect, RichText, Role, ScrollArea, Sense, Shape, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};

use crate::model::curves::Part;
use crate::model::wording::changes;
use crate::ui::chart::scene::{Drawn, Scene};
use crate::ui::chart::{after, paint};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;

/// Width of the legend, points.
pub const WIDTH: f32 = 172.0;
/// Room of a mark before its words.
const MARK: f32 = 34.0;
/// Least height of a line.
const LINE: f32 = 24.0;

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
    Band,
    Changed,
    ChangedPoint,
    Target,
    TargetBand,
    Rated,
    Wish,
}

/// What is drawn, with its words.
fn marks(screen: &Screen<'_>, scene: &Scene<'_>) -> Vec<(Mark, &'static str)> {
    let parts = scene.taps.iter().filter_map(|tap| match &tap.drawn {
        Drawn::Curve { parts, .. } => Some(parts),
        Drawn::Mark(_) => None,
    });
    let has = |part| parts.clone().flatten().any(|other| *other == part);
    let is_running = screen.answer.point().is_some();
    let is_changed = changes::with_changes(screen.job, screen.answer).is_some();
    let counts = scene.counts();
    let all = [
        (is_running, Mark::Point, "the measured point: drag it"),
        (scene.in_use().is_some(), Mark::InUse, "the curve that ran while reading"),
        (has(Part::Published), Mark::Published, "another curve, published"),
        (has(Part::Extended), Mark::Extrapolated, "extrapolated, past the table's rows"),
        (has(Part::Barred), Mark::Barred, "not allowed by the table"),
        (is_running && scene.taps.len() > 1, Mark::Crossing, "where another tap would run"),
        (is_running, Mark::AsFound, "the path as found"),
        (screen.answer.visit.is_some(), Mark::Visit, "the other readings of the visit, with their paths"),
        (is_running, Mark::Band, "± of its airflow, 95 %"),
        (is_changed, Mark::Changed, "the path with changes"),
        (is_changed, Mark::ChangedPoint, "where it runs with changes"),
        (is_running, Mark::Wish, "pull: how easy must the path become?"),
        (counts.target.is_some(), Mark::Target, "the target"),
        (counts.target.is_some(), Mark::TargetBand, "accepted around the target"),
        (counts.rated.is_some(), Mark::Rated, "over the rated maximum"),
    ];
    all.into_iter().filter(|(is_drawn, ..)| *is_drawn).map(|(_, mark, words)| (mark, words)).collect()
}

/// Draws the legend.
pub fn legend(ui: &mut Ui, screen: &Screen<'_>, scene: &Scene<'_>, rect: Rect) {
    let palette = theme::palette(ui);
    let is_changed = changes::with_changes(screen.job, screen.answer).is_some();
    let mut column = ui.new_child(UiBuilder::new().max_rect(rect));
    ScrollArea::vertical().id_salt("legend").auto_shrink(false).show(&mut column, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (mark, words) in marks(screen, scene) {
            let text = RichText::new(words).font(theme::regular(theme::SMALL)).color(palette.ink);
            let width = ui.available_width() - theme::STEP;
            let line = ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = theme::STEP * 0.5;
                let (place, _) = ui.allocate_exact_size(vec2(MARK, LINE), Sense::hover());
                draw(ui.painter(), palette, mark, place.shrink2(vec2(2.0, 4.0)), is_changed);
                ui.vertical(|ui| {
                    ui.set_width(width - MARK);
                    ui.add(Label::new(text).wrap());
                });
            });
            line.response.widget_info(|| WidgetInfo::labeled(Role::ListItem, true, words));
        }
    });
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
            paint::numbered(painter, at, 1, palette);
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
