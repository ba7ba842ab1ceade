//! Whatever an edit accepts, a file holds: wild edits one after the other on jobs of every kind, each job written and read again.

use std::collections::BTreeSet;
use std::mem::discriminant;

use proptest::prelude::*;
use tapcross::edit::{self, Edit};
use tapcross::files::{blower_file, demo, job_file};
use tapcross::history::History;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::chain::Beside;
use tapcross::model::facts::air_path::{ElementId, ElementKind, PortId, RETURN_PORT};
use tapcross::model::facts::blower::{BlowerTable, Cell, EquipmentKind, Tap, TapData};
use tapcross::model::facts::change::{
    BelowTable, Change, ChangeId, ChangeKind, CleanCoil, FilterLoading, LessByHand, OpenRegisters, OtherCoilState,
    Replacement, Switch,
};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::limits::{MOST_CHANGES, MOST_ELEMENTS, MOST_LOOKS, MOST_TAPS};
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::refusal::Refusal;
use tapcross::model::facts::target::Target;
use tapcross::units::{Airflow, Barometer, Capacity, Density, HeatRate, Pressure};

mod arbitrary_edits;
#[path = "support/same_cases.rs"]
mod same_cases;

use arbitrary_edits::{CHANGE_KINDS, KINDS, Wild, beginnings, seeded};
use same_cases::config;

/// Edits that are tried on one job, one after the other.
const TRIES: usize = 60;

/// Applies wild edits to a job; after each that is taken, the job can be written, read and answered, and undone. How many were taken.
fn edited(name: &str, mut job: Job, numbers: &mut dyn FnMut() -> u64) -> usize {
    let mut taken = 0;
    for _ in 0..TRIES {
        let edit = Wild::new(numbers).edit(&job);
        let (said, is_look) = (format!("{edit:?}"), edit.is_look());
        let would = edit::check(&job, &edit);
        let mut history = History::of_saved(job.clone());
        let done = history.apply(edit);
        let told = |said: &Result<(), Refusal>| said.as_ref().map_err(ToString::to_string).copied();
        assert_eq!(told(&done), told(&would), "{name}: asked beforehand, {said} has another answer");
        if let Err(sentence) = done {
            is_one_sentence(&sentence.to_string(), &said);
            assert_eq!(history.job(), &job, "{name}: {said} is refused ({sentence}) and has changed the job");
            continue;
        }
        taken += 1;
        let then = history.job().clone();
        a_file_holds(name, &said, &then);
        if is_look {
            assert!(job.is_but_for_the_look(&then) && history.undo().is_none(), "{name}: {said} changes nothing");
        } else {
            history.undo();
            assert_eq!(history.job(), &job, "{name}: {said} undone");
        }
        job = then;
    }
    taken
}

fn is_one_sentence(sentence: &str, edit: &str) {
    let is_short = sentence.chars().count() < 4000 && !sentence.contains(char::is_control);
    let begins =
        sentence.chars().next().is_some_and(|first| first.is_uppercase() || first.is_numeric() || first == '−');
    assert!(is_short && begins, "{sentence:?} is no sentence: {edit}");
}

/// A job that an edit has left is one that a file holds and that has an answer.
fn a_file_holds(name: &str, edit: &str, job: &Job) {
    if let Err(refused) = job_file::check(job) {
        panic!("{name}: {edit} is taken, and no file holds the job: {refused}");
    }
    let text = job_file::write(job);
    let read = job_file::parse(&text).unwrap_or_else(|refused| panic!("{name}: after {edit}: {refused}"));
    assert_eq!(&read, job, "{name}: after {edit} the job comes back another");
    assert_eq!(job_file::write(&read), text, "{name}: after {edit} the text comes back another");
    for table in job.machine.iter().chain(job.changes.iter().filter_map(table_of)) {
        let own = blower_file::parse(&blower_file::write(table));
        assert_eq!(own.as_ref(), Ok(table), "{name}: after {edit} a table's own file brings another back");
    }
    let _ = Answer::of(job);
}

fn table_of(change: &Change) -> Option<&BlowerTable> {
    match &change.kind {
        ChangeKind::OtherMachine(new) => Some(&new.table),
        _ => None,
    }
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn whatever_an_edit_accepts_a_file_holds(seed in any::<u64>()) {
        for (name, job) in beginnings() {
            edited(&name, job, &mut seeded(seed));
        }
    }
}

