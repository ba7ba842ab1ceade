//! Airflow against the target: the taps that land in its band, or why none does.

use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::verdicts::findings::{Finding, NoTap, SAME_AIRFLOW, StepDoubt, by_airflow, reach_now, watts};
use crate::model::verdicts::needs::{self, Ease, Need};
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::{Running, System};
use crate::model::verdicts::taps::{Reach, RiseSide, TapAnswer, TapPoint};
use crate::units::Airflow;

/// Everything that is said of it.
pub(super) fn find(job: &Job, running: &Running, findings: &mut Vec<Finding>) {
    let airflow = running.now.airflow;
    findings.extend(watts::per_cfm(job, running));
    let is_too_much = reach_now(&running.system) == Some(Reach::TooMuch);
    if let Some(finding) = next_tap(running).filter(|_| !is_too_much && !heats_as_it_should(&running.system)) {
        findings.push(finding);
    }
    let Some(target) = running.system.blower.target else {
        findings.extend(under_plate(job, running));
        return;
    };
    let taps = &running.system.taps;
    let names = |is_one: &dyn Fn(&TapPoint) -> bool| -> Vec<String> {
        let of_air = by_airflow(taps).into_iter();
        of_air.filter(|tap| tap.reached().is_some_and(is_one)).map(|tap| tap.name.clone()).collect()
    };
    let answers = names(&TapPoint::is_answer);
    if is_too_much {
        let lowest_in_band = answers.first().cloned();
        findings.push(Finding::TooMuchAir { airflow, high: target.high, lowest_in_band });
    } else if answers.is_empty() {
        findings.push(Finding::NoTapReaches(why_none(running)));
    } else {
        let is_at_limit = |point: &TapPoint| point.plate.is_some_and(|plate| plate.side == PlateSide::AtLimit);
        let at_limit = names(&|point| point.is_answer() && is_at_limit(point));
        findings.push(Finding::TapsThatReach { taps: answers, at_limit });
    }
}

/// Of a tap over the rated maximum that no target is given for: how much easier the path must become for it to come under.
fn under_plate(job: &Job, running: &Running) -> Option<Finding> {
    let system = &running.system;
    system.plate().filter(|plate| plate.side == PlateSide::Over)?;
    let (now, plate) = (system.point()?, job.machine.as_ref()?.rated_maximum);
    let shape = system.blower.shapes.get(system.blower.in_use?)?;
    let need = needs::need(shape, &system.load, now.airflow, now.tesp, plate);
    Some(Finding::UnderPlate { tap: system.tap()?.to_owned(), ease: *need.ease()?, at_least: system.bound.less })
}

/// True where a heat that has no target of its own is in its plate's range: no other tap is asked for.
fn heats_as_it_should(system: &System) -> bool {
    let rise = || system.runs()?.rise_of(system.blower.call);
    system.blower.target.is_none() && rise().is_some_and(|rise| rise.side == Some(RiseSide::InRange))
}

