//! Blower tables on a sheet of a spreadsheet (text whose columns are parted by tabs, semicolons, commas…): what it is taken for, place by place, with every guess open to correction.
//!
//! What a heading, a number or a unit is, is guessed as for a paste ([`super::table_paste`]); here stands what a sheet has besides: several machines, a row a reading, and what became of each cell.
//! [`write()`] and [`SheetReading::of`] are each other's inverse for the grid of every sound table.

mod grouped;
mod list;
mod refused;
mod title;
mod wide;
mod written;

pub use refused::{SheetQuestion, SheetRefusal};
pub use written::{Parted, write};

use std::collections::BTreeMap;

use crate::model::facts::blower::{EquipmentKind, MotorFamily};
use crate::model::typed::table_draft::{AirflowUnit, TableDraft};
use crate::model::typed::table_paste::grid::{self, Line, Separator};
use crate::model::typed::table_paste::numbers;
use crate::model::typed::table_paste::units::{Named, PrintedPressure};
use grouped::Group;

/// How the readings lie on the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SheetLayout {
    /// A column a tap, a row a static pressure.
    #[default]
    TapsAcross,
    /// A row a tap, a column a static pressure.
    TapsDown,
    /// A row a reading: tap, static pressure, airflow.
    List,
}

impl SheetLayout {
    /// Every layout, in the order of menus.
    pub const ALL: [Self; 3] = [Self::TapsAcross, Self::TapsDown, Self::List];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::TapsAcross => "a column a tap",
            Self::TapsDown => "a row a tap",
            Self::List => "a row a reading",
        }
    }
}

/// What a column holds, or a row where the taps stand one under the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lane {
    /// The tap's name.
    Tap,
    /// Static pressure.
    Static,
    /// Airflow.
    Airflow,
    /// Electric power.
    Watts,
    /// Wheel speed.
    Rpm,
    /// Nothing of the table.
    LeftOut,
}

impl Lane {
    /// Every kind, in the order of menus.
    pub const ALL: [Self; 6] = [Self::Tap, Self::Static, Self::Airflow, Self::Watts, Self::Rpm, Self::LeftOut];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tap => "tap",
            Self::Static => "static",
            Self::Airflow => "airflow",
            Self::Watts => "watts",
            Self::Rpm => "rpm",
            Self::LeftOut => "left out",
        }
    }
}

/// What a cell of the sheet became.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Became {
    /// Nothing of a table.
    #[default]
    LeftOut,
    /// A heading.
    Heading,
    /// A machine's name.
    Blower,
    /// A tap's name.
    Tap,
    /// A static pressure.
    Static,
    /// An airflow.
    Airflow,
    /// Watts.
    Watts,
    /// Turns a minute.
    Rpm,
}

impl Became {
    /// Every kind, in the order of a legend.
    pub const ALL: [Self; 8] =
        [Self::Heading, Self::Blower, Self::Tap, Self::Static, Self::Airflow, Self::Watts, Self::Rpm, Self::LeftOut];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::LeftOut => "left out",
            Self::Heading => "heading",
            Self::Blower => "machine",
            Self::Tap => "tap",
            Self::Static => "static",
            Self::Airflow => "airflow",
            Self::Watts => "watts",
            Self::Rpm => "rpm",
        }
    }
}

/// What a person has said of a sheet; what is not said is guessed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choices {
    /// What stands between columns.
    pub separator: Option<Separator>,
    /// Whether a comma is a decimal one.
    pub decimal_comma: Option<bool>,
    /// How the readings lie.
    pub layout: Option<SheetLayout>,
    /// Lines of headings over each table.
    pub heads: Option<usize>,
    /// Unit of the static pressures.
    pub pressure: Option<PrintedPressure>,
    /// Unit of the airflows.
    pub airflow: Option<AirflowUnit>,
    /// The column that names the machine; nothing in it: no column does.
    pub blower: Option<Option<usize>>,
    /// What a column holds, or a row where the taps stand one under the other, counted from 0.
    pub lanes: BTreeMap<usize, Lane>,
    /// Kind of every machine on it, which is never guessed.
    pub kind: Option<EquipmentKind>,
    /// Motor of every machine on it.
    pub motor: MotorFamily,
}

