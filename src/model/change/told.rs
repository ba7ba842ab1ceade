//! Words that several kinds of change share.

use crate::model::facts::change::Opening;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::units::{UnitSystem, show};

/// "Drop reduced by 25 %".
pub(super) fn taken_away(fraction: f64) -> String {
    format!("Drop reduced by {}", show::percent(fraction))
}

/// "1.5 times its drop".
pub(super) fn times(factor: f64) -> String {
    format!("{} times its drop", show::trimmed(factor, 2))
}

/// What it is now, and what it will be.
pub(super) fn from_to(now: &str, then: &str) -> String {
    format!("{now} → {then}")
}

/// "400 in², 70 % free".
pub(super) fn opening(opening: &Opening, units: UnitSystem) -> String {
    format!("{}, {} free", show::area(opening.face, units), show::percent(opening.free_area))
}

/// "12 in. flex", "18x8".
pub(super) fn section_and_wall(run: &Run, units: UnitSystem) -> String {
    let wall = match (run.wall, run.section) {
        (Wall::Flexible { .. }, _) => " flex",
        (Wall::Stiff(_), Section::Round { .. }) => " round",
        (Wall::Stiff(_), Section::Rectangular { .. } | Section::FlatOval { .. }) => "",
    };
    format!("{}{wall}", section(run.section, units))
}

/// A cross-section as the trade writes it: "12 in.", "18x8", "20x10 oval"; in SI with its unit.
pub fn section(section: Section, units: UnitSystem) -> String {
    let bare = |size| show::dimension_bare(size, units);
    let sides = |one, other| format!("{}x{}{}", bare(one), bare(other), units.pick("", " mm"));
    match section {
        Section::Round { diameter } => format!("{} {}", bare(diameter), units.pick("in.", "mm")),
        Section::Rectangular { width, height } => sides(width, height),
        Section::FlatOval { major, minor } => format!("{} oval", sides(major, minor)),
    }
}

/// "0.10 in. w.c. at 1,200 cfm", one after the other.
pub(super) fn drop_data(data: &DropData, units: UnitSystem) -> String {
    let points = data
        .points()
        .iter()
        .map(|(airflow, drop)| format!("{} at {}", show::pressure(*drop, units), show::airflow(*airflow, units)));
    points.collect::<Vec<_>>().join(", ")
}
