//! The external path as parts with a law each: what a change can take hold of.
//!
//! A segment lies between two neighbouring ports, or between a port and the rooms; a reading gives its drop, never one element's.
//! A segment of one element is that element's.
//! A segment of several stays one lump with a square law until a person states a share, lays ways side by side in it, or a change takes hold of one of them; then it is split by shares (`shared`).
//! Where reading sets tell parts apart, which they do by the exponents of all that they pass, every lump goes by those of its elements in place of the square.

pub mod along;
pub mod flows;
pub mod from_readings;
pub mod guesses;
pub mod segments;
pub mod shares;
pub mod unused_readings;

use crate::model::facts::air_path::{Element, ElementId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::system_curve::{SystemCurve, SystemLoad};
use crate::model::path::air::{self, DataAir};
use crate::model::path::read::ReadDifference;
use crate::units::{Airflow, Pressure};

pub use from_readings::parts;
pub use guesses::Moved;
pub use segments::{Segment, segments};

/// Which air passes a part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Route {
    /// All that the blower moves.
    #[default]
    Blower,
    /// What goes to the rooms and comes from them, past the ends of a bypass.
    Rooms,
    /// What takes the bypass.
    Bypass,
    /// All that the blower moves, through a part that the table contains: it counts for the table entry and not for the static.
    Inside,
}

/// Part of the external path.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The element, or the several of an unsplit segment, in flow order.
    pub elements: Vec<ElementId>,
    /// True before the blower.
    pub before_blower: bool,
    /// Which air passes it.
    pub route: Route,
    /// Its own law at the job's density; a drop that a port beyond its plane counted too much is negative.
    pub own: SystemCurve,
    /// Ways side by side that it consists of, each a series of parts; none for most.
    pub ways: Vec<Vec<Self>>,
    /// Airflow that heats the air behind the blower to twice its absolute temperature, where the part carries warm air (see [`SystemCurve::add_warmed`]).
    pub warmth: Option<Airflow>,
    /// Airflow through it during the readings.
    pub flow: Airflow,
    /// True for a hole: its air never passes the rooms.
    pub leaks: bool,
    /// Exponent of its own, where its law is its share of the square law of a stretch that nobody has split.
    pub apart: Option<f64>,
    /// How it is known.
    pub standing: PathStanding,
}

impl Part {
    /// True when it is one element, which a change can take hold of.
    pub fn is(&self, id: ElementId) -> bool {
        self.elements == [id]
    }

    /// True for a part of the external path that the air passes to the rooms and back.
    pub const fn is_external(&self) -> bool {
        matches!(self.route, Route::Blower | Route::Rooms)
    }

    /// True when it is, or has within its ways, one of these elements.
    pub fn holds_any(&self, ids: &[ElementId]) -> bool {
        self.elements.iter().any(|id| ids.contains(id))
            || self.ways.iter().flatten().any(|within| within.holds_any(ids))
    }

    /// Every element of it, those in its ways included.
    pub fn all_elements(&self) -> Vec<ElementId> {
        let within = self.ways.iter().flatten().flat_map(Self::all_elements);
        self.elements.iter().copied().chain(within).collect()
    }

    /// Its law: its own, its ways at equal drop, and the warmth of the air.
    pub fn curve(&self) -> SystemCurve {
        let mut curve = SystemCurve::default();
        self.add_to(&mut curve);
        curve
    }

    /// Adds its law to a curve in series.
    pub fn add_to(&self, curve: &mut SystemCurve) {
        match self.warmth {
            None => self.add_cold_to(curve),
            Some(k) => {
                let mut cold = SystemCurve::default();
                self.add_cold_to(&mut cold);
                curve.add_warmed(k, cold);
            }
        }
    }

    fn add_cold_to(&self, curve: &mut SystemCurve) {
        curve.add(&self.own);
        if !self.ways.is_empty() {
            curve.add_side_by_side(self.ways.iter().map(|way| in_series(way)).collect());
        }
    }

    /// Lets it pass `1/share` times the air at the same drop, whatever its law: more or less of the same stands beside itself.
    pub fn pass_share(&mut self, share: f64) {
        match self.apart {
            Some(exponent) => self.own = self.own.scaled(share.powf(exponent)),
            None => self.each_law(&|law| law.of_share(share)),
        }
    }

    /// Puts another law in the place of its own and of every one within its ways.
    pub fn each_law(&mut self, of_law: &impl Fn(&SystemCurve) -> SystemCurve) {
        self.own = of_law(&self.own);
        self.ways.iter_mut().flatten().for_each(|within| within.each_law(of_law));
    }

    /// Factor on the drops within it for the warm air that it carries, at an airflow through it; 1 where none flows.
    pub fn warm_factor(&self, airflow: Airflow) -> f64 {
        air::warm_factor(self.warmth.filter(|_| airflow > Airflow::ZERO), airflow)
    }

    /// Drop at an airflow through it.
    pub fn drop_at(&self, airflow: Airflow) -> Pressure {
        if self.ways.is_empty() && self.warmth.is_none() {
            self.own.drop_at(airflow)
        } else {
            self.curve().drop_at(airflow)
        }
    }
}

/// Law of parts one after the other, whatever their route.
fn in_series(parts: &[Part]) -> SystemCurve {
    let mut curve = SystemCurve::default();
    for part in parts {
        part.add_to(&mut curve);
    }
    curve
}

