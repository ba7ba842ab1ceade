//! Writes numbers for people: rounded to what the instrument gives, with a true minus and a comma at thousands.
//!
//! Rounding happens here and nowhere else; full precision is in the JSON report.

mod duct;

pub use duct::{
    area, area_bare, dimension, dimension_bare, friction_rate, friction_rate_bare, friction_rate_said,
    friction_rate_said_bare, length, length_bare, velocity, velocity_bare,
};

use crate::units::quantity::Quantity;
use crate::units::{
    Airflow, Altitude, Barometer, Capacity, Density, HeatRate, Power, Pressure, Temperature, TemperatureRise,
    UnitSystem,
};

/// The minus sign of print, as wide as a plus.
pub const MINUS: char = '−';

/// From here on a number is written with a power of ten; only refusals name such ones.
const POWERS_OF_TEN: f64 = 1e15;

/// A number with its decimals, true minus and commas at thousands.
pub fn number(value: f64, decimals: usize) -> String {
    if value.is_finite() && value.abs() >= POWERS_OF_TEN {
        return format!("{value:e}").replace('-', "−");
    }
    let digits = format!("{:.decimals$}", value.abs());
    let (whole, fraction) = digits.split_at(digits.find('.').unwrap_or(digits.len()));
    let mut grouped = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let is_zero = digits.bytes().all(|byte| matches!(byte, b'0' | b'.'));
    let sign = if value < 0.0 && !is_zero { "−" } else { "" };
    format!("{sign}{grouped}{fraction}")
}

fn to_step(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

impl UnitSystem {
    /// Unit of airflow.
    pub const fn airflow_unit(self) -> &'static str {
        match self {
            Self::InchPound => "cfm",
            Self::SiLitres => "L/s",
            Self::SiCubicMetres => "m³/h",
        }
    }

    /// Unit of static pressure.
    pub const fn pressure_unit(self) -> &'static str {
        match self {
            Self::InchPound => "in. w.c.",
            _ => "Pa",
        }
    }

    /// Unit of temperature.
    pub const fn temperature_unit(self) -> &'static str {
        match self {
            Self::InchPound => "°F",
            _ => "°C",
        }
    }

    /// Unit of a temperature difference.
    pub const fn rise_unit(self) -> &'static str {
        match self {
            Self::InchPound => "°F",
            _ => "K",
        }
    }

    /// Unit of heat output.
    pub const fn heat_unit(self) -> &'static str {
        match self {
            Self::InchPound => "Btu/h",
            _ => "kW",
        }
    }

    /// Unit of height.
    pub const fn altitude_unit(self) -> &'static str {
        match self {
            Self::InchPound => "ft",
            _ => "m",
        }
    }

    /// Unit of atmospheric pressure.
    pub const fn barometer_unit(self) -> &'static str {
        match self {
            Self::InchPound => "in. Hg",
            _ => "kPa",
        }
    }

    /// Unit of cooling capacity.
    pub const fn capacity_unit(self) -> &'static str {
        match self {
            Self::InchPound => "ton",
            _ => "kW",
        }
    }

    /// An airflow as a bare number of this system's unit, unrounded.
    pub const fn airflow_number(self, airflow: Airflow) -> f64 {
        match self {
            Self::InchPound => airflow.cfm(),
            Self::SiLitres => airflow.lps(),
            Self::SiCubicMetres => airflow.lps() * 3.6,
        }
    }

    /// The airflow of a bare number of this system's unit.
    pub const fn airflow_of(self, number: f64) -> Airflow {
        match self {
            Self::InchPound => Airflow::from_cfm(number),
            Self::SiLitres => Airflow::from_lps(number),
            Self::SiCubicMetres => Airflow::from_lps(number / 3.6),
        }
    }

    /// A pressure as a bare number of this system's unit, unrounded.
    pub const fn pressure_number(self, pressure: Pressure) -> f64 {
        match self {
            Self::InchPound => pressure.in_wc(),
            _ => pressure.pa(),
        }
    }

    /// The pressure of a bare number of this system's unit.
    pub const fn pressure_of(self, number: f64) -> Pressure {
        match self {
            Self::InchPound => Pressure::from_in_wc(number),
            _ => Pressure::from_pa(number),
        }
    }

    /// Decimals of a shown pressure.
    pub const fn pressure_decimals(self) -> usize {
        match self {
            Self::InchPound => 2,
            _ => 0,
        }
    }
}

