//! Autosaves, and files whose writer is killed.

use super::*;

/// Tells a copy of this test program which part to play, and where.
const ROLE: &str = "TAPCROSS_TEST_ROLE_FOLDER";

/// Runs one test of this program again in another process, as its partner.
fn partner(test: &str, folder: &Path) -> Child {
    Command::new(std::env::current_exe().unwrap())
        .args([&format!("recovery::{test}"), "--exact", "--nocapture"])
        .env(ROLE, folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Waits until the partner prints a line that ends with a word.
fn wait_for(partner: &mut Child, word: &str) {
    let lines = BufReader::new(partner.stdout.take().unwrap()).lines();
    let found = lines.map_while(Result::ok).any(|line| line.ends_with(word));
    assert!(found, "the partner never said {word}");
}

/// The folder to play the partner in, or nothing in the test itself.
fn role() -> Option<PathBuf> {
    std::env::var_os(ROLE).map(PathBuf::from)
}

fn titled(title: &str) -> Job {
    Job { title: title.to_owned(), ..Job::default() }
}

/// A job in hand, with or without a file of its own.
fn work<'a>(job: &'a Job, original: Option<&'a str>) -> Work<'a> {
    Work { job, original: original.map(Path::new), opened: None, table: None }
}

fn id(number: u64) -> String {
    autosave::window_id(4711, UNIX_EPOCH + Duration::from_millis(number))
}

#[test]
fn a_killed_window_is_offered_again_and_a_running_one_is_not() {
    if let Some(folder) = role() {
        let mut window = Autosave::begin(&folder, &id(1)).unwrap();
        window.write(&work(&titled("killed"), Some("house.ron"))).unwrap();
        println!("\nready");
        loop {
            std::thread::park();
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let mut other = partner("a_killed_window_is_offered_again_and_a_running_one_is_not", folder.path());
    wait_for(&mut other, "ready");
    assert!(autosave::pending(folder.path()).jobs.is_empty());
    other.kill().unwrap();
    other.wait().unwrap();
    let found = autosave::pending(folder.path());
    assert_eq!((found.jobs.len(), found.problems.len()), (1, 0));
    assert_eq!(found.jobs[0].job, titled("killed"));
    assert_eq!(found.jobs[0].original.as_deref(), Some(Path::new("house.ron")));
}

#[test]
fn a_writer_killed_at_any_moment_leaves_a_whole_file() {
    const LONG: usize = 3_000_000;
    if let Some(folder) = role() {
        println!("\nready");
        for byte in [b'a', b'b'].into_iter().cycle() {
            write_atomically(&folder.join("house.ron"), &vec![byte; LONG]).unwrap();
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    write_atomically(&path, &vec![b'a'; LONG]).unwrap();
    for pause in [3, 11, 26, 47, 81] {
        let mut other = partner("a_writer_killed_at_any_moment_leaves_a_whole_file", folder.path());
        wait_for(&mut other, "ready");
        std::thread::sleep(Duration::from_millis(pause));
        other.kill().unwrap();
        other.wait().unwrap();
        let bytes = fs::read(&path).unwrap();
        assert_eq!(bytes.len(), LONG);
        assert!(bytes.iter().all(|byte| *byte == bytes[0]), "a mixture of two files");
    }
}

#[test]
fn two_windows_keep_two_files_and_both_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let (first, second) = (Autosave::begin(folder.path(), &id(1)), Autosave::begin(folder.path(), &id(2)));
    let (mut first, mut second) = (first.unwrap(), second.unwrap());
    first.write(&work(&titled("one"), None)).unwrap();
    second.write(&work(&titled("two"), Some("two \"quoted\"\nlines.ron"))).unwrap();
    assert!(autosave::pending(folder.path()).jobs.is_empty(), "both windows still run");
    drop((first, second));
    let found = autosave::pending(folder.path());
    assert!(autosave::pending(folder.path()).jobs.is_empty(), "what one window looks at, another is not offered");
    let mut told: Vec<_> = found.jobs.iter().map(|one| (one.job.title.clone(), one.original.clone())).collect();
    told.sort();
    assert_eq!(told, [("one".to_owned(), None), ("two".to_owned(), Some(PathBuf::from("two \"quoted\"\nlines.ron")))]);
    found.jobs.into_iter().for_each(|one| one.discard().unwrap());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn the_same_place_is_not_given_twice() {
    let folder = tempfile::tempdir().unwrap();
    let _first = Autosave::begin(folder.path(), &id(1)).unwrap();
    let told = Autosave::begin(folder.path(), &id(1)).unwrap_err().to_string();
    assert!(told.starts_with("No autosave, for another window holds its place: "), "{told}");
}

#[test]
fn a_clean_end_leaves_nothing_and_a_discard_leaves_the_window_running() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = Autosave::begin(folder.path(), &id(1)).unwrap();
    window.discard().unwrap();
    window.write(&work(&titled("one"), None)).unwrap();
    window.discard().unwrap();
    assert!(!window.file().exists());
    window.write(&work(&titled("two"), None)).unwrap();
    window.finish().unwrap();
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn an_unreadable_autosave_is_told_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let rows = [
        ("1-1.ron", "// Autosave of a job without a file\n(tapcross_job: 1, title: \"", "cut short"),
        ("2-2.ron", &job_file::write(&titled("no origin")), "does not say which file it came from"),
        ("3-3.ron", "// Autosave of \"house.ron\"\n(tapcross_job: 5)", "newer Tapcross"),
    ];
    for (name, text, _) in rows {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let found = autosave::pending(folder.path());
    assert!(found.jobs.is_empty());
    assert_eq!(found.problems.len(), rows.len());
    for ((name, text, why), told) in rows.iter().zip(&found.problems) {
        let told = told.to_string();
        assert!(told.contains(why) && told.ends_with(name), "{told}");
        assert_eq!(fs::read_to_string(folder.path().join(name)).unwrap(), *text);
    }
}

#[test]
fn the_file_as_it_is_now_is_held_against_its_autosave() {
    let folder = tempfile::tempdir().unwrap();
    let original = folder.path().join("house.ron");
    let autosaves = folder.path().join("autosaves");
    let opened = Some(job_file::save(&original, &titled("saved")).unwrap());
    let now = || {
        let found = autosave::pending(&autosaves).jobs.pop().unwrap();
        assert_eq!(found.opened, opened);
        found.original_now
    };
    let mut window = Autosave::begin(&autosaves, &id(1)).unwrap();
    window.write(&Work { job: &titled("edited"), original: Some(&original), opened, table: None }).unwrap();
    drop(window);
    let written = fs::metadata(&original).unwrap().modified().unwrap();
    assert_eq!(now(), Original::Other(written));
    job_file::save(&original, &titled("edited")).unwrap();
    assert_eq!(now(), Original::Same);
    fs::remove_file(&original).unwrap();
    assert_eq!(now(), Original::Gone);
}

#[test]
fn a_half_typed_table_comes_back_beside_its_job() {
    let folder = tempfile::tempdir().unwrap();
    let mut draft = TableDraft::empty();
    draft.head.name = "Attic\ntwin".to_owned();
    let table = TableInHand { what_for: TableFor::OtherMachine(None), draft };
    let mut window = Autosave::begin(folder.path(), &id(1)).unwrap();
    window.write(&Work { table: Some(&table), ..work(&titled("house"), None) }).unwrap();
    let path = window.file().to_path_buf();
    drop(window);
    let found = autosave::pending(folder.path()).jobs.pop().unwrap();
    assert_eq!((found.job, found.table), (titled("house"), Some(table)));
    assert_eq!(job_file::read(&path).unwrap(), titled("house"));
}

#[test]
fn a_folder_removed_under_a_running_window_is_made_again() {
    let folder = tempfile::tempdir().unwrap();
    let autosaves = folder.path().join("autosaves");
    let mut window = Autosave::begin(&autosaves, &id(1)).unwrap();
    fs::remove_dir_all(&autosaves).unwrap();
    window.write(&work(&titled("one"), None)).unwrap();
    assert!(autosave::pending(&autosaves).jobs.is_empty(), "the window runs and holds its place");
    drop(window);
    assert_eq!(autosave::pending(&autosaves).jobs[0].job, titled("one"));
}

#[test]
fn a_lock_left_by_a_crash_before_the_first_autosave_is_swept_after_a_day() {
    let folder = tempfile::tempdir().unwrap();
    let make = |name: &str, age: u64| {
        let file = fs::File::create(folder.path().join(name)).unwrap();
        file.set_modified(SystemTime::now() - Duration::from_secs(age)).unwrap();
    };
    make("old.lock", 48 * 3600);
    make("fresh.lock", 60);
    assert!(autosave::pending(folder.path()).problems.is_empty());
    let left: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left, [OsStr::new("fresh.lock")]);
}

#[test]
fn a_folder_that_is_not_there_holds_no_autosaves() {
    let folder = tempfile::tempdir().unwrap();
    let found = autosave::pending(&folder.path().join("none"));
    assert!(found.jobs.is_empty() && found.problems.is_empty());
}

#[test]
fn an_autosave_also_opens_as_a_job() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = Autosave::begin(folder.path(), &id(1)).unwrap();
    let job = job_file::parse(GOLDEN).unwrap();
    window.write(&work(&job, Some("house.ron"))).unwrap();
    assert_eq!(job_file::read(window.file()).unwrap(), job);
}
