//! Another call of the thermostat, and the coil in its other state.

use super::house::*;
use tapcross::model::facts::air::moist_density;
use tapcross::model::facts::air_path::{Bypass, Element, ElementId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, BlowerTable, Call, CoilInTest, EquipmentKind, PartInTest};
use tapcross::model::facts::change::{ChangeKind, OtherCall, OtherCoilState};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt};
use tapcross::model::laws::duct::air_properties::{DuctAir, sutherland_viscosity};
use tapcross::model::laws::duct::between_conditions::supply_factor;
use tapcross::model::path::parts::part_of;
use tapcross::units::{HeatRate, Temperature};

/// Temperature rise of the furnace's 64,000 Btu/h at an airflow, by the heat balance q = 60·0.24·ρ·Q·ΔT.
fn rise(job: &Job, airflow: f64) -> f64 {
    let density = job.set().air.at_blower(EquipmentKind::Furnace, Call::HeatingHigh).density.lb_ft3();
    64_000.0 / (60.0 * 0.24 * density * airflow)
}

/// Blower density over supply density of an ideal gas, at an airflow.
fn warmth(job: &Job, airflow: f64) -> f64 {
    let absolute = job.set().air.temperature.f() + 459.67;
    (absolute + rise(job, airflow)) / absolute
}

fn to_heating() -> ChangeKind {
    ChangeKind::OtherCall(OtherCall { call: Call::HeatingHigh })
}

#[test]
fn a_call_for_heat_runs_its_tap_with_warm_air_in_the_supply() {
    let job = furnace();
    let airflow = running(&job).now.airflow.cfm();
    let (ret, supply) = (law(airflow, 0.30, 2.0), law(airflow, 0.40, 2.0));
    let right = meet(&curve("B"), |flow| ret(flow) + supply(flow) * warmth(&job, flow));
    let heated = with(job.clone(), [to_heating()]);
    let (found, tesp) = point_after(&heated);
    assert_near("airflow", found, right.0, 1e-6);
    assert_near("static", tesp, right.1, 1e-6);
    let after = after(&heated);
    assert_eq!((after.system.tap(), after.system.blower.call), (Some("B"), Call::HeatingHigh));
    // Wrong sign, or warm air on the return, would show: the supply alone rises by a tenth.
    let factor = warmth(&job, found);
    assert!((1.08..1.15).contains(&factor), "{factor}");
}

/// Against the density and viscosity of moist air; the program leaves viscosity out, which is nothing at n = 2 and under 2 % at n = 1.8.
#[test]
fn the_supply_drop_rises_as_the_formula_between_conditions_says() {
    let mut job = furnace();
    shaped(&mut job, COIL, 0.4, 1.8);
    shaped(&mut job, SUPPLY, 0.4, 2.0);
    shaped(&mut job, ElementId(8), 0.2, 2.0);
    let heated = with(job.clone(), [to_heating()]);
    let (before, after) = (running(&job), after(&heated));
    let air = job.set().air;
    let flow = 1000.0;
    let blower = DuctAir::new(
        air.at_blower(EquipmentKind::Furnace, Call::HeatingHigh).density,
        sutherland_viscosity(air.temperature),
    );
    let warm = Temperature::from_f(air.temperature.f() + rise(&job, flow));
    // The same water in warmer air: humidity falls as saturation rises.
    let saturation = tapcross::model::facts::air::saturation_pressure_pa;
    let humidity = air.humidity * saturation(air.temperature) / saturation(warm);
    let supply = DuctAir::new(moist_density(warm, humidity, air.pressure()), sutherland_viscosity(warm));
    for (id, exponent, viscosity) in [(SUPPLY, 2.0, 1e-4), (COIL, 1.8, 0.02)] {
        let right = supply_factor(blower.unwrap(), supply.unwrap(), exponent).unwrap();
        let drop = |parts| part_of(parts, id).expect("a part").drop_at(cfm(flow)).in_wc();
        assert_near("supply factor", drop(&after.system.parts) / drop(&before.system.parts), right, viscosity);
    }
    let ret = |parts| part_of(parts, FILTER).map(|part| part.drop_at(cfm(flow)).in_wc());
    assert_eq!(ret(&after.system.parts), ret(&before.system.parts), "the return stays cold");
}

