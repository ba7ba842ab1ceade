//! Writes numbers for people: rounded to what the instrument gives, with a true minus and a comma at thousands.
//!
//! Rounding happens here and nowhere else; full precision is in the JSON report.

use crate::units::{
    Airflow, Altitude, Area, Barometer, Capacity, Density, Dimension, FrictionRate, HeatRate, Length, Power, Pressure,
    Temperature, TemperatureRise, UnitSystem, Velocity, W_PER_TON,
};

/// The minus sign of print, as wide as a plus.
pub const MINUS: char = '−';

/// From here on a number is written with a power of ten; only refusals name such ones.
const POWERS_OF_TEN: f64 = 1e15;

/// A number with its decimals, true minus and commas at thousands.
pub fn number(value: f64, decimals: usize) -> String {
    if value.abs() >= POWERS_OF_TEN {
        let size = if value.is_finite() { format!("{:e}", value.abs()) } else { "∞".to_owned() };
        return if value < 0.0 { format!("{MINUS}{size}") } else { size };
    }
    let mut text = format!("{:.decimals$}", value.abs());
    let is_zero = text.bytes().all(|byte| matches!(byte, b'0' | b'.'));
    let mut group = text.find('.').unwrap_or(text.len());
    while group > 3 {
        group -= 3;
        text.insert(group, ',');
    }
    if value < 0.0 && !is_zero {
        text.insert(0, '−');
    }
    text
}

fn to_step(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// One row a quantity: the functions that give its unit, its number and both, then unit and number in the inch-pound system and in SI.
macro_rules! shown {
    ($($what:literal $of:ident: $unit:ident, $bare:ident, $with_unit:ident,
       $inch_pound:literal $as_inch_pound:expr, $si:literal $as_si:expr;)+) => {
        impl UnitSystem {
            $(
                #[doc = concat!("Unit of ", $what, ".")]
                pub const fn $unit(self) -> &'static str {
                    self.pick($inch_pound, $si)
                }
            )+
        }
        $(
            #[doc = concat!("The number of ", $what, ", rounded as it is shown.")]
            pub fn $bare(value: $of, units: UnitSystem) -> String {
                units.pick::<fn($of) -> String>($as_inch_pound, $as_si)(value)
            }

            #[doc = concat!("The number of ", $what, " with its unit.")]
            pub fn $with_unit(value: $of, units: UnitSystem) -> String {
                format!("{} {}", $bare(value, units), units.$unit())
            }
        )+
    };
}

shown! {
    "a static pressure" Pressure: pressure_unit, pressure_bare, pressure,
        "in. w.c." |drop| number(drop.in_wc(), 2), "Pa" |drop| number(drop.pa(), 0);
    "a temperature" Temperature: temperature_unit, temperature_bare, temperature,
        "°F" |warmth| trimmed(warmth.f(), 1), "°C" |warmth| trimmed(warmth.c(), 1);
    "a temperature difference" TemperatureRise: rise_unit, rise_bare, rise,
        "°F" |rise| number(rise.f(), 0), "K" |rise| number(rise.f() / 1.8, 0);
    "a heat output" HeatRate: heat_unit, heat_bare, heat,
        "Btu/h" |heat| number(heat.btuh(), 0), "kW" |heat| number(heat.watts() / 1000.0, 1);
    "a height" Altitude: altitude_unit, altitude_bare, altitude,
        "ft" |height| number(height.ft(), 0), "m" |height| number(height.m(), 0);
    "an atmospheric pressure" Barometer: barometer_unit, barometer_bare, barometer,
        "in. Hg" |air| number(air.in_hg(), 2), "kPa" |air| number(air.kpa(), 1);
    "a cooling capacity" Capacity: capacity_unit, capacity_bare, capacity,
        "ton" |cooling| tons(cooling.tons()), "kW" |cooling| number(cooling.tons() * W_PER_TON / 1000.0, 1);
    "an air density" Density: density_unit, density_bare, density,
        "lb/ft³" |air| number(air.lb_ft3(), 4), "kg/m³" |air| number(air.kg_m3(), 3);
    "a side or a diameter" Dimension: dimension_unit, dimension_bare, dimension,
        "in" |size| trimmed(size.inches(), 2), "mm" |size| number(size.mm(), 0);
    "a duct's length" Length: length_unit, length_bare, length,
        "ft" |length| trimmed(length.ft(), 1), "m" |length| trimmed(length.m(), 2);
    "a cross-section or a face" Area: area_unit, area_bare, area,
        "in²" |area| number(area.in2(), 0), "m²" |area| number(area.m2(), 3);
    "an air velocity" Velocity: velocity_unit, velocity_bare, velocity,
        "fpm" |air| number(to_step(air.fpm(), 5.0), 0), "m/s" |air| number(air.m_s(), 2);
    "friction along a duct" FrictionRate: friction_rate_unit, friction_rate_bare, friction_rate,
        "in. w.c./100 ft" |rate| number(rate.in_wc_100ft(), 3), "Pa/m" |rate| number(rate.pa_m(), 2);
}

