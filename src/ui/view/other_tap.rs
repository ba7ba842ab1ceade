//! What lets another tap run: a change, never another reading. The readings stay those of the tap that ran while they were taken.

use crate::edit::Edit;
use crate::model::answer::Answer;
use crate::model::facts::change::{ChangeKind, OtherTap, Replacement, Switch};
use crate::model::facts::job::Job;
use crate::model::verdicts::findings;
use crate::model::verdicts::system::System;
use crate::ui::view::action::Action;

/// The system that runs: with its changes, where there are any that say where it runs.
fn running(answer: &Answer) -> Option<&System> {
    let with_changes = answer.with_changes().map(|after| &after.system).filter(|system| system.running().is_some());
    with_changes.or_else(|| Some(&answer.point()?.system))
}

/// The edits, one step of undo, after which a tap of the machine that runs is the one that runs; nothing where it does already, or where nothing runs yet.
pub fn run_on(job: &Job, answer: &Answer, tap: &str) -> Option<Action> {
    let system = running(answer).filter(|system| system.tap() != Some(tap))?;
    if let Some((id, new)) = system.blower.replacement(job) {
        let new = Replacement { tap: Some(tap.to_owned()), ..new.clone() };
        return Some(Edit::ReplaceChange(id, ChangeKind::OtherMachine(Box::new(new))).into());
    }
    let of_tap = || job.changes.iter().filter(|change| change.kind.particulars().tap.is_some());
    let other_call = job.changes.iter().any(|change| change.is_on() && change.kind.particulars().call.is_some());
    // The tap that was read needs no change; one that was made for another stays, switched off, with its price and note.
    if job.tap_in_use() == Some(tap) && !other_call {
        let off = of_tap().filter(|change| change.is_on()).map(|change| Edit::SwitchChange(change.id, Switch::Off));
        return Some(Action::Edits(off.collect()));
    }
    let kind = ChangeKind::OtherTap(OtherTap { tap: tap.to_owned() });
    // The last one on is the one that counts.
    let Some(change) = of_tap().rfind(|change| change.is_on()).or_else(|| of_tap().next_back()) else {
        return Some(Edit::AddChange(kind).into());
    };
    Some(Action::Edits(vec![Edit::ReplaceChange(change.id, kind), Edit::SwitchChange(change.id, Switch::On)]))
}

/// The same for the next tap by airflow, up (1) or down (−1).
pub fn run_on_next(job: &Job, answer: &Answer, by: isize) -> Option<Action> {
    let by_airflow = findings::by_airflow(&running(answer)?.taps);
    let here = by_airflow.iter().position(|tap| tap.in_use)?;
    run_on(job, answer, &by_airflow.get(here.checked_add_signed(by)?)?.name)
}
