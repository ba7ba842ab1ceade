//! Reads sizes, lengths, faces, velocities and friction rates of ducts.

use super::{Comma, TextError, quantity};
use crate::units::{Area, Dimension, FrictionRate, Length, UnitSystem, Velocity};

/// A side or a diameter: inches without a unit, millimetres in SI.
///
/// # Errors
/// See [`TextError`].
pub fn dimension(text: &str, units: UnitSystem) -> Result<Dimension, TextError> {
    quantity(text, Comma::Thousands, "in, ft, mm, cm or m", |unit, value| match unit {
        "in" | "inch" | "inches" | "\"" | "″" => Some(Dimension::from_in(value)),
        "ft" | "feet" | "'" | "′" => Some(Dimension::from_ft(value)),
        "mm" => Some(Dimension::from_mm(value)),
        "cm" => Some(Dimension::from_mm(value * 10.0)),
        "m" => Some(Dimension::from_m(value)),
        "" => Some(match units {
            UnitSystem::InchPound => Dimension::from_in(value),
            _ => Dimension::from_mm(value),
        }),
        _ => None,
    })
}

/// A duct's length: feet without a unit, metres in SI.
///
/// # Errors
/// See [`TextError`].
pub fn length(text: &str, units: UnitSystem) -> Result<Length, TextError> {
    quantity(text, Comma::Thousands, "ft, in or m", |unit, value| match unit {
        "ft" | "feet" | "'" | "′" => Some(Length::from_ft(value)),
        "in" | "inch" | "inches" | "\"" | "″" => Some(Length::from_ft(value / 12.0)),
        "m" | "metres" | "meters" => Some(Length::from_m(value)),
        "" => Some(match units {
            UnitSystem::InchPound => Length::from_ft(value),
            _ => Length::from_m(value),
        }),
        _ => None,
    })
}

/// A cross-section or a face: square inches without a unit, square metres in SI.
///
/// # Errors
/// See [`TextError`].
pub fn area(text: &str, units: UnitSystem) -> Result<Area, TextError> {
    quantity(text, Comma::Thousands, "in², ft², cm² or m²", |unit, value| match unit {
        "in²" | "in2" | "sqin" => Some(Area::from_in2(value)),
        "ft²" | "ft2" | "sqft" => Some(Area::from_ft2(value)),
        "cm²" | "cm2" => Some(Area::from_m2(value / 10_000.0)),
        "m²" | "m2" => Some(Area::from_m2(value)),
        "" => Some(match units {
            UnitSystem::InchPound => Area::from_in2(value),
            _ => Area::from_m2(value),
        }),
        _ => None,
    })
}

/// An air velocity: feet a minute without a unit, metres a second in SI.
///
/// # Errors
/// See [`TextError`].
pub fn velocity(text: &str, units: UnitSystem) -> Result<Velocity, TextError> {
    quantity(text, Comma::Thousands, "fpm or m/s", |unit, value| match unit {
        "fpm" | "ft/min" => Some(Velocity::from_fpm(value)),
        "m/s" | "ms" => Some(Velocity::from_m_s(value)),
        "" => Some(match units {
            UnitSystem::InchPound => Velocity::from_fpm(value),
            _ => Velocity::from_m_s(value),
        }),
        _ => None,
    })
}

/// A friction rate: inches of water a hundred feet without a unit, pascals a metre in SI.
///
/// # Errors
/// See [`TextError`].
pub fn friction_rate(text: &str, units: UnitSystem) -> Result<FrictionRate, TextError> {
    quantity(text, Comma::Decimal, "in. w.c./100 ft or Pa/m", |unit, value| match unit {
        "in/100ft" | "inwc/100ft" | "inwg/100ft" | "iwc/100ft" => Some(FrictionRate::from_in_wc_100ft(value)),
        "pa/m" => Some(FrictionRate::from_pa_m(value)),
        "" => Some(match units {
            UnitSystem::InchPound => FrictionRate::from_in_wc_100ft(value),
            _ => FrictionRate::from_pa_m(value),
        }),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn duct_quantities_are_taken_in_any_of_their_units() {
        let units = UnitSystem::InchPound;
        let near = |value: f64, expected: f64| assert!((value - expected).abs() < 1e-9, "{value} is not {expected}");
        near(dimension("14", units).unwrap().inches(), 14.0);
        near(dimension("14,5\"", units).unwrap().inches(), 14.5);
        near(dimension("254 mm", units).unwrap().inches(), 10.0);
        near(dimension("254", UnitSystem::SiLitres).unwrap().inches(), 10.0);
        near(length("1,000 ft", units).unwrap().ft(), 1000.0);
        near(area("2 ft²", units).unwrap().in2(), 288.0);
        near(velocity("1 m/s", units).unwrap().m_s(), 1.0);
        near(friction_rate("0.08 in. w.c./100 ft", units).unwrap().in_wc_100ft(), 0.08);
    }

    #[test]
    fn a_size_in_the_wrong_unit_gets_a_sentence() {
        let error = dimension("14 cfm", UnitSystem::InchPound).unwrap_err();
        assert_eq!(error.to_string(), "\"cfm\" is no unit of this field; it takes in, ft, mm, cm or m");
    }
}
