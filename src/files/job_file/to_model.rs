//! From the file's own types to the job. Only what the model's types cannot hold is refused here; [`super::check`] judges the rest.

use crate::files::blower_file::BlowerFileError;
use crate::model::facts::accuracy::Accuracy;
use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{AirPath, Bypass, Element, ElementId, ElementKind, Port, PortId, Way, Whereabouts};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::drop_data::{DropData, DropDataError};
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::holdable::name_of_set;
use crate::model::facts::job::Job;
use crate::model::facts::limits::Limits;
use crate::model::facts::plain_text::{lines, one_line};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::facts::target::Target;
use crate::units::{
    Airflow, Altitude, Barometer, Capacity, HeatRate, Length, Power, Pressure, Temperature, TemperatureRise, Voltage,
};

use super::change_to_model::{self, one_of};
use super::dto::{
    AccuracyDto, AirDto, BypassDto, DropDto, DuctsDto, JobDto, LimitsDto, PathPartDto, PlaceDto, PortDto, ReadingDto,
    SetDto, TargetDto, WayDto,
};
use super::error::JobFileError;

pub(super) fn job(dto: JobDto) -> Result<Job, JobFileError> {
    let table = |dto| BlowerTable::try_from(dto).map_err(|refused: BlowerFileError| refused.to_string());
    let machine = dto.machine.map(table).transpose().map_err(JobFileError::Machine)?;
    let numbered = dto.other_machines.into_iter().zip(1..);
    let others: Vec<BlowerTable> = numbered
        .map(|(dto, number)| table(dto).map_err(|refused| JobFileError::OtherMachine(number, refused)))
        .collect::<Result<_, _>>()?;
    let numbered = dto.sets.into_iter().enumerate();
    Ok(Job {
        title: one_line(&dto.title),
        place: one_line(&dto.place),
        date: one_line(&dto.date),
        notes: lines(&dto.notes),
        illustrative: dto.illustrative,
        machine,
        outdoor_unit: dto.outdoor_unit_tons.map(Capacity::from_tons),
        return_openings: dto.return_openings,
        path: AirPath {
            elements: dto.path.into_iter().map(element).collect::<Result<_, _>>()?,
            ports: dto.ports.iter().map(port).collect(),
            bypass: dto.bypass.as_ref().map(bypass).transpose()?,
        },
        sets: numbered.map(|(index, dto)| set(index, dto)).collect::<Result<_, _>>()?,
        changes: dto.changes.into_iter().map(|dto| change_to_model::change(dto, &others)).collect::<Result<_, _>>()?,
        ducts: ducts(&dto.ducts),
        target: dto.target.as_ref().map(target),
        limits: limits(&dto.limits),
        accuracy: accuracy(&dto.accuracy),
    })
}

fn element(part: PathPartDto) -> Result<Element, JobFileError> {
    match part {
        PathPartDto::Element { id, kind, name, whereabouts, drop, share_percent, share_fraction, exponent } => {
            Ok(Element {
                name: one_line(&name),
                share: share(id, share_percent, share_fraction)?,
                exponent,
                drop: drop_of(id, drop.as_ref())?,
                ..Element::new(ElementId(id), kind, whereabouts)
            })
        }
        PathPartDto::SideBySide { id, name, share_percent, share_fraction, drop, exponent, ways } => Ok(Element {
            name: one_line(&name),
            share: share(id, share_percent, share_fraction)?,
            exponent,
            drop: drop_of(id, drop.as_ref())?,
            ways: ways.into_iter().map(|dto| way(id, dto)).collect::<Result<_, _>>()?,
            ..Element::new(ElementId(id), ElementKind::SideBySide, Whereabouts::House)
        }),
    }
}

/// How sentences name an element.
fn place_of_element(id: u32) -> String {
    format!("Path, element {id}")
}

