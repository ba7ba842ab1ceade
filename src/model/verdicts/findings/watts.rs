//! Watts for each cfm against the limit.

use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::Running;

/// More watts for each cfm than the limit of such a machine.
pub(super) fn per_cfm(job: &Job, running: &Running) -> Option<Finding> {
    let burns = job.machine.as_ref().is_some_and(|table| table.kind.burns());
    let limit = if burns { job.limits.furnace_watts_per_cfm } else { job.limits.watts_per_cfm };
    let value = running.power?.watts() / running.now.airflow.cfm();
    (value > limit).then_some(Finding::WattsPerCfm { value, limit })
}
