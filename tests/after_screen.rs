//! Before and after in the real program: verdict, chart, air path and the table of every tap say what the answer says, and a change is dragged from the tray.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

#[path = "support/pictures.rs"]
mod pictures;

use eframe::egui::{Key, Modifiers, Pos2, Role, Theme};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::change::{Declaration, Kind as _};
use tapcross::model::facts::air_path::{ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::change::{
    BelowTable, ChangeId, ChangeKind, LessByHand, OtherDuct, OtherTap, SecondReturn, Switch,
};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::ReadAt;
use tapcross::model::first_guess;
use tapcross::model::verdicts::system::System;
use tapcross::model::wording::changes;
use tapcross::ui::view::action::Command;
use tapcross::units::{Airflow, Density, UnitSystem, show};
use window::{App, Look, WIDE, app, app_in, app_of, run};

const UNITS: UnitSystem = UnitSystem::InchPound;

fn element(job: &Job, kind: ElementKind) -> ElementId {
    job.path.elements.iter().find(|element| element.kind == kind).expect("the path has it").id
}

fn firsts(job: &Job, wanted: &[(&Declaration, ElementKind)]) -> Vec<Edit> {
    let answer = Answer::of(job);
    let kinds =
        wanted.iter().map(|(declared, kind)| first_guess::first(declared, element(job, *kind), job, &answer).unwrap());
    kinds.map(Edit::AddChange).collect()
}

/// The demo job with a second return and less drop in the supply.
fn both(job: &Job) -> Vec<Edit> {
    firsts(
        job,
        &[(&SecondReturn::DECLARATION, ElementKind::ReturnGrille), (&LessByHand::DECLARATION, ElementKind::SupplyDuct)],
    )
}

fn changed(size: [f32; 2], theme: Theme) -> App {
    let job = demo::heat_pump();
    let edits = both(&job);
    let mut app = app_in(job, Look { size, theme, ..Look::default() });
    for edit in edits {
        run(&mut app, edit.into());
    }
    app
}

fn after(app: &App) -> &System {
    &app.state().answer().with_changes().unwrap().system
}

fn headline(app: &App) -> String {
    let verdict = tapcross::model::wording::verdict(app.state().job(), app.state().answer(), UNITS);
    verdict.headline
}

fn chart_says(app: &App) -> String {
    app.get_by_role(Role::GraphicsDocument).accesskit_node().label().unwrap()
}

#[test]
fn the_verdict_says_what_the_changes_bring_together() {
    let mut app = changed(WIDE, Theme::Light);
    let point = *after(&app).point().unwrap();
    let (moved, tesp) = (show::airflow(point.airflow, UNITS), show::pressure(point.tesp, UNITS));
    let said = format!("With both changes {moved} on tap 4 (1,200 as found)");
    assert!(headline(&app).starts_with(&said), "{said}: {}", headline(&app));
    assert!(app.query_all_by_label_contains(&said).next().is_some(), "it stands on the screen: {said}");
    let spoken = format!("With both changes {moved} at {tesp} on tap 4");
    assert!(chart_says(&app).contains(&spoken), "{}", chart_says(&app));
    let id = app.state().job().changes[1].id;
    run(&mut app, Edit::SwitchChange(id, Switch::Off).into());
    assert!(headline(&app).starts_with("With the change 1,"), "{}", headline(&app));
    let id = app.state().job().changes[0].id;
    run(&mut app, Edit::SwitchChange(id, Switch::Off).into());
    assert!(headline(&app).starts_with("1,200 cfm on tap 4, "), "nothing is on: {}", headline(&app));
}

#[test]
fn a_gain_smaller_than_its_uncertainty_is_called_that() {
    let mut job = demo::heat_pump();
    let duct = element(&job, ElementKind::SupplyDuct);
    tapcross::edit::apply(
        &mut job,
        Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.2 })),
    )
    .unwrap();
    let mut answer = Answer::of(&job);
    let (gain, spread) = changes::gain(answer.with_changes().unwrap()).unwrap();
    assert!(gain.least > spread);
    for (factor, is_small) in [(0.5, false), (1.5, true)] {
        let after = &mut answer.changed[0].system;
        let Some(Ok(point)) = &mut after.taps[after.blower.in_use.unwrap()].point else { panic!("a point") };
        point.spread.gain = gain.least * factor;
        let said = changes::sentences(&job, &answer, UNITS).join(". ");
        assert_eq!(said.contains("is not above its uncertainty of ± "), is_small, "{said}");
    }
}

