//! Where the program keeps what is its own: settings, a person's blower tables, autosaves.
//!
//! One folder for all of it can be named by the environment variable [`VARIABLE`]; otherwise the platform's own places are used.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result};

/// Names the environment variable that puts everything into one folder.
pub const VARIABLE: &str = "TAPCROSS_DATA";

/// The program's own folders and files; none of them need exist yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Places {
    /// The settings file.
    pub settings: PathBuf,
    /// A person's own blower tables, one file each.
    pub blowers: PathBuf,
    /// Autosaved jobs of running and of killed windows.
    pub autosaves: PathBuf,
}

impl Places {
    /// Everything within one folder.
    pub fn within(folder: &Path) -> Self {
        Self {
            settings: folder.join("settings.ron"),
            blowers: folder.join("blowers"),
            autosaves: folder.join("autosaves"),
        }
    }

    /// The folder that [`VARIABLE`] names, else the platform's places.
    ///
    /// # Errors
    /// When the system knows no home folder and the variable is not set.
    pub fn find() -> Result<Self> {
        Self::named_or_platform(std::env::var_os(VARIABLE))
    }

    fn named_or_platform(named: Option<OsString>) -> Result<Self> {
        match named.filter(|folder| !folder.is_empty()) {
            Some(folder) => Ok(Self::within(Path::new(&folder))),
            None => Self::of_platform(),
        }
    }

    fn of_platform() -> Result<Self> {
        let platform = directories::ProjectDirs::from("", "", "tapcross").with_context(|| {
            format!(
                "The system names no home folder, so settings and autosaves have no place; set {VARIABLE} to a folder"
            )
        })?;
        let state = platform.state_dir().unwrap_or_else(|| platform.data_local_dir());
        Ok(Self {
            settings: platform.config_dir().join("settings.ron"),
            blowers: platform.data_dir().join("blowers"),
            autosaves: state.join("autosaves"),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_named_folder_holds_everything() {
        let places = Places::named_or_platform(Some("elsewhere".into())).unwrap();
        for path in [&places.settings, &places.blowers, &places.autosaves] {
            assert!(path.starts_with("elsewhere"), "{}", path.display());
        }
    }

    #[test]
    fn an_empty_name_is_no_name() {
        assert_eq!(Places::named_or_platform(Some(OsString::new())).ok(), Places::named_or_platform(None).ok());
    }

    #[test]
    fn the_platforms_places_belong_to_the_program() {
        let Ok(places) = Places::of_platform() else {
            assert!(directories::BaseDirs::new().is_none(), "a home folder is known, yet no place was found");
            return;
        };
        assert!(places.autosaves.ends_with("autosaves") && places.blowers.ends_with("blowers"));
    }
}
