//! That no work is lost: what is given up, autosaved, recovered, asked about and written over, as a person sees it in the window.

use std::path::{Path, PathBuf};

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, Vec2, ViewportCommand, ViewportEvent, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::{self, Edit};
use tapcross::files::autosave::{self, Autosave};
use tapcross::files::places::Places;
use tapcross::files::{demo, job_file, settings};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::view::action::{Action, Command, Tables};
use tapcross::units::{Pressure, UnitSystem};

type App = Harness<'static, TapcrossApp>;

/// Steps of the window's own clock in a second.
const STEPS_A_SECOND: usize = 4;

fn window(folder: &Path, answers: Vec<Option<PathBuf>>) -> App {
    window_on(folder, None, answers)
}

fn window_on(folder: &Path, job: Option<PathBuf>, answers: Vec<Option<PathBuf>>) -> App {
    let places = Some(Places::within(&folder.join("own")));
    let start = Start { job, places, dialogs: Box::new(ScriptedDialogs::answering(answers)), ..Start::alone() };
    let mut app = Harness::builder()
        .with_size(Vec2::new(1440.0, 900.0))
        .with_max_steps(20)
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, start));
    app.run_steps(3);
    app
}

#[track_caller]
fn press(app: &mut App, key: Key) {
    app.key_press(key);
    app.run_steps(3);
}

#[track_caller]
fn command(app: &mut App, key: Key) {
    app.key_press_modifiers(Modifiers::COMMAND, key);
    app.run_steps(3);
}

/// Restores the only work that was found.
fn restore(app: &mut App) {
    app.get_by_label_contains("Restore ").click();
    app.run_steps(3);
}

#[track_caller]
fn click(app: &mut App, name: &str) {
    app.get_by_label(name).click();
    app.run_steps(3);
}

fn type_text(app: &mut App, text: &str) {
    app.event(Event::Text(text.to_owned()));
    app.run_steps(2);
}

/// Lets seconds of the window's own clock pass, and what is due by then come to the disk.
fn rest(app: &mut App, seconds: usize) {
    app.run_steps(seconds * STEPS_A_SECOND);
    let ctx = app.ctx.clone();
    app.state_mut().wait_for_the_disk(&ctx);
}

/// Asks the window to close, as its close button does.
fn close_button(app: &mut App) {
    let root = app.input_mut().viewports.entry(ViewportId::ROOT).or_default();
    root.events.push(ViewportEvent::Close);
    app.run_steps(6);
    app.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.clear();
}

fn says(app: &App, part: &str) -> bool {
    app.query_all_by_label_contains(part).next().is_some()
}

fn autosaves(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder.join("own").join("autosaves")).into_iter().flatten().flatten();
    let mut found: Vec<_> = entries
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    found.sort();
    found
}

fn titled(title: &str) -> Job {
    Job { title: title.to_owned(), ..demo::gas_furnace() }
}

/// A job file on the disk.
fn saved(folder: &Path, name: &str, job: &Job) -> PathBuf {
    let path = folder.join(name);
    job_file::save(&path, job).unwrap();
    path
}

/// What a killed window leaves.
fn left_by_a_kill(folder: &Path, number: u32, job: &Job, original: Option<&Path>) {
    let id = autosave::window_id(4711 + number, std::time::UNIX_EPOCH);
    let mut window = Autosave::begin(&folder.join("own").join("autosaves"), &id).unwrap();
    window.write(&autosave::Work { job, original, opened: None, table: None }).unwrap();
}

#[test]
fn a_job_is_given_up_only_when_the_next_one_stands() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.ron");
    std::fs::write(&broken, "(tapcross_job: 1, title: \"x").unwrap();
    // First nobody chooses a file, then one is chosen that cannot be read.
    let mut app = window(folder.path(), vec![]);
    click(&mut app, "tap 5");
    rest(&mut app, 4);
    assert_eq!(autosaves(folder.path()).len(), 1);
    command(&mut app, Key::O);
    click(&mut app, "Open without saving");
    assert!(app.state().is_changed(), "nothing was opened, so nothing was given up");
    assert_eq!(autosaves(folder.path()).len(), 1);
    close_button(&mut app);
    assert!(says(&app, "changes that are not saved"), "quitting still asks");
    drop(app);
    let mut app = window(folder.path(), vec![Some(broken)]);
    restore(&mut app);
    command(&mut app, Key::O);
    click(&mut app, "Open without saving");
    app.run_steps(2);
    assert!(app.state().is_changed(), "the chosen file is broken, so nothing was given up");
    rest(&mut app, 0);
    assert_eq!(autosaves(folder.path()).len(), 1);
}