fn share(id: u32, percent: Option<f64>, fraction: Option<f64>) -> Result<Option<f64>, JobFileError> {
    maybe_of(&place_of_element(id), ["share_percent", "share_fraction"], percent, fraction)
}

fn drop_of(id: u32, dto: Option<&DropDto>) -> Result<Option<DropData>, JobFileError> {
    dto.map(drop_data).transpose().map_err(|refused| drop_problem(&place_of_element(id), &refused))
}

/// A fraction that may be given in percent, as itself, or not at all.
fn maybe_of(
    place: &str,
    names: [&str; 2],
    percent: Option<f64>,
    fraction: Option<f64>,
) -> Result<Option<f64>, JobFileError> {
    if percent.is_none() && fraction.is_none() {
        return Ok(None);
    }
    one_of(place, names, percent, fraction).map(Some)
}

const FLOW: [&str; 2] = ["flow_percent", "flow_fraction"];

fn way(group: u32, dto: WayDto) -> Result<Way, JobFileError> {
    Ok(Way {
        flow: maybe_of(&format!("Path, a way of element {group}"), FLOW, dto.flow_percent, dto.flow_fraction)?,
        elements: dto.elements.into_iter().map(element).collect::<Result<_, _>>()?,
    })
}

fn bypass(dto: &BypassDto) -> Result<Bypass, JobFileError> {
    Ok(Bypass {
        id: ElementId(dto.id),
        leaves_after: ElementId(dto.leaves_after),
        joins_after: ElementId(dto.joins_after),
        flow: one_of("Bypass", FLOW, dto.flow_percent, dto.flow_fraction)?,
    })
}

pub(super) fn drop_data(dto: &DropDto) -> Result<DropData, DropDataError> {
    let points =
        dto.points.iter().map(|point| (Airflow::from_cfm(point.airflow_cfm), Pressure::from_in_wc(point.drop_in_wc)));
    DropData::new(points.collect(), dto.exponent)
}

pub(super) fn drop_problem(place: &str, refused: &DropDataError) -> JobFileError {
    let field = |name: &str| format!("{place}: {name}");
    match refused {
        DropDataError::Empty => JobFileError::value(field("points"), "empty", "a drop needs at least one point"),
        DropDataError::BadPoint(airflow, drop) => JobFileError::value(
            field("a point of the drop"),
            format!("{} cfm, {} in. w.c.", airflow.cfm(), drop.in_wc()),
            "airflow has to be at least 0.01 cfm and the drop not below zero",
        ),
        DropDataError::NotRising(airflow) => JobFileError::value(
            field("airflow_cfm"),
            airflow.cfm(),
            "the points of a drop have to stand in order of rising airflow",
        ),
        DropDataError::TooSteep(airflow) => JobFileError::value(
            field("drop_in_wc"),
            format!("steeper up to {} cfm than any part's", airflow.cfm()),
            "a drop rises with about the square of the airflow; a digit must be wrong",
        ),
        DropDataError::DropFalls(airflow) => JobFileError::value(
            field("drop_in_wc"),
            format!("lower at {} cfm than before it", airflow.cfm()),
            "a part cannot drop less the more air it passes",
        ),
        DropDataError::BadExponent(exponent) => {
            JobFileError::value(field("exponent"), exponent, "it has to lie between 1 and 2.2")
        }
    }
}

fn port(dto: &PortDto) -> Port {
    Port { id: PortId(dto.id), after: ElementId(dto.after) }
}

fn set(index: usize, dto: SetDto) -> Result<ReadingSet, JobFileError> {
    let air = air(&name_of_set(index, &dto.name), &dto.air)?;
    Ok(ReadingSet {
        name: one_line(&dto.name),
        call: dto.call,
        tap: dto.tap.as_deref().map(one_line),
        readings: dto.readings.iter().map(reading).collect(),
        coil: dto.coil,
        parts_out: dto.parts_out.into_iter().map(ElementId).collect(),
        air,
        power: dto.power_watts.map(Power::from_watts),
        voltage: dto.voltage_volts.map(Voltage::from_volts),
        signs_confirmed: dto.signs_confirmed,
    })
}

