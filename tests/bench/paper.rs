//! How long a report takes on its way to paper.

#[path = "jobs.rs"]
mod jobs;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tapcross::files::demo;
use tapcross::model::search;
use tapcross::paper::printed::{Asked, Reported, Shown, bytes};
use tapcross::report::form::{Form, Paper, Scale};

fn to_paper(criterion: &mut Criterion) {
    let six = jobs::with(demo::gas_furnace(), jobs::six_changes());
    let forms = [("PDF", Form::Pdf(Paper::Letter)), ("SVG", Form::Svg), ("PNG", Form::Png(Scale::default()))];
    for (name, form) in forms {
        criterion.bench_function(&format!("a report of six changes as {name}"), |bench| {
            bench.iter(|| {
                let reported = [Reported::of("job.ron", black_box(six.clone()))];
                bytes(form, &reported, Asked::One, &Shown::default(), &search::to_the_end)
            });
        });
    }
}

criterion_group!(benches, to_paper);
criterion_main!(benches);
