//! How sure each airflow is, and each difference of two: common causes are kept common.
//!
//! Each cause is moved by its standard uncertainty and everything is solved again (GUM 5.1.3, note 2); ± is two standard uncertainties, 95 %.

use crate::model::facts::accuracy::{Accuracy, COVERAGE, from_limit};
use crate::model::facts::readings::{ReadAt, ReadingSet};
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::tesp::{ReadAcross, ReadDifference, StaticBudget};
use crate::model::solution::operating_point::Crossing;
use crate::model::solution::operation::{Inputs, Operation, operate, tap_crossing};
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

/// Standard uncertainty of the total external static: one manometer's gain, each place's own offset, each reading's unsteadiness; those read across parts between ports and planes included.
pub fn of_static(budget: &StaticBudget, set: &ReadingSet, accuracy: &Accuracy) -> Pressure {
    let places = match budget.read {
        ReadDifference::Ports { before, after } => vec![ReadAt::Port(before.0), ReadAt::Port(after.0)],
        ReadDifference::Total(_) => vec![ReadAt::Total],
    };
    let across = budget.read_across.parts.iter().map(|part| ReadAt::Across(*part));
    let total = budget.read.across() + budget.read_across.to_planes;
    // A total, and a drop across a part, are read between two places as well.
    let differences = 1 + budget.read_across.parts.len();
    of_readings(total, differences, places.into_iter().chain(across), set, accuracy)
}

/// Standard uncertainty of what inside parts were read to drop, which the table entry takes in; nothing where none was read.
fn of_inside(budget: &StaticBudget, set: &ReadingSet, accuracy: &Accuracy) -> Option<Pressure> {
    let inside = &budget.read_across.inside;
    let total = inside.iter().map(|inside| inside.drop).sum();
    let places = inside.iter().map(|inside| ReadAt::Across(inside.part));
    (!inside.is_empty()).then(|| of_readings(total, inside.len(), places, set, accuracy))
}

/// Of a sum of pressure differences, each between two places.
fn of_readings(
    total: Pressure,
    differences: usize,
    places: impl Iterator<Item = ReadAt>,
    set: &ReadingSet,
    accuracy: &Accuracy,
) -> Pressure {
    let manometer = from_limit(accuracy.manometer_limit(total).in_wc());
    let offset = from_limit(accuracy.port_offset.in_wc());
    let unsteady: f64 =
        places.filter_map(|place| set.at(place)).map(|reading| reading.unsteadiness().in_wc().powi(2)).sum();
    Pressure::from_in_wc((manometer.powi(2) + 2.0 * differences as f64 * offset.powi(2) + unsteady).sqrt())
}

/// Crossings of every tap, in the table's order, that follow from a solved operation; nothing where a tap has none.
pub type Project<'a> = &'a dyn Fn(&Operation) -> Vec<Option<Crossing>>;

/// Crossings of every tap on the path as read.
pub fn as_found(shapes: &[TapShape], operation: &Operation) -> Vec<Option<Crossing>> {
    shapes.iter().map(|shape| tap_crossing(shape, &operation.load).ok()).collect()
}

/// The taps whose spreads are wanted.
#[derive(Clone, Copy)]
pub struct Taps<'a> {
    /// What each would do, before or after changes.
    pub project: Project<'a>,
    /// Their curves.
    pub shapes: &'a [TapShape],
    /// True for another machine than the one that ran: the error of its table is its own.
    pub of_another: bool,
}

