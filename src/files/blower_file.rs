//! The blower file: one [`BlowerTable`] as RON that a person can write, read and compare line by line.
//!
//! `blowers/README.md` is the format's reference, field by field.
//! [`parse`] and [`write()`] are the whole of it for files; [`BlowerDto`] is for other files that carry a table inside themselves.
//! Contents are judged elsewhere ([`crate::model::facts::table_check`]); this module only says what it cannot read.

mod cell;
mod dto;
mod layout;
mod to_table;

use std::fmt;

use crate::files::head;
use crate::files::ron_words::{self, Fault};
use crate::model::facts::blower::BlowerTable;

pub use self::dto::BlowerDto;

/// The format that this program writes, and the newest that it reads.
pub const FORMAT: u32 = 1;

/// Why a blower file cannot be read; each prints as one sentence for the person whose file it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BlowerFileError {
    /// The file says a format that this program does not know yet.
    NewerFormat(String),
    /// It is a Tapcross file, but a job.
    IsAJob,
    /// It does not begin as a blower file does.
    NotABlowerFile,
    /// The text is cut short or cannot be read.
    Text(Fault),
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
                format!("This is not a Tapcross blower table: one begins with ({}: {FORMAT}, …)", head::BLOWER)
            }
            Self::Text(fault) => fault.sentence("blower table"),
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
    let dto: BlowerDto =
        ron_words::read(text.trim_start_matches('\u{feff}'), "blower table").map_err(BlowerFileError::Text)?;
    to_table::check_inches(&dto)?;
    BlowerTable::try_from(dto)
}

/// Writes a blower file in inch-pound units; the same table always gives the same text, and [`parse`] gives the same table back.
///
/// Notes are kept without spaces at their ends, and an empty note is no note.
pub fn write(table: &BlowerTable) -> String {
    format!("#![enable(implicit_some)]\n{}\n", body(table))
}

/// The table as another file carries it: one value, without a blower file's first line.
pub(super) fn body(table: &BlowerTable) -> String {
    layout::body(table)
}

/// Looks at the first field alone, so that a newer or foreign file is told apart before its other fields are judged; a format that is no number is left to the full reading.
fn check_first_field(text: &str) -> Result<(), BlowerFileError> {
    let head = head::of(text);
    match head.name {
        head::BLOWER => head.newer_than(FORMAT).map_or(Ok(()), |format| Err(BlowerFileError::NewerFormat(format))),
        head::JOB => Err(BlowerFileError::IsAJob),
        _ => Err(BlowerFileError::NotABlowerFile),
    }
}

#[cfg(test)]
mod round_trip;
#[cfg(test)]
mod tests;