/// What shows as nothing is no "loss of 0 cfm".
#[test]
fn a_gain_that_shows_as_nought_is_neither_gain_nor_loss() {
    let mut job = demo::gas_furnace();
    let duct = element(&job, ElementKind::SupplyDuct);
    let least = ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.01 });
    tapcross::edit::apply(&mut job, Edit::AddChange(least)).unwrap();
    let mut answer = Answer::of(&job);
    let after = &mut answer.changed[0].system;
    let Some(Ok(point)) = &mut after.taps[after.blower.in_use.unwrap()].point else { panic!("a point") };
    point.spread.gain = Airflow::from_cfm(16.0);
    let said = changes::sentences(&job, &answer, UNITS).join(". ");
    assert!(said.contains("Neither a gain nor a loss can be told: 0 ± "), "{said}");
}

#[test]
fn the_chart_names_the_point_and_the_path_with_changes() {
    for size in [WIDE, [1024.0, 700.0]] {
        let app = changed(size, Theme::Light);
        let point = *after(&app).point().unwrap();
        let (_, spread) = changes::gain(app.state().answer().with_changes().unwrap()).unwrap();
        let now = app.state().answer().point().unwrap().now.airflow;
        let to_5 = |air: Airflow| (air.cfm() / 5.0).round() * 5.0;
        let card = format!(
            "with changes: {}, +{} ± {}, {}",
            show::airflow(point.airflow, UNITS),
            show::number(to_5(point.airflow) - to_5(now), 0),
            show::number(spread.cfm(), 0),
            show::pressure(point.tesp, UNITS)
        );
        let frame = app.get_by_role(Role::GraphicsDocument).rect();
        let labels: Vec<_> = app.query_all_by_role(Role::Label).filter(|node| frame.intersects(node.rect())).collect();
        let of = |text: &str| {
            let found = labels.iter().find(|node| node.value().is_some_and(|value| value.starts_with(text)));
            found.unwrap_or_else(|| panic!("{text} at {size:?}")).rect()
        };
        let areas = [of(&card), of("with changes"), of("as found"), of("target")];
        assert!(areas.iter().all(|area| frame.contains_rect(*area)), "{size:?}: {areas:?}");
        assert!(!areas[0].intersects(areas[2]) && !areas[0].intersects(areas[3]), "{size:?}: {areas:?}");
    }
}

#[test]
fn without_changes_nothing_speaks_of_them() {
    let app = app();
    assert!(!chart_says(&app).contains("With "), "{}", chart_says(&app));
    let frame = app.get_by_role(Role::GraphicsDocument).rect();
    let in_chart = app.query_all_by_role(Role::Label).filter(|node| frame.intersects(node.rect()));
    assert!(in_chart.filter_map(|node| node.value()).all(|value| !value.contains("with changes")));
}

#[test]
fn a_change_that_is_refused_draws_no_answer_with_changes() {
    let mut app = app();
    let reading = chart_says(&app);
    let filter = element(app.state().job(), ElementKind::Filter);
    run(&mut app, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: filter, fraction: 0.4 })).into());
    assert!(chart_says(&app).contains("With "));
    run(&mut app, Edit::RemoveElement(filter).into());
    assert!(app.query_all_by_label_contains("is gone").next().is_some(), "the reason stands at its row");
    assert!(!chart_says(&app).contains("With "), "{}", chart_says(&app));
    run(&mut app, Command::Undo.into());
    run(&mut app, Command::Undo.into());
    assert_eq!(chart_says(&app), reading);
}

#[test]
fn the_table_of_every_tap_has_the_answer_of_before_and_after() {
    let app = changed(WIDE, Theme::Light);
    for (index, tap) in app.state().answer().taps().iter().enumerate() {
        let point = after(&app).crossing(index).unwrap();
        let before = tap.reached().unwrap();
        let row = app.get_by_label_contains(&format!("tap {}: ", tap.name)).accesskit_node().label().unwrap();
        let found =
            format!("{} at {}", show::airflow(before.airflow(), UNITS), show::pressure(before.crossing.tesp, UNITS));
        let then =
            format!("with changes {} at {}", show::airflow(point.airflow, UNITS), show::pressure(point.tesp, UNITS));
        assert!(row.contains(&found) && row.contains(&then), "{found}, {then}: {row}");
        assert!(point.airflow > before.airflow(), "an easier path moves more air on every tap");
    }
}

