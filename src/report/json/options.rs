//! The options of a job side by side.

use super::judged::{Plate, Standing, plate, standing};
use super::part::part;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::blower::Call;
use crate::model::facts::change::ChangeId;
use crate::model::facts::job::Job;
use crate::model::side_by_side::{Column, columns};
use crate::model::verdicts::system::System;
use crate::model::wording::options::limits;
use crate::units::{Airflow, Power};

/// Every option, in order; nothing where nobody has spoken of options.
pub(super) fn all(job: &Job, answer: &Answer) -> Vec<OptionPart> {
    if job.options.are_unsaid() {
        return Vec::new();
    }
    columns(job, answer, Answer::checked).iter().map(one).collect()
}

part! {
    fn one(column: &Column) -> OptionPart [
        let point = column.point();
        let gain = column.gain();
        let price = column.price();
        let on = column.job.changes.iter().filter(|change| change.is_on()).map(|change| change.id);
    ] {
        name: String = column.called(),
        reason: String = column.job.options.shown.reason.clone(),
        on_ids: Vec<u32> = on.map(|ChangeId(id)| id).collect(),
        tap: Option<String> = column.system().and_then(System::tap).map(str::to_owned),
        airflow_cfm: Option<f64> = point.map(|point| point.airflow().cfm()),
        u95_airflow_cfm: Option<f64> = point.map(|point| point.spread.airflow.cfm()),
        airflow_below_cfm: Option<f64> = point.and_then(|point| point.below).map(Airflow::cfm),
        to_rooms_cfm: Option<f64> = column.system().and_then(|system| system.delivered).map(|air| air.to_rooms.cfm()),
        gain_cfm: Option<f64> = gain.map(|(gain, _)| gain.least.cfm()),
        gain_up_to_cfm: Option<f64> = gain.and_then(|(gain, _)| gain.most).map(Airflow::cfm),
        u95_gain_cfm: Option<f64> = gain.map(|(_, spread)| spread.cfm()),
        standing: Option<Standing> = point.map(|point| standing(point.standing)),
        tesp_in_wc: Option<f64> = point.map(|point| point.crossing.tesp.in_wc()),
        plate: Option<Plate> = point.and_then(|point| point.plate.as_ref()).map(plate),
        limits: String = limits(column),
        is_answer: Option<bool> = column.is_answer(),
        per_ton_standard_cfm: Option<f64> = point.and_then(|point| point.per_ton).map(Airflow::cfm),
        calls: Vec<InCallPart> = column.systems().into_iter().map(|(call, system)| in_call(call, system)).collect(),
        power_watts: Option<f64> = point.and_then(|point| point.power).map(Power::watts),
        watts_per_cfm: Option<f64> = point.and_then(|point| Some(point.power?.watts() / point.airflow().cfm())),
        yearly_energy_kwh: Option<f64> = column.energy(),
        yearly_energy_cost: Option<f64> = column.energy_cost(),
        price: Option<f64> = price.map(|(price, _)| price),
        labour: Option<f64> = column.labour(),
        material: Option<f64> = column.material(),
        unpriced: Option<usize> = price.map(|(_, unpriced)| unpriced),
        price_with_tax: Option<f64> = column.price_with_tax(),
        price_per_cfm: Option<f64> = column.price_per_airflow(),
    }
}

part! {
    fn in_call(call: Call, system: Option<&System>) -> InCallPart [
        let point = system.and_then(System::runs);
    ] {
        call: &'static str = words::call(call),
        airflow_cfm: Option<f64> = point.map(|point| point.airflow().cfm()),
        u95_airflow_cfm: Option<f64> = point.map(|point| point.spread.airflow.cfm()),
        of_target_fraction: Option<f64> = point.and_then(|point| point.of_target),
        reach: Option<&'static str> = point.and_then(|point| point.reach).map(words::reach),
    }
}
