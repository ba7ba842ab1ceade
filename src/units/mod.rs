//! Physical quantities that cannot be mixed up, one stored unit each.
//!
//! The stored units are the inch-pound ones of the trade, because blower tables are printed in them and must come back digit for digit.
//! [`text`] reads what people type, [`show`] writes what they see; both know inch-pound and SI.

mod duct;
pub mod quantity;
pub mod show;
pub mod text;

use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

/// Pascals in one inch of water: the conventional inch (water at 4 °C, g = 9.80665 m/s²), 1000 × 9.80665 × 0.0254 × 0.999972.
pub const PA_PER_IN_WC: f64 = 249.088_91;
/// Litres a second in one cubic foot a minute: 0.3048³ / 60 × 1000, exact.
pub const LPS_PER_CFM: f64 = 0.471_947_443_2;
/// Kilograms a cubic metre in one pound a cubic foot: 0.453 592 37 / 0.3048³, exact.
pub const KG_M3_PER_LB_FT3: f64 = 16.018_463_373_960_14;
/// British thermal units an hour in one watt (International Table Btu).
pub const BTUH_PER_WATT: f64 = 3.412_141_633;
/// Metres in one foot, exact.
pub const M_PER_FT: f64 = 0.3048;
/// Watts in one ton of refrigeration (12,000 Btu/h).
pub const W_PER_TON: f64 = 12_000.0 / BTUH_PER_WATT;
/// Metres in one inch, exact.
pub const M_PER_IN: f64 = 0.0254;
/// Kilopascals in one inch of mercury (conventional, 0 °C).
pub const KPA_PER_IN_HG: f64 = 3.386_389;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $of:ident, $get:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a number of ", $unit, ".")]
            pub const fn $of(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("As a number of ", $unit, ".")]
            pub const fn $get(self) -> f64 {
                self.0
            }

            /// The size without the sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The smaller of two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The larger of two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// True for a real, finite number.
            pub const fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self::ZERO, |total, item| total + item)
            }
        }
    };
}

quantity!(
    /// Volume flow of air.
    Airflow, from_cfm, cfm, "cubic feet a minute (cfm)"
);
quantity!(
    /// Pressure difference of moving air: static pressure, a drop, an ESP.
    Pressure, from_in_wc, in_wc, "inches of water column (in. w.c., 249.08891 Pa)"
);
quantity!(
    /// Absolute pressure of the atmosphere at a place.
    Barometer, from_kpa, kpa, "kilopascals absolute (kPa)"
);
quantity!(
    /// A temperature.
    Temperature, from_f, f, "degrees Fahrenheit (°F)"
);
quantity!(
    /// A difference of two temperatures.
    TemperatureRise, from_f, f, "Fahrenheit degrees (°F)"
);
quantity!(
    /// Mass of a volume of air.
    Density, from_lb_ft3, lb_ft3, "pounds a cubic foot (lb/ft³)"
);
quantity!(
    /// Electric power.
    Power, from_watts, watts, "watts (W)"
);
quantity!(
    /// Heat in a time: output of a furnace or an electric heater.
    HeatRate, from_btuh, btuh, "British thermal units an hour (Btu/h)"
);
quantity!(
    /// Cooling capacity.
    Capacity, from_tons, tons, "tons of refrigeration (12,000 Btu/h)"
);
quantity!(
    /// Height above the sea.
    Altitude, from_ft, ft, "feet (ft)"
);
quantity!(
    /// Turning speed of the wheel.
    Speed, from_rpm, rpm, "turns a minute (rpm)"
);
quantity!(
    /// Electric tension of the supply.
    Voltage, from_volts, volts, "volts (V)"
);
quantity!(
    /// A side or a diameter: of a duct, a grille, a filter; also a wall's roughness.
    Dimension, from_in, inches, "inches (in)"
);
quantity!(
    /// How far a duct runs.
    Length, from_ft, ft, "feet (ft)"
);
quantity!(
    /// A cross-section or a face.
    Area, from_in2, in2, "square inches (in²)"
);
quantity!(
    /// How fast air moves through a cross-section.
    Velocity, from_fpm, fpm, "feet a minute (fpm)"
);
quantity!(
    /// Pressure lost along a straight duct of given length.
    FrictionRate, from_in_wc_100ft, in_wc_100ft, "inches of water a hundred feet (in. w.c./100 ft)"
);
quantity!(
    /// Dynamic viscosity.
    Viscosity, from_pa_s, pa_s, "pascal seconds (Pa·s)"
);

