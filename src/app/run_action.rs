//! Carries actions out, one small function each.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::Ordering;

use eframe::egui;

use crate::app::TapcrossApp;
use crate::app::reports::{Asked, Written};
use crate::edit::{Edit, OptionEdit};
use crate::files::settings::ZOOM_RANGE;
use crate::files::{demo, job_file, out_file, sheet_file};
use crate::history::History;
use crate::model::change::kinds::other_machine;
use crate::model::facts::blower::{BlowerTable, PartInTest};
use crate::model::facts::change::{ChangeId, ChangeKind};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Field;
use crate::model::read_next::Proposals;
use crate::model::typed::table_draft::{TableDraft, TableFor, too_large};
use crate::report::form::{Form, endings};
use crate::report::text;
use crate::ui::view::action::{Action, Command, Tables};
use crate::ui::view::at_stake::Stamp;
use crate::ui::view::library::Picker;
use crate::ui::view::notices::Tone;
use crate::ui::view::other_tap::run_on_next;
use crate::ui::view::path_prompt::Purpose;
use crate::ui::view::preview::PreviewView;
use crate::ui::view::search::Search;
use crate::ui::view::{Confirm, FieldKey, KeptBack, LegendPlace};
use crate::ui::widgets::focus;

/// Percent that one step of zoom adds.
const ZOOM_STEP: u16 = 10;

impl TapcrossApp {
    /// Carries out one action, or asks first where it would give up work.
    pub fn run(&mut self, action: Action, ctx: &egui::Context) {
        if let Action::GiveUp(agreed, action) = action {
            if *agreed == self.at_stake().stamp() {
                self.carry_out(*action, Some(agreed), ctx);
            } else {
                self.run(*action, ctx);
            }
        } else if action.gives_up().is_some() && !self.at_stake().is_nothing() {
            self.ask_to_give_up(action);
        } else {
            self.carry_out(action, None, ctx);
        }
        self.refresh_answer();
        self.tend_search();
    }

    /// Carries out one action; `agreed` is the work that a person agreed to give up for it.
    fn carry_out(&mut self, action: Action, agreed: Option<Box<Stamp>>, ctx: &egui::Context) {
        match action {
            Action::Edit(edit) => self.edit(edit),
            Action::Edits(edits) => self.edits(edits),
            Action::Command(Command::Open) => self.dialogs.ask(Purpose::OpenJob(agreed), ctx),
            Action::Command(command) => self.command(command, ctx),
            Action::OpenPath(path) => self.open_path(&path),
            Action::ShowBeside(path) => self.show_beside(&path),
            Action::Restore(autosave) => self.restore(&autosave),
            Action::ThrowAway(autosave) => self.ask_to_throw_away(&autosave),
            Action::SaveTo { path, then } => match self.replaces(&path) {
                Some(question) => self.ask_to_replace(question, Action::SaveTo { path, then }),
                None => self.save_to(&path, then, ctx),
            },
            Action::SaveThen(then) => self.save(Some(then), ctx),
            Action::ReportTo(path) if path.exists() => {
                self.ask_to_replace(there_is_a_file(&path), Action::ReportTo(path));
            }
            Action::ReportTo(path) => self.report_to(&path, ctx),
            Action::SheetTo(path) if path.exists() => {
                self.ask_to_replace(there_is_a_file(&path), Action::SheetTo(path));
            }
            Action::SheetTo(path) => self.sheet_to(&path, ctx),
            Action::Replace(action) => self.replace(*action, ctx),
            Action::GiveUp(..) => self.run(action, ctx),
            Action::Units(units) => {
                self.settings.units = units;
                self.view.refused.clear();
                self.view.entry = None;
                self.view.chart.zoomed = None;
                self.view.chart.fitted = None;
                self.keep_settings();
            }
            Action::Theme(choice) => {
                self.settings.theme = choice;
                self.apply_settings(ctx);
                self.keep_settings();
            }
            Action::Fold(panel) => {
                if !self.settings.folded.remove(&panel) {
                    self.settings.folded.insert(panel);
                }
                self.keep_settings();
            }
            Action::Set(setting) => self.set(*setting, ctx),
            Action::ChooseLogo => self.dialogs.ask(Purpose::Logo, ctx),
            Action::TakeLogo(path) => self.take_logo(&path),
            Action::ForgetLogo => self.forget_logo(),
            Action::UseTable(table) => self.use_table(*table),
            Action::KeepTable(table) => self.keep_table(*table),
            Action::ReplaceTable(path, table) => self.replace_table(path, *table),
            Action::OpenTable(path) => self.open_table(&path),
            Action::KeepTables(tables) => self.keep_tables(tables),
            Action::WriteTables(which) => self.ask_where_tables_go(which, ctx),
            Action::TableTo(path, which) if path.exists() && !sheet_file::is_job(&path) => {
                self.ask_to_replace(there_is_a_file(&path), Action::TableTo(path, which));
            }
            Action::TableTo(path, which) => self.tables_to(&path, &which),
            Action::ChangeTable(table, keeping) => self.change_table(&table, &keeping),
            Action::MoveTable { file, folder } => self.move_table(&file, &folder),
            Action::TakeFromLibrary(table, what_for) => self.take_from_library(*table, what_for),
            Action::KeepJobsTable(table) => self.keep_jobs_table(*table),
            Action::KeepIn(table, keeping) => self.keep_in(*table, keeping),
            Action::PickMachine(of) => self.pick_blower(TableFor::OtherMachine(of)),
            Action::Search => self.search(ctx),
            Action::StopSearch => self.view.search.iter().for_each(Search::stop),
        }
    }

