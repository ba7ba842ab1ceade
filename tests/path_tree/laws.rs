//! A change works on the law that its part has, whatever the usual one of its kind, and in one order whichever was put on first.

use super::house::*;
use tapcross::model::facts::air_path::{Element, ElementId, ElementKind, Whereabouts};
use tapcross::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, MoreFilterArea, OpenRegisters, Opening, OtherCoilState,
    SecondReturn,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::path::parts::part_of;
use tapcross::units::{Area, Dimension, Length};

/// Drop of an element after the changes, at an airflow through it.
fn drop_after(job: &Job, id: ElementId, airflow: f64) -> f64 {
    part_of(&after(job).system.parts, id).expect("a part").drop_at(cfm(airflow)).in_wc()
}

/// Media area from 400 to this.
fn area(to: f64) -> ChangeKind {
    let in2 = Area::from_in2;
    ChangeKind::MoreFilterArea(MoreFilterArea { element: FILTER, now: in2(400.0), then: in2(to) })
}

#[test]
fn twice_the_media_passes_twice_the_air_at_the_same_drop() {
    let points = [(600.0, 0.05), (1000.0, 0.14), (1400.0, 0.30)].map(|(flow, drop)| (cfm(flow), in_wc(drop)));
    let printed = DropData::new(points.to_vec(), 2.0).expect("sound data");
    for filter in [data(1000.0, 0.12, 2.0), data(1000.0, 0.12, 1.0), printed] {
        let mut job = furnace();
        element(&mut job, FILTER).drop = Some(filter.clone());
        let more = with(job, [area(800.0)]);
        for airflow in [700.0, 1100.0, 1600.0] {
            let right = filter.at_airflow(cfm(airflow / 2.0)).in_wc();
            assert_near("the filter", drop_after(&more, FILTER, airflow), right, SAME);
        }
    }
}

#[test]
fn registers_by_data_open_by_their_own_exponent() {
    let mut job = furnace();
    element(&mut job, REGISTERS).drop = Some(data(1000.0, 0.08, 1.2));
    let opened = with(job, [ChangeKind::OpenRegisters(OpenRegisters { element: REGISTERS, now: 6, then: 9, of: 12 })]);
    let right = 0.08 * (6.0_f64 / 9.0).powf(1.2);
    assert_near("registers", drop_after(&opened, REGISTERS, 1000.0), right, SAME);
}

/// Half a hole passes half the air at the same pressure, whatever exponent its test gave.
#[test]
fn half_a_leak_by_data_passes_half() {
    for exponent in [2.0, 1.0 / 0.65] {
        let mut job = furnace();
        let leak = job.path.leak_at(COIL, 0.1).expect("a leak");
        let hole = data(150.0, 0.3, exponent);
        element(&mut job, leak).drop = Some(hole.clone());
        let sealed = with(job, [seal(leak, 0.5)]);
        assert_near("the hole", drop_after(&sealed, leak, 75.0), 0.3, SAME);
        assert_near("the hole", drop_after(&sealed, leak, 40.0), hole.at_airflow(cfm(80.0)).in_wc(), SAME);
    }
}

/// A group takes a quarter less when each of its ways does, at every airflow.
#[test]
fn a_group_of_ways_can_be_eased_as_one() {
    let mut job = furnace();
    let group = job.path.lay_beside(SUPPLY, REGISTERS).expect("two branches");
    let found = running(&job);
    let eased = with(job, [less(group, 0.25)]);
    for airflow in [500.0, 1000.0, 1500.0] {
        let now = part_of(&found.system.parts, group).expect("the branches").drop_at(cfm(airflow)).in_wc();
        assert_near("eased", drop_after(&eased, group, airflow), 0.75 * now, 1e-7);
    }
    assert!(point_after(&eased).0 > found.now.airflow.cfm() * 1.01, "less drop, more air");
}

