//! Paths with ways, leaks, a bypass and readings across parts, and changes with other machines: what is written comes back, and what cannot be is told.

use super::*;
use tapcross::model::facts::air_path::{Bypass, Element, Way, Whereabouts};
use tapcross::model::facts::change::Replacement;

/// A job of format 1 with everything that a path and its changes can say; it is never written again.
const TREE: &str = include_str!("../data/jobs/v1-ways.ron");

fn tree() -> Job {
    job_file::parse(TREE).unwrap()
}

/// Replaces one place of the file with ways and compares the sentence.
fn check(old: &str, new: &str, sentence: &str) {
    assert!(TREE.contains(old), "the file has no {old}");
    let told = job_file::parse(&TREE.replacen(old, new, 1)).unwrap_err().to_string();
    assert_eq!(told, sentence);
}

#[test]
fn the_file_with_ways_opens_and_means_the_same() {
    let job = tree();
    let returns = job.path.element(ElementId(20)).unwrap();
    assert_eq!((returns.name(), returns.ways.len()), ("Both returns", 2));
    assert_eq!(returns.ways[0].flow, Some(0.6));
    assert_eq!(returns.ways[1].elements[0].name(), "Bedroom grille");
    let inner = job.path.element(ElementId(30)).unwrap();
    assert_eq!(inner.ways[1].elements, [Element::new(ElementId(32), ElementKind::Leak, Whereabouts::House)]);
    assert_eq!(job.path.way_of(ElementId(30)).map(|(group, way)| (group.id, way)), Some((ElementId(40), 1)));
    let tested = job.path.element(ElementId(43)).unwrap().drop.as_ref().unwrap();
    assert!((tested.points()[0].1.pa() - 25.0).abs() < 0.01, "a duct leakage test at 25 Pa");
    let bypass = Bypass { id: ElementId(50), leaves_after: ElementId(6), joins_after: ElementId(20), flow: 0.15 };
    assert_eq!(job.path.bypass, Some(bypass));
    let across = Reading { at: ReadAt::Across(ElementId(6)), looks: in_wc(&[0.16, 0.17]) };
    assert!(job.sets[0].readings.contains(&across));
    let kinds: Vec<&ChangeKind> = job.changes.iter().map(|change| &change.kind).collect();
    assert_eq!(kinds[0], &ChangeKind::Seal(Seal { element: ElementId(43), fraction: 0.8 }));
    assert_eq!(kinds[1], &ChangeKind::Seal(Seal { element: ElementId(50), fraction: 1.0 }));
    assert_eq!(kinds[2], &ChangeKind::OtherCall(OtherCall { call: Call::HeatingHigh }));
    assert_eq!(kinds[3], &ChangeKind::OtherCoilState(OtherCoilState { element: ElementId(6), factor: 1.25 }));
    assert_eq!(kinds[4], &ChangeKind::PanelOff(PanelOff { area: Area::from_in2(36.0) }));
    let ChangeKind::OtherMachine(first) = kinds[5] else { panic!("{:?}", kinds[5]) };
    let ChangeKind::OtherMachine(second) = kinds[6] else { panic!("{:?}", kinds[6]) };
    assert_eq!((first.table.name.as_str(), second.table.name.as_str()), ("Invented F-44", "Invented A-24"));
    assert_eq!((first.leaves.as_slice(), first.tap.as_deref()), (&[ElementId(3), ElementId(6)][..], Some("2")));
    assert_eq!(second.target, Some(Target::Airflow(Airflow::from_cfm(820.0))));
    let answer = Answer::of(&job);
    let running = answer.point().unwrap_or_else(|| panic!("{:?}", answer.found));
    assert!(running.delivered().to_rooms < running.delivered().blower);
}

/// Byte for byte: written by today's program, so that what one version writes no later one has to write anew.
#[test]
fn the_file_with_ways_is_written_as_it_stands() {
    assert_eq!(job_file::write(&tree()), TREE);
}