/// How a sheet was taken, by what was said and what was guessed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Settled {
    /// What stands between columns.
    pub separator: Separator,
    /// Whether a comma is a decimal one.
    pub decimal_comma: bool,
    /// How the readings lie.
    pub layout: SheetLayout,
    /// Lines of headings over the first table.
    pub heads: usize,
    /// Unit of the static pressures.
    pub pressure: PrintedPressure,
    /// Unit of the airflows.
    pub airflow: AirflowUnit,
    /// The column that names the machine.
    pub blower: Option<usize>,
}

/// One line of the sheet with what became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetRow {
    /// Its number in the file, counted from 1.
    pub line: usize,
    /// Its texts.
    pub cells: Vec<String>,
    /// What each became.
    pub became: Vec<Became>,
}

/// A sheet as it was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetReading {
    /// How.
    pub settled: Settled,
    /// Every line that has anything in it.
    pub rows: Vec<SheetRow>,
    /// What each column holds, or each row where the taps stand one under the other; nothing for what none can be said of.
    pub lanes: BTreeMap<usize, Lane>,
    /// The tables, at least one where nothing is refused.
    pub tables: Vec<TableDraft>,
    /// What was guessed or left aside, one sentence each.
    pub said: Vec<String>,
    /// Why it cannot be taken like this.
    pub refused: Vec<SheetRefusal>,
    /// What has to be said before it is used.
    pub asked: Vec<SheetQuestion>,
    /// The kind of machine that its titles name: a guess, which somebody has to confirm.
    pub kind_named: Option<EquipmentKind>,
    /// True where the sheet itself names the unit of its static pressures.
    pub names_pressure: bool,
    /// True where the sheet itself names the unit of its airflows.
    pub names_airflow: bool,
}

/// Most tables of one sheet; more are a library, whose files go into the folder of one's own tables.
pub const MOST_TABLES: usize = 200;
/// Most lines of one sheet: two hundred tables of some eighty readings each.
pub const MOST_LINES: usize = 20_000;
/// Most columns of one sheet: forty taps with airflow, watts and rpm, and what stands before them.
pub const MOST_COLUMNS: usize = 130;
/// Most sentences on what was guessed; the others are counted.
const MOST_SAID: usize = 8;

impl SheetReading {
    /// Takes a sheet's text by what was said of it; `file` names it in each table's source.
    pub fn of(text: &str, file: &str, choices: &Choices) -> Self {
        let text = text.trim_start_matches('\u{feff}');
        let separator = choices.separator.unwrap_or_else(|| grid::separator(text));
        let lines = grid::lines(text, separator);
        let mut taking = Taking::new(separator, &lines, choices);
        match refused::too_much(&lines) {
            Some(refusal) => taking.refused.push(refusal),
            None => taking.take(),
        }
        taking.done(file)
    }

    /// True where it can be taken as it stands.
    pub fn is_taken(&self) -> bool {
        self.refused.is_empty() && !self.tables.is_empty()
    }

    /// True where it can be used as it stands: nothing is left that has to be said.
    pub fn is_ready(&self) -> bool {
        self.is_taken() && self.asked.is_empty()
    }

    /// How it was taken, one sentence.
    pub fn sentence(&self) -> String {
        let Settled { separator, decimal_comma, layout, heads, pressure, airflow, .. } = self.settled;
        let is_asked = self.asked.contains(&SheetQuestion::AirflowUnit);
        let airflow = if is_asked { "a unit that is not said" } else { airflow.name() };
        let decimal = if decimal_comma { "comma" } else { "point" };
        let headings = if heads == 1 { "1 line".to_owned() } else { format!("{heads} lines") };
        format!(
            "Read as {}, columns parted by {}, a decimal {decimal}, {headings} of headings, static in {}, airflow in {}",
            layout.name(),
            separator.name(),
            pressure.name(),
            airflow
        )
    }
}

