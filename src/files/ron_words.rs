//! What is wrong with the text of a file, in the words of the person whose file it is.
//!
//! The one place where the RON reader's and serde's findings become sentences, for jobs, blower tables and settings alike; none of their own words get through.

use ron::Options;
use ron::error::{Error as RonError, Position, SpannedError};
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

pub(super) use crate::units::text::{cut, shortened};

/// Begins a message of our own, so that it is told apart from one of the reader's libraries.
pub(super) const OWN: &str = "\u{1}";

/// What the reader found in a text that it cannot read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// The text ends in the middle, at this line and column.
    CutShort(usize, usize),
    /// It cannot be read at this line and column, and why, as the end of a sentence.
    Unreadable(usize, usize, String),
}

impl Fault {
    /// The whole sentence; `whole` is what the text should be, such as "job".
    pub(super) fn sentence(&self, whole: &str) -> String {
        match self {
            Self::CutShort(line, column) => {
                format!("The {whole} is cut short: the file ends at line {line}, column {column}, in the middle of it")
            }
            Self::Unreadable(line, column, reason) => {
                format!("The {whole} cannot be read at line {line}, column {column}: {reason}")
            }
        }
    }
}

/// How files are read and written: an optional value stands there without `Some`, whether the file says so or not.
pub(super) fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads a text, which should be a `whole` such as "job".
pub(super) fn read<T: DeserializeOwned>(text: &str, whole: &str) -> Result<T, Fault> {
    options().from_str(text).map_err(|found| fault(&found, text, whole))
}

/// Puts what the reader found in `text` into words.
fn fault(found: &SpannedError, text: &str, whole: &str) -> Fault {
    if is_cut(found, text) {
        let text = text.trim_end();
        let last = text.rsplit('\n').next().unwrap_or_default();
        return Fault::CutShort(text.matches('\n').count() + 1, last.chars().count() + 1);
    }
    let rest = whole_word(text, behind_blanks(behind(text, found.span.start)));
    let before = &text[..text.len() - rest.len()];
    let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    Fault::Unreadable(before.matches('\n').count() + 1, column, reason(&found.code, &shown(rest), whole))
}

