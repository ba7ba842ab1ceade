//! What format 1 says of an airflow that was read by other means than the table.

use serde::{Deserialize, Serialize};
use serde_with::{As, serde_as, skip_serializing_none};

use crate::files::quantities::{Cfm, InWc};
use crate::files::words::OpinionDto;
use crate::model::facts::airflow_read::{AirflowRead, Anchor, OpinionKind, PlateRead, SQUARE_ROOT};
use crate::units::{Airflow, Pressure};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "AirflowRead")]
pub(super) struct AirflowReadDto {
    #[serde(rename = "supply_grilles_cfm", default, skip_serializing_if = "Vec::is_empty", with = "As::<Vec<Cfm>>")]
    supply_grilles: Vec<Airflow>,
    #[serde(rename = "return_grilles_cfm", default, skip_serializing_if = "Vec::is_empty", with = "As::<Vec<Cfm>>")]
    return_grilles: Vec<Airflow>,
    #[serde(default, skip_serializing_if = "PlateRead::is_empty", with = "PlateDto")]
    plate: PlateRead,
}

/// The opinion in the table's place.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AnchorDto {
    #[serde(with = "OpinionDto")]
    by: OpinionKind,
    /// Number of the set, from 1.
    set: usize,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    scale_table: bool,
}

impl From<Anchor> for AnchorDto {
    fn from(anchor: Anchor) -> Self {
        Self { by: anchor.by, set: anchor.set + 1, scale_table: anchor.scales }
    }
}

impl From<AnchorDto> for Anchor {
    fn from(dto: AnchorDto) -> Self {
        // Nought is no set, and is refused as one that is not there.
        Self { by: dto.by, set: dto.set.wrapping_sub(1), scales: dto.scale_table }
    }
}

#[skip_serializing_none]
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "PlateRead")]
struct PlateDto {
    #[serde(rename = "airflow_cfm")]
    #[serde_as(as = "Option<Cfm>")]
    airflow: Option<Airflow>,
    #[serde(rename = "at_one_in_wc_cfm")]
    #[serde_as(as = "Option<Cfm>")]
    at_one: Option<Airflow>,
    #[serde(default = "square_root")]
    exponent: f64,
    #[serde(rename = "drop_in_wc")]
    #[serde_as(as = "Option<InWc>")]
    drop: Option<Pressure>,
    #[serde(rename = "usual_static_in_wc")]
    #[serde_as(as = "Option<InWc>")]
    usual_static: Option<Pressure>,
    #[serde(rename = "plate_static_in_wc")]
    #[serde_as(as = "Option<InWc>")]
    plate_static: Option<Pressure>,
}

const fn square_root() -> f64 {
    SQUARE_ROOT
}
