//! Watts of another machine's taps, and the rise of each heating stage on them, against the plate: the target in heating.

use eframe::egui::{RichText, Ui};

use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::verdicts::taps::{RiseSide, StageRise, TapAnswer, TapPoint};
use crate::model::wording;
use crate::ui::taps_panel::{column_head, left, right, row, short_name};
use crate::ui::theme;
use crate::ui::widgets::label;
use crate::units::{UnitSystem, show};

/// Widths of the columns: name, watts, watts a cfm; then one for each heating stage.
const ELECTRIC: [f32; 3] = [54.0, 34.0, 42.0];
/// Width of the column of one heating stage.
const STAGE: f32 = 72.0;
/// Heating stages that have room side by side.
const STAGES: usize = 2;

/// Watts and the rise of each heating stage on every tap, against the plate: the target in heating.
pub(super) fn watts_and_rises(ui: &mut Ui, units: UnitSystem, table: &BlowerTable, taps: &[TapAnswer]) {
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
    left(ui, ELECTRIC[0], RichText::new(format!(" {}", short_name(&tap.name))).font(font));
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
        _ if rise.is_in_doubt() => ("=", palette.over),
        _ if rise.is_short_of_air() => ("▲", palette.over),
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
    let side = |side| rises().any(|rise| rise.side == Some(side) && rise.at_limit.is_none());
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
    if rises().any(StageRise::is_in_doubt) {
        said.push("= at its limit, within ±".to_owned());
    }
    for stage in &table.heating {
        let is_short = rises().any(|rise| rise.call == stage.call && rise.is_short_of_air());
        let least = stage.minimum_airflow.filter(|_| is_short);
        said.extend(least.map(|least| format!("▲ under the {} that this heat needs", show::airflow(least, units))));
    }
    let word = table.motor.tap_word();
    let runs = table.heating.iter().filter_map(|stage| Some((stage.call, table.tap_of_call(stage.call)?)));
    said.extend(runs.map(|(call, tap)| format!("{} runs {word} {tap}", call.name().to_lowercase())));
    wording::ended(&said.join(" · "))
}
