//! Parts that the table contains: as they are, as they were tested, and what changes do to them.

use std::sync::atomic::AtomicBool;

use super::house::*;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, CoilInTest, EquipmentKind, PartInTest};
use tapcross::model::facts::change::{
    ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OtherCoilState, Replacement,
};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::facts::target::Target;
use tapcross::model::path::tesp::Assumption;
use tapcross::model::verdicts::system::NotRunning;
use tapcross::model::{search, wording};
use tapcross::units::{Area, UnitSystem};

type Law = Box<dyn Fn(f64) -> f64>;

fn id(job: &Job, kind: ElementKind) -> ElementId {
    job.path.first(kind).expect("the part").id
}

/// Filter, coil and heater in the table; 0.12 before the cabinet and 0.25 behind it.
fn handler() -> Job {
    let basis =
        Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() };
    let mut job = torque(EquipmentKind::DrawThroughAirHandler, basis);
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.12);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.25);
    job
}

/// The same, whose table prints 0.10 at 1,200 cfm for its filter, with airflow to the power 1.2.
fn with_filter_drop() -> Job {
    let mut job = handler();
    job.machine.as_mut().expect("a machine").corrections.filter_as_tested = Some(data(1200.0, 0.10, 1.2));
    job
}

fn copy_of(job: &Job) -> Replacement {
    let table = job.machine.clone().expect("a machine");
    Replacement { table, tap: Some("2".to_owned()), leaves: Vec::new(), coil: None, filter: None, target: None }
}

fn changed(job: &Job, new: Replacement) -> Job {
    with(job.clone(), [ChangeKind::OtherMachine(Box::new(new))])
}

/// A filter that the table contains stands before a coil that it does not: the static that was read has the filter's own drop in it already, so only what it dropped when tested comes off.
///
/// 0.30 + 0.20 read + 0.20·(Q/1200)² for the coil = the static; less 0.10·(Q/1200)² as tested = the entry; both meet the tap at 1,260 cfm.
#[test]
fn a_tested_filter_cut_off_from_the_blower_comes_off_and_nothing_is_counted_twice() {
    let basis = Basis { filter: PartInTest::Included, heater: PartInTest::Included, ..Basis::default() };
    let mut job = torque(EquipmentKind::DrawThroughAirHandler, basis);
    job.machine.as_mut().expect("a machine").corrections.filter_as_tested = Some(data(1200.0, 0.10, 2.0));
    let (filter, coil, heater) =
        (id(&job, ElementKind::Filter), id(&job, ElementKind::Coil), id(&job, ElementKind::Heater));
    element(&mut job, filter).drop = Some(data(1200.0, 0.16, 2.0));
    element(&mut job, coil).drop = Some(data(1200.0, 0.20, 2.0));
    move_port(&mut job, RETURN_PORT, filter);
    move_port(&mut job, SUPPLY_PORT, heater);
    read(&mut job, ReadAt::Port(RETURN_PORT), -0.30);
    read(&mut job, ReadAt::Port(SUPPLY_PORT), 0.20);
    let now = running(&job).now;
    let right = meet(&curve_in(&job, "2"), |flow| 0.50 + law(1200.0, 0.20, 2.0)(flow) - law(1200.0, 0.10, 2.0)(flow));
    assert_near("airflow", now.airflow.cfm(), right.0, SAME);
    assert!((right.0 - 1260.0).abs() < 1.0, "{right:?}");
    assert_near("static", now.tesp.in_wc(), 0.50 + law(1200.0, 0.20, 2.0)(right.0), SAME);
    let (copy, tesp) = point_after(&changed(&job, copy_of(&job)));
    assert_near("its own copy", copy, now.airflow.cfm(), SAME);
    assert_near("its own copy", tesp, now.tesp.in_wc(), SAME);
}