#[test]
fn a_call_back_to_cooling_cools_the_ducts_again() {
    let mut heated = furnace();
    heated.sets[0].call = Call::HeatingHigh;
    heated.machine.as_mut().unwrap().basis.density =
        Some(heated.set().air.at_blower(EquipmentKind::Furnace, Call::HeatingHigh).density);
    let airflow = running(&heated).now.airflow.cfm();
    assert_near("on its own tap", airflow, curve("B").value_and_slope(0.70).0, SAME);
    let factor = warmth(&heated, airflow);
    let (ret, supply) = (law(airflow, 0.30, 2.0), law(airflow, 0.40 / factor, 2.0));
    let right = meet(&curve("A"), |flow| ret(flow) + supply(flow));
    let (found, tesp) =
        point_after(&with(heated.clone(), [ChangeKind::OtherCall(OtherCall { call: Call::CoolingHigh })]));
    assert_near("airflow", found, right.0, 1e-6);
    assert_near("static", tesp, right.1, 1e-6);
    // Its own call again is where it was read.
    let (same, tesp) = point_after(&with(heated, [to_heating()]));
    assert_near("the same call", same, airflow, 1e-9);
    assert_near("the same static", tesp, 0.70, 1e-9);
}

/// Warmth follows the blower's airflow, whatever part of it goes to the rooms, and the bypass carries warm air too.
#[test]
fn beside_a_bypass_all_supply_air_is_as_warm() {
    let mut job = furnace();
    job.path.bypass = Some(Bypass { id: ElementId(30), leaves_after: COIL, joins_after: ElementId(2), flow: 0.4 });
    read_after(&mut job, ElementId(2), -0.16);
    read_after(&mut job, COIL, 0.22);
    let airflow = running(&job).now.airflow.cfm();
    let after = after(&with(job.clone(), [to_heating()]));
    let factor = warmth(&job, airflow);
    let drop = |id, flow: f64| {
        let holds = |part: &&tapcross::model::path::parts::Part| part.elements.contains(&id);
        after.system.parts.iter().find(holds).expect("a part").drop_at(cfm(flow)).in_wc()
    };
    assert_near("supply", drop(SUPPLY, 0.6 * airflow), 0.22 * factor, 1e-9);
    assert_near("coil", drop(COIL, airflow), 0.18 * factor, 1e-9);
    assert_near("bypass", drop(ElementId(30), 0.4 * airflow), 0.38 * factor, 1e-9);
}

/// One number across the machine says nothing of the sides; the supply's share is taken by usual weights, and carries the warm air.
#[test]
fn a_path_read_as_one_total_is_warm_on_its_supply_side() {
    let mut job = furnace();
    job.sets[0].readings.clear();
    read(&mut job, ReadAt::Total, 0.70);
    let airflow = running(&job).now.airflow.cfm();
    let weight = |before: bool| -> f64 {
        let blower = job.path.blower().expect("a blower");
        let side = job.path.elements.iter().enumerate().filter(|(index, _)| (*index < blower) == before);
        side.map(|(_, element)| element.usual_weight()).sum()
    };
    let supply = weight(false) / (weight(true) + weight(false));
    let path = |flow: f64| law(airflow, 0.70, 2.0)(flow) * (1.0 - supply + supply * warmth(&job, flow));
    let right = meet(&curve("B"), path);
    let (found, tesp) = point_after(&with(job.clone(), [to_heating()]));
    assert_near("airflow", found, right.0, 1e-6);
    assert_near("static", tesp, right.1, 1e-6);
    let cold = meet(&curve("B"), law(airflow, 0.70, 2.0));
    assert!(found < cold.0 - 5.0, "warm air costs airflow: {found} of {}", cold.0);
}

