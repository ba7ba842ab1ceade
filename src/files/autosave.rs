//! Autosave: the open job, written beside the person's own file and never over it, and found again after a crash.
//!
//! Each running window has one file and one lock in the autosave folder. The system lets go of a lock when its process ends, however it ends;
//! so a file whose lock is free belongs to nobody any more and is offered for recovery.
//! An autosave is a job file with one more comment in front that says which file it came from, so it also opens as a job.

use std::fs::{self, File, TryLockError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use anyhow::{Context as _, Result, anyhow, bail};

use crate::files::atomic_write::write_atomically;
use crate::files::job_file;
use crate::model::job::Job;

/// Begins the first line, before the original path.
const ORIGIN: &str = "// Autosave of ";
/// Stands for the path of a job that has no file yet.
const NO_FILE: &str = "a job without a file";
/// A lock without an autosave is swept away at this age; a younger one may belong to a window that is just opening.
const STALE: Duration = Duration::from_hours(24);

/// Names a window among all that ever ran: its process and when it started.
pub fn window_id(process: u32, started: SystemTime) -> String {
    let since = started.duration_since(UNIX_EPOCH).unwrap_or_default();
    format!("{process}-{}", since.as_millis())
}

/// The autosave of one running window. Dropping it lets go of the lock and leaves the file for recovery.
#[derive(Debug)]
pub struct Autosave {
    file: PathBuf,
    lock: Lock,
}

impl Autosave {
    /// Takes a place in the autosave folder, which is made where it is missing; `id` as [`window_id`] gives it.
    ///
    /// # Errors
    /// When the folder cannot be made or the place cannot be locked.
    pub fn begin(folder: &Path, id: &str) -> Result<Self> {
        fs::create_dir_all(folder)
            .with_context(|| format!("No autosave, for its folder cannot be made: {}", folder.display()))?;
        let file = folder.join(format!("{id}.ron"));
        match Lock::take(&file) {
            Ok(Some(lock)) => Ok(Self { file, lock }),
            Ok(None) => bail!("No autosave, for another window holds its place: {}", file.display()),
            Err(error) => bail!("No autosave, for its place cannot be locked ({error}): {}", file.display()),
        }
    }

    /// Writes the job, whole or not at all; `original` is the person's own file, which is only named.
    ///
    /// An original path that is no text is left out: the job is then recovered as one without a file.
    ///
    /// # Errors
    /// When the job would not open again, and as [`write_atomically`].
    pub fn write(&self, job: &Job, original: Option<&Path>) -> Result<()> {
        let text = job_file::text_that_opens_again(job)
            .map_err(|refused| anyhow!("Not autosaved, for it would not open again: {refused}"))?;
        write_atomically(&self.file, format!("{}\n{text}", origin_line(original)).as_bytes())
    }

    /// Removes the autosave, after a save or when the work is thrown away on purpose; the place stays taken.
    ///
    /// # Errors
    /// When the file is there and cannot be removed.
    pub fn discard(&self) -> Result<()> {
        remove(&self.file)
    }

    /// The autosave file, there or not.
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// Ends a window's autosave for good: file, lock and all.
    ///
    /// # Errors
    /// When the file is there and cannot be removed.
    pub fn finish(self) -> Result<()> {
        remove(&self.file)?;
        self.lock.sweep();
        Ok(())
    }
}

/// A job found after a crash; while this is held, no other window is offered it.
#[derive(Debug)]
pub struct Recovered {
    /// The job as last autosaved.
    pub job: Job,
    /// The person's own file, where it had one.
    pub original: Option<PathBuf>,
    /// The autosave file.
    pub path: PathBuf,
    /// When it was autosaved.
    pub modified: SystemTime,
    lock: Lock,
}

impl Recovered {
    /// False when the person's own file is newer than the autosave, so that nothing was lost.
    pub fn is_newer_than_original(&self) -> bool {
        let saved = self.original.as_deref().map(|original| fs::metadata(original).and_then(|about| about.modified()));
        !matches!(saved, Some(Ok(saved)) if saved > self.modified)
    }

    /// Removes the autosave, once the job is saved elsewhere or nobody wants it.
    ///
    /// # Errors
    /// When the file is there and cannot be removed.
    pub fn discard(self) -> Result<()> {
        remove(&self.path)?;
        self.lock.sweep();
        Ok(())
    }
}

/// What the autosave folder holds of windows that no longer run.
#[derive(Debug, Default)]
pub struct Pending {
    /// Jobs to offer, latest first.
    pub jobs: Vec<Recovered>,
    /// A sentence for each autosave that cannot be read; its file is left where it is.
    pub problems: Vec<String>,
}

/// Looks for autosaves whose windows no longer run; a folder that is not there holds none.
pub fn pending(folder: &Path) -> Pending {
    let mut found = Pending::default();
    let paths = match paths_in(folder) {
        Ok(paths) => paths,
        Err(error) => {
            found.problems.push(format!("Autosaves cannot be looked for ({error}): {}", folder.display()));
            return found;
        }
    };
    sweep_stale_locks(&paths);
    for path in paths.iter().filter(|path| has_ending(path, "ron")) {
        match recover(path) {
            Ok(Some(job)) => found.jobs.push(job),
            Ok(None) => {}
            Err(problem) => found.problems.push(problem.to_string()),
        }
    }
    found.jobs.sort_by_key(|job| std::cmp::Reverse(job.modified));
    found
}

/// Every path in the folder, in order of name.
fn paths_in(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(error),
    };
    let mut paths = entries.map(|entry| entry.map(|entry| entry.path())).collect::<std::io::Result<Vec<_>>>()?;
    paths.sort();
    Ok(paths)
}

