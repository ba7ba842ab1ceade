//! The pressure line by parts: split as the shares have it, and as it would run with the changes.

use std::ops::Range;

use crate::model::facts::air_path::ElementId;
use crate::model::facts::job::Job;
use crate::model::facts::read_ports::ReadPort;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::along::{Along, Profile};
use crate::model::verdicts::system::{self, Projection, Running};
use crate::ui::path_strip::line::{self, Basis, Stretch};
use crate::ui::path_strip::remarks::Remark;
use crate::units::{Airflow, Pressure};

/// Drop of every element of the chain, as the answer has it; what several take together is spread over them in proportion to their width.
pub struct Drops {
    each: Vec<Pressure>,
}

impl Drops {
    /// Lays them out; `within` are the boundaries of the jump, inside which nothing counts.
    pub fn of(job: &Job, profile: &Profile, within: (usize, usize), width: impl Fn(usize) -> f32) -> Self {
        let path = &job.path;
        let each = path.elements.iter().enumerate().map(|(index, element)| {
            if let Some((ids, drop)) = profile.together.iter().find(|(ids, _)| ids.contains(&element.id)) {
                let all: f32 = ids.iter().filter_map(|id| path.index_of(*id)).map(&width).sum();
                return *drop * f64::from(width(index) / all.max(1.0));
            }
            let is_outside = index < within.0 || index >= within.1;
            let along = profile.at(element.id).filter(|along| is_outside || along.standing.is_some());
            along.and_then(|along| along.drop).unwrap_or_default()
        });
        Self { each: each.collect() }
    }

    fn sum(&self, range: Range<usize>) -> Pressure {
        self.each[range].iter().copied().sum()
    }
}

/// The boundaries that the line jumps between; nothing while a side is not read.
pub fn jump(job: &Job, ports: &[ReadPort]) -> Option<(usize, usize)> {
    let before = ports.iter().rfind(|port| port.is_before)?;
    let after = ports.iter().find(|port| !port.is_before)?;
    Some(line::jump(&job.path, job.machine.as_ref(), before.boundary, after.boundary))
}

/// Pressure at each boundary, by the drops of the elements between; nothing where a part lies on both sides of the blower.
pub fn levels(job: &Job, profile: &Profile, drops: &Drops, jump: (usize, usize)) -> Option<Vec<(usize, Pressure)>> {
    let blower = job.path.blower()?;
    let is_before = |id: &ElementId| job.path.index_of(*id).is_some_and(|index| index < blower);
    if profile.together.iter().any(|(ids, _)| ids.iter().any(is_before) != ids.iter().all(is_before)) {
        return None;
    }
    let end = job.path.elements.len();
    let before = (0..=jump.0).map(|boundary| (boundary, -drops.sum(0..boundary)));
    let after = (jump.1..=end).map(|boundary| (boundary, drops.sum(boundary..end)));
    Some(before.chain(after).collect())
}

