//! Writes sizes, lengths, faces, velocities and friction rates of ducts.

use super::{number, to_step, trimmed};
use crate::units::{Area, Dimension, FrictionRate, Length, UnitSystem, Velocity};

impl UnitSystem {
    /// Unit of a side or a diameter.
    pub const fn dimension_unit(self) -> &'static str {
        match self {
            Self::InchPound => "in",
            _ => "mm",
        }
    }

    /// Unit of a duct's length.
    pub const fn length_unit(self) -> &'static str {
        match self {
            Self::InchPound => "ft",
            _ => "m",
        }
    }

    /// Unit of a cross-section or a face.
    pub const fn area_unit(self) -> &'static str {
        match self {
            Self::InchPound => "in²",
            _ => "m²",
        }
    }

    /// Unit of air velocity.
    pub const fn velocity_unit(self) -> &'static str {
        match self {
            Self::InchPound => "fpm",
            _ => "m/s",
        }
    }

    /// Unit of friction along a duct.
    pub const fn friction_rate_unit(self) -> &'static str {
        match self {
            Self::InchPound => "in. w.c./100 ft",
            _ => "Pa/m",
        }
    }
}

/// A size's number, to 0.01 in or 1 mm, without trailing zeros.
pub fn dimension_bare(dimension: Dimension, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => trimmed(dimension.inches(), 2),
        _ => number(dimension.mm(), 0),
    }
}

/// A size with its unit.
pub fn dimension(dimension: Dimension, units: UnitSystem) -> String {
    format!("{} {}", dimension_bare(dimension, units), units.dimension_unit())
}

/// A length's number, to 0.1 ft or 0.01 m, without trailing zeros.
pub fn length_bare(length: Length, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => trimmed(length.ft(), 1),
        _ => trimmed(length.m(), 2),
    }
}

/// A length with its unit.
pub fn length(length: Length, units: UnitSystem) -> String {
    format!("{} {}", length_bare(length, units), units.length_unit())
}

/// An area's number, to 1 in² or 0.001 m².
pub fn area_bare(area: Area, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(area.in2(), 0),
        _ => number(area.m2(), 3),
    }
}

/// An area with its unit.
pub fn area(area: Area, units: UnitSystem) -> String {
    format!("{} {}", area_bare(area, units), units.area_unit())
}

/// A velocity's number, rounded to 5 fpm or 0.01 m/s.
pub fn velocity_bare(velocity: Velocity, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(to_step(velocity.fpm(), 5.0), 0),
        _ => number(velocity.m_s(), 2),
    }
}

/// A velocity with its unit.
pub fn velocity(velocity: Velocity, units: UnitSystem) -> String {
    format!("{} {}", velocity_bare(velocity, units), units.velocity_unit())
}

/// A friction rate's number, to 0.001 in. w.c. a hundred feet or 0.01 Pa a metre.
pub fn friction_rate_bare(rate: FrictionRate, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(rate.in_wc_100ft(), 3),
        _ => number(rate.pa_m(), 2),
    }
}

/// A friction rate with its unit.
pub fn friction_rate(rate: FrictionRate, units: UnitSystem) -> String {
    format!("{} {}", friction_rate_bare(rate, units), units.friction_rate_unit())
}

/// The number of a friction rate that was read, to 0.01 in. w.c. a hundred feet or 0.01 Pa a metre.
pub fn friction_rate_said_bare(rate: FrictionRate, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => number(rate.in_wc_100ft(), 2),
        _ => friction_rate_bare(rate, units),
    }
}

/// A friction rate as people say it: "0.08 per 100 ft" beside a static in inches, "0.65 Pa/m".
pub fn friction_rate_said(rate: FrictionRate, units: UnitSystem) -> String {
    match units {
        UnitSystem::InchPound => format!("{} per 100 ft", friction_rate_said_bare(rate, units)),
        _ => friction_rate(rate, units),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn duct_quantities_are_shown_in_both_systems() {
        let (ip, si) = (UnitSystem::InchPound, UnitSystem::SiLitres);
        let cases = [
            (dimension(Dimension::from_in(14.0), ip), "14 in"),
            (dimension(Dimension::from_in(14.0), si), "356 mm"),
            (length(Length::from_ft(25.5), ip), "25.5 ft"),
            (length(Length::from_ft(25.0), si), "7.62 m"),
            (area(Area::from_in2(400.0), ip), "400 in²"),
            (area(Area::from_in2(400.0), si), "0.258 m²"),
            (velocity(Velocity::from_fpm(733.4), ip), "735 fpm"),
            (velocity(Velocity::from_m_s(3.66), si), "3.66 m/s"),
            (friction_rate(FrictionRate::from_in_wc_100ft(0.08), ip), "0.080 in. w.c./100 ft"),
            (friction_rate(FrictionRate::from_pa_m(0.8), si), "0.80 Pa/m"),
            (friction_rate_said(FrictionRate::from_in_wc_100ft(0.08), ip), "0.08 per 100 ft"),
            (friction_rate_said(FrictionRate::from_pa_m(0.8), si), "0.80 Pa/m"),
        ];
        for (shown, expected) in cases {
            assert_eq!(shown, expected);
        }
    }
}
