//! Whether a job's values can be meant: the same rules for a file that is opened and for a job that is about to be saved.

use std::fmt::Display;

use crate::model::air::{ALTITUDE_RANGE, AirConditions, WEATHER_SWING, standard_pressure};
use crate::model::air_path::{AirPath, Element, ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::duct::input::EXPONENTS;
use crate::model::duct_budget::DuctDesign;
use crate::model::job::Job;
use crate::model::limits::{CAPACITY_RANGE, DESIGN_STATIC_RANGE, LONGEST_EFFECTIVE_LENGTH};
use crate::model::readings::{ReadAt, Reading, ReadingSet};
use crate::model::target::Target;
use crate::units::{Barometer, Capacity, Length, Power, Pressure, Temperature, Voltage};

use super::change_check;
use super::error::JobFileError;

/// Return air that a blower can be asked to breathe: from a frozen house to a test oven (common practice, no source).
pub const TEMPERATURE_RANGE: (Temperature, Temperature) = (Temperature::from_f(-40.0), Temperature::from_f(150.0));

/// Station pressures that weather makes between the lowest and the highest altitude, lowest and highest.
pub fn station_pressure_range() -> (Barometer, Barometer) {
    let (low, high) = ALTITUDE_RANGE;
    (standard_pressure(high) * (1.0 - WEATHER_SWING), standard_pressure(low) * (1.0 + WEATHER_SWING))
}

pub(super) type Checked = Result<(), JobFileError>;

/// Refuses the first value that cannot be meant.
pub(super) fn check(job: &Job) -> Checked {
    if let Some(capacity) = job.outdoor_unit {
        check_capacity("outdoor_unit_tons", capacity)?;
    }
    check_path(job)?;
    job.path.all().into_iter().try_for_each(check_element)?;
    if job.sets.is_empty() {
        return Err(JobFileError::value("sets", "empty", "a job needs at least one reading set"));
    }
    for (index, set) in job.sets.iter().enumerate() {
        check_set(&place_of_set(index, &set.name), set, &job.path)?;
    }
    check_ducts(&job.ducts)?;
    change_check::check(&job.changes)?;
    job.target.as_ref().map_or(Ok(()), |target| check_target("Target", target))?;
    check_limits(job)?;
    check_accuracy(job)
}

/// How sentences name a reading set.
pub(super) fn place_of_set(index: usize, name: &str) -> String {
    let number = index + 1;
    if name.is_empty() {
        return format!("Set {number}");
    }
    format!("Set {number} ({name})")
}

/// A job without a machine may have no path yet; any other path has to be whole.
fn check_path(job: &Job) -> Checked {
    let path = &job.path;
    if is_blank(path) && job.machine.is_none() {
        return Ok(());
    }
    if let Some(sentence) = path.problem() {
        return Err(JobFileError::Contents(sentence));
    }
    match twice(path.ports.iter().map(|port| port.id)) {
        Some(PortId(id)) => Err(JobFileError::Contents(format!("Two ports of the air path share the number {id}"))),
        None => Ok(()),
    }
}

fn check_element(element: &Element) -> Checked {
    let field = |name: &str| format!("Path, element {}: {name}", element.id.0);
    if let Some(share) = element.share {
        let percent = without_noise(share * 100.0);
        check_within(&field("share_percent"), percent, (0.0, 100.0), "a share")?;
    }
    for way in &element.ways {
        if let Some(flow) = way.flow {
            check_within(
                &field("flow_percent of a way"),
                without_noise(flow * 100.0),
                (0.0, 100.0),
                "a share of the air",
            )?;
        }
    }
    element.exponent.map_or(Ok(()), |exponent| check_within(&field("exponent"), exponent, EXPONENTS, "an exponent"))
}

fn is_blank(path: &AirPath) -> bool {
    path.elements.is_empty() && path.ports.is_empty()
}

/// The first item that has come before.
pub(super) fn twice<T: PartialEq>(items: impl Iterator<Item = T>) -> Option<T> {
    let mut seen = Vec::new();
    for item in items {
        if seen.contains(&item) {
            return Some(item);
        }
        seen.push(item);
    }
    None
}

fn check_set(place: &str, set: &ReadingSet, path: &AirPath) -> Checked {
    for reading in &set.readings {
        check_reading(place, reading, path)?;
    }
    if let Some(at) = twice(set.readings.iter().map(|reading| reading.at)) {
        return Err(JobFileError::Contents(format!(
            "{place}: {} is read twice; all looks at one place belong into one reading",
            name_of(at)
        )));
    }
    check_parts_out(place, set, path)?;
    check_air(place, &set.air)?;
    check_electric(place, set)
}

fn name_of(at: ReadAt) -> String {
    match at {
        ReadAt::Port(PortId(id)) => format!("Port({id})"),
        ReadAt::Total => "Total".to_owned(),
        ReadAt::Across(ElementId(id)) => format!("Across({id})"),
    }
}

fn check_reading(place: &str, reading: &Reading, path: &AirPath) -> Checked {
    if let ReadAt::Port(id) = reading.at {
        let is_standing = is_blank(path) && [RETURN_PORT, SUPPLY_PORT].contains(&id);
        if !is_standing && path.port(id).is_none() {
            return Err(JobFileError::value(
                format!("{place}: at"),
                name_of(reading.at),
                "the air path has no such port",
            ));
        }
    }
    if let ReadAt::Across(id) = reading.at
        && path.element(id).is_none()
    {
        return Err(JobFileError::value(
            format!("{place}: at"),
            name_of(reading.at),
            "the air path has no such element",
        ));
    }
    let field = format!("{place}: looks_in_wc of {}", name_of(reading.at));
    reading.looks.iter().try_for_each(|look| check_finite(&field, look.in_wc()))
}

fn check_parts_out(place: &str, set: &ReadingSet, path: &AirPath) -> Checked {
    match set.parts_out.iter().find(|id| path.element(**id).is_none()) {
        Some(id) => {
            Err(JobFileError::value(format!("{place}: parts_out"), id.0, "the air path has no element of that number"))
        }
        None => Ok(()),
    }
}

fn check_air(place: &str, air: &AirConditions) -> Checked {
    let (lowest, highest) = (ALTITUDE_RANGE.0.ft(), ALTITUDE_RANGE.1.ft());
    check_within(&format!("{place}: altitude_ft"), air.altitude.ft(), (lowest, highest), "an altitude")?;
    let (coldest, hottest) = (TEMPERATURE_RANGE.0.f(), TEMPERATURE_RANGE.1.f());
    check_within(&format!("{place}: temperature_f"), air.temperature.f(), (coldest, hottest), "return air")?;
    let percent = without_noise(air.humidity * 100.0);
    check_within(&format!("{place}: humidity_percent"), percent, (0.0, 100.0), "relative humidity")?;
    air.station_pressure.map_or(Ok(()), |station| check_station(place, station))
}

fn check_station(place: &str, station: Barometer) -> Checked {
    let (lowest, highest) = station_pressure_range();
    if station >= lowest && station <= highest {
        return Ok(());
    }
    Err(JobFileError::value(
        format!("{place}: station_pressure_in_hg"),
        without_noise(station.in_hg()),
        format!("a station pressure lies between {:.1} and {:.1} in. Hg", lowest.in_hg(), highest.in_hg()),
    ))
}

/// A number to nine decimals, for sentences: conversion leaves its last digits uneven.
pub(super) fn without_noise(number: f64) -> f64 {
    format!("{number:.9}").parse().unwrap_or(number)
}

fn check_electric(place: &str, set: &ReadingSet) -> Checked {
    if let Some(power) = set.power.map(Power::watts) {
        check_above_zero(&format!("{place}: power_watts"), power)?;
    }
    set.voltage.map(Voltage::volts).map_or(Ok(()), |volts| check_above_zero(&format!("{place}: voltage_volts"), volts))
}

fn check_ducts(ducts: &DuctDesign) -> Checked {
    let longest = LONGEST_EFFECTIVE_LENGTH.ft();
    for (field, length) in
        [("Ducts: return_length_ft", ducts.return_length), ("Ducts: supply_length_ft", ducts.supply_length)]
    {
        let Some(feet) = length.map(Length::ft) else {
            continue;
        };
        if !(feet > 0.0 && feet <= longest) {
            let right = format!("a total effective length is above 0 and at most {longest}");
            return Err(JobFileError::value(field, feet, right));
        }
    }
    let (least, most) = (DESIGN_STATIC_RANGE.0.in_wc(), DESIGN_STATIC_RANGE.1.in_wc());
    let design = ducts.design_static.map(Pressure::in_wc);
    design.map_or(Ok(()), |design| check_within("Ducts: design_static_in_wc", design, (least, most), "a design static"))
}

pub(super) fn check_target(place: &str, target: &Target) -> Checked {
    let field = |name: &str| format!("{place}: {name}");
    match *target {
        Target::Airflow(airflow) => check_above_zero(&field("cfm"), airflow.cfm()),
        Target::PerTon { capacity, per_ton } => {
            check_capacity(&field("capacity_tons"), capacity)?;
            check_above_zero(&field("per_ton_cfm"), per_ton.cfm())
        }
        Target::HeatRise { output, rise } => {
            check_above_zero(&field("output_btuh"), output.btuh())?;
            check_above_zero(&field("rise_f"), rise.f())
        }
    }
}

fn check_capacity(field: &str, capacity: Capacity) -> Checked {
    let (least, most) = (CAPACITY_RANGE.0.tons(), CAPACITY_RANGE.1.tons());
    check_within(field, capacity.tons(), (least, most), "a capacity in tons")
}

fn check_limits(job: &Job) -> Checked {
    let limits = &job.limits;
    check_within("Limits: accept_band_fraction", limits.accept_band, (0.0, 1.0), "a fraction")?;
    check_above_zero("Limits: return_drop_in_wc", limits.return_drop.in_wc())?;
    check_above_zero("Limits: furnace_supply_drop_in_wc", limits.furnace_supply_drop.in_wc())?;
    check_not_negative("Limits: least_static_in_wc", limits.least_static.in_wc())?;
    check_above_zero("Limits: watts_per_cfm", limits.watts_per_cfm)
}

fn check_accuracy(job: &Job) -> Checked {
    let accuracy = &job.accuracy;
    check_within("Accuracy: manometer_fraction", accuracy.manometer_fraction, (0.0, 1.0), "a fraction")?;
    for (field, error) in [
        ("Accuracy: manometer_floor_in_wc", accuracy.manometer_floor),
        ("Accuracy: port_offset_in_wc", accuracy.port_offset),
    ] {
        check_within(field, error.in_wc(), (0.0, 1.0), "an error in in. w.c.")?;
    }
    check_within("Accuracy: table_fraction", accuracy.table_fraction, (0.0, 1.0), "a fraction")?;
    check_within("Accuracy: exponent", accuracy.exponent, (0.0, 1.0), "the error of an exponent")
}

pub(super) fn check_within(field: &str, value: f64, (low, high): (f64, f64), what: impl Display) -> Checked {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    Err(JobFileError::value(field, value, format!("{what} lies between {low} and {high}")))
}

fn check_above_zero(field: &str, value: f64) -> Checked {
    if value.is_finite() && value > 0.0 {
        return Ok(());
    }
    Err(JobFileError::value(field, value, "it has to be above zero"))
}

pub(super) fn check_not_negative(field: &str, value: f64) -> Checked {
    if value.is_finite() && value >= 0.0 {
        return Ok(());
    }
    Err(JobFileError::value(field, value, "it must not be below zero"))
}

fn check_finite(field: &str, value: f64) -> Checked {
    if value.is_finite() {
        return Ok(());
    }
    Err(JobFileError::value(field, value, "it has to be a plain number"))
}