#[test]
fn what_is_done_while_a_path_is_asked_for_is_asked_about_again() {
    let folder = tempfile::tempdir().unwrap();
    let other = saved(folder.path(), "other.ron", &titled("other"));
    for goes_on in [false, true] {
        let mut app = window(folder.path(), vec![None]);
        click(&mut app, "tap 5");
        command(&mut app, Key::O);
        click(&mut app, "Open without saving");
        assert!(app.state().view().path_prompt.is_some());
        if goes_on {
            let ctx = app.ctx.clone();
            app.state_mut().run(Edit::Notes("done meanwhile".to_owned()).into(), &ctx);
        }
        command(&mut app, Key::A);
        type_text(&mut app, &other.display().to_string());
        press(&mut app, Key::Enter);
        assert_eq!(says(&app, "changes that are not saved"), goes_on);
        assert_eq!(app.state().job().title == "other", !goes_on, "what was agreed to is given up, and no more");
    }
}

#[test]
fn saving_in_the_question_goes_on_with_what_was_asked() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let mut app = window_on(folder.path(), Some(path.clone()), vec![]);
    click(&mut app, "tap 2");
    command(&mut app, Key::N);
    click(&mut app, "Save");
    assert_eq!(job_file::read(&path).unwrap().tap_in_use(), Some("2"));
    assert!(app.state().job().machine.is_none(), "the new job that was asked for");
}

/// Draws some pictures; true where the window asks the system to close it and does not take that back.
fn closes(app: &mut App) -> bool {
    let mut asked = Vec::new();
    for _ in 0..6 {
        app.step();
        asked.extend(app.output().viewport_output.values().flat_map(|output| output.commands.clone()));
    }
    asked.contains(&ViewportCommand::Close) && !asked.contains(&ViewportCommand::CancelClose)
}

/// Wherever it is saved: in its own file, where a dialog or a typed path says, or over what somebody else has written.
#[test]
fn saving_in_the_question_before_the_end_saves_and_ends() {
    let folder = tempfile::tempdir().unwrap();
    let chosen = folder.path().join("chosen.ron");
    let typed = folder.path().join("typed.ron");
    let own = saved(folder.path(), "own.ron", &titled("house"));
    let cases =
        [(Some(own.clone()), vec![], &own), (None, vec![Some(chosen.clone())], &chosen), (None, vec![None], &typed)];
    for (file, answers, path) in cases {
        let mut app = match file {
            Some(file) => window_on(folder.path(), Some(file), answers),
            None => window(folder.path(), answers),
        };
        click(&mut app, "tap 2");
        close_button(&mut app);
        app.get_by_label("Save").click();
        if path == &typed {
            app.run_steps(3);
            command(&mut app, Key::A);
            type_text(&mut app, &typed.display().to_string());
            app.get_by_label("Save").click();
        }
        assert!(closes(&mut app), "{}", path.display());
        assert_eq!(job_file::read(path).unwrap().tap_in_use(), Some("2"));
    }
    let mut app = window_on(folder.path(), Some(own.clone()), vec![]);
    saved(folder.path(), "own.ron", &titled("another's"));
    click(&mut app, "tap 5");
    close_button(&mut app);
    click(&mut app, "Save");
    app.get_by_label("Replace it").click();
    assert!(closes(&mut app), "over what somebody else has written");
    assert_eq!(job_file::read(&own).unwrap().tap_in_use(), Some("5"));
}

