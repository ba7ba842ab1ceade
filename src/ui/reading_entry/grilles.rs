//! What people type into the field of a side's grilles: "120 95 110", "120 + 95 + 110", or one sum of all.

use super::looks::split_looks;
use crate::model::facts::numbers::job::GRILLE_AIRFLOW;
use crate::model::wording;
use crate::units::text::{self, Comma, TextError};
use crate::units::{Airflow, UnitSystem};

/// Reads the airflows that were typed into the field of a side's grilles; an empty text is none.
///
/// `name` is what the field is called in a sentence.
/// Airflows stand apart by spaces, semicolons or plus signs, and a unit belongs to the number before it.
///
/// # Errors
/// A sentence that names the field and the text, or the airflow that no grille of a house has.
pub fn parse_grilles(typed: &str, units: UnitSystem, name: &str) -> Result<Vec<Airflow>, String> {
    let parts = split_looks(&typed.replace('+', ";"));
    let wrong = |error: TextError| match error {
        TextError::NotANumber(_) => format!("{name}: {error}; grilles look like 120 95 110"),
        TextError::Empty | TextError::WrongUnit { .. } => format!("{name}: {error}"),
    };
    let unit = |part: &String| text::number(part, Comma::Thousands).map(|number| number.unit).map_err(wrong);
    let typed_units: Vec<String> = parts.iter().map(unit).collect::<Result<_, _>>()?;
    let is_foreign = |unit: &String| !unit.is_empty() && unit != units.airflow_unit();
    if let (Some(bare), true) = (typed_units.iter().position(String::is_empty), typed_units.iter().any(is_foreign)) {
        return Err(format!(
            "{name}: \"{}\" has no unit beside an airflow that has one; give each its unit",
            parts[bare]
        ));
    }
    let grilles: Vec<Airflow> =
        parts.iter().map(|part| text::airflow(part, units).map_err(wrong)).collect::<Result<_, _>>()?;
    grilles
        .iter()
        .try_for_each(|grille| GRILLE_AIRFLOW.check(grille.cfm()).map(drop))
        .map_err(|refused| format!("{name}: {}", wording::uncapital(&refused.sentence(units))))?;
    Ok(grilles)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn airflows_stand_apart_by_spaces_semicolons_and_plus_signs() {
        let litres = 1.0 / 0.471_947_443_2;
        let cases: [(&str, &[f64]); 7] = [
            ("120 95 110", &[120.0, 95.0, 110.0]),
            ("120+95 + 110", &[120.0, 95.0, 110.0]),
            ("120, 95; 110", &[120.0, 95.0, 110.0]),
            ("1,020", &[1_020.0]),
            ("120 cfm 95 cfm", &[120.0, 95.0]),
            ("57 L/s; 50 L/s", &[57.0 * litres, 50.0 * litres]),
            (" ", &[]),
        ];
        for (typed, expected) in cases {
            let grilles = parse_grilles(typed, UnitSystem::InchPound, "Supply grilles").unwrap();
            assert_eq!(grilles.len(), expected.len(), "{typed}: {grilles:?}");
            for (grille, expected) in grilles.iter().zip(expected) {
                assert!((grille.cfm() - expected).abs() < 1e-6, "{typed}: {grilles:?}");
            }
        }
    }

    #[test]
    fn what_cannot_be_read_gets_a_sentence_that_names_field_and_text() {
        let cases = [
            ("120 x", "Supply grilles: \"x\" is no unit of this field; it takes cfm, L/s or m³/h"),
            ("many", "Supply grilles: \"many\" is not a number; grilles look like 120 95 110"),
            ("120 -5", "Supply grilles: an airflow of −5 cfm at a grille cannot be; it lies between 1 and 20,000 cfm"),
            ("0", "Supply grilles: an airflow of 0 cfm at a grille cannot be; it lies between 1 and 20,000 cfm"),
            ("57 L/s; 95", "Supply grilles: \"95\" has no unit beside an airflow that has one; give each its unit"),
        ];
        for (typed, sentence) in cases {
            let refused = parse_grilles(typed, UnitSystem::InchPound, "Supply grilles");
            assert_eq!(refused, Err(sentence.to_owned()), "{typed}");
        }
    }
}
