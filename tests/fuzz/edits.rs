//! Random edits, one after the other, with undo, redo, saving and opening again.
//!
//! An input is a text of steps, one a line, so that a finding can be read, cut short and kept:
//! `begin 1` says which job, `edit 77` makes the edit of that number, `far 77` one with far numbers, `together 77` several as one, `undo`, `redo`, `all back`, `save`, `reopen`.

use std::sync::LazyLock;

use fastrand::Rng;
use tapcross::edit::Edit;
use tapcross::files::job_file;
use tapcross::history::{History, MOST_STEPS};
use tapcross::model::facts::job::Job;

use crate::arbitrary_edits::{Wild, beginnings, seeded};
use crate::campaign::{Verdict, shape_of};
use crate::readers::job_holds;
use crate::{require, sentences};

/// Most steps that are put on at once.
const MOST_AT_ONCE: usize = 30;
/// Most edits that a finding names.
const MOST_NAMED: usize = 4;
/// Longest input in steps.
const MOST_LINES: usize = 150;

static JOBS: LazyLock<Vec<(String, Job)>> = LazyLock::new(beginnings);

/// A new input: fresh steps, mostly behind the beginning of one that is there.
pub(crate) fn steps(rng: &mut Rng, parents: &[Vec<u8>]) -> Vec<u8> {
    let mut lines = vec![format!("begin {}", rng.usize(..JOBS.len()))];
    if rng.u8(..4) > 0 {
        let parent = String::from_utf8_lossy(&parents[rng.usize(..parents.len())]).into_owned();
        lines = parent.lines().map(str::to_owned).collect();
        lines.truncate(rng.usize(1..=lines.len().clamp(1, MOST_LINES)));
    }
    for _ in 0..=rng.usize(..MOST_AT_ONCE) {
        lines.push(match rng.u8(..24) {
            0..3 => "undo".to_owned(),
            3..5 => "redo".to_owned(),
            5 => "all back".to_owned(),
            6 => "save".to_owned(),
            7 => "reopen".to_owned(),
            8 => format!("together {}", rng.u64(..)),
            9..12 => format!("far {}", rng.u64(..)),
            _ => format!("edit {}", rng.u64(..)),
        });
    }
    lines.join("\n").into_bytes()
}

/// A job under way.
struct Work {
    history: History,
    /// The job as it was opened, and the steps that may lie between.
    opened: Job,
    steps: usize,
    shape: String,
    /// The edits that were taken, in their order.
    taken: Vec<String>,
}

/// Does every step; what must hold is looked at after each.
pub(crate) fn done(input: &[u8]) -> Verdict {
    let text = String::from_utf8_lossy(input);
    let mut work = Work::on(Job::default());
    for line in text.lines() {
        let (word, number) = line.trim().split_once(' ').unwrap_or((line.trim(), ""));
        let number: u64 = number.parse().unwrap_or_default();
        match word {
            "begin" => work = Work::on(beginning(number)),
            "edit" => work.edit(number, false)?,
            "far" => work.edit(number, true)?,
            "together" => work.together(number)?,
            "undo" => work.undo()?,
            "redo" => drop(work.history.redo()),
            "all" => work.all_back()?,
            "save" => work.save()?,
            "reopen" => work.reopen()?,
            _ => {}
        }
    }
    let answered =
        job_holds(work.history.job()).map_err(|fault| format!("{fault}\n    after {}", work.last_taken()))?;
    Ok(format!("{}{answered}", work.shape))
}

fn beginning(number: u64) -> Job {
    let count = JOBS.len() as u64;
    JOBS.get(usize::try_from(number % count).unwrap_or_default()).map(|(_, job)| job.clone()).unwrap_or_default()
}

impl Work {
    fn on(job: Job) -> Self {
        Self { opened: job.clone(), history: History::of_saved(job), steps: 0, shape: String::new(), taken: Vec::new() }
    }

    fn edit(&mut self, number: u64, far: bool) -> Result<(), String> {
        let before = self.history.job().clone();
        let edit = Wild { far, ..Wild::new(&mut seeded(number)) }.edit(&before);
        let said = format!("{edit:?}");
        let outcome = self.history.apply(edit);
        self.settle(&before, &said, outcome.map_err(|refused| refused.to_string()))
    }

    fn together(&mut self, number: u64) -> Result<(), String> {
        let before = self.history.job().clone();
        let mut numbers = seeded(number);
        let edits: Vec<Edit> = (0..3).map(|_| Wild::new(&mut numbers).edit(&before)).collect();
        let said = format!("{edits:?}");
        let outcome = self.history.apply_together(edits);
        self.settle(&before, &said, outcome.map_err(|refused| refused.to_string()))
    }

    /// The last edits that were taken, the last one first.
    fn last_taken(&self) -> String {
        let last: Vec<&str> = self.taken.iter().rev().take(MOST_NAMED).map(String::as_str).collect();
        last.join("\n    after ")
    }

    /// What is taken is a job that a file holds; what is refused is refused in a sentence and changes nothing.
    fn settle(&mut self, before: &Job, said: &str, outcome: Result<(), String>) -> Result<(), String> {
        let brief: String = said.chars().take(150).collect();
        if let Err(sentence) = outcome {
            sentences::check(&sentence, said)?;
            return require(self.history.job() == before, || format!("{brief} is refused and changes the job"));
        }
        self.steps += 1;
        self.taken.push(brief.clone());
        self.shape.extend(said.chars().take_while(|letter| letter.is_alphanumeric()));
        job_file::check(self.history.job())
            .map_err(|refused| format!("{} is taken, and no file holds the job: {refused}", shape_of(&brief)))
    }

    /// One step back and forward again is the same job; then one step back.
    fn undo(&mut self) -> Result<(), String> {
        let before = self.history.job().clone();
        if self.history.undo().is_none() {
            return Ok(());
        }
        require(self.history.redo().is_some(), || "what was undone cannot be done again".to_owned())?;
        require(*self.history.job() == before, || "undo and redo give another job".to_owned())?;
        self.history.undo();
        Ok(())
    }

    /// Every step back is the job as it was opened, and every step forward the job as it stood, whichever readings are shown.
    fn all_back(&mut self) -> Result<(), String> {
        while self.history.redo().is_some() {}
        let last = self.history.job().clone();
        while self.history.undo().is_some() {}
        if self.steps < MOST_STEPS {
            require(self.history.job().is_but_for_the_look(&self.opened), || {
                "every step back is not the job as it was opened".to_owned()
            })?;
        }
        while self.history.redo().is_some() {}
        require(self.history.job().is_but_for_the_look(&last), || {
            "every step forward is not the job as it stood".to_owned()
        })
    }

    fn save(&mut self) -> Result<(), String> {
        job_holds(self.history.job())?;
        self.history.mark_saved();
        require(!self.history.is_changed(), || "a job that was just saved counts as changed".to_owned())
    }

    fn reopen(&mut self) -> Result<(), String> {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("job.ron");
        job_file::save(&path, self.history.job()).map_err(|refused| format!("{refused:#}"))?;
        let read = job_file::read(&path).map_err(|refused| format!("{refused:#}"))?;
        require(read == *self.history.job(), || "a job comes back different from its file".to_owned())?;
        let (shape, taken) = (std::mem::take(&mut self.shape), std::mem::take(&mut self.taken));
        *self = Self { shape, taken, ..Self::on(read) };
        Ok(())
    }
}
