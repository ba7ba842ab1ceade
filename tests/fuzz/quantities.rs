//! Typed quantities of every kind, in every system of units.

use std::collections::HashSet;

use tapcross::units::text::{self, TextError};
use tapcross::units::{UnitSystem, Voltage, show};

use crate::campaign::Verdict;
use crate::{require, sentences};

const SYSTEMS: [UnitSystem; 3] = [UnitSystem::InchPound, UnitSystem::SiLitres, UnitSystem::SiCubicMetres];

/// Most of a typed number that the screens could ever show: beyond it a text need only be a number.
const SHOWN_UP_TO: f64 = 1e9;

/// Most typed texts of one input; each is read some forty times, and every sentence about it is looked through.
const MOST_LINES: usize = 200;

/// What came of one typed text: the number that is stored and how it is shown, or the sentence.
type Typed = Result<(f64, String), TextError>;

/// Reads a text as one kind of quantity.
type Read = fn(&str, UnitSystem) -> Typed;

/// One row a kind: its name, how it is read, and how it is shown.
macro_rules! kinds {
    ($($name:literal: $read:path, $get:ident, $show:expr;)*) => {
        &[$(($name, |typed: &str, units: UnitSystem| {
            let value = $read(typed, units)?;
            let shown: String = $show(value, units);
            Ok((value.$get(), shown))
        }),)*]
    };
}

const KINDS: &[(&str, Read)] = kinds! {
    "static": text::pressure, in_wc, show::pressure_bare;
    "airflow": text::airflow, cfm, show::airflow_bare;
    "temperature": text::temperature, f, show::temperature_bare;
    "rise": text::temperature_rise, f, show::rise_bare;
    "altitude": text::altitude, ft, show::altitude_bare;
    "barometer": text::barometer, kpa, show::barometer_bare;
    "heat": text::heat_rate, btuh, show::heat_bare;
    "capacity": text::capacity, tons, show::capacity_bare;
    "watts": power, watts, |value, _| show::power_bare(value);
    "size": text::dimension, inches, show::dimension_bare;
    "length": text::length, ft, show::length_bare;
    "face": text::area, in2, show::area;
    "velocity": text::velocity, fpm, show::velocity_bare;
    "friction rate": text::friction_rate, in_wc_100ft, show::friction_rate_bare;
};

fn power(typed: &str, _units: UnitSystem) -> Result<tapcross::units::Power, TextError> {
    text::power(typed)
}

/// Every line is a typed text, tried as every kind of quantity.
pub(crate) fn lines(input: &[u8]) -> Verdict {
    let whole = String::from_utf8_lossy(input);
    let mut shape = String::new();
    let mut seen = HashSet::new();
    for line in whole.split('\n').filter(|line| seen.insert(*line)).take(MOST_LINES) {
        for (name, read) in KINDS {
            for units in SYSTEMS {
                let came = read(line, units);
                shape.push(match &came {
                    Ok(_) => 'n',
                    Err(TextError::Empty) => 'e',
                    Err(TextError::NotANumber(_)) => 'o',
                    Err(TextError::WrongUnit { .. }) => 'u',
                });
                holds(name, line, units, &came, *read)?;
            }
        }
        plain(line)?;
    }
    Ok(shape)
}

fn holds(name: &str, line: &str, units: UnitSystem, came: &Typed, read: Read) -> Result<(), String> {
    match came {
        Err(error) => {
            sentences::check(&error.to_string(), line)?;
            sentences::check(&error.of_field("Field", "0.31"), line)
        }
        Ok((value, _)) if !value.is_finite() => Err(format!("{name} {line:?} in {units:?} is {value}")),
        Ok((value, shown)) if value.abs() < SHOWN_UP_TO => {
            let again = read(shown, units)
                .map_err(|error| format!("{name} {line:?} in {units:?} is shown as {shown:?}: {error}"))?;
            require(again.1 == *shown, || {
                format!("{name} {line:?} in {units:?} is shown as {shown:?}, which reads as {:?}", again.1)
            })
        }
        Ok(_) => Ok(()),
    }
}

/// Quantities of one unit.
fn plain(line: &str) -> Result<(), String> {
    for (name, came) in [("volts", text::voltage(line).map(Voltage::volts)), ("percent", text::percent(line))] {
        match came {
            Ok(value) => require(value.is_finite(), || format!("{name} {line:?} is {value}"))?,
            Err(error) => sentences::check(&error.to_string(), line)?,
        }
    }
    Ok(())
}
