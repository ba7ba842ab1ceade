//! Random events over the whole real window: clicks, drags, wheel turns, keys, texts, sizes; never the window manager's own.
//!
//! Afterwards the program lives, has not grown, said nothing of a panic, and rests when it is left alone.
//! `TAPCROSS_STORM_SECONDS` says how long, `TAPCROSS_FUZZ_SEED` from which seed.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, Instant};

use fastrand::Rng;
use tapcross::files::{demo, job_file};

use crate::desktop::{Desktop, Program, until};
use crate::{command, number_said, seed_said};

/// Seconds where nobody says how many.
const USUAL_SECONDS: u64 = 10;
/// Most that the program may grow in the storm, in MB of resident memory; drawing in software has its own before it.
const MOST_GROWTH_MB: u64 = 200;
/// Time for messages to go and movements to end.
const COMES_TO_REST: Duration = Duration::from_secs(4);
/// Time over which rest is measured.
const AT_REST: Duration = Duration::from_secs(5);
/// Most hundredths of a second of work in that time: under 2 % of a core.
const MOST_TICKS: u64 = 10;
/// Actions in one burst.
const BURST: usize = 12;
/// Window sizes; the least is what the window allows.
const SIZES: [(u32, u32); 5] = [(480, 360), (700, 850), (1000, 500), (1280, 720), (1400, 840)];
/// The size while the program is left alone.
const LAST_SIZE: (u32, u32) = (1200, 780);

/// Every shortcut of the program but the one that ends it, and the keys of fields, menus and lists.
const KEYS: &[&str] = &[
    "ctrl+n",
    "ctrl+o",
    "ctrl+s",
    "ctrl+shift+s",
    "ctrl+d",
    "ctrl+e",
    "ctrl+z",
    "ctrl+z",
    "ctrl+shift+z",
    "ctrl+b",
    "ctrl+t",
    "ctrl+shift+t",
    "ctrl+f",
    "ctrl+plus",
    "ctrl+minus",
    "ctrl+0",
    "ctrl+r",
    "alt+Up",
    "alt+Down",
    "ctrl+a",
    "ctrl+c",
    "ctrl+x",
    "ctrl+v",
    "ctrl+Return",
    "Tab",
    "Tab",
    "Tab",
    "shift+Tab",
    "Return",
    "Return",
    "Return",
    "Escape",
    "Escape",
    "space",
    "Up",
    "Down",
    "Left",
    "Right",
    "Home",
    "End",
    "Prior",
    "Next",
    "Delete",
    "BackSpace",
    "shift+Left",
    "shift+End",
    "a",
    "5",
    "F1",
];
const TEXTS: &[&str] = &[
    "0.52",
    "-.31",
    "1200",
    "77 Pa",
    "1e308",
    "99999999999999999999",
    "abc",
    "x: over plate",
    "600 from 0.1 to 0.8",
    "furnace",
    "-0",
    "0,3",
];

/// The program under the storm, started again whenever it is asked to end.
struct Storm<'a> {
    desktop: &'a Desktop,
    folder: &'a Path,
    program: Program,
    size: (u32, u32),
    rng: Rng,
    starts: usize,
    bursts: usize,
}

/// Lets the storm loose and looks at what is left.
pub(crate) fn leave_it_alive(desktop: &Desktop, folder: &Path) {
    let seed = seed_said();
    let seconds = number_said("TAPCROSS_STORM_SECONDS").unwrap_or(USUAL_SECONDS);
    println!("{seconds} s of random events from seed {seed}");
    std::fs::create_dir(folder.join("data")).expect("a folder within a temporary one");
    job_file::save(&folder.join("house.ron"), &demo::heat_pump()).expect("the demo is saved");
    let mut storm = Storm {
        program: start(desktop, folder, 0),
        desktop,
        folder,
        size: SIZES[4],
        rng: Rng::with_seed(seed),
        starts: 1,
        bursts: 0,
    };
    desktop.still_picture();
    let before = resident_mb(&storm.program);
    let began = Instant::now();
    while began.elapsed() < Duration::from_secs(seconds) {
        storm.burst();
    }
    storm.pass();
    let after = resident_mb(&storm.program);
    let ticks = storm.ticks_at_rest();
    println!(
        "{} bursts, {} starts; {before} MB before, {after} MB after; {ticks} hundredths of a second of work in {} s at rest",
        storm.bursts,
        storm.starts,
        AT_REST.as_secs()
    );
    storm.check_said();
    assert!(after < before + MOST_GROWTH_MB, "it grew from {before} MB to {after} MB");
    assert!(ticks <= MOST_TICKS, "left alone it works {ticks} hundredths of a second in {} s", AT_REST.as_secs());
    storm.program.kill();
}

fn start(desktop: &Desktop, folder: &Path, number: usize) -> Program {
    let mut command = command(&folder.join("data"));
    let said = File::create(said_by(folder, number)).expect("a file in a temporary folder");
    // A path typed without a folder lands in the temporary one.
    command.arg("house.ron").current_dir(folder).stderr(said);
    desktop.run(command)
}

/// Where the standard error of one start goes.
fn said_by(folder: &Path, number: usize) -> PathBuf {
    folder.join(format!("said-{number}.txt"))
}

