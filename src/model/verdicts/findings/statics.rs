//! Static: against the rated maximum, and what each side of the machine takes.

use crate::model::facts::blower::BlowerTable;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::SHOWN_DIFFERENCE;
use crate::model::path::parts::Part;
use crate::model::verdicts::duct_allowance::DuctAllowance;
use crate::model::verdicts::findings::stretches::{self, Stretch};
use crate::model::verdicts::findings::{Finding, ducts, little};
use crate::model::verdicts::needs::plate_limit;
use crate::model::verdicts::plate::{self, PlateSide, PlateVerdict};
use crate::model::verdicts::system::{Idle, PathRead, Running};
use crate::units::{Airflow, Pressure};

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
    let read = Read {
        total: running.now.tesp,
        return_side: running.return_side,
        parts: &running.system.parts,
        factor: at.map_or(1.0, |high| load.tesp(high) / load.tesp(running.now.airflow)),
        at,
        entry_ratio: running.system.blower.entry_ratio,
    };
    of_plate(running.system.plate(), findings);
    ducts::of_lengths(ducts, findings);
    read.sides(job, table, ducts, findings);
}

/// The same of a path of which nothing is known but what was read.
pub(super) fn of_bound(job: &Job, table: &BlowerTable, (idle, path): (&Idle, &PathRead), findings: &mut Vec<Finding>) {
    let entry_ratio = idle.blower.entry_ratio;
    of_plate(table.rated_maximum.map(|limit| plate::judge(path.tesp, limit, entry_ratio, path.spread)), findings);
    let read = Read {
        total: path.tesp,
        return_side: path.return_side,
        parts: &path.parts,
        factor: 1.0,
        at: None,
        entry_ratio,
    };
    read.sides(job, table, None, findings);
}

fn of_plate(plate: Option<PlateVerdict>, findings: &mut Vec<Finding>) {
    findings.extend(plate.filter(|plate| plate.side != PlateSide::Under).map(Finding::Plate));
}

/// What was read of the path, and at which airflow it is meant.
struct Read<'a> {
    total: Pressure,
    return_side: Option<Pressure>,
    parts: &'a [Part],
    /// What the static read is multiplied by.
    factor: f64,
    at: Option<Airflow>,
    entry_ratio: f64,
}

impl Read<'_> {
    /// What is known apart by its own limit, the furthest over it first; a side of which nothing is, as a whole.
    fn sides(&self, job: &Job, table: &BlowerTable, ducts: Option<&DuctAllowance>, findings: &mut Vec<Finding>) {
        let stretches = stretches::of(job, self.parts);
        let on = |side: PathSide| -> Vec<&Stretch> { stretches.iter().filter(|one| one.is_on(side)).collect() };
        let (back, out) = (on(PathSide::Return), on(PathSide::Supply));
        let total = self.total * self.factor;
        let of_return = allowed(job, &back, Some(job.limits.return_drop));
        let of_ducts = table.rated_maximum.map(|plate| {
            let left = plate_limit(plate, self.entry_ratio) - of_return.unwrap_or_default();
            let left = left - allowed(job, &out, Some(Pressure::ZERO)).unwrap_or_default();
            // The supply's ducts are not held to less than the return's.
            left.max(job.limits.return_drop)
        });
        let is_judged = |side| ducts::is_judged(ducts, side);
        let mut over: Vec<(f64, Finding)> = Vec::new();
        for (side, all, of_ducts) in
            [(PathSide::Return, &back, Some(job.limits.return_drop)), (PathSide::Supply, &out, of_ducts)]
        {
            for one in all.iter().filter(|one| all.len() > 1 && !(one.holds_ducts() && is_judged(side))) {
                let taken = one.drop * self.factor;
                let limit = one.limit(&job.limits, of_ducts);
                if let Some(limit) = limit.filter(|limit| *limit > Pressure::ZERO && is_over(taken, *limit)) {
                    let of_supply = side == PathSide::Supply && one.holds_ducts();
                    let parts = one.kinds.clone();
                    over.push((
                        taken / limit,
                        Finding::PartTakes { parts, taken, total, limit, at: self.at, of_supply },
                    ));
                }
            }
        }
        over.sort_by(|one, other| other.0.total_cmp(&one.0));
        findings.extend(over.into_iter().map(|(_, finding)| finding));
        let Some(read) = self.return_side else {
            return;
        };
        let with = |all: &[&Stretch]| all.iter().flat_map(|one| one.with()).collect();
        let (taken, at) = (read * self.factor, self.at);
        if let (Some(limit), true) = (of_return, back.len() == 1 && !is_judged(PathSide::Return))
            && is_over(taken, limit)
        {
            findings.push(Finding::ReturnTakes { taken, total, limit, with: with(&back), at });
        }
        let taken = total - taken;
        if let (Some(limit), true) = (allowed(job, &out, of_ducts), out.len() == 1 && !is_judged(PathSide::Supply))
            && read >= Pressure::ZERO
            && is_over(taken, limit)
        {
            findings.push(Finding::SupplyTakes { taken, total, limit, with: with(&out), at });
        }
    }
}

/// True where more is taken than may be, as far as it shows.
fn is_over(taken: Pressure, limit: Pressure) -> bool {
    taken - limit > SHOWN_DIFFERENCE / 2.0
}

/// What the stretches of a side may take together, where its ducts may take so much.
fn allowed(job: &Job, stretches: &[&Stretch], of_ducts: Option<Pressure>) -> Option<Pressure> {
    let parts: Pressure = stretches.iter().filter_map(|one| one.of_parts(&job.limits)).sum();
    Some(of_ducts? + parts)
}
