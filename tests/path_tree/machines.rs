//! Another machine on the ducts as read.

use std::sync::atomic::AtomicBool;

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{Element, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT, Whereabouts};
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Call, CoilInTest, EquipmentKind, LowVoltage, PartInTest, ReturnOpenings,
};
use tapcross::model::facts::change::{ChangeKind, Replacement};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt};
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::facts::target::Target;
use tapcross::model::laws::tap_curve::TapShape;
use tapcross::model::path::parts::part_of;
use tapcross::model::path::tesp::Assumption;
use tapcross::model::verdicts::taps::{Reach, RiseSide};
use tapcross::model::{search, wording};
use tapcross::units::{Capacity, Density, UnitSystem, Voltage};

/// A furnace of table C and A, made in air of the job's own density.
fn new_table(job: &Job) -> BlowerTable {
    BlowerTable {
        name: "New one".to_owned(),
        rated_maximum: Some(in_wc(0.6)),
        cooling: Some(Capacity::from_tons(2.5)),
        calls: vec![(Call::CoolingHigh, "A".to_owned()), (Call::HeatingHigh, "D".to_owned())],
        taps: vec![tap("D"), tap("A"), tap("B")],
        basis: Basis { density: basis_of(job).density, ..Basis::default() },
        ..furnace_table()
    }
}

fn replacement(table: BlowerTable) -> Replacement {
    Replacement { table, tap: None, leaves: Vec::new(), coil: None, filter: None, target: None }
}

fn changed(job: &Job, new: Replacement) -> Job {
    with(job.clone(), [ChangeKind::OtherMachine(Box::new(new))])
}

/// Filter and coil each a segment of its own, so that they can leave.
fn house() -> Job {
    let mut job = furnace();
    read_after(&mut job, ElementId(2), -0.18);
    read_after(&mut job, COIL, 0.22);
    job
}

#[test]
fn the_ducts_stay_as_read_and_every_tap_of_the_new_machine_is_judged_on_them() {
    let job = house();
    let airflow = running(&job).now.airflow.cfm();
    let found = after(&changed(&job, replacement(new_table(&job))));
    let path = |flow: f64| {
        law(airflow, 0.40, 2.0)(flow) + law(airflow, 0.12, 1.0 / 0.85)(flow) + law(airflow, 0.18, 1.8)(flow)
    };
    assert_eq!(found.system.taps.len(), 3);
    for (tap, letter) in found.system.taps.iter().zip(["D", "A", "B"]) {
        let right = meet(&curve(letter), path);
        let point = tap.reached().expect("a crossing");
        assert_eq!(tap.name, letter);
        assert_near("airflow", point.airflow().cfm(), right.0, 1e-7);
        let plate = point.plate.expect("a plate");
        assert_near("its own plate", plate.limit.in_wc(), 0.6, 1e-12);
    }
    assert_eq!((found.system.tap(), found.system.blower.call), (Some("A"), Call::CoolingHigh));
    assert!(found.system.taps[1].in_use && !found.system.taps[0].in_use);
    assert_eq!(found.system.taps[0].calls, [Call::HeatingHigh]);
}

#[test]
fn parts_that_leave_take_their_drops_with_them() {
    let job = house();
    let airflow = running(&job).now.airflow.cfm();
    let leaves = vec![FILTER, COIL];
    let found = after(&changed(&job, Replacement { leaves, ..replacement(new_table(&job)) }));
    let right = meet(&curve("A"), law(airflow, 0.40, 2.0));
    assert_near("ducts alone", found.system.point().expect("a point").airflow.cfm(), right.0, 1e-7);
}

#[test]
fn its_own_coil_and_filter_stand_on_the_side_where_the_new_machine_has_them() {
    let job = house();
    let airflow = running(&job).now.airflow.cfm();
    let (coil, filter) = (data(1000.0, 0.25, 1.8), data(1000.0, 0.08, 1.2));
    for (kind, coil_is_before) in [
        (EquipmentKind::Furnace, false),
        (EquipmentKind::BlowThroughAirHandler, false),
        (EquipmentKind::DrawThroughAirHandler, true),
    ] {
        let mut table = BlowerTable { kind, ..new_table(&job) };
        table.basis.density = Some(job.set().air.at_blower(kind, Call::CoolingHigh).density);
        let new = Replacement {
            leaves: vec![FILTER, COIL],
            coil: Some(coil.clone()),
            filter: Some(filter.clone()),
            ..replacement(table)
        };
        let found = after(&changed(&job, new));
        // Behind a coil in the air that it cools a blower moves more mass at the same airflow.
        let density = |kind| job.set().air.at_blower(kind, Call::CoolingHigh).density;
        let mass = density(kind) / density(EquipmentKind::Furnace);
        // Data hold in standard air; ρ^(n − 1).
        let air = density(kind).lb_ft3() / 0.075;
        let path = |flow: f64| {
            law(airflow, 0.40, 2.0)(flow * mass)
                + law(1000.0, 0.25, 1.8)(flow) * air.powf(0.8)
                + law(1000.0, 0.08, 1.2)(flow) * air.powf(0.2)
        };
        let right = meet(&curve("A"), path);
        assert_near("airflow", found.system.point().expect("a point").airflow.cfm(), right.0, 1e-7);
        assert_eq!(part_of(&found.system.parts, COIL).expect("a coil").before_blower, coil_is_before, "{kind:?}");
        assert!(part_of(&found.system.parts, FILTER).expect("a filter").before_blower);
    }
}

