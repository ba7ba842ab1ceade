//! Why a job file is refused: one sentence each for the person whose file it is.

use std::fmt;
use std::path::PathBuf;

use super::{FORMAT, LARGEST};
use crate::files::head::JOB;
use crate::files::plain_file::MEGABYTE;
use crate::files::ron_words::{self, Fault};
use crate::model::facts::drop_data::DropDataError;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::told::told;
use crate::units::UnitSystem;

/// Why a job file is refused.
#[derive(Clone, Debug, PartialEq)]
pub enum JobFileError {
    /// Written in a format that this program does not know yet.
    Newer(String),
    /// The first field has no format number.
    NoFormat,
    /// It is a blower table.
    BlowerTable,
    /// It is a settings file.
    Settings,
    /// There is nothing in it.
    Empty,
    /// It does not begin as a job file does.
    NotAJob,
    /// The text is cut short or cannot be read.
    Text(Fault),
    /// What one place of the file gives does not fit together.
    At(String, Misfit),
    /// The job of the file is none that can be held.
    Contents(Refusal),
    /// The job's own copy of the blower table cannot be used; the sentence of the blower file.
    Machine(String),
    /// The table of another machine, by its number in the list, cannot be used; the sentence of the blower file.
    OtherMachine(usize, String),
    /// It would have so many bytes that it could not be opened again.
    TooLarge(u64),
    /// What would be written is not what would be read.
    Changed,
}

impl fmt::Display for JobFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(UnitSystem::InchPound))
    }
}

impl JobFileError {
    /// One sentence of a length that a screen has room for, in the units shown.
    pub fn said(&self, units: UnitSystem) -> String {
        ron_words::shortened(&self.sentence(units))
    }

    /// The sentence, however long the values in it are.
    fn sentence(&self, units: UnitSystem) -> String {
        match self {
            Self::Newer(format) => format!(
                "This job was written by a newer Tapcross (format {format}; this program reads up to {FORMAT}) and is left as it is"
            ),
            Self::NoFormat => {
                format!("The first field {JOB} has no format number; it should read {JOB}: {FORMAT}")
            }
            Self::BlowerTable => "This is a blower table, not a job; add it to the library instead".to_owned(),
            Self::Settings => "This is the program's settings file, not a job".to_owned(),
            Self::Empty => "The file is empty, so there is no job in it".to_owned(),
            Self::NotAJob => format!("This is not a Tapcross job; one begins with ({JOB}: {FORMAT}, …)"),
            Self::Text(fault) => fault.sentence("job"),
            Self::At(place, misfit) => format!("{place}: {}", misfit.sentence(units)),
            Self::Contents(refused) => refused.sentence(units),
            Self::Machine(sentence) => {
                format!("The job's own blower table cannot be used: {sentence}")
            }
            Self::OtherMachine(number, sentence) => {
                format!("Other machine {number} cannot be used: {sentence}")
            }
            Self::TooLarge(bytes) => {
                let (has, most) = (bytes.div_ceil(MEGABYTE), LARGEST / MEGABYTE);
                format!(
                    "The job is too large: {has} MB, of which a file holds at most {most}; its notes must be shorter"
                )
            }
            Self::Changed => {
                "The job comes back different from its own file, which is a fault of this program".to_owned()
            }
        }
    }
}

impl std::error::Error for JobFileError {}

told! {
    /// What does not fit together in one place of a file.
    Misfit in units;
    /// The same under two fields.
    Twice(fields: [&'static str; 2]) = format!("the same is given twice, as {} and {}; one of them has to go", fields[0], fields[1]);
    /// A field that has to be there.
    Missing(field: &'static str) = format!("the field {field} is missing");
    /// A key that no limit and no figure of accuracy has.
    NoFigure(key: String) = format!("\"{}\" is no limit and no figure of accuracy; those are named by their fields under limits and accuracy", key);
    /// A drop by data that cannot be.
    Drop(refused: DropDataError) = refused.sentence(units);
    /// A machine's number that is none of the list's, and how many that has.
    NoMachine(machine: usize, count: usize) = format!("machine is {machine}; other_machines has {}", match count {
        0 => "no table; it needs one for each machine that a change puts on".to_owned(),
        1 => "one table, number 1".to_owned(),
        count => format!("{count} tables, numbers 1 to {count}"),
    });
}

impl Misfit {
    /// The same, in its place.
    pub(super) fn at(self, place: impl Into<String>) -> JobFileError {
        JobFileError::At(place.into(), self)
    }
}

/// A job file that was not opened or not saved, and where it lies.
#[derive(Debug)]
pub(super) struct NotTaken {
    /// What it was not, as the beginning of the sentence.
    pub what: &'static str,
    /// Why.
    pub why: JobFileError,
    /// The file.
    pub path: PathBuf,
}

impl NotTaken {
    pub(super) fn sentence(&self, units: UnitSystem) -> String {
        format!("{}{}: {}", self.what, self.why.said(units), self.path.display())
    }
}

impl fmt::Display for NotTaken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence(UnitSystem::InchPound))
    }
}

impl std::error::Error for NotTaken {}
