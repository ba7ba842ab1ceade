//! Another machine on the ducts as read: its own taps, coil, filter and air, at the house's voltage and return openings.

use std::borrow::Cow;

use crate::model::facts::air_path::{AirPath, ElementId, ElementKind};
use crate::model::facts::blower::EquipmentKind;
use crate::model::facts::change::Replacement;
use crate::model::facts::drop_data::AirRatio;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::system_curve::SystemCurve;
use crate::model::laws::table_curves;
use crate::model::path::air;
use crate::model::path::parts::{Part, Route};
use crate::model::path::tesp;
use crate::model::solution::changed::{Changed, Found, tap_named};
use crate::units::Airflow;

impl<'a> Found<'a> {
    /// Puts another machine on.
    ///
    /// # Errors
    /// A tap that its table has not, an element that cannot leave.
    pub(super) fn other_machine(&self, changed: &mut Changed<'a>, new: &'a Replacement) -> Result<(), Refusal> {
        let job = self.inputs.job;
        if let Some(id) = new.leaves.iter().find(|id| job.path.element(**id).is_none()) {
            return Err(Refusal::LeavesNowhere(*id));
        }
        // An old file may hold a target that no edit takes.
        new.target.map_or(Ok(()), |target| target.check().map(drop))?;
        let mut parts = self.without(&changed.parts, &new.leaves)?;
        let name = new.tap.as_deref().or_else(|| new.table.tap_of_call(changed.call));
        let name = name.ok_or_else(|| Refusal::NoTapOf(new.table.name.clone()))?;
        changed.in_use = tap_named(&new.table, name)?;
        let density = job.set().air.at_blower(new.table.kind, changed.call).density;
        // The call is the one that was read, so the air on either side of the machine is: its drops follow the mass that the new blower moves.
        let mass = density / changed.blower_density();
        for part in &mut parts {
            part.each_law(&|law| law.of_share(mass));
        }
        changed.density_ratio = density / new.table.basis.table_density();
        changed.table = &new.table;
        let data_air = self.data_air(changed);
        let sum = tesp::sum_then(job, new, data_air);
        let airflow = self.operation.now.airflow;
        // What the old machine's table contained goes with it.
        parts.retain(|part| part.route != Route::Inside);
        parts.extend(sum.inside_parts(airflow));
        parts.extend(arrivals(&job.path, new, data_air.own, airflow));
        if let Some(k) = air::warmth(job.set(), &new.table, changed.call) {
            for part in parts.iter_mut().filter(|part| !part.before_blower && part.is_external()) {
                part.warmth = Some(k * (part.flow / airflow));
            }
        }
        // What was found of the old machine's table says nothing of the new one's.
        changed.airflow_factor = sum.airflow_factor;
        changed.tap_factor = None;
        changed.shapes = table_curves::sound_shapes(&new.table, changed.conditions()).into();
        changed.corrections = Cow::Owned(sum.corrections);
        changed.assumptions = sum.assumptions;
        changed.replacement = Some(new);
        changed.parts = parts;
        Ok(())
    }

    /// The parts without what leaves with the old machine.
    fn without(&self, parts: &[Part], leaves: &[ElementId]) -> Result<Vec<Part>, Refusal> {
        let mut parts = parts.to_vec();
        leave(&mut parts, leaves).map_err(|id| Refusal::CannotLeave(self.inputs.job.path.said(id)))?;
        Ok(parts)
    }
}

/// Takes elements out of parts and of their ways.
///
/// # Errors
/// The element that is alone in its way, or that lies in a stretch which nothing splits.
fn leave(parts: &mut Vec<Part>, leaves: &[ElementId]) -> Result<(), ElementId> {
    let goes = |part: &Part| !part.elements.is_empty() && part.elements.iter().all(|id| leaves.contains(id));
    let is_mixed = |part: &&Part| part.elements.len() > 1 && part.ways.is_empty() && !goes(part);
    let unsplit = parts.iter().filter(is_mixed).flat_map(|part| &part.elements).find(|id| leaves.contains(id));
    if let Some(id) = unsplit {
        return Err(*id);
    }
    parts.retain(|part| !goes(part));
    for way in parts.iter_mut().flat_map(|part| &mut part.ways) {
        let first = way.first().and_then(|part| part.elements.first()).copied();
        leave(way, leaves)?;
        if let (true, Some(id)) = (way.is_empty(), first) {
            return Err(id);
        }
    }
    Ok(())
}

/// Parts that come with another machine and are none of its table's; a coil stands in the old coil's place.
fn arrivals(path: &AirPath, new: &Replacement, air: AirRatio, flow: Airflow) -> Vec<Part> {
    let draws = new.table.kind == EquipmentKind::DrawThroughAirHandler;
    [(ElementKind::Filter, &new.filter, true), (ElementKind::Coil, &new.coil, draws)]
        .into_iter()
        .filter(|(kind, ..)| !new.table.basis.contains(*kind))
        .filter_map(|(kind, data, before_blower)| {
            let data = data.as_ref()?;
            let mut own = SystemCurve::default();
            own.add_data(&data.in_air(air), 1.0);
            let place = path.elements.iter().find(|element| element.kind == kind).map(|element| element.id);
            Some(Part {
                elements: place.into_iter().collect(),
                before_blower,
                route: Route::Blower,
                own,
                ways: Vec::new(),
                warmth: None,
                flow,
                leaks: false,
                apart: None,
                standing: PathStanding::Assumed,
            })
        })
        .collect()
}
