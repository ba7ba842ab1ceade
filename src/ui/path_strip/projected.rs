//! The pressure line by parts: split as the shares have it, and as it would run with the changes.

use std::ops::Range;

use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::{Part, Route, flows};
use crate::model::verdicts::system::{Projection, Running};
use crate::ui::path_strip::line::{self, Basis, ReadPort, Stretch};
use crate::ui::path_strip::remarks::Remark;
use crate::units::{Airflow, Pressure};

/// Drop of every element of a path by its parts at an airflow; an unsplit part is spread over its elements in proportion to their width.
pub struct Drops {
    each: Vec<Pressure>,
}

impl Drops {
    /// Works them out; `within` are the boundaries of the jump, inside which nothing counts.
    pub fn of(
        job: &Job,
        parts: &[Part],
        airflow: Airflow,
        within: (usize, usize),
        width: impl Fn(usize) -> f32,
    ) -> Self {
        let path = &job.path;
        let rooms = flows::through(parts, Route::Rooms, airflow);
        let passing = |part: &Part| if part.route == Route::Rooms { rooms } else { airflow };
        let each = path.elements.iter().enumerate().map(|(index, element)| {
            let part = parts.iter().find(|part| part.elements.contains(&element.id));
            match part {
                Some(part) => {
                    let all: f32 = part.elements.iter().filter_map(|id| path.index_of(*id)).map(&width).sum();
                    part.drop_at(passing(part)) * f64::from(width(index) / all.max(1.0))
                }
                None if index < within.0 || index >= within.1 => inside_by_data(job, index, airflow),
                None => Pressure::ZERO,
            }
        });
        Self { each: each.collect() }
    }

    fn sum(&self, range: Range<usize>) -> Pressure {
        self.each[range].iter().copied().sum()
    }
}

/// ρ/ρ_table of a job with a machine.
fn tesp_ratio(job: &Job) -> f64 {
    job.machine.as_ref().map_or(1.0, |table| crate::model::path::tesp::density_ratio(job, table))
}

/// An inside element between a port and the table's plane falls by what was read across it, or by its data.
fn inside_by_data(job: &Job, index: usize, airflow: Airflow) -> Pressure {
    let element = job.path.elements.get(index).filter(|element| !job.set().parts_out.contains(&element.id));
    if let Some(read) = element.and_then(|element| job.set().across(element.id)) {
        return read;
    }
    let data = element.and_then(|element| line::data_of(element, job.machine.as_ref()));
    data.map_or(Pressure::ZERO, |data| data.in_air(airflow, tesp_ratio(job)))
}

/// The boundaries that the line jumps between; nothing while a side is not read.
pub fn jump(job: &Job, ports: &[ReadPort]) -> Option<(usize, usize)> {
    let before = ports.iter().rfind(|port| port.is_before)?;
    let after = ports.iter().find(|port| !port.is_before)?;
    Some(line::jump(&job.path, job.machine.as_ref(), before.boundary, after.boundary))
}

/// Pressure at each boundary, by the drops of the elements between; nothing where a part lies on both sides of the blower.
pub fn levels(job: &Job, parts: &[Part], drops: &Drops, jump: (usize, usize)) -> Option<Vec<(usize, Pressure)>> {
    let blower = job.path.blower()?;
    let is_before = |id: &ElementId| job.path.index_of(*id).is_some_and(|index| index < blower);
    if parts.iter().any(|part| part.elements.iter().any(is_before) != part.elements.iter().all(is_before)) {
        return None;
    }
    let end = job.path.elements.len();
    let before = (0..=jump.0).map(|boundary| (boundary, -drops.sum(0..boundary)));
    let after = (jump.1..=end).map(|boundary| (boundary, drops.sum(boundary..end)));
    Some(before.chain(after).collect())
}

/// Splits read stretches at their elements, where the path itself is split or a part of it was read across; the ends stay as they were read.
pub fn split(job: &Job, stretches: Vec<Stretch>, parts: &[Part], drops: &Drops) -> Vec<Stretch> {
    let is_read_across = job.path.elements.iter().any(|element| job.set().across(element.id).is_some());
    if !is_read_across && !parts.iter().any(|part| part.standing == PathStanding::Shared) {
        return stretches;
    }
    stretches.into_iter().flat_map(|stretch| split_one(stretch, drops)).collect()
}

fn split_one(stretch: Stretch, drops: &Drops) -> Vec<Stretch> {
    let (from, to) = (stretch.from, stretch.to);
    let whole = drops.sum(from.0..to.0);
    if stretch.basis != Basis::Read || whole <= Pressure::ZERO {
        return vec![stretch];
    }
    let fall = from.1 - to.1;
    let at = |boundary: usize| (boundary, from.1 - fall * (drops.sum(from.0..boundary) / whole));
    (from.0..to.0).map(|index| Stretch { from: at(index), to: at(index + 1), basis: Basis::Read }).collect()
}

