//! The system as it was found, judged.

use crate::model::facts::standing::{PathStanding, Standing};
use crate::model::laws::tap_curve::TapShape;
use crate::model::laws::thin_air;
use crate::model::path::parts::along::along;
use crate::model::path::parts::flows;
use crate::model::path::tesp::Assumption;
use crate::model::solution::changed::Found;
use crate::model::solution::draws::Draws;
use crate::model::solution::gain::Start;
use crate::model::solution::operation::{self, Inputs, Operation};
use crate::model::solution::uncertainty::{self, Cause, Doubt, Taps};
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::most::most;
use crate::model::verdicts::system::{Running, System};
use crate::model::verdicts::taps::{self, KnownPath};

/// The machine as it runs now, its ± by draws where they tell another; nothing where the tap in use has no curve.
pub fn running(
    Found { inputs, operation, crossings, .. }: &Found<'_>,
    doubt: &Doubt<'_>,
    draws: Option<Draws>,
    blower: &Blower,
) -> Option<Running> {
    let (job, sum) = (inputs.job, &inputs.sum);
    let Operation { now, load, parts } = operation;
    let project = |cause: &Cause<'_>| operation::moved_airflows(&cause.inputs.shapes, &cause.operation.load, crossings);
    let taps = Taps {
        told: uncertainty::AT_BLOWER,
        parts: [parts, parts],
        first: 0,
        crossings,
        shapes: &inputs.shapes,
        load,
        counts: &|_| true,
        project: &project,
        read: Some(inputs.in_use),
        alone: &|_, _| Vec::new(),
    };
    let mut spreads = uncertainty::spreads(doubt, now.airflow, &job.accuracy, &taps);
    if let Some(draws) = draws {
        draws.put_into_found(&mut spreads, inputs.in_use);
    }
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
        only_tap: inputs.anchored.filter(|anchored| !anchored.scales()).map(|_| inputs.in_use),
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
        anchored: inputs.anchored,
        guesses: doubt.guesses.clone(),
        system: System {
            blower: blower.clone(),
            delivered: Some(flows::delivered(parts, now.airflow)),
            profile: Some(along(job, inputs.table, (parts, &[]), now.airflow, inputs.density_ratio)),
            most: most(job, parts, now.airflow),
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
    if single || !inputs.sum.assumptions.iter().all(Assumption::is_within_spread) {
        return PathStanding::Assumed;
    }
    thin_air::standing(inputs.table.motor, inputs.density_ratio)
}
