//! The blower file: one [`BlowerTable`] as RON that a person can write, read and compare line by line.
//!
//! `blowers/README.md` is the format's reference, field by field.
//! [`parse`] and [`write()`] are the whole of it for files; [`BlowerDto`] is for other files that carry a table inside themselves.
//! Contents are judged elsewhere ([`crate::model::facts::table_check`]); this module only says what it cannot read.

mod cell;
mod dto;
mod from_table;
mod layout;
mod to_table;

use std::fmt;

use ron::Options;
use ron::error::SpannedError;
use ron::extensions::Extensions;

use crate::files::ron_words::{self, Fault};
use crate::model::facts::blower::BlowerTable;

pub use self::dto::BlowerDto;
pub(super) use self::dto::{CallDto, CoilDto, KindDto, MotorDto, OpeningsDto, PartDto, PositionDto};

/// The format that this program writes, and the newest that it reads.
pub const FORMAT: u32 = 1;

/// The name of the first field of a blower file.
const FIRST_FIELD: &str = "tapcross_blower";

/// Why a blower file cannot be read; each prints as one sentence for the person whose file it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BlowerFileError {
    /// The file says a format that this program does not know yet.
    NewerFormat(String),
    /// It is a Tapcross file, but a job.
    IsAJob,
    /// It does not begin as a blower file does.
    NotABlowerFile,
    /// The file stops in the middle, at a line and column counted from one.
    EndsTooEarly(usize, usize),
    /// The text cannot be read at a line and column counted from one, and why.
    Unreadable(usize, usize, String),
    /// It reads well, but says something that a table cannot mean; a whole sentence.
    Content(String),
}

impl fmt::Display for BlowerFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&ron_words::shortened(&self.sentence()))
    }
}

impl BlowerFileError {
    /// The sentence, however long the values in it are.
    fn sentence(&self) -> String {
        match self {
            Self::NewerFormat(format) => format!(
                "This file was written by a newer Tapcross (format {format}, this program reads up to {FORMAT}) and nothing is changed"
            ),
            Self::IsAJob => "This file is a Tapcross job, not a blower table: open it as a job".to_owned(),
            Self::NotABlowerFile => {
                format!("This is not a Tapcross blower table: one begins with ({FIRST_FIELD}: {FORMAT}, …)")
            }
            Self::EndsTooEarly(line, column) => {
                format!("This blower table ends too early, at line {line}, column {column}: the file may be cut short")
            }
            Self::Unreadable(line, column, reason) => {
                format!("This blower table cannot be read at line {line}, column {column}: {reason}")
            }
            Self::Content(sentence) => sentence.clone(),
        }
    }
}

impl std::error::Error for BlowerFileError {}

/// Reads a blower file.
///
/// # Errors
/// One sentence: a newer format, another kind of file, the line and column of what cannot be read, or the field that cannot be meant.
pub fn parse(text: &str) -> Result<BlowerTable, BlowerFileError> {
    check_first_field(text)?;
    let text = text.trim_start_matches('\u{feff}');
    let dto: BlowerDto = Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .from_str(text)
        .map_err(|error| unreadable(&error, text))?;
    to_table::check_pressure_unit(&dto)?;
    BlowerTable::try_from(dto)
}

/// Writes a blower file in inch-pound units; the same table always gives the same text, and [`parse`] gives the same table back.
///
/// Notes are kept without spaces at their ends, and an empty note is no note.
pub fn write(table: &BlowerTable) -> String {
    let body = layout::body(&BlowerDto::from(table), 0);
    format!("#![enable(implicit_some)]\n{body}\n")
}

/// Looks at the first field alone, so that a newer or foreign file is told apart before its other fields are judged; a format that is no number is left to the full reading.
fn check_first_field(text: &str) -> Result<(), BlowerFileError> {
    let (name, behind_name) = ron_words::first_field(text);
    match (name, ron_words::format_number(behind_name)) {
        (FIRST_FIELD, Some(format)) if format > u64::from(FORMAT) => {
            let digits = ron_words::format_digits(behind_name).unwrap_or_default();
            Err(BlowerFileError::NewerFormat(ron_words::cut(digits.trim_start_matches('0'))))
        }
        (FIRST_FIELD, _) => Ok(()),
        ("tapcross_job", _) => Err(BlowerFileError::IsAJob),
        _ => Err(BlowerFileError::NotABlowerFile),
    }
}

/// Puts what the RON reader found into one sentence.
fn unreadable(error: &SpannedError, text: &str) -> BlowerFileError {
    match ron_words::fault(error, text, "blower table") {
        Fault::CutShort(line, column) => BlowerFileError::EndsTooEarly(line, column),
        Fault::Unreadable(line, column, reason) => BlowerFileError::Unreadable(line, column, reason),
    }
}

#[cfg(test)]
mod round_trip;
#[cfg(test)]
mod tests;
