//! The air path edited in the real program: elements, ways side by side, leaks, a bypass and ports, each by what a person presses and types.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Key, Modifiers, Role};
use egui_kittest::kittest::Queryable as _;
use tapcross::edit::{Edit, apply};
use tapcross::files::demo;
use tapcross::model::facts::air_path::chain::Beside;
use tapcross::model::facts::air_path::{Bypass, Element, ElementId, ElementKind, PortId, Whereabouts};
use tapcross::model::facts::blower::{BlowerTable, TapData};
use tapcross::model::facts::change::{ChangeKind, MoreFilterArea, Replacement};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::facts::standing::PathStanding;
use tapcross::model::facts::target::Target;
use tapcross::model::path::air::over_standard;
use tapcross::model::path::parts::{flows, part_of};
use tapcross::model::verdicts::system::Running;
use tapcross::ui::view::action::Action;
use tapcross::units::{Airflow, Area, Pressure, UnitSystem};
use window::{App, app, app_of, key, press, run, sized, type_into};

/// Opens the card of an element by what its name begins with.
fn open(app: &mut App, begins: &str) {
    app.get_by_label_contains(begins).click();
    app.run_steps(4);
}

fn open_path(app: &mut App, begins: &str) {
    open(app, begins);
    press(app, "Card In the path");
}

fn job(app: &App) -> &Job {
    app.state().job()
}

fn running(app: &App) -> &Running {
    let running = &app.state().answer().found;
    running.as_ref().unwrap_or_else(|why| panic!("no point: {why:?}"))
}

fn kinds(elements: &[Element]) -> Vec<ElementKind> {
    elements.iter().map(|element| element.kind).collect()
}

fn id_of(app: &App, kind: ElementKind) -> ElementId {
    job(app).path.first(kind).unwrap_or_else(|| panic!("no {kind:?}")).id
}

/// Airflow through an element and its drop, in. w.c., at the point as found.
fn at(app: &App, id: ElementId) -> (f64, f64) {
    let running = running(app);
    let found = flows::at_element(&running.system.parts, id, running.now.airflow);
    let (airflow, drop) = found.unwrap_or_else(|| panic!("element {} is no part", id.0));
    (airflow.cfm(), drop.in_wc())
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6 * other.abs().max(1.0)
}

#[test]
fn a_second_return_is_laid_beside_and_its_share_of_the_air_typed() {
    let mut app = app();
    open_path(&mut app, "Return grille, ");
    press(&mut app, "Way beside…");
    press(&mut app, "Beside as far as the return duct");
    let group = id_of(&app, ElementKind::SideBySide);
    let path = &job(&app).path;
    assert_eq!(path.elements[0].id, group, "{:?}", kinds(&path.elements));
    let ways = &path.elements[0].ways;
    assert_eq!(ways.len(), 2);
    let twin = [ElementKind::ReturnGrille, ElementKind::ReturnDuct];
    assert!(ways.iter().all(|way| kinds(&way.elements) == twin), "{ways:?}");
    let second = ways[1].elements[0].id;
    let blower = running(&app).now.airflow.cfm();
    assert!(close(at(&app, second).0, blower / 2.0), "in equal shares until somebody says otherwise");
    // The group's own card is open, where the shares are typed.
    type_into(&mut app, "Air of way 2", "30");
    assert_eq!(job(&app).path.elements[0].ways[1].flow, Some(0.3));
    assert!(close(at(&app, second).0, 0.3 * blower), "{:?}", at(&app, second));
    assert!(app.query_all_by_label_contains("way 2 of side by side, 360 cfm 30 %").next().is_some());
    type_into(&mut app, "Air of way 2", "");
    assert_eq!(job(&app).path.elements[0].ways[1].flow, None);
    type_into(&mut app, "Air of way 2", "130");
    assert_eq!(job(&app).path.elements[0].ways[1].flow, None);
    assert!(app.query_all_by_label_contains("A way with 130 % of the air cannot be").next().is_some());
}

