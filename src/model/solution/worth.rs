//! What each change brings alone, and what all that are on bring together.
//!
//! Worths do not add up, so both are given.

use std::sync::Arc;

use crate::model::facts::accuracy::from_95;
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::drop_data::SQUARE_LAW;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::system_curve::{PowerLaw, SystemLoad};
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::{Part, flows, load_of, part_mut};
use crate::model::solution::changed::{Changed, Found};
use crate::model::solution::gain::{Gain, Start};
use crate::model::solution::operating_point::{self, Crossing, NoCrossing};
use crate::model::solution::operation::{self, Crossings};
use crate::model::solution::uncertainty::{self, AT_BLOWER, Cause, Doubt, Spreads, Taps, Told};
use crate::units::Airflow;

/// What one change brings alone, in airflow of the tap in use (of its own tap where it changes that).
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// The change.
    pub id: ChangeId,
    /// Gain of airflow, or why it cannot be worked out.
    pub gain: Result<Gain, Refusal>,
    /// Gain of what the rooms get: another figure than the blower's where air leaks or takes a bypass; nothing where the gain cannot be worked out or is a range.
    pub to_rooms: Option<Gain>,
    /// ± of that gain (95 %).
    pub to_rooms_spread: Option<Airflow>,
    /// ± of the gain (95 %): what readings, table, guesses and the change's own sizes leave in doubt; nothing where the gain cannot be worked out.
    pub spread: Option<Airflow>,
}

/// What one of several changes brings after the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AfterOthers {
    /// The change.
    pub id: ChangeId,
    /// Gain of airflow over the system with the others on.
    pub gain: Gain,
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
    /// The system with each change alone, and its point; nothing where that cannot be worked out.
    alone: Vec<Option<(Changed<'a>, Crossing)>>,
    /// What each of them that counts brings after the others; none where fewer than two count, or a point is missing.
    pub after_others: Vec<AfterOthers>,
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
    let (worths, alone) = changes.iter().map(|change| worth(found, change)).unzip();
    let after_others = after_others(found, &changed, &crossings, &refused);
    Solved { changed, crossings, worths, alone, after_others, refused }
}

impl Solved<'_> {
    /// Tells the gain of the only change that is on as sure as the gain of all is told.
    pub fn tell_gain_of_only(&mut self, job: &Job, spreads: &Spreads) {
        let on: Vec<ChangeId> = job.changes.iter().filter(|change| change.is_on()).map(|change| change.id).collect();
        let gain = spreads.taps.get(self.changed.in_use).copied().flatten().map(|spread| spread.gain);
        let is_it = |worth: &&mut Worth| matches!(on[..], [only] if only == worth.id) && worth.spread.is_some();
        if let Some((worth, gain)) = self.worths.iter_mut().find(is_it).zip(gain) {
            worth.spread = Some(gain);
        }
    }
}

fn after_others(
    found: &Found<'_>,
    all: &Changed<'_>,
    crossings: &[Result<Crossing, NoCrossing>],
    refused: &[(ChangeId, Refusal)],
) -> Vec<AfterOthers> {
    let counts = |change: &&Change| change.is_on() && refused.iter().all(|(id, _)| *id != change.id);
    let counted: Vec<&Change> = found.inputs.job.changes.iter().filter(counts).collect();
    let of_one = |change: &&Change| {
        let others = counted.iter().copied().filter(|other| other.id != change.id);
        let without = found.with(others, |_, _| {});
        let before = found.point_of(&without)?;
        let after = crossings.get(all.in_use)?.as_ref().ok()?;
        let gain = Start::new(&before, without.shapes.get(without.in_use)?).gain(after, all.shapes.get(all.in_use)?);
        Some(AfterOthers { id: change.id, gain })
    };
    if counted.len() < 2 { Vec::new() } else { counted.iter().filter_map(of_one).collect() }
}

