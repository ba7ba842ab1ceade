//! How long a crossing of a path of many parts takes, a whole answer with changes, and the search for the cheapest set.

#[path = "jobs.rs"]
mod jobs;

use std::hint::black_box;
use std::sync::atomic::AtomicBool;

use criterion::{Criterion, criterion_group, criterion_main};
use jobs::{face, id, six_changes, with};
use tapcross::edit::{Edit, OptionEdit, apply};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{ByData, ChangeKind, FilterLoading, LessByHand, OtherOpening, RepairRun};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::limits::MOST_OPTIONS;
use tapcross::model::facts::readings::ReadingSet;
use tapcross::model::facts::target::Target;
use tapcross::model::laws::system_curve::{PowerLaw, SystemCurve, SystemLoad};
use tapcross::model::path::tesp::ReadDifference;
use tapcross::model::read_next::Proposals;
use tapcross::model::search;
use tapcross::model::side_by_side;
use tapcross::model::solution::changed::Found;
use tapcross::model::solution::fit::{self, Solved};
use tapcross::model::solution::operation::{self, tap_crossing};
use tapcross::model::solution::worth;
use tapcross::units::{Airflow, Pressure};

fn eight_parts() -> SystemLoad {
    let mut external = SystemCurve::default();
    for exponent in [2.0, 1.9, 1.2, 1.8, 1.0, 1.9, 2.0, 1.85] {
        external.add_law(PowerLaw::through(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.1), exponent));
    }
    SystemLoad { external, entry_ratio: 1.0, ..SystemLoad::default() }
}

/// Sixteen changes of which few shut each other out.
fn sixteen_changes() -> Vec<ChangeKind> {
    let job = demo::gas_furnace();
    let less = |kind, fraction| ChangeKind::LessByHand(LessByHand { element: id(&job, kind), fraction });
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.12), 1.2);
    let mut kinds = six_changes();
    kinds.extend([
        less(ElementKind::ReturnGrille, 0.05),
        less(ElementKind::ReturnDuct, 0.06),
        less(ElementKind::Filter, 0.04),
        less(ElementKind::Coil, 0.03),
        less(ElementKind::SupplyDuct, 0.05),
        less(ElementKind::Registers, 0.04),
        ChangeKind::RepairRun(RepairRun { element: id(&job, ElementKind::ReturnDuct), fraction: 0.1 }),
        ChangeKind::OtherOpening(OtherOpening {
            element: id(&job, ElementKind::ReturnGrille),
            now: face(400.0),
            then: face(600.0),
        }),
        ChangeKind::FilterLoading(FilterLoading { element: id(&job, ElementKind::Filter), factor: 0.9 }),
    ]);
    kinds.extend(data.map(|data| ChangeKind::ByData(ByData { element: id(&job, ElementKind::Filter), data })));
    kinds
}

fn crossings(criterion: &mut Criterion) {
    let shapes = Answer::of(&demo::gas_furnace()).blower().shapes.clone();
    let load = eight_parts();
    criterion.bench_function("one crossing, eight parts", |bench| {
        bench.iter(|| tap_crossing(black_box(&shapes[3]), black_box(&load), None));
    });
    criterion.bench_function("five taps, eight parts", |bench| {
        bench.iter(|| {
            for shape in &*shapes {
                let _ = black_box(tap_crossing(black_box(shape), black_box(&load), None));
            }
        });
    });
}

fn answers(criterion: &mut Criterion) {
    let job = with(demo::gas_furnace(), six_changes());
    criterion.bench_function("whole answer, six changes with a second return", |bench| {
        bench.iter(|| Answer::of(black_box(&job)));
    });
    resolve(criterion, &job);
}

/// What every move of a hand needs anew: six changes together and each alone, on every tap.
fn resolve(criterion: &mut Criterion, job: &Job) {
    let answer = Answer::of(job);
    let Some((inputs, operation)) = answer.solved(job) else {
        return;
    };
    let crossings = operation::crossings(&inputs.shapes, &operation.load, &[]);
    let found = Found { inputs: &inputs, operation: &operation, crossings: &crossings, wish: None };
    criterion.bench_function("re-solve of six changes with a second return: every tap and each alone", |bench| {
        bench.iter(|| black_box(worth::solve(black_box(&found))));
    });
}