/// 0.55 over a coil that drops 0.25 at 1,200 cfm when clean: what is over that works against the blower.
#[test]
fn a_fouled_coil_inside_the_machine_is_entered_into_the_table() {
    let mut job = handler();
    let coil = id(&job, ElementKind::Coil);
    element(&mut job, coil).drop = Some(data(1200.0, 0.25, 1.8));
    let clean = running(&job).now;
    assert_near("clean it is as tested", clean.entry.in_wc(), 0.37, SAME);
    read(&mut job, ReadAt::Across(coil), 0.55);
    let now = running(&job).now;
    let right = meet(&curve_in(&job, "2"), |flow| 0.37 + 0.55 - law(1200.0, 0.25, 1.8)(flow));
    assert_near("airflow", now.airflow.cfm(), right.0, SAME);
    assert_near("the plate sees what was read", now.tesp.in_wc(), 0.37, SAME);
    assert!(now.airflow < clean.airflow * 0.95, "{} of {}", now.airflow.cfm(), clean.airflow.cfm());
    let loose: Vec<String> = asked(&job).into_iter().filter(|said| said.contains("coil")).collect();
    assert!(loose.is_empty(), "{loose:?}");
    // 0.25·(1245/1200)^1.8 = 0.267 when clean; 0.283 is more.
    let said = told(&job);
    assert!(
        said.iter()
            .any(|said| said
                .starts_with("0.55 in. w.c. is read across the coil, 0.28 more than when the table was made")),
        "{said:?}"
    );
    assert!(said.iter().any(|said| said.starts_with("Enter the table at 0.65")), "{said:?}");
    read(&mut job, ReadAt::Across(coil), 0.22);
    assert!(!told(&job).iter().any(|said| said.contains("more than when")), "as it was");
}

/// Ports on both sides of filter and coil read 0.15 and 0.28 over them, as a manometer across each would.
#[test]
fn ports_about_a_part_inside_the_machine_read_its_drop() {
    let mut job = with_filter_drop();
    let (filter, coil) = (id(&job, ElementKind::Filter), id(&job, ElementKind::Coil));
    element(&mut job, coil).drop = Some(data(1200.0, 0.25, 1.8));
    read_after(&mut job, filter, -0.27);
    read_after(&mut job, coil, -0.55);
    let tested = |flow: f64| law(1200.0, 0.10, 1.2)(flow) + law(1200.0, 0.25, 1.8)(flow);
    let right = meet(&curve_in(&job, "2"), |flow| 0.37 + 0.15 + 0.28 - tested(flow));
    assert_near("airflow", running(&job).now.airflow.cfm(), right.0, SAME);
    let said = asked(&job);
    assert!(said.is_empty(), "{said:?}");
    element(&mut job, coil).drop = None;
    assert!(
        asked(&job).iter().any(|said| said.starts_with("0.28 in. w.c. is read across the coil")),
        "{:?}",
        asked(&job)
    );
}

/// A coil so fouled that the table is entered past its curve: what is said lies past it too, at whatever airflow.
#[test]
fn a_coil_too_fouled_for_the_table_is_said_to_lie_past_its_end() {
    let mut job = handler();
    let coil = id(&job, ElementKind::Coil);
    element(&mut job, coil).drop = Some(data(1200.0, 0.25, 1.8));
    read(&mut job, ReadAt::Across(coil), 0.98);
    // 0.37 + 0.98 − 0.25·(Q/1200)^1.8 is 1.12 at the last row's 1,151 cfm, and more where the curve ends.
    let why = Answer::of(&job).found.err().map(|idle| idle.why);
    let Some(NotRunning::PastTheEnd { entry, end, .. }) = why else { panic!("{why:?}") };
    assert!((end.in_wc() - 1.125).abs() < 1e-9 && entry > end, "{entry:?} of {end:?}");
}

/// What the findings say.
fn told(job: &Job) -> Vec<String> {
    let answer = Answer::of(job);
    answer.findings.iter().map(|finding| wording::sentence(job, finding, UnitSystem::InchPound)).collect()
}

#[test]
fn what_is_read_inside_the_machine_with_nothing_to_hold_it_against_is_said() {
    for (kind, name) in
        [(ElementKind::Coil, "coil"), (ElementKind::Filter, "filter"), (ElementKind::Heater, "electric heater")]
    {
        let mut job = handler();
        let part = id(&job, kind);
        read(&mut job, ReadAt::Across(part), 0.55);
        assert_near("the entry stays", running(&job).now.entry.in_wc(), 0.37, SAME);
        let said = asked(&job);
        let right = format!("0.55 in. w.c. is read across the {name}, which the table contains");
        assert!(said.iter().any(|said| said.starts_with(&right)), "{said:?}");
    }
}

/// A coil that took 0.55 and of whose drop half was dirt: 0.275 as it will be, 0.25 as tested.
#[test]
fn a_coil_inside_the_machine_is_cleaned() {
    let mut job = handler();
    let coil = id(&job, ElementKind::Coil);
    element(&mut job, coil).drop = Some(data(1200.0, 0.25, 1.8));
    read(&mut job, ReadAt::Across(coil), 0.55);
    let airflow = running(&job).now.airflow.cfm();
    let cleaned = with(job.clone(), [ChangeKind::CleanCoil(CleanCoil { element: coil, fraction: 0.5 })]);
    let path = |flow: f64| law(airflow, 0.37, 2.0)(flow);
    let entry = |flow: f64| path(flow) + law(airflow, 0.275, 1.8)(flow) - law(1200.0, 0.25, 1.8)(flow);
    let right = meet(&curve_in(&job, "2"), entry);
    let (found, tesp) = point_after(&cleaned);
    assert_near("airflow", found, right.0, 1e-7);
    assert_near("the plate sees the path alone", tesp, path(found), 1e-7);
    assert!(found > airflow * 1.05, "{found} of {airflow}");
}

