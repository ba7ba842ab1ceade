//! The table editor through the real program: typed without the mouse, pasted, checked, kept from being lost.

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::library::Library;
use tapcross::files::places::Places;
use tapcross::model::facts::blower::{BlowerTable, Cell, TapData};
use tapcross::model::facts::severity::Severity;
use tapcross::model::typed::table_draft::TableDraft;
use tapcross::units::{Airflow, Power};

type App<'a> = Harness<'a, TapcrossApp>;

fn app<'a>(width: f32, height: f32) -> App<'a> {
    Harness::builder().with_size(vec2(width, height)).build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()))
}

/// The program with an empty table open.
fn typing<'a>() -> App<'a> {
    let mut app = app(1440.0, 900.0);
    app.run_steps(3);
    press(&mut app, Modifiers::COMMAND, Key::T);
    app
}

fn press(app: &mut App<'_>, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(3);
}

fn key(app: &mut App<'_>, key: Key) {
    press(app, Modifiers::NONE, key);
}

fn write(app: &mut App<'_>, text: &str) {
    app.event(Event::Text(text.to_owned()));
    app.run_steps(3);
}

fn paste(app: &mut App<'_>, text: &str) {
    app.event(Event::Paste(text.to_owned()));
    app.run_steps(3);
}

fn draft<'a>(app: &'a App<'_>) -> &'a TableDraft {
    app.state().view().table_editor.as_ref().expect("the editor is open").draft()
}

fn cells(table: &BlowerTable, tap: usize) -> Vec<Option<f64>> {
    let TapData::Column(rows) = &table.taps[tap].data else { panic!("a column") };
    rows.iter().map(|row| row.cell.airflow().map(Airflow::cfm)).collect()
}

/// On a slow machine several keys come in one picture: each number goes where it was typed.
#[test]
fn what_is_typed_after_enter_or_tab_in_one_picture_goes_to_the_next_place() {
    let mut app = typing();
    write(&mut app, "GF-1");
    key(&mut app, Key::Enter);
    let pressed = |key: Key| {
        [true, false].map(|pressed| Event::Key {
            key,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers: Modifiers::NONE,
        })
    };
    let text = |text: &str| Event::Text(text.to_owned());
    for event in [text("800"), text("5")]
        .into_iter()
        .chain(pressed(Key::Enter))
        .chain([text("755")])
        .chain(pressed(Key::Enter))
        .chain([text("705")])
        .chain(pressed(Key::Tab))
        .chain([text("970")])
    {
        app.event(event);
    }
    app.run_steps(8);
    let rows = &draft(&app).rows;
    let first: Vec<&str> = rows.iter().take(3).map(|row| row.cells[0].airflow.as_str()).collect();
    assert_eq!((first, rows[2].cells[1].airflow.as_str()), (vec!["8005", "755", "705"], "970"));
}

/// Airflow of a made-up machine: tap 0 to 4, row 0 to 8.
fn cfm(tap: usize, row: usize) -> usize {
    1000 + 150 * tap - 25 * row
}

#[test]
fn every_shipped_machine_comes_back_from_the_editor_as_it_went_in() {
    let (library, _) = Library::shipped();
    assert!(library.entries.len() > 10);
    for entry in &library.entries {
        let (again, problems) = TableDraft::from_table(&entry.table).read();
        let errors: Vec<_> = problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
        assert!(errors.is_empty(), "{}: {errors:?}", entry.table.name);
        assert_eq!(again, entry.table, "{}", entry.table.name);
    }
}

