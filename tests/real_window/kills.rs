//! Scripted kills of the real program: at random moments, in the middle of saves, while a table is typed, with two windows on one job.
//!
//! A kill may lose what was typed in the last [`MAY_BE_LOST`] and never a file.
//! `TAPCROSS_KILLS` says how many rounds, `TAPCROSS_FUZZ_SEED` from which seed.

use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, Instant};

use fastrand::Rng;
use tapcross::files::{autosave, blower_file, demo, job_file, settings};
use tapcross::model::facts::air_path::RETURN_PORT;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::units::Pressure;

use crate::desktop::{Desktop, Program, until};
use crate::{command, number_said, seed_said};

/// Rounds where nobody says how many: one of each kind.
const USUAL_KILLS: u64 = 4;
/// What a kill may lose.
const MAY_BE_LOST: Duration = Duration::from_secs(5);
/// What a machine that draws in software may take from the key to the job, and from the clock to the disk.
const SLACK: Duration = Duration::from_secs(2);
/// Seconds from the first key to the kill in a round that looks whether old work is kept.
const LONG: std::ops::Range<f64> = 7.3..9.0;
/// The same in a round that only looks for the unluckiest moment.
const SHORT: std::ops::Range<f64> = 0.3..3.0;
/// Time that a field needs to come under the hand.
const FIELD_COMES: &str = "0.5";
/// Least reading that is typed, in ten-thousandths of an inch of water.
const FIRST_READING: usize = 1000;
/// Least number that is typed into a table.
const FIRST_CELL: usize = 1000;
/// Age past which the next start sweeps what a killed save has left, and a little more.
const PART_IS_OLD: Duration = Duration::from_mins(1);

/// What a round does until the kill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// Readings, one after another.
    Typing,
    /// The same, saved again and again.
    Saving,
    /// Cells of the table editor.
    Table,
    /// Two windows of the same job, by turns.
    TwoWindows,
}

impl Kind {
    const ALL: [Self; 4] = [Self::Typing, Self::Saving, Self::Table, Self::TwoWindows];
}

/// One thing typed: what, in which window, and when it had been sent.
#[derive(Debug)]
struct Typed {
    number: usize,
    window: usize,
    sent: Instant,
}

/// One round on files of its own.
struct Round<'a> {
    desktop: &'a Desktop,
    folder: PathBuf,
    kind: Kind,
    programs: Vec<Program>,
    typed: Vec<Typed>,
}

/// Kills the program in every way, as often as is said.
pub(crate) fn lose_next_to_nothing(desktop: &Desktop, folder: &Path) {
    let seed = seed_said();
    let rounds = number_said("TAPCROSS_KILLS").unwrap_or(USUAL_KILLS);
    println!("{rounds} kills from seed {seed}");
    let mut rng = Rng::with_seed(seed);
    for (number, kind) in (0..rounds).zip(Kind::ALL.into_iter().cycle()) {
        let is_long = number % 12 < 4;
        let seconds = if is_long { LONG } else { SHORT };
        let wait = Duration::from_secs_f64(seconds.start + (seconds.end - seconds.start) * rng.f64());
        println!("kill {number}: {kind:?} for {:.2} s", wait.as_secs_f64());
        let round = Round::begin(desktop, &folder.join(number.to_string()), kind);
        round.run(wait, &mut rng);
    }
}

impl Drop for Round<'_> {
    /// Shows where a round broke.
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.desktop.keep_picture(concat!(env!("CARGO_TARGET_TMPDIR"), "/kill.png"));
        }
    }
}

impl<'a> Round<'a> {
    fn begin(desktop: &'a Desktop, folder: &Path, kind: Kind) -> Self {
        let mut round = Self { desktop, folder: folder.to_path_buf(), kind, programs: Vec::new(), typed: Vec::new() };
        round.lay_files();
        let windows = if kind == Kind::TwoWindows { 2 } else { 1 };
        for _ in 0..windows {
            let program = round.start();
            round.programs.push(program);
        }
        round
    }

    fn data(&self) -> PathBuf {
        self.folder.join("data")
    }

    fn job(&self) -> PathBuf {
        self.folder.join("house.ron")
    }

