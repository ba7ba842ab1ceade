//! What a practitioner would say of the numbers, each with the rule behind it.
//!
//! Findings are data; [`crate::model::wording`] puts them into sentences.

mod ducts;
mod little;
mod other_readings;
mod watts;

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::blower::{BlowerTable, Call, MotorFamily};
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::SHOWN_DIFFERENCE;
use crate::model::facts::standing::CurveStanding;
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air::DENSITY_SHOWN;
use crate::model::path::tesp::Assumption;
use crate::model::verdicts::duct_allowance::DuctAllowance;
use crate::model::verdicts::needs::{Ease, Need, plate_limit};
use crate::model::verdicts::plate::{PlateSide, PlateVerdict};
use crate::model::verdicts::system::{Running, System};
use crate::model::verdicts::taps::{Reach, RiseSide, StageRise, TapAnswer, TapPoint};
use crate::units::{Airflow, FrictionRate, Power, Pressure, TemperatureRise};

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
    /// It is off the table there.
    OffTheTable,
    /// The gain is smaller than its uncertainty.
    WithinDoubt,
}

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// Over or at the rated maximum.
    Plate(PlateVerdict),
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
    },
    /// The supply side takes more than the rated maximum leaves it beside the return side's limit (own reckoning).
    SupplyTakes {
        /// What it takes.
        taken: Pressure,
        /// Of the whole.
        total: Pressure,
        /// The limit.
        limit: Pressure,
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
        /// What speaks against it there.
        doubt: Option<StepDoubt>,
    },
    /// Taps that deliver the target's band at or under the plate, lowest first.
    TapsThatReach(Vec<String>),
    /// No tap lands in the target's band on this path as it should; the reason.
    NoTapReaches(NoTap),
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
    /// Less airflow than the fitted heat needs, on the tap that its call runs.
    UnderHeatMinimum {
        /// The stage.
        call: Call,
        /// Its tap.
        tap: String,
        /// The airflow.
        airflow: Airflow,
        /// The least.
        least: Airflow,
    },
    /// More watts for each cfm than the limit.
    WattsPerCfm {
        /// What it is.
        value: f64,
        /// The limit.
        limit: f64,
    },
    /// Watts that were read differ from the table's at this point by more than both are off.
    WattsDiffer {
        /// As read.
        read: Power,
        /// By the table.
        table: Power,
        /// ± of their difference, 95 %.
        spread: Power,
    },
    /// The table bars the tap in use here.
    Barred {
        /// Its name.
        tap: String,
        /// The table's note.
        note: Option<String>,
    },
    /// A constant-airflow motor past its knee, or how far it has to it.
    Knee {
        /// Static now (as the table is entered).
        entry: Pressure,
        /// The knee.
        knee: Pressure,
    },
    /// A constant-airflow motor whose table ends before it shows a knee.
    NoKnee {
        /// Last published ESP.
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
    },
    /// Something taken for granted.
    Assumed(Assumption),
}

impl Finding {
    /// How it weighs.
    pub const fn weight(&self) -> Weight {
        match self {
            Self::Plate(_)
            | Self::Barred { .. }
            | Self::UnderHeatMinimum { .. }
            | Self::Rise { rise: StageRise { at_limit: None, .. }, .. }
            | Self::NoTapReaches(_)
            | Self::TooMuchAir { .. } => Weight::Act,
            Self::ReturnTakes { .. }
            | Self::SupplyTakes { .. }
            | Self::DuctsTake { .. }
            | Self::NothingLeft { .. }
            | Self::LittleStatic { .. }
            | Self::Rise { rise: StageRise { at_limit: Some(_), .. }, .. }
            | Self::WattsPerCfm { .. }
            | Self::WattsDiffer { .. }
            | Self::NextTap { .. }
            | Self::TakesMore { .. }
            | Self::TotalDiffers { .. } => Weight::Look,
            Self::TapsThatReach(_)
            | Self::Knee { .. }
            | Self::NoKnee { .. }
            | Self::OtherEnd(_)
            | Self::OneRow
            | Self::Corrected { .. }
            | Self::Density { .. }
            | Self::Assumed(_) => Weight::Note,
        }
    }
}