/// Without cooling the blower behind a coil breathes the rooms' lighter air: its own pressure and the supply's drops follow density, the return's air keeps its density and its volume follows the mass.
#[test]
fn a_draw_through_blower_breathes_other_air_for_another_call() {
    let mut job = handler(CoilInTest::Dry);
    job.machine.as_mut().unwrap().calls.push((Call::FanOnly, "A".to_owned()));
    let target = tapcross::model::facts::target::Target::PerTon {
        capacity: tapcross::units::Capacity::from_tons(2.0),
        per_ton: cfm(400.0),
    };
    job.set_target(Call::FanOnly, Some(target));
    let airflow = running(&job).now.airflow.cfm();
    let air = job.set().air;
    let density = |call| air.at_blower(EquipmentKind::DrawThroughAirHandler, call).density;
    let ratio = density(Call::FanOnly) / density(Call::CoolingHigh);
    assert!((0.93..0.98).contains(&ratio), "{ratio}");
    let path = |flow: f64| law(airflow, 0.12, 2.0)(flow * ratio) + law(airflow, 0.25, 2.0)(flow) * ratio;
    let right = meet(&curve("A"), |flow| path(flow) / ratio);
    let changed = with(job.clone(), [ChangeKind::OtherCall(OtherCall { call: Call::FanOnly })]);
    let (found, tesp) = point_after(&changed);
    assert_near("airflow", found, right.0, 1e-7);
    assert_near("static", tesp, path(found), 1e-7);
    assert!(found >= airflow, "no less than before: {found} of {airflow}");
    // 800 cfm of standard air are more of the lighter air.
    let then = after(&changed).system.blower.target.expect("a target").actual.cfm();
    assert_near("target", then, 800.0 * 0.075 / density(Call::FanOnly).lb_ft3(), 1e-9);
}

#[test]
fn a_call_without_a_tap_is_refused_with_the_way_out() {
    let refused = projected(&with(furnace(), [ChangeKind::OtherCall(OtherCall { call: Call::FanOnly })])).refused;
    assert_eq!(refused[0].1.to_string(), "The table does not say which tap runs fan only; put another tap on instead");
}

/// An air handler whose table was made with a coil in a state, and prints what a wet one adds.
fn handler(coil: CoilInTest) -> Job {
    let basis = Basis { filter: PartInTest::Included, coil, heater: PartInTest::Included, ..Basis::default() };
    let mut table = BlowerTable { kind: EquipmentKind::DrawThroughAirHandler, basis, ..furnace_table() };
    table.heating.clear();
    let airflow = curve("A").value_and_slope(0.37).0;
    table.corrections.wet_coil = Some(data(airflow, 0.06, 1.8));
    let mut job = job_for(table);
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.12);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.25);
    job
}

fn coil_of(job: &Job) -> ElementId {
    job.path.first(tapcross::model::facts::air_path::ElementKind::Coil).expect("a coil").id
}

#[test]
fn a_coil_inside_the_machine_changes_the_entry_by_the_tables_own_drop() {
    for (tested, read, sign) in [
        (CoilInTest::Dry, CoilState::Dry, 1.0),
        (CoilInTest::Dry, CoilState::Wet, -1.0),
        (CoilInTest::Wet, CoilState::Wet, -1.0),
        (CoilInTest::Wet, CoilState::Dry, 1.0),
    ] {
        let mut job = handler(tested);
        job.sets[0].coil = read;
        let element = coil_of(&job);
        let at = running(&job).now;
        let changed = with(job, [ChangeKind::OtherCoilState(OtherCoilState { element, factor: 1.3 })]);
        let airflow = at.airflow.cfm();
        let wet = law(curve("A").value_and_slope(0.37).0, 0.06, 1.8);
        let already = if matches!((tested, read), (CoilInTest::Dry, CoilState::Wet)) {
            1.0
        } else if matches!((tested, read), (CoilInTest::Wet, CoilState::Dry)) {
            -1.0
        } else {
            0.0
        };
        let path = law(airflow, 0.37, 2.0);
        let right = meet(&curve("A"), |flow| path(flow) + (already + sign) * wet(flow));
        let (found, tesp) = point_after(&changed);
        assert_near("airflow", found, right.0, 1e-7);
        assert_near("the plate sees the path alone", tesp, path(found), 1e-7);
        assert!((found - airflow) * sign < 0.0, "{tested:?} read {read:?}: {found} from {airflow}");
    }
}

