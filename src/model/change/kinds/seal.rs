//! A leak sealed, or a bypass shut.

use crate::model::change::on_parts::{OnParts, Place, part_of, pass_share};
use crate::model::change::stated::Stated;
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::Seal;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::quantity::Quantity;
use crate::units::show;

/// Part of the opening that is closed.
static CLOSED: Number = Number {
    file: "fraction_percent",
    refusal: Some("Closing {} of an opening cannot be; it lies"),
    first: 0.5,
    slider: Some(Slider { low: 0.0, high: 1.0, step: 0.01 }),
    // No more can be closed than is open.
    ..Number::new("Closed", Quantity::Share, Range::Between(0.0, 1.0))
};

impl Kind for Seal {
    const DECLARATION: Declaration = Declaration {
        name: "Seal the ducts",
        file: "Seal",
        does: "A leak or a bypass keeps only part of its opening; blower and delivered airflow are two numbers",
        assumes: "The blower may move less air afterwards while the rooms get more",
        source: "Leak flow follows pressure to the power 0.65 (handbook of fundamentals, duct design, eq. 37); a damper the square law",
        cautions: &[Caution::Venting],
        lands: Lands::On(&[ElementKind::Leak, ElementKind::Bypass]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { element, fraction: CLOSED.first })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, fraction } = self;
        vec![Stated::element(element), Stated::number(&CLOSED, fraction)]
    }

    /// The hole is made smaller; shut altogether its way is gone.
    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        if self.fraction >= 1.0 {
            part_of(parts, place.path, self.element)?;
            close(parts, self.element);
            return Ok(Effect::Done);
        }
        pass_share(parts, place.path, self.element, 1.0 / (1.0 - self.fraction))
    }

    /// It may cost the blower air while the rooms get more.
    fn particulars(&self) -> Particulars<'_> {
        Particulars { is_told_by_air: true, ..Particulars::default() }
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        Some(format!("{} of its opening closed", show::percent(self.fraction)))
    }
}

fn close(parts: &mut Vec<Part>, id: ElementId) {
    parts.retain(|part| !part.is(id));
    for part in parts {
        for way in &mut part.ways {
            close(way, id);
        }
        part.ways.retain(|way| !way.is_empty());
    }
}
