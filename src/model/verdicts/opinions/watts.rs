//! Watts that were read against the table's: whether they agree, and the airflow at which the table has them.

use super::{Basis, Said};
use crate::model::facts::accuracy::{COVERAGE, from_95, from_limit};
use crate::model::facts::blower::{BlowerTable, MotorFamily};
use crate::model::facts::job::Job;
use crate::model::laws::tap_curve::{TapCurve, TapShape};
use crate::model::verdicts::system::Running;
use crate::units::{Power, Pressure};

/// Half the stretch of static over which the table's watts are taken to be straight, in. w.c.
const NEAR: Pressure = Pressure::from_in_wc(0.05);

/// Most that an airflow by watts may be off, at 95 %, and still be told (common practice, no source).
const READABLE: f64 = 0.25;

/// Watts that were read beside the table's at the point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WattsDiffer {
    /// As read.
    pub read: Power,
    /// By the table.
    pub table: Power,
    /// ± of their difference, 95 %.
    pub spread: Power,
}

/// A disagreement beyond what meter, table and the static itself leave in doubt; nothing where watts were not read or the table has none.
pub fn differ(job: &Job, running: &Running) -> Option<WattsDiffer> {
    let read = job.set().power?;
    let curve = curve(running)?;
    let (table, slope) = at(curve, running.now.entry)?;
    // The static is known to its own ±, and so are the watts that the table has for it.
    let by_static = slope * running.system.spreads.tesp.in_wc() / COVERAGE;
    let spread = COVERAGE * by_static.hypot(of_watts(job, read, table));
    let (table, spread) = (Power::from_watts(table), Power::from_watts(spread));
    ((read.watts() - table.watts()).abs() > spread.watts()).then_some(WattsDiffer { read, table, spread })
}

/// The airflow at which the tap's curve has the watts that were read.
///
/// Nothing where the table's watts turn round, where they end before, where a motor that holds its airflow tells static by its watts and not airflow, or where too much would be left in doubt.
pub(super) fn said(job: &Job, table: &BlowerTable, running: &Running) -> Option<Said> {
    let read = job.set().power?;
    let curve = curve(running).filter(|_| table.motor != MotorFamily::ConstantAirflow)?;
    let entry = curve.entry_of_power(read)?;
    let (cfm, slope) = curve.value_and_slope(entry.in_wc());
    let (watts, by_entry) = at(curve, entry)?;
    let of_watts = slope / by_entry * of_watts(job, read, watts) / cfm;
    let own = table.basis.own_of_tap(job.accuracy.tap_fraction);
    let spread = COVERAGE * of_watts.hypot(from_95(job.accuracy.table_fraction)).hypot(from_95(own));
    let airflow = crate::units::Airflow::from_cfm(cfm);
    (spread <= READABLE).then_some(Said { basis: Basis::Watts, told: airflow, airflow, spread })
}

/// The curve of the tap that runs.
fn curve(running: &Running) -> Option<&TapCurve> {
    running.system.blower.shapes.get(running.system.blower.in_use?).and_then(TapShape::curve)
}

/// The table's watts at an entry, and their slope there, W a in. w.c.
fn at(curve: &TapCurve, entry: Pressure) -> Option<(f64, f64)> {
    let watts = |entry: Pressure| Some(curve.power_at(entry)?.watts());
    let here = watts(entry)?;
    let (low, high) = (watts(entry - NEAR).map(|low| (low, NEAR)), watts(entry + NEAR).map(|high| (high, NEAR)));
    let ((low, before), (high, behind)) =
        (low.unwrap_or((here, Pressure::ZERO)), high.unwrap_or((here, Pressure::ZERO)));
    let stretch = (before + behind).in_wc();
    Some((here, if stretch > 0.0 { (high - low) / stretch } else { 0.0 }))
}

/// Standard uncertainty of watts as read against the table's, W.
fn of_watts(job: &Job, read: Power, table: f64) -> f64 {
    let by_table = from_95(job.accuracy.table_power_fraction) * table;
    by_table.hypot(from_limit(job.accuracy.wattmeter_fraction) * read.watts())
}
