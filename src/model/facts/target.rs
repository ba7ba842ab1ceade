//! How much air the system ought to move.

use crate::model::facts::air::BlowerAir;
use crate::model::facts::blower::Call;
use crate::model::facts::number::{Number, OutOfRange};
use crate::model::facts::numbers::job;
use crate::units::{Airflow, Capacity, Density, HeatRate, TemperatureRise};

/// Btu/h that one cfm of standard air carries for each degree: 60 × 0.24 × 0.075.
pub const SENSIBLE_FACTOR: f64 = 60.0 * 0.24 * 0.075;

/// Airflow a ton of a new target (common practice, no source: 400 is nominal).
pub const NOMINAL_PER_TON: Airflow = Airflow::from_cfm(400.0);

/// The target of one call.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CallTarget {
    /// The call.
    pub call: Call,
    /// Its target.
    pub target: Target,
}

/// The airflow to reach, and how it was arrived at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Target {
    /// Typed, in actual airflow.
    Airflow(Airflow),
    /// Cooling capacity times cfm a ton, meant at standard air (350 to 450 is common practice, no source).
    PerTon {
        /// Capacity of the outdoor unit installed.
        capacity: Capacity,
        /// Airflow a ton.
        per_ton: Airflow,
    },
    /// Heat output and temperature rise, `Q = q / (1.08·ρ/0.075·ΔT)` at the blower inlet's density.
    HeatRise {
        /// Heat delivered to the air, the blower's own included.
        output: HeatRate,
        /// Rise wanted.
        rise: TemperatureRise,
    },
}

impl Target {
    /// Its numbers with their declarations.
    pub const fn numbers(&self) -> [Option<(&'static Number, f64)>; 2] {
        match *self {
            Self::Airflow(airflow) => [Some((&job::TARGET_AIRFLOW, airflow.cfm())), None],
            Self::PerTon { capacity, per_ton } => {
                [Some((&job::CAPACITY, capacity.tons())), Some((&job::PER_TON, per_ton.cfm()))]
            }
            Self::HeatRise { output, rise } => {
                [Some((&job::HEAT_OUTPUT, output.btuh())), Some((&job::HEAT_RISE, rise.f()))]
            }
        }
    }

    /// Whether a blower could be meant to reach it.
    ///
    /// # Errors
    /// The first number that is out of its range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        self.numbers().into_iter().flatten().try_for_each(|(number, value)| number.check(value).map(drop))
    }

    /// The target in actual airflow at a density.
    pub fn actual(&self, density: Density) -> Airflow {
        match *self {
            Self::Airflow(airflow) => airflow,
            Self::PerTon { capacity, per_ton } => per_ton * capacity.tons() * (Density::STANDARD / density),
            Self::HeatRise { output, rise } => airflow_for_rise(output, rise, density),
        }
    }
}

/// Airflow that carries a heat output at a temperature rise, `Q = q / (1.08·(ρ/0.075)·ΔT)`.
///
/// `output` in Btu/h, `rise` above zero, `density` at the blower's inlet.
pub fn airflow_for_rise(output: HeatRate, rise: TemperatureRise, density: Density) -> Airflow {
    Airflow::from_cfm(output.btuh() / (SENSIBLE_FACTOR * (density / Density::STANDARD) * rise.f()))
}

/// Temperature rise of an airflow that takes up a heat output; the same relation turned round.
pub fn rise_at(output: HeatRate, airflow: Airflow, density: Density) -> TemperatureRise {
    TemperatureRise::from_f(output.btuh() / (SENSIBLE_FACTOR * (density / Density::STANDARD) * airflow.cfm()))
}

/// An airflow at standard air, `Q·ρ/0.075`.
pub fn at_standard_air(actual: Airflow, density: Density) -> Airflow {
    actual * (density / Density::STANDARD)
}

/// The target in the airflow that the blower must move, and its accepted band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TargetBand {
    /// Actual airflow.
    pub actual: Airflow,
    /// The same at standard air.
    pub standard: Airflow,
    /// Lowest accepted.
    pub low: Airflow,
    /// Highest accepted.
    pub high: Airflow,
    /// What it was found from.
    pub from: Target,
}

impl TargetBand {
    /// Airflow a ton that was stated, at standard air, where it is found from tons.
    pub const fn per_ton(&self) -> Option<Airflow> {
        match self.from {
            Target::PerTon { per_ton, .. } => Some(per_ton),
            Target::Airflow(_) | Target::HeatRise { .. } => None,
        }
    }
}

/// A target with its accepted band, a fraction of it; that of a heat and its rise is the `rise_range` of the rating plate, where it has one. Nothing where it is no airflow.
pub fn band(
    target: Target,
    air: BlowerAir,
    accept_band: f64,
    rise_range: Option<(TemperatureRise, TemperatureRise)>,
) -> Option<TargetBand> {
    let actual = target.actual(air.density);
    if !(actual.is_finite() && actual > Airflow::ZERO) {
        return None;
    }
    let (low, high) = match (target, rise_range) {
        (Target::HeatRise { output, .. }, Some((least, most))) => {
            (airflow_for_rise(output, most, air.density), airflow_for_rise(output, least, air.density))
        }
        (Target::HeatRise { .. } | Target::Airflow(_) | Target::PerTon { .. }, _) => {
            (actual * (1.0 - accept_band), actual * (1.0 + accept_band))
        }
    };
    Some(TargetBand { actual, standard: at_standard_air(actual, air.density), low, high, from: target })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thin_air_needs_more_volume_for_the_same_tons() {
        let target = Target::PerTon { capacity: Capacity::from_tons(3.0), per_ton: Airflow::from_cfm(400.0) };
        assert!((target.actual(Density::STANDARD).cfm() - 1200.0).abs() < 1e-9);
        assert!((target.actual(Density::from_lb_ft3(0.06)).cfm() - 1500.0).abs() < 1e-9);
    }

    #[test]
    fn rise_and_airflow_are_each_others_inverse() {
        let heat = HeatRate::from_btuh(64_000.0);
        let density = Density::from_lb_ft3(0.068);
        let airflow = airflow_for_rise(heat, TemperatureRise::from_f(55.0), density);
        assert!((rise_at(heat, airflow, density).f() - 55.0).abs() < 1e-12);
    }
}
