//! Labels on the chart: each finds a free place near what it names, and wears a halo so that no line crosses it.

use std::sync::Arc;

use eframe::egui::{Align2, Color32, FontId, Galley, Pos2, Rect, Role, Sense, Ui, Vec2, WidgetInfo, vec2};

/// Distance between a label and what it names.
pub const GAP: f32 = 7.0;
/// Free space kept about a label.
const MARGIN: f32 = 3.0;
/// Width of the halo.
const HALO: f32 = 1.6;

/// A label that wants a place.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// What it says.
    pub text: String,
    /// What it is called for screen readers.
    pub name: String,
    /// Its font.
    pub font: FontId,
    /// Its colour.
    pub ink: Color32,
    /// Places in the order of liking: a point and the corner of the label that is put there.
    pub places: Vec<(Pos2, Align2)>,
}

/// A label in its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Where.
    pub area: Rect,
    galley: Arc<Galley>,
    name: String,
    ink: Color32,
}

/// Finds places that are inside, free of other labels, and as free of lines as can be.
#[derive(Clone, Debug)]
pub struct Placer {
    inside: Rect,
    taken: Vec<Rect>,
    lines: Vec<Pos2>,
}

impl Placer {
    /// A placer within a frame; labels keep off `taken`, and rather off the points of `lines`.
    pub fn new(inside: Rect, taken: Vec<Rect>, lines: Vec<Pos2>) -> Self {
        Self { inside: inside.shrink(MARGIN), taken, lines }
    }

    /// Places a label; nothing where every place would lie on another label.
    pub fn place(&mut self, ui: &Ui, wanted: &Wanted) -> Option<Placed> {
        let galley = ui.painter().layout_no_wrap(wanted.text.clone(), wanted.font.clone(), wanted.ink);
        let size = galley.size();
        let candidates = wanted.places.iter().enumerate().map(|(index, (at, anchor))| {
            let area = self.pushed_inside(anchor.anchor_size(*at, size));
            let moved = area.center().distance(anchor.anchor_size(*at, size).center());
            (area, index as f32 * 0.6 + moved * 0.2 + self.cost(area))
        });
        let (area, cost) = candidates.min_by(|one, other| one.1.total_cmp(&other.1))?;
        if cost >= OVERLAP {
            return None;
        }
        self.taken.push(area);
        Some(Placed { area, galley, name: wanted.name.clone(), ink: wanted.ink })
    }

    fn pushed_inside(&self, area: Rect) -> Rect {
        let low = (self.inside.min - area.min).max(Vec2::ZERO);
        let high = (self.inside.max - area.max).min(Vec2::ZERO);
        area.translate(low + high)
    }

    fn cost(&self, area: Rect) -> f32 {
        let wide = area.expand(MARGIN);
        let overlaps = self.taken.iter().filter(|taken| taken.intersects(wide)).count() as f32;
        let crossed = self.lines.iter().filter(|point| wide.contains(**point)).count() as f32;
        let outside = if self.inside.contains_rect(area) { 0.0 } else { OVERLAP };
        overlaps * OVERLAP + crossed + outside
    }
}

/// Cost of lying on another label, past anything else.
const OVERLAP: f32 = 10_000.0;

/// Paints a label with its halo and names it for screen readers.
pub fn paint(ui: &Ui, placed: &Placed, halo: Color32) {
    let painter = ui.painter();
    let at = placed.area.min;
    for turn in 0..12_u8 {
        let offset = Vec2::angled(f32::from(turn) * std::f32::consts::TAU / 12.0) * HALO;
        painter.galley_with_override_text_color(at + offset, placed.galley.clone(), halo);
    }
    painter.galley_with_override_text_color(at, placed.galley.clone(), placed.ink);
    let response = ui.interact(placed.area, ui.scope_id().with(("chart label", &placed.name)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &placed.name));
}

/// Places beside a curve's end: by the end itself, then farther up along the curve on both sides, then over its other end.
///
/// `points` run from the low end of static to the high one; only those in `inside` count.
pub fn beside_curve(points: &[Pos2], inside: Rect) -> Vec<(Pos2, Align2)> {
    let seen: Vec<Pos2> = points.iter().copied().filter(|point| inside.contains(*point)).collect();
    let (Some(low), Some(high)) = (seen.first(), seen.last()) else {
        return Vec::new();
    };
    let mut places = Vec::with_capacity(20);
    for level in [14.0, 32.0, 50.0, 68.0, 86.0, 104.0] {
        let at = seen.iter().find(|point| low.y - point.y >= level).unwrap_or(high);
        places.push((*at + vec2(GAP, 0.0), Align2::LEFT_CENTER));
        places.push((*at - vec2(GAP, 0.0), Align2::RIGHT_CENTER));
    }
    places.push((*high - vec2(0.0, GAP), Align2::CENTER_BOTTOM));
    places.push((*high + vec2(GAP, 0.0), Align2::LEFT_CENTER));
    places.push((*high - vec2(GAP, 0.0), Align2::RIGHT_CENTER));
    places
}

/// Places around a mark of a radius, the upper left first.
pub fn around(at: Pos2, radius: f32) -> Vec<(Pos2, Align2)> {
    let (near, far) = (radius + GAP * 0.6, radius * 0.5);
    vec![
        (at + vec2(-near, -far), Align2::RIGHT_BOTTOM),
        (at + vec2(near, -far), Align2::LEFT_BOTTOM),
        (at + vec2(near, 0.0), Align2::LEFT_CENTER),
        (at + vec2(-near, 0.0), Align2::RIGHT_CENTER),
        (at + vec2(near, far), Align2::LEFT_TOP),
        (at + vec2(-near, far), Align2::RIGHT_TOP),
        (at + vec2(0.0, -near), Align2::CENTER_BOTTOM),
        (at + vec2(0.0, near), Align2::CENTER_TOP),
        (at + vec2(-4.0 * near, -far), Align2::RIGHT_BOTTOM),
        (at + vec2(4.0 * near, -far), Align2::LEFT_BOTTOM),
    ]
}

/// Places along the upper stretch of a curve, its visible end first.
pub fn along_end(points: &[Pos2], inside: Rect) -> Vec<(Pos2, Align2)> {
    let seen = points.iter().rev().filter(|point| inside.contains(**point));
    seen.step_by(2)
        .take(14)
        .flat_map(|at| {
            [
                (*at + vec2(-GAP, -2.0), Align2::RIGHT_BOTTOM),
                (*at + vec2(GAP, 2.0), Align2::LEFT_TOP),
            ]
        })
        .collect()
}
