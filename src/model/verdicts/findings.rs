//! What a practitioner would say of the numbers, each with the rule behind it.
//!
//! Findings are data; [`crate::model::wording`] puts them into sentences.

mod air;
mod ducts;
mod heat;
mod little;
mod motor;
mod opinions;
mod other_readings;
mod statics;
mod stretches;
mod watts;

use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::blower::Call;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::path::parts::flows::Delivered;
use crate::model::path::tesp::Assumption;
use crate::model::solution::anchor::Anchored;
use crate::model::solution::draws::Draws;
use crate::model::verdicts::duct_allowance::DuctAllowance;
use crate::model::verdicts::needs::Ease;
use crate::model::verdicts::opinions::Opinion;
use crate::model::verdicts::opinions::together::Together;
use crate::model::verdicts::opinions::watts::WattsDiffer;
use crate::model::verdicts::plate::PlateVerdict;
use crate::model::verdicts::system::{Idle, NotRunning, Running, System};
use crate::model::verdicts::taps::{LeastAir, LeastSide, Reach, RiseSide, StageRise, TapAnswer};
use crate::units::{Airflow, FrictionRate, Pressure, TemperatureRise};

/// A tap that moves less than this multiple of today's airflow is no step up (rounding of printed tables).
pub const SAME_AIRFLOW: f64 = 1.005;

/// How a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Something to act on.
    Act,
    /// Something to look at.
    Look,
    /// Good to know.
    Note,
}

/// Why no tap lands in the band as it should.
#[derive(Clone, Debug, PartialEq)]
pub enum NoTap {
    /// Not even against nothing does any tap move the target.
    NoneStrongEnough {
        /// The most that any of them moves.
        most: Airflow,
    },
    /// The path must become easier for this tap; by at least that much where a part of unknown drop is on it.
    NeedsEase {
        /// The tap.
        tap: String,
        /// How much easier to land in the band.
        band: Ease,
        /// How much easier to deliver the full target, where that is what it takes.
        full: Option<Ease>,
        /// True where it may be more.
        at_least: bool,
        /// True where its airflow is in the band, and only the rated maximum is in its way.
        is_in_band: bool,
    },
    /// The tap that runs is in the band, but over the rated maximum.
    OverPlate {
        /// The tap.
        tap: String,
        /// By how much, of the figure that decides.
        over: Pressure,
        /// How much easier the path must become, where that helps.
        band: Option<Ease>,
    },
    /// The table does not allow the tap that would.
    NotAllowed(String),
    /// This tap is off the table, which does not say whether it would.
    OffTheTable(String),
    /// Whether this tap would depends on a part whose drop is not known.
    PartUnknown(String),
    /// Whether this tap would depends on what its motor does in this air: the airflow at a constant speed, and by the motor's own law.
    InThisAir {
        /// The tap.
        tap: String,
        /// By the other law that may hold.
        other: Airflow,
        /// By its own.
        own: Airflow,
    },
    /// One tap stays under the band and the next one up goes over it.
    Jumps {
        /// The one under it.
        under: String,
        /// The one over it.
        over: String,
    },
    /// Nothing more can be said.
    Unknown,
}

