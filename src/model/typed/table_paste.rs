//! A block of text from a spreadsheet or a printed page as the columns of a blower table.
//!
//! Nothing is dropped in silence: a text that is no number stays in its cell, where reading the draft names it, and what was guessed is said in [`Pasted::remarks`].

mod grid;
mod numbers;
mod place;
mod tidy;

use crate::model::typed::table_draft::{AirflowUnit, Block, PressureUnit};
use crate::units::text::cut;
use grid::Grid;

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

/// Most of a bare static pressure in inches of water that a table's first column would have.
const MOST_INCHES: f64 = 2.5;

/// True when a text is more than one value: it has several lines or a tab.
pub fn is_block(text: &str) -> bool {
    let text = text.trim_matches(['\r', '\n', ' ']);
    text.contains(['\n', '\t', '\r'])
}

/// Reads a pasted text.
pub fn parse(text: &str) -> Pasted {
    let mut pasted = Pasted::default();
    let grid = Grid::of(text);
    let (heads, mut body) = split_heads(grid.rows);
    name_units(&heads, &body, &mut pasted);
    let names = names_row(heads, &body, &mut pasted);
    let names = match turned(names.as_deref(), &body) {
        Some((names, turned_body)) => {
            pasted.remarks.push("The static pressures run across, so the table was turned".to_owned());
            body = turned_body;
            names
        }
        None => names,
    };
    ragged(&body, &mut pasted);
    columns(names.as_deref(), &body, &mut pasted);
    tidy::tidy(&mut pasted);
    pasted
}

/// Leading lines that are no data, and the rest.
fn split_heads(rows: Vec<Vec<String>>) -> (Vec<Vec<String>>, Vec<Vec<String>>) {
    let is_head = |row: &Vec<String>| {
        let first = row.first().map_or("", |text| text.trim());
        let has_numbers = row.iter().any(|text| numbers::value(text).is_some());
        let has_letters = row.iter().any(|text| text.chars().any(char::is_alphabetic));
        // In a table that is to be turned a tap's row has a name and then its numbers.
        let may_hold_numbers = first.is_empty() || is_esp_word(first) && !numbers::is_named_tap(first);
        numbers::value(first).is_none() && (has_letters || first.is_empty()) && (!has_numbers || may_hold_numbers)
    };
    let count = rows.iter().take_while(|row| is_head(row)).count();
    let mut heads = rows;
    let body = heads.split_off(count);
    (heads, body)
}

/// True for what a heading over static pressures says.
fn is_esp_word(text: &str) -> bool {
    let small = text.to_lowercase();
    let words =
        ["esp", "static", "pressure", "w.c", "wc", "w.g", "wg", "e.s.p", "inch", "in.", "tap", "speed", "setting"];
    small.trim() == "pa"
        || small.contains("(pa")
        || small.contains(" pa")
        || words.iter().any(|word| small.contains(word))
}

/// Units named in the heading lines, or behind numbers.
fn name_units(heads: &[Vec<String>], body: &[Vec<String>], pasted: &mut Pasted) {
    let head_text = heads.iter().flatten().cloned().collect::<Vec<_>>().join(" ").to_lowercase();
    let firsts = body.iter().flatten().filter(|text| numbers::value(text).is_none()).cloned().collect::<Vec<_>>();
    let all = format!(" {head_text} {} ", firsts.join(" ").to_lowercase());
    let words: Vec<&str> = all
        .split(|letter: char| letter.is_whitespace() || matches!(letter, '(' | ')' | '[' | ']' | ',' | ';' | ':'))
        .collect();
    let has = |wanted: &[&str]| words.iter().any(|word| wanted.contains(word));
    pasted.pressure_unit = match () {
        () if has(&["pa", "pascal", "pascals"]) => Some(PressureUnit::Pascals),
        () if has(&[
            "w.c.", "wc", "w.c", "wg", "w.g.", "w.g", "inwc", "inh2o", "\"wc", "\"w.c.", "in.w.c.", "iwc", "inches",
        ]) =>
        {
            Some(PressureUnit::InchesOfWater)
        }
        () => None,
    };
    pasted.airflow_unit = match () {
        () if has(&["cfm", "scfm", "ft3/min", "ft³/min"]) => Some(AirflowUnit::Cfm),
        () if has(&["l/s", "lps"]) => Some(AirflowUnit::LitresPerSecond),
        () if has(&["m3/h", "m³/h", "cmh"]) => Some(AirflowUnit::CubicMetresPerHour),
        () => None,
    };
}

/// The heading line that names the columns; the others are said when they are not understood.
fn names_row(heads: Vec<Vec<String>>, body: &[Vec<String>], pasted: &mut Pasted) -> Option<Vec<String>> {
    let width = body.iter().map(Vec::len).max().unwrap_or_default();
    let mut names: Option<Vec<String>> = None;
    for head in heads {
        let filled = head.iter().filter(|text| !text.trim().is_empty()).count();
        let only_units = head.iter().all(|text| numbers::is_unit(text));
        if only_units {
            continue;
        }
        let fits = filled >= 2 && (head.len() == width || head.len() + 1 == width) || (width == 1 && filled == 1);
        if fits {
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
    names
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
                () if last.is_empty() => below.to_owned(),
                () => format!("{last} {below}"),
            }
        })
        .collect()
}

/// Names and body of a table whose static pressures run across.
type Turned = (Option<Vec<String>>, Vec<Vec<String>>);

/// Turns a table whose first row is the static pressures.
fn turned(names: Option<&[String]>, body: &[Vec<String>]) -> Option<Turned> {
    let column: Vec<&String> = body.iter().filter_map(|row| row.first()).collect();
    if looks_like_esps(column.iter().map(|text| text.as_str())) {
        return None;
    }
    let (esps, rows): (&[String], &[Vec<String>]) = match names {
        Some(names) => (names, body),
        None => body.split_first().map(|(first, rest)| (first.as_slice(), rest))?,
    };
    let width = rows.iter().map(Vec::len).max()?;
    let first_is_label = esps.first().is_some_and(|text| numbers::value(text).is_none());
    let numbers_across = if first_is_label { &esps[1..] } else { esps };
    if numbers_across.len() < 2 || !looks_like_esps(numbers_across.iter().map(String::as_str)) {
        return None;
    }
    let has_names = width == numbers_across.len() + 1;
    let skip = usize::from(has_names);
    let turned_body = numbers_across.iter().enumerate().map(|(index, esp)| {
        let cells = rows.iter().map(|row| row.get(index + skip).cloned().unwrap_or_default());
        std::iter::once(esp.clone()).chain(cells).collect()
    });
    let names = has_names.then(|| {
        let of_rows = rows.iter().map(|row| row.first().cloned().unwrap_or_default());
        std::iter::once("ESP".to_owned()).chain(of_rows).collect()
    });
    Some((names, turned_body.collect()))
}

/// True for numbers that rise from row to row and are small enough for inches, or look like pascals.
fn looks_like_esps<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
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

fn columns(names: Option<&[String]>, body: &[Vec<String>], pasted: &mut Pasted) {
    let width = body.iter().map(Vec::len).max().unwrap_or_default();
    let column = |index: usize| body.iter().map(move |row| row.get(index).cloned().unwrap_or_default());
    let firsts: Vec<String> = column(0).collect();
    let named_esp =
        names.and_then(<[String]>::first).is_some_and(|name| is_esp_word(name) && !name.to_lowercase().contains("tap"));
    let has_esps = width > 1
        && (looks_like_esps(firsts.iter().map(String::as_str))
            || named_esp && names.is_some_and(|names| names.len() == width));
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
}

#[cfg(test)]
mod tests;
