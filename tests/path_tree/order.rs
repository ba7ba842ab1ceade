//! Which port of a side counts, and that the order of a file never does.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind, PortId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, CoilInTest, EquipmentKind, PartInTest};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;

/// Coil, dry, and heater in the table, filter not; ports behind the coil, behind the heater and behind the return duct; the coil 0.20 at 1,200 cfm by data.
fn handler(behind_coil: f64) -> Job {
    let basis = Basis { coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() };
    let mut job = torque(EquipmentKind::DrawThroughAirHandler, basis);
    let coil = job.path.first(ElementKind::Coil).expect("a coil").id;
    element(&mut job, coil).drop = Some(data(1200.0, 0.20, 1.8));
    move_port(&mut job, RETURN_PORT, coil);
    let heater = job.path.first(ElementKind::Heater).expect("a heater").id;
    move_port(&mut job, SUPPLY_PORT, heater);
    read(&mut job, ReadAt::Port(RETURN_PORT), behind_coil);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.35);
    read_after(&mut job, ElementId(2), -0.08);
    job
}

/// Every order of three.
const ORDERS: [[usize; 3]; 6] = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];

fn in_order(job: &Job, order: [usize; 3]) -> Job {
    let mut other = job.clone();
    let rank = |id: PortId| order.iter().position(|place| job.path.ports[*place].id == id).expect("a port");
    let found = other.path.ports.clone();
    other.path.ports.clear();
    other.path.ports.extend(order.map(|place| found[place].clone()));
    other.sets[0].readings.sort_by_key(|reading| match reading.at {
        ReadAt::Port(id) => rank(id),
        ReadAt::Total | ReadAt::Across(_) => usize::MAX,
    });
    other
}

/// Two ports stand one part from the machine's face: from the one behind the coil all is known, from the other the filter is not.
///
/// 0.40 + 0.35 − 0.20·(Q/1200)^1.8 meets the tap at 1,292 cfm; the filter has 0.40 − 0.08 less the coil.
#[test]
fn the_order_in_which_ports_are_listed_does_not_matter() {
    let job = handler(-0.40);
    let coil = law(1200.0, 0.20, 1.8);
    let right = meet(&curve_in(&job, "2"), |flow| 0.75 - coil(flow));
    assert!((right.0 - 1292.0).abs() < 1.0, "{right:?}");
    for order in ORDERS {
        let found = running(&in_order(&job, order));
        assert_near("airflow", found.now.airflow.cfm(), right.0, SAME);
        assert_near("the filter", at_element(&found, FILTER).1, 0.32 - coil(right.0), SAME);
        assert!(found.sum.bound().is_exact());
    }
}

/// The coil cannot take 0.20 where the filter and it together read 0.17: what was read counts, side by side, and the data are asked about.
#[test]
fn data_inside_the_machine_that_the_readings_contradict_leave_each_side_its_own() {
    for order in ORDERS {
        let job = in_order(&handler(-0.25), order);
        let found = running(&job);
        assert_near("static", found.now.tesp.in_wc(), 0.43, SAME);
        assert_near("return", found.return_side.expect("two ports").in_wc(), 0.08, SAME);
        assert_near("supply", found.supply_side.expect("two ports").in_wc(), 0.35, SAME);
        let drop = |before: bool| -> f64 {
            let side = found.system.parts.iter().filter(|part| part.before_blower == before && part.is_external());
            side.map(|part| part.drop_at(part.flow).in_wc()).sum()
        };
        assert_near("parts before", drop(true), 0.08, SAME);
        assert_near("parts behind", drop(false), 0.35, SAME);
        let own = Answer::of(&job).tap_in_use().and_then(|tap| tap.reached()).expect("its own tap").crossing;
        assert_near("comes back", own.airflow.cfm(), found.now.airflow.cfm(), SAME);
        let asked = asked(&job);
        assert!(
            asked.iter().any(|said| said.starts_with("Coil: 0.24 in. w.c. by data") && said.contains("0.17 was read")),
            "{asked:?}"
        );
    }
}

/// Behind the blower as before it: the coil by data cannot take more than lies between its port and the next.
///
/// Ports behind blower, at 0.30, and behind the supply's first element outside, at 0.10.
#[test]
fn the_supply_side_keeps_its_own_too_and_what_two_ports_may_be_off_is_no_question() {
    let basis = Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, ..Basis::default() };
    let mut job = torque(EquipmentKind::BlowThroughAirHandler, basis);
    let (coil, duct) = (job.path.first(ElementKind::Coil), job.path.first(ElementKind::SupplyDuct));
    let (coil, duct) = (coil.expect("a coil").id, duct.expect("a duct").id);
    let blower = job.path.elements[job.path.blower().expect("a blower")].id;
    move_port(&mut job, SUPPLY_PORT, blower);
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.20);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.30);
    let port = read_after(&mut job, coil, 0.10);
    // A port at the plane itself is all that the side needs.
    assert_near("static", running(&job).now.tesp.in_wc(), 0.30, SAME);
    move_port(&mut job, port, duct);
    for (by_data, left, is_asked) in [(0.15, 0.15, false), (0.21, 0.10, false), (0.25, 0.10, true)] {
        let airflow = curve_in(&job, "2").value_and_slope(0.20 + left).0;
        element(&mut job, coil).drop = Some(data(airflow, by_data, 2.0));
        let found = running(&job);
        assert_near("static", found.now.tesp.in_wc(), 0.20 + left, SAME);
        assert_near("supply", found.supply_side.expect("two ports").in_wc(), left, SAME);
        let asked = asked(&job).iter().any(|said| said.starts_with("Coil: "));
        assert_eq!(asked, is_asked, "{by_data}");
    }
}
