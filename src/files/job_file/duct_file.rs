//! Runs of duct and openings in the file, both ways.

use serde::{Deserialize, Serialize};
use serde_with::{As, serde_as};

use crate::model::facts::change::Opening;
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::units::{Area, Dimension, Length};

use super::common::{given_once, percent_of};
use super::error::Misfit;
use crate::files::quantities::{Feet, Inches};

/// A run of duct.
#[serde_as]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RunDto {
    #[serde(with = "SectionDto")]
    section: Section,
    #[serde_as(as = "Feet")]
    length_ft: Length,
    wall: WallDto,
    fittings: f64,
}

/// A cross-section.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "Section")]
enum SectionDto {
    Round {
        #[serde(rename = "diameter_in", with = "As::<Inches>")]
        diameter: Dimension,
    },
    Rectangular {
        #[serde(rename = "width_in", with = "As::<Inches>")]
        width: Dimension,
        #[serde(rename = "height_in", with = "As::<Inches>")]
        height: Dimension,
    },
    FlatOval {
        #[serde(rename = "major_in", with = "As::<Inches>")]
        major: Dimension,
        #[serde(rename = "minor_in", with = "As::<Inches>")]
        minor: Dimension,
    },
}

/// A wall, by its material where one has that roughness.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
enum WallDto {
    Galvanized,
    GalvanizedManyJoints,
    Plastic,
    Aluminium,
    DuctBoard,
    LinedFaced,
    LinedCoated,
    Flexible {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        compression_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        compression: Option<f64>,
    },
    Rough {
        roughness_in: f64,
    },
}

/// A grille's or register's face.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OpeningDto {
    face_in2: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    free_area_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    free_area: Option<f64>,
}

/// The run that the file gives.
pub(super) fn run(dto: &RunDto) -> Result<Run, Misfit> {
    Ok(Run { section: dto.section, length: dto.length_ft, wall: wall(&dto.wall)?, fittings: dto.fittings })
}

fn wall(dto: &WallDto) -> Result<Wall, Misfit> {
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
            compression: given_once(["compression_percent", "compression"], compression_percent, compression)?,
        },
    })
}

/// The opening that the file gives.
pub(super) fn opening(dto: &OpeningDto) -> Result<Opening, Misfit> {
    let free_area = given_once(["free_area_percent", "free_area"], dto.free_area_percent, dto.free_area)?;
    Ok(Opening { face: Area::from_in2(dto.face_in2), free_area })
}

/// A run for the file.
pub(super) fn run_dto(run: &Run) -> RunDto {
    RunDto { section: run.section, length_ft: run.length, wall: wall_dto(run.wall), fittings: run.fittings }
}

/// A stiff wall is named by the first material of its roughness.
fn wall_dto(wall: Wall) -> WallDto {
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

/// An opening for the file.
pub(super) fn opening_dto(opening: &Opening) -> OpeningDto {
    let (free_area_percent, free_area) = percent_of(opening.free_area);
    OpeningDto { face_in2: opening.face.in2(), free_area_percent, free_area }
}
