//! Edits of the air path: its elements, ways and ports.

use super::with_element;
use crate::model::facts::air_path::fault::{PathFault, Side};
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

pub(super) fn remove_port(job: &mut Job, id: PortId) -> Result<(), PathFault> {
    let before = job.path.is_before_blower(id).ok_or(PathFault::NoPort(id))?;
    if [RETURN_PORT, SUPPLY_PORT].contains(&id) {
        return Err(PathFault::OwnPort);
    }
    if !job.path.has_port_of_chain(before, Some(id)) {
        return Err(PathFault::OnlyPort(Side::of(before)));
    }
    job.path.ports.retain(|port| port.id != id);
    forget(job);
    Ok(())
}

/// A port stays on its own side, and no two stand at one place.
pub(super) fn port_move(job: &Job, port: PortId, after: ElementId) -> Result<(), PathFault> {
    let path = &job.path;
    let Some(there) = path.holder_of(after) else {
        return Err(PathFault::NoElement(after));
    };
    if path.ports.iter().any(|other| other.id != port && other.after == after) {
        return Err(PathFault::PortThere(path.said(after)));
    }
    let before = match (path.is_before_blower(port), path.blower()) {
        (Some(before), Some(blower)) if (there < blower) == before => before,
        (None, _) => return Err(PathFault::NoPort(port)),
        (Some(_), _) => return Err(PathFault::PortStays),
    };
    if path.is_at_the_rooms(after) {
        return Err(PathFault::AtTheRooms(path.said(after)));
    }
    if path.element(after).is_some_and(|element| element.kind == ElementKind::Leak) {
        return Err(PathFault::NoDuct);
    }
    if path.index_of(after).is_none() && !path.has_port_of_chain(before, Some(port)) {
        return Err(PathFault::OnlyPortIntoWay(Side::of(before)));
    }
    Ok(())
}

/// Moving a part into the cabinet, where the table may contain it, or out of it.
pub(super) fn set_whereabouts(job: &mut Job, id: ElementId, there: Whereabouts) -> Result<(), PathFault> {
    let element = job.path.element(id).ok_or(PathFault::NoElement(id))?;
    let name = || element.name().to_lowercase();
    if job.path.index_of(id).is_none() && there == Whereabouts::Cabinet {
        return Err(PathFault::InWay(name()));
    }
    if there == Whereabouts::Cabinet && !can_be_in_cabinet(element) {
        return Err(PathFault::NotForCabinet(name()));
    }
    with_element(job, id, |element| element.whereabouts = there)
}

fn can_be_in_cabinet(element: &crate::model::facts::air_path::Element) -> bool {
    use crate::model::facts::air_path::ElementKind as K;
    matches!(element.kind, K::Filter | K::Coil | K::Heater | K::Blower | K::HeatExchanger)
}

pub(super) fn set_flow(path: &mut AirPath, group: ElementId, way: usize, flow: Option<f64>) -> Result<(), PathFault> {
    let element = path.element_mut(group).ok_or(PathFault::NoElement(group))?;
    let way = element.ways.get_mut(way).ok_or(PathFault::NoWay(way))?;
    way.flow = flow;
    Ok(())
}

pub(super) fn set_bypass(job: &mut Job, bypass: Option<Bypass>) -> Result<(), PathFault> {
    let mut then = job.path.clone();
    then.bypass = bypass;
    let within = || then.bypass_within(&job.machine.as_ref()?.basis);
    if let Some(fault) = then.problem().or_else(within) {
        return Err(fault);
    }
    job.path = then;
    Ok(())
}
