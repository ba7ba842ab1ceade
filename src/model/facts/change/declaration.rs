//! One declaration a kind of change: the single place for its words, its source and what can take it.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::change::ChangeKind;

/// Where a change can land.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lands {
    /// On an element of one of these kinds.
    On(&'static [ElementKind]),
    /// On the return side as a whole.
    OnReturn,
    /// On the blower or its tap.
    OnBlower,
}

/// What a change is for a search of the cheapest set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Something that is done and paid for: a search puts it on or leaves it off.
    Fix,
    /// A state that the system is in or is looked at in: a search leaves it as it is switched.
    Condition,
}

/// What everybody needs to know of a kind of change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Declaration {
    /// Its name in the tray.
    pub name: &'static str,
    /// What it does, one line.
    pub does: &'static str,
    /// What it assumes.
    pub assumes: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
    /// Where it can land.
    pub lands: Lands,
    /// What it is for a search.
    pub role: Role,
}

const FILTERS: &[ElementKind] = &[ElementKind::Filter];
const COILS: &[ElementKind] = &[ElementKind::Coil];
const FILTERS_AND_COILS: &[ElementKind] = &[ElementKind::Filter, ElementKind::Coil, ElementKind::AirCleaner];
const DUCTS: &[ElementKind] = &[ElementKind::ReturnDuct, ElementKind::SupplyDuct];
const OPENINGS: &[ElementKind] = &[ElementKind::Louvre, ElementKind::ReturnGrille, ElementKind::Registers];
const REGISTERS: &[ElementKind] = &[ElementKind::Registers];
const OPENED: &[ElementKind] = &[ElementKind::Leak, ElementKind::Bypass];
const ANY: &[ElementKind] = &[
    ElementKind::Louvre,
    ElementKind::ReturnGrille,
    ElementKind::ReturnDuct,
    ElementKind::Filter,
    ElementKind::Coil,
    ElementKind::Heater,
    ElementKind::SupplyDuct,
    ElementKind::Registers,
    ElementKind::AirCleaner,
    ElementKind::Humidifier,
    ElementKind::Damper,
];

/// Every declaration, in the order of the tray.
pub const ALL: [&Declaration; 17] = [
    &BY_DATA,
    &MORE_FILTER_AREA,
    &SECOND_RETURN,
    &OTHER_DUCT,
    &OTHER_OPENING,
    &OPEN_REGISTERS,
    &CLEAN_COIL,
    &REPAIR_RUN,
    &SEAL,
    &LESS_BY_HAND,
    &OTHER_TAP,
    &OTHER_MACHINE,
    &OTHER_CALL,
    &OTHER_COIL_STATE,
    &FILTER_LOADING,
    &PANEL_OFF,
    &BELOW_TABLE,
];

