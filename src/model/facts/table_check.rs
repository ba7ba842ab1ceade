//! What is wrong, or odd, with a blower table, as data at its place; [`crate::model::wording::tables`] makes the sentences.

use crate::model::facts::blower::{BlowerTable, Call, HeatStage, MotorFamily, Row, Tap, TapData};
use crate::model::facts::limits::{MOST_ROWS, MOST_TAPS, TooMuch, few};
use crate::model::facts::number::{Number, OutOfRange};
use crate::model::facts::numbers::job::{CAPACITY, HEAT_OUTPUT, HEAT_RISE, PER_TON, TABLE_DENSITY};
use crate::model::facts::numbers::table::{
    AIRFLOW, AIRFLOW_FACTOR, LEAST_STEP, RATED_MAXIMUM, READING_ERROR, RPM, STATIC, VOLTS, WATTS,
};
use crate::model::facts::plain_text;
use crate::model::facts::severity::Severity;
use crate::model::facts::target::rise_at;
use crate::units::{Airflow, Capacity, Density, Power, Pressure, Speed, TemperatureRise, Voltage};

/// Rise of airflow from one row to the next that a constant-airflow motor's table may show (assumed: printed figures are rounded and such a motor hunts about its setting).
pub const CONSTANT_AIRFLOW_RISE: f64 = 0.02;
/// Rise from one row to the next past which a row cannot be meant (assumed).
pub const IMPOSSIBLE_RISE: f64 = 0.05;

/// What a remark on a table concerns; taps, rows and stages by their index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TablePlace {
    /// The table as a whole.
    Table,
    /// The nominal cooling capacity.
    Cooling,
    /// The rated maximum.
    RatedMaximum,
    /// The supply voltage.
    Voltage,
    /// The airflow at another voltage.
    LowVoltage,
    /// The air's density.
    Density,
    /// What it was read off by.
    ReadingError,
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
            Self::Table
            | Self::Cooling
            | Self::RatedMaximum
            | Self::Voltage
            | Self::LowVoltage
            | Self::Density
            | Self::ReadingError
            | Self::Call(_)
            | Self::Stage(_) => None,
        }
    }

    /// Index of the row in the tap's column, where it concerns one.
    pub const fn row(self) -> Option<usize> {
        match self {
            Self::Static(_, row) | Self::Cell(_, row, _) => Some(row),
            Self::Table
            | Self::Cooling
            | Self::RatedMaximum
            | Self::Voltage
            | Self::LowVoltage
            | Self::Density
            | Self::ReadingError
            | Self::Call(_)
            | Self::Stage(_)
            | Self::Tap(_) => None,
        }
    }
}

/// One remark on a table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableProblem {
    /// What it concerns.
    pub place: TablePlace,
    /// How grave.
    pub severity: Severity,
    /// What it is.
    pub what: TableFault,
}

/// What is wrong, or odd, in a table.
#[derive(Clone, Debug, PartialEq)]
pub enum TableFault {
    /// More of something, or a longer text, than a file holds.
    TooMuch(TooMuch),
    /// There is no tap.
    NoTaps,
    /// A number out of its range.
    OutOfRange(OutOfRange),
    /// The call runs a tap of this name, which is not there.
    UnknownTap(String),
    /// The call runs two taps.
    RunsTwo(String, String),
    /// A stage's temperature rise whose first end is not below its second.
    NoRise(TemperatureRise, TemperatureRise),
    /// The tap has no name.
    NoName,
    /// Another tap before it has the same name.
    NameTwice,
    /// The range of a tap ends where it begins, or before it.
    NoRange(Pressure, Pressure),
    /// The row of the second pressure is not above the row before it, of the first.
    RowsDoNotRise(Pressure, Pressure),
    /// Airflow rises, from the first to the second, while static rises.
    AirflowRises(Airflow, Airflow),
    /// No row of the tap has an airflow.
    NoAirflow,
    /// One row of the tap alone has an airflow.
    OneRow(Pressure, Airflow),
    /// The tap that cools moves what no machine of the table's capacity does.
    OddPerTon {
        /// The least and the most that it moves.
        moves: (Airflow, Airflow),
        /// The capacity.
        capacity: Capacity,
        /// A ton of it in the middle of the column.
        each: Airflow,
        /// The units that it may have been printed in and read in, where that makes it usual.
        units: Option<(&'static str, &'static str)>,
    },
    /// The tap that cools takes watts for its air that no blower does, W/cfm in the middle of the column.
    OddWatts(f64),
    /// A heating stage needs more air than any tap moves: the least, and the most that one does.
    LeastOverMost(Airflow, Airflow),
    /// A heating stage would heat its least air by more than any does.
    LeastTooHot(Airflow, TemperatureRise),
}

