//! Data that ask for more, or less, than was read over them.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, RETURN_PORT};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_check::Field;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::path::parts::{flows, part_of};
use tapcross::model::verdicts::system::NotRunning;
use tapcross::model::wording::{self, problems};
use tapcross::units::UnitSystem;

fn questions(job: &Job) -> Vec<String> {
    let of_path = Answer::of(job).problems.into_iter().filter(|problem| problem.field == Field::Path);
    of_path.map(|problem| problems::sentence(&problem.what, UnitSystem::InchPound)).collect()
}

/// Read at 0.18 before the blower with a filter by data, which takes `drop` at the airflow of the readings.
fn house(drop: f64) -> Job {
    let mut job = furnace();
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.18);
    let airflow = curve("A").value_and_slope(0.58).0;
    element(&mut job, FILTER).drop = Some(data(airflow, drop, 1.2));
    job
}

#[test]
fn data_over_the_reading_are_asked_about_and_what_was_read_counts() {
    let job = house(0.24);
    let asked = questions(&job);
    assert_eq!(asked.len(), 1, "{asked:?}");
    assert!(
        asked[0].starts_with("Filter: 0.24 in. w.c. by data at ") && asked[0].contains("but 0.18 was read"),
        "{asked:?}"
    );
    let found = running(&job);
    let airflow = found.now.airflow;
    assert_near("adds up", flows::total(&found.system.parts, airflow).in_wc(), 0.58, SAME);
    assert_near("the filter", at_element(&found, FILTER).1, 0.18, SAME);
    let own = Answer::of(&job).taps()[0].reached().expect("its own tap").crossing;
    assert_near("comes back", own.airflow.cfm(), airflow.cfm(), 1e-9);
    // The supply side keeps what was read there.
    let supply: f64 =
        found.system.parts.iter().filter(|part| !part.before_blower).map(|part| part.drop_at(airflow).in_wc()).sum();
    assert_near("the supply", supply, 0.40, SAME);
}

/// Just under the reading and just over it the projected airflow is the same: nothing jumps.
#[test]
fn nothing_jumps_where_the_contradiction_begins() {
    let eased = |drop| point_after(&with(house(drop), [less(REGISTERS, 0.5)])).0;
    assert_near("airflow", eased(0.180_001), eased(0.179_999), 1e-4);
    assert!(questions(&house(0.17)).is_empty());
}

/// A filter alone between two ports is what was read there; its data only give the exponent.
#[test]
fn a_part_alone_between_two_ports_is_what_was_read() {
    for (by_data, is_asked) in [(0.125, false), (0.118, false), (0.20, true), (0.05, true)] {
        let mut job = furnace();
        read_after(&mut job, ElementId(2), -0.18);
        let airflow = running(&job).now.airflow.cfm();
        element(&mut job, FILTER).drop = Some(data(airflow, by_data, 1.7));
        let found = running(&job);
        assert_near("the filter", at_element(&found, FILTER).1, 0.12, SAME);
        let twice = part_of(&found.system.parts, FILTER).expect("the filter").drop_at(found.now.airflow * 2.0).in_wc();
        assert_near("by its exponent", twice, 0.12 * 2.0_f64.powf(1.7), SAME);
        assert_eq!(!questions(&job).is_empty(), is_asked, "{by_data}: {:?}", questions(&job));
    }
}

#[test]
fn data_over_a_single_total_are_asked_about_too() {
    let mut job = house(0.90);
    job.sets[0].readings.clear();
    read(&mut job, ReadAt::Total, 0.58);
    assert!(questions(&job)[0].contains("but 0.58 was read"), "{:?}", questions(&job));
    let found = running(&job);
    assert_near("adds up", flows::total(&found.system.parts, found.now.airflow).in_wc(), 0.58, SAME);
}

