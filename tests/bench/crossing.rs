//! How long a crossing takes, alone and for five taps, and a whole answer.
//!
//! `tests/bench/scipy_crossings.py` times the same crossings by scipy.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::blower::{Cell, MotorFamily, Row, Tap, TapData};
use tapcross::model::laws::system_curve::{PowerLaw, SystemCurve, SystemLoad};
use tapcross::model::laws::tap_curve::{TapShape, shape_of};
use tapcross::model::solution::operation::tap_crossing;
use tapcross::units::{Airflow, Pressure};

/// Table A of the reference checks (invented).
const CFM: [f64; 10] = [1412.0, 1383.0, 1347.0, 1303.0, 1251.0, 1189.0, 1116.0, 1030.0, 928.0, 807.0];
/// Five taps made of it.
const SCALES: [f64; 5] = [0.70, 0.80, 0.90, 1.00, 1.10];

fn tap(scale: f64) -> Tap {
    let rows = CFM.iter().zip(1..).map(|(cfm, tenth)| Row {
        esp: Pressure::from_in_wc(f64::from(tenth) / 10.0),
        cell: Cell::Airflow(Airflow::from_cfm(scale * cfm), None),
        power: None,
        speed: None,
    });
    Tap { name: "1".to_owned(), data: TapData::Column(rows.collect()) }
}

fn shape(scale: f64) -> TapShape {
    shape_of(&tap(scale), MotorFamily::PermanentSplitCapacitor)
}

fn load(external: SystemCurve) -> SystemLoad {
    SystemLoad { external, entry_ratio: 1.0, ..SystemLoad::default() }
}

/// One lump, square law, through 0.75 in. w.c. at 1,030 cfm: it meets every tap between two rows.
fn one_lump() -> SystemLoad {
    load(SystemCurve::square_through(Airflow::from_cfm(1030.0), Pressure::from_in_wc(0.75)))
}

/// Filter, coil, return and supply, each with its exponent, 0.75 in. w.c. at 1,030 cfm in all.
fn four_parts() -> SystemLoad {
    let mut path = SystemCurve::default();
    for (drop, exponent) in [(0.24, 1.5), (0.20, 1.8), (0.20, 2.0), (0.11, 2.0)] {
        path.add_law(PowerLaw::through(Airflow::from_cfm(1030.0), Pressure::from_in_wc(drop), exponent));
    }
    load(path)
}

fn crossings(criterion: &mut Criterion) {
    let (one, lump, parts) = (shape(1.0), one_lump(), four_parts());
    let five = SCALES.map(shape);
    criterion.bench_function("one crossing, one lump", |bench| {
        bench.iter(|| tap_crossing(black_box(&one), black_box(&lump), None));
    });
    criterion.bench_function("one crossing, four parts", |bench| {
        bench.iter(|| tap_crossing(black_box(&one), black_box(&parts), None));
    });
    criterion.bench_function("five taps, one lump", |bench| {
        bench.iter(|| {
            for tap in &five {
                let _ = black_box(tap_crossing(black_box(tap), black_box(&lump), None));
            }
        });
    });
}

fn answers(criterion: &mut Criterion) {
    let jobs = [("heat pump", demo::heat_pump()), ("gas furnace", demo::gas_furnace())];
    for (name, job) in &jobs {
        criterion.bench_function(&format!("whole answer, {name} demo"), |bench| {
            bench.iter(|| Answer::of(black_box(job)));
        });
    }
}

criterion_group!(benches, crossings, answers);
criterion_main!(benches);
