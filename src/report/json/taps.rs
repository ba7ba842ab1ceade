//! Every tap: where it would run on the path as read, and what it would need for the target.

use serde::Serialize;

use super::judged::{Plate, Standing, plate, standing};
use super::words;
use crate::model::facts::standing::{CurveStanding, Standing as BothParts};
use crate::model::facts::target::at_standard_air;
use crate::model::laws::tap_curve::TapShape;
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::needs::{Ease, Need};
use crate::model::verdicts::system::Running;
use crate::model::verdicts::taps::{StageRise, TapAnswer, TapPoint};
use crate::units::{Airflow, Power, Speed};

/// A tap of the job's machine, before and after.
#[derive(Debug, Serialize)]
pub(super) struct Tap {
    #[serde(flatten)]
    told: ToldTap,
    after: Option<TapAfter>,
}

/// A tap on the path after the changes, in short.
#[derive(Debug, Serialize)]
struct TapAfter {
    airflow_cfm: f64,
    u95_airflow_cfm: f64,
    gain_cfm: f64,
    gain_up_to_cfm: Option<f64>,
    u95_gain_cfm: f64,
    tesp_in_wc: f64,
    plate: Option<Plate>,
}

/// A tap on one path.
#[derive(Debug, Serialize)]
pub(super) struct ToldTap {
    name: String,
    calls: Vec<&'static str>,
    in_use: bool,
    pub point: Option<Point>,
    no_point: Option<NoPoint>,
    need: Option<NeedPart>,
}

