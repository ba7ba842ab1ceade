//! A run of duct as a person states it: straight length, wall and the fittings in it.

use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::duct::section::Section;
use crate::model::facts::numbers::duct as given;
use crate::units::{Dimension, Length};

/// The wall that the air rubs on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wall {
    /// A stiff duct of a roughness.
    Stiff(Dimension),
    /// Flexible duct, compressed by a fraction of its extended length (0 to 0.3).
    Flexible {
        /// 0 when pulled tight; the handbook's Example 6 takes 0.04, 0.15 and 0.30.
        compression: f64,
    },
}

impl From<Material> for Wall {
    /// The wall of a material; flexible duct pulled tight.
    fn from(material: Material) -> Self {
        if material == Material::Flexible {
            return Self::Flexible { compression: 0.0 };
        }
        Self::Stiff(material.roughness())
    }
}

impl Wall {
    /// Roughness for Colebrook's equation.
    pub const fn roughness(self) -> Dimension {
        match self {
            Self::Stiff(roughness) => roughness,
            Self::Flexible { .. } => Material::Flexible.roughness(),
        }
    }
}

/// A run of duct of one section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Cross-section.
    pub section: Section,
    /// Straight length, as installed.
    pub length: Length,
    /// Its wall.
    pub wall: Wall,
    /// Sum of the loss coefficients of its fittings, on the run's own velocity pressure.
    pub fittings: f64,
}

impl Run {
    /// A straight run without fittings.
    pub fn straight(section: Section, length: Length, wall: impl Into<Wall>) -> Self {
        Self { section, length, wall: wall.into(), fittings: 0.0 }
    }

    /// The same run with another section.
    #[must_use]
    pub const fn with_section(self, section: Section) -> Self {
        Self { section, ..self }
    }

    /// The run itself when its numbers make sense.
    ///
    /// # Errors
    /// Names the first that does not.
    pub fn checked(self) -> Result<Self, InputError> {
        self.section.checked()?;
        given::RUN_LENGTH.check(self.length.ft())?;
        given::LOSS_COEFFICIENT.check(self.fittings)?;
        given::ROUGHNESS.check(self.wall.roughness().inches())?;
        if let Wall::Flexible { compression } = self.wall {
            given::COMPRESSION.check(compression)?;
        }
        given::RELATIVE_ROUGHNESS.check(self.wall.roughness() / self.section.equivalent_diameter())?;
        Ok(self)
    }
}
