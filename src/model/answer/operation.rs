//! From the readings to where the machine runs, and from there to every other tap on the same path.

use crate::model::drop_data::SQUARE_LAW;
use crate::model::operating_point::{self, Crossing, NoCrossing};
use crate::model::standing::CurveStanding;
use crate::model::system_curve::{PowerLaw, SystemCurve, SystemLoad};
use crate::model::tap_curve::{SINGLE_ROW_REACH, TapShape};
use crate::model::tesp::{ReadDifference, StaticBudget};
use crate::units::{Airflow, Pressure};

/// Everything that a solution starts from; perturbing one part gives a sensitivity.
#[derive(Clone, Debug)]
pub struct Inputs<'a> {
    /// The table's taps as curves.
    pub shapes: &'a [TapShape],
    /// Index of the tap that ran during the readings.
    pub in_use: usize,
    /// Readings and what is added to them.
    pub budget: StaticBudget,
    /// ρ/ρ_table.
    pub density_ratio: f64,
    /// Exponent of what nobody has split.
    pub exponent: f64,
}

/// Where the machine runs, and the path that follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// The point on the tap in use.
    pub now: Crossing,
    /// What any tap has to work against.
    pub load: SystemLoad,
}

/// Why readings do not lead to a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoOperation {
    /// The tap's curve does not reach.
    NoCrossing(NoCrossing, Pressure),
    /// The static across the machine is zero or negative: nothing is being blown, or the hoses are swapped.
    NoRise(Pressure),
}

/// Solves for the airflow of the tap in use and draws the path through it.
///
/// Drops by data depend on the airflow that they help to find; both are solved together.
///
/// # Errors
/// See [`NoOperation`].
pub fn operate(inputs: &Inputs<'_>) -> Result<Operation, NoOperation> {
    let across = inputs.budget.read.across();
    let entry = read_entry(inputs)?;
    let (airflow, standing) = match inputs.shapes.get(inputs.in_use) {
        Some(TapShape::Curve(curve)) => {
            let cfm = curve.value_and_slope(entry.in_wc()).0;
            (Airflow::from_cfm(cfm), curve.standing(entry))
        }
        Some(TapShape::Single(row)) => (row.airflow, CurveStanding::Published),
        _ => return Err(NoOperation::NoCrossing(NoCrossing::Unusable, across)),
    };
    let tesp = inputs.budget.tesp(airflow);
    if tesp <= Pressure::ZERO {
        return Err(NoOperation::NoRise(tesp));
    }
    let load = load_through(inputs, airflow, tesp);
    Ok(Operation { now: Crossing { entry, airflow, tesp, standing }, load })
}

fn read_entry(inputs: &Inputs<'_>) -> Result<Pressure, NoOperation> {
    let budget = &inputs.budget;
    let across = budget.read.across();
    let demand = |cfm: f64| {
        let (planes, planes_slope) = budget.to_planes.value_and_slope(cfm);
        let (inside, inside_slope) = budget.corrections.value_and_slope(cfm);
        (
            (across.in_wc() + planes + inside) / inputs.density_ratio,
            (planes_slope + inside_slope) / inputs.density_ratio,
        )
    };
    let no_crossing = |reason| NoOperation::NoCrossing(reason, across);
    match inputs.shapes.get(inputs.in_use) {
        Some(TapShape::Curve(curve)) => {
            if demand(curve.first().1.cfm()).0 <= 0.0 {
                return Err(NoOperation::NoRise(across));
            }
            operating_point::entry_where(curve, demand).map_err(no_crossing)
        }
        Some(TapShape::Single(row)) => {
            let entry = Pressure::from_in_wc(demand(row.airflow.cfm()).0);
            let is_near = (entry - row.esp).abs() <= SINGLE_ROW_REACH;
            if !is_near {
                return Err(no_crossing(NoCrossing::SingleRow(*row)));
            }
            Ok(entry)
        }
        _ => Err(no_crossing(NoCrossing::Unusable)),
    }
}

/// The path through the point: each read segment a lump of its own, or one lump where a segment's drop is not positive or was not read.
fn load_through(inputs: &Inputs<'_>, airflow: Airflow, tesp: Pressure) -> SystemLoad {
    let mut external = SystemCurve::default();
    let law = |drop| PowerLaw::through(airflow, drop, inputs.exponent);
    match inputs.budget.read {
        ReadDifference::Ports { before, after } if before.1 <= Pressure::ZERO && after.1 >= Pressure::ZERO => {
            external.add_law(law(-before.1));
            external.add_law(law(after.1));
            external.add(&inputs.budget.to_planes);
        }
        _ => external.add_law(law(tesp)),
    }
    SystemLoad { external, corrections: inputs.budget.corrections.clone(), density_ratio: inputs.density_ratio }
}

/// The crossing of any tap with the path.
///
/// # Errors
/// See [`NoCrossing`].
pub fn tap_crossing(shape: &TapShape, load: &SystemLoad) -> Result<Crossing, NoCrossing> {
    match shape {
        TapShape::Curve(curve) => operating_point::crossing(curve, load),
        TapShape::Single(row) => operating_point::single_row(*row, load),
        TapShape::Unusable => Err(NoCrossing::Unusable),
    }
}

/// The exponent of a path that nobody has split.
pub const LUMP_EXPONENT: f64 = SQUARE_LAW;
