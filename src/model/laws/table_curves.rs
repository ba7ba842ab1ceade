//! The taps of a table as curves, at the job's voltage and in its air.

use std::borrow::Cow;

use crate::model::facts::blower::{BlowerTable, MotorFamily, Tap};
use crate::model::facts::table_check::{self, TableProblem};
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;

/// What the job makes of a table's own figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Factor on its airflow: for the supply voltage, and what it is scaled by.
    pub airflow_factor: f64,
    /// A tap with a factor of its own besides.
    pub tap_factor: Option<(usize, f64)>,
    /// Density at the blower's inlet over the table's.
    pub density_ratio: f64,
}

impl Conditions {
    /// A sound tap of a motor family in them, as a curve.
    fn shape(self, tap: &Tap, motor: MotorFamily) -> TapShape {
        thin_air::in_air(tap, motor, self.density_ratio).moving(self.airflow_factor)
    }

    /// Taps of a table's motor in them, read as its own were, as curves; nothing stands for one that cannot be used.
    pub fn shapes<'t>(self, taps: impl Iterator<Item = Option<Cow<'t, Tap>>>, table: &BlowerTable) -> Vec<TapShape> {
        let shape = |tap: Option<Cow<'_, Tap>>| tap.map_or(TapShape::Unusable, |tap| self.shape(&tap, table.motor));
        let own = |index: usize| self.tap_factor.filter(|(tap, _)| *tap == index).map_or(1.0, |(_, factor)| factor);
        let shapes = thin_air::of_one_motor(taps.map(shape).collect()).into_iter().enumerate();
        shapes.map(|(index, shape)| shape.moving(own(index)).read_off(table.basis.reading_error)).collect()
    }
}

/// The taps of a table as curves, in a job's conditions; what its remarks say cannot be used stays in its place as unusable.
pub fn shapes(table: &BlowerTable, problems: &[TableProblem], conditions: Conditions) -> Vec<TapShape> {
    let usable = |(index, tap)| table_check::tap_is_usable(problems, index).then_some(Cow::Borrowed(tap));
    conditions.shapes(table.taps.iter().enumerate().map(usable), table)
}

/// The taps of a table as curves, where the table itself holds, in a job's conditions; unusable ones stay in their place.
pub fn sound_shapes(table: &BlowerTable, conditions: Conditions) -> Vec<TapShape> {
    shapes(table, &table_check::check(table), conditions)
}
