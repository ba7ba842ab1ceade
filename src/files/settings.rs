//! What a person has set about the program itself, not about a job: a small RON file of its own.
//!
//! ```
//! let text = r#"
//! #![enable(implicit_some)]
//! (
//!     tapcross_settings: 1,            // the format; always the first field
//!     theme: System,                   // System, Light, Dark
//!     paper: Letter,                   // Letter, A4
//!     company: (name: "Alder Air (invented)", address: "1 Alder Street", town: "", contact: "555 0100"),
//!     new_jobs: {"energy_price_per_kwh": 0.21, "manometer_fraction": 0.005}, // what new jobs begin with, by the keys of a job's file
//!     sources_of_new_jobs: {"manometer_fraction": (name: "Its maker", date: "2025")}, // whose those are, where that was named
//!     currency: "EUR",                 // how money is written in new jobs; left out: dollars
//!     prices: {"Clean filter": 40.0},  // what new changes cost at first, by their names
//!     units: InchPound,                // InchPound, SiLitres, SiCubicMetres
//!     zoom_percent: 100,               // 100 to 250
//!     recent: ["house.ron"],           // latest first, at most 12
//!     folded: [EveryTap],              // panels that are folded away: Job, EveryTap, Changes, AirPath
//!     window_points: (1440, 900),      // width and height when last closed; left out: not known
//!     window_place: (80, 60),          // left and top then; left out: not known
//! )
//! "#;
//! let (settings, problem) = tapcross::files::settings::parse(text);
//! assert_eq!(problem, None);
//! assert_eq!(settings.zoom_percent, 100);
//! ```
//!
//! Everything but the first field may be left out.
//! The company's own mark is the file `logo.png` beside it ([`logo`]).
//! Only its owner may read it, for recent files are named after the places of jobs.
//! A file that cannot be read is kept beside the new one as `settings-damaged.ron`.

pub mod logo;
mod own;
mod setting;

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, anyhow, bail};
use ron::Options;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use crate::files::atomic_write::{make_private_folder, write_privately};
use crate::files::head;
use crate::files::own_source::{self, SourceDto};
use crate::files::plain_file::{self, MEGABYTE, Unread};
use crate::files::ron_words::{self, Fault};
use crate::files::settings::own::{CompanyDto, PaperDto};
use crate::model::facts::company::Company;
use crate::model::firsts::Firsts;
use crate::report::form::Paper;
use crate::units::UnitSystem;

pub use setting::Setting;

/// The format that this program writes, and the newest that it reads.
const FORMAT: u32 = 1;
/// How many recent files are kept.
pub const RECENT_FILES: usize = 12;
/// Least and most zoom, in percent.
pub const ZOOM_RANGE: (u16, u16) = (100, 250);

/// Largest file that is read, in bytes; twelve paths are far fewer.
const LARGEST: u64 = MEGABYTE;
/// How many files of settings that could not be read are kept.
const DAMAGED_FILES: usize = 9;

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
    /// The changes that are put on, with their palette.
    Changes,
    /// The air path under the chart.
    AirPath,
}

/// Everything that is remembered from one start to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Light or dark.
    pub theme: ThemeChoice,
    /// Units that numbers are typed and shown in.
    pub units: UnitSystem,
    /// Zoom in percent, 100 to 250.
    pub zoom_percent: u16,
    /// Paper that reports are printed on.
    pub paper: Paper,
    /// Whose reports they are; the logo stands in a file of its own ([`logo`]).
    pub company: Company,
    /// What new jobs and new changes begin with.
    pub firsts: Firsts,
    /// Recent files, latest first, at most [`RECENT_FILES`], each once; [`Settings::opened`] keeps it so.
    pub recent: Vec<PathBuf>,
    /// Panels that are folded away.
    pub folded: BTreeSet<Panel>,
    /// Width and height of the window in points, where known.
    pub window_points: Option<(u16, u16)>,
    /// Left and top of the window on its displays in points, where known.
    pub window_place: Option<(i32, i32)>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            theme: ThemeChoice::System,
            units: UnitSystem::InchPound,
            zoom_percent: ZOOM_RANGE.0,
            paper: Paper::default(),
            company: Company::default(),
            firsts: Firsts::default(),
            recent: Vec::new(),
            folded: BTreeSet::new(),
            window_points: None,
            window_place: None,
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
    #[serde(default, with = "PaperDto")]
    paper: Paper,
    #[serde(default)]
    company: CompanyDto,
    #[serde(default)]
    new_jobs: BTreeMap<String, f64>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    sources_of_new_jobs: BTreeMap<String, SourceDto>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    currency: String,
    #[serde(default)]
    prices: BTreeMap<String, f64>,
    #[serde(default)]
    recent: Vec<String>,
    #[serde(default)]
    folded: BTreeSet<Panel>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    window_points: Option<(u16, u16)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    window_place: Option<(i32, i32)>,
}

