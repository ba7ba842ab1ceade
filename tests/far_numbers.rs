//! Numbers that are tiny, huge or at an end of what can be: what is taken gives an answer whose every figure is a number, what is not is refused in words.

use proptest::prelude::*;
use tapcross::edit::{self, Edit};
use tapcross::files::{demo, job_file};
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementId, RETURN_PORT};
use tapcross::model::facts::blower::{BlowerTable, Call, Cell, EquipmentKind, MotorFamily, Row, Tap, TapData};
use tapcross::model::facts::change::{
    ByData, Change, ChangeId, ChangeKind, FilterLoading, MoreFilterArea, Opening, OtherOpening, PanelOff, Replacement,
    SecondReturn, Switch,
};
use tapcross::model::facts::drop_data::{DropData, SQUARE_LAW};
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::Run;
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::limits::MOST_CHANGES;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::target::Target;
use tapcross::model::path::tesp;
use tapcross::model::search;
use tapcross::report::json::Report;
use tapcross::units::{Airflow, Area, Dimension, Length, Power, Pressure, Speed};

#[expect(unused_imports, reason = "the suite of the edits' own tests asks for more")]
mod arbitrary_edits;
mod no_number;
#[path = "support/same_cases.rs"]
mod same_cases;

use arbitrary_edits::{Wild, beginnings, seeded};
use same_cases::config;

const GRILLE: ElementId = ElementId(1);
const FILTER: ElementId = ElementId(3);

/// The report of a job in plain words, each of its figures a number.
fn told(job: &Job) -> Result<String, String> {
    let report = Report::of("job.ron", job, &Answer::of(job), search::to_the_end(job));
    let plain = ron::to_string(&report).map_err(|error| error.to_string())?;
    no_number::check(&plain)?;
    Ok(plain)
}

/// The furnace with changes put on as an old file may hold them: no edit has looked at them.
fn with(kinds: impl IntoIterator<Item = ChangeKind>) -> Job {
    let mut job = demo::gas_furnace();
    let change = |(number, kind)| Change {
        id: ChangeId(number),
        kind,
        switch: Switch::On,
        price: None,
        labour: None,
        note: String::new(),
    };
    job.changes = (1..).zip(kinds).map(change).collect();
    job
}

fn says(kinds: impl IntoIterator<Item = ChangeKind>, sentence: &str) {
    let told = told(&with(kinds)).unwrap();
    assert!(told.contains(sentence), "{sentence:?} is not told of:\n{told}");
}

fn opening(face: f64, free_area: f64) -> Opening {
    Opening { face: Area::from_in2(face), free_area }
}

/// A free area of 100 % divided by nothing: every drop behind it was endless.
#[test]
fn another_opening_in_place_of_one_that_loses_nothing_is_refused() {
    for then in [opening(700.0, 0.7), opening(700.0, 1.0)] {
        let change = ChangeKind::OtherOpening(OtherOpening { element: GRILLE, now: opening(200.0, 1.0), then });
        says([change], "An opening that is all free loses nothing, so nothing follows from its drop");
    }
}

/// A hole of next to nothing asked for more static than a number can be.
#[test]
fn a_panel_off_by_less_than_a_hair_is_refused() {
    let hole = |in2| ChangeKind::PanelOff(PanelOff { area: Area::from_in2(in2) });
    says([hole(1e-231)], "so little room for the air");
    says([hole(1e-9)], "so little room for the air");
    told(&with([hole(0.1)])).unwrap();
}

#[test]
fn changes_that_together_leave_no_room_for_the_air_are_refused_from_the_one_that_does() {
    let loaded = ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 20.0 });
    let area = |now, then| {
        ChangeKind::MoreFilterArea(MoreFilterArea {
            element: FILTER,
            now: Area::from_in2(now),
            then: Area::from_in2(then),
        })
    };
    for kind in [loaded, area(1e6, 1e-3), area(1e-3, 1e6)] {
        told(&with(vec![kind; MOST_CHANGES])).unwrap();
    }
    says(vec![area(1e6, 1e-3); 9], "so little room for the air");
}

#[test]
fn a_drop_that_no_part_has_is_no_data() {
    let at = |cfm, in_wc| DropData::at(Airflow::from_cfm(cfm), Pressure::from_in_wc(in_wc), SQUARE_LAW);
    assert!(at(1000.0, 1000.0).is_ok() && at(1e6, 0.3).is_ok() && at(0.01, 0.3).is_ok());
    for (cfm, in_wc) in [(1000.0, 1000.5), (1000.0, 1e300), (1.1e6, 0.3), (f64::MAX, 0.3)] {
        assert!(at(cfm, in_wc).is_err(), "{in_wc} in. w.c. at {cfm} cfm");
    }
    let steep = [(0.01, 1e-4), (0.02, 6e-3)].map(|(cfm, drop)| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop)));
    let data = DropData::new(steep.to_vec(), SQUARE_LAW).unwrap();
    says([ChangeKind::ByData(ByData { element: FILTER, data })], "so little room for the air");
}

