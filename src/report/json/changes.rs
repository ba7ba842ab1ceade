//! What the path is made of, the changes put on it, where it runs after them, and the cheapest set.

use serde::Serialize;

use super::given::{self, TargetPart};
use super::point::{Plate, plate};
use super::remarks::{self, AssumptionPart};
use super::taps::ToldTap;
use super::tree::{self, DeliveredPart};
use super::{sizes, words};
use crate::model::alone;
use crate::model::answer::Answer;
use crate::model::change::Role;
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::standing::{PathStanding, Standing};
use crate::model::facts::target::TargetBand;
use crate::model::path::parts::{Part, Route, flows};
use crate::model::search::{FoundSet, SearchResult};
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::{self, changes};
use crate::units::{Airflow, Power};

#[derive(Debug, Serialize)]
pub(super) struct PartOfPath {
    elements: Vec<&'static str>,
    element_ids: Vec<u32>,
    side: &'static str,
    airflow_cfm: Option<f64>,
    drop_in_wc: Option<f64>,
    standing: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct ChangePart {
    id: u32,
    name: &'static str,
    role: &'static str,
    on: bool,
    price: Option<f64>,
    note: String,
    element: Option<&'static str>,
    element_id: Option<u32>,
    sizes: Vec<sizes::SizePart>,
    question: Option<String>,
    worth_cfm: Option<f64>,
    worth_is_at_most: bool,
    worth_up_to_cfm: Option<f64>,
    u95_worth_cfm: Option<f64>,
    worth_to_rooms_cfm: Option<f64>,
    worth_after_others_cfm: Option<f64>,
    worth_after_others_up_to_cfm: Option<f64>,
    worth_unknown: Option<String>,
    guesses: Vec<String>,
    refused: Option<String>,
}

#[derive(Debug, Serialize)]
pub(super) struct AfterPart {
    machine: Option<String>,
    call: &'static str,
    target: Option<TargetPart>,
    tap: Option<String>,
    airflow_cfm: Option<f64>,
    u95_airflow_cfm: Option<f64>,
    gain_cfm: Option<f64>,
    gain_is_at_most: bool,
    gain_up_to_cfm: Option<f64>,
    u95_gain_cfm: Option<f64>,
    price: Option<f64>,
    unpriced: usize,
    of_target_fraction: Option<f64>,
    reach: Option<&'static str>,
    tesp_in_wc: Option<f64>,
    plate: Option<Plate>,
    assumptions: Vec<AssumptionPart>,
    delivered: Option<DeliveredPart>,
    parts: Vec<PartOfPath>,
    taps: Vec<ToldTap>,
}

/// A tap on the path after the changes.
#[derive(Debug, Serialize)]
pub(super) struct TapAfter {
    airflow_cfm: f64,
    u95_airflow_cfm: Option<f64>,
    gain_cfm: f64,
    gain_up_to_cfm: Option<f64>,
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
    price: Option<f64>,
    tap: String,
    airflow_cfm: f64,
    u95_airflow_cfm: Option<f64>,
    gain_cfm: f64,
    gain_up_to_cfm: Option<f64>,
    u95_gain_cfm: Option<f64>,
    power_watts: Option<f64>,
    may_miss: Vec<&'static str>,
    tesp_in_wc: f64,
}

/// The parts as read.
pub(super) fn parts(job: &Job, running: &Running) -> Vec<PartOfPath> {
    parts_at(job, &running.system.parts, Some(running.now.airflow))
}

fn parts_at(job: &Job, parts: &[Part], airflow: Option<Airflow>) -> Vec<PartOfPath> {
    let part = |part: &Part| {
        let through = airflow.map(|airflow| flows::through(parts, part.route, airflow));
        PartOfPath {
            elements: part.elements.iter().filter_map(|id| element(job, *id)).collect(),
            element_ids: part.elements.iter().map(|id| id.0).collect(),
            side: if part.before_blower { "return" } else { "supply" },
            airflow_cfm: through.map(Airflow::cfm),
            drop_in_wc: through.map(|through| part.drop_at(through).in_wc()),
            standing: path_word(part.standing),
        }
    };
    let is_told = |part: &&Part| part.route != Route::Inside;
    parts.iter().filter(is_told).map(part).collect()
}

fn path_word(path: PathStanding) -> &'static str {
    Standing { path, ..Standing::default() }.words().1
}

fn element(job: &Job, id: ElementId) -> Option<&'static str> {
    let is_bypass = job.path.bypass.as_ref().is_some_and(|bypass| bypass.id == id);
    let kind = job.path.element(id).map(|element| element.kind).or(is_bypass.then_some(ElementKind::Bypass));
    kind.map(words::element)
}

fn after(answer: &Answer) -> Option<(&Running, &Projection)> {
    let running = answer.point()?;
    Some((running, answer.with_changes()?))
}

/// Every change of the job, in its order.
pub(super) fn changes(job: &Job, answer: &Answer) -> Vec<ChangePart> {
    job.changes.iter().map(|change| one(job, answer, change)).collect()
}