/// A coil is wet only while it cools.
#[test]
fn a_coil_that_was_read_wet_is_dry_for_a_call_that_heats() {
    let corrections = |tested, read, coils| {
        let mut job = handler(tested);
        job.sets[0].coil = read;
        let (coil, first) = (coil_of(&job), job.path.index_of(coil_of(&job)).expect("a coil"));
        for extra in 1..coils {
            let id = ElementId(60 + extra);
            let second = Element { id, ..job.path.element(coil).expect("a coil").clone() };
            job.path.elements.insert(first, second);
        }
        let airflow = running(&job).now.airflow;
        let wet = law(curve("A").value_and_slope(0.37).0, 0.06, 1.8)(airflow.cfm());
        after(&with(job, [to_heating()])).system.load.corrections.drop_at(airflow).in_wc() / wet
    };
    for (tested, dry) in [(CoilInTest::Dry, 0.0), (CoilInTest::Wet, -1.0)] {
        let (was_wet, was_dry) = (corrections(tested, CoilState::Wet, 1), corrections(tested, CoilState::Dry, 1));
        // The table prints one drop for all that stands in it.
        assert!((corrections(tested, CoilState::Wet, 2) - was_wet).abs() < 1e-9, "{tested:?}");
        // The air of another call takes another drop; some per cent.
        assert!((was_wet - dry).abs() < 0.06 && (was_wet - was_dry).abs() < 1e-9, "{tested:?}: {was_wet} {was_dry}");
    }
    let supply = |read, shapes: bool| {
        let mut job = furnace();
        if shapes {
            shaped(&mut job, COIL, 0.5, 1.8);
        }
        job.sets[0].coil = read;
        let airflow = running(&job).now.airflow;
        let after = after(&with(job, [to_heating()]));
        let part = after.system.parts.iter().find(|part| part.elements.contains(&COIL)).expect("the coil");
        (part.drop_at(airflow).in_wc(), part.elements.len())
    };
    let ratio = |shapes| supply(CoilState::Wet, shapes).0 / supply(CoilState::Dry, shapes).0;
    assert_near("the coil alone", ratio(true), 1.0 / 1.3, SAME);
    assert_eq!(supply(CoilState::Wet, false).1, 3, "coil, duct and registers in one");
    assert_near("its part of a stretch", ratio(false), 1.0 - (1.0 - 1.0 / 1.3) * 3.0 / 7.0, SAME);
    let mut wet = furnace();
    shaped(&mut wet, COIL, 0.5, 1.8);
    wet.sets[0].coil = CoilState::Wet;
    let twice = projected(&with(
        wet,
        [to_heating(), ChangeKind::OtherCoilState(OtherCoilState { element: COIL, factor: 0.8 })],
    ));
    assert_eq!(twice.refused[0].1.to_string(), "Heating, high leaves the coil dry already; take this off");
}

#[test]
fn a_coil_outside_the_machine_takes_the_stated_factor() {
    let mut job = furnace();
    shaped(&mut job, COIL, 0.5, 1.8);
    let airflow = running(&job).now.airflow.cfm();
    let changed = with(job, [ChangeKind::OtherCoilState(OtherCoilState { element: COIL, factor: 1.25 })]);
    let drop = part_of(&after(&changed).system.parts, COIL).expect("the coil").drop_at(cfm(airflow)).in_wc();
    assert_near("a quarter more", drop, 0.20 * 1.25, SAME);
    let mut silent = handler(CoilInTest::Dry);
    silent.machine.as_mut().unwrap().corrections.wet_coil = None;
    let element = coil_of(&silent);
    let refused =
        projected(&with(silent, [ChangeKind::OtherCoilState(OtherCoilState { element, factor: 1.3 })])).refused;
    assert!(refused[0].1.to_string().starts_with("The table prints no drop for a wet coil"), "{refused:?}");
}

#[test]
fn the_rise_is_that_of_the_handbooks_rule() {
    // 1.08 is the rule's figure for standard air; here at the blower's own density.
    let job = furnace();
    let density = job.set().air.at_blower(EquipmentKind::Furnace, Call::HeatingHigh).density;
    let rise_at = tapcross::model::facts::target::rise_at(HeatRate::from_btuh(64_000.0), cfm(1000.0), density);
    assert_near("rise", rise_at.f(), rise(&job, 1000.0), 1e-9);
}
