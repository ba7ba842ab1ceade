//! The fields of another machine: its coil, its filter and its target.

use crate::model::facts::blower::PartInTest;
use crate::model::facts::change::Replacement;
use crate::model::facts::drop_data::{DRY_COIL, DropData, MEDIA_FILTER};
use crate::model::facts::numbers::duct as given;
use crate::model::facts::target::{NOMINAL_PER_TON, Target};
use crate::ui::changes_panel::slots::{self, Line, one, slot};
use crate::units::text::{self, TextError};
use crate::units::{Airflow, UnitSystem, show};

/// First published point of the coil.
const COIL: u8 = 0;
/// Second published point of the coil.
const COIL_SECOND: u8 = 1;
/// First published point of the filter.
const FILTER: u8 = 2;
/// Second published point of the filter.
const FILTER_SECOND: u8 = 3;
/// Cooling capacity of the target.
const CAPACITY: u8 = 10;
/// Airflow a ton of the target.
const PER_TON: u8 = 11;
/// The target as a plain airflow.
const AIRFLOW: u8 = 12;

/// The lines of its editor: parts that its table has not, then its target.
pub fn lines(new: &Replacement, units: UnitSystem) -> Vec<Line> {
    let mut lines = Vec::new();
    if !new.table.basis.coil.is_included() {
        let names = ["Coil by its data", "Coil by its data, second point"];
        lines.extend(part_lines("Its coil", new.coil.as_ref(), [COIL, COIL_SECOND], names, units));
    }
    if new.table.basis.filter == PartInTest::Without {
        let names = ["Filter by its data", "Filter by its data, second point"];
        lines.extend(part_lines("Its filter", new.filter.as_ref(), [FILTER, FILTER_SECOND], names, units));
    }
    let (capacity, per_ton, airflow) = match new.target {
        Some(Target::PerTon { capacity, per_ton }) => {
            (show::capacity_bare(capacity, units), show::airflow_exact(per_ton, units), String::new())
        }
        Some(Target::Airflow(airflow)) => (String::new(), String::new(), show::airflow_exact(airflow, units)),
        _ => Default::default(),
    };
    let label = format!("Cooling, {}", units.capacity_unit());
    lines.push(one(label, slot(CAPACITY, "New cooling capacity", capacity)));
    let label = format!("Airflow, {}/ton", units.airflow_unit());
    lines.push(one(label, slot(PER_TON, "New airflow a ton", per_ton)));
    let label = format!("or target, {}", units.airflow_unit());
    lines.push(one(label, slot(AIRFLOW, "New target airflow", airflow)));
    lines
}

