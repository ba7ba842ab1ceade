//! What was read besides the two ports: across parts inside the machine, and as one total.

use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::limits::SHOWN_DIFFERENCE;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::path::air;
use crate::model::path::tesp::ReadDifference;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::system::Running;

/// Everything that those readings say.
pub(super) fn find(job: &Job, table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    findings.extend(of_parts(job, table, running));
    of_total(job, running, findings);
}

/// Parts inside the machine that were read to take more than when the table was made, by more than two places of a reading may be off.
fn of_parts(job: &Job, table: &BlowerTable, running: &Running) -> impl Iterator<Item = Finding> {
    let two_places = job.accuracy.port_offset * 2.0;
    running.sum.read_across.inside.iter().filter_map(move |inside| {
        let element = job.path.element(inside.part)?;
        let tested = air::as_tested(element, table, running.sum.air)?.at_airflow(running.now.airflow);
        let more = inside.drop - tested;
        let part = element.name().to_lowercase();
        (more > two_places).then_some(Finding::TakesMore { part, read: inside.drop, more })
    })
}

/// A total beside two ports that says something else than they do.
fn of_total(job: &Job, running: &Running, findings: &mut Vec<Finding>) {
    let total = job.set().at(ReadAt::Total).and_then(Reading::average);
    if let (Some(total), ReadDifference::Ports { .. }) = (total, running.sum.read)
        && (total - running.now.tesp).abs() > running.system.spreads.tesp.max(SHOWN_DIFFERENCE)
    {
        findings.push(Finding::TotalDiffers { ports: running.now.tesp, total });
    }
}
