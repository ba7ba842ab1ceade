//! What the sides of a path and the parts known apart in them take, in words.

use crate::model::facts::air_path::ElementKind;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::verdicts::findings::Finding;
use crate::model::wording::{changes, figures};
use crate::units::show::{airflow, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// A finding about a side or a part of it as a sentence without its period; empty for any other.
pub(super) fn finding(job: &Job, finding: &Finding, units: UnitSystem) -> String {
    if let Finding::PartTakes { parts, taken, total, limit, at, of_supply } = finding {
        let takes = super::takes(parts);
        let source = if *of_supply { OF_SUPPLY.to_owned() } else { source(job, parts.iter().copied()) };
        return side((&changes::listed(&names(parts)), takes), (*taken, *total, *limit), *at, &source, units);
    }
    if let Finding::ReturnTakes { taken, total, limit, with, at } = finding {
        let name = format!("return side{}", with_its(with));
        let source = source(job, with.iter().copied().chain([ElementKind::ReturnDuct]));
        return side((&name, "takes"), (*taken, *total, *limit), *at, &source, units);
    }
    let Finding::SupplyTakes { taken, total, limit, with, at } = finding else {
        return String::new();
    };
    let name = format!("supply side{}", with_its(with));
    side((&name, "takes"), (*taken, *total, *limit), *at, OF_SUPPLY, units)
}

/// Where a limit comes from that no standard names and nobody changed.
const PRACTICE: &str = " (common practice)";

/// Where the limit of parts comes from, in brackets.
fn source(job: &Job, parts: impl Iterator<Item = ElementKind>) -> String {
    let figures = parts.map(|part| match part {
        ElementKind::Filter => JobNumber::FilterDrop,
        ElementKind::Coil => JobNumber::CoilDrop,
        // The ducts of the return have one limit together; what has none stands beside them.
        ElementKind::ReturnGrille
        | ElementKind::ReturnDuct
        | ElementKind::SupplyDuct
        | ElementKind::Registers
        | ElementKind::Louvre
        | ElementKind::Damper
        | ElementKind::Heater
        | ElementKind::HeatExchanger
        | ElementKind::AirCleaner
        | ElementKind::Humidifier
        | ElementKind::Blower
        | ElementKind::Leak
        | ElementKind::Bypass
        | ElementKind::SideBySide => JobNumber::ReturnDrop,
    });
    figures::own_sources(job, figures).map_or_else(|| PRACTICE.to_owned(), |named| format!(" ({named})"))
}

/// Where the supply's limit comes from.
const OF_SUPPLY: &str =
    ": the rated maximum less what the rest may take, and for its ducts no less than for the return's (own reckoning)";

fn names(kinds: &[ElementKind]) -> Vec<String> {
    kinds.iter().map(|kind| kind.name().to_lowercase()).collect()
}

/// " with its filter and coil", or nothing.
fn with_its(kinds: &[ElementKind]) -> String {
    if kinds.is_empty() { String::new() } else { format!(" with its {}", names(kinds).join(" and ")) }
}

fn side(
    (name, takes): (&str, &str),
    (taken, total, limit): (Pressure, Pressure, Pressure),
    at: Option<Airflow>,
    source: &str,
    units: UnitSystem,
) -> String {
    let at = at.map(|high| format!(" at the high call's {}", airflow(high, units))).unwrap_or_default();
    format!(
        "The {name} {takes} {} of {} ({}){at}; more than {} is a warning{source}",
        pressure_bare(taken, units),
        pressure(total, units),
        percent(taken / total),
        pressure_bare(limit, units)
    )
}