/// Tons, with ½.
fn tons(tons: f64) -> String {
    // What is shown as 3.5 is shown as 3½, and what is a little more is no other text.
    let shown = to_step(tons, 0.01);
    let whole = shown.trunc();
    if ((shown - whole) - 0.5).abs() >= 1e-9 {
        return trimmed(tons, 2);
    }
    if whole > 0.0 { format!("{}½", number(whole, 0)) } else { "½".to_owned() }
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
        self.pick(pressure.in_wc(), pressure.pa())
    }

    /// Decimals of a shown pressure.
    pub const fn pressure_decimals(self) -> usize {
        self.pick(2, 0)
    }

    /// The pressure of a bare number of this system's unit.
    pub const fn pressure_of(self, number: f64) -> Pressure {
        self.pick(Pressure::from_in_wc(number), Pressure::from_pa(number))
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

/// A pressure rounded to the step in which pressures are shown.
pub fn pressure_as_shown(pressure: Pressure, units: UnitSystem) -> Pressure {
    let step = units.pick(0.01, 1.0);
    units.pressure_of(to_step(units.pressure_number(pressure), step))
}

/// An airflow with its unit.
pub fn airflow(airflow: Airflow, units: UnitSystem) -> String {
    format!("{} {}", airflow_bare(airflow, units), units.airflow_unit())
}

/// An airflow to the last unit, for fields that a person typed.
pub fn airflow_exact(airflow: Airflow, units: UnitSystem) -> String {
    trimmed(units.airflow_number(airflow), 1)
}

/// A port reading's number with its sign always shown.
pub fn pressure_signed(pressure: Pressure, units: UnitSystem) -> String {
    let bare = pressure_bare(pressure, units);
    if bare.starts_with(MINUS) || pressure <= Pressure::ZERO { bare } else { format!("+{bare}") }
}

/// A gain or loss of airflow with its sign.
pub fn airflow_signed(airflow: Airflow, units: UnitSystem) -> String {
    let bare = airflow_bare(airflow, units);
    if airflow <= Airflow::ZERO || bare == "0" { bare } else { format!("+{bare}") }
}

/// What one airflow is more than another, with its sign: the difference of the two as they are shown, so that it can be checked from them.
pub fn airflow_gained(before: Airflow, then: Airflow, units: UnitSystem) -> String {
    airflow_signed(gained_as_shown(before, then, units), units)
}

/// The difference of two airflows as they are shown.
pub fn gained_as_shown(before: Airflow, then: Airflow, units: UnitSystem) -> Airflow {
    airflow_as_shown(then, units) - airflow_as_shown(before, units)
}

/// A pressure to the digits that a fine manometer gives, for fields that a person typed.
pub fn pressure_exact(pressure: Pressure, units: UnitSystem) -> String {
    let (least, most) = units.pick((2, 4), (0, 1));
    at_least(units.pressure_number(pressure), least, most)
}

/// A number with up to `most` decimals, of which trailing zeros past `least` are left out.
fn at_least(value: f64, least: usize, most: usize) -> String {
    let mut text = number(value, most);
    while !text.contains('e') && text.ends_with('0') && text.len() - text.find('.').unwrap_or(text.len()) > least + 1 {
        text.pop();
    }
    text.trim_end_matches('.').to_owned()
}

/// A number without trailing zeros.
pub fn trimmed(value: f64, decimals: usize) -> String {
    without_trailing_zeros(&number(value, decimals)).to_owned()
}

/// A written number without its trailing zeros.
pub fn without_trailing_zeros(text: &str) -> &str {
    let is_decimal = text.contains('.') && !text.contains('e');
    if is_decimal { text.trim_end_matches('0').trim_end_matches('.') } else { text }
}

/// The number of an airflow's ±, to a whole unit.
pub fn spread_bare(spread: Airflow, units: UnitSystem) -> String {
    number(units.airflow_number(spread), 0)
}

/// The number of a static's ±, in the step in which statics are shown and no less than one: a figure that is rounded is no surer than that.
pub fn pressure_spread_bare(spread: Pressure, units: UnitSystem) -> String {
    let least = units.pressure_of(units.pick(0.01, 1.0));
    pressure_bare(if spread > Pressure::ZERO { spread.max(least) } else { spread }, units)
}

/// An airflow's ±, to a whole unit, with its unit.
pub fn spread(spread: Airflow, units: UnitSystem) -> String {
    format!("{} {}", spread_bare(spread, units), units.airflow_unit())
}

/// What money is written with where nobody says: a sign stands before the number, a word behind it.
pub const USUAL_CURRENCY: &str = "$";

/// What money is written with, where a person may have said it.
pub const fn currency_of(said: &str) -> &str {
    if said.is_empty() { USUAL_CURRENCY } else { said }
}

/// A price in a person's own money, whole or to hundredths: "$1,450", "1,450 EUR".
pub fn money(price: f64, currency: &str) -> String {
    let bare = number(price, if price.fract().abs() < 0.005 { 0 } else { 2 });
    let currency = currency_of(currency);
    if currency.contains(char::is_alphabetic) { format!("{bare}\u{a0}{currency}") } else { format!("{currency}{bare}") }
}

/// A power's number, rounded to 5 W.
pub fn power_bare(power: Power) -> String {
    number(to_step(power.watts(), 5.0), 0)
}

/// The number of a friction rate that was read, to 0.01 in. w.c. a hundred feet or 0.01 Pa a metre.
pub fn friction_rate_said_bare(rate: FrictionRate, units: UnitSystem) -> String {
    number(units.pick(rate.in_wc_100ft(), rate.pa_m()), 2)
}

/// A friction rate as people say it: "0.08 per 100 ft" beside a static in inches, "0.65 Pa/m".
pub fn friction_rate_said(rate: FrictionRate, units: UnitSystem) -> String {
    format!("{} {}", friction_rate_said_bare(rate, units), units.pick("per 100 ft", units.friction_rate_unit()))
}

/// A fraction as a whole percentage.
pub fn percent(fraction: f64) -> String {
    format!("{} %", number(fraction * 100.0, 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_stands_before_a_price_and_a_word_behind_it() {
        let rows = [("", "$1,450"), ("€", "€1,450"), ("EUR", "1,450\u{a0}EUR"), ("kr.", "1,450\u{a0}kr.")];
        for (currency, told) in rows {
            assert_eq!(money(1450.0, currency), told);
        }
        assert_eq!(money(406.6, "$"), "$406.60");
    }

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

    #[test]
    fn duct_quantities_are_shown_in_both_systems() {
        let (ip, si) = (UnitSystem::InchPound, UnitSystem::SiLitres);
        let cases = [
            (dimension(Dimension::from_in(14.0), ip), "14 in"),
            (dimension(Dimension::from_in(14.0), si), "356 mm"),
            (length(Length::from_ft(25.5), ip), "25.5 ft"),
            (length(Length::from_ft(25.0), si), "7.62 m"),
            (area(Area::from_in2(400.0), ip), "400 in²"),
            (area(Area::from_in2(400.0), si), "0.258 m²"),
            (velocity(Velocity::from_fpm(733.4), ip), "735 fpm"),
            (velocity(Velocity::from_m_s(3.66), si), "3.66 m/s"),
            (friction_rate(FrictionRate::from_in_wc_100ft(0.08), ip), "0.080 in. w.c./100 ft"),
            (friction_rate(FrictionRate::from_pa_m(0.8), si), "0.80 Pa/m"),
            (friction_rate_said(FrictionRate::from_in_wc_100ft(0.08), ip), "0.08 per 100 ft"),
            (friction_rate_said(FrictionRate::from_pa_m(0.8), si), "0.80 Pa/m"),
        ];
        for (shown, expected) in cases {
            assert_eq!(shown, expected);
        }
    }
}
