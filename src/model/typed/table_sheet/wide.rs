//! Tables whose taps or static pressures run across.

use std::collections::BTreeSet;

use crate::model::typed::table_draft::Block;
use crate::model::typed::table_paste::{
    Across, Pasted, Said, Shape, heads_of, is_esp_word, looks_like_esps, parse_rows,
};
use crate::model::typed::table_paste::{numbers, stands_across};
use crate::model::typed::table_sheet::grouped::Group;
use crate::model::typed::table_sheet::{Became, Lane, SheetLayout, SheetRefusal, Taking};

/// True where the static pressures run across.
pub(super) fn runs_across(rows: &[Vec<String>]) -> bool {
    stands_across(rows)
}

/// Takes a table up.
pub(super) fn take(taking: &mut Taking<'_>, group: &Group, layout: SheetLayout) {
    let Some(kept) = Kept::of(taking, group, layout) else {
        taking.refused.push(SheetRefusal::NoStatic);
        return;
    };
    let is_turned = layout == SheetLayout::TapsDown;
    let said = Said {
        heads: taking.choices.heads,
        is_turned: Some(is_turned),
        has_esps: Some(true),
        decimal_comma: Some(taking.settled.decimal_comma),
        pressure: taking.pressure,
        airflow: taking.airflow,
    };
    let (mut pasted, shape) = parse_rows(kept.cells(taking), said);
    if is_turned && shape.turned.is_none() {
        taking.refused.push(SheetRefusal::NoStatic);
        return;
    }
    kept.lanes(taking, shape, group, &mut pasted);
    if taking.tables.is_empty() {
        taking.settled.heads = shape.heads;
    }
    for sentence in std::mem::take(&mut pasted.remarks) {
        if !sentence.ends_with("so the table was turned") {
            taking.say(if group.name.is_empty() { sentence } else { format!("{}: {sentence}", group.name) });
        }
    }
    kept.mark(taking, shape, &pasted);
    twice(taking, &pasted, group);
    taking.put(group, &pasted);
}

/// Refuses two columns that give the same of one tap.
fn twice(taking: &mut Taking<'_>, pasted: &Pasted, group: &Group) {
    let mut seen = BTreeSet::new();
    for column in &pasted.columns {
        let block = column.block.or(group.block).unwrap_or_default();
        let Some(name) = &column.name else {
            continue;
        };
        if !seen.insert((name, block)) {
            taking.refused.push(SheetRefusal::TapTwice(name.clone(), Taking::word_of(block)));
        }
    }
}

/// The lines and columns of a table that count.
struct Kept {
    rows: Vec<usize>,
    /// The columns, that of the static pressures first.
    columns: Vec<usize>,
    is_turned: bool,
}

impl Kept {
    /// What counts of a table; nothing where no column can hold static pressures.
    fn of(taking: &Taking<'_>, group: &Group, layout: SheetLayout) -> Option<Self> {
        let said = &taking.choices.lanes;
        let width = group.rows.iter().map(|row| taking.lines[*row].cells.len()).max().unwrap_or_default();
        let all = (0..width).filter(|column| Some(*column) != taking.settled.blower);
        if layout == SheetLayout::TapsDown {
            let is_in = |row: &&usize| said.get(*row) != Some(&Lane::LeftOut);
            let rows = group.rows.iter().filter(is_in).copied().collect();
            return Some(Self { rows, columns: all.collect(), is_turned: true });
        }
        let rows = group.rows.clone();
        let heads = taking.heads_of(group);
        let body = || rows.iter().skip(heads).map(|row| &taking.lines[*row].cells);
        let cell = |cells: &'_ Vec<String>, column: usize| cells.get(column).cloned().unwrap_or_default();
        let has_figures = |column: usize| {
            let mut texts = body().map(|cells| cell(cells, column)).filter(|text| !text.is_empty()).peekable();
            texts.peek().is_none() || texts.any(|text| numbers::value(&text).is_some())
        };
        let columns: Vec<usize> = all
            .filter(|column| match said.get(column) {
                Some(lane) => *lane != Lane::LeftOut,
                None => has_figures(*column),
            })
            .collect();
        let is_static = |column: &usize| {
            let texts: Vec<String> = body().map(|cells| cell(cells, *column)).collect();
            let heading = rows.iter().take(heads).any(|row| {
                let text = taking.lines[*row].cells.get(*column).map_or("", String::as_str);
                is_esp_word(text) && numbers::block_of(text).is_none() && !numbers::is_named_tap(text)
            });
            looks_like_esps(texts.iter().map(String::as_str)) || heading
        };
        let by_hand = columns.iter().copied().find(|column| said.get(column) == Some(&Lane::Static));
        let free = |column: &&usize| !said.contains_key(*column);
        let statics = by_hand.or_else(|| columns.iter().filter(free).copied().find(|column| is_static(column)))?;
        let others = columns.into_iter().filter(|column| *column != statics);
        Some(Self { rows, columns: std::iter::once(statics).chain(others).collect(), is_turned: false })
    }

    /// The texts that count.
    fn cells(&self, taking: &Taking<'_>) -> Vec<Vec<String>> {
        let of = |row: &usize| {
            let cells = &taking.lines[*row].cells;
            let places = self.columns.iter().take_while(|column| self.columns[0] != 0 || **column < cells.len());
            places.map(|column| cells.get(*column).cloned().unwrap_or_default()).collect()
        };
        self.rows.iter().map(of).collect()
    }

