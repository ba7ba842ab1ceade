//! Another call of the thermostat: its own tap, a coil wet or dry, warm air in the supply.

use crate::model::change::on_parts::Place;
use crate::model::change::stated::{Held, Stated};
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::OtherCall;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;

impl Kind for OtherCall {
    const DECLARATION: Declaration = Declaration {
        name: "Another call",
        file: "OtherCall",
        does: "The tap that this call runs, warm air in the supply when it heats, and a coil that is wet only while it cools",
        assumes: "The heat output is the plate's; a dry coil outside the machine takes the wet one's drop over 1.3, and its part of an unsplit stretch by usual weights",
        source: "The machine's map from calls to taps; supply drop × ρ blower / ρ supply",
        cautions: &[],
        lands: Lands::OnBlower,
        role: Role::Condition,
        stage: Stage::Call,
        asks: Asks::Nothing,
    };

    fn first(_element: ElementId, start: &Start<'_>) -> Option<Self> {
        Some(Self { call: (start.next_call)()? })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { call } = self;
        vec![Stated::one("call", "", "Call", Held::Call(call))]
    }

    fn put_on(&self, _parts: &mut Vec<Part>, _place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        Ok(Effect::Call(self.call))
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { call: Some(self.call), ..Particulars::default() }
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        None
    }

    fn goes_to(&self, _job: &Job) -> Option<String> {
        Some(self.call.name().to_lowercase())
    }
}