fn reading(dto: &ReadingDto) -> Reading {
    Reading {
        at: match dto.at {
            PlaceDto::Port(id) => ReadAt::Port(PortId(id)),
            PlaceDto::Total => ReadAt::Total,
            PlaceDto::Across(id) => ReadAt::Across(ElementId(id)),
        },
        looks: dto.looks_in_wc.iter().copied().map(Pressure::from_in_wc).collect(),
    }
}

fn air(place: &str, dto: &AirDto) -> Result<AirConditions, JobFileError> {
    Ok(AirConditions {
        altitude: Altitude::from_ft(dto.altitude_ft),
        station_pressure: station_pressure(place, dto)?,
        temperature: Temperature::from_f(dto.temperature_f),
        humidity: humidity(place, dto)?,
    })
}

fn station_pressure(place: &str, dto: &AirDto) -> Result<Option<Barometer>, JobFileError> {
    match (dto.station_pressure_in_hg, dto.station_pressure_kpa) {
        (None, None) => Ok(None),
        (Some(inches), None) => Ok(Some(Barometer::from_in_hg(inches))),
        (None, Some(kpa)) => Ok(Some(Barometer::from_kpa(kpa))),
        (Some(_), Some(_)) => Err(JobFileError::Contents(format!(
            "{place}: the station pressure is given twice, as station_pressure_in_hg and station_pressure_kpa; one of them has to go"
        ))),
    }
}

fn humidity(place: &str, dto: &AirDto) -> Result<f64, JobFileError> {
    match (dto.humidity_percent, dto.humidity_fraction) {
        (Some(percent), None) => Ok(percent / 100.0),
        (None, Some(fraction)) => Ok(fraction),
        (None, None) => Err(JobFileError::Contents(format!("{place}: the field humidity_percent is missing"))),
        (Some(_), Some(_)) => Err(JobFileError::Contents(format!(
            "{place}: the humidity is given twice, as humidity_percent and humidity_fraction; one of them has to go"
        ))),
    }
}

fn ducts(dto: &DuctsDto) -> DuctDesign {
    DuctDesign {
        return_length: dto.return_length_ft.map(Length::from_ft),
        supply_length: dto.supply_length_ft.map(Length::from_ft),
        design_static: dto.design_static_in_wc.map(Pressure::from_in_wc),
    }
}

pub(super) fn target(dto: &TargetDto) -> Target {
    match *dto {
        TargetDto::Airflow { cfm } => Target::Airflow(Airflow::from_cfm(cfm)),
        TargetDto::PerTon { capacity_tons, per_ton_cfm } => {
            Target::PerTon { capacity: Capacity::from_tons(capacity_tons), per_ton: Airflow::from_cfm(per_ton_cfm) }
        }
        TargetDto::HeatRise { output_btuh, rise_f } => {
            Target::HeatRise { output: HeatRate::from_btuh(output_btuh), rise: TemperatureRise::from_f(rise_f) }
        }
    }
}

fn limits(dto: &LimitsDto) -> Limits {
    Limits {
        accept_band: dto.accept_band_fraction,
        return_drop: Pressure::from_in_wc(dto.return_drop_in_wc),
        furnace_supply_drop: Pressure::from_in_wc(dto.furnace_supply_drop_in_wc),
        least_static: Pressure::from_in_wc(dto.least_static_in_wc),
        watts_per_cfm: dto.watts_per_cfm,
    }
}

fn accuracy(dto: &AccuracyDto) -> Accuracy {
    Accuracy {
        manometer_fraction: dto.manometer_fraction,
        manometer_floor: Pressure::from_in_wc(dto.manometer_floor_in_wc),
        port_offset: Pressure::from_in_wc(dto.port_offset_in_wc),
        table_fraction: dto.table_fraction,
        exponent: dto.exponent,
    }
}
