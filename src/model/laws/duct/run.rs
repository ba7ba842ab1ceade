//! A run of duct: straight length, wall and the fittings in it.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::flexible::factor_of;
use crate::model::laws::duct::friction::rate_and_exponent;
use crate::model::laws::duct::velocity_pressure::velocity_pressure;
use crate::units::{Airflow, Pressure};

/// What a run loses, in total pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunDrop {
    /// By friction along the straight length.
    pub friction: Pressure,
    /// By the fittings.
    pub fittings: Pressure,
    /// Exponent with which friction follows airflow here.
    pub friction_exponent: f64,
}

impl RunDrop {
    /// Both together.
    pub fn total(self) -> Pressure {
        self.friction + self.fittings
    }

    /// Exponent with which the whole run follows airflow here; 2 where nothing is lost.
    pub fn exponent(self) -> f64 {
        let total = self.total();
        if total <= Pressure::ZERO {
            return 2.0;
        }
        (self.friction.in_wc() * self.friction_exponent + self.fittings.in_wc() * 2.0) / total.in_wc()
    }
}

impl Run {
    /// What the run loses at an airflow (zero or above).
    ///
    /// `Δp = PDCF·f/D_e·L·ρ·V_e²/2 + ΣC·ρ·V²/2`: friction in the round duct of equal friction, fittings on the duct's own velocity.
    /// Source: the handbook, eqs. 18 to 28, Examples 6 and 8.
    ///
    /// # Errors
    /// Names the first number that is out of range.
    ///
    /// ```
    /// use tapcross::model::facts::duct::{material::Material, run::Run, section::Section};
    /// use tapcross::model::laws::duct::air_properties::DuctAir;
    /// use tapcross::units::{Airflow, Dimension, Length};
    /// let ten = Section::round(Dimension::from_in(10.0));
    /// let run = Run::straight(ten, Length::from_ft(100.0), Material::Galvanized);
    /// let drop = run.drop_at(Airflow::from_cfm(400.0), DuctAir::STANDARD).unwrap();
    /// assert!((drop.total().in_wc() / 0.085_342_9 - 1.0).abs() < 0.002);
    /// ```
    pub fn drop_at(self, airflow: Airflow, air: DuctAir) -> Result<RunDrop, InputError> {
        given::AIRFLOW.check(airflow.cfm())?;
        Ok(self.checked()?.drop_unchecked(airflow, air))
    }

    /// The same for numbers that are known to be sound.
    pub(super) fn drop_unchecked(self, airflow: Airflow, air: DuctAir) -> RunDrop {
        let round = self.section.equivalent_diameter();
        let velocity = Section::round(round).velocity(airflow);
        let (rate, friction_exponent) = rate_and_exponent(round, velocity, self.wall.roughness(), air);
        let bunched = match self.wall {
            Wall::Stiff(_) => 1.0,
            Wall::Flexible { compression } => factor_of(round, compression),
        };
        let fittings = velocity_pressure(self.section.velocity(airflow), air) * self.fittings;
        RunDrop { friction: rate.over(self.length) * bunched, fittings, friction_exponent }
    }
}

/// What a run loses after a change over what it loses before, both at one airflow.
///
/// The editors of a larger duct scale a **read** drop by it: the reading knows the fittings, the calculation need not.
///
/// # Errors
/// Names the first number that is out of range; the airflow must be above zero.
///
/// ```
/// use tapcross::model::facts::duct::{material::Material, run::Run, section::Section};
/// use tapcross::model::laws::duct::{air_properties::DuctAir, run::drop_ratio};
/// use tapcross::units::{Airflow, Dimension, Length};
/// let now = Run::straight(Section::round(Dimension::from_in(12.0)), Length::from_ft(20.0), Material::Galvanized);
/// let then = now.with_section(Section::round(Dimension::from_in(14.0)));
/// let ratio = drop_ratio(now, then, Airflow::from_cfm(800.0), DuctAir::STANDARD).unwrap();
/// assert!(ratio > 0.45 && ratio < 0.5);
/// ```
pub fn drop_ratio(before: Run, after: Run, airflow: Airflow, air: DuctAir) -> Result<f64, InputError> {
    given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    Ok(after.drop_at(airflow, air)?.total() / before.drop_at(airflow, air)?.total())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::duct::material::Material;
    use crate::units::{Dimension, Length};

    fn sound() -> Run {
        Run::straight(Section::round(Dimension::from_in(12.0)), Length::from_ft(20.0), Material::Galvanized)
    }

    #[test]
    fn no_air_loses_nothing() {
        let drop = Run { fittings: 3.0, ..sound() }.drop_at(Airflow::ZERO, DuctAir::STANDARD).unwrap();
        assert!(drop.total().in_wc().abs() < 1e-300);
        assert!((drop.exponent() - 2.0).abs() < 1e-15);
    }

    #[test]
    fn fittings_pull_the_exponent_towards_two() {
        let air = DuctAir::STANDARD;
        let straight = sound().drop_at(Airflow::from_cfm(800.0), air).unwrap().exponent();
        let bent = Run { fittings: 2.0, ..sound() }.drop_at(Airflow::from_cfm(800.0), air).unwrap().exponent();
        assert!(straight > 1.78 && straight < 1.86 && bent > straight && bent < 2.0, "{straight} and {bent}");
    }

    #[test]
    fn a_run_that_cannot_be_is_refused_in_words() {
        let cases = [
            (
                Run { length: Length::ZERO, ..sound() },
                "Duct length cannot be 0 ft; it must be above 0 and at most 5,000 ft",
            ),
            (Run { fittings: -1.0, ..sound() }, "Loss coefficient cannot be −1; it must be between 0 and 1,000"),
            (
                Run { wall: Wall::Flexible { compression: 0.4 }, ..sound() },
                "Compression of the flexible duct cannot be 40 %; it must be between 0 and 30 %",
            ),
            (
                Run { wall: Wall::Stiff(Dimension::from_in(0.9)), ..sound() },
                "Roughness over diameter cannot be 0.075; it must be between 0 and 0.05",
            ),
        ];
        for (run, sentence) in cases {
            assert_eq!(run.drop_at(Airflow::from_cfm(800.0), DuctAir::STANDARD).unwrap_err().to_string(), sentence);
        }
        let error = sound().drop_at(Airflow::from_cfm(-5.0), DuctAir::STANDARD).unwrap_err();
        assert_eq!(error.to_string(), "Airflow cannot be −5 cfm; it must be between 0 and 100,000 cfm");
    }
}
