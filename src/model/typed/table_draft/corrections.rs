//! Corrections as text: `0.04 at 1000; 0.07 at 1400`, `0.10 at 1200, exponent 1.2`, `208 V: 0.97`.

use crate::model::facts::blower::{Corrections, LowVoltage};
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::model::typed::table_draft::printed::{airflow_text, pressure_text};
use crate::model::typed::table_draft::{AirflowUnit, Correction, DraftHead, PressureUnit};
use crate::units::{Voltage, text};

/// How drop data are typed, for a sentence.
const FORM: &str = "drop at airflow, as in \"0.04 at 1000; 0.07 at 1400\" or \"0.10 at 1200, exponent 1.2\"";

/// The texts of a table's corrections.
pub(super) fn texts(corrections: &Corrections, airflow: AirflowUnit, pressure: PressureUnit) -> [String; 5] {
    Correction::ALL.map(|which| match which {
        Correction::LowVoltage => corrections
            .low_voltage
            .map(|low| format!("{} V: {}", low.voltage.volts(), low.airflow_factor))
            .unwrap_or_default(),
        Correction::FilterAsTested | Correction::WetCoil | Correction::Heater | Correction::OneSideReturn => {
            drop_of(corrections, which).map(|data| drop_text(data, airflow, pressure)).unwrap_or_default()
        }
    })
}

fn drop_of(corrections: &Corrections, which: Correction) -> Option<&DropData> {
    match which {
        Correction::FilterAsTested => corrections.filter_as_tested.as_ref(),
        Correction::WetCoil => corrections.wet_coil.as_ref(),
        Correction::Heater => corrections.heater.as_ref(),
        Correction::OneSideReturn => corrections.one_side_return.as_ref(),
        Correction::LowVoltage => None,
    }
}

fn drop_text(data: &DropData, airflow: AirflowUnit, pressure: PressureUnit) -> String {
    let point =
        |(flow, drop): &(_, _)| format!("{} at {}", pressure_text(*drop, pressure), airflow_text(*flow, airflow));
    let points: Vec<String> = data.points().iter().map(point).collect();
    let exponent = if data.exponent().to_bits() == SQUARE_LAW.to_bits() {
        String::new()
    } else {
        format!(", exponent {}", data.exponent())
    };
    format!("{}{exponent}", points.join("; "))
}

/// Reads all corrections; each that cannot be goes to `refuse` with its sentence and is left out.
pub(super) fn read(head: &DraftHead, mut refuse: impl FnMut(Correction, String)) -> Corrections {
    let mut found = Corrections::default();
    for (which, text) in Correction::ALL.into_iter().zip(&head.corrections) {
        if text.trim().is_empty() {
            continue;
        }
        let outcome = if which == Correction::LowVoltage {
            low_voltage(text).map(|low| found.low_voltage = Some(low))
        } else {
            drop_data(text, head).map(|data| put(&mut found, which, data))
        };
        if let Err(why) = outcome {
            refuse(which, format!("{}: {why}", which.name()));
        }
    }
    found
}

fn put(found: &mut Corrections, which: Correction, data: DropData) {
    match which {
        Correction::FilterAsTested => found.filter_as_tested = Some(data),
        Correction::WetCoil => found.wet_coil = Some(data),
        Correction::Heater => found.heater = Some(data),
        Correction::OneSideReturn => found.one_side_return = Some(data),
        Correction::LowVoltage => {}
    }
}

fn drop_data(text: &str, head: &DraftHead) -> Result<DropData, String> {
    let (points, exponent) = match text.split_once(", exponent") {
        Some((points, exponent)) => (points, Some(exponent)),
        None => (text, None),
    };
    let wrong = || format!("\"{}\" is not {FORM}", text.trim());
    let exponent = exponent.map_or(Some(SQUARE_LAW), |text| text.trim().parse().ok()).ok_or_else(wrong)?;
    let point = |text: &str| {
        let (drop, flow) = text.split_once(" at ")?;
        Some((
            text::airflow(flow, head.airflow_unit.system()).ok()?,
            text::pressure(drop, head.pressure_unit.system()).ok()?,
        ))
    };
    let points: Option<Vec<_>> = points.split(';').map(point).collect();
    let units = head.pressure_unit.system();
    DropData::new(points.ok_or_else(wrong)?, exponent).map_err(|error| error.sentence(units))
}

fn low_voltage(text: &str) -> Result<LowVoltage, String> {
    let wrong = || format!("\"{}\" is not a voltage and a factor of airflow, as in \"208 V: 0.97\"", text.trim());
    let (volts, factor) = text.split_once(':').ok_or_else(wrong)?;
    let voltage: Voltage = text::voltage(volts).ok().ok_or_else(wrong)?;
    let airflow_factor: f64 = factor.trim().parse().ok().ok_or_else(wrong)?;
    Ok(LowVoltage { voltage, airflow_factor })
}
