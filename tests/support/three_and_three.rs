//! A path with three returns, three zones with a damper each, an air cleaner and a bypass.

use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::facts::air_path::chain::Beside;
use tapcross::model::facts::air_path::{Bypass, ElementId, ElementKind as K, PortId};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::units::Pressure;

fn first(job: &Job, kind: K) -> ElementId {
    job.path.first(kind).unwrap_or_else(|| panic!("no {kind:?}")).id
}

/// The air handler of the demo in such a house, with a port in one of its returns.
pub(crate) fn job() -> Job {
    let mut job = demo::heat_pump();
    let mut edit = |make: &dyn Fn(&Job) -> Edit| {
        let edit = make(&job);
        let said = format!("{edit:?}");
        apply(&mut job, edit).unwrap_or_else(|refusal| panic!("{said}: {refusal:?}"));
    };
    edit(&|job| Edit::AddElement(K::Damper, Beside::Before(first(job, K::Registers))));
    edit(&|job| Edit::LayBeside(first(job, K::Damper), first(job, K::Registers)));
    edit(&|job| Edit::AddWay(first(job, K::SideBySide)));
    edit(&|job| Edit::RenameElement(first(job, K::SideBySide), "Three zones".to_owned()));
    edit(&|job| Edit::WayFlow(first(job, K::SideBySide), 0, Some(0.45)));
    edit(&|job| Edit::LayBeside(first(job, K::ReturnGrille), first(job, K::ReturnDuct)));
    edit(&|job| Edit::AddWay(job.path.elements[0].id));
    edit(&|job| Edit::RenameElement(job.path.elements[0].id, "Returns".to_owned()));
    edit(&|job| Edit::AddElement(K::AirCleaner, Beside::After(job.path.elements[0].id)));
    edit(&|job| Edit::AddPort(first(job, K::ReturnGrille)));
    edit(&|_| Edit::Reading(ReadAt::Port(PortId(3)), vec![Pressure::from_in_wc(-0.08)]));
    edit(&|job| {
        let (leaves_after, joins_after) = (first(job, K::SupplyDuct), first(job, K::AirCleaner));
        Edit::Bypass(Some(Bypass { id: job.path.next_element(), leaves_after, joins_after, flow: 0.08 }))
    });
    job
}
