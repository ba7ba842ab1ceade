//! Readings taken while the machine heats: warm air in the supply, by the air that each tap moves.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{Element, SUPPLY_PORT};
use tapcross::model::facts::blower::{Call, EquipmentKind};
use tapcross::model::facts::change::{ByData, ChangeKind, OtherTap};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;

/// The furnace read on its heating tap B, in the air of that call.
fn heated() -> Job {
    let mut job = furnace();
    job.sets[0].call = Call::HeatingHigh;
    job.sets[0].tap = Some("B".to_owned());
    job
}

/// Blower density over supply density of an ideal gas: 1 + rise / absolute temperature, the rise by q = 60·0.24·ρ·Q·ΔT.
fn warmth(job: &Job, airflow: f64) -> f64 {
    let density = job.set().air.at_blower(EquipmentKind::Furnace, Call::HeatingHigh).density.lb_ft3();
    let rise = 64_000.0 / (60.0 * 0.24 * density * airflow);
    1.0 + rise / (job.set().air.temperature.f() + 459.67)
}

/// 0.40 over the supply was read in air of tap B's rise; on tap A the same heat warms more air by less.
#[test]
fn another_tap_has_its_own_supply_temperature() {
    let job = heated();
    let airflow = running(&job).now.airflow.cfm();
    assert_near("its own", airflow, curve("B").value_and_slope(0.70).0, SAME);
    let cold = law(airflow, 0.40 / warmth(&job, airflow), 2.0);
    let path = |flow: f64| law(airflow, 0.30, 2.0)(flow) + cold(flow) * warmth(&job, flow);
    let right = meet(&curve("A"), path);
    let answer = Answer::of(&job);
    let of = |tap: usize| answer.taps()[tap].reached().expect("a crossing").crossing;
    assert_near("airflow", of(0).airflow.cfm(), right.0, 1e-7);
    assert_near("static", of(0).tesp.in_wc(), right.1, 1e-7);
    assert_near("the tap that ran comes back", of(1).airflow.cfm(), airflow, SAME);
    let stays_warm = meet(&curve("A"), law(airflow, 0.70, 2.0)).0;
    assert!((right.0 - stays_warm).abs() > 0.2, "{} and {stays_warm}", right.0);
    let (tap, _) = point_after(&with(job, [ChangeKind::OtherTap(OtherTap { tap: "A".to_owned() })]));
    assert_near("as a change", tap, right.0, 1e-7);
}

/// A single number: the supply's share by usual weights is warm.
#[test]
fn a_total_is_warm_on_its_supply_side() {
    let mut job = heated();
    job.sets[0].readings.clear();
    read(&mut job, ReadAt::Total, 0.70);
    let airflow = running(&job).now.airflow.cfm();
    let weights = |before: bool| -> f64 {
        let blower = job.path.blower().expect("a blower");
        let side = job.path.elements.iter().enumerate().filter(|(index, _)| (*index < blower) == before);
        side.map(|(_, element)| Element::usual_weight(element)).sum()
    };
    let supply = weights(false) / (weights(true) + weights(false));
    let factor = |flow: f64| 1.0 - supply + supply * warmth(&job, flow);
    let right = meet(&curve("A"), |flow| law(airflow, 0.70, 2.0)(flow) * factor(flow) / factor(airflow));
    let found = Answer::of(&job).taps()[0].reached().expect("a crossing").crossing.airflow.cfm();
    assert_near("airflow", found, right.0, 1e-7);
}

/// A coil by data drops more in warm air, and the same coil put in anew brings nothing.
#[test]
fn a_coil_by_data_is_as_warm_as_the_air_that_passes_it() {
    let mut job = heated();
    let coil = data(1000.0, 0.20, 1.8);
    element(&mut job, COIL).drop = Some(coil.clone());
    move_port(&mut job, SUPPLY_PORT, COIL);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.20);
    let now = running(&job).now;
    let right = meet(&curve("B"), |flow| 0.50 + law(1000.0, 0.20, 1.8)(flow) * warmth(&job, flow));
    assert_near("airflow", now.airflow.cfm(), right.0, 1e-7);
    assert_near("static", now.tesp.in_wc(), right.1, 1e-7);
    let own = Answer::of(&job).taps()[1].reached().expect("its own tap").crossing;
    assert_near("comes back", own.airflow.cfm(), now.airflow.cfm(), SAME);
    let same = with(job, [ChangeKind::ByData(ByData { element: COIL, data: coil })]);
    assert_near("the same again", point_after(&same).0, now.airflow.cfm(), SAME);
}

/// Ways side by side behind the blower carry warm air too: flows and drops at the reading stay as they were read.
#[test]
fn ways_behind_the_blower_are_laid_in_the_air_that_passed_them() {
    let mut job = heated();
    let group = job.path.lay_beside(SUPPLY, REGISTERS).expect("two branches");
    let branch = job.path.element(group).expect("the branches").ways[0].elements[0].id;
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.40);
    read_after(&mut job, COIL, 0.22);
    read_after(&mut job, branch, 0.10);
    let found = running(&job);
    let (flow, drop) = at_element(&found, branch);
    assert_near("half the air", flow, found.now.airflow.cfm() / 2.0, SAME);
    // Warm as it was read: 0.22 to 0.10.
    assert_near("as read", drop, 0.12, 1e-7);
    let own = Answer::of(&job).taps()[1].reached().expect("its own tap").crossing;
    assert_near("comes back", own.airflow.cfm(), found.now.airflow.cfm(), SAME);
}
