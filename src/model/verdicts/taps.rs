//! Every tap on the path as read: where it would run, how sure that is, and what it would need.

use crate::model::facts::accuracy::{COVERAGE, from_limit};
use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::facts::job::Job;
use crate::model::facts::standing::{CurveStanding, PathStanding, Standing};
use crate::model::facts::target::{self, Target, TargetBand};
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::parts::Part;
use crate::model::path::tesp::Bound;
use crate::model::solution::gain::{Gain, Start, below};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::uncertainty::{Spread, Spreads};
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::needs::{self, Need};
use crate::model::verdicts::plate::{self, PlateVerdict};
use crate::model::verdicts::targets;
use crate::units::{Airflow, Capacity, Power, Pressure, TemperatureRise};

/// Where an airflow lies against the target's band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Under the band.
    Short,
    /// In the band.
    InBand,
    /// Over the band.
    TooMuch,
    /// Known as a bound only, in the band or over it: off the table below a published airflow, or with a part whose drop nobody knows; or on either side of the band's edge by what the motor may do in this air.
    NotSaid,
}

/// A limit that a point keeps, or misses, by less than its ±.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InDoubt {
    /// An edge of the accepted band.
    Band,
    /// The rated maximum.
    Plate,
    /// The plate's range of a heating stage, or the least air that its heat needs.
    Heating,
    /// The most of the air that may be lost on the way to the rooms.
    LostAir,
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

/// Where an airflow lies against the least that a heat needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeastSide {
    /// Over it.
    Kept,
    /// Over it by less than its ±.
    JustKept,
    /// Under it by less than its ±, or by extension only.
    JustMissed,
    /// Under it.
    Missed,
}

/// An airflow against the least that a heat needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastAir {
    /// The least.
    pub least: Airflow,
    /// Where the airflow lies.
    pub side: LeastSide,
}

impl LeastAir {
    /// Off the table `below` is the published bound of the airflow: what is under the least with it is so for sure.
    fn of(least: Airflow, (airflow, spread): (Airflow, Airflow), below: Option<Airflow>) -> Self {
        let is_missed = airflow < least;
        let is_in_doubt = match below {
            Some(below) if is_missed => below >= least,
            Some(_) | None => (airflow - least).abs() <= spread,
        };
        let side = match (is_missed, is_in_doubt) {
            (false, false) => LeastSide::Kept,
            (false, true) => LeastSide::JustKept,
            (true, true) => LeastSide::JustMissed,
            (true, false) => LeastSide::Missed,
        };
        Self { least, side }
    }

    /// True where the airflow is under the least.
    pub const fn is_missed(&self) -> bool {
        matches!(self.side, LeastSide::Missed | LeastSide::JustMissed)
    }

    /// True where its ± leaves open on which side it is.
    pub const fn is_in_doubt(&self) -> bool {
        matches!(self.side, LeastSide::JustKept | LeastSide::JustMissed)
    }
}

/// Temperature rise of a heating stage at a tap's airflow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageRise {
    /// The stage.
    pub call: Call,
    /// The rise, the blower's own heat included where its watts are known; by extension off the table.
    pub rise: TemperatureRise,
    /// Off the table the rise with the published bound of the airflow: it is at least this, as sure as the table.
    pub at_least: Option<TemperatureRise>,
    /// ± of it, 95 %, by that of the airflow.
    pub spread: TemperatureRise,
    /// Against the plate's range, where it has one.
    pub side: Option<RiseSide>,
    /// The end of the plate's range that lies within ±: the rise is at that limit.
    pub at_limit: Option<TemperatureRise>,
    /// The airflow against the least that this heat needs, where its maker states one.
    pub least_air: Option<LeastAir>,
    /// Share of its heat that the stage gives at this altitude (see [`BlowerTable::heat_share`]).
    pub heat_share: f64,
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

impl StageRise {
    /// True where the airflow is under the least that this heat needs.
    pub fn is_short_of_air(&self) -> bool {
        self.least_air.is_some_and(|air| air.is_missed())
    }

    /// True where it gets hotter than the plate allows, or less air than it needs.
    pub fn is_starved(&self) -> bool {
        self.side == Some(RiseSide::OverRange) || self.is_short_of_air()
    }

    /// True where it stays colder than the plate allows.
    pub fn is_cold(&self) -> bool {
        self.side == Some(RiseSide::UnderRange)
    }

