//! The shape of a blower file, field by field; the program's own types never see serde.

use serde::de::Deserializer;
use serde::ser::{Error as _, Serializer};
use serde::{Deserialize, Serialize};

use super::cell::CellDto;
use super::layout;
use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};

/// A blower table as files carry it.
///
/// It reads from any RON that carries it as a value, with or without the `implicit_some` extension, and serialises as laid-out RON (one line a row of the grid), so a RON serializer is the only one it is for.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "Blower")]
pub struct BlowerDto {
    pub(super) tapcross_blower: u32,
    pub(super) name: String,
    pub(super) kind: KindDto,
    #[serde(default)]
    pub(super) motor: MotorDto,
    #[serde(default)]
    pub(super) illustrative: bool,
    #[serde(default)]
    pub(super) source: String,
    #[serde(default)]
    pub(super) notes: String,
    pub(super) units: UnitsDto,
    #[serde(default, deserialize_with = "present")]
    pub(super) cooling_tons: Option<f64>,
    #[serde(default, deserialize_with = "present")]
    pub(super) rated_maximum: Option<f64>,
    #[serde(default)]
    pub(super) basis: BasisDto,
    #[serde(default)]
    pub(super) corrections: CorrectionsDto,
    #[serde(default)]
    pub(super) calls: Vec<(CallDto, String)>,
    #[serde(default)]
    pub(super) heating: Vec<HeatStageDto>,
    #[serde(default)]
    pub(super) taps: Vec<String>,
    #[serde(default)]
    pub(super) airflow: Vec<GridRow>,
    #[serde(default)]
    pub(super) ranges: Vec<RangeDto>,
    #[serde(default)]
    pub(super) watts: Vec<GridRow>,
    #[serde(default)]
    pub(super) rpm: Vec<GridRow>,
}

impl Serialize for BlowerDto {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = layout::body(self, 1);
        ron::value::RawValue::from_ron(&text).map_err(S::Error::custom)?.serialize(serializer)
    }
}

/// An optional field that is either left out or written without `Some`.
fn present<'de, D: Deserializer<'de>, T: Deserialize<'de>>(deserializer: D) -> Result<Option<T>, D::Error> {
    T::deserialize(deserializer).map(Some)
}

/// One row of a grid: the ESP, then one cell a tap.
pub(super) type GridRow = (f64, Vec<CellDto>);

/// The units of every field that does not say its own.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "Units")]
pub(super) struct UnitsDto {
    pub(super) airflow: AirflowUnit,
    pub(super) pressure: PressureUnit,
    #[serde(default, deserialize_with = "present")]
    pub(super) temperature: Option<TemperatureUnit>,
    #[serde(default, deserialize_with = "present")]
    pub(super) heat: Option<HeatUnit>,
}

/// Unit of airflows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum AirflowUnit {
    Cfm,
    LitresPerSecond,
    CubicMetresPerHour,
}

/// Unit of pressures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum PressureUnit {
    InchesOfWater,
    Pascals,
}

/// Unit of temperature rises.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum TemperatureUnit {
    Fahrenheit,
    Celsius,
}

/// Unit of heat outputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum HeatUnit {
    BtuPerHour,
    Kilowatts,
}

/// How the table was made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Basis")]
pub(super) struct BasisDto {
    pub(super) filter: PartDto,
    pub(super) coil: CoilDto,
    pub(super) heater: PartDto,
    pub(super) return_openings: OpeningsDto,
    pub(super) position: PositionDto,
    #[serde(deserialize_with = "present")]
    pub(super) volts: Option<f64>,
    #[serde(deserialize_with = "present")]
    pub(super) density_lb_ft3: Option<f64>,
}

/// Corrections that the table prints.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Corrections")]
pub(super) struct CorrectionsDto {
    #[serde(deserialize_with = "present")]
    pub(super) filter_as_tested: Option<DropDto>,
    #[serde(deserialize_with = "present")]
    pub(super) wet_coil: Option<DropDto>,
    #[serde(deserialize_with = "present")]
    pub(super) heater: Option<DropDto>,
    #[serde(deserialize_with = "present")]
    pub(super) one_side_return: Option<DropDto>,
    #[serde(deserialize_with = "present")]
    pub(super) low_voltage: Option<LowVoltageDto>,
}

/// A drop against airflow.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "Drop")]
pub(super) struct DropDto {
    pub(super) points: Vec<(f64, f64)>,
    #[serde(default, deserialize_with = "present")]
    pub(super) exponent: Option<f64>,
}

/// Airflow at another supply voltage.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "LowVoltage")]
pub(super) struct LowVoltageDto {
    pub(super) volts: f64,
    pub(super) airflow_factor: f64,
}

/// One heating stage.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "HeatStage")]
pub(super) struct HeatStageDto {
    pub(super) call: CallDto,
    pub(super) output: f64,
    #[serde(default, deserialize_with = "present")]
    pub(super) rise: Option<(f64, f64)>,
    #[serde(default, deserialize_with = "present")]
    pub(super) minimum_airflow: Option<f64>,
}

/// A setting that is one airflow over a range of ESP.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename = "Range")]
pub(super) struct RangeDto {
    pub(super) tap: String,
    pub(super) airflow: f64,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// A choice of the model with the same names in the file.
macro_rules! same_names {
    ($(#[$doc:meta])* $dto:ident, $model:ident, [$($name:ident),+], $default:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
        pub(in crate::files) enum $dto {
            $($name),+
        }

        impl Default for $dto {
            fn default() -> Self {
                Self::$default
            }
        }

        impl From<$dto> for $model {
            fn from(dto: $dto) -> Self {
                match dto {
                    $($dto::$name => Self::$name),+
                }
            }
        }

        impl From<$model> for $dto {
            fn from(model: $model) -> Self {
                match model {
                    $($model::$name => Self::$name),+
                }
            }
        }
    };
}

same_names!(
    /// Kind of machine.
    KindDto, EquipmentKind,
    [Furnace, DrawThroughAirHandler, BlowThroughAirHandler, NoReturnDuct], Furnace
);
same_names!(
    /// Kind of motor.
    MotorDto, MotorFamily,
    [PermanentSplitCapacitor, ConstantTorque, ConstantAirflow, Unstated], Unstated
);
same_names!(
    /// What the thermostat asks for.
    CallDto, Call,
    [CoolingHigh, CoolingLow, HeatingHigh, HeatingLow, FanOnly], CoolingHigh
);
same_names!(
    /// Filter or heater during the test.
    PartDto, PartInTest, [Without, Included], Without
);
same_names!(
    /// Coil during the test.
    CoilDto, CoilInTest, [Without, Dry, Wet], Without
);
same_names!(
    /// Return openings during the test.
    OpeningsDto, ReturnOpenings, [Unstated, Bottom, OneSide, TwoSides], Unstated
);
same_names!(
    /// Position of the cabinet during the test.
    PositionDto, Position, [Unstated, Up, Down, Horizontal], Unstated
);
