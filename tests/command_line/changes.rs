//! What a report says of each change: its sizes, what it brings last, what is only a bound, and what all cost.

use serde_json::{Value, json};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::change::kinds::other_machine;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{ByData, Change, ChangeId, ChangeKind, OtherDuct, OtherMachine, OtherTap, Switch};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::Run;
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::units::{Airflow, Dimension, Length, Pressure};

use crate::jobs::with_changes;
use crate::shop::report_of;

fn with(kinds: impl IntoIterator<Item = ChangeKind>) -> Job {
    let mut job = demo::gas_furnace();
    let change = |(id, kind)| Change {
        id: ChangeId(id),
        kind,
        switch: Switch::On,
        price: None,
        labour: None,
        note: String::new(),
    };
    job.changes = (1..).zip(kinds).map(change).collect();
    job
}

/// The sizes of a change as "name when value unit" or "name text".
fn sizes(report: &Value, change: usize) -> Vec<Value> {
    let sizes = report["changes"][change]["sizes"].as_array().unwrap();
    sizes.iter().map(|size| json!([size["name"], size["when"], size["value"], size["unit"], size["text"]])).collect()
}

#[test]
fn each_change_is_told_with_its_sizes() {
    let job = demo::gas_furnace();
    let on = |kind| job.path.first(kind).unwrap().id;
    let run =
        |inches| Run::straight(Section::round(Dimension::from_in(inches)), Length::from_ft(20.0), Material::Flexible);
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), 1.2).unwrap();
    let report = report_of(&with([
        ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() }),
        ChangeKind::ByData(ByData { element: on(ElementKind::Filter), data }),
        ChangeKind::OtherDuct(OtherDuct {
            element: on(ElementKind::ReturnDuct),
            now: run(14.0),
            then: run(16.0),
            of_drop: 1.0,
        }),
    ]));
    assert_eq!(sizes(&report, 0), [json!(["Tap", null, null, null, "5"])]);
    assert_eq!(report["changes"][1]["sizes"][0]["value"], 0.1);
    assert_eq!(report["changes"][1]["sizes"][0]["unit"], "in. w.c.");
    assert_eq!(report["changes"][1]["sizes"][0]["at_cfm"], 1200.0);
    assert!(report["changes"][1]["question"].is_null());
    let asked = report["changes"][2]["question"].as_str().unwrap();
    assert!(asked.starts_with("By its own sizes the return duct takes "), "{asked}");
    let duct = sizes(&report, 2);
    assert_eq!(duct[0], json!(["Duct diameter", "now", 14.0, "in", null]));
    assert_eq!(duct[4], json!(["Duct diameter", "then", 16.0, "in", null]));
    assert_eq!(duct[5], json!(["Duct length", "then", 20.0, "ft", null]));
}

/// 300 and 50 are on and count; the coil's cleaning has no price, and what is on an element that is gone does not count.
#[test]
fn what_the_changes_cost_together_is_told() {
    let report = report_of(&with_changes());
    assert_eq!((&report["after"]["price"], &report["after"]["unpriced"]), (&json!(350.0), &json!(1)));
}

/// With a change less without it, each by an answer of its own.
#[test]
fn each_change_that_counts_is_told_with_what_it_brings_after_the_others() {
    let job = with_changes();
    let airflow = |job: &Job| Answer::of(job).with_changes().unwrap().system.runs().unwrap().airflow().cfm();
    let report = report_of(&job);
    let counts = |index: usize| Answer::of(&job).with_changes().unwrap().counts(&job.changes[index]);
    assert_eq!([0, 1, 2, 3, 4].map(counts), [true, true, true, false, false]);
    for index in 0..job.changes.len() {
        let told = report["changes"][index]["worth_after_others_cfm"].as_f64();
        let mut without = job.clone();
        without.changes[index].switch = Switch::Off;
        let brought = counts(index).then(|| airflow(&job) - airflow(&without));
        assert!((told.unwrap_or(0.0) - brought.unwrap_or(0.0)).abs() < 1e-6, "{index}: {told:?} {brought:?}");
        assert_eq!(told.is_some(), brought.is_some(), "{index}");
    }
    let alone = report_of(&with([ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() })]));
    assert!(alone["changes"][0]["worth_after_others_cfm"].is_null(), "after no others");
}

/// The furnace's coil leaves with it, and nothing is known of the new one's.
#[test]
fn a_machine_whose_coil_is_unknown_brings_at_most_what_is_told() {
    let (library, _) = Library::shipped();
    let table = library.entries[library.search("gf-80t")[0]].table.clone();
    let new = other_machine::replacement(&demo::gas_furnace(), table);
    assert!(new.coil.is_none());
    let report = report_of(&with([ChangeKind::OtherMachine(OtherMachine::new(new))]));
    assert_eq!(report["after"]["gain_is_at_most"], true);
    assert_eq!(report["changes"][0]["worth_is_at_most"], true);
    let report = report_of(&with_changes());
    assert_eq!(report["after"]["gain_is_at_most"], false);
    assert_eq!(report["changes"][0]["worth_is_at_most"], false);
}
