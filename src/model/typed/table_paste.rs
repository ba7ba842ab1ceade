//! A block of text from a spreadsheet or a printed page as the columns of a blower table.
//!
//! Nothing is dropped in silence: a text that is no number stays in its cell, where reading the draft names it, and what was guessed is said in [`Pasted::remarks`].

pub mod grid;
pub(in crate::model::typed) mod numbers;
mod place;
mod tidy;
pub mod units;

use crate::model::typed::table_draft::{AirflowUnit, Block, PressureUnit};
use crate::units::text::cut;
use units::PrintedPressure;

pub(in crate::model::typed) use tidy::{cells as tidy_cells, static_text as tidied_static};

/// One column of what was pasted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PastedColumn {
    /// The tap's name, where the text has one.
    pub name: Option<String>,
    /// The grid that its heading names; nothing when it names none.
    pub block: Option<Block>,
    /// One text for each row.
    pub cells: Vec<String>,
}

/// What a pasted text holds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    /// Static pressures, one for each row; empty when the text has none.
    pub esps: Vec<String>,
    /// The columns.
    pub columns: Vec<PastedColumn>,
    /// Unit of static pressure that the text names.
    pub pressure_unit: Option<PressureUnit>,
    /// Unit of airflow that the text names.
    pub airflow_unit: Option<AirflowUnit>,
    /// What was guessed or left aside, one sentence each.
    pub remarks: Vec<String>,
}

/// What a person has said of a text; what is not said is guessed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::model::typed) struct Said {
    /// Lines of headings over the table.
    pub(in crate::model::typed) heads: Option<usize>,
    /// Whether the static pressures run across.
    pub(in crate::model::typed) is_turned: Option<bool>,
    /// Whether the first column holds the static pressures.
    pub(in crate::model::typed) has_esps: Option<bool>,
    /// Whether a comma is a decimal one.
    pub(in crate::model::typed) decimal_comma: Option<bool>,
    /// Unit of the static pressures.
    pub(in crate::model::typed) pressure: Option<PrintedPressure>,
    /// Unit of the airflows.
    pub(in crate::model::typed) airflow: Option<AirflowUnit>,
}

/// Where in the rows the parts of the table were found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::model::typed) struct Shape {
    /// Lines of headings.
    pub(in crate::model::typed) heads: usize,
    /// Whether the first column holds the static pressures.
    pub(in crate::model::typed) has_esps: bool,
    /// Where the static pressures run across.
    pub(in crate::model::typed) turned: Option<Across>,
}

/// A table whose static pressures run across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::model::typed) struct Across {
    /// The row that holds them.
    pub(in crate::model::typed) row: usize,
    /// Columns of names before them, in the rows below.
    pub(in crate::model::typed) names: usize,
}

/// Most of a bare static pressure in inches of water that a table's first column would have.
const MOST_INCHES: f64 = 2.5;

/// True when a text is more than one value: it has several lines or a tab.
pub fn is_block(text: &str) -> bool {
    let text = text.trim_matches(['\r', '\n', ' ']);
    text.contains(['\n', '\t', '\r'])
}

/// Reads a pasted text.
pub fn parse(text: &str) -> Pasted {
    let lines = grid::lines(text, grid::separator(text));
    parse_rows(lines.into_iter().map(|line| line.cells).collect(), Said::default()).0
}

/// Reads the rows of a table.
pub(in crate::model::typed) fn parse_rows(rows: Vec<Vec<String>>, said: Said) -> (Pasted, Shape) {
    let mut pasted = Pasted::default();
    let (heads, mut body) = split_heads(rows, said.heads);
    let mut shape = Shape { heads: heads.len(), ..Shape::default() };
    let named = units::Named::of(&heads, &body);
    let pressure = said.pressure.or_else(|| named.pressures.first().copied());
    pasted.pressure_unit = pressure.map(PrintedPressure::in_the_table);
    pasted.airflow_unit = said.airflow.or_else(|| named.airflows.first().copied());
    let (names, row_of_names) = names_row(heads, &body, &mut pasted);
    let names = match turned(names.as_deref(), &body, said.is_turned) {
        Some(Turned { names: across, body: turned_body, skip }) => {
            pasted.remarks.push("The static pressures run across, so the table was turned".to_owned());
            let row = row_of_names.filter(|_| names.is_some()).unwrap_or(shape.heads);
            shape.turned = Some(Across { row, names: skip });
            body = turned_body;
            across
        }
        None => names,
    };
    ragged(&body, &mut pasted);
    shape.has_esps = columns(names.as_deref(), &body, said.has_esps.or(shape.turned.map(|_| true)), &mut pasted);
    tidy::tidy(&mut pasted, said.decimal_comma, pressure);
    (pasted, shape)
}

