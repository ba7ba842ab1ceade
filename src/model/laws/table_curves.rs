//! The taps of a table as curves, at the job's voltage, in its air and with a slower wheel.

use crate::model::facts::blower::{BlowerTable, Cell, MotorFamily, Row, Tap, TapData};
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

/// A tap with its airflows multiplied by a factor.
pub(super) fn at_factor(tap: &Tap, factor: f64) -> Tap {
    let data = match &tap.data {
        TapData::Range { airflow, from, to } => TapData::Range { airflow: *airflow * factor, from: *from, to: *to },
        TapData::Column(rows) => TapData::Column(
            rows.iter()
                .map(|row| Row {
                    cell: match &row.cell {
                        Cell::Airflow(airflow, note) => Cell::Airflow(*airflow * factor, note.clone()),
                        gap @ (Cell::NotGiven | Cell::NotAllowed(_)) => gap.clone(),
                    },
                    ..row.clone()
                })
                .collect(),
        ),
    };
    Tap { name: tap.name.clone(), data }
}

/// A tap of a slower or fouled wheel: airflow times `factor`, pressure times its square (fan laws, speed rule); what it then takes and how fast it turns nothing says.
pub fn at_speed(tap: &Tap, factor: f64) -> Tap {
    let squared = factor * factor;
    let data = match at_factor(tap, factor).data {
        TapData::Range { airflow, from, to } => TapData::Range { airflow, from: from * squared, to: to * squared },
        TapData::Column(rows) => {
            let slower = |row: Row| Row { esp: row.esp * squared, cell: row.cell, power: None, speed: None };
            TapData::Column(rows.into_iter().map(slower).collect())
        }
    };
    Tap { name: tap.name.clone(), data }
}
