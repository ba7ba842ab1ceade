//! Every tap of another machine on these ducts: air, static against its own plate, target, then watts and rise, and what the ducts must lose.
//!
//! Its taps cannot stand row beside row with the old machine's; the old one's point as found stands above them.

use eframe::egui::{FontId, RichText, Role, Ui, WidgetInfo};

use crate::edit::Edit;
use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::facts::change::{ChangeKind, Replacement};
use crate::model::facts::job::Job;
use crate::model::verdicts::system::{Projection, Running};
use crate::model::verdicts::taps::{RiseSide, StageRise, TapAnswer, TapPoint};
use crate::model::wording::{self, changes};
use crate::ui::taps_panel::{before_after, column_head, missing, needs, right, row};
use crate::ui::theme;
use crate::ui::view::Screen;
use crate::ui::view::action::Action;
use crate::ui::widgets::label;
use crate::units::{UnitSystem, show};

/// Widths of the columns: name, airflow, ±, static, share of the target.
const COLUMNS: [f32; 5] = [46.0, 60.0, 32.0, 60.0, 62.0];
/// Widths of the columns of the second table: name, watts, watts a cfm; then one for each heating stage.
const ELECTRIC: [f32; 3] = [54.0, 34.0, 42.0];
/// Width of the column of one heating stage.
const STAGE: f32 = 72.0;
/// Heating stages that have room side by side.
const STAGES: usize = 2;

/// Draws the tables.
pub(super) fn every_tap(
    ui: &mut Ui,
    screen: &Screen<'_>,
    running: &Running,
    after: &Projection,
    out: &mut Vec<Action>,
) {
    let Some(table) = after.system.blower.other.as_deref() else {
        return;
    };
    let word = table.motor.tap_word();
    label::heading(ui, &format!("Every {word} of {} on these ducts", table.name));
    label::caption(ui, as_found(screen, running));
    heads(ui, screen.units, word);
    for tap in &after.system.taps {
        row(ui, |ui| tap_row(ui, screen, after, tap, out));
    }
    label::caption(ui, legend(screen, table, after));
    if let Some(kind) = after.system.unknown_part {
        label::question(ui, &wording::ended(&changes::unknown_part(kind)));
    }
    for assumption in &after.system.assumptions {
        label::question(ui, &wording::ended(&changes::of_new_machine(assumption)));
    }
    for tap in &after.system.taps {
        remarks(ui, screen.units, word, tap);
    }
    watts_and_rises(ui, screen.units, table, &after.system.taps);
    needs::with_changes(ui, screen, after, "new machine");
}

/// "As found: tap 4, 1,210 cfm at 0.62 in. w.c., 88 % of 1,400 cfm".
fn as_found(screen: &Screen<'_>, running: &Running) -> String {
    let units = screen.units;
    let old = screen.job.machine.as_ref().map(|table| table.name.clone()).unwrap_or_default();
    let tap = format!("{} {}", wording::tap_word(screen.job), screen.job.tap_in_use().unwrap_or_default());
    let share = screen.answer.blower().target.map(|target| {
        let share = show::percent(running.now.airflow / target.actual);
        format!(", {share} of {}", show::airflow(target.actual, units))
    });
    format!(
        "As found: {old}, {tap}, {} at {}{}",
        show::airflow(running.now.airflow, units),
        show::pressure(running.now.tesp, units),
        share.unwrap_or_default()
    )
}

fn heads(ui: &mut Ui, units: UnitSystem, word: &str) {
    let static_unit = before_after::short_unit(units);
    row(ui, |ui| {
        for (text, width) in [word, units.airflow_unit(), "±", static_unit, "target"].into_iter().zip(COLUMNS) {
            column_head(ui, text, width);
        }
    });
}

