//! The path's curve under the hand, through the accessibility tree: what a person wishes for, and what the program answers.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

#[path = "support/pictures.rs"]
mod pictures;

use eframe::egui::{Key, Theme, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::edit::Edit;
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::verdicts::needs::Need;
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::{UnitSystem, show};
use window::{App, Look, WIDE, app, app_in, app_of};

const UNITS: UnitSystem = UnitSystem::InchPound;

fn grip(app: &App) -> egui_kittest::Node<'_> {
    app.get_by_label_contains("How easy the path must become")
}

fn percent_wished(app: &App) -> String {
    grip(app).accesskit_node().label().unwrap_or_default()
}

fn pull(app: &mut App, down: f32) {
    let from = grip(app).rect().center();
    app.hover_at(from);
    app.run_steps(1);
    app.drag_at(from);
    app.run_steps(1);
    for share in [0.4, 0.8, 1.0] {
        app.hover_at(from + vec2(0.0, down * share));
        app.run_steps(1);
    }
    app.drop_at(from + vec2(0.0, down));
    app.run_steps(4);
}

#[test]
fn pulling_the_curve_down_says_what_must_come_out_and_leaves_the_job_alone() {
    let mut app = app();
    let before = app.state().job().clone();
    assert!(app.query_by_label_contains("If the path were this easy").is_none());
    pull(&mut app, 60.0);
    let said = app.get_by_label_contains("If the path were this easy").accesskit_node().value().unwrap_or_default();
    assert!(said.contains("less drop at") && said.contains("in proportion") && said.contains("assumed"), "{said}");
    assert_eq!(*app.state().job(), before, "a wish is no edit");
    app.key_press(Key::Escape);
    app.run_steps(3);
    assert!(app.query_by_label_contains("If the path were this easy").is_none());
}

#[test]
fn pulling_it_up_is_a_harder_path_with_nothing_to_lose() {
    let mut app = app();
    pull(&mut app, -30.0);
    let said = app.get_by_label_contains("If the path were this hard").accesskit_node().value().unwrap_or_default();
    assert!(!said.contains("less drop at") && said.contains('−'), "{said}");
}

#[test]
fn arrow_keys_move_it_by_one_percent() {
    let mut app = app();
    grip(&app).focus();
    app.run_steps(2);
    for _ in 0..7 {
        app.key_press(Key::ArrowDown);
        app.run_steps(1);
    }
    assert!(percent_wished(&app).contains("93 % of its drop"), "{}", percent_wished(&app));
    app.key_press(Key::Delete);
    app.run_steps(2);
    assert!(percent_wished(&app).contains("100 %"), "{}", percent_wished(&app));
}

#[test]
fn the_button_wishes_for_just_what_the_tap_in_use_needs() {
    let job = demo::heat_pump();
    let answer = Answer::of(&job);
    let Some(Need::Ease(ease)) = answer.tap_in_use().unwrap().need else {
        panic!("the demo's tap in use needs an easier path");
    };
    let mut app = app_of(job);
    pull(&mut app, 20.0);
    app.get_by_label_contains("To the target on tap").click();
    app.run_steps(4);
    let said = app.get_by_label_contains("If the path were this easy").accesskit_node().value().unwrap_or_default();
    let lost = format!("It needs {} less drop", show::pressure(ease.remove, UNITS));
    assert!(said.contains(&lost), "{said}, not {lost}");
    app.get_by_label("Let go").click();
    app.run_steps(3);
    assert!(app.query_by_label_contains("If the path were").is_none());
}

#[test]
fn with_changes_the_changed_path_is_wished_easier() {
    let mut app = app();
    let duct = app.state().job().path.elements[1].id;
    let ctx = app.ctx.clone();
    app.state_mut()
        .run(Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.4 })).into(), &ctx);
    app.run_steps(4);
    let after = app.state().answer().with_changes().unwrap().system.point().unwrap().airflow;
    grip(&app).focus();
    app.run_steps(1);
    app.key_press(Key::ArrowDown);
    app.run_steps(3);
    let said = app.get_by_label_contains("If the path were this easy").accesskit_node().value().unwrap_or_default();
    let told = said.split(": ").nth(1).unwrap_or_default();
    let airflow: f64 = told.split(' ').next().unwrap().replace(',', "").parse().unwrap();
    assert!(airflow >= after.cfm() - 5.0, "{said}: starts from {}", after.cfm());
}

/// Head and table show the wished path while it is under the hand, as they show the point's that is dragged, and what they showed before once it lets go.
#[test]
fn head_and_table_follow_the_wish() {
    for change in [None, Some(0.3)] {
        let mut app = app();
        if let Some(fraction) = change {
            let element = app.state().job().path.elements[1].id;
            window::run(&mut app, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction })).into());
        }
        let before = window::texts(&app);
        let job = app.state().job().clone();
        let from = grip(&app).rect().center();
        app.hover_at(from);
        app.run_steps(1);
        app.drag_at(from);
        app.run_steps(1);
        app.hover_at(from + vec2(0.0, 60.0));
        app.run_steps(4);
        let during = window::texts(&app);
        let said = during.iter().find(|text| text.contains(", assumed. It needs ")).expect("the note");
        let wished = said.split(": ").nth(1).unwrap().split(' ').next().unwrap().to_owned();
        let head = during
            .iter()
            .find(|text| text.starts_with(&format!("If the path were this easy: {wished} cfm on tap 4 (")));
        assert!(head.is_some_and(|head| head.contains("as found")), "the head names it: {during:?}");
        let row = during.iter().find(|text| text.starts_with("tap 4: ")).unwrap();
        assert!(row.contains(&format!("{wished} cfm")), "{wished}: {row}");
        let told = during.iter().filter(|text| text.contains(&wished)).count();
        assert!(told >= 3, "head, table and note say {wished}: {told}");
        assert_eq!(*app.state().job(), job, "a wish is no edit");
        app.key_press(Key::Escape);
        app.run_steps(2);
        app.drop_at(from + vec2(0.0, 60.0));
        app.event(eframe::egui::Event::PointerGone);
        app.run_steps(4);
        assert_eq!(window::texts(&app), before);
    }
}

#[test]
fn another_job_and_a_fitted_chart_let_the_wish_go() {
    let mut app = app();
    for command in [Command::FitChart, Command::DemoFurnace] {
        pull(&mut app, 40.0);
        assert!(app.query_by_label_contains("If the path were this easy").is_some());
        let ctx = app.ctx.clone();
        app.state_mut().run(Action::Command(command), &ctx);
        app.run_steps(4);
        assert!(app.query_by_label_contains("If the path were this easy").is_none(), "{command:?}");
    }
}

#[test]
fn a_wish_makes_pictures() {
    if pictures::cannot_be_taken() {
        return;
    }
    for (size, scale, name) in [(WIDE, 1.0, "wide"), ([1024.0, 700.0], 1.0, "small"), ([720.0, 450.0], 2.0, "double")] {
        for theme in [Theme::Light, Theme::Dark] {
            let mut app = app_in(demo::heat_pump(), Look { size, scale, theme, pictured: true });
            pull(&mut app, 50.0);
            pictures::take(&mut app, &format!("wish-{name}-{theme:?}"));
            let note = app.get_by_label_contains("If the path were this easy").rect();
            let window = app.ctx.content_rect();
            assert!(window.contains_rect(note), "{name} {theme:?}: the note is cut off");
        }
    }
}
