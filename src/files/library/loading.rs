//! Reading a person's folder of tables, in one go or on a thread of its own that hands over what it has.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::thread;
use std::time::{Duration, Instant};

use super::folders::{self, Found, folder_problem};
use super::{LARGEST, LibraryEntry, LibraryProblem, Origin, usable};
use crate::files::{plain_file, ron_words};

/// Files that are read between two hand-overs.
const BATCH: usize = 256;
/// Most files of one folder that are told one by one when they cannot be used; the others are counted.
const TOLD: usize = 5;

/// What has been read of a folder.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Batch {
    /// Tables, in the order of their files' names.
    pub entries: Vec<LibraryEntry>,
    /// What could not be used.
    pub problems: Vec<LibraryProblem>,
}

/// Reads every `.ron` file of a folder and of those inside it ([`folders::walk`]), each folder's in the order of file names; a folder that does not exist yet is an empty one.
///
/// Of many problems a handful is told and the others are counted.
pub fn load_folder(folder: &Path) -> (Vec<LibraryEntry>, Vec<LibraryProblem>) {
    let mut all = Batch::default();
    read(folder, |batch| {
        all.entries.extend(batch.entries);
        all.problems.extend(batch.problems);
        Ok(())
    });
    (all.entries, all.problems)
}

/// A folder that is being read on a thread of its own; dropping it ends the reading.
#[derive(Debug)]
pub struct Loading {
    batches: Receiver<Batch>,
}

impl Loading {
    /// Begins to read as [`load_folder`] does; `wake` is called whenever there is something to [`poll`](Self::poll) and at the end.
    pub fn begin(folder: PathBuf, wake: impl Fn() + Send + 'static) -> Self {
        let (sender, batches) = mpsc::channel();
        let (to_tell, named) = (sender.clone(), folder.clone());
        let work = move || {
            read(&folder, |batch| {
                let taken = sender.send(batch).map_err(|_nobody_listens| Ended);
                wake();
                taken
            });
            drop(sender);
            wake();
        };
        if let Err(error) = thread::Builder::new().name("blower tables".to_owned()).spawn(work) {
            let _listener_is_here = to_tell.send(Batch::of_problem(folder_problem(&named, &error)));
        }
        Self { batches }
    }

    /// What has been read since the last look; nothing when there is none yet, or no more.
    pub fn poll(&self) -> Option<Batch> {
        self.batches.try_recv().ok()
    }

    /// Waits for as much as can be read in a while; gives it, and whether that is everything.
    pub fn wait(&self, longest: Duration) -> (Batch, bool) {
        let until = Instant::now() + longest;
        let mut all = Batch::default();
        loop {
            match self.batches.recv_timeout(until.saturating_duration_since(Instant::now())) {
                Ok(batch) => {
                    all.entries.extend(batch.entries);
                    all.problems.extend(batch.problems);
                }
                Err(end) => return (all, end == RecvTimeoutError::Disconnected),
            }
        }
    }
}

impl Batch {
    fn of_problem(problem: LibraryProblem) -> Self {
        Self { entries: Vec::new(), problems: vec![problem] }
    }
}

/// Nobody wants what is read any more.
struct Ended;

/// Reads a folder and those inside it batch by batch until they are read or nobody takes them.
fn read(folder: &Path, mut hand_over: impl FnMut(Batch) -> Result<(), Ended>) {
    let (files, problems) = folders::walk(folder);
    if !problems.is_empty() && hand_over(Batch { entries: Vec::new(), problems }).is_err() {
        return;
    }
    let mut unusable = 0;
    for files in files.chunks(BATCH) {
        let mut batch = Batch::default();
        for file in files {
            match load_file(file) {
                Ok(entry) => batch.entries.push(entry),
                Err(problem) if unusable < TOLD => {
                    unusable += 1;
                    batch.problems.push(problem);
                }
                Err(_counted) => unusable += 1,
            }
        }
        if hand_over(batch).is_err() {
            return;
        }
    }
    if let Some(more) = unusable.checked_sub(TOLD).filter(|more| *more > 0) {
        let _nothing_else_to_say = hand_over(Batch::of_problem(not_told(folder, more)));
    }
}

/// Stands for the problems that are not told one by one.
fn not_told(folder: &Path, more: usize) -> LibraryProblem {
    let files = if more == 1 { "file" } else { "files" };
    LibraryProblem {
        path: folder.to_path_buf(),
        message: format!("{more} more {files} in this folder cannot be used as blower tables"),
    }
}

fn load_file(Found { path, folder }: &Found) -> Result<LibraryEntry, LibraryProblem> {
    let read = plain_file::read_text(path, LARGEST).map_err(|unread| unread.to_string());
    match read.and_then(|text| usable(&text)) {
        Ok(table) => Ok(LibraryEntry::in_folder(table, Origin::Own(path.clone()), folder.clone())),
        Err(message) => Err(LibraryProblem { path: path.clone(), message: ron_words::shortened(&message) }),
    }
}