/// Leading lines that are no data, and the rest.
fn split_heads(rows: Vec<Vec<String>>, said: Option<usize>) -> (Vec<Vec<String>>, Vec<Vec<String>>) {
    let count = said.unwrap_or_else(|| heads_of(&rows)).min(rows.len());
    let mut heads = rows;
    let body = heads.split_off(count);
    (heads, body)
}

/// How many of the first lines are headings.
pub(in crate::model::typed) fn heads_of(rows: &[Vec<String>]) -> usize {
    rows.iter().take_while(|row| is_head(row)).count()
}

fn is_head(row: &[String]) -> bool {
    let first = row.first().map_or("", |text| text.trim());
    let has_numbers = row.iter().any(|text| numbers::value(text).is_some());
    let has_letters = row.iter().any(|text| text.chars().any(char::is_alphabetic));
    // In a table that is to be turned a tap's row has a name and then its numbers.
    let may_hold_numbers = first.is_empty() || is_esp_word(first) && !numbers::is_named_tap(first);
    numbers::value(first).is_none() && (has_letters || first.is_empty()) && (!has_numbers || may_hold_numbers)
}

/// True where the static pressures run across.
pub(in crate::model::typed) fn stands_across(rows: &[Vec<String>]) -> bool {
    let (heads, body) = rows.split_at(heads_of(rows));
    let (names, _) = names_row(heads.to_vec(), body, &mut Pasted::default());
    turned(names.as_deref(), body, None).is_some()
}

/// True for what a heading over static pressures says.
pub(in crate::model::typed) fn is_esp_word(text: &str) -> bool {
    let small = text.to_lowercase();
    let words =
        ["esp", "static", "pressure", "w.c", "wc", "w.g", "wg", "e.s.p", "inch", "in.", "tap", "speed", "setting"];
    small.trim() == "pa"
        || small.contains("(pa")
        || small.contains(" pa")
        || words.iter().any(|word| small.contains(word))
}

/// The heading line that names the columns, with its place; the others are said when they are not understood.
fn names_row(
    heads: Vec<Vec<String>>,
    body: &[Vec<String>],
    pasted: &mut Pasted,
) -> (Option<Vec<String>>, Option<usize>) {
    let width = body.iter().map(Vec::len).max().unwrap_or_default();
    let mut names: Option<Vec<String>> = None;
    let mut row = None;
    for (index, head) in heads.into_iter().enumerate() {
        let filled = head.iter().filter(|text| !text.trim().is_empty()).count();
        let only_units = head.iter().all(|text| numbers::is_unit(text));
        if only_units {
            names = names.map(|earlier| merged(&earlier, &head));
            continue;
        }
        let is_over_columns = head.first().is_some_and(|text| text.trim().is_empty()) && filled > 0;
        let fits = (filled >= 2 || is_over_columns) && (head.len() == width || head.len() + 1 == width)
            || (width == 1 && filled == 1);
        if fits {
            row = Some(index);
            if let Some(earlier) = names.take() {
                names = Some(merged(&earlier, &head));
            } else {
                names = Some(head);
            }
        } else {
            let line =
                head.iter().map(|text| text.trim()).filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ");
            pasted.remarks.push(format!("The line \"{}\" was taken as a heading and names no columns", cut(&line)));
        }
    }
    (names, row)
}

/// Two heading lines over the same columns: an upper name holds until the next one.
fn merged(upper: &[String], lower: &[String]) -> Vec<String> {
    let mut last = String::new();
    let width = upper.len().max(lower.len());
    (0..width)
        .map(|index| {
            let above = upper.get(index).map_or("", |text| text.trim());
            let below = lower.get(index).map_or("", |text| text.trim());
            if !above.is_empty() {
                above.clone_into(&mut last);
            }
            match () {
                () if index == 0 && above.is_empty() => below.to_owned(),
                () if below.is_empty() || numbers::is_unit(below) && numbers::block_of(below).is_none() => last.clone(),
                () if last.is_empty() || below == last => below.to_owned(),
                () => format!("{last} {below}"),
            }
        })
        .collect()
}

/// A table whose static pressures run across, turned.
struct Turned {
    names: Option<Vec<String>>,
    body: Vec<Vec<String>>,
    /// Columns of names that it had before its numbers.
    skip: usize,
}

