//! What must move nothing, on any path: the order of a file, the same machine again, changes that oppose each other or have no strength, and the unit in which a reading was typed.

use super::edits::Dice;
use super::house::*;
use super::own_tap::job_of;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{AirPath, ElementKind};
use tapcross::model::facts::change::{ChangeKind, FilterLoading, Replacement};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::units::{UnitSystem, text};

/// Jobs that are tried, and that have to run.
const JOBS: u64 = 240;
const RUN: usize = 140;

/// Airflow and static of every tap as found, 0 where it has none.
fn found(job: &Job) -> Option<Vec<(f64, f64)>> {
    let answer = Answer::of(job);
    answer.point()?;
    Some(of_taps(answer.taps()))
}

fn of_taps(taps: &[tapcross::model::verdicts::taps::TapAnswer]) -> Vec<(f64, f64)> {
    let at = |tap: &tapcross::model::verdicts::taps::TapAnswer| {
        tap.reached().map_or((0.0, 0.0), |point| (point.airflow().cfm(), point.crossing.tesp.in_wc()))
    };
    taps.iter().map(at).collect()
}

/// Every job that runs, with what it finds.
fn all() -> impl Iterator<Item = (u64, Job, Vec<(f64, f64)>)> {
    (0..JOBS).filter_map(|number| {
        let job = job_of(number);
        let found = found(&job)?;
        Some((number, job, found))
    })
}

fn assert_same(told: &str, one: &[(f64, f64)], other: &[(f64, f64)], relative: f64) {
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        assert_near(told, one.0, other.0, relative);
        assert_near(told, one.1, other.1, relative);
    }
}

#[test]
fn the_order_of_ports_and_readings_in_a_file_moves_nothing() {
    let mut tried = 0;
    for (number, job, found_so) in all() {
        let mut dice = Dice(number + 7000);
        let mut other = job.clone();
        for turn in (1..other.path.ports.len()).rev() {
            other.path.ports.swap(turn, dice.below(turn + 1));
        }
        for turn in (1..other.sets[0].readings.len()).rev() {
            other.sets[0].readings.swap(turn, dice.below(turn + 1));
        }
        assert_same(&format!("job {number}"), &found(&other).expect("it runs"), &found_so, 1e-12);
        tried += 1;
    }
    assert!(tried > RUN, "{tried}");
}

/// A new machine's own parts are as they were tested; the house has to have them so too.
fn is_as_tested(job: &Job) -> bool {
    let basis = basis_of(job);
    let mut of_table = job.path.elements.iter().filter(|element| AirPath::is_inside(element, &basis));
    let is_so = |element: &tapcross::model::facts::air_path::Element| {
        element.drop.is_none() && job.set().across(element.id).is_none() && !job.set().parts_out.contains(&element.id)
    };
    let has =
        |kind| job.path.elements.iter().any(|element| element.kind == kind && AirPath::is_inside(element, &basis));
    let all_there = [ElementKind::Filter, ElementKind::Coil, ElementKind::Heater]
        .into_iter()
        .all(|kind| !basis.contains(kind) || has(kind));
    all_there && of_table.all(is_so) && running(job).sum.read_across.inside.is_empty()
}

#[test]
fn the_same_machine_put_in_again_gains_nothing() {
    let mut tried = 0;
    for (number, job, found_so) in all().filter(|(_, job, _)| is_as_tested(job)) {
        let tap = job.tap_in_use().map(str::to_owned);
        let table = job.machine.clone().expect("a machine");
        let copy = Replacement { table, tap, leaves: Vec::new(), coil: None, filter: None, target: None };
        let changed = with(job, [ChangeKind::OtherMachine(Box::new(copy))]);
        let after = after(&changed);
        assert_same(&format!("job {number}"), &of_taps(&after.system.taps), &found_so, 1e-9);
        tried += 1;
    }
    assert!(tried > RUN / 2, "{tried}");
}

/// What is halved and then loaded twice is what it was, on every tap; so is what nothing is taken from.
#[test]
fn opposing_changes_and_changes_of_no_strength_move_nothing() {
    let (mut tried, mut inside) = (0, 0);
    for (number, job, found_so) in all() {
        let mut dice = Dice(number + 9000);
        let elements = job.path.all();
        let id = elements[dice.below(elements.len())].id;
        let filter = job.path.first(ElementKind::Filter).map(|filter| filter.id);
        let share = 0.2 + 0.6 * dice.next();
        let mut kinds = vec![less(id, 0.0)];
        if let Some(element) = filter {
            kinds.push(less(element, share));
            kinds.push(ChangeKind::FilterLoading(FilterLoading { element, factor: 1.0 / (1.0 - share) }));
        }
        let answer = Answer::of(&with(job.clone(), kinds));
        let Some(after) = answer.with_changes() else {
            continue;
        };
        let refused: Vec<u32> = after.refused.iter().map(|(id, _)| id.0).collect();
        // The one without the other is no pair.
        if refused.contains(&2) != refused.contains(&3) {
            continue;
        }
        assert_same(&format!("job {number}"), &of_taps(&after.system.taps), &of_taps(answer.taps()), 1e-9);
        assert_same(&format!("job {number} as found"), &of_taps(answer.taps()), &found_so, 1e-9);
        tried += 1;
        inside += usize::from(refused.is_empty() && filter.is_some_and(|filter| job.is_inside(filter)));
    }
    assert!(tried > RUN && inside > RUN / 6, "{tried}, {inside} with a filter inside");
}

#[test]
fn a_reading_typed_in_pascals_is_the_same_reading() {
    let mut tried = 0;
    for (number, mut job, found_so) in all() {
        for reading in &mut job.sets[0].readings {
            for look in &mut reading.looks {
                let typed = format!("{:.12} Pa", look.pa());
                *look = text::signed_pressure(&typed.replace('-', "−"), UnitSystem::InchPound).expect("a pressure").0;
            }
        }
        assert!(job.set().readings.iter().any(|reading| reading.at != ReadAt::Total || reading.looks.len() == 1));
        assert_same(&format!("job {number}"), &found(&job).expect("it runs"), &found_so, 1e-9);
        tried += 1;
    }
    assert!(tried > RUN, "{tried}");
}
