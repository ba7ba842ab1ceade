//! The library of blower tables: the invented ones inside the program, and a person's own in a folder.
//!
//! Loading is tolerant: a file that cannot be used becomes a [`LibraryProblem`], and the rest still loads.

mod search;

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::files::atomic_write::write_atomically;
use crate::files::blower_file;
use crate::model::blower::BlowerTable;
use crate::model::table_check::{self, Severity};

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
    "gf-60p.ron",
    "gf-60t.ron",
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
}

/// A file that the library could not use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LibraryProblem {
    /// The file or folder; a bare file name for one inside the program.
    pub path: PathBuf,
    /// What is wrong, one sentence.
    pub message: String,
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

    /// Indices of the entries in which every word of `words` occurs, best first.
    ///
    /// Words are looked for in name, kind, motor, cooling capacity (`3.5`, `3½`, `3.5 ton`, `42` kBtu/h); capitals do not matter.
    /// A name that begins with the words comes first, then one with a word that begins with the first of them, then the rest, each in the library's order.
    /// Without words every entry is found.
    pub fn search(&self, words: &str) -> Vec<usize> {
        search::matches(self.entries.iter().map(|entry| &entry.key), words)
    }
}

/// Reads every `.ron` file of a folder, in the order of file names; a folder that does not exist yet is an empty one.
pub fn load_folder(folder: &Path) -> (Vec<LibraryEntry>, Vec<LibraryProblem>) {
    match ron_files(folder) {
        Ok(paths) => split(paths.into_iter().map(load_file)),
        Err(problem) => (Vec::new(), vec![problem]),
    }
}

/// Saves a new table of a person's own and gives its file; an equal table that is already there is left as it is.
///
/// # Errors
/// When the table has no name, when another table already has the file, and when the disk refuses; nothing is overwritten.
pub fn save_own(folder: &Path, table: &BlowerTable) -> Result<PathBuf> {
    let path = folder.join(file_name(&table.name)?);
    let text = blower_file::write(table);
    if path.exists() {
        let old = fs::read_to_string(&path).unwrap_or_default();
        if old == text {
            return Ok(path);
        }
        let taken_by = blower_file::parse(&old)
            .map_or_else(|_| "a file that is no blower table".to_owned(), |old| format!("\"{}\"", old.name));
        bail!(
            "Not saved: {taken_by} already has the file of that name and is untouched; give the table another name: {}",
            path.display()
        );
    }
    fs::create_dir_all(folder)
        .with_context(|| format!("The folder for your own tables cannot be made: {}", folder.display()))?;
    write_atomically(&path, text.as_bytes())?;
    Ok(path)
}

/// Writes a changed table over the file that its entry came from ([`Origin::Own`]).
///
/// # Errors
/// When the disk refuses; the old file is then untouched.
pub fn replace_own(path: &Path, table: &BlowerTable) -> Result<()> {
    write_atomically(path, blower_file::write(table).as_bytes())
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

fn ron_files(folder: &Path) -> Result<Vec<PathBuf>, LibraryProblem> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let unreadable = |error: std::io::Error| LibraryProblem {
        path: folder.to_path_buf(),
        message: format!("This folder of blower tables cannot be read: {error}"),
    };
    let listed: Result<Vec<_>, _> =
        fs::read_dir(folder).map_err(unreadable)?.map(|entry| entry.map(|entry| entry.path())).collect();
    let mut paths = listed.map_err(unreadable)?;
    paths.retain(|path| path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("ron")));
    paths.sort();
    Ok(paths)
}

fn load_file(path: PathBuf) -> Result<LibraryEntry, LibraryProblem> {
    let read = fs::read_to_string(&path).map_err(|error| format!("This file cannot be read: {error}"));
    match read.and_then(|text| usable(&text)) {
        Ok(table) => Ok(LibraryEntry::new(table, Origin::Own(path))),
        Err(message) => Err(LibraryProblem { path, message }),
    }
}

/// The table of a file's text, unless the table as a whole cannot be right; a single bad tap does not stop it.
fn usable(text: &str) -> Result<BlowerTable, String> {
    let table = blower_file::parse(text).map_err(|error| error.to_string())?;
    let grave = table_check::check(&table)
        .into_iter()
        .find(|problem| problem.tap.is_none() && problem.severity == Severity::Error);
    grave.map_or(Ok(table), |problem| Err(problem.message))
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
