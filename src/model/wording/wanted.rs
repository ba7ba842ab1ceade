//! What stands beside the system as found while no change is put on.

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::verdicts::findings::Finding;
use crate::model::wording::{changes, ended, no_target_of, sentence, visit};
use crate::units::UnitSystem;

/// A title and a sentence: what would reach the target on the path as found, or that nothing is asked of a test.
pub(super) fn wanted(job: &Job, answer: &Answer, units: UnitSystem) -> (&'static str, String) {
    let refused = changes::sentences(job, answer, units).into_iter().next();
    let names_a_tap = |finding: &&Finding| {
        matches!(
            finding,
            Finding::CannotAllBeTrue
                | Finding::Pulled(_)
                | Finding::NoTapReaches(_)
                | Finding::TapsThatReach { .. }
                | Finding::TooMuchAir { .. }
        )
    };
    let tap = || answer.findings.iter().find(names_a_tap).map(|finding| sentence(job, finding, units));
    let told = refused.or_else(tap).unwrap_or_else(|| match answer.blower().target {
        Some(_) => "Nothing can be said of the target yet".to_owned(),
        None => no_target_of(answer.blower().call),
    });
    if job.changes_are_done() {
        return ("After the repair", ended(&visit::after_repair(job, answer, units)));
    }
    let title = match (job.is_test(), job.changes.is_empty()) {
        (true, _) => "A test, not the system",
        (false, true) => "What the target takes",
        (false, false) => "No change is put on",
    };
    (title, ended(&told))
}
