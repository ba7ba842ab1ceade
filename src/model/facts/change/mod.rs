//! Fixes and faults: what can be put on the path, the blower or the tap, and what it does.
//!
//! One declaration a kind ([`declaration::Declaration`]) gives its name, what it assumes, its source and the elements that can take it; tray, editor, report and documentation follow from it.

pub mod check;
pub mod declaration;

use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::target::Target;
use crate::model::laws::duct::run::Run;
use crate::units::Area;

/// Names a change for as long as the job lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChangeId(pub u32);

/// A grille's or register's face, free area and loss.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Gross face area.
    pub face: Area,
    /// Free area over face area, above 0 to 1.
    pub free_area: f64,
}

/// What is done.
#[derive(Clone, Debug, PartialEq)]
pub enum ChangeKind {
    /// The element takes a fraction less (0 to 1), by hand.
    LessByHand {
        /// What is eased.
        element: ElementId,
        /// Fraction taken away.
        fraction: f64,
    },
    /// Another filter or coil, by its published drop.
    ByData {
        /// What is replaced.
        element: ElementId,
        /// The new part's drop.
        data: DropData,
    },
    /// A filter of the same kind with more media.
    MoreFilterArea {
        /// The filter.
        element: ElementId,
        /// Media area now.
        now: Area,
        /// Media area then.
        then: Area,
    },
    /// A filter's drop times a factor: loaded (above 1) or changed for a clean one (below 1).
    FilterLoading {
        /// The filter.
        element: ElementId,
        /// Factor on its drop.
        factor: f64,
    },
    /// A coil cleaned: the fraction of its drop that was dirt.
    CleanCoil {
        /// The coil.
        element: ElementId,
        /// Fraction taken away.
        fraction: f64,
    },
    /// The same run in another size.
    OtherDuct {
        /// The duct.
        element: ElementId,
        /// The run now.
        now: Run,
        /// The run then.
        then: Run,
    },
    /// A second return beside grille and duct, joined before the filter, or beside the filter too where it has its own.
    SecondReturn {
        /// The new run.
        run: Run,
        /// Its grille.
        grille: Opening,
        /// Its own filter, where it stands in the grille.
        filter: Option<DropData>,
    },
    /// Another grille or register.
    OtherOpening {
        /// The grille.
        element: ElementId,
        /// Its face now.
        now: Opening,
        /// Its face then.
        then: Opening,
    },
    /// Some of a group of like registers opened or shut.
    OpenRegisters {
        /// The registers with their branches.
        element: ElementId,
        /// Open now.
        now: u32,
        /// Open then.
        then: u32,
        /// All of them.
        of: u32,
    },
    /// A crushed or kinked run put right: the fraction of its drop that the damage makes.
    RepairRun {
        /// The duct.
        element: ElementId,
        /// Fraction taken away.
        fraction: f64,
    },
    /// A leak sealed, or a bypass shut: the fraction of its opening that goes (0 to 1).
    Seal {
        /// The leak or the bypass.
        element: ElementId,
        /// Fraction of the opening that is closed.
        fraction: f64,
    },
    /// The other state of the coil than the one read: wet for dry, dry for wet.
    OtherCoilState {
        /// The coil.
        element: ElementId,
        /// Drop then over drop now, where the coil is not part of the table; else the table's own correction counts.
        factor: f64,
    },
    /// A panel off between filter and blower: a hole past the whole return.
    PanelOff {
        /// Open area.
        area: Area,
    },
    /// Another call of the thermostat: its own tap, a coil wet or dry, warm air in the supply.
    OtherCall(Call),
    /// Another machine on the ducts as read.
    OtherMachine(Box<Replacement>),
    /// Another tap or setting.
    OtherTap(String),
    /// The blower moves less than its table: airflow times s, pressure times s² (dirty wheel, low voltage).
    BelowTable {
        /// The factor s, 0.5 to 1.
        factor: f64,
    },
}

impl ChangeKind {
    /// The element it takes hold of, where it is one.
    pub const fn element(&self) -> Option<ElementId> {
        match self {
            Self::LessByHand { element, .. }
            | Self::ByData { element, .. }
            | Self::MoreFilterArea { element, .. }
            | Self::FilterLoading { element, .. }
            | Self::CleanCoil { element, .. }
            | Self::OtherDuct { element, .. }
            | Self::OtherOpening { element, .. }
            | Self::OpenRegisters { element, .. }
            | Self::RepairRun { element, .. }
            | Self::Seal { element, .. }
            | Self::OtherCoilState { element, .. } => Some(*element),
            Self::SecondReturn { .. }
            | Self::PanelOff { .. }
            | Self::OtherCall(_)
            | Self::OtherMachine(_)
            | Self::OtherTap(_)
            | Self::BelowTable { .. } => None,
        }
    }
}

/// Another machine, and what comes and goes with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// Its blower table.
    pub table: BlowerTable,
    /// The tap that it runs; where nothing is said, its own map from calls to taps decides.
    pub tap: Option<String>,
    /// Parts of the path that leave with the old machine.
    pub leaves: Vec<ElementId>,
    /// Its own coil, where the table has it not.
    pub coil: Option<DropData>,
    /// Its own filter, where the table has it not and the old one leaves.
    pub filter: Option<DropData>,
    /// Its own target; the job's where nothing is said.
    pub target: Option<Target>,
}

/// Whether a change counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Switch {
    /// It does.
    #[default]
    On,
    /// It is kept but does not.
    Off,
}

/// A change of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its lasting name.
    pub id: ChangeId,
    /// What is done.
    pub kind: ChangeKind,
    /// Whether it counts.
    pub switch: Switch,
    /// What it costs, in the person's own money, where said.
    pub price: Option<f64>,
    /// Anything else in words.
    pub note: String,
}

impl Change {
    /// True when it counts.
    pub fn is_on(&self) -> bool {
        self.switch == Switch::On
    }
}
