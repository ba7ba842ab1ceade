//! Readings straight across a part: the cases of `tesp_cases.rs` with a manometer in place of data.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{Element, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT, Whereabouts};
use tapcross::model::facts::blower::{Basis, BlowerTable, CoilInTest, EquipmentKind, PartInTest};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt};
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::verdicts::system::Running;
use tapcross::units::Pressure;

/// TESP, table entry and the airflow of table A there; nothing may have been taken for granted.
fn check(job: &Job, tesp: f64, entry: f64) -> Running {
    assert!((Answer::of(job).blower().density_ratio - 1.0).abs() < 1e-15, "r is one");
    let running = running(job);
    assert_near("TESP", running.now.tesp.in_wc(), tesp, 1e-9);
    assert_near("entry", running.now.entry.in_wc(), entry, 1e-9);
    assert_near("airflow", running.now.airflow.cfm(), curve("A").value_and_slope(entry).0, 1e-8);
    assert_eq!(running.sum.assumptions, []);
    assert_eq!(running.standing.path, PathStanding::Measured);
    running
}

fn job(kind: EquipmentKind, basis: Basis) -> Job {
    let mut table = BlowerTable { kind, basis, ..furnace_table() };
    table.heating.clear();
    job_for(table)
}

fn handler_basis() -> Basis {
    Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() }
}

fn ports(job: &mut Job, before: f64, after: f64) {
    read(job, ReadAt::Port(RETURN_PORT), before);
    read(job, ReadAt::Port(SUPPLY_PORT), after);
}

fn across(job: &mut Job, kind: ElementKind, drop: f64) -> ElementId {
    let id = job.path.first(kind).expect("the part").id;
    read(job, ReadAt::Across(id), drop);
    id
}

fn port_after(job: &mut Job, port: tapcross::model::facts::air_path::PortId, kind: ElementKind) {
    let id = job.path.first(kind).expect("the part").id;
    move_port(job, port, id);
}

