//! Lines and columns of a text: tabs, semicolons, bars, commas, runs of blanks or single blanks.

use csv::{ReaderBuilder, StringRecord};

use crate::model::typed::table_paste::numbers;

/// One line of a text that has anything in it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::model::typed) struct Line {
    /// Where it stands in the text, counted from 1.
    pub(in crate::model::typed) number: usize,
    /// Its cells; lines may differ in length.
    pub(in crate::model::typed) cells: Vec<String>,
}

impl Line {
    /// How many of its cells have anything in them.
    pub(in crate::model::typed) fn filled(&self) -> usize {
        self.cells.iter().filter(|cell| !cell.is_empty()).count()
    }
}

/// What stands between two columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// A tab.
    Tab,
    /// A semicolon.
    Semicolon,
    /// A bar.
    Bar,
    /// A comma.
    Comma,
    /// Two blanks or more.
    Blanks,
    /// One blank.
    Blank,
}

impl Separator {
    /// Every separator, in the order in which a guess prefers them.
    pub const ALL: [Self; 6] = [Self::Tab, Self::Semicolon, Self::Bar, Self::Comma, Self::Blanks, Self::Blank];

    /// What a person calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tab => "tabs",
            Self::Semicolon => "semicolons",
            Self::Bar => "bars",
            Self::Comma => "commas",
            Self::Blanks => "two blanks or more",
            Self::Blank => "single blanks",
        }
    }

    /// The letter, where it is one.
    const fn letter(self) -> Option<u8> {
        match self {
            Self::Tab => Some(b'\t'),
            Self::Semicolon => Some(b';'),
            Self::Bar => Some(b'|'),
            Self::Comma => Some(b','),
            Self::Blanks | Self::Blank => None,
        }
    }
}

/// The lines of a text that have anything but a rule in them.
pub(in crate::model::typed) fn lines(text: &str, separator: Separator) -> Vec<Line> {
    let lines = match separator.letter() {
        Some(letter) => parted(text, letter),
        None => blank_parted(text, separator),
    };
    let is_something = |line: &Line| line.cells.iter().any(|cell| !is_rule(cell));
    lines.into_iter().map(|line| without_bars(line, separator)).filter(is_something).collect()
}

/// Lines as spreadsheets write them: what stands in double quotes is one cell, unless one of them stands for inches.
fn parted(text: &str, letter: u8) -> Vec<Line> {
    let is_quoted = text.matches('"').count().is_multiple_of(2);
    let mut form = ReaderBuilder::new();
    form.delimiter(letter).flexible(true).has_headers(false).quoting(is_quoted);
    let mut reader = form.from_reader(text.as_bytes());
    let mut place = Counted::default();
    let line = |record: StringRecord| Line {
        number: place.line_of(text, record.position().map_or(0, |at| usize::try_from(at.byte()).unwrap_or_default())),
        cells: record.iter().map(|cell| cell.trim().to_owned()).collect(),
    };
    // A text in memory that is text throughout cannot be refused.
    reader.records().filter_map(Result::ok).map(line).collect()
}

/// How many lines end before a place of a text.
#[derive(Default)]
struct Counted {
    bytes: usize,
    ends: usize,
}

impl Counted {
    /// The number of the line that begins at a place, or behind the empty lines that begin there; places come in order.
    fn line_of(&mut self, text: &str, begins: usize) -> usize {
        let bytes = text.as_bytes();
        let is_counted = |at: &usize| *at < begins || matches!(bytes[*at], b'\r' | b'\n');
        for at in (self.bytes..bytes.len()).take_while(is_counted) {
            // The two letters that end a line on some systems are one end.
            let is_end = bytes[at] == b'\n' || bytes[at] == b'\r' && bytes.get(at + 1) != Some(&b'\n');
            self.ends += usize::from(is_end);
            self.bytes = at + 1;
        }
        self.ends + 1
    }
}

/// A line drawn between bars begins and ends with one.
fn without_bars(mut line: Line, separator: Separator) -> Line {
    if separator == Separator::Bar {
        if line.cells.first().is_some_and(String::is_empty) {
            line.cells.remove(0);
        }
        line.cells.pop_if(|cell| cell.is_empty());
    }
    line
}

fn blank_parted(text: &str, separator: Separator) -> Vec<Line> {
    let owned = |line: &str| match separator {
        Separator::Blanks => {
            line.trim().split("  ").map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned).collect()
        }
        Separator::Tab | Separator::Semicolon | Separator::Bar | Separator::Comma | Separator::Blank => words(line),
    };
    let text = text.replace("\r\n", "\n");
    text.split(['\r', '\n']).enumerate().map(|(index, line)| Line { number: index + 1, cells: owned(line) }).collect()
}

