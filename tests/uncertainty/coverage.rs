//! ± is 95 %: twenty invented jobs, each with thousands of worlds in which manometer, ports, table, data, shares, exponents and changes err as the accuracy figures say, worked without the program's own path and crossing.
//!
//! Method: propagation of distributions by Monte Carlo (JCGM 101:2008), with a fixed seed.

use super::standard_air::standard_air;
use tapcross::model::answer::Answer;
use tapcross::model::facts::accuracy::Accuracy;
use tapcross::model::facts::air_path::{AirPath, ElementId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, BlowerTable, Cell, EquipmentKind, MotorFamily, Row, Tap, TapData};
use tapcross::model::facts::change::{
    ByData, Change, ChangeId, ChangeKind, FilterLoading, LessByHand, OtherTap, Switch,
};
use tapcross::model::facts::drop_data::{DropData, MEDIA_FILTER};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::laws::tap_curve::{TapCurve, TapShape, shape_of};
use tapcross::units::{Airflow, Pressure};

pub(super) const GRILLE: ElementId = ElementId(1);
pub(super) const RETURN: ElementId = ElementId(2);
pub(super) const FILTER: ElementId = ElementId(3);
pub(super) const COIL: ElementId = ElementId(6);
const SUPPLY: ElementId = ElementId(7);

/// The external elements of a furnace's path: lasting number, true before the blower, usual exponent, usual weight.
const PARTS: [(u32, bool, f64, f64); 6] = [
    (1, true, 2.0, 1.0),
    (2, true, 1.9, 2.0),
    (3, true, MEDIA_FILTER, 2.0),
    (6, false, 1.8, 3.0),
    (7, false, 1.9, 3.0),
    (8, false, 2.0, 1.0),
];

/// Worlds of each job.
const WORLDS: usize = 4_000;

/// A job, and what a world needs to know of it.
struct Case {
    job: Job,
    curves: Vec<TapCurve>,
    before: f64,
    after: f64,
    /// Port between return duct and filter.
    third: Option<f64>,
    coil_data: Option<(f64, f64)>,
    kinds: Vec<ChangeKind>,
}

pub(super) fn in_wc(value: f64) -> Pressure {
    Pressure::from_in_wc(value)
}

fn tap(name: usize, top: f64, fall: f64, rows: usize) -> Tap {
    let row = |index: usize| {
        let esp = 0.1 + 0.8 * index as f64 / (rows - 1) as f64;
        let cfm = (top * (1.0 - fall * esp - 0.3 * fall * esp * esp)).round();
        Row { esp: in_wc(esp), cell: Cell::Airflow(Airflow::from_cfm(cfm), None), power: None, speed: None }
    };
    Tap { name: name.to_string(), data: TapData::Column((0..rows).map(row).collect()) }
}

pub(super) fn change(index: u32, kind: ChangeKind) -> Change {
    Change { id: ChangeId(index), kind, switch: Switch::On, price: None, labour: None, note: String::new() }
}

