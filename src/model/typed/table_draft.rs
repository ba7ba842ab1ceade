//! A blower table while it is typed: every place is text as a person left it, and reading it names what cannot be.
//!
//! [`TableDraft::from_table`] and [`TableDraft::read`] are each other's inverse for every sound table.

mod cell;
mod corrections;
mod open;
mod printed;
mod read;

pub(in crate::model) use cell::is_no_value;

use crate::model::facts::blower::{Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Position, ReturnOpenings};
use crate::model::facts::change::ChangeId;
use crate::model::facts::limits::{MOST_TYPED_ROWS, MOST_TYPED_TAPS};
use crate::model::facts::severity::Severity;
use crate::units::{UnitSystem, show};

/// Taps of an empty grid.
pub const FIRST_TAPS: usize = 5;
/// Rows of an empty grid.
pub const FIRST_ROWS: usize = 9;

/// Says that a table has more rows or columns than the editor takes; nothing for any other.
pub fn too_large(rows: usize, taps: usize) -> Option<String> {
    (rows > MOST_TYPED_ROWS || taps > MOST_TYPED_TAPS).then(|| {
        let (rows, taps) = (show::number(rows as f64, 0), show::number(taps as f64, 0));
        format!("{rows} rows of {taps} columns are too many; a table here has at most {MOST_TYPED_ROWS} rows and {MOST_TYPED_TAPS} columns")
    })
}

/// Unit in which the airflows of a table are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum AirflowUnit {
    /// Cubic feet a minute.
    #[default]
    Cfm,
    /// Litres a second.
    LitresPerSecond,
    /// Cubic metres an hour.
    CubicMetresPerHour,
}

impl AirflowUnit {
    /// Every unit, in the order of menus.
    pub const ALL: [Self; 3] = [Self::Cfm, Self::LitresPerSecond, Self::CubicMetresPerHour];

    /// The system whose bare airflow it is.
    pub const fn system(self) -> UnitSystem {
        match self {
            Self::Cfm => UnitSystem::InchPound,
            Self::LitresPerSecond => UnitSystem::SiLitres,
            Self::CubicMetresPerHour => UnitSystem::SiCubicMetres,
        }
    }

    /// As it is printed.
    pub const fn name(self) -> &'static str {
        self.system().airflow_unit()
    }
}

/// Unit in which the static pressures of a table are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PressureUnit {
    /// Inches of water column.
    #[default]
    InchesOfWater,
    /// Pascals.
    Pascals,
}

impl PressureUnit {
    /// Every unit, in the order of menus.
    pub const ALL: [Self; 2] = [Self::InchesOfWater, Self::Pascals];

    /// The system whose bare pressure it is.
    pub const fn system(self) -> UnitSystem {
        match self {
            Self::InchesOfWater => UnitSystem::InchPound,
            Self::Pascals => UnitSystem::SiLitres,
        }
    }

    /// As it is printed.
    pub const fn name(self) -> &'static str {
        self.system().pressure_unit()
    }
}

/// Which of the three grids over the same static pressures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Block {
    /// Airflow.
    #[default]
    Airflow,
    /// Electric power in watts.
    Watts,
    /// Wheel speed in turns a minute.
    Rpm,
}

impl Block {
    /// Every grid, in the order of the tabs.
    pub const ALL: [Self; 3] = [Self::Airflow, Self::Watts, Self::Rpm];

    /// Its name on the tab.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Airflow => "Airflow",
            Self::Watts => "Watts",
            Self::Rpm => "Rpm",
        }
    }
}

/// The three texts of one static pressure and one tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DraftCell {
    /// A number, a number and a note, nothing or a dash (not given), `x` or `x: why` (not allowed), or `600 from 0.1 to 0.8`.
    pub airflow: String,
    /// Watts, or nothing.
    pub watts: String,
    /// Turns a minute, or nothing.
    pub rpm: String,
}

impl DraftCell {
    /// The text of one grid.
    pub const fn text(&self, block: Block) -> &String {
        match block {
            Block::Airflow => &self.airflow,
            Block::Watts => &self.watts,
            Block::Rpm => &self.rpm,
        }
    }

