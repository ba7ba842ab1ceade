//! A storm of random events over the whole window without a graphics card: clicks, drags, wheels, keys, texts, sizes, jobs.
//!
//! `TAPCROSS_STORM_EVENTS` says how many, `TAPCROSS_FUZZ_SEED` from which seed; the same seed does the same deeds in the same order.

use std::collections::VecDeque;
use std::path::PathBuf;

use eframe::egui::accesskit::Role;
use eframe::egui::{
    Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, PointerButton, Pos2, Rect, TouchPhase, Vec2,
    ViewportCommand, pos2, vec2,
};
use egui_kittest::Harness;
use egui_kittest::kittest::NodeT as _;
use fastrand::Rng;
use tapcross::app::dialogs::{Answered, FileDialogs};
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::job_file;
use tapcross::files::places::Places;
use tapcross::history::History;
use tapcross::model::facts::job::Job;
use tapcross::ui::view::action::Command;
use tapcross::ui::view::path_prompt::Purpose;

#[expect(unused_imports, reason = "the suite of the edits' own tests asks for more")]
mod arbitrary_edits;

use arbitrary_edits::{Wild, beginnings, seeded};

/// Events where nobody says how many.
const USUAL_EVENTS: usize = 800;
/// The seed where nobody says.
const USUAL_SEED: u64 = 20_261_129;
/// Deeds between two other jobs.
const DEEDS_A_JOB: usize = 120;
/// Deeds that are told when something breaks.
const TOLD: usize = 40;
/// Window sizes, from the least to more than the usual one.
const SIZES: [Vec2; 6] = [
    vec2(480.0, 360.0),
    vec2(640.0, 900.0),
    vec2(900.0, 500.0),
    vec2(1280.0, 720.0),
    vec2(1440.0, 900.0),
    vec2(2200.0, 1300.0),
];
/// Texts as they are typed and pasted, good and bad.
const TEXTS: &[&str] = &[
    "0.52",
    "-.31",
    ".5",
    "1,200",
    "77 Pa",
    "3½ ton",
    "1e308",
    "-0",
    "9999999999999999999999999",
    "abc",
    "½ 空気 \u{202e}x",
    "",
    " ",
    "x: over plate",
    "600 from 0.1 to 0.8",
    "42t",
    "furnace",
    "ESP\tTap 1\tTap 2\n0.10\t1010\t1205\n0.20\t990\t1180\n",
    "1010\t1205\n990\tx\n\n\t\t",
    "a\nb\rc\0",
];
/// Keys besides the shortcuts.
const KEYS: &[Key] = &[
    Key::Tab,
    Key::Tab,
    Key::Enter,
    Key::Enter,
    Key::Escape,
    Key::Space,
    Key::ArrowUp,
    Key::ArrowDown,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::Home,
    Key::End,
    Key::PageUp,
    Key::PageDown,
    Key::Delete,
    Key::Backspace,
    Key::A,
    Key::X,
    Key::Num5,
    Key::F1,
    Key::F10,
    Key::Insert,
];

/// A system without file dialogs: every path is typed in the window.
struct NoDialogs(Option<Purpose>);

impl FileDialogs for NoDialogs {
    fn ask(&mut self, purpose: Purpose, _ctx: &eframe::egui::Context) {
        self.0 = Some(purpose);
    }

    fn poll(&mut self) -> Option<Answered> {
        self.0.take().map(Answered::Unavailable)
    }
}

/// A window under way.
struct Storm {
    app: Harness<'static, TapcrossApp>,
    rng: Rng,
    jobs: Vec<(String, Job)>,
    pointer: Pos2,
    last: VecDeque<String>,
    frames: usize,
}

impl Drop for Storm {
    /// What was done last, where it broke something.
    fn drop(&mut self) {
        if std::thread::panicking() {
            println!("after {} frames; the last deeds:\n{}", self.frames, Vec::from(self.last.clone()).join("\n"));
        }
    }
}

impl Storm {
    fn begin(seed: u64, folder: &std::path::Path) -> Self {
        let start = Start {
            job: None,
            places: Some(Places::within(folder)),
            dialogs: Box::new(NoDialogs(None)),
            ..Start::alone()
        };
        let app = Harness::builder()
            .with_size(SIZES[4])
            .with_max_steps(12)
            .with_render_cursor(false)
            .allow_missing_glyphs()
            .build_eframe(|context| TapcrossApp::new(&context.egui_ctx, start));
        let rng = Rng::with_seed(seed);
        Self { app, rng, jobs: beginnings(), pointer: Pos2::ZERO, last: VecDeque::new(), frames: 0 }
    }

