//! Second opinions on the airflow.

use super::part::part;
use super::remarks::UNITS;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::job::Job;
use crate::model::verdicts::opinions::{Basis, Opinion};
use crate::model::wording;

part! {
    fn opinion(job: &Job, answer: &Answer, opinion: &Opinion) -> OpinionPart [
        let (basis, share, corrected) = match opinion.basis {
            Basis::MeasuredHeat => ("measured_heat", None, None),
            Basis::RatedHeat => ("rated_heat", None, None),
            Basis::Grilles { share, .. } => ("grilles", Some(share), None),
            Basis::Plate { by_law: true, corrected } => ("plate_law", None, Some(corrected)),
            Basis::Plate { by_law: false, corrected } => ("plate_scale", None, Some(corrected)),
            Basis::Watts => ("watts", None, None),
        };
        let others = answer.opinions.iter().filter(|other| other.kind != opinion.kind);
        let like: Vec<OpinionKind> = others.filter(|other| opinion.agrees_with(other)).map(|other| other.kind).collect();
    ] {
        kind: &'static str = words::opinion(opinion.kind),
        basis: &'static str = basis,
        read_cfm: f64 = opinion.told.cfm(),
        passes_fraction: Option<f64> = share,
        plate_corrected: Option<bool> = corrected,
        airflow_cfm: f64 = opinion.airflow.cfm(),
        u95_airflow_cfm: f64 = opinion.spread.cfm(),
        table_cfm: f64 = opinion.table.cfm(),
        u95_table_cfm: f64 = opinion.table_spread.cfm(),
        agrees: bool = opinion.agrees,
        anchors: bool = job.anchor.is_some_and(|anchor| anchor.by == opinion.kind && anchor.set == job.judged),
        agrees_with: Vec<&'static str> = like.into_iter().map(words::opinion).collect(),
        sentence: String = wording::opinions::sentence(opinion, wording::tap_word(job), UNITS),
    }
}

/// Every opinion, in the order in which they are told.
pub(super) fn all(job: &Job, answer: &Answer) -> Vec<OpinionPart> {
    answer.opinions.iter().map(|one| opinion(job, answer, one)).collect()
}