#[test]
fn the_wild_edits_are_of_every_kind_and_many_are_taken() {
    let mut numbers = seeded(1);
    let mut kinds = BTreeSet::new();
    let mut changes = BTreeSet::new();
    let mut taken = 0;
    for (name, job) in beginnings() {
        for kind in (0..KINDS).cycle().take(KINDS * 8) {
            kinds.insert(format!("{:?}", discriminant(&Wild::new(&mut numbers).edit_of(kind, &job))));
        }
        for kind in 0..CHANGE_KINDS {
            changes.insert(format!("{:?}", discriminant(&Wild::new(&mut numbers).change_kind_of(kind, &job))));
        }
        taken += edited(&name, job, &mut numbers);
    }
    let declared = [
        kinds_in(include_str!("../src/edit.rs"), "pub enum Edit {"),
        kinds_in(include_str!("../src/model/facts/change/mod.rs"), "pub enum ChangeKind {"),
    ];
    assert_eq!([kinds.len(), changes.len()], declared, "kinds of edits and of changes");
    assert!(taken > TRIES, "{taken} edits were taken");
}

/// How many cases a source declares for an enum.
fn kinds_in(source: &str, head: &str) -> usize {
    let (_, body) = source.split_once(head).expect("the enum");
    let (body, _) = body.split_once("\n}").expect("its end");
    let is_case = |line: &&str| line.strip_prefix("    ").is_some_and(|rest| rest.starts_with(char::is_uppercase));
    body.lines().filter(is_case).count()
}

fn furnace() -> Job {
    demo::gas_furnace()
}

/// The furnace's table with something else about it.
fn table_with(bend: impl FnOnce(&mut BlowerTable)) -> BlowerTable {
    let mut table = furnace().machine.expect("the demo has a machine");
    bend(&mut table);
    table
}

fn another(table: BlowerTable, target: Option<Target>) -> ChangeKind {
    ChangeKind::OtherMachine(Box::new(Replacement {
        table,
        tap: None,
        leaves: Vec::new(),
        coil: None,
        filter: None,
        target,
    }))
}

/// Each was once taken by an edit, and the job could then be neither saved nor opened again.
#[test]
fn what_no_file_takes_no_edit_takes() {
    let job = furnace();
    let first = |kind| job.path.all().into_iter().find(|element| element.kind == kind).expect("it is there").id;
    let (filter, coil, registers) =
        (first(ElementKind::Filter), first(ElementKind::Coil), first(ElementKind::Registers));
    let tons = |tons| Target::PerTon { capacity: Capacity::from_tons(tons), per_ton: Airflow::from_cfm(400.0) };
    let machine = |bend: fn(&mut BlowerTable)| Edit::Machine(Box::new(table_with(bend)));
    let change = Edit::AddChange;
    let cases = [
        (change(another(table_with(|_| {}), Some(tons(30.0)))), "A capacity of 30 ton cannot be"),
        (
            change(another(table_with(|table| table.cooling = Some(Capacity::from_tons(40.0))), None)),
            "40 ton cannot be",
        ),
        (
            Edit::Number(JobNumber::StationPressure, Some(Barometer::from_in_hg(12.6).kpa())),
            "12.60 in. Hg cannot be; it lies between 13.06 and 33.16",
        ),
        (
            change(ChangeKind::FilterLoading(FilterLoading { element: filter, factor: 30.0 })),
            "loaded 30 times cannot be",
        ),
        (
            change(ChangeKind::OtherCoilState(OtherCoilState { element: coil, factor: 5.0 })),
            "5 times its drop cannot be",
        ),
        (change(ChangeKind::LessByHand(LessByHand { element: coil, fraction: 1.5 })), "Reducing a drop by 150 %"),
        (change(ChangeKind::CleanCoil(CleanCoil { element: coil, fraction: 4.0 })), "Reducing a drop by 400 %"),
        (
            change(ChangeKind::OpenRegisters(OpenRegisters { element: registers, now: 8, then: 12, of: 10 })),
            "at most 10 can be",
        ),
        (
            change(ChangeKind::OpenRegisters(OpenRegisters { element: registers, now: 8, then: 8, of: 2000 })),
            "branches cannot be 2,000",
        ),
        (change(ChangeKind::BelowTable(BelowTable { factor: f64::NAN })), "A blower at NaN % of its table"),
        (machine(|table| table.basis.density = Some(Density::from_lb_ft3(0.11))), "density of 0.1100 lb/ft³ cannot be"),
        (machine(|table| table.taps.push(table.taps[0].clone())), "stands twice"),
        (machine(|table| table.rated_maximum = Some(Pressure::from_in_wc(f64::NAN))), "Rated maximum NaN"),
        (machine(|table| table.heating[0].output = HeatRate::from_btuh(f64::NAN)), "heat output of NaN Btu/h"),
        (machine(|table| table.notes = "x".repeat(200_000)), "A table's note of 200,000 letters is too long"),
        (
            Edit::Reading(ReadAt::Port(PortId(9)), vec![Pressure::from_in_wc(0.1)]),
            "Port 9 is read, but the air path has no",
        ),
        (Edit::PartOut(ElementId(99), true), "Element 99 is said to be out of the path"),
        (Edit::Title("x".repeat(2000)), "A job's name of 2,000 letters is too long"),
    ];
    for (edit, fragment) in cases {
        let said = format!("{edit:?}");
        let mut changed = job.clone();
        let told = edit::apply(&mut changed, edit).expect_err(&said).to_string();
        assert!(told.contains(fragment), "{told}");
        assert_eq!(changed, job, "{told}");
    }
}

