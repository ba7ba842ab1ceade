//! Everything that follows from a job: one pure computation that screens and reports share.
//!
//! It is made in stages, each of which returns a new value: what is typed is checked, the readings are solved, the system as found is judged, then the one with the changes on, then what is remarkable about all of it.

mod anchor;
pub mod visit;

use std::sync::Arc;

use crate::model::answer::visit::Visit;
use crate::model::facts::accuracy::COVERAGE;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{self, Problem};
use crate::model::facts::severity::Severity;
use crate::model::facts::table_check::{self, TableProblem};
use crate::model::laws::table_curves::{self, Conditions};
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::contradictions;
use crate::model::path::parts::{self, Moved, Separated};
use crate::model::path::tesp::{self, StaticSum};
use crate::model::solution::anchor::Anchored;
use crate::model::solution::budget;
use crate::model::solution::changed::Found;
use crate::model::solution::draws::{self, Draws};
use crate::model::solution::operating_point::NoCrossing;
use crate::model::solution::operation::{self, Inputs, NoOperation, Operation};
use crate::model::solution::uncertainty::Doubt;
use crate::model::solution::worth::{self, held_elements};
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::duct_allowance::{self, DuctAllowance};
use crate::model::verdicts::findings::{self, Finding};
use crate::model::verdicts::opinions::{self, Opinion};
use crate::model::verdicts::system::{Idle, NotRunning, PathRead, Projection, Running, System};
use crate::model::verdicts::taps::{self, TapAnswer};
use crate::model::verdicts::{found, projection, targets};
use crate::units::{Airflow, Pressure};

/// All results of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Remarks on the table.
    pub table_problems: Vec<TableProblem>,
    /// Remarks on what was typed.
    pub problems: Vec<Problem>,
    /// The machine as it runs now, or why nothing can be said.
    pub found: Result<Box<Running>, Box<Idle>>,
    /// What changes make of it: one system for each set of them, none while there are no changes or no point.
    pub changed: Vec<Projection>,
    /// What is left of the static for the ducts, where a length or a design static is stated.
    pub ducts: Option<DuctAllowance>,
    /// What other means than the table say of the airflow.
    pub opinions: Vec<Opinion>,
    /// What a practitioner would say.
    pub findings: Vec<Finding>,
    /// Every reading set and what they say together, where the job has several.
    pub visit: Option<Visit>,
    /// Elements that the sets tell apart.
    pub separated: Vec<Separated>,
    /// What draws of the budget of errors say of its ±; nothing where none were drawn.
    pub draws: Option<Draws>,
}

impl Answer {
    /// Works everything out.
    pub fn of(job: &Job) -> Self {
        Self::worked_out(job, None, None)
    }

    /// The same with every external drop of the path, changes included, times a factor within [`FACTORS`](crate::model::verdicts::easier_path::FACTORS): what a person wishes for stands where else the changes stand.
    pub fn wished(job: &Job, factor: f64) -> Self {
        Self::worked_out(job, Some(factor), None)
    }

    /// The same with its ± checked by draws of the whole budget of errors, and told by them where the two differ: too slow for every move of a hand.
    pub fn checked(job: &Job) -> Self {
        let linear = Self::of(job);
        match linear.drawn(job) {
            Some(draws) if draws.is_told() => Self::worked_out(job, None, Some(draws)),
            draws => Self { draws, ..linear },
        }
    }

    /// What draws say of an answer whose ± is linear.
    fn drawn(&self, job: &Job) -> Option<Draws> {
        let done = job.changes_are_done().then(|| job.as_read(job.judged));
        let job = done.as_ref().unwrap_or(job);
        let (mut inputs, operation) = self.solved(job)?;
        let split = held_elements(job);
        inputs.split = &split;
        let crossings = operation::crossings(&inputs.shapes, &operation.load, &[]);
        let found = Found { inputs: &inputs, operation: &operation, crossings: &crossings, wish: None };
        let with_changes = self.with_changes().and_then(|after| Some(after.system.runs()?.spread));
        let solved = with_changes.map(|_| worth::solve(&found));
        draws::draw(&found, solved.as_ref(), self.point()?.system.spreads.now, with_changes)
    }

