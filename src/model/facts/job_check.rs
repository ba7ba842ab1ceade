//! What cannot be right, or is odd, in what a person typed, as data at its field; [`crate::model::wording::problems`] makes the sentences.

use jiff::civil::{DateTime, Time};

use crate::model::facts::air::standard_pressure;
use crate::model::facts::air_path::fault::{PathFault, Side};
use crate::model::facts::air_path::{RETURN_PORT, SUPPLY_PORT, Way};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::day::{NotADay, day};
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::job::{ODD_READING, PER_TON, READING};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet, name_of_set};
use crate::model::facts::severity::Severity;
use crate::model::facts::target::Target;
use crate::units::{Airflow, Altitude, Barometer, Capacity, HeatRate, Pressure, Temperature};

/// The field that a remark belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Static before the blower.
    ReturnReading,
    /// Static after the blower.
    SupplyReading,
    /// Total external static as one number.
    TotalReading,
    /// The drop across one element.
    AcrossReading,
    /// The tap in use.
    Tap,
    /// The target.
    Target,
    /// A number of the job.
    Number(JobNumber),
    /// The chain of elements.
    Path,
    /// The opinion on the airflow in the table's place.
    Anchor,
    /// When the readings were taken.
    Time,
    /// The job's date.
    Date,
    /// Until when prices hold.
    ValidUntil,
}

impl Field {
    /// The field of a reading; any port that is not the one before the blower counts as after it.
    pub const fn of_reading(at: ReadAt) -> Self {
        match at {
            ReadAt::Port(port) if port.0 == RETURN_PORT.0 => Self::ReturnReading,
            ReadAt::Port(_) => Self::SupplyReading,
            ReadAt::Total => Self::TotalReading,
            ReadAt::Across(_) => Self::AcrossReading,
        }
    }
}

/// One remark.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Where.
    pub field: Field,
    /// How grave.
    pub severity: Severity,
    /// What it is.
    pub what: Oddity,
}

/// What cannot be right or is odd.
#[derive(Clone, Debug, PartialEq)]
pub enum Oddity {
    /// A number out of its range.
    OutOfRange(OutOfRange),
    /// A tap that the table does not have.
    UnknownTap {
        /// What the table calls such a thing.
        word: &'static str,
        /// The tap that was named.
        tap: String,
        /// Those that there are.
        there: Vec<String>,
    },
    /// An air path that cannot be.
    Path(PathFault),
    /// A station pressure that looks like the weather service's sea-level figure.
    SeaLevelPressure {
        /// As read.
        station: Barometer,
        /// Height of the house.
        altitude: Altitude,
        /// What the place itself would read.
        standard: Barometer,
    },
    /// A design static over the rated maximum.
    DesignOverPlate {
        /// As stated.
        design: Pressure,
        /// The rated maximum.
        plate: Pressure,
    },
    /// The judged set, by its name, was taken before an earlier one of the visit.
    OutOfOrder {
        /// The judged set's name.
        set: String,
        /// The earlier set's.
        earlier: String,
        /// The judged set's time, and the earlier one's, as typed.
        times: [String; 2],
    },
    /// A date that is in no calendar.
    NoSuchDay(NotADay),
    /// Prices that hold until a day before the job's own.
    RunOut {
        /// Until when.
        until: String,
        /// The job's date.
        date: String,
    },
    /// A reading ten times an everyday one.
    OddReading(Pressure),
    /// An opinion that should stand in the table's place, which its readings do not give, by their name.
    NoOpinion(OpinionKind, String),
    /// A reading whose sign is not the usual one of its place.
    UnusualSign(ReadAt, Pressure),
    /// Static that rises along the flow between two ports.
    Rises {
        /// By how much.
        by: Pressure,
        /// Name of the element before the first port; nothing for the rooms.
        from: Option<String>,
        /// Name of the element before the second port; nothing for the rooms.
        to: Option<String>,
        /// True where a widening duct or the two readings may explain it.
        may_be_a_widening: bool,
    },
    /// Parts that take more, or less, than was read over them.
    ContradictedData {
        /// The parts.
        parts: Vec<String>,
        /// True where all that they take was read across them; false where it is by data.
        by_reading: bool,
        /// What they take.
        known: Pressure,
        /// At this airflow, by data.
        airflow: Airflow,
        /// What was read over them.
        read: Pressure,
    },
    /// A drop read across an element that the table contains, of which nothing says what it dropped when tested.
    NothingToHoldAgainst {
        /// Name of the element.
        name: String,
        /// What was read across it.
        read: Pressure,
    },
    /// Return air that no house has, and what it would be in the other unit.
    OtherDegrees {
        /// As given.
        given: Temperature,
        /// The same number, of the other unit.
        meant: Temperature,
    },
    /// A cooling capacity that no tap of the table moves an everyday airflow for.
    TonsDoNotFit {
        /// The capacity.
        capacity: Capacity,
        /// The least airflow in the table.
        least: Airflow,
        /// The most.
        most: Airflow,
    },
    /// Two capacities for one system.
    TonsDiffer {
        /// The outdoor unit's.
        outdoor: Capacity,
        /// The one that the target of cooling goes by.
        target: Capacity,
    },
    /// No static at all behind, or before, parts that drop.
    NoStatic {
        /// Where.
        side: Side,
        /// The parts, by name.
        parts: Vec<String>,
    },
    /// Looks at one place that no unsteady air explains.
    LooksApart {
        /// Where.
        at: ReadAt,
        /// The lowest.
        low: Pressure,
        /// The highest.
        high: Pressure,
    },
    /// A tap that the table maps another one to the call for.
    TapOfNoCall {
        /// What the table calls such a thing.
        word: &'static str,
        /// The tap that is said to have run.
        tap: String,
        /// The tap that the table maps to the call.
        mapped: String,
        /// The call.
        call: Call,
    },
    /// Ways side by side of which nobody said how the air is divided, by their group's name.
    AirNotDivided(String),
    /// A drop read across an element that was out of the path, by its name.
    AcrossOut(String, Pressure),
    /// A drop read across an element that is more than everything on its side reads.
    AcrossOverPort {
        /// Name of the element.
        name: String,
        /// What was read across it.
        across: Pressure,
        /// What the port of its side reads, without its sign.
        read: Pressure,
        /// The side.
        side: Side,
    },
    /// A reading that parts nothing.
    PartsNothing {
        /// Name of the element before its port.
        after: String,
        /// What it reads.
        read: Pressure,
        /// Why it parts nothing.
        why: PartsNothing,
    },
}