/// ± of every tap with the changes that are on; and of what each change brings alone, which its worth is given.
///
/// What readings and table leave in doubt of a change of parts alone is some hundredths of its gain, beside its own quarter: only where it is the only one that is on, and its gain the gain of all, is it reckoned with.
pub fn spreads(found: &Found<'_>, doubt: &Doubt<'_>, solved: &mut Solved<'_>) -> Spreads {
    let job = found.inputs.job;
    let on: Vec<&Change> = job.changes.iter().filter(|change| change.is_on()).collect();
    let worths = solved.worths.iter_mut().zip(&solved.alone).zip(&job.changes);
    for ((worth, alone), change) in worths.filter(|((worth, _), _)| worth.gain.is_ok()) {
        if let Some((changed, point)) = alone {
            let held = change.kind.takes_hold_of(&job.path);
            let all = change.kind.particulars().is_by_table() || matches!(on[..], [only] if only.id == change.id);
            let steps = |told: Told| {
                let (as_found, now) = (&found.operation, found.operation.now.airflow);
                let turned = (told(&changed.parts, now) - told(&as_found.parts, now)) / now;
                step(found, change, (&as_found.load, 1.0), (changed, &changed.load()), (changed, turned))
                    .into_iter()
                    .collect()
            };
            let tap =
                Several { on: &[change], changed, first: changed.in_use, crossings: &[Ok(*point)], steps: &steps };
            let spread = |told| {
                let spreads = of_taps(found, doubt, &tap, told, &|cause| all || cause.parts_any(&held));
                spreads.taps.first().copied().flatten().map(|spread| spread.gain)
            };
            worth.spread = spread(AT_BLOWER);
            let is_apart = loses(&found.operation.parts, point) || loses(&changed.parts, point);
            worth.to_rooms_spread = worth.to_rooms.and_then(|_| if is_apart { spread(TO_ROOMS) } else { worth.spread });
        }
    }
    let steps = |told| steps(found, &on, &solved.changed, told);
    of_taps(found, doubt, &Several::all(&on, solved, &steps), AT_BLOWER, &|_| true)
}

/// ± of what the rooms get with the changes that are on, where air is lost on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomsSpread {
    /// Of what they gain (95 %).
    pub gain: Airflow,
    /// Of the air that is lost (95 %).
    pub lost: Airflow,
}

/// The same; nothing where no air is lost before or after, or there is no point.
pub fn rooms_spread(found: &Found<'_>, doubt: &Doubt<'_>, solved: &Solved<'_>) -> Option<RoomsSpread> {
    let in_use = solved.changed.in_use;
    let point = solved.crossings.get(in_use)?.as_ref().ok()?;
    if !loses(&found.operation.parts, point) && !loses(&solved.changed.parts, point) {
        return None;
    }
    let job = found.inputs.job;
    let on: Vec<&Change> = job.changes.iter().filter(|change| change.is_on()).collect();
    let steps = |told| steps(found, &on, &solved.changed, told);
    let runs = Several { first: in_use, crossings: &[Ok(*point)], ..Several::all(&on, solved, &steps) };
    let spread = |told| of_taps(found, doubt, &runs, told, &|_| true).taps.first().copied().flatten();
    Some(RoomsSpread { gain: spread(TO_ROOMS)?.gain, lost: spread(LOST)?.airflow })
}

/// What of the blower's air the rooms get.
const TO_ROOMS: Told = |parts, blower| flows::delivered(parts, blower).to_rooms;
/// What of it is lost on the way.
const LOST: Told = |parts, blower| blower * flows::delivered(parts, blower).lost();

fn loses(parts: &[Part], point: &Crossing) -> bool {
    LOST(parts, point.airflow) > Airflow::ZERO
}

/// Taps of a changed system from the first on that crossings are given of.
#[derive(Clone, Copy)]
struct Several<'t, 'a> {
    on: &'t [&'a Change],
    changed: &'t Changed<'a>,
    first: usize,
    crossings: &'t [Result<Crossing, NoCrossing>],
    /// What of the changes is in doubt by itself.
    steps: &'t dyn Fn(Told) -> Vec<Step>,
}

impl<'t, 'a> Several<'t, 'a> {
    /// All of them.
    fn all(on: &'t [&'a Change], solved: &'t Solved<'a>, steps: &'t dyn Fn(Told) -> Vec<Step>) -> Self {
        Self { on, changed: &solved.changed, first: 0, crossings: &solved.crossings, steps }
    }
}