/// In what state a part is holds for the new one, whichever was dropped first.
#[test]
fn a_new_part_is_in_the_state_that_is_asked_for() {
    let new = data(1000.0, 0.16, 1.5);
    let by_data = |element| ChangeKind::ByData(ByData { element, data: new.clone() });
    let loaded = ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 2.0 });
    let wet = ChangeKind::OtherCoilState(OtherCoilState { element: COIL, factor: 1.3 });
    for (id, state, factor) in [(FILTER, loaded, 2.0), (COIL, wet, 1.3)] {
        for kinds in [[by_data(id), state.clone()], [state.clone(), by_data(id)]] {
            assert_near("the new part", drop_after(&with(furnace(), kinds), id, 1000.0), 0.16 * factor, SAME);
        }
    }
}

/// What is done to a new part is done to the new one; what was done to the old one goes with it, and is said.
#[test]
fn nothing_is_left_of_what_was_done_to_a_part_that_is_replaced() {
    let new = data(1000.0, 0.16, 1.5);
    let by_data = |element| ChangeKind::ByData(ByData { element, data: new.clone() });
    let cleaned = ChangeKind::CleanCoil(CleanCoil { element: COIL, fraction: 0.25 });
    for (id, done, factor) in
        [(FILTER, area(800.0), 0.5_f64.powf(1.5)), (FILTER, less(FILTER, 0.4), 0.6), (COIL, cleaned, 0.75)]
    {
        let then = with(furnace(), [by_data(id), done.clone()]);
        assert_near("the new part", drop_after(&then, id, 1000.0), 0.16 * factor, SAME);
        let found = projected(&with(furnace(), [done, by_data(id)]));
        let drop = part_of(&found.system.parts, id).expect("a part").drop_at(cfm(1000.0)).in_wc();
        assert_near("as new", drop, 0.16, SAME);
        assert!(
            found.refused.len() == 1 && found.refused[0].1.to_string().contains("replaced by a new one after this"),
            "{:?}",
            found.refused
        );
    }
}

fn second_return(filter: Option<DropData>) -> ChangeKind {
    let inches = Dimension::from_in;
    let run = Run {
        section: Section::round(inches(12.0)),
        length: Length::from_ft(20.0),
        wall: Wall::from(Material::Galvanized),
        fittings: 1.0,
    };
    let grille = Opening { face: Area::from_in2(280.0), free_area: 0.7 };
    ChangeKind::SecondReturn(SecondReturn { run, grille, filter })
}

/// Where the filter stands in the grille, what joins behind the duct brings air that passes no filter.
#[test]
fn a_second_return_past_every_filter_needs_one_of_its_own() {
    let mut job = furnace();
    let filter = job.path.elements.remove(2);
    job.path.elements.insert(1, filter);
    move_port(&mut job, tapcross::model::facts::air_path::RETURN_PORT, ElementId(2));
    let refused = projected(&with(job.clone(), [second_return(None)])).refused;
    assert!(refused[0].1.to_string().contains("give it a filter of its own"), "{refused:?}");
    let own = with(job.clone(), [second_return(Some(data(500.0, 0.1, 1.2)))]);
    let joined = after(&own).system.parts.into_iter().find(|part| !part.ways.is_empty()).expect("two returns");
    assert_eq!(joined.elements, [GRILLE, FILTER, ElementId(2)], "it stands beside grille, filter and duct");
    // With another filter behind it needs none, and stands beside the one in the grille as well.
    let mut behind = Element::new(ElementId(60), ElementKind::Filter, Whereabouts::Cabinet);
    behind.drop = Some(data(1000.0, 0.05, 1.2));
    job.path.elements.insert(3, behind);
    let joined = after(&with(job, [second_return(None)])).system.parts.into_iter().find(|part| !part.ways.is_empty());
    assert_eq!(joined.expect("two returns").elements, [GRILLE, FILTER, ElementId(2)]);
}

/// Fan laws say what a slower wheel moves, and nothing of the motor that turns it.
#[test]
fn a_blower_below_its_table_keeps_no_watts_of_it() {
    let slowed = after(&with(furnace(), [ChangeKind::BelowTable(BelowTable { factor: 0.9 })]));
    let point = slowed.system.taps[slowed.system.blower.in_use.unwrap()].reached().expect("a point");
    assert_eq!((point.power, point.watts_per_cfm()), (None, None));
    let same = after(&with(furnace(), [less(COIL, 0.1)]));
    assert!(same.system.taps[same.system.blower.in_use.unwrap()].reached().expect("a point").power.is_some());
}
