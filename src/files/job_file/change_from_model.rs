//! From a job's changes to the file's own types.

use crate::model::facts::blower::BlowerTable;
use crate::model::facts::change::{
    BelowTable, ByData, Change, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters,
    Opening, OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Seal, SecondReturn,
};
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;

use super::change_dto::{ChangeDto, OpeningDto, RunDto, SectionDto, WallDto, WhatDto};
use super::common::{DropDto, percent_of};

/// Tables of the machines that changes put on the ducts, in the order of those changes.
pub(super) fn machines(changes: &[Change]) -> impl Iterator<Item = &BlowerTable> {
    changes.iter().filter_map(|change| match &change.kind {
        ChangeKind::OtherMachine(new) => Some(&new.table),
        _ => None,
    })
}

/// One change of a list; another machine is named by its number among [`machines`].
pub(super) fn change(change: &Change, all: &[Change]) -> ChangeDto {
    ChangeDto {
        id: change.id.0,
        switch: change.switch,
        price: change.price,
        note: change.note.clone(),
        what: what(&change.kind, all),
    }
}

fn what(kind: &ChangeKind, all: &[Change]) -> WhatDto {
    match kind {
        ChangeKind::LessByHand(LessByHand { element, fraction }) => {
            let (fraction_percent, fraction) = percent_of(*fraction);
            WhatDto::LessByHand { element: element.0, fraction_percent, fraction }
        }
        ChangeKind::CleanCoil(CleanCoil { element, fraction }) => {
            let (fraction_percent, fraction) = percent_of(*fraction);
            WhatDto::CleanCoil { element: element.0, fraction_percent, fraction }
        }
        ChangeKind::RepairRun(RepairRun { element, fraction }) => {
            let (fraction_percent, fraction) = percent_of(*fraction);
            WhatDto::RepairRun { element: element.0, fraction_percent, fraction }
        }
        ChangeKind::ByData(ByData { element, data }) => {
            WhatDto::PartByData { element: element.0, drop: DropDto::from(data) }
        }
        ChangeKind::MoreFilterArea(MoreFilterArea { element, now, then }) => {
            WhatDto::MoreFilterArea { element: element.0, now_in2: now.in2(), then_in2: then.in2() }
        }
        ChangeKind::FilterLoading(FilterLoading { element, factor }) => {
            WhatDto::FilterLoading { element: element.0, factor: *factor }
        }
        ChangeKind::OtherDuct(OtherDuct { element, now, then }) => {
            WhatDto::OtherDuct { element: element.0, now: run(now), then: run(then) }
        }
        ChangeKind::SecondReturn(SecondReturn { run: new, grille, filter }) => {
            WhatDto::SecondReturn { run: run(new), grille: opening(grille), filter: filter.as_ref().map(DropDto::from) }
        }
        ChangeKind::OtherOpening(OtherOpening { element, now, then }) => {
            WhatDto::OtherOpening { element: element.0, now: opening(now), then: opening(then) }
        }
        ChangeKind::OpenRegisters(OpenRegisters { element, now, then, of }) => {
            WhatDto::OpenRegisters { element: element.0, now: *now, then: *then, of: *of }
        }
        ChangeKind::Seal(Seal { element, fraction }) => {
            let (fraction_percent, fraction) = percent_of(*fraction);
            WhatDto::Seal { element: element.0, fraction_percent, fraction }
        }
        ChangeKind::OtherCoilState(OtherCoilState { element, factor }) => {
            WhatDto::OtherCoilState { element: element.0, factor: *factor }
        }
        ChangeKind::PanelOff(PanelOff { area }) => WhatDto::PanelOff { area_in2: area.in2() },
        ChangeKind::OtherCall(OtherCall { call }) => WhatDto::OtherCall { call: *call },
        ChangeKind::OtherMachine(new) => WhatDto::OtherMachine {
            machine: machines(all).position(|table| std::ptr::eq(table, &raw const new.table)).unwrap_or_default() + 1,
            tap: new.tap.clone(),
            leaves: new.leaves.iter().map(|id| id.0).collect(),
            coil: new.coil.as_ref().map(DropDto::from),
            filter: new.filter.as_ref().map(DropDto::from),
            target: new.target.map(Into::into),
        },
        ChangeKind::OtherTap(OtherTap { tap }) => WhatDto::OtherTap { tap: tap.clone() },
        ChangeKind::BelowTable(BelowTable { factor }) => WhatDto::BelowTable { factor: *factor },
    }
}

fn run(run: &Run) -> RunDto {
    RunDto {
        section: match run.section {
            Section::Round { diameter } => SectionDto::Round { diameter_in: diameter.inches() },
            Section::Rectangular { width, height } => {
                SectionDto::Rectangular { width_in: width.inches(), height_in: height.inches() }
            }
            Section::FlatOval { major, minor } => {
                SectionDto::FlatOval { major_in: major.inches(), minor_in: minor.inches() }
            }
        },
        length_ft: run.length.ft(),
        wall: wall(run.wall),
        fittings: run.fittings,
    }
}

/// A stiff wall is named by the first material of its roughness.
fn wall(wall: Wall) -> WallDto {
    let roughness = match wall {
        Wall::Flexible { compression } => {
            let (compression_percent, compression) = percent_of(compression);
            return WallDto::Flexible { compression_percent, compression };
        }
        Wall::Stiff(roughness) => roughness,
    };
    match Material::ALL.into_iter().find(|material| Wall::from(*material) == wall) {
        Some(Material::Galvanized) => WallDto::Galvanized,
        Some(Material::GalvanizedManyJoints) => WallDto::GalvanizedManyJoints,
        Some(Material::Plastic) => WallDto::Plastic,
        Some(Material::Aluminium) => WallDto::Aluminium,
        Some(Material::DuctBoard) => WallDto::DuctBoard,
        Some(Material::LinedFaced) => WallDto::LinedFaced,
        Some(Material::LinedCoated) => WallDto::LinedCoated,
        Some(Material::Flexible) | None => WallDto::Rough { roughness_in: roughness.inches() },
    }
}

fn opening(opening: &Opening) -> OpeningDto {
    let (free_area_percent, free_area) = percent_of(opening.free_area);
    OpeningDto { face_in2: opening.face.in2(), free_area_percent, free_area }
}
