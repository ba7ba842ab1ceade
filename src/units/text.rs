//! Reads the numbers that people type: "-.31", "0,31", "0.31 in", "77 Pa", "1,400 cfm".
//!
//! A number without a unit is meant in the units shown; one with a unit is meant in that unit.

mod duct;

pub use duct::{area, dimension, friction_rate, length, velocity};

use crate::units::{
    Airflow, Altitude, Barometer, Capacity, HeatRate, Power, Pressure, Temperature, TemperatureRise, UnitSystem,
    Voltage,
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
    if unit.starts_with(|letter: char| letter.is_ascii_digit() || matches!(letter, '-' | '+' | '−')) {
        return Err(wrong());
    }
    let value = if sign == TypedSign::Minus { -size } else { size };
    Ok(TypedNumber { sign, value, unit })
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

fn quantity<T>(
    text: &str,
    comma: Comma,
    takes: &'static str,
    convert: impl Fn(&str, f64) -> Option<T>,
) -> Result<T, TextError> {
    let typed = number(text, comma)?;
    convert(&typed.unit, typed.value).ok_or(TextError::WrongUnit { typed: typed.unit, takes })
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
    quantity(text, Comma::Thousands, "cfm, L/s or m³/h", |unit, value| match unit {
        "cfm" | "ft3/min" | "ft³/min" | "scfm" => Some(Airflow::from_cfm(value)),
        "l/s" | "lps" | "ls" => Some(Airflow::from_lps(value)),
        "m3/h" | "m³/h" | "m3h" | "cmh" => Some(Airflow::from_lps(value / 3.6)),
        "" => Some(match units {
            UnitSystem::InchPound => Airflow::from_cfm(value),
            UnitSystem::SiLitres => Airflow::from_lps(value),
            UnitSystem::SiCubicMetres => Airflow::from_lps(value / 3.6),
        }),
        _ => None,
    })
}

/// A temperature.
///
/// # Errors
/// See [`TextError`].
pub fn temperature(text: &str, units: UnitSystem) -> Result<Temperature, TextError> {
    quantity(text, Comma::Thousands, "°F or °C", |unit, value| match unit {
        "°f" | "f" | "ºf" => Some(Temperature::from_f(value)),
        "°c" | "c" | "ºc" => Some(Temperature::from_c(value)),
        "" | "°" => Some(match units {
            UnitSystem::InchPound => Temperature::from_f(value),
            _ => Temperature::from_c(value),
        }),
        _ => None,
    })
}

/// A temperature difference.
///
/// # Errors
/// See [`TextError`].
pub fn temperature_rise(text: &str, units: UnitSystem) -> Result<TemperatureRise, TextError> {
    quantity(text, Comma::Thousands, "°F or K", |unit, value| match unit {
        "°f" | "f" => Some(TemperatureRise::from_f(value)),
        "°c" | "c" | "k" => Some(TemperatureRise::from_f(value * 1.8)),
        "" | "°" => Some(match units {
            UnitSystem::InchPound => TemperatureRise::from_f(value),
            _ => TemperatureRise::from_f(value * 1.8),
        }),
        _ => None,
    })
}

/// A height.
///
/// # Errors
/// See [`TextError`].
pub fn altitude(text: &str, units: UnitSystem) -> Result<Altitude, TextError> {
    quantity(text, Comma::Thousands, "ft or m", |unit, value| match unit {
        "ft" | "feet" | "'" | "′" => Some(Altitude::from_ft(value)),
        "m" | "metres" | "meters" => Some(Altitude::from_m(value)),
        "" => Some(match units {
            UnitSystem::InchPound => Altitude::from_ft(value),
            _ => Altitude::from_m(value),
        }),
        _ => None,
    })
}

/// An atmospheric pressure.
///
/// # Errors
/// See [`TextError`].
pub fn barometer(text: &str, units: UnitSystem) -> Result<Barometer, TextError> {
    quantity(text, Comma::Thousands, "in. Hg, hPa or kPa", |unit, value| match unit {
        "inhg" | "in" | "\"hg" => Some(Barometer::from_in_hg(value)),
        "kpa" => Some(Barometer::from_kpa(value)),
        "hpa" | "mbar" | "mb" => Some(Barometer::from_kpa(value / 10.0)),
        "" => Some(match units {
            UnitSystem::InchPound => Barometer::from_in_hg(value),
            _ => Barometer::from_kpa(value),
        }),
        _ => None,
    })
}

/// A heat output.
///
/// # Errors
/// See [`TextError`].
pub fn heat_rate(text: &str, units: UnitSystem) -> Result<HeatRate, TextError> {
    quantity(text, Comma::Thousands, "Btu/h or kW", |unit, value| match unit {
        "btu/h" | "btuh" | "btu" => Some(HeatRate::from_btuh(value)),
        "kbtu/h" | "kbtuh" | "kbtu" | "mbh" => Some(HeatRate::from_btuh(value * 1000.0)),
        "kw" => Some(HeatRate::from_watts(value * 1000.0)),
        "w" => Some(HeatRate::from_watts(value)),
        "" => Some(match units {
            UnitSystem::InchPound => HeatRate::from_btuh(value),
            _ => HeatRate::from_watts(value * 1000.0),
        }),
        _ => None,
    })
}

/// A cooling capacity: tons, "3½", "42 kBtu/h", "12.3 kW"; kilowatts without a unit in SI.
///
/// # Errors
/// See [`TextError`].
pub fn capacity(text: &str, units: UnitSystem) -> Result<Capacity, TextError> {
    let spelled = text.replace('½', ".5").replace('¼', ".25").replace('¾', ".75");
    quantity(&spelled, Comma::Thousands, "ton, Btu/h or kW", |unit, value| match unit {
        "ton" | "tons" | "t" => Some(Capacity::from_tons(value)),
        "btu/h" | "btuh" => Some(Capacity::from_tons(value / 12_000.0)),
        "kbtu/h" | "kbtuh" | "kbtu" | "mbh" => Some(Capacity::from_tons(value / 12.0)),
        "kw" => Some(Capacity::from_tons(value * 1000.0 / crate::units::W_PER_TON)),
        "" => Some(match units {
            UnitSystem::InchPound => Capacity::from_tons(value),
            _ => Capacity::from_tons(value * 1000.0 / crate::units::W_PER_TON),
        }),
        _ => None,
    })
}

/// An electric power in watts.
///
/// # Errors
/// See [`TextError`].
pub fn power(text: &str) -> Result<Power, TextError> {
    quantity(text, Comma::Thousands, "W or kW", |unit, value| match unit {
        "w" | "" => Some(Power::from_watts(value)),
        "kw" => Some(Power::from_watts(value * 1000.0)),
        _ => None,
    })
}

/// A supply voltage.
///
/// # Errors
/// See [`TextError`].
pub fn voltage(text: &str) -> Result<Voltage, TextError> {
    quantity(text, Comma::Thousands, "V", |unit, value| match unit {
        "v" | "" => Some(Voltage::from_volts(value)),
        _ => None,
    })
}

/// A share in percent, as a fraction of one.
///
/// # Errors
/// See [`TextError`].
pub fn percent(text: &str) -> Result<f64, TextError> {
    quantity(text, Comma::Thousands, "%", |unit, value| match unit {
        "%" | "" => Some(value / 100.0),
        _ => None,
    })
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
            ("1e5", "\"e5\" is no unit of this field; it takes in. w.c. or Pa"),
        ];
        for (text, sentence) in cases {
            let error = pressure(text, UnitSystem::InchPound).unwrap_err();
            assert_eq!(error.to_string(), sentence);
        }
    }
}
