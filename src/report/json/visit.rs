//! The visit: every reading set, what they say together, and what could be wrong in them.

use super::part::part;
use super::remarks::UNITS;
use crate::model::answer::Answer;
use crate::model::answer::visit::{Correction, Kept, SetAnswer, Suspect, Visit};
use crate::model::facts::accuracy::COVERAGE;
use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadingSet;
use crate::model::solution::fit::{Fit, FittedDrop, Residual};
use crate::model::wording;

/// Sets are numbered from 1.
const fn number(set: usize) -> usize {
    set + 1
}

fn ids(elements: &[ElementId]) -> Vec<u32> {
    elements.iter().map(|id| id.0).collect()
}

part! {
    fn told(job: &Job, answer: &Answer, visit: &Visit) -> VisitPart [
        let all = job.sets.iter().zip(&visit.sets).enumerate();
    ] {
        judged_set: usize = number(job.judged),
        sets: Vec<SetPart> = all.map(|(index, (read, told))| set(job, visit, index, read, told)).collect(),
        fit: Option<FitPart> = visit.fit.as_ref().map(fit),
        suspects: Vec<SuspectPart> = visit.suspects.iter().map(suspect).collect(),
        sentences: Vec<String> = wording::visit::together(job, answer, UNITS),
    }
}

part! {
    fn set(job: &Job, visit: &Visit, index: usize, read: &ReadingSet, told: &SetAnswer) -> SetPart [
        let point = told.point.as_ref().ok();
        let sides = point.and_then(|point| point.sides);
        let kept = told.kept.as_ref();
    ] {
        set: usize = number(index),
        name: String = read.name.clone(),
        time: String = read.time.clone(),
        note: String = read.note.clone(),
        after_repair: bool = read.after_repair,
        otherwise: bool = read.otherwise,
        different: Vec<String> = wording::visit::different(job, index),
        says_what_set_says: Option<usize> = told.twin.map(number),
        tap: Option<String> = point.map(|point| point.tap.0.clone()),
        airflow_cfm: Option<f64> = point.map(|point| point.at.airflow.cfm()),
        u95_airflow_cfm: Option<f64> = point.map(|point| point.spread.cfm()),
        tesp_in_wc: Option<f64> = point.map(|point| point.at.tesp.in_wc()),
        u95_tesp_in_wc: Option<f64> = point.map(|point| point.tesp_spread.in_wc()),
        return_side_in_wc: Option<f64> = sides.map(|(before, _)| before.in_wc()),
        supply_side_in_wc: Option<f64> = sides.map(|(_, after)| after.in_wc()),
        step: Option<String> = wording::visit::step(job, visit, index, UNITS),
        promised_tap: Option<String> = kept.map(|kept| kept.promised_on.clone()),
        planned_tap: Option<String> = kept.and_then(|kept| kept.planned.clone()),
        promised_cfm: Option<f64> = kept.map(|kept| kept.promised.airflow.cfm()),
        promised_in_wc: Option<f64> = kept.map(|kept| kept.promised.tesp.in_wc()),
        off_promise_cfm: Option<f64> = kept.map(|kept| kept.off().cfm()),
        u95_off_promise_cfm: Option<f64> = kept.map(|kept| kept.spread.cfm()),
        as_promised: Option<bool> = kept.map(Kept::agrees),
    }
}

part! {
    fn fit(fit: &Fit) -> FitPart {
        airflow_cfm: f64 = fit.airflow.cfm(),
        holds: bool = fit.holds(),
        chi_squared: f64 = fit.chi_squared,
        freedom: usize = fit.freedom,
        drops: Vec<DropPart> = fit.drops.iter().map(drop).collect(),
        residuals: Vec<ResidualPart> = fit.residuals.iter().map(residual).collect(),
    }
}

part! {
    fn drop(fitted: &FittedDrop) -> DropPart {
        element_ids: Vec<u32> = ids(&fitted.elements),
        drop_in_wc: f64 = fitted.drop.in_wc(),
        u95_drop_in_wc: f64 = fitted.spread.in_wc(),
        wetting: bool = fitted.wetting,
        exponent: Option<f64> = fitted.exponent.map(|told| told.value),
        u95_exponent: Option<f64> = fitted.exponent.map(|told| COVERAGE * told.doubt),
    }
}

part! {
    fn residual(left: &Residual) -> ResidualPart {
        set: usize = number(left.set),
        element_ids: Vec<u32> = ids(&left.elements),
        off_in_wc: f64 = left.off.in_wc(),
        u95_off_in_wc: f64 = left.spread.in_wc(),
    }
}

part! {
    fn suspect(suspect: &Suspect) -> SuspectPart [
        let (what, tap, element_id) = match &suspect.what {
            Correction::Tap(tap) => ("tap", Some(tap.clone()), None),
            Correction::WasIn(id) => ("was_in", None, Some(id.0)),
            Correction::WasOut(id) => ("was_out", None, Some(id.0)),
            Correction::Readings => ("readings", None, None),
        };
    ] {
        set: usize = number(suspect.set),
        what: &'static str = what,
        tap: Option<String> = tap,
        element_id: Option<u32> = element_id,
        chi_squared: f64 = suspect.chi_squared,
    }
}

/// The visit of a job that has several reading sets.
pub(super) fn visit(job: &Job, answer: &Answer) -> Option<VisitPart> {
    answer.visit.as_ref().map(|visit| told(job, answer, visit))
}
