//! What altitude and supply do to heat and to motors, and watts against the table's, in words.

use crate::model::facts::blower::{BlowerTable, MotorFamily};
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::second_airflow::SecondAirflow;
use crate::model::verdicts::system::Running;
use crate::units::show::{self, airflow, airflow_bare, percent, power_bare};
use crate::units::{Power, UnitSystem};

/// That heat is taken lower, and for what; nothing where it is not.
pub(super) fn lost(table: &BlowerTable, share: f64) -> String {
    if share >= 1.0 {
        return String::new();
    }
    let lower = percent(1.0 - share);
    if table.kind.burns() {
        format!(", the burner's heat taken {lower} lower at this altitude")
    } else {
        format!(", electric heat taken {lower} lower at this voltage")
    }
}

/// That the rise which is headlined is worked with less heat than the plate says.
pub(super) fn of_rise(job: &Job, running: &Running) -> Option<String> {
    let rise = running.system.runs()?.rise_of(running.system.blower.call)?;
    let lost = lost(job.machine.as_ref()?, rise.heat_share);
    let lost = lost.strip_prefix(", ").filter(|_| rise.side.is_some())?;
    Some(format!("The rise is worked with {lost} (assumed)"))
}

/// What another supply than the table's does, by the motor's family, where the table prints nothing.
pub(super) fn other_supply(motor: MotorFamily) -> String {
    let counts = match motor {
        MotorFamily::PermanentSplitCapacitor => {
            ": a PSC motor moves 5 % less at 208 than at 230 V, and in that proportion it is counted"
        }
        MotorFamily::ConstantTorque => ": its motor holds its torque, so the table's airflow is taken",
        MotorFamily::ConstantAirflow => ": its motor holds its airflow, so the table's is taken",
        MotorFamily::Unstated => "",
    };
    format!("The supply voltage is not the table's, and the table prints no correction{counts}")
}

/// Airflow by rise and heat against the table's: that they agree, or what usually is wrong where they do not.
pub(super) fn second_airflow(second: &SecondAirflow, word: &str, units: UnitSystem) -> String {
    let bare = |spread| show::spread_bare(spread, units);
    let heat = if second.is_rated { "the rated heat, not measured," } else { "the heat put in" };
    let by_heat = format!(
        "By the rise read and {heat} the blower moves {}, ± {}",
        airflow(second.airflow, units),
        bare(second.spread)
    );
    let table = format!("the table's {}, ± {}", airflow_bare(second.table, units), bare(second.table_spread));
    if second.agrees() {
        return format!("{by_heat}: that agrees with {table}");
    }
    let usual = if second.airflow < second.table {
        format!(
            "a dirty wheel, low voltage, another {word} than said, another table, a thermometer in sight of the heat"
        )
    } else {
        format!("another {word} than said, another table, or less heat than said")
    };
    format!("{by_heat}, not {table}: find out which before anything is changed; usual causes are {usual}")
}

/// Watts as read against the table's.
pub(super) fn watts_differ(read: Power, table: Power, spread: Power) -> String {
    let usual = if read.watts() > table.watts() {
        "another tap than said, high voltage, a reading of static that is too low or another table"
    } else {
        "another tap than said, low voltage, a dirty wheel or another table"
    };
    format!(
        "The blower takes {} W where the table gives {} at this point, ± {}: usual causes are {usual}",
        power_bare(read),
        power_bare(table),
        power_bare(spread)
    )
}
