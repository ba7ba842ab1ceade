//! A machine on an air path, solved and judged: as it was found, and as changes would make it, are values of one type.

use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::blower::Call;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::standing::Standing;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::{SingleRow, TapShape};
use crate::model::path::parts::Part;
use crate::model::path::parts::along::Profile;
use crate::model::path::parts::flows::{self, Delivered};
use crate::model::path::parts::guesses::Guessed;
use crate::model::path::parts::shares::Undivided;
use crate::model::path::tesp::{Assumption, Bound, NotRead, StaticSum};
use crate::model::solution::anchor::Anchored;
use crate::model::solution::gain::{self, Start};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::uncertainty::Spreads;
use crate::model::solution::worth::{AfterOthers, RoomsSpread, Worth};
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::plate::PlateVerdict;
use crate::model::verdicts::taps::{self, StageRise, TapAnswer, TapPoint};
use crate::units::{Airflow, Power, Pressure};

/// A machine on an air path.
#[derive(Clone, Debug, PartialEq)]
pub struct System {
    /// Its blower.
    pub blower: Blower,
    /// What the external path is made of, each part with its law.
    pub parts: Vec<Part>,
    /// What any tap has to work against.
    pub load: SystemLoad,
    /// Every tap, in the table's order: point, verdicts and what it would need.
    pub taps: Vec<TapAnswer>,
    /// ± of static and of every tap.
    pub spreads: Spreads,
    /// The air where it counts; nothing where the tap that runs has no point.
    pub delivered: Option<Delivered>,
    /// What every element takes at that point.
    pub profile: Option<Profile>,
    /// The part that takes most of the external drop, with its share; nothing where there is only one, or no point.
    pub most: Option<(Vec<ElementId>, f64)>,
    /// What parts of unknown drop leave open.
    pub bound: Bound,
    /// A part of another machine whose drop nobody knows: static is then at least what is told, airflow at most.
    pub unknown_part: Option<ElementKind>,
    /// What had to be taken for granted of another machine.
    pub assumptions: Vec<Assumption>,
}

impl System {
    /// The tap that runs.
    pub fn running(&self) -> Option<&TapAnswer> {
        self.taps.get(self.blower.in_use?)
    }

    /// The rises of the heating stages that the tap that runs serves.
    pub fn rises_on_running(&self) -> impl Iterator<Item = &StageRise> {
        let runs =
            |rise: &&StageRise| self.runs_stage(rise.call).map(|tap| &tap.name) == self.running().map(|tap| &tap.name);
        self.runs().into_iter().flat_map(|point| &point.rises).filter(runs)
    }

    /// The tap that a heating stage runs: the one in use for the call that runs, else the one that the table maps to it.
    pub fn runs_stage(&self, call: Call) -> Option<&TapAnswer> {
        if call == self.blower.call { self.running() } else { self.taps.iter().find(|tap| tap.calls.contains(&call)) }
    }

    /// All that is said of the tap that runs, where it has a point.
    pub fn runs(&self) -> Option<&TapPoint> {
        self.running()?.reached()
    }

    /// The point of the tap that runs.
    pub fn point(&self) -> Option<&Crossing> {
        Some(&self.runs()?.crossing)
    }

    /// Against the rating plate.
    pub fn plate(&self) -> Option<PlateVerdict> {
        self.runs()?.plate
    }

    /// The heating stage of the call that runs: at its point, past its curve's end by the published bound; nothing where it does not heat, or nothing is sure of its air.
    pub fn heats(&self, job: &Job) -> Option<StageRise> {
        let call = self.blower.call;
        match self.running()?.point.as_ref()? {
            Ok(point) => point.rise_of(call).copied(),
            Err(NoCrossing::PastTheEnd { below, .. }) if !self.bound.more => {
                let table = self.blower.table(job)?;
                Some(taps::rise_below(job, table, table.heat_stage(call)?, *below, None))
            }
            Err(NoCrossing::PastTheEnd { .. } | NoCrossing::SingleRow(_) | NoCrossing::Unusable) => None,
        }
    }

    /// Why the tap that runs has no point.
    pub fn why_not(&self) -> Option<&NoCrossing> {
        self.running()?.point.as_ref()?.as_ref().err()
    }

