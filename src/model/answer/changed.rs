//! The system with a set of changes on: the parts of its path, the taps of its blower, and what stands between them.

use std::borrow::Cow;

use crate::model::air::BlowerAir;
use crate::model::air_path::{AirPath, ElementId, ElementKind};
use crate::model::answer::operation::{Inputs, Operation, tap_crossing};
use crate::model::answer::taps::{at_factor, at_speed};
use crate::model::blower::{BlowerTable, Call, HeatStage};
use crate::model::change::effect::{self, Place};
use crate::model::change::{Change, ChangeId, ChangeKind, Replacement};
use crate::model::duct::air_properties::{DuctAir, sutherland_viscosity};
use crate::model::job::Job;
use crate::model::operating_point::{Crossing, NoCrossing};
use crate::model::path_parts::{self, Part, Route};
use crate::model::readings::CoilState;
use crate::model::standing::PathStanding;
use crate::model::system_curve::{SystemCurve, SystemLoad};
use crate::model::tap_curve::{self, TapShape};
use crate::model::target::rise_at;
use crate::model::tesp;
use crate::units::{Airflow, Temperature};

/// A changed system.
#[derive(Clone, Debug)]
pub struct Changed<'a> {
    /// The parts of the path.
    pub parts: Vec<Part>,
    /// The machine's table: another one than the job's with another machine.
    pub table: &'a BlowerTable,
    /// The taps' curves.
    pub shapes: Cow<'a, [TapShape]>,
    /// Index of the tap that runs.
    pub in_use: usize,
    /// The call that it runs for.
    pub call: Call,
    /// Inside parts as they are less as they were tested.
    pub corrections: Cow<'a, SystemCurve>,
    /// Density at the blower's inlet over the table's.
    pub density_ratio: f64,
    /// The other machine, where there is one.
    pub replacement: Option<&'a Replacement>,
}

/// What changes are put on to.
#[derive(Clone, Copy, Debug)]
pub struct Found<'a> {
    /// What the solution started from.
    pub inputs: &'a Inputs<'a>,
    /// The system as read.
    pub operation: &'a Operation,
    /// Air at the blower.
    pub air: BlowerAir,
}

/// Air in the ducts: the blower's density, the return air's viscosity.
pub(crate) fn duct_air(job: &Job, air: BlowerAir) -> DuctAir {
    DuctAir::new(air.density, sutherland_viscosity(job.set().air.temperature)).unwrap_or(DuctAir::STANDARD)
}

/// The order in which changes are put on: the machine, then the call, then each part, and ways beside them last, a way beside few parts before one beside more; else the person's order.
pub(crate) fn in_order<'c>(changes: impl Iterator<Item = &'c Change>) -> Vec<&'c Change> {
    let mut ordered: Vec<&Change> = changes.collect();
    ordered.sort_by_key(|change| match &change.kind {
        ChangeKind::OtherMachine(_) => 0,
        ChangeKind::OtherCall(_) | ChangeKind::OtherCoilState { .. } => 1,
        ChangeKind::SecondReturn { filter, .. } => 3 + u8::from(filter.is_some()),
        ChangeKind::PanelOff { .. } => 5,
        _ => 2,
    });
    ordered
}

