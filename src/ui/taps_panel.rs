//! Every tap on the path as read and with its changes, what the target would take, and what else the numbers say.

mod electric;
mod needs;
mod table;

use eframe::egui::{Align, Label, Layout, RichText, Ui, vec2};

use crate::files::settings::Panel;
use crate::model::facts::standing::CurveStanding;
use crate::model::verdicts::findings::{Finding, StepDoubt};
use crate::model::wording::{self};
use crate::ui::taps_panel::table::Shown;
use crate::ui::theme::{self};
use crate::ui::view::Screen;
use crate::ui::view::action::Action;
use crate::ui::widgets::{fold, label};
use crate::units::show;

/// Width of the sheet of what it takes.
const SHEET: f32 = 420.0;

/// Draws the table in at most the height given, and the button to what the target would take.
pub fn taps_panel(ui: &mut Ui, screen: &Screen<'_>, most: f32, out: &mut Vec<Action>) {
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = theme::STEP * 0.25;
        if screen.answer.taps().is_empty() {
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 0.0;
                if fold::mark(ui, "Every tap", false, ROW) {
                    out.push(Action::Fold(Panel::EveryTap));
                }
                label::plain_heading(ui, "Every tap");
            });
            label::caption(ui, "Once a blower is chosen, each of its taps stands here.");
            return;
        }
        table::every_tap(ui, screen, most, out);
    });
}

/// What the target would take of each tap, the next one up, and all that a row cannot hold.
fn what_it_takes(ui: &mut Ui, screen: &Screen<'_>, shown: &Shown<'_>) {
    ui.spacing_mut().item_spacing.y = theme::STEP * 0.375;
    shown.aside(ui);
    if screen.answer.point().is_some() {
        needs::what_it_takes(ui, screen);
        if let Some(next) = screen.answer.findings.iter().find(|finding| matches!(finding, Finding::NextTap { .. })) {
            raising(ui, screen, next);
        }
    }
}

/// Widths of the columns of the next tap up.
const RAISE_COLUMNS: [f32; 4] = [112.0, 50.0, 62.0, 46.0];
/// Height of a row.
const ROW: f32 = 22.0;

fn row(ui: &mut Ui, cells: impl FnOnce(&mut Ui)) {
    let size = vec2(ui.available_width(), ROW);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.spacing_mut().interact_size.y = 0.0;
        ui.set_min_size(size);
        cells(ui);
    });
}

/// A name for a narrow column: the initials of its first words before the last one ("Medium-high" is "M-high").
fn short_name(name: &str) -> String {
    let words: Vec<&str> = name.split([' ', '-', '_']).filter(|word| !word.is_empty()).collect();
    match &words[..] {
        [first @ .., last] if !first.is_empty() && name.chars().count() > 5 => {
            let initials: String = first.iter().filter_map(|word| word.chars().next()).collect();
            format!("{initials}-{last}")
        }
        _ => name.to_owned(),
    }
}

fn column_head(ui: &mut Ui, text: &str, width: f32) {
    let quiet = theme::palette(ui).quiet;
    right(ui, width, RichText::new(text).font(theme::regular(theme::SMALL)).color(quiet));
}

/// A cell whose text stands at its right edge.
fn right(ui: &mut Ui, width: f32, text: RichText) {
    ui.allocate_ui_with_layout(vec2(width, ROW), Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).extend());
    });
}

/// The same cut off where it has no room, and told whole under the pointer.
fn right_cut(ui: &mut Ui, width: f32, text: RichText) {
    ui.allocate_ui_with_layout(vec2(width, ROW), Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).truncate());
    });
}

fn left(ui: &mut Ui, width: f32, text: RichText) {
    ui.allocate_ui_with_layout(vec2(width, ROW), Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).truncate());
    });
}

/// The next tap up: static and airflow before and after, side by side.
fn raising(ui: &mut Ui, screen: &Screen<'_>, finding: &Finding) {
    let Finding::NextTap { name, airflow, tesp, standing, doubt } = finding else {
        return;
    };
    let units = screen.units;
    let palette = theme::palette(ui);
    let off = if *standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" };
    label::heading(ui, &format!("Raising to {} {name}{off}", wording::tap_word(screen.job)));
    let lines = [
        (
            format!("Airflow, {}", units.airflow_unit()),
            show::airflow_bare(airflow.0, units),
            show::airflow_bare(airflow.1, units),
            airflow.1 / airflow.0 - 1.0,
            palette.ink,
        ),
        (
            format!("Static, {}", units.pressure_unit()),
            show::pressure_bare(tesp.0, units),
            show::pressure_bare(tesp.1, units),
            tesp.1 / tesp.0 - 1.0,
            if matches!(doubt, Some(StepDoubt::OverPlate | StepDoubt::AtPlate)) { palette.over } else { palette.ink },
        ),
    ];
    for (what, before, after, gain, colour) in lines {
        row(ui, |ui| {
            left(ui, RAISE_COLUMNS[0], RichText::new(what).color(palette.quiet));
            right(ui, RAISE_COLUMNS[1], RichText::new(before));
            let after = RichText::new(format!("→ {after}")).font(theme::strong(theme::BODY));
            right(ui, RAISE_COLUMNS[2], after.color(colour));
            right(ui, RAISE_COLUMNS[3], RichText::new(format!("+{}", show::percent(gain))).color(palette.quiet));
        });
    }
}
