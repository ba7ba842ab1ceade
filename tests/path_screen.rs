//! The air path in the real program: readings typed at their ports, ports moved, parts taken out.

#[path = "support/rich_path.rs"]
mod rich_path;
#[path = "support/three_and_three.rs"]
mod three_and_three;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::facts::air_path::{ElementId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{Basis, BlowerTable, EquipmentKind};
use tapcross::model::facts::drop_data::DropData;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_check;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::path::air::over_standard;
use tapcross::ui::view::action::Command;
use tapcross::units::{Airflow, Pressure};
use window::{App, app, app_of, sized, type_then};

const BEFORE: &str = "Static before the blower";
const AFTER: &str = "Static after the blower";
const TOTAL: &str = "Total external static";

fn looks(app: &App, at: ReadAt) -> Vec<f64> {
    let reading = app.state().job().set().at(at);
    reading.map_or_else(Vec::new, |reading| reading.looks.iter().map(|look| look.in_wc()).collect())
}

fn check(field: &str, at: ReadAt, cases: &[(&str, &[f64])]) {
    for (text, expected) in cases {
        let mut app = app();
        type_then(&mut app, field, text, Key::Enter);
        let found = looks(&app, at);
        assert_eq!(found.len(), expected.len(), "{text}: {found:?}");
        for (value, wanted) in found.iter().zip(*expected) {
            assert!((value - wanted).abs() < 1e-9, "{text}: {found:?}");
        }
    }
}

#[test]
fn the_field_before_the_blower_takes_what_people_type() {
    check(
        BEFORE,
        ReadAt::Port(RETURN_PORT),
        &[
            ("0.44", &[-0.44]),
            ("-.44", &[-0.44]),
            ("0,44", &[-0.44]),
            ("110 Pa", &[-110.0 / 249.088_91]),
            (".44 .45; .46", &[-0.44, -0.45, -0.46]),
            ("+0.44", &[0.44]),
            ("", &[]),
        ],
    );
}

#[test]
fn the_field_after_the_blower_is_positive_unless_a_minus_is_typed() {
    check(AFTER, ReadAt::Port(SUPPLY_PORT), &[("0.4", &[0.4]), ("+0.4", &[0.4]), ("-0.4", &[-0.4])]);
}

#[test]
fn a_typed_plus_before_the_blower_is_a_question_and_no_answer() {
    let mut app = app();
    type_then(&mut app, BEFORE, "+0.44", Key::Enter);
    let problems = &app.state().answer().problems;
    assert!(problems.iter().any(|problem| problem.field == job_check::Field::ReturnReading), "{problems:?}");
    assert!(app.state().answer().point().is_none());
    assert!(app.query_all_by_label_contains("? +0.44 before the blower").next().is_some(), "asked at the path");
}

/// Both signs are wrong: the manometer's hoses were the wrong way round at each port, or the two hoses hung at each other's port. Either is mended in one press.
#[test]
fn both_hoses_swapped_are_turned_in_one_press() {
    let cases = [("Turn the signs round", -0.31, 0.52), ("Exchange the two", -0.52, 0.31)];
    for (button, before, after) in cases {
        let mut app = app();
        type_then(&mut app, BEFORE, "+0.31", Key::Enter);
        type_then(&mut app, AFTER, "-0.52", Key::Enter);
        assert!(app.state().answer().point().is_none());
        window::press(&mut app, button);
        assert_eq!(looks(&app, ReadAt::Port(RETURN_PORT)), [before], "{button}");
        assert_eq!(looks(&app, ReadAt::Port(SUPPLY_PORT)), [after], "{button}");
        assert!(app.state().answer().point().is_some(), "{button}");
        window::run(&mut app, Command::Undo.into());
        assert_eq!(looks(&app, ReadAt::Port(RETURN_PORT)), [0.31], "one step of undo");
    }
    let mut one = app();
    type_then(&mut one, BEFORE, "+0.31", Key::Enter);
    one.get_by_label("Turn the sign round");
    assert!(one.query_by_label("Exchange the two").is_none(), "only one sign is odd");
}

#[test]
fn twelve_inches_are_refused_where_they_are_typed_and_the_job_is_unchanged() {
    let mut app = app();
    type_then(&mut app, BEFORE, "12", Key::Enter);
    assert_eq!(app.state().job(), &demo::heat_pump());
    let refused: Vec<&str> = app.state().view().refused.values().map(|refused| refused.message.as_str()).collect();
    assert_eq!(refused.len(), 1);
    assert!(refused[0].contains("12.00 in. w.c. cannot be"), "{refused:?}");
    let field = app.get_by_role_and_label(Role::TextInput, BEFORE);
    assert_eq!(field.value().as_deref(), Some("12"), "the text stays for mending");
    assert!(field.is_focused(), "and the hand stays in it");
    type_then(&mut app, BEFORE, "0.12", Key::Enter);
    assert!(app.state().view().refused.is_empty());
    assert_eq!(looks(&app, ReadAt::Port(RETURN_PORT)), [-0.12]);
}

#[test]
fn escape_restores_what_stood_there() {
    let mut app = app();
    type_then(&mut app, BEFORE, "0.44", Key::Escape);
    assert_eq!(app.state().job(), &demo::heat_pump());
    assert_eq!(app.get_by_role_and_label(Role::TextInput, BEFORE).value().as_deref(), Some("−0.52"));
    type_then(&mut app, BEFORE, "12", Key::Enter);
    app.key_press(Key::Escape);
    app.run_steps(4);
    assert!(app.state().view().refused.is_empty(), "Escape takes back a refused text too");
    assert_eq!(app.get_by_role_and_label(Role::TextInput, BEFORE).value().as_deref(), Some("−0.52"));
}

#[test]
fn enter_before_the_blower_moves_on_to_the_field_after_it() {
    let mut app = app();
    type_then(&mut app, BEFORE, "0.44", Key::Enter);
    assert!(app.get_by_role_and_label(Role::TextInput, AFTER).is_focused());
    app.get_by_role_and_label(Role::TextInput, AFTER).type_text("0.4");
    app.run_steps(4);
    app.key_press(Key::Enter);
    app.run_steps(4);
    assert_eq!(looks(&app, ReadAt::Port(SUPPLY_PORT)), [0.4]);
}

#[test]
fn passing_through_a_field_changes_nothing() {
    let mut app = app();
    for key in [Key::Enter, Key::Tab] {
        app.get_by_role_and_label(Role::TextInput, BEFORE).focus();
        app.run_steps(4);
        app.key_press(key);
        app.run_steps(4);
        assert_eq!(app.state().job(), &demo::heat_pump());
        assert!(!app.state().is_changed(), "{key:?} is no change");
    }
}

/// Model §1, case 2: the port before a 0.18 filter reads −0.12, the other +0.40, the table has no filter: 0.70.
#[test]
fn a_port_moved_before_the_filter_brings_the_filter_in_by_its_data() {
    let mut job = Job::default();
    let mut table = demo::gas_furnace().machine.unwrap();
    table.basis = Basis { voltage: table.basis.voltage, ..Basis::default() };
    table.corrections = BlowerTable::default().corrections;
    table.kind = EquipmentKind::Furnace;
    let tap = table.taps[0].name.clone();
    let edits = [
        Edit::Machine(Box::new(table)),
        Edit::Tap(Some(tap)),
        Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-0.30)]),
        Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![Pressure::from_in_wc(0.40)]),
    ];
    for edit in edits {
        apply(&mut job, edit).unwrap();
    }
    let mut app = app_of(job);
    let tesp = |app: &App| app.state().answer().point().map(|point| point.now);
    let before = tesp(&app).expect("a point");
    assert!((before.tesp.in_wc() - 0.70).abs() < 1e-9);
    app.get_by_label("Move the port before the blower back").click();
    app.run_steps(4);
    assert_eq!(app.state().job().path.port(RETURN_PORT).unwrap().after, ElementId(2));
    type_then(&mut app, BEFORE, "0.12", Key::Enter);
    // The filter's data, typed on its card at the airflow that the first answer gave.
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    type_then(&mut app, "Airflow of the drop", &format!("{}", before.airflow.cfm()), Key::Enter);
    type_then(&mut app, "Drop by data", "0.18", Key::Enter);
    let after = tesp(&app).expect("a point");
    // The data hold in standard air; the job's air is a little lighter or heavier.
    let drop = app.state().job().path.element(ElementId(3)).unwrap().drop.clone().expect("data");
    let air = over_standard(&app.state().job().set().air, app.state().answer().blower().air.density);
    let wanted = 0.52 + drop.in_air(air).at_airflow(after.airflow).in_wc();
    assert!((after.tesp.in_wc() - wanted).abs() < 1e-9 && (wanted - 0.70).abs() < 0.005, "{after:?}");
    let drop = app.state().job().path.element(ElementId(3)).unwrap().drop.clone();
    assert!(drop.is_some_and(|drop| (drop.at_airflow(before.airflow).in_wc() - 0.18).abs() < 1e-4));
}