/// An airflow's number, rounded to 5 cfm, 5 L/s or 10 m³/h.
pub fn airflow_bare(airflow: Airflow, units: UnitSystem) -> String {
    number(units.airflow_number(airflow_as_shown(airflow, units)), 0)
}

/// An airflow rounded to the step in which airflows are shown.
pub fn airflow_as_shown(airflow: Airflow, units: UnitSystem) -> Airflow {
    let step = match units {
        UnitSystem::InchPound | UnitSystem::SiLitres => 5.0,
        UnitSystem::SiCubicMetres => 10.0,
    };
    units.airflow_of(to_step(units.airflow_number(airflow), step))
}

/// An airflow with its unit.
pub fn airflow(airflow: Airflow, units: UnitSystem) -> String {
    format!("{} {}", airflow_bare(airflow, units), units.airflow_unit())
}

/// An airflow to the last unit, for fields that a person typed.
pub fn airflow_exact(airflow: Airflow, units: UnitSystem) -> String {
    trimmed(units.airflow_number(airflow), 1)
}

/// A pressure's number, to 0.01 in. w.c. or 1 Pa.
pub fn pressure_bare(pressure: Pressure, units: UnitSystem) -> String {
    number(units.pressure_number(pressure), units.pressure_decimals())
}

/// A pressure with its unit.
pub fn pressure(pressure: Pressure, units: UnitSystem) -> String {
    format!("{} {}", pressure_bare(pressure, units), units.pressure_unit())
}

/// A port reading's number with its sign always shown.
pub fn pressure_signed(pressure: Pressure, units: UnitSystem) -> String {
    let bare = number(units.pressure_number(pressure), units.pressure_decimals());
    if bare.starts_with(MINUS) || pressure <= Pressure::ZERO { bare } else { format!("+{bare}") }
}

/// A gain or loss of airflow with its sign.
pub fn airflow_signed(airflow: Airflow, units: UnitSystem) -> String {
    let bare = airflow_bare(airflow, units);
    if airflow <= Airflow::ZERO || bare == "0" { bare } else { format!("+{bare}") }
}

/// A pressure to the digits that a fine manometer gives, for fields that a person typed.
pub fn pressure_exact(pressure: Pressure, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => at_least(pressure.in_wc(), 2, 4),
        _ => trimmed(pressure.pa(), 1),
    }
}

/// A number with up to `most` decimals, of which trailing zeros past `least` are left out.
fn at_least(value: f64, least: usize, most: usize) -> String {
    let mut text = number(value, most);
    while text.ends_with('0') && text.len() - text.find('.').unwrap_or(text.len()) > least + 1 {
        text.pop();
    }
    text
}

/// A number without trailing zeros.
pub fn trimmed(value: f64, decimals: usize) -> String {
    without_trailing_zeros(&number(value, decimals)).to_owned()
}

/// A written number without its trailing zeros.
pub fn without_trailing_zeros(text: &str) -> &str {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { text }
}

/// A temperature with its unit.
pub fn temperature(temperature: Temperature, units: UnitSystem) -> String {
    format!("{} {}", temperature_bare(temperature, units), units.temperature_unit())
}

/// A temperature's number.
pub fn temperature_bare(temperature: Temperature, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => trimmed(temperature.f(), 1),
        _ => trimmed(temperature.c(), 1),
    }
}

/// A temperature difference's number, to one degree.
pub fn rise_bare(rise: TemperatureRise, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(rise.f(), 0),
        _ => number(rise.f() / 1.8, 0),
    }
}

/// A temperature difference with its unit.
pub fn rise(rise: TemperatureRise, units: UnitSystem) -> String {
    format!("{} {}", rise_bare(rise, units), units.rise_unit())
}

/// A heat output's number.
pub fn heat_bare(heat: HeatRate, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(heat.btuh(), 0),
        _ => number(heat.watts() / 1000.0, 1),
    }
}

