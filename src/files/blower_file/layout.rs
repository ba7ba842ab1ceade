//! The text of a blower file, laid out as a person would: one line a field, one line a row of the grid.

use std::fmt::Debug;

use super::cell::{CellDto, number};
use super::dto::{BasisDto, BlowerDto, CorrectionsDto, DropDto, GridRow, HeatStageDto, RangeDto, UnitsDto};

/// One step of indentation.
const STEP: &str = "    ";

/// The table as one RON value whose closing bracket stands `depth` steps in.
pub(super) fn body(dto: &BlowerDto, depth: usize) -> String {
    let indent = STEP.repeat(depth);
    let lines: String = fields(dto)
        .iter()
        .flat_map(|field| field.lines())
        .fold(String::new(), |text, line| text + &indent + STEP + line + "\n");
    format!("(\n{lines}{indent})")
}

/// Every field that says something, in the order of the format's reference.
fn fields(dto: &BlowerDto) -> Vec<String> {
    let mut out = vec![
        format!("tapcross_blower: {},", dto.tapcross_blower),
        format!("name: {:?},", dto.name),
        format!("kind: {:?},", dto.kind),
        format!("motor: {:?},", dto.motor),
    ];
    if dto.illustrative {
        out.push("illustrative: true,".to_owned());
    }
    out.extend(text_field("source", &dto.source));
    out.extend(text_field("notes", &dto.notes));
    out.push(format!("units: {},", units(dto.units)));
    out.extend(dto.cooling_tons.map(|tons| format!("cooling_tons: {},", number(tons))));
    out.extend(dto.rated_maximum.map(|esp| format!("rated_maximum: {},", pressure(esp))));
    out.push(format!("basis: {},", basis(&dto.basis)));
    out.extend(corrections(&dto.corrections));
    out.extend(list("calls", dto.calls.iter().map(|(call, tap)| format!("({call:?}, {tap:?})"))));
    out.extend(block("heating", dto.heating.iter().map(heat_stage)));
    out.extend(list("taps", dto.taps.iter().map(|tap| format!("{tap:?}"))));
    out.extend(grid("airflow", &dto.airflow));
    out.extend(block("ranges", dto.ranges.iter().map(range)));
    out.extend(grid("watts", &dto.watts));
    out.extend(grid("rpm", &dto.rpm));
    out
}

fn text_field(name: &str, text: &str) -> Option<String> {
    (!text.is_empty()).then(|| format!("{name}: {text:?},"))
}

fn units(units: UnitsDto) -> String {
    let mut parts = vec![format!("airflow: {:?}", units.airflow), format!("pressure: {:?}", units.pressure)];
    parts.extend(units.temperature.map(|unit| format!("temperature: {unit:?}")));
    parts.extend(units.heat.map(|unit| format!("heat: {unit:?}")));
    bracketed(&parts)
}

fn basis(basis: &BasisDto) -> String {
    let mut parts = vec![
        format!("filter: {:?}", basis.filter),
        format!("coil: {:?}", basis.coil),
        format!("heater: {:?}", basis.heater),
    ];
    parts.extend(said("return_openings", &basis.return_openings));
    parts.extend(said("position", &basis.position));
    parts.extend(basis.volts.map(|volts| format!("volts: {}", number(volts))));
    parts.extend(basis.density_lb_ft3.map(|density| format!("density_lb_ft3: {}", number(density))));
    bracketed(&parts)
}

/// A choice, unless it is the one that says nothing.
fn said<C: Debug + Default + PartialEq>(name: &str, choice: &C) -> Option<String> {
    (*choice != C::default()).then(|| format!("{name}: {choice:?}"))
}

