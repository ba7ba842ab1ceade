//! Grilles, registers and filter grilles: face velocity, free area, loss.

use crate::model::facts::drop_data::SQUARE_LAW;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::velocity_pressure::velocity_pressure;
use crate::model::laws::system_curve::PowerLaw;
use crate::units::{Airflow, Area, Pressure, Velocity};

/// Velocity through a gross face, `V = Q/A`.
///
/// # Errors
/// An airflow below zero or a face without area.
///
/// ```
/// use tapcross::model::laws::duct::opening::face_velocity;
/// use tapcross::units::{Airflow, Area};
/// let velocity = face_velocity(Airflow::from_cfm(700.0), Area::from_in2(600.0)).unwrap();
/// assert!((velocity.fpm() - 168.0).abs() < 1e-9);
/// ```
pub fn face_velocity(airflow: Airflow, face: Area) -> Result<Velocity, InputError> {
    given::AIRFLOW.check(airflow.cfm())?;
    given::FACE_AREA.check(face.in2())?;
    Ok(Velocity::of(airflow, face))
}

/// Velocity in the free area, `V = Q/(a·A)`.
///
/// # Errors
/// As [`face_velocity`], and a free area that is not above 0 and at most 1.
pub fn free_velocity(airflow: Airflow, face: Area, free_area: f64) -> Result<Velocity, InputError> {
    let free = given::FREE_AREA.check(free_area)?;
    Ok(face_velocity(airflow, face)? / free)
}

/// Loss coefficient of a bare grille or perforated face with square edges, on the **face** velocity.
///
/// `K = (0.5·(1 − a) + (1 − a²)) / a²`; a is free area over face area, above 0 to 1.
/// For want of the maker's data only: bars, blades, a damper behind it or a filter in it lose more.
/// Source: R. D. Blevins, *Applied Fluid Dynamics Handbook*, 1984, as `fluids` 1.3.1 has it.
///
/// # Errors
/// A free area out of range.
///
/// ```
/// let coefficient = tapcross::model::laws::duct::opening::grille_coefficient(0.5).unwrap();
/// assert!((coefficient - 4.0).abs() < 1e-12);
/// ```
pub fn grille_coefficient(free_area: f64) -> Result<f64, InputError> {
    let free = given::FREE_AREA.check(free_area)?;
    Ok(0.5f64.mul_add(1.0 - free, 1.0 - free * free) / (free * free))
}

/// Drop of a grille or register, `Δp = K·ρ·V²/2` with V on the face.
///
/// # Errors
/// A number out of range.
pub fn opening_drop(airflow: Airflow, face: Area, coefficient: f64, air: DuctAir) -> Result<Pressure, InputError> {
    given::LOSS_COEFFICIENT.check(coefficient)?;
    Ok(velocity_pressure(face_velocity(airflow, face)?, air) * coefficient)
}

/// The same as a square law of the airflow.
///
/// # Errors
/// A number out of range.
pub fn opening_law(face: Area, coefficient: f64, air: DuctAir) -> Result<PowerLaw, InputError> {
    let unit = Airflow::from_cfm(1000.0);
    Ok(PowerLaw::through(unit, opening_drop(unit, face, coefficient, air)?, SQUARE_LAW))
}

/// Discharge coefficient of a sharp-edged hole (0.60 to 0.61 in every handbook of fluid mechanics; recalled from memory).
pub const SHARP_EDGED: f64 = 0.60;

/// Square law of a sharp-edged hole, `Q = C_d·A·√(2Δp/ρ)`, that is `Δp = (1/C_d²)·ρV²/2`.
///
/// # Errors
/// An area that is not above zero.
pub fn orifice_law(area: Area, air: DuctAir) -> Result<PowerLaw, InputError> {
    opening_law(area, 1.0 / (SHARP_EDGED * SHARP_EDGED), air)
}

/// Gross face with which a grille of a loss coefficient just keeps to an allowed drop, `A = Q/√(2·Δp/(ρ·K))`.
///
/// # Errors
/// A number out of range; the coefficient must be above zero.
pub fn face_for_drop(airflow: Airflow, coefficient: f64, allowed: Pressure, air: DuctAir) -> Result<Area, InputError> {
    let cfm = given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    given::ALLOWED_DROP.check(allowed.in_wc())?;
    if coefficient <= 0.0 {
        return Err(InputError::OutOfRange(OutOfRange { number: &given::COEFFICIENT, value: coefficient }));
    }
    given::LOSS_COEFFICIENT.check(coefficient)?;
    let velocity = super::velocity_pressure::velocity_of(allowed / coefficient, air);
    Ok(Area::from_ft2(cfm / velocity.fpm()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::duct::section::face_area;
    use crate::units::Dimension;

    #[test]
    fn a_face_that_is_all_free_loses_nothing() {
        assert!(grille_coefficient(1.0).unwrap().abs() < 1e-15);
        assert!(grille_coefficient(0.0).is_err() && grille_coefficient(1.1).is_err());
    }

    #[test]
    fn the_face_found_loses_what_is_allowed() {
        let (airflow, allowed, air) = (Airflow::from_cfm(900.0), Pressure::from_in_wc(0.02), DuctAir::STANDARD);
        let face = face_for_drop(airflow, 4.0, allowed, air).unwrap();
        assert!((opening_drop(airflow, face, 4.0, air).unwrap() / allowed - 1.0).abs() < 1e-12);
        let law = opening_law(face, 4.0, air).unwrap();
        assert!((law.coefficient * 900.0 * 900.0 / allowed.in_wc() - 1.0).abs() < 1e-12);
        assert!(face_for_drop(airflow, 0.0, allowed, air).is_err());
    }

    #[test]
    fn a_face_without_a_side_is_refused_in_words() {
        let error = face_area(Dimension::from_in(20.0), Dimension::ZERO).unwrap_err();
        assert_eq!(error.to_string(), "Face height cannot be 0 in; it must be above 0 and at most 100 in");
        let twenty = Dimension::from_in(20.0);
        assert!((face_area(twenty, twenty).unwrap().in2() - 400.0).abs() < 1e-12);
        let half = free_velocity(Airflow::from_cfm(100.0), Area::from_ft2(1.0), 0.5).unwrap();
        assert!((half.fpm() - 200.0).abs() < 1e-12);
    }
}