    /// True where its ± reaches over an end of the plate's range, or over the least airflow.
    pub fn is_in_doubt(&self) -> bool {
        self.at_limit.is_some() || self.least_air.is_some_and(|air| air.is_in_doubt())
    }

    /// True where plate and least airflow are kept, and not by less than its ±.
    pub fn is_fine(&self) -> bool {
        let is_in_range = self.side.is_none_or(|side| side == RiseSide::InRange);
        is_in_range && !self.is_short_of_air() && !self.is_in_doubt()
    }
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

    /// Rise of the heating stage of a call.
    pub fn rise_of(&self, call: Call) -> Option<&StageRise> {
        self.rises.iter().find(|rise| rise.call == call)
    }

    /// True where the ± of its airflow, off the table of its published bound, reaches over an edge of the target's band.
    pub fn is_near_edge(&self, target: &TargetBand) -> bool {
        let (airflow, spread) = (self.below.unwrap_or(self.airflow()), self.spread.airflow);
        reach(airflow - spread, None, target) != reach(airflow + spread, None, target)
    }

    /// The limits on whose other side its ± reaches.
    pub fn in_doubt(&self, target: Option<&TargetBand>) -> Vec<InDoubt> {
        let near_plate = self.plate.is_some_and(|plate| plate.side == plate::PlateSide::AtLimit);
        let near_edge = target.is_some_and(|target| self.is_near_edge(target));
        let band = near_edge.then_some(InDoubt::Band);
        band.into_iter().chain(near_plate.then_some(InDoubt::Plate)).collect()
    }

    /// What it moves by the other law that may hold, where only that leaves its reach open.
    pub fn open_by_air(&self) -> Option<Airflow> {
        let by_air = self.reach == Some(Reach::NotSaid) && self.bound.is_exact() && self.below.is_none();
        self.other_end.filter(|_| by_air)
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
    /// What it would need for the full target; nothing while path or target are unknown.
    pub need: Option<Need>,
    /// What it would need to land in the target's band, which is where its point is judged to be.
    pub into_band: Option<Need>,
}

impl TapAnswer {
    /// The point, where there is one.
    pub fn reached(&self) -> Option<&TapPoint> {
        self.point.as_ref()?.as_ref().ok()
    }
}

/// A path that taps work against.
#[derive(Clone, Copy, Debug)]
pub struct KnownPath<'a> {
    /// The point that was read, from which it follows.
    pub now: &'a Crossing,
    /// Standing of that point.
    pub standing: Standing,
    /// ± of the total external static read.
    pub static_spread: Pressure,
    /// Its load.
    pub load: &'a SystemLoad,
    /// Where every tap crosses it.
    pub crossings: &'a [Result<Crossing, NoCrossing>],
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
    /// The one tap that is known otherwise than by the table, where the others are left to it.
    pub only_tap: Option<usize>,
}

/// Every tap of a machine, in its table's order; without points while the path is unknown.
pub fn all(job: &Job, table: &BlowerTable, blower: &Blower, path: Option<KnownPath<'_>>) -> Vec<TapAnswer> {
    let judge = Judge { job, table, blower, capacity: capacity(job, table, blower) };
    let taps = table.taps.iter().zip(&*blower.shapes).enumerate();
    taps.map(|(index, (tap, shape))| {
        let calls = table.calls.iter().filter(|(_, name)| *name == tap.name);
        let point = path.as_ref().map(|path| judge.point(path, index, shape));
        let needs = path.as_ref().zip(blower.target).map(|(path, target)| {
            let is_answer = point.as_ref().and_then(|point| point.as_ref().ok()).is_some_and(TapPoint::is_answer);
            needs::needs(shape, path.load, &target, (path.now.tesp, table.rated_maximum), is_answer)
        });
        TapAnswer {
            name: tap.name.clone(),
            calls: calls.map(|(call, _)| *call).collect(),
            in_use: blower.in_use == Some(index),
            point,
            need: needs.map(|needs| needs.target),
            into_band: needs.map(|needs| needs.band),
        }
    })
    .collect()
}

/// What every tap of a machine is judged with.
struct Judge<'a> {
    job: &'a Job,
    table: &'a BlowerTable,
    blower: &'a Blower,
    capacity: Option<Capacity>,
}

