//! Second opinions on the airflow as findings: each beside the table, watts against the table's, and all of them together.

use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::opinions::together::together;
use crate::model::verdicts::opinions::{Opinion, watts};
use crate::model::verdicts::system::Running;

/// Everything that is said of them; `by_table` is solved by the table alone.
pub(super) fn find(job: &Job, (by_table, opinions): (&Running, &[Opinion]), findings: &mut Vec<Finding>) {
    let differ = watts::differ(job, by_table).map(Finding::WattsDiffer);
    // Watts that differ say so in watts.
    let is_told = |opinion: &&Opinion| opinion.kind != OpinionKind::Watts || differ.is_none();
    findings.extend(opinions.iter().filter(is_told).copied().map(Finding::Opinion));
    findings.extend(differ);
    findings.extend(together(opinions).map(Finding::Together));
}
