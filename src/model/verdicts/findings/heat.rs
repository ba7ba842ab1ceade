//! Heating stages: temperature rise against the rating plate, and the least airflow of the fitted heat.

use crate::model::facts::blower::{BlowerTable, HeatStage};
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::{Idle, Running};
use crate::model::verdicts::taps::{LeastSide, RiseSide, StageRise, rise_below};
use crate::units::Airflow;

/// Everything that is said of them.
pub(super) fn find(table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    for (index, stage) in table.heating.iter().enumerate() {
        let Some(tap) = running.system.runs_stage(stage.call) else {
            continue;
        };
        if let Some(point) = tap.reached()
            && let Some(rise) = point.rises.get(index)
        {
            judge(stage, (rise, &tap.name), (Some(point.airflow()), point.below), findings);
        }
    }
}

/// The stage that runs where only the most of its airflow is known: what is too little then is too little.
pub(super) fn of_bound(job: &Job, table: &BlowerTable, (idle, below): (&Idle, Airflow), findings: &mut Vec<Finding>) {
    let tap = idle.blower.in_use.and_then(|index| table.taps.get(index));
    if let (Some(stage), Some(tap)) = (table.heat_stage(idle.blower.call), tap) {
        let rise = rise_below(job, table, stage, below, job.set().heat.rise);
        judge(stage, (&rise, &tap.name), (None, Some(below)), findings);
    }
}

fn judge(
    stage: &HeatStage,
    (rise, tap): (&StageRise, &str),
    (airflow, below): (Option<Airflow>, Option<Airflow>),
    findings: &mut Vec<Finding>,
) {
    let tap = tap.to_owned();
    if let (Some(side), Some(range)) = (rise.side, stage.rise)
        && (side != RiseSide::InRange || rise.at_limit.is_some())
    {
        findings.push(Finding::Rise { tap: tap.clone(), rise: *rise, range, side });
    }
    if let Some(air) = rise.least_air.filter(|air| air.side != LeastSide::Kept) {
        findings.push(Finding::LeastAirflow { call: stage.call, tap, airflow, below, air });
    }
}
