//! The window's life: background work in, panels drawn, actions carried out, work kept safe.

pub mod checks;
mod compare;
pub mod dialogs;
pub mod keep_safe;
mod library_tables;
mod place;
mod preview;
mod recovery;
pub mod reports;
mod run_action;
mod set;
mod start;
mod table_files;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use eframe::egui;

pub use start::Start;

use crate::app::checks::Checks;
use crate::app::compare::Comparing;
use crate::app::dialogs::{Answered, FileDialogs};
use crate::app::keep_safe::{KeepSafe, Told};
use crate::app::reports::Reports;
use crate::files::autosave::Recovered;
use crate::files::fingerprint::Fingerprint;
use crate::files::library::{Library, LibraryProblem, Loading};
use crate::files::places::Places;
use crate::files::settings::{self, Settings, ThemeChoice};
use crate::files::{demo, job_file};
use crate::history::History;
use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::ui::view::action::{Action, Command};
use crate::ui::view::at_stake::AtStake;
use crate::ui::view::held::Trials;
use crate::ui::view::notices::{Notices, Tone};
use crate::ui::view::path_prompt::PathPrompt;
use crate::ui::view::search::Look;
use crate::ui::view::{Chrome, Confirm, Screen, View};
use crate::ui::widgets::focus::Keys;
use crate::ui::{help, options, overlays, preview as preview_sheet, settings as settings_sheet, theme, window};
use crate::units::show;

/// Most letters that a paste into a field has: far more than any title, note or number.
const LONGEST_FIELD_PASTE: usize = 10_000;
/// Most letters that a paste into the table editor has: room for the largest table that the editor takes, in three grids.
const LONGEST_TABLE_PASTE: usize = 200_000;

/// Longest that the window waits for a person's own tables; what takes longer to read comes in later.
const FIRST_LOOK: Duration = Duration::from_millis(100);

