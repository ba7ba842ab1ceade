//! The changes put on the path, where it runs after them, and the cheapest set.

use serde::Serialize;

use super::given::TargetPart;
use super::judged::Plate;
use super::remarks::{self, AssumptionPart};
use super::system::{PartOfPath, SystemPart, element};
use super::taps::ToldTap;
use super::tree::DeliveredPart;
use super::{sizes, words};
use crate::model::alone;
use crate::model::answer::Answer;
use crate::model::change::Role;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::target::TargetBand;
use crate::model::search::{FoundSet, SearchResult};
use crate::model::verdicts::system::Projection;
use crate::model::wording::{self, changes};
use crate::units::{Airflow, Power};

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
    to_rooms_cfm: Option<f64>,
    condition_ids: Vec<u32>,
    only_with_conditions: bool,
}

/// Every change of the job, in its order.
pub(super) fn changes(job: &Job, answer: &Answer) -> Vec<ChangePart> {
    job.changes.iter().map(|change| one(job, answer, change)).collect()
}

fn one(job: &Job, answer: &Answer, change: &Change) -> ChangePart {
    let after = answer.with_changes();
    let worth = after.and_then(|after| after.worths.iter().find(|worth| worth.id == change.id));
    let gain = worth.map(|worth| worth.gain.as_ref());
    let after_others = after.and_then(|after| after.after_others.iter().find(|gain| gain.id == change.id));
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
        worth_after_others_cfm: after_others.map(|after| after.gain.least.cfm()),
        worth_after_others_up_to_cfm: after_others.and_then(|after| after.gain.most).map(Airflow::cfm),
        worth_up_to_cfm: gain.and_then(Result::ok).and_then(|gain| gain.most).map(Airflow::cfm),
        worth_to_rooms_cfm: worth.and_then(|worth| worth.to_rooms).map(|gain| gain.least.cfm()),
        guesses: answer.point().map(|point| changes::guesses(job, point, change, remarks::UNITS)).unwrap_or_default(),
        worth_unknown: gain.and_then(Result::err).map(ToString::to_string),
        refused: refused.map(|(_, refusal)| refusal.to_string()),
    }
}

/// Where it runs after the changes that are on, whose system is `told`.
pub(super) fn summary(job: &Job, after: &Projection, told: SystemPart) -> AfterPart {
    let point = told.point();
    let price = after.price(job);
    AfterPart {
        machine: after.system.blower.other.as_ref().map(|table| table.name.clone()),
        call: words::call(after.system.blower.call),
        tap: after.system.tap().map(str::to_owned),
        airflow_cfm: point.map(|point| point.airflow_cfm),
        u95_airflow_cfm: point.map(|point| point.u95_airflow_cfm),
        gain_cfm: point.map(|point| point.gain_cfm),
        gain_is_at_most: after.system.unknown_part.is_some(),
        gain_up_to_cfm: point.and_then(|point| point.gain_up_to_cfm),
        u95_gain_cfm: point.map(|point| point.u95_gain_cfm),
        price: price.map(|(price, _)| price),
        unpriced: price.map_or_else(|| after.counted(job), |(_, unpriced)| unpriced),
        of_target_fraction: point.and_then(|point| point.of_target_fraction),
        reach: point.and_then(|point| point.reach),
        tesp_in_wc: point.map(|point| point.tesp_in_wc),
        plate: point.and_then(|point| point.plate),
        assumptions: after.system.assumptions.iter().map(remarks::assumption).collect(),
        target: told.target,
        delivered: told.delivered,
        parts: told.parts,
        taps: told.taps,
    }
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
        price: found.told_price(),
        tap: found.tap,
        airflow_cfm: found.crossing.airflow.cfm(),
        u95_airflow_cfm: runs.map(|runs| runs.spread.airflow.cfm()),
        gain_cfm: found.gain.least.cfm(),
        gain_up_to_cfm: found.gain.most.map(Airflow::cfm),
        u95_gain_cfm: runs.map(|runs| runs.spread.gain.cfm()),
        power_watts: runs.and_then(|runs| runs.power).map(Power::watts),
        may_miss: doubts.into_iter().map(words::in_doubt).collect(),
        tesp_in_wc: found.crossing.tesp.in_wc(),
        to_rooms_cfm: found.delivered.map(|delivered| delivered.to_rooms.cfm()),
        condition_ids: ids(&found.conditions),
        only_with_conditions: found.only_with_conditions,
    }
}
