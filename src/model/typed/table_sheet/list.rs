//! Sheets with a row a reading: tap, static pressure, airflow.

use std::collections::BTreeMap;

use crate::model::typed::table_draft::Block;
use crate::model::typed::table_paste::units::PrintedPressure;
use crate::model::typed::table_paste::{
    Pasted, PastedColumn, heads_of, is_esp_word, numbers, tidied_static, tidy_cells,
};
use crate::model::typed::table_sheet::grouped::Group;
use crate::model::typed::table_sheet::{Became, Lane, SheetRefusal, Taking};
use crate::units::{Pressure, text};

/// What a tap is typed where the list has no such row.
const NO_ROW: &str = "no row";

/// True where the headings name a column of taps, one of static pressures and one of airflows.
pub(super) fn is_one(rows: &[Vec<String>]) -> bool {
    let heads = heads_of(rows);
    let lanes = lanes_of(&rows[..heads]);
    let one = |wanted: Lane| lanes.values().filter(|lane| **lane == wanted).count() == 1;
    one(Lane::Tap) && one(Lane::Static) && one(Lane::Airflow)
}

/// What the headings say of the columns.
fn lanes_of(heads: &[Vec<String>]) -> BTreeMap<usize, Lane> {
    let width = heads.iter().map(Vec::len).max().unwrap_or_default();
    let heading = |column: usize| {
        let texts = heads.iter().filter(|row| row.len() > 1).filter_map(move |row| row.get(column));
        texts.map(|text| text.trim()).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ")
    };
    (0..width).filter_map(|column| lane_of(&heading(column)).map(|lane| (column, lane))).collect()
}

fn lane_of(heading: &str) -> Option<Lane> {
    let small = heading.to_lowercase();
    let bare = numbers::without_units(&small);
    let is_tap = ["tap", "speed", "setting", "speed tap", "tap name", "motor speed", "fan speed", "blower speed"]
        .contains(&bare.as_str());
    match numbers::block_of(heading) {
        Some(Block::Airflow) => Some(Lane::Airflow),
        Some(Block::Watts) => Some(Lane::Watts),
        Some(Block::Rpm) => Some(Lane::Rpm),
        None if is_tap => Some(Lane::Tap),
        None if bare == "air flow" => Some(Lane::Airflow),
        None => is_esp_word(heading).then_some(Lane::Static),
    }
}

/// Takes a list up.
pub(super) fn take(taking: &mut Taking<'_>, group: &Group) {
    let heads = taking.heads_of(group).min(group.rows.len());
    let (over, body) = group.rows.split_at(heads);
    for row in over {
        taking.mark_line(*row, Became::Heading);
    }
    let lanes = lanes(taking, over, body);
    let of = |wanted: Lane| lanes.iter().find(|(_, lane)| **lane == wanted).map(|(column, _)| *column);
    let (Some(tap), Some(esp), Some(airflow)) = (of(Lane::Tap), of(Lane::Static), of(Lane::Airflow)) else {
        let missing = [Lane::Tap, Lane::Static, Lane::Airflow].into_iter().find(|lane| of(*lane).is_none());
        taking.refused.extend(missing.map(|lane| SheetRefusal::NoLane(lane.name())));
        taking.lanes.extend(lanes);
        return;
    };
    for row in body {
        for (column, lane) in &lanes {
            taking.mark(*row, *column, Became::of_lane(*lane));
        }
    }
    let columns = Columns { tap, esp, airflow, watts: of(Lane::Watts), rpm: of(Lane::Rpm) };
    taking.lanes.extend(lanes);
    if taking.tables.is_empty() {
        taking.settled.heads = heads;
    }
    let pasted = pivoted(taking, body, &columns);
    taking.put(group, &pasted);
}