#[test]
fn every_crashed_job_is_kept_until_it_is_restored_or_thrown_away_by_name() {
    let folder = tempfile::tempdir().unwrap();
    for (number, title) in [(1, "first house"), (2, "second house"), (3, "third house")] {
        left_by_a_kill(folder.path(), number, &titled(title), None);
    }
    let mut app = window(folder.path(), vec![]);
    for title in ["first house", "second house", "third house"] {
        assert!(says(&app, title), "{title} is not named");
    }
    click(&mut app, "Restore first house");
    assert_eq!(app.state().job().title, "first house");
    rest(&mut app, 4);
    assert_eq!(autosaves(folder.path()).len(), 3, "the restored one under its new window, and both others");
    // The others wait in the menu; going over to one asks about the one in hand.
    click(&mut app, "File");
    click(&mut app, "Recovered work…");
    click(&mut app, "Restore second house");
    assert!(says(&app, "changes that are not saved"));
    click(&mut app, "Keep working");
    assert_eq!(app.state().job().title, "first house");
    // The list stands open again.
    click(&mut app, "Throw away third house");
    assert_eq!(autosaves(folder.path()).len(), 3, "thrown away only after a second word");
    click(&mut app, "Throw it away");
    assert_eq!(autosaves(folder.path()).len(), 2);
    drop(app);
    let left = autosave::pending(&folder.path().join("own").join("autosaves"));
    let mut titles: Vec<_> = left.jobs.iter().map(|found| found.job.title.clone()).collect();
    titles.sort();
    assert_eq!(titles, ["first house", "second house"]);
}

#[test]
fn recovery_names_job_file_and_time_and_shows_a_newer_file_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("as saved"));
    left_by_a_kill(folder.path(), 1, &titled("as autosaved"), Some(&path));
    let later = std::time::SystemTime::now() + std::time::Duration::from_secs(90);
    std::fs::File::options().write(true).open(&path).unwrap().set_modified(later).unwrap();
    let mut app = window(folder.path(), vec![]);
    for part in ["as autosaved", "house.ron", "Autosaved", "The file was written later"] {
        assert!(says(&app, part), "the question does not say {part}");
    }
    click(&mut app, "Open house.ron");
    assert_eq!(app.state().job().title, "as saved");
    assert_eq!(autosaves(folder.path()).len(), 1, "opening the file throws nothing away");
}

#[test]
fn an_autosave_that_says_what_the_file_says_is_not_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    left_by_a_kill(folder.path(), 1, &titled("house"), Some(&path));
    let app = window(folder.path(), vec![]);
    assert!(!says(&app, "was found"));
    assert!(autosaves(folder.path()).is_empty());
}

#[test]
fn a_half_typed_table_is_autosaved_recovered_and_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    command(&mut app, Key::T);
    type_text(&mut app, "Attic twin");
    rest(&mut app, 4);
    assert_eq!(autosaves(folder.path()).len(), 1, "a table in hand is work like a job");
    close_button(&mut app);
    assert!(says(&app, "table that is being typed"), "closing asks about the table");
    click(&mut app, "Keep working");
    command(&mut app, Key::Q);
    assert!(says(&app, "table that is being typed"), "quitting by key asks about the table");
    click(&mut app, "Keep working");
    assert!(app.state().view().table_editor.is_some());
    drop(app);
    let mut next = window(folder.path(), vec![]);
    assert!(says(&next, "Attic twin"), "the question names the table");
    restore(&mut next);
    let editor = next.state().view().table_editor.as_ref().expect("the editor stands open again");
    assert_eq!(editor.draft().head.name, "Attic twin");
    // Thrown away on purpose, it is gone.
    press(&mut next, Key::Escape);
    click(&mut next, "Throw the table away");
    rest(&mut next, 4);
    assert!(next.state().view().table_editor.is_none());
    assert!(autosaves(folder.path()).len() <= 1);
}

#[test]
fn the_autosave_keeps_up_while_edits_go_on() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    for second in 0..12 {
        let ctx = app.ctx.clone();
        app.state_mut().run(Edit::Notes(format!("second {second}")).into(), &ctx);
        rest(&mut app, 1);
        if second >= 5 {
            let kept = job_file::read(&autosaves(folder.path())[0]).unwrap().notes;
            let at: i32 = kept.trim_start_matches("second ").parse().unwrap();
            assert!(second - at <= 5, "at second {second} only what was done by second {at} is kept");
        }
    }
}

