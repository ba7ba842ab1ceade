//! Where a report goes that a person names on the command line: a plain file is replaced whole, anything else is written into as tools do.

use std::fs::{self, File, Metadata};
use std::io;
use std::path::{Path, PathBuf};

use crate::files::atomic_write::{folder_of, links, write_atomically};
use crate::files::plain_file::Unplain;

/// What a name means to which something is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutFile {
    /// A plain file, there or not yet, or a name that can be none.
    Plain,
    /// The program's own standard output, by a name such as `/dev/stdout`.
    StandardOutput,
    /// A pipe, a device, or a file that is open already, by a name such as `/dev/fd/3`: others may write to it as well.
    Stream,
}

impl OutFile {
    /// What a name means.
    pub fn of(path: &Path) -> Self {
        let Ok(about) = fs::metadata(path) else {
            return Self::Plain;
        };
        match Unplain::of(&about) {
            Some(Unplain::Folder) => Self::Plain,
            None if !is_open_already(path) => Self::Plain,
            _ if is_standard_output(&about) => Self::StandardOutput,
            _ => Self::Stream,
        }
    }
}

/// Opens a [`OutFile::Stream`] to write behind what is there; waits for the reader of a pipe, as every tool does.
///
/// # Errors
/// When the system refuses.
pub fn open(path: &Path) -> io::Result<File> {
    File::options().append(true).open(path)
}

/// Writes files whole; where one cannot be written, those that were not there before are taken away again.
///
/// # Errors
/// The file that could not be written, and why.
pub fn write_all(files: &[(PathBuf, String)]) -> Result<(), (PathBuf, anyhow::Error)> {
    let mut made = Vec::new();
    for (path, text) in files {
        let is_new = fs::symlink_metadata(path).is_err();
        if let Err(refused) = write_atomically(path, text.as_bytes()) {
            for path in made {
                let _stays_where_the_disk_refuses = fs::remove_file(path);
            }
            return Err((path.clone(), refused));
        }
        made.extend(is_new.then_some(path));
    }
    Ok(())
}

/// True where two names, links followed, are one plain file.
pub fn is_same(one: &Path, other: &Path) -> bool {
    let (Ok(first), Ok(second)) = (fs::metadata(one), fs::metadata(other)) else {
        return false;
    };
    first.is_file() && (is_one(&first, &second) || fs::canonicalize(one).ok() == fs::canonicalize(other).ok())
}

/// The name that a path has once its own links are followed, there or not.
pub fn behind_links(path: &Path) -> PathBuf {
    links(path).last().unwrap_or_default()
}

/// True for a name by which the system lends a file that is open already.
fn is_open_already(path: &Path) -> bool {
    let is_lent = |name: PathBuf| {
        let folder = folder_of(&name).canonicalize().unwrap_or_default();
        folder == Path::new("/dev/fd") || (folder.starts_with("/proc") && folder.ends_with("fd"))
    };
    links(path).any(is_lent)
}

#[cfg(unix)]
fn is_standard_output(about: &Metadata) -> bool {
    use std::os::fd::AsFd as _;
    let own = io::stdout().as_fd().try_clone_to_owned().map(File::from).and_then(|file| file.metadata());
    own.is_ok_and(|own| is_one(&own, about))
}

#[cfg(not(unix))]
fn is_standard_output(_about: &Metadata) -> bool {
    false
}

#[cfg(unix)]
fn is_one(first: &Metadata, second: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt as _;
    (first.dev(), first.ino()) == (second.dev(), second.ino())
}

#[cfg(not(unix))]
fn is_one(_first: &Metadata, _second: &Metadata) -> bool {
    false
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn a_device_is_written_into_and_a_folder_and_a_name_without_a_file_are_left_to_plain_writing() {
        let rows = [
            ("/dev/full", OutFile::Stream),
            ("/", OutFile::Plain),
            ("/nowhere/at all", OutFile::Plain),
            ("Cargo.toml", OutFile::Plain),
        ];
        for (path, expected) in rows {
            assert_eq!(OutFile::of(Path::new(path)), expected, "{path}");
        }
    }
}