fn case(random: &mut fastrand::Rng, number: usize) -> Case {
    let mut between = |low: f64, high: f64| low + (high - low) * random.f64();
    let motor =
        if number.is_multiple_of(2) { MotorFamily::PermanentSplitCapacitor } else { MotorFamily::ConstantTorque };
    let fall = between(0.15, 0.45);
    let tops = [between(900.0, 1000.0), between(1150.0, 1250.0), between(1400.0, 1500.0)];
    let taps: Vec<Tap> = tops.iter().zip(1..).map(|(top, name)| tap(name, *top, fall, 5 + number % 4)).collect();
    let mut table = BlowerTable { motor, taps, kind: EquipmentKind::Furnace, ..BlowerTable::default() };
    let mut job = Job { path: AirPath::for_equipment(EquipmentKind::Furnace, &Basis::default()), ..Job::default() };
    job.sets[0].air = standard_air();
    table.basis.density = Some(job.set().air.at_blower(table.kind, job.set().call).density);
    let curves = table.taps.iter().map(|tap| match shape_of(tap, motor) {
        TapShape::Curve(curve) => *curve,
        TapShape::Single(_) | TapShape::Unusable => panic!("a curve"),
    });
    let curves: Vec<TapCurve> = curves.collect();
    let (before, after) = (between(0.2, 0.38), between(0.25, 0.38));
    let third = (number.is_multiple_of(3)).then(|| before * between(0.35, 0.6));
    let coil_data = (number % 4 == 1).then(|| (1000.0, between(0.08, 0.14)));
    job.machine = Some(table);
    job.sets[0].tap = Some("2".to_owned());
    let mut read = |at, value: f64| job.sets[0].readings.push(Reading { at, looks: vec![in_wc(value)] });
    read(ReadAt::Port(RETURN_PORT), -before);
    read(ReadAt::Port(SUPPLY_PORT), after);
    if let Some(third) = third {
        let port = job.path.add_port(RETURN).expect("a place for a port");
        job.sets[0].readings.push(Reading { at: ReadAt::Port(port), looks: vec![in_wc(-third)] });
    }
    let data = |(airflow, drop)| DropData::at(Airflow::from_cfm(airflow), in_wc(drop), 1.8).expect("sound");
    job.path.element_mut(COIL).expect("the coil").drop = coil_data.map(data);
    let less = |element, fraction| ChangeKind::LessByHand(LessByHand { element, fraction });
    let filter = |random: f64| {
        let data = DropData::at(Airflow::from_cfm(1200.0), in_wc(0.05 + 0.1 * random), 1.2).expect("sound");
        ChangeKind::ByData(ByData { element: FILTER, data })
    };
    let mut kinds = match number % 5 {
        0 => vec![less(RETURN, between(0.3, 0.7))],
        1 => vec![ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: between(0.4, 1.8) })],
        2 => vec![less(SUPPLY, 0.4), less(GRILLE, 0.5)],
        3 => vec![filter(between(0.0, 1.0))],
        _ => vec![less(RETURN, 0.5), ChangeKind::FilterLoading(FilterLoading { element: FILTER, factor: 1.5 })],
    };
    if number % 7 == 3 {
        kinds.push(ChangeKind::OtherTap(OtherTap { tap: "3".to_owned() }));
    }
    job.changes = kinds.iter().cloned().zip(1..).map(|(kind, index)| change(index, kind)).collect();
    Case { job, curves, before, after, third, coil_data, kinds }
}

pub(super) fn normal(random: &mut fastrand::Rng) -> f64 {
    (-2.0 * (1.0 - random.f64()).ln()).sqrt() * (std::f64::consts::TAU * random.f64()).cos()
}

/// A part of a world's path: `drop·(Q/at)ⁿ`.
#[derive(Clone, Copy)]
struct Law {
    element: Option<u32>,
    at: f64,
    drop: f64,
    exponent: f64,
}

fn total(laws: &[Law], cfm: f64) -> f64 {
    laws.iter().map(|law| law.drop * (cfm / law.at).powf(law.exponent)).sum()
}

/// Where a curve, times a factor, meets a path, by halving.
fn meet(curve: &TapCurve, factor: f64, laws: &[Law]) -> f64 {
    let airflow = |esp: f64| factor * curve.value_and_slope(esp).0;
    let (mut low, mut high) = (0.0, curve.end().0.in_wc());
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        *(if middle < total(laws, airflow(middle)) { &mut low } else { &mut high }) = middle;
    }
    airflow(low)
}

/// The same with a path that was read as one, `drop·(Q/at)ⁿ`.
pub(super) fn meet_lump(curve: &TapCurve, factor: f64, (at, drop, exponent): (f64, f64, f64)) -> f64 {
    meet(curve, factor, &[Law { element: None, at, drop, exponent }])
}

