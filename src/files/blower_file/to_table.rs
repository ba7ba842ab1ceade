//! From a file's fields to a [`BlowerTable`]; every refusal names the field, the value and what would be right.

use super::cell::{CellDto, number};
use super::dto::{
    BlowerDto, CorrectionsDto, DropDto, GridRow, HeatStageDto, HeatUnit, RangeDto, TemperatureUnit, UnitsDto,
};
use super::{BlowerFileError, FORMAT};
use crate::model::facts::blower::{BlowerTable, Cell, Corrections, HeatStage, Row, Tap, TapData};
use crate::model::facts::drop_data::{DropData, SQUARE_LAW};
use crate::model::facts::limits::TooMuch;
use crate::model::facts::numbers::table::STATIC;
use crate::model::facts::{plain_text, table_check};
use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::units::{Airflow, HeatRate, Power, Pressure, Speed, TemperatureRise};

/// A table in pascals has a pressure above this (5 Pa is 0.02 in. w.c.; tables start at 0.1 in. w.c., common practice, no source).
const LEAST_TOP_PASCALS: f64 = 5.0;

type Refused<T> = Result<T, BlowerFileError>;

fn too_much(most: TooMuch) -> BlowerFileError {
    BlowerFileError::Content(most.sentence())
}

fn refuse<T>(sentence: String) -> Refused<T> {
    Err(BlowerFileError::Content(sentence))
}

/// Largest pressure that a file gives, as it gives it.
fn top(dto: &BlowerDto) -> f64 {
    let grid = dto.airflow.iter().map(|(esp, _)| *esp);
    let ranges = dto.ranges.iter().flat_map(|range| [range.from, range.to]);
    grid.chain(ranges).chain(dto.rated_maximum).fold(0.0, f64::max)
}

/// Asks whether a file in pascals means inches.
fn check_pascals(dto: &BlowerDto) -> Refused<()> {
    let top = top(dto);
    if dto.units.pressure == PressureUnit::Pascals && top > 0.0 && top < LEAST_TOP_PASCALS {
        return refuse(format!(
            "units.pressure is Pascals, but the highest pressure in the table is {}: does the file mean InchesOfWater?",
            number(top)
        ));
    }
    Ok(())
}

/// Asks whether a file in inches means pascals; not asked of a job's own table, which has to open as it was kept.
pub(super) fn check_inches(dto: &BlowerDto) -> Refused<()> {
    let top = top(dto);
    if dto.units.pressure == PressureUnit::InchesOfWater && STATIC.check_held(top).is_err() {
        return refuse(format!(
            "units.pressure is InchesOfWater, but the table has a pressure of {}: does the file mean Pascals?",
            number(top)
        ));
    }
    Ok(())
}

impl UnitsDto {
    fn airflow(self, value: f64) -> Airflow {
        match self.airflow {
            AirflowUnit::Cfm => Airflow::from_cfm(value),
            AirflowUnit::LitresPerSecond => Airflow::from_lps(value),
            AirflowUnit::CubicMetresPerHour => Airflow::from_lps(value / 3.6),
        }
    }

    fn pressure(self, value: f64) -> Pressure {
        match self.pressure {
            PressureUnit::InchesOfWater => Pressure::from_in_wc(value),
            PressureUnit::Pascals => Pressure::from_pa(value),
        }
    }

    fn rise(self, value: f64) -> Refused<TemperatureRise> {
        match self.temperature {
            Some(TemperatureUnit::Fahrenheit) => Ok(TemperatureRise::from_f(value)),
            Some(TemperatureUnit::Celsius) => Ok(TemperatureRise::from_f(value * 1.8)),
            None => refuse(format!(
                "heating has a rise of {}, but units says no temperature: it should be Fahrenheit or Celsius",
                number(value)
            )),
        }
    }

    fn heat(self, value: f64) -> Refused<HeatRate> {
        match self.heat {
            Some(HeatUnit::BtuPerHour) => Ok(HeatRate::from_btuh(value)),
            Some(HeatUnit::Kilowatts) => Ok(HeatRate::from_watts(value * 1000.0)),
            None => refuse(format!(
                "heating has an output of {}, but units says no heat: it should be BtuPerHour or Kilowatts",
                number(value)
            )),
        }
    }
}

impl TryFrom<BlowerDto> for BlowerTable {
    type Error = BlowerFileError;

