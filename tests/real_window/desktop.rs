//! A virtual display with a window manager, and a program on it.

use std::cell::RefCell;
use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Longest wait for anything; a busy machine draws in software.
const PATIENCE: Duration = Duration::from_mins(1);
/// Time between two looks.
const LOOK_AGAIN: Duration = Duration::from_millis(100);
/// Milliseconds between two typed letters.
const TYPING_PACE: &str = "40";
/// Size of the display in pixels.
const SIZE: (usize, usize) = (1440, 900);
/// Share of pixels that a blinking text cursor or a fading button may change.
const FLICKER: f64 = 0.001;
/// Share of pixels that anything opened over the window changes at least.
const OPENED: f64 = 0.02;

const TOOLS: [(&str, &str); 5] = [
    ("Xvfb", "-help"),
    ("openbox", "--version"),
    ("xclip", "-version"),
    ("xdotool", "version"),
    ("import", "-version"),
];

/// Names of the tools that are not here.
pub(crate) fn missing_tools() -> Vec<&'static str> {
    let is_here = |(tool, flag): &&(&str, &str)| {
        Command::new(tool).arg(flag).stdout(Stdio::null()).stderr(Stdio::null()).status().is_err()
    };
    TOOLS.iter().filter(is_here).map(|(tool, _)| *tool).collect()
}

/// Looks again and again until something is there.
pub(crate) fn until<T>(what: &str, mut look: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    loop {
        if let Some(found) = look() {
            return found;
        }
        assert!(began.elapsed() < PATIENCE, "waited {} s in vain for {what}", PATIENCE.as_secs());
        sleep(LOOK_AGAIN);
    }
}

/// A process that does not outlive the test.
struct Held(RefCell<Child>);

impl Held {
    fn new(child: Child) -> Self {
        Self(RefCell::new(child))
    }

    /// How it ended, if it has.
    fn ended(&self) -> Option<ExitStatus> {
        self.0.borrow_mut().try_wait().expect("a process of this test can be asked")
    }

    fn kill(&self) {
        let mut child = self.0.borrow_mut();
        // One that has ended by itself cannot be killed; that is as well.
        child.kill().ok();
        child.wait().ok();
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        self.kill();
    }
}

/// The display; everything on it ends with it.
pub(crate) struct Desktop {
    name: String,
    _manager: Held,
    _server: Held,
}

impl Desktop {
    /// Its name, for programs beside the one under test.
    pub(crate) fn name(&self) -> &str {
        &self.name
    }

    /// Opens a display of its own number.
    pub(crate) fn open() -> Self {
        let screen = format!("{}x{}x24", SIZE.0, SIZE.1);
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-screen", "0", &screen, "-noreset", "-nolisten", "tcp"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("Xvfb starts");
        let mut number = String::new();
        let output = server.stdout.take().expect("Xvfb's output is piped");
        let server = Held::new(server);
        BufReader::new(output).read_line(&mut number).expect("Xvfb says its number");
        let name = format!(":{}", number.trim());
        let manager = Command::new("openbox")
            .env("DISPLAY", &name)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("openbox starts");
        let desktop = Self { name, _manager: Held::new(manager), _server: server };
        until("a window manager", || desktop.ask(&["get_num_desktops"]));
        desktop
    }

    /// Runs a program on it, drawn in software, and waits for its window, which is brought under the keys.
    pub(crate) fn run(&self, mut command: Command) -> Program {
        command.env("DISPLAY", &self.name).env("LIBGL_ALWAYS_SOFTWARE", "1");
        let mut program =
            Program { process: Held::new(command.spawn().expect("the program starts")), window: String::new() };
        let process = program.id().to_string();
        program.window = until("a window", || {
            program.must_run();
            let found = self.ask(&["search", "--onlyvisible", "--pid", &process])?;
            found.lines().last().map(str::to_owned)
        });
        until("the window under the keys", || {
            self.ask(&["windowactivate", "--sync", &program.window]);
            (self.ask(&["getactivewindow"])?.trim() == program.window).then_some(())
        });
        program
    }

    /// What xdotool answers, or nothing when it cannot do what was asked.
    fn ask(&self, words: &[&str]) -> Option<String> {
        let output = Command::new("xdotool").env("DISPLAY", &self.name).args(words).output().expect("xdotool runs");
        output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
    }

