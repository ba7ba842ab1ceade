//! What cannot be right, or is odd, in what a person typed: one sentence each, at its field.

use crate::model::air::{ALTITUDE_RANGE, standard_pressure};
use crate::model::air_path::{PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::duct_budget::{DuctDesign, PathSide};
use crate::model::job::Job;
use crate::model::limits::{CAPACITY_RANGE, DESIGN_STATIC_RANGE, LONGEST_EFFECTIVE_LENGTH};
use crate::model::path_parts::astray::{Astray, Why, astray};
use crate::model::path_parts::{Part, Segment, segments};
use crate::model::readings::{ReadAt, Reading};
use crate::model::table_check::{HIGHEST_AIRFLOW, HIGHEST_ESP, Severity, tap_names};
use crate::model::target::Target;
use crate::model::tesp::{ReadDifference, StaticBudget};
use crate::units::{
    Airflow, Altitude, Barometer, Capacity, HeatRate, Length, Power, Pressure, Temperature, TemperatureRise,
    UnitSystem, Voltage, show,
};

/// A reading past this is questioned: ten times an everyday one.
pub const ODD_READING: Pressure = Pressure::from_in_wc(1.5);

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
    /// Capacity of the outdoor unit.
    Capacity,
    /// Altitude.
    Altitude,
    /// Station pressure.
    StationPressure,
    /// Return air temperature.
    Temperature,
    /// Return air humidity.
    Humidity,
    /// Supply voltage.
    Voltage,
    /// Blower's watts.
    Power,
    /// Accepted band about the target.
    AcceptBand,
    /// Total effective length of the return.
    ReturnLength,
    /// Total effective length of the supply.
    SupplyLength,
    /// Design static.
    DesignStatic,
    /// The chain of elements.
    Path,
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

    /// The field of a side's total effective length.
    pub const fn of_length(side: PathSide) -> Self {
        match side {
            PathSide::Return => Self::ReturnLength,
            PathSide::Supply => Self::SupplyLength,
        }
    }
}

/// One remark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where.
    pub field: Field,
    /// How grave.
    pub severity: Severity,
    /// The sentence, in the stored units.
    pub message: String,
}

/// Every remark on a job.
pub fn check(job: &Job) -> Vec<Problem> {
    let set = job.set();
    let mut problems = Vec::new();
    let mut error = |field, result: Result<(), String>| {
        if let Err(message) = result {
            problems.push(Problem { field, severity: Severity::Error, message });
        }
    };
    error(Field::Altitude, altitude(set.air.altitude));
    error(Field::Temperature, temperature(set.air.temperature));
    error(Field::Humidity, humidity(set.air.humidity));
    if let Some(pressure) = set.air.station_pressure {
        error(Field::StationPressure, station_pressure(pressure));
    }
    if let Some(target) = &job.target {
        error(Field::Target, self::target(target));
    }
    if let Some(voltage) = set.voltage {
        error(Field::Voltage, self::voltage(voltage));
    }
    if let Some(power) = set.power {
        error(Field::Power, self::power(power));
    }
    if let Some(capacity) = job.outdoor_unit {
        error(Field::Capacity, self::capacity(capacity));
    }
    error(Field::AcceptBand, accept_band(job.limits.accept_band));
    for side in PathSide::BOTH {
        error(Field::of_length(side), job.ducts.length(side).map_or(Ok(()), |length| effective_length(side, length)));
    }
    error(Field::DesignStatic, job.ducts.design_static.map_or(Ok(()), design_static));
    if let Some(table) = &job.machine {
        let problem = job.path.problem().or_else(|| job.path.bypass_within(&table.basis));
        error(Field::Path, problem.map_or(Ok(()), Err));
    }
    for taken in &set.readings {
        for look in &taken.looks {
            error(Field::of_reading(taken.at), reading(*look));
        }
    }
    error(Field::Tap, known_tap(job));
    problems.extend(questions(job));
    problems
}

