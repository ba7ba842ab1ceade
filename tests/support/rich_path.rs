//! A path with everything that a house may have: two returns, two zones with a damper each, a leak and a bypass.

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

/// The furnace of the demo in such a house, with a port in one of its returns.
pub(crate) fn job() -> Job {
    let mut job = demo::gas_furnace();
    let mut edit = |make: &dyn Fn(&Job) -> Edit| {
        let edit = make(&job);
        let said = format!("{edit:?}");
        apply(&mut job, edit).unwrap_or_else(|refusal| panic!("{said}: {refusal:?}"));
    };
    edit(&|job| Edit::AddElement(K::Damper, Beside::Before(first(job, K::Registers))));
    edit(&|job| Edit::LayBeside(first(job, K::Damper), first(job, K::Registers)));
    edit(&|job| Edit::RenameElement(first(job, K::SideBySide), "Two zones".to_owned()));
    edit(&|job| Edit::WayFlow(first(job, K::SideBySide), 0, Some(0.6)));
    edit(&|job| Edit::LayBeside(first(job, K::ReturnGrille), first(job, K::ReturnDuct)));
    edit(&|job| Edit::RenameElement(first(job, K::SideBySide), "Two returns".to_owned()));
    edit(&|job| Edit::WayFlow(first(job, K::SideBySide), 0, Some(0.6)));
    edit(&|job| Edit::AddPort(first(job, K::ReturnGrille)));
    edit(&|_| Edit::Reading(ReadAt::Port(PortId(3)), vec![Pressure::from_in_wc(-0.05)]));
    edit(&|job| Edit::AddLeak(first(job, K::SupplyDuct), 0.10));
    edit(&|job| {
        let (leaves_after, joins_after) = (first(job, K::Coil), first(job, K::SideBySide));
        Edit::Bypass(Some(Bypass { id: job.path.next_element(), leaves_after, joins_after, flow: 0.08 }))
    });
    job
}
