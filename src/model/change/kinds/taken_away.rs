//! What the kinds share that take a stated part of their element's drop away.

use crate::model::facts::number::{Number, Range, Slider};
use crate::units::quantity::Quantity;

/// Part of a drop that goes away.
pub(super) static TAKEN_AWAY: Number = Number {
    file: "fraction_percent",
    refusal: Some("Reducing a drop by {} would make it negative; it lies"),
    first: 0.25,
    slider: Some(Slider { low: 0.0, high: 1.0, step: 0.01 }),
    // A drop is not negative.
    ..Number::new("Reduced by", Quantity::Share, Range::Between(0.0, 1.0))
};

/// The kind of a type: its name, what it does, what it assumes and what it goes on.
macro_rules! takes_a_part_away {
    ($kind:ident, $name:literal, $does:literal, $assumes:literal, $on:expr, $cautions:expr) => {
        const _: () = {
            use $crate::model::change::kinds::taken_away::TAKEN_AWAY;
            use $crate::model::change::on_parts::{OnParts, Place, scale};
            use $crate::model::change::stated::Stated;
            use $crate::model::change::{Asks, Declaration, Kind, Lands, Role, Stage, Start, told};
            use $crate::model::facts::air_path::ElementId;
            use $crate::model::facts::job::Job;
            use $crate::model::path::parts::Part;
            use $crate::units::UnitSystem;

            impl Kind for $kind {
                const DECLARATION: Declaration = Declaration {
                    name: $name,
                    file: stringify!($kind),
                    does: $does,
                    assumes: $assumes,
                    source: "Stated by hand",
                    cautions: $cautions,
                    lands: Lands::On($on),
                    role: Role::Fix,
                    stage: Stage::Work,
                    asks: Asks::Nothing,
                };

                fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
                    Some(Self { element, fraction: TAKEN_AWAY.first })
                }

                fn stated(&mut self) -> Vec<Stated<'_>> {
                    vec![Stated::element(&mut self.element), Stated::number(&TAKEN_AWAY, &mut self.fraction)]
                }

                fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
                    scale(parts, place.path, self.element, 1.0 - self.fraction)
                }

                fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
                    Some(told::taken_away(self.fraction))
                }
            }
        };
    };
}

pub(super) use takes_a_part_away;
