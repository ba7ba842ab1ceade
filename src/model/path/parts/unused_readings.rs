//! Readings that part nothing, so that none is left out in silence.

use crate::model::facts::air_path::{Element, ElementKind, PortId};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::PartsNothing;
use crate::model::path::parts::segments::{Mark, of_ports};
use crate::model::path::parts::{Moved, Part, part_of};
use crate::model::path::read::{ReadDifference, between_ports};
use crate::units::Pressure;

/// A reading that parts nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UnusedReading {
    /// The port.
    pub port: PortId,
    /// Why.
    pub why: PartsNothing,
}

/// Every reading that parts nothing, at the airflow of the readings.
pub fn unused_readings(job: &Job, read: &ReadDifference, parts: &[Part]) -> Vec<UnusedReading> {
    let mut found: Vec<UnusedReading> = within_machine(job, read).collect();
    let blower = job.path.blower().unwrap_or_default();
    let mut pressure = Pressure::ZERO;
    for (index, element) in job.path.elements.iter().enumerate() {
        if index == blower {
            // Behind the blower the rooms are the known end.
            pressure =
                parts.iter().filter(|part| is_behind(job, part, blower)).map(|part| part.drop_at(part.flow)).sum();
        }
        pressure = through(job, element, (parts, 1.0), pressure, &mut found);
    }
    found
}

/// Readings between the two ports that the machine was read across.
fn within_machine(job: &Job, read: &ReadDifference) -> impl Iterator<Item = UnusedReading> {
    let ends = match read {
        ReadDifference::Ports { before, after } => {
            job.path.elements_before(before.0).zip(job.path.elements_before(after.0))
        }
        ReadDifference::Total(_) => None,
    };
    let is_between = move |passed: usize| ends.is_some_and(|(before, after)| before < passed && passed < after);
    of_ports(job, &job.path.elements, &Moved::default(), &|_| None)
        .into_iter()
        .filter(move |mark| is_between(mark.passed) && !reads_a_part(job, mark.passed))
        .filter_map(|mark| Some(UnusedReading { port: mark.port?, why: PartsNothing::WithinMachine }))
}

/// True for a place from which a part beside it is read, by the next port.
fn reads_a_part(job: &Job, passed: usize) -> bool {
    let is_part = |index: usize| {
        let element = job.path.elements.get(index);
        element.is_some_and(|element| element.kind != ElementKind::Blower && job.is_inside(element.id))
    };
    let is_read = |index: usize| is_part(index) && between_ports(&job.path, job.set(), index).is_some();
    is_read(passed) || passed.checked_sub(1).is_some_and(is_read)
}

fn is_behind(job: &Job, part: &Part, blower: usize) -> bool {
    part.elements.first().and_then(|id| job.path.index_of(*id)).is_some_and(|index| index > blower)
}

/// Pressure behind an element, and readings of its ways that part nothing; with the parts goes the factor of the warm air that passes them all.
fn through(
    job: &Job,
    element: &Element,
    (parts, warm): (&[Part], f64),
    before: Pressure,
    found: &mut Vec<UnusedReading>,
) -> Pressure {
    // A lump drops where its first element stands.
    let lump = || parts.iter().find(|part| part.elements.first() == Some(&element.id));
    let Some(part) = part_of(parts, element.id).or_else(lump) else {
        return before;
    };
    let behind = before - part.drop_at(part.flow) * warm;
    let warm = warm * part.warm_factor(part.flow);
    for (way, within) in element.ways.iter().zip(&part.ways) {
        of_way(job, &way.elements, (before, behind), found);
        let mut pressure = before;
        for inner in &way.elements {
            pressure = through(job, inner, (within, warm), pressure, found);
        }
    }
    behind
}

fn of_way(job: &Job, list: &[Element], (before, behind): (Pressure, Pressure), found: &mut Vec<UnusedReading>) {
    let mut last = before;
    let mut marks: Vec<Mark> = of_ports(job, list, &Moved::default(), &|_| None);
    marks.sort_by_key(|mark| mark.passed);
    for mark in marks {
        let why = if mark.passed == list.len() {
            PartsNothing::AtTheEnd
        } else if mark.pressure >= last {
            PartsNothing::TooHigh(mark.pressure - last)
        } else if mark.pressure <= behind {
            PartsNothing::TooLow(behind - mark.pressure)
        } else {
            last = mark.pressure;
            continue;
        };
        found.extend(mark.port.map(|port| UnusedReading { port, why }));
    }
}
