//! What format 1 says of a whole job: mirrors of the model's own types, each quantity under a field that names its unit.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_with::{As, FromInto, TryFromInto, serde_as, skip_serializing_none};

use super::airflow_file::{AirflowReadDto, AnchorDto};
use super::change_file::{self, ChangeDto, OptionDto};
use super::common::{CallTargetDto, Read, TargetDto, either, fraction, percent_of, short_exact};
use super::error::{JobFileError, Misfit};
use super::path::{self, BypassDto, ElementIdDto, PathPartDto, PortDto, PortIdDto};
use crate::files::blower_file::{BlowerDto, BlowerFileError};
use crate::files::own_source::{self, SourceDto};
use crate::files::quantities::{
    BtuPerHour, Fahrenheit, FahrenheitRise, Feet, FeetHigh, FeetPerMinute, InWc, OneLine, Tons, Volts, Watts,
};
use crate::files::ron_words::OWN;
use crate::files::words::{CallDto, CoilStateDto, OpeningsDto, PhaseDto, mirrors};
use crate::model::facts::accuracy::Accuracy;
use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{AirPath, ElementId, Port, PortId};
use crate::model::facts::airflow_read::AirflowRead;
use crate::model::facts::blower::{BlowerTable, Call, ReturnOpenings};
use crate::model::facts::change::Change;
use crate::model::facts::costs::Costs;
use crate::model::facts::duct::design::DuctDesign;
use crate::model::facts::figure_source::Sources;
use crate::model::facts::job::Job;
use crate::model::facts::limits::Limits;
use crate::model::facts::options::{JobOption, Options};
use crate::model::facts::plain_text::lines;
use crate::model::facts::readings::{CoilState, HeatRead, Phase, ReadAt, Reading, ReadingSet};
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::Target;
use crate::units::{
    Altitude, Barometer, Capacity, HeatRate, Length, Power, Pressure, Temperature, TemperatureRise, UnitSystem,
    Velocity, Voltage,
};

/// A whole file of format 1, as it is read; [`super::layout`] writes its parts in this order.
#[serde_as]
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Job")]
pub(super) struct JobDto {
    /// Read before anything else, by [`super::check_first_field`].
    #[serde(rename = "tapcross_job")]
    _format: u32,
    #[serde(default, with = "As::<OneLine>")]
    title: String,
    #[serde(default, with = "As::<OneLine>")]
    place: String,
    #[serde(default, with = "As::<OneLine>")]
    date: String,
    #[serde(default)]
    notes: String,
    #[serde(default)]
    illustrative: bool,
    #[serde_as(as = "Option<Tons>")]
    outdoor_unit_tons: Option<Capacity>,
    #[serde(default, with = "OpeningsDto")]
    return_openings: ReturnOpenings,
    path: Vec<PathPartDto>,
    #[serde_as(as = "Vec<PortDto>")]
    ports: Vec<Port>,
    bypass: Option<BypassDto>,
    #[serde_as(as = "Vec<SetDto>")]
    sets: Vec<ReadingSet>,
    /// Number of the set that everything is judged by, from 1.
    judged: Option<usize>,
    anchor: Option<AnchorDto>,
    #[serde(default, with = "DuctsDto")]
    ducts: DuctDesign,
    changes: Option<Vec<ChangeDto>>,
    options: Option<Vec<OptionDto>>,
    /// Number of the option that is worked on, from 1.
    shown: Option<usize>,
    #[serde(default, with = "CostsDto")]
    costs: Costs,
    /// Tables of the machines that changes put on the ducts.
    #[serde(default)]
    other_machines: Vec<BlowerDto>,
    #[serde_as(as = "Option<FromInto<TargetDto>>")]
    target: Option<Target>,
    #[serde(default)]
    call_targets: Vec<CallTargetDto>,
    #[serde(with = "LimitsDto")]
    limits: Limits,
    #[serde(with = "AccuracyDto")]
    accuracy: Accuracy,
    /// Whose limits and accuracy are, by their keys.
    #[serde(default)]
    figure_sources: BTreeMap<String, SourceDto>,
    machine: Option<BlowerDto>,
}

