//! Heating stages: temperature rise against the rating plate, and the least airflow of the fitted heat.

use crate::model::facts::blower::{BlowerTable, HeatStage};
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::{Idle, Running};
use crate::model::verdicts::taps::{RiseSide, StageRise, rise_below};
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
            judge(stage, (rise, &tap.name, false), (Some(point.airflow()), point.below), findings);
        }
    }
}

/// The stage that runs where only the most of its airflow is known: what is too little then is too little.
pub(super) fn of_bound(job: &Job, table: &BlowerTable, (idle, below): (&Idle, Airflow), findings: &mut Vec<Finding>) {
    let tap = idle.blower.in_use.and_then(|index| table.taps.get(index));
    if let (Some(stage), Some(tap)) = (table.heat_stage(idle.blower.call), tap) {
        let rise = rise_below(job, table, stage, (below, idle.blower.air.density));
        let at_least = job.set().heat.rise.is_none();
        judge(stage, (&rise, &tap.name, at_least), (None, Some(below)), findings);
    }
}

fn judge(
    stage: &HeatStage,
    (rise, tap, at_least): (&StageRise, &str, bool),
    (airflow, below): (Option<Airflow>, Option<Airflow>),
    findings: &mut Vec<Finding>,
) {
    let tap = tap.to_owned();
    if let (Some(side), Some(range)) = (rise.side, stage.rise)
        && (side != RiseSide::InRange || rise.at_limit.is_some())
    {
        findings.push(Finding::Rise { tap: tap.clone(), rise: *rise, range, side, at_least });
    }
    if let (true, Some(least)) = (rise.under_minimum, stage.minimum_airflow) {
        findings.push(Finding::UnderHeatMinimum { call: stage.call, tap, airflow, below, least });
    }
}
