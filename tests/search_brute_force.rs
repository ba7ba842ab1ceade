//! The search names the same sets as trying every set by a whole answer of its own.

use std::sync::atomic::AtomicBool;

use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::change::Role;
use tapcross::model::facts::air_path::{Bypass, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Call, EquipmentKind};
use tapcross::model::facts::change::{
    BelowTable, ByData, Change, ChangeId, ChangeKind, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters,
    Opening, OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Replacement, Seal,
    SecondReturn, Switch,
};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::target::{Target, rise_at};
use tapcross::model::laws::tap_curve::TapShape;
use tapcross::model::search::{InDoubt, MOST_CHANGES, MOST_FOUND, NoneReason, SearchResult, cheapest};
use tapcross::units::{Airflow, Area, Dimension, Length, Pressure};

/// Trays that are tried.
const TRAYS: u64 = 450;

/// Numbers that look random and are the same every time (the multiplier and increment of Knuth's MMIX).
struct Dice(u64);

impl Dice {
    fn bits(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        u32::try_from(self.0 >> 32).unwrap()
    }

    fn next(&mut self) -> f64 {
        f64::from(self.bits()) / f64::from(u32::MAX)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    fn below(&mut self, count: usize) -> usize {
        self.bits() as usize % count
    }
}

fn run(diameter: f64, wall: Wall) -> Run {
    Run { section: Section::round(Dimension::from_in(diameter)), length: Length::from_ft(20.0), wall, fittings: 1.0 }
}

fn grille(face: f64) -> Opening {
    Opening { face: Area::from_in2(face), free_area: 0.7 }
}

fn filter(drop: f64) -> DropData {
    DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(drop), 1.2).unwrap()
}

fn kind(dice: &mut Dice, job: &Job) -> ChangeKind {
    let id = |kind| job.path.first(kind).map_or(ElementId(99), |element| element.id);
    let ids =
        [ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::SupplyDuct, ElementKind::Registers].map(id);
    let any = |dice: &mut Dice| {
        let all = job.path.all();
        all[dice.below(all.len())].id
    };
    match dice.below(20) {
        0 => ChangeKind::LessByHand(LessByHand { element: ids[dice.below(4)], fraction: dice.between(0.1, 0.8) }),
        1 => ChangeKind::ByData(ByData { element: id(ElementKind::Filter), data: filter(dice.between(0.05, 0.2)) }),
        2 => ChangeKind::MoreFilterArea(MoreFilterArea {
            element: id(ElementKind::Filter),
            now: Area::from_in2(400.0),
            then: Area::from_in2(dice.between(420.0, 900.0)),
        }),
        3 => ChangeKind::OtherDuct(OtherDuct {
            element: id(ElementKind::ReturnDuct),
            now: run(16.0, Material::Galvanized.into()),
            then: run(dice.between(17.0, 22.0), Material::Galvanized.into()),
            of_drop: dice.between(0.3, 1.0),
        }),
        4 | 5 => ChangeKind::SecondReturn(SecondReturn {
            run: run(dice.between(8.0, 16.0), Wall::Flexible { compression: 0.04 }),
            grille: grille(dice.between(150.0, 500.0)),
            filter: (dice.next() < 0.4).then(|| filter(0.1)),
        }),
        6 => ChangeKind::OtherOpening(OtherOpening {
            element: ids[0],
            now: grille(400.0),
            then: grille(dice.between(420.0, 800.0)),
        }),
        7 => ChangeKind::OpenRegisters(OpenRegisters { element: ids[3], now: 8, then: [9, 10][dice.below(2)], of: 10 }),
        8 => ChangeKind::RepairRun(RepairRun { element: ids[1 + dice.below(2)], fraction: dice.between(0.1, 0.5) }),
        10 => ChangeKind::FilterLoading(FilterLoading {
            element: id(ElementKind::Filter),
            factor: dice.between(0.4, 1.8),
        }),
        11 => ChangeKind::PanelOff(PanelOff { area: Area::from_in2(dice.between(3.0, 40.0)) }),
        12 => ChangeKind::OtherCall(OtherCall {
            call: [Call::HeatingHigh, Call::CoolingLow, Call::FanOnly][dice.below(3)],
        }),
        13 => ChangeKind::OtherCoilState(OtherCoilState {
            element: id(ElementKind::Coil),
            factor: dice.between(0.7, 1.4),
        }),
        14 => other_machine(dice, job),
        15 | 16 => seal(dice, job),
        17 => ChangeKind::LessByHand(LessByHand { element: any(dice), fraction: dice.between(0.1, 0.8) }),
        9 => ChangeKind::BelowTable(BelowTable { factor: dice.between(0.45, 1.0) }),
        _ => {
            let taps = &job.machine.as_ref().unwrap().taps;
            ChangeKind::OtherTap(OtherTap {
                tap: taps.get(dice.below(taps.len() + 1)).map_or("none", |tap| tap.name.as_str()).to_owned(),
            })
        }
    }
}

