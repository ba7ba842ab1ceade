//! The pressure line through the air path: which stretches of it are read, which are by data, and where it jumps.

use std::ops::Range;

use crate::model::answer::Answer;
use crate::model::facts::air_path::AirPath;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::read_ports::ReadPort;
use crate::units::Pressure;

/// What a stretch of the line rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Both ends were read; nothing is said about where between them the pressure falls.
    Read,
    /// The fall over one element by its data, at the answer's airflow.
    ByData,
    /// The rise that the blower makes against everything inside the table's planes.
    Jump,
}

/// A straight stretch of the line, from one element boundary to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Boundary and pressure where it begins.
    pub from: (usize, Pressure),
    /// Boundary and pressure where it ends.
    pub to: (usize, Pressure),
    /// What it rests on.
    pub basis: Basis,
}

/// The elements between two neighbouring read places, outside the machine, and their drop together.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Indexes of its elements.
    pub elements: Range<usize>,
    /// Its drop; negative where the pressure rises along the flow.
    pub drop: Pressure,
    /// Pressure at the end that is not the room's, which says on which side of the room line it runs.
    pub level: Pressure,
}

/// The read segments outside the machine, in flow order.
pub fn segments(job: &Job, ports: &[ReadPort]) -> Vec<Segment> {
    let end = job.path.elements.len();
    let mut segments = Vec::new();
    let mut add = |from: (usize, Pressure), to: (usize, Pressure), level| {
        if from.0 < to.0 {
            segments.push(Segment { elements: from.0..to.0, drop: from.1 - to.1, level });
        }
    };
    let mut here = (0, Pressure::ZERO);
    for port in ports.iter().filter(|port| port.is_before) {
        add(here, (port.boundary, port.reading), port.reading);
        here = (port.boundary, port.reading);
    }
    let after: Vec<&ReadPort> = ports.iter().filter(|port| !port.is_before).collect();
    for (index, port) in after.iter().enumerate() {
        let next = after.get(index + 1).map_or((end, Pressure::ZERO), |next| (next.boundary, next.reading));
        add((port.boundary, port.reading), next, port.reading);
    }
    segments
}

/// Boundaries between which the pressure jumps: the table's planes, or the ports where they stand inside them.
pub fn jump(path: &AirPath, table: Option<&BlowerTable>, before: usize, after: usize) -> (usize, usize) {
    let basis = table.map(|table| table.basis).unwrap_or_default();
    let inside = path.inside(&basis);
    (before.max(*inside.start()), after.min(*inside.end() + 1))
}

/// The whole line, in flow order; where a side is not read, the line is not drawn.
pub fn stretches(job: &Job, answer: &Answer, ports: &[ReadPort]) -> Vec<Stretch> {
    let mut line: Vec<Stretch> =
        segments(job, ports).iter().flat_map(|segment| through_segment(job, segment)).collect();
    let before = ports.iter().rfind(|port| port.is_before);
    let after = ports.iter().find(|port| !port.is_before);
    if let (Some(before), Some(after)) = (before, after) {
        line.extend(through_machine(job, answer, before, after));
        line.sort_by_key(|stretch| stretch.from.0);
    }
    line
}

/// Straight over the elements that the air passes; flat where a part was out at either end.
fn through_segment(job: &Job, segment: &Segment) -> Vec<Stretch> {
    let Range { start, end } = segment.elements;
    let is_before = job.path.blower().is_some_and(|blower| end <= blower);
    let (from, to) = if is_before {
        (segment.level + segment.drop, segment.level)
    } else {
        (segment.level, segment.level - segment.drop)
    };
    let is_out = |index: &usize| job.set().parts_out.contains(&job.path.elements[*index].id);
    // With every part out, a drop that was read all the same falls over the whole.
    let first = (start..end).find(|index| !is_out(index)).unwrap_or(start);
    let last = (start..end).rfind(|index| !is_out(index)).map_or(end, |index| index + 1);
    [((start, from), (first, from)), ((first, from), (last, to)), ((last, to), (end, to))]
        .into_iter()
        .filter(|(from, to)| from.0 < to.0)
        .map(|(from, to)| Stretch { from, to, basis: Basis::Read })
        .collect()
}

