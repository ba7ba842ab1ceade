//! What a change is, in a line.

use crate::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening,
    OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Replacement, Seal, SecondReturn,
};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::job::Job;
use crate::model::facts::readings::CoilState;
use crate::model::wording;
use crate::units::{Area, UnitSystem, show};

/// Its name and what it is on: "Part by its data: filter".
pub fn title(job: &Job, kind: &ChangeKind) -> String {
    let name = kind.declaration().name;
    match (kind, kind.element().map(|id| job.path.name_of(id))) {
        (ChangeKind::OtherTap(OtherTap { tap }), _) => format!("{name}: {} {tap}", wording::tap_word(job)),
        (ChangeKind::OtherCall(OtherCall { call }), _) => format!("{name}: {}", call.name().to_lowercase()),
        (_, Some(Some(element))) => format!("{name}: {}", element.to_lowercase()),
        (_, Some(None)) => format!("{name}: element gone"),
        (_, None) => name.to_owned(),
    }
}

/// Its numbers: "12 in round, flexible, 20 ft, grille 280 in²"; nothing where the title says all.
pub fn details(job: &Job, kind: &ChangeKind, units: UnitSystem) -> Option<String> {
    Some(match kind {
        ChangeKind::LessByHand(LessByHand { fraction, .. })
        | ChangeKind::CleanCoil(CleanCoil { fraction, .. })
        | ChangeKind::RepairRun(RepairRun { fraction, .. }) => {
            format!("{} of its drop taken away", show::percent(*fraction))
        }
        ChangeKind::FilterLoading(FilterLoading { factor, .. }) => {
            format!("{} times its drop", show::trimmed(*factor, 2))
        }
        ChangeKind::ByData(ByData { data, .. }) => drop_data(data, units),
        ChangeKind::MoreFilterArea(MoreFilterArea { now, then, .. }) => {
            from_to(&area(*now, units), &area(*then, units))
        }
        ChangeKind::OtherDuct(OtherDuct { now, then, .. }) => {
            from_to(&section_and_wall(now, units), &section_and_wall(then, units))
        }
        ChangeKind::SecondReturn(SecondReturn { run, grille, filter }) => {
            let own = if filter.is_some() { ", own filter" } else { "" };
            format!(
                "{}, {}; grille {}{own}",
                section_and_wall(run, units),
                show::length(run.length, units),
                area(grille.face, units)
            )
        }
        ChangeKind::OtherOpening(OtherOpening { now, then, .. }) => {
            from_to(&opening(now, units), &opening(then, units))
        }
        ChangeKind::OpenRegisters(OpenRegisters { now, then, of, .. }) => format!("{now} → {then} open of {of}"),
        ChangeKind::Seal(Seal { fraction, .. }) => format!("{} of its opening closed", show::percent(*fraction)),
        ChangeKind::OtherCoilState(OtherCoilState { element, factor }) => {
            let by = if job.is_inside(*element) {
                "by the table".to_owned()
            } else {
                format!("{} times its drop", show::trimmed(*factor, 2))
            };
            format!("{}, {by}", other_state(job))
        }
        ChangeKind::PanelOff(PanelOff { area: open }) => format!("{} open", area(*open, units)),
        ChangeKind::OtherMachine(new) => machine(job, new, units),
        ChangeKind::OtherTap(_) | ChangeKind::OtherCall(_) => return None,
        ChangeKind::BelowTable(BelowTable { factor }) => format!("{} of its table's airflow", show::percent(*factor)),
    })
}

/// What the coil is then, and what it was while it was read.
pub fn other_state(job: &Job) -> &'static str {
    if job.set().coil == CoilState::Wet { "dry instead of wet" } else { "wet instead of dry" }
}

fn machine(job: &Job, new: &Replacement, units: UnitSystem) -> String {
    let word = new.table.motor.tap_word();
    let tap = match &new.tap {
        Some(tap) => format!("{word} {tap}"),
        None => format!("{word} by its call"),
    };
    let mut said = vec![new.table.name.clone(), tap];
    let names: Vec<String> = new.leaves.iter().filter_map(|id| Some(job.path.name_of(*id)?.to_lowercase())).collect();
    if !names.is_empty() {
        said.push(format!("leaves: {}", names.join(", ")));
    }
    let data = [("coil", &new.coil), ("filter", &new.filter)];
    said.extend(data.iter().filter_map(|(what, data)| Some(format!("{what} {}", drop_data(data.as_ref()?, units)))));
    said.join("; ")
}

fn from_to(now: &str, then: &str) -> String {
    format!("{now} → {then}")
}

fn area(area: Area, units: UnitSystem) -> String {
    show::area(area, units)
}

fn opening(opening: &Opening, units: UnitSystem) -> String {
    format!("{}, {} free", area(opening.face, units), show::percent(opening.free_area))
}

fn section_and_wall(run: &Run, units: UnitSystem) -> String {
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

fn drop_data(data: &DropData, units: UnitSystem) -> String {
    let points = data
        .points()
        .iter()
        .map(|(airflow, drop)| format!("{} at {}", show::pressure(*drop, units), show::airflow(*airflow, units)));
    points.collect::<Vec<_>>().join(", ")
}