fn seal(dice: &mut Dice, job: &Job) -> ChangeKind {
    let bypass = job.path.bypass.as_ref().map_or(ElementId(98), |bypass| bypass.id);
    let leak = job.path.first(ElementKind::Leak).map_or(ElementId(99), |element| element.id);
    let element = if dice.next() < 0.5 { bypass } else { leak };
    ChangeKind::Seal(Seal { element, fraction: [0.4, 0.8, 1.0][dice.below(3)] })
}

/// The other demo's machine, now and then with a target of its own, with filter and coil of the old one gone or not.
fn other_machine(dice: &mut Dice, job: &Job) -> ChangeKind {
    let is_furnace = job.machine.as_ref().unwrap().kind == EquipmentKind::Furnace;
    let table = if is_furnace { demo::heat_pump() } else { demo::gas_furnace() }.machine.unwrap();
    let leaves = [ElementKind::Filter, ElementKind::Coil].map(|kind| job.path.first(kind).map(|element| element.id));
    let tap = table.taps[dice.below(table.taps.len())].name.clone();
    let now = Answer::of(job).point().unwrap().now.airflow;
    ChangeKind::OtherMachine(Box::new(Replacement {
        table,
        tap: (dice.next() < 0.7).then_some(tap),
        leaves: if dice.next() < 0.7 { leaves.into_iter().flatten().collect() } else { Vec::new() },
        coil: (!is_furnace).then(|| filter(0.2)),
        filter: (dice.next() < 0.7).then(|| filter(0.1)),
        target: (dice.next() < 0.5).then(|| Target::Airflow(now * dice.between(0.9, 1.2))),
    }))
}

/// Ways, a leak and a bypass, each now and then; nothing is known of their drops but the shares.
fn grow(dice: &mut Dice, job: &mut Job, leaks: bool) {
    let id = |job: &Job, kind| job.path.first(kind).unwrap().id;
    let (grille, duct) = (id(job, ElementKind::ReturnGrille), id(job, ElementKind::ReturnDuct));
    let (supply, registers) = (id(job, ElementKind::SupplyDuct), id(job, ElementKind::Registers));
    let blower_end = job.path.port(SUPPLY_PORT).unwrap().after;
    if dice.next() < 0.3 {
        let group = job.path.lay_beside(grille, duct).unwrap();
        job.path.element_mut(group).unwrap().ways[0].flow = Some(dice.between(0.3, 0.8));
    }
    if dice.next() < 0.3 {
        job.path.lay_beside(supply, registers).unwrap();
    }
    if leaks || dice.next() < 0.3 {
        job.path.leak_at([duct, blower_end][dice.below(2)], dice.between(0.05, 0.3)).unwrap();
    }
    if leaks || dice.next() < 0.3 {
        let joins_after = job.path.elements[0].id;
        let bypass = Bypass {
            id: job.path.next_element(),
            leaves_after: blower_end,
            joins_after,
            flow: dice.between(0.05, 0.3),
        };
        job.path.bypass = Some(bypass);
        assert_eq!(job.path.problem(), None);
    }
}

