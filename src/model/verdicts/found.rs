//! The system as it was found, judged.

use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::facts::read_ports::read_ports;
use crate::model::facts::standing::{PathStanding, Standing};
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::parts::along::along;
use crate::model::path::parts::{Part, Route, flows};
use crate::model::solution::changed::Found;
use crate::model::solution::gain::Start;
use crate::model::solution::operation::{self, Inputs, Operation};
use crate::model::solution::uncertainty::{self, Cause, Doubt, Taps};
use crate::model::verdicts::system::{Blower, Running, System};
use crate::model::verdicts::taps::{self, KnownPath};
use crate::units::Pressure;

/// The machine as it runs now; nothing where the tap in use has no curve.
pub fn running(
    Found { inputs, operation, crossings }: &Found<'_>,
    doubt: &Doubt<'_>,
    blower: &Blower,
) -> Option<Running> {
    let (job, sum) = (inputs.job, &inputs.sum);
    let Operation { now, load, parts } = operation;
    let project = |cause: &Cause<'_>| operation::crossings(&cause.inputs.shapes, &cause.operation.load, crossings);
    let taps = Taps {
        first: 0,
        crossings,
        shapes: &inputs.shapes,
        load,
        project: &project,
        read: Some(inputs.in_use),
        alone: &|_, _| Vec::new(),
    };
    let spreads = uncertainty::spreads(doubt, now.airflow, &job.accuracy, &taps);
    let standing = Standing { curve: now.standing, path: path_standing(inputs) };
    let shape = inputs.shapes.get(inputs.in_use)?;
    let start = Start::new(now, shape);
    let bound = sum.bound();
    let path = KnownPath {
        now,
        standing,
        static_spread: spreads.tesp,
        load,
        crossings,
        parts,
        spreads: &spreads,
        as_read: true,
        start,
        bound,
        is_assumed: false,
    };
    let taps = taps::all(job, inputs.table, blower, Some(path));
    let return_side = sum.return_side(now.airflow);
    Some(Running {
        now: *now,
        airflow_before: start.published,
        sum: sum.clone(),
        standing,
        supply_side: return_side.map(|taken| now.tesp - taken),
        return_side,
        power: job.set().power.or_else(|| match shape {
            TapShape::Curve(curve) => curve.power_at(now.entry),
            TapShape::Single(_) | TapShape::Unusable => None,
        }),
        guesses: inputs.guesses(operation),
        most: most(job, parts),
        system: System {
            blower: blower.clone(),
            delivered: Some(flows::delivered(parts, now.airflow)),
            profile: Some(along(job, inputs.table, parts, now.airflow, inputs.density_ratio)),
            parts: parts.clone(),
            load: load.clone(),
            taps,
            spreads,
            bound,
            unknown_part: None,
            assumptions: Vec::new(),
        },
    })
}

/// A single total or two ports are `measured`; anything taken for granted, a single row, or thin air on a motor that seeks its torque or flow is `assumed`.
fn path_standing(inputs: &Inputs<'_>) -> PathStanding {
    let single = matches!(inputs.shapes.get(inputs.in_use), Some(TapShape::Single(_)));
    if single || !inputs.sum.assumptions.is_empty() {
        return PathStanding::Assumed;
    }
    thin_air::standing(inputs.table.motor, inputs.density_ratio)
}

/// The part that takes most of the external drop as found, with its share; nothing where there is only one.
///
/// What lies between two readings is weighed as a whole first, as the readings have it; the part that is named is then the greatest in it, so that splitting one stretch moves the word to no other.
fn most(job: &Job, parts: &[Part]) -> Option<(Vec<ElementId>, f64)> {
    let ports = read_ports(job);
    let stretch_of = |part: &Part| {
        let first = part.elements.iter().filter_map(|id| job.path.index_of(*id)).min()?;
        Some(ports.iter().filter(|port| port.boundary <= first).count())
    };
    let parts: Vec<(&Part, usize, Pressure)> = parts
        .iter()
        .filter(|part| part.route != Route::Bypass)
        .filter_map(|part| Some((part, stretch_of(part)?, part.drop_at(part.flow))))
        .collect();
    let total: Pressure = parts.iter().map(|(.., drop)| *drop).sum();
    if parts.len() < 2 || total <= Pressure::ZERO {
        return None;
    }
    let taken =
        |stretch: usize| -> f64 { parts.iter().filter(|part| part.1 == stretch).map(|part| part.2.in_wc()).sum() };
    let worst = (0..=ports.len()).max_by(|one, other| taken(*one).total_cmp(&taken(*other)))?;
    let within = parts.iter().filter(|part| part.1 == worst);
    let most = within.max_by(|one, other| one.2.in_wc().total_cmp(&other.2.in_wc()))?;
    Some((most.0.elements.clone(), most.2 / total))
}