#[test]
fn a_third_way_is_added_and_ways_are_taken_out_again() {
    let mut app = app();
    open_path(&mut app, "Registers, ");
    press(&mut app, "Way beside…");
    press(&mut app, "Beside as far as the registers");
    press(&mut app, "Card In the path");
    press(&mut app, "Another way in the side by side");
    let ways = |app: &App| job(app).path.elements.last().unwrap().ways.len();
    assert_eq!(ways(&app), 3);
    press(&mut app, "Close");
    for left in [2, 0] {
        app.get_all_by_label_contains("way 1 of side by side").next().unwrap().click();
        app.run_steps(4);
        press(&mut app, "Card In the path");
        press(&mut app, "Remove way 1");
        assert_eq!(ways(&app), left, "the last way left stands in the group's place");
    }
    assert_eq!(kinds(&job(&app).path.elements), kinds(&demo::heat_pump().path.elements));
}

#[test]
fn a_reading_at_a_port_that_was_added_divides_the_parts() {
    let mut app = app();
    open_path(&mut app, "Return duct, ");
    press(&mut app, "Port after the return duct");
    press(&mut app, "Close");
    let field = "Static after the return duct, port 3";
    type_into(&mut app, field, ".30");
    let read = job(&app).set().at(ReadAt::Port(PortId(3))).unwrap().average().unwrap();
    assert!(close(read.in_wc(), -0.30), "before the blower a bare number is negative");
    let filter = id_of(&app, ElementKind::Filter);
    let part = part_of(&running(&app).system.parts, filter).expect("the filter stands alone now");
    assert_eq!(part.standing, PathStanding::Measured);
    assert!(close(at(&app, filter).1, 0.52 - 0.30), "{:?}", at(&app, filter));
    assert!(app.query_all_by_label_contains("Filter, 0.22 in. w.c. read").next().is_some());
    assert!((running(&app).now.tesp.in_wc() - 0.83).abs() < 1e-9, "the total stays as read at the machine");
    // On the supply a bare number is positive.
    open_path(&mut app, "Supply duct, ");
    press(&mut app, "Port after the supply duct");
    press(&mut app, "Close");
    type_into(&mut app, "Static after the supply duct, port 4", ".12");
    assert!(close(at(&app, id_of(&app, ElementKind::SupplyDuct)).1, 0.31 - 0.12));
    assert!(close(at(&app, id_of(&app, ElementKind::Registers)).1, 0.12));
    // Undo takes readings and ports back, one by one.
    for ports in [4, 3, 3, 2] {
        press(&mut app, "Undo");
        assert_eq!(job(&app).path.ports.len(), ports);
    }
}

#[test]
fn a_port_is_moved_and_taken_away_and_refuses_what_is_no_reading() {
    let mut app = app();
    open_path(&mut app, "Return grille, ");
    press(&mut app, "Port after the return grille");
    press(&mut app, "Close");
    let field = "Static after the return grille, port 3";
    type_into(&mut app, field, "12");
    assert!(job(&app).set().at(ReadAt::Port(PortId(3))).is_none());
    assert!(app.query_all_by_label_contains("12.00 in. w.c. cannot be").next().is_some(), "said at the path");
    type_into(&mut app, field, "0.08");
    press(&mut app, "Move port 3 on");
    assert_eq!(job(&app).path.port(PortId(3)).unwrap().after, id_of(&app, ElementKind::ReturnDuct));
    open_path(&mut app, "Return duct, ");
    press(&mut app, "Remove the port after the return duct");
    assert!(job(&app).path.port(PortId(3)).is_none());
    assert!(job(&app).set().at(ReadAt::Port(PortId(3))).is_none(), "its reading goes with it");
    press(&mut app, "Close");
    open_path(&mut app, "Filter, ");
    press(&mut app, "Remove the port after the filter");
    assert!(app.query_all_by_label_contains("move it instead").next().is_some());
    assert_eq!(job(&app).path.ports.len(), 2);
}

