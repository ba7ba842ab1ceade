//! A blower table while it is typed: its texts, what they give, and where the hand is.

use eframe::egui::Id;

use crate::model::curves::{self, SmallCurve};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{Block, DraftProblem, HeadField, Place, TableDraft};

/// A place of the grid: row 0 holds the names of the columns, column 0 the static pressures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::ui) struct Spot {
    pub(in crate::ui) row: usize,
    pub(in crate::ui) column: usize,
}

impl Spot {
    /// The same place, or the nearest that the draft has.
    pub(in crate::ui) fn within(self, draft: &TableDraft) -> Self {
        let column = self.column.min(draft.taps.len());
        let row = self.row.min(draft.rows.len());
        if row == 0 && column == 0 { Self { row: 0, column: 1.min(draft.taps.len()) } } else { Self { row, column } }
    }

    /// Id of its box; each grid has its own, so that taking back a change stays within it.
    pub(in crate::ui) fn id(self, block: Block) -> Id {
        let block = if self.row == 0 || self.column == 0 { Block::Airflow } else { block };
        Id::unique(("table cell", block.name(), self.row, self.column))
    }
}

/// Where the hand goes next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::ui) enum GoTo {
    /// The name.
    Name,
    /// A field beside the grid.
    Head(HeadField),
    /// A place of the grid.
    Grid(Spot),
}

/// Whether the question before throwing a table away stands open.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(in crate::ui) enum Leaving {
    #[default]
    No,
    Asking,
}

/// What follows from the draft.
#[derive(Debug, Clone)]
pub(in crate::ui) struct Reading {
    pub(in crate::ui) of: TableDraft,
    pub(in crate::ui) table: BlowerTable,
    pub(in crate::ui) problems: Vec<DraftProblem>,
    pub(in crate::ui) curves: Vec<SmallCurve>,
}

impl Reading {
    pub(in crate::ui) fn of(draft: &TableDraft) -> Self {
        let (table, problems) = draft.read();
        let curves = curves::of_table(&table);
        Self { of: draft.clone(), table, problems, curves }
    }

    pub(in crate::ui) fn errors(&self) -> usize {
        self.problems.iter().filter(|problem| problem.severity == Severity::Error).count()
    }
}

/// A table while it is typed.
#[derive(Debug, Clone)]
pub struct TableEditor {
    pub(in crate::ui) draft: TableDraft,
    pub(in crate::ui) opened: TableDraft,
    pub(in crate::ui) reading: Reading,
    pub(in crate::ui) block: Block,
    pub(in crate::ui) cursor: Spot,
    pub(in crate::ui) go_to: Option<GoTo>,
    pub(in crate::ui) leaving: Leaving,
    /// What the last paste did.
    pub(in crate::ui) said: Vec<String>,
    /// The draft before a paste or a removal, to be put back.
    pub(in crate::ui) before: Option<Box<TableDraft>>,
}

impl TableEditor {
    /// Opens on a table, or on an empty grid.
    pub fn open(table: Option<&BlowerTable>) -> Self {
        let draft = table.map_or_else(TableDraft::empty, TableDraft::from_table);
        Self {
            reading: Reading::of(&draft),
            opened: draft.clone(),
            draft,
            block: Block::Airflow,
            cursor: Spot { row: 1, column: 1 },
            go_to: Some(GoTo::Name),
            leaving: Leaving::No,
            said: Vec::new(),
            before: None,
        }
    }

    /// Goes on with a table that was half typed when the program ended.
    pub fn resume(draft: TableDraft) -> Self {
        Self { opened: TableDraft::empty(), reading: Reading::of(&draft), draft, ..Self::open(None) }
    }

    /// The texts as they stand.
    pub const fn draft(&self) -> &TableDraft {
        &self.draft
    }

    /// The table that stands in the texts, and every remark on it.
    pub fn read(&self) -> (&BlowerTable, &[DraftProblem]) {
        (&self.reading.table, &self.reading.problems)
    }

    /// True when something was typed that closing would lose.
    pub fn is_changed(&self) -> bool {
        self.draft != self.opened
    }

    pub(in crate::ui) fn read_again(&mut self) {
        if self.reading.of != self.draft {
            self.reading = Reading::of(&self.draft);
        }
    }

    /// Keeps the draft as it is, to be put back after what comes now.
    pub(in crate::ui) fn remember(&mut self) {
        self.before = Some(Box::new(self.draft.clone()));
    }

    /// The gravest remark on a place.
    pub(in crate::ui) fn remark_on(&self, place: Place) -> Option<&DraftProblem> {
        let here = self.reading.problems.iter().filter(|problem| problem.place == place);
        here.max_by_key(|problem| problem.severity)
    }

    /// Goes to the first cell of the grid in hand that has nothing typed.
    pub(in crate::ui) fn go_to_grid(&mut self) {
        let empty = |row: usize, tap: usize| self.draft.rows[row].cells[tap].text(self.block).trim().is_empty();
        let spots = (0..self.draft.rows.len()).flat_map(|row| (0..self.draft.taps.len()).map(move |tap| (row, tap)));
        let (row, tap) = spots.into_iter().find(|(row, tap)| empty(*row, *tap)).unwrap_or_default();
        self.go_to = Some(GoTo::Grid(Spot { row: row + 1, column: tap + 1 }));
    }
}