fn known_tap(job: &Job) -> Result<(), String> {
    let (Some(table), Some(tap)) = (&job.machine, job.tap_in_use()) else {
        return Ok(());
    };
    if table.tap(tap).is_some() {
        return Ok(());
    }
    let word = table.motor.tap_word();
    Err(format!("The table has no {word} \"{tap}\"; it has {}", tap_names(table)))
}

fn questions(job: &Job) -> Vec<Problem> {
    let set = job.set();
    let units = UnitSystem::InchPound;
    let mut problems = Vec::new();
    let mut ask = |field, message| {
        problems.push(Problem { field, severity: Severity::Question, message });
    };
    if set.air.looks_like_sea_level_pressure() {
        let station = set.air.pressure();
        ask(
            Field::StationPressure,
            format!(
                "{} at {} looks like the weather service's sea-level figure; the place itself would read about {}",
                show::barometer(station, units),
                show::altitude(set.air.altitude, units),
                show::barometer(standard_pressure(set.air.altitude), units)
            ),
        );
    }
    if let Some(message) = design_over_plate(job) {
        ask(Field::DesignStatic, message);
    }
    for (field, at) in [
        (Field::ReturnReading, ReadAt::Port(RETURN_PORT)),
        (Field::SupplyReading, ReadAt::Port(SUPPLY_PORT)),
        (Field::TotalReading, ReadAt::Total),
    ] {
        let Some(average) = set.at(at).and_then(Reading::average) else {
            continue;
        };
        if average.abs() > ODD_READING {
            ask(
                field,
                format!(
                    "{} is ten times an everyday reading; is it {}?",
                    show::pressure(average, units),
                    show::number(average.in_wc() / 10.0, 2)
                ),
            );
        }
        if !set.signs_confirmed
            && let Some(message) = sign_question(field, average)
        {
            ask(field, message);
        }
    }
    problems
}

/// A system is designed under its machine's rating plate.
fn design_over_plate(job: &Job) -> Option<String> {
    let DuctDesign { design_static: Some(design), .. } = job.ducts else {
        return None;
    };
    let plate = job.machine.as_ref()?.rated_maximum.filter(|plate| design > *plate)?;
    Some(format!(
        "A design static of {} is over the rated maximum of {}; is it meant so?",
        show::pressure(design, UnitSystem::InchPound),
        show::pressure_bare(plate, UnitSystem::InchPound)
    ))
}

fn sign_question(field: Field, average: Pressure) -> Option<String> {
    let shown = show::pressure_signed(average, UnitSystem::InchPound);
    match field {
        Field::ReturnReading if average > Pressure::ZERO => Some(format!(
            "{shown} before the blower: is the return pressurised, are the hoses swapped, or is it −{}?",
            show::number(average.in_wc(), 2)
        )),
        Field::SupplyReading if average < Pressure::ZERO => Some(format!(
            "{shown} after the blower: are the hoses swapped, or is it +{}?",
            show::number(-average.in_wc(), 2)
        )),
        Field::TotalReading if average < Pressure::ZERO => {
            Some(format!("A total of {shown}: are the hoses swapped, or is it {}?", show::number(-average.in_wc(), 2)))
        }
        _ => None,
    }
}

/// What a widening may give back: the velocity pressure of 900 fpm, the most that trunk ducts are laid out for (ANSI/ACCA 1 Manual D, recalled from memory).
const WIDENING: Pressure = Pressure::from_in_wc(0.05);

