//! Every tap on the path as read and with its changes, what the target would take, and what else the numbers say.

mod before_after;
mod needs;
mod other_machine;

use eframe::egui::{Align, Button, Color32, Label, Layout, Response, RichText, Ui, vec2};

use crate::edit::Edit;
use crate::model::facts::blower::Call;
use crate::model::facts::standing::{CurveStanding, PathStanding, Standing};
use crate::model::path::tesp::Bound;
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::findings::{Finding, StepDoubt, Weight};
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::NotRunning;
use crate::model::verdicts::taps::{Reach, TapAnswer, TapPoint};
use crate::model::wording::{self, changes};
use crate::ui::theme::{self, Palette};
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
        tap_change_caution(ui, screen);
    }
}

/// Draws the table of every tap, before and after where changes are on.
pub fn table(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.y = theme::STEP * 0.375;
    match changes::with_changes(screen.job, screen.answer) {
        Some((running, after)) if after.system.blower.other.is_some() => {
            other_machine::every_tap(ui, screen, running, after, out);
        }
        Some((_, after)) => before_after::before_and_after(ui, screen, after, out),
        None => every_tap(ui, screen, out),
    }
}

fn every_tap(ui: &mut Ui, screen: &Screen<'_>, out: &mut Vec<Action>) {
    let word = wording::tap_word(screen.job);
    label::heading(ui, &format!("Every {word} on this path"));
    let units = screen.units;
    row(ui, |ui| {
        for (text, width) in
            [word, units.airflow_unit(), "±", units.pressure_unit(), "target", "W"].into_iter().zip(TAP_COLUMNS)
        {
            column_head(ui, text, width);
        }
    });
    for tap in screen.answer.taps() {
        row(ui, |ui| tap_row(ui, screen, tap, out));
    }
    legend(ui, screen);
    for tap in screen.answer.taps() {
        tap_remark(ui, screen, tap);
    }
    rises(ui, screen, None, screen.answer.taps(), screen.job.set().call);
}

/// Widths of the columns of every tap: name, airflow, ±, static, share of the target, watts.
const TAP_COLUMNS: [f32; 6] = [50.0, 56.0, 28.0, 50.0, 56.0, 34.0];
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

fn tap_row(ui: &mut Ui, screen: &Screen<'_>, tap: &TapAnswer, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let button = name_button(ui, tap, TAP_COLUMNS[0]);
    button.widget_info(|| {
        let info = format!("{} {}: {}", wording::tap_word(screen.job), tap.name, spoken(screen, tap));
        eframe::egui::WidgetInfo::selected(eframe::egui::Role::RadioButton, true, tap.in_use, info)
    });
    if button.clicked() && !tap.in_use {
        out.push(Edit::Tap(Some(tap.name.clone())).into());
    }
    match tap.reached() {
        Some(point) => reached_cells(ui, screen, point, tap.in_use, palette),
        None => {
            right(ui, TAP_COLUMNS[1], RichText::new(missing(screen, tap)).color(palette.quiet));
        }
    }
}

