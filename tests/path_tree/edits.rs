//! Edits of the chain: each either leaves a sound path or says why not and changes nothing; nothing is lost, and undo brings everything back.

use super::house::*;
use tapcross::edit::{self, Direction, Edit};
use tapcross::history::History;
use tapcross::model::facts::air_path::chain::{Beside, CAN_BE_ADDED};
use tapcross::model::facts::air_path::{
    AirPath, Bypass, Element, ElementId, ElementKind, PortId, RETURN_PORT, Whereabouts,
};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;

/// Numbers that look random and are the same every time (the multiplier and increment of Knuth's MMIX).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn bits(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        u32::try_from(self.0 >> 32).expect("half of it")
    }

    pub(crate) fn below(&mut self, count: usize) -> usize {
        self.bits() as usize % count
    }

    pub(crate) fn next(&mut self) -> f64 {
        f64::from(self.bits()) / f64::from(u32::MAX)
    }

    pub(crate) fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }
}

/// Any edit of the path, on elements that are there (and now and then on one that is not).
pub(crate) fn any_edit(dice: &mut Dice, path: &AirPath) -> Edit {
    let mut ids: Vec<ElementId> = path.all().iter().map(|element| element.id).collect();
    ids.push(ElementId(999));
    let groups: Vec<ElementId> =
        path.all().iter().filter(|element| element.is_group()).map(|element| element.id).collect();
    let id = dice.one_of(&ids);
    let list: Vec<ElementId> =
        path.list_of(id).map_or_else(|| ids.clone(), |(list, _)| list.iter().map(|element| element.id).collect());
    let group = if groups.is_empty() { id } else { dice.one_of(&groups) };
    let ports: Vec<PortId> = path.ports.iter().map(|port| port.id).chain([PortId(99)]).collect();
    match dice.below(16) {
        0 => Edit::AddElement(dice.one_of(&CAN_BE_ADDED), Beside::Before(id)),
        1 => Edit::AddElement(dice.one_of(&CAN_BE_ADDED), Beside::After(id)),
        2 => Edit::RemoveElement(id),
        3 => Edit::ShiftElement(id, Direction::Later),
        4 => Edit::ShiftElement(id, Direction::Earlier),
        5 | 6 => Edit::LayBeside(id, dice.one_of(&list)),
        7 => Edit::AddWay(group),
        8 | 9 => Edit::RemoveWay(group, dice.below(4)),
        10 => Edit::AddLeak(id, dice.next()),
        11 => Edit::AddPort(id),
        12 => Edit::MovePort(dice.one_of(&ports), id),
        13 => Edit::RemovePort(dice.one_of(&ports)),
        14 => Edit::WayFlow(group, dice.below(3), (dice.below(3) > 0).then(|| dice.next() * 0.6)),
        _ => Edit::Bypass((dice.below(4) > 0).then(|| Bypass {
            id: path.next_element(),
            leaves_after: dice.one_of(&ids),
            joins_after: dice.one_of(&ids),
            flow: dice.next() * 0.8,
        })),
    }
}

fn ids(path: &AirPath) -> Vec<ElementId> {
    path.all().iter().map(|element| element.id).collect()
}

/// Elements that an edit may take away.
fn may_go(path: &AirPath, edit: &Edit) -> Vec<ElementId> {
    let all = |elements: &[Element]| -> Vec<ElementId> {
        elements.iter().flat_map(Element::all).map(|element| element.id).collect()
    };
    let mut gone = match edit {
        Edit::RemoveElement(id) => path.element(*id).map(|element| all(std::slice::from_ref(element))),
        Edit::RemoveWay(group, way) => {
            path.element(*group).and_then(|group| Some(all(&group.ways.get(*way)?.elements)))
        }
        _ => None,
    }
    .unwrap_or_default();
    // What dissolves with them: groups of one way.
    if !gone.is_empty() {
        gone.extend(path.all().iter().filter(|element| element.is_group()).map(|element| element.id));
    }
    gone
}

