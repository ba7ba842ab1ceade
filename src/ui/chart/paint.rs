//! Ink on paper: what lies under the grid, curves, marks.

use eframe::egui::{Color32, Mesh, Painter, Pos2, Rangef, Rect, Shape, Stroke, StrokeKind, pos2, vec2};
use egui_plot::{PlotPoint, PlotTransform};

use crate::model::curves::{Part, TableRow};
use crate::model::facts::target::TargetBand;
use crate::ui::chart::scene::{Cross, Drawn, Plane, Scene, TapLine};
use crate::ui::theme::{self, Palette};
use crate::units::Pressure;

/// Radius of the measured point.
pub const POINT: f32 = 7.0;
/// Radius of another tap's crossing.
pub const CROSS: f32 = 4.0;
/// Half the side of the grip's square.
pub const GRIP: f32 = 6.0;
/// Distance of the hatching's lines.
const HATCH: f32 = 13.0;
/// Distance of the crosses along a barred stretch.
const BARRED_STEP: f32 = 22.0;

/// The paper, the target's band and the hatching over the rated maximum.
pub fn underlay(
    palette: &Palette,
    transform: &PlotTransform,
    plane: &Plane<'_>,
    target: Option<TargetBand>,
    rated: Option<Pressure>,
) -> Shape {
    let frame = *transform.frame();
    let mut shapes = vec![Shape::rect_filled(frame, 0.0, palette.card)];
    if let Some(target) = target {
        let x = |airflow| transform.position_from_point(&plane.place(airflow, Pressure::ZERO)).x;
        let strip = Rect::from_x_y_ranges(x(target.low)..=x(target.high), frame.y_range());
        shapes.extend(target_band(strip.intersect(frame), palette));
    }
    if let Some(limit) = rated {
        let y = y_of(transform, plane, limit);
        let region = Rect::from_x_y_ranges(frame.x_range(), frame.top()..=y.clamp(frame.top(), frame.bottom()));
        shapes.extend(hatching(region, palette));
    }
    Shape::Vec(shapes)
}

/// The band about the target, with its edges.
pub fn target_band(band: Rect, palette: &Palette) -> [Shape; 3] {
    let edge = Stroke::new(1.0, theme::standing_back(palette.target));
    let side = |x: f32| Shape::line_segment([pos2(x, band.top()), pos2(x, band.bottom())], edge);
    [Shape::rect_filled(band, 0.0, palette.target_band), side(band.left()), side(band.right())]
}

/// Lines rising to the right, cut at the region's edges.
pub fn hatching(region: Rect, palette: &Palette) -> Vec<Shape> {
    if region.height() < 1.0 {
        return Vec::new();
    }
    let count = ((region.width() + region.height()) / HATCH) as usize;
    let line = |index: usize| {
        let x = region.left() + index as f32 * HATCH;
        let low = (x - region.right()).max(0.0);
        let high = (x - region.left()).min(region.height());
        let at = |rise: f32| pos2(x - rise, region.top() + rise);
        Shape::line_segment([at(low), at(high)], Stroke::new(1.0, palette.hatch))
    };
    (1..=count).map(line).collect()
}

/// The grip of a wish: a square with two bars.
pub fn grip(painter: &Painter, at: Pos2, side: f32, ink: Color32, paper: Color32) {
    let square = Rect::from_center_size(at, vec2(2.0 * side, 2.0 * side));
    painter.rect(square, 2.0, paper, Stroke::new(1.6, ink), StrokeKind::Middle);
    let bar = side * 0.55;
    for up in [-2.0, 2.0] {
        painter.line_segment([at + vec2(-bar, up), at + vec2(bar, up)], Stroke::new(1.4, ink));
    }
}

/// Height of a static on the screen.
pub fn y_of(transform: &PlotTransform, plane: &Plane<'_>, tesp: Pressure) -> f32 {
    let place = plane.place(crate::units::Airflow::ZERO, tesp);
    transform.position_from_point(&place).y
}

/// Colour and width of a tap: one family, graded by airflow, the one in use darkest and thickest.
pub fn tap_stroke(palette: &Palette, tap: &TapLine<'_>, ranks: usize) -> Stroke {
    if tap.in_use {
        Stroke::new(theme::CURVE_IN_USE, palette.tap_high)
    } else {
        Stroke::new(theme::CURVE, palette.tap(tap.rank, ranks + 1))
    }
}

