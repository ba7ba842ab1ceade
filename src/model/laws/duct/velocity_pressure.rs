//! Velocity pressure, and the way between total and static.

use crate::model::laws::duct::air_properties::DuctAir;
use crate::units::{PA_PER_IN_WC, Pressure, Velocity};

/// Pressure that the air's speed is worth, `p_v = ρ·V²/2`.
///
/// ρ in kg/m³, V in m/s, `p_v` in Pa. Source: the handbook.
/// In trade units `p_v = (V/4008.55)²` for standard air; the better known 4005 belongs to the inch of water at 68 °F.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, velocity_pressure::velocity_pressure};
/// use tapcross::units::Velocity;
/// let one_inch = velocity_pressure(Velocity::from_fpm(4008.551), DuctAir::STANDARD);
/// assert!((one_inch.in_wc() - 1.0).abs() < 1e-6);
/// ```
#[inline]
pub fn velocity_pressure(velocity: Velocity, air: DuctAir) -> Pressure {
    Pressure::from_pa(0.5 * air.density().kg_m3() * velocity.m_s() * velocity.m_s())
}

/// The velocity that has a velocity pressure (zero or above; below zero there is none and it gives zero), `V = √(2·p_v/ρ)`.
pub fn velocity_of(velocity_pressure: Pressure, air: DuctAir) -> Velocity {
    Velocity::from_m_s((2.0 * velocity_pressure.pa().max(0.0) / air.density().kg_m3()).sqrt())
}

/// The velocity whose velocity pressure is one inch of water: 4,008.55 fpm in standard air.
pub fn velocity_of_one_inch(air: DuctAir) -> Velocity {
    Velocity::from_m_s((2.0 * PA_PER_IN_WC / air.density().kg_m3()).sqrt())
}

/// Total pressure from static, `p_t = p_s + p_v`. Source: the handbook.
pub fn total(static_pressure: Pressure, velocity: Velocity, air: DuctAir) -> Pressure {
    static_pressure + velocity_pressure(velocity, air)
}

/// Static pressure from total, `p_s = p_t − p_v`. Source: the handbook.
pub fn static_of(total_pressure: Pressure, velocity: Velocity, air: DuctAir) -> Pressure {
    total_pressure - velocity_pressure(velocity, air)
}

/// What two static ports along the flow show of a drop in total pressure: `Δp_s = Δp_t − p_v1 + p_v2`.
///
/// A widening (second velocity below the first) gives static back, so that the result may be negative.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, velocity_pressure::static_drop};
/// use tapcross::units::{Pressure, Velocity};
/// let (trunk, plenum) = (Velocity::from_fpm(1200.0), Velocity::from_fpm(400.0));
/// assert!(static_drop(Pressure::from_in_wc(0.02), trunk, plenum, DuctAir::STANDARD) < Pressure::ZERO);
/// ```
pub fn static_drop(total_drop: Pressure, first: Velocity, second: Velocity, air: DuctAir) -> Pressure {
    total_drop - velocity_pressure(first, air) + velocity_pressure(second, air)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn total_and_static_are_each_others_way_back() {
        let (velocity, air) = (Velocity::from_fpm(900.0), DuctAir::STANDARD);
        let read = Pressure::from_in_wc(-0.31);
        let back = static_of(total(read, velocity, air), velocity, air);
        assert!((back - read).abs().in_wc() < 1e-15);
        assert!((velocity_of(velocity_pressure(velocity, air), air) - velocity).abs().fpm() < 1e-9);
        assert!((velocity_of_one_inch(air).fpm() - 4008.551).abs() < 1e-3);
    }
}
