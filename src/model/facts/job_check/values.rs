//! What one value can be meant as: one range, declared once, and one sentence each.

use crate::model::facts::air::{ALTITUDE_RANGE, station_pressure_range};
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job_check::ODD_READING;
use crate::model::facts::limits::{
    ACCEPT_BAND_RANGE, CAPACITY_RANGE, DESIGN_STATIC_RANGE, HEAT_OUTPUT_RANGE, LEAST_FLOW, LONGEST_EFFECTIVE_LENGTH,
    PER_TON_RANGE, POWER_RANGE, RISE_RANGE, TEMPERATURE_RANGE, VOLTAGE_RANGE,
};
use crate::model::facts::numbers::duct::EXPONENTS;
use crate::model::facts::table_check::{HIGHEST_AIRFLOW, HIGHEST_ESP};
use crate::model::facts::target::Target;
use crate::units::{
    Airflow, Altitude, Barometer, Capacity, HeatRate, Length, Power, Pressure, Temperature, TemperatureRise,
    UnitSystem, Voltage, show,
};

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
    let (low, high) = TEMPERATURE_RANGE;
    in_range((low..=high).contains(&value), || {
        format!(
            "Return air of {} °F cannot be; it lies between {} and {} °F",
            show::trimmed(value.f(), 1),
            show::trimmed(low.f(), 1),
            show::trimmed(high.f(), 1)
        )
    })
}

/// A pressure that weather makes where people live.
///
/// # Errors
/// The sentence.
pub fn station_pressure(value: Barometer) -> Result<(), String> {
    let (low, high) = station_pressure_range();
    in_range((low..=high).contains(&value), || {
        format!(
            "A station pressure of {} in. Hg cannot be; it lies between {} and {} in. Hg",
            show::number(value.in_hg(), 2),
            show::number(low.in_hg(), 1),
            show::number(high.in_hg(), 1)
        )
    })
}

/// A supply voltage of the machines this program is for.
///
/// # Errors
/// The sentence.
pub fn voltage(value: Voltage) -> Result<(), String> {
    let (low, high) = VOLTAGE_RANGE;
    in_range((low..=high).contains(&value), || {
        format!(
            "A supply of {} V cannot be; it lies between {} and {} V",
            show::trimmed(value.volts(), 1),
            show::number(low.volts(), 0),
            show::number(high.volts(), 0)
        )
    })
}

/// Watts that a blower of the machines this program is for can take.
///
/// # Errors
/// The sentence.
pub fn power(value: Power) -> Result<(), String> {
    let (low, high) = POWER_RANGE;
    in_range((low..=high).contains(&value), || {
        format!(
            "A blower of {} W cannot be; it lies between {} and {} W",
            show::trimmed(value.watts(), 1),
            show::number(low.watts(), 0),
            show::number(high.watts(), 0)
        )
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
    let (low, high) = ACCEPT_BAND_RANGE;
    in_range((low..=high).contains(&value), || {
        let percent = |fraction: f64| show::trimmed(fraction * 100.0, 1);
        format!(
            "An accepted band of ±{} % cannot be; it lies between {} and {} %",
            percent(value),
            percent(low),
            percent(high)
        )
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

/// An element's share of its stretch, as a fraction.
///
/// # Errors
/// The sentence.
pub fn share(value: f64) -> Result<(), String> {
    in_range((0.0..=1.0).contains(&value), || {
        format!("A share of {} % cannot be; it lies between 0 and 100 %", show::trimmed(value * 100.0, 1))
    })
}

/// True for a share of a group's air, as a fraction, that a way can take beside others.
pub fn is_flow_of_way(value: f64) -> bool {
    (LEAST_FLOW..=1.0 - LEAST_FLOW).contains(&value)
}

/// A way's share of its group's air, as a fraction.
///
/// # Errors
/// The sentence.
pub fn flow_of_way(value: f64) -> Result<(), String> {
    in_range(is_flow_of_way(value), || {
        let shown = show::trimmed(value * 100.0, 0);
        format!("A way with {shown} % of the air cannot be; its share lies between 0 and 100 %")
    })
}

/// An exponent of a part's drop.
///
/// # Errors
/// The sentence.
pub fn exponent(value: f64) -> Result<(), String> {
    let (low, high) = EXPONENTS;
    in_range((low..=high).contains(&value), || {
        format!("An exponent of {} cannot be; it lies between {low} and {high}", show::trimmed(value, 4))
    })
}

/// A price of a change, in a person's own money.
///
/// # Errors
/// The sentence.
pub fn price(value: f64) -> Result<(), String> {
    in_range(value.is_finite() && value >= 0.0, || {
        format!("A price of {} cannot be; it is zero or more", show::trimmed(value, 2))
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
            in_range((PER_TON_RANGE.0..=PER_TON_RANGE.1).contains(&per_ton.cfm()), || {
                format!(
                    "A target of {} cfm per ton cannot be; it lies between {} and {}, and 350 to 450 is usual",
                    show::trimmed(per_ton.cfm(), 1),
                    show::number(PER_TON_RANGE.0, 0),
                    show::number(PER_TON_RANGE.1, 0)
                )
            })
        }
        Target::HeatRise { output, rise } => {
            heat_output(output)?;
            temperature_rise(rise)
        }
    }
}

fn heat_output(output: HeatRate) -> Result<(), String> {
    let (low, high) = HEAT_OUTPUT_RANGE;
    in_range((low..=high).contains(&output), || {
        let btuh = |heat: HeatRate| show::number(heat.btuh(), 0);
        format!(
            "A heat output of {} Btu/h cannot be; it lies between {} and {} Btu/h",
            btuh(output),
            btuh(low),
            btuh(high)
        )
    })
}

fn temperature_rise(rise: TemperatureRise) -> Result<(), String> {
    let (low, high) = RISE_RANGE;
    in_range((low..=high).contains(&rise), || {
        format!(
            "A temperature rise of {} °F cannot be; it lies between {} and {} °F",
            show::trimmed(rise.f(), 1),
            show::number(low.f(), 0),
            show::number(high.f(), 0)
        )
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
