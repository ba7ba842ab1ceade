//! Writing a file so that it is at every moment either the whole old one or the whole new one.
//!
//! The new bytes go into a file of their own in the same folder, are forced to the disk, and then take the old file's name in one step.
//! A power cut, a kill or a full disk in between leaves the old file as it was.
//! The file of its own is locked while it is written, so that one left by a kill is known and can be swept away ([`sweep_parts`]).

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::time::Duration;

use anyhow::{Context as _, Result, anyhow, bail};

use crate::files::plain_file::{self, Unplain};

/// Begins and ends the name of a file that is not finished yet.
const PART: (&str, &str) = (".tapcross-", ".part");
/// A part younger than this may belong to a write that has not locked it yet.
const FRESH: Duration = Duration::from_secs(10);

/// Who may read what is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Readers {
    /// Those whom the old file let read it, or whom the person's own settings let read new files.
    AsUsual,
    /// The owner alone.
    Owner,
}

/// Writes `bytes` to `path`, whole or not at all.
///
/// Keeps the permissions of a file that is already there, and writes to the file that a symbolic link points at.
///
/// # Errors
/// One sentence that says what failed and that an old file is untouched, the path last: no write permission, write-protected file, full disk, missing folder, a folder where a file is meant.
pub fn write_atomically(path: &Path, bytes: &[u8]) -> Result<()> {
    write_with(path, |file| file.write_all(bytes))
}

/// As [`write_atomically`], and only the owner may read the file, whoever could read the old one.
///
/// # Errors
/// As [`write_atomically`].
pub fn write_privately(path: &Path, bytes: &[u8]) -> Result<()> {
    write_for(Readers::Owner, path, |file| file.write_all(bytes))
}

/// Makes a folder and those above it, each for its owner alone; one that is there stays as it is.
///
/// # Errors
/// When the system refuses.
pub fn make_private_folder(folder: &Path) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

/// Removes the unfinished files that killed writes have left in a folder; whatever stands in the way is left for a later time.
pub fn sweep_parts(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries.filter(|entry| is_part(&entry.file_name())) {
        let _left_for_a_later_time = sweep_part(&entry.path());
    }
}

/// As [`write_atomically`], with the bytes coming from `fill`; where that fails, the old file stays.
///
/// # Errors
/// As [`write_atomically`].
pub fn write_with(path: &Path, fill: impl FnOnce(&mut File) -> io::Result<()>) -> Result<()> {
    write_for(Readers::AsUsual, path, fill)
}

fn write_for(readers: Readers, path: &Path, fill: impl FnOnce(&mut File) -> io::Result<()>) -> Result<()> {
    let target = link_target(path)
        .with_context(|| format!("Not saved: the links of the path lead in a circle: {}", path.display()))?;
    let old = permissions_to_keep(&target, path)?;
    let folder = folder_of(&target);
    let old = old.filter(|_| readers == Readers::AsUsual);
    new_file(folder, readers)
        .and_then(|fresh| replace(&target, fresh, old, fill))
        .map_err(|error| anyhow!(sentence(&error, path)))?;
    sync_folder(folder)
        .with_context(|| format!("The file is written, but the disk did not confirm it: {}", path.display()))
}

/// Says for a person what a failed write means; the path comes last.
#[expect(clippy::wildcard_enum_match_arm, reason = "the system has dozens of other errors and may get more")]
pub fn sentence(error: &io::Error, path: &Path) -> String {
    let cause = match error.kind() {
        ErrorKind::PermissionDenied => "there is no permission to write in this folder".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "the space allowed to you on this disk is used up".to_owned(),
        ErrorKind::NotFound => "the folder does not exist".to_owned(),
        ErrorKind::NotADirectory => "part of the path is a file, not a folder".to_owned(),
        ErrorKind::IsADirectory => "the path is a folder, not a plain file".to_owned(),
        _ => format!("the system said \"{}\"", plain_file::said(error)),
    };
    let kept = match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory | ErrorKind::IsADirectory => "",
        _ => "; a file that was there is untouched",
    };
    format!("Not saved: {cause}{kept}: {}", path.display())
}

/// The most links that are followed one after the other; Linux allows as many.
const LINKS: usize = 40;

/// A path and where its symbolic links lead, one after the other.
pub(super) fn links(path: &Path) -> impl Iterator<Item = PathBuf> {
    let next = |here: &PathBuf| fs::read_link(here).ok().map(|next| folder_of(here).join(next));
    std::iter::successors(Some(path.to_path_buf()), next).take(LINKS)
}

/// The file that a path means once its symbolic links are followed, there or not; nothing for links in a circle.
fn link_target(path: &Path) -> Option<PathBuf> {
    links(path).last().filter(|target| fs::read_link(target).is_err())
}