    /// The published bound of the tap that runs, where that lies past its last row: its airflow is below it.
    pub fn published_bound(&self) -> Option<Airflow> {
        self.below(self.blower.in_use?)
    }

    /// A tap's crossing, where it has one.
    pub fn crossing(&self, index: usize) -> Option<&Crossing> {
        Some(&self.taps.get(index)?.reached()?.crossing)
    }

    /// The published bound of a tap that would run past its last row: its airflow is below it.
    pub fn below(&self, index: usize) -> Option<Airflow> {
        let crossing = self.crossing(index)?;
        match self.blower.shapes.get(index)? {
            TapShape::Curve(curve) => gain::below(curve, crossing),
            TapShape::Single(_) | TapShape::Unusable => None,
        }
    }

    /// Static that the return side takes at the point, and the supply side; they are the total.
    pub fn sides(&self) -> Option<(Pressure, Pressure)> {
        let point = self.point()?;
        let before = flows::before_blower(&self.parts, point.airflow);
        Some((before, point.tesp - before))
    }

    /// Name of the tap that runs.
    pub fn tap(&self) -> Option<&str> {
        Some(self.running()?.name.as_str())
    }
}

/// What the readings led to: the machine as it runs now.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// The point on the tap in use.
    pub now: Crossing,
    /// Airflow that gains are counted from: today's, or the last published one where today's lies past it.
    pub airflow_before: Airflow,
    /// Readings and what was added to them.
    pub sum: StaticSum,
    /// Both parts of its standing.
    pub standing: Standing,
    /// Static that the return side takes, where two ports were read.
    pub return_side: Option<Pressure>,
    /// Static that the supply side takes, where two ports were read.
    pub supply_side: Option<Pressure>,
    /// Electric power: read, else the table's.
    pub power: Option<Power>,
    /// The opinion in the table's place; nothing where the table stands for itself.
    pub anchored: Option<Anchored>,
    /// What nobody stated of the parts that changes take hold of.
    pub guesses: Vec<Guessed>,
    /// The system as found.
    pub system: System,
}

impl Running {
    /// How well the static is known. What was read rests on no curve and no density; where parts by data, or parts without data, lie between port and plane, it rests on the answer's airflow as well.
    pub fn static_standing(&self) -> Standing {
        let rests_on_airflow = |assumption: &Assumption| {
            matches!(
                assumption,
                Assumption::ByData(_) | Assumption::OutsideDropUnknown(_) | Assumption::InsideDropUnknown(_)
            )
        };
        if self.sum.assumptions.iter().any(rests_on_airflow) { self.standing } else { Standing::default() }
    }

    /// What gains are counted from.
    pub fn start(&self) -> Option<Start<'_>> {
        Some(Start::new(&self.now, self.system.blower.shapes.get(self.system.blower.in_use?)?))
    }

    /// What the manometer would give across the machine at a point.
    pub fn across(&self, airflow: Airflow, tesp: Pressure) -> Pressure {
        tesp - self.sum.to_planes.drop_at(airflow)
    }

    /// The air where it counts: blower, registers, return.
    pub fn delivered(&self) -> Delivered {
        let all = Delivered {
            blower: self.now.airflow,
            to_rooms: self.now.airflow,
            from_rooms: self.now.airflow,
            bypassed: Airflow::ZERO,
        };
        self.system.delivered.unwrap_or(all)
    }
}

/// The system with the changes that are on, and what each change brings alone.
///
/// Worths do not add up, so both are given.
#[derive(Clone, Debug, PartialEq)]
pub struct Projection {
    /// The system with all of them.
    pub system: System,
    /// Elements whose own law is another than as found.
    pub touched: Vec<ElementId>,
    /// Elements that a change joined into one part.
    pub joined: Vec<Joined>,
    /// Each change alone, those that are off included, in the job's order.
    pub worths: Vec<Worth>,
    /// What each of several changes that count brings after the others.
    pub after_others: Vec<AfterOthers>,
    /// Changes that are on and could not be put on, with the sentence.
    pub refused: Vec<(ChangeId, Refusal)>,
    /// ± of what the rooms get with them, where air is lost on the way.
    pub rooms_spread: Option<RoomsSpread>,
    /// States of the path that are on (a loaded filter) where they alone make more of it than work takes out; none otherwise.
    pub blamed: Vec<ChangeId>,
    /// The factor on every external drop that is wished for besides; nothing where there is no wish.
    pub wish: Option<f64>,
}