/// Every finding of a solved job, weightiest first.
pub fn find(job: &Job, running: &Running, ducts: Option<&DuctAllowance>) -> Vec<Finding> {
    let Some(table) = &job.machine else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    of_static(job, table, (running, ducts), &mut findings);
    of_air(job, running, &mut findings);
    of_heat(table, running, &mut findings);
    of_motor(table, running, &mut findings);
    findings.extend(watts::against_table(job, running));
    of_density(running, &mut findings);
    other_readings::find(job, table, running, &mut findings);
    findings.extend(running.sum.assumptions.iter().cloned().map(Finding::Assumed));
    findings.sort_by_key(Finding::weight);
    findings
}

fn of_static(
    job: &Job,
    table: &BlowerTable,
    (running, ducts): (&Running, Option<&DuctAllowance>),
    findings: &mut Vec<Finding>,
) {
    let total = running.now.tesp;
    if let Some(plate) = running.system.plate()
        && plate.side != PlateSide::Under
    {
        findings.push(Finding::Plate(plate));
    }
    ducts::of_lengths(ducts, findings);
    let (limit, with) = return_limit(job, table);
    if let Some(taken) = running.return_side
        && taken > limit
        && !ducts::is_judged(ducts, PathSide::Return)
    {
        findings.push(Finding::ReturnTakes { taken, total, limit, with });
    }
    let is_drawn = running.return_side.is_some_and(|taken| taken >= Pressure::ZERO);
    if let (Some(taken), Some(plate)) = (running.supply_side.filter(|_| is_drawn), table.rated_maximum)
        && let limit = plate_limit(plate, running.system.blower.entry_ratio) - limit
        && limit > Pressure::ZERO
        && taken > limit
        && !ducts::is_judged(ducts, PathSide::Supply)
    {
        findings.push(Finding::SupplyTakes { taken, total, limit });
    }
    findings.extend(little::static_of(job, table, running));
}

/// What the return side may take, with the parts that stand on it outside the table.
fn return_limit(job: &Job, table: &BlowerTable) -> (Pressure, Vec<ElementKind>) {
    let plane = *job.path.inside(&table.basis).start();
    let out = &job.set().parts_out;
    let before = job.path.elements.iter().take(plane).filter(|element| !out.contains(&element.id));
    let mut limit = job.limits.return_drop;
    let mut with = Vec::new();
    for element in before {
        // Filters of ways side by side stand beside each other: the air passes one of them.
        let within: Vec<ElementKind> = element.all().iter().map(|within| within.kind).collect();
        for (kind, allowed) in
            [(ElementKind::Filter, job.limits.filter_drop), (ElementKind::Coil, job.limits.coil_drop)]
        {
            if within.contains(&kind) {
                limit += allowed;
                with.push(kind);
            }
        }
    }
    (limit, with)
}

fn of_air(job: &Job, running: &Running, findings: &mut Vec<Finding>) {
    let airflow = running.now.airflow;
    findings.extend(watts::per_cfm(job, running));
    let is_too_much = reach_now(&running.system) == Some(Reach::TooMuch);
    if let Some(finding) = next_tap(running).filter(|_| !is_too_much) {
        findings.push(finding);
    }
    let Some(target) = running.system.blower.target else {
        return;
    };
    let taps = &running.system.taps;
    let answers: Vec<String> = by_airflow(taps)
        .into_iter()
        .filter(|tap| tap.reached().is_some_and(TapPoint::is_answer))
        .map(|tap| tap.name.clone())
        .collect();
    if is_too_much {
        let lowest_in_band = answers.first().cloned();
        findings.push(Finding::TooMuchAir { airflow, high: target.high, lowest_in_band });
    } else if answers.is_empty() {
        findings.push(Finding::NoTapReaches(why_none(running)));
    } else {
        findings.push(Finding::TapsThatReach(answers));
    }
}