#[test]
fn a_table_of_five_taps_and_nine_rows_is_typed_without_the_mouse() {
    let mut app = typing();
    write(&mut app, "Test furnace 80");
    key(&mut app, Key::Enter);
    for row in 0..9 {
        for tap in 0..5 {
            write(&mut app, &cfm(tap, row).to_string());
            if (row, tap) != (8, 4) {
                key(&mut app, Key::Tab);
            }
        }
    }
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    assert!(app.state().view().table_editor.is_none(), "the editor has closed");
    let table = app.state().job().machine.as_ref().expect("the job has the table");
    assert_eq!((table.name.as_str(), table.taps.len(), table.illustrative), ("Test furnace 80", 5, false));
    for tap in 0..5 {
        let wanted: Vec<Option<f64>> =
            (0..9).map(|row| Some(f64::from(u16::try_from(cfm(tap, row)).unwrap()))).collect();
        assert_eq!(cells(table, tap), wanted);
    }
}

#[test]
fn enter_goes_down_the_column_and_then_to_the_next() {
    let mut app = typing();
    write(&mut app, "Columns");
    key(&mut app, Key::Enter);
    for tap in 0..2 {
        for row in 0..9 {
            write(&mut app, &cfm(tap, row).to_string());
            key(&mut app, Key::Enter);
        }
        // The row that Enter added stays empty and leads to the next column.
        key(&mut app, Key::Enter);
    }
    let typed = draft(&app);
    assert_eq!(typed.rows.len(), 10);
    assert_eq!((typed.rows[0].cells[1].airflow.as_str(), typed.rows[8].cells[1].airflow.as_str()), ("1150", "950"));
}

#[test]
fn arrow_keys_walk_over_the_grid() {
    let mut app = typing();
    write(&mut app, "Arrows");
    key(&mut app, Key::Enter);
    write(&mut app, "1000");
    for step in [Key::ArrowRight, Key::ArrowDown] {
        key(&mut app, step);
    }
    write(&mut app, "1120");
    key(&mut app, Key::ArrowUp);
    write(&mut app, "1150");
    for step in [Key::ArrowLeft, Key::ArrowLeft, Key::ArrowLeft, Key::ArrowLeft, Key::ArrowLeft] {
        key(&mut app, step);
    }
    write(&mut app, "9");
    let typed = draft(&app);
    assert_eq!(typed.rows[0].cells[0].airflow, "9", "arrived by arrow, what stood there is selected");
    assert_eq!((typed.rows[0].cells[1].airflow.as_str(), typed.rows[1].cells[1].airflow.as_str()), ("1150", "1120"));
}

#[test]
fn tab_past_the_last_cell_adds_a_row() {
    let mut app = typing();
    app.get_by_label("Airflow of 5, row 9, 0.90").focus();
    app.run_steps(3);
    write(&mut app, "700");
    key(&mut app, Key::Tab);
    write(&mut app, "650");
    assert_eq!(draft(&app).rows.len(), 10);
    assert_eq!((draft(&app).rows[9].esp.as_str(), draft(&app).rows[9].cells[0].airflow.as_str()), ("1.00", "650"));
}

#[test]
fn a_pasted_sheet_fills_the_grid() {
    let mut app = typing();
    write(&mut app, "Pasted");
    paste(
        &mut app,
        "ESP (in. w.c.)\tLow\tMed\tHigh\n0.10\t1,010\t1,205\t1,370\n0.20\t990\t–\t1,340\n0.30\t965\t1,150\tx\n",
    );
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    let table = app.state().job().machine.as_ref().expect("the job has the table");
    let names: Vec<&str> = table.taps.iter().map(|tap| tap.name.as_str()).collect();
    assert_eq!(names, ["Low", "Med", "High"]);
    assert_eq!(cells(table, 1), [Some(1205.0), None, Some(1150.0)]);
    let TapData::Column(rows) = &table.taps[2].data else { panic!("a column") };
    assert_eq!(rows[2].cell, Cell::NotAllowed(None));
}

