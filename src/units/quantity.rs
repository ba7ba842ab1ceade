//! Which quantity a bare number is of: its unit, how it is written and how it is read, in the units chosen.
//!
//! A number of a quantity is one of its stored unit (see [`crate::units`]); a share is a fraction of one.

use crate::units::text::{self, Comma, TextError};
use crate::units::{
    Airflow, Altitude, Area, Barometer, Capacity, Density, Dimension, FrictionRate, HeatRate, Length, Power, Pressure,
    Temperature, TemperatureRise, UnitSystem, Velocity, Voltage, show,
};

/// What a number is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Static pressure or a drop, in. w.c.
    Pressure,
    /// Airflow, cfm.
    Airflow,
    /// Airflow for each ton of cooling, cfm.
    AirflowPerTon,
    /// Temperature, °F.
    Temperature,
    /// Temperature difference, °F.
    TemperatureRise,
    /// Heat output, Btu/h.
    HeatRate,
    /// Cooling capacity, tons.
    Capacity,
    /// Height above the sea, ft.
    Altitude,
    /// Atmospheric pressure, kPa.
    Barometer,
    /// Electric power, W.
    Power,
    /// Electric power for each unit of airflow, W/cfm.
    PowerPerAirflow,
    /// Supply voltage, V.
    Voltage,
    /// Electric current, A.
    Current,
    /// Turning speed, rpm.
    Speed,
    /// Air density, lb/ft³.
    Density,
    /// Dynamic viscosity, µPa·s.
    Viscosity,
    /// A side or a diameter, in.
    Dimension,
    /// A duct's length, ft.
    Length,
    /// A cross-section or a face, in².
    Area,
    /// Air velocity, fpm.
    Velocity,
    /// Friction along a duct, in. w.c./100 ft.
    FrictionRate,
    /// A share, as a fraction; written in percent.
    Share,
    /// A ratio, an exponent, a coefficient: a number without a unit.
    Ratio,
    /// An angle, degrees.
    Angle,
    /// A time, s.
    Seconds,
    /// A volume of gas, ft³.
    GasVolume,
    /// What a gas gives when it burns, Btu/ft³.
    HeatingValue,
    /// How many there are.
    Count,
    /// A price in a person's own money.
    Money,
    /// A price of a kilowatt-hour in a person's own money.
    EnergyPrice,
    /// Hours of a year.
    HoursAYear,
}

/// Cubic metres of a cubic foot: 0.3048³ (NIST SP 811).
const M3_PER_FT3: f64 = 0.028_316_846_592;
/// MJ/m³ of a Btu/ft³: 1,055.056 J (international table) over that.
const MJ_M3_PER_BTU_FT3: f64 = 0.001_055_056 / M3_PER_FT3;

