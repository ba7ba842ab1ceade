//! Settings as a person changes them, kept at once.

use std::path::Path;
use std::sync::Arc;

use eframe::egui;

use crate::app::TapcrossApp;
use crate::edit::Edit;
use crate::files::settings::{Setting, logo};
use crate::paper::printed::Shown;

impl TapcrossApp {
    /// Changes a setting and keeps it.
    pub(super) fn set(&mut self, setting: Setting, ctx: &egui::Context) {
        let is_reset = setting == Setting::Reset;
        if is_reset {
            self.forget_logo();
        }
        if let Err(why) = self.settings.set(setting) {
            self.wrong(why);
            return;
        }
        if is_reset {
            self.view.refused.clear();
            self.view.settings = self.view.settings.as_ref().map(|_| self.settings.company.clone());
            self.apply_settings(ctx);
            self.done("The settings are as they were at first");
        }
        self.keep_settings();
    }

    /// Takes a picture for the head of reports.
    pub(super) fn take_logo(&mut self, path: &Path) {
        let Some(places) = &self.places else {
            self.wrong_path("There is no folder to keep a logo in".to_owned());
            return;
        };
        match logo::keep(&places.settings, path) {
            Ok(picture) => {
                self.view.path_prompt = None;
                self.settings.company.logo = Some(picture);
                self.done("The logo stands at the head of reports from now on");
            }
            Err(error) => self.wrong_path(format!("{error:#}")),
        }
    }

    /// Prints without a picture from now on.
    pub(super) fn forget_logo(&mut self) {
        self.settings.company.logo = None;
        let forgotten = self.places.as_ref().map_or(Ok(()), |places| logo::forget(&places.settings));
        if let Err(error) = forgotten {
            self.wrong(format!("{error:#}"));
        }
    }

    /// How what is printed is shown.
    pub(super) fn shown(&self) -> Shown {
        let company = Some(Arc::new(self.settings.company.clone()));
        Shown { units: self.settings.units, chart: self.view.chart, company, library: self.library_of_job() }
    }

    /// The price that a change about to be put on begins with by a person's list.
    pub(super) fn price_of_new(&self, edit: &Edit) -> Option<Edit> {
        let Edit::AddChange(kind) = edit else {
            return None;
        };
        let job = self.history.job();
        let price = self.settings.firsts.price(kind, job)?;
        Some(Edit::ChangePrice(job.next_change(), Some(price)))
    }
}
