//! What is left for the ducts and what they take, reckoned by hand, and what the findings make of it.
//!
//! The machine is invented and easy to reckon with; the rule is ANSI/ACCA 1 Manual D's, recalled from memory. No published row for it was found.

#[path = "support/standard_air.rs"]
mod standard_air;

use standard_air::standard_air;
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{BlowerTable, Call, Cell, EquipmentKind, Row, Tap, TapData};
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::design::PathSide;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::facts::target::Target;
use tapcross::model::verdicts::duct_allowance::{AirflowFrom, DuctAllowance, DuctSide, LengthVerdict, StaticFrom};
use tapcross::model::verdicts::findings::Finding;
use tapcross::model::wording::problems;
use tapcross::model::wording::{self, ducts};
use tapcross::units::{Airflow, Pressure, UnitSystem};

/// Rounding of a few sums and powers of doubles.
const ROUNDING: f64 = 1e-12;

fn of(in_wc: f64) -> Pressure {
    Pressure::from_in_wc(in_wc)
}

fn cfm(value: f64) -> Airflow {
    Airflow::from_cfm(value)
}

/// One tap (invented): 1,200 cfm at 0.10 in. w.c., 100 cfm less for each 0.10 more.
fn straight(kind: EquipmentKind, plate: f64) -> BlowerTable {
    let row = |tenth: u8| Row {
        esp: of(f64::from(tenth) / 10.0),
        cell: Cell::Airflow(cfm(1300.0 - 100.0 * f64::from(tenth)), None),
        power: None,
        speed: None,
    };
    BlowerTable {
        name: "straight (invented)".to_owned(),
        kind,
        rated_maximum: Some(of(plate)),
        calls: vec![(Call::CoolingHigh, "2".to_owned())],
        taps: vec![Tap { name: "2".to_owned(), data: TapData::Column((1..=8).map(row).collect()) }],
        ..BlowerTable::default()
    }
}

fn put(job: &mut Job, edits: impl IntoIterator<Item = Edit>) {
    for edit in edits {
        apply(job, edit).unwrap();
    }
}

fn id(job: &Job, kind: ElementKind) -> ElementId {
    job.path.first(kind).unwrap().id
}

/// Drop of an element by data, in in. w.c. at 700 cfm.
fn data(job: &Job, kind: ElementKind, drop: f64, exponent: f64) -> Edit {
    Edit::ElementDrop(id(job, kind), Some(DropData::at(cfm(700.0), of(drop), exponent).unwrap()))
}

fn lengths(back: f64, out: f64) -> [Edit; 2] {
    [Edit::Number(JobNumber::ReturnLength, Some(back)), Edit::Number(JobNumber::SupplyLength, Some(out))]
}

/// A furnace that reads −0.40 and +0.20, so that it moves 700 cfm at 0.60 in. w.c., with a target of 1,000 cfm; its air is the table's.
fn furnace(plate: f64) -> Job {
    let mut job = Job::default();
    job.sets[0].air = standard_air();
    put(
        &mut job,
        [
            Edit::Machine(Box::new(straight(EquipmentKind::Furnace, plate))),
            Edit::Reading(ReadAt::Port(RETURN_PORT), vec![of(-0.40)]),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![of(0.20)]),
            Edit::Target(Some(Target::Airflow(cfm(1000.0)))),
        ],
    );
    with_density_ratio(&mut job, 1.0);
    job
}

fn with_density_ratio(job: &mut Job, ratio: f64) {
    let air = job.sets[0].air.at_blower(EquipmentKind::Furnace, job.sets[0].call);
    job.machine.as_mut().unwrap().basis.density = Some(air.density / ratio);
}

/// The same with every part known: filter 0.10, grille 0.02, coil 0.20 and registers 0.03 in. w.c. at 1,000 cfm, and ducts by the square law.
fn known(plate: f64) -> Job {
    let mut job = furnace(plate);
    let square = 0.49;
    let edits = [
        data(&job, ElementKind::Filter, 0.07, 1.0),
        data(&job, ElementKind::ReturnGrille, 0.02 * square, 2.0),
        data(&job, ElementKind::Coil, 0.20 * square, 2.0),
        data(&job, ElementKind::Registers, 0.03 * square, 2.0),
        Edit::Exponent(id(&job, ElementKind::ReturnDuct), Some(2.0)),
        Edit::Exponent(id(&job, ElementKind::SupplyDuct), Some(2.0)),
    ];
    put(&mut job, edits);
    job
}

