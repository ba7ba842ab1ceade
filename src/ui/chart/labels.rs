//! Labels on the chart: each finds a free place near what it names, and wears a halo so that no line crosses it.

use std::sync::Arc;

use eframe::egui::text::{LayoutJob, TextFormat};
use eframe::egui::{
    Align2, Color32, CornerRadius, FontId, Galley, Pos2, Rect, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
    vec2,
};

use crate::ui::theme;

/// Distance between a label and what it names.
pub const GAP: f32 = 7.0;
/// Free space kept about a label.
const MARGIN: f32 = 3.0;
/// Distance of a label from its mark past which a thread leads to it.
const FAR: f32 = 22.0;
/// Distance of the places that a thread takes.
const THREAD_STEP: f32 = 5.0;
/// Width of the halo.
const HALO: f32 = 1.6;
/// Copies of the text about it that the halo is made of.
const HALO_COPIES: u8 = 8;
/// Room between a card's edge and its text.
const CARD_PAD: Vec2 = vec2(7.0, 4.0);

/// The same of a disk, and the roundness that makes one of it.
const DISK_PAD: Vec2 = vec2(5.0, 0.5);
const DISK_CORNER: u8 = 8;

/// A place for a label: a point, the corner of the label that is put there, and how little the place is liked.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// The point.
    pub at: Pos2,
    /// The label's corner.
    pub anchor: Align2,
    /// Dislike, in crossed points of line.
    pub dislike: f32,
}

/// How a label is set off from what lies under it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// By a halo.
    #[default]
    Halo,
    /// By a card, with a second, quieter line.
    Card {
        /// The second line.
        second: String,
        /// Its colour.
        ink: Color32,
    },
    /// By a disk, as wide as it has to be.
    Disk,
}

impl Look {
    /// Room between its edge and its text.
    const fn pad(&self) -> Vec2 {
        match self {
            Self::Halo => Vec2::ZERO,
            Self::Card { .. } => CARD_PAD,
            Self::Disk => DISK_PAD,
        }
    }

    /// Roundness of its corners; nothing where it has no edge.
    const fn corners(&self) -> Option<CornerRadius> {
        match self {
            Self::Halo => None,
            Self::Card { .. } => Some(CornerRadius::same(6)),
            Self::Disk => Some(CornerRadius::same(DISK_CORNER)),
        }
    }
}

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
    /// How it is set off from what lies under it.
    pub look: Look,
    /// How far over the frame it may stand, where nothing is free in it.
    pub over: f32,
    /// The mark that it names: a thread leads to it from a label far off.
    pub of: Option<Pos2>,
    /// Where it may stand.
    pub places: Vec<Place>,
}

/// A label in its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Where.
    pub area: Rect,
    galley: Arc<Galley>,
    name: String,
    ink: Color32,
    look: Look,
    of: Option<Pos2>,
}

/// A line that labels rather keep off: its points, close together.
#[derive(Clone, Debug)]
pub struct Line {
    points: Vec<Pos2>,
    /// The area of every [`RUN`] points, so that most of a line is passed over at a glance.
    areas: Vec<Rect>,
}

/// Points of a line that have one area.
const RUN: usize = 12;

impl Line {
    /// A line with points at most `APART` from each other, of which only those in the frame are kept.
    pub fn of(corners: &[Pos2], frame: Rect) -> Self {
        let between = corners.windows(2).flat_map(|pair| {
            let steps = (pair[0].distance(pair[1]) / APART).ceil().clamp(1.0, 200.0) as u16;
            (0..steps).map(move |step| pair[0].lerp(pair[1], f32::from(step) / f32::from(steps)))
        });
        let points: Vec<Pos2> = between.filter(|point| frame.contains(*point)).collect();
        Self { areas: points.chunks(RUN).map(Rect::from_points).collect(), points }
    }

    /// What it costs to lie on it.
    fn cost(&self, area: Rect) -> f32 {
        let runs = self.areas.iter().zip(self.points.chunks(RUN)).filter(|(whole, _)| whole.intersects(area));
        let crossed = runs.flat_map(|(_, points)| points).filter(|point| area.contains(**point)).count() as f32;
        crossed * ON_A_LINE
    }
}

