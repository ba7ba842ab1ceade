//! A second reading of airflow: from the rise that was read and the heat that goes in.

use crate::model::facts::accuracy::{COVERAGE, from_95};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::facts::target::airflow_for_rise;
use crate::model::verdicts::system::Running;
use crate::model::verdicts::{taps, targets};
use crate::units::Airflow;

/// Airflow by the heat beside the table's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondAirflow {
    /// By rise and heat, `Q = q / (1.08·ρ/0.075·ΔT)` at the blower inlet's density.
    pub airflow: Airflow,
    /// ± of it, 95 %: thermometers and heat.
    pub spread: Airflow,
    /// By the table.
    pub table: Airflow,
    /// ± of that, 95 %.
    pub table_spread: Airflow,
    /// How it is known.
    pub standing: CurveStanding,
    /// True where the heat is the rating plate's and was not measured.
    pub is_rated: bool,
}

impl SecondAirflow {
    /// True where the two differ by no more than both leave in doubt.
    pub fn agrees(&self) -> bool {
        (self.airflow - self.table).abs().cfm() <= self.spread.cfm().hypot(self.table_spread.cfm())
    }
}

/// What the heat says; nothing where no rise was read, the call does not heat, or nothing is known of its heat.
pub fn of(job: &Job, table: &BlowerTable, running: &Running) -> Option<SecondAirflow> {
    let call = running.system.blower.call;
    let rise = job.set().heat.rise.filter(|_| call.is_heating())?;
    let measured = targets::measured_heat(job, table, running.power);
    let rated = || Some(targets::heat(job, table, table.heat_stage(call)?, running.power).0);
    let heat = measured.or_else(rated)?;
    let airflow = airflow_for_rise(heat, rise, running.system.blower.air.density);
    let of_heat = if measured.is_some() { job.accuracy.heat_fraction } else { job.accuracy.rated_heat_fraction };
    let of_rise = taps::rise_spread(job) / rise;
    Some(SecondAirflow {
        airflow,
        spread: airflow * (COVERAGE * from_95(of_heat)).hypot(of_rise),
        table: running.now.airflow,
        table_spread: running.system.spreads.now,
        standing: running.now.standing,
        is_rated: measured.is_none(),
    })
}
