//! What it would take for each tap to land in the target's band, and to deliver the full target.
//!
//! Both are held against the rated maximum, by the yardstick that a tap's point is judged by: what a tap needs nothing for, it has reached.

use crate::model::facts::standing::CurveStanding;
use crate::model::facts::target::TargetBand;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve, SystemLoad};
use crate::model::laws::tap_curve::{SINGLE_ROW_REACH, TapCurve, TapShape};
use crate::model::solution::operating_point::crossing;
use crate::units::{Airflow, Pressure};

/// What one tap needs on this path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needs {
    /// To land in the target's band, at or under the rated maximum.
    pub band: Need,
    /// To deliver the full target, at or under the rated maximum.
    pub target: Need,
}

/// What one tap needs to deliver an airflow on this path, at or under the rated maximum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// The path drops no more there than the tap and the plate allow.
    None {
        /// Highest TESP at which the tap delivers the airflow.
        highest: Pressure,
        /// Standing of the curve there.
        standing: CurveStanding,
    },
    /// The path must become easier.
    Ease(Ease),
    /// The tap never moves the airflow, not even against nothing.
    NeverEnough {
        /// The most it moves.
        most: Airflow,
    },
    /// Over the rated maximum on this path, and on an easier one over the target's band.
    TooStrong {
        /// What it moves at the rated maximum.
        least: Airflow,
    },
    /// The table bars the tap where it would deliver the airflow.
    Barred {
        /// TESP at which it would.
        highest: Pressure,
    },
    /// A single row, or no usable data: nothing can be said.
    Unknown,
}

impl Need {
    /// How much easier the path must become, where that is what it takes.
    pub const fn ease(&self) -> Option<&Ease> {
        match self {
            Self::Ease(ease) => Some(ease),
            Self::None { .. }
            | Self::NeverEnough { .. }
            | Self::TooStrong { .. }
            | Self::Barred { .. }
            | Self::Unknown => None,
        }
    }

    /// Highest TESP at which the tap delivers the airflow, where it can.
    pub const fn highest(&self) -> Option<Pressure> {
        match self {
            Self::None { highest, .. } | Self::Barred { highest } | Self::Ease(Ease { highest, .. }) => Some(*highest),
            Self::NeverEnough { .. } | Self::TooStrong { .. } | Self::Unknown => None,
        }
    }
}

/// How much easier the path must become, told at the airflow that the tap then moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ease {
    /// The airflow: the one asked for, or what the tap moves at the rated maximum where that is more.
    pub at: Airflow,
    /// Highest TESP at which the tap delivers the airflow asked for.
    pub highest: Pressure,
    /// Standing of the curve where the tap then runs.
    pub standing: CurveStanding,
    /// Drop of the path at that airflow.
    pub path: Pressure,
    /// What is allowed there: the highest TESP or the plate, whichever is lower.
    pub allowed: Pressure,
    /// Drop that has to come out at that airflow.
    pub remove: Pressure,
    /// The tempting wrong figure: today's reading less the highest TESP.
    ///
    /// It forgets that the path's own drop grows with the airflow that is wanted.
    pub tempting: Pressure,
}

impl Ease {
    /// Share of the path's drop that has to come out.
    pub fn share(&self) -> f64 {
        self.remove / self.path
    }
}

/// Highest TESP that the plate allows, as read and at table density: the lower decides.
pub fn plate_limit(rated_maximum: Pressure, entry_ratio: f64) -> Pressure {
    rated_maximum * entry_ratio.min(1.0)
}

/// What a tap needs on a path; `today` is the TESP now, `plate` the rated maximum, and a tap whose point `is_answer` needs nothing for the band.
pub fn needs(
    shape: &TapShape,
    load: &SystemLoad,
    target: &TargetBand,
    (today, plate): (Pressure, Option<Pressure>),
    is_answer: bool,
) -> Needs {
    let within = |wanted| within_band(need(shape, load, wanted, today, plate), target);
    let band = within(target.low);
    Needs { band: if is_answer { reached(band) } else { band }, target: within(target.actual) }
}

/// What a tap needs whose point is an answer: nothing, though it stands at the rated maximum within the readings' uncertainty, or the band's edge is barred.
const fn reached(need: Need) -> Need {
    match need {
        Need::Ease(Ease { highest, standing, .. }) => Need::None { highest, standing },
        Need::Barred { highest } => Need::None { highest, standing: CurveStanding::Published },
        Need::None { .. } | Need::NeverEnough { .. } | Need::TooStrong { .. } | Need::Unknown => need,
    }
}

/// A tap that the plate holds to more air than the band accepts lands in it on no path.
fn within_band(need: Need, target: &TargetBand) -> Need {
    let held = need.ease().map(|ease| ease.at).filter(|at| *at > target.high);
    held.map_or(need, |least| Need::TooStrong { least })
}

/// What a tap needs to deliver an airflow on a path; `today` is the TESP now and `plate` the rated maximum.
pub fn need(shape: &TapShape, load: &SystemLoad, wanted: Airflow, today: Pressure, plate: Option<Pressure>) -> Need {
    let curve = match shape {
        TapShape::Curve(curve) => curve,
        TapShape::Single(row) => return single_row_need(row.airflow, row.esp, load, wanted),
        TapShape::Unusable => return Need::Unknown,
    };
    let Some((entry, standing)) = curve.highest_esp_for(wanted) else {
        return Need::NeverEnough { most: curve.most() };
    };
    let highest = load.tesp_for_entry(entry, wanted);
    let limit = plate.map(|plate| plate_limit(plate, load.entry_ratio)).filter(|limit| *limit < highest);
    let held = limit.and_then(|limit| held_at(curve, load, limit));
    let (at, allowed, entry, standing) = held.unwrap_or((wanted, highest, entry, standing));
    if curve.barred_at(entry).is_some() {
        return Need::Barred { highest };
    }
    let path = load.tesp(at);
    let remove = path - allowed;
    if remove <= Pressure::ZERO {
        return Need::None { highest, standing };
    }
    Need::Ease(Ease { at, highest, standing, path, allowed, remove, tempting: today - highest })
}

/// What the rated maximum holds a tap to where it moves more than an airflow there: what it moves, and that TESP; `load` without what the path drops.
pub fn held(curve: &TapCurve, load: &SystemLoad, wanted: Airflow, plate: Pressure) -> Option<(Airflow, Pressure)> {
    let highest = load.tesp_for_entry(curve.highest_esp_for(wanted)?.0, wanted);
    let limit = Some(plate_limit(plate, load.entry_ratio)).filter(|limit| *limit < highest)?;
    held_at(curve, load, limit).map(|(airflow, limit, ..)| (airflow, limit))
}

/// What a tap moves against a TESP: airflow, that TESP, table entry and standing.
fn held_at(
    curve: &TapCurve,
    load: &SystemLoad,
    tesp: Pressure,
) -> Option<(Airflow, Pressure, Pressure, CurveStanding)> {
    let mut external = SystemCurve::default();
    // The same static at every airflow.
    external.add_law(PowerLaw { coefficient: tesp.in_wc(), exponent: 0.0 });
    let found = crossing(curve, &SystemLoad { external, ..load.clone() }, None).ok()?;
    Some((found.airflow, tesp, found.entry, found.standing))
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
