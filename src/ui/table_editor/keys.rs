//! How the hand moves over the grid by keys alone.

use eframe::egui::{Event, Id, Key, Modifiers, TextEdit, Ui};

use crate::model::typed::table_draft::TableDraft;
use crate::ui::view::table_editor::Spot;

/// Where a key moves to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Move {
    /// The next place in reading order.
    Next,
    /// The place before in reading order.
    Previous,
    /// Down the column; past the end a row more.
    Down,
    /// Down the column, not past its end.
    StepDown,
    /// Up the column.
    Up,
    /// One column to the left.
    Left,
    /// One column to the right.
    Right,
}

/// Takes the keys that move from a box in hand before the box sees them; what was typed after one in the same picture of a slow machine is for the place that it moves to.
pub(super) fn take(ui: &Ui, id: Id) -> Option<Move> {
    give_back(ui);
    if !ui.memory(|memory| memory.has_focus(id)) {
        return None;
    }
    hold_back(ui);
    let (at_start, at_end) = cursor_edges(ui, id);
    ui.input_mut(|input| {
        let mut pressed = |modifiers, key| input.consume_key(modifiers, key);
        if pressed(Modifiers::SHIFT, Key::Tab) {
            return Some(Move::Previous);
        }
        if pressed(Modifiers::SHIFT, Key::Enter) {
            return Some(Move::Up);
        }
        if pressed(Modifiers::NONE, Key::Tab) {
            return Some(Move::Next);
        }
        if pressed(Modifiers::NONE, Key::Enter) {
            return Some(Move::Down);
        }
        if input.modifiers.any() {
            return None;
        }
        let arrows = [
            (Key::ArrowDown, true, Move::StepDown),
            (Key::ArrowUp, true, Move::Up),
            (Key::ArrowLeft, at_start, Move::Left),
            (Key::ArrowRight, at_end, Move::Right),
        ];
        arrows
            .into_iter()
            .find(|(key, may, _)| *may && input.consume_key(Modifiers::NONE, *key))
            .map(|(_, _, step)| step)
    })
}

/// Where keys wait that came too soon.
fn held() -> Id {
    Id::unique("typed after a key that moves")
}

fn hold_back(ui: &Ui) {
    let moves = |event: &Event| matches!(event, Event::Key { key: Key::Tab | Key::Enter, pressed: true, .. });
    let is_typed = |event: &Event| matches!(event, Event::Text(_) | Event::Paste(_) | Event::Key { .. });
    let typed = ui.input_mut(|input| {
        let at = input.events.iter().position(moves)?;
        let later = input.events.split_off(at + 1);
        let (typed, rest): (Vec<_>, Vec<_>) = later.into_iter().partition(is_typed);
        input.events.extend(rest);
        Some(typed)
    });
    if let Some(typed) = typed.filter(|typed| !typed.is_empty()) {
        ui.data_mut(|data| data.insert_temp(held(), typed));
        ui.ctx().request_repaint();
    }
}

fn give_back(ui: &Ui) {
    if let Some(typed) = ui.data_mut(|data| data.remove_temp::<Vec<Event>>(held())) {
        ui.input_mut(|input| {
            input.events.splice(0..0, typed);
        });
    }
}

/// Whether the text cursor stands at the start and at the end; a text selected as a whole counts as both.
fn cursor_edges(ui: &Ui, id: Id) -> (bool, bool) {
    let Some(range) = TextEdit::load_state(ui.ctx(), id).and_then(|state| state.cursor.char_range()) else {
        return (true, true);
    };
    let length = ui.ctx().data(|data| data.get_temp::<usize>(length_id(id))).unwrap_or_default();
    let [low, high] = range.sorted_cursors();
    let whole = low.index == 0usize.into() && high.index == length.into();
    let is_caret = low.index == high.index;
    (whole || is_caret && low.index == 0usize.into(), whole || is_caret && high.index == length.into())
}

