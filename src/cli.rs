//! The command line: what was asked for, and the report without a window.
//!
//! Four options need no argument parser of their own crate.
//!
//! Exit status, as command-line tools have it: 0 when every job was reported (also one whose readings give no operating point yet), 1 when a job could not be read or the report not written, 2 when the command line was not understood.
//! Every error is one line on standard error that begins with `tapcross: `.

mod usage;

use std::ffi::OsString;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::files::atomic_write::write_atomically;
use crate::files::out_file::{self, OutFile};
use crate::files::{job_file, plain_file};
use crate::model::answer::Answer;
use crate::model::search;
use crate::report::json::{self, Report};

pub use usage::{HELP, UsageError};

/// Where a report goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Output {
    /// Standard output.
    Standard,
    /// A file, written whole or not at all, or a pipe or device, written into.
    File(PathBuf),
}

/// What was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Invocation {
    /// The window, on a job where one is named.
    Window {
        /// The job file.
        job: Option<PathBuf>,
    },
    /// Results as JSON, without a window.
    Report {
        /// The job files, at least one.
        jobs: Vec<PathBuf>,
        /// Where the JSON goes.
        output: Output,
    },
    /// The help text.
    Help,
    /// The version.
    Version,
}

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Everything that was asked for is done.
    Done,
    /// A job could not be read, or the report not written.
    Failed,
    /// The command line was not understood.
    Usage,
}

impl Status {
    /// The exit status: 0, 1 or 2.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Failed => 1,
            Self::Usage => 2,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status.code())
    }
}

/// Does what the words behind the program's name ask for; `open_window` runs the window until it is closed.
///
/// A window that cannot be opened is told as every other error is.
pub fn run(
    words: impl IntoIterator<Item = OsString>,
    open_window: impl FnOnce(Option<PathBuf>) -> Result<(), String>,
) -> ExitCode {
    let status = match parse(words) {
        Ok(Invocation::Window { job }) => done_or_told(open_window(job)),
        Ok(Invocation::Report { jobs, output }) => report(&jobs, &output),
        Ok(Invocation::Help) => print(HELP),
        Ok(Invocation::Version) => print(concat!("tapcross ", env!("CARGO_PKG_VERSION"), "\n")),
        Err(misunderstood) => {
            complain(&mut io::stderr().lock(), &misunderstood.to_string());
            Status::Usage
        }
    };
    status.into()
}

/// Understands the words behind the program's name.
///
/// # Errors
/// See [`UsageError`].
pub fn parse(words: impl IntoIterator<Item = OsString>) -> Result<Invocation, UsageError> {
    let asked = Asked::of(words)?;
    if asked.help {
        return Ok(Invocation::Help);
    }
    if asked.version {
        return Ok(Invocation::Version);
    }
    if asked.files.iter().any(|file| file.as_os_str() == "-") {
        return Err(UsageError::JobFromStandardInput);
    }
    if asked.report { report_of(asked) } else { window_of(asked) }
}

/// The words as they stand, before they are held against each other.
#[derive(Default)]
struct Asked {
    help: bool,
    version: bool,
    report: bool,
    out: Option<OsString>,
    files: Vec<PathBuf>,
}

impl Asked {
    fn of(words: impl IntoIterator<Item = OsString>) -> Result<Self, UsageError> {
        let mut asked = Self::default();
        let mut words = words.into_iter();
        while let Some(word) = words.next() {
            match word.to_str() {
                Some("--") => asked.files.extend(words.by_ref().map(PathBuf::from)),
                Some("-h" | "--help") => asked.help = true,
                Some("-V" | "--version") => asked.version = true,
                Some("-o" | "--out") => asked.goes_to(words.next())?,
                Some("report") if !asked.report && asked.files.is_empty() => asked.report = true,
                Some("-") => asked.files.push(word.into()),
                _ if word.as_encoded_bytes().starts_with(b"-") => asked.option(&word)?,
                _ => asked.files.push(word.into()),
            }
        }
        Ok(asked)
    }

    /// `--out=FILE`, or an option that is none.
    fn option(&mut self, word: &OsString) -> Result<(), UsageError> {
        let shown = word.to_string_lossy();
        match shown.split_once('=') {
            Some(("--out", _)) => self.goes_to(behind_out(word)),
            Some((option @ ("--help" | "--version"), _)) => Err(UsageError::NoValueWanted(option.to_owned())),
            _ => Err(UsageError::UnknownOption(shown.into_owned())),
        }
    }

    fn goes_to(&mut self, file: Option<OsString>) -> Result<(), UsageError> {
        let file = file.filter(|file| !file.is_empty()).ok_or(UsageError::OutWithoutFile)?;
        if self.out.replace(file).is_some() {
            return Err(UsageError::OutTwice);
        }
        Ok(())
    }
}

/// The value of `--out=FILE`; a name that is not text has to stand as a word of its own.
fn behind_out(word: &OsString) -> Option<OsString> {
    word.to_str()?.strip_prefix("--out=").map(OsString::from)
}

