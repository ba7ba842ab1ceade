//! Friction of straight ducts: Darcy–Weisbach with Colebrook's friction factor.

use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::velocity_pressure::velocity_pressure;
use crate::units::{Dimension, FrictionRate, M_PER_FT, Velocity};

/// Reynolds number up to which the flow is laminar.
pub const LAMINAR_UP_TO: f64 = 2300.0;
/// Reynolds number from which Colebrook's equation holds (its usual lower end, as the Moody chart draws it).
pub const TURBULENT_FROM: f64 = 4000.0;
/// Relative size of the last step at which Colebrook's equation counts as solved.
const SOLVED: f64 = 1e-13;
/// Newton's steps at most; four are enough everywhere in the tested grid.
const MOST_STEPS: usize = 20;
/// 2/ln 10: the factor of the equation written with natural logarithms.
const TWO_OVER_LN_10: f64 = 2.0 / std::f64::consts::LN_10;

/// A friction factor and how it moves with the Reynolds number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    /// Darcy friction factor f.
    pub factor: f64,
    /// d ln f / d ln Re.
    pub log_slope: f64,
}

impl Friction {
    /// Exponent n with which the drop of a straight duct follows the airflow just here, `n = 2 + d ln f/d ln Re`.
    ///
    /// 1 in laminar flow, 1.78 to 1.85 in galvanized house ducts, near 2 in rough ones; above 2 only between laminar and turbulent.
    pub fn exponent(self) -> f64 {
        2.0 + self.log_slope
    }
}

/// Darcy friction factor by Colebrook's equation, solved to a relative 1e-13.
///
/// `1/√f = −2·log10(ε/(3.7·D) + 2.51/(Re·√f))`
///
/// Re is the Reynolds number (above 0; meant for 4,000 and more), `relative_roughness` is ε/D (0 to 0.05).
/// Starts from the explicit formula of Swamee and Jain and takes Newton's steps in 1/√f.
/// Source: the handbook, eqs. 18 to 21; C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133. Held against `fluids` 1.3.1.
///
/// ```
/// use tapcross::model::laws::duct::friction::colebrook;
/// // fluids 1.3.1: Colebrook(Re=1E5, eD=1E-4) = 0.018513866077471648
/// assert!((colebrook(1e5, 1e-4) - 0.018_513_866_077_471_65).abs() < 1e-15);
/// ```
#[inline]
pub fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    let root = inverse_root(reynolds, relative_roughness);
    1.0 / (root * root)
}

/// 1/√f by Colebrook's equation.
#[inline]
fn inverse_root(reynolds: f64, relative_roughness: f64) -> f64 {
    let rough = relative_roughness / 3.7;
    let smooth = 2.51 / reynolds;
    let mut root = -TWO_OVER_LN_10 * (rough + 5.74 / reynolds.powf(0.9)).ln();
    for _ in 0..MOST_STEPS {
        let inside = smooth.mul_add(root, rough);
        let off = TWO_OVER_LN_10.mul_add(inside.ln(), root);
        let step = off / (1.0 + TWO_OVER_LN_10 * smooth / inside);
        root -= step;
        if step.abs() <= SOLVED * root {
            break;
        }
    }
    root
}

/// Friction factor in any flow, with its slope.
///
/// Re ≤ 2,300: `f = 64/Re`. Re ≥ 4,000: [`colebrook`]. Between the two nobody knows: a straight line in Re from 64/2,300 to Colebrook's value at 4,000, so that the drop goes on rising with airflow without a jump (the program's own rule, no source; ducts of houses run at 10,000 and more).
/// Re must be above zero.
///
/// ```
/// use tapcross::model::laws::duct::friction::friction;
/// assert!((friction(1000.0, 0.0).factor - 0.064).abs() < 1e-15);
/// ```
#[inline]
pub fn friction(reynolds: f64, relative_roughness: f64) -> Friction {
    if reynolds <= LAMINAR_UP_TO {
        return Friction { factor: 64.0 / reynolds, log_slope: -1.0 };
    }
    if reynolds >= TURBULENT_FROM {
        return turbulent(reynolds, relative_roughness);
    }
    between(reynolds, relative_roughness)
}

