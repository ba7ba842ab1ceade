//! A fan chart traced in its picture through the real program: by pointer, by keys alone, and kept from being lost.

#[path = "support/pictures.rs"]
mod pictures;

use std::path::{Path, PathBuf};

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, Pos2, Theme, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use image::{Rgb, RgbImage};
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::settings::ThemeChoice;
use tapcross::model::typed::chart_trace::ChartTrace;
use tapcross::model::typed::table_draft::TableDraft;
use tapcross::ui::view::action::{Action, Command};

type App<'a> = Harness<'a, TapcrossApp>;

/// The chart's frame in the picture: left, top, right, bottom.
const FRAME: [f64; 4] = [100.0, 60.0, 900.0, 560.0];

/// A picture of a chart with two falling curves, as a PNG.
fn chart(folder: &Path) -> PathBuf {
    let mut picture = RgbImage::from_pixel(1000, 640, Rgb([252, 250, 244]));
    let [left, top, right, bottom] = FRAME;
    let mut line = |from: [f64; 2], to: [f64; 2], width: i32, ink: [u8; 3]| {
        for step in 0..=2000 {
            let share = f64::from(step) / 2000.0;
            let (x, y) = (from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]));
            for off in 0..width {
                picture.put_pixel(whole(x), whole(y + f64::from(off)), Rgb(ink));
            }
        }
    };
    for share in 0..=8 {
        let x = left + f64::from(share) * (right - left) / 8.0;
        line([x, top], [x, bottom], 1, [205, 205, 200]);
        let y = top + f64::from(share) * (bottom - top) / 8.0;
        line([left, y], [right, y], 1, [205, 205, 200]);
    }
    for (from, to) in [([left, top], [left, bottom]), ([left, bottom], [right, bottom])] {
        line(from, to, 2, [30, 30, 30]);
    }
    line([560.0, 500.0], [440.0, 100.0], 3, [20, 60, 140]);
    line([800.0, 500.0], [660.0, 100.0], 3, [150, 30, 30]);
    let path = folder.join("fan.png");
    picture.save(&path).unwrap();
    path
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of a small picture")]
fn whole(number: f64) -> u32 {
    number.round() as u32
}

fn app<'a>() -> App<'a> {
    let builder = Harness::builder().with_size(vec2(1440.0, 900.0)).with_max_steps(12);
    builder.build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()))
}

fn run(app: &mut App<'_>, action: Action) {
    let ctx = app.ctx.clone();
    app.state_mut().run(action, &ctx);
    app.run_steps(4);
}

fn trace<'a>(app: &'a App<'_>) -> &'a ChartTrace {
    app.state().view().chart_trace.as_ref().expect("the picture is open").trace()
}

/// Where a pixel lies on the screen while all of the picture is seen.
#[expect(clippy::cast_possible_truncation, reason = "a pixel of a small picture")]
fn on_screen(app: &App<'_>, [x, y]: [f64; 2]) -> Pos2 {
    let area = app.get_by_label_contains("Picture of the chart").rect();
    let scale = (area.width() / 1000.0).min(area.height() / 640.0);
    area.center() + vec2(x as f32 - 500.0, y as f32 - 320.0) * scale
}

fn press_at(app: &mut App<'_>, place: [f64; 2]) {
    let at = on_screen(app, place);
    app.hover_at(at);
    app.run_steps(1);
    app.drag_at(at);
    app.run_steps(1);
    app.drop_at(at);
    app.run_steps(3);
}

fn write(app: &mut App<'_>, text: &str) {
    app.event(Event::Text(text.to_owned()));
    app.run_steps(2);
}

fn key(app: &mut App<'_>, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(2);
}

fn draft<'a>(app: &'a App<'_>) -> &'a TableDraft {
    app.state().view().table_editor.as_ref().expect("the editor is open").draft()
}

/// 0 to 2,000 cfm across, 0 to 1 in. w.c. up.
fn value(draft: &TableDraft, row: usize) -> (f64, f64) {
    let row = &draft.rows[row];
    (row.esp.parse().unwrap(), row.cells[0].airflow.parse().unwrap())
}