/// Questions about static that rises along the flow between two ports.
pub fn rising_pressures(job: &Job, read: &ReadDifference) -> Vec<Problem> {
    let place = |port: Option<PortId>| {
        let after = port.and_then(|id| job.path.name_of(job.path.port(id)?.after));
        after.map_or_else(|| "the rooms".to_owned(), |name| format!("the port after the {}", name.to_lowercase()))
    };
    let two_ports = job.accuracy.port_offset * 2.0;
    segments::rises(job, read)
        .into_iter()
        .map(|rise| {
            let why = if rise.by <= WIDENING + two_ports {
                "a widening duct or the two readings may explain it."
            } else {
                "no widening explains that; is a sign, a hose or the place of a port wrong?"
            };
            let by = show::pressure(rise.by, UnitSystem::InchPound);
            let message = format!(
                "Static rises by {by} along the flow from {} to {}: {why} What lies about it is taken as one stretch",
                place(rise.from),
                place(rise.to)
            );
            Problem { field: Field::Path, severity: Severity::Question, message }
        })
        .collect()
}

/// Questions about parts whose data ask for more, or less, than was read over them; parts inside the rating that ask for more than the whole side has.
pub fn contradicted_data(job: &Job, segments: &[Segment], budget: &StaticBudget, airflow: Airflow) -> Vec<Problem> {
    let two_ports = job.accuracy.port_offset * 2.0;
    let question = |message| Problem { field: Field::Path, severity: Severity::Question, message };
    let of_segments = segments.iter().filter(|segment| segment.is_contradicted(two_ports));
    let told = of_segments.map(|segment| question(contradiction(job, segment, airflow)));
    told.chain(inside_over_reading(budget, airflow).map(question)).collect()
}

/// "Filter: 0.24 in. w.c. by data at 1,030 cfm, but 0.18 was read …".
fn contradiction(job: &Job, segment: &Segment, airflow: Airflow) -> String {
    let names: Vec<&str> = segment.known.iter().filter_map(|id| job.path.name_of(*id)).collect();
    let units = UnitSystem::InchPound;
    format!(
        "{}: {} by data at {}, but {} was read over the stretch; the data, the reading or the place of a port is wrong. What was read counts",
        names.join(" and "),
        show::pressure(segment.known_drop, units),
        show::airflow(airflow, units),
        show::pressure_bare(segment.read, units),
    )
}

/// A side that would take less than nothing, though its port reads as it should.
fn inside_over_reading(budget: &StaticBudget, airflow: Airflow) -> Option<String> {
    let ReadDifference::Ports { before: (_, before), after: (_, after) } = budget.read else {
        return None;
    };
    let taken = budget.return_side(airflow)?;
    let sides = [("before", -before, taken), ("after", after, budget.tesp(airflow) - taken)];
    let (side, read, left) =
        sides.into_iter().find(|(_, read, left)| *read > Pressure::ZERO && *left < Pressure::ZERO)?;
    let units = UnitSystem::InchPound;
    Some(format!(
        "Inside the rating {} is taken {side} the blower by data at {}, more than the {} that its port reads; the data, the reading or the place of the port is wrong. The whole path is taken as one stretch",
        show::pressure(read - left, units),
        show::airflow(airflow, units),
        show::pressure_bare(read, units),
    ))
}

/// Questions about readings that part nothing: within ways side by side, or within the machine.
pub fn readings_astray(job: &Job, read: &ReadDifference, parts: &[Part]) -> Vec<Problem> {
    astray(job, read, parts)
        .into_iter()
        .filter_map(|Astray { port, why }| {
            let after = job.path.name_of(job.path.port(port)?.after)?.to_lowercase();
            let read = job.set().at(ReadAt::Port(port))?.average()?;
            let by = |pressure| show::pressure(pressure, UnitSystem::InchPound);
            let why = match why {
                Why::TooHigh(much) => format!("which is {} higher than before them", by(much)),
                Why::TooLow(much) => format!("which is {} lower than behind the ways", by(much)),
                Why::AtTheEnd => "where the ways join".to_owned(),
                Why::WithinMachine => String::new(),
            };
            let read = show::pressure_signed(read, UnitSystem::InchPound);
            let message = if why.is_empty() {
                format!("The port after the {after}, which reads {read}, stands between the two ports that the machine is read across; nothing is worked out from it")
            } else {
                format!("The port after the {after}, in one of several ways side by side, reads {read}, {why}; nothing is split by it")
            };
            Some(Problem { field: Field::Path, severity: Severity::Question, message })
        })
        .collect()
}

