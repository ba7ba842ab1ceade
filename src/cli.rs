//! The command line: what was asked for, and the report without a window.
//!
//! Four options need no argument parser of their own crate.
//!
//! Exit status, as command-line tools have it: 0 when every job was reported (also one whose readings give no operating point yet), 1 when a job could not be read or the report not written, 2 when the command line was not understood.
//! Every error is one line on standard error that begins with `tapcross: `.

mod tables;
mod usage;

use std::ffi::{OsStr, OsString};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use crate::files::atomic_write::write_atomically;
use crate::files::library::Library;
use crate::files::out_file::{self, OutFile};
use crate::files::places::Places;
use crate::files::{job_file, plain_file, settings};
use crate::model::facts::job::Job;
use crate::model::search;
use crate::paper::printed::{self, Reported, Shown};
use crate::report::form::{Form, Paper, Scale, Table};

pub use tables::{Said, Tables};
pub use usage::{HELP, UsageError};

/// Where a report goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Output {
    /// Standard output.
    Standard,
    /// A file, written whole or not at all, or a pipe or device, written into.
    File(PathBuf),
}

/// What was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Invocation {
    /// The window, on a job where one is named.
    Window {
        /// The job file.
        job: Option<PathBuf>,
    },
    /// Results as a file, without a window.
    Report {
        /// The job files, at least one; a field sheet without any is one for every machine.
        jobs: Vec<PathBuf>,
        /// What is written.
        form: Form,
        /// True where pages are on the paper of the settings, for no other was named.
        on_paper_of_settings: bool,
        /// Where it goes.
        output: Output,
    },
    /// Blower tables as sheets or as files of their own, without a window.
    Tables(Tables),
    /// The help text.
    Help,
    /// The version.
    Version,
}

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Everything that was asked for is done.
    Done,
    /// A job could not be read, or the report not written.
    Failed,
    /// The command line was not understood.
    Usage,
}

impl Status {
    /// The exit status: 0, 1 or 2.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Failed => 1,
            Self::Usage => 2,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status.code())
    }
}

/// Does what the words behind the program's name ask for; `open_window` runs the window until it is closed.
///
/// A window that cannot be opened is told as every other error is.
pub fn run(
    words: impl IntoIterator<Item = OsString>,
    open_window: impl FnOnce(Option<PathBuf>) -> Result<(), String>,
) -> ExitCode {
    let status = match parse(words) {
        Ok(Invocation::Window { job }) => done_or_told(open_window(job)),
        Ok(Invocation::Report { jobs, form, on_paper_of_settings, output }) => {
            report(&jobs, (form, on_paper_of_settings), &output)
        }
        Ok(Invocation::Tables(asked)) => tables::convert(&asked, &mut io::stderr().lock()),
        Ok(Invocation::Help) => print(HELP),
        Ok(Invocation::Version) => print(concat!("tapcross ", env!("CARGO_PKG_VERSION"), "\n")),
        Err(misunderstood) => {
            complain(&mut io::stderr().lock(), &misunderstood.to_string());
            Status::Usage
        }
    };
    status.into()
}

/// Understands the words behind the program's name.
///
/// # Errors
/// See [`UsageError`].
pub fn parse(words: impl IntoIterator<Item = OsString>) -> Result<Invocation, UsageError> {
    let asked = Asked::of(words)?;
    if asked.help {
        return Ok(Invocation::Help);
    }
    if asked.version {
        return Ok(Invocation::Version);
    }
    if asked.files.iter().any(|file| file.as_os_str() == "-") {
        return Err(UsageError::JobFromStandardInput);
    }
    if !matches!(asked.task, Some(Task::Tables)) {
        asked.without_tables()?;
    }
    match asked.task {
        Some(Task::Report) => report_of(asked),
        Some(Task::FieldSheet) => sheet_of(asked),
        Some(Task::Tables) => tables_of(asked),
        None => window_of(asked),
    }
}

/// What is done without a window, by the first word.
#[derive(Clone, Copy)]
enum Task {
    /// `report`.
    Report,
    /// `sheet`.
    FieldSheet,
    /// `tables`.
    Tables,
}

impl Task {
    fn of(word: &str) -> Option<Self> {
        match word {
            "report" => Some(Self::Report),
            "sheet" => Some(Self::FieldSheet),
            "tables" => Some(Self::Tables),
            _ => None,
        }
    }
}

/// The words as they stand, before they are held against each other.
#[derive(Default)]
struct Asked {
    help: bool,
    version: bool,
    task: Option<Task>,
    out: Option<OsString>,
    scale: Option<Scale>,
    table: Option<Table>,
    paper: Option<Paper>,
    of_tables: Said,
    replaces: bool,
    files: Vec<PathBuf>,
}

