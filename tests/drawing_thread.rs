//! What goes on off the drawing thread: results are written, searches go on and work is autosaved while pictures are drawn.

#[path = "support/standard_air.rs"]
mod standard_air;

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use eframe::egui::{Key, Modifiers, Vec2, ViewportCommand, ViewportEvent, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use standard_air::standard_air;
use tapcross::app::checks::Check;
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::blower::Corrections;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::search;
use tapcross::report::json::{self, Report};
use tapcross::ui::view::action::{Action, Command};
use tapcross::ui::view::search::Look;
use tapcross::units::Pressure;

type App = Harness<'static, TapcrossApp>;

/// Longest wait for what another thread does.
const PATIENCE: Duration = Duration::from_secs(20);

/// A search that begins when it is asked for and goes on until it is let go.
struct Held {
    begun: Receiver<()>,
    let_go: Sender<()>,
}

fn held() -> (Look, Held) {
    let (begins, begun) = channel();
    let (let_go, gone_on) = channel();
    let gone_on = Mutex::new(gone_on);
    let look: Look = Arc::new(move |job, stop, progress| {
        begins.send(()).unwrap();
        gone_on.lock().unwrap().recv_timeout(PATIENCE).expect("the search is let go");
        search::cheapest(job, stop, progress)
    });
    (look, Held { begun, let_go })
}

impl Held {
    fn wait_until_begun(&self) {
        self.begun.recv_timeout(PATIENCE).expect("the search begins");
    }

    fn let_go(&self) {
        self.let_go.send(()).unwrap();
    }
}

fn window(look: Look, answers: Vec<Option<PathBuf>>) -> App {
    let start = Start { look, dialogs: Box::new(ScriptedDialogs::answering(answers)), ..Start::alone() };
    let mut app = Harness::builder()
        .with_size(Vec2::new(1440.0, 900.0))
        .with_max_steps(20)
        .build_eframe(|context| TapcrossApp::new(&context.egui_ctx, start));
    app.run_steps(3);
    app
}

fn run(app: &mut App, action: impl Into<Action>) {
    let ctx = app.ctx.clone();
    app.state_mut().run(action.into(), &ctx);
    app.run_steps(2);
}

fn says(app: &App, part: &str) -> bool {
    app.query_all_by_label_contains(part).next().is_some()
}

/// Draws until a message is there.
#[track_caller]
fn wait_for(app: &mut App, part: &str) {
    let begun = Instant::now();
    while !says(app, part) {
        assert!(begun.elapsed() < PATIENCE, "{part:?} never came: {:?}", app.state_mut().notices());
        std::thread::sleep(Duration::from_millis(5));
        app.run_steps(1);
    }
}

/// Draws a picture; gives what the window asks of the system.
fn picture(app: &mut App) -> Vec<ViewportCommand> {
    app.step();
    app.output().viewport_output.values().flat_map(|output| output.commands.clone()).collect()
}

/// Presses the window's close button; true where the window lets itself be closed.
fn closes(app: &mut App) -> bool {
    app.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.push(ViewportEvent::Close);
    let asked = picture(app);
    app.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.clear();
    !asked.contains(&ViewportCommand::CancelClose)
}

/// What is written of a job without a file.
fn report(app: &App) -> String {
    let job = app.state().job();
    json::one(&Report::of("", job, &Answer::checked(job), search::to_the_end(job))).unwrap()
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn pictures_are_drawn_while_a_slow_search_for_a_report_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("results.json");
    let (look, held) = held();
    let mut app = window(look, vec![Some(path.clone())]);
    app.key_press_modifiers(Modifiers::COMMAND, Key::E);
    app.run_steps(3);
    held.wait_until_begun();
    assert!(!path.exists(), "the search goes on");
    assert!(says(&app, "Results are being written: "), "{:?}", app.state_mut().notices());
    app.get_by_label("tap 5").click();
    app.run_steps(3);
    assert_eq!(app.state().job().tap_in_use(), Some("5"), "the window lives on");
    held.let_go();
    wait_for(&mut app, "Results written: ");
    assert!(!says(&app, "Results are being written: "));
    assert!(read(&path).contains("tapcross_report"));
}

/// Each is as the command line writes it of the job on the screen.
#[test]
fn a_report_is_written_by_the_ending_of_its_name_and_nothing_by_one_that_no_report_has() {
    let folder = tempfile::tempdir().unwrap();
    let named = |name: &str| Some(folder.path().join(name));
    let names = ["house.pdf", "house.svg", "house.csv", "house.docx"];
    let mut app = window(Arc::new(|job, _, _| search::to_the_end(job)), names.map(named).to_vec());
    for (name, begin) in names.into_iter().zip([Some("%PDF-1.7"), Some("<?xml"), Some("file,system,"), None]) {
        app.key_press_modifiers(Modifiers::COMMAND, Key::P);
        app.run_steps(3);
        let path = folder.path().join(name);
        if let Some(begin) = begin {
            wait_for(&mut app, &format!("Results written: {}", path.display()));
            assert!(std::fs::read(&path).unwrap().starts_with(begin.as_bytes()), "{name}");
        } else {
            let told = app.state_mut().notices();
            assert!(
                told.iter().any(|text| text.starts_with("No results have that ending; give one of .pdf, ")),
                "{told:?}"
            );
            assert!(!path.exists());
        }
    }
}

#[test]
fn a_field_sheet_is_written_as_a_pdf_and_in_no_jobs_place() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheet.pdf");
    let mut app = window(Arc::new(|job, _, _| search::to_the_end(job)), vec![Some(path.clone())]);
    run(&mut app, Command::FieldSheet);
    app.run_steps(3);
    wait_for(&mut app, &format!("Field sheet written: {}", path.display()));
    assert!(!says(&app, "Field sheet is being written: "));
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF-1.7"));
    run(&mut app, Action::SheetTo(path.clone()));
    assert!(app.state().view().confirm.as_ref().is_some_and(|asked| asked.question.starts_with("There is a file")));
    for name in ["house.ron", "house.svg"] {
        let path = folder.path().join(name);
        run(&mut app, Action::SheetTo(path.clone()));
        assert!(
            says(&app, "A field sheet is a PDF and takes no job's place; give a name that ends in .pdf: "),
            "{name}"
        );
        assert!(!path.exists(), "{name}");
    }
}

