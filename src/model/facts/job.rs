//! The document: everything that a person decided and read, and nothing that follows from it.

use crate::model::facts::accuracy::Accuracy;
use crate::model::facts::air_path::{AirPath, ElementId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::airflow_read::Anchor;
use crate::model::facts::blower::{BlowerTable, Call, ReturnOpenings};
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::costs::Costs;
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::figure_source::Sources;
use crate::model::facts::limits::Limits;
use crate::model::facts::options::{JobOption, Options};
use crate::model::facts::readings::{ReadAt, ReadingSet};
use crate::model::facts::target::{CallTarget, Target};
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
    /// The visit: reading sets in the order in which they were taken.
    pub sets: Vec<ReadingSet>,
    /// Index of the set that everything is judged by and that changes start from.
    pub judged: usize,
    /// The opinion on the airflow that stands in the table's place; nothing for the table.
    pub anchor: Option<Anchor>,
    /// Lengths and design static that the ducts are judged by.
    pub ducts: DuctDesign,
    /// Fixes and faults put on it, in the person's order.
    pub changes: Vec<Change>,
    /// The option that these are, and the others that a customer can choose from.
    pub options: Options,
    /// What costs are reckoned with.
    pub costs: Costs,
    /// How much air it ought to move: tons in cooling, a heat and its rise in heating, a typed airflow in the call of the readings (see [`Job::call_of`]).
    pub target: Option<Target>,
    /// Targets of other calls, at most one each.
    pub call_targets: Vec<CallTarget>,
    /// Limits that verdicts use.
    pub limits: Limits,
    /// Limits of error.
    pub accuracy: Accuracy,
    /// Whose limits and accuracy are, where a person named it.
    pub sources: Sources,
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
            judged: 0,
            anchor: None,
            ducts: DuctDesign::default(),
            changes: Vec::new(),
            options: Options::default(),
            costs: Costs::default(),
            target: None,
            call_targets: Vec::new(),
            limits: Limits::default(),
            accuracy: Accuracy::default(),
            sources: Sources::new(),
        }
    }
}

/// Stands in for the reading set of a job that has none, which [`Job::default`] never makes and no file may bring.
static NO_READINGS: std::sync::LazyLock<ReadingSet> = std::sync::LazyLock::new(ReadingSet::default);

impl Job {
    /// The reading set that everything is judged by.
    pub fn set(&self) -> &ReadingSet {
        self.sets.get(self.judged).unwrap_or(&NO_READINGS)
    }

    /// The same, to be changed.
    pub fn set_mut(&mut self) -> Option<&mut ReadingSet> {
        self.sets.get_mut(self.judged)
    }

    /// True where it is the other job but for the reading set and the option that are shown.
    pub fn is_but_for_the_look(&self, other: &Self) -> bool {
        if (self.judged, self.options.index()) == (other.judged, other.options.index()) {
            return self == other;
        }
        self.with_option(other.options.index()).is_some_and(|job| Self { judged: other.judged, ..job } == *other)
    }

    /// Parts that are out in the judged set and in place in another of the same path: its readings are a test, and not of the system as it runs.
    pub fn pulled(&self) -> Vec<ElementId> {
        let is_of_path = |set: &&ReadingSet| set.after_repair == self.set().after_repair && !set.otherwise;
        let of_path = || self.sets.iter().filter(is_of_path);
        let is_in_elsewhere = |id: &&ElementId| of_path().any(|set| !set.parts_out.contains(id));
        self.set().parts_out.iter().filter(is_in_elsewhere).copied().collect()
    }

    /// True where the judged set is a test, and not of the system as it runs: parts were pulled, or something else was otherwise.
    pub fn is_test(&self) -> bool {
        self.set().otherwise || !self.pulled().is_empty()
    }

    /// True where the judged set was taken after the repair: changes that are on count as done, and are no more put on.
    pub fn changes_are_done(&self) -> bool {
        self.set().after_repair
    }

    /// The number that the next change put on will have.
    pub fn next_change(&self) -> ChangeId {
        ChangeId(self.changes.iter().map(|change| change.id.0).max().unwrap_or(0) + 1)
    }

    /// The job as one of its sets found it: judged by that set, without changes.
    #[must_use]
    pub fn as_read(&self, set: usize) -> Self {
        Self { judged: set, changes: Vec::new(), ..self.clone() }
    }