/// What speaks against a step to the next tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StepDoubt {
    /// The table does not allow it there.
    NotAllowed,
    /// It is over the rated maximum there.
    OverPlate,
    /// It is at the rated maximum there, within the uncertainty.
    AtPlate,
    /// The gain is smaller than its uncertainty.
    WithinDoubt,
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// Over or at the rated maximum.
    Plate(PlateVerdict),
    /// Parts of a side that were read apart, or are known by data, take more than their own limit.
    PartTakes {
        /// What they are, in flow order.
        parts: Vec<ElementKind>,
        /// What they take.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// Their limit.
        limit: Pressure,
        /// As in [`Finding::ReturnTakes`].
        at: Option<Airflow>,
        /// True where the limit is the supply ducts' (own reckoning).
        of_supply: bool,
    },
    /// The return side takes more than its limit.
    ReturnTakes {
        /// What it takes.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// The limit, with what the parts on that side may take.
        limit: Pressure,
        /// The parts that stand on that side besides grille and duct.
        with: Vec<ElementKind>,
        /// Of a low call: the airflow of the high one, at which both are meant.
        at: Option<Airflow>,
    },
    /// The supply side takes more than the rated maximum leaves it beside the return side's limit (own reckoning).
    SupplyTakes {
        /// What it takes.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// The limit.
        limit: Pressure,
        /// As in [`Finding::ReturnTakes`].
        with: Vec<ElementKind>,
        /// As in [`Finding::ReturnTakes`].
        at: Option<Airflow>,
    },
    /// The ducts of a side take more than their length leaves them.
    DuctsTake {
        /// The side.
        side: PathSide,
        /// Parts without a drop of their own that stand in it.
        with: Vec<ElementKind>,
        /// What they take at the airflow.
        taken: Pressure,
        /// The target's airflow, or the one read where there is no target.
        airflow: Airflow,
        /// Their share of what is left.
        limit: Pressure,
        /// True where a part without data may take some of that share.
        is_at_most: bool,
        /// Friction rate allowed, and theirs at the airflow.
        rates: (FrictionRate, FrictionRate),
    },
    /// The parts with data leave nothing for the ducts.
    NothingLeft {
        /// What they take at the airflow.
        taken: Pressure,
        /// The static that parts and ducts may take together.
        of: Pressure,
        /// As in [`Finding::DuctsTake`].
        airflow: Airflow,
    },
    /// More of the blower's air is lost on the way to or from the rooms than may be.
    AirLost(Delivered),
    /// Too little static for a sound system.
    LittleStatic {
        /// What was read, or what that comes to at the airflow of the high call.
        tesp: Pressure,
        /// Of a low call: what was read, and that airflow.
        at: Option<(Pressure, Airflow)>,
        /// The design static that it is under half of; nothing where it is under the least of any system.
        design: Option<Pressure>,
    },
    /// Above the accepted band.
    TooMuchAir {
        /// Airflow now.
        airflow: Airflow,
        /// Top of the band.
        high: Airflow,
        /// The lowest tap in the band, where there is one.
        lowest_in_band: Option<String>,
    },
    /// The next higher tap buys static faster than airflow.
    NextTap {
        /// Its name.
        name: String,
        /// Airflow now and there.
        airflow: (Airflow, Airflow),
        /// Static now and there.
        tesp: (Pressure, Pressure),
        /// How both are known there.
        standing: CurveStanding,
        /// What speaks against it there.
        doubt: Option<StepDoubt>,
    },
    /// Taps that deliver the target's band, lowest first.
    TapsThatReach {
        /// All of them.
        taps: Vec<String>,
        /// Those of them that are at the rated maximum, within the uncertainty.
        at_limit: Vec<String>,
    },
    /// No tap lands in the target's band on this path as it should; the reason.
    NoTapReaches(NoTap),
    /// What has to come out of the path for the tap that runs to come under the rated maximum, where no target is given that would ask for more.
    UnderPlate {
        /// The tap.
        tap: String,
        /// How much easier.
        ease: Ease,
        /// True where it may be more.
        at_least: bool,
    },
    /// A heating stage's rise is out of the plate's range, or at its limit, on the tap that its call runs.
    Rise {
        /// Its tap.
        tap: String,
        /// The rise, with its stage and its ±.
        rise: StageRise,
        /// The plate's range.
        range: (TemperatureRise, TemperatureRise),
        /// Which side.
        side: RiseSide,
    },
    /// Less airflow than the fitted heat needs, or no more than that within its ±, on the tap that its call runs.
    LeastAirflow {
        /// The stage.
        call: Call,
        /// Its tap.
        tap: String,
        /// The airflow, by extension where the curve is extended; nothing past the curve's end.
        airflow: Option<Airflow>,
        /// What it is below, off the table.
        below: Option<Airflow>,
        /// The least, and where the airflow lies against it.
        air: LeastAir,
    },
    /// More watts for each cfm than the limit.
    WattsPerCfm {
        /// What it is.
        value: f64,
        /// The limit.
        limit: f64,
    },
    /// Watts that were read differ from the table's at this point by more than both are off.
    WattsDiffer(WattsDiffer),
    /// An opinion stands in the table's place.
    Anchored(Anchored),
    /// The airflow by other means, beside the table's.
    Opinion(Opinion),
    /// Which of several opinions, the table's among them, agree.
    Together(Together),
    /// The table bars the tap in use here.
    Barred {
        /// Its name.
        tap: String,
        /// The table's note.
        note: Option<String>,
    },
    /// A constant-airflow motor past its knee, or how far it has to it.
    Knee {
        /// TESP.
        tesp: Pressure,
        /// The knee, on the same scale.
        knee: Pressure,
    },
    /// A constant-airflow motor whose table ends before it shows a knee.
    NoKnee {
        /// Last published ESP, on the scale of TESP.
        end: Pressure,
    },
    /// In thin or dense air the motor may hold its torque or its airflow instead of its speed.
    OtherEnd(Airflow),
    /// The tap in use has one row only.
    OneRow,
    /// A total was read beside two ports, and says something else.
    TotalDiffers {
        /// By the ports.
        ports: Pressure,
        /// The total as read.
        total: Pressure,
    },
    /// The table is entered with another figure than the total external static, for the state of inside parts.
    Corrected {
        /// TESP.
        tesp: Pressure,
        /// The table entry.
        entry: Pressure,
        /// What the static is divided by before the table is entered.
        ratio: f64,
    },
    /// A part that the table contains takes more than when the table was made.
    TakesMore {
        /// Its name.
        part: String,
        /// What was read across it.
        read: Pressure,
        /// What it is more.
        more: Pressure,
    },
    /// Thin or dense air enters the table at another static.
    Density {
        /// TESP.
        tesp: Pressure,
        /// The table entry.
        entry: Pressure,
        /// ρ/ρ_table.
        ratio: f64,
        /// What the motor moves over what it does at a constant speed.
        more: f64,
    },
    /// Parts were pulled for these readings, which others of the visit have in place: they are no verdict on the system.
    Pulled(Vec<ElementId>),
    /// Something taken for granted.
    Assumed(Assumption),
    /// The readings of the visit, the judged ones among them, cannot all be true.
    CannotAllBeTrue,
    /// ± is told by draws, where the linear one is off by more than half a unit of its first digit.
    Drawn(Draws),
}

