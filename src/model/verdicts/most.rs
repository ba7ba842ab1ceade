//! Which part of a path takes most of its static.

use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::facts::read_ports::read_ports;
use crate::model::path::parts::{Part, flows};
use crate::units::{Airflow, Pressure};

/// The part that takes most of the external drop at an airflow of the blower, with its share; nothing where there is only one.
///
/// One element that takes more than any other part, split or not, is it. Where that is several together, what lies between two readings is weighed as a whole, as the readings have it, and the greatest part in it is named: splitting one stretch moves the word to no other.
pub fn most(job: &Job, parts: &[Part], airflow: Airflow) -> Option<(Vec<ElementId>, f64)> {
    let ports = read_ports(job);
    let stretch_of = |part: &Part| {
        let first = part.elements.iter().filter_map(|id| job.path.index_of(*id)).min()?;
        Some(ports.iter().filter(|port| port.boundary <= first).count())
    };
    let weigh = |part| Some(Weighed { part, stretch: stretch_of(part)?, drop: drop_of(parts, part, airflow) });
    let weighed: Vec<Weighed<'_>> = parts.iter().filter(|part| part.is_external()).filter_map(weigh).collect();
    let total: Pressure = weighed.iter().map(|one| one.drop).sum();
    if weighed.len() < 2 || total <= Pressure::ZERO {
        return None;
    }
    let by_drop = |one: &&Weighed<'_>, other: &&Weighed<'_>| one.drop.in_wc().total_cmp(&other.drop.in_wc());
    let first = weighed.iter().max_by(by_drop)?;
    let taken = |stretch: usize| -> f64 {
        weighed.iter().filter(|one| one.stretch == stretch).map(|one| one.drop.in_wc()).sum()
    };
    let most = if first.part.elements.len() > 1 {
        let worst = (0..=ports.len()).max_by(|one, other| taken(*one).total_cmp(&taken(*other)))?;
        weighed.iter().filter(|one| one.stretch == worst).max_by(by_drop)?
    } else {
        first
    };
    Some((most.part.elements.clone(), most.drop / total))
}

/// A part, the stretch between readings that it lies in, and its drop.
struct Weighed<'a> {
    part: &'a Part,
    stretch: usize,
    drop: Pressure,
}

fn drop_of(parts: &[Part], part: &Part, airflow: Airflow) -> Pressure {
    part.drop_at(flows::through(parts, part.route, airflow))
}
