//! Writing a person's own tables: a new one, one in the place of another, one into another folder.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use super::LARGEST;
use crate::files::atomic_write::write_atomically;
use crate::files::blower_file;
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::model::facts::blower::BlowerTable;

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

/// Reads a person's own file again.
///
/// # Errors
/// One sentence where it cannot be read or holds no table.
pub fn read_own(path: &Path) -> Result<BlowerTable> {
    let text = plain_file::read_text(path, LARGEST).map_err(|unread| anyhow!("{unread}: {}", path.display()))?;
    Ok(blower_file::parse(&text)?)
}

/// Writes a changed table over the file that its entry came from.
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

/// Most tables of one name that get files of their own beside each other.
const MOST_OF_A_NAME: u32 = 99;

/// Saves a new table of a person's own beside whatever has its name already, under the next free file name ("ah-42t-2.ron"), and gives its file.
///
/// # Errors
/// As [`save_own`].
pub fn save_beside(folder: &Path, table: &BlowerTable) -> Result<PathBuf> {
    let whole = file_name(&table.name)?;
    let stem = whole.trim_end_matches(".ron");
    let numbered = (2..=MOST_OF_A_NAME).map(|number| format!("{stem}-{number}.ron"));
    let names = std::iter::once(whole.clone()).chain(numbered);
    let free = names.map(|name| folder.join(name)).find(|path| fs::symlink_metadata(path).is_err());
    let path = free.ok_or_else(|| {
        let place = folder.display();
        anyhow!(
            "Not saved: {MOST_OF_A_NAME} files of that name are there already; give the table another name: {place}"
        )
    })?;
    let text = text_that_opens_again(&path, table)?;
    make_folder(folder)?;
    write_atomically(&path, text.as_bytes())?;
    Ok(path)
}

/// Moves a person's own file into another of the library's folders, which is made where it is not there yet; gives the new path.
///
/// # Errors
/// When a file of its name is there already, when the file is a link or gone, and when the disk refuses; the file then stays where it was.
pub fn move_own(library: &Path, file: &Path, folder: &Path) -> Result<PathBuf> {
    let here = || file.display();
    let about = fs::symlink_metadata(file).map_err(|error| {
        anyhow!("Not moved: the table's file cannot be found ({}): {}", plain_file::said(&error), here())
    })?;
    if about.is_symlink() {
        bail!("Not moved: the table's file is a link to another place; move that one instead: {}", here());
    }
    let name = file.file_name().ok_or_else(|| anyhow!("Not moved: the path names no file: {}", here()))?;
    let target = library.join(folder).join(name);
    if target == file {
        bail!("Not moved: the table lies in that folder already: {}", here());
    }
    make_folder(&library.join(folder))?;
    if fs::symlink_metadata(&target).is_ok() {
        bail!("Not moved: a file of that name is there already, and both stay as they are: {}", target.display());
    }
    let failed =
        |error: &std::io::Error| anyhow!("Not moved: the system said \"{}\": {}", plain_file::said(error), here());
    match fs::rename(file, &target) {
        // Another disk behind a link: a copy, and the old file goes once that is whole.
        Err(error) if error.kind() == std::io::ErrorKind::CrossesDevices => {
            let text =
                plain_file::read_text(file, LARGEST).map_err(|unread| anyhow!("Not moved: {unread}: {}", here()))?;
            write_atomically(&target, text.as_bytes())?;
            fs::remove_file(file).map_err(|error| failed(&error))?;
        }
        moved => moved.map_err(|error| failed(&error))?,
    }
    Ok(target)
}

/// A file name from a table's name: small letters and digits of the Latin alphabet, joined by hyphens.
///
/// # Errors
/// When the name has neither.
pub fn file_name(name: &str) -> Result<String> {
    let letters =
        name.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { ' ' });
    let words = letters.collect::<String>().split_whitespace().collect::<Vec<_>>().join("-");
    let stem: String = words.chars().take(80).collect();
    if stem.is_empty() {
        bail!("Not saved: the table's name \"{name}\" has no letter or digit to name its file by");
    }
    Ok(format!("{stem}.ron"))
}
