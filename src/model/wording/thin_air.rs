//! What another air density does, in words: by the motor's own law.

use crate::model::facts::blower::MotorFamily;
use crate::units::show::{airflow, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// What the air does to the table, by the motor's own law.
pub(super) fn in_air(motor: MotorFamily, (tesp, entry): (Pressure, Pressure), ratio: f64, units: UnitSystem) -> String {
    let which = if ratio < 1.0 { "thinner" } else { "denser" };
    let air = format!("Air is {} {which} than the table's", percent((1.0 - ratio).abs()));
    let counts = format!("{} counts as {} there", pressure_bare(tesp, units), pressure(entry, units));
    let than_table = |factor: f64| {
        let which = if factor > 1.0 { "more" } else { "less" };
        format!("{} {which} air than the table says", percent((factor - 1.0).abs()))
    };
    match motor {
        MotorFamily::ConstantTorque => {
            let speed = if ratio < 1.0 { "faster" } else { "slower" };
            let moves = than_table(1.0 / ratio.sqrt());
            format!(
                "{air}: the motor holds its torque and turns {speed}, so the table is entered as read and it moves {moves}"
            )
        }
        MotorFamily::ConstantAirflow => {
            format!("{air}: {counts}, and up to its knee the motor holds the mass: {}", than_table(1.0 / ratio))
        }
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => format!("{air}: {counts}"),
    }
}

/// The airflow by the other law that could hold.
pub(super) fn other_end(motor: MotorFamily, other: Airflow, units: UnitSystem) -> String {
    let other = airflow(other, units);
    match motor {
        MotorFamily::ConstantTorque | MotorFamily::ConstantAirflow => {
            format!("If the motor cannot follow, at a constant speed it moves {other} in this air")
        }
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => {
            format!("In this air the motor may move {other}: the figure shown is for a constant speed")
        }
    }
}

/// Both airflows that the motor may move in this air.
pub(super) fn either(motor: MotorFamily, other: Airflow, own: Airflow, units: UnitSystem) -> String {
    let (other, own) = (airflow(other, units), airflow(own, units));
    match motor {
        MotorFamily::ConstantTorque | MotorFamily::ConstantAirflow => {
            format!("{other} at a constant speed, {own} by the law of its motor")
        }
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => {
            format!("{own} at a constant speed, {other} if the motor speeds up")
        }
    }
}
