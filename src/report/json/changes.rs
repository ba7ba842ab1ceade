//! The changes put on the path, where it runs after them, and the cheapest set.

use serde::Serialize;

use super::given::TargetPart;
use super::judged::Plate;
use super::part::part;
use super::remarks::{self, AssumptionPart};
use super::system::{PartOfPath, SystemPart, element};
use super::taps::ToldTap;
use super::tree::DeliveredPart;
use super::{sizes, words};
use crate::model::answer::Answer;
use crate::model::change::Role;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::target::TargetBand;
use crate::model::search::{FoundSet, NearestSet, SearchResult};
use crate::model::verdicts::system::{Projection, Running};
use crate::model::wording::{self, changes};
use crate::units::{Airflow, Power};

#[derive(Debug, Serialize)]
pub(super) struct Cheapest {
    examined: usize,
    checked: &'static str,
    none_reason: Option<String>,
    nearest: Option<Nearest>,
    best: Vec<Set>,
}

/// Every change of the job, in its order.
pub(super) fn changes(job: &Job, answer: &Answer) -> Vec<ChangePart> {
    job.changes.iter().map(|change| one(job, answer, change)).collect()
}

part! {
    fn one(job: &Job, answer: &Answer, change: &Change) -> ChangePart [
        let after = answer.with_changes();
        let worth = after.and_then(|after| after.worths.iter().find(|worth| worth.id == change.id));
        let gain = worth.map(|worth| worth.gain.as_ref());
        let after_others = after.and_then(|after| after.after_others.iter().find(|gain| gain.id == change.id));
        let refused = after.and_then(|after| after.refused.iter().find(|(id, _)| *id == change.id));
    ] {
        id: u32 = change.id.0,
        name: &'static str = change.kind.declaration().name,
        role: &'static str = match change.kind.declaration().role {
            Role::Fix => "fix",
            Role::Condition => "condition",
        },
        on: bool = change.is_on(),
        price: Option<f64> = change.price,
        labour: Option<f64> = change.labour,
        note: String = change.note.clone(),
        element: Option<&'static str> = change.kind.element().and_then(|id| element(job, id)),
        element_id: Option<u32> = change.kind.element().map(|id| id.0),
        sizes: Vec<sizes::SizePart> = sizes::of(&change.kind),
        question: Option<String> = asked(job, answer, change),
        worth_cfm: Option<f64> = gain.and_then(Result::ok).map(|gain| gain.least.cfm()),
        worth_is_at_most: bool = changes::unknown_alone(job, change).is_some(),
        worth_up_to_cfm: Option<f64> = gain.and_then(Result::ok).and_then(|gain| gain.most).map(Airflow::cfm),
        u95_worth_cfm: Option<f64> = worth.and_then(|worth| worth.spread).map(Airflow::cfm),
        worth_to_rooms_cfm: Option<f64> = worth.and_then(|worth| worth.to_rooms).map(|gain| gain.least.cfm()),
        u95_worth_to_rooms_cfm: Option<f64> = worth.and_then(|worth| worth.to_rooms_spread).map(Airflow::cfm),
        worth_after_others_cfm: Option<f64> = after_others.map(|after| after.gain.least.cfm()),
        worth_after_others_up_to_cfm: Option<f64> = after_others.and_then(|after| after.gain.most).map(Airflow::cfm),
        worth_unknown: Option<String> = gain.and_then(Result::err).map(ToString::to_string),
        guesses: Vec<String> = answer.point().map(|point| changes::guesses(job, point, change, remarks::UNITS)).unwrap_or_default(),
        refused: Option<String> = refused.map(|(_, refusal)| refusal.to_string()),
    }
}

