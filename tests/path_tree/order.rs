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
