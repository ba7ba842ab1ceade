//! The system with a set of changes on: the parts of its path, the taps of its blower, and what stands between them.

use std::borrow::Cow;
use std::sync::Arc;

use crate::model::change::Effect;
use crate::model::change::on_parts::{Place, scale};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::{Change, ChangeId, ChangeKind, Replacement};
use crate::model::facts::job::Job;
use crate::model::facts::readings::CoilState;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::air_properties::{DuctAir, sutherland_viscosity};
use crate::model::laws::other_airflow::at_speed;
use crate::model::laws::system_curve::{SystemCurve, SystemLoad};
use crate::model::laws::table_curves::Conditions;
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::air::{self, DataAir};
use crate::model::path::parts::{self, Part};
use crate::model::path::tesp::{self, Assumption};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{self, Crossings, Inputs, Operation};
use crate::units::Density;

/// A changed system.
#[derive(Clone, Debug)]
pub struct Changed<'a> {
    /// The parts of the path.
    pub parts: Vec<Part>,
    /// The machine's table: another one than the job's with another machine.
    pub table: &'a BlowerTable,
    /// The taps' curves.
    pub shapes: Arc<[TapShape]>,
    /// Index of the tap that runs.
    pub in_use: usize,
    /// The call that it runs for.
    pub call: Call,
    /// The state of its coil then.
    pub coil: CoilState,
    /// What the table has otherwise, apart from the inside parts as they are.
    pub corrections: Cow<'a, SystemCurve>,
    /// Density at the blower's inlet over the table's.
    pub density_ratio: f64,
    /// Factor on the table's airflow, as in [`tesp::StaticSum`].
    pub airflow_factor: f64,
    /// The tap with a factor of its own, for an opinion in the table's place.
    pub tap_factor: Option<(usize, f64)>,
    /// The wheel's speed over its table's; several causes of a slower one multiply.
    pub speed: f64,
    /// The other machine, where there is one.
    pub replacement: Option<&'a Replacement>,
    /// What had to be taken for granted of it.
    pub assumptions: Vec<Assumption>,
}

/// What changes are put on to.
#[derive(Clone, Copy, Debug)]
pub struct Found<'a> {
    /// What the solution started from.
    pub inputs: &'a Inputs<'a>,
    /// The system as read.
    pub operation: &'a Operation,
    /// Where every tap crosses its path.
    pub crossings: &'a [Result<Crossing, NoCrossing>],
    /// A factor on every external drop that a person wishes for, once the changes are on; nothing for the path as it is.
    pub wish: Option<f64>,
}

impl Found<'_> {
    /// Where a search for a changed system's crossings begins: another machine's taps are none of these.
    fn near(&self, changed: &Changed<'_>) -> &[Result<Crossing, NoCrossing>] {
        if changed.replacement.is_some() { &[] } else { self.crossings }
    }

    /// Every tap's crossing with a changed path, in the table's order.
    pub fn crossings_of(&self, changed: &Changed<'_>) -> Crossings {
        operation::crossings(&changed.shapes, &changed.load(), self.near(changed))
    }

    /// The crossing of the tap that runs in a changed system.
    pub fn point_of(&self, changed: &Changed<'_>) -> Option<Crossing> {
        let near = operation::entry_of(self.near(changed), changed.in_use);
        operation::tap_crossing(changed.shapes.get(changed.in_use)?, &changed.load(), near).ok()
    }
}

/// Air in the ducts: the blower's density, the return air's viscosity.
pub(crate) fn duct_air(job: &Job, blower: Density) -> DuctAir {
    DuctAir::new(blower, sutherland_viscosity(job.set().air.temperature)).unwrap_or(DuctAir::STANDARD)
}

/// The order in which changes are put on: the machine, then the call, then what is done to parts, then in what state they are, and ways beside them last, a way beside few parts before one beside more; else the person's order.
///
/// So a filter that is replaced and loaded is the new one, loaded, whichever was put on first.
pub(crate) fn in_order<'c>(changes: impl Iterator<Item = &'c Change>) -> Vec<&'c Change> {
    let mut ordered: Vec<&Change> = changes.collect();
    ordered.sort_by_key(|change| change.kind.stage());
    ordered
}

