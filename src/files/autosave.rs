//! Autosave: the open job, written beside the person's own file and never over it, and found again after a crash.
//!
//! Each running window has one file and one lock in the autosave folder. The system lets go of a lock when its process ends, however it ends;
//! so a file whose lock is free belongs to nobody any more and is offered for recovery.
//! An autosave is a job file with comments in front, so it also opens as a job:
//!
//! ```text
//! // Autosave of "house.ron"                        (or: of a job without a file)
//! // The file when it was opened: 85944171f73967e8  (left out: not known)
//! // Table being typed: {…}                         (left out: none; see `table_text`)
//! ```

use std::fs::{self, File, TryLockError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use anyhow::{Context as _, Result, anyhow, bail};

use crate::files::atomic_write::{make_private_folder, write_privately};
use crate::files::fingerprint::Fingerprint;
use crate::files::plain_file::Unplain;
use crate::files::{job_file, table_text};
use crate::model::facts::job::Job;
use crate::model::typed::table_draft::TableInHand;

/// Begins the first line, before the original path.
const ORIGIN: &str = "// Autosave of ";
/// Begins the line that says what the original was when it was opened.
const OPENED: &str = "// The file when it was opened: ";
/// Begins the line of a half-typed table.
const TABLE: &str = "// Table being typed: ";
/// Begins the sentence of an autosave that cannot be read.
const UNREADABLE: &str = "An autosave cannot be read and is left where it is; ";
/// Stands for the path of a job that has no file yet.
const NO_FILE: &str = "a job without a file";
/// A lock without an autosave is swept away at this age; a younger one may belong to a window that is just opening.
const STALE: Duration = Duration::from_hours(24);

/// Names a window among all that ever ran: its process and when it started.
pub fn window_id(process: u32, started: SystemTime) -> String {
    let since = started.duration_since(UNIX_EPOCH).unwrap_or_default();
    format!("{process}-{}", since.as_millis())
}

/// What a window has in hand.
#[derive(Clone, Copy, Debug)]
pub struct Work<'a> {
    /// The job.
    pub job: &'a Job,
    /// The person's own file, which is only named; a path that is no text is left out, and the job is then recovered as one without a file.
    pub original: Option<&'a Path>,
    /// What that file was when it was opened or last saved.
    pub opened: Option<Fingerprint>,
    /// A table that is not in the job yet.
    pub table: Option<&'a TableInHand>,
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
        make_private_folder(folder)
            .with_context(|| format!("No autosave, for its folder cannot be made: {}", folder.display()))?;
        let file = folder.join(format!("{id}.ron"));
        match Lock::take(&file) {
            Ok(Some(lock)) => Ok(Self { file, lock }),
            Ok(None) => bail!("No autosave, for another window holds its place: {}", file.display()),
            Err(error) => bail!("No autosave, for its place cannot be locked ({error}): {}", file.display()),
        }
    }

    /// Writes what there is, whole or not at all; a folder that was removed meanwhile is made again.
    ///
    /// # Errors
    /// When the place cannot be taken again, and as [`write_privately`].
    pub fn write(&mut self, work: &Work<'_>) -> Result<()> {
        if !self.lock.path.exists() {
            *self = Self::begin(folder_of(&self.file), &self.id())?;
        }
        write_privately(&self.file, format!("{}{}", head(work), job_file::write(work.job)).as_bytes())
    }

    fn id(&self) -> String {
        self.file.file_stem().unwrap_or_default().to_string_lossy().into_owned()
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
    /// What the person's own file was when it was opened or last saved.
    pub opened: Option<Fingerprint>,
    /// A table that was not in the job yet.
    pub table: Option<TableInHand>,
    /// The person's own file as it is now.
    pub original_now: Original,
    lock: Lock,
}

/// What the person's own file is now, beside an autosave of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Original {
    /// There was none, or it is gone or no job any more.
    Gone,
    /// It says what the autosave says.
    Same,
    /// It says something else, and was written at this time.
    Other(SystemTime),
}

