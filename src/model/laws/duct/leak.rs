//! Leaks: parallel paths out of or into a duct, so that blower airflow and delivered airflow are two numbers.

use crate::model::facts::drop_data::{LEAK_EXPONENT, LEAK_FLOW_EXPONENT};
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::parallel::{Resistance, in_parallel};
use crate::model::laws::system_curve::PowerLaw;
use crate::units::{Airflow, Area, Pressure};

/// The leak path that loses an airflow at a pressure between duct and surroundings.
///
/// # Errors
/// An airflow or a pressure that is not above zero.
pub fn leak_through(airflow: Airflow, pressure: Pressure) -> Result<PowerLaw, InputError> {
    given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    given::READ_DROP.check(pressure.in_wc())?;
    Ok(PowerLaw::through(airflow, pressure, LEAK_EXPONENT))
}

/// The leak path after sealing a share of it (0 to 1, not all): the same law with `1 − sealed` of the hole.
///
/// # Errors
/// A share that leaves nothing open or is below zero.
pub fn sealed(leak: PowerLaw, sealed: f64) -> Result<PowerLaw, InputError> {
    let open = given::FLOW_SHARE.check(1.0 - sealed)?;
    Ok(PowerLaw { coefficient: leak.coefficient * open.powf(-leak.exponent), ..leak })
}

/// A blower's airflow split between the rooms and a leak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeakSplit {
    /// What the blower moves.
    pub blower: Airflow,
    /// What comes out at the registers, or comes from the return grilles.
    pub delivered: Airflow,
    /// What goes the other way.
    pub leaked: Airflow,
    /// Drop of the duct beyond the leak, and so the pressure across the leak.
    pub drop: Pressure,
}

impl LeakSplit {
    /// Leaked share of the blower's airflow; zero without flow.
    pub fn leaked_share(&self) -> f64 {
        if self.blower > Airflow::ZERO { self.leaked / self.blower } else { 0.0 }
    }
}

/// Splits the blower's airflow at a leak: the duct beyond the leak and the leak are parallel.
///
/// `beyond` is the part between the leak and the rooms only; what lies before the leak carries the whole flow and is added in series.
///
/// # Errors
/// An airflow out of range, a path whose drop does not rise with its airflow.
///
/// ```
/// use tapcross::model::laws::duct::leak::{leak_through, split};
/// use tapcross::model::laws::system_curve::PowerLaw;
/// use tapcross::units::{Airflow, Pressure};
/// let duct = PowerLaw::through(Airflow::from_cfm(900.0), Pressure::from_in_wc(0.2), 2.0);
/// let leak = leak_through(Airflow::from_cfm(100.0), Pressure::from_in_wc(0.2)).unwrap();
/// let both = split(&duct, &leak, Airflow::from_cfm(1000.0)).unwrap();
/// assert!((both.delivered.cfm() - 900.0).abs() < 1e-9);
/// assert!((both.leaked_share() - 0.1).abs() < 1e-12);
/// ```
pub fn split(beyond: &dyn Resistance, leak: &PowerLaw, blower: Airflow) -> Result<LeakSplit, InputError> {
    let flow = in_parallel(&[beyond, leak], blower)?;
    match flow.flows[..] {
        [delivered, leaked] => Ok(LeakSplit { blower, delivered, leaked, drop: flow.drop }),
        _ => Err(InputError::NoBranches),
    }
}

/// Leakage class, `C_L = (share)·(Q/A) / Δp^0.65`, L/(s·m²·Pa^0.65).
///
/// `share` is the leaked share of the airflow (above 0 to 1), A the duct's surface, Δp its pressure.
/// Source: the handbook, eq. 37: 3 % of 10 L/(s·m²) at 750 Pa is 0.004.
///
/// # Errors
/// A number out of range.
///
/// ```
/// use tapcross::model::laws::duct::leak::leakage_class;
/// use tapcross::units::{Airflow, Area, Pressure};
/// let class = leakage_class(0.03, Airflow::from_lps(10.0), Area::from_m2(1.0), Pressure::from_pa(750.0)).unwrap();
/// assert!((class - 0.004_058).abs() < 1e-5);
/// ```
pub fn leakage_class(share: f64, airflow: Airflow, surface: Area, pressure: Pressure) -> Result<f64, InputError> {
    let share = given::FLOW_SHARE.check(share)?;
    given::DESIGN_AIRFLOW.check(airflow.cfm())?;
    given::SURFACE_AREA.check(surface.in2())?;
    given::READ_DROP.check(pressure.in_wc())?;
    Ok(share * airflow.lps() / surface.m2() / pressure.pa().powf(LEAK_FLOW_EXPONENT))
}

/// The leak path of a duct of a leakage class and a surface.
///
/// # Errors
/// A class or a surface that is not above zero.
pub fn leak_of_class(class: f64, surface: Area) -> Result<PowerLaw, InputError> {
    given::COEFFICIENT.check(class)?;
    given::SURFACE_AREA.check(surface.in2())?;
    let at = Pressure::from_pa(100.0);
    let leaked = Airflow::from_lps(class * surface.m2() * at.pa().powf(LEAK_FLOW_EXPONENT));
    leak_through(leaked, at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sealing_a_leak_delivers_more_and_raises_the_drop() {
        let duct = PowerLaw { coefficient: 3e-7, exponent: 2.0 };
        let leak = leak_through(Airflow::from_cfm(150.0), Pressure::from_in_wc(0.25)).unwrap();
        let blower = Airflow::from_cfm(1000.0);
        let before = split(&duct, &leak, blower).unwrap();
        let after = split(&duct, &sealed(leak, 0.8).unwrap(), blower).unwrap();
        assert!(after.delivered > before.delivered && after.drop > before.drop);
        assert!((after.delivered + after.leaked - blower).abs().cfm() < 1e-9);
        assert!(sealed(leak, 1.0).is_err() && sealed(leak, -0.1).is_err());
    }

    #[test]
    fn a_leak_of_a_class_has_that_class() {
        let surface = Area::from_m2(20.0);
        let leak = leak_of_class(0.3, surface).unwrap();
        let pressure = Pressure::from_pa(60.0);
        let (cfm, _) = leak.flow_and_slope(pressure.in_wc()).unwrap();
        let airflow = Airflow::from_cfm(cfm);
        assert!((leakage_class(1.0, airflow, surface, pressure).unwrap() - 0.3).abs() < 1e-12);
    }
}
