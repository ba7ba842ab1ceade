//! A half-typed table as one line of text, for the autosave: every place as the person left it.

use serde::{Deserialize, Serialize};

use crate::files::blower_file::{CallDto, CoilDto, KindDto, MotorDto, OpeningsDto, PartDto, PositionDto};
use crate::model::facts::change::ChangeId;
use crate::model::typed::table_draft::{
    AirflowUnit, DraftCell, DraftHead, DraftRow, DraftStage, PressureUnit, TableDraft, TableFor, TableInHand,
};

/// The line of a table.
pub(super) fn write(table: &TableInHand) -> String {
    serde_json::to_value(TableDto::from(table)).unwrap_or_default().to_string()
}

/// The table of a line, or nothing for one that [`write()`] did not give.
pub(super) fn parse(line: &str) -> Option<TableInHand> {
    let dto: TableDto = serde_json::from_str(line).ok()?;
    dto.rows.iter().all(|(_, cells)| cells.len() == dto.taps.len()).then(|| dto.into())
}

#[derive(Serialize, Deserialize)]
struct TableDto {
    what_for: ForDto,
    head: HeadDto,
    taps: Vec<String>,
    /// Static pressure, then airflow, watts and rpm of each tap.
    rows: Vec<(String, Vec<[String; 3]>)>,
}

#[derive(Serialize, Deserialize)]
enum ForDto {
    Job,
    NewMachine,
    MachineOfChange(u32),
}

#[derive(Serialize, Deserialize)]
struct HeadDto {
    name: String,
    source: String,
    notes: String,
    kind: KindDto,
    motor: MotorDto,
    illustrative: bool,
    cooling: String,
    rated_maximum: String,
    filter: PartDto,
    coil: CoilDto,
    heater: PartDto,
    return_openings: OpeningsDto,
    position: PositionDto,
    voltage: String,
    density: String,
    #[serde(with = "AirflowUnitDto")]
    airflow_unit: AirflowUnit,
    #[serde(with = "PressureUnitDto")]
    pressure_unit: PressureUnit,
    calls: Vec<(CallDto, String)>,
    heating: Vec<StageDto>,
    corrections: [String; 5],
}

#[derive(Serialize, Deserialize)]
#[serde(remote = "AirflowUnit")]
enum AirflowUnitDto {
    Cfm,
    LitresPerSecond,
    CubicMetresPerHour,
}

#[derive(Serialize, Deserialize)]
#[serde(remote = "PressureUnit")]
enum PressureUnitDto {
    InchesOfWater,
    Pascals,
}

#[derive(Serialize, Deserialize)]
struct StageDto {
    call: CallDto,
    output: String,
    rise_from: String,
    rise_to: String,
    minimum_airflow: String,
}

impl From<&TableInHand> for TableDto {
    fn from(table: &TableInHand) -> Self {
        let cell = |cell: &DraftCell| [cell.airflow.clone(), cell.watts.clone(), cell.rpm.clone()];
        let row = |row: &DraftRow| (row.esp.clone(), row.cells.iter().map(cell).collect());
        Self {
            what_for: match table.what_for {
                TableFor::Job => ForDto::Job,
                TableFor::OtherMachine(None) => ForDto::NewMachine,
                TableFor::OtherMachine(Some(ChangeId(id))) => ForDto::MachineOfChange(id),
            },
            head: HeadDto::from(&table.draft.head),
            taps: table.draft.taps.clone(),
            rows: table.draft.rows.iter().map(row).collect(),
        }
    }
}

impl From<TableDto> for TableInHand {
    fn from(dto: TableDto) -> Self {
        let cell = |[airflow, watts, rpm]: [String; 3]| DraftCell { airflow, watts, rpm };
        let row = |(esp, cells): (String, Vec<_>)| DraftRow { esp, cells: cells.into_iter().map(cell).collect() };
        Self {
            what_for: match dto.what_for {
                ForDto::Job => TableFor::Job,
                ForDto::NewMachine => TableFor::OtherMachine(None),
                ForDto::MachineOfChange(id) => TableFor::OtherMachine(Some(ChangeId(id))),
            },
            draft: TableDraft { head: dto.head.into(), taps: dto.taps, rows: dto.rows.into_iter().map(row).collect() },
        }
    }
}

impl From<&DraftHead> for HeadDto {
    fn from(head: &DraftHead) -> Self {
        let head = head.clone();
        let stage = |stage: DraftStage| StageDto {
            call: stage.call.into(),
            output: stage.output,
            rise_from: stage.rise_from,
            rise_to: stage.rise_to,
            minimum_airflow: stage.minimum_airflow,
        };
        Self {
            name: head.name,
            source: head.source,
            notes: head.notes,
            kind: head.kind.into(),
            motor: head.motor.into(),
            illustrative: head.illustrative,
            cooling: head.cooling,
            rated_maximum: head.rated_maximum,
            filter: head.filter.into(),
            coil: head.coil.into(),
            heater: head.heater.into(),
            return_openings: head.return_openings.into(),
            position: head.position.into(),
            voltage: head.voltage,
            density: head.density,
            airflow_unit: head.airflow_unit,
            pressure_unit: head.pressure_unit,
            calls: head.calls.into_iter().map(|(call, tap)| (call.into(), tap)).collect(),
            heating: head.heating.into_iter().map(stage).collect(),
            corrections: head.corrections,
        }
    }
}

impl From<HeadDto> for DraftHead {
    fn from(dto: HeadDto) -> Self {
        let stage = |stage: StageDto| DraftStage {
            call: stage.call.into(),
            output: stage.output,
            rise_from: stage.rise_from,
            rise_to: stage.rise_to,
            minimum_airflow: stage.minimum_airflow,
        };
        Self {
            name: dto.name,
            source: dto.source,
            notes: dto.notes,
            kind: dto.kind.into(),
            motor: dto.motor.into(),
            illustrative: dto.illustrative,
            cooling: dto.cooling,
            rated_maximum: dto.rated_maximum,
            filter: dto.filter.into(),
            coil: dto.coil.into(),
            heater: dto.heater.into(),
            return_openings: dto.return_openings.into(),
            position: dto.position.into(),
            voltage: dto.voltage,
            density: dto.density,
            airflow_unit: dto.airflow_unit,
            pressure_unit: dto.pressure_unit,
            calls: dto.calls.into_iter().map(|(call, tap)| (call.into(), tap)).collect(),
            heating: dto.heating.into_iter().map(stage).collect(),
            corrections: dto.corrections,
        }
    }
}

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
