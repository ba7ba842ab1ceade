//! The other way round: the size that keeps to an allowed drop, friction rate or velocity.

use std::f64::consts::PI;

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::duct::{self as given, LARGEST_SIZE};
use crate::model::laws::duct::air_properties::DuctAir;
use crate::numerics::root;
use crate::units::{Airflow, Area, Dimension, FrictionRate, Length, Pressure, Velocity};

/// Smallest size looked at.
const SMALLEST_SIZE: Dimension = Dimension::from_in(0.5);
/// Step in ln D from which the slope is taken.
const LOG_STEP: f64 = 1e-6;
/// Agreement of the size found, relative to ln of the size in mm.
const SIZE_TOLERANCE: f64 = 1e-14;

/// Diameter of the round duct with which a run just keeps to an allowed drop (length, wall and fittings of `run`; its section does not count).
///
/// # Errors
/// A number out of range, or no size up to 100 in. that is enough.
///
/// ```
/// use tapcross::model::facts::duct::{material::Material, run::Run, section::Section};
/// use tapcross::model::laws::duct::{air_properties::DuctAir, size};
/// use tapcross::units::{Airflow, Dimension, Length, Pressure};
/// let any = Section::round(Dimension::from_in(1.0));
/// let run = Run::straight(any, Length::from_ft(100.0), Material::Galvanized);
/// let allowed = Pressure::from_in_wc(0.085_342_9);
/// let diameter = size::round_for_drop(run, Airflow::from_cfm(400.0), allowed, DuctAir::STANDARD).unwrap();
/// assert!((diameter.inches() - 10.0).abs() < 1e-4);
/// ```
pub fn round_for_drop(run: Run, airflow: Airflow, allowed: Pressure, air: DuctAir) -> Result<Dimension, InputError> {
    size_for_drop(run, airflow, allowed, air, Section::round)
}

/// The other side of the rectangular duct, one side given, with which a run just keeps to an allowed drop.
///
/// # Errors
/// As [`round_for_drop`], and a given side out of range.
pub fn side_for_drop(
    run: Run,
    airflow: Airflow,
    allowed: Pressure,
    air: DuctAir,
    given_side: Dimension,
) -> Result<Dimension, InputError> {
    given::HEIGHT.check(given_side.inches())?;
    size_for_drop(run, airflow, allowed, air, |width| Section::rectangular(width, given_side))
}

/// Diameter of the round duct that has a friction rate at an airflow.
///
/// # Errors
/// As [`round_for_drop`].
pub fn round_for_rate(
    airflow: Airflow,
    rate: FrictionRate,
    wall: impl Into<Wall>,
    air: DuctAir,
) -> Result<Dimension, InputError> {
    given::FRICTION_RATE.check(rate.in_wc_100ft())?;
    let length = Length::from_ft(10.0);
    let run = Run::straight(Section::round(SMALLEST_SIZE), length, wall);
    round_for_drop(run, airflow, rate.over(length), air)
}

/// Diameter of the round duct in which an airflow has a velocity, `D = √(4·Q/(π·V))`.
///
/// # Errors
/// An airflow or velocity that is not above zero, or a diameter over 100 in.
pub fn round_for_velocity(airflow: Airflow, velocity: Velocity) -> Result<Dimension, InputError> {
    let area = area_for_velocity(airflow, velocity)?;
    let inches = (4.0 / PI * area.in2()).sqrt();
    Ok(Dimension::from_in(given::DIAMETER.check(inches)?))
}

/// The other side of the rectangular duct or face, one side given, with which an airflow has a velocity.
///
/// # Errors
/// A number out of range, or a side over 100 in.
pub fn side_for_velocity(airflow: Airflow, velocity: Velocity, given_side: Dimension) -> Result<Dimension, InputError> {
    let area = area_for_velocity(airflow, velocity)?;
    let inches = area.in2() / given::HEIGHT.check(given_side.inches())?;
    Ok(Dimension::from_in(given::WIDTH.check(inches)?))
}

/// Area through which an airflow has a velocity, `A = Q/V`.
///
/// # Errors
/// An airflow or velocity that is not above zero.
///
/// ```
/// use tapcross::model::laws::duct::size::area_for_velocity;
/// use tapcross::units::{Airflow, Velocity};
/// // 350 cfm a ton, 1½ tons, 151.2 fpm: 500 in² of grille
/// let area = area_for_velocity(Airflow::from_cfm(525.0), Velocity::from_fpm(151.2)).unwrap();
/// assert!((area.in2() - 500.0).abs() < 1e-9);
/// ```
pub fn area_for_velocity(airflow: Airflow, velocity: Velocity) -> Result<Area, InputError> {
    let cfm = given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    let fpm = given::ALLOWED_VELOCITY.check(velocity.fpm())?;
    Ok(Area::from_ft2(cfm / fpm))
}

