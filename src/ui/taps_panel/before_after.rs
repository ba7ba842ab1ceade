//! Every tap as found and with the changes, side by side.

use eframe::egui::{Color32, FontId, RichText, Role, Ui, WidgetInfo};

use crate::app::action::Action;
use crate::edit::Edit;
use crate::model::answer::Running;
use crate::model::answer::after::After;
use crate::model::answer::plate::PlateSide;
use crate::model::answer::taps::{self, Reach, TapAnswer};
use crate::model::operating_point::{Crossing, NoCrossing};
use crate::model::standing::{CurveStanding, PathStanding};
use crate::model::tap_curve::TapShape;
use crate::model::wording::{self, changes};
use crate::ui::taps_panel::{missing, right, row};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::widgets::label;
use crate::units::show;

/// Widths of the columns: name, airflow and static as found, airflow, ± and static with changes, share of the target.
const COLUMNS: [f32; 7] = [42.0, 42.0, 30.0, 46.0, 18.0, 36.0, 54.0];

/// A tap of the changed path, judged.
struct Then<'a> {
    point: &'a Crossing,
    reach: Option<Reach>,
    plate: Option<PlateSide>,
    is_barred: bool,
}

impl Then<'_> {
    fn is_answer(&self) -> bool {
        self.reach == Some(Reach::InBand) && self.plate != Some(PlateSide::Over) && !self.is_barred
    }
}

