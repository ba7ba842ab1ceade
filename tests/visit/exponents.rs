//! Exponents that sets on taps far apart tell, and those that they do not.

use tapcross::model::answer::Answer;
use tapcross::model::facts::accuracy::{Accuracy, COVERAGE};
use tapcross::model::facts::readings::ReadingSet;
use tapcross::model::path::parts::{ToldExponent, part_of};
use tapcross::model::solution::fit::{Fit, FittedDrop};
use tapcross::model::wording::visit;
use tapcross::units::UnitSystem;

use super::coverage::{normal, within};
use super::house::{FILTER, assert_near, curve_in, running};
use super::truth::{Errors, Truth, job_of, machine};

/// A house with a filter that is nearly shut, of an exponent that no filter usually has (1.18); what no set tells apart lies in the proportion of its usual weights.
fn house(exponent: f64) -> Truth {
    let mut house = Truth::of([0.05, 0.10, 0.36, 0.12, 0.12, 0.08]);
    house.parts[2].2 = exponent;
    house
}

fn filter(fit: &Fit) -> &FittedDrop {
    fit.drops.iter().find(|fitted| fitted.elements == [FILTER]).expect("told apart")
}

/// With the filter and without, on two taps.
fn four_sets(house: &Truth, taps: [&str; 2]) -> Vec<ReadingSet> {
    let read = |tap: &str, out: &[_]| house.read(out, tap, Errors::default(), [0.0; 2]);
    taps.iter().flat_map(|tap| [read(tap, &[]), read(tap, &[FILTER])]).collect()
}

/// Readings as good as exact tell the law that made them, and the path goes by it.
#[test]
fn sets_on_taps_far_apart_tell_the_exponent_that_made_them() {
    let house = house(1.36);
    let mut job = job_of(four_sets(&house, ["high", "low"]));
    let fine = 0.02;
    job.accuracy = Accuracy {
        manometer_fraction: fine,
        port_offset: job.accuracy.port_offset * fine,
        reading_scatter: job.accuracy.reading_scatter * fine,
        manometer_floor: job.accuracy.manometer_floor * fine,
        tap_fraction: fine,
        ..job.accuracy
    };
    let answer = Answer::of(&job);
    let fit = answer.visit.as_ref().and_then(|visit| visit.fit.as_ref()).expect("a fit");
    assert!(fit.holds(), "{} of {}", fit.chi_squared, fit.freedom);
    let told = filter(fit).exponent.expect("an exponent");
    assert!((told.value - 1.36).abs() < told.doubt && told.doubt < 0.02, "{told:?}");
    let flow = house.airflow(&curve_in(&machine("high"), "high"), &[]);
    assert_near("drop", filter(fit).drop.in_wc(), house.drop_of(FILTER, flow), 2e-3);
    // The part's law is the one that is told: at two thirds of the airflow it drops what the house's filter does.
    let running = running(&job);
    let part = part_of(&running.system.parts, FILTER).expect("a part of its own");
    let low = running.now.airflow * (2.0 / 3.0);
    assert_near("at two thirds", part.drop_at(low).in_wc(), house.drop_of(FILTER, low.cfm()), 3e-3);
    // The usual exponent would be off by 7 % there.
    assert!((part.drop_at(low) / part.drop_at(running.now.airflow)).ln() / (2.0_f64 / 3.0).ln() > 1.3);
    let said = visit::together(&job, &answer, UnitSystem::InchPound).concat();
    assert!(said.contains(", as airflow to the 1.4 ± 0.1"), "{said}");
}