/// Why a change of a coil's state does nothing: one before it has put the same coil into its other state.
pub(crate) fn sets_coil_again(change: &Change, before_it: &[&Change]) -> Option<Refusal> {
    let coil = change.kind.particulars().coil?;
    before_it.iter().any(|earlier| earlier.kind.particulars().coil == Some(coil)).then_some(Refusal::CoilAgain)
}

impl<'a> Found<'a> {
    /// The system as it was read.
    pub fn as_read(&self) -> Changed<'a> {
        Changed {
            parts: self.operation.parts.clone(),
            table: self.inputs.table,
            shapes: Arc::clone(&self.inputs.shapes),
            in_use: self.inputs.in_use,
            call: self.inputs.job.set().call,
            coil: self.inputs.job.set().coil,
            corrections: Cow::Borrowed(&self.inputs.sum.corrections),
            density_ratio: self.inputs.density_ratio,
            airflow_factor: self.inputs.sum.airflow_factor,
            tap_factor: self.inputs.sum.tap_factor,
            speed: 1.0,
            replacement: None,
            assumptions: Vec::new(),
        }
    }

    /// The system with changes put on in their order; those that cannot be are told to `refuse` and left out.
    pub fn with<'c: 'a>(
        &self,
        changes: impl Iterator<Item = &'c Change>,
        refuse: impl FnMut(ChangeId, Refusal),
    ) -> Changed<'a> {
        self.in_turn(changes, refuse, |_, _| {})
    }

    /// The same, looked at after each change that was put on.
    pub fn in_turn<'c: 'a>(
        &self,
        changes: impl Iterator<Item = &'c Change>,
        mut refuse: impl FnMut(ChangeId, Refusal),
        mut look: impl FnMut(&'c Change, &Changed<'a>),
    ) -> Changed<'a> {
        let mut changed = self.as_read();
        let ordered = in_order(changes);
        for (index, change) in ordered.iter().enumerate() {
            let wiped_out = || self.wiped_out(change, &ordered[index + 1..]);
            let done = match sets_coil_again(change, &ordered[..index]).or_else(wiped_out) {
                Some(refusal) => Err(refusal),
                None => self.put_on(&mut changed, &change.kind),
            };
            match done {
                Ok(()) => look(change, &changed),
                Err(refusal) => refuse(change.id, refusal),
            }
        }
        if let Some(factor) = self.wish {
            let external = changed.parts.iter_mut().filter(|part| part.is_external());
            external.for_each(|part| part.each_law(&|law| law.scaled(factor)));
        }
        changed
    }

    /// Why nothing is left of a change: another tap or call comes after it, or a new part by its data takes the place of the one that it was done to.
    fn wiped_out(&self, change: &Change, after_it: &[&Change]) -> Option<Refusal> {
        let asked = change.kind.particulars();
        let mut later = after_it.iter().map(|later| later.kind.particulars());
        if asked.tap.is_some() {
            let word = self.inputs.table.motor.tap_word();
            return later.find_map(|later| later.tap).map(|tap| Refusal::TapAfter(word, tap.to_owned()));
        }
        if asked.call.is_some() {
            return later.find_map(|later| later.call).map(Refusal::CallAfter);
        }
        let element = change.kind.element()?;
        let is_replaced =
            |later: &&Change| later.kind.particulars().replaces_part && later.kind.element() == Some(element);
        after_it.iter().any(is_replaced).then(|| Refusal::ReplacedAfter(self.inputs.job.path.said(element)))
    }

    /// Puts one change on; after an error nothing is changed.
    ///
    /// # Errors
    /// An element that is gone, a size that cannot be, a tap that the table has not.
    pub fn put_on<'c: 'a>(&self, changed: &mut Changed<'a>, kind: &'c ChangeKind) -> Result<(), Refusal> {
        let place = self.place(changed);
        match kind.put_on(&mut changed.parts, &place).map_err(|refusal| self.was_out(kind, refusal))? {
            Effect::Done => {}
            Effect::Tap(name) => changed.in_use = tap_named(changed.table, name)?,
            Effect::Slower(factor) => Self::slow_down(changed, factor),
            Effect::Call(call) => self.other_call(changed, call)?,
            Effect::Machine(new) => self.other_machine(changed, new)?,
            Effect::CoilOfTable(coil, factor) => self.other_coil_inside(changed, coil, factor)?,
        }
        Ok(())
    }

    /// A part has no drop of its own because it was out while these readings were taken.
    fn was_out(&self, kind: &ChangeKind, refusal: Refusal) -> Refusal {
        let out = |id: &ElementId| self.inputs.job.set().parts_out.contains(id);
        match (refusal, kind.element().filter(out)) {
            (Refusal::NoOwnDrop(name), Some(_)) => Refusal::WasOut(name),
            (refusal, _) => refusal,
        }
    }

    /// Where changes of parts are worked out on a changed system.
    pub(crate) fn place(&self, changed: &Changed<'_>) -> Place<'a> {
        Place {
            path: &self.inputs.job.path,
            basis: Some(&self.inputs.table.basis),
            air: duct_air(self.inputs.job, changed.blower_density()),
            airflow: self.operation.now.airflow,
            data_air: air::over_standard(&self.inputs.job.set().air, changed.blower_density()),
            dried_for: (changed.coil != self.inputs.job.set().coil).then_some(changed.call),
        }
    }

    /// True for an element that the table of the machine that ran contains.
    pub(crate) fn is_inside(&self, id: ElementId) -> bool {
        let path = &self.inputs.job.path;
        path.index_of(id).is_some_and(|index| path.inside(&self.inputs.table.basis).contains(&index))
    }

    /// The air at a changed system's blower over that of drops by data.
    pub(super) fn data_air(&self, changed: &Changed<'_>) -> DataAir {
        DataAir::of(&self.inputs.job.set().air, changed.blower_density(), changed.table)
    }

    /// Slows the blower down, however often; at its table's own speed nothing is another.
    fn slow_down(changed: &mut Changed<'_>, factor: f64) {
        changed.speed *= factor;
        if changed.speed < 1.0 {
            changed.shapes = Self::below_table(changed, changed.speed);
        }
    }

    /// The taps' curves of a blower that moves less than its table.
    pub(super) fn below_table(changed: &Changed<'_>, factor: f64) -> Arc<[TapShape]> {
        let slowed = |(tap, shape): (_, &TapShape)| match shape {
            TapShape::Unusable => None,
            TapShape::Curve(_) | TapShape::Single(_) => Some(Cow::Owned(at_speed(tap, factor))),
        };
        let taps = changed.table.taps.iter().zip(changed.shapes.iter()).map(slowed);
        changed.conditions().shapes(taps, changed.table).into()
    }

    fn other_coil_inside(&self, changed: &mut Changed<'a>, coil: ElementId, factor: f64) -> Result<(), Refusal> {
        let then = if changed.coil == CoilState::Wet { CoilState::Dry } else { CoilState::Wet };
        if self.coil_inside(changed, then) {
            return Ok(());
        }
        scale(&mut changed.parts, &self.inputs.job.path, coil, factor).map_err(|_not_known| Refusal::NoWetDrop)?;
        Ok(())
    }

    /// Counts the table's own drop for a wet coil, or takes it off; false where the table prints none.
    pub(super) fn coil_inside(&self, changed: &mut Changed<'a>, then: CoilState) -> bool {
        let Some((sign, wet)) = tesp::wet_coil_step(changed.table, changed.coil, then) else {
            return false;
        };
        let wet = wet.in_air(self.data_air(changed).printed);
        changed.corrections.to_mut().add_data(&wet, sign);
        true
    }
}

/// Index of a tap.
///
/// # Errors
/// When the table has none of that name.
pub(crate) fn tap_named(table: &BlowerTable, name: &str) -> Result<usize, Refusal> {
    let index = table.taps.iter().position(|tap| tap.name == name);
    index.ok_or_else(|| Refusal::NoTap(table.motor.tap_word(), name.to_owned()))
}

impl Changed<'_> {
    /// Density of the air at the blower.
    pub fn blower_density(&self) -> Density {
        self.table.basis.table_density() * self.density_ratio
    }

    /// What the job makes of its table's figures.
    pub fn conditions(&self) -> Conditions {
        Conditions {
            airflow_factor: self.airflow_factor,
            tap_factor: self.tap_factor,
            density_ratio: self.density_ratio,
        }
    }

    /// What any tap has to work against.
    pub fn load(&self) -> SystemLoad {
        parts::load_of(&self.parts, &self.corrections, thin_air::entry_ratio(self.table.motor, self.density_ratio))
    }
}
