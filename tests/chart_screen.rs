//! The chart in the whole window, through the accessibility tree.

#[path = "support/many_sets.rs"]
mod many_sets;
#[path = "support/nine_changes.rs"]
mod nine_changes;

use eframe::egui::accesskit::Role;
use eframe::egui::{self, Key, Pos2, Rect, Theme, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::{self, Edit};
use tapcross::files::demo;
use tapcross::model::facts::air_path::{ElementKind, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::TapData;
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::ReadAt;
use tapcross::ui::chart::scene::{self, Drawn, Scene};
use tapcross::ui::view::Screen;
use tapcross::ui::view::action::Action;
use tapcross::units::{Pressure, UnitSystem, show};

type Window<'a> = Harness<'a, TapcrossApp>;

fn window<'a>(job: Job, size: [f32; 2], theme: Theme) -> Window<'a> {
    let mut window = Harness::builder()
        .with_size(size)
        .with_theme(theme)
        .with_max_steps(12)
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
    window.state_mut().show_job(job);
    window.run_steps(6);
    window
}

fn job_with(job: Job, edits: Vec<Edit>) -> Job {
    let mut job = job;
    for edit in edits {
        edit::apply(&mut job, edit).unwrap();
    }
    job
}

fn library_job(name: &str) -> Job {
    let (library, _) = tapcross::files::library::Library::shipped();
    let entry = library.entries.iter().find(|entry| entry.table.name.contains(name)).unwrap();
    job_with(
        Job::default(),
        vec![
            Edit::Machine(Box::new(entry.table.clone())),
            Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-0.30)]),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![Pressure::from_in_wc(0.30)]),
        ],
    )
}

fn read(job: Job, before: f64, after: f64) -> Job {
    job_with(
        job,
        vec![
            Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(before)]),
            Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![Pressure::from_in_wc(after)]),
        ],
    )
}

fn unread(job: Job) -> Job {
    job_with(
        job,
        vec![Edit::Reading(ReadAt::Port(RETURN_PORT), vec![]), Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![])],
    )
}

fn graph<'a>(window: &'a Window<'_>) -> egui_kittest::Node<'a> {
    window.get_by_role(Role::GraphicsDocument)
}

fn point<'a>(window: &'a Window<'_>) -> egui_kittest::Node<'a> {
    window.get_by(|node| {
        node.role() == Role::Slider && node.label().is_some_and(|label| label.contains("Measured point"))
    })
}

fn point_name(window: &Window<'_>) -> String {
    point(window).accesskit_node().label().unwrap_or_default()
}

fn drag(window: &mut Window<'_>, from: Pos2, to: Pos2) {
    window.hover_at(from);
    window.run_steps(1);
    window.drag_at(from);
    window.run_steps(1);
    for share in [0.3, 0.7, 1.0] {
        window.hover_at(from.lerp(to, share));
        window.run_steps(1);
    }
    window.drop_at(to);
    window.run_steps(4);
}

fn readings(window: &Window<'_>) -> (f64, f64) {
    let job = window.state().job();
    (job.return_reading().unwrap().in_wc(), job.supply_reading().unwrap().in_wc())
}

fn tesp(window: &Window<'_>) -> f64 {
    window.state().answer().point().unwrap().now.tesp.in_wc()
}

fn zoom_in(window: &mut Window<'_>) {
    let middle = graph(window).rect().center();
    window.hover_at(middle);
    window.run_steps(1);
    window.event(egui::Event::Zoom(1.6));
    window.run_steps(3);
}

#[test]
fn dragging_the_point_down_its_curve_sets_both_readings() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let (before, after) = readings(&window);
    let from = point(&window).rect().center();
    drag(&mut window, from, from + vec2(70.0, 110.0));
    let (dragged_before, dragged_after) = readings(&window);
    let static_now = tesp(&window);
    assert!(static_now < 0.83 - 0.1, "the static falls down the curve: {static_now}");
    assert!((dragged_after - dragged_before - static_now).abs() < 1e-9, "the readings give the static");
    // Each is rounded to hundredths.
    let factor = before / after;
    let rounding = 0.005 * factor.abs() * (1.0 / dragged_before.abs() + 1.0 / dragged_after.abs());
    assert!(
        (dragged_before / dragged_after - factor).abs() <= rounding,
        "one factor: {dragged_before} and {dragged_after}"
    );
    for look in window.state().job().set().readings.iter().flat_map(|reading| &reading.looks) {
        let hundredths = look.in_wc() * 100.0;
        assert!((hundredths - hundredths.round()).abs() < 1e-6, "{hundredths}");
    }
    let there = point(&window).rect().center();
    assert!(
        there.y > from.y + 40.0 && there.x > from.x + 10.0,
        "the point stands where it was dropped: {from} to {there}"
    );
    assert!(window.state().is_changed());
}