#[test]
fn elements_say_what_is_changed_and_which_takes_most() {
    let app = changed(WIDE, Theme::Light);
    let of =
        |kind: ElementKind| app.get_by_label_contains(&format!("{}, ", kind.name())).accesskit_node().label().unwrap();
    assert!(
        of(ElementKind::SupplyDuct).contains("as found,") && of(ElementKind::SupplyDuct).contains("with changes"),
        "{}",
        of(ElementKind::SupplyDuct)
    );
    assert!(of(ElementKind::ReturnGrille).contains("with its neighbors"), "{}", of(ElementKind::ReturnGrille));
    let most = app.query_all_by_label_contains("more than any other").count();
    assert_eq!(most, 0, "nobody has said how the stretches are shared");
}

/// The return side takes 0.52 of 0.83 as found; with nine tenths of what is in it gone the supply duct takes more, once its share has been said.
#[test]
fn the_word_for_what_takes_most_goes_with_the_changes() {
    let mut app = app();
    let duct = element(app.state().job(), ElementKind::SupplyDuct);
    run(&mut app, Edit::Share(duct, Some(0.7)).into());
    let parts = [ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::Filter].map(|kind| (kind, 0.9));
    for (kind, fraction) in parts.into_iter().chain([(ElementKind::SupplyDuct, 0.01)]) {
        let element = element(app.state().job(), kind);
        run(&mut app, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction })).into());
    }
    let named = app.query_all_by_label_contains("more than any other");
    let named: Vec<String> = named.map(|node| node.accesskit_node().label().unwrap()).collect();
    assert!(named.len() == 1 && named[0].starts_with("Supply duct"), "{named:?}");
}

fn column_of(app: &App, kind: ElementKind) -> Pos2 {
    app.get_by_label_contains(&format!("{}, ", kind.name())).rect().center()
}

/// Presses the tray's card and moves to an element, without letting go.
fn carry(app: &mut App, declared: &Declaration, kind: ElementKind) -> Pos2 {
    let name = format!("Put on: {}", declared.name);
    app.get_by_label(&name).scroll_to_me();
    app.run_steps(4);
    let from = app.get_by_label(&name).rect().center();
    let to = column_of(app, kind);
    app.hover_at(from);
    app.run_steps(2);
    app.drag_at(from);
    app.run_steps(2);
    app.hover_at(from.lerp(to, 0.4));
    app.run_steps(2);
    app.hover_at(to);
    app.run_steps(3);
    to
}

#[test]
fn a_change_dragged_onto_an_element_is_previewed_and_then_put_on() {
    let mut app = app();
    let to = carry(&mut app, &LessByHand::DECLARATION, ElementKind::SupplyDuct);
    assert!(app.state().job().changes.is_empty(), "nothing is put on while the hand still holds it");
    let preview = app
        .query_all_by_role(Role::Label)
        .filter_map(|node| node.value())
        .find(|value| value.starts_with("as it would be: "));
    let preview = preview.expect("the chart shows what it would bring");
    app.drop_at(to);
    app.run_steps(4);
    let job = app.state().job();
    let duct = element(job, ElementKind::SupplyDuct);
    assert!(matches!(job.changes[..], [ref change] if change.kind.element() == Some(duct)), "{:?}", job.changes);
    let point = *after(&app).point().unwrap();
    assert!(preview.contains(&show::airflow(point.airflow, UNITS)), "the preview was true: {preview}");
    let still = app
        .query_all_by_role(Role::Label)
        .filter_map(|node| node.value())
        .any(|value| value.starts_with("as it would be"));
    assert!(!still, "the preview is over");
}

#[test]
fn a_change_let_go_over_what_cannot_take_it_changes_nothing() {
    let mut app = app();
    let to = carry(&mut app, &OtherDuct::DECLARATION, ElementKind::Registers);
    app.drop_at(to);
    app.run_steps(4);
    assert!(app.state().job().changes.is_empty());
    assert!(app.state().view().in_hand.is_none());
}

#[test]
fn a_change_picked_up_by_key_is_put_on_the_element_that_is_pressed() {
    let mut app = app();
    app.get_by_label("Put on: Reduce by %").click();
    app.run_steps(4);
    app.get_by_label_contains("Registers, ").click();
    app.run_steps(4);
    let job = app.state().job();
    let registers = element(job, ElementKind::Registers);
    assert!(matches!(job.changes[..], [ref change] if change.kind.element() == Some(registers)), "{:?}", job.changes);
    assert!(app.state().view().open_element.is_none(), "the element's card stays shut");
}