#[test]
fn the_airflow_offered_for_data_is_one_that_is_shown_elsewhere() {
    let mut app = app_of(Job { target: None, ..demo::heat_pump() });
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    type_then(&mut app, "Drop by data", "0.2", Key::Enter);
    let data = app.state().job().path.element(ElementId(3)).unwrap().drop.clone().expect("data");
    assert!((data.points()[0].0.cfm() - 1200.0).abs() < 1e-9, "{:?}", data.points());
}

#[test]
fn a_part_is_taken_out_and_put_back_on_its_card() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    for expected in [vec![ElementId(3)], Vec::new()] {
        app.get_by_label("Out of the path during the readings").click();
        app.run_steps(4);
        assert_eq!(app.state().job().set().parts_out, expected);
    }
    app.get_by_label("Close").click();
    app.run_steps(4);
    assert_eq!(app.state().view().open_element, None);
}

#[test]
fn a_card_opens_and_closes_by_the_keyboard() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").focus();
    app.run_steps(4);
    app.key_press(Key::Enter);
    app.run_steps(4);
    assert_eq!(app.state().view().open_element, Some(3));
    assert!(app.get_by_role_and_label(Role::TextInput, "Drop by data").is_focused());
    app.key_press(Key::Escape);
    app.run_steps(4);
    app.key_press(Key::Escape);
    app.run_steps(4);
    assert_eq!(app.state().view().open_element, None);
}

