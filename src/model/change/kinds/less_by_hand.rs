//! An element takes a stated part less, whatever makes it.

use crate::model::change::on_parts::{OnParts, Place, scale};
use crate::model::change::stated::Stated;
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Kind, Lands, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::LessByHand;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::quantity::Quantity;

const ANY: &[ElementKind] = &[
    ElementKind::Louvre,
    ElementKind::ReturnGrille,
    ElementKind::ReturnDuct,
    ElementKind::Filter,
    ElementKind::Coil,
    ElementKind::Heater,
    ElementKind::SupplyDuct,
    ElementKind::Registers,
    ElementKind::AirCleaner,
    ElementKind::Humidifier,
    ElementKind::Damper,
];

/// Part of a drop that goes away; that of a cleaned coil and of a repaired run too.
pub(super) static TAKEN_AWAY: Number = Number {
    file: "fraction_percent",
    refusal: Some("Taking away {} would make the drop negative; it lies"),
    first: 0.25,
    slider: Some(Slider { low: 0.0, high: 1.0, step: 0.01 }),
    ..Number::new("Taken away", Quantity::Share, Range::Between(0.0, 1.0), "a drop is not negative")
};

impl Kind for LessByHand {
    const DECLARATION: Declaration = Declaration {
        name: "Less by %",
        file: "LessByHand",
        does: "An element takes a stated percentage less",
        assumes: "For what-ifs: it says nothing of how",
        source: "Stated by hand",
        caution: None,
        lands: Lands::On(ANY),
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
