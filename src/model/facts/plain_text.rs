//! Texts as a job keeps them: without what no line can show, and what a window, a terminal or another program would take for a command.
//!
//! Edits and files both pass here, so that a text is the same before it is saved and after it is opened.

use crate::model::facts::blower::{BlowerTable, Cell, TapData};
use crate::model::facts::limits::{LONGEST_LINE, LONGEST_NOTES, TooMuch};

/// A text on one line: every control character and every line's end is a space.
pub fn one_line(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() || ends_line(letter) { ' ' } else { letter }).collect()
}

/// A text of several lines: each line ends with a bare line feed, tabs stay, every other control character is a space.
pub fn lines(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    let plain = |letter| match letter {
        '\n' | '\t' => letter,
        '\r' => '\n',
        _ if ends_line(letter) => '\n',
        _ if letter.is_control() => ' ',
        _ => letter,
    };
    text.chars().map(plain).collect()
}

/// Line and paragraph separators, which are no control characters.
const fn ends_line(letter: char) -> bool {
    matches!(letter, '\u{2028}' | '\u{2029}')
}

/// A text short enough for a file.
///
/// # Errors
/// What it is, how long it is, and how long it may be.
pub fn fits(what: &'static str, text: &str, most: usize) -> Result<(), TooMuch> {
    let letters = text.chars().count();
    if letters <= most { Ok(()) } else { Err(TooMuch::Letters(what, letters, most)) }
}

/// A blower table with all its texts plain, and its notes on places without blanks at their ends; an empty note is none.
#[must_use]
pub fn of_table(mut table: BlowerTable) -> BlowerTable {
    let own = [&mut table.name, &mut table.source];
    let taps = table.taps.iter_mut().map(|tap| &mut tap.name);
    let calls = table.calls.iter_mut().map(|(_, tap)| tap);
    for text in own.into_iter().chain(taps).chain(calls) {
        *text = one_line(text);
    }
    table.notes = lines(&table.notes);
    for note in notes_of(&mut table) {
        let plain = note.as_deref().map(|text| one_line(text).trim().to_owned());
        *note = plain.filter(|text| !text.is_empty());
    }
    table
}

fn notes_of(table: &mut BlowerTable) -> impl Iterator<Item = &mut Option<String>> {
    let rows = table.taps.iter_mut().filter_map(|tap| match &mut tap.data {
        TapData::Column(rows) => Some(rows),
        TapData::Range { .. } => None,
    });
    rows.flatten().filter_map(|row| match &mut row.cell {
        Cell::Airflow(_, note) | Cell::NotAllowed(note) => Some(note),
        Cell::NotGiven => None,
    })
}

/// Texts of a table that are too long for a file.
///
/// # Errors
/// As [`fits`].
pub(super) fn table_fits(table: &BlowerTable) -> Result<(), TooMuch> {
    fits("A table's name", &table.name, LONGEST_LINE)?;
    fits("A table's source", &table.source, LONGEST_LINE)?;
    fits("A table's note", &table.notes, LONGEST_NOTES)?;
    table.taps.iter().try_for_each(|tap| {
        fits("A tap's name", &tap.name, LONGEST_LINE)?;
        let TapData::Column(rows) = &tap.data else { return Ok(()) };
        rows.iter().try_for_each(|row| match &row.cell {
            Cell::Airflow(_, Some(note)) | Cell::NotAllowed(Some(note)) => {
                fits("A note in a table", note, LONGEST_LINE)
            }
            Cell::Airflow(_, None) | Cell::NotAllowed(None) | Cell::NotGiven => Ok(()),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_line_can_show_is_a_space() {
        let cases = [
            ("Hall furnace", "Hall furnace", "Hall furnace"),
            ("NUL\0in it", "NUL in it", "NUL in it"),
            ("a\r\nb\rc\nd", "a  b c d", "a\nb\nc\nd"),
            ("a\tb\u{1b}[0m\u{7f}\u{85}", "a b [0m  ", "a\tb [0m  "),
            ("a\u{2028}b\u{2029}", "a b ", "a\nb\n"),
            ("½ 空気 🌬 e\u{301}", "½ 空気 🌬 e\u{301}", "½ 空気 🌬 e\u{301}"),
        ];
        for (typed, line, text) in cases {
            assert_eq!((one_line(typed).as_str(), lines(typed).as_str()), (line, text), "{typed:?}");
            assert_eq!((one_line(line).as_str(), lines(text).as_str()), (line, text), "once plain, plain for good");
        }
    }

    #[test]
    fn a_text_past_all_reason_is_refused_in_words() {
        assert_eq!(fits("A title", "short", 5), Ok(()));
        assert_eq!(
            fits("A title", &"x".repeat(1200), 1000).map_err(TooMuch::sentence),
            Err("A title of 1,200 letters is too long; at most 1,000 can be".to_owned())
        );
    }
}
