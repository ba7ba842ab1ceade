//! What a job can hold: the one check that every edit and every file pass, so that whatever stands on the screen can be saved and opened again.
//!
//! It is wider than what can be meant ([`crate::model::facts::job_check`]): a file may bring a blower of 1 W, which opens, and of which the answer says that it cannot be right.
//! A change on an element that the path no longer has, and a change to a tap that the table no longer has, are let through: they stay in their place, and the answer refuses them in words.

use std::collections::BTreeSet;

use crate::model::facts::air::AirConditions;
use crate::model::facts::air_path::{AirPath, Element, ElementId, PortId, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::change::{ByData, Change, ChangeKind, SecondReturn, check};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::job_check;
use crate::model::facts::limits::{
    HIGHEST_NUMBER, MOST_CHANGES, MOST_ELEMENTS, MOST_LOOKS, MOST_POINTS, MOST_PORTS, MOST_SETS,
};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::facts::target::Target;
use crate::units::show;

type Checked = Result<(), String>;

/// Refuses the first thing that a job cannot hold.
///
/// # Errors
/// A sentence that names the place and the value and says what would be right.
pub fn check(job: &Job) -> Checked {
    job.outdoor_unit.map_or(Ok(()), job_check::capacity).map_err(at("Outdoor unit"))?;
    path(job)?;
    sets(job)?;
    ducts(job).map_err(at("Ducts"))?;
    changes(&job.changes)?;
    job.target.as_ref().map_or(Ok(()), target).map_err(at("Target"))?;
    limits(job).map_err(at("Limits"))?;
    accuracy(job).map_err(at("Accuracy"))
}

/// How sentences name a reading set.
pub fn name_of_set(index: usize, name: &str) -> String {
    let number = index + 1;
    if name.is_empty() {
        return format!("Set {number}");
    }
    format!("Set {number} ({name})")
}

/// A sentence with its place before it.
fn at(place: &str) -> impl Fn(String) -> String {
    move |sentence| format!("{place}: {sentence}")
}

/// As many as a job of a real house could ever need, and more.
fn few(count: usize, most: usize, what: &str) -> Checked {
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
    element.share.map_or(Ok(()), job_check::share)?;
    element.exponent.map_or(Ok(()), job_check::exponent)?;
    element.drop.as_ref().map_or(Ok(()), points)?;
    element.ways.iter().filter_map(|way| way.flow).try_for_each(flow_of_way)
}

/// Wider than what divides the air: an opened file may say all of it or none.
fn flow_of_way(flow: f64) -> Checked {
    within("A way's share", flow * 100.0, (0.0, 100.0), "% of the air")
}

fn points(data: &DropData) -> Checked {
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
    if let Some(ElementId(id)) = set.parts_out.iter().find(|id| !places.elements.contains(id)) {
        return Err(format!("Element {id} is said to be out of the path, but the air path has no such element"));
    }
    air(&set.air)?;
    set.power.map_or(Ok(()), |power| above_zero("A blower", power.watts(), "W"))?;
    set.voltage.map_or(Ok(()), |voltage| above_zero("A supply", voltage.volts(), "V"))
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
        _ => {}
    }
    few(reading.looks.len(), MOST_LOOKS, "looks at one place")?;
    match reading.looks.iter().find(|look| !look.is_finite()) {
        Some(look) => Err(format!("{}: a look of {} in. w.c. is no number", name_of(reading.at), look.in_wc())),
        None => Ok(()),
    }
}

fn air(air: &AirConditions) -> Checked {
    job_check::altitude(air.altitude)?;
    job_check::temperature(air.temperature)?;
    job_check::humidity(air.humidity)?;
    air.station_pressure.map_or(Ok(()), job_check::station_pressure)
}

fn ducts(job: &Job) -> Checked {
    for side in PathSide::BOTH {
        job.ducts.length(side).map_or(Ok(()), |length| job_check::effective_length(side, length))?;
    }
    job.ducts.design_static.map_or(Ok(()), job_check::design_static)
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
    change.price.map_or(Ok(()), job_check::price)?;
    check::numbers(&change.kind)?;
    match &change.kind {
        ChangeKind::ByData(ByData { data, .. }) => points(data),
        ChangeKind::SecondReturn(SecondReturn { filter, .. }) => filter.as_ref().map_or(Ok(()), points),
        ChangeKind::OtherMachine(new) => {
            few(new.leaves.len(), MOST_ELEMENTS, "elements that leave")?;
            [&new.coil, &new.filter].into_iter().flatten().try_for_each(points)?;
            new.target.as_ref().map_or(Ok(()), target).map_err(at("its target"))
        }
        _ => Ok(()),
    }
}

fn target(target: &Target) -> Checked {
    match *target {
        Target::Airflow(airflow) => above_zero("A target", airflow.cfm(), "cfm"),
        Target::PerTon { capacity, per_ton } => {
            job_check::capacity(capacity)?;
            above_zero("A target", per_ton.cfm(), "cfm per ton")
        }
        Target::HeatRise { output, rise } => {
            above_zero("A heat output", output.btuh(), "Btu/h")?;
            above_zero("A temperature rise", rise.f(), "°F")
        }
    }
}

fn limits(job: &Job) -> Checked {
    let limits = &job.limits;
    within("An accepted band", limits.accept_band * 100.0, (0.0, 100.0), "%")?;
    above_zero("A limit of the return", limits.return_drop.in_wc(), "in. w.c.")?;
    above_zero("A limit of a furnace's supply", limits.furnace_supply_drop.in_wc(), "in. w.c.")?;
    not_negative("A least static", limits.least_static.in_wc(), "in. w.c.")?;
    above_zero("A limit of the blower", limits.watts_per_cfm, "W/cfm")
}

fn accuracy(job: &Job) -> Checked {
    let accuracy = &job.accuracy;
    within("A manometer's error", accuracy.manometer_fraction * 100.0, (0.0, 100.0), "%")?;
    within("A manometer's least error", accuracy.manometer_floor.in_wc(), (0.0, 1.0), "in. w.c.")?;
    within("A port's error", accuracy.port_offset.in_wc(), (0.0, 1.0), "in. w.c.")?;
    within("A table's error", accuracy.table_fraction * 100.0, (0.0, 100.0), "%")?;
    within("An exponent's error", accuracy.exponent, (0.0, 1.0), "")
}

/// The range's own unit: "% of the air" lies between so and so many %.
fn short(unit: &str) -> &str {
    unit.strip_suffix(" of the air").unwrap_or(unit)
}

/// "A blower of −410 W".
fn said(what: &str, value: f64, unit: &str) -> String {
    format!("{what} of {} {unit}", show::trimmed(value, 4)).trim_end().to_owned()
}

fn within(what: &str, value: f64, (low, high): (f64, f64), unit: &str) -> Checked {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    let right = format!("{low} and {high} {}", short(unit));
    Err(format!("{} cannot be; it lies between {}", said(what, value, unit), right.trim_end()))
}

fn above_zero(what: &str, value: f64, unit: &str) -> Checked {
    if value.is_finite() && value > 0.0 {
        return Ok(());
    }
    Err(format!("{} cannot be; it has to be above zero", said(what, value, unit)))
}

fn not_negative(what: &str, value: f64, unit: &str) -> Checked {
    if value.is_finite() && value >= 0.0 {
        return Ok(());
    }
    Err(format!("{} cannot be; it must not be below zero", said(what, value, unit)))
}
