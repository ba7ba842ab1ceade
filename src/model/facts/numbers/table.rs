//! Numbers of a blower table; every range is common practice without a source.

use crate::model::facts::number::{Number, Range};
use crate::model::facts::numbers::job::{BLOWER_POWER, HIGHEST_STATIC, LARGEST_AIRFLOW, ODD_READING};
use crate::units::Pressure;
use crate::units::quantity::Quantity;

/// Least rise of static from one row to the next, and from end to end of a range: half of the last digit that a table prints.
pub const LEAST_STEP: Pressure = Pressure::from_in_wc(0.0005);

/// Static pressure of a row, or an end of a range.
pub static STATIC: Number = Number {
    refusal: Some("A row of {} cannot be; tables run"),
    held: Some(Range::Between(-10.0, 10.0)),
    usual: Some((0.1, 1.2)),
    everyday: Some(ODD_READING),
    first: 0.5,
    // No blower of a house makes more.
    ..Number::new("Static pressure", Quantity::Pressure, Range::Between(0.0, HIGHEST_STATIC))
};
/// Airflow of a cell or a range, and a heating stage's least.
pub static AIRFLOW: Number = Number {
    refusal: Some("An airflow of {} cannot be; it lies"),
    held: Some(Range::Any),
    first: 1200.0,
    // No table of a house's machine prints less or more.
    ..Number::new("Airflow", Quantity::Airflow, Range::Between(10.0, LARGEST_AIRFLOW))
};
/// Watts of a cell.
pub static WATTS: Number =
    Number { refusal: Some("A power of {} cannot be; it lies"), held: Some(Range::Any), ..BLOWER_POWER };
/// Turning speed of a cell.
pub static RPM: Number = Number {
    refusal: Some("A speed of {} cannot be; it lies"),
    held: Some(Range::Any),
    first: 900.0,
    // No blower of a house turns slower or faster.
    ..Number::new("Rpm", Quantity::Speed, Range::Between(50.0, 5000.0))
};
/// Rated maximum of the static.
pub static RATED_MAXIMUM: Number = Number {
    refusal: Some("Rated maximum {} cannot be; it lies"),
    usual: Some((0.1, 2.0)),
    first: 0.5,
    // No plate of a house's machine says more.
    ..Number::new("Rated maximum", Quantity::Pressure, Range::Between(0.01, HIGHEST_STATIC))
};
/// Supply voltage that a table was made at, or that another airflow is said for.
pub static VOLTS: Number = Number {
    refusal: Some("A supply of {} cannot be; it lies"),
    first: 230.0,
    // Blowers run on 24 to 600 V.
    ..Number::new("Voltage", Quantity::Voltage, Range::Between(10.0, 700.0))
};
/// What a table's airflows may be off by for having been read off a picture, percent.
pub static READING_ERROR: Number = Number {
    refusal: Some("A reading error of {} % cannot be; it lies"),
    first: 1.0,
    // What is read worse than that is no table.
    ..Number::new("Reading error", Quantity::Ratio, Range::Between(0.0, 20.0))
};
/// Airflow at another voltage over the table's.
pub static AIRFLOW_FACTOR: Number = Number {
    refusal: Some("An airflow of {} times the table's at another voltage cannot be; it lies"),
    first: 0.97,
    // A motor stalls below and is another one above.
    ..Number::new("Airflow at another voltage", Quantity::Ratio, Range::Between(0.5, 1.2))
};