#[test]
fn a_port_in_a_way_reads_that_way_alone() {
    let mut app = app();
    open_path(&mut app, "Return grille, ");
    press(&mut app, "Way beside…");
    press(&mut app, "Beside as far as the return duct");
    press(&mut app, "Close");
    let grille = job(&app).path.elements[0].ways[0].elements[0].id;
    let twin = job(&app).path.elements[0].ways[1].elements[0].id;
    let drop_before = at(&app, twin).1;
    app.get_all_by_label_contains("way 1 of side by side").next().unwrap().click();
    app.run_steps(4);
    press(&mut app, "Card In the path");
    press(&mut app, "Port after the return grille");
    press(&mut app, "Close");
    type_into(&mut app, "Static after the return grille, port 3", "0.05");
    assert!(close(at(&app, grille).1, 0.05), "{:?}", at(&app, grille));
    assert!(close(at(&app, twin).1, drop_before), "the other way keeps its share");
    assert!((running(&app).now.tesp.in_wc() - 0.83).abs() < 1e-9, "a way's port is not the machine's");
}

#[test]
fn what_was_read_across_a_part_is_its_drop_plain() {
    let mut app = app();
    open(&mut app, "Filter, ");
    type_into(&mut app, "Read across the filter", "0.21");
    press(&mut app, "Close");
    let filter = id_of(&app, ElementKind::Filter);
    assert!(close(at(&app, filter).1, 0.21));
    assert_eq!(part_of(&running(&app).system.parts, filter).unwrap().standing, PathStanding::Measured);
    assert!(app.query_all_by_label_contains("Filter, 0.21 in. w.c. read across it").next().is_some());
    open(&mut app, "Filter, ");
    type_into(&mut app, "Read across the filter", "12");
    assert!(app.query_all_by_label_contains("12.00 in. w.c. cannot be").next().is_some());
    type_into(&mut app, "Read across the filter", "");
    assert!(job(&app).set().at(ReadAt::Across(filter)).is_none());
}

#[test]
fn elements_are_put_in_named_moved_and_taken_out() {
    let mut app = app();
    open_path(&mut app, "Return duct, ");
    press(&mut app, "Put in after…");
    assert!(app.query_by_label("Put in registers").is_none(), "registers stand on the supply");
    press(&mut app, "Put in air cleaner");
    let cleaner = id_of(&app, ElementKind::AirCleaner);
    let path = |app: &App| kinds(&job(app).path.elements[..4]);
    assert_eq!(
        path(&app),
        [ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::AirCleaner, ElementKind::Filter]
    );
    // The new element's own card is open, for its drop.
    assert_eq!(app.state().view().open_element, Some(cleaner.0));
    assert!(app.get_by_role_and_label(Role::TextInput, "Drop by data").is_focused());
    press(&mut app, "Card In the path");
    type_into(&mut app, "Called", "Attic cleaner");
    assert_eq!(job(&app).path.element(cleaner).unwrap().name(), "Attic cleaner");
    press(&mut app, "Move the attic cleaner earlier");
    assert_eq!(
        path(&app),
        [ElementKind::ReturnGrille, ElementKind::AirCleaner, ElementKind::ReturnDuct, ElementKind::Filter]
    );
    press(&mut app, "Move the attic cleaner later");
    press(&mut app, "Remove the attic cleaner for good");
    assert_eq!(job(&app).path, demo::heat_pump().path);
    assert_eq!(app.state().view().open_element, None, "and its card is gone");
    press(&mut app, "Undo");
    assert_eq!(job(&app).path.element(cleaner).unwrap().name(), "Attic cleaner");
}

#[test]
fn what_cannot_be_says_why_and_changes_nothing() {
    let cases = [
        ("Blower, ", "Remove the blower for good", "is the machine itself and cannot be taken out"),
        ("Blower, ", "Move the blower later", "The blower stays"),
        ("Registers, ", "Port after the registers", "Behind the registers are the rooms"),
        ("Return grille, ", "Move the return grille earlier", "already at the end of its way"),
        ("Filter, ", "Remove the port after the filter", "move it instead"),
    ];
    for (element, button, sentence) in cases {
        let mut app = app();
        open_path(&mut app, element);
        press(&mut app, button);
        assert!(app.query_all_by_label_contains(sentence).next().is_some(), "{button}: {sentence}");
        assert_eq!(job(&app), &demo::heat_pump(), "{button}");
    }
}

