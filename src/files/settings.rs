//! What a person has set about the program itself, not about a job: a small RON file of its own.
//!
//! ```
//! let text = r#"
//! #![enable(implicit_some)]
//! (
//!     tapcross_settings: 1,            // the format; always the first field
//!     theme: System,                   // System, Light, Dark
//!     units: InchPound,                // InchPound, SiLitres, SiCubicMetres
//!     zoom_percent: 100,               // 100 to 250
//!     recent: ["house.ron"],           // latest first, at most 12
//!     folded: [EveryTap],              // panels that are folded away: Job, EveryTap, AirPath
//!     window_points: (1440, 900),      // width and height when last closed; left out: not known
//! )
//! "#;
//! let (settings, problem) = tapcross::files::settings::parse(text);
//! assert_eq!(problem, None);
//! assert_eq!(settings.zoom_percent, 100);
//! ```

use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};
use ron::Options;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use crate::files::atomic_write::write_atomically;
use crate::units::UnitSystem;

/// The format that this program writes, and the newest that it reads.
const FORMAT: u32 = 1;
/// How many recent files are kept.
pub const RECENT_FILES: usize = 12;
/// Least and most zoom, in percent.
pub const ZOOM_RANGE: (u16, u16) = (100, 250);

/// Light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThemeChoice {
    /// As the system says.
    #[default]
    System,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// A part of the window that can be folded away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Panel {
    /// The job: blower, tap, target, conditions.
    Job,
    /// The table of every tap.
    EveryTap,
    /// The air path under the chart.
    AirPath,
}

/// Everything that is remembered from one start to the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// Light or dark.
    pub theme: ThemeChoice,
    /// Units that numbers are typed and shown in.
    pub units: UnitSystem,
    /// Zoom in percent, 100 to 250.
    pub zoom_percent: u16,
    /// Recent files, latest first, at most [`RECENT_FILES`], each once; [`Settings::opened`] keeps it so.
    pub recent: Vec<PathBuf>,
    /// Panels that are folded away.
    pub folded: BTreeSet<Panel>,
    /// Width and height of the window in points, where known.
    pub window_points: Option<(u16, u16)>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            theme: ThemeChoice::System,
            units: UnitSystem::InchPound,
            zoom_percent: ZOOM_RANGE.0,
            recent: Vec::new(),
            folded: BTreeSet::new(),
            window_points: None,
        }
    }
}

impl Settings {
    /// Puts a file at the head of the recent ones.
    pub fn opened(&mut self, path: &Path) {
        self.recent.insert(0, path.to_path_buf());
        self.recent = shortened(std::mem::take(&mut self.recent));
    }

    /// Takes a file that is gone off the recent ones.
    pub fn forget(&mut self, path: &Path) {
        self.recent.retain(|kept| kept != path);
    }
}

/// Each path once, the first [`RECENT_FILES`] of them.
fn shortened(paths: Vec<PathBuf>) -> Vec<PathBuf> {
    let mut kept: Vec<PathBuf> = Vec::new();
    for path in paths {
        if !kept.contains(&path) {
            kept.push(path);
        }
    }
    kept.truncate(RECENT_FILES);
    kept
}

/// The words of the file for a unit system; the compiler holds them against the program's.
#[derive(Serialize, Deserialize)]
#[serde(remote = "UnitSystem")]
enum UnitSystemDto {
    InchPound,
    SiLitres,
    SiCubicMetres,
}

/// The file. A missing field has its default; paths that are no text are not kept.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Settings")]
struct SettingsDto {
    tapcross_settings: u32,
    #[serde(default)]
    theme: ThemeChoice,
    #[serde(default, with = "UnitSystemDto")]
    units: UnitSystem,
    #[serde(default = "no_zoom")]
    zoom_percent: u16,
    #[serde(default)]
    recent: Vec<String>,
    #[serde(default)]
    folded: BTreeSet<Panel>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    window_points: Option<(u16, u16)>,
}