    fn worked_out(job: &Job, wish: Option<f64>, draws: Option<Draws>) -> Self {
        let visit = Visit::of(job);
        let separated = visit.as_ref().map(|visit| visit.separated(job)).unwrap_or_default();
        // After the repair its changes are in what was read: none is put on once more.
        let done = job.changes_are_done().then(|| job.as_read(job.judged));
        let mut answer = Self { visit, ..Self::single(done.as_ref().unwrap_or(job), separated, (wish, draws)) };
        if answer.visit.as_ref().is_some_and(|visit| visit.contradicts(job)) {
            answer.findings.insert(0, Finding::CannotAllBeTrue);
        }
        if let Some(mut visit) = answer.visit.take() {
            visit.tell_as_judged(job, &answer);
            visit.hold_against(job, &answer);
            answer.visit = Some(visit);
        }
        answer
    }

    /// The same by the judged reading set alone, and what other sets tell apart.
    fn single(job: &Job, separated: Vec<Separated>, (wish, draws): (Option<f64>, Option<Draws>)) -> Self {
        let table_problems = job.machine.as_ref().map(table_check::check).unwrap_or_default();
        let mut problems = job_check::check(job);
        let read = read(job, &table_problems);
        let factor = read.as_ref().map_or(1.0, |(_, sum)| sum.airflow_factor);
        let blower = blower(job, &table_problems, factor);
        // An opinion in the table's place is held against what the table says alone.
        let by_table = job.anchor.map(|anchor| (anchor, anchor::by_table(job, job.judged)));
        let anchored = by_table.as_ref().map(|(anchor, by_table)| anchor::anchored(job, *anchor, by_table));
        problems.extend(anchored.iter().filter_map(|anchored| anchored.clone().err()));
        let anchored = anchored.and_then(Result::ok).flatten();
        let known = (&problems[..], &separated[..], anchored);
        let solved = read.and_then(|(table, sum)| solve(job, (table, &blower), sum, known, (wish, draws)));
        let (found, changed) = match solved {
            Ok(solved) => {
                problems.extend(solved.questions);
                (Ok(solved.running), solved.changed)
            }
            Err(why) => {
                let taps = job.machine.as_ref().map(|table| taps::all(job, table, &blower, None)).unwrap_or_default();
                (Err(Box::new(Idle { why, blower, taps })), Vec::new())
            }
        };
        let running = found.as_deref().ok();
        let ducts = running.and_then(|running| duct_allowance::of(job, running));
        let by_table = by_table.as_ref().map_or(running, |(_, by_table)| by_table.point());
        let table = job.machine.as_ref();
        let opinions =
            table.zip(by_table).map(|(table, running)| opinions::of(job, table, running)).unwrap_or_default();
        let mut findings = match &found {
            Ok(running) => findings::find(job, running, ducts.as_ref(), (by_table.unwrap_or(running), &opinions)),
            Err(idle) => findings::of_bound(job, idle),
        };
        findings.extend(draws.filter(Draws::is_told).map(Finding::Drawn));
        Self { table_problems, problems, found, changed, ducts, opinions, findings, visit: None, separated, draws }
    }

    /// The same without anything that was worked out: the readings, the table and the target stay.
    #[must_use]
    pub fn kept_back(&self) -> Self {
        let blower = self.blower().clone();
        let bare = |tap: &TapAnswer| TapAnswer { point: None, need: None, into_band: None, ..tap.clone() };
        let taps = self.taps().iter().map(bare).collect();
        Self {
            table_problems: self.table_problems.clone(),
            problems: self.problems.clone(),
            found: Err(Box::new(Idle { why: NotRunning::KeptBack, blower, taps })),
            changed: Vec::new(),
            ducts: None,
            opinions: Vec::new(),
            findings: Vec::new(),
            visit: None,
            separated: Vec::new(),
            draws: None,
        }
    }

