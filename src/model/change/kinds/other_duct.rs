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
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::{run, size};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::{Dimension, Length};

impl Kind for OtherDuct {
    const DECLARATION: Declaration = Declaration {
        name: "Other duct",
        file: "OtherDuct",
        does: "The read drop times computed then / computed now, friction and fittings",
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
        Some(Self { element, now, then: now.with_section(round(18.0)) })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, now, then } = self;
        let run = |side, key, run| Stated::of(side, key, "Size", "Duct", Held::Run(run));
        vec![Stated::element(element), run(Side::Now, "now", now), run(Side::Then, "then", then)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        let airflow = part_of(parts, place.path, self.element)?.flow;
        let factor = run::drop_ratio(self.now, self.then, airflow, place.air)?;
        scale(parts, place.path, self.element, factor)
    }

    fn size_for_drop(&self, asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
        let (airflow, air) = (asked.place.airflow, asked.place.air);
        let allowed = asked.of_computed(self.now.drop_at(airflow, air)?.total());
        Ok(Some(Size::Round(size::round_for_drop(self.then, airflow, allowed, air)?)))
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        Some(told::from_to(&told::section_and_wall(&self.now, units), &told::section_and_wall(&self.then, units)))
    }
}