#[test]
fn an_autosave_that_failed_is_tried_again_without_an_edit_and_says_that_it_is_the_autosave() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    let place = folder.path().join("own").join("autosaves");
    std::fs::remove_dir_all(&place).unwrap();
    // A file stands where the folder was, so nothing can be written.
    std::fs::write(&place, "").unwrap();
    click(&mut app, "tap 5");
    rest(&mut app, 20);
    let told = app.state_mut().notices();
    assert_eq!(told.iter().filter(|text| text.starts_with("The autosave")).count(), 1, "{told:?}");
    std::fs::remove_file(&place).unwrap();
    rest(&mut app, 8);
    assert_eq!(autosaves(folder.path()).len(), 1, "written as soon as it could be");
    assert_eq!(job_file::read(&autosaves(folder.path())[0]).unwrap().tap_in_use(), Some("5"));
}

#[test]
fn an_autosave_goes_when_everything_is_undone() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    click(&mut app, "tap 5");
    rest(&mut app, 4);
    assert_eq!(autosaves(folder.path()).len(), 1);
    command(&mut app, Key::Z);
    rest(&mut app, 4);
    assert!(!app.state().is_changed() && autosaves(folder.path()).is_empty());
}

#[test]
fn saving_over_a_file_that_is_not_what_was_opened_asks_first() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let mut app = window_on(folder.path(), Some(path.clone()), vec![]);
    let mut other = window_on(folder.path(), Some(path.clone()), vec![]);
    click(&mut other, "tap 5");
    command(&mut other, Key::S);
    // The same contents at another time are no change.
    click(&mut app, "tap 2");
    command(&mut app, Key::S);
    assert!(says(&app, "is not what was opened here"), "{:?}", app.state_mut().notices());
    assert_eq!(job_file::read(&path).unwrap().tap_in_use(), Some("5"), "nothing is written unasked");
    click(&mut app, "Keep the file as it is");
    assert!(app.state().is_changed());
    command(&mut app, Key::S);
    click(&mut app, "Replace it");
    assert_eq!(job_file::read(&path).unwrap().tap_in_use(), Some("2"));
    click(&mut app, "tap 5");
    command(&mut app, Key::S);
    assert_eq!(job_file::read(&path).unwrap().tap_in_use(), Some("5"), "one's own file is not asked about");
}

#[test]
fn a_file_touched_but_not_changed_is_not_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let mut app = window_on(folder.path(), Some(path.clone()), vec![]);
    let bytes = std::fs::read(&path).unwrap();
    std::fs::write(&path, bytes).unwrap();
    click(&mut app, "tap 2");
    command(&mut app, Key::S);
    assert_eq!(job_file::read(&path).unwrap().tap_in_use(), Some("2"));
}

#[test]
fn a_question_keeps_the_keys_to_itself() {
    let folder = tempfile::tempdir().unwrap();
    left_by_a_kill(folder.path(), 1, &titled("lost"), None);
    let mut app = window(folder.path(), vec![]);
    let before = app.state().job().clone();
    for key in [Key::N, Key::R, Key::Z, Key::D, Key::B, Key::T, Key::S, Key::O] {
        command(&mut app, key);
        assert_eq!(app.state().job(), &before, "{key:?} changed the job under the question");
        let view = app.state().view();
        assert!(view.picker.is_none() && view.table_editor.is_none() && view.go_to.is_none(), "{key:?}");
    }
    // The window comes to rest under the question: nothing asks for one frame after another.
    let last = app.try_run().expect("the window comes to rest");
    assert!(last < 20, "{last} frames");
}

#[test]
fn a_paste_too_long_for_its_place_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    app.get_by_role_and_label(Role::TextInput, "Altitude").focus();
    app.run_steps(2);
    app.event(Event::Paste("9".repeat(2_000_000)));
    app.run_steps(3);
    let told = app.state_mut().notices();
    assert!(told.iter().any(|text| text.starts_with("Not pasted: 2,000,000 letters")), "{told:?}");
    press(&mut app, Key::Escape);
    command(&mut app, Key::T);
    app.event(Event::Paste("0.1\t1000\n".repeat(100_000)));
    app.run_steps(3);
    let told = app.state_mut().notices();
    assert!(told.iter().any(|text| text.starts_with("Not pasted: 900,000 letters")), "{told:?}");
    app.event(Event::Paste("0.1\t1000\n".repeat(10_000)));
    app.run_steps(3);
    assert!(says(&app, "Not pasted: 10,000 rows"), "short enough to be read, and no table all the same");
    assert!(!app.state().view().table_editor.as_ref().unwrap().is_changed());
}

