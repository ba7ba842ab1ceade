//! ± by draws of the whole budget beside the linear ±: the same where curves are nearly straight, another where they bend within it.

use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::Corrections;
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::laws::tap_curve::{TapCurve, TapShape};
use tapcross::model::solution::draws::{Checked, Draws};
use tapcross::model::wording;
use tapcross::units::UnitSystem;

use super::coverage::{FILTER, RETURN, change, in_wc, normal};
use super::standard_air::standard_air;

/// Draws of a figure may scatter so much by chance.
const CHANCE: f64 = 0.03;

fn draws(answer: &Answer) -> Draws {
    answer.draws.expect("it runs")
}

/// The demo furnace at one number across the machine, in the air of its table, which is this very machine's: only the reading errs.
fn at(total: f64) -> Job {
    let mut job = demo::gas_furnace();
    job.sets[0].air = standard_air();
    job.sets[0].readings = vec![Reading { at: ReadAt::Total, looks: vec![in_wc(total)] }];
    let table = job.machine.as_mut().expect("a machine");
    table.basis.density = Some(job.sets[0].air.at_blower(table.kind, job.sets[0].call).density);
    table.corrections = Corrections::default();
    (job.accuracy.table_fraction, job.accuracy.tap_fraction) = (0.0, 0.0);
    job
}

fn curve(answer: &Answer) -> TapCurve {
    match &answer.blower().shapes[3] {
        TapShape::Curve(curve) => (**curve).clone(),
        TapShape::Single(_) | TapShape::Unusable => panic!("a curve"),
    }
}

/// Within this much of what is told lie 95 of 100 worlds of one manometer and the two ends of its hose, read off the curve without the program's own solution.
fn by_hand(answer: &Answer, total: f64) -> f64 {
    let (curve, told) = (curve(answer), answer.point().expect("it runs").now.airflow.cfm());
    let mut random = fastrand::Rng::with_seed(3);
    let standard = (0.01 * total).hypot(0.01 * 2.0_f64.sqrt()) / 3.0_f64.sqrt();
    let mut world = || (curve.value_and_slope(total + standard * normal(&mut random)).0 - told).abs();
    let mut off: Vec<f64> = (0..40_000).map(|_| world()).collect();
    off.sort_by(f64::total_cmp);
    off[off.len() * 95 / 100]
}

#[test]
fn demo_jobs_are_nearly_straight_and_nothing_of_them_changes() {
    let less = |element, fraction| ChangeKind::LessByHand(LessByHand { element, fraction });
    for job in [demo::gas_furnace(), demo::heat_pump()] {
        for kinds in [vec![], vec![less(FILTER, 0.5), less(RETURN, 0.3)]] {
            let mut job = job.clone();
            let is_changed = !kinds.is_empty();
            job.changes = kinds.into_iter().zip(1..).map(|(kind, index)| change(index, kind)).collect();
            let checked = Answer::checked(&job);
            let draws = draws(&checked);
            assert!(!draws.is_told(), "{draws:?}");
            assert_eq!(draws.all().count(), if is_changed { 3 } else { 1 });
            for Checked { linear, drawn, .. } in draws.all() {
                assert!((drawn / linear - 1.0).abs() < 2.0 * CHANCE, "{draws:?}");
            }
            assert_eq!(Answer { draws: None, ..checked }, Answer::of(&job));
        }
    }
}

/// At the first row the curve is level below and falls above; at the last it falls more steeply past it: the step of linear propagation sees one side only.
#[test]
fn where_a_curve_bends_at_the_reading_draws_are_told() {
    for total in [0.1, 1.0] {
        let job = at(total);
        let (linear, checked) = (Answer::of(&job), Answer::checked(&job));
        let now = draws(&checked).now.expect("few are lost");
        assert!(now.differs() && draws(&checked).count == 20_000, "{now:?}");
        let right = by_hand(&checked, total);
        assert!((now.spread.cfm() / right - 1.0).abs() < CHANCE, "{now:?}, by hand {right}");
        let told = |answer: &Answer| answer.point().expect("it runs").system.spreads.now;
        assert_eq!(told(&checked), now.spread);
        assert!((told(&linear).cfm() / right - 1.0).abs() > 0.1, "{linear:?} {right}", linear = told(&linear));
        let runs = checked.point().and_then(|running| running.system.runs()).expect("a point");
        assert_eq!(runs.spread.airflow, now.spread, "every table says the same");
        let said = |answer: &Answer| {
            let sentences =
                answer.findings.iter().map(|finding| wording::sentence(&job, finding, UnitSystem::InchPound));
            sentences.collect::<Vec<_>>().join("\n")
        };
        assert!(said(&checked).contains("± of today's airflow is that of 20,000 draws"), "{}", said(&checked));
        assert!(!said(&linear).contains("draws"));
    }
}

/// Below the first row the curve is level: half of the worlds gain from a level start.
#[test]
fn a_gain_is_told_by_draws_wherever_it_is_told() {
    let mut job = at(0.1);
    job.changes = vec![change(1, ChangeKind::LessByHand(LessByHand { element: FILTER, fraction: 0.2 }))];
    let checked = Answer::checked(&job);
    let gain = draws(&checked).gain.expect("few are lost");
    assert!(gain.differs(), "{gain:?}");
    let after = checked.with_changes().expect("a change");
    let runs = after.system.runs().expect("a point");
    assert_eq!([runs.spread.gain, after.worths[0].spread.expect("a gain")], [gain.spread; 2]);
    let told = checked.findings.last().map(|finding| wording::sentence(&job, finding, UnitSystem::InchPound));
    assert!(told.as_deref().is_some_and(|told| told.starts_with("± of today's airflow and the gain is")), "{told:?}");
}

#[test]
fn the_same_job_has_the_same_draws() {
    let job = at(1.0);
    assert_eq!(Answer::checked(&job), Answer::checked(&job));
}

/// So near the curve's end nobody knows how much air 95 of 100 worlds have.
#[test]
fn where_many_draws_lead_off_the_curve_nothing_is_told_by_them() {
    let mut job = demo::heat_pump();
    job.sets[0].readings = [(RETURN_PORT, -0.6), (SUPPLY_PORT, 0.6)]
        .map(|(port, value)| Reading { at: ReadAt::Port(port), looks: vec![in_wc(value)] })
        .to_vec();
    let checked = Answer::checked(&job);
    let draws = draws(&checked);
    assert!(draws.now.is_none() && draws.lost_fraction() > 0.05 && !draws.is_told(), "{draws:?}");
    assert_eq!(Answer { draws: None, ..checked }, Answer::of(&job));
}