impl Asked {
    fn of(words: impl IntoIterator<Item = OsString>) -> Result<Self, UsageError> {
        let mut asked = Self::default();
        let mut words = words.into_iter();
        while let Some(word) = words.next() {
            match word.to_str() {
                Some("--") => asked.files.extend(words.by_ref().map(PathBuf::from)),
                Some("-h" | "--help") => asked.help = true,
                Some("-V" | "--version") => asked.version = true,
                Some("-o" | "--out") => asked.goes_to(words.next())?,
                Some(option) if takes_value(option) => asked.set(option, words.next().as_deref())?,
                Some(tables::REPLACE) => asked.replaces = true,
                Some(task) if asked.may_be_task(task) => asked.task = Task::of(task),
                Some("-") => asked.files.push(word.into()),
                _ if word.as_encoded_bytes().starts_with(b"-") => asked.option(&word)?,
                _ => asked.files.push(word.into()),
            }
        }
        Ok(asked)
    }

    /// True for the first word that is a task; behind it and behind a file it is a file's name.
    fn may_be_task(&self, word: &str) -> bool {
        self.task.is_none() && self.files.is_empty() && Task::of(word).is_some()
    }

    /// `--out=FILE`, or an option that is none.
    fn option(&mut self, word: &OsString) -> Result<(), UsageError> {
        let shown = word.to_string_lossy();
        match shown.split_once('=') {
            Some(("--out", _)) => self.goes_to(behind_out(word)),
            Some((option, value)) if takes_value(option) => self.set(option, Some(OsStr::new(value))),
            Some((option @ ("--help" | "--version" | tables::REPLACE), _)) => {
                Err(UsageError::NoValueWanted(option.to_owned()))
            }
            _ => Err(UsageError::UnknownOption(shown.into_owned())),
        }
    }

    /// What a form can be told besides.
    fn set(&mut self, option: &str, value: Option<&OsStr>) -> Result<(), UsageError> {
        let value = value.and_then(OsStr::to_str).unwrap_or_default();
        let refused = || UsageError::NoSuchValue(option.to_owned(), value.to_owned());
        let is_second = match option {
            "--scale" => {
                let factor = value.parse().ok().and_then(Scale::new);
                self.scale.replace(factor.ok_or_else(refused)?).is_some()
            }
            "--table" => {
                let table = Table::ALL.into_iter().find(|table| table.name() == value);
                self.table.replace(table.ok_or_else(refused)?).is_some()
            }
            option if tables::OPTIONS.contains(&option) => self.of_tables.set(option, value).ok_or_else(refused)?,
            _ => {
                let paper = Paper::ALL.into_iter().find(|paper| value.eq_ignore_ascii_case(paper.name()));
                self.paper.replace(paper.ok_or_else(refused)?).is_some()
            }
        };
        if is_second { Err(UsageError::Twice(option.to_owned())) } else { Ok(()) }
    }

    /// What is written into a file of this name.
    fn form(&self, output: &Output) -> Result<Form, UsageError> {
        let by_name = match output {
            Output::Standard => Form::Json,
            Output::File(file) => Form::of(file).ok_or_else(|| UsageError::NoSuchForm(file.clone()))?,
        };
        let form = match by_name {
            Form::Csv(_) => Form::Csv(self.table.unwrap_or_default()),
            Form::Png(_) => Form::Png(self.scale.unwrap_or_default()),
            Form::Pdf(_) => Form::Pdf(self.paper.unwrap_or_default()),
            form @ (Form::Json | Form::Svg | Form::FieldSheet(_)) => form,
        };
        if form.is_of_one_job() && self.files.len() > 1 {
            return Err(UsageError::SeveralForOneDrawing(form.ending(), self.files.len()));
        }
        self.without_idle(form)
    }

    /// A blank sheet in a file of this name.
    fn field_sheet(&self, output: &Output) -> Result<Form, UsageError> {
        let paper = self.paper.unwrap_or_default();
        let form = match output {
            Output::Standard => Form::FieldSheet(paper),
            Output::File(file) => Form::field_sheet(file, paper).ok_or_else(|| UsageError::SheetIsPdf(file.clone()))?,
        };
        self.without_idle(form)
    }

    /// The form, unless an option says nothing of it.
    fn without_idle(&self, form: Form) -> Result<Form, UsageError> {
        let idle = self.options().into_iter().find(|(_, of, is_given)| *is_given && *of != form.ending());
        idle.map_or(Ok(form), |(option, of, _)| Err(UsageError::Idle { option, of }))
    }

