//! What lies under the pointer, read out in a card beside it.

use eframe::egui::{CornerRadius, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2};
use egui_plot::PlotTransform;

use crate::model::curves::CurvePoint;
use crate::model::facts::standing::CurveStanding;
use crate::ui::chart::paint;
use crate::ui::chart::scene::{Cross, Drawn, Nearest, Scene, nearest};
use crate::ui::theme;
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// How near the pointer must be to a curve, points.
const REACH: f32 = 24.0;
/// How near it must be to a crossing.
pub const CROSS_REACH: f32 = 10.0;
/// Distance of the card from the pointer.
const OFFSET: f32 = 16.0;

/// What the card says, and the spot it speaks of.
#[derive(Clone, Debug)]
pub struct ReadOut {
    /// The spot, on the screen.
    pub at: Pos2,
    /// Index of the tap.
    pub tap: usize,
    /// First line.
    pub head: String,
    /// Second line.
    pub detail: String,
}

/// Finds the crossing or the curve under the pointer.
pub fn read_out(scene: &Scene<'_>, transform: &PlotTransform, points: &[Vec<Pos2>], pointer: Pos2) -> Option<ReadOut> {
    let crosses = scene.crosses.iter().map(|cross| (cross, transform.position_from_point(&cross.place)));
    let near = crosses.filter(|(_, at)| at.distance(pointer) <= CROSS_REACH);
    if let Some((cross, at)) = near.min_by(|one, other| one.1.distance(pointer).total_cmp(&other.1.distance(pointer))) {
        let is_in_use = scene.tap(cross.tap)?.in_use;
        return crossing(scene, cross, at, if is_in_use { "runs here now" } else { "on this path" });
    }
    let curves = scene.taps.iter().zip(points).filter_map(|(tap, points)| {
        let found = match &tap.drawn {
            Drawn::Curve { samples, .. } => nearest(samples, points, pointer)?,
            Drawn::Mark(row) => {
                let at = *points.first()?;
                Nearest { entry: row.entry, at, distance: at.distance(pointer) }
            }
        };
        Some((tap, found))
    });
    let (tap, found) = curves
        .filter(|(_, found)| found.distance <= REACH && transform.frame().contains(found.at))
        .min_by(|one, other| one.1.distance.total_cmp(&other.1.distance))?;
    let units = scene.plane.units;
    let (airflow, detail) = match &tap.drawn {
        Drawn::Curve { curve, .. } => on_curve(&curve.at(found.entry)),
        Drawn::Mark(row) => (row.airflow, format!("one row only, usable within ±{}", show::pressure(row.reach, units))),
    };
    let tesp = scene.plane.tesp(found.entry, airflow);
    Some(ReadOut { at: found.at, tap: tap.tap, head: head(&tap.name, airflow, tesp, units), detail })
}

fn head(name: &str, airflow: Airflow, tesp: Pressure, units: UnitSystem) -> String {
    format!("{name} · {} · {}", show::airflow(airflow, units), show::pressure(tesp, units))
}

fn on_curve(point: &CurvePoint<'_>) -> (Airflow, String) {
    let mut said = electric(point);
    match point.barred {
        Some(barred) => said.push(match &barred.note {
            Some(note) => format!("not allowed: {note}"),
            None => "not allowed by the table".to_owned(),
        }),
        None => said.push(point.standing.word().to_owned()),
    }
    said.extend(point.note.map(str::to_owned));
    (point.airflow, said.join(" · "))
}

/// Watts and rpm of a tap at a place of its curve, where the table has them.
fn electric(point: &CurvePoint<'_>) -> Vec<String> {
    let watts = point.power.map(|power| format!("{} W", show::power_bare(power)));
    let speed = point.speed.map(|speed| format!("{} rpm", show::number((speed.rpm() / 5.0).round() * 5.0, 0)));
    watts.into_iter().chain(speed).collect()
}

