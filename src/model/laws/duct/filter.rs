//! Filters: media area, and the drop of more or less of the same media.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::duct::section::face_area;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::system_curve::PowerLaw;
use crate::units::{Area, Dimension, Pressure};

/// A filter's outer measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilterSize {
    /// Width of the face.
    pub width: Dimension,
    /// Height of the face.
    pub height: Dimension,
    /// Depth along the flow.
    pub depth: Dimension,
}

/// Area of pleated media behind a face, `A = 2·(face/pitch)·√(depth² + (pitch/2)²)` per unit of face.
///
/// Each pleat has two flat sides; `pleat_pitch` is the distance from pleat to pleat, `pleat_depth` the pleats' own depth.
/// Geometry; frames, glue and the folds' rounding take some of it away.
///
/// # Errors
/// A size that is not above 0 and at most 100 in.
///
/// ```
/// use tapcross::model::laws::duct::filter::pleated_media_area;
/// use tapcross::units::{Area, Dimension};
/// let inches = Dimension::from_in;
/// // 4 in. pleats an inch apart: eight times the face
/// let media = pleated_media_area(Area::from_in2(400.0), inches(4.0), inches(1.0)).unwrap();
/// assert!((media.in2() - 400.0 * 8.062).abs() < 1.0);
/// ```
pub fn pleated_media_area(face: Area, pleat_depth: Dimension, pleat_pitch: Dimension) -> Result<Area, InputError> {
    given::FACE_AREA.check(face.in2())?;
    let depth = given::PLEAT_DEPTH.check(pleat_depth.inches())?;
    let pitch = given::PLEAT_PITCH.check(pleat_pitch.inches())?;
    Ok(face * (2.0 / pitch * depth.hypot(0.5 * pitch)))
}

/// Drop with another area of the same media at the same airflow, `Δp₂ = Δp₁·(A₁/A₂)ⁿ`.
///
/// `exponent` is 1 to 2.2; the areas are media areas, or faces of filters of equal depth and pleat.
/// Source: power law in the velocity through the media.
///
/// # Errors
/// A number out of range.
///
/// ```
/// use tapcross::model::laws::duct::filter::drop_with_area;
/// use tapcross::units::{Area, Pressure};
/// let (now, then) = (Area::from_in2(400.0), Area::from_in2(500.0));
/// let drop = drop_with_area(Pressure::from_in_wc(0.28), now, then, 1.5).unwrap();
/// assert!((drop.in_wc() - 0.200_351_7).abs() < 1e-7);
/// ```
pub fn drop_with_area(drop: Pressure, now: Area, then: Area, exponent: f64) -> Result<Pressure, InputError> {
    given::READ_DROP.check(drop.in_wc())?;
    Ok(drop * area_factor(now, then, exponent)?)
}

/// The factor on a coefficient when the same media gets another area, `(A₁/A₂)ⁿ`.
///
/// # Errors
/// A number out of range.
pub fn area_factor(now: Area, then: Area, exponent: f64) -> Result<f64, InputError> {
    let now = given::MEDIA_AREA.check(now.in2())?;
    let then = given::MEDIA_AREA.check(then.in2())?;
    Ok((now / then).powf(given::EXPONENT.check(exponent)?))
}

/// A filter's law with another area of the same media.
///
/// # Errors
/// A number out of range.
pub fn law_with_area(law: PowerLaw, now: Area, then: Area) -> Result<PowerLaw, InputError> {
    let factor = area_factor(now, then, law.exponent)?;
    Ok(PowerLaw { coefficient: law.coefficient * factor, ..law })
}

/// The factor when one filter takes another's place, by their faces: only between filters of equal depth.
///
/// # Errors
/// A size out of range, or [`InputError::OtherDepth`]: more depth holds more media than the face tells.
pub fn face_factor(now: FilterSize, then: FilterSize, exponent: f64) -> Result<f64, InputError> {
    let faces = (face_area(now.width, now.height)?, face_area(then.width, then.height)?);
    if (now.depth - then.depth).abs() > Dimension::from_in(0.01) {
        return Err(InputError::OtherDepth { now: now.depth, then: then.depth });
    }
    area_factor(faces.0, faces.1, exponent)
}

/// Area of the same media that just keeps to an allowed drop, `A₂ = A₁·(Δp₁/Δp₂)^(1/n)`.
///
/// # Errors
/// A number out of range.
pub fn area_for_drop(drop: Pressure, now: Area, allowed: Pressure, exponent: f64) -> Result<Area, InputError> {
    let ratio = given::READ_DROP.check(drop.in_wc())? / given::ALLOWED_DROP.check(allowed.in_wc())?;
    given::MEDIA_AREA.check(now.in2())?;
    let exponent = given::EXPONENT.check(exponent)?;
    Ok(Area::from_in2(given::MEDIA_AREA.check(now.in2() * ratio.powf(1.0 / exponent))?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filter(width: f64, depth: f64) -> FilterSize {
        let inches = Dimension::from_in;
        FilterSize { width: inches(width), height: inches(25.0), depth: inches(depth) }
    }

    #[test]
    fn a_deeper_filter_is_not_judged_by_its_face() {
        assert!((face_factor(filter(16.0, 1.0), filter(20.0, 1.0), 1.0).unwrap() - 0.8).abs() < 1e-15);
        assert_eq!(
            face_factor(filter(16.0, 1.0), filter(16.0, 4.0), 1.2).unwrap_err().to_string(),
            "A filter 4 in deep cannot be judged from one 1 in deep by its face area; give its own drop data"
        );
    }

    #[test]
    fn the_area_found_drops_what_is_allowed() {
        let (drop, allowed) = (Pressure::from_in_wc(0.28), Pressure::from_in_wc(0.1));
        let now = Area::from_in2(400.0);
        let then = area_for_drop(drop, now, allowed, 1.2).unwrap();
        assert!((drop_with_area(drop, now, then, 1.2).unwrap() / allowed - 1.0).abs() < 1e-12);
        assert!(drop_with_area(drop, now, Area::ZERO, 1.2).is_err());
        assert!(drop_with_area(drop, now, then, 2.3).is_err());
    }

    #[test]
    fn a_law_with_more_media_keeps_its_exponent() {
        let law = PowerLaw { coefficient: 2e-4, exponent: 1.0 };
        let more = law_with_area(law, Area::from_in2(400.0), Area::from_in2(800.0)).unwrap();
        assert!((more.coefficient - 1e-4).abs() < 1e-18 && (more.exponent - 1.0).abs() < 1e-15);
    }
}