/// Why a reading parts nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PartsNothing {
    /// It is this much above the pressure before the ways, or before it in its way.
    TooHigh(Pressure),
    /// It is this much below the pressure behind the ways.
    TooLow(Pressure),
    /// It stands where the ways join.
    AtTheEnd,
    /// It stands in the chain between the two places that gave the difference across the machine.
    WithinMachine,
}

/// Every remark on a job.
pub fn check(job: &Job) -> Vec<Problem> {
    let error = |field, what| Problem { field, severity: Severity::Error, what };
    let numbers = JobNumber::ALL.into_iter().filter_map(|number| {
        let refused = number.number().check(number.of(job)?).err()?;
        Some(error(Field::Number(number), Oddity::OutOfRange(refused)))
    });
    let mut targets = job.target.iter().chain(job.call_targets.iter().map(|own| &own.target));
    let target = targets.find_map(|target| target.check().err()).map(Oddity::OutOfRange);
    let path = job.machine.as_ref().and_then(|table| path_problem(job, table)).map(Oddity::Path);
    let looks = job.set().readings.iter().flat_map(|read| read.looks.iter().map(|look| (read.at, *look)));
    let readings = looks.filter_map(|(at, look)| {
        let refused = READING.check(look.in_wc()).err()?;
        Some(error(Field::of_reading(at), Oddity::OutOfRange(refused)))
    });
    let mut problems: Vec<Problem> = numbers.collect();
    problems.extend(target.map(|what| error(Field::Target, what)));
    problems.extend(path.map(|what| error(Field::Path, what)));
    problems.extend(readings);
    problems.extend(unknown_tap(job).map(|what| error(Field::Tap, what)));
    let ask = |(field, what)| Problem { field, severity: Severity::Question, what };
    problems.extend(questions(job).into_iter().map(ask));
    problems
}

fn path_problem(job: &Job, table: &BlowerTable) -> Option<PathFault> {
    job.path.problem().or_else(|| job.path.bypass_within(&table.basis))
}

