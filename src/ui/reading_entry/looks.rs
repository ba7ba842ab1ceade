//! What people type into a reading's field, look by look: "-.52 -.51", "0,52; 0,51", "77 Pa 78 Pa".

use crate::model::facts::numbers::job::READING;
use crate::model::wording;
use crate::ui::reading_entry::Side;
use crate::units::text::{self, TypedSign};
use crate::units::{Pressure, UnitSystem};

/// Reads the looks that were typed into a reading's field; an empty text is no reading.
///
/// `name` is what the field is called in a sentence.
/// Looks stand apart by spaces or semicolons, and a unit belongs to the number before it.
///
/// # Errors
/// A sentence that names the field and the text, or the value that no manometer on such a machine shows.
pub fn parse_looks(typed: &str, units: UnitSystem, side: Side, name: &str) -> Result<Vec<Pressure>, String> {
    let parts = split_looks(typed);
    let looks: Vec<Look> = parts.iter().map(|part| look(part, units, side, name)).collect::<Result<_, _>>()?;
    if let (Some(bare), true) =
        (looks.iter().position(|look| look.unit == Unit::Unsaid), looks.iter().any(|look| look.unit == Unit::Foreign))
    {
        return Err(format!(
            "{name}: \"{}\" has no unit beside a reading that has one; give each its unit",
            parts[bare]
        ));
    }
    let looks: Vec<Pressure> = looks.iter().map(|look| look.value).collect();
    looks
        .iter()
        .try_for_each(|look| READING.check(look.in_wc()).map(drop))
        .map_err(|refused| format!("{name}: {}", wording::uncapital(&refused.sentence(units))))?;
    Ok(looks)
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    /// None typed.
    Unsaid,
    /// One that means the same as none.
    Shown,
    /// Another one.
    Foreign,
}

#[derive(Clone, Copy, Debug)]
struct Look {
    value: Pressure,
    unit: Unit,
}

fn look(part: &str, units: UnitSystem, side: Side, name: &str) -> Result<Look, String> {
    let wrong = |error: text::TextError| match error {
        text::TextError::NotANumber(_) => format!("{name}: {error}; a reading looks like 0.52 or 130 Pa"),
        text::TextError::Empty | text::TextError::WrongUnit { .. } => format!("{name}: {error}"),
    };
    let (value, sign) = text::signed_pressure(part, units).map_err(wrong)?;
    let number = text::number(part, text::Comma::Decimal).map_err(wrong)?;
    let as_bare = units.pressure_of(number.value);
    let unit = match (number.unit.is_empty(), (value - as_bare).abs() <= as_bare.abs() * 1e-9) {
        (true, _) => Unit::Unsaid,
        (false, true) => Unit::Shown,
        (false, false) => Unit::Foreign,
    };
    Ok(Look { value: signed(side, value, sign), unit })
}

/// The texts of single looks: a word that cannot begin a number goes with the one before it, a lone sign with the one after it.
pub(super) fn split_looks(typed: &str) -> Vec<String> {
    let mut looks: Vec<String> = Vec::new();
    for group in typed.split(';') {
        let mut begins = true;
        for word in group.split([' ', '\t', '\u{a0}', '\u{202f}']).map(|word| word.strip_suffix(',').unwrap_or(word)) {
            if word.is_empty() {
                continue;
            }
            match looks.last_mut() {
                Some(last) if !begins && (is_lone_sign(last) || !begins_number(word)) => {
                    last.push(' ');
                    last.push_str(word);
                }
                _ => looks.push(word.to_owned()),
            }
            begins = false;
        }
    }
    looks
}

fn begins_number(word: &str) -> bool {
    word.starts_with(|letter: char| {
        letter.is_ascii_digit() || matches!(letter, '.' | ',' | '+' | '-' | '−' | '–' | '—')
    })
}

fn is_lone_sign(text: &str) -> bool {
    matches!(text, "+" | "-" | "−" | "–" | "—")
}

