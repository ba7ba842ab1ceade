//! The target that a call is judged by, in the air that the blower breathes then.

use crate::model::facts::blower::{BlowerTable, Call, HeatStage};
use crate::model::facts::job::Job;
use crate::model::facts::job_check;
use crate::model::facts::target::{self, Target, TargetBand};
use crate::units::{HeatRate, Power};

/// The target of a call with its band; another machine may bring its own, which is then the only one.
pub fn of(job: &Job, table: &BlowerTable, call: Call, own: Option<Target>) -> Option<TargetBand> {
    let target = match own {
        Some(own) => Some(own).filter(|own| job.call_of(*own) == call),
        None => job.target_of(call),
    };
    let range = table.heat_stage(call).and_then(|stage| stage.rise);
    target::band(target?, job.set().air.at_blower(table.kind, call), job.limits.accept_band, range)
}

/// The heat that the air gets in the call that was read, by what was measured to go in: times a burner's efficiency, and the blower's own; nothing where that was not read, or comes to what no machine takes.
pub fn measured_heat(job: &Job, table: &BlowerTable, power: Option<Power>) -> Option<HeatRate> {
    let read = job.set();
    let share = if table.kind.burns() { read.heat.efficiency? } else { 1.0 };
    let input = read.heat_input().filter(|input| job_check::heat_can_be(*input))?;
    Some(input * share + power.map(Power::as_heat).unwrap_or_default())
}

/// The heat that a stage gives the air, and the share of its rated output that is in it.
///
/// What was measured counts in the call that was read, then what the target of its call states, the blower's own included; else the rated output, at altitude what is left of it, and the blower's own heat where its watts are known.
pub fn heat(job: &Job, table: &BlowerTable, stage: &HeatStage, power: Option<Power>) -> (HeatRate, f64) {
    let is_own = job.machine.as_ref().is_some_and(|own| std::ptr::eq(own, table));
    let measured = measured_heat(job, table, power).filter(|_| is_own && stage.call == job.set().call);
    let stated = match job.target_of(stage.call) {
        Some(Target::HeatRise { output, .. }) if is_own => Some(output),
        Some(Target::HeatRise { .. } | Target::Airflow(_) | Target::PerTon { .. }) | None => None,
    };
    let share = table.heat_share(job.set().air.altitude, job.set().voltage);
    measured.or(stated).map_or_else(
        || (stage.output * share + power.map(Power::as_heat).unwrap_or_default(), share),
        |output| (output, 1.0),
    )
}
