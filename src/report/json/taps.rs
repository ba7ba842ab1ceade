//! Every tap: where it would run on the path as read, and what it would need for the target.

use serde::Serialize;

use super::judged::{Plate, Standing, plate, standing};
use super::part::part;
use super::words;
use crate::model::facts::standing::Standing as BothParts;
use crate::model::facts::target::at_standard_air;
use crate::model::laws::tap_curve::TapShape;
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::needs::{Ease, Need};
use crate::model::verdicts::system::Running;
use crate::model::verdicts::taps::{StageRise, TapAnswer, TapPoint};
use crate::units::{Airflow, Power, Pressure, Speed, TemperatureRise};

/// A tap of the job's machine, before and after.
#[derive(Debug, Serialize)]
pub(super) struct Tap {
    #[serde(flatten)]
    told: ToldTap,
    after: Option<TapAfter>,
}

#[derive(Debug, Default, Serialize)]
pub(super) struct NoPoint {
    code: &'static str,
    airflow_below_cfm: Option<f64>,
    curve_end_in_wc: Option<f64>,
    row_esp_in_wc: Option<f64>,
    row_airflow_cfm: Option<f64>,
}

/// Every tap of a blower; `running` is the point that was read, on which needs rest.
pub(super) fn told(blower: &Blower, taps: &[TapAnswer], running: Option<&Running>) -> Vec<ToldTap> {
    taps.iter().zip(&*blower.shapes).map(|(tap, shape)| one(tap, shape, blower, running)).collect()
}

/// Taps as found, each with what becomes of it where the same machine stands there after the changes.
pub(super) fn beside(found: Vec<ToldTap>, after: &[ToldTap]) -> Vec<Tap> {
    let after = |index: usize| after.get(index)?.point.as_ref().map(in_short);
    found.into_iter().enumerate().map(|(index, told)| Tap { told, after: after(index) }).collect()
}

part! {
    /// A tap on the path after the changes.
    fn in_short(point: &Point) -> TapAfter {
        airflow_cfm: f64 = point.airflow_cfm,
        u95_airflow_cfm: f64 = point.u95_airflow_cfm,
        gain_cfm: f64 = point.gain_cfm,
        gain_up_to_cfm: Option<f64> = point.gain_up_to_cfm,
        u95_gain_cfm: f64 = point.u95_gain_cfm,
        tesp_in_wc: f64 = point.tesp_in_wc,
        plate: Option<Plate> = point.plate,
    }
}

part! {
    /// A tap on one path.
    fn one(tap: &TapAnswer, shape: &TapShape, blower: &Blower, running: Option<&Running>) -> ToldTap {
        name: String = tap.name.clone(),
        calls: Vec<&'static str> = tap.calls.iter().copied().map(words::call).collect(),
        in_use: bool = tap.in_use,
        point: Option<Point> = tap.reached().map(|reached| point(reached, shape, blower)),
        no_point: Option<NoPoint> = tap.point.as_ref().and_then(|point| point.as_ref().err()).map(no_point),
        need: Option<NeedPart> = tap.need.zip(running).map(|(wanted, running)| need(&wanted, tap, running)),
    }
}

