//! Where a tap's curve and the air path's curve cross.

use crate::model::facts::standing::CurveStanding;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::{Piece, SINGLE_ROW_REACH, SingleRow, TapCurve};
use crate::numerics::root::{self, End};
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
/// The search begins at a table entry where one is known to be near, such as the tap's own crossing with a path that is little different; that makes it shorter and changes nothing.
///
/// The residual changes sign once for every path whose drop rises with airflow, unless the tap's own airflow rises with static faster than the path allows, which [`crate::model::facts::table_check`] questions.
///
/// # Errors
/// [`NoCrossing::PastTheEnd`] when the curve ends before the path is met.
#[inline]
pub fn crossing(curve: &TapCurve, load: &SystemLoad, near: Option<Pressure>) -> Result<Crossing, NoCrossing> {
    let entry = entry_where(curve, |cfm| load.entry_and_slope(cfm), near.map(|near| (near, LAST_STEP)))?;
    let airflow = Airflow::from_cfm(curve.value_and_slope(entry.in_wc()).0);
    Ok(Crossing { entry, airflow, tesp: load.tesp_for_entry(entry, airflow), standing: curve.standing(entry) })
}

/// Newton's steps at most from a table entry, before the whole curve is searched.
const STEPS_FROM_NEAR: usize = 8;
/// A step of Newton's this small, relative to the entry, leaves an error of about its square.
const LAST_STEP: f64 = 1e-7;
/// Where only a difference is wanted that is itself known to some digits.
pub(super) const LAST_MOVED_STEP: f64 = 1e-2;

/// The table entry at which a falling curve meets a demand, from one nearby; nothing where the steps leave the curve or do not settle.
#[inline]
fn entry_near(curve: &TapCurve, demand: impl Fn(f64) -> (f64, f64), near: Pressure, last: f64) -> Option<Pressure> {
    let end = curve.end().0.in_wc();
    let mut entry = near.in_wc();
    for _ in 0..STEPS_FROM_NEAR {
        if !(curve.falls() && (0.0..=end).contains(&entry)) {
            return None;
        }
        let (cfm, curve_slope) = curve.value_and_slope(entry);
        let (asked, asked_slope) = demand(cfm);
        let step = (asked - entry) / (1.0 - asked_slope * curve_slope);
        entry += step;
        if step.abs() <= last * entry {
            return (0.0..=end).contains(&entry).then(|| Pressure::from_in_wc(entry));
        }
    }
    None
}

/// The airflow where a path or a curve that is moved by its uncertainty crosses, from the crossing that it is moved from: the difference is wanted to some digits, not the crossing to all; nothing where there is none.
#[inline]
pub fn moved_airflow(curve: &TapCurve, demand: impl Fn(f64) -> (f64, f64), from: Pressure) -> Option<Airflow> {
    let entry = entry_where(curve, demand, Some((from, LAST_MOVED_STEP))).ok()?;
    Some(Airflow::from_cfm(curve.value_and_slope(entry.in_wc()).0))
}

/// The table entry at which a tap's curve meets a demand: `demand` gives the entry in in. w.c. and its slope at an airflow in cfm; `near` a table entry that is known to be near, and how small the last step from there on has to be; without one the middle of the rows.
///
/// # Errors
/// [`NoCrossing::PastTheEnd`] when the curve ends before the demand is met.
#[inline]
pub fn entry_where(
    curve: &TapCurve,
    demand: impl Fn(f64) -> (f64, f64),
    near: Option<(Pressure, f64)>,
) -> Result<Pressure, NoCrossing> {
    let (start, last) = near.unwrap_or_else(|| ((curve.first().0 + curve.last().0) * 0.5, LAST_STEP));
    if let Some(entry) = entry_near(curve, &demand, start, last) {
        return Ok(entry);
    }
    let past = || NoCrossing::PastTheEnd { below: curve.last().1, end: curve.end().0 };
    let (piece, low, high) = piece_where(curve, &demand).ok_or_else(past)?;
    let residual = |p: f64| {
        let (cfm, curve_slope) = piece.value_and_slope(p);
        let (entry, entry_slope) = demand(cfm);
        (entry - p, entry_slope * curve_slope - 1.0)
    };
    let root = root::between(residual, low, high, CROSSING_TOLERANCE);
    Ok(Pressure::from_in_wc(root.ok().ok_or_else(past)?))
}

/// The piece of the curve (below, between two rows, or past the last) in which the residual turns negative, and the residual at its two ends.
///
/// Rows that the search looked at are the ends of its last bracket, so that no demand is worked out twice.
#[inline]
fn piece_where<'a>(curve: &'a TapCurve, demand: &impl Fn(f64) -> (f64, f64)) -> Option<(Piece<'a>, End, End)> {
    let stretches = curve.stretches();
    let at = |esp: f64, cfm: f64| End { x: esp, value: demand(cfm).0 - esp };
    let (mut first, mut past) = (0, stretches.len());
    let (mut low, mut high) = (None, None);
    while first < past {
        let middle = first.midpoint(past);
        let end = at(stretches[middle].x1, stretches[middle].y1);
        if end.value <= 0.0 {
            (past, high) = (middle, Some(end));
        } else {
            (first, low) = (middle + 1, Some(end));
        }
    }
    let (Some(stretch), Some(high)) = (stretches.get(first), high) else {
        let (end, last) = (curve.end(), curve.last());
        let high = at(end.0.in_wc(), end.1.cfm());
        let low = low.unwrap_or_else(|| at(last.0.in_wc(), last.1.cfm()));
        return (high.value <= 0.0).then(|| (curve.past_the_last(), low, high));
    };
    let low = low.unwrap_or_else(|| at(stretch.x0, stretch.y0()));
    if low.value <= 0.0 && first == 0 {
        return Some((curve.before_the_first(), at(0.0, stretch.y0()), low));
    }
    Some((Piece::Between(stretch), low, high))
}

/// The use of a single-row tap: its airflow, when the path asks for a static within ±0.05 in. w.c. of its row.
///
/// # Errors
/// [`NoCrossing::SingleRow`] when it does not.
pub fn single_row(row: SingleRow, load: &SystemLoad) -> Result<Crossing, NoCrossing> {
    let entry = load.entry(row.airflow);
    let is_near = (entry - row.esp).abs() <= SINGLE_ROW_REACH;
    if !is_near {
        return Err(NoCrossing::SingleRow(row));
    }
    Ok(Crossing { entry, airflow: row.airflow, tesp: load.tesp(row.airflow), standing: CurveStanding::Published })
}
