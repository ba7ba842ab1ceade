//! What the job says: the parts of the report that repeat its decisions and readings.

use serde::Serialize;

use super::part::part;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::figure_source::{NamedSource, Whose};
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::facts::target::{Target, TargetBand};
use crate::model::verdicts::targets;
use crate::model::wording::figures;
use crate::units::{Capacity, HeatRate, Length, Power, Pressure, TemperatureRise, Voltage};

#[derive(Debug, Serialize)]
pub(super) struct CallTargetPart {
    call: &'static str,
    target: TargetPart,
}

part! {
    fn job(job: &Job) -> JobPart {
        title: String = job.title.clone(),
        place: String = job.place.clone(),
        date: String = job.date.clone(),
        notes: String = job.notes.clone(),
        illustrative: bool = job.illustrative,
        capacity_tons: Option<f64> = job.capacity().map(Capacity::tons),
        return_length_ft: Option<f64> = job.ducts.return_length.map(Length::ft),
        supply_length_ft: Option<f64> = job.ducts.supply_length.map(Length::ft),
        design_static_in_wc: Option<f64> = job.ducts.design_static.map(Pressure::in_wc),
        fan_hours: Option<f64> = job.costs.fan_hours,
        energy_price_per_kwh: Option<f64> = job.costs.energy_price,
        tax_fraction: Option<f64> = job.costs.tax,
        labour_tax_fraction: Option<f64> = job.costs.labour_tax,
        currency: String = job.costs.currency.clone(),
        prices_hold_days: Option<f64> = job.costs.valid_days,
        prices_hold_until: String = job.costs.valid_until.clone(),
        return_openings: &'static str = words::return_openings(job.return_openings),
    }
}

part! {
    fn machine(table: &BlowerTable) -> Machine {
        name: String = table.name.clone(),
        kind: &'static str = words::kind(table.kind),
        motor: &'static str = words::motor(table.motor),
        illustrative: bool = table.illustrative,
        source: String = table.source.clone(),
        notes: String = table.notes.clone(),
        nominal_capacity_tons: Option<f64> = table.cooling.map(Capacity::tons),
        rated_maximum_in_wc: Option<f64> = table.rated_maximum.map(Pressure::in_wc),
        basis: Basis = basis(table),
    }
}

part! {
    fn basis(table: &BlowerTable) -> Basis [
        let basis = &table.basis;
    ] {
        filter: &'static str = words::part(basis.filter),
        coil: &'static str = words::coil_in_test(basis.coil),
        heater: &'static str = words::part(basis.heater),
        return_openings: &'static str = words::return_openings(basis.return_openings),
        position: &'static str = words::position(basis.position),
        voltage_volts: Option<f64> = basis.voltage.map(Voltage::volts),
        density_lb_ft3: f64 = basis.table_density().lb_ft3(),
        density_is_stated: bool = basis.density.is_some(),
        reading_error_percent: Option<f64> = basis.reading_error,
    }
}

part! {
    fn air(job: &Job, answer: &Answer) -> Air [
        let given = &job.set().air;
    ] {
        altitude_ft: f64 = given.altitude.ft(),
        return_temperature_f: f64 = given.temperature.f(),
        return_humidity_fraction: f64 = given.humidity,
        station_pressure_kpa: f64 = answer.blower().air.pressure.kpa(),
        station_pressure_is_read: bool = given.station_pressure.is_some(),
        density_lb_ft3: f64 = answer.blower().air.density.lb_ft3(),
        density_ratio: f64 = answer.blower().density_ratio,
        behind_cold_coil: bool = answer.blower().air.behind_cold_coil,
    }
}

part! {
    fn readings(job: &Job) -> Readings [
        let set = job.set();
    ] {
        set: String = set.name.clone(),
        call: &'static str = words::call(set.call),
        tap: Option<String> = job.tap_in_use().map(str::to_owned),
        coil: &'static str = words::coil(set.coil),
        power_watts: Option<f64> = set.power.map(Power::watts),
        voltage_volts: Option<f64> = set.voltage.map(Voltage::volts),
        measured_rise_f: Option<f64> = set.heat.rise.map(TemperatureRise::f),
        heat_input_btuh: Option<f64> = set.heat_input().map(HeatRate::btuh),
        burner_efficiency_fraction: Option<f64> = set.heat.efficiency,
        supply_grilles_cfm: Vec<f64> = set.airflow.supply_grilles.iter().map(|grille| grille.cfm()).collect(),
        return_grilles_cfm: Vec<f64> = set.airflow.return_grilles.iter().map(|grille| grille.cfm()).collect(),
        plate_drop_in_wc: Option<f64> = set.airflow.plate.drop.map(Pressure::in_wc),
        signs_confirmed: bool = set.signs_confirmed,
        places: Vec<Place> = set.readings.iter().map(|reading| place(job, reading)).collect(),
    }
}

