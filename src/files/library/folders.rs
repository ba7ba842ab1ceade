//! The folders of a person's library: what lies in them, how far they are looked into, and how a new one may be named.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use super::LibraryProblem;
use crate::files::plain_file;

/// How many folders may lie one inside the other.
pub const DEEPEST: usize = 8;
/// Most folders of a library.
pub const MOST_FOLDERS: usize = 2000;
/// Most letters of a new folder's name.
pub const LONGEST_NAME: usize = 60;

/// A file that may hold a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Its path.
    pub path: PathBuf,
    /// The folder that it lies in, from the library's own.
    pub folder: PathBuf,
}

/// Finds every `.ron` file of a library's folder and of those inside it, folder by folder in the order of names, and says what it did not look into.
///
/// Links are followed; a folder that was looked into already is passed over, so that links in a circle end, and so do folders deeper than [`DEEPEST`] and more than [`MOST_FOLDERS`], which is told.
/// Folders whose name begins with a dot are another program's.
pub fn walk(library: &Path) -> (Vec<Found>, Vec<LibraryProblem>) {
    let mut walk = Walk::default();
    walk.folder(library, Path::new(""), 0);
    if walk.is_cut_short {
        walk.problems.push(LibraryProblem {
            path: library.to_path_buf(),
            message: format!("This library has more than {MOST_FOLDERS} folders, and the others were not looked into"),
        });
    }
    (walk.found, walk.problems)
}

#[derive(Default)]
struct Walk {
    found: Vec<Found>,
    problems: Vec<LibraryProblem>,
    /// Folders that were looked into, by what they are behind every link.
    seen: BTreeSet<PathBuf>,
    /// True once there were too many.
    is_cut_short: bool,
}

impl Walk {
    /// Looks into one folder, then into those inside it.
    fn folder(&mut self, library: &Path, folder: &Path, depth: usize) {
        let here = library.join(folder);
        if depth > DEEPEST {
            let message = format!("Folders more than {DEEPEST} deep are not looked into for blower tables");
            self.problems.push(LibraryProblem { path: here, message });
            return;
        }
        if self.seen.len() >= MOST_FOLDERS {
            self.is_cut_short = true;
            return;
        }
        match contents(&here) {
            Ok(contents) if self.seen.insert(contents.behind_links.clone()) => {
                let file = |path| Found { path, folder: folder.to_path_buf() };
                self.found.extend(contents.files.into_iter().map(file));
                contents.folders.iter().for_each(|name| self.folder(library, &folder.join(name), depth + 1));
            }
            Ok(_looked_into_already) => {}
            Err(error) if depth == 0 && error.kind() == ErrorKind::NotFound => {}
            Err(error) => self.problems.push(folder_problem(&here, &error)),
        }
    }
}

/// That a folder cannot be read, and why.
#[expect(clippy::wildcard_enum_match_arm, reason = "the system has dozens of other errors and may get more")]
pub(super) fn folder_problem(folder: &Path, error: &io::Error) -> LibraryProblem {
    let why = match error.kind() {
        ErrorKind::NotADirectory => "it is not a folder".to_owned(),
        ErrorKind::PermissionDenied => "there is no permission to read it".to_owned(),
        _ => format!("the system said \"{}\"", plain_file::said(error)),
    };
    LibraryProblem {
        path: folder.to_path_buf(),
        message: format!("This folder of blower tables cannot be read: {why}"),
    }
}

/// What lies in a folder, in the order of names.
struct Contents {
    behind_links: PathBuf,
    files: Vec<PathBuf>,
    folders: Vec<PathBuf>,
}

fn contents(folder: &Path) -> io::Result<Contents> {
    let (mut files, mut folders) = (Vec::new(), Vec::new());
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let path = entry.path();
        if is_table(&path) {
            files.push(path);
        } else if is_folder(&entry) && !entry.file_name().to_string_lossy().starts_with('.') {
            folders.push(PathBuf::from(entry.file_name()));
        }
    }
    files.sort();
    folders.sort();
    Ok(Contents { behind_links: folder.canonicalize()?, files, folders })
}

fn is_table(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("ron"))
}

/// True for a folder, and for a link that leads to one.
fn is_folder(entry: &fs::DirEntry) -> bool {
    let behind_link = || fs::metadata(entry.path()).is_ok_and(|about| about.is_dir());
    entry.file_type().is_ok_and(|kind| kind.is_dir() || kind.is_symlink() && behind_link())
}

