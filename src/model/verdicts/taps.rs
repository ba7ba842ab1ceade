//! Every tap on the path as read: where it would run, how sure that is, and what it would need.

use crate::model::answer::Running;
use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::facts::job::Job;
use crate::model::facts::standing::{CurveStanding, PathStanding, Standing};
use crate::model::facts::target::{self, TargetBand};
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::parts::Part;
use crate::model::path::tesp::Bound;
use crate::model::solution::gain::{Gain, Start, below};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::tap_crossing;
use crate::model::solution::uncertainty::{Spread, Spreads};
use crate::model::verdicts::needs::{self, Need};
use crate::model::verdicts::plate::{self, PlateVerdict};
use crate::units::{Airflow, Capacity, Density, Power, TemperatureRise};

/// Where an airflow lies against the target's band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Under the band.
    Short,
    /// In the band.
    InBand,
    /// Over the band.
    TooMuch,
    /// Known as a bound only, in the band or over it: off the table below a published airflow, or with a part whose drop nobody knows.
    NotSaid,
}

/// Where a temperature rise lies against the plate's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RiseSide {
    /// Too much airflow for this heat.
    UnderRange,
    /// In the range.
    InRange,
    /// Too little airflow for this heat.
    OverRange,
}

/// Temperature rise of a heating stage at a tap's airflow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageRise {
    /// The stage.
    pub call: Call,
    /// The rise, the blower's own heat included where its watts are known.
    pub rise: TemperatureRise,
    /// Against the plate's range, where it has one.
    pub side: Option<RiseSide>,
    /// True when the airflow is under the least that this heat needs.
    pub under_minimum: bool,
}

/// A tap's point on the path.
#[derive(Clone, Debug, PartialEq)]
pub struct TapPoint {
    /// Airflow, static, table entry.
    pub crossing: Crossing,
    /// Difference from today's airflow.
    pub gain: Gain,
    /// ± of airflow and of gain.
    pub spread: Spread,
    /// Both parts of its standing.
    pub standing: Standing,
    /// What parts of unknown drop leave open.
    pub bound: Bound,
    /// Past the last row: airflow is below this published figure, as sure as the table.
    pub below: Option<Airflow>,
    /// Share of the target.
    pub of_target: Option<f64>,
    /// Against the target's band.
    pub reach: Option<Reach>,
    /// Standard airflow a ton.
    pub per_ton: Option<Airflow>,
    /// Electric power, from the table.
    pub power: Option<Power>,
    /// Rise of each heating stage.
    pub rises: Vec<StageRise>,
    /// Against the plate.
    pub plate: Option<PlateVerdict>,
    /// The table bars the tap here; with its note.
    pub barred: Option<Option<String>>,
    /// The table's note near here.
    pub note: Option<String>,
    /// The other end of the motor family's band in thin or dense air.
    pub other_end: Option<Airflow>,
}

impl TapPoint {
    /// The airflow that verdicts use: by extension where the curve is extended, which errs on the low side.
    pub const fn airflow(&self) -> Airflow {
        self.crossing.airflow
    }

    /// Electric power for each cfm, W/cfm.
    pub fn watts_per_cfm(&self) -> Option<f64> {
        Some(self.power?.watts() / self.crossing.airflow.cfm())
    }

    /// True when the tap lands in the band, at or under the plate, and is not barred.
    pub fn is_answer(&self) -> bool {
        let over = self.plate.is_some_and(|plate| plate.side == plate::PlateSide::Over);
        self.reach == Some(Reach::InBand) && !over && self.barred.is_none()
    }
}

/// One tap.
#[derive(Clone, Debug, PartialEq)]
pub struct TapAnswer {
    /// As the door panel names it.
    pub name: String,
    /// The calls that run it.
    pub calls: Vec<Call>,
    /// True for the tap that ran during the readings.
    pub in_use: bool,
    /// Where it would run; nothing while the path is unknown.
    pub point: Option<Result<TapPoint, NoCrossing>>,
    /// What it would need for the target; nothing while path or target are unknown.
    pub need: Option<Need>,
}