    fn search(&mut self, ctx: &egui::Context) {
        self.view.search = None;
        match Search::begin(self.history.job(), self.history.revision(), Arc::clone(&self.look), ctx) {
            Ok(search) => self.view.search = Some(search),
            Err(message) => self.wrong(message),
        }
    }

    /// Takes in what a search has to say, and sees whether it still belongs to the job.
    pub(super) fn tend_search(&mut self) {
        if let Some(search) = &mut self.view.search {
            search.tend(self.history.job(), self.history.revision());
        }
    }

    /// Works out what to read next, once no hand moves anything.
    pub(super) fn advise(&mut self, ctx: &egui::Context) {
        let revision = self.history.revision();
        let is_told = self.view.read_next.as_ref().is_some_and(|(told, _)| *told == revision);
        if !is_told && !ctx.input(|input| input.pointer.any_down()) {
            self.view.read_next = Some((revision, Proposals::of(self.history.job(), &self.answer)));
        }
    }

    fn edit(&mut self, edit: Edit) {
        let applied = match self.price_of_new(&edit) {
            Some(price) => self.history.apply_together(vec![edit, price]),
            None => self.history.apply(edit),
        };
        if let Err(refusal) = applied {
            self.wrong(refusal.sentence(self.settings.units));
        }
    }

    /// Several edits as one step of undo, of their own.
    fn edits(&mut self, edits: Vec<Edit>) {
        if let Err(refusal) = self.history.apply_together(edits) {
            self.wrong(refusal.sentence(self.settings.units));
        }
    }

