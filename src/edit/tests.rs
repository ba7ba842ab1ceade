//! That a change leaves the job sound, and what cannot be leaves it as it was.

use super::*;
use crate::model::facts::air_path::RETURN_PORT;
use crate::model::facts::air_path::SUPPLY_PORT;
use crate::model::facts::blower::EquipmentKind;
use crate::units::Capacity;

fn with_machine() -> Job {
    let mut job = Job::default();
    let table = BlowerTable {
        name: "invented".to_owned(),
        kind: EquipmentKind::Furnace,
        cooling: Some(Capacity::from_tons(3.0)),
        ..BlowerTable::default()
    };
    apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
    job
}

#[test]
fn choosing_a_machine_lays_the_path_and_a_target() {
    let job = with_machine();
    assert_eq!(job.path.ports.len(), 2);
    assert_eq!(job.target, Some(Target::PerTon { capacity: Capacity::from_tons(3.0), per_ton: NOMINAL_PER_TON }));
}

#[test]
fn another_machine_brings_its_own_nominal_target_but_not_over_a_typed_one() {
    let mut job = with_machine();
    let larger =
        BlowerTable { name: "larger".to_owned(), cooling: Some(Capacity::from_tons(4.0)), ..BlowerTable::default() };
    apply(&mut job, Edit::Machine(Box::new(larger.clone()))).unwrap();
    let four = Target::PerTon { capacity: Capacity::from_tons(4.0), per_ton: NOMINAL_PER_TON };
    assert_eq!(job.target, Some(four));
    let mut typed = with_machine();
    let by_hand = Target::Airflow(Airflow::from_cfm(1100.0));
    apply(&mut typed, Edit::Target(Some(by_hand))).unwrap();
    apply(&mut typed, Edit::Machine(Box::new(larger))).unwrap();
    assert_eq!(typed.target, Some(by_hand));
}

#[test]
fn a_target_stays_with_the_outdoor_unit_and_beside_a_table_without_a_size() {
    let three = Target::PerTon { capacity: Capacity::from_tons(3.0), per_ton: NOMINAL_PER_TON };
    let table = |cooling: Option<f64>| {
        let cooling = cooling.map(Capacity::from_tons);
        Box::new(BlowerTable { name: "another".to_owned(), cooling, ..BlowerTable::default() })
    };
    let mut job = with_machine();
    apply(&mut job, Edit::Machine(table(None))).unwrap();
    assert_eq!(job.target, Some(three), "a table that says no size takes no target away");
    let mut job = with_machine();
    job.outdoor_unit = Some(Capacity::from_tons(3.0));
    apply(&mut job, Edit::Machine(table(Some(4.0)))).unwrap();
    assert_eq!(job.target, Some(three), "three tons stand outside, whatever blower is inside");
}

#[test]
fn what_cannot_be_leaves_the_job_as_it_was() {
    let job = with_machine();
    let refused = [
        (Edit::Number(JobNumber::Humidity, Some(1.4)), "140 %"),
        (Edit::Number(JobNumber::Altitude, Some(40_000.0)), "40,000 ft"),
        (Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-12.0)]), "12.00 in. w.c."),
        (Edit::Target(Some(Target::Airflow(Airflow::ZERO))), "target of 0 cfm"),
        (Edit::Number(JobNumber::ReturnLength, Some(0.0)), "A return length of 0 ft cannot be"),
        (Edit::Number(JobNumber::SupplyLength, Some(2000.5)), "A supply length of 2,000.5 ft cannot be"),
        (Edit::Number(JobNumber::DesignStatic, Some(0.04)), "between 0.05 and 5 in. w.c."),
        (Edit::Number(JobNumber::DesignStatic, Some(50.0)), "A design static of 50.00 in. w.c. cannot be"),
        (Edit::Tap(Some("9".to_owned())), "no tap \"9\""),
        (Edit::MovePort(SUPPLY_PORT, ElementId(1)), "own side"),
    ];
    for (edit, fragment) in refused {
        let mut changed = job.clone();
        let message = apply(&mut changed, edit).unwrap_err().to_string();
        assert!(message.contains(fragment), "{message}");
        assert_eq!(changed, job);
    }
}

#[test]
fn a_new_reading_takes_back_the_word_about_its_sign() {
    let mut job = with_machine();
    apply(&mut job, Edit::ConfirmSigns).unwrap();
    let at = ReadAt::Port(RETURN_PORT);
    apply(&mut job, Edit::Reading(at, vec![Pressure::from_in_wc(0.1)])).unwrap();
    assert!(!job.set().signs_confirmed);
    apply(&mut job, Edit::Reading(at, Vec::new())).unwrap();
    assert!(job.set().readings.is_empty());
}
