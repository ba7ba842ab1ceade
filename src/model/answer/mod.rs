//! Everything that follows from a job: one pure computation that screens and reports share.

pub mod after;

use crate::model::facts::air::BlowerAir;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{self, Problem};
use crate::model::facts::standing::{PathStanding, Standing};
use crate::model::facts::table_check::{self, TableProblem};
use crate::model::facts::target::{self, Target, TargetBand};
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::{SingleRow, TapShape};
use crate::model::laws::{table_curves, thin_air};
use crate::model::path::contradictions;
use crate::model::path::parts::flows::{self, Delivered};
use crate::model::path::parts::{self, Part};
use crate::model::path::tesp::{self, Bound, NotRead, StaticBudget};
use crate::model::solution::changed::Found;
use crate::model::solution::gain::Start;
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{self, Inputs, NoOperation, Operation};
use crate::model::solution::uncertainty::{self, Spreads, Taps};
use crate::model::verdicts::duct_budget::{self, DuctBudget};
use crate::model::verdicts::findings::{self, Finding};
use crate::model::verdicts::plate::{self, PlateVerdict};
use crate::model::verdicts::taps::{self, KnownPath, OnPath, TapAnswer};
use crate::units::{Airflow, Capacity, Power, Pressure};
use after::After;

/// Where the machine runs now.
#[derive(Clone, Debug, PartialEq)]
pub struct Running {
    /// The point on the tap in use.
    pub now: Crossing,
    /// Airflow that gains are counted from: today's, or the last published one where today's lies past it.
    pub airflow_before: Airflow,
    /// What any tap has to work against on this path.
    pub load: SystemLoad,
    /// What the external path is made of, each part with its law.
    pub parts: Vec<Part>,
    /// The air where it counts: blower, registers, return.
    pub delivered: Delivered,
    /// The path with the changes that are on, where any are.
    pub after: Option<After>,
    /// Readings and what was added to them.
    pub budget: StaticBudget,
    /// ± of airflow, static and every tap.
    pub spreads: Spreads,
    /// Both parts of its standing.
    pub standing: Standing,
    /// Against the rating plate.
    pub plate: Option<PlateVerdict>,
    /// Static that the return side takes, where two ports were read.
    pub return_side: Option<Pressure>,
    /// Static that the supply side takes, where two ports were read.
    pub supply_side: Option<Pressure>,
    /// Electric power: read, else the table's.
    pub power: Option<Power>,
}

impl Running {
    /// What gains are counted from, for the answer that it belongs to.
    pub fn start<'a>(&self, answer: &'a Answer) -> Option<Start<'a>> {
        Some(Start::new(&self.now, answer.shapes.get(answer.in_use?)?))
    }
}

/// Why there is no point yet.
#[derive(Clone, Debug, PartialEq)]
pub enum NotRunning {
    /// No machine chosen.
    NoMachine,
    /// No tap said, and the call runs none by the table's own map.
    NoTap,
    /// The table has no tap of this name.
    NoSuchTap(String),
    /// A reading is missing.
    NotRead(NotRead),
    /// A sign that needs a person's word first.
    SignInDoubt,
    /// Something typed cannot be right; the problems say what.
    Unsound,
    /// The static across the machine is not positive.
    NoRise(Pressure),
    /// The path asks for more than the curve reaches: a bound only.
    PastTheEnd {
        /// Airflow is below this, as sure as the table.
        below: Airflow,
        /// The static read.
        tesp: Pressure,
        /// ESP with which it would enter the table.
        entry: Pressure,
        /// Where the curve's extension ends.
        end: Pressure,
    },
    /// A tap of one row, read elsewhere.
    SingleRow(SingleRow),
    /// The stated shares cannot be used; the sentence says why.
    Shares(String),
    /// The tap's data cannot be used; the problems say why.
    Unusable,
}

/// All results of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Remarks on the table.
    pub table_problems: Vec<TableProblem>,
    /// The table's taps as curves; unusable ones stay in their place.
    pub shapes: Vec<TapShape>,
    /// Index of the tap in use.
    pub in_use: Option<usize>,
    /// Air at the blower's inlet.
    pub air: BlowerAir,
    /// ρ/ρ_table.
    pub density_ratio: f64,
    /// The target.
    pub target: Option<TargetBand>,
    /// Where it runs, or why nothing can be said.
    pub running: Result<Box<Running>, NotRunning>,
    /// Every tap on the path as read.
    pub taps: Vec<TapAnswer>,
    /// What is left of the static for the ducts, where a length or a design static is stated.
    pub ducts: Option<DuctBudget>,
    /// Remarks on what was typed.
    pub problems: Vec<Problem>,
    /// What a practitioner would say.
    pub findings: Vec<Finding>,
}