#[test]
fn of_many_messages_a_few_are_shown_and_the_rest_counted() {
    let folder = tempfile::tempdir().unwrap();
    let blowers = folder.path().join("own").join("blowers");
    std::fs::create_dir_all(&blowers).unwrap();
    for number in 0..40 {
        std::fs::write(blowers.join(format!("{number}.ron")), "no table").unwrap();
    }
    let mut app = window(folder.path(), vec![]);
    app.run_steps(3);
    let shown = app.query_all_by_label("Close").count();
    assert!(shown <= 4, "{shown} messages stand over the window");
    click(&mut app, "Close all");
    assert_eq!(app.query_all_by_label("Close").count(), 0);
}

#[test]
fn readings_that_go_with_an_old_path_are_told_and_come_back_by_undo() {
    let folder = tempfile::tempdir().unwrap();
    let mut job = demo::heat_pump();
    let grille = job.path.elements[0].id;
    edit::apply(&mut job, Edit::AddPort(grille)).unwrap();
    let port = job.path.ports.iter().find(|port| port.after == grille).unwrap().id;
    edit::apply(&mut job, Edit::Reading(ReadAt::Port(port), vec![Pressure::from_in_wc(-0.05)])).unwrap();
    let mut app = window(folder.path(), vec![]);
    app.state_mut().show_job(job.clone());
    app.run_steps(2);
    let furnace = demo::gas_furnace().machine.unwrap();
    let ctx = app.ctx.clone();
    app.state_mut().run(Action::UseTable(Box::new(furnace)), &ctx);
    assert!(job_file::check(app.state().job()).is_ok(), "what stands on the screen can be saved");
    let told = app.state_mut().notices();
    assert!(told.iter().any(|text| text.starts_with("One reading went with the old air path")), "{told:?}");
    app.state_mut().run(Command::Undo.into(), &ctx);
    assert!(app.state().job() == &job, "undo brings everything back");
}

/// Events that fall into one and the same picture, as on a slow machine; the harness by itself draws a picture for each.
fn in_one_picture(app: &mut App, events: impl IntoIterator<Item = Event>) {
    app.input_mut().events.extend(events);
    app.run_steps(5);
}

fn pressed(modifiers: Modifiers, key: Key) -> Event {
    Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers }
}

/// Types into the field of the altitude and leaves the hand in it.
fn half_typed_altitude(app: &mut App) {
    app.get_by_role_and_label(Role::TextInput, "Altitude").focus();
    app.run_steps(2);
    command(app, Key::A);
    type_text(app, "1234");
}

#[test]
fn what_stands_in_the_field_in_hand_is_saved_with_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let altitude = || job_file::read(&path).unwrap().set().air.altitude.ft();
    let mut app = window_on(folder.path(), Some(path.clone()), vec![]);
    half_typed_altitude(&mut app);
    command(&mut app, Key::S);
    assert!((altitude() - 1234.0).abs() < 1e-9, "{}", altitude());
    assert!(!app.state().is_changed());
    // Enter and the keys of saving in one picture of a slow machine.
    for (digit, enters, feet) in [("5", true, 12345.0), ("6", false, 12346.0)] {
        half_typed_altitude(&mut app);
        let enter = enters.then(|| pressed(Modifiers::NONE, Key::Enter));
        let keys = [Some(Event::Text(digit.to_owned())), enter, Some(pressed(Modifiers::COMMAND, Key::S))];
        in_one_picture(&mut app, keys.into_iter().flatten());
        assert!((altitude() - feet).abs() < 1e-9 && !app.state().is_changed(), "{}", altitude());
    }
}

