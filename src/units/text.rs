//! Reads the numbers that people type: "-.31", "0,31", "0.31 in", "77 Pa", "1,400 cfm".
//!
//! A number without a unit is meant in the units shown; one with a unit is meant in that unit.

use crate::units::{
    Airflow, Altitude, Area, Barometer, Capacity, Dimension, FrictionRate, HeatRate, Length, Power, Pressure,
    Temperature, TemperatureRise, UnitSystem, Velocity, Voltage, W_PER_TON,
};

/// Which sign a person typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TypedSign {
    /// None.
    Bare,
    /// A plus.
    Plus,
    /// A minus, of whatever length.
    Minus,
}

/// Why a text is not a quantity; [`std::fmt::Display`] gives the sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TextError {
    /// Nothing typed.
    Empty,
    /// Not a number.
    NotANumber(String),
    /// A unit that does not belong to this field; the units that do are listed.
    WrongUnit {
        /// What was typed.
        typed: String,
        /// What the field takes.
        takes: &'static str,
    },
}

impl std::fmt::Display for TextError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Empty => write!(f, "Nothing typed"),
            Self::NotANumber(text) => write!(f, "\"{}\" is not a number", cut(text)),
            Self::WrongUnit { typed, takes } => {
                let takes = if takes.is_empty() { "a plain number" } else { takes };
                write!(f, "\"{}\" is no unit of this field; it takes {takes}", cut(typed))
            }
        }
    }
}

impl std::error::Error for TextError {}

impl TextError {
    /// The sentence with the field's name and a text that would be right in it.
    pub fn of_field(&self, name: &str, right: &str) -> String {
        match self {
            Self::Empty => format!("{name}: nothing is typed; it takes a number such as {right}"),
            Self::NotANumber(text) => {
                format!("{name}: \"{}\" is not a number; it takes one such as {right}", cut(text))
            }
            Self::WrongUnit { .. } => format!("{name}: {self}"),
        }
    }
}

/// A number with the sign and the unit that stood beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct TypedNumber {
    /// The sign.
    pub sign: TypedSign,
    /// The number, signed.
    pub value: f64,
    /// What followed it, lower-cased, without spaces and dots.
    pub unit: String,
}

/// Most letters of a value that stands in a sentence.
const MOST_OF_A_VALUE: usize = 40;
/// Most letters of a sentence.
const MOST_OF_A_SENTENCE: usize = 300;
/// How many letters of a sentence that is too long stand behind the place where it was cut.
const END_OF_A_SENTENCE: usize = 100;

/// A value as it stands in a sentence: on one line, and not longer than a person reads.
pub fn cut(value: &str) -> String {
    let one_line: String = value.chars().take(MOST_OF_A_VALUE + 1).map(plain).collect();
    match one_line.char_indices().nth(MOST_OF_A_VALUE) {
        Some((end, _)) => format!("{}…", &one_line[..end]),
        None => one_line,
    }
}

/// A sentence on one line, with an ellipsis in place of the middle where it is longer than a person reads.
pub fn shortened(sentence: &str) -> String {
    let letters: Vec<char> = sentence.chars().map(plain).collect();
    if letters.len() <= MOST_OF_A_SENTENCE {
        return letters.into_iter().collect();
    }
    let (start, end) =
        (&letters[..MOST_OF_A_SENTENCE - END_OF_A_SENTENCE - 1], &letters[letters.len() - END_OF_A_SENTENCE..]);
    start.iter().chain(&['…']).chain(end).collect()
}

fn plain(letter: char) -> char {
    if letter.is_control() { ' ' } else { letter }
}

/// What a comma means in a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comma {
    /// A decimal comma, always ("0,31").
    Decimal,
    /// A thousands separator before exactly three digits and behind no nought ("1,400"), a decimal comma elsewhere ("0,125").
    Thousands,
}