/// Airflow at which a run loses a drop.
///
/// # Errors
/// A number out of range, or an airflow over 100,000 cfm.
pub fn airflow_for_drop(run: Run, drop: Pressure, air: DuctAir) -> Result<Airflow, InputError> {
    let run = run.checked()?;
    given::ALLOWED_DROP.check(drop.in_wc())?;
    let off = |log_cfm: f64| {
        let lost = run.drop_unchecked(Airflow::from_cfm((log_cfm - LOG_SHIFT).exp()), air);
        ((lost.total() / drop).ln(), lost.exponent())
    };
    let range = (LOG_SHIFT - 9.0, LOG_SHIFT + 12.0);
    let found = root::bracketed(off, range.0, range.1, SIZE_TOLERANCE);
    let log_cfm = found
        .map_err(|_none| InputError::OutOfRange(OutOfRange { number: &given::ALLOWED_DROP, value: drop.in_wc() }))?;
    let cfm = given::DESIGN_AIRFLOW.check((log_cfm - LOG_SHIFT).exp())?;
    Ok(Airflow::from_cfm(cfm))
}

/// Keeps logarithms away from zero, where a relative tolerance would never be met.
const LOG_SHIFT: f64 = 20.0;

fn size_for_drop(
    run: Run,
    airflow: Airflow,
    allowed: Pressure,
    air: DuctAir,
    section: impl Fn(Dimension) -> Section,
) -> Result<Dimension, InputError> {
    given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    given::ALLOWED_DROP.check(allowed.in_wc())?;
    run.with_section(section(LARGEST_SIZE)).checked()?;
    let lost = |size: Dimension| run.with_section(section(size)).drop_unchecked(airflow, air).total();
    if lost(LARGEST_SIZE) > allowed {
        return Err(InputError::NoSizeIsEnough { drop: lost(LARGEST_SIZE), allowed });
    }
    if lost(SMALLEST_SIZE) < allowed {
        return Err(InputError::AnySizeIsEnough { allowed });
    }
    let over = |log_mm: f64| (lost(Dimension::from_mm(log_mm.exp())) / allowed).ln();
    let off = |log_mm: f64| {
        let value = over(log_mm);
        (value, (over(log_mm + LOG_STEP) - value) / LOG_STEP)
    };
    let ends = (SMALLEST_SIZE.mm().ln(), LARGEST_SIZE.mm().ln());
    let found = root::bracketed(off, ends.0, ends.1, SIZE_TOLERANCE);
    let log_mm = found.map_err(|_none| InputError::AnySizeIsEnough { allowed })?;
    let size = Dimension::from_mm(log_mm.exp());
    run.with_section(section(size)).checked()?;
    Ok(size)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::duct::material::Material;

    fn run() -> Run {
        Run::straight(Section::round(Dimension::from_in(1.0)), Length::from_ft(60.0), Material::Galvanized)
    }

    #[test]
    fn the_size_found_loses_what_is_allowed() {
        let (airflow, allowed, air) = (Airflow::from_cfm(900.0), Pressure::from_in_wc(0.05), DuctAir::STANDARD);
        let bent = Run { fittings: 1.7, ..run() };
        let eight = Dimension::from_in(8.0);
        let sections = [
            Section::round(round_for_drop(bent, airflow, allowed, air).unwrap()),
            Section::rectangular(side_for_drop(bent, airflow, allowed, air, eight).unwrap(), eight),
        ];
        for section in sections {
            let drop = bent.with_section(section).drop_at(airflow, air).unwrap().total();
            assert!((drop / allowed - 1.0).abs() < 1e-10, "{section:?} loses {drop:?}");
        }
    }

    #[test]
    fn the_airflow_found_loses_the_drop() {
        let duct = run().with_section(Section::round(Dimension::from_in(10.0)));
        for inches in [0.0001, 0.01, 0.05, 0.3] {
            let drop = Pressure::from_in_wc(inches);
            let airflow = airflow_for_drop(duct, drop, DuctAir::STANDARD).unwrap();
            let back = duct.drop_at(airflow, DuctAir::STANDARD).unwrap().total();
            assert!((back / drop - 1.0).abs() < 1e-10, "{airflow:?}");
        }
    }

    #[test]
    fn what_no_size_can_do_is_said() {
        let air = DuctAir::STANDARD;
        let flood = round_for_drop(run(), Airflow::from_cfm(90_000.0), Pressure::from_in_wc(0.001), air);
        assert!(flood.unwrap_err().to_string().starts_with("No duct up to 100 in keeps to 0.001 in. w.c."));
        let trickle = round_for_drop(run(), Airflow::from_cfm(0.001), Pressure::from_in_wc(9.0), air);
        assert!(trickle.unwrap_err().to_string().starts_with("Any duct drops less than the 9.00 in. w.c. allowed"));
        assert!(round_for_drop(run(), Airflow::ZERO, Pressure::from_in_wc(0.1), air).is_err());
        assert!(round_for_velocity(Airflow::from_cfm(1200.0), Velocity::ZERO).is_err());
    }

    #[test]
    fn a_velocity_gives_a_size_and_the_size_the_velocity() {
        let (airflow, velocity) = (Airflow::from_cfm(1200.0), Velocity::from_fpm(700.0));
        let round = Section::round(round_for_velocity(airflow, velocity).unwrap());
        assert!((round.velocity(airflow) - velocity).abs().fpm() < 1e-9);
        let ten = Dimension::from_in(10.0);
        let flat = Section::rectangular(side_for_velocity(airflow, velocity, ten).unwrap(), ten);
        assert!((flat.velocity(airflow) - velocity).abs().fpm() < 1e-9);
    }
}
