//! The window by keyboard alone: groups of choices, lists, and where the focus goes.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::files::settings::Panel;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::job::Job;
use tapcross::ui::view::action::{Action, Command};
use window::{App, app, app_of, key, run, settle, sized, texts, type_into};

fn focused(app: &App) -> String {
    let found = app.root().children_recursive().find(|node| node.accesskit_node().is_focused());
    found.and_then(|node| node.accesskit_node().label()).unwrap_or_default()
}

#[test]
fn a_row_of_choices_is_one_stop_and_arrows_choose_in_it() {
    let mut app = app();
    app.get_by_role_and_label(Role::RadioButton, "tap 4").focus();
    app.run_steps(2);
    key(&mut app, Key::ArrowRight);
    assert_eq!(app.state().job().set().tap.as_deref(), Some("5"));
    assert_eq!(focused(&app), "tap 5", "the focus follows the choice");
    key(&mut app, Key::ArrowRight);
    assert_eq!(app.state().job().set().tap.as_deref(), Some("5"), "the row ends there");
    key(&mut app, Key::ArrowLeft);
    assert_eq!(app.state().job().set().tap.as_deref(), Some("4"));
    key(&mut app, Key::Tab);
    assert!(!focused(&app).starts_with("tap "), "Tab leaves the row: {}", focused(&app));
    app.key_press_modifiers(Modifiers::SHIFT, Key::Tab);
    app.run_steps(3);
    assert_eq!(focused(&app), "tap 4", "and comes back to what is chosen");
}

#[test]
fn a_list_opens_by_down_and_gives_the_focus_back() {
    let mut app = app();
    app.get_by_role_and_label(Role::ComboBox, "Call").focus();
    app.run_steps(2);
    key(&mut app, Key::ArrowDown);
    assert!(app.query_by_label("Fan only").is_some() || app.query_by_label("Heating, high").is_some(), "it is open");
    key(&mut app, Key::ArrowDown);
    key(&mut app, Key::Enter);
    assert_ne!(app.state().job().set().call, Call::CoolingHigh, "another one was picked");
    assert_eq!(focused(&app), "Call");
}

#[test]
fn the_call_and_the_file_menu_have_keys() {
    let mut app = app();
    app.key_press_modifiers(Modifiers::COMMAND, Key::L);
    app.run_steps(4);
    assert_eq!(focused(&app), "Cooling, high", "the list is open on what is chosen");
    key(&mut app, Key::Escape);
    assert_eq!(focused(&app), "Call", "and gives the focus back");
    key(&mut app, Key::F10);
    app.run_steps(3);
    assert_eq!(focused(&app), "New job Ctrl+N", "the menu is open and on its first line");
    key(&mut app, Key::Escape);
    assert!(app.query_by_label("Write results as JSON…").is_none(), "Escape closes it");
}

#[test]
fn what_is_closed_gives_the_focus_back_to_where_it_was() {
    let mut app = app();
    app.get_by_role_and_label(Role::ComboBox, "Call").focus();
    app.run_steps(2);
    for open in [Key::F1, Key::B, Key::T] {
        let with = if open == Key::F1 { Modifiers::NONE } else { Modifiers::COMMAND };
        app.key_press_modifiers(with, open);
        app.run_steps(4);
        assert_ne!(focused(&app), "Call", "{open:?} lies over it");
        key(&mut app, Key::Escape);
        app.run_steps(3);
        assert_eq!(focused(&app), "Call", "after {open:?}");
    }
}

/// Several panels are folded in one visit of the menu.
#[test]
fn the_view_menu_stays_open_while_ticks_are_set() {
    let mut app = app();
    app.get_by_label("View").click();
    app.run_steps(3);
    for name in ["Job", "Air path"] {
        app.get_by_role_and_label(Role::CheckBox, name).click();
        app.run_steps(3);
    }
    assert_eq!(app.state().settings().folded.len(), 2);
}

