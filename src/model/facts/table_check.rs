//! What is wrong, or odd, with a blower table; each remark names the tap and the row.

use crate::model::facts::blower::{BlowerTable, Call, Cell, MotorFamily, Row, Tap, TapData};
use crate::model::facts::limits::{MOST_ROWS, MOST_TAPS};
use crate::model::facts::numbers::job::{CAPACITY, HIGHEST_STATIC, LARGEST_AIRFLOW, TABLE_DENSITY};
use crate::model::facts::plain_text;
use crate::model::facts::severity::Severity;
use crate::units::{Airflow, Power, Pressure, Speed, Voltage, show, text};

/// Highest ESP that a residential blower table lists; more is a slipped decimal point or another unit.
pub const HIGHEST_ESP: Pressure = Pressure::from_in_wc(HIGHEST_STATIC);
/// Largest airflow of the machines this program is for; more is a slipped digit or another unit.
pub const HIGHEST_AIRFLOW: Airflow = Airflow::from_cfm(LARGEST_AIRFLOW);
/// Smallest airflow that such a table prints; less is a slipped decimal point or another unit (assumed).
pub const LOWEST_AIRFLOW: Airflow = Airflow::from_cfm(10.0);
/// Rise of airflow from one row to the next that a constant-airflow motor's table may show (assumed: printed figures are rounded and such a motor hunts about its setting).
pub const CONSTANT_AIRFLOW_RISE: f64 = 0.02;
/// Rise from one row to the next past which a row cannot be meant (assumed).
pub const IMPOSSIBLE_RISE: f64 = 0.05;

/// No pressure of a duct blower's table in inches of water is above this (common practice, no source); a file that says so means another unit.
pub const MOST_PRESSURE: Pressure = Pressure::from_in_wc(10.0);

/// What a remark on a table concerns; taps, rows and stages by their index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TablePlace {
    /// The table as a whole.
    Table,
    /// The rated maximum.
    RatedMaximum,
    /// The tap that a call runs.
    Call(Call),
    /// A heating stage.
    Stage(usize),
    /// A tap as a whole.
    Tap(usize),
    /// The static pressure of a row in a tap's column.
    Static(usize, usize),
    /// A cell of a row in a tap's column.
    Cell(usize, usize, Printed),
}

/// Which of a row's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Printed {
    /// Airflow.
    Airflow,
    /// Watts.
    Watts,
    /// Turning speed.
    Rpm,
}

impl TablePlace {
    /// Index of the tap, where it concerns one.
    pub const fn tap(self) -> Option<usize> {
        match self {
            Self::Tap(tap) | Self::Static(tap, _) | Self::Cell(tap, ..) => Some(tap),
            Self::Table | Self::RatedMaximum | Self::Call(_) | Self::Stage(_) => None,
        }
    }

    /// Index of the row in the tap's column, where it concerns one.
    pub const fn row(self) -> Option<usize> {
        match self {
            Self::Static(_, row) | Self::Cell(_, row, _) => Some(row),
            Self::Table | Self::RatedMaximum | Self::Call(_) | Self::Stage(_) | Self::Tap(_) => None,
        }
    }
}

/// One remark on a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableProblem {
    /// What it concerns.
    pub place: TablePlace,
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
    !problems.iter().any(|problem| problem.place.tap() == Some(tap) && problem.severity == Severity::Error)
}

/// A remark, short enough to read whatever was typed.
fn say(place: TablePlace, severity: Severity, message: &str) -> TableProblem {
    TableProblem { place, severity, message: text::shortened(message) }
}

fn whole_table(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    if table.taps.is_empty() {
        let message = "The table has no taps; it needs at least one column".to_owned();
        problems.push(say(TablePlace::Table, Severity::Error, &message));
    }
    numbers_of_whole(table, problems);
    calls_and_heating(table, problems);
}

/// Plate, capacity and basis.
fn numbers_of_whole(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    let mut error = |place, message: String| problems.push(say(place, Severity::Error, &message));
    if let Some(plate) = table.rated_maximum
        && !(plate > Pressure::ZERO && plate <= HIGHEST_ESP)
    {
        error(
            TablePlace::RatedMaximum,
            format!("Rated maximum {} in. w.c. cannot be; plates say 0.1 to 2", plate.in_wc()),
        );
    }
    if let Some(cooling) = table.cooling
        && let Err(refused) = CAPACITY.check(cooling.tons())
    {
        error(TablePlace::Table, refused.to_string());
    }
    if let Some(density) = table.basis.density
        && let Err(refused) = TABLE_DENSITY.check(density.lb_ft3())
    {
        error(TablePlace::Table, refused.to_string());
    }
    let low = table.corrections.low_voltage;
    let voltages = [table.basis.voltage, low.map(|low| low.voltage)].into_iter().flatten().map(Voltage::volts);
    for volts in voltages.filter(|volts| !(volts.is_finite() && *volts > 0.0)) {
        error(TablePlace::Table, format!("A supply of {volts} V cannot be; it must be above zero"));
    }
    if let Some(low) = low.filter(|low| !(low.airflow_factor.is_finite() && low.airflow_factor > 0.0)) {
        let factor = low.airflow_factor;
        error(
            TablePlace::Table,
            format!("An airflow of {factor} times the table's at another voltage cannot be; it must be above zero"),
        );
    }
}

