//! The taps of a table as curves, at the job's voltage and in its air.

use crate::model::facts::blower::{BlowerTable, MotorFamily, Tap};
use crate::model::facts::table_check::{self, TableProblem};
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;

/// What the job makes of a table's own figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Factor on its airflow for the supply voltage.
    pub airflow_factor: f64,
    /// Density at the blower's inlet over the table's.
    pub density_ratio: f64,
}

impl Conditions {
    /// A sound tap of a motor family in them, as a curve.
    pub fn shape(self, tap: &Tap, motor: MotorFamily) -> TapShape {
        thin_air::in_air(tap, motor, self.density_ratio).moving(self.airflow_factor)
    }
}

/// The taps of a table as curves, in a job's conditions; what its remarks say cannot be used stays in its place as unusable.
pub fn shapes(table: &BlowerTable, problems: &[TableProblem], conditions: Conditions) -> Vec<TapShape> {
    table
        .taps
        .iter()
        .enumerate()
        .map(|(index, tap)| {
            if table_check::tap_is_usable(problems, index) {
                conditions.shape(tap, table.motor)
            } else {
                TapShape::Unusable
            }
        })
        .collect()
}

/// The taps of a table as curves, where the table itself holds, in a job's conditions; unusable ones stay in their place.
pub fn sound_shapes(table: &BlowerTable, conditions: Conditions) -> Vec<TapShape> {
    shapes(table, &table_check::check(table), conditions)
}