/// Splits a text into sign, number and unit.
///
/// # Errors
/// [`TextError::Empty`] and [`TextError::NotANumber`].
pub fn number(text: &str, comma: Comma) -> Result<TypedNumber, TextError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(TextError::Empty);
    }
    let wrong = || TextError::NotANumber(trimmed.to_owned());
    let (sign, rest) = match trimmed.strip_prefix('+') {
        Some(rest) => (TypedSign::Plus, rest),
        None => match trimmed.strip_prefix(['-', '−', '–', '—']) {
            Some(rest) => (TypedSign::Minus, rest),
            None => (TypedSign::Bare, trimmed),
        },
    };
    let rest = rest.trim_start();
    let end = rest
        .find(|letter: char| !(letter.is_ascii_digit() || matches!(letter, '.' | ',' | '\'' | '\u{a0}' | '\u{202f}')))
        .unwrap_or(rest.len());
    let (digits, unit) = rest.split_at(end);
    let plain = plain_digits(digits, comma).ok_or_else(wrong)?;
    let size: f64 = plain.parse().ok().filter(|size: &f64| size.is_finite()).ok_or_else(wrong)?;
    let unit: String =
        unit.chars().filter(|letter| !letter.is_whitespace() && *letter != '.').flat_map(char::to_lowercase).collect();
    if unit.starts_with(|letter: char| letter.is_ascii_digit() || matches!(letter, '-' | '+' | '−'))
        || is_exponent(&unit)
    {
        return Err(wrong());
    }
    let value = if sign == TypedSign::Minus { -size } else { size };
    Ok(TypedNumber { sign, value, unit })
}

/// True for the "e400" of "1e400": exponents are not read.
fn is_exponent(unit: &str) -> bool {
    let digits = unit.strip_prefix('e').map(|rest| rest.strip_prefix(['+', '-', '−']).unwrap_or(rest));
    digits.is_some_and(|digits| digits.starts_with(|letter: char| letter.is_ascii_digit()))
}

