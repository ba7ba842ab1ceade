//! What would be lost if the window ended now, or if another job took the place of this one.

use std::path::Path;

use crate::files::autosave::Work;
use crate::files::fingerprint::Fingerprint;
use crate::history::History;
use crate::model::typed::table_draft::TableInHand;

/// Tells one state of the work from every other of the same window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    revision: u64,
    table: Option<TableInHand>,
}

/// The window's work as it stands.
#[derive(Clone, Debug)]
pub struct AtStake<'a> {
    history: &'a History,
    file: Option<&'a Path>,
    opened: Option<Fingerprint>,
    table: Option<TableInHand>,
}

impl<'a> AtStake<'a> {
    /// The job with its file, what that was when it was opened, and a table that is not in the job yet.
    pub const fn new(
        history: &'a History,
        file: Option<&'a Path>,
        opened: Option<Fingerprint>,
        table: Option<TableInHand>,
    ) -> Self {
        Self { history, file, opened, table }
    }

    /// Its stamp.
    pub fn stamp(&self) -> Stamp {
        Stamp { revision: self.history.revision(), table: self.table.clone() }
    }

    /// True when nothing would be lost.
    pub fn is_nothing(&self) -> bool {
        !self.history.is_changed() && self.table.is_none()
    }

    /// True when saving the job would help.
    pub fn is_job(&self) -> bool {
        self.history.is_changed()
    }

    /// What an autosave keeps of it.
    pub fn work(&self) -> Work<'_> {
        Work { job: self.history.job(), original: self.file, opened: self.opened, table: self.table.as_ref() }
    }

    /// What would be lost, one sentence.
    pub fn sentence(&self) -> &'static str {
        match (self.history.is_changed(), &self.table) {
            (true, None) => "The job has changes that are not saved.",
            (true, Some(_)) => {
                "The job has changes that are not saved, and the table that is being typed is not in it yet."
            }
            (false, _) => "The table that is being typed is not in the job yet.",
        }
    }
}