fn why_none(running: &Running) -> NoTap {
    if let Some(over) = in_band_over_plate(&running.system) {
        return over;
    }
    let all = &running.system.taps;
    let taps = by_airflow(all);
    let with =
        |reach: Reach| taps.iter().filter(move |tap| tap.reached().is_some_and(|point| point.reach == Some(reach)));
    let is_under_plate = |tap: &&&TapAnswer| {
        tap.reached().is_some_and(|point| point.plate.is_none_or(|plate| plate.side != PlateSide::Over))
    };
    let not_allowed = |tap: &&&TapAnswer| tap.reached().is_some_and(|point| point.barred.is_some());
    if let Some(tap) = with(Reach::InBand).find(not_allowed) {
        return NoTap::NotAllowed(tap.name.clone());
    }
    // Over the rated maximum it is no answer, wherever it lands.
    if let Some(tap) = with(Reach::NotSaid).find(is_under_plate) {
        let is_exact = tap.reached().is_some_and(|point| point.bound.is_exact());
        let name = tap.name.clone();
        if let Some((other, own)) = tap.reached().and_then(|point| Some((point.open_by_air()?, point.airflow()))) {
            return NoTap::InThisAir { tap: name, other, own };
        }
        return if is_exact { NoTap::OffTheTable(name) } else { NoTap::PartUnknown(name) };
    }
    let (under, over) = (with(Reach::Short).next_back(), with(Reach::TooMuch).find(is_under_plate));
    if let (Some(under), Some(over)) = (under, over) {
        return NoTap::Jumps { under: under.name.clone(), over: over.name.clone() };
    }
    let weak = |tap: &TapAnswer| match tap.into_band {
        Some(Need::NeverEnough { most }) => Some(most),
        Some(Need::None { .. } | Need::Ease(_) | Need::TooStrong { .. } | Need::Barred { .. } | Need::Unknown)
        | None => None,
    };
    let most: Option<Vec<Airflow>> = all.iter().map(weak).collect();
    match (most, easiest(all.iter())) {
        (Some(most), _) => NoTap::NoneStrongEnough { most: most.into_iter().fold(Airflow::ZERO, Airflow::max) },
        (None, Some((tap, band))) => {
            let at_least = running.sum.bound().less;
            let full = tap.need.as_ref().and_then(Need::ease).copied();
            let is_in_band = tap.reached().is_some_and(|point| point.reach == Some(Reach::InBand));
            NoTap::NeedsEase { tap: tap.name.clone(), band: *band, full, at_least, is_in_band }
        }
        (None, None) => NoTap::Unknown,
    }
}

/// Where all that is wrong with the tap that runs is the rated maximum: by how much, and the tap that needs least to be under it.
fn in_band_over_plate(system: &System) -> Option<NoTap> {
    let tap = system.running()?;
    let point = tap.reached().filter(|point| point.reach == Some(Reach::InBand) && point.barred.is_none())?;
    let plate = point.plate.filter(|plate| plate.side == PlateSide::Over)?;
    let in_band = |tap: &&TapAnswer| tap.reached().is_some_and(|point| point.reach == Some(Reach::InBand));
    let (tap, band) = easiest(system.taps.iter().filter(in_band)).map_or((tap, None), |(tap, band)| (tap, Some(*band)));
    Some(NoTap::OverPlate { tap: tap.name.clone(), over: plate.worse - plate.limit, band })
}

fn next_tap(running: &Running) -> Option<Finding> {
    let (before, static_now) = (running.airflow_before, running.now.tesp);
    // Off the table neither figure of the step is known well enough to weigh one against the other.
    if running.now.standing == CurveStanding::Extrapolated && before > running.now.airflow {
        return None;
    }
    // One tap by an opinion and the others by the table are no steps of one ladder.
    if running.anchored.is_some_and(|anchored| !anchored.scales()) {
        return None;
    }
    let next = by_airflow(&running.system.taps)
        .into_iter()
        .find(|tap| tap.reached().is_some_and(|point| !tap.in_use && point.airflow() > before * SAME_AIRFLOW))?;
    let point = next.reached()?;
    Some(Finding::NextTap {
        name: next.name.clone(),
        airflow: (before, point.airflow()),
        tesp: (static_now, point.crossing.tesp),
        standing: point.standing.curve,
        doubt: step_doubt(point),
    })
}

fn step_doubt(point: &TapPoint) -> Option<StepDoubt> {
    let side = point.plate.map(|plate| plate.side);
    if point.barred.is_some() {
        Some(StepDoubt::NotAllowed)
    } else if side == Some(PlateSide::Over) {
        Some(StepDoubt::OverPlate)
    } else if side == Some(PlateSide::AtLimit) {
        Some(StepDoubt::AtPlate)
    } else if point.gain.least <= point.spread.gain {
        Some(StepDoubt::WithinDoubt)
    } else {
        None
    }
}

/// The tap that needs the smallest share of the path's drop taken out to land in the band.
fn easiest<'a>(taps: impl Iterator<Item = &'a TapAnswer>) -> Option<(&'a TapAnswer, &'a Ease)> {
    taps.filter_map(|tap| Some((tap, tap.into_band.as_ref()?.ease()?)))
        .min_by(|one, other| one.1.share().total_cmp(&other.1.share()))
}
