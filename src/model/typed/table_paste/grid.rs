//! Lines and columns of a text: tabs, semicolons, commas, runs of blanks or single blanks.

use crate::model::typed::table_paste::numbers;

/// The texts of a block, row by row; rows may differ in length.
#[derive(Debug)]
pub(super) struct Grid {
    pub(super) rows: Vec<Vec<String>>,
}

/// What stands between two columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Separator {
    Tab,
    Semicolon,
    Bar,
    Comma,
    Blanks,
    Blank,
}

impl Grid {
    pub(super) fn of(text: &str) -> Self {
        let lines: Vec<&str> = text.split(['\r', '\n']).filter(|line| !line.trim().is_empty()).collect();
        let separator = separator(&lines);
        let rows = lines.iter().map(|line| cells(line, separator)).filter(|row| row.iter().any(|cell| !is_rule(cell)));
        Self { rows: rows.collect() }
    }
}

/// True for an empty cell or one of a ruled line.
fn is_rule(cell: &str) -> bool {
    cell.chars().all(|letter| matches!(letter, '-' | '=' | '_' | '+' | ' ')) && cell.len() != 1 || cell.is_empty()
}

fn separator(lines: &[&str]) -> Separator {
    let any = |mark: char| lines.iter().any(|line| line.contains(mark));
    let most = |test: &dyn Fn(&str) -> bool| {
        let numeric: Vec<&&str> =
            lines.iter().filter(|line| line.contains(|letter: char| letter.is_ascii_digit())).collect();
        let hits = numeric.iter().filter(|line| test(line)).count();
        hits * 2 > numeric.len()
    };
    match () {
        () if any('\t') => Separator::Tab,
        () if any(';') => Separator::Semicolon,
        () if most(&|line| line.matches('|').count() > 1) => Separator::Bar,
        () if most(&is_comma_separated) => Separator::Comma,
        () if most(&|line| line.trim().contains("  ")) => Separator::Blanks,
        () => Separator::Blank,
    }
}

/// Commas stand between columns when each is followed by a blank, or when the line has no blanks at all.
fn is_comma_separated(line: &str) -> bool {
    let line = line.trim();
    let commas = line.matches(',').count();
    if commas == 0 {
        return false;
    }
    let without_blanks = !line.contains(char::is_whitespace);
    let lone_decimal = commas == 1 && numbers::value(line).is_some();
    line.matches(", ").count() == commas || without_blanks && !lone_decimal || line.contains("\",\"")
}

fn cells(line: &str, separator: Separator) -> Vec<String> {
    let owned = |text: &str| text.trim().to_owned();
    match separator {
        Separator::Tab => line.split('\t').map(owned).collect(),
        Separator::Semicolon => line.split(';').map(owned).collect(),
        Separator::Bar => line.trim().trim_matches('|').split('|').map(owned).collect(),
        Separator::Comma => quoted(line),
        Separator::Blanks => {
            line.trim().split("  ").map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned).collect()
        }
        Separator::Blank => words(line),
    }
}

/// Comma-separated cells; a comma between double quotes belongs to its cell.
fn quoted(line: &str) -> Vec<String> {
    let (mut cells, mut cell, mut inside) = (Vec::new(), String::new(), false);
    for letter in line.chars() {
        match letter {
            '"' => inside = !inside,
            ',' if !inside => cells.push(std::mem::take(&mut cell).trim().to_owned()),
            other => cell.push(other),
        }
    }
    cells.push(cell.trim().to_owned());
    cells
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
