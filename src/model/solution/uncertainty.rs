//! How sure each airflow is, and each difference of two: common causes are kept common.
//!
//! Each cause is moved by its standard uncertainty and everything is solved again (GUM 5.1.3, note 2); ± is two standard uncertainties, 95 %.

use crate::model::facts::accuracy::{Accuracy, COVERAGE, from_95};
use crate::model::facts::air_path::{Element, ElementId};
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::guesses::Guessed;
use crate::model::path::parts::{Part, flows};
use crate::model::solution::budget::{self, Source, of_static, own_of_tap, root_sum_square};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{Inputs, Operation, moved_operation};
use crate::units::{Airflow, Pressure};

/// ± of one tap's airflow and of its difference from the tap in use, both 95 %.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spread {
    /// Of the airflow.
    pub airflow: Airflow,
    /// Of the difference from today's airflow.
    pub gain: Airflow,
}

/// ± of today's airflow and static, and of every tap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spreads {
    /// Of today's airflow.
    pub now: Airflow,
    /// Of the total external static read.
    pub tesp: Pressure,
    /// Of each tap, in the table's order; nothing where the tap has no crossing.
    pub taps: Vec<Option<Spread>>,
}

/// One cause of doubt, moved by its standard uncertainty, and what the readings lead to then.
#[derive(Clone, Debug)]
pub struct Cause<'a> {
    /// What is solved then.
    pub inputs: Inputs<'a>,
    /// Its solution.
    pub operation: Operation,
    /// The elements that it parts otherwise, for a guess; none for what moves all.
    parts: Vec<ElementId>,
}

impl Cause<'_> {
    /// Whether it is a guess of how elements part what they take, of which one or what is in it is held.
    pub fn parts_any(&self, held: &[ElementId]) -> bool {
        let is_held = |element: &Element| held.iter().any(|id| element.within(*id).is_some());
        let parted = self.parts.iter().filter_map(|id| self.inputs.job.path.element(*id));
        parted.into_iter().any(is_held)
    }
}

/// What else readings, table, data and guesses could mean: each cause that a job's figures share.
#[derive(Clone, Debug)]
pub struct Doubt<'a> {
    tesp: Pressure,
    causes: Vec<Cause<'a>>,
    /// What nobody stated of the parts that changes take hold of.
    pub guesses: Vec<Guessed>,
}

impl<'a> Doubt<'a> {
    /// Solves each cause; one that leads off the curve is moved the other way.
    pub fn of(inputs: &Inputs<'a>, operation: &Operation) -> Self {
        let guesses = inputs.guesses(operation);
        let causes = causes(inputs, &operation.now, &guesses);
        Self { tesp: of_static(&inputs.sum, inputs.job.set(), &inputs.job.accuracy), causes, guesses }
    }

    /// What an element takes at its airflow and ± of that, 95 %; nothing for one that is no part of its own.
    pub fn of_drop(&self, now: &Operation, id: ElementId) -> Option<(Pressure, Pressure)> {
        let of = |at: &Operation| Some(flows::at_element(&at.parts, id, at.now.airflow)?.1);
        let drop = of(now)?;
        let moved = self.causes.iter().filter_map(|cause| of(&cause.operation));
        let doubt = root_sum_square(moved.map(|moved| (moved - drop).in_wc()));
        Some((drop, Pressure::from_in_wc(COVERAGE * doubt)))
    }
}

fn causes<'a>(inputs: &Inputs<'a>, now: &Crossing, guesses: &[Guessed]) -> Vec<Cause<'a>> {
    let budget = budget::budget(inputs, now, guesses);
    budget.iter().filter_map(|source| cause(inputs, now, source)).collect()
}

/// What a source leads to when it is moved by its standard uncertainty, one way or, where that leads off the curve, the other.
fn cause<'a>(inputs: &Inputs<'a>, now: &Crossing, source: &Source<'_, 'a>) -> Option<Cause<'a>> {
    [1.0, -1.0].into_iter().find_map(|way| {
        let mut moved = inputs.clone();
        source.shift(&mut moved, way * source.standard);
        moved.lay_through_opinion();
        let operation = moved_operation(&moved, now).ok()?;
        Some(Cause { inputs: moved, operation, parts: source.parts.clone() })
    })
}

/// What of the blower's air is told of a path's parts: all of it, what the rooms get, what is lost on the way.
pub type Told = fn(&[Part], Airflow) -> Airflow;