/// Only what the model's types cannot hold is refused here; [`super::check`] judges the rest.
pub(super) fn job(dto: JobDto) -> Read<Job> {
    let table = |dto| BlowerTable::try_from(dto).map_err(|refused: BlowerFileError| refused.to_string());
    let other = |(dto, number)| table(dto).map_err(|refused| JobFileError::OtherMachine(number, refused));
    let machine = dto.machine.map(table).transpose().map_err(JobFileError::Machine)?;
    let others: Vec<BlowerTable> = dto.other_machines.into_iter().zip(1..).map(other).collect::<Read<_>>()?;
    let unsaid = |dto: Vec<ChangeDto>| -> Read<Vec<Change>> {
        dto.into_iter().map(|dto| change_file::from_file(dto, &others)).collect()
    };
    let changes = unsaid(dto.changes.unwrap_or_default())?;
    let job = Job {
        title: dto.title,
        place: dto.place,
        date: dto.date,
        notes: lines(&dto.notes),
        illustrative: dto.illustrative,
        machine,
        outdoor_unit: dto.outdoor_unit_tons,
        return_openings: dto.return_openings,
        path: AirPath {
            elements: dto.path.into_iter().map(path::element).collect::<Read<_>>()?,
            ports: dto.ports,
            bypass: dto.bypass.as_ref().map(path::bypass).transpose()?,
        },
        // A file numbers them from 1; nothing is the first.
        judged: dto.judged.unwrap_or(1).wrapping_sub(1),
        anchor: dto.anchor.map(Into::into),
        sets: dto.sets,
        changes,
        options: Options::default(),
        costs: dto.costs,
        ducts: dto.ducts,
        target: dto.target,
        call_targets: dto.call_targets.into_iter().map(Into::into).collect(),
        limits: dto.limits,
        accuracy: dto.accuracy,
        sources: sources(dto.figure_sources)?,
    };
    match dto.options {
        None => Ok(job),
        Some(options) => with_options(&job, options, dto.shown, &others),
    }
}

/// Whose figures are, by the figures' keys.
fn sources(dto: BTreeMap<String, SourceDto>) -> Read<Sources> {
    let known = dto.into_iter().map(|(key, source)| own_source::from_file(&key, &source));
    let unknown = |key: String| Misfit::NoFigure(key).at("figure_sources");
    known.filter_map(Result::transpose).collect::<Result<_, _>>().map_err(unknown)
}

/// The job with its options; nothing said of it, the first is worked on.
fn with_options(job: &Job, options: Vec<OptionDto>, shown: Option<usize>, machines: &[BlowerTable]) -> Read<Job> {
    if !job.changes.is_empty() {
        return Err(Misfit::Twice(["changes", "options"]).at("Job"));
    }
    let all: Vec<JobOption> = options.into_iter().map(|dto| dto.option(machines)).collect::<Read<_>>()?;
    let shown = shown.unwrap_or(1).wrapping_sub(1);
    let none = || JobFileError::Contents(Refusal::NoSuchOption(shown, all.len()));
    job.with_options(&all, shown).ok_or_else(none)
}