    /// Every option of a form, the ending that it belongs to, and whether it was given.
    const fn options(&self) -> [(&'static str, &'static str, bool); 3] {
        [
            ("--scale", "png", self.scale.is_some()),
            ("--table", "csv", self.table.is_some()),
            ("--paper", "pdf", self.paper.is_some()),
        ]
    }

    /// Refuses an option of tables where none are asked for.
    fn without_tables(&self) -> Result<(), UsageError> {
        let Said { kind, airflow, pressure, name } = &self.of_tables;
        let given = [kind.is_some(), airflow.is_some(), pressure.is_some(), name.is_some()];
        let option = tables::OPTIONS.into_iter().zip(given).find(|(_, is_given)| *is_given).map(|(option, _)| option);
        option.or(self.replaces.then_some(tables::REPLACE)).map_or(Ok(()), |option| Err(UsageError::OfTables(option)))
    }

    /// What is asked for, once all of it is understood.
    fn reported(self, form: Form, output: Output) -> Invocation {
        let on_paper_of_settings = form.paper().is_some() && self.paper.is_none();
        Invocation::Report { jobs: self.files, form, on_paper_of_settings, output }
    }

    /// Where the result goes: never in a job's place.
    fn output(&self) -> Result<Output, UsageError> {
        match &self.out {
            Some(file) if file != "-" => {
                let file = PathBuf::from(file);
                if would_replace_a_job(&file, &self.files) {
                    return Err(UsageError::OutIsAJob(file));
                }
                Ok(Output::File(file))
            }
            Some(_) | None => Ok(Output::Standard),
        }
    }

    fn goes_to(&mut self, file: Option<OsString>) -> Result<(), UsageError> {
        let file = file.filter(|file| !file.is_empty()).ok_or(UsageError::OutWithoutFile)?;
        if self.out.replace(file).is_some() {
            return Err(UsageError::OutTwice);
        }
        Ok(())
    }
}

/// The value of `--out=FILE`; a name that is not text has to stand as a word of its own.
fn behind_out(word: &OsString) -> Option<OsString> {
    word.to_str()?.strip_prefix("--out=").map(OsString::from)
}

fn window_of(asked: Asked) -> Result<Invocation, UsageError> {
    if asked.out.is_some() {
        return Err(UsageError::OutWithoutReport);
    }
    if let Some((option, ..)) = asked.options().into_iter().find(|(.., is_given)| *is_given) {
        return Err(UsageError::WithoutReport(option));
    }
    if asked.files.len() > 1 {
        return Err(UsageError::SeveralForTheWindow(asked.files.len()));
    }
    Ok(Invocation::Window { job: asked.files.into_iter().next() })
}

fn report_of(asked: Asked) -> Result<Invocation, UsageError> {
    if asked.files.is_empty() {
        return Err(UsageError::NoJob);
    }
    let output = asked.output()?;
    let form = asked.form(&output)?;
    Ok(asked.reported(form, output))
}

fn sheet_of(asked: Asked) -> Result<Invocation, UsageError> {
    let output = asked.output()?;
    let form = asked.field_sheet(&output)?;
    Ok(asked.reported(form, output))
}

fn tables_of(asked: Asked) -> Result<Invocation, UsageError> {
    if let Some((option, ..)) = asked.options().into_iter().find(|(.., is_given)| *is_given) {
        return Err(UsageError::WithoutReport(option));
    }
    let out = asked.out.filter(|out| out != "-").map(PathBuf::from);
    let (false, Some(out)) = (asked.files.is_empty(), out) else {
        return Err(UsageError::TablesNeedBoth);
    };
    Ok(Invocation::Tables(Tables { files: asked.files, out, said: asked.of_tables, replaces: asked.replaces }))
}

/// True for an option with a value of its own behind it.
fn takes_value(option: &str) -> bool {
    ["--scale", "--table", "--paper"].contains(&option) || tables::OPTIONS.contains(&option)
}

/// True for one of the jobs themselves by any of its names, and for any name that ends as a job's does, which is what `--out *.ron` comes to.
fn would_replace_a_job(file: &Path, jobs: &[PathBuf]) -> bool {
    let ends_as_a_job = |file: &Path| file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron"));
    let whole = |path: &Path| std::path::absolute(path).ok();
    let is_file = |job: &PathBuf| out_file::is_same(job, file) || (whole(job).is_some() && whole(job) == whole(file));
    ends_as_a_job(file) || ends_as_a_job(&out_file::behind_links(file)) || jobs.iter().any(is_file)
}

/// Reports jobs and says on standard error what went wrong; beside the form stands whether its pages are on the paper of the settings.
///
/// Jobs that cannot be read are left out of the report; when none can, nothing is written.
fn report(jobs: &[PathBuf], form: (Form, bool), output: &Output) -> Status {
    report_to(jobs, form, output, &mut io::stdout().lock(), &mut io::stderr().lock())
}

