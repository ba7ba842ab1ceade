//! What kind of file a text is, and of which format: told from its first field alone, so that it works on newer, cut and foreign files.

use crate::files::ron_words::{behind_blanks, cut, is_of_name};

/// The name of the first field of a job.
pub(super) const JOB: &str = "tapcross_job";
/// The name of the first field of a blower table.
pub(super) const BLOWER: &str = "tapcross_blower";
/// The name of the first field of the settings.
pub(super) const SETTINGS: &str = "tapcross_settings";

/// What the first field of a text says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Head<'a> {
    /// The field's name; empty where the text begins otherwise.
    pub(super) name: &'a str,
    /// The digits behind its colon, as many as the text has.
    digits: Option<&'a str>,
}

impl Head<'_> {
    /// The number of the format; one too long to hold is newer than anything.
    pub(super) fn format(&self) -> Option<u64> {
        self.digits.map(|digits| digits.parse().unwrap_or(u64::MAX))
    }

    /// The number of a format that is newer than the known one, for a sentence.
    pub(super) fn newer_than(&self, known: u32) -> Option<String> {
        self.format().filter(|format| *format > u64::from(known))?;
        self.digits.map(|digits| cut(digits.trim_start_matches('0')))
    }
}

/// Reads the first field, whatever else the text says.
pub(super) fn of(text: &str) -> Head<'_> {
    let body = behind_opening(text.trim_start_matches('\u{feff}'));
    let (name, rest) = split(body, is_of_name);
    let value = behind_blanks(rest).strip_prefix(':').map(behind_blanks);
    let digits = value.map(|value| split(value, |letter| letter.is_ascii_digit()).0);
    Head { name, digits: digits.filter(|digits| !digits.is_empty()) }
}

/// What a text begins with, as far as its letters are of a kind, and the rest.
fn split(text: &str, is_of_kind: fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|letter| !is_of_kind(letter)).unwrap_or(text.len()))
}

/// The text behind comments, `#![…]` lines, an optional name and the opening bracket.
fn behind_opening(text: &str) -> &str {
    let mut rest = behind_blanks(text);
    while let Some((_, after)) = rest.strip_prefix("#!").and_then(|line| line.split_once(']')) {
        rest = behind_blanks(after);
    }
    let unnamed = rest.trim_start_matches(is_of_name);
    behind_blanks(unnamed).strip_prefix('(').map_or("", behind_blanks)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_field_is_found_behind_everything_that_may_stand_before_it() {
        let rows = [
            ("(tapcross_job: 1, title: \"\")", JOB, Some(1)),
            ("// a remark\n#![enable(implicit_some)]\n/* two */ Job ( // three\n tapcross_job : 27", JOB, Some(27)),
            ("\u{feff}(a: 99999999999999999999999", "a", Some(u64::MAX)),
            ("(tapcross_job: \"one\"", JOB, None),
            ("(tapcross_blower: 1, name: \"\")", BLOWER, Some(1)),
            ("(tapcross_settings: 1)", SETTINGS, Some(1)),
            ("(title: \"\", tapcross_job: 1)", "title", None),
            ("{\"tapcross_job\": 1}", "", None),
            ("", "", None),
            ("#![enable(", "", None),
        ];
        for (text, name, format) in rows {
            let head = of(text);
            assert_eq!((head.name, head.format()), (name, format), "{text}");
        }
    }

    #[test]
    fn a_newer_format_is_named_by_its_own_digits() {
        let rows =
            [("1", None), ("001", None), ("0003", Some("3")), ("99999999999999999999", Some("99999999999999999999"))];
        for (digits, newer) in rows {
            assert_eq!(of(&format!("(a: {digits})")).newer_than(1).as_deref(), newer, "{digits}");
        }
    }
}
