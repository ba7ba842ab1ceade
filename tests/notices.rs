//! The notices of the crates inside the binary name every one of them.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;

const NOTICES: &str = include_str!("../assets/third-party-notices.txt");

/// Name and version of every crate that is linked in on this platform.
fn linked() -> BTreeSet<String> {
    let host = Command::new("rustc").arg("-vV").output().expect("rustc says what it builds for");
    let said = String::from_utf8_lossy(&host.stdout).into_owned();
    let host = said.lines().find_map(|line| line.strip_prefix("host: ")).expect("a line of the host");
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", host])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let meta: Value = serde_json::from_slice(&output.stdout).expect("cargo writes JSON");
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let packages: BTreeMap<String, Value> =
        list(&meta["packages"]).into_iter().map(|package| (package["id"].to_string(), package)).collect();
    let nodes: BTreeMap<String, Value> =
        list(&meta["resolve"]["nodes"]).into_iter().map(|node| (node["id"].to_string(), node)).collect();
    let is_macro = |id: &str| {
        list(&packages[id]["targets"]).iter().any(|target| target["kind"] == serde_json::json!(["proc-macro"]))
    };
    let (mut found, mut open) = (BTreeSet::new(), vec![meta["resolve"]["root"].to_string()]);
    while let Some(here) = open.pop() {
        for dep in list(&nodes[&here]["deps"]) {
            let id = dep["pkg"].to_string();
            let is_normal = list(&dep["dep_kinds"]).iter().any(|kind| kind["kind"].is_null());
            if is_normal && !is_macro(&id) && found.insert(id.clone()) {
                open.push(id);
            }
        }
    }
    let name = |id: &String| {
        let package = &packages[id];
        format!("{} {}", package["name"].as_str().unwrap_or_default(), package["version"].as_str().unwrap_or_default())
    };
    found.iter().map(name).collect()
}

#[test]
fn every_crate_in_the_binary_has_its_notice() {
    let told: BTreeSet<&str> = NOTICES.lines().filter_map(|line| line.split_once("  ").map(|(name, _)| name)).collect();
    let linked = linked();
    assert!(linked.len() > 100, "only {} crates were found", linked.len());
    let missing: Vec<_> = linked.iter().filter(|name| !told.contains(name.as_str())).collect();
    assert!(missing.is_empty(), "without a notice: {missing:?}; run tests/data/notices/make_notices.py");
}

#[test]
fn the_texts_of_licences_that_ask_for_them_are_there() {
    for text in [
        "Mozilla Public License",
        "Apache License",
        "Permission is hereby granted, free of charge",
        "Boost Software License",
    ] {
        assert!(NOTICES.contains(text), "no text of {text}");
    }
}
