//! What two blower tables say differently, place by place.
//!
//! A table is taken apart into what it says (`statements`): one value at one place, in an order that does not depend on how its taps, rows and calls are listed.
//! Differences, and the number that tells one table's contents from another's, both rest on these alone.

use std::cmp::Ordering;
use std::collections::BTreeSet;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::model::facts::blower::{
    BlowerTable, Call, Cell, CoilInTest, EquipmentKind, HeatStage, MotorFamily, PartInTest, Position, ReturnOpenings,
    Row, Tap, TapData,
};
use crate::model::facts::drop_data::DropData;
use crate::units::quantity::Quantity;
use crate::units::{Density, Voltage};

/// A number to its last digit, in an order that holds for every number; minus nought is nought.
#[derive(Clone, Copy, Debug)]
pub struct Exact(pub f64);

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.0 + 0.0).total_cmp(&(other.0 + 0.0))
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Exact {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Exact {}

impl Hash for Exact {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.0 + 0.0).to_bits().hash(state);
    }
}

/// What a row gives for a tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OfRow {
    /// Airflow, or that the tap is barred there.
    Airflow,
    /// What the table notes there.
    Note,
    /// Electric power.
    Watts,
    /// Wheel speed.
    Rpm,
}

/// What one airflow over a range of static pressures is given by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OfRange {
    /// The airflow.
    Airflow,
    /// Lowest static pressure.
    From,
    /// Highest static pressure.
    To,
}

/// What a heating stage is given by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OfHeat {
    /// Heat delivered to the air.
    Output,
    /// Lowest temperature rise of the plate.
    RiseFrom,
    /// Highest temperature rise of the plate.
    RiseTo,
    /// Least airflow.
    LeastAirflow,
}

/// A drop that the table prints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Printed {
    /// Of the filter that the table was made with.
    FilterAsTested,
    /// What a wet coil drops more than a dry one.
    WetCoil,
    /// Of the electric heater.
    Heater,
    /// What a one-side return costs.
    OneSideReturn,
}

/// What a printed drop is given by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OfDrop {
    /// Airflow of a point, counted from 0.
    Airflow(usize),
    /// Drop of a point, counted from 0.
    Drop(usize),
    /// Exponent of the law through a point that stands alone.
    Exponent,
    /// Density of the air that it was published in.
    Density,
}

/// What a factor at another supply voltage is given by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OfLowVoltage {
    /// The voltage.
    Voltage,
    /// Airflow there as a share of the table's.
    Factor,
}

