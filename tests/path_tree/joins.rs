//! Where a second return joins: it lies beside all that it passes by.

use super::house::*;
use tapcross::model::facts::air_path::chain::Beside;
use tapcross::model::facts::air_path::{ElementId, ElementKind};
use tapcross::model::facts::change::{ChangeKind, Opening, SecondReturn};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::path::parts::flows;
use tapcross::units::{Area, Dimension, Length};

fn second_return(filter: Option<DropData>) -> ChangeKind {
    let run = Run {
        section: Section::round(Dimension::from_in(12.0)),
        length: Length::from_ft(20.0),
        wall: Wall::Flexible { compression: 0.04 },
        fittings: 1.0,
    };
    ChangeKind::SecondReturn(SecondReturn {
        run,
        grille: Opening { face: Area::from_in2(280.0), free_area: 0.70 },
        filter,
    })
}

/// Elements of the group that holds the second return, and what passes an element there.
fn group(job: &Job, probe: ElementId) -> (Vec<ElementId>, f64, f64) {
    let after = after(job);
    let blower = after.system.point().expect("a point").airflow;
    let group = after.system.parts.iter().find(|part| part.ways.len() == 2).expect("a second return");
    let passing = flows::at_element(&after.system.parts, probe, blower).expect("a part of its own").0;
    (group.elements.clone(), passing.cfm(), blower.cfm())
}

/// Whatever stands before the place where it joins, between grille and filter, is passed by as well.
#[test]
fn a_second_return_with_its_own_filter_lies_beside_all_that_it_passes_by() {
    for kind in [ElementKind::AirCleaner, ElementKind::Damper, ElementKind::Humidifier] {
        let mut job = furnace();
        let part = job.path.put_in(kind, Beside::Before(FILTER)).expect("a place");
        let changed = with(job, [second_return(Some(data(600.0, 0.10, 1.2)))]);
        let (beside, passing, blower) = group(&changed, part);
        assert_eq!(beside, [GRILLE, RETURN, part, FILTER], "{kind:?}");
        assert!(passing < 0.9 * blower, "{kind:?}: {passing} of {blower}");
    }
}

/// Behind the filter all the air passes it.
#[test]
fn what_stands_behind_the_place_where_it_joins_has_all_the_air() {
    let mut job = furnace();
    let part = job.path.put_in(ElementKind::AirCleaner, Beside::After(FILTER)).expect("a place");
    let port = job.path.ports[0].id;
    move_port(&mut job, port, part);
    let (beside, passing, blower) = group(&with(job, [second_return(Some(data(600.0, 0.10, 1.2)))]), part);
    assert_eq!(beside, [GRILLE, RETURN, FILTER]);
    assert_near("all of it", passing, blower, SAME);
}

/// Without a filter of its own it joins behind the last duct: a damper between grille and duct is passed by.
#[test]
fn a_second_return_without_a_filter_lies_beside_a_damper_before_its_duct() {
    let mut job = furnace();
    let part = job.path.put_in(ElementKind::Damper, Beside::Before(RETURN)).expect("a place");
    let (beside, passing, blower) = group(&with(job, [second_return(None)]), part);
    assert_eq!(beside, [GRILLE, part, RETURN]);
    assert!(passing < 0.9 * blower, "{passing} of {blower}");
}
