//! What the sides of a path and the parts known apart in them take, in words.

use crate::model::facts::air_path::ElementKind;
use crate::model::verdicts::findings::Finding;
use crate::model::wording::changes;
use crate::units::show::{airflow, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// A finding about a side or a part of it as a sentence without its period; empty for any other.
pub(super) fn finding(finding: &Finding, units: UnitSystem) -> String {
    if let Finding::PartTakes { parts, taken, total, limit, at, of_supply } = finding {
        let takes = super::takes(parts);
        let source = if *of_supply { OF_SUPPLY } else { PRACTICE };
        return side((&changes::listed(&names(parts)), takes), (*taken, *total, *limit), *at, source, units);
    }
    if let Finding::ReturnTakes { taken, total, limit, with, at } = finding {
        let name = format!("return side{}", with_its(with));
        return side((&name, "takes"), (*taken, *total, *limit), *at, PRACTICE, units);
    }
    let Finding::SupplyTakes { taken, total, limit, with, at } = finding else {
        return String::new();
    };
    let name = format!("supply side{}", with_its(with));
    side((&name, "takes"), (*taken, *total, *limit), *at, OF_SUPPLY, units)
}

/// Where a limit comes from that no standard names.
const PRACTICE: &str = " (common practice)";

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
