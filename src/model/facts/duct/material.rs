//! Duct materials and the roughness of their walls.

use crate::units::Dimension;

/// What a duct's inner wall is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Material {
    /// Galvanized steel, round or rectangular, ordinary joints.
    #[default]
    Galvanized,
    /// Galvanized steel with joints every 2½ ft.
    GalvanizedManyJoints,
    /// Smooth plastic pipe.
    Plastic,
    /// Aluminium, round, slip joints.
    Aluminium,
    /// Flexible duct, fully extended; compression is counted apart.
    Flexible,
    /// Rigid fibrous glass duct board.
    DuctBoard,
    /// Fibrous glass liner with a facing.
    LinedFaced,
    /// Fibrous glass liner, spray coated.
    LinedCoated,
}

/// How well a figure is founded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Founded {
    /// Read in a copy or a public transcription of the source.
    Read(&'static str),
    /// Recalled, not held against the source's text.
    Recalled(&'static str),
}

impl Founded {
    /// The words for a screen or a report.
    pub fn words(self) -> String {
        match self {
            Self::Read(source) => source.to_owned(),
            Self::Recalled(source) => format!("{source}, recalled and not held against its text"),
        }
    }
}

impl Material {
    /// Every material, in the order of a list to choose from.
    pub const ALL: [Self; 8] = [
        Self::Galvanized,
        Self::Flexible,
        Self::DuctBoard,
        Self::LinedFaced,
        Self::LinedCoated,
        Self::GalvanizedManyJoints,
        Self::Aluminium,
        Self::Plastic,
    ];

    /// Name on the screen.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Galvanized => "Galvanized steel",
            Self::GalvanizedManyJoints => "Galvanized steel, joints every 2½ ft",
            Self::Plastic => "Smooth plastic",
            Self::Aluminium => "Aluminum, slip joints",
            Self::Flexible => "Flexible duct",
            Self::DuctBoard => "Duct board",
            Self::LinedFaced => "Lined, faced liner",
            Self::LinedCoated => "Lined, spray-coated liner",
        }
    }

    /// Absolute roughness ε for Colebrook's equation.
    pub const fn roughness(self) -> Dimension {
        Dimension::from_ft(match self {
            Self::Galvanized => 0.0003,
            Self::GalvanizedManyJoints => 0.0005,
            Self::Plastic | Self::Aluminium => 0.000_15,
            Self::Flexible | Self::DuctBoard => 0.003,
            Self::LinedFaced => 0.005,
            Self::LinedCoated => 0.01,
        })
    }

    /// Where the roughness comes from.
    pub const fn founded(self) -> Founded {
        match self {
            Self::Galvanized | Self::GalvanizedManyJoints | Self::Plastic | Self::Aluminium | Self::Flexible => {
                Founded::Read("ASHRAE Handbook—Fundamentals 2021, ch. 21 Table 1, by a public transcription")
            }
            Self::DuctBoard | Self::LinedFaced | Self::LinedCoated => {
                Founded::Recalled("ASHRAE Handbook—Fundamentals, ch. 21 Table 1")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_listed_once_and_says_where_it_comes_from() {
        for material in Material::ALL {
            assert_eq!(Material::ALL.iter().filter(|other| **other == material).count(), 1);
            assert!(material.founded().words().contains("ASHRAE"));
            assert!(material.roughness() > Dimension::ZERO && material.roughness().mm() < 3.1);
        }
    }
}