fn part_lines(
    what: &str,
    data: Option<&DropData>,
    numbers: [u8; 2],
    names: [&'static str; 2],
    units: UnitSystem,
) -> Vec<Line> {
    let text = |index: usize| {
        let point = data.and_then(|data| data.points().get(index).copied());
        point.map(|point| slots::point_text(point, units)).unwrap_or_default()
    };
    let mut lines = vec![one(format!("{what}: drop at"), slot(numbers[0], names[0], text(0)))];
    if data.is_some() {
        lines.push(one("second point", slot(numbers[1], names[1], text(1))));
    }
    lines
}

/// Takes a text typed into one of the fields.
///
/// # Errors
/// A sentence that names the field and what is wrong with the text.
pub fn type_into(new: &mut Replacement, slot: u8, typed: &str, units: UnitSystem) -> Result<(), String> {
    match slot {
        COIL => new.coil = first_point("Its coil", new.coil.as_ref(), DRY_COIL, typed, units)?,
        FILTER => new.filter = first_point("Its filter", new.filter.as_ref(), MEDIA_FILTER, typed, units)?,
        COIL_SECOND => new.coil = second_point(new.coil.as_ref(), typed, units)?,
        FILTER_SECOND => new.filter = second_point(new.filter.as_ref(), typed, units)?,
        CAPACITY => new.target = with_capacity(new.target, typed, units)?,
        PER_TON => new.target = with_per_ton(new, typed, units)?,
        AIRFLOW => {
            let target =
                airflow("New target airflow", typed, units)?.map(|airflow| meant(Target::Airflow(airflow), units));
            new.target = target.transpose()?.or(job_target(new));
        }
        _ => return Err("Another machine has no such field".to_owned()),
    }
    Ok(())
}

/// What an emptied airflow leaves: the target by tons where there was one, else the job's.
const fn job_target(new: &Replacement) -> Option<Target> {
    match new.target {
        Some(Target::PerTon { .. }) => new.target,
        _ => None,
    }
}

fn first_point(
    name: &str,
    before: Option<&DropData>,
    exponent: f64,
    typed: &str,
    units: UnitSystem,
) -> Result<Option<DropData>, String> {
    let Some(first) = slots::point(name, typed, units)? else {
        return Ok(None);
    };
    let second = before.and_then(|data| data.points().get(1).copied());
    let mut points: Vec<_> = std::iter::once(first).chain(second).collect();
    points.sort_by(|one, other| one.0.cfm().total_cmp(&other.0.cfm()));
    slots::made(points, exponent, units).map(Some)
}

fn second_point(before: Option<&DropData>, typed: &str, units: UnitSystem) -> Result<Option<DropData>, String> {
    let before = before.ok_or("Give its first point before the second")?;
    slots::typed_data(before, 3, typed, units).map(Some)
}

fn with_capacity(before: Option<Target>, typed: &str, units: UnitSystem) -> Result<Option<Target>, String> {
    let per_ton = match before {
        Some(Target::PerTon { per_ton, .. }) => per_ton,
        _ => NOMINAL_PER_TON,
    };
    match text::capacity(typed, units) {
        Err(TextError::Empty) => Ok(None),
        Err(error) => Err(format!("New cooling capacity: {error}")),
        Ok(capacity) => meant(Target::PerTon { capacity, per_ton }, units).map(Some),
    }
}

fn with_per_ton(new: &Replacement, typed: &str, units: UnitSystem) -> Result<Option<Target>, String> {
    let Some(Target::PerTon { capacity, .. }) = new.target else {
        let is_empty = typed.trim().is_empty();
        return if is_empty { Ok(new.target) } else { Err("Give the new cooling capacity first".to_owned()) };
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
    use crate::model::facts::blower::BlowerTable;
    use crate::units::Capacity;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    fn new() -> Replacement {
        Replacement {
            table: BlowerTable::default(),
            tap: None,
            leaves: Vec::new(),
            coil: None,
            filter: None,
            target: Some(Target::PerTon { capacity: Capacity::from_tons(3.5), per_ton: Airflow::from_cfm(400.0) }),
        }
    }

    fn typed(texts: &[(u8, &str)]) -> Replacement {
        let mut new = new();
        for (slot, text) in texts {
            type_into(&mut new, *slot, text, UNITS).unwrap();
        }
        new
    }

    #[test]
    fn typing_what_stands_in_a_field_changes_nothing() {
        let full = typed(&[(COIL, "0.20 at 1200"), (COIL_SECOND, "0.30 at 1600"), (FILTER, "0.1 at 1200")]);
        for slot in lines(&full, UNITS).into_iter().flat_map(|line| line.slots) {
            let mut again = full.clone();
            type_into(&mut again, slot.number, &slot.shown, UNITS).unwrap();
            assert_eq!(again, full, "{}", slot.name);
        }
    }

    #[test]
    fn a_coil_by_one_point_takes_a_coils_exponent_and_goes_when_it_is_emptied() {
        let one = typed(&[(COIL, "0.20 at 1200")]);
        let coil = one.coil.unwrap();
        assert!((coil.at_airflow(Airflow::from_cfm(2400.0)).in_wc() - 0.2 * 2.0_f64.powf(DRY_COIL)).abs() < 1e-9);
        assert_eq!(typed(&[(COIL, "0.20 at 1200"), (COIL, "")]).coil, None);
        let filter = typed(&[(FILTER, "0.10 at 1200")]).filter.unwrap();
        assert!((filter.exponent() - MEDIA_FILTER).abs() < 1e-12);
    }

    #[test]
    fn a_target_is_by_tons_or_an_airflow() {
        assert_eq!(typed(&[(AIRFLOW, "1500")]).target, Some(Target::Airflow(Airflow::from_cfm(1500.0))));
        let per_ton = Airflow::from_cfm(350.0);
        let capacity = Capacity::from_tons(4.0);
        let wanted = Some(Target::PerTon { capacity, per_ton });
        assert_eq!(typed(&[(CAPACITY, "4"), (PER_TON, "350")]).target, wanted);
        assert_eq!(typed(&[(CAPACITY, "")]).target, None);
        assert_eq!(typed(&[(AIRFLOW, "1500"), (AIRFLOW, "")]).target, None);
    }

    #[test]
    fn what_cannot_be_gets_a_sentence_that_names_the_field() {
        let cases = [
            (COIL, "0.2", "Its coil: \"0.2\" is no point"),
            (COIL_SECOND, "0.2 at 900", "first point before the second"),
            (CAPACITY, "900", "A capacity of 900 ton cannot be; it lies between 0.5 and 25 ton"),
            (CAPACITY, "30", "A capacity of 30 ton cannot be"),
            (PER_TON, "4000", "4,000 cfm/ton cannot be"),
            (AIRFLOW, "40000", "A target of 40,000 cfm cannot be"),
            (AIRFLOW, "x", "New target airflow: \"x\" is not a number"),
        ];
        for (slot, text, fragment) in cases {
            let message = type_into(&mut new(), slot, text, UNITS).unwrap_err();
            assert!(message.contains(fragment), "{text}: {message}");
        }
    }
}