fn tap_row(ui: &mut Ui, screen: &Screen<'_>, after: &Projection, tap: &TapAnswer, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let button = super::name_button(ui, tap, COLUMNS[0]);
    button.widget_info(|| {
        let info = format!(
            "New machine, {} {}: {}",
            changes::word_then(screen.job, after),
            tap.name,
            before_after::spoken(screen, tap)
        );
        WidgetInfo::selected(Role::RadioButton, true, tap.in_use, info)
    });
    if button.clicked() && !tap.in_use {
        out.extend(running_on(screen.job, after, &tap.name).map(Action::from));
    }
    match tap.reached() {
        Some(point) => cells(ui, screen.units, point, tap.in_use),
        None => right(ui, COLUMNS[1], RichText::new(missing(screen, tap)).color(palette.quiet)),
    }
}

/// The edit that lets the new machine run on another of its taps.
fn running_on(job: &Job, after: &Projection, tap: &str) -> Option<Edit> {
    let (id, new) = after.system.blower.replacement(job)?;
    let new = Replacement { tap: Some(tap.to_owned()), ..new.clone() };
    Some(Edit::ReplaceChange(id, ChangeKind::OtherMachine(Box::new(new))))
}

fn cells(ui: &mut Ui, units: UnitSystem, point: &TapPoint, runs: bool) {
    let palette = theme::palette(ui);
    let font: FontId = if runs { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    let ink = if runs { palette.change } else { palette.ink };
    let quiet = |text: String| RichText::new(text).font(theme::regular(theme::SMALL)).color(palette.quiet);
    let airflow = format!("{}{}", before_after::bound_mark(point), show::airflow_bare(point.airflow(), units));
    let mark = before_after::extended(point.standing.curve);
    right(ui, COLUMNS[1], RichText::new(format!("{airflow}{mark}")).font(font.clone()).color(ink));
    right(ui, COLUMNS[2], quiet(show::number(units.airflow_number(point.spread.airflow), 0)));
    let (mark, colour) = before_after::plate_mark(point, palette);
    let tesp = format!("{mark}{}", show::pressure_bare(point.crossing.tesp, units));
    right(ui, COLUMNS[3], RichText::new(tesp).font(font.clone()).color(colour));
    right(ui, COLUMNS[4], before_after::target_cell(point, &font, palette));
}

fn legend(screen: &Screen<'_>, table: &BlowerTable, after: &Projection) -> String {
    let units = screen.units;
    let mut parts = before_after::marks(after, "of the new target");
    let plate = table.rated_maximum.map(|plate| format!("its plate allows {}", show::pressure(plate, units)));
    parts.push(plate.unwrap_or_else(|| "no rated maximum in its table".to_owned()));
    if let Some(target) = after.system.blower.target {
        parts.push(format!("its target {}", show::airflow(target.actual, units)));
    }
    parts.push(before_after::of_path(after));
    format!("{}. Static in {}, ± is 95\u{a0}%.", parts.join(" · "), units.pressure_unit())
}

/// What a row cannot hold: a bar, a note of the table, a bound.
fn remarks(ui: &mut Ui, units: UnitSystem, word: &str, tap: &TapAnswer) {
    let Some(point) = tap.reached() else {
        return;
    };
    if let Some(note) = &point.barred {
        let note = note.as_deref().map(|note| format!(": {note}")).unwrap_or_default();
        label::error(ui, &format!("{word} {} is not allowed at this static{note}", tap.name));
    }
    if let Some(note) = &point.note {
        label::caption(ui, format!("{word} {}: the table notes \"{note}\" here", tap.name));
    }
    if let Some(below) = point.below {
        label::caption(ui, format!("{word} {}: below {}, off the table", tap.name, show::airflow(below, units)));
    }
}

/// Watts and the rise of each heating stage on every tap, against the plate: the target in heating.
fn watts_and_rises(ui: &mut Ui, units: UnitSystem, table: &BlowerTable, taps: &[TapAnswer]) {
    let reached = || taps.iter().filter_map(|tap| Some((tap, tap.reached()?)));
    if table.heating.is_empty() && reached().all(|(_, point)| point.power.is_none()) {
        return;
    }
    let heading = if table.heating.is_empty() {
        "Watts".to_owned()
    } else {
        format!("Watts, and rise in heating, {}", units.rise_unit())
    };
    label::heading(ui, &heading);
    let shown = table.heating.len().min(STAGES);
    row(ui, |ui| {
        for (text, width) in [table.motor.tap_word(), "W", "W/cfm"].into_iter().zip(ELECTRIC) {
            column_head(ui, text, width);
        }
        for stage in &table.heating[..shown] {
            column_head(ui, &short(stage, units), STAGE);
        }
    });
    for (tap, point) in reached() {
        row(ui, |ui| second_row(ui, units, tap, point, &table.heating[..shown]));
    }
    if !table.heating.is_empty() {
        label::caption(ui, rise_legend(table, taps, units));
    }
}

/// "high 40–70": the stage with the plate's range.
fn short(stage: &HeatStage, units: UnitSystem) -> String {
    let name = if stage.call == Call::HeatingLow { "low" } else { "high" };
    match stage.rise {
        Some((low, high)) => format!("{name} {}–{}", show::rise_bare(low, units), show::rise_bare(high, units)),
        None => name.to_owned(),
    }
}

fn second_row(ui: &mut Ui, units: UnitSystem, tap: &TapAnswer, point: &TapPoint, stages: &[HeatStage]) {
    let quiet = theme::palette(ui).quiet;
    let font = if tap.in_use { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    super::left(ui, ELECTRIC[0], RichText::new(format!(" {}", super::short_name(&tap.name))).font(font));
    let none = || "–".to_owned();
    right(ui, ELECTRIC[1], RichText::new(point.power.map_or_else(none, show::power_bare)));
    let each = point.watts_per_cfm().map_or_else(none, |each| show::number(each, 2));
    right(ui, ELECTRIC[2], RichText::new(each).color(quiet));
    for stage in stages {
        match point.rises.iter().find(|rise| rise.call == stage.call) {
            Some(rise) => right(ui, STAGE, rise_cell(ui, units, rise)),
            None => right(ui, STAGE, RichText::new("–")),
        }
    }
}

fn rise_cell(ui: &Ui, units: UnitSystem, rise: &StageRise) -> RichText {
    let palette = theme::palette(ui);
    let (mark, colour) = match rise.side {
        _ if rise.under_minimum => ("▲", palette.over),
        Some(RiseSide::OverRange) => ("▲", palette.over),
        Some(RiseSide::UnderRange) => ("▼", palette.over),
        Some(RiseSide::InRange) => ("✓", palette.target),
        None => ("", palette.ink),
    };
    RichText::new(format!("{mark}{}", show::rise_bare(rise.rise, units))).color(colour)
}

/// The marks in words, what each heat needs, and which tap its call runs.
fn rise_legend(table: &BlowerTable, taps: &[TapAnswer], units: UnitSystem) -> String {
    let rises = || taps.iter().filter_map(TapAnswer::reached).flat_map(|point| &point.rises);
    let side = |side| rises().any(|rise| rise.side == Some(side));
    let mut said = Vec::new();
    if side(RiseSide::InRange) {
        said.push("✓ in the plate's range".to_owned());
    }
    if side(RiseSide::OverRange) {
        said.push("▲ over it: too little air".to_owned());
    }
    if side(RiseSide::UnderRange) {
        said.push("▼ under it: too much air".to_owned());
    }
    for stage in &table.heating {
        let is_short = rises().any(|rise| rise.call == stage.call && rise.under_minimum);
        let least = stage.minimum_airflow.filter(|_| is_short);
        said.extend(least.map(|least| format!("▲ under the {} that this heat needs", show::airflow(least, units))));
    }
    let word = table.motor.tap_word();
    let runs = table.heating.iter().filter_map(|stage| Some((stage.call, table.tap_of_call(stage.call)?)));
    said.extend(runs.map(|(call, tap)| format!("{} runs {word} {tap}", call.name().to_lowercase())));
    wording::ended(&said.join(" · "))
}