fn corrections(corrections: &CorrectionsDto) -> Option<String> {
    let drop = |name: &str, data: &Option<DropDto>| data.as_ref().map(|data| format!("{name}: {}", drop_data(data)));
    let low_voltage = corrections.low_voltage.map(|low| {
        format!("low_voltage: (volts: {}, airflow_factor: {})", number(low.volts), number(low.airflow_factor))
    });
    let parts = [
        drop("filter_as_tested", &corrections.filter_as_tested),
        drop("wet_coil", &corrections.wet_coil),
        drop("heater", &corrections.heater),
        drop("one_side_return", &corrections.one_side_return),
        low_voltage,
    ];
    let lines = indented(parts.into_iter().flatten());
    (!lines.is_empty()).then(|| format!("corrections: (\n{lines}),"))
}

fn drop_data(data: &DropDto) -> String {
    let points: Vec<String> =
        data.points.iter().map(|&(airflow, drop)| format!("({}, {})", number(airflow), pressure(drop))).collect();
    let mut parts = vec![format!("points: [{}]", points.join(", "))];
    parts.extend(data.exponent.map(|exponent| format!("exponent: {}", number(exponent))));
    bracketed(&parts)
}

fn heat_stage(stage: &HeatStageDto) -> String {
    let mut parts = vec![format!("call: {:?}", stage.call), format!("output: {}", number(stage.output))];
    parts.extend(stage.rise.map(|(low, high)| format!("rise: ({}, {})", number(low), number(high))));
    parts.extend(stage.minimum_airflow.map(|airflow| format!("minimum_airflow: {}", number(airflow))));
    bracketed(&parts)
}

fn range(range: &RangeDto) -> String {
    bracketed(&[
        format!("tap: {:?}", range.tap),
        format!("airflow: {}", number(range.airflow)),
        format!("from: {}", pressure(range.from)),
        format!("to: {}", pressure(range.to)),
    ])
}

fn grid(name: &str, rows: &[GridRow]) -> Option<String> {
    let widths = column_widths(rows);
    block(name, rows.iter().map(|row| grid_row(row, &widths)))
}

/// Widest cell of each column, so that a column stands straight.
fn column_widths(rows: &[GridRow]) -> Vec<usize> {
    let columns = rows.iter().map(|(_, cells)| cells.len()).max().unwrap_or(0);
    let width = |column: usize| rows.iter().filter_map(|(_, cells)| cells.get(column)).map(cell_width).max();
    (0..columns).map(|column| width(column).unwrap_or(0)).collect()
}

/// Letters of a cell; a note is left to stick out rather than to push the whole column aside.
fn cell_width(cell: &CellDto) -> usize {
    match cell {
        CellDto::Number(_) => cell.to_ron().chars().count(),
        _ => 0,
    }
}

fn grid_row((esp, cells): &GridRow, widths: &[usize]) -> String {
    let cells: Vec<String> =
        cells.iter().zip(widths).map(|(cell, &width)| format!("{:>width$}", cell.to_ron())).collect();
    format!("({}, [{}])", pressure(*esp), cells.join(", "))
}

/// A list on one line; nothing for an empty one.
fn list(name: &str, items: impl Iterator<Item = String>) -> Option<String> {
    let items: Vec<String> = items.collect();
    (!items.is_empty()).then(|| format!("{name}: [{}],", items.join(", ")))
}

/// A list with one line an item; nothing for an empty one.
fn block(name: &str, items: impl Iterator<Item = String>) -> Option<String> {
    let lines = indented(items);
    (!lines.is_empty()).then(|| format!("{name}: [\n{lines}],"))
}

/// One line an item, a step in, each with its comma.
fn indented(items: impl Iterator<Item = String>) -> String {
    items.fold(String::new(), |lines, item| lines + STEP + &item + ",\n")
}

fn bracketed(parts: &[String]) -> String {
    format!("({})", parts.join(", "))
}

/// A pressure as tables print it, with two decimals at least and never fewer than it has.
fn pressure(value: f64) -> String {
    let two = format!("{value:.2}");
    let is_exact = two.parse::<f64>().is_ok_and(|read| read.to_bits() == value.to_bits());
    if is_exact { two } else { number(value) }
}
