//! The library of blower tables: the invented ones inside the program, and a person's own in a folder.
//!
//! Loading is tolerant: a file that cannot be used becomes a [`LibraryProblem`], and the rest still loads.

mod loading;
mod search;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use crate::files::atomic_write::write_atomically;
use crate::files::blower_file;
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::severity::Severity;
use crate::model::facts::table_check;
use crate::units::UnitSystem;

pub use loading::{Batch, Loading, load_folder};

/// Largest blower table that is read and written, in bytes; a job's file holds several.
const LARGEST: u64 = 4 * MEGABYTE;

/// Pairs each named file of `blowers/` with its text.
macro_rules! shipped_files {
    ($($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../blowers/", $name)))),+]
    };
}

/// The invented machines that ship with the program, by file name; a test holds the list against the folder.
const SHIPPED: &[(&str, &str)] = shipped_files![
    "ah-18p.ron",
    "ah-24p.ron",
    "ah-30t.ron",
    "ah-36b.ron",
    "ah-36m.ron",
    "ah-36v.ron",
    "ah-42t.ron",
    "ah-48t.ron",
    "ah-60v.ron",
    "gf-100p.ron",
    "gf-100v.ron",
    "gf-52t.ron",
    "gf-72p.ron",
    "gf-80p.ron",
    "gf-80t.ron",
    "mh-70p.ron",
];

/// Where an entry comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Inside the program, under this file name.
    Shipped(&'static str),
    /// A person's own file.
    Own(PathBuf),
}

/// One table of the library.
#[derive(Clone, Debug, PartialEq)]
pub struct LibraryEntry {
    /// The table.
    pub table: BlowerTable,
    /// Where it comes from.
    pub origin: Origin,
    key: search::Key,
}

impl LibraryEntry {
    /// An entry with its search words worked out.
    pub fn new(table: BlowerTable, origin: Origin) -> Self {
        let key = search::Key::of(&table);
        Self { table, origin, key }
    }

    /// The file of a person's own table.
    pub fn own_file(&self) -> Option<&Path> {
        match &self.origin {
            Origin::Own(file) => Some(file),
            Origin::Shipped(_) => None,
        }
    }
}

/// A file that the library could not use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LibraryProblem {
    /// The file or folder; a bare file name for one inside the program.
    pub path: PathBuf,
    /// What is wrong, one sentence.
    pub message: String,
}

impl LibraryProblem {
    /// What is wrong, the path last.
    pub fn sentence(&self) -> String {
        format!("{}: {}", self.message, self.path.display())
    }
}

/// Tables that can be picked, in the order in which they were loaded.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Library {
    /// The tables.
    pub entries: Vec<LibraryEntry>,
}

impl Library {
    /// The machines inside the program; the problems are empty unless the program was built wrong.
    pub fn shipped() -> (Self, Vec<LibraryProblem>) {
        let read = |&(name, text): &(&'static str, &str)| match usable(text) {
            Ok(table) => Ok(LibraryEntry::new(table, Origin::Shipped(name))),
            Err(message) => Err(LibraryProblem { path: PathBuf::from(name), message }),
        };
        let (entries, problems) = split(SHIPPED.iter().map(read));
        (Self { entries }, problems)
    }

    /// Names of the files inside the program.
    pub fn shipped_file_names() -> impl Iterator<Item = &'static str> {
        SHIPPED.iter().map(|(name, _)| *name)
    }

    /// Takes in a person's own tables behind the own ones that are there, and before those of the program; one that came from a file already there is left out.
    pub fn add_own(&mut self, mut entries: Vec<LibraryEntry>) {
        let there: BTreeSet<&Path> = self.entries.iter().filter_map(LibraryEntry::own_file).collect();
        entries.retain(|entry| entry.own_file().is_none_or(|file| !there.contains(file)));
        let place = self.own_count();
        self.entries.splice(place..place, entries);
    }

    /// How many of the tables, all at the beginning, are a person's own.
    pub fn own_count(&self) -> usize {
        self.entries.iter().take_while(|entry| entry.own_file().is_some()).count()
    }

    /// Indices of the entries in which every word of `words` occurs, best first.
    ///
    /// Words are looked for in name, kind, motor, cooling capacity (`3.5`, `3½`, `3.5 ton`, `42` kBtu/h); capitals do not matter.
    /// A name that begins with the words comes first, then one with a word that begins with the first of them, then the rest, each in the library's order.
    /// Without words every entry is found.
    pub fn search(&self, words: &str) -> Vec<usize> {
        search::matches(self.entries.iter().map(|entry| &entry.key), words)
    }
}

