//! Which display the window opens on: a Wayland one that answers, else an X11 one.
//!
//! The window's toolkit goes by `WAYLAND_DISPLAY` alone and gives up where that names a display that is gone, however good the other one is.

use std::ffi::OsString;
use std::path::PathBuf;

use eframe::EventLoopBuilderHook;

/// What to do without a display, at the end of a sentence.
const WITHOUT: &str = "start it in a desktop session, or have a report without a window: tapcross report JOB.ron";

/// Where the window opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Display {
    /// Where the system says by itself.
    System,
    /// The X11 display of this name, for no Wayland display answers.
    X11(String),
}

impl Display {
    /// The display of this session.
    ///
    /// # Errors
    /// One sentence that says what is missing.
    pub(crate) fn find() -> Result<Self, String> {
        if cfg!(target_os = "linux") { named_by(|variable| std::env::var_os(variable)) } else { Ok(Self::System) }
    }

    /// What tells the toolkit to open the window there.
    pub(crate) fn hook(&self) -> Option<EventLoopBuilderHook> {
        match self {
            Self::System => None,
            Self::X11(_) => Some(Box::new(with_x11)),
        }
    }

    /// Why the window did not open, or broke off.
    pub(crate) fn why(&self, error: &eframe::Error) -> String {
        match (error, self) {
            (eframe::Error::WinitEventLoop(_), Self::X11(name)) => format!(
                "no window: the X11 display {name} (DISPLAY) cannot be opened, so it does not run or is another person's; {WITHOUT}"
            ),
            (eframe::Error::WinitEventLoop(_), Self::System) => {
                format!("no window: the display of this session cannot be opened; {WITHOUT}")
            }
            _ => format!("no window: {error}"),
        }
    }
}

#[cfg(target_os = "linux")]
fn with_x11(builder: &mut eframe::EventLoopBuilder<eframe::UserEvent>) {
    winit::platform::x11::EventLoopBuilderExtX11::with_x11(builder);
}

#[cfg(not(target_os = "linux"))]
fn with_x11(_builder: &mut eframe::EventLoopBuilder<eframe::UserEvent>) {}

/// The display that environment variables name; an empty one is none.
fn named_by(variable: impl Fn(&str) -> Option<OsString>) -> Result<Display, String> {
    let named = |name: &str| variable(name).filter(|value| !value.is_empty());
    let wayland = named("WAYLAND_DISPLAY");
    // A socket that was handed over is open already, and looking would use it up.
    let answers = named("WAYLAND_SOCKET").is_some()
        || wayland
            .as_ref()
            .is_some_and(|name| answers(&PathBuf::from(named("XDG_RUNTIME_DIR").unwrap_or_default()).join(name)));
    match (answers, named("DISPLAY"), wayland) {
        (true, ..) => Ok(Display::System),
        (false, Some(x11), _) => Ok(Display::X11(x11.to_string_lossy().into_owned())),
        (false, None, Some(wayland)) => Err(format!(
            "no window: the Wayland display {} (WAYLAND_DISPLAY) does not answer, and DISPLAY names no other; {WITHOUT}",
            wayland.to_string_lossy()
        )),
        (false, None, None) => {
            Err(format!("no window: neither WAYLAND_DISPLAY nor DISPLAY names a display; {WITHOUT}"))
        }
    }
}

/// True where a compositor listens at this place.
#[cfg(unix)]
fn answers(socket: &std::path::Path) -> bool {
    socket.is_absolute() && std::os::unix::net::UnixStream::connect(socket).is_ok()
}

#[cfg(not(unix))]
fn answers(_socket: &std::path::Path) -> bool {
    false
}

#[cfg(unix)]
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wayland_display_that_answers_comes_first_and_a_stale_one_gives_way() {
        let folder = tempfile::tempdir().unwrap();
        let _listening = std::os::unix::net::UnixListener::bind(folder.path().join("wayland-1")).unwrap();
        drop(std::os::unix::net::UnixListener::bind(folder.path().join("stale")).unwrap());
        let runtime = folder.path().to_str().unwrap();
        let whole = folder.path().join("wayland-1");
        let x11 = || Ok(Display::X11(":3".to_owned()));
        let rows = [
            (vec![("WAYLAND_DISPLAY", "wayland-1"), ("DISPLAY", ":3")], Ok(Display::System)),
            (vec![("WAYLAND_DISPLAY", whole.to_str().unwrap())], Ok(Display::System)),
            (vec![("WAYLAND_DISPLAY", "stale"), ("DISPLAY", ":3")], x11()),
            (vec![("WAYLAND_DISPLAY", "gone"), ("DISPLAY", ":3")], x11()),
            (vec![("WAYLAND_DISPLAY", ""), ("DISPLAY", ":3")], x11()),
            (vec![("WAYLAND_SOCKET", "5")], Ok(Display::System)),
        ];
        for (mut variables, expected) in rows {
            variables.push(("XDG_RUNTIME_DIR", runtime));
            let found = named_by(|name| variables.iter().find(|(is, _)| *is == name).map(|(_, value)| value.into()));
            assert_eq!(found, expected, "{variables:?}");
        }
    }

    #[test]
    fn without_any_display_the_sentence_says_which_variables_were_looked_at() {
        let none = named_by(|_| None).unwrap_err();
        assert!(none.contains("neither WAYLAND_DISPLAY nor DISPLAY"), "{none}");
        let stale = named_by(|name| (name == "WAYLAND_DISPLAY").then(|| "wayland-9".into())).unwrap_err();
        assert!(stale.contains("wayland-9 (WAYLAND_DISPLAY) does not answer"), "{stale}");
    }
}