/// A sheet while it is taken.
struct Taking<'a> {
    lines: &'a [Line],
    choices: &'a Choices,
    rows: Vec<SheetRow>,
    lanes: BTreeMap<usize, Lane>,
    tables: Vec<TableDraft>,
    said: Vec<String>,
    refused: Vec<SheetRefusal>,
    settled: Settled,
    /// Unit of the static pressures, where it is said or named.
    pressure: Option<PrintedPressure>,
    /// Unit of the airflows likewise.
    airflow: Option<AirflowUnit>,
    kind_named: Option<EquipmentKind>,
    names_pressure: bool,
    names_airflow: bool,
}

impl<'a> Taking<'a> {
    fn new(separator: Separator, lines: &'a [Line], choices: &'a Choices) -> Self {
        let row = |line: &Line| SheetRow {
            line: line.number,
            cells: line.cells.clone(),
            became: vec![Became::LeftOut; line.cells.len()],
        };
        Self {
            lines,
            choices,
            rows: lines.iter().take(MOST_LINES).map(row).collect(),
            lanes: BTreeMap::new(),
            tables: Vec::new(),
            said: Vec::new(),
            refused: Vec::new(),
            settled: Settled {
                separator,
                decimal_comma: false,
                layout: SheetLayout::default(),
                heads: 0,
                pressure: PrintedPressure::InchesOfWater,
                airflow: AirflowUnit::Cfm,
                blower: None,
            },
            pressure: None,
            airflow: None,
            kind_named: None,
            names_pressure: false,
            names_airflow: false,
        }
    }

    fn take(&mut self) {
        let (lines, choices) = (self.lines, self.choices);
        self.settled.blower = choices.blower.unwrap_or_else(|| grouped::blower_column(lines));
        let cells = || lines.iter().flat_map(|line| &line.cells).map(String::as_str);
        self.settled.decimal_comma = choices.decimal_comma.unwrap_or_else(|| numbers::have_decimal_comma(cells()));
        let groups = match self.settled.blower {
            Some(column) => grouped::by_column(self, column),
            None => grouped::by_blocks(self),
        };
        self.name_units(&groups);
        self.kind_named = title::kind_of(groups.iter().map(|group| group.name.as_str()));
        let machines = groups.iter().filter(|group| !group.is_more).count();
        if machines > MOST_TABLES {
            self.refused.push(SheetRefusal::TooManyTables(machines));
            return;
        }
        for (index, group) in groups.iter().enumerate() {
            let layout = choices.layout.unwrap_or_else(|| self.layout_of(group));
            if index == 0 {
                self.settled.layout = layout;
            }
            match layout {
                SheetLayout::List => list::take(self, group),
                SheetLayout::TapsAcross | SheetLayout::TapsDown => wide::take(self, group, layout),
            }
        }
        if self.tables.is_empty() && self.refused.is_empty() {
            self.refused.push(SheetRefusal::NothingFound);
        }
    }

    fn layout_of(&self, group: &Group) -> SheetLayout {
        let rows = self.cells_of(group);
        match () {
            () if list::is_one(&rows) => SheetLayout::List,
            () if wide::runs_across(&rows) => SheetLayout::TapsDown,
            () => SheetLayout::TapsAcross,
        }
    }

    /// The cells of a group's lines, without the column that names the machine.
    fn cells_of(&self, group: &Group) -> Vec<Vec<String>> {
        let kept = |line: &Line| {
            let cells = line.cells.iter().enumerate();
            cells.filter(|(column, _)| Some(*column) != self.settled.blower).map(|(_, cell)| cell.clone()).collect()
        };
        group.rows.iter().map(|row| kept(&self.lines[*row])).collect()
    }

