//! Nine changes, most with a price, one off.

use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::change::{Declaration, Kind as _};
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{
    ChangeKind, CleanCoil, LessByHand, MoreFilterArea, OtherDuct, OtherOpening, OtherTap, RepairRun, SecondReturn,
    Switch,
};
use tapcross::model::facts::job::Job;
use tapcross::model::first_guess;

/// The first demo with them.
pub(crate) fn job() -> Job {
    on(demo::heat_pump())
}

/// Any job with them that has a filter and a duct on both sides.
pub(crate) fn on(mut job: Job) -> Job {
    let answer = Answer::of(&job);
    let first = |declared: &Declaration, kind| {
        first_guess::first(declared, job.path.first(kind).unwrap().id, &job, &answer).unwrap()
    };
    let kinds = [
        first(&CleanCoil::DECLARATION, ElementKind::Filter),
        first(&SecondReturn::DECLARATION, ElementKind::ReturnGrille),
        first(&OtherDuct::DECLARATION, ElementKind::SupplyDuct),
        first(&OtherDuct::DECLARATION, ElementKind::ReturnDuct),
        first(&OtherOpening::DECLARATION, ElementKind::ReturnGrille),
        first(&MoreFilterArea::DECLARATION, ElementKind::Filter),
        first(&LessByHand::DECLARATION, ElementKind::Registers),
        first(&RepairRun::DECLARATION, ElementKind::SupplyDuct),
        ChangeKind::OtherTap(OtherTap { tap: "3".to_owned() }),
    ];
    for (kind, price) in kinds.into_iter().zip([0.0, 690.0, 1850.0, 940.0, 180.0, 240.0, 120.5, 75.0, 90.0]) {
        apply(&mut job, Edit::AddChange(kind)).unwrap();
        let id = job.changes.last().unwrap().id;
        apply(&mut job, Edit::ChangePrice(id, Some(price))).unwrap();
    }
    let id = job.changes[6].id;
    apply(&mut job, Edit::SwitchChange(id, Switch::Off)).unwrap();
    job
}
