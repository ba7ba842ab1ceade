//! What killed windows left: found at the start, shown by name, restored or thrown away one by one.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use eframe::egui;

use crate::app::TapcrossApp;
use crate::files::atomic_write::sweep_parts;
use crate::files::autosave::{self, Original, Recovered};
use crate::files::job_file;
use crate::files::places::Places;
use crate::history::History;
use crate::ui::recovered;
use crate::ui::view::Confirm;
use crate::ui::view::action::Action;
use crate::units::UnitSystem;

/// The autosaves of windows that no longer run, latest first, and a sentence for each that cannot be read.
///
/// One that says what its file says, with no table half typed, lost nothing and goes.
pub(super) fn found(places: &Places, units: UnitSystem) -> (Vec<Recovered>, Vec<String>) {
    let autosave::Pending { jobs, problems } = autosave::pending(&places.autosaves);
    let mut problems: Vec<String> = problems.iter().map(|problem| job_file::told(problem, units)).collect();
    let (same, kept): (Vec<_>, Vec<_>) = jobs.into_iter().partition(is_on_the_disk);
    problems.extend(same.into_iter().filter_map(|found| found.discard().err()).map(|error| format!("{error:#}")));
    (kept, problems)
}

/// Removes the unfinished files that killed writes have left beside the program's own files and beside recent jobs.
///
/// A folder on a share that does not answer keeps nobody waiting.
pub(super) fn sweep_unfinished(places: &Places, recent: &[PathBuf]) {
    let beside = [&places.settings].into_iter().chain(recent).filter_map(|file| file.parent().map(Path::to_path_buf));
    let own = [places.autosaves.clone(), places.blowers.clone()];
    let folders: BTreeSet<PathBuf> = own.into_iter().chain(beside).collect();
    let sweep = move || folders.iter().for_each(|folder| sweep_parts(folder));
    // Without a thread they are swept at a later start.
    drop(std::thread::Builder::new().name("sweep".to_owned()).spawn(sweep));
}

fn is_on_the_disk(found: &Recovered) -> bool {
    found.original_now == Original::Same && found.table.is_none()
}

impl TapcrossApp {
    /// Draws the question about recovered work while it stands open.
    pub(super) fn show_recovered(&mut self, ui: &egui::Ui, out: &mut Vec<Action>) {
        // While another question stands over this one, that one is answered first.
        if !self.asks_about_recovered || self.view.confirm.is_some() {
            return;
        }
        match recovered::question(ui, &self.recovered) {
            Some(recovered::Choice::Do(action)) => {
                self.asks_about_recovered = !matches!(action, Action::OpenPath(_));
                out.push(action);
            }
            Some(recovered::Choice::Later) => self.asks_about_recovered = false,
            None => {}
        }
    }

    /// Opens an autosave; its file stays until the work is autosaved by this window.
    pub(super) fn restore(&mut self, autosave: &Path) {
        let Some(index) = self.recovered.iter().position(|found| found.path == autosave) else {
            return;
        };
        let found = self.recovered.remove(index);
        let file = found.original.clone().map(|path| (path, found.opened));
        let history = match found.original_now {
            Original::Same => History::of_saved(found.job.clone()),
            Original::Gone | Original::Other(_) => History::of_unsaved(found.job.clone()),
        };
        self.begin(history, file);
        if let Some(table) = found.table.clone() {
            self.view.resume_table(table);
        }
        self.keep_safe.adopt(found);
        self.asks_about_recovered = false;
    }

    /// Asks once more before an autosave goes.
    pub(super) fn ask_to_throw_away(&mut self, autosave: &Path) {
        let Some(found) = self.recovered.iter().find(|found| found.path == autosave) else {
            return;
        };
        self.view.confirm = Some(Confirm {
            question: format!("Throw away the unsaved work on {}? It cannot be brought back.", recovered::name(found)),
            yes: "Throw it away".to_owned(),
            no: "Keep it",
            third: None,
            action: Box::new(Action::Replace(Box::new(Action::ThrowAway(autosave.to_path_buf())))),
        });
    }

    /// Removes an autosave that nobody wants.
    pub(super) fn throw_away(&mut self, autosave: &Path) {
        if let Some(index) = self.recovered.iter().position(|found| found.path == autosave)
            && let Err(error) = self.recovered.remove(index).discard()
        {
            self.wrong(format!("{error:#}"));
        }
        self.asks_about_recovered &= !self.recovered.is_empty();
    }
}