/// The whole program.
pub struct TapcrossApp {
    history: History,
    answer: Answer,
    answered_revision: u64,
    file: Option<PathBuf>,
    /// What the job's file was when it was opened or last saved.
    opened: Option<Fingerprint>,
    library: Library,
    /// A person's own tables, while they are being read.
    loading: Option<Loading>,
    settings: Settings,
    places: Option<Places>,
    dialogs: Box<dyn FileDialogs>,
    keep_safe: KeepSafe,
    reports: Reports,
    checks: Checks,
    look: Look,
    recovered: Vec<Recovered>,
    asks_about_recovered: bool,
    notices: Notices,
    view: View,
    now: f64,
    /// What waits, in order, until the field in hand has handed over what was typed.
    waiting: Vec<Action>,
    /// True once the hand was taken off the field for it.
    field_is_left: bool,
    allowed_to_close: bool,
    /// What is done once every report is written.
    after_reports: Option<Action>,
    window_title: String,
    /// What the hand holds, tried out.
    trials: Trials,
    /// Whose the keys are.
    keys: Keys,
    /// Where the window stood when it was closed, until it is back there.
    goes_to: Option<(i32, i32)>,
    /// What the job is compared with.
    comparing: Comparing,
    /// The report's pages, while they are seen.
    preview: preview::Preview,
    /// True once a picture of the chart that was asked for is on the clipboard.
    chart_is_copied: Arc<AtomicBool>,
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
            let (found, problems) = recovery::found(places, settings.units);
            recovered = found;
            problems.into_iter().for_each(&mut wrong);
            recovery::sweep_unfinished(places, &settings.recent);
        }
        all_problems.iter().map(LibraryProblem::sentence).for_each(&mut wrong);
        let (keep_safe, told) = KeepSafe::begin(start.places.as_ref(), ctx);
        if let Some(Told::Failed(text)) = told {
            wrong(text);
        }
        let history = History::of_saved(demo::heat_pump());
        let mut app = Self {
            answer: Answer::of(history.job()),
            answered_revision: history.revision(),
            history,
            file: None,
            opened: None,
            library,
            loading,
            keep_safe,
            reports: Reports::new(Arc::clone(&start.look)),
            checks: Checks::new(start.check),
            look: start.look,
            settings,
            places: start.places,
            dialogs: start.dialogs,
            asks_about_recovered: !recovered.is_empty(),
            recovered,
            notices,
            view: View::default(),
            now: 0.0,
            waiting: Vec::new(),
            field_is_left: false,
            allowed_to_close: false,
            after_reports: None,
            window_title: String::new(),
            trials: Trials::default(),
            keys: Keys::default(),
            comparing: Comparing::default(),
            preview: preview::Preview::default(),
            chart_is_copied: Arc::default(),
            goes_to: None,
        };
        app.goes_to = app.settings.window_place;
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

    /// Waits until what is being written stands on the disk; for tests.
    pub fn wait_for_the_disk(&mut self, ctx: &egui::Context) {
        let told = self.keep_safe.wait(self.now);
        self.tell(told);
        while self.reports.next().is_some() {
            std::thread::sleep(Duration::from_millis(1));
            self.tend_reports(ctx);
        }
    }

    /// Replaces the job as if it had been opened; for tests and benchmarks.
    pub fn show_job(&mut self, job: Job) {
        self.begin(History::of_saved(job), None);
    }

    /// Another job takes the place of the one in the window, which is given up with this and not before.
    fn begin(&mut self, history: History, file: Option<(PathBuf, Option<Fingerprint>)>) {
        self.history = history.following(&self.history);
        (self.file, self.opened) = file.map_or((None, None), |(path, opened)| (Some(path), opened));
        let total_only = crate::ui::reading_entry::is_total_only(self.history.job());
        self.view = self.view.of_another(total_only);
        self.answer = Answer::of(self.history.job());
        self.answered_revision = self.history.revision();
        self.keep_safe.forget();
    }

    /// What would be lost if another job took the place of this one.
    fn at_stake(&self) -> AtStake<'_> {
        AtStake::of(&self.history, self.file.as_deref(), self.opened, &self.view)
    }

    /// Says what a person has to know about the autosave.
    fn tell(&mut self, told: Option<Told>) {
        match told {
            Some(Told::Failed(text)) => self.wrong(text),
            Some(Told::WorksAgain) => self.done("The autosave works again"),
            None => {}
        }
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
        // A question that stands open is answered first.
        if !dropped.is_empty() && !self.asks() {
            self.take_dropped(dropped, ctx);
        }
    }

    /// True while something lies over the job.
    fn is_covered(&self) -> bool {
        self.asks()
            || self.view.options.is_open
            || self.view.settings.is_some()
            || self.view.preview.is_some()
            || self.view.help.is_some()
            || self.view.is_over_the_job()
    }

    /// True while a question stands open, which keeps keys to itself.
    fn asks(&self) -> bool {
        self.view.confirm.is_some() || self.view.path_prompt.is_some() || self.asks_about_recovered
    }

    /// Whether a command's keys count now.
    fn may_be_pressed(&self, command: Command) -> bool {
        let is_over_the_job = self.view.is_over_the_job();
        let is_text_key = matches!(command, Command::Undo | Command::Redo);
        match () {
            () if self.asks() => false,
            () if self.view.help.is_some() => command == Command::Help || command == Command::FullScreen,
            () if is_over_the_job => command == Command::Quit,
            // Where something is typed they are the field's own.
            () => !(is_text_key && self.view.entry.as_ref().is_some_and(|entry| entry.text != entry.before)),
        }
    }

    fn take_shortcuts(&mut self, ctx: &egui::Context) {
        // A chord without Shift also matches when Shift is held, so the ones with Shift are asked first.
        let with_shift = |command: &Command| command.shortcut().is_some_and(|keys| keys.modifiers.shift);
        let (shifted, plain): (Vec<_>, Vec<_>) = Command::ALL.into_iter().partition(with_shift);
        for command in shifted.into_iter().chain(plain) {
            let Some(shortcut) = command.shortcut().filter(|_| self.may_be_pressed(command)) else {
                continue;
            };
            if ctx.input_mut(|input| input.consume_shortcut(&shortcut)) {
                self.run_after_the_field(command.into(), ctx);
            }
        }
    }

    /// Runs an action once the field in hand, where there is one, has given up what was typed: it counts as much as what stands in the job.
    fn run_after_the_field(&mut self, action: Action, ctx: &egui::Context) {
        if self.view.entry.is_none() {
            self.run(action, ctx);
            return;
        }
        if !self.waiting.contains(&action) {
            self.waiting.push(action);
        }
        ctx.request_repaint();
    }

    /// After a picture, whose keys the field has seen: takes the hand off it, and a picture later, when what was typed has come in, does what waited.
    fn run_what_waited(&mut self, ctx: &egui::Context) {
        if self.waiting.is_empty() {
            return;
        }
        self.field_is_left = !self.field_is_left;
        if self.field_is_left {
            ctx.memory_mut(|memory| memory.focused().into_iter().for_each(|field| memory.surrender_focus(field)));
            ctx.request_repaint();
            return;
        }
        for action in std::mem::take(&mut self.waiting) {
            self.run(action, ctx);
        }
    }

    /// Refuses what is on the clipboard where no field and no table could be meant by it.
    fn bound_pastes(&mut self, ctx: &egui::Context) {
        let most = if self.view.table_editor.is_some() { LONGEST_TABLE_PASTE } else { LONGEST_FIELD_PASTE };
        let too_long = ctx.input_mut(|input| {
            let letters = |event: &egui::Event| {
                let egui::Event::Paste(text) = event else { return None };
                // As many bytes as letters at least, and counting those is free.
                Some(text)
                    .filter(|text| text.len() > most)
                    .map(|text| text.chars().count())
                    .filter(|count| *count > most)
            };
            let found = input.events.iter().enumerate().find_map(|(place, event)| Some((place, letters(event)?)));
            found.map(|(place, count)| {
                input.events.remove(place);
                count
            })
        });
        if let Some(letters) = too_long {
            let (letters, most) = (show::number(letters as f64, 0), show::number(most as f64, 0));
            self.wrong(format!("Not pasted: {letters} letters are too many; what is pasted here has at most {most}"));
        }
    }

    fn guard_closing(&mut self, ctx: &egui::Context) {
        if !ctx.input(|input| input.viewport().close_requested()) {
            return;
        }
        if !self.allowed_to_close && self.view.entry.is_some() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.run_after_the_field(Command::Quit.into(), ctx);
        } else if !self.allowed_to_close && !self.at_stake().is_nothing() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.ask_to_give_up(Command::Quit.into());
        } else if let Some(path) = self.reports.next() {
            let text = format!("The window closes once the results are written: {}", path.display());
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            let agreed = Box::new(self.at_stake().stamp());
            self.after_reports = Some(Action::GiveUp(agreed, Box::new(Command::Quit.into())));
            self.allowed_to_close = false;
            self.done(text);
        } else {
            self.allowed_to_close = true;
        }
    }

    /// Asks before an action gives up work; the job goes only when the action has something in its place.
    fn ask_to_give_up(&mut self, action: Action) {
        let at_stake = self.at_stake();
        let verb = action.gives_up().unwrap_or("Go on");
        let then = Box::new(action.clone());
        self.view.confirm = Some(Confirm {
            question: at_stake.question(),
            yes: format!("{verb} without {}", at_stake.given_up()),
            no: "Keep working",
            third: at_stake.is_job().then(|| ("Save", Box::new(Action::SaveThen(then)))),
            action: Box::new(Action::GiveUp(Box::new(at_stake.stamp()), Box::new(action))),
        });
    }

    fn open_path(&mut self, path: &Path) {
        match job_file::open(path) {
            Ok((job, opened)) => {
                self.begin(History::of_saved(job), Some((path.to_path_buf(), Some(opened))));
                self.settings.opened(path);
                self.keep_settings();
            }
            Err(error) => self.wrong_path(job_file::told(&error, self.settings.units)),
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
    fn logic(&mut self, ctx: &egui::Context, frame: &mut eframe::Frame) {
        if let Some(place) = self.goes_to.take() {
            place::go_back(ctx, frame, place);
        }
        self.now = ctx.input(|input| input.time);
        self.take_dialog_answer(ctx);
        self.take_dropped_files(ctx);
        self.tell_of_copied_chart();
        self.bound_pastes(ctx);
        self.take_loaded_tables();
        self.hold_against_library();
        self.take_shortcuts(ctx);
        self.guard_closing(ctx);
        self.refresh_answer();
        if let Some(checked) = self.checks.tend(self.history.job(), self.answered_revision, ctx) {
            self.answer = checked;
            self.comparing.forget_options();
        }
        self.tend_search();
        self.advise(ctx);
        self.compare(ctx);
        self.tend_reports(ctx);
        self.tend_preview(ctx);
        let at_stake = AtStake::of(&self.history, self.file.as_deref(), self.opened, &self.view);
        let told = self.keep_safe.tend(&at_stake, self.now, ctx);
        self.tell(told);
        self.update_title(ctx);
        self.settings.window_points = window::size(ctx).or(self.settings.window_points);
        self.settings.window_place = window::place(ctx).or(self.settings.window_place);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let mut actions = Vec::new();
        let revision = self.history.revision();
        if self.trials.follow(self.view.held.take(), self.history.job(), revision) {
            ui.ctx().request_repaint();
        }
        self.view.follow(revision);
        let is_back = self.view.back.keeps(self.history.job().judged) && self.answer.point().is_some();
        let kept_back = is_back.then(|| self.answer.kept_back());
        let shown = kept_back.as_ref().unwrap_or(&self.answer);
        let screen = Screen::of(self.history.job(), shown, self.settings.units, &self.library);
        let screen = Screen { company: Some(&self.settings.company), firsts: Some(&self.settings.firsts), ..screen };
        let screen = screen.holding(self.trials.shown().filter(|_| kept_back.is_none()));
        let screen = if kept_back.is_none() { self.comparing.on(screen, revision) } else { screen };
        let chrome = Chrome {
            file: self.file.as_deref(),
            is_changed: self.history.is_changed(),
            undo: self.history.undo_label(),
            redo: self.history.redo_label(),
            has_recovered: !self.recovered.is_empty(),
            has_message: !self.notices.shown(self.now).is_empty(),
            settings: &self.settings,
        };
        window::show(ui, &screen, &chrome, &mut self.view, &mut actions);
        options::show(ui, &screen, &mut self.view, &mut actions);
        preview_sheet::show(ui, (&chrome, screen.job), self.preview.pages(), &mut self.view, &mut actions);
        settings_sheet::show(ui, &chrome, &mut self.view, &mut actions);
        overlays::show(ui, &screen, &mut self.view, &mut actions);
        help::show(ui, &mut self.view);
        if self.asks() {
            // Nothing below a question can have the keys, and waiting for them would draw for ever.
            self.view.go_to = None;
        }
        self.show_recovered(ui, &mut actions);
        self.keys.tend(ui, self.is_covered());
        let foot = window::hint_height(ui.ctx().content_rect().size());
        match overlays::notices(ui, self.notices.shown(self.now), self.view.message_place, foot) {
            Some(overlays::Closed::One(index)) => self.notices.close(index),
            Some(overlays::Closed::All) => self.notices.close_all(),
            None => {}
        }
        let ctx = ui.ctx().clone();
        for action in actions {
            self.run(action, &ctx);
        }
        self.run_what_waited(&ctx);
        self.refresh_answer();
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        let at_stake = AtStake::of(&self.history, self.file.as_deref(), self.opened, &self.view);
        let is_lost = !at_stake.is_nothing_to_keep() && !self.allowed_to_close;
        self.keep_safe.end(is_lost.then_some(&at_stake));
        self.reports.finish();
        self.keep_settings();
    }

    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}
