//! What is no plain file is refused in a sentence and never waited for; what is too large is not taken in.
#![cfg(unix)]

use std::fs;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

use tapcross::files::atomic_write::write_atomically;
use tapcross::files::autosave;
use tapcross::files::library::{self, Library};
use tapcross::files::settings::{self, Settings};
use tapcross::files::{demo, job_file};

/// Longest that anything here may take on a busy machine; what waits for a pipe's other end waits for ever.
const PATIENCE: Duration = Duration::from_secs(20);

/// What `work` gives, unless it hangs.
fn in_time<T: Send + 'static>(what: &str, work: impl FnOnce() -> T + Send + 'static) -> T {
    let (done, waiting) = mpsc::channel();
    thread::spawn(move || done.send(work()));
    waiting.recv_timeout(PATIENCE).unwrap_or_else(|_| panic!("{what} hangs or panics"))
}

fn make_pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
}

/// One of each kind that is no plain file, all ending in `.ron`, with a word that its refusal has.
fn unplain_files(folder: &Path) -> Vec<(PathBuf, &'static str)> {
    let path = |name: &str| folder.join(name);
    make_pipe(&path("pipe.ron"));
    make_pipe(&path("pipe behind a link"));
    symlink("pipe behind a link", path("link to a pipe.ron")).unwrap();
    symlink("/dev/zero", path("link to zeros.ron")).unwrap();
    drop(UnixListener::bind(path("socket.ron")).unwrap());
    fs::create_dir(path("folder.ron")).unwrap();
    vec![
        (path("folder.ron"), "a folder"),
        (path("link to a pipe.ron"), "a pipe"),
        (path("link to zeros.ron"), "a device"),
        (path("pipe.ron"), "a pipe"),
        (path("socket.ron"), "a socket"),
    ]
}

fn check_sentence(sentence: &str, word: &str) {
    assert!(sentence.to_lowercase().contains(word), "{sentence:?} lacks {word:?}");
    assert!(!sentence.contains("os error") && !sentence.contains('\n'), "{sentence:?}");
}

#[test]
fn a_job_that_is_no_plain_file_is_refused_in_a_sentence() {
    let folder = tempfile::tempdir().unwrap();
    for (path, word) in unplain_files(folder.path()) {
        let read = {
            let path = path.clone();
            in_time("reading", move || job_file::read(&path))
        };
        check_sentence(&read.unwrap_err().to_string(), word);
        let saved = {
            let path = path.clone();
            in_time("saving", move || job_file::save(&path, &demo::heat_pump()))
        };
        check_sentence(&saved.unwrap_err().to_string(), word);
        assert!(!fs::metadata(&path).unwrap().is_file(), "{} was replaced", path.display());
    }
}

#[test]
fn a_write_never_takes_the_place_of_what_is_no_plain_file_and_never_waits_for_it() {
    let folder = tempfile::tempdir().unwrap();
    for (path, word) in unplain_files(folder.path()) {
        let written = {
            let path = path.clone();
            in_time("writing", move || write_atomically(&path, b"new"))
        };
        check_sentence(&written.unwrap_err().to_string(), word);
        assert!(!fs::metadata(&path).unwrap().is_file(), "{} was replaced", path.display());
    }
}

#[test]
fn what_is_no_plain_file_among_a_persons_tables_is_a_problem_each_and_the_rest_loads() {
    let folder = tempfile::tempdir().unwrap();
    let unplain = unplain_files(folder.path());
    let table = Library::shipped().0.entries.remove(0).table;
    library::save_own(folder.path(), &table).unwrap();
    let blowers = folder.path().to_path_buf();
    let (entries, problems) = in_time("loading", move || library::load_folder(&blowers));
    assert_eq!(entries.len(), 1);
    assert_eq!(problems.len(), unplain.len(), "{problems:?}");
    for (problem, (path, word)) in problems.iter().zip(&unplain) {
        assert_eq!(&problem.path, path);
        check_sentence(&problem.message, word);
    }
}

