//! The search for the cheapest set of changes, off the drawing thread.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use eframe::egui::Context;

use crate::model::facts::change::Switch;
use crate::model::facts::job::Job;
use crate::model::search::SearchResult;
use crate::worker::{Heard, Teller, Worker};

/// What searches: the job, a stop to heed and an ear for the share that is done, 0 to 1.
pub type Look = Arc<dyn Fn(&Job, &AtomicBool, &mut dyn FnMut(f32)) -> SearchResult + Send + Sync>;

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

#[derive(Debug)]
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
    worker: Worker<Job, Told>,
}

impl Search {
    /// Begins a search on a copy of the job at this revision; the window is drawn again whenever there is news.
    ///
    /// # Errors
    /// A sentence when the system gives no thread.
    pub fn begin(job: &Job, revision: u64, look: Look, ctx: &Context) -> Result<Self, String> {
        let stop = Arc::new(AtomicBool::new(false));
        let job = all_on(job);
        let (heeded, ctx) = (Arc::clone(&stop), ctx.clone());
        let search = move |job: Job, teller: &Teller<Told>| {
            let result = look(&job, &heeded, &mut |share| teller.tell(Told::Share(share)));
            teller.tell(Told::Done(Box::new(result)));
        };
        let worker = Worker::begin("search", move || ctx.request_repaint(), search)
            .map_err(|error| format!("The search could not be begun: {error}"))?;
        worker.order(job.clone());
        Ok(Self { job, revision, standing: Standing::OfThisJob, stage: Stage::Looking(0.0), stop, worker })
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
            self.stage = match self.worker.poll() {
                Heard::Told(Told::Share(share)) => Stage::Looking(share),
                Heard::Told(Told::Done(result)) => Stage::Done(result),
                Heard::Ended => Stage::Lost,
                Heard::NothingYet => break,
            };
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

/// The job as a search sees it: switches do not count.
fn all_on(job: &Job) -> Job {
    let mut job = job.clone();
    job.changes.iter_mut().for_each(|change| change.switch = Switch::On);
    job
}
