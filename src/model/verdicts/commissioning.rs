//! What a commissioning sheet asks, each figure held against its limit with its ±: airflow against the target, watts a unit of airflow, total external static against the rating.

use crate::model::facts::accuracy::{COVERAGE, from_limit};
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::verdicts::plate::{PlateSide, PlateVerdict};
use crate::model::verdicts::system::Running;
use crate::units::Pressure;

/// How a figure is graded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// It keeps its limit, and so does all of its ±.
    Pass,
    /// It does not, and no part of its ± does.
    Fail,
    /// Its ± reaches over the limit, or what it takes was not read.
    CannotTell,
}

/// A figure with its ± (95 %) and its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The figure.
    pub value: f64,
    /// Its ± (95 %).
    pub spread: f64,
    /// What it may be at most.
    pub limit: f64,
    /// How it is graded.
    pub grade: Grade,
}

/// The commissioning line of a system as it was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Commissioning {
    /// Difference from the target, as a fraction of it, below zero for too little; nothing without a target. Its limit holds either way.
    pub airflow: Option<Figure>,
    /// Watts that were read, W/cfm; nothing where none were.
    pub power: Option<Figure>,
    /// The limit of the watts, as the machine's kind has it.
    pub power_limit: JobNumber,
    /// Total external static by the rating plate and its ±, with its grade; nothing where the table states no rated maximum.
    pub rating: Option<(PlateVerdict, Pressure, Grade)>,
}

/// Grades a size, above or below zero, of which no more than the limit is allowed.
pub fn grade(size: f64, spread: f64, limit: f64) -> Grade {
    if size.abs() + spread <= limit {
        Grade::Pass
    } else if size.abs() - spread > limit {
        Grade::Fail
    } else {
        Grade::CannotTell
    }
}

impl Commissioning {
    /// Of a job as it was read; nothing for a test, which is not of the system as it runs.
    pub fn of(job: &Job, running: &Running) -> Option<Self> {
        if job.is_test() {
            return None;
        }
        let burns = job.machine.as_ref().is_some_and(|table| table.kind.burns());
        let power_limit = if burns { JobNumber::FurnaceWattsPerCfm } else { JobNumber::WattsPerCfm };
        Some(Self {
            airflow: airflow(job, running),
            power: power(job, running, power_limit),
            power_limit,
            rating: rating(running),
        })
    }
}

fn airflow(job: &Job, running: &Running) -> Option<Figure> {
    let target = running.system.blower.target?.actual;
    let limit = job.limits.commissioned_airflow;
    let (value, spread) = (running.now.airflow / target - 1.0, running.system.spreads.now / target);
    // Past the table's last row the airflow is under a bound, which may fail it and never passes it.
    let below = running.system.runs().and_then(|point| point.below);
    let grade = match below.map(|below| below / target - 1.0) {
        Some(most) if most + spread < -limit => Grade::Fail,
        Some(_) => Grade::CannotTell,
        None => grade(value, spread, limit),
    };
    Some(Figure { value, spread, limit, grade })
}

/// Watts as read over the airflow; the errors of both are taken as independent.
fn power(job: &Job, running: &Running, limit: JobNumber) -> Option<Figure> {
    let watts = job.set().power?.watts();
    let (airflow, limit) = (running.now.airflow.cfm(), limit.of(job)?);
    let value = watts / airflow;
    let of_watts = COVERAGE * from_limit(job.accuracy.wattmeter_fraction);
    let spread = value * of_watts.hypot(running.system.spreads.now.cfm() / airflow);
    Some(Figure { value, spread, limit, grade: grade(value, spread, limit) })
}

fn rating(running: &Running) -> Option<(PlateVerdict, Pressure, Grade)> {
    let plate = running.system.runs()?.plate?;
    let grade = match plate.side {
        PlateSide::Under => Grade::Pass,
        PlateSide::Over => Grade::Fail,
        PlateSide::AtLimit => Grade::CannotTell,
    };
    // ± grows with the figure that decides.
    let spread = running.system.spreads.tesp * (plate.worse / running.now.tesp);
    Some((plate, spread, grade))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_passes_with_all_of_its_doubt_and_fails_without_any_of_it() {
        let rows = [
            (0.10, 0.04, 0.15, Grade::Pass),
            (-0.09, 0.05, 0.15, Grade::Pass),
            (-0.13, 0.05, 0.15, Grade::CannotTell),
            (0.18, 0.05, 0.15, Grade::CannotTell),
            (-0.21, 0.05, 0.15, Grade::Fail),
            (0.16, 0.0, 0.15, Grade::Fail),
            (f64::NAN, 0.05, 0.15, Grade::CannotTell),
        ];
        for (size, spread, limit, expected) in rows {
            assert_eq!(grade(size, spread, limit), expected, "{size} ± {spread} against {limit}");
        }
    }
}
