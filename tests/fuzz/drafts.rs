//! Tables as they are typed and pasted.

use tapcross::model::facts::blower::{
    BlowerTable, Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings,
};
use tapcross::model::facts::severity::Severity;
use tapcross::model::typed::table_draft::{
    AirflowUnit, Block, DraftCell, DraftRow, DraftStage, PressureUnit, TableDraft,
};
use tapcross::model::typed::table_paste;

use crate::campaign::{Verdict, shape_of};
use crate::readers::table_holds;
use crate::{require, sentences};

/// A pasted text goes into an empty grid and into a filled one, and what stands there then is read.
pub(crate) fn pasted(input: &[u8]) -> Verdict {
    let text = String::from_utf8_lossy(input);
    let said = table_paste::is_block(&text);
    let pasted = table_paste::parse(&text);
    let mut filled = TableDraft::empty();
    "800".clone_into(&mut filled.rows[0].cells[0].airflow);
    let mut shape = format!("{said} {}", pasted.columns.len().min(9));
    let grids = [(TableDraft::empty(), 0, Some(0)), (TableDraft::empty(), 3, None), (filled, 8, Some(4))];
    for ((mut draft, row, tap), block) in grids.into_iter().zip(Block::ALL) {
        for remark in pasted.put_into(&mut draft, block, row, tap) {
            sentences::check(&remark, &text)?;
            shape.push_str(&shape_of(&remark));
        }
        shape.push_str(&draft_holds(&draft, &text)?);
    }
    Ok(shape)
}

/// A draft made of typed texts is read.
pub(crate) fn typed(input: &[u8]) -> Verdict {
    let text = String::from_utf8_lossy(input);
    draft_holds(&draft_of(&text), &text)
}

/// What must hold of every draft: each remark is a sentence, and a table without errors is written, read back and opened again.
fn draft_holds(draft: &TableDraft, about: &str) -> Verdict {
    let (table, problems) = draft.read();
    let mut shape = String::new();
    for problem in &problems {
        sentences::check(&problem.message, about)?;
        shape.push_str(&shape_of(&problem.message));
    }
    if problems.iter().all(|problem| problem.severity == Severity::Question) {
        table_holds(&table)?;
        let (again, told) = TableDraft::from_table(&table).read();
        require(again == table, || {
            format!("a table comes back different from the editor: {}", unlike(&table, &again))
        })?;
        require(told.iter().all(|problem| problem.severity == Severity::Question), || {
            format!("a sound table is refused: {told:?}")
        })?;
    }
    Ok(shape)
}

/// The first place at which two tables differ, as they would be printed.
fn unlike(one: &BlowerTable, other: &BlowerTable) -> String {
    let (one, other) = (format!("{one:?}"), format!("{other:?}"));
    let at = one.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count().saturating_sub(40);
    let piece = |text: &str| text.chars().skip(at).take(120).collect::<String>();
    format!("{} became {}", piece(&one), piece(&other))
}

/// Seeds of the typed tables: the shipped ones.
pub(crate) fn shipped() -> Vec<Vec<u8>> {
    let (library, _) = tapcross::files::library::Library::shipped();
    library.entries.iter().map(|entry| text_of(&TableDraft::from_table(&entry.table)).into_bytes()).collect()
}

/// Seeds of pasted tables: the grids of the shipped ones.
pub(crate) fn shipped_grids() -> Vec<Vec<u8>> {
    let (library, _) = tapcross::files::library::Library::shipped();
    library.entries.iter().map(|entry| grid_of(&TableDraft::from_table(&entry.table)).into_bytes()).collect()
}

fn grid_of(draft: &TableDraft) -> String {
    let mut lines = vec![format!("ESP\t{}", draft.taps.join("\t"))];
    for row in &draft.rows {
        let cells: Vec<&str> = row.cells.iter().map(|cell| cell.airflow.as_str()).collect();
        lines.push(format!("{}\t{}", row.esp, cells.join("\t")));
    }
    lines.join("\n")
}

/// A draft as a text: name, source, notes, choices, plate, corrections, calls, stages, taps, then a line for each row.
fn text_of(draft: &TableDraft) -> String {
    let head = &draft.head;
    let plate = [&head.cooling, &head.rated_maximum, &head.voltage, &head.density].map(String::as_str).join("\t");
    let tap_of = |call: Call| head.calls.iter().find(|(of, _)| *of == call).map_or("", |(_, tap)| tap.as_str());
    let stages: Vec<String> = head
        .heating
        .iter()
        .map(|stage| {
            [&stage.output, &stage.rise_from, &stage.rise_to, &stage.minimum_airflow].map(String::as_str).join("|")
        })
        .collect();
    let mut lines = vec![head.name.clone(), head.source.clone(), head.notes.clone(), choices_of(draft), plate];
    lines.extend([
        head.corrections.join("\t"),
        Call::ALL.map(tap_of).join("\t"),
        stages.join("\t"),
        draft.taps.join("\t"),
    ]);
    for row in &draft.rows {
        let cells: Vec<String> =
            row.cells.iter().map(|cell| Block::ALL.map(|block| cell.text(block).as_str()).join("|")).collect();
        lines.push(format!("{}\t{}", row.esp, cells.join("\t")));
    }
    lines.join("\n")
}