#[test]
fn a_filter_moved_out_of_the_cabinet_says_so() {
    let mut app = app();
    open_path(&mut app, "Coil, ");
    assert!(app.query_all_by_label_contains("Inside the rating: the table contains it").next().is_some());
    press(&mut app, "In the machine's cabinet");
    let coil = id_of(&app, ElementKind::Coil);
    assert_eq!(job(&app).path.element(coil).unwrap().whereabouts, Whereabouts::House);
    assert!(app.query_all_by_label_contains("Outside the rating: the table does not contain it").next().is_some());
    press(&mut app, "In the machine's cabinet");
    assert_eq!(job(&app), &demo::heat_pump());
}

#[test]
fn a_leak_is_put_in_by_its_share_and_by_a_leakage_test() {
    let mut app = app();
    open_path(&mut app, "Supply duct, ");
    press(&mut app, "Leak after…");
    type_into(&mut app, "Leak", "12");
    let leak = id_of(&app, ElementKind::Leak);
    let blower = running(&app).now.airflow.cfm();
    assert!(close(at(&app, leak).0, 0.12 * blower));
    assert!(close(running(&app).delivered().to_rooms.cfm(), 0.88 * blower));
    assert!(app.query_all_by_label_contains("Leak, lets air out of the duct").next().is_some());
    // The leak's card is open; the same field takes a test.
    assert_eq!(app.state().view().open_element, Some(leak.0));
    type_into(&mut app, "Leak", "120 at 25 Pa");
    let (airflow, drop) = at(&app, leak);
    let air = over_standard(&job(&app).set().air, app.state().answer().blower().air.density);
    // 120 cfm at 25 Pa, by the power 0.65, in air of the job's density and viscosity.
    let in_air = air.density.powf(1.0 / 0.65 - 1.0) * air.viscosity.powf(2.0 - 1.0 / 0.65);
    let wanted = 120.0 * (drop * 249.088_91 / 25.0 / in_air).powf(0.65);
    assert!(close(airflow, wanted), "{airflow} at {drop}, not {wanted}");
    let (group, way) = job(&app).path.way_of(leak).unwrap();
    assert_eq!(group.ways[way].flow, None, "no share stands beside the test");
    type_into(&mut app, "Leak", "120 at");
    assert!(app.query_all_by_label_contains("it looks like 12 for a share").next().is_some());
    press(&mut app, "Close");
    for _ in 0..2 {
        press(&mut app, "Undo");
    }
    assert_eq!(job(&app), &demo::heat_pump());
}

#[test]
fn escape_closes_the_card_whatever_stands_on_it() {
    let mut app = app();
    for opened in ["Card In the path", "Leak after…"] {
        open(&mut app, "Return duct, ");
        press(&mut app, "Card In the path");
        if opened != "Card In the path" {
            press(&mut app, opened);
            key(&mut app, Key::Escape);
        }
        key(&mut app, Key::Escape);
        assert_eq!(app.state().view().open_element, None, "{opened}");
    }
}

#[test]
fn a_leak_is_offered_only_where_one_can_be() {
    let mut app = app();
    open_path(&mut app, "Registers, ");
    assert!(app.query_by_label("Leak after…").is_none(), "beyond the registers there is only the room");
    press(&mut app, "Close");
    open_path(&mut app, "Return duct, ");
    app.get_by_label("Leak after…");
}

#[test]
fn a_leak_by_test_is_put_in_at_once() {
    let mut app = app();
    open_path(&mut app, "Supply duct, ");
    press(&mut app, "Leak after…");
    type_into(&mut app, "Leak", "120 at 25 Pa");
    let leak = id_of(&app, ElementKind::Leak);
    let data = job(&app).path.element(leak).unwrap().drop.clone().expect("data");
    assert!((data.exponent() - 1.0 / 0.65).abs() < 1e-12);
    assert!((data.points()[0].1.pa() - 25.0).abs() < 1e-9 && close(data.points()[0].0.cfm(), 120.0));
    assert!(running(&app).delivered().to_rooms < running(&app).now.airflow);
    press(&mut app, "Undo");
    assert_eq!(job(&app), &demo::heat_pump(), "one step");
}