/// Undo in a cell is the cell's own: it takes back what was typed there and leaves the job alone.
#[test]
fn undo_works_in_the_cells_of_the_table_editor() {
    let mut app = app();
    app.key_press_modifiers(Modifiers::COMMAND, Key::T);
    app.run_steps(4);
    app.event(eframe::egui::Event::Text("Mine".to_owned()));
    app.run_steps(3);
    let named = |app: &App| app.state().view().table_editor.as_ref().map(|editor| editor.draft().head.name.clone());
    assert_eq!(named(&app).as_deref(), Some("Mine"));
    app.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    app.run_steps(3);
    assert_eq!(named(&app).as_deref(), Some(""));
}

/// F6 goes through every part of the window and comes round; Shift goes the other way.
#[test]
fn f6_goes_from_part_to_part() {
    let mut app = app();
    let place = |app: &App| {
        let found = app.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        let centre = found.expect("something has the focus").rect().center();
        app.state().view().parts.iter().position(|part| part.contains(centre)).expect("it is in a part")
    };
    let mut forward = Vec::new();
    for _ in 0..7 {
        key(&mut app, Key::F6);
        forward.push(place(&app));
    }
    let parts = app.state().view().parts.len();
    assert_eq!(parts, 6);
    let reached: std::collections::BTreeSet<usize> = forward.iter().copied().collect();
    assert!(reached.len() >= 5, "parts reached: {forward:?}");
    let last = *forward.last().unwrap();
    app.key_press_modifiers(Modifiers::SHIFT, Key::F6);
    app.run_steps(3);
    assert_eq!(place(&app), forward[forward.len() - 2], "back from {last}");
}

/// Whether the tap table and the palette's button are in sight.
fn beside_the_chart(app: &App) -> (bool, bool) {
    let taps = app.query_all_by_label_contains("tap 3: ").next().is_some();
    (taps, app.query_by_label("Changes to put on").is_some())
}

#[test]
fn every_tap_and_the_changes_fold_each_by_itself_by_key_and_by_press() {
    for size in [window::WIDE, [1024.0, 700.0]] {
        let mut app = sized(demo::heat_pump(), size);
        assert_eq!(beside_the_chart(&app), (true, true));
        app.get_by_role_and_label(Role::Button, "Fold: Every tap").focus();
        settle(&mut app);
        key(&mut app, Key::Enter);
        assert_eq!(beside_the_chart(&app), (false, true));
        app.get_by_role_and_label(Role::Button, "Fold: Changes").click();
        settle(&mut app);
        assert_eq!(beside_the_chart(&app), (false, false));
        app.get_by_role_and_label(Role::Button, "Show: Every tap").click();
        settle(&mut app);
        assert_eq!(beside_the_chart(&app), (true, false));
        assert_eq!(app.state().settings().folded.iter().collect::<Vec<_>>(), [&Panel::Changes]);
        run(&mut app, Action::Command(Command::DemoFurnace));
        assert!(app.query_by_label("Changes to put on").is_none(), "it stays folded in another job");
        run(&mut app, Action::Fold(Panel::Changes));
        assert!(app.query_by_label("Changes to put on").is_some());
    }
}

/// The line that says what the thing under the keys is for, and what a screen reader says of that thing.
fn hints(app: &App) -> (Option<String>, Option<String>) {
    let line = app.query_by(|node| node.role() == Role::Status).and_then(|node| node.accesskit_node().label());
    let focused = app.root().children_recursive().find(|node| node.accesskit_node().is_focused());
    (line, focused.and_then(|node| node.accesskit_node().description()))
}

#[test]
fn whatever_has_the_keys_has_its_hint_in_one_line_and_for_screen_readers() {
    let mut job = demo::heat_pump();
    let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    let change = ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.3 });
    tapcross::edit::apply(&mut job, Edit::AddChange(change)).unwrap();
    for size in [window::WIDE, [1024.0, 700.0], [720.0, 450.0]] {
        let mut app = sized(job.clone(), size);
        let mut without = Vec::new();
        let mut names = Vec::new();
        for _ in 0..160 {
            key(&mut app, Key::Tab);
            let name = focused(&app);
            if names.len() > 20 && names.first() == Some(&name) {
                break;
            }
            names.push(name.clone());
            let (line, spoken) = hints(&app);
            if line.is_none() || line != spoken {
                without.push(format!("{name}: {line:?}, {spoken:?}"));
            }
        }
        assert!(names.len() > 20, "{names:?}");
        assert!(
            without.is_empty(),
            "{size:?}: {} of {} have none:\n{}",
            without.len(),
            names.len(),
            without.join("\n")
        );
    }
}

