//! Quantities as a table prints them: short numbers that read back exactly.

use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::units::{Airflow, Pressure, text};

/// Most decimals of a number that counts as printed in a unit.
const PRINTED_DECIMALS: usize = 3;

/// An airflow as a bare number of its unit, or with `cfm` where only that is exact.
pub(super) fn airflow_text(airflow: Airflow, unit: AirflowUnit) -> String {
    short_airflow(airflow, unit).unwrap_or_else(|| format!("{} cfm", airflow.cfm()))
}

/// A pressure as a bare number of its unit, or with `in. w.c.` where only that is exact.
pub(super) fn pressure_text(pressure: Pressure, unit: PressureUnit) -> String {
    short_pressure(pressure, unit).unwrap_or_else(|| format!("{} in. w.c.", pressure.in_wc()))
}

/// An airflow as a short bare number of a unit; nothing where none is exact.
pub(super) fn short_airflow(airflow: Airflow, unit: AirflowUnit) -> Option<String> {
    short(unit.system().airflow_number(airflow), 0, |typed| text::airflow(typed, unit.system()) == Ok(airflow))
}

/// A pressure likewise.
pub(super) fn short_pressure(pressure: Pressure, unit: PressureUnit) -> Option<String> {
    let system = unit.system();
    short(system.pressure_number(pressure), system.pressure_decimals(), |typed| {
        text::pressure(typed, system) == Ok(pressure)
    })
}

/// The shortest printed form that reads back as the same number.
fn short(number: f64, least_decimals: usize, is_same: impl Fn(&str) -> bool) -> Option<String> {
    (least_decimals..=PRINTED_DECIMALS).map(|decimals| format!("{number:.decimals$}")).find(|typed| is_same(typed))
}

/// The first of some numbers that reads back the same when printed short, else the first with its unit.
pub(super) fn exact(numbers: &[f64], unit: &str, is_same: impl Fn(&str) -> bool) -> String {
    let found = numbers.iter().find_map(|number| short(*number, 0, &is_same));
    found.unwrap_or_else(|| format!("{}{unit}", numbers.first().copied().unwrap_or_default()))
}