#[test]
fn a_bypass_is_laid_changed_and_taken_away() {
    let mut app = app();
    open_path(&mut app, "Supply duct, ");
    press(&mut app, "Bypass from here…");
    type_into(&mut app, "Share of the blower's air", "10");
    assert!(app.query_all_by_label_contains("Say first behind which return element").next().is_some());
    press(&mut app, "Joins after Return duct");
    type_into(&mut app, "Share of the blower's air", "10");
    let bypass = job(&app).path.bypass.clone().expect("a bypass");
    assert_eq!(bypass.leaves_after, id_of(&app, ElementKind::SupplyDuct));
    assert_eq!(bypass.joins_after, id_of(&app, ElementKind::ReturnDuct));
    let delivered = running(&app).delivered();
    assert!(close(delivered.bypassed.cfm(), 0.1 * running(&app).now.airflow.cfm()));
    let spoken = "Bypass 120 cfm, 10 %, leaves after the supply duct, joins after the return duct";
    assert!(app.query_by_label(spoken).is_some());
    type_into(&mut app, "Share of the blower's air", "95");
    assert!(app.query_all_by_label_contains("A bypass of 95 %").next().is_some());
    type_into(&mut app, "Share of the blower's air", "20");
    assert!((job(&app).path.bypass.as_ref().unwrap().flow - 0.2).abs() < 1e-12);
    press(&mut app, "Remove the bypass");
    assert_eq!(job(&app), &demo::heat_pump());
}

#[test]
fn the_path_is_edited_by_the_keyboard_alone() {
    let mut app = app();
    let enter = |app: &mut App, label: &str| {
        app.get_by_label(label).focus();
        app.run_steps(2);
        app.key_press(Key::Enter);
        app.run_steps(4);
    };
    app.get_by_label_contains("Return duct, ").focus();
    app.run_steps(2);
    app.key_press(Key::Enter);
    app.run_steps(4);
    app.get_by_label("Card Drop").focus();
    app.run_steps(2);
    // Past the changes that it can take.
    for _ in 0..2 {
        app.key_press(Key::ArrowRight);
        app.run_steps(4);
    }
    enter(&mut app, "Put in after…");
    enter(&mut app, "Put in humidifier");
    assert_eq!(job(&app).path.elements[2].kind, ElementKind::Humidifier);
    app.key_press(Key::Escape);
    app.run_steps(4);
    app.key_press(Key::Escape);
    app.run_steps(4);
    assert_eq!(app.state().view().open_element, None);
    app.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    app.run_steps(4);
    assert_eq!(job(&app), &demo::heat_pump());
}

#[test]
fn pressing_another_element_opens_its_card_and_pressing_it_again_closes_it() {
    let mut app = app();
    open(&mut app, "Registers, ");
    open(&mut app, "Return grille, ");
    assert_eq!(app.state().view().open_element, Some(1));
    open(&mut app, "Return grille, ");
    assert_eq!(app.state().view().open_element, None);
}

#[test]
fn a_name_half_typed_is_kept_when_the_card_closes_and_a_long_one_refused() {
    let mut app = app();
    open_path(&mut app, "Return grille, ");
    type_into(&mut app, "Called", &"x".repeat(41));
    assert!(app.query_all_by_label_contains("A name of 41 letters does not fit; 40 do").next().is_some());
    type_into(&mut app, "Called", "Hall grille");
    app.get_by_role_and_label(Role::TextInput, "Called").focus();
    app.run_steps(4);
    app.get_by_role_and_label(Role::TextInput, "Called").type_text("Stair grille");
    app.run_steps(4);
    press(&mut app, "Close");
    assert_eq!(job(&app).path.elements[0].name(), "Stair grille");
    assert!(app.query_all_by_label_contains("Stair grille, ").next().is_some());
}

