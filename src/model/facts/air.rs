//! Moist air at the blower: pressure from altitude, density from pressure, temperature and humidity.
//!
//! Source of every relation: ASHRAE Handbook—Fundamentals 2021, ch. 1 Psychrometrics (perfect gas relations; equations 3, 5, 6, 20, 26), held against PsychroLib 2.5.0 and CoolProp 8.0.0 in the published checks.

use crate::model::facts::blower::{Call, EquipmentKind};
use crate::units::{Altitude, Barometer, Density, Temperature};

/// Gas constant of dry air, J/(kg·K): 8314.472 / 28.966 (ch. 1 eq. 1).
pub const DRY_AIR_GAS_CONSTANT: f64 = 8314.472 / 28.966;
/// Ratio of the molar masses of water and dry air (ch. 1 eq. 20).
pub const WATER_TO_AIR_MASS: f64 = 0.621_945;
/// Temperature behind a draw-through cooling coil (common practice, no source).
pub const LEAVING_COIL_TEMPERATURE: Temperature = Temperature::from_f(55.0);
/// Relative humidity behind a draw-through cooling coil (common practice, no source).
pub const LEAVING_COIL_HUMIDITY: f64 = 0.90;
/// Most that the weather moves the barometer about the standard atmosphere, as a fraction (common practice, no source).
pub const WEATHER_SWING: f64 = 0.05;

/// State of the air as a person gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirConditions {
    /// Height of the house above the sea.
    pub altitude: Altitude,
    /// Pressure read at the place itself; decides over the altitude where given.
    pub station_pressure: Option<Barometer>,
    /// Temperature of the return air.
    pub temperature: Temperature,
    /// Relative humidity of the return air, 0 to 1.
    pub humidity: f64,
}

impl Default for AirConditions {
    fn default() -> Self {
        Self {
            altitude: Altitude::ZERO,
            station_pressure: None,
            temperature: Temperature::from_f(70.0),
            humidity: 0.50,
        }
    }
}

/// Pressure of the standard atmosphere, `101.325·(1 − 2.25577e-5·Z)^5.2559` kPa with Z in metres (ch. 1 eq. 3).
///
/// Valid from −5,000 m to 11,000 m.
pub fn standard_pressure(altitude: Altitude) -> Barometer {
    Barometer::from_kpa(101.325 * (1.0 - 2.255_77e-5 * altitude.m()).powf(5.2559))
}

/// Saturation pressure of water vapour in pascals over ice or water (ch. 1 eqs. 5 and 6, Hyland and Wexler).
///
/// Valid from −100 °C to 200 °C.
pub fn saturation_pressure_pa(temperature: Temperature) -> f64 {
    let kelvin = temperature.c() + 273.15;
    let logarithm = if temperature.c() <= 0.01 {
        -5.674_535_9e3 / kelvin + 6.392_524_7 - 9.677_843e-3 * kelvin
            + 6.221_570_1e-7 * kelvin.powi(2)
            + 2.074_782_5e-9 * kelvin.powi(3)
            - 9.484_024e-13 * kelvin.powi(4)
            + 4.163_501_9 * kelvin.ln()
    } else {
        -5.800_220_6e3 / kelvin + 1.391_499_3 - 4.864_023_9e-2 * kelvin + 4.176_476_8e-5 * kelvin.powi(2)
            - 1.445_209_3e-8 * kelvin.powi(3)
            + 6.545_967_3 * kelvin.ln()
    };
    logarithm.exp()
}

/// Humidity ratio, kg of water a kg of dry air, `0.621945·p_w / (p − p_w)` (ch. 1 eq. 20).
pub fn humidity_ratio(temperature: Temperature, humidity: f64, pressure: Barometer) -> f64 {
    let vapour = humidity * saturation_pressure_pa(temperature);
    WATER_TO_AIR_MASS * vapour / (pressure.kpa() * 1000.0 - vapour)
}

/// Density of moist air, `(1 + W) / v` with `v = R·T·(1 + W/0.621945) / p` (ch. 1 eq. 26).
///
/// `humidity` is relative, 0 to 1.
pub fn moist_density(temperature: Temperature, humidity: f64, pressure: Barometer) -> Density {
    let ratio = humidity_ratio(temperature, humidity, pressure);
    let kelvin = temperature.c() + 273.15;
    let volume = DRY_AIR_GAS_CONSTANT * kelvin * (1.0 + ratio / WATER_TO_AIR_MASS) / (pressure.kpa() * 1000.0);
    Density::from_kg_m3((1.0 + ratio) / volume)
}

/// The air that the blower breathes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlowerAir {
    /// Pressure of the place.
    pub pressure: Barometer,
    /// Density at the blower's inlet.
    pub density: Density,
    /// True when the blower stands behind a cold coil, whose leaving air is assumed.
    pub behind_cold_coil: bool,
}

impl AirConditions {
    /// Pressure of the place: the station's where read, else the standard atmosphere's.
    pub fn pressure(&self) -> Barometer {
        self.station_pressure.unwrap_or_else(|| standard_pressure(self.altitude))
    }

    /// Air at the blower's inlet for a call: the return's, or about 55 °F at 90 % behind a draw-through coil that cools.
    pub fn at_blower(&self, kind: EquipmentKind, call: Call) -> BlowerAir {
        let behind_cold_coil = kind == EquipmentKind::DrawThroughAirHandler && call.is_cooling();
        let (temperature, humidity) = if behind_cold_coil {
            (LEAVING_COIL_TEMPERATURE, LEAVING_COIL_HUMIDITY)
        } else {
            (self.temperature, self.humidity)
        };
        let pressure = self.pressure();
        BlowerAir { pressure, density: moist_density(temperature, humidity, pressure), behind_cold_coil }
    }

    /// True when the station pressure looks like the weather service's sea-level figure typed at a height.
    ///
    /// The sign: it is further from the standard atmosphere of the altitude than weather goes, and within weather's reach of sea level.
    pub fn looks_like_sea_level_pressure(&self) -> bool {
        let Some(station) = self.station_pressure else {
            return false;
        };
        let here = station / standard_pressure(self.altitude) - 1.0;
        let at_sea = station / standard_pressure(Altitude::ZERO) - 1.0;
        here > WEATHER_SWING && at_sea.abs() <= WEATHER_SWING
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn damp_air_is_lighter_than_dry_air() {
        let pressure = standard_pressure(Altitude::ZERO);
        let warm = Temperature::from_f(75.0);
        assert!(moist_density(warm, 0.9, pressure) < moist_density(warm, 0.0, pressure));
    }

    #[test]
    fn a_draw_through_blower_breathes_the_cold_coils_air() {
        let air = AirConditions::default();
        let cold = air.at_blower(EquipmentKind::DrawThroughAirHandler, Call::CoolingHigh);
        let heating = air.at_blower(EquipmentKind::DrawThroughAirHandler, Call::HeatingHigh);
        let furnace = air.at_blower(EquipmentKind::Furnace, Call::CoolingHigh);
        assert!(cold.behind_cold_coil && cold.density > heating.density);
        assert!(!furnace.behind_cold_coil);
    }

    #[test]
    fn the_weather_services_figure_is_recognised_in_the_mountains() {
        let typed = AirConditions {
            altitude: Altitude::from_ft(5280.0),
            station_pressure: Some(Barometer::from_in_hg(29.92)),
            ..AirConditions::default()
        };
        assert!(typed.looks_like_sea_level_pressure());
        let true_station = AirConditions { station_pressure: Some(Barometer::from_in_hg(24.7)), ..typed };
        assert!(!true_station.looks_like_sea_level_pressure());
    }
}
