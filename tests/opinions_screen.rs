//! Second opinions on the airflow in the window: the fold, its fields by key and by name, what is refused, and the list of what they say.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::facts::blower::Call;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::Phase;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::Airflow;
use window::{App, says, sized, type_then};

const FOLD: &str = "Second opinions on airflow";
const SUPPLY: &str = "Supply grilles";
/// High enough that the whole panel is seen.
const HIGH: [f32; 2] = [1440.0, 3200.0];

fn opened() -> App {
    let mut app = sized(demo::gas_furnace(), HIGH);
    window::press(&mut app, FOLD);
    app.run_steps(8);
    app
}

fn undo(app: &mut App) {
    let context = app.ctx.clone();
    app.state_mut().run(Action::Command(Command::Undo), &context);
    app.run_steps(4);
}

#[test]
fn the_fold_is_closed_in_cooling_until_a_person_opens_it_by_key() {
    let mut app = sized(demo::gas_furnace(), HIGH);
    assert!(app.query_by_label(SUPPLY).is_none());
    app.get_by_label(FOLD).focus();
    app.run_steps(4);
    app.key_press(Key::Enter);
    app.run_steps(8);
    assert!(app.query_by_role_and_label(Role::TextInput, SUPPLY).is_some());
    assert_eq!(app.get_by_label(FOLD).accesskit_node().data().is_expanded(), Some(true));
    // A heating call shows its heat at once.
    let mut heating = demo::gas_furnace();
    apply(&mut heating, Edit::Call(Call::HeatingHigh)).unwrap();
    let app = sized(heating, HIGH);
    assert!(app.query_by_role_and_label(Role::TextInput, "Measured rise").is_some());
}

#[test]
fn grilles_are_typed_side_by_side_added_up_and_undone() {
    let mut app = opened();
    type_then(&mut app, SUPPLY, "300 250 + 280", Key::Enter);
    let held =
        |app: &App| app.state().job().set().airflow.supply_grilles.iter().map(|one| one.cfm()).collect::<Vec<_>>();
    assert_eq!(held(&app), [300.0, 250.0, 280.0]);
    assert!(says(&app, "3 grilles, together 830 cfm"));
    assert!(says(&app, "By the table") && says(&app, "± "), "{:?}", window::texts(&app));
    undo(&mut app);
    assert_eq!(held(&app), [] as [f64; 0]);
}

#[test]
fn a_wrong_grille_is_kept_with_the_reason_and_changes_nothing() {
    let mut app = opened();
    type_then(&mut app, SUPPLY, "300 0", Key::Enter);
    assert!(says(&app, "an airflow of 0 cfm at a grille cannot be; it lies between 1 and 20,000 cfm"));
    assert!(app.state().job().set().airflow.supply_grilles.is_empty());
    assert_eq!(app.get_by_role_and_label(Role::TextInput, SUPPLY).value().as_deref(), Some("300 0"));
}

/// What is half read is asked for, each in its words.
#[test]
fn what_is_missing_of_a_plate_is_asked_for() {
    let mut app = opened();
    type_then(&mut app, "Plate, difference", "0.2", Key::Enter);
    assert!(says(&app, "The plate's law wants both"));
    type_then(&mut app, "Plate, at 1 in. w.c.", "2500", Key::Enter);
    assert!(!says(&app, "The plate's law wants both"));
    assert_eq!(app.state().job().set().airflow.plate.at_one, Some(Airflow::from_cfm(2500.0)));
    type_then(&mut app, "Plenum with plate", "0.28", Key::Enter);
    assert!(says(&app, "both without and with it"));
}

#[test]
fn a_heaters_current_and_its_phases_are_given_in_heating() {
    let mut job = demo::heat_pump();
    apply(&mut job, Edit::Call(Call::HeatingHigh)).unwrap();
    let mut app = sized(job, HIGH);
    type_then(&mut app, "Heater's current", "41", Key::Enter);
    assert!(says(&app, "The heater's current wants the supply voltage"));
    type_then(&mut app, "Voltage", "230", Key::Enter);
    assert!(!says(&app, "The heater's current wants the supply voltage"));
    app.get_by_label_contains("Three phases").click();
    app.run_steps(4);
    assert_eq!(app.state().job().set().heat.phase, Phase::Three);
    assert_eq!(JobNumber::HeaterAmps.of(app.state().job()), Some(41.0));
}