#[test]
fn the_label_follows_the_hand_and_the_job_does_not_until_it_lets_go() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let from = point(&window).rect().center();
    let name = point_name(&window);
    window.hover_at(from);
    window.run_steps(1);
    window.drag_at(from);
    window.run_steps(1);
    window.hover_at(from + vec2(40.0, 60.0));
    window.run_steps(2);
    let dragged = window.state().view().chart.dragged.expect("held");
    assert!(dragged.tesp.in_wc() < 0.80);
    assert_ne!(point_name(&window), name);
    assert!((tesp(&window) - 0.83).abs() < 1e-9, "the job waits");
    window.key_press(Key::Escape);
    window.run_steps(2);
    window.drop_at(from + vec2(40.0, 60.0));
    window.run_steps(3);
    assert!(window.state().view().chart.dragged.is_none());
    assert!((tesp(&window) - 0.83).abs() < 1e-9, "Escape lets go without a change");
}

/// Whatever stands in the window as words or in fields.
fn all_texts(window: &Window<'_>) -> Vec<String> {
    let nodes = window.root().children_recursive();
    nodes.flat_map(|node| [node.accesskit_node().label(), node.value()]).flatten().collect()
}

/// Head, fields and table follow the hand, and are as they were when it lets go without a change; the axes stay.
#[test]
fn numbers_follow_the_hand_while_the_point_is_dragged() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let before = all_texts(&window);
    assert!(before.iter().any(|text| text == "−0.52"), "the field before the blower");
    let from = point(&window).rect().center();
    window.hover_at(from);
    window.run_steps(1);
    window.drag_at(from);
    window.run_steps(1);
    let fitted = window.state().view().chart.fitted;
    window.hover_at(from + vec2(60.0, 90.0));
    window.run_steps(3);
    let dragged = window.state().view().chart.dragged.expect("held");
    let airflow = tapcross::units::show::airflow_bare(dragged.airflow, UnitSystem::InchPound);
    let during = all_texts(&window);
    assert!(!during.iter().any(|text| text == "−0.52"), "the field follows");
    let told = during.iter().filter(|text| text.contains(&airflow) && !text.contains("Measured point"));
    assert!(told.count() >= 2, "head and table say {airflow}");
    assert!(!before.iter().any(|text| text.contains(&airflow)), "{airflow} is new");
    assert_eq!(window.state().view().chart.fitted, fitted, "the axes stay");
    window.key_press(Key::Escape);
    window.run_steps(3);
    window.drop_at(from + vec2(60.0, 90.0));
    window.run_steps(4);
    assert_eq!(all_texts(&window), before);
}

/// A hole in the door panel's static moves the axes; held, they stay as they are.
#[test]
fn axes_stay_where_they_are_held() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let fitted = window.state().view().chart.fitted;
    let high = |window: &mut Window<'_>, before: f64| {
        window.event(egui::Event::PointerGone);
        window.state_mut().run(
            Action::Edit(Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(before)])),
            &egui::Context::default(),
        );
        window.run_steps(3);
    };
    window.key_press_modifiers(egui::Modifiers::COMMAND, Key::H);
    window.run_steps(3);
    high(&mut window, -1.4);
    assert_eq!(window.state().view().chart.fitted, fitted);
    window.key_press_modifiers(egui::Modifiers::COMMAND, Key::H);
    window.run_steps(3);
    assert_ne!(window.state().view().chart.fitted, fitted);
}

#[test]
fn the_total_is_dragged_as_one_number() {
    let mut job = unread(demo::heat_pump());
    edit::apply(&mut job, Edit::Reading(ReadAt::Total, vec![Pressure::from_in_wc(0.83)])).unwrap();
    let mut window = window(job, [1440.0, 900.0], Theme::Light);
    let from = point(&window).rect().center();
    drag(&mut window, from, from + vec2(-30.0, -50.0));
    let total = window.state().job().set().at(ReadAt::Total).unwrap().average().unwrap().in_wc();
    assert!(total > 0.86 && (tesp(&window) - total).abs() < 1e-9, "{total}");
}