    fn note(&mut self, deed: String) {
        self.last.push_back(deed);
        if self.last.len() > TOLD {
            self.last.pop_front();
        }
    }

    /// Draws one frame, and holds what must hold after each.
    fn frame(&mut self) {
        self.app.step();
        self.frames += 1;
        let commands = self.app.output().viewport_output.values().flat_map(|output| &output.commands);
        let closes = commands.filter(|command| matches!(command, ViewportCommand::Close)).count();
        assert!(
            closes == 0
                || !self.app.state().is_changed()
                || self.last.iter().any(|deed| deed.contains("without saving")),
            "it closes over unsaved work"
        );
    }

    fn event(&mut self, event: Event) {
        self.app.event(event);
        self.frame();
    }

    /// One thing that a hand might do.
    fn deed(&mut self) {
        match self.rng.u8(..40) {
            0..10 => self.press_something(),
            10..14 => self.click(),
            14..17 => self.drag(),
            17..19 => self.wheel(),
            19..26 => self.key(),
            26..30 => self.shortcut(),
            30..36 => self.write(),
            36 => self.paste(),
            37 => self.resize(),
            38 => self.hover(),
            _ => self.rest(),
        }
    }

    fn anywhere(&mut self) -> Pos2 {
        let size = self.app.ctx.content_rect().size();
        pos2((size.x * self.rng.f32()).floor(), (size.y * self.rng.f32()).floor())
    }

    /// Something that can be pressed or typed into, by its place.
    fn something(&mut self) -> Option<(String, Rect)> {
        let can = |role| {
            matches!(
                role,
                Role::Button
                    | Role::TextInput
                    | Role::MultilineTextInput
                    | Role::CheckBox
                    | Role::RadioButton
                    | Role::ComboBox
                    | Role::Slider
                    | Role::Unknown
            )
        };
        let nodes = self.app.root().children_recursive();
        let found: Vec<(String, Rect)> = nodes
            .filter(|node| can(node.accesskit_node().role()))
            .map(|node| (node.accesskit_node().label().unwrap_or_default(), node.rect()))
            .collect();
        (!found.is_empty()).then(|| found[self.rng.usize(..found.len())].clone())
    }

    fn press_something(&mut self) {
        let Some((name, rect)) = self.something() else { return };
        self.note(format!("press {name}"));
        self.click_at(rect.center(), PointerButton::Primary, 1);
    }

    fn click(&mut self) {
        let at = self.anywhere();
        let button = if self.rng.u8(..5) == 0 { PointerButton::Secondary } else { PointerButton::Primary };
        let times = 1 + self.rng.usize(..3);
        self.note(format!("click {times} times at {at}"));
        self.click_at(at, button, times);
    }

    fn click_at(&mut self, at: Pos2, button: PointerButton, times: usize) {
        self.event(Event::PointerMoved(at));
        self.pointer = at;
        for _ in 0..times {
            self.button(button, true);
            self.button(button, false);
        }
    }

    fn button(&mut self, button: PointerButton, pressed: bool) {
        self.event(Event::PointerButton { pos: self.pointer, button, pressed, modifiers: Modifiers::NONE });
    }

    fn drag(&mut self) {
        let from = match self.something() {
            Some((_, rect)) if self.rng.bool() => rect.center(),
            _ => self.anywhere(),
        };
        let to = self.anywhere();
        self.note(format!("drag from {from} to {to}"));
        self.event(Event::PointerMoved(from));
        self.pointer = from;
        self.button(PointerButton::Primary, true);
        for step in 1..=4_u8 {
            self.pointer = from + (to - from) * (f32::from(step) / 4.0);
            self.event(Event::PointerMoved(self.pointer));
        }
        match self.rng.u8(..4) {
            0 => self.press(Modifiers::NONE, Key::Escape),
            1 => self.event(Event::PointerGone),
            _ => {}
        }
        self.button(PointerButton::Primary, false);
    }

    fn wheel(&mut self) {
        let modifiers = [Modifiers::NONE, Modifiers::NONE, Modifiers::COMMAND, Modifiers::SHIFT][self.rng.usize(..4)];
        let at = self.anywhere();
        let by = vec2(0.0, self.rng.f32() * 800.0 - 400.0);
        self.note(format!("wheel {by} with {modifiers:?} at {at}"));
        self.event(Event::PointerMoved(at));
        self.event(Event::MouseWheel {
            unit: MouseWheelUnit::Point,
            delta: by,
            phase: TouchPhase::Move,
            modifiers,
            source: MouseWheelSource::Wheel,
        });
    }