#[test]
fn case_2_an_external_filter_read_across() {
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    port_after(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
    let filter = across(&mut job, ElementKind::Filter, 0.18);
    ports(&mut job, -0.12, 0.40);
    let running = check(&job, 0.70, 0.70);
    assert_near("on the return side", running.return_side.map_or(0.0, Pressure::in_wc), 0.30, 1e-9);
    assert_near("the filter as read", at_element(&running, filter).1, 0.18, 1e-9);
}

#[test]
fn case_3_an_external_coil_read_across() {
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    port_after(&mut job, SUPPLY_PORT, ElementKind::Coil);
    across(&mut job, ElementKind::Coil, 0.22);
    ports(&mut job, -0.30, 0.18);
    let running = check(&job, 0.70, 0.70);
    assert_near("on the supply side", running.supply_side.map_or(0.0, Pressure::in_wc), 0.40, 1e-9);
}

#[test]
fn case_4_a_filter_inside_the_table_read_across_comes_off() {
    let mut job = job(EquipmentKind::Furnace, Basis { filter: PartInTest::Included, ..Basis::default() });
    port_after(&mut job, RETURN_PORT, ElementKind::Filter);
    across(&mut job, ElementKind::Filter, 0.15);
    ports(&mut job, -0.27, 0.40);
    check(&job, 0.52, 0.52);
}

#[test]
fn case_6_coil_and_filter_inside_read_across_come_off() {
    let mut job = job(EquipmentKind::DrawThroughAirHandler, handler_basis());
    port_after(&mut job, RETURN_PORT, ElementKind::Coil);
    across(&mut job, ElementKind::Coil, 0.28);
    across(&mut job, ElementKind::Filter, 0.15);
    ports(&mut job, -0.55, 0.25);
    let running = check(&job, 0.37, 0.37);
    assert_near("return ducts", running.return_side.map_or(0.0, Pressure::in_wc), 0.12, 1e-9);
}

#[test]
fn case_7_a_wet_coil_stays_the_tables_own_correction() {
    let mut job = job(EquipmentKind::DrawThroughAirHandler, handler_basis());
    let wet = data(curve("A").value_and_slope(0.43).0, 0.06, 1.8);
    job.machine.as_mut().expect("a machine").corrections.wet_coil = Some(wet);
    job.sets[0].coil = CoilState::Wet;
    ports(&mut job, -0.12, 0.25);
    check(&job, 0.37, 0.43);
    // A reading across the coil says what it takes as it is; its step from dry is the table's to say.
    across(&mut job, ElementKind::Coil, 0.34);
    check(&job, 0.37, 0.43);
}

#[test]
fn case_8_an_empty_slot_and_a_filter_grille_read_across() {
    let mut job = job(EquipmentKind::DrawThroughAirHandler, handler_basis());
    let tested = data(curve("A").value_and_slope(0.42).0, 0.10, 1.2);
    job.machine.as_mut().expect("a machine").corrections.filter_as_tested = Some(tested);
    let slot = job.path.first(ElementKind::Filter).expect("a slot").id;
    job.sets[0].parts_out = vec![slot];
    let grille = Element::new(ElementId(90), ElementKind::Filter, Whereabouts::House);
    job.path.elements.insert(1, grille);
    read(&mut job, ReadAt::Across(ElementId(90)), 0.15);
    ports(&mut job, -0.27, 0.25);
    let running = check(&job, 0.52, 0.42);
    assert_near("the grille's filter is external", at_element(&running, ElementId(90)).1, 0.15, 1e-9);
}

#[test]
fn a_filter_in_its_slot_that_is_dirtier_than_tested_raises_the_entry() {
    for port in [ElementKind::ReturnDuct, ElementKind::Filter] {
        let mut job = job(EquipmentKind::DrawThroughAirHandler, handler_basis());
        let tested = data(curve("A").value_and_slope(0.52).0, 0.10, 1.2);
        job.machine.as_mut().expect("a machine").corrections.filter_as_tested = Some(tested);
        port_after(&mut job, RETURN_PORT, port);
        across(&mut job, ElementKind::Filter, 0.25);
        // Behind the filter the port reads its 0.25 as well.
        ports(&mut job, if port == ElementKind::Filter { -0.37 } else { -0.12 }, 0.25);
        let running = check(&job, 0.37, 0.52);
        let on_tap = Answer::of(&job).taps()[0].reached().expect("its own tap").crossing;
        assert_near("comes back", on_tap.airflow.cfm(), running.now.airflow.cfm(), 1e-9);
        assert_near("comes back", on_tap.tesp.in_wc(), 0.37, 1e-9);
    }
}

/// A reading beats data on the same part.
#[test]
fn what_was_read_goes_before_what_the_data_say() {
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    port_after(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
    let filter = across(&mut job, ElementKind::Filter, 0.18);
    element(&mut job, filter).drop = Some(data(1000.0, 0.05, 1.2));
    ports(&mut job, -0.12, 0.40);
    check(&job, 0.70, 0.70);
}

/// Read across and then loaded twice: the reading follows its own exponent to the next airflow.
#[test]
fn a_change_takes_hold_of_a_part_that_was_read_across() {
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    port_after(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
    let filter = across(&mut job, ElementKind::Filter, 0.18);
    ports(&mut job, -0.12, 0.40);
    let airflow = running(&job).now.airflow.cfm();
    let loaded = with(
        job,
        [tapcross::model::facts::change::ChangeKind::FilterLoading(tapcross::model::facts::change::FilterLoading {
            element: filter,
            factor: 2.0,
        })],
    );
    let path = |flow: f64| {
        law(airflow, 0.12, 2.0)(flow) + law(airflow, 0.36, 1.0 / 0.85)(flow) + law(airflow, 0.40, 2.0)(flow)
    };
    assert_near("airflow", point_after(&loaded).0, meet(&curve("A"), path).0, 1e-7);
}

/// Across all ways of a group at once, or across each part of one way.
#[test]
fn a_group_read_across_and_a_way_read_part_by_part() {
    let mut job = furnace();
    let group = job.path.lay_beside(ElementId(1), ElementId(2)).expect("a second return");
    read(&mut job, ReadAt::Across(group), 0.18);
    let found = running(&job);
    assert_near("the group", at_element(&found, group).1, 0.18, 1e-9);
    assert_near("the filter has the rest", at_element(&found, FILTER).1, 0.12, 1e-9);
    read(&mut job, ReadAt::Across(GRILLE), 0.05);
    let found = running(&job);
    assert_near("as read", at_element(&found, GRILLE).1, 0.05, 1e-9);
    assert_near("the rest of the way", at_element(&found, ElementId(2)).1, 0.13, 1e-9);
    // Both parts read, adding up to a little less than the group: they share out what was read across all.
    read(&mut job, ReadAt::Across(ElementId(2)), 0.12);
    let found = running(&job);
    assert_near("scaled", at_element(&found, GRILLE).1, 0.05 * 0.18 / 0.17, 1e-9);
    assert_near("scaled", at_element(&found, ElementId(2)).1, 0.12 * 0.18 / 0.17, 1e-9);
}

#[test]
fn a_path_read_as_one_total_splits_by_what_was_read_across() {
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    let filter = across(&mut job, ElementKind::Filter, 0.22);
    read(&mut job, ReadAt::Total, 0.70);
    let running = check(&job, 0.70, 0.70);
    assert_near("the filter", at_element(&running, filter).1, 0.22, 1e-9);
}

/// A drop read across a part is one more difference between two places, each with its own offset; read inside the machine it moves the entry and the airflow, not the static.
#[test]
fn every_reading_that_counts_has_its_own_doubt() {
    let mut bare = job(EquipmentKind::Furnace, Basis::default());
    ports(&mut bare, -0.30, 0.40);
    let mut job = job(EquipmentKind::Furnace, Basis::default());
    port_after(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
    across(&mut job, ElementKind::Filter, 0.18);
    ports(&mut job, -0.12, 0.40);
    let (bare, with) = (running(&bare).system.spreads, running(&job).system.spreads);
    // Limits over the root of three, two standard uncertainties: 1 % of 0.70 once, 0.01 at two or four places.
    let right = |places: f64| 2.0 * (0.007_f64.powi(2) + places * 0.01_f64.powi(2)).sqrt() / 3.0_f64.sqrt();
    assert_near("two ports", bare.tesp.in_wc(), right(2.0), 1e-9);
    assert_near("and across the filter", with.tesp.in_wc(), right(4.0), 1e-9);
    assert!(with.now > bare.now, "the airflow is known less well");
}

#[test]
fn a_reading_inside_the_machine_leaves_the_airflow_in_doubt_and_not_the_static() {
    let mut job = job(EquipmentKind::DrawThroughAirHandler, handler_basis());
    let airflow = curve("A").value_and_slope(0.52).0;
    job.machine.as_mut().expect("a machine").corrections.filter_as_tested = Some(data(airflow, 0.10, 1.2));
    port_after(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
    across(&mut job, ElementKind::Filter, 0.25);
    ports(&mut job, -0.12, 0.25);
    let read = running(&job).system.spreads;
    let limits = |total: f64| 0.01 * total;
    let places = 2.0 * 0.01_f64.powi(2);
    let (u_static, u_inside) = (limits(0.37).powi(2) + places, limits(0.25).powi(2) + places);
    assert_near("static", read.tesp.in_wc(), 2.0 * (u_static / 3.0).sqrt(), 1e-9);
    // The entry moves with both, and as the airflow falls the filter as tested takes less off.
    let slope = curve("A").value_and_slope(0.52).1;
    let entry = slope / (1.0 + slope * 1.2 * 0.10 / airflow);
    // The table's 5 % and the tap's own 2 % are twice their standard uncertainty; what the table prints of the filter is good to 10 %.
    let curve =
        (0.05_f64.powi(2) + 0.02_f64.powi(2)) * airflow.powi(2) / 4.0 / (1.0 + slope * 1.2 * 0.10 / airflow).powi(2);
    let others = curve + (entry * 0.10 * 0.10 / 2.0).powi(2);
    let right = entry.powi(2) * (u_static + u_inside) / 3.0 + others;
    assert_near("airflow", read.now.cfm(), 2.0 * right.sqrt(), 0.01);
    let without = entry.powi(2) * u_static / 3.0 + others;
    assert!(read.now.cfm() > 2.0 * without.sqrt() * 1.01, "the reading inside counts");
}