fn allowance(job: &Job) -> DuctAllowance {
    Answer::of(job).ducts.expect("something is stated and the machine runs")
}

fn side(allowance: &DuctAllowance, side: PathSide) -> &DuctSide {
    allowance.side(side).expect("the path has a duct there")
}

#[track_caller]
fn same(value: Pressure, in_wc: f64) {
    assert!((value.in_wc() - in_wc).abs() < ROUNDING, "{} is not {in_wc}", value.in_wc());
}

fn kinds(job: &Job) -> Vec<&'static str> {
    let answer = Answer::of(job);
    let kind = |finding: &Finding| match finding {
        Finding::PartTakes { .. } => Some("part takes"),
        Finding::ReturnTakes { .. } => Some("return takes"),
        Finding::SupplyTakes { .. } => Some("supply takes"),
        Finding::DuctsTake { side: PathSide::Return, .. } => Some("return ducts"),
        Finding::DuctsTake { side: PathSide::Supply, .. } => Some("supply ducts"),
        Finding::NothingLeft { .. } => Some("nothing left"),
        Finding::LittleStatic { design: None, .. } => Some("little"),
        Finding::LittleStatic { design: Some(_), .. } => Some("half of design"),
        _ => None,
    };
    answer.findings.iter().filter_map(kind).collect()
}

#[track_caller]
fn said(job: &Job, fragment: &str) {
    let answer = Answer::of(job);
    let sentences = answer.findings.iter().map(|finding| wording::sentence(job, finding, UnitSystem::InchPound));
    let text: Vec<String> = sentences.collect();
    assert!(text.iter().any(|sentence| sentence.contains(fragment)), "no \"{fragment}\" in {text:#?}");
}

/// 0.65 − (0.10 + 0.02 + 0.20 + 0.03) = 0.30 over 100 + 200 ft: 0.10 per 100 ft, 0.10 for the return, 0.20 for the supply.
///
/// The return duct takes 0.40 − 0.07 − 0.0098 = 0.3202 at 700 cfm and 0.3202 / 0.49 at 1,000; the supply duct 0.20 − 0.098 − 0.0147 = 0.0873.
#[test]
fn a_worked_example_comes_out_as_by_hand() {
    let mut job = known(0.5);
    put(&mut job, lengths(100.0, 200.0));
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.65))]);
    let allowance = allowance(&job);
    assert_eq!((allowance.from, allowance.airflow_from), (StaticFrom::DesignStatic, AirflowFrom::Target));
    let taken: Vec<ElementKind> = allowance.taken.iter().map(|taken| taken.kind).collect();
    let flow = [ElementKind::ReturnGrille, ElementKind::Filter, ElementKind::Coil, ElementKind::Registers];
    assert_eq!(taken, flow);
    for (taken, drop) in allowance.taken.iter().zip([0.02, 0.10, 0.20, 0.03]) {
        same(taken.drop, drop);
    }
    same(allowance.left, 0.30);
    assert!((allowance.rate.unwrap().in_wc_100ft() - 0.10).abs() < ROUNDING);
    for (which, share, read, rate, verdict) in [
        (PathSide::Return, 0.10, 0.3202, 0.3202, LengthVerdict::Over),
        (PathSide::Supply, 0.20, 0.0873, 0.043_65, LengthVerdict::Within),
    ] {
        let ducts = side(&allowance, which);
        same(ducts.share.unwrap(), share);
        let taken = ducts.read.as_ref().unwrap();
        same(taken.at_reading, read);
        same(taken.at_allowance, read / 0.49);
        assert_eq!((taken.with.as_slice(), taken.standing), ([].as_slice(), PathStanding::Measured));
        let (at_reading, at_allowance) = ducts.rates().unwrap();
        assert!((at_reading.in_wc_100ft() - rate).abs() < ROUNDING);
        assert!((at_allowance.in_wc_100ft() - rate / 0.49).abs() < ROUNDING);
        assert_eq!(allowance.verdict(which), verdict);
    }
    assert_eq!(allowance.worst().unwrap().side, PathSide::Return);
    assert_eq!(kinds(&job), ["return ducts"]);
    said(
        &job,
        "The return ducts take 0.65 in. w.c. at 1,000 cfm; their length leaves them 0.10 (ANSI/ACCA 1 Manual D, recalled): 0.65 per 100 ft where 0.10 is allowed",
    );
}

