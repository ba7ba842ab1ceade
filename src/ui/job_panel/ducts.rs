//! The fold of the ducts' lengths: what the ducts may take, and what they take.

use eframe::egui::{Label, RichText, Ui};

use super::{fold, number, remarks};
use crate::model::facts::job_check::Field;
use crate::model::facts::job_number::JobNumber;
use crate::model::verdicts::duct_allowance::DuctAllowance;
use crate::model::wording::ducts;
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::label;

/// What the fold is called.
const FOLD: &str = "Ducts by length";

/// Draws the fold: closed until something is stated in it or a person opens it.
pub(super) fn ducts(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let goes_here = STATED.iter().any(|which| view.go_to == Some(FieldKey::Of(Field::Number(*which))));
    if goes_here {
        view.ducts_open = Some(true);
    }
    let open = view.ducts_open.unwrap_or_else(|| !screen.job.ducts.is_empty());
    let is_pressed = fold(ui, FOLD, open, |ui| {
        fields(ui, screen, view, out);
        outcome(ui, screen, view);
    });
    if is_pressed {
        view.ducts_open = Some(!open);
    }
}

/// What is stated in the fold.
const STATED: [JobNumber; 3] = [JobNumber::ReturnLength, JobNumber::SupplyLength, JobNumber::DesignStatic];

fn fields(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    for which in STATED {
        number(ui, (screen, view, out), which);
    }
    remarks(ui, screen, &STATED.map(Field::Number));
}

fn outcome(ui: &mut Ui, screen: &Screen<'_>, view: &View) {
    if screen.job.ducts.is_empty() {
        label::caption(
            ui,
            "Total effective length of each side: its longest run with its fittings' equivalent lengths. Without a design static the rated maximum counts.",
        );
        return;
    }
    if view.is_half_entered() {
        return;
    }
    if let Some(allowance) = &screen.answer.ducts {
        sums(ui, screen, allowance);
    }
    for sentence in ducts::wanted(screen.job, screen.answer) {
        label::question(ui, &sentence);
    }
}

fn sums(ui: &mut Ui, screen: &Screen<'_>, allowance: &DuctAllowance) {
    let units = screen.units;
    label::caption(ui, ducts::parts(allowance, units));
    let left = ducts::left(allowance, units);
    if allowance.is_spent() {
        label::error(ui, &left);
    } else {
        label::strong(ui, left);
    }
    for side in &allowance.sides {
        let Some(words) = ducts::side(allowance, side, units) else {
            continue;
        };
        let palette = theme::palette(ui);
        let (mark, colour) = if words.is_over { ("▲ ", palette.over) } else { ("", palette.ink) };
        let headline = RichText::new(format!("{mark}{}", words.headline)).font(theme::strong(theme::SMALL));
        ui.add(Label::new(headline.color(colour)).wrap());
        label::caption(ui, words.detail);
    }
    label::caption(ui, "By ANSI/ACCA 1 Manual D, recalled.");
}