#[skip_serializing_none]
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "ReadingSet")]
pub(super) struct SetDto {
    #[serde(with = "As::<OneLine>")]
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    time: String,
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    note: String,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    after_repair: bool,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    otherwise: bool,
    #[serde(with = "CallDto")]
    call: Call,
    #[serde_as(as = "Option<OneLine>")]
    tap: Option<String>,
    #[serde_as(as = "Vec<ReadingDto>")]
    readings: Vec<Reading>,
    #[serde(with = "CoilStateDto")]
    coil: CoilState,
    #[serde(default, skip_serializing_if = "Vec::is_empty", with = "As::<Vec<ElementIdDto>>")]
    parts_out: Vec<ElementId>,
    #[serde(with = "As::<TryFromInto<AirDto>>")]
    air: AirConditions,
    #[serde(rename = "power_watts")]
    #[serde_as(as = "Option<Watts>")]
    power: Option<Power>,
    #[serde(rename = "voltage_volts")]
    #[serde_as(as = "Option<Volts>")]
    voltage: Option<Voltage>,
    #[serde(default, skip_serializing_if = "HeatRead::is_empty", with = "HeatReadDto")]
    heat: HeatRead,
    #[serde(default, skip_serializing_if = "AirflowRead::is_empty", with = "AirflowReadDto")]
    airflow: AirflowRead,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    signs_confirmed: bool,
}

#[skip_serializing_none]
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "HeatRead")]
struct HeatReadDto {
    #[serde(rename = "measured_rise_f")]
    #[serde_as(as = "Option<FahrenheitRise>")]
    rise: Option<TemperatureRise>,
    #[serde(rename = "heat_input_btuh")]
    #[serde_as(as = "Option<BtuPerHour>")]
    input: Option<HeatRate>,
    #[serde(rename = "burner_efficiency")]
    efficiency: Option<f64>,
    #[serde(rename = "meter_turn_seconds")]
    meter_seconds: Option<f64>,
    #[serde(rename = "meter_dial_ft3")]
    meter_dial: Option<f64>,
    #[serde(rename = "heating_value_btu_ft3")]
    heating_value: Option<f64>,
    #[serde(rename = "heater_amps")]
    amps: Option<f64>,
    #[serde(default, skip_serializing_if = "usual::phase", with = "PhaseDto")]
    phase: Phase,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "Reading")]
struct ReadingDto {
    #[serde(with = "ReadAtDto")]
    at: ReadAt,
    #[serde(rename = "looks_in_wc", with = "As::<Vec<InWc>>")]
    looks: Vec<Pressure>,
}

#[derive(Serialize, Deserialize)]
#[serde(remote = "ReadAt")]
enum ReadAtDto {
    Port(#[serde(with = "PortIdDto")] PortId),
    Total,
    Across(#[serde(with = "ElementIdDto")] ElementId),
}

#[skip_serializing_none]
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct AirDto {
    #[serde_as(as = "FeetHigh")]
    altitude_ft: Altitude,
    station_pressure_in_hg: Option<f64>,
    station_pressure_kpa: Option<f64>,
    #[serde_as(as = "Fahrenheit")]
    temperature_f: Temperature,
    humidity_percent: Option<f64>,
    humidity_fraction: Option<f64>,
}

impl From<AirConditions> for AirDto {
    fn from(air: AirConditions) -> Self {
        let (humidity_percent, humidity_fraction) = percent_of(air.humidity);
        let in_hg =
            |station: Barometer| short_exact(station.in_hg(), |inches| Barometer::from_in_hg(inches) == station);
        let station_pressure_in_hg = air.station_pressure.and_then(in_hg);
        Self {
            altitude_ft: air.altitude,
            station_pressure_in_hg,
            station_pressure_kpa: air.station_pressure.filter(|_| station_pressure_in_hg.is_none()).map(Barometer::kpa),
            temperature_f: air.temperature,
            humidity_percent,
            humidity_fraction,
        }
    }
}

impl TryFrom<AirDto> for AirConditions {
    type Error = String;

    fn try_from(dto: AirDto) -> Result<Self, String> {
        let own = |misfit: Misfit| format!("{OWN}{}", misfit.sentence(UnitSystem::InchPound));
        let missing = || format!("{OWN}the field humidity_percent is missing in the brackets that end here");
        let in_hg = dto.station_pressure_in_hg.map(Barometer::from_in_hg);
        let kpa = dto.station_pressure_kpa.map(Barometer::from_kpa);
        let humidity = ["humidity_percent", "humidity_fraction"];
        Ok(Self {
            altitude: dto.altitude_ft,
            station_pressure: either(["station_pressure_in_hg", "station_pressure_kpa"], in_hg, kpa).map_err(own)?,
            temperature: dto.temperature_f,
            humidity: fraction(humidity, dto.humidity_percent, dto.humidity_fraction)
                .map_err(own)?
                .ok_or_else(missing)?,
        })
    }
}

#[skip_serializing_none]
#[serde_as]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "DuctDesign")]
pub(super) struct DuctsDto {
    #[serde(rename = "return_length_ft")]
    #[serde_as(as = "Option<Feet>")]
    return_length: Option<Length>,
    #[serde(rename = "supply_length_ft")]
    #[serde_as(as = "Option<Feet>")]
    supply_length: Option<Length>,
    #[serde(rename = "design_static_in_wc")]
    #[serde_as(as = "Option<InWc>")]
    design_static: Option<Pressure>,
}

#[skip_serializing_none]
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "Costs")]
pub(super) struct CostsDto {
    fan_hours: Option<f64>,
    #[serde(rename = "energy_price_per_kwh")]
    energy_price: Option<f64>,
    #[serde(rename = "tax_fraction")]
    tax: Option<f64>,
    #[serde(rename = "labour_tax_fraction")]
    labour_tax: Option<f64>,
    #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    currency: String,
    #[serde(rename = "prices_hold_days")]
    valid_days: Option<f64>,
    #[serde(default, rename = "prices_hold_until", skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
    valid_until: String,
}

