//! What another air density does to a tap's curve, by the motor that drives it.
//!
//! At constant speed a fan moves the same volume and its pressure follows density (fan laws, read in a handbook page; the checks of `fanlaw` name it).
//! So a reading P enters the table as `P/r`, with `r = ρ/ρ_table`, and that is what a PSC motor does, whose speed hardly moves.
//! A constant-torque motor holds `ρN²`: its pressure stands and its speed rises by `1/√r`, so it moves `Q_table(P)/√r`.
//! A constant-airflow motor holds nearly the mass, `Q_table(P/r)/r`, up to its knee, and past it what it does at constant speed.
//! Reasoned from how such motors are controlled; no published test is known.

use crate::model::facts::blower::{MotorFamily, Tap, TapData};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::other_airflow::with_airflows;
use crate::model::laws::tap_curve::{KNEE_DROP, TapCurve, TapShape, shape_of};
use crate::units::{Airflow, Pressure};

/// Density differences past this make the airflow of a motor that does not hold its speed `assumed`.
pub const DENSITY_DOUBT: f64 = 0.07;
/// Density differences up to this are left out of sentences.
pub const DENSITY_SHOWN: f64 = 0.03;

/// What a static at the job's density is divided by before the table is entered; `ratio` is ρ/ρ_table.
pub const fn entry_ratio(family: MotorFamily, ratio: f64) -> f64 {
    match family {
        MotorFamily::ConstantTorque => 1.0,
        MotorFamily::ConstantAirflow | MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => ratio,
    }
}

/// A tap's curve as the motor moves it in air of a density ratio, against the static that the table is entered with.
pub fn in_air(tap: &Tap, family: MotorFamily, ratio: f64) -> TapShape {
    let own = shape_of(tap, family);
    match family {
        MotorFamily::ConstantTorque => own.moving(1.0 / ratio.sqrt()),
        MotorFamily::ConstantAirflow => match (own, shape_of(&holding_mass(tap, ratio), family)) {
            // Past the last row it falls as the table's own curve does, for its share of airflow.
            (TapShape::Curve(own), TapShape::Curve(held)) => TapShape::Curve(Box::new(held.ending_like(&own))),
            (_, held) => held,
        },
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => own,
    }
}

/// Rows up to the knee move the same mass; those past it what they do at constant speed, and never more than the mass that is held.
fn holding_mass(tap: &Tap, ratio: f64) -> Tap {
    let most = match &tap.data {
        TapData::Range { airflow, .. } => *airflow,
        TapData::Column(rows) => rows.iter().filter_map(|row| row.cell.airflow()).fold(Airflow::ZERO, Airflow::max),
    };
    with_airflows(
        tap,
        |airflow| {
            if airflow >= most * (1.0 - KNEE_DROP) { airflow / ratio } else { airflow.min(most / ratio) }
        },
    )
}

/// The other end of a motor family's band, where what its own law gives is one end.
///
/// `curve` is the tap's in the job's air, `tesp` the static at the job's density that it stands against, and `ratio` is ρ/ρ_table.
/// Constant torque and constant airflow: what a constant speed gives; PSC and unstated: `Q_table(P)`.
pub fn other_end(curve: &TapCurve, family: MotorFamily, tesp: Pressure, ratio: f64) -> Option<Airflow> {
    let at = |esp: Pressure| curve.at(esp).map(|point| point.airflow);
    match family {
        MotorFamily::ConstantTorque => Some(at(tesp / ratio)? * ratio.sqrt()),
        MotorFamily::ConstantAirflow => {
            let airflow = at(tesp / ratio)?;
            Some(if airflow >= curve.most() * (1.0 - KNEE_DROP) { airflow * ratio } else { airflow })
        }
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => at(tesp),
    }
}

/// Path standing that the density alone imposes.
pub fn standing(family: MotorFamily, ratio: f64) -> PathStanding {
    let holds_speed = matches!(family, MotorFamily::PermanentSplitCapacitor);
    if (1.0 - ratio).abs() > DENSITY_DOUBT && !holds_speed { PathStanding::Assumed } else { PathStanding::Measured }
}
