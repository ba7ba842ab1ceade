//! A draft as a table, with every remark at its place.

use std::collections::BTreeSet;

use crate::model::facts::blower::{Basis, BlowerTable, Cell, HeatStage, Row, Tap, TapData};
use crate::model::facts::plain_text;
use crate::model::facts::severity::Severity;
use crate::model::facts::table_check::{self, Printed, TablePlace};
use crate::model::typed::table_draft::cell::{self, AirflowCell};
use crate::model::typed::table_draft::{
    Block, Correction, DraftCell, DraftProblem, DraftStage, HeadField, Place, PressureUnit, TableDraft, corrections,
};
use crate::units::text::{self, Comma, TextError};
use crate::units::{Density, Pressure};

/// Where the columns and rows of the table that was read stand in the draft.
#[derive(Debug, Default)]
struct Origins {
    /// Draft column of each tap.
    taps: Vec<usize>,
    /// Draft row of each row of each tap.
    rows: Vec<Vec<usize>>,
}

/// Reading under way.
struct Reader<'a> {
    draft: &'a TableDraft,
    problems: Vec<DraftProblem>,
}

impl TableDraft {
    /// The table that stands in the draft and every remark on it, in reading order.
    ///
    /// A place that cannot be read is left out of the table and named by an error; empty rows and columns are left out.
    pub fn read(&self) -> (BlowerTable, Vec<DraftProblem>) {
        let mut reader = Reader { draft: self, problems: Vec::new() };
        let mut table = reader.head();
        let (taps, origins) = reader.taps();
        table.taps = taps;
        reader.calls(&mut table);
        let table = plain_text::of_table(table);
        reader.checks(&table, &origins);
        if reader.problems.iter().all(|problem| problem.severity != Severity::Error)
            && let Err(problem) = table_check::can_be_taken_up(&table)
        {
            reader.error(Place::Table, problem.sentence(&table, self.head.units()));
        }
        reader.problems.sort_by_key(|problem| order(problem.place));
        (table, reader.problems)
    }
}

/// Reading order: head, grid by rows, the whole.
fn order(place: Place) -> (u8, usize, usize, Block) {
    match place {
        Place::Name => (0, 0, 0, Block::Airflow),
        Place::Head(_) => (1, 0, 0, Block::Airflow),
        Place::Tap(tap) => (2, 0, tap, Block::Airflow),
        Place::Esp(row) => (3, row, 0, Block::Airflow),
        Place::Cell { row, tap, block } => (3, row, tap + 1, block),
        Place::Table => (4, 0, 0, Block::Airflow),
    }
}

