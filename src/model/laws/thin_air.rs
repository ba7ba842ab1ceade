//! What another air density does to a tap's curve, by the motor that drives it.
//!
//! At constant speed a fan moves the same volume and its pressure follows density (fan laws, read in a handbook page; the checks of `fanlaw` name it).
//! So a reading P enters the table as `P/r`, with `r = ρ/ρ_table`, and that is what a PSC motor does, whose speed hardly moves.
//! A constant-torque motor holds `ρN²`: its pressure stands and its speed rises by `1/√r`, so it moves `Q_table(P)/√r`.
//! A constant-airflow motor holds nearly the mass, `Q_table(P/r)/r`, as far as its limit lets it, and past its knee what it does at constant speed.
//! Of that limit the table shows what lies past the knee; before it the limit goes back by its mean fall from the knee to the last row, so that the held mass goes away little by little.
//! One wheel and motor has one limit: no setting is credited with more than the one that moves most.
//! Reasoned from how such motors are controlled; no published test is known.

use crate::model::facts::blower::{MotorFamily, Tap};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::tap_curve::{SingleRow, TapCurve, TapShape, shape_of};
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
        MotorFamily::ConstantAirflow => match own {
            TapShape::Curve(own) => TapShape::Curve(Box::new(own.holding_mass(ratio))),
            TapShape::Single(row) => TapShape::Single(SingleRow { airflow: row.airflow / ratio, ..row }),
            TapShape::Unusable => TapShape::Unusable,
        },
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => own,
    }
}

/// The taps of one machine, none of which moves more for its held mass than the one that moves most.
pub fn of_one_motor(shapes: Vec<TapShape>) -> Vec<TapShape> {
    let curves = shapes.iter().filter_map(TapShape::curve);
    let highest = curves.max_by(|one, other| one.own_most().cfm().total_cmp(&other.own_most().cfm())).cloned();
    let under = |shape| match (shape, &highest) {
        (TapShape::Curve(curve), Some(highest)) => TapShape::Curve(Box::new(curve.under(highest))),
        (shape, _) => shape,
    };
    shapes.into_iter().map(under).collect()
}

/// The other end of a motor family's band, where what its own law gives is one end.
///
/// `curve` is the tap's in the job's air, `tesp` the static at the job's density that it stands against, and `ratio` is ρ/ρ_table.
/// Constant torque and constant airflow: what a constant speed gives; unstated: `Q_table(P)`; PSC keeps its speed and has no other.
pub fn other_end(curve: &TapCurve, family: MotorFamily, tesp: Pressure, ratio: f64) -> Option<Airflow> {
    let at = |curve: &TapCurve, esp: Pressure| curve.at(esp).map(|point| point.airflow);
    match family {
        MotorFamily::ConstantTorque => Some(at(curve, tesp / ratio)? * ratio.sqrt()),
        MotorFamily::ConstantAirflow => at(curve.at_constant_speed()?, tesp / ratio),
        MotorFamily::PermanentSplitCapacitor => None,
        MotorFamily::Unstated => at(curve, tesp),
    }
}

/// Path standing that the density alone imposes.
pub fn standing(family: MotorFamily, ratio: f64) -> PathStanding {
    let holds_speed = matches!(family, MotorFamily::PermanentSplitCapacitor);
    if (1.0 - ratio).abs() > DENSITY_DOUBT && !holds_speed { PathStanding::Assumed } else { PathStanding::Measured }
}
