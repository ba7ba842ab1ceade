//! The whole report of one job.

use serde::Serialize;

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
    segments: Vec<point::PartOfPath>,
    parts: Vec<changes::PartOfPath>,
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
        let verdict = wording::verdict(job, answer, remarks::UNITS);
        Self {
            layout: REPORT_VERSION,
            program_version: env!("CARGO_PKG_VERSION"),
            file: file.to_owned(),
            job: given::job(job),
            machine: job.machine.as_ref().map(given::machine),
            readings: given::readings(job),
            air: given::air(job, answer),
            target: answer.blower().target.as_ref().map(given::target),
            call_targets: given::call_targets(job),
            operating_point: running.map(|running| point::operating_point(job, answer, running)),
            why_not: answer.why_not().map(|reason| point::why_not(reason, &verdict)),
            segments: running.map(point::segments).unwrap_or_default(),
            parts: running.map(|running| changes::parts(job, running)).unwrap_or_default(),
            ducts: ducts::ducts(answer),
            path: tree::elements(job, answer),
            ports: tree::ports(job),
            bypass: tree::bypass(job, answer),
            delivered: running.map(|running| tree::delivered(&running.delivered())),
            taps: taps::all(answer),
            changes: changes::changes(job, answer),
            after: changes::summary(job, answer),
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
