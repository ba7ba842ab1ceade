//! Pressure that rises along the flow where it should fall.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_check::Field;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::severity::Severity;
use tapcross::model::verdicts::system::Running;
use tapcross::model::wording::problems;
use tapcross::units::UnitSystem;

fn questions(job: &Job) -> Vec<String> {
    let path = |problem: &&tapcross::model::facts::job_check::Problem| {
        problem.field == Field::Path && problem.severity == Severity::Question
    };
    Answer::of(job)
        .problems
        .iter()
        .filter(path)
        .map(|problem| problems::sentence(&problem.what, UnitSystem::InchPound))
        .collect()
}

/// Nothing negative, and the parts still add up to the static that was read.
fn adds_up(job: &Job) -> Running {
    let found = running(job);
    let passing = tapcross::model::path::parts::flows::passing(&found.system.parts, found.now.airflow);
    for one in &passing {
        assert!(one.drop.in_wc() >= 0.0, "{:?} drops {:?}", one.part.elements, one.drop);
    }
    let total = tapcross::model::path::parts::flows::total(&found.system.parts, found.now.airflow);
    assert_near("adds up", total.in_wc(), found.now.tesp.in_wc(), 1e-9);
    let own = Answer::of(job).taps()[0].reached().expect("its own tap").crossing;
    assert_near("comes back", own.airflow.cfm(), found.now.airflow.cfm(), 1e-9);
    found
}

#[test]
fn a_port_where_pressure_rises_is_asked_about_and_its_stretches_are_one() {
    let mut job = furnace();
    read_after(&mut job, GRILLE, -0.20);
    read_after(&mut job, ElementId(2), -0.17);
    let found = adds_up(&job);
    assert_near("TESP", found.now.tesp.in_wc(), 0.70, 1e-9);
    assert_eq!(
        questions(&job),
        [
            "Static rises by 0.03 in. w.c. along the flow from the port after the return grille to the port after the return duct: a widening duct or the two readings may explain it. What lies about it is taken as one stretch"
        ]
    );
    read(&mut job, ReadAt::Port(tapcross::model::facts::air_path::PortId(4)), -0.05);
    assert!(
        questions(&job)[0].contains("no widening explains that; is a sign, a hose or the place of a port wrong?"),
        "{:?}",
        questions(&job)
    );
    adds_up(&job);
}

#[test]
fn the_other_side_keeps_its_split() {
    let mut job = furnace();
    read_after(&mut job, GRILLE, -0.40);
    read_after(&mut job, COIL, 0.22);
    let found = adds_up(&job);
    assert_eq!(questions(&job).len(), 1);
    assert_near("the coil", at_element(&found, COIL).1, 0.18, 1e-9);
}

#[test]
fn a_return_under_pressure_that_is_meant_takes_the_whole_path_as_one() {
    let mut job = furnace();
    read(&mut job, ReadAt::Port(RETURN_PORT), 0.05);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.60);
    job.sets[0].signs_confirmed = true;
    let found = adds_up(&job);
    assert_near("TESP", found.now.tesp.in_wc(), 0.55, 1e-9);
    assert!(
        questions(&job)[0]
            .starts_with("Static rises by 0.05 in. w.c. along the flow from the rooms to the port after the filter"),
        "{:?}",
        questions(&job)
    );
}

#[test]
fn what_falls_asks_nothing() {
    let mut job = furnace();
    read_after(&mut job, GRILLE, -0.05);
    read_after(&mut job, ElementId(2), -0.17);
    read_after(&mut job, COIL, 0.22);
    assert_eq!(questions(&job), [] as [String; 0]);
    let found = adds_up(&job);
    assert_near("duct", at_element(&found, ElementId(2)).1, 0.12, 1e-9);
}

/// A port within a way that reads what cannot be between the ends of the ways parts nothing, and is asked about.
#[test]
fn a_port_within_a_way_outside_what_the_ways_leave_is_asked_about() {
    for (value, part) in
        [(-0.25, "0.07 in. w.c. lower than behind the ways"), (0.02, "0.02 in. w.c. higher than before them")]
    {
        let mut job = furnace();
        let group = job.path.lay_beside(GRILLE, ElementId(2)).expect("a second return");
        read_after(&mut job, group, -0.18);
        element(&mut job, group).ways.iter_mut().for_each(|way| way.flow = Some(0.5));
        let other = job.path.element(group).expect("the group").ways[1].elements[0].id;
        read_after(&mut job, other, value);
        let found = adds_up(&job);
        assert_near("nothing is parted by it", at_element(&found, other).1, 0.06, 1e-9);
        let asked = questions(&job);
        assert_eq!(asked.len(), 1, "{asked:?}");
        assert!(asked[0].contains(part), "{asked:?}");
    }
}

/// A port at the end of a way stands where the ways join: it parts nothing and nothing breaks.
#[test]
fn a_port_at_the_end_of_a_way_leaves_the_rest_working() {
    let mut job = furnace();
    let group = job.path.lay_beside(GRILLE, ElementId(2)).expect("a second return");
    let end = job.path.element(group).expect("the group").ways[1].elements[1].id;
    read_after(&mut job, group, -0.18);
    read_after(&mut job, end, -0.17);
    let found = adds_up(&job);
    assert_near("TESP is the chain's", found.now.tesp.in_wc(), 0.70, 1e-9);
    assert_near("the way as before", at_element(&found, end).1, 0.12, 1e-9);
}

/// A third port between the two that the machine is read across, with two parts on one side of it and two on the other, says nothing that is used, and that is said.
#[test]
fn a_port_within_the_machine_is_told_to_part_nothing() {
    use tapcross::model::facts::blower::{Basis, CoilInTest, EquipmentKind, PartInTest};
    let basis =
        Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() };
    let mut job = torque(EquipmentKind::DrawThroughAirHandler, basis);
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.20);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.25);
    let coil = job.path.first(ElementKind::Coil).expect("a coil").id;
    let alone = running(&job).now;
    assert_eq!(questions(&job), [] as [String; 0]);
    read_after(&mut job, coil, -0.42);
    assert_eq!(
        questions(&job),
        [
            "The port after the coil, which reads −0.42, stands between the two ports that the machine is read across; nothing is worked out from it"
        ]
    );
    assert_eq!(running(&job).now, alone);
}
