//! Holes in the ducts: blower airflow and delivered airflow are two numbers.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementId;
use tapcross::model::facts::job::Job;
use tapcross::model::path::parts::part_of;
use tapcross::model::verdicts::system::NotRunning;
use tapcross::units::Pressure;

/// Exponent of a leak's drop, the handbook's Q ~ Δp^0.65 turned round.
const LEAK: f64 = 1.0 / 0.65;

/// A hole behind the coil that loses a share of the air, read at the coil's end: 0.25 beyond it.
fn supply_leak(share: f64) -> (Job, ElementId, ElementId) {
    let mut job = furnace();
    let leak = job.path.leak_at(COIL, share).expect("a leak behind the coil");
    let group = job.path.way_of(leak).expect("a group").0.id;
    read_after(&mut job, COIL, 0.25);
    (job, leak, group)
}

#[test]
fn a_supply_leak_takes_its_share_from_the_rooms_and_a_return_leak_from_the_return() {
    let (job, leak, _) = supply_leak(0.2);
    let found = running(&job);
    let airflow = found.now.airflow.cfm();
    assert_near("blower", found.delivered().blower.cfm(), airflow, 1e-12);
    assert_near("to the rooms", found.delivered().to_rooms.cfm(), 0.8 * airflow, SAME);
    assert_near("from the rooms", found.delivered().from_rooms.cfm(), airflow, SAME);
    assert_near("through the hole", at_element(&found, leak).0, 0.2 * airflow, SAME);
    assert_near("at the pressure beyond", at_element(&found, leak).1, 0.25, SAME);
    assert_near("registers", at_element(&found, REGISTERS).0, 0.8 * airflow, SAME);
    let mut job = furnace();
    job.path.leak_at(RETURN, 0.15).expect("a leak in the return duct");
    let found = running(&job);
    assert_near("from the rooms", found.delivered().from_rooms.cfm(), 0.85 * airflow, SAME);
    assert_near("to the rooms", found.delivered().to_rooms.cfm(), airflow, SAME);
}

/// What stands side by side weighs as the element that it stands for, so that a hole moves no drop from the registers to the duct.
#[test]
fn a_leak_leaves_the_usual_shares_as_they_were() {
    let mut job = furnace();
    let (duct, registers) = (element(&mut job, SUPPLY).usual_weight(), element(&mut job, REGISTERS).usual_weight());
    let leak = job.path.leak_at(SUPPLY, 0.1).expect("a leak behind the supply duct");
    let found = running(&job);
    let drop = |id| at_element(&found, id).1;
    assert_near("duct to registers", drop(SUPPLY) / drop(REGISTERS), duct / registers, SAME);
    assert_near("past the hole", drop(leak), drop(REGISTERS), SAME);
}

/// Sixty cubic feet a minute at 25 Pa, as a duct leakage test gives it.
#[test]
fn a_leak_by_duct_leakage_test_flows_at_the_pressure_that_is_there() {
    let (mut job, leak, _) = supply_leak(0.2);
    let at = Pressure::from_pa(25.0).in_wc();
    element(&mut job, leak).drop = Some(data(60.0, at, LEAK));
    let found = running(&job);
    // 0.25 in. w.c. is 62.27 Pa: 60 cfm × (62.27 / 25)^0.65.
    let right = 60.0 * (0.25 * 249.08891 / 25.0_f64).powf(0.65);
    assert_near("hand", right, 108.588, 1e-4);
    assert_near("leaked", at_element(&found, leak).0, right, 1e-7);
    assert_near("delivered", found.delivered().to_rooms.cfm(), found.now.airflow.cfm() - right, 1e-7);
}

#[test]
fn a_leak_of_which_nothing_is_said_is_asked_for() {
    let (mut job, _, group) = supply_leak(0.2);
    element(&mut job, group).ways[1].flow = None;
    let Some(NotRunning::Shares(why)) = Answer::of(&job).found.err().map(|idle| idle.why) else { panic!("it runs") };
    assert_eq!(
        why.to_string(),
        "A leak needs a share of the air, or an airflow and a pressure from a duct leakage test"
    );
}

