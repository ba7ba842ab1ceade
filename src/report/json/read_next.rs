//! What to read next.

use super::part::part;
use super::remarks::UNITS;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::read_next::{Doubted, NextReading, OpinionNext, Proposals, ReadNext};
use crate::model::wording;

part! {
    fn told(job: &Job, next: &ReadNext) -> NextPart [
        let (reading, element) = match next.reading {
            NextReading::Without(id) => ("without", id),
            NextReading::Across(id) => ("across", id),
            NextReading::PortAfter(id) => ("port_after", id),
        };
        let gain = match next.doubted {
            Doubted::Gain { now, then } => Some((now, then)),
            Doubted::Drop { .. } => None,
        };
        let drop = match next.doubted {
            Doubted::Drop { element, drop, now, then } => Some((element, drop, now, then)),
            Doubted::Gain { .. } => None,
        };
    ] {
        reading: &'static str = reading,
        element_id: u32 = element.0,
        u95_gain_cfm: Option<f64> = gain.map(|(now, _)| now.cfm()),
        u95_gain_then_cfm: Option<f64> = gain.map(|(_, then)| then.cfm()),
        drop_of_element_id: Option<u32> = drop.map(|(element, ..)| element.0),
        drop_in_wc: Option<f64> = drop.map(|(_, drop, ..)| drop.in_wc()),
        u95_drop_in_wc: Option<f64> = drop.map(|(_, _, now, _)| now.in_wc()),
        u95_drop_then_in_wc: Option<f64> = drop.map(|(_, _, _, then)| then.in_wc()),
        sentence: String = wording::read_next::of_path(job, next, UNITS),
    }
}

part! {
    fn opinion(next: &OpinionNext) -> OpinionPart {
        kind: &'static str = words::opinion(next.kind),
        u95_airflow_cfm: f64 = next.now.cfm(),
        u95_airflow_then_cfm: f64 = next.then.cfm(),
        sentence: String = wording::read_next::of_air(next, UNITS),
    }
}

part! {
    fn proposals(job: &Job, next: &Proposals) -> ReadNextPart {
        air: Option<OpinionPart> = next.air.as_ref().map(opinion),
        path: Option<NextPart> = next.path.as_ref().map(|next| told(job, next)),
    }
}

/// The readings that are worth most.
pub(super) fn read_next(job: &Job, answer: &Answer) -> ReadNextPart {
    proposals(job, &Proposals::of(job, answer))
}
