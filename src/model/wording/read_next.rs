//! What to read next, in a sentence.

use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::job::Job;
use crate::model::read_next::{Doubted, NextReading, ReadNext};
use crate::model::wording::{capital, takes};
use crate::units::UnitSystem;
use crate::units::show::{pressure_bare, spread_bare};

/// "Pull the filter and read again: the filter takes 0.21 ± 0.09 as far as is known now; then it is known to ± 0.02 in. w.c.", without its period.
pub fn of_path(job: &Job, next: &ReadNext, units: UnitSystem) -> String {
    let known = match next.doubted {
        Doubted::Gain { now, then } => format!(
            "what the changes bring is then known to ± {} {}, not ± {}",
            spread_bare(then, units),
            units.airflow_unit(),
            spread_bare(now, units)
        ),
        Doubted::Drop { element, drop, now, then } => {
            let kinds: Vec<ElementKind> = job.path.element(element).map(|element| element.kind).into_iter().collect();
            format!(
                "the {} {} {} ± {} as far as is known now; then it is known to ± {} {}",
                job.path.said(element),
                takes(&kinds),
                pressure_bare(drop, units),
                pressure_bare(now, units),
                pressure_bare(then, units),
                units.pressure_unit()
            )
        }
    };
    format!("{}: {known}", capital(&how(job, next.reading)))
}

/// "pull the filter and read again".
fn how(job: &Job, reading: NextReading) -> String {
    let said = |id| job.path.said(id);
    match reading {
        NextReading::Without(id) => format!("pull the {} and read again", said(id)),
        NextReading::Across(id) => format!("read across the {}", said(id)),
        NextReading::PortAfter(id) => match behind(job, id) {
            Some(next) => format!("read the static between {} and {}", said(id), said(next)),
            None => format!("read the static behind the {}", said(id)),
        },
    }
}

fn behind(job: &Job, id: ElementId) -> Option<ElementId> {
    Some(job.path.elements.get(job.path.index_of(id)? + 1)?.id)
}
