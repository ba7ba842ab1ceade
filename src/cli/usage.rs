//! How the command line is used, and why one was not understood.

use std::fmt;
use std::path::PathBuf;

/// What `--help` prints.
pub const HELP: &str = "\
Tapcross shows how much air a duct system moves, from two static pressures and the blower's table.

  tapcross                                  open the window on the demo job
  tapcross JOB.ron                          open the window on a job
  tapcross report JOB.ron... [--out FILE]   write every result as JSON, without a window

  -o, --out FILE   where the report goes; standard output when left out, or when FILE is -;
                   a plain file is replaced, a pipe or device is written into
  -h, --help       this text
  -V, --version    the version
  --               what follows is a file, even if it begins with -

One job gives one JSON object, several give an array of them.
Exit status: 0 when every job was reported, 1 when a job could not be read or the report not
written (the other jobs are still reported), 2 when the command line was not understood.
";

/// Why a command line was not understood; one line each.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UsageError {
    /// No such option.
    UnknownOption(String),
    /// An option that takes no value was given one.
    NoValueWanted(String),
    /// `--out` with nothing behind it.
    OutWithoutFile,
    /// `--out` more than once.
    OutTwice,
    /// `--out` without `report`.
    OutWithoutReport,
    /// `--out` with a job file, by whichever name, or the name of one.
    OutIsAJob(PathBuf),
    /// `report` without a job.
    NoJob,
    /// `-` as a job.
    JobFromStandardInput,
    /// More than one job for the window.
    SeveralForTheWindow(usize),
}

impl fmt::Display for UsageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownOption(option) => {
                write!(f, "unknown option {option}; see tapcross --help")
            }
            Self::NoValueWanted(option) => {
                write!(f, "{option} takes no value; see tapcross --help")
            }
            Self::OutWithoutFile => f.write_str("--out needs a file, or - for standard output"),
            Self::OutTwice => f.write_str("--out is given twice; all jobs go into one report"),
            Self::OutWithoutReport => f.write_str("--out belongs to a report: tapcross report JOB.ron --out FILE.json"),
            Self::OutIsAJob(path) => write!(
                f,
                "--out {} is a job or has a job file's name, and the report would take its place; name a .json file",
                path.display()
            ),
            Self::NoJob => f.write_str("report needs a job: tapcross report JOB.ron --out FILE.json"),
            Self::JobFromStandardInput => f.write_str("a job is read from a file, not from standard input (-)"),
            Self::SeveralForTheWindow(jobs) => {
                write!(f, "the window opens one job, and {jobs} are named; for several use tapcross report")
            }
        }
    }
}

impl std::error::Error for UsageError {}