/// What a file leaves out is the usual figure; those that came later are written only where they are another one, so that an older program opens the file.
#[derive(Serialize, Deserialize)]
#[serde(default = "Limits::default", deny_unknown_fields, remote = "Limits")]
pub(super) struct LimitsDto {
    #[serde(rename = "accept_band_fraction")]
    accept_band: f64,
    #[serde(rename = "commissioned_airflow_fraction", skip_serializing_if = "usual::commissioned_airflow")]
    commissioned_airflow: f64,
    #[serde(rename = "return_drop_in_wc", with = "As::<InWc>")]
    return_drop: Pressure,
    #[serde(rename = "filter_drop_in_wc", with = "As::<InWc>", skip_serializing_if = "usual::filter_drop")]
    filter_drop: Pressure,
    #[serde(rename = "coil_drop_in_wc", with = "As::<InWc>", skip_serializing_if = "usual::coil_drop")]
    coil_drop: Pressure,
    #[serde(rename = "furnace_supply_drop_in_wc", with = "As::<InWc>")]
    furnace_supply_drop: Pressure,
    #[serde(rename = "least_static_in_wc", with = "As::<InWc>")]
    least_static: Pressure,
    #[serde(skip_serializing_if = "usual::least_of_design")]
    least_of_design: f64,
    #[serde(rename = "lost_air_fraction", skip_serializing_if = "usual::lost_air")]
    lost_air: f64,
    #[serde(rename = "most_out_of_path_fraction", skip_serializing_if = "usual::most_out")]
    most_out: f64,
    #[serde(rename = "duct_velocity_fpm", with = "As::<FeetPerMinute>", skip_serializing_if = "usual::duct_velocity")]
    duct_velocity: Velocity,
    #[serde(
        rename = "grille_velocity_fpm",
        with = "As::<FeetPerMinute>",
        skip_serializing_if = "usual::grille_velocity"
    )]
    grille_velocity: Velocity,
    watts_per_cfm: f64,
    #[serde(skip_serializing_if = "usual::furnace_watts_per_cfm")]
    furnace_watts_per_cfm: f64,
}

