//! A visit in the window: readings taken one after another, stepped through by key, and what they say together.

#[path = "support/many_sets.rs"]
mod many_sets;
#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use eframe::egui::{Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, Rect, Role, TouchPhase, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::change::{ChangeKind, OtherTap};
use tapcross::model::facts::readings::ReadAt;
use tapcross::units::Pressure;
use window::{App, app_of, run, sized, texts};

fn read(app: &mut App, at: ReadAt, in_wc: f64) {
    run(app, Edit::Reading(at, vec![Pressure::from_in_wc(in_wc)]).into());
}

/// The gas furnace as found and with its filter pulled, by the panel's own buttons.
fn filter_pulled() -> App {
    let mut app = app_of(demo::gas_furnace());
    app.get_by_label("As these, but…").click();
    app.run_steps(4);
    let filter = app.state().job().path.first(ElementKind::Filter).unwrap().id;
    run(&mut app, Edit::PartOut(filter, true).into());
    read(&mut app, ReadAt::Port(RETURN_PORT), -0.15);
    read(&mut app, ReadAt::Port(SUPPLY_PORT), 0.46);
    app
}

fn has_label(app: &App, label: &str) -> bool {
    texts(app).iter().any(|text| text == label)
}

fn is_said(app: &App, part: &str) -> bool {
    texts(app).iter().any(|text| text.contains(part))
}

#[test]
fn a_filter_pulled_is_one_press_and_two_numbers_and_says_what_it_takes() {
    let app = filter_pulled();
    let job = app.state().job();
    assert!(job.sets.len() == 2 && job.judged == 1);
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    assert!(job.sets[0].parts_out.is_empty() && job.sets[1].parts_out == [filter]);
    let visit = app.state().answer().visit.as_ref().unwrap();
    let told = visit.fit.as_ref().unwrap().separated()[0];
    assert_eq!(told.element, filter);
    // More than the simple difference of the return's readings, 0.28 − 0.15.
    assert!(told.drop.in_wc() > 0.135 && told.drop.in_wc() < 0.19, "{told:?}");
    for part in [
        "2 Filter out",
        "Filter out: return 0.28 to 0.15",
        "by all readings",
        "the filter takes",
        "With the filter out these readings are a test",
    ] {
        assert!(is_said(&app, part), "{part}: {:?}", texts(&app));
    }
}

/// Each mark of the legend stands beside its words, the visit's among them.
#[test]
fn the_legend_names_the_visits_marks_and_no_words_lie_over_a_mark() {
    let mut app = filter_pulled();
    app.key_press_modifiers(Modifiers::COMMAND, Key::M);
    app.run_steps(4);
    let lines: Vec<_> = app.query_all_by_role(Role::ListItem).collect();
    assert!(lines.len() > 8, "{}", lines.len());
    let words: Vec<_> = app.query_all_by_label("the other readings of the visit, with their paths").collect();
    let (line, words) = (words[0].rect(), words[words.len() - 1].rect());
    assert!(words.left() >= line.left() + 30.0, "{words:?} in {line:?}");
}

/// Page Down and Page Up go through the visit and stop at its ends; to look is nothing to take back.
#[test]
fn the_visit_is_stepped_through_by_key() {
    let mut app = filter_pulled();
    run(&mut app, Edit::AddSet.into());
    run(&mut app, Edit::NameSet("Higher setting".to_owned()).into());
    for (key, judged) in [(Key::PageUp, 1), (Key::PageUp, 0), (Key::PageUp, 0), (Key::PageDown, 1)] {
        app.key_press(key);
        app.run_steps(4);
        assert_eq!(app.state().job().judged, judged, "{key:?}");
    }
    assert!(app.query_all_by_label_contains("Readings 2 Filter out").next().is_some(), "{:?}", texts(&app));
    app.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    app.run_steps(4);
    let job = app.state().job();
    assert!(job.judged == 2 && job.sets[2].name.is_empty(), "the name is taken back, where it was typed");
}

/// A trainer asks before the wall says: F7 keeps answers back, F8 shows those of the readings that stand there, and the next readings are a question again.
#[test]
fn answers_are_kept_back_until_they_are_asked_for() {
    let mut app = filter_pulled();
    let key = |app: &mut App, key| {
        app.key_press(key);
        app.run_steps(4);
    };
    assert!(is_said(&app, "Filter out: return 0.28 to 0.15"), "{:?}", texts(&app));
    key(&mut app, Key::F7);
    assert!(is_said(&app, "What does it move, and what takes the static?"), "{:?}", texts(&app));
    for answer in ["the filter takes", "these readings are a test", "cfm ±", "What to read next", "0.61 in. w.c."] {
        assert!(!is_said(&app, answer), "{answer}: {:?}", texts(&app));
    }
    // The readings stay, and everything that can be typed.
    assert_eq!(app.state().job().return_reading(), Some(Pressure::from_in_wc(-0.15)));
    key(&mut app, Key::F8);
    assert!(is_said(&app, "Filter out: return 0.28 to 0.15"), "{:?}", texts(&app));
    key(&mut app, Key::PageUp);
    assert!(is_said(&app, "What does it move"), "the next ones are kept back again: {:?}", texts(&app));
    key(&mut app, Key::F7);
    assert!(!is_said(&app, "What does it move") && is_said(&app, "by all readings"), "{:?}", texts(&app));
    key(&mut app, Key::F8);
    assert!(!is_said(&app, "What does it move"), "nothing is kept back by asking");
}

