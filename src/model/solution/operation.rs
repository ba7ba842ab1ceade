//! From the readings to where the machine runs, and from there to every other tap on the same path.

use std::sync::Arc;

use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::{SINGLE_ROW_REACH, TapShape};
use crate::model::laws::thin_air;
use crate::model::path::parts::guesses::{self, Guessed};
use crate::model::path::parts::shares::Undivided;
use crate::model::path::parts::{self, Moved, Part, ReadPoint, Separated};
use crate::model::path::tesp::StaticSum;
use crate::model::solution::anchor::Anchored;
use crate::model::solution::operating_point::{self, Crossing, LAST_MOVED_STEP, NoCrossing};
use crate::units::{Airflow, Pressure};

/// Everything that a solution starts from; perturbing one part gives a sensitivity.
#[derive(Clone, Debug)]
pub struct Inputs<'a> {
    /// The table's taps as curves.
    pub shapes: Arc<[TapShape]>,
    /// Index of the tap that ran during the readings.
    pub in_use: usize,
    /// Readings and what is added to them.
    pub sum: StaticSum,
    /// ρ/ρ_table.
    pub density_ratio: f64,
    /// The job, for its path.
    pub job: &'a Job,
    /// The machine's table.
    pub table: &'a BlowerTable,
    /// Elements that a change takes hold of.
    pub split: &'a [ElementId],
    /// Elements that other reading sets tell apart.
    pub separated: &'a [Separated],
    /// The opinion on the airflow that stands in the table's place; the curves are laid through it already.
    pub anchored: Option<Anchored>,
    /// Nothing but for working out the uncertainty.
    pub moved: Moved,
}

impl Inputs<'_> {
    /// What the static is divided by before the table is entered.
    pub fn entry_ratio(&self) -> f64 {
        thin_air::entry_ratio(self.table.motor, self.density_ratio)
    }

    /// What nobody stated of the parts that changes take hold of.
    pub fn guesses(&self, operation: &Operation) -> Vec<Guessed> {
        guesses::guesses(self.job, self.table, &self.at(operation.now.airflow, operation.now.tesp))
    }

    /// The point that the readings lead to, from which the path is laid out.
    pub(crate) const fn at(&self, airflow: Airflow, tesp: Pressure) -> ReadPoint<'_> {
        ReadPoint {
            read: &self.sum.read,
            airflow,
            tesp,
            air: self.sum.air,
            warmth: self.sum.warmth,
            split: self.split,
            separated: self.separated,
            moved: &self.moved,
        }
    }
}

/// Where the machine runs, and the path that follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// The point on the tap in use.
    pub now: Crossing,
    /// What any tap has to work against.
    pub load: SystemLoad,
    /// What the external path is made of, and what of the machine the table has otherwise, each part with its law.
    pub parts: Vec<Part>,
}

/// Why readings do not lead to a point.
#[derive(Clone, Debug, PartialEq)]
pub enum NoOperation {
    /// The tap's curve does not reach.
    NoCrossing(NoCrossing, Pressure),
    /// The static across the machine is zero or negative: nothing is being blown, or the hoses are swapped.
    NoRise(Pressure),
    /// A drop that was read cannot be shared, or the air of a group.
    Shares(Undivided),
}

/// Solves for the airflow of the tap in use and draws the path through it.
///
/// Drops by data depend on the airflow that they help to find; both are solved together.
///
/// # Errors
/// See [`NoOperation`].
pub fn operate(inputs: &Inputs<'_>) -> Result<Operation, NoOperation> {
    operate_at(inputs, read_entry(inputs, None)?)
}

/// The same for what is moved by its uncertainty, from the point that it is moved from, and as well as a difference is wanted.
///
/// # Errors
/// See [`NoOperation`].
pub fn moved_operation(inputs: &Inputs<'_>, from: &Crossing) -> Result<Operation, NoOperation> {
    operate_at(inputs, read_entry(inputs, Some((from.entry, LAST_MOVED_STEP)))?)
}

/// The point alone of what is moved by its uncertainty, without the path that follows from it.
///
/// # Errors
/// See [`NoOperation`].
pub fn moved_point(inputs: &Inputs<'_>, from: &Crossing) -> Result<Crossing, NoOperation> {
    point_at(inputs, read_entry(inputs, Some((from.entry, LAST_MOVED_STEP)))?)
}

fn operate_at(inputs: &Inputs<'_>, entry: Pressure) -> Result<Operation, NoOperation> {
    let now = point_at(inputs, entry)?;
    let Crossing { airflow, tesp, .. } = now;
    let mut parts = parts::parts(inputs.job, inputs.table, &inputs.at(airflow, tesp)).map_err(NoOperation::Shares)?;
    parts.extend(inputs.sum.inside_parts(airflow));
    let load = parts::load_of(&parts, &inputs.sum.corrections, inputs.entry_ratio());
    Ok(Operation { now, load, parts })
}

