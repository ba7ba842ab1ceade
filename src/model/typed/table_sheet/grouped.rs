//! Which lines of a sheet belong to which machine.

use crate::model::typed::table_draft::Block;
use crate::model::typed::table_paste::grid::Line;
use crate::model::typed::table_paste::{heads_of, numbers};
use crate::model::typed::table_sheet::title::Title;
use crate::model::typed::table_sheet::{Became, Taking};
use crate::units::text::cut;

/// The lines of one table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Group {
    /// The machine's name, where the sheet has one.
    pub(super) name: String,
    /// Its lines, by their place among all that have anything in them: headings first.
    pub(super) rows: Vec<usize>,
    /// What its title says that it gives.
    pub(super) block: Option<Block>,
    /// Units that its titles name.
    pub(super) units: String,
    /// True for what gives more of the machine before it.
    pub(super) is_more: bool,
}

/// The column whose heading says that it names machines.
pub(super) fn blower_column(lines: &[Line]) -> Option<usize> {
    const WORDS: [&str; 9] =
        ["model", "blower", "machine", "furnace", "air handler", "equipment", "model number", "model no.", "unit"];
    let of = |line: &Line| line.cells.iter().position(|cell| WORDS.contains(&cell.to_lowercase().as_str()));
    lines.iter().take(HEADS_LOOKED_AT).filter(|line| line.filled() > 2).find_map(of)
}

/// Lines among which a heading that names machines is looked for.
const HEADS_LOOKED_AT: usize = 10;

/// One group a name in a column; an empty place holds the name above it.
pub(super) fn by_column(taking: &mut Taking<'_>, column: usize) -> Vec<Group> {
    let rest = |line: &Line| {
        let cells = line.cells.iter().enumerate();
        cells.filter(|(index, _)| *index != column).map(|(_, cell)| cell.clone()).collect::<Vec<_>>()
    };
    let rows: Vec<Vec<String>> = taking.lines.iter().map(rest).collect();
    let heads = taking.choices.heads.unwrap_or_else(|| heads_of(&rows)).min(rows.len());
    let mut groups: Vec<Group> = Vec::new();
    for row in 0..taking.lines.len() {
        let cell = taking.lines[row].cells.get(column).map_or("", String::as_str);
        taking.mark(row, column, if row < heads { Became::Heading } else { Became::Blower });
        if row < heads {
            continue;
        }
        let named = groups.iter().position(|group| if cell.is_empty() { false } else { group.name == cell });
        let place = match (named, groups.len()) {
            (Some(place), _) => place,
            (None, count) if cell.is_empty() && count > 0 => count - 1,
            (None, count) => {
                groups.push(Group { name: cell.to_owned(), rows: (0..heads).collect(), ..Group::default() });
                count
            }
        };
        groups[place].rows.push(row);
    }
    groups
}

/// One group a block: blocks are parted by empty lines or begin with a title.
pub(super) fn by_blocks(taking: &mut Taking<'_>) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let mut waiting: Vec<usize> = Vec::new();
    for segment in segments(taking.lines) {
        waiting.extend(segment);
        if !waiting.iter().any(|row| has_numbers(&taking.lines[*row])) {
            continue;
        }
        let rows = std::mem::take(&mut waiting);
        let group = group_of(taking, &rows);
        let cells: Vec<Vec<String>> = group.rows.iter().map(|row| taking.lines[*row].cells.clone()).collect();
        match groups.last_mut() {
            Some(before) if group.name.is_empty() && group.block.is_none() && heads_of(&cells) == 0 => {
                before.rows.extend(group.rows);
            }
            before => {
                let is_of = |before: &Group| group.name.is_empty() || group.name == before.name;
                let is_more = group.block.is_some() && before.is_some_and(|before| is_of(before));
                groups.push(Group { is_more, ..group });
            }
        }
    }
    for row in waiting {
        let text = taking.lines[row].cells.join(" ");
        taking.say(format!("Line {} (\"{}\") is left out", taking.lines[row].number, cut(text.trim())));
    }
    groups
}

/// Takes the titles off the lines of a block: the first names the machine, one that is nothing but a unit says what the block gives.
fn group_of(taking: &mut Taking<'_>, rows: &[usize]) -> Group {
    let mut group = Group::default();
    for row in rows {
        let line = &taking.lines[*row];
        let is_over_all = group.rows.is_empty();
        if let Some(block) = block_title(line).filter(|_| is_over_all) {
            group.block = Some(block);
            taking.mark_line(*row, Became::Heading);
        } else if is_title(line) && is_over_all {
            let text = line.cells.iter().find(|cell| !cell.is_empty()).map_or("", String::as_str);
            let title = Title::of(text);
            let is_name = group.name.is_empty() && !title.name.is_empty();
            if is_name {
                group.name = title.name;
            }
            group.block = group.block.or(title.block);
            group.units = [group.units.as_str(), &title.units].join(" ");
            taking.mark_line(*row, if is_name { Became::Blower } else { Became::Heading });
        } else {
            group.rows.push(*row);
        }
    }
    group
}

/// Runs of lines without an empty one between them and without a title within.
fn segments(lines: &[Line]) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> = Vec::new();
    let mut has_body = false;
    let mut next_line = 0;
    for (row, line) in lines.iter().enumerate() {
        let is_behind_gap = line.number > next_line;
        let begins = is_behind_gap || has_body && (is_title(line) || block_title(line).is_some());
        if begins || found.is_empty() {
            found.push(Vec::new());
            has_body = false;
        }
        has_body |= has_numbers(line);
        next_line = line.number + 1 + line.cells.iter().map(|cell| cell.matches('\n').count()).sum::<usize>();
        if let Some(last) = found.last_mut() {
            last.push(row);
        }
    }
    found
}

fn has_numbers(line: &Line) -> bool {
    line.cells.iter().any(|cell| numbers::is_bare(cell))
}

/// A text alone at the beginning of its line that is no unit.
fn is_title(line: &Line) -> bool {
    let text = line.cells.first().filter(|text| !text.is_empty());
    line.filled() == 1 && text.is_some_and(|text| !numbers::is_unit(text) && !numbers::is_bare(text))
}

/// What a title that is nothing but a unit says.
fn block_title(line: &Line) -> Option<Block> {
    let text = line.cells.iter().find(|cell| !cell.is_empty()).filter(|_| line.filled() == 1)?;
    numbers::block_of(text).filter(|_| numbers::is_unit(text))
}
