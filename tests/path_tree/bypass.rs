//! A way from supply back to return past the rooms.

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{Bypass, ElementId};
use tapcross::model::facts::change::{ChangeKind, PanelOff, SecondReturn};
use tapcross::model::facts::job::Job;
use tapcross::model::wording::problems;
use tapcross::units::UnitSystem;

const BYPASS: ElementId = ElementId(30);

/// A quarter of the air leaves behind the coil and joins behind the return duct; ports stand at both ends.
fn bypassed() -> Job {
    let mut job = furnace();
    job.path.bypass = Some(Bypass { id: BYPASS, leaves_after: COIL, joins_after: RETURN, flow: 0.25 });
    read_after(&mut job, RETURN, -0.16);
    read_after(&mut job, COIL, 0.22);
    job
}

/// Return and supply ducts at the rooms' air, filter and coil at all of it.
fn by_hand(airflow: f64, open: f64) -> impl Fn(f64) -> (f64, f64) {
    let rooms = 0.75 * airflow;
    // Grille one part and duct two of 0.16 once they carry other air than the rest: split by a change or a lump of n = 2.
    let (ret, supply) = (law(rooms, 0.16, 2.0), law(rooms, 0.22, 2.0));
    let (filter, coil) = (law(airflow, 0.14, 1.0 / 0.85), law(airflow, 0.18, 1.8));
    let hole = law(0.25 * airflow, 0.38, 2.0);
    move |flow: f64| {
        let series = filter(flow) + coil(flow);
        let ducts = |flow: f64| ret(flow) + supply(flow);
        if open <= 0.0 {
            return (series + ducts(flow), flow);
        }
        let (drop, rooms) = beside(ducts, |flow| hole(flow / open), flow);
        (series + drop, rooms)
    }
}

#[test]
fn a_bypass_takes_its_share_at_the_drop_of_the_rooms_side() {
    let found = running(&bypassed());
    let airflow = found.now.airflow.cfm();
    assert_near("all of it across the machine", found.now.tesp.in_wc(), 0.70, SAME);
    let (through, drop) = at_element(&found, BYPASS);
    assert_near("a quarter", through, 0.25 * airflow, SAME);
    assert_near("what return and supply ducts take together", drop, 0.38, SAME);
    assert_near("filter", at_element(&found, FILTER).0, airflow, SAME);
    let delivered = found.delivered();
    assert_near("bypassed", delivered.bypassed.cfm(), 0.25 * airflow, SAME);
    assert_near("to the rooms", delivered.to_rooms.cfm(), 0.75 * airflow, SAME);
    assert_near("from the rooms", delivered.from_rooms.cfm(), 0.75 * airflow, SAME);
}

#[test]
fn closing_the_bypass_sends_its_air_through_the_rooms() {
    let job = bypassed();
    let airflow = running(&job).now.airflow.cfm();
    for fraction in [0.0, 0.5, 0.95, 1.0] {
        let hand = by_hand(airflow, 1.0 - fraction);
        let right = meet(&curve("A"), |flow| hand(flow).0);
        let sealed = with(job.clone(), [seal(BYPASS, fraction)]);
        let after = after(&sealed);
        let delivered = after.system.delivered.expect("a point");
        assert_near("blower", delivered.blower.cfm(), right.0, 1e-7);
        assert_near("static", point_after(&sealed).1, right.1, 1e-7);
        assert_near("rooms", delivered.to_rooms.cfm(), hand(right.0).1, 1e-6);
        assert_near("the rest", (delivered.blower - delivered.bypassed).cfm(), delivered.to_rooms.cfm(), 1e-9);
    }
}

#[test]
fn a_bypass_that_cannot_be_is_told() {
    let sentence = |bypass: Bypass| {
        let mut job = furnace();
        job.path.bypass = Some(bypass);
        assert!(Answer::of(&job).point().is_none());
        job.path.problem().expect("a problem").sentence(UnitSystem::InchPound)
    };
    let ends = "A bypass leaves behind a supply element of the chain and joins behind a return element";
    let sound = Bypass { id: BYPASS, leaves_after: COIL, joins_after: RETURN, flow: 0.25 };
    assert_eq!(sentence(Bypass { leaves_after: REGISTERS, ..sound.clone() }), ends);
    assert_eq!(sentence(Bypass { joins_after: SUPPLY, ..sound.clone() }), ends);
    assert_eq!(sentence(Bypass { leaves_after: ElementId(77), ..sound.clone() }), ends);
    assert_eq!(
        sentence(Bypass { flow: 0.95, ..sound.clone() }),
        "A bypass of 95 % of the blower's air cannot be; it lies above 0 and below 90 %"
    );
    assert_eq!(sentence(Bypass { id: COIL, ..sound.clone() }), "Two elements of the air path share the number 6");
}

