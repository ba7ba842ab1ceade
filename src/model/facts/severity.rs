//! How grave a remark is, on a job or on a table.

/// How grave a remark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Odd: the number is used, a person should look.
    Question,
    /// Cannot be right: the tap, the table or the job is not used until it is mended.
    Error,
}
