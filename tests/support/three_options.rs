//! The heat-pump demo with three options that a customer can choose from, priced, labour and material apart, with hours, energy price, taxes and how long prices hold.

use tapcross::edit::{Edit, OptionEdit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::change::kinds;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{ChangeId, ChangeKind, OtherTap};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::first_guess;

/// A first version of a change, by its name.
fn first(job: &Job, name: &str, on: ElementKind) -> ChangeKind {
    let declared = kinds::tray().find(|card| card.name == name).unwrap();
    let element = job.path.first(on).unwrap().id;
    first_guess::first(declared, element, job, &Answer::of(job)).unwrap()
}

/// The job.
pub(crate) fn job() -> Job {
    let mut job = demo::heat_pump();
    let put = |job: &mut Job, kind: ChangeKind, price: f64| {
        apply(job, Edit::AddChange(kind)).unwrap();
        let id = job.changes.iter().map(|change| change.id.0).max().unwrap();
        apply(job, Edit::ChangePrice(ChangeId(id), Some(price))).unwrap();
        apply(job, Edit::ChangeLabour(ChangeId(id), Some(price / 2.0))).unwrap();
    };
    let named = |job: &mut Job, name: &str, reason: &str| {
        apply(job, Edit::Option(OptionEdit::Name(name.to_owned()))).unwrap();
        apply(job, Edit::Option(OptionEdit::Reason(reason.to_owned()))).unwrap();
    };
    let filter = first(&job, "New filter or coil", ElementKind::Filter);
    put(&mut job, filter, 380.0);
    named(&mut job, "Larger filter", "The least work, done in a morning");
    apply(&mut job, Edit::Option(OptionEdit::Copy)).unwrap();
    let second = first(&job, "Second return", ElementKind::ReturnDuct);
    put(&mut job, second, 1_450.0);
    named(&mut job, "Filter and return", "Quiet, and the bedroom gets its air back");
    apply(&mut job, Edit::Option(OptionEdit::Copy)).unwrap();
    put(&mut job, ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() }), 90.0);
    named(&mut job, "All, on tap 5", "Full cooling on the hottest day");
    let numbers = [
        (JobNumber::FanHours, 2_000.0),
        (JobNumber::EnergyPrice, 0.16),
        (JobNumber::Tax, 0.07),
        (JobNumber::LabourTax, 0.0),
        (JobNumber::ValidDays, 30.0),
    ];
    for (which, value) in numbers {
        apply(&mut job, Edit::Number(which, Some(value))).unwrap();
    }
    apply(&mut job, Edit::Option(OptionEdit::Show(0))).unwrap();
    job
}