/// Splits read stretches at their elements, where the path itself is split or a part of it was read across; the ends stay as they were read.
pub fn split(job: &Job, stretches: Vec<Stretch>, profile: &Profile, drops: &Drops) -> Vec<Stretch> {
    let is_read_across = job.path.elements.iter().any(|element| job.set().across(element.id).is_some());
    if !is_read_across && !profile.elements.iter().any(|along| along.standing == Some(PathStanding::Shared)) {
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

/// Elements beside each other that a change joined, with the caption under them.
#[derive(Clone, Debug, PartialEq)]
pub struct Joined {
    /// Their indexes.
    pub elements: Range<usize>,
    /// Their drop as found.
    pub before: Pressure,
    /// Their drop with the changes.
    pub after: Pressure,
}

/// Writes into the remarks what is shared and what changes; gives the elements that a change joined.
pub fn remark(job: &Job, running: &Running, after: Option<&Projection>, remarks: &mut [Remark]) -> Vec<Joined> {
    let Some(profile) = &running.system.profile else {
        return Vec::new();
    };
    for (index, element) in job.path.elements.iter().enumerate() {
        let Some(Along { drop: Some(before), standing, airflow, .. }) = profile.at(element.id).copied() else {
            continue;
        };
        let Some(standing) = standing else {
            // Of what the table contains only a change on it is told.
            let then = after.filter(|after| after.touched.contains(&element.id));
            if let Some(Along { drop: Some(after), airflow: air_then, .. }) =
                then.and_then(|after| after.system.profile.as_ref()?.at(element.id).copied())
            {
                let airflows = (airflow, air_then);
                remarks[index] = Remark::Changed { before, after, airflows, is_shared: false, is_touched: true };
            }
            continue;
        };
        let is_read = matches!(remarks[index], Remark::Read(_) | Remark::Across(_));
        let is_shared = standing == PathStanding::Shared && !is_read;
        match (remarks[index], standing) {
            (Remark::Nothing, PathStanding::Shared) => remarks[index] = Remark::Shared(before),
            // What is known of its neighbours leaves it alone in its segment.
            (Remark::Nothing, PathStanding::Measured) => remarks[index] = Remark::Read(before),
            (Remark::Nothing, PathStanding::Assumed)
            | (
                Remark::Out
                | Remark::Read(_)
                | Remark::Across(_)
                | Remark::Leaks { .. }
                | Remark::ByData(_)
                | Remark::NoData
                | Remark::Inside
                | Remark::Shared(_)
                | Remark::Changed { .. }
                | Remark::Joined { .. },
                _,
            ) => {}
        }
        if let Some((after, air_then, is_touched)) = after.and_then(|after| then(after, element.id, before)) {
            let airflows = (airflow, air_then);
            remarks[index] = Remark::Changed { before, after, airflows, is_shared, is_touched };
        }
    }
    after.map(|after| joined(job, after, remarks)).unwrap_or_default()
}

/// An element's drop with the changes, the air through it then, and whether a change is on it; nothing where neither tells.
pub fn then(after: &Projection, id: ElementId, before: Pressure) -> Option<(Pressure, Airflow, bool)> {
    let along = after.system.profile.as_ref()?.part(id)?;
    let (drop, is_touched) = (along.drop?, after.touched.contains(&id));
    (is_touched || differ(before, drop)).then_some((drop, along.airflow, is_touched))
}

fn joined(job: &Job, projected: &Projection, remarks: &mut [Remark]) -> Vec<Joined> {
    let parts = projected.joined.iter();
    parts
        .filter_map(|&system::Joined { ref elements, before, after }| {
            let mut indexes: Vec<usize> = elements.iter().filter_map(|id| job.path.index_of(*id)).collect();
            indexes.sort_unstable();
            for index in &indexes {
                remarks[*index] = Remark::Joined { before, after };
            }
            let last = indexes.chunk_by(|one, next| one + 1 == *next).next_back()?;
            Some(Joined { elements: *last.first()?..last.last()? + 1, before, after })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Edit, apply};
    use crate::files::demo;
    use crate::model::answer::Answer;
    use crate::model::change::kinds::other_machine::replacement;
    use crate::model::facts::air_path::ElementKind;
    use crate::model::facts::blower::PartInTest;
    use crate::model::facts::change::{ChangeKind, FilterLoading, LessByHand};
    use crate::model::facts::drop_data::DropData;
    use crate::model::facts::read_ports::read_ports;

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
    fn a_change_on_a_part_that_the_table_contains_is_told_at_its_place() {
        let mut job = demo::heat_pump();
        let filter = job.path.first(ElementKind::Filter).unwrap().id;
        let table = job.machine.as_mut().unwrap();
        table.basis.filter = PartInTest::Included;
        let drop = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), 1.0).unwrap();
        table.corrections.filter_as_tested = Some(drop);
        let load = FilterLoading { element: filter, factor: 2.0 };
        apply(&mut job, Edit::AddChange(ChangeKind::FilterLoading(load))).unwrap();
        let answer = Answer::of(&job);
        let mut remarks = vec![Remark::Inside; job.path.elements.len()];
        remark(&job, answer.point().unwrap(), answer.with_changes(), &mut remarks);
        let index = job.path.index_of(filter).unwrap();
        let Remark::Changed { before, after, is_touched: true, .. } = remarks[index] else { panic!("{remarks:?}") };
        let now = answer.point().unwrap().now.airflow;
        let then = answer.with_changes().unwrap().system.point().unwrap().airflow;
        // Laminar, and twice as much then: by the airflows alone.
        assert!((after / before - 2.0 * (then / now)).abs() < 1e-9, "{before:?} {after:?}");
    }

    #[test]
    fn what_leaves_with_the_old_machine_is_told_as_nothing_at_its_place() {
        let mut job = demo::gas_furnace();
        let filter = job.path.first(ElementKind::Filter).unwrap().id;
        let mut new = replacement(&job, job.machine.clone().unwrap());
        new.table.basis.filter = PartInTest::Included;
        new.leaves = vec![filter];
        apply(&mut job, Edit::AddChange(ChangeKind::OtherMachine(Box::new(new)))).unwrap();
        let answer = Answer::of(&job);
        let mut remarks = vec![Remark::Nothing; job.path.elements.len()];
        remark(&job, answer.point().unwrap(), answer.with_changes(), &mut remarks);
        let told = remarks[job.path.index_of(filter).unwrap()];
        assert!(matches!(told, Remark::Changed { after: Pressure::ZERO, is_touched: true, .. }), "{told:?}");
    }

    #[test]
    fn the_line_with_changes_jumps_by_the_static_with_changes() {
        let job = eased();
        let answer = Answer::of(&job);
        let after = answer.with_changes().unwrap();
        let point = after.system.point().unwrap();
        let jump = jump(&job, &read_ports(&job)).unwrap();
        let drops = Drops::of(&job, after.system.profile.as_ref().unwrap(), jump, |_| 50.0);
        let levels = levels(&job, after.system.profile.as_ref().unwrap(), &drops, jump).unwrap();
        let at = |boundary| levels.iter().find(|level| level.0 == boundary).unwrap().1;
        assert!(close(at(jump.1) - at(jump.0), point.tesp), "{levels:?}");
        assert!(close(at(0), Pressure::ZERO) && close(at(job.path.elements.len()), Pressure::ZERO));
    }

    #[test]
    fn a_split_stretch_keeps_the_reading_at_its_end() {
        let job = eased();
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        let ports = read_ports(&job);
        let profile = running.system.profile.as_ref().unwrap();
        let drops = Drops::of(&job, profile, jump(&job, &ports).unwrap(), |_| 50.0);
        let whole = line::stretches(&job, &answer, &ports);
        let split = split(&job, whole.clone(), profile, &drops);
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
            let (worst, share) = running.system.most.clone().unwrap();
            let blower = job.path.elements.iter().position(|element| element.kind == ElementKind::Blower).unwrap();
            let before = &job.path.elements[..blower];
            assert!(worst.len() == parts && worst.iter().all(|id| before.iter().any(|e| e.id == *id)), "{worst:?}");
            let greatest = before
                .iter()
                .filter_map(|element| running.system.profile.as_ref().unwrap().share(element.id))
                .fold(0.0, f64::max);
            assert!(share >= greatest, "{share} {greatest}");
        }
    }
}
