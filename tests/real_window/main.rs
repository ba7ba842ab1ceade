//! The real window, with real keys, on a virtual display: a journey from the empty job to a saved file, through a kill, to a clean end;
//! scripted kills; a storm of random events; the system's clipboard.
//!
//! It needs Xvfb, openbox, xclip, xdotool and ImageMagick's import; without them it says that it skipped,
//! unless `TAPCROSS_NEED_WINDOW` is set, as CI sets it.

mod clipboard;
mod desktop;
mod kills;
mod random_events;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Mutex, PoisonError};

use desktop::{Desktop, Program, missing_tools, until};
use tapcross::files::{autosave, job_file};
use tapcross::model::answer::Answer;
use tapcross::model::facts::job::Job;
use tapcross::model::search;
use tapcross::report::json::{self, Report};
use tapcross::units::Pressure;

/// A reading as it was typed, in inches of water, within what the file's decimals lose.
const FILE_ROUNDING_IN_WC: f64 = 1e-9;

struct Journey {
    desktop: Desktop,
    data: PathBuf,
    program: Program,
}

impl Journey {
    fn begin(data: &Path) -> Self {
        let desktop = Desktop::open();
        let program = start(&desktop, data);
        Self { desktop, data: data.to_path_buf(), program }
    }

    fn keys(&self, keys: &[&str]) {
        self.desktop.keys(keys);
    }

    /// Types a text and presses Enter, and lets the window come to rest: drawn in software it is slower than the keys.
    fn enter(&self, text: &str) {
        self.desktop.still_picture();
        self.desktop.type_text(text);
        self.keys(&["Return"]);
        self.desktop.still_picture();
    }

    fn wait_for_title(&self, what: &str, is_right: impl Fn(&str) -> bool) {
        until(what, || {
            self.program.must_run();
            is_right(&self.desktop.title(&self.program)).then_some(())
        });
    }

    /// Presses keys that open something over the window, and waits until it is there.
    fn open_with(&self, keys: &[&str]) {
        let before = self.desktop.still_picture();
        self.keys(keys);
        until(&format!("something new on the screen after {keys:?}"), || {
            self.program.must_run();
            before.differs_from(&self.desktop.picture()).then_some(())
        });
        self.desktop.still_picture();
    }

    /// Types a path into the field that stands in for a file dialog, in place of the name suggested there.
    fn answer_path(&self, keys: &[&str], path: &Path) {
        self.open_with(keys);
        self.keys(&["ctrl+a"]);
        self.enter(path.to_str().expect("a temporary path is text"));
        until(&format!("{}", path.display()), || path.exists().then_some(()));
    }

    fn autosaves(&self) -> Vec<PathBuf> {
        let folder = self.data.join("autosaves");
        let entries = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
        entries.filter(|path| path.extension().is_some_and(|ending| ending == "ron")).collect()
    }
}

/// The program; the system it sees has no file dialogs, so that it asks for typed paths.
fn command(data: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tapcross"));
    command
        .env("TAPCROSS_DATA", data)
        .env("DBUS_SESSION_BUS_ADDRESS", "unix:path=/nonexistent")
        .env("PATH", data)
        // Of a session that is gone: the window opens on the other display.
        .env("WAYLAND_DISPLAY", "wayland-of-yesterday");
    command
}

/// Starts the program on its demo job.
fn start(desktop: &Desktop, data: &Path) -> Program {
    let program = desktop.run(command(data));
    until("the demo job in the title", || {
        program.must_run();
        desktop.title(&program).contains("Alder Street").then_some(())
    });
    program
}

fn is_reading(reading: Option<Pressure>, in_wc: f64) -> bool {
    reading.is_some_and(|reading| (reading.in_wc() - in_wc).abs() < FILE_ROUNDING_IN_WC)
}

fn read(path: &Path) -> Job {
    job_file::read(path).unwrap_or_else(|refused| panic!("{refused:#}"))
}

/// Enters a machine and two readings into an empty job.
fn first_airflow(journey: &Journey) {
    journey.open_with(&["ctrl+n"]);
    journey.wait_for_title("an empty job", |title| title.starts_with("Untitled job"));
    journey.enter("42t");
    journey.wait_for_title("a job with a machine", |title| title.contains('•'));
    journey.enter(".52");
    journey.enter(".31");
}