/// A folder as a person reads it: "Furnaces / Two-stage"; empty for the library's own.
pub fn words(folder: &Path) -> String {
    let parts = folder.components().map(|part| part.as_os_str().to_string_lossy().into_owned());
    parts.collect::<Vec<_>>().join(" / ")
}

/// The folder that a table goes to: `inside` itself where no name is typed, else one of that name in it.
///
/// A folder that is among `there` under a name with other capitals is meant by it, for not every disk tells them apart.
///
/// # Errors
/// One sentence where a folder cannot be named so, or would lie too deep.
pub fn named(inside: &Path, typed: &str, there: &[&Path]) -> Result<PathBuf> {
    let name = typed.trim();
    if name.is_empty() {
        return Ok(inside.to_path_buf());
    }
    check_name(name)?;
    let folder = inside.join(name);
    if folder.components().count() > DEEPEST {
        bail!("\"{name}\" would lie more than {DEEPEST} folders deep; choose a folder nearer to the library's own");
    }
    let small = words(&folder).to_lowercase();
    let same = there.iter().find(|other| words(other).to_lowercase() == small);
    Ok(same.map_or(folder, |same| same.to_path_buf()))
}

/// Names that mean a device on some systems, whatever stands behind a dot.
const RESERVED: [&str; 22] = [
    "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "lpt1", "lpt2",
    "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];
/// Letters that some systems keep for themselves.
const NOT_IN_A_NAME: [char; 9] = ['/', '\\', ':', '*', '?', '"', '<', '>', '|'];

/// Refuses a name that a folder cannot have on every system.
fn check_name(name: &str) -> Result<()> {
    let letters = name.chars().count();
    let before_dot = name.split('.').next().unwrap_or_default().trim_end().to_lowercase();
    if letters > LONGEST_NAME {
        bail!("A folder's name has at most {LONGEST_NAME} letters; this one has {letters}");
    } else if let Some(letter) = name.chars().find(|letter| NOT_IN_A_NAME.contains(letter)) {
        bail!("A folder's name cannot have {letter} in it; type a plain name, such as Furnaces");
    } else if name.chars().any(char::is_control) {
        bail!("A folder's name is one line of letters and digits; type a plain name, such as Furnaces");
    } else if name.starts_with('.') || name.ends_with('.') {
        bail!("\"{name}\" begins or ends with a dot, which a folder's name cannot; type it without");
    } else if RESERVED.contains(&before_dot.as_str()) {
        bail!("\"{name}\" is a name that some systems keep for a device; give the folder another name");
    } else if is_table(Path::new(name)) {
        bail!("\"{name}\" ends as a table's file does; give the folder a name without that ending");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_name_makes_a_folder_and_a_bad_one_a_sentence() {
        let there = [Path::new(""), Path::new("Furnaces"), Path::new("Furnaces/Two-stage")];
        let check = |inside: &str, typed: &str, expected: &str| {
            assert_eq!(named(Path::new(inside), typed, &there).unwrap(), PathBuf::from(expected), "{typed:?}");
        };
        check("", "", "");
        check("Furnaces", "  ", "Furnaces");
        check("", " Heat pumps, 3½ ton ", "Heat pumps, 3½ ton");
        check("Furnaces", "80 %", "Furnaces/80 %");
        check("", "furnaces", "Furnaces");
        check("Furnaces", "TWO-stage", "Furnaces/Two-stage");
        check("", "Console", "Console");
        let long = "x".repeat(61);
        for (typed, word) in [
            ("a/b", "cannot have / in it"),
            ("a\\b", "cannot have \\ in it"),
            ("C:", "cannot have : in it"),
            ("what?", "cannot have ? in it"),
            ("..", "begins or ends with a dot"),
            (".hidden", "begins or ends with a dot"),
            ("old.", "begins or ends with a dot"),
            ("CON", "keep for a device"),
            ("com1.tables", "keep for a device"),
            ("nul ", "keep for a device"),
            ("a\tb", "one line of letters"),
            ("x.RON", "ends as a table's file does"),
            (long.as_str(), "at most 60 letters; this one has 61"),
        ] {
            let refused = named(Path::new(""), typed, &there).unwrap_err().to_string();
            assert!(refused.contains(word) && !refused.ends_with('.'), "{typed:?}: {refused}");
        }
        let deep: PathBuf = ["a"; DEEPEST].iter().collect();
        let refused = named(&deep, "b", &there).unwrap_err().to_string();
        assert!(refused.contains("more than 8 folders deep"), "{refused}");
    }
}
