//! How a drop that was read over several elements is shared among them.

use crate::model::facts::air_path::{Element, Way};
use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::job::WAY_FLOW;
use crate::model::facts::told::told;
use crate::model::path::parts::guesses::{Guess, Moved};
use crate::units::{Airflow, Pressure, UnitSystem, show};

told! {
    /// Why a drop that was read cannot be shared among elements, or the air among ways.
    Undivided in units;
    /// A share of the element of this name that cannot be, as a fraction.
    NoShare(name: String, share: f64) = format!("{name}: a share of {:.0} % cannot be; it lies between 0 and 100 %", share * 100.0);
    /// Shares of the elements of these names that do not add up, their sum as a fraction, and whether each is stated.
    Shares(names: Vec<String>, sum: f64, all_stated: bool) = format!(
        "The shares of {} add up to {:.0} %; they must make {}",
        names.join(", ").to_lowercase(),
        sum * 100.0,
        if *all_stated { "100 %" } else { "less than 100 %, for the rest has a share too" }
    );
    /// A way's share of the air that cannot be.
    NoFlow(refused: OutOfRange) = refused.sentence(units);
    /// A leak of which neither share nor drop is known.
    OpenLeak = "A leak needs a share of the air, or an airflow and a pressure from a duct leakage test";
    /// Shares of ways that do not add up: their sum and what there is, as fractions, and whether each is stated.
    Flows(sum: f64, whole: f64, all_stated: bool) = format!(
        "The ways side by side take {:.0} % of the air; together they must {} {:.0} %",
        sum * 100.0,
        if *all_stated { "make" } else { "make less than" },
        whole * 100.0
    );
    /// A group of this name that takes no pressure.
    NoDrop(name: String) = format!("{name} takes no pressure, so nothing says how the air is divided in it");
    /// A group of this name whose ways by data take this fraction of its air, so that nothing or too much is left.
    AllByData(name: String, fraction: f64) = format!("{name}: by their data its ways take {:.0} % of the air at the drop there; at least one has to be left without data", fraction * 100.0);
    /// A way whose parts are all out of the path.
    NothingInWay = "A way side by side has nothing in it that takes pressure; all its parts are out of the path";
    /// What the elements of these names in a way were read to take, and what was read across it.
    ReadOtherwise(names: Vec<String>, taken: Pressure, read: Pressure) = format!("{}; one of the readings or a hose is wrong", contradicted(names, "as read across", *taken, *read, units));
    /// What the elements of these names in a way take by data at an airflow, and what was read across it.
    DataOtherwise(names: Vec<String>, taken: Pressure, read: Pressure, airflow: Airflow) = format!(
        "{}; its share of the air ({}) or the data is wrong",
        contradicted(names, "by data over", *taken, *read, units),
        show::airflow(*airflow, units)
    );
}

fn contradicted(names: &[String], how: &str, taken: Pressure, read: Pressure, units: UnitSystem) -> String {
    let (taken, read) = (show::pressure(taken, units), show::pressure_bare(read, units));
    let names = names.join(" and the ");
    format!("Side by side: {taken} {how} the {names}, but {read} was read across that way")
}

/// Shares of a segment's elements, adding up to 1; stated ones as they are, the rest by usual weight.
///
/// # Errors
/// Stated shares that are not between 0 and 1, or do not add up.
pub fn shares(elements: &[&Element], moved: &Moved) -> Result<Vec<f64>, Undivided> {
    if elements.is_empty() {
        return Ok(Vec::new());
    }
    let stated: f64 = elements.iter().filter_map(|element| element.share).sum();
    if let Some(bad) = elements.iter().find(|element| element.share.is_some_and(|share| !(0.0..=1.0).contains(&share)))
    {
        return Err(Undivided::NoShare(bad.name().to_owned(), bad.share.unwrap_or_default()));
    }
    let weight = |element: &Element| element.usual_weight() * moved.weight(Guess::Share(element.id));
    let open: f64 = elements.iter().filter(|element| element.share.is_none()).map(|element| weight(element)).sum();
    let all_stated = elements.iter().all(|element| element.share.is_some());
    let adds_up = if all_stated { (stated - 1.0).abs() < 0.005 } else { stated < 1.0 - 1e-9 };
    if !adds_up {
        let names = elements.iter().map(|element| element.name().to_owned()).collect();
        return Err(Undivided::Shares(names, stated, all_stated));
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

/// Shares of a group's airflow that its ways take, adding up to `rest`; stated ones as they are, the others by the weight of their guesses, alike.
///
/// `rest` is what ways of known flow leave, as a fraction of the group's airflow; `ways` are the others.
///
/// # Errors
/// Stated shares that are not between 0 and 1, add up to more than there is, or a leak that has none.
pub fn flows(ways: &[(Guess, &Way)], rest: f64, moved: &Moved) -> Result<Vec<f64>, Undivided> {
    let stated = || ways.iter().filter_map(|(_, way)| way.flow);
    stated().try_for_each(|flow| WAY_FLOW.check(flow).map(drop)).map_err(Undivided::NoFlow)?;
    if ways.iter().any(|(_, way)| way.is_leak() && way.flow.is_none()) {
        return Err(Undivided::OpenLeak);
    }
    let stated: f64 = stated().sum();
    let open: f64 = ways.iter().filter(|(_, way)| way.flow.is_none()).map(|(guess, _)| moved.weight(*guess)).sum();
    let all_stated = open == 0.0;
    let adds_up = if all_stated { (stated - rest).abs() < 0.005 } else { stated < rest - 1e-9 };
    if !adds_up {
        return Err(Undivided::Flows(stated, rest, all_stated));
    }
    let scale = if all_stated { rest / stated } else { 1.0 };
    let guessed = |guess| (rest - stated) * moved.weight(guess) / open;
    Ok(ways.iter().map(|(guess, way)| way.flow.map_or_else(|| guessed(*guess), |flow| flow * scale)).collect())
}
