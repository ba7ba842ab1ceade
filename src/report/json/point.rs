//! Where the machine runs, or why nothing can be said.

use serde::Serialize;

use super::judged::{Plate, Standing, standing};
use super::part::part;
use super::taps::Point;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::job::Job;
use crate::model::facts::target::at_standard_air;
use crate::model::solution::anchor::Anchored;
use crate::model::verdicts::system::{NotRunning, Running};
use crate::model::verdicts::taps;
use crate::model::wording::Verdict;
use crate::units::{Power, Pressure};

#[derive(Debug, Serialize)]
pub(super) struct SegmentPart {
    segment: &'static str,
    drop_in_wc: f64,
    share_fraction: f64,
    standing: Standing,
}

#[derive(Debug, Default, Serialize)]
pub(super) struct WhyNot {
    code: &'static str,
    sentence: String,
    airflow_below_cfm: Option<f64>,
    tesp_in_wc: Option<f64>,
    curve_end_in_wc: Option<f64>,
    row_esp_in_wc: Option<f64>,
    row_airflow_cfm: Option<f64>,
}

part! {
    fn operating_point(job: &Job, answer: &Answer, running: &Running, point: &Point) -> OperatingPoint [
        let airflow = running.now.airflow;
        let standard = at_standard_air(airflow, running.system.blower.air.density);
        let second = answer.opinions.iter().find(|opinion| opinion.kind == OpinionKind::Heat);
    ] {
        tap: Option<String> = job.tap_in_use().map(str::to_owned),
        airflow_cfm: f64 = point.airflow_cfm,
        u95_airflow_cfm: f64 = running.system.spreads.now.cfm(),
        airflow_below_cfm: Option<f64> = point.airflow_below_cfm,
        density_band_other_end_cfm: Option<f64> = point.density_band_other_end_cfm,
        standard_airflow_cfm: f64 = point.standard_airflow_cfm,
        per_ton_standard_cfm: Option<f64> = job.capacity().map(|capacity| taps::per_ton(standard, capacity).cfm()),
        of_target_fraction: Option<f64> = point.of_target_fraction,
        reach: Option<&'static str> = point.reach,
        standing: Standing = standing(running.standing),
        airflow_from: &'static str = running.anchored.filter(Anchored::is_here).map_or("table", |anchored| words::opinion(anchored.by)),
        table_scaled_by: Option<&'static str> = running.anchored.filter(Anchored::scales).map(|anchored| words::opinion(anchored.by)),
        tesp_in_wc: f64 = point.tesp_in_wc,
        u95_tesp_in_wc: f64 = running.system.spreads.tesp.in_wc(),
        tesp_standing: Standing = standing(running.static_standing()),
        read_across_in_wc: f64 = running.sum.read.across().in_wc(),
        table_entry_in_wc: f64 = point.table_entry_in_wc,
        table_airflow_factor: f64 = running.sum.airflow_factor,
        plate: Option<Plate> = point.plate,
        power_watts: Option<f64> = running.power.map(Power::watts),
        power_from: Option<&'static str> = running.power.map(|_| if job.set().power.is_some() { "reading" } else { "table" }),
        watts_per_cfm: Option<f64> = running.power.map(|power| power.watts() / airflow.cfm()),
        by_heat_airflow_cfm: Option<f64> = second.map(|second| second.airflow.cfm()),
        u95_by_heat_airflow_cfm: Option<f64> = second.map(|second| second.spread.cfm()),
        by_heat_agrees: Option<bool> = second.map(|second| second.agrees),
    }
}

pub(super) fn segments(running: &Running) -> Vec<SegmentPart> {
    let side = |segment, drop: Option<Pressure>| {
        drop.map(|drop| SegmentPart {
            segment,
            drop_in_wc: drop.in_wc(),
            share_fraction: drop / running.now.tesp,
            standing: standing(running.static_standing()),
        })
    };
    let sides = [side("return_side", running.return_side), side("supply_side", running.supply_side)];
    sides.into_iter().flatten().collect()
}

pub(super) fn why_not(reason: &NotRunning, verdict: &Verdict) -> WhyNot {
    let said = WhyNot {
        code: words::not_running(reason),
        sentence: format!("{} {}", verdict.headline, verdict.detail).trim().to_owned(),
        ..WhyNot::default()
    };
    match reason {
        NotRunning::NoRise(tesp) => WhyNot { tesp_in_wc: Some(tesp.in_wc()), ..said },
        NotRunning::PastTheEnd { below, tesp, end, .. } => WhyNot {
            airflow_below_cfm: Some(below.cfm()),
            tesp_in_wc: Some(tesp.in_wc()),
            curve_end_in_wc: Some(end.in_wc()),
            ..said
        },
        NotRunning::SingleRow(row) => {
            WhyNot { row_esp_in_wc: Some(row.esp.in_wc()), row_airflow_cfm: Some(row.airflow.cfm()), ..said }
        }
        NotRunning::NoMachine
        | NotRunning::NoTap
        | NotRunning::NoSuchTap(_)
        | NotRunning::NotRead(_)
        | NotRunning::SignInDoubt
        | NotRunning::Shares(_)
        | NotRunning::Unsound
        | NotRunning::Unusable
        | NotRunning::KeptBack => said,
    }
}
