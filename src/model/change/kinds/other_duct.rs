//! The same run in another size.

use crate::model::change::on_parts::{OnParts, Place, part_of, scale};
use crate::model::change::stated::{Held, Side, Stated};
use crate::model::change::told;
use crate::model::change::{AllowedDrop, Asks, Declaration, Kind, Lands, Role, Size, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::OtherDuct;
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::Run;
use crate::model::facts::duct::section::Section;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::{run, size};
use crate::model::path::parts::Part;
use crate::units::quantity::Quantity;
use crate::units::{Dimension, Length, UnitSystem, show};

/// The run is all that the part takes.
const ALL_OF_IT: f64 = 1.0;

/// Part of the element's drop that the run takes.
static OF_DROP: Number = Number {
    file: "of_drop_percent",
    refusal: Some("A run of {} of its part's drop cannot be; it lies"),
    first: ALL_OF_IT,
    slider: Some(Slider { low: 0.05, high: 1.0, step: 0.05 }),
    // A run takes something, and no more than there is.
    ..Number::new("This run's part of the drop", Quantity::Share, Range::AboveTo(0.0, 1.0))
};

impl Kind for OtherDuct {
    const DECLARATION: Declaration = Declaration {
        name: "Other duct",
        file: "OtherDuct",
        does: "The run's part of the read drop times computed then / computed now, friction and fittings",
        assumes: "The reading knows the fittings; the sum of their coefficients is the same in both sizes",
        source: "Darcy–Weisbach with Colebrook; Huebscher's equivalent for rectangular duct",
        cautions: &[Caution::Venting],
        lands: Lands::On(&[ElementKind::ReturnDuct, ElementKind::SupplyDuct]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Drop,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        let round = |inches| Section::round(Dimension::from_in(inches));
        let now = Run { fittings: 1.0, ..Run::straight(round(16.0), Length::from_ft(20.0), Material::Galvanized) };
        Some(Self { element, now, then: now.with_section(round(18.0)), of_drop: ALL_OF_IT })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, now, then, of_drop } = self;
        let run = |side, key, run| Stated::of(side, key, "Size", "Duct", Held::Run(run));
        let of_drop = Stated::number(&OF_DROP, of_drop).or_usual();
        vec![Stated::element(element), run(Side::Now, "now", now), run(Side::Then, "then", then), of_drop]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        let airflow = part_of(parts, place.path, self.element)?.flow;
        let factor = run::drop_ratio(self.now, self.then, airflow, place.air)?;
        scale(parts, place.path, self.element, 1.0 - self.of_drop * (1.0 - factor))
    }

    fn size_for_drop(&self, asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
        let (airflow, air) = (asked.place.airflow, asked.place.air);
        // What the rest of the part takes stays.
        let rest = asked.read * (1.0 - self.of_drop);
        let run = AllowedDrop { read: asked.read - rest, allowed: asked.allowed - rest, ..*asked };
        let allowed = run.of_computed(self.now.drop_at(airflow, air)?.total());
        Ok(Some(Size::Round(size::round_for_drop(self.then, airflow, allowed, air)?)))
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        let runs = told::from_to(&told::section_and_wall(&self.now, units), &told::section_and_wall(&self.then, units));
        Some(if self.of_drop < ALL_OF_IT {
            format!("{runs}, {} of its drop", show::percent(self.of_drop))
        } else {
            runs
        })
    }
}