fn tray(number: u64) -> Job {
    let mut dice = Dice(number);
    dice.next();
    let mut job = if dice.next() < 0.5 { demo::heat_pump() } else { demo::gas_furnace() };
    job.changes.clear();
    let grows = number >= TRAYS / 3;
    let leaks = grows && number.is_multiple_of(4);
    if grows {
        grow(&mut dice, &mut job, leaks);
    }
    for reading in &mut job.sets[0].readings {
        let scale = dice.between(0.7, 1.1);
        reading.looks.iter_mut().for_each(|look| *look = *look * scale);
    }
    let now = Answer::of(&job).point().unwrap().now.airflow;
    job.target = Some(Target::Airflow(now * dice.between(0.95, 1.25)));
    job.limits.accept_band = dice.between(0.02, 0.1);
    job.machine.as_mut().unwrap().rated_maximum = Some(Pressure::from_in_wc(dice.between(0.5, 1.0)));
    for id in (1..).take(1 + dice.below(7)) {
        let price = (dice.next() < 0.8).then(|| (dice.between(0.0, 8.0).floor()) * 50.0);
        let switch = if dice.next() < 0.5 { Switch::On } else { Switch::Off };
        let kind = if leaks && id <= 2 { seal(&mut dice, &job) } else { kind(&mut dice, &job) };
        job.changes.push(Change { id: ChangeId(id), kind, switch, price, labour: None, note: String::new() });
    }
    if leaks {
        aim_at_the_first(&mut job);
    }
    job
}

/// A narrow band about where the first change alone, which seals, and the conditions bring the machine.
fn aim_at_the_first(job: &mut Job) {
    let mut alone = job.clone();
    alone.changes.retain(|change| change.id == ChangeId(1) || (is_condition(&change.kind) && change.is_on()));
    alone.changes[0].switch = Switch::On;
    let answer = Answer::of(&alone);
    let after = answer.with_changes().unwrap();
    if let Some(point) = after.system.point() {
        job.target = Some(Target::Airflow(point.airflow));
        job.limits.accept_band = 0.01;
    }
}

fn is_condition(kind: &ChangeKind) -> bool {
    kind.declaration().role == Role::Condition
}

fn same_place(one: &ChangeKind, other: &ChangeKind) -> bool {
    std::mem::discriminant(one) == std::mem::discriminant(other) && one.element() == other.element()
}

/// Airflow and tap of a set that is an answer, by a whole answer of a job with its switches set.
fn answer_of(job: &Job, mask: usize) -> Option<(Airflow, String)> {
    let mut job = job.clone();
    for (index, change) in job.changes.iter_mut().enumerate() {
        if is_condition(&change.kind) {
            continue;
        }
        change.switch = if mask >> index & 1 == 1 { Switch::On } else { Switch::Off };
    }
    let on: Vec<&ChangeKind> = job.changes.iter().filter(|change| change.is_on()).map(|change| &change.kind).collect();
    let clash = |index: usize| on[..index].iter().any(|other| same_place(on[index], other));
    if (0..on.len()).any(|index| !is_condition(on[index]) && clash(index)) {
        return None;
    }
    let answer = Answer::of(&job);
    let after = answer.with_changes()?;
    // A condition that cannot be is left out of every set; a fix that cannot be is in none.
    let is_fix = |id: &ChangeId| job.changes.iter().any(|change| change.id == *id && !is_condition(&change.kind));
    if after.refused.iter().any(|(id, _)| is_fix(id)) {
        return None;
    }
    if after.system.unknown_part.is_some() {
        // A machine whose coil nobody knows: its airflow is a bound, and a bound lands in no band.
        return None;
    }
    let point = after.system.point()?;
    let (target, table) = (after.system.blower.target?, after.system.blower.other.as_deref().or(job.machine.as_ref())?);
    let worse = point.tesp.max(point.tesp / after.system.load.entry_ratio);
    let TapShape::Curve(curve) = &after.system.blower.shapes[after.system.blower.in_use?] else {
        return None;
    };
    let name = &table.taps[after.system.blower.in_use?].name;
    let heating = table.heating.iter().all(|stage| {
        let runs = stage.call == after.system.blower.call || table.tap_of_call(stage.call) == Some(name);
        let heat = curve.power_at(point.entry).map_or(stage.output, |power| stage.output + power.as_heat());
        let rise = rise_at(heat, point.airflow, job.set().air.at_blower(table.kind, stage.call).density);
        let too_little = stage.minimum_airflow.is_some_and(|least| point.airflow < least);
        !runs || (!too_little && stage.rise.is_none_or(|(low, high)| rise >= low && rise <= high))
    });
    let is_answer = point.airflow >= target.low
        && point.airflow <= target.high
        && table.rated_maximum.is_none_or(|limit| worse <= limit)
        && curve.barred_at(point.entry).is_none()
        && after
            .system
            .delivered
            .is_none_or(|air| air.to_rooms.min(air.from_rooms) >= air.blower * (1.0 - job.limits.lost_air))
        && heating;
    is_answer.then(|| (point.airflow, name.clone()))
}

