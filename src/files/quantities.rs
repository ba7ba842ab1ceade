//! How files hold the model's quantities: each as a bare number of the unit that its field's name, or the file's head, says.
//!
//! A unit is named in `#[serde_as(as = "…")]`, within options, lists and pairs too; the model's own types never see serde.

use serde::{Deserialize as _, Deserializer, Serializer};
use serde_with::{DeserializeAs, SerializeAs};

use crate::model::facts::plain_text::one_line;
use crate::units::{
    Airflow, Altitude, Capacity, Density, Dimension, HeatRate, Length, Power, Pressure, Temperature, TemperatureRise,
    Velocity, Voltage,
};

/// One adaptor for each quantity.
macro_rules! in_unit {
    ($($unit:ident: $quantity:ident, $from:ident, $to:ident;)+) => {$(
        pub(super) struct $unit;

        impl SerializeAs<$quantity> for $unit {
            fn serialize_as<S: Serializer>(quantity: &$quantity, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(quantity.$to())
            }
        }

        impl<'de> DeserializeAs<'de, $quantity> for $unit {
            fn deserialize_as<D: Deserializer<'de>>(deserializer: D) -> Result<$quantity, D::Error> {
                f64::deserialize(deserializer).map($quantity::$from)
            }
        }
    )+};
}

in_unit! {
    Cfm: Airflow, from_cfm, cfm;
    InWc: Pressure, from_in_wc, in_wc;
    Feet: Length, from_ft, ft;
    Inches: Dimension, from_in, inches;
    FeetHigh: Altitude, from_ft, ft;
    Fahrenheit: Temperature, from_f, f;
    FahrenheitRise: TemperatureRise, from_f, f;
    Tons: Capacity, from_tons, tons;
    BtuPerHour: HeatRate, from_btuh, btuh;
    Watts: Power, from_watts, watts;
    Volts: Voltage, from_volts, volts;
    FeetPerMinute: Velocity, from_fpm, fpm;
    PoundsPerCubicFoot: Density, from_lb_ft3, lb_ft3;
}

/// A text on one line, whatever the file has in it.
pub(super) struct OneLine;

impl SerializeAs<String> for OneLine {
    fn serialize_as<S: Serializer>(text: &String, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(text)
    }
}

impl<'de> DeserializeAs<'de, String> for OneLine {
    fn deserialize_as<D: Deserializer<'de>>(deserializer: D) -> Result<String, D::Error> {
        String::deserialize(deserializer).map(|text| one_line(&text))
    }
}
