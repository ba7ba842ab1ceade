//! A panel off between filter and blower: a short cut past the whole return.

use crate::model::change::on_parts::{OnParts, Place, before_blower, lay_beside, with_room};
use crate::model::change::stated::{Held, Stated};
use crate::model::change::{Asks, Declaration, Kind, Lands, Particulars, Role, Stage, Start};
use crate::model::facts::air_path::{AirPath, ElementId};
use crate::model::facts::caution::Caution;
use crate::model::facts::change::PanelOff;
use crate::model::facts::job::Job;
use crate::model::facts::number::Slider;
use crate::model::facts::numbers::duct as given;
use crate::model::facts::refusal::Beside;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::opening;
use crate::model::laws::system_curve::SystemCurve;
use crate::model::path::parts::Part;
use crate::units::UnitSystem;
use crate::units::{Area, show};

/// Holes that the slider reaches, in²: from a crack to a whole blower door.
const HOLES: Slider = Slider { low: 5.0, high: 400.0, step: 1.0 };

impl Kind for PanelOff {
    const DECLARATION: Declaration = Declaration {
        name: "Panel off",
        file: "PanelOff",
        does: "A hole between filter and blower: a short cut past the whole return",
        assumes: "A sharp-edged hole; never run a machine like this but to show it",
        source: "Orifice with a discharge coefficient of 0.6 (handbooks of fluid mechanics)",
        cautions: &[Caution::PanelOff],
        lands: Lands::OnBlower,
        role: Role::Condition,
        stage: Stage::BesideReturn,
        asks: Asks::Nothing,
    };

    fn first(_element: ElementId, _start: &Start<'_>) -> Option<Self> {
        Some(Self { area: Area::from_in2(14.0 * 20.0) })
    }

    fn stated(&mut self) -> Vec<Stated<'_>> {
        let Self { area } = self;
        vec![Stated::one("area_in2", "Open", "Open area", Held::Area(&given::FACE_AREA, Some(HOLES), area))]
    }

    fn put_on(&self, parts: &mut Vec<Part>, place: &Place<'_>) -> OnParts {
        let mut own = SystemCurve::default();
        own.add_law(opening::orifice_law(self.area, place.air)?);
        let own = with_room(own, place.airflow)?;
        let is_before = |part: &Part| part.before_blower && part.is_external();
        lay_beside(parts, Beside::Hole, is_before, |first| Part {
            elements: Vec::new(),
            before_blower: true,
            route: first.route,
            own,
            ways: Vec::new(),
            warmth: None,
            flow: place.airflow,
            leaks: true,
            apart: None,
            standing: PathStanding::Assumed,
        })
    }

    fn particulars(&self) -> Particulars<'_> {
        Particulars { touches_return: true, ..Particulars::default() }
    }

    fn details(&self, _job: &Job, units: UnitSystem) -> Option<String> {
        Some(format!("{} open", show::area(self.area, units)))
    }

    fn holds(&self, path: &AirPath) -> Vec<ElementId> {
        before_blower(path).iter().map(|element| element.id).collect()
    }
}
