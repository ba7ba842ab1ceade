//! The kept inputs: files of the project itself, and those of `tests/fuzz/corpus`, one folder a target.

use std::fs;
use std::path::{Path, PathBuf};

use crate::campaign::number_of;

/// Longest input that a run adds to the corpus by itself, in bytes.
const LONGEST_KEPT: usize = 3000;
/// Most inputs that a run adds.
const MOST_KEPT: usize = 40;

/// A path within the project.
fn in_project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The folder of a target's own inputs.
fn own(target: &str) -> PathBuf {
    in_project("tests/fuzz/corpus").join(target)
}

/// Every file of a folder of the project, in order of name; fails where there is none.
pub(crate) fn files(folder: &str, ending: &str) -> Vec<Vec<u8>> {
    let found = files_of(&in_project(folder), ending);
    assert!(!found.is_empty(), "no {ending} files in {folder}");
    found
}

/// Every kept input of a target; fails where there is none.
pub(crate) fn of(target: &str) -> Vec<Vec<u8>> {
    let found = files_of(&own(target), "");
    assert!(!found.is_empty(), "nothing is kept for {target}");
    found
}

fn files_of(folder: &Path, ending: &str) -> Vec<Vec<u8>> {
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{error}: {}", folder.display()));
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("an entry of a folder").path()).collect();
    paths.retain(|path| path.is_file() && path.to_string_lossy().ends_with(ending));
    paths.sort();
    paths.iter().map(|path| fs::read(path).expect("a kept input can be read")).collect()
}

/// Keeps the shortest inputs that a run found new ways with.
pub(crate) fn grow(target: &str, parents: &[Vec<u8>]) {
    let mut fresh: Vec<&Vec<u8>> = parents.iter().filter(|input| input.len() <= LONGEST_KEPT).collect();
    fresh.sort_by_key(|input| (input.len(), number_of(input)));
    let there = of(target);
    for input in fresh.into_iter().filter(|input| !there.contains(input)).take(MOST_KEPT) {
        let path = own(target).join(format!("grown-{:016x}", number_of(input)));
        fs::write(path, input).expect("an input can be kept");
    }
}
