//! What the changes of a job bring, in one sentence.

use crate::model::answer::after::After;
use crate::model::answer::plate::{self, PlateSide};
use crate::model::answer::{Answer, Running};
use crate::model::job::Job;
use crate::model::operating_point::NoCrossing;
use crate::units::show::{airflow, airflow_bare, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// The path with its changes, where at least one of them is on.
pub fn with_changes<'a>(job: &Job, answer: &'a Answer) -> Option<(&'a Running, &'a After)> {
    let running = answer.point()?;
    let after = running.after.as_ref()?;
    job.changes.iter().any(crate::model::change::Change::is_on).then_some((running, after))
}

/// What all changes together bring on the tap that runs with them, and its ± (95 %).
///
/// The airflow before counts as the last published one where it lies past it, so that a low extension never sells a fix.
pub fn gain(running: &Running, after: &After) -> Option<(Airflow, Airflow)> {
    let spread = after.spreads.taps.get(after.in_use).copied().flatten().unwrap_or_default();
    Some((after.point()?.airflow - running.airflow_before, spread.gain))
}

/// Where a static with changes lies against the rating plate; nothing where the plate is not known.
pub fn against_plate(running: &Running, tesp: Pressure) -> Option<PlateSide> {
    let table = running.after.as_ref().and_then(|after| after.machine.as_ref());
    let limit = table.map_or(running.plate.map(|plate| plate.limit), |table| table.rated_maximum)?;
    let load = running.after.as_ref().map_or(&running.load, |after| &after.load);
    Some(plate::judge(tesp, limit, load.density_ratio, Pressure::ZERO).side)
}

/// "With both changes 1,350 cfm at 0.59 in. w.c. on tap 4", without its period; nothing when no change is on.
pub fn sentence(job: &Job, answer: &Answer, units: UnitSystem) -> Option<String> {
    let (running, after) = with_changes(job, answer)?;
    let on = job.changes.iter().filter(|change| change.is_on());
    let counted = on.filter(|change| after.refused.iter().all(|(id, _)| *id != change.id)).count();
    let what = match counted {
        0 => return after.refused.first().map(|(_, sentence)| format!("The change cannot be put on: {sentence}")),
        1 => "the change".to_owned(),
        2 => "both changes".to_owned(),
        many => format!("{many} changes"),
    };
    let word = super::tap_word(job);
    let machine = after.machine.as_ref().map(|table| format!(" of {}", table.name)).unwrap_or_default();
    let tap = format!("{word} {}{machine}", after.tap().unwrap_or_default());
    Some(match (after.point(), after.no_crossing(after.in_use)) {
        (Some(point), _) => format!(
            "With {what} {} at {} on {tap}{}",
            airflow(point.airflow, units),
            pressure(point.tesp, units),
            reserve(running, after, point.tesp, units)
        ),
        (None, Some(NoCrossing::PastTheEnd { below, .. })) => {
            format!("With {what} below {} on {tap}, off the table", airflow(*below, units))
        }
        _ => format!("With {what} nothing can be said of {tap}"),
    })
}

/// What must not be forgotten about the gain.
fn reserve(running: &Running, after: &After, tesp: Pressure, units: UnitSystem) -> String {
    let mut said = String::new();
    if let Some((gain, spread)) = gain(running, after).filter(|(gain, spread)| gain.abs() < *spread) {
        let side = if gain < Airflow::ZERO { "less" } else { "more" };
        said = format!(", no {side} than can be known (± {})", airflow_bare(spread, units));
    }
    if against_plate(running, tesp) == Some(PlateSide::Over) {
        let table = after.machine.as_ref().map(|table| table.rated_maximum);
        let limit = table.unwrap_or(running.plate.map(|plate| plate.limit));
        let limit = limit.map(|limit| pressure_bare(limit, units)).unwrap_or_default();
        said = format!("{said}, over the plate's {limit}");
    }
    said
}
