//! Every tap as found and with the changes, side by side.

use eframe::egui::{Color32, FontId, RichText, Role, Ui, WidgetInfo};

use crate::edit::Edit;
use crate::model::facts::standing::{CurveStanding, PathStanding};
use crate::model::facts::target::Target;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::Projection;
use crate::model::verdicts::taps::{Reach, TapAnswer, TapPoint};
use crate::model::wording::{self, changes};
use crate::ui::taps_panel::{missing, right, row};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::view::action::Action;
use crate::ui::widgets::label;
use crate::units::{UnitSystem, show};

/// Widths of the columns: name, airflow and static as found, airflow, ± and static with changes, share of the target.
const COLUMNS: [f32; 7] = [28.0, 36.0, 32.0, 44.0, 20.0, 46.0, 60.0];

/// Draws the table.
pub(super) fn before_and_after(ui: &mut Ui, screen: &Screen<'_>, after: &Projection, out: &mut Vec<Action>) {
    let word = wording::tap_word(screen.job);
    label::heading(ui, &format!("Every {word}, as found and with changes"));
    heads(ui, screen, word);
    for (found, then) in screen.answer.taps().iter().zip(&after.system.taps) {
        row(ui, |ui| tap_row(ui, screen, found, then, out));
    }
    legend(ui, screen, after);
    if !changes::is_call_of_target(screen.job, after) {
        let is_of_heat = matches!(screen.job.target, Some(Target::HeatRise { .. }));
        let said = if is_of_heat {
            "The target is that of heating; this call is not held to it."
        } else {
            "The target is that of cooling; heating is held to its rise."
        };
        label::caption(ui, said);
    }
    for then in &after.system.taps {
        remark(ui, word, then);
    }
    super::rises(ui, screen, Some("With changes:"), &after.system.taps, after.system.blower.call);
}

/// What a row with changes cannot hold: a bar.
fn remark(ui: &mut Ui, word: &str, then: &TapAnswer) {
    let Some(point) = then.reached() else {
        return;
    };
    if let Some(note) = &point.barred {
        let note = note.as_deref().map(|note| format!(": {note}")).unwrap_or_default();
        label::error(ui, &format!("{word} {} is not allowed at the static with changes{note}", then.name));
    }
}

fn heads(ui: &mut Ui, screen: &Screen<'_>, word: &str) {
    let palette = theme::palette(ui);
    let small = |text: &str, colour: Color32| RichText::new(text).font(theme::regular(theme::SMALL)).color(colour);
    row(ui, |ui| {
        right(ui, COLUMNS[0] + COLUMNS[1] + COLUMNS[2] + 4.0, small("as found", palette.quiet));
        let rest = COLUMNS[3..].iter().sum::<f32>() + 6.0;
        right(ui, rest, RichText::new("with changes").font(theme::strong(theme::SMALL)).color(palette.change));
    });
    let (airflow, static_unit) = (screen.units.airflow_unit(), short_unit(screen.units));
    let texts = [word, airflow, static_unit, airflow, "±", static_unit, "target"];
    row(ui, |ui| {
        for (text, width) in texts.into_iter().zip(COLUMNS) {
            right(ui, width, small(text, palette.quiet));
        }
    });
}

/// "in. w.c." has no room in a narrow column; the legend says it in full.
pub(super) const fn short_unit(units: UnitSystem) -> &'static str {
    units.pick("in.", units.pressure_unit())
}

fn tap_row(ui: &mut Ui, screen: &Screen<'_>, found: &TapAnswer, then: &TapAnswer, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let button = super::name_button(ui, found, COLUMNS[0]);
    button.widget_info(|| {
        let said = (super::spoken(screen, found), spoken(screen, then));
        let info = format!("{} {}: {}; with changes {}", wording::tap_word(screen.job), found.name, said.0, said.1);
        WidgetInfo::selected(Role::RadioButton, true, found.in_use, info)
    });
    if button.clicked() && !found.in_use {
        out.push(Edit::Tap(Some(found.name.clone())).into());
    }
    found_cells(ui, screen, found, palette);
    match then.reached() {
        Some(point) => then_cells(ui, screen, point, then.in_use),
        None => right(ui, COLUMNS[3], RichText::new(missing(screen, then)).color(palette.quiet)),
    }
}

fn found_cells(ui: &mut Ui, screen: &Screen<'_>, tap: &TapAnswer, palette: &Palette) {
    let units = screen.units;
    let quiet = |text: String| RichText::new(text).font(theme::regular(theme::SMALL)).color(palette.quiet);
    let Some(point) = tap.reached() else {
        right(ui, COLUMNS[1], quiet(missing(screen, tap)));
        right(ui, COLUMNS[2], quiet(String::new()));
        return;
    };
    let marks = (found_mark(point), extended(point.standing.curve));
    right(ui, COLUMNS[1], quiet(format!("{}{}{}", marks.0, show::airflow_bare(point.airflow(), units), marks.1)));
    right(ui, COLUMNS[2], quiet(show::pressure_bare(point.crossing.tesp, units)));
}