/// From the last port before the blower to the first one after it: falls by data or as read across a part, and the jump.
fn through_machine(job: &Job, answer: &Answer, before: &ReadPort, after: &ReadPort) -> Vec<Stretch> {
    let drop = |index: usize| drop_of(job, answer, index);
    let is_read = |index: usize| job.path.elements.get(index).is_some_and(|part| job.set().across(part.id).is_some());
    let fall = |index: usize| if is_read(index) { Basis::Read } else { Basis::ByData };
    let (rise_from, rise_to) = jump(&job.path, job.machine.as_ref(), before.boundary, after.boundary);
    let mut line = Vec::new();
    let mut level = before.reading;
    for index in before.boundary..rise_from {
        let next = level - drop(index);
        line.push(Stretch { from: (index, level), to: (index + 1, next), basis: fall(index) });
        level = next;
    }
    let outside: Pressure = (rise_to..after.boundary).map(drop).sum();
    let mut high = after.reading + outside;
    line.push(Stretch { from: (rise_from, level), to: (rise_to, high), basis: Basis::Jump });
    for index in rise_to..after.boundary {
        let next = high - drop(index);
        line.push(Stretch { from: (index, high), to: (index + 1, next), basis: fall(index) });
        high = next;
    }
    line
}

/// What an element takes by the answer; before there is one, what was read across it.
fn drop_of(job: &Job, answer: &Answer, index: usize) -> Pressure {
    let Some(element) = job.path.elements.get(index) else {
        return Pressure::ZERO;
    };
    let profile = answer.point().and_then(|running| running.system.profile.as_ref());
    let is_there = !job.set().parts_out.contains(&element.id);
    let read = || job.set().across(element.id).filter(|_| is_there);
    profile.map_or_else(read, |profile| profile.drop(element.id)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, apply};
    use crate::files::demo;
    use crate::model::facts::air_path::RETURN_PORT;
    use crate::model::facts::air_path::SUPPLY_PORT;
    use crate::model::facts::air_path::{Bypass, ElementId};
    use crate::model::facts::drop_data::DropData;
    use crate::model::facts::read_ports::read_ports;
    use crate::model::facts::readings::ReadAt;
    use crate::model::path::parts::flows;
    use crate::units::Airflow;

    fn in_wc(stretch: &Stretch) -> (f64, f64) {
        (stretch.from.1.in_wc(), stretch.to.1.in_wc())
    }

    fn line_of(job: &Job) -> Vec<Stretch> {
        stretches(job, &Answer::of(job), &read_ports(job))
    }

    fn is_joined(line: &[Stretch]) -> bool {
        line.windows(2)
            .all(|pair| pair[0].to.0 == pair[1].from.0 && (pair[0].to.1 - pair[1].from.1).abs().in_wc() < 1e-12)
    }

    #[test]
    fn the_line_starts_and_ends_at_the_room_and_passes_the_readings() {
        let job = demo::heat_pump();
        let line = line_of(&job);
        let ends: Vec<(f64, f64)> = line.iter().map(in_wc).collect();
        let expected = [(0.0, -0.52), (-0.52, 0.31), (0.31, 0.0)];
        assert_eq!(line.len(), expected.len(), "{line:?}");
        for (end, wanted) in ends.iter().zip(expected) {
            assert!((end.0 - wanted.0).abs() < 1e-12 && (end.1 - wanted.1).abs() < 1e-12, "{ends:?}");
        }
        assert!(is_joined(&line));
    }

    #[test]
    fn a_filter_between_port_and_plane_falls_by_its_data() {
        let mut job = demo::heat_pump();
        apply(&mut job, Edit::MovePort(RETURN_PORT, ElementId(2))).unwrap();
        let airflow = Answer::of(&job).point().unwrap().now.airflow;
        let data = DropData::at(airflow, Pressure::from_in_wc(0.2), 2.0).unwrap();
        apply(&mut job, Edit::ElementDrop(ElementId(3), Some(data.clone()))).unwrap();
        let answer = Answer::of(&job);
        let line = line_of(&job);
        let by_data: Vec<&Stretch> = line.iter().filter(|stretch| stretch.basis == Basis::ByData).collect();
        assert_eq!(by_data.len(), 1, "{line:?}");
        let air = crate::model::path::air::over_standard(&job.set().air, answer.blower().air.density);
        let expected = data.in_air(air).at_airflow(answer.point().unwrap().now.airflow);
        assert!((by_data[0].from.1 - by_data[0].to.1 - expected).abs().in_wc() < 1e-12);
        let jump = line.iter().find(|stretch| stretch.basis == Basis::Jump).unwrap();
        assert!(
            (jump.to.1 - jump.from.1 - answer.point().unwrap().now.tesp).abs().in_wc() < 1e-9,
            "the jump is the total"
        );
        assert!(is_joined(&line));
    }

    #[test]
    fn past_a_bypass_a_part_falls_by_the_air_that_passes_it_and_the_jump_is_the_total() {
        let mut job = demo::heat_pump();
        let (duct, filter) = (ElementId(2), ElementId(3));
        let supply = job.path.elements[job.path.blower().unwrap() + 1].id;
        apply(&mut job, Edit::MovePort(RETURN_PORT, duct)).unwrap();
        let data = DropData::at(Airflow::from_cfm(1250.0), Pressure::from_in_wc(0.2), 1.2).unwrap();
        apply(&mut job, Edit::ElementDrop(filter, Some(data))).unwrap();
        let bypass = Bypass { id: ElementId(90), leaves_after: supply, joins_after: filter, flow: 0.3 };
        apply(&mut job, Edit::Bypass(Some(bypass))).unwrap();
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        let told = flows::at_element(&running.system.parts, filter, running.now.airflow).unwrap().1;
        let line = line_of(&job);
        let fall = line.iter().find(|stretch| stretch.basis == Basis::ByData).unwrap();
        assert!((fall.from.1 - fall.to.1 - told).abs().in_wc() < 1e-9, "{fall:?}, the answer says {told:?}");
        let jump = line.iter().find(|stretch| stretch.basis == Basis::Jump).unwrap();
        assert!((jump.to.1 - jump.from.1 - running.now.tesp).abs().in_wc() < 1e-9, "{jump:?}, {:?}", running.now.tesp);
    }

    #[test]
    fn nothing_falls_over_a_part_that_was_out() {
        let mut job = demo::heat_pump();
        apply(&mut job, Edit::PartOut(ElementId(1), true)).unwrap();
        let line = line_of(&job);
        assert_eq!((line[0].from, line[0].to), ((0, Pressure::ZERO), (1, Pressure::ZERO)));
        assert!((line[1].to.1.in_wc() + 0.52).abs() < 1e-12);
        assert!(is_joined(&line));
    }

    #[test]
    fn one_reading_draws_its_own_side_alone() {
        let mut job = demo::heat_pump();
        apply(&mut job, Edit::Reading(ReadAt::Port(SUPPLY_PORT), Vec::new())).unwrap();
        let line = line_of(&job);
        assert_eq!(line.len(), 1);
        assert_eq!(line[0].from, (0, Pressure::ZERO));
    }

    #[test]
    fn a_lone_element_is_a_segment_of_its_own() {
        let mut job = demo::heat_pump();
        apply(&mut job, Edit::MovePort(RETURN_PORT, ElementId(1))).unwrap();
        let segments = segments(&job, &read_ports(&job));
        assert_eq!(segments[0].elements, 0..1);
        assert!((segments[0].drop.in_wc() - 0.52).abs() < 1e-12);
    }
}
