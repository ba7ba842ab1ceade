//! What the window remembers of the library: the list of blowers, a table on its way, the job's own copy held against it.

use std::collections::BTreeMap;
use std::path::PathBuf;

use crate::model::facts::blower::BlowerTable;
use crate::units::UnitSystem;

/// What a search among the tables was made with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Searched {
    /// The words.
    pub words: String,
    /// How many tables there were.
    pub tables: usize,
    /// Which of the library's states it was ([`crate::files::library::Library::changes`]).
    pub changes: u64,
}

/// A table on its way to another folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moving {
    /// Its model.
    pub name: String,
    /// Its file.
    pub file: PathBuf,
    /// The folder that it goes to, or into a new one in that.
    pub inside: PathBuf,
    /// Name of the new folder, as typed.
    pub new: String,
    /// Why it cannot go there.
    pub problem: Option<String>,
    /// True until the hand has come to the name.
    pub is_new: bool,
}

impl Moving {
    /// From the folder in which a table lies.
    pub const fn of(name: String, file: PathBuf, folder: PathBuf) -> Self {
        Self { name, file, inside: folder, new: String::new(), problem: None, is_new: true }
    }
}

/// The blower picker, while open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picker {
    /// Words typed.
    pub words: String,
    /// Row under the cursor; one past the last table is the row for a new one.
    pub cursor: usize,
    /// Tables found, by index in the library.
    pub found: Vec<usize>,
    /// What `found` belongs to; nothing before the first search.
    pub searched: Option<Searched>,
    /// The table that is being moved.
    pub moving: Option<Moving>,
    /// What is told of tables, by index in the library.
    pub told: BTreeMap<usize, String>,
    /// The library's state and the units that `told` belongs to.
    pub told_of: Option<(u64, UnitSystem)>,
}

/// The job's own copy of a table against the library's of its name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AgainstLibrary {
    /// The job's table that was held against it.
    pub machine: Option<BlowerTable>,
    /// The library's state ([`crate::files::library::Library::changes`]).
    pub changes: u64,
    /// The units of the sentence.
    pub units: UnitSystem,
    /// In what they differ, one sentence, and the library's table; nothing where they mean the same or the library has none of that name.
    pub differs: Option<(String, BlowerTable)>,
}
