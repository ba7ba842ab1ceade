//! The airflow by the rise that was read and the heat that goes in.

use super::{Basis, Said};
use crate::model::facts::accuracy::{COVERAGE, from_95};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::target::airflow_for_rise;
use crate::model::verdicts::system::Running;
use crate::model::verdicts::{taps, targets};

/// `Q = q / (1.08·ρ/0.075·ΔT)` at the blower inlet's density, the blower's own heat in q; nothing where no rise was read, the call does not heat, or nothing is known of its heat.
pub(super) fn said(job: &Job, table: &BlowerTable, running: &Running) -> Option<Said> {
    let call = running.system.blower.call;
    let rise = job.set().heat.rise.filter(|_| call.is_heating())?;
    let measured = targets::measured_heat(job, table, running.power);
    let rated = || Some(targets::heat(job, table, table.heat_stage(call)?, running.power).0);
    let heat = measured.or_else(rated)?;
    let airflow = airflow_for_rise(heat, rise, running.system.blower.air.density);
    let (basis, of_heat) = if measured.is_some() {
        (Basis::MeasuredHeat, job.accuracy.heat_fraction)
    } else {
        (Basis::RatedHeat, job.accuracy.rated_heat_fraction)
    };
    let of_rise = taps::rise_spread(job) / rise;
    Some(Said { basis, told: airflow, airflow, spread: (COVERAGE * from_95(of_heat)).hypot(of_rise) })
}
