//! A panel off between filter and blower.

use super::house::*;
use tapcross::model::facts::change::{ChangeKind, PanelOff};
use tapcross::units::Area;

#[test]
fn a_panel_off_is_a_hole_past_the_whole_return() {
    let job = furnace();
    let today = running(&job);
    let airflow = today.now.airflow.cfm();
    let area = 40.0;
    let off = with(job, [ChangeKind::PanelOff(PanelOff { area: Area::from_in2(area) })]);
    // Sharp-edged orifice: Q = 0.6·A·√(2Δp/ρ), in SI and back.
    let density =
        off.set().air.at_blower(tapcross::model::facts::blower::EquipmentKind::Furnace, off.set().call).density;
    let kg_m3 = density.lb_ft3() * 0.453_592_37 / 0.3048_f64.powi(3);
    let hole = |cfm: f64| {
        let velocity = cfm * 0.3048_f64.powi(3) / 60.0 / (0.6 * area * 0.0254_f64.powi(2));
        kg_m3 / 2.0 * velocity * velocity / 249.088_91
    };
    // The return is one stretch that nobody has split.
    let ret = law(airflow, 0.30, 2.0);
    let path = |flow: f64| beside(&ret, hole, flow).0 + law(airflow, 0.40, 2.0)(flow);
    let right = meet(&curve("A"), path);
    let (found, tesp) = point_after(&off);
    assert_near("airflow", found, right.0, 1e-6);
    assert_near("static", tesp, right.1, 1e-6);
    assert!(found > airflow + 20.0 && tesp < 0.65, "{found} cfm at {tesp}");
    let delivered = after(&off).system.delivered.expect("a point");
    assert_near("drawn from the rooms", delivered.from_rooms.cfm(), beside(&ret, hole, right.0).1, 1e-6);
    assert_near("blown to the rooms", delivered.to_rooms.cfm(), right.0, 1e-6);
}

#[test]
fn a_wider_gap_lowers_the_return_side_towards_nothing() {
    let mut last = f64::INFINITY;
    for area in [5.0, 50.0, 500.0, 5000.0] {
        let tesp = point_after(&with(furnace(), [ChangeKind::PanelOff(PanelOff { area: Area::from_in2(area) })])).1;
        assert!(tesp < last, "{area} in²: {tesp} after {last}");
        last = tesp;
    }
    // What is left is the supply side of 0.40 at a little more air.
    let alone = meet(&curve("A"), law(running(&furnace()).now.airflow.cfm(), 0.40, 2.0));
    assert_near("supply alone", last, alone.1, 2e-3);
}
