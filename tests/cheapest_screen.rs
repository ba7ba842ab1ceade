//! The cheapest set of changes in the real program: looked for, read, used, stopped, out of date.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use eframe::egui::accesskit::Role;
use eframe::egui::{Context, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::change::{Change, ChangeId, ChangeKind, LessByHand, OtherTap, Switch};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::target::Target;
use tapcross::model::search::{self, NoneReason, SearchResult};
use tapcross::ui::changes_panel::cheapest;
use tapcross::ui::view::action::{Action, Command};
use tapcross::ui::view::search::{Search, Stage};
use tapcross::ui::view::{Screen, View};
use tapcross::units::UnitSystem;
use window::{App, Look, app_in, press, run, says, sized, texts};

/// High enough for all that is found.
const TALL: [f32; 2] = [1440.0, 2000.0];
const FIND: &str = "Find the cheapest set";
const STALE: &str = "? For the job before its last edit; find again for the job as it stands";
/// Longest wait for a search.
const PATIENCE: Duration = Duration::from_secs(5);

/// The demo with three ways to ease the path, one of them without a price, and another tap.
fn job(wanted: f64) -> Job {
    let mut job = demo::heat_pump();
    job.changes.clear();
    let id = |kind| job.path.first(kind).unwrap().id;
    let now = Answer::of(&job).point().unwrap().now.airflow;
    let tap = job.machine.as_ref().unwrap().taps.last().unwrap().name.clone();
    let kinds = [
        (ChangeKind::LessByHand(LessByHand { element: id(ElementKind::ReturnDuct), fraction: 0.6 }), Some(250.0)),
        (ChangeKind::LessByHand(LessByHand { element: id(ElementKind::Filter), fraction: 0.6 }), Some(40.5)),
        (ChangeKind::LessByHand(LessByHand { element: id(ElementKind::SupplyDuct), fraction: 0.6 }), None),
        (ChangeKind::OtherTap(OtherTap { tap }), Some(0.0)),
    ];
    job.target = Some(Target::Airflow(now * wanted));
    job.limits.accept_band = 0.05;
    job.machine.as_mut().unwrap().rated_maximum = None;
    for (number, (kind, price)) in (1..).zip(kinds) {
        let change =
            Change { id: ChangeId(number), kind, switch: Switch::Off, price, labour: None, note: String::new() };
        job.changes.push(change);
    }
    job
}

fn find(app: &mut App) -> SearchResult {
    press(app, FIND);
    wait(app)
}

fn wait(app: &mut App) -> SearchResult {
    let begun = Instant::now();
    loop {
        if let Some(Stage::Done(result)) = app.state().view().search.as_ref().map(Search::stage) {
            let result = SearchResult::clone(result);
            app.run_steps(2);
            return result;
        }
        assert!(begun.elapsed() < PATIENCE, "no result: {:?}", app.state().view().search);
        std::thread::sleep(Duration::from_millis(10));
        app.run_steps(1);
    }
}

fn on(app: &App) -> Vec<ChangeId> {
    app.state().job().changes.iter().filter(|change| change.is_on()).map(|change| change.id).collect()
}

/// The buttons that use a set, top to bottom.
fn uses(app: &App) -> Vec<String> {
    texts(app).into_iter().filter(|text| text.starts_with("Use this set: ")).collect()
}

#[test]
fn the_sets_that_are_found_are_read_back_cheapest_first() {
    let mut app = sized(job(1.12), TALL);
    let result = find(&mut app);
    assert!(result.best.len() > 1, "{result:#?}");
    assert_eq!(result, search::cheapest(app.state().job(), &AtomicBool::new(false), &mut |_| {}));
    for (index, found) in result.best.iter().enumerate() {
        let airflow = tapcross::units::show::airflow(found.crossing.airflow, UnitSystem::InchPound);
        let tesp = tapcross::units::show::pressure(found.crossing.tesp, UnitSystem::InchPound);
        assert!(says(&app, &format!("{}. ", index + 1)));
        assert!(says(&app, &format!("{airflow} at {tesp} on ")), "{:#?}", texts(&app));
        let spread = found.runs.as_ref().expect("a whole answer").spread.gain.cfm().round();
        assert!(says(&app, &format!(" ± {spread} cfm, ")), "{:#?}", texts(&app));
        for doubt in found.doubts(&result.target.expect("a target")) {
            assert!(says(&app, tapcross::model::wording::changes::in_doubt(doubt)));
        }
    }
    assert!(says(&app, "Held against: the accepted band"));
    assert!(result.best.iter().any(|found| found.unpriced.len() == 1 && found.changes.len() > 1), "{result:#?}");
    assert!(says(&app, "; without a price: 1 of them"));
    assert_eq!(uses(&app).len(), result.best.len());
    let panel = app.get_by_label("Fold: Changes").rect().left();
    assert!(app.get_by_label(FIND).rect().left() >= panel - 1.0);
}

#[test]
fn what_was_found_comes_into_view() {
    let mut app = sized(job(1.12), window::WIDE);
    app.get_by_label(FIND).click_accesskit();
    app.run_steps(2);
    wait(&mut app);
    app.run_steps(60);
    let first = app.get_by_label(&uses(&app)[0]).rect();
    assert!(first.top() > 140.0 && first.bottom() < window::WIDE[1], "{first:?}");
}

#[test]
fn a_found_set_is_switched_on_alone_in_one_step_and_stays_found() {
    let mut app = sized(job(1.08), TALL);
    let result = find(&mut app);
    let last = result.best.last().unwrap();
    let name = uses(&app).pop().unwrap();
    press(&mut app, &name);
    assert_eq!(on(&app), last.changes);
    let after = app.state().answer().with_changes().unwrap().system.point().unwrap().airflow;
    assert!((after - last.crossing.airflow).abs().cfm() < 1e-6, "{} {}", after.cfm(), last.crossing.airflow.cfm());
    assert!(says(&app, "In use: these are on and the others off"));
    assert!(!says(&app, STALE), "a switch does not make a search old");
    run(&mut app, Command::Undo.into());
    assert!(on(&app).is_empty());
}

#[test]
fn an_edit_marks_what_was_found_as_old_and_undo_takes_the_mark_away() {
    let mut app = sized(job(1.08), TALL);
    find(&mut app);
    assert!(!says(&app, STALE));
    run(&mut app, Edit::ChangePrice(ChangeId(1), Some(1.0)).into());
    assert!(says(&app, STALE));
    let name = uses(&app).remove(0);
    assert!(app.get_by_label(&name).accesskit_node().is_disabled());
    run(&mut app, Command::Undo.into());
    assert!(!says(&app, STALE));
    run(&mut app, Edit::RemoveChange(ChangeId(2)).into());
    assert!(says(&app, STALE));
    find(&mut app);
    assert!(!says(&app, STALE));
}

#[test]
fn a_target_out_of_reach_says_why_no_set_is_named() {
    let mut app = sized(job(3.0), TALL);
    let result = find(&mut app);
    let Some(reason @ NoneReason::NoneLands(_)) = &result.none_reason else {
        panic!("{result:#?}");
    };
    app.get_by_label(&reason.sentence());
    assert!(uses(&app).is_empty());
}

#[test]
fn without_changes_or_a_target_nothing_is_offered() {
    for spoil in [|job: &mut Job| job.changes.clear(), |job: &mut Job| job.target = None] {
        let mut job = job(1.08);
        spoil(&mut job);
        assert!(sized(job, TALL).query_by_label(FIND).is_none());
    }
    sized(job(1.08), TALL).get_by_label(FIND);
}

#[test]
fn another_job_takes_nothing_over() {
    let mut app = sized(job(1.08), TALL);
    find(&mut app);
    run(&mut app, Command::DemoFurnace.into());
    assert!(app.state().view().search.is_none());
}

/// Looks until it is stopped, as a search of many changes would for a while.
fn patient(_: &Job, stop: &AtomicBool, progress: &mut dyn FnMut(f32)) -> SearchResult {
    progress(0.4);
    while !stop.load(Ordering::Relaxed) {
        std::thread::sleep(Duration::from_millis(1));
    }
    let reason = Some(NoneReason::Stopped);
    SearchResult {
        best: Vec::new(),
        examined: 0,
        refused: Vec::new(),
        checked: search::CHECKED,
        target: None,
        none_reason: reason,
        nearest: None,
    }
}

struct Part {
    job: Job,
    answer: Answer,
    library: Library,
    view: View,
}

/// The part alone, with its actions carried out as the program does.
fn part(looks_on: &Context) -> Harness<'static, Part> {
    let job = job(1.08);
    let search = Some(Search::begin(&job, 0, Arc::new(patient), looks_on).unwrap());
    let view = View { search, ..View::default() };
    let part = Part { answer: Answer::of(&job), job, library: Library::shipped().0, view };
    let draw = |ui: &mut eframe::egui::Ui, part: &mut Part| {
        part.view.search.as_mut().unwrap().tend(&part.job, 0);
        let Part { job, answer, library, view } = part;
        let screen = Screen::of(job, answer, UnitSystem::InchPound, library);
        let mut out = Vec::new();
        cheapest::cheapest(ui, &screen, view, &mut out);
        if out.contains(&Action::StopSearch) {
            view.search.as_ref().unwrap().stop();
        }
    };
    Harness::builder().with_size(Vec2::new(400.0, 300.0)).with_max_steps(12).build_ui_state(
        move |ui, part| {
            tapcross::ui::theme::install(ui.ctx());
            draw(ui, part);
        },
        part,
    )
}

