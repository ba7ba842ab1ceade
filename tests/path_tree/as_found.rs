//! What was read stays as it was found, whatever is put on, and a change of no strength changes nothing.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementId;
use tapcross::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, MoreFilterArea, OpenRegisters, OtherCoilState, RepairRun,
};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::target::Target;
use tapcross::model::verdicts::needs::Need;
use tapcross::units::Area;

/// Every kind that has a strength, on the furnace, at none.
fn of_no_strength() -> Vec<ChangeKind> {
    let area = Area::from_in2(400.0);
    vec![
        less(GRILLE, 0.0),
        less(RETURN, 0.0),
        less(COIL, 0.0),
        ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 1.0 }),
        ChangeKind::MoreFilterArea(MoreFilterArea { element: FILTER, now: area, then: area }),
        ChangeKind::CleanCoil(CleanCoil { element: COIL, fraction: 0.0 }),
        ChangeKind::OtherCoilState(OtherCoilState { element: COIL, factor: 1.0 }),
        ChangeKind::OpenRegisters(OpenRegisters { element: REGISTERS, now: 8, then: 8, of: 10 }),
        ChangeKind::RepairRun(RepairRun { element: SUPPLY, fraction: 0.0 }),
        ChangeKind::BelowTable(BelowTable { factor: 1.0 }),
    ]
}

/// What is told of every tap as found: airflow, static, what has to come out.
fn found(job: &Job) -> Vec<(f64, f64, f64)> {
    let answer = Answer::of(job);
    let told = |tap: &tapcross::model::verdicts::taps::TapAnswer| {
        let at = tap.reached().map(|point| point.crossing);
        let (airflow, tesp) = at.map_or((0.0, 0.0), |at| (at.airflow.cfm(), at.tesp.in_wc()));
        let remove = match &tap.need {
            Some(Need::Ease(ease)) => ease.remove.in_wc(),
            Some(_) | None => 0.0,
        };
        (airflow, tesp, remove)
    };
    answer.taps().iter().map(told).collect()
}

/// Two ports and nothing else: the square law through each, on every tap, whatever fix lies on the tray.
#[test]
fn what_was_read_does_not_move_when_a_fix_is_put_on() {
    let mut furnace = furnace();
    furnace.target = Some(Target::Airflow(cfm(1300.0)));
    let mut total = furnace.clone();
    total.sets[0].readings.clear();
    read(&mut total, ReadAt::Total, 0.70);
    for job in [furnace, total] {
        let before = found(&job);
        let airflow = running(&job).now.airflow.cfm();
        let square = meet(&curve("B"), law(airflow, 0.70, 2.0));
        assert_near("tap B", before[1].0, square.0, 1e-7);
        let fixes = [
            ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 0.5 }),
            ChangeKind::ByData(ByData { element: COIL, data: data(1000.0, 0.15, 1.8) }),
            less(SUPPLY, 0.3),
        ];
        for fixes in [&fixes[..1], &fixes[1..2], &fixes[2..], &fixes[..]] {
            for (one, other) in found(&with(job.clone(), fixes.to_vec())).iter().zip(&before) {
                assert_near("airflow", one.0, other.0, 1e-11);
                assert_near("static", one.1, other.1, 1e-11);
                assert_near("what has to come out", one.2, other.2, 1e-11);
            }
        }
    }
}

/// Grille, duct and filter weigh 1, 2 and 2: the filter has two fifths of a stretch's 0.30, and takes them by the stretch's own law; more media works by the filter's own.
#[test]
fn a_fix_changes_its_parts_share_of_the_stretch() {
    let job = furnace();
    let airflow = running(&job).now.airflow.cfm();
    let area = Area::from_in2;
    let loaded = ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 2.0 });
    let more = ChangeKind::MoreFilterArea(MoreFilterArea { element: FILTER, now: area(400.0), then: area(500.0) });
    for (kind, factor) in [(loaded, 2.0), (more, 0.8_f64.powf(1.0 / 0.85))] {
        let right = meet(&curve("A"), law(airflow, 0.58 + 0.12 * factor, 2.0));
        assert_near("airflow", point_after(&with(job.clone(), [kind])).0, right.0, 1e-7);
    }
}

/// On the table and off it, on every tap.
#[test]
fn a_change_of_no_strength_changes_nothing() {
    for static_read in [0.70, curve("A").last().0.in_wc() * 1.1] {
        let mut job = furnace();
        job.sets[0].readings.clear();
        read(&mut job, ReadAt::Total, static_read);
        let before = found(&job);
        for kind in of_no_strength() {
            let name = kind.declaration().name;
            let changed = with(job.clone(), [kind]);
            let answer = Answer::of(&changed);
            let after = answer.with_changes().expect("an after");
            assert!(after.refused.is_empty(), "{name}: {:?}", after.refused);
            for (tap, before) in after.system.taps.iter().zip(&before) {
                let at = tap.reached().map(|point| point.crossing);
                let (airflow, tesp) = at.map_or((0.0, 0.0), |at| (at.airflow.cfm(), at.tesp.in_wc()));
                assert_near(name, airflow, before.0, 1e-11);
                assert_near(name, tesp, before.1, 1e-11);
            }
            let worth = after.worths[0].gain.as_ref().expect("a gain");
            assert!(worth.least.cfm().abs() < 1e-9 && worth.most.is_none(), "{name} at {static_read}: {worth:?}");
            let own = after.system.runs().expect("its own tap");
            assert!(own.gain.least.cfm().abs() < 1e-9 && own.gain.most.is_none(), "{name}: {:?}", own.gain);
        }
    }
}

/// Twice a half is no change either: what opposes each other comes to nothing.
#[test]
fn opposing_changes_come_to_nothing() {
    let job = furnace();
    let pair = [
        less(FILTER, 0.5),
        ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 2.0 }),
        less(ElementId(2), 0.0),
    ];
    let before = found(&job);
    let answer = Answer::of(&with(job, pair));
    let after = answer.with_changes().expect("an after");
    for (tap, before) in after.system.taps.iter().zip(&before) {
        assert_near("airflow", tap.reached().expect("a crossing").crossing.airflow.cfm(), before.0, 1e-11);
    }
}
