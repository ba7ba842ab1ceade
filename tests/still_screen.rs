//! Nothing jumps: the parts of the window keep their places whatever is typed, switched, slid or refused.

#[path = "support/rich_path.rs"]
mod rich_path;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::collections::BTreeSet;

use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Rect};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::files::library::Library;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::change::{ChangeId, ChangeKind, FilterLoading, LessByHand, OtherTap, Seal, Switch};
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::Pressure;
use window::{App, WIDE, key, press, run, says, settle, sized, texts, type_into};

/// Where every element of the air path stands, those in ways included.
fn columns(app: &App) -> Vec<(String, Rect)> {
    let path = &app.state().job().path;
    let names: BTreeSet<String> = path.all().iter().map(|element| format!("{}, ", element.name())).collect();
    let begins = |label: &String| names.iter().any(|name| label.starts_with(name));
    let buttons = app.get_all_by_role(Role::Button);
    let named = buttons.filter_map(|node| Some((node.accesskit_node().label().filter(begins)?, node.rect())));
    // What is said of an element changes; its name does not.
    named.map(|(label, rect)| (label.split(',').next().unwrap_or_default().to_owned(), rect)).collect()
}

fn columns_hold(app: &App, before: &[(String, Rect)], after: &str) {
    let now = columns(app);
    assert_eq!(before.len(), now.len(), "after {after}");
    for ((name, was), (again, is)) in before.iter().zip(now) {
        assert_eq!(*name, again, "after {after}");
        let moved = (was.min - is.min).length() + (was.max - is.max).length();
        assert!(moved < 0.5, "after {after} the {name} stood at {is:?} and not at {was:?}");
    }
}

/// Where every part of the window stands: the head's line of findings, the job, the chart, the path's readings, the taps, the changes and their drawer.
fn places(app: &App) -> Vec<(&'static str, Rect)> {
    let corner = |name: &'static str, rect: Rect| (name, Rect::from_min_size(rect.min, [0.0, 0.0].into()));
    let heading = |name: &str| app.get_by_role_and_label(Role::Heading, name).rect();
    let all = app.query_by_label("All findings and cautions").map(|node| node.rect().left_center());
    // Another machine's name stands behind the word.
    let is_of_taps = |label: Option<String>| label.is_some_and(|label| label.starts_with("Every tap"));
    let mut headings = app.query_all_by_role(Role::Heading);
    let taps = headings.find(|node| is_of_taps(node.accesskit_node().label())).unwrap();
    let reading = app.get_by_role_and_label(Role::TextInput, "Static before the blower").rect();
    let mut places = vec![
        corner("job", heading("Equipment")),
        ("chart", app.get_by_role(Role::GraphicsDocument).rect()),
        ("reading", reading),
        corner("taps", taps.rect()),
        corner("changes", heading("Changes")),
    ];
    // Its words count, its place holds.
    places.extend(all.map(|at| ("findings", Rect::from_min_size([0.0, at.y].into(), [0.0, 0.0].into()))));
    places
}

fn holds(app: &App, before: &[(&'static str, Rect)], after: &str) {
    for ((name, was), (again, is)) in before.iter().zip(places(app)) {
        assert_eq!(*name, again, "after {after}");
        let moved = (was.min - is.min).length() + (was.max - is.max).length();
        assert!(moved < 0.5, "after {after} the {name} stood at {is:?} and not at {was:?}");
    }
}

fn element(app: &App, kind: ElementKind) -> tapcross::model::facts::air_path::ElementId {
    app.state().job().path.first(kind).unwrap().id
}

#[test]
fn twenty_actions_move_no_part_of_the_window() {
    for size in [WIDE, [1024.0, 700.0]] {
        let mut app = sized(demo::heat_pump(), size);
        settle(&mut app);
        let (before, elements) = (places(&app), columns(&app));
        assert_eq!(elements.len(), app.state().job().path.elements.len());
        let add = |kind| Edit::AddChange(kind).into();
        let looks = |port, value| Edit::Reading(ReadAt::Port(port), vec![Pressure::from_in_wc(value)]).into();
        let (filter, duct) = (element(&app, ElementKind::Filter), element(&app, ElementKind::SupplyDuct));
        let (library, _) = Library::shipped();
        let other = library.entries[library.search("48t")[0]].table.clone();
        let less = |fraction| ChangeKind::LessByHand(LessByHand { element: duct, fraction });
        let steps: Vec<(&str, Vec<Action>)> = vec![
            ("a change is put on", vec![add(less(0.3))]),
            ("another", vec![add(ChangeKind::FilterLoading(FilterLoading { element: filter, factor: 2.0 }))]),
            ("a third", vec![add(ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() }))]),
            ("one is switched off", vec![Edit::SwitchChange(ChangeId(1), Switch::Off).into()]),
            ("one is switched on", vec![Edit::SwitchChange(ChangeId(1), Switch::On).into()]),
            ("a price", vec![Edit::ChangePrice(ChangeId(1), Some(1850.0)).into()]),
            ("a change grows", vec![Edit::ReplaceChange(ChangeId(1), less(0.9)).into()]),
            ("one is doubled", vec![Edit::DuplicateChange(ChangeId(1)).into()]),
            ("one is removed", vec![Edit::RemoveChange(ChangeId(3)).into()]),
            ("undo", vec![Command::Undo.into(), Command::Undo.into()]),
            ("redo", vec![Command::Redo.into()]),
            ("the tap that ran is another", vec![Edit::Tap(Some("3".to_owned())).into()]),
            ("a reading is higher", vec![looks(RETURN_PORT, -0.78)]),
            ("thin air", vec![Edit::Number(JobNumber::Altitude, Some(5280.0)).into()]),
            ("a sign is in doubt", vec![looks(RETURN_PORT, 0.52)]),
            ("the sign is right again", vec![looks(RETURN_PORT, -0.52)]),
            ("off the table", vec![looks(SUPPLY_PORT, 1.9)]),
            ("back on it", vec![looks(SUPPLY_PORT, 0.31)]),
            ("another machine", vec![Action::PickMachine(None), Action::UseTable(Box::new(other))]),
            ("its change is gone", vec![Command::Undo.into()]),
        ];
        assert!(steps.len() >= 20);
        for (name, actions) in steps {
            for action in actions {
                run(&mut app, action);
            }
            holds(&app, &before, name);
            columns_hold(&app, &elements, name);
        }
        // The panel may scroll to a field; what is typed there then moves nothing.
        let focus = |app: &mut App| {
            app.get_by_role_and_label(Role::TextInput, "Outdoor unit").focus();
            app.run_steps(30);
        };
        focus(&mut app);
        let before = places(&app);
        type_into(&mut app, "Outdoor unit", "900");
        holds(&app, &before, "a refused text");
        key(&mut app, Key::Escape);
        holds(&app, &before, "Escape");
        focus(&mut app);
        app.get_by_role_and_label(Role::TextInput, "Outdoor unit").type_text("12");
        settle(&mut app);
        holds(&app, &before, "a value half typed");
    }
}

