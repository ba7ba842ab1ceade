//! Whatever an edit accepts, a file holds: wild edits one after the other on jobs of every kind, each job written and read again.

use std::collections::BTreeSet;
use std::mem::discriminant;

use proptest::prelude::*;
use tapcross::files::job_file;
use tapcross::history::History;
use tapcross::model::answer::Answer;
use tapcross::model::job::Job;

mod arbitrary_edits;

use arbitrary_edits::{CHANGE_KINDS, KINDS, Wild, beginnings, seeded};

/// Edits that are tried on one job, one after the other.
const TRIES: usize = 60;

/// Applies wild edits to a job; after each that is taken, the job can be written, read and answered, and undone.
fn edited(name: &str, job: Job, numbers: &mut dyn FnMut() -> u64) -> usize {
    let mut history = History::of_saved(job);
    let mut taken = 0;
    for _ in 0..TRIES {
        let before = history.job().clone();
        let edit = Wild::new(numbers).edit(&before);
        let said = format!("{edit:?}");
        if let Err(sentence) = history.apply(edit) {
            assert!(!sentence.trim().is_empty(), "{name}: {said} is refused without a word");
            assert_eq!(history.job(), &before, "{name}: {said} is refused ({sentence}) and has changed the job");
            continue;
        }
        taken += 1;
        a_file_holds(name, &said, history.job());
        if history.job() != &before && history.undo_label().is_some() {
            let after = history.job().clone();
            history.undo();
            history.redo();
            assert_eq!(history.job(), &after, "{name}: undo and redo of {said}");
        }
    }
    taken
}

/// A job that an edit has left is one that a file holds and that has an answer.
fn a_file_holds(name: &str, edit: &str, job: &Job) {
    if let Err(refused) = job_file::check(job) {
        panic!("{name}: {edit} is taken, and no file holds the job: {refused}");
    }
    let text = job_file::write(job);
    let read = job_file::parse(&text).unwrap_or_else(|refused| panic!("{name}: after {edit}: {refused}"));
    assert_eq!(&read, job, "{name}: after {edit} the job comes back another");
    let _ = Answer::of(job);
}

proptest! {
    // A smaller seed is no simpler case.
    #![proptest_config(ProptestConfig { cases: 48, max_shrink_iters: 0, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_an_edit_accepts_a_file_holds(seed in any::<u64>()) {
        for (name, job) in beginnings() {
            edited(&name, job, &mut seeded(seed));
        }
    }
}

#[test]
fn the_wild_edits_are_of_every_kind_and_many_are_taken() {
    let mut numbers = seeded(1);
    let mut kinds = BTreeSet::new();
    let mut changes = BTreeSet::new();
    let mut taken = 0;
    for (name, job) in beginnings() {
        for kind in (0..KINDS).cycle().take(KINDS * 8) {
            kinds.insert(format!("{:?}", discriminant(&Wild::new(&mut numbers).edit_of(kind, &job))));
        }
        for kind in 0..CHANGE_KINDS {
            changes.insert(format!("{:?}", discriminant(&Wild::new(&mut numbers).change_kind_of(kind, &job))));
        }
        taken += edited(&name, job, &mut numbers);
    }
    let declared = [
        kinds_in(include_str!("../src/edit.rs"), "pub enum Edit {"),
        kinds_in(include_str!("../src/model/change/mod.rs"), "pub enum ChangeKind {"),
    ];
    assert_eq!([kinds.len(), changes.len()], declared, "kinds of edits and of changes");
    assert!(taken > TRIES, "{taken} edits were taken");
}

/// How many cases a source declares for an enum.
fn kinds_in(source: &str, head: &str) -> usize {
    let (_, body) = source.split_once(head).expect("the enum");
    let (body, _) = body.split_once("\n}").expect("its end");
    let is_case = |line: &&str| line.strip_prefix("    ").is_some_and(|rest| rest.starts_with(char::is_uppercase));
    body.lines().filter(is_case).count()
}
