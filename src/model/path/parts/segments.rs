//! The read stretches of the external path, and pressures that rise where they should fall.

use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;
use crate::model::path::parts::{Moved, ReadPoint, known_drop};
use crate::model::path::tesp::{self, ReadDifference};
use crate::units::{Airflow, Pressure};

/// A stretch with a read drop.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Its elements that take a share: external, in the path, without a known drop of their own.
    pub elements: Vec<ElementId>,
    /// True before the blower.
    pub before_blower: bool,
    /// What was read, less what its elements with a known drop take.
    pub drop: Pressure,
    /// Its external elements with a known drop of their own.
    pub known: Vec<ElementId>,
    /// What those drop together, as it is known.
    pub known_drop: Pressure,
    /// What was read over all external elements of the stretch.
    pub read: Pressure,
}

impl Segment {
    fn new(before_blower: bool, read: Pressure) -> Self {
        Self { elements: Vec::new(), before_blower, drop: read, known: Vec::new(), known_drop: Pressure::ZERO, read }
    }

    fn know(&mut self, id: ElementId, drop: Pressure) {
        self.known.push(id);
        self.known_drop += drop;
    }

    /// What was read has to hold: where the known drops ask for more, or nothing else is there to take a rest, they share out what was read.
    fn settle(mut self) -> Self {
        self.drop = if self.is_bent() { self.read.min(Pressure::ZERO) } else { self.read - self.known_drop };
        self
    }

    fn is_bent(&self) -> bool {
        self.known_drop > Pressure::ZERO && (self.elements.is_empty() || self.known_drop > self.read)
    }

    /// Factor on its known drops, so that they make no more than was read.
    pub(super) fn factor(&self) -> f64 {
        if self.is_bent() { (self.read / self.known_drop).max(0.0) } else { 1.0 }
    }

    /// True where known drops and the reading cannot both hold; `two_ports` is what the two places of the reading may be off together.
    pub fn is_contradicted(&self, two_ports: Pressure) -> bool {
        let off = (self.known_drop - self.read).abs();
        let is_over = !self.elements.is_empty() && self.known_drop >= self.read;
        self.is_bent() && (is_over || off > two_ports.max(self.read.abs() * KNOWN_AGREE))
    }
}

/// How far drops known by data may differ from what was read over them before that is a question, as a fraction (assumed: data are for a clean part, and two readings have their ports).
const KNOWN_AGREE: f64 = 0.10;

/// Pressure that rises along the flow between two places where it was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rise {
    /// The port before; the rooms where there is none.
    pub from: Option<PortId>,
    /// The port after; the rooms where there is none.
    pub to: Option<PortId>,
    /// By how much.
    pub by: Pressure,
}

/// A place in a list of elements where pressure against the rooms is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark {
    /// Elements of the list that lie before it.
    pub(super) passed: usize,
    /// Pressure against the rooms.
    pub(super) pressure: Pressure,
    /// The port; nothing for an end of the list.
    pub(super) port: Option<PortId>,
}

/// External elements of the chain with their indexes, those taken out left out; blower and heat exchanger are the table's wherever they stand.
pub(super) fn external<'a>(job: &'a Job, table: &'a BlowerTable) -> impl Iterator<Item = (usize, &'a Element)> {
    let inside = job.path.inside(&table.basis);
    let out = &job.set().parts_out;
    job.path
        .elements
        .iter()
        .enumerate()
        .filter(move |(index, element)| !inside.contains(index) && !out.contains(&element.id))
        .filter(|(_, element)| !matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger))
}