#[derive(Debug, Serialize)]
pub(super) struct Point {
    pub airflow_cfm: f64,
    pub u95_airflow_cfm: f64,
    pub airflow_below_cfm: Option<f64>,
    pub density_band_other_end_cfm: Option<f64>,
    pub gain_cfm: f64,
    pub gain_up_to_cfm: Option<f64>,
    pub u95_gain_cfm: f64,
    pub standard_airflow_cfm: f64,
    pub per_ton_standard_cfm: Option<f64>,
    pub of_target_fraction: Option<f64>,
    pub reach: Option<&'static str>,
    standing: Standing,
    pub tesp_in_wc: f64,
    pub table_entry_in_wc: f64,
    pub plate: Option<Plate>,
    power_watts: Option<f64>,
    watts_per_cfm: Option<f64>,
    speed_rpm: Option<f64>,
    rises: Vec<HeatStagePart>,
    barred: bool,
    bar_note: Option<String>,
    table_note: Option<String>,
    is_answer: bool,
    within_u95_of: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
struct HeatStagePart {
    call: &'static str,
    rise_f: f64,
    u95_rise_f: f64,
    is_at_limit: bool,
    heat_fraction: f64,
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
    airflow_cfm: Option<f64>,
    path_drop_at_target_in_wc: Option<f64>,
    allowed_in_wc: Option<f64>,
    remove_in_wc: Option<f64>,
    remove_fraction: Option<f64>,
    tempting_in_wc: Option<f64>,
    most_airflow_cfm: Option<f64>,
    standing: Option<Standing>,
    into_band: Option<IntoBand>,
}

#[derive(Debug, Default, Serialize)]
struct IntoBand {
    code: &'static str,
    airflow_cfm: Option<f64>,
    path_drop_in_wc: Option<f64>,
    allowed_in_wc: Option<f64>,
    remove_in_wc: Option<f64>,
    remove_fraction: Option<f64>,
}

/// Every tap of a blower; `running` is the point that was read, on which needs rest.
pub(super) fn told(blower: &Blower, taps: &[TapAnswer], running: Option<&Running>) -> Vec<ToldTap> {
    taps.iter().zip(&*blower.shapes).map(|(tap, shape)| one(tap, shape, blower, running)).collect()
}

/// Taps as found, each with what becomes of it where the same machine stands there after the changes.
pub(super) fn beside(found: Vec<ToldTap>, after: &[ToldTap]) -> Vec<Tap> {
    let after = |index: usize| Some(after.get(index)?.point.as_ref()?.into());
    found.into_iter().enumerate().map(|(index, told)| Tap { told, after: after(index) }).collect()
}

impl From<&Point> for TapAfter {
    fn from(point: &Point) -> Self {
        Self {
            airflow_cfm: point.airflow_cfm,
            u95_airflow_cfm: point.u95_airflow_cfm,
            gain_cfm: point.gain_cfm,
            gain_up_to_cfm: point.gain_up_to_cfm,
            u95_gain_cfm: point.u95_gain_cfm,
            tesp_in_wc: point.tesp_in_wc,
            plate: point.plate,
        }
    }
}

fn one(tap: &TapAnswer, shape: &TapShape, blower: &Blower, running: Option<&Running>) -> ToldTap {
    ToldTap {
        name: tap.name.clone(),
        calls: tap.calls.iter().copied().map(words::call).collect(),
        in_use: tap.in_use,
        point: tap.reached().map(|reached| point(reached, shape, blower)),
        no_point: tap.point.as_ref().and_then(|point| point.as_ref().err()).map(no_point),
        need: tap.need.zip(running).map(|(wanted, running)| NeedPart {
            into_band: tap.into_band.as_ref().map(into_band),
            ..need(&wanted, running)
        }),
    }
}

fn point(point: &TapPoint, shape: &TapShape, blower: &Blower) -> Point {
    let airflow = point.airflow();
    let speed = match shape {
        TapShape::Curve(curve) => curve.speed_at(point.crossing.entry),
        TapShape::Single(_) | TapShape::Unusable => None,
    };
    Point {
        airflow_cfm: airflow.cfm(),
        u95_airflow_cfm: point.spread.airflow.cfm(),
        airflow_below_cfm: point.below.map(Airflow::cfm),
        density_band_other_end_cfm: point.other_end.map(Airflow::cfm),
        gain_cfm: point.gain.least.cfm(),
        gain_up_to_cfm: point.gain.most.map(Airflow::cfm),
        u95_gain_cfm: point.spread.gain.cfm(),
        standard_airflow_cfm: at_standard_air(airflow, blower.air.density).cfm(),
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
        within_u95_of: point.in_doubt(blower.target.as_ref()).into_iter().map(words::in_doubt).collect(),
    }
}

fn rise(stage: &StageRise) -> HeatStagePart {
    HeatStagePart {
        call: words::call(stage.call),
        rise_f: stage.rise.f(),
        u95_rise_f: stage.spread.f(),
        is_at_limit: stage.at_limit.is_some(),
        heat_fraction: stage.heat_share,
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
    let said = NeedPart { code: words::need(need), ..NeedPart::default() };
    match need {
        Need::None { highest, standing } => {
            NeedPart { highest_tesp_in_wc: Some(highest.in_wc()), standing: rests_on(*standing), ..said }
        }
        Need::Ease(ease) => NeedPart {
            highest_tesp_in_wc: Some(ease.highest.in_wc()),
            airflow_cfm: Some(ease.at.cfm()),
            path_drop_at_target_in_wc: Some(ease.path.in_wc()),
            allowed_in_wc: Some(ease.allowed.in_wc()),
            remove_in_wc: Some(ease.remove.in_wc()),
            remove_fraction: Some(ease.share()),
            tempting_in_wc: Some(ease.tempting.in_wc()),
            standing: rests_on(ease.standing),
            ..said
        },
        Need::NeverEnough { most } => NeedPart { most_airflow_cfm: Some(most.cfm()), ..said },
        Need::TooStrong { least } => NeedPart { airflow_cfm: Some(least.cfm()), ..said },
        Need::Barred { highest } => NeedPart { highest_tesp_in_wc: Some(highest.in_wc()), ..said },
        Need::Unknown => said,
    }
}

fn into_band(need: &Need) -> IntoBand {
    let ease = need.ease();
    IntoBand {
        code: words::need(need),
        airflow_cfm: ease.map(|ease| ease.at.cfm()),
        path_drop_in_wc: ease.map(|ease| ease.path.in_wc()),
        allowed_in_wc: ease.map(|ease| ease.allowed.in_wc()),
        remove_in_wc: ease.map(|ease| ease.remove.in_wc()),
        remove_fraction: ease.map(Ease::share),
    }
}