/// True while a reading's sign waits for a person's word.
pub fn sign_in_doubt(job: &Job) -> bool {
    let set = job.set();
    let average = |at| set.at(at).and_then(Reading::average).unwrap_or_default();
    !set.signs_confirmed
        && (average(ReadAt::Port(RETURN_PORT)) > Pressure::ZERO
            || average(ReadAt::Port(SUPPLY_PORT)) < Pressure::ZERO
            || average(ReadAt::Total) < Pressure::ZERO)
}

/// What a reading past all reason may have been meant as: its decimal point slipped, or pascals.
fn meant(value: Pressure) -> String {
    let slipped = value / 100.0;
    let pascals = Pressure::from_pa(value.in_wc());
    let mut meant = Vec::new();
    if slipped.abs() <= ODD_READING {
        meant.push(show::pressure(slipped, UnitSystem::InchPound));
    }
    if pascals.abs() <= ODD_READING {
        meant.push(format!("{} Pa", show::trimmed(pascals.pa(), 1)));
    }
    if meant.is_empty() { String::new() } else { format!("; was {} meant?", meant.join(" or ")) }
}

/// A reading within what a manometer on such a machine can show.
///
/// # Errors
/// The sentence.
pub fn reading(value: Pressure) -> Result<(), String> {
    if value.is_finite() && value.abs() <= HIGHEST_ESP {
        return Ok(());
    }
    Err(format!(
        "A reading of {} cannot be on such a blower; readings lie within ±{} in. w.c.{}",
        show::pressure(value, UnitSystem::InchPound),
        show::number(HIGHEST_ESP.in_wc(), 0),
        meant(value)
    ))
}

/// An altitude where people live.
///
/// # Errors
/// The sentence.
pub fn altitude(value: Altitude) -> Result<(), String> {
    let (low, high) = ALTITUDE_RANGE;
    in_range(value >= low && value <= high, || {
        format!(
            "An altitude of {} ft cannot be; houses stand between {} and {} ft",
            show::number(value.ft(), 0),
            show::number(low.ft(), 0),
            show::number(high.ft(), 0)
        )
    })
}

/// A relative humidity, as a fraction.
///
/// # Errors
/// The sentence.
pub fn humidity(value: f64) -> Result<(), String> {
    in_range((0.0..=1.0).contains(&value), || {
        format!("A relative humidity of {} % cannot be; it lies between 0 and 100 %", show::trimmed(value * 100.0, 1))
    })
}

/// Return air that a blower can breathe.
///
/// # Errors
/// The sentence.
pub fn temperature(value: Temperature) -> Result<(), String> {
    in_range((-40.0..=150.0).contains(&value.f()), || {
        format!("Return air of {} °F cannot be; it lies between −40 and 150 °F", show::trimmed(value.f(), 1))
    })
}

/// A pressure that a barometer on the ground can show.
///
/// # Errors
/// The sentence.
pub fn station_pressure(value: Barometer) -> Result<(), String> {
    in_range((40.0..=112.0).contains(&value.kpa()), || {
        format!(
            "A station pressure of {} in. Hg cannot be; it lies between 12 and 33 in. Hg",
            show::number(value.in_hg(), 2)
        )
    })
}

/// A supply voltage of the machines this program is for.
///
/// # Errors
/// The sentence.
pub fn voltage(value: Voltage) -> Result<(), String> {
    in_range((90.0..=500.0).contains(&value.volts()), || {
        format!("A supply of {} V cannot be; it lies between 90 and 500 V", show::trimmed(value.volts(), 1))
    })
}

