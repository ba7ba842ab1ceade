//! The shape of a blower file, field by field; the program's own types never see serde.

use serde::{Deserialize, Serialize};
use serde_with::{Same, serde_as};

use super::cell::CellDto;
use crate::files::quantities::{PoundsPerCubicFoot, Tons, Volts};
use crate::files::words::{
    AirflowUnitDto, CallDto, CoilDto, KindDto, MotorDto, OpeningsDto, PartDto, PositionDto, PressureUnitDto, mirrors,
};
use crate::model::facts::blower::{
    Basis, Call, CoilInTest, EquipmentKind, LowVoltage, MotorFamily, PartInTest, Position, ReturnOpenings,
};
use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::units::{Capacity, Density, Voltage};

/// A blower table as files carry it: [`parse`](super::parse) reads one by itself, and a job carries some inside itself.
#[serde_as]
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "Blower")]
pub struct BlowerDto {
    pub(super) tapcross_blower: u32,
    pub(super) name: String,
    #[serde(with = "KindDto")]
    pub(super) kind: EquipmentKind,
    #[serde(default, with = "MotorDto")]
    pub(super) motor: MotorFamily,
    #[serde(default)]
    pub(super) illustrative: bool,
    #[serde(default)]
    pub(super) source: String,
    #[serde(default)]
    pub(super) notes: String,
    pub(super) units: UnitsDto,
    #[serde_as(as = "Option<Tons>")]
    pub(super) cooling_tons: Option<Capacity>,
    pub(super) rated_maximum: Option<f64>,
    #[serde(default, with = "BasisDto")]
    pub(super) basis: Basis,
    #[serde(default)]
    pub(super) corrections: CorrectionsDto,
    #[serde(default)]
    #[serde_as(as = "Vec<(CallDto, Same)>")]
    pub(super) calls: Vec<(Call, String)>,
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

/// One row of a grid: the ESP, then one cell a tap.
pub(super) type GridRow = (f64, Vec<CellDto>);

/// The units of every field that does not say its own.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "Units")]
pub(super) struct UnitsDto {
    #[serde(with = "AirflowUnitDto")]
    pub(super) airflow: AirflowUnit,
    #[serde(with = "PressureUnitDto")]
    pub(super) pressure: PressureUnit,
    pub(super) temperature: Option<TemperatureUnit>,
    pub(super) heat: Option<HeatUnit>,
}

/// Unit of temperature rises.
#[derive(Clone, Copy, Debug, Deserialize)]
pub(super) enum TemperatureUnit {
    Fahrenheit,
    Celsius,
}

/// Unit of heat outputs.
#[derive(Clone, Copy, Debug, Deserialize)]
pub(super) enum HeatUnit {
    BtuPerHour,
    Kilowatts,
}

/// How the table was made.
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Basis", remote = "Basis")]
struct BasisDto {
    #[serde(default, with = "PartDto")]
    filter: PartInTest,
    #[serde(default, with = "CoilDto")]
    coil: CoilInTest,
    #[serde(default, with = "PartDto")]
    heater: PartInTest,
    #[serde(default, with = "OpeningsDto")]
    return_openings: ReturnOpenings,
    #[serde(default, with = "PositionDto")]
    position: Position,
    #[serde(rename = "volts")]
    #[serde_as(as = "Option<Volts>")]
    voltage: Option<Voltage>,
    #[serde(rename = "density_lb_ft3")]
    #[serde_as(as = "Option<PoundsPerCubicFoot>")]
    density: Option<Density>,
    #[serde(rename = "reading_error_percent")]
    reading_error: Option<f64>,
}

/// Corrections that the table prints.
#[serde_as]
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields, rename = "Corrections")]
pub(super) struct CorrectionsDto {
    pub(super) filter_as_tested: Option<DropDto>,
    pub(super) wet_coil: Option<DropDto>,
    pub(super) heater: Option<DropDto>,
    pub(super) one_side_return: Option<DropDto>,
    #[serde_as(as = "Option<LowVoltageDto>")]
    pub(super) low_voltage: Option<LowVoltage>,
}

/// A drop against airflow.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "Drop")]
pub(super) struct DropDto {
    pub(super) points: Vec<(f64, f64)>,
    pub(super) exponent: Option<f64>,
}

/// Airflow at another supply voltage.
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "LowVoltage", remote = "LowVoltage")]
pub(super) struct LowVoltageDto {
    #[serde(rename = "volts")]
    #[serde_as(as = "Volts")]
    voltage: Voltage,
    airflow_factor: f64,
}

mirrors!(LowVoltageDto: LowVoltage);

/// One heating stage.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "HeatStage")]
pub(super) struct HeatStageDto {
    #[serde(with = "CallDto")]
    pub(super) call: Call,
    pub(super) output: f64,
    pub(super) rise: Option<(f64, f64)>,
    pub(super) minimum_airflow: Option<f64>,
}

/// A setting that is one airflow over a range of ESP.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "Range")]
pub(super) struct RangeDto {
    pub(super) tap: String,
    pub(super) airflow: f64,
    pub(super) from: f64,
    pub(super) to: f64,
}