const fn no_zoom() -> u16 {
    ZOOM_RANGE.0
}

/// Reads settings from text; what cannot be used has its default, and the sentence says what and why.
pub fn parse(text: &str) -> (Settings, Option<String>) {
    match understood(text) {
        Ok(found) => found,
        Err(refused) => (Settings::default(), Some(refused.sentence())),
    }
}

/// Why a text gives no settings.
enum Refused {
    /// It is of this newer format.
    Newer(String),
    /// It cannot be read; what is wrong with it.
    Damaged(String),
}

impl Refused {
    fn sentence(&self) -> String {
        match self {
            Self::Newer(format) => format!(
                "The settings were written by a newer Tapcross (format {format}) and stay as they are; the usual ones are used"
            ),
            Self::Damaged(why) => {
                ron_words::shortened(&format!("The settings cannot be read, so the usual ones are used ({why})"))
            }
        }
    }
}

fn understood(text: &str) -> Result<(Settings, Option<String>), Refused> {
    let text = text.trim_start_matches('\u{feff}');
    let head = head::of(text);
    if let Some(format) = head.newer_than(FORMAT).filter(|_| head.name == head::SETTINGS) {
        return Err(Refused::Newer(format));
    }
    ron_words::read(text, "settings file").map(from_dto).map_err(|fault| Refused::Damaged(damage(&fault)))
}

/// What is wrong with a text that cannot be read.
fn damage(fault: &Fault) -> String {
    match fault {
        Fault::CutShort(line, column) => format!("the file is cut short at line {line}, column {column}"),
        Fault::Unreadable(line, column, reason) => format!("line {line}, column {column}: {reason}"),
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
        paper: settings.paper,
        company: CompanyDto::of(&settings.company),
        new_jobs: own::numbers_by_key(&settings.firsts),
        sources_of_new_jobs: own_source::to_file(&settings.firsts.sources),
        currency: settings.firsts.currency.clone(),
        prices: settings.firsts.prices.iter().map(|(name, price)| ((*name).to_owned(), *price)).collect(),
        recent: paths.map(str::to_owned).collect(),
        folded: settings.folded.clone(),
        window_points: settings.window_points,
        window_place: settings.window_place,
    };
    let pretty = PrettyConfig::new().new_line("\n").depth_limit(2).extensions(Extensions::IMPLICIT_SOME);
    let text = Options::default().to_string_pretty(&dto, pretty).context("The settings cannot be written")?;
    Ok(text + "\n")
}

/// Reads the settings file; a missing one gives the usual settings without a word, for every first start lacks it.
///
/// Where the file cannot be read, the sentence says under which name it will be kept.
pub fn read(path: &Path) -> (Settings, Option<String>) {
    let (mut settings, told) = read_file(path);
    let (logo, of_logo) = match logo::kept(path) {
        Ok(logo) => (logo, None),
        Err(error) => (None, Some(format!("{error:#}"))),
    };
    settings.company.logo = logo;
    let told: Vec<String> = told.into_iter().chain(of_logo).collect();
    (settings, (!told.is_empty()).then(|| told.join("; ")))
}

fn read_file(path: &Path) -> (Settings, Option<String>) {
    let told = match look(path) {
        There::Nothing => return (Settings::default(), None),
        There::Settings(settings, told) => {
            return (*settings, told.map(|told| format!("{told}: {}", path.display())));
        }
        There::Newer(format) => Refused::Newer(format).sentence(),
        There::Unplain(why) => Refused::Damaged(why).sentence(),
        There::Damaged(why) => {
            let told = Refused::Damaged(why).sentence();
            match places_for_damaged(path).find(|place| !is_taken(place)) {
                Some(place) => format!("{told}; the file will be kept as {}", name_of(&place)),
                None => told,
            }
        }
    };
    (Settings::default(), Some(format!("{told}: {}", path.display())))
}