/// A place at which a table says one thing; those that weigh most for the airflow come first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place<'a> {
    /// The tap of a name: that there is one.
    Tap(&'a str),
    /// A tap with one airflow over a range.
    Range(&'a str, OfRange),
    /// A tap's row, by its static pressure in in. w.c.
    Row(&'a str, Exact, OfRow),
    /// Highest static that the rating plate allows.
    RatedMaximum,
    /// Nominal cooling capacity.
    Cooling,
    /// Kind of motor.
    Motor,
    /// Kind of machine.
    Kind,
    /// The tap that a call runs.
    Call(Call),
    /// A heating stage.
    Heat(Call, OfHeat),
    /// The filter in the test.
    Filter,
    /// The coil in the test.
    Coil,
    /// The electric heater in the test.
    Heater,
    /// Return openings in the test.
    ReturnOpenings,
    /// Position of the cabinet in the test.
    Position,
    /// Supply voltage in the test.
    Voltage,
    /// Air density in the test.
    Density,
    /// What each tap's airflow may be off by for having been read off a picture.
    ReadingError,
    /// A drop that it prints.
    Drop(Printed, OfDrop),
    /// Airflow at another supply voltage.
    LowVoltage(OfLowVoltage),
    /// The model.
    Name,
    /// That the machine is invented.
    Illustrative,
    /// Where the numbers come from.
    Source,
    /// What it adds in words.
    Notes,
}

/// What a table says at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Said<'a> {
    /// A number of a quantity, in its stored unit.
    Number(Quantity, Exact),
    /// Words.
    Words(&'a str),
    /// A tap, or that the machine is invented: it is so.
    Is,
    /// The tap is barred.
    Barred,
    /// A kind of machine.
    Kind(EquipmentKind),
    /// A kind of motor.
    Motor(MotorFamily),
    /// A part in the test.
    Part(PartInTest),
    /// The coil in the test.
    Coil(CoilInTest),
    /// Return openings.
    Openings(ReturnOpenings),
    /// Position of the cabinet.
    Position(Position),
}

/// A place at which two tables say different things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TableDifference<'a> {
    /// Where.
    pub place: Place<'a>,
    /// What the one says; nothing where it says nothing.
    pub one: Option<Said<'a>>,
    /// What the other says; nothing where it says nothing.
    pub other: Option<Said<'a>>,
}

/// Every place at which two tables say different things, those that weigh most first; none for tables that mean the same, however their taps, rows and calls are listed.
///
/// Of a tap that only one of them has that alone is told, without its rows.
pub fn differences<'a>(one: &'a BlowerTable, other: &'a BlowerTable) -> Vec<TableDifference<'a>> {
    let mut found = Vec::new();
    let (ones, others) = (statements(one), statements(other));
    let (mut ones, mut others) = (ones.into_iter().peekable(), others.into_iter().peekable());
    loop {
        let first = match (ones.peek(), others.peek()) {
            (Some((here, _)), Some((there, _))) => here.cmp(there),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => break,
        };
        let here = ones.next_if(|_| first.is_le());
        let there = others.next_if(|_| first.is_ge());
        let said = |statement: Option<(Place<'a>, Said<'a>)>| statement.map(|(_, said)| said);
        if let Some((place, _)) = here.or(there).filter(|_| said(here) != said(there)) {
            found.push(TableDifference { place, one: said(here), other: said(there) });
        }
    }
    without_rows_of_taps_that_one_lacks(found)
}

fn without_rows_of_taps_that_one_lacks(mut found: Vec<TableDifference<'_>>) -> Vec<TableDifference<'_>> {
    let tap = |place: Place<'_>| if let Place::Tap(tap) = place { Some(tap.to_owned()) } else { None };
    let lacking: BTreeSet<String> = found.iter().filter_map(|difference| tap(difference.place)).collect();
    let is_row_of_lacking = |place: Place<'_>| {
        if let Place::Range(tap, _) | Place::Row(tap, ..) = place { lacking.contains(tap) } else { false }
    };
    found.retain(|difference| !is_row_of_lacking(difference.place));
    found
}

/// A number that tables share which mean the same, and others but for one chance in 10¹⁹; it is of this run of the program alone.
pub fn contents(table: &BlowerTable) -> u64 {
    let mut hasher = DefaultHasher::new();
    statements(table).hash(&mut hasher);
    hasher.finish()
}

/// All that a table says, in the order of places.
fn statements(table: &BlowerTable) -> Vec<(Place<'_>, Said<'_>)> {
    let mut said: Vec<(Place<'_>, Said<'_>)> = Vec::new();
    table.taps.iter().for_each(|tap| of_tap(tap, &mut said));
    of_plate(table, &mut said);
    table.calls.iter().for_each(|(call, tap)| said.push((Place::Call(*call), Said::Words(tap))));
    table.heating.iter().for_each(|stage| of_stage(stage, &mut said));
    of_basis(table, &mut said);
    of_corrections(table, &mut said);
    // What stands twice in a faulty table keeps its order.
    said.sort_by_key(|(place, _)| *place);
    said
}

/// A number of a quantity in its stored unit.
const fn number<'a>(quantity: Quantity, value: f64) -> Said<'a> {
    Said::Number(quantity, Exact(value))
}

fn of_tap<'a>(tap: &'a Tap, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let name = tap.name.as_str();
    said.push((Place::Tap(name), Said::Is));
    match &tap.data {
        TapData::Column(rows) => rows.iter().for_each(|row| of_row(name, row, said)),
        TapData::Range { airflow, from, to } => said.extend([
            (Place::Range(name, OfRange::Airflow), number(Quantity::Airflow, airflow.cfm())),
            (Place::Range(name, OfRange::From), number(Quantity::Pressure, from.in_wc())),
            (Place::Range(name, OfRange::To), number(Quantity::Pressure, to.in_wc())),
        ]),
    }
}

