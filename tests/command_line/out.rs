//! Where `--out` goes: into pipes and open files as tools write, and never over a job by any of its names.

use std::os::unix::fs::{FileTypeExt as _, symlink};
use std::process::{Command, Output};
use std::time::{Duration, Instant};

use super::*;

/// Longest wait for a shell's line; one that waits for ever is ended.
const PATIENCE: Duration = Duration::from_secs(30);

/// Runs a line of the shell in the shop's folder, in which `$TAPCROSS` is the program.
fn shell(shop: &Shop, line: &str) -> Output {
    let mut shell = Command::new("timeout");
    let limit = PATIENCE.as_secs().to_string();
    shell.args([limit.as_str(), "sh", "-c", line]).env("TAPCROSS", env!("CARGO_BIN_EXE_tapcross"));
    let output = shell.current_dir(shop.path("")).env("TAPCROSS_DATA", shop.path("data")).output().unwrap();
    assert_ne!(output.status.code(), Some(124), "{line} hangs");
    output
}

fn with_a_job() -> Shop {
    Shop::new().with("a.ron", &demo::heat_pump())
}

fn on_screen(shop: &Shop) -> Vec<u8> {
    shop.run(&["report", "a.ron"]).stdout
}

#[test]
fn a_pipe_gets_the_report_and_stays_a_pipe() {
    let shop = with_a_job();
    let output =
        shell(&shop, "mkfifo pipe; cat pipe > got & \"$TAPCROSS\" report a.ron --out pipe; told=$?; wait; exit $told");
    assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""));
    assert_eq!(fs::read(shop.path("got")).unwrap(), on_screen(&shop));
    assert!(fs::metadata(shop.path("pipe")).unwrap().file_type().is_fifo());
}

#[test]
fn a_reader_of_a_pipe_that_has_seen_enough_is_no_error() {
    let shop = with_a_job();
    let began = Instant::now();
    let output = shell(
        &shop,
        "mkfifo pipe; head -c 1 pipe > got & \"$TAPCROSS\" report a.ron --out pipe; told=$?; wait; exit $told",
    );
    assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""));
    assert!(began.elapsed() < PATIENCE);
}

#[test]
fn standard_output_by_its_name_is_a_pipe_or_a_file_that_others_write_to_as_well() {
    let shop = with_a_job();
    let report = on_screen(&shop);
    for name in ["/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"] {
        let piped = shell(&shop, &format!("\"$TAPCROSS\" report a.ron --out {name}"));
        assert_eq!((piped.status.code(), stderr(&piped).as_str()), (Some(0), ""), "{name}");
        assert!(piped.stdout == report, "{name} as a pipe");
        let line = format!("(echo first; \"$TAPCROSS\" report a.ron --out {name}; echo last) > filed");
        let filed = shell(&shop, &line);
        assert_eq!((filed.status.code(), stderr(&filed).as_str()), (Some(0), ""), "{name}");
        let expected = [&b"first\n"[..], &report[..], &b"last\n"[..]].concat();
        assert!(fs::read(shop.path("filed")).unwrap() == expected, "{name} as a file");
    }
}

#[test]
fn an_open_file_keeps_what_others_wrote_to_it() {
    let shop = with_a_job();
    let output = shell(&shop, "(echo first >&3; \"$TAPCROSS\" report a.ron --out /dev/fd/3) 3> filed");
    assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""));
    let expected = [&b"first\n"[..], &on_screen(&shop)[..]].concat();
    assert!(fs::read(shop.path("filed")).unwrap() == expected);
}

#[test]
fn a_job_is_not_replaced_by_any_of_its_names() {
    let shop = with_a_job().with("job", &demo::heat_pump());
    let before = (fs::read(shop.path("job")).unwrap(), fs::read(shop.path("a.ron")).unwrap());
    fs::create_dir(shop.path("sub")).unwrap();
    fs::hard_link(shop.path("job"), shop.path("hard.json")).unwrap();
    symlink("job", shop.path("soft.json")).unwrap();
    symlink("soft.json", shop.path("softer.json")).unwrap();
    symlink("a.ron", shop.path("another.json")).unwrap();
    symlink("not there yet.ron", shop.path("new.json")).unwrap();
    let whole = shop.path("job");
    let names = [
        "job",
        "sub/../job",
        "hard.json",
        "soft.json",
        "softer.json",
        "another.json",
        "new.json",
        whole.to_str().unwrap(),
    ];
    for name in names {
        let output = shop.run(&["report", "job", "--out", name]);
        let told = stderr(&output);
        assert_eq!((output.status.code(), told.lines().count()), (Some(2), 1), "{name}: {told}");
        assert!(told.contains("the report would take its place"), "{told}");
    }
    let after = (fs::read(shop.path("job")).unwrap(), fs::read(shop.path("a.ron")).unwrap());
    assert!(before == after && !shop.path("not there yet.ron").exists());
}

#[test]
fn a_socket_is_refused_in_a_line_and_stays() {
    let shop = with_a_job();
    drop(std::os::unix::net::UnixListener::bind(shop.path("socket")).unwrap());
    let output = shop.run(&["report", "a.ron", "--out", "socket"]);
    let told = stderr(&output);
    assert_eq!((output.status.code(), told.lines().count()), (Some(1), 1), "{told}");
    assert!(told.starts_with("tapcross: socket: "), "{told}");
    assert!(fs::metadata(shop.path("socket")).unwrap().file_type().is_socket());
}
