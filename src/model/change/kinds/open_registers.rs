//! Some of a group of like registers opened or shut.

use crate::model::change::on_parts::{OnParts, Place, pass_share};
use crate::model::change::stated::{Held, Side, Stated};
use crate::model::change::{Asks, Declaration, Kind, Lands, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::OpenRegisters;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::registers;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;

impl OpenRegisters {
    /// At n = 1 the factor is the counts' own ratio: the share of the air that as many as were open pass.
    fn share(&self) -> Result<f64, InputError> {
        registers::from_open_to_open(self.now, self.then, self.of, 1.0)
    }
}

impl Kind for OpenRegisters {
    const DECLARATION: Declaration = Declaration {
        name: "Open or shut registers",
        file: "OpenRegisters",
        does: "Branches with their registers as one group: (open now / open then) to the power n",
        assumes: "Like branches; the trunk keeps its drop",
        source: "Parallel rule with equal branches",
        cautions: &[],
        lands: Lands::On(&[ElementKind::Registers]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { element, now: 8, then: 10, of: 10 })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, now, then, of } = self;
        let most = Some(*of);
        vec![
            Stated::element(element),
            Stated::of(Side::Now, "now", "Open", "Open", Held::Count(now, None)),
            Stated::of(Side::Then, "then", "Open", "Open", Held::Count(then, most)),
            Stated::one("of", "Of", "Registers in all", Held::Count(of, None)),
        ]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        pass_share(parts, place.path, self.element, self.share()?)
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        let Self { now, then, of, .. } = self;
        Some(format!("{now} → {then} open of {of}"))
    }

    fn goes_together(&self) -> Result<(), Refusal> {
        self.share()?;
        Ok(())
    }
}