/// The read stretches of the external path, in flow order.
///
/// Inside elements between a port and its plane are taken out of the stretch by their data or what was read across them, external ones likewise.
/// Where pressure rises along the flow the two stretches about the port are taken as one; where known drops ask for more than was read, what was read counts; where a stretch rises all the same, the whole path is one.
pub fn segments(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Vec<Segment> {
    if matches!(at.read, ReadDifference::Total(_)) {
        return vec![whole(job, table, at)];
    }
    let given = given(at.read);
    let mut marks = marks(job, &given, &at.moved);
    // Between the ports nearest the table's planes lies the machine: what is read in there is no part of the external path.
    let ends: Vec<usize> = given.iter().filter_map(|(id, _)| job.path.elements_before(*id)).collect();
    if let [before, after] = ends[..] {
        marks.retain(|mark| mark.passed <= before || mark.passed >= after);
    }
    let marks = falling(job, marks, &given);
    let stretches: Vec<Segment> = marks
        .windows(2)
        .filter(|pair| !spans_blower(job, pair[0].passed, pair[1].passed))
        .map(|pair| stretch(job, table, pair[0], pair[1], at))
        .collect();
    if stretches.iter().any(|segment| segment.drop < Pressure::ZERO) {
        return vec![whole(job, table, at)];
    }
    stretches
}

/// Every rise of pressure along the flow, in the chain and in its ways, as the ports were read.
pub fn rises(job: &Job, read: &ReadDifference) -> Vec<Rise> {
    let of_pair =
        |pair: &[Mark]| Rise { from: pair[0].port, to: pair[1].port, by: pair[1].pressure - pair[0].pressure };
    if matches!(read, ReadDifference::Total(_)) {
        return Vec::new();
    }
    let chain = marks(job, &given(read), &Moved::default());
    chain
        .windows(2)
        .filter(|pair| pair[0].passed < pair[1].passed && !spans_blower(job, pair[0].passed, pair[1].passed))
        .map(of_pair)
        .filter(|rise| rise.by > Pressure::ZERO)
        .collect()
}

/// Places of the chain with a known pressure against the rooms; the rooms stand at both ends.
///
/// The two ports that gave the difference across the machine have the pressures of `given`, which may have been moved to work out a sensitivity.
fn marks(job: &Job, given: &[(PortId, Pressure)], by: &Moved) -> Vec<Mark> {
    let mut marks = of_ports(job, &job.path.elements, by, &|port| {
        given.iter().find(|(id, _)| *id == port).map(|(_, pressure)| *pressure)
    });
    marks.push(Mark { passed: 0, pressure: Pressure::ZERO, port: None });
    marks.push(Mark { passed: job.path.elements.len(), pressure: Pressure::ZERO, port: None });
    marks.sort_by_key(|mark| mark.passed);
    marks
}

/// The ports that gave the difference across the machine.
fn given(read: &ReadDifference) -> Vec<(PortId, Pressure)> {
    match read {
        ReadDifference::Ports { before, after } => vec![*before, *after],
        ReadDifference::Total(_) => Vec::new(),
    }
}

/// Marks of the ports that stand in a list itself.
pub(super) fn of_ports(
    job: &Job,
    list: &[Element],
    by: &Moved,
    given: &dyn Fn(PortId) -> Option<Pressure>,
) -> Vec<Mark> {
    let mark = |port: &crate::model::facts::air_path::Port| {
        let passed = list.iter().position(|element| element.id == port.after)? + 1;
        let read = || Some(job.set().at(ReadAt::Port(port.id))?.average()? + by.at_port(port.id));
        let pressure = given(port.id).or_else(read)?;
        Some(Mark { passed, pressure, port: Some(port.id) })
    };
    job.path.ports.iter().filter_map(mark).collect()
}

/// The marks without those ports where pressure would rise; the two ports that everything rests on and the rooms stay.
fn falling(job: &Job, mut marks: Vec<Mark>, given: &[(PortId, Pressure)]) -> Vec<Mark> {
    let kept = |mark: &Mark| mark.port.is_none_or(|port| given.iter().any(|(id, _)| *id == port));
    loop {
        let rise = marks
            .windows(2)
            .position(|pair| pair[1].pressure > pair[0].pressure && !spans_blower(job, pair[0].passed, pair[1].passed));
        let Some(index) = rise else { return marks };
        let goes = [index + 1, index].into_iter().find(|place| !kept(&marks[*place]));
        match goes {
            Some(place) => drop(marks.remove(place)),
            None => return marks,
        }
    }
}

fn spans_blower(job: &Job, from: usize, to: usize) -> bool {
    job.path.blower().is_some_and(|blower| (from..to).contains(&blower))
}

fn stretch(job: &Job, table: &BlowerTable, from: Mark, to: Mark, at: &ReadPoint<'_>) -> Segment {
    let inside = job.path.inside(&table.basis);
    let blower = job.path.blower().unwrap_or_default();
    let mut segment = Segment::new(from.passed < blower, from.pressure - to.pressure);
    for index in from.passed..to.passed {
        let element = &job.path.elements[index];
        if job.set().parts_out.contains(&element.id) || element.kind == ElementKind::HeatExchanger {
            continue;
        }
        let is_inside = inside.contains(&index);
        let printed = tesp::printed_drop(element, table, is_inside);
        match (known_drop(element, job.set(), printed, at, through(&job.path, index, at)), is_inside) {
            (Some(known), true) => segment.read = segment.read - known,
            (Some(known), false) => segment.know(element.id, known),
            (None, false) => segment.elements.push(element.id),
            (None, true) => {}
        }
    }
    segment.settle()
}

/// The whole external path as one stretch, when no split by side is known.
fn whole(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Segment {
    let mut segment = Segment::new(true, at.tesp);
    for (index, element) in external(job, table) {
        let printed = tesp::printed_drop(element, table, false);
        match known_drop(element, job.set(), printed, at, through(&job.path, index, at)) {
            Some(known) => segment.know(element.id, known),
            None => segment.elements.push(element.id),
        }
    }
    segment.settle()
}

/// Airflow through an element of the chain during the readings.
pub(super) fn through(path: &AirPath, index: usize, at: &ReadPoint<'_>) -> Airflow {
    at.airflow * path.share_through(index)
}
