//! Static: against the rated maximum, and what each side of the machine takes.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::verdicts::duct_allowance::DuctAllowance;
use crate::model::verdicts::findings::{Finding, ducts, little};
use crate::model::verdicts::needs::plate_limit;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::Running;
use crate::units::Pressure;

/// Everything that is said of it.
pub(super) fn find(
    job: &Job,
    table: &BlowerTable,
    (running, ducts): (&Running, Option<&DuctAllowance>),
    findings: &mut Vec<Finding>,
) {
    // What a side takes of a low call's air is little: it is judged by what it takes of the high one's.
    let at = little::at_high_call(job, table, running);
    let load = &running.system.load;
    let factor = at.map_or(1.0, |high| load.tesp(high) / load.tesp(running.now.airflow));
    let (total, back, out) = (
        running.now.tesp * factor,
        running.return_side.map(|taken| taken * factor),
        running.supply_side.map(|taken| taken * factor),
    );
    if let Some(plate) = running.system.plate()
        && plate.side != PlateSide::Under
    {
        findings.push(Finding::Plate(plate));
    }
    ducts::of_lengths(ducts, findings);
    let (limit, with) = return_limit(job, table);
    if let Some(taken) = back
        && taken > limit
        && !ducts::is_judged(ducts, PathSide::Return)
    {
        findings.push(Finding::ReturnTakes { taken, total, limit, with, at });
    }
    let is_drawn = back.is_some_and(|taken| taken >= Pressure::ZERO);
    if let (Some(taken), Some(plate)) = (out.filter(|_| is_drawn), table.rated_maximum)
        && let limit = plate_limit(plate, running.system.blower.entry_ratio) - limit
        && limit > Pressure::ZERO
        && taken > limit
        && !ducts::is_judged(ducts, PathSide::Supply)
    {
        findings.push(Finding::SupplyTakes { taken, total, limit, at });
    }
}

/// What the return side may take, with the parts that stand on it outside the table.
fn return_limit(job: &Job, table: &BlowerTable) -> (Pressure, Vec<ElementKind>) {
    let plane = *job.path.inside(&table.basis).start();
    let out = &job.set().parts_out;
    let before = job.path.elements.iter().take(plane).filter(|element| !out.contains(&element.id));
    let mut limit = job.limits.return_drop;
    let mut with = Vec::new();
    for element in before {
        // Filters of ways side by side stand beside each other: the air passes one of them.
        let within: Vec<ElementKind> = element.all().iter().map(|within| within.kind).collect();
        for (kind, allowed) in
            [(ElementKind::Filter, job.limits.filter_drop), (ElementKind::Coil, job.limits.coil_drop)]
        {
            if within.contains(&kind) {
                limit += allowed;
                with.push(kind);
            }
        }
    }
    (limit, with)
}