#[test]
fn a_drop_that_cannot_be_is_refused_on_the_card() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    type_then(&mut app, "Drop by data", "-0.2", Key::Enter);
    assert_eq!(app.state().job(), &demo::heat_pump());
    assert!(app.query_all_by_label_contains("it lies between 0 and 5 in. w.c.").next().is_some());
}

#[test]
fn a_total_is_typed_instead_of_two_ports() {
    let mut app = app();
    app.get_by_label("Read as total").click();
    app.run_steps(4);
    type_then(&mut app, TOTAL, "0.83", Key::Enter);
    assert_eq!(looks(&app, ReadAt::Total), [0.83]);
    assert_eq!(looks(&app, ReadAt::Port(RETURN_PORT)).len(), 3, "the ports stay until somebody says so");
    app.get_by_label("Use the total").click();
    app.run_steps(4);
    assert!(looks(&app, ReadAt::Port(RETURN_PORT)).is_empty() && looks(&app, ReadAt::Port(SUPPLY_PORT)).is_empty());
    assert!((app.state().answer().point().expect("a point").now.tesp.in_wc() - 0.83).abs() < 1e-9);
    assert!(app.query_by_label(BEFORE).is_none());
}

#[test]
fn a_job_that_has_only_a_total_opens_at_the_total() {
    let mut job = demo::heat_pump();
    for (at, looks) in [
        (ReadAt::Port(RETURN_PORT), Vec::new()),
        (ReadAt::Port(SUPPLY_PORT), Vec::new()),
        (ReadAt::Total, vec![Pressure::from_in_wc(0.7)]),
    ] {
        apply(&mut job, Edit::Reading(at, looks)).unwrap();
    }
    let mut app = app_of(job);
    assert_eq!(app.get_by_role_and_label(Role::TextInput, TOTAL).value().as_deref(), Some("0.70"));
    app.get_by_label("Read as two ports").click();
    app.run_steps(4);
    type_then(&mut app, BEFORE, "0.3", Key::Enter);
    assert_eq!(looks(&app, ReadAt::Port(RETURN_PORT)), [-0.3]);
    assert!(app.query_by_label("The total counts until both ports are read").is_some());
}

/// A job in every state that the strip draws differently.
fn full_job() -> Job {
    let mut job = demo::gas_furnace();
    let filter = job.path.elements.iter().find(|element| element.kind.name() == "Filter").unwrap().id;
    let grille = job.path.elements[0].id;
    let data = DropData::at(Airflow::from_cfm(1200.0), Pressure::from_in_wc(0.2), 1.2).unwrap();
    for edit in [
        Edit::ElementDrop(filter, Some(data)),
        Edit::MovePort(RETURN_PORT, ElementId(filter.0 - 1)),
        Edit::PartOut(grille, true),
    ] {
        apply(&mut job, edit).unwrap();
    }
    job
}

