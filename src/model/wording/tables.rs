//! Sentences of what is wrong, or odd, with a blower table.

use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::numbers::job::PER_TON;
use crate::model::facts::table_check::{TableFault, TablePlace, TableProblem};
use crate::model::wording::{capital, uncapital};
use crate::units::quantity::Quantity;
use crate::units::show::{self, number, rise, rise_bare};
use crate::units::{Airflow, Pressure, UnitSystem, text};

impl TableProblem {
    /// One sentence without its period that names place and value and says what would be right, short enough to read whatever was typed.
    pub fn sentence(&self, table: &BlowerTable, units: UnitSystem) -> String {
        let tap = self.place.tap().map_or_else(String::new, |tap| name_of_tap(table, tap));
        let here = self.place_said(table, units);
        let esp = |esp: Pressure| Quantity::Pressure.written(esp.in_wc(), units);
        let bare_esp = |esp: Pressure| Quantity::Pressure.bare(esp.in_wc(), units);
        let airflow = |airflow: Airflow| Quantity::Airflow.written(airflow.cfm(), units);
        let bare_airflow = |airflow: Airflow| Quantity::Airflow.bare(airflow.cfm(), units);
        text::shortened(&match &self.what {
            TableFault::TooMuch(most) => most.sentence(),
            TableFault::NoTaps => "The table has no taps; it needs at least one column".to_owned(),
            TableFault::OutOfRange(refused) if here.is_empty() => refused.sentence(units),
            TableFault::OutOfRange(refused) => {
                let is_cell = matches!(self.place, TablePlace::Cell(..));
                let hint = if is_cell { "; leave the place empty when the table gives none" } else { "" };
                format!("{here}: {}{hint}", uncapital(&refused.sentence(units)))
            }
            TableFault::UnknownTap(name) => format!(
                "{here} runs \"{}\", which the table does not have; it has {}",
                text::cut(name),
                tap_names(table)
            ),
            TableFault::RunsTwo(one, other) => {
                format!("{here} runs \"{}\" and \"{}\"; give each call one tap", text::cut(one), text::cut(other))
            }
            TableFault::NoRise(low, high) => format!(
                "{here} has a temperature rise of {} to {}; the first must be below the second",
                rise_bare(*low, units),
                Quantity::TemperatureRise.written(high.f(), units)
            ),
            TableFault::NoName => {
                let number = self.place.tap().map_or(0, |tap| tap + 1);
                format!("{} {number} has no name", capital(table.motor.tap_word()))
            }
            TableFault::NameTwice => format!("{tap} stands twice"),
            TableFault::NoRange(from, to) => {
                format!("{tap} gives one airflow from {} to {}; the range must rise", bare_esp(*from), esp(*to))
            }
            TableFault::RowsDoNotRise(above, below) => {
                let what = if below < above {
                    "comes after"
                } else if below > above {
                    "lies too close to"
                } else {
                    "stands twice with"
                };
                let (below, above) = (esp(*below), bare_esp(*above));
                format!("{tap}: the row of {below} {what} {above}; rows must rise in static pressure")
            }
            TableFault::AirflowRises(before, after) => format!(
                "{here}: airflow rises from {} to {} while static rises; is one of them mistyped?",
                bare_airflow(*before),
                airflow(*after)
            ),
            TableFault::NoAirflow => format!("{tap} has no airflow in any row"),
            TableFault::OneRow(at, given) => format!(
                "{tap} has one row only ({} at {}): it is a point that projects nothing",
                airflow(*given),
                esp(*at)
            ),
            TableFault::OddPerTon { moves, capacity, each, units: taken } => {
                let (low, high) = PER_TON.usual.unwrap_or((PER_TON.first, PER_TON.first));
                let bare = |cfm| PER_TON.quantity.bare(cfm, units);
                let asks = taken.map_or_else(
                    || "is a digit or the capacity mistyped?".to_owned(),
                    |(printed, read)| format!("was it printed in {printed} and read as {read}?"),
                );
                format!(
                    "{tap} moves {} to {} for {}, {} {} a ton, where {} to {} is usual; {asks}",
                    show::airflow_bare(moves.0, units),
                    show::airflow(moves.1, units),
                    show::capacity(*capacity, units),
                    number(units.airflow_number(*each), 0),
                    units.airflow_unit(),
                    bare(low),
                    bare(high)
                )
            }
            TableFault::OddWatts(each) => format!(
                "{tap} takes {}; is another unit or another column meant?",
                Quantity::PowerPerAirflow.written(*each, units)
            ),
            TableFault::LeastOverMost(least, most) => format!(
                "{here} needs at least {}, and the table moves {} at most; is that figure mistyped?",
                airflow(*least),
                airflow(*most)
            ),
            TableFault::LeastTooHot(least, heated) => format!(
                "{here} needs at least {}, which it would heat by {}; is that figure mistyped?",
                airflow(*least),
                rise(*heated, units)
            ),
        })
    }