/// The table was made in other air: its ESP reads P·r.
#[test]
fn the_new_table_is_entered_at_its_own_density() {
    let job = house();
    let airflow = running(&job).now.airflow.cfm();
    let here = basis_of(&job).density.expect("a density").lb_ft3();
    let mut table = new_table(&job);
    table.basis.density = Some(Density::from_lb_ft3(here / 0.85));
    let found = after(&changed(&job, Replacement { leaves: vec![FILTER, COIL], ..replacement(table) }));
    let point = found.system.point().expect("a point");
    let path = law(airflow, 0.40, 2.0);
    let right = meet(&curve("A"), |flow| path(flow) / 0.85);
    assert_near("airflow", point.airflow.cfm(), right.0, 1e-7);
    assert_near("static as it is", point.tesp.in_wc(), 0.85 * right.1, 1e-7);
    let plate = found.system.taps[1].reached().expect("a point").plate.expect("a plate");
    assert_near("the worse is at table density", plate.worse.in_wc(), right.1, 1e-7);
}

/// A coil inside the new machine is wet as the old one was, on a table that was made dry.
#[test]
fn a_wet_coil_inside_the_new_machine_counts_by_its_own_table() {
    let mut job = house();
    job.sets[0].coil = CoilState::Wet;
    let airflow = running(&job).now.airflow.cfm();
    let mut table = new_table(&job);
    table.basis.coil = CoilInTest::Dry;
    table.corrections.wet_coil = Some(data(1000.0, 0.07, 1.8));
    let found = after(&changed(&job, Replacement { leaves: vec![FILTER, COIL], ..replacement(table) }));
    let path = law(airflow, 0.40, 2.0);
    let right = meet(&curve("A"), |flow| path(flow) + law(1000.0, 0.07, 1.8)(flow));
    let point = found.system.point().expect("a point");
    assert_near("airflow", point.airflow.cfm(), right.0, 1e-7);
    assert_near("static of the path alone", point.tesp.in_wc(), path(right.0), 1e-7);
}

#[test]
fn its_own_target_and_tap_count() {
    let mut job = house();
    job.target = Some(Target::Airflow(cfm(1200.0)));
    let new = Replacement {
        tap: Some("D".to_owned()),
        target: Some(Target::Airflow(cfm(800.0))),
        ..replacement(new_table(&job))
    };
    let answer = Answer::of(&changed(&job, new));
    let after = answer.with_changes().expect("an after");
    assert_eq!(after.system.tap(), Some("D"));
    assert_near("the job's stays before", answer.blower().target.expect("a target").actual.cfm(), 1200.0, 1e-12);
    assert_near("its own after", after.system.blower.target.expect("a target").actual.cfm(), 800.0, 1e-12);
    let point = after.system.taps[0].reached().expect("a point");
    assert_near("of its own target", point.of_target.expect("a share"), point.airflow().cfm() / 800.0, 1e-12);
    let without = Answer::of(&changed(&job, replacement(new_table(&job))));
    let after = without.with_changes().expect("an after");
    assert_near("else the job's", after.system.blower.target.expect("a target").actual.cfm(), 1200.0, 1e-12);
}

#[test]
fn what_the_new_machine_lacks_is_refused_in_words() {
    let job = house();
    let refused = |new: Replacement| {
        let found = projected(&changed(&job, new));
        assert!(found.system.blower.other.is_none() && found.system.taps.len() == 2, "the old machine stays");
        found.refused[0].1.to_string()
    };
    let leaves = vec![ElementId(77)];
    assert_eq!(
        refused(Replacement { leaves, ..replacement(new_table(&job)) }),
        "Element 77 was to leave with the old machine, but the air path does not have it"
    );
    let silent = BlowerTable { calls: Vec::new(), ..new_table(&job) };
    assert_eq!(refused(replacement(silent)), "Say which tap of New one runs; its table has no call for it");
    assert_eq!(
        refused(Replacement { tap: Some("9".to_owned()), ..replacement(new_table(&job)) }),
        "The table has no tap \"9\""
    );
}

