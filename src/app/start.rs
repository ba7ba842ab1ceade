//! How the window begins.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::checks::Check;
use crate::app::dialogs::{FileDialogs, ScriptedDialogs, SystemDialogs};
use crate::files::places::Places;
use crate::files::settings;
use crate::model::answer::Answer;
use crate::model::search;
use crate::ui::view::search::Look;

/// Width and height of the first window, points.
const FIRST_WINDOW: (f32, f32) = (1440.0, 900.0);

/// How the window begins.
pub struct Start {
    /// A job to open; the demo otherwise.
    pub job: Option<PathBuf>,
    /// Where settings, own tables and autosaves live; nothing is kept without.
    pub places: Option<Places>,
    /// How paths are asked for.
    pub dialogs: Box<dyn FileDialogs>,
    /// What searches the cheapest sets of changes.
    pub look: Look,
    /// What checks ± by draws; nothing where it stays linear.
    pub check: Option<Check>,
}

impl Start {
    /// As the program starts for a person.
    pub fn for_person(job: Option<PathBuf>) -> Self {
        let dialogs = Box::new(SystemDialogs::default());
        Self { job, places: Places::find().ok(), dialogs, check: Some(Arc::new(Answer::checked)), ..Self::alone() }
    }

    /// Width and height of the window as it was last closed, in points, or those of a first start.
    pub fn window_size(&self) -> (f32, f32) {
        let kept = self.places.as_ref().and_then(|places| settings::read(&places.settings).0.window_points);
        kept.map_or(FIRST_WINDOW, |(width, height)| (f32::from(width), f32::from(height)))
    }

    /// Without a disk or a person: for tests and benchmarks.
    pub fn alone() -> Self {
        Self {
            job: None,
            places: None,
            dialogs: Box::new(ScriptedDialogs::default()),
            look: Arc::new(search::cheapest),
            check: None,
        }
    }
}