impl TapAnswer {
    /// The point, where there is one.
    pub fn reached(&self) -> Option<&TapPoint> {
        self.point.as_ref()?.as_ref().ok()
    }
}

/// A machine on a path, whose taps are to be judged.
#[derive(Clone, Copy, Debug)]
pub struct OnPath<'a> {
    /// The job, for its limits, calls and conditions.
    pub job: &'a Job,
    /// The machine's table.
    pub table: &'a BlowerTable,
    /// Its taps as curves.
    pub shapes: &'a [TapShape],
    /// Index of the tap that runs.
    pub in_use: Option<usize>,
    /// The target.
    pub target: Option<TargetBand>,
    /// Capacity of another machine's own target, where it is by tons.
    pub capacity: Option<Capacity>,
    /// Density at the blower's inlet.
    pub density: Density,
    /// The same over the table's.
    pub density_ratio: f64,
    /// The path that the taps work against; nothing while it is unknown.
    pub path: Option<KnownPath<'a>>,
}

/// A path that taps work against.
#[derive(Clone, Copy, Debug)]
pub struct KnownPath<'a> {
    /// The reading that it follows from.
    pub running: &'a Running,
    /// Its load.
    pub load: &'a SystemLoad,
    /// What it is made of.
    pub parts: &'a [Part],
    /// ± of each tap.
    pub spreads: &'a Spreads,
    /// True for the path as it was read, on which the tap in use was measured.
    pub as_read: bool,
    /// What gains are counted from.
    pub start: Start<'a>,
    /// What parts of unknown drop leave open; nothing lands in a band for sure then.
    pub bound: Bound,
    /// True where something of the machine had to be taken for granted.
    pub is_assumed: bool,
}

/// Every tap of a machine, in its table's order.
pub fn all(on: &OnPath<'_>) -> Vec<TapAnswer> {
    on.table
        .taps
        .iter()
        .zip(on.shapes)
        .enumerate()
        .map(|(index, (tap, shape))| {
            let calls = on.table.calls.iter().filter(|(_, name)| *name == tap.name);
            TapAnswer {
                name: tap.name.clone(),
                calls: calls.map(|(call, _)| *call).collect(),
                in_use: on.in_use == Some(index),
                point: on.path.map(|path| point(on, &path, index, shape)),
                need: on.path.and_then(|path| {
                    let today = path.running.now.tesp;
                    Some(needs::need(shape, path.load, on.target?.actual, today, on.table.rated_maximum))
                }),
            }
        })
        .collect()
}

fn point(on: &OnPath<'_>, path: &KnownPath<'_>, index: usize, shape: &TapShape) -> Result<TapPoint, NoCrossing> {
    let (table, running) = (on.table, path.running);
    let crossing = tap_crossing(shape, path.load)?;
    let curve = match shape {
        TapShape::Curve(curve) => Some(curve),
        _ => None,
    };
    let spread = path.spreads.taps.get(index).copied().flatten().unwrap_or_default();
    let is_measured = path.as_read && on.in_use == Some(index);
    // Another tap's bound is as sure as the table only where the path itself rests on a published point.
    let is_sure = is_measured || running.now.standing == CurveStanding::Published;
    let below = curve.filter(|_| is_sure).and_then(|curve| below(curve, &crossing));
    let power = curve.and_then(|curve| curve.power_at(crossing.entry));
    let standard = target::at_standard_air(crossing.airflow, on.density);
    Ok(TapPoint {
        spread,
        gain: path.start.gain(&crossing, shape),
        standing: Standing { curve: crossing.standing, ..running.standing }
            .worse(running.standing)
            .with_path(if is_measured { PathStanding::Measured } else { laws_standing(path.parts) })
            .with_path(if path.bound.is_exact() && !path.is_assumed {
                PathStanding::Measured
            } else {
                PathStanding::Assumed
            }),
        bound: path.bound,
        below,
        of_target: on.target.map(|target| crossing.airflow / target.actual),
        reach: on
            .target
            .map(|target| reach(crossing.airflow, below, &target))
            .map(|reach| within_bound(reach, path.bound)),
        per_ton: capacity(on).map(|capacity| per_ton(standard, capacity)),
        power,
        rises: rises(on.job, table, crossing.airflow, power)
            .into_iter()
            .map(|rise| StageRise { side: rise.side.filter(|side| is_sure_side(*side, path.bound)), ..rise })
            .collect(),
        plate: table
            .rated_maximum
            .map(|limit| plate::judge(crossing.tesp, limit, on.density_ratio, running.spreads.tesp)),
        barred: curve.and_then(|curve| Some(curve.barred_at(crossing.entry)?.note.clone())),
        note: curve.and_then(|curve| curve.note_near(crossing.entry).map(str::to_owned)),
        other_end: curve.and_then(|curve| {
            // The table entry holds the corrections of inside parts as well, which density does not undo.
            let static_at_job = crossing.entry * on.density_ratio;
            thin_air::other_end(curve, table.motor, static_at_job, on.density_ratio)
        }),
        crossing,
    })
}