/// A heat output with its unit.
pub fn heat(heat: HeatRate, units: UnitSystem) -> String {
    format!("{} {}", heat_bare(heat, units), units.heat_unit())
}

/// A height's number.
pub fn altitude_bare(altitude: Altitude, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(altitude.ft(), 0),
        _ => number(altitude.m(), 0),
    }
}

/// A height with its unit.
pub fn altitude(altitude: Altitude, units: UnitSystem) -> String {
    format!("{} {}", altitude_bare(altitude, units), units.altitude_unit())
}

/// An atmospheric pressure's number.
pub fn barometer_bare(pressure: Barometer, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(pressure.in_hg(), 2),
        _ => number(pressure.kpa(), 1),
    }
}

/// An atmospheric pressure with its unit.
pub fn barometer(pressure: Barometer, units: UnitSystem) -> String {
    format!("{} {}", barometer_bare(pressure, units), units.barometer_unit())
}

/// A cooling capacity's number, in tons (with ½) or kilowatts.
pub fn capacity_bare(capacity: Capacity, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => {
            // What is shown as 3.5 is shown as 3½, and what is a little more is no other text.
            let tons = to_step(capacity.tons(), 0.01);
            let whole = tons.trunc();
            if ((tons - whole) - 0.5).abs() < 1e-9 {
                if whole > 0.0 { format!("{}½", number(whole, 0)) } else { "½".to_owned() }
            } else {
                trimmed(capacity.tons(), 2)
            }
        }
        _ => number(capacity.tons() * crate::units::W_PER_TON / 1000.0, 1),
    }
}

/// A cooling capacity with its unit.
pub fn capacity(capacity: Capacity, units: UnitSystem) -> String {
    format!("{} {}", capacity_bare(capacity, units), units.capacity_unit())
}

/// A power's number, rounded to 5 W.
pub fn power_bare(power: Power) -> String {
    number(to_step(power.watts(), 5.0), 0)
}

/// An air density's number.
pub fn density_bare(density: Density, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(density.lb_ft3(), 4),
        _ => number(density.kg_m3(), 3),
    }
}

/// An air density with its unit.
pub fn density(density: Density, units: UnitSystem) -> String {
    Quantity::Density.written(density.lb_ft3(), units)
}

/// A fraction as a whole percentage.
pub fn percent(fraction: f64) -> String {
    format!("{} %", number(fraction * 100.0, 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn airflow_is_rounded_to_what_a_table_gives() {
        let flow = Airflow::from_cfm(1226.7);
        assert_eq!(airflow(flow, UnitSystem::InchPound), "1,225 cfm");
        assert_eq!(airflow(flow, UnitSystem::SiLitres), "580 L/s");
        assert_eq!(airflow(flow, UnitSystem::SiCubicMetres), "2,080 m³/h");
    }

    #[test]
    fn readings_carry_their_sign() {
        let of = Pressure::from_in_wc;
        assert_eq!(pressure_signed(of(-0.52), UnitSystem::InchPound), "−0.52");
        assert_eq!(pressure_signed(of(0.31), UnitSystem::InchPound), "+0.31");
        assert_eq!(pressure_signed(of(0.31), UnitSystem::SiLitres), "+77");
        assert_eq!(pressure_signed(Pressure::ZERO, UnitSystem::InchPound), "0.00");
    }

    #[test]
    fn a_field_keeps_the_digits_that_were_typed() {
        let of = Pressure::from_in_wc;
        assert_eq!(pressure_exact(of(-0.525), UnitSystem::InchPound), "−0.525");
        assert_eq!(pressure_exact(of(0.5), UnitSystem::InchPound), "0.50");
        assert_eq!(capacity_bare(Capacity::from_tons(3.5), UnitSystem::InchPound), "3½");
        assert_eq!(capacity_bare(Capacity::from_tons(14.5014), UnitSystem::InchPound), "14½");
        assert_eq!(capacity_bare(Capacity::from_tons(14.51), UnitSystem::InchPound), "14.51");
    }

    #[test]
    fn nothing_is_ever_minus_zero() {
        assert_eq!(number(-0.001, 2), "0.00");
        assert_eq!(number(-1234.5, 1), "−1,234.5");
    }
}