#[test]
fn the_axes_do_not_move_while_the_point_is_dragged() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    zoom_in(&mut window);
    let zoomed = window.state().view().chart.zoomed;
    assert!(zoomed.is_some(), "the wheel with Ctrl zooms");
    let from = point(&window).rect().center();
    drag(&mut window, from, from + vec2(20.0, 30.0));
    assert_eq!(window.state().view().chart.zoomed, zoomed, "a drag of the point pans nothing");
    let free = graph(&window).rect().left_bottom() + vec2(60.0, -80.0);
    drag(&mut window, free, free + vec2(50.0, -40.0));
    let panned = window.state().view().chart.zoomed;
    assert!(panned.is_some() && panned != zoomed, "a drag of the paper does");
}

#[test]
fn a_key_and_a_double_click_fit_the_chart_again() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    zoom_in(&mut window);
    window.key_press_modifiers(egui::Modifiers::COMMAND, Key::F);
    window.run_steps(3);
    assert_eq!(window.state().view().chart.zoomed, None, "Ctrl+F");
    zoom_in(&mut window);
    assert!(window.state().view().chart.zoomed.is_some());
    let free = graph(&window).rect().left_top() + vec2(40.0, 60.0);
    window.hover_at(free);
    window.run_steps(1);
    // All in one frame, for the frames of tests are too far apart for a double click.
    for pressed in [true, false, true, false] {
        let (pos, button, modifiers) = (free, egui::PointerButton::Primary, egui::Modifiers::NONE);
        window.input_mut().events.push(egui::Event::PointerButton { pos, button, pressed, modifiers });
    }
    window.run_steps(3);
    assert_eq!(window.state().view().chart.zoomed, None, "a double click");
}

#[test]
fn a_drag_where_the_chart_is_fitted_leaves_it_fitted() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let free = graph(&window).rect().left_bottom() + vec2(80.0, -60.0);
    drag(&mut window, free, free + vec2(90.0, -30.0));
    assert_eq!(window.state().view().chart.zoomed, None);
    assert!(!window.state().is_changed());
}

#[test]
fn arrow_keys_and_screen_readers_move_the_static_by_one_step() {
    for (units, step) in [(UnitSystem::InchPound, 0.01), (UnitSystem::SiLitres, 1.0), (UnitSystem::SiCubicMetres, 1.0)]
    {
        let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
        let ctx = window.ctx.clone();
        window.state_mut().run(Action::Units(units), &ctx);
        window.run_steps(3);
        let now = |window: &Window<'_>| units.pressure_number(window.state().answer().point().unwrap().now.tesp);
        let start = (now(&window) / step).round() * step;
        point(&window).focus();
        window.run_steps(2);
        let expect = |window: &mut Window<'_>, steps: f64, what: &str| {
            window.run_steps(3);
            let there = now(window);
            assert!((there - (start + steps * step)).abs() < 1e-6, "{what}: {there}, from {start}");
        };
        window.key_press(Key::ArrowUp);
        expect(&mut window, 1.0, "arrow up");
        for _ in 0..3 {
            window.key_press(Key::ArrowDown);
            window.run_steps(1);
        }
        expect(&mut window, -2.0, "three times arrow down");
        point(&window).increment_accesskit();
        expect(&mut window, -1.0, "increment");
        point(&window).decrement_accesskit();
        expect(&mut window, -2.0, "decrement");
    }
}

#[test]
fn screen_readers_hear_the_point_and_the_chart() {
    let window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    assert_eq!(point_name(&window), "Measured point: 1,200 cfm at 0.83 in. w.c.");
    assert!((point(&window).accesskit_node().numeric_value().unwrap() - 0.83).abs() < 1e-9);
    let chart = graph(&window).accesskit_node().label().unwrap();
    for fact in [
        "tap 1, tap 2, tap 3, tap 4, tap 5",
        "1,200 cfm at 0.83 in. w.c. on tap 4, published",
        "Target 1,385 (1,400 at standard air) cfm",
        "Rated maximum 0.70 in. w.c.",
    ] {
        assert!(chart.contains(fact), "{fact}: {chart}");
    }
    // Every crossing, as the table beside the chart has it.
    let answer = window.state().answer();
    for (index, tap) in answer.taps().iter().enumerate() {
        let crossing = tap.reached().unwrap().crossing;
        let units = UnitSystem::InchPound;
        let (airflow, tesp) = (show::airflow(crossing.airflow, units), show::pressure(crossing.tesp, units));
        let plate = if crossing.tesp.in_wc() > 0.70 { ", over the rated maximum" } else { "" };
        let said = format!("tap {} {airflow} at {tesp}{plate}", tap.name);
        assert!(chart.contains(&said), "tap {index}: {said}: {chart}");
    }
    assert_eq!(chart.matches("over the rated maximum").count(), 3, "taps 3, 4 and 5: {chart}");
}