/// On taps that move almost the same nothing is told of an exponent, however good the readings, nor where they are too coarse.
#[test]
fn what_readings_cannot_tell_stays_usual() {
    let near = Answer::of(&job_of(four_sets(&house(1.55), ["A", "B"])));
    let mut coarse = job_of(four_sets(&house(1.55), ["high", "low"]));
    coarse.accuracy.reading_scatter = coarse.accuracy.reading_scatter * 10.0;
    for answer in [near, Answer::of(&coarse)] {
        let fit = answer.visit.and_then(|visit| visit.fit).expect("a fit");
        assert!(fit.drops.iter().all(|fitted| fitted.exponent.is_none()), "{:?}", fit.drops);
        assert!(answer.separated.iter().all(|told| told.exponent.is_none()));
    }
    // What is assumed to be exact is not asked of the readings.
    let mut sure = job_of(four_sets(&house(1.55), ["high", "low"]));
    sure.accuracy.exponent = 0.0;
    let fit = Answer::of(&sure).visit.and_then(|visit| visit.fit).expect("a fit");
    assert!(fit.drops.iter().all(|fitted| fitted.exponent.is_none()), "{:?}", fit.drops);
}

/// The order of the sets, and which is judged, tells no other exponent.
#[test]
fn the_order_of_the_sets_tells_no_other_exponent() {
    let exponent = |sets: Vec<ReadingSet>| {
        filter(&Answer::of(&job_of(sets)).visit.and_then(|visit| visit.fit).expect("a fit")).exponent.expect("told")
    };
    let sets = four_sets(&house(1.4), ["high", "low"]);
    let [one, two, three, four] = [0, 1, 2, 3].map(|index| sets[index].clone());
    let (forward, back) = (exponent(sets), exponent(vec![two, four, three, one]));
    assert_near("exponent", forward.value, back.value, 2e-3);
    assert_near("doubt", forward.doubt, back.doubt, 2e-2);
}

/// Visits with every error in them, exponents among those: ± of the exponent, of the drop, and of what the filter takes at two thirds of the airflow, hold the truth in nineteen of twenty.
#[test]
fn nineteen_in_twenty_intervals_hold_the_exponent() {
    let mut random = fastrand::Rng::with_seed(17);
    let (mut held, mut told) = ([0_u32; 3], 0_u32);
    for _ in 0..1000 {
        let errors = Errors { gain: within(&mut random, 0.01), ports: [0; 2].map(|_| within(&mut random, 0.01)) };
        let own = [0; 2].map(|_| 0.01 * normal(&mut random));
        let mut house = house(1.0 / 0.85);
        for part in &mut house.parts {
            part.2 += 0.1 * normal(&mut random);
        }
        let mut read = |tap: usize, out: &[_]| {
            let scatter = [0; 2].map(|_| within(&mut random, 0.005) + within(&mut random, 0.0008));
            Truth { of_table: 1.0 + own[tap], ..house }.read(out, ["high", "low"][tap], errors, scatter)
        };
        let sets = vec![read(0, &[]), read(0, &[FILTER]), read(1, &[]), read(1, &[FILTER])];
        let fit = Answer::of(&job_of(sets)).visit.and_then(|visit| visit.fit).expect("a fit");
        let fitted = filter(&fit);
        let Some(ToldExponent { value, doubt, with_drop }) = fitted.exponent else { continue };
        told += 1;
        let flow = Truth { of_table: 1.0 + own[0], ..house }.airflow(&curve_in(&machine("high"), "high"), &[]);
        let low = flow * 2.0 / 3.0;
        held[0] += u32::from((value - house.parts[2].2).abs() <= COVERAGE * doubt);
        let (drop, spread) = (fitted.drop.in_wc(), fitted.spread.in_wc() / COVERAGE);
        held[1] += u32::from((drop - house.drop_of(FILTER, flow)).abs() <= COVERAGE * spread);
        let ratio = (2.0_f64 / 3.0).ln();
        let by_both = spread.hypot(drop * ratio * doubt).powi(2) + 2.0 * drop * ratio * with_drop.in_wc();
        let at_low = drop * (2.0_f64 / 3.0).powf(value);
        let off = (at_low - house.drop_of(FILTER, low)).abs();
        held[2] += u32::from(off <= COVERAGE * by_both.sqrt() * (2.0_f64 / 3.0).powf(value));
    }
    assert!(told > 900, "{told}");
    let share = held.map(|held| f64::from(held) / f64::from(told));
    assert!(share.iter().all(|share| (0.93..=0.975).contains(share)), "{share:?} of {told}");
}