part! {
    /// Where it runs after the changes that are on, whose system is `told`.
    fn summary(job: &Job, running: Option<&Running>, after: &Projection, told: SystemPart) -> AfterPart [
        let point = told.point();
        let price = after.price(job);
        let gain = changes::gain(after).filter(|(gain, _)| gain.most.is_none());
        let rooms = running.and_then(|running| changes::rooms_gain(running, after)).or(gain);
    ] {
        machine: Option<String> = after.system.blower.other.as_ref().map(|table| table.name.clone()),
        call: &'static str = words::call(after.system.blower.call),
        target: Option<TargetPart> = told.target,
        tap: Option<String> = after.system.tap().map(str::to_owned),
        airflow_cfm: Option<f64> = point.map(|point| point.airflow_cfm),
        u95_airflow_cfm: Option<f64> = point.map(|point| point.u95_airflow_cfm),
        gain_cfm: Option<f64> = point.map(|point| point.gain_cfm),
        gain_is_at_most: bool = after.system.unknown_part.is_some(),
        gain_up_to_cfm: Option<f64> = point.and_then(|point| point.gain_up_to_cfm),
        u95_gain_cfm: Option<f64> = point.map(|point| point.u95_gain_cfm),
        gain_to_rooms_cfm: Option<f64> = rooms.map(|(gain, _)| gain.least.cfm()),
        u95_gain_to_rooms_cfm: Option<f64> = rooms.map(|(_, spread)| spread.cfm()),
        price: Option<f64> = price.map(|(price, _)| price),
        unpriced: usize = price.map_or_else(|| after.counted(job), |(_, unpriced)| unpriced),
        of_target_fraction: Option<f64> = point.and_then(|point| point.of_target_fraction),
        reach: Option<&'static str> = point.and_then(|point| point.reach),
        tesp_in_wc: Option<f64> = point.map(|point| point.tesp_in_wc),
        plate: Option<Plate> = point.and_then(|point| point.plate),
        assumptions: Vec<AssumptionPart> = after.system.assumptions.iter().map(remarks::assumption).collect(),
        delivered: Option<DeliveredPart> = told.delivered,
        parts: Vec<PartOfPath> = told.parts,
        taps: Vec<ToldTap> = told.taps,
    }
}

/// What is asked of its sizes, in one text; nothing where nothing is.
fn asked(job: &Job, answer: &Answer, change: &Change) -> Option<String> {
    let questions = wording::alone::questions(job, answer, &change.kind, remarks::UNITS);
    (!questions.is_empty()).then(|| questions.join(". "))
}

/// The cheapest sets of changes; nothing for a job without changes.
pub(super) fn cheapest(job: &Job, found: SearchResult) -> Option<Cheapest> {
    let SearchResult { best, examined, checked, none_reason, nearest, target, .. } = found;
    (!job.changes.is_empty()).then(|| Cheapest {
        examined,
        checked,
        none_reason: none_reason.map(|reason| reason.sentence()),
        nearest: nearest.as_ref().map(nearest_set),
        best: best.into_iter().map(|found| set(found, target.as_ref())).collect(),
    })
}

part! {
    fn nearest_set(near: &NearestSet) -> Nearest {
        change_ids: Vec<u32> = near.changes.iter().map(|id| id.0).collect(),
        tap: String = near.tap.clone(),
        airflow_cfm: f64 = near.ease.at.cfm(),
        remove_in_wc: f64 = near.ease.remove.in_wc(),
        remove_fraction: f64 = near.ease.share(),
    }
}

part! {
    fn set(found: FoundSet, target: Option<&TargetBand>) -> Set [
        let doubts = target.map(|target| found.doubts(target)).unwrap_or_default();
        let runs = found.runs.as_ref();
        let ids = |ids: &[ChangeId]| ids.iter().map(|id| id.0).collect();
    ] {
        change_ids: Vec<u32> = ids(&found.changes),
        unpriced_ids: Vec<u32> = ids(&found.unpriced),
        price: Option<f64> = found.told_price(),
        tap: String = found.tap,
        airflow_cfm: f64 = found.crossing.airflow.cfm(),
        u95_airflow_cfm: Option<f64> = runs.map(|runs| runs.spread.airflow.cfm()),
        gain_cfm: f64 = found.gain.least.cfm(),
        gain_up_to_cfm: Option<f64> = found.gain.most.map(Airflow::cfm),
        u95_gain_cfm: Option<f64> = runs.map(|runs| runs.spread.gain.cfm()),
        power_watts: Option<f64> = runs.and_then(|runs| runs.power).map(Power::watts),
        may_miss: Vec<&'static str> = doubts.into_iter().map(words::in_doubt).collect(),
        tesp_in_wc: f64 = found.crossing.tesp.in_wc(),
        to_rooms_cfm: Option<f64> = found.delivered.map(|delivered| delivered.to_rooms.cfm()),
        condition_ids: Vec<u32> = ids(&found.conditions),
        only_with_conditions: bool = found.only_with_conditions,
    }
}
