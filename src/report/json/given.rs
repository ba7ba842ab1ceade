//! What the job says: the parts of the report that repeat its decisions and readings.

use serde::Serialize;

use super::words;
use crate::model::answer::Answer;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::job::Job;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::facts::target::{Target, TargetBand};
use crate::model::verdicts::targets;
use crate::units::{Capacity, Length, Power, Pressure, Voltage};

#[derive(Debug, Serialize)]
pub(super) struct JobPart {
    title: String,
    place: String,
    date: String,
    notes: String,
    illustrative: bool,
    capacity_tons: Option<f64>,
    return_length_ft: Option<f64>,
    supply_length_ft: Option<f64>,
    design_static_in_wc: Option<f64>,
    return_openings: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct Machine {
    name: String,
    kind: &'static str,
    motor: &'static str,
    illustrative: bool,
    source: String,
    notes: String,
    nominal_capacity_tons: Option<f64>,
    rated_maximum_in_wc: Option<f64>,
    basis: Basis,
}

#[derive(Debug, Serialize)]
struct Basis {
    filter: &'static str,
    coil: &'static str,
    heater: &'static str,
    return_openings: &'static str,
    position: &'static str,
    voltage_volts: Option<f64>,
    density_lb_ft3: f64,
    density_is_stated: bool,
}

#[derive(Debug, Serialize)]
pub(super) struct Air {
    altitude_ft: f64,
    return_temperature_f: f64,
    return_humidity_fraction: f64,
    station_pressure_kpa: f64,
    station_pressure_is_read: bool,
    density_lb_ft3: f64,
    density_ratio: f64,
    behind_cold_coil: bool,
}

#[derive(Debug, Serialize)]
pub(super) struct Readings {
    set: String,
    call: &'static str,
    tap: Option<String>,
    coil: &'static str,
    power_watts: Option<f64>,
    voltage_volts: Option<f64>,
    signs_confirmed: bool,
    places: Vec<Place>,
}

#[derive(Debug, Serialize)]
struct Place {
    at: &'static str,
    port: Option<u32>,
    side: Option<&'static str>,
    after: Option<&'static str>,
    across: Option<&'static str>,
    looks_in_wc: Vec<f64>,
    average_in_wc: Option<f64>,
    u_unsteadiness_in_wc: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct TargetPart {
    from: Option<&'static str>,
    actual_cfm: f64,
    standard_cfm: f64,
    low_cfm: f64,
    high_cfm: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct CallTargetPart {
    call: &'static str,
    target: TargetPart,
}

#[derive(Debug, Serialize)]
pub(super) struct Limits {
    accept_band_fraction: f64,
    return_drop_in_wc: f64,
    filter_drop_in_wc: f64,
    coil_drop_in_wc: f64,
    furnace_supply_drop_in_wc: f64,
    least_static_in_wc: f64,
    least_of_design_fraction: f64,
    lost_air_fraction: f64,
    most_out_of_path_fraction: f64,
    watts_per_cfm: f64,
    furnace_watts_per_cfm: f64,
}

#[derive(Debug, Serialize)]
pub(super) struct Accuracy {
    manometer_fraction: f64,
    manometer_floor_in_wc: f64,
    port_offset_in_wc: f64,
    table_fraction: f64,
    tap_fraction: f64,
    data_fraction: f64,
    table_power_fraction: f64,
    wattmeter_fraction: f64,
    exponent: f64,
    change_fraction: f64,
    guessed_odds_ratio: f64,
}

pub(super) fn job(job: &Job) -> JobPart {
    JobPart {
        title: job.title.clone(),
        place: job.place.clone(),
        date: job.date.clone(),
        notes: job.notes.clone(),
        illustrative: job.illustrative,
        capacity_tons: job.capacity().map(Capacity::tons),
        return_length_ft: job.ducts.return_length.map(Length::ft),
        supply_length_ft: job.ducts.supply_length.map(Length::ft),
        design_static_in_wc: job.ducts.design_static.map(Pressure::in_wc),
        return_openings: words::return_openings(job.return_openings),
    }
}

pub(super) fn machine(table: &BlowerTable) -> Machine {
    Machine {
        name: table.name.clone(),
        kind: words::kind(table.kind),
        motor: words::motor(table.motor),
        illustrative: table.illustrative,
        source: table.source.clone(),
        notes: table.notes.clone(),
        nominal_capacity_tons: table.cooling.map(Capacity::tons),
        rated_maximum_in_wc: table.rated_maximum.map(Pressure::in_wc),
        basis: basis(table),
    }
}

fn basis(table: &BlowerTable) -> Basis {
    let basis = &table.basis;
    Basis {
        filter: words::part(basis.filter),
        coil: words::coil_in_test(basis.coil),
        heater: words::part(basis.heater),
        return_openings: words::return_openings(basis.return_openings),
        position: words::position(basis.position),
        voltage_volts: basis.voltage.map(Voltage::volts),
        density_lb_ft3: basis.table_density().lb_ft3(),
        density_is_stated: basis.density.is_some(),
    }
}

pub(super) fn air(job: &Job, answer: &Answer) -> Air {
    let given = &job.set().air;
    Air {
        altitude_ft: given.altitude.ft(),
        return_temperature_f: given.temperature.f(),
        return_humidity_fraction: given.humidity,
        station_pressure_kpa: answer.blower().air.pressure.kpa(),
        station_pressure_is_read: given.station_pressure.is_some(),
        density_lb_ft3: answer.blower().air.density.lb_ft3(),
        density_ratio: answer.blower().density_ratio,
        behind_cold_coil: answer.blower().air.behind_cold_coil,
    }
}

pub(super) fn readings(job: &Job) -> Readings {
    let set = job.set();
    Readings {
        set: set.name.clone(),
        call: words::call(set.call),
        tap: job.tap_in_use().map(str::to_owned),
        coil: words::coil(set.coil),
        power_watts: set.power.map(Power::watts),
        voltage_volts: set.voltage.map(Voltage::volts),
        signs_confirmed: set.signs_confirmed,
        places: set.readings.iter().map(|reading| place(job, reading)).collect(),
    }
}

fn place(job: &Job, reading: &Reading) -> Place {
    let port = match reading.at {
        ReadAt::Port(port) => Some(port),
        ReadAt::Total | ReadAt::Across(_) => None,
    };
    let across = match reading.at {
        ReadAt::Across(id) => job.path.element(id),
        ReadAt::Port(_) | ReadAt::Total => None,
    };
    let before = port.and_then(|port| job.path.is_before_blower(port));
    let after = port.and_then(|port| job.path.port(port)).and_then(|port| job.path.element(port.after));
    Place {
        at: match reading.at {
            ReadAt::Port(_) => "port",
            ReadAt::Total => "total",
            ReadAt::Across(_) => "across",
        },
        across: across.map(|element| words::element(element.kind)),
        port: port.map(|port| port.0),
        side: before.map(words::side),
        after: after.map(|element| words::element(element.kind)),
        looks_in_wc: reading.looks.iter().copied().map(Pressure::in_wc).collect(),
        average_in_wc: reading.average().map(Pressure::in_wc),
        u_unsteadiness_in_wc: reading.unsteadiness().in_wc(),
    }
}

/// A target with its band.
pub(super) fn target(band: &TargetBand) -> TargetPart {
    TargetPart {
        from: Some(match band.from {
            Target::Airflow(_) => "airflow",
            Target::PerTon { .. } => "per_ton",
            Target::HeatRise { .. } => "heat_rise",
        }),
        actual_cfm: band.actual.cfm(),
        standard_cfm: band.standard.cfm(),
        low_cfm: band.low.cfm(),
        high_cfm: band.high.cfm(),
    }
}

/// The target of every call that has one.
pub(super) fn call_targets(job: &Job) -> Vec<CallTargetPart> {
    let Some(table) = &job.machine else {
        return Vec::new();
    };
    let of = |call: Call| {
        let band = targets::of(job, table, call, None)?;
        Some(CallTargetPart { call: words::call(call), target: target(&band) })
    };
    Call::ALL.into_iter().filter_map(of).collect()
}

pub(super) fn limits(job: &Job) -> Limits {
    Limits {
        accept_band_fraction: job.limits.accept_band,
        return_drop_in_wc: job.limits.return_drop.in_wc(),
        filter_drop_in_wc: job.limits.filter_drop.in_wc(),
        coil_drop_in_wc: job.limits.coil_drop.in_wc(),
        furnace_supply_drop_in_wc: job.limits.furnace_supply_drop.in_wc(),
        least_static_in_wc: job.limits.least_static.in_wc(),
        least_of_design_fraction: job.limits.least_of_design,
        lost_air_fraction: job.limits.lost_air,
        most_out_of_path_fraction: job.limits.most_out,
        watts_per_cfm: job.limits.watts_per_cfm,
        furnace_watts_per_cfm: job.limits.furnace_watts_per_cfm,
    }
}

pub(super) fn accuracy(job: &Job) -> Accuracy {
    Accuracy {
        manometer_fraction: job.accuracy.manometer_fraction,
        manometer_floor_in_wc: job.accuracy.manometer_floor.in_wc(),
        port_offset_in_wc: job.accuracy.port_offset.in_wc(),
        table_fraction: job.accuracy.table_fraction,
        tap_fraction: job.accuracy.tap_fraction,
        data_fraction: job.accuracy.data_fraction,
        table_power_fraction: job.accuracy.table_power_fraction,
        wattmeter_fraction: job.accuracy.wattmeter_fraction,
        exponent: job.accuracy.exponent,
        change_fraction: job.accuracy.change_fraction,
        guessed_odds_ratio: job.accuracy.guessed_odds,
    }
}
