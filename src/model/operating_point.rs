//! Where a tap's curve and the air path's curve cross.

use crate::model::standing::CurveStanding;
use crate::model::system_curve::SystemLoad;
use crate::model::tap_curve::{SINGLE_ROW_REACH, SingleRow, TapCurve};
use crate::numerics::root;
use crate::units::{Airflow, Pressure};

/// Relative width to which a crossing is solved.
pub const CROSSING_TOLERANCE: f64 = 1e-13;

/// A crossing of tap and path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// ESP with which the table is entered.
    pub entry: Pressure,
    /// Airflow of the blower.
    pub airflow: Airflow,
    /// Total external static of the path at that airflow.
    pub tesp: Pressure,
    /// Standing of the tap's curve there.
    pub standing: CurveStanding,
}

/// Why a tap has no crossing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoCrossing {
    /// The path asks for more static than the extension reaches: only a bound is known.
    PastTheEnd {
        /// Airflow is below the last published one, as sure as the table.
        below: Airflow,
        /// Static where the curve's extension ends.
        end: Pressure,
    },
    /// The tap has a single row and the path asks for another static: a point projects nothing.
    SingleRow(SingleRow),
    /// The tap has no usable data.
    Unusable,
}

/// The crossing of a tap's curve with a path, solved for the table entry P with `entry(Q_tap(P)) = P`.
///
/// The residual changes sign once for every path whose drop rises with airflow, unless the tap's own airflow rises with static faster than the path allows, which [`crate::model::table_check`] questions.
///
/// # Errors
/// [`NoCrossing::PastTheEnd`] when the curve ends before the path is met.
#[inline]
pub fn crossing(curve: &TapCurve, load: &SystemLoad) -> Result<Crossing, NoCrossing> {
    let entry = entry_where(curve, |cfm| load.entry_and_slope(cfm))?;
    let airflow = Airflow::from_cfm(curve.value_and_slope(entry.in_wc()).0);
    Ok(Crossing {
        entry,
        airflow,
        tesp: load.tesp(airflow),
        standing: curve.standing(entry),
    })
}

/// The table entry at which a tap's curve meets a demand: `demand` gives the entry in in. w.c. and its slope at an airflow in cfm.
///
/// # Errors
/// [`NoCrossing::PastTheEnd`] when the curve ends before the demand is met.
#[inline]
pub fn entry_where(
    curve: &TapCurve,
    demand: impl Fn(f64) -> (f64, f64),
) -> Result<Pressure, NoCrossing> {
    let residual = |p: f64| {
        let (cfm, curve_slope) = curve.value_and_slope(p);
        let (entry, entry_slope) = demand(cfm);
        (entry - p, entry_slope * curve_slope - 1.0)
    };
    let past = || NoCrossing::PastTheEnd {
        below: curve.last().1,
        end: curve.end().0,
    };
    let (low, high) = bracket(curve, &residual).ok_or_else(past)?;
    let root = root::bracketed(residual, low, high, CROSSING_TOLERANCE);
    Ok(Pressure::from_in_wc(root.ok().ok_or_else(past)?))
}

/// The stretch of the curve (below, between two rows, or past the last) in which the residual turns negative.
fn bracket(curve: &TapCurve, residual: &impl Fn(f64) -> (f64, f64)) -> Option<(f64, f64)> {
    let stretches = curve.stretches();
    let turned = |p: f64| residual(p).0 <= 0.0;
    let index = stretches.partition_point(|stretch| !turned(stretch.x1));
    if let Some(stretch) = stretches.get(index) {
        let first = curve.first().0.in_wc();
        return Some(if index == 0 && turned(first) {
            (0.0, first)
        } else {
            (stretch.x0, stretch.x1)
        });
    }
    let end = curve.end().0.in_wc();
    turned(end).then(|| (curve.last().0.in_wc(), end))
}

/// The use of a single-row tap: its airflow, when the path asks for a static within ±0.05 in. w.c. of its row.
///
/// # Errors
/// [`NoCrossing::SingleRow`] when it does not.
pub fn single_row(row: SingleRow, load: &SystemLoad) -> Result<Crossing, NoCrossing> {
    let entry = load.entry(row.airflow);
    if (entry - row.esp).abs() > SINGLE_ROW_REACH {
        return Err(NoCrossing::SingleRow(row));
    }
    Ok(Crossing {
        entry,
        airflow: row.airflow,
        tesp: load.tesp(row.airflow),
        standing: CurveStanding::Published,
    })
}