part! {
    fn point(point: &TapPoint, shape: &TapShape, blower: &Blower) -> Point [
        let airflow = point.airflow();
        let speed = match shape {
            TapShape::Curve(curve) => curve.speed_at(point.crossing.entry),
            TapShape::Single(_) | TapShape::Unusable => None,
        };
    ] {
        airflow_cfm: f64 = airflow.cfm(),
        u95_airflow_cfm: f64 = point.spread.airflow.cfm(),
        airflow_below_cfm: Option<f64> = point.below.map(Airflow::cfm),
        density_band_other_end_cfm: Option<f64> = point.other_end.map(Airflow::cfm),
        gain_cfm: f64 = point.gain.least.cfm(),
        gain_up_to_cfm: Option<f64> = point.gain.most.map(Airflow::cfm),
        u95_gain_cfm: f64 = point.spread.gain.cfm(),
        standard_airflow_cfm: f64 = at_standard_air(airflow, blower.air.density).cfm(),
        per_ton_standard_cfm: Option<f64> = point.per_ton.map(Airflow::cfm),
        of_target_fraction: Option<f64> = point.of_target,
        reach: Option<&'static str> = point.reach.map(words::reach),
        standing: Standing = standing(point.standing),
        tesp_in_wc: f64 = point.crossing.tesp.in_wc(),
        table_entry_in_wc: f64 = point.crossing.entry.in_wc(),
        plate: Option<Plate> = point.plate.as_ref().map(plate),
        power_watts: Option<f64> = point.power.map(Power::watts),
        watts_per_cfm: Option<f64> = point.watts_per_cfm(),
        speed_rpm: Option<f64> = speed.map(Speed::rpm),
        rises: Vec<HeatStagePart> = point.rises.iter().map(rise).collect(),
        barred: bool = point.barred.is_some(),
        bar_note: Option<String> = point.barred.clone().flatten(),
        table_note: Option<String> = point.note.clone(),
        is_answer: bool = point.is_answer(),
        within_u95_of: Vec<&'static str> = point.in_doubt(blower.target.as_ref()).into_iter().map(words::in_doubt).collect(),
    }
}

part! {
    fn rise(stage: &StageRise) -> HeatStagePart {
        call: &'static str = words::call(stage.call),
        rise_f: f64 = stage.rise.f(),
        u95_rise_f: f64 = stage.spread.f(),
        is_at_limit: bool = stage.at_limit.is_some(),
        heat_fraction: f64 = stage.heat_share,
        side: Option<&'static str> = stage.side.map(words::rise_side),
        rise_at_least_f: Option<f64> = stage.at_least.map(TemperatureRise::f),
        under_minimum_airflow: bool = stage.is_short_of_air(),
        minimum_airflow_is_within_u95: bool = stage.least_air.is_some_and(|air| air.is_in_doubt()),
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

part! {
    /// What a tap needs, which rests on its curve and on the path, which rests on the point of the tap in use.
    fn need(need: &Need, tap: &TapAnswer, running: &Running) -> NeedPart [
        let ease = need.ease();
        let rests_on = |curve| standing(BothParts { curve, ..running.standing }.worse(running.standing));
        let (highest, airflow, most, curve) = match need {
            Need::None { highest, standing } => (Some(*highest), None, None, Some(*standing)),
            Need::Ease(ease) => (Some(ease.highest), Some(ease.at), None, Some(ease.standing)),
            Need::NeverEnough { most } => (None, None, Some(*most), None),
            Need::TooStrong { least } => (None, Some(*least), None, None),
            Need::Barred { highest } => (Some(*highest), None, None, None),
            Need::Unknown => (None, None, None, None),
        };
    ] {
        code: &'static str = words::need(need),
        highest_tesp_in_wc: Option<f64> = highest.map(Pressure::in_wc),
        airflow_cfm: Option<f64> = airflow.map(Airflow::cfm),
        path_drop_at_target_in_wc: Option<f64> = ease.map(|ease| ease.path.in_wc()),
        allowed_in_wc: Option<f64> = ease.map(|ease| ease.allowed.in_wc()),
        remove_in_wc: Option<f64> = ease.map(|ease| ease.remove.in_wc()),
        remove_fraction: Option<f64> = ease.map(Ease::share),
        tempting_in_wc: Option<f64> = ease.map(|ease| ease.tempting.in_wc()),
        most_airflow_cfm: Option<f64> = most.map(Airflow::cfm),
        standing: Option<Standing> = curve.map(rests_on),
        into_band: Option<IntoBand> = tap.into_band.as_ref().map(into_band),
    }
}

part! {
    fn into_band(need: &Need) -> IntoBand [
        let ease = need.ease();
    ] {
        code: &'static str = words::need(need),
        airflow_cfm: Option<f64> = ease.map(|ease| ease.at.cfm()),
        path_drop_in_wc: Option<f64> = ease.map(|ease| ease.path.in_wc()),
        allowed_in_wc: Option<f64> = ease.map(|ease| ease.allowed.in_wc()),
        remove_in_wc: Option<f64> = ease.map(|ease| ease.remove.in_wc()),
        remove_fraction: Option<f64> = ease.map(Ease::share),
    }
}
