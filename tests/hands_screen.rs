//! Changes under the hand: lists that keep their rows in sight, cards that stay, sizes that are taken, fittings that are added up, and nothing too small for a finger.

#[path = "support/nine_changes.rs"]
mod nine_changes;
#[path = "support/rich_path.rs"]
mod rich_path;
#[path = "support/window.rs"]
mod window;

use eframe::egui::{Key, Rect, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::model::facts::change::{ChangeKind, FilterLoading, OtherDuct};
use tapcross::model::facts::duct::section::Section;
use tapcross::ui::view::action::Command;
use tapcross::units::Dimension;
use window::{App, WIDE, app, key, open_palette, press, run, says, select, sized, texts, type_into};

const SMALL: [f32; 2] = [1024.0, 700.0];
/// What a finger in a glove still finds, points.
const FINGER: f32 = 32.0;

fn rects(app: &App, begins: &str) -> Vec<(String, Rect)> {
    let named = app.root().children_recursive().filter_map(|node| Some((node.accesskit_node().label()?, node.rect())));
    named.filter(|(label, _)| label.starts_with(begins)).collect()
}

/// Goes to what bears a name by key, which brings it into sight, and presses it.
fn reach(app: &mut App, name: &str) {
    app.get_by_label(name).focus();
    app.run_steps(20);
    key(app, Key::Enter);
}

fn kind(app: &App) -> &ChangeKind {
    &app.state().job().changes[0].kind
}

/// Rows of the list that stand whole between its heads and the line of all together.
fn whole_rows(app: &App) -> usize {
    let (top, foot) = (app.get_by_role_and_label(Role::Heading, "Changes").rect(), app.get_by_label("Together").rect());
    let rows = [rects(app, "Edit: "), rects(app, "Close: ")].concat();
    rows.iter().filter(|(_, row)| row.top() >= top.bottom() - 1.0 && row.bottom() <= foot.top() + 1.0).count()
}

#[test]
fn gains_stand_under_their_unit() {
    for size in [WIDE, SMALL] {
        let app = sized(nine_changes::job(), size);
        let heads = app.get_by_role_and_label(Role::Heading, "Changes").rect();
        let units = app.query_all_by_label("cfm").filter(|unit| heads.y_range().contains(unit.rect().center().y));
        assert_eq!(units.count(), 1, "{size:?}");
    }
}

#[test]
fn nine_changes_keep_their_rows_in_sight() {
    for (size, closed, edited) in [(WIDE, 8, 4), (SMALL, 4, 1)] {
        let mut app = sized(nine_changes::job(), size);
        assert!(whole_rows(&app) >= closed, "{} of nine at {size:?}", whole_rows(&app));
        select(&mut app, "Other duct: return duct");
        app.run_steps(20);
        assert!(whole_rows(&app) >= edited, "{} beside an editor at {size:?}", whole_rows(&app));
    }
}

#[test]
fn nothing_is_too_small_for_a_finger() {
    let large = |app: &App, begins: &str| {
        let found = rects(app, begins);
        assert!(!found.is_empty(), "nothing begins with {begins}: {:?}", texts(app));
        for (label, rect) in found {
            assert!(rect.width().min(rect.height()) >= FINGER - 0.1, "{label} is {:?}", rect.size());
        }
    };
    for size in [WIDE, SMALL] {
        let mut app = sized(nine_changes::job(), size);
        for begins in ["On: ", "Edit: ", "Changes to put on", "Move the port ", "Read as ", "Return grille, "] {
            large(&app, begins);
        }
        open_palette(&mut app);
        large(&app, "Put on: ");
        press(&mut app, "Changes to put on");
        select(&mut app, "Other duct: return duct");
        for begins in ["Remove: ", "Duplicate: ", "Move up: ", "Changes to put on", "Fittings of known loss"] {
            large(&app, begins);
        }
        let app = sized(rich_path::job(), size);
        for begins in ["Return grille, ", "Damper, ", "Leak, ", "Two returns, "] {
            large(&app, begins);
        }
    }
}

#[test]
fn a_change_that_asks_where_moves_no_card() {
    let mut app = app();
    let before = rects(&app, "Put on: ");
    press(&mut app, "Put on: Other duct");
    assert_eq!(rects(&app, "Put on: "), before);
    let place = app.get_by_label("Other duct on: Return duct").rect();
    assert!(place.height() >= FINGER, "{place:?}");
    key(&mut app, Key::Escape);
    assert!(app.query_by_label("Other duct on: Return duct").is_none());
    assert_eq!(rects(&app, "Put on: "), before);
}

/// By key the places follow their card, and Enter puts it there.
#[test]
fn the_places_of_a_change_follow_its_card_by_key() {
    let mut app = app();
    reach(&mut app, "Put on: Other duct");
    key(&mut app, Key::Tab);
    let place = app.get_by_label("Other duct on: Return duct");
    assert!(place.accesskit_node().is_focused(), "{:?}", app.ctx.memory(eframe::egui::Memory::focused));
    key(&mut app, Key::Enter);
    assert!(matches!(kind(&app), ChangeKind::OtherDuct(_)), "{:?}", kind(&app));
}

fn then(app: &App) -> Section {
    match kind(app) {
        ChangeKind::OtherDuct(OtherDuct { then, .. }) => then.section,
        kind => panic!("{kind:?}"),
    }
}

/// The duct that is said is the duct that is taken, and taking it is one step of undo.
#[test]
fn a_size_that_was_worked_out_is_taken_by_a_press() {
    let mut app = app();
    press(&mut app, "Put on: Other duct");
    press(&mut app, "Other duct on: Supply duct");
    let before = then(&app);
    type_into(&mut app, "Allowed drop", "0.1");
    let said = texts(&app).into_iter().find(|text| text.contains("the next stock size over")).unwrap();
    let inches: f64 = said.split(' ').next().unwrap().parse().unwrap();
    reach(&mut app, "Take this size");
    assert_eq!(then(&app), Section::round(Dimension::from_in(inches)), "{said}");
    assert_ne!(then(&app), before);
    assert!(app.query_by_label("Take this size").is_none(), "it is taken");
    run(&mut app, Command::Undo.into());
    assert_eq!(then(&app), before);
}

#[test]
fn a_face_and_a_return_take_theirs_too() {
    let mut app = app();
    press(&mut app, "Put on: More filter area");
    type_into(&mut app, "Allowed drop", "0.1");
    reach(&mut app, "Take this size");
    let ChangeKind::MoreFilterArea(area) = kind(&app) else { panic!("{:?}", kind(&app)) };
    let said = format!("{} in² or more", area.then.in2());
    assert!(says(&app, &said), "{said}: {:?}", texts(&app));
    run(&mut app, Command::Undo.into());
    run(&mut app, Command::Undo.into());
    press(&mut app, "Put on: Second return");
    type_into(&mut app, "Allowed velocity", "500");
    reach(&mut app, "Take this size");
    let ChangeKind::SecondReturn(new) = kind(&app) else { panic!("{:?}", kind(&app)) };
    assert!(says(&app, &format!("{} in. flex", new.run.section.equivalent_diameter().inches())), "{:?}", texts(&app));
    // A limit of the job's stands beside each velocity.
    assert!(says(&app, "at most 700") && says(&app, "at most 500"), "{:?}", texts(&app));
}

/// 1 was stated; a mitred elbow is 0.42·sin 45° + 2.56·sin³ 45° = 0.297 + 0.905 = 1.20 more, an abrupt exit 1.
#[test]
fn fittings_are_added_up_by_their_published_coefficients() {
    let mut app = app();
    press(&mut app, "Put on: Other duct");
    press(&mut app, "Other duct on: Supply duct");
    reach(&mut app, "Fittings of known loss");
    reach(&mut app, "Add to now: Mitred 90° elbow without vanes");
    let fittings = |app: &App| match kind(app) {
        ChangeKind::OtherDuct(OtherDuct { now, then, .. }) => (now.fittings, then.fittings),
        kind => panic!("{kind:?}"),
    };
    assert_eq!(fittings(&app), (2.2, 1.0));
    assert!(says(&app, "Now 2.2: 1 typed + mitred 90° elbow without vanes 1.20"), "{:?}", texts(&app));
    reach(&mut app, "Add to now: Abrupt exit into a room or plenum");
    reach(&mut app, "Add to now: Abrupt exit into a room or plenum");
    assert_eq!(fittings(&app), (4.2, 1.0));
    assert!(says(&app, "2 × abrupt exit into a room or plenum 1.00"), "{:?}", texts(&app));
    assert!(says(&app, "Rennels"), "each with its source");
    run(&mut app, Command::Undo.into());
    assert!(says(&app, "Now 3.2: 1 typed + mitred 90° elbow without vanes 1.20 + abrupt exit"), "{:?}", texts(&app));
    // What is typed over is one figure again.
    type_into(&mut app, "Fittings now", "5");
    assert!(!says(&app, "Now 3.2") && !says(&app, "Now 5:"), "{:?}", texts(&app));
}

#[test]
fn an_element_offers_the_changes_that_it_can_take() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    press(&mut app, "Card Changes");
    let offered: Vec<String> = texts(&app).into_iter().filter(|text| text.ends_with(" on: Filter")).collect();
    assert!(offered.contains(&"Clean filter on: Filter".to_owned()), "{offered:?}");
    assert!(offered.iter().all(|text| !text.starts_with("Other duct")), "{offered:?}");
    let button = app.get_by_label("Filter loading on: Filter");
    assert!(button.rect().height() >= FINGER, "{:?}", button.rect());
    button.focus();
    app.run_steps(2);
    key(&mut app, Key::Enter);
    assert!(matches!(kind(&app), ChangeKind::FilterLoading(FilterLoading { .. })), "{:?}", kind(&app));
    // Its editor is open, and the card is gone.
    app.get_by_label("Close: Filter loading: filter");
    assert!(app.query_by_label("Card Changes").is_none());
}

/// What the table contains takes nothing, and says so.
#[test]
fn an_element_that_takes_nothing_says_so() {
    let mut app = app();
    app.get_by_label_contains("Electric heater, ").click();
    app.run_steps(4);
    press(&mut app, "Card Changes");
    assert!(says(&app, "No change works on it"), "{:?}", texts(&app));
}