/// All of the blower's air.
pub const AT_BLOWER: Told = |_, blower| blower;

/// Taps whose spreads are wanted, one after the other in a table.
pub struct Taps<'a> {
    /// What is told of each.
    pub told: Told,
    /// The parts of the path that they are on, and of the path as found.
    pub parts: [&'a [Part]; 2],
    /// Index of the first.
    pub first: usize,
    /// What each does.
    pub crossings: &'a [Result<Crossing, NoCrossing>],
    /// Their curves.
    pub shapes: &'a [TapShape],
    /// What they work against.
    pub load: &'a SystemLoad,
    /// The causes that are reckoned with.
    pub counts: &'a dyn Fn(&Cause<'_>) -> bool,
    /// What is told of each where a cause is moved.
    pub project: &'a dyn Fn(&Cause<'_>) -> Vec<Option<Airflow>>,
    /// The tap of these whose own error moves today's airflow as well; none on another machine, whose table errs for itself.
    pub read: Option<usize>,
    /// How far each thing that moves these taps alone moves what is told of one of them, cfm.
    pub alone: &'a dyn Fn(usize, &Crossing) -> Vec<f64>,
}

/// Spreads of taps; `now` is today's airflow.
pub fn spreads(doubt: &Doubt<'_>, now: Airflow, accuracy: &Accuracy, taps: &Taps<'_>) -> Spreads {
    let (told, [parts, as_found]) = (taps.told, taps.parts);
    let today = told(as_found, now);
    let moved: Vec<(f64, Vec<Option<Airflow>>)> = doubt
        .causes
        .iter()
        .filter(|cause| (taps.counts)(cause))
        .map(|cause| {
            let Operation { now, parts, .. } = &cause.operation;
            ((told(parts, now.airflow) - today).cfm(), (taps.project)(cause))
        })
        .collect();
    let of_now = root_sum_square(moved.iter().map(|(now, _)| *now));
    let spread = |(index, crossing): (usize, &Result<Crossing, NoCrossing>)| {
        let crossing = crossing.as_ref().ok()?;
        let then = told(parts, crossing.airflow);
        let shifts = || moved.iter().filter_map(|(now, taps)| Some((now, ((*taps.get(index)?)? - then).cfm())));
        let alone = (taps.alone)(index, crossing);
        let alone = || alone.iter().copied().chain([taps.own(index, crossing, accuracy)]);
        let airflow = root_sum_square(shifts().map(|(_, tap)| tap).chain(alone()));
        let gain = root_sum_square(shifts().map(|(now, tap)| tap - now).chain(alone()));
        Some(Spread { airflow: at_95(airflow), gain: at_95(gain) })
    };
    let taps = taps.crossings.iter().enumerate().map(spread).collect();
    Spreads { now: at_95(of_now), tesp: doubt.tesp * COVERAGE, taps }
}

fn at_95(cfm: f64) -> Airflow {
    Airflow::from_cfm(COVERAGE * cfm)
}

/// Standard uncertainty of a tap's own curve, as a fraction of its airflow: its own, and its table's where that is another's; nought for the tap that was `read`, whose error moves today's airflow as well.
pub(super) fn own_fraction(
    read: Option<usize>,
    (index, shape): (usize, Option<&TapShape>),
    crossing: &Crossing,
    accuracy: &Accuracy,
) -> f64 {
    match read {
        Some(read) if read == index => 0.0,
        Some(_) => own_of_tap(shape, crossing, accuracy),
        None => own_of_tap(shape, crossing, accuracy).hypot(from_95(accuracy.table_fraction)),
    }
}

impl Taps<'_> {
    /// How far the error of a tap's own curve moves it along the path, and what is told of it, cfm: its own, and its table's where that is another's.
    fn own(&self, index: usize, crossing: &Crossing, accuracy: &Accuracy) -> f64 {
        let shape = self.shapes.get(index);
        let fraction = own_fraction(self.read, (self.first + index, shape), crossing, accuracy);
        let slope = match shape {
            Some(TapShape::Curve(curve)) => curve.value_and_slope(crossing.entry.in_wc()).1,
            Some(TapShape::Single(_) | TapShape::Unusable) | None => 0.0,
        };
        let asked = self.load.entry_and_slope(crossing.airflow.cfm()).1;
        let by = crossing.airflow * (fraction / (1.0 - slope * asked));
        let told = |airflow| (self.told)(self.parts[0], airflow);
        (told(crossing.airflow + by) - told(crossing.airflow)).cfm()
    }
}