/// A filter in one of two returns leaves: its way is as free as if it had never been there.
#[test]
fn a_part_within_a_way_can_leave() {
    use tapcross::model::facts::air_path::chain::Beside;
    let mut job = house();
    let group = job.path.lay_beside(GRILLE, ElementId(2)).expect("a second return");
    let filter = job.path.put_in(ElementKind::Filter, Beside::After(GRILLE)).expect("a filter");
    element(&mut job, filter).drop = Some(data(500.0, 0.08, 1.2));
    let today = running(&job);
    let airflow = today.now.airflow.cfm();
    let found = after(&changed(&job, Replacement { leaves: vec![filter], ..replacement(new_table(&job)) }));
    let of = |id| at_element(&today, id).1;
    let (grille, duct) = (of(GRILLE), of(ElementId(2)));
    let half = airflow / 2.0;
    let freed = |flow: f64| law(half, grille, 2.0)(flow) + law(half, duct, 1.9)(flow);
    let second = |flow: f64| law(half, 0.06, 2.0)(flow) + law(half, 0.12, 1.9)(flow);
    let drop = part_of(&found.system.parts, group).expect("the returns").drop_at(cfm(airflow)).in_wc();
    assert_near("without its filter", drop, beside(freed, second, airflow).0, 1e-7);
}

/// The readings' doubt is carried to taps that the old machine does not have, each machine's table errs for itself.
#[test]
fn every_tap_of_the_new_machine_has_its_own_doubt() {
    let job = house();
    let found = after(&changed(&job, replacement(new_table(&job))));
    for (tap, shape) in found.system.taps.iter().zip(&*found.system.blower.shapes) {
        let point = tap.reached().expect("a point");
        // The new table errs by 5 % at 95 %, half of which is one standard uncertainty: along the path it moves less than that.
        let TapShape::Curve(moved) = shape.clone().moving(1.0 + job.accuracy.table_fraction / 2.0) else {
            panic!("a curve")
        };
        let there = meet(&moved, |flow| found.system.load.entry(cfm(flow)).in_wc()).0;
        let table = 2.0 * (there - point.airflow().cfm());
        assert!(table > 0.02 * point.airflow().cfm(), "{}: {table}", tap.name);
        assert!(point.spread.airflow.cfm() > table, "{}: {table}, {:?}", tap.name, point.spread);
        // Two tables that err apart: the difference has the new one's error and what the old one leaves of the path.
        assert!(point.spread.gain.cfm() > table, "{}: {table}, {:?}", tap.name, point.spread);
    }
}

/// An air handler's filter and coil go with its table; the ducts outside are what was read.
#[test]
fn an_air_handler_gives_way_to_a_furnace_with_a_coil_of_its_own() {
    let basis =
        Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() };
    let mut job = job_for(BlowerTable { kind: EquipmentKind::DrawThroughAirHandler, basis, ..furnace_table() });
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.12);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.25);
    let airflow = running(&job).now.airflow.cfm();
    let mut table = new_table(&job);
    table.basis.density = Some(job.set().air.at_blower(EquipmentKind::Furnace, Call::CoolingHigh).density);
    let new =
        Replacement { coil: Some(data(1000.0, 0.25, 1.8)), filter: Some(data(1000.0, 0.1, 1.2)), ..replacement(table) };
    let found = after(&changed(&job, new));
    // The furnace's blower breathes the rooms' air, not the coil's: at the same airflow it moves less mass through the same ducts.
    let density = |kind| job.set().air.at_blower(kind, Call::CoolingHigh).density;
    let mass = density(EquipmentKind::Furnace) / density(EquipmentKind::DrawThroughAirHandler);
    assert!((0.93..0.98).contains(&mass), "{mass}");
    let path =
        |flow: f64| law(airflow, 0.37, 2.0)(flow * mass) + law(1000.0, 0.25, 1.8)(flow) + law(1000.0, 0.1, 1.2)(flow);
    let right = meet(&curve("A"), path);
    assert_near("airflow", found.system.point().expect("a point").airflow.cfm(), right.0, 1e-7);
}

