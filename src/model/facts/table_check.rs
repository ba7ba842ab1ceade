//! What is wrong, or odd, with a blower table; each remark names the tap and the row.

use crate::model::facts::blower::{BlowerTable, Cell, MotorFamily, Row, Tap, TapData};
use crate::model::facts::limits::{MOST_ROWS, MOST_TAPS, TABLE_DENSITY_RANGE};
use crate::model::facts::plain_text;
use crate::units::{Airflow, Power, Pressure, Speed, Voltage, show};

/// Highest ESP that a residential blower table lists; more is a slipped decimal point or another unit.
pub const HIGHEST_ESP: Pressure = Pressure::from_in_wc(5.0);
/// Largest airflow of the machines this program is for; more is a slipped digit or another unit.
pub const HIGHEST_AIRFLOW: Airflow = Airflow::from_cfm(20_000.0);
/// Smallest airflow that such a table prints; less is a slipped decimal point or another unit (assumed).
pub const LOWEST_AIRFLOW: Airflow = Airflow::from_cfm(10.0);
/// Rise of airflow from one row to the next that a constant-airflow motor's table may show (assumed: printed figures are rounded and such a motor hunts about its setting).
pub const CONSTANT_AIRFLOW_RISE: f64 = 0.02;
/// Rise from one row to the next past which a row cannot be meant (assumed).
pub const IMPOSSIBLE_RISE: f64 = 0.05;

/// No pressure of a duct blower's table in inches of water is above this (common practice, no source); a file that says so means another unit.
pub const MOST_PRESSURE: Pressure = Pressure::from_in_wc(10.0);

/// How grave a remark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Odd: the number is used, a person should look.
    Question,
    /// Cannot be right: the tap, or the table, is not used until it is mended.
    Error,
}

/// One remark on a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableProblem {
    /// Index of the tap, where it concerns one.
    pub tap: Option<usize>,
    /// Index of the row in the tap's column, where it concerns one.
    pub row: Option<usize>,
    /// How grave.
    pub severity: Severity,
    /// One sentence that names place and value and says what would be right.
    pub message: String,
}

/// Every remark on a table, in reading order.
pub fn check(table: &BlowerTable) -> Vec<TableProblem> {
    let mut problems = Vec::new();
    whole_table(table, &mut problems);
    for (index, tap) in table.taps.iter().enumerate() {
        tap_problems(table, index, tap, &mut problems);
    }
    problems
}

/// Whether a job can take a table up: sound as a whole, of a size that a printed table has, and such that its own file brings it back.
///
/// A tap whose rows cannot be right may come along; it stays in its place, unused. So may a table without taps.
///
/// # Errors
/// A sentence that names the place and the value and says what would be right.
pub fn can_be_taken_up(table: &BlowerTable) -> Result<(), String> {
    sizes(table)?;
    plain_text::table_fits(table)?;
    let mut problems = Vec::new();
    numbers_of_whole(table, &mut problems);
    calls_and_heating(table, &mut problems);
    for (index, tap) in table.taps.iter().enumerate() {
        name_problems(table, index, tap, &mut problems);
    }
    if let Some(problem) = problems.into_iter().next() {
        return Err(problem.message);
    }
    table.taps.iter().try_for_each(|tap| {
        let word = capital(table.motor.tap_word());
        numbers_that_a_file_brings_back(&tap.data).map_err(|what| format!("{word} {}: {what}", tap.name))
    })
}

/// Refuses a table of a size that no printed one has.
///
/// # Errors
/// A sentence with how many there are and can be.
pub fn sizes(table: &BlowerTable) -> Result<(), String> {
    let rows = |tap: &Tap| match &tap.data {
        TapData::Column(rows) => rows.len(),
        TapData::Range { .. } => 0,
    };
    lists(table.taps.len(), table.calls.len(), table.heating.len())?;
    few(table.taps.iter().map(rows).sum(), MOST_ROWS, "rows")
}

/// Refuses lists of taps, calls and heating stages that no printed table has, before more is made of them.
///
/// # Errors
/// As [`sizes`].
pub fn lists(taps: usize, calls: usize, stages: usize) -> Result<(), String> {
    few(taps, MOST_TAPS, "taps")?;
    few(calls, MOST_TAPS, "calls")?;
    few(stages, MOST_TAPS, "heating stages")
}

