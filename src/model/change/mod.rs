//! Fixes and faults, one file a kind: its words, its role, where it lands, what a person states of it, what it does and what it is at first.
//!
//! Tray, editor, sliders, checks, job file and report follow from [`Kind`]; a kind is added by its file in `kinds`, its line in the list there, and its case in [`ChangeKind`].

pub mod kinds;
pub mod on_parts;
pub mod stated;
mod told;

use crate::model::change::on_parts::Place;
use crate::model::change::stated::Stated;
use crate::model::facts::air_path::{AirPath, ElementId, ElementKind};
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::{Change, ChangeKind, Opening, Replacement};
use crate::model::facts::duct::run::Run;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::{Airflow, Area, Dimension, Pressure, UnitSystem, Velocity};

pub use told::section;

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

/// When a change is put on: the machine, then the call, then what is done to parts, then in what state they are, and ways beside them last, a way beside few parts before one beside more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// The machine comes first.
    Machine,
    /// Then its call.
    Call,
    /// What is done to parts, to the tap or to the blower.
    Work,
    /// In what state parts are.
    State,
    /// A way beside grilles and ducts.
    BesideDucts,
    /// A way beside the filter too.
    BesideFilters,
    /// A way beside everything before the blower.
    BesideReturn,
}

/// What the size of a change can be asked for, the other way round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asks {
    /// A drop that the part may have.
    Drop,
    /// A velocity that the air may have.
    Velocity,
    /// Nothing: such a change has no size.
    Nothing,
}

/// What a person allows a change, to be told its size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Allowed {
    /// Drop that the part may have.
    Drop(Pressure),
    /// Velocity that the air may have.
    Velocity(Velocity),
}

impl Allowed {
    /// What is asked with it.
    pub const fn asks(self) -> Asks {
        match self {
            Self::Drop(_) => Asks::Drop,
            Self::Velocity(_) => Asks::Velocity,
        }
    }
}

/// A size that would do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Size {
    /// Diameter of a round duct.
    Round(Dimension),
    /// Area of a face or of media.
    Area(Area),
}

/// A drop that is allowed to the part of a change, above zero, with what that part drops as read.
#[derive(Clone, Copy, Debug)]
pub struct AllowedDrop<'a> {
    /// Where the change is worked out, at the airflow through its part.
    pub place: Place<'a>,
    /// Its drop as read, above zero.
    pub read: Pressure,
    /// The drop that is allowed.
    pub allowed: Pressure,
}

impl AllowedDrop<'_> {
    /// The allowed drop as the formulas have it, which give `computed` for what was read.
    fn of_computed(&self, computed: Pressure) -> Pressure {
        computed * (self.allowed / self.read)
    }
}

/// What everybody needs to know of a kind of change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Declaration {
    /// Its name in the tray.
    pub name: &'static str,
    /// Its word in a job file.
    pub file: &'static str,
    /// What it does, one line.
    pub does: &'static str,
    /// What it assumes.
    pub assumes: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
    /// What who does it has to mind.
    pub cautions: &'static [Caution],
    /// Where it can land.
    pub lands: Lands,
    /// What it is for a search.
    pub role: Role,
    /// When it is put on.
    pub stage: Stage,
    /// What its size can be asked for.
    pub asks: Asks,
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

/// A kind of change.
pub trait Kind: Sized {
    /// Its words, its role and where it lands.
    const DECLARATION: Declaration;

    /// A first version on an element; nothing when it has nothing to start from (no other tap).
    ///
    /// The numbers are everyday sizes (common practice, no source), not the house's: a person types the house's.
    fn first(on: ElementId, start: &Start<'_>) -> Option<Self>;

    /// Everything that a person states of it, in the order of the job file.
    fn stated(&mut self) -> Vec<Stated<'_>>;

    /// Puts it on the parts, and says what is left to do to the system; after an error the parts are as they were.
    ///
    /// # Errors
    /// An element that is gone, a size that cannot be, a place where it cannot stand.
    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> Result<Effect<'_>, Refusal>;

    /// Its numbers in a line: "16 in round, stiff → 18 in round, stiff"; nothing where its title says all.
    fn details(&self, job: &Job, units: UnitSystem) -> Option<String>;

    /// Its name and what it is on or goes to, besides an element: "Another tap: tap 4".
    fn goes_to(&self, _job: &Job) -> Option<String> {
        None
    }

    /// The elements that it needs as parts of their own, besides the one that it is on.
    fn holds(&self, _path: &AirPath) -> Vec<ElementId> {
        Vec::new()
    }

    /// When it is put on.
    fn stage(&self) -> Stage {
        Self::DECLARATION.stage
    }

    /// Whether its numbers go together.
    ///
    /// # Errors
    /// The numbers that do not.
    fn goes_together(&self) -> Result<(), Refusal> {
        Ok(())
    }

    /// The size with which its part drops no more than is allowed; nothing for a kind whose size is not asked for by a drop.
    ///
    /// # Errors
    /// A number that cannot be, an element that is gone.
    fn size_for_drop(&self, _asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
        Ok(None)
    }

    /// What else is asked of some kinds.
    fn particulars(&self) -> Particulars<'_> {
        Particulars::default()
    }
}