impl Recovered {
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
    /// Why each autosave that cannot be read is not ([`job_file::told`] says it in the units shown); its file is left where it is.
    pub problems: Vec<anyhow::Error>,
}

/// Looks for autosaves whose windows no longer run; a folder that is not there holds none.
pub fn pending(folder: &Path) -> Pending {
    let mut found = Pending::default();
    let paths = match paths_in(folder) {
        Ok(paths) => paths,
        Err(error) => {
            found.problems.push(anyhow!("Autosaves cannot be looked for ({error}): {}", folder.display()));
            return found;
        }
    };
    sweep_stale_locks(&paths);
    for path in paths.iter().filter(|path| has_ending(path, "ron")) {
        match recover(path) {
            Ok(Some(job)) => found.jobs.push(job),
            Ok(None) => {}
            Err(problem) => found.problems.push(problem),
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
    let head = read_head(&text).map_err(|why| anyhow!("{UNREADABLE}{why}: {}", path.display()))?;
    let job = job_file::parse(&text).map_err(|why| job_file::not_taken(UNREADABLE, why, path))?;
    let modified = fs::metadata(path).and_then(|about| about.modified()).unwrap_or(UNIX_EPOCH);
    let Head { original, opened, table } = head;
    let original_now = original.as_deref().map_or(Original::Gone, |path| original_beside(path, &job));
    Ok(Some(Recovered { job, original, path: path.to_path_buf(), modified, opened, table, original_now, lock }))
}

/// Holds the person's own file, as it is now, against an autosaved job.
fn original_beside(path: &Path, job: &Job) -> Original {
    match (job_file::read(path), fs::metadata(path).and_then(|about| about.modified())) {
        (Ok(now), _) if now == *job => Original::Same,
        (Ok(_), Ok(written)) => Original::Other(written),
        _ => Original::Gone,
    }
}

/// The folder that an autosave lies in.
fn folder_of(file: &Path) -> &Path {
    file.parent().unwrap_or(Path::new(""))
}

/// The comments in front of the job.
fn head(work: &Work<'_>) -> String {
    let origin = match work.original.and_then(Path::to_str) {
        Some(path) => serde_json::Value::from(path).to_string(),
        None => NO_FILE.to_owned(),
    };
    let opened = work.opened.map(|opened| format!("{OPENED}{opened}\n"));
    let table = work.table.map(|table| format!("{TABLE}{}\n", table_text::write(table)));
    format!("{ORIGIN}{origin}\n{}{}", opened.unwrap_or_default(), table.unwrap_or_default())
}

/// What the comments in front of the job say.
struct Head {
    original: Option<PathBuf>,
    opened: Option<Fingerprint>,
    table: Option<TableInHand>,
}

/// Reads the comments, or says what is wrong with them.
fn read_head(text: &str) -> Result<Head, &'static str> {
    const NO_ORIGIN: &str = "its first line does not say which file it came from";
    const NO_TABLE: &str = "the line of the table that was being typed is broken";
    let first = text.lines().next().unwrap_or_default();
    let said = first.strip_prefix(ORIGIN).ok_or(NO_ORIGIN)?;
    let path = || serde_json::from_str::<String>(said).map_err(|_not_quoted| NO_ORIGIN);
    let original = if said == NO_FILE { None } else { Some(PathBuf::from(path()?)) };
    let line = |begins: &str| text.lines().take(3).find_map(|line| line.strip_prefix(begins).map(str::to_owned));
    let table = line(TABLE).map(|said| table_text::parse(&said).ok_or(NO_TABLE)).transpose()?;
    Ok(Head { original, opened: line(OPENED).and_then(|said| Fingerprint::parse(&said)), table })
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
        // Opening a pipe would wait for its other end.
        if let Some(kind) = fs::metadata(&path).ok().and_then(|about| Unplain::of(&about)) {
            return Err(std::io::Error::other(format!("its lock is {kind}, not a plain file")));
        }
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