/// An earlier set that was taken later, where both say a time of day, or both a day and a time (ISO 8601).
fn out_of_order(job: &Job) -> Option<Oddity> {
    let set = job.set();
    let day = |text: &str| text.trim().parse::<DateTime>().ok();
    let time = |text: &str| text.trim().parse::<Time>().ok();
    let is_later = |other: &str| match (day(other), day(&set.time)) {
        (Some(other), Some(own)) => other > own,
        (None, None) => time(other).zip(time(&set.time)).is_some_and(|(other, own)| other > own),
        (Some(_), None) | (None, Some(_)) => false,
    };
    let (index, earlier) = job.sets.iter().enumerate().take(job.judged).find(|(_, other)| is_later(&other.time))?;
    Some(Oddity::OutOfOrder {
        set: name_of_set(job.judged, &set.name),
        earlier: name_of_set(index, &earlier.name),
        times: [&set.time, &earlier.time].map(|time| time.trim().to_owned()),
    })
}

/// Dates that never were, and prices that hold until a day before the job's own.
fn odd_days(job: &Job) -> Vec<(Field, Oddity)> {
    let dates = [(Field::Date, &job.date), (Field::ValidUntil, &job.costs.valid_until)];
    let days = dates.map(|(field, text)| (field, day(text)));
    let run_out = match &days {
        [(_, Ok(Some(date))), (_, Ok(Some(until)))] if until < date => {
            let [date, until] = [date, until].map(ToString::to_string);
            Some((Field::ValidUntil, Oddity::RunOut { until, date }))
        }
        _ => None,
    };
    let never_were = days.into_iter().filter_map(|(field, read)| Some((field, Oddity::NoSuchDay(read.err()?))));
    never_were.chain(run_out).collect()
}

fn unknown_tap(job: &Job) -> Option<Oddity> {
    let (table, tap) = job.machine.as_ref().zip(job.tap_in_use())?;
    Oddity::of_tap(table, tap)
}

impl Oddity {
    /// A tap that a table does not have; nothing where it has it.
    pub fn of_tap(table: &BlowerTable, tap: &str) -> Option<Self> {
        table.tap(tap).is_none().then(|| Self::UnknownTap {
            word: table.motor.tap_word(),
            tap: tap.to_owned(),
            there: table.taps.iter().map(|tap| tap.name.clone()).collect(),
        })
    }
}

fn questions(job: &Job) -> Vec<(Field, Oddity)> {
    let set = job.set();
    let mut odd = Vec::new();
    if set.air.looks_like_sea_level_pressure() {
        let (station, altitude) = (set.air.pressure(), set.air.altitude);
        let what = Oddity::SeaLevelPressure { station, altitude, standard: standard_pressure(altitude) };
        odd.push((Field::Number(JobNumber::StationPressure), what));
    }
    odd.extend(other_degrees(set.air.temperature).map(|what| (Field::Number(JobNumber::Temperature), what)));
    if let Some(table) = &job.machine {
        odd.extend(tons_that_do_not_fit(job, table));
        odd.extend(tap_of_no_call(set, table).map(|what| (Field::Tap, what)));
    }
    odd.extend(heat_of_no_machine(set));
    odd.extend(out_of_order(job).map(|what| (Field::Time, what)));
    odd.extend(odd_days(job));
    odd.extend(tons_that_differ(job).map(|what| (Field::Number(JobNumber::OutdoorUnit), what)));
    odd.extend(air_not_divided(job).map(|what| (Field::Path, what)));
    odd.extend(across_in_doubt(job).map(|what| (Field::AcrossReading, what)));
    odd.extend(design_over_plate(job).map(|what| (Field::Number(JobNumber::DesignStatic), what)));
    for at in USUALLY_SIGNED {
        let Some(average) = set.at(at).and_then(Reading::average) else {
            continue;
        };
        // What no blower makes is an error already.
        if average.in_wc().abs() > ODD_READING && READING.check(average.in_wc()).is_ok() {
            odd.push((Field::of_reading(at), Oddity::OddReading(average)));
        }
        if !set.signs_confirmed && is_unusual(at, average) {
            odd.push((Field::of_reading(at), Oddity::UnusualSign(at, average)));
        }
        odd.extend(no_static(job, at, average).map(|what| (Field::of_reading(at), what)));
    }
    odd.extend(set.readings.iter().filter_map(looks_apart));
    let across = set.readings.iter().filter(|reading| matches!(reading.at, ReadAt::Across(_)));
    let backwards = across.filter_map(|reading| Some((reading.at, reading.average()?)));
    odd.extend(
        backwards
            .filter(|(_, average)| *average < Pressure::ZERO)
            .map(|(at, average)| (Field::AcrossReading, Oddity::UnusualSign(at, average))),
    );
    odd
}