/// The text behind white space and comments.
pub(super) fn behind_blanks(text: &str) -> &str {
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

/// True when the reader came to the end of the text, or to the beginning of its last word, and wanted more.
#[expect(clippy::wildcard_enum_match_arm, reason = "the reader of RON has dozens of other errors and may get more")]
fn is_cut(found: &SpannedError, text: &str) -> bool {
    match found.code {
        RonError::Eof | RonError::ExpectedStringEnd | RonError::UnclosedBlockComment => true,
        // These are said only once the bracket that they are about is closed.
        RonError::TrailingCharacters
        | RonError::MissingStructField { .. }
        | RonError::ExpectedDifferentLength { .. }
        | RonError::ExceededRecursionLimit => false,
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

/// The end of a text from the beginning of the word on that it begins within, such as behind a sign.
fn whole_word<'a>(text: &'a str, rest: &'a str) -> &'a str {
    if !rest.starts_with(is_of_word) {
        return rest;
    }
    let before = &text[..text.len() - rest.len()];
    &text[before.trim_end_matches(is_of_word).len()..]
}

/// What a text begins with: a text in quotes, a word or number, or a single sign.
fn shown(rest: &str) -> String {
    let whole = match rest.chars().next() {
        None => return "nothing".to_owned(),
        Some('"') => quoted(rest),
        Some(letter) if is_of_word(letter) => &rest[..rest.find(|other| !is_of_word(other)).unwrap_or(rest.len())],
        Some(sign) => &rest[..sign.len_utf8()],
    };
    cut(whole)
}

/// A text in quotes, with them.
fn quoted(rest: &str) -> &str {
    let mut is_escaped = false;
    let end = rest.char_indices().skip(1).find(|(_, letter)| {
        let ends = *letter == '"' && !is_escaped;
        is_escaped = *letter == '\\' && !is_escaped;
        ends
    });
    end.map_or(rest, |(index, _)| &rest[..=index])
}

fn is_of_word(letter: char) -> bool {
    letter.is_alphanumeric() || "_.+-".contains(letter)
}

pub(super) fn is_of_name(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

/// What is wrong, as the end of a sentence; `here` is what stands at the place.
#[expect(clippy::wildcard_enum_match_arm, reason = "the reader of RON has dozens of other errors and may get more")]
fn reason(code: &RonError, here: &str, whole: &str) -> String {
    match code {
        RonError::NoSuchStructField { found, expected, .. } => {
            format!("there is no field {} here; {}", cut(found), choice(expected))
        }
        RonError::NoSuchEnumVariant { found, expected, .. } => {
            format!("{} is not a word for this field; {}", cut(found), choice(expected))
        }
        RonError::MissingStructField { field, .. } => {
            format!("the field {field} is missing in the brackets that end here")
        }
        RonError::DuplicateStructField { field, .. } => format!("the field {field} stands here a second time"),
        RonError::TrailingCharacters => format!("something stands behind the end of the {whole}: {here}"),
        RonError::ExceededRecursionLimit => {
            format!("more brackets stand within each other here than in any {whole}")
        }
        RonError::NoSuchExtension(_) => "the first line may only say #![enable(implicit_some)]".to_owned(),
        RonError::Message(sentence) => match sentence.strip_prefix(OWN) {
            Some(own) => own.to_owned(),
            None => cannot_be_meant(here, whole),
        },
        RonError::InvalidValueForType { expected, found } => wrong_value(expected, found, here, whole),
        RonError::ExpectedDifferentLength { expected, found } => wrong_count(expected, *found),
        code => match wanted(code) {
            Some(wanted) => format!("{here} stands here; it should be {wanted}"),
            None => cannot_be_meant(here, whole),
        },
    }
}

/// For all that has no words of its own.
fn cannot_be_meant(here: &str, whole: &str) -> String {
    format!("{here} cannot stand here in a {whole}")
}

/// What the reader wanted instead.
#[expect(clippy::wildcard_enum_match_arm, reason = "the reader of RON has dozens of other errors and may get more")]
const fn wanted(code: &RonError) -> Option<&'static str> {
    Some(match code {
        RonError::ExpectedArray => "a list in square brackets",
        RonError::ExpectedArrayEnd => "a comma or the closing square bracket of the list",
        RonError::ExpectedAttribute | RonError::ExpectedAttributeEnd => "#![enable(implicit_some)]",
        RonError::ExpectedBoolean => "true or false",
        RonError::ExpectedComma => "a comma",
        RonError::ExpectedFloat | RonError::FloatUnderscore | RonError::UnderscoreAtBeginning => {
            "a number, such as 12 or 0.35"
        }
        RonError::ExpectedInteger | RonError::IntegerOutOfBounds | RonError::InvalidIntegerDigit { .. } => {
            "a whole number, not below zero and not of more than nine digits"
        }
        RonError::ExpectedMapColon => "a colon behind the field's name",
        RonError::ExpectedStructLike
        | RonError::ExpectedNamedStructLike(_)
        | RonError::ExpectedDifferentStructName { .. }
        | RonError::ExpectedStructName(_) => "an opening round bracket",
        RonError::ExpectedStructLikeEnd | RonError::ExpectedOptionEnd => "a comma or the closing round bracket",
        RonError::ExpectedString => "a text in double quotes",
        RonError::ExpectedIdentifier | RonError::InvalidIdentifier(_) | RonError::SuggestRawIdentifier(_) => {
            "a name of letters, digits and underscores, without quotes"
        }
        RonError::InvalidEscape(_) => {
            "a text in which a backslash has an n, a t, a quote or a second backslash behind it"
        }
        _ => return None,
    })
}

/// A value of another kind than the field's.
fn wrong_value(expected: &str, found: &str, here: &str, whole: &str) -> String {
    // The reader quotes plain values, and describes all others in words of its own.
    let value = found.split_once('`').and_then(|(_, value)| value.strip_suffix('`'));
    let value = value.or_else(|| found.strip_prefix("the string ")).map_or_else(|| here.to_owned(), cut);
    match kind_of(expected) {
        Some(kind) => format!("{value} stands here; it should be {kind}"),
        None => cannot_be_meant(&value, whole),
    }
}

/// The kind of value that a description means.
fn kind_of(expected: &str) -> Option<&str> {
    match expected {
        "f64" | "f32" => Some("a number, such as 12 or 0.35"),
        "u8" | "u16" | "u32" | "u64" | "usize" => Some("a whole number, not below zero"),
        "a string" => Some("a text in double quotes"),
        "a boolean" => Some("true or false"),
        "a sequence" => Some("a list in square brackets"),
        own => own.strip_prefix(OWN),
    }
}

/// Too few or too many values in a pair of brackets.
fn wrong_count(expected: &str, found: usize) -> String {
    let stand = match found {
        0 => "no value stands".to_owned(),
        1 => "one value stands".to_owned(),
        found => format!("{found} values stand"),
    };
    match expected.strip_prefix("a tuple of size ") {
        Some(right) => format!("{stand} in these brackets; there should be {right}"),
        None => format!("{stand} in these brackets; each should have the name of its field before it"),
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_value_and_a_long_sentence_are_cut_and_stand_on_one_line() {
        assert_eq!(cut("two\nlines"), "two lines");
        assert_eq!(cut(&"9".repeat(60)), format!("{}…", "9".repeat(40)));
        assert_eq!(cut(&"ä".repeat(40)), "ä".repeat(40));
        let long = shortened(&format!("Begin {} end", "m".repeat(5000)));
        assert_eq!(long.chars().count(), 300);
        assert!(long.starts_with("Begin mm") && long.contains("m…m") && long.ends_with("mm end"), "{long}");
        assert_eq!(shortened("short"), "short");
    }

    #[test]
    fn a_message_that_is_not_our_own_is_not_told() {
        let told = reason(&RonError::Message("invalid type: map, expected struct WayDto".to_owned()), "{", "job");
        assert_eq!(told, "{ cannot stand here in a job");
        assert_eq!(reason(&RonError::Message(format!("{OWN}too much")), "{", "job"), "too much");
    }
}
