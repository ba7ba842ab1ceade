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
    refused: Option<String>,
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
    /// Why a text that stands in a field of the job was refused, which is in no job and in no autosave.
    refused: Option<&'a str>,
}

impl<'a> AtStake<'a> {
    /// The job with its file, what that was when it was opened, and what is in hand that is not in the job yet.
    pub fn of(history: &'a History, file: Option<&'a Path>, opened: Option<Fingerprint>, view: &'a View) -> Self {
        let has_loose_marks = view.chart_trace.as_ref().is_some_and(TraceView::has_loose_marks);
        let refused = view.refused.iter().find(|(key, _)| !key.is_of_settings());
        let refused = refused.map(|(_, refused)| refused.message.as_str());
        Self { history, file, opened, table: view.table_in_hand(), has_loose_marks, refused }
    }

    /// Its stamp.
    pub fn stamp(&self) -> Stamp {
        let has_loose_marks = self.has_loose_marks;
        let refused = self.refused.map(str::to_owned);
        Stamp { revision: self.history.revision(), table: self.table.clone(), has_loose_marks, refused }
    }

    /// True when nothing would be lost.
    pub fn is_nothing(&self) -> bool {
        self.is_nothing_to_keep() && self.refused.is_none()
    }

    /// True when there is nothing that an autosave could keep.
    pub fn is_nothing_to_keep(&self) -> bool {
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
            () if self.table.is_some() => "the table",
            () if self.has_loose_marks => "the marks",
            () => "the value",
        }
    }

    /// What an autosave keeps of it.
    pub fn work(&self) -> Work<'_> {
        Work { job: self.history.job(), original: self.file, opened: self.opened, table: self.table.as_ref() }
    }

    /// What would be lost: a sentence, and what was refused behind it.
    pub fn question(&self) -> String {
        let refused = self.refused.map(|why| format!("A value that was typed is not in the job: {why}."));
        let other = (!self.is_nothing_to_keep()).then(|| self.sentence().to_owned());
        other.into_iter().chain(refused).collect::<Vec<_>>().join(" ")
    }

    /// What an autosave keeps of it, one sentence.
    fn sentence(&self) -> &'static str {
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
