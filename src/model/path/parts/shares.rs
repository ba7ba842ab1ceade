//! How a drop that was read over several elements is shared among them.

use crate::model::facts::air_path::{Element, Way};
use crate::model::facts::numbers::job::WAY_FLOW;
use crate::model::path::parts::guesses::{Guess, Moved};

/// Shares of a segment's elements, adding up to 1; stated ones as they are, the rest by usual weight.
///
/// # Errors
/// A sentence when stated shares are not between 0 and 1, or do not add up.
pub fn shares(elements: &[&Element], moved: &Moved) -> Result<Vec<f64>, String> {
    if elements.is_empty() {
        return Ok(Vec::new());
    }
    let stated: f64 = elements.iter().filter_map(|element| element.share).sum();
    if let Some(bad) = elements.iter().find(|element| element.share.is_some_and(|share| !(0.0..=1.0).contains(&share)))
    {
        let percent = bad.share.unwrap_or_default() * 100.0;
        return Err(format!("{}: a share of {percent:.0} % cannot be; it lies between 0 and 100 %", bad.name()));
    }
    let weight = |element: &Element| element.usual_weight() * moved.weight(Guess::Share(element.id));
    let open: f64 = elements.iter().filter(|element| element.share.is_none()).map(|element| weight(element)).sum();
    let all_stated = elements.iter().all(|element| element.share.is_some());
    let adds_up = if all_stated { (stated - 1.0).abs() < 0.005 } else { stated < 1.0 - 1e-9 };
    if !adds_up {
        let names: Vec<&str> = elements.iter().map(|element| element.name()).collect();
        let wanted = if all_stated { "100 %" } else { "less than 100 %, for the rest has a share too" };
        return Err(format!(
            "The shares of {} add up to {:.0} %; they must make {wanted}",
            names.join(", ").to_lowercase(),
            stated * 100.0
        ));
    }
    let rest = (1.0 - stated).max(0.0);
    Ok(elements
        .iter()
        .map(|element| match element.share {
            Some(share) if all_stated => share / stated,
            Some(share) => share,
            None => rest * weight(element) / open,
        })
        .collect())
}

/// The exponent of an element's drop.
pub fn exponent(element: &Element) -> f64 {
    element.exponent.unwrap_or_else(|| element.kind.usual_exponent())
}

/// Shares of a group's airflow that its ways take, adding up to `rest`; stated ones as they are, the others by the weight of their guesses, alike.
///
/// `rest` is what ways of known flow leave, as a fraction of the group's airflow; `ways` are the others.
///
/// # Errors
/// A sentence when stated shares are not between 0 and 1, add up to more than there is, or a leak has none.
pub fn flows(ways: &[(Guess, &Way)], rest: f64, moved: &Moved) -> Result<Vec<f64>, String> {
    let percent = |fraction: f64| fraction * 100.0;
    let taken = |flow| WAY_FLOW.check(flow).map(drop).map_err(|refused| refused.to_string());
    let stated = || ways.iter().filter_map(|(_, way)| way.flow);
    stated().try_for_each(taken)?;
    if ways.iter().any(|(_, way)| way.is_leak() && way.flow.is_none()) {
        return Err("A leak needs a share of the air, or an airflow and a pressure from a duct leakage test".to_owned());
    }
    let stated: f64 = stated().sum();
    let open: f64 = ways.iter().filter(|(_, way)| way.flow.is_none()).map(|(guess, _)| moved.weight(*guess)).sum();
    let all_stated = open == 0.0;
    let adds_up = if all_stated { (stated - rest).abs() < 0.005 } else { stated < rest - 1e-9 };
    if !adds_up {
        let wanted = if all_stated { "make" } else { "make less than" };
        return Err(format!(
            "The ways side by side take {:.0} % of the air; together they must {wanted} {:.0} %",
            percent(stated),
            percent(rest)
        ));
    }
    let scale = if all_stated { rest / stated } else { 1.0 };
    let guessed = |guess| (rest - stated) * moved.weight(guess) / open;
    Ok(ways.iter().map(|(guess, way)| way.flow.map_or_else(|| guessed(*guess), |flow| flow * scale)).collect())
}
