//! What format 1 says of changes.

use serde::{Deserialize, Serialize};

use crate::model::facts::blower::Call;
use crate::model::facts::change::Switch;

use super::common::{DropDto, TargetDto};
use crate::files::words::CallDto;

/// One change of the job.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChangeDto {
    pub(super) id: u32,
    #[serde(default, with = "SwitchDto")]
    pub(super) switch: Switch,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) price: Option<f64>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) note: String,
    pub(super) what: WhatDto,
}

/// The words of the file for a switch.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Switch")]
enum SwitchDto {
    On,
    Off,
}

/// What is done; a percentage has a second field for what no short number of percent gives exactly.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum WhatDto {
    LessByHand {
        element: u32,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction: Option<f64>,
    },
    PartByData {
        element: u32,
        drop: DropDto,
    },
    MoreFilterArea {
        element: u32,
        now_in2: f64,
        then_in2: f64,
    },
    FilterLoading {
        element: u32,
        factor: f64,
    },
    CleanCoil {
        element: u32,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction: Option<f64>,
    },
    OtherDuct {
        element: u32,
        now: RunDto,
        then: RunDto,
    },
    SecondReturn {
        run: RunDto,
        grille: OpeningDto,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        filter: Option<DropDto>,
    },
    OtherOpening {
        element: u32,
        now: OpeningDto,
        then: OpeningDto,
    },
    OpenRegisters {
        element: u32,
        now: u32,
        then: u32,
        of: u32,
    },
    RepairRun {
        element: u32,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction: Option<f64>,
    },
    Seal {
        element: u32,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fraction: Option<f64>,
    },
    OtherCoilState {
        element: u32,
        factor: f64,
    },
    PanelOff {
        area_in2: f64,
    },
    OtherCall {
        #[serde(with = "CallDto")]
        call: Call,
    },
    OtherMachine {
        /// Number in the job's list of other machines, from 1.
        machine: usize,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tap: Option<String>,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        leaves: Vec<u32>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        coil: Option<DropDto>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        filter: Option<DropDto>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        target: Option<TargetDto>,
    },
    OtherTap {
        tap: String,
    },
    BelowTable {
        factor: f64,
    },
}

/// A run of duct.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RunDto {
    pub(super) section: SectionDto,
    pub(super) length_ft: f64,
    pub(super) wall: WallDto,
    pub(super) fittings: f64,
}

/// A cross-section.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum SectionDto {
    Round { diameter_in: f64 },
    Rectangular { width_in: f64, height_in: f64 },
    FlatOval { major_in: f64, minor_in: f64 },
}

/// A wall, by its material where one has that roughness.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum WallDto {
    Galvanized,
    GalvanizedManyJoints,
    Plastic,
    Aluminium,
    DuctBoard,
    LinedFaced,
    LinedCoated,
    Flexible {
        #[serde(default, skip_serializing_if = "Option::is_none")]
        compression_percent: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        compression: Option<f64>,
    },
    Rough {
        roughness_in: f64,
    },
}

/// A grille's or register's face.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct OpeningDto {
    pub(super) face_in2: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) free_area_percent: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) free_area: Option<f64>,
}
