//! What the target would take of each tap: as found, and with changes.

use eframe::egui::{RichText, Ui};

use crate::model::facts::standing::CurveStanding;
use crate::model::facts::target::TargetBand;
use crate::model::verdicts::needs::{Ease, Need};
use crate::model::verdicts::system::Projection;
use crate::model::verdicts::taps::TapAnswer;
use crate::model::wording::{self, changes, visit};
use crate::ui::taps_panel::{column_head, left, right, row, short_name};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::widgets::label;
use crate::units::{Pressure, UnitSystem, show};

/// Widths of the columns: name, delivers up to, less drop into the band and to the full target.
const COLUMNS: [f32; 4] = [44.0, 44.0, 86.0, 86.0];

/// Both tables where changes are on; the one of another machine stands with its taps.
pub(super) fn what_it_takes(ui: &mut Ui, screen: &Screen<'_>) {
    let then = changes::with_changes(screen.job, screen.answer).map(|(_, after)| after);
    if let Some(after) = then.filter(|after| after.system.blower.other.is_none()) {
        with_changes(ui, screen, after, "with changes");
    }
    let Some(target) = screen.answer.blower().target else {
        label::heading(ui, "What it would take");
        label::caption(ui, "Give a target airflow to see what each tap would need.");
        return;
    };
    let as_found = then.map(|_| format!(", {}", visit::as_found(screen.job))).unwrap_or_default();
    table(ui, screen, wording::tap_word(screen.job), &target, screen.answer.taps(), &as_found);
    // The simple difference is told only where it is less than what is needed.
    let tempts = |(_, ease): &(&str, Ease)| ease.remove > ease.tempting && ease.tempting > Pressure::ZERO;
    if let Some((name, ease)) = eased_tap(screen).filter(tempts) {
        tempting(ui, screen, name, &ease);
    }
}

/// What each tap would need on the path with changes; nothing without a target.
pub(super) fn with_changes(ui: &mut Ui, screen: &Screen<'_>, after: &Projection, which: &str) {
    let Some(target) = after.system.blower.target else {
        return;
    };
    table(ui, screen, changes::word_then(screen.job, after), &target, &after.system.taps, &format!(", {which}"));
    if let Some(need) = changes::need(screen.job, after, screen.units) {
        label::caption(ui, wording::ended(&need));
    }
}

fn table(ui: &mut Ui, screen: &Screen<'_>, word: &str, target: &TargetBand, taps: &[TapAnswer], which: &str) {
    let units = screen.units;
    label::heading(ui, &format!("What {} {} would take{which}", wording::target(target, units), units.airflow_unit()));
    row(ui, |ui| {
        for (text, width) in [word, "up to", "into the band", "to target"].into_iter().zip(COLUMNS) {
            column_head(ui, text, width);
        }
    });
    for tap in taps {
        row(ui, |ui| need_row(ui, units, tap));
    }
    label::caption(
        ui,
        format!(
            "Up to which static it delivers the target, and how much less drop it needs at the airflow it then moves; {}, rated maximum included",
            units.pressure_unit()
        ),
    );
}

fn need_row(ui: &mut Ui, units: UnitSystem, tap: &TapAnswer) {
    let palette = theme::palette(ui);
    let highest = match tap.need {
        Some(Need::None { highest, standing } | Need::Ease(Ease { highest, standing, .. })) => {
            let mark = if standing == CurveStanding::Extrapolated { "*" } else { "" };
            format!("{}{mark}", show::pressure_bare(highest, units))
        }
        Some(Need::NeverEnough { .. } | Need::TooStrong { .. } | Need::Barred { .. } | Need::Unknown) | None => {
            "–".to_owned()
        }
    };
    let cells = [RichText::new(highest), less_drop(tap.into_band, units, palette), less_drop(tap.need, units, palette)];
    let font = if tap.in_use { theme::strong(theme::BODY) } else { theme::regular(theme::BODY) };
    left(ui, COLUMNS[0], RichText::new(format!(" {}", short_name(&tap.name))).font(font));
    for (text, width) in cells.into_iter().zip(&COLUMNS[1..]) {
        right(ui, *width, text);
    }
}

/// What has to come out, or why nothing helps.
fn less_drop(need: Option<Need>, units: UnitSystem, palette: &Palette) -> RichText {
    let strong = |text: String| RichText::new(text).font(theme::strong(theme::BODY));
    let small = |text: &str| RichText::new(text).font(theme::regular(theme::SMALL));
    match need {
        Some(Need::None { .. }) => strong("nothing".to_owned()).color(palette.target),
        Some(Need::Ease(ease)) => strong(show::pressure_bare(ease.remove, units)),
        Some(Need::NeverEnough { .. }) => small("cannot reach").color(palette.over),
        Some(Need::TooStrong { .. }) => small("too strong").color(palette.over),
        Some(Need::Barred { .. }) => small("not allowed").color(palette.over),
        Some(Need::Unknown) | None => small("not known").color(palette.quiet),
    }
}

/// The tap in use where it needs easing, else the one that needs the least.
fn eased_tap<'a>(screen: &Screen<'a>) -> Option<(&'a str, Ease)> {
    let eased = |tap: &'a TapAnswer| match tap.need {
        Some(Need::Ease(ease)) => Some((tap.name.as_str(), ease)),
        _ => None,
    };
    let in_use = screen.answer.taps().iter().filter(|tap| tap.in_use).find_map(eased);
    in_use.or_else(|| {
        screen
            .answer
            .taps()
            .iter()
            .filter_map(eased)
            .min_by(|one, other| one.1.remove.in_wc().total_cmp(&other.1.remove.in_wc()))
    })
}

/// The simple difference beside the right figure, and why it is not enough.
fn tempting(ui: &mut Ui, screen: &Screen<'_>, tap: &str, ease: &Ease) {
    let units = screen.units;
    let word = wording::tap_word(screen.job);
    let plate =
        if ease.allowed < ease.highest { ", and the rated maximum is under what the tap could stand" } else { "" };
    label::caption(
        ui,
        format!(
            "On {word} {tap} the simple difference, {} − {} = {}, is not enough: at {} this path drops {}, not what it drops today{plate}, so it needs {} less drop.",
            show::pressure_bare(ease.tempting + ease.highest, units),
            show::pressure_bare(ease.highest, units),
            show::pressure_bare(ease.tempting, units),
            show::airflow(ease.at, units),
            show::pressure_bare(ease.path, units),
            show::pressure(ease.remove, units)
        ),
    );
}
