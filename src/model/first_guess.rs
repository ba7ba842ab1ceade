//! What a change is when it has just been put on: every number of it is shown and asks to be typed over.

use crate::model::answer::Answer;
use crate::model::change::{Declaration, Start, kinds};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::ChangeKind;
use crate::model::facts::job::Job;
use crate::units::Airflow;

/// A first version of a declared change on an element; nothing when it has nothing to start from (no other tap).
pub fn first(declared: &Declaration, element: ElementId, job: &Job, answer: &Answer) -> Option<ChangeKind> {
    let airflow = answer.blower().target.map(|target| target.actual).or_else(|| Some(answer.point()?.now.airflow));
    let start = Start {
        job,
        // To 5 cfm, as tables and data sheets print it.
        airflow: Airflow::from_cfm((airflow.unwrap_or(Airflow::from_cfm(1200.0)).cfm() / 5.0).round() * 5.0),
        table: None,
        next_tap: &|| other_tap(job, answer),
        next_call: &|| other_call(job, answer),
    };
    kinds::first(declared, element, &start)
}

/// The machine's table that changes work on: another machine's where one is put on the ducts.
pub fn table_then<'a>(job: &'a Job, answer: &'a Answer) -> Option<&'a BlowerTable> {
    let after = answer.with_changes();
    after.and_then(|after| after.system.blower.other.as_deref()).or(job.machine.as_ref())
}

/// The first heating call that the table maps, else fan only, else any other call that it maps.
fn other_call(job: &Job, answer: &Answer) -> Option<Call> {
    let table = table_then(job, answer)?;
    let now = job.set().call;
    let order = [Call::HeatingHigh, Call::HeatingLow, Call::FanOnly, Call::CoolingHigh, Call::CoolingLow];
    order.into_iter().find(|call| *call != now && table.tap_of_call(*call).is_some())
}

/// The next tap up, else the next one down.
fn other_tap(job: &Job, answer: &Answer) -> Option<String> {
    if let Some(after) = answer.with_changes().filter(|after| after.system.blower.other.is_some()) {
        let (taps, in_use) = (&after.system.taps, after.system.blower.in_use?);
        let next = taps.get(in_use + 1).or_else(|| taps.get(in_use.checked_sub(1)?))?;
        return Some(next.name.clone());
    }
    let by_airflow = crate::model::verdicts::findings::by_airflow(answer.taps());
    let here = by_airflow.iter().position(|tap| Some(tap.name.as_str()) == job.tap_in_use())?;
    let next = by_airflow.get(here + 1).or_else(|| by_airflow.get(here.checked_sub(1)?))?;
    Some(next.name.clone())
}
