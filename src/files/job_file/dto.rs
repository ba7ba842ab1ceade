//! The job file's own types: what format 1 says, apart from what the program thinks in.

use serde::{Deserialize, Serialize};

use crate::files::blower_file::BlowerDto;
use crate::model::facts::air_path::{ElementKind, Whereabouts};
use crate::model::facts::blower::{Call, ReturnOpenings};
use crate::model::facts::readings::CoilState;

use super::change_dto::ChangeDto;

/// A whole file of format 1, as it is read; [`super::layout`] writes its parts in this order.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename = "Job")]
pub(super) struct JobDto {
    /// Read before anything else, by [`super::header`].
    #[serde(rename = "tapcross_job")]
    pub(super) _format: u32,
    #[serde(default)]
    pub(super) title: String,
    #[serde(default)]
    pub(super) place: String,
    #[serde(default)]
    pub(super) date: String,
    #[serde(default)]
    pub(super) notes: String,
    #[serde(default)]
    pub(super) illustrative: bool,
    #[serde(default)]
    pub(super) outdoor_unit_tons: Option<f64>,
    #[serde(default, with = "ReturnOpeningsDto")]
    pub(super) return_openings: ReturnOpenings,
    pub(super) path: Vec<PathPartDto>,
    pub(super) ports: Vec<PortDto>,
    #[serde(default)]
    pub(super) bypass: Option<BypassDto>,
    pub(super) sets: Vec<SetDto>,
    #[serde(default)]
    pub(super) ducts: DuctsDto,
    #[serde(default)]
    pub(super) changes: Vec<ChangeDto>,
    /// Tables of the machines that changes put on the ducts.
    #[serde(default)]
    pub(super) other_machines: Vec<BlowerDto>,
    #[serde(default)]
    pub(super) target: Option<TargetDto>,
    pub(super) limits: LimitsDto,
    pub(super) accuracy: AccuracyDto,
    #[serde(default)]
    pub(super) machine: Option<BlowerDto>,
}

/// One part of the path.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum PathPartDto {
    /// One element.
    Element {
        id: u32,
        #[serde(with = "ElementKindDto")]
        kind: ElementKind,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        name: String,
        #[serde(rename = "in", with = "WhereaboutsDto")]
        whereabouts: Whereabouts,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drop: Option<DropDto>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        share_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        share_fraction: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exponent: Option<f64>,
    },
    /// Ways side by side.
    SideBySide {
        id: u32,
        #[serde(default, skip_serializing_if = "String::is_empty")]
        name: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        share_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        share_fraction: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drop: Option<DropDto>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exponent: Option<f64>,
        ways: Vec<WayDto>,
    },
}

/// One way of several side by side.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WayDto {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) flow_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) flow_fraction: Option<f64>,
    pub(super) elements: Vec<PathPartDto>,
}

/// A way past the rooms.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BypassDto {
    pub(super) id: u32,
    pub(super) leaves_after: u32,
    pub(super) joins_after: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) flow_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) flow_fraction: Option<f64>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DropDto {
    pub(super) points: Vec<DropPointDto>,
    pub(super) exponent: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DropPointDto {
    pub(super) airflow_cfm: f64,
    pub(super) drop_in_wc: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PortDto {
    pub(super) id: u32,
    pub(super) after: u32,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SetDto {
    pub(super) name: String,
    #[serde(with = "CallDto")]
    pub(super) call: Call,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) tap: Option<String>,
    pub(super) readings: Vec<ReadingDto>,
    #[serde(with = "CoilStateDto")]
    pub(super) coil: CoilState,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) parts_out: Vec<u32>,
    pub(super) air: AirDto,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) power_watts: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) voltage_volts: Option<f64>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(super) signs_confirmed: bool,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ReadingDto {
    pub(super) at: PlaceDto,
    pub(super) looks_in_wc: Vec<f64>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) enum PlaceDto {
    Port(u32),
    Total,
    Across(u32),
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AirDto {
    pub(super) altitude_ft: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) station_pressure_in_hg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) station_pressure_kpa: Option<f64>,
    pub(super) temperature_f: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) humidity_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) humidity_fraction: Option<f64>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DuctsDto {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) return_length_ft: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) supply_length_ft: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) design_static_in_wc: Option<f64>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum TargetDto {
    Airflow { cfm: f64 },
    PerTon { capacity_tons: f64, per_ton_cfm: f64 },
    HeatRise { output_btuh: f64, rise_f: f64 },
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitsDto {
    pub(super) accept_band_fraction: f64,
    pub(super) return_drop_in_wc: f64,
    pub(super) furnace_supply_drop_in_wc: f64,
    pub(super) least_static_in_wc: f64,
    pub(super) watts_per_cfm: f64,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AccuracyDto {
    pub(super) manometer_fraction: f64,
    pub(super) manometer_floor_in_wc: f64,
    pub(super) port_offset_in_wc: f64,
    pub(super) table_fraction: f64,
    pub(super) exponent: f64,
}

/// The words of the file for a call; the compiler holds them against the model's.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Call")]
pub(super) enum CallDto {
    CoolingHigh,
    CoolingLow,
    HeatingHigh,
    HeatingLow,
    FanOnly,
}

/// The words of the file for the coil's state.
#[derive(Serialize, Deserialize)]
#[serde(remote = "CoilState")]
enum CoilStateDto {
    Dry,
    Wet,
}

/// The words of the file for where an element sits.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Whereabouts")]
enum WhereaboutsDto {
    Cabinet,
    House,
}

/// Return openings as a value of their own.
#[derive(Serialize)]
#[serde(transparent)]
pub(super) struct ReturnOpeningsValue(#[serde(with = "ReturnOpeningsDto")] pub(super) ReturnOpenings);

/// The words of the file for return openings.
#[derive(Serialize, Deserialize)]
#[serde(remote = "ReturnOpenings")]
enum ReturnOpeningsDto {
    Unstated,
    Bottom,
    OneSide,
    TwoSides,
}

/// The words of the file for kinds of element.
#[derive(Serialize, Deserialize)]
#[serde(remote = "ElementKind")]
enum ElementKindDto {
    Louvre,
    ReturnGrille,
    ReturnDuct,
    Filter,
    Blower,
    HeatExchanger,
    Coil,
    Heater,
    SupplyDuct,
    Registers,
    AirCleaner,
    Humidifier,
    Damper,
    Leak,
    Bypass,
    SideBySide,
}
