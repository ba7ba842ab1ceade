//! A visit of many reading sets: parts pulled and put back, taps tried, readings taken again.

use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::units::Pressure;

/// The first demo with twenty sets of readings (invented), the last one shown.
pub(crate) fn job() -> Job {
    let mut job = demo::heat_pump();
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    for set in 1..20_u8 {
        let (turn, again) = (set % 4, f64::from(set / 4) * 0.01);
        let (is_out, tap, before, after) = match turn {
            1 => (true, "4", -0.36, 0.33),
            2 => (false, "5", -0.56, 0.34),
            3 => (false, "3", -0.44, 0.26),
            _ => (false, "4", -0.52, 0.31),
        };
        let read = |at, value: f64| Edit::Reading(ReadAt::Port(at), vec![Pressure::from_in_wc(value)]);
        for edit in [
            Edit::AddSet,
            Edit::PartOut(filter, is_out),
            Edit::Tap(Some(tap.to_owned())),
            read(RETURN_PORT, before - again),
            read(SUPPLY_PORT, after),
        ] {
            apply(&mut job, edit).unwrap();
        }
    }
    job
}