/// Price, changes, tap and airflow of the cheapest sets, each without a cheaper one in it.
fn by_force(job: &Job) -> Vec<(f64, Vec<ChangeId>, String, Airflow)> {
    // What is only shown is no answer.
    if job.changes.iter().any(|change| change.is_on() && matches!(change.kind, ChangeKind::PanelOff(_))) {
        return Vec::new();
    }
    let conditions = job.changes.iter().enumerate().filter(|(_, change)| is_condition(&change.kind));
    let conditions = conditions.fold(0, |mask, (index, _)| mask | 1_usize << index);
    let mut all: Vec<(f64, u32, usize, String, Airflow)> = (0..1_usize << job.changes.len())
        .filter(|mask| mask & conditions == 0)
        .filter_map(|mask| {
            let (airflow, tap) = answer_of(job, mask)?;
            let on = job.changes.iter().enumerate().filter(|(index, _)| mask >> index & 1 == 1);
            let price = on.map(|(_, change)| change.price.unwrap_or(0.0)).sum();
            Some((price, mask.count_ones(), mask, tap, airflow))
        })
        .collect();
    // What nobody has priced is not cheaper than what somebody has.
    let unpriced = job.changes.iter().enumerate().filter(|(_, change)| change.price.is_none());
    let unpriced = unpriced.fold(0, |mask, (index, _)| mask | 1_usize << index);
    all.sort_by(|one, other| {
        let key = |set: &(f64, u32, usize, String, Airflow)| (set.2 & unpriced != 0, set.0, set.1, set.2);
        key(one).partial_cmp(&key(other)).unwrap()
    });
    let mut named: Vec<usize> = Vec::new();
    let mut found = Vec::new();
    for (price, _, mask, tap, airflow) in all {
        if named.iter().all(|answer| mask & answer != *answer) && found.len() < MOST_FOUND {
            named.push(mask);
            let on = job.changes.iter().enumerate().filter(|(index, _)| mask >> index & 1 == 1);
            found.push((price, on.map(|(_, change)| change.id).collect(), tap, airflow));
        }
    }
    found
}

fn searched(job: &Job) -> SearchResult {
    cheapest(job, &AtomicBool::new(false), &mut |_| {})
}

