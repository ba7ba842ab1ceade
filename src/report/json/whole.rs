//! The whole report of one job.

use serde::Serialize;
use serde_json::Value;

use super::part::part;
use super::system::{PartOfPath, SystemPart};
use super::{
    changes, commissioning, ducts, given, monte_carlo, opinions, options, point, read_next, remarks, taps, tree, visit,
};
use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::search::SearchResult;
use crate::model::wording;

/// Version of the report's layout.
pub const REPORT_VERSION: u32 = 1;

part! {
    fn whole(file: &str, job: &Job, answer: &Answer, found: SearchResult) -> Whole [
        let running = answer.point();
        let as_found = SystemPart::found(job, answer);
        let runs = running.zip(as_found.point());
        let operating_point = runs.map(|(running, point)| point::operating_point(job, answer, running, point));
        let changed = running.zip(answer.with_changes());
        let changed = changed.map(|(running, after)| (after, SystemPart::of(job, running, &after.system)));
        // Another machine has taps of its own.
        let same_machine = changed.as_ref().filter(|(after, _)| after.system.blower.other.is_none());
        let taps_after = same_machine.map(|(_, part)| part.taps.as_slice()).unwrap_or_default();
        let verdict = wording::verdict(job, answer, remarks::UNITS);
    ] {
        tapcross_report: u32 = REPORT_VERSION,
        program_version: &'static str = env!("CARGO_PKG_VERSION"),
        file: String = file.to_owned(),
        job: given::JobPart = given::job(job),
        machine: Option<given::Machine> = job.machine.as_ref().map(given::machine),
        readings: given::Readings = given::readings(job),
        air: given::Air = given::air(job, answer),
        target: Option<given::TargetPart> = as_found.target,
        call_targets: Vec<given::CallTargetPart> = given::call_targets(job),
        operating_point: Option<point::OperatingPoint> = operating_point,
        monte_carlo: Option<monte_carlo::MonteCarlo> = answer.draws.as_ref().map(monte_carlo::monte_carlo),
        why_not: Option<point::WhyNot> = answer.why_not().map(|reason| point::why_not(reason, &verdict)),
        second_opinions: Vec<opinions::OpinionPart> = opinions::all(job, answer),
        segments: Vec<point::SegmentPart> = running.map(point::segments).unwrap_or_default(),
        parts: Vec<PartOfPath> = as_found.parts,
        ducts: Option<ducts::DuctPart> = ducts::ducts(answer),
        path: Vec<tree::ElementPart> = tree::elements(job, answer),
        ports: Vec<tree::PortPart> = tree::ports(job),
        bypass: Option<tree::BypassPart> = tree::bypass(job, answer),
        delivered: Option<tree::DeliveredPart> = as_found.delivered,
        taps: Vec<taps::Tap> = taps::beside(as_found.taps, taps_after),
        changes: Vec<changes::ChangePart> = changes::changes(job, answer),
        after: Option<changes::AfterPart> = changed.map(|(after, part)| changes::summary(job, answer.point(), after, part)),
        options: Vec<options::OptionPart> = options::all(job, answer),
        commissioning: Option<commissioning::CommissioningPart> = running.and_then(|running| commissioning::commissioning(job, running)),
        cheapest: Option<changes::Cheapest> = changes::cheapest(job, found),
        visit: Option<visit::VisitPart> = visit::visit(job, answer),
        read_next: read_next::ReadNextPart = read_next::read_next(job, answer),
        assumptions: Vec<remarks::AssumptionPart> = remarks::assumptions(answer),
        cautions: Vec<remarks::CautionPart> = remarks::cautions(job, answer),
        findings: Vec<remarks::FindingPart> = remarks::findings(job, answer),
        problems: Vec<remarks::ProblemPart> = remarks::problems(answer),
        table_problems: Vec<remarks::TableProblemPart> = remarks::table_problems(job, answer),
        verdict: remarks::VerdictPart = remarks::verdict(verdict),
        limits: given::Limits = given::limits(job),
        accuracy: given::Accuracy = given::accuracy(job),
        figure_sources: Vec<given::FigureSource> = given::figure_sources(job),
    }
}

/// Every result of one job.
#[derive(Debug, Serialize)]
pub struct Report(Whole);

impl Report {
    /// The report of a job, what follows from it and what its search for the cheapest sets found; `file` is what the job is called by.
    pub fn of(file: &str, job: &Job, answer: &Answer, found: SearchResult) -> Self {
        Self(whole(file, job, answer, found))
    }
}

/// Every option of a job, as the report has it.
///
/// # Errors
/// When it cannot be put into JSON.
pub fn every_option(job: &Job, answer: &Answer) -> Result<Vec<Value>, serde_json::Error> {
    options::all(job, answer).iter().map(serde_json::to_value).collect()
}

/// Every tap as found, and of the machine that runs after the changes where there are some: each as the report has it.
///
/// # Errors
/// When they cannot be put into JSON.
pub fn taps_of_both(job: &Job, answer: &Answer) -> Result<(Vec<Value>, Vec<Value>), serde_json::Error> {
    let told = |part: SystemPart| part.taps.iter().map(serde_json::to_value).collect::<Result<Vec<Value>, _>>();
    let changed = answer.point().zip(answer.with_changes());
    let changed = changed.map(|(running, after)| told(SystemPart::of(job, running, &after.system)));
    Ok((told(SystemPart::found(job, answer))?, changed.transpose()?.unwrap_or_default()))
}
