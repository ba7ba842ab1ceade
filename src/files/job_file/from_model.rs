//! From the job to the file's own types. Nothing can fail on this way.

use crate::model::facts::accuracy::Accuracy;
use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{AirPath, Bypass, Element, ElementId, PortId, Way};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::limits::Limits;
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::facts::target::Target;
use crate::units::{Barometer, Length, Power, Pressure, Voltage};

use super::change_from_model::percent_of;
use super::dto::{
    AccuracyDto, AirDto, BypassDto, DropDto, DropPointDto, DuctsDto, LimitsDto, PathPartDto, PlaceDto, PortDto,
    ReadingDto, SetDto, TargetDto, WayDto,
};

pub(super) fn path(path: &AirPath) -> Vec<PathPartDto> {
    path.elements.iter().map(element).collect()
}

fn element(element: &Element) -> PathPartDto {
    let (share_percent, share_fraction) = element.share.map(percent_of).unwrap_or_default();
    let (id, name, exponent) = (element.id.0, element.name.clone(), element.exponent);
    let drop = element.drop.as_ref().map(drop_data);
    if element.is_group() {
        let ways = element.ways.iter().map(way).collect();
        return PathPartDto::SideBySide { id, name, share_percent, share_fraction, drop, exponent, ways };
    }
    let (kind, whereabouts) = (element.kind, element.whereabouts);
    PathPartDto::Element { id, name, kind, whereabouts, drop, share_percent, share_fraction, exponent }
}

fn way(way: &Way) -> WayDto {
    let (flow_percent, flow_fraction) = way.flow.map(percent_of).unwrap_or_default();
    WayDto { flow_percent, flow_fraction, elements: way.elements.iter().map(element).collect() }
}

pub(super) fn bypass(bypass: &Bypass) -> BypassDto {
    let (flow_percent, flow_fraction) = percent_of(bypass.flow);
    BypassDto {
        id: bypass.id.0,
        leaves_after: bypass.leaves_after.0,
        joins_after: bypass.joins_after.0,
        flow_percent,
        flow_fraction,
    }
}

pub(super) fn drop_data(data: &DropData) -> DropDto {
    let points = data
        .points()
        .iter()
        .map(|(airflow, drop)| DropPointDto { airflow_cfm: airflow.cfm(), drop_in_wc: drop.in_wc() });
    DropDto { points: points.collect(), exponent: data.exponent() }
}

pub(super) fn ports(path: &AirPath) -> Vec<PortDto> {
    let port = |port: &crate::model::facts::air_path::Port| PortDto { id: port.id.0, after: port.after.0 };
    path.ports.iter().map(port).collect()
}

pub(super) fn set(set: &ReadingSet) -> SetDto {
    SetDto {
        name: set.name.clone(),
        call: set.call,
        tap: set.tap.clone(),
        readings: set.readings.iter().map(reading).collect(),
        coil: set.coil,
        parts_out: set.parts_out.iter().map(|&ElementId(id)| id).collect(),
        air: air(&set.air),
        power_watts: set.power.map(Power::watts),
        voltage_volts: set.voltage.map(Voltage::volts),
        signs_confirmed: set.signs_confirmed,
    }
}

fn reading(reading: &Reading) -> ReadingDto {
    ReadingDto {
        at: match reading.at {
            ReadAt::Port(PortId(id)) => PlaceDto::Port(id),
            ReadAt::Total => PlaceDto::Total,
            ReadAt::Across(ElementId(id)) => PlaceDto::Across(id),
        },
        looks_in_wc: reading.looks.iter().map(|look| look.in_wc()).collect(),
    }
}

fn air(air: &AirConditions) -> AirDto {
    let humidity_percent =
        short_exact(air.humidity * 100.0, |percent| (percent / 100.0).to_bits() == air.humidity.to_bits());
    let station_pressure_in_hg = air
        .station_pressure
        .and_then(|station| short_exact(station.in_hg(), |inches| Barometer::from_in_hg(inches) == station));
    AirDto {
        altitude_ft: air.altitude.ft(),
        station_pressure_in_hg,
        station_pressure_kpa: air.station_pressure.filter(|_| station_pressure_in_hg.is_none()).map(Barometer::kpa),
        temperature_f: air.temperature.f(),
        humidity_percent,
        humidity_fraction: humidity_percent.is_none().then_some(air.humidity),
    }
}

/// The number to nine decimals, where that gives back exactly what it stands for.
pub(super) fn short_exact(number: f64, gives_it_back: impl Fn(f64) -> bool) -> Option<f64> {
    let short: f64 = format!("{number:.9}").parse().ok()?;
    gives_it_back(short).then_some(short)
}

pub(super) fn ducts(design: &DuctDesign) -> DuctsDto {
    DuctsDto {
        return_length_ft: design.return_length.map(Length::ft),
        supply_length_ft: design.supply_length.map(Length::ft),
        design_static_in_wc: design.design_static.map(Pressure::in_wc),
    }
}

pub(super) fn target(target: &Target) -> TargetDto {
    match *target {
        Target::Airflow(airflow) => TargetDto::Airflow { cfm: airflow.cfm() },
        Target::PerTon { capacity, per_ton } => {
            TargetDto::PerTon { capacity_tons: capacity.tons(), per_ton_cfm: per_ton.cfm() }
        }
        Target::HeatRise { output, rise } => TargetDto::HeatRise { output_btuh: output.btuh(), rise_f: rise.f() },
    }
}

pub(super) fn limits(limits: &Limits) -> LimitsDto {
    LimitsDto {
        accept_band_fraction: limits.accept_band,
        return_drop_in_wc: limits.return_drop.in_wc(),
        furnace_supply_drop_in_wc: limits.furnace_supply_drop.in_wc(),
        least_static_in_wc: limits.least_static.in_wc(),
        watts_per_cfm: limits.watts_per_cfm,
    }
}

pub(super) fn accuracy(accuracy: &Accuracy) -> AccuracyDto {
    AccuracyDto {
        manometer_fraction: accuracy.manometer_fraction,
        manometer_floor_in_wc: accuracy.manometer_floor.in_wc(),
        port_offset_in_wc: accuracy.port_offset.in_wc(),
        table_fraction: accuracy.table_fraction,
        exponent: accuracy.exponent,
    }
}