impl Pressure {
    /// From a number of pascals.
    pub const fn from_pa(value: f64) -> Self {
        Self(value / PA_PER_IN_WC)
    }

    /// As a number of pascals.
    pub const fn pa(self) -> f64 {
        self.0 * PA_PER_IN_WC
    }
}

impl Airflow {
    /// From a number of litres a second.
    pub const fn from_lps(value: f64) -> Self {
        Self(value / LPS_PER_CFM)
    }

    /// As a number of litres a second.
    pub const fn lps(self) -> f64 {
        self.0 * LPS_PER_CFM
    }
}

impl Barometer {
    /// From a number of inches of mercury.
    pub const fn from_in_hg(value: f64) -> Self {
        Self(value * KPA_PER_IN_HG)
    }

    /// As a number of inches of mercury.
    pub const fn in_hg(self) -> f64 {
        self.0 / KPA_PER_IN_HG
    }
}

impl Temperature {
    /// From degrees Celsius.
    pub const fn from_c(value: f64) -> Self {
        Self(value * 1.8 + 32.0)
    }

    /// As degrees Celsius.
    pub const fn c(self) -> f64 {
        (self.0 - 32.0) / 1.8
    }
}

impl Density {
    /// Standard air of the trade, 0.075 lb/ft³ (1.20138 kg/m³).
    pub const STANDARD: Self = Self(0.075);

    /// From kilograms a cubic metre.
    pub const fn from_kg_m3(value: f64) -> Self {
        Self(value / KG_M3_PER_LB_FT3)
    }

    /// As kilograms a cubic metre.
    pub const fn kg_m3(self) -> f64 {
        self.0 * KG_M3_PER_LB_FT3
    }
}

impl HeatRate {
    /// From a number of watts.
    pub const fn from_watts(value: f64) -> Self {
        Self(value * BTUH_PER_WATT)
    }

    /// As a number of watts.
    pub const fn watts(self) -> f64 {
        self.0 / BTUH_PER_WATT
    }
}

impl Power {
    /// The heat that this power becomes in the airstream.
    pub const fn as_heat(self) -> HeatRate {
        HeatRate::from_watts(self.0)
    }
}

impl Altitude {
    /// From metres.
    pub const fn from_m(value: f64) -> Self {
        Self(value / M_PER_FT)
    }

    /// As metres.
    pub const fn m(self) -> f64 {
        self.0 * M_PER_FT
    }
}

/// Air power of a flow against a pressure, `Q · ΔP`.
///
/// In trade units `cfm × in. w.c. / 8.5065`; the divisor follows from 249.08891 Pa and the exact foot.
pub fn air_power(airflow: Airflow, pressure: Pressure) -> Power {
    Power::from_watts(airflow.lps() / 1000.0 * pressure.pa())
}

/// Which units numbers are typed and shown in; never changes a stored value.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum UnitSystem {
    /// cfm, in. w.c., °F, Btu/h, ft, W.
    #[default]
    InchPound,
    /// L/s, Pa, °C, kW, m, W.
    SiLitres,
    /// m³/h, Pa, °C, kW, m, W.
    SiCubicMetres,
}

impl UnitSystem {
    /// Every system, in the order in which the switch steps through them.
    pub const ALL: [Self; 3] = [Self::InchPound, Self::SiLitres, Self::SiCubicMetres];

    /// What belongs to this system, out of two: the inch-pound one, and the one that both SI systems share.
    pub const fn pick<T: Copy>(self, inch_pound: T, si: T) -> T {
        match self {
            Self::InchPound => inch_pound,
            Self::SiLitres | Self::SiCubicMetres => si,
        }
    }

    /// The pair of units a person recognises the system by.
    pub const fn name(self) -> &'static str {
        match self {
            Self::InchPound => "cfm · in. w.c.",
            Self::SiLitres => "L/s · Pa",
            Self::SiCubicMetres => "m³/h · Pa",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inch_of_water_is_the_conventional_one() {
        assert!((Pressure::from_in_wc(1.0).pa() - 249.088_91).abs() < 1e-9);
        assert!((Pressure::from_pa(249.088_91).in_wc() - 1.0).abs() < 1e-15);
    }

    #[test]
    fn a_warm_day_reads_the_same_on_both_scales() {
        assert!((Temperature::from_c(20.0).f() - 68.0).abs() < 1e-12);
        assert!((Temperature::from_f(212.0).c() - 100.0).abs() < 1e-12);
    }
}
