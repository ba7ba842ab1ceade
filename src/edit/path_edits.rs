//! Edits of the air path: its elements, ways and ports.

use super::with_element;
use crate::model::facts::air_path::{
    AirPath, Bypass, ElementId, ElementKind, PortId, RETURN_PORT, SUPPLY_PORT, Whereabouts,
};
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;

/// Puts a port just after another element.
pub(super) fn move_port(path: &mut AirPath, id: PortId, after: ElementId) {
    if let Some(port) = path.ports.iter_mut().find(|port| port.id == id) {
        port.after = after;
    }
    path.ports_in_order();
}

/// Takes back what was said of elements and ports that are gone.
pub(super) fn forget(job: &mut Job) {
    let path = &job.path;
    for set in &mut job.sets {
        set.parts_out.retain(|id| path.element(*id).is_some());
        set.readings.retain(|reading| match reading.at {
            ReadAt::Port(id) => path.port(id).is_some(),
            ReadAt::Across(id) => path.element(id).is_some(),
            ReadAt::Total => true,
        });
    }
}

pub(super) fn remove_port(job: &mut Job, id: PortId) -> Result<(), String> {
    let before = job.path.is_before_blower(id).ok_or_else(|| format!("The air path has no port {}", id.0))?;
    if [RETURN_PORT, SUPPLY_PORT].contains(&id) {
        return Err("The job's own readings are taken at this port; move it instead".to_owned());
    }
    if !job.path.has_port_of_chain(before, Some(id)) {
        let side = if before { "before" } else { "after" };
        return Err(format!("It is the only port {side} the blower that reads all the air; move it instead"));
    }
    job.path.ports.retain(|port| port.id != id);
    forget(job);
    Ok(())
}

/// A port stays on its own side, and no two stand at one place.
pub(super) fn port_move(job: &Job, port: PortId, after: ElementId) -> Result<(), String> {
    let path = &job.path;
    let Some(there) = path.holder_of(after) else {
        return Err(format!("The air path has no element {}", after.0));
    };
    if path.ports.iter().any(|other| other.id != port && other.after == after) {
        let name = path.name_of(after).unwrap_or_default().to_lowercase();
        return Err(format!("There is a port after the {name} already"));
    }
    let before = match (path.is_before_blower(port), path.blower()) {
        (Some(before), Some(blower)) if (there < blower) == before => before,
        (None, _) => return Err(format!("The air path has no port {}", port.0)),
        _ => return Err("A port stays on its own side of the blower".to_owned()),
    };
    let name = path.name_of(after).unwrap_or_default().to_lowercase();
    if path.is_at_the_rooms(after) {
        return Err(format!("Behind the {name} are the rooms, against which everything is read"));
    }
    if path.element(after).is_some_and(|element| element.kind == ElementKind::Leak) {
        return Err("Behind a leak there is no duct to drill".to_owned());
    }
    if path.index_of(after).is_none() && !path.has_port_of_chain(before, Some(port)) {
        let side = if before { "before" } else { "after" };
        return Err(format!(
            "It is the only port {side} the blower that reads all the air; in a way it would read a part of it"
        ));
    }
    Ok(())
}

/// Moving a part into the cabinet, where the table may contain it, or out of it.
pub(super) fn set_whereabouts(job: &mut Job, id: ElementId, there: Whereabouts) -> Result<(), String> {
    let element = job.path.element(id).ok_or_else(|| format!("The air path has no element {}", id.0))?;
    let name = element.name().to_lowercase();
    if job.path.index_of(id).is_none() && there == Whereabouts::Cabinet {
        return Err(format!("The {name} stands in a way side by side; what is in the cabinet passes all the air"));
    }
    if there == Whereabouts::Cabinet && !can_be_in_cabinet(element) {
        return Err(format!("A {name} has no place in the cabinet; filters, coils and heaters have"));
    }
    with_element(job, id, |element| element.whereabouts = there)
}

fn can_be_in_cabinet(element: &crate::model::facts::air_path::Element) -> bool {
    use crate::model::facts::air_path::ElementKind as K;
    matches!(element.kind, K::Filter | K::Coil | K::Heater | K::Blower | K::HeatExchanger)
}

pub(super) fn set_flow(path: &mut AirPath, group: ElementId, way: usize, flow: Option<f64>) -> Result<(), String> {
    let element = path.element_mut(group).ok_or_else(|| format!("The air path has no element {}", group.0))?;
    let way = element.ways.get_mut(way).ok_or_else(|| format!("There is no way {} here", way.saturating_add(1)))?;
    way.flow = flow;
    Ok(())
}

pub(super) fn set_bypass(job: &mut Job, bypass: Option<Bypass>) -> Result<(), String> {
    let mut then = job.path.clone();
    then.bypass = bypass;
    let within = || then.bypass_within(&job.machine.as_ref()?.basis);
    if let Some(sentence) = then.problem().or_else(within) {
        return Err(sentence);
    }
    job.path = then;
    Ok(())
}
