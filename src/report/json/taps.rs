//! Every tap: where it would run on the path as read, and what it would need for the target.

use serde::Serialize;

use super::changes::{self, TapAfter};
use super::point::{Plate, Standing, plate, standing};
use super::words;
use crate::model::answer::taps::{StageRise, TapAnswer, TapPoint};
use crate::model::answer::{Answer, Running};
use crate::model::job::Job;
use crate::model::needs::Need;
use crate::model::operating_point::NoCrossing;
use crate::model::standing::{CurveStanding, Standing as BothParts};
use crate::model::tap_curve::TapShape;
use crate::model::target::at_standard_air;
use crate::units::{Airflow, Power, Speed};

#[derive(Debug, Serialize)]
pub(super) struct Tap {
    name: String,
    calls: Vec<&'static str>,
    in_use: bool,
    point: Option<Point>,
    after: Option<TapAfter>,
    no_point: Option<NoPoint>,
    need: Option<NeedPart>,
}

#[derive(Debug, Serialize)]
struct Point {
    airflow_cfm: f64,
    u95_airflow_cfm: f64,
    airflow_below_cfm: Option<f64>,
    density_band_other_end_cfm: Option<f64>,
    gain_cfm: f64,
    u95_gain_cfm: f64,
    standard_airflow_cfm: f64,
    per_ton_standard_cfm: Option<f64>,
    of_target_fraction: Option<f64>,
    reach: Option<&'static str>,
    standing: Standing,
    tesp_in_wc: f64,
    table_entry_in_wc: f64,
    plate: Option<Plate>,
    power_watts: Option<f64>,
    watts_per_cfm: Option<f64>,
    speed_rpm: Option<f64>,
    rises: Vec<HeatStagePart>,
    barred: bool,
    bar_note: Option<String>,
    table_note: Option<String>,
    is_answer: bool,
}

#[derive(Debug, Serialize)]
struct HeatStagePart {
    call: &'static str,
    rise_f: f64,
    side: Option<&'static str>,
    under_minimum_airflow: bool,
}

#[derive(Debug, Default, Serialize)]
struct NoPoint {
    code: &'static str,
    airflow_below_cfm: Option<f64>,
    curve_end_in_wc: Option<f64>,
    row_esp_in_wc: Option<f64>,
    row_airflow_cfm: Option<f64>,
}

#[derive(Debug, Default, Serialize)]
struct NeedPart {
    code: &'static str,
    highest_tesp_in_wc: Option<f64>,
    path_drop_at_target_in_wc: Option<f64>,
    allowed_in_wc: Option<f64>,
    remove_in_wc: Option<f64>,
    remove_fraction: Option<f64>,
    tempting_in_wc: Option<f64>,
    most_airflow_cfm: Option<f64>,
    standing: Option<Standing>,
}

pub(super) fn all(job: &Job, answer: &Answer) -> Vec<Tap> {
    let running = answer.point();
    let taps = answer.taps.iter().zip(&answer.shapes);
    let one =
        |(index, (tap, shape))| Tap { after: changes::tap(job, answer, index), ..one(answer, running, tap, shape) };
    taps.enumerate().map(one).collect()
}

fn one(answer: &Answer, running: Option<&Running>, tap: &TapAnswer, shape: &TapShape) -> Tap {
    let reached = tap.reached().zip(running);
    Tap {
        name: tap.name.clone(),
        calls: tap.calls.iter().copied().map(words::call).collect(),
        in_use: tap.in_use,
        point: reached.map(|(reached, running)| point(answer, running, reached, shape)),
        after: None,
        no_point: match &tap.point {
            Some(Err(reason)) => Some(no_point(reason)),
            _ => None,
        },
        need: tap.need.zip(running).map(|(wanted, running)| need(&wanted, running)),
    }
}

fn point(answer: &Answer, running: &Running, point: &TapPoint, shape: &TapShape) -> Point {
    let airflow = point.airflow();
    let speed = match shape {
        TapShape::Curve(curve) => curve.speed_at(point.crossing.entry),
        _ => None,
    };
    Point {
        airflow_cfm: airflow.cfm(),
        u95_airflow_cfm: point.spread.airflow.cfm(),
        airflow_below_cfm: point.below.map(Airflow::cfm),
        density_band_other_end_cfm: point.other_end.map(Airflow::cfm),
        gain_cfm: (airflow - running.now.airflow).cfm(),
        u95_gain_cfm: point.spread.gain.cfm(),
        standard_airflow_cfm: at_standard_air(airflow, answer.air.density).cfm(),
        per_ton_standard_cfm: point.per_ton.map(Airflow::cfm),
        of_target_fraction: point.of_target,
        reach: point.reach.map(words::reach),
        standing: standing(point.standing),
        tesp_in_wc: point.crossing.tesp.in_wc(),
        table_entry_in_wc: point.crossing.entry.in_wc(),
        plate: point.plate.as_ref().map(plate),
        power_watts: point.power.map(Power::watts),
        watts_per_cfm: point.watts_per_cfm(),
        speed_rpm: speed.map(Speed::rpm),
        rises: point.rises.iter().map(rise).collect(),
        barred: point.barred.is_some(),
        bar_note: point.barred.clone().flatten(),
        table_note: point.note.clone(),
        is_answer: point.is_answer(),
    }
}

fn rise(stage: &StageRise) -> HeatStagePart {
    HeatStagePart {
        call: words::call(stage.call),
        rise_f: stage.rise.f(),
        side: stage.side.map(words::rise_side),
        under_minimum_airflow: stage.under_minimum,
    }
}

fn no_point(reason: &NoCrossing) -> NoPoint {
    let said = NoPoint { code: words::no_crossing(reason), ..NoPoint::default() };
    match reason {
        NoCrossing::PastTheEnd { below, end } => {
            NoPoint { airflow_below_cfm: Some(below.cfm()), curve_end_in_wc: Some(end.in_wc()), ..said }
        }
        NoCrossing::SingleRow(row) => {
            NoPoint { row_esp_in_wc: Some(row.esp.in_wc()), row_airflow_cfm: Some(row.airflow.cfm()), ..said }
        }
        NoCrossing::Unusable => said,
    }
}

/// A need rests on the tap's curve and on the path, which rests on the point of the tap in use.
fn need(need: &Need, running: &Running) -> NeedPart {
    let rests_on =
        |curve: CurveStanding| Some(standing(BothParts { curve, ..running.standing }.worse(running.standing)));
    match need {
        Need::None { highest, standing } => NeedPart {
            code: "none",
            highest_tesp_in_wc: Some(highest.in_wc()),
            standing: rests_on(*standing),
            ..NeedPart::default()
        },
        Need::Ease(ease) => NeedPart {
            code: "ease",
            highest_tesp_in_wc: Some(ease.highest.in_wc()),
            path_drop_at_target_in_wc: Some(ease.path_at_target.in_wc()),
            allowed_in_wc: Some(ease.allowed.in_wc()),
            remove_in_wc: Some(ease.remove.in_wc()),
            remove_fraction: Some(ease.share()),
            tempting_in_wc: Some(ease.tempting.in_wc()),
            standing: rests_on(ease.standing),
            ..NeedPart::default()
        },
        Need::NeverEnough { most } => {
            NeedPart { code: "never_enough", most_airflow_cfm: Some(most.cfm()), ..NeedPart::default() }
        }
        Need::Barred { highest } => {
            NeedPart { code: "barred", highest_tesp_in_wc: Some(highest.in_wc()), ..NeedPart::default() }
        }
        Need::Unknown => NeedPart { code: "unknown", ..NeedPart::default() },
    }
}
