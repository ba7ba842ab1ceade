//! The airflow by a plate or grid in the filter's slot.

use super::sums::volume_at;
use super::{Basis, Said};
use crate::model::facts::accuracy::{COVERAGE, from_limit};
use crate::model::facts::air::moist_density;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::laws::flow_plate;
use crate::model::verdicts::system::Running;
use crate::units::Pressure;

/// By its own scale, else by its maker's law; without the plate where the supply plenum's static was read with it and without.
pub(super) fn said(job: &Job, running: &Running) -> Option<Said> {
    let (set, accuracy) = (job.set(), &job.accuracy);
    let plate = &set.airflow.plate;
    let of_manometer = |read: Pressure| from_limit(accuracy.manometer_limit(read) / read);
    // The return's air passes it.
    let density = moist_density(set.air.temperature, set.air.humidity, running.system.blower.air.pressure);
    let by_law = || {
        let (at_one, drop) = plate.at_one.zip(plate.drop)?;
        let told = flow_plate::through(at_one, plate.exponent, drop, density);
        Some((told, plate.exponent * of_manometer(drop), true))
    };
    let (told, of_drop, by_law) = plate.airflow.map(|scale| (scale, 0.0, false)).or_else(by_law)?;
    let without = match plate.statics() {
        Some((usual, with)) => flow_plate::without_plate(told, usual, with),
        None => told,
    };
    let of_statics = plate.statics().map_or(0.0, |(usual, with)| 0.5 * of_manometer(usual).hypot(of_manometer(with)));
    let u = from_limit(accuracy.plate_fraction).hypot(of_drop).hypot(of_statics);
    Some(Said {
        basis: Basis::Plate { by_law, corrected: plate.statics().is_some() },
        told,
        airflow: without / volume_at(job, running, PathSide::Return),
        spread: COVERAGE * u,
    })
}
