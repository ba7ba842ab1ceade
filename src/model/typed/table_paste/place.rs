//! Puts what was pasted into a draft.

use crate::model::typed::table_draft::{Block, DraftCell, DraftRow, TableDraft, too_large};
use crate::model::typed::table_paste::{Pasted, PastedColumn};
use crate::units::{Pressure, text};

impl Pasted {
    /// Puts the columns into the draft and gives sentences on what was done.
    ///
    /// With static pressures of its own the text is a whole table: over an empty grid it takes the grid's place, otherwise it finds its rows and columns.
    /// Without them it goes in from `row` and `tap` on (no tap: from the static pressures on), and the grid grows as needed.
    pub fn put_into(&self, draft: &mut TableDraft, block: Block, row: usize, tap: Option<usize>) -> Vec<String> {
        let mut said = self.remarks.clone();
        if self.columns.is_empty() {
            said.push("Nothing in the pasted text looks like a column of numbers".to_owned());
            return said;
        }
        let rows = self.columns.iter().map(|column| column.cells.len()).max().unwrap_or_default();
        // Columns of airflow, watts and rpm may stand side by side.
        let refused = |sentence| vec![format!("Not pasted: {sentence}")];
        if let Some(sentence) = too_large(rows, self.columns.len() / Block::ALL.len()) {
            return refused(sentence);
        }
        let mut filled = draft.clone();
        self.fill(&mut filled, block, row, tap, &mut said);
        if let Some(sentence) = too_large(filled.rows.len(), filled.taps.len()) {
            return refused(sentence);
        }
        *draft = filled;
        said.push(format!("Pasted {} and {}", counted(rows, "row"), counted(self.columns.len(), "column")));
        said
    }

    /// The columns as a table of their own, or as more of one that is there; a sentence where they are too many.
    pub(in crate::model::typed) fn onto(&self, table: Option<TableDraft>, block: Block) -> Result<TableDraft, String> {
        let rows = self.esps.len();
        too_large(rows, self.columns.len() / Block::ALL.len()).map_or(Ok(()), Err)?;
        let mut draft = table.unwrap_or_else(TableDraft::empty);
        self.fill(&mut draft, block, 0, None, &mut Vec::new());
        too_large(draft.rows.len(), draft.taps.len()).map_or(Ok(draft), Err)
    }

    fn fill(&self, draft: &mut TableDraft, block: Block, row: usize, tap: Option<usize>, said: &mut Vec<String>) {
        self.put_units(draft, said);
        if self.esps.is_empty() {
            self.put_at(draft, block, row, tap);
        } else {
            if draft.has_no_cells() {
                draft.rows.clear();
                draft.taps.clear();
            }
            self.put_whole(draft, block);
        }
    }

    fn put_units(&self, draft: &mut TableDraft, said: &mut Vec<String>) {
        let head = &mut draft.head;
        if let Some(unit) = self.pressure_unit.filter(|unit| *unit != head.pressure_unit) {
            head.pressure_unit = unit;
            said.push(format!("Static pressures are now in {}", unit.name()));
        }
        if let Some(unit) = self.airflow_unit.filter(|unit| *unit != head.airflow_unit) {
            head.airflow_unit = unit;
            said.push(format!("Airflows are now in {}", unit.name()));
        }
    }

    fn put_at(&self, draft: &mut TableDraft, block: Block, row: usize, tap: Option<usize>) {
        let rows = self.columns.iter().map(|column| column.cells.len()).max().unwrap_or_default();
        while draft.rows.len() < row + rows {
            draft.add_row();
        }
        for (offset, column) in self.columns.iter().enumerate() {
            let Some(tap) = tap.map_or_else(|| offset.checked_sub(1), |tap| Some(tap + offset)) else {
                for (index, text) in column.cells.iter().enumerate() {
                    draft.rows[row + index].esp.clone_from(text);
                }
                continue;
            };
            while draft.taps.len() <= tap {
                draft.add_tap();
            }
            if let Some(name) = &column.name {
                draft.taps[tap].clone_from(name);
            }
            for (index, text) in column.cells.iter().enumerate() {
                put(&mut draft.rows[row + index].cells[tap], column.block.unwrap_or(block), text);
            }
        }
    }

    fn put_whole(&self, draft: &mut TableDraft, block: Block) {
        let rows = self.rows_in(draft);
        let mut next = 0;
        let mut before: Option<usize> = None;
        for column in &self.columns {
            let tap = match before.filter(|_| same_tap(column, draft, before)) {
                Some(tap) => tap,
                None => tap_of(draft, column, &mut next),
            };
            before = Some(tap);
            for (row, text) in rows.iter().zip(&column.cells) {
                put(&mut draft.rows[*row].cells[tap], column.block.unwrap_or(block), text);
            }
        }
    }

    /// The draft's row of each pasted one; rows that it lacks are added where they belong, and a static pressure that stands twice keeps both rows.
    fn rows_in(&self, draft: &mut TableDraft) -> Vec<usize> {
        let mut found: Vec<usize> = Vec::new();
        for esp in &self.esps {
            let value = value_in(draft);
            let wanted = value(esp);
            let is_same = |row: &DraftRow| row.esp == *esp || wanted.is_some() && value(&row.esp) == wanted;
            let here = (0..draft.rows.len()).find(|row| is_same(&draft.rows[*row]) && !found.contains(row));
            let place = here.unwrap_or_else(|| {
                let after_last = found.last().map_or(0, |last| last + 1);
                let is_above =
                    |row: &DraftRow| wanted.zip(value(&row.esp)).is_some_and(|(wanted, other)| other > wanted);
                let place =
                    (after_last..draft.rows.len()).find(|row| is_above(&draft.rows[*row])).unwrap_or(draft.rows.len());
                let cells = vec![DraftCell::default(); draft.taps.len()];
                draft.rows.insert(place, DraftRow { esp: esp.clone(), cells });
                for row in found.iter_mut().filter(|row| **row >= place) {
                    *row += 1;
                }
                place
            });
            found.push(place);
        }
        found
    }
}

/// Reads a static pressure in the draft's unit.
fn value_in(draft: &TableDraft) -> impl Fn(&str) -> Option<Pressure> + use<> {
    let system = draft.head.pressure_unit.system();
    move |typed| text::pressure(typed, system).ok()
}

fn counted(number: usize, what: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {what}{plural}")
}

fn put(cell: &mut DraftCell, block: Block, text: &str) {
    text.clone_into(cell.text_mut(block));
}

/// True when a column gives watts or rpm of the tap before it.
fn same_tap(column: &PastedColumn, draft: &TableDraft, before: Option<usize>) -> bool {
    let name_before = before.and_then(|tap| draft.taps.get(tap));
    matches!(column.block, Some(Block::Watts | Block::Rpm))
        && (column.name.is_none() || column.name.as_ref() == name_before)
}

/// The column of a name, or the next one; added when there is none.
fn tap_of(draft: &mut TableDraft, column: &PastedColumn, next: &mut usize) -> usize {
    let named = column.name.as_ref().and_then(|name| draft.taps.iter().position(|tap| tap == name));
    let tap = match (named, &column.name) {
        (Some(tap), _) => tap,
        (None, Some(_)) => draft.taps.len(),
        (None, None) => *next,
    };
    *next = tap + 1;
    while draft.taps.len() <= tap {
        draft.add_tap();
        if let (Some(last), Some(name)) = (draft.taps.last_mut(), &column.name) {
            last.clone_from(name);
        }
    }
    tap
}
