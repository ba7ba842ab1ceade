//! What another air density does, in words: by the motor's own law.

use crate::model::facts::blower::MotorFamily;
use crate::model::facts::limits::SHOWN_DIFFERENCE;
use crate::units::show::{airflow, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// What the air does to the table, by the motor's own law; `more` is what it moves over what it does at a constant speed.
pub(super) fn in_air(
    motor: MotorFamily,
    (tesp, entry): (Pressure, Pressure),
    (ratio, more): (f64, f64),
    units: UnitSystem,
) -> String {
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
            if percent((more - 1.0).abs()) == percent(0.0) {
                format!("{air}: {counts}, and the motor has nothing left to hold the mass with")
            } else {
                format!("{air}: {counts}, and the motor holds the mass as far as it can: {}", than_table(more))
            }
        }
        MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => format!("{air}: {counts}"),
    }
}

/// How far a motor that holds its airflow has to its knee, both on the scale of what was read.
pub(super) fn knee(tesp: Pressure, knee: Pressure, units: UnitSystem) -> String {
    let at = pressure(knee, units);
    if (knee - tesp).abs() <= SHOWN_DIFFERENCE {
        format!("The motor is at its knee at {at}, the most static at which it holds its airflow")
    } else if tesp < knee {
        format!("The motor holds its airflow; {} of static is left to its knee at {at}", pressure(knee - tesp, units))
    } else {
        format!("The motor is past its knee at {at} and no longer holds its airflow")
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
