//! Whose limits and figures of accuracy are, in words.

use crate::model::facts::figure_source::Whose;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::wording::uncapital;

/// What is said of a figure that a person changed without naming anybody.
const UNSAID: &str = "Changed, no source named";
/// What stands for a name where only a date was typed.
const NO_NAME: &str = "No source named";

/// Where a figure of a job comes from: the program's own source, the name and date that a person typed, or that nobody was named.
pub fn source(job: &Job, of: JobNumber) -> String {
    match of.whose(job) {
        Whose::BuiltIn(source) => source.to_owned(),
        Whose::Unsaid => UNSAID.to_owned(),
        Whose::Named(named) => {
            let name = if named.name.is_empty() { NO_NAME } else { &named.name };
            if named.date.is_empty() { name.to_owned() } else { format!("{name}, {}", named.date) }
        }
    }
}

/// The same within a sentence, of figures that are not as the program has them; nothing where all are.
pub(super) fn own_sources(job: &Job, figures: impl IntoIterator<Item = JobNumber>) -> Option<String> {
    let told = |of: JobNumber| match of.whose(job) {
        Whose::BuiltIn(_) => None,
        Whose::Unsaid => Some(uncapital(&source(job, of))),
        Whose::Named(_) => Some(source(job, of)),
    };
    let mut all: Vec<String> = Vec::new();
    for one in figures.into_iter().filter_map(told) {
        if !all.contains(&one) {
            all.push(one);
        }
    }
    (!all.is_empty()).then(|| all.join("; "))
}
