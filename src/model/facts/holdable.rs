//! What a job can hold: the one check that every edit and every file pass, so that whatever stands on the screen can be saved and opened again.
//!
//! It is wider than what can be meant ([`crate::model::facts::job_check`]): a file may bring a blower of 1 W, which opens, and of which the answer says that it cannot be right.
//! What a change states is looked at in [`crate::model::change::can_be_held`].
//! A change on an element that the path no longer has, and a change to a tap that the table no longer has, are let through: they stay in their place, and the answer refuses them in words.

use std::collections::BTreeSet;

use crate::model::facts::air_path::{AirPath, Element, ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::change::Change;
use crate::model::facts::drop_data::DropData;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::limits::{
    HIGHEST_NUMBER, MOST_CHANGES, MOST_ELEMENTS, MOST_LOOKS, MOST_POINTS, MOST_PORTS, MOST_SETS,
};
use crate::model::facts::number::Number;
use crate::model::facts::numbers::duct::EXPONENT;
use crate::model::facts::numbers::job::{PRICE, SHARE, WAY_FLOW};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet, name_of_set};
use crate::model::facts::target::Target;
use crate::units::show;

type Checked = Result<(), String>;

/// Refuses the first thing that a job cannot hold.
///
/// # Errors
/// A sentence that names the place and the value and says what would be right.
pub fn check(job: &Job) -> Checked {
    path(job)?;
    sets(job)?;
    changes(&job.changes)?;
    job.target.as_ref().map_or(Ok(()), target).map_err(at("Target"))?;
    let held = |number: JobNumber| number.check_held(job).map_err(|(place, refused)| format!("{place}: {refused}"));
    JobNumber::ALL.into_iter().try_for_each(held)
}

/// A sentence with its place before it.
fn at(place: &str) -> impl Fn(String) -> String {
    move |sentence| format!("{place}: {sentence}")
}

/// As many as a job of a real house could ever need, and more.
/// Refuses more than a job holds of something.
pub(crate) fn few(count: usize, most: usize, what: &str) -> Checked {
    if count <= most {
        return Ok(());
    }
    Err(format!("{} {what} are too many; at most {most} can be", show::number(count as f64, 0)))
}

/// The first item that has come before.
fn twice<T: Ord + Copy>(items: impl IntoIterator<Item = T>) -> Option<T> {
    let mut seen = BTreeSet::new();
    items.into_iter().find(|item| !seen.insert(*item))
}

fn number_in_reach(of: &str, number: u32) -> Checked {
    if number <= HIGHEST_NUMBER {
        return Ok(());
    }
    let shown = |number: u32| show::number(f64::from(number), 0);
    Err(format!("A number of {} for {of} cannot be; numbers go up to {}", shown(number), shown(HIGHEST_NUMBER)))
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
    if let Some(sentence) = path.problem() {
        return Err(sentence);
    }
    if let Some(PortId(id)) = twice(path.ports.iter().map(|port| port.id)) {
        return Err(format!("Two ports of the air path share the number {id}"));
    }
    path.bypass.as_ref().map_or(Ok(()), |bypass| number_in_reach("the bypass", bypass.id.0))?;
    path.ports.iter().try_for_each(|port| number_in_reach("a port", port.id.0))?;
    elements.into_iter().try_for_each(|part| element(part).map_err(at(&format!("Path, element {}", part.id.0))))
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
    few(data.points().len(), MOST_POINTS, "points of a drop")
}

fn sets(job: &Job) -> Checked {
    if job.sets.is_empty() {
        return Err("A job without a reading set cannot be; it needs at least one".to_owned());
    }
    few(job.sets.len(), MOST_SETS, "reading sets")?;
    let places = Places::of(&job.path);
    let numbered = job.sets.iter().enumerate();
    numbered.into_iter().try_for_each(|(index, of)| set(of, &places).map_err(at(&name_of_set(index, &of.name))))
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
        return Err(format!("{} is read twice; all looks at one place belong into one reading", name_of(read)));
    }
    set.readings.iter().try_for_each(|taken| reading(taken, places))?;
    few(set.parts_out.len(), MOST_ELEMENTS, "elements out of the path")?;
    match set.parts_out.iter().find(|id| !places.elements.contains(id)) {
        Some(ElementId(id)) => {
            Err(format!("Element {id} is said to be out of the path, but the air path has no such element"))
        }
        None => Ok(()),
    }
}

fn name_of(at: ReadAt) -> String {
    match at {
        ReadAt::Port(PortId(id)) => format!("Port {id}"),
        ReadAt::Total => "The total".to_owned(),
        ReadAt::Across(ElementId(id)) => format!("Across element {id}"),
    }
}

fn reading(reading: &Reading, places: &Places) -> Checked {
    match reading.at {
        ReadAt::Port(port) if !places.ports.contains(&port) => {
            return Err(format!("Port {} is read, but the air path has no such port", port.0));
        }
        ReadAt::Across(id) if !places.elements.contains(&id) => {
            return Err(format!("Element {} is read across, but the air path has no such element", id.0));
        }
        ReadAt::Port(_) | ReadAt::Across(_) | ReadAt::Total => {}
    }
    few(reading.looks.len(), MOST_LOOKS, "looks at one place")?;
    match reading.looks.iter().find(|look| !look.is_finite()) {
        Some(look) => Err(format!("{}: a look of {} in. w.c. is no number", name_of(reading.at), look.in_wc())),
        None => Ok(()),
    }
}

fn changes(changes: &[Change]) -> Checked {
    few(changes.len(), MOST_CHANGES, "changes")?;
    if let Some(id) = twice(changes.iter().map(|change| change.id)) {
        return Err(format!("Two changes share the number {}", id.0));
    }
    changes.iter().try_for_each(|one| change(one).map_err(at(&format!("Change {}", one.id.0))))
}

fn change(change: &Change) -> Checked {
    number_in_reach("a change", change.id.0)?;
    held(&PRICE, change.price)
}

/// What a target can be held as.
pub(crate) fn target(target: &Target) -> Checked {
    target.numbers().into_iter().flatten().try_for_each(|(number, value)| held(number, Some(value)))
}

/// A value that a file may hold, where there is one.
fn held(number: &'static Number, value: Option<f64>) -> Checked {
    value.map_or(Ok(()), |value| number.check_held(value).map(drop)).map_err(|refused| refused.to_string())
}
