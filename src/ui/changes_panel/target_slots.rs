//! The boxes of another machine's target.

use crate::model::facts::numbers::duct as given;
use crate::model::facts::target::{NOMINAL_PER_TON, Target};
use crate::ui::changes_panel::boxes::{Box, narrow};
use crate::units::text::{self, TextError};
use crate::units::{Airflow, UnitSystem, show};

const CAPACITY: u8 = 0;
const PER_TON: u8 = 1;
const AIRFLOW: u8 = 2;

/// A capacity with its airflow a ton, or a plain airflow; another machine's target by heat is a file's alone.
pub fn boxes(target: Option<&Target>, units: UnitSystem) -> Vec<Box> {
    let (capacity, per_ton, airflow) = match target {
        Some(Target::PerTon { capacity, per_ton }) => {
            (show::capacity_bare(*capacity, units), show::airflow_exact(*per_ton, units), String::new())
        }
        Some(Target::Airflow(airflow)) => (String::new(), String::new(), show::airflow_exact(*airflow, units)),
        Some(Target::HeatRise { .. }) | None => Default::default(),
    };
    vec![
        narrow(CAPACITY, format!("Cooling, {}", units.capacity_unit()), "New cooling capacity", capacity),
        narrow(PER_TON, format!("Airflow, {}/ton", units.airflow_unit()), "New airflow a ton", per_ton),
        narrow(AIRFLOW, format!("or target, {}", units.airflow_unit()), "New target airflow", airflow),
    ]
}

/// The target that a text typed into one of the boxes makes.
///
/// # Errors
/// A sentence that names the box and what is wrong with the text.
pub fn typed(before: Option<Target>, within: u8, typed: &str, units: UnitSystem) -> Result<Option<Target>, String> {
    match within {
        CAPACITY => with_capacity(before, typed, units),
        PER_TON => with_per_ton(before, typed, units),
        _ => {
            let target =
                airflow("New target airflow", typed, units)?.map(|airflow| meant(Target::Airflow(airflow), units));
            Ok(target.transpose()?.or(before_airflow(before)))
        }
    }
}

/// What an emptied airflow leaves: the target by tons where there was one, else the job's.
const fn before_airflow(before: Option<Target>) -> Option<Target> {
    match before {
        Some(Target::PerTon { .. }) => before,
        Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => None,
    }
}

fn with_capacity(before: Option<Target>, typed: &str, units: UnitSystem) -> Result<Option<Target>, String> {
    let per_ton = match before {
        Some(Target::PerTon { per_ton, .. }) => per_ton,
        Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => NOMINAL_PER_TON,
    };
    match text::capacity(typed, units) {
        Err(TextError::Empty) => Ok(None),
        Err(error) => Err(format!("New cooling capacity: {error}")),
        Ok(capacity) => meant(Target::PerTon { capacity, per_ton }, units).map(Some),
    }
}

fn with_per_ton(before: Option<Target>, typed: &str, units: UnitSystem) -> Result<Option<Target>, String> {
    let Some(Target::PerTon { capacity, .. }) = before else {
        let is_empty = typed.trim().is_empty();
        return if is_empty { Ok(before) } else { Err("Give the new cooling capacity first".to_owned()) };
    };
    let per_ton = airflow("New airflow a ton", typed, units)?.unwrap_or(NOMINAL_PER_TON);
    meant(Target::PerTon { capacity, per_ton }, units).map(Some)
}

/// A target that the job takes.
fn meant(target: Target, units: UnitSystem) -> Result<Target, String> {
    target.check().map(|()| target).map_err(|refused| refused.sentence(units))
}

fn airflow(name: &str, typed: &str, units: UnitSystem) -> Result<Option<Airflow>, String> {
    match text::airflow(typed, units) {
        Err(TextError::Empty) => Ok(None),
        Err(error) => Err(format!("{name}: {error}")),
        Ok(airflow) => {
            given::DESIGN_AIRFLOW.check(airflow.cfm()).map_err(|error| error.sentence(units))?;
            Ok(Some(airflow))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ui::changes_panel::boxes::Slot;
    use crate::units::Capacity;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    #[expect(clippy::unnecessary_wraps, reason = "a target may be missing, and these are compared with it")]
    fn tons(tons: f64, cfm: f64) -> Option<Target> {
        Some(Target::PerTon { capacity: Capacity::from_tons(tons), per_ton: Airflow::from_cfm(cfm) })
    }

    fn after(texts: &[(u8, &str)]) -> Option<Target> {
        let type_in = |before, (within, text): &(u8, &str)| typed(before, *within, text, UNITS).unwrap();
        texts.iter().fold(tons(3.5, 400.0), type_in)
    }

    #[test]
    fn typing_what_stands_in_a_field_changes_nothing() {
        for target in [tons(3.5, 400.0), Some(Target::Airflow(Airflow::from_cfm(1500.0)))] {
            for (_, Slot { number, name, shown, .. }) in boxes(target.as_ref(), UNITS) {
                let is_of_another = shown.is_empty();
                assert!(is_of_another || typed(target, number, &shown, UNITS) == Ok(target), "{name}");
            }
        }
    }

    #[test]
    fn a_target_is_by_tons_or_an_airflow() {
        assert_eq!(after(&[(AIRFLOW, "1500")]), Some(Target::Airflow(Airflow::from_cfm(1500.0))));
        assert_eq!(after(&[(CAPACITY, "4"), (PER_TON, "350")]), tons(4.0, 350.0));
        assert_eq!(after(&[(CAPACITY, "")]), None);
        assert_eq!(after(&[(AIRFLOW, "1500"), (AIRFLOW, "")]), None);
    }

    #[test]
    fn what_cannot_be_gets_a_sentence_that_names_the_field() {
        let cases = [
            (CAPACITY, "900", "A capacity of 900 ton cannot be; it lies between 0.5 and 25 ton"),
            (CAPACITY, "30", "A capacity of 30 ton cannot be"),
            (PER_TON, "4000", "4,000 cfm/ton cannot be"),
            (AIRFLOW, "40000", "A target of 40,000 cfm cannot be"),
            (AIRFLOW, "x", "New target airflow: \"x\" is not a number"),
        ];
        for (within, text, fragment) in cases {
            let message = typed(tons(3.5, 400.0), within, text, UNITS).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
    }
}
