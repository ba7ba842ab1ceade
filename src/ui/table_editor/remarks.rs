//! What is wrong or odd, each remark leading to its place.

use eframe::egui::{Button, RichText, Ui};

use crate::model::facts::severity::Severity;
use crate::model::typed::table_draft::{DraftProblem, Place};
use crate::ui::theme;
use crate::ui::view::table_editor::{GoTo, Spot, TableEditor};
use crate::ui::widgets::label;

/// Draws the remarks; a press on one goes to its place.
pub(super) fn remarks(ui: &mut Ui, editor: &mut TableEditor) {
    label::heading(ui, "Remarks");
    let problems = editor.reading.problems.clone();
    if problems.is_empty() {
        label::caption(ui, "Nothing odd in what is typed");
    }
    for severity in [Severity::Error, Severity::Question] {
        for problem in problems.iter().filter(|problem| problem.severity == severity) {
            if remark(ui, problem) {
                go_to(editor, problem.place);
            }
        }
    }
}

/// Draws the remark on one place, where there is one.
pub(super) fn on(ui: &mut Ui, editor: &TableEditor, place: Place) {
    match editor.remark_on(place) {
        Some(problem) if problem.severity == Severity::Error => label::error(ui, &problem.message),
        Some(problem) => label::question(ui, &problem.message),
        None => return,
    };
}

fn remark(ui: &mut Ui, problem: &DraftProblem) -> bool {
    let palette = theme::palette(ui);
    let (mark, ink) = match problem.severity {
        Severity::Error => ("!", palette.over),
        Severity::Question => ("?", palette.change),
    };
    let text = RichText::new(format!("{mark} {}", problem.message)).font(theme::regular(theme::SMALL)).color(ink);
    ui.add(Button::new(text).frame(false).wrap()).clicked()
}

/// Goes to the place of the first error.
pub(super) fn go_to_first_error(editor: &mut TableEditor) {
    let first = editor.reading.problems.iter().find(|problem| problem.severity == Severity::Error);
    if let Some(place) = first.map(|problem| problem.place) {
        go_to(editor, place);
    }
}

fn go_to(editor: &mut TableEditor, place: Place) {
    let spot = match place {
        Place::Name => {
            editor.go_to = Some(GoTo::Name);
            return;
        }
        Place::Tap(tap) => Spot { row: 0, column: tap + 1 },
        Place::Esp(row) => Spot { row: row + 1, column: 0 },
        Place::Cell { row, tap, block } => {
            editor.block = block;
            Spot { row: row + 1, column: tap + 1 }
        }
        Place::Head(field) => {
            editor.go_to = Some(GoTo::Head(field));
            return;
        }
        Place::Table => Spot { row: 1, column: 1 },
    };
    editor.go_to = Some(GoTo::Grid(spot));
}
