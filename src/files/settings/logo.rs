//! A company's own mark: a PNG that a person names, kept beside the settings as `logo.png`.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use crate::files::atomic_write::{make_private_folder, write_privately};
use crate::files::picture_file;
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::model::facts::company::Picture;
use crate::model::wording::uncapital;

/// Largest file, bytes: a mark of a few hundred pixels has some tens of thousands.
const LARGEST: u64 = 2 * MEGABYTE;
/// Most pixels along an edge: 4 in. at 500 to the inch, on a head that has 2.
const MOST_PIXELS: u32 = 2_000;
/// Least pixels along an edge: fewer are printed as bare squares.
const LEAST_PIXELS: u32 = 16;

/// Where it is kept, beside the settings.
pub fn place(settings: &Path) -> PathBuf {
    settings.with_file_name("logo.png")
}

/// The one that is kept; nothing where there is none.
///
/// # Errors
/// One sentence where what is there is no picture.
pub fn kept(settings: &Path) -> Result<Option<Picture>> {
    let place = place(settings);
    if fs::symlink_metadata(&place).is_err_and(|error| error.kind() == ErrorKind::NotFound) {
        return Ok(None);
    }
    read(&place).map(|(picture, _)| Some(picture))
}

/// Keeps a copy of a picture beside the settings.
///
/// # Errors
/// One sentence, where it is no picture, too large, or cannot be kept; the old one stays.
pub fn keep(settings: &Path, from: &Path) -> Result<Picture> {
    let (picture, bytes) = read(from)?;
    if let Some(folder) = settings.parent() {
        make_private_folder(folder).map_err(|error| {
            anyhow!("The settings' folder cannot be made ({}): {}", plain_file::said(&error), folder.display())
        })?;
    }
    write_privately(&place(settings), &bytes)?;
    Ok(picture)
}

/// Takes the kept one away.
///
/// # Errors
/// One sentence, where it cannot be removed.
pub fn forget(settings: &Path) -> Result<()> {
    let place = place(settings);
    match fs::remove_file(&place) {
        Err(error) if error.kind() != ErrorKind::NotFound => {
            bail!("The logo cannot be removed ({}): {}", plain_file::said(&error), place.display())
        }
        Ok(()) | Err(_) => Ok(()),
    }
}

fn read(path: &Path) -> Result<(Picture, Vec<u8>)> {
    let refused = |why: String| anyhow!("The logo is not taken, for {why}: {}", path.display());
    let bytes = plain_file::read_start(path, LARGEST + 1).map_err(|unread| match unread {
        Unread::Missing => refused("there is no such file".to_owned()),
        other @ (Unread::Unplain(_)
        | Unread::TooLarge(_)
        | Unread::NotText
        | Unread::NoPermission
        | Unread::System(_)) => refused(uncapital(&other.to_string())),
    })?;
    if bytes.len() as u64 > LARGEST {
        return Err(refused(format!("it is larger than {} MB", LARGEST / MEGABYTE)));
    }
    let picture = picture(&bytes).map_err(refused)?;
    Ok((picture, bytes))
}

/// The pixels of a PNG.
///
/// # Errors
/// Why it is none, too large or too small, as the end of a sentence.
pub fn picture(bytes: &[u8]) -> Result<Picture, String> {
    let picture = picture_file::png(bytes, MOST_PIXELS)?;
    let (width, height) = (picture.width, picture.height);
    if width.min(height) < LEAST_PIXELS {
        return Err(format!("it has {width} by {height} pixels; each edge takes at least {LEAST_PIXELS}"));
    }
    Ok(picture)
}
