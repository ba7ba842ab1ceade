//! Autosave beside the person's own file: two seconds after the last edit, gone after a save.

use std::path::Path;
use std::time::{Duration, SystemTime};

use eframe::egui;

use crate::files::autosave::{Autosave, Recovered, window_id};
use crate::files::places::Places;
use crate::history::History;

/// Seconds without an edit before an autosave.
pub const QUIET: f64 = 2.0;

/// Keeps the open job safe from a crash.
#[derive(Default)]
pub struct KeepSafe {
    autosave: Option<Autosave>,
    problem: Option<String>,
    kept_revision: Option<u64>,
    seen_revision: Option<u64>,
    seen_at: f64,
    adopted: Option<Recovered>,
}

impl KeepSafe {
    /// Takes a place for this window's autosave; without places nothing is kept.
    pub fn begin(places: Option<&Places>) -> Self {
        let id = window_id(std::process::id(), SystemTime::now());
        match places.map(|places| Autosave::begin(&places.autosaves, &id)) {
            Some(Ok(autosave)) => Self { autosave: Some(autosave), ..Self::default() },
            Some(Err(error)) => Self { problem: Some(format!("{error:#}")), ..Self::default() },
            None => Self::default(),
        }
    }

    /// Writes or removes the autosave as the job's state asks; gives a sentence when that fails.
    pub fn tend(&mut self, history: &History, file: Option<&Path>, now: f64, ctx: &egui::Context) -> Option<String> {
        if let Some(problem) = self.problem.take() {
            return Some(problem);
        }
        let autosave = self.autosave.as_ref()?;
        if self.seen_revision != Some(history.revision()) {
            self.seen_revision = Some(history.revision());
            self.seen_at = now;
        }
        if self.kept_revision == Some(history.revision()) || !history.is_changed() {
            return None;
        }
        let wait = QUIET - (now - self.seen_at);
        if wait > 0.0 {
            ctx.request_repaint_after(Duration::from_secs_f64(wait));
            return None;
        }
        self.kept_revision = Some(history.revision());
        let written = autosave.write(history.job(), file);
        if written.is_ok()
            && let Some(adopted) = self.adopted.take()
        {
            return adopted.discard().err().map(|error| format!("{error:#}"));
        }
        written.err().map(|error| format!("{error:#}"))
    }

    /// Holds a recovered autosave until its job is autosaved here.
    pub fn adopt(&mut self, recovered: Recovered) {
        self.adopted = Some(recovered);
    }

    /// The job is on the disk, or gone on purpose: nothing is left to recover.
    pub fn forget(&mut self) {
        self.kept_revision = None;
        self.seen_revision = None;
        let own = self.autosave.as_ref().map(Autosave::discard);
        let adopted = self.adopted.take().map(Recovered::discard);
        if let Some(Err(error)) = own.into_iter().chain(adopted).find(Result::is_err) {
            self.problem = Some(format!("{error:#}"));
        }
    }

    /// The window ends; `keep` leaves the autosave for recovery.
    pub fn end(&mut self, keep: bool) {
        if keep {
            return;
        }
        // The window is closing and nobody is there to read a message; a file left behind is offered at the next start.
        drop(self.autosave.take().map(Autosave::finish));
        drop(self.adopted.take().map(Recovered::discard));
    }
}
