//! A printed table typed off its photograph through the real program: corners pressed by pointer and by keys, the row that is typed followed, and nothing lost.

#[path = "support/pictures.rs"]
mod pictures;

use std::path::{Path, PathBuf};

use eframe::egui::{Event, Key, Modifiers, Pos2, Theme, Vec2, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use image::{Rgb, RgbImage};
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::settings::ThemeChoice;
use tapcross::model::typed::table_photo::TablePhoto;
use tapcross::numerics::homography::Homography;
use tapcross::ui::view::action::{Action, Command};
use tapcross::ui::view::table_editor::TableEditor;

type App<'a> = Harness<'a, TapcrossApp>;

/// Width and height of the photograph.
const SIZE: [f64; 2] = [1000.0, 640.0];
/// The corners of its rows of numbers, as it was taken.
const CORNERS: [[f64; 2]; 4] = [[140.0, 150.0], [830.0, 110.0], [890.0, 520.0], [100.0, 480.0]];
/// Rows and columns in print.
const GRID: [u32; 2] = [9, 6];

/// A photograph of a ruled page, askew on a table top, as a PNG: every other row is grey, and the first column is darker.
fn photograph(folder: &Path) -> PathBuf {
    let page = [[0.0, 0.0], [6.0, 0.0], [6.0, 9.0], [0.0, 9.0]];
    let map = Homography::between(CORNERS, page).unwrap();
    let picture = RgbImage::from_fn(1000, 640, |x, y| {
        let [column, row] = map.of([f64::from(x), f64::from(y)]).unwrap();
        let is_page = (-0.5..6.5).contains(&column) && (-1.5..9.5).contains(&row);
        let is_line = (column - column.round()).abs() < 0.02 || (row - row.round()).abs() < 0.03;
        let is_table = (-0.02..6.02).contains(&column) && (-1.03..9.03).contains(&row);
        match (is_page, is_table && is_line) {
            (false, _) => Rgb([96, 84, 70]),
            (true, true) => Rgb([40, 40, 40]),
            (true, false) if row.floor().rem_euclid(2.0) < 0.5 && is_table => Rgb([214, 218, 224]),
            (true, false) => Rgb([250, 248, 240]),
        }
    });
    let path = folder.join("door panel.png");
    picture.save(&path).unwrap();
    path
}

fn app_of<'a>(size: Vec2) -> App<'a> {
    let builder = Harness::builder().with_size(size).with_max_steps(12);
    builder.build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()))
}

/// The program with an empty table open and the photograph over its grid.
fn typing<'a>(folder: &Path) -> App<'a> {
    let mut app = app_of(vec2(1440.0, 900.0));
    run(&mut app, Command::TypeTable.into());
    run(&mut app, Action::OpenTable(photograph(folder)));
    app
}

fn run(app: &mut App<'_>, action: Action) {
    let ctx = app.ctx.clone();
    app.state_mut().run(action, &ctx);
    app.run_steps(4);
}

fn editor<'a>(app: &'a App<'_>) -> &'a TableEditor {
    app.state().view().table_editor.as_ref().expect("the editor is open")
}

fn photo<'a>(app: &'a App<'_>) -> &'a TablePhoto {
    editor(app).photo().expect("a photograph").photo()
}

#[expect(clippy::cast_possible_truncation, reason = "a pixel of a small picture")]
fn on_screen(app: &App<'_>, [x, y]: [f64; 2]) -> Pos2 {
    let area = app.get_by_label_contains("Photograph of the table").rect();
    let scale = (area.width() / SIZE[0] as f32).min(area.height() / SIZE[1] as f32);
    area.center() + vec2((x - SIZE[0] / 2.0) as f32, (y - SIZE[1] / 2.0) as f32) * scale
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
    app.run_steps(3);
}

fn cell(app: &App<'_>, row: usize, tap: usize) -> String {
    editor(app).draft().rows[row].cells[tap].airflow.clone()
}

#[test]
fn a_table_is_typed_off_its_photograph_row_by_row() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = typing(folder.path());
    app.get_by_label_contains("Press the left upper corner of the rows of numbers");
    for corner in CORNERS {
        press_at(&mut app, corner);
    }
    let marked = &photo(&app).corners;
    for ([x, y], [u, v]) in marked.iter().zip(CORNERS) {
        assert!((x - u).abs() < 1.0 && (y - v).abs() < 1.0, "{marked:?}");
    }
    // The hand is in the grid at once, and the photograph follows it.
    app.get_by_label("Photograph of the table at row 1 of 9");
    for number in ["800", "970", "1140", "1310", "1480", "755"] {
        write(&mut app, number);
        key(&mut app, Modifiers::NONE, Key::Tab);
    }
    assert_eq!([cell(&app, 0, 0), cell(&app, 0, 4), cell(&app, 1, 0)], ["800", "1480", "755"]);
    app.get_by_label("Photograph of the table at row 2 of 9");
    app.get_by_label("One row in print less").click();
    app.run_steps(3);
    assert_eq!(photo(&app).printed(), 8);
    app.get_by_label("Photograph of the table at row 2 of 8");
    // Taking the photograph away takes nothing that is typed.
    app.get_by_label("Take it away").click();
    app.run_steps(3);
    assert!(editor(&app).photo().is_none());
    assert_eq!(cell(&app, 1, 0), "755");
}