    fn try_from(dto: BlowerDto) -> Refused<Self> {
        if dto.tapcross_blower > FORMAT {
            return Err(BlowerFileError::NewerFormat(dto.tapcross_blower.to_string()));
        }
        check_pascals(&dto)?;
        let units = dto.units;
        table_check::lists(dto.taps.len(), dto.calls.len(), dto.heating.len()).map_err(too_much)?;
        let table = Self {
            taps: taps_of(&dto)?,
            heating: dto.heating.iter().map(|stage| heat_stage(units, stage)).collect::<Refused<_>>()?,
            corrections: corrections(units, &dto.corrections)?,
            basis: dto.basis,
            name: dto.name,
            kind: dto.kind,
            motor: dto.motor,
            illustrative: dto.illustrative,
            source: dto.source,
            notes: dto.notes,
            cooling: dto.cooling_tons,
            rated_maximum: dto.rated_maximum.map(|esp| units.pressure(esp)),
            calls: dto.calls,
        };
        table_check::sizes(&table).map_err(too_much)?;
        Ok(plain_text::of_table(table))
    }
}

fn heat_stage(units: UnitsDto, dto: &HeatStageDto) -> Refused<HeatStage> {
    let rise = |(low, high): (f64, f64)| Ok((units.rise(low)?, units.rise(high)?));
    Ok(HeatStage {
        call: dto.call,
        output: units.heat(dto.output)?,
        rise: dto.rise.map(rise).transpose()?,
        minimum_airflow: dto.minimum_airflow.map(|airflow| units.airflow(airflow)),
    })
}

fn corrections(units: UnitsDto, dto: &CorrectionsDto) -> Refused<Corrections> {
    let drop = |name: &str, data: &Option<DropDto>| data.as_ref().map(|data| drop_data(units, name, data)).transpose();
    Ok(Corrections {
        filter_as_tested: drop("filter_as_tested", &dto.filter_as_tested)?,
        wet_coil: drop("wet_coil", &dto.wet_coil)?,
        heater: drop("heater", &dto.heater)?,
        one_side_return: drop("one_side_return", &dto.one_side_return)?,
        low_voltage: dto.low_voltage,
    })
}

fn drop_data(units: UnitsDto, name: &str, dto: &DropDto) -> Refused<DropData> {
    if let ([(airflow, _)], None) = (&dto.points[..], dto.exponent) {
        return refuse(format!(
            "corrections.{name} has one point, at an airflow of {}, and no exponent: give a second point, or an exponent such as 2 (openings), 1.8 (dry coil) or 1.2 (filter)",
            number(*airflow)
        ));
    }
    let points = dto.points.iter().map(|&(airflow, drop)| (units.airflow(airflow), units.pressure(drop)));
    DropData::new(points.collect(), dto.exponent.unwrap_or(SQUARE_LAW))
        .or_else(|error| refuse(format!("corrections.{name}: {}", error.sentence(units.pressure.system()))))
}

/// The taps in the order of the door panel, their columns gathered from the grids.
fn taps_of(dto: &BlowerDto) -> Refused<Vec<Tap>> {
    let ranges = ranges_by_tap(dto)?;
    let columns: Vec<&str> =
        dto.taps.iter().zip(&ranges).filter(|(_, range)| range.is_none()).map(|(name, _)| name.as_str()).collect();
    for (grid, rows) in [("airflow", &dto.airflow), ("watts", &dto.watts), ("rpm", &dto.rpm)] {
        check_widths(grid, rows, &columns)?;
    }
    let watts = aligned("watts", &dto.watts, &dto.airflow)?;
    let rpm = aligned("rpm", &dto.rpm, &dto.airflow)?;
    let mut next_column = 0..;
    let mut data_of = |range: Option<&RangeDto>| match range {
        Some(range) => Ok(TapData::Range {
            airflow: dto.units.airflow(range.airflow),
            from: dto.units.pressure(range.from),
            to: dto.units.pressure(range.to),
        }),
        None => column(dto, next_column.next().unwrap_or_default(), &watts, &rpm).map(TapData::Column),
    };
    let tap = |(name, range): (&String, _)| Ok(Tap { name: name.clone(), data: data_of(range)? });
    dto.taps.iter().zip(ranges.iter().copied()).map(tap).collect()
}