fn searches(criterion: &mut Criterion) {
    let found = with(demo::gas_furnace(), sixteen_changes());
    // Asked for more air than any set brings, or with a band that every set misses by a little, no set cuts the search short.
    let mut none = found.clone();
    none.target = Some(Target::Airflow(Airflow::from_cfm(1350.0)));
    none.limits.accept_band = 0.05;
    none.machine.as_mut().into_iter().for_each(|table| table.rated_maximum = Some(Pressure::from_in_wc(0.3)));
    for (name, job) in [("found", found), ("none, over the plate", none)] {
        criterion.bench_function(&format!("search of sixteen changes, {name}"), |bench| {
            bench.iter(|| search::cheapest(black_box(&job), &AtomicBool::new(false), &mut |_| {}));
        });
    }
}

/// Twelve sets of the gas furnace, each without other parts: what they say together, once every one is solved by itself.
fn visits(criterion: &mut Criterion) {
    let mut job = demo::gas_furnace();
    let found = job.set().clone();
    let pulled = [ElementKind::Registers, ElementKind::Filter, ElementKind::ReturnGrille];
    let parts: Vec<_> = pulled.iter().map(|kind| id(&job, *kind)).collect();
    let out = |number: usize| (0..3).filter(|bit| number >> bit & 1 == 1).map(|bit| parts[bit]).collect();
    job.sets = (0..12).map(|number| ReadingSet { parts_out: out(number), ..found.clone() }).collect();
    let solved: Vec<(Job, Answer)> = (0..12)
        .map(|set| {
            let own = Job { sets: vec![job.sets[set].clone()], ..job.clone() };
            let answer = Answer::of(&own);
            (own, answer)
        })
        .collect();
    let sets: Vec<Solved<'_>> = solved
        .iter()
        .enumerate()
        .filter_map(|(set, (job, answer))| {
            let (inputs, operation) = answer.solved(job)?;
            Some(Solved { set, inputs, operation })
        })
        .collect();
    criterion.bench_function("fit of twelve reading sets", |bench| {
        bench.iter(|| fit::fit(black_box(&sets), 0));
    });
    let mut random = fastrand::Rng::with_seed(15);
    criterion.bench_function("a draw of five reading sets: each read anew, solved and fitted", |bench| {
        bench.iter(|| {
            let drawn = black_box(&sets[..5]).iter().filter_map(|solved| drawn(solved, &mut random));
            fit::fit(&drawn.collect::<Vec<_>>(), 0)
        });
    });
}

/// A set with both readings off by what they scatter, solved again.
fn drawn<'a>(solved: &Solved<'a>, random: &mut fastrand::Rng) -> Option<Solved<'a>> {
    let mut off = || Pressure::from_in_wc(0.005 * (2.0 * random.f64() - 1.0));
    let mut inputs = solved.inputs.clone();
    if let ReadDifference::Ports { before, after } = &mut inputs.sum.read {
        before.1 += off();
        after.1 += off();
    }
    let operation = operation::operate(&inputs).ok()?;
    Some(Solved { set: solved.set, inputs, operation })
}

/// What follows from an answer besides: the next readings, ± by draws, and six options side by side.
fn after_the_answer(criterion: &mut Criterion) {
    let job = with(demo::gas_furnace(), six_changes());
    let answer = Answer::of(&job);
    criterion.bench_function("next readings, six changes", |bench| {
        bench.iter(|| Proposals::of(black_box(&job), black_box(&answer)));
    });
    criterion.bench_function("answer checked by draws, six changes", |bench| {
        bench.iter(|| Answer::checked(black_box(&job)));
    });
    let mut options = job;
    for _ in 1..MOST_OPTIONS {
        apply(&mut options, Edit::Option(OptionEdit::Copy)).expect("there is room");
    }
    criterion.bench_function("six options of six changes side by side", |bench| {
        bench.iter(|| side_by_side::columns(black_box(&options), black_box(&answer), Answer::of));
    });
}

criterion_group!(benches, crossings, answers, searches, visits, after_the_answer);
criterion_main!(benches);