/// What air comes back from houses, °F: from one that stands cold in winter to one that stands hot in summer (common practice, no source).
const AIR_OF_HOUSES: std::ops::RangeInclusive<f64> = 45.0..=105.0;

/// Air that no house has, where the same number of the other unit is air that one has.
fn other_degrees(given: Temperature) -> Option<Oddity> {
    let meant = if given.f() < *AIR_OF_HOUSES.start() {
        Temperature::from_c(given.f())
    } else {
        Temperature::from_f(given.c())
    };
    let is_meant = !AIR_OF_HOUSES.contains(&given.f()) && AIR_OF_HOUSES.contains(&meant.f());
    is_meant.then_some(Oddity::OtherDegrees { given, meant })
}

/// Tons that a person has stated, of which no row of the table moves what is usual for a ton.
fn tons_that_do_not_fit(job: &Job, table: &BlowerTable) -> Option<(Field, Oddity)> {
    let of_target = match job.target {
        Some(Target::PerTon { capacity, .. }) => Some((Field::Target, capacity)),
        Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => None,
    };
    let outdoor = job.outdoor_unit.map(|capacity| (Field::Number(JobNumber::OutdoorUnit), capacity));
    let (field, capacity) = of_target.or(outdoor)?;
    let (low, high) = PER_TON.usual?;
    let moved = || table.taps.iter().flat_map(|tap| tap.data.airflows()).map(Airflow::cfm);
    let (least, most) = (moved().fold(f64::INFINITY, f64::min), moved().fold(0.0, f64::max));
    let misfits = most < low * capacity.tons() || least > high * capacity.tons();
    let (least, most) = (Airflow::from_cfm(least), Airflow::from_cfm(most));
    (misfits && moved().next().is_some()).then_some((field, Oddity::TonsDoNotFit { capacity, least, most }))
}

/// What the outdoor unit and the target of cooling are said to have, where that is not the same.
fn tons_that_differ(job: &Job) -> Option<Oddity> {
    let outdoor = job.outdoor_unit?;
    match job.target_of(Call::CoolingHigh)? {
        Target::PerTon { capacity: target, .. } if (outdoor.tons() - target.tons()).abs() > SAME_TONS => {
            Some(Oddity::TonsDiffer { outdoor, target })
        }
        Target::PerTon { .. } | Target::Airflow(_) | Target::HeatRise { .. } => None,
    }
}

/// Capacities nearer than this are one: machines come in half tons, and what was measured of one is another figure (common practice, no source).
const SAME_TONS: f64 = 0.5;

/// True for a heat input that a machine of a house takes.
pub fn heat_can_be(input: HeatRate) -> bool {
    JobNumber::HeatInput.number().check(input.btuh()).is_ok()
}

/// A meter that was clocked, or a current, which comes to a heat that no machine takes.
fn heat_of_no_machine(set: &ReadingSet) -> Option<(Field, Oddity)> {
    let input = set.heat_input().filter(|_| set.heat.input.is_none())?;
    let refused = JobNumber::HeatInput.number().check(input.btuh()).err()?;
    let clocked = set.heat.meter_seconds.is_some() && set.heat.meter_dial.is_some() && set.heat.heating_value.is_some();
    let field = if clocked { JobNumber::MeterSeconds } else { JobNumber::HeaterAmps };
    Some((Field::Number(field), Oddity::OutOfRange(refused)))
}

/// Readings under this show as 0.00.
const NO_STATIC: Pressure = Pressure::from_in_wc(0.005);

/// No static between parts that drop and the blower.
fn no_static(job: &Job, at: ReadAt, average: Pressure) -> Option<Oddity> {
    let ReadAt::Port(port) = at else { return None };
    let passed = job.path.elements_before(port).filter(|_| average.abs() < NO_STATIC)?;
    let is_before = job.path.is_before_blower(port)?;
    let (before, behind) = job.path.elements.split_at_checked(passed)?;
    let (side, there) = if is_before { (Side::Before, before) } else { (Side::After, behind) };
    let there = there.iter().filter(|element| !job.set().parts_out.contains(&element.id));
    let parts: Vec<String> = there.map(|element| job.path.said(element.id)).collect();
    (!parts.is_empty()).then_some(Oddity::NoStatic { side, parts })
}

