//! A tap's rows with other airflows.

use crate::model::facts::blower::{Cell, Row, Tap, TapData};
use crate::units::Airflow;

/// A tap with every airflow as `law` has it.
pub(super) fn with_airflows(tap: &Tap, law: impl Fn(Airflow) -> Airflow) -> Tap {
    let row = |row: &Row| Row {
        cell: match &row.cell {
            Cell::Airflow(airflow, note) => Cell::Airflow(law(*airflow), note.clone()),
            gap @ (Cell::NotGiven | Cell::NotAllowed(_)) => gap.clone(),
        },
        ..row.clone()
    };
    let data = match &tap.data {
        TapData::Range { airflow, from, to } => TapData::Range { airflow: law(*airflow), from: *from, to: *to },
        TapData::Column(rows) => TapData::Column(rows.iter().map(row).collect()),
    };
    Tap { name: tap.name.clone(), data }
}

/// A tap of a slower or fouled wheel: airflow times `factor`, pressure times its square (fan laws, speed rule); what it then takes and how fast it turns nothing says.
pub fn at_speed(tap: &Tap, factor: f64) -> Tap {
    let squared = factor * factor;
    let data = match with_airflows(tap, |airflow| airflow * factor).data {
        TapData::Range { airflow, from, to } => TapData::Range { airflow, from: from * squared, to: to * squared },
        TapData::Column(rows) => {
            let slower = |row: Row| Row { esp: row.esp * squared, cell: row.cell, power: None, speed: None };
            TapData::Column(rows.into_iter().map(slower).collect())
        }
    };
    Tap { name: tap.name.clone(), data }
}