#[test]
fn windows_line_ends_change_nothing_in_the_tree() {
    assert_eq!(job_file::parse(&TREE.replace('\n', "\r\n")), Ok(tree()));
}

#[test]
fn every_cut_of_the_tree_is_told_as_a_cut() {
    let start = TREE.find("path: [").unwrap();
    for (end, _) in TREE.char_indices().filter(|(end, _)| (start..TREE.trim_end().len() - 1).contains(end)).step_by(7) {
        let told = job_file::parse(&TREE[..end]).unwrap_err().to_string();
        assert!(told.starts_with("The job is cut short: the file ends at line "), "cut at byte {end}: {told}");
    }
}

#[test]
fn a_path_of_ways_that_cannot_be_is_told() {
    check(
        "kind: Leak, in: House)",
        "kind: HeatExchanger, in: House)",
        "The heat exchanger cannot stand in a way; all the air passes it",
    );
    check(
        "flow_percent: 60.0",
        "flow_percent: 130",
        "Path, element 20: A way with 130 % of the air cannot be; its share lies above 0 and below 100 %",
    );
    check(
        "flow_percent: 60.0",
        "flow_percent: -5",
        "Path, element 20: A way with −5 % of the air cannot be; its share lies above 0 and below 100 %",
    );
    check(
        "flow_percent: 60.0",
        "flow_percent: 60, flow_fraction: 0.6",
        "Path, a way of element 20: the same is given twice, as flow_percent and flow_fraction; one of them has to go",
    );
    let second = "(elements: [Element(id: 21, kind: ReturnGrille, name: \"Bedroom grille\", in: House), Element(id: 22, kind: ReturnDuct, in: House)])";
    check(second, "(elements: [])", "A way side by side has no elements; it needs at least one");
    check(&format!(", {second}"), "", "Element 20 has 1 ways; side by side are two or more");
    check(
        "Element(id: 22, kind: ReturnDuct, in: House)",
        "Element(id: 22, kind: Leak, in: House)",
        "A leak stands alone in its way",
    );
    check(
        "Element(id: 6, kind: Coil, in: House)",
        "Element(id: 6, kind: Leak, in: House)",
        "A leak stands in a way of its own, beside what it bypasses",
    );
    check(
        "Element(id: 6, kind: Coil, in: House)",
        "Element(id: 6, kind: Bypass, in: House)",
        "A bypass stands beside the chain, not in it",
    );
    check(
        "Element(id: 6, kind: Coil, in: House)",
        "Element(id: 6, kind: SideBySide, in: House)",
        "Element 6 has 0 ways; side by side are two or more",
    );
    check("Element(id: 21,", "Element(id: 1,", "Two elements of the air path share the number 1");
    check("Element(id: 21,", "Element(id: 50,", "Two elements of the air path share the number 50");
    check(
        "Element(id: 31, kind: Registers, in: House)",
        "Element(id: 31, kind: Leak, in: House)",
        "Element 30 has leaks only; one of its ways has to lead on",
    );
}

#[test]
fn a_bypass_that_cannot_be_is_told() {
    let ends = "A bypass leaves behind a supply element of the chain and joins behind a return element";
    check(
        "flow_percent: 15.0",
        "flow_percent: 95",
        "A bypass of 95 % of the blower's air cannot be; it lies above 0 and below 90 %",
    );
    check(
        "flow_percent: 15.0",
        "flow_percent: 0",
        "A bypass of 0 % of the blower's air cannot be; it lies above 0 and below 90 %",
    );
    check(", flow_percent: 15.0", "", "Bypass: the field flow_percent is missing");
    check("leaves_after: 6", "leaves_after: 40", ends);
    check("leaves_after: 6", "leaves_after: 2", ends);
    check("joins_after: 20", "joins_after: 6", ends);
    check("joins_after: 20", "joins_after: 21", ends);
    check("joins_after: 20", "joins_after: 77", ends);
}