#[test]
fn another_machine_takes_the_readings_of_places_that_it_does_not_have_and_undo_brings_them_back() {
    let mut history = History::of_saved(furnace());
    let duct = furnace().path.first(ElementKind::SupplyDuct).expect("a supply duct").id;
    history.apply(Edit::AddPort(duct)).unwrap();
    let third = history.job().path.ports.iter().map(|port| port.id).max().expect("a port");
    let read = vec![Pressure::from_in_wc(0.2)];
    history.apply(Edit::Reading(ReadAt::Port(third), read.clone())).unwrap();
    let exchanger = furnace().path.first(ElementKind::HeatExchanger).expect("a heat exchanger").id;
    history.apply(Edit::Reading(ReadAt::Across(exchanger), read)).unwrap();
    let before = history.job().clone();
    let table = table_with(|table| table.kind = EquipmentKind::DrawThroughAirHandler);
    history.apply(Edit::Machine(Box::new(table))).unwrap();
    let places: Vec<ReadAt> = history.job().set().readings.iter().map(|reading| reading.at).collect();
    assert!(!places.contains(&ReadAt::Port(third)) && !places.contains(&ReadAt::Across(exchanger)), "{places:?}");
    a_file_holds("the furnace", "another kind of machine", history.job());
    history.undo();
    assert_eq!(history.job(), &before);
}

#[test]
fn what_no_line_can_show_is_a_space_in_every_text_of_a_job() {
    let mut job = furnace();
    let (filter, odd) = (job.path.first(ElementKind::Filter).expect("a filter").id, "a\0b\r\nc".to_owned());
    let table = table_with(|table| {
        table.name.clone_from(&odd);
        table.notes.clone_from(&odd);
    });
    let edits = [
        Edit::Title(odd.clone()),
        Edit::Place(odd.clone()),
        Edit::Date(odd.clone()),
        Edit::Notes(odd.clone()),
        Edit::RenameElement(filter, odd.clone()),
        Edit::AddChange(another(table.clone(), None)),
        Edit::ChangeNote(ChangeId(1), odd.clone()),
        Edit::Machine(Box::new(table)),
    ];
    for edit in edits {
        edit::apply(&mut job, edit).unwrap();
    }
    let line = "a b  c";
    let machine = job.machine.as_ref().expect("a machine");
    let texts = [&job.title, &job.place, &job.date, &job.changes[0].note, &machine.name];
    assert!(texts.into_iter().all(|text| text == line), "{texts:?}");
    assert_eq!((job.notes.as_str(), machine.notes.as_str()), ("a b\nc", "a b\nc"));
    a_file_holds("the furnace", "odd texts", &job);
}