/// Return 0.52 and supply 0.31 of 0.83 are 63 and 37 %; what was read of them together has its share together.
#[test]
fn the_air_path_tells_screen_readers_each_share() {
    let window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let said = all_texts(&window);
    for (element, share) in [("Return grille", 63), ("Filter", 63), ("Supply duct", 37), ("Registers", 37)] {
        let told = said.iter().find(|text| text.starts_with(&format!("{element}, "))).unwrap();
        assert!(told.contains(&format!("{share} % of the external drop together")), "{told}");
    }
}

/// Screen readers say how far a slider goes; a value outside would be a lie about either.
#[test]
fn every_slider_says_its_range_and_stands_within_it() {
    let mut job = demo::heat_pump();
    let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
    let change = ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.3 });
    edit::apply(&mut job, Edit::AddChange(change)).unwrap();
    let mut window = window(job, [1440.0, 900.0], Theme::Light);
    window.query_all_by_label_contains("Edit: ").next().expect("the change's row").click();
    window.run_steps(4);
    let sliders: Vec<_> = window.query_all_by_role(Role::Slider).collect();
    assert_eq!(sliders.len(), 3, "the point, the wish and the change's own");
    for slider in sliders {
        let node = slider.accesskit_node();
        let name = node.label().unwrap_or_default();
        let range = (node.min_numeric_value(), node.numeric_value(), node.max_numeric_value());
        let (Some(low), Some(value), Some(high)) = range else { panic!("{name}: {range:?}") };
        assert!(low <= value && value <= high && low < high, "{name}: {range:?}");
        if name.starts_with("How easy") {
            assert!((low - 10.0).abs() < 1e-9 && (high - 200.0).abs() < 1e-9, "{range:?}");
        }
    }
}

/// Who cannot hover hears why a change cannot be put on.
#[test]
fn a_change_that_cannot_be_put_on_says_why_without_hovering() {
    let window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let cards = window.query_all_by_label_contains("Put on: ");
    let disabled: Vec<_> = cards.filter(|card| card.accesskit_node().is_disabled()).collect();
    assert!(!disabled.is_empty(), "some change cannot be put on the demo");
    for card in disabled {
        let why = card.accesskit_node().description().unwrap_or_default();
        assert!(why.starts_with("Not here: "), "{:?}: {why}", card.accesskit_node().label());
    }
}

#[test]
fn a_legend_of_the_marks_stands_beside_the_chart_on_request() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let marks = |window: &Window<'_>| -> Vec<(String, Rect)> {
        let nodes = window.query_all_by_role(Role::ListItem);
        nodes.map(|node| (node.accesskit_node().label().unwrap_or_default(), node.rect())).collect()
    };
    assert!(marks(&window).is_empty());
    let wide = graph(&window).rect();
    window.key_press_modifiers(egui::Modifiers::COMMAND, Key::M);
    window.run_steps(4);
    let shown = marks(&window);
    for mark in
        ["measured point", "another tap", "published", "extrapolated", "as found", "±", "target", "rated maximum"]
    {
        assert!(shown.iter().any(|(name, _)| name.contains(mark)), "{mark}: {shown:?}");
    }
    assert!(shown.iter().all(|(name, _)| !name.contains("with changes") && !name.contains("not allowed")), "{shown:?}");
    let plot = graph(&window).rect();
    assert!(plot.width() < wide.width() - 100.0, "{plot:?} {wide:?}");
    for (name, area) in &shown {
        assert!(area.left() >= plot.right() && area.right() <= wide.right() + 24.0, "{name} at {area:?}, {plot:?}");
    }
    window.key_press_modifiers(egui::Modifiers::COMMAND, Key::M);
    window.run_steps(4);
    assert!(marks(&window).is_empty());
}

/// What the mouse rests on is said once.
#[test]
fn the_marks_of_the_table_are_told_once_under_the_pointer() {
    let mut window = window(demo::heat_pump(), [1024.0, 700.0], Theme::Light);
    let told = |window: &Window<'_>| all_texts(window).iter().filter(|text| text.contains("± is 95")).count();
    let before = told(&window);
    let place = window.query_all_by_label_contains("± is 95").next().unwrap().rect().center();
    window.hover_at(place);
    window.run_steps(20);
    std::thread::sleep(std::time::Duration::from_millis(20));
    window.run_steps(60);
    assert_eq!(told(&window), before + 1);
}

