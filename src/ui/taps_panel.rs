//! Every tap on the path as read and with its changes, what the target would take, and what else the numbers say.

mod electric;
mod needs;
mod table;

use eframe::egui::{Align, Label, Layout, RichText, Ui, vec2};

use crate::model::verdicts::findings::{Finding, StepDoubt, Weight};
use crate::model::wording::{self};
use crate::ui::theme::{self};
use crate::ui::view::Screen;
use crate::ui::view::action::Action;
use crate::ui::widgets::label;
use crate::units::show;

/// Draws the panel.
pub fn taps_panel(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    if screen.answer.taps().is_empty() {
        label::heading(ui, "Every tap");
        label::caption(ui, "Once a blower is chosen, each of its taps stands here.");
        return;
    }
    table(ui, screen, out);
    if screen.answer.point().is_some() {
        needs::what_it_takes(ui, screen);
        findings(ui, screen);
    }
}

/// Draws the table of every tap, before and after where changes are on.
pub fn table(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = theme::STEP * 0.375;
    table::every_tap(ui, screen, out);
}

/// Widths of the columns of the next tap up.
const RAISE_COLUMNS: [f32; 4] = [112.0, 50.0, 62.0, 46.0];
/// Height of a row.
const ROW: f32 = 24.0;

fn row(ui: &mut Ui, cells: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.set_height(ROW);
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

fn left(ui: &mut Ui, width: f32, text: RichText) {
    ui.allocate_ui_with_layout(vec2(width, ROW), Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).truncate());
    });
}

fn findings(ui: &mut Ui, screen: &Screen<'_>) {
    let findings = &screen.answer.findings;
    if let Some(next) = findings.iter().find(|finding| matches!(finding, Finding::NextTap { .. })) {
        raising(ui, screen, next);
    }
    label::heading(ui, "What the numbers say");
    let rest = findings.iter().filter(|finding| !matches!(finding, Finding::NextTap { .. }));
    let mut any = false;
    for finding in rest {
        any = true;
        let sentence = wording::sentence(screen.job, finding, screen.units);
        match finding.weight() {
            Weight::Act => label::error(ui, &sentence),
            Weight::Look => label::question(ui, &sentence),
            Weight::Note => label::caption(ui, format!("· {sentence}")),
        };
    }
    if !any {
        label::caption(ui, "Nothing stands out.");
    }
    label::caption(
        ui,
        "Pressures alone cannot show a dirty wheel, low voltage or another tap than said: a second airflow reading or a second tap can.",
    );
}

/// The next tap up: static and airflow before and after, side by side.
fn raising(ui: &mut Ui, screen: &Screen<'_>, finding: &Finding) {
    let Finding::NextTap { name, airflow, tesp, doubt } = finding else {
        return;
    };
    let units = screen.units;
    let palette = theme::palette(ui);
    label::heading(ui, &format!("Raising to {} {name}", wording::tap_word(screen.job)));
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