impl Answer {
    /// Works everything out.
    pub fn of(job: &Job) -> Self {
        let empty = BlowerTable::default();
        let table = job.machine.as_ref().unwrap_or(&empty);
        let table_problems = if job.machine.is_some() { table_check::check(table) } else { Vec::new() };
        let air = job.set().air.at_blower(table.kind, job.set().call);
        let density_ratio = tesp::density_ratio(job, table);
        let in_use = job.tap_in_use().and_then(|name| table.taps.iter().position(|tap| tap.name == name));
        let mut answer = Self {
            shapes: table_curves::shapes(table, &table_problems, 1.0),
            in_use,
            target: target(job, air),
            problems: job_check::check(job),
            table_problems,
            air,
            density_ratio,
            running: Err(NotRunning::NoMachine),
            taps: Vec::new(),
            ducts: None,
            findings: Vec::new(),
        };
        answer.running = answer.run(job);
        answer.taps = answer.judge_taps(job);
        answer.ducts = duct_budget::of(job, &answer);
        answer.findings = findings::find(job, &answer);
        answer
    }

    fn run(&mut self, job: &Job) -> Result<Box<Running>, NotRunning> {
        let table = job.machine.as_ref().ok_or(NotRunning::NoMachine)?;
        let is_grave =
            |problem: &TableProblem| problem.tap.is_none() && problem.severity == table_check::Severity::Error;
        if self.table_problems.iter().any(is_grave) {
            return Err(NotRunning::Unsound);
        }
        let budget = tesp::budget(job, table).map_err(NotRunning::NotRead)?;
        if (budget.airflow_factor - 1.0).abs() > 0.0 {
            self.shapes = table_curves::shapes(table, &self.table_problems, budget.airflow_factor);
        }
        let in_use = match (self.in_use, job.tap_in_use()) {
            (Some(index), _) => index,
            (None, Some(name)) => return Err(NotRunning::NoSuchTap(name.to_owned())),
            (None, None) => return Err(NotRunning::NoTap),
        };
        if job_check::sign_in_doubt(job) {
            return Err(NotRunning::SignInDoubt);
        }
        if self.problems.iter().any(|problem| problem.severity == table_check::Severity::Error) {
            return Err(NotRunning::Unsound);
        }
        let split = after::held_elements(job);
        let inputs = Inputs {
            shapes: &self.shapes,
            in_use,
            budget,
            density_ratio: self.density_ratio,
            job,
            table,
            split: &split,
            exponent_shift: 0.0,
        };
        let operation = operation::operate(&inputs).map_err(|reason| not_running(reason, &inputs.budget))?;
        self.problems.extend(contradictions::rising_pressures(job, &inputs.budget.read));
        self.problems.extend(contradictions::readings_astray(job, &inputs.budget.read, &operation.parts));
        let Crossing { airflow, tesp, .. } = operation.now;
        let segments = parts::segments(job, table, &inputs.at(airflow, tesp));
        self.problems.extend(contradictions::contradicted_data(job, &segments, &inputs.budget, airflow));
        let found = Found { inputs: &inputs, operation: &operation };
        let after = after::after(&found);
        let start = Start::new(&operation.now, &self.shapes[in_use]);
        let mut running = Box::new(running(job, table, inputs, operation, start.published));
        if let Some(mut after) = after {
            after.taps = taps_after(job, table, &after, &running, start);
            running.after = Some(after);
        }
        Ok(running)
    }

    fn judge_taps(&self, job: &Job) -> Vec<TapAnswer> {
        let Some(table) = &job.machine else {
            return Vec::new();
        };
        let path = self.point().and_then(|running| {
            Some(KnownPath {
                running,
                load: &running.load,
                parts: &running.parts,
                spreads: &running.spreads,
                as_read: true,
                start: running.start(self)?,
                bound: running.budget.bound(),
                is_assumed: false,
            })
        });
        taps::all(&OnPath {
            job,
            table,
            shapes: &self.shapes,
            in_use: self.in_use,
            target: self.target,
            capacity: None,
            density: self.air.density,
            density_ratio: self.density_ratio,
            path,
        })
    }