fn window_of(asked: Asked) -> Result<Invocation, UsageError> {
    if asked.out.is_some() {
        return Err(UsageError::OutWithoutReport);
    }
    if asked.files.len() > 1 {
        return Err(UsageError::SeveralForTheWindow(asked.files.len()));
    }
    Ok(Invocation::Window { job: asked.files.into_iter().next() })
}

fn report_of(asked: Asked) -> Result<Invocation, UsageError> {
    if asked.files.is_empty() {
        return Err(UsageError::NoJob);
    }
    let output = match asked.out {
        Some(file) if file != "-" => Output::File(file.into()),
        _ => Output::Standard,
    };
    if let Output::File(file) = &output
        && would_replace_a_job(file, &asked.files)
    {
        return Err(UsageError::OutIsAJob(file.clone()));
    }
    Ok(Invocation::Report { jobs: asked.files, output })
}

/// True for one of the jobs themselves by any of its names, and for any name that ends as a job's does, which is what `--out *.ron` comes to.
fn would_replace_a_job(file: &Path, jobs: &[PathBuf]) -> bool {
    let ends_as_a_job = |file: &Path| file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron"));
    let whole = |path: &Path| std::path::absolute(path).ok();
    let is_file = |job: &PathBuf| out_file::is_same(job, file) || (whole(job).is_some() && whole(job) == whole(file));
    ends_as_a_job(file) || ends_as_a_job(&out_file::behind_links(file)) || jobs.iter().any(is_file)
}

/// Reports jobs and says on standard error what went wrong.
///
/// Jobs that cannot be read are left out of the report; when none can, nothing is written.
pub fn report(jobs: &[PathBuf], output: &Output) -> Status {
    report_to(jobs, output, &mut io::stdout().lock(), &mut io::stderr().lock())
}

fn report_to(jobs: &[PathBuf], output: &Output, out: &mut dyn Write, err: &mut dyn Write) -> Status {
    let mut reports = Vec::new();
    for path in jobs {
        match report_one(path) {
            Ok(report) => reports.push(report),
            Err(reason) => complain(err, &reason),
        }
    }
    if reports.is_empty() {
        return Status::Failed;
    }
    let every = reports.len() == jobs.len();
    match deliver(&reports, jobs.len(), output, out) {
        Err(reason) => {
            complain(err, &reason);
            Status::Failed
        }
        Ok(()) if every => Status::Done,
        Ok(()) => Status::Failed,
    }
}

fn report_one(path: &Path) -> Result<Report, String> {
    let job = job_file::read(path).map_err(|refused| path_first(path, &refused))?;
    Ok(Report::of(&path.to_string_lossy(), &job, &Answer::of(&job), search::to_the_end(&job)))
}

/// Writes the reports: an object for one job named, an array for several.
fn deliver(reports: &[Report], named: usize, output: &Output, out: &mut dyn Write) -> Result<(), String> {
    let text = match reports {
        [only] if named == 1 => json::one(only),
        _ => json::many(reports),
    };
    let text = text.map_err(|fault| format!("the report cannot be put into JSON ({fault})"))?;
    match output {
        Output::Standard => to_stream(out, &text),
        Output::File(path) => to_file(path, out, &text),
    }
}

/// Replaces a plain file, and writes into anything else.
fn to_file(path: &Path, out: &mut dyn Write, text: &str) -> Result<(), String> {
    let refused = |error: io::Error| format!("{}: it cannot be written ({})", path.display(), plain_file::said(&error));
    match OutFile::of(path) {
        OutFile::Plain => write_atomically(path, text.as_bytes()).map_err(|refused| path_first(path, &refused)),
        OutFile::StandardOutput => to_stream(out, text),
        OutFile::Stream => out_file::open(path).and_then(|mut stream| write_out(&mut stream, text)).map_err(refused),
    }
}

/// Prints to standard output.
fn to_stream(out: &mut dyn Write, text: &str) -> Result<(), String> {
    write_out(out, text).map_err(|error| format!("standard output cannot be written ({})", plain_file::said(&error)))
}

/// Writes to a stream; a reader that has seen enough and closed its end is no error.
fn write_out(out: &mut dyn Write, text: &str) -> io::Result<()> {
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

/// The sentences of the files end with the path; tools are expected to begin with it.
fn path_first(path: &Path, refused: &anyhow::Error) -> String {
    let path = path.display().to_string();
    let sentence = refused.to_string();
    let bare = sentence.strip_suffix(&path).map(|rest| rest.trim_end_matches([':', ' ']));
    format!("{path}: {}", bare.unwrap_or(&sentence))
}

/// One line on standard error; where that cannot be written either, the exit status says it.
fn complain(err: &mut dyn Write, reason: &str) {
    let line = reason.replace(['\n', '\r'], " ");
    writeln!(err, "tapcross: {line}").ok();
}

fn print(text: &str) -> Status {
    done_or_told(to_stream(&mut io::stdout().lock(), text))
}

fn done_or_told(result: Result<(), String>) -> Status {
    match result {
        Ok(()) => Status::Done,
        Err(reason) => {
            complain(&mut io::stderr().lock(), &reason);
            Status::Failed
        }
    }
}

#[cfg(test)]
mod tests;
