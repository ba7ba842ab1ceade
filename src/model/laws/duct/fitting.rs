//! Losses of fittings: loss coefficients by formula, and from them the drop.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::velocity_pressure::velocity_pressure;
use crate::units::{Pressure, Velocity};

/// Loss coefficient of an abrupt end into a room or plenum: all velocity pressure is lost.
pub const ABRUPT_EXIT: f64 = 1.0;
/// Loss coefficient of a sharp-edged flush entrance (Rennels and Hudson 2012, as `fluids` 1.3.1 gives it; the handbooks' 0.50 is recalled).
pub const SHARP_ENTRANCE: f64 = 0.57;

/// Drop of a fitting, `Δp_t = C·p_v`, on the velocity that C refers to.
///
/// Source: the handbook; Table 14 section 3: C = 0.58 + 1.67 at 72 Pa is 162 Pa.
///
/// # Errors
/// A coefficient below 0 or over 1,000.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, fitting::fitting_drop, velocity_pressure::velocity_of};
/// use tapcross::units::Pressure;
/// let velocity = velocity_of(Pressure::from_pa(72.0), DuctAir::STANDARD);
/// let drop = fitting_drop(0.58 + 1.67, velocity, DuctAir::STANDARD).unwrap();
/// assert!((drop.pa() - 162.0).abs() < 1e-9);
/// ```
pub fn fitting_drop(coefficient: f64, velocity: Velocity, air: DuctAir) -> Result<Pressure, InputError> {
    given::LOSS_COEFFICIENT.check(coefficient)?;
    Ok(velocity_pressure(velocity, air) * coefficient)
}

/// The loss coefficient that fits measured pairs of velocity pressure and drop best, `C = Σ(p_v·Δp)/Σ(p_v²)`.
///
/// `None` without a pair whose velocity pressure is above zero.
/// Source: the handbook, Table 6: four pairs of a terminal box give 1.67.
///
/// ```
/// use tapcross::model::laws::duct::fitting::coefficient_through;
/// use tapcross::units::Pressure;
/// let pa = Pressure::from_pa;
/// let pairs = [(15.6, 26.1), (31.9, 53.4), (62.5, 104.5), (103.3, 173.0)].map(|(v, p)| (pa(v), pa(p)));
/// assert!((coefficient_through(&pairs).unwrap() - 1.67).abs() < 0.01);
/// ```
pub fn coefficient_through(pairs: &[(Pressure, Pressure)]) -> Option<f64> {
    let squares: f64 = pairs.iter().map(|(velocity, _)| velocity.in_wc() * velocity.in_wc()).sum();
    let products: f64 = pairs.iter().map(|(velocity, drop)| velocity.in_wc() * drop.in_wc()).sum();
    (squares > 0.0 && products.is_finite()).then(|| products / squares)
}

/// Loss coefficient of a smooth round bend, its own friction included.
///
/// `K = f·α·r/D + (0.10 + 2.4·f)·sin(α/2) + 6.6·f·(√sin(α/2) + sin(α/2)) / (r/D)^(4α/π)`
///
/// f is the Darcy friction factor of the duct, α the angle in radians (`angle` in degrees, above 0 to 180), r/D the radius over diameter (0.5 to 20).
/// Source: D. C. Rennels and H. M. Hudson, *Pipe Flow*, 2012, as `fluids` 1.3.1 has it.
///
/// # Errors
/// An angle or a radius out of range.
pub fn round_bend(angle: f64, radius_over_diameter: f64, friction_factor: f64) -> Result<f64, InputError> {
    let radius = given::BEND_RADIUS.check(radius_over_diameter)?;
    let angle = given::BEND_ANGLE.check(angle)?.to_radians();
    let half = (0.5 * angle).sin();
    let rubbed = friction_factor * angle * radius;
    let swirled = 2.4_f64.mul_add(friction_factor, 0.10) * half;
    let torn = 6.6 * friction_factor * (half.sqrt() + half) / radius.powf(4.0 * angle / std::f64::consts::PI);
    Ok(rubbed + swirled + torn)
}

/// Loss coefficient of a mitred elbow without vanes, `K = 0.42·sin(α/2) + 2.56·sin³(α/2)`.
///
/// α is the angle in degrees, above 0 to 180 (the formula is meant up to 150). Source: Rennels and Hudson 2012.
///
/// # Errors
/// An angle out of range.
///
/// ```
/// let coefficient = tapcross::model::laws::duct::fitting::mitred_elbow(90.0).unwrap();
/// assert!((coefficient - 1.202_081_5).abs() < 1e-6);
/// ```
pub fn mitred_elbow(angle: f64) -> Result<f64, InputError> {
    let half = (0.5 * given::BEND_ANGLE.check(angle)?.to_radians()).sin();
    Ok(0.42f64.mul_add(half, 2.56 * half.powi(3)))
}

/// Loss coefficient of a sharp contraction, on the velocity after it.
///
/// `K = 0.0696·(1 − β⁵)·λ² + (λ − 1)²`, `λ = 1 + 0.622·(1 − 0.215·β² − 0.785·β⁵)`; β is the smaller over the larger diameter.
/// Source: Rennels and Hudson 2012.
///
/// # Errors
/// A β that is not above 0 and at most 1.
///
/// ```
/// let coefficient = tapcross::model::laws::duct::fitting::sharp_contraction(0.5).unwrap();
/// assert!((coefficient - 0.495_580_5).abs() < 1e-6);
/// ```
pub fn sharp_contraction(diameter_ratio: f64) -> Result<f64, InputError> {
    let beta = given::DIAMETER_RATIO.check(diameter_ratio)?;
    let fifth = beta.powi(5);
    let jet = 0.622f64.mul_add(1.0 - 0.215 * beta * beta - 0.785 * fifth, 1.0);
    Ok(0.0696f64.mul_add((1.0 - fifth) * jet * jet, (jet - 1.0) * (jet - 1.0)))
}

/// Loss coefficient of a sharp enlargement, on the velocity before it, `K = (1 − β²)²` (Borda and Carnot).
///
/// β is the smaller over the larger diameter, above 0 to 1.
///
/// # Errors
/// A β out of range.
pub fn sharp_enlargement(diameter_ratio: f64) -> Result<f64, InputError> {
    let beta = given::DIAMETER_RATIO.check(diameter_ratio)?;
    Ok((1.0 - beta * beta) * (1.0 - beta * beta))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_of_no_size_loses_nothing() {
        assert!(sharp_contraction(1.0).unwrap().abs() < 1e-15);
        assert!(sharp_enlargement(1.0).unwrap().abs() < 1e-15);
    }

    #[test]
    fn a_gentler_bend_loses_less_until_friction_takes_over() {
        let bend = |radius| round_bend(90.0, radius, 0.018).unwrap();
        assert!(bend(0.5) > bend(1.0) && bend(1.0) > bend(1.5));
        assert!(bend(20.0) > bend(2.0));
        assert_eq!(
            round_bend(90.0, 0.3, 0.018).unwrap_err().to_string(),
            "Bend radius over diameter cannot be 0.3; it must be between 0.5 and 20"
        );
    }

    #[test]
    fn measured_pairs_without_velocity_give_no_coefficient() {
        assert_eq!(coefficient_through(&[]), None);
        assert_eq!(coefficient_through(&[(Pressure::ZERO, Pressure::from_pa(3.0))]), None);
    }
}