    /// What the point was solved from, and the solution itself, for whatever goes on from there; nothing without a point.
    pub fn solved<'a>(&'a self, job: &'a Job) -> Option<(Inputs<'a>, Operation)> {
        let running = self.point()?;
        let inputs = Inputs {
            shapes: &self.shapes,
            in_use: self.in_use?,
            budget: running.budget.clone(),
            density_ratio: self.density_ratio,
            job,
            table: job.machine.as_ref()?,
            split: &[],
            exponent_shift: 0.0,
        };
        let operation = Operation { now: running.now, load: running.load.clone(), parts: running.parts.clone() };
        Some((inputs, operation))
    }

    /// The point, where there is one.
    pub fn point(&self) -> Option<&Running> {
        self.running.as_deref().ok()
    }

    /// The answer of the tap in use.
    pub fn tap_in_use(&self) -> Option<&TapAnswer> {
        self.taps.get(self.in_use?)
    }
}

/// Every tap on the path with the changes that are on.
fn taps_after(job: &Job, table: &BlowerTable, after: &After, running: &Running, start: Start<'_>) -> Vec<TapAnswer> {
    let table = after.machine.as_deref().unwrap_or(table);
    let path = KnownPath {
        running,
        load: &after.load,
        parts: &after.parts,
        spreads: &after.spreads,
        as_read: false,
        start,
        bound: running.budget.bound().and(Bound { less: after.unknown_part.is_some(), more: false }),
        is_assumed: !after.assumptions.is_empty(),
    };
    taps::all(&OnPath {
        job,
        table,
        shapes: &after.shapes,
        in_use: Some(after.in_use),
        target: after.target,
        capacity: own_capacity(job, after),
        density: job.set().air.at_blower(table.kind, after.call).density,
        density_ratio: after.load.density_ratio,
        path: Some(path),
    })
}

/// Capacity that the other machine's own target is reckoned by.
fn own_capacity(job: &Job, after: &After) -> Option<Capacity> {
    match after.replacement(job)?.1.target {
        Some(Target::PerTon { capacity, .. }) => Some(capacity),
        _ => None,
    }
}

fn target(job: &Job, air: BlowerAir) -> Option<TargetBand> {
    target::band(job.target?, air, job.limits.accept_band)
}

fn not_running(reason: NoOperation, budget: &StaticBudget) -> NotRunning {
    match reason {
        NoOperation::NoRise(tesp) => NotRunning::NoRise(tesp),
        NoOperation::Shares(sentence) => NotRunning::Shares(sentence),
        NoOperation::NoCrossing(NoCrossing::PastTheEnd { below, end }, tesp) => {
            let entry = (budget.tesp(below) + budget.inside(below)) / budget.density_ratio;
            NotRunning::PastTheEnd { below, tesp, entry, end }
        }
        NoOperation::NoCrossing(NoCrossing::SingleRow(row), _) => NotRunning::SingleRow(row),
        NoOperation::NoCrossing(NoCrossing::Unusable, _) => NotRunning::Unusable,
    }
}

fn running(
    job: &Job,
    table: &BlowerTable,
    inputs: Inputs<'_>,
    operation: Operation,
    airflow_before: Airflow,
) -> Running {
    let project = |operation: &Operation| uncertainty::as_found(inputs.shapes, operation);
    let taps = Taps { project: &project, shapes: inputs.shapes, of_another: false };
    let spreads = uncertainty::spreads(&inputs, &operation, job.set(), &job.accuracy, taps);
    let Operation { now, load, parts } = operation;
    let return_side = inputs.budget.return_side(now.airflow);
    Running {
        airflow_before,
        delivered: flows::delivered(&parts, now.airflow),
        parts,
        after: None,
        standing: Standing { curve: now.standing, path: path_standing(table, &inputs) },
        plate: table.rated_maximum.map(|limit| plate::judge(now.tesp, limit, inputs.density_ratio, spreads.tesp)),
        supply_side: return_side.map(|taken| now.tesp - taken),
        return_side,
        power: job.set().power.or_else(|| match inputs.shapes.get(inputs.in_use) {
            Some(TapShape::Curve(curve)) => curve.power_at(now.entry),
            _ => None,
        }),
        budget: inputs.budget,
        now,
        load,
        spreads,
    }
}

/// A single total or two ports are `measured`; anything taken for granted, a single row, or thin air on a motor that seeks its torque or flow is `assumed`.
fn path_standing(table: &BlowerTable, inputs: &Inputs<'_>) -> PathStanding {
    let single = matches!(inputs.shapes.get(inputs.in_use), Some(TapShape::Single(_)));
    if single || !inputs.budget.assumptions.is_empty() {
        return PathStanding::Assumed;
    }
    thin_air::standing(table.motor, inputs.density_ratio)
}
