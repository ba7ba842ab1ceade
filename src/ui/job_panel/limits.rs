//! The fold of limits and accuracy: every figure of the trade that the answer uses, with whose it is.

use eframe::egui::Ui;

use super::{fold, number};
use crate::edit::{self, Edit};
use crate::model::facts::figure_source::SourcePart;
use crate::model::facts::job_number::JobNumber;
use crate::ui::view::action::Action;
use crate::ui::view::{Figures, Screen, View};
use crate::ui::widgets::figure_source::{Typed, figure_source};

/// What the fold is called.
const FOLD: &str = "Limits and accuracy";

/// Draws the fold, closed until a person opens it; the accepted band stands with the target.
pub(super) fn limits(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let open = view.limits_open;
    let is_pressed = fold(ui, FOLD, open, |ui| {
        for figure in JobNumber::figures().filter(|figure| *figure != JobNumber::AcceptBand) {
            with_source(ui, screen, view, out, figure);
        }
    });
    view.limits_open ^= is_pressed;
}

/// A figure's field, and under it where the figure comes from.
pub(super) fn with_source(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>, figure: JobNumber) {
    number(ui, (screen, view, out), figure);
    let taken = |typed| match typed {
        Typed::Part(part, text) => {
            let edit = Edit::Source(figure, part, text);
            edit::check(screen.job, &edit).map_err(|refused| refused.sentence(screen.units))?;
            Ok(Action::Edit(edit))
        }
        Typed::BuiltIn => {
            let unnamed = SourcePart::ALL.map(|part| Edit::Source(figure, part, String::new()));
            Ok(Action::Edits([Edit::Number(figure, figure.built_in())].into_iter().chain(unnamed).collect()))
        }
    };
    out.extend(figure_source(ui, view, (Figures::OfJob, figure, screen.job), taken));
}