    fn press(&mut self, modifiers: Modifiers, key: Key) {
        self.app.key_press_modifiers(modifiers, key);
        self.frame();
    }

    fn key(&mut self) {
        let key = KEYS[self.rng.usize(..KEYS.len())];
        let modifiers =
            [Modifiers::NONE, Modifiers::NONE, Modifiers::NONE, Modifiers::SHIFT, Modifiers::COMMAND, Modifiers::ALT]
                [self.rng.usize(..6)];
        self.note(format!("key {key:?} with {modifiers:?}"));
        self.press(modifiers, key);
    }

    fn shortcut(&mut self) {
        let command = Command::ALL[self.rng.usize(..Command::ALL.len())];
        if let Some(keys) = command.shortcut() {
            self.note(format!("command {command:?}"));
            self.press(keys.modifiers, keys.logical_key);
        }
    }

    fn text(&mut self) -> String {
        TEXTS[self.rng.usize(..TEXTS.len())].to_owned()
    }

    fn write(&mut self) {
        let text = self.text();
        self.note(format!("write {text:?}"));
        if self.rng.bool() {
            self.press(Modifiers::COMMAND, Key::A);
        }
        self.event(Event::Text(text));
        let end = [Key::Enter, Key::Tab, Key::Escape][self.rng.usize(..3)];
        self.press(Modifiers::NONE, end);
    }

    fn paste(&mut self) {
        let event = match self.rng.u8(..4) {
            0 => Event::Copy,
            1 => Event::Cut,
            _ => Event::Paste(self.text()),
        };
        self.note(format!("{event:?}"));
        self.event(event);
    }

    fn resize(&mut self) {
        let size = SIZES[self.rng.usize(..SIZES.len())];
        self.note(format!("size {size}"));
        self.app.set_size(size);
        self.frame();
    }

    fn hover(&mut self) {
        let at = self.anywhere();
        self.note(format!("hover at {at}"));
        self.event(Event::PointerMoved(at));
        self.rest();
    }

    /// Long enough for a hint to come and an autosave to be written.
    fn rest(&mut self) {
        for _ in 0..3 {
            self.frame();
        }
    }

    /// Another job, often one that many wild edits were made on.
    fn other_job(&mut self) {
        let number = self.rng.usize(..self.jobs.len());
        let seed = self.rng.u64(..);
        let mut history = History::of_saved(self.jobs[number].1.clone());
        let mut numbers = seeded(seed);
        for _ in 0..self.rng.usize(..40) {
            let edit = Wild::new(&mut numbers).edit(history.job());
            // A wild edit may be refused; the others are enough.
            drop(history.apply(edit));
        }
        self.note(format!("job {} edited from seed {seed}", self.jobs[number].0));
        if job_file::check(history.job()).is_ok() {
            self.app.state_mut().show_job(history.job().clone());
        }
        self.frame();
    }
}

fn number_of(name: &str) -> Option<u64> {
    let said = std::env::var(name).ok()?;
    Some(said.parse().unwrap_or_else(|_| panic!("{name} is a whole number, not {said}")))
}

#[test]
fn no_storm_of_events_breaks_the_window() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    // Names typed without a folder are written here.
    std::env::set_current_dir(folder.path()).expect("a temporary folder can be gone to");
    let events =
        number_of("TAPCROSS_STORM_EVENTS").map_or(USUAL_EVENTS, |count| usize::try_from(count).expect("a count"));
    let seed = number_of("TAPCROSS_FUZZ_SEED").unwrap_or(USUAL_SEED);
    println!("seed {seed}");
    let mut storm = Storm::begin(seed, &folder.path().join("own"));
    for deed in 0..events {
        if deed % DEEDS_A_JOB == 0 {
            storm.other_job();
        }
        storm.deed();
    }
    println!("{} deeds, {} frames", events, storm.frames);
    let saved: Vec<PathBuf> = files_in(folder.path())
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    for path in saved {
        assert!(job_file::read(&path).is_ok(), "what was saved does not open: {}", path.display());
    }
}

fn files_in(folder: &std::path::Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).expect("a folder can be looked at");
    entries.map(|entry| entry.expect("an entry of a folder").path()).filter(|path| path.is_file()).collect()
}