/// Another job stands on the chart beside this one, in figures and in words, and changes nothing of it; what cannot stand there is said.
#[test]
fn another_job_stands_beside_this_one_on_the_chart() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, job: &Job| {
        let path = folder.path().join(name);
        tapcross::files::job_file::save(&path, job).unwrap();
        path
    };
    let other = Job { title: "The house next door".to_owned(), ..demo::gas_furnace() };
    let (there, unread) = (file("other.ron", &other), file("unread.ron", &unread(other.clone())));
    let show = |window: &mut Window<'_>, path: &std::path::Path| {
        let ctx = window.ctx.clone();
        window.state_mut().run(Action::ShowBeside(path.to_path_buf()), &ctx);
        window.run_steps(6);
    };
    let (job, answer) = (window.state().job().clone(), window.state().answer().clone());
    show(&mut window, &there);
    let now = tapcross::model::answer::Answer::of(&other).point().unwrap().now;
    let (airflow, tesp) = (show::airflow_bare(now.airflow, UnitSystem::InchPound), now.tesp);
    let label = format!("The house next door: {airflow} · {}", show::pressure_bare(tesp, UnitSystem::InchPound));
    let at = window.get_by_label(&label).rect();
    // Its point, by the axes, is where its name stands.
    let place = scene::Plane::of(&Screen::of(
        &other,
        &answer,
        UnitSystem::InchPound,
        &tapcross::files::library::Library::default(),
    ))
    .place(now.airflow, now.tesp);
    let point = transform(&window).position_from_point(&place);
    assert!(at.expand(120.0).contains(point), "{at} is not near {point}");
    let spoken = graph(&window).accesskit_node().label().unwrap_or_default();
    let said = format!("Another job, The house next door as found: {airflow} cfm at 0.70 in. w.c. on tap 4");
    assert!(spoken.contains(&said), "{spoken}");
    assert_eq!((window.state().job(), window.state().answer()), (&job, &answer));
    // A job without a point stands nowhere, and the one that is there stays.
    show(&mut window, &unread);
    assert!(window.query_by_label_contains("The house next door has no point to show on the chart").is_some());
    show(&mut window, &folder.path().join("nowhere.ron"));
    assert!(window.query_by_label(&label).is_some());
    let ctx = window.ctx.clone();
    window.state_mut().run(tapcross::ui::view::action::Command::ShowAlone.into(), &ctx);
    window.run_steps(6);
    assert!(window.query_by_label(&label).is_none());
}

/// From what the axes count to the screen.
fn transform(window: &Window<'_>) -> egui_plot::PlotTransform {
    let fitted = window.state().view().chart.fitted.expect("a fitted chart");
    let bounds = egui_plot::PlotBounds::from_min_max([0.0, 0.0], fitted);
    egui_plot::PlotTransform::new(graph(window).rect(), bounds, egui::Vec2b::FALSE)
}

/// Every drawn curve on the screen, sampled as the chart samples it.
fn drawn_lines(window: &Window<'_>) -> Vec<(String, Vec<Pos2>)> {
    let app = window.state();
    let library = tapcross::files::library::Library::default();
    let screen = Screen::of(app.job(), app.answer(), UnitSystem::InchPound, &library);
    let scene = Scene::of(&screen);
    let [x, _] = app.view().chart.fitted.expect("a fitted chart");
    let transform = transform(window);
    let at = |place: &egui_plot::PlotPoint| transform.position_from_point(place);
    let mut lines: Vec<(String, Vec<Pos2>)> = Vec::new();
    for tap in &scene.taps {
        if let Drawn::Curve { samples, .. } = &tap.drawn {
            lines.push((tap.name.clone(), samples.iter().map(|sample| at(&sample.place)).collect()));
        }
    }
    let systems = app.answer().point().map(|running| &running.system).into_iter();
    for system in systems.chain(app.answer().with_changes().map(|after| &after.system)) {
        let curve = tapcross::model::curves::path(&system.load, UnitSystem::InchPound.airflow_of(x));
        lines.push(("path".to_owned(), scene::path(&scene.plane, &curve).iter().map(at).collect()));
    }
    for (set, told) in app.answer().visit.iter().flat_map(|visit| &visit.sets).enumerate() {
        let is_drawn = set == 0 || set + 1 == app.job().judged;
        if let (true, Ok(point)) = (is_drawn && set != app.job().judged, &told.point) {
            let curve = tapcross::model::curves::path(&point.load, UnitSystem::InchPound.airflow_of(x));
            lines
                .push((format!("path of set {}", set + 1), scene::path(&scene.plane, &curve).iter().map(at).collect()));
        }
    }
    lines
}

fn judged(job: Job, set: usize) -> Job {
    job_with(job, vec![Edit::JudgeSet(set)])
}