#[test]
fn the_search_names_what_trying_every_set_names() {
    let (mut named, mut none, mut with_second_return) = (0, 0, 0);
    let mut in_doubt = [0; 2];
    let (mut with_ways, mut with_bypass, mut with_seal, mut with_machine) = (0, 0, 0, 0);
    for number in 0..TRAYS {
        let job = tray(number);
        let (result, right) = (searched(&job), by_force(&job));
        let told = format!("tray {number}: {result:#?}\nby force: {right:#?}");
        assert_eq!(result.best.len(), right.len(), "{told}");
        assert_eq!(result.none_reason.is_none(), !right.is_empty(), "{told}");
        for (found, (price, changes, tap, airflow)) in result.best.iter().zip(&right) {
            assert_eq!((&found.changes, &found.tap), (changes, tap), "{told}");
            // The conditions that are on and can be stand beside every set, and cost what they cost.
            let is_refused = |id: &ChangeId| result.refused.iter().any(|(refused, _)| refused == id);
            let beside =
                || job.changes.iter().filter(|one| is_condition(&one.kind) && one.is_on() && !is_refused(&one.id));
            assert!(beside().map(|one| one.id).eq(found.conditions.iter().copied()), "{told}");
            let beside: f64 = beside().filter_map(|one| one.price).sum();
            assert!((found.price - price - beside).abs() < 1e-9, "{told}");
            assert!((found.crossing.airflow / *airflow - 1.0).abs() < 1e-9, "{told}");
            let runs = found.runs.as_ref().expect("a whole answer");
            assert!((runs.airflow() / *airflow - 1.0).abs() < 1e-9, "{told}");
            // In doubt where what its ± reaches is no answer, and only there.
            let target = result.target.expect("a target");
            let (low, high) = (*airflow - runs.spread.airflow, *airflow + runs.spread.airflow);
            let may_miss = low < target.low || high > target.high;
            assert_eq!(found.doubts(&target).contains(&InDoubt::Band), may_miss, "{told}");
            in_doubt[usize::from(may_miss)] += 1;
            let is_machine =
                |one: &Change| matches!(one.kind, ChangeKind::OtherMachine(_)) && found.conditions.contains(&one.id);
            let is_bought = |one: &Change| changes.contains(&one.id) || is_machine(one);
            let unpriced = job.changes.iter().filter(|one| one.price.is_none() && is_bought(one));
            assert!(unpriced.map(|change| change.id).eq(found.unpriced.iter().copied()), "{told}");
            let kind = |id: &ChangeId| job.changes.iter().find(|change| change.id == *id).map(|change| &change.kind);
            let second = |id: &ChangeId| matches!(kind(id), Some(ChangeKind::SecondReturn { .. }));
            with_second_return += usize::from(changes.iter().any(second));
            with_seal += usize::from(changes.iter().any(|id| matches!(kind(id), Some(ChangeKind::Seal { .. }))));
        }
        let on = |is: fn(&ChangeKind) -> bool| job.changes.iter().any(|change| change.is_on() && is(&change.kind));
        let is_named = usize::from(!right.is_empty());
        with_ways += is_named * usize::from(job.path.first(ElementKind::SideBySide).is_some());
        with_bypass += is_named * usize::from(job.path.bypass.is_some());
        with_machine += is_named * usize::from(on(|kind| matches!(kind, ChangeKind::OtherMachine(_))));
        named += usize::from(!right.is_empty());
        none += usize::from(right.is_empty());
    }
    assert!(in_doubt.iter().all(|count| *count > 10), "sets in no doubt and in doubt: {in_doubt:?}");
    assert!(named > 60 && none > 40 && with_second_return > 10, "{named} named, {none} none, {with_second_return}");
    let each = [with_ways, with_bypass, with_seal, with_machine];
    assert!(each.iter().all(|count| *count >= 4), "ways, bypass, seal, machine: {each:?}");
}

/// A filter that is replaced and then loaded is the new one, loaded: in the search as in the answer.
#[test]
fn a_condition_takes_its_place_among_the_fixes() {
    let mut job = demo::gas_furnace();
    let filter_id = job.path.first(ElementKind::Filter).unwrap().id;
    let change = |id, kind| Change {
        id: ChangeId(id),
        kind,
        switch: Switch::On,
        price: Some(10.0),
        labour: None,
        note: String::new(),
    };
    let run = run(14.0, Wall::Flexible { compression: 0.04 });
    job.changes = vec![
        change(1, ChangeKind::ByData(ByData { element: filter_id, data: filter(0.02) })),
        change(2, ChangeKind::FilterLoading(FilterLoading { element: filter_id, factor: 5.0 })),
        change(4, ChangeKind::SecondReturn(SecondReturn { run, grille: grille(300.0), filter: None })),
    ];
    let point = *Answer::of(&job).with_changes().unwrap().system.point().unwrap();
    job.target = Some(Target::Airflow(point.airflow));
    job.limits.accept_band = 0.01;
    job.machine.as_mut().unwrap().rated_maximum = None;
    job.machine.as_mut().unwrap().heating.clear();
    let found = searched(&job);
    assert_eq!(found.refused, []);
    assert_eq!(found.best.len(), 1, "{found:#?}");
    assert_eq!(found.best[0].changes, [ChangeId(1), ChangeId(4)]);
    assert!((found.best[0].crossing.airflow / point.airflow - 1.0).abs() < 1e-9);
}

