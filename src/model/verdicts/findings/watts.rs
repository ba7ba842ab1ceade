//! Watts: for each cfm against the limit, and those that were read against the table's at the point.

use crate::model::facts::accuracy::{COVERAGE, from_95, from_limit};
use crate::model::facts::job::Job;
use crate::model::laws::tap_curve::TapShape;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::Running;
use crate::units::{Power, Pressure};

/// Half the stretch of static over which the table's watts are taken to be straight, in. w.c.
const NEAR: Pressure = Pressure::from_in_wc(0.05);

/// A disagreement beyond what meter, table and the static itself leave in doubt; nothing where watts were not read or the table has none.
pub(super) fn against_table(job: &Job, running: &Running) -> Option<Finding> {
    let read = job.set().power?;
    let TapShape::Curve(curve) = running.system.blower.shapes.get(running.system.blower.in_use?)? else {
        return None;
    };
    let at = |entry: Pressure| Some(curve.power_at(entry)?.watts());
    let entry = running.now.entry;
    let table = at(entry)?;
    let (low, high) = (at(entry - NEAR).unwrap_or(table), at(entry + NEAR).unwrap_or(table));
    // The static is known to its own ±, and so are the watts that the table has for it.
    let by_static = (high - low) / (2.0 * NEAR.in_wc()) * running.system.spreads.tesp.in_wc() / COVERAGE;
    let by_table = from_95(job.accuracy.table_power_fraction) * table;
    let by_meter = from_limit(job.accuracy.wattmeter_fraction) * read.watts();
    let spread = COVERAGE * by_static.hypot(by_table).hypot(by_meter);
    let (table, spread) = (Power::from_watts(table), Power::from_watts(spread));
    ((read.watts() - table.watts()).abs() > spread.watts()).then_some(Finding::WattsDiffer { read, table, spread })
}

/// More watts for each cfm than the limit of such a machine.
pub(super) fn per_cfm(job: &Job, running: &Running) -> Option<Finding> {
    let burns = job.machine.as_ref().is_some_and(|table| table.kind.burns());
    let limit = if burns { job.limits.furnace_watts_per_cfm } else { job.limits.watts_per_cfm };
    let value = running.power?.watts() / running.now.airflow.cfm();
    (value > limit).then_some(Finding::WattsPerCfm { value, limit })
}