#[test]
fn a_table_is_not_saved_over_what_is_no_plain_file() {
    let folder = tempfile::tempdir().unwrap();
    let table = Library::shipped().0.entries.remove(0).table;
    let path = library::save_own(folder.path(), &table).unwrap();
    fs::remove_file(&path).unwrap();
    make_pipe(&path);
    let blowers = folder.path().to_path_buf();
    let refused = in_time("saving a table", move || library::save_own(&blowers, &table)).unwrap_err();
    check_sentence(&refused.to_string(), "a pipe");
}

#[test]
fn settings_that_are_no_plain_file_are_refused_in_a_sentence_and_stay() {
    let folder = tempfile::tempdir().unwrap();
    for (path, word) in unplain_files(folder.path()) {
        let read = {
            let path = path.clone();
            in_time("reading settings", move || settings::read(&path))
        };
        assert_eq!(read.0, Settings::default());
        check_sentence(&read.1.unwrap(), word);
        let saved = {
            let path = path.clone();
            in_time("saving settings", move || settings::save(&path, &Settings::default()))
        };
        check_sentence(&saved.unwrap_err().to_string(), word);
        assert!(!fs::metadata(&path).unwrap().is_file(), "{} was replaced", path.display());
    }
}

#[test]
fn an_autosave_that_is_no_plain_file_is_a_problem_and_not_waited_for() {
    let folder = tempfile::tempdir().unwrap();
    let unplain = unplain_files(folder.path());
    let autosaves = folder.path().to_path_buf();
    let problems = in_time("looking for autosaves", move || autosave::pending(&autosaves).problems);
    assert_eq!(problems.len(), unplain.len(), "{problems:?}");
    for (problem, (_, word)) in problems.iter().zip(&unplain) {
        check_sentence(&problem.to_string(), word);
    }
}

#[test]
fn a_report_of_what_is_no_plain_file_is_refused_in_a_line() {
    let folder = tempfile::tempdir().unwrap();
    for (path, word) in unplain_files(folder.path()) {
        let output = output_in_time(Command::new(env!("CARGO_BIN_EXE_tapcross")).arg("report").arg(path));
        assert_eq!(output.status.code(), Some(1));
        check_sentence(String::from_utf8(output.stderr).unwrap().trim_end(), word);
    }
}

/// What a program says, unless it hangs, in which case it is ended.
fn output_in_time(command: &mut Command) -> Output {
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let began = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if began.elapsed() > PATIENCE {
            child.kill().unwrap();
            panic!("{command:?} hangs");
        }
        thread::sleep(Duration::from_millis(20));
    }
    child.wait_with_output().unwrap()
}

/// Sparse, so that it costs no disk.
fn make_huge(path: &Path) {
    fs::File::create(path).unwrap().set_len(3_000_000_000).unwrap();
}

#[test]
fn a_file_that_is_far_too_large_is_not_taken_in() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("huge.ron");
    make_huge(&path);
    check_sentence(&job_file::read(&path).unwrap_err().to_string(), "too large");
    let (entries, problems) = library::load_folder(folder.path());
    assert_eq!((entries.len(), problems.len()), (0, 1));
    check_sentence(&problems[0].message, "too large");
    check_sentence(&settings::read(&path).1.unwrap(), "too large");
}

#[test]
fn a_job_too_large_to_open_again_is_not_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    let mut job = demo::heat_pump();
    job.notes = "n".repeat(17 * 1024 * 1024);
    check_sentence(&job_file::save(&path, &job).unwrap_err().to_string(), "too large");
    assert!(!path.exists());
}

#[test]
fn thousands_of_bad_tables_are_told_as_a_handful_and_a_count() {
    let folder = tempfile::tempdir().unwrap();
    for number in 0..2000 {
        fs::write(folder.path().join(format!("{number:04}.ron")), "no table").unwrap();
    }
    let (entries, problems) = library::load_folder(folder.path());
    assert!(entries.is_empty() && problems.len() <= 6, "{} problems", problems.len());
    let last = problems.last().unwrap();
    assert!(last.message.contains("1995 more") && last.path == folder.path(), "{last:?}");
}