/// Tap 2 delivers 700 cfm up to 0.60 and 1,000 up to 0.30: the lesser of that and the plate is what there is to share out.
///
/// At 700 cfm the parts take 0.07 + 0.0098 + 0.098 + 0.0147 = 0.1925.
#[test]
fn without_a_design_static_the_lesser_of_plate_and_tap_counts_and_in_thin_air_less_of_both() {
    let mut job = known(0.5);
    put(&mut job, lengths(100.0, 200.0));
    put(&mut job, [Edit::Target(Some(Target::Airflow(cfm(700.0))))]);
    assert_eq!(allowance(&job).from, StaticFrom::RatedMaximum);
    assert!((allowance(&job).left.in_wc() - (0.5 - 0.1925)).abs() < 1e-9);
    // At a tenth less than the table's density the plate of 0.50 allows 0.45 as read; a design static is meant as read.
    for (ratio, allowed) in [(0.9, 0.45), (1.1, 0.50)] {
        with_density_ratio(&mut job, ratio);
        same(allowance(&job).allowed, allowed);
    }
    with_density_ratio(&mut job, 0.9);
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.65))]);
    same(allowance(&job).allowed, 0.65);
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, None), Edit::Target(Some(Target::Airflow(cfm(1000.0))))]);
    with_density_ratio(&mut job, 1.0);
    let by_tap = allowance(&job);
    assert_eq!(by_tap.from, StaticFrom::Tap);
    assert!((by_tap.allowed.in_wc() - 0.30).abs() < 1e-9);
    said(&job, "The parts with data take 0.35 of 0.30 in. w.c. at 1,000 cfm; nothing is left for the ducts");
}

/// Grille and registers of unknown drop take 0.03 each, which comes off the plate's 0.50 and off what was read with the ducts.
#[test]
fn a_grille_or_registers_without_data_take_the_usual_drop() {
    let mut job = furnace(0.5);
    let edits = [
        Edit::Reading(ReadAt::Port(RETURN_PORT), vec![of(-0.40)]),
        Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![of(0.30)]),
        Edit::Target(Some(Target::Airflow(cfm(600.0)))),
        data(&job, ElementKind::Filter, 0.07, 1.0),
        data(&job, ElementKind::Coil, 0.098, 2.0),
    ];
    put(&mut job, edits);
    put(&mut job, lengths(100.0, 200.0));
    let allowance = allowance(&job);
    let taken: Vec<(ElementKind, bool)> = allowance.taken.iter().map(|taken| (taken.kind, taken.is_usual)).collect();
    let (grille, registers) = (ElementKind::ReturnGrille, ElementKind::Registers);
    assert_eq!(taken, [(grille, true), (ElementKind::Filter, false), (ElementKind::Coil, false), (registers, true)]);
    // 0.70 is the seventh row: 600 cfm, the target. Filter 0.07·6/7 = 0.06, coil 0.098·(6/7)² = 0.072.
    assert!((allowance.left.in_wc() - (0.50 - 0.06 - 0.072 - 0.06)).abs() < 1e-9, "{:?}", allowance.left);
    for (which, takes, less) in
        [(PathSide::Return, 0.40 - 0.06 - 0.03, grille), (PathSide::Supply, 0.30 - 0.072 - 0.03, registers)]
    {
        let read = side(&allowance, which).read.clone().unwrap();
        assert_eq!((read.with.as_slice(), read.less.as_slice()), ([].as_slice(), [less].as_slice()));
        assert!((read.at_allowance.in_wc() - takes).abs() < 1e-9, "{read:?}");
    }
    let words = ducts::side(&allowance, side(&allowance, PathSide::Supply), UnitSystem::InchPound).unwrap();
    assert!(words.detail.starts_with("0.20 read, 0.03 off for the registers."), "{}", words.detail);
    assert!(ducts::parts(&allowance, UnitSystem::InchPound).contains("grille 0.03 (usual), filter 0.06"));
}