/// Draws the table.
pub(super) fn before_and_after(
    ui: &mut Ui,
    screen: &Screen<'_>,
    running: &Running,
    after: &After,
    out: &mut Vec<Action>,
) {
    let word = wording::tap_word(screen.job);
    label::heading(ui, &format!("Every {word}, as found and with changes"));
    heads(ui, screen, word);
    for (index, tap) in screen.answer.taps.iter().enumerate() {
        row(ui, |ui| tap_row(ui, screen, running, after, (index, tap), out));
    }
    legend(ui, screen, running, after);
    for (index, tap) in screen.answer.taps.iter().enumerate() {
        if then(screen, running, after, index).is_some_and(|then| then.is_barred) {
            label::error(ui, &format!("{word} {} is not allowed at the static with changes", tap.name));
        }
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
    let (airflow, static_unit) = (screen.units.airflow_unit(), short_unit(screen));
    let texts = [word, airflow, static_unit, airflow, "±", static_unit, "target"];
    row(ui, |ui| {
        for (text, width) in texts.into_iter().zip(COLUMNS) {
            right(ui, width, small(text, palette.quiet));
        }
    });
}

/// "in. w.c." has no room in a narrow column; the legend says it in full.
fn short_unit(screen: &Screen<'_>) -> &'static str {
    match screen.units {
        crate::units::UnitSystem::InchPound => "in.",
        other => other.pressure_unit(),
    }
}

fn then<'a>(screen: &Screen<'_>, running: &Running, after: &'a After, index: usize) -> Option<Then<'a>> {
    let point = after.crossing(index)?;
    let is_barred = match after.shapes.get(index) {
        Some(TapShape::Curve(curve)) => curve.barred_at(point.entry).is_some(),
        _ => false,
    };
    Some(Then {
        reach: screen.answer.target.map(|target| taps::reach(point.airflow, after.below(index), &target)),
        plate: changes::against_plate(running, point.tesp),
        is_barred,
        point,
    })
}

fn tap_row(
    ui: &mut Ui,
    screen: &Screen<'_>,
    running: &Running,
    after: &After,
    (index, tap): (usize, &TapAnswer),
    out: &mut Vec<Action>,
) {
    let palette = theme::palette(ui);
    let runs = after.in_use == index;
    let button = super::name_button(ui, tap, COLUMNS[0]);
    let then = then(screen, running, after, index);
    button.widget_info(|| {
        let after = match &then {
            Some(then) => spoken(screen, then),
            None => not_reached(screen, after, index),
        };
        let found = super::spoken(screen, tap);
        let info = format!("{} {}: {found}; with changes {after}", wording::tap_word(screen.job), tap.name);
        WidgetInfo::selected(Role::RadioButton, true, tap.in_use, info)
    });
    if button.clicked() && !tap.in_use {
        out.push(Edit::Tap(Some(tap.name.clone())).into());
    }
    found_cells(ui, screen, tap, palette);
    match &then {
        Some(then) => then_cells(ui, screen, after, index, then, runs),
        None => right(ui, COLUMNS[3], RichText::new(not_reached(screen, after, index)).color(palette.quiet)),
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
    let marks = (assumed(point.standing.path), extended(point.standing.curve));
    right(ui, COLUMNS[1], quiet(format!("{}{}{}", marks.0, show::airflow_bare(point.airflow(), units), marks.1)));
    right(ui, COLUMNS[2], quiet(show::pressure_bare(point.crossing.tesp, units)));
}

fn then_cells(ui: &mut Ui, screen: &Screen<'_>, after: &After, index: usize, then: &Then<'_>, runs: bool) {
    let (palette, units) = (theme::palette(ui), screen.units);
    let font: FontId = if runs { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    let strong = |text: String, colour: Color32| RichText::new(text).font(font.clone()).color(colour);
    let ink = if runs { palette.change } else { palette.ink };
    right(
        ui,
        COLUMNS[3],
        strong(format!("{}{}", show::airflow_bare(then.point.airflow, units), extended(then.point.standing)), ink),
    );
    let spread = after.spreads.taps.get(index).copied().flatten().unwrap_or_default();
    let spread = show::number(units.airflow_number(spread.airflow), 0);
    right(ui, COLUMNS[4], RichText::new(spread).font(theme::regular(theme::SMALL)).color(palette.quiet));
    let (mark, colour) = match then.plate {
        Some(PlateSide::Over) => ("▲", palette.over),
        Some(PlateSide::AtLimit) => ("=", palette.over),
        _ => ("", palette.ink),
    };
    right(ui, COLUMNS[5], strong(format!("{mark}{}", show::pressure_bare(then.point.tesp, units)), colour));
    right(ui, COLUMNS[6], target_cell(screen, then, &font, palette));
}

fn target_cell(screen: &Screen<'_>, then: &Then<'_>, font: &FontId, palette: &Palette) -> RichText {
    let Some(target) = screen.answer.target else {
        return RichText::new("–").color(palette.quiet);
    };
    let (mark, colour) = match (then.is_answer(), then.reach) {
        (true, _) => ("✓", palette.target),
        (false, Some(Reach::InBand)) => ("○", palette.target),
        _ => ("", palette.ink),
    };
    let share = show::number(then.point.airflow / target.actual * 100.0, 0);
    RichText::new(format!("{mark}{share} %")).font(font.clone()).color(colour)
}

fn spoken(screen: &Screen<'_>, then: &Then<'_>) -> String {
    let units = screen.units;
    let share = screen
        .answer
        .target
        .map(|target| format!(", {} of the target", show::percent(then.point.airflow / target.actual)));
    let answers = if then.is_answer() { ", in the band" } else { "" };
    let over = if then.plate == Some(PlateSide::Over) { ", over the plate" } else { "" };
    format!(
        "{} at {}{}{answers}{over}, {}",
        show::airflow(then.point.airflow, units),
        show::pressure(then.point.tesp, units),
        share.unwrap_or_default(),
        then.point.standing.word()
    )
}

fn not_reached(screen: &Screen<'_>, after: &After, index: usize) -> String {
    match after.no_crossing(index) {
        Some(NoCrossing::PastTheEnd { below, .. }) => format!("< {}", show::airflow_bare(*below, screen.units)),
        Some(NoCrossing::SingleRow(_)) => "one row".to_owned(),
        Some(NoCrossing::Unusable) => "not usable".to_owned(),
        _ => "–".to_owned(),
    }
}

const fn extended(standing: CurveStanding) -> &'static str {
    if matches!(standing, CurveStanding::Extrapolated) { "*" } else { "" }
}

const fn assumed(standing: PathStanding) -> &'static str {
    if matches!(standing, PathStanding::Assumed) { "≈" } else { "" }
}

/// Which of the standings the table shows, in words.
fn legend(ui: &mut Ui, screen: &Screen<'_>, running: &Running, after: &After) {
    let all: Vec<Then<'_>> = (0..after.taps.len()).filter_map(|index| then(screen, running, after, index)).collect();
    let any = |test: &dyn Fn(&Then<'_>) -> bool| all.iter().any(test);
    let found = || screen.answer.taps.iter().filter_map(TapAnswer::reached);
    let mut parts = Vec::new();
    if any(&|then| then.is_answer()) {
        parts.push("✓ in the band with changes, at or under the plate".to_owned());
    }
    if any(&|then| then.reach == Some(Reach::InBand) && !then.is_answer()) {
        parts.push("○ in the band, but over the plate or not allowed".to_owned());
    }
    if any(&|then| then.plate == Some(PlateSide::Over)) {
        parts.push("▲ over the plate".to_owned());
    }
    let is_extended = found().any(|point| point.standing.curve == CurveStanding::Extrapolated);
    if is_extended || any(&|then| then.point.standing == CurveStanding::Extrapolated) {
        parts.push("* extrapolated, off the table".to_owned());
    }
    if found().any(|point| point.standing.path == PathStanding::Assumed) {
        parts.push("≈ rests on something assumed".to_owned());
    }
    let of_path = after.parts.iter().map(|part| part.standing).max().unwrap_or_default();
    parts.push(format!("with changes: path {}", of_path.word()));
    label::caption(ui, format!("{}. Static in {}, ± is 95 %.", parts.join(" · "), screen.units.pressure_unit()));
}