/// What the tap that cools moves for each ton in the middle of its column, cfm; what lies outside is asked about (common practice, no source).
const MEANT_PER_TON: std::ops::RangeInclusive<f64> = 275.0..=600.0;
/// What it takes there for each cfm, W/cfm (common practice, no source).
const MEANT_WATTS: std::ops::RangeInclusive<f64> = 0.03..=1.5;
/// Units of airflow that are taken for each other: printed in the first and read in the second, an airflow has to be multiplied so (cfm, L/s and m³/h by NIST SP 811).
const TAKEN_FOR: [(&str, &str, f64); 6] = [
    ("cfm", "L/s", LPS_PER_CFM),
    ("L/s", "cfm", 1.0 / LPS_PER_CFM),
    ("cfm", "m³/h", 3.6 * LPS_PER_CFM),
    ("m³/h", "cfm", 1.0 / (3.6 * LPS_PER_CFM)),
    ("L/s", "m³/h", 3.6),
    ("m³/h", "L/s", 1.0 / 3.6),
];
const LPS_PER_CFM: f64 = Airflow::from_cfm(1.0).lps();

/// Takes in each remark as it is found.
type Put<'a> = dyn FnMut(TablePlace, Severity, TableFault) + 'a;

/// Every remark on a table, in reading order.
pub fn check(table: &BlowerTable) -> Vec<TableProblem> {
    gathered(|put| {
        if table.taps.is_empty() {
            put(TablePlace::Table, Severity::Error, TableFault::NoTaps);
        }
        whole_table(table, put);
        questions(table, put);
        for (index, tap) in table.taps.iter().enumerate() {
            name_problems(table, index, put);
            numbers_of_tap(index, tap, &mut |place, number, value| refuse(put, place, number.check(value)));
            match &tap.data {
                TapData::Range { from, to, .. } if does_not_rise(*from, *to) => {
                    put(TablePlace::Tap(index), Severity::Error, TableFault::NoRange(*from, *to));
                }
                TapData::Range { .. } => {}
                TapData::Column(rows) => column_problems(table.motor, index, rows, put),
            }
        }
    })
}