#[test]
fn corners_are_marked_by_keys_alone_and_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = typing(folder.path());
    app.get_by_label_contains("Photograph of the table").focus();
    app.run_steps(2);
    // The cross begins in the middle, at 500 and 320.
    let ways = [(Key::ArrowLeft, Key::ArrowUp), (Key::ArrowRight, Key::ArrowUp), (Key::ArrowRight, Key::ArrowDown)];
    for (step, (across, along)) in ways.into_iter().enumerate() {
        for _ in 0..if step == 0 { 10 } else { 20 } {
            app.key_press_modifiers(Modifiers::SHIFT, across);
            app.run_steps(1);
        }
        for _ in 0..if step == 0 { 10 } else { 20 } {
            if step != 1 {
                app.key_press_modifiers(Modifiers::SHIFT, along);
                app.run_steps(1);
            }
        }
        key(&mut app, Modifiers::NONE, Key::Enter);
    }
    assert_eq!(photo(&app).corners, [[400.0, 220.0], [600.0, 220.0], [800.0, 420.0]]);
    key(&mut app, Modifiers::NONE, Key::Backspace);
    assert_eq!(photo(&app).corners.len(), 2);
}

#[test]
fn corners_that_cross_are_told_and_marked_anew() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = typing(folder.path());
    for corner in [0, 2, 1, 3] {
        press_at(&mut app, CORNERS[corner]);
    }
    app.get_by_label_contains("The corners cross or lie nearly on a line");
    app.get_by_label("Corners anew").click();
    app.run_steps(3);
    assert!(photo(&app).corners.is_empty());
    app.get_by_label_contains("Press the left upper corner of the rows of numbers");
}

/// A photograph that comes while a table is typed takes nothing of it; one that is none is refused beside it.
#[test]
fn what_is_typed_stays_whatever_picture_comes() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app_of(vec2(1024.0, 700.0));
    run(&mut app, Command::TypeTable.into());
    write(&mut app, "GF-1");
    run(&mut app, Action::OpenTable(photograph(folder.path())));
    assert_eq!(editor(&app).draft().head.name, "GF-1");
    assert!(editor(&app).photo().is_some());
    let bad = folder.path().join("bad.jpg");
    std::fs::write(&bad, b"no picture").unwrap();
    run(&mut app, Action::OpenTable(bad));
    assert!(app.state_mut().notices().iter().any(|said| said.contains("neither PNG nor JPEG")));
    assert!(editor(&app).photo().is_some(), "the photograph that was there stays");
    assert_eq!(editor(&app).draft().head.name, "GF-1");
}

/// A picture that was opened as a chart, and shows a table.
#[test]
fn a_picture_of_a_table_goes_from_tracing_to_typing() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app_of(vec2(1440.0, 900.0));
    run(&mut app, Action::OpenTable(photograph(folder.path())));
    app.get_by_label("It shows a table: type it").click();
    app.run_steps(4);
    assert!(app.state().view().chart_trace.is_none());
    assert!(editor(&app).photo().is_some() && !editor(&app).is_changed());
}

#[test]
fn it_looks_right_in_light_and_dark_and_small() {
    if pictures::cannot_be_taken() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let path = photograph(folder.path());
    let looks = [
        ("table_photo_light", [1440.0, 900.0], 1.0, Theme::Light),
        ("table_photo_dark_small", [1024.0, 700.0], 1.0, Theme::Dark),
        // 1440 by 900 pixels at twice the size.
        ("table_photo_double", [720.0, 450.0], 2.0, Theme::Light),
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
        run(&mut app, Command::TypeTable.into());
        run(&mut app, Action::OpenTable(path.clone()));
        pictures::take(&mut app, &format!("{name}_corners"));
        for corner in CORNERS {
            press_at(&mut app, corner);
        }
        write(&mut app, "800");
        key(&mut app, Modifiers::NONE, Key::Enter);
        key(&mut app, Modifiers::NONE, Key::Enter);
        // Row 3 is in the middle between its lines: grey as in print, and straight.
        let picture = app.render().unwrap();
        let area = app.get_by_label("Photograph of the table at row 3 of 9").rect();
        let ink = |at: Pos2| picture.get_pixel(whole(at.x * scale), whole(at.y * scale)).0;
        let column = area.width() / 1.06 / GRID[1] as f32;
        for share in [-2.5, -1.5, -0.5, 0.5, 1.5, 2.5] {
            let [red, green, blue, _] = ink(pos2(area.center().x + share * column, area.center().y));
            assert!(red.abs_diff(214) < 8 && green.abs_diff(218) < 8 && blue.abs_diff(224) < 8, "{name} {share}");
        }
        pictures::take(&mut app, name);
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of a picture")]
fn whole(number: f32) -> u32 {
    number.round() as u32
}