/// The digits with a point for a decimal sign and nothing between thousands, or nothing when they make no number.
fn plain_digits(digits: &str, comma: Comma) -> Option<String> {
    let digits: String = digits.chars().filter(|letter| !matches!(letter, '\'' | '\u{a0}' | '\u{202f}')).collect();
    if !digits.contains(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let commas = digits.matches(',').count();
    let points = digits.matches('.').count();
    let groups: Vec<&str> = digits.split(',').collect();
    let thousands = commas > 0
        && points <= 1
        && !groups[0].is_empty()
        && !groups[0].starts_with('0')
        && groups[0].len() <= 3
        && groups[1..].iter().all(|group| group.split('.').next().is_some_and(|whole| whole.len() == 3))
        && groups[1..groups.len() - 1].iter().all(|group| !group.contains('.'));
    match (commas, points) {
        (0, 0 | 1) => Some(digits),
        _ if thousands && (comma == Comma::Thousands || commas > 1 || points == 1) => Some(digits.replace(',', "")),
        (1, 0) => Some(digits.replace(',', ".")),
        _ => None,
    }
}

/// One row a quantity: the function that reads it, what a comma means in it, the units that it takes, and what a number of each makes; without a unit it is meant in the unit of the system shown.
macro_rules! read {
    ($($(#[$doc:meta])+ $vis:vis $name:ident -> $of:ident, $comma:ident, $takes:literal,
       $($bare:literal)|+ => $inch_pound:expr, $si:expr,
       { $($($unit:literal)|+ => $made:expr),+ $(,)? })+) => {$(
        $(#[$doc])+
        ///
        /// # Errors
        /// See [`TextError`].
        $vis fn $name(text: &str, units: UnitSystem) -> Result<$of, TextError> {
            let typed = number(text, Comma::$comma)?;
            let make: fn(f64) -> $of = match typed.unit.as_str() {
                $($bare)|+ => units.pick($inch_pound as fn(f64) -> $of, $si),
                $($($unit)|+ => $made,)+
                _ => return Err(TextError::WrongUnit { typed: typed.unit, takes: $takes }),
            };
            Ok(make(typed.value))
        }
    )+};
}

/// A pressure with the sign that was typed.
///
/// # Errors
/// See [`TextError`].
pub fn signed_pressure(text: &str, units: UnitSystem) -> Result<(Pressure, TypedSign), TextError> {
    let decimal = number(text, Comma::Decimal)?;
    // Pascals have thousands ("1,077 Pa"), inches have decimals ("0,31").
    let is_in_pascals = match decimal.unit.as_str() {
        "" => units != UnitSystem::InchPound,
        "pa" | "pascal" | "pascals" => true,
        _ => false,
    };
    let typed = if is_in_pascals { number(text, Comma::Thousands)? } else { decimal };
    let value = match (typed.unit.as_str(), units) {
        ("", UnitSystem::InchPound) => Pressure::from_in_wc(typed.value),
        ("in" | "inch" | "inches" | "\"" | "″" | "inwc" | "inwg" | "inh2o" | "\"wc" | "″wc" | "iwc" | "wc", _) => {
            Pressure::from_in_wc(typed.value)
        }
        ("" | "pa" | "pascal" | "pascals", _) => Pressure::from_pa(typed.value),
        ("kpa", _) => Pressure::from_pa(typed.value * 1000.0),
        ("mmh2o" | "mmwc" | "mm", _) => Pressure::from_in_wc(typed.value / 25.4),
        _ => {
            return Err(TextError::WrongUnit { typed: typed.unit, takes: "in. w.c. or Pa" });
        }
    };
    Ok((value, typed.sign))
}

/// A pressure.
///
/// # Errors
/// See [`TextError`].
pub fn pressure(text: &str, units: UnitSystem) -> Result<Pressure, TextError> {
    signed_pressure(text, units).map(|(value, _)| value)
}

/// An airflow.
///
/// # Errors
/// See [`TextError`].
pub fn airflow(text: &str, units: UnitSystem) -> Result<Airflow, TextError> {
    let typed = number(text, Comma::Thousands)?;
    let meant = match typed.unit.as_str() {
        "cfm" | "ft3/min" | "ft³/min" | "scfm" => UnitSystem::InchPound,
        "l/s" | "lps" | "ls" => UnitSystem::SiLitres,
        "m3/h" | "m³/h" | "m3h" | "cmh" => UnitSystem::SiCubicMetres,
        "" => units,
        _ => return Err(TextError::WrongUnit { typed: typed.unit, takes: "cfm, L/s or m³/h" }),
    };
    Ok(meant.airflow_of(typed.value))
}

read! {
    /// A temperature.
    pub temperature -> Temperature, Thousands, "°F or °C", "" | "°" => Temperature::from_f, Temperature::from_c, {
        "°f" | "f" | "ºf" => Temperature::from_f,
        "°c" | "c" | "ºc" => Temperature::from_c,
    }
    /// A temperature difference.
    pub temperature_rise -> TemperatureRise, Thousands, "°F or K", "" | "°" => TemperatureRise::from_f, kelvins, {
        "°f" | "f" => TemperatureRise::from_f,
        "°c" | "c" | "k" => kelvins,
    }
    /// A height.
    pub altitude -> Altitude, Thousands, "ft or m", "" => Altitude::from_ft, Altitude::from_m, {
        "ft" | "feet" | "'" | "′" => Altitude::from_ft,
        "m" | "metres" | "meters" => Altitude::from_m,
    }
    /// An atmospheric pressure.
    pub barometer -> Barometer, Thousands, "in. Hg, hPa or kPa", "" => Barometer::from_in_hg, Barometer::from_kpa, {
        "inhg" | "in" | "\"hg" => Barometer::from_in_hg,
        "kpa" => Barometer::from_kpa,
        "hpa" | "mbar" | "mb" => |value| Barometer::from_kpa(value / 10.0),
    }
    /// A heat output.
    pub heat_rate -> HeatRate, Thousands, "Btu/h or kW", "" => HeatRate::from_btuh, kilowatts, {
        "btu/h" | "btuh" | "btu" => HeatRate::from_btuh,
        "kbtu/h" | "kbtuh" | "kbtu" | "mbh" => |value| HeatRate::from_btuh(value * 1000.0),
        "kw" => kilowatts,
        "w" => HeatRate::from_watts,
    }
    /// A side or a diameter: inches without a unit, millimetres in SI.
    pub dimension -> Dimension, Thousands, "in, ft, mm, cm or m", "" => Dimension::from_in, Dimension::from_mm, {
        "in" | "inch" | "inches" | "\"" | "″" => Dimension::from_in,
        "ft" | "feet" | "'" | "′" => Dimension::from_ft,
        "mm" => Dimension::from_mm,
        "cm" => |value| Dimension::from_mm(value * 10.0),
        "m" => Dimension::from_m,
    }
    /// A duct's length: feet without a unit, metres in SI.
    pub length -> Length, Thousands, "ft, in or m", "" => Length::from_ft, Length::from_m, {
        "ft" | "feet" | "'" | "′" => Length::from_ft,
        "in" | "inch" | "inches" | "\"" | "″" => |value| Length::from_ft(value / 12.0),
        "m" | "metres" | "meters" => Length::from_m,
    }
    /// A cross-section or a face: square inches without a unit, square metres in SI.
    pub area -> Area, Thousands, "in², ft², cm² or m²", "" => Area::from_in2, Area::from_m2, {
        "in²" | "in2" | "sqin" => Area::from_in2,
        "ft²" | "ft2" | "sqft" => Area::from_ft2,
        "cm²" | "cm2" => |value| Area::from_m2(value / 10_000.0),
        "m²" | "m2" => Area::from_m2,
    }
    /// An air velocity: feet a minute without a unit, metres a second in SI.
    pub velocity -> Velocity, Thousands, "fpm or m/s", "" => Velocity::from_fpm, Velocity::from_m_s, {
        "fpm" | "ft/min" => Velocity::from_fpm,
        "m/s" | "ms" => Velocity::from_m_s,
    }
    /// A friction rate: inches of water a hundred feet without a unit, pascals a metre in SI.
    pub friction_rate -> FrictionRate, Decimal, "in. w.c./100 ft or Pa/m",
        "" => FrictionRate::from_in_wc_100ft, FrictionRate::from_pa_m, {
        "in/100ft" | "inwc/100ft" | "inwg/100ft" | "iwc/100ft" => FrictionRate::from_in_wc_100ft,
        "pa/m" => FrictionRate::from_pa_m,
    }
    /// A cooling capacity as its number is spelled with a point.
    plain_capacity -> Capacity, Thousands, "ton, Btu/h or kW", "" => Capacity::from_tons, tons_of_kilowatts, {
        "ton" | "tons" | "t" => Capacity::from_tons,
        "btu/h" | "btuh" => |value| Capacity::from_tons(value / 12_000.0),
        "kbtu/h" | "kbtuh" | "kbtu" | "mbh" => |value| Capacity::from_tons(value / 12.0),
        "kw" => tons_of_kilowatts,
    }
}

const fn kelvins(value: f64) -> TemperatureRise {
    TemperatureRise::from_f(value * 1.8)
}

const fn kilowatts(value: f64) -> HeatRate {
    HeatRate::from_watts(value * 1000.0)
}

const fn tons_of_kilowatts(value: f64) -> Capacity {
    Capacity::from_tons(value * 1000.0 / W_PER_TON)
}

/// A cooling capacity: tons, "3½", "42 kBtu/h", "12.3 kW"; kilowatts without a unit in SI.
///
/// # Errors
/// See [`TextError`].
pub fn capacity(text: &str, units: UnitSystem) -> Result<Capacity, TextError> {
    plain_capacity(&text.replace('½', ".5").replace('¼', ".25").replace('¾', ".75"), units)
}

/// A number of one unit, or of another with its factor.
fn of_units(text: &str, takes: &'static str, units: &[(&str, f64)]) -> Result<f64, TextError> {
    let typed = number(text, Comma::Thousands)?;
    match units.iter().find(|(unit, _)| typed.unit == *unit) {
        Some((_, factor)) => Ok(typed.value * factor),
        None => Err(TextError::WrongUnit { typed: typed.unit, takes }),
    }
}

/// An electric power in watts.
///
/// # Errors
/// See [`TextError`].
pub fn power(text: &str) -> Result<Power, TextError> {
    of_units(text, "W or kW", &[("w", 1.0), ("", 1.0), ("kw", 1000.0)]).map(Power::from_watts)
}

/// A supply voltage.
///
/// # Errors
/// See [`TextError`].
pub fn voltage(text: &str) -> Result<Voltage, TextError> {
    of_units(text, "V", &[("v", 1.0), ("", 1.0)]).map(Voltage::from_volts)
}

/// A share in percent, as a fraction of one.
///
/// # Errors
/// See [`TextError`].
pub fn percent(text: &str) -> Result<f64, TextError> {
    of_units(text, "%", &[("%", 1.0), ("", 1.0)]).map(|percent| percent / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pressures_are_taken_as_people_type_them() {
        use TypedSign::{Bare, Minus, Plus};
        let cases = [
            ("-.31", -0.31, Minus),
            ("0,31", 0.31, Bare),
            ("0.31 in", 0.31, Bare),
            ("−0.52 in. w.c.", -0.52, Minus),
            ("+0.4\"", 0.4, Plus),
            (" .5 ", 0.5, Bare),
            ("77 Pa", 77.0 / 249.088_91, Bare),
            ("-77Pa", -77.0 / 249.088_91, Minus),
        ];
        for (text, expected, sign) in cases {
            let (value, typed) = signed_pressure(text, UnitSystem::InchPound).unwrap();
            assert!((value.in_wc() - expected).abs() < 1e-12, "{text}");
            assert_eq!(typed, sign, "{text}");
        }
    }

    #[test]
    fn a_bare_number_is_meant_in_the_units_shown() {
        let shown = signed_pressure("77", UnitSystem::SiLitres).unwrap().0;
        assert!((shown.pa() - 77.0).abs() < 1e-9);
        let flow = airflow("1,000", UnitSystem::SiCubicMetres).unwrap();
        assert!((flow.lps() - 1000.0 / 3.6).abs() < 1e-9);
    }

    #[test]
    fn a_comma_separates_thousands_of_airflow_but_is_decimal_elsewhere() {
        assert!((airflow("1,400", UnitSystem::InchPound).unwrap().cfm() - 1400.0).abs() < 1e-9);
        assert!((airflow("1’400", UnitSystem::InchPound).is_err()));
        assert!((temperature("21,5 C", UnitSystem::InchPound).unwrap().c() - 21.5).abs() < 1e-9);
        assert!((capacity("3½", UnitSystem::InchPound).unwrap().tons() - 3.5).abs() < 1e-12);
        assert!((capacity("3,5", UnitSystem::InchPound).unwrap().tons() - 3.5).abs() < 1e-12);
        assert!((pressure("0,315", UnitSystem::InchPound).unwrap().in_wc() - 0.315).abs() < 1e-12);
    }

    /// A duct of 1,200 mm was read back as one of 1.2 mm.
    #[test]
    fn grouped_thousands_come_back_as_they_are_shown() {
        for inches in [0.125, 8.0, 10.5, 40.0, 47.25, 100.0] {
            for units in UnitSystem::ALL {
                let shown = crate::units::show::dimension_bare(crate::units::Dimension::from_in(inches), units);
                let read = dimension(&shown, units).unwrap().inches();
                assert!((read - inches).abs() < 0.06 * inches.max(1.0), "{shown} in {units:?} is read as {read} in");
            }
        }
        assert!((dimension("1,200", UnitSystem::SiLitres).unwrap().inches() - 1200.0 / 25.4).abs() < 1e-9);
        assert!((dimension("0,125", UnitSystem::InchPound).unwrap().inches() - 0.125).abs() < 1e-12);
    }

    #[test]
    fn nonsense_gets_a_sentence() {
        let cases = [
            ("", "Nothing typed"),
            ("abc", "\"abc\" is not a number"),
            ("0.3.1", "\"0.3.1\" is not a number"),
            ("0.31 furlong", "\"furlong\" is no unit of this field; it takes in. w.c. or Pa"),
            ("inf", "\"inf\" is not a number"),
            ("1e5", "\"1e5\" is not a number"),
            ("1e400", "\"1e400\" is not a number"),
            ("1E-3 in", "\"1E-3 in\" is not a number"),
        ];
        for (text, sentence) in cases {
            let error = pressure(text, UnitSystem::InchPound).unwrap_err();
            assert_eq!(error.to_string(), sentence);
        }
    }

    #[test]
    fn duct_quantities_are_taken_in_any_of_their_units() {
        let units = UnitSystem::InchPound;
        let near = |value: f64, expected: f64| assert!((value - expected).abs() < 1e-9, "{value} is not {expected}");
        near(dimension("14", units).unwrap().inches(), 14.0);
        near(dimension("14,5\"", units).unwrap().inches(), 14.5);
        near(dimension("254 mm", units).unwrap().inches(), 10.0);
        near(dimension("254", UnitSystem::SiLitres).unwrap().inches(), 10.0);
        near(length("1,000 ft", units).unwrap().ft(), 1000.0);
        near(area("2 ft²", units).unwrap().in2(), 288.0);
        near(velocity("1 m/s", units).unwrap().m_s(), 1.0);
        near(friction_rate("0.08 in. w.c./100 ft", units).unwrap().in_wc_100ft(), 0.08);
    }

    #[test]
    fn a_field_without_units_says_that_it_takes_a_plain_number() {
        let error = crate::units::quantity::Quantity::Money.typed("5 pears", UnitSystem::InchPound).unwrap_err();
        assert_eq!(error.to_string(), "\"pears\" is no unit of this field; it takes a plain number");
    }

    #[test]
    fn a_size_in_the_wrong_unit_gets_a_sentence() {
        let error = dimension("14 cfm", UnitSystem::InchPound).unwrap_err();
        assert_eq!(error.to_string(), "\"cfm\" is no unit of this field; it takes in, ft, mm, cm or m");
    }
}
