//! Density and viscosity of the air in a duct.

use crate::model::facts::air::moist_density;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::units::{Barometer, Density, Dimension, Temperature, Velocity, Viscosity};

/// Kinematic viscosity of the handbook's standard air, m²/s: its Reynolds number is 66.4·D·V with D in mm and V in m/s (ch. 21 eqs. 18 to 21).
pub const STANDARD_KINEMATIC_VISCOSITY: f64 = 1.0 / 66_400.0;
/// Sutherland's constants for air, kg/(m·s·√K) and K (U.S. Standard Atmosphere 1976, eq. 51).
const SUTHERLAND: (f64, f64) = (1.458e-6, 110.4);

/// Air as it flows in a duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctAir {
    density: Density,
    viscosity: Viscosity,
}

impl Default for DuctAir {
    fn default() -> Self {
        Self::STANDARD
    }
}

impl DuctAir {
    /// Standard air of the trade, 0.075 lb/ft³, with the handbook's kinematic viscosity of 1/66,400 m²/s.
    pub const STANDARD: Self = Self {
        density: Density::STANDARD,
        viscosity: Viscosity::from_pa_s(Density::STANDARD.kg_m3() * STANDARD_KINEMATIC_VISCOSITY),
    };

    /// Air of a density (0.02 to 0.15 lb/ft³) and a dynamic viscosity (10 to 40 µPa·s).
    ///
    /// # Errors
    /// Names the one that is out of range.
    pub fn new(density: Density, viscosity: Viscosity) -> Result<Self, InputError> {
        given::DENSITY.check(density.lb_ft3())?;
        given::VISCOSITY.check(viscosity.pa_s() * 1e6)?;
        Ok(Self { density, viscosity })
    }

    /// Moist air of a temperature, relative humidity (0 to 1) and absolute pressure: density by [`moist_density`], viscosity by [`sutherland_viscosity`].
    ///
    /// # Errors
    /// Conditions that give no air a duct could hold.
    pub fn at(temperature: Temperature, humidity: f64, pressure: Barometer) -> Result<Self, InputError> {
        Self::new(moist_density(temperature, humidity, pressure), sutherland_viscosity(temperature))
    }

    /// Mass of a volume.
    pub const fn density(self) -> Density {
        self.density
    }

    /// Dynamic viscosity.
    pub const fn viscosity(self) -> Viscosity {
        self.viscosity
    }

    /// Kinematic viscosity, ν = μ/ρ, in m²/s.
    pub const fn kinematic_viscosity(self) -> f64 {
        self.viscosity.pa_s() / self.density.kg_m3()
    }
}

/// Dynamic viscosity of air by Sutherland's law.
///
/// `μ = 1.458e-6·T^1.5 / (T + 110.4)`, μ in Pa·s, T in K.
/// Valid from 100 K to 1,900 K for dry air at ordinary pressures; the moisture of a house changes it by under 1 % (recalled) and is left out.
/// Source: U.S. Standard Atmosphere 1976, eq. 51; `fluids` 1.3.1 gives 1.8134059e-5 Pa·s at 20 °C.
///
/// ```
/// use tapcross::model::laws::duct::air_properties::sutherland_viscosity;
/// use tapcross::units::Temperature;
/// let viscosity = sutherland_viscosity(Temperature::from_c(20.0));
/// assert!((viscosity.pa_s() - 1.813_405_9e-5).abs() < 1e-12);
/// ```
pub fn sutherland_viscosity(temperature: Temperature) -> Viscosity {
    let kelvin = temperature.c() + 273.15;
    Viscosity::from_pa_s(SUTHERLAND.0 * kelvin * kelvin.sqrt() / (kelvin + SUTHERLAND.1))
}

/// Reynolds number, `Re = D·V/ν`.
///
/// D is the diameter (m), V the mean velocity (m/s), ν the kinematic viscosity (m²/s).
/// Source: the handbook, eqs. 18 to 21; with standard air it is `Re = 66.4·D·V`, D in mm.
///
/// ```
/// use tapcross::model::laws::duct::air_properties::{DuctAir, reynolds};
/// use tapcross::units::{Dimension, Velocity};
/// let number = reynolds(Dimension::from_mm(250.0), Velocity::from_m_s(4.0), DuctAir::STANDARD);
/// assert!((number - 66.4 * 250.0 * 4.0).abs() < 1e-6);
/// ```
pub fn reynolds(diameter: Dimension, velocity: Velocity, air: DuctAir) -> f64 {
    diameter.m() * velocity.m_s() / air.kinematic_viscosity()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::air::standard_pressure;
    use crate::units::Altitude;

    #[test]
    fn warm_and_high_air_is_thinner_and_warm_air_is_stickier() {
        let sea = standard_pressure(Altitude::ZERO);
        let hills = standard_pressure(Altitude::from_ft(5280.0));
        let air = |f, pressure| DuctAir::at(Temperature::from_f(f), 0.3, pressure).unwrap();
        assert!(air(120.0, sea).density() < air(70.0, sea).density());
        assert!(air(70.0, hills).density() < air(70.0, sea).density());
        assert!(air(120.0, sea).viscosity() > air(70.0, sea).viscosity());
    }

    #[test]
    fn air_that_is_none_is_refused_in_words() {
        let error = DuctAir::new(Density::ZERO, Viscosity::from_pa_s(1.8e-5)).unwrap_err();
        assert_eq!(error.to_string(), "Air density cannot be 0.0000 lb/ft³; it must be between 0.02 and 0.15 lb/ft³");
        assert!(DuctAir::new(Density::STANDARD, Viscosity::from_pa_s(f64::NAN)).is_err());
    }
}
