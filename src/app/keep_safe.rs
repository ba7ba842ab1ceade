//! Autosave beside the person's own file: soon after the last edit, and at the latest some seconds after the first; gone after a save.

use std::path::PathBuf;
use std::time::{Duration, SystemTime};

use eframe::egui;

use crate::files::autosave::{Autosave, Recovered, window_id};
use crate::files::places::Places;
use crate::ui::view::at_stake::{AtStake, Stamp};

/// Seconds without an edit before an autosave.
const QUIET: f64 = 2.0;
/// Most seconds that an edit waits while others follow; with the writing itself it stays under five.
const LONGEST: f64 = 4.0;
/// Seconds before an autosave that failed is tried again.
const TRY_AGAIN: f64 = 5.0;

/// What a person has to know about the autosave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// It failed, and why.
    Failed(String),
    /// It failed before and works again.
    WorksAgain,
}

/// Keeps the work in the window safe from a crash.
#[derive(Default)]
pub struct KeepSafe {
    folder: Option<PathBuf>,
    autosave: Option<Autosave>,
    adopted: Option<Recovered>,
    /// The work as it was last seen, and when that was.
    seen: Option<(Stamp, f64)>,
    /// The work as it was last written.
    kept: Option<Stamp>,
    /// Since when something waits to be written.
    waiting_since: Option<f64>,
    /// When it is tried next, after it failed.
    not_before: f64,
    /// The failure that a person was told.
    failure: Option<String>,
}

impl KeepSafe {
    /// Takes a place for this window's autosave; without places nothing is kept.
    pub fn begin(places: Option<&Places>) -> (Self, Option<Told>) {
        let mut begun = Self { folder: places.map(|places| places.autosaves.clone()), ..Self::default() };
        let failed = begun.take_place().err().map(|error| begun.failed(&error, 0.0));
        (begun, failed.flatten())
    }

    /// Takes a place where none is held yet.
    fn take_place(&mut self) -> anyhow::Result<()> {
        if let (Some(folder), None) = (&self.folder, &self.autosave) {
            let id = window_id(std::process::id(), SystemTime::now());
            self.autosave = Some(Autosave::begin(folder, &id)?);
        }
        Ok(())
    }

    /// Writes or removes the autosave as the work asks.
    pub fn tend(&mut self, work: &AtStake<'_>, now: f64, ctx: &egui::Context) -> Option<Told> {
        self.folder.as_ref()?;
        if work.is_nothing() {
            return self.nothing_to_keep(now);
        }
        let stamp = work.stamp();
        if self.kept.as_ref() == Some(&stamp) {
            self.waiting_since = None;
            return None;
        }
        let seen_at = self.see(&stamp, now);
        let since = *self.waiting_since.get_or_insert(now);
        let due = (seen_at + QUIET).min(since + LONGEST).max(self.not_before);
        if now < due {
            ctx.request_repaint_after(Duration::from_secs_f64(due - now));
            return None;
        }
        match self.write(work) {
            Ok(()) => {
                self.kept = Some(stamp);
                self.waiting_since = None;
                self.failure.take().map(|_told| Told::WorksAgain)
            }
            Err(error) => {
                ctx.request_repaint_after(Duration::from_secs_f64(TRY_AGAIN));
                self.failed(&error, now)
            }
        }
    }

    /// When the work came to be as it is.
    fn see(&mut self, stamp: &Stamp, now: f64) -> f64 {
        match &self.seen {
            Some((seen, at)) if seen == stamp => *at,
            _ => {
                self.seen = Some((stamp.clone(), now));
                now
            }
        }
    }

    fn write(&mut self, work: &AtStake<'_>) -> anyhow::Result<()> {
        self.take_place()?;
        if let Some(autosave) = &mut self.autosave {
            autosave.write(&work.work())?;
        }
        self.adopted.take().map_or(Ok(()), Recovered::discard)
    }

    /// The same failure is told once.
    fn failed(&mut self, error: &anyhow::Error, now: f64) -> Option<Told> {
        self.not_before = now + TRY_AGAIN;
        let text = format!("The autosave does not work, so save often. {error:#}");
        (self.failure.as_ref() != Some(&text)).then(|| {
            self.failure = Some(text.clone());
            Told::Failed(text)
        })
    }

    /// An autosave of work that was undone again would only bring it back.
    fn nothing_to_keep(&mut self, now: f64) -> Option<Told> {
        self.seen = None;
        self.waiting_since = None;
        self.kept.take()?;
        let removed = self.autosave.as_ref().map_or(Ok(()), Autosave::discard);
        removed.err().and_then(|error| self.failed(&error, now))
    }

    /// Holds a recovered autosave until its work is autosaved here.
    pub fn adopt(&mut self, recovered: Recovered) {
        self.adopted = Some(recovered);
    }

    /// The work is on the disk, or gone on purpose: nothing is left to recover.
    pub fn forget(&mut self, now: f64) -> Option<Told> {
        self.seen = None;
        self.kept = None;
        self.waiting_since = None;
        let own = self.autosave.as_ref().map(Autosave::discard);
        let adopted = self.adopted.take().map(Recovered::discard);
        let removed = own.into_iter().chain(adopted).find_map(Result::err);
        removed.and_then(|error| self.failed(&error, now))
    }

    /// The window ends: what is still at stake is written once more and left for recovery.
    pub fn end(&mut self, at_stake: Option<&AtStake<'_>>) {
        if let Some(work) = at_stake {
            if self.kept != Some(work.stamp()) {
                // Nobody is there to read a message; the autosave before this one stays where it cannot be written.
                drop(self.write(work));
            }
            return;
        }
        // A file that cannot be removed is offered at the next start.
        drop(self.autosave.take().map(Autosave::finish));
        drop(self.adopted.take().map(Recovered::discard));
    }
}
