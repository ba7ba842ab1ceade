//! The manual over the window, and what can be copied out of it, by keyboard and by name.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, OutputCommand};
use egui_kittest::kittest::Queryable as _;
use tapcross::ui::view::action::Command;
use tapcross::units::UnitSystem;
use window::{App, app};

const README: &str = include_str!("../README.md");

/// What stands on the clipboard after a press; one event, for the next would be a picture later.
fn copied(app: &mut App, key: Key) -> String {
    let modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);
    app.event(Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers });
    app.step();
    let commands = &app.output().platform_output.commands;
    let text = commands.iter().find_map(|command| match command {
        OutputCommand::CopyText(text) => Some(text.clone()),
        _ => None,
    });
    text.expect("text on the clipboard")
}

#[test]
fn f1_opens_the_manual_its_pages_turn_and_escape_closes_it() {
    let mut app = app();
    app.key_press(Key::F1);
    app.run_steps(3);
    assert!(app.query_by_label_contains("You stand in front of the machine").is_some());
    app.get_by_role_and_label(Role::RadioButton, "Page Keys").click();
    app.run_steps(3);
    assert!(app.query_by_label_contains("run on the next tap up or down").is_some());
    app.get_by_role_and_label(Role::RadioButton, "Page About").click();
    app.run_steps(3);
    assert!(app.query_by_label_contains(concat!("Tapcross ", env!("CARGO_PKG_VERSION"))).is_some());
    app.key_press(Key::Escape);
    app.run_steps(3);
    assert_eq!(app.state().view().help, None);
}

/// Under the open manual no key changes the job.
#[test]
fn keys_of_commands_wait_while_the_manual_is_open() {
    let mut app = app();
    app.key_press(Key::F1);
    app.run_steps(3);
    app.key_press_modifiers(Modifiers::ALT, Key::ArrowUp);
    app.run_steps(3);
    assert!(app.state().job().changes.is_empty());
    app.key_press(Key::F1);
    app.run_steps(3);
    app.key_press_modifiers(Modifiers::ALT, Key::ArrowUp);
    app.run_steps(3);
    assert_eq!(app.state().job().changes.len(), 1);
}

#[test]
fn the_manual_lists_every_commands_keys() {
    let keys = README.split("\n## Keys\n").nth(1).and_then(|rest| rest.split("\n## ").next()).unwrap_or_default();
    for command in Command::ALL {
        let Some(shortcut) = command.shortcut() else { continue };
        let mut names = Vec::new();
        let modifiers = shortcut.modifiers;
        names.extend(modifiers.command.then_some("Ctrl"));
        names.extend(modifiers.alt.then_some("Alt"));
        names.extend(modifiers.shift.then_some("Shift"));
        let key = match shortcut.logical_key {
            Key::ArrowUp => "Up",
            Key::ArrowDown => "Down",
            Key::PageUp => "Page Up",
            Key::PageDown => "Page Down",
            other => other.name(),
        };
        names.push(key);
        let wanted = names.join("+");
        let listed = keys.lines().filter(|line| line.starts_with('|')).filter_map(|line| line.split('|').nth(1));
        let is_there = listed.flat_map(|cell| cell.split(", ")).any(|listed| listed.trim() == wanted);
        assert!(is_there, "{}: {wanted} is not in the README's keys", command.name());
    }
}

/// What a spreadsheet gets: as many cells in each row as heads, figures without marks at thousands, those that the screen shows.
#[test]
fn results_are_copied_as_a_table_that_a_spreadsheet_takes() {
    let mut app = app();
    app.key_press_modifiers(Modifiers::ALT, Key::ArrowUp);
    app.run_steps(3);
    let text = copied(&mut app, Key::C);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "Alder Street, raised floor (invented)");
    let heads = lines.iter().position(|line| line.starts_with("tap\t")).expect("a row of heads");
    let cells = lines[heads].split('\t').count();
    assert_eq!(cells, 11, "{}", lines[heads]);
    let taps = &lines[heads + 1..heads + 6];
    assert!(taps.iter().all(|line| line.split('\t').count() == cells), "{taps:?}");
    let fourth: Vec<&str> = taps[3].split('\t').collect();
    assert_eq!((fourth[0], fourth[1], fourth[3]), ("4", "1200", "0.83"), "{taps:?}");
    assert_eq!(fourth[2], "63", "± as the screen shows it");
    let of_changes = lines.iter().position(|line| line.starts_with("change\t")).expect("heads of the changes");
    let [change, together] = [1, 2].map(|below| lines[of_changes + below].split('\t').collect::<Vec<_>>());
    assert_eq!((change[0], change[2], change.len()), ("Another tap: tap 5", "yes", 7), "{change:?}");
    assert_eq!((together[0], together[2], together[3]), ("together", "1", change[3]), "{together:?}");
    assert!(change[3].starts_with('+'), "{change:?}");
}

#[test]
fn what_is_copied_is_in_the_units_shown() {
    let mut app = app();
    app.get_by_label("cfm · in. w.c.").click();
    app.run_steps(3);
    app.get_by_label(UnitSystem::SiLitres.name()).click();
    app.run_steps(3);
    let text = copied(&mut app, Key::C);
    let heads = text.lines().find(|line| line.starts_with("tap\t")).expect("a row of heads");
    assert!(heads.contains("L/s, as found") && heads.contains("Pa, as found"), "{heads}");
}
