//! A filter loaded or renewed: its drop times a factor.

use crate::model::change::on_parts::{OnParts, Place, scale};
use crate::model::change::stated::Stated;
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Kind, Lands, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::FilterLoading;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::quantity::Quantity;

/// Factor on the filter's drop.
static FACTOR: Number = Number {
    file: "factor",
    refusal: Some("A filter loaded {} times cannot be; the factor lies"),
    first: 1.5,
    slider: Some(Slider { low: 0.2, high: 5.0, step: 0.05 }),
    // From a clean filter to a blocked one.
    ..Number::new("Factor on its drop", Quantity::Ratio, Range::Between(0.05, 20.0))
};

impl Kind for FilterLoading {
    const DECLARATION: Declaration = Declaration {
        name: "Filter loading",
        file: "FilterLoading",
        does: "The filter's drop times a factor",
        assumes: "The exponent stays",
        source: "Stated by hand",
        cautions: &[Caution::Filter],
        lands: Lands::On(&[ElementKind::Filter]),
        role: Role::Condition,
        stage: Stage::State,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { element, factor: FACTOR.first })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, factor } = self;
        vec![Stated::element(element), Stated::number(&FACTOR, factor)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        scale(parts, place.path, self.element, self.factor)
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        Some(told::times(self.factor))
    }
}