/// What of a reach is sure: with less air what is short stays short, with more what is too much stays too much.
const fn within_bound(reach: Reach, bound: Bound) -> Reach {
    match reach {
        Reach::Short if !bound.more => Reach::Short,
        Reach::TooMuch if !bound.less => Reach::TooMuch,
        Reach::InBand if bound.is_exact() => Reach::InBand,
        _ => Reach::NotSaid,
    }
}

/// Whether a rise stays where it is found: less air only raises it.
const fn is_sure_side(side: RiseSide, bound: Bound) -> bool {
    match side {
        RiseSide::OverRange => !bound.more,
        RiseSide::InRange => bound.is_exact(),
        RiseSide::UnderRange => !bound.less,
    }
}

/// Capacity that airflow a ton is reckoned by; another machine's own target, or its nominal one, goes before the job's.
fn capacity(on: &OnPath<'_>) -> Option<Capacity> {
    let is_the_jobs = on.job.machine.as_ref().is_some_and(|table| std::ptr::eq(table, on.table));
    if is_the_jobs { on.job.capacity() } else { on.capacity.or(on.table.cooling).or_else(|| on.job.capacity()) }
}

/// Standing of the laws that carry the path to another airflow than today's: no better than its worst part.
fn laws_standing(parts: &[Part]) -> PathStanding {
    let worst =
        |part: &Part| part.standing.max(part.ways.iter().map(|way| laws_standing(way)).max().unwrap_or_default());
    parts.iter().map(worst).max().unwrap_or_default()
}

/// Where an airflow lies against the target's band; `below` is the published bound of an extrapolated one.
pub fn reach(airflow: Airflow, below: Option<Airflow>, target: &TargetBand) -> Reach {
    match below {
        Some(bound) if bound >= target.low => Reach::NotSaid,
        Some(_) => Reach::Short,
        None if airflow < target.low => Reach::Short,
        None if airflow > target.high => Reach::TooMuch,
        None => Reach::InBand,
    }
}

/// Airflow a ton, both at standard air.
pub fn per_ton(standard: Airflow, capacity: Capacity) -> Airflow {
    standard / capacity.tons()
}

fn rises(job: &Job, table: &BlowerTable, airflow: Airflow, power: Option<Power>) -> Vec<StageRise> {
    table
        .heating
        .iter()
        .map(|stage| {
            let air = job.set().air.at_blower(table.kind, stage.call);
            stage_rise(stage, airflow, power, air.density)
        })
        .collect()
}

fn stage_rise(stage: &HeatStage, airflow: Airflow, power: Option<Power>, density: Density) -> StageRise {
    let heat = stage.output + power.map(Power::as_heat).unwrap_or_default();
    let rise = target::rise_at(heat, airflow, density);
    StageRise {
        call: stage.call,
        rise,
        side: stage.rise.map(|(low, high)| {
            if rise < low {
                RiseSide::UnderRange
            } else if rise > high {
                RiseSide::OverRange
            } else {
                RiseSide::InRange
            }
        }),
        under_minimum: stage.minimum_airflow.is_some_and(|least| airflow < least),
    }
}
