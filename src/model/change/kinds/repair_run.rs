//! A crushed or kinked run put right: a stated part of its drop was damage.

use crate::model::change::kinds::less_by_hand::TAKEN_AWAY;
use crate::model::change::on_parts::{OnParts, Place, scale};
use crate::model::change::stated::Stated;
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Kind, Lands, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::RepairRun;
use crate::model::facts::job::Job;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;

impl Kind for RepairRun {
    const DECLARATION: Declaration = Declaration {
        name: "Repair a run",
        file: "RepairRun",
        does: "A stated fraction of the run's drop goes away",
        assumes: "The fraction is a person's judgement",
        source: "Stated by hand",
        caution: None,
        lands: Lands::On(&[ElementKind::ReturnDuct, ElementKind::SupplyDuct]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { element, fraction: TAKEN_AWAY.first })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, fraction } = self;
        vec![Stated::element(element), Stated::number(&TAKEN_AWAY, fraction)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        scale(parts, place.path, self.element, 1.0 - self.fraction)
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        Some(told::taken_away(self.fraction))
    }
}