impl Quantity {
    /// Its unit; empty where it has none.
    pub const fn unit(self, units: UnitSystem) -> &'static str {
        match self {
            Self::Pressure => units.pressure_unit(),
            Self::Airflow => units.airflow_unit(),
            Self::AirflowPerTon => match units {
                UnitSystem::InchPound => "cfm/ton",
                UnitSystem::SiLitres => "L/s/ton",
                UnitSystem::SiCubicMetres => "m³/h/ton",
            },
            Self::Temperature => units.temperature_unit(),
            Self::TemperatureRise => units.rise_unit(),
            Self::HeatRate => units.heat_unit(),
            Self::Capacity => units.capacity_unit(),
            Self::Altitude => units.altitude_unit(),
            Self::Barometer => units.barometer_unit(),
            Self::Power => "W",
            Self::PowerPerAirflow => match units {
                UnitSystem::InchPound => "W/cfm",
                UnitSystem::SiLitres => "W per L/s",
                UnitSystem::SiCubicMetres => "W per m³/h",
            },
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Speed => "rpm",
            Self::Density => units.density_unit(),
            Self::Viscosity => "µPa·s",
            Self::Dimension => units.dimension_unit(),
            Self::Length => units.length_unit(),
            Self::Area => units.area_unit(),
            Self::Velocity => units.velocity_unit(),
            Self::FrictionRate => units.friction_rate_unit(),
            Self::Share => "%",
            Self::Angle => "°",
            Self::Seconds => "s",
            Self::GasVolume => units.pick("ft³", "m³"),
            Self::HeatingValue => units.pick("Btu/ft³", "MJ/m³"),
            Self::EnergyPrice => "per kWh",
            Self::HoursAYear => "h a year",
            Self::Ratio | Self::Count | Self::Money => "",
        }
    }

    /// The number without its unit, as a field shows it.
    pub fn bare(self, value: f64, units: UnitSystem) -> String {
        match self {
            Self::Pressure => show::pressure_exact(Pressure::from_in_wc(value), units),
            Self::Airflow | Self::AirflowPerTon => show::airflow_exact(Airflow::from_cfm(value), units),
            Self::Temperature => show::temperature_bare(Temperature::from_f(value), units),
            Self::TemperatureRise => show::rise_bare(TemperatureRise::from_f(value), units),
            Self::HeatRate => show::heat_bare(HeatRate::from_btuh(value), units),
            Self::Capacity => show::capacity_bare(Capacity::from_tons(value), units),
            Self::Altitude => show::altitude_bare(Altitude::from_ft(value), units),
            Self::Barometer => show::barometer_bare(Barometer::from_kpa(value), units),
            Self::PowerPerAirflow => show::trimmed(value / units.airflow_number(Airflow::from_cfm(1.0)), 3),
            Self::Density => show::density_bare(Density::from_lb_ft3(value), units),
            Self::Dimension => show::dimension_bare(Dimension::from_in(value), units),
            Self::Length => show::length_bare(Length::from_ft(value), units),
            Self::Area => show::area_bare(Area::from_in2(value), units),
            Self::Velocity => show::velocity_bare(Velocity::from_fpm(value), units),
            Self::FrictionRate => show::friction_rate_bare(FrictionRate::from_in_wc_100ft(value), units),
            Self::Share => show::trimmed(value * 100.0, 1),
            Self::GasVolume => show::trimmed(value * units.pick(1.0, M3_PER_FT3), 4),
            Self::HeatingValue => show::trimmed(value * units.pick(1.0, MJ_M3_PER_BTU_FT3), 2),
            Self::Power | Self::Voltage | Self::Current | Self::Speed | Self::Seconds => show::trimmed(value, 1),
            Self::HoursAYear => show::trimmed(value, 0),
            Self::Money => show::trimmed(value, 2),
            Self::Ratio | Self::Angle | Self::Count | Self::Viscosity | Self::EnergyPrice => show::trimmed(value, 4),
        }
    }

    /// The number with its unit.
    pub fn written(self, value: f64, units: UnitSystem) -> String {
        self.with_unit(&self.bare(value, units), units)
    }

    /// A bare text with the unit behind it.
    pub fn with_unit(self, bare: &str, units: UnitSystem) -> String {
        match self.unit(units) {
            "" => bare.to_owned(),
            "°" => format!("{bare}°"),
            unit => format!("{bare} {unit}"),
        }
    }

    /// The number of a typed text; without a unit it is meant in the units shown.
    ///
    /// # Errors
    /// See [`TextError`].
    pub fn typed(self, typed: &str, units: UnitSystem) -> Result<f64, TextError> {
        match self {
            Self::Pressure => text::pressure(typed, units).map(Pressure::in_wc),
            Self::Airflow | Self::AirflowPerTon => text::airflow(typed, units).map(Airflow::cfm),
            Self::Temperature => text::temperature(typed, units).map(Temperature::f),
            Self::TemperatureRise => text::temperature_rise(typed, units).map(TemperatureRise::f),
            Self::HeatRate => text::heat_rate(typed, units).map(HeatRate::btuh),
            Self::Capacity => text::capacity(typed, units).map(Capacity::tons),
            Self::Altitude => text::altitude(typed, units).map(Altitude::ft),
            Self::Barometer => text::barometer(typed, units).map(Barometer::kpa),
            Self::Power => text::power(typed).map(Power::watts),
            Self::Voltage => text::voltage(typed).map(Voltage::volts),
            Self::Dimension => text::dimension(typed, units).map(Dimension::inches),
            Self::Length => text::length(typed, units).map(Length::ft),
            Self::Area => text::area(typed, units).map(Area::in2),
            Self::Velocity => text::velocity(typed, units).map(Velocity::fpm),
            Self::FrictionRate => text::friction_rate(typed, units).map(FrictionRate::in_wc_100ft),
            Self::Share => text::percent(typed),
            Self::GasVolume => {
                let volume = plain(typed, self.unit(units), Comma::Decimal)?;
                Ok(volume / units.pick(1.0, M3_PER_FT3))
            }
            Self::HeatingValue => {
                let value = plain(typed, self.unit(units), units.pick(Comma::Thousands, Comma::Decimal))?;
                Ok(value / units.pick(1.0, MJ_M3_PER_BTU_FT3))
            }
            Self::Density
            | Self::Current
            | Self::PowerPerAirflow
            | Self::Speed
            | Self::Seconds
            | Self::Viscosity
            | Self::Angle
            | Self::Count
            | Self::HoursAYear
            | Self::Money => plain(typed, self.unit(units), Comma::Thousands),
            // Neither has thousands, and many hands type decimals behind a comma.
            Self::Ratio | Self::EnergyPrice => plain(typed, self.unit(units), Comma::Decimal),
        }
    }
}

/// A number that takes no unit but its own.
fn plain(typed: &str, unit: &'static str, comma: Comma) -> Result<f64, TextError> {
    let number = text::number(typed, comma)?;
    let own = number.unit.is_empty() || number.unit == unit;
    if own { Ok(number.value) } else { Err(TextError::WrongUnit { typed: number.unit, takes: unit }) }
}
