//! From the file's own types to a job's changes.

use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::change::{
    BelowTable, ByData, Change, ChangeId, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea,
    OpenRegisters, Opening, OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun,
    Replacement, Seal, SecondReturn,
};
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::plain_text::one_line;
use crate::units::{Area, Dimension, Length};

use super::change_dto::{ChangeDto, OpeningDto, RunDto, SectionDto, WallDto, WhatDto};
use super::common::{Read, drop_data, one_of};
use super::error::JobFileError;

/// One change; `machines` are the job's tables of other machines.
pub(super) fn change(dto: ChangeDto, machines: &[BlowerTable]) -> Read<Change> {
    let place = place_of_change(ChangeId(dto.id));
    Ok(Change {
        id: ChangeId(dto.id),
        kind: kind(&place, dto.what, machines)?,
        switch: dto.switch,
        price: dto.price,
        note: one_line(&dto.note),
    })
}

/// How sentences name a change.
pub(super) fn place_of_change(id: ChangeId) -> String {
    format!("Change {}", id.0)
}

fn kind(place: &str, what: WhatDto, machines: &[BlowerTable]) -> Read<ChangeKind> {
    let taken = |percent, itself| one_of(place, ["fraction_percent", "fraction"], percent, itself);
    Ok(match what {
        WhatDto::LessByHand { element, fraction_percent, fraction } => ChangeKind::LessByHand(LessByHand {
            element: ElementId(element),
            fraction: taken(fraction_percent, fraction)?,
        }),
        WhatDto::CleanCoil { element, fraction_percent, fraction } => ChangeKind::CleanCoil(CleanCoil {
            element: ElementId(element),
            fraction: taken(fraction_percent, fraction)?,
        }),
        WhatDto::RepairRun { element, fraction_percent, fraction } => ChangeKind::RepairRun(RepairRun {
            element: ElementId(element),
            fraction: taken(fraction_percent, fraction)?,
        }),
        WhatDto::PartByData { element, drop } => {
            ChangeKind::ByData(ByData { element: ElementId(element), data: drop_data(place, &drop)? })
        }
        WhatDto::MoreFilterArea { element, now_in2, then_in2 } => ChangeKind::MoreFilterArea(MoreFilterArea {
            element: ElementId(element),
            now: Area::from_in2(now_in2),
            then: Area::from_in2(then_in2),
        }),
        WhatDto::FilterLoading { element, factor } => {
            ChangeKind::FilterLoading(FilterLoading { element: ElementId(element), factor })
        }
        WhatDto::OtherDuct { element, now, then } => ChangeKind::OtherDuct(OtherDuct {
            element: ElementId(element),
            now: run(place, &now)?,
            then: run(place, &then)?,
        }),
        WhatDto::SecondReturn { run: new, grille, filter } => ChangeKind::SecondReturn(SecondReturn {
            run: run(place, &new)?,
            grille: opening(place, &grille)?,
            filter: filter.map(|drop| drop_data(place, &drop)).transpose()?,
        }),
        WhatDto::OtherOpening { element, now, then } => ChangeKind::OtherOpening(OtherOpening {
            element: ElementId(element),
            now: opening(place, &now)?,
            then: opening(place, &then)?,
        }),
        WhatDto::OpenRegisters { element, now, then, of } => {
            ChangeKind::OpenRegisters(OpenRegisters { element: ElementId(element), now, then, of })
        }
        WhatDto::Seal { element, fraction_percent, fraction } => {
            ChangeKind::Seal(Seal { element: ElementId(element), fraction: taken(fraction_percent, fraction)? })
        }
        WhatDto::OtherCoilState { element, factor } => {
            ChangeKind::OtherCoilState(OtherCoilState { element: ElementId(element), factor })
        }
        WhatDto::PanelOff { area_in2 } => ChangeKind::PanelOff(PanelOff { area: Area::from_in2(area_in2) }),
        WhatDto::OtherCall { call } => ChangeKind::OtherCall(OtherCall { call }),
        WhatDto::OtherMachine { machine, tap, leaves, coil, filter, target } => {
            let table = machine.checked_sub(1).and_then(|index| machines.get(index)).ok_or_else(|| {
                let has = match machines.len() {
                    0 => "other_machines has no table; it needs one for each machine that a change puts on".to_owned(),
                    1 => "other_machines has one table, number 1".to_owned(),
                    count => format!("other_machines has {count} tables, numbers 1 to {count}"),
                };
                JobFileError::value(format!("{place}: machine"), machine, has)
            })?;
            ChangeKind::OtherMachine(Box::new(Replacement {
                table: table.clone(),
                tap: tap.as_deref().map(one_line),
                leaves: leaves.into_iter().map(ElementId).collect(),
                coil: coil.map(|drop| drop_data(place, &drop)).transpose()?,
                filter: filter.map(|drop| drop_data(place, &drop)).transpose()?,
                target: target.map(Into::into),
            }))
        }
        WhatDto::OtherTap { tap } => ChangeKind::OtherTap(OtherTap { tap: one_line(&tap) }),
        WhatDto::BelowTable { factor } => ChangeKind::BelowTable(BelowTable { factor }),
    })
}

fn run(place: &str, dto: &RunDto) -> Read<Run> {
    let inches = Dimension::from_in;
    Ok(Run {
        section: match dto.section {
            SectionDto::Round { diameter_in } => Section::round(inches(diameter_in)),
            SectionDto::Rectangular { width_in, height_in } => {
                Section::rectangular(inches(width_in), inches(height_in))
            }
            SectionDto::FlatOval { major_in, minor_in } => Section::flat_oval(inches(major_in), inches(minor_in)),
        },
        length: Length::from_ft(dto.length_ft),
        wall: wall(place, &dto.wall)?,
        fittings: dto.fittings,
    })
}

fn wall(place: &str, dto: &WallDto) -> Read<Wall> {
    Ok(match *dto {
        WallDto::Galvanized => Material::Galvanized.into(),
        WallDto::GalvanizedManyJoints => Material::GalvanizedManyJoints.into(),
        WallDto::Plastic => Material::Plastic.into(),
        WallDto::Aluminium => Material::Aluminium.into(),
        WallDto::DuctBoard => Material::DuctBoard.into(),
        WallDto::LinedFaced => Material::LinedFaced.into(),
        WallDto::LinedCoated => Material::LinedCoated.into(),
        WallDto::Rough { roughness_in } => Wall::Stiff(Dimension::from_in(roughness_in)),
        WallDto::Flexible { compression_percent, compression } => Wall::Flexible {
            compression: one_of(place, ["compression_percent", "compression"], compression_percent, compression)?,
        },
    })
}

fn opening(place: &str, dto: &OpeningDto) -> Read<Opening> {
    let free = one_of(place, ["free_area_percent", "free_area"], dto.free_area_percent, dto.free_area);
    Ok(Opening { face: Area::from_in2(dto.face_in2), free_area: free? })
}