#[test]
fn readings_across_what_is_not_there_are_told() {
    check(
        "at: Across(6)",
        "at: Across(66)",
        "Set 1 (As found): Element 66 is read across, but the air path has no such element",
    );
    check(
        "at: Across(6)",
        "at: Port(1)",
        "Set 1 (As found): Port 1 is read twice; all readings at one place belong into one list",
    );
    check(
        "looks_in_wc: [0.16, 0.17]",
        "looks_in_wc: [NaN]",
        "Set 1 (As found): Across element 6: a reading of NaN in. w.c. is no number",
    );
}

#[test]
fn changes_that_cannot_be_are_told() {
    check(
        "fraction_percent: 80.0",
        "fraction_percent: 180",
        "Change 1: Closing 180 % of an opening cannot be; it lies between 0 and 100 %",
    );
    check(
        "factor: 1.25",
        "factor: 9",
        "Change 4: A coil that takes 9 times its drop cannot be; the factor lies between 0.3 and 3",
    );
    check(
        "area_in2: 36.0",
        "area_in2: 0",
        "Change 5: Face area cannot be 0 in²; it must be above 0 and at most 10,000 in²",
    );
    check(
        "OtherMachine(machine: 1,",
        "OtherMachine(machine: 0,",
        "Change 6: machine is 0; other_machines has 2 tables, numbers 1 to 2",
    );
    check(
        "OtherMachine(machine: 1,",
        "OtherMachine(machine: 3,",
        "Change 6: machine is 3; other_machines has 2 tables, numbers 1 to 2",
    );
    check(
        "target: Airflow(cfm: 820.0)",
        "target: Airflow(cfm: 0)",
        "Change 7: its target: A target of 0 cfm cannot be; it lies between 50 and 20,000 cfm",
    );
    let without = &TREE[..TREE.find("    other_machines: [").unwrap()];
    let rest = &TREE[TREE.find("    target: ").unwrap()..];
    assert_eq!(
        job_file::parse(&format!("{without}{rest}")).unwrap_err().to_string(),
        "Change 6: machine is 1; other_machines has no table; it needs one for each machine that a change puts on"
    );
    let second = TREE.rfind("name: \"Invented A-24\"").unwrap();
    let spoiled = format!("{}{}", &TREE[..second], TREE[second..].replacen("airflow: Cfm", "airflow: Buckets", 1));
    assert!(job_file::parse(&spoiled).is_err());
    let short = format!("{}{}", &TREE[..second], TREE[second..].replacen("[640, 820]", "[640]", 1));
    let told = job_file::parse(&short).unwrap_err().to_string();
    assert!(told.starts_with("Other machine 2 cannot be used: "), "{told}");
}

/// Nothing is lost when what a change was put on is gone; the answer says that it cannot be put on.
#[test]
fn changes_of_what_is_gone_open_and_are_refused_by_the_answer() {
    let text = TREE
        .replacen("Seal(element: 43", "Seal(element: 443", 1)
        .replacen("leaves: [3, 6]", "leaves: [3, 666]", 1)
        .replacen("OtherCall(call: HeatingHigh)", "OtherCall(call: FanOnly)", 1);
    let job = job_file::parse(&text).unwrap();
    assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job.clone()));
    let answer = Answer::of(&job);
    let after = answer.with_changes().unwrap();
    let told: Vec<String> =
        after.worths.iter().filter_map(|worth| Some(worth.gain.as_ref().err()?.to_string())).collect();
    assert!(told.iter().any(|told| told == "The element that this change was put on is gone"), "{told:?}");
    assert!(
        told.iter().any(|sentence| sentence.starts_with("Element 666 was to leave with the old machine")),
        "{told:?}"
    );
    assert!(
        told.iter().any(|sentence| sentence.starts_with("The table does not say which tap runs fan only")),
        "{told:?}"
    );
}