impl Reader<'_> {
    fn say(&mut self, place: Place, severity: Severity, message: &str) {
        self.problems.push(DraftProblem { place, severity, message: text::shortened(message) });
    }

    #[expect(clippy::needless_pass_by_value, reason = "every caller has a sentence that it just made")]
    fn error(&mut self, place: Place, message: String) {
        self.say(place, Severity::Error, &message);
    }

    /// A field that may stay empty.
    fn field<T>(
        &mut self,
        field: HeadField,
        name: &str,
        typed: &str,
        read: impl Fn(&str) -> Result<T, TextError>,
    ) -> Option<T> {
        match read(typed) {
            Ok(value) => Some(value),
            Err(TextError::Empty) => None,
            Err(error) => {
                self.error(Place::Head(field), format!("{name}: {error}"));
                None
            }
        }
    }

    fn head(&mut self) -> BlowerTable {
        let head = &self.draft.head;
        let system = head.airflow_unit.system();
        let pressure = head.pressure_unit.system();
        if head.name.trim().is_empty() {
            self.error(Place::Name, "The name is empty; type the machine's model, as one would search it".to_owned());
        }
        let basis = Basis {
            filter: head.filter,
            coil: head.coil,
            heater: head.heater,
            return_openings: head.return_openings,
            position: head.position,
            voltage: self.field(HeadField::Voltage, "Voltage", &head.voltage, text::voltage),
            density: self
                .field(HeadField::Density, "Air density", &head.density, |typed| density(typed, head.pressure_unit)),
            reading_error: self.field(HeadField::ReadingError, "Reading error", &head.reading_error, percent),
        };
        let mut refused = Vec::new();
        let corrections = corrections::read(head, |which, message| refused.push((which, message)));
        for (which, message) in refused {
            self.error(Place::Head(HeadField::Correction(which)), message);
        }
        let heating = head.heating.iter().enumerate();
        BlowerTable {
            name: plain(&head.name),
            kind: head.kind,
            motor: head.motor,
            illustrative: head.illustrative,
            source: plain(&head.source),
            notes: plain_text::lines(&head.notes).trim().to_owned(),
            cooling: self
                .field(HeadField::Cooling, "Nominal cooling", &head.cooling, |typed| text::capacity(typed, system)),
            rated_maximum: self.field(HeadField::RatedMaximum, "Rated maximum", &head.rated_maximum, |typed| {
                text::pressure(typed, pressure)
            }),
            basis,
            corrections,
            calls: Vec::new(),
            heating: heating.filter_map(|(index, stage)| self.stage(index, stage)).collect(),
            taps: Vec::new(),
        }
    }

    fn stage(&mut self, index: usize, stage: &DraftStage) -> Option<HeatStage> {
        let field = HeadField::Heating(index);
        let system = self.draft.head.airflow_unit.system();
        let name = stage.call.name();
        let heat = |typed: &str| text::heat_rate(typed, system);
        let rise = |typed: &str| text::temperature_rise(typed, system);
        let output = self.field(field, &format!("{name}, heat output"), &stage.output, heat);
        let from = self.field(field, &format!("{name}, lowest rise"), &stage.rise_from, rise);
        let to = self.field(field, &format!("{name}, highest rise"), &stage.rise_to, rise);
        let least = self.field(field, &format!("{name}, least airflow"), &stage.minimum_airflow, |typed| {
            text::airflow(typed, system)
        });
        if stage.output.trim().is_empty() {
            self.error(Place::Head(field), format!("{name} has no heat output; type it or take the stage away"));
        }
        let one_typed = stage.rise_from.trim().is_empty() != stage.rise_to.trim().is_empty();
        if one_typed {
            self.error(
                Place::Head(field),
                format!("{name} has one end of the temperature rise only; the plate gives two"),
            );
        }
        Some(HeatStage { call: stage.call, output: output?, rise: from.zip(to), minimum_airflow: least })
    }

    fn calls(&mut self, table: &mut BlowerTable) {
        for (call, tap) in &self.draft.head.calls {
            if !tap.is_empty() {
                table.calls.push((*call, plain_text::one_line(tap)));
            }
        }
    }

    fn taps(&mut self) -> (Vec<Tap>, Origins) {
        let esps = self.esps();
        let mut origins = Origins::default();
        let mut taps = Vec::new();
        let nothing_typed = self.draft.has_no_cells();
        for (index, name) in self.draft.taps.iter().enumerate() {
            if self.draft.rows.iter().all(|row| row.cells[index].is_empty()) {
                if !nothing_typed {
                    self.say(
                        Place::Tap(index),
                        Severity::Question,
                        &format!("Column \"{name}\" has nothing typed in it and is left out"),
                    );
                }
                continue;
            }
            let (data, rows) = self.column(index, &esps);
            taps.push(Tap { name: plain(name), data });
            origins.taps.push(index);
            origins.rows.push(rows);
        }
        (taps, origins)
    }

    /// The static pressure of each row that counts.
    fn esps(&mut self) -> Vec<Option<Pressure>> {
        let draft = self.draft;
        let mut esps = Vec::with_capacity(draft.rows.len());
        for (index, row) in draft.rows.iter().enumerate() {
            let read = cell::esp(&row.esp, draft.head.pressure_unit);
            let esp = if row.has_no_cells() { None } else { read.as_ref().ok().copied() };
            esps.push(esp);
            match read {
                Err(TextError::Empty) if row.has_no_cells() => {}
                Err(TextError::Empty) => self.error(
                    Place::Esp(index),
                    format!("Row {} has numbers but no static pressure; type it in the first column", index + 1),
                ),
                Err(error) => self.error(Place::Esp(index), format!("Row {}, static pressure: {error}", index + 1)),
                Ok(_) => {}
            }
        }
        esps
    }

    fn column(&mut self, tap: usize, esps: &[Option<Pressure>]) -> (TapData, Vec<usize>) {
        let draft = self.draft;
        let (mut rows, mut places, mut range) = (Vec::new(), Vec::new(), None);
        for (index, row) in draft.rows.iter().enumerate() {
            let cell = &row.cells[tap];
            let meaning = self.airflow(index, tap, cell);
            let power = self.beside(index, tap, Block::Watts, cell::watts(&cell.watts));
            let speed = self.beside(index, tap, Block::Rpm, cell::rpm(&cell.rpm));
            let Some(esp) = esps[index] else {
                continue;
            };
            let cell = match meaning {
                AirflowCell::Given(airflow, note) => Cell::Airflow(airflow, note),
                AirflowCell::NotGiven => Cell::NotGiven,
                AirflowCell::NotAllowed(note) => Cell::NotAllowed(note),
                AirflowCell::Range(airflow, from, to) => {
                    range = Some((index, TapData::Range { airflow, from, to }));
                    continue;
                }
                AirflowCell::NoRow => {
                    if power.is_some() || speed.is_some() {
                        self.error(
                            Place::Cell { row: index, tap, block: Block::Airflow },
                            format!(
                                "{}: watts or rpm are typed where the airflow says \"no row\"",
                                self.label(index, tap)
                            ),
                        );
                    }
                    continue;
                }
            };
            rows.push(Row { esp, cell, power, speed });
            places.push(index);
        }
        match range {
            Some((row, range)) => {
                self.lone_range(row, tap);
                (range, Vec::new())
            }
            None => (TapData::Column(rows), places),
        }
    }

    /// A range says everything about its tap: another cell typed beside it would be lost.
    fn lone_range(&mut self, range: usize, tap: usize) {
        for (index, row) in self.draft.rows.iter().enumerate() {
            let cell = &row.cells[tap];
            let is_more = if index == range {
                !(cell.watts.trim().is_empty() && cell.rpm.trim().is_empty())
            } else {
                !cell.is_empty() && cell.airflow.trim() != "no row"
            };
            if is_more {
                self.error(
                    Place::Cell { row: index, tap, block: Block::Airflow },
                    format!(
                        "{}: the column gives one airflow over a range; clear this place or the range",
                        self.label(index, tap)
                    ),
                );
            }
        }
    }

    fn airflow(&mut self, row: usize, tap: usize, cell: &DraftCell) -> AirflowCell {
        let head = &self.draft.head;
        cell::airflow(&cell.airflow, head.airflow_unit, head.pressure_unit).unwrap_or_else(|error| {
            let message = format!("{}: {error}", self.label(row, tap));
            self.error(Place::Cell { row, tap, block: Block::Airflow }, message);
            AirflowCell::NotGiven
        })
    }

    fn beside<T>(&mut self, row: usize, tap: usize, block: Block, read: Result<Option<T>, String>) -> Option<T> {
        read.unwrap_or_else(|error| {
            let message = format!("{}, {}: {error}", self.label(row, tap), block.name().to_lowercase());
            self.error(Place::Cell { row, tap, block }, message);
            None
        })
    }

    /// "Tap 4, row 0.30".
    fn label(&self, row: usize, tap: usize) -> String {
        let word = self.draft.head.motor.tap_word();
        let name = self.draft.taps.get(tap).map_or("", |name| name.as_str());
        let esp = self.draft.rows.get(row).map_or("", |row| row.esp.trim());
        let mut letters = word.chars();
        let capital = letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters);
        let row = if esp.is_empty() { (row + 1).to_string() } else { format!("at {esp}") };
        format!("{} {name}, row {row}", capital.collect::<String>())
    }

    fn checks(&mut self, table: &BlowerTable, origins: &Origins) {
        if table.taps.is_empty() {
            self.error(Place::Table, "No airflow is typed yet; a column needs at least two".to_owned());
            return;
        }
        let is_refused = |problem: &&DraftProblem| problem.severity == Severity::Error;
        let refused = self.problems.iter().filter(is_refused).map(|problem| order(problem.place));
        let mut refused: BTreeSet<_> = refused.collect();
        for problem in table_check::check(table) {
            let place = self.place_of(problem.place, table, origins);
            // A place that could not be read is not also told that it is empty.
            if matches!(place, Place::Table | Place::Head(_)) || !refused.contains(&order(place)) {
                self.say(place, problem.severity, &problem.sentence(table, self.draft.head.units()));
            }
            if problem.severity == Severity::Error {
                refused.insert(order(place));
            }
        }
    }

    /// Where in the draft a remark on the table belongs.
    fn place_of(&self, place: TablePlace, table: &BlowerTable, origins: &Origins) -> Place {
        let column = |tap: usize| origins.taps.get(tap).copied().unwrap_or_default();
        let typed = |tap: usize, row: usize| origins.rows.get(tap)?.get(row).copied();
        match place {
            TablePlace::Table => Place::Table,
            TablePlace::Cooling => Place::Head(HeadField::Cooling),
            TablePlace::RatedMaximum => Place::Head(HeadField::RatedMaximum),
            TablePlace::Voltage => Place::Head(HeadField::Voltage),
            TablePlace::LowVoltage => Place::Head(HeadField::Correction(Correction::LowVoltage)),
            TablePlace::Density => Place::Head(HeadField::Density),
            TablePlace::ReadingError => Place::Head(HeadField::ReadingError),
            TablePlace::Call(call) => Place::Head(HeadField::Call(call)),
            TablePlace::Stage(index) => {
                let call = table.heating.get(index).map(|stage| stage.call);
                let stage = self.draft.head.heating.iter().position(|stage| Some(stage.call) == call);
                stage.map_or(Place::Table, |stage| Place::Head(HeadField::Heating(stage)))
            }
            TablePlace::Tap(tap) => Place::Tap(column(tap)),
            TablePlace::Static(tap, row) => typed(tap, row).map_or(Place::Tap(column(tap)), Place::Esp),
            TablePlace::Cell(tap, row, printed) => {
                let block = match printed {
                    Printed::Airflow => Block::Airflow,
                    Printed::Watts => Block::Watts,
                    Printed::Rpm => Block::Rpm,
                };
                typed(tap, row).map_or(Place::Tap(column(tap)), |row| Place::Cell { row, tap: column(tap), block })
            }
        }
    }
}

/// A text as a file keeps it, without blanks at its ends.
fn plain(typed: &str) -> String {
    plain_text::one_line(typed).trim().to_owned()
}

fn percent(typed: &str) -> Result<f64, TextError> {
    let number = text::number(typed, Comma::Decimal)?;
    match number.unit.as_str() {
        "" | "%" => Ok(number.value),
        _ => Err(TextError::WrongUnit { typed: number.unit, takes: "%" }),
    }
}

fn density(typed: &str, unit: PressureUnit) -> Result<Density, TextError> {
    let number = text::number(typed, Comma::Decimal)?;
    match (number.unit.as_str(), unit) {
        ("lb/ft3" | "lb/ft³", _) | ("", PressureUnit::InchesOfWater) => Ok(Density::from_lb_ft3(number.value)),
        ("kg/m3" | "kg/m³", _) | ("", PressureUnit::Pascals) => Ok(Density::from_kg_m3(number.value)),
        _ => Err(TextError::WrongUnit { typed: number.unit, takes: "lb/ft³ or kg/m³" }),
    }
}