/// Two thousand edits in forty runs: after each one that is taken the path is sound, ports stand on their side, at one place each, in flow order, and nothing else is gone.
#[test]
fn every_edit_leaves_a_sound_path_or_the_old_one() {
    let (mut taken, mut refused) = (0, 0);
    let mut labels = std::collections::BTreeMap::new();
    for run in 0..60 {
        let mut dice = Dice(run);
        let mut history = History::of_saved(furnace());
        let mut snapshots: Vec<Job> = vec![history.job().clone()];
        for _ in 0..40 {
            let before = history.job().clone();
            let edit = any_edit(&mut dice, &before.path);
            let told = format!("run {run}: {edit:?} on {:#?}", before.path);
            let allowed = edit::check(&before, &edit);
            if let Err(sentence) = history.apply(edit.clone()) {
                refused += 1;
                assert_eq!(history.job(), &before, "{told}");
                assert_eq!(allowed, Err(sentence.clone()), "{told}");
                let sentence = sentence.to_string();
                assert!(sentence.len() > 15 && !sentence.contains('\n'), "{sentence}");
                assert!(!sentence.contains("which the air path does not have"), "{sentence}\n{told}");
                continue;
            }
            taken += 1;
            *labels.entry(edit.label().split(' ').next().unwrap_or_default().to_owned()).or_insert(0) += 1;
            let job = history.job();
            assert_eq!(allowed, Ok(()), "{told}");
            sound(job, &told);
            kept(&before, job, &edit, &told);
            if *job != before {
                snapshots.push(job.clone());
            }
        }
        while history.job() != &snapshots[0] {
            assert_eq!(Some(history.job()), snapshots.last(), "run {run}");
            snapshots.pop();
            assert!(history.undo().is_some(), "run {run}: nothing to undo, {} left", snapshots.len());
        }
    }
    assert!(taken > 400 && refused > 400, "{taken} taken, {refused} refused");
    assert!(labels.len() >= 8, "{labels:?}");
}

fn sound(job: &Job, told: &str) {
    let path = &job.path;
    assert_eq!(path.problem(), None, "{told}");
    let places: Vec<ElementId> = path.ports.iter().map(|port| port.after).collect();
    for (index, place) in places.iter().enumerate() {
        assert!(!places[..index].contains(place), "two ports after {place:?}: {told}");
    }
    for before in [true, false] {
        let chain = path.ports.iter().filter(|port| path.index_of(port.after).is_some());
        let on_side = chain.filter(|port| path.is_before_blower(port.id) == Some(before)).count();
        assert!(on_side >= 1, "no port of the chain is left on a side: {told}\n{path:#?}");
    }
    // Flow order: a port behind ways comes after the ports within them.
    let exits = exits(&path.elements);
    let order: Vec<usize> =
        places.iter().map(|place| exits.iter().position(|id| id == place).expect("an exit")).collect();
    assert!(order.is_sorted(), "{order:?}: {told}\n{path:#?}");
}

/// Elements in the order in which the air leaves them.
fn exits(list: &[Element]) -> Vec<ElementId> {
    let one = |element: &Element| {
        let within = element.ways.iter().flat_map(|way| exits(&way.elements));
        within.chain([element.id]).collect::<Vec<_>>()
    };
    list.iter().flat_map(one).collect()
}

fn kept(before: &Job, after: &Job, edit: &Edit, told: &str) {
    let gone = may_go(&before.path, edit);
    for id in ids(&before.path) {
        let there = after.path.element(id);
        assert!(there.is_some() || gone.contains(&id), "{id:?} is lost: {told}\n{:#?}", after.path);
    }
    for port in &before.path.ports {
        let removed = matches!(edit, Edit::RemovePort(id) if *id == port.id);
        let there = after.path.port(port.id);
        assert!(there.is_some() != removed, "port {:?}: {told}", port.id);
        if there.is_some() {
            assert_eq!(
                before.path.is_before_blower(port.id),
                after.path.is_before_blower(port.id),
                "port {:?} has changed sides: {told}",
                port.id
            );
        }
    }
    for reading in &before.set().readings {
        let is_gone = match reading.at {
            ReadAt::Port(id) => after.path.port(id).is_none(),
            ReadAt::Across(id) => after.path.element(id).is_none(),
            ReadAt::Total => false,
        };
        assert!(is_gone || after.set().readings.contains(reading), "a reading is lost: {told}");
    }
}