/// What is asked of some kinds of change; most have nothing of it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Particulars<'a> {
    /// The machine that it puts on the ducts.
    pub machine: Option<&'a Replacement>,
    /// The call that it runs.
    pub call: Option<Call>,
    /// The tap that it runs, by its name.
    pub tap: Option<&'a str>,
    /// The part of its table's airflow that is left of the blower.
    pub slower: Option<f64>,
    /// The coil whose state it changes: the table's own drop counts where that coil is part of it.
    pub coil: Option<ElementId>,
    /// The run and the grille of a way that it lays anew.
    pub new_way: Option<(Run, Opening)>,
    /// True where a new part takes the place of the one that it is on.
    pub replaces_part: bool,
    /// True where it touches all that stands before the blower.
    pub touches_return: bool,
    /// True where airflow at the blower and in the rooms say what it does, and not the drop of its part.
    pub is_told_by_air: bool,
}

impl Particulars<'_> {
    /// True where another curve of a table runs, of which nothing is in doubt but the readings.
    pub const fn is_by_table(&self) -> bool {
        self.machine.is_some() || self.call.is_some() || self.tap.is_some()
    }
}

impl ChangeKind {
    /// True for what somebody has to pay for: a fix, and another machine.
    pub fn is_bought(&self) -> bool {
        self.declaration().role == Role::Fix || self.particulars().machine.is_some()
    }
}

/// What a change does to the system besides its parts.
#[derive(Clone, Copy, Debug)]
pub enum Effect<'a> {
    /// Nothing: it was done to the parts.
    Done,
    /// Another tap runs.
    Tap(&'a str),
    /// The blower moves this part of its table's airflow.
    Slower(f64),
    /// Another call runs.
    Call(Call),
    /// Another machine stands there.
    Machine(&'a Replacement),
    /// The coil that the table contains is in its other state: by the table's drop, else by a factor on its own.
    CoilOfTable(ElementId, f64),
}

/// What a first version starts from.
pub struct Start<'a> {
    /// The job that it is put on.
    pub job: &'a Job,
    /// Airflow that a new part is chosen for.
    pub airflow: Airflow,
    /// The table of another machine, once it is picked.
    pub table: Option<&'a BlowerTable>,
    /// The next tap up, else the next one down.
    pub next_tap: &'a dyn Fn() -> Option<String>,
    /// Another call that the machine's table maps.
    pub next_call: &'a dyn Fn() -> Option<Call>,
}

impl std::fmt::Debug for Start<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Start").field("airflow", &self.airflow).finish_non_exhaustive()
    }
}

/// Whether a job can hold what its changes state.
///
/// # Errors
/// The change and the value.
pub fn can_be_held<'c>(mut changes: impl Iterator<Item = &'c Change>) -> Result<(), Refusal> {
    let held = |kind: &ChangeKind| {
        kind.check()?;
        kind.clone().stated().iter().try_for_each(Stated::can_be_held)
    };
    let told = |change: &Change| held(&change.kind).map_err(|refused| refused.at(format!("Change {}", change.id.0)));
    changes.try_for_each(told)
}

impl ChangeKind {
    /// Puts it on the parts, and says what is left to do to the system; after an error the parts are as they were.
    ///
    /// # Errors
    /// Numbers that cannot be, an element that is gone, a place where it cannot stand.
    pub fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        self.check()?;
        self.put_on_unchecked(parts, place)
    }

    /// Its name and what it is on or goes to: "New filter or coil: filter".
    pub fn title(&self, job: &Job) -> String {
        let name = self.declaration().name;
        let on = |id| job.path.name_of(id).map_or_else(|| "element gone".to_owned(), str::to_lowercase);
        match self.goes_to(job).or_else(|| self.element().map(on)) {
            Some(what) => format!("{name}: {what}"),
            None => name.to_owned(),
        }
    }

    /// Whether its numbers can be meant; asked by every edit, by every file, and before it is put on.
    ///
    /// What it is put on, and the table and target of another machine, are looked at elsewhere.
    ///
    /// # Errors
    /// The number that cannot be.
    pub fn check(&self) -> Result<(), Refusal> {
        self.clone().stated().iter().try_for_each(Stated::check)?;
        self.goes_together()
    }

    /// The elements that it needs as parts of their own.
    pub fn takes_hold_of(&self, path: &AirPath) -> Vec<ElementId> {
        self.element().map_or_else(|| self.holds(path), |id| vec![id])
    }
}
