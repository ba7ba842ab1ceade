//! What path, reading sets and changes all say: drops by data, targets, and a fraction that either of two fields may give.

use serde::{Deserialize, Serialize};
use serde_with::serde_as;

use super::error::{JobFileError, Misfit};
use crate::files::quantities::{BtuPerHour, Cfm, FahrenheitRise, InWc, PoundsPerCubicFoot, Tons};
use crate::files::words::CallDto;
use crate::model::facts::blower::Call;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::target::{CallTarget, Target};
use crate::units::{Airflow, Capacity, Density, HeatRate, Pressure, TemperatureRise};

pub(super) type Read<T> = Result<T, JobFileError>;

#[serde_as]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DropDto {
    points: Vec<DropPointDto>,
    exponent: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde_as(as = "Option<PoundsPerCubicFoot>")]
    density_lb_ft3: Option<Density>,
}

#[serde_as]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DropPointDto {
    #[serde_as(as = "Cfm")]
    airflow_cfm: Airflow,
    #[serde_as(as = "InWc")]
    drop_in_wc: Pressure,
}

impl From<&DropData> for DropDto {
    fn from(data: &DropData) -> Self {
        let point = |&(airflow_cfm, drop_in_wc): &_| DropPointDto { airflow_cfm, drop_in_wc };
        Self {
            points: data.points().iter().map(point).collect(),
            exponent: data.exponent(),
            density_lb_ft3: data.published(),
        }
    }
}

pub(super) fn drop_data(dto: &DropDto) -> Result<DropData, Misfit> {
    let points = dto.points.iter().map(|point| (point.airflow_cfm, point.drop_in_wc));
    let data = DropData::new(points.collect(), dto.exponent);
    data.and_then(|data| data.published_in(dto.density_lb_ft3)).map_err(Misfit::Drop)
}

#[serde_as]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum TargetDto {
    Airflow {
        #[serde_as(as = "Cfm")]
        cfm: Airflow,
    },
    PerTon {
        #[serde_as(as = "Tons")]
        capacity_tons: Capacity,
        #[serde_as(as = "Cfm")]
        per_ton_cfm: Airflow,
    },
    HeatRise {
        #[serde_as(as = "BtuPerHour")]
        output_btuh: HeatRate,
        #[serde_as(as = "FahrenheitRise")]
        rise_f: TemperatureRise,
    },
}

impl From<Target> for TargetDto {
    fn from(target: Target) -> Self {
        match target {
            Target::Airflow(cfm) => Self::Airflow { cfm },
            Target::PerTon { capacity, per_ton } => Self::PerTon { capacity_tons: capacity, per_ton_cfm: per_ton },
            Target::HeatRise { output, rise } => Self::HeatRise { output_btuh: output, rise_f: rise },
        }
    }
}

impl From<TargetDto> for Target {
    fn from(dto: TargetDto) -> Self {
        match dto {
            TargetDto::Airflow { cfm } => Self::Airflow(cfm),
            TargetDto::PerTon { capacity_tons: capacity, per_ton_cfm: per_ton } => Self::PerTon { capacity, per_ton },
            TargetDto::HeatRise { output_btuh: output, rise_f: rise } => Self::HeatRise { output, rise },
        }
    }
}

/// The target of one call.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CallTargetDto {
    #[serde(with = "CallDto")]
    call: Call,
    target: TargetDto,
}

impl From<CallTarget> for CallTargetDto {
    fn from(own: CallTarget) -> Self {
        Self { call: own.call, target: own.target.into() }
    }
}

impl From<CallTargetDto> for CallTarget {
    fn from(dto: CallTargetDto) -> Self {
        Self { call: dto.call, target: dto.target.into() }
    }
}

/// The value that either of two fields may give; `names` are the fields'.
///
/// # Errors
/// Where both do.
pub(super) fn either<T>(names: [&'static str; 2], one: Option<T>, other: Option<T>) -> Result<Option<T>, Misfit> {
    if one.is_some() && other.is_some() { Err(Misfit::Twice(names)) } else { Ok(one.or(other)) }
}

/// A fraction that a file may give in percent or as itself, or leave out; as [`either`].
pub(super) fn fraction(
    names: [&'static str; 2],
    percent: Option<f64>,
    itself: Option<f64>,
) -> Result<Option<f64>, Misfit> {
    either(names, percent.map(|percent| percent / 100.0), itself)
}

/// A fraction that a file has to give, in percent or as itself.
pub(super) fn given_once(names: [&'static str; 2], percent: Option<f64>, itself: Option<f64>) -> Result<f64, Misfit> {
    fraction(names, percent, itself)?.ok_or(Misfit::Missing(names[0]))
}

/// A fraction as files hold it: as a short number of percent, else as itself where no such number gives it back.
pub(super) fn percent_of(fraction: f64) -> (Option<f64>, Option<f64>) {
    let percent = short_exact(fraction * 100.0, |percent| (percent / 100.0).to_bits() == fraction.to_bits());
    (percent, percent.is_none().then_some(fraction))
}

/// The number to nine decimals, where that gives back exactly what it stands for.
pub(super) fn short_exact(number: f64, gives_it_back: impl Fn(f64) -> bool) -> Option<f64> {
    let short: f64 = format!("{number:.9}").parse().ok()?;
    gives_it_back(short).then_some(short)
}