    /// Files that no kill may harm.
    fn others(&self) -> [(PathBuf, String); 2] {
        let table = demo::heat_pump().machine.expect("the demo has a machine");
        let own = self.data().join("blowers").join("own.ron");
        [(own, blower_file::write(&table)), (self.folder.join("precious.txt"), "precious".to_owned())]
    }

    fn lay_files(&self) {
        std::fs::create_dir_all(self.data().join("blowers")).expect("folders within a temporary one");
        for (path, text) in self.others() {
            std::fs::write(path, text).expect("a file in a temporary folder");
        }
        job_file::save(&self.job(), &demo::heat_pump()).expect("the demo is saved");
    }

    fn start(&self) -> Program {
        let mut command = command(&self.data());
        command.arg(self.job());
        let program = self.desktop.run(command);
        until("the job in the title", || {
            program.must_run();
            self.desktop.title(&program).contains("Alder Street").then_some(())
        });
        program
    }

    fn run(mut self, wait: Duration, rng: &mut Rng) {
        self.open();
        let began = Instant::now();
        while began.elapsed() < wait {
            self.burst(rng);
            let left = wait.saturating_sub(began.elapsed());
            sleep(left.min(Duration::from_millis(rng.u64(..200))));
        }
        let killed = self.kill(rng);
        self.check_files();
        self.check_work(killed);
        self.check_next_start();
    }

    /// What has to be open before the typing begins.
    fn open(&self) {
        if self.kind == Kind::Table {
            let before = self.desktop.still_picture();
            self.desktop.keys(&["ctrl+t"]);
            until("the table editor", || before.differs_from(&self.desktop.picture()).then_some(()));
            self.desktop.still_picture();
            self.desktop.type_text("Typed");
            self.desktop.keys(&["Return"]);
            self.desktop.still_picture();
        }
    }

    /// One reading or one cell, and what goes with it.
    fn burst(&mut self, rng: &mut Rng) {
        let (number, window) = (self.typed.len(), self.typed.len() % self.programs.len());
        if self.kind == Kind::Table {
            let text = (FIRST_CELL + number).to_string();
            // A key that moves on waits until the letters before it are in their cell: both in one picture would mix them up.
            self.desktop.script(&[
                "type", "--args", "1", "--delay", "8", &text, "sleep", "0.15", "key", "Tab", "sleep", "0.15",
            ]);
        } else {
            let text = format!("0.{}", FIRST_READING + number);
            if self.programs.len() > 1 {
                self.desktop.activate(&self.programs[window]);
            }
            self.type_reading(&text, &[]);
        }
        self.typed.push(Typed { number, window, sent: Instant::now() });
        if self.kind == Kind::Saving {
            let saves = ["ctrl+s"; 6];
            let words = [&["key", "--delay", "15"], &saves[..rng.usize(1..6)]].concat();
            self.desktop.script(&words);
            until("a saved job", || (!self.desktop.title(&self.programs[0]).contains('•')).then_some(()));
        }
    }

    /// Types a reading before the blower, and presses keys behind it at once.
    fn type_reading(&self, text: &str, then: &[&str]) {
        let typed =
            ["key", "ctrl+r", "sleep", FIELD_COMES, "key", "ctrl+a", "type", "--args", "1", "--delay", "8", text];
        self.desktop.script(&[&typed[..], &["key", "Return"], then].concat());
    }

    /// Kills every window; in the middle of a save where saves are meant.
    fn kill(&self, rng: &mut Rng) -> Instant {
        if self.kind == Kind::Saving {
            let text = format!("0.{}", FIRST_READING + self.typed.len());
            self.type_reading(&text, &["ctrl+s"]);
            sleep(Duration::from_millis(rng.u64(..120)));
        }
        let killed = Instant::now();
        self.programs.iter().for_each(Program::kill);
        killed
    }

    /// The job is whole, and is the one that was there or one that was typed; no other file has changed.
    fn check_files(&self) {
        let job = job_file::read(&self.job()).unwrap_or_else(|refused| panic!("a kill damaged the job: {refused:#}"));
        self.place_of(&job);
        for (path, text) in self.others() {
            assert_eq!(std::fs::read_to_string(&path).ok(), Some(text), "a kill damaged {}", path.display());
        }
        let (_, told) = settings::read(&self.data().join("settings.ron"));
        assert_eq!(told, None, "a kill damaged the settings");
    }