/// A cell of −0 was written as 0, and came back as another.
#[test]
fn a_minus_zero_comes_back_as_it_is() {
    let table = table_with(|table| {
        let data = TapData::Range {
            airflow: Airflow::from_cfm(-0.0),
            from: Pressure::from_in_wc(-0.0),
            to: Pressure::from_in_wc(0.5),
        };
        table.taps[0].data = data;
        let TapData::Column(rows) = &mut table.taps[1].data else { panic!("the demo's taps are columns") };
        rows[0].cell = Cell::Airflow(Airflow::from_cfm(-0.0), None);
    });
    let text = blower_file::write(&table);
    assert_eq!(blower_file::write(&blower_file::parse(&text).unwrap()), text);
    let mut job = furnace();
    edit::apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
    a_file_holds("the furnace", "a minus zero", &job);
}

/// Far past any real house, edit and file say the same.
#[test]
fn sizes_past_all_reason_are_refused_by_edit_and_file_alike() {
    let look = Pressure::from_in_wc(-0.2);
    let mut full = furnace();
    let set = full.sets.first_mut().expect("a set");
    set.readings.iter_mut().for_each(|reading| reading.looks = vec![look; MOST_LOOKS]);
    let off = |number| Change {
        id: ChangeId(number),
        kind: ChangeKind::BelowTable(BelowTable { factor: 0.9 }),
        switch: Switch::Off,
        price: None,
        labour: None,
        note: String::new(),
    };
    full.changes = (1..).map(off).take(MOST_CHANGES).collect();
    let grille = full.path.elements[0].id;
    while full.path.all().len() < MOST_ELEMENTS {
        full.path.put_in(ElementKind::Damper, Beside::After(grille)).unwrap();
    }
    assert_eq!(job_file::check(&full), Ok(()));
    let too_many = vec![look; MOST_LOOKS + 1];
    let cases = [
        (
            Edit::Reading(ReadAt::Port(RETURN_PORT), too_many),
            "Set 1 (As found): 101 readings at one place are too many; at most 100 can be",
        ),
        (
            Edit::AddChange(ChangeKind::BelowTable(BelowTable { factor: 0.9 })),
            "101 changes are too many; at most 100 can be",
        ),
        (
            Edit::AddElement(ElementKind::Damper, Beside::After(grille)),
            "201 elements of an air path are too many; at most 200 can be",
        ),
    ];
    for (edit, sentence) in cases {
        assert_eq!(edit::apply(&mut full.clone(), edit).unwrap_err().to_string(), sentence);
    }
    let mut more = full.clone();
    more.path.put_in(ElementKind::Damper, Beside::After(grille)).unwrap();
    let told = job_file::parse(&job_file::write(&more)).unwrap_err().to_string();
    assert_eq!(told, "201 elements of an air path are too many; at most 200 can be");
}

/// New ones are counted on from the highest number, which must not run out.
#[test]
fn a_number_that_leaves_none_to_count_on_to_is_refused() {
    let mut job = furnace();
    let last = job.path.elements.last_mut().expect("registers");
    last.id = ElementId(u32::MAX);
    let told = job_file::parse(&job_file::write(&job)).unwrap_err().to_string();
    let right =
        "Path, element 4294967295: A number of 4,294,967,295 for an element cannot be; numbers go up to 1,000,000,000";
    assert_eq!(told, right);
}

#[test]
fn a_table_of_a_size_that_no_printed_one_has_is_refused_by_edit_and_file_alike() {
    let range = TapData::Range {
        airflow: Airflow::from_cfm(1000.0),
        from: Pressure::from_in_wc(0.1),
        to: Pressure::from_in_wc(0.5),
    };
    let taps = |count: usize| (0..count).map(|tap| Tap { name: tap.to_string(), data: range.clone() }).collect();
    let most = table_with(|table| (table.taps, table.calls) = (taps(MOST_TAPS), Vec::new()));
    let more = table_with(|table| (table.taps, table.calls) = (taps(MOST_TAPS + 1), Vec::new()));
    assert_eq!(blower_file::parse(&blower_file::write(&most)).as_ref(), Ok(&most));
    let sentence = "101 taps of a blower table are too many; at most 100 can be";
    let told = blower_file::parse(&blower_file::write(&more)).unwrap_err().to_string();
    assert_eq!(told, sentence);
    assert_eq!(edit::apply(&mut furnace(), Edit::Machine(Box::new(more))).unwrap_err().to_string(), sentence);
}