/// Its words are the declaration's: what the number can be, and what is usual.
#[test]
fn a_fields_hint_is_what_its_number_can_be() {
    let mut app = app();
    app.get_by_role_and_label(Role::TextInput, "Altitude").focus();
    settle(&mut app);
    assert_eq!(hints(&app).0.as_deref(), Some("Altitude: between −1,500 and 20,000 ft"));
    app.get_by_role_and_label(Role::TextInput, "Airflow").focus();
    settle(&mut app);
    assert_eq!(hints(&app).0.as_deref(), Some("Airflow: between 100 and 1,000 cfm/ton, and 350 to 450 is usual"));
}

/// Counts what is pressed: a letter, or a key with whatever is held beside it.
fn write(app: &mut App, presses: &mut usize, text: &str) {
    for letter in text.chars() {
        app.event(Event::Text(letter.to_string()));
        app.run_steps(2);
        *presses += 1;
    }
}

fn stroke(app: &mut App, presses: &mut usize, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(5);
    *presses += 1;
}

/// From the empty job to the first airflow of a heating call: a furnace found by its name, two readings of two digits, and the call.
#[test]
fn a_heating_call_has_its_first_airflow_within_sixteen_presses() {
    let mut app = app_of(Job::default());
    let mut presses = 0;
    stroke(&mut app, &mut presses, Modifiers::COMMAND, Key::B);
    write(&mut app, &mut presses, "80p");
    stroke(&mut app, &mut presses, Modifiers::NONE, Key::Enter);
    write(&mut app, &mut presses, ".31");
    stroke(&mut app, &mut presses, Modifiers::NONE, Key::Enter);
    write(&mut app, &mut presses, ".42");
    stroke(&mut app, &mut presses, Modifiers::NONE, Key::Enter);
    stroke(&mut app, &mut presses, Modifiers::COMMAND, Key::L);
    write(&mut app, &mut presses, "h");
    stroke(&mut app, &mut presses, Modifiers::NONE, Key::Enter);
    let job = app.state().job();
    assert_eq!(job.set().call, Call::HeatingHigh);
    let (before, after) = (job.return_reading().unwrap().in_wc(), job.supply_reading().unwrap().in_wc());
    assert!((before + 0.31).abs() < 1e-9 && (after - 0.42).abs() < 1e-9, "{before} {after}");
    let point = app.state().answer().point().expect("an airflow");
    let airflow = tapcross::units::show::airflow_bare(point.now.airflow, tapcross::units::UnitSystem::InchPound);
    assert!(texts(&app).iter().any(|text| text.starts_with(&format!("Verdict: {airflow} cfm"))), "{airflow}");
    assert!(presses <= 16, "{presses} presses");
}

#[test]
fn letters_go_to_a_line_of_an_open_list() {
    let mut app = app();
    stroke(&mut app, &mut 0, Modifiers::COMMAND, Key::L);
    write(&mut app, &mut 0, "f");
    key(&mut app, Key::Enter);
    assert_eq!(app.state().job().set().call, Call::FanOnly);
    assert_eq!(focused(&app), "Call");
    key(&mut app, Key::ArrowDown);
    write(&mut app, &mut 0, "hh");
    key(&mut app, Key::Enter);
    assert_eq!(app.state().job().set().call, Call::HeatingLow, "the same letter again goes to the next such line");
}

