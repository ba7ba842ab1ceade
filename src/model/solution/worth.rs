//! What each change brings alone, and what all that are on bring together.
//!
//! Worths do not add up, so both are given.

use crate::model::facts::accuracy::{CHANGE_LIMIT, COVERAGE, from_limit};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::{Part, flows};
use crate::model::solution::changed::{Changed, Found};
use crate::model::solution::gain::{Gain, Start};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{self, Crossings, Operation};
use crate::model::solution::uncertainty::{self, Doubt, Spreads, Taps};
use crate::units::Airflow;

/// What one change brings alone, in airflow of the tap in use (of its own tap where it changes that).
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// The change.
    pub id: ChangeId,
    /// Gain of airflow, or why it cannot be worked out.
    pub gain: Result<Gain, Refusal>,
    /// Gain of what the rooms get: another figure than the blower's where air leaks or takes a bypass; nothing where the gain cannot be worked out or is a range.
    pub to_rooms: Option<Airflow>,
    /// ± of the gain (95 %): what the change's own sizes leave in doubt (see [`CHANGE_LIMIT`]); nothing for a mere change of tap or call.
    ///
    /// The only change that is on has what all together have, the readings' own doubt included, for its gain is theirs.
    pub spread: Option<Airflow>,
}

/// Elements that the changes of a job take hold of, those that are off included, so that switching one moves nothing else.
pub fn held_elements(job: &Job) -> Vec<ElementId> {
    let mut held: Vec<ElementId> = job.changes.iter().flat_map(|change| change.kind.takes_hold_of(&job.path)).collect();
    held.sort_unstable();
    held.dedup();
    held
}

/// What every move of a hand needs anew: the system with the changes that are on, its taps, and each change alone.
#[derive(Clone, Debug)]
pub struct Solved<'a> {
    /// The system.
    pub changed: Changed<'a>,
    /// Every tap's crossing, in the table's order.
    pub crossings: Crossings,
    /// Each change alone, in the job's order.
    pub worths: Vec<Worth>,
    /// Changes that are on and could not be put on, with the reason.
    pub refused: Vec<(ChangeId, Refusal)>,
}

/// Solves a job's changes: those that are on together, and each one alone.
pub fn solve<'a>(found: &Found<'a>) -> Solved<'a> {
    let changes = &found.inputs.job.changes;
    let mut refused = Vec::new();
    let on = changes.iter().filter(|change| change.is_on());
    let changed = found.with(on, |id, refusal| refused.push((id, refusal)));
    let crossings = found.crossings_of(&changed);
    let worths = changes.iter().map(|change| worth(found, change)).collect();
    Solved { changed, crossings, worths, refused }
}

/// ± of every tap with the changes that are on.
pub fn spreads(found: &Found<'_>, doubt: &Doubt, Solved { changed, crossings, .. }: &Solved<'_>) -> Spreads {
    let job = found.inputs.job;
    let project = |moved: &Operation| {
        // Moved by its uncertainty a crossing stays near where it is.
        let moved = Found { operation: moved, ..*found };
        let on = job.changes.iter().filter(|change| change.is_on());
        let changed = moved.with(on, |_, _| {});
        operation::crossings(&changed.shapes, &changed.load(), crossings)
    };
    let taps =
        Taps { crossings, project: &project, shapes: &changed.shapes, of_another: changed.replacement.is_some() };
    let read = uncertainty::spreads(doubt, found.operation.now.airflow, &job.accuracy, taps);
    with_change_doubt(found, changed, crossings, read)
}

/// Widens what the readings leave in doubt by what the changes do: each tap's own step from the path as found to the changed one is known to a quarter (see [`CHANGE_LIMIT`]); a mere change of tap adds nothing.
///
/// Another machine has other taps: the step is that of the path alone, from its ducts as read.
fn with_change_doubt(
    found: &Found<'_>,
    changed: &Changed<'_>,
    crossings: &[Result<Crossing, NoCrossing>],
    mut spreads: Spreads,
) -> Spreads {
    let of_machine = changed.replacement.map(|_| {
        let only = |change: &&Change| change.is_on() && change.kind.particulars().machine.is_some();
        found.crossings_of(&found.with(found.inputs.job.changes.iter().filter(only), |_, _| {}))
    });
    let before = of_machine.as_deref().unwrap_or(found.crossings);
    for ((spread, before), after) in spreads.taps.iter_mut().zip(before).zip(crossings) {
        if let (Some(spread), Ok(before), Ok(after)) = (spread, before, after) {
            let doubt = change_doubt(after.airflow - before.airflow).cfm();
            spread.airflow = Airflow::from_cfm(spread.airflow.cfm().hypot(doubt));
            spread.gain = Airflow::from_cfm(spread.gain.cfm().hypot(doubt));
        }
    }
    spreads
}

/// ± (95 %) of a step that changes bring.
fn change_doubt(step: Airflow) -> Airflow {
    step.abs() * (COVERAGE * from_limit(CHANGE_LIMIT))
}

fn worth(found: &Found<'_>, change: &Change) -> Worth {
    let mut changed = found.as_read();
    let now = &found.operation.now;
    let point =
        found.put_on(&mut changed, &change.kind).and_then(|()| found.point_of(&changed).ok_or(Refusal::OutOfReach));
    let to_rooms = |parts: &[Part], blower| flows::delivered(parts, blower).to_rooms;
    let rooms = point
        .as_ref()
        .ok()
        .map(|point| to_rooms(&changed.parts, point.airflow) - to_rooms(&found.operation.parts, now.airflow));
    let inputs = found.inputs;
    let gain = point.and_then(|point| {
        let shapes = inputs.shapes.get(inputs.in_use).zip(changed.shapes.get(changed.in_use));
        let gain = shapes.map(|(shape, then)| Start::new(now, shape).gain(&point, then));
        gain.ok_or(Refusal::OutOfReach)
    });
    let rooms = rooms.filter(|_| gain.as_ref().is_ok_and(|gain| gain.most.is_none()));
    let is_of_path = !change.kind.particulars().is_by_table();
    let spread = gain.as_ref().ok().filter(|_| is_of_path).map(|gain| change_doubt(gain.least));
    Worth { id: change.id, gain, to_rooms: rooms, spread }
}
