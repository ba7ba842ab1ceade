//! A filter of the same kind with more media.

use crate::model::change::on_parts::{OnParts, Place, pass_share};
use crate::model::change::stated::{Held, Side, Stated};
use crate::model::change::told;
use crate::model::change::{AllowedDrop, Asks, Declaration, Kind, Lands, Role, Size, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::MoreFilterArea;
use crate::model::facts::job::Job;
use crate::model::facts::numbers::duct as given;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::filter;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::{Area, show};

impl Kind for MoreFilterArea {
    const DECLARATION: Declaration = Declaration {
        name: "More filter area",
        file: "MoreFilterArea",
        does: "The read drop times (area now / area then) to the filter's exponent",
        assumes: "Same media, depth and pleat; areas are of the media, or of the face between like filters",
        source: "Drop follows media velocity to the power n",
        cautions: &[Caution::Filter],
        lands: Lands::On(&[ElementKind::Filter]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Drop,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        let face = |width: f64, height: f64| Area::from_in2(width * height);
        Some(Self { element, now: face(16.0, 25.0), then: face(20.0, 25.0) })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, now, then } = self;
        let area =
            |side, key, area| Stated::of(side, key, "Area", "Filter area", Held::Area(&given::MEDIA_AREA, None, area));
        vec![Stated::element(element), area(Side::Now, "now_in2", now), area(Side::Then, "then_in2", then)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        // At n = 1 the factor is the areas' own ratio: the share of the air that the old media's area passes.
        let share = filter::area_factor(self.now, self.then, 1.0)?;
        pass_share(parts, place.path, self.element, share)
    }

    fn size_for_drop(&self, asked: &AllowedDrop<'_>) -> Result<Option<Size>, Refusal> {
        let element = asked.place.path.element(self.element).ok_or(Refusal::ElementGone)?;
        let area = filter::area_for_drop(asked.read, self.now, asked.allowed, element.drop_exponent())?;
        Ok(Some(Size::Area(area)))
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        Some(told::from_to(&show::area(self.now, units), &show::area(self.then, units)))
    }
}