/// Looks at one place may lie this far apart, and by half of what is read there (common practice, no source).
const APART: Pressure = Pressure::from_in_wc(0.10);

fn looks_apart(reading: &Reading) -> Option<(Field, Oddity)> {
    let by_size = |one: &&Pressure, other: &&Pressure| one.in_wc().total_cmp(&other.in_wc());
    let (low, high) = (*reading.looks.iter().min_by(by_size)?, *reading.looks.iter().max_by(by_size)?);
    let is_apart = high - low > APART.max(reading.average()?.abs() * 0.5);
    is_apart.then_some((Field::of_reading(reading.at), Oddity::LooksApart { at: reading.at, low, high }))
}

fn tap_of_no_call(set: &ReadingSet, table: &BlowerTable) -> Option<Oddity> {
    let tap = set.tap.as_ref().filter(|tap| table.tap(tap).is_some())?;
    let mapped = table.tap_of_call(set.call).filter(|mapped| mapped != tap && table.tap(mapped).is_some())?;
    let word = table.motor.tap_word();
    Some(Oddity::TapOfNoCall { word, tap: tap.clone(), mapped: mapped.to_owned(), call: set.call })
}

/// Groups with several ways whose share is neither stated nor follows from data.
fn air_not_divided(job: &Job) -> impl Iterator<Item = Oddity> {
    let is_open = |way: &&Way| way.flow.is_none() && way.elements.iter().any(|element| element.drop.is_none());
    let groups = job.path.all().into_iter().filter(|element| element.is_group());
    groups
        .filter(move |group| group.ways.iter().filter(is_open).count() > 1)
        .map(|group| Oddity::AirNotDivided(group.name().to_owned()))
}

/// Drops read across parts that were out, or that are more than the port of their side reads in all.
fn across_in_doubt(job: &Job) -> impl Iterator<Item = Oddity> {
    let (path, set) = (&job.path, job.set());
    set.readings.iter().filter_map(|reading| {
        let ReadAt::Across(id) = reading.at else { return None };
        let (name, across) = (path.said(id), set.across(id)?);
        if set.parts_out.contains(&id) {
            return Some(Oddity::AcrossOut(name, across));
        }
        let (at, blower) = (path.index_of(id)?, path.blower()?);
        let (side, port) = if at < blower { (Side::Before, RETURN_PORT) } else { (Side::After, SUPPLY_PORT) };
        let port_at = path.elements_before(port)?;
        // Between the rooms and its side's port.
        let lies_within = if at < blower { at < port_at } else { at >= port_at };
        let read = set.at(ReadAt::Port(port))?.average()?.abs();
        let is_over = lies_within && across > read + job.accuracy.port_offset * 2.0;
        is_over.then_some(Oddity::AcrossOverPort { name, across, read, side })
    })
}

/// A system is designed under its machine's rating plate.
fn design_over_plate(job: &Job) -> Option<Oddity> {
    let DuctDesign { design_static: Some(design), .. } = job.ducts else {
        return None;
    };
    let plate = job.machine.as_ref()?.rated_maximum.filter(|plate| design > *plate)?;
    Some(Oddity::DesignOverPlate { design, plate })
}

/// Places whose readings have a usual sign.
const USUALLY_SIGNED: [ReadAt; 3] = [ReadAt::Port(RETURN_PORT), ReadAt::Port(SUPPLY_PORT), ReadAt::Total];

/// A plus before the blower, a minus after it or as the total.
fn is_unusual(at: ReadAt, average: Pressure) -> bool {
    match Field::of_reading(at) {
        Field::ReturnReading => average > Pressure::ZERO,
        Field::SupplyReading | Field::TotalReading => average < Pressure::ZERO,
        Field::AcrossReading
        | Field::Tap
        | Field::Target
        | Field::Number(_)
        | Field::Path
        | Field::Anchor
        | Field::Time
        | Field::Date
        | Field::ValidUntil => false,
    }
}

/// True while a reading's sign waits for a person's word.
pub fn sign_in_doubt(job: &Job) -> bool {
    let set = job.set();
    let doubtful = |at| set.at(at).and_then(Reading::average).is_some_and(|average| is_unusual(at, average));
    !set.signs_confirmed && USUALLY_SIGNED.into_iter().any(doubtful)
}