#[test]
fn readings_that_say_the_same_are_asked_about() {
    let mut app = app_of(demo::gas_furnace());
    app.get_by_label("As these, but…").click();
    app.run_steps(4);
    assert!(is_said(&app, "type what was read"), "{:?}", texts(&app));
    // No figure stands for what nobody has read.
    assert!(app.query_by_label("Readings 2, as 1").is_some(), "{:?}", texts(&app));
    app.get_by_label("Remove these").click();
    app.run_steps(4);
    assert!(app.state().job().sets.len() == 1 && app.query_by_label("Remove these").is_none());
}

/// Where the job's panel stands among the parts of the window.
const JOB: usize = 2;

/// The line of a set in the list.
fn line(app: &App, set: usize) -> Rect {
    let is_it = |label: Option<String>| label.is_some_and(|label| label.starts_with(&format!("Readings {set} ")));
    let mut lines = app.query_all_by_role(Role::RadioButton).filter(|node| is_it(node.accesskit_node().label()));
    lines.next().unwrap_or_else(|| panic!("readings {set}: {:?}", texts(app))).rect()
}

/// Whoever goes through a long visit by key sees where they are; whoever reads elsewhere in the panel is left there.
#[test]
fn the_list_of_the_visit_follows_the_readings_shown_and_nothing_else() {
    for size in [[1440.0, 900.0], [1024.0, 700.0]] {
        let mut app = sized(many_sets::job(), size);
        let panel = app.state().view().parts[JOB];
        let is_in_sight = |app: &App, set| panel.contains_rect(line(app, set));
        for (key, shown) in [(Key::PageUp, 19), (Key::PageUp, 18), (Key::PageDown, 19)] {
            app.key_press(key);
            app.run_steps(4);
            assert!(is_in_sight(&app, shown), "{shown} at {:?} in {panel:?}", line(&app, shown));
        }
        run(&mut app, Edit::JudgeSet(0).into());
        assert!(is_in_sight(&app, 1));
        run(&mut app, Edit::JudgeSet(19).into());
        assert!(is_in_sight(&app, 20));
        app.hover_at(panel.center());
        let (unit, modifiers, source) = (MouseWheelUnit::Point, Modifiers::NONE, MouseWheelSource::Wheel);
        app.event(Event::MouseWheel { unit, delta: vec2(0.0, 2000.0), phase: TouchPhase::Move, modifiers, source });
        app.run_steps(60);
        let scrolled = line(&app, 20);
        assert!(!panel.contains_rect(scrolled), "{scrolled:?} is scrolled out of {panel:?}");
        run(&mut app, Edit::SetNote("windy".to_owned()).into());
        app.run_steps(20);
        assert_eq!(line(&app, 20), scrolled, "another edit leaves the panel where it is");
    }
}

/// Where a visit has several sets, what was found bears the name of the one shown, wherever it stands.
#[test]
fn the_readings_shown_are_called_by_their_name() {
    let mut app = filter_pulled();
    let tap = app.state().job().machine.as_ref().unwrap().taps[0].name.clone();
    run(&mut app, Edit::AddChange(ChangeKind::OtherTap(OtherTap { tap })).into());
    app.key_press_modifiers(Modifiers::COMMAND, Key::M);
    app.run_steps(4);
    let said = texts(&app);
    // A note of the demo's has these words too.
    let is_of_set_one = |text: &&String| text.contains("1 As found") || *text == "dampers as found.";
    let strange: Vec<_> = said.iter().filter(|text| !is_of_set_one(text) && text.contains("as found")).collect();
    assert!(strange.is_empty(), "{strange:?}");
    let has = |text: &str| said.iter().any(|told| told == text);
    assert!(has("Filter out"), "the table's head, the path's label: {said:?}");
    assert!(has("the path in \"Filter out\""), "the legend: {said:?}");
    for part in ["On the path in \"Filter out\": ", " in \"Filter out\")"] {
        assert!(is_said(&app, part), "{part}: {said:?}");
    }
    // Nothing is different in a third set, which has no name.
    run(&mut app, Edit::AddSet.into());
    assert!(has_label(&app, "Set 3") && is_said(&app, "the path in set 3"), "{:?}", texts(&app));
    run(&mut app, Edit::JudgeSet(0).into());
    assert!(has_label(&app, "as found") && is_said(&app, "the path as found"), "{:?}", texts(&app));
    // The tap alone is no name: curves go by it.
    run(&mut app, Edit::JudgeSet(2).into());
    let tap = app.state().job().machine.as_ref().unwrap().taps[0].name.clone();
    run(&mut app, Edit::Tap(Some(tap)).into());
    assert!(has_label(&app, "Set 3") && is_said(&app, "the path in set 3"), "{:?}", texts(&app));
    assert!(has_label(&app_of(demo::heat_pump()), "as found"), "a visit of one set");
}

/// Of twenty sets the chart numbers the first, the one before and the one pointed at.
#[test]
fn the_chart_numbers_few_of_many_readings_and_the_one_pointed_at() {
    let mut app = sized(many_sets::job(), [1440.0, 900.0]);
    let frame = app.get_by_role(Role::GraphicsDocument).rect();
    let numbers = |app: &App| -> Vec<String> {
        let labels = app.query_all_by_role(Role::Label).filter(|node| frame.intersects(node.rect()));
        labels.filter_map(|node| node.value()).filter(|label| label.starts_with("Readings ")).collect()
    };
    let told = |app: &App| numbers(app).concat();
    assert!(
        numbers(&app).len() <= 2 && told(&app).contains("1 As found") && told(&app).contains("19 Filter back in"),
        "{}",
        told(&app)
    );
    let at = line(&app, 4).center();
    assert!(app.state().view().parts[JOB].contains(at), "{at:?}");
    assert!(!told(&app).contains("4 Tap 3"), "{}", told(&app));
    app.hover_at(at);
    app.run_steps(4);
    assert!(told(&app).contains("4 Tap 3") && numbers(&app).len() <= 3, "{}", told(&app));
}