#[test]
fn in_a_low_window_the_path_has_a_part_of_its_own() {
    let mut app = sized(demo::heat_pump(), [720.0, 450.0]);
    press(&mut app, "Part Air path");
    open_path(&mut app, "Return duct, ");
    press(&mut app, "Port after the return duct");
    press(&mut app, "Close");
    type_into(&mut app, "Static after the return duct, port 3", "0.3");
    assert!(job(&app).set().at(ReadAt::Port(PortId(3))).is_some());
    press(&mut app, "Part Job");
    let field = app.get_by_role_and_label(Role::TextInput, "Static after the return duct, port 3");
    assert_eq!(field.value().as_deref(), Some("−0.30"), "and the job's part has its field too");
}

#[test]
fn fields_of_many_ports_never_lie_over_each_other() {
    for size in [[1440.0, 900.0], [1024.0, 700.0], [760.0, 700.0]] {
        let mut app = sized(demo::heat_pump(), size);
        for element in ["Return grille", "Return duct", "Supply duct"] {
            // What lies past the edge is brought into view first.
            app.get_by_label_contains(&format!("{element}, ")).focus();
            app.run_steps(40);
            open_path(&mut app, &format!("{element}, "));
            press(&mut app, &format!("Port after the {}", element.to_lowercase()));
            press(&mut app, "Close");
        }
        let names = [
            "Static after the return grille, port 3",
            "Static after the return duct, port 4",
            "Static before the blower",
            "Static after the blower",
            "Static after the supply duct, port 5",
        ];
        let rects = names.map(|name| app.get_by_role_and_label(Role::TextInput, name).rect());
        for pair in rects.windows(2) {
            assert!(pair[0].right() <= pair[1].left() + 0.5, "{size:?}: {rects:?}");
        }
    }
}

/// Two groups of three ways each, a port in one of them, a bypass: twelve elements and more.
fn crowded() -> Job {
    let mut job = demo::heat_pump();
    let mut edit = |edit: Edit| {
        apply(&mut job, edit).unwrap();
        job.path.next_element()
    };
    let zones = edit(Edit::AddElement(ElementKind::Damper, Beside::Before(ElementId(8))));
    edit(Edit::LayBeside(ElementId(9), ElementId(8)));
    edit(Edit::AddWay(zones));
    let returns = edit(Edit::RenameElement(zones, "Three zones".to_owned()));
    edit(Edit::LayBeside(ElementId(1), ElementId(2)));
    edit(Edit::AddWay(returns));
    edit(Edit::AddPort(ElementId(1)));
    let bypass = edit(Edit::Reading(ReadAt::Port(PortId(3)), vec![Pressure::from_in_wc(-0.08)]));
    edit(Edit::Bypass(Some(Bypass { id: bypass, leaves_after: ElementId(7), joins_after: returns, flow: 0.08 })));
    job
}

#[test]
fn nothing_in_a_crowded_path_lies_over_anything_else() {
    for size in [[1440.0, 900.0], [1024.0, 700.0]] {
        let app = sized(crowded(), size);
        let parts =
            ["Filter, ", "Coil, ", "Blower, ", "Electric heater, ", "Supply duct, ", "Three zones, ", "Bypass "];
        let ways = app.query_all_by_label_contains(", way ").map(|node| node.rect());
        let chain = parts.iter().map(|name| app.get_by_label_contains(name).rect());
        let fields = ["Static after the return grille, port 3", "Static before the blower", "Static after the blower"];
        let fields = fields.map(|name| app.get_by_role_and_label(Role::TextInput, name).rect());
        let rects: Vec<_> = ways.chain(chain).chain(fields).collect();
        assert_eq!(rects.len(), 12 + parts.len() + 3, "{size:?}");
        for (index, one) in rects.iter().enumerate() {
            for other in &rects[index + 1..] {
                let common = one.intersect(*other);
                assert!(common.width() < 1.0 || common.height() < 1.0, "{size:?}: {one:?} over {other:?}");
            }
        }
    }
}