const fn no_zoom() -> u16 {
    ZOOM_RANGE.0
}

/// The format alone, whatever else the file says.
#[derive(Deserialize)]
#[serde(rename = "Settings")]
struct FormatOnly {
    tapcross_settings: u32,
}

/// Reads settings from text; what cannot be used has its default, and the sentence says what and why.
pub fn parse(text: &str) -> (Settings, Option<String>) {
    if let Some(format) = newer_format(text) {
        let told = format!(
            "The settings were written by a newer Tapcross (format {format}) and stay as they are; the usual ones are used"
        );
        return (Settings::default(), Some(told));
    }
    match options().from_str::<SettingsDto>(text) {
        Ok(dto) => from_dto(dto),
        Err(error) => {
            let told = format!("The settings cannot be read, so the usual ones are used ({error})");
            (Settings::default(), Some(told))
        }
    }
}

/// Writes settings as text.
///
/// # Errors
/// When a value cannot be written, which no settings are known to bring about.
pub fn write(settings: &Settings) -> Result<String> {
    let paths = settings.recent.iter().filter_map(|path| path.to_str());
    let dto = SettingsDto {
        tapcross_settings: FORMAT,
        theme: settings.theme,
        units: settings.units,
        zoom_percent: settings.zoom_percent,
        recent: paths.map(str::to_owned).collect(),
        folded: settings.folded.clone(),
        window_points: settings.window_points,
    };
    let pretty = PrettyConfig::new().new_line("\n").depth_limit(2).extensions(Extensions::IMPLICIT_SOME);
    let text = Options::default().to_string_pretty(&dto, pretty).context("The settings cannot be written")?;
    Ok(text + "\n")
}

/// Reads the settings file; a missing one gives the usual settings without a word, for every first start lacks it.
pub fn read(path: &Path) -> (Settings, Option<String>) {
    match fs::read_to_string(path) {
        Ok(text) => {
            let (settings, told) = parse(&text);
            (settings, told.map(|told| format!("{told}: {}", path.display())))
        }
        Err(error) if error.kind() == ErrorKind::NotFound => (Settings::default(), None),
        Err(error) => {
            let told = format!("The settings cannot be read, so the usual ones are used ({error}): {}", path.display());
            (Settings::default(), Some(told))
        }
    }
}

/// Saves the settings, whole or not at all; the folder is made where it is missing.
///
/// # Errors
/// When the file there is of a newer format, and as [`write_atomically`].
pub fn save(path: &Path, settings: &Settings) -> Result<()> {
    let there = fs::read_to_string(path).ok();
    if let Some(format) = there.as_deref().and_then(newer_format) {
        bail!(
            "The settings there were written by a newer Tapcross (format {format}) and stay as they are: {}",
            path.display()
        );
    }
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)
            .with_context(|| format!("The settings' folder cannot be made: {}", folder.display()))?;
    }
    write_atomically(path, write(settings)?.as_bytes())
}

/// The format of a file of a newer program.
fn newer_format(text: &str) -> Option<u32> {
    let found: FormatOnly = options().from_str(text).ok()?;
    (found.tapcross_settings > FORMAT).then_some(found.tapcross_settings)
}

fn from_dto(dto: SettingsDto) -> (Settings, Option<String>) {
    let (zoom_percent, told) = zoom(dto.zoom_percent);
    let settings = Settings {
        theme: dto.theme,
        units: dto.units,
        zoom_percent,
        recent: shortened(dto.recent.into_iter().map(PathBuf::from).collect()),
        folded: dto.folded,
        window_points: dto.window_points,
    };
    (settings, told)
}

/// A zoom that can be used, and what was wrong with one that cannot.
fn zoom(percent: u16) -> (u16, Option<String>) {
    let (least, most) = ZOOM_RANGE;
    if (least..=most).contains(&percent) {
        return (percent, None);
    }
    let told =
        format!("zoom_percent in the settings is {percent}; it lies between {least} and {most}, so {least} is used");
    (least, Some(told))
}

fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}
