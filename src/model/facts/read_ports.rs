//! The ports that were read, in flow order.

use crate::model::facts::air_path::PortId;
use crate::model::facts::job::Job;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::units::Pressure;

/// A port with its reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadPort {
    /// Which port.
    pub id: PortId,
    /// Elements that the air has passed when it reaches the port.
    pub boundary: usize,
    /// True before the blower.
    pub is_before: bool,
    /// Average reading against the rooms.
    pub reading: Pressure,
}

/// Ports that were read, in flow order.
pub fn read_ports(job: &Job) -> Vec<ReadPort> {
    let mut ports: Vec<ReadPort> = job
        .path
        .ports
        .iter()
        .filter_map(|port| {
            Some(ReadPort {
                id: port.id,
                boundary: job.path.elements_before(port.id)?,
                is_before: job.path.is_before_blower(port.id)?,
                reading: job.set().at(ReadAt::Port(port.id)).and_then(Reading::average)?,
            })
        })
        .collect();
    ports.sort_by_key(|port| port.boundary);
    ports
}
