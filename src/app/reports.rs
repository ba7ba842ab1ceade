//! Results written to files, as JSON, tables or drawings, off the drawing thread: one report after another, each of the job as it stood when it was asked for.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use eframe::egui::Context;

use crate::files::atomic_write::write_atomically;
use crate::files::out_file;
use crate::model::facts::job::Job;
use crate::paper::printed::{self, Reported, Shown};
use crate::report::form::Form;
use crate::ui::view::search::Look;
use crate::worker::{Heard, Worker};

/// What is written.
#[derive(Debug)]
pub struct Asked {
    /// Where to.
    pub path: PathBuf,
    /// As what.
    pub form: Form,
    /// What the job is called by.
    pub file: String,
    /// The job.
    pub job: Job,
    /// Units and the part of the chart that is seen.
    pub shown: Shown,
}

/// What became of a report.
#[derive(Debug)]
pub struct Written {
    /// Where to.
    pub path: PathBuf,
    /// As what.
    pub form: Form,
    /// Why it is not there, one sentence with the path.
    pub failure: Option<String>,
}

/// The reports that are being written.
pub struct Reports {
    look: Look,
    worker: Option<Worker<Asked, Option<String>>>,
    /// Those that are not written yet, in the order in which they were asked for.
    open: Vec<(PathBuf, Form)>,
}

impl Reports {
    /// Nothing to write yet; `look` is what searches the cheapest sets for them.
    pub const fn new(look: Look) -> Self {
        Self { look, worker: None, open: Vec::new() }
    }

    /// Begins to write; the window is drawn again once it is done.
    ///
    /// # Errors
    /// One sentence when the system gives no thread.
    pub fn write(&mut self, asked: Asked, ctx: &Context) -> Result<(), String> {
        let worker = match self.worker.take() {
            Some(worker) => worker,
            None => begin(Arc::clone(&self.look), ctx.clone()).map_err(|error| {
                format!("Not written, for the system gives no thread ({error}): {}", asked.path.display())
            })?,
        };
        self.open.push((asked.path.clone(), asked.form));
        worker.order(asked);
        self.worker = Some(worker);
        Ok(())
    }

    /// The report that is written next.
    pub fn next(&self) -> Option<&Path> {
        self.open.first().map(|(path, _)| path.as_path())
    }

    /// True while a report to this file, by whatever name, is not written yet.
    pub fn is_writing_to(&self, path: &Path) -> bool {
        let is_this = |open: &Path| open == path || out_file::behind_links(open) == out_file::behind_links(path);
        self.open.iter().any(|(open, _)| is_this(open) || out_file::is_same(open, path))
    }

    /// The oldest that was written, or could not be, since the last look.
    pub fn poll(&mut self) -> Option<Written> {
        let (path, form) = self.open.first()?.clone();
        let failure = match self.worker.as_ref().map_or(Heard::Ended, Worker::poll) {
            Heard::NothingYet => return None,
            Heard::Told(failure) => failure,
            Heard::Ended => {
                self.worker = None;
                Some(format!("Not written, which is a fault of the program: {}", path.display()))
            }
        };
        self.open.remove(0);
        Some(Written { path, form, failure })
    }

    /// Waits until all of them are written.
    pub fn finish(&mut self) {
        if let Some(worker) = self.worker.take() {
            worker.finish();
        }
    }
}

fn begin(look: Look, ctx: Context) -> std::io::Result<Worker<Asked, Option<String>>> {
    Worker::begin(
        "results",
        move || ctx.request_repaint(),
        move |asked: Asked, teller| {
            teller.tell(written(&asked, &look).err().map(|error| format!("{error:#}")));
        },
    )
}

fn written(Asked { path, form, file, job, shown }: &Asked, look: &Look) -> anyhow::Result<()> {
    let search = |job: &Job| look(job, &AtomicBool::new(false), &mut |_| {});
    let reported = [Reported::of(file, job.clone())];
    let bytes = printed::bytes(*form, &reported, printed::Asked::One, shown, &search).map_err(anyhow::Error::msg)?;
    write_atomically(path, &bytes)
}
