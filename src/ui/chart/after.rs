//! The path with its changes on the chart: what is projected, in the colour of the hand.

use eframe::egui::{self, Align2, Painter, Pos2, Rect, Shape, Stroke, vec2};
use egui_plot::{PlotPoint, PlotTransform};

use crate::model::answer::Answer;
use crate::model::curves::{self, Part, Tap};
use crate::model::solution::operating_point::Crossing;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::changes;
use crate::ui::chart::labels::{self, Look, Wanted};
use crate::ui::chart::scene::{self, Plane, Scene};
use crate::ui::chart::{hover, paint};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::units::{UnitSystem, show};

/// Radius of the point with changes.
const DOT: f32 = 6.0;
/// Radius of another tap's crossing with the changed path.
const CROSS: f32 = 3.5;
/// Length of the arrow's head.
const HEAD: f32 = 9.0;
/// The arrow is left out where it would be shorter.
const SHORTEST: f32 = 10.0;

/// Whether the changes are on the path, or one of them is still in the hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Put {
    /// On the path.
    On,
    /// Over an element that can take it.
    InHand,
}

/// What is projected.
#[derive(Clone, Copy, Debug)]
pub struct Projected<'a> {
    /// The point that it starts from.
    pub running: &'a Running,
    /// The path with the changes.
    pub after: &'a Projection,
    /// Whether they are on it already.
    pub put: Put,
}

impl<'a> Projected<'a> {
    /// What there is to project: a change in the hand first, then the job's own as the dragged point has them.
    pub fn of(screen: &Screen<'a>, in_hand: Option<&'a Answer>, dragged: Option<&'a Answer>) -> Option<Self> {
        let both = |answer: &'a Answer| answer.point().zip(answer.with_changes());
        if let Some((running, after)) = in_hand.and_then(both) {
            return Some(Self { running, after, put: Put::InHand });
        }
        let (running, after) = changes::with_changes(screen.job, screen.answer)?;
        let (running, after) = dragged.and_then(both).unwrap_or((running, after));
        Some(Self { running, after, put: Put::On })
    }
}

/// A crossing of the changed path with a tap.
#[derive(Clone, Copy, Debug)]
struct Mark {
    tap: usize,
    crossing: Crossing,
    at: Pos2,
}

/// A tap's curve where the changes move it.
#[derive(Clone, Debug)]
struct Moved {
    tap: usize,
    points: Vec<Pos2>,
    parts: Vec<Part>,
}

/// All of it on the screen.
pub struct Marks<'a> {
    projected: Projected<'a>,
    units: UnitSystem,
    places: Vec<PlotPoint>,
    /// The changed path.
    pub path: Vec<Pos2>,
    moved: Vec<Moved>,
    met: Vec<Mark>,
}

impl<'a> Marks<'a> {
    /// Brings it to the screen.
    pub fn of(screen: &Screen<'_>, scene: &Scene<'_>, transform: &PlotTransform, projected: Projected<'a>) -> Self {
        let plane = &scene.plane;
        let edge = screen.units.airflow_of(transform.bounds().max()[0]);
        let after = projected.after;
        let share = share_of_spread(after);
        let places = scene::path(plane, &curves::path(&after.system.load, edge / (1.0 - share.min(0.5))));
        let at = |place: &PlotPoint| transform.position_from_point(place);
        // The curves themselves move with the blower, with inside parts and with the air it breathes.
        let before = &projected.running.system.load;
        let is_moved = screen.answer.blower().shapes != after.system.blower.shapes
            || before.corrections != after.system.load.corrections
            || (before.entry_ratio - after.system.load.entry_ratio).abs() > 0.0;
        let moved = |tap: usize| match curves::tap(&after.system.blower, tap)? {
            Tap::Curve(curve) => {
                let (samples, parts) = scene::samples(curve, &Plane::of_system(screen.units, &after.system));
                Some(Moved { tap, points: scene::on_screen(transform, &samples), parts })
            }
            Tap::Row(_) => None,
        };
        let all = (0..after.system.taps.len()).filter(|_| is_moved && scene.then.is_none());
        let reached = (0..after.system.taps.len()).filter_map(|tap| Some((tap, *after.system.crossing(tap)?)));
        let met = reached.map(|(tap, crossing)| {
            let place = plane.place(crossing.airflow, crossing.tesp);
            Mark { tap, crossing, at: at(&place) }
        });
        Self {
            met: met.filter(|mark| transform.frame().contains(mark.at)).collect(),
            path: places.iter().map(at).collect(),
            units: screen.units,
            places,
            moved: all.filter_map(moved).collect(),
            projected,
        }
    }

