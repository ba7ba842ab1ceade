//! Jobs with changes that the benchmarks share.

use tapcross::files::demo;
use tapcross::model::facts::air_path::{ElementId, ElementKind};
use tapcross::model::facts::change::{
    Change, ChangeId, ChangeKind, CleanCoil, MoreFilterArea, OpenRegisters, Opening, OtherDuct, OtherTap, SecondReturn,
    Switch,
};
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::units::{Area, Dimension, Length};

fn duct(diameter: f64, wall: Wall) -> Run {
    Run { section: Section::round(Dimension::from_in(diameter)), length: Length::from_ft(20.0), wall, fittings: 1.0 }
}

pub(crate) fn face(in2: f64) -> Opening {
    Opening { face: Area::from_in2(in2), free_area: 0.7 }
}

/// A job with changes switched on, each at a price.
pub(crate) fn with(mut job: Job, kinds: Vec<ChangeKind>) -> Job {
    for (kind, id) in kinds.into_iter().zip(1_u32..) {
        let price = Some(f64::from(40 + id * 37 % 200));
        job.changes.push(Change {
            id: ChangeId(id),
            kind,
            switch: Switch::On,
            price,
            labour: None,
            note: String::new(),
        });
    }
    job
}

pub(crate) fn id(job: &Job, kind: ElementKind) -> ElementId {
    job.path.first(kind).map_or(ElementId(0), |element| element.id)
}

fn second_return() -> ChangeKind {
    ChangeKind::SecondReturn(SecondReturn {
        run: duct(12.0, Wall::Flexible { compression: 0.04 }),
        grille: face(280.0),
        filter: None,
    })
}

/// A second return, a filter, a coil, a duct, registers and a tap, for the gas furnace.
pub(crate) fn six_changes() -> Vec<ChangeKind> {
    let job = demo::gas_furnace();
    let steel = Wall::from(Material::Galvanized);
    vec![
        second_return(),
        ChangeKind::MoreFilterArea(MoreFilterArea {
            element: id(&job, ElementKind::Filter),
            now: Area::from_in2(400.0),
            then: Area::from_in2(500.0),
        }),
        ChangeKind::CleanCoil(CleanCoil { element: id(&job, ElementKind::Coil), fraction: 0.2 }),
        ChangeKind::OtherDuct(OtherDuct {
            element: id(&job, ElementKind::SupplyDuct),
            now: duct(14.0, steel),
            then: duct(16.0, steel),
            of_drop: 1.0,
        }),
        ChangeKind::OpenRegisters(OpenRegisters {
            element: id(&job, ElementKind::Registers),
            now: 8,
            then: 10,
            of: 10,
        }),
        ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() }),
    ]
}
