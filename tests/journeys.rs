//! Whole tasks of the people in front of the window, by name, keyboard and pointer, without a graphics card.

use std::path::PathBuf;

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::job_file;
use tapcross::files::places::Places;
use tapcross::model::answer::Answer;
use tapcross::model::facts::job_check::Field;
use tapcross::ui::view::FieldKey;
use tapcross::units::UnitSystem;

type App = Harness<'static, TapcrossApp>;

fn window(start: Start) -> App {
    let mut app = Harness::builder()
        .with_size(Vec2::new(1440.0, 900.0))
        .with_max_steps(20)
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, start));
    app.run_steps(3);
    app
}

fn press(app: &mut App, key: Key) {
    app.key_press(key);
    app.run_steps(3);
}

fn press_with(app: &mut App, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(3);
}

fn click(app: &mut App, name: &str) {
    app.get_by_label(name).click();
    app.run_steps(3);
}

/// Goes to a field by its name, types over it and enters it.
fn type_into(app: &mut App, name: &str, text: &str) {
    app.get_by_role_and_label(Role::TextInput, name).focus();
    app.run_steps(2);
    press_with(app, Modifiers::COMMAND, Key::A);
    app.event(eframe::egui::Event::Text(text.to_owned()));
    app.run_steps(2);
    press(app, Key::Enter);
}

fn verdict(app: &App) -> String {
    let node = app.get_by_label_contains("Verdict:");
    node.accesskit_node().label().unwrap_or_default()
}

fn in_folder(folder: &std::path::Path, answers: Vec<Option<PathBuf>>) -> Start {
    Start {
        job: None,
        places: Some(Places::within(&folder.join("own"))),
        dialogs: Box::new(ScriptedDialogs::answering(answers)),
        ..Start::alone()
    }
}

#[test]
fn the_window_opens_with_a_complete_worked_job() {
    let app = window(Start::alone());
    assert!(verdict(&app).contains("cfm on tap 4"), "{}", verdict(&app));
    assert!(app.query_by_label_contains("invented demo").is_some());
    assert!(app.state().answer().point().is_some());
}

