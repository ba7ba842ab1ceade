//! What the path is made of, the changes put on it, where it runs after them, and the cheapest set.

use std::sync::atomic::AtomicBool;

use serde::Serialize;

use super::point::{Plate, plate};
use super::words;
use crate::model::air_path::ElementId;
use crate::model::answer::after::After;
use crate::model::answer::{Answer, Running, plate as judged, taps};
use crate::model::change::{Change, ChangeId};
use crate::model::job::Job;
use crate::model::operating_point::Crossing;
use crate::model::path_parts::{Part, flows};
use crate::model::search::{self, FoundSet, SearchResult};
use crate::model::standing::{PathStanding, Standing};
use crate::units::{Airflow, Pressure};

#[derive(Debug, Serialize)]
pub(super) struct PartOfPath {
    elements: Vec<&'static str>,
    side: &'static str,
    drop_in_wc: Option<f64>,
    standing: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct ChangePart {
    id: u32,
    name: &'static str,
    on: bool,
    price: Option<f64>,
    note: String,
    element: Option<&'static str>,
    worth_cfm: Option<f64>,
    refused: Option<String>,
}

#[derive(Debug, Serialize)]
pub(super) struct AfterPart {
    tap: Option<String>,
    airflow_cfm: Option<f64>,
    u95_airflow_cfm: Option<f64>,
    gain_cfm: Option<f64>,
    u95_gain_cfm: Option<f64>,
    of_target_fraction: Option<f64>,
    reach: Option<&'static str>,
    tesp_in_wc: Option<f64>,
    plate: Option<Plate>,
    parts: Vec<PartOfPath>,
}

/// A tap on the path after the changes.
#[derive(Debug, Serialize)]
pub(super) struct TapAfter {
    airflow_cfm: f64,
    u95_airflow_cfm: Option<f64>,
    gain_cfm: f64,
    u95_gain_cfm: Option<f64>,
    tesp_in_wc: f64,
    plate: Option<Plate>,
}

#[derive(Debug, Serialize)]
pub(super) struct Cheapest {
    examined: usize,
    checked: &'static str,
    none_reason: Option<String>,
    best: Vec<Set>,
}

#[derive(Debug, Serialize)]
struct Set {
    change_ids: Vec<u32>,
    unpriced_ids: Vec<u32>,
    price: f64,
    tap: String,
    airflow_cfm: f64,
    gain_cfm: f64,
    tesp_in_wc: f64,
}

/// The parts as read.
pub(super) fn parts(job: &Job, running: &Running) -> Vec<PartOfPath> {
    parts_at(job, &running.parts, Some(running.now.airflow))
}

fn parts_at(job: &Job, parts: &[Part], airflow: Option<Airflow>) -> Vec<PartOfPath> {
    let part = |part: &Part| PartOfPath {
        elements: part.elements.iter().filter_map(|id| element(job, *id)).collect(),
        side: if part.before_blower { "return" } else { "supply" },
        drop_in_wc: airflow.map(|airflow| part.drop_at(flows::through(parts, part.route, airflow)).in_wc()),
        standing: path_word(part.standing),
    };
    parts.iter().map(part).collect()
}

fn path_word(path: PathStanding) -> &'static str {
    Standing { path, ..Standing::default() }.words().1
}

fn element(job: &Job, id: ElementId) -> Option<&'static str> {
    job.path.element(id).map(|element| words::element(element.kind))
}

fn after(answer: &Answer) -> Option<(&Running, &After)> {
    let running = answer.point()?;
    Some((running, running.after.as_ref()?))
}

/// Every change of the job, in its order.
pub(super) fn changes(job: &Job, answer: &Answer) -> Vec<ChangePart> {
    job.changes.iter().map(|change| one(job, answer, change)).collect()
}

fn one(job: &Job, answer: &Answer, change: &Change) -> ChangePart {
    let worth = after(answer).and_then(|(_, after)| after.worths.iter().find(|worth| worth.id == change.id));
    let gain = worth.map(|worth| &worth.gain);
    ChangePart {
        id: change.id.0,
        name: change.kind.declaration().name,
        on: change.is_on(),
        price: change.price,
        note: change.note.clone(),
        element: change.kind.element().and_then(|id| element(job, id)),
        worth_cfm: gain.and_then(|gain| gain.as_ref().ok()).map(|gain| gain.cfm()),
        refused: gain.and_then(|gain| gain.as_ref().err()).cloned(),
    }
}

/// Where it runs after the changes that are on; nothing for a job without changes or without a point.
pub(super) fn summary(job: &Job, answer: &Answer) -> Option<AfterPart> {
    let (running, after) = after(answer)?;
    let point = after.point();
    let airflow = point.map(|point| point.airflow);
    let spread = after.spreads.taps.get(after.in_use).copied().flatten();
    Some(AfterPart {
        tap: after.tap().map(str::to_owned),
        airflow_cfm: airflow.map(Airflow::cfm),
        u95_airflow_cfm: spread.map(|spread| spread.airflow.cfm()),
        gain_cfm: airflow.map(|airflow| (airflow - running.airflow_before).cfm()),
        u95_gain_cfm: spread.map(|spread| spread.gain.cfm()),
        of_target_fraction: answer.target.zip(airflow).map(|(target, airflow)| airflow / target.actual),
        reach: answer
            .target
            .zip(airflow)
            .map(|(target, airflow)| words::reach(taps::reach(airflow, after.below(after.in_use), &target))),
        tesp_in_wc: point.map(|point| point.tesp.in_wc()),
        plate: point.and_then(|point| against_plate(job, answer, point)),
        parts: parts_at(job, &after.parts, airflow),
    })
}

fn against_plate(job: &Job, answer: &Answer, point: &Crossing) -> Option<Plate> {
    let limit = job.machine.as_ref()?.rated_maximum?;
    Some(plate(&judged::judge(point.tesp, limit, answer.density_ratio, Pressure::ZERO)))
}

/// A tap of the table after the changes that are on.
pub(super) fn tap(job: &Job, answer: &Answer, index: usize) -> Option<TapAfter> {
    let (running, after) = after(answer)?;
    let point = after.crossing(index)?;
    let spread = after.spreads.taps.get(index).copied().flatten();
    Some(TapAfter {
        airflow_cfm: point.airflow.cfm(),
        u95_airflow_cfm: spread.map(|spread| spread.airflow.cfm()),
        gain_cfm: (point.airflow - running.airflow_before).cfm(),
        u95_gain_cfm: spread.map(|spread| spread.gain.cfm()),
        tesp_in_wc: point.tesp.in_wc(),
        plate: against_plate(job, answer, point),
    })
}

/// The cheapest sets of changes; nothing for a job without changes.
pub(super) fn cheapest(job: &Job) -> Option<Cheapest> {
    if job.changes.is_empty() {
        return None;
    }
    let SearchResult { best, examined, checked, none_reason, .. } =
        search::cheapest(job, &AtomicBool::new(false), &mut |_| {});
    Some(Cheapest {
        examined,
        checked,
        none_reason: none_reason.map(|reason| reason.sentence()),
        best: best.into_iter().map(set).collect(),
    })
}

fn set(found: FoundSet) -> Set {
    let ids = |ids: &[ChangeId]| ids.iter().map(|id| id.0).collect();
    Set {
        change_ids: ids(&found.changes),
        unpriced_ids: ids(&found.unpriced),
        price: found.price,
        tap: found.tap,
        airflow_cfm: found.crossing.airflow.cfm(),
        gain_cfm: found.gain.cfm(),
        tesp_in_wc: found.crossing.tesp.in_wc(),
    }
}
