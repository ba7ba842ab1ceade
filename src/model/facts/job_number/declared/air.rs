//! The air that the blower breathes.

use super::{Always, Declared, InSet, Maybe};
use crate::model::facts::number::{Number, Range};
use crate::units::quantity::Quantity;
use crate::units::{Altitude, Barometer, Temperature};

/// Height of the house.
pub(super) const ALTITUDE: Declared = Declared {
    number: Number {
        file: "altitude_ft",
        refusal: Some("An altitude of {} cannot be; houses stand"),
        // Below the Dead Sea's shore nobody lives, and the standard atmosphere's first layer ends at 36,089 ft.
        ..Number::new("Altitude", Quantity::Altitude, Range::Between(-1500.0, 20_000.0))
    },
    undo: "altitude",
    report: "altitude",
    stands: InSet(Always(|set| set.air.altitude.ft(), |set, ft| set.air.altitude = Altitude::from_ft(ft))),
};

/// Temperature of the return air.
pub(super) const TEMPERATURE: Declared = Declared {
    number: Number {
        file: "temperature_f",
        refusal: Some("Return air of {} cannot be; it lies"),
        first: 70.0,
        // From a frozen house to a test oven (common practice, no source).
        ..Number::new("Return air", Quantity::Temperature, Range::Between(-40.0, 150.0))
    },
    undo: "temperature",
    report: "temperature",
    stands: InSet(Always(|set| set.air.temperature.f(), |set, f| set.air.temperature = Temperature::from_f(f))),
};

/// Relative humidity of the return air.
pub(super) const HUMIDITY: Declared = Declared {
    number: Number {
        file: "humidity_percent",
        refusal: Some("A relative humidity of {} cannot be; it lies"),
        first: 0.5,
        // Air holds no more water.
        ..Number::new("Humidity", Quantity::Share, Range::Between(0.0, 1.0))
    },
    undo: "humidity",
    report: "humidity",
    stands: InSet(Always(|set| set.air.humidity, |set, share| set.air.humidity = share)),
};

/// Pressure read at the place, if it was.
pub(super) const STATION_PRESSURE: Declared = Declared {
    number: Number {
        file: "station_pressure_in_hg",
        refusal: Some("A station pressure of {} cannot be; it lies"),
        first: 101.325,
        // Weather makes no other where people live.
        ..Number::new(
            "Barometer",
            Quantity::Barometer,
            // The standard atmosphere at the ends of the altitude, and what weather moves it by: a test holds that.
            Range::Between(44.234_938_014_952_89, 112.286_295_103_677_4),
        )
    },
    undo: "station pressure",
    report: "station_pressure",
    stands: InSet(Maybe(
        |set| set.air.station_pressure.map(Barometer::kpa),
        |set, kpa| set.air.station_pressure = kpa.map(Barometer::from_kpa),
    )),
};
