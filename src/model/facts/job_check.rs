//! What cannot be right, or is odd, in what a person typed: one sentence each, at its field.

mod values;

use crate::model::facts::air::standard_pressure;
use crate::model::facts::air_path::{RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::duct::design::{DuctDesign, PathSide};
use crate::model::facts::job::Job;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::facts::table_check::{Severity, tap_names};
use crate::units::{Pressure, UnitSystem, show};

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

/// True while a reading's sign waits for a person's word.
pub fn sign_in_doubt(job: &Job) -> bool {
    let set = job.set();
    let average = |at| set.at(at).and_then(Reading::average).unwrap_or_default();
    !set.signs_confirmed
        && (average(ReadAt::Port(RETURN_PORT)) > Pressure::ZERO
            || average(ReadAt::Port(SUPPLY_PORT)) < Pressure::ZERO
            || average(ReadAt::Total) < Pressure::ZERO)
}
