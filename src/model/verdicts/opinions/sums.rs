//! The airflow by the grilles of a side, read by a hood one after the other and added up.

use super::{Basis, Said};
use crate::model::facts::accuracy::{COVERAGE, from_limit};
use crate::model::facts::air::{LEAVING_COIL_HUMIDITY, LEAVING_COIL_TEMPERATURE, moist_density};
use crate::model::facts::blower::EquipmentKind;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::readings::CoilState;
use crate::model::path::air::{absolute_f, warm_factor};
use crate::model::verdicts::system::Running;

/// The blower's airflow that the grilles of a side come to: what leaks and bypass keep from them is added as far as the path tells it, and warm or cold air is counted as the blower breathes it.
pub(super) fn said(job: &Job, running: &Running, side: PathSide) -> Option<Said> {
    let read = &job.set().airflow;
    let told = read.sum(side)?;
    let air = running.delivered();
    let at_grilles = match side {
        PathSide::Supply => air.to_rooms,
        PathSide::Return => air.from_rooms,
    };
    let share = at_grilles / air.blower;
    let airflow = told / (share * volume_at(job, running, side));
    Some(Said {
        basis: Basis::Grilles { count: read.grilles(side).len(), share },
        told,
        airflow,
        spread: COVERAGE * from_limit(job.accuracy.hood_fraction),
    })
}

/// Volume of the air at the grilles of a side over the same air's at the blower: warmer air is more of it.
pub(super) fn volume_at(job: &Job, running: &Running, side: PathSide) -> f64 {
    let set = job.set();
    let blower = running.system.blower.air;
    match side {
        PathSide::Return => blower.density / moist_density(set.air.temperature, set.air.humidity, blower.pressure),
        PathSide::Supply if set.call.is_heating() => {
            let read = set.heat.rise.map(|rise| 1.0 + rise.f() / absolute_f(set.air.temperature));
            read.unwrap_or_else(|| warm_factor(running.sum.warmth, running.now.airflow))
        }
        PathSide::Supply if is_cooled_behind_blower(job) => {
            blower.density / moist_density(LEAVING_COIL_TEMPERATURE, LEAVING_COIL_HUMIDITY, blower.pressure)
        }
        PathSide::Supply => 1.0,
    }
}

/// True where a coil behind the blower cools.
fn is_cooled_behind_blower(job: &Job) -> bool {
    let draws = job.machine.as_ref().is_some_and(|table| table.kind == EquipmentKind::DrawThroughAirHandler);
    job.set().call.is_cooling() && job.set().coil == CoilState::Wet && !draws
}
