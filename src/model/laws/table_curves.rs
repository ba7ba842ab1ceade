//! The taps of a table as curves, at the job's voltage and with a slower wheel.

use crate::model::facts::blower::{BlowerTable, Cell, Row, Tap, TapData};
use crate::model::facts::table_check::{self, TableProblem};
use crate::model::laws::tap_curve::{self, TapShape};

/// The taps of a table as curves, at a factor on its airflow; what its remarks say cannot be used stays in its place as unusable.
pub fn shapes(table: &BlowerTable, problems: &[TableProblem], airflow_factor: f64) -> Vec<TapShape> {
    table
        .taps
        .iter()
        .enumerate()
        .map(|(index, tap)| {
            if table_check::tap_is_usable(problems, index) {
                tap_curve::shape_of(&at_factor(tap, airflow_factor), table.motor)
            } else {
                TapShape::Unusable
            }
        })
        .collect()
}

/// The taps of a table as curves, where the table itself holds, at a factor on its airflow; unusable ones stay in their place.
pub fn sound_shapes(table: &BlowerTable, airflow_factor: f64) -> Vec<TapShape> {
    shapes(table, &table_check::check(table), airflow_factor)
}

/// A tap with its airflows multiplied by a factor (another supply voltage).
pub fn at_factor(tap: &Tap, factor: f64) -> Tap {
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
