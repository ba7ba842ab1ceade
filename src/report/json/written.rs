//! The text of reports.

use serde::Serialize;

use super::Report;

/// The text of one job's report, an object.
///
/// # Errors
/// Where the numbers cannot be put into JSON, which no job of this program can bring about.
pub fn one(report: &Report) -> serde_json::Result<String> {
    text(report)
}

/// The text of several jobs' reports, an array.
///
/// # Errors
/// As [`one`].
pub fn many(reports: &[Report]) -> serde_json::Result<String> {
    text(reports)
}

pub(super) fn text(reports: &(impl Serialize + ?Sized)) -> serde_json::Result<String> {
    let mut text = serde_json::to_string_pretty(reports)?;
    text.push('\n');
    Ok(text)
}
