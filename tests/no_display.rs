//! Without a display that can be opened the program says so in one plain line.
#![cfg(target_os = "linux")]

use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Longest wait for the program's end.
const PATIENCE: Duration = Duration::from_secs(30);

/// What the program says on standard error with these variables and no other display; it must end with status 1.
fn told(variables: &[(&str, &str)]) -> String {
    let data = tempfile::tempdir().unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_tapcross"));
    for variable in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
        command.env_remove(variable);
    }
    command.env("XDG_RUNTIME_DIR", data.path()).env("TAPCROSS_DATA", data.path()).env("RUST_BACKTRACE", "1");
    let mut child =
        command.envs(variables.iter().copied()).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap();
    let began = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if began.elapsed() > PATIENCE {
            child.kill().unwrap();
            panic!("{variables:?}: the program neither opens a window nor ends");
        }
        sleep(Duration::from_millis(50));
    }
    let output = child.wait_with_output().unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{variables:?}: {told}");
    assert_eq!(told.lines().count(), 1, "{variables:?}: {told}");
    assert!(told.starts_with("tapcross: no window: ") && told.contains("tapcross report JOB.ron"), "{told}");
    for word in ["panicked", "os error", "winit", "backtrace", ".rs:"] {
        assert!(!told.to_lowercase().contains(word), "{word}: {told}");
    }
    told
}

#[test]
fn without_a_display_one_line_says_what_is_missing() {
    assert!(told(&[]).contains("neither WAYLAND_DISPLAY nor DISPLAY names a display"));
    assert!(told(&[("DISPLAY", ""), ("WAYLAND_DISPLAY", "")]).contains("neither WAYLAND_DISPLAY nor DISPLAY"));
    assert!(told(&[("WAYLAND_DISPLAY", "wayland-7")]).contains("the Wayland display wayland-7"));
    assert!(told(&[("DISPLAY", ":64999")]).contains("the X11 display :64999"));
    assert!(told(&[("DISPLAY", "nonsense"), ("WAYLAND_DISPLAY", "wayland-7")]).contains("the X11 display nonsense"));
}
