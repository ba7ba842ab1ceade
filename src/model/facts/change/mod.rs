//! Fixes and faults that a job holds: plain data, one type a kind.
//!
//! What each kind is called, where it lands and what it does is declared in [`crate::model::change`].

use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::Run;
use crate::model::facts::target::Target;
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
    LessByHand(LessByHand),
    /// Another filter or coil, by its published drop.
    ByData(ByData),
    /// A filter of the same kind with more media.
    MoreFilterArea(MoreFilterArea),
    /// A filter's drop times a factor: loaded (above 1) or changed for a clean one (below 1).
    FilterLoading(FilterLoading),
    /// A coil cleaned: the fraction of its drop that was dirt.
    CleanCoil(CleanCoil),
    /// The same run in another size.
    OtherDuct(OtherDuct),
    /// A second return beside grille and duct, joined before the filter, or beside the filter too where it has its own.
    SecondReturn(SecondReturn),
    /// Another grille or register.
    OtherOpening(OtherOpening),
    /// Some of a group of like registers opened or shut.
    OpenRegisters(OpenRegisters),
    /// A crushed or kinked run put right: the fraction of its drop that the damage makes.
    RepairRun(RepairRun),
    /// A leak sealed, or a bypass shut: the fraction of its opening that goes (0 to 1).
    Seal(Seal),
    /// The other state of the coil than the one read: wet for dry, dry for wet.
    OtherCoilState(OtherCoilState),
    /// A panel off between filter and blower: a hole past the whole return.
    PanelOff(PanelOff),
    /// Another call of the thermostat: its own tap, a coil wet or dry, warm air in the supply.
    OtherCall(OtherCall),
    /// Another machine on the ducts as read.
    OtherMachine(OtherMachine),
    /// Another tap or setting.
    OtherTap(OtherTap),
    /// The blower moves less than its table: airflow times s, pressure times s² (dirty wheel, low voltage).
    BelowTable(BelowTable),
}

impl ChangeKind {
    /// The element it takes hold of, where it is one.
    pub const fn element(&self) -> Option<ElementId> {
        match self {
            Self::LessByHand(LessByHand { element, .. })
            | Self::ByData(ByData { element, .. })
            | Self::MoreFilterArea(MoreFilterArea { element, .. })
            | Self::FilterLoading(FilterLoading { element, .. })
            | Self::CleanCoil(CleanCoil { element, .. })
            | Self::OtherDuct(OtherDuct { element, .. })
            | Self::OtherOpening(OtherOpening { element, .. })
            | Self::OpenRegisters(OpenRegisters { element, .. })
            | Self::RepairRun(RepairRun { element, .. })
            | Self::Seal(Seal { element, .. })
            | Self::OtherCoilState(OtherCoilState { element, .. }) => Some(*element),
            Self::SecondReturn { .. }
            | Self::PanelOff { .. }
            | Self::OtherCall(_)
            | Self::OtherMachine(_)
            | Self::OtherTap(_)
            | Self::BelowTable { .. } => None,
        }
    }
}

/// The element takes a fraction less (0 to 1), by hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LessByHand {
    /// What is eased.
    pub element: ElementId,
    /// Fraction taken away.
    pub fraction: f64,
}

/// Another filter or coil, by its published drop.
#[derive(Clone, Debug, PartialEq)]
pub struct ByData {
    /// What is replaced.
    pub element: ElementId,
    /// The new part's drop.
    pub data: DropData,
}

/// A filter of the same kind with more media.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoreFilterArea {
    /// The filter.
    pub element: ElementId,
    /// Media area now.
    pub now: Area,
    /// Media area then.
    pub then: Area,
}

/// A filter's drop times a factor: loaded (above 1) or changed for a clean one (below 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilterLoading {
    /// The filter.
    pub element: ElementId,
    /// Factor on its drop.
    pub factor: f64,
}

/// A coil cleaned: the fraction of its drop that was dirt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CleanCoil {
    /// The coil.
    pub element: ElementId,
    /// Fraction taken away.
    pub fraction: f64,
}

/// The same run in another size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OtherDuct {
    /// The duct.
    pub element: ElementId,
    /// The run now.
    pub now: Run,
    /// The run then.
    pub then: Run,
    /// Part of the element's drop that the run takes, above 0 to 1: 1 for all of it, less for a trunk among branches.
    pub of_drop: f64,
}

/// A second return beside grille and duct, joined before the filter, or beside the filter too where it has its own.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondReturn {
    /// The new run.
    pub run: Run,
    /// Its grille.
    pub grille: Opening,
    /// Its own filter, where it stands in the grille.
    pub filter: Option<DropData>,
}

/// Another grille or register.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OtherOpening {
    /// The grille.
    pub element: ElementId,
    /// Its face now.
    pub now: Opening,
    /// Its face then.
    pub then: Opening,
}

/// Some of a group of like registers opened or shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OpenRegisters {
    /// The registers with their branches.
    pub element: ElementId,
    /// Open now.
    pub now: u32,
    /// Open then.
    pub then: u32,
    /// All of them.
    pub of: u32,
}

/// A crushed or kinked run put right: the fraction of its drop that the damage makes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RepairRun {
    /// The duct.
    pub element: ElementId,
    /// Fraction taken away.
    pub fraction: f64,
}

/// A leak sealed, or a bypass shut: the fraction of its opening that goes (0 to 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seal {
    /// The leak or the bypass.
    pub element: ElementId,
    /// Fraction of the opening that is closed.
    pub fraction: f64,
}

/// The other state of the coil than the one read: wet for dry, dry for wet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OtherCoilState {
    /// The coil.
    pub element: ElementId,
    /// Drop then over drop now, where the coil is not part of the table; else the table's own correction counts.
    pub factor: f64,
}

/// A panel off between filter and blower: a hole past the whole return.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelOff {
    /// Open area.
    pub area: Area,
}

/// Another call of the thermostat: its own tap, a coil wet or dry, warm air in the supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OtherCall {
    /// The call then.
    pub call: Call,
}

/// Another tap or setting.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherTap {
    /// Its name in the table.
    pub tap: String,
}

/// The blower moves less than its table: airflow times s, pressure times s² (dirty wheel, low voltage).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BelowTable {
    /// The factor s, 0.5 to 1.
    pub factor: f64,
}

/// Another machine on the ducts as read.
pub type OtherMachine = Box<Replacement>;

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
    /// What of the price is labour, where said; the rest is material.
    pub labour: Option<f64>,
    /// Anything else in words.
    pub note: String,
}

impl Change {
    /// True when it counts.
    pub fn is_on(&self) -> bool {
        self.switch == Switch::On
    }
}