#[test]
fn a_share_and_an_exponent_are_typed_on_the_card_and_split_the_segment() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    for (name, typed) in [("Share of its stretch", "60"), ("Exponent of its drop", "1.1")] {
        app.get_by_role_and_label(Role::TextInput, name).focus();
        app.run_steps(3);
        app.get_by_role_and_label(Role::TextInput, name).type_text(typed);
        app.run_steps(3);
        app.key_press(Key::Enter);
        app.run_steps(3);
    }
    let filter = element(app.state().job(), ElementKind::Filter);
    let stored = app.state().job().path.element(filter).unwrap();
    assert_eq!((stored.share, stored.exponent), (Some(0.6), Some(1.1)));
    let running = app.state().answer().point().unwrap();
    let part = running.system.parts.iter().find(|part| part.is(filter)).expect("it is a part of its own now");
    let drop = part.drop_at(running.now.airflow);
    assert!((drop.in_wc() - 0.6 * 0.52).abs() < 1e-9, "{drop:?}");
    let said = format!("about {} by its share", show::pressure(drop, UNITS));
    assert!(app.query_all_by_label_contains(&said).next().is_some(), "{said}");
}

/// What was published in thin air says so beside its drop; emptied, it is standard air again.
#[test]
fn the_air_that_a_drop_was_published_in_is_typed_on_the_card() {
    let mut app = app();
    app.get_by_label_contains("Filter, ").click();
    app.run_steps(4);
    assert!(app.query_by_label("Published in air of").is_none(), "nothing is published yet");
    let filter = element(app.state().job(), ElementKind::Filter);
    let published = |app: &App| {
        let data = app.state().job().path.element(filter).unwrap().drop.clone().expect("data");
        data.published().map(Density::lb_ft3)
    };
    let typed = [("0.065", Some(0.065)), ("0.65", Some(0.065)), ("", None)];
    for (name, text, right) in [("Drop by data", "0.2", None)]
        .into_iter()
        .chain(typed.map(|(text, right)| ("Published in air of", text, right)))
    {
        let field = app.get_by_role_and_label(Role::TextInput, name);
        field.focus();
        app.run_steps(3);
        app.key_press_modifiers(Modifiers::COMMAND, Key::A);
        app.key_press(Key::Delete);
        app.run_steps(3);
        app.get_by_role_and_label(Role::TextInput, name).type_text(text);
        app.run_steps(3);
        app.key_press(Key::Enter);
        app.run_steps(3);
        assert_eq!(published(&app), right, "{name} {text}");
        if text == "0.65" {
            let refused = "A drop published in air of 0.6500 lb/ft³ cannot be; it lies between 0.03 and 0.1 lb/ft³, and 0.075 is usual";
            assert!(app.query_all_by_label_contains(refused).next().is_some(), "{:?}", window::texts(&app));
            app.key_press(Key::Escape);
            app.run_steps(3);
        }
    }
}

#[test]
fn a_changed_blower_and_another_tap_move_the_point_too() {
    let job = demo::heat_pump();
    let mut app = app_of(job);
    run(&mut app, Edit::AddChange(ChangeKind::BelowTable(BelowTable { factor: 0.9 })).into());
    let slower = after(&app).point().unwrap().airflow;
    assert!(slower < app.state().answer().point().unwrap().now.airflow);
    run(&mut app, Edit::AddChange(ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() })).into());
    assert!(headline(&app).contains("on tap 5"), "{}", headline(&app));
    run(&mut app, Edit::RemoveChange(ChangeId(1)).into());
    assert!(after(&app).point().unwrap().airflow > slower);
}

#[test]
fn before_and_after_make_pictures() {
    if pictures::cannot_be_taken() {
        return;
    }
    for (size, name) in [(WIDE, "wide"), ([1024.0, 700.0], "small")] {
        for theme in [Theme::Light, Theme::Dark] {
            for held in [false, true] {
                let job = demo::heat_pump();
                let edits = if held { Vec::new() } else { both(&job) };
                let mut app = app_in(job, Look { size, theme, pictured: true, ..Look::default() });
                for edit in edits {
                    run(&mut app, edit.into());
                }
                if held {
                    carry(&mut app, &SecondReturn::DECLARATION, ElementKind::ReturnDuct);
                }
                let what = if held { "held" } else { "put-on" };
                pictures::take(&mut app, &format!("after-{name}-{what}-{theme:?}"));
            }
        }
    }
}