#[test]
fn a_report_overtaken_by_an_edit_is_of_the_job_as_it_was_when_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let (look, held) = held();
    let mut app = window(look, vec![]);
    let paths = ["before.json", "after.json"].map(|name| folder.path().join(name));
    let before = report(&app);
    run(&mut app, Action::ReportTo(paths[0].clone()));
    held.wait_until_begun();
    run(&mut app, Edit::Title("Overtaken".to_owned()));
    run(&mut app, Action::ReportTo(paths[1].clone()));
    let after = report(&app);
    assert_ne!(before, after);
    held.let_go();
    held.let_go();
    wait_for(&mut app, "after.json");
    let ctx = app.ctx.clone();
    app.state_mut().wait_for_the_disk(&ctx);
    assert_eq!([read(&paths[0]), read(&paths[1])], [before, after]);
}

#[test]
fn quitting_waits_for_a_report_that_is_being_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("results.json");
    let (look, held) = held();
    let mut app = window(look, vec![]);
    run(&mut app, Action::ReportTo(path.clone()));
    held.wait_until_begun();
    assert!(!closes(&mut app));
    wait_for(&mut app, "The window closes once the results are written: ");
    held.let_go();
    let begun = Instant::now();
    while !picture(&mut app).contains(&ViewportCommand::Close) {
        assert!(begun.elapsed() < PATIENCE, "it never closes");
        std::thread::sleep(Duration::from_millis(5));
    }
    assert!(read(&path).contains("tapcross_report"));
    assert!(closes(&mut app), "nothing is waited for any more");
}

#[test]
fn what_is_done_while_quitting_waits_is_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let (look, held) = held();
    let mut app = window(look, vec![]);
    run(&mut app, Action::ReportTo(folder.path().join("results.json")));
    held.wait_until_begun();
    assert!(!closes(&mut app));
    run(&mut app, Edit::Title("Not saved yet".to_owned()));
    held.let_go();
    wait_for(&mut app, "The job has changes that are not saved.");
}

#[test]
fn a_report_that_cannot_be_written_is_told_by_name_and_path_and_keeps_the_window_open() {
    let folder = tempfile::tempdir().unwrap();
    let nowhere = folder.path().join("no").join("results.json");
    let (look, held) = held();
    let mut app = window(look, vec![]);
    run(&mut app, Action::ReportTo(nowhere.clone()));
    held.wait_until_begun();
    assert!(!closes(&mut app));
    held.let_go();
    wait_for(&mut app, "the folder does not exist");
    let told = app.state_mut().notices();
    let failed = told.iter().find(|text| text.contains("the folder does not exist")).unwrap();
    assert!(failed.ends_with(&nowhere.display().to_string()), "{failed}");
    for _ in 0..10 {
        assert!(!picture(&mut app).contains(&ViewportCommand::Close), "whoever waited to quit hears of it first");
    }
}