/// A filter whose printed drops hardly rise kept its drop down to no air at all, and beside a return that drops less it left every tap without a crossing.
#[test]
fn a_second_return_past_a_filter_of_flat_data_leaves_every_tap_its_crossing() {
    for first in [0.5, 0.4995, 0.4] {
        let points =
            [(384.0, first), (827.0, 0.5)].map(|(cfm, drop)| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop)));
        let filter = DropData::new(points.to_vec(), SQUARE_LAW).ok();
        let run = Run::straight(Section::round(Dimension::from_in(12.0)), Length::from_ft(20.0), Material::Galvanized);
        let job = with([ChangeKind::SecondReturn(SecondReturn { run, grille: opening(280.0, 0.7), filter })]);
        let answer = Answer::of(&job);
        let after = answer.with_changes().unwrap();
        assert_eq!(after.refused, []);
        let taps = after.system.taps.iter().zip(answer.taps());
        for (then, now) in taps {
            let (then, now) = (then.reached().expect("a crossing"), now.reached().unwrap());
            assert!(then.airflow() > now.airflow() * (1.0 - 1e-9), "{first}: another way never lowers the airflow");
        }
        told(&job).unwrap();
    }
}

#[test]
fn another_machine_for_a_target_that_no_blower_moves_is_refused() {
    let machine = |target| {
        let table = demo::heat_pump().machine.expect("the demo has a machine");
        let tap = table.taps.first().map(|tap| tap.name.clone());
        let (leaves, coil, filter) = (Vec::new(), None, None);
        ChangeKind::OtherMachine(Box::new(Replacement { table, tap, leaves, coil, filter, target: Some(target) }))
    };
    says([machine(Target::Airflow(Airflow::from_cfm(1e300)))], "cannot be; it lies between 50 and 20,000 cfm");
    told(&with([machine(Target::Airflow(Airflow::from_cfm(1200.0)))])).unwrap();
}

/// The line past the last row comes down to no air at all at 0.825 in. w.c.
#[test]
fn a_reading_where_the_line_past_the_table_has_no_air_left_is_past_the_end() {
    let row = |esp: f64, cfm: f64| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    };
    let table = BlowerTable {
        name: "invented".to_owned(),
        kind: EquipmentKind::Furnace,
        motor: MotorFamily::PermanentSplitCapacitor,
        calls: vec![(Call::CoolingHigh, "1".to_owned())],
        taps: vec![Tap { name: "1".to_owned(), data: TapData::Column(vec![row(0.7, 275.0), row(0.8, 75.0)]) }],
        ..BlowerTable::default()
    };
    for read in [0.824_999_999_999, 0.825, 0.825_000_000_000_000_1, 0.83] {
        let mut job = Job::default();
        edit::apply(&mut job, Edit::Machine(Box::new(table.clone()))).unwrap();
        edit::apply(&mut job, Edit::Reading(ReadAt::Total, vec![Pressure::from_in_wc(read)])).unwrap();
        job.sets[0].call = Call::CoolingHigh;
        let density = tesp::density_ratio(&job, &table);
        edit::apply(&mut job, Edit::Reading(ReadAt::Total, vec![Pressure::from_in_wc(read * density)])).unwrap();
        let told = told(&job).unwrap();
        assert!(told.contains("past_the_end"), "{read}: {told}");
    }
}

/// A return that takes next to nothing left a second one beside it an airflow that was no number.
#[test]
fn a_second_return_beside_one_that_takes_next_to_nothing_changes_nothing() {
    let second = ChangeKind::SecondReturn(SecondReturn {
        run: Run::straight(Section::round(Dimension::from_in(14.0)), Length::from_ft(20.0), Material::Galvanized),
        grille: opening(400.0, 0.7),
        filter: None,
    });
    for read in [-3e-257, -1e-100, -1e-40, -1e-20, -1e-5] {
        let mut job = demo::gas_furnace();
        edit::apply(&mut job, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(read)])).unwrap();
        edit::apply(&mut job, Edit::AddChange(second.clone())).unwrap();
        told(&job).unwrap();
    }
}