#[test]
fn fields_and_what_moves_ports_never_lie_over_each_other() {
    for size in [[1440.0, 900.0], [1024.0, 700.0], [760.0, 700.0], [420.0, 700.0]] {
        for job in [demo::heat_pump(), full_job()] {
            let app = sized(job, size);
            let names = [
                "Move the port before the blower back",
                BEFORE,
                "Move the port before the blower on",
                "Move the port after the blower back",
                AFTER,
                "Move the port after the blower on",
            ];
            let rects = names.map(|name| app.get_by_label(name).rect());
            for pair in rects.windows(2) {
                assert!(pair[0].right() <= pair[1].left() + 0.5, "{size:?}: {rects:?}");
            }
            assert!(rects[0].left() >= 0.0 && rects[5].right() <= size[0], "{size:?}: {rects:?}");
        }
    }
}

/// Under each field stands which reading it is, in the trade's words, with how it was read where that has room.
#[test]
fn readings_on_the_path_have_names() {
    for (size, looks) in [([1440.0, 900.0], "mean of 3"), ([1024.0, 700.0], "")] {
        let app = sized(demo::heat_pump(), size);
        for name in ["before the blower", "after the blower"] {
            let is_said = |text: &String| text.starts_with(name) && text.contains(looks);
            assert!(window::texts(&app).iter().any(is_said), "{size:?}: {name}: {:?}", window::texts(&app));
        }
    }
}

/// The parts of the window go bar, head, job, taps, path, chart.
const PATH: usize = 4;

/// Whatever stands in it, a path is seen whole in the usual window; in a small one it scrolls sideways and no other way.
#[test]
fn a_rich_path_is_seen_whole() {
    let nested = tapcross::files::job_file::parse(include_str!("data/jobs/v1-ways.ron")).unwrap();
    let rich = [("rich", rich_path::job()), ("nested", nested), ("three and three", three_and_three::job())];
    for (name, job) in rich {
        for (size, is_whole) in [([1440.0, 900.0], true), ([1024.0, 700.0], false)] {
            let app = sized(job.clone(), size);
            let names: Vec<String> = job.path.all().iter().map(|element| format!("{}, ", element.name())).collect();
            let is_part = |label: &String| label.starts_with("Bypass ") || names.iter().any(|it| label.starts_with(it));
            let is_named = |label: Option<String>| label.as_ref().is_some_and(is_part);
            let buttons = app.get_all_by_role(Role::Button).filter(|node| is_named(node.accesskit_node().label()));
            let fields = app.get_all_by_role(Role::TextInput);
            let is_reading = |label: Option<String>| label.is_some_and(|label| label.starts_with("Static "));
            let fields = fields.filter(|node| is_reading(node.accesskit_node().label()));
            let panel = app.state().view().parts[PATH];
            let rects: Vec<_> = buttons.chain(fields).map(|node| node.rect()).collect();
            assert_eq!(rects.len(), names.len() + 1 + job.path.ports.len(), "{name} at {size:?}");
            for rect in rects {
                let is_in_sight = panel.y_range().contains(rect.top()) && panel.y_range().contains(rect.bottom());
                assert!(is_in_sight, "{name} at {size:?}: {rect:?} in {panel:?}");
                assert!(!is_whole || panel.contains_rect(rect), "{name} at {size:?}: {rect:?} in {panel:?}");
            }
        }
    }
}

/// The path of a plain house is seen whole in the smallest window that has every panel.
#[test]
fn a_plain_path_is_seen_whole_in_the_small_window() {
    let shipped = Library::shipped().0.entries.into_iter().map(|entry| {
        let mut job = Job::default();
        apply(&mut job, Edit::Machine(Box::new(entry.table))).unwrap();
        job
    });
    for job in [demo::heat_pump(), demo::gas_furnace()].into_iter().chain(shipped) {
        let app = sized(job.clone(), [1024.0, 700.0]);
        let panel = app.state().view().parts[PATH];
        for element in job.path.all() {
            let label = format!("{}, ", element.name());
            let is_it = |label: Option<String>, start: &str| label.is_some_and(|label| label.starts_with(start));
            let buttons = app.get_all_by_role(Role::Button);
            let rect =
                buttons.filter(|node| is_it(node.accesskit_node().label(), &label)).map(|node| node.rect()).next();
            let rect = rect.unwrap_or_else(|| panic!("{label}"));
            // What reaches into the panel's margins lies past the strip's edge.
            let seen = panel.x_range().shrink(12.0);
            assert!(seen.contains(rect.left()) && seen.contains(rect.right() - 0.5), "{label}{rect:?} in {seen:?}");
        }
    }
}
