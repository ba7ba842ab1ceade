//! From a [`BlowerTable`] to a file's fields, always in inch-pound units.

use super::FORMAT;
use super::cell::{CellDto, note_of};
use super::dto::{
    AirflowUnit, BasisDto, BlowerDto, CorrectionsDto, DropDto, GridRow, HeatStageDto, HeatUnit, LowVoltageDto,
    PressureUnit, RangeDto, TemperatureUnit, UnitsDto,
};
use crate::model::facts::blower::{Basis, BlowerTable, Cell, Corrections, HeatStage, Row, Tap, TapData};
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::units::{Airflow, Capacity, Density, Power, Pressure, Speed, TemperatureRise, Voltage};

/// The units that this program writes.
const INCH_POUND: UnitsDto = UnitsDto {
    airflow: AirflowUnit::Cfm,
    pressure: PressureUnit::InchesOfWater,
    temperature: Some(TemperatureUnit::Fahrenheit),
    heat: Some(HeatUnit::BtuPerHour),
};

impl From<&BlowerTable> for BlowerDto {
    fn from(table: &BlowerTable) -> Self {
        let columns = columns(table);
        let esps = all_esps(&columns);
        Self {
            tapcross_blower: FORMAT,
            name: table.name.clone(),
            kind: table.kind.into(),
            motor: table.motor.into(),
            illustrative: table.illustrative,
            source: table.source.clone(),
            notes: table.notes.clone(),
            units: INCH_POUND,
            cooling_tons: table.cooling.map(Capacity::tons),
            rated_maximum: table.rated_maximum.map(Pressure::in_wc),
            basis: basis_dto(&table.basis),
            corrections: corrections_dto(&table.corrections),
            calls: table.calls.iter().map(|(call, tap)| ((*call).into(), tap.clone())).collect(),
            heating: table.heating.iter().map(heat_stage_dto).collect(),
            taps: table.taps.iter().map(|tap| tap.name.clone()).collect(),
            airflow: grid_dto(&columns, &esps, |row| cell_dto(&row.cell)),
            ranges: table.taps.iter().filter_map(range_dto).collect(),
            watts: numbers_dto(&columns, &esps, |row| row.power.map(Power::watts)),
            rpm: numbers_dto(&columns, &esps, |row| row.speed.map(Speed::rpm)),
        }
    }
}

fn basis_dto(basis: &Basis) -> BasisDto {
    BasisDto {
        filter: basis.filter.into(),
        coil: basis.coil.into(),
        heater: basis.heater.into(),
        return_openings: basis.return_openings.into(),
        position: basis.position.into(),
        volts: basis.voltage.map(Voltage::volts),
        density_lb_ft3: basis.density.map(Density::lb_ft3),
    }
}

fn corrections_dto(corrections: &Corrections) -> CorrectionsDto {
    CorrectionsDto {
        filter_as_tested: corrections.filter_as_tested.as_ref().map(drop_dto),
        wet_coil: corrections.wet_coil.as_ref().map(drop_dto),
        heater: corrections.heater.as_ref().map(drop_dto),
        one_side_return: corrections.one_side_return.as_ref().map(drop_dto),
        low_voltage: corrections
            .low_voltage
            .map(|low| LowVoltageDto { volts: low.voltage.volts(), airflow_factor: low.airflow_factor }),
    }
}

/// Drop data; the exponent is written where one point needs it, or where it is not the one that reading assumes.
fn drop_dto(data: &DropData) -> DropDto {
    let is_needed = data.points().len() == 1 || data.exponent().to_bits() != SQUARE_LAW.to_bits();
    DropDto {
        points: data.points().iter().map(|&(airflow, drop)| (airflow.cfm(), drop.in_wc())).collect(),
        exponent: is_needed.then(|| data.exponent()),
    }
}

fn heat_stage_dto(stage: &HeatStage) -> HeatStageDto {
    let fahrenheit = |(low, high): (TemperatureRise, TemperatureRise)| (low.f(), high.f());
    HeatStageDto {
        call: stage.call.into(),
        output: stage.output.btuh(),
        rise: stage.rise.map(fahrenheit),
        minimum_airflow: stage.minimum_airflow.map(Airflow::cfm),
    }
}

fn range_dto(tap: &Tap) -> Option<RangeDto> {
    match &tap.data {
        TapData::Column(_) => None,
        TapData::Range { airflow, from, to } => {
            Some(RangeDto { tap: tap.name.clone(), airflow: airflow.cfm(), from: from.in_wc(), to: to.in_wc() })
        }
    }
}

/// The columns of the grid: the taps without a range, in order.
fn columns(table: &BlowerTable) -> Vec<&[Row]> {
    table
        .taps
        .iter()
        .filter_map(|tap| match &tap.data {
            TapData::Column(rows) => Some(&rows[..]),
            TapData::Range { .. } => None,
        })
        .collect()
}

/// The ESPs of the grid: every column's own ones in the column's own order, shared where they can be.
fn all_esps(columns: &[&[Row]]) -> Vec<f64> {
    let mut esps: Vec<f64> = Vec::new();
    for column in columns {
        let mut from = 0;
        for row in *column {
            from = place_esp(&mut esps, from, row.esp.in_wc()) + 1;
        }
    }
    esps
}

/// Finds an ESP at or after `from`, or puts it in where it stands in rising order; gives its place.
fn place_esp(esps: &mut Vec<f64>, from: usize, esp: f64) -> usize {
    if let Some(place) = (from..esps.len()).find(|&place| is_same(esps[place], esp)) {
        return place;
    }
    let lower = esps[from..].iter().take_while(|&&other| other < esp).count();
    esps.insert(from + lower, esp);
    from + lower
}

/// The same number, bit for bit.
fn is_same(one: f64, other: f64) -> bool {
    one.to_bits() == other.to_bits()
}

/// One cell of each column at each ESP; a column without a row there says so.
fn grid_dto(columns: &[&[Row]], esps: &[f64], cell_of: impl Fn(&Row) -> CellDto) -> Vec<GridRow> {
    let mut waiting: Vec<&[Row]> = columns.to_vec();
    let next_cell = |column: &mut &[Row], esp: f64| match column {
        [row, rest @ ..] if is_same(row.esp.in_wc(), esp) => {
            *column = rest;
            cell_of(row)
        }
        _ => CellDto::NoRow,
    };
    let mut row_at = |esp: f64| (esp, waiting.iter_mut().map(|column| next_cell(column, esp)).collect());
    esps.iter().map(|&esp| row_at(esp)).collect()
}

/// As [`grid_dto`] for numbers that only some tables have: nothing when no row has one.
fn numbers_dto(columns: &[&[Row]], esps: &[f64], number_of: impl Fn(&Row) -> Option<f64>) -> Vec<GridRow> {
    if columns.iter().all(|rows| rows.iter().all(|row| number_of(row).is_none())) {
        return Vec::new();
    }
    grid_dto(columns, esps, |row| number_of(row).map_or(CellDto::NotGiven, CellDto::Number))
}

fn cell_dto(cell: &Cell) -> CellDto {
    let noted = |note: &Option<String>| note.as_deref().and_then(note_of);
    match cell {
        Cell::Airflow(airflow, note) => match noted(note) {
            Some(note) => CellDto::Noted(airflow.cfm(), note),
            None => CellDto::Number(airflow.cfm()),
        },
        Cell::NotGiven => CellDto::NotGiven,
        Cell::NotAllowed(note) => CellDto::NotAllowed(noted(note)),
    }
}
