//! The blower file: one [`BlowerTable`] as RON that a person can write, read and compare line by line.
//!
//! `blowers/README.md` is the format's reference, field by field.
//! [`parse`] and [`write()`] are the whole of it for files; [`BlowerDto`] is for other files that carry a table inside themselves.
//! Contents are judged elsewhere ([`crate::model::table_check`]); this module only says what it cannot read.

mod cell;
mod dto;
mod from_table;
mod layout;
mod to_table;

use std::fmt;

use ron::Options;
use ron::error::{Error as RonError, SpannedError};
use ron::extensions::Extensions;

use crate::model::blower::BlowerTable;

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
        match self {
            Self::NewerFormat(format) => write!(
                f,
                "This file was written by a newer Tapcross (format {format}, this program reads up to {FORMAT}) and nothing is changed"
            ),
            Self::IsAJob => write!(f, "This file is a Tapcross job, not a blower table: open it as a job"),
            Self::NotABlowerFile => {
                write!(f, "This is not a Tapcross blower table: one begins with ({FIRST_FIELD}: {FORMAT}, …)")
            }
            Self::EndsTooEarly(line, column) => write!(
                f,
                "This blower table ends too early, at line {line}, column {column}: the file may be cut short"
            ),
            Self::Unreadable(line, column, reason) => {
                write!(f, "This blower table cannot be read at line {line}, column {column}: {reason}")
            }
            Self::Content(sentence) => f.write_str(sentence),
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

/// Looks at the first field alone, so that a newer or foreign file is told apart before its other fields are judged.
fn check_first_field(text: &str) -> Result<(), BlowerFileError> {
    let body = skip_head(text);
    let name_end = body.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(body.len());
    let (name, rest) = body.split_at(name_end);
    match name {
        FIRST_FIELD => check_format(rest),
        "tapcross_job" => Err(BlowerFileError::IsAJob),
        _ => Err(BlowerFileError::NotABlowerFile),
    }
}

/// Judges the number after the first field's colon; anything that is no number is left to the full reading.
fn check_format(after_name: &str) -> Result<(), BlowerFileError> {
    let Some(value) = skip_blanks(after_name).strip_prefix(':') else {
        return Ok(());
    };
    let value = skip_blanks(value);
    let digits_end = value.find(|c: char| !c.is_ascii_digit()).unwrap_or(value.len());
    let digits = value[..digits_end].trim_start_matches('0');
    let is_newer = digits.len() > 9 || digits.parse::<u32>().is_ok_and(|format| format > FORMAT);
    if is_newer {
        return Err(BlowerFileError::NewerFormat(digits.to_owned()));
    }
    Ok(())
}

/// The text behind byte-order mark, comments, `#![…]` lines, an optional struct name and the opening bracket.
fn skip_head(text: &str) -> &str {
    let mut rest = skip_blanks(text.trim_start_matches('\u{feff}'));
    while let Some(attribute) = rest.strip_prefix("#!") {
        let Some((_, after)) = attribute.split_once(']') else {
            return "";
        };
        rest = skip_blanks(after);
    }
    let unnamed = rest.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_');
    skip_blanks(unnamed).strip_prefix('(').map_or("", skip_blanks)
}

/// The text behind white space and comments.
fn skip_blanks(text: &str) -> &str {
    let mut rest = text.trim_start();
    loop {
        let after = if let Some(comment) = rest.strip_prefix("//") {
            comment.split_once('\n').map_or("", |(_, after)| after)
        } else if let Some(comment) = rest.strip_prefix("/*") {
            comment.split_once("*/").map_or("", |(_, after)| after)
        } else {
            return rest;
        };
        rest = after.trim_start();
    }
}

/// Puts what the RON reader found into one sentence.
fn unreadable(error: &SpannedError, text: &str) -> BlowerFileError {
    let (line, column) = (error.span.start.line, error.span.start.col);
    match &error.code {
        RonError::Eof | RonError::ExpectedStringEnd | RonError::UnclosedBlockComment => ends_too_early(text),
        _ if (error.span.end.line, error.span.end.col) >= end_of(text) && !text.trim_end().ends_with(')') => {
            ends_too_early(text)
        }
        code => BlowerFileError::Unreadable(line, column, complaint(code)),
    }
}

/// What the RON reader found, in the words of the format's reference.
fn complaint(code: &RonError) -> String {
    match code {
        RonError::Message(sentence) => sentence.clone(),
        RonError::MissingStructField { field, .. } => format!("the field {field} is missing"),
        RonError::DuplicateStructField { field, .. } => format!("the field {field} stands twice"),
        RonError::NoSuchStructField { expected, found, .. } => {
            format!("there is no field {found} here, only {}", expected.join(", "))
        }
        RonError::NoSuchEnumVariant { expected, found, .. } => {
            format!("{found} is none of {}", expected.join(", "))
        }
        other => lower_first(&other.to_string()),
    }
}

fn ends_too_early(text: &str) -> BlowerFileError {
    let (line, column) = end_of(text);
    BlowerFileError::EndsTooEarly(line, column)
}

/// Line and column just behind the last letter, both counted from one.
fn end_of(text: &str) -> (usize, usize) {
    let text = text.trim_end();
    let last_line = text.lines().last().unwrap_or_default();
    (text.lines().count().max(1), last_line.chars().count() + 1)
}

/// The sentence with a small first letter, to stand behind a colon.
fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|letter| letter.to_lowercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

#[cfg(test)]
mod round_trip;
#[cfg(test)]
mod tests;
