//! What would be lost if the window ended now, or if another job took the place of this one.

use std::path::Path;

use crate::files::autosave::Work;
use crate::files::fingerprint::Fingerprint;
use crate::history::History;
use crate::model::typed::table_draft::TableInHand;
use crate::ui::view::View;
use crate::ui::view::chart_trace::TraceView;

/// Tells one state of the work from every other of the same window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    revision: u64,
    table: Option<TableInHand>,
    has_loose_marks: bool,
}

/// The window's work as it stands.
#[derive(Clone, Debug)]
pub struct AtStake<'a> {
    history: &'a History,
    file: Option<&'a Path>,
    opened: Option<Fingerprint>,
    table: Option<TableInHand>,
    /// Marks in a chart's picture that make no table yet, which no autosave keeps.
    has_loose_marks: bool,
}

impl<'a> AtStake<'a> {
    /// The job with its file, what that was when it was opened, and what is in hand that is not in the job yet.
    pub fn of(history: &'a History, file: Option<&'a Path>, opened: Option<Fingerprint>, view: &View) -> Self {
        let has_loose_marks = view.chart_trace.as_ref().is_some_and(TraceView::has_loose_marks);
        Self { history, file, opened, table: view.table_in_hand(), has_loose_marks }
    }

    /// Its stamp.
    pub fn stamp(&self) -> Stamp {
        let has_loose_marks = self.has_loose_marks;
        Stamp { revision: self.history.revision(), table: self.table.clone(), has_loose_marks }
    }

    /// True when nothing would be lost.
    pub fn is_nothing(&self) -> bool {
        !self.history.is_changed() && self.table.is_none() && !self.has_loose_marks
    }

    /// True when saving the job would help.
    pub fn is_job(&self) -> bool {
        self.history.is_changed()
    }

    /// What goes on is done without.
    pub fn given_up(&self) -> &'static str {
        match () {
            () if self.is_job() => "saving",
            () if self.table.is_none() => "the marks",
            () => "the table",
        }
    }

    /// What an autosave keeps of it.
    pub fn work(&self) -> Work<'_> {
        Work { job: self.history.job(), original: self.file, opened: self.opened, table: self.table.as_ref() }
    }

    /// What would be lost, one sentence.
    pub fn sentence(&self) -> &'static str {
        match (self.history.is_changed(), &self.table) {
            (true, None) if self.has_loose_marks => {
                "The job has changes that are not saved, and what is marked in the picture is in no table yet."
            }
            (false, None) if self.has_loose_marks => "What is marked in the picture is in no table yet.",
            (true, None) => "The job has changes that are not saved.",
            (true, Some(_)) => {
                "The job has changes that are not saved, and the table that is being typed is not in it yet."
            }
            (false, _) => "The table that is being typed is not in the job yet.",
        }
    }
}
