//! A folder with jobs in it, and the real program run there.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;
use tapcross::files::job_file;
use tapcross::model::facts::job::Job;

/// A folder with jobs in it, and the program run there.
pub(crate) struct Shop(tempfile::TempDir);

impl Shop {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn with(self, name: &str, job: &Job) -> Self {
        job_file::save(&self.path(name), job).unwrap();
        self
    }

    pub(crate) fn with_text(self, name: &str, text: &str) -> Self {
        fs::write(self.path(name), text).unwrap();
        self
    }

    pub(crate) fn run(&self, words: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_tapcross"))
            .args(words)
            .current_dir(self.0.path())
            .env("TAPCROSS_DATA", self.path("data"))
            .output()
            .unwrap()
    }

    /// The report of one job, which must succeed without a word.
    pub(crate) fn report(&self, name: &str) -> Value {
        let output = self.run(&["report", name]);
        assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""), "{name}");
        printed(&output)
    }
}

pub(crate) fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

pub(crate) fn printed(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

pub(crate) fn report_of(job: &Job) -> Value {
    Shop::new().with("job.ron", job).report("job.ron")
}
