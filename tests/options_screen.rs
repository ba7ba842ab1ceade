//! Options in the window: made by key, named, compared over the window and on the chart, and printed.

#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Key, Modifiers, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::{Edit, OptionEdit};
use tapcross::model::answer::Answer;
use tapcross::model::facts::change::Switch;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::side_by_side;
use tapcross::model::wording::options;
use tapcross::paper::printed::{Asked, Reported, Shown, bytes};
use tapcross::report::csv::{Named, table};
use tapcross::report::form::{Form, Table};
use tapcross::report::json::Report;
use tapcross::units::UnitSystem;
use window::{App, app_of, run, texts};

fn press(app: &mut App, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(6);
}

fn has(app: &App, text: &str) -> bool {
    texts(app).iter().any(|told| told == text)
}

/// Nine changes, and by Shift+F9 the same again without the first, named and priced.
fn two() -> App {
    let mut app = app_of(nine_changes::job());
    run(&mut app, Edit::Option(OptionEdit::Name("Everything".to_owned())).into());
    press(&mut app, Modifiers::SHIFT, Key::F9);
    let first = app.state().job().changes[1].id;
    run(&mut app, Edit::SwitchChange(first, Switch::Off).into());
    run(&mut app, Edit::Option(OptionEdit::Name("Without the return".to_owned())).into());
    run(&mut app, Edit::Option(OptionEdit::Reason("Half the work".to_owned())).into());
    run(&mut app, Edit::Number(JobNumber::FanHours, Some(2_000.0)).into());
    app
}

/// Copying an option and changing one thing is two actions, and the list says whose changes it has.
#[test]
fn another_option_is_one_key_and_the_list_says_which_it_is() {
    let mut app = two();
    assert_eq!(app.state().job().options.count(), 2);
    assert!(app.query_by_label("Changes of Without the return").is_some());
    press(&mut app, Modifiers::ALT, Key::PageUp);
    assert!(app.query_by_label("Changes of Everything").is_some());
    assert_eq!(app.state().job().options.index(), 0);
    // Past the ends nothing happens.
    press(&mut app, Modifiers::ALT, Key::PageUp);
    assert_eq!(app.state().job().options.index(), 0);
    press(&mut app, Modifiers::ALT, Key::PageDown);
    press(&mut app, Modifiers::ALT, Key::PageDown);
    assert_eq!(app.state().job().options.index(), 1);
}

/// Every row and cell of the comparison stands on the sheet; what is typed there is the job's.
#[test]
fn the_sheet_says_everything_that_the_options_differ_in() {
    let mut app = two();
    press(&mut app, Modifiers::NONE, Key::F9);
    let job = app.state().job().clone();
    let columns = side_by_side::columns(&job, app.state().answer(), Answer::of);
    let rows = options::rows(&side_by_side::found(&job, Answer::of), &columns, UnitSystem::InchPound);
    assert!(rows.iter().any(|row| row.name == "Its energy a year"));
    for text in rows.iter().flat_map(|row| row.cells.iter().chain([&row.name])) {
        assert!(has(&app, text), "{text}");
    }
    // Two gains that differ stand in two cells.
    let gained = &rows.iter().find(|row| row.name == "Gained, cfm").unwrap().cells;
    assert!(gained[0] == "–" && gained[1] != gained[2], "{gained:?}");
    app.get_by_role_and_label(Role::TextInput, "Name of this option").focus();
    app.run_steps(3);
    app.get_by_role_and_label(Role::TextInput, "Name of this option").type_text(" A");
    app.run_steps(4);
    assert!(app.state().job().options.shown.name.contains('A'), "{:?}", app.state().job().options.shown);
    press(&mut app, Modifiers::NONE, Key::Escape);
    press(&mut app, Modifiers::NONE, Key::Escape);
    assert!(!has(&app, "Gained, cfm"));
}

/// The other option stands on the chart by its name, until it is taken off.
#[test]
fn another_option_stands_on_the_chart_until_it_is_taken_off() {
    let mut app = two();
    let on_chart = |app: &App| app.query_all_by_label_contains("Everything: ").next().is_some();
    assert!(on_chart(&app));
    press(&mut app, Modifiers::NONE, Key::F9);
    app.get_by_role_and_label(Role::CheckBox, "On the chart: Everything").click();
    app.run_steps(4);
    assert!(!on_chart(&app));
    assert!(
        app.get_by_role_and_label(Role::CheckBox, "On the chart: Without the return").accesskit_node().is_disabled()
    );
}

/// The options in the table for spreadsheets are those of the JSON, and those of the job.
#[test]
fn what_leaves_the_program_says_of_options_what_the_window_says() {
    let app = two();
    let (job, answer) = (app.state().job(), app.state().answer());
    let report = Report::of("a.ron", job, answer, tapcross::model::search::to_the_end(job));
    let json = serde_json::to_value(&report).unwrap();
    let told = json["options"].as_array().unwrap();
    let columns = side_by_side::columns(job, answer, Answer::of);
    assert_eq!(told.len(), 2);
    let bytes_of = table(Table::Options, &[Named { file: "a.ron", job, answer }]).unwrap();
    let mut reader = csv::Reader::from_reader(&bytes_of[..]);
    let rows: Vec<std::collections::BTreeMap<String, String>> = reader.deserialize().map(Result::unwrap).collect();
    for ((told, column), row) in told.iter().zip(&columns).zip(&rows) {
        assert_eq!(told["name"], column.called());
        let point = column.point().unwrap();
        let figures = [
            ("airflow_cfm", point.airflow().cfm()),
            ("gain_cfm", column.gain().unwrap().0.least.cfm()),
            ("tesp_in_wc", point.crossing.tesp.in_wc()),
            ("price", column.price().unwrap().0),
            ("yearly_energy_kwh", 2.0 * point.power.unwrap().watts()),
        ];
        for (key, expected) in figures {
            assert!((told[key].as_f64().unwrap() - expected).abs() < 1e-9, "{key}: {told}");
            assert!((row[key].parse::<f64>().unwrap() - expected).abs() < 1e-9, "{key}: {row:?}");
        }
    }
    // On paper: every name, and every price.
    let reported = [Reported::of("a.ron", job.clone())];
    let svg = bytes(Form::Svg, &reported, Asked::One, &Shown::default(), &tapcross::model::search::to_the_end).unwrap();
    assert!(String::from_utf8(svg).unwrap().contains("Everything: "), "the other option is on the printed chart");
}

/// In a small window the days that prices hold stand beside their name.
#[test]
fn a_small_window_lays_no_box_under_its_name() {
    let mut app = window::sized(two().state().job().clone(), [1024.0, 700.0]);
    press(&mut app, Modifiers::NONE, Key::F9);
    app.run_steps(6);
    let name = app.get_by_role_and_label(Role::Label, "Prices hold, days");
    let field = app.get_by_role_and_label(Role::TextInput, "Prices hold, days").rect();
    assert!((name.rect().center().y - field.center().y).abs() < 4.0, "{:?} and {field:?}", name.rect());
}