/// A port stays where it is while elements move about it: what the air has passed before it is the same, less or more only the one that moved.
#[test]
fn ports_keep_their_place_when_elements_move() {
    let mut job = furnace();
    let port = read_after(&mut job, ElementId(2), -0.18);
    let place = |job: &Job| job.path.elements_before(port);
    let before = place(&job);
    edit::apply(&mut job, Edit::ShiftElement(GRILLE, Direction::Later)).expect("grille and duct change places");
    assert_eq!(place(&job), before);
    assert_eq!(job.path.port(port).expect("the port").after, GRILLE);
    edit::apply(&mut job, Edit::AddElement(ElementKind::AirCleaner, Beside::Before(GRILLE))).expect("a cleaner");
    assert_eq!(place(&job), before.map(|passed| passed + 1));
    edit::apply(&mut job, Edit::AddElement(ElementKind::AirCleaner, Beside::After(GRILLE))).expect("a cleaner");
    assert_eq!(job.path.port(port).expect("the port").after, GRILLE, "what comes behind a port stands behind it");
}

#[test]
fn a_way_beside_and_away_again_is_the_path_as_it_was() {
    let first = furnace();
    for (from, to) in [(GRILLE, ElementId(2)), (SUPPLY, REGISTERS), (SUPPLY, SUPPLY), (COIL, COIL)] {
        let mut job = first.clone();
        edit::apply(&mut job, Edit::LayBeside(from, to)).expect("a way beside");
        let group = job.path.first(ElementKind::SideBySide).expect("a group").id;
        edit::apply(&mut job, Edit::RemoveWay(group, 1)).expect("and away");
        assert_eq!(job, first, "{from:?} to {to:?}");
    }
}

/// The same where a port stands behind the ways: it stays behind what is left of them.
#[test]
fn a_port_behind_ways_stays_behind_what_is_left_of_them() {
    let mut first = furnace();
    move_port(&mut first, RETURN_PORT, ElementId(2));
    let mut job = first.clone();
    edit::apply(&mut job, Edit::LayBeside(GRILLE, ElementId(2))).expect("a way beside");
    let group = job.path.first(ElementKind::SideBySide).expect("a group").id;
    assert_eq!(job.path.port(RETURN_PORT).expect("the port").after, group);
    edit::apply(&mut job, Edit::RemoveWay(group, 1)).expect("and away");
    assert_eq!(job, first);
    // The same by taking out the elements of a way one by one.
    edit::apply(&mut job, Edit::LayBeside(GRILLE, ElementId(2))).expect("a way beside");
    let group = job.path.first(ElementKind::SideBySide).expect("a group").clone();
    for element in &group.ways[1].elements {
        edit::apply(&mut job, Edit::RemoveElement(element.id)).expect("out");
    }
    assert_eq!(job, first);
}

#[test]
fn a_bypass_keeps_its_ends_when_ways_dissolve() {
    let mut job = furnace();
    edit::apply(&mut job, Edit::LayBeside(GRILLE, ElementId(2))).expect("a way beside");
    let group = job.path.first(ElementKind::SideBySide).expect("a group").id;
    let bypass = Bypass { id: ElementId(50), leaves_after: COIL, joins_after: group, flow: 0.2 };
    edit::apply(&mut job, Edit::Bypass(Some(bypass))).expect("a bypass");
    edit::apply(&mut job, Edit::RemoveWay(group, 1)).expect("a way away");
    assert_eq!(job.path.bypass.as_ref().expect("a bypass").joins_after, ElementId(2));
}

#[test]
fn a_leak_keeps_its_share_when_another_way_goes() {
    let mut job = furnace();
    edit::apply(&mut job, Edit::AddLeak(COIL, 0.2)).expect("a leak");
    let group = job.path.first(ElementKind::SideBySide).expect("a group").id;
    edit::apply(&mut job, Edit::AddWay(group)).expect("a way");
    assert_eq!(job.path.element(group).expect("the group").ways.len(), 3);
    edit::apply(&mut job, Edit::RemoveWay(group, 2)).expect("and away");
    let ways = &job.path.element(group).expect("the group").ways;
    assert_eq!((ways[0].flow, ways[1].flow), (None, Some(0.2)));
    running(&job);
}

