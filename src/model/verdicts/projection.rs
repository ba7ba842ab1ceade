//! The system with changes on, judged.

use std::sync::Arc;

use crate::model::change::kinds::other_machine;
use crate::model::change::{Role, Stage};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::{Change, ChangeId, Replacement};
use crate::model::facts::job::Job;
use crate::model::path::parts::along::along;
use crate::model::path::parts::{Part, flows, part_of};
use crate::model::path::tesp::{Assumption, Bound};
use crate::model::solution::changed::{Changed, Found};
use crate::model::solution::draws::Draws;
use crate::model::solution::uncertainty::Doubt;
use crate::model::solution::worth::{self, Solved};
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::most::most;
use crate::model::verdicts::needs::{Need, needs};
use crate::model::verdicts::system::{Joined, Projection, Running, System};
use crate::model::verdicts::taps::{self, KnownPath};
use crate::model::verdicts::targets;
use crate::units::{Airflow, Pressure};

/// The system with the changes that are on and what is wished for besides, its ± by draws where they tell another; nothing when there is neither.
pub fn project(found: &Found<'_>, doubt: &Doubt<'_>, draws: Option<Draws>, running: &Running) -> Option<Projection> {
    let job = found.inputs.job;
    if job.changes.is_empty() && found.wish.is_none() {
        return None;
    }
    let start = running.start()?;
    let mut solved = worth::solve(found);
    let mut spreads = worth::spreads(found, doubt, &mut solved);
    if let Some(draws) = draws {
        draws.put_into_changed(&mut spreads, solved.changed.in_use);
        solved.tell_gain_of_only(job, &spreads);
    }
    let rooms_spread = worth::rooms_spread(found, doubt, &solved);
    let Solved { changed, crossings, worths, after_others, refused, .. } = solved;
    let point = crossings.get(changed.in_use).and_then(|crossing| crossing.as_ref().ok());
    let delivered = point.map(|point| flows::delivered(&changed.parts, point.airflow));
    let unknown_part = changed.replacement.and_then(|new| other_machine::unknown_part(job, new));
    let table = changed.table;
    let bound = running.sum.bound().and(Bound { less: unknown_part.is_some(), more: false });
    let load = changed.load();
    let left = &left(job, changed.replacement, unknown_part);
    let touched = touched(&running.system.parts, &changed.parts, left);
    let joined = point.map(|point| joined(&running.system.parts, &changed.parts, point.airflow)).unwrap_or_default();
    let profile = point.map(|point| along(job, table, (&changed.parts, left), point.airflow, changed.density_ratio));
    let most = point.and_then(|point| most(job, &changed.parts, point.airflow));
    let blower = blower(found, &changed);
    let Changed { parts, assumptions, .. } = changed;
    let path = KnownPath {
        now: &running.now,
        standing: running.standing,
        static_spread: running.system.spreads.tesp,
        load: &load,
        crossings: &crossings,
        parts: &parts,
        spreads: &spreads,
        as_read: false,
        start,
        bound,
        is_assumed: !assumptions.iter().all(Assumption::is_within_spread),
        only_tap: running.anchored.filter(|anchored| !anchored.scales()).and(running.system.blower.in_use),
    };
    let taps = taps::all(job, table, &blower, Some(path));
    let system =
        System { blower, parts, load, taps, spreads, delivered, profile, most, bound, unknown_part, assumptions };
    let blamed = blamed(found, &system, running.now.tesp);
    let wish = found.wish;
    Some(Projection { system, touched, joined, worths, after_others, refused, rooms_spread, blamed, wish })
}

/// Elements that left with an old machine and that the new one has in its table or not at all: one that it will have and of which nothing is known drops something.
fn left(job: &Job, new: Option<&Replacement>, unknown: Option<ElementKind>) -> Vec<ElementId> {
    let is_known = |id: &ElementId| job.path.element(*id).map(|element| element.kind) != unknown;
    new.map(|new| new.leaves.iter().copied().filter(is_known).collect()).unwrap_or_default()
}

/// States of the path that are on, where without them less would have to come out than work takes out of a path, and with them more.
fn blamed(found: &Found<'_>, system: &System, today: Pressure) -> Vec<ChangeId> {
    let job = found.inputs.job;
    let is_past = |need: &Need| need.ease().is_some_and(|ease| ease.share() > job.limits.most_out);
    let is_state =
        |change: &&Change| change.kind.declaration().role == Role::Condition && change.kind.stage() >= Stage::State;
    let on = || job.changes.iter().filter(|change| change.is_on());
    let states: Vec<ChangeId> = on().filter(is_state).map(|change| change.id).collect();
    let is_much = system.running().and_then(|tap| tap.into_band.as_ref()).is_some_and(is_past);
    let Some(target) = system.blower.target.filter(|_| is_much && !states.is_empty()) else {
        return Vec::new();
    };
    let without = found.with(on().filter(|change| !is_state(change)), |_, _| {});
    let (shape, plate) = (without.shapes.get(without.in_use), without.table.rated_maximum);
    let need = |shape| needs(shape, &without.load(), &target, (today, plate), false).band;
    if shape.map(need).is_none_or(|need| is_past(&need)) { Vec::new() } else { states }
}

/// Elements that are parts of their own before and after, under another law, and those that left with the old machine.
fn touched(before: &[Part], after: &[Part], left: &[ElementId]) -> Vec<ElementId> {
    let ids = before.iter().flat_map(Part::all_elements);
    ids.filter(|id| match (part_of(before, *id), part_of(after, *id)) {
        (Some(before), Some(after)) => before.curve() != after.curve(),
        (Some(_), None) => left.contains(id),
        (None, _) => false,
    })
    .collect()
}

fn joined(before: &[Part], after: &[Part], airflow: Airflow) -> Vec<Joined> {
    let is_new = |part: &&Part| part.elements.len() > 1 && !before.iter().any(|old| old.elements == part.elements);
    let of_part = |part: &Part| {
        let stood = before.iter().filter(|old| old.elements.iter().all(|id| part.elements.contains(id)));
        Joined {
            elements: part.elements.clone(),
            before: stood.map(|old| old.drop_at(old.flow)).sum(),
            after: part.drop_at(flows::through(after, part.route, airflow)),
        }
    };
    after.iter().filter(is_new).map(of_part).collect()
}

fn blower(found: &Found<'_>, changed: &Changed<'_>) -> Blower {
    Blower {
        target: targets::of(
            found.inputs.job,
            changed.table,
            changed.call,
            changed.replacement.and_then(|new| new.target),
        ),
        air: found.inputs.job.set().air.at_blower(changed.table.kind, changed.call),
        other: changed.replacement.map(|new| Box::new(new.table.clone())),
        shapes: Arc::clone(&changed.shapes),
        in_use: Some(changed.in_use),
        call: changed.call,
        density_ratio: changed.density_ratio,
        entry_ratio: changed.load().entry_ratio,
    }
}