#[test]
fn closing_asks_about_what_stands_in_the_field_in_hand() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    half_typed_altitude(&mut app);
    close_button(&mut app);
    assert!(says(&app, "changes that are not saved"));
    assert!((app.state().job().set().air.altitude.ft() - 1234.0).abs() < 1e-9);
}

/// What cannot be is no value of the job, and closing does not drop it without a word; agreed to, the window closes.
#[test]
fn closing_asks_about_an_impossible_value_in_the_field_in_hand() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let mut app = window_on(folder.path(), Some(path), vec![]);
    app.get_by_role_and_label(Role::TextInput, "Altitude").focus();
    app.run_steps(2);
    command(&mut app, Key::A);
    type_text(&mut app, "99999");
    close_button(&mut app);
    assert!(
        says(&app, "A value that was typed is not in the job: An altitude of 99,999 ft cannot be"),
        "nothing is asked"
    );
    assert!(!app.state().is_changed());
    click(&mut app, "Keep working");
    assert!(says(&app, "An altitude of 99,999 ft cannot be"));
    close_button(&mut app);
    app.get_by_label("Quit without the value").click();
    assert!(closes(&mut app), "agreed to");
}

#[cfg(unix)]
#[test]
fn results_never_replace_a_job_behind_another_name() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let (link, hard) = (folder.path().join("link.json"), folder.path().join("hard.json"));
    std::os::unix::fs::symlink("house.ron", &link).unwrap();
    std::fs::hard_link(&path, &hard).unwrap();
    let mut app = window_on(folder.path(), Some(path.clone()), vec![Some(link), Some(hard)]);
    for _ in 0..2 {
        command(&mut app, Key::E);
        assert_eq!(job_file::read(&path).unwrap().title, "house");
        let told = app.state_mut().notices();
        assert!(told.iter().any(|text| text.starts_with("Results would replace a job")), "{told:?}");
        click(&mut app, "Close");
    }
}

/// A table is refused at once where a job lies, the window's own or another's: nobody is asked first whether it may go.
#[test]
fn no_table_takes_the_place_of_a_job() {
    let folder = tempfile::tempdir().unwrap();
    let (own, other) =
        (saved(folder.path(), "own.ron", &titled("own")), saved(folder.path(), "b.ron", &titled("other")));
    let mut app = window_on(folder.path(), Some(own.clone()), vec![]);
    let ctx = app.ctx.clone();
    app.state_mut().run(Edit::Machine(Box::new(demo::gas_furnace().machine.unwrap())).into(), &ctx);
    for (path, title) in [(own, "own"), (other, "other")] {
        app.state_mut().run(Action::TableTo(path.clone(), Tables::Job), &ctx);
        app.run_steps(3);
        assert!(app.state().view().confirm.is_none());
        assert!(
            says(&app, "The table would replace a job")
                || app.state_mut().notices().iter().any(|told| told.starts_with("The table would replace a job"))
        );
        assert_eq!(job_file::read(&path).unwrap().title, title);
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_in_the_place_of_a_lock_keeps_nobody_waiting() {
    let folder = tempfile::tempdir().unwrap();
    left_by_a_kill(folder.path(), 1, &titled("lost"), None);
    let lock = autosaves(folder.path())[0].with_extension("lock");
    std::fs::remove_file(&lock).unwrap();
    let made = std::process::Command::new("mkfifo").arg(&lock).status().expect("mkfifo runs");
    assert!(made.success());
    let mut app = window(folder.path(), vec![]);
    let told = app.state_mut().notices();
    assert!(told.iter().any(|text| text.contains("its lock is a pipe, not a plain file")), "{told:?}");
}

#[test]
fn two_commands_of_one_picture_both_wait_for_the_field() {
    let folder = tempfile::tempdir().unwrap();
    let path = saved(folder.path(), "house.ron", &titled("house"));
    let mut app = window_on(folder.path(), Some(path.clone()), vec![]);
    half_typed_altitude(&mut app);
    in_one_picture(&mut app, [pressed(Modifiers::COMMAND, Key::N), pressed(Modifiers::COMMAND, Key::S)]);
    // The commands' own order: the new job is asked about first, and saving leaves the question standing.
    assert!((job_file::read(&path).unwrap().set().air.altitude.ft() - 1234.0).abs() < 1e-9);
    assert!(says(&app, "changes that are not saved"));
}

#[test]
fn an_agreement_counts_for_no_job_that_came_later() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    let ctx = app.ctx.clone();
    let edit = |app: &mut App, text: &str| app.state_mut().run(Edit::Notes(text.to_owned()).into(), &ctx);
    edit(&mut app, "of the demo");
    app.state_mut().run(Command::New.into(), &ctx);
    let agreed = app.state().view().confirm.clone().expect("a question").action;
    app.state_mut().show_job(titled("later"));
    edit(&mut app, "of the later job");
    app.state_mut().run(*agreed, &ctx);
    assert_eq!(app.state().job().title, "later", "it was another job that was given up");
}

#[test]
fn a_paste_is_counted_in_letters() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), vec![]);
    app.get_by_role_and_label(Role::TextInput, "Altitude").focus();
    app.run_steps(2);
    app.event(Event::Paste("½".repeat(9_000)));
    app.run_steps(2);
    assert_eq!(app.state_mut().notices(), Vec::<String>::new(), "nine thousand letters are fewer than ten thousand");
}