/// Remembers how long the text in a box is.
pub(super) fn remember_length(ui: &Ui, id: Id, text: &str) {
    let length = text.chars().count();
    ui.ctx().data_mut(|data| data.insert_temp(length_id(id), length));
}

fn length_id(id: Id) -> Id {
    id.with("length")
}

/// The place a move leads to; past the end of the grid it gains a row.  Nothing: out of the grid, to the name.
pub(super) fn target(draft: &mut TableDraft, from: Spot, step: Move) -> Option<Spot> {
    let (rows, taps) = (draft.rows.len(), draft.taps.len());
    let Spot { row, column } = from;
    let at = |row, column| Some(Spot { row, column });
    match step {
        Move::Next if column < taps => at(row, column + 1),
        Move::Next => {
            if row == rows {
                draft.add_row();
            }
            at(row + 1, first_column(draft, row + 1))
        }
        Move::Right => at(row, (column + 1).min(taps)),
        Move::Left if row == 0 => at(0, column.saturating_sub(1).max(1)),
        Move::Left => at(row, column.saturating_sub(1)),
        Move::Previous if column > usize::from(row == 0) => at(row, column - 1),
        Move::Previous if row == 0 => None,
        Move::Previous => at(row - 1, taps),
        Move::Up if row == 1 && column == 0 => at(1, 0),
        Move::Up => at(row.saturating_sub(1), column),
        Move::StepDown => at((row + 1).min(rows), column),
        Move::Down if row < rows => at(row + 1, column),
        Move::Down if is_filled(draft, rows, column) => {
            draft.add_row();
            at(rows + 1, column)
        }
        Move::Down => at(1, (column + 1).min(taps)),
    }
}

/// The first place of a row that waits for a number: its static pressure, or the first tap when that is there.
fn first_column(draft: &TableDraft, row: usize) -> usize {
    let esp = row.checked_sub(1).and_then(|row| draft.rows.get(row)).map_or("", |row| row.esp.trim());
    usize::from(!esp.is_empty() && !draft.taps.is_empty())
}

/// True when the last row has something to be followed by.
fn is_filled(draft: &TableDraft, row: usize, column: usize) -> bool {
    let last = row.checked_sub(1).and_then(|row| draft.rows.get(row));
    last.is_none_or(|last| if column == 0 { !last.esp.trim().is_empty() } else { !last.has_no_cells() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_lead_where_a_hand_expects() {
        use Move::{Down, Left, Next, Previous, Right, StepDown, Up};
        let cases = [
            ((1, 1), Next, Some((1, 2))),
            ((1, 5), Next, Some((2, 1))),
            ((0, 5), Next, Some((1, 1))),
            ((9, 5), Next, Some((10, 1))),
            ((1, 1), Previous, Some((1, 0))),
            ((1, 0), Previous, Some((0, 5))),
            ((0, 1), Previous, None),
            ((1, 1), Down, Some((2, 1))),
            ((0, 3), Down, Some((1, 3))),
            ((9, 1), Down, Some((1, 2))),
            ((9, 1), StepDown, Some((9, 1))),
            ((1, 0), Up, Some((1, 0))),
            ((1, 2), Up, Some((0, 2))),
            ((2, 0), Left, Some((2, 0))),
            ((0, 1), Left, Some((0, 1))),
            ((2, 5), Right, Some((2, 5))),
        ];
        for ((row, column), step, wanted) in cases {
            let mut draft = TableDraft::empty();
            let there = target(&mut draft, Spot { row, column }, step);
            assert_eq!(there.map(|spot| (spot.row, spot.column)), wanted, "{step:?} from {row}, {column}");
        }
    }

    #[test]
    fn enter_under_a_filled_last_row_adds_a_row() {
        let mut draft = TableDraft::empty();
        draft.rows[8].cells[0].airflow = "800".to_owned();
        assert_eq!(target(&mut draft, Spot { row: 9, column: 1 }, Move::Down), Some(Spot { row: 10, column: 1 }));
        assert_eq!((draft.rows.len(), draft.rows[9].esp.as_str()), (10, "1.00"));
    }
}
