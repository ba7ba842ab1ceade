//! The program without a window: the real binary, its exit statuses, its lines on standard error, and its JSON.

mod cautions;
mod changes;
mod forms;
mod jobs;
#[cfg(unix)]
mod out;
mod results;
mod schema;
mod shop;
mod tables;

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tapcross::files::{demo, job_file};

use shop::{Shop, printed, stderr};

#[test]
fn a_file_gets_the_same_bytes_as_standard_output() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump()).with_text("out.json", "old");
    let on_screen = shop.run(&["report", "a.ron", "--out", "-"]);
    let filed = shop.run(&["report", "a.ron", "--out", "out.json"]);
    assert_eq!((filed.status.code(), filed.stdout.len()), (Some(0), 0));
    assert_eq!(fs::read(shop.path("out.json")).unwrap(), on_screen.stdout);
    assert!(on_screen.stdout.ends_with(b"}\n"));
}

#[test]
fn several_jobs_give_an_array_in_their_order() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump()).with("b.ron", &demo::gas_furnace());
    let output = shop.run(&["report", "b.ron", "a.ron"]);
    assert_eq!(output.status.code(), Some(0));
    let files: Vec<Value> = printed(&output).as_array().unwrap().iter().map(|job| job["file"].clone()).collect();
    assert_eq!(files, ["b.ron", "a.ron"]);
}

#[test]
fn one_unreadable_job_among_several_does_not_stop_the_others() {
    let shop = Shop::new()
        .with("a.ron", &demo::heat_pump())
        .with_text("broken.ron", "(tapcross_job: 1, title: \"cut")
        .with("b.ron", &demo::gas_furnace());
    let output = shop.run(&["report", "a.ron", "broken.ron", "b.ron", "gone.ron", "--out", "all.json"]);
    assert_eq!(output.status.code(), Some(1));
    let told = stderr(&output);
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines.len(), 2, "{told}");
    assert!(lines[0].starts_with("tapcross: broken.ron: The job is cut short"), "{told}");
    assert_eq!(lines[1], "tapcross: gone.ron: There is no such file");
    let all: Value = serde_json::from_slice(&fs::read(shop.path("all.json")).unwrap()).unwrap();
    assert_eq!(all.as_array().unwrap().len(), 2);
}

/// An array stays an array however many of its jobs can be read.
#[test]
fn one_readable_job_of_two_still_gives_an_array() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    let output = shop.run(&["report", "gone.ron", "a.ron"]);
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(printed(&output).as_array().unwrap().len(), 1);
}

#[test]
fn a_job_that_cannot_be_read_is_told_in_one_line_and_nothing_is_written() {
    let newer = job_file::write(&demo::heat_pump()).replacen("tapcross_job: 1", "tapcross_job: 99", 1);
    let text = job_file::write(&demo::heat_pump());
    let half = &text[..text.len() / 2];
    let cases = [
        ("newer.ron", newer.as_str(), "This job was written by a newer Tapcross (format 99"),
        ("half.ron", half, "The job is cut short"),
        ("empty.ron", "", "The file is empty"),
        ("letter.ron", "Dear customer,\nyour ducts", "This is not a Tapcross job"),
        ("table.ron", include_str!("../../blowers/ah-42t.ron"), "This is a blower table, not a job"),
    ];
    for (name, text, sentence) in cases {
        let shop = Shop::new().with_text(name, text).with_text("out.json", "old");
        let output = shop.run(&["report", name, "--out", "out.json"]);
        let told = stderr(&output);
        assert_eq!((output.status.code(), output.stdout.len(), told.lines().count()), (Some(1), 0, 1), "{told}");
        assert!(told.starts_with(&format!("tapcross: {name}: {sentence}")), "{told}");
        assert_eq!(fs::read(shop.path("out.json")).unwrap(), b"old");
        assert_eq!(fs::read(shop.path(name)).unwrap(), text.as_bytes());
    }
}

#[test]
fn a_report_that_cannot_be_written_is_told_with_its_path() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    let cases: [(PathBuf, &str); 2] = [
        (Path::new("missing").join("out.json"), "the folder does not exist"),
        (PathBuf::from("."), "the path is a folder"),
    ];
    for (path, cause) in cases {
        let path = path.to_str().unwrap();
        let output = shop.run(&["report", "a.ron", "--out", path]);
        let told = stderr(&output);
        assert_eq!((output.status.code(), told.lines().count()), (Some(1), 1), "{told}");
        assert!(told.starts_with(&format!("tapcross: {path}: Not saved: {cause}")), "{told}");
    }
}

#[test]
fn a_command_line_that_is_not_understood_ends_with_status_2_and_one_line() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    let before = fs::read(shop.path("a.ron")).unwrap();
    for words in [
        &["--verbose"][..],
        &["report"],
        &["report", "--csv", "a.ron"],
        &["report", "a.ron", "--out"],
        &["report", "a.ron", "--out", "a.ron"],
        &["a.ron", "--out", "b.json"],
        &["a.ron", "b.ron"],
    ] {
        let output = shop.run(words);
        let told = stderr(&output);
        assert_eq!((output.status.code(), told.lines().count()), (Some(2), 1), "{words:?}: {told}");
        assert!(told.starts_with("tapcross: ") && output.stdout.is_empty(), "{words:?}: {told}");
    }
    assert_eq!(fs::read(shop.path("a.ron")).unwrap(), before);
}

#[test]
fn help_and_version_are_printed_on_standard_output() {
    let shop = Shop::new();
    for (word, start) in [("--help", "Tapcross shows"), ("-h", "Tapcross shows"), ("--version", "tapcross ")] {
        let output = shop.run(&[word]);
        assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""), "{word}");
        assert!(String::from_utf8(output.stdout).unwrap().starts_with(start), "{word}");
    }
}

#[test]
fn a_report_leaves_no_trace_in_the_programs_own_folder() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    shop.report("a.ron");
    assert!(!shop.path("data").exists(), "a report made the data folder");
}