/// True where the figures of two drops, to a hundredth, show that they differ.
pub fn differ(one: Pressure, other: Pressure) -> bool {
    (one - other).abs() >= Pressure::from_in_wc(0.005)
}

/// Several elements that a change joined into one part: their drop before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Joined {
    /// The elements beside each other that the caption stands under.
    pub elements: Range<usize>,
    /// Their drop as found.
    pub before: Pressure,
    /// Their drop with the changes.
    pub after: Pressure,
}

/// Writes into the remarks what is shared and what changes; gives the elements that a change joined.
pub fn remark(job: &Job, running: &Running, after: Option<&Projection>, remarks: &mut [Remark]) -> Vec<Joined> {
    for (index, element) in job.path.elements.iter().enumerate() {
        let Some(part) = running.system.parts.iter().find(|part| part.is(element.id)) else {
            continue;
        };
        let before = part.drop_at(part.flow);
        let is_read = matches!(remarks[index], Remark::Read(_) | Remark::Across(_));
        let is_shared = part.standing == PathStanding::Shared && !is_read;
        match (remarks[index], part.standing) {
            (Remark::Nothing, PathStanding::Shared) => remarks[index] = Remark::Shared(before),
            // What is known of its neighbours leaves it alone in its segment.
            (Remark::Nothing, PathStanding::Measured) => remarks[index] = Remark::Read(before),
            _ => {}
        }
        let changed = after.and_then(|after| {
            let then = after.system.parts.iter().find(|then| then.is(element.id))?;
            let airflow = flows::through(&after.system.parts, then.route, after.system.point()?.airflow);
            let (drop, is_touched) = (then.drop_at(airflow), then.curve() != part.curve());
            (is_touched || differ(before, drop)).then_some((drop, is_touched))
        });
        if let Some((after, is_touched)) = changed {
            remarks[index] = Remark::Changed { before, after, is_shared, is_touched };
        }
    }
    after.map(|after| joined(job, running, after, remarks)).unwrap_or_default()
}

fn joined(job: &Job, running: &Running, after: &Projection, remarks: &mut [Remark]) -> Vec<Joined> {
    let Some(airflow) = after.system.point().map(|point| point.airflow) else {
        return Vec::new();
    };
    let is_new = |part: &&Part| {
        part.elements.len() > 1 && !running.system.parts.iter().any(|before| before.elements == part.elements)
    };
    let parts = after.system.parts.iter().filter(is_new);
    parts
        .filter_map(|part| {
            let stood = running
                .system
                .parts
                .iter()
                .filter(|before| before.elements.iter().all(|id| part.elements.contains(id)));
            let before: Pressure = stood.map(|before| before.drop_at(before.flow)).sum();
            let then = part.drop_at(flows::through(&after.system.parts, part.route, airflow));
            let mut indexes: Vec<usize> = part.elements.iter().filter_map(|id| job.path.index_of(*id)).collect();
            indexes.sort_unstable();
            for index in &indexes {
                remarks[*index] = Remark::Joined { before, after: then };
            }
            let last = indexes.chunk_by(|one, next| one + 1 == *next).next_back()?;
            Some(Joined { elements: *last.first()?..last.last()? + 1, before, after: then })
        })
        .collect()
}

/// The part that takes most of the external drop as found, with its share; nothing where there is only one.
///
/// What lies between two readings is weighed as a whole first, as the readings have it; the part that is named is then the greatest in it, so that splitting one stretch moves the word to no other.
pub fn worst(job: &Job, running: &Running) -> Option<(Vec<ElementId>, f64)> {
    let ports = line::read_ports(job);
    let stretch_of = |part: &Part| {
        let first = part.elements.iter().filter_map(|id| job.path.index_of(*id)).min()?;
        Some(ports.iter().filter(|port| port.boundary <= first).count())
    };
    let parts: Vec<(&Part, usize, Pressure)> = running
        .system
        .parts
        .iter()
        .filter(|part| part.route != Route::Bypass)
        .filter_map(|part| Some((part, stretch_of(part)?, part.drop_at(part.flow))))
        .collect();
    let total: Pressure = parts.iter().map(|(.., drop)| *drop).sum();
    if parts.len() < 2 || total <= Pressure::ZERO {
        return None;
    }
    let taken =
        |stretch: usize| -> f64 { parts.iter().filter(|part| part.1 == stretch).map(|part| part.2.in_wc()).sum() };
    let worst = (0..=ports.len()).max_by(|one, other| taken(*one).total_cmp(&taken(*other)))?;
    let within = parts.iter().filter(|part| part.1 == worst);
    let most = within.max_by(|one, other| one.2.in_wc().total_cmp(&other.2.in_wc()))?;
    Some((most.0.elements.clone(), most.2 / total))
}