#[derive(Serialize, Deserialize)]
#[serde(default = "Accuracy::default", deny_unknown_fields, remote = "Accuracy")]
pub(super) struct AccuracyDto {
    manometer_fraction: f64,
    #[serde(rename = "manometer_floor_in_wc", with = "As::<InWc>")]
    manometer_floor: Pressure,
    #[serde(rename = "port_offset_in_wc", with = "As::<InWc>")]
    port_offset: Pressure,
    #[serde(rename = "reading_scatter_in_wc", with = "As::<InWc>", skip_serializing_if = "usual::reading_scatter")]
    reading_scatter: Pressure,
    table_fraction: f64,
    #[serde(skip_serializing_if = "usual::tap_fraction")]
    tap_fraction: f64,
    #[serde(skip_serializing_if = "usual::data_fraction")]
    data_fraction: f64,
    #[serde(skip_serializing_if = "usual::table_power_fraction")]
    table_power_fraction: f64,
    #[serde(skip_serializing_if = "usual::wattmeter_fraction")]
    wattmeter_fraction: f64,
    #[serde(rename = "thermometer_f", with = "As::<FahrenheitRise>", skip_serializing_if = "usual::thermometer")]
    thermometer: TemperatureRise,
    #[serde(skip_serializing_if = "usual::heat_fraction")]
    heat_fraction: f64,
    #[serde(skip_serializing_if = "usual::rated_heat_fraction")]
    rated_heat_fraction: f64,
    #[serde(skip_serializing_if = "usual::hood_fraction")]
    hood_fraction: f64,
    #[serde(skip_serializing_if = "usual::plate_fraction")]
    plate_fraction: f64,
    exponent: f64,
    #[serde(skip_serializing_if = "usual::change_fraction")]
    change_fraction: f64,
    #[serde(skip_serializing_if = "usual::guessed_odds")]
    guessed_odds: f64,
}

/// True for figures that a file without them means.
mod usual {
    use crate::model::facts::accuracy::Accuracy;
    use crate::model::facts::limits::Limits;
    use crate::model::facts::readings::Phase;
    use crate::units::{Pressure, TemperatureRise, Velocity};

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it by reference")]
    pub(in super::super) fn phase(phase: &Phase) -> bool {
        *phase == Phase::default()
    }

    /// One function a figure: its name, its type and where its usual value stands.
    macro_rules! usual {
        ($($figure:ident: $kind:ty = $usual:expr),+ $(,)?) => {
            $(pub(in super::super) fn $figure(figure: &$kind) -> bool {
                figure.partial_cmp(&$usual.$figure) == Some(std::cmp::Ordering::Equal)
            })+
        };
    }

    usual!(
        filter_drop: Pressure = Limits::default(),
        coil_drop: Pressure = Limits::default(),
        least_of_design: f64 = Limits::default(),
        commissioned_airflow: f64 = Limits::default(),
        lost_air: f64 = Limits::default(),
        most_out: f64 = Limits::default(),
        duct_velocity: Velocity = Limits::default(),
        grille_velocity: Velocity = Limits::default(),
        furnace_watts_per_cfm: f64 = Limits::default(),
        reading_scatter: Pressure = Accuracy::default(),
        tap_fraction: f64 = Accuracy::default(),
        data_fraction: f64 = Accuracy::default(),
        table_power_fraction: f64 = Accuracy::default(),
        wattmeter_fraction: f64 = Accuracy::default(),
        thermometer: TemperatureRise = Accuracy::default(),
        heat_fraction: f64 = Accuracy::default(),
        rated_heat_fraction: f64 = Accuracy::default(),
        hood_fraction: f64 = Accuracy::default(),
        plate_fraction: f64 = Accuracy::default(),
        change_fraction: f64 = Accuracy::default(),
        guessed_odds: f64 = Accuracy::default(),
    );
}

mirrors!(SetDto: ReadingSet, ReadingDto: Reading, CostsDto: Costs, DuctsDto: DuctDesign, LimitsDto: Limits, AccuracyDto: Accuracy);