part! {
    fn place(job: &Job, reading: &Reading) -> Place [
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
    ] {
        at: &'static str = match reading.at {
            ReadAt::Port(_) => "port",
            ReadAt::Total => "total",
            ReadAt::Across(_) => "across",
        },
        port: Option<u32> = port.map(|port| port.0),
        side: Option<&'static str> = before.map(words::side),
        after: Option<&'static str> = after.map(|element| words::element(element.kind)),
        across: Option<&'static str> = across.map(|element| words::element(element.kind)),
        looks_in_wc: Vec<f64> = reading.looks.iter().copied().map(Pressure::in_wc).collect(),
        average_in_wc: Option<f64> = reading.average().map(Pressure::in_wc),
        u_unsteadiness_in_wc: f64 = reading.unsteadiness().in_wc(),
    }
}

part! {
    #[derive(Clone, Copy)]
    /// A target with its band.
    fn target(band: &TargetBand) -> TargetPart {
        from: Option<&'static str> = Some(match band.from {
            Target::Airflow(_) => "airflow",
            Target::PerTon { .. } => "per_ton",
            Target::HeatRise { .. } => "heat_rise",
        }),
        actual_cfm: f64 = band.actual.cfm(),
        standard_cfm: f64 = band.standard.cfm(),
        low_cfm: f64 = band.low.cfm(),
        high_cfm: f64 = band.high.cfm(),
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

part! {
    fn limits(job: &Job) -> Limits {
        accept_band_fraction: f64 = job.limits.accept_band,
        commissioned_airflow_fraction: f64 = job.limits.commissioned_airflow,
        return_drop_in_wc: f64 = job.limits.return_drop.in_wc(),
        filter_drop_in_wc: f64 = job.limits.filter_drop.in_wc(),
        coil_drop_in_wc: f64 = job.limits.coil_drop.in_wc(),
        furnace_supply_drop_in_wc: f64 = job.limits.furnace_supply_drop.in_wc(),
        least_static_in_wc: f64 = job.limits.least_static.in_wc(),
        least_of_design_fraction: f64 = job.limits.least_of_design,
        lost_air_fraction: f64 = job.limits.lost_air,
        most_out_of_path_fraction: f64 = job.limits.most_out,
        duct_velocity_fpm: f64 = job.limits.duct_velocity.fpm(),
        grille_velocity_fpm: f64 = job.limits.grille_velocity.fpm(),
        watts_per_cfm: f64 = job.limits.watts_per_cfm,
        furnace_watts_per_cfm: f64 = job.limits.furnace_watts_per_cfm,
    }
}

part! {
    fn accuracy(job: &Job) -> Accuracy {
        manometer_fraction: f64 = job.accuracy.manometer_fraction,
        manometer_floor_in_wc: f64 = job.accuracy.manometer_floor.in_wc(),
        port_offset_in_wc: f64 = job.accuracy.port_offset.in_wc(),
        reading_scatter_in_wc: f64 = job.accuracy.reading_scatter.in_wc(),
        table_fraction: f64 = job.accuracy.table_fraction,
        tap_fraction: f64 = job.accuracy.tap_fraction,
        data_fraction: f64 = job.accuracy.data_fraction,
        table_power_fraction: f64 = job.accuracy.table_power_fraction,
        wattmeter_fraction: f64 = job.accuracy.wattmeter_fraction,
        thermometer_f: f64 = job.accuracy.thermometer.f(),
        heat_fraction: f64 = job.accuracy.heat_fraction,
        rated_heat_fraction: f64 = job.accuracy.rated_heat_fraction,
        hood_fraction: f64 = job.accuracy.hood_fraction,
        plate_fraction: f64 = job.accuracy.plate_fraction,
        exponent: f64 = job.accuracy.exponent,
        change_fraction: f64 = job.accuracy.change_fraction,
        guessed_odds_ratio: f64 = job.accuracy.guessed_odds,
    }
}

/// Where every limit and every figure of accuracy comes from.
pub(super) fn figure_sources(job: &Job) -> Vec<FigureSource> {
    JobNumber::figures().map(|figure| figure_source(job, figure)).collect()
}

part! {
    fn figure_source(job: &Job, figure: JobNumber) -> FigureSource [
        let whose = figure.whose(job);
        let named = match &whose {
            Whose::Named(named) => named.clone(),
            Whose::BuiltIn(_) | Whose::Unsaid => NamedSource::default(),
        };
    ] {
        figure: &'static str = figure.report(),
        from: &'static str = match whose {
            Whose::BuiltIn(_) => "built_in",
            Whose::Named(_) => "named",
            Whose::Unsaid => "unsaid",
        },
        source: String = figures::source(job, figure),
        name: String = named.name,
        date: String = named.date,
    }
}
