//! The system's clipboard: what another program puts there comes into the table editor, and what is copied here another program gets.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use tapcross::files::autosave;

use super::desktop::until;
use super::{Journey, in_a_folder};

/// A block as a spreadsheet copies it.
const BLOCK: &str = "\tLow\tHigh\n0.1\t811\t1013\n0.3\t762\t957\n0.5\t702\t893\n";

/// Puts a text on the clipboard by a program that is not this one.
fn put_on_clipboard(journey: &Journey, text: &str) {
    let mut other = Command::new("xclip")
        .args(["-selection", "clipboard", "-in"])
        .env("DISPLAY", journey.desktop.name())
        .stdin(Stdio::piped())
        .spawn()
        .expect("xclip starts");
    other.stdin.take().expect("its input is piped").write_all(text.as_bytes()).expect("it takes the text");
    assert!(other.wait().expect("it leaves a copy of itself behind to answer").success());
}

/// What another program would paste.
fn on_clipboard(journey: &Journey) -> String {
    let output = Command::new("xclip")
        .args(["-selection", "clipboard", "-out"])
        .env("DISPLAY", journey.desktop.name())
        .output()
        .expect("xclip runs");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

#[test]
fn a_block_of_another_program_comes_into_the_table_and_a_name_goes_out() {
    in_a_folder(|folder| {
        pasted_in(&folder.join("in"));
        copied_out(&folder.join("out"));
    });
}

/// A block that a spreadsheet copied stands in the table that is being typed.
fn pasted_in(data: &Path) {
    let journey = Journey::begin(data);
    journey.desktop.still_picture();
    journey.open_with(&["ctrl+t"]);
    journey.enter("Copied out");
    journey.keys(&["shift+Tab"]);
    put_on_clipboard(&journey, BLOCK);
    journey.keys(&["ctrl+v"]);
    let pending = data.join("autosaves");
    until("the pasted table in the autosave", || {
        let kept = std::fs::read_dir(&pending)
            .ok()?
            .flatten()
            .find(|entry| entry.path().extension() == Some("ron".as_ref()))?;
        std::fs::read_to_string(kept.path()).ok().filter(|text| text.contains("1013")).map(drop)
    });
    journey.program.kill();
    let found = autosave::pending(&pending);
    let draft = &found.jobs[0].table.as_ref().expect("a table half typed").draft;
    assert_eq!(draft.taps, ["Low", "High"]);
    let airflows: Vec<_> = draft.rows.iter().map(|row| row.cells[1].airflow.as_str()).collect();
    assert_eq!(airflows, ["1013", "957", "893"]);
    assert_eq!(draft.head.name, "Copied out");
}

/// A name that was typed here is on the clipboard of the others after it was copied.
fn copied_out(data: &Path) {
    let journey = Journey::begin(data);
    journey.desktop.still_picture();
    journey.open_with(&["ctrl+t"]);
    journey.desktop.type_text("Copied out");
    journey.keys(&["ctrl+a", "ctrl+c"]);
    until("the copied name", || (on_clipboard(&journey) == "Copied out").then_some(()));
}

/// Results as text and the chart as a picture come out to other programs.
#[test]
fn taps_as_a_table_and_the_chart_as_a_picture_go_to_other_programs() {
    in_a_folder(|folder| {
        let journey = Journey::begin(folder);
        journey.desktop.still_picture();
        journey.keys(&["ctrl+shift+c"]);
        until("the copied results", || {
            on_clipboard(&journey).lines().any(|line| line.starts_with("4\t1200\t")).then_some(())
        });
        journey.keys(&["ctrl+shift+p"]);
        until("the copied picture", || {
            let output = Command::new("xclip")
                .args(["-selection", "clipboard", "-target", "image/png", "-out"])
                .env("DISPLAY", journey.desktop.name())
                .output()
                .ok()?;
            let (width, height) = (be_u32(output.stdout.get(16..20)?)?, be_u32(output.stdout.get(20..24)?)?);
            // The chart's part of a window of 1440 by 900.
            (output.stdout.starts_with(b"\x89PNG") && (600..1200).contains(&width) && (300..700).contains(&height))
                .then_some(())
        });
    });
}

/// A number of a PNG's head (PNG specification, 3rd edition, §11.2.1: width and height at bytes 16 and 20).
fn be_u32(bytes: &[u8]) -> Option<u32> {
    Some(u32::from_be_bytes(bytes.try_into().ok()?))
}
