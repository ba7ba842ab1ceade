//! The search for the cheapest set of changes, off the drawing thread.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread;

use eframe::egui::Context;

use crate::model::facts::change::Switch;
use crate::model::facts::job::Job;
use crate::model::search::SearchResult;

/// What searches: the job, a stop to heed and an ear for the share that is done, 0 to 1.
pub type Look = fn(&Job, &AtomicBool, &mut dyn FnMut(f32)) -> SearchResult;

/// Where a search stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    /// It looks; the share of the sets that it has looked at, 0 to 1.
    Looking(f32),
    /// It has ended.
    Done(Box<SearchResult>),
    /// It ended without a word, which is a fault of the program.
    Lost,
}

/// Whether a search belongs to the job as it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It does, but for switches, which the search does not heed.
    OfThisJob,
    /// The job has been edited since.
    OfEarlierJob,
}

enum Told {
    Share(f32),
    Done(Box<SearchResult>),
}

/// A search and what it brought; dropping it stops it.
#[derive(Debug)]
pub struct Search {
    job: Job,
    revision: u64,
    standing: Standing,
    stage: Stage,
    stop: Arc<AtomicBool>,
    told: Receiver<Told>,
}

impl Search {
    /// Begins a search on a copy of the job at this revision; the window is drawn again whenever there is news.
    ///
    /// # Errors
    /// A sentence when the system gives no thread.
    pub fn begin(job: &Job, revision: u64, look: Look, ctx: &Context) -> Result<Self, String> {
        let (teller, told) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let job = all_on(job);
        let (copy, heeded, ctx) = (job.clone(), Arc::clone(&stop), ctx.clone());
        thread::Builder::new()
            .name("search".to_owned())
            .spawn(move || tell(&copy, look, &heeded, &teller, &ctx))
            .map_err(|error| format!("The search could not be begun: {error}"))?;
        Ok(Self { job, revision, standing: Standing::OfThisJob, stage: Stage::Looking(0.0), stop, told })
    }

    /// The job that was searched, with every change on.
    pub const fn job(&self) -> &Job {
        &self.job
    }

    /// Whether it belongs to the job as it stands.
    pub const fn standing(&self) -> Standing {
        self.standing
    }

    /// Where it stands.
    pub const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// Ends it soon; what it says then is that it was stopped.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Takes in the news, and sees whether the job has been edited.
    pub fn tend(&mut self, job: &Job, revision: u64) {
        while matches!(self.stage, Stage::Looking(_)) {
            match self.told.try_recv() {
                Ok(Told::Share(share)) => self.stage = Stage::Looking(share),
                Ok(Told::Done(result)) => self.stage = Stage::Done(result),
                Err(TryRecvError::Disconnected) => self.stage = Stage::Lost,
                Err(TryRecvError::Empty) => break,
            }
        }
        if self.revision != revision {
            self.revision = revision;
            let is_same = all_on(job) == self.job;
            self.standing = if is_same { Standing::OfThisJob } else { Standing::OfEarlierJob };
        }
    }
}

impl Drop for Search {
    fn drop(&mut self) {
        self.stop();
    }
}

/// Searches and tells; nobody may be listening any more, which is no fault.
fn tell(job: &Job, look: Look, stop: &AtomicBool, teller: &Sender<Told>, ctx: &Context) {
    let result = look(job, stop, &mut |share| {
        if teller.send(Told::Share(share)).is_ok() {
            ctx.request_repaint();
        }
    });
    if teller.send(Told::Done(Box::new(result))).is_ok() {
        ctx.request_repaint();
    }
}

/// The job as a search sees it: switches do not count.
fn all_on(job: &Job) -> Job {
    let mut job = job.clone();
    job.changes.iter_mut().for_each(|change| change.switch = Switch::On);
    job
}