/// A bare number before the blower is meant as negative; a typed sign stays.
fn signed(side: Side, value: Pressure, sign: TypedSign) -> Pressure {
    match (side.is_before(), sign) {
        (true, TypedSign::Bare) => -value,
        _ => value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air_path::ElementId;
    use crate::model::facts::air_path::PortId;

    fn check(text: &str, side: Side, expected_in_wc: &[f64]) {
        let looks = parse_looks(text, UnitSystem::InchPound, side, "Static after the blower")
            .unwrap_or_else(|message| panic!("{text}: {message}"));
        let values: Vec<f64> = looks.iter().map(|look| look.in_wc()).collect();
        assert_eq!(values.len(), expected_in_wc.len(), "{text}: {values:?}");
        for (value, expected) in values.iter().zip(expected_in_wc) {
            assert!((value - expected).abs() < 1e-12, "{text}: {values:?}");
        }
    }

    #[test]
    fn a_bare_number_before_the_blower_is_negative_and_a_typed_plus_stays() {
        let cases: [(&str, &[f64]); 8] = [
            ("0.31", &[-0.31]),
            (".31", &[-0.31]),
            ("-.31", &[-0.31]),
            ("−0.31", &[-0.31]),
            ("- 0.31", &[-0.31]),
            ("+0.31", &[0.31]),
            ("0,31", &[-0.31]),
            ("", &[]),
        ];
        for (text, expected) in cases {
            check(text, Side::Return, expected);
            check(text, Side::PortBefore(PortId(3)), expected);
        }
    }

    #[test]
    fn a_bare_number_after_the_blower_or_across_it_is_positive() {
        for side in [Side::Supply, Side::Total, Side::PortAfter(PortId(3)), Side::Across(ElementId(2))] {
            check("0.31", side, &[0.31]);
            check("+.31", side, &[0.31]);
            check("-.31", side, &[-0.31]);
            check("  ", side, &[]);
        }
    }

    #[test]
    fn several_looks_stand_apart_by_spaces_or_semicolons() {
        let pa = 249.088_91;
        let cases: [(&str, &[f64]); 8] = [
            ("-.52 -.51 .53", &[-0.52, -0.51, -0.53]),
            ("0,52; 0,51", &[-0.52, -0.51]),
            ("0,52, 0,51", &[-0.52, -0.51]),
            ("0.31 in", &[-0.31]),
            ("0.31 in. w.c. 0.32 in. w.c.", &[-0.31, -0.32]),
            ("0.31 0.32 in", &[-0.31, -0.32]),
            ("77 Pa 78 Pa", &[-77.0 / pa, -78.0 / pa]),
            ("77Pa;+78Pa", &[-77.0 / pa, 78.0 / pa]),
        ];
        for (text, expected) in cases {
            check(text, Side::Return, expected);
        }
    }

    #[test]
    fn what_cannot_be_read_gets_a_sentence_that_names_field_and_text() {
        let cases = [
            ("abc", "Static after the blower: \"abc\" is not a number; a reading looks like 0.52 or 130 Pa"),
            ("0.5 furlong", "Static after the blower: \"furlong\" is no unit of this field; it takes in. w.c. or Pa"),
            ("0.5;in", "Static after the blower: \"in\" is not a number; a reading looks like 0.52 or 130 Pa"),
            (
                "0.5 77 Pa",
                "Static after the blower: \"0.5\" has no unit beside a reading that has one; give each its unit",
            ),
            (
                "12",
                "Static after the blower: a reading of 12.00 in. w.c. cannot be; it lies within ±5 in. w.c.; was 0.12 in. w.c. or 12 Pa meant?",
            ),
        ];
        for (text, sentence) in cases {
            assert_eq!(
                parse_looks(text, UnitSystem::InchPound, Side::Supply, "Static after the blower"),
                Err(sentence.to_owned()),
                "{text}"
            );
        }
        assert!(parse_looks("0.5 12", UnitSystem::InchPound, Side::Return, "Static").is_err());
    }
}