#[test]
fn a_technician_mends_which_tap_ran_and_asks_what_another_would_do() {
    let mut app = window(Start::alone());
    let before = app.state().answer().point().unwrap().now.airflow;
    click(&mut app, "tap 5");
    assert_eq!(app.state().job().tap_in_use(), Some("5"));
    assert!(app.state().answer().point().unwrap().now.airflow > before, "the same reading on a higher tap is more air");
    press_with(&mut app, Modifiers::COMMAND, Key::Z);
    assert_eq!(app.state().job().tap_in_use(), Some("4"));
    press_with(&mut app, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
    assert_eq!(app.state().job().tap_in_use(), Some("5"));
    press_with(&mut app, Modifiers::ALT, Key::ArrowDown);
    assert_eq!(app.state().job().tap_in_use(), Some("5"), "what ran while it was read is no matter of a key");
    let then = app.state().answer().with_changes().expect("another tap is a change");
    assert_eq!(then.system.tap(), Some("4"));
}

#[test]
fn what_cannot_be_is_refused_where_it_is_typed_and_the_rest_keeps_working() {
    let mut app = window(Start::alone());
    let before = app.state().job().clone();
    for (name, text, sentence) in [
        ("Humidity", "140", "A relative humidity of 140 % cannot be; it lies between 0 and 100 %"),
        ("Altitude", "40000", "An altitude of 40,000 ft cannot be; houses stand between −1,500 and 20,000 ft"),
        (
            "Airflow",
            "0",
            "A target of 0 cfm/ton cannot be; it lies between 100 and 1,000 cfm/ton, and 350 to 450 is usual",
        ),
        ("Return air", "abc", "\"abc\" is not a number"),
    ] {
        type_into(&mut app, name, text);
        assert!(app.query_all_by_label_contains(sentence).next().is_some(), "{name}: no sentence");
        assert_eq!(app.state().job(), &before, "{name} changed the job");
        assert!(
            verdict(&app).contains("That value is not possible"),
            "a refused text must not leave a confident answer"
        );
        let field = app.get_by_role_and_label(Role::TextInput, name);
        assert!(field.accesskit_node().is_focused(), "{name}: after Enter the hand stays where a text was refused");
        press(&mut app, Key::Escape);
        assert!(app.state().view().refused.is_empty(), "Escape leaves the field as it was");
    }
    assert!(verdict(&app).contains("cfm on tap 4"));
}

/// The sentence once said feet, inches and cfm whatever units were chosen.
#[test]
fn whoever_chose_pascals_is_refused_in_pascals_and_metres() {
    let mut app = window(Start::alone());
    click(&mut app, "cfm · in. w.c.");
    click(&mut app, "L/s · Pa");
    for (name, text, sentence) in [
        ("Altitude", "40000", "An altitude of 40,000 m cannot be; houses stand between −457 and 6,096 m"),
        ("Return air", "90", "Return air of 90 °C cannot be; it lies between −40 and 65.6 °C"),
        (
            "Static after the blower",
            "3000",
            "a reading of 3,000 Pa cannot be; it lies within ±1,245.4 Pa; was 30 Pa meant?",
        ),
    ] {
        type_into(&mut app, name, text);
        assert!(app.query_all_by_label_contains(sentence).next().is_some(), "{name}: no sentence");
        press(&mut app, Key::Escape);
    }
}

#[test]
fn a_target_is_found_from_tons_heat_or_airflow() {
    let mut app = window(Start::alone());
    type_into(&mut app, "Airflow", "350");
    let target = app.state().answer().blower().target.unwrap();
    assert!((target.standard.cfm() - 3.5 * 350.0).abs() < 1e-6);
    type_into(&mut app, "Outdoor unit", "3");
    assert!((app.state().answer().blower().target.unwrap().standard.cfm() - 3.0 * 350.0).abs() < 1e-6);
    click(&mut app, "Target from heat");
    type_into(&mut app, "Rise", "40");
    let job = app.state().job().clone();
    assert_eq!(Answer::of(&job).blower().target, app.state().answer().blower().target);
    click(&mut app, "Target from cfm");
    let begun = app.state().answer().blower().target.unwrap().actual.cfm();
    assert!(
        (begun / 5.0 - (begun / 5.0).round()).abs() < 1e-9,
        "it begins with the figure that was shown, not {begun}"
    );
    type_into(&mut app, "Airflow", "1,200 cfm");
    assert!((app.state().answer().blower().target.unwrap().actual.cfm() - 1200.0).abs() < 1e-9);
}

#[test]
fn units_change_what_is_shown_and_never_what_is_stored() {
    let mut app = window(Start::alone());
    let before = app.state().job().clone();
    click(&mut app, "cfm · in. w.c.");
    click(&mut app, "L/s · Pa");
    assert_eq!(app.state().settings().units, UnitSystem::SiLitres);
    assert_eq!(app.state().job(), &before);
    assert!(verdict(&app).contains("L/s"), "{}", verdict(&app));
    type_into(&mut app, "Return air", "24");
    assert!((app.state().job().set().air.temperature.c() - 24.0).abs() < 1e-9);
}

#[test]
fn a_job_is_saved_and_opened_again_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house");
    let saved = folder.path().join("house.ron");
    let mut app = window(in_folder(folder.path(), vec![Some(path)]));
    click(&mut app, "tap 5");
    press_with(&mut app, Modifiers::COMMAND, Key::S);
    assert_eq!(app.state().file(), Some(saved.as_path()));
    assert!(!app.state().is_changed());
    let read = job_file::read(&saved).unwrap();
    assert_eq!(&read, app.state().job());
    let mut again = window(Start { job: Some(saved.clone()), ..in_folder(folder.path(), vec![]) });
    assert_eq!(again.state().job(), &read);
    assert!(again.state().settings().recent.contains(&saved));
    // A second save goes to the same file without asking.
    click(&mut again, "tap 3");
    press_with(&mut again, Modifiers::COMMAND, Key::S);
    assert_eq!(job_file::read(&saved).unwrap().tap_in_use(), Some("3"));
}

#[test]
fn without_a_system_dialog_a_path_can_be_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("typed.ron");
    let mut app = window(in_folder(folder.path(), vec![None]));
    click(&mut app, "tap 5");
    press_with(&mut app, Modifiers::COMMAND, Key::S);
    assert!(app.state().view().path_prompt.is_some());
    press_with(&mut app, Modifiers::COMMAND, Key::A);
    app.event(eframe::egui::Event::Text(path.display().to_string()));
    app.run_steps(2);
    press(&mut app, Key::Enter);
    assert!(path.exists(), "{:?}", app.state_mut().notices());
    assert!(app.state().view().path_prompt.is_none());
}

