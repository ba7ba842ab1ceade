//! A blower table while it is typed: its texts, what they give, and where the hand is.

use eframe::egui::Id;

use crate::model::curves::{self, SmallCurve};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::company::Picture;
use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{Block, DraftProblem, DraftRow, HeadField, Place, TableDraft};
use crate::ui::view::action::Keeping;
use crate::ui::view::table_photo::PhotoView;

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
    /// What keeping the table means.
    pub keeping: Keeping,
    /// What the last paste did.
    pub(in crate::ui) said: Vec<String>,
    /// The grid before each step, the latest last.
    pub(in crate::ui) undo: Vec<Grid>,
    /// The grid before each step that was taken back, the latest last.
    pub(in crate::ui) redo: Vec<Grid>,
    /// Where the last step was typed: what follows there belongs to it.
    pub(in crate::ui) typing: Option<(Spot, Block)>,
    /// The photograph that lies beside the grid.
    pub(in crate::ui) photo: Option<PhotoView>,
}

/// Most steps of the grid that are kept.
const STEPS: usize = 100;

/// The grid of a draft, and where the hand was.
#[derive(Debug, Clone)]
pub(in crate::ui) struct Grid {
    taps: Vec<String>,
    rows: Vec<DraftRow>,
    at: (Spot, Block),
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
            keeping: Keeping::AndUse,
            said: Vec::new(),
            undo: Vec::new(),
            redo: Vec::new(),
            typing: None,
            photo: None,
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

    /// The photograph that lies beside the grid.
    pub const fn photo(&self) -> Option<&PhotoView> {
        self.photo.as_ref()
    }

    /// Lays a photograph of the printed table beside the grid, in the place of another.
    pub fn lay_beside(&mut self, file: String, picture: Picture) {
        self.photo = Some(PhotoView::open(file, picture, &self.draft));
    }

    /// True when something was typed that closing would lose.
    pub fn is_changed(&self) -> bool {
        self.draft != self.opened
    }

    pub(in crate::ui) fn read_again(&mut self) {
        if self.reading.of != self.draft {
            self.keep_step();
            self.reading = Reading::of(&self.draft);
        }
    }

    /// What comes now is a step of its own, wherever the hand is.
    pub(in crate::ui) fn begin_step(&mut self) {
        self.read_again();
        self.typing = None;
    }

    /// Keeps the grid as it stood before a change of it; letters typed in one place are one step.
    fn keep_step(&mut self) {
        let stood = &self.reading.of;
        if stood.taps == self.draft.taps && stood.rows == self.draft.rows {
            return;
        }
        let at = (self.cursor, self.block);
        if self.typing != Some(at) {
            self.undo.push(Grid { taps: stood.taps.clone(), rows: stood.rows.clone(), at });
            let surplus = self.undo.len().saturating_sub(STEPS);
            self.undo.drain(..surplus);
            self.typing = Some(at);
        }
        self.redo.clear();
    }

    /// Takes the last step of the grid back; the hand goes to where it was made.
    pub(in crate::ui) fn step_back(&mut self) {
        self.read_again();
        if let Some(grid) = self.undo.pop() {
            let stood = self.exchange(grid);
            self.redo.push(stood);
        }
    }

    /// Takes the step again that was taken back last.
    pub(in crate::ui) fn step_forward(&mut self) {
        self.read_again();
        if let Some(grid) = self.redo.pop() {
            let stood = self.exchange(grid);
            self.undo.push(stood);
        }
    }

    /// Puts a grid in the place of the one that stands, and gives that.
    fn exchange(&mut self, Grid { taps, rows, at }: Grid) -> Grid {
        let stood = Grid {
            taps: std::mem::replace(&mut self.draft.taps, taps),
            rows: std::mem::replace(&mut self.draft.rows, rows),
            at,
        };
        (self.cursor, self.block) = (at.0.within(&self.draft), at.1);
        self.go_to = Some(GoTo::Grid(self.cursor));
        self.typing = None;
        self.said.clear();
        self.reading = Reading::of(&self.draft);
        stood
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
