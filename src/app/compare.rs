//! What the job is compared with: another job on the chart, and its options side by side.

use std::path::Path;

use eframe::egui;

use crate::app::TapcrossApp;
use crate::files::job_file;
use crate::model::answer::Answer;
use crate::model::side_by_side::{self, Column};
use crate::ui::view::Screen;
use crate::ui::view::beside::Beside;

/// What the job is compared with.
#[derive(Debug, Default)]
pub(super) struct Comparing {
    /// Another job on the chart.
    pub(super) beside: Option<Beside>,
    options: Option<Compared>,
}

/// What was found and every option, worked out for a revision of the job.
#[derive(Debug)]
struct Compared {
    revision: u64,
    found: Column,
    options: Vec<Column>,
}

impl Comparing {
    /// Has the options worked out anew: the answer beside them was told otherwise.
    pub(super) fn forget_options(&mut self) {
        self.options = None;
    }

    /// The screen with it, as far as it is of this revision of the job.
    pub(super) fn on<'a>(&'a self, screen: Screen<'a>, revision: u64) -> Screen<'a> {
        let compared = self.options.as_ref().filter(|compared| compared.revision == revision);
        let options = compared.map(|compared| (&compared.found, &compared.options[..]));
        Screen { beside: self.beside.as_ref(), options, ..screen }
    }
}

impl TapcrossApp {
    /// Works the options out once they are to be seen and no hand moves anything.
    pub(super) fn compare(&mut self, ctx: &egui::Context) {
        let revision = self.history.revision();
        let is_wanted = self.view.options.is_open || self.job().options.count() > 1;
        let is_told = self.comparing.options.as_ref().is_some_and(|compared| compared.revision == revision);
        if is_wanted && !is_told && !ctx.input(|input| input.pointer.any_down()) {
            self.comparing.options = self.answer.point().map(|_| Compared {
                revision,
                found: side_by_side::found(self.job(), Answer::of),
                options: side_by_side::columns(self.job(), &self.answer, Answer::of),
            });
        }
    }

    /// Puts another job on the chart, beside this one.
    pub(super) fn show_beside(&mut self, path: &Path) {
        let opened = job_file::open(path).map_err(|error| job_file::told(&error, self.settings.units));
        match opened.and_then(|(job, _)| {
            let answer = Answer::of(&job);
            Beside::of(job, answer, path)
        }) {
            Ok(beside) => {
                self.view.path_prompt = None;
                self.comparing.beside = Some(beside);
            }
            Err(text) => self.wrong_path(text),
        }
    }
}
