//! Readings and data that contradict one another along the path: questions that need the path's own parts.

use crate::model::facts::air_path::{Element, ElementId, ElementKind, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Field, Oddity, Problem};
use crate::model::facts::readings::ReadAt;
use crate::model::facts::severity::Severity;
use crate::model::path::parts::unused_readings::{UnusedReading, unused_readings};
use crate::model::path::parts::{Part, Segment, segments};
use crate::model::path::read::{between_ports, read_over};
use crate::model::path::tesp::{ReadDifference, StaticSum};
use crate::units::{Airflow, Pressure};

/// What a widening may give back: the velocity pressure of 900 fpm, the most that trunk ducts are laid out for (ANSI/ACCA 1 Manual D, recalled from memory).
const WIDENING: Pressure = Pressure::from_in_wc(0.05);

const fn question(what: Oddity) -> Problem {
    Problem { field: Field::Path, severity: Severity::Question, what }
}

/// The name of the element before a port, as it stands within a sentence.
fn name_before(job: &Job, port: PortId) -> Option<String> {
    Some(job.path.name_of(job.path.port(port)?.after)?.to_lowercase())
}

/// Questions about static that rises along the flow between two ports.
pub fn rising_pressures(job: &Job, read: &ReadDifference) -> Vec<Problem> {
    let place = |port: Option<PortId>| port.and_then(|port| name_before(job, port));
    let two_ports = job.accuracy.port_offset * 2.0;
    let rises = segments::rises(job, read).into_iter().map(|rise| Oddity::Rises {
        by: rise.by,
        from: place(rise.from),
        to: place(rise.to),
        may_be_a_widening: rise.by <= WIDENING + two_ports,
    });
    rises.map(question).collect()
}

/// Questions about parts that take more, or less, by their data or by what was read across them, than was read over them.
pub fn contradicted_data(job: &Job, segments: &[Segment], airflow: Airflow) -> Vec<Problem> {
    let two_ports = job.accuracy.port_offset * 2.0;
    let told = |parts: &[ElementId], known, read| Oddity::ContradictedData {
        by_reading: parts.iter().all(|id| job.set().across(*id).is_some()),
        parts: parts.iter().filter_map(|id| job.path.name_of(*id)).map(str::to_owned).collect(),
        known,
        airflow,
        read,
    };
    let outside = segments.iter().filter(|segment| segment.is_contradicted(two_ports));
    let outside = outside.map(|segment| told(&segment.known, segment.known_drop, segment.read));
    let inside = segments.iter().filter_map(|segment| Some((&segment.inside, segment.inside_over?)));
    let inside = inside.filter(|(_, (read, known))| *known - *read > two_ports);
    let inside = inside.map(|(parts, (read, known))| told(parts, known, read));
    outside.chain(inside).map(question).collect()
}

/// Questions about what was read across parts that the table contains: with nothing to hold it against, or by ports on both sides of them.
pub fn readings_inside(job: &Job, table: &BlowerTable, sum: &StaticSum) -> Vec<Problem> {
    let told = inside_parts(job, table).filter_map(|(index, element)| {
        let read = read_over(&job.path, job.set(), index)?;
        let is_held = sum.read_across.inside.iter().any(|inside| inside.part == element.id);
        let name = job.path.said(element.id);
        let unheld = Problem {
            field: Field::AcrossReading,
            severity: Severity::Question,
            what: Oddity::NothingToHoldAgainst { name, read },
        };
        (!is_held).then_some(unheld)
    });
    told.chain(beside_ports(job, table)).collect()
}

/// The parts that the table contains, with their places in the chain.
fn inside_parts<'a>(job: &'a Job, table: &BlowerTable) -> impl Iterator<Item = (usize, &'a Element)> {
    let inside = job.path.inside(&table.basis);
    let parts = job.path.elements.iter().enumerate().filter(move |(index, _)| inside.contains(index));
    parts.filter(|(_, element)| element.kind != ElementKind::Blower && !job.set().parts_out.contains(&element.id))
}

/// Parts of the table that stand alone between two read ports, where those read something else over them than was read across them.
fn beside_ports(job: &Job, table: &BlowerTable) -> impl Iterator<Item = Problem> {
    let two_ports = job.accuracy.port_offset * 2.0;
    inside_parts(job, table).filter_map(move |(index, element)| {
        let known = job.set().across(element.id)?;
        let read = between_ports(&job.path, job.set(), index)?;
        let parts = vec![element.name().to_owned()];
        let what = Oddity::ContradictedData { parts, by_reading: true, known, airflow: Airflow::ZERO, read };
        ((known - read).abs() > two_ports).then(|| question(what))
    })
}

/// Questions about readings that part nothing: within ways side by side, or within the machine.
pub fn readings_that_part_nothing(job: &Job, read: &ReadDifference, parts: &[Part]) -> Vec<Problem> {
    let told = unused_readings(job, read, parts).into_iter().filter_map(|UnusedReading { port, why }| {
        let read = job.set().at(ReadAt::Port(port))?.average()?;
        Some(Oddity::PartsNothing { after: name_before(job, port)?, read, why })
    });
    told.map(question).collect()
}
