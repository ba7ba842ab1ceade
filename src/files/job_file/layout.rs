//! The text of a job file, laid out as a person would: one line a field, an element, a port and a reading.

use ron::ser::PrettyConfig;
use serde::Serialize;

use crate::files::blower_file;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;

use super::dto::ReturnOpeningsValue;
use super::{FIRST_FIELD, FORMAT, change_from_model, from_model, options};

/// One step of indentation.
const STEP: &str = "    ";

/// First lines of every job file.
const HEAD: &str = "// A Tapcross job: every number says its unit in its field's name.\n#![enable(implicit_some)]\n";

/// How many levels of brackets of a field are broken into lines; what lies deeper stays on one line.
#[derive(Clone, Copy)]
enum Broken {
    /// None: the whole value on one line.
    No = 0,
    /// The outermost: one line for each part of it.
    Parts = 1,
    /// A list of reading sets: one line for each field and for each reading.
    Sets = 3,
}

/// The whole file.
pub(super) fn text(job: &Job) -> String {
    let mut body = format!("{STEP}{FIRST_FIELD}: {FORMAT},\n");
    about(job, &mut body);
    body += &field("path", &from_model::path(&job.path), Broken::Parts);
    body += &field("ports", &from_model::ports(&job.path), Broken::Parts);
    if let Some(bypass) = &job.path.bypass {
        body += &field("bypass", &from_model::bypass(bypass), Broken::No);
    }
    let sets: Vec<_> = job.sets.iter().map(from_model::set).collect();
    body += &field("sets", &sets, Broken::Sets);
    if !job.ducts.is_empty() {
        body += &field("ducts", &from_model::ducts(&job.ducts), Broken::No);
    }
    if !job.changes.is_empty() {
        let changes: Vec<_> =
            job.changes.iter().map(|change| change_from_model::change(change, &job.changes)).collect();
        body += &field("changes", &changes, Broken::Parts);
    }
    body += &other_machines(job);
    if let Some(target) = &job.target {
        body += &field("target", &from_model::target(target), Broken::No);
    }
    body += &field("limits", &from_model::limits(&job.limits), Broken::Parts);
    body += &field("accuracy", &from_model::accuracy(&job.accuracy), Broken::Parts);
    body += &job.machine.as_ref().map_or_else(String::new, machine);
    format!("{HEAD}(\n{body})\n")
}

/// The fields before the path.
fn about(job: &Job, body: &mut String) {
    let texts = [("title", &job.title), ("place", &job.place), ("date", &job.date), ("notes", &job.notes)];
    for (name, text) in texts {
        *body += &field(name, text, Broken::No);
    }
    if job.illustrative {
        *body += &field("illustrative", &true, Broken::No);
    }
    if let Some(capacity) = job.outdoor_unit {
        *body += &field("outdoor_unit_tons", &capacity.tons(), Broken::No);
    }
    *body += &field("return_openings", &ReturnOpeningsValue(job.return_openings), Broken::No);
}

/// One field, one step in.
fn field(name: &str, value: &impl Serialize, broken: Broken) -> String {
    let pretty = PrettyConfig::new().new_line("\n").indentor(STEP).depth_limit(broken as usize);
    // A value that cannot be written is told in the file's place: such a text does not open again, so saving refuses it.
    let value = options().to_string_pretty(value, pretty).unwrap_or_else(|fault| format!("!{fault}"));
    indented(&format!("{name}: {value},"))
}

/// The machine as its own blower file has it, one step in.
fn machine(table: &BlowerTable) -> String {
    indented(&format!("machine: {},", bare(table)))
}

/// A table as its own file has it, without that file's first lines.
fn bare(table: &BlowerTable) -> String {
    let text = blower_file::write(table);
    let body: Vec<&str> = text.lines().skip_while(|line| !line.starts_with('(')).collect();
    body.join("\n")
}

/// Tables of the machines that changes put on the ducts, in the order of those changes.
fn other_machines(job: &Job) -> String {
    let tables: Vec<String> = change_from_model::machines(&job.changes).map(|table| indented(&bare(table))).collect();
    if tables.is_empty() {
        return String::new();
    }
    indented(&format!("other_machines: [\n{}],", tables.concat().replace(")\n", "),\n")))
}

fn indented(lines: &str) -> String {
    lines.lines().fold(String::new(), |text, line| text + STEP + line + "\n")
}