fn choices_of(draft: &TableDraft) -> String {
    let head = &draft.head;
    let place = |found: Option<usize>| found.unwrap_or_default().to_string();
    let choices = [
        place(EquipmentKind::ALL.iter().position(|kind| *kind == head.kind)),
        place(MotorFamily::ALL.iter().position(|motor| *motor == head.motor)),
        place(COILS.iter().position(|coil| *coil == head.coil)),
        place(OPENINGS.iter().position(|openings| *openings == head.return_openings)),
        place(POSITIONS.iter().position(|position| *position == head.position)),
        place(AirflowUnit::ALL.iter().position(|unit| *unit == head.airflow_unit)),
        place(PressureUnit::ALL.iter().position(|unit| *unit == head.pressure_unit)),
        place(PARTS.iter().position(|part| *part == head.filter)),
        place(PARTS.iter().position(|part| *part == head.heater)),
    ];
    choices.join("\t")
}

const COILS: [CoilInTest; 3] = [CoilInTest::Without, CoilInTest::Dry, CoilInTest::Wet];
const PARTS: [PartInTest; 2] = [PartInTest::Without, PartInTest::Included];
const OPENINGS: [ReturnOpenings; 4] =
    [ReturnOpenings::Unstated, ReturnOpenings::Bottom, ReturnOpenings::OneSide, ReturnOpenings::TwoSides];
const POSITIONS: [Position; 4] = [Position::Unstated, Position::Up, Position::Down, Position::Horizontal];

/// The other way round; whatever is missing is left empty.
fn draft_of(text: &str) -> TableDraft {
    let mut lines = text.split('\n');
    let mut next = || lines.next().unwrap_or_default();
    let mut draft = TableDraft::empty();
    let (name, source, notes) = (next(), next(), next());
    (draft.head.name, draft.head.source, draft.head.notes) = (name.to_owned(), source.to_owned(), notes.to_owned());
    choose(&mut draft, next());
    let mut plate = next().split('\t').map(str::to_owned);
    let mut plate = || plate.next().unwrap_or_default();
    (draft.head.cooling, draft.head.rated_maximum, draft.head.voltage, draft.head.density) =
        (plate(), plate(), plate(), plate());
    for (place, typed) in draft.head.corrections.iter_mut().zip(next().split('\t')) {
        typed.clone_into(place);
    }
    let calls = Call::ALL.into_iter().zip(next().split('\t'));
    draft.head.calls = calls.filter(|(_, tap)| !tap.is_empty()).map(|(call, tap)| (call, tap.to_owned())).collect();
    draft.head.heating = next()
        .split('\t')
        .filter(|stage| !stage.is_empty())
        .zip(Call::ALL.into_iter().cycle().skip(2))
        .map(stage_of)
        .collect();
    draft.taps = next().split('\t').map(str::to_owned).collect();
    draft.rows = lines.map(|line| row_of(line, draft.taps.len())).collect();
    draft
}

fn choose(draft: &mut TableDraft, typed: &str) {
    let mut numbers = typed.split('\t').map(|number| number.parse::<usize>().unwrap_or_default());
    let mut pick = |count: usize| numbers.next().unwrap_or_default() % count;
    let head = &mut draft.head;
    head.kind = EquipmentKind::ALL[pick(EquipmentKind::ALL.len())];
    head.motor = MotorFamily::ALL[pick(MotorFamily::ALL.len())];
    head.coil = COILS[pick(COILS.len())];
    head.return_openings = OPENINGS[pick(OPENINGS.len())];
    head.position = POSITIONS[pick(POSITIONS.len())];
    head.airflow_unit = AirflowUnit::ALL[pick(AirflowUnit::ALL.len())];
    head.pressure_unit = PressureUnit::ALL[pick(PressureUnit::ALL.len())];
    head.filter = PARTS[pick(PARTS.len())];
    head.heater = PARTS[pick(PARTS.len())];
}

fn stage_of((typed, call): (&str, Call)) -> DraftStage {
    let mut texts = typed.split('|').map(str::to_owned);
    let mut next = || texts.next().unwrap_or_default();
    DraftStage { call, output: next(), rise_from: next(), rise_to: next(), minimum_airflow: next() }
}

fn row_of(line: &str, taps: usize) -> DraftRow {
    let mut texts = line.split('\t');
    let esp = texts.next().unwrap_or_default().to_owned();
    let mut cells: Vec<DraftCell> = texts.map(cell_of).collect();
    cells.resize(taps, DraftCell::default());
    DraftRow { esp, cells }
}

fn cell_of(typed: &str) -> DraftCell {
    let mut cell = DraftCell::default();
    for (block, text) in Block::ALL.into_iter().zip(typed.split('|')) {
        text.clone_into(cell.text_mut(block));
    }
    cell
}
