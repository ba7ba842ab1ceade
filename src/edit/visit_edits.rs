//! Edits of the visit: its reading sets, and which opinion takes the table's place.

use crate::model::facts::airflow_read::{Anchor, OpinionKind};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;

/// One set more, as the judged one was, to be told what is different; a visit is in the order of time, so it comes last.
pub(super) fn add_set(job: &mut Job) -> Result<(), Refusal> {
    let like = job.sets.get(job.judged).ok_or(Refusal::NoSets)?;
    let next = like.as_a_start();
    job.judged = job.sets.len();
    job.sets.push(next);
    Ok(())
}

pub(super) fn judge(job: &mut Job, index: usize) -> Result<(), Refusal> {
    job.sets.get(index).ok_or(Refusal::NoSuchSet(index, job.sets.len()))?;
    job.judged = index;
    Ok(())
}

/// Where the judged set goes, the one before it is judged; an opinion of it takes nobody's place any more.
pub(super) fn remove_set(job: &mut Job, index: usize) -> Result<(), Refusal> {
    let count = job.sets.len();
    if index >= count {
        return Err(Refusal::NoSuchSet(index, count));
    }
    job.sets.remove(index);
    if job.judged >= index {
        job.judged = job.judged.saturating_sub(1);
    }
    job.anchor = job
        .anchor
        .filter(|anchor| anchor.set != index)
        .map(|anchor| Anchor { set: if anchor.set > index { anchor.set - 1 } else { anchor.set }, ..anchor });
    Ok(())
}

/// An opinion of the judged set in the table's place, or the table; whether that is scaled stays as it was said.
pub(super) fn anchor(job: &mut Job, by: Option<OpinionKind>) {
    let scales = job.anchor.is_some_and(|anchor| anchor.scales);
    job.anchor = by.map(|by| Anchor { by, set: job.judged, scales });
}

/// Whether every tap of the table is scaled by the opinion in its place.
pub(super) fn scale(job: &mut Job, scales: bool) {
    job.anchor = job.anchor.map(|anchor| Anchor { scales, ..anchor });
}
