//! Heating stages: temperature rise against the rating plate, and the least airflow of the fitted heat.

use crate::model::facts::blower::BlowerTable;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::Running;
use crate::model::verdicts::taps::RiseSide;

/// Everything that is said of them.
pub(super) fn find(table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    for (index, stage) in table.heating.iter().enumerate() {
        let Some(tap) = running.system.runs_stage(stage.call) else {
            continue;
        };
        let (Some(point), tap) = (tap.reached(), &tap.name) else {
            continue;
        };
        let Some(rise) = point.rises.get(index) else {
            continue;
        };
        if let (Some(side), Some(range)) = (rise.side, stage.rise)
            && (side != RiseSide::InRange || rise.at_limit.is_some())
        {
            findings.push(Finding::Rise { tap: tap.to_owned(), rise: *rise, range, side });
        }
        if let (true, Some(least)) = (rise.under_minimum, stage.minimum_airflow) {
            findings.push(Finding::UnderHeatMinimum {
                call: stage.call,
                tap: tap.to_owned(),
                airflow: point.airflow(),
                least,
            });
        }
    }
}