/// Saves a new table of a person's own and gives its file; an equal table that is already there is left as it is.
///
/// # Errors
/// When the table has no name, when something else already has the file's name, when the table is too large to open again, and when the disk refuses; nothing is overwritten.
pub fn save_own(folder: &Path, table: &BlowerTable) -> Result<PathBuf> {
    let path = folder.join(file_name(&table.name)?);
    let text = text_that_opens_again(&path, table)?;
    let taken_by = match plain_file::read_text(&path, LARGEST) {
        Ok(old) if old == text => return Ok(path),
        Ok(old) => blower_file::parse(&old).map_or(NO_TABLE.to_owned(), |old| format!("\"{}\"", old.name)),
        Err(Unread::Missing) => {
            make_folder(folder)?;
            write_atomically(&path, text.as_bytes())?;
            return Ok(path);
        }
        Err(Unread::Unplain(kind)) => kind.to_string(),
        Err(Unread::System(error)) => {
            bail!("Not saved: the system said \"{}\": {}", plain_file::said(&error), path.display())
        }
        Err(_unreadable) => NO_TABLE.to_owned(),
    };
    bail!(
        "Not saved: {taken_by} already has the file of that name and is untouched; give the table another name: {}",
        path.display()
    );
}

/// How sentences name a file that gives no table.
const NO_TABLE: &str = "a file that is no blower table";

fn make_folder(folder: &Path) -> Result<()> {
    fs::create_dir_all(folder).map_err(|error| {
        let why = plain_file::said(&error);
        anyhow!("Not saved: the folder for your own tables cannot be made ({why}): {}", folder.display())
    })
}

/// Writes a changed table over the file that its entry came from ([`Origin::Own`]).
///
/// # Errors
/// When the table is too large to open again and when the disk refuses; the old file is then untouched.
pub fn replace_own(path: &Path, table: &BlowerTable) -> Result<()> {
    write_atomically(path, text_that_opens_again(path, table)?.as_bytes())
}

fn text_that_opens_again(path: &Path, table: &BlowerTable) -> Result<String> {
    let text = blower_file::write(table);
    if text.len() as u64 > LARGEST {
        let (has, most) = ((text.len() as u64).div_ceil(MEGABYTE), LARGEST / MEGABYTE);
        bail!("Not saved: the table is too large, {has} MB, of which a file holds at most {most}: {}", path.display());
    }
    Ok(text)
}

/// A file name from a table's name: small letters and digits of the Latin alphabet, joined by hyphens.
fn file_name(name: &str) -> Result<String> {
    let letters =
        name.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { ' ' });
    let words = letters.collect::<String>().split_whitespace().collect::<Vec<_>>().join("-");
    let stem: String = words.chars().take(80).collect();
    if stem.is_empty() {
        bail!("Not saved: the table's name \"{name}\" has no letter or digit to name its file by");
    }
    Ok(format!("{stem}.ron"))
}

/// The table of a file's text, unless the table as a whole cannot be right; a single bad tap does not stop it.
fn usable(text: &str) -> Result<BlowerTable, String> {
    let table = blower_file::parse(text).map_err(|error| error.to_string())?;
    let grave = table_check::check(&table)
        .into_iter()
        .find(|problem| problem.place.tap().is_none() && problem.severity == Severity::Error);
    match grave {
        Some(problem) => Err(problem.sentence(&table, UnitSystem::InchPound)),
        None => Ok(table),
    }
}

fn split(read: impl Iterator<Item = Result<LibraryEntry, LibraryProblem>>) -> (Vec<LibraryEntry>, Vec<LibraryProblem>) {
    let (mut entries, mut problems) = (Vec::new(), Vec::new());
    for result in read {
        match result {
            Ok(entry) => entries.push(entry),
            Err(problem) => problems.push(problem),
        }
    }
    (entries, problems)
}
