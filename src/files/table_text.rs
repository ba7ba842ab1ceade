//! A half-typed table as one line of text, for the autosave: every place as the person left it.

use serde::{Deserialize, Serialize};
use serde_with::{FromInto, Same, serde_as};

use crate::files::words::{
    AirflowUnitDto, CallDto, CoilDto, KindDto, MotorDto, OpeningsDto, PartDto, PositionDto, PressureUnitDto, mirrors,
};
use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};
use crate::model::facts::change::ChangeId;
use crate::model::typed::table_draft::{
    AirflowUnit, DraftCell, DraftHead, DraftRow, DraftStage, PressureUnit, TableDraft, TableFor, TableInHand,
};

/// The line of a table.
pub(super) fn write(table: &TableInHand) -> String {
    let TableInHand { what_for, draft } = table;
    let TableDraft { head, taps, rows } = draft.clone();
    let line = Line { what_for: *what_for, head, taps, rows };
    serde_json::to_value(line).unwrap_or_default().to_string()
}

/// The table of a line, or nothing for one that [`write()`] did not give.
pub(super) fn parse(line: &str) -> Option<TableInHand> {
    let Line { what_for, head, taps, rows } = serde_json::from_str(line).ok()?;
    let is_even = rows.iter().all(|row| row.cells.len() == taps.len());
    is_even.then_some(TableInHand { what_for, draft: TableDraft { head, taps, rows } })
}

#[serde_as]
#[derive(Serialize, Deserialize)]
struct Line {
    #[serde_as(as = "FromInto<UseDto>")]
    what_for: TableFor,
    #[serde(with = "HeadDto")]
    head: DraftHead,
    taps: Vec<String>,
    #[serde_as(as = "Vec<FromInto<RowDto>>")]
    rows: Vec<DraftRow>,
}

/// What the table is for.
#[derive(Serialize, Deserialize)]
enum UseDto {
    Job,
    NewMachine,
    MachineOfChange(u32),
}

impl From<TableFor> for UseDto {
    fn from(what_for: TableFor) -> Self {
        match what_for {
            TableFor::Job => Self::Job,
            TableFor::OtherMachine(None) => Self::NewMachine,
            TableFor::OtherMachine(Some(ChangeId(id))) => Self::MachineOfChange(id),
        }
    }
}

impl From<UseDto> for TableFor {
    fn from(dto: UseDto) -> Self {
        match dto {
            UseDto::Job => Self::Job,
            UseDto::NewMachine => Self::OtherMachine(None),
            UseDto::MachineOfChange(id) => Self::OtherMachine(Some(ChangeId(id))),
        }
    }
}

/// Static pressure, then airflow, watts and rpm of each tap.
#[derive(Serialize, Deserialize)]
struct RowDto(String, Vec<[String; 3]>);

impl From<DraftRow> for RowDto {
    fn from(row: DraftRow) -> Self {
        Self(row.esp, row.cells.into_iter().map(|cell| [cell.airflow, cell.watts, cell.rpm]).collect())
    }
}

impl From<RowDto> for DraftRow {
    fn from(RowDto(esp, cells): RowDto) -> Self {
        Self { esp, cells: cells.into_iter().map(|[airflow, watts, rpm]| DraftCell { airflow, watts, rpm }).collect() }
    }
}

#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(remote = "DraftHead")]
struct HeadDto {
    name: String,
    source: String,
    notes: String,
    #[serde(with = "KindDto")]
    kind: EquipmentKind,
    #[serde(with = "MotorDto")]
    motor: MotorFamily,
    illustrative: bool,
    cooling: String,
    rated_maximum: String,
    #[serde(with = "PartDto")]
    filter: PartInTest,
    #[serde(with = "CoilDto")]
    coil: CoilInTest,
    #[serde(with = "PartDto")]
    heater: PartInTest,
    #[serde(with = "OpeningsDto")]
    return_openings: ReturnOpenings,
    #[serde(with = "PositionDto")]
    position: Position,
    voltage: String,
    density: String,
    #[serde(default)]
    reading_error: String,
    #[serde(with = "AirflowUnitDto")]
    airflow_unit: AirflowUnit,
    #[serde(with = "PressureUnitDto")]
    pressure_unit: PressureUnit,
    #[serde_as(as = "Vec<(CallDto, Same)>")]
    calls: Vec<(Call, String)>,
    #[serde_as(as = "Vec<StageDto>")]
    heating: Vec<DraftStage>,
    corrections: [String; 5],
}

#[derive(Serialize, Deserialize)]
#[serde(remote = "DraftStage")]
struct StageDto {
    #[serde(with = "CallDto")]
    call: Call,
    output: String,
    rise_from: String,
    rise_to: String,
    minimum_airflow: String,
}

mirrors!(StageDto: DraftStage);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::library::Library;

    #[test]
    fn every_text_of_every_table_comes_back() {
        let (library, _) = Library::shipped();
        for (number, entry) in library.entries.iter().enumerate() {
            let mut draft = TableDraft::from_table(&entry.table);
            draft.head.notes = "half a \"note\"\nof two lines \u{0}".to_owned();
            draft.rows[0].cells[0].rpm = "12x".to_owned();
            let uses = [TableFor::Job, TableFor::OtherMachine(None), TableFor::OtherMachine(Some(ChangeId(7)))];
            let table = TableInHand { what_for: uses[number % 3], draft };
            let line = write(&table);
            assert!(!line.contains(['\n', '\0']), "one line: {line}");
            assert_eq!(parse(&line), Some(table), "{}", entry.table.name);
        }
    }

    #[test]
    fn a_broken_line_is_no_table() {
        let whole = write(&TableInHand { what_for: TableFor::Job, draft: TableDraft::empty() });
        for broken in ["", "{}", &whole[..whole.len() / 2], &whole.replacen("\"5\"", "\"5\",\"6\"", 1)] {
            assert_eq!(parse(broken), None, "{broken}");
        }
    }
}
