//! The readers of files: jobs, blower tables, settings, autosaves.

use std::collections::BTreeSet;
use std::path::Path;
use std::time::SystemTime;

use tapcross::edit::{self, Edit};
use tapcross::files::{autosave, blower_file, job_file, library, settings};
use tapcross::model::answer::Answer;
use tapcross::model::facts::blower::BlowerTable;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::table_check::{self, TableProblem};
use tapcross::model::search;
use tapcross::report::json::{self, Report};
use tapcross::units::UnitSystem;

use crate::campaign::{Verdict, shape_of};
use crate::{no_number, require, sentences};

/// A job's text is refused in a sentence, or means a job that is written, read back and reported.
pub(crate) fn job_text(input: &[u8]) -> Verdict {
    let Ok(text) = std::str::from_utf8(input) else { return job_bytes(input) };
    match job_file::parse(text) {
        Ok(job) => job_holds(&job),
        Err(refused) => refusal(&refused.to_string(), text),
    }
}

/// Bytes that are no text go through a file.
fn job_bytes(input: &[u8]) -> Verdict {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("job.ron");
    std::fs::write(&path, input).expect("a file in a temporary folder");
    match job_file::read(&path) {
        Ok(_) => Err("bytes that are no text were read as a job".to_owned()),
        Err(refused) => refusal(&format!("{refused:#}"), &String::from_utf8_lossy(input)),
    }
}

fn refusal(sentence: &str, about: &str) -> Verdict {
    sentences::check(sentence, about)?;
    Ok(shape_of(sentence))
}

/// What must hold of every job that a file may hold.
pub(crate) fn job_holds(job: &Job) -> Verdict {
    let written = job_file::write(job);
    let again = job_file::parse(&written).map_err(|refused| format!("not read back: {refused}"))?;
    require(again == *job, || "a job comes back different from its own text".to_owned())?;
    require(job_file::write(&again) == written, || "a job is written in two ways".to_owned())?;
    job_file::check(job).map_err(|refused| format!("a job that was read is refused: {refused}"))?;
    report_holds(job)
}

/// The report of a job writes, and claims no figure that is none.
fn report_holds(job: &Job) -> Verdict {
    let report = Report::of("job.ron", job, &Answer::of(job), search::to_the_end(job));
    let text = json::one(&report).map_err(|error| format!("no report: {error}"))?;
    let plain = ron::to_string(&report).map_err(|error| format!("no report: {error}"))?;
    no_number::check(&plain)?;
    Ok(code_words(&text))
}

/// The report's own words: the same for jobs that are answered alike.
fn code_words(report: &str) -> String {
    let is_code = |word: &&str| word.len() < 40 && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
    let words: BTreeSet<&str> = report.split('"').skip(1).step_by(2).filter(is_code).collect();
    words.into_iter().collect::<Vec<_>>().join(" ")
}

/// A blower table's text is refused in a sentence, or means a table that is written, read back, judged and run.
pub(crate) fn blower_text(input: &[u8]) -> Verdict {
    let Ok(text) = std::str::from_utf8(input) else { return blower_bytes(input) };
    let table = match blower_file::parse(text) {
        Ok(table) => table,
        Err(refused) => return refusal(&refused.to_string(), text),
    };
    table_holds(&table)?;
    let said = |one: &TableProblem| one.sentence(&table, UnitSystem::InchPound);
    let remarks: Vec<String> = table_check::check(&table).iter().map(said).collect();
    for remark in &remarks {
        sentences::check(remark, text)?;
    }
    let mut job = tapcross::files::demo::heat_pump();
    match edit::apply(&mut job, Edit::Machine(Box::new(table))) {
        Ok(()) => {
            Ok(format!("{} {}", report_holds(&job)?, remarks.iter().map(|remark| shape_of(remark)).collect::<String>()))
        }
        Err(refused) => refusal(&refused.to_string(), text),
    }
}

/// Bytes that are no text stand in a folder of tables, and are told of.
fn blower_bytes(input: &[u8]) -> Verdict {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(folder.path().join("table.ron"), input).expect("a file in a temporary folder");
    let (read, problems) = library::load_folder(folder.path());
    require(read.is_empty() && problems.len() == 1, || {
        format!("{} tables and {} problems", read.len(), problems.len())
    })?;
    refusal(&problems[0].message, &String::from_utf8_lossy(input))
}

/// A table comes back from its own text.
pub(crate) fn table_holds(table: &BlowerTable) -> Result<(), String> {
    let written = blower_file::write(table);
    let again = blower_file::parse(&written).map_err(|refused| format!("not read back: {refused}"))?;
    require(again == *table, || "a table comes back different from its own text".to_owned())?;
    require(blower_file::write(&again) == written, || "a table is written in two ways".to_owned())
}

/// Any text gives settings that are written and read back, and at most a sentence.
pub(crate) fn settings_text(input: &[u8]) -> Verdict {
    let text = String::from_utf8_lossy(input);
    let (read, told) = settings::parse(&text);
    let written = settings::write(&read).map_err(|error| format!("not written: {error:#}"))?;
    let (again, told_again) = settings::parse(&written);
    require(again == read && told_again.is_none(), || {
        format!("settings come back different: {told_again:?}\n{written}")
    })?;
    told.map_or_else(|| Ok(shape_of(&written)), |told| refusal(&told, &text))
}

/// Any autosave is offered or told of, and left as it is.
pub(crate) fn autosave_bytes(input: &[u8]) -> Verdict {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join(format!("{}.ron", autosave::window_id(1, SystemTime::now())));
    std::fs::write(&path, input).expect("a file in a temporary folder");
    let found = autosave::pending(folder.path());
    let about = format!("{}{}", String::from_utf8_lossy(input), path.display());
    let shape = shape_of(&offered_or_told(&found, &about)?.replace(&path.display().to_string(), ""));
    drop(found);
    require(is_untouched(&path, input), || "an autosave that nobody wanted yet was touched".to_owned())?;
    Ok(shape)
}

fn offered_or_told(found: &autosave::Pending, about: &str) -> Verdict {
    for problem in &found.problems {
        sentences::check(&problem.to_string(), about)?;
    }
    match (&found.jobs[..], &found.problems[..]) {
        ([], [problem]) => Ok(problem.to_string()),
        ([offered], _) => Ok(format!("{} {:?}", job_holds(&offered.job)?, offered.original.is_some())),
        _ => Err(format!("{} jobs are offered and {} problems told", found.jobs.len(), found.problems.len())),
    }
}

fn is_untouched(path: &Path, input: &[u8]) -> bool {
    std::fs::read(path).is_ok_and(|bytes| bytes == input)
}