#[test]
fn a_chart_is_traced_by_pointer_and_typed_values_and_goes_into_the_editor() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app();
    run(&mut app, Action::OpenTable(chart(folder.path())));
    let [left, top, right, bottom] = FRAME;
    // After each point of an axis the hand is in the field of its value.
    for (place, value) in
        [([left, bottom], "0"), ([right, bottom], "2000"), ([left, bottom], "0"), ([left, top], "1.0")]
    {
        press_at(&mut app, place);
        write(&mut app, value);
    }
    for place in [[560.0, 500.0], [500.0, 300.0], [440.0, 100.0]] {
        press_at(&mut app, place);
    }
    app.get_by_label("Next tap").click();
    app.run_steps(3);
    for place in [[800.0, 500.0], [660.0, 100.0]] {
        press_at(&mut app, place);
    }
    assert_eq!(trace(&app).taps.len(), 2);
    key(&mut app, Modifiers::COMMAND, Key::Enter);
    let draft = draft(&app);
    assert_eq!((draft.taps.as_slice(), draft.rows.len()), (&["1".to_owned(), "2".to_owned()][..], 3));
    let wanted = [(0.12, 1150.0), (0.52, 1000.0), (0.92, 850.0)];
    for (row, (esp, cfm)) in wanted.into_iter().enumerate() {
        let (read_esp, read_cfm) = value(draft, row);
        assert!(
            (read_esp - esp).abs() < 0.004 && (read_cfm - cfm).abs() < 5.0,
            "{read_esp} {read_cfm} for {esp} {cfm}"
        );
    }
    assert_eq!(draft.head.source, "Digitised from fan.png");
    assert_eq!(draft.head.reading_error, "0.4", "percent");
}

#[test]
fn a_chart_is_traced_by_keys_alone() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app();
    run(&mut app, Action::OpenTable(chart(folder.path())));
    app.get_by_label_contains("Picture of the chart").focus();
    app.run_steps(3);
    // The cross begins in the middle, at 500 and 320.
    let go = |app: &mut App<'_>, right: i32, down: i32| {
        let ways = [(right, Key::ArrowRight, Key::ArrowLeft), (down, Key::ArrowDown, Key::ArrowUp)];
        for (by, on, back) in ways {
            let way = if by > 0 { on } else { back };
            for _ in 0..by.abs() / 10 {
                app.key_press_modifiers(Modifiers::SHIFT, way);
            }
            app.run_steps(2);
            for _ in 0..by.abs() % 10 {
                app.key_press(way);
            }
            app.run_steps(2);
        }
    };
    let marked = |app: &mut App<'_>, right: i32, down: i32, value: &str| {
        go(app, right, down);
        key(app, Modifiers::NONE, Key::Enter);
        app.run_steps(2);
        if !value.is_empty() {
            write(app, value);
            key(app, Modifiers::NONE, Key::Enter);
            app.run_steps(3);
        }
    };
    marked(&mut app, -40, -20, "900");
    marked(&mut app, 80, 0, "1100");
    marked(&mut app, -40, 20, "0.48");
    marked(&mut app, 0, -40, "0.56");
    marked(&mut app, 12, 39, "");
    marked(&mut app, 3, 2, "");
    key(&mut app, Modifiers::NONE, Key::Backspace);
    marked(&mut app, -15, -21, "");
    assert_eq!(trace(&app).taps[0].points, [[512.0, 319.0], [500.0, 300.0]]);
    key(&mut app, Modifiers::COMMAND, Key::Enter);
    assert_eq!((value(draft(&app), 0), value(draft(&app), 1)), ((0.482, 1030.0), (0.52, 1000.0)));
}

#[test]
fn a_mark_is_dragged_and_the_picture_is_zoomed_under_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app();
    run(&mut app, Action::OpenTable(chart(folder.path())));
    press_at(&mut app, [100.0, 560.0]);
    let (from, to) = (on_screen(&app, [100.0, 560.0]), on_screen(&app, [140.0, 500.0]));
    app.hover_at(from);
    app.run_steps(1);
    app.drag_at(from);
    app.run_steps(1);
    app.hover_at(from.lerp(to, 0.5));
    app.run_steps(1);
    app.hover_at(to);
    app.run_steps(1);
    app.drop_at(to);
    app.run_steps(3);
    let [x, y] = trace(&app).airflow.marks[0].at.expect("the mark");
    assert!((x - 140.0).abs() < 1.5 && (y - 500.0).abs() < 1.5, "{x} {y}");
    assert!(trace(&app).airflow.marks[1].at.is_none(), "dragging marks nothing");
}