fn why_none(running: &Running) -> NoTap {
    if let Some(over) = in_band_over_plate(&running.system) {
        return over;
    }
    let all = &running.system.taps;
    let taps = by_airflow(all);
    let with =
        |reach: Reach| taps.iter().filter(move |tap| tap.reached().is_some_and(|point| point.reach == Some(reach)));
    let is_under_plate = |tap: &&&TapAnswer| {
        tap.reached().is_some_and(|point| point.plate.is_none_or(|plate| plate.side != PlateSide::Over))
    };
    let not_allowed = |tap: &&&TapAnswer| tap.reached().is_some_and(|point| point.barred.is_some());
    if let Some(tap) = with(Reach::InBand).find(not_allowed) {
        return NoTap::NotAllowed(tap.name.clone());
    }
    // Over the rated maximum it is no answer, wherever it lands.
    if let Some(tap) = with(Reach::NotSaid).find(is_under_plate) {
        let is_exact = tap.reached().is_some_and(|point| point.bound.is_exact());
        let name = tap.name.clone();
        if let Some((other, own)) = tap.reached().and_then(|point| Some((point.open_by_air()?, point.airflow()))) {
            return NoTap::InThisAir { tap: name, other, own };
        }
        return if is_exact { NoTap::OffTheTable(name) } else { NoTap::PartUnknown(name) };
    }
    let (under, over) = (with(Reach::Short).next_back(), with(Reach::TooMuch).find(is_under_plate));
    if let (Some(under), Some(over)) = (under, over) {
        return NoTap::Jumps { under: under.name.clone(), over: over.name.clone() };
    }
    let weak = |tap: &TapAnswer| match tap.into_band {
        Some(Need::NeverEnough { most }) => Some(most),
        _ => None,
    };
    let most: Option<Vec<Airflow>> = all.iter().map(weak).collect();
    match (most, easiest(all.iter())) {
        (Some(most), _) => NoTap::NoneStrongEnough { most: most.into_iter().fold(Airflow::ZERO, Airflow::max) },
        (None, Some((tap, band))) => {
            let at_least = running.sum.bound().less;
            let full = tap.need.as_ref().and_then(Need::ease).copied();
            let is_in_band = tap.reached().is_some_and(|point| point.reach == Some(Reach::InBand));
            NoTap::NeedsEase { tap: tap.name.clone(), band: *band, full, at_least, is_in_band }
        }
        (None, None) => NoTap::Unknown,
    }
}

/// Where all that is wrong with the tap that runs is the rated maximum: by how much, and the tap that needs least to be under it.
fn in_band_over_plate(system: &System) -> Option<NoTap> {
    let tap = system.running()?;
    let point = tap.reached().filter(|point| point.reach == Some(Reach::InBand) && point.barred.is_none())?;
    let plate = point.plate.filter(|plate| plate.side == PlateSide::Over)?;
    let in_band = |tap: &&TapAnswer| tap.reached().is_some_and(|point| point.reach == Some(Reach::InBand));
    let (tap, band) = easiest(system.taps.iter().filter(in_band)).map_or((tap, None), |(tap, band)| (tap, Some(*band)));
    Some(NoTap::OverPlate { tap: tap.name.clone(), over: plate.worse - plate.limit, band })
}

/// Taps with a point, lowest airflow first.
pub fn by_airflow(taps: &[TapAnswer]) -> Vec<&TapAnswer> {
    let mut taps: Vec<(&TapAnswer, f64)> =
        taps.iter().filter_map(|tap| Some((tap, tap.reached()?.airflow().cfm()))).collect();
    taps.sort_by(|one, other| one.1.total_cmp(&other.1));
    taps.into_iter().map(|(tap, _)| tap).collect()
}

fn next_tap(running: &Running) -> Option<Finding> {
    let (before, static_now) = (running.airflow_before, running.now.tesp);
    // Off the table neither figure of the step is known well enough to weigh one against the other.
    if running.now.standing == CurveStanding::Extrapolated && before > running.now.airflow {
        return None;
    }
    let next = by_airflow(&running.system.taps)
        .into_iter()
        .find(|tap| tap.reached().is_some_and(|point| !tap.in_use && point.airflow() > before * SAME_AIRFLOW))?;
    let point = next.reached()?;
    Some(Finding::NextTap {
        name: next.name.clone(),
        airflow: (before, point.airflow()),
        tesp: (static_now, point.crossing.tesp),
        doubt: step_doubt(point),
    })
}

