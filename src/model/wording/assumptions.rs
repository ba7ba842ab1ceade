//! What had to be taken for granted, and which way it errs, in words.

use crate::model::path::tesp::Assumption;
use crate::model::wording::{heat, opinions};
use crate::units::show;

/// Which way an assumption errs, in words.
pub fn assumed(assumption: &Assumption) -> String {
    match assumption {
        Assumption::OutsideDropUnknown(kind) => format!(
            "The {} between port and machine has no drop by data: total external static is at least what is shown, airflow at most",
            kind.name().to_lowercase()
        ),
        Assumption::InsideDropUnknown(kind) => format!(
            "The {} between port and machine belongs to the table and has no drop by data: total external static is at most what is shown, airflow at least",
            kind.name().to_lowercase()
        ),
        Assumption::AsTestedUnknown(kind) => format!(
            "The table was made with the {}, whose drop it does not print, and here it is out or apart from the blower: airflow is on the low side",
            kind.name().to_lowercase()
        ),
        Assumption::WetCoilUnknown => {
            "The coil is wet, the table was made dry and prints no correction: airflow is on the high side".to_owned()
        }
        Assumption::DryCoilUnknown => {
            "The coil is dry, the table was made wet and prints no correction: airflow is on the low side".to_owned()
        }
        Assumption::ReturnOpeningsDiffer => {
            "The return enters in another way than in the test, and the table prints no correction".to_owned()
        }
        Assumption::VoltageDiffers(motor) => heat::other_supply(*motor),
        Assumption::ByData(kind) => format!("The {}'s drop is by data, not read", kind.name().to_lowercase()),
        Assumption::Scaled(by) => opinions::scaled(*by),
        Assumption::ReadOffChart(percent) => format!(
            "The table was digitised from a chart, read to ± {} %: each tap's airflow may be off by that besides what printed tables are",
            show::trimmed(*percent, 2)
        ),
        Assumption::VoltageByTable => "Airflow at this supply voltage follows the table's printed factor".to_owned(),
    }
}