/// Finds places that are inside, free of other labels, and as free of lines as can be.
#[derive(Clone, Debug)]
pub struct Placer<'a> {
    inside: Rect,
    taken: Vec<Rect>,
    lines: &'a [Line],
}

impl<'a> Placer<'a> {
    /// A placer within a frame; labels keep off `taken`, and rather off lines.
    pub fn new(inside: Rect, taken: Vec<Rect>, lines: &'a [Line]) -> Self {
        Self { inside: inside.shrink(MARGIN), taken, lines }
    }

    /// Places labels one after the other; those that would lie on another one are left out.
    pub fn place_all(&mut self, ui: &Ui, wanted: &[Wanted]) -> Vec<Placed> {
        wanted.iter().filter_map(|label| self.place(ui, label).0).collect()
    }

    /// Places a family of labels in whichever way disturbs least, so that all of them stand alike.
    pub fn place_family(&mut self, ui: &Ui, ways: impl Iterator<Item = Vec<Wanted>>) -> Vec<Placed> {
        let mut best: Option<(f32, Self, Vec<Placed>)> = None;
        for family in ways {
            let most = best.as_ref().map_or(f32::INFINITY, |(cost, ..)| *cost);
            let mut placer = self.clone();
            if let Some((cost, placed)) = placer.place_within(ui, &family, most) {
                best = Some((cost, placer, placed));
            }
        }
        let Some((_, placer, placed)) = best else {
            return Vec::new();
        };
        self.taken = placer.taken;
        placed
    }

    /// Places a family, with what that costs; nothing once it costs as much as another way did.
    fn place_within(&mut self, ui: &Ui, family: &[Wanted], most: f32) -> Option<(f32, Vec<Placed>)> {
        let (mut cost, mut placed) = (0.0, Vec::new());
        for label in family {
            let (place, added) = self.place(ui, label);
            cost += added;
            placed.extend(place);
            if cost >= most {
                return None;
            }
        }
        Some((cost, placed))
    }

    fn place(&mut self, ui: &Ui, wanted: &Wanted) -> (Option<Placed>, f32) {
        let galley = laid_out(ui, wanted);
        let size = galley.size() + 2.0 * wanted.look.pad();
        let mut best = (Rect::NOTHING, OVERLAP);
        for place in &wanted.places {
            let asked = place.anchor.anchor_size(place.at, size);
            let inside = self.inside.with_min_y(self.inside.top() - wanted.over);
            let area = pushed_inside(asked, inside);
            let least = place.dislike + area.center().distance(asked.center()) * 0.2;
            // A place that is disliked more than another costs is not looked at.
            if least < best.1 {
                let cost = least + self.cost(area, inside);
                best = if cost < best.1 { (area, cost) } else { best };
            }
        }
        let (area, cost) = best;
        if cost >= OVERLAP {
            return (None, OVERLAP);
        }
        self.taken.push(area);
        if let Some((from, to)) = thread(area, wanted.of) {
            // Labels keep off threads as well.
            let steps = (from.distance(to) / THREAD_STEP).ceil().clamp(1.0, 100.0) as u8;
            let along = (0..=steps).map(|step| from.lerp(to, f32::from(step) / f32::from(steps)));
            self.taken.extend(along.map(|at| Rect::from_center_size(at, vec2(2.0, 2.0))));
        }
        let (name, look) = (wanted.name.clone(), wanted.look.clone());
        (Some(Placed { area, galley, name, ink: wanted.ink, look, of: wanted.of }), cost)
    }

    fn cost(&self, area: Rect, inside: Rect) -> f32 {
        let wide = area.expand(MARGIN);
        let overlaps = self.taken.iter().filter(|taken| taken.intersects(wide)).count() as f32;
        let outside = if inside.contains_rect(area) { 0.0 } else { OVERLAP };
        if overlaps > 0.0 || outside > 0.0 {
            return overlaps * OVERLAP + outside;
        }
        self.lines.iter().map(|line| line.cost(wide)).sum()
    }
}

/// Both ends of the thread from a label to the mark that it names, where the mark is far.
fn thread(label: Rect, of: Option<Pos2>) -> Option<(Pos2, Pos2)> {
    let of = of.filter(|of| label.distance_to_pos(*of) > FAR)?;
    let from = label.clamp(of);
    Some((from, of + (from - of).normalized() * FAR * 0.4))
}