    /// The text of one grid, to be changed.
    pub const fn text_mut(&mut self, block: Block) -> &mut String {
        match block {
            Block::Airflow => &mut self.airflow,
            Block::Watts => &mut self.watts,
            Block::Rpm => &mut self.rpm,
        }
    }

    /// True when nothing is typed in any grid.
    pub fn is_empty(&self) -> bool {
        Block::ALL.iter().all(|block| self.text(*block).trim().is_empty())
    }
}

/// One row of the grid: a static pressure and a cell for each tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DraftRow {
    /// External static pressure.
    pub esp: String,
    /// One cell for each tap, in the order of the taps.
    pub cells: Vec<DraftCell>,
}

impl DraftRow {
    /// True when no cell has anything typed.
    pub fn has_no_cells(&self) -> bool {
        self.cells.iter().all(DraftCell::is_empty)
    }
}

/// One heating stage as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DraftStage {
    /// The call that runs it.
    pub call: Call,
    /// Heat output.
    pub output: String,
    /// Lowest temperature rise.
    pub rise_from: String,
    /// Highest temperature rise.
    pub rise_to: String,
    /// Least airflow.
    pub minimum_airflow: String,
}

/// A correction that a table may print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Correction {
    /// The filter that the table was made with.
    FilterAsTested,
    /// What a wet coil drops more.
    WetCoil,
    /// The electric heater.
    Heater,
    /// What a one-side return costs.
    OneSideReturn,
    /// Airflow at another voltage.
    LowVoltage,
}

impl Correction {
    /// Every correction, in the order of the form.
    pub const ALL: [Self; 5] =
        [Self::FilterAsTested, Self::WetCoil, Self::Heater, Self::OneSideReturn, Self::LowVoltage];

    /// Its name beside the field.
    pub const fn name(self) -> &'static str {
        match self {
            Self::FilterAsTested => "Filter as tested",
            Self::WetCoil => "Wet coil adds",
            Self::Heater => "Heater drop",
            Self::OneSideReturn => "One-side return adds",
            Self::LowVoltage => "Other voltage",
        }
    }
}

/// Everything that is typed beside the grid.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DraftHead {
    /// Model as a person would search it.
    pub name: String,
    /// Where the numbers come from.
    pub source: String,
    /// Anything the table adds in words.
    pub notes: String,
    /// Kind of machine.
    pub kind: EquipmentKind,
    /// Kind of motor.
    pub motor: MotorFamily,
    /// True for an invented machine; stays with a table that was opened from one.
    pub illustrative: bool,
    /// Nominal cooling capacity.
    pub cooling: String,
    /// Highest ESP that the plate allows.
    pub rated_maximum: String,
    /// The filter while the table was made.
    pub filter: PartInTest,
    /// The coil while the table was made.
    pub coil: CoilInTest,
    /// The heater while the table was made.
    pub heater: PartInTest,
    /// Return openings used.
    pub return_openings: ReturnOpenings,
    /// Position of the cabinet.
    pub position: Position,
    /// Supply voltage.
    pub voltage: String,
    /// Air density.
    pub density: String,
    /// What its airflows were read off a picture by, percent; empty for a printed table.
    pub reading_error: String,
    /// Unit of airflows.
    pub airflow_unit: AirflowUnit,
    /// Unit of static pressures.
    pub pressure_unit: PressureUnit,
    /// Which tap each call runs.
    pub calls: Vec<(Call, String)>,
    /// Heating stages.
    pub heating: Vec<DraftStage>,
    /// The table's own corrections, in the order of [`Correction::ALL`].
    pub corrections: [String; 5],
}

impl DraftHead {
    /// The units in which its remarks are said: those that its pressures are printed in.
    pub const fn units(&self) -> UnitSystem {
        match (self.pressure_unit, self.airflow_unit) {
            (PressureUnit::InchesOfWater, _) => UnitSystem::InchPound,
            (PressureUnit::Pascals, AirflowUnit::CubicMetresPerHour) => UnitSystem::SiCubicMetres,
            (PressureUnit::Pascals, AirflowUnit::Cfm | AirflowUnit::LitresPerSecond) => UnitSystem::SiLitres,
        }
    }
}

