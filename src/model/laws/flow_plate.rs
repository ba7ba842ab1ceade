//! A plate or grid in the filter's slot that tells the airflow by the pressure difference across it.

use crate::units::{Airflow, Density, Pressure};

/// Airflow through a plate by its maker's law, `Q = K·Δpⁿ·(ρ₀/ρ)^(1−n)`, in the air that passes it.
///
/// K is the airflow at 1 in. w.c. in standard air, ρ₀ = 0.075 lb/ft³; Δp, above zero, in in. w.c.; n from 0.45 to 1.
/// The density's power is that of any part whose drop goes with Q^(1/n) (dimensional analysis as for a coefficient in other air), the viscosity's left out: a square law follows the root of the density, a laminar mat not at all.
pub fn through(at_one: Airflow, exponent: f64, drop: Pressure, density: Density) -> Airflow {
    at_one * (drop.in_wc().powf(exponent) * (Density::STANDARD / density).powf(1.0 - exponent))
}

/// Airflow without the plate: times the root of the supply plenum's static as it usually is over what it is with the plate in.
///
/// What lies behind the plenum is the same, and follows a square law.
/// Source: ASHRAE 152 and CEC Residential Appendices RA3.3, the correction for supply plenum pressure, recalled from memory.
pub fn without_plate(airflow: Airflow, usual: Pressure, with_plate: Pressure) -> Airflow {
    airflow * (usual / with_plate).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2,500 · √0.16 = 1,000; at 0.06 lb/ft³ by √(0.075/0.06) = 1.118 more; a law of n = 1 goes with the pressure and not with the density.
    #[test]
    fn a_square_law_follows_the_root_of_pressure_and_of_density() {
        let at = |exponent, density| {
            through(Airflow::from_cfm(2_500.0), exponent, Pressure::from_in_wc(0.16), Density::from_lb_ft3(density))
                .cfm()
        };
        assert!((at(0.5, 0.075) - 1_000.0).abs() < 1e-9);
        assert!((at(0.5, 0.060) - 1_118.034).abs() < 1e-3);
        assert!((at(1.0, 0.060) - 400.0).abs() < 1e-9);
    }

    /// 0.25 without, 0.16 with the plate: 5/4 of what passed it.
    #[test]
    fn without_the_plate_more_passes_by_the_root_of_the_plenums_static() {
        let (usual, with) = (Pressure::from_in_wc(0.25), Pressure::from_in_wc(0.16));
        assert!((without_plate(Airflow::from_cfm(1_000.0), usual, with).cfm() - 1_250.0).abs() < 1e-9);
        assert!((without_plate(Airflow::from_cfm(1_000.0), usual, usual).cfm() - 1_000.0).abs() < 1e-9);
    }
}
