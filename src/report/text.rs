//! Results as text for the clipboard: the verdict, every tap and the changes, with a tab between columns, so that a spreadsheet takes them as a table.
//!
//! Figures are those of the screen, without the marks at thousands, which a spreadsheet would take for text.

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::solution::gain::Gain;
use crate::model::verdicts::system::Projection;
use crate::model::verdicts::taps::{TapAnswer, TapPoint};
use crate::model::wording::{self, changes, visit};
use crate::units::show::{airflow_bare, percent, power_bare, pressure_bare, spread_bare};
use crate::units::{UnitSystem, show};

/// The verdict, the taps and the changes.
pub fn results(job: &Job, answer: &Answer, units: UnitSystem) -> String {
    let title = if job.title.is_empty() { "Untitled job" } else { &job.title };
    let verdict = wording::verdict(job, answer, units);
    let mut lines = vec![title.to_owned(), verdict.headline, verdict.detail, String::new()];
    lines.extend(taps(job, answer, units));
    if let Some(after) = answer.with_changes() {
        lines.push(String::new());
        lines.extend(fixes(job, after, units));
    }
    lines.join("\n") + "\n"
}

fn row(cells: impl IntoIterator<Item = String>) -> String {
    cells.into_iter().collect::<Vec<_>>().join("\t")
}

/// A figure as a spreadsheet reads one.
fn plain(figure: &str) -> String {
    figure.replace(',', "").replace(show::MINUS, "-")
}

fn taps(job: &Job, answer: &Answer, units: UnitSystem) -> Vec<String> {
    let (air, drop) = (units.airflow_unit(), units.pressure_unit());
    let heads = |of: &str| {
        [
            format!("{air}{of}"),
            format!("± {air}{of}"),
            format!("{drop}{of}"),
            format!("of target{of}"),
            format!("W{of}"),
        ]
    };
    let then = answer.with_changes();
    // Another machine's taps are no row beside these.
    let beside = then.filter(|after| after.system.blower.other.is_none());
    let word = wording::tap_word(job).to_owned();
    let found = heads(&format!(", {}", visit::found(job))).into_iter();
    let changed = beside.into_iter().flat_map(|_| heads(", with changes"));
    let mut lines = vec![row([word].into_iter().chain(found).chain(changed))];
    for (index, tap) in answer.taps().iter().enumerate() {
        let after = beside.map(|after| figures(after.system.taps.get(index), units));
        let cells = [tap.name.clone()].into_iter().chain(figures(Some(tap), units));
        lines.push(row(cells.chain(after.into_iter().flatten())));
    }
    if let Some((table, after)) = then.and_then(|after| Some((after.system.blower.other.as_deref()?, after))) {
        lines.push(String::new());
        let word = table.motor.tap_word();
        lines.push(row([format!("{word} of {}", table.name)].into_iter().chain(heads(""))));
        let each = after.system.taps.iter();
        lines.extend(each.map(|tap| row([tap.name.clone()].into_iter().chain(figures(Some(tap), units)))));
    }
    lines
}

fn figures(tap: Option<&TapAnswer>, units: UnitSystem) -> [String; 5] {
    let Some(point) = tap.and_then(TapAnswer::reached) else {
        return Default::default();
    };
    let TapPoint { crossing, spread, of_target, power, .. } = point;
    [
        plain(&airflow_bare(crossing.airflow, units)),
        plain(&spread_bare(spread.airflow, units)),
        plain(&pressure_bare(crossing.tesp, units)),
        of_target.map(percent).unwrap_or_default(),
        power.map(|power| plain(&power_bare(power))).unwrap_or_default(),
    ]
}

fn fixes(job: &Job, after: &Projection, units: UnitSystem) -> Vec<String> {
    let air = units.airflow_unit();
    let heads = ["change", "size", "counts", "gain alone", "±", "gain after the others", "price"];
    let heads = heads
        .map(|head| if head.starts_with("gain") || head == "±" { format!("{head}, {air}") } else { head.to_owned() });
    let mut lines = vec![row(heads)];
    for (change, worth) in job.changes.iter().zip(&after.worths) {
        let last = after.after_others.iter().find(|last| last.id == change.id);
        lines.push(row([
            change.kind.title(job),
            change.kind.details(job, units).unwrap_or_default(),
            if after.counts(change) { "yes" } else { "no" }.to_owned(),
            worth.gain.as_ref().map(|gain| gained(*gain, units)).unwrap_or_default(),
            worth.spread.map(|spread| plain(&spread_bare(spread, units))).unwrap_or_default(),
            last.map(|last| gained(last.gain, units)).unwrap_or_default(),
            change.price.map(price).unwrap_or_default(),
        ]));
    }
    let (gain, spread) = changes::gain(after).unzip();
    let (whole, unpriced) = after.price(job).unzip();
    let without = unpriced.filter(|unpriced| *unpriced > 0).map(|unpriced| format!("{unpriced} without a price"));
    lines.push(row([
        "together".to_owned(),
        without.unwrap_or_default(),
        after.counted(job).to_string(),
        gain.map(|gain| gained(gain, units)).unwrap_or_default(),
        spread.map(|spread| plain(&spread_bare(spread, units))).unwrap_or_default(),
        String::new(),
        whole.map(price).unwrap_or_default(),
    ]));
    lines
}

fn gained(gain: Gain, units: UnitSystem) -> String {
    plain(&changes::gain_bare(gain, units))
}

fn price(price: f64) -> String {
    plain(&show::trimmed(price, 2))
}
