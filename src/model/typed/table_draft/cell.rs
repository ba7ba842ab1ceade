//! What one typed place means.

use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::units::text::{self, Comma, TextError};
use crate::units::{Airflow, Power, Pressure, Speed};

/// What an airflow cell says.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum AirflowCell {
    /// An airflow, with a note where there is one.
    Given(Airflow, Option<String>),
    /// Left out by the table.
    NotGiven,
    /// Barred, with the reason where there is one.
    NotAllowed(Option<String>),
    /// This column has no such row.
    NoRow,
    /// One airflow over a range of static pressure.
    Range(Airflow, Pressure, Pressure),
}

/// True for what door panels and spreadsheets print where there is no number.
pub(in crate::model) fn is_no_value(text: &str) -> bool {
    let text = text.trim().to_lowercase();
    let is_dashes = text.chars().all(|letter| matches!(letter, '-' | '–' | '—' | '−' | '.' | '…' | '_'));
    is_dashes || matches!(text.as_str(), "n/a" | "na" | "n.a." | "not given" | "nil")
}

/// Reads an airflow cell.
pub(super) fn airflow(text: &str, unit: AirflowUnit, esp_unit: PressureUnit) -> Result<AirflowCell, String> {
    let text = text.trim();
    if is_no_value(text) {
        return Ok(AirflowCell::NotGiven);
    }
    if text.eq_ignore_ascii_case("no row") {
        return Ok(AirflowCell::NoRow);
    }
    if let Some(found) = barred(text).or_else(|| range(text, unit, esp_unit)) {
        return Ok(found);
    }
    if let Ok(airflow) = text::airflow(text, unit.system()) {
        return Ok(AirflowCell::Given(airflow, None));
    }
    noted(text, unit).ok_or_else(|| {
        format!(
            "\"{text}\" is neither a number, nor a number and a note, nor x for not allowed, nor a dash for not given"
        )
    })
}

/// `x`, `x: note`, `not allowed: note`.
fn barred(text: &str) -> Option<AirflowCell> {
    let small = text.to_lowercase();
    let head = ["not allowed", "x", "×"].into_iter().find(|head| small.starts_with(head))?;
    // Small letters of these three are as long as the letters typed.
    let rest = text.get(head.len()..)?;
    if !rest.is_empty() && !rest.starts_with([':', ' ', ',', ';']) {
        return None;
    }
    let note = rest.trim_start_matches([':', ' ', ',', ';']).trim();
    Some(AirflowCell::NotAllowed((!note.is_empty()).then(|| note.to_owned())))
}

/// `600 from 0.1 to 0.8`.
fn range(text: &str, unit: AirflowUnit, esp_unit: PressureUnit) -> Option<AirflowCell> {
    let (airflow, rest) = text.split_once(" from ")?;
    let (from, to) = rest.split_once(" to ")?;
    Some(AirflowCell::Range(
        text::airflow(airflow, unit.system()).ok()?,
        esp(from, esp_unit).ok()?,
        esp(to, esp_unit).ok()?,
    ))
}

/// A number and a note behind a blank or a mark (`1415 over plate`, `1190*`).
fn noted(text: &str, unit: AirflowUnit) -> Option<AirflowCell> {
    let end = text.find(|letter: char| letter.is_whitespace() || matches!(letter, '*' | '†' | '‡' | '#' | '('))?;
    let (number, note) = text.split_at(end);
    let note = note.trim();
    let with_unit = note.split_once(char::is_whitespace).and_then(|(unit_word, rest)| {
        let airflow = text::airflow(&format!("{number} {unit_word}"), unit.system()).ok()?;
        Some((airflow, rest.trim()))
    });
    let (airflow, note) = match with_unit {
        Some(found) => found,
        None => (text::airflow(number, unit.system()).ok()?, note),
    };
    Some(AirflowCell::Given(airflow, Some(note.to_owned())))
}

/// Reads a static pressure.
pub(super) fn esp(text: &str, unit: PressureUnit) -> Result<Pressure, TextError> {
    text::pressure(text, unit.system())
}

/// Reads a watts cell.
pub(super) fn watts(text: &str) -> Result<Option<Power>, String> {
    if is_no_value(text) {
        return Ok(None);
    }
    text::power(text).map(Some).map_err(|error| error.to_string())
}

/// Reads an rpm cell.
pub(super) fn rpm(text: &str) -> Result<Option<Speed>, String> {
    if is_no_value(text) {
        return Ok(None);
    }
    let typed = text::number(text, Comma::Thousands).map_err(|error| error.to_string())?;
    match typed.unit.as_str() {
        "" | "rpm" | "r/min" | "1/min" => Ok(Some(Speed::from_rpm(typed.value))),
        other => Err(format!("\"{other}\" is no unit of this field; it takes rpm")),
    }
}
