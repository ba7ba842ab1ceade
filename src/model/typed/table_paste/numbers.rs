//! Numbers and units as pages print them.

use crate::model::typed::table_draft::{Block, PressureUnit};
use crate::model::typed::table_paste::Pasted;
use crate::units::text::{self, Comma};

/// The number in a text, whatever its separators; nothing when it is none.
pub(super) fn value(text: &str) -> Option<f64> {
    text::number(&joined(text), Comma::Thousands).ok().map(|number| number.value)
}

/// The number in a text whose comma is a decimal one.
pub(super) fn small_value(text: &str) -> Option<f64> {
    text::number(&joined(text), Comma::Decimal).ok().map(|number| number.value)
}

/// A text without the blanks and quotes around it and between groups of three digits.
fn joined(text: &str) -> String {
    let text = text.trim().trim_matches('"').trim();
    let groups: Vec<&str> = text.split([' ', '\u{a0}', '\u{202f}', '\'', '’']).collect();
    let digits = |group: &&str| !group.is_empty() && group.chars().all(|letter| letter.is_ascii_digit());
    let is_grouped = groups.len() > 1
        && groups[0].len() <= 3
        && groups.iter().all(digits)
        && groups[1..].iter().all(|group| group.len() == 3);
    if is_grouped { groups.concat() } else { text.to_owned() }
}

/// True for a text that is nothing but a unit, or empty.
pub(super) fn is_unit(text: &str) -> bool {
    let small = text.trim().to_lowercase();
    without_units(&small).is_empty()
}

/// The grid that a heading names.
pub(super) fn block_of(heading: &str) -> Option<Block> {
    let small = heading.to_lowercase();
    let mut words = small.split(|letter: char| !letter.is_alphanumeric() && letter != '/' && letter != '³');
    words.find_map(|word| match word {
        "w" | "watt" | "watts" | "power" => Some(Block::Watts),
        "rpm" | "r/min" => Some(Block::Rpm),
        "cfm" | "scfm" | "l/s" | "m3/h" | "m³/h" | "airflow" => Some(Block::Airflow),
        _ => None,
    })
}

/// A heading without units and the word for taps: `Tap 1 (cfm)` is `1`, `Low` stays.
pub(super) fn without_units(heading: &str) -> String {
    const UNITS: [&str; 25] = [
        "cfm", "scfm", "l/s", "lps", "m3/h", "m³/h", "cmh", "w", "watt", "watts", "power", "rpm", "r/min", "airflow",
        "in", "in.", "w.c.", "w.c", "wc", "w.g.", "wg", "pa", "\"", "inches", "in.w.c.",
    ];
    let kept: Vec<&str> = heading
        .split(|letter: char| letter.is_whitespace() || matches!(letter, '(' | ')' | '[' | ']' | ','))
        .filter(|word| !word.is_empty() && !UNITS.contains(&word.to_lowercase().as_str()))
        .collect();
    let is_tap_word = |word: &str| matches!(word.to_lowercase().as_str(), "tap" | "speed" | "setting");
    match kept[..] {
        [first, ..] if kept.len() > 1 && is_tap_word(first) => kept[1..].join(" "),
        _ => kept.join(" "),
    }
}

/// True for `Tap 1`, not for `Tap` alone.
pub(super) fn is_named_tap(text: &str) -> bool {
    let small = text.to_lowercase();
    let named = |word: &str| small.strip_prefix(word).is_some_and(|rest| rest.chars().any(char::is_alphanumeric));
    ["tap", "speed", "setting"].into_iter().any(named)
}

/// Brings every number to a plain point and no thousands, and every sign for no value to an empty cell.
pub(super) fn tidy(pasted: &mut Pasted) {
    let decimal_comma = pasted.esps.iter().any(|esp| esp.contains(','));
    for esp in &mut pasted.esps {
        *esp = plain(esp, Comma::Decimal);
    }
    for column in &mut pasted.columns {
        for cell in &mut column.cells {
            *cell = tidy_cell(cell, decimal_comma);
        }
    }
    guess_pascals(pasted);
}

/// Static pressures without a unit that no table has in inches.
fn guess_pascals(pasted: &mut Pasted) {
    let most = pasted.esps.iter().filter_map(|esp| small_value(esp)).fold(0.0, f64::max);
    if pasted.pressure_unit.is_none() && most >= 30.0 {
        pasted.pressure_unit = Some(PressureUnit::Pascals);
        pasted.remarks.push(format!("Static pressures up to {most} were taken as Pa"));
    }
}

fn tidy_cell(cell: &str, decimal_comma: bool) -> String {
    let text = cell.trim().trim_matches('"').trim();
    if crate::model::typed::table_draft::is_no_value(text) {
        return String::new();
    }
    let groups: Vec<&str> = text.split('.').collect();
    let point_groups = groups.len() > 1
        && groups.iter().all(|group| !group.is_empty() && group.chars().all(|letter| letter.is_ascii_digit()))
        && groups[0].len() <= 3
        && groups[1..].iter().all(|group| group.len() == 3);
    if point_groups && (decimal_comma || groups.len() > 2) {
        return groups.concat();
    }
    plain(text, Comma::Thousands)
}

/// A bare number with a plain point; any other text as it is.
fn plain(text: &str, comma: Comma) -> String {
    let joined = joined(text);
    match text::number(&joined, comma) {
        Ok(number) if number.unit.is_empty() => {
            let keeps_its_form = joined.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
            if keeps_its_form {
                joined
            } else if comma == Comma::Decimal {
                joined.replace(',', ".").replace(['−', '–', '—'], "-")
            } else {
                number.value.to_string()
            }
        }
        _ => text.trim().trim_matches('"').trim().to_owned(),
    }
}