fn pushed_inside(area: Rect, inside: Rect) -> Rect {
    let low = (inside.min - area.min).max(Vec2::ZERO);
    let high = (inside.max - area.max).min(Vec2::ZERO);
    area.translate(low + high)
}

/// Cost of lying on another label, past anything else.
const OVERLAP: f32 = 1e6;
/// Dislike of a name that stands otherwise than its family, less than that of a line under it.
const APART_FROM_ITS_KIND: f32 = 30.0;
/// Cost of a point of a line under a label: more than any place within reach is disliked.
const ON_A_LINE: f32 = 1000.0;
/// Dislike of a point's distance from a mark.
const AWAY: f32 = 0.2;
/// Distance of a line's points.
const APART: f32 = 7.0;

/// Paints a label with its halo and names it for screen readers.
pub fn paint(ui: &Ui, placed: &Placed, halo: Color32) {
    let painter = ui.painter();
    let response = ui.interact(placed.area, ui.scope_id().with(("chart label", &placed.name)), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &placed.name));
    if let Some((from, to)) = thread(placed.area, placed.of) {
        painter.line_segment([from, to], Stroke::new(1.0, placed.ink));
    }
    if let Some(corners) = placed.look.corners() {
        painter.rect(placed.area, corners, halo, Stroke::new(1.0, placed.ink), StrokeKind::Inside);
        painter.galley(placed.area.min + placed.look.pad(), placed.galley.clone(), placed.ink);
        return;
    }
    let at = placed.area.min;
    for turn in 0..HALO_COPIES {
        let offset = Vec2::angled(f32::from(turn) * std::f32::consts::TAU / f32::from(HALO_COPIES)) * HALO;
        painter.galley_with_override_text_color(at + offset, placed.galley.clone(), halo);
    }
    painter.galley_with_override_text_color(at, placed.galley.clone(), placed.ink);
}

fn laid_out(ui: &Ui, wanted: &Wanted) -> Arc<Galley> {
    let mut job = LayoutJob::default();
    let format = |font: FontId, ink| TextFormat::simple(font, ink);
    job.append(&wanted.text, 0.0, format(wanted.font.clone(), wanted.ink));
    if let Look::Card { second, ink } = &wanted.look {
        job.append(&format!("\n{second}"), 0.0, format(theme::regular(theme::CHART), *ink));
    }
    ui.painter().layout_job(job)
}

/// How a family of curves is labelled: every curve alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Right of the low end.
    RightOfLowEnd,
    /// Left of the low end.
    LeftOfLowEnd,
    /// Over the high end.
    OverHighEnd,
    /// Right of the high end.
    RightOfHighEnd,
}

impl Way {
    /// Every way, the one liked best first.
    pub const ALL: [Self; 4] = [Self::RightOfLowEnd, Self::OverHighEnd, Self::RightOfHighEnd, Self::LeftOfLowEnd];

    /// Places at a curve's own end and, less liked, farther along it.
    ///
    /// `seen` are the curve's points within the frame, from the low end of static to the high one.
    pub fn places(self, seen: &[Pos2]) -> Vec<Place> {
        let (Some(low), Some(high)) = (seen.first().copied(), seen.last().copied()) else {
            return Vec::new();
        };
        let rank = Self::ALL.iter().position(|way| *way == self).unwrap_or_default() as f32;
        let others = Self::ALL.into_iter().filter(|way| *way != self);
        let others = others.flat_map(|way| way.own_places(low, high, seen, APART_FROM_ITS_KIND));
        self.own_places(low, high, seen, rank * 0.8).into_iter().chain(others).collect()
    }