/// The tap's name as a button, short where it is long; the whole name on hover.
fn name_button(ui: &mut Ui, tap: &TapAnswer, width: f32) -> Response {
    let short = short_name(&tap.name);
    let size = if short.chars().count() > 3 { theme::SMALL } else { theme::BODY };
    let font = if tap.in_use { theme::strong(size) } else { theme::regular(size) };
    ui.scope(|ui| {
        ui.spacing_mut().button_padding.x = 2.0;
        let button = Button::selectable(tap.in_use, RichText::new(short).font(font)).truncate();
        ui.add_sized([width, ROW], button)
    })
    .inner
    .on_hover_text(&tap.name)
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

/// The row as a screen reader says it.
fn spoken(screen: &Screen<'_>, tap: &TapAnswer) -> String {
    let Some(point) = tap.reached() else {
        return missing(screen, tap);
    };
    let units = screen.units;
    let share = point.of_target.map(|share| format!(", {} of the target", show::percent(share))).unwrap_or_default();
    let (curve, path) = point.standing.words();
    format!(
        "{} at {}{share}, {curve}, {path}",
        show::airflow(point.airflow(), units),
        show::pressure(point.crossing.tesp, units)
    )
}

/// Why a row has no numbers.
fn missing(screen: &Screen<'_>, tap: &TapAnswer) -> String {
    match &tap.point {
        Some(Err(NoCrossing::PastTheEnd { below, .. })) => {
            format!("< {}", show::airflow_bare(*below, screen.units))
        }
        Some(Err(NoCrossing::SingleRow(_))) => "one row".to_owned(),
        Some(Err(NoCrossing::Unusable)) => "not usable".to_owned(),
        _ => "–".to_owned(),
    }
}

fn reached_cells(ui: &mut Ui, screen: &Screen<'_>, point: &TapPoint, in_use: bool, palette: &Palette) {
    let units = screen.units;
    let font = if in_use { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    let strong = |text: String, colour: Color32| RichText::new(text).font(font.clone()).color(colour);
    let quiet = |text: String| RichText::new(text).font(theme::regular(theme::SMALL)).color(palette.quiet);
    let mark = if point.standing.curve == CurveStanding::Extrapolated { "*" } else { "" };
    let assumed = path_mark(point);
    right(
        ui,
        TAP_COLUMNS[1],
        strong(format!("{assumed}{}{mark}", show::airflow_bare(point.airflow(), units)), palette.ink),
    );
    right(ui, TAP_COLUMNS[2], quiet(show::number(units.airflow_number(point.spread.airflow), 0)));
    let (over, plate_mark) = match point.plate.map(|plate| plate.side) {
        Some(PlateSide::Over) => (palette.over, "▲"),
        Some(PlateSide::AtLimit) => (palette.over, "="),
        _ => (palette.ink, ""),
    };
    right(ui, TAP_COLUMNS[3], strong(format!("{plate_mark}{}", show::pressure_bare(point.crossing.tesp, units)), over));
    right(ui, TAP_COLUMNS[4], target_cell(point, &font, palette));
    right(ui, TAP_COLUMNS[5], quiet(point.power.map_or_else(|| "–".to_owned(), show::power_bare)));
}

/// The mark before an airflow: a bound's sign, or that it is not all measured.
fn path_mark(point: &TapPoint) -> &'static str {
    match point.bound {
        Bound { less: true, more: false } => "≤",
        Bound { less: false, more: true } => "≥",
        _ if point.standing.path == PathStanding::Measured => "",
        _ => "≈",
    }
}

/// The signs of bounds in words, for a legend.
fn bound_parts<'a>(mut points: impl Iterator<Item = &'a TapPoint>) -> Option<&'static str> {
    let bound = points.find(|point| !point.bound.is_exact())?.bound;
    Some(match bound {
        Bound { less: true, more: false } => "≤ at most, static at least: a part's drop is not known",
        Bound { less: false, more: true } => "≥ at least, static at most: a part's drop is not known",
        _ => "≈ a part's drop is not known",
    })
}

fn target_cell(point: &TapPoint, font: &eframe::egui::FontId, palette: &Palette) -> RichText {
    let Some(share) = point.of_target else {
        return RichText::new("–").color(palette.quiet);
    };
    let (mark, colour) = match (point.is_answer(), point.reach) {
        (true, _) => ("✓ ", palette.target),
        (false, Some(Reach::InBand)) => ("○ ", palette.target),
        _ => ("", palette.ink),
    };
    RichText::new(format!("{mark}{}", show::percent(share))).font(font.clone()).color(colour)
}

