//! Another filter or coil, by its published drop.

use crate::model::change::on_parts::{OnParts, Place, part_of, with_room};
use crate::model::change::stated::{Held, Stated};
use crate::model::change::told;
use crate::model::change::{Asks, Declaration, Effect, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::ByData;
use crate::model::facts::drop_data::{DRY_COIL, DropData, MEDIA_FILTER};
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::system_curve::SystemCurve;
use crate::model::path::parts::Part;
use crate::units::Pressure;
use crate::units::UnitSystem;

impl Kind for ByData {
    const DECLARATION: Declaration = Declaration {
        name: "New filter or coil",
        file: "PartByData",
        does: "A new filter or coil by its published drop",
        assumes: "One published point takes the usual exponent of its kind",
        source: "Power law through the published points",
        cautions: &[Caution::Filter, Caution::CoilWork],
        lands: Lands::On(&[ElementKind::Filter, ElementKind::Coil, ElementKind::AirCleaner]),
        role: Role::Fix,
        stage: Stage::Work,
        asks: Asks::Nothing,
    };

    fn first(element: ElementId, start: &Start<'_>) -> Option<Self> {
        let is_coil = start.job.path.element(element).is_some_and(|part| part.kind == ElementKind::Coil);
        let (drop, exponent) = if is_coil { (0.20, DRY_COIL) } else { (0.10, MEDIA_FILTER) };
        let data = DropData::at(start.airflow, Pressure::from_in_wc(drop), exponent).ok()?;
        Some(Self { element, data })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { element, data } = self;
        vec![Stated::element(element), Stated::one("drop", "Drop", "Published drop", Held::Drop(data))]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        let part = part_of(parts, place.path, self.element)?;
        let mut own = SystemCurve::default();
        own.add_data(&self.data.in_air(place.data_air), 1.0);
        part.own = with_room(own, part.flow)?;
        (part.apart, part.standing) = (None, PathStanding::Assumed);
        Ok(Effect::Done)
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { replaces_part: true, ..Particulars::default() }
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        Some(told::drop_data(&self.data, units))
    }
}
