//! The same part in other air: density, viscosity, and warm supply air.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::system_curve::PowerLaw;

/// Factor on a coefficient from one air to another, `(ρ₂/ρ₁)^(n−1)·(μ₂/μ₁)^(2−n)`.
///
/// A square law (n = 2) follows density, a laminar filter (n = 1) viscosity. `exponent` is 1 to 2.2.
/// Source: dimensional analysis of `Δp ~ ρ·V²·Re^(n−2)`; the program's model §5.
///
/// # Errors
/// An exponent out of range.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, between_conditions::coefficient_factor};
/// use tapcross::units::{Density, Viscosity};
/// let here = DuctAir::new(Density::from_lb_ft3(0.075), Viscosity::from_pa_s(1.8e-5)).unwrap();
/// let high = DuctAir::new(Density::from_lb_ft3(0.060), Viscosity::from_pa_s(1.8e-5)).unwrap();
/// assert!((coefficient_factor(here, high, 2.0).unwrap() - 0.8).abs() < 1e-12);
/// assert!((coefficient_factor(here, high, 1.0).unwrap() - 1.0).abs() < 1e-12);
/// ```
pub fn coefficient_factor(from: DuctAir, to: DuctAir, exponent: f64) -> Result<f64, InputError> {
    let exponent = given::EXPONENT.check(exponent)?;
    let density = to.density() / from.density();
    let viscosity = to.viscosity() / from.viscosity();
    Ok(density.powf(exponent - 1.0) * viscosity.powf(2.0 - exponent))
}

/// A power law brought from one air to another.
///
/// # Errors
/// An exponent out of range.
pub fn law_in(law: PowerLaw, from: DuctAir, to: DuctAir) -> Result<PowerLaw, InputError> {
    let factor = coefficient_factor(from, to, law.exponent)?;
    Ok(PowerLaw { coefficient: law.coefficient * factor, ..law })
}

/// Factor on a supply element's drop when the supply air is warmer than the blower's, at a given **blower** airflow: `ρ_blower/ρ_supply·(μ_supply/μ_blower)^(2−n)`.
///
/// The mass flow is the same, so the warm volume is larger by `ρ_blower/ρ_supply`; with the coefficient's own factor the power of density comes to −1 for every n.
/// Source: [`coefficient_factor`] and the mass balance; the program's model §5.
///
/// # Errors
/// An exponent out of range.
///
/// ```
/// use tapcross::model::laws::duct::{air_properties::DuctAir, between_conditions::supply_factor};
/// use tapcross::units::{Density, Viscosity};
/// let blower = DuctAir::new(Density::from_lb_ft3(0.075), Viscosity::from_pa_s(1.81e-5)).unwrap();
/// let supply = DuctAir::new(Density::from_lb_ft3(0.0675), Viscosity::from_pa_s(1.93e-5)).unwrap();
/// assert!((supply_factor(blower, supply, 2.0).unwrap() - 0.075 / 0.0675).abs() < 1e-12);
/// ```
pub fn supply_factor(blower: DuctAir, supply: DuctAir, exponent: f64) -> Result<f64, InputError> {
    let exponent = given::EXPONENT.check(exponent)?;
    let viscosity = supply.viscosity() / blower.viscosity();
    Ok(blower.density() / supply.density() * viscosity.powf(2.0 - exponent))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air::standard_pressure;
    use crate::model::facts::duct::material::Material;
    use crate::model::facts::duct::run::Run;
    use crate::model::facts::duct::section::Section;
    use crate::units::{Airflow, Altitude, Dimension, Length, Temperature};

    fn air(fahrenheit: f64, feet: f64) -> DuctAir {
        DuctAir::at(Temperature::from_f(fahrenheit), 0.2, standard_pressure(Altitude::from_ft(feet))).unwrap()
    }

    #[test]
    fn the_supply_factor_is_the_coefficients_with_the_larger_volume() {
        let (blower, supply) = (air(70.0, 0.0), air(130.0, 0.0));
        for exponent in [1.0, 1.5, 1.83, 2.0, 2.2] {
            let volume = (blower.density() / supply.density()).powf(exponent);
            let long_way = coefficient_factor(blower, supply, exponent).unwrap() * volume;
            assert!((supply_factor(blower, supply, exponent).unwrap() / long_way - 1.0).abs() < 1e-12);
        }
        assert!(supply_factor(blower, supply, 3.0).is_err());
    }

    #[test]
    fn the_power_law_follows_darcy_and_colebrook_into_thin_air() {
        let section = Section::round(Dimension::from_in(14.0));
        let run = Run::straight(section, Length::from_ft(50.0), Material::Galvanized);
        let airflow = Airflow::from_cfm(1100.0);
        let (sea, hills) = (air(70.0, 0.0), air(55.0, 5280.0));
        let low = run.drop_at(airflow, sea).unwrap();
        let high = run.drop_at(airflow, hills).unwrap().total();
        let by_law = low.total() * coefficient_factor(sea, hills, low.exponent()).unwrap();
        assert!((by_law / high - 1.0).abs() < 0.002, "{by_law:?} by the law, {high:?} by Colebrook");
    }
}
