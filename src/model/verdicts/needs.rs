//! What it would take for each tap to deliver the target.

use crate::model::facts::standing::CurveStanding;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::{SINGLE_ROW_REACH, TapShape};
use crate::units::{Airflow, Pressure};

/// What one tap needs to deliver the target on this path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// The path drops no more at the target than the tap and the plate allow.
    None {
        /// Highest TESP at which the tap delivers the target.
        highest: Pressure,
        /// Standing of the curve there.
        standing: CurveStanding,
    },
    /// The path must become easier.
    Ease(Ease),
    /// The tap never moves the target, not even against nothing.
    NeverEnough {
        /// The most it moves.
        most: Airflow,
    },
    /// The table bars the tap where it would deliver the target.
    Barred {
        /// TESP at which it would.
        highest: Pressure,
    },
    /// A single row, or no usable data: nothing can be said.
    Unknown,
}

/// How much easier the path must become, at the target airflow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ease {
    /// Highest TESP at which the tap delivers the target.
    pub highest: Pressure,
    /// Standing of the curve there.
    pub standing: CurveStanding,
    /// Drop of the path at the target airflow.
    pub path_at_target: Pressure,
    /// What is allowed there: the highest TESP or the plate, whichever is lower.
    pub allowed: Pressure,
    /// Drop that has to come out at the target airflow.
    pub remove: Pressure,
    /// The tempting wrong figure: today's reading less the highest TESP.
    ///
    /// It forgets that the path's own drop grows with the airflow that is wanted.
    pub tempting: Pressure,
}

impl Ease {
    /// Share of the path's drop that has to come out.
    pub fn share(&self) -> f64 {
        self.remove / self.path_at_target
    }
}

/// Highest TESP that the plate allows, as read and at table density: the lower decides.
pub fn plate_limit(rated_maximum: Pressure, entry_ratio: f64) -> Pressure {
    rated_maximum * entry_ratio.min(1.0)
}

/// What a tap needs to deliver `target` on a path; `today` is the TESP now and `plate` the rated maximum.
pub fn need(shape: &TapShape, load: &SystemLoad, target: Airflow, today: Pressure, plate: Option<Pressure>) -> Need {
    let curve = match shape {
        TapShape::Curve(curve) => curve,
        TapShape::Single(row) => return single_row_need(row.airflow, row.esp, load, target),
        TapShape::Unusable => return Need::Unknown,
    };
    let Some((entry, standing)) = curve.highest_esp_for(target) else {
        return Need::NeverEnough { most: curve.most() };
    };
    let highest = load.tesp_for_entry(entry, target);
    if curve.barred_at(entry).is_some() {
        return Need::Barred { highest };
    }
    let path_at_target = load.tesp(target);
    let allowed = plate.map_or(highest, |plate| highest.min(plate_limit(plate, load.entry_ratio)));
    let remove = path_at_target - allowed;
    if remove <= Pressure::ZERO {
        return Need::None { highest, standing };
    }
    Need::Ease(Ease { highest, standing, path_at_target, allowed, remove, tempting: today - highest })
}

/// A single row reaches a target only where its own airflow is enough and the path asks for its own static.
fn single_row_need(airflow: Airflow, esp: Pressure, load: &SystemLoad, target: Airflow) -> Need {
    let asks_for_its_row = (load.entry(airflow) - esp).abs() <= SINGLE_ROW_REACH;
    if asks_for_its_row && airflow >= target {
        let highest = load.tesp_for_entry(esp, airflow);
        return Need::None { highest, standing: CurveStanding::Published };
    }
    Need::Unknown
}
