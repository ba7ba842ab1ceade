//! The read stretches of the external path, and pressures that rise where they should fall.

use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;
use crate::model::path::parts::{Moved, ReadPoint};
use crate::model::path::read::ReadDifference;
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
    /// Its inside elements with a known drop of their own.
    pub inside: Vec<ElementId>,
    /// What was read over the whole stretch and what its inside elements would take, where they ask for more than that.
    pub inside_over: Option<(Pressure, Pressure)>,
}

impl Segment {
    fn new(before_blower: bool, read: Pressure) -> Self {
        Self {
            elements: Vec::new(),
            before_blower,
            drop: read,
            known: Vec::new(),
            known_drop: Pressure::ZERO,
            read,
            inside: Vec::new(),
            inside_over: None,
        }
    }

    fn know(&mut self, id: ElementId, drop: Pressure) {
        self.known.push(id);
        self.known_drop += drop;
    }

    /// What was read has to hold: where the known drops ask for more, or nothing else is there to take a rest, they share out what was read.
    ///
    /// What the table contains of the stretch comes off first, and no more of it than was read.
    fn settle(mut self, inside: Pressure) -> Self {
        let left = self.read - inside;
        if self.read >= Pressure::ZERO && left < Pressure::ZERO {
            self.inside_over = Some((self.read, inside));
        }
        self.read = if self.inside_over.is_some() { Pressure::ZERO } else { left };
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
/// Inside elements between a port and its plane are taken out of the stretch by their data or what was read across them, and no more of it than was read; external ones likewise.
/// Where pressure rises along the flow the two stretches about the port are taken as one; where known drops ask for more than was read, what was read counts; where a stretch rises all the same, the whole path is one.
pub fn segments(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Vec<Segment> {
    if matches!(at.read, ReadDifference::Total(_)) {
        return vec![whole(job, table, at)];
    }
    let stretches: Vec<Segment> = outside(job, at.read, at.moved)
        .windows(2)
        .filter(|pair| !spans_blower(job, pair[0].passed, pair[1].passed))
        .map(|pair| stretch(job, table, pair[0], pair[1], at))
        .collect();
    if stretches.iter().any(|segment| segment.drop < Pressure::ZERO) {
        return vec![whole(job, table, at)];
    }
    stretches
}

/// The places of the external path, with what is known of the pressure there: it falls along the flow.
fn outside(job: &Job, read: &ReadDifference, moved: &Moved) -> Vec<Mark> {
    let given = given(read);
    let mut marks = marks(job, &given, moved);
    // Between the ports nearest the table's planes lies the machine: what is read in there is no part of the external path.
    let ends: Vec<usize> = given.iter().filter_map(|(id, _)| job.path.elements_before(*id)).collect();
    if let [before, after] = ends[..] {
        marks.retain(|mark| mark.passed <= before || mark.passed >= after);
    }
    falling(job, marks, &given)
}

/// What a port outside the machine reads on a side whose port stands within it: the side takes no less, whatever the data of the parts between say.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Least {
    /// On the return side; nothing where its port stands outside the machine.
    pub before: Option<Pressure>,
    /// On the supply side.
    pub after: Option<Pressure>,
}

/// What is known of the nearest places outside the machine.
pub fn least(job: &Job, table: &BlowerTable, read: &ReadDifference, moved: &Moved) -> Least {
    let inside = job.path.inside(&table.basis);
    let marks = outside(job, read, moved);
    let [Some(before), Some(after)] =
        [0, 1].map(|side| job.path.elements_before(given(read).get(side).map(|(id, _)| *id)?))
    else {
        return Least::default();
    };
    let (inlet, outlet) = (*inside.start(), *inside.end() + 1);
    let before_inlet = marks.iter().rfind(|mark| mark.passed <= inlet).filter(|_| before > inlet);
    let behind_outlet = marks.iter().find(|mark| mark.passed >= outlet).filter(|_| after < outlet);
    Least { before: before_inlet.map(|mark| -mark.pressure), after: behind_outlet.map(|mark| mark.pressure) }
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
    marks.sort_by_key(|mark| (mark.passed, mark.port.is_none(), mark.port));
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
    let mut contained = Pressure::ZERO;
    for index in from.passed..to.passed {
        let element = &job.path.elements[index];
        if job.set().parts_out.contains(&element.id) || element.kind == ElementKind::HeatExchanger {
            continue;
        }
        let is_inside = inside.contains(&index);
        match (at.known_drop(element, (job, table), through(&job.path, index, at), index < blower), is_inside) {
            (Some(known), true) => {
                contained += known;
                segment.inside.push(element.id);
            }
            (Some(known), false) => segment.know(element.id, known),
            (None, false) => segment.elements.push(element.id),
            (None, true) => {}
        }
    }
    segment.settle(contained)
}

/// The whole external path as one stretch, when no split by side is known.
fn whole(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Segment {
    let mut segment = Segment::new(true, at.tesp);
    let blower = job.path.blower().unwrap_or_default();
    for (index, element) in external(job, table) {
        match at.known_drop(element, (job, table), through(&job.path, index, at), index < blower) {
            Some(known) => segment.know(element.id, known),
            None => segment.elements.push(element.id),
        }
    }
    segment.settle(Pressure::ZERO)
}

/// Airflow through an element of the chain during the readings.
pub(super) fn through(path: &AirPath, index: usize, at: &ReadPoint<'_>) -> Airflow {
    at.airflow * path.share_through(index)
}