/// Its coil stands outside and nobody gives its drop: the airflow is a bound, and a bound lands in no band.
#[test]
fn a_coil_of_unknown_drop_is_no_answer_until_its_data_is_given() {
    let job = house();
    let lacks = Replacement { leaves: vec![COIL], ..replacement(new_table(&job)) };
    let mut job = changed(&job, lacks.clone());
    let airflow = after(&job).system.point().expect("a point").airflow;
    job.target = Some(Target::Airflow(airflow));
    let bound = after(&job);
    assert_eq!(bound.system.unknown_part, Some(ElementKind::Coil));
    let point = bound.system.taps[bound.system.blower.in_use.unwrap()].reached().expect("a crossing");
    assert_eq!((point.reach, point.standing.path), (Some(Reach::NotSaid), PathStanding::Assumed));
    assert!(bound.system.taps.iter().filter_map(|tap| tap.reached()).all(|point| !point.is_answer()));
    let rises = bound.system.taps.iter().filter_map(|tap| tap.reached()).flat_map(|point| &point.rises);
    assert!(
        rises.clone().count() > 0 && rises.clone().all(|rise| rise.side.is_none_or(|side| side == RiseSide::OverRange))
    );
    let searched = search::cheapest(&job, &AtomicBool::new(false), &mut |_| {});
    let sentence = searched.none_reason.expect("no set").sentence();
    assert!(searched.best.is_empty() && sentence.contains("new machine's coil"), "{sentence}");
    // More than the target is not said either; less is sure.
    job.target = Some(Target::Airflow(airflow * 2.0));
    let short = after(&job);
    assert_eq!(
        short.system.taps[short.system.blower.in_use.unwrap()].reached().expect("a crossing").reach,
        Some(Reach::Short)
    );
    job.target = Some(Target::Airflow(airflow));
    let known = Replacement { coil: Some(data(airflow.cfm(), 1e-4, 1.8)), ..lacks };
    job.changes[0].kind = ChangeKind::OtherMachine(Box::new(known));
    let found = after(&job);
    assert_eq!(found.system.unknown_part, None);
    assert_eq!(
        found.system.taps[found.system.blower.in_use.unwrap()].reached().expect("a crossing").reach,
        Some(Reach::InBand)
    );
}

fn table(job: &mut Job) -> &mut BlowerTable {
    job.machine.as_mut().expect("a machine")
}

/// The same machine in the place of the one that ran changes nothing, whatever its table and the house disagree in.
#[test]
fn its_own_copy_brings_nothing() {
    let furnace_with = |change: &dyn Fn(&mut Job)| {
        let mut job = furnace();
        change(&mut job);
        job
    };
    let filter = || Some(data(1000.0, 0.10, 1.2));
    let cases: [(&str, Job); 5] = [
        ("plain", furnace()),
        (
            "one-side return",
            furnace_with(&|job| {
                job.return_openings = ReturnOpenings::OneSide;
                table(job).basis.return_openings = ReturnOpenings::Bottom;
                table(job).corrections.one_side_return = Some(data(1000.0, 0.03, 2.0));
            }),
        ),
        (
            "low voltage",
            furnace_with(&|job| {
                job.sets[0].voltage = Some(Voltage::from_volts(208.0));
                table(job).basis.voltage = Some(Voltage::from_volts(230.0));
                table(job).corrections.low_voltage =
                    Some(LowVoltage { voltage: Voltage::from_volts(208.0), airflow_factor: 0.95 });
            }),
        ),
        (
            "an empty slot",
            furnace_with(&|job| {
                table(job).basis.filter = PartInTest::Included;
                table(job).corrections.filter_as_tested = filter();
                job.sets[0].parts_out = vec![FILTER];
                job.path.elements.insert(1, Element::new(ElementId(90), ElementKind::Filter, Whereabouts::House));
                job.path.elements[1].drop = filter();
            }),
        ),
        (
            "a filter in its slot",
            furnace_with(&|job| {
                table(job).basis.filter = PartInTest::Included;
                table(job).corrections.filter_as_tested = filter();
                move_port(job, RETURN_PORT, ElementId(2));
            }),
        ),
    ];
    for (what, job) in cases {
        let airflow = running(&job).now.airflow.cfm();
        let table = job.machine.clone().expect("a machine");
        let (copy, tesp) = point_after(&changed(&job, Replacement { tap: Some("A".to_owned()), ..replacement(table) }));
        assert_near(what, copy, airflow, 1e-8);
        assert_near(what, tesp, running(&job).now.tesp.in_wc(), 1e-8);
    }
}

/// What the new table does not print for this house is told, and counts as assumed.
#[test]
fn what_the_new_table_leaves_open_is_told() {
    let mut job = house();
    job.sets[0].voltage = Some(Voltage::from_volts(208.0));
    let mut table = new_table(&job);
    table.basis.voltage = Some(Voltage::from_volts(230.0));
    let job = changed(&job, replacement(table));
    let found = after(&job);
    assert!(matches!(found.system.assumptions[..], [Assumption::VoltageDiffers(_)]));
    assert_eq!(
        found.system.taps[found.system.blower.in_use.unwrap()].reached().expect("a point").standing.path,
        PathStanding::Assumed
    );
    let answer = Answer::of(&job);
    let said = wording::changes::sentences(&job, &answer, UnitSystem::InchPound).join(". ");
    assert!(said.contains("Of the new machine: the supply voltage is not the table's"), "{said}");
}