/// Turns a table whose first row is the static pressures.
fn turned(names: Option<&[String]>, body: &[Vec<String>], said: Option<bool>) -> Option<Turned> {
    let column: Vec<&String> = body.iter().filter_map(|row| row.first()).collect();
    let stands_upright = || looks_like_esps(column.iter().map(|text| text.as_str()));
    if said == Some(false) || said.is_none() && stands_upright() {
        return None;
    }
    let (esps, rows): (&[String], &[Vec<String>]) = match names {
        Some(names) => (names, body),
        None => body.split_first().map(|(first, rest)| (first.as_slice(), rest))?,
    };
    let width = rows.iter().map(Vec::len).max()?;
    let labels = esps.iter().take_while(|text| numbers::value(text).is_none()).count();
    let across = &esps[labels..];
    let is_sure = || across.len() >= 2 && looks_like_esps(across.iter().map(String::as_str));
    if across.is_empty() || said.is_none() && !is_sure() {
        return None;
    }
    let skip = width.saturating_sub(across.len());
    let body = across.iter().enumerate().map(|(index, esp)| {
        let cells = rows.iter().map(|row| row.get(index + skip).cloned().unwrap_or_default());
        std::iter::once(esp.clone()).chain(cells).collect()
    });
    let names = (skip > 0).then(|| std::iter::once("ESP".to_owned()).chain(row_names(rows, skip)).collect());
    Some(Turned { names, body: body.collect(), skip })
}

/// What stands before the numbers of each row; a name holds until the next one.
fn row_names(rows: &[Vec<String>], skip: usize) -> Vec<String> {
    let mut last = String::new();
    let name = |row: &Vec<String>| {
        let (first, more) = row.split_first()?;
        if !first.trim().is_empty() {
            first.trim().clone_into(&mut last);
        }
        let more = more.iter().take(skip.saturating_sub(1)).map(|text| text.trim());
        let words = std::iter::once(last.as_str()).chain(more).filter(|text| !text.is_empty());
        Some(words.collect::<Vec<_>>().join(" "))
    };
    rows.iter().map(name).map(Option::unwrap_or_default).collect()
}

/// True for numbers that rise from row to row and are small enough for inches, or look like pascals.
pub(in crate::model::typed) fn looks_like_esps<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
    let values: Option<Vec<f64>> = texts.map(numbers::small_value).collect();
    let Some(values) = values.filter(|values| !values.is_empty()) else {
        return false;
    };
    let rises = values.windows(2).all(|pair| pair[1] > pair[0]);
    let most = values.last().copied().unwrap_or_default();
    let has_fraction = values.iter().any(|value| value.fract() != 0.0);
    let pascals = values.len() > 1 && (30.0..=700.0).contains(&most) && values.iter().all(|value| value % 5.0 == 0.0);
    rises && values[0] >= 0.0 && (most <= MOST_INCHES && has_fraction || pascals)
}

/// Rows with fewer values than the widest.
fn ragged(body: &[Vec<String>], pasted: &mut Pasted) {
    let width = body.iter().map(Vec::len).max().unwrap_or_default();
    for (index, row) in body.iter().enumerate().filter(|(_, row)| row.len() < width) {
        let first = cut(row.first().map_or("", |text| text.as_str()));
        pasted.remarks.push(format!(
            "Row {} ({first}) has {} values, the longest row {width}; the missing ones stand at its end: look whether they belong there",
            index + 1,
            row.len()
        ));
    }
}

/// Takes up the columns; true where the first of them holds the static pressures.
fn columns(names: Option<&[String]>, body: &[Vec<String>], said: Option<bool>, pasted: &mut Pasted) -> bool {
    let width = body.iter().map(Vec::len).max().unwrap_or_default();
    let column = |index: usize| body.iter().map(move |row| row.get(index).cloned().unwrap_or_default());
    let firsts: Vec<String> = column(0).collect();
    let named_esp =
        names.and_then(<[String]>::first).is_some_and(|name| is_esp_word(name) && !name.to_lowercase().contains("tap"));
    let guessed = || {
        looks_like_esps(firsts.iter().map(String::as_str))
            || named_esp && names.is_some_and(|names| names.len() == width)
    };
    let has_esps = width > 1 && said.unwrap_or_else(guessed);
    let skip = usize::from(has_esps);
    let shift = names.map_or(0, |names| width.saturating_sub(names.len()));
    if has_esps {
        pasted.esps = firsts;
    }
    let mut tap_name = None;
    for index in skip..width {
        let name = names.and_then(|names| names.get(index.checked_sub(shift)?)).map(|text| text.trim());
        let block = name.and_then(numbers::block_of);
        let bare = name.map(numbers::without_units).filter(|name| !name.is_empty());
        if bare.is_some() || block.is_none() {
            tap_name = bare;
        }
        pasted.columns.push(PastedColumn { name: tap_name.clone(), block, cells: column(index).collect() });
    }
    has_esps
}

#[cfg(test)]
mod tests;