/// Law of the whole path against the blower's airflow: what the blower's own air passes, then rooms and bypass at equal drop.
pub fn curve_of(parts: &[Part]) -> SystemCurve {
    let has_bypass = parts.iter().any(|part| part.route == Route::Bypass);
    let mut curve = SystemCurve::default();
    let mut rooms = SystemCurve::default();
    let mut bypass = SystemCurve::default();
    for part in parts {
        match part.route {
            Route::Rooms if has_bypass => part.add_to(&mut rooms),
            Route::Blower | Route::Rooms => part.add_to(&mut curve),
            Route::Bypass => part.add_to(&mut bypass),
            Route::Inside => {}
        }
    }
    if has_bypass {
        curve.add_side_by_side(vec![rooms, bypass]);
    }
    curve
}

/// Law of the parts that the table contains, which the table entry takes in.
pub fn inside_of(parts: &[Part]) -> SystemCurve {
    let mut curve = SystemCurve::default();
    for part in parts.iter().filter(|part| part.route == Route::Inside) {
        part.add_to(&mut curve);
    }
    curve
}

/// What a tap has to work against: the external path, and inside parts with what else the table has otherwise.
pub fn load_of(parts: &[Part], corrections: &SystemCurve, entry_ratio: f64) -> SystemLoad {
    let mut inside = corrections.clone();
    inside.add(&inside_of(parts));
    SystemLoad { external: curve_of(parts), corrections: inside, entry_ratio }
}

/// The part of an element, in the chain or in a way.
pub fn part_of(parts: &[Part], id: ElementId) -> Option<&Part> {
    parts.iter().find_map(
        |part| {
            if part.is(id) { Some(part) } else { part.ways.iter().find_map(|way| part_of(way, id)) }
        },
    )
}

/// The part of an element, to be changed.
pub fn part_mut(parts: &mut [Part], id: ElementId) -> Option<&mut Part> {
    for part in parts {
        if part.is(id) {
            return Some(part);
        }
        if let Some(found) = part.ways.iter_mut().find_map(|way| part_mut(way, id)) {
            return Some(found);
        }
    }
    None
}

/// What one element takes, by reading sets with it and without.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Separated {
    /// The element.
    pub element: ElementId,
    /// Its drop at the airflow of the readings, in air that nothing has warmed.
    pub drop: Pressure,
    /// Standard uncertainty of that.
    pub doubt: Pressure,
    /// The exponent of its law, where the sets tell it as well.
    pub exponent: Option<ToldExponent>,
}

/// An exponent of a drop by its airflow that reading sets tell, together with what is usual.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToldExponent {
    /// The exponent.
    pub value: f64,
    /// Standard uncertainty of that, above zero.
    pub doubt: f64,
    /// Covariance of that with the drop that is told.
    pub with_drop: Pressure,
}

/// The point that the readings led to, and how the path through it is to be laid out.
#[derive(Clone, Copy, Debug)]
pub struct ReadPoint<'a> {
    /// What the manometer gave.
    pub read: &'a ReadDifference,
    /// The airflow that it led to.
    pub airflow: Airflow,
    /// The total external static that it led to.
    pub tesp: Pressure,
    /// The air at the blower over that of drops by data.
    pub air: DataAir,
    /// How warm the air behind the blower was, see [`air::warmth`].
    pub warmth: Option<Airflow>,
    /// Elements that a change takes hold of.
    pub split: &'a [ElementId],
    /// Elements that other reading sets tell apart.
    pub separated: &'a [Separated],
    /// Nothing but for working out the uncertainty.
    pub moved: &'a Moved,
}

impl ReadPoint<'_> {
    /// Factor on a drop for the warm air behind the blower, as it was read.
    pub(crate) fn warm(&self, before_blower: bool) -> f64 {
        if before_blower { 1.0 } else { air::warm_factor(self.warmth, self.airflow) }
    }

    /// What was read across an element.
    fn read_across(&self, job: &Job, id: ElementId) -> Option<Pressure> {
        Some((job.set().across(id)? + self.moved.of_known(id)).max(Pressure::ZERO))
    }

    /// What an element takes by reading sets with it and without, in air that nothing has warmed.
    pub(super) fn told_apart(&self, id: ElementId) -> Option<Pressure> {
        Some((self.separated(id)?.drop + self.moved.of_known(id)).max(Pressure::ZERO))
    }

    /// What reading sets tell of an element.
    pub(super) fn separated(&self, id: ElementId) -> Option<&Separated> {
        self.separated.iter().find(|separated| separated.element == id)
    }

    /// What an element is known to drop at the airflow through it, apart from any segment: read straight across it, or told by reading sets with it and without, or by its data, or as the table prints it.
    pub(super) fn known_drop(
        &self,
        element: &Element,
        (job, table): (&Job, &BlowerTable),
        flow: Airflow,
        before_blower: bool,
    ) -> Option<Pressure> {
        let factor = self.warm(before_blower) * self.moved.data_factor();
        let by_data = || Some(air::by_data(element, table, self.air)?.at_airflow(flow) * factor);
        let told_apart = || Some(self.told_apart(element.id)? * self.warm(before_blower));
        self.read_across(job, element.id).or_else(told_apart).or_else(by_data)
    }
}
