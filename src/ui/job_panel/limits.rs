//! The fold of limits and accuracy: every figure of the trade that the answer uses, with where it comes from.

use eframe::egui::Ui;

use super::{fold, number};
use crate::model::facts::job_number::JobNumber;
use crate::ui::view::action::Action;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::label;

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
    label::caption(ui, figure.number().source);
}
