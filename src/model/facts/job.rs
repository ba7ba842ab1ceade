//! The document: everything that a person decided and read, and nothing that follows from it.

use crate::model::facts::accuracy::Accuracy;
use crate::model::facts::air_path::{AirPath, ElementId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::blower::{BlowerTable, ReturnOpenings};
use crate::model::facts::change::Change;
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::limits::Limits;
use crate::model::facts::readings::{ReadAt, ReadingSet};
use crate::model::facts::target::Target;
use crate::units::Capacity;

/// One job: a machine, an air path, readings and a target.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What a person calls it.
    pub title: String,
    /// Where it is.
    pub place: String,
    /// When it was read, as typed (ISO 8601 is suggested).
    pub date: String,
    /// Anything else.
    pub notes: String,
    /// True for an invented job.
    pub illustrative: bool,
    /// The machine, with the job's own copy of its table.
    pub machine: Option<BlowerTable>,
    /// Capacity of the outdoor unit installed, where it differs from the table's nominal one.
    pub outdoor_unit: Option<Capacity>,
    /// Return openings used on this machine.
    pub return_openings: ReturnOpenings,
    /// The chain that the air passes.
    pub path: AirPath,
    /// Reading sets; the first is the one that everything is judged by.
    pub sets: Vec<ReadingSet>,
    /// Lengths and design static that the ducts are judged by.
    pub ducts: DuctDesign,
    /// Fixes and faults put on it, in the person's order.
    pub changes: Vec<Change>,
    /// How much air it ought to move.
    pub target: Option<Target>,
    /// Limits that verdicts use.
    pub limits: Limits,
    /// Limits of error.
    pub accuracy: Accuracy,
}

impl Default for Job {
    fn default() -> Self {
        Self {
            title: String::new(),
            place: String::new(),
            date: String::new(),
            notes: String::new(),
            illustrative: false,
            machine: None,
            outdoor_unit: None,
            return_openings: ReturnOpenings::Unstated,
            path: AirPath::default(),
            sets: vec![ReadingSet { name: "As found".to_owned(), ..ReadingSet::default() }],
            ducts: DuctDesign::default(),
            changes: Vec::new(),
            target: None,
            limits: Limits::default(),
            accuracy: Accuracy::default(),
        }
    }
}

/// Stands in for the first reading set of a job that has none, which [`Job::default`] never makes and no file may bring.
static NO_READINGS: std::sync::LazyLock<ReadingSet> = std::sync::LazyLock::new(ReadingSet::default);

impl Job {
    /// The reading set that everything is judged by.
    pub fn set(&self) -> &ReadingSet {
        self.sets.first().unwrap_or(&NO_READINGS)
    }

    /// Name of the tap in use: the one said in the readings, else the one that the call runs.
    pub fn tap_in_use(&self) -> Option<&str> {
        let set = self.set();
        set.tap.as_deref().or_else(|| self.machine.as_ref()?.tap_of_call(set.call))
    }

    /// Capacity that airflow a ton is reckoned by: the target's where it is found from tons, else the outdoor unit's, else the table's nominal one.
    pub fn capacity(&self) -> Option<Capacity> {
        let of_target = match self.target {
            Some(Target::PerTon { capacity, .. }) => Some(capacity),
            _ => None,
        };
        of_target.or(self.outdoor_unit).or_else(|| self.machine.as_ref()?.cooling)
    }

    /// True for a part that the machine's table contains.
    pub fn is_inside(&self, id: ElementId) -> bool {
        let table = self.machine.as_ref();
        table.is_some_and(|table| self.path.index_of(id).is_some_and(|at| self.path.inside(&table.basis).contains(&at)))
    }

    /// Average reading at the port before the blower.
    pub fn return_reading(&self) -> Option<crate::units::Pressure> {
        self.set().at(ReadAt::Port(RETURN_PORT))?.average()
    }

    /// Average reading at the port after the blower.
    pub fn supply_reading(&self) -> Option<crate::units::Pressure> {
        self.set().at(ReadAt::Port(SUPPLY_PORT))?.average()
    }
}
