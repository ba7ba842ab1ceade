//! Finding tables as one types: every word must occur, the best matches first.

use crate::model::facts::blower::BlowerTable;
use crate::units::Capacity;

/// What an entry is found by, in small letters, worked out once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Key {
    /// The name, a line's end, and the rest; no word goes over it.
    text: String,
    name_end: usize,
}

impl Key {
    pub(super) fn of(table: &BlowerTable, folder: &str) -> Self {
        let capacity = table.cooling.map(capacity_words).unwrap_or_default();
        let name = table.name.to_lowercase();
        let rest = format!("{} {} {capacity} {folder}", table.kind.name(), table.motor.name());
        Self { text: format!("{name}\n{}", rest.to_lowercase()), name_end: name.len() }
    }

    fn name(&self) -> &str {
        &self.text[..self.name_end]
    }

    /// How well the words fit, the best lowest; none when a word does not occur.
    fn rank(&self, words: &[&str], phrase: &str) -> Option<u8> {
        if !words.iter().all(|word| self.text.contains(word)) {
            return None;
        }
        let first = words.first().copied().unwrap_or_default();
        let name_words = || self.name().split(|letter: char| !letter.is_alphanumeric());
        Some(match () {
            () if self.name().starts_with(phrase) => 0,
            () if self.name().starts_with(first) => 1,
            () if name_words().any(|word| word.starts_with(first)) => 2,
            () => 3,
        })
    }
}

/// Indices of the keys that hold every word, best first, equals in their own order.
pub(super) fn matches<'a>(keys: impl Iterator<Item = &'a Key>, words: &str) -> Vec<usize> {
    let small = words.to_lowercase();
    let words: Vec<&str> = small.split_whitespace().collect();
    let phrase = words.join(" ");
    let mut found: Vec<(u8, usize)> =
        keys.enumerate().filter_map(|(index, key)| Some((key.rank(&words, &phrase)?, index))).collect();
    found.sort_unstable();
    found.into_iter().map(|(_, index)| index).collect()
}

/// The ways in which a person may type a cooling capacity: `3.5 ton`, `3½`, `42 kbtu`.
fn capacity_words(cooling: Capacity) -> String {
    let tons = cooling.tons();
    let kbtu = tons * 12.0;
    format!("{tons} ton tons {tons}-ton {}{} {kbtu} {kbtu}kbtu kbtu/h", whole_tons(tons), fraction_sign(tons))
}

fn whole_tons(tons: f64) -> String {
    let whole = tons.trunc();
    if whole == 0.0 { String::new() } else { whole.to_string() }
}

/// The quarter, half or three quarters behind a whole number of tons.
fn fraction_sign(tons: f64) -> &'static str {
    let is_near = |fraction: f64| (tons.fract() - fraction).abs() < 0.01;
    match () {
        () if is_near(0.25) => "¼",
        () if is_near(0.5) => "½",
        () if is_near(0.75) => "¾",
        () => "",
    }
}
