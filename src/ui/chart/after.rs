//! The path with its changes on the chart: what is projected, in the colour of the hand.

use eframe::egui::{self, Align2, Painter, Pos2, Rect, Shape, Stroke, vec2};
use egui_plot::{PlotPoint, PlotTransform};

use crate::model::answer::Answer;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::changes;
use crate::ui::chart::labels::{self, Look, Wanted};
use crate::ui::chart::scene::{self, Cross, Scene};
use crate::ui::chart::{hover, paint};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::units::{UnitSystem, show};

/// Radius of the point with changes.
pub const DOT: f32 = 6.0;
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
    /// What there is to project: a change in the hand first, then the job's own.
    pub fn of(screen: &Screen<'a>) -> Option<Self> {
        let both = |answer: &'a Answer| answer.point().zip(answer.with_changes());
        if let Some((running, after)) = screen.in_hand.and_then(both) {
            return Some(Self { running, after, put: Put::InHand });
        }
        let (running, after) = changes::with_changes(screen.job, screen.answer)?;
        Some(Self { running, after, put: Put::On })
    }
}

/// A crossing of the changed path with a tap.
#[derive(Clone, Copy, Debug)]
struct Mark {
    cross: Cross,
    at: Pos2,
}

/// All of it on the screen.
pub struct Marks<'a> {
    projected: Projected<'a>,
    units: UnitSystem,
    /// The changed system.
    scene: Scene<'a>,
    places: Vec<PlotPoint>,
    /// The changed path.
    pub path: Vec<Pos2>,
    /// Its taps, where the changes move their curves.
    moved: Vec<Vec<Pos2>>,
    met: Vec<Mark>,
}

impl<'a> Marks<'a> {
    /// Brings it to the screen.
    pub fn of(screen: &Screen<'a>, found: &Scene<'_>, transform: &PlotTransform, projected: Projected<'a>) -> Self {
        let system = &projected.after.system;
        let scene = Scene::of_system(screen.units, screen.job, system);
        let places = scene::path_of(&scene.plane, transform, system);
        // The curves themselves move with the blower, with inside parts and with the air it breathes.
        let before = &projected.running.system.load;
        let is_moved = screen.answer.blower().shapes != system.blower.shapes
            || before.corrections != system.load.corrections
            || (before.entry_ratio - system.load.entry_ratio).abs() > 0.0;
        let is_drawn_here = is_moved && found.then.is_none();
        let met =
            scene.crosses.iter().map(|cross| Mark { cross: *cross, at: transform.position_from_point(&cross.place) });
        Self {
            met: met.filter(|mark| transform.frame().contains(mark.at)).collect(),
            path: places.iter().map(|place| transform.position_from_point(place)).collect(),
            units: screen.units,
            places,
            moved: if is_drawn_here { scene.points(transform) } else { Vec::new() },
            scene,
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
        self.met.iter().find(|mark| self.is_own(mark.cross.tap))
    }

    /// The band, the changed path and, where the blower itself is changed, its curve.
    pub fn lines(&self, painter: &Painter, transform: &PlotTransform, palette: &Palette) {
        let stroke = Stroke::new(theme::CURVE_IN_USE, palette.change);
        let thin = Stroke::new(theme::CURVE + 0.4, palette.change);
        if self.projected.put == Put::InHand {
            painter.extend(Shape::dashed_line(&self.path, stroke, 9.0, 6.0));
            let own = self.scene.taps.iter().zip(&self.moved).filter(|(tap, _)| tap.in_use);
            own.for_each(|(_, points)| painter.extend(Shape::dashed_line(points, thin, 9.0, 6.0)));
            return;
        }
        let share = scene::share_of_spread(&self.projected.after.system);
        paint::band(painter, transform, &self.places, share, palette.change_band());
        painter.add(Shape::line(self.path.clone(), stroke));
        let quiet = Stroke::new(theme::CURVE, theme::standing_back(palette.change));
        for (tap, points) in self.scene.taps.iter().zip(&self.moved) {
            paint::tap(painter, tap, points, if tap.in_use { thin } else { quiet });
        }
    }

    /// Crossings with every tap, the trail from the point as found, and the point with changes.
    pub fn points(&self, painter: &Painter, from: Option<Pos2>, palette: &Palette) {
        let edge = Stroke::new(1.8, palette.change);
        for mark in self.met.iter().filter(|mark| !self.is_own(mark.cross.tap)) {
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
        let radii = [DOT, DOT + 16.0, DOT + 34.0, DOT + 60.0, DOT + 95.0, DOT + 140.0];
        Some(Wanted {
            text: first,
            name,
            font: theme::strong(theme::BODY),
            ink: palette.change,
            look: Look::Card { second, ink: palette.quiet },
            over: 0.0,
            of: None,
            places: labels::farther_and_farther(point.at, &radii),
        })
    }

    fn card_lines(&self, point: &Mark) -> (String, String) {
        let Projected { after, .. } = self.projected;
        let most = changes::at_most(after.system.unknown_part);
        let mut first = format!("{most}{}", show::airflow(point.cross.crossing.airflow, self.units));
        if let Some((gain, spread)) = changes::gain(after) {
            let spread = show::spread_bare(spread, self.units);
            first = format!("{first}, {} ± {spread}", changes::gain_bare(gain, self.units));
        }
        let mut second = vec![show::pressure(point.cross.crossing.tesp, self.units)];
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

    /// The name of the changed path, near where it runs.
    pub fn path_label(&self, palette: &Palette, frame: Rect) -> Vec<Vec<Wanted>> {
        let mut places = labels::along(&self.path, self.point().map(|point| point.at), frame);
        // The path as found lies at its left: the label then rather stands on the free, right side.
        for place in places.iter_mut().filter(|place| place.anchor == Align2::RIGHT_BOTTOM) {
            place.dislike += 1.0;
        }
        let name = Wanted {
            text: self.word().to_owned(),
            name: self.word().to_owned(),
            font: theme::strong(theme::CHART),
            ink: palette.change,
            look: Look::Halo,
            over: 0.0,
            of: None,
            places,
        };
        labels::or_by_a_thread(name, self.point().map(|point| point.at))
    }

    /// What the pointer reads at a crossing of the changed path.
    pub fn read_out(&self, pointer: Pos2) -> Option<hover::ReadOut> {
        let near = self.met.iter().filter(|mark| mark.at.distance(pointer) <= hover::CROSS_REACH);
        let mark = near.min_by(|one, other| one.at.distance(pointer).total_cmp(&other.at.distance(pointer)))?;
        hover::crossing(&self.scene, &mark.cross, mark.at, self.word())
    }
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