#[test]
fn marks_are_not_lost_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = chart(folder.path());
    let mut app = app();
    run(&mut app, Action::OpenTable(path.clone()));
    press_at(&mut app, [100.0, 560.0]);
    run(&mut app, Action::OpenTable(path));
    assert!(app.state_mut().notices().iter().any(|said| said.starts_with("A picture is being traced")));
    key(&mut app, Modifiers::NONE, Key::Escape);
    app.run_steps(3);
    app.get_by_label("Keep marking").click();
    app.run_steps(3);
    assert!(app.state().view().chart_trace.is_some());
    // One mark alone, which makes no table, is asked about when the window would end, too; and no autosave calls it one.
    assert!(app.state().view().table_in_hand().is_none());
    run(&mut app, Command::Quit.into());
    app.run_steps(2);
    app.get_by_label_contains("What is marked in the picture is in no table yet.");
    app.get_by_label("Quit without the marks");
    app.get_by_label("Keep working").click();
    app.run_steps(3);
    assert!(app.state().view().chart_trace.is_some());
    key(&mut app, Modifiers::NONE, Key::Escape);
    app.run_steps(3);
    app.get_by_label("Throw the marks away").click();
    app.run_steps(3);
    assert!(app.state().view().chart_trace.is_none());
}

#[test]
fn what_is_no_picture_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app();
    for (name, bytes, said) in [
        ("a.png", &b"hello"[..], "The picture is not taken: it is neither PNG nor JPEG"),
        ("b.heic", b"....ftypheic", "The picture is not taken: it is neither PNG nor JPEG"),
    ] {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        run(&mut app, Action::OpenTable(path));
        assert!(app.state_mut().notices().iter().any(|told| told.starts_with(said)), "{name}");
    }
    run(&mut app, Command::PickBlower.into());
    let nodes = app.root().children_recursive();
    let rows = nodes.filter(|node| node.accesskit_node().role() == Role::ListBoxOption);
    assert!(rows.count() > 2);
}

/// Everything marked, as a person would have after a few minutes.
fn traced(app: &mut App<'_>) {
    let [left, top, right, bottom] = FRAME;
    for (place, value) in
        [([left, bottom], "0"), ([right, bottom], "2000"), ([left, bottom], "0"), ([left, top], "1.0")]
    {
        press_at(app, place);
        write(app, value);
    }
    for place in [[560.0, 500.0], [530.0, 400.0], [500.0, 300.0], [470.0, 200.0], [440.0, 100.0]] {
        press_at(app, place);
    }
    app.get_by_label("Next tap").click_accesskit();
    app.run_steps(3);
    for place in [[800.0, 500.0], [730.0, 300.0], [660.0, 100.0]] {
        press_at(app, place);
    }
    app.get_by_label_contains("Picture of the chart").focus();
    app.run_steps(2);
    let outside = pos2(1.0, 1.0);
    app.hover_at(outside);
    app.run_steps(3);
}

#[test]
fn it_is_drawn_at_every_size_in_both_themes() {
    if pictures::cannot_be_taken() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let path = chart(folder.path());
    let looks = [
        ("trace-light", [1440.0, 900.0], 1.0, Theme::Light),
        ("trace-dark", [1440.0, 900.0], 1.0, Theme::Dark),
        ("trace-small-light", [1024.0, 700.0], 1.0, Theme::Light),
        ("trace-double-dark", [720.0, 450.0], 2.0, Theme::Dark),
    ];
    for (name, size, scale, theme) in looks {
        let mut app = Harness::builder()
            .with_size(size)
            .with_pixels_per_point(scale)
            .with_theme(theme)
            .with_render_cursor(false)
            .wgpu()
            .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
        let choice = if theme == Theme::Dark { ThemeChoice::Dark } else { ThemeChoice::Light };
        run(&mut app, Action::Theme(choice));
        run(&mut app, Action::OpenTable(path.clone()));
        if size[0] > 1000.0 {
            traced(&mut app);
        }
        pictures::take(&mut app, name);
    }
}
