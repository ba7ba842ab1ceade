//! Numbers and units as pages print them.

use crate::model::typed::table_draft::Block;
use crate::units::text::{self, Comma};

/// The number in a text, whatever its separators; nothing when it is none.
pub(in crate::model::typed) fn value(text: &str) -> Option<f64> {
    text::number(&joined(text), Comma::Thousands).ok().map(|number| number.value)
}

/// The number in a text whose comma is a decimal one.
pub(in crate::model::typed) fn small_value(text: &str) -> Option<f64> {
    text::number(&joined(text), Comma::Decimal).ok().map(|number| number.value)
}

/// True for a number with nothing behind it.
pub(in crate::model::typed) fn is_bare(text: &str) -> bool {
    text::number(&joined(text), Comma::Thousands).is_ok_and(|number| number.unit.is_empty())
}

/// True for a number with nothing but a unit behind it.
pub(in crate::model::typed) fn stands_alone(text: &str) -> bool {
    let is_of_unit = |letter: char| letter.is_alphabetic() || matches!(letter, '/' | '³' | '"' | '″');
    text::number(&joined(text), Comma::Thousands).is_ok_and(|number| number.unit.chars().all(is_of_unit))
}

/// True where the commas of some texts can only be decimal ones: one stands before other than three digits, or behind a nought, and none has a point behind it.
pub(in crate::model::typed) fn have_decimal_comma<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
    let mut is_decimal = false;
    for text in texts.map(joined) {
        let number = text.split(char::is_whitespace).next().unwrap_or_default();
        let Some((whole, behind)) = number.split_once(',') else {
            continue;
        };
        let digits = |part: &str| part.chars().all(|letter| letter.is_ascii_digit());
        if behind.contains([',', '.']) {
            return false;
        }
        let before = whole.trim_start_matches(['-', '−', '–', '—', '+']);
        let is_number = digits(&before.replace('.', "")) && digits(behind) && !behind.is_empty();
        is_decimal |= is_number && (behind.len() != 3 || before.is_empty() || before == "0" || before.contains('.'));
    }
    is_decimal
}

/// A text without blanks around it, and without quotes around the whole of it.
pub(in crate::model::typed) fn unquoted(text: &str) -> &str {
    let text = text.trim();
    text.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).map_or(text, str::trim)
}

/// A text without the blanks and quotes around it and between groups of three digits.
pub(in crate::model::typed) fn joined(text: &str) -> String {
    let text = unquoted(text);
    let groups: Vec<&str> = text.split([' ', '\u{a0}', '\u{202f}', '\'', '’']).collect();
    let digits = |group: &&str| !group.is_empty() && group.chars().all(|letter| letter.is_ascii_digit());
    let is_grouped = groups.len() > 1
        && groups[0].len() <= 3
        && groups.iter().all(digits)
        && groups[1..].iter().all(|group| group.len() == 3);
    if is_grouped { groups.concat() } else { text.to_owned() }
}

/// True for a text that is nothing but a unit, or empty.
pub(in crate::model::typed) fn is_unit(text: &str) -> bool {
    let small = text.trim().to_lowercase();
    without_units(&small).is_empty()
}

/// The grid that a heading names.
pub(in crate::model::typed) fn block_of(heading: &str) -> Option<Block> {
    // The first letter of water is no watt.
    let small = heading.to_lowercase().replace("w.c", " ").replace("w.g", " ");
    let mut words = small.split(|letter: char| !letter.is_alphanumeric() && letter != '/' && letter != '³');
    words.find_map(|word| match word {
        "w" | "watt" | "watts" | "power" => Some(Block::Watts),
        "rpm" | "r/min" => Some(Block::Rpm),
        "cfm" | "scfm" | "l/s" | "m3/h" | "m³/h" | "airflow" => Some(Block::Airflow),
        _ => None,
    })
}

/// A heading without units and the word for taps: `Tap 1 (cfm)` is `1`, `Low` stays.
pub(in crate::model::typed) fn without_units(heading: &str) -> String {
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
pub(in crate::model::typed) fn is_named_tap(text: &str) -> bool {
    let small = text.to_lowercase();
    let named = |word: &str| small.strip_prefix(word).is_some_and(|rest| rest.chars().any(char::is_alphanumeric));
    ["tap", "speed", "setting"].into_iter().any(named)
}
