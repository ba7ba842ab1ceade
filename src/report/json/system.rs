//! One system as the report tells it: as it was found, or as changes make it.

use serde::Serialize;

use super::given::{self, TargetPart};
use super::judged::path_word;
use super::taps::{self, Point, ToldTap};
use super::tree::{self, DeliveredPart};
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::job::Job;
use crate::model::path::parts::{Part, Route, flows};
use crate::model::verdicts::system::{Running, System};
use crate::units::Airflow;

/// What is told of every system alike; the report and `after` have it under keys of their own.
#[derive(Debug, Default)]
pub(super) struct SystemPart {
    pub target: Option<TargetPart>,
    pub delivered: Option<DeliveredPart>,
    pub parts: Vec<PartOfPath>,
    pub taps: Vec<ToldTap>,
    in_use: Option<usize>,
}

#[derive(Debug, Serialize)]
pub(super) struct PartOfPath {
    elements: Vec<&'static str>,
    element_ids: Vec<u32>,
    side: &'static str,
    airflow_cfm: Option<f64>,
    drop_in_wc: Option<f64>,
    standing: &'static str,
}

impl SystemPart {
    /// The machine as it was found; one that does not run has its taps and its target.
    pub(super) fn found(job: &Job, answer: &Answer) -> Self {
        match &answer.found {
            Ok(running) => Self::of(job, running, &running.system),
            Err(idle) => Self {
                target: idle.blower.target.as_ref().map(given::target),
                taps: taps::told(&idle.blower, &idle.taps, None),
                ..Self::default()
            },
        }
    }

    /// Any system; `running` is the point that was read, on which its needs rest.
    pub(super) fn of(job: &Job, running: &Running, system: &System) -> Self {
        Self {
            target: system.blower.target.as_ref().map(given::target),
            delivered: system.delivered.as_ref().map(tree::delivered),
            parts: parts(job, &system.parts, system.point().map(|point| point.airflow)),
            taps: taps::told(&system.blower, &system.taps, Some(running)),
            in_use: system.blower.in_use,
        }
    }

    /// The point of the tap that runs.
    pub(super) fn point(&self) -> Option<&Point> {
        self.taps.get(self.in_use?)?.point.as_ref()
    }
}

fn parts(job: &Job, parts: &[Part], airflow: Option<Airflow>) -> Vec<PartOfPath> {
    let part = |part: &Part| {
        let through = airflow.map(|airflow| flows::through(parts, part.route, airflow));
        PartOfPath {
            elements: part.elements.iter().filter_map(|id| element(job, *id)).collect(),
            element_ids: part.elements.iter().map(|id| id.0).collect(),
            side: words::side(part.before_blower),
            airflow_cfm: through.map(Airflow::cfm),
            drop_in_wc: through.map(|through| part.drop_at(through).in_wc()),
            standing: path_word(part.standing),
        }
    };
    let is_told = |part: &&Part| part.route != Route::Inside;
    parts.iter().filter(is_told).map(part).collect()
}

/// The word for an element of the path or its bypass; nothing for one that is gone.
pub(super) fn element(job: &Job, id: ElementId) -> Option<&'static str> {
    let is_bypass = job.path.bypass.as_ref().is_some_and(|bypass| bypass.id == id);
    let kind = job.path.element(id).map(|element| element.kind).or(is_bypass.then_some(ElementKind::Bypass));
    kind.map(words::element)
}
