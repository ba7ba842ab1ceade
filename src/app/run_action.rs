//! Carries actions out, one small function each.

use std::path::{Path, PathBuf};

use eframe::egui;

use crate::app::action::{Action, Command};
use crate::app::dialogs::Purpose;
use crate::app::search_thread::Search;
use crate::app::{TapcrossApp, Tone};
use crate::edit::Edit;
use crate::files::atomic_write::write_atomically;
use crate::files::library::{self, LibraryEntry, Origin};
use crate::files::settings::ZOOM_RANGE;
use crate::files::{demo, job_file};
use crate::history::History;
use crate::model::blower::{BlowerTable, PartInTest};
use crate::model::change::{ChangeId, ChangeKind, first};
use crate::model::findings;
use crate::model::job::Job;
use crate::model::job_check::Field;
use crate::model::search;
use crate::report::json::{self, Report};
use crate::ui::view::{Confirm, FieldKey, Picker, TableFor, View};

/// Percent that one step of zoom adds.
const ZOOM_STEP: u16 = 10;

impl TapcrossApp {
    /// Carries out one action.
    pub fn run(&mut self, action: Action, ctx: &egui::Context) {
        match action {
            Action::Edit(edit) => self.edit(edit),
            Action::Edits(edits) => {
                if let Err(message) = self.history.apply_together(edits) {
                    self.wrong(message);
                }
            }
            Action::Command(command) => self.command(command, ctx),
            Action::OpenPath(path) if self.history.is_changed() => {
                self.ask_to_discard("Open", Action::OpenPath(path));
            }
            Action::OpenPath(path) => self.open_path(&path),
            Action::SaveTo(path) if path.exists() && self.file.as_ref() != Some(&path) => {
                self.ask_to_replace(&path, Action::SaveTo(path.clone()));
            }
            Action::ReportTo(path) if path.exists() => self.ask_to_replace(&path, Action::ReportTo(path.clone())),
            Action::SaveTo(path) => self.save_to(&path),
            Action::ReportTo(path) => self.report_to(&path),
            Action::Replace(action) => match *action {
                Action::SaveTo(path) => self.save_to(&path),
                Action::ReportTo(path) => self.report_to(&path),
                other => self.run(other, ctx),
            },
            Action::Discard(action) => self.discard(*action, ctx),
            Action::Units(units) => {
                self.settings.units = units;
                self.view.refused.clear();
                self.view.entry = None;
                self.view.chart.zoomed = None;
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
            Action::UseTable(table) => self.use_table(*table),
            Action::KeepTable(table) => self.keep_table(*table),
            Action::ReplaceTable(path, table) => self.replace_table(path, *table),
            Action::PickMachine(of) => self.pick_blower(TableFor::OtherMachine(of)),
            Action::Search => self.search(ctx),
            Action::StopSearch => self.view.search.iter().for_each(Search::stop),
        }
        self.refresh_answer();
        self.tend_search();
    }

    fn search(&mut self, ctx: &egui::Context) {
        self.view.search = None;
        match Search::begin(self.history.job(), self.history.revision(), search::cheapest, ctx) {
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

    fn edit(&mut self, edit: Edit) {
        if let Err(message) = self.history.apply(edit) {
            self.notices.say(Tone::Wrong, message, self.now);
        }
    }

    fn command(&mut self, command: Command, ctx: &egui::Context) {
        match command {
            Command::New | Command::DemoHeatPump | Command::DemoFurnace | Command::Open | Command::Quit
                if self.history.is_changed() =>
            {
                self.ask_to_discard(command.name().trim_end_matches('…'), command.into());
            }
            Command::New => self.new_job(),
            Command::DemoHeatPump => self.begin(History::of_saved(demo::heat_pump()), None),
            Command::DemoFurnace => self.begin(History::of_saved(demo::gas_furnace()), None),
            Command::Open => self.dialogs.ask(Purpose::OpenJob, ctx),
            Command::Save => self.save(ctx),
            Command::SaveAs => self.dialogs.ask(Purpose::SaveJob(self.suggested("ron")), ctx),
            Command::Report => self.dialogs.ask(Purpose::SaveReport(self.suggested("json")), ctx),
            Command::Duplicate => self.duplicate(),
            Command::Undo => self.step_back(),
            Command::Redo => self.step_forward(),
            Command::PickBlower => self.pick_blower(TableFor::Job),
            Command::TypeTable => self.view.edit_table(None, TableFor::Job),
            Command::EditTable => self.view.edit_table(self.history.job().machine.as_ref(), TableFor::Job),
            Command::FitChart => self.view.chart = crate::ui::view::ChartView::default(),
            Command::ZoomIn => self.zoom(ctx, self.settings.zoom_percent + ZOOM_STEP),
            Command::ZoomOut => self.zoom(ctx, self.settings.zoom_percent.saturating_sub(ZOOM_STEP)),
            Command::ZoomReset => self.zoom(ctx, ZOOM_RANGE.0),
            Command::GoToReadings => {
                let total = self.view.total_only;
                let field = if total { Field::TotalReading } else { Field::ReturnReading };
                self.view.go_to = Some(FieldKey::Of(field));
            }
            Command::NextTap => self.step_tap(1),
            Command::PreviousTap => self.step_tap(-1),
            Command::Quit => {
                self.allowed_to_close = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
        }
    }

    fn new_job(&mut self) {
        self.begin(History::of_saved(Job::default()), None);
        self.pick_blower(TableFor::Job);
    }

    fn pick_blower(&mut self, table_for: TableFor) {
        self.view.table_for = table_for;
        self.view.picker = Some(Picker::default());
    }

    fn discard(&mut self, action: Action, ctx: &egui::Context) {
        self.history.mark_saved();
        self.run(action, ctx);
    }

    fn ask_to_replace(&mut self, path: &Path, action: Action) {
        self.view.confirm = Some(Confirm {
            question: format!("There is a file already: {}", path.display()),
            yes: "Replace it".to_owned(),
            no: "Keep the old one",
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

    fn save(&mut self, ctx: &egui::Context) {
        match self.file.clone() {
            Some(path) => self.save_to(&path),
            None => self.dialogs.ask(Purpose::SaveJob(self.suggested("ron")), ctx),
        }
    }

    fn save_to(&mut self, path: &Path) {
        match job_file::save(path, self.history.job()) {
            Ok(()) => {
                self.history.mark_saved();
                self.keep_safe.forget();
                self.file = Some(path.to_path_buf());
                self.settings.opened(path);
                self.keep_settings();
                self.view.path_prompt = None;
                self.done(format!("Saved: {}", path.display()));
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    fn report_to(&mut self, path: &Path) {
        if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron")) {
            self.wrong_path(format!(
                "Results are JSON and would replace a job; give a name that ends in .json: {}",
                path.display()
            ));
            return;
        }
        let file = self.file.as_deref().unwrap_or(Path::new("")).to_string_lossy();
        let report = Report::of(&file, self.history.job(), &self.answer);
        let written =
            json::one(&report).map_err(anyhow::Error::from).and_then(|text| write_atomically(path, text.as_bytes()));
        match written {
            Ok(()) => {
                self.view.path_prompt = None;
                self.done(format!("Results written: {}", path.display()));
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// A file name made of the job's own.
    fn suggested(&self, extension: &str) -> String {
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
            self.after_step();
            self.done("Undone: what was typed and could not be");
            return;
        }
        if let Some(label) = self.history.undo() {
            self.after_step();
            self.done(format!("Undone: {label}"));
        }
    }

    fn step_forward(&mut self) {
        if let Some(label) = self.history.redo() {
            self.after_step();
            self.done(format!("Done again: {label}"));
        }
    }

    fn after_step(&mut self) {
        self.view.refused.clear();
        self.view.entry = None;
    }

    fn zoom(&mut self, ctx: &egui::Context, percent: u16) {
        self.settings.zoom_percent = percent.clamp(ZOOM_RANGE.0, ZOOM_RANGE.1);
        self.apply_settings(ctx);
        self.keep_settings();
    }

    fn step_tap(&mut self, by: isize) {
        let by_airflow = findings::by_airflow(&self.answer);
        let here = by_airflow.iter().position(|tap| tap.in_use);
        let there = here
            .and_then(|index| index.checked_add_signed(by))
            .and_then(|index| by_airflow.get(index))
            .map(|tap| tap.name.clone());
        if let Some(tap) = there {
            self.edit(Edit::Tap(Some(tap)));
        }
    }

    fn use_table(&mut self, table: BlowerTable) {
        if let TableFor::OtherMachine(of) = self.view.table_for {
            self.put_machine_on(of, table);
            return;
        }
        if let Err(message) = self.history.apply(Edit::Machine(Box::new(table))) {
            self.wrong(message);
            return;
        }
        self.view = View {
            tab: self.view.tab,
            total_only: self.view.total_only,
            chart: crate::ui::view::ChartView::default(),
            go_to: Some(FieldKey::Of(if self.view.total_only { Field::TotalReading } else { Field::ReturnReading })),
            ..View::default()
        };
    }

    /// Another machine on the ducts: a new change, or a new table for one that is there.
    fn put_machine_on(&mut self, of: Option<ChangeId>, table: BlowerTable) {
        let job = self.history.job();
        let before = of.and_then(|id| job.changes.iter().find(|change| change.id == id));
        let mut new = first::replacement(job, table);
        let edit = match before.map(|change| (change.id, &change.kind)) {
            Some((id, ChangeKind::OtherMachine(old))) => {
                new.coil = old.coil.clone().filter(|_| !new.table.basis.coil.is_included());
                new.filter = old.filter.clone().filter(|_| new.table.basis.filter == PartInTest::Without);
                new.target = new.target.or(old.target);
                Edit::ReplaceChange(id, ChangeKind::OtherMachine(Box::new(new)))
            }
            _ => Edit::AddChange(ChangeKind::OtherMachine(Box::new(new))),
        };
        self.edit(edit);
        self.view.picker = None;
        self.view.table_editor = None;
        self.view.table_for = TableFor::Job;
        self.view.chart.zoomed = None;
        let changes = &self.history.job().changes;
        self.view.open_change = of.or_else(|| changes.last().map(|change| change.id));
    }

    fn keep_table(&mut self, table: BlowerTable) {
        let Some(folder) = self.places.as_ref().map(|places| places.blowers.clone()) else {
            self.wrong("The table is used in this job, but there is no folder to keep it in");
            self.use_table(table);
            return;
        };
        if let Some(path) = self.kept_under(&table.name) {
            self.view.confirm = Some(Confirm {
                question: format!("A table named \"{}\" is among your own already.", table.name),
                yes: "Replace it".to_owned(),
                no: "Keep the old one",
                third: None,
                action: Box::new(Action::ReplaceTable(path, Box::new(table))),
            });
            return;
        }
        match library::save_own(&folder, &table) {
            Ok(path) => self.kept(path, table),
            Err(error) => self.wrong(format!("{error:#}")),
        }
    }

    /// The person's own file of a table's name.
    fn kept_under(&self, name: &str) -> Option<PathBuf> {
        self.library.entries.iter().find_map(|entry| match &entry.origin {
            Origin::Own(path) if entry.table.name == name => Some(path.clone()),
            _ => None,
        })
    }

    fn replace_table(&mut self, path: PathBuf, table: BlowerTable) {
        match library::replace_own(&path, &table) {
            Ok(()) => self.kept(path, table),
            Err(error) => self.wrong(format!("{error:#}")),
        }
    }

    fn kept(&mut self, path: PathBuf, table: BlowerTable) {
        self.done(format!("Table kept: {}", path.display()));
        self.library.entries.retain(|entry| entry.origin != Origin::Own(path.clone()));
        self.library.entries.insert(0, LibraryEntry::new(table.clone(), Origin::Own(path)));
        self.use_table(table);
    }
}