/// Loaded to one and a half times 0.10, the filter takes 0.05 at 1,200 cfm that the table does not have.
#[test]
fn a_filter_inside_the_machine_is_loaded_renewed_and_enlarged() {
    let job = with_filter_drop();
    let filter = id(&job, ElementKind::Filter);
    let airflow = running(&job).now.airflow.cfm();
    assert_near("as tested", running(&job).now.entry.in_wc(), 0.37, SAME);
    let path = |flow: f64| law(airflow, 0.37, 2.0)(flow);
    let tested = law(1200.0, 0.10, 1.2);
    let area = |in2| Area::from_in2(in2);
    let cases: [(ChangeKind, Law); 4] = [
        (
            ChangeKind::FilterLoading(FilterLoading { element: filter, factor: 1.5 }),
            Box::new(|flow| law(1200.0, 0.15, 1.2)(flow)),
        ),
        (
            ChangeKind::ByData(ByData { element: filter, data: data(1200.0, 0.06, 1.0) }),
            Box::new(|flow| law(1200.0, 0.06, 1.0)(flow)),
        ),
        (
            ChangeKind::MoreFilterArea(MoreFilterArea { element: filter, now: area(400.0), then: area(800.0) }),
            Box::new(|flow| law(2400.0, 0.10, 1.2)(flow)),
        ),
        (ChangeKind::LessByHand(LessByHand { element: filter, fraction: 1.0 }), Box::new(|_| 0.0)),
    ];
    for (kind, then) in cases {
        let name = kind.declaration().name;
        let right = meet(&curve_in(&job, "2"), |flow| path(flow) + then(flow) - tested(flow));
        let (found, tesp) = point_after(&with(job.clone(), [kind]));
        assert_near(name, found, right.0, 1e-7);
        assert_near(name, tesp, path(found), 1e-7);
    }
}

/// The table prints nothing for a wet coil; its own 0.25 when dry and a factor of 1.3 say what it takes more.
#[test]
fn a_coil_inside_the_machine_is_wetted_by_a_factor_where_the_table_prints_nothing() {
    let mut job = handler();
    let element_id = id(&job, ElementKind::Coil);
    let wet = |job: &Job| {
        let change = OtherCoilState { element: element_id, factor: 1.3 };
        with(job.clone(), [ChangeKind::OtherCoilState(change)])
    };
    let refused = projected(&wet(&job)).refused;
    assert!(refused[0].1.to_string().contains("give its clean drop by data"), "{refused:?}");
    element(&mut job, element_id).drop = Some(data(1200.0, 0.25, 1.8));
    let airflow = running(&job).now.airflow.cfm();
    let path = |flow: f64| law(airflow, 0.37, 2.0)(flow);
    let right = meet(&curve_in(&job, "2"), |flow| path(flow) + 0.3 * law(1200.0, 0.25, 1.8)(flow));
    let changed = wet(&job);
    assert_near("airflow", point_after(&changed).0, right.0, 1e-7);
    let details = changed.changes[0].kind.details(&changed, UnitSystem::InchPound);
    assert_eq!(details.as_deref(), Some("wet instead of dry, 1.3 times its drop"));
    // A search leaves it as it is switched.
    job.target = Some(Target::Airflow(cfm(right.0)));
    job.limits.accept_band = 0.01;
    let searched = search::cheapest(&wet(&job), &AtomicBool::new(false), &mut |_| {});
    assert_near("the search", searched.best[0].crossing.airflow.cfm(), right.0, 1e-7);
}

#[test]
fn a_part_of_the_table_whose_drop_nobody_knows_is_refused_in_words() {
    let mut job = handler();
    let filter = id(&job, ElementKind::Filter);
    let load = || ChangeKind::FilterLoading(FilterLoading { element: filter, factor: 1.5 });
    read(&mut job, ReadAt::Across(filter), 0.15);
    let refused = projected(&with(job.clone(), [load()])).refused;
    assert!(refused[0].1.to_string().starts_with("The filter is no external part"), "{refused:?}");
    element(&mut job, filter).drop = Some(data(1200.0, 0.10, 1.2));
    assert!(projected(&with(job, [load()])).refused.is_empty());
}