impl Projection {
    /// Whether a change counts: it is on, was put on, and something is left of it.
    pub fn counts(&self, change: &Change) -> bool {
        change.is_on() && self.refused.iter().all(|(id, _)| *id != change.id)
    }

    /// How many changes count.
    pub fn counted(&self, job: &Job) -> usize {
        job.changes.iter().filter(|change| self.counts(change)).count()
    }

    /// What the changes that count cost together, and how many of them that are bought have no price; nothing where none has one.
    pub fn price(&self, job: &Job) -> Option<(f64, usize)> {
        let counted = || job.changes.iter().filter(|change| self.counts(change));
        let unpriced = counted().filter(|change| change.kind.is_bought() && change.price.is_none()).count();
        let mut prices = counted().filter_map(|change| change.price).peekable();
        prices.peek().is_some().then(|| (prices.sum(), unpriced))
    }

    /// How many of the changes that count somebody has to pay for: those that are bought, and whatever else has a price.
    pub fn bought(&self, job: &Job) -> usize {
        let is_paid = |change: &&Change| change.kind.is_bought() || change.price.is_some();
        job.changes.iter().filter(|change| self.counts(change)).filter(is_paid).count()
    }

    /// What of the price is labour; nothing unless every priced change says it.
    pub fn labour(&self, job: &Job) -> Option<f64> {
        let counted = job.changes.iter().filter(|change| self.counts(change));
        let priced: Vec<&Change> = counted.filter(|change| change.price.is_some()).collect();
        if priced.is_empty() { None } else { priced.iter().map(|change| change.labour).sum() }
    }

    /// The price with the taxes that are stated; what has no labour apart is taxed whole as prices are.
    pub fn price_with_tax(&self, job: &Job) -> Option<f64> {
        let stated = job.changes.iter().filter(|change| self.counts(change)).filter_map(|change| change.labour);
        job.costs.with_tax(self.price(job)?.0, stated.sum())
    }
}

/// Several elements that a change joined into one part: their drop before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Joined {
    /// The elements.
    pub elements: Vec<ElementId>,
    /// Their drop as found.
    pub before: Pressure,
    /// Their drop with the changes.
    pub after: Pressure,
}

/// What the path takes as read.
#[derive(Clone, Debug, PartialEq)]
pub struct PathRead {
    /// Total external static, by what is known of it the least.
    pub tesp: Pressure,
    /// ± of it, 95 %.
    pub spread: Pressure,
    /// Static that the return side takes, where two ports were read.
    pub return_side: Option<Pressure>,
    /// What the external path is made of.
    pub parts: Vec<Part>,
    /// What parts of unknown drop leave open.
    pub bound: Bound,
}

/// Why there is no point yet.
#[derive(Clone, Debug, PartialEq)]
pub enum NotRunning {
    /// No machine chosen.
    NoMachine,
    /// No tap said, and the call runs none by the table's own map.
    NoTap,
    /// The table has no tap of this name.
    NoSuchTap(String),
    /// A reading is missing.
    NotRead(NotRead),
    /// A sign that needs a person's word first.
    SignInDoubt,
    /// Something typed cannot be right; the problems say what.
    Unsound,
    /// The static across the machine is not positive.
    NoRise(Pressure),
    /// The path asks for more than the curve reaches: a bound only.
    PastTheEnd {
        /// Airflow is below this, as sure as the table.
        below: Airflow,
        /// The static read.
        tesp: Pressure,
        /// ESP with which it would enter the table.
        entry: Pressure,
        /// Where the curve's extension ends.
        end: Pressure,
        /// What the path takes as read, whatever the airflow.
        path: Option<PathRead>,
    },
    /// A tap of one row, read elsewhere.
    SingleRow(SingleRow),
    /// A drop that was read cannot be shared, or the air of a group.
    Shares(Undivided),
    /// The tap's data cannot be used; the problems say why.
    Unusable,
    /// It runs, and where is kept back until somebody asks: a class works it out first.
    KeptBack,
}

/// A machine that nothing can be said of yet but its taps by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Idle {
    /// Why.
    pub why: NotRunning,
    /// Its blower.
    pub blower: Blower,
    /// Its taps.
    pub taps: Vec<TapAnswer>,
}
