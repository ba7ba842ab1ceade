//! What altitude and supply do to heat and to motors, in words.

use crate::model::facts::blower::{BlowerTable, Call, HeatStage, MotorFamily};
use crate::model::facts::job::Job;
use crate::model::verdicts::system::{Running, System};
use crate::model::verdicts::taps::{LeastSide, RiseSide, StageRise, TapAnswer, TapPoint};
use crate::units::UnitSystem;
use crate::units::show::{self, airflow, airflow_bare, percent, rise_bare};

/// "Rise 52 °F, ± 3, in the plate's 40 to 70", where the call heats and the plate has a range.
pub(super) fn rise_of_call(job: &Job, system: &System, units: UnitSystem) -> Option<String> {
    let stage = system.heats(job).filter(|stage| stage.side.is_some())?;
    Some(super::capital(&rise_told(system.blower.table(job)?, &stage, "", units)))
}

/// "Less than the 1,100 cfm that this heat needs", or that they are kept or missed within ±, where the call heats.
pub(super) fn least_of_call(job: &Job, system: &System, units: UnitSystem) -> Option<String> {
    let air = system.heats(job)?.least_air?;
    let least = format!("the {} that this heat needs", airflow(air.least, units));
    match (air.side, system.runs().filter(|_| air.is_in_doubt())) {
        (LeastSide::Kept, _) => None,
        (_, Some(TapPoint { below: Some(_), .. })) => {
            Some(format!("Whether that is {least} cannot be told: it is extrapolated"))
        }
        (_, Some(point)) => {
            let by = airflow_bare(show::gained_as_shown(air.least, point.airflow(), units).abs(), units);
            let side = if air.is_missed() { "under" } else { "over" };
            Some(format!("At {least}, {side} by {by}, less than its ±"))
        }
        (LeastSide::JustKept | LeastSide::JustMissed | LeastSide::Missed, None) => Some(format!("Less than {least}")),
    }
}

/// "52 °F on tap 4, ± 3", or, off the table, "at least 66 °F on tap 4, extrapolated about 72".
pub(super) fn rise_figure(stage: &StageRise, on: &str, units: UnitSystem) -> String {
    let told = |rise| format!("{}{on}", show::rise(rise, units));
    let about = rise_bare(stage.rise, units);
    match stage.at_least {
        None => format!("{}, ± {}", told(stage.rise), rise_bare(stage.spread, units)),
        Some(bound) if rise_bare(bound, units) == about => format!("at least {}", told(bound)),
        Some(bound) => format!("at least {}, extrapolated about {about}", told(bound)),
    }
}

/// The rise of every heating stage on the tap that its call runs, on the tap in use where that call runs or the table names none: the sentence, and whether it needs a look.
///
/// "Heating, high: rise 52 °F on tap 4, in the plate's 40 to 70". A tap that does not meet the path says nothing.
pub fn rises(table: &BlowerTable, taps: &[TapAnswer], runs: Call, units: UnitSystem) -> Vec<(String, bool)> {
    let of_stage = |(index, stage): (usize, &HeatStage)| {
        let own = table.tap_of_call(stage.call).filter(|_| stage.call != runs);
        let tap = taps.iter().find(|tap| own.map_or(tap.in_use, |own| tap.name == own))?;
        let found = tap.reached()?.rises.get(index)?;
        let on = format!(" on {} {}", table.motor.tap_word(), tap.name);
        Some((rise_on(table, found, &on, units), !found.is_fine()))
    };
    table.heating.iter().enumerate().filter_map(of_stage).collect()
}

/// The rise of a heating stage against the plate: "Heating, high: rise 52 °F, in the plate's 40 to 70".
pub fn rise(table: &BlowerTable, stage: &StageRise, units: UnitSystem) -> String {
    rise_on(table, stage, "", units)
}

fn rise_on(table: &BlowerTable, stage: &StageRise, on: &str, units: UnitSystem) -> String {
    let least = stage.least_air.and_then(|air| {
        let side = match air.side {
            LeastSide::Kept => return None,
            LeastSide::JustKept => "over the {}, but the ± reaches under it",
            LeastSide::JustMissed => "under the {}, but the ± reaches over it",
            LeastSide::Missed => "under the {}",
        };
        let least = format!("{} that this heat needs", airflow(air.least, units));
        Some(format!("; {}", side.replace("{}", &least)))
    });
    let lost = lost(table, stage.heat_share);
    format!("{}: {}{}{lost}", stage.call.name(), rise_told(table, stage, on, units), least.unwrap_or_default())
}

/// "rise 52 °F on tap 4, ± 3, in the plate's 40 to 70".
fn rise_told(table: &BlowerTable, stage: &StageRise, on: &str, units: UnitSystem) -> String {
    format!("rise {}", rise_and_range(table, stage, on, units))
}

/// "52 °F on tap 4, ± 3, in the plate's 40 to 70".
pub(super) fn rise_and_range(table: &BlowerTable, stage: &StageRise, on: &str, units: UnitSystem) -> String {
    let range = table.heat_stage(stage.call).and_then(|stage| stage.rise);
    let range = range.map(|(low, high)| format!("{} to {}", rise_bare(low, units), rise_bare(high, units)));
    let side = match (stage.side, range) {
        (Some(_), Some(range)) if stage.at_limit.is_some() => format!(", at the limit of the plate's {range}"),
        (Some(RiseSide::OverRange), Some(range)) => format!(", over the plate's {range}"),
        (Some(RiseSide::UnderRange), Some(range)) => format!(", under the plate's {range}"),
        (Some(RiseSide::InRange), Some(range)) => format!(", in the plate's {range}"),
        (None, _) | (_, None) => String::new(),
    };
    format!("{}{side}", rise_figure(stage, on, units))
}

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