#[test]
fn the_wait_shows_its_share_and_ends_at_a_press_of_stop() {
    let mut part = part(&Context::default());
    let wait_for = |part: &mut Harness<'static, Part>, name: &str| {
        let begun = Instant::now();
        while part.query_by_label(name).is_none() {
            assert!(begun.elapsed() < PATIENCE, "{name:?} never came");
            std::thread::sleep(Duration::from_millis(5));
            part.run_steps(1);
        }
    };
    wait_for(&mut part, &format!("Looking at every set: {}", tapcross::units::show::percent(0.4)));
    let bar = part.get_by_label("Sets looked at, percent");
    assert_eq!(bar.accesskit_node().numeric_value(), Some(40.0));
    assert!(part.query_by_label(FIND).is_none());
    part.get_by_label("Stop").click();
    part.run_steps(2);
    wait_for(&mut part, &NoneReason::Stopped.sentence());
    part.get_by_label(FIND);
}

#[test]
fn the_program_hands_a_stop_on() {
    let mut job = job(1.08);
    let first = job.changes[0].clone();
    let more = (5..).map(|id| Change { id: ChangeId(id), ..first.clone() });
    job.changes.extend(more.take(search::MOST_CHANGES - 4));
    let mut app = sized(job, TALL);
    run(&mut app, Action::StopSearch);
    assert!(app.state().view().search.is_none(), "a stop without a search is nothing");
    // The search lays every set of so many changes out before it first looks for a stop, so that this one comes in time.
    let ctx = app.ctx.clone();
    app.state_mut().run(Action::Search, &ctx);
    app.state_mut().run(Action::StopSearch, &ctx);
    let begun = Instant::now();
    while app.query_by_label(&NoneReason::Stopped.sentence()).is_none() {
        assert!(begun.elapsed() < PATIENCE, "{:?}", app.state().view().search);
        std::thread::sleep(Duration::from_millis(10));
        app.run_steps(1);
    }
    assert!(uses(&app).is_empty());
}

/// Only for eyes: `TAPCROSS_PICTURES=DIR` writes what was found.
#[test]
fn what_was_found_fits_its_panel() {
    let folder = std::env::var_os("TAPCROSS_PICTURES");
    let look = Look { size: [1440.0, 1300.0], pictured: folder.is_some(), ..Look::default() };
    let mut app = app_in(job(1.08), look);
    find(&mut app);
    let name = uses(&app).remove(0);
    press(&mut app, &name);
    let panel = app.get_by_role_and_label(Role::Heading, "Changes").rect().left();
    for node in app.root().children_recursive() {
        let Some(bounds) = node.accesskit_node().bounding_box() else {
            continue;
        };
        let is_in_panel = bounds.x0 >= f64::from(panel) && bounds.y0 > 100.0;
        assert!(!is_in_panel || bounds.x1 <= 1440.0 - 11.0, "{:?} {bounds:?}", node.accesskit_node().label());
    }
    if let Some(folder) = folder {
        std::fs::create_dir_all(&folder).unwrap();
        app.render().unwrap().save(Path::new(&folder).join("cheapest.png")).unwrap();
    }
}