#[test]
fn without_a_target_everything_stays_at_the_airflow_read() {
    let mut job = known(0.5);
    put(&mut job, lengths(100.0, 200.0));
    put(&mut job, [Edit::Target(None)]);
    let allowance = allowance(&job);
    assert_eq!(allowance.airflow_from, AirflowFrom::Reading);
    assert!((allowance.airflow.cfm() - 700.0).abs() < 1e-6);
    let read = side(&allowance, PathSide::Return).read.clone().unwrap();
    assert!((read.at_reading - read.at_allowance).abs().in_wc() < ROUNDING);
    assert!((allowance.left.in_wc() - (0.5 - 0.07 - 0.25 * 0.49)).abs() < 1e-9);
}

#[test]
fn nothing_stated_leaves_every_limit_as_it_is() {
    let job = known(0.8);
    assert_eq!(Answer::of(&job).ducts, None);
    // Filter, coil and registers are known: of the ducts the return's are over 0.15.
    assert_eq!(kinds(&job), ["part takes"]);
    // One length alone shares nothing out, and neither does a design static.
    for edit in [Edit::Number(JobNumber::ReturnLength, Some(100.0)), Edit::Number(JobNumber::DesignStatic, Some(0.65))]
    {
        let mut job = known(0.8);
        put(&mut job, [edit, Edit::Target(Some(Target::Airflow(cfm(700.0))))]);
        let allowance = allowance(&job);
        assert!(allowance.rate.is_none() && allowance.sides.iter().all(|side| side.share.is_none()));
        assert_eq!(kinds(&job), ["part takes"]);
    }
}

#[test]
fn ducts_within_their_share_are_not_held_against_common_practice() {
    let mut job = known(0.8);
    // The return takes 0.65 and the supply 0.18 at 1,000 cfm; each has half of 1.75 − 0.35.
    put(&mut job, lengths(200.0, 200.0));
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(1.75))]);
    let allowance = allowance(&job);
    assert!(PathSide::BOTH.iter().all(|side| allowance.verdict(*side) == LengthVerdict::Within));
    assert_eq!(allowance.worst(), None);
    assert_eq!(kinds(&job), ["half of design"], "0.60 is under half of 1.75, and no side is over");
    assert!(
        ducts::foot(&allowance, UnitSystem::InchPound)[0].starts_with(
            "Ducts within what their lengths leave at 1,000 cfm: return 0.65 of 0.70, supply 0.18 of 0.70"
        )
    );
}

#[test]
fn parts_that_take_everything_say_so_and_common_practice_comes_back() {
    let mut job = known(0.5);
    put(&mut job, lengths(100.0, 200.0));
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.30))]);
    let allowance = allowance(&job);
    assert!(allowance.is_spent() && allowance.rate.is_none() && allowance.worst().is_none());
    same(allowance.left, -0.05);
    // Grille and return duct take 0.40 − 0.07 and may take 0.15; the supply's 0.20 holds the coil's 0.10.
    assert_eq!(kinds(&job), ["nothing left", "part takes"]);
    let sentence = "The parts with data take 0.35 of 0.30 in. w.c. at 1,000 cfm; nothing is left for the ducts";
    said(&job, sentence);
    assert_eq!(ducts::left(&allowance, UnitSystem::InchPound), sentence);
}

