//! One place of the grid in a file: a number, or a text in one of a few fixed wordings.

use std::fmt;

use serde::de::{self, Deserialize, Deserializer, Visitor};

use crate::files::ron_words::{self, OWN};
use crate::model::facts::blower::Cell;

/// What a place of a file's grid says, its number still in the file's unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum CellDto {
    /// A number.
    Number(f64),
    /// A number with the table's note.
    Noted(f64, String),
    /// `not given`, `-` or nothing.
    NotGiven,
    /// `not allowed`, with the table's note where there is one.
    NotAllowed(Option<String>),
    /// `no row`: this column has no row at this ESP.
    NoRow,
}

impl CellDto {
    /// Reads a text cell.
    ///
    /// # Errors
    /// A sentence with the text and what it might be.
    pub(super) fn from_text(text: &str) -> Result<Self, String> {
        let text = text.trim();
        match text.to_lowercase().as_str() {
            "" | "-" | "–" | "—" | "not given" => return Ok(Self::NotGiven),
            "not allowed" => return Ok(Self::NotAllowed(None)),
            "no row" => return Ok(Self::NoRow),
            _ => {}
        }
        barred(text).or_else(|| noted(text)).ok_or_else(|| {
            format!("the cell \"{}\" is neither a number, nor a number and a note, nor \"not given\", nor \"not allowed: why\"", ron_words::cut(text))
        })
    }

    /// The cell as RON.
    pub(super) fn to_ron(&self) -> String {
        match self {
            Self::Number(value) => number(*value),
            Self::Noted(value, note) => format!("{:?}", format!("{} {note}", number(*value))),
            Self::NotGiven => "\"not given\"".to_owned(),
            Self::NotAllowed(None) => "\"not allowed\"".to_owned(),
            Self::NotAllowed(Some(note)) => format!("{:?}", format!("not allowed: {note}")),
            Self::NoRow => "\"no row\"".to_owned(),
        }
    }
}

/// What a cell of the model says in a file, its airflow in cfm.
impl From<&Cell> for CellDto {
    fn from(cell: &Cell) -> Self {
        let noted = |note: &Option<String>| note.as_deref().and_then(note_of);
        match cell {
            Cell::Airflow(airflow, note) => match noted(note) {
                Some(note) => Self::Noted(airflow.cfm(), note),
                None => Self::Number(airflow.cfm()),
            },
            Cell::NotGiven => Self::NotGiven,
            Cell::NotAllowed(note) => Self::NotAllowed(noted(note)),
        }
    }
}

/// A number as a person writes it, without loss: no point behind a whole one but −0, which has no whole one; a power of ten behind a huge one.
pub(super) fn number(value: f64) -> String {
    let is_plain_whole = value.fract() == 0.0 && value.abs() < 1e9 && !(value == 0.0 && value.is_sign_negative());
    if is_plain_whole { value.to_string() } else { format!("{value:?}") }
}

/// `not allowed: note`.
fn barred(text: &str) -> Option<CellDto> {
    let (head, note) = text.split_once(':')?;
    let is_barred = head.trim_end().eq_ignore_ascii_case("not allowed");
    is_barred.then(|| CellDto::NotAllowed(note_of(note)))
}

/// A number, then a blank and a note, or a number alone between quotes.
fn noted(text: &str) -> Option<CellDto> {
    let (number, note) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    if !number.ends_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let value = number.parse().ok()?;
    Some(note_of(note).map_or(CellDto::Number(value), |note| CellDto::Noted(value, note)))
}

/// A note without blanks at its ends; none when nothing is left.
fn note_of(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

impl<'de> Deserialize<'de> for CellDto {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(CellVisitor)
    }
}

struct CellVisitor;

impl Visitor<'_> for CellVisitor {
    type Value = CellDto;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{OWN}a number or a text such as \"not given\"")
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<CellDto, E> {
        Ok(CellDto::Number(value))
    }

    fn visit_i64<E: de::Error>(self, value: i64) -> Result<CellDto, E> {
        number_of(value)
    }

    fn visit_u64<E: de::Error>(self, value: u64) -> Result<CellDto, E> {
        number_of(value)
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<CellDto, E> {
        CellDto::from_text(text).map_err(|sentence| E::custom(format!("{OWN}{sentence}")))
    }
}

/// A whole number as a cell; one that no table can hold is refused rather than rounded.
fn number_of<N: TryInto<i32> + fmt::Display + Copy, E: de::Error>(value: N) -> Result<CellDto, E> {
    let small: i32 = value
        .try_into()
        .map_err(|_out_of_range| E::custom(format!("{OWN}the number {value} is too large for a blower table")))?;
    Ok(CellDto::Number(f64::from(small)))
}
