//! The window's life: background work in, panels drawn, actions carried out, work kept safe.

pub mod action;
pub mod dialogs;
pub mod keep_safe;
pub mod notices;
mod run_action;
pub mod search_thread;

use std::path::{Path, PathBuf};
use std::time::Duration;

use eframe::egui;

use crate::app::action::{Action, Command};
use crate::app::dialogs::{Answered, FileDialogs, PathPrompt, SystemDialogs};
use crate::app::keep_safe::KeepSafe;
use crate::app::notices::{Notices, Tone};
use crate::files::autosave::Recovered;
use crate::files::library::{Library, LibraryProblem, Loading};
use crate::files::places::Places;
use crate::files::settings::{self, Settings, ThemeChoice};
use crate::files::{demo, job_file};
use crate::history::History;
use crate::model::answer::Answer;
use crate::model::job::Job;
use crate::ui::view::{Confirm, Screen, View};
use crate::ui::{overlays, theme, window};

/// Longest that the window waits for a person's own tables; what takes longer to read comes in later.
const FIRST_LOOK: Duration = Duration::from_millis(100);

/// How the window begins.
pub struct Start {
    /// A job to open; the demo otherwise.
    pub job: Option<PathBuf>,
    /// Where settings, own tables and autosaves live; nothing is kept without.
    pub places: Option<Places>,
    /// How paths are asked for.
    pub dialogs: Box<dyn FileDialogs>,
}

impl Start {
    /// As the program starts for a person.
    pub fn for_person(job: Option<PathBuf>) -> Self {
        Self { job, places: Places::find().ok(), dialogs: Box::new(SystemDialogs::default()) }
    }

    /// Without a disk or a person: for tests and benchmarks.
    pub fn alone() -> Self {
        Self { job: None, places: None, dialogs: Box::new(dialogs::ScriptedDialogs::default()) }
    }
}

/// The whole program.
pub struct TapcrossApp {
    history: History,
    answer: Answer,
    answered_revision: u64,
    file: Option<PathBuf>,
    library: Library,
    /// A person's own tables, while they are being read.
    loading: Option<Loading>,
    settings: Settings,
    places: Option<Places>,
    dialogs: Box<dyn FileDialogs>,
    keep_safe: KeepSafe,
    recovered: Vec<Recovered>,
    notices: Notices,
    view: View,
    now: f64,
    allowed_to_close: bool,
    window_title: String,
}

impl TapcrossApp {
    /// Builds the program in a window's context.
    pub fn new(ctx: &egui::Context, start: Start) -> Self {
        theme::install(ctx);
        let mut notices = Notices::default();
        let mut wrong = |text: String| notices.say(Tone::Wrong, text, 0.0);
        let (mut library, problems) = Library::shipped();
        let mut all_problems = problems;
        let mut recovered = Vec::new();
        let mut settings = Settings::default();
        let mut loading = None;
        if let Some(places) = &start.places {
            let wake = ctx.clone();
            let begun = Loading::begin(places.blowers.clone(), move || wake.request_repaint());
            let (own, is_everything) = begun.wait(FIRST_LOOK);
            library.add_own(own.entries);
            all_problems.extend(own.problems);
            loading = (!is_everything).then_some(begun);
            let (kept, problem) = settings::read(&places.settings);
            settings = kept;
            problem.into_iter().for_each(&mut wrong);
            let pending = crate::files::autosave::pending(&places.autosaves);
            pending.problems.into_iter().for_each(&mut wrong);
            recovered = pending.jobs.into_iter().filter(Recovered::is_newer_than_original).collect();
        }
        all_problems.iter().map(LibraryProblem::sentence).for_each(&mut wrong);
        let history = History::of_saved(demo::heat_pump());
        let mut app = Self {
            answer: Answer::of(history.job()),
            answered_revision: history.revision(),
            history,
            file: None,
            library,
            loading,
            keep_safe: KeepSafe::begin(start.places.as_ref()),
            settings,
            places: start.places,
            dialogs: start.dialogs,
            recovered,
            notices,
            view: View::default(),
            now: 0.0,
            allowed_to_close: false,
            window_title: String::new(),
        };
        app.apply_settings(ctx);
        if let Some(path) = start.job {
            app.open_path(&path);
        }
        app
    }

    /// The job as it stands.
    pub const fn job(&self) -> &Job {
        self.history.job()
    }