fn one(job: &Job, answer: &Answer, change: &Change) -> ChangePart {
    let after = after(answer).map(|(_, after)| after);
    let worth = after.and_then(|after| after.worths.iter().find(|worth| worth.id == change.id));
    let gain = worth.map(|worth| worth.gain.as_ref());
    let last = after.and_then(|after| after.last).filter(|last| last.id == change.id);
    let refused = after.and_then(|after| after.refused.iter().find(|(id, _)| *id == change.id));
    ChangePart {
        id: change.id.0,
        name: change.kind.declaration().name,
        role: match change.kind.declaration().role {
            Role::Fix => "fix",
            Role::Condition => "condition",
        },
        on: change.is_on(),
        price: change.price,
        note: change.note.clone(),
        element: change.kind.element().and_then(|id| element(job, id)),
        element_id: change.kind.element().map(|id| id.0),
        u95_worth_cfm: worth.and_then(|worth| worth.spread).map(Airflow::cfm),
        sizes: sizes::of(&change.kind),
        question: alone::odd_run(job, answer, &change.kind).map(|odd| wording::alone::odd_run(&odd, remarks::UNITS)),
        worth_cfm: gain.and_then(Result::ok).map(|gain| gain.least.cfm()),
        worth_is_at_most: changes::unknown_alone(job, change).is_some(),
        worth_after_others_cfm: last.map(|last| last.gain.least.cfm()),
        worth_after_others_up_to_cfm: last.and_then(|last| last.gain.most).map(Airflow::cfm),
        worth_up_to_cfm: gain.and_then(Result::ok).and_then(|gain| gain.most).map(Airflow::cfm),
        worth_to_rooms_cfm: worth.and_then(|worth| worth.to_rooms).map(Airflow::cfm),
        guesses: answer.point().map(|point| changes::guesses(job, point, change, remarks::UNITS)).unwrap_or_default(),
        worth_unknown: gain.and_then(Result::err).map(ToString::to_string),
        refused: refused.map(|(_, refusal)| refusal.to_string()),
    }
}

/// Where it runs after the changes that are on; nothing for a job without changes or without a point.
pub(super) fn summary(job: &Job, answer: &Answer) -> Option<AfterPart> {
    let (running, after) = after(answer)?;
    let runs = after.system.runs();
    let point = runs.map(|runs| &runs.crossing);
    let airflow = point.map(|point| point.airflow);
    let gain = runs.map(|runs| runs.gain);
    let spread = runs.map(|runs| runs.spread);
    let price = after.price(job);
    Some(AfterPart {
        machine: after.system.blower.other.as_ref().map(|table| table.name.clone()),
        call: words::call(after.system.blower.call),
        target: after.system.blower.target.as_ref().map(given::target),
        tap: after.system.tap().map(str::to_owned),
        airflow_cfm: airflow.map(Airflow::cfm),
        u95_airflow_cfm: spread.map(|spread| spread.airflow.cfm()),
        gain_cfm: gain.map(|gain| gain.least.cfm()),
        gain_is_at_most: after.system.unknown_part.is_some(),
        gain_up_to_cfm: gain.and_then(|gain| gain.most).map(Airflow::cfm),
        u95_gain_cfm: spread.map(|spread| spread.gain.cfm()),
        price: price.map(|(price, _)| price),
        unpriced: price.map_or_else(|| after.counted(job), |(_, unpriced)| unpriced),
        of_target_fraction: runs.and_then(|runs| runs.of_target),
        reach: runs.and_then(|runs| runs.reach).map(words::reach),
        tesp_in_wc: point.map(|point| point.tesp.in_wc()),
        plate: after.system.plate().as_ref().map(plate),
        assumptions: after.system.assumptions.iter().map(remarks::assumption).collect(),
        delivered: after.system.delivered.as_ref().map(tree::delivered),
        parts: parts_at(job, &after.system.parts, airflow),
        taps: super::taps::after(job, running, after),
    })
}

/// A tap of the job's own table after the changes that are on; nothing where another machine stands there.
pub(super) fn tap(answer: &Answer, index: usize) -> Option<TapAfter> {
    let (_, after) = after(answer).filter(|(_, after)| after.system.blower.other.is_none())?;
    let reached = after.system.taps.get(index)?.reached()?;
    let point = &reached.crossing;
    let spread = after.system.spreads.taps.get(index).copied().flatten();
    Some(TapAfter {
        airflow_cfm: point.airflow.cfm(),
        u95_airflow_cfm: spread.map(|spread| spread.airflow.cfm()),
        gain_cfm: reached.gain.least.cfm(),
        gain_up_to_cfm: reached.gain.most.map(Airflow::cfm),
        u95_gain_cfm: spread.map(|spread| spread.gain.cfm()),
        tesp_in_wc: point.tesp.in_wc(),
        plate: reached.plate.as_ref().map(plate),
    })
}

/// The cheapest sets of changes; nothing for a job without changes.
pub(super) fn cheapest(job: &Job, found: SearchResult) -> Option<Cheapest> {
    let SearchResult { best, examined, checked, none_reason, target, .. } = found;
    (!job.changes.is_empty()).then(|| Cheapest {
        examined,
        checked,
        none_reason: none_reason.map(|reason| reason.sentence()),
        best: best.into_iter().map(|found| set(found, target.as_ref())).collect(),
    })
}

fn set(found: FoundSet, target: Option<&TargetBand>) -> Set {
    let doubts = target.map(|target| found.doubts(target)).unwrap_or_default();
    let runs = found.runs.as_ref();
    let ids = |ids: &[ChangeId]| ids.iter().map(|id| id.0).collect();
    Set {
        change_ids: ids(&found.changes),
        unpriced_ids: ids(&found.unpriced),
        price: (found.changes.is_empty() || found.unpriced.len() < found.changes.len()).then_some(found.price),
        tap: found.tap,
        airflow_cfm: found.crossing.airflow.cfm(),
        u95_airflow_cfm: runs.map(|runs| runs.spread.airflow.cfm()),
        gain_cfm: found.gain.least.cfm(),
        gain_up_to_cfm: found.gain.most.map(Airflow::cfm),
        u95_gain_cfm: runs.map(|runs| runs.spread.gain.cfm()),
        power_watts: runs.and_then(|runs| runs.power).map(Power::watts),
        may_miss: doubts.into_iter().map(words::in_doubt).collect(),
        tesp_in_wc: found.crossing.tesp.in_wc(),
    }
}