/// A row that gives nothing says nothing, like one that is not there.
fn of_row<'a>(tap: &'a str, row: &'a Row, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let place = |of| Place::Row(tap, Exact(row.esp.in_wc()), of);
    let (airflow, note) = match &row.cell {
        Cell::Airflow(airflow, note) => (Some(number(Quantity::Airflow, airflow.cfm())), note.as_deref()),
        Cell::NotAllowed(note) => (Some(Said::Barred), note.as_deref()),
        Cell::NotGiven => (None, None),
    };
    let watts = row.power.map(|power| number(Quantity::Power, power.watts()));
    let rpm = row.speed.map(|speed| number(Quantity::Speed, speed.rpm()));
    let all =
        [(OfRow::Airflow, airflow), (OfRow::Note, note.map(Said::Words)), (OfRow::Watts, watts), (OfRow::Rpm, rpm)];
    said.extend(all.into_iter().filter_map(|(of, what)| Some((place(of), what?))));
}

fn of_plate<'a>(table: &'a BlowerTable, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let words = |words: &'a str| Some(Said::Words(words)).filter(|_| !words.is_empty());
    let all = [
        (Place::RatedMaximum, table.rated_maximum.map(|most| number(Quantity::Pressure, most.in_wc()))),
        (Place::Cooling, table.cooling.map(|cooling| number(Quantity::Capacity, cooling.tons()))),
        (Place::Motor, Some(Said::Motor(table.motor))),
        (Place::Kind, Some(Said::Kind(table.kind))),
        (Place::Name, words(&table.name)),
        (Place::Illustrative, table.illustrative.then_some(Said::Is)),
        (Place::Source, words(&table.source)),
        (Place::Notes, words(&table.notes)),
    ];
    said.extend(all.into_iter().filter_map(|(place, what)| Some((place, what?))));
}

fn of_stage<'a>(stage: &HeatStage, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let mut push = |of, quantity, value| said.push((Place::Heat(stage.call, of), number(quantity, value)));
    push(OfHeat::Output, Quantity::HeatRate, stage.output.btuh());
    if let Some((low, high)) = stage.rise {
        push(OfHeat::RiseFrom, Quantity::TemperatureRise, low.f());
        push(OfHeat::RiseTo, Quantity::TemperatureRise, high.f());
    }
    if let Some(least) = stage.minimum_airflow {
        push(OfHeat::LeastAirflow, Quantity::Airflow, least.cfm());
    }
}

fn of_basis<'a>(table: &'a BlowerTable, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let basis = &table.basis;
    said.extend([
        (Place::Filter, Said::Part(basis.filter)),
        (Place::Coil, Said::Coil(basis.coil)),
        (Place::Heater, Said::Part(basis.heater)),
        (Place::ReturnOpenings, Said::Openings(basis.return_openings)),
        (Place::Position, Said::Position(basis.position)),
    ]);
    let numbers = [
        (Place::Voltage, Quantity::Voltage, basis.voltage.map(Voltage::volts)),
        (Place::Density, Quantity::Density, basis.density.map(Density::lb_ft3)),
        (Place::ReadingError, Quantity::Share, basis.reading_error.map(|percent| percent / 100.0)),
    ];
    said.extend(numbers.into_iter().filter_map(|(place, of, value)| Some((place, number(of, value?)))));
}

fn of_corrections<'a>(table: &'a BlowerTable, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let printed = &table.corrections;
    let drops = [
        (Printed::FilterAsTested, &printed.filter_as_tested),
        (Printed::WetCoil, &printed.wet_coil),
        (Printed::Heater, &printed.heater),
        (Printed::OneSideReturn, &printed.one_side_return),
    ];
    for (which, drop) in drops {
        if let Some(drop) = drop {
            of_drop(which, drop, said);
        }
    }
    if let Some(low) = printed.low_voltage {
        said.extend([
            (Place::LowVoltage(OfLowVoltage::Voltage), number(Quantity::Voltage, low.voltage.volts())),
            (Place::LowVoltage(OfLowVoltage::Factor), number(Quantity::Ratio, low.airflow_factor)),
        ]);
    }
}

fn of_drop<'a>(which: Printed, drop: &DropData, said: &mut Vec<(Place<'a>, Said<'a>)>) {
    let mut push = |of, quantity, value| said.push((Place::Drop(which, of), number(quantity, value)));
    for (number, (airflow, drop)) in drop.points().iter().enumerate() {
        push(OfDrop::Airflow(number), Quantity::Airflow, airflow.cfm());
        push(OfDrop::Drop(number), Quantity::Pressure, drop.in_wc());
    }
    if drop.points().len() == 1 {
        push(OfDrop::Exponent, Quantity::Ratio, drop.exponent());
    }
    if let Some(density) = drop.published() {
        push(OfDrop::Density, Quantity::Density, density.lb_ft3());
    }
}