    fn command(&mut self, command: Command, ctx: &egui::Context) {
        match command {
            Command::New => self.new_job(),
            Command::DemoHeatPump => self.begin(History::of_saved(demo::heat_pump()), None),
            Command::DemoFurnace => self.begin(History::of_saved(demo::gas_furnace()), None),
            Command::Open => self.dialogs.ask(Purpose::OpenJob(None), ctx),
            Command::Recovered => self.asks_about_recovered = !self.recovered.is_empty(),
            Command::Save => self.save(None, ctx),
            Command::SaveAs => self.dialogs.ask(Purpose::SaveJob(self.suggested("ron"), None), ctx),
            Command::Print => self.dialogs.ask(Purpose::SaveReport(self.suggested("pdf")), ctx),
            Command::Preview => {
                self.view.preview = if self.view.preview.is_some() { None } else { Some(PreviewView::default()) };
            }
            Command::Report => self.dialogs.ask(Purpose::SaveReport(self.suggested("json")), ctx),
            Command::FieldSheet => {
                let name = format!("field-sheet-{}", self.suggested("pdf"));
                self.dialogs.ask(Purpose::SaveSheet(name), ctx);
            }
            Command::CopyResults => {
                ctx.copy_text(text::results(self.history.job(), &self.answer, self.settings.units));
                self.done("Verdict, taps and changes are on the clipboard");
            }
            Command::CopyChart => self.copy_chart(ctx),
            Command::Duplicate => self.duplicate(),
            Command::Undo => self.step_back(),
            Command::Redo => self.step_forward(),
            Command::PickBlower => self.pick_blower(TableFor::Job),
            Command::TypeTable => self.view.edit_table(None, TableFor::Job),
            Command::EditTable => self.edit_table(),
            Command::OpenTable => self.ask_for_a_table(ctx),
            Command::WriteTable => self.ask_where_tables_go(Tables::Job, ctx),
            Command::FitChart => self.view.chart = self.view.chart.fit(),
            Command::HoldAxes => self.view.chart.holds_axes = !self.view.chart.holds_axes,
            Command::HideAnswers => {
                self.view.back = if self.view.back == KeptBack::No { KeptBack::All } else { KeptBack::No };
            }
            Command::ShowAnswers => {
                if self.view.back != KeptBack::No {
                    self.view.back = KeptBack::But(self.job().judged);
                }
            }
            Command::Legend => self.view.chart.legend = !self.view.chart.legend,
            Command::ShowBeside => self.dialogs.ask(Purpose::ShowBeside, ctx),
            Command::ShowAlone => self.comparing.beside = None,
            Command::Options => self.view.options.is_open = !self.view.options.is_open,
            Command::CopyOption => self.run(Edit::Option(OptionEdit::Copy).into(), ctx),
            Command::NextOption => self.step_to_option(self.job().options.index() + 1, ctx),
            Command::PreviousOption => self.step_to_option(self.job().options.index().wrapping_sub(1), ctx),
            Command::Settings => {
                self.view.settings =
                    if self.view.settings.is_some() { None } else { Some(self.settings.company.clone()) };
            }
            Command::FullScreen => {
                let is_full = ctx.input(|input| input.viewport().fullscreen).unwrap_or_default();
                ctx.send_viewport_cmd(egui::ViewportCommand::Fullscreen(!is_full));
            }
            Command::Help => self.view.help = if self.view.help.is_some() { None } else { Some(0) },
            Command::ZoomIn => self.zoom(ctx, self.settings.zoom_percent + ZOOM_STEP),
            Command::ZoomOut => self.zoom(ctx, self.settings.zoom_percent.saturating_sub(ZOOM_STEP)),
            Command::ZoomReset => self.zoom(ctx, ZOOM_RANGE.0),
            Command::GoToReadings => {
                let total = self.view.total_only;
                let field = if total { Field::TotalReading } else { Field::ReturnReading };
                self.view.go_to = Some(FieldKey::Of(field));
            }
            Command::GoToCall => {
                // What is called stands where the legend does.
                self.view.chart.legend &= self.view.legend_place == LegendPlace::ByTheChart;
                focus::call(ctx, focus::CALL);
            }
            Command::FileMenu => focus::call(ctx, focus::FILE),
            Command::NextPart => focus::to_part(ctx, &self.view.parts, false),
            Command::PreviousPart => focus::to_part(ctx, &self.view.parts, true),
            Command::NextTap => self.run_on_next(1, ctx),
            Command::PreviousTap => self.run_on_next(-1, ctx),
            Command::NextReadings => self.step_to(self.job().judged + 1, ctx),
            Command::PreviousReadings => self.step_to(self.job().judged.wrapping_sub(1), ctx),
            Command::Quit => {
                self.allowed_to_close = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
        }
    }

    /// Shows other readings of the visit; past its ends nothing happens.
    fn step_to(&mut self, set: usize, ctx: &egui::Context) {
        if set < self.job().sets.len() {
            self.run(Edit::JudgeSet(set).into(), ctx);
        }
    }

    /// Works on another option; past the ends nothing happens.
    fn step_to_option(&mut self, option: usize, ctx: &egui::Context) {
        if option < self.job().options.count() {
            self.run(Edit::Option(OptionEdit::Show(option)).into(), ctx);
        }
    }

    /// Opens the editor on the job's table, unless that is past all typing.
    fn edit_table(&mut self) {
        let table = self.history.job().machine.as_ref();
        let draft = table.map(TableDraft::from_table);
        match draft.and_then(|draft| too_large(draft.rows.len(), draft.taps.len())) {
            Some(sentence) => self.wrong(format!("The table cannot be changed here: {sentence}")),
            None => self.view.edit_table(table, TableFor::Job),
        }
    }

    /// Asks for a picture of the window's next drawing, of which the chart is cut out and copied.
    fn copy_chart(&mut self, ctx: &egui::Context) {
        let Some(place) = self.view.chart_place else {
            self.wrong("The chart is not in sight: show it first, then copy it");
            return;
        };
        let (window, is_copied) = (ctx.clone(), Arc::clone(&self.chart_is_copied));
        ctx.request_screenshot(move |picture| {
            let scale = window.pixels_per_point();
            let all = egui::Vec2::new(picture.width() as f32, picture.height() as f32) / scale;
            let place = place.intersect(egui::Rect::from_min_size(egui::Pos2::ZERO, all));
            if place.is_positive() {
                window.copy_image(picture.region(&place, Some(scale)));
                is_copied.store(true, Ordering::Relaxed);
            }
            window.request_repaint();
        });
    }

    /// Says that the chart was copied, once it is.
    pub(super) fn tell_of_copied_chart(&mut self) {
        if self.chart_is_copied.swap(false, Ordering::Relaxed) {
            self.done("The chart is on the clipboard as a picture");
        }
    }

    fn new_job(&mut self) {
        self.begin(History::of_saved(self.settings.firsts.job()), None);
        self.pick_blower(TableFor::Job);
    }

    fn pick_blower(&mut self, table_for: TableFor) {
        self.view.table_for = table_for;
        self.view.picker = Some(Picker::default());
    }

    /// What saving here would replace, as a question; nothing for a new file and for the job's own as it was opened.
    fn replaces(&self, path: &Path) -> Option<String> {
        match &self.file {
            Some(own) if own == path => job_file::is_another(path, self.opened).then(|| {
                format!(
                    "The file is not what was opened here: another window or program has written it: {}",
                    path.display()
                )
            }),
            _ => path.exists().then(|| there_is_a_file(path)),
        }
    }

    fn ask_to_replace(&mut self, question: String, action: Action) {
        self.view.confirm = Some(Confirm {
            question,
            yes: "Replace it".to_owned(),
            no: "Keep the file as it is",
            third: None,
            action: Box::new(Action::Replace(Box::new(action))),
        });
    }

    fn duplicate(&mut self) {
        let was_saved = !self.history.is_changed();
        let mut copy = self.history.job().clone();
        copy.illustrative = false;
        copy.title = format!("{} (copy)", copy.title);
        self.begin(History::of_unsaved(copy), None);
        self.done(if was_saved {
            "This is a new job now; the other one is untouched"
        } else {
            "This is a new job now, with what was not saved; the other one's file is as it was last saved"
        });
    }

    /// Saves where the job came from, or asks for a path; `then` follows once it is saved.
    fn save(&mut self, then: Option<Box<Action>>, ctx: &egui::Context) {
        match self.file.clone() {
            Some(path) => self.run(Action::SaveTo { path, then }, ctx),
            None => self.dialogs.ask(Purpose::SaveJob(self.suggested("ron"), then), ctx),
        }
    }

    fn save_to(&mut self, path: &Path, then: Option<Box<Action>>, ctx: &egui::Context) {
        if self.reports.is_writing_to(path) {
            self.wrong_path(format!(
                "Not saved, for results are being written there; wait for them or give another name: {}",
                path.display()
            ));
            return;
        }
        match job_file::save(path, self.history.job()) {
            Ok(saved) => {
                self.history.mark_saved();
                self.keep_safe.forget();
                (self.file, self.opened) = (Some(path.to_path_buf()), Some(saved));
                self.settings.opened(path);
                self.keep_settings();
                self.view.path_prompt = None;
                self.done(format!("Saved: {}", path.display()));
                if let Some(then) = then {
                    self.run(*then, ctx);
                }
            }
            Err(error) => self.wrong_path(job_file::told(&error, self.settings.units)),
        }
    }

    fn report_to(&mut self, path: &Path, ctx: &egui::Context) {
        if self.is_a_jobs(path) {
            let endings = endings();
            self.wrong_path(format!(
                "Results would replace a job; give a name that ends in one of {endings}: {}",
                path.display()
            ));
            return;
        }
        let Some(form) = Form::of(path) else {
            let endings = endings();
            self.wrong_path(format!("No results have that ending; give one of {endings}: {}", path.display()));
            return;
        };
        self.write(path, form.on(self.settings.paper), ctx);
    }

    fn sheet_to(&mut self, path: &Path, ctx: &egui::Context) {
        match Form::field_sheet(path, self.settings.paper).filter(|_| !self.is_a_jobs(path)) {
            Some(form) => self.write(path, form, ctx),
            None => self.wrong_path(format!(
                "A field sheet is a PDF and takes no job's place; give a name that ends in .pdf: {}",
                path.display()
            )),
        }
    }

    /// True for the job's own file, and for a name that ends as a job's does.
    fn is_a_jobs(&self, path: &Path) -> bool {
        let is_own = self.file.as_deref().is_some_and(|own| out_file::is_same(own, path));
        let behind = out_file::behind_links(path);
        is_own || behind.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron"))
    }

    fn write(&mut self, path: &Path, form: Form, ctx: &egui::Context) {
        let file = self.file.as_deref().unwrap_or(Path::new("")).to_string_lossy().into_owned();
        let shown = self.shown();
        let asked = Asked { path: path.to_path_buf(), form, file, job: self.history.job().clone(), shown };
        match self.reports.write(asked, ctx) {
            Ok(()) => self.done(being_written(form, path)),
            Err(message) => self.wrong_path(message),
        }
    }

    /// Says what became of the reports, and does what waited for them.
    pub(super) fn tend_reports(&mut self, ctx: &egui::Context) {
        while let Some(Written { path, form, failure }) = self.reports.poll() {
            self.notices.take_back(&being_written(form, &path));
            let is_typed = self.view.path_prompt.as_ref().is_some_and(|prompt| prompt.is_for(&path));
            match failure {
                None => {
                    self.view.path_prompt.take_if(|_| is_typed);
                    self.done(format!("{} written: {}", form.result().0, path.display()));
                }
                Some(failure) => {
                    // Whoever waited to quit hears of it first.
                    self.after_reports = None;
                    if is_typed { self.wrong_path(failure) } else { self.wrong(failure) }
                }
            }
        }
        if self.reports.next().is_none()
            && let Some(action) = self.after_reports.take()
        {
            self.run_after_the_field(action, ctx);
        }
    }

    /// A file name made of the job's own.
    pub(super) fn suggested(&self, extension: &str) -> String {
        let title = &self.history.job().title;
        let plain: String =
            title.to_lowercase().chars().map(|letter| if letter.is_alphanumeric() { letter } else { '-' }).collect();
        let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
        let name = if words.is_empty() { "job".to_owned() } else { words.join("-") };
        format!("{name}.{extension}")
    }

    /// A refused text that still stands in its field is the last thing done, and goes first.
    fn step_back(&mut self) {
        if !self.view.refused.is_empty() {
            self.after_step("Undone: what was typed and could not be".to_owned());
            return;
        }
        if let Some(label) = self.history.undo() {
            self.after_step(format!("Undone: {label}"));
        }
    }

    fn step_forward(&mut self) {
        if let Some(label) = self.history.redo() {
            self.after_step(format!("Done again: {label}"));
        }
    }

    fn after_step(&mut self, told: String) {
        self.view.refused.clear();
        self.view.entry = None;
        self.notices.step();
        self.notices.say_of_step(Tone::Done, told, self.now);
    }

    fn zoom(&mut self, ctx: &egui::Context, percent: u16) {
        self.settings.zoom_percent = percent.clamp(ZOOM_RANGE.0, ZOOM_RANGE.1);
        self.apply_settings(ctx);
        self.keep_settings();
    }

    fn run_on_next(&mut self, by: isize, ctx: &egui::Context) {
        if let Some(action) = run_on_next(self.history.job(), &self.answer, by) {
            self.carry_out(action, None, ctx);
        }
    }

    pub(super) fn use_table(&mut self, table: BlowerTable) {
        if let TableFor::OtherMachine(of) = self.view.table_for {
            self.put_machine_on(of, table);
            return;
        }
        let read_before = readings(self.history.job());
        if let Err(refusal) = self.history.apply(Edit::Machine(Box::new(table))) {
            self.wrong(refusal.sentence(self.settings.units));
            return;
        }
        let gone = read_before.saturating_sub(readings(self.history.job()));
        if gone > 0 {
            let what = if gone == 1 { "One reading".to_owned() } else { format!("{gone} readings") };
            let told = format!(
                "{what} went with the old air path, for the new one has no such place; undo brings the old machine back with them"
            );
            self.notices.say_of_step(Tone::Wrong, told, self.now);
        }
        self.view = self.view.of_another(self.view.total_only);
        self.view.go_to =
            Some(FieldKey::Of(if self.view.total_only { Field::TotalReading } else { Field::ReturnReading }));
    }

    /// Saves, writes or throws away, whatever file is there.
    fn replace(&mut self, action: Action, ctx: &egui::Context) {
        if let Action::SaveTo { path, then } = action {
            self.save_to(&path, then, ctx);
        } else if let Action::ReportTo(path) = action {
            self.report_to(&path, ctx);
        } else if let Action::SheetTo(path) = action {
            self.sheet_to(&path, ctx);
        } else if let Action::TableTo(path, which) = action {
            self.tables_to(&path, &which);
        } else if let Action::ThrowAway(autosave) = action {
            self.throw_away(&autosave);
        } else {
            self.run(action, ctx);
        }
    }

    /// Another machine on the ducts: a new change, or a new table for one that is there.
    fn put_machine_on(&mut self, of: Option<ChangeId>, table: BlowerTable) {
        let job = self.history.job();
        let before = of.and_then(|id| job.changes.iter().find(|change| change.id == id));
        let mut new = other_machine::replacement(job, table);
        match before.and_then(|change| Some((change.id, change.kind.particulars().machine?))) {
            Some((id, old)) => {
                new.coil = old.coil.clone().filter(|_| !new.table.basis.coil.is_included());
                new.filter = old.filter.clone().filter(|_| new.table.basis.filter == PartInTest::Without);
                new.target = new.target.or(old.target);
                if new.table.name == old.table.name {
                    new.tap = old.tap.clone().filter(|tap| new.table.tap(tap).is_some());
                    new.leaves.clone_from(&old.leaves);
                }
                // Another table is a step of its own, not one with what was typed before.
                let edit = Edit::ReplaceChange(id, ChangeKind::OtherMachine(Box::new(new)));
                self.edits(vec![edit]);
            }
            None => self.edit(Edit::AddChange(ChangeKind::OtherMachine(Box::new(new)))),
        }
        self.view.picker = None;
        self.view.table_editor = None;
        self.view.table_for = TableFor::Job;
        self.view.chart.zoomed = None;
        let changes = &self.history.job().changes;
        self.view.open_change = of.or_else(|| changes.last().map(|change| change.id));
    }
}

fn being_written(form: Form, path: &Path) -> String {
    let (what, are) = form.result();
    format!("{what} {are} being written: {}", path.display())
}

fn there_is_a_file(path: &Path) -> String {
    format!("There is a file already: {}", path.display())
}

/// How many places were read in all sets.
fn readings(job: &Job) -> usize {
    job.sets.iter().map(|set| set.readings.len()).sum()
}