/// The range of each tap that has one, in the order of the taps.
fn ranges_by_tap(dto: &BlowerDto) -> Refused<Vec<Option<&RangeDto>>> {
    let mut found = vec![None; dto.taps.len()];
    for range in &dto.ranges {
        let place = (0..dto.taps.len()).find(|&tap| dto.taps[tap] == range.tap && found[tap].is_none());
        let Some(place) = place else {
            return refuse(format!(
                "ranges names the tap \"{}\", which is not among the taps still without one ({})",
                range.tap,
                dto.taps.join(", ")
            ));
        };
        found[place] = Some(range);
    }
    Ok(found)
}

/// Every row of a grid has one cell for each tap without a range.
fn check_widths(grid: &str, rows: &[GridRow], columns: &[&str]) -> Refused<()> {
    match rows.iter().find(|(_, cells)| cells.len() != columns.len()) {
        None => Ok(()),
        Some((esp, cells)) => refuse(format!(
            "The {grid} row at {} needs {} cells, one for each tap without a range ({}), but has {}",
            number(*esp),
            columns.len(),
            columns.join(", "),
            cells.len()
        )),
    }
}

/// For each airflow row the cells of another grid at the same ESP, where it has such a row.
fn aligned<'a>(grid: &str, rows: &'a [GridRow], airflow: &[GridRow]) -> Refused<Vec<Option<&'a [CellDto]>>> {
    let mut found = vec![None; airflow.len()];
    let mut from = 0;
    for (esp, cells) in rows {
        let place = (from..airflow.len()).find(|&row| airflow[row].0.to_bits() == esp.to_bits());
        let Some(place) = place else {
            return refuse(format!(
                "The {grid} row at {} has no row at that ESP in the airflow grid, or the rows are not in the same order",
                number(*esp)
            ));
        };
        found[place] = Some(&cells[..]);
        from = place + 1;
    }
    Ok(found)
}

/// The rows of one column of the grid.
fn column(
    dto: &BlowerDto,
    column: usize,
    watts: &[Option<&[CellDto]>],
    rpm: &[Option<&[CellDto]>],
) -> Refused<Vec<Row>> {
    let mut rows = Vec::with_capacity(dto.airflow.len());
    for (index, (esp, cells)) in dto.airflow.iter().enumerate() {
        let power = beside("watts", *esp, watts[index], column)?;
        let speed = beside("rpm", *esp, rpm[index], column)?;
        let Some(cell) = cell(dto.units, *esp, &cells[column])? else {
            if power.or(speed).is_some() {
                return refuse(format!(
                    "The row at {} has watts or rpm in a column whose airflow says \"no row\"",
                    number(*esp)
                ));
            }
            continue;
        };
        rows.push(Row {
            esp: dto.units.pressure(*esp),
            cell,
            power: power.map(Power::from_watts),
            speed: speed.map(Speed::from_rpm),
        });
    }
    Ok(rows)
}

/// The model's cell; none where the column has no row.
fn cell(units: UnitsDto, esp: f64, dto: &CellDto) -> Refused<Option<Cell>> {
    let airflow = |value: f64| finite("airflow", esp, value, dto).map(|value| units.airflow(value));
    Ok(Some(match dto {
        CellDto::Number(value) => Cell::Airflow(airflow(*value)?, None),
        CellDto::Noted(value, note) => Cell::Airflow(airflow(*value)?, Some(note.clone())),
        CellDto::NotGiven => Cell::NotGiven,
        CellDto::NotAllowed(note) => Cell::NotAllowed(note.clone()),
        CellDto::NoRow => return Ok(None),
    }))
}

fn finite(grid: &str, esp: f64, value: f64, cell: &CellDto) -> Refused<f64> {
    if value.is_finite() { Ok(value) } else { no_number(grid, esp, cell) }
}

fn no_number<T>(grid: &str, esp: f64, cell: &CellDto) -> Refused<T> {
    refuse(format!(
        "The {grid} row at {} has the cell {}: it should be a number or \"not given\"",
        number(esp),
        cell.to_ron()
    ))
}

/// A number of the watts or rpm grid; none where it is not given.
fn beside(grid: &str, esp: f64, cells: Option<&[CellDto]>, column: usize) -> Refused<Option<f64>> {
    match cells.map(|cells| &cells[column]) {
        None | Some(CellDto::NotGiven | CellDto::NoRow) => Ok(None),
        Some(cell @ CellDto::Number(value)) => finite(grid, esp, *value, cell).map(Some),
        Some(other) => no_number(grid, esp, other),
    }
}
