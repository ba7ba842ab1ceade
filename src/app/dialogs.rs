//! File dialogs: the system's own, off the drawing thread, with a typed path where the system has none.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use eframe::egui;

use crate::ui::view::path_prompt::Purpose;

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
    open: Option<(Purpose, Receiver<Reply>)>,
}

impl FileDialogs for SystemDialogs {
    fn ask(&mut self, purpose: Purpose, ctx: &egui::Context) {
        if self.open.is_some() {
            return;
        }
        let (sender, receiver) = channel();
        let future = dialog_future(&purpose);
        let ctx = ctx.clone();
        let spawned = std::thread::Builder::new().name("file dialog".to_owned()).spawn(move || {
            let asked = Instant::now();
            let path = pollster::block_on(future).map(|file| file.path().to_path_buf());
            // The receiver is gone only when the window is: nobody wants the answer then.
            drop(sender.send((path, asked.elapsed())));
            ctx.request_repaint();
        });
        if spawned.is_ok() {
            self.open = Some((purpose, receiver));
        }
    }

    fn poll(&mut self) -> Option<Answered> {
        let (purpose, receiver) = self.open.as_ref()?;
        let answered = match receiver.try_recv() {
            Ok((Some(path), _)) => Answered::Path(purpose.clone(), path),
            Ok((None, took)) if took < NO_HAND_IS_THIS_QUICK => Answered::Unavailable(purpose.clone()),
            Ok((None, _)) => Answered::Cancelled,
            Err(TryRecvError::Disconnected) => Answered::Unavailable(purpose.clone()),
            Err(TryRecvError::Empty) => return None,
        };
        self.open = None;
        Some(answered)
    }
}

type PathFuture = std::pin::Pin<Box<dyn Future<Output = Option<rfd::FileHandle>> + Send>>;

fn dialog_future(purpose: &Purpose) -> PathFuture {
    let dialog = rfd::AsyncFileDialog::new().set_title(purpose.title());
    match purpose {
        Purpose::OpenJob(_) => Box::pin(dialog.add_filter("Tapcross job", &["ron"]).pick_file()),
        Purpose::SaveJob(name, _) => {
            Box::pin(dialog.add_filter("Tapcross job", &["ron"]).set_file_name(name).save_file())
        }
        Purpose::SaveReport(name) => Box::pin(dialog.add_filter("JSON", &["json"]).set_file_name(name).save_file()),
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
