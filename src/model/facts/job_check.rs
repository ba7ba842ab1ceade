//! What cannot be right, or is odd, in what a person typed: one sentence each, at its field.

mod values;

use crate::model::facts::air::standard_pressure;
use crate::model::facts::air_path::{PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::job::Job;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::facts::table_check::{Severity, tap_names};
use crate::model::path::parts::astray::{Astray, Why, astray};
use crate::model::path::parts::{Part, Segment, segments};
use crate::model::path::tesp::{ReadDifference, StaticBudget};
use crate::model::verdicts::duct_budget::{DuctDesign, PathSide};
use crate::units::{Airflow, Pressure, UnitSystem, show};

pub use values::{
    accept_band, altitude, capacity, design_static, effective_length, exponent, flow_of_way, humidity, is_flow_of_way,
    power, price, reading, share, station_pressure, target, temperature, voltage,
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