    /// What each column or row holds: as it was said, else by its heading and its title.
    fn lanes(&self, taking: &mut Taking<'_>, shape: Shape, group: &Group, pasted: &mut Pasted) {
        let first = match shape.turned {
            Some(across) => self.below(shape, across).next().unwrap_or_default(),
            None => 1,
        };
        if shape.turned.is_none() {
            taking.lanes.insert(self.columns[0], Lane::Static);
        }
        let mut tap = None;
        for (index, column) in pasted.columns.iter_mut().enumerate() {
            let lane = if self.is_turned { self.rows.get(first + index) } else { self.columns.get(first + index) };
            let Some(lane) = lane.copied() else {
                continue;
            };
            let said = taking.choices.lanes.get(&lane).and_then(|lane| lane.block());
            // What somebody said is watts or rpm belongs to the tap before it, whatever its own heading is.
            if said.is_some_and(|block| block != Block::Airflow) && column.block.is_none() {
                column.name = tap.clone().or_else(|| column.name.take());
            }
            column.block = said.or(column.block).or(group.block);
            if column.block.unwrap_or_default() == Block::Airflow {
                tap.clone_from(&column.name);
            }
            taking.lanes.insert(lane, Lane::of(column.block.unwrap_or_default()));
        }
    }

    /// The rows of taps of a table whose static pressures run across.
    fn below(&self, shape: Shape, across: Across) -> impl Iterator<Item = usize> {
        let first = if across.row < shape.heads { shape.heads } else { across.row + 1 };
        first..self.rows.len()
    }

    /// Says what every cell became.
    fn mark(&self, taking: &mut Taking<'_>, shape: Shape, pasted: &Pasted) {
        for row in self.rows.iter().take(shape.heads) {
            taking.mark_line(*row, Became::Heading);
        }
        match shape.turned {
            Some(across) => self.mark_across(taking, shape, across, pasted),
            None => {
                for row in self.rows.iter().skip(shape.heads) {
                    taking.mark(*row, self.columns[0], Became::Static);
                    for (column, pasted) in self.columns[1..].iter().zip(&pasted.columns) {
                        taking.mark(*row, *column, Became::of(pasted.block.unwrap_or_default()));
                    }
                }
            }
        }
    }

    fn mark_across(&self, taking: &mut Taking<'_>, shape: Shape, across: Across, pasted: &Pasted) {
        let Some(statics) = self.rows.get(across.row).copied() else {
            return;
        };
        for column in &self.columns {
            let text = taking.lines[statics].cells.get(*column).map_or("", String::as_str);
            let became = if numbers::value(text).is_some() { Became::Static } else { Became::Heading };
            taking.mark(statics, *column, became);
        }
        for (place, column) in self.below(shape, across).zip(&pasted.columns) {
            for (index, place_across) in self.columns.iter().enumerate() {
                let is_name = index < across.names;
                let became = if is_name { Became::Tap } else { Became::of(column.block.unwrap_or_default()) };
                taking.mark(self.rows[place], *place_across, became);
            }
        }
    }
}

impl Lane {
    /// The grid of such a column.
    const fn block(self) -> Option<Block> {
        match self {
            Self::Airflow => Some(Block::Airflow),
            Self::Watts => Some(Block::Watts),
            Self::Rpm => Some(Block::Rpm),
            Self::Tap | Self::Static | Self::LeftOut => None,
        }
    }

    const fn of(block: Block) -> Self {
        match block {
            Block::Airflow => Self::Airflow,
            Block::Watts => Self::Watts,
            Block::Rpm => Self::Rpm,
        }
    }
}

impl Became {
    pub(super) const fn of(block: Block) -> Self {
        match block {
            Block::Airflow => Self::Airflow,
            Block::Watts => Self::Watts,
            Block::Rpm => Self::Rpm,
        }
    }
}

impl Taking<'_> {
    /// What a grid gives, within a sentence.
    pub(super) const fn word_of(block: Block) -> &'static str {
        match block {
            Block::Airflow => "airflow",
            Block::Watts => "watts",
            Block::Rpm => "rpm",
        }
    }

    /// Lines of headings over a group.
    pub(super) fn heads_of(&self, group: &Group) -> usize {
        self.choices.heads.unwrap_or_else(|| heads_of(&self.cells_of(group)))
    }

    /// Puts columns into the table that they belong to.
    pub(super) fn put(&mut self, group: &Group, pasted: &Pasted) {
        if let Some(unit) = pasted.pressure_unit.filter(|_| self.pressure.is_none()) {
            self.settled.pressure = unit.into();
        } else if let Some(unit) = self.pressure {
            self.settled.pressure = unit;
        }
        self.settled.airflow = self.airflow.unwrap_or_default();
        let before = if group.is_more { self.tables.pop() } else { None };
        match pasted.onto(before, group.block.unwrap_or_default()) {
            Ok(mut draft) => {
                if !group.name.is_empty() {
                    draft.head.name.clone_from(&group.name);
                }
                let is_twice = |other: &super::TableDraft| !group.name.is_empty() && other.head.name == group.name;
                if self.tables.iter().any(is_twice) {
                    self.refused.push(SheetRefusal::MachineTwice(group.name.clone()));
                }
                self.tables.push(draft);
            }
            Err(sentence) => self.refused.push(SheetRefusal::TooLarge(sentence)),
        }
    }
}
