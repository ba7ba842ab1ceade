//! What to read next, in a sentence.

use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::job::Job;
use crate::model::read_next::{Doubted, NextReading, OpinionNext, Proposals, ReadNext};
use crate::model::wording::{capital, takes, uncapital};
use crate::units::UnitSystem;
use crate::units::show::{pressure_bare, pressure_spread_bare, spread_bare};

/// "Add up the supply grilles with a hood: the airflow is then known to ± 45 cfm, not ± 61, where they agree with the table", without its period.
pub fn of_air(next: &OpinionNext, units: UnitSystem) -> String {
    let how = match next.kind {
        OpinionKind::Heat => "Read the rise, and clock or meter the heat that goes in",
        OpinionKind::SupplySum => "Read every supply grille with a hood and add them up",
        OpinionKind::ReturnSum => "Read every return grille with a hood and add them up",
        OpinionKind::Plate => "Read a plate in the filter's slot",
        OpinionKind::Watts => "Read the blower's watts",
    };
    format!(
        "{how}: where that agrees with the table, the airflow is known to ± {} {}, not ± {}",
        spread_bare(next.then, units),
        units.airflow_unit(),
        spread_bare(next.now, units)
    )
}

/// What to read next, for how much air there is and for where it is lost, as far as a reading is worth its trouble.
pub fn sentences(job: &Job, next: &Proposals, units: UnitSystem) -> Vec<String> {
    let air = next.air.as_ref().map(|next| format!("How much air: {}", uncapital(&of_air(next, units))));
    let path = next.path.as_ref().map(|next| {
        let what = match next.doubted {
            Doubted::Gain { .. } => "What the changes bring",
            Doubted::Drop { .. } => "Where the static goes",
        };
        format!("{what}: {}", uncapital(&of_path(job, next, units)))
    });
    path.into_iter().chain(air).collect()
}

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
                pressure_spread_bare(now, units),
                pressure_spread_bare(then, units),
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