    /// The answer as it stands.
    pub const fn answer(&self) -> &Answer {
        &self.answer
    }

    /// What the window remembers beside the job.
    pub const fn view(&self) -> &View {
        &self.view
    }

    /// The settings as they stand.
    pub const fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The job's file.
    pub fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }

    /// True when the job differs from its file.
    pub fn is_changed(&self) -> bool {
        self.history.is_changed()
    }

    /// The messages shown, for tests.
    pub fn notices(&mut self) -> Vec<String> {
        self.notices.shown(self.now).iter().map(|notice| notice.text.clone()).collect()
    }

    /// Replaces the job as if it had been opened; for tests and benchmarks.
    pub fn show_job(&mut self, job: Job) {
        self.begin(History::of_saved(job), None);
    }

    fn begin(&mut self, history: History, file: Option<PathBuf>) {
        self.history = history;
        self.file = file;
        let total_only = crate::ui::reading_entry::is_total_only(self.history.job());
        self.view = View { tab: self.view.tab, total_only, ..View::default() };
        self.answer = Answer::of(self.history.job());
        self.answered_revision = self.history.revision();
        self.keep_safe.forget();
    }

    /// Takes in what has been read of a person's own tables meanwhile.
    fn take_loaded_tables(&mut self) {
        while let Some(batch) = self.loading.as_ref().and_then(Loading::poll) {
            self.library.add_own(batch.entries);
            batch.problems.iter().for_each(|problem| self.wrong(problem.sentence()));
        }
    }

    fn refresh_answer(&mut self) {
        if self.answered_revision != self.history.revision() {
            self.answer = Answer::of(self.history.job());
            self.answered_revision = self.history.revision();
        }
    }

    fn apply_settings(&self, ctx: &egui::Context) {
        ctx.set_theme(match self.settings.theme {
            ThemeChoice::System => egui::ThemePreference::System,
            ThemeChoice::Light => egui::ThemePreference::Light,
            ThemeChoice::Dark => egui::ThemePreference::Dark,
        });
        ctx.set_zoom_factor(f32::from(self.settings.zoom_percent) / 100.0);
    }

    fn keep_settings(&mut self) {
        let Some(places) = &self.places else {
            return;
        };
        if let Err(error) = settings::save(&places.settings, &self.settings) {
            self.notices.say(Tone::Wrong, format!("{error:#}"), self.now);
        }
    }

    fn wrong(&mut self, text: impl Into<String>) {
        self.notices.say(Tone::Wrong, text, self.now);
    }

    fn done(&mut self, text: impl Into<String>) {
        self.notices.say(Tone::Done, text, self.now);
    }

    fn take_dialog_answer(&mut self, ctx: &egui::Context) {
        match self.dialogs.poll() {
            Some(Answered::Path(purpose, path)) => {
                let whole = purpose.completed(&path);
                // The system's dialog asks about a file of that very name itself, but not about one with an ending put on.
                let is_asked = whole == path;
                let action = purpose.action(whole);
                self.run(if is_asked { Action::Replace(Box::new(action)) } else { action }, ctx);
            }
            Some(Answered::Unavailable(purpose)) => {
                let text = self.folder().join(purpose.suggested()).to_string_lossy().into_owned();
                self.view.path_prompt = Some(PathPrompt { purpose, text, problem: None });
            }
            Some(Answered::Cancelled) | None => {}
        }
    }

    fn take_dropped_files(&mut self, ctx: &egui::Context) {
        let dropped: Vec<PathBuf> =
            ctx.input(|input| input.raw.dropped_files.iter().map(|file| file.path().to_path_buf()).collect());
        if let Some(path) = dropped.into_iter().next() {
            self.run(Action::OpenPath(path), ctx);
        }
    }

    fn take_shortcuts(&mut self, ctx: &egui::Context) {
        let modal_open = self.view.picker.is_some() || self.view.table_editor.is_some();
        // A chord without Shift also matches when Shift is held, so the ones with Shift are asked first.
        let with_shift = |command: &Command| command.shortcut().is_some_and(|keys| keys.modifiers.shift);
        let (shifted, plain): (Vec<_>, Vec<_>) = Command::ALL.into_iter().partition(with_shift);
        for command in shifted.into_iter().chain(plain) {
            let is_text_key = matches!(command, Command::Undo | Command::Redo);
            let typing = self.view.entry.is_some() && is_text_key;
            let Some(shortcut) = command.shortcut().filter(|_| !typing && !modal_open) else {
                continue;
            };
            if ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
                self.run(command.into(), ctx);
            }
        }
    }

    fn guard_closing(&mut self, ctx: &egui::Context) {
        let wants_to_close = ctx.input(|input| input.viewport().close_requested());
        if !wants_to_close || self.allowed_to_close {
            return;
        }
        if self.history.is_changed() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.ask_to_discard("Quit", Command::Quit.into());
        } else {
            self.allowed_to_close = true;
        }
    }

    /// Carries an action out now, or after a person has agreed to throw unsaved work away.
    fn ask_to_discard(&mut self, yes: &str, action: Action) {
        self.view.confirm = Some(Confirm {
            question: "The job has changes that are not saved.".to_owned(),
            yes: format!("{yes} without saving"),
            no: "Keep working",
            third: Some(Command::Save),
            action: Box::new(Action::Discard(Box::new(action))),
        });
    }

    fn open_path(&mut self, path: &Path) {
        match job_file::read(path) {
            Ok(job) => {
                self.begin(History::of_saved(job), Some(path.to_path_buf()));
                self.settings.opened(path);
                self.keep_settings();
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// Says what is wrong with a path: where it is being typed, or else as a message.
    fn wrong_path(&mut self, text: String) {
        match &mut self.view.path_prompt {
            Some(prompt) => prompt.problem = Some(text),
            None => self.wrong(text),
        }
    }

    /// The folder that a typed path begins in: the job's own, else that of the last file, else the present one.
    fn folder(&self) -> PathBuf {
        let of = |file: &Path| file.parent().map(Path::to_path_buf);
        let last = || self.settings.recent.first().and_then(|file| of(file));
        let here = || std::env::current_dir().ok();
        self.file.as_deref().and_then(of).or_else(last).or_else(here).unwrap_or_default()
    }

    fn update_title(&mut self, ctx: &egui::Context) {
        let job = self.history.job();
        let name = if job.title.is_empty() { "Untitled job" } else { &job.title };
        let mark = if self.history.is_changed() { " •" } else { "" };
        let title = format!("{name}{mark} — Tapcross");
        if title != self.window_title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.window_title = title;
        }
    }
}

impl eframe::App for TapcrossApp {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.now = ctx.input(|input| input.time);
        self.take_dialog_answer(ctx);
        self.take_dropped_files(ctx);
        self.take_loaded_tables();
        self.take_shortcuts(ctx);
        self.guard_closing(ctx);
        self.refresh_answer();
        self.tend_search();
        if let Some(problem) = self.keep_safe.tend(&self.history, self.file.as_deref(), self.now, ctx) {
            self.wrong(problem);
        }
        self.update_title(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let mut actions = Vec::new();
        let screen = Screen {
            job: self.history.job(),
            answer: &self.answer,
            units: self.settings.units,
            library: &self.library,
        };
        let chrome = window::Chrome {
            file: self.file.as_deref(),
            is_changed: self.history.is_changed(),
            undo: self.history.undo_label(),
            redo: self.history.redo_label(),
            settings: &self.settings,
        };
        window::show(ui, &screen, &chrome, &mut self.view, &mut actions);
        overlays::show(ui, &screen, &mut self.view, &mut actions);
        self.show_recovered(ui);
        let closed = overlays::notices(ui, self.notices.shown(self.now));
        if let Some(index) = closed {
            self.notices.close(index);
        }
        let ctx = ui.ctx().clone();
        for action in actions {
            self.run(action, &ctx);
        }
        self.refresh_answer();
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.keep_safe.end(self.history.is_changed() && !self.allowed_to_close);
        self.keep_settings();
    }

    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}

impl TapcrossApp {
    fn show_recovered(&mut self, ui: &egui::Ui) {
        let Some(found) = self.recovered.first() else {
            return;
        };
        match overlays::recovered(ui, found) {
            Some(overlays::RecoveredChoice::Restore) => {
                let found = self.recovered.remove(0);
                let file = found.original.clone();
                self.begin(History::of_unsaved(found.job.clone()), file);
                self.keep_safe.adopt(found);
            }
            Some(overlays::RecoveredChoice::Discard) => {
                if let Err(error) = self.recovered.remove(0).discard() {
                    self.wrong(format!("{error:#}"));
                }
            }
            Some(overlays::RecoveredChoice::Later) => {
                self.recovered.remove(0);
            }
            None => {}
        }
    }
}
