//! Whatever the path, the reading's own tap with nothing changed gives back the reading, flows add up and ways drop alike.

use super::edits::{Dice, any_edit};
use super::house::*;
use tapcross::edit::{self, Edit};
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementId;
use tapcross::model::facts::blower::{Basis, BlowerTable, Call, CoilInTest, EquipmentKind, PartInTest};
use tapcross::model::facts::change::{ChangeKind, OtherTap};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt};
use tapcross::model::path::parts::{Part, flows};
use tapcross::model::verdicts::system::{NotRunning, Running};
use tapcross::model::wording::problems;
use tapcross::units::UnitSystem;

/// Jobs that are tried.
const JOBS: u64 = 500;

/// A job of any kind of machine with a path edited at random, read at every port in falling order, now and then across a part.
pub(crate) fn job_of(number: u64) -> Job {
    let mut dice = Dice(number);
    dice.bits();
    let kind = EquipmentKind::ALL[dice.below(4)];
    let basis = match dice.below(3) {
        0 => Basis::default(),
        1 => Basis { filter: PartInTest::Included, ..Basis::default() },
        _ => Basis {
            filter: PartInTest::Included,
            coil: CoilInTest::Dry,
            heater: PartInTest::Included,
            ..Basis::default()
        },
    };
    let mut table = BlowerTable { kind, basis, ..furnace_table() };
    table.corrections.wet_coil = Some(data(1100.0, 0.06, 1.8));
    table.corrections.filter_as_tested = Some(data(1100.0, 0.10, 1.2));
    if number.is_multiple_of(2) {
        table.corrections.heater = Some(data(1100.0, 0.05, 2.0));
    }
    let mut job = job_for(table);
    if dice.below(4) == 0 {
        job.sets[0].coil = CoilState::Wet;
    }
    for _ in 0..dice.below(16) {
        let edit = any_edit(&mut dice, &job.path);
        let _ = edit::apply(&mut job, edit);
    }
    // The rooms are nothing, each port reads less than the one before it, and the blower lifts it.
    let blower = job.path.blower().expect("a blower");
    let ports: Vec<_> =
        job.path.ports.iter().map(|port| (port.id, job.path.holder_of(port.after).expect("a place"))).collect();
    let (before, after): (Vec<_>, Vec<_>) = ports.into_iter().partition(|(_, at)| *at < blower);
    let mut pressure = 0.0;
    for (port, _) in before {
        pressure -= 0.02 + 0.2 * dice.next();
        read(&mut job, ReadAt::Port(port), pressure);
    }
    pressure = 0.0;
    for (port, _) in after.into_iter().rev() {
        pressure += 0.02 + 0.2 * dice.next();
        read(&mut job, ReadAt::Port(port), pressure);
    }
    let ids: Vec<ElementId> = job.path.all().iter().map(|element| element.id).collect();
    for id in ids {
        let drop = 0.005 + 0.05 * dice.next();
        match dice.below(9) {
            0 => read(&mut job, ReadAt::Across(id), drop),
            1 => element(&mut job, id).drop = Some(data(1000.0, drop, 1.0 + dice.next())),
            _ => {}
        }
    }
    if dice.below(3) == 0 {
        job.sets[0].readings.retain(|reading| !matches!(reading.at, ReadAt::Port(_)));
        read(&mut job, ReadAt::Total, 0.3 + 0.4 * dice.next());
    }
    if dice.below(4) == 0 {
        job.sets[0].call = Call::HeatingHigh;
        job.sets[0].coil = CoilState::Dry;
    }
    job
}

fn ways_agree(part: &Part, airflow: f64, told: &str) {
    if part.ways.is_empty() {
        return;
    }
    let drop = part.drop_at(cfm(airflow)).in_wc();
    let ways = flows::of_ways(part, cfm(airflow));
    let sum: f64 = ways.iter().map(|flow| flow.cfm()).sum();
    assert_near("flows add up", sum, airflow, 1e-9);
    for (way, flow) in part.ways.iter().zip(ways) {
        // Behind the blower of a call that heats the group carries warm air as a whole.
        let own: f64 = way.iter().map(|within| within.drop_at(flow).in_wc()).sum();
        let own = own * part.warm_factor(cfm(airflow));
        assert!((own - drop).abs() <= 1e-8 * drop.abs().max(1e-6), "a way drops {own}, its group {drop}: {told}");
        for within in way {
            ways_agree(within, flow.cfm(), told);
        }
    }
}