/// The path by hand: return lump, coil, and beyond it duct and registers beside the hole.
fn by_hand(airflow: f64, share: f64, open: f64) -> impl Fn(f64) -> (f64, f64) {
    let kept = (1.0 - share) * airflow;
    // Duct three parts, registers one, of 0.25.
    let (duct, registers) = (law(kept, 0.1875, 1.9), law(kept, 0.0625, 2.0));
    let hole = law(share * airflow, 0.25, LEAK);
    let (ret, coil) = (law(airflow, 0.30, 2.0), law(airflow, 0.15, 1.8));
    move |flow: f64| {
        let series = |flow: f64| ret(flow) + coil(flow);
        let ducts = |flow: f64| duct(flow) + registers(flow);
        if open <= 0.0 {
            return (series(flow) + ducts(flow), flow);
        }
        // A hole of half the area passes half the air at the same pressure.
        let (drop, kept) = beside(ducts, |flow| hole(flow / open), flow);
        (series(flow) + drop, kept)
    }
}

#[test]
fn sealing_delivers_more_while_the_blower_moves_less() {
    let share = 0.2;
    let (job, leak, _) = supply_leak(share);
    let today = running(&job);
    let airflow = today.now.airflow.cfm();
    let mut last = (airflow, today.delivered().to_rooms.cfm());
    for fraction in [0.25, 0.5, 0.9, 1.0] {
        let sealed = with(job.clone(), [seal(leak, fraction)]);
        let hand = by_hand(airflow, share, 1.0 - fraction);
        let right = meet(&curve("A"), |flow| hand(flow).0);
        let after = after(&sealed);
        let delivered = after.system.delivered.expect("a point");
        assert_near("blower", delivered.blower.cfm(), right.0, SAME);
        assert_near("static", point_after(&sealed).1, right.1, SAME);
        assert_near("rooms", delivered.to_rooms.cfm(), hand(right.0).1, 1e-7);
        assert!(delivered.blower.cfm() < last.0 && delivered.to_rooms.cfm() > last.1, "sealed by {fraction}");
        last = (delivered.blower.cfm(), delivered.to_rooms.cfm());
    }
    assert_near("nothing is lost any more", last.1, last.0, 1e-10);
}

#[test]
fn a_leak_sealed_wholly_is_a_path_without_it() {
    let (job, leak, group) = supply_leak(0.2);
    let sealed = with(job.clone(), [seal(leak, 1.0)]);
    let before = running(&job);
    let whole = after(&sealed);
    for flow in [300.0, 900.0, 1400.0] {
        let one = |id| part_of(&before.system.parts, id).expect("a part").drop_at(cfm(flow)).in_wc();
        let group = part_of(&whole.system.parts, group).expect("the ways").drop_at(cfm(flow)).in_wc();
        assert_near("duct and registers", group, one(SUPPLY) + one(REGISTERS), 1e-10);
    }
}

#[test]
fn a_sealed_return_leak_draws_more_from_the_rooms() {
    let mut job = furnace();
    let leak = job.path.leak_at(RETURN, 0.3).expect("a leak in the return duct");
    let today = running(&job);
    let after = after(&with(job, [seal(leak, 0.8)]));
    let delivered = after.system.delivered.expect("a point");
    assert!(delivered.from_rooms > today.delivered().from_rooms, "{delivered:?}");
    assert!(delivered.blower < today.delivered().blower, "{delivered:?}");
}

#[test]
fn a_leak_on_each_side_is_counted_on_its_own_side() {
    let (mut job, _, _) = supply_leak(0.1);
    job.path.leak_at(RETURN, 0.25).expect("a return leak");
    let found = running(&job);
    let airflow = found.now.airflow.cfm();
    assert_near("to the rooms", found.delivered().to_rooms.cfm(), 0.9 * airflow, SAME);
    assert_near("from the rooms", found.delivered().from_rooms.cfm(), 0.75 * airflow, SAME);
}