impl<'a> Found<'a> {
    /// The system as it was read.
    pub fn as_read(&self) -> Changed<'a> {
        Changed {
            parts: self.operation.parts.clone(),
            table: self.inputs.table,
            shapes: Cow::Borrowed(self.inputs.shapes),
            in_use: self.inputs.in_use,
            call: self.inputs.job.set().call,
            corrections: Cow::Borrowed(&self.operation.load.corrections),
            density_ratio: self.inputs.density_ratio,
            replacement: None,
        }
    }

    /// The system with changes put on in their order; those that cannot be are told to `refuse` and left out.
    pub fn with<'c: 'a>(
        &self,
        changes: impl Iterator<Item = &'c Change>,
        mut refuse: impl FnMut(ChangeId, String),
    ) -> Changed<'a> {
        let mut changed = self.as_read();
        for change in in_order(changes) {
            if let Err(sentence) = self.put_on(&mut changed, &change.kind) {
                refuse(change.id, sentence);
            }
        }
        changed
    }

    /// Puts one change on; after an error nothing is changed.
    ///
    /// # Errors
    /// A sentence: an element that is gone, a size that cannot be, a tap that the table has not.
    pub fn put_on<'c: 'a>(&self, changed: &mut Changed<'a>, kind: &'c ChangeKind) -> Result<(), String> {
        match kind {
            ChangeKind::OtherTap(name) => changed.in_use = tap_named(changed.table, name)?,
            ChangeKind::BelowTable { factor } => changed.shapes = Cow::Owned(self.below_table(changed, *factor)?),
            ChangeKind::OtherCall(call) => self.other_call(changed, *call)?,
            ChangeKind::OtherMachine(replacement) => self.other_machine(changed, replacement)?,
            ChangeKind::OtherCoilState { element, .. } if self.is_inside(*element) => {
                self.other_coil_inside(changed)?;
            }
            _ => self.on_parts(&mut changed.parts, kind)?,
        }
        Ok(())
    }

    /// Puts a change on the parts of the path alone; after an error they are as they were.
    ///
    /// # Errors
    /// As [`effect::put_on`].
    pub fn on_parts(&self, parts: &mut Vec<Part>, kind: &ChangeKind) -> Result<(), String> {
        // Only what takes parts out and puts them back can leave them half changed.
        let rearranges =
            matches!(kind, ChangeKind::SecondReturn { .. } | ChangeKind::PanelOff { .. } | ChangeKind::Seal { .. });
        let before = rearranges.then(|| parts.clone());
        let done = effect::put_on(parts, kind, &self.place());
        if let (Err(_), Some(before)) = (&done, before) {
            *parts = before;
        }
        done
    }

    fn place(&self) -> Place<'a> {
        Place {
            path: &self.inputs.job.path,
            air: duct_air(self.inputs.job, self.air),
            airflow: self.operation.now.airflow,
            density_ratio: self.inputs.density_ratio,
        }
    }

    fn is_inside(&self, id: ElementId) -> bool {
        let path = &self.inputs.job.path;
        path.index_of(id).is_some_and(|index| path.inside(&self.inputs.table.basis).contains(&index))
    }

    /// The taps' curves of a blower that moves less than its table.
    ///
    /// # Errors
    /// A sentence when the factor is outside 0.5 to 1.
    pub fn below_table(&self, changed: &Changed<'a>, factor: f64) -> Result<Vec<TapShape>, String> {
        if !(0.5..=1.0).contains(&factor) {
            return Err(format!(
                "A blower at {:.0} % of its table cannot be; it lies between 50 and 100 %",
                factor * 100.0
            ));
        }
        let voltage = if changed.replacement.is_some() { 1.0 } else { self.inputs.budget.airflow_factor };
        let slowed = |(tap, shape): (_, &TapShape)| match shape {
            TapShape::Unusable => TapShape::Unusable,
            _ => tap_curve::shape_of(&at_speed(&at_factor(tap, voltage), factor), changed.table.motor),
        };
        Ok(changed.table.taps.iter().zip(changed.shapes.iter()).map(slowed).collect())
    }

    fn other_call(&self, changed: &mut Changed<'a>, call: Call) -> Result<(), String> {
        let name = changed.table.tap_of_call(call).ok_or_else(|| {
            format!("The table does not say which tap runs {}; put another tap on instead", call.name().to_lowercase())
        })?;
        changed.in_use = tap_named(changed.table, name)?;
        let set = self.inputs.job.set();
        let read = self.warmth(self.inputs.table, set.call);
        let then = self.warmth(changed.table, call);
        let airflow = self.operation.now.airflow;
        for part in changed.parts.iter_mut().filter(|part| !part.before_blower) {
            if let Some(k) = read {
                part.own = part.own.scaled(1.0 / (1.0 + k / airflow));
                cool(&mut part.ways, 1.0 / (1.0 + k / airflow));
            }
            // The air is warmed by the blower's airflow; past a bypass a part passes its share of that, taken as it was read.
            part.warmth = then.map(|k| k * (part.flow / airflow));
            part.standing = part.standing.max(PathStanding::Assumed);
        }
        changed.call = call;
        let air = set.air.at_blower(changed.table.kind, call);
        changed.density_ratio = air.density / changed.table.basis.table_density();
        Ok(())
    }

    /// Airflow at which a call's heat would double the absolute temperature of the blower's air; nothing for a call that does not heat, or of unknown heat.
    fn warmth(&self, table: &BlowerTable, call: Call) -> Option<Airflow> {
        let stage: &HeatStage = table.heating.iter().find(|stage| stage.call == call)?;
        let set = self.inputs.job.set();
        let at = Airflow::from_cfm(1000.0);
        let rise = rise_at(stage.output, at, set.air.at_blower(table.kind, call).density);
        Some(at * (rise.f() / absolute_f(set.air.temperature)))
    }

    fn other_coil_inside(&self, changed: &mut Changed<'a>) -> Result<(), String> {
        let now = self.inputs.job.set().coil;
        let then = if now == CoilState::Wet { CoilState::Dry } else { CoilState::Wet };
        let step = tesp::wet_coil_step(changed.table, now, then).ok_or(
            "The table prints no drop for a wet coil, so nothing says what the coil inside the machine takes in its other state",
        )?;
        let factor = step.0 * step.1.density_factor(changed.density_ratio);
        changed.corrections.to_mut().add_data(step.1, factor);
        Ok(())
    }

    /// The parts without what leaves with the old machine.
    fn without(&self, parts: &[Part], leaves: &[ElementId]) -> Result<Vec<Part>, String> {
        let mut parts = parts.to_vec();
        leave(&mut parts, leaves).map_err(|id| {
            let name = self.inputs.job.path.name_of(id).unwrap_or_default().to_lowercase();
            format!("The {name} cannot leave with the old machine: it is all of its way, or nothing says what it takes of its stretch")
        })?;
        Ok(parts)
    }

    fn other_machine(&self, changed: &mut Changed<'a>, new: &'a Replacement) -> Result<(), String> {
        let path = &self.inputs.job.path;
        if let Some(id) = new.leaves.iter().find(|id| path.element(**id).is_none()) {
            return Err(format!(
                "Element {} was to leave with the old machine, but the air path does not have it",
                id.0
            ));
        }
        let parts = self.without(&changed.parts, &new.leaves)?;
        let name = new.tap.as_deref().or_else(|| new.table.tap_of_call(changed.call));
        let name =
            name.ok_or_else(|| format!("Say which tap of {} runs; its table has no call for it", new.table.name))?;
        changed.in_use = tap_named(&new.table, name)?;
        let air = self.inputs.job.set().air.at_blower(new.table.kind, changed.call);
        changed.density_ratio = air.density / new.table.basis.table_density();
        changed.table = &new.table;
        changed.shapes = Cow::Owned(super::sound_shapes(&new.table));
        changed.corrections =
            Cow::Owned(tesp::corrections_of(&new.table, self.inputs.job.set().coil, changed.density_ratio));
        changed.replacement = Some(new);
        changed.parts = parts;
        changed.parts.extend(arrivals(path, new, changed.density_ratio, self.operation.now.airflow));
        Ok(())
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

fn cool(ways: &mut [Vec<Part>], factor: f64) {
    for part in ways.iter_mut().flatten() {
        part.own = part.own.scaled(factor);
        cool(&mut part.ways, factor);
    }
}

/// Absolute temperature in degrees of Fahrenheit's size.
fn absolute_f(temperature: Temperature) -> f64 {
    temperature.f() + 459.67
}

/// Parts that come with another machine; a coil stands in the old coil's place.
fn arrivals(path: &AirPath, new: &Replacement, density_ratio: f64, flow: Airflow) -> Vec<Part> {
    use crate::model::blower::EquipmentKind::DrawThroughAirHandler;
    let draws = new.table.kind == DrawThroughAirHandler;
    [(ElementKind::Filter, &new.filter, true), (ElementKind::Coil, &new.coil, draws)]
        .into_iter()
        .filter_map(|(kind, data, before_blower)| {
            let data = data.as_ref()?;
            let mut own = SystemCurve::default();
            own.add_data(data, data.density_factor(density_ratio));
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
                standing: PathStanding::Assumed,
            })
        })
        .collect()
}

/// Index of a tap.
///
/// # Errors
/// A sentence when the table has none of that name.
pub(crate) fn tap_named(table: &BlowerTable, name: &str) -> Result<usize, String> {
    let index = table.taps.iter().position(|tap| tap.name == name);
    index.ok_or_else(|| format!("The table has no {} \"{name}\"", table.motor.tap_word()))
}

impl Changed<'_> {
    /// What any tap has to work against.
    pub fn load(&self) -> SystemLoad {
        SystemLoad {
            external: path_parts::curve_of(&self.parts),
            corrections: self.corrections.clone().into_owned(),
            density_ratio: self.density_ratio,
        }
    }

    /// Every tap's crossing, in the table's order.
    pub fn crossings(&self) -> Vec<Result<Crossing, NoCrossing>> {
        let load = self.load();
        self.shapes.iter().map(|shape| tap_crossing(shape, &load)).collect()
    }

    /// The crossing of the tap that runs.
    pub fn point(&self) -> Option<Crossing> {
        tap_crossing(self.shapes.get(self.in_use)?, &self.load()).ok()
    }
}
