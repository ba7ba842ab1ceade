//! How far the instrument, the table and the assumed exponent may be off.
//!
//! Specifications are limits; their standard uncertainty is the limit divided by √3 (a uniform distribution, GUM 4.3.7).

use crate::units::Pressure;

/// Limits of error of a job's numbers, all editable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Manometer: fraction of the reading (1 %, CEC Residential Appendices RA3.7.2.1).
    pub manometer_fraction: f64,
    /// Manometer: least error (0.2 Pa, CEC Residential Appendices RA3.7.2.1).
    pub manometer_floor: Pressure,
    /// Constant error of each port: tip not square to the flow, turbulence (0.01 in. w.c., assumed).
    pub port_offset: Pressure,
    /// Blower table against this machine, as a fraction of airflow (5 %, assumed).
    pub table_fraction: f64,
    /// Exponent of a path that nobody has split, about 2 (0.2, assumed: coils, filters and straight duct lie under 2).
    pub exponent: f64,
}

impl Default for Accuracy {
    fn default() -> Self {
        Self {
            manometer_fraction: 0.01,
            manometer_floor: Pressure::from_pa(0.2),
            port_offset: Pressure::from_in_wc(0.01),
            table_fraction: 0.05,
            exponent: 0.2,
        }
    }
}

/// How far the effect of a change that is worked out, or stated by hand, may be off: a quarter of it (assumed; its sizes and shares are somebody's, not read).
pub const CHANGE_LIMIT: f64 = 0.25;

/// Turns a limit of error into a standard uncertainty: limit / √3.
pub fn from_limit(limit: f64) -> f64 {
    limit / 3.0_f64.sqrt()
}

/// Coverage factor of the ± that people see: 95 % of a normal distribution.
pub const COVERAGE: f64 = 2.0;

impl Accuracy {
    /// Manometer's limit of error at a reading: the larger of the fraction and the floor.
    pub fn manometer_limit(&self, reading: Pressure) -> Pressure {
        (reading.abs() * self.manometer_fraction).max(self.manometer_floor)
    }
}
