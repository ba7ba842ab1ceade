//! Cross-sections of ducts: round, rectangular, flat oval.

use std::f64::consts::PI;

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::units::{Airflow, Area, Dimension, Velocity};

/// A duct's cross-section, inside measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// Round.
    Round {
        /// Inside diameter.
        diameter: Dimension,
    },
    /// Rectangular.
    Rectangular {
        /// One side.
        width: Dimension,
        /// The other side.
        height: Dimension,
    },
    /// Two half circles and two straight sides.
    FlatOval {
        /// Long axis over all.
        major: Dimension,
        /// Short axis: the diameter of the half circles.
        minor: Dimension,
    },
}

/// Gross area of a face, `width × height`.
///
/// # Errors
/// A side that is not above 0 and at most 100 in.
pub fn face_area(width: Dimension, height: Dimension) -> Result<Area, InputError> {
    given::FACE_WIDTH.check(width.inches())?;
    given::FACE_HEIGHT.check(height.inches())?;
    Ok(Area::of(width, height))
}

impl Section {
    /// A round duct.
    pub const fn round(diameter: Dimension) -> Self {
        Self::Round { diameter }
    }

    /// A rectangular duct.
    pub const fn rectangular(width: Dimension, height: Dimension) -> Self {
        Self::Rectangular { width, height }
    }

    /// A flat oval duct.
    pub const fn flat_oval(major: Dimension, minor: Dimension) -> Self {
        Self::FlatOval { major, minor }
    }

    /// The section itself when its sizes make a duct (above 0, at most 100 in., the oval's axes in their order).
    ///
    /// # Errors
    /// Names the size that is wrong.
    pub fn checked(self) -> Result<Self, InputError> {
        match self {
            Self::Round { diameter } => {
                given::DIAMETER.check(diameter.inches())?;
            }
            Self::Rectangular { width, height } => {
                given::WIDTH.check(width.inches())?;
                given::HEIGHT.check(height.inches())?;
            }
            Self::FlatOval { major, minor } => {
                given::MAJOR_AXIS.check(major.inches())?;
                given::MINOR_AXIS.check(minor.inches())?;
                if minor > major {
                    return Err(InputError::AxesSwapped { major, minor });
                }
            }
        }
        Ok(self)
    }

    /// Cross-section: π·D²/4, a·b, or π·a²/4 + a·(A − a) of the flat oval (the handbook, eqs. 26 to 28).
    pub fn area(self) -> Area {
        match self {
            Self::Round { diameter } => Area::from_in2(PI / 4.0 * diameter.inches() * diameter.inches()),
            Self::Rectangular { width, height } => Area::of(width, height),
            Self::FlatOval { major, minor } => {
                let straight = major - minor;
                Area::from_in2(minor.inches() * (PI / 4.0).mul_add(minor.inches(), straight.inches()))
            }
        }
    }

    /// Length of the wall around: π·D, 2·(a + b), or π·a + 2·(A − a) of the flat oval (the handbook, eqs. 26 to 28).
    pub fn perimeter(self) -> Dimension {
        match self {
            Self::Round { diameter } => diameter * PI,
            Self::Rectangular { width, height } => (width + height) * 2.0,
            Self::FlatOval { major, minor } => minor * PI + (major - minor) * 2.0,
        }
    }

    /// Hydraulic diameter, `D_h = 4·A/P`.
    pub fn hydraulic_diameter(self) -> Dimension {
        Dimension::from_in(4.0 * self.area().in2() / self.perimeter().inches())
    }

    /// The round duct that loses as much at the same **airflow** and length.
    ///
    /// Rectangular: `D_e = 1.30·(a·b)^0.625 / (a + b)^0.25` (the handbook, eq. 25, Huebscher).
    /// Flat oval: `D_e = 1.55·A^0.625 / P^0.25` (eqs. 26 to 28, Heyt and Diaz).
    /// Meant for aspect ratios up to 8. It is not the hydraulic diameter, and the velocity in it is not the duct's.
    ///
    /// ```
    /// use tapcross::model::facts::duct::section::Section;
    /// use tapcross::units::Dimension;
    /// // Table 3: 500 × 300 mm is 420 mm
    /// let duct = Section::rectangular(Dimension::from_mm(500.0), Dimension::from_mm(300.0));
    /// assert!((duct.equivalent_diameter().mm() - 420.0).abs() < 0.6);
    /// ```
    pub fn equivalent_diameter(self) -> Dimension {
        match self {
            Self::Round { diameter } => diameter,
            Self::Rectangular { width, height } => {
                let (area, half) = (Area::of(width, height).in2(), (width + height).inches());
                Dimension::from_in(1.30 * area.powf(0.625) / half.sqrt().sqrt())
            }
            Self::FlatOval { .. } => {
                let around = self.perimeter().inches();
                Dimension::from_in(1.55 * self.area().in2().powf(0.625) / around.sqrt().sqrt())
            }
        }
    }

    /// Mean velocity in the duct itself.
    pub fn velocity(self, airflow: Airflow) -> Velocity {
        Velocity::of(airflow, self.area())
    }

    /// Mean velocity in the round duct of equal friction, which friction is worked with.
    pub fn equivalent_velocity(self, airflow: Airflow) -> Velocity {
        Self::round(self.equivalent_diameter()).velocity(airflow)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_oval_without_straight_sides_is_nearly_the_round_duct() {
        let ten = Dimension::from_in(10.0);
        let (oval, round) = (Section::flat_oval(ten, ten), Section::round(ten));
        assert!((oval.area().in2() - round.area().in2()).abs() < 1e-12);
        assert!((oval.hydraulic_diameter() - ten).abs().inches() < 1e-12);
        // 1.55·(π/4)^0.625/π^0.25 = 1.0012: the published constant is rounded.
        assert!((oval.equivalent_diameter() / ten - 1.0).abs() < 0.002);
    }

    #[test]
    fn sizes_that_make_no_duct_are_refused_in_words() {
        let inches = Dimension::from_in;
        let cases = [
            (Section::round(inches(0.0)), "Duct diameter cannot be 0 in; it must be above 0 and at most 100 in"),
            (Section::round(inches(400.0)), "Duct diameter cannot be 400 in; it must be above 0 and at most 100 in"),
            (
                Section::rectangular(inches(10.0), inches(-8.0)),
                "Duct height cannot be −8 in; it must be above 0 and at most 100 in",
            ),
            (
                Section::flat_oval(inches(8.0), inches(10.0)),
                "The oval duct's short axis of 10 in is longer than its long axis of 8 in; swap the two",
            ),
        ];
        for (section, sentence) in cases {
            assert_eq!(section.checked().unwrap_err().to_string(), sentence);
        }
    }
}
