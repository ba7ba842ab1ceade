//! Options side by side, over the window: which one is worked on, what each is called and why, and everything that they differ in.

use std::collections::BTreeSet;

use eframe::egui::{Button, Checkbox, Frame, Grid, Id, Label, Modal, RichText, Role, ScrollArea, Ui, WidgetInfo};

use crate::edit::{Edit, OptionEdit};
use crate::model::facts::job_check::Field;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::MOST_OPTIONS;
use crate::model::verdicts::system::NotRunning;
use crate::model::wording::options;
use crate::ui::job_panel::{number, remarks, words};
use crate::ui::overlays;
use crate::ui::theme;
use crate::ui::view::action::Action;

use crate::ui::view::{FieldKey, Screen, View};
use crate::ui::widgets::{choice, field, hint, label, whole_rows};

/// Width of the sheet where the window has it, points.
const WIDTH: f32 = 1240.0;
/// Part of the window's height that the comparison takes.
const OF_HEIGHT: f32 = 0.56;
/// Width of the column of names, and the least of every other.
const NAMES: f32 = 168.0;
const COLUMN: f32 = 112.0;
/// What stands there while answers are kept back.
const KEPT_BACK: &str = "What each option brings is kept back with the answer: F8 shows it.";
/// Least height of a row.
const ROW: f32 = 20.0;
/// Columns of what costs are reckoned with, and of how long prices hold.
const OF_COSTS: [&[JobNumber]; 3] =
    [&[JobNumber::FanHours, JobNumber::EnergyPrice], &[JobNumber::Tax, JobNumber::LabourTax], &[JobNumber::ValidDays]];

/// Draws the sheet while it is open.
pub fn show(ui: &Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    if !view.options.is_open {
        return;
    }
    let frame = Frame::popup(ui.style()).inner_margin(theme::STEP * 2.0);
    let modal = Modal::new(Id::unique("options")).frame(frame).show(ui.ctx(), |ui| {
        ui.set_width(overlays::width(ui, WIDTH));
        let close = bar(ui, screen, out);
        about(ui, screen, out);
        same_name(ui, screen);
        ui.add_space(theme::STEP);
        compared(ui, screen, view);
        ui.add_space(theme::STEP);
        costs(ui, screen, view, out);
        close
    });
    if modal.inner || modal.should_close() {
        view.options.is_open = false;
    }
}

/// Which one is worked on, and what can be done with it.
fn bar(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) -> bool {
    let options = &screen.job.options;
    let mut close = false;
    ui.horizontal_wrapped(|ui| {
        let all = screen.job.all_options();
        let names: Vec<(String, bool)> = all
            .iter()
            .enumerate()
            .map(|(at, one)| (options::shortened(&one.about.called(at)), at == options.index()))
            .collect();
        if let Some(index) = choice::buttons(ui, "Option", &names) {
            out.push(Edit::Option(OptionEdit::Show(index)).into());
        }
        ui.separator();
        let has_room = options.count() < MOST_OPTIONS;
        if button(ui, "Another like this", "A new option with the same changes, to be made another", has_room) {
            out.push(Edit::Option(OptionEdit::Copy).into());
        }
        if button(ui, "Remove", "Takes the option away that is shown", options.count() > 1) {
            out.push(Edit::Option(OptionEdit::Remove(options.index())).into());
        }
        close = ui.button("Close").clicked();
    });
    close
}

fn button(ui: &mut Ui, text: &str, told: &str, can: bool) -> bool {
    let response = ui.add_enabled(can, Button::new(text));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("{text}: option")));
    hint::and_under_the_pointer(response, told).clicked()
}

/// What is said of the option that is worked on.
fn about(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let shown = &screen.job.options.shown;
    ui.columns(2, |columns| {
        let [name, reason] = columns else { return };
        let of_name = |text| Edit::Option(OptionEdit::Name(text));
        words(name, "Name of this option", &shown.name, 1, out, of_name, field::id(FieldKey::OptionName));
        let of_reason = |text| Edit::Option(OptionEdit::Reason(text));
        words(
            reason,
            "Why a customer would take it",
            &shown.reason,
            1,
            out,
            of_reason,
            field::id(FieldKey::OptionReason),
        );
    });
}

/// Asks where two options have one name.
fn same_name(ui: &mut Ui, screen: &Screen<'_>) {
    let options = &screen.job.options;
    let own = options.shown.called(options.index());
    if options.waiting().any(|other| other.about.name == own) {
        label::question(ui, &format!("Another option is called {own} as well: a customer cannot tell them apart"));
    }
}

