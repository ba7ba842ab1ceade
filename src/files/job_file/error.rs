//! Why a job file is refused: one sentence each for the person whose file it is.

use std::fmt;

use ron::error::{Error as RonError, Position, SpannedError};

use super::{FIRST_FIELD, FORMAT, LARGEST};
use crate::files::plain_file::MEGABYTE;

/// Why a job file is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobFileError {
    /// Written in a format that this program does not know yet.
    Newer(u64),
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
    /// The file ends in the middle, at a line and column counted from one.
    CutShort {
        /// Line of the end.
        line: usize,
        /// Column of the end.
        column: usize,
    },
    /// The text cannot be read at a line and column counted from one.
    Unreadable {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// What is wrong there, as the end of a sentence.
        reason: String,
    },
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
        match self {
            Self::Newer(format) => write!(
                f,
                "This job was written by a newer Tapcross (format {format}; this program reads up to {FORMAT}) and is left as it is"
            ),
            Self::NoFormat => {
                write!(f, "The first field {FIRST_FIELD} has no format number; it should read {FIRST_FIELD}: {FORMAT}")
            }
            Self::BlowerTable => f.write_str("This is a blower table, not a job; add it to the library instead"),
            Self::Settings => f.write_str("This is the program's settings file, not a job"),
            Self::Empty => f.write_str("The file is empty, so there is no job in it"),
            Self::NotAJob => write!(f, "This is not a Tapcross job; one begins with ({FIRST_FIELD}: {FORMAT}, …)"),
            Self::CutShort { line, column } => {
                write!(f, "The job is cut short: the file ends at line {line}, column {column}, in the middle of it")
            }
            Self::Unreadable { line, column, reason } => {
                write!(f, "The job cannot be read at line {line}, column {column}: {reason}")
            }
            Self::Value { field, value, right } => write!(f, "{field} is {value}; {right}"),
            Self::Contents(sentence) => f.write_str(sentence),
            Self::Machine(sentence) => {
                write!(f, "The job's own blower table cannot be used: {sentence}")
            }
            Self::OtherMachine(number, sentence) => {
                write!(f, "Other machine {number} cannot be used: {sentence}")
            }
            Self::TooLarge(bytes) => {
                let (has, most) = (bytes.div_ceil(MEGABYTE), LARGEST / MEGABYTE);
                write!(
                    f,
                    "The job is too large: {has} MB, of which a file holds at most {most}; its notes must be shorter"
                )
            }
            Self::Changed => {
                f.write_str("The job comes back different from its own file, which is a fault of this program")
            }
        }
    }
}

impl std::error::Error for JobFileError {}

impl JobFileError {
    /// A value that cannot be meant.
    pub(super) fn value(field: impl Into<String>, value: impl fmt::Display, right: impl Into<String>) -> Self {
        Self::Value { field: field.into(), value: value.to_string(), right: right.into() }
    }

    /// Puts what the RON reader found in `text` into a sentence.
    pub(super) fn from_ron(found: &SpannedError, text: &str) -> Self {
        if is_cut(found, text) {
            let end = end_of(text);
            return Self::CutShort { line: end.line, column: end.col };
        }
        let start = found.span.start;
        let blanks = behind(text, start).chars().take_while(|letter| *letter == ' ');
        Self::Unreadable { line: start.line, column: start.col + blanks.count(), reason: reason(&found.code) }
    }
}

/// True when the reader came to the end of the text, or to the beginning of its last word, and wanted more.
fn is_cut(found: &SpannedError, text: &str) -> bool {
    match found.code {
        RonError::TrailingCharacters => false,
        RonError::Eof | RonError::ExpectedStringEnd | RonError::UnclosedBlockComment => true,
        _ => behind(text, found.span.end).trim_end().chars().all(is_of_word),
    }
}

/// The text from a line and column on.
fn behind(text: &str, at: Position) -> &str {
    let lines = text.split_inclusive('\n').take(at.line.saturating_sub(1));
    let line = text.get(lines.map(str::len).sum::<usize>()..).unwrap_or_default();
    let column = line.char_indices().nth(at.col.saturating_sub(1));
    column.map_or("", |(index, _)| &line[index..])
}

fn is_of_word(letter: char) -> bool {
    letter.is_alphanumeric() || "_.+-".contains(letter)
}

/// Line and column just behind the last character that is not blank.
fn end_of(text: &str) -> Position {
    let text = text.trim_end();
    let last = text.rsplit('\n').next().unwrap_or_default();
    Position { line: text.matches('\n').count() + 1, col: last.chars().count() + 1 }
}

/// What is wrong, as the end of a sentence.
fn reason(code: &RonError) -> String {
    match code {
        RonError::NoSuchStructField { found, expected, .. } => {
            format!("there is no field {found} here; {}", choice(expected))
        }
        RonError::NoSuchEnumVariant { found, expected, .. } => {
            format!("{found} is not a word for this field; {}", choice(expected))
        }
        RonError::MissingStructField { field, .. } => {
            format!("the field {field} is missing in the brackets that end here")
        }
        RonError::DuplicateStructField { field, .. } => {
            format!("the field {field} stands here a second time")
        }
        RonError::TrailingCharacters => "something stands behind the end of the job".to_owned(),
        RonError::Message(sentence) => sentence.clone(),
        code => lower_first(&code.to_string()),
    }
}

/// The words that would be right.
fn choice(expected: &[&str]) -> String {
    match expected {
        [] => "none is known here".to_owned(),
        [only] => format!("it should be {only}"),
        words => format!("it should be one of {}", words.join(", ")),
    }
}

/// The sentence with a small first letter, to stand behind a colon.
fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|letter| letter.to_lowercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
