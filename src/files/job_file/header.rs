//! What kind of file a text is and of which format, told from its first field alone, so that it works on newer, cut and foreign files.

use super::{FIRST_FIELD, FORMAT, JobFileError};
use crate::files::ron_words;

/// What the first field says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Header {
    /// A job of this format.
    Job(u64),
    /// The name of a job's first field without a number.
    JobWithoutFormat,
    /// A blower table.
    Blower,
    /// An autosave or settings file of this program.
    Settings,
    /// Anything else.
    Foreign,
}

/// Refuses whatever is not a job of a known format.
pub(super) fn check(text: &str) -> Result<(), JobFileError> {
    match of(text) {
        Header::Job(0) | Header::JobWithoutFormat => Err(JobFileError::NoFormat),
        Header::Job(format) if format > u64::from(FORMAT) => Err(JobFileError::Newer(format)),
        Header::Job(_) => Ok(()),
        Header::Blower => Err(JobFileError::BlowerTable),
        Header::Settings => Err(JobFileError::Settings),
        Header::Foreign if text.trim().is_empty() => Err(JobFileError::Empty),
        Header::Foreign => Err(JobFileError::NotAJob),
    }
}

/// Reads the first field's name and, for a job, its number.
pub(super) fn of(text: &str) -> Header {
    let (name, behind_name) = ron_words::first_field(text);
    match name {
        FIRST_FIELD => ron_words::format_number(behind_name).map_or(Header::JobWithoutFormat, Header::Job),
        "tapcross_blower" => Header::Blower,
        "tapcross_settings" => Header::Settings,
        _ => Header::Foreign,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_field_tells_the_kind_and_the_format() {
        let rows = [
            ("(tapcross_job: 1, title: \"\")", Header::Job(1)),
            ("// a remark\n#![enable(implicit_some)]\n/* two */ Job ( // three\n tapcross_job : 27", Header::Job(27)),
            ("\u{feff}(tapcross_job: 99999999999999999999999", Header::Job(u64::MAX)),
            ("(tapcross_job: \"one\"", Header::JobWithoutFormat),
            ("(tapcross_blower: 1, name: \"\")", Header::Blower),
            ("(tapcross_settings: 1)", Header::Settings),
            ("(title: \"\", tapcross_job: 1)", Header::Foreign),
            ("{\"tapcross_job\": 1}", Header::Foreign),
            ("", Header::Foreign),
            ("#![enable(", Header::Foreign),
        ];
        for (text, header) in rows {
            assert_eq!(of(text), header, "{text}");
        }
    }
}