#[test]
fn a_typed_path_stays_until_it_proves_good_and_asks_before_it_replaces() {
    let folder = tempfile::tempdir().unwrap();
    let (nowhere, precious) = (folder.path().join("no").join("house.ron"), folder.path().join("precious.ron"));
    std::fs::write(&precious, "precious").unwrap();
    let mut app = window(in_folder(folder.path(), vec![None]));
    let typed = |app: &mut App, path: &std::path::Path| {
        press_with(app, Modifiers::COMMAND, Key::A);
        app.event(eframe::egui::Event::Text(path.display().to_string()));
        app.run_steps(2);
        press(app, Key::Enter);
    };
    let kept = || std::fs::read_to_string(&precious).unwrap() == "precious";
    press_with(&mut app, Modifiers::COMMAND, Key::S);
    typed(&mut app, &nowhere);
    let problem = |app: &App| app.state().view().path_prompt.as_ref().and_then(|prompt| prompt.problem.clone());
    assert!(problem(&app).is_some_and(|told| told.contains("the folder does not exist")), "{:?}", problem(&app));
    // The ending is put on before the file is looked for.
    typed(&mut app, &precious.with_extension(""));
    assert!(app.query_by_label_contains("There is a file already").is_some());
    click(&mut app, "Keep the file as it is");
    assert!(kept() && app.state().view().path_prompt.is_some());
    typed(&mut app, &precious.with_extension(""));
    click(&mut app, "Replace it");
    assert!(!kept() && app.state().view().path_prompt.is_none());
    assert_eq!(app.state().file(), Some(precious.as_path()));
}

#[test]
fn an_ending_that_is_put_on_never_leads_over_another_file_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let there = folder.path().join("house.ron");
    std::fs::write(&there, "precious").unwrap();
    let mut app = window(in_folder(folder.path(), vec![Some(folder.path().join("house"))]));
    press_with(&mut app, Modifiers::COMMAND, Key::S);
    assert_eq!(std::fs::read_to_string(&there).unwrap(), "precious");
    click(&mut app, "Replace it");
    assert_eq!(&job_file::read(&there).unwrap(), app.state().job());
}

#[test]
fn unsaved_work_is_never_thrown_away_unasked() {
    let mut app = window(Start::alone());
    click(&mut app, "tap 5");
    press_with(&mut app, Modifiers::COMMAND, Key::N);
    assert!(app.query_by_label("The job has changes that are not saved.").is_some());
    click(&mut app, "Keep working");
    assert_eq!(app.state().job().tap_in_use(), Some("5"));
    press_with(&mut app, Modifiers::COMMAND, Key::N);
    click(&mut app, "New job without saving");
    assert!(app.state().job().machine.is_none());
}

#[test]
fn a_broken_file_is_one_sentence_and_the_job_stays() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.ron");
    std::fs::write(&broken, "(tapcross_job: 1, title: \"x").unwrap();
    let mut app = window(in_folder(folder.path(), vec![Some(broken.clone())]));
    let before = app.state().job().clone();
    press_with(&mut app, Modifiers::COMMAND, Key::O);
    app.run_steps(2);
    assert_eq!(app.state().job(), &before);
    let notices = app.state_mut().notices();
    assert!(notices.len() == 1 && notices[0].contains("broken.ron"), "{notices:?}");
    assert_eq!(std::fs::read_to_string(&broken).unwrap(), "(tapcross_job: 1, title: \"x");
}

#[test]
fn a_killed_window_leaves_work_that_the_next_one_offers() {
    let folder = tempfile::tempdir().unwrap();
    {
        let mut app = window(in_folder(folder.path(), vec![]));
        click(&mut app, "tap 2");
        // Twelve seconds of the window's own time, past the quiet before an autosave.
        app.run_steps(50);
        assert!(app.state().is_changed());
        // Dropped without closing: what a kill leaves.
    }
    let mut next = window(in_folder(folder.path(), vec![]));
    next.get_by_label_contains("Restore ").click();
    next.run_steps(3);
    assert_eq!(next.state().job().tap_in_use(), Some("2"));
    assert!(next.state().is_changed(), "what was recovered is not on the disk yet");
}

#[test]
fn results_are_written_as_json_and_never_over_a_job() {
    let folder = tempfile::tempdir().unwrap();
    let (good, bad) = (folder.path().join("results.json"), folder.path().join("job.ron"));
    std::fs::write(&bad, "precious").unwrap();
    let mut app = window(in_folder(folder.path(), vec![Some(good.clone()), Some(bad.clone())]));
    press_with(&mut app, Modifiers::COMMAND, Key::E);
    let ctx = app.ctx.clone();
    app.state_mut().wait_for_the_disk(&ctx);
    assert!(std::fs::read_to_string(&good).unwrap().contains("tapcross_report"));
    press_with(&mut app, Modifiers::COMMAND, Key::E);
    assert_eq!(std::fs::read_to_string(&bad).unwrap(), "precious");
}