/// What each column holds: as it was said, else by the headings, else in the usual order.
fn lanes(taking: &Taking<'_>, over: &[usize], body: &[usize]) -> BTreeMap<usize, Lane> {
    let heads: Vec<Vec<String>> = over.iter().map(|row| taking.lines[*row].cells.clone()).collect();
    let width = over.iter().chain(body).map(|row| taking.lines[*row].cells.len()).max().unwrap_or_default();
    let named = lanes_of(&heads);
    let usual = [Lane::Tap, Lane::Static, Lane::Airflow, Lane::Watts, Lane::Rpm];
    let mut in_order = usual.into_iter();
    let mut lanes = BTreeMap::new();
    for column in (0..width).filter(|column| Some(*column) != taking.settled.blower) {
        let by_place = if named.is_empty() { in_order.next() } else { None };
        let guessed = named.get(&column).copied().or(by_place);
        let said = taking.choices.lanes.get(&column).copied();
        // What somebody said of one column is not guessed of another.
        let is_taken = |lane: &Lane| taking.choices.lanes.values().any(|other| other == lane);
        let lane = said.or(guessed.filter(|lane| !is_taken(lane) && !lanes.values().any(|other| other == lane)));
        lanes.insert(column, lane.unwrap_or(Lane::LeftOut));
    }
    lanes
}

/// The columns of a list.
struct Columns {
    tap: usize,
    esp: usize,
    airflow: usize,
    watts: Option<usize>,
    rpm: Option<usize>,
}

/// The list as a grid: what it does not give is no row of its tap.
fn pivoted(taking: &mut Taking<'_>, body: &[usize], columns: &Columns) -> Pasted {
    let comma = taking.settled.decimal_comma;
    let unit = taking.pressure;
    let mut taps: Vec<String> = Vec::new();
    let mut esps: Vec<(Option<Pressure>, String)> = Vec::new();
    let mut readings: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let cell = |row: usize, column: usize| taking.lines[row].cells.get(column).map_or("", String::as_str);
    let mut refused = Vec::new();
    for row in body {
        let name = cell(*row, columns.tap);
        let tap = match taps.iter().position(|tap| tap == name) {
            Some(tap) => tap,
            None if name.is_empty() && !taps.is_empty() => taps.len() - 1,
            None => {
                taps.push(name.to_owned());
                taps.len() - 1
            }
        };
        let typed = tidied_static(cell(*row, columns.esp), comma, unit);
        let system = unit.unwrap_or(taking.settled.pressure).system();
        let value = text::pressure(&typed, system).ok();
        let is_same = |other: &(Option<Pressure>, String)| other.1 == typed || value.is_some() && other.0 == value;
        let esp = esps.iter().position(is_same).unwrap_or_else(|| {
            esps.push((value, typed.clone()));
            esps.len() - 1
        });
        if let Some(first) = readings.insert((tap, esp), *row) {
            let lines = (taking.lines[first].number, taking.lines[*row].number);
            refused.push(SheetRefusal::ReadingTwice { tap: taps[tap].clone(), esp: typed, lines });
        }
    }
    let mut order: Vec<usize> = (0..esps.len()).collect();
    // Static pressures that cannot be read keep their place at the end, where the table's remarks name them.
    order.sort_by(|one, other| match (esps[*one].0, esps[*other].0) {
        (Some(one), Some(other)) => one.in_wc().total_cmp(&other.in_wc()),
        (one, other) => other.is_some().cmp(&one.is_some()),
    });
    let mut pasted = Pasted {
        esps: order.iter().map(|esp| esps[*esp].1.clone()).collect(),
        pressure_unit: unit.map(PrintedPressure::in_the_table),
        airflow_unit: taking.airflow,
        ..Pasted::default()
    };
    let blocks = [
        (Some(columns.airflow), Block::Airflow, NO_ROW),
        (columns.watts, Block::Watts, ""),
        (columns.rpm, Block::Rpm, ""),
    ];
    for (tap, name) in taps.iter().enumerate() {
        for (column, block, gap) in blocks {
            let Some(column) = column else {
                continue;
            };
            let text = |esp: &usize| {
                readings.get(&(tap, *esp)).map_or_else(|| gap.to_owned(), |row| cell(*row, column).to_owned())
            };
            let cells = order.iter().map(text).collect();
            pasted.columns.push(PastedColumn { name: Some(name.clone()), block: Some(block), cells });
        }
    }
    tidy_cells(&mut pasted, comma);
    refused.truncate(1);
    for sentence in std::mem::take(&mut pasted.remarks) {
        taking.say(sentence);
    }
    taking.refused.extend(refused);
    pasted
}

impl Became {
    const fn of_lane(lane: Lane) -> Self {
        match lane {
            Lane::Tap => Self::Tap,
            Lane::Static => Self::Static,
            Lane::Airflow => Self::Airflow,
            Lane::Watts => Self::Watts,
            Lane::Rpm => Self::Rpm,
            Lane::LeftOut => Self::LeftOut,
        }
    }
}