/// What has the name of the settings file.
enum There {
    Nothing,
    Settings(Box<Settings>, Option<String>),
    /// A file of this newer format.
    Newer(String),
    /// A plain file that cannot be read, and why.
    Damaged(String),
    /// No file at all: a folder, a pipe.
    Unplain(String),
}

fn look(path: &Path) -> There {
    match plain_file::read_text(path, LARGEST) {
        Ok(text) => match understood(&text) {
            Ok((settings, told)) => There::Settings(Box::new(settings), told),
            Err(Refused::Newer(format)) => There::Newer(format),
            Err(Refused::Damaged(why)) => There::Damaged(why),
        },
        Err(Unread::Missing) => There::Nothing,
        Err(unread @ Unread::Unplain(_)) => There::Unplain(unread.to_string()),
        Err(unread) => There::Damaged(unread.to_string()),
    }
}

/// Saves the settings, whole or not at all; the folder is made where it is missing, and a file that cannot be read is first kept under another name.
///
/// # Errors
/// When the file there is of a newer format, is no plain file or cannot be kept, and as [`write_privately`].
pub fn save(path: &Path, settings: &Settings) -> Result<()> {
    match look(path) {
        There::Nothing | There::Settings(..) => {}
        There::Newer(format) => bail!(
            "The settings there were written by a newer Tapcross (format {format}) and stay as they are: {}",
            path.display()
        ),
        There::Unplain(why) => bail!("The settings cannot be saved: {why}: {}", path.display()),
        There::Damaged(_) => keep_damaged(path)?,
    }
    if let Some(folder) = path.parent() {
        make_private_folder(folder).map_err(|error| {
            let why = plain_file::said(&error);
            anyhow!("The settings' folder cannot be made ({why}): {}", folder.display())
        })?;
    }
    write_privately(path, write(settings)?.as_bytes())
}

/// Gives a settings file that cannot be read a name that no other file has.
fn keep_damaged(path: &Path) -> Result<()> {
    for place in places_for_damaged(path) {
        // An empty file made here holds the name, so that no other file can be written over.
        if File::create_new(&place).is_err() {
            continue;
        }
        if fs::rename(path, &place).is_ok() {
            return Ok(());
        }
        let _stays_empty_where_nothing_can_be_removed = fs::remove_file(&place);
    }
    bail!(
        "The settings are not saved, for the file there cannot be read and cannot be kept under another name; move it away, and the {DAMAGED_FILES} older ones beside it: {}",
        path.display()
    )
}

fn is_taken(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

/// The names under which a file that cannot be read may be kept, best first.
fn places_for_damaged(path: &Path) -> impl Iterator<Item = PathBuf> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let numbers = (1..=DAMAGED_FILES).map(|number| if number == 1 { String::new() } else { format!("-{number}") });
    numbers.map(move |number| path.with_file_name(format!("{stem}-damaged{number}.ron")))
}

fn name_of(path: &Path) -> std::borrow::Cow<'_, str> {
    path.file_name().unwrap_or_default().to_string_lossy()
}

fn from_dto(dto: SettingsDto) -> (Settings, Option<String>) {
    let (zoom_percent, of_zoom) = zoom(dto.zoom_percent);
    let (firsts, of_firsts) = own::firsts((dto.new_jobs, dto.sources_of_new_jobs), &dto.currency, dto.prices);
    let told: Vec<String> = of_zoom.into_iter().chain(of_firsts).collect();
    let told = (!told.is_empty()).then(|| told.join("; "));
    let settings = Settings {
        theme: dto.theme,
        units: dto.units,
        zoom_percent,
        paper: dto.paper,
        company: dto.company.company(),
        firsts,
        recent: shortened(dto.recent.into_iter().map(PathBuf::from).collect()),
        folded: dto.folded,
        window_points: dto.window_points,
        window_place: dto.window_place,
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