fn few(count: usize, most: usize, what: &str) -> Result<(), String> {
    if count <= most {
        return Ok(());
    }
    let shown = |count: usize| show::number(count as f64, 0);
    Err(format!("{} {what} are too many for a blower table; at most {} can be", shown(count), shown(most)))
}

/// Numbers that are written and come back.
fn numbers_that_a_file_brings_back(data: &TapData) -> Result<(), String> {
    let pressure = |value: Pressure| {
        let is_sane = value.is_finite() && value <= MOST_PRESSURE;
        if is_sane {
            Ok(())
        } else {
            Err(format!("a static of {} in. w.c. cannot be; tables end at about 1.2", value.in_wc()))
        }
    };
    let number = |value: f64, unit: &str| {
        if value.is_finite() { Ok(()) } else { Err(format!("{value} {unit} is no number; leave the place empty")) }
    };
    match data {
        TapData::Range { airflow, from, to } => {
            number(airflow.cfm(), "cfm")?;
            pressure(*from).and_then(|()| pressure(*to))
        }
        TapData::Column(rows) => rows.iter().try_for_each(|row| {
            pressure(row.esp)?;
            row.cell.airflow().map_or(Ok(()), |airflow| number(airflow.cfm(), "cfm"))?;
            row.power.map(Power::watts).map_or(Ok(()), |watts| number(watts, "W"))?;
            row.speed.map(Speed::rpm).map_or(Ok(()), |rpm| number(rpm, "rpm"))
        }),
    }
}

/// True when the remarks leave a tap usable.
pub fn tap_is_usable(problems: &[TableProblem], tap: usize) -> bool {
    !problems.iter().any(|problem| problem.tap == Some(tap) && problem.severity == Severity::Error)
}

fn say(tap: Option<usize>, row: Option<usize>, severity: Severity, message: String) -> TableProblem {
    TableProblem { tap, row, severity, message }
}

fn whole_table(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    if table.taps.is_empty() {
        let message = "The table has no taps; it needs at least one column".to_owned();
        problems.push(say(None, None, Severity::Error, message));
    }
    numbers_of_whole(table, problems);
    calls_and_heating(table, problems);
}

/// Plate, capacity and basis.
fn numbers_of_whole(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    let mut error = |message: String| problems.push(say(None, None, Severity::Error, message));
    if let Some(plate) = table.rated_maximum
        && !(plate > Pressure::ZERO && plate <= HIGHEST_ESP)
    {
        error(format!("Rated maximum {} in. w.c. cannot be; plates say 0.1 to 2", plate.in_wc()));
    }
    if let Some(cooling) = table.cooling
        && let Err(message) = crate::model::facts::job_check::capacity(cooling)
    {
        error(message);
    }
    if let Some(density) = table.basis.density
        && !(TABLE_DENSITY_RANGE.0..=TABLE_DENSITY_RANGE.1).contains(&density.lb_ft3())
    {
        error(format!("A table density of {} lb/ft³ cannot be; standard air has 0.075", density.lb_ft3()));
    }
    let low = table.corrections.low_voltage;
    let voltages = [table.basis.voltage, low.map(|low| low.voltage)].into_iter().flatten().map(Voltage::volts);
    for volts in voltages.filter(|volts| !(volts.is_finite() && *volts > 0.0)) {
        error(format!("A supply of {volts} V cannot be; it must be above zero"));
    }
    if let Some(low) = low.filter(|low| !(low.airflow_factor.is_finite() && low.airflow_factor > 0.0)) {
        let factor = low.airflow_factor;
        error(format!("An airflow of {factor} times the table's at another voltage cannot be; it must be above zero"));
    }
}