#[test]
fn a_paste_can_be_put_back() {
    let mut app = typing();
    write(&mut app, "Back");
    key(&mut app, Key::Enter);
    write(&mut app, "1234");
    paste(&mut app, "1\t2\n3\t4");
    assert_eq!(draft(&app).rows[1].cells[1].airflow, "4");
    app.get_by_label("Put back what was there").click();
    app.run_steps(3);
    assert_eq!(
        (draft(&app).rows[0].cells[0].airflow.as_str(), draft(&app).rows[1].cells[1].airflow.as_str()),
        ("1234", "")
    );
}

#[test]
fn remarks_name_row_and_column_and_keep_the_table_out_of_the_job() {
    let mut app = typing();
    let before = app.state().job().machine.clone();
    write(&mut app, "Wrong");
    paste(&mut app, "ESP\tLow\tHigh\n0.1\t800\t12o0\n0.2\t980\t1180\n0.3\t750\t1160");
    app.get_by_label_contains("Tap High, row at 0.1: \"12o0\" is neither a number");
    app.get_by_label_contains("Tap Low at 0.20 in. w.c.: airflow rises from 800 to 980");
    app.get_by_label_contains("2 places must be mended");
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    assert!(app.state().view().table_editor.is_some(), "the editor stays open");
    assert_eq!(app.state().job().machine, before, "the job keeps its table");
    app.get_by_label_contains("Tap High, row at 0.1").click();
    app.run_steps(3);
    assert!(app.get_by_label("Airflow of High, row 1, 0.1").is_focused(), "a remark leads to its cell");
    write(&mut app, "1200");
    app.get_by_label("Airflow of Low, row 2, 0.2").focus();
    app.run_steps(3);
    press(&mut app, Modifiers::COMMAND, Key::A);
    write(&mut app, "780");
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    assert_eq!(app.state().job().machine.as_ref().map(|table| table.name.as_str()), Some("Wrong"));
}

#[test]
fn a_remark_on_a_field_leads_to_it() {
    let mut app = typing();
    write(&mut app, "Fields");
    paste(&mut app, "ESP\tLow\n0.1\t800\n0.2\t760");
    app.get_by_role_and_label(Role::TextInput, "Nominal cooling").focus();
    app.run_steps(3);
    write(&mut app, "lots");
    key(&mut app, Key::Enter);
    assert!(!app.get_by_role_and_label(Role::TextInput, "Nominal cooling").is_focused());
    app.get_by_label_contains("One place must be mended first");
    app.get_by_label("Go to the first").click();
    app.run_steps(3);
    assert!(app.get_by_role_and_label(Role::TextInput, "Nominal cooling").is_focused());
}

#[test]
fn escape_asks_before_typing_is_lost() {
    let mut app = typing();
    write(&mut app, "Do not lose me");
    key(&mut app, Key::Escape);
    app.get_by_label("Keep typing").click();
    app.run_steps(3);
    assert_eq!(draft(&app).head.name, "Do not lose me");
    key(&mut app, Key::Escape);
    key(&mut app, Key::Escape);
    assert_eq!(draft(&app).head.name, "Do not lose me", "a second Escape goes back to typing");
    key(&mut app, Key::Escape);
    app.get_by_label("Throw the table away").click();
    app.run_steps(3);
    assert!(app.state().view().table_editor.is_none());
}

#[test]
fn a_click_beside_the_editor_loses_nothing() {
    let mut app = typing();
    write(&mut app, "Do not lose me");
    let outside = eframe::egui::pos2(8.0, 450.0);
    app.hover_at(outside);
    app.run_steps(3);
    app.drag_at(outside);
    app.run_steps(3);
    app.drop_at(outside);
    app.run_steps(3);
    assert_eq!(draft(&app).head.name, "Do not lose me");
    app.get_by_label("Keep typing");
}

#[test]
fn an_untouched_editor_closes_at_once() {
    let mut app = typing();
    key(&mut app, Key::Escape);
    assert!(app.state().view().table_editor.is_none());
}

