//! Sentences of what two blower tables say differently.

use crate::model::facts::blower::{
    BlowerTable, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings,
};
use crate::model::facts::table_difference::{
    OfDrop, OfHeat, OfLowVoltage, OfRange, OfRow, Place, Printed, Said, TableDifference, differences,
};
use crate::model::wording::uncapital;
use crate::units::quantity::Quantity;
use crate::units::{UnitSystem, text};

/// Differences that are told one by one; the others are counted.
const TOLD: usize = 2;

/// What two tables say differently, without a period: "tap 3 at 0.50 in. w.c.: 1,195 against 1,180 cfm; and 2 more"; nothing for tables that mean the same.
pub fn told(one: &BlowerTable, other: &BlowerTable, units: UnitSystem) -> Option<String> {
    let found = differences(one, other);
    let word = one.motor.tap_word();
    let mut parts: Vec<String> = found.iter().take(TOLD).map(|difference| of_one(difference, word, units)).collect();
    let more = found.len().saturating_sub(TOLD);
    if more > 0 {
        parts.push(format!("and {more} more"));
    }
    (!parts.is_empty()).then(|| text::shortened(&parts.join("; ")))
}

/// How a job's own copy of a table differs from the library's, a sentence without its period; nothing where they mean the same.
pub fn job_and_library(job: &BlowerTable, library: &BlowerTable, units: UnitSystem) -> Option<String> {
    let told = told(job, library, units)?;
    Some(format!("This job's table is not the library's of that name; job against library: {told}"))
}

/// Where a table of the library lies, a sentence without its period; the folder is in words, empty for none.
pub fn lies(is_own: bool, folder: &str) -> String {
    match (is_own, folder) {
        (false, _) => "It ships with the program and is changed as a copy".to_owned(),
        (true, "") => "Your own table, in no folder".to_owned(),
        (true, folder) => format!("Your own table, in {folder}"),
    }
}

/// Where another table lies: "in Furnaces / Two-stage".
pub fn place(is_own: bool, folder: &str) -> String {
    match (is_own, folder) {
        (false, _) => "in the program".to_owned(),
        (true, "") => "among your own, in no folder".to_owned(),
        (true, folder) => format!("in {folder}"),
    }
}

/// That the same table is there a second time, at a [`place`].
pub fn same_twice(place: &str) -> String {
    format!("The very same table lies {place} too")
}

/// That another table of the same name is there, at a [`place`], and in what it differs; nothing where they mean the same.
pub fn two_of_a_name(this: &BlowerTable, other: &BlowerTable, place: &str, units: UnitSystem) -> Option<String> {
    Some(format!("Another of this name lies {place}; this one against that: {}", told(this, other, units)?))
}

/// One difference: where, what the one says, what the other says.
fn of_one(difference: &TableDifference<'_>, word: &str, units: UnitSystem) -> String {
    let place = of_place(difference.place, word, units);
    match (difference.one, difference.other) {
        (Some(Said::Number(quantity, one)), Some(Said::Number(_, other))) => {
            let (bare, written) = (quantity.bare(one.0, units), quantity.written(other.0, units));
            if quantity.bare(other.0, units) == bare {
                format!("{place}: both about {written}, past the digits shown")
            } else {
                format!("{place}: {bare} against {written}")
            }
        }
        // Whole sentences would hide what weighs more.
        (Some(Said::Words(_)), Some(Said::Words(_))) if is_in_words(difference.place) => {
            format!("{place} in other words")
        }
        (one, other) => format!("{place}: {} against {}", of_side(one, units), of_side(other, units)),
    }
}

/// True for what a table says in sentences.
const fn is_in_words(place: Place<'_>) -> bool {
    matches!(place, Place::Source | Place::Notes | Place::Row(_, _, OfRow::Note))
}