    /// Presses keys, one after another.
    pub(crate) fn keys(&self, keys: &[&str]) {
        let words = [&["key", "--delay", TYPING_PACE], keys].concat();
        assert!(self.ask(&words).is_some(), "{keys:?} cannot be pressed");
    }

    /// Types a text.
    pub(crate) fn type_text(&self, text: &str) {
        assert!(self.ask(&["type", "--delay", TYPING_PACE, text]).is_some(), "{text} cannot be typed");
    }

    /// Runs one call of xdotool with many words; true where all of it was done.
    pub(crate) fn try_script(&self, words: &[&str]) -> bool {
        self.ask(words).is_some()
    }

    /// The same, where all of it must be done.
    pub(crate) fn script(&self, words: &[&str]) {
        assert!(self.try_script(words), "{words:?} cannot be done");
    }

    /// Brings a window under the keys.
    pub(crate) fn activate(&self, program: &Program) {
        self.script(&["windowactivate", "--sync", &program.window]);
    }

    /// The title of a program's window.
    pub(crate) fn title(&self, program: &Program) -> String {
        self.ask(&["getwindowname", &program.window]).unwrap_or_default()
    }

    /// What stands on the display.
    pub(crate) fn picture(&self) -> Picture {
        let output = Command::new("import")
            .args(["-display", &self.name, "-window", "root", "-depth", "8", "rgb:-"])
            .output()
            .expect("import runs");
        assert_eq!(output.stdout.len(), SIZE.0 * SIZE.1 * 3, "{}", String::from_utf8_lossy(&output.stderr));
        Picture(output.stdout)
    }

    /// Keeps what stands on the display in a file, for eyes.
    pub(crate) fn keep_picture(&self, path: &str) {
        let kept = Command::new("import").args(["-display", &self.name, "-window", "root", path]).status();
        println!("the display at that moment ({kept:?}): {path}");
    }

    /// What stands on the display once nothing moves any more.
    pub(crate) fn still_picture(&self) -> Picture {
        let mut last = self.picture();
        until("a picture that stands still", || {
            let next = self.picture();
            let moved = std::mem::replace(&mut last, next).share_unlike(&last);
            (moved < FLICKER).then_some(())
        });
        last
    }
}

/// The program under test.
pub(crate) struct Program {
    process: Held,
    window: String,
}

impl Program {
    /// Ends the test when the program has ended by itself.
    pub(crate) fn must_run(&self) {
        let ended = self.process.ended();
        assert!(ended.is_none(), "the program ended by itself: {ended:?}");
    }

    /// How it ended, if it has.
    pub(crate) fn ended(&self) -> Option<ExitStatus> {
        self.process.ended()
    }

    /// The number of its process.
    pub(crate) fn id(&self) -> u32 {
        self.process.0.borrow().id()
    }

    /// The number of its window.
    pub(crate) fn window(&self) -> &str {
        &self.window
    }

    /// Ends it as a power cut would.
    pub(crate) fn kill(&self) {
        self.must_run();
        self.process.kill();
    }

    /// Waits for its end.
    pub(crate) fn end(&self) -> ExitStatus {
        until("the end of the program", || self.process.ended())
    }
}

/// A picture of the display, three bytes a pixel.
pub(crate) struct Picture(Vec<u8>);

impl Picture {
    fn pixels(&self) -> impl Iterator<Item = &[u8]> {
        self.0.chunks_exact(3)
    }

    fn share(count: usize) -> f64 {
        count as f64 / (SIZE.0 * SIZE.1) as f64
    }

    fn share_unlike(&self, other: &Self) -> f64 {
        Self::share(self.pixels().zip(other.pixels()).filter(|(one, other)| one != other).count())
    }

    /// True when something has been opened or closed between the two.
    pub(crate) fn differs_from(&self, other: &Self) -> bool {
        self.share_unlike(other) > OPENED
    }

    /// Fails on a picture of next to nothing.
    pub(crate) fn assert_not_blank(&self) {
        let ground = self.pixels().next().expect("a picture has pixels");
        let drawn = Self::share(self.pixels().filter(|pixel| *pixel != ground).count());
        let colours = self.pixels().collect::<std::collections::BTreeSet<_>>().len();
        assert!(drawn > 0.02 && colours > 32, "{drawn:.3} of the picture is drawn on, in {colours} colours");
    }
}
