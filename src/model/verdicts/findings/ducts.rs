//! What the lengths of the ducts say about what they take.

use crate::model::facts::duct::design::PathSide;
use crate::model::verdicts::duct_allowance::{DuctAllowance, LengthVerdict};

use crate::model::verdicts::findings::Finding;

/// Parts that take all of the static, or sides whose ducts take more than their share of the rest.
pub(super) fn of_lengths(ducts: Option<&DuctAllowance>, findings: &mut Vec<Finding>) {
    let Some(allowance) = ducts else {
        return;
    };
    if allowance.is_spent() {
        findings.push(Finding::NothingLeft {
            taken: allowance.parts_take(),
            of: allowance.allowed,
            airflow: allowance.airflow,
        });
    }
    let over = PathSide::BOTH.into_iter().filter(|side| allowance.verdict(*side) == LengthVerdict::Over);
    findings.extend(over.filter_map(|side| ducts_take(allowance, side)));
}

/// Whether a side is judged by its length, so that the limit of common practice need not be.
pub(super) fn is_judged(ducts: Option<&DuctAllowance>, side: PathSide) -> bool {
    ducts.is_some_and(|allowance| allowance.verdict(side) != LengthVerdict::NotSaid)
}

fn ducts_take(allowance: &DuctAllowance, side: PathSide) -> Option<Finding> {
    let ducts = allowance.side(side)?;
    let read = ducts.read.as_ref()?;
    Some(Finding::DuctsTake {
        side,
        with: read.with.clone(),
        taken: read.at_allowance,
        airflow: allowance.airflow,
        limit: ducts.share?,
        is_at_most: !allowance.missing().is_empty(),
        rates: (allowance.rate?, ducts.rates()?.1),
    })
}