/// True for an empty cell or one of a ruled line.
fn is_rule(cell: &str) -> bool {
    cell.chars().all(|letter| matches!(letter, '-' | '=' | '_' | '+' | ' ' | ':')) && cell.len() != 1 || cell.is_empty()
}

/// Letters from the beginning of a text by which its form is guessed.
const GUESSED_BY: usize = 50_000;

/// What stands between the columns of a text: that by which most numbers stand alone in their cells.
pub(in crate::model::typed) fn separator(text: &str) -> Separator {
    let text = text.char_indices().nth(GUESSED_BY).map_or(text, |(end, _)| &text[..end]);
    let by_letter = Separator::ALL.into_iter().filter(|separator| separator.letter().is_some());
    let scored = by_letter.map(|separator| (separator, score(text, separator)));
    let best = scored.fold(
        None,
        |best: Option<(Separator, f64)>, next| {
            if best.is_none_or(|(_, score)| next.1 > score) { Some(next) } else { best }
        },
    );
    match best {
        Some((separator, score)) if score >= LEAST_SCORE || score >= 1.0 && is_even(&lines(text, separator)) => {
            separator
        }
        _ if most_lines(text, |line| line.trim().contains("  ")) => Separator::Blanks,
        _ if text.contains('\t') => Separator::Tab,
        _ => Separator::Blank,
    }
}

/// Numbers a line from which a letter is taken for what parts columns.
const LEAST_SCORE: f64 = 1.5;

/// Numbers that stand alone in cells, for each line that has any.
fn score(text: &str, separator: Separator) -> f64 {
    let numbers = |line: &Line| line.cells.iter().filter(|cell| numbers::stands_alone(cell)).count();
    let counts: Vec<usize> = lines(text, separator)
        .iter()
        .filter(|line| line.cells.len() > 1)
        .map(numbers)
        .filter(|count| *count > 0)
        .collect();
    counts.iter().sum::<usize>() as f64 / counts.len().max(1) as f64
}

/// True for lines of one width, none of whose cells holds two numbers with a blank between them.
fn is_even(lines: &[Line]) -> bool {
    let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let holds_two = |cell: &String| {
        cell.match_indices(' ').any(|(at, _)| {
            let (before, behind) = (cell[..at].chars().next_back(), cell[at + 1..].chars().next());
            digit(before) && digit(behind)
        })
    };
    let width = lines.first().map_or(0, |line| line.cells.len());
    width > 2 && lines.iter().all(|line| line.cells.len() == width && !line.cells.iter().any(holds_two))
}

fn most_lines(text: &str, test: impl Fn(&str) -> bool) -> bool {
    let numeric: Vec<&str> =
        text.split(['\r', '\n']).filter(|line| line.contains(|letter: char| letter.is_ascii_digit())).collect();
    numeric.iter().filter(|line| test(line)).count() * 2 > numeric.len()
}

/// Words between single blanks; `Tap 1` stays together, and so does a unit with its heading.
fn words(line: &str) -> Vec<String> {
    let mut cells: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        let belongs = cells.last().is_some_and(|before| is_tap_word(before) || is_part_of_heading(before, word));
        match cells.last_mut() {
            Some(before) if belongs => {
                before.push(' ');
                before.push_str(word);
            }
            _ => cells.push(word.to_owned()),
        }
    }
    cells
}

fn is_tap_word(text: &str) -> bool {
    matches!(text.to_lowercase().as_str(), "tap" | "speed" | "setting")
}

/// Units and brackets behind a word, `in. w.c.`, `not allowed`, `not given`.
fn is_part_of_heading(before: &str, word: &str) -> bool {
    let (before_small, small) = (before.to_lowercase(), word.to_lowercase());
    let before_is_word = numbers::value(before).is_none();
    let is_unit = matches!(small.as_str(), "w.c." | "wc" | "w.g." | "w.c" | "in." | "pa" | "static" | "pressure");
    let opens = word.starts_with(['(', '[']);
    let is_open = (before.contains('(') && !before.contains(')')) || (before.contains('[') && !before.contains(']'));
    let is_gap = before_small == "not" && matches!(small.as_str(), "allowed" | "given");
    (before_is_word && (is_unit || opens)) || is_open || is_gap
}
