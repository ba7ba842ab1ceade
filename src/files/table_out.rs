//! Blower tables as the text of a file: a sheet for spreadsheets or one whole, by the file's ending; the window and the command line ask here.

use std::collections::BTreeSet;
use std::path::Path;

use crate::files::{blower_file, sheet_file};
use crate::model::facts::blower::BlowerTable;
use crate::model::typed::table_sheet::{self, Parted};

/// Why tables do not become a file's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoFile {
    /// The file is a job, which no table takes the place of.
    Job,
    /// Two of them have this name, and a sheet would run them together.
    TwoNamed(String),
    /// So many tables in a file that holds one.
    Several(usize),
    /// No file of tables ends so.
    Ending,
    /// It would not open again, for this.
    WouldNotOpen(String),
}

/// What of a path's ending is one of these.
fn ends(path: &Path, endings: &[&str]) -> bool {
    path.extension().is_some_and(|own| endings.iter().any(|ending| own.eq_ignore_ascii_case(ending)))
}

/// The text of a file with tables.
///
/// # Errors
/// [`NoFile`].
pub fn text_of(path: &Path, tables: &[&BlowerTable]) -> Result<String, NoFile> {
    if sheet_file::is_job(path) {
        return Err(NoFile::Job);
    }
    let sheet = |parted| match twice_named(tables) {
        Some(name) => Err(NoFile::TwoNamed(name.to_owned())),
        None => Ok(table_sheet::write(tables.iter().copied(), parted)),
    };
    match tables {
        _ if ends(path, &["csv"]) => sheet(Parted::ByCommas),
        _ if ends(path, &["tsv", "tab", "txt"]) => sheet(Parted::ByTabs),
        [table] if ends(path, &["ron"]) => whole(table),
        _ if ends(path, &["ron"]) => Err(NoFile::Several(tables.len())),
        _ => Err(NoFile::Ending),
    }
}

/// A table whole, as it opens again.
fn whole(table: &BlowerTable) -> Result<String, NoFile> {
    let text = blower_file::write(table);
    blower_file::parse(&text).map_err(|refused| NoFile::WouldNotOpen(refused.to_string()))?;
    Ok(text)
}

/// A name that two of the tables have.
fn twice_named<'a>(tables: &[&'a BlowerTable]) -> Option<&'a str> {
    let mut names = BTreeSet::new();
    tables.iter().map(|table| table.name.as_str()).find(|name| !names.insert(*name))
}