    /// Reads which units the sheet names; one that names two of a kind is refused until somebody has said which counts.
    fn name_units(&mut self, groups: &[Group]) {
        let is_kept = |column: &usize| {
            Some(*column) != self.settled.blower && self.choices.lanes.get(column) != Some(&Lane::LeftOut)
        };
        let cells = |row: &usize| {
            let cells = self.lines[*row].cells.iter().enumerate().filter(|(column, _)| is_kept(column));
            cells.map(|(_, cell)| cell.clone()).collect::<Vec<_>>()
        };
        let (mut heads, mut body) = (Vec::new(), Vec::new());
        for group in groups {
            heads.push(vec![group.units.clone()]);
            let (over, under) = group.rows.split_at(self.heads_of(group).min(group.rows.len()));
            heads.extend(over.iter().map(cells));
            body.extend(under.iter().map(cells));
        }
        let named = Named::of(&heads, &body);
        let several =
            |what, names: Vec<&'static str>| (names.len() > 1).then_some(SheetRefusal::MixedUnits(what, names));
        if self.choices.pressure.is_none() {
            let names = named.pressures.iter().map(|unit| unit.name()).collect();
            self.refused.extend(several("static pressure", names));
        }
        if self.choices.airflow.is_none() {
            let names = named.airflows.iter().map(|unit| unit.name()).collect();
            self.refused.extend(several("airflow", names));
        }
        self.names_pressure = !named.pressures.is_empty();
        self.names_airflow = !named.airflows.is_empty();
        self.pressure = self.choices.pressure.or_else(|| named.pressures.first().copied());
        self.airflow = self.choices.airflow.or_else(|| named.airflows.first().copied());
    }

    fn mark(&mut self, row: usize, column: usize, became: Became) {
        if let Some(place) = self.rows.get_mut(row).and_then(|row| row.became.get_mut(column)) {
            *place = became;
        }
    }

    fn mark_line(&mut self, row: usize, became: Became) {
        for column in 0..self.lines[row].cells.len() {
            if !self.lines[row].cells[column].is_empty() && Some(column) != self.settled.blower {
                self.mark(row, column, became);
            }
        }
    }

    fn say(&mut self, sentence: String) {
        if !self.said.contains(&sentence) {
            self.said.push(sentence);
        }
    }

    fn done(mut self, file: &str) -> SheetReading {
        self.say_units();
        let asked = self.asked();
        let several = self.tables.len() > 1;
        for (index, draft) in self.tables.iter_mut().enumerate() {
            draft.head.kind = self.choices.kind.unwrap_or_default();
            draft.head.motor = self.choices.motor;
            draft.head.source = format!("Read from {file}");
            if several && draft.head.name.is_empty() {
                draft.head.name = format!("Table {}", index + 1);
            }
        }
        let more = self.said.len().saturating_sub(MOST_SAID);
        if more > 0 {
            self.said.truncate(MOST_SAID);
            self.said.push(format!("{more} more of the kind"));
        }
        SheetReading {
            settled: self.settled,
            rows: self.rows,
            lanes: self.lanes,
            tables: self.tables,
            said: self.said,
            refused: self.refused,
            asked,
            kind_named: self.kind_named,
            names_pressure: self.names_pressure,
            names_airflow: self.names_airflow,
        }
    }

    /// What has to be said of the tables that were found.
    fn asked(&self) -> Vec<SheetQuestion> {
        if self.tables.is_empty() {
            return Vec::new();
        }
        let kind = self.choices.kind.is_none().then_some(SheetQuestion::Kind);
        kind.into_iter().chain(self.asks_airflow().then_some(SheetQuestion::AirflowUnit)).collect()
    }

    /// Statics in pascals or millimetres do not come with cfm as a matter of course.
    fn asks_airflow(&self) -> bool {
        self.airflow.is_none() && self.settled.pressure != PrintedPressure::InchesOfWater
    }

    /// What was assumed for want of a name.
    fn say_units(&mut self) {
        if self.tables.is_empty() {
            return;
        }
        let was_guessed = self.said.iter().any(|sentence| sentence.ends_with("taken as Pa"));
        if self.pressure.is_none() && !was_guessed {
            self.say("No unit of static pressure is named; in. w.c. is assumed".to_owned());
        }
        if self.airflow.is_none() && !self.asks_airflow() {
            self.say("No unit of airflow is named; cfm is assumed".to_owned());
        }
    }
}

#[cfg(test)]
mod tests;
