//! The whole report of one job.

use serde::Serialize;

use super::system::{PartOfPath, SystemPart};
use super::{changes, ducts, given, point, remarks, taps, tree};
use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::search::SearchResult;
use crate::model::wording;

/// Version of the report's layout.
pub const REPORT_VERSION: u32 = 1;

/// Every result of one job.
#[derive(Debug, Serialize)]
pub struct Report {
    #[serde(rename = "tapcross_report")]
    layout: u32,
    program_version: &'static str,
    file: String,
    job: given::JobPart,
    machine: Option<given::Machine>,
    readings: given::Readings,
    air: given::Air,
    target: Option<given::TargetPart>,
    call_targets: Vec<given::CallTargetPart>,
    operating_point: Option<point::OperatingPoint>,
    why_not: Option<point::WhyNot>,
    segments: Vec<point::SegmentPart>,
    parts: Vec<PartOfPath>,
    ducts: Option<ducts::DuctPart>,
    path: Vec<tree::ElementPart>,
    ports: Vec<tree::PortPart>,
    bypass: Option<tree::BypassPart>,
    delivered: Option<tree::DeliveredPart>,
    taps: Vec<taps::Tap>,
    changes: Vec<changes::ChangePart>,
    after: Option<changes::AfterPart>,
    cheapest: Option<changes::Cheapest>,
    assumptions: Vec<remarks::AssumptionPart>,
    cautions: Vec<remarks::CautionPart>,
    findings: Vec<remarks::FindingPart>,
    problems: Vec<remarks::ProblemPart>,
    table_problems: Vec<remarks::TableProblemPart>,
    verdict: remarks::VerdictPart,
    limits: given::Limits,
    accuracy: given::Accuracy,
}

impl Report {
    /// The report of a job, what follows from it and what its search for the cheapest sets found; `file` is what the job is called by.
    pub fn of(file: &str, job: &Job, answer: &Answer, found: SearchResult) -> Self {
        let running = answer.point();
        let as_found = SystemPart::found(job, answer);
        let changed = running.zip(answer.with_changes());
        let changed = changed.map(|(running, after)| (after, SystemPart::of(job, running, &after.system)));
        // Another machine has taps of its own.
        let same_machine = changed.as_ref().filter(|(after, _)| after.system.blower.other.is_none());
        let taps_after = same_machine.map(|(_, part)| part.taps.as_slice()).unwrap_or_default();
        let verdict = wording::verdict(job, answer, remarks::UNITS);
        Self {
            layout: REPORT_VERSION,
            program_version: env!("CARGO_PKG_VERSION"),
            file: file.to_owned(),
            job: given::job(job),
            machine: job.machine.as_ref().map(given::machine),
            readings: given::readings(job),
            air: given::air(job, answer),
            call_targets: given::call_targets(job),
            operating_point: running
                .zip(as_found.point())
                .map(|(running, point)| point::operating_point(job, running, point)),
            why_not: answer.why_not().map(|reason| point::why_not(reason, &verdict)),
            segments: running.map(point::segments).unwrap_or_default(),
            parts: as_found.parts,
            ducts: ducts::ducts(answer),
            path: tree::elements(job, answer),
            ports: tree::ports(job),
            bypass: tree::bypass(job, answer),
            delivered: as_found.delivered,
            target: as_found.target,
            taps: taps::beside(as_found.taps, taps_after),
            changes: changes::changes(job, answer),
            after: changed.map(|(after, part)| changes::summary(job, after, part)),
            cheapest: changes::cheapest(job, found),
            assumptions: remarks::assumptions(answer),
            cautions: remarks::cautions(job, answer),
            findings: remarks::findings(job, answer),
            problems: remarks::problems(answer),
            table_problems: remarks::table_problems(job, answer),
            verdict: remarks::verdict(verdict),
            limits: given::limits(job),
            accuracy: given::accuracy(job),
        }
    }
}
