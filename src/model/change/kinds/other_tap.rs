//! Another tap or setting of the same table.

use crate::model::change::on_parts::Place;
use crate::model::change::stated::{Held, Stated};
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::caution::Caution;
use crate::model::facts::change::OtherTap;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;

impl Kind for OtherTap {
    const DECLARATION: Declaration = Declaration {
        name: "Another tap",
        file: "OtherTap",
        does: "Another curve of the same table",
        assumes: "Static, watts or amps and temperature rise are read again afterwards, in heating and in cooling",
        source: "The blower table",
        cautions: &[Caution::TapChange],
        lands: Lands::OnBlower,
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(_element: ElementId, start: &Start<'_>) -> Option<Self> {
        Some(Self { tap: (start.next_tap)()? })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { tap } = self;
        vec![Stated::one("tap", "", "Tap", Held::Tap(tap))]
    }

    fn put_on(&self, _parts: &mut Vec<Part>, _place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        Ok(Effect::Tap(&self.tap))
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { tap: Some(&self.tap), ..Particulars::default() }
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        None
    }

    fn goes_to(&self, job: &Job) -> Option<String> {
        let word = job.machine.as_ref().map_or("tap", |table| table.motor.tap_word());
        Some(format!("{word} {}", self.tap))
    }
}
