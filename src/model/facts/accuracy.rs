//! How far the instrument, the table, data and guesses may be off.
//!
//! Specifications of instruments are limits; their standard uncertainty is the limit divided by √3 (a uniform distribution, GUM 4.3.7).
//! What is assumed of tables, data, exponents, shares and changes is a 95 % figure; its standard uncertainty is half of it.

use crate::units::{Pressure, TemperatureRise};

/// What a job's numbers may be off by, all editable; where each comes from stands in its declaration ([`crate::model::facts::job_number::JobNumber`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Manometer: limit, fraction of the reading.
    pub manometer_fraction: f64,
    /// Manometer: least limit.
    pub manometer_floor: Pressure,
    /// Limit of each port's constant error.
    pub port_offset: Pressure,
    /// Limit of what a reading is off by itself, so that the same reading taken again differs: last digit, unsteady needle.
    pub reading_scatter: Pressure,
    /// Blower table against this machine, common to its taps, as a fraction of airflow at 95 %.
    pub table_fraction: f64,
    /// What each tap of the table is off by itself, as a fraction of airflow at 95 %, so that the difference of two taps is not told better than it is.
    pub tap_fraction: f64,
    /// Published drops of filters, coils and the like against the part that stands there, as a fraction at 95 %.
    pub data_fraction: f64,
    /// Watts of the blower table against this machine, as a fraction at 95 %.
    pub table_power_fraction: f64,
    /// Wattmeter: limit, fraction of what it reads.
    pub wattmeter_fraction: f64,
    /// Each of two thermometers: limit.
    pub thermometer: TemperatureRise,
    /// Heat that goes in, as measured, as a fraction at 95 %.
    pub heat_fraction: f64,
    /// Heat by the rating plate against what this machine gives, as a fraction at 95 %.
    pub rated_heat_fraction: f64,
    /// Grilles read by a hood and added up: limit, fraction of their sum.
    pub hood_fraction: f64,
    /// A plate or grid in the filter's slot: limit, fraction of its airflow.
    pub plate_fraction: f64,
    /// Exponent of a path that nobody has split, about 2, at 95 %.
    pub exponent: f64,
    /// The effect of a change that is worked out, or stated by hand, as a fraction of it at 95 %.
    pub change_fraction: f64,
    /// A share of a drop or of an airflow that nobody stated lies from its odds over this to its odds times this, at 95 %.
    pub guessed_odds: f64,
}

impl Default for Accuracy {
    fn default() -> Self {
        Self {
            manometer_fraction: 0.01,
            manometer_floor: Pressure::from_pa(0.2),
            port_offset: Pressure::from_in_wc(0.01),
            reading_scatter: Pressure::from_in_wc(0.005),
            table_fraction: 0.05,
            tap_fraction: 0.02,
            data_fraction: 0.10,
            table_power_fraction: 0.10,
            wattmeter_fraction: 0.03,
            thermometer: TemperatureRise::from_f(1.0),
            heat_fraction: 0.05,
            rated_heat_fraction: 0.10,
            hood_fraction: 0.10,
            plate_fraction: 0.07,
            exponent: 0.2,
            change_fraction: 0.25,
            guessed_odds: 2.0,
        }
    }
}

/// Turns a limit of error into a standard uncertainty: limit / √3.
pub fn from_limit(limit: f64) -> f64 {
    limit / 3.0_f64.sqrt()
}

/// Turns a 95 % figure into a standard uncertainty.
pub const fn from_95(figure: f64) -> f64 {
    figure / COVERAGE
}

/// Coverage factor of the ± that people see: 95 % of a normal distribution.
pub const COVERAGE: f64 = 2.0;

impl Accuracy {
    /// Manometer's limit of error at a reading: the larger of the fraction and the floor.
    pub fn manometer_limit(&self, reading: Pressure) -> Pressure {
        (reading.abs() * self.manometer_fraction).max(self.manometer_floor)
    }
}
