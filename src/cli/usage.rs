//! How the command line is used, and why one was not understood.

use std::fmt;
use std::path::PathBuf;

use super::tables;
use crate::report::form::{Paper, Table, endings, scales};

/// What `--help` prints.
pub const HELP: &str = "\
Tapcross shows how much air a duct system moves, from two static pressures and the blower's table.

  tapcross                                  open the window on the demo job
  tapcross JOB.ron                          open the window on a job
  tapcross report JOB.ron... [--out FILE]   write results, without a window
  tapcross sheet [JOB.ron...] [--out FILE]  write a blank field sheet (PDF) to fill in by hand:
                                            for the job's machine, or for any

  tapcross tables FILE... --out OUT         blower tables from sheets of spreadsheets (.csv, .tsv)
                                            and into them, whole or not at all

  -o, --out FILE   where they go; standard output when left out, or when FILE is -;
                   a plain file is replaced, a pipe or device is written into
      FILE.pdf     a report for people, on one or two pages, with the company of the settings
      FILE.json    every result, for other programs; also without an ending, and for
                   standard output
      FILE.csv     a table for spreadsheets; its heading says the units
      FILE.svg     the chart of one job, as a drawing that can be enlarged
      FILE.png     the same as a picture
  --table NAME     for .csv: taps, every tap as found and with changes (when left out),
                   or curves, the curves of taps and path point by point, or options, side by side
  --paper NAME     for .pdf: letter or a4; the one of the settings when left out
  --scale NUMBER   for .png: pixels a point (1/72 in.), 0.5 to 10; 2 when left out
  For tables, --out is a name that ends in .csv or .tsv (every table, a row a reading) or in .ron
  (all of one table), or a folder that is there (a .ron for each). What a sheet does not say:
  --kind NAME      furnace, draw-through or blow-through (air handlers), or no-return-duct
  --airflow UNIT   cfm, l/s or m3/h, where the sheet names none
  --static UNIT    in, pa, kpa or mm (of water), likewise
  --name NAME      the machine's model, where the sheet has no name of it
  --replace        writes over files that are there
  -h, --help       this text
  -V, --version    the version
  --               what follows is a file, even if it begins with -

One job gives one JSON object, several give an array of them, one table, or one PDF.
A field sheet takes --out FILE.pdf and --paper alone; without them it is as for a report.
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
    /// `--out` without `report` or `sheet`.
    OutWithoutReport,
    /// `--out` with a job file, by whichever name, or the name of one.
    OutIsAJob(PathBuf),
    /// An option of a report without `report`.
    WithoutReport(&'static str),
    /// An option more than once.
    Twice(String),
    /// A value that an option does not take.
    NoSuchValue(String, String),
    /// An option of another kind of file than is written.
    Idle {
        /// The option.
        option: &'static str,
        /// The ending that it belongs to.
        of: &'static str,
    },
    /// A name that ends as no report does.
    NoSuchForm(PathBuf),
    /// A field sheet by a name that no PDF has.
    SheetIsPdf(PathBuf),
    /// Several jobs for a drawing that holds one.
    SeveralForOneDrawing(&'static str, usize),
    /// `report` without a job.
    NoJob,
    /// `-` as a job.
    JobFromStandardInput,
    /// `tables` without a file or without a place for it.
    TablesNeedBoth,
    /// An option of tables without `tables`.
    OfTables(&'static str),
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
            Self::WithoutReport(option) => {
                write!(f, "{option} belongs to a report: tapcross report JOB.ron --out FILE {option} ...")
            }
            Self::Twice(option) => write!(f, "{option} is given twice; it takes one value"),
            Self::NoSuchValue(option, value) => {
                let value = if value.is_empty() { "nothing" } else { value };
                write!(f, "{option} is given {value}; it takes {}", takes(option))
            }
            Self::Idle { option, of } => {
                write!(f, "{option} says nothing of this file; it belongs to one that ends in .{of}")
            }
            Self::NoSuchForm(file) => {
                write!(
                    f,
                    "--out {} has an ending that no report has; a report ends in one of {}",
                    file.display(),
                    endings()
                )
            }
            Self::SheetIsPdf(file) => {
                write!(f, "--out {} is no name of a field sheet, which is a PDF; name a .pdf file", file.display())
            }
            Self::SeveralForOneDrawing(ending, jobs) => {
                write!(f, "a .{ending} holds the chart of one job, and {jobs} are named; name one")
            }
            Self::NoJob => f.write_str("report needs a job: tapcross report JOB.ron --out FILE.json"),
            Self::JobFromStandardInput => {
                f.write_str("jobs and tables are read from files, not from standard input (-)")
            }
            Self::TablesNeedBoth => {
                f.write_str("tables needs a file and a place: tapcross tables FILE.csv --kind NAME --out FILE.ron")
            }
            Self::OfTables(option) => {
                write!(f, "{option} belongs to tables: tapcross tables FILE.csv --out FILE.ron {option} ...")
            }
            Self::SeveralForTheWindow(jobs) => {
                write!(f, "the window opens one job, and {jobs} are named; for several use tapcross report")
            }
        }
    }
}

/// What an option takes, in words.
fn takes(option: &str) -> String {
    match option {
        "--scale" => format!("a number from {}", scales()),
        "--table" => Table::ALL.map(Table::name).join(" or "),
        option if tables::OPTIONS.contains(&option) => tables::takes(option),
        _ => Paper::ALL.map(Paper::name).join(" or "),
    }
}

impl std::error::Error for UsageError {}