/// Reads an autosave, or nothing while its window runs or another window looks at it.
fn recover(path: &Path) -> Result<Option<Recovered>> {
    let lock =
        Lock::take(path).map_err(|error| anyhow!("An autosave cannot be looked at ({error}): {}", path.display()))?;
    // Looked for again under the lock: another window may have recovered and removed it meanwhile.
    let (Some(lock), true) = (lock, path.exists()) else {
        return Ok(None);
    };
    let text = job_file::read_text(path)?;
    let unreadable =
        |why: &str| anyhow!("An autosave cannot be read and is left where it is; {why}: {}", path.display());
    let original = origin(&text).map_err(unreadable)?;
    let job = job_file::parse(&text).map_err(|refused| unreadable(&refused.to_string()))?;
    let modified = fs::metadata(path).and_then(|about| about.modified()).unwrap_or(UNIX_EPOCH);
    Ok(Some(Recovered { job, original, path: path.to_path_buf(), modified, lock }))
}

/// The first line of an autosave.
fn origin_line(original: Option<&Path>) -> String {
    match original.and_then(Path::to_str) {
        Some(path) => format!("{ORIGIN}{}", serde_json::Value::from(path)),
        None => format!("{ORIGIN}{NO_FILE}"),
    }
}

/// The file that the first line names, or nothing for a job without a file; else what is wrong with the line.
fn origin(text: &str) -> Result<Option<PathBuf>, &'static str> {
    const NO_ORIGIN: &str = "its first line does not say which file it came from";
    let first = text.lines().next().unwrap_or_default();
    let said = first.strip_prefix(ORIGIN).ok_or(NO_ORIGIN)?;
    if said == NO_FILE {
        return Ok(None);
    }
    let path: String = serde_json::from_str(said).map_err(|_not_quoted| NO_ORIGIN)?;
    Ok(Some(PathBuf::from(path)))
}

/// Removes a file that may already be gone.
fn remove(path: &Path) -> Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != ErrorKind::NotFound => {
            Err(anyhow!("The autosave cannot be removed ({error}): {}", path.display()))
        }
        _ => Ok(()),
    }
}

/// A held lock beside an autosave; the system lets go of it with the process.
#[derive(Debug)]
struct Lock {
    path: PathBuf,
    held: File,
}

impl Lock {
    /// Takes the lock of an autosave, or nothing while somebody holds it.
    fn take(autosave: &Path) -> std::io::Result<Option<Self>> {
        let path = autosave.with_extension("lock");
        let held = File::options().create(true).write(true).truncate(false).open(&path)?;
        match held.try_lock() {
            Ok(()) => Ok(Some(Self { path, held })),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    /// Lets go and removes the lock's file; one that cannot be removed is swept by a later start.
    fn sweep(self) {
        let path = self.path.clone();
        drop(self);
        let _left_for_later = fs::remove_file(path);
    }
}

impl Drop for Lock {
    /// Lets go by name: a program that is being started at this moment may hold a copy of the file for an instant.
    fn drop(&mut self) {
        let _free_at_the_latest_when_closed = self.held.unlock();
    }
}

/// Removes free locks that have been without an autosave for a day.
fn sweep_stale_locks(paths: &[PathBuf]) {
    let is_stale = |path: &Path| {
        let age = fs::metadata(path).and_then(|about| about.modified()).ok().and_then(|at| at.elapsed().ok());
        age.is_some_and(|age| age > STALE) && !path.with_extension("ron").exists()
    };
    for path in paths.iter().filter(|path| has_ending(path, "lock") && is_stale(path)) {
        if let Ok(Some(lock)) = Lock::take(path) {
            lock.sweep();
        }
    }
}

fn has_ending(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|found| found == ending)
}