    /// Name of the tap in use: the one said in the readings, else the one that the call runs.
    pub fn tap_in_use(&self) -> Option<&str> {
        self.tap_of(self.set())
    }

    /// Name of the tap that ran in a reading set: the one said in it, else the one that its call runs.
    pub fn tap_of<'a>(&'a self, set: &'a ReadingSet) -> Option<&'a str> {
        set.tap.as_deref().or_else(|| self.machine.as_ref()?.tap_of_call(set.call))
    }

    /// The call that a target is of where nothing else is said: tons are of cooling, a heat is of heating, a typed airflow of what was read.
    pub fn call_of(&self, target: Target) -> Call {
        let read = self.set().call;
        match target {
            Target::PerTon { .. } => Call::CoolingHigh,
            Target::HeatRise { .. } if matches!(read, Call::HeatingHigh | Call::HeatingLow) => read,
            Target::HeatRise { .. } => Call::HeatingHigh,
            Target::Airflow(_) => read,
        }
    }

    /// The target of a call; each call is judged by its own.
    pub fn target_of(&self, call: Call) -> Option<Target> {
        let own = self.call_targets.iter().find(|own| own.call == call).map(|own| own.target);
        own.or_else(|| self.target.filter(|target| self.call_of(*target) == call))
    }

    /// Gives a call its target, or takes it away.
    pub fn set_target(&mut self, call: Call, target: Option<Target>) {
        self.call_targets.retain(|own| own.call != call);
        self.target = self.target.filter(|main| self.call_of(*main) != call);
        match target {
            Some(target) if self.target.is_none() && self.call_of(target) == call => self.target = Some(target),
            Some(target) => {
                self.call_targets.push(CallTarget { call, target });
                self.call_targets.sort_by_key(|own| own.call);
            }
            None => {}
        }
    }

    /// Capacity that airflow a ton is reckoned by: the target's where it is found from tons, else the outdoor unit's, else the table's nominal one.
    pub fn capacity(&self) -> Option<Capacity> {
        let of_target = match self.target {
            Some(Target::PerTon { capacity, .. }) => Some(capacity),
            Some(Target::Airflow(_) | Target::HeatRise { .. }) | None => None,
        };
        of_target.or(self.outdoor_unit).or_else(|| self.machine.as_ref()?.cooling)
    }

    /// True for a part that the machine's table contains.
    pub fn is_inside(&self, id: ElementId) -> bool {
        let table = self.machine.as_ref();
        table.is_some_and(|table| self.path.index_of(id).is_some_and(|at| self.path.inside(&table.basis).contains(&at)))
    }

    /// True for a coil that the machine's table contains and prints a drop of, when it is wet.
    pub fn prints_wet_drop_of(&self, coil: ElementId) -> bool {
        self.is_inside(coil) && self.machine.as_ref().is_some_and(|table| table.corrections.wet_coil.is_some())
    }

    /// Average reading at the port before the blower.
    pub fn return_reading(&self) -> Option<crate::units::Pressure> {
        self.set().at(ReadAt::Port(RETURN_PORT))?.average()
    }

    /// Average reading at the port after the blower.
    pub fn supply_reading(&self) -> Option<crate::units::Pressure> {
        self.set().at(ReadAt::Port(SUPPLY_PORT))?.average()
    }

    /// Every option, in order.
    pub fn all_options(&self) -> Vec<JobOption> {
        let Options { shown, before, after } = &self.options;
        let shown = JobOption { about: shown.clone(), changes: self.changes.clone() };
        before.iter().cloned().chain([shown]).chain(after.iter().cloned()).collect()
    }

    /// The job with these options, of which one is worked on; nothing where there is no such one.
    #[must_use]
    pub fn with_options(&self, all: &[JobOption], shown: usize) -> Option<Self> {
        let one = all.get(shown)?;
        let options =
            Options { shown: one.about.clone(), before: all[..shown].to_vec(), after: all[shown + 1..].to_vec() };
        Some(Self { options, changes: one.changes.clone(), ..self.clone() })
    }

    /// The job with another option worked on; nothing where there is no such one.
    #[must_use]
    pub fn with_option(&self, shown: usize) -> Option<Self> {
        self.with_options(&self.all_options(), shown)
    }

    /// Changes of every option.
    pub fn changes_of_all(&self) -> impl Iterator<Item = &Change> {
        let before = self.options.before.iter().flat_map(|option| &option.changes);
        before.chain(&self.changes).chain(self.options.after.iter().flat_map(|option| &option.changes))
    }
}