/// The folder that a file lies in; a bare name lies in the present one.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Permissions of the old file, or nothing where there is none; a write-protected file and what is no plain file are refused.
fn permissions_to_keep(target: &Path, path: &Path) -> Result<Option<fs::Permissions>> {
    let old = match fs::metadata(target) {
        Ok(old) => old,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => bail!(sentence(&error, path)),
    };
    if let Some(kind) = Unplain::of(&old) {
        bail!("Not saved: the path is {kind}, not a plain file: {}", path.display());
    }
    if old.permissions().readonly() {
        bail!("Not saved: the file is write-protected and stays as it is: {}", path.display());
    }
    Ok(Some(old.permissions()))
}

/// Fills a new file beside the target and gives it the target's name.
fn replace(
    target: &Path,
    mut fresh: tempfile::NamedTempFile,
    old: Option<fs::Permissions>,
    fill: impl FnOnce(&mut File) -> io::Result<()>,
) -> io::Result<()> {
    fill(fresh.as_file_mut())?;
    if let Some(permissions) = old {
        fresh.as_file().set_permissions(permissions)?;
    }
    fresh.as_file().sync_all()?;
    fresh.persist(target).map_err(|failed| failed.error)?;
    Ok(())
}

/// A new file, locked until it is written, with the permissions that the person's own settings give to new files, or for its owner alone.
fn new_file(folder: &Path, readers: Readers) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PART.0).suffix(PART.1);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = if readers == Readers::Owner { 0o600 } else { 0o666 };
        builder.permissions(fs::Permissions::from_mode(mode));
    }
    #[cfg(not(unix))]
    let _files_are_private_by_their_folder = readers;
    let fresh = builder.tempfile_in(folder)?;
    let _never_swept_where_a_share_knows_no_locks = fresh.as_file().try_lock();
    Ok(fresh)
}

fn is_part(name: &OsStr) -> bool {
    let middle = name.to_str().and_then(|name| name.strip_prefix(PART.0)?.strip_suffix(PART.1));
    middle.is_some_and(|middle| !middle.is_empty() && middle.chars().all(|letter| letter.is_ascii_alphanumeric()))
}

/// Removes a part that nobody writes any more; nothing where it stays.
fn sweep_part(path: &Path) -> Option<()> {
    let about = fs::symlink_metadata(path).ok()?;
    // One dated in the future has no age, and is not fresh.
    let is_fresh = about.modified().is_ok_and(|at| at.elapsed().is_ok_and(|age| age < FRESH));
    if !about.is_file() || is_fresh {
        return None;
    }
    let part = plain_file::open(path).ok()?;
    part.try_lock().ok()?;
    fs::remove_file(path).ok()
}

/// Forces the folder's list of names to the disk; network shares that cannot do it are let pass.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    match File::open(folder).and_then(|open| open.sync_all()) {
        Err(error) if !is_beyond_the_share(error.kind()) => Err(error),
        _ => Ok(()),
    }
}

/// What a share answers that cannot force a folder to the disk, or a folder that may be written but not listed.
#[cfg(unix)]
fn is_beyond_the_share(kind: ErrorKind) -> bool {
    matches!(kind, ErrorKind::Unsupported | ErrorKind::InvalidInput | ErrorKind::PermissionDenied)
}

