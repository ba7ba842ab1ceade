//! A wished path: what has to come out, by hand and by its own parts.

use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::verdicts::easier_path::{Present, factor_for, wished};
use tapcross::model::verdicts::needs::Need;
use tapcross::units::{Airflow, Pressure};

fn present(answer: &Answer) -> Present<'_> {
    let running = answer.point().unwrap();
    Present {
        parts: &running.system.parts,
        load: &running.system.load,
        shape: &answer.blower().shapes[answer.blower().in_use.unwrap()],
        start: running.start().unwrap(),
    }
}

#[test]
fn a_factor_of_one_takes_nothing_out_and_runs_where_it_ran() {
    let answer = Answer::of(&demo::heat_pump());
    let same = wished(&present(&answer), 1.0, None);
    let now = answer.point().unwrap().now.airflow;
    assert!((same.crossing.unwrap().airflow / now - 1.0).abs() < 1e-9);
    assert!(same.remove.in_wc().abs() < 1e-12 && same.gain.unwrap().least.cfm().abs() < 1e-6);
}

#[test]
fn half_the_drop_of_a_square_law_path_is_worked_out_by_hand() {
    // One lump through (Q, P): at the target T it drops P·(T/Q)², and half of that has to come out.
    let answer = Answer::of(&demo::heat_pump());
    let now = answer.point().unwrap().now;
    let target = Airflow::from_cfm(1400.0);
    let half = wished(&present(&answer), 0.5, Some(target));
    let by_hand = 0.5 * now.tesp.in_wc() * (1400.0 / now.airflow.cfm()).powi(2);
    assert!((half.remove.in_wc() / by_hand - 1.0).abs() < 1e-9);
    assert!((half.share() - 0.5).abs() < 1e-12);
    assert!(half.crossing.unwrap().airflow > now.airflow);
}

#[test]
fn the_parts_give_together_what_the_path_gives() {
    let answer = Answer::of(&demo::gas_furnace());
    let eased = wished(&present(&answer), 0.7, Some(Airflow::from_cfm(1200.0)));
    let total: Pressure = eased.portions.iter().map(|portion| portion.remove).sum();
    assert!(eased.portions.len() > 1 && (total / eased.remove - 1.0).abs() < 1e-9);
    assert!(eased.portions.iter().all(|portion| portion.alone == (portion.drop >= eased.remove)));
    assert!(eased.portions.iter().any(|portion| portion.before_blower));
}

#[test]
fn the_factor_of_a_need_takes_out_what_the_need_says_and_reaches_the_target() {
    let mut job = demo::heat_pump();
    job.machine.as_mut().unwrap().rated_maximum = None;
    let answer = Answer::of(&job);
    let target = answer.blower().target.unwrap().actual;
    let Some(Need::Ease(ease)) = answer.tap_in_use().unwrap().need else {
        panic!("the demo's tap in use needs an easier path");
    };
    let eased = wished(&present(&answer), factor_for(&ease), Some(target));
    assert!((eased.remove / ease.remove - 1.0).abs() < 1e-9);
    assert!((eased.crossing.unwrap().airflow / target - 1.0).abs() < 1e-9);
}