/// 40,000 ft is 12,192 m, and who reads metres is told so of an autosave as of any other file.
#[test]
fn an_autosave_that_cannot_be_read_is_told_of_in_the_units_shown() {
    let folder = tempfile::tempdir().unwrap();
    let own = Places::within(&folder.path().join("own"));
    let mut settings = settings::Settings { units: UnitSystem::SiLitres, ..settings::Settings::default() };
    settings.zoom_percent = 100;
    settings::save(&own.settings, &settings).unwrap();
    let mut job = titled("high");
    job.sets[0].air.altitude = tapcross::units::Altitude::from_ft(40_000.0);
    left_by_a_kill(folder.path(), 1, &job, None);
    let app = window(folder.path(), vec![]);
    assert!(says(&app, "An autosave cannot be read and is left where it is"), "nothing is said");
    assert!(says(&app, "12,192 m cannot be"), "not in metres");
}

/// After a table is used the hand is in the first reading; nothing is typed there, so that Ctrl+Z takes the table back, and no reading with it.
#[test]
fn undo_in_a_field_where_nothing_is_typed_is_the_jobs() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(folder.path(), Vec::new());
    let before = app.state().job().clone();
    let ctx = app.ctx.clone();
    let mut table = before.machine.clone().unwrap();
    table.name = "Another".to_owned();
    app.state_mut().run(Action::UseTable(Box::new(table)), &ctx);
    app.run_steps(6);
    assert_ne!(app.state().job().machine, before.machine);
    assert!(app.state().view().entry.is_some(), "the hand is in a reading");
    command(&mut app, Key::Z);
    app.run_steps(6);
    assert_eq!(app.state().job().machine, before.machine);
    assert_eq!(app.state().job().sets, before.sets);
    // Typed letters are the field's own to take back, and what it showed at rest is none of them.
    half_typed_altitude(&mut app);
    command(&mut app, Key::Z);
    app.run_steps(3);
    let entry = app.state().view().entry.clone().unwrap();
    assert_eq!(entry.text, entry.before);
    assert_eq!(app.state().job().sets, before.sets);
}

/// The keys that answered one question are none of the next: Enter twice throws no table away.
#[test]
fn enter_through_two_questions_keeps_the_work() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.ron");
    let mut app = window(folder.path(), vec![Some(path.clone())]);
    let ctx = app.ctx.clone();
    app.state_mut().run(Edit::Notes("mine".to_owned()).into(), &ctx);
    app.run_steps(2);
    command(&mut app, Key::T);
    type_text(&mut app, "GF-1");
    close_button(&mut app);
    app.run_steps(3);
    press(&mut app, Key::Enter);
    rest(&mut app, 2);
    assert!(path.exists());
    app.get_by_label_contains("The table that is being typed is not in the job yet.");
    press(&mut app, Key::Enter);
    rest(&mut app, 1);
    assert_eq!(app.state().view().table_editor.as_ref().unwrap().draft().head.name, "GF-1");
    assert!(app.state().view().confirm.is_none());
}