fn report_to(
    jobs: &[PathBuf],
    (form, on_paper_of_settings): (Form, bool),
    output: &Output,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Status {
    let mut read = Vec::new();
    for path in jobs {
        match read_one(path) {
            Ok(job) => read.push(job),
            Err(reason) => complain(err, &reason),
        }
    }
    let is_whole = read.len() == jobs.len();
    if jobs.is_empty() {
        read.push(Reported::of("", Job::default()));
    } else if read.is_empty() {
        return Status::Failed;
    }
    let asked = if jobs.len() == 1 { printed::Asked::One } else { printed::Asked::Several };
    let (form, shown) = with_settings(form, on_paper_of_settings, err);
    let bytes = printed::bytes(form, &read, asked, &shown, &search::to_the_end);
    match bytes.and_then(|bytes| deliver(&bytes, output, out)) {
        Err(reason) => {
            complain(err, &reason);
            Status::Failed
        }
        Ok(()) if is_whole => Status::Done,
        Ok(()) => Status::Failed,
    }
}

/// The form and how it is shown, by the settings: a report with their company at its head and each job's table held against the person's library, and pages on their paper where none was named. Settings that cannot be read are told of and done without.
fn with_settings(form: Form, on_their_paper: bool, err: &mut dyn Write) -> (Form, Shown) {
    if !on_their_paper && !matches!(form, Form::Pdf(_)) {
        return (form, Shown::default());
    }
    let places = Places::find().ok();
    let (settings, told) = places.as_ref().map(|places| settings::read(&places.settings)).unwrap_or_default();
    if let Some(told) = told {
        complain(err, &told);
    }
    let form = if on_their_paper { form.on(settings.paper) } else { form };
    if !matches!(form, Form::Pdf(_)) {
        return (form, Shown::default());
    }
    let library = places.map(|places| Library::with_own(&places.blowers)).unwrap_or_default();
    let company = Some(Arc::new(settings.company));
    (form, Shown { company, library: Arc::new(library), ..Shown::default() })
}

fn read_one(path: &Path) -> Result<Reported, String> {
    let job = job_file::read(path).map_err(|refused| path_first(path, &refused))?;
    Ok(Reported::of(&path.to_string_lossy(), job))
}

fn deliver(bytes: &[u8], output: &Output, out: &mut dyn Write) -> Result<(), String> {
    match output {
        Output::Standard => to_stream(out, bytes),
        Output::File(path) => to_file(path, out, bytes),
    }
}

/// Replaces a plain file, and writes into anything else.
fn to_file(path: &Path, out: &mut dyn Write, bytes: &[u8]) -> Result<(), String> {
    let refused = |error: io::Error| format!("{}: it cannot be written ({})", path.display(), plain_file::said(&error));
    match OutFile::of(path) {
        OutFile::Plain => write_atomically(path, bytes).map_err(|refused| path_first(path, &refused)),
        OutFile::StandardOutput => to_stream(out, bytes),
        OutFile::Stream => out_file::open(path).and_then(|mut stream| write_out(&mut stream, bytes)).map_err(refused),
    }
}

/// Prints to standard output.
fn to_stream(out: &mut dyn Write, bytes: &[u8]) -> Result<(), String> {
    write_out(out, bytes).map_err(|error| format!("standard output cannot be written ({})", plain_file::said(&error)))
}

/// Writes to a stream; a reader that has seen enough and closed its end is no error.
fn write_out(out: &mut dyn Write, bytes: &[u8]) -> io::Result<()> {
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

/// The sentences of the files end with the path; tools are expected to begin with it.
fn path_first(path: &Path, refused: &anyhow::Error) -> String {
    let path = path.display().to_string();
    let sentence = refused.to_string();
    let bare = sentence.strip_suffix(&path).map(|rest| rest.trim_end_matches([':', ' ']));
    format!("{path}: {}", bare.unwrap_or(&sentence))
}

/// One line on standard error; where that cannot be written either, the exit status says it.
fn complain(err: &mut dyn Write, reason: &str) {
    let line = reason.replace(['\n', '\r'], " ");
    writeln!(err, "tapcross: {line}").ok();
}

fn print(text: &str) -> Status {
    done_or_told(to_stream(&mut io::stdout().lock(), text.as_bytes()))
}

fn done_or_told(result: Result<(), String>) -> Status {
    match result {
        Ok(()) => Status::Done,
        Err(reason) => {
            complain(&mut io::stderr().lock(), &reason);
            Status::Failed
        }
    }
}

#[cfg(test)]
mod tests;