/// The filter of this demo has no data: it stands in the read drop of the return.
#[test]
fn an_unknown_filter_leaves_only_a_bound_until_it_has_data() {
    let mut job = demo::heat_pump();
    put(&mut job, lengths(150.0, 150.0));
    let bound = allowance(&job);
    assert_eq!(bound.missing(), [ElementKind::Filter]);
    let read = side(&bound, PathSide::Return).read.clone().unwrap();
    assert_eq!(
        (read.with.as_slice(), read.less.as_slice()),
        (&[ElementKind::Filter][..], &[ElementKind::ReturnGrille][..])
    );
    // What the tap delivers the target at is under the plate's 0.70; the usual 0.03 of the grille is meant at the target.
    let answer = Answer::of(&job);
    let now = answer.point().unwrap().now.airflow;
    let highest = answer.tap_in_use().unwrap().need.unwrap().highest().unwrap();
    assert_eq!((bound.from, bound.allowed), (StaticFrom::Tap, highest));
    same(bound.left, highest.in_wc() - 0.06);
    same(read.at_reading, 0.52 - 0.03 * (now / bound.airflow).powi(2));
    assert_eq!(side(&bound, PathSide::Return).rates(), None, "the filter is no duct");
    let words = ducts::side(&bound, side(&bound, PathSide::Return), UnitSystem::InchPound).unwrap();
    assert_eq!(words.headline, format!("Return: at most {:.2} in. w.c. left", bound.left.in_wc() / 2.0));
    assert_eq!(words.detail, "0.50 read with the filter, not the ducts alone.");
    assert_eq!(bound.verdict(PathSide::Return), LengthVerdict::NotSaid, "its filter stands in its reading");
    // 0.31 in. w.c. at 1,202 cfm is 0.41 at the target's 1,387; half of what the tap leaves is the most that its length can have.
    assert_eq!(bound.verdict(PathSide::Supply), LengthVerdict::Over);
    assert_eq!(kinds(&job), ["supply ducts", "return takes"]);
    let wanted = ducts::wanted(&job, &Answer::of(&job));
    assert_eq!(wanted, ["The filter's drop is not known: click it on the air path to type it by data."]);
    let filter = id(&job, ElementKind::Filter);
    put(&mut job, [Edit::ElementDrop(filter, Some(DropData::at(cfm(1400.0), of(0.2), 1.2).unwrap()))]);
    let known = allowance(&job);
    assert!(known.missing().is_empty() && known.left < bound.left);
    let read = side(&known, PathSide::Return).read.clone().unwrap();
    assert!(read.with.is_empty());
    assert_eq!(kinds(&job), ["return ducts", "supply ducts"]);
    said(&job, "The return ducts take ");
    let words = known.sides.iter().map(|side| ducts::side(&known, side, UnitSystem::InchPound).unwrap().headline);
    let words: Vec<String> = words.collect();
    assert!(words[0].ends_with(" · most over") && words[1].ends_with(" · over"), "{words:?}");
}

/// A bound that is passed is passed for certain: what the coil takes would only make the share smaller.
///
/// The tap delivers 1,000 up to 0.30; less 0.10 for the filter and 0.03 each for grille and registers that leaves 0.14, of which 200 of 500 ft have 0.056.
#[test]
fn a_side_over_a_bound_is_over_though_the_other_sides_coil_is_unknown() {
    let mut job = furnace(0.5);
    put(&mut job, lengths(200.0, 300.0));
    let edit = data(&job, ElementKind::Filter, 0.07, 1.0);
    put(&mut job, [edit]);
    let allowance = allowance(&job);
    assert_eq!(allowance.missing(), [ElementKind::Coil]);
    assert_eq!(allowance.verdict(PathSide::Return), LengthVerdict::Over);
    assert_eq!(allowance.verdict(PathSide::Supply), LengthVerdict::NotSaid, "its coil stands in its reading");
    assert_eq!(kinds(&job), ["return ducts"], "0.20 on the supply is less than its coil alone may take");
    said(&job, "their length leaves them at most 0.06 (");
    let foot = ducts::foot(&allowance, UnitSystem::InchPound);
    assert!(foot.iter().all(|wording| wording.contains("at most 0.06")), "{foot:?}");
}

#[test]
fn a_change_on_a_duct_moves_nothing_that_was_read() {
    let mut job = demo::heat_pump();
    put(&mut job, lengths(150.0, 150.0));
    let before = allowance(&job);
    let duct = id(&job, ElementKind::ReturnDuct);
    put(&mut job, [Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.5 }))]);
    let after = allowance(&job);
    assert_eq!((before.left, &before.unknown), (after.left, &after.unknown), "usual weights are no data");
    for which in PathSide::BOTH {
        let read = |allowance: &DuctAllowance| side(allowance, which).read.clone().unwrap();
        let (before, after) = (read(&before), read(&after));
        assert_eq!((before.with, before.standing), (after.with, after.standing));
        assert!((before.at_reading - after.at_reading).abs().in_wc() < ROUNDING);
    }
}

