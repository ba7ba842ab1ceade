//! Another grille or register.

use crate::model::change::on_parts::{OnParts, Place, opening_law, scale};
use crate::model::change::stated::{Held, Side, Stated};
use crate::model::change::told;
use crate::model::change::{AllowedDrop, Asks, Declaration, Kind, Lands, Role, Size, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::{Opening, OtherOpening};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::opening;
use crate::model::path::parts::Part;
use crate::units::Area;
use crate::units::UnitSystem;

impl Kind for OtherOpening {
    const DECLARATION: Declaration = Declaration {
        name: "Other grille",
        file: "OtherOpening",
        does: "The read drop times computed then / computed now",
        assumes: "Bare faces by their free area; a maker's own data is better",
        source: "Blevins, Applied Fluid Dynamics Handbook, 1984",
        cautions: &[],
        lands: Lands::On(&[ElementKind::Louvre, ElementKind::ReturnGrille, ElementKind::Registers]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Drop,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        let grille = |width: f64, height: f64| Opening { face: Area::from_in2(width * height), free_area: 0.70 };
        Some(Self { element, now: grille(20.0, 20.0), then: grille(20.0, 30.0) })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, now, then } = self;
        let face = |side, key, face| Stated::of(side, key, "Face", "", Held::Opening(face));
        vec![Stated::element(element), face(Side::Now, "now", now), face(Side::Then, "then", then)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        let coefficient = |face| opening_law(face, place.air).map(|law| law.coefficient);
        let now = coefficient(&self.now)?;
        if now <= 0.0 {
            return Err(Refusal::AllFree);
        }
        scale(parts, place.path, self.element, coefficient(&self.then)? / now)
    }

    fn size_for_drop(&self, asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
        let (airflow, air) = (asked.place.airflow, asked.place.air);
        let coefficient = |face: &Opening| opening::grille_coefficient(face.free_area);
        let computed = opening::opening_drop(airflow, self.now.face, coefficient(&self.now)?, air)?;
        let face = opening::face_for_drop(airflow, coefficient(&self.then)?, asked.of_computed(computed), air)?;
        Ok(Some(Size::Area(face)))
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        Some(told::from_to(&told::opening(&self.now, units), &told::opening(&self.then, units)))
    }
}
