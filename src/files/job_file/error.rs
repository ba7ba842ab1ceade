//! Why a job file is refused: one sentence each for the person whose file it is.

use std::fmt;

use super::{FORMAT, LARGEST};
use crate::files::head::JOB;
use crate::files::plain_file::MEGABYTE;
use crate::files::ron_words::{self, Fault};

/// Why a job file is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    /// A field's value cannot be meant.
    Value {
        /// The field, with the place that it stands in.
        field: String,
        /// The value as the file has it.
        value: String,
        /// What would be right, as the end of a sentence.
        right: String,
    },
    /// The parts of the file do not fit together; a whole sentence.
    Contents(String),
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
        f.write_str(&ron_words::shortened(&self.sentence()))
    }
}

impl JobFileError {
    /// The sentence, however long the values in it are.
    fn sentence(&self) -> String {
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
            Self::Value { field, value, right } => format!("{field} is {value}; {right}"),
            Self::Contents(sentence) => sentence.clone(),
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

impl JobFileError {
    /// A value that cannot be meant.
    pub(super) fn value(field: impl Into<String>, value: impl fmt::Display, right: impl Into<String>) -> Self {
        Self::Value { field: field.into(), value: ron_words::cut(&value.to_string()), right: right.into() }
    }

    /// What is wrong with what sentences call `place`, as the end of a sentence.
    pub(super) fn at(place: &str, why: &str) -> Self {
        Self::Contents(format!("{place}: {why}"))
    }
}
