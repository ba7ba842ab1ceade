//! A table as the texts a person would have typed; every number comes back exactly.

use crate::model::facts::blower::{BlowerTable, Cell, HeatStage, Row, Tap, TapData};
use crate::model::typed::table_draft::printed::{airflow_text, exact, pressure_text, short_airflow, short_pressure};
use crate::model::typed::table_draft::{
    AirflowUnit, DraftCell, DraftHead, DraftRow, DraftStage, PressureUnit, TableDraft, corrections,
};
use crate::units::{Airflow, Pressure, text};

impl TableDraft {
    /// The draft of a table, in the units in which its numbers are round.
    pub fn from_table(table: &BlowerTable) -> Self {
        let (airflow, pressure) = units_of(table);
        let esps = esps_of(table);
        let mut rows: Vec<DraftRow> = esps
            .iter()
            .map(|esp| DraftRow {
                esp: pressure_text(*esp, pressure),
                cells: vec![DraftCell::default(); table.taps.len()],
            })
            .collect();
        for (index, tap) in table.taps.iter().enumerate() {
            fill_column(&mut rows, index, tap, &esps, (airflow, pressure));
        }
        Self {
            head: head_of(table, airflow, pressure),
            taps: table.taps.iter().map(|tap| tap.name.clone()).collect(),
            rows,
        }
    }
}

/// The units in which every airflow and static pressure of the grid is a short number; inch-pound when none is.
fn units_of(table: &BlowerTable) -> (AirflowUnit, PressureUnit) {
    let airflows = || table.taps.iter().flat_map(airflows_of);
    let airflow =
        AirflowUnit::ALL.into_iter().find(|unit| airflows().all(|airflow| short_airflow(airflow, *unit).is_some()));
    let esps = esps_of(table);
    let pressure =
        PressureUnit::ALL.into_iter().find(|unit| esps.iter().all(|esp| short_pressure(*esp, *unit).is_some()));
    (airflow.unwrap_or_default(), pressure.unwrap_or_default())
}

fn airflows_of(tap: &Tap) -> Vec<Airflow> {
    match &tap.data {
        TapData::Column(rows) => rows.iter().filter_map(|row| row.cell.airflow()).collect(),
        TapData::Range { airflow, .. } => vec![*airflow],
    }
}

/// Static pressures of all columns, so that each column finds its rows in its own order.
fn esps_of(table: &BlowerTable) -> Vec<Pressure> {
    let mut esps: Vec<Pressure> = Vec::new();
    for tap in &table.taps {
        let mut from = 0;
        let column: Vec<Pressure> = match &tap.data {
            TapData::Column(rows) => rows.iter().map(|row| row.esp).collect(),
            TapData::Range { from, .. } => vec![*from],
        };
        for esp in column {
            let here = (from..esps.len()).find(|&place| esps[place] == esp);
            let place = here.unwrap_or_else(|| {
                let place = (from..esps.len()).find(|&place| esps[place] > esp).unwrap_or(esps.len());
                esps.insert(place, esp);
                place
            });
            from = place + 1;
        }
    }
    esps
}

fn fill_column(rows: &mut [DraftRow], tap: usize, from: &Tap, esps: &[Pressure], units: (AirflowUnit, PressureUnit)) {
    match &from.data {
        TapData::Range { airflow, from, to } => {
            let place = esps.iter().position(|esp| esp == from);
            if let Some(row) = place.and_then(|place| rows.get_mut(place)) {
                row.cells[tap].airflow = format!(
                    "{} from {} to {}",
                    airflow_text(*airflow, units.0),
                    pressure_text(*from, units.1),
                    pressure_text(*to, units.1)
                );
            }
        }
        TapData::Column(column) => {
            let mut given = column.iter().peekable();
            for (row, esp) in rows.iter_mut().zip(esps) {
                row.cells[tap] = match given.next_if(|given| given.esp == *esp) {
                    Some(given) => cell_of(given, units.0),
                    None => DraftCell { airflow: "no row".to_owned(), ..DraftCell::default() },
                };
            }
        }
    }
}

fn cell_of(row: &Row, unit: AirflowUnit) -> DraftCell {
    DraftCell {
        airflow: match &row.cell {
            Cell::Airflow(airflow, None) => airflow_text(*airflow, unit),
            Cell::Airflow(airflow, Some(note)) => format!("{} {note}", airflow_text(*airflow, unit)),
            Cell::NotGiven => String::new(),
            Cell::NotAllowed(None) => "x".to_owned(),
            Cell::NotAllowed(Some(note)) => format!("x: {note}"),
        },
        watts: row.power.map(|power| power.watts().to_string()).unwrap_or_default(),
        rpm: row.speed.map(|speed| speed.rpm().to_string()).unwrap_or_default(),
    }
}

fn head_of(table: &BlowerTable, airflow: AirflowUnit, pressure: PressureUnit) -> DraftHead {
    let system = airflow.system();
    let cooling = |tons: crate::units::Capacity| {
        exact(&[tons.tons(), tons.tons() * crate::units::W_PER_TON / 1000.0], " ton", |typed| {
            text::capacity(typed, system) == Ok(tons)
        })
    };
    let density = |density: crate::units::Density| format!("{} lb/ft³", density.lb_ft3());
    DraftHead {
        name: table.name.clone(),
        source: table.source.clone(),
        notes: table.notes.clone(),
        kind: table.kind,
        motor: table.motor,
        illustrative: table.illustrative,
        cooling: table.cooling.map(cooling).unwrap_or_default(),
        rated_maximum: table.rated_maximum.map(|esp| pressure_text(esp, pressure)).unwrap_or_default(),
        filter: table.basis.filter,
        coil: table.basis.coil,
        heater: table.basis.heater,
        return_openings: table.basis.return_openings,
        position: table.basis.position,
        voltage: table.basis.voltage.map(|voltage| voltage.volts().to_string()).unwrap_or_default(),
        density: table.basis.density.map(density).unwrap_or_default(),
        reading_error: table.basis.reading_error.map(|percent| percent.to_string()).unwrap_or_default(),
        airflow_unit: airflow,
        pressure_unit: pressure,
        calls: table.calls.clone(),
        heating: table.heating.iter().map(|stage| stage_of(stage, airflow)).collect(),
        corrections: corrections::texts(&table.corrections, airflow, pressure),
    }
}

fn stage_of(stage: &HeatStage, unit: AirflowUnit) -> DraftStage {
    let system = unit.system();
    let rise = |rise: crate::units::TemperatureRise| {
        exact(&[rise.f(), rise.f() / 1.8], " °F", |typed| text::temperature_rise(typed, system) == Ok(rise))
    };
    DraftStage {
        call: stage.call,
        output: exact(&[stage.output.btuh(), stage.output.watts() / 1000.0], " Btu/h", |typed| {
            text::heat_rate(typed, system) == Ok(stage.output)
        }),
        rise_from: stage.rise.map(|(low, _)| rise(low)).unwrap_or_default(),
        rise_to: stage.rise.map(|(_, high)| rise(high)).unwrap_or_default(),
        minimum_airflow: stage.minimum_airflow.map(|least| airflow_text(least, unit)).unwrap_or_default(),
    }
}