/// Static over a length of next to nothing was a rate without end.
#[test]
fn ducts_of_no_length_are_refused() {
    for length in [JobNumber::ReturnLength, JobNumber::SupplyLength] {
        let mut job = demo::gas_furnace();
        let refused = edit::apply(&mut job, Edit::Number(length, Some(1e-306))).unwrap_err().to_string();
        assert!(refused.contains("a total effective length is above 0"), "{refused}");
        edit::apply(&mut job, Edit::Number(length, Some(0.02))).unwrap();
        told(&job).unwrap();
    }
}

/// A machine of one tap, read on it at this total.
fn on_a_machine_of(data: TapData, read: f64) -> Job {
    let mut job = demo::gas_furnace();
    let mut table = job.machine.clone().expect("the demo has a machine");
    let (in_use, sound) = (table.taps[0].clone(), TapData::clone(&table.taps[1].data));
    table.taps = vec![Tap { data, ..in_use.clone() }, Tap { name: "sound".to_owned(), data: sound }];
    table.calls = vec![(Call::CoolingHigh, in_use.name.clone())];
    edit::apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
    edit::apply(&mut job, Edit::Tap(Some(in_use.name))).unwrap();
    edit::apply(&mut job, Edit::Reading(ReadAt::Total, vec![Pressure::from_in_wc(read)])).unwrap();
    job
}

/// Rows whose statics no paper can tell apart, a range of no width and watts past all reason made airflows and losses that were no number.
#[test]
fn a_table_with_numbers_that_no_table_prints_keeps_its_tap_unused_and_every_figure_a_number() {
    let row = |esp: f64, cfm: f64| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    };
    let close = vec![row(0.0, 1300.0), row(2e-308, 1200.0), row(1e-60, 1100.0), row(0.5, 1000.0)];
    let range =
        |to| TapData::Range { airflow: Airflow::from_cfm(1200.0), from: Pressure::ZERO, to: Pressure::from_in_wc(to) };
    let hot = |watts, rpm| {
        let powered =
            |row: Row| Row { power: Some(Power::from_watts(watts)), speed: Some(Speed::from_rpm(rpm)), ..row };
        TapData::Column([row(0.1, 1300.0), row(0.9, 1000.0)].into_iter().map(powered).collect())
    };
    let cases = [
        (TapData::Column(close), "must rise"),
        (range(2.2e-308), "must rise"),
        (hot(1.7e308, 900.0), "between 5 and 10,000 W"),
        (hot(1e-300, 900.0), "between 5 and 10,000 W"),
        (hot(400.0, 1.7e308), "between 50 and 5,000 rpm"),
    ];
    for (data, right) in cases {
        for read in [1e-308, 1e-60, 0.2, 0.5] {
            let told = told(&on_a_machine_of(data.clone(), read)).unwrap();
            assert!(told.contains(right), "{data:?} is not refused with {right:?}:\n{told}");
        }
    }
}

/// A part that gains pressure left the way beside it, and a hole beside it, a drop that was no number.
#[test]
fn a_drop_read_backwards_across_a_part_counts_for_nothing_and_is_asked_about() {
    for (before, across) in [(-0.0786, -0.23), (-0.31, -0.1), (-1e-9, -0.13), (-0.31, -1e-60)] {
        let mut job = demo::gas_furnace();
        let hole = ChangeKind::PanelOff(PanelOff { area: Area::from_in2(64.6) });
        edit::apply(&mut job, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(before)])).unwrap();
        edit::apply(&mut job, Edit::AddChange(hole)).unwrap();
        let found = |job: &Job| Answer::of(job).point().map(|running| running.system.parts.clone());
        let without = found(&job);
        edit::apply(&mut job, Edit::Reading(ReadAt::Across(FILTER), vec![Pressure::from_in_wc(across)])).unwrap();
        let told = told(&job).unwrap();
        assert!(told.contains("across a part"), "{told}");
        assert_eq!(found(&job), without);
    }
}

/// Edits that are tried on one job, one after the other.
const TRIES: usize = 100;

proptest! {
    #![proptest_config(config(16))]

    #[test]
    fn whatever_far_number_an_edit_takes_every_figure_of_the_report_is_a_number(seed in any::<u64>()) {
        let mut numbers = seeded(seed);
        for (name, mut job) in beginnings() {
            let mut taken = Vec::new();
            for _ in 0..TRIES {
                let mut wild = Wild { far: true, ..Wild::new(&mut numbers) };
                let edit = wild.edit(&job);
                let said: String = format!("{edit:?}").chars().take(300).collect();
                if edit::apply(&mut job, edit).is_ok() {
                    taken.push(said);
                    let told = told(&job);
                    prop_assert!(told.is_ok(), "{name}: {}\nafter {:#?}", told.unwrap_err(), taken.iter().rev().take(4).collect::<Vec<_>>());
                }
            }
            prop_assert!(job_file::check(&job).is_ok());
        }
    }
}
