//! The path with its changes: every tap on it, what each change brings alone, and what they bring together.
//!
//! Worths do not add up, so both are given.

use crate::model::accuracy::{CHANGE_LIMIT, COVERAGE, from_limit};
use crate::model::air::BlowerAir;
use crate::model::air_path::ElementId;
use crate::model::answer::operation::{Inputs, Operation, load_of, tap_crossing};
use crate::model::answer::taps::at_speed;
use crate::model::blower::BlowerTable;
use crate::model::change::effect::{self, Place};
use crate::model::change::{Change, ChangeId, ChangeKind};
use crate::model::duct::air_properties::{DuctAir, sutherland_viscosity};
use crate::model::job::Job;
use crate::model::operating_point::{Crossing, NoCrossing};
use crate::model::path_parts::Part;
use crate::model::system_curve::SystemLoad;
use crate::model::tap_curve::{self, TapShape};
use crate::model::uncertainty::{self, Spreads};
use crate::units::Airflow;

/// What one change brings alone, in airflow of the tap in use (of its own tap where it changes that).
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// The change.
    pub id: ChangeId,
    /// Gain of airflow, or the sentence why it cannot be worked out.
    pub gain: Result<Airflow, String>,
}

/// The path with the changes that are on.
#[derive(Clone, Debug, PartialEq)]
pub struct After {
    /// The parts.
    pub parts: Vec<Part>,
    /// What any tap has to work against.
    pub load: SystemLoad,
    /// The taps' curves (another than before when the blower is below its table).
    pub shapes: Vec<TapShape>,
    /// Index of the tap that runs after the changes.
    pub in_use: usize,
    /// Every tap's crossing, in the table's order.
    pub taps: Vec<Result<Crossing, NoCrossing>>,
    /// ± of each tap and of its gain.
    pub spreads: Spreads,
    /// Each change alone, those that are off included, in the job's order.
    pub worths: Vec<Worth>,
    /// Changes that are on and could not be put on, with the sentence.
    pub refused: Vec<(ChangeId, String)>,
}

impl After {
    /// The point of the tap that runs after the changes.
    pub fn point(&self) -> Option<&Crossing> {
        self.taps.get(self.in_use)?.as_ref().ok()
    }

    /// The published bound of a tap that would run past its last row: its airflow is below it.
    pub fn below(&self, index: usize) -> Option<Airflow> {
        let crossing = self.taps.get(index)?.as_ref().ok()?;
        match self.shapes.get(index)? {
            TapShape::Curve(curve) => super::taps::below(curve, crossing),
            _ => None,
        }
    }
}

/// Elements that the changes of a job take hold of, those that are off included, so that switching one moves nothing else.
pub fn held_elements(job: &Job) -> Vec<ElementId> {
    let mut held: Vec<ElementId> =
        job.changes.iter().flat_map(|change| effect::takes_hold_of(&change.kind, &job.path)).collect();
    held.sort_unstable();
    held.dedup();
    held
}

/// Air in the ducts: the blower's density, the return air's viscosity.
pub(crate) fn duct_air(job: &Job, air: BlowerAir) -> DuctAir {
    DuctAir::new(air.density, sutherland_viscosity(job.set().air.temperature)).unwrap_or(DuctAir::STANDARD)
}

/// A changed state: the parts, the taps' curves and the tap that runs.
struct State {
    parts: Vec<Part>,
    shapes: Vec<TapShape>,
    in_use: usize,
}

/// The order in which changes are put on: a part is changed before a second way is laid beside it, a way beside few parts before one beside more; else the person's order.
pub(crate) fn in_order<'c>(changes: impl Iterator<Item = &'c Change>) -> Vec<&'c Change> {
    let mut ordered: Vec<&Change> = changes.collect();
    ordered.sort_by_key(|change| match &change.kind {
        ChangeKind::SecondReturn { filter, .. } => 1 + u8::from(filter.is_some()),
        _ => 0,
    });
    ordered
}

fn state_with<'c>(
    inputs: &Inputs<'_>,
    operation: &Operation,
    air: BlowerAir,
    changes: impl Iterator<Item = &'c Change>,
    mut refuse: impl FnMut(ChangeId, String),
) -> State {
    let place = Place {
        path: &inputs.job.path,
        air: duct_air(inputs.job, air),
        airflow: operation.now.airflow,
        density_ratio: inputs.density_ratio,
    };
    let mut state = State { parts: operation.parts.clone(), shapes: inputs.shapes.to_vec(), in_use: inputs.in_use };
    for change in in_order(changes) {
        let mut parts = state.parts.clone();
        let done = effect::put_on(&mut parts, &change.kind, &place)
            .and_then(|()| on_the_blower(inputs, &change.kind, &mut state));
        match done {
            Ok(()) => state.parts = parts,
            Err(sentence) => refuse(change.id, sentence),
        }
    }
    state
}