/// The resident memory of a program in MB.
fn resident_mb(program: &Program) -> u64 {
    let status =
        std::fs::read_to_string(format!("/proc/{}/status", program.id())).expect("a running process has a status");
    let line = status.lines().find(|line| line.starts_with("VmRSS:")).expect("a status says the resident memory");
    let kilobytes = line.split_whitespace().nth(1).and_then(|number| number.parse::<u64>().ok());
    kilobytes.expect("resident memory is a number") / 1024
}

/// Hundredths of a second that a program has worked so far.
fn ticks(program: &Program) -> u64 {
    let stat = std::fs::read_to_string(format!("/proc/{}/stat", program.id())).expect("a running process has a stat");
    // Behind the name, which may hold blanks, the twelfth and the thirteenth field are the user's and the system's time.
    let behind = stat.rsplit(')').next().unwrap_or_default();
    let numbers: Vec<u64> =
        behind.split_whitespace().skip(11).take(2).map(|number| number.parse().expect("a count")).collect();
    numbers.iter().sum()
}

impl Storm<'_> {
    /// A dozen actions in one call; the program may be asked to end, but not break.
    fn burst(&mut self) {
        let mut words: Vec<String> = vec!["windowactivate".to_owned(), self.program.window().to_owned()];
        for _ in 0..BURST {
            self.act(&mut words);
        }
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        // A window that is closing is no place for keys any more; what became of it is looked at below.
        let _done = self.desktop.try_script(&words);
        self.bursts += 1;
        self.start_again_when_ended();
    }

    fn start_again_when_ended(&mut self) {
        // A window that was asked to end takes a moment.
        if self.desktop.title(&self.program).is_empty() {
            self.program.end();
        }
        if let Some(status) = self.program.ended() {
            assert_eq!(
                status.code(),
                Some(0),
                "the program broke in burst {}: {status}; {}",
                self.bursts,
                self.last_said()
            );
            self.program = start(self.desktop, self.folder, self.starts);
            self.starts += 1;
            self.size = SIZES[4];
        }
    }

    fn act(&mut self, words: &mut Vec<String>) {
        let mut say = |text: &str| words.extend(text.split(' ').map(str::to_owned));
        match self.rng.u8(..30) {
            0..9 => say(&format!("{} click 1", self.there())),
            9..11 => say(&format!("{} click --repeat 2 --delay 20 1", self.there())),
            11 => say(&format!("{} click 3", self.there())),
            12..15 => say(&format!("{} mousedown 1 {} {} mouseup 1", self.there(), self.there(), self.there())),
            15..17 => {
                say(&format!("{} click --repeat {} --delay 10 {}", self.there(), self.rng.u8(1..8), self.rng.u8(4..6)));
            }
            17 => say("keydown ctrl click 4 keyup ctrl"),
            18..25 => say(&format!("key {}", KEYS[self.rng.usize(..KEYS.len())])),
            25..28 => {
                let text = TEXTS[self.rng.usize(..TEXTS.len())];
                words.extend(["type", "--args", "1", "--delay", "5", text, "key", "Return"].map(str::to_owned));
            }
            28 => {
                self.size = SIZES[self.rng.usize(..SIZES.len())];
                let (window, (width, height)) = (self.program.window().to_owned(), self.size);
                say(&format!("windowsize {window} {width} {height}"));
            }
            _ => say(if self.rng.u8(..6) == 0 { "key ctrl+q" } else { "sleep 0.2" }),
        }
    }

    /// A place within the window.
    fn there(&mut self) -> String {
        let (width, height) = self.size;
        format!("mousemove --window {} {} {}", self.program.window(), self.rng.u32(..width), self.rng.u32(..height))
    }

    /// Nothing is held down or waits any more, and the pointer is away.
    fn pass(&mut self) {
        let (window, (width, height)) = (self.program.window().to_owned(), LAST_SIZE);
        let (width, height) = (width.to_string(), height.to_string());
        let mut words =
            vec!["windowactivate", &window, "mouseup", "1", "keyup", "ctrl", "keyup", "shift", "keyup", "alt"];
        words.extend([
            "windowsize",
            &window,
            &width,
            &height,
            "windowmove",
            &window,
            "0",
            "0",
            "mousemove",
            "1430",
            "890",
        ]);
        words.extend(["key", "--delay", "100", "Escape", "Escape", "Escape", "Escape", "Escape", "Escape"]);
        self.desktop.script(&words);
        until("an answer after the storm", || {
            self.program.must_run();
            (!self.desktop.title(&self.program).is_empty()).then_some(())
        });
        sleep(COMES_TO_REST);
        self.program.must_run();
    }

    fn ticks_at_rest(&self) -> u64 {
        let before = ticks(&self.program);
        sleep(AT_REST);
        ticks(&self.program) - before
    }

    fn last_said(&self) -> String {
        std::fs::read_to_string(said_by(self.folder, self.starts - 1)).unwrap_or_default()
    }

    fn check_said(&self) {
        for number in 0..self.starts {
            let said = std::fs::read_to_string(said_by(self.folder, number)).unwrap_or_default();
            assert!(!said.contains("panicked"), "start {number}: {said}");
        }
    }
}
