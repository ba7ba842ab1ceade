//! The library of blower tables: the invented ones inside the program, and a person's own in a folder.
//!
//! Loading is tolerant: a file that cannot be used becomes a [`LibraryProblem`], and the rest still loads.

pub mod folders;
mod keeping;
mod loading;
mod search;

use std::collections::{BTreeSet, HashMap};
use std::path::{Path, PathBuf};

use crate::files::blower_file;
use crate::files::plain_file::MEGABYTE;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::severity::Severity;
use crate::model::facts::{table_check, table_difference};
use crate::units::UnitSystem;

pub use keeping::{file_name, move_own, read_own, replace_own, save_beside, save_own};
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
    /// The folder that it lies in, from the library's own, which is empty here.
    pub folder: PathBuf,
    key: search::Key,
    /// What tells its contents from another's ([`table_difference::contents`]).
    contents: u64,
}

impl LibraryEntry {
    /// An entry of the library's own folder or of the program, with its search words worked out.
    pub fn new(table: BlowerTable, origin: Origin) -> Self {
        Self::in_folder(table, origin, PathBuf::new())
    }

    /// An entry of one of the library's folders.
    pub fn in_folder(table: BlowerTable, origin: Origin, folder: PathBuf) -> Self {
        let key = search::Key::of(&table, &folders::words(&folder));
        let contents = table_difference::contents(&table);
        Self { table, origin, folder, key, contents }
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
    /// The tables; changed by the library's functions alone, which know what else follows.
    pub entries: Vec<LibraryEntry>,
    /// Where the tables of a name stand.
    named: HashMap<String, Vec<usize>>,
    /// How often the tables have changed.
    changes: u64,
}

/// Another table that stands beside one of the same model name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Twin {
    /// It has the same contents.
    Same(usize),
    /// It has other contents.
    Other(usize),
}

impl Library {
    /// A library of these tables, a person's own ones first.
    pub fn of(entries: Vec<LibraryEntry>) -> Self {
        let mut library = Self { entries, ..Self::default() };
        library.have_changed();
        library
    }

    /// The machines inside the program; the problems are empty unless the program was built wrong.
    pub fn shipped() -> (Self, Vec<LibraryProblem>) {
        let read = |&(name, text): &(&'static str, &str)| match usable(text) {
            Ok(table) => Ok(LibraryEntry::new(table, Origin::Shipped(name))),
            Err(message) => Err(LibraryProblem { path: PathBuf::from(name), message }),
        };
        let (entries, problems) = split(SHIPPED.iter().map(read));
        (Self::of(entries), problems)
    }

    /// A number that is another one whenever the tables are others.
    pub const fn changes(&self) -> u64 {
        self.changes
    }

    /// Finds the tables of each name anew.
    fn have_changed(&mut self) {
        self.named.clear();
        for (index, entry) in self.entries.iter().enumerate() {
            match self.named.get_mut(&entry.table.name) {
                Some(places) => places.push(index),
                None => drop(self.named.insert(entry.table.name.clone(), vec![index])),
            }
        }
        self.changes += 1;
    }

    /// Indices of the tables of a name, in the library's order.
    pub fn named(&self, name: &str) -> &[usize] {
        self.named.get(name).map(Vec::as_slice).unwrap_or_default()
    }

    /// What stands beside a table under the same name: first one with the same contents, else one with others.
    pub fn twin(&self, index: usize) -> Option<Twin> {
        let entry = self.entries.get(index)?;
        let others = || self.named(&entry.table.name).iter().copied().filter(|other| *other != index);
        let is_same = |other: &usize| self.entries.get(*other).is_some_and(|other| other.contents == entry.contents);
        others().find(is_same).map(Twin::Same).or_else(|| others().next().map(Twin::Other))
    }

    /// The library's tables of one name alone.
    #[must_use]
    pub fn only_named(&self, name: &str) -> Self {
        Self::of(self.named(name).iter().filter_map(|index| self.entries.get(*index)).cloned().collect())
    }

    /// The first table of a name whose contents are others, where none of that name has a table's own contents.
    pub fn differing(&self, table: &BlowerTable) -> Option<&LibraryEntry> {
        let places = self.named(&table.name);
        let mut entries = places.iter().filter_map(|place| self.entries.get(*place));
        let contents = if places.is_empty() { 0 } else { table_difference::contents(table) };
        let first = entries.clone().next();
        first.filter(|_| entries.all(|entry| entry.contents != contents))
    }

    /// Every folder that a person's own table lies in, and those above it, in the order of their names; the library's own folder, which is empty here, is the first.
    pub fn folders(&self) -> Vec<&Path> {
        let own = self.entries.iter().filter(|entry| entry.own_file().is_some());
        let all: BTreeSet<&Path> = own.flat_map(|entry| entry.folder.ancestors()).chain([Path::new("")]).collect();
        all.into_iter().collect()
    }

    /// Lists a table of a person's own: in the place of the one of that file, else first of all.
    pub fn put_own(&mut self, entry: LibraryEntry) {
        match self.entries.iter_mut().find(|there| there.origin == entry.origin) {
            Some(there) => *there = entry,
            None => self.entries.insert(0, entry),
        }
        self.have_changed();
    }

    /// Says that a file now lies elsewhere.
    pub fn moved_own(&mut self, from: &Path, to: PathBuf, folder: PathBuf) {
        if let Some(entry) = self.entries.iter_mut().find(|entry| entry.own_file() == Some(from)) {
            *entry = LibraryEntry::in_folder(std::mem::take(&mut entry.table), Origin::Own(to), folder);
        }
        self.have_changed();
    }

    /// A person's own tables in a folder, before those of the program; what cannot be used is passed over.
    pub fn with_own(folder: &Path) -> Self {
        let mut library = Self::shipped().0;
        library.add_own(load_folder(folder).0);
        library
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
        self.have_changed();
    }

    /// How many of the tables, all at the beginning, are a person's own.
    pub fn own_count(&self) -> usize {
        self.entries.iter().take_while(|entry| entry.own_file().is_some()).count()
    }

    /// Indices of the entries in which every word of `words` occurs, best first.
    ///
    /// Words are looked for in name, folder, kind, motor, cooling capacity (`3.5`, `3½`, `3.5 ton`, `42` kBtu/h); capitals do not matter.
    /// A name that begins with the words comes first, then one with a word that begins with the first of them, then the rest, each in the library's order.
    /// Without words every entry is found.
    pub fn search(&self, words: &str) -> Vec<usize> {
        search::matches(self.entries.iter().map(|entry| &entry.key), words)
    }
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
