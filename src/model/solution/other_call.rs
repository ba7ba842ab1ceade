//! Another call of the thermostat on the path as read: its tap, the air that its blower breathes, and warm air behind the blower.
//!
//! Drops were read in the air of the call that ran. At the same airflow through the blower another air takes another drop: behind the blower it is the blower's own, before it the rooms' air stays what it was and only its volume follows the blower's mass.

use crate::model::change::kinds::WET_OVER_DRY;
use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind};
use crate::model::facts::blower::Call;
use crate::model::facts::readings::CoilState;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::table_curves;
use crate::model::path::air;
use crate::model::path::parts::{Part, Route, part_mut};
use crate::model::solution::changed::{Changed, Found, tap_named};
use crate::units::Density;

impl<'a> Found<'a> {
    /// Puts another call on.
    ///
    /// # Errors
    /// When the table does not say which tap runs it.
    pub(super) fn other_call(&self, changed: &mut Changed<'a>, call: Call) -> Result<(), Refusal> {
        let name = changed.table.tap_of_call(call).ok_or(Refusal::NoTapFor(call))?;
        changed.in_use = tap_named(changed.table, name)?;
        changed.parts = sides_apart(std::mem::take(&mut changed.parts), &self.inputs.job.path);
        let set = self.inputs.job.set();
        let then = air::warmth(set, changed.table, call);
        let airflow = self.operation.now.airflow;
        if !call.is_cooling() && changed.coil == CoilState::Wet {
            self.dry_coils(changed);
        }
        for part in changed.parts.iter_mut().filter(|part| !part.before_blower && part.route != Route::Inside) {
            // The air is warmed by the blower's airflow; past a bypass a part passes its share of that, taken as it was read.
            part.warmth = then.map(|k| k * (part.flow / airflow));
            part.standing = part.standing.max(PathStanding::Assumed);
        }
        changed.call = call;
        in_air_of(changed, set.air.at_blower(changed.table.kind, call).density);
        Ok(())
    }

    /// Dries the coils: inside the machine by the table's own drop, outside by the usual factor, the coil's part of an unsplit stretch by usual weights.
    ///
    /// Another machine's coil by data keeps what its data say.
    fn dry_coils(&self, changed: &mut Changed<'a>) {
        let (path, set) = (&self.inputs.job.path, self.inputs.job.set());
        let is_there = |coil: &&Element| coil.kind == ElementKind::Coil && !set.parts_out.contains(&coil.id);
        let (inside, outside): (Vec<_>, Vec<_>) =
            path.all().into_iter().filter(is_there).partition(|coil| self.is_inside(coil.id));
        let is_in_table = changed.replacement.map_or(!inside.is_empty(), |new| new.table.basis.coil.is_included());
        if is_in_table {
            self.coil_inside(changed, CoilState::Dry);
        }
        if changed.replacement.is_none_or(|new| new.coil.is_none()) {
            for coil in outside {
                dry_outside(&mut changed.parts, path, coil);
            }
        }
        changed.coil = CoilState::Dry;
    }
}

fn dry_outside(parts: &mut [Part], path: &AirPath, coil: &Element) {
    let less = 1.0 - 1.0 / WET_OVER_DRY;
    if let Some(part) = part_mut(parts, coil.id) {
        part.each_law(&|law| law.scaled(1.0 - less));
        return;
    }
    if let Some(part) = parts.iter_mut().find(|part| part.elements.contains(&coil.id)) {
        let share = coil.usual_weight() / usual_weight(path, &part.elements);
        part.each_law(&|law| law.scaled(1.0 - less * share));
    }
}

/// Brings drops, and what inside parts differ, from the air that the blower breathed to another.
///
/// With density ratio d (then over before), at the same airflow through the blower: behind it drops follow `d^(n − 1)`; before it the rooms' air keeps its density and its volume follows the mass, `dⁿ`.
fn in_air_of(changed: &mut Changed<'_>, density: Density) {
    let ratio = density / changed.blower_density();
    changed.density_ratio = density / changed.table.basis.table_density();
    if (ratio - 1.0).abs() < f64::EPSILON {
        return;
    }
    changed.shapes = table_curves::sound_shapes(changed.table, changed.conditions()).into();
    for part in &mut changed.parts {
        let breathes_rooms = part.before_blower && part.route != Route::Inside;
        part.each_law(&|law| if breathes_rooms { law.of_share(ratio) } else { law.at_density(ratio) });
    }
    *changed.corrections.to_mut() = changed.corrections.at_density(ratio);
}

/// Weight of elements together; see [`Element::usual_weight`].
fn usual_weight(path: &AirPath, ids: &[ElementId]) -> f64 {
    ids.iter().filter_map(|id| path.element(*id)).map(Element::usual_weight).sum()
}

/// A stretch that was read across the blower, as a total is, taken apart by the usual weights of its elements, so that air can be warm on one side of it; each side keeps its law.
fn sides_apart(parts: Vec<Part>, path: &AirPath) -> Vec<Part> {
    let blower = path.blower().unwrap_or_default();
    let is_before = |id: &ElementId| path.index_of(*id).is_some_and(|index| index < blower);
    let apart = |part: Part| {
        let (before, behind): (Vec<_>, Vec<_>) = part.elements.iter().copied().partition(is_before);
        if before.is_empty() || behind.is_empty() {
            return vec![part];
        }
        let (before_all, behind_all) = (usual_weight(path, &before), usual_weight(path, &behind));
        let share = before_all / (before_all + behind_all);
        let side = |elements, before_blower, share| Part {
            elements,
            before_blower,
            own: part.own.scaled(share),
            warmth: None,
            standing: part.standing.max(PathStanding::Shared),
            ..part.clone()
        };
        vec![side(before, true, share), side(behind, false, 1.0 - share)]
    };
    parts.into_iter().flat_map(apart).collect()
}