/// ± of what is told of them, by the causes that count.
fn of_taps(
    found: &Found<'_>,
    doubt: &Doubt<'_>,
    several: &Several<'_, '_>,
    told: Told,
    counts: &dyn Fn(&Cause<'_>) -> bool,
) -> Spreads {
    let &Several { on, changed, first, crossings, steps } = several;
    let taps = first..first + crossings.len();
    let shapes = changed.shapes.get(taps.clone()).unwrap_or_default();
    let load = changed.load();
    let steps = steps(told);
    let project = |cause: &Cause<'_>| {
        let moved = Found { inputs: &cause.inputs, operation: &cause.operation, crossings, wish: found.wish };
        let there = moved.with(on.iter().copied(), |_, _| {});
        let airflows =
            operation::moved_airflows(there.shapes.get(taps.clone()).unwrap_or_default(), &there.load(), crossings);
        airflows.into_iter().map(|airflow| Some(told(&there.parts, airflow?))).collect()
    };
    let alone = |index: usize, crossing: &Crossing| {
        let shape = shapes.get(index).unwrap_or(&TapShape::Unusable);
        let of = |airflow| told(&changed.parts, airflow);
        steps.iter().map(|step| step.shift((first + index, shape), &load, crossing, &of)).collect()
    };
    let read = changed.replacement.is_none().then_some(found.inputs.in_use);
    let parts = [&changed.parts[..], &found.operation.parts[..]];
    let taps =
        Taps { told, parts, first, crossings, shapes, load: &load, counts, project: &project, read, alone: &alone };
    uncertainty::spreads(doubt, found.operation.now.airflow, &found.inputs.job.accuracy, &taps)
}

/// What one change does, of which a part is in doubt by itself.
enum Step {
    /// A step of the path from one load to another; the fraction of it that is in doubt, and what it turns of the blower's air to what is told, as a fraction.
    Path(Box<[SystemLoad; 2]>, f64, f64),
    /// The taps as they would be.
    Shapes(Arc<[TapShape]>),
}

impl Step {
    /// How far it moves what is told of a tap, cfm, solved anew along the path; whichever way does not lead off the curve.
    fn shift(
        &self,
        (index, shape): (usize, &TapShape),
        load: &SystemLoad,
        crossing: &Crossing,
        told: &dyn Fn(Airflow) -> Airflow,
    ) -> f64 {
        let at = crossing.airflow;
        let moved = match (self, shape) {
            (Self::Shapes(shapes), _) => {
                let moved = shapes.get(index).and_then(|shape| operation::moved_airflow(shape, load, crossing));
                moved.map(|moved| (moved, Airflow::ZERO))
            }
            (Self::Path(ends, doubt, turned), TapShape::Curve(curve)) => {
                let more = path_step(ends, *doubt, at).coefficient;
                [1.0, -1.0].into_iter().find_map(|way| {
                    let demand = |cfm| {
                        let (entry, slope) = load.entry_and_slope(cfm);
                        (entry + way * more * cfm * cfm, slope + 2.0 * way * more * cfm)
                    };
                    let moved = operating_point::moved_airflow(curve, demand, crossing.entry)?;
                    Some((moved, at * (*turned * *doubt * way)))
                })
            }
            (Self::Path(..), TapShape::Single(_) | TapShape::Unusable) => None,
        };
        moved.map(|(moved, turned)| (told(moved) - told(at) + turned).cfm()).unwrap_or_default()
    }
}

/// What a part of a change that is in doubt by itself does to a tap where it errs by its standard uncertainty.
pub(super) enum Wobble {
    /// The path asks for so much more, in. w.c. for each cfm².
    Path(f64),
    /// The tap moves so much more.
    Airflow(Airflow),
}

/// That of every change that is on, at the crossing of the tap that runs.
pub(super) fn wobbles<'a>(
    found: &Found<'a>,
    on: &[&'a Change],
    changed: &Changed<'a>,
    crossing: &Crossing,
) -> Vec<Wobble> {
    let load = changed.load();
    let shape = changed.shapes.get(changed.in_use).unwrap_or(&TapShape::Unusable);
    let wobble = |step: &Step| match step {
        Step::Path(ends, doubt, _) => Wobble::Path(path_step(ends, *doubt, crossing.airflow).coefficient),
        Step::Shapes(_) => {
            Wobble::Airflow(Airflow::from_cfm(step.shift((changed.in_use, shape), &load, crossing, &|airflow| airflow)))
        }
    };
    steps(found, on, changed, AT_BLOWER).iter().map(wobble).collect()
}