#[test]
fn what_cannot_be_is_refused_in_a_sentence() {
    let mut way = furnace();
    edit::apply(&mut way, Edit::LayBeside(GRILLE, ElementId(2))).expect("a way beside");
    let mut leaky = furnace();
    edit::apply(&mut leaky, Edit::AddLeak(COIL, 0.2)).expect("a leak");
    let leak = leaky.path.first(ElementKind::Leak).expect("a leak").id;
    let cases: Vec<(&Job, Edit, &str)> = vec![
        (&way, Edit::RemoveElement(BLOWER), "The blower is the machine itself and cannot be taken out of the path"),
        (&way, Edit::RemoveElement(ElementId(99)), "The air path has no element 99"),
        (&way, Edit::LayBeside(FILTER, FILTER), "All the air passes the filter; no way can be laid beside it"),
        (&way, Edit::LayBeside(SUPPLY, COIL), "A way is laid beside elements that follow one another"),
        (&way, Edit::ShiftElement(BLOWER, Direction::Later), "The blower stays; move the elements about it"),
        (&way, Edit::ShiftElement(REGISTERS, Direction::Later), "The registers is already at the end of its way"),
        (
            &way,
            Edit::AddElement(ElementKind::ReturnDuct, Beside::After(COIL)),
            "The return duct stands before the blower",
        ),
        (&way, Edit::AddPort(FILTER), "There is a port after the filter already"),
        (&way, Edit::AddPort(REGISTERS), "Behind the registers are the rooms, against which everything is read"),
        (&leaky, Edit::AddPort(REGISTERS), "Behind the registers are the rooms, against which everything is read"),
        (&leaky, Edit::AddPort(leak), "Behind a leak there is no duct to drill"),
        (&way, Edit::AddLeak(GRILLE, 1.2), "A leak of 120 % of the air cannot be; it lies above 0 and below 100 %"),
        (
            &way,
            Edit::AddLeak(FILTER, 0.2),
            "A leak cannot go past the filter in the cabinet; put it before the machine",
        ),
        (
            &way,
            Edit::AddLeak(REGISTERS, 0.2),
            "Nothing lies beyond that a leak could go past; put it after the element before",
        ),
        (&way, Edit::RemovePort(RETURN_PORT), "The job's own readings are taken at this port; move it instead"),
        (&way, Edit::MovePort(RETURN_PORT, COIL), "A port stays on its own side of the blower"),
        (
            &way,
            Edit::MovePort(RETURN_PORT, GRILLE),
            "It is the only port before the blower that reads all the air; in a way it would read a part of it",
        ),
        (
            &way,
            Edit::Whereabouts(GRILLE, Whereabouts::Cabinet),
            "The return grille stands in a way side by side; what is in the cabinet passes all the air",
        ),
        (&way, Edit::Exponent(COIL, Some(3.0)), "An exponent of 3 cannot be; it lies between 1 and 2.2"),
        (&way, Edit::Share(COIL, Some(1.5)), "A share of 150 % cannot be; it lies between 0 and 100 %"),
    ];
    for (job, edit, sentence) in cases {
        let mut tried = job.clone();
        assert_eq!(edit::apply(&mut tried, edit.clone()).unwrap_err().to_string(), sentence, "{edit:?}");
        assert_eq!(&tried, job, "{edit:?}");
    }
}

/// The return port of a machine without a filter between stands within what a way is laid beside: it would read one way only.
#[test]
fn the_only_port_of_a_side_is_never_shut_into_a_way() {
    let mut job = furnace();
    move_port(&mut job, RETURN_PORT, GRILLE);
    let told = edit::apply(&mut job, Edit::LayBeside(GRILLE, ElementId(2)));
    assert_eq!(
        told.unwrap_err().to_string(),
        "No port before the blower would read all the air any more; move the one after the return grille out of the stretch first"
    );
    // A second port behind the duct reads all the air: then it may.
    read_after(&mut job, ElementId(2), -0.2);
    edit::apply(&mut job, Edit::LayBeside(GRILLE, ElementId(2))).expect("a way beside");
}