/// A press of Enter on a question takes its default, and none of its keys reach what lies under it.
#[test]
fn a_question_has_a_default_and_keeps_its_keys() {
    let mut app = app();
    type_into(&mut app, "Altitude", "1200");
    assert!(app.state().is_changed());
    app.get_by_role_and_label(Role::ComboBox, "Call").focus();
    settle(&mut app);
    run(&mut app, Action::Command(Command::New));
    assert_eq!(focused(&app), "Save");
    let call = app.state().job().set().call;
    for pressed in [Key::ArrowDown, Key::Tab, Key::Tab, Key::Tab] {
        key(&mut app, pressed);
        assert!(
            ["Save", "Keep working", "New job without saving"].contains(&focused(&app).as_str()),
            "{}",
            focused(&app)
        );
    }
    assert_eq!(focused(&app), "Save", "Tab comes round");
    assert_eq!(app.state().job().set().call, call);
    key(&mut app, Key::Escape);
    assert!(app.state().view().confirm.is_none() && app.state().is_changed(), "Escape keeps the work");
    app.run_steps(4);
    assert_eq!(focused(&app), "Call", "and the keys go back to where they were");
}

/// What undo takes back is no longer told as if it held.
#[test]
fn a_message_about_what_was_done_goes_when_it_is_undone() {
    let mut app = app();
    let other = {
        let (library, _) = tapcross::files::library::Library::shipped();
        library.entries[library.search("80p")[0]].table.clone()
    };
    let heater = app.state().job().path.first(ElementKind::Heater).unwrap().id;
    let across = tapcross::model::facts::readings::ReadAt::Across(heater);
    run(&mut app, Edit::Reading(across, vec![tapcross::units::Pressure::from_in_wc(0.05)]).into());
    run(&mut app, Action::UseTable(Box::new(other)));
    assert!(app.state_mut().notices().iter().any(|text| text.contains("went with the old air path")));
    run(&mut app, Action::Command(Command::Undo));
    let told = app.state_mut().notices();
    assert!(told.iter().all(|text| !text.contains("went with the old air path")), "{told:?}");
    run(&mut app, Action::Command(Command::Redo));
    let told = app.state_mut().notices();
    assert!(told.iter().all(|text| !text.starts_with("Undone")), "what is done again is not undone: {told:?}");
}

/// At most two messages stand in sight, in the bar one; the others are counted, and what is said again is said once.
#[test]
fn at_most_two_messages_stand_in_sight() {
    for (size, most) in [(window::WIDE, 1), ([800.0, 600.0], 2)] {
        let mut app = window::sized(tapcross::files::demo::heat_pump(), size);
        for altitude in [1.0e9, 2.0e9, 3.0e9, 3.0e9] {
            run(&mut app, Edit::Number(tapcross::model::facts::job_number::JobNumber::Altitude, Some(altitude)).into());
        }
        let closes = app.query_all_by_role_and_label(Role::Button, "Close").count();
        assert_eq!(closes, most, "{size:?}");
        assert_eq!(app.state_mut().notices().len(), 3);
        assert!(window::says(&app, &format!("{} earlier", 3 - most)), "{:?}", texts(&app));
    }
}

/// Undo in a cell takes back what was typed, also once Enter has gone on to the next.
#[test]
fn undo_in_the_grid_takes_back_the_last_cell() {
    let mut app = app();
    stroke(&mut app, &mut 0, Modifiers::COMMAND, Key::T);
    app.event(Event::Text("Mine".to_owned()));
    app.run_steps(3);
    key(&mut app, Key::Enter);
    let cell = |app: &App, row: usize| {
        app.state().view().table_editor.as_ref().unwrap().draft().rows[row].cells[0].airflow.clone()
    };
    app.event(Event::Text("1200".to_owned()));
    app.run_steps(3);
    stroke(&mut app, &mut 0, Modifiers::COMMAND, Key::Z);
    assert_eq!(cell(&app, 0), "", "in the cell");
    app.event(Event::Text("1300".to_owned()));
    app.run_steps(3);
    key(&mut app, Key::Enter);
    app.event(Event::Text("1250".to_owned()));
    app.run_steps(3);
    key(&mut app, Key::Enter);
    assert_eq!((cell(&app, 0), cell(&app, 1)), ("1300".to_owned(), "1250".to_owned()));
    stroke(&mut app, &mut 0, Modifiers::COMMAND, Key::Z);
    assert_eq!((cell(&app, 0), cell(&app, 1)), ("1300".to_owned(), String::new()));
    stroke(&mut app, &mut 0, Modifiers::COMMAND, Key::Z);
    assert_eq!((cell(&app, 0), cell(&app, 1)), (String::new(), String::new()));
}