fn calls_and_heating(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    let mut error = |message: String| problems.push(say(None, None, Severity::Error, message));
    for (call, name) in &table.calls {
        if table.tap(name).is_none() {
            error(format!(
                "{} runs \"{name}\", which the table does not have; it has {}",
                call.name(),
                tap_names(table)
            ));
        }
    }
    for (index, (call, name)) in table.calls.iter().enumerate() {
        if let Some((_, other)) = table.calls[..index].iter().find(|(mapped, _)| mapped == call) {
            error(format!("{} runs \"{other}\" and \"{name}\"; give each call one tap", call.name()));
        }
    }
    for stage in &table.heating {
        if let Some(least) = stage.minimum_airflow.filter(|least| !airflow_is_sane(*least)) {
            error(format!("{} has a least airflow of {} cfm, which cannot be", stage.call.name(), least.cfm()));
        }
        if !(stage.output.btuh() > 0.0 && stage.output.is_finite()) {
            error(format!(
                "{} has a heat output of {} Btu/h; it must be above zero",
                stage.call.name(),
                stage.output.btuh()
            ));
        }
        if let Some((low, high)) = stage.rise
            && !(low.f() > 0.0 && low < high && high.is_finite())
        {
            error(format!(
                "{} has a temperature rise of {} to {} °F; the first must be above zero and below the second",
                stage.call.name(),
                low.f(),
                high.f()
            ));
        }
    }
}

/// The taps' names as a sentence lists them.
pub fn tap_names(table: &BlowerTable) -> String {
    let names: Vec<&str> = table.taps.iter().map(|tap| tap.name.as_str()).collect();
    names.join(", ")
}

fn tap_problems(table: &BlowerTable, index: usize, tap: &Tap, problems: &mut Vec<TableProblem>) {
    let word = capital(table.motor.tap_word());
    let label = format!("{word} {}", tap.name);
    name_problems(table, index, tap, problems);
    match &tap.data {
        TapData::Range { airflow, from, to } => {
            if !(airflow_is_sane(*airflow) && *from >= Pressure::ZERO && from < to && *to <= HIGHEST_ESP) {
                problems.push(say(
                    Some(index),
                    None,
                    Severity::Error,
                    format!(
                        "{label} gives {} cfm from {} to {} in. w.c.; the airflow must be above zero and the range must rise",
                        airflow.cfm(),
                        from.in_wc(),
                        to.in_wc()
                    ),
                ));
            }
        }
        TapData::Column(rows) => column_problems(table.motor, index, &label, rows, problems),
    }
}

/// A tap has a name, and no other has it.
fn name_problems(table: &BlowerTable, index: usize, tap: &Tap, problems: &mut Vec<TableProblem>) {
    let word = capital(table.motor.tap_word());
    let label = format!("{word} {}", tap.name);
    if tap.name.trim().is_empty() {
        problems.push(say(Some(index), None, Severity::Error, format!("{word} {} has no name", index + 1)));
    }
    if table.taps[..index].iter().any(|other| other.name == tap.name) {
        problems.push(say(Some(index), None, Severity::Error, format!("{label} stands twice")));
    }
}

fn column_problems(motor: MotorFamily, tap: usize, label: &str, rows: &[Row], problems: &mut Vec<TableProblem>) {
    let mut put = |row: Option<usize>, severity, message| problems.push(say(Some(tap), row, severity, message));
    for (index, row) in rows.iter().enumerate() {
        if let Some((severity, message)) = row_problem(label, row) {
            put(Some(index), severity, message);
        }
    }
    for (index, pair) in rows.windows(2).enumerate() {
        let (above, below) = (pair[0].esp.in_wc(), pair[1].esp.in_wc());
        if below <= above {
            let what = if below < above { "comes after" } else { "stands twice with" };
            put(
                Some(index + 1),
                Severity::Error,
                format!("{label}: the row of {below} in. w.c. {what} {above}; rows must rise in static pressure"),
            );
        }
    }
    let given: Vec<(usize, Pressure, Airflow)> =
        rows.iter().enumerate().filter_map(|(index, row)| Some((index, row.esp, row.cell.airflow()?))).collect();
    for pair in given.windows(2) {
        let ((_, _, before), (index, esp, after)) = (pair[0], pair[1]);
        if let Some((severity, message)) = rise_problem(motor, label, esp, before, after) {
            put(Some(index), severity, message);
        }
    }
    match given[..] {
        [] => put(None, Severity::Error, format!("{label} has no airflow in any row")),
        [(row, esp, airflow)] => put(
            Some(row),
            Severity::Question,
            format!(
                "{label} has one row only ({} cfm at {} in. w.c.): it is a point that projects nothing",
                airflow.cfm(),
                esp.in_wc()
            ),
        ),
        _ => {}
    }
}