#[test]
fn a_search_that_cannot_name_anything_says_why() {
    let mut job = tray(3);
    job.changes.clear();
    let all_off = Change {
        id: ChangeId(1),
        kind: ChangeKind::LessByHand(LessByHand {
            element: job.path.first(ElementKind::SupplyDuct).unwrap().id,
            fraction: 0.01,
        }),
        switch: Switch::On,
        price: Some(10.0),
        labour: None,
        note: String::new(),
    };
    job.changes.push(all_off.clone());
    job.target = Some(Target::Airflow(Airflow::from_cfm(2500.0)));
    let short = searched(&job);
    assert_eq!(
        short.none_reason.as_ref().unwrap().sentence(),
        "None of the 2 sets of these changes is an answer: 2 too little air"
    );
    assert_eq!(short.examined, 2);
    let stopped = cheapest(&job, &AtomicBool::new(true), &mut |_| {});
    assert_eq!((stopped.best.len(), stopped.none_reason), (0, Some(NoneReason::Stopped)));
    let no_target = searched(&Job { target: None, ..job.clone() });
    assert_eq!(no_target.none_reason, Some(NoneReason::NoTarget));
    assert_eq!(searched(&Job { machine: None, ..job.clone() }).none_reason, Some(NoneReason::NotRunning));
    let mut half_known = job.clone();
    let duct = half_known.path.first(ElementKind::ReturnDuct).unwrap().id;
    apply(&mut half_known, Edit::MovePort(RETURN_PORT, duct)).unwrap();
    assert_eq!(searched(&half_known).none_reason, Some(NoneReason::UnknownOnPath(ElementKind::Filter)));
    let too_many = (0..).take(MOST_CHANGES + 1).map(|id| Change { id: ChangeId(id), ..all_off.clone() });
    let crowded = Job { changes: too_many.collect(), ..job };
    assert_eq!(
        searched(&crowded).none_reason.unwrap().sentence(),
        "17 changes are too many to try every set; at most 16 can be"
    );
}

#[test]
fn progress_rises_to_one() {
    let mut told = Vec::new();
    cheapest(&tray(5), &AtomicBool::new(false), &mut |part| told.push(part));
    assert!(told.windows(2).all(|pair| pair[0] <= pair[1]), "{told:?}");
    assert!((told.last().unwrap() - 1.0).abs() < 1e-6);
}

/// Two fixes that do the same, one with a price and one without: the one with a price is named first, and the other is no cheaper for want of one.
#[test]
fn what_has_no_price_is_named_after_what_has_one() {
    let mut job = demo::heat_pump();
    let supply = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    let less = |id, price| Change {
        id: ChangeId(id),
        kind: ChangeKind::LessByHand(LessByHand { element: supply, fraction: 0.5 }),
        switch: Switch::Off,
        price,
        labour: None,
        note: String::new(),
    };
    job.changes = vec![less(1, None), less(2, Some(120.0))];
    job.limits.accept_band = 0.01;
    let machine = job.machine.as_mut().unwrap();
    machine.rated_maximum = None;
    machine.heating.clear();
    let mut on = job.clone();
    on.changes[1].switch = Switch::On;
    job.target = Some(Target::Airflow(Answer::of(&on).with_changes().unwrap().system.point().unwrap().airflow));
    let found = searched(&job).best;
    let named: Vec<_> = found.iter().map(|set| (set.changes.clone(), set.told_price())).collect();
    assert_eq!(named, [(vec![ChangeId(2)], Some(120.0)), (vec![ChangeId(1)], None)]);
}