/// Everything that they differ in, the one that is worked on in strong type.
fn compared(ui: &mut Ui, screen: &Screen<'_>, view: &mut View) {
    let Some((found, columns)) = screen.options else {
        let is_kept_back = matches!(screen.answer.why_not(), Some(NotRunning::KeptBack));
        label::caption(ui, if is_kept_back { KEPT_BACK } else { "The readings will say what each option brings." });
        return;
    };
    let heads = options::heads(screen.job, columns);
    let rows = options::rows(found, columns, screen.units);
    let shown = screen.job.options.index() + 1;
    if let Some(sentence) = options::answers(found, columns) {
        label::strong(ui, sentence);
    }
    let most = ui.ctx().content_rect().height() * OF_HEIGHT;
    let ends = Id::unique("where the rows of the comparison end");
    let heights: Vec<f32> = ui.data(|data| data.get_temp(ends)).unwrap_or_default();
    let height = if heights.is_empty() { most } else { whole_rows::whole_height(&heights, most) };
    let mut drawn = Vec::new();
    whole_rows::bar_in_sight(ui);
    ScrollArea::both().id_salt("compared").auto_shrink([false, true]).max_height(height).show(ui, |ui| {
        let room = (ui.available_width() - NAMES) / heads.len() as f32 - theme::STEP * 2.0;
        let width = room.clamp(COLUMN, COLUMN * 2.0);
        let cell = |ui: &mut Ui, text: &str, is_strong: bool, width: f32| {
            let font = if is_strong { theme::strong(theme::SMALL) } else { theme::regular(theme::SMALL) };
            ui.scope(|ui| {
                ui.set_width(width);
                ui.add(Label::new(RichText::new(text).font(font)).wrap());
            });
        };
        Grid::new("compared").min_row_height(ROW).spacing([theme::STEP * 2.0, theme::STEP * 0.25]).show(ui, |ui| {
            let mut top = ui.cursor().top();
            let mut end_row = |ui: &mut Ui| {
                ui.end_row();
                drawn.push(ui.cursor().top() - top);
                top = ui.cursor().top();
            };
            cell(ui, "", false, NAMES);
            for head in &heads {
                cell(ui, head, true, width);
            }
            end_row(ui);
            cell(ui, "On the chart, for now", false, NAMES);
            cell(ui, "always", false, width);
            for (index, column) in columns.iter().enumerate() {
                on_the_chart(ui, index, (&column.called(), index + 1 == shown), &mut view.options.hidden);
            }
            end_row(ui);
            for row in rows {
                cell(ui, &row.name, false, NAMES);
                row.cells.iter().enumerate().for_each(|(at, text)| cell(ui, text, at == shown, width));
                end_row(ui);
            }
        });
    });
    if drawn != heights {
        ui.data_mut(|data| data.insert_temp(ends, drawn));
        ui.ctx().request_repaint();
    }
}

/// Whether an option that is not worked on stands on the chart.
fn on_the_chart(ui: &mut Ui, index: usize, (name, is_shown): (&str, bool), hidden: &mut BTreeSet<usize>) {
    let mut stands = is_shown || !hidden.contains(&index);
    let slot = ui.add_enabled(!is_shown, Checkbox::without_text(&mut stands));
    slot.widget_info(|| WidgetInfo::selected(Role::CheckBox, !is_shown, stands, format!("On the chart: {name}")));
    if slot.clicked() && !hidden.remove(&index) {
        hidden.insert(index);
    }
}

/// What costs are reckoned with.
fn costs(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    let costs = &screen.job.costs;
    ui.columns(OF_COSTS.len() + 1, |columns| {
        for (column, of) in columns.iter_mut().zip(OF_COSTS) {
            for which in of {
                number(column, (screen, view, out), *which);
            }
        }
        if let Some(last) = columns.last_mut() {
            let id = field::id(FieldKey::ValidUntil);
            words(last, "Or until (a date)", &costs.valid_until, 1, out, Edit::ValidUntil, id);
            remarks(last, screen, &[Field::ValidUntil]);
        }
        if let Some(last) = columns.get_mut(OF_COSTS.len() - 1) {
            let id = field::id(FieldKey::Currency);
            words(last, "Currency: $, EUR", &costs.currency, 1, out, Edit::Currency, id);
        }
    });
    label::caption(
        ui,
        "The blower's hours are those in the call of the readings; ± is 95 %, and the gain of an option smaller than its ± has no price a cfm.",
    );
}