/// The search puts a new filter into the slot as the window does.
#[test]
fn the_search_finds_a_new_filter_inside_the_machine() {
    let mut job = with_filter_drop();
    let filter = id(&job, ElementKind::Filter);
    element(&mut job, filter).drop = Some(data(1200.0, 0.30, 1.2));
    let mut job = with(job, [ChangeKind::ByData(ByData { element: filter, data: data(1200.0, 0.06, 1.2) })]);
    job.changes[0].price = Some(80.0);
    let (after, _) = point_after(&job);
    assert!(after > running(&job).now.airflow.cfm() * 1.04);
    job.target = Some(Target::Airflow(cfm(after)));
    job.limits.accept_band = 0.02;
    let found = search::cheapest(&job, &AtomicBool::new(false), &mut |_| {});
    assert_eq!(found.best.len(), 1, "{found:?}");
    assert_near("the same point", found.best[0].crossing.airflow.cfm(), after, 1e-9);
    assert_near("the same static", found.best[0].crossing.tesp.in_wc(), point_after(&job).1, 1e-9);
}

/// A heater of 0.08 where the table had one of 0.05; taken out, its 0.05 comes off; what it dropped unknown, that is said.
#[test]
fn a_heater_of_the_table_counts_as_it_is_and_as_it_was() {
    let entry = |job: &Job| running(job).now.entry.in_wc();
    let mut job = handler();
    let heater = id(&job, ElementKind::Heater);
    let printed = data(1200.0, 0.05, 2.0);
    job.machine.as_mut().expect("a machine").corrections.heater = Some(printed);
    assert_near("as tested", entry(&job), 0.37, SAME);
    let curve = curve_in(&job, "2");
    let mut out = job.clone();
    out.sets[0].parts_out = vec![heater];
    let right = meet(&curve, |flow| 0.37 - law(1200.0, 0.05, 2.0)(flow));
    assert_near("out of its place", entry(&out), right.1, SAME);
    out.machine.as_mut().expect("a machine").corrections.heater = None;
    assert_near("nothing known", entry(&out), 0.37, SAME);
    assert_eq!(running(&out).sum.assumptions, [Assumption::AsTestedUnknown(ElementKind::Heater)]);
    assert_eq!(running(&out).standing.path, PathStanding::Assumed);
    element(&mut job, heater).drop = Some(data(1200.0, 0.08, 2.0));
    let right = meet(&curve, |flow| 0.37 + law(1200.0, 0.03, 2.0)(flow));
    assert_near("another one", entry(&job), right.1, SAME);
    read(&mut job, ReadAt::Across(heater), 0.09);
    let right = meet(&curve, |flow| 0.37 + 0.09 - law(1200.0, 0.05, 2.0)(flow));
    assert_near("as read", entry(&job), right.1, SAME);
}

/// Another machine whose table has a filter gets one of its own: what it takes more than as tested counts, and no more.
#[test]
fn another_machines_filter_and_coil_in_its_table_are_held_against_it() {
    let job = with_filter_drop();
    let airflow = running(&job).now.airflow.cfm();
    let with_filter = |drop: f64| Replacement { filter: Some(data(1200.0, drop, 1.2)), ..copy_of(&job) };
    assert_near("as tested", point_after(&changed(&job, with_filter(0.10))).0, airflow, SAME);
    let path = |flow: f64| law(airflow, 0.37, 2.0)(flow);
    let right = meet(&curve_in(&job, "2"), |flow| path(flow) + law(1200.0, 0.06, 1.2)(flow));
    let (found, tesp) = point_after(&changed(&job, with_filter(0.16)));
    assert_near("0.06 more", found, right.0, 1e-7);
    assert_near("the path alone", tesp, path(found), 1e-7);
    let coil = Replacement { coil: Some(data(1200.0, 0.25, 1.8)), ..copy_of(&job) };
    assert_near("a clean coil is the table's", point_after(&changed(&job, coil)).0, airflow, SAME);
    // Loaded afterwards it is the new one, loaded.
    let filter = id(&job, ElementKind::Filter);
    let loaded = with(
        changed(&job, with_filter(0.16)),
        [
            ChangeKind::OtherMachine(Box::new(with_filter(0.16))),
            ChangeKind::FilterLoading(FilterLoading { element: filter, factor: 2.0 }),
        ],
    );
    let mut loaded = loaded;
    loaded.changes.remove(0);
    let right = meet(&curve_in(&job, "2"), |flow| path(flow) + law(1200.0, 0.22, 1.2)(flow));
    assert_near("loaded", point_after(&loaded).0, right.0, 1e-7);
}
