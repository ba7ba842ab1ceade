//! Blower tables of a file while a person looks at what they are taken for.

use crate::model::facts::blower::BlowerTable;
use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::TableDraft;
use crate::model::typed::table_sheet::{Choices, Lane, SheetLayout, SheetReading};

/// A file of blower tables, as it is taken.
#[derive(Clone, Debug)]
pub struct TableSheet {
    /// Its name.
    pub(in crate::ui) file: String,
    text: String,
    /// How its letters were read, where that is not the usual way.
    pub(in crate::ui) letters: Option<&'static str>,
    /// What was said of it.
    pub(in crate::ui) choices: Choices,
    reading: SheetReading,
    tables: Vec<Found>,
    /// The table that is looked at, by index.
    pub(in crate::ui) shown: usize,
}

/// One table of the file.
#[derive(Clone, Debug)]
pub(in crate::ui) struct Found {
    pub(in crate::ui) table: BlowerTable,
    /// What keeps it from being used, one sentence each.
    pub(in crate::ui) errors: Vec<String>,
}

impl TableSheet {
    /// Opens a file's text.
    pub fn open(file: String, text: String, letters: Option<&'static str>) -> Self {
        let choices = Choices::default();
        let reading = SheetReading::of(&text, &file, &choices);
        let tables = found(&reading);
        Self { file, text, letters, choices, reading, tables, shown: 0 }
    }

    /// How it is taken.
    pub const fn reading(&self) -> &SheetReading {
        &self.reading
    }

    /// The tables, with what is wrong in each.
    pub(in crate::ui) fn tables(&self) -> &[Found] {
        &self.tables
    }

    /// Says something of the file; what the columns hold is said anew where they are others.
    pub(in crate::ui) fn say(&mut self, choices: Choices) {
        if choices == self.choices {
            return;
        }
        let moves_columns = choices.separator != self.choices.separator || choices.layout != self.choices.layout;
        self.choices = choices;
        if moves_columns {
            self.choices.lanes.clear();
            self.choices.blower = None;
        }
        self.reading = SheetReading::of(&self.text, &self.file, &self.choices);
        self.tables = found(&self.reading);
        self.shown = self.shown.min(self.tables.len().saturating_sub(1));
    }

    /// Says what a column holds, or a row where the taps stand one under the other.
    pub(in crate::ui) fn say_of_lane(&mut self, place: usize, lane: Lane) {
        let mut choices = self.choices.clone();
        choices.lanes.insert(place, lane);
        let settled = self.reading.settled;
        if settled.blower == Some(place) && settled.layout != SheetLayout::TapsDown {
            choices.blower = Some(None);
        }
        self.say(choices);
    }

    /// Says that a column names the machine.
    pub(in crate::ui) fn say_machine_in(&mut self, column: usize) {
        let mut choices = self.choices.clone();
        choices.lanes.remove(&column);
        choices.blower = Some(Some(column));
        self.say(choices);
    }

    /// The texts of the table that is looked at; nothing while the file cannot be taken, or something of it is asked.
    pub(in crate::ui) fn draft(&self) -> Option<TableDraft> {
        self.reading.tables.get(self.shown).filter(|_| self.reading.is_ready()).cloned()
    }

    /// The tables that can be used as they stand; none while the file cannot be taken, or something of it is asked.
    pub(in crate::ui) fn sound(&self) -> Vec<BlowerTable> {
        let sound = self.tables.iter().filter(|found| found.errors.is_empty() && self.reading.is_ready());
        sound.map(|found| found.table.clone()).collect()
    }
}

fn found(reading: &SheetReading) -> Vec<Found> {
    let of = |draft: &TableDraft| {
        let (table, problems) = draft.read();
        let errors = problems.into_iter().filter(|problem| problem.severity == Severity::Error);
        Found { table, errors: errors.map(|problem| problem.message).collect() }
    };
    reading.tables.iter().map(of).collect()
}