    /// Which typed reading a job has, counted from 1; 0 for the one that was there.
    fn place_of(&self, job: &Job) -> usize {
        let reading = reading_of(job).unwrap_or_else(|| panic!("the reading is gone: {:?}", job.set().readings));
        if reading_of(&demo::heat_pump()) == Some(reading) {
            return 0;
        }
        let typed: usize = format!("{:.0}", reading.in_wc().abs() * 10_000.0).parse().unwrap_or_default();
        // One more than was noted: the last burst before the kill.
        let number = typed.wrapping_sub(FIRST_READING);
        assert!(number <= self.typed.len(), "nobody typed {} in. w.c.", reading.in_wc());
        number + 1
    }

    /// What was typed earlier than a kill may lose is in the file or in an autosave.
    fn check_work(&self, killed: Instant) {
        let found = autosave::pending(&self.data().join("autosaves"));
        assert!(found.problems.is_empty(), "{:?}", found.problems);
        assert!(found.jobs.len() <= self.programs.len(), "{} jobs are offered", found.jobs.len());
        if self.kind == Kind::Table {
            return self.check_table(killed, &found);
        }
        let in_file = job_file::read(&self.job()).map(|job| self.place_of(&job)).unwrap_or_default();
        let kept: Vec<usize> = found.jobs.iter().map(|offered| self.place_of(&offered.job)).chain([in_file]).collect();
        for window in 0..self.programs.len() {
            let safe = self.safe(killed).filter(|typed| typed.window == window).last();
            let Some(safe) = safe else { continue };
            let of_window =
                |place: &&usize| place.checked_sub(1).is_some_and(|number| number % self.programs.len() == window);
            let best = kept.iter().filter(of_window).max().copied().unwrap_or_default();
            assert!(
                best > safe.number,
                "window {window}: reading {} was typed {:.1} s before the kill and is lost; kept are {kept:?}, counted from 1",
                safe.number,
                killed.duration_since(safe.sent).as_secs_f64()
            );
        }
    }

    /// What a kill may not lose.
    fn safe(&self, killed: Instant) -> impl Iterator<Item = &Typed> {
        self.typed.iter().filter(move |typed| killed.duration_since(typed.sent) > MAY_BE_LOST + SLACK)
    }

    fn check_table(&self, killed: Instant, found: &autosave::Pending) {
        let Some(last) = self.safe(killed).last() else { return };
        let [offered] = &found.jobs[..] else { panic!("{} jobs are offered", found.jobs.len()) };
        let text = std::fs::read_to_string(&offered.path).expect("an autosave can be read");
        let line = text.lines().find(|line| line.starts_with("// Table being typed: "));
        let line = line.unwrap_or_else(|| panic!("the autosave has no table in hand: {text:.300}"));
        for number in 0..=last.number {
            let cell = (FIRST_CELL + number).to_string();
            assert!(
                line.contains(&cell),
                "cell {cell} is lost, typed up to {:.1} s before the kill: {line:.2000}",
                killed.duration_since(last.sent).as_secs_f64()
            );
        }
    }

    /// The next start comes up, offers what there is, and leaves no unfinished files of the killed one.
    fn check_next_start(&self) {
        let folders = [self.folder.clone(), self.data(), self.data().join("autosaves")];
        let parts: Vec<PathBuf> = folders.iter().flat_map(|folder| parts_in(folder)).collect();
        for part in &parts {
            let old = std::time::SystemTime::now() - PART_IS_OLD;
            let file = std::fs::File::options().write(true).open(part).expect("an unfinished file can be dated");
            file.set_modified(old).expect("an unfinished file can be dated");
        }
        if parts.is_empty() {
            return;
        }
        println!("    {} unfinished files", parts.len());
        let program = self.start();
        until("a start that sweeps unfinished files", || (!parts.iter().any(|part| part.exists())).then_some(()));
        program.kill();
        self.check_files();
    }
}

/// The reading before the blower.
fn reading_of(job: &Job) -> Option<Pressure> {
    let place = ReadAt::Port(RETURN_PORT);
    let reading = job.set().readings.iter().find(|reading| reading.at == place)?;
    reading.looks.first().copied()
}

/// What a killed save has left in a folder.
fn parts_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    entries.filter(|path| path.extension().is_some_and(|ending| ending == "part")).collect()
}