fn on_the_blower(inputs: &Inputs<'_>, kind: &ChangeKind, state: &mut State) -> Result<(), String> {
    match kind {
        ChangeKind::OtherTap(name) => state.in_use = tap_named(inputs.table, name)?,
        ChangeKind::BelowTable { factor } => state.shapes = below_table(inputs, *factor)?,
        _ => {}
    }
    Ok(())
}

/// Index of a tap.
///
/// # Errors
/// A sentence when the table has none of that name.
pub(crate) fn tap_named(table: &BlowerTable, name: &str) -> Result<usize, String> {
    let index = table.taps.iter().position(|tap| tap.name == name);
    index.ok_or_else(|| format!("The table has no {} \"{name}\"", table.motor.tap_word()))
}

/// The taps' curves of a blower that moves less than its table.
///
/// # Errors
/// A sentence when the factor is outside 0.5 to 1.
pub(crate) fn below_table(inputs: &Inputs<'_>, factor: f64) -> Result<Vec<TapShape>, String> {
    if (0.5..=1.0).contains(&factor) {
        return Ok(slowed(inputs, factor));
    }
    Err(format!("A blower at {:.0} % of its table cannot be; it lies between 50 and 100 %", factor * 100.0))
}

fn slowed(inputs: &Inputs<'_>, factor: f64) -> Vec<TapShape> {
    inputs
        .table
        .taps
        .iter()
        .zip(inputs.shapes)
        .map(|(tap, shape)| {
            if *shape == TapShape::Unusable {
                return TapShape::Unusable;
            }
            let at_voltage = super::taps::at_factor(tap, inputs.budget.airflow_factor);
            tap_curve::shape_of(&at_speed(&at_voltage, factor), inputs.table.motor)
        })
        .collect()
}

/// The path with the changes that are on; nothing when the job has none.
pub fn after(inputs: &Inputs<'_>, operation: &Operation, air: BlowerAir) -> Option<After> {
    let job = inputs.job;
    if job.changes.is_empty() {
        return None;
    }
    let mut refused = Vec::new();
    let on = || job.changes.iter().filter(|change| change.is_on());
    let state = state_with(inputs, operation, air, on(), |id, sentence| refused.push((id, sentence)));
    let load = load_of(&state.parts, inputs);
    let project = |moved: &Operation| {
        let state = state_with(inputs, moved, air, on(), |_, _| {});
        let load = load_of(&state.parts, inputs);
        state.shapes.iter().map(|shape| tap_crossing(shape, &load).ok()).collect::<Vec<_>>()
    };
    let taps: Vec<_> = state.shapes.iter().map(|shape| tap_crossing(shape, &load)).collect();
    let read = uncertainty::spreads(inputs, operation, job.set(), &job.accuracy, &project);
    Some(After {
        spreads: with_change_doubt(inputs, operation, &taps, read),
        taps,
        worths: job.changes.iter().map(|change| worth(inputs, operation, air, change)).collect(),
        parts: state.parts,
        load,
        shapes: state.shapes,
        in_use: state.in_use,
        refused,
    })
}

/// Widens what the readings leave in doubt by what the changes do: each tap's own step from the path as found to the changed one is known to a quarter (see [`CHANGE_LIMIT`]); a mere change of tap adds nothing.
fn with_change_doubt(
    inputs: &Inputs<'_>,
    operation: &Operation,
    taps: &[Result<Crossing, NoCrossing>],
    mut spreads: Spreads,
) -> Spreads {
    let before = uncertainty::as_found(inputs.shapes, operation);
    for ((spread, before), after) in spreads.taps.iter_mut().zip(before).zip(taps) {
        if let (Some(spread), Some(before), Ok(after)) = (spread, before, after) {
            let step = (after.airflow - before.airflow).abs().cfm();
            let doubt = COVERAGE * from_limit(CHANGE_LIMIT) * step;
            spread.airflow = Airflow::from_cfm(spread.airflow.cfm().hypot(doubt));
            spread.gain = Airflow::from_cfm(spread.gain.cfm().hypot(doubt));
        }
    }
    spreads
}

fn worth(inputs: &Inputs<'_>, operation: &Operation, air: BlowerAir, change: &Change) -> Worth {
    let mut refused = None;
    let state = state_with(inputs, operation, air, std::iter::once(change), |_, sentence| refused = Some(sentence));
    let gain = if let Some(sentence) = refused {
        Err(sentence)
    } else {
        let load = load_of(&state.parts, inputs);
        let crossing = state.shapes.get(state.in_use).and_then(|shape| tap_crossing(shape, &load).ok());
        crossing
            .map(|crossing| crossing.airflow - operation.now.airflow)
            .ok_or_else(|| "The tap's curve does not reach this path".to_owned())
    };
    Worth { id: change.id, gain }
}
