//! What is said in words: assumptions, findings, and what is wrong or odd with job and table.

use serde::Serialize;

use super::part::part;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::path::tesp::Assumption;
use crate::model::wording;
use crate::units::UnitSystem;

/// The units of every sentence in the report.
pub(super) const UNITS: UnitSystem = UnitSystem::InchPound;

#[derive(Debug, Serialize)]
pub(super) struct CautionPart {
    word: &'static str,
    sentence: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct FindingPart {
    kind: &'static str,
    weight: &'static str,
    sentence: String,
    likely_causes: Vec<String>,
}

#[derive(Debug, Serialize)]
pub(super) struct ProblemPart {
    field: &'static str,
    severity: &'static str,
    sentence: String,
}

#[derive(Debug, Serialize)]
pub(super) struct TableProblemPart {
    tap: Option<String>,
    row: Option<usize>,
    severity: &'static str,
    sentence: String,
}

part! {
    fn verdict(verdict: wording::Verdict) -> VerdictPart {
        headline: String = verdict.headline,
        detail: String = verdict.detail,
    }
}

pub(super) fn assumptions(answer: &Answer) -> Vec<AssumptionPart> {
    let assumed = answer.point().map(|running| running.sum.assumptions.as_slice());
    assumed.unwrap_or_default().iter().map(assumption).collect()
}

part! {
    fn assumption(assumption: &Assumption) -> AssumptionPart {
        code: &'static str = words::assumption(assumption),
        part: Option<&'static str> = words::assumed_part(assumption),
        sentence: String = wording::assumed(assumption),
    }
}

pub(super) fn cautions(job: &Job, answer: &Answer) -> Vec<CautionPart> {
    let part = |caution| CautionPart {
        word: words::caution(caution),
        sentence: wording::cautions::told(caution, job, answer).sentence,
    };
    wording::cautions::of_job(job, answer).into_iter().map(part).collect()
}

pub(super) fn findings(job: &Job, answer: &Answer) -> Vec<FindingPart> {
    let parts = answer.findings.iter().map(|finding| FindingPart {
        kind: words::finding(finding),
        weight: words::weight(finding.weight()),
        sentence: wording::sentence(job, finding, UNITS),
        likely_causes: wording::causes::of_finding(job, finding),
    });
    parts.collect()
}

pub(super) fn problems(answer: &Answer) -> Vec<ProblemPart> {
    let parts = answer.problems.iter().map(|problem| ProblemPart {
        field: words::field(problem.field),
        severity: words::severity(problem.severity),
        sentence: wording::problems::sentence(&problem.what, UNITS),
    });
    parts.collect()
}

pub(super) fn table_problems(job: &Job, answer: &Answer) -> Vec<TableProblemPart> {
    let taps = job.machine.as_ref().map(|table| table.taps.as_slice()).unwrap_or_default();
    let name = |index: usize| taps.get(index).map(|tap| tap.name.clone());
    let said = wording::tables::remarks(job, &answer.table_problems, UNITS);
    let parts = said.map(|(problem, sentence)| TableProblemPart {
        tap: problem.place.tap().and_then(name),
        row: problem.place.row().map(|row| row + 1),
        severity: words::severity(problem.severity),
        sentence,
    });
    parts.collect()
}