#[test]
fn a_stated_share_counts_as_the_parts_drop() {
    let mut job = demo::heat_pump();
    put(&mut job, lengths(150.0, 150.0));
    let filter = id(&job, ElementKind::Filter);
    put(&mut job, [Edit::Share(filter, Some(0.4))]);
    let allowance = allowance(&job);
    let taken: Vec<(ElementKind, PathStanding)> =
        allowance.taken.iter().map(|taken| (taken.kind, taken.standing)).collect();
    let usual = PathStanding::Assumed;
    let (grille, registers) = (ElementKind::ReturnGrille, ElementKind::Registers);
    assert_eq!(taken, [(grille, usual), (ElementKind::Filter, PathStanding::Shared), (registers, usual)]);
    let read = side(&allowance, PathSide::Return).read.clone().unwrap();
    assert_eq!((read.less.as_slice(), read.standing), ([ElementKind::ReturnGrille].as_slice(), PathStanding::Shared));
    let now = Answer::of(&job).point().unwrap().now.airflow;
    same(read.at_reading, 0.52 * 0.6 - 0.03 * (now / allowance.airflow).powi(2));
}

/// The two ports stand apart: neither side's ducts may count what is read on the other side, nor a stretch behind another port.
#[test]
fn a_port_between_the_duct_and_a_part_keeps_them_apart() {
    let mut job = furnace(0.5);
    put(&mut job, lengths(100.0, 100.0));
    let duct = id(&job, ElementKind::ReturnDuct);
    put(&mut job, [Edit::MovePort(RETURN_PORT, duct)]);
    let edit = data(&job, ElementKind::Filter, 0.07, 1.0);
    put(&mut job, [edit]);
    let allowance = allowance(&job);
    let read = side(&allowance, PathSide::Return).read.clone().unwrap();
    assert_eq!(read.less, [ElementKind::ReturnGrille]);
    let now = Answer::of(&job).point().unwrap().now.airflow;
    same(read.at_reading, 0.40 - 0.03 * (now / allowance.airflow).powi(2));
    let supply = side(&allowance, PathSide::Supply).read.as_ref().unwrap();
    assert_eq!(
        (supply.with.as_slice(), supply.less.as_slice()),
        (&[ElementKind::Coil][..], &[ElementKind::Registers][..])
    );
}

#[test]
fn a_single_total_shares_out_what_is_left_and_judges_no_side() {
    let mut job = known(0.8);
    put(&mut job, lengths(100.0, 200.0));
    put(
        &mut job,
        [
            Edit::Number(JobNumber::DesignStatic, Some(0.80)),
            Edit::Reading(ReadAt::Port(RETURN_PORT), Vec::new()),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), Vec::new()),
            Edit::Reading(ReadAt::Total, vec![of(0.6)]),
        ],
    );
    let allowance = allowance(&job);
    same(allowance.left, 0.45);
    same(side(&allowance, PathSide::Return).share.unwrap(), 0.15);
    assert!(allowance.sides.iter().all(|side| side.read.is_none()));
    assert_eq!(kinds(&job), [] as [&str; 0]);
}

#[test]
fn a_machine_without_a_return_duct_leaves_everything_to_the_supply() {
    let mut job = furnace(0.8);
    put(&mut job, [Edit::Machine(Box::new(straight(EquipmentKind::NoReturnDuct, 0.8)))]);
    put(&mut job, lengths(100.0, 200.0));
    let allowance = allowance(&job);
    assert_eq!(allowance.sides.len(), 1);
    let supply = side(&allowance, PathSide::Supply);
    assert_eq!(supply.share, Some(allowance.left));
    assert!((allowance.rate.unwrap().in_wc_100ft() - allowance.left.in_wc() / 2.0).abs() < ROUNDING);
    let wanted = ducts::wanted(&job, &Answer::of(&job));
    assert!(
        wanted.iter().any(|sentence| sentence == "This air path has no return duct; its length does not count."),
        "{wanted:?}"
    );
}

/// The slot was empty during the readings; the system still has its filter.
#[test]
fn a_filter_out_of_its_slot_still_comes_off() {
    let mut job = known(0.8);
    put(&mut job, lengths(100.0, 200.0));
    let filter = id(&job, ElementKind::Filter);
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.80)), Edit::PartOut(filter, true)]);
    let allowance = allowance(&job);
    same(allowance.left, 0.45);
    same(side(&allowance, PathSide::Return).read.as_ref().unwrap().at_reading, 0.40 - 0.0098);
}

