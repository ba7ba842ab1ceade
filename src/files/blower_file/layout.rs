//! The text of a blower file, always in inch-pound units, laid out as a person would: one line a field, one line a row of the grid.

use std::fmt::Display;

use super::FORMAT;
use super::cell::{CellDto, number};
use crate::files::head;
use crate::files::words::{CallDto, CoilDto, KindDto, MotorDto, OpeningsDto, PartDto, PositionDto, word};
use crate::model::facts::blower::{
    Basis, BlowerTable, Corrections, HeatStage, Position, ReturnOpenings, Row, Tap, TapData,
};
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::units::{Airflow, Density, Power, Pressure, Speed, Voltage};

/// One step of indentation.
const STEP: &str = "    ";
/// The units that this program writes.
const UNITS: &str = "(airflow: Cfm, pressure: InchesOfWater, temperature: Fahrenheit, heat: BtuPerHour)";

/// A field that says something, or nothing for one that is left out.
type Field = Option<String>;

/// The table as one RON value.
pub(super) fn body(table: &BlowerTable) -> String {
    let lines = fields(table).into_iter().flatten().map(|field| field.replace('\n', &format!("\n{STEP}")));
    format!("(\n{})", indented(lines))
}

/// Every field, in the order of the format's reference.
fn fields(table: &BlowerTable) -> Vec<Field> {
    let columns: Vec<&[Row]> = table.taps.iter().filter_map(column).collect();
    let esps = all_esps(&columns);
    let beside = |name: &str, number_of: &dyn Fn(&Row) -> Option<f64>| {
        let has_any = columns.iter().any(|rows| rows.iter().any(|row| number_of(row).is_some()));
        let cell = |row: &Row| number_of(row).map_or(CellDto::NotGiven, CellDto::Number);
        has_any.then(|| grid(name, &columns, &esps, cell)).flatten()
    };
    vec![
        Some(field(head::BLOWER, FORMAT)),
        Some(field("name", quoted(&table.name))),
        Some(field("kind", word::<KindDto, _>(&table.kind))),
        Some(field("motor", word::<MotorDto, _>(&table.motor))),
        given("illustrative", table.illustrative.then_some("true")),
        given("source", said(&table.source)),
        given("notes", said(&table.notes)),
        Some(field("units", UNITS)),
        given("cooling_tons", table.cooling.map(|cooling| number(cooling.tons()))),
        given("rated_maximum", table.rated_maximum.map(pressure)),
        Some(field("basis", basis(&table.basis))),
        corrections(&table.corrections),
        list("calls", table.calls.iter().map(|(call, tap)| format!("({}, {})", word::<CallDto, _>(call), quoted(tap)))),
        block("heating", table.heating.iter().map(heat_stage)),
        list("taps", table.taps.iter().map(|tap| quoted(&tap.name))),
        grid("airflow", &columns, &esps, |row| CellDto::from(&row.cell)),
        block("ranges", table.taps.iter().filter_map(range)),
        beside("watts", &|row| row.power.map(Power::watts)),
        beside("rpm", &|row| row.speed.map(Speed::rpm)),
    ]
}

fn field(name: &str, value: impl Display) -> String {
    format!("{name}: {value}")
}

/// A field that is left out where it has no value.
fn given(name: &str, value: Option<impl Display>) -> Field {
    value.map(|value| field(name, value))
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

/// A text, unless it is empty.
fn said(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| quoted(text))
}

fn basis(basis: &Basis) -> String {
    let openings = Some(basis.return_openings).filter(|openings| *openings != ReturnOpenings::default());
    let position = Some(basis.position).filter(|position| *position != Position::default());
    bracketed([
        Some(field("filter", word::<PartDto, _>(&basis.filter))),
        Some(field("coil", word::<CoilDto, _>(&basis.coil))),
        Some(field("heater", word::<PartDto, _>(&basis.heater))),
        given("return_openings", openings.as_ref().map(word::<OpeningsDto, _>)),
        given("position", position.as_ref().map(word::<PositionDto, _>)),
        given("volts", basis.voltage.map(Voltage::volts).map(number)),
        given("density_lb_ft3", basis.density.map(Density::lb_ft3).map(number)),
        given("reading_error_percent", basis.reading_error.map(number)),
    ])
}

fn corrections(corrections: &Corrections) -> Field {
    let drop = |name: &str, data: &Option<DropData>| given(name, data.as_ref().map(drop_data));
    let low_voltage = corrections.low_voltage.map(|low| {
        bracketed([
            Some(field("volts", number(low.voltage.volts()))),
            Some(field("airflow_factor", number(low.airflow_factor))),
        ])
    });
    let parts = [
        drop("filter_as_tested", &corrections.filter_as_tested),
        drop("wet_coil", &corrections.wet_coil),
        drop("heater", &corrections.heater),
        drop("one_side_return", &corrections.one_side_return),
        given("low_voltage", low_voltage),
    ];
    let lines = indented(parts.into_iter().flatten());
    (!lines.is_empty()).then(|| format!("corrections: (\n{lines})"))
}

