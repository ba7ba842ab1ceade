//! The window by keyboard alone: groups of choices, lists, and where the focus goes.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::model::facts::blower::Call;
use window::{App, app, key};

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
    assert_eq!(focused(&app), "Call");
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
