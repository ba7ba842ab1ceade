//! The blower picker through the real program: found while typing, taken with Enter, few key presses.

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::blower_file;
use tapcross::files::library::Library;
use tapcross::files::places::Places;

type App<'a> = Harness<'a, TapcrossApp>;

fn app<'a>(width: f32, height: f32) -> App<'a> {
    let mut app = Harness::builder()
        .with_size(vec2(width, height))
        .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
    app.run_steps(3);
    app
}

/// The program with the picker open.
fn picking<'a>() -> App<'a> {
    let mut app = app(1440.0, 900.0);
    press(&mut app, Modifiers::COMMAND, Key::B);
    app
}

fn press(app: &mut App<'_>, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(3);
}

fn write(app: &mut App<'_>, text: &str) {
    for letter in text.chars() {
        app.event(Event::Text(letter.to_string()));
        app.run_steps(3);
    }
}

fn machine(app: &App<'_>) -> String {
    app.state().job().machine.as_ref().map(|table| table.name.clone()).unwrap_or_default()
}

#[test]
fn three_letters_and_enter_take_a_blower() {
    let mut app = picking();
    write(&mut app, "80p");
    press(&mut app, Modifiers::NONE, Key::Enter);
    assert!(app.state().view().picker.is_none());
    assert!(machine(&app).contains("80P"), "{}", machine(&app));
}

#[test]
fn words_and_enter_in_one_breath_take_what_was_meant() {
    let mut app = picking();
    app.event(Event::Text("60v".to_owned()));
    app.key_press(Key::Enter);
    app.run_steps(3);
    assert!(machine(&app).contains("60V"), "{}", machine(&app));
}

#[test]
fn the_arrow_keys_choose_among_what_was_found() {
    let mut app = picking();
    write(&mut app, "psc");
    let found = app.state().view().picker.as_ref().expect("the picker is open").found.len();
    assert!(found > 2, "several machines have such a motor");
    press(&mut app, Modifiers::NONE, Key::ArrowDown);
    press(&mut app, Modifiers::NONE, Key::ArrowDown);
    press(&mut app, Modifiers::NONE, Key::ArrowUp);
    let picker = app.state().view().picker.as_ref().expect("the picker is open");
    assert_eq!(picker.cursor, 1);
    let wanted = Library::shipped().0.entries[picker.found[1]].table.name.clone();
    press(&mut app, Modifiers::NONE, Key::Enter);
    assert_eq!(machine(&app), wanted);
}

#[test]
fn a_click_takes_a_blower() {
    let mut app = picking();
    write(&mut app, "gf-52");
    let name = Library::shipped()
        .0
        .entries
        .iter()
        .map(|entry| entry.table.name.clone())
        .find(|name| name.starts_with("GF-52T"));
    let name = name.expect("the library has it");
    app.get_by_label(&name).click();
    app.run_steps(3);
    assert_eq!(machine(&app), name);
}

#[test]
fn escape_leaves_the_job_as_it_was() {
    let mut app = picking();
    let before = machine(&app);
    write(&mut app, "gf");
    press(&mut app, Modifiers::NONE, Key::Escape);
    assert!(app.state().view().picker.is_none());
    assert_eq!(machine(&app), before);
}

#[test]
fn nothing_found_says_what_to_do_and_leads_to_a_new_table() {
    let mut app = picking();
    write(&mut app, "zzz");
    app.get_by_label_contains("No blower has \"zzz\"; try fewer letters, or type the maker's table");
    press(&mut app, Modifiers::NONE, Key::Enter);
    assert!(app.state().view().table_editor.is_some(), "the editor has opened");
}

#[test]
fn a_library_of_thousands_draws_only_what_is_seen() {
    let folder = tempfile::tempdir().expect("a folder");
    let places = Places::within(folder.path());
    std::fs::create_dir_all(&places.blowers).expect("a folder of tables");
    let mut table = Library::shipped().0.entries[0].table.clone();
    for number in 0..2000 {
        table.name = format!("Own {number:04}");
        table.illustrative = false;
        std::fs::write(places.blowers.join(format!("own-{number:04}.ron")), blower_file::write(&table))
            .expect("a table");
    }
    let start = Start { places: Some(places), ..Start::alone() };
    let mut app: App<'_> =
        Harness::builder().with_size(vec2(1440.0, 900.0)).build_eframe(move |cc| TapcrossApp::new(&cc.egui_ctx, start));
    app.run_steps(3);
    press(&mut app, Modifiers::COMMAND, Key::B);
    // The tables come in from a thread of their own; the picker shows them as they do.
    let found = |app: &App<'_>| app.state().view().picker.as_ref().expect("the picker is open").found.len();
    let began = std::time::Instant::now();
    while found(&app) <= 2000 && began.elapsed().as_secs() < 60 {
        std::thread::sleep(std::time::Duration::from_millis(10));
        app.run_steps(1);
    }
    assert!(found(&app) > 2000, "{} tables are found", found(&app));
    let rows = app.get_all_by_role(Role::ListBoxOption).count();
    assert!(rows > 3 && rows <= 12, "{rows} rows are drawn");
    for _ in 0..30 {
        press(&mut app, Modifiers::NONE, Key::ArrowDown);
    }
    app.get_by_label("Own 0030");
    write(&mut app, "1999");
    press(&mut app, Modifiers::NONE, Key::Enter);
    assert_eq!(machine(&app), "Own 1999");
}

#[test]
fn from_the_empty_job_to_the_first_airflow_takes_few_key_presses() {
    let mut app = app(1440.0, 900.0);
    let mut presses = 0;
    press(&mut app, Modifiers::COMMAND, Key::N);
    presses += 1;
    assert!(app.state().job().machine.is_none(), "the job is empty");
    for (text, then) in [("42t", Key::Enter), ("31", Key::Tab), ("42", Key::Enter)] {
        let text = if then == Key::Enter && text == "42t" { text.to_owned() } else { format!(".{text}") };
        write(&mut app, &text);
        press(&mut app, Modifiers::NONE, then);
        presses += text.len() + 1;
    }
    let airflow = app.state().answer().found.as_ref().ok().map(|running| running.now.airflow.cfm());
    assert!(airflow.is_some_and(|cfm| cfm > 500.0), "an airflow is there after {presses} key presses: {airflow:?}");
    assert!(presses <= 25, "{presses} key presses");
}

#[test]
fn the_picker_is_drawn_at_every_size_in_both_themes() {
    for (width, height) in [(1440.0, 900.0), (1024.0, 700.0), (720.0, 450.0)] {
        for theme in [eframe::egui::Theme::Light, eframe::egui::Theme::Dark] {
            let mut app: App<'_> = Harness::builder()
                .with_size(vec2(width, height))
                .with_theme(theme)
                .build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, Start::alone()));
            app.run_steps(3);
            press(&mut app, Modifiers::COMMAND, Key::B);
            picture(&mut app, &format!("picker-{width}-{theme:?}"));
            let rect = app.get_by_label("Search blowers").rect();
            assert!(rect.min.x >= 0.0 && rect.max.x <= width && rect.max.y <= height, "{rect:?}");
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