/// Airflow today and with the changes, in one world.
fn world(case: &Case, random: &mut fastrand::Rng, errs: bool) -> (f64, f64) {
    let on = if errs { 1.0 } else { 0.0 };
    let accuracy = &case.job.accuracy;
    let uniform = |random: &mut fastrand::Rng, limit: f64| on * limit * (2.0 * random.f64() - 1.0);
    let offset = accuracy.port_offset.in_wc();
    let gain = 1.0 + uniform(random, accuracy.manometer_fraction);
    let before = case.before * gain + uniform(random, offset);
    let after = case.after * gain + uniform(random, offset);
    let third = case.third.map(|third| third * gain + uniform(random, offset));
    let mut z = |u: f64| on * u * normal(random);
    let common = 1.0 + z(accuracy.table_fraction / 2.0);
    let factors: Vec<f64> = case.curves.iter().map(|_| common * (1.0 + z(accuracy.tap_fraction / 2.0))).collect();
    let shift = z(accuracy.exponent / 2.0);
    let data = 1.0 + z(accuracy.data_fraction / 2.0);
    let now = factors[1] * case.curves[1].value_and_slope(before + after).0;
    let held: Vec<u32> = case.kinds.iter().filter_map(|kind| Some(kind.element()?.0)).collect();
    let ends = third.map_or_else(|| vec![(0, 3, before)], |third| vec![(0, 2, third), (2, 3, before - third)]);
    let mut laws = Vec::new();
    for (from, to, drop) in ends.into_iter().chain([(3, 6, after)]) {
        let mut rest = drop;
        let mut open = Vec::new();
        for &(element, _, exponent, weight) in &PARTS[from..to] {
            match case.coil_data.filter(|_| element == COIL.0) {
                Some((at, by_data)) => {
                    let law = Law { element: Some(element), at, drop: by_data * data, exponent: 1.8 };
                    rest -= total(&[law], now);
                    laws.push(law);
                }
                None => open.push((element, exponent, weight)),
            }
        }
        let is_alone = open.len() == 1;
        if !(is_alone || open.iter().any(|(element, ..)| held.contains(element))) {
            laws.push(Law { element: None, at: now, drop: rest, exponent: 2.0 + shift });
            continue;
        }
        let own = (1.0 - 1.0 / open.len() as f64).sqrt();
        // A stretch that something is held of is parted by guesses, one for each of its elements; alone there is none.
        let mut odds = || z(own * Accuracy::default().guessed_odds.ln() / 2.0).exp();
        let weights: Vec<(u32, f64, f64)> =
            open.iter().map(|(element, exponent, weight)| (*element, *exponent, weight * odds())).collect();
        let all: f64 = weights.iter().map(|(.., weight)| weight).sum();
        laws.extend(weights.iter().map(|(element, exponent, weight)| Law {
            element: Some(*element),
            at: now,
            drop: rest * weight / all,
            // What changes alone take hold of keeps the square law of its stretch.
            exponent: if is_alone { *exponent } else { 2.0 } + shift,
        }));
    }
    let mut tap = 1;
    for kind in &case.kinds {
        let strength = 1.0 + z(Accuracy::default().change_fraction / 2.0);
        let own = 1.0 + z(accuracy.data_fraction / 2.0);
        let part = kind.element().and_then(|id| laws.iter_mut().find(|law| law.element == Some(id.0)));
        match (kind, part) {
            (ChangeKind::LessByHand(less), Some(part)) => part.drop *= 1.0 - less.fraction * strength,
            (ChangeKind::FilterLoading(loading), Some(part)) => part.drop *= 1.0 + (loading.factor - 1.0) * strength,
            (ChangeKind::ByData(new), Some(part)) => {
                let drop = new.data.at_airflow(Airflow::from_cfm(1200.0)).in_wc() * own;
                (part.at, part.drop, part.exponent) = (1200.0, drop, 1.2);
            }
            (ChangeKind::OtherTap(_), None) => tap = 2,
            (kind, _) => panic!("{kind:?}"),
        }
    }
    (now, meet(&case.curves[tap], factors[tap], &laws))
}

#[test]
fn plus_or_minus_holds_in_95_of_100_worlds() {
    let mut random = fastrand::Rng::with_seed(20_261_130);
    let mut all = [0; 3];
    let mut told = Vec::new();
    for number in 0..20 {
        let case = case(&mut random, number);
        let answer = Answer::of(&case.job);
        let running = answer.point().expect("it runs");
        let after = answer.with_changes().expect("changes");
        assert!(after.refused.is_empty(), "{number}: {:?}", after.refused);
        let runs = after.system.runs().expect("a point");
        let (now, then) = world(&case, &mut random, false);
        assert!((now - running.now.airflow.cfm()).abs() < 1e-6 * now, "{number}: today {now}, not {:?}", running.now);
        assert!((then - runs.airflow().cfm()).abs() < 1e-6 * then, "{number}: then {then}, not {:?}", runs.crossing);
        let spreads = [running.system.spreads.now, runs.spread.airflow, runs.spread.gain].map(Airflow::cfm);
        let mut inside = [0; 3];
        for _ in 0..WORLDS {
            let (true_now, true_then) = world(&case, &mut random, true);
            let off = [true_now - now, true_then - then, (true_then - true_now) - (then - now)];
            for (index, off) in off.iter().enumerate() {
                inside[index] += usize::from(off.abs() <= spreads[index]);
            }
        }
        for (all, inside) in all.iter_mut().zip(inside) {
            *all += inside;
        }
        let share = inside.map(|inside| inside as f64 / WORLDS as f64);
        told.push(format!("{number}: ± {spreads:.0?} cfm hold in {share:.3?}, gain {:.0}", then - now));
        assert!(share.iter().all(|share| (0.92..=0.98).contains(share)), "{told:#?}");
    }
    let share = all.map(|inside| inside as f64 / (20 * WORLDS) as f64);
    assert!(share.iter().all(|share| (0.93..=0.97).contains(share)), "today, then, gain: {share:.4?}\n{told:#?}");
}