/// Every set's number can be read, whichever is shown: no label lies over another one, nor over a point.
#[test]
fn no_number_of_a_reading_is_covered() {
    let mut seen = 0;
    for set in [0, 1, 2, 6, 11, 19] {
        for size in [[1440.0, 900.0], [1024.0, 700.0]] {
            let window = window(judged(many_sets::job(), set), size, Theme::Light);
            let areas = label_areas(&window);
            let numbers = areas.iter().filter(|(label, _)| label.starts_with("Readings "));
            let shown = point(&window).rect().center();
            for (label, area) in numbers {
                seen += 1;
                assert!(area.distance_to_pos(shown) > 6.0, "{label} on the point shown, {} at {size:?}", set + 1);
                let over = areas.iter().find(|(other, there)| other != label && there.intersects(*area));
                assert!(over.is_none(), "{label} on {over:?}, set {} at {size:?}", set + 1);
            }
            let told: String = areas.iter().map(|(label, _)| label.as_str()).collect();
            assert!(set == 0 || told.contains("1 As found"), "the first has its number: {told}");
        }
    }
    assert!(seen >= 12, "{seen}");
}

/// What a path is called stands where the eye is: at its operating point.
#[test]
fn paths_are_named_near_where_they_run() {
    for job in [demo::heat_pump(), demo::gas_furnace(), nine_changes::job()] {
        for size in [[1440.0, 900.0], [1024.0, 700.0]] {
            let window = window(job.clone(), size, Theme::Light);
            let areas = label_areas(&window);
            let of = |name: &str| areas.iter().find(|(label, _)| label == name).map(|(_, area)| *area);
            let found = of("as found").unwrap_or_else(|| panic!("as found at {size:?}"));
            let away = found.distance_to_pos(point(&window).rect().center());
            assert!(away < NEAR, "as found is {away} away at {size:?}");
            let app = window.state();
            if let Some(then) = app.answer().with_changes().and_then(|after| after.system.point().copied()) {
                let units = UnitSystem::InchPound;
                let place =
                    egui_plot::PlotPoint::new(units.airflow_number(then.airflow), units.pressure_number(then.tesp));
                let at = transform(&window).position_from_point(&place);
                let changed = of("with changes").unwrap_or_else(|| panic!("with changes at {size:?}"));
                let away = changed.distance_to_pos(at);
                assert!(away < NEAR, "with changes is {away} away at {size:?}");
            }
        }
    }
}

/// Farthest that the name of a path stands from its operating point: past other labels and taps.
const NEAR: f32 = 130.0;

/// The legend yields to the chart, which keeps most of its part's width, and every mark that is in sight is whole.
#[test]
fn the_legend_leaves_the_chart_its_room() {
    let sizes = [[1440.0, 900.0], [1029.0, 643.0], [1024.0, 768.0], [683.0, 512.0], [410.0, 307.0], [768.0, 432.0]];
    for size in sizes {
        for job in [many_sets::job(), nine_changes::job()] {
            let mut window = window(job, size, Theme::Light);
            let bare = graph(&window).rect();
            window.key_press_modifiers(egui::Modifiers::COMMAND, Key::M);
            window.run_steps(4);
            let plot = graph(&window).rect();
            assert!(plot.width() >= bare.width() * 0.6, "{plot:?} of {bare:?} at {size:?}");
            assert!(plot.height() >= bare.height() * 0.6, "{plot:?} of {bare:?} at {size:?}");
            let screen = Rect::from_min_size(Pos2::ZERO, size.into());
            let marks = window.query_all_by_role(Role::ListItem).map(|node| node.rect());
            let whole = marks.filter(|mark| screen.contains_rect(*mark) && !plot.intersects(*mark)).count();
            assert!(whole > 0, "no mark in sight at {size:?}");
        }
    }
}

/// A curve through a label is taken for a part of it.
#[test]
fn no_label_lies_on_a_curve() {
    let with_changes = |job: Job| {
        let duct = job.path.first(ElementKind::SupplyDuct).unwrap().id;
        job_with(job, vec![Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.6 }))])
    };
    let jobs = [
        demo::heat_pump(),
        with_changes(demo::heat_pump()),
        demo::gas_furnace(),
        library_job("AH-60V"),
        library_job("AH-48T"),
        nine_changes::job(),
        many_sets::job(),
        judged(many_sets::job(), 1),
    ];
    let mut bad = Vec::new();
    for job in jobs {
        for size in [[1440.0, 900.0], [1024.0, 700.0], [1280.0, 720.0]] {
            let window = window(job.clone(), size, Theme::Light);
            for (label, area) in label_areas(&window) {
                for (line, points) in drawn_lines(&window) {
                    let seen = area.shrink(1.0).intersect(graph(&window).rect());
                    let crosses = points.windows(2).any(|ends| seen.intersects_segment(ends));
                    if crosses {
                        bad.push(format!("{label} on {line}, {} at {size:?}", job.machine.as_ref().unwrap().name));
                    }
                }
            }
        }
    }
    assert!(bad.is_empty(), "{} labels:\n{}", bad.len(), bad.join("\n"));
}

