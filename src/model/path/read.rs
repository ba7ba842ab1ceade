//! What the manometer gave across the machine, and from which places.

use crate::model::facts::air_path::{AirPath, Element, ElementKind, Port, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::path::air;
use crate::units::Pressure;

/// The raw difference that the manometer gave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadDifference {
    /// Two ports against the rooms.
    Ports {
        /// Port before the blower.
        before: (PortId, Pressure),
        /// Port after the blower.
        after: (PortId, Pressure),
    },
    /// One number, straight across the machine.
    Total(Pressure),
}

impl ReadDifference {
    /// Static after the blower minus static before it.
    pub fn across(&self) -> Pressure {
        match self {
            Self::Ports { before, after } => after.1 - before.1,
            Self::Total(total) => *total,
        }
    }
}

/// Why there is no total external static yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotRead {
    /// No readings at all.
    Nothing,
    /// Only the port after the blower is read.
    Before,
    /// Only the port before the blower is read.
    After,
}

/// Which readings of a set give the difference across the machine.
///
/// With a total and two ports both read, the ports win, for they say more.
///
/// # Errors
/// Says which side is missing.
pub fn read_difference(path: &AirPath, table: &BlowerTable, set: &ReadingSet) -> Result<ReadDifference, NotRead> {
    let inside = path.inside(&table.basis);
    let nearest = |before_blower: bool, plane: usize| {
        path.ports
            .iter()
            .filter(|port| path.is_before_blower(port.id) == Some(before_blower))
            .filter_map(|port| {
                // A port within a way reads a part of the air only.
                let passed = path.elements_before(port.id)?;
                Some((passed, port.id, set.at(ReadAt::Port(port.id))?.average()?))
            })
            .min_by_key(|(passed, id, _)| {
                let between = passed.min(&plane).to_owned()..passed.max(&plane).to_owned();
                let elements = path.elements.get(between).unwrap_or_default();
                let unknown = elements.iter().filter(|element| is_unknown(element, table, set)).count();
                (unknown, passed.abs_diff(plane), *passed, *id)
            })
            .map(|(_, id, pressure)| (id, pressure))
    };
    let before = nearest(true, *inside.start());
    let after = nearest(false, *inside.end() + 1);
    let total = set.at(ReadAt::Total).and_then(Reading::average);
    match (before, after, total) {
        (Some(before), Some(after), _) => Ok(ReadDifference::Ports { before, after }),
        (_, _, Some(total)) => Ok(ReadDifference::Total(total)),
        (None, None, None) => Err(NotRead::Nothing),
        (None, Some(_), None) => Err(NotRead::Before),
        (Some(_), None, None) => Err(NotRead::After),
    }
}

/// True for a part between a port and its plane of which nothing says what it drops.
fn is_unknown(element: &Element, table: &BlowerTable, set: &ReadingSet) -> bool {
    let is_passed = !set.parts_out.contains(&element.id) && !is_machine(element);
    is_passed && set.across(element.id).is_none() && !air::has_data(element, table)
}

/// True for what every table has in it and no port is brought past.
pub(crate) const fn is_machine(element: &Element) -> bool {
    matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger)
}

/// What was read over an element of the chain: straight across it, else by the ports on both its sides.
pub(crate) fn read_over(path: &AirPath, set: &ReadingSet, index: usize) -> Option<Pressure> {
    let across = path.elements.get(index).and_then(|element| set.across(element.id));
    across.or_else(|| between_ports(path, set, index).filter(|drop| *drop >= Pressure::ZERO))
}

/// What the ports on both sides of an element of the chain read over it.
pub(crate) fn between_ports(path: &AirPath, set: &ReadingSet, index: usize) -> Option<Pressure> {
    let at = |passed: usize| {
        let read = |port: &Port| set.at(ReadAt::Port(port.id)).and_then(Reading::average);
        path.ports.iter().filter(|port| path.elements_before(port.id) == Some(passed)).find_map(read)
    };
    Some(at(index)? - at(index + 1)?)
}
