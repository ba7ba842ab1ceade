//! The text of a job file, laid out as a person would: one line a field, an element, a port and a reading.

use ron::ser::PrettyConfig;
use serde::Serialize;
use serde_with::SerializeAs;
use serde_with::ser::SerializeAsWrap;

use super::airflow_file::AnchorDto;
use super::change_file::OptionDto;
use super::common::{CallTargetDto, TargetDto};
use super::dto::{AccuracyDto, CostsDto, DuctsDto, LimitsDto, SetDto};
use super::path::{BypassDto, PathPartDto, PortDto};
use super::{FORMAT, change_file};
use crate::files::quantities::Tons;
use crate::files::words::OpeningsDto;
use crate::files::{blower_file, head, own_source, ron_words};
use crate::model::facts::change::Change;
use crate::model::facts::job::Job;
use crate::model::facts::options::{JobOption, Options};

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
    let path: Vec<_> = job.path.elements.iter().map(PathPartDto::from).collect();
    let call_targets: Vec<_> = job.call_targets.iter().copied().map(CallTargetDto::from).collect();
    let parts = [
        format!("{STEP}{}: {FORMAT},\n", head::JOB),
        field("title", &job.title, Broken::No),
        field("place", &job.place, Broken::No),
        field("date", &job.date, Broken::No),
        field("notes", &job.notes, Broken::No),
        given(job.illustrative.then(|| field("illustrative", &true, Broken::No))),
        given(job.outdoor_unit.map(|capacity| mirrored::<Tons, _>("outdoor_unit_tons", &capacity, Broken::No))),
        mirrored::<OpeningsDto, _>("return_openings", &job.return_openings, Broken::No),
        field("path", &path, Broken::Parts),
        mirrored::<Vec<PortDto>, _>("ports", &job.path.ports, Broken::Parts),
        given(job.path.bypass.as_ref().map(|bypass| field("bypass", &BypassDto::from(bypass), Broken::No))),
        mirrored::<Vec<SetDto>, _>("sets", &job.sets, Broken::Sets),
        given((job.judged > 0).then(|| field("judged", &(job.judged + 1), Broken::No))),
        given(job.anchor.map(|anchor| field("anchor", &AnchorDto::from(anchor), Broken::No))),
        given((!job.ducts.is_empty()).then(|| mirrored::<DuctsDto, _>("ducts", &job.ducts, Broken::No))),
        options(job),
        given((!job.costs.is_empty()).then(|| mirrored::<CostsDto, _>("costs", &job.costs, Broken::No))),
        other_machines(job),
        given(job.target.map(|target| field("target", &TargetDto::from(target), Broken::No))),
        given((!call_targets.is_empty()).then(|| field("call_targets", &call_targets, Broken::Parts))),
        mirrored::<LimitsDto, _>("limits", &job.limits, Broken::Parts),
        mirrored::<AccuracyDto, _>("accuracy", &job.accuracy, Broken::Parts),
        given(
            (!job.sources.is_empty())
                .then(|| field("figure_sources", &own_source::to_file(&job.sources), Broken::Parts)),
        ),
        given(job.machine.as_ref().map(|table| indented(&format!("machine: {},", blower_file::body(table))))),
    ];
    format!("{HEAD}(\n{})\n", parts.concat())
}

/// A field that may be left out.
fn given(field: Option<String>) -> String {
    field.unwrap_or_default()
}

/// One field of a type of the model's, by its mirror.
fn mirrored<M: SerializeAs<T>, T>(name: &str, value: &T, broken: Broken) -> String {
    field(name, &SerializeAsWrap::<T, M>::new(value), broken)
}

/// One field, one step in.
fn field(name: &str, value: &impl Serialize, broken: Broken) -> String {
    let pretty = PrettyConfig::new().new_line("\n").indentor(STEP).depth_limit(broken as usize);
    // A value that cannot be written is told in the file's place: such a text does not open again, so saving refuses it.
    let value = ron_words::options().to_string_pretty(value, pretty).unwrap_or_else(|fault| format!("!{fault}"));
    indented(&format!("{name}: {value},"))
}

/// The changes, or where somebody has spoken of options each of them with its own.
fn options(job: &Job) -> String {
    let all = |changes: &[Change]| changes.iter().map(|change| change_file::to_file(change, job)).collect::<Vec<_>>();
    if job.options.are_unsaid() {
        return given((!job.changes.is_empty()).then(|| field("changes", &all(&job.changes), Broken::Parts)));
    }
    let Options { shown, before, after } = &job.options;
    let waiting = |option: &JobOption| OptionDto::new(&option.about, all(&option.changes));
    let options: Vec<OptionDto> = before
        .iter()
        .map(waiting)
        .chain([OptionDto::new(shown, all(&job.changes))])
        .chain(after.iter().map(waiting))
        .collect();
    field("options", &options, Broken::Sets) + &field("shown", &(before.len() + 1), Broken::No)
}

/// Tables of the machines that changes put on the ducts, in the order of those changes.
fn other_machines(job: &Job) -> String {
    let tables: Vec<String> =
        change_file::machines(job.changes_of_all()).map(|table| indented(&blower_file::body(table))).collect();
    if tables.is_empty() {
        return String::new();
    }
    indented(&format!("other_machines: [\n{}],", tables.concat().replace(")\n", "),\n")))
}

fn indented(lines: &str) -> String {
    lines.lines().fold(String::new(), |text, line| text + STEP + line + "\n")
}