fn point_at(inputs: &Inputs<'_>, entry: Pressure) -> Result<Crossing, NoOperation> {
    let across = inputs.sum.read.across();
    let (airflow, standing) = match inputs.shapes.get(inputs.in_use) {
        Some(TapShape::Curve(curve)) => {
            let cfm = curve.value_and_slope(entry.in_wc()).0;
            (Airflow::from_cfm(cfm), curve.standing(entry))
        }
        Some(TapShape::Single(row)) => (row.airflow, CurveStanding::Published),
        Some(TapShape::Unusable) | None => return Err(NoOperation::NoCrossing(NoCrossing::Unusable, across)),
    };
    let tesp = inputs.sum.tesp(airflow);
    if tesp <= Pressure::ZERO {
        return Err(NoOperation::NoRise(tesp));
    }
    Ok(Crossing { entry, airflow, tesp, standing })
}

fn read_entry(inputs: &Inputs<'_>, near: Option<(Pressure, f64)>) -> Result<Pressure, NoOperation> {
    let sum = &inputs.sum;
    let across = sum.read.across();
    let ratio = inputs.entry_ratio();
    let demand = |cfm: f64| {
        let (entry, slope) = sum.entry_at(cfm);
        (entry / ratio, slope / ratio)
    };
    let no_crossing = |reason| NoOperation::NoCrossing(reason, across);
    match inputs.shapes.get(inputs.in_use) {
        Some(TapShape::Curve(curve)) => {
            if demand(curve.first().1.cfm()).0 <= 0.0 {
                return Err(NoOperation::NoRise(across));
            }
            operating_point::entry_where(curve, demand, near).map_err(no_crossing)
        }
        Some(TapShape::Single(row)) => {
            let entry = Pressure::from_in_wc(demand(row.airflow.cfm()).0);
            let is_near = (entry - row.esp).abs() <= SINGLE_ROW_REACH;
            if !is_near {
                return Err(no_crossing(NoCrossing::SingleRow(*row)));
            }
            Ok(entry)
        }
        Some(TapShape::Unusable) | None => Err(no_crossing(NoCrossing::Unusable)),
    }
}

/// The crossing of any tap with the path; the search begins at the table entry that is `near`, where one is known.
///
/// # Errors
/// See [`NoCrossing`].
pub fn tap_crossing(shape: &TapShape, load: &SystemLoad, near: Option<Pressure>) -> Result<Crossing, NoCrossing> {
    match shape {
        TapShape::Curve(curve) => operating_point::crossing(curve, load, near),
        TapShape::Single(row) => operating_point::single_row(*row, load),
        TapShape::Unusable => Err(NoCrossing::Unusable),
    }
}

/// Airflow of a tap that is moved by its uncertainty, from the crossing that it is moved from; nothing where it has none.
pub fn moved_airflow(shape: &TapShape, load: &SystemLoad, from: &Crossing) -> Option<Airflow> {
    match shape {
        TapShape::Curve(curve) => operating_point::moved_airflow(curve, |cfm| load.entry_and_slope(cfm), from.entry),
        TapShape::Single(row) => operating_point::single_row(*row, load).ok().map(|crossing| crossing.airflow),
        TapShape::Unusable => None,
    }
}

/// The same of several taps, in their order; a tap that has no crossing has none to move.
pub fn moved_airflows(
    shapes: &[TapShape],
    load: &SystemLoad,
    from: &[Result<Crossing, NoCrossing>],
) -> Vec<Option<Airflow>> {
    let each = shapes.iter().zip(from);
    each.map(|(shape, from)| moved_airflow(shape, load, from.as_ref().ok()?)).collect()
}

/// Where every tap of a table crosses a path, in the table's order.
pub type Crossings = Vec<Result<Crossing, NoCrossing>>;

/// Every tap's crossing with a path; each search begins where the same tap crosses another path, as far as `near` tells it.
pub fn crossings(shapes: &[TapShape], load: &SystemLoad, near: &[Result<Crossing, NoCrossing>]) -> Crossings {
    let each = shapes.iter().enumerate();
    each.map(|(index, shape)| tap_crossing(shape, load, entry_of(near, index))).collect()
}

/// Table entry of a tap's crossing, where it has one.
pub fn entry_of(crossings: &[Result<Crossing, NoCrossing>], index: usize) -> Option<Pressure> {
    Some(crossings.get(index)?.as_ref().ok()?.entry)
}
