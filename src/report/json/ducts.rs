//! What is left for the ducts, and what they take.

use serde::Serialize;

use super::judged::path_word;
use super::part::part;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::air_path::ElementKind;
use crate::model::verdicts::duct_allowance::{
    AirflowFrom, Deduction, DuctAllowance, DuctSide, LengthVerdict, StaticFrom,
};
use crate::units::{FrictionRate, Length, Pressure};

#[derive(Debug, Serialize)]
pub(super) struct DuctPart {
    allowed_in_wc: f64,
    allowed_from: &'static str,
    airflow_cfm: f64,
    airflow_from: &'static str,
    parts: Vec<DeductionPart>,
    without_data: Vec<&'static str>,
    left_in_wc: f64,
    left_is_at_most: bool,
    friction_rate_in_wc_100ft: Option<f64>,
    sides: Vec<SidePart>,
}

/// What is left for the ducts; nothing where nothing is stated or nothing can be said.
pub(super) fn ducts(answer: &Answer) -> Option<DuctPart> {
    let allowance = answer.ducts.as_ref()?;
    Some(DuctPart {
        allowed_in_wc: allowance.allowed.in_wc(),
        allowed_from: match allowance.from {
            StaticFrom::RatedMaximum => "rated_maximum",
            StaticFrom::Tap => "tap",
            StaticFrom::DesignStatic => "design_static",
        },
        airflow_cfm: allowance.airflow.cfm(),
        airflow_from: match allowance.airflow_from {
            AirflowFrom::Target => "target",
            AirflowFrom::Reading => "reading",
        },
        parts: allowance.taken.iter().map(part).collect(),
        without_data: allowance.unknown.iter().map(|kind| words::element(*kind)).collect(),
        left_in_wc: allowance.left.in_wc(),
        left_is_at_most: !allowance.missing().is_empty(),
        friction_rate_in_wc_100ft: allowance.rate.map(FrictionRate::in_wc_100ft),
        sides: allowance.sides.iter().map(|ducts| side(allowance, ducts)).collect(),
    })
}

part! {
    fn part(taken: &Deduction) -> DeductionPart {
        element: &'static str = words::element(taken.kind),
        drop_in_wc: f64 = taken.drop.in_wc(),
        standing: &'static str = path_word(taken.standing),
        is_usual: bool = taken.is_usual,
    }
}

part! {
    fn side(allowance: &DuctAllowance, ducts: &DuctSide) -> SidePart [
        let read = ducts.read.as_ref();
        let rates = ducts.rates();
        let elements = |kinds: &[ElementKind]| kinds.iter().map(|kind| words::element(*kind)).collect();
    ] {
        side: &'static str = ducts.side.name(),
        length_ft: Option<f64> = ducts.length.map(Length::ft),
        share_in_wc: Option<f64> = ducts.share.map(Pressure::in_wc),
        with: Vec<&'static str> = read.map(|read| elements(&read.with)).unwrap_or_default(),
        less: Vec<&'static str> = read.map(|read| elements(&read.less)).unwrap_or_default(),
        read_in_wc: Option<f64> = read.map(|read| read.at_reading.in_wc()),
        taken_in_wc: Option<f64> = read.map(|read| read.at_allowance.in_wc()),
        read_rate_in_wc_100ft: Option<f64> = rates.map(|(read, _)| read.in_wc_100ft()),
        taken_rate_in_wc_100ft: Option<f64> = rates.map(|(_, taken)| taken.in_wc_100ft()),
        standing: Option<&'static str> = read.map(|read| path_word(read.standing)),
        verdict: &'static str = match allowance.verdict(ducts.side) {
            LengthVerdict::Over => "over",
            LengthVerdict::Within => "within",
            LengthVerdict::NotSaid => "not_said",
        },
    }
}