/// Capacity that airflow a ton is reckoned by; the target's goes before another machine's nominal one, and that before the job's.
fn capacity(job: &Job, table: &BlowerTable, blower: &Blower) -> Option<Capacity> {
    let own = match blower.target.map(|target| target.from) {
        Some(Target::PerTon { capacity, .. }) => Some(capacity),
        Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => None,
    };
    own.or_else(|| table.cooling.filter(|_| blower.other.is_some())).or_else(|| job.capacity())
}

impl Judge<'_> {
    fn point(&self, path: &KnownPath<'_>, index: usize, shape: &TapShape) -> Result<TapPoint, NoCrossing> {
        let (table, blower) = (self.table, self.blower);
        let is_measured = path.as_read && blower.in_use == Some(index);
        let crossing = if is_measured {
            *path.now
        } else {
            path.crossings.get(index).copied().unwrap_or(Err(NoCrossing::Unusable))?
        };
        let curve = match shape {
            TapShape::Curve(curve) => Some(curve),
            TapShape::Single(_) | TapShape::Unusable => None,
        };
        // Another tap's bound is as sure as the table only where the path itself rests on a published point.
        let is_sure = is_measured || path.now.standing == CurveStanding::Published;
        let below = curve.filter(|_| is_sure).and_then(|curve| below(curve, &crossing));
        let power = curve.and_then(|curve| curve.power_at(crossing.entry));
        let standard = target::at_standard_air(crossing.airflow, blower.air.density);
        let other_end = curve.and_then(|curve| {
            // The table entry holds the corrections of inside parts as well, which density does not undo.
            let static_at_job = crossing.entry * blower.entry_ratio;
            thin_air::other_end(curve, table.motor, static_at_job, blower.density_ratio)
        });
        let reach = blower.target.map(|target| {
            let reach = within_bound(reach(crossing.airflow, below, &target), path.bound);
            within_air(reach, other_end.filter(|_| below.is_none()), blower.density_ratio, &target)
        });
        let spread = path.spreads.taps.get(index).copied().flatten().unwrap_or_default();
        Ok(TapPoint {
            spread,
            gain: path.start.gain(&crossing, shape),
            standing: path.standing_of(&crossing, index, is_measured),
            bound: path.bound,
            below,
            of_target: blower.target.map(|target| crossing.airflow / target.actual),
            reach,
            per_ton: self.capacity.map(|capacity| per_ton(standard, capacity)),
            power,
            rises: self.rises((&crossing, below), (spread.airflow, is_measured), power, path.bound),
            plate: table
                .rated_maximum
                .map(|limit| plate::judge(crossing.tesp, limit, blower.entry_ratio, path.static_spread)),
            barred: curve.and_then(|curve| Some(curve.barred_at(crossing.entry)?.note.clone())),
            note: curve.and_then(|curve| curve.note_near(crossing.entry).map(str::to_owned)),
            other_end,
            crossing,
        })
    }

    /// The rise of each heating stage at a crossing; on which side of its range only where that is sure.
    ///
    /// What a thermometer read in the call that ran stands before what is reckoned.
    fn rises(
        &self,
        (crossing, below): (&Crossing, Option<Airflow>),
        (spread, is_measured): (Airflow, bool),
        power: Option<Power>,
        bound: Bound,
    ) -> Vec<StageRise> {
        let read = self.job.set().heat.rise.filter(|_| is_measured);
        let of_stage = |stage: &HeatStage| {
            let air = Air { airflow: crossing.airflow, spread, below };
            let warmed = match read.filter(|_| stage.call == self.blower.call) {
                Some(read) => Warmed::read(self.job, read),
                None => Warmed::by_heat(self.job, self.table, stage, (power, &air), bound),
            };
            stage_rise(stage, &warmed, &air)
        };
        self.table.heating.iter().map(of_stage).collect()
    }
}

impl KnownPath<'_> {
    fn standing_of(&self, crossing: &Crossing, tap: usize, is_measured: bool) -> Standing {
        let laws = if is_measured { PathStanding::Measured } else { laws_standing(self.parts) };
        let is_by_table = self.only_tap.is_some_and(|only| only != tap);
        let is_whole = self.bound.is_exact() && !self.is_assumed && !is_by_table;
        let rest = if is_whole { PathStanding::Measured } else { PathStanding::Assumed };
        let here = Standing { curve: crossing.standing, ..self.standing };
        here.worse(self.standing).with_path(laws).with_path(rest)
    }
}