fn holds(job: &Job, found: &Running, told: &str) {
    let answer = Answer::of(job);
    let now = found.now;
    let own = answer.tap_in_use().and_then(|tap| tap.reached()).unwrap_or_else(|| panic!("no own tap: {told}"));
    let near = |what: &str, value: f64, right: f64| {
        assert!((value - right).abs() <= 1e-9 * right.abs().max(1.0), "{what}: {value}, not {right}: {told}");
    };
    near("airflow", own.crossing.airflow.cfm(), now.airflow.cfm());
    near("TESP", own.crossing.tesp.in_wc(), now.tesp.in_wc());
    near("entry", own.crossing.entry.in_wc(), now.entry.in_wc());
    near("the parts", flows::total(&found.system.parts, now.airflow).in_wc(), now.tesp.in_wc());
    let delivered = found.delivered();
    near(
        "to the rooms and past them",
        delivered.bypassed.cfm(),
        now.airflow.cfm() * job.path.bypass.as_ref().map_or(0.0, |bypass| bypass.flow),
    );
    assert!(
        delivered.to_rooms <= delivered.blower * (1.0 + 1e-12)
            && delivered.from_rooms <= delivered.blower * (1.0 + 1e-12),
        "{delivered:?}: {told}"
    );
    for part in &found.system.parts {
        for factor in [0.3, 1.0, 1.6] {
            ways_agree(part, part.flow.cfm() * factor, told);
        }
    }
    for passing in flows::passing(&found.system.parts, now.airflow) {
        near("flow as read", passing.airflow.cfm(), passing.part.flow.cfm());
    }
}

#[test]
fn the_own_tap_gives_back_the_reading_on_any_path() {
    let (mut run, mut with_ways, mut with_leaks, mut with_bypass, mut across, mut refused) = (0, 0, 0, 0, 0, 0);
    for number in 0..JOBS {
        let job = job_of(number);
        let answer = Answer::of(&job);
        let told = format!("job {number}: {:#?}\n{:#?}", job.path, job.set().readings);
        match answer.found.as_deref().map_err(|idle| &idle.why) {
            Ok(found) => {
                run += 1;
                holds(&job, found, &told);
                with_ways += usize::from(found.system.parts.iter().any(|part| !part.ways.is_empty()));
                with_leaks += usize::from(found.delivered().to_rooms < found.delivered().blower * 0.999);
                with_bypass += usize::from(job.path.bypass.is_some());
                across += usize::from(job.set().readings.iter().any(|reading| matches!(reading.at, ReadAt::Across(_))));
                // A change that does nothing changes nothing, though it splits what it takes hold of.
                let ids: Vec<ElementId> = job.path.elements.iter().map(|element| element.id).collect();
                let idle = with(job.clone(), ids.iter().map(|id| less(*id, 0.0)));
                let answer = Answer::of(&idle);
                match answer.found.as_deref().map_err(|idle| &idle.why) {
                    Ok(split) => {
                        holds(&idle, split, &told);
                        let point = answer
                            .with_changes()
                            .and_then(|after| after.system.point().copied())
                            .unwrap_or_else(|| panic!("no after: {told}"));
                        assert_near("unchanged", point.airflow.cfm(), found.now.airflow.cfm(), 1e-9);
                    }
                    Err(NotRunning::Shares(_)) => {}
                    Err(other) => panic!("{other:?}: {told}"),
                }
            }
            Err(NotRunning::Shares(why)) => {
                let sentence = why.to_string();
                refused += 1;
                assert!(sentence.len() > 20, "{sentence}");
            }
            Err(NotRunning::NoRise(_) | NotRunning::PastTheEnd { .. }) => {}
            // A bypass that was sound until a part was put between it and the machine.
            Err(NotRunning::Unsound) => {
                assert!(
                    answer
                        .problems
                        .iter()
                        .any(|problem| problems::sentence(&problem.what, UnitSystem::InchPound).contains("bypass")),
                    "{told}"
                );
            }
            Err(other) => panic!("{other:?}: {told}"),
        }
    }
    assert!(
        run > 300 && with_ways > 60 && with_leaks > 20 && with_bypass > 10 && across > 80 && refused > 5,
        "{run} run, {with_ways} with ways, {with_leaks} with leaks, {with_bypass} with a bypass, {across} read across, {refused} refused"
    );
}

/// Moving where it is read by the tree's own edits moves no answer that rests on the chain's ports alone.
#[test]
fn a_way_beside_alike_in_every_respect_moves_no_number_of_today() {
    let first = furnace();
    let today = running(&first).now;
    let mut job = first;
    edit::apply(&mut job, Edit::LayBeside(SUPPLY, REGISTERS)).expect("a zone");
    edit::apply(&mut job, Edit::AddLeak(COIL, 0.1)).expect("a leak");
    assert_eq!(running(&job).now, today);
    let half = with(job, [ChangeKind::OtherTap(OtherTap { tap: "B".to_owned() })]);
    assert!(after(&half).system.point().is_some());
}