/// Saves the job and writes its results, and holds both against the model.
fn saved_job_and_results(journey: &Journey, folder: &Path) -> PathBuf {
    let (job_path, results_path) = (folder.join("hallway return.ron"), folder.join("results.json"));
    journey.answer_path(&["ctrl+s"], &job_path);
    journey.wait_for_title("a saved job", |title| !title.contains('•'));
    let job = read(&job_path);
    assert!(is_reading(job.return_reading(), -0.52), "{:?}", job.return_reading());
    assert!(is_reading(job.supply_reading(), 0.31), "{:?}", job.supply_reading());
    let answer = Answer::checked(&job);
    let running = answer.point().expect("two readings and a tap give an operating point");
    assert!(running.now.airflow > tapcross::units::Airflow::ZERO);

    journey.answer_path(&["ctrl+e"], &results_path);
    let written = std::fs::read_to_string(&results_path).expect("the results that were just written");
    let expected = json::one(&Report::of(
        job_path.to_str().expect("a temporary path is text"),
        &job,
        &answer,
        search::to_the_end(&job),
    ));
    assert_eq!(written, expected.expect("results are JSON"), "the window's results are not the model's");
    job_path
}

/// Changes a reading, kills the program once it has autosaved, and finds the change again.
fn recovery_after_a_kill(journey: &mut Journey, job_path: &Path) {
    journey.keys(&["ctrl+r"]);
    journey.enter(".54");
    journey.wait_for_title("an unsaved change", |title| title.contains('•'));
    until("an autosave", || (!journey.autosaves().is_empty()).then_some(()));
    journey.program.kill();
    let offered = autosave::pending(&journey.data.join("autosaves"));
    assert!(offered.problems.is_empty(), "{:?}", offered.problems);
    let [found] = &offered.jobs[..] else { panic!("{} jobs are offered", offered.jobs.len()) };
    assert!(is_reading(found.job.return_reading(), -0.54), "{:?}", found.job.return_reading());
    assert_eq!(found.original.as_deref(), Some(job_path));
    assert!(is_reading(read(job_path).return_reading(), -0.52), "the file itself was changed");
    drop(offered);

    journey.program = start(&journey.desktop, &journey.data);
    journey.desktop.still_picture();
    journey.keys(&["Return"]);
    journey.wait_for_title("the recovered job", |title| title.starts_with("Untitled job •"));
    journey.keys(&["ctrl+s"]);
    journey.wait_for_title("the recovered job, saved", |title| !title.contains('•'));
    assert!(is_reading(read(job_path).return_reading(), -0.54));
}

/// A whole number that the environment says.
fn number_said(name: &str) -> Option<u64> {
    let said = std::env::var(name).ok()?;
    Some(said.parse().unwrap_or_else(|_| panic!("{name} is a whole number, not {said}")))
}

/// The seed that the environment says, or always the same one, so that a run does not fail by chance.
fn seed_said() -> u64 {
    number_said("TAPCROSS_FUZZ_SEED").unwrap_or(20_261_129)
}

/// Windows on one machine at a time: what is timed here must not wait for another test.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// Runs a test in a temporary folder, or says why it cannot.
fn in_a_folder(test: impl FnOnce(&Path)) {
    let missing = missing_tools();
    if !missing.is_empty() {
        let reason = format!("not found: {}", missing.join(", "));
        assert!(std::env::var_os("TAPCROSS_NEED_WINDOW").is_none(), "{reason}, and TAPCROSS_NEED_WINDOW is set");
        println!("skipped: {reason}");
        return;
    }
    let _turn = ONE_AT_A_TIME.lock().unwrap_or_else(PoisonError::into_inner);
    let folder = tempfile::tempdir().expect("a temporary folder");
    test(folder.path());
}

#[test]
fn a_kill_at_any_moment_loses_a_few_seconds_at_most_and_never_a_file() {
    in_a_folder(|folder| kills::lose_next_to_nothing(&Desktop::open(), folder));
}

#[test]
fn random_events_leave_the_window_alive_small_and_at_rest() {
    in_a_folder(|folder| random_events::leave_it_alive(&Desktop::open(), folder));
}

#[test]
fn from_two_readings_to_a_saved_job_and_back_after_a_kill_in_the_real_window() {
    in_a_folder(journey);
}

fn journey(folder: &Path) {
    let data = folder.join("data");
    std::fs::create_dir(&data).expect("a folder within a temporary one");
    let mut journey = Journey::begin(&data);
    journey.desktop.still_picture().assert_not_blank();
    first_airflow(&journey);
    let job_path = saved_job_and_results(&journey, folder);
    recovery_after_a_kill(&mut journey, &job_path);
    journey.keys(&["alt+F4"]);
    let status = journey.program.end();
    assert_eq!(status.code(), Some(0), "{status}");
    assert_eq!(journey.autosaves(), Vec::<PathBuf>::new(), "a clean end leaves nothing to recover");
}
