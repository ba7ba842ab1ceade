//! How long 5,000 blower tables take to load from a folder, one keystroke of search among them, and finding those of one name.

use std::fs;
use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use tapcross::files::blower_file;
use tapcross::files::library::{Library, LibraryEntry, Origin, load_folder};
use tapcross::model::facts::blower::BlowerTable;

/// Tables in the library of the bench.
const TABLES: usize = 5000;

/// The texts of 5,000 tables: the shipped machines over and over, each under a name of its own.
fn texts() -> Vec<String> {
    let (library, _) = Library::shipped();
    let shipped = library.entries.iter().cycle().take(TABLES);
    let renamed = shipped.enumerate().map(|(number, entry)| {
        let mut table = entry.table.clone();
        table.name = format!("{} no. {number}", table.name);
        blower_file::write(&table)
    });
    renamed.collect()
}

fn write_folder(folder: &Path, texts: &[String]) {
    for (number, text) in texts.iter().enumerate() {
        fs::write(folder.join(format!("{number:04}.ron")), text).expect("the bench's own folder can be written");
    }
}

fn load(criterion: &mut Criterion) {
    let texts = texts();
    let folder = tempfile::tempdir().expect("a folder for the bench");
    write_folder(folder.path(), &texts);
    let mut group = criterion.benchmark_group("5,000 tables");
    group.sample_size(10).sampling_mode(SamplingMode::Flat);
    group.bench_function("parse", |bench| {
        bench.iter(|| texts.iter().filter(|text| blower_file::parse(black_box(text)).is_ok()).count());
    });
    group.bench_function("load from a folder", |bench| {
        bench.iter(|| {
            let (entries, problems) = load_folder(black_box(folder.path()));
            assert_eq!((entries.len(), problems.len()), (TABLES, 0));
            entries
        });
    });
    group.finish();
}

fn search(criterion: &mut Criterion) {
    let tables = texts().into_iter().map(|text| blower_file::parse(&text).expect("a table that was just written"));
    let origin = Origin::Shipped("bench");
    let library = Library::of(tables.map(|table| LibraryEntry::new(table, origin.clone())).collect());
    let mut group = criterion.benchmark_group("a keystroke among 5,000 tables");
    for words in ["a", "heat-pump", "psc 3.5 ton", "gf-80t no. 49", "nothing like it"] {
        group.bench_function(words, |bench| bench.iter(|| library.search(black_box(words))));
    }
    group.finish();
}

/// What is done on the drawing thread: a table is kept, and the list asks for the twins of the rows that are seen.
fn twins(criterion: &mut Criterion) {
    let named = |(number, mut table): (usize, BlowerTable)| {
        table.name = format!("Table {}", number / 2);
        LibraryEntry::new(table, Origin::Own(format!("{number}.ron").into()))
    };
    let tables = texts().into_iter().map(|text| blower_file::parse(&text).expect("a table that was just written"));
    let mut library = Library::of(tables.enumerate().map(named).collect());
    let kept = library.entries[TABLES / 2].clone();
    let mut group = criterion.benchmark_group("twins among 5,000 tables");
    group.bench_function("keep one", |bench| bench.iter(|| library.put_own(black_box(kept.clone()))));
    group.bench_function("of ten rows", |bench| {
        bench.iter(|| (0..10).filter_map(|row| library.twin(black_box(row))).count());
    });
    group.finish();
}

criterion_group!(benches, load, search, twins);
criterion_main!(benches);