    /// What the point was solved from, and the solution itself, for whatever goes on from there; nothing without a point.
    pub fn solved<'a>(&'a self, job: &'a Job) -> Option<(Inputs<'a>, Operation)> {
        let running = self.point()?;
        let System { blower, parts, load, .. } = &running.system;
        let inputs = Inputs {
            shapes: Arc::clone(&blower.shapes),
            in_use: blower.in_use?,
            sum: running.sum.clone(),
            density_ratio: blower.density_ratio,
            job,
            table: job.machine.as_ref()?,
            split: &[],
            separated: &self.separated,
            anchored: running.anchored,
            moved: Moved::default(),
        };
        Some((inputs, Operation { now: running.now, load: load.clone(), parts: parts.clone() }))
    }

    /// The point, where there is one.
    pub fn point(&self) -> Option<&Running> {
        self.found.as_deref().ok()
    }

    /// Why there is no point.
    pub fn why_not(&self) -> Option<&NotRunning> {
        self.found.as_ref().err().map(|idle| &idle.why)
    }

    /// The system with the changes that are on, where the job has changes and a point.
    pub fn with_changes(&self) -> Option<&Projection> {
        self.changed.first()
    }

    /// The system with the changes that are on, or as found where the job has none; nothing without a point.
    pub fn then(&self) -> Option<&System> {
        let changed = self.with_changes().map(|after| &after.system);
        changed.or_else(|| Some(&self.point()?.system))
    }

    /// The blower as it was found, whether it runs or not.
    pub fn blower(&self) -> &Blower {
        match &self.found {
            Ok(running) => &running.system.blower,
            Err(idle) => &idle.blower,
        }
    }

    /// Every tap as found, in the table's order; without points while there is none.
    pub fn taps(&self) -> &[TapAnswer] {
        match &self.found {
            Ok(running) => &running.system.taps,
            Err(idle) => &idle.taps,
        }
    }

    /// The answer of the tap in use.
    pub fn tap_in_use(&self) -> Option<&TapAnswer> {
        self.taps().get(self.blower().in_use?)
    }
}

/// The machine's blower for the call of the readings, at a factor on its table's airflow.
fn blower(job: &Job, table_problems: &[TableProblem], airflow_factor: f64) -> Blower {
    let empty = BlowerTable::default();
    let table = job.machine.as_ref().unwrap_or(&empty);
    let call = job.set().call;
    let air = job.set().air.at_blower(table.kind, call);
    let density_ratio = tesp::density_ratio(job, table);
    Blower {
        other: None,
        shapes: table_curves::shapes(
            table,
            table_problems,
            Conditions { airflow_factor, tap_factor: None, density_ratio },
        )
        .into(),
        in_use: job.tap_in_use().and_then(|name| table.taps.iter().position(|tap| tap.name == name)),
        call,
        air,
        density_ratio,
        entry_ratio: thin_air::entry_ratio(table.motor, density_ratio),
        target: targets::of(job, table, call, None),
    }
}

/// The machine, and what was read on both sides of it.
fn read<'a>(job: &'a Job, table_problems: &[TableProblem]) -> Result<(&'a BlowerTable, StaticSum), NotRunning> {
    let table = job.machine.as_ref().ok_or(NotRunning::NoMachine)?;
    let is_grave = |problem: &TableProblem| problem.place.tap().is_none() && problem.severity == Severity::Error;
    if table_problems.iter().any(is_grave) {
        return Err(NotRunning::Unsound);
    }
    Ok((table, tesp::sum(job, table).map_err(NotRunning::NotRead)?))
}

/// What the readings lead to.
struct Solved {
    running: Box<Running>,
    changed: Vec<Projection>,
    /// Questions that only the solved path raises.
    questions: Vec<Problem>,
}