#[test]
fn a_change_lands_on_an_element_in_a_way() {
    let mut app = app_of(crowded());
    let from = app.get_by_label("Put on: Reduce by %").rect().center();
    let label = "Return grille, about";
    let to = app.get_all_by_label_contains(label).nth(1).unwrap().rect().center();
    app.hover_at(from);
    app.run_steps(2);
    app.drag_at(from);
    app.run_steps(2);
    for share in [0.3, 0.7, 1.0] {
        app.hover_at(from.lerp(to, share));
        app.run_steps(2);
    }
    app.drop_at(to);
    app.run_steps(4);
    let changed = job(&app).changes.first().expect("a change").kind.element().expect("on an element");
    let (group, way) = job(&app).path.way_of(changed).expect("in a way");
    assert_eq!((group.id, way), (job(&app).path.elements[0].id, 1));
    let after = app.state().answer().with_changes().expect("a path with the change");
    let airflow = after.system.point().expect("a point").airflow;
    let with = flows::at_element(&after.system.parts, changed, airflow).unwrap();
    assert!(with.0.cfm() > at(&app, changed).0, "more air takes the eased way");
    assert!(app.query_all_by_label_contains(" as found, ").next().is_some(), "and the way says before and after");
}

#[test]
fn the_keyboard_brings_what_lies_past_the_edge_into_view() {
    let mut app = sized(crowded(), [1024.0, 700.0]);
    let after = |app: &App| app.get_by_role_and_label(Role::TextInput, "Static after the blower").rect();
    // The panel at the right begins at 712.
    assert!(after(&app).left() > 712.0, "{:?}", after(&app));
    app.get_by_role_and_label(Role::TextInput, "Static after the blower").focus();
    app.run_steps(40);
    assert!(after(&app).right() < 712.0, "{:?}", after(&app));
    app.get_by_label_contains("Three zones, ").focus();
    app.run_steps(40);
    assert!(app.get_by_label_contains("Three zones, ").rect().left() < 712.0);
}

/// Whoever reads pascals is refused in pascals, whatever was to be changed.
#[test]
fn an_edit_that_is_refused_is_refused_in_the_units_shown() {
    let found = demo::gas_furnace();
    let table_with = |wrong: fn(&mut BlowerTable)| {
        let mut table = found.machine.clone().expect("a machine");
        wrong(&mut table);
        table
    };
    let over = || table_with(|table| table.rated_maximum = Some(Pressure::from_in_wc(50.0)));
    let filter = found.path.first(ElementKind::Filter).expect("a filter").id;
    let other = Replacement { table: over(), tap: None, target: None, leaves: Vec::new(), filter: None, coil: None };
    let media = MoreFilterArea { element: filter, now: Area::from_in2(1e9), then: Area::from_in2(2e9) };
    let cases = vec![
        Edit::Machine(Box::new(over())),
        Edit::Machine(Box::new(table_with(|table| {
            let TapData::Column(rows) = &mut table.taps[0].data else { return };
            rows[1].esp = Pressure::from_in_wc(60.0);
        }))),
        Edit::Reading(ReadAt::Port(PortId(1)), vec![Pressure::from_in_wc(-12.0)]),
        Edit::Number(JobNumber::Altitude, Some(40_000.0)),
        Edit::Number(JobNumber::Temperature, Some(900.0)),
        Edit::Number(JobNumber::DesignStatic, Some(50.0)),
        Edit::Target(Some(Target::Airflow(Airflow::ZERO))),
        Edit::AddChange(ChangeKind::MoreFilterArea(media)),
        Edit::AddChange(ChangeKind::OtherMachine(Box::new(other))),
    ];
    let mut app = app_of(found);
    run(&mut app, Action::Units(UnitSystem::SiLitres));
    for edit in cases {
        for action in [Action::Edit(edit.clone()), Action::Edits(vec![edit.clone()])] {
            run(&mut app, action);
            let said = app.state_mut().notices();
            let last = said.last().unwrap_or_else(|| panic!("{edit:?} was taken"));
            let foreign = ["in. w.c.", "cfm", "°F", " ft", "in²", "Btu"].iter().find(|unit| last.contains(**unit));
            assert_eq!(foreign, None, "{last}");
        }
        app = fresh(&app);
    }
}

/// Another window in the same units with nothing said in it yet.
fn fresh(app: &App) -> App {
    let mut next = app_of(job(app).clone());
    run(&mut next, Action::Units(UnitSystem::SiLitres));
    next
}
