//! What the motor and the air that it breathes do to the table.

use crate::model::facts::blower::{BlowerTable, MotorFamily};
use crate::model::facts::limits::SHOWN_DIFFERENCE;
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air::DENSITY_SHOWN;
use crate::model::verdicts::findings::{Finding, SAME_AIRFLOW};
use crate::model::verdicts::system::{Running, System};
use crate::units::{Airflow, Pressure};

/// What the table says of the tap that runs, and how far its motor is from its knee.
pub(super) fn of_table(table: &BlowerTable, running: &Running, findings: &mut Vec<Finding>) {
    let System { blower, .. } = &running.system;
    let in_use = running.system.running();
    if let Some(tap) = in_use
        && let Some(note) = tap.reached().and_then(|point| point.barred.clone())
    {
        findings.push(Finding::Barred { tap: tap.name.clone(), note });
    }
    let shape = blower.in_use.and_then(|index| blower.shapes.get(index));
    match shape {
        Some(TapShape::Single(_)) => findings.push(Finding::OneRow),
        Some(TapShape::Curve(curve)) if table.motor == MotorFamily::ConstantAirflow => {
            let (entry, tesp, ratio) = (running.now.entry, running.now.tesp, blower.entry_ratio);
            // On the scale of what was read, at which the parts that the table has otherwise stay.
            let as_read = |esp: Pressure| tesp + (esp - entry) * ratio;
            findings.push(match curve.knee() {
                Some(knee) => Finding::Knee { tesp, knee: as_read(knee) },
                None => Finding::NoKnee { end: as_read(curve.last().0) },
            });
        }
        Some(TapShape::Curve(_) | TapShape::Unusable) | None => {}
    }
}

/// What another air than the table's does to static and airflow.
pub(super) fn of_density(running: &Running, findings: &mut Vec<Finding>) {
    let (ratio, entry_ratio) = (running.system.blower.density_ratio, running.system.blower.entry_ratio);
    let (tesp, entry) = (running.now.tesp, running.now.entry);
    if (1.0 - ratio).abs() > DENSITY_SHOWN {
        // Past its knee a motor that holds its airflow does no other than at a constant speed.
        let is_other = |other: &Airflow| (*other / running.now.airflow - 1.0).abs() > SAME_AIRFLOW - 1.0;
        let other_end = running.system.runs().and_then(|point| point.other_end).filter(is_other);
        let more = other_end.map_or(1.0, |other| running.now.airflow / other);
        findings.push(Finding::Density { tesp, entry: tesp / entry_ratio, ratio, more });
        findings.extend(other_end.map(Finding::OtherEnd));
    }
    if (entry - tesp / entry_ratio).abs() > SHOWN_DIFFERENCE {
        findings.push(Finding::Corrected { tesp, entry, ratio: entry_ratio });
    }
}
