//! What costs are reckoned with, and how long prices hold.

use super::{Declared, Maybe, in_job};
use crate::model::facts::number::{Number, Range};
use crate::units::quantity::Quantity;

/// The part of a job's file.
const PART: &str = "Costs";

const fn tax(name: &'static str, file: &'static str, refusal: &'static str) -> Number {
    Number {
        file,
        refusal: Some(refusal),
        first: 0.07,
        // No country takes more than the price itself.
        ..Number::new(name, Quantity::Share, Range::Between(0.0, 1.0))
    }
}

/// Hours that the blower runs in a year, if stated.
pub(super) const FAN_HOURS: Declared = in_job(
    PART,
    Number {
        file: "fan_hours",
        refusal: Some("A blower cannot run for {}; that lies"),
        first: 2_000.0,
        // A leap year has 366 days.
        ..Number::new("Blower runs", Quantity::HoursAYear, Range::Between(0.0, 8_784.0))
    },
    ("hours of the blower", "fan_hours"),
    Maybe(|job| job.costs.fan_hours, |job, hours| job.costs.fan_hours = hours),
);

/// Price of a kilowatt-hour, if stated.
pub(super) const ENERGY_PRICE: Declared = in_job(
    PART,
    Number {
        file: "energy_price_per_kwh",
        refusal: Some("A price of {} cannot be; energy costs"),
        first: 0.15,
        // Whatever the money: yen and forint have hundreds.
        ..Number::new("Energy", Quantity::EnergyPrice, Range::Between(0.0, 10_000.0))
    },
    ("price of energy", "energy_price"),
    Maybe(|job| job.costs.energy_price, |job, price| job.costs.energy_price = price),
);

/// Tax on prices, if stated.
pub(super) const TAX: Declared = in_job(
    PART,
    tax("Tax on prices", "tax_fraction", "A tax of {} cannot be; it lies"),
    ("tax", "tax"),
    Maybe(|job| job.costs.tax, |job, tax| job.costs.tax = tax),
);

/// Tax on labour, if it is another one.
pub(super) const LABOUR_TAX: Declared = in_job(
    PART,
    tax("Tax on labour", "labour_tax_fraction", "A tax on labour of {} cannot be; it lies"),
    ("tax on labour", "labour_tax"),
    Maybe(|job| job.costs.labour_tax, |job, tax| job.costs.labour_tax = tax),
);

/// Days for which prices hold, if stated.
pub(super) const VALID_DAYS: Declared = in_job(
    PART,
    Number {
        file: "prices_hold_days",
        refusal: Some("Prices cannot hold for {} days; that lies"),
        first: 30.0,
        // Nobody binds himself for longer than ten years.
        ..Number::new("Prices hold, days", Quantity::Count, Range::Between(1.0, 3_650.0))
    },
    ("how long prices hold", "prices_hold_days"),
    Maybe(|job| job.costs.valid_days, |job, days| job.costs.valid_days = days),
);