/// Watts that a blower of the machines this program is for can take.
///
/// # Errors
/// The sentence.
pub fn power(value: Power) -> Result<(), String> {
    in_range((5.0..=10_000.0).contains(&value.watts()), || {
        format!("A blower of {} W cannot be; it lies between 5 and 10,000 W", show::trimmed(value.watts(), 1))
    })
}

/// A capacity of the machines this program is for.
///
/// # Errors
/// The sentence.
pub fn capacity(value: Capacity) -> Result<(), String> {
    let (low, high) = CAPACITY_RANGE;
    in_range(value >= low && value <= high, || {
        format!(
            "A capacity of {} ton cannot be; it lies between {} and {} ton",
            show::trimmed(value.tons(), 2),
            show::trimmed(low.tons(), 1),
            show::trimmed(high.tons(), 1)
        )
    })
}

/// An accepted band about the target, as a fraction.
///
/// # Errors
/// The sentence.
pub fn accept_band(value: f64) -> Result<(), String> {
    in_range((0.01..=0.5).contains(&value), || {
        format!("An accepted band of ±{} % cannot be; it lies between 1 and 50 %", show::trimmed(value * 100.0, 1))
    })
}

/// A total effective length of a house's ducts.
///
/// # Errors
/// The sentence.
pub fn effective_length(side: PathSide, value: Length) -> Result<(), String> {
    in_range(value > Length::ZERO && value <= LONGEST_EFFECTIVE_LENGTH, || {
        format!(
            "A {} length of {} ft cannot be; a total effective length is above 0 and at most {} ft",
            side.name(),
            show::trimmed(value.ft(), 1),
            show::number(LONGEST_EFFECTIVE_LENGTH.ft(), 0)
        )
    })
}

/// A static that a system can have been designed for.
///
/// # Errors
/// The sentence.
pub fn design_static(value: Pressure) -> Result<(), String> {
    let (low, high) = DESIGN_STATIC_RANGE;
    in_range(value >= low && value <= high, || {
        format!(
            "A design static of {} cannot be; it lies between {} and {} in. w.c.",
            show::pressure(value, UnitSystem::InchPound),
            show::trimmed(low.in_wc(), 2),
            show::trimmed(high.in_wc(), 2)
        )
    })
}

/// A target that a blower could move.
///
/// # Errors
/// The sentence.
pub fn target(value: &Target) -> Result<(), String> {
    match *value {
        Target::Airflow(airflow) => airflow_in_range("A target", airflow),
        Target::PerTon { capacity, per_ton } => {
            self::capacity(capacity)?;
            in_range((100.0..=1000.0).contains(&per_ton.cfm()), || {
                format!("{} cfm per ton cannot be; 350 to 450 is usual", show::trimmed(per_ton.cfm(), 1))
            })
        }
        Target::HeatRise { output, rise } => {
            heat_output(output)?;
            temperature_rise(rise)
        }
    }
}

fn heat_output(output: HeatRate) -> Result<(), String> {
    in_range((1_000.0..=500_000.0).contains(&output.btuh()), || {
        format!(
            "A heat output of {} Btu/h cannot be; it lies between 1,000 and 500,000 Btu/h",
            show::number(output.btuh(), 0)
        )
    })
}

fn temperature_rise(rise: TemperatureRise) -> Result<(), String> {
    in_range((5.0..=150.0).contains(&rise.f()), || {
        format!("A temperature rise of {} °F cannot be; it lies between 5 and 150 °F", show::trimmed(rise.f(), 1))
    })
}

fn airflow_in_range(what: &str, airflow: Airflow) -> Result<(), String> {
    in_range(airflow.is_finite() && airflow.cfm() >= 50.0 && airflow <= HIGHEST_AIRFLOW, || {
        format!(
            "{what} of {} cfm cannot be; it lies between 50 and {} cfm",
            show::trimmed(airflow.cfm(), 1),
            show::number(HIGHEST_AIRFLOW.cfm(), 0)
        )
    })
}

fn in_range(holds: bool, sentence: impl Fn() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(sentence()) }
}
