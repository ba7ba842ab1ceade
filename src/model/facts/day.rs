//! Days as people type them: a date of the calendar (ISO 8601, "2026-08-05"), or words such as "next Monday".

use jiff::civil::Date;

/// A text that looks like a date and is none: "2026-02-30".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotADay(pub String);

/// The day that a text names; nothing for words.
///
/// # Errors
/// The text, where it has the digits of a date that is in no calendar.
pub fn day(text: &str) -> Result<Option<Date>, NotADay> {
    let text = text.trim();
    if !looks_like_one(text) {
        return Ok(None);
    }
    text.parse().map(Some).map_err(|_no_day| NotADay(text.to_owned()))
}

/// Four digits, two and two, with hyphens between them.
fn looks_like_one(text: &str) -> bool {
    let groups: Vec<&str> = text.split('-').collect();
    let is_of_digits = groups.iter().all(|group| group.bytes().all(|letter| letter.is_ascii_digit()));
    is_of_digits && groups.iter().map(|group| group.len()).eq([4, 2, 2])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_a_day_or_words_or_a_day_that_never_was() {
        for text in ["2026-08-05", " 2024-02-29 "] {
            assert_eq!(day(text).unwrap().unwrap().to_string(), text.trim());
        }
        for text in ["2026-02-30", "2025-02-29", "2026-13-01", "2026-00-10"] {
            assert_eq!(day(text), Err(NotADay(text.to_owned())));
        }
        for text in ["", "next Monday", "05.08.2026", "2026-8-5", "2026-02-30T10:00", "2026-02-3x"] {
            assert_eq!(day(text), Ok(None), "{text}");
        }
    }
}
