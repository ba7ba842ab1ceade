//! What is read of a heating call's heat, and how far it may be off.

use super::{Always, Declared, InSet, Maybe, error_share, in_job};
use crate::model::facts::number::{Number, Range};
use crate::units::quantity::Quantity;
use crate::units::{HeatRate, TemperatureRise};

/// Temperature rise, if read.
pub(super) const RISE: Declared = Declared {
    number: Number {
        file: "measured_rise_f",
        refusal: Some("A measured rise of {} cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 55.0,
        // No house's machine heats its air less or more.
        ..Number::new("Measured rise", Quantity::TemperatureRise, Range::Between(2.0, 150.0))
    },
    undo: "measured rise",
    report: "measured_rise",
    stands: InSet(Maybe(
        |set| set.heat.rise.map(TemperatureRise::f),
        |set, value| set.heat.rise = value.map(TemperatureRise::from_f),
    )),
};

/// Heat that goes in, if read.
pub(super) const INPUT: Declared = Declared {
    number: Number {
        file: "heat_input_btuh",
        refusal: Some("A heat input of {} cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 80_000.0,
        // No machine of a house takes less or more.
        ..Number::new("Heat input", Quantity::HeatRate, Range::Between(1_000.0, 500_000.0))
    },
    undo: "heat input",
    report: "heat_input",
    stands: InSet(Maybe(
        |set| set.heat.input.map(HeatRate::btuh),
        |set, value| set.heat.input = value.map(HeatRate::from_btuh),
    )),
};

/// Part of a burner's input that the air gets, if known.
pub(super) const EFFICIENCY: Declared = Declared {
    number: Number {
        file: "burner_efficiency",
        refusal: Some("A burner efficiency of {} cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 0.8,
        // Less is no burner that runs, and no more heat comes out than goes in.
        ..Number::new("Burner efficiency", Quantity::Share, Range::Between(0.4, 1.0))
    },
    undo: "burner efficiency",
    report: "burner_efficiency",
    stands: InSet(Maybe(|set| set.heat.efficiency, |set, value| set.heat.efficiency = value)),
};

/// Time of a turn of the gas meter's dial, if clocked.
pub(super) const METER_SECONDS: Declared = Declared {
    number: Number {
        file: "meter_turn_seconds",
        refusal: Some("A turn of {} cannot be clocked; it lies"),
        held: Some(Range::Above(0.0)),
        first: 45.0,
        // Nobody clocks a turn faster or slower.
        ..Number::new("Meter, a turn", Quantity::Seconds, Range::Between(1.0, 3_600.0))
    },
    undo: "clocked meter",
    report: "meter_turn",
    stands: InSet(Maybe(|set| set.heat.meter_seconds, |set, value| set.heat.meter_seconds = value)),
};

/// Gas of that turn.
pub(super) const METER_DIAL: Declared = Declared {
    number: Number {
        file: "meter_dial_ft3",
        refusal: Some("A dial of {} cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 1.0,
        // Dials of houses' meters turn once for this much (common practice, no source).
        ..Number::new("Meter, its dial", Quantity::GasVolume, Range::Between(0.01, 100.0))
    },
    undo: "meter's dial",
    report: "meter_dial",
    stands: InSet(Maybe(|set| set.heat.meter_dial, |set, value| set.heat.meter_dial = value)),
};

/// Heating value of the gas, if known.
pub(super) const HEATING_VALUE: Declared = Declared {
    number: Number {
        file: "heating_value_btu_ft3",
        refusal: Some("A heating value of {} cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 1_000.0,
        // From lean gas to butane (common practice, no source).
        ..Number::new("Heating value", Quantity::HeatingValue, Range::Between(300.0, 4_000.0))
    },
    undo: "heating value",
    report: "heating_value_btu",
    stands: InSet(Maybe(|set| set.heat.heating_value, |set, value| set.heat.heating_value = value)),
};

/// Current that electric elements take, if read.
pub(super) const AMPS: Declared = Declared {
    number: Number {
        file: "heater_amps",
        refusal: Some("A current of {} into the elements cannot be; it lies"),
        held: Some(Range::Above(0.0)),
        first: 42.0,
        // The smallest element of a house at three phases, the largest bank at one.
        ..Number::new("Heater's current", Quantity::Current, Range::Between(1.0, 600.0))
    },
    undo: "heater's current",
    report: "heater_amps",
    stands: InSet(Maybe(|set| set.heat.amps, |set, value| set.heat.amps = value)),
};

/// Each thermometer's error.
pub(super) const THERMOMETER: Declared = in_job(
    "Accuracy",
    Number {
        file: "thermometer_f",
        refusal: Some("A thermometer's error of {} cannot be; it lies"),
        first: 1.0,
        source: "Assumed: each of two thermometers of the trade",
        // No rise would be left.
        ..Number::new("Thermometer's error", Quantity::TemperatureRise, Range::Between(0.0, 20.0))
    },
    ("thermometer's error", "thermometer"),
    Always(|job| job.accuracy.thermometer.f(), |job, f| job.accuracy.thermometer = TemperatureRise::from_f(f)),
);

/// Error of the heat that goes in.
pub(super) const INPUT_ERROR: Declared = in_job(
    "Accuracy",
    Number {
        file: "heat_fraction",
        ..error_share(
            "Heat input's error",
            "An error of the heat input of {} cannot be; it lies",
            0.05,
            "Assumed, at 95 %: the gas's heating value, the clock, the flue's loss",
        )
    },
    ("heat input's error", "heat_fraction"),
    Always(|job| job.accuracy.heat_fraction, |job, share| job.accuracy.heat_fraction = share),
);

/// Error of the heat by the rating plate.
pub(super) const RATED_ERROR: Declared = in_job(
    "Accuracy",
    Number {
        file: "rated_heat_fraction",
        ..error_share(
            "Rated heat's error",
            "An error of the rated heat of {} cannot be; it lies",
            0.10,
            "Assumed, at 95 %: gas pressure, orifices and supply are as found",
        )
    },
    ("rated heat's error", "rated_heat_fraction"),
    Always(|job| job.accuracy.rated_heat_fraction, |job, share| job.accuracy.rated_heat_fraction = share),
);
