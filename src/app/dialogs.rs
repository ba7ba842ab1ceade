//! File dialogs: the system's own, off the drawing thread, with a typed path where the system has none.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use eframe::egui;

use crate::report::form::{Form, Paper};
use crate::ui::view::path_prompt::Purpose;
use crate::worker::{Heard, Teller, Worker};

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Answered {
    /// A path.
    Path(Purpose, PathBuf),
    /// A person closed the dialog.
    Cancelled,
    /// The system has no dialog: the program asks for a typed path.
    Unavailable(Purpose),
}

/// Asks for paths.
pub trait FileDialogs {
    /// Begins to ask; the answer comes through [`FileDialogs::poll`].
    fn ask(&mut self, purpose: Purpose, ctx: &egui::Context);
    /// The answer, once it is there.
    fn poll(&mut self) -> Option<Answered>;
}

/// An answer of "nothing" that comes sooner than any hand can close a dialog means that there was none.
const NO_HAND_IS_THIS_QUICK: Duration = Duration::from_millis(250);

/// What came from the dialog's thread: a path or nothing, and how long it took.
type Reply = (Option<PathBuf>, Duration);

/// The system's dialogs.
#[derive(Default)]
pub struct SystemDialogs {
    open: Option<(Purpose, Worker<PathFuture, Reply>)>,
}

impl FileDialogs for SystemDialogs {
    fn ask(&mut self, purpose: Purpose, ctx: &egui::Context) {
        if self.open.is_some() {
            return;
        }
        let ctx = ctx.clone();
        let wait = |future: PathFuture, teller: &Teller<Reply>| {
            let asked = Instant::now();
            let path = pollster::block_on(future).map(|file| file.path().to_path_buf());
            teller.tell((path, asked.elapsed()));
        };
        if let Ok(worker) = Worker::begin("file dialog", move || ctx.request_repaint(), wait) {
            worker.order(dialog_future(&purpose));
            self.open = Some((purpose, worker));
        }
    }

    fn poll(&mut self) -> Option<Answered> {
        let (purpose, worker) = self.open.as_ref()?;
        let answered = match worker.poll() {
            Heard::Told((Some(path), _)) => Answered::Path(purpose.clone(), path),
            Heard::Told((None, took)) if took < NO_HAND_IS_THIS_QUICK => Answered::Unavailable(purpose.clone()),
            Heard::Told((None, _)) => Answered::Cancelled,
            Heard::Ended => Answered::Unavailable(purpose.clone()),
            Heard::NothingYet => return None,
        };
        self.open = None;
        Some(answered)
    }
}

/// Endings of sheets and pictures that are offered.
const SHEETS: [&str; 7] = ["csv", "tsv", "tab", "txt", "png", "jpg", "jpeg"];

type PathFuture = std::pin::Pin<Box<dyn Future<Output = Option<rfd::FileHandle>> + Send>>;

fn dialog_future(purpose: &Purpose) -> PathFuture {
    let dialog = rfd::AsyncFileDialog::new().set_title(purpose.title());
    match purpose {
        Purpose::OpenJob(_) | Purpose::ShowBeside => Box::pin(dialog.add_filter("Tapcross job", &["ron"]).pick_file()),
        Purpose::Logo => Box::pin(dialog.add_filter("Picture (PNG)", &["png"]).pick_file()),
        Purpose::SaveJob(name, _) => {
            Box::pin(dialog.add_filter("Tapcross job", &["ron"]).set_file_name(name).save_file())
        }
        Purpose::OpenTable => {
            let dialog = dialog
                .add_filter("Tables, and pictures of tables and charts", &SHEETS)
                .add_filter("Tapcross blower table", &["ron"]);
            Box::pin(dialog.pick_file())
        }
        Purpose::SaveTable(name, _) => {
            let dialog =
                dialog.add_filter("Table for spreadsheets (CSV)", &["csv"]).add_filter("Table with tabs", &["tsv"]);
            Box::pin(dialog.add_filter("Tapcross blower table", &["ron"]).set_file_name(name).save_file())
        }
        Purpose::SaveSheet(name) => {
            let form = Form::FieldSheet(Paper::default());
            Box::pin(dialog.add_filter(form.title(), &[form.ending()]).set_file_name(name).save_file())
        }
        Purpose::SaveReport(name) => {
            let own = Form::of(Path::new(name));
            let others = Form::ALL.into_iter().filter(|form| Some(*form) != own);
            let all = own.into_iter().chain(others);
            let dialog = all.fold(dialog, |dialog, form| dialog.add_filter(form.title(), &[form.ending()]));
            Box::pin(dialog.set_file_name(name).save_file())
        }
    }
}

/// Dialogs without a person: each question takes the next answer of a list (for tests).
#[derive(Debug, Default)]
pub struct ScriptedDialogs {
    /// Answers to come, the next one last.
    pub answers: Vec<Option<PathBuf>>,
    ready: Option<Answered>,
}

impl ScriptedDialogs {
    /// Answers in the order in which questions will come; `None` stands for a system without dialogs.
    pub fn answering(answers: impl IntoIterator<Item = Option<PathBuf>>) -> Self {
        let mut answers: Vec<_> = answers.into_iter().collect();
        answers.reverse();
        Self { answers, ready: None }
    }
}

impl FileDialogs for ScriptedDialogs {
    fn ask(&mut self, purpose: Purpose, _ctx: &egui::Context) {
        self.ready = Some(match self.answers.pop() {
            Some(Some(path)) => Answered::Path(purpose, path),
            Some(None) => Answered::Unavailable(purpose),
            None => Answered::Cancelled,
        });
    }

    fn poll(&mut self) -> Option<Answered> {
        self.ready.take()
    }
}