#[test]
fn a_table_without_a_plate_starts_from_the_tap_or_asks_for_the_design_static() {
    let mut job = known(0.8);
    job.machine.as_mut().unwrap().rated_maximum = None;
    put(&mut job, lengths(100.0, 200.0));
    assert_eq!(allowance(&job).from, StaticFrom::Tap);
    put(&mut job, [Edit::Target(None)]);
    let answer = Answer::of(&job);
    assert_eq!(answer.ducts, None);
    let wanted = ducts::wanted(&job, &answer);
    assert_eq!(
        wanted,
        ["No rated maximum and no target to start from: type the static that the system was designed for."]
    );
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.65))]);
    assert_eq!(allowance(&job).from, StaticFrom::DesignStatic);
    assert!(ducts::wanted(&job, &Answer::of(&job)).is_empty());
}

/// Model §9: under half of the design, or under 0.20 in. w.c.
#[test]
fn too_little_static_is_held_against_half_of_the_design_as_well() {
    let cases = [
        ((-0.10, 0.20), Some(0.70), &["half of design"] as &[&str]),
        ((-0.10, 0.20), Some(0.58), &[]),
        ((-0.10, 0.20), None, &[]),
        ((-0.05, 0.10), Some(0.70), &["little"]),
    ];
    for ((before, after), design, expected) in cases {
        let mut job = furnace(0.8);
        put(
            &mut job,
            [
                Edit::Reading(ReadAt::Port(RETURN_PORT), vec![of(before)]),
                Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![of(after)]),
                Edit::Number(JobNumber::DesignStatic, design),
            ],
        );
        assert_eq!(kinds(&job), expected, "{before} {after} {design:?}");
        if expected == ["half of design"] {
            said(&job, "0.30 in. w.c. is under half of the design static of 0.70: look for a leak or an open duct");
        }
    }
}

#[test]
fn a_design_over_the_plate_is_a_question() {
    let mut job = furnace(0.5);
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.8))]);
    let problems = Answer::of(&job).problems;
    let sentence = "A design static of 0.80 in. w.c. is over the rated maximum of 0.50; is it meant so?";
    assert!(
        problems.iter().any(|problem| problems::sentence(&problem.what, UnitSystem::InchPound) == sentence),
        "{problems:?}"
    );
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.5))]);
    assert!(Answer::of(&job).problems.is_empty());
}

#[test]
fn the_sentences_carry_the_units_shown() {
    let mut job = known(0.5);
    put(&mut job, lengths(100.0, 200.0));
    put(&mut job, [Edit::Number(JobNumber::DesignStatic, Some(0.65))]);
    let allowance = allowance(&job);
    let ducts_back = side(&allowance, PathSide::Return);
    let words = ducts::side(&allowance, ducts_back, UnitSystem::InchPound).unwrap();
    assert_eq!(words.headline, "Return: 0.10 in. w.c. left, takes 0.65 · over");
    assert_eq!(words.detail, "0.32 read, 0.65 at 1,000 cfm. 0.10 per 100 ft allowed, 0.32 read, 0.65 at 1,000 cfm.");
    let words = ducts::side(&allowance, ducts_back, UnitSystem::SiLitres).unwrap();
    // 0.10 in. w.c. is 25 Pa; 0.10 per 100 ft is 24.9 Pa over 30.48 m.
    assert_eq!(words.headline, "Return: 25 Pa left, takes 163 · over");
    assert!(words.detail.contains("0.82 Pa/m allowed, 2.62 read, 5.34 at 470 L/s"), "{}", words.detail);
    let foot = ducts::foot(&allowance, UnitSystem::InchPound);
    let drops = "Ducts: 0.10 in. w.c. left for the return, 0.32 read, 0.65 at 1,000 cfm";
    assert_eq!(foot[0], format!("{drops}; 0.10 per 100 ft allowed, 0.65 taken"));
    assert_eq!(foot[1], drops);
    assert!(foot.is_sorted_by_key(|wording| std::cmp::Reverse(wording.chars().count())), "longest first: {foot:?}");
    assert_eq!(
        ducts::parts(&allowance, UnitSystem::InchPound),
        "At the target, 1,000 cfm, parts take 0.35 of 0.65 in. w.c. (design static): grille 0.02, filter 0.10, coil 0.20, registers 0.03."
    );
    assert_eq!(ducts::left(&allowance, UnitSystem::InchPound), "Left for the ducts: 0.30 in. w.c., 0.10 per 100 ft");
}
