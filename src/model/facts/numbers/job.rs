//! Numbers of a job that stand at more than one place of it, or at none that is always there: targets, readings, shares, prices.

use crate::model::facts::number::{Number, Range};
use crate::units::quantity::Quantity;

/// A reading past this is questioned: ten times an everyday one, in. w.c.
pub const ODD_READING: f64 = 1.5;
/// Highest static of a residential blower, in. w.c.; more is a slipped decimal point or another unit.
pub const HIGHEST_STATIC: f64 = 5.0;
/// Largest airflow of the machines this program is for, cfm; more is a slipped digit or another unit.
pub const LARGEST_AIRFLOW: f64 = 20_000.0;
/// Least share of the air that a way, a leak or a bypass takes, and as much is left for the others, as a fraction; nothing smaller can be read or sealed, and the drop of ways side by side would be no number (common practice, no source).
pub const LEAST_FLOW: f64 = 1e-6;

/// One look at a manometer.
pub static READING: Number = Number {
    refusal: Some("A reading of {} cannot be; it lies"),
    everyday: Some(ODD_READING),
    first: -0.31,
    // No blower of a house makes more.
    ..Number::new("Reading", Quantity::Pressure, Range::Between(-HIGHEST_STATIC, HIGHEST_STATIC))
};
/// Drop of an element by data.
pub static DROP_BY_DATA: Number = Number {
    file: "drop_in_wc",
    refusal: Some("A drop of {} cannot be; it lies"),
    everyday: Some(ODD_READING),
    first: 0.10,
    // No blower of a house makes more.
    ..Number::new("Drop by data", Quantity::Pressure, Range::Between(0.0, HIGHEST_STATIC))
};
/// Airflow at which an element's drop is published.
pub static AIRFLOW_OF_DROP: Number = Number {
    file: "airflow_cfm",
    refusal: Some("An airflow of {} cannot be; it lies"),
    first: 1200.0,
    // No data sheet prints a drop at less, and no machine of a house moves more.
    ..Number::new("Airflow of the drop", Quantity::Airflow, Range::Between(50.0, LARGEST_AIRFLOW))
};
/// Target as an airflow.
pub static TARGET_AIRFLOW: Number = Number {
    file: "cfm",
    refusal: Some("A target of {} cannot be; it lies"),
    held: Some(Range::Above(0.0)),
    first: 1200.0,
    // No machine of a house moves less or more.
    ..Number::new("Airflow", Quantity::Airflow, Range::Between(50.0, LARGEST_AIRFLOW))
};
/// Target as an airflow for each ton: a quarter to two and a half times the nominal 400.
pub static PER_TON: Number = Number {
    file: "per_ton_cfm",
    refusal: Some("A target of {} cannot be; it lies"),
    usual: Some((350.0, 450.0)),
    held: Some(Range::Above(0.0)),
    first: 400.0,
    // 400 is nominal.
    ..Number::new("Airflow", Quantity::AirflowPerTon, Range::Between(100.0, 1000.0))
};
/// Capacity of residential and light commercial equipment.
pub static CAPACITY: Number = Number {
    file: "capacity_tons",
    refusal: Some("A capacity of {} cannot be; it lies"),
    first: 3.0,
    // Larger machines have other blowers.
    ..Number::new("Outdoor unit", Quantity::Capacity, Range::Between(0.5, 25.0))
};
/// Heat output of a target, the blower's own heat included.
pub static HEAT_OUTPUT: Number = Number {
    file: "output_btuh",
    refusal: Some("A heat output of {} cannot be; it lies"),
    held: Some(Range::Above(0.0)),
    first: 46_000.0,
    // No machine of a house gives less or more.
    ..Number::new("Heat output", Quantity::HeatRate, Range::Between(1_000.0, 500_000.0))
};
/// Temperature rise of a target.
pub static HEAT_RISE: Number = Number {
    file: "rise_f",
    refusal: Some("A temperature rise of {} cannot be; it lies"),
    held: Some(Range::Above(0.0)),
    first: 50.0,
    // No furnace heats its air less or more.
    ..Number::new("Rise", Quantity::TemperatureRise, Range::Between(5.0, 150.0))
};
/// Airflow at one grille, or at several that a hood's reading adds up.
pub static GRILLE_AIRFLOW: Number = Number {
    file: "grilles_cfm",
    refusal: Some("An airflow of {} at a grille cannot be; it lies"),
    first: 110.0,
    // Less no hood shows, and no machine of a house moves more.
    ..Number::new("Grille", Quantity::Airflow, Range::Between(1.0, LARGEST_AIRFLOW))
};
/// An element's share of its stretch.
pub static SHARE: Number = Number {
    file: "share_percent",
    refusal: Some("A share of {} cannot be; it lies"),
    // It is a part of the whole.
    ..Number::new("Share", Quantity::Share, Range::Between(0.0, 1.0))
};
/// A way's share of its group's air.
pub static WAY_FLOW: Number = Number {
    file: "flow_percent",
    refusal: Some("A way with {} of the air cannot be; its share lies"),
    held: Some(Range::Between(0.0, 1.0)),
    first: 0.5,
    // Every way takes some of the air and leaves some.
    ..Number::new("Share of the air", Quantity::Share, Range::Inside(LEAST_FLOW, 1.0 - LEAST_FLOW))
};
/// A leak's share of the air that comes to it.
pub static LEAK_FLOW: Number = Number {
    refusal: Some("A leak of {} of the air cannot be; it lies"),
    first: 0.12,
    // A leak takes some of the air and leaves some.
    ..Number::new("Leak", Quantity::Share, Range::Inside(LEAST_FLOW, 1.0 - LEAST_FLOW))
};
/// Share of the blower's air that a bypass takes (common practice, no source: more would starve the rooms).
pub static BYPASS_FLOW: Number = Number {
    file: "flow_percent",
    refusal: Some("A bypass of {} of the blower's air cannot be; it lies"),
    first: 0.1,
    // More would starve the rooms.
    ..Number::new("Bypass", Quantity::Share, Range::Inside(LEAST_FLOW, 0.9))
};
/// What a change costs.
pub static PRICE: Number = Number {
    file: "price",
    refusal: Some("A price of {} cannot be; it is"),
    first: 120.0,
    // Nobody is paid for being given a fix, and a hundred prices add up.
    ..Number::new("Price", Quantity::Money, Range::Between(0.0, 1e12))
};
/// What of that is labour.
pub static LABOUR: Number = Number {
    file: "labour",
    refusal: Some("Labour of {} cannot be; it is"),
    first: 60.0,
    // A part of the price, which has this range.
    ..Number::new("Labour", Quantity::Money, Range::Between(0.0, 1e12))
};
const fn density_of_a_test(refusal: &'static str) -> Number {
    Number {
        file: "density_lb_ft3",
        refusal: Some(refusal),
        usual: Some((0.075, 0.075)),
        first: 0.075,
        // Standard air has 0.075 lb/ft³.
        ..Number::new("Air density", Quantity::Density, Range::Between(0.03, 0.10))
    }
}
/// Density of the air that a table was made with.
pub static TABLE_DENSITY: Number = density_of_a_test("A table density of {} cannot be; it lies");
/// Density of the air that a part's drop was published in.
pub static PUBLISHED_DENSITY: Number = density_of_a_test("A drop published in air of {} cannot be; it lies");
/// Electric power of a blower.
pub static BLOWER_POWER: Number = Number {
    file: "power_watts",
    refusal: Some("A blower of {} cannot be; it lies"),
    held: Some(Range::Above(0.0)),
    first: 400.0,
    // No blower of a house takes less or more.
    ..Number::new("Blower watts", Quantity::Power, Range::Between(5.0, 10_000.0))
};
