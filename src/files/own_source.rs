//! How files hold whose a limit or a figure of accuracy is, by the key that a job's file has for the figure.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_with::As;

use crate::files::quantities::OneLine;
use crate::model::facts::figure_source::{NamedSource, SourcePart, Sources};
use crate::model::facts::job_number::JobNumber;

/// What a person named.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Source")]
pub(super) struct SourceDto {
    #[serde(default, with = "As::<OneLine>")]
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    date: String,
}

/// A figure's key with its source; nothing where nothing is named of it.
///
/// # Errors
/// The key, where no figure has it.
pub(super) fn from_file(key: &str, source: &SourceDto) -> Result<Option<(&'static str, NamedSource)>, String> {
    let mut keys = JobNumber::figures().map(|figure| figure.number().file);
    let figure = keys.find(|file| *file == key).ok_or_else(|| key.to_owned())?;
    let mut sources = Sources::new();
    NamedSource::put(&mut sources, figure, SourcePart::Name, &source.name);
    NamedSource::put(&mut sources, figure, SourcePart::Date, &source.date);
    Ok(sources.pop_first())
}

/// All of them by their keys.
pub(super) fn to_file(sources: &Sources) -> BTreeMap<String, SourceDto> {
    let dto = |named: &NamedSource| SourceDto { name: named.name.clone(), date: named.date.clone() };
    sources.iter().map(|(key, named)| ((*key).to_owned(), dto(named))).collect()
}
