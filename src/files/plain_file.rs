//! Reading a file of which only the name is known: what is no plain file is refused before it is opened, and what is too large is never taken in whole.
//!
//! A pipe would be waited for, a device may never end, and either may be put in a file's place by anybody.

use std::fmt;
use std::fs::{self, File, Metadata};
use std::io::{self, ErrorKind, Read as _};
use std::path::Path;

/// Why a file is not taken in; each prints as one sentence, to which the path is added.
#[derive(Debug)]
pub enum Unread {
    /// Nothing has that name.
    Missing,
    /// Something else than a plain file has it.
    Unplain(Unplain),
    /// It has more bytes than this.
    TooLarge(u64),
    /// Its bytes are no text.
    NotText,
    /// The system does not let it be read.
    NoPermission,
    /// The system failed otherwise.
    System(io::Error),
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str("There is no such file"),
            Self::Unplain(kind) => write!(f, "This is {kind}, not a plain file"),
            Self::TooLarge(limit) => write!(f, "The file is too large: it has more than {} MB", limit / MEGABYTE),
            Self::NotText => f.write_str("The file is not text"),
            Self::NoPermission => f.write_str("There is no permission to read the file"),
            Self::System(error) => write!(f, "The file cannot be read ({})", said(error)),
        }
    }
}

impl std::error::Error for Unread {}

impl From<io::Error> for Unread {
    #[expect(clippy::wildcard_enum_match_arm, reason = "the system has dozens of other errors and may get more")]
    fn from(error: io::Error) -> Self {
        match error.kind() {
            ErrorKind::NotFound => Self::Missing,
            ErrorKind::PermissionDenied => Self::NoPermission,
            ErrorKind::IsADirectory => Self::Unplain(Unplain::Folder),
            _ => Self::System(error),
        }
    }
}

/// Bytes in a megabyte, as limits are told.
pub const MEGABYTE: u64 = 1024 * 1024;

/// What is no plain file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unplain {
    /// A folder.
    Folder,
    /// A named pipe.
    Pipe,
    /// A socket.
    Socket,
    /// A device, such as a disk, a screen or an endless row of zeros.
    Device,
    /// Something that only this system has.
    Other,
}

impl Unplain {
    /// What a thing is; nothing for a plain file.
    pub fn of(about: &Metadata) -> Option<Self> {
        match about.file_type() {
            kind if kind.is_file() => None,
            kind if kind.is_dir() => Some(Self::Folder),
            kind => Some(Self::special(kind)),
        }
    }

    #[cfg(unix)]
    fn special(kind: fs::FileType) -> Self {
        use std::os::unix::fs::FileTypeExt as _;
        match () {
            () if kind.is_fifo() => Self::Pipe,
            () if kind.is_socket() => Self::Socket,
            () if kind.is_char_device() || kind.is_block_device() => Self::Device,
            () => Self::Other,
        }
    }

    #[cfg(not(unix))]
    fn special(_kind: fs::FileType) -> Self {
        Self::Other
    }
}

impl fmt::Display for Unplain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Folder => "a folder",
            Self::Pipe => "a pipe",
            Self::Socket => "a socket",
            Self::Device => "a device",
            Self::Other => "something of the system",
        })
    }
}

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// See [`Unread`].
pub fn read_text(path: &Path, limit: u64) -> Result<String, Unread> {
    let file = open(path)?;
    if file.metadata()?.len() > limit {
        return Err(Unread::TooLarge(limit));
    }
    // The file may grow while it is read, and some say that they are empty.
    let bytes = at_most(&file, limit + 1)?;
    if bytes.len() as u64 > limit {
        return Err(Unread::TooLarge(limit));
    }
    String::from_utf8(bytes).map_err(|_binary| Unread::NotText)
}

/// Reads the first bytes of a file, at most `limit`.
///
/// # Errors
/// See [`Unread`].
pub fn read_start(path: &Path, limit: u64) -> Result<Vec<u8>, Unread> {
    Ok(at_most(&open(path)?, limit)?)
}

/// Opens a plain file for reading, without ever waiting for it.
///
/// # Errors
/// See [`Unread`].
pub fn open(path: &Path) -> Result<File, Unread> {
    must_be_plain(&fs::metadata(path)?)?;
    let file = reading().open(path)?;
    // Looked at again, for another thing may have taken its name meanwhile.
    must_be_plain(&file.metadata()?)?;
    Ok(file)
}

/// What the system says of an error, without its number.
pub fn said(error: &io::Error) -> String {
    let whole = error.to_string();
    whole.split(" (os error").next().unwrap_or_default().to_owned()
}

fn must_be_plain(about: &Metadata) -> Result<(), Unread> {
    Unplain::of(about).map_or(Ok(()), |kind| Err(Unread::Unplain(kind)))
}

fn at_most(file: &File, limit: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    file.take(limit).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Opens without waiting for the other end of a pipe.
#[cfg(unix)]
fn reading() -> fs::OpenOptions {
    use std::os::unix::fs::OpenOptionsExt as _;
    let mut options = File::options();
    options.read(true).custom_flags(libc::O_NONBLOCK);
    options
}

#[cfg(not(unix))]
fn reading() -> fs::OpenOptions {
    let mut options = File::options();
    options.read(true);
    options
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_of_the_limit_is_read_and_one_byte_more_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "12345").unwrap();
        assert_eq!(read_text(&path, 5).unwrap(), "12345");
        assert!(matches!(read_text(&path, 4), Err(Unread::TooLarge(4))));
        assert_eq!(read_start(&path, 4).unwrap(), b"1234");
    }

    /// Such a file says that it is empty, so only the reading itself can hold the limit.
    #[cfg(target_os = "linux")]
    #[test]
    fn a_file_that_says_it_is_empty_is_held_to_the_limit_while_it_is_read() {
        let path = Path::new("/proc/self/maps");
        assert_eq!(fs::metadata(path).unwrap().len(), 0);
        assert!(matches!(read_text(path, 100), Err(Unread::TooLarge(100))));
    }

    #[test]
    fn what_the_system_says_is_told_without_its_number() {
        let error = io::Error::from_raw_os_error(2);
        assert!(error.to_string().contains("os error") && !said(&error).contains("os error"), "{error}");
    }
}