/// What of a reach is sure: with less air what is short stays short, with more what is too much stays too much.
const fn within_bound(reach: Reach, bound: Bound) -> Reach {
    match reach {
        Reach::Short if !bound.more => Reach::Short,
        Reach::TooMuch if !bound.less => Reach::TooMuch,
        Reach::InBand if bound.is_exact() => Reach::InBand,
        Reach::Short | Reach::TooMuch | Reach::InBand | Reach::NotSaid => Reach::NotSaid,
    }
}

/// What of a reach is sure in this air: where the two ends of what the motor may do lie on different sides of the band's edge, nothing read so far decides.
pub(crate) fn within_air(reach: Reach, other_end: Option<Airflow>, density_ratio: f64, target: &TargetBand) -> Reach {
    let is_in_doubt = (1.0 - density_ratio).abs() > thin_air::DENSITY_DOUBT;
    match other_end.filter(|_| is_in_doubt).map(|other| self::reach(other, None, target)) {
        Some(other) if other != reach => Reach::NotSaid,
        Some(_) | None => reach,
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

/// The rise of a stage of which only the most of its airflow is known: at least this, and sure only where it is over the plate's range; a rise that was read stands before it.
pub fn rise_below(
    job: &Job,
    table: &BlowerTable,
    stage: &HeatStage,
    below: Airflow,
    read: Option<TemperatureRise>,
) -> StageRise {
    let air = Air { airflow: below, spread: Airflow::ZERO, below: Some(below) };
    let by_heat = || Warmed::by_heat(job, table, stage, (job.set().power, &air), Bound { less: true, more: false });
    let warmed = read.map_or_else(by_heat, |read| Warmed::read(job, read));
    stage_rise(stage, &warmed, &air)
}

/// ± of a rise that was read, 95 %: two thermometers, each by itself.
pub fn rise_spread(job: &Job) -> TemperatureRise {
    job.accuracy.thermometer * (COVERAGE * from_limit(2.0_f64.sqrt()))
}

/// Airflow a ton, both at standard air.
pub fn per_ton(standard: Airflow, capacity: Capacity) -> Airflow {
    standard / capacity.tons()
}

/// The air that passes a heating stage.
struct Air {
    airflow: Airflow,
    spread: Airflow,
    /// Off the table the published bound of the airflow.
    below: Option<Airflow>,
}

/// A temperature rise, and how it is known.
struct Warmed {
    rise: TemperatureRise,
    at_least: Option<TemperatureRise>,
    spread: TemperatureRise,
    heat_share: f64,
    bound: Bound,
}

impl Warmed {
    /// By two thermometers.
    fn read(job: &Job, rise: TemperatureRise) -> Self {
        Self { rise, at_least: None, spread: rise_spread(job), heat_share: 1.0, bound: Bound::default() }
    }

    /// By the heat that the air gets.
    fn by_heat(
        job: &Job,
        table: &BlowerTable,
        stage: &HeatStage,
        (power, air): (Option<Power>, &Air),
        bound: Bound,
    ) -> Self {
        let density = job.set().air.at_blower(table.kind, stage.call).density;
        let (heat, heat_share) = targets::heat(job, table, stage, power);
        let with = |airflow| target::rise_at(heat, airflow, density);
        let rise = with(air.airflow);
        Self { rise, at_least: air.below.map(with), spread: rise * (air.spread / air.airflow), heat_share, bound }
    }
}

fn stage_rise(stage: &HeatStage, warmed: &Warmed, air: &Air) -> StageRise {
    let &Warmed { rise, at_least, spread, heat_share, bound } = warmed;
    let side = |(low, high): (TemperatureRise, TemperatureRise)| {
        if rise < low {
            RiseSide::UnderRange
        } else if rise > high {
            RiseSide::OverRange
        } else {
            RiseSide::InRange
        }
    };
    let side = stage.rise.map(side).filter(|side| is_sure_side(*side, bound));
    // Over it by the published bound already, it is so for sure.
    let is_sure = |limit: &TemperatureRise| at_least.is_some_and(|least| least > *limit);
    let near = |limit: &TemperatureRise| (rise.f() - limit.f()).abs() <= spread.f() && !is_sure(limit);
    StageRise {
        call: stage.call,
        rise,
        at_least,
        spread,
        side,
        at_limit: stage.rise.filter(|_| side.is_some()).and_then(|(low, high)| [low, high].into_iter().find(near)),
        heat_share,
        least_air: stage.minimum_airflow.map(|least| LeastAir::of(least, (air.airflow, air.spread), air.below)),
    }
}