/// What is read at a crossing; `word` says of which path.
pub fn crossing(scene: &Scene<'_>, cross: &Cross, at: Pos2, word: &str) -> Option<ReadOut> {
    let tap = scene.tap(cross.tap)?;
    let units = scene.plane.units;
    let point = cross.crossing;
    let mut said = vec![word.to_owned(), format!("± {}", show::spread(cross.spread, units))];
    if let Drawn::Curve { curve, .. } = &tap.drawn {
        said.extend(electric(&curve.at(point.entry)));
    }
    said.push(match (cross.barred, point.standing) {
        (true, _) => "not allowed here".to_owned(),
        (false, standing) => CurveStanding::word(standing).to_owned(),
    });
    Some(ReadOut {
        at,
        tap: cross.tap,
        head: head(&tap.name, point.airflow, point.tesp, units),
        detail: said.join(" · "),
    })
}

/// Draws the spot and the card, which never leaves the frame and rather keeps off `labels`.
pub fn card(ui: &Ui, read_out: &ReadOut, pointer: Pos2, frame: Rect, labels: &[Rect], stroke: Stroke) {
    let palette = theme::palette(ui);
    let painter = ui.painter();
    painter.circle(read_out.at, paint::CROSS, stroke.color, Stroke::new(1.5, palette.card));
    let wrap = (frame.width() - 4.0 * theme::STEP).max(80.0);
    let head = painter.layout(read_out.head.clone(), theme::strong(theme::CHART), palette.ink, wrap);
    let detail = painter.layout(read_out.detail.clone(), theme::regular(theme::CHART), palette.quiet, wrap);
    let size = vec2(head.size().x.max(detail.size().x), head.size().y + detail.size().y + 2.0)
        + Vec2::splat(2.0 * theme::STEP);
    let area = beside(pointer, size, frame, labels);
    painter.rect(area, CornerRadius::same(6), palette.card, Stroke::new(1.0, palette.hairline), StrokeKind::Inside);
    let corner = area.min + Vec2::splat(theme::STEP);
    let second = corner + vec2(0.0, head.size().y + 2.0);
    painter.galley(corner, head, palette.ink);
    painter.galley(second, detail, palette.quiet);
    let response = ui.interact(area, ui.scope_id().with("chart read-out"), Sense::hover());
    let text = format!("{}; {}", read_out.head, read_out.detail);
    response.widget_info(|| WidgetInfo::labeled(Role::Tooltip, true, &text));
}

/// The side of the pointer that needs least pushing back into the frame and covers fewest labels; right of it and over it if all are alike.
fn beside(pointer: Pos2, size: Vec2, frame: Rect, labels: &[Rect]) -> Rect {
    let away = Vec2::splat(OFFSET);
    let sides = [(1.0, -1.0), (1.0, 1.0), (-1.0, -1.0), (-1.0, 1.0)].map(|(x, y)| {
        let side = vec2(x, y);
        let middle = pointer + side * (away + size * 0.5);
        let least = frame.min + size * 0.5;
        let most = (frame.max - size * 0.5).max(least);
        let area = Rect::from_center_size(middle.clamp(least, most), size);
        let covered = labels.iter().filter(|label| label.intersects(area)).count() as f32;
        (area, area.center().distance(middle) + covered * OFFSET * 2.0)
    });
    let best = sides.into_iter().min_by(|one, other| one.1.total_cmp(&other.1));
    best.map_or(Rect::from_min_size(frame.min, size), |(area, _)| area)
}

#[cfg(test)]
mod tests {
    use super::*;
    use eframe::egui::pos2;

    #[test]
    fn the_card_stays_in_the_frame_wherever_the_pointer_is() {
        let frame = Rect::from_min_max(pos2(40.0, 20.0), pos2(500.0, 320.0));
        let size = vec2(260.0, 52.0);
        for x in [40.0, 200.0, 300.0, 499.0] {
            for y in [20.0, 60.0, 319.0] {
                let pointer = pos2(x, y);
                let area = beside(pointer, size, frame, &[]);
                assert!(frame.contains_rect(area), "{pointer:?}: {area:?}");
            }
        }
    }
}
