//! What format 1 says of an airflow that was read by other means than the table.

use serde::{Deserialize, Serialize};
use serde_with::{As, serde_as, skip_serializing_none};

use crate::files::quantities::{Cfm, InWc};
use crate::model::facts::airflow_read::{AirflowRead, PlateRead, SQUARE_ROOT};
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
