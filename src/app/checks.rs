//! ± of the job on the screen checked by draws, off the drawing thread: one job after another, each as it stood when the one before was done.

use std::sync::Arc;

use eframe::egui::Context;

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::worker::{Heard, Teller, Worker};

/// What checks: the answer to a job, with what draws say of it.
pub type Check = Arc<dyn Fn(&Job) -> Answer + Send + Sync>;

/// The checks of the jobs that stood on the screen.
pub struct Checks {
    /// Nothing where no job is checked.
    check: Option<Check>,
    worker: Option<Worker<Job, Box<Answer>>>,
    /// The revision that is being checked.
    open: Option<u64>,
    /// The revision that was checked last.
    done: Option<u64>,
}

impl Checks {
    /// Nothing to check yet.
    pub const fn new(check: Option<Check>) -> Self {
        Self { check, worker: None, open: None, done: None }
    }

    /// The checked answer to the job as it stands, once; begins to check it where that is due, and the window is drawn again once it is done.
    ///
    /// Until then, and where the system gives no thread or the check breaks down, the linear ± stands, which is as right as it was.
    pub fn tend(&mut self, job: &Job, revision: u64, ctx: &Context) -> Option<Answer> {
        let checked = self.heard().filter(|(of, _)| *of == revision);
        if self.open.is_none() && self.done != Some(revision) && checked.is_none() {
            self.begin(job, revision, ctx);
        }
        checked.map(|(_, answer)| *answer)
    }

    fn heard(&mut self) -> Option<(u64, Box<Answer>)> {
        let heard = self.worker.as_ref().map(Worker::poll)?;
        match heard {
            Heard::NothingYet => None,
            Heard::Told(answer) => {
                self.done = self.open.take();
                self.done.map(|revision| (revision, answer))
            }
            Heard::Ended => {
                (self.worker, self.check) = (None, None);
                self.done = self.open.take();
                None
            }
        }
    }

    fn begin(&mut self, job: &Job, revision: u64, ctx: &Context) {
        let Some(check) = self.check.clone() else {
            return;
        };
        if self.worker.is_none() {
            let ctx = ctx.clone();
            let checks = move |job: Job, teller: &Teller<Box<Answer>>| {
                teller.tell(Box::new(check(&job)));
            };
            self.worker = Worker::begin("checks", move || ctx.request_repaint(), checks).ok();
        }
        match &self.worker {
            Some(worker) => {
                worker.order(job.clone());
                self.open = Some(revision);
            }
            None => self.check = None,
        }
    }
}