/// A filter or coil by its published drop.
pub const BY_DATA: Declaration = Declaration {
    name: "Part by its data",
    does: "Another filter or coil, by its published drop",
    assumes: "One published point takes the usual exponent of its kind",
    source: "Power law through the published points",
    lands: Lands::On(FILTERS_AND_COILS),
    role: Role::Fix,
};
/// More media of the same kind.
pub const MORE_FILTER_AREA: Declaration = Declaration {
    name: "More filter area",
    does: "The read drop times (area now / area then) to the filter's exponent",
    assumes: "Same media, depth and pleat; areas are of the media, or of the face between like filters",
    source: "Drop follows media velocity to the power n",
    lands: Lands::On(FILTERS),
    role: Role::Fix,
};
/// A second return.
pub const SECOND_RETURN: Declaration = Declaration {
    name: "Second return",
    does: "Another run beside grille and duct; flows add at equal drop",
    assumes: "Drawn from the rooms served, never from a garage, a combustion-air space or near a vented appliance",
    source: "Parallel rule; Darcy–Weisbach with Colebrook; grille by its free area (Blevins 1984)",
    lands: Lands::OnReturn,
    role: Role::Fix,
};
/// The same run in another size.
pub const OTHER_DUCT: Declaration = Declaration {
    name: "Other duct",
    does: "The read drop times computed then / computed now, friction and fittings",
    assumes: "The reading knows the fittings; the sum of their coefficients is the same in both sizes",
    source: "Darcy–Weisbach with Colebrook; Huebscher's equivalent for rectangular duct",
    lands: Lands::On(DUCTS),
    role: Role::Fix,
};
/// Another grille or register.
pub const OTHER_OPENING: Declaration = Declaration {
    name: "Other grille",
    does: "The read drop times computed then / computed now",
    assumes: "Bare faces by their free area; a maker's own data is better",
    source: "Blevins, Applied Fluid Dynamics Handbook, 1984",
    lands: Lands::On(OPENINGS),
    role: Role::Fix,
};
/// Registers opened or shut.
pub const OPEN_REGISTERS: Declaration = Declaration {
    name: "Open or shut registers",
    does: "Branches with their registers as one group: (open now / open then) to the power n",
    assumes: "Like branches; the trunk keeps its drop",
    source: "Parallel rule with equal branches",
    lands: Lands::On(REGISTERS),
    role: Role::Fix,
};
/// A coil cleaned.
pub const CLEAN_COIL: Declaration = Declaration {
    name: "Clean coil",
    does: "A stated fraction of the coil's drop goes away",
    assumes: "The fraction is a person's judgement",
    source: "Stated by hand",
    lands: Lands::On(COILS),
    role: Role::Fix,
};
/// A damaged run put right.
pub const REPAIR_RUN: Declaration = Declaration {
    name: "Repair a run",
    does: "A stated fraction of the run's drop goes away",
    assumes: "The fraction is a person's judgement",
    source: "Stated by hand",
    lands: Lands::On(DUCTS),
    role: Role::Fix,
};
/// A leak sealed, a bypass shut.
pub const SEAL: Declaration = Declaration {
    name: "Seal the ducts",
    does: "A leak or a bypass keeps only part of its opening; blower and delivered airflow are two numbers",
    assumes: "The blower may move less air afterwards while the rooms get more",
    source: "Leak flow follows pressure to the power 0.65 (handbook of fundamentals, duct design, eq. 37); a damper the square law",
    lands: Lands::On(OPENED),
    role: Role::Fix,
};
/// Another machine.
pub const OTHER_MACHINE: Declaration = Declaration {
    name: "Another machine",
    does: "Its own table, coil, filter and calls on the ducts as read",
    assumes: "The ducts stay; a load calculation, not the old machine, says what size is right",
    source: "Its blower table; the path as read without the parts that leave",
    lands: Lands::OnBlower,
    role: Role::Condition,
};
/// Another call.
pub const OTHER_CALL: Declaration = Declaration {
    name: "Another call",
    does: "The tap that this call runs, warm air in the supply when it heats, and a coil that is wet only while it cools",
    assumes: "The heat output is the plate's; a dry coil outside the machine takes the wet one's drop over 1.3, and its part of an unsplit stretch by usual weights",
    source: "The machine's map from calls to taps; supply drop × ρ blower / ρ supply",
    lands: Lands::OnBlower,
    role: Role::Condition,
};
/// The coil's other state.
pub const OTHER_COIL_STATE: Declaration = Declaration {
    name: "Coil wet or dry",
    does: "The coil in its other state: by the table's correction inside the machine, by a factor outside",
    assumes: "The factor is a person's; the coil maker prints both drops",
    source: "Stated by hand, or the blower table",
    lands: Lands::On(COILS),
    role: Role::Condition,
};
/// A panel off.
pub const PANEL_OFF: Declaration = Declaration {
    name: "Panel off",
    does: "A hole between filter and blower: a short cut past the whole return",
    assumes: "A sharp-edged hole; never run a machine like this but to show it",
    source: "Orifice with a discharge coefficient of 0.6 (handbooks of fluid mechanics)",
    lands: Lands::OnBlower,
    role: Role::Condition,
};
/// Less by hand.
pub const LESS_BY_HAND: Declaration = Declaration {
    name: "Less by %",
    does: "An element takes a stated percentage less",
    assumes: "For what-ifs: it says nothing of how",
    source: "Stated by hand",
    lands: Lands::On(ANY),
    role: Role::Fix,
};
/// Another tap.
pub const OTHER_TAP: Declaration = Declaration {
    name: "Another tap",
    does: "Another curve of the same table",
    assumes: "Static, watts or amps and temperature rise are read again afterwards, in heating and in cooling",
    source: "The blower table",
    lands: Lands::OnBlower,
    role: Role::Fix,
};
/// A filter loaded or renewed.
pub const FILTER_LOADING: Declaration = Declaration {
    name: "Filter loading",
    does: "The filter's drop times a factor",
    assumes: "The exponent stays",
    source: "Stated by hand",
    lands: Lands::On(FILTERS),
    role: Role::Condition,
};
/// A blower that moves less than its table.
pub const BELOW_TABLE: Declaration = Declaration {
    name: "Blower below its table",
    does: "Airflow times s and pressure times s²: a dirty wheel, low voltage",
    assumes: "A slower or fouled wheel keeps the shape of its curve",
    source: "Fan laws, speed rule",
    lands: Lands::OnBlower,
    role: Role::Condition,
};

impl ChangeKind {
    /// Its declaration.
    pub const fn declaration(&self) -> &'static Declaration {
        match self {
            Self::LessByHand { .. } => &LESS_BY_HAND,
            Self::ByData { .. } => &BY_DATA,
            Self::MoreFilterArea { .. } => &MORE_FILTER_AREA,
            Self::FilterLoading { .. } => &FILTER_LOADING,
            Self::CleanCoil { .. } => &CLEAN_COIL,
            Self::OtherDuct { .. } => &OTHER_DUCT,
            Self::SecondReturn { .. } => &SECOND_RETURN,
            Self::OtherOpening { .. } => &OTHER_OPENING,
            Self::OpenRegisters { .. } => &OPEN_REGISTERS,
            Self::RepairRun { .. } => &REPAIR_RUN,
            Self::Seal { .. } => &SEAL,
            Self::OtherMachine(_) => &OTHER_MACHINE,
            Self::OtherCall(_) => &OTHER_CALL,
            Self::OtherCoilState { .. } => &OTHER_COIL_STATE,
            Self::PanelOff { .. } => &PANEL_OFF,
            Self::OtherTap(_) => &OTHER_TAP,
            Self::BelowTable { .. } => &BELOW_TABLE,
        }
    }
}

impl Declaration {
    /// True when an element can take it.
    pub fn lands_on(&self, kind: ElementKind) -> bool {
        match self.lands {
            Lands::On(kinds) => kinds.contains(&kind),
            Lands::OnReturn => {
                matches!(kind, ElementKind::ReturnGrille | ElementKind::ReturnDuct | ElementKind::Louvre)
            }
            Lands::OnBlower => kind == ElementKind::Blower,
        }
    }
}