impl Finding {
    /// How it weighs.
    pub fn weight(&self) -> Weight {
        match self {
            Self::Together(together) if together.apart.is_empty() => Weight::Note,
            Self::Pulled(_)
            | Self::CannotAllBeTrue
            | Self::Opinion(Opinion { agrees: false, .. })
            | Self::Plate(_)
            | Self::Barred { .. }
            | Self::LeastAirflow { air: LeastAir { side: LeastSide::Missed | LeastSide::JustMissed, .. }, .. }
            | Self::Rise { rise: StageRise { at_limit: None, .. }, .. }
            | Self::NoTapReaches(_)
            | Self::UnderPlate { .. }
            | Self::AirLost(_)
            | Self::LittleStatic { .. }
            | Self::TooMuchAir { .. } => Weight::Act,
            Self::Together(_)
            | Self::Anchored(_)
            | Self::PartTakes { .. }
            | Self::ReturnTakes { .. }
            | Self::SupplyTakes { .. }
            | Self::DuctsTake { .. }
            | Self::NothingLeft { .. }
            | Self::Rise { rise: StageRise { at_limit: Some(_), .. }, .. }
            | Self::LeastAirflow { air: LeastAir { side: LeastSide::JustKept | LeastSide::Kept, .. }, .. }
            | Self::WattsPerCfm { .. }
            | Self::WattsDiffer(_)
            | Self::NextTap { .. }
            | Self::TakesMore { .. }
            | Self::TotalDiffers { .. } => Weight::Look,
            Self::Opinion(Opinion { agrees: true, .. })
            | Self::TapsThatReach { .. }
            | Self::Knee { .. }
            | Self::NoKnee { .. }
            | Self::OtherEnd(_)
            | Self::OneRow
            | Self::Corrected { .. }
            | Self::Density { .. }
            | Self::Assumed(_)
            | Self::Drawn(_) => Weight::Note,
        }
    }
}

impl Finding {
    /// True for what comes before any change: readings that cannot all be true, a heat with too little air, and a second opinion that contradicts the table.
    pub fn comes_first(&self) -> bool {
        let is_hot = matches!(self, Self::CannotAllBeTrue | Self::Rise { side: RiseSide::OverRange, .. });
        is_hot || matches!(self, Self::Opinion(opinion) if !opinion.agrees)
    }
}

/// Every finding of a solved job, weightiest first.
pub fn find(
    job: &Job,
    running: &Running,
    ducts: Option<&DuctAllowance>,
    by_others: (&Running, &[Opinion]),
) -> Vec<Finding> {
    let Some(table) = &job.machine else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    findings.extend(job.is_test().then(|| Finding::Pulled(job.pulled())));
    // Whatever rests on a static that cannot be right comes after it.
    findings.extend(little::static_of(job, table, running));
    findings.extend(running.system.delivered.filter(|air| air.is_lost(&job.limits)).map(Finding::AirLost));
    statics::find(job, table, (running, ducts), &mut findings);
    air::find(job, running, &mut findings);
    heat::find(table, running, &mut findings);
    motor::of_table(table, running, &mut findings);
    findings.extend(running.anchored.map(Finding::Anchored));
    opinions::find(job, by_others, &mut findings);
    motor::of_density(running, &mut findings);
    other_readings::find(job, table, running, &mut findings);
    findings.extend(running.sum.assumptions.iter().cloned().map(Finding::Assumed));
    findings.sort_by_key(Finding::weight);
    findings
}

/// What is sure of a machine that runs past its curve's end, weightiest first: there is less air than a published bound.
pub fn of_bound(job: &Job, idle: &Idle) -> Vec<Finding> {
    let (Some(table), NotRunning::PastTheEnd { below, path: Some(path), .. }) = (&job.machine, &idle.why) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    statics::of_bound(job, table, (idle, path), &mut findings);
    if !path.bound.more {
        heat::of_bound(job, table, (idle, *below), &mut findings);
    }
    findings.sort_by_key(Finding::weight);
    findings
}

/// Taps with a point, lowest airflow first.
pub fn by_airflow(taps: &[TapAnswer]) -> Vec<&TapAnswer> {
    let mut taps: Vec<(&TapAnswer, f64)> =
        taps.iter().filter_map(|tap| Some((tap, tap.reached()?.airflow().cfm()))).collect();
    taps.sort_by(|one, other| one.1.total_cmp(&other.1));
    taps.into_iter().map(|(tap, _)| tap).collect()
}

/// Whether the airflow now is short of, in, or over the band.
pub fn reach_now(system: &System) -> Option<Reach> {
    system.runs()?.reach
}