#[inline]
fn turbulent(reynolds: f64, relative_roughness: f64) -> Friction {
    let root = inverse_root(reynolds, relative_roughness);
    let smooth = 2.51 / reynolds;
    let share = TWO_OVER_LN_10 * smooth / smooth.mul_add(root, relative_roughness / 3.7);
    Friction { factor: 1.0 / (root * root), log_slope: -2.0 * share / (1.0 + share) }
}

fn between(reynolds: f64, relative_roughness: f64) -> Friction {
    let laminar = 64.0 / LAMINAR_UP_TO;
    let slope = (colebrook(TURBULENT_FROM, relative_roughness) - laminar) / (TURBULENT_FROM - LAMINAR_UP_TO);
    let factor = slope.mul_add(reynolds - LAMINAR_UP_TO, laminar);
    Friction { factor, log_slope: slope * reynolds / factor }
}

/// Friction rate of a straight round duct by Darcy and Weisbach, `Δp/L = f/D · ρ·V²/2`.
///
/// D and L in m, V in m/s, ρ in kg/m³, Δp in Pa. D above zero, V zero or above; zero velocity loses nothing.
/// Source: the handbook, eqs. 18 to 21.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, friction::friction_rate};
/// use tapcross::units::{Dimension, Velocity};
/// // 400 cfm in 10 in. galvanized duct: 0.0853429 in. w.c. a hundred feet by fluids 1.3.1
/// let (diameter, roughness) = (Dimension::from_in(10.0), Dimension::from_ft(0.0003));
/// let rate = friction_rate(diameter, Velocity::from_fpm(733.386), roughness, DuctAir::STANDARD);
/// assert!((rate.in_wc_100ft() / 0.085_342_9 - 1.0).abs() < 1e-5);
/// ```
#[inline]
pub fn friction_rate(diameter: Dimension, velocity: Velocity, roughness: Dimension, air: DuctAir) -> FrictionRate {
    rate_and_exponent(diameter, velocity, roughness, air).0
}

/// [`friction_rate`] with the exponent that holds there.
#[inline]
pub(super) fn rate_and_exponent(
    diameter: Dimension,
    velocity: Velocity,
    roughness: Dimension,
    air: DuctAir,
) -> (FrictionRate, f64) {
    let reynolds = diameter.m() * velocity.m_s() / air.kinematic_viscosity();
    if reynolds <= 0.0 {
        return (FrictionRate::ZERO, 1.0);
    }
    let here = friction(reynolds, roughness / diameter);
    let per_metre = here.factor / diameter.m() * velocity_pressure(velocity, air).in_wc();
    (FrictionRate::from_in_wc_100ft(per_metre * 100.0 * M_PER_FT), here.exponent())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colebrooks_equation_holds_at_what_is_given_for_it() {
        for reynolds in [4000.0, 1e4, 6e4, 3e5, 1e7] {
            for rough in [0.0, 1e-7, 1e-5, 1e-3, 0.01, 0.05] {
                let root = colebrook(reynolds, rough).sqrt();
                let right = -2.0 * (rough / 3.7 + 2.51 / (reynolds * root)).log10();
                assert!((1.0 / root / right - 1.0).abs() < 1e-12, "Re {reynolds}, roughness {rough}");
            }
        }
    }

    #[test]
    fn the_factor_has_no_jump_where_the_flow_changes() {
        for rough in [0.0, 1e-4, 0.01, 0.05] {
            for edge in [LAMINAR_UP_TO, TURBULENT_FROM] {
                let (below, above) = (friction(edge * (1.0 - 1e-9), rough), friction(edge * (1.0 + 1e-9), rough));
                assert!((below.factor / above.factor - 1.0).abs() < 1e-7, "at {edge} and {rough}");
            }
        }
    }

    #[test]
    fn the_slope_is_that_of_the_factor() {
        for reynolds in [900.0, 2500.0, 3900.0, 5000.0, 8e4, 1e6] {
            let at = |factor: f64| friction(reynolds * factor, 3.6e-4).factor.ln();
            let numeric = (at(1.0 + 1e-6) - at(1.0 - 1e-6)) / (1e-6_f64.ln_1p() - (-1e-6_f64).ln_1p());
            assert!((friction(reynolds, 3.6e-4).log_slope - numeric).abs() < 1e-6, "at {reynolds}");
        }
    }
}