fn airflow_is_sane(airflow: Airflow) -> bool {
    airflow >= LOWEST_AIRFLOW && airflow <= HIGHEST_AIRFLOW
}

fn row_problem(label: &str, row: &Row) -> Option<(Severity, String)> {
    let esp = row.esp.in_wc();
    if !(esp.is_finite() && row.esp >= Pressure::ZERO && row.esp <= HIGHEST_ESP) {
        return Some((
            Severity::Error,
            format!("{label}: a row of {esp} in. w.c. cannot be; tables run from 0 to about 1.2"),
        ));
    }
    if let Cell::Airflow(airflow, _) = row.cell
        && !airflow_is_sane(airflow)
    {
        return Some((
            Severity::Error,
            format!(
                "{label} at {esp} in. w.c.: an airflow of {} cfm cannot be; leave the place empty when the table gives none",
                airflow.cfm()
            ),
        ));
    }
    let power = row.power.filter(|power| !(power.is_finite() && power.watts() > 0.0));
    if let Some(power) = power {
        return Some((Severity::Error, format!("{label} at {esp} in. w.c.: {} W cannot be", power.watts())));
    }
    let speed = row.speed.filter(|speed| !(speed.is_finite() && speed.rpm() > 0.0))?;
    Some((Severity::Error, format!("{label} at {esp} in. w.c.: {} rpm cannot be", speed.rpm())))
}

fn rise_problem(
    motor: MotorFamily,
    label: &str,
    esp: Pressure,
    before: Airflow,
    after: Airflow,
) -> Option<(Severity, String)> {
    let rise = after / before - 1.0;
    let free = if motor == MotorFamily::ConstantAirflow { CONSTANT_AIRFLOW_RISE } else { 0.0 };
    if rise <= free || !rise.is_finite() {
        return None;
    }
    let severity = if rise > IMPOSSIBLE_RISE { Severity::Error } else { Severity::Question };
    Some((
        severity,
        format!(
            "{label} at {} in. w.c.: airflow rises from {} to {} cfm while static rises; is one of them mistyped?",
            esp.in_wc(),
            before.cfm(),
            after.cfm()
        ),
    ))
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

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
        check(&table).into_iter().map(|problem| (problem.severity, problem.message)).collect()
    }

    #[test]
    fn each_bad_row_gets_its_sentence() {
        use MotorFamily::{ConstantAirflow, PermanentSplitCapacitor as Psc};
        use Severity::{Error, Question};
        type Case<'a> = (MotorFamily, &'a [(f64, f64)], Severity, &'a str);
        let cases: &[Case<'_>] = &[
            (Psc, &[(0.1, 1200.0), (0.3, 1100.0), (0.2, 1150.0)], Error, "row of 0.2 in. w.c. comes after 0.3"),
            (Psc, &[(0.1, 1200.0), (0.1, 1100.0)], Error, "row of 0.1 in. w.c. stands twice"),
            (Psc, &[(0.1, f64::NAN), (0.2, 1100.0)], Error, "airflow of NaN cfm cannot be"),
            (Psc, &[(0.1, -5.0), (0.2, 1100.0)], Error, "airflow of -5 cfm cannot be"),
            (Psc, &[(-0.1, 1200.0), (0.2, 1100.0)], Error, "row of -0.1 in. w.c. cannot be"),
            (Psc, &[(0.1, 1030.0), (0.2, 1300.0)], Error, "rises from 1030 to 1300"),
            (Psc, &[(0.1, 1200.0), (0.2, 1205.0)], Question, "rises from 1200 to 1205"),
            (ConstantAirflow, &[(0.1, 1200.0), (0.2, 1230.0)], Question, "rises from 1200 to 1230"),
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

    #[test]
    fn a_constant_airflow_motor_may_rise_a_little() {
        let found = remarks(MotorFamily::ConstantAirflow, column(&[(0.1, 1200.0), (0.2, 1204.0)]));
        assert_eq!(found, []);
    }
}