    /// "Tap 4 at 0.30 in. w.c.", "Heating low"; empty for what stands beside the grid, whose numbers say what they are.
    fn place_said(&self, table: &BlowerTable, units: UnitSystem) -> String {
        match self.place {
            TablePlace::Table
            | TablePlace::Cooling
            | TablePlace::RatedMaximum
            | TablePlace::Voltage
            | TablePlace::LowVoltage
            | TablePlace::Density
            | TablePlace::ReadingError => String::new(),
            TablePlace::Call(call) => call.name().to_owned(),
            TablePlace::Stage(stage) => table.heating.get(stage).map_or("", |stage| stage.call.name()).to_owned(),
            TablePlace::Tap(tap) | TablePlace::Static(tap, _) => name_of_tap(table, tap),
            TablePlace::Cell(tap, row, _) => {
                let rows = table.taps.get(tap).map(|tap| tap.data.rows()).unwrap_or_default();
                let esp = rows.get(row).map_or(f64::NAN, |row| row.esp.in_wc());
                format!("{} at {}", name_of_tap(table, tap), Quantity::Pressure.written(esp, units))
            }
        }
    }
}

/// The remarks on a job's table, each with its sentence.
pub fn remarks<'a>(
    job: &'a Job,
    problems: &'a [TableProblem],
    units: UnitSystem,
) -> impl Iterator<Item = (&'a TableProblem, String)> {
    let said = move |table: &'a BlowerTable| problems.iter().map(move |one| (one, one.sentence(table, units)));
    job.machine.iter().flat_map(said)
}

/// "Tap 4".
fn name_of_tap(table: &BlowerTable, tap: usize) -> String {
    let name = table.taps.get(tap).map_or("", |tap| tap.name.as_str());
    format!("{} {name}", capital(table.motor.tap_word()))
}

/// The taps' names as a sentence lists them.
fn tap_names(table: &BlowerTable) -> String {
    let names: Vec<&str> = table.taps.iter().map(|tap| tap.name.as_str()).collect();
    names.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::blower::{Call, MotorFamily};
    use crate::model::facts::blower::{Cell, Row, Tap, TapData};
    use crate::model::facts::severity::Severity;
    use crate::model::facts::table_check::check;

    const UNITS: UnitSystem = UnitSystem::InchPound;

    fn column(points: &[(f64, f64)]) -> TapData {
        TapData::Column(
            points
                .iter()
                .map(|&(esp, cfm)| Row {
                    esp: Pressure::from_in_wc(esp),
                    cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
                    power: None,
                    speed: None,
                })
                .collect(),
        )
    }

    fn remarks(motor: MotorFamily, data: TapData) -> Vec<(Severity, String)> {
        let table = BlowerTable { motor, taps: vec![Tap { name: "4".to_owned(), data }], ..BlowerTable::default() };
        check(&table).into_iter().map(|problem| (problem.severity, problem.sentence(&table, UNITS))).collect()
    }

    #[test]
    fn however_long_a_tap_is_named_a_remark_is_short_enough_to_read() {
        let name = "x".repeat(2300);
        let calls = vec![(Call::FanOnly, name.clone()), (Call::FanOnly, name)];
        let table = BlowerTable { calls, ..BlowerTable::default() };
        let problems = check(&table);
        let told: Vec<String> = problems.iter().map(|problem| problem.sentence(&table, UNITS)).collect();
        assert!(told.iter().any(|sentence| sentence.starts_with("Fan only runs")), "{told:?}");
        for sentence in told {
            assert!(sentence.chars().count() <= 300, "{sentence}");
        }
    }

    #[test]
    fn each_bad_row_gets_its_sentence() {
        use MotorFamily::{ConstantAirflow, PermanentSplitCapacitor as Psc};
        use Severity::{Error, Question};
        type Case<'a> = (MotorFamily, &'a [(f64, f64)], Severity, &'a str);
        let cases: &[Case<'_>] = &[
            (Psc, &[(0.1, 1200.0), (0.3, 1100.0), (0.2, 1150.0)], Error, "row of 0.20 in. w.c. comes after 0.30"),
            (Psc, &[(0.1, 1200.0), (0.1, 1100.0)], Error, "row of 0.10 in. w.c. stands twice"),
            (Psc, &[(0.1, f64::NAN), (0.2, 1100.0)], Error, "airflow of NaN cfm cannot be"),
            (Psc, &[(0.1, -5.0), (0.2, 1100.0)], Error, "airflow of −5 cfm cannot be"),
            (Psc, &[(-0.1, 1200.0), (0.2, 1100.0)], Error, "row of −0.10 in. w.c. cannot be"),
            (Psc, &[(0.1, 1030.0), (0.2, 1300.0)], Error, "rises from 1,030 to 1,300"),
            (Psc, &[(0.1, 1200.0), (0.2, 1205.0)], Question, "rises from 1,200 to 1,205"),
            (ConstantAirflow, &[(0.1, 1200.0), (0.2, 1230.0)], Question, "rises from 1,200 to 1,230"),
            (Psc, &[(0.1, 1200.0)], Question, "one row only"),
            (Psc, &[], Error, "no airflow in any row"),
        ];
        for (motor, points, severity, fragment) in cases {
            let found = remarks(*motor, column(points));
            assert!(
                found.iter().any(|(grave, message)| grave == severity && message.contains(fragment)),
                "{points:?} gave {found:?}"
            );
        }
    }
}