/// An element's share of the external drop as found, where it has a drop of its own.
pub fn share_of(running: &Running, id: ElementId) -> Option<f64> {
    let part = running.system.parts.iter().find(|part| part.is(id) && part.route != Route::Bypass)?;
    share_of_drop(running, part.drop_at(part.flow))
}

/// A drop over the external drop as found.
pub fn share_of_drop(running: &Running, drop: Pressure) -> Option<f64> {
    let total: Pressure = flows::total(&running.system.parts, running.now.airflow);
    (total > Pressure::ZERO).then(|| drop / total)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, apply};
    use crate::files::demo;
    use crate::model::answer::Answer;
    use crate::model::facts::air_path::ElementKind;
    use crate::model::facts::change::{ChangeKind, LessByHand};

    fn eased() -> Job {
        let mut job = demo::heat_pump();
        let duct = job.path.elements[1].id;
        apply(&mut job, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.5 }))).unwrap();
        job
    }

    fn close(one: Pressure, other: Pressure) -> bool {
        (one - other).abs().in_wc() < 1e-9
    }

    #[test]
    fn the_line_with_changes_jumps_by_the_static_with_changes() {
        let job = eased();
        let answer = Answer::of(&job);
        let after = answer.with_changes().unwrap();
        let point = after.system.point().unwrap();
        let jump = jump(&job, &line::read_ports(&job)).unwrap();
        let drops = Drops::of(&job, &after.system.parts, point.airflow, jump, |_| 50.0);
        let levels = levels(&job, &after.system.parts, &drops, jump).unwrap();
        let at = |boundary| levels.iter().find(|level| level.0 == boundary).unwrap().1;
        assert!(close(at(jump.1) - at(jump.0), point.tesp), "{levels:?}");
        assert!(close(at(0), Pressure::ZERO) && close(at(job.path.elements.len()), Pressure::ZERO));
    }

    #[test]
    fn a_split_stretch_keeps_the_reading_at_its_end() {
        let job = eased();
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        let ports = line::read_ports(&job);
        let drops = Drops::of(&job, &running.system.parts, running.now.airflow, jump(&job, &ports).unwrap(), |_| 50.0);
        let whole = line::stretches(&job, &answer, &ports);
        let split = split(&job, whole.clone(), &running.system.parts, &drops);
        assert!(split.len() > whole.len());
        for pair in split.windows(2) {
            assert!(pair[0].to.0 == pair[1].from.0 && close(pair[0].to.1, pair[1].from.1), "{split:?}");
        }
        for port in &ports {
            assert!(
                split.iter().any(|stretch| stretch.from.0 == port.boundary && close(stretch.from.1, port.reading)),
                "{port:?}"
            );
        }
    }

    #[test]
    fn only_what_was_changed_is_marked_and_the_worst_is_found() {
        let job = eased();
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        let mut remarks = vec![Remark::Nothing; job.path.elements.len()];
        let joined = remark(&job, running, answer.with_changes(), &mut remarks);
        assert!(joined.is_empty());
        let changed: Vec<usize> =
            (0..remarks.len()).filter(|i| matches!(remarks[*i], Remark::Changed { is_touched: true, .. })).collect();
        assert_eq!(changed, [1]);
        // More air passes the other parts, and what they drop then is told too.
        let then = |index: usize| match remarks[index] {
            Remark::Changed { before, after, is_touched: false, .. } => after > before,
            Remark::Shared(_) | Remark::Nothing => true,
            _ => false,
        };
        assert!(then(0) && then(2), "{remarks:?}");
        // The return side takes most as read, so the part that does is looked for there, split or not.
        let whole = demo::heat_pump();
        for (job, parts) in [(&job, 1), (&whole, 3)] {
            let answer = Answer::of(job);
            let running = answer.point().unwrap();
            assert!(running.return_side.unwrap() > running.supply_side.unwrap());
            let (worst, share) = worst(job, running).unwrap();
            let blower = job.path.elements.iter().position(|element| element.kind == ElementKind::Blower).unwrap();
            let before = &job.path.elements[..blower];
            assert!(worst.len() == parts && worst.iter().all(|id| before.iter().any(|e| e.id == *id)), "{worst:?}");
            let greatest = before.iter().filter_map(|element| share_of(running, element.id)).fold(0.0, f64::max);
            assert!(share >= greatest, "{share} {greatest}");
        }
    }
}