    /// The point that is projected from, with the path as it is split for the changes.
    pub const fn running(&self) -> &'a Running {
        self.projected.running
    }

    /// True while a change is still in the hand.
    pub fn is_in_hand(&self) -> bool {
        self.projected.put == Put::InHand
    }

    /// True for the tap that runs with the changes.
    fn is_own(&self, tap: usize) -> bool {
        self.projected.after.system.blower.in_use == Some(tap)
    }

    fn point(&self) -> Option<&Mark> {
        self.met.iter().find(|mark| self.is_own(mark.tap))
    }

    /// The band, the changed path and, where the blower itself is changed, its curve.
    pub fn lines(&self, painter: &Painter, transform: &PlotTransform, palette: &Palette) {
        let stroke = Stroke::new(theme::CURVE_IN_USE, palette.change);
        let thin = Stroke::new(theme::CURVE + 0.4, palette.change);
        if self.projected.put == Put::InHand {
            painter.extend(Shape::dashed_line(&self.path, stroke, 9.0, 6.0));
            let own = self.moved.iter().filter(|moved| self.is_own(moved.tap));
            own.for_each(|moved| painter.extend(Shape::dashed_line(&moved.points, thin, 9.0, 6.0)));
            return;
        }
        let share = share_of_spread(self.projected.after);
        paint::band(painter, transform, &self.places, share, palette.change.gamma_multiply(0.14));
        painter.add(Shape::line(self.path.clone(), stroke));
        for moved in &self.moved {
            let own = self.is_own(moved.tap);
            let stroke = if own { thin } else { Stroke::new(theme::CURVE, palette.change.gamma_multiply(0.55)) };
            paint::parted(painter, &moved.parts, &moved.points, stroke);
        }
    }

    /// Crossings with every tap, the trail from the point as found, and the point with changes.
    pub fn points(&self, painter: &Painter, from: Option<Pos2>, palette: &Palette) {
        let edge = Stroke::new(1.8, palette.change);
        for mark in self.met.iter().filter(|mark| !self.is_own(mark.tap)) {
            painter.circle(mark.at, CROSS, palette.card, edge);
        }
        let Some(point) = self.point() else {
            return;
        };
        if let Some(from) = from {
            trail(painter, from, point.at, edge);
        }
        match self.projected.put {
            Put::On => painter.circle(point.at, DOT, palette.change, Stroke::new(1.5, palette.card)),
            Put::InHand => painter.circle(point.at, DOT, palette.card, Stroke::new(2.6, palette.change)),
        };
    }

    /// Areas that labels keep off.
    pub fn taken(&self) -> Vec<Rect> {
        let square = |mark: &Mark| Rect::from_center_size(mark.at, vec2(2.0 * DOT, 2.0 * DOT));
        self.met.iter().map(square).collect()
    }

    /// The card beside the point.
    pub fn card(&self, palette: &Palette) -> Option<Wanted> {
        let point = self.point()?;
        let (first, second) = self.card_lines(point);
        let name = format!("{}: {first}, {second}", self.word());
        let places = [DOT, DOT + 16.0, DOT + 34.0, DOT + 60.0, DOT + 95.0, DOT + 140.0].into_iter().enumerate();
        let places = places.flat_map(|(ring, radius)| {
            labels::around(point.at, radius).into_iter().map(move |mut place| {
                place.dislike += ring as f32 * 3.0;
                place
            })
        });
        Some(Wanted {
            text: first,
            name,
            font: theme::strong(theme::BODY),
            ink: palette.change,
            own: None,
            look: Look::Card { second, ink: palette.quiet },
            places: places.collect(),
        })
    }

    fn card_lines(&self, point: &Mark) -> (String, String) {
        let Projected { after, .. } = self.projected;
        let most = changes::at_most(after.system.unknown_part);
        let mut first = format!("{most}{}", show::airflow(point.crossing.airflow, self.units));
        if let Some((gain, spread)) = changes::gain(after) {
            let spread = show::number(self.units.airflow_number(spread), 0);
            first = format!("{first}, {} ± {spread}", changes::gain_bare(gain, self.units));
        }
        let mut second = vec![show::pressure(point.crossing.tesp, self.units)];
        if let Some(runs) = after.system.runs() {
            second.extend(runs.power.map(|power| format!("{} W", show::power_bare(power))));
        }
        (first, second.join(" · "))
    }

    const fn word(&self) -> &'static str {
        match self.projected.put {
            Put::On => "with changes",
            Put::InHand => "as it would be",
        }
    }

    /// The name of the changed path at its visible end.
    pub fn path_label(&self, palette: &Palette, frame: Rect) -> Wanted {
        let mut places = labels::along_end(&self.path, frame);
        // The paths come close near standstill: the label then rather stands on the free, right side.
        for place in places.iter_mut().filter(|place| place.anchor == Align2::RIGHT_BOTTOM) {
            place.dislike += 1.0;
        }
        Wanted {
            text: self.word().to_owned(),
            name: self.word().to_owned(),
            font: theme::strong(theme::CHART),
            ink: palette.change,
            own: None,
            look: Look::Halo,
            places,
        }
    }

    /// What the pointer reads at a crossing of the changed path.
    pub fn read_out(&self, scene: &Scene<'_>, pointer: Pos2) -> Option<hover::ReadOut> {
        let near = self.met.iter().filter(|mark| mark.at.distance(pointer) <= hover::CROSS_REACH);
        let mark = near.min_by(|one, other| one.at.distance(pointer).total_cmp(&other.at.distance(pointer)))?;
        let tap = scene.counts().taps.iter().find(|tap| tap.tap == mark.tap)?;
        let after = self.projected.after;
        let mut said = vec![self.word().to_owned()];
        if let Some(spread) = after.system.spreads.taps.get(mark.tap).copied().flatten() {
            said.push(format!("± {}", show::airflow(spread.airflow, self.units)));
        }
        if let Some(Tap::Curve(curve)) = curves::tap(&after.system.blower, mark.tap) {
            said.extend(hover::electric(&curve.at(mark.crossing.entry)));
        }
        said.push(mark.crossing.standing.word().to_owned());
        let head = hover::head(&tap.name, mark.crossing.airflow, mark.crossing.tesp, self.units);
        Some(hover::ReadOut { at: mark.at, tap: mark.tap, head, detail: said.join(" · ") })
    }
}

/// ± of the airflow with changes over that airflow.
fn share_of_spread(after: &Projection) -> f64 {
    after.system.runs().map_or(0.0, |runs| runs.spread.airflow / runs.airflow())
}

/// An arrow from the edge of the ring to the edge of the dot.
fn trail(painter: &Painter, from: Pos2, to: Pos2, stroke: Stroke) {
    let along = to - from;
    let length = along.length() - paint::POINT - DOT - 4.0;
    if length < SHORTEST {
        return;
    }
    let way = along.normalized();
    let (start, tip) = (from + way * (paint::POINT + 2.0), to - way * (DOT + 2.0));
    painter.line_segment([start, tip], stroke);
    let aside = way.rot90() * (HEAD * 0.45);
    let foot = tip - way * HEAD;
    painter.add(egui::Shape::convex_polygon(vec![tip, foot + aside, foot - aside], stroke.color, Stroke::NONE));
}