    /// Places of this way, of which the first is disliked as much as said.
    fn own_places(self, low: Pos2, high: Pos2, seen: &[Pos2], dislike: f32) -> Vec<Place> {
        (0..9_u8)
            .map(|level| {
                let along = 14.0 + 19.0 * f32::from(level);
                let up = || seen.iter().find(|point| low.y - point.y >= along).copied().unwrap_or(high);
                let down = || seen.iter().rfind(|point| point.y - high.y >= along - 14.0).copied().unwrap_or(low);
                let (at, anchor) = match self {
                    Self::RightOfLowEnd => (up() + vec2(GAP, 0.0), Align2::LEFT_CENTER),
                    Self::LeftOfLowEnd => (up() - vec2(GAP, 0.0), Align2::RIGHT_CENTER),
                    Self::OverHighEnd => (high - vec2(0.0, along - 10.0), Align2::CENTER_BOTTOM),
                    Self::RightOfHighEnd => (down() + vec2(GAP, 0.0), Align2::LEFT_CENTER),
                };
                Place { at, anchor, dislike: dislike + 3.0 * f32::from(level) }
            })
            .collect()
    }
}

/// Places in the order of liking.
pub fn in_order(places: impl IntoIterator<Item = (Pos2, Align2)>) -> Vec<Place> {
    let numbered = places.into_iter().enumerate();
    numbered.map(|(index, (at, anchor))| Place { at, anchor, dislike: index as f32 * 0.6 }).collect()
}

/// Places around a mark of a radius, the left first.
pub fn around(at: Pos2, radius: f32) -> Vec<Place> {
    let (near, far) = (radius + GAP, radius * 0.5);
    in_order([
        (at + vec2(-near, -far), Align2::RIGHT_BOTTOM),
        (at + vec2(near, -far), Align2::LEFT_BOTTOM),
        (at + vec2(near, 0.0), Align2::LEFT_CENTER),
        (at + vec2(-near, 0.0), Align2::RIGHT_CENTER),
        (at + vec2(near, far), Align2::LEFT_TOP),
        (at + vec2(-near, far), Align2::RIGHT_TOP),
        (at + vec2(0.0, -near), Align2::CENTER_BOTTOM),
        (at + vec2(0.0, near), Align2::CENTER_TOP),
    ])
}

/// Places around a mark, farther and farther from it.
pub fn farther_and_farther(at: Pos2, radii: &[f32]) -> Vec<Place> {
    let rings = radii.iter().enumerate();
    let places = rings.flat_map(|(ring, radius)| {
        around(at, *radius).into_iter().map(move |place| Place { dislike: place.dislike + ring as f32 * 3.0, ..place })
    });
    places.collect()
}

/// Places along a curve, the nearest to a mark on it first; from its visible end where there is no mark.
pub fn along(curve: &[Pos2], mark: Option<Pos2>, inside: Rect) -> Vec<Place> {
    let seen = Line::of(curve, inside).points;
    let Some(from) = mark.or_else(|| seen.last().copied()) else {
        return Vec::new();
    };
    let beside = |at: Pos2| {
        [
            (at + vec2(-GAP, -2.0), Align2::RIGHT_BOTTOM),
            (at + vec2(GAP, 2.0), Align2::LEFT_TOP),
            (at + vec2(-3.0 * GAP, -2.0), Align2::RIGHT_BOTTOM),
            (at + vec2(3.0 * GAP, 2.0), Align2::LEFT_TOP),
            (at + vec2(0.0, -2.0 * GAP), Align2::CENTER_BOTTOM),
            (at + vec2(0.0, 2.0 * GAP), Align2::CENTER_TOP),
        ]
    };
    let places = seen.iter().flat_map(|at| {
        let away = at.distance(from) * AWAY;
        in_order(beside(*at)).into_iter().map(move |place| Place { dislike: place.dislike + away, ..place })
    });
    places.collect()
}

/// A label of a curve as it is, or where a line lies in all of its places off the curve, with a thread to the mark on it.
pub fn or_by_a_thread(label: Wanted, mark: Option<Pos2>) -> Vec<Vec<Wanted>> {
    let off_the_curve = mark.map(|mark| {
        let places = farther_and_farther(mark, &THREADS);
        let places = places.into_iter().map(|place| Place { dislike: place.dislike + APART_FROM_ITS_KIND, ..place });
        vec![Wanted { places: places.collect(), of: Some(mark), ..label.clone() }]
    });
    [vec![label]].into_iter().chain(off_the_curve).collect()
}

/// How far from its mark the name of a curve may stand by a thread.
const THREADS: [f32; 6] = [8.0, 24.0, 40.0, 60.0, 85.0, 115.0];