/// Whether a stretch of a line touches an area.
trait Touches {
    fn intersects_segment(&self, ends: &[Pos2]) -> bool;
}

impl Touches for Rect {
    fn intersects_segment(&self, ends: &[Pos2]) -> bool {
        let [from, to] = ends else { return false };
        (0..=100_u8).any(|step| self.contains(from.lerp(*to, f32::from(step) / 100.0)))
    }
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let rows: [(Job, &str); 3] = [
        (Job::default(), "Choose a blower"),
        (read(demo::heat_pump(), -0.9, 0.6), "read 1.50: past the end of tap 4, below 1,140 cfm"),
        (unread(demo::heat_pump()), "Target 1,385 (1,400 at standard air) cfm"),
    ];
    for (job, said) in rows {
        let window = window(job, [1440.0, 900.0], Theme::Light);
        let chart = graph(&window).accesskit_node().label().unwrap();
        assert!(chart.contains(said), "{said}: {chart}");
        assert!(window.query_by_role(Role::Slider).is_none(), "no point to drag: {said}");
        assert!(!chart.contains("Measured point"), "{chart}");
    }
}

/// True for what the chart writes, as against the panels beside it.
fn of_chart(label: &str) -> bool {
    let starts = [
        "Curve of ",
        "target ",
        "read ",
        "as found",
        "with changes",
        "over the rated maximum",
        "rated maximum",
        "Readings ",
        "Filter ",
        "Set ",
    ];
    let is_card = label.starts_with("with changes: ");
    (starts.iter().any(|start| label.starts_with(start)) && !is_card)
        || (label.contains(" · ") && label.chars().all(|letter| letter.is_ascii_digit() || " ·,.".contains(letter)))
}

/// The plot with the line over it, where the target's label stands if the curves leave it no place among them.
fn with_room_over(frame: Rect) -> Rect {
    frame.with_min_y(frame.top() - 20.0)
}

/// Areas of the chart's labels, by what they say.
fn label_areas(window: &Window<'_>) -> Vec<(String, Rect)> {
    let frame = with_room_over(graph(window).rect());
    window
        .query_all_by_role(Role::Label)
        .map(|node| (node.value().unwrap_or_default(), node.rect()))
        .filter(|(label, area)| frame.intersects(*area) && of_chart(label))
        .collect()
}

#[test]
fn every_tap_is_named_at_its_curve_and_no_label_lies_on_another_or_is_cut_off() {
    let jobs = [
        demo::heat_pump(),
        demo::gas_furnace(),
        library_job("AH-60V"),
        library_job("GF-100V"),
        library_job("AH-36B"),
        library_job("AH-48T"),
        library_job("MH-70P"),
        unread(demo::heat_pump()),
    ];
    for job in jobs {
        for size in [[1440.0, 900.0], [1024.0, 700.0], [720.0, 450.0]] {
            for units in UnitSystem::ALL {
                let mut window = window(job.clone(), size, Theme::Light);
                let ctx = window.ctx.clone();
                window.state_mut().run(Action::Units(units), &ctx);
                window.run_steps(3);
                check_labels(&window, &format!("{} at {size:?} in {units:?}", job.machine.as_ref().unwrap().name));
            }
        }
    }
}

fn check_labels(window: &Window<'_>, case: &str) {
    let areas = label_areas(window);
    let table = window.state().job().machine.as_ref().unwrap();
    for tap in &table.taps {
        let name = format!("Curve of {} {}", table.motor.tap_word(), tap.name);
        assert!(areas.iter().any(|(label, _)| *label == name), "{name} is missing: {case}: {areas:?}");
    }
    let frame = graph(window).rect();
    for (index, (label, area)) in areas.iter().enumerate() {
        let room = if label.starts_with("target") { with_room_over(frame) } else { frame };
        assert!(room.contains_rect(*area), "{label} is cut off: {case}");
        for (other, there) in &areas[index + 1..] {
            assert!(!area.intersects(*there), "{label} lies on {other}: {case}");
        }
    }
    assert!(areas.len() > table.taps.len(), "{case}");
    let has = |text: &str| areas.iter().any(|(label, _)| label.contains(text));
    assert!(has("target"), "{case}");
    assert!(has("rated maximum"), "{case}");
}