fn of_side(said: Option<Said<'_>>, units: UnitSystem) -> String {
    match said {
        None => "none".to_owned(),
        Some(Said::Number(quantity, value)) => quantity.written(value.0, units),
        Some(Said::Words(words)) => format!("\"{}\"", text::cut(words)),
        Some(Said::Is) => "one".to_owned(),
        Some(Said::Barred) => "not allowed".to_owned(),
        Some(Said::Kind(kind)) => uncapital(EquipmentKind::name(kind)),
        Some(Said::Motor(motor)) => MotorFamily::name(motor).to_owned(),
        Some(Said::Part(PartInTest::Without) | Said::Coil(CoilInTest::Without)) => "without".to_owned(),
        Some(Said::Part(PartInTest::Included)) => "in place".to_owned(),
        Some(Said::Coil(CoilInTest::Dry)) => "dry".to_owned(),
        Some(Said::Coil(CoilInTest::Wet)) => "wet".to_owned(),
        Some(Said::Openings(ReturnOpenings::Unstated) | Said::Position(Position::Unstated)) => "not said".to_owned(),
        Some(Said::Openings(ReturnOpenings::Bottom)) => "bottom".to_owned(),
        Some(Said::Openings(ReturnOpenings::OneSide)) => "one side".to_owned(),
        Some(Said::Openings(ReturnOpenings::TwoSides)) => "two sides".to_owned(),
        Some(Said::Position(Position::Up)) => "air out at the top".to_owned(),
        Some(Said::Position(Position::Down)) => "air out at the bottom".to_owned(),
        Some(Said::Position(Position::Horizontal)) => "air out at the side".to_owned(),
    }
}

/// "tap 3 at 0.50 in. w.c.", in small letters.
fn of_place(place: Place<'_>, word: &str, units: UnitSystem) -> String {
    match place {
        Place::Tap(tap) => format!("{word} {}", text::cut(tap)),
        Place::Range(tap, of) => {
            let of = match of {
                OfRange::Airflow => "one airflow over a range",
                OfRange::From => "lowest static of its range",
                OfRange::To => "highest static of its range",
            };
            format!("{word} {}, {of}", text::cut(tap))
        }
        Place::Row(tap, esp, of) => {
            let of = match of {
                OfRow::Airflow => "",
                OfRow::Note => ", note",
                OfRow::Watts => ", watts",
                OfRow::Rpm => ", wheel speed",
            };
            format!("{word} {} at {}{of}", text::cut(tap), Quantity::Pressure.written(esp.0, units))
        }
        Place::RatedMaximum => "rated maximum".to_owned(),
        Place::Cooling => "nominal cooling".to_owned(),
        Place::Motor => "motor".to_owned(),
        Place::Kind => "machine".to_owned(),
        Place::Call(call) => format!("{word} that {} runs", uncapital(call.name())),
        Place::Heat(call, of) => {
            let of = match of {
                OfHeat::Output => "heat output",
                OfHeat::RiseFrom => "lowest rise",
                OfHeat::RiseTo => "highest rise",
                OfHeat::LeastAirflow => "least airflow",
            };
            format!("{of} of {}", uncapital(call.name()))
        }
        Place::Filter => "filter in the test".to_owned(),
        Place::Coil => "coil in the test".to_owned(),
        Place::Heater => "heater in the test".to_owned(),
        Place::ReturnOpenings => "return openings in the test".to_owned(),
        Place::Position => "position in the test".to_owned(),
        Place::Voltage => "voltage in the test".to_owned(),
        Place::Density => "air density in the test".to_owned(),
        Place::ReadingError => "reading error".to_owned(),
        Place::Drop(which, of) => of_drop(which, of),
        Place::LowVoltage(OfLowVoltage::Voltage) => "other supply's voltage".to_owned(),
        Place::LowVoltage(OfLowVoltage::Factor) => "airflow at the other supply, as a share".to_owned(),
        Place::Name => "name".to_owned(),
        Place::Illustrative => "mark of an invented machine".to_owned(),
        Place::Source => "source".to_owned(),
        Place::Notes => "notes".to_owned(),
    }
}

fn of_drop(which: Printed, of: OfDrop) -> String {
    let which = match which {
        Printed::FilterAsTested => "filter as tested",
        Printed::WetCoil => "wet coil",
        Printed::Heater => "heater",
        Printed::OneSideReturn => "one-side return",
    };
    match of {
        OfDrop::Airflow(point) => format!("{which}, airflow of point {}", point + 1),
        OfDrop::Drop(point) => format!("{which}, drop of point {}", point + 1),
        OfDrop::Exponent => format!("{which}, exponent"),
        OfDrop::Density => format!("{which}, air density"),
    }
}