/// Spreads of a solved job.
pub fn spreads(
    inputs: &Inputs<'_>,
    operation: &Operation,
    set: &ReadingSet,
    accuracy: &Accuracy,
    taps: Taps<'_>,
) -> Spreads {
    let project = taps.project;
    let u_static = of_static(&inputs.budget, set, accuracy);
    let inside = of_inside(&inputs.budget, set, accuracy);
    let base = Airflows { now: operation.now.airflow.cfm(), taps: project(operation) };
    let exponent = from_limit(accuracy.exponent);
    let causes: Vec<Moved> = [
        either_way(inputs, &base, project, |changed, way| shift(&mut changed.budget.read, u_static * way)),
        either_way(inputs, &base, project, |changed, way| changed.exponent_shift = -exponent * way),
        inside.and_then(|by| {
            either_way(inputs, &base, project, |changed, way| {
                shift_inside(&mut changed.budget.read_across, by * way);
            })
        }),
    ]
    .into_iter()
    .flatten()
    .collect();
    let table = from_limit(accuracy.table_fraction);
    let now = root_sum_square(causes.iter().map(|cause| cause.now).chain([base.now * table]));
    let each = base
        .taps
        .iter()
        .enumerate()
        .map(|(index, crossing)| tap_spread(index, crossing.as_ref()?, &base, &causes, taps, table))
        .collect();
    Spreads { now: Airflow::from_cfm(COVERAGE * now), tesp: u_static * COVERAGE, taps: each }
}

struct Airflows {
    now: f64,
    taps: Vec<Option<Crossing>>,
}

/// How far one cause, moved by its standard uncertainty, moves today's airflow and each tap's, cfm.
struct Moved {
    now: f64,
    taps: Vec<Option<f64>>,
}

/// The cause moved one way, or the other where that leaves the curve.
fn either_way(
    inputs: &Inputs<'_>,
    base: &Airflows,
    project: Project<'_>,
    change: impl Fn(&mut Inputs<'_>, f64),
) -> Option<Moved> {
    [1.0, -1.0].into_iter().find_map(|way| moved(inputs, base, project, |changed| change(changed, way)))
}

fn moved(
    inputs: &Inputs<'_>,
    base: &Airflows,
    project: Project<'_>,
    change: impl Fn(&mut Inputs<'_>),
) -> Option<Moved> {
    let mut changed = inputs.clone();
    change(&mut changed);
    let operation = operate(&changed).ok()?;
    let difference =
        |(there, here): (Option<Crossing>, &Option<Crossing>)| Some((there?.airflow - here.as_ref()?.airflow).cfm());
    Some(Moved {
        now: operation.now.airflow.cfm() - base.now,
        taps: project(&operation).into_iter().zip(&base.taps).map(difference).collect(),
    })
}

fn shift(read: &mut ReadDifference, by: Pressure) {
    match read {
        ReadDifference::Ports { before, after } => {
            before.1 = before.1 - by / 2.0;
            after.1 += by / 2.0;
        }
        ReadDifference::Total(total) => *total += by,
    }
}

/// The whole of it on one part: only the sum moves the table entry, and the parts' exponents hardly differ.
fn shift_inside(read: &mut ReadAcross, by: Pressure) {
    if let Some(inside) = read.inside.first_mut() {
        inside.drop += by;
    }
}

fn tap_spread(
    index: usize,
    crossing: &Crossing,
    base: &Airflows,
    causes: &[Moved],
    taps: Taps<'_>,
    table: f64,
) -> Option<Spread> {
    let cfm = crossing.airflow.cfm();
    let doubt = match taps.shapes.get(index)? {
        TapShape::Curve(curve) => from_limit(curve.wide_row_doubt(crossing.entry).cfm()),
        _ => 0.0,
    };
    let shifts: Vec<(f64, f64)> =
        causes.iter().filter_map(|cause| Some((cause.now, cause.taps.get(index).copied()??))).collect();
    let own = shifts.iter().map(|(_, tap)| *tap);
    let apart = shifts.iter().map(|(now, tap)| tap - now);
    let same_point = !taps.of_another && (cfm - base.now).abs() < 1e-9;
    let airflow = root_sum_square(own.chain([cfm * table, doubt]));
    // One table errs by one factor on all its taps; two tables err apart.
    let tables = if taps.of_another { (cfm * table).hypot(base.now * table) } else { (cfm - base.now) * table };
    let gain = if same_point { 0.0 } else { root_sum_square(apart.chain([tables, doubt])) };
    Some(Spread { airflow: Airflow::from_cfm(COVERAGE * airflow), gain: Airflow::from_cfm(COVERAGE * gain) })
}

fn root_sum_square(parts: impl Iterator<Item = f64>) -> f64 {
    parts.map(|part| part * part).sum::<f64>().sqrt()
}
