//! Mutated inputs for every reader of the project, and random edits, for a bounded time.
//!
//! `TAPCROSS_FUZZ_SECONDS` says how long a target takes, `TAPCROSS_FUZZ_SEED` from which seed; the same seed tries the same inputs in the same order.
//! An input that goes wrong is written to `target/tmp/fuzz/<target>/`, and belongs into `tests/fuzz/corpus/<target>/` once it is mended.
//! Where the process itself ends (a stack used up), `at-hand` there is the input.
//! `TAPCROSS_FUZZ_GROW` adds the shortest inputs with which a run found new ways to the corpus.

#[expect(unused_imports, reason = "the suite of the edits' own tests asks for more")]
#[path = "../arbitrary_edits/mod.rs"]
mod arbitrary_edits;
mod campaign;
mod corpus;
mod drafts;
mod edits;
mod mutate;
#[path = "../no_number/mod.rs"]
mod no_number;
mod quantities;
mod readers;
mod sentences;

use campaign::{Run, run, run_with};
use fastrand::Rng;
use tapcross::files::settings::{self, Settings};

/// A fault where something does not hold.
fn require(holds: bool, fault: impl FnOnce() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(fault()) }
}

fn jobs() -> Vec<Vec<u8>> {
    [corpus::files("assets/demo", ".ron"), corpus::files("tests/data/jobs", ".ron")].concat()
}

#[test]
fn no_job_file_is_misread() {
    run("job", [jobs(), corpus::of("job")].concat(), readers::job_text);
}

#[test]
fn no_blower_file_is_misread() {
    let tables = [corpus::files("blowers", ".ron"), corpus::files("tests/data/bad_blowers", ".ron")].concat();
    run("blower", [tables, corpus::of("blower")].concat(), readers::blower_text);
}

#[test]
fn no_settings_are_misread() {
    let usual = settings::write(&Settings::default()).expect("the usual settings are written").into_bytes();
    run("settings", [vec![usual], corpus::of("settings")].concat(), readers::settings_text);
}

#[test]
fn no_autosave_is_misread() {
    let heads = ["// Autosave of a job without a file\n", "// Autosave of \"/home/anna/hall furnace.ron\"\n"];
    let saved = jobs().into_iter().zip(heads.iter().cycle()).map(|(job, head)| [head.as_bytes(), &job[..]].concat());
    run("autosave", [saved.collect(), corpus::of("autosave")].concat(), readers::autosave_bytes);
}

#[test]
fn no_pasted_table_is_misread() {
    run("paste", [drafts::shipped_grids(), corpus::of("paste")].concat(), drafts::pasted);
}

#[test]
fn no_typed_quantity_is_misread() {
    run("quantities", corpus::of("quantities"), quantities::lines);
}

#[test]
fn no_typed_table_is_misread() {
    run("draft", [drafts::shipped(), corpus::of("draft")].concat(), drafts::typed);
}

#[test]
fn no_row_of_edits_breaks_a_job() {
    let mut rng = Rng::with_seed(Run::of_environment().seed);
    run_with("edits", corpus::of("edits"), |parents| edits::steps(&mut rng, parents), edits::done);
}