/// Ways in ways in ways: three are allowed, the fourth is told, and ten thousand end in a sentence as well.
#[test]
fn ways_nested_too_deep_are_told_and_never_overflow() {
    let nested = |deep: usize| {
        let open = |level: usize| format!("SideBySide(id: {}, ways: [(elements: [", 1000 + level);
        let close =
            |level: usize| format!("]), (elements: [Element(id: {}, kind: Registers, in: House)])])", 200_000 + level);
        let before: String = (0..deep).map(open).collect();
        let after: String = (0..deep).rev().map(close).collect();
        TREE.replacen(
            "Element(id: 31, kind: Registers, in: House)",
            &format!("{before}Element(id: 31, kind: Registers, in: House){after}"),
            1,
        )
    };
    // Element 31 stands two deep already.
    assert!(job_file::parse(&nested(1)).is_ok());
    assert_eq!(
        job_file::parse(&nested(2)).unwrap_err().to_string(),
        "Ways side by side stand in one another more than 3 deep"
    );
    for deep in [10, 40, 300, 10_000] {
        let told = job_file::parse(&nested(deep)).unwrap_err().to_string();
        assert!(!told.contains('\n') && told.len() > 20, "{told}");
        let is_said = told.contains("deep") || told.contains("cannot be read");
        assert!(is_said, "{deep}: {told}");
    }
    let brackets = format!("(tapcross_job: 1, path: {}", "[(".repeat(200_000));
    assert!(job_file::parse(&brackets).is_err());
    let comments = format!("(tapcross_job: 1, title: \"\", path: [{}", "/*".repeat(50_000));
    assert!(job_file::parse(&comments).is_err());
}

/// What a person can say of a group is kept: its name, share, drop and exponent.
#[test]
fn everything_said_of_a_group_comes_back() {
    let mut job = tree();
    let group = job.path.element_mut(ElementId(40)).unwrap();
    group.name = "Zones \"up\", (and)  down".to_owned();
    group.share = Some(1.0 / 3.0);
    group.exponent = Some(1.9);
    group.drop = Some(DropData::at(Airflow::from_cfm(900.0), Pressure::from_in_wc(0.15), 1.9).unwrap());
    group.ways[0].flow = Some(1.0 / 7.0);
    let text = job_file::write(&job);
    assert_eq!(job_file::parse(&text), Ok(job));
    assert_eq!(text.lines().count(), TREE.lines().count(), "{text}");
}

/// Texts with brackets and line ends do not upset how the tables of other machines are laid out.
#[test]
fn a_table_of_another_machine_keeps_odd_texts() {
    let mut job = tree();
    for change in &mut job.changes {
        if let ChangeKind::OtherMachine(new) = &mut change.kind {
            new.table.notes = "a)\n)\n(tapcross_blower: 7)\n// \"done\" )\n".to_owned();
            new.table.name = "( ) [ ] é".to_owned();
        }
    }
    let text = job_file::write(&job);
    assert_eq!(job_file::parse(&text), Ok(job), "{text}");
}

fn leaf() -> impl Strategy<Value = Element> {
    let kinds = vec![
        ElementKind::ReturnGrille,
        ElementKind::ReturnDuct,
        ElementKind::Filter,
        ElementKind::Damper,
        ElementKind::AirCleaner,
        ElementKind::Humidifier,
        ElementKind::SupplyDuct,
        ElementKind::Registers,
    ];
    let said = (proptest::option::of(0.0..=1.0), proptest::option::of(1.0..=2.2), any::<String>());
    (proptest::sample::select(kinds), said, proptest::option::of((1.0..2000.0, 0.0..0.5, 1.0..=2.2))).prop_map(
        |(kind, (share, exponent, name), drop)| Element {
            share,
            exponent,
            name: plain_text::one_line(&name),
            drop: drop.map(|(cfm, loss, exponent)| {
                DropData::at(Airflow::from_cfm(cfm), Pressure::from_in_wc(loss), exponent).unwrap()
            }),
            ..Element::new(ElementId(0), kind, Whereabouts::House)
        },
    )
}