fn solve(
    job: &Job,
    (table, blower): (&BlowerTable, &Blower),
    sum: StaticSum,
    (problems, separated, anchored): (&[Problem], &[Separated], Option<Anchored>),
    (wish, draws): (Option<f64>, Option<Draws>),
) -> Result<Solved, NotRunning> {
    let in_use = match (blower.in_use, job.tap_in_use()) {
        (Some(index), _) => index,
        (None, Some(name)) => return Err(NotRunning::NoSuchTap(name.to_owned())),
        (None, None) => return Err(NotRunning::NoTap),
    };
    if job_check::sign_in_doubt(job) {
        return Err(NotRunning::SignInDoubt);
    }
    if problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Err(NotRunning::Unsound);
    }
    let split = held_elements(job);
    let mut inputs = Inputs {
        shapes: Arc::clone(&blower.shapes),
        in_use,
        sum,
        density_ratio: blower.density_ratio,
        job,
        table,
        split: &split,
        separated,
        anchored,
        moved: Moved::default(),
    };
    inputs.take_up_opinion();
    let blower = &Blower { shapes: Arc::clone(&inputs.shapes), ..blower.clone() };
    let operation = operation::operate(&inputs).map_err(|reason| not_running(reason, &inputs))?;
    let questions = questions(&inputs, &operation);
    let crossings = operation::crossings(&blower.shapes, &operation.load, &[]);
    let doubt = Doubt::of(&inputs, &operation);
    let found = Found { inputs: &inputs, operation: &operation, crossings: &crossings, wish };
    let running = found::running(&found, &doubt, draws, blower).ok_or(NotRunning::Unusable)?;
    let changed = projection::project(&found, &doubt, draws, &running).into_iter().collect();
    Ok(Solved { running: Box::new(running), changed, questions })
}

fn questions(inputs: &Inputs<'_>, operation: &Operation) -> Vec<Problem> {
    let (job, sum) = (inputs.job, &inputs.sum);
    let (airflow, tesp) = (operation.now.airflow, operation.now.tesp);
    let segments = parts::segments(job, inputs.table, &inputs.at(airflow, tesp));
    let mut questions = contradictions::rising_pressures(job, &sum.read);
    questions.extend(contradictions::readings_that_part_nothing(job, &sum.read, &operation.parts));
    questions.extend(contradictions::contradicted_data(job, &segments, airflow));
    questions.extend(contradictions::readings_inside(job, inputs.table, sum));
    questions
}

fn not_running(reason: NoOperation, inputs: &Inputs<'_>) -> NotRunning {
    match reason {
        NoOperation::NoRise(tesp) => NotRunning::NoRise(tesp),
        NoOperation::Shares(why) => NotRunning::Shares(why),
        NoOperation::NoCrossing(NoCrossing::PastTheEnd { below, end }, tesp) => {
            // Parts by data take less the less air there is: the least that the table would be entered at is theirs where the curve ends.
            let least = match inputs.shapes.get(inputs.in_use) {
                Some(TapShape::Curve(curve)) => curve.end().1,
                Some(TapShape::Single(_) | TapShape::Unusable) | None => below,
            };
            let entry = Pressure::from_in_wc(inputs.sum.entry_at(least.cfm()).0) / inputs.entry_ratio();
            let path = path_read(inputs, (below, least));
            NotRunning::PastTheEnd { below, tesp, entry, end, path }
        }
        NoOperation::NoCrossing(NoCrossing::SingleRow(row), _) => NotRunning::SingleRow(row),
        NoOperation::NoCrossing(NoCrossing::Unusable, _) => NotRunning::Unusable,
    }
}

/// What is known of the path past the curve's end: as read, at the most air that there is and at the least.
fn path_read(inputs: &Inputs<'_>, (most, least): (Airflow, Airflow)) -> Option<PathRead> {
    let sum = &inputs.sum;
    let lesser = |one: Pressure, other: Pressure| if one < other { one } else { other };
    let tesp = lesser(sum.tesp(most), sum.tesp(least));
    Some(PathRead {
        tesp,
        spread: budget::of_static(sum, inputs.job.set(), &inputs.job.accuracy) * COVERAGE,
        return_side: sum.return_side(most).zip(sum.return_side(least)).map(|(one, other)| lesser(one, other)),
        parts: parts::parts(inputs.job, inputs.table, &inputs.at(most, tesp)).ok()?,
        bound: sum.bound(),
    })
}
