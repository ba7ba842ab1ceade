//! Too little static.

use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::Running;
use crate::model::verdicts::targets;
use crate::units::Airflow;

/// Too little static for a sound system: half of the design's, or the least of any.
///
/// A low call, or the fan alone, is judged by what the path takes at the airflow of the high one: nothing is said where that is not known, so that a low stage is taken for no leak.
pub(super) fn static_of(job: &Job, table: &BlowerTable, running: &Running) -> Option<Finding> {
    let read = running.now.tesp;
    let (tesp, at) = if high_call(running.system.blower.call).is_none() {
        (read, None)
    } else {
        let high = at_high_call(job, table, running)?;
        (running.system.load.tesp(high), Some((read, high)))
    };
    let design = job.ducts.design_static.filter(|design| tesp < *design * job.limits.least_of_design);
    let is_least = tesp < job.limits.least_static;
    (is_least || design.is_some()).then(|| Finding::LittleStatic { tesp, at, design: design.filter(|_| !is_least) })
}

/// Of a low call, or of the fan alone, the airflow that the high one's target asks for, else what its own tap moves on this path; nothing for a high one, or where neither is known.
pub(super) fn at_high_call(job: &Job, table: &BlowerTable, running: &Running) -> Option<Airflow> {
    let high = high_call(running.system.blower.call)?;
    let target = targets::of(job, table, high, None).map(|target| target.actual);
    let of_tap = || Some(running.system.runs_stage(high).filter(|tap| !tap.in_use)?.reached()?.airflow());
    target.or_else(of_tap)
}

/// The call whose airflow a low one's static is judged at; nothing for one that is high itself.
const fn high_call(call: Call) -> Option<Call> {
    match call {
        Call::CoolingHigh | Call::HeatingHigh => None,
        Call::CoolingLow | Call::FanOnly => Some(Call::CoolingHigh),
        Call::HeatingLow => Some(Call::HeatingHigh),
    }
}