fn step_doubt(point: &TapPoint) -> Option<StepDoubt> {
    let side = point.plate.map(|plate| plate.side);
    if point.barred.is_some() {
        Some(StepDoubt::NotAllowed)
    } else if side == Some(PlateSide::Over) {
        Some(StepDoubt::OverPlate)
    } else if side == Some(PlateSide::AtLimit) {
        Some(StepDoubt::AtPlate)
    } else if point.standing.curve == CurveStanding::Extrapolated {
        Some(StepDoubt::OffTheTable)
    } else if point.gain.least <= point.spread.gain {
        Some(StepDoubt::WithinDoubt)
    } else {
        None
    }
}

/// The tap that needs the smallest share of the path's drop taken out to land in the band.
fn easiest<'a>(taps: impl Iterator<Item = &'a TapAnswer>) -> Option<(&'a TapAnswer, &'a Ease)> {
    taps.filter_map(|tap| Some((tap, tap.into_band.as_ref()?.ease()?)))
        .min_by(|one, other| one.1.share().total_cmp(&other.1.share()))
}

fn of_heat(table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    for (index, stage) in table.heating.iter().enumerate() {
        let Some(tap) = running.system.runs_stage(stage.call) else {
            continue;
        };
        let (Some(point), tap) = (tap.reached(), &tap.name) else {
            continue;
        };
        let Some(rise) = point.rises.get(index) else {
            continue;
        };
        if let (Some(side), Some(range)) = (rise.side, stage.rise)
            && (side != RiseSide::InRange || rise.at_limit.is_some())
        {
            findings.push(Finding::Rise { tap: tap.to_owned(), rise: *rise, range, side });
        }
        if let (true, Some(least)) = (rise.under_minimum, stage.minimum_airflow) {
            findings.push(Finding::UnderHeatMinimum {
                call: stage.call,
                tap: tap.to_owned(),
                airflow: point.airflow(),
                least,
            });
        }
    }
}

fn of_motor(table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    let System { blower, .. } = &running.system;
    let in_use = running.system.running();
    if let Some(tap) = in_use
        && let Some(note) = tap.reached().and_then(|point| point.barred.clone())
    {
        findings.push(Finding::Barred { tap: tap.name.clone(), note });
    }
    let shape = blower.in_use.and_then(|index| blower.shapes.get(index));
    match shape {
        Some(TapShape::Single(_)) => findings.push(Finding::OneRow),
        Some(TapShape::Curve(curve)) if table.motor == MotorFamily::ConstantAirflow => {
            let entry = running.now.entry;
            findings.push(match curve.knee() {
                Some(knee) => Finding::Knee { entry, knee },
                None => Finding::NoKnee { end: curve.last().0 },
            });
        }
        _ => {}
    }
}

fn of_density(running: &Running, findings: &mut Vec<Finding>) {
    let (ratio, entry_ratio) = (running.system.blower.density_ratio, running.system.blower.entry_ratio);
    let (tesp, entry) = (running.now.tesp, running.now.entry);
    if (1.0 - ratio).abs() > DENSITY_SHOWN {
        findings.push(Finding::Density { tesp, entry: tesp / entry_ratio, ratio });
        // Past its knee a motor that holds its airflow does no other than at a constant speed.
        let is_other = |other: &Airflow| (*other / running.now.airflow - 1.0).abs() > SAME_AIRFLOW - 1.0;
        let other_end = running.system.runs().and_then(|point| point.other_end).filter(is_other);
        findings.extend(other_end.map(Finding::OtherEnd));
    }
    if (entry - tesp / entry_ratio).abs() > SHOWN_DIFFERENCE {
        findings.push(Finding::Corrected { tesp, entry, ratio: entry_ratio });
    }
}

/// Whether the airflow now is short of, in, or over the band.
pub fn reach_now(system: &System) -> Option<Reach> {
    system.runs()?.reach
}
