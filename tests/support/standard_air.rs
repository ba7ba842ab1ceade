//! The air in which drops are published.

use tapcross::model::facts::air::{AirConditions, DRY_AIR_GAS_CONSTANT};
use tapcross::units::{Barometer, Density, Temperature};

/// Dry air of 70 °F that weighs just 0.075 lb/ft³: p = ρ·R·T.
pub(crate) fn standard_air() -> AirConditions {
    let temperature = Temperature::from_f(70.0);
    let kpa = Density::STANDARD.kg_m3() * DRY_AIR_GAS_CONSTANT * (temperature.c() + 273.15) / 1000.0;
    let station_pressure = Some(Barometer::from_kpa(kpa));
    AirConditions { temperature, humidity: 0.0, station_pressure, ..AirConditions::default() }
}