fn calls_and_heating(table: &BlowerTable, problems: &mut Vec<TableProblem>) {
    let mut error = |place, message: String| problems.push(say(place, Severity::Error, &message));
    for (call, name) in &table.calls {
        if table.tap(name).is_none() {
            error(
                TablePlace::Call(*call),
                format!(
                    "{} runs \"{}\", which the table does not have; it has {}",
                    call.name(),
                    text::cut(name),
                    tap_names(table)
                ),
            );
        }
    }
    for (index, (call, name)) in table.calls.iter().enumerate() {
        if let Some((_, other)) = table.calls[..index].iter().find(|(mapped, _)| mapped == call) {
            error(
                TablePlace::Call(*call),
                format!(
                    "{} runs \"{}\" and \"{}\"; give each call one tap",
                    call.name(),
                    text::cut(other),
                    text::cut(name)
                ),
            );
        }
    }
    for (index, stage) in table.heating.iter().enumerate() {
        let mut error = |message| error(TablePlace::Stage(index), message);
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
                    TablePlace::Tap(index),
                    Severity::Error,
                    &format!(
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
        problems.push(say(TablePlace::Tap(index), Severity::Error, &format!("{word} {} has no name", index + 1)));
    }
    if table.taps[..index].iter().any(|other| other.name == tap.name) {
        problems.push(say(TablePlace::Tap(index), Severity::Error, &format!("{label} stands twice")));
    }
}

fn column_problems(motor: MotorFamily, tap: usize, label: &str, rows: &[Row], problems: &mut Vec<TableProblem>) {
    let mut put = |place, severity, message: String| problems.push(say(place, severity, &message));
    for (index, row) in rows.iter().enumerate() {
        if let Some((printed, message)) = row_problem(label, row) {
            let place = printed.map_or(TablePlace::Static(tap, index), |which| TablePlace::Cell(tap, index, which));
            put(place, Severity::Error, message);
        }
    }
    for (index, pair) in rows.windows(2).enumerate() {
        let (above, below) = (pair[0].esp.in_wc(), pair[1].esp.in_wc());
        if below <= above {
            let what = if below < above { "comes after" } else { "stands twice with" };
            put(
                TablePlace::Static(tap, index + 1),
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
            put(TablePlace::Cell(tap, index, Printed::Airflow), severity, message);
        }
    }
    match given[..] {
        [] => put(TablePlace::Tap(tap), Severity::Error, format!("{label} has no airflow in any row")),
        [(row, esp, airflow)] => put(
            TablePlace::Cell(tap, row, Printed::Airflow),
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

/// What cannot be in a row: its static, or one of its numbers.
fn row_problem(label: &str, row: &Row) -> Option<(Option<Printed>, String)> {
    let esp = row.esp.in_wc();
    if !(esp.is_finite() && row.esp >= Pressure::ZERO && row.esp <= HIGHEST_ESP) {
        return Some((None, format!("{label}: a row of {esp} in. w.c. cannot be; tables run from 0 to about 1.2")));
    }
    if let Cell::Airflow(airflow, _) = row.cell
        && !airflow_is_sane(airflow)
    {
        return Some((
            Some(Printed::Airflow),
            format!(
                "{label} at {esp} in. w.c.: an airflow of {} cfm cannot be; leave the place empty when the table gives none",
                airflow.cfm()
            ),
        ));
    }
    let bad = |number: f64| !(number.is_finite() && number > 0.0);
    let cannot = |number: f64, unit: &str| format!("{label} at {esp} in. w.c.: {number} {unit} cannot be");
    let watts = row.power.map(Power::watts).filter(|watts| bad(*watts));
    let rpm = row.speed.map(Speed::rpm).filter(|rpm| bad(*rpm));
    let of_watts = watts.map(|watts| (Some(Printed::Watts), cannot(watts, "W")));
    of_watts.or_else(|| rpm.map(|rpm| (Some(Printed::Rpm), cannot(rpm, "rpm"))))
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
    fn however_long_a_tap_is_named_a_remark_is_short_enough_to_read() {
        let name = "x".repeat(2300);
        let calls = vec![(Call::FanOnly, name.clone()), (Call::FanOnly, name)];
        let table = BlowerTable { calls, ..BlowerTable::default() };
        let problems = check(&table);
        assert!(problems.iter().any(|problem| problem.message.starts_with("Fan only runs")), "{problems:?}");
        for problem in problems {
            assert!(problem.message.chars().count() <= 300, "{}", problem.message);
        }
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