/// A tap's curve: solid where published, dashed where extended, dots and crosses where barred; nothing for a tap of one row.
pub fn tap(painter: &Painter, tap: &TapLine<'_>, points: &[Pos2], stroke: Stroke) {
    let Drawn::Curve { parts, .. } = &tap.drawn else { return };
    let mut start = 0;
    for run in parts.chunk_by(|one, other| one == other) {
        let line = &points[start..=start + run.len()];
        match run.first() {
            Some(Part::Published) => {
                painter.add(Shape::line(line.to_vec(), stroke));
            }
            Some(Part::Extended) => {
                painter.extend(Shape::dashed_line(line, stroke, 6.0, 5.0));
            }
            Some(Part::Barred) => barred(painter, line, stroke),
            None => {}
        }
        start += run.len();
    }
}

/// Every tap of a system, with those of one row.
pub fn taps(
    painter: &Painter,
    transform: &PlotTransform,
    scene: &Scene<'_>,
    points: &[Vec<Pos2>],
    stroke: impl Fn(&TapLine<'_>) -> Stroke,
) {
    for (one, points) in scene.taps.iter().zip(points) {
        match &one.drawn {
            Drawn::Curve { .. } => tap(painter, one, points, stroke(one)),
            Drawn::Mark(row) => single_row(painter, transform, &scene.plane, row, stroke(one)),
        }
    }
}

fn barred(painter: &Painter, line: &[Pos2], stroke: Stroke) {
    painter.extend(Shape::dotted_line(line, stroke.color, 6.0, 1.2));
    let mut walked = BARRED_STEP * 0.5;
    for pair in line.windows(2) {
        let along = pair[1] - pair[0];
        let length = along.length();
        while walked < length {
            cross(painter, pair[0] + along * (walked / length), 3.5, Stroke::new(1.4, stroke.color));
            walked += BARRED_STEP;
        }
        walked -= length;
    }
}

/// A small ×.
pub fn cross(painter: &Painter, at: Pos2, half: f32, stroke: Stroke) {
    for diagonal in [vec2(half, half), vec2(half, -half)] {
        painter.line_segment([at - diagonal, at + diagonal], stroke);
    }
}

/// A tap of one row: a mark with whiskers as far as it can be used.
fn single_row(painter: &Painter, transform: &PlotTransform, plane: &Plane<'_>, row: &TableRow, stroke: Stroke) {
    let at = |esp: Pressure| transform.position_from_point(&plane.place(row.airflow, plane.tesp(esp, row.airflow)));
    let (low, middle, high) = (at(row.entry - row.reach), at(row.entry), at(row.entry + row.reach));
    painter.line_segment([low, high], stroke);
    for end in [low, high] {
        painter.line_segment([end - vec2(5.0, 0.0), end + vec2(5.0, 0.0)], stroke);
    }
    let half = vec2(5.0, 5.0);
    painter.rect_filled(Rect::from_min_max(middle - half, middle + half), 1.0, stroke.color);
}

/// The path's curve and its band.
///
/// The band lies between the curve's own shape through the measured airflow less and plus its ± (95 %), at the static that was read: the same curve, stretched in airflow by `1 ± u/Q`.
/// It shows how far the reading leaves the path undecided; a table's tolerance shifts taps and path alike and is in `u`.
pub fn band(painter: &Painter, transform: &PlotTransform, path: &[PlotPoint], share: f64, fill: Color32) {
    let mut mesh = Mesh::default();
    for (index, place) in path.iter().enumerate() {
        for factor in [1.0 - share, 1.0 + share] {
            let at = transform.position_from_point(&PlotPoint::new(place.x * factor, place.y));
            mesh.colored_vertex(at, fill);
        }
        if index > 0 {
            let base = 2 * u32::try_from(index).unwrap_or_default();
            mesh.add_triangle(base - 2, base - 1, base);
            mesh.add_triangle(base - 1, base, base + 1);
        }
    }
    painter.add(Shape::mesh(mesh));
}

/// A crossing of another tap: small and hollow, struck through where barred.
pub fn crossing(painter: &Painter, at: Pos2, drawn: &Cross, stroke: Stroke, paper: Color32) {
    painter.circle(at, CROSS, paper, Stroke::new(1.6, stroke.color));
    if drawn.barred {
        cross(painter, at, CROSS + 2.0, Stroke::new(1.4, stroke.color));
    }
}

/// The target: a dotted line over the whole height.
pub fn target_line(painter: &Painter, x: f32, y: Rangef, colour: Color32) {
    let line = [pos2(x, y.max), pos2(x, y.min)];
    painter.extend(Shape::dotted_line(&line, colour, 5.0, 1.3));
}

/// The measured point: a ring that is paper inside.
pub fn ring(painter: &Painter, at: Pos2, ink: Color32, paper: Color32, held: bool) {
    if held {
        painter.circle_filled(at, POINT + 5.0, ink.gamma_multiply(0.18));
    }
    painter.circle(at, POINT, paper, Stroke::new(2.6, ink));
}