#[test]
fn the_jobs_own_table_opens_as_it_is() {
    let mut app = app(1440.0, 900.0);
    app.run_steps(3);
    let before = app.state().job().machine.clone();
    press(&mut app, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::T);
    let read = app.state().view().table_editor.as_ref().expect("the editor is open").read().0.clone();
    assert_eq!(Some(read), before);
}

#[test]
fn a_kept_table_goes_to_the_own_ones_and_one_of_the_same_name_stays_open_while_a_person_is_asked() {
    let folder = tempfile::tempdir().expect("a folder");
    let places = Places::within(folder.path());
    let start = Start { places: Some(places.clone()), ..Start::alone() };
    let mut app: App<'_> =
        Harness::builder().with_size(vec2(1440.0, 900.0)).build_eframe(move |cc| TapcrossApp::new(&cc.egui_ctx, start));
    app.run_steps(3);
    let keep = |app: &mut App<'_>, least: &str| {
        press(app, Modifiers::COMMAND, Key::T);
        write(app, "Twice");
        paste(app, &format!("ESP\tLow\n0.1\t800\n0.2\t{least}"));
        app.get_by_label("Keep in my tables").click();
        app.run_steps(3);
    };
    keep(&mut app, "760");
    assert!(app.state().view().table_editor.is_none(), "kept and closed");
    assert!(places.blowers.join("twice.ron").exists());
    keep(&mut app, "750");
    assert_eq!(draft(&app).rows[1].cells[0].airflow, "750", "asked about, and still there to be renamed");
    picture(&mut app, "editor-asked");
    app.get_by_label("Keep the old one").click();
    app.run_steps(3);
    assert!(std::fs::read_to_string(places.blowers.join("twice.ron")).unwrap().contains("760"));
}

#[test]
fn watts_are_typed_over_the_same_static_pressures() {
    let mut app = typing();
    write(&mut app, "Watts");
    paste(&mut app, "ESP\tLow\n0.1\t800\n0.2\t760");
    press(&mut app, Modifiers::COMMAND, Key::Num2);
    write(&mut app, "210");
    key(&mut app, Key::Enter);
    write(&mut app, "205");
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    let table = app.state().job().machine.as_ref().expect("the job has the table");
    let TapData::Column(rows) = &table.taps[0].data else { panic!("a column") };
    let watts: Vec<Option<f64>> = rows.iter().map(|row| row.power.map(Power::watts)).collect();
    assert_eq!(watts, [Some(210.0), Some(205.0)]);
}

#[test]
fn the_editor_is_drawn_at_every_size_in_both_themes() {
    for (width, height) in [(1440.0, 900.0), (1024.0, 700.0), (720.0, 450.0)] {
        for theme in [eframe::egui::Theme::Light, eframe::egui::Theme::Dark] {
            let mut app: App<'_> = Harness::builder()
                .with_size(vec2(width, height))
                .with_theme(theme)
                .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
            app.run_steps(3);
            press(&mut app, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::T);
            picture(&mut app, &format!("editor-{width}-{theme:?}"));
            press(&mut app, Modifiers::NONE, Key::Escape);
            press(&mut app, Modifiers::COMMAND, Key::T);
            paste(&mut app, "ESP\tLow\tMed\tHigh\n0.1\t800\t12o0\t1400\n0.2\t980\t1180\t1360\n0.3\t750\t1160\t1300");
            picture(&mut app, &format!("editor-typed-{width}-{theme:?}"));
            let window = eframe::egui::Rect::from_min_size(eframe::egui::Pos2::ZERO, vec2(width, height));
            for button in ["Use in this job", "Keep in my tables", "Close"] {
                let rect = app.get_by_label(button).rect();
                assert!(window.contains_rect(rect), "{button} at {rect:?} in {width}x{height}");
            }
        }
    }
}

/// Writes what is drawn beside the build, for a person to look at.
fn picture(app: &mut App<'_>, name: &str) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    let image = app.render().expect("a picture");
    image.save(folder.join(format!("{name}.png"))).expect("a picture file");
}
