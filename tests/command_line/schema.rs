//! The schema of the JSON report: of the keys that are documented, a schema by its own rules, and one that takes every report and nothing broken.
//!
//! What a validator has to say needs `python3` with the package `jsonschema`; where they are missing the tests say that they skipped.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};
use tapcross::files::demo;
use tapcross::report::json::REPORT_VERSION;

use crate::jobs::jobs_of_every_kind;
use crate::results::{documented_keys, written};

/// The status of the validator's script where the validator is missing.
const MISSING: i32 = 77;

fn schema() -> Value {
    serde_json::from_str(include_str!("../../assets/formats/report.schema.json")).unwrap()
}

/// Every key that a part of the schema names, as the documentation writes it.
fn keys_of(part: &Value, path: &str, keys: &mut BTreeSet<String>) {
    for (key, inner) in part["properties"].as_object().into_iter().flatten() {
        let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        keys_of(inner, &path, keys);
        keys_of(&inner["items"], &format!("{path}[]"), keys);
        keys.insert(path);
    }
}

#[test]
fn the_schema_names_every_documented_key_and_no_other() {
    let schema = schema();
    let mut keys = BTreeSet::new();
    keys_of(&schema["$defs"]["report"], "", &mut keys);
    keys_of(&schema["$defs"]["tap"], "taps[]", &mut keys);
    let documented = documented_keys();
    let only = |one: &BTreeSet<String>, other: &BTreeSet<String>| one.difference(other).cloned().collect::<Vec<_>>();
    let told = (only(&keys, &documented), only(&documented, &keys));
    assert_eq!(told, (Vec::new(), Vec::new()), "python3 tests/reference/make_report_schema.py writes it anew");
}

/// Names of the reports that the schema refuses, with place and reason; nothing, and said so, where there is no validator.
fn refused(reports: &[(String, Value)]) -> Option<Vec<String>> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("reports.json");
    std::fs::write(&file, serde_json::to_vec(reports).unwrap()).unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let words = [root.join("tests/reference/check_report_schema.py"), root.join("assets/formats/report.schema.json")];
    let Ok(output) = Command::new("python3").args(words).arg(&file).output() else {
        println!("skipped: no python3 here");
        return None;
    };
    if output.status.code() == Some(MISSING) {
        println!("skipped: python3 has no jsonschema here");
        return None;
    }
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Some(String::from_utf8(output.stdout).unwrap().lines().map(str::to_owned).collect())
}

#[test]
fn the_schema_takes_every_report_alone_and_several_as_an_array() {
    let jobs = jobs_of_every_kind();
    let mut all: Vec<(String, Value)> = jobs.iter().map(|job| (job.title.clone(), written(job))).collect();
    let several = all.iter().map(|(_, report)| report.clone()).collect();
    all.push(("all".to_owned(), Value::Array(several)));
    if let Some(refused) = refused(&all) {
        assert_eq!(refused, [] as [String; 0]);
    }
}

#[test]
fn the_schema_refuses_what_is_no_report() {
    let whole = written(&demo::heat_pump());
    let spoilt = |what: &str, pointer: &str, value: Value| {
        let mut report = whole.clone();
        *report.pointer_mut(pointer).unwrap() = value;
        (what.to_owned(), report)
    };
    let mut broken = vec![
        spoilt("another layout", "/tapcross_report", json!(REPORT_VERSION + 1)),
        spoilt("a number as text", "/operating_point/airflow_cfm", json!("1200")),
        spoilt("a word as a number", "/commissioning/airflow/grade", json!(1)),
        spoilt("an object as an array", "/job", json!([])),
        spoilt("an array as an object", "/findings", json!({})),
        spoilt("a tap that is nothing", "/taps/0", json!(null)),
        ("no object".to_owned(), json!("report")),
    ];
    for key in whole.as_object().unwrap().keys() {
        let mut report = whole.clone();
        report.as_object_mut().unwrap().remove(key);
        broken.push((format!("without {key}"), report));
    }
    let names: BTreeSet<String> = broken.iter().map(|(name, _)| name.clone()).collect();
    // A key that came later is passed over.
    let mut later = whole;
    later["something_new"] = json!(1);
    broken.push(("a later key".to_owned(), later));
    if let Some(refused) = refused(&broken) {
        let refused: BTreeSet<String> =
            refused.iter().filter_map(|line| line.split('\t').next()).map(str::to_owned).collect();
        assert_eq!(refused, names);
    }
}