/// Two returns and two zones, a bypass, a leak: whatever is switched, each way and each element in it keeps its place.
#[test]
fn changes_move_no_element_of_a_rich_path() {
    for size in [WIDE, [1024.0, 700.0]] {
        let mut app = sized(rich_path::job(), size);
        settle(&mut app);
        let before = columns(&app);
        assert_eq!(before.len(), app.state().job().path.all().len(), "{before:?}");
        let on = |app: &App, kind| element(app, kind);
        let (leak, grille) = (on(&app, ElementKind::Leak), on(&app, ElementKind::ReturnGrille));
        let damper = on(&app, ElementKind::Damper);
        let less = |element, fraction| Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction })).into();
        let steps: Vec<(&str, Action)> = vec![
            ("a seal", Edit::AddChange(ChangeKind::Seal(Seal { element: leak, fraction: 0.9 })).into()),
            ("a wider grille", less(grille, 0.9)),
            ("a damper opened", less(damper, 0.9)),
            ("a seal switched off", Edit::SwitchChange(ChangeId(1), Switch::Off).into()),
            ("a reading", Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-0.21)]).into()),
        ];
        for (name, action) in steps {
            run(&mut app, action);
            columns_hold(&app, &before, name);
        }
    }
}

/// Whoever mistypes still sees what held before, and that it is no answer to what was typed.
#[test]
fn a_refused_text_keeps_the_last_good_answer_marked_as_such() {
    let mut app = sized(demo::heat_pump(), WIDE);
    let good = app.get_by_label_contains("Verdict: ").accesskit_node().label().unwrap();
    assert!(good.starts_with("Verdict: 1,200 cfm on tap 4"), "{good}");
    type_into(&mut app, "Altitude", "40000");
    let marked = app.get_by_label_contains("Verdict: ").accesskit_node().label().unwrap();
    let answer = good.trim_start_matches("Verdict: ");
    assert!(marked.ends_with(&format!("Last good answer: {answer}")), "{marked}");
    assert!(says(&app, "That value is not possible: An altitude of 40,000 ft cannot be"), "{:?}", texts(&app));
    // Other readings are taken while it stands: what is shown is no earlier answer, but one without it.
    let reading = ReadAt::Port(RETURN_PORT);
    let before = app.state().job().return_reading().unwrap();
    run(&mut app, Edit::Reading(reading, vec![Pressure::from_in_wc(-0.30)]).into());
    let marked = app.get_by_label_contains("Verdict: ").accesskit_node().label().unwrap();
    assert!(marked.contains("Without the refused value: ") && !marked.contains("Last good"), "{marked}");
    run(&mut app, Edit::Reading(reading, vec![before]).into());
    key(&mut app, Key::Escape);
    assert_eq!(app.get_by_label_contains("Verdict: ").accesskit_node().label().unwrap(), good);
}

/// The list keeps its head and the taps their rows when an editor opens under it.
#[test]
fn selecting_a_change_moves_neither_taps_nor_list() {
    let mut app = sized(demo::heat_pump(), WIDE);
    press(&mut app, "Put on: Second return");
    let before = places(&app);
    let row = app.get_by_label("Close: Second return").rect();
    press(&mut app, "Close: Second return");
    holds(&app, &before, "the editor is closed");
    assert_eq!(app.get_by_label("Edit: Second return").rect(), row);
    press(&mut app, "Edit: Second return");
    holds(&app, &before, "it is opened");
}