/// The tap that runs in the answer, as found or with changes.
fn running(app: &App) -> String {
    let answer = app.state().answer();
    let system = answer.with_changes().map_or_else(|| &answer.point().unwrap().system, |after| &after.system);
    system.tap().unwrap().to_owned()
}

/// A press on tap 5 says what its row said; the readings stay those of tap 4.
#[test]
fn a_press_on_another_tap_is_a_change_and_moves_no_reading() {
    for by_key in [false, true] {
        let mut app = app();
        let before = app.state().job().clone();
        let row = *app.state().answer().point().unwrap().system.crossing(4).unwrap();
        if by_key {
            app.key_press_modifiers(eframe::egui::Modifiers::ALT, Key::ArrowUp);
        } else {
            app.get_by_label_contains("tap 5: ").click();
        }
        app.run_steps(3);
        let job = app.state().job();
        assert_eq!(job.sets, before.sets, "what was read stays as it was read");
        assert!(
            matches!(&job.changes[..], [change] if change.kind == ChangeKind::OtherTap(OtherTap { tap: "5".to_owned() }))
        );
        assert_eq!(running(&app), "5");
        let then = *after(&app).point().unwrap();
        assert!((then.airflow - row.airflow).abs().cfm() < 1e-6, "{then:?}, but the row said {row:?}");
        assert!((then.tesp - row.tesp).abs().in_wc() < 1e-9, "{then:?}, but the row said {row:?}");
        // Back to the tap that was read: the change is off, kept for its price and note.
        if by_key {
            app.key_press_modifiers(eframe::egui::Modifiers::ALT, Key::ArrowDown);
        } else {
            app.get_by_label_contains("tap 4: ").click();
        }
        app.run_steps(3);
        assert_eq!(running(&app), "4");
        assert_eq!(app.state().job().changes.len(), 1);
        run(&mut app, Command::Undo.into());
        run(&mut app, Command::Undo.into());
        assert_eq!(*app.state().job(), before, "each press is one step of undo");
    }
}

#[test]
fn a_press_on_a_curve_of_the_chart_runs_that_tap() {
    let mut app = app();
    let frame = app.get_by_role(Role::GraphicsDocument).rect();
    let before = app.state().job().sets.clone();
    assert!(app.query_by_label_contains("Curve of tap 2").is_some());
    // Across the chart until it reads the curve out.
    let mut at = frame.left_center();
    while frame.right() > at.x && app.state().job().changes.is_empty() {
        at.x += 6.0;
        app.hover_at(at);
        app.run_steps(2);
        let read = app
            .query_all_by_role(Role::Tooltip)
            .any(|node| node.accesskit_node().label().is_some_and(|text| text.starts_with("tap 2")));
        if read {
            app.drag_at(at);
            app.drop_at(at);
            app.run_steps(3);
        }
    }
    assert_eq!(running(&app), "2");
    assert_eq!(app.state().job().sets, before);
}

/// Before anything is read there is nothing that another tap could be asked, and no press goes by in silence.
#[test]
fn without_a_reading_no_tap_can_be_pressed_in_the_table() {
    let mut app = app();
    for side in [RETURN_PORT, SUPPLY_PORT] {
        run(&mut app, Edit::Reading(ReadAt::Port(side), Vec::new()).into());
    }
    let row = app.get_by_label_contains("tap 5: ");
    assert!(row.accesskit_node().is_disabled(), "nothing would come of it");
}

/// A share inside the band that bears no mark would read as a miss.
#[test]
fn a_tap_that_only_the_air_decides_bears_a_mark_that_the_legend_explains() {
    let mut app = app_of(demo::gas_furnace());
    run(&mut app, Edit::Number(JobNumber::Altitude, Some(5000.0)).into());
    let open = app.state().answer().taps().iter().find(|tap| tap.reached().unwrap().open_by_air().is_some());
    let name = format!("tap {}: ", open.expect("one of its taps is open").name);
    let row = app.get_by_label_contains(&name).accesskit_node().label().unwrap();
    assert!(row.contains("cannot be told in this air"), "{row}");
    assert!(app.query_all_by_label_contains("in or out of the band: cannot be told in this air").next().is_some());
    assert!(app.query_all_by_label_contains("?91 %").next().is_some(), "the share bears the mark");
}