fn then_cells(ui: &mut Ui, screen: &Screen<'_>, then: &TapPoint, runs: bool) {
    let (palette, units) = (theme::palette(ui), screen.units);
    let font: FontId = if runs { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    let strong = |text: String, colour: Color32| RichText::new(text).font(font.clone()).color(colour);
    let ink = if runs { palette.change } else { palette.ink };
    let airflow =
        format!("{}{}{}", bound_mark(then), show::airflow_bare(then.airflow(), units), extended(then.standing.curve));
    right(ui, COLUMNS[3], strong(airflow, ink));
    let spread = show::number(units.airflow_number(then.spread.airflow), 0);
    right(ui, COLUMNS[4], RichText::new(spread).font(theme::regular(theme::SMALL)).color(palette.quiet));
    let (mark, colour) = plate_mark(then, palette);
    right(ui, COLUMNS[5], strong(format!("{mark}{}", show::pressure_bare(then.crossing.tesp, units)), colour));
    right(ui, COLUMNS[6], target_cell(then, &font, palette));
}

/// The mark of a static over or at the plate.
pub(super) fn plate_mark(point: &TapPoint, palette: &Palette) -> (&'static str, Color32) {
    match point.plate.map(|plate| plate.side) {
        Some(PlateSide::Over) => ("▲", palette.over),
        Some(PlateSide::AtLimit) => ("=", palette.over),
        _ => ("", palette.ink),
    }
}

/// The share of the target in a narrow column, with its mark.
pub(super) fn target_cell(then: &TapPoint, font: &FontId, palette: &Palette) -> RichText {
    let Some(share) = then.of_target else {
        return RichText::new("–").color(palette.quiet);
    };
    let (mark, colour) = match (then.is_answer(), then.reach) {
        (true, _) => ("✓", palette.target),
        (false, Some(Reach::InBand)) => ("○", palette.target),
        _ => ("", palette.ink),
    };
    RichText::new(format!("{mark}{} %", show::number(share * 100.0, 0))).font(font.clone()).color(colour)
}

/// A tap with changes as a screen reader says it.
pub(super) fn spoken(screen: &Screen<'_>, then: &TapAnswer) -> String {
    let units = screen.units;
    let Some(point) = then.reached() else {
        return missing(screen, then);
    };
    let share = point.of_target.map(|share| format!(", {} of the target", show::percent(share))).unwrap_or_default();
    let answers = if point.is_answer() { ", in the band" } else { "" };
    let plate = match point.plate.map(|plate| plate.side) {
        Some(PlateSide::Over) => ", over the plate",
        Some(PlateSide::AtLimit) => ", at the plate's limit",
        _ => "",
    };
    let barred = if point.barred.is_some() { ", not allowed" } else { "" };
    format!(
        "{} at {}{share}{answers}{plate}{barred}, {}",
        show::airflow(point.airflow(), units),
        show::pressure(point.crossing.tesp, units),
        point.standing.curve.word()
    )
}

pub(super) const fn extended(standing: CurveStanding) -> &'static str {
    if matches!(standing, CurveStanding::Extrapolated) { "*" } else { "" }
}

/// A stretch split by shares is left unmarked here: a change that is on splits nearly every one.
fn found_mark(point: &TapPoint) -> &'static str {
    if point.standing.path == PathStanding::Shared { "" } else { super::path_mark(point) }
}

/// The sign of a bound before an airflow with changes.
pub(super) fn bound_mark(point: &TapPoint) -> &'static str {
    if point.bound.is_exact() { "" } else { super::path_mark(point) }
}

/// Which of the marks the table shows, in words.
fn legend(ui: &mut Ui, screen: &Screen<'_>, after: &Projection) {
    let found = || screen.answer.taps().iter().filter_map(TapAnswer::reached);
    let mut parts = marks(after, "with changes");
    let is_extended = |point: &TapPoint| point.standing.curve == CurveStanding::Extrapolated;
    if found().any(is_extended) && !after.system.taps.iter().filter_map(TapAnswer::reached).any(is_extended) {
        parts.push("* extrapolated, off the table".to_owned());
    }
    if found().any(|point| point.standing.path == PathStanding::Assumed && point.bound.is_exact()) {
        parts.push("≈ rests on something assumed".to_owned());
    }
    parts.push(of_path(after));
    label::caption(ui, format!("{}. Static in {}, ± is 95\u{a0}%.", parts.join(" · "), screen.units.pressure_unit()));
}

/// How the path with changes is known.
pub(super) fn of_path(after: &Projection) -> String {
    let reached = after.system.taps.iter().filter_map(TapAnswer::reached);
    let of_path = reached.map(|point| point.standing.path).max().unwrap_or_default();
    format!("with changes: path {}", of_path.word())
}

/// The marks that taps with changes bear, in words.
pub(super) fn marks(after: &Projection, which: &str) -> Vec<String> {
    let any = |test: &dyn Fn(&TapPoint) -> bool| after.system.taps.iter().filter_map(TapAnswer::reached).any(test);
    let side = |side| move |point: &TapPoint| point.plate.is_some_and(|plate| plate.side == side);
    let mut parts = Vec::new();
    if any(&|point| point.is_answer()) {
        parts.push(format!("✓ in the band {which}, at or under the plate"));
    }
    if any(&|point| point.reach == Some(Reach::InBand) && !point.is_answer()) {
        parts.push("○ in the band, but over the plate or not allowed".to_owned());
    }
    if any(&side(PlateSide::Over)) {
        parts.push("▲ over the plate".to_owned());
    }
    if any(&side(PlateSide::AtLimit)) {
        parts.push("= at the plate, within ±".to_owned());
    }
    if any(&|point| point.standing.curve == CurveStanding::Extrapolated) {
        parts.push("* extrapolated, off the table".to_owned());
    }
    parts.extend(super::bound_parts(after.system.taps.iter().filter_map(TapAnswer::reached)).map(str::to_owned));
    parts
}