#[test]
fn the_tap_in_use_is_labelled_near_its_own_curve() {
    let window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let areas = label_areas(&window);
    let of = |tap: u8| areas.iter().find(|(label, _)| *label == format!("Curve of tap {tap}")).unwrap().1.center().x;
    assert!((1..5).all(|tap| of(tap) < of(tap + 1)), "in order of airflow");
}

fn read_out(window: &mut Window<'_>, at: Pos2) -> Option<(String, Rect)> {
    window.hover_at(at);
    window.run_steps(3);
    let card = window.query_by_role(Role::Tooltip)?;
    Some((card.accesskit_node().label().unwrap_or_default(), card.rect()))
}

#[test]
fn hovering_near_a_curve_reads_it_out() {
    let mut window = window(demo::heat_pump(), [1440.0, 900.0], Theme::Light);
    let measured = point(&window).rect().center();
    let frame = graph(&window).rect();
    let (text, area) = read_out(&mut window, measured + vec2(45.0, 70.0)).expect("near tap 4");
    for word in ["tap 4", "cfm", "in. w.c.", " W", "published"] {
        assert!(text.contains(word), "{word}: {text}");
    }
    assert!(frame.contains_rect(area));
    let (text, _) = read_out(&mut window, measured).expect("on the crossing");
    assert!(text.contains("1,200 cfm") && text.contains("0.83 in. w.c.") && text.contains("runs here now"), "{text}");
    let high = pos2(measured.x - 85.0, measured.y - 100.0);
    let (text, _) = read_out(&mut window, high).expect("on the extension");
    assert!(text.contains("extrapolated"), "{text}");
    assert_eq!(read_out(&mut window, frame.left_bottom() + vec2(30.0, -150.0)), None, "nothing is near");
}

#[test]
fn the_read_out_is_never_cut_off() {
    let mut window = window(demo::heat_pump(), [720.0, 450.0], Theme::Light);
    let frame = graph(&window).rect();
    let mut seen = 0;
    for x in 0..12_u8 {
        for y in 0..6_u8 {
            let at = frame.lerp_inside(vec2(f32::from(x) / 12.0 + 0.03, f32::from(y) / 6.0 + 0.05));
            if let Some((text, area)) = read_out(&mut window, at) {
                seen += 1;
                assert!(frame.contains_rect(area), "{text} at {at}: {area} in {frame}");
            }
        }
    }
    assert!(seen > 10, "{seen}");
}

#[test]
fn a_barred_stretch_says_so() {
    let mut window = window(library_job("AH-48T"), [1440.0, 900.0], Theme::Light);
    let frame = graph(&window).rect();
    // Low static, where the table bars tap 5, from the left to the right over every tap.
    let along = (20..100_u8).map(|step| frame.lerp_inside(vec2(f32::from(step) / 100.0, 0.93)));
    let said: Vec<String> = along.filter_map(|at| Some(read_out(&mut window, at)?.0)).collect();
    let of_tap_5: Vec<&String> = said.iter().filter(|text| text.starts_with("tap 5")).collect();
    assert!(!of_tap_5.is_empty(), "{said:?}");
    for text in of_tap_5 {
        assert!(text.contains("not allowed: water carry-over"), "{text}");
    }
    assert!(said.iter().any(|text| text.starts_with("tap 4") && !text.contains("not allowed")), "{said:?}");
}

#[test]
fn a_tap_of_one_row_is_a_mark_that_says_how_far_it_can_be_used() {
    let mut job = demo::heat_pump();
    let table = job.machine.as_mut().unwrap();
    if let TapData::Column(rows) = &mut table.taps[0].data {
        rows.retain(|row| (row.esp.in_wc() - 0.40).abs() < 1e-9);
    }
    let mut window = window(job, [1440.0, 900.0], Theme::Light);
    let frame = graph(&window).rect();
    let name = label_areas(&window).into_iter().find(|(label, _)| label == "Curve of tap 1").expect("it is named").1;
    assert!(frame.contains_rect(name));
    let around = [vec2(14.0, 0.0), vec2(-14.0, 0.0)]
        .map(|aside| if aside.x > 0.0 { name.right_center() + aside } else { name.left_center() + aside });
    let said: Vec<String> = around.into_iter().filter_map(|at| Some(read_out(&mut window, at)?.0)).collect();
    assert!(
        said.iter().any(|text| text.contains("tap 1") && text.contains("one row only, usable within ±0.05 in. w.c.")),
        "{said:?}"
    );
}