#[test]
fn larger_type_keeps_every_part_reachable() {
    let mut app = window(Start::alone());
    for _ in 0..20 {
        press_with(&mut app, Modifiers::COMMAND, Key::Plus);
    }
    assert_eq!(app.state().settings().zoom_percent, 250);
    for part in ["Part Job", "Part Changes, taps", "Part Chart"] {
        click(&mut app, part);
    }
    press_with(&mut app, Modifiers::COMMAND, Key::Num0);
    assert_eq!(app.state().settings().zoom_percent, 100);
}

#[test]
fn every_thing_that_can_be_pressed_or_typed_into_has_a_name() {
    let app = window(Start::alone());
    let mut nameless = Vec::new();
    for node in app.root().children_recursive() {
        let access = node.accesskit_node();
        let acts = matches!(
            access.role(),
            Role::Button | Role::TextInput | Role::CheckBox | Role::RadioButton | Role::ComboBox | Role::Slider
        );
        let named = access.label().is_some_and(|label| !label.trim().is_empty());
        if acts && !named {
            nameless.push(format!("{:?} {:?}", access.role(), access.bounding_box()));
        }
    }
    assert!(nameless.is_empty(), "{nameless:#?}");
}

#[test]
fn whatever_the_tab_key_comes_to_is_in_view() {
    let mut app = window(Start::alone());
    let mut seen = std::collections::HashSet::new();
    for step in 0..120 {
        press(&mut app, Key::Tab);
        // A scrolled part needs some frames to come to rest.
        app.run_steps(30);
        let focused = app.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        let focused = focused.unwrap_or_else(|| panic!("nothing has the focus after {step} steps"));
        let (name, rect) = (focused.accesskit_node().label().unwrap_or_default(), focused.rect());
        if !seen.insert(name.clone()) {
            continue;
        }
        assert!(rect.min.y >= 0.0 && rect.max.y <= 900.0, "{name} is out of view at {rect:?}");
    }
    for name in ["Barometer", "Put on: Second return", "Notes"] {
        assert!(seen.contains(name), "{name}: {seen:?}");
    }
}

#[test]
fn the_keyboard_reaches_the_readings_from_anywhere() {
    let mut app = window(Start::alone());
    press_with(&mut app, Modifiers::COMMAND, Key::R);
    let entry = app.state().view().entry.as_ref().map(|entry| entry.key);
    assert_eq!(entry, Some(FieldKey::Of(Field::ReturnReading)));
}

#[test]
fn a_kept_table_is_replaced_only_when_a_person_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = window(in_folder(folder.path(), vec![]));
    let mut table = app.state().job().machine.clone().unwrap();
    table.name = "Mine".to_owned();
    table.illustrative = false;
    let ctx = app.ctx.clone();
    let keep = |app: &mut App, table: &tapcross::model::facts::blower::BlowerTable| {
        app.state_mut().run(tapcross::ui::view::action::Action::KeepTable(Box::new(table.clone())), &ctx);
        app.run_steps(3);
    };
    keep(&mut app, &table);
    assert_eq!(app.state().job().machine.as_ref(), Some(&table));
    let first = table.clone();
    table.notes = "typed again".to_owned();
    keep(&mut app, &table);
    click(&mut app, "Keep the old one");
    assert_eq!(app.state().job().machine.as_ref(), Some(&first));
    keep(&mut app, &table);
    click(&mut app, "Replace it");
    assert_eq!(app.state().job().machine.as_ref(), Some(&table));
    let (own, problems) = tapcross::files::library::load_folder(&folder.path().join("own").join("blowers"));
    assert_eq!(problems, []);
    assert_eq!(own.len(), 1);
    assert_eq!(own[0].table, table);
}

#[test]
fn the_window_opens_as_large_as_it_was_closed() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(in_folder(folder.path(), Vec::new()).window_size(), (1440.0, 900.0), "a first start");
    let settings = "(tapcross_settings: 1, window_points: Some((1100, 760)))";
    let place = Places::within(&folder.path().join("own")).settings;
    std::fs::create_dir_all(place.parent().unwrap()).unwrap();
    std::fs::write(place, settings).unwrap();
    assert_eq!(in_folder(folder.path(), Vec::new()).window_size(), (1100.0, 760.0));
}