#[test]
fn a_typed_path_stays_until_the_results_are_there() {
    let folder = tempfile::tempdir().unwrap();
    let (nowhere, there) = (folder.path().join("no").join("results.json"), folder.path().join("results.json"));
    let (look, held) = held();
    let mut app = window(look, vec![None]);
    let typed = |app: &mut App, path: &Path| {
        app.key_press_modifiers(Modifiers::COMMAND, Key::A);
        app.run_steps(2);
        app.event(eframe::egui::Event::Text(path.display().to_string()));
        app.run_steps(2);
        app.key_press(Key::Enter);
        app.run_steps(3);
    };
    run(&mut app, Command::Report);
    typed(&mut app, &nowhere);
    held.wait_until_begun();
    held.let_go();
    wait_for(&mut app, "the folder does not exist");
    let prompt = app.state().view().path_prompt.as_ref().expect("a slip can be mended");
    assert!(prompt.problem.as_ref().is_some_and(|told| told.contains("the folder does not exist")), "{prompt:?}");
    typed(&mut app, &there);
    held.wait_until_begun();
    assert!(app.state().view().path_prompt.is_some(), "not proved good yet");
    held.let_go();
    wait_for(&mut app, "Results written: ");
    assert!(app.state().view().path_prompt.is_none());
}

#[test]
fn no_job_is_saved_where_results_are_about_to_come() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.json");
    let (look, held) = held();
    let mut app = window(look, vec![]);
    run(&mut app, Action::ReportTo(path.clone()));
    held.wait_until_begun();
    run(&mut app, Edit::Title("House".to_owned()));
    run(&mut app, Action::SaveTo { path: path.clone(), then: None });
    assert!(says(&app, "Not saved, for results are being written there"), "{:?}", app.state_mut().notices());
    assert!(app.state().is_changed() && !path.exists());
    held.let_go();
    wait_for(&mut app, "Results written: ");
}

#[test]
fn a_search_for_the_screen_and_one_for_a_report_go_on_beside_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let (look, held) = held();
    let mut app = window(look, vec![]);
    app.state_mut().show_job(demo::heat_pump());
    run(&mut app, Action::Search);
    run(&mut app, Action::ReportTo(folder.path().join("results.json")));
    held.wait_until_begun();
    held.let_go();
    held.let_go();
    wait_for(&mut app, "Results written: ");
}

/// The demo furnace at one number across the machine on the last row of its table, which is this very machine's in this very air: there draws say another ± than the tangent.
fn on_a_bend() -> Job {
    let mut job = demo::gas_furnace();
    job.sets[0].air = standard_air();
    job.sets[0].readings = vec![Reading { at: ReadAt::Total, looks: vec![Pressure::from_in_wc(1.0)] }];
    let table = job.machine.as_mut().unwrap();
    table.basis.density = Some(job.sets[0].air.at_blower(table.kind, job.sets[0].call).density);
    table.corrections = Corrections::default();
    (job.accuracy.table_fraction, job.accuracy.tap_fraction) = (0.0, 0.0);
    job
}

#[test]
fn the_screen_does_not_wait_for_draws_and_takes_them_up_for_the_job_as_it_stands() {
    let (begins, begun) = channel();
    let (let_go, gone_on) = channel::<()>();
    let gone_on = Mutex::new(gone_on);
    let check: Check = Arc::new(move |job| {
        begins.send(()).unwrap();
        gone_on.lock().unwrap().recv_timeout(PATIENCE).expect("the check is let go");
        Answer::checked(job)
    });
    let start = Start { check: Some(check), ..Start::alone() };
    let mut app = Harness::builder()
        .with_size(Vec2::new(1440.0, 900.0))
        .with_max_steps(20)
        .build_eframe(|context| TapcrossApp::new(&context.egui_ctx, start));
    app.run_steps(3);
    begun.recv_timeout(PATIENCE).expect("the first job is checked");
    app.state_mut().show_job(on_a_bend());
    app.run_steps(3);
    assert!(!says(&app, "draws of all errors"), "the linear ± stands at once");
    assert_eq!(*app.state().answer(), Answer::of(&on_a_bend()));
    // What came of the job before is no answer to this one.
    let_go.send(()).unwrap();
    let waited = Instant::now();
    while begun.try_recv().is_err() {
        assert!(waited.elapsed() < PATIENCE, "this one is never checked");
        std::thread::sleep(Duration::from_millis(5));
        app.run_steps(1);
    }
    assert_eq!(app.state().answer().draws, None);
    let_go.send(()).unwrap();
    let waited = Instant::now();
    while app.state().answer().draws.is_none() {
        assert!(waited.elapsed() < PATIENCE, "nothing comes of the check");
        std::thread::sleep(Duration::from_millis(5));
        app.run_steps(1);
    }
    assert_eq!(*app.state().answer(), Answer::checked(&on_a_bend()));
    app.run_steps(3);
    assert!(begun.try_recv().is_err(), "once is enough");
    app.get_by_label("All findings and cautions").click();
    wait_for(&mut app, "± of today's airflow is that of 20,000 draws of all errors");
}
