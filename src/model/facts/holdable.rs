//! What a job can hold: the one check that every edit and every file pass, so that whatever stands on the screen can be saved and opened again.
//!
//! It is wider than what can be meant ([`crate::model::facts::job_check`]): a file may bring a blower of 1 W, which opens, and of which the answer says that it cannot be right.
//! What a change states is looked at in [`crate::model::change::can_be_held`].
//! A change on an element that the path no longer has, and a change to a tap that the table no longer has, are let through: they stay in their place, and the answer refuses them in words.

use std::collections::BTreeSet;

use crate::model::facts::air_path::{AirPath, Element, ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::change::Change;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::{
    HIGHEST_NUMBER, MOST_CHANGES, MOST_ELEMENTS, MOST_GRILLES, MOST_LOOKS, MOST_OPTIONS, MOST_POINTS, MOST_PORTS,
    MOST_SETS, few,
};
use crate::model::facts::number::Number;
use crate::model::facts::numbers::duct::EXPONENT;
use crate::model::facts::numbers::job::{GRILLE_AIRFLOW, LABOUR, PRICE, SHARE, WAY_FLOW};
use crate::model::facts::options::JobOption;
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet, name_of_set};
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::{CallTarget, Target};
use crate::units::Airflow;

type Checked = Result<(), Refusal>;

/// Refuses the first thing that a job cannot hold.
///
/// # Errors
/// The place and the value.
pub fn check(job: &Job) -> Checked {
    path(job)?;
    sets(job)?;
    options(job)?;
    job.target.as_ref().map_or(Ok(()), target).map_err(|refused| refused.at("Target"))?;
    if let Some(call) = twice(job.call_targets.iter().map(|own| own.call)) {
        return Err(Refusal::TwoTargets(call));
    }
    let own = |own: &CallTarget| {
        target(&own.target).map_err(|refused| refused.at(format!("Target of {}", own.call.name().to_lowercase())))
    };
    job.call_targets.iter().try_for_each(own)?;
    let held = |number: JobNumber| number.check_held(job).map_err(|(place, refused)| Refusal::from(refused).at(place));
    JobNumber::ALL.into_iter().try_for_each(held)
}

/// The first item that has come before.
fn twice<T: Ord + Copy>(items: impl IntoIterator<Item = T>) -> Option<T> {
    let mut seen = BTreeSet::new();
    items.into_iter().find(|item| !seen.insert(*item))
}

fn number_in_reach(of: &'static str, number: u32) -> Checked {
    if number <= HIGHEST_NUMBER { Ok(()) } else { Err(Refusal::TooHigh(of, number)) }
}

/// A job without a machine may have no path yet; any other path has to be whole.
fn path(job: &Job) -> Checked {
    let path = &job.path;
    let elements = path.all();
    few(elements.len(), MOST_ELEMENTS, "elements of an air path")?;
    few(path.ports.len(), MOST_PORTS, "ports")?;
    if is_blank(path) && job.machine.is_none() {
        return Ok(());
    }
    if let Some(fault) = path.problem() {
        return Err(fault.into());
    }
    if let Some(id) = twice(path.ports.iter().map(|port| port.id)) {
        return Err(Refusal::SamePort(id));
    }
    path.bypass.as_ref().map_or(Ok(()), |bypass| number_in_reach("the bypass", bypass.id.0))?;
    path.ports.iter().try_for_each(|port| number_in_reach("a port", port.id.0))?;
    elements
        .into_iter()
        .try_for_each(|part| element(part).map_err(|refused| refused.at(format!("Path, element {}", part.id.0))))
}

fn is_blank(path: &AirPath) -> bool {
    path.elements.is_empty() && path.ports.is_empty()
}

fn element(element: &Element) -> Checked {
    number_in_reach("an element", element.id.0)?;
    held(&SHARE, element.share)?;
    held(&EXPONENT, element.exponent)?;
    element.drop.as_ref().map_or(Ok(()), points)?;
    element.ways.iter().try_for_each(|way| held(&WAY_FLOW, way.flow))
}

/// Refuses more points of a drop than a job holds.
pub(crate) fn points(data: &DropData) -> Checked {
    Ok(few(data.points().len(), MOST_POINTS, "points of a drop")?)
}

