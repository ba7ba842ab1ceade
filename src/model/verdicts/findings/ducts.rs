//! What the lengths of the ducts say about what they take.

use crate::model::facts::duct::design::PathSide;
use crate::model::verdicts::duct_budget::{DuctBudget, LengthVerdict};

use crate::model::verdicts::findings::Finding;

/// Parts that take all of the static, or sides whose ducts take more than their share of the rest.
pub(super) fn of_lengths(ducts: Option<&DuctBudget>, findings: &mut Vec<Finding>) {
    let Some(budget) = ducts else {
        return;
    };
    if budget.is_spent() {
        findings.push(Finding::NothingLeft { taken: budget.parts_take(), of: budget.allowed, airflow: budget.airflow });
    }
    let over = PathSide::BOTH.into_iter().filter(|side| budget.verdict(*side) == LengthVerdict::Over);
    findings.extend(over.filter_map(|side| ducts_take(budget, side)));
}

/// Whether a side is judged by its length, so that the limit of common practice need not be.
pub(super) fn is_judged(ducts: Option<&DuctBudget>, side: PathSide) -> bool {
    ducts.is_some_and(|budget| budget.verdict(side) != LengthVerdict::NotSaid)
}

fn ducts_take(budget: &DuctBudget, side: PathSide) -> Option<Finding> {
    let ducts = budget.side(side)?;
    let read = ducts.read.as_ref()?;
    Some(Finding::DuctsTake {
        side,
        with: read.with.clone(),
        taken: read.at_budget,
        airflow: budget.airflow,
        limit: ducts.share?,
        is_at_most: !budget.missing().is_empty(),
        rates: (budget.rate?, ducts.rates()?.1),
    })
}