/// Drop data; the exponent is written where one point needs it, or where it is not the one that reading assumes.
fn drop_data(data: &DropData) -> String {
    let point = |(airflow, drop): &(Airflow, Pressure)| format!("({}, {})", number(airflow.cfm()), pressure(*drop));
    let is_needed = data.points().len() == 1 || data.exponent().to_bits() != SQUARE_LAW.to_bits();
    bracketed([
        list("points", data.points().iter().map(point)),
        given("exponent", is_needed.then(|| number(data.exponent()))),
    ])
}

fn heat_stage(stage: &HeatStage) -> String {
    bracketed([
        Some(field("call", word::<CallDto, _>(&stage.call))),
        Some(field("output", number(stage.output.btuh()))),
        given("rise", stage.rise.map(|(low, high)| format!("({}, {})", number(low.f()), number(high.f())))),
        given("minimum_airflow", stage.minimum_airflow.map(|airflow| number(airflow.cfm()))),
    ])
}

fn range(tap: &Tap) -> Option<String> {
    match &tap.data {
        TapData::Column(_) => None,
        TapData::Range { airflow, from, to } => Some(bracketed([
            Some(field("tap", quoted(&tap.name))),
            Some(field("airflow", number(airflow.cfm()))),
            Some(field("from", pressure(*from))),
            Some(field("to", pressure(*to))),
        ])),
    }
}

/// The rows of a tap without a range.
fn column(tap: &Tap) -> Option<&[Row]> {
    match &tap.data {
        TapData::Column(rows) => Some(rows),
        TapData::Range { .. } => None,
    }
}

/// The ESPs of the grid: every column's own ones in the column's own order, shared where they can be.
fn all_esps(columns: &[&[Row]]) -> Vec<Pressure> {
    let mut esps: Vec<Pressure> = Vec::new();
    for column in columns {
        let mut from = 0;
        for row in *column {
            from = place_esp(&mut esps, from, row.esp) + 1;
        }
    }
    esps
}

/// Finds an ESP at or after `from`, or puts it in where it stands in rising order; gives its place.
fn place_esp(esps: &mut Vec<Pressure>, from: usize, esp: Pressure) -> usize {
    if let Some(place) = (from..esps.len()).find(|&place| is_same(esps[place], esp)) {
        return place;
    }
    let lower = esps[from..].iter().take_while(|&&other| other < esp).count();
    esps.insert(from + lower, esp);
    from + lower
}

/// The same number, bit for bit.
fn is_same(one: Pressure, other: Pressure) -> bool {
    one.in_wc().to_bits() == other.in_wc().to_bits()
}

/// One line an ESP with a cell of each column, which says so where it has no row there; nothing without rows.
fn grid(name: &str, columns: &[&[Row]], esps: &[Pressure], cell_of: impl Fn(&Row) -> CellDto) -> Field {
    let mut waiting: Vec<&[Row]> = columns.to_vec();
    let next_cell = |column: &mut &[Row], esp: Pressure| match column {
        [row, rest @ ..] if is_same(row.esp, esp) => {
            *column = rest;
            cell_of(row)
        }
        _ => CellDto::NoRow,
    };
    let mut row_at = |esp: Pressure| waiting.iter_mut().map(|column| next_cell(column, esp)).collect();
    let rows: Vec<Vec<CellDto>> = esps.iter().map(|&esp| row_at(esp)).collect();
    let width = |column: usize| rows.iter().map(|cells| width(&cells[column])).max().unwrap_or_default();
    let widths: Vec<usize> = (0..columns.len()).map(width).collect();
    let line = |(esp, cells): (&Pressure, &Vec<CellDto>)| {
        let cells = cells.iter().zip(&widths).map(|(cell, &width)| format!("{:>width$}", cell.to_ron()));
        format!("({}, [{}])", pressure(*esp), cells.collect::<Vec<_>>().join(", "))
    };
    block(name, esps.iter().zip(&rows).map(line))
}

/// Letters of a cell, so that a column stands straight; a note is left to stick out rather than to push the whole column aside.
fn width(cell: &CellDto) -> usize {
    match cell {
        CellDto::Number(_) => cell.to_ron().chars().count(),
        CellDto::Noted(..) | CellDto::NotGiven | CellDto::NotAllowed(_) | CellDto::NoRow => 0,
    }
}

/// A list on one line; nothing for an empty one.
fn list(name: &str, items: impl Iterator<Item = String>) -> Field {
    let items: Vec<String> = items.collect();
    (!items.is_empty()).then(|| format!("{name}: [{}]", items.join(", ")))
}

/// A list with one line an item; nothing for an empty one.
fn block(name: &str, items: impl Iterator<Item = String>) -> Field {
    let lines = indented(items);
    (!lines.is_empty()).then(|| format!("{name}: [\n{lines}]"))
}

/// One line an item, a step in, each with its comma.
fn indented(items: impl Iterator<Item = String>) -> String {
    items.fold(String::new(), |lines, item| lines + STEP + &item + ",\n")
}

fn bracketed<const N: usize>(parts: [Field; N]) -> String {
    format!("({})", parts.into_iter().flatten().collect::<Vec<_>>().join(", "))
}

/// A pressure as tables print it, with two decimals at least and never fewer than it has.
fn pressure(pressure: Pressure) -> String {
    let value = pressure.in_wc();
    let two = format!("{value:.2}");
    let is_exact = two.parse::<f64>().is_ok_and(|read| read.to_bits() == value.to_bits());
    if is_exact { two } else { number(value) }
}