fn gathered(find: impl FnOnce(&mut Put<'_>)) -> Vec<TableProblem> {
    let mut problems = Vec::new();
    find(&mut |place, severity, what| problems.push(TableProblem { place, severity, what }));
    problems
}

/// Puts a number that is out of its range.
fn refuse(put: &mut Put<'_>, place: TablePlace, checked: Result<f64, OutOfRange>) {
    if let Err(refused) = checked {
        put(place, Severity::Error, TableFault::OutOfRange(refused));
    }
}

/// Whether a job can take a table up: sound as a whole, of a size that a printed table has, and such that its own file brings it back.
///
/// A tap whose rows cannot be right may come along; it stays in its place, unused. So may a table without taps.
///
/// # Errors
/// The first thing that cannot be.
pub fn can_be_taken_up(table: &BlowerTable) -> Result<(), TableProblem> {
    let too_much =
        |said| TableProblem { place: TablePlace::Table, severity: Severity::Error, what: TableFault::TooMuch(said) };
    sizes(table).and_then(|()| plain_text::table_fits(table)).map_err(too_much)?;
    let problems = gathered(|put| {
        whole_table(table, put);
        for (index, tap) in table.taps.iter().enumerate() {
            name_problems(table, index, put);
            numbers_of_tap(index, tap, &mut |place, number, value| refuse(put, place, number.check_held(value)));
        }
    });
    problems.into_iter().next().map_or(Ok(()), Err)
}

/// Refuses a table of a size that no printed one has.
///
/// # Errors
/// How many there are and can be.
pub fn sizes(table: &BlowerTable) -> Result<(), TooMuch> {
    lists(table.taps.len(), table.calls.len(), table.heating.len())?;
    few(table.taps.iter().map(|tap| tap.data.rows().len()).sum(), MOST_ROWS, "rows of a blower table")
}

/// Refuses lists of taps, calls and heating stages that no printed table has, before more is made of them.
///
/// # Errors
/// As [`sizes`].
pub fn lists(taps: usize, calls: usize, stages: usize) -> Result<(), TooMuch> {
    few(taps, MOST_TAPS, "taps of a blower table")?;
    few(calls, MOST_TAPS, "calls of a blower table")?;
    few(stages, MOST_TAPS, "heating stages of a blower table")
}

/// True when the remarks leave a tap usable.
pub fn tap_is_usable(problems: &[TableProblem], tap: usize) -> bool {
    !problems.iter().any(|problem| problem.place.tap() == Some(tap) && problem.severity == Severity::Error)
}

/// Visits every number that stands beside the grid, with its place.
fn numbers_of_whole(table: &BlowerTable, visit: &mut dyn FnMut(TablePlace, &'static Number, f64)) {
    let mut given = |place, number, value: Option<f64>| value.into_iter().for_each(|value| visit(place, number, value));
    let low = table.corrections.low_voltage;
    given(TablePlace::RatedMaximum, &RATED_MAXIMUM, table.rated_maximum.map(Pressure::in_wc));
    given(TablePlace::Cooling, &CAPACITY, table.cooling.map(Capacity::tons));
    given(TablePlace::Density, &TABLE_DENSITY, table.basis.density.map(Density::lb_ft3));
    given(TablePlace::ReadingError, &READING_ERROR, table.basis.reading_error);
    given(TablePlace::Voltage, &VOLTS, table.basis.voltage.map(Voltage::volts));
    given(TablePlace::LowVoltage, &VOLTS, low.map(|low| low.voltage.volts()));
    given(TablePlace::LowVoltage, &AIRFLOW_FACTOR, low.map(|low| low.airflow_factor));
    for (index, stage) in table.heating.iter().enumerate() {
        let place = TablePlace::Stage(index);
        given(place, &AIRFLOW, stage.minimum_airflow.map(Airflow::cfm));
        given(place, &HEAT_OUTPUT, Some(stage.output.btuh()));
        given(place, &HEAT_RISE, stage.rise.map(|(low, _)| low.f()));
        given(place, &HEAT_RISE, stage.rise.map(|(_, high)| high.f()));
    }
}

/// Visits every number of a tap, with its place.
fn numbers_of_tap(index: usize, tap: &Tap, visit: &mut dyn FnMut(TablePlace, &'static Number, f64)) {
    match &tap.data {
        TapData::Range { airflow, from, to } => {
            visit(TablePlace::Tap(index), &AIRFLOW, airflow.cfm());
            visit(TablePlace::Tap(index), &STATIC, from.in_wc());
            visit(TablePlace::Tap(index), &STATIC, to.in_wc());
        }
        TapData::Column(rows) => {
            for (row, printed) in rows.iter().enumerate() {
                visit(TablePlace::Static(index, row), &STATIC, printed.esp.in_wc());
                let cells = [
                    (Printed::Airflow, &AIRFLOW, printed.cell.airflow().map(Airflow::cfm)),
                    (Printed::Watts, &WATTS, printed.power.map(Power::watts)),
                    (Printed::Rpm, &RPM, printed.speed.map(Speed::rpm)),
                ];
                for (which, number, value) in cells {
                    if let Some(value) = value {
                        visit(TablePlace::Cell(index, row, which), number, value);
                    }
                }
            }
        }
    }
}

/// Plate, capacity, basis, calls and heating.
fn whole_table(table: &BlowerTable, put: &mut Put<'_>) {
    numbers_of_whole(table, &mut |place, number, value| refuse(put, place, number.check(value)));
    for (index, (call, name)) in table.calls.iter().enumerate() {
        let mut error = |what| put(TablePlace::Call(*call), Severity::Error, what);
        if table.tap(name).is_none() {
            error(TableFault::UnknownTap(name.clone()));
        }
        if let Some((_, other)) = table.calls[..index].iter().find(|(mapped, _)| mapped == call) {
            error(TableFault::RunsTwo(other.clone(), name.clone()));
        }
    }
    for (index, stage) in table.heating.iter().enumerate() {
        if let Some((low, high)) = stage.rise.filter(|(low, high)| low >= high) {
            put(TablePlace::Stage(index), Severity::Error, TableFault::NoRise(low, high));
        }
    }
}

/// What is asked about a table as a whole.
fn questions(table: &BlowerTable, put: &mut Put<'_>) {
    for (index, stage) in table.heating.iter().enumerate() {
        if let Some(what) = least_that_is_not_meant(table, stage) {
            put(TablePlace::Stage(index), Severity::Question, what);
        }
    }
    if let Some((index, tap)) = cooling_tap(table) {
        let odd = odd_per_ton(table, tap).into_iter().chain(odd_watts(tap));
        odd.for_each(|what| put(TablePlace::Tap(index), Severity::Question, what));
    }
}

/// The tap that runs in cooling, else the one that moves most.
fn cooling_tap(table: &BlowerTable) -> Option<(usize, &Tap)> {
    let mapped = table.tap_of_call(Call::CoolingHigh);
    let named = table.taps.iter().enumerate().find(|(_, tap)| Some(tap.name.as_str()) == mapped);
    let most =
        |(_, tap): &(usize, &Tap)| sorted(tap.data.airflows().map(Airflow::cfm)).last().copied().unwrap_or_default();
    named.or_else(|| table.taps.iter().enumerate().max_by(|one, other| most(one).total_cmp(&most(other))))
}

fn sorted(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.filter(|value| value.is_finite() && *value > 0.0).collect();
    values.sort_by(f64::total_cmp);
    values
}

/// The middle of sorted values.
fn middle(values: &[f64]) -> Option<f64> {
    let half = values.len() / 2;
    let upper = *values.get(half)?;
    Some(if values.len().is_multiple_of(2) { f64::midpoint(values[half - 1], upper) } else { upper })
}

/// An airflow a ton that no machine has, and the units that may have been taken for each other.
fn odd_per_ton(table: &BlowerTable, tap: &Tap) -> Option<TableFault> {
    let capacity = table.cooling.filter(|capacity| capacity.tons() > 0.0)?;
    let airflows = sorted(tap.data.airflows().map(Airflow::cfm));
    let each = middle(&airflows)? / capacity.tons();
    if MEANT_PER_TON.contains(&each) {
        return None;
    }
    let (low, high) = PER_TON.usual?;
    let is_usual = |(_, _, factor): &&(&str, &str, f64)| (low..=high).contains(&(each * factor));
    Some(TableFault::OddPerTon {
        moves: (Airflow::from_cfm(*airflows.first()?), Airflow::from_cfm(*airflows.last()?)),
        capacity,
        each: Airflow::from_cfm(each),
        units: TAKEN_FOR.iter().find(is_usual).map(|(printed, read, _)| (*printed, *read)),
    })
}

fn odd_watts(tap: &Tap) -> Option<TableFault> {
    let of_row = |row: &Row| Some(row.power?.watts() / row.cell.airflow()?.cfm());
    let each = middle(&sorted(tap.data.rows().iter().filter_map(of_row)))?;
    (!MEANT_WATTS.contains(&each)).then_some(TableFault::OddWatts(each))
}

/// A least airflow that no tap moves, or with which the heat would raise the air by more than any does.
fn least_that_is_not_meant(table: &BlowerTable, stage: &HeatStage) -> Option<TableFault> {
    let least = stage.minimum_airflow.filter(|least| AIRFLOW.check(least.cfm()).is_ok())?;
    let moved = table.taps.iter().flat_map(|tap| tap.data.airflows()).map(Airflow::cfm);
    let most = sorted(moved).last().copied().map(Airflow::from_cfm)?;
    if least > most {
        return Some(TableFault::LeastOverMost(least, most));
    }
    let rise = rise_at(stage.output, least, Density::STANDARD);
    let is_too_hot = HEAT_RISE.range.high().is_some_and(|high| rise.f() > high);
    is_too_hot.then_some(TableFault::LeastTooHot(least, rise))
}

/// A tap has a name, and no other has it.
fn name_problems(table: &BlowerTable, index: usize, put: &mut Put<'_>) {
    let name = &table.taps[index].name;
    if name.trim().is_empty() {
        put(TablePlace::Tap(index), Severity::Error, TableFault::NoName);
    }
    if table.taps[..index].iter().any(|other| other.name == *name) {
        put(TablePlace::Tap(index), Severity::Error, TableFault::NameTwice);
    }
}

/// True when a pressure is not above another by what a table can print.
fn does_not_rise(lower: Pressure, upper: Pressure) -> bool {
    upper - lower < LEAST_STEP
}

fn column_problems(motor: MotorFamily, tap: usize, rows: &[Row], put: &mut Put<'_>) {
    for (index, pair) in rows.windows(2).enumerate() {
        if does_not_rise(pair[0].esp, pair[1].esp) {
            let what = TableFault::RowsDoNotRise(pair[0].esp, pair[1].esp);
            put(TablePlace::Static(tap, index + 1), Severity::Error, what);
        }
    }
    let cell = |row| TablePlace::Cell(tap, row, Printed::Airflow);
    let given: Vec<(usize, Pressure, Airflow)> =
        rows.iter().enumerate().filter_map(|(index, row)| Some((index, row.esp, row.cell.airflow()?))).collect();
    for pair in given.windows(2) {
        let ((_, _, before), (index, _, after)) = (pair[0], pair[1]);
        if let Some(severity) = rise_is_odd(motor, after / before - 1.0) {
            put(cell(index), severity, TableFault::AirflowRises(before, after));
        }
    }
    match given[..] {
        [] => put(TablePlace::Tap(tap), Severity::Error, TableFault::NoAirflow),
        [(row, esp, airflow)] => put(cell(row), Severity::Question, TableFault::OneRow(esp, airflow)),
        _ => {}
    }
}

/// How odd it is that airflow rises by this fraction from one row to the next; nothing where it may.
fn rise_is_odd(motor: MotorFamily, rise: f64) -> Option<Severity> {
    let free = if motor == MotorFamily::ConstantAirflow { CONSTANT_AIRFLOW_RISE } else { 0.0 };
    let severity = if rise > IMPOSSIBLE_RISE { Severity::Error } else { Severity::Question };
    (rise > free && rise.is_finite()).then_some(severity)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::blower::Cell;

    fn faults(motor: MotorFamily, data: TapData) -> Vec<(Severity, TableFault)> {
        let table = BlowerTable { motor, taps: vec![Tap { name: "4".to_owned(), data }], ..BlowerTable::default() };
        check(&table).into_iter().map(|problem| (problem.severity, problem.what)).collect()
    }

    #[test]
    fn a_constant_airflow_motor_may_rise_a_little() {
        let row = |esp: f64, cfm: f64| Row {
            esp: Pressure::from_in_wc(esp),
            cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
            power: None,
            speed: None,
        };
        let rows = TapData::Column(vec![row(0.1, 1200.0), row(0.2, 1204.0)]);
        assert_eq!(faults(MotorFamily::ConstantAirflow, rows.clone()), []);
        let rises = TableFault::AirflowRises(Airflow::from_cfm(1200.0), Airflow::from_cfm(1204.0));
        assert_eq!(faults(MotorFamily::PermanentSplitCapacitor, rows), [(Severity::Question, rises)]);
    }
}
