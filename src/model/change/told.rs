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

/// "12 in round, flexible".
pub(super) fn section_and_wall(run: &Run, units: UnitSystem) -> String {
    let wall = match run.wall {
        Wall::Flexible { .. } => "flexible",
        Wall::Stiff(_) => "stiff",
    };
    format!("{}, {wall}", section(run.section, units))
}

/// A cross-section in words.
pub fn section(section: Section, units: UnitSystem) -> String {
    let bare = |size| show::dimension_bare(size, units);
    let unit = units.dimension_unit();
    match section {
        Section::Round { diameter } => format!("{} {unit} round", bare(diameter)),
        Section::Rectangular { width, height } => format!("{}×{} {unit}", bare(width), bare(height)),
        Section::FlatOval { major, minor } => format!("{}×{} {unit} oval", bare(major), bare(minor)),
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
