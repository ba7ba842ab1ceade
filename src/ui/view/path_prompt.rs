//! What a path is wanted for, and the path while it is typed where the system has no dialog.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use crate::ui::view::action::{Action, Tables};
use crate::ui::view::at_stake::Stamp;

/// What a path is wanted for.
#[derive(Clone, Debug, PartialEq)]
pub enum Purpose {
    /// Opening a job; the work that a person agreed to give up for it.
    OpenJob(Option<Box<Stamp>>),
    /// Showing another job on the chart.
    ShowBeside,
    /// Taking a picture for the head of reports.
    Logo,
    /// Saving the job: the name suggested, and what waits for it.
    SaveJob(String, Option<Box<Action>>),
    /// Writing the results; the name suggested, whose ending says what is meant.
    SaveReport(String),
    /// Writing a blank field sheet; the name suggested.
    SaveSheet(String),
    /// Looking at the blower tables of a file.
    OpenTable,
    /// Writing blower tables; the name suggested, whose ending says what is meant, and which.
    SaveTable(String, Tables),
}

impl Purpose {
    /// What the dialog is called.
    pub const fn title(&self) -> &'static str {
        match self {
            Self::OpenJob(_) => "Open a job",
            Self::ShowBeside => "Show another job on the chart",
            Self::Logo => "Choose a logo",
            Self::SaveJob(..) => "Save the job",
            Self::SaveReport(_) => "Write the results",
            Self::SaveSheet(_) => "Write a field sheet",
            Self::OpenTable => "Open blower tables or a picture",
            Self::SaveTable(_, Tables::Job) => "Write the blower table",
            Self::SaveTable(_, Tables::These(_)) => "Write blower tables",
        }
    }

    /// A path with the ending that files of its kind have, where a person gave none.
    pub fn completed(&self, path: &Path) -> PathBuf {
        let ending = match self {
            Self::SaveJob(..) => Some("ron"),
            Self::SaveReport(name) | Self::SaveSheet(name) | Self::SaveTable(name, _) => {
                Path::new(name).extension().and_then(OsStr::to_str)
            }
            Self::OpenJob(_) | Self::ShowBeside | Self::Logo | Self::OpenTable => None,
        };
        let missing = ending.filter(|_| path.extension().is_none());
        missing.map_or_else(|| path.to_path_buf(), |ending| path.with_extension(ending))
    }

    /// What is done with a path; a file that is there already is asked about before it is replaced.
    pub fn action(&self, path: PathBuf) -> Action {
        match self {
            Self::OpenJob(None) => Action::OpenPath(path),
            Self::OpenJob(Some(agreed)) => Action::GiveUp(agreed.clone(), Box::new(Action::OpenPath(path))),
            Self::ShowBeside => Action::ShowBeside(path),
            Self::Logo => Action::TakeLogo(path),
            Self::SaveJob(_, then) => Action::SaveTo { path, then: then.clone() },
            Self::SaveReport(_) => Action::ReportTo(path),
            Self::SaveSheet(_) => Action::SheetTo(path),
            Self::OpenTable => Action::OpenTable(path),
            Self::SaveTable(_, which) => Action::TableTo(path, which.clone()),
        }
    }

    /// The name suggested.
    pub fn suggested(&self) -> &str {
        match self {
            Self::OpenJob(_) | Self::ShowBeside | Self::Logo | Self::OpenTable => "",
            Self::SaveJob(name, _) | Self::SaveReport(name) | Self::SaveSheet(name) | Self::SaveTable(name, _) => name,
        }
    }
}

/// A path typed in the window.
#[derive(Clone, Debug, PartialEq)]
pub struct PathPrompt {
    /// What for.
    pub purpose: Purpose,
    /// What is typed.
    pub text: String,
    /// Why the last one could not be.
    pub problem: Option<String>,
}

impl PathPrompt {
    /// The path that is typed, with the ending that files of its kind have; nothing typed is none.
    pub fn path(&self) -> Option<PathBuf> {
        let text = self.text.trim();
        (!text.is_empty()).then(|| self.purpose.completed(Path::new(text)))
    }

    /// True where results or a sheet are written to this path because it is typed here.
    pub fn is_for(&self, results: &Path) -> bool {
        matches!(self.purpose, Purpose::SaveReport(_) | Purpose::SaveSheet(_))
            && self.path().as_deref() == Some(results)
    }
}
