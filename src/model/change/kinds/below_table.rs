//! A blower that moves less than its table: a dirty wheel, low voltage.

use crate::model::change::on_parts::Place;
use crate::model::change::stated::Stated;
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::BelowTable;
use crate::model::facts::job::Job;
use crate::model::facts::number::{Number, Range, Slider};
use crate::model::facts::refusal::Refusal;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::quantity::Quantity;
use crate::units::show;

/// Part of the table's airflow that is left.
static FACTOR: Number = Number {
    file: "factor",
    refusal: Some("A blower at {} of its table cannot be; it lies"),
    first: 0.90,
    slider: Some(Slider { low: 0.5, high: 1.0, step: 0.01 }),
    // Under half of its table a blower is broken.
    ..Number::new("Of its table", Quantity::Share, Range::Between(0.5, 1.0))
};

impl Kind for BelowTable {
    const DECLARATION: Declaration = Declaration {
        name: "Blower below its table",
        file: "BelowTable",
        does: "Airflow times s and pressure times s²: a dirty wheel, low voltage",
        assumes: "A slower or fouled wheel keeps the shape of its curve",
        source: "Fan laws, speed rule",
        cautions: &[],
        lands: Lands::OnBlower,
        role: Role::Condition,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(_element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { factor: FACTOR.first })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { factor } = self;
        vec![Stated::number(&FACTOR, factor)]
    }

    fn put_on(&self, _parts: &mut Vec<Part>, _place: &Place<'_>) -> Result<Effect<'_>, Refusal> {
        Ok(Effect::Slower(self.factor))
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { slower: Some(self.factor), ..Particulars::default() }
    }

    fn details(&self, _job: &Job, _units: UnitSystem) -> Option<String> {
        Some(format!("{} of its table's airflow", show::percent(self.factor)))
    }
}