fn legend(ui: &mut Ui, screen: &Screen<'_>) {
    let points: Vec<&TapPoint> = screen.answer.taps().iter().filter_map(TapAnswer::reached).collect();
    if points.is_empty() {
        let word = wording::tap_word(screen.job);
        let why = match screen.answer.why_not() {
            Some(NotRunning::NoMachine | NotRunning::NoTap | NotRunning::NotRead(_)) => {
                "The readings will say where each of them runs.".to_owned()
            }
            _ => format!("Without a point on the {word} in use there is no path to run the others on."),
        };
        label::caption(ui, why);
        return;
    }
    let any = |test: &dyn Fn(&TapPoint) -> bool| points.iter().any(|point| test(point));
    let mut parts = Vec::new();
    if any(&|point| point.is_answer()) {
        parts.push("✓ in the band, at or under the plate");
    }
    if any(&|point| point.reach == Some(Reach::InBand) && !point.is_answer()) {
        parts.push("○ in the band, but over the plate or not allowed");
    }
    if any(&|point| point.plate.is_some_and(|plate| plate.side == PlateSide::Over)) {
        parts.push("▲ over the plate");
    }
    if any(&|point| point.plate.is_some_and(|plate| plate.side == PlateSide::AtLimit)) {
        parts.push("= at the plate, within ±");
    }
    if any(&|point| point.standing.curve == CurveStanding::Extrapolated) {
        parts.push("* extrapolated, off the table");
    }
    if let Some(bound) = bound_parts(points.iter().copied()) {
        parts.push(bound);
    } else if any(&|point| point.standing.path == PathStanding::Assumed) {
        parts.push("≈ rests on something assumed");
    } else if any(&|point| point.standing.path == PathStanding::Shared) {
        parts.push("≈ rests on a stretch split by shares");
    }
    if any(&|point| point.standing == Standing::default()) {
        parts.push("no mark: published table, measured path");
    }
    label::caption(ui, format!("{}. ± is 95\u{a0}%.", parts.join(" · ")));
}

/// What a row cannot hold: a bar, a note, a bound, a rise out of the plate's range.
fn tap_remark(ui: &mut Ui, screen: &Screen<'_>, tap: &TapAnswer) {
    let Some(point) = tap.reached() else {
        return;
    };
    let units = screen.units;
    let word = wording::tap_word(screen.job);
    if let Some(note) = &point.barred {
        let note = note.as_deref().map(|note| format!(": {note}")).unwrap_or_default();
        label::error(ui, &format!("{word} {} is not allowed at this static{note}", tap.name));
    }
    if let Some(note) = &point.note {
        label::caption(ui, format!("{word} {}: the table notes \"{note}\" here", tap.name));
    }
    if let Some(below) = point.below {
        label::caption(
            ui,
            format!(
                "{word} {}: below {}, off the table; about {} by extension",
                tap.name,
                show::airflow(below, units),
                show::airflow_bare(point.airflow(), units)
            ),
        );
    }
}

/// The rise of each heating stage on the tap that it runs, under a heading where there is one and something to head.
fn rises(ui: &mut Ui, screen: &Screen<'_>, heading: Option<&str>, taps: &[TapAnswer], runs: Call) {
    let Some(table) = &screen.job.machine else {
        return;
    };
    let rises = changes::rises(table, taps, runs, screen.units);
    if let Some(heading) = heading.filter(|_| !rises.is_empty()) {
        label::caption(ui, heading);
    }
    for (text, is_odd) in rises {
        if is_odd {
            label::error(ui, &text);
        } else {
            label::caption(ui, text);
        }
    }
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
            if *doubt == Some(StepDoubt::OverPlate) { palette.over } else { palette.ink },
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

/// What to mind when a tap is changed (common practice, no source).
fn tap_change_caution(ui: &mut Ui, screen: &Screen<'_>) {
    label::heading(ui, &format!("Before a {} is changed", wording::tap_word(screen.job)));
    label::caption(
        ui,
        "Power off and locked out; wait for the control's stored charge. One lead a tap, unused leads capped, never two energised. Afterwards read static, watts or amps and temperature rise again, in heating and in cooling. The maker's instructions come first.",
    );
}

#[cfg(test)]
mod tests {
    use super::short_name;

    #[test]
    fn long_names_stay_apart_when_they_are_short() {
        let cases = [("4", "4"), ("High", "High"), ("Medium-high", "M-high"), ("Medium-low", "M-low"), ("Fan", "Fan")];
        for (name, short) in cases {
            assert_eq!(short_name(name), short);
        }
    }
}
