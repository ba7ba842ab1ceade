//! How sure each airflow is, and each difference of two: common causes are kept common.
//!
//! Each cause is moved by its standard uncertainty and everything is solved again (GUM 5.1.3, note 2); ± is two standard uncertainties, 95 %.

use crate::model::facts::accuracy::{Accuracy, COVERAGE, from_limit};
use crate::model::facts::readings::{ReadAt, ReadingSet};
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::tesp::{ReadAcross, ReadDifference, StaticSum};
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{Crossings, Inputs, Operation, operate};
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
pub fn of_static(sum: &StaticSum, set: &ReadingSet, accuracy: &Accuracy) -> Pressure {
    let places = match sum.read {
        ReadDifference::Ports { before, after } => vec![ReadAt::Port(before.0), ReadAt::Port(after.0)],
        ReadDifference::Total(_) => vec![ReadAt::Total],
    };
    let across = sum.read_across.parts.iter().map(|part| ReadAt::Across(*part));
    let total = sum.read.across() + sum.read_across.to_planes;
    // A total, and a drop across a part, are read between two places as well.
    let differences = 1 + sum.read_across.parts.len();
    of_readings(total, differences, places.into_iter().chain(across), set, accuracy)
}

/// Standard uncertainty of what inside parts were read to drop, which the table entry takes in; nothing where none was read.
fn of_inside(sum: &StaticSum, set: &ReadingSet, accuracy: &Accuracy) -> Option<Pressure> {
    let inside = &sum.read_across.inside;
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

/// Crossings of every tap, in the table's order, that follow from a solved operation.
pub type Project<'a> = &'a dyn Fn(&Operation) -> Crossings;

/// The taps whose spreads are wanted.
#[derive(Clone, Copy)]
pub struct Taps<'a> {
    /// What each does.
    pub crossings: &'a [Result<Crossing, NoCrossing>],
    /// What each would do, before or after changes, in another operation.
    pub project: Project<'a>,
    /// Their curves.
    pub shapes: &'a [TapShape],
    /// True for another machine than the one that ran: the error of its table is its own.
    pub of_another: bool,
}

/// What else the readings could mean: the operation that each cause, moved by its standard uncertainty, leads to.
#[derive(Clone, Debug)]
pub struct Doubt {
    tesp: Pressure,
    operations: Vec<Operation>,
}

impl Doubt {
    /// Solves each cause; one that leads off the curve is moved the other way.
    pub fn of(inputs: &Inputs<'_>) -> Self {
        let (set, accuracy) = (inputs.job.set(), &inputs.job.accuracy);
        let tesp = of_static(&inputs.sum, set, accuracy);
        let exponent = from_limit(accuracy.exponent);
        let either_way = |change: &dyn Fn(&mut Inputs<'_>, f64)| {
            [1.0, -1.0].into_iter().find_map(|way| {
                let mut moved = inputs.clone();
                change(&mut moved, way);
                operate(&moved).ok()
            })
        };
        let causes = [
            either_way(&|moved, way| shift(&mut moved.sum.read, tesp * way)),
            either_way(&|moved, way| moved.exponent_shift = -exponent * way),
            of_inside(&inputs.sum, set, accuracy)
                .and_then(|by| either_way(&|moved, way| shift_inside(&mut moved.sum.read_across, by * way))),
        ];
        Self { tesp, operations: causes.into_iter().flatten().collect() }
    }
}

/// Spreads of a solved job's taps; `now` is today's airflow.
pub fn spreads(doubt: &Doubt, now: Airflow, accuracy: &Accuracy, taps: Taps<'_>) -> Spreads {
    let now = now.cfm();
    let airflow = |crossing: &Result<Crossing, NoCrossing>| Some(crossing.as_ref().ok()?.airflow.cfm());
    let moved = |operation: &Operation| {
        let each = (taps.project)(operation);
        let pairs = each.iter().zip(taps.crossings);
        Moved {
            now: operation.now.airflow.cfm() - now,
            taps: pairs.map(|(there, here)| Some(airflow(there)? - airflow(here)?)).collect(),
        }
    };
    let causes: Vec<Moved> = doubt.operations.iter().map(moved).collect();
    let table = from_limit(accuracy.table_fraction);
    let of_now = root_sum_square(causes.iter().map(|cause| cause.now).chain([now * table]));
    let crossings = taps.crossings.iter().enumerate();
    let each = crossings
        .map(|(index, crossing)| tap_spread(index, crossing.as_ref().ok()?, now, &causes, taps, table))
        .collect();
    Spreads { now: Airflow::from_cfm(COVERAGE * of_now), tesp: doubt.tesp * COVERAGE, taps: each }
}

/// How far one cause, moved by its standard uncertainty, moves today's airflow and each tap's, cfm.
struct Moved {
    now: f64,
    taps: Vec<Option<f64>>,
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
    now: f64,
    causes: &[Moved],
    taps: Taps<'_>,
    table: f64,
) -> Option<Spread> {
    let cfm = crossing.airflow.cfm();
    let doubt = match taps.shapes.get(index)? {
        TapShape::Curve(curve) => from_limit(curve.wide_row_doubt(crossing.entry).cfm()),
        TapShape::Single(_) | TapShape::Unusable => 0.0,
    };
    let shifts: Vec<(f64, f64)> =
        causes.iter().filter_map(|cause| Some((cause.now, cause.taps.get(index).copied()??))).collect();
    let own = shifts.iter().map(|(_, tap)| *tap);
    let apart = shifts.iter().map(|(now, tap)| tap - now);
    let same_point = !taps.of_another && (cfm - now).abs() < 1e-9;
    let airflow = root_sum_square(own.chain([cfm * table, doubt]));
    // One table errs by one factor on all its taps; two tables err apart.
    let tables = if taps.of_another { (cfm * table).hypot(now * table) } else { (cfm - now) * table };
    let gain = if same_point { 0.0 } else { root_sum_square(apart.chain([tables, doubt])) };
    Some(Spread { airflow: Airflow::from_cfm(COVERAGE * airflow), gain: Airflow::from_cfm(COVERAGE * gain) })
}

fn root_sum_square(parts: impl Iterator<Item = f64>) -> f64 {
    parts.map(|part| part * part).sum::<f64>().sqrt()
}