/// Elsewhere a folder cannot be forced to the disk by itself.
#[cfg(not(unix))]
fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    fn refusal(path: &Path) -> String {
        let refused = write_atomically(path, b"new").unwrap_err().to_string();
        assert!(refused.ends_with(&path.display().to_string()), "{refused}");
        refused
    }

    #[test]
    fn a_new_file_and_a_replaced_one_hold_the_new_bytes() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        for bytes in [&b"first, and longer"[..], b"second"] {
            write_atomically(&path, bytes).unwrap();
            assert_eq!(fs::read(&path).unwrap(), bytes);
        }
        assert_eq!(names(folder.path()), ["house.ron"]);
    }

    #[test]
    fn a_write_that_breaks_off_halfway_leaves_the_old_file_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        write_atomically(&path, b"old").unwrap();
        let broken = write_with(&path, |file| {
            file.write_all(b"half of the n")?;
            Err(ErrorKind::StorageFull.into())
        });
        let said = broken.unwrap_err().to_string();
        assert!(said.starts_with("Not saved: the disk is full; a file that was there is untouched: "), "{said}");
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(names(folder.path()), ["house.ron"]);
    }

    /// The system's own full device gives the error that a full disk gives.
    #[cfg(target_os = "linux")]
    #[test]
    fn the_systems_own_full_disk_error_is_told_as_a_full_disk() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        let full = write_with(&path, |_| File::options().write(true).open("/dev/full")?.write_all(b"new"));
        assert!(full.unwrap_err().to_string().contains("the disk is full"));
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn every_refusal_says_its_cause_and_ends_with_the_path() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a file");
        write_atomically(&file, b"old").unwrap();
        assert!(refusal(&folder.path().join("missing").join("house.ron")).contains("the folder does not exist"));
        assert!(refusal(&file.join("house.ron")).contains("part of the path is a file"));
        assert!(refusal(folder.path()).contains("the path is a folder"));
        assert_eq!(fs::read(&file).unwrap(), b"old");
    }

    #[test]
    fn a_folder_without_write_permission_is_told_as_that() {
        let path = Path::new("locked").join("house.ron");
        let told = sentence(&ErrorKind::PermissionDenied.into(), &path);
        assert!(told.starts_with("Not saved: there is no permission to write in this folder; "), "{told}");
        assert!(told.ends_with(&path.display().to_string()), "{told}");
    }

    #[cfg(unix)]
    #[test]
    fn permissions_are_kept_and_links_are_followed() {
        use std::os::unix::fs::{PermissionsExt as _, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("house.ron"), folder.path().join("link.ron"));
        fs::write(&path, b"old").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        symlink("house.ron", &link).unwrap();
        write_atomically(&link, b"new").unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_that_leads_nowhere_yet_makes_the_file_it_names() {
        let folder = tempfile::tempdir().unwrap();
        let link = folder.path().join("link.ron");
        std::os::unix::fs::symlink("house.ron", &link).unwrap();
        write_atomically(&link, b"new").unwrap();
        assert_eq!(fs::read(folder.path().join("house.ron")).unwrap(), b"new");
    }

    #[cfg(unix)]
    #[test]
    fn links_in_a_circle_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let link = folder.path().join("link.ron");
        std::os::unix::fs::symlink("link.ron", &link).unwrap();
        assert!(refusal(&link).contains("in a circle"));
    }

    /// A part of the given age in seconds; a negative one is dated in the future.
    fn part(folder: &Path, name: &str, age: i64) -> File {
        let file = File::create(folder.join(name)).unwrap();
        let now = std::time::SystemTime::now();
        let distance = Duration::from_secs(age.unsigned_abs());
        file.set_modified(if age < 0 { now + distance } else { now - distance }).unwrap();
        file
    }

    #[test]
    fn parts_that_nobody_writes_any_more_are_swept_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        drop(part(folder.path(), ".tapcross-Ab12Cd.part", 60));
        drop(part(folder.path(), ".tapcross-future.part", -86_400));
        let written = part(folder.path(), ".tapcross-locked.part", 60);
        written.try_lock().unwrap();
        let others =
            [(".tapcross-fresh0.part", 0), (".tapcross-my own.part", 60), ("a.part", 60), (".tapcross-a.ron", 60)];
        for (name, age) in others {
            drop(part(folder.path(), name, age));
        }
        fs::create_dir(folder.path().join(".tapcross-folder.part")).unwrap();
        sweep_parts(folder.path());
        let left = [
            ".tapcross-a.ron",
            ".tapcross-folder.part",
            ".tapcross-fresh0.part",
            ".tapcross-locked.part",
            ".tapcross-my own.part",
            "a.part",
        ];
        assert_eq!(names(folder.path()), left);
        written.unlock().unwrap();
        sweep_parts(folder.path());
        assert!(!folder.path().join(".tapcross-locked.part").exists());
        sweep_parts(&folder.path().join("missing"));
    }

    #[test]
    fn a_part_is_locked_while_it_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        write_with(&path, |file| {
            file.write_all(b"half")?;
            file.set_modified(std::time::SystemTime::now() - Duration::from_mins(1))?;
            sweep_parts(folder.path());
            assert_eq!(names(folder.path()).len(), 1, "a part in use was swept away");
            file.write_all(b" and whole")
        })
        .unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"half and whole");
    }

    #[cfg(unix)]
    #[test]
    fn what_is_written_privately_is_for_its_owner_alone() {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        let folder = tempfile::tempdir().unwrap();
        let own = folder.path().join("made").join("here");
        make_private_folder(&own).unwrap();
        assert_eq!((mode(&own), mode(own.parent().unwrap())), (0o700, 0o700));
        let path = own.join("settings.ron");
        write_privately(&path, b"new").unwrap();
        assert_eq!(mode(&path), 0o600);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
        write_privately(&path, b"newer").unwrap();
        assert_eq!(mode(&path), 0o600);
        fs::set_permissions(&own, fs::Permissions::from_mode(0o755)).unwrap();
        make_private_folder(&own).unwrap();
        assert_eq!(mode(&own), 0o755, "a folder that was there stays as it was");
    }

    #[test]
    fn a_write_protected_file_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        fs::write(&path, b"old").unwrap();
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        assert!(refusal(&path).contains("write-protected"));
        assert_eq!(fs::read(&path).unwrap(), b"old");
    }
}