/// The port stands past a coil that only the rooms' air passes: its drop by data is that of the rooms' air.
#[test]
fn a_part_by_data_past_the_bypass_drops_at_the_rooms_air() {
    let mut job = furnace();
    job.path.bypass = Some(Bypass { id: BYPASS, leaves_after: ElementId(5), joins_after: FILTER, flow: 0.25 });
    move_port(&mut job, tapcross::model::facts::air_path::SUPPLY_PORT, COIL);
    element(&mut job, COIL).drop = Some(data(1000.0, 0.2, 1.8));
    read(&mut job, tapcross::model::facts::readings::ReadAt::Port(tapcross::model::facts::air_path::SUPPLY_PORT), 0.18);
    let right = meet(&curve("A"), |flow| 0.48 + law(1000.0, 0.2, 1.8)(0.75 * flow));
    let found = running(&job);
    assert_near("airflow", found.now.airflow.cfm(), right.0, SAME);
    assert_near("static", found.now.tesp.in_wc(), right.1, SAME);
    assert_near("its air", at_element(&found, COIL).0, 0.75 * right.0, SAME);
    let own = Answer::of(&job).taps()[0].reached().expect("its own tap").crossing;
    assert_near("comes back", own.airflow.cfm(), right.0, 1e-9);
}

/// All the blower's air passes what the table contains, so a bypass cannot leave or join in there.
#[test]
fn a_bypass_within_the_machine_is_refused() {
    use tapcross::edit::{self, Edit};
    use tapcross::model::facts::blower::PartInTest;
    let mut job = furnace();
    job.machine.as_mut().expect("a machine").basis.filter = PartInTest::Included;
    move_port(&mut job, tapcross::model::facts::air_path::RETURN_PORT, RETURN);
    let bypass = |leaves_after, joins_after| Bypass { id: BYPASS, leaves_after, joins_after, flow: 0.25 };
    for (bypass, name) in [(bypass(COIL, FILTER), "filter"), (bypass(BLOWER, RETURN), "blower")] {
        let told = format!(
            "The bypass begins or ends after the {name}, inside what the blower table contains; it leaves and joins outside the machine"
        );
        assert_eq!(edit::apply(&mut job, Edit::Bypass(Some(bypass.clone()))).unwrap_err().to_string(), told);
        let mut opened = job.clone();
        opened.path.bypass = Some(bypass);
        let answer = Answer::of(&opened);
        assert!(answer.point().is_none());
        assert!(
            answer.problems.iter().any(|problem| problems::sentence(&problem.what, UnitSystem::InchPound) == told),
            "{:?}",
            answer.problems
        );
    }
    edit::apply(&mut job, Edit::Bypass(Some(bypass(COIL, RETURN)))).expect("outside the machine");
}

/// The bypass crosses what a hole or a new return would stand beside: no series of ways can say that.
#[test]
fn a_hole_or_a_return_across_the_joint_of_a_bypass_is_refused_in_words() {
    use tapcross::model::facts::change::Opening;
    use tapcross::model::facts::duct::run::Run;
    use tapcross::model::facts::duct::run::Wall;
    use tapcross::model::facts::duct::section::Section;
    use tapcross::units::{Area, Dimension, Length};
    let run = Run {
        section: Section::round(Dimension::from_in(12.0)),
        length: Length::from_ft(20.0),
        wall: Wall::Flexible { compression: 0.04 },
        fittings: 1.0,
    };
    let second = |filter| {
        ChangeKind::SecondReturn(SecondReturn {
            run,
            grille: Opening { face: Area::from_in2(280.0), free_area: 0.7 },
            filter,
        })
    };
    for kind in [ChangeKind::PanelOff(PanelOff { area: Area::from_in2(50.0) }), second(Some(data(500.0, 0.1, 1.2)))] {
        let refused = projected(&with(bypassed(), [kind.clone()])).refused;
        assert_eq!(refused.len(), 1, "{kind:?}");
        assert!(refused[0].1.to_string().contains("the bypass joins"), "{refused:?}");
    }
    let joined = with(bypassed(), [second(None)]);
    let from_rooms = after(&joined).system.delivered.expect("a point").from_rooms;
    assert!(from_rooms > running(&joined).delivered().from_rooms);
}