fn sets(job: &Job) -> Checked {
    if job.sets.is_empty() {
        return Err(Refusal::NoSets);
    }
    few(job.sets.len(), MOST_SETS, "reading sets")?;
    if job.judged >= job.sets.len() {
        return Err(Refusal::NoSuchSet(job.judged, job.sets.len()));
    }
    if let Some(anchor) = job.anchor.filter(|anchor| anchor.set >= job.sets.len()) {
        return Err(Refusal::NoSuchSet(anchor.set, job.sets.len()));
    }
    let places = Places::of(&job.path);
    let numbered = job.sets.iter().enumerate();
    numbered
        .into_iter()
        .try_for_each(|(index, of)| set(of, &places).map_err(|refused| refused.at(name_of_set(index, &of.name))))
}

/// Where a path can be read.
struct Places {
    elements: BTreeSet<ElementId>,
    ports: BTreeSet<PortId>,
}

impl Places {
    /// A path that is not laid yet has its two standing ports.
    fn of(path: &AirPath) -> Self {
        let standing = is_blank(path).then_some([RETURN_PORT, SUPPLY_PORT]);
        Self {
            elements: path.all().into_iter().map(|element| element.id).collect(),
            ports: path.ports.iter().map(|port| port.id).chain(standing.into_iter().flatten()).collect(),
        }
    }
}

fn set(set: &ReadingSet, places: &Places) -> Checked {
    if let Some(read) = twice(set.readings.iter().map(|reading| reading.at)) {
        return Err(Refusal::ReadTwice(read));
    }
    set.readings.iter().try_for_each(|taken| reading(taken, places))?;
    [PathSide::Supply, PathSide::Return].into_iter().try_for_each(|side| grilles(set.airflow.grilles(side)))?;
    few(set.parts_out.len(), MOST_ELEMENTS, "elements out of the path")?;
    match set.parts_out.iter().find(|id| !places.elements.contains(id)) {
        Some(id) => Err(Refusal::OutNowhere(*id)),
        None => Ok(()),
    }
}

fn reading(reading: &Reading, places: &Places) -> Checked {
    match reading.at {
        ReadAt::Port(id) if !places.ports.contains(&id) => return Err(Refusal::NoSuchPort(id)),
        ReadAt::Across(id) if !places.elements.contains(&id) => return Err(Refusal::NoSuchElement(id)),
        ReadAt::Port(_) | ReadAt::Across(_) | ReadAt::Total => {}
    }
    few(reading.looks.len(), MOST_LOOKS, "readings at one place")?;
    match reading.looks.iter().find(|look| !look.is_finite()) {
        Some(look) => Err(Refusal::NoNumber(reading.at, *look)),
        None => Ok(()),
    }
}

fn grilles(grilles: &[Airflow]) -> Checked {
    few(grilles.len(), MOST_GRILLES, "grilles of a side")?;
    grilles.iter().try_for_each(|grille| held(&GRILLE_AIRFLOW, Some(grille.cfm())))
}

fn options(job: &Job) -> Checked {
    few(job.options.count(), MOST_OPTIONS, "options")?;
    if job.options.count() == 1 {
        return changes(&job.changes);
    }
    let told = |(index, option): (usize, &JobOption)| {
        changes(&option.changes).map_err(|refused| refused.at(option.about.called(index)))
    };
    job.all_options().iter().enumerate().try_for_each(told)
}

fn changes(changes: &[Change]) -> Checked {
    few(changes.len(), MOST_CHANGES, "changes")?;
    if let Some(id) = twice(changes.iter().map(|change| change.id)) {
        return Err(Refusal::SameChange(id));
    }
    changes.iter().try_for_each(|one| change(one).map_err(|refused| refused.at(format!("Change {}", one.id.0))))
}

fn change(change: &Change) -> Checked {
    number_in_reach("a change", change.id.0)?;
    held(&PRICE, change.price)?;
    held(&LABOUR, change.labour)?;
    let is_more = change.labour.is_some_and(|labour| labour > change.price.unwrap_or(0.0));
    if is_more { Err(Refusal::LabourOverPrice) } else { Ok(()) }
}

/// What a target can be held as.
pub(crate) fn target(target: &Target) -> Checked {
    target.numbers().into_iter().flatten().try_for_each(|(number, value)| held(number, Some(value)))
}

/// A value that a file may hold, where there is one.
fn held(number: &'static Number, value: Option<f64>) -> Checked {
    value.map_or(Ok(()), |value| Ok(number.check_held(value).map(drop)?))
}