/// An element or a group, whose numbers are given out afterwards.
fn elements() -> impl Strategy<Value = Element> {
    leaf().prop_recursive(3, 24, 3, |within| {
        let flow = || proptest::option::of(0.0..=1.0);
        let way = (flow(), proptest::collection::vec(within, 1..3)).prop_map(|(flow, elements)| Way { flow, elements });
        let leak = flow().prop_map(|flow| Way {
            flow,
            elements: vec![Element::new(ElementId(0), ElementKind::Leak, Whereabouts::House)],
        });
        (leaf(), proptest::collection::vec(way, 2..4), proptest::option::of(leak)).prop_map(|(said, mut ways, leak)| {
            ways.extend(leak);
            Element { kind: ElementKind::SideBySide, ways, ..said }
        })
    })
}

fn number(list: &mut [Element], next: &mut u32) {
    for element in list {
        element.id = ElementId(*next);
        *next += 1;
        element.ways.iter_mut().for_each(|way| number(&mut way.elements, next));
    }
}

fn grown() -> impl Strategy<Value = Job> {
    let lists = (proptest::collection::vec(elements(), 1..3), proptest::collection::vec(elements(), 2..4));
    (lists, proptest::option::of(0.001..0.89), -0.5..0.5, any::<bool>()).prop_map(
        |((before, after), bypass, across, machine)| {
            let mut job = job_file::parse(GOLDEN).unwrap();
            let blower = Element::new(ElementId(0), ElementKind::Blower, Whereabouts::Cabinet);
            job.path.elements = before.into_iter().chain([blower]).chain(after).collect();
            let mut next = 100;
            number(&mut job.path.elements, &mut next);
            let blower = job.path.blower().unwrap();
            let id = |index: usize| job.path.elements[index].id;
            let (first, behind) = (id(0), id(blower + 1));
            job.path.ports[0].after = first;
            job.path.ports[1].after = id(blower);
            job.path.bypass =
                bypass.map(|flow| Bypass { id: ElementId(next), leaves_after: behind, joins_after: first, flow });
            job.sets.truncate(1);
            job.sets[0].parts_out.clear();
            job.sets[0].readings.push(Reading { at: ReadAt::Across(behind), looks: in_wc(&[across]) });
            let replacement = Replacement {
                table: small_machine(),
                tap: Some("High".to_owned()),
                leaves: vec![behind],
                coil: None,
                filter: None,
                target: Some(Target::Airflow(Airflow::from_cfm(800.0))),
            };
            let kinds = [
                Some(ChangeKind::Seal(Seal { element: first, fraction: across.abs() })),
                machine.then(|| ChangeKind::OtherMachine(Box::new(replacement.clone()))),
                Some(ChangeKind::OtherCall(OtherCall { call: Call::FanOnly })),
                machine.then(|| {
                    ChangeKind::OtherMachine(Box::new(Replacement { leaves: Vec::new(), tap: None, ..replacement }))
                }),
            ];
            job.changes = kinds
                .into_iter()
                .flatten()
                .zip(1..)
                .map(|(kind, id)| Change {
                    id: ChangeId(id),
                    kind,
                    switch: Switch::On,
                    price: None,
                    labour: None,
                    note: String::new(),
                })
                .collect();
            job
        },
    )
}

/// Three deep at most, else the file is refused as a whole.
fn depth(element: &Element) -> usize {
    let within = element.ways.iter().flat_map(|way| &way.elements).map(depth).max();
    within.map_or(0, |deepest| deepest + 1)
}

proptest! {
    #[test]
    fn every_tree_comes_back_to_the_last_digit(job in grown()) {
        prop_assume!(job.path.elements.iter().map(depth).max() <= Some(3));
        let text = job_file::write(&job);
        let back = job_file::parse(&text).map_err(|refused| TestCaseError::fail(format!("{refused}\n{text}")))?;
        prop_assert_eq!(&back, &job, "{}", text);
        prop_assert_eq!(job_file::write(&back), text);
    }
}
