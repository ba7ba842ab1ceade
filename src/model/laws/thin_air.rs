//! What another air density does to a tap's curve.
//!
//! At constant speed a fan moves the same volume and its pressure follows density (fan laws, read in a handbook page; the checks of `fanlaw` name it).
//! So a reading P enters the table as `P/r`, with `r = ρ/ρ_table`.
//! Motors do not hold their speed: in thin air the constant-speed figure is the low end, and the other end depends on the motor family.

use crate::model::facts::blower::MotorFamily;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::tap_curve::TapCurve;
use crate::units::{Airflow, Pressure};

/// Density differences past this make the airflow of a constant-torque or constant-airflow motor `assumed`.
pub const DENSITY_DOUBT: f64 = 0.03;

/// The other end of a motor family's band, where the constant-speed airflow is one end.
///
/// `tesp` is the static at the job's density and `ratio` is ρ/ρ_table.
/// Constant torque `Q_table(P)/√r`; constant airflow `Q_table(P/r)/r`; PSC and unstated `Q_table(P)`.
pub fn other_end(curve: &TapCurve, family: MotorFamily, tesp: Pressure, ratio: f64) -> Option<Airflow> {
    let table = |esp: Pressure| curve.at(esp).map(|point| point.airflow);
    match family {
        MotorFamily::ConstantTorque => Some(table(tesp)? / ratio.sqrt()),
        MotorFamily::ConstantAirflow => Some(table(tesp / ratio)? / ratio),
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => table(tesp),
    }
}

/// Path standing that the density alone imposes.
pub fn standing(family: MotorFamily, ratio: f64) -> PathStanding {
    let holds_speed = matches!(family, MotorFamily::PermanentSplitCapacitor);
    if (1.0 - ratio).abs() > DENSITY_DOUBT && !holds_speed { PathStanding::Assumed } else { PathStanding::Measured }
}
