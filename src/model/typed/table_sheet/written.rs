//! Blower tables as a sheet for spreadsheets: a row a reading, in which nothing of the grid is lost.

use csv::WriterBuilder;

use crate::model::facts::blower::{BlowerTable, TapData};
use crate::model::typed::table_draft::{DraftCell, TableDraft};

/// What parts the columns of a sheet that is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Parted {
    /// Commas (CSV, RFC 4180).
    #[default]
    ByCommas,
    /// Tabs.
    ByTabs,
}

/// Writes tables one under the other: machine, tap, static pressure, airflow, watts and rpm in each row, the units in the heading.
///
/// Tables that are printed in other units than the first are given with each number's unit behind it.
/// What stands beside the grid (motor, basis, calls, heat) is not in it: that is in the table's own file.
pub fn write<'a>(tables: impl IntoIterator<Item = &'a BlowerTable>, parted: Parted) -> String {
    let drafts: Vec<(&BlowerTable, TableDraft)> =
        tables.into_iter().map(|table| (table, TableDraft::from_table(table))).collect();
    let first = drafts
        .first()
        .map(|(_, draft)| draft)
        .map(|draft| (draft.head.pressure_unit, draft.head.airflow_unit))
        .unwrap_or_default();
    let heading = [
        "machine".to_owned(),
        "tap".to_owned(),
        format!("static ({})", first.0.name()),
        format!("airflow ({})", first.1.name()),
        "watts".to_owned(),
        "rpm".to_owned(),
    ];
    let mut records = vec![heading];
    for (table, draft) in &drafts {
        let esp_unit = if draft.head.pressure_unit == first.0 { "" } else { draft.head.pressure_unit.name() };
        let airflow_unit = if draft.head.airflow_unit == first.1 { "" } else { draft.head.airflow_unit.name() };
        for (tap, name) in draft.taps.iter().enumerate() {
            // A range says everything in one row; elsewhere an empty place is one that the table leaves out.
            let is_range = matches!(table.taps[tap].data, TapData::Range { .. });
            let is_none = |cell: &DraftCell| cell.airflow == "no row" || is_range && cell.is_empty();
            for row in draft.rows.iter().filter(|row| !is_none(&row.cells[tap])) {
                let cell = &row.cells[tap];
                records.push([
                    draft.head.name.clone(),
                    name.clone(),
                    with_unit(&row.esp, esp_unit),
                    airflow(&cell.airflow, airflow_unit, esp_unit),
                    cell.watts.clone(),
                    cell.rpm.clone(),
                ]);
            }
        }
    }
    text_of(&records, parted)
}

/// An airflow, or one over a range of static pressures, with its units.
fn airflow(text: &str, unit: &str, esp_unit: &str) -> String {
    let range = text.split_once(" from ").and_then(|(airflow, range)| Some((airflow, range.split_once(" to ")?)));
    match range {
        Some((airflow, (from, to))) => {
            let (from, to) = (with_unit(from, esp_unit), with_unit(to, esp_unit));
            format!("{} from {from} to {to}", with_unit(airflow, unit))
        }
        None => with_unit(text, unit),
    }
}

/// A bare number, or one with a note behind it, with its unit.
fn with_unit(text: &str, unit: &str) -> String {
    let end = text.find(|letter: char| !(letter.is_ascii_digit() || letter == '.')).unwrap_or(text.len());
    let (number, behind) = text.split_at(end);
    let has_unit = [" cfm", " in. w.c."].iter().any(|unit| behind.starts_with(unit));
    if unit.is_empty() || number.is_empty() || has_unit { text.to_owned() } else { format!("{number} {unit}{behind}") }
}

fn text_of(records: &[[String; 6]], parted: Parted) -> String {
    let delimiter = match parted {
        Parted::ByCommas => b',',
        Parted::ByTabs => b'\t',
    };
    let mut writer = WriterBuilder::new().delimiter(delimiter).from_writer(Vec::new());
    // Writing into memory cannot fail, and what was written is text.
    let is_written = records.iter().all(|record| writer.write_record(record).is_ok());
    let bytes = writer.into_inner().ok().filter(|_| is_written).unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}
