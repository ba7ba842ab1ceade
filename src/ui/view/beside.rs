//! Another job on the chart, beside the one in the window: as it was read, to compare the two.

use std::path::Path;

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::verdicts::system::Running;
use crate::model::wording::{tap_word, visit};
use crate::units::UnitSystem;
use crate::units::show::{airflow, pressure};

/// A job that is only looked at.
#[derive(Clone, Debug)]
pub struct Beside {
    name: String,
    job: Job,
    answer: Answer,
}

impl Beside {
    /// A job from a file with what follows from it, by its title, or where it has none by the file's name.
    ///
    /// # Errors
    /// A sentence, where its readings lead to no point.
    pub fn of(job: Job, answer: Answer, file: &Path) -> Result<Self, String> {
        let stem = || file.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let name = if job.title.is_empty() { stem() } else { job.title.clone() };
        if answer.point().is_none() {
            return Err(format!("{name} has no point to show on the chart: open it to see what is missing"));
        }
        Ok(Self { name, job, answer })
    }

    /// The job.
    pub const fn job(&self) -> &Job {
        &self.job
    }

    /// What follows from it.
    pub const fn answer(&self) -> &Answer {
        &self.answer
    }

    /// Where it runs as it was read.
    pub fn point(&self) -> Option<&Running> {
        self.answer.point()
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// "Another job, Elm Court as found: 1,190 cfm at 0.66 in. w.c. on tap 4".
    pub fn spoken(&self, units: UnitSystem) -> Option<String> {
        let running = self.point()?;
        Some(format!(
            "Another job, {} {}: {} at {} on {} {}",
            self.name,
            visit::as_found(&self.job),
            airflow(running.now.airflow, units),
            pressure(running.now.tesp, units),
            tap_word(&self.job),
            running.system.tap()?
        ))
    }
}