/// How much more a path asks for at an airflow when a step of it errs by a fraction, by the square law from there.
fn path_step([from, to]: &[SystemLoad; 2], doubt: f64, at: Airflow) -> PowerLaw {
    PowerLaw::through(at, (to.entry(at) - from.entry(at)) * doubt, SQUARE_LAW)
}

/// The steps of the changes of a system, for what is told of it.
fn steps<'a>(found: &Found<'a>, on: &[&'a Change], changed: &Changed<'a>, told: Told) -> Vec<Step> {
    let mut steps = Vec::new();
    let now = found.operation.now.airflow;
    let part_of = |parts: &[Part]| told(parts, now) / now;
    let mut before = (found.operation.load.clone(), 1.0, part_of(&found.operation.parts));
    found.in_turn(
        on.iter().copied(),
        |_, _| {},
        |change, then| {
            let (load, part) = (then.load(), part_of(&then.parts));
            steps.extend(step(found, change, (&before.0, before.1), (then, &load), (changed, part - before.2)));
            before = (load, then.speed, part);
        },
    );
    steps
}

/// What of one change is in doubt by itself: of a new part its data's, of a mere change of tap, call or machine none.
///
/// It goes from a load and a speed to a system with its load; `all` is the system with every change that counts, `turned` the part of the blower's air that it turns to what is told.
fn step(
    found: &Found<'_>,
    change: &Change,
    (from, speed): (&SystemLoad, f64),
    (then, to): (&Changed<'_>, &SystemLoad),
    (all, turned): (&Changed<'_>, f64),
) -> Option<Step> {
    let accuracy = &found.inputs.job.accuracy;
    let (data, doubt) = (from_95(accuracy.data_fraction), from_95(accuracy.change_fraction));
    let asked = change.kind.particulars();
    if asked.is_by_table() {
        return None;
    }
    if then.speed < speed {
        let own = then.speed / speed;
        let moved = (1.0 - (1.0 - own) * (1.0 + doubt)) / own;
        return Some(Step::Shapes(Found::below_table(all, all.speed * moved)));
    }
    let (Some(id), true) = (change.kind.element(), asked.replaces_part) else {
        return Some(Step::Path(Box::new([from.clone(), to.clone()]), doubt, turned));
    };
    let mut parts = then.parts.clone();
    if let Some(part) = part_mut(&mut parts, id) {
        part.each_law(&|law| law.scaled(1.0 + data));
    }
    let dearer = load_of(&parts, &then.corrections, to.entry_ratio);
    Some(Step::Path(Box::new([to.clone(), dearer]), 1.0, 0.0))
}

fn worth<'a>(found: &Found<'a>, change: &'a Change) -> (Worth, Option<(Changed<'a>, Crossing)>) {
    let mut changed = found.as_read();
    let (inputs, now) = (found.inputs, &found.operation.now);
    let put_on = found.put_on(&mut changed, &change.kind);
    let point = put_on.and_then(|()| found.point_of(&changed).ok_or(Refusal::OutOfReach));
    let gain = point.clone().and_then(|point| {
        let shapes = inputs.shapes.get(inputs.in_use).zip(changed.shapes.get(changed.in_use));
        let gain = shapes.map(|(shape, then)| Start::new(now, shape).gain(&point, then));
        gain.ok_or(Refusal::OutOfReach)
    });
    let point = point.ok();
    let to_rooms = |parts: &[Part], blower| flows::delivered(parts, blower).to_rooms;
    let rooms = point.filter(|_| gain.as_ref().is_ok_and(|gain| gain.most.is_none()));
    let of = |point: &Crossing| to_rooms(&changed.parts, point.airflow);
    let to_rooms = rooms.as_ref().map(|point| Gain::of(to_rooms(&found.operation.parts, now.airflow), of(point)));
    (Worth { id: change.id, gain, to_rooms, to_rooms_spread: None, spread: None }, point.map(|point| (changed, point)))
}