/// A filter inside the rating that takes more than its port reads leaves less than nothing for grille and duct.
#[test]
fn a_part_inside_the_rating_over_its_reading_is_asked_about() {
    let mut job = furnace();
    let airflow = running(&job).now.airflow.cfm();
    let table = job.machine.as_mut().expect("a machine");
    table.basis.filter = tapcross::model::facts::blower::PartInTest::Included;
    table.corrections.filter_as_tested = Some(data(airflow, 0.36, 1.2));
    let asked = questions(&job);
    assert!(
        asked.iter().any(|said| said.starts_with("Filter: 0.43 in. w.c. by data at") && said.contains("0.30 was read")),
        "{asked:?}"
    );
    let found = running(&job);
    assert_near("adds up", flows::total(&found.system.parts, found.now.airflow).in_wc(), found.now.tesp.in_wc(), SAME);
}

/// Read across it 0.20, by the ports about it 0.12: two readings, and no data, disagree.
#[test]
fn a_drop_read_across_a_part_that_disagrees_with_its_stretch_is_said_as_a_reading() {
    let mut job = furnace();
    read_after(&mut job, ElementId(2), -0.18);
    read(&mut job, ReadAt::Across(FILTER), 0.20);
    let asked = asked(&job);
    assert!(
        asked
            .iter()
            .any(|said| said.starts_with("Filter: 0.20 in. w.c. read across it, but 0.12 was read over the stretch")),
        "{asked:?}"
    );
    read(&mut job, ReadAt::Across(FILTER), 0.13);
    assert!(questions(&job).is_empty(), "within what two places may be off: {:?}", questions(&job));
    // Among others it cannot take more than all of them.
    let mut job = furnace();
    read(&mut job, ReadAt::Across(FILTER), 0.31);
    let asked = questions(&job);
    assert!(asked[0].starts_with("Filter: 0.31 in. w.c. read across it, but 0.30 was read"), "{asked:?}");
}

/// An inside filter between two ports that read 0.15 over it, and 0.25 across it.
#[test]
fn a_drop_read_across_an_inside_part_that_disagrees_with_its_ports_is_said() {
    let mut job = furnace();
    let table = job.machine.as_mut().expect("a machine");
    table.basis.filter = tapcross::model::facts::blower::PartInTest::Included;
    table.corrections.filter_as_tested = Some(data(1000.0, 0.10, 1.2));
    read_after(&mut job, ElementId(2), -0.15);
    read(&mut job, ReadAt::Across(FILTER), 0.25);
    let asked = questions(&job);
    assert!(
        asked.iter().any(|said| said.starts_with("Filter: 0.25 in. w.c. read across it, but 0.15 was read")),
        "{asked:?}"
    );
}

/// Each part of a way read across, 0.05 and 0.04, where the way as a whole reads 0.18.
#[test]
fn readings_across_the_parts_of_a_way_that_disagree_with_the_way_are_said_as_readings() {
    let mut job = furnace();
    let group = job.path.lay_beside(GRILLE, RETURN).expect("a second return");
    read(&mut job, ReadAt::Across(group), 0.18);
    read(&mut job, ReadAt::Across(GRILLE), 0.05);
    read(&mut job, ReadAt::Across(RETURN), 0.04);
    let Some(NotRunning::Shares(why)) = Answer::of(&job).found.err().map(|idle| idle.why) else {
        panic!("half of what was read is missing");
    };
    assert_eq!(
        why.to_string(),
        "Side by side: 0.09 in. w.c. as read across the return grille and the return duct, but 0.18 was read across that way; one of the readings or a hose is wrong"
    );
    // 0.09 and 0.18 in. w.c. of 249.09 Pa each: 22.4 and 44.8 Pa.
    let told = wording::verdict(&job, &Answer::of(&job), UnitSystem::SiLitres).detail;
    assert_eq!(
        told,
        "Side by side: 22 Pa as read across the return grille and the return duct, but 45 was read across that way; one of the readings or a hose is wrong."
    );
}