/// A blower table as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableDraft {
    /// What stands beside the grid.
    pub head: DraftHead,
    /// Names of the columns.
    pub taps: Vec<String>,
    /// The rows.
    pub rows: Vec<DraftRow>,
}

/// What a table that is picked or typed is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TableFor {
    /// The job's own machine.
    #[default]
    Job,
    /// Another machine on the ducts: of a change that is there, or of a new one.
    OtherMachine(Option<ChangeId>),
}

/// A table that is being typed and not in the job yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableInHand {
    /// What it is for.
    pub what_for: TableFor,
    /// The texts.
    pub draft: TableDraft,
}

/// A field beside the grid that a remark belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadField {
    /// Nominal cooling capacity.
    Cooling,
    /// Highest ESP that the plate allows.
    RatedMaximum,
    /// Supply voltage.
    Voltage,
    /// Air density.
    Density,
    /// What its airflows were read off a picture by.
    ReadingError,
    /// The tap of a call.
    Call(Call),
    /// A heating stage, by index.
    Heating(usize),
    /// A correction.
    Correction(Correction),
}

/// Where in the draft a remark belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The machine's name.
    Name,
    /// A column, counted from 0.
    Tap(usize),
    /// A row's static pressure, counted from 0.
    Esp(usize),
    /// A cell.
    Cell {
        /// Row, counted from 0.
        row: usize,
        /// Column, counted from 0.
        tap: usize,
        /// Which grid.
        block: Block,
    },
    /// A field beside the grid.
    Head(HeadField),
    /// The table as a whole.
    Table,
}

/// One remark on a draft.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftProblem {
    /// Where.
    pub place: Place,
    /// Errors keep the table from being used, questions do not.
    pub severity: Severity,
    /// One sentence that names row and column.
    pub message: String,
}

impl TableDraft {
    /// An empty grid: five taps, static pressures from 0.10 to 0.90 in. w.c.
    pub fn empty() -> Self {
        let taps: Vec<String> = (1..=FIRST_TAPS).map(|number| number.to_string()).collect();
        let row = |tenth: usize| DraftRow { esp: format!("0.{tenth}0"), cells: vec![DraftCell::default(); FIRST_TAPS] };
        Self { head: DraftHead::default(), taps, rows: (1..=FIRST_ROWS).map(row).collect() }
    }

    /// True when no cell of any grid has anything typed.
    pub fn has_no_cells(&self) -> bool {
        self.rows.iter().all(DraftRow::has_no_cells)
    }

    /// Adds an empty column, named by the next number.
    pub fn add_tap(&mut self) {
        let is_free = |name: &String| !self.taps.contains(name);
        // Among one more names than there are columns one is free.
        let first = self.taps.len() + 1;
        let name = (first..=2 * first).map(|number| number.to_string()).find(is_free);
        self.taps.push(name.unwrap_or_default());
        for row in &mut self.rows {
            row.cells.push(DraftCell::default());
        }
    }

    /// Takes a column away.
    pub fn remove_tap(&mut self, tap: usize) {
        if tap >= self.taps.len() {
            return;
        }
        self.taps.remove(tap);
        for row in &mut self.rows {
            row.cells.remove(tap);
        }
    }

    /// Adds an empty row at the end; its static pressure goes on by the last step, where there is one.
    pub fn add_row(&mut self) {
        let esp = self.next_esp().unwrap_or_default();
        self.rows.push(DraftRow { esp, cells: vec![DraftCell::default(); self.taps.len()] });
    }

    /// Takes a row away.
    pub fn remove_row(&mut self, row: usize) {
        if row < self.rows.len() {
            self.rows.remove(row);
        }
    }

    fn next_esp(&self) -> Option<String> {
        let system = self.head.pressure_unit.system();
        let esp = |row: &DraftRow| cell::esp(&row.esp, self.head.pressure_unit).ok();
        let [.., before, last] = &self.rows[..] else {
            return None;
        };
        let (before, last) = (esp(before)?, esp(last)?);
        let step = last - before;
        let number = system.pressure_number(last + step);
        (step.in_wc() > 0.0).then(|| format!("{number:.*}", system.pressure_decimals()))
    }
}

#[cfg(test)]
mod tests;
