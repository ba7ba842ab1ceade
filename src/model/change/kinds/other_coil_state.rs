//! The coil in its other state than the one that was read: wet for dry, dry for wet.

use crate::model::change::on_parts::{Place, scale};
use crate::model::change::stated::Stated;
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::OtherCoilState;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::facts::readings::CoilState;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::quantity::Quantity;

/// A wet coil's drop over a dry one's (common practice, no source: 1.2 to 1.4; the coil maker prints both).
pub const WET_OVER_DRY: f64 = 1.3;

/// Drop then over drop now, where the table prints no drop for it.
static FACTOR: Number = Number {
    file: "factor",
    refusal: Some("A coil that takes {} times its drop cannot be; the factor lies"),
    first: WET_OVER_DRY,
    slider: Some(Slider { low: 0.5, high: 2.0, step: 0.01 }),
    // 1.2 to 1.4 is usual, or one over that (common practice, no source).
    ..Number::new("Factor on its drop", Quantity::Ratio, Range::Between(0.3, 3.0))
};

impl Kind for OtherCoilState {
    const DECLARATION: Declaration = Declaration {
        name: "Coil wet or dry",
        file: "OtherCoilState",
        does: "The coil in its other state: inside the machine by the table's correction where it prints one, else by a factor",
        assumes: "The factor is a person's; the coil maker prints both drops",
        source: "Stated by hand, or the blower table",
        cautions: &[],
        lands: Lands::On(&[ElementKind::Coil]),
        role: Role::Condition,
        stage: Stage::State,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, start: &Start<'_>) -> Option<Self> {
        let is_wet = start.job.set().coil == CoilState::Wet;
        Some(Self { element, factor: if is_wet { 1.0 / FACTOR.first } else { FACTOR.first } })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, factor } = self;
        vec![Stated::element(element), Stated::number(&FACTOR, factor)]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        match place.dried_for {
            Some(call) => Err(Refusal::DriedBy(call)),
            None if place.is_inside(self.element) => Ok(Effect::CoilOfTable(self.element, self.factor)),
            None => scale(parts, place.path, self.element, self.factor),
        }
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { coil: Some(self.element), ..Particulars::default() }
    }

    fn details(&self, job: &Job, _units: UnitSystem) -> Option<String> {
        let is_by_the_table = job.prints_wet_drop_of(self.element);
        let by = if is_by_the_table { "by the table".to_owned() } else { told::times(self.factor) };
        let then = if job.set().coil == CoilState::Wet { "dry instead of wet" } else { "wet instead of dry" };
        Some(format!("{then}, {by}"))
    }
}
