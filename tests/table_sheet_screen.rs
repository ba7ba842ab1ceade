//! Blower tables from files through the real program: looked at, corrected, taken into the editor or kept, written again.

#[path = "support/pictures.rs"]
mod pictures;

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use eframe::egui::accesskit::Role;
use eframe::egui::{Event, Key, Modifiers, Theme, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::library::load_folder;
use tapcross::files::places::Places;
use tapcross::files::settings::ThemeChoice;
use tapcross::model::facts::blower::EquipmentKind;
use tapcross::model::typed::table_sheet::{Became, Choices, SheetReading};
use tapcross::ui::view::action::{Action, Command, Tables};
use tapcross::units::Power;

type App<'a> = Harness<'a, TapcrossApp>;

const ONE: &str = "ESP (in. w.c.);Low;Low draw;High;High draw\n0,10;1010;310;1205;420\n0,20;990;300;1180;410\n0,30;960;285;1140;395\n";
const TWO: &str =
    "Model,Tap,ESP,CFM\nA 1,Low,0.1,1010\nA 1,Low,0.2,990\nB 2,Low,0.1,800\nB 2,Low,0.2,780\nC 3,Low,0.1,7\n";

fn app<'a>(folder: &Path, answers: Vec<PathBuf>) -> App<'a> {
    let own = folder.join("own");
    Harness::builder().with_size(vec2(1440.0, 900.0)).with_max_steps(12).build_eframe(move |cc| {
        let dialogs = Box::new(ScriptedDialogs::answering(answers.into_iter().map(Some)));
        let start = Start { places: Some(Places::within(&own)), dialogs, ..Start::alone() };
        TapcrossApp::new(&cc.egui_ctx, start)
    })
}

fn file(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, text).unwrap();
    path
}

fn run(app: &mut App<'_>, action: Action) {
    let ctx = app.ctx.clone();
    app.state_mut().run(action, &ctx);
    app.run_steps(4);
}

fn press(app: &mut App<'_>, modifiers: Modifiers, key: Key) {
    app.key_press_modifiers(modifiers, key);
    app.run_steps(4);
}

fn reading<'a>(app: &'a App<'_>) -> &'a SheetReading {
    app.state().view().table_sheet.as_ref().expect("the file is looked at").reading()
}

/// Picks from a list by keys alone.
fn pick(app: &mut App<'_>, list: &str, letter: &str) {
    app.get_by_role_and_label(Role::ComboBox, list).focus();
    app.run_steps(2);
    press(app, Modifiers::NONE, Key::ArrowDown);
    app.run_steps(2);
    app.event(Event::Text(letter.to_owned()));
    app.run_steps(2);
    press(app, Modifiers::NONE, Key::Enter);
    app.run_steps(4);
}

#[test]
fn a_file_is_opened_corrected_and_taken_into_the_job_by_keys_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = file(folder.path(), "one.csv", ONE);
    let mut app = app(folder.path(), vec![path]);
    app.run_steps(3);
    press(&mut app, Modifiers::COMMAND, Key::I);
    app.run_steps(3);
    assert!(reading(&app).is_taken(), "{:?}", reading(&app).refused);
    assert_eq!(reading(&app).tables[0].taps, ["Low", "Low draw", "High", "High draw"]);
    app.get_by_label("1010: airflow");
    app.get_by_label("Low draw: heading");
    app.get_by_label("0,10: static");
    pick(&mut app, "Column 3", "w");
    pick(&mut app, "Column 5", "l");
    assert_eq!(
        reading(&app).rows[1].became,
        [Became::Static, Became::Airflow, Became::Watts, Became::Airflow, Became::LeftOut]
    );
    pick(&mut app, "Column 5", "w");
    app.get_by_label("420: watts");
    // What kind of machine it is nobody has said, and nothing is assumed.
    assert!(!reading(&app).is_ready());
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    assert!(app.state().view().table_editor.is_none(), "a machine of no kind is not opened");
    app.get_by_label_contains("What kind of machine is it?");
    pick(&mut app, "Machine", "a");
    assert!(reading(&app).is_ready());
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    let editor = app.state().view().table_editor.as_ref().expect("the editor is open");
    assert_eq!(editor.draft().head.source, "Read from one.csv");
    assert_eq!(editor.draft().head.kind, EquipmentKind::DrawThroughAirHandler);
    assert!(app.state().view().table_sheet.is_none());
    // The name has the keys, as in a new table.
    app.event(Event::Text("Test furnace 80".to_owned()));
    app.run_steps(3);
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    let table = app.state().job().machine.as_ref().expect("the job has the table");
    assert_eq!((table.name.as_str(), table.illustrative), ("Test furnace 80", false));
    let names: Vec<&str> = table.taps.iter().map(|tap| tap.name.as_str()).collect();
    assert_eq!(names, ["Low", "High"]);
    let watts: Vec<_> = table.taps[1].data.rows().iter().map(|row| row.power.map(Power::watts)).collect();
    assert_eq!(watts, [Some(420.0), Some(410.0), Some(395.0)]);
}

#[test]
fn several_machines_are_kept_at_once_and_what_is_not_sound_stays() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app(folder.path(), Vec::new());
    run(&mut app, Action::OpenTable(file(folder.path(), "two.csv", TWO)));
    assert_eq!(reading(&app).tables.len(), 3);
    app.get_by_label("Keep 0 of 3 in my tables");
    pick(&mut app, "Machine", "f");
    app.get_by_label("Keep 2 of 3 in my tables").click();
    app.run_steps(4);
    let (kept, problems) = load_folder(&Places::within(&folder.path().join("own")).blowers);
    let names: Vec<&str> = kept.iter().map(|entry| entry.table.name.as_str()).collect();
    assert_eq!((names, problems), (vec!["A 1", "B 2"], Vec::new()));
    assert!(app.state_mut().notices().iter().any(|said| said.starts_with("2 tables are among your own")));
    run(&mut app, Command::PickBlower.into());
    app.get_by_label("A 1");
}

#[test]
fn a_table_is_written_for_spreadsheets_and_whole_and_both_are_read_back() {
    let folder = tempfile::tempdir().unwrap();
    let paths: Vec<PathBuf> = ["out.csv", "out.tsv", "out.ron"].map(|name| folder.path().join(name)).to_vec();
    let mut app = app(folder.path(), paths.clone());
    let before = app.state().job().machine.clone().unwrap();
    for _ in &paths {
        press(&mut app, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::I);
        app.run_steps(4);
    }
    for path in &paths[..2] {
        let text = std::fs::read_to_string(path).unwrap();
        let again = SheetReading::of(&text, "out", &Choices::default()).tables[0].read().0;
        assert_eq!((&again.name, &again.taps), (&before.name, &before.taps), "{}", path.display());
    }
    run(&mut app, Action::OpenTable(paths[2].clone()));
    let editor = app.state().view().table_editor.as_ref().expect("the editor is open");
    assert_eq!(editor.read().0, &before, "all of it");
    assert!(!editor.is_changed());
    // A file that is there is asked about first.
    press(&mut app, Modifiers::NONE, Key::Escape);
    run(&mut app, Action::TableTo(paths[0].clone(), Tables::Job));
    assert!(app.state().view().confirm.as_ref().expect("a question").question.starts_with("There is a file already"));
}

#[test]
fn what_cannot_be_read_is_told_and_nothing_opens() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app(folder.path(), Vec::new());
    let cases = [
        ("book.xlsx", &b"PK\x03\x04...."[..], "This is a spreadsheet's own file"),
        ("nought.csv", &b"a\0b"[..], "The file is not text"),
    ];
    for (name, bytes, said) in cases {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        run(&mut app, Action::OpenTable(path));
        assert!(app.state_mut().notices().iter().any(|told| told.starts_with(said)), "{name}");
        assert!(app.state().view().table_sheet.is_none());
    }
    run(&mut app, Action::OpenTable(folder.path().to_path_buf()));
    assert!(app.state_mut().notices().iter().any(|told| told.starts_with("This is a folder")));
    run(
        &mut app,
        Action::OpenTable(file(folder.path(), "mixed.csv", "ESP (in. w.c.),ESP (Pa),1\n0.1,25,900\n0.2,50,800\n")),
    );
    let nodes = app.root().children_recursive();
    let shown: Vec<String> = nodes.filter_map(|node| node.accesskit_node().value()).collect();
    assert!(shown.iter().any(|text| text.contains("Two units of static pressure are named")), "{shown:?}");
    press(&mut app, Modifiers::COMMAND, Key::Enter);
    assert!(app.state().view().table_editor.is_none(), "what is refused is not taken");
    press(&mut app, Modifiers::NONE, Key::Escape);
    assert!(app.state().view().table_sheet.is_none());
}

#[test]
fn a_table_half_typed_is_not_given_up_for_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut app = app(folder.path(), Vec::new());
    app.run_steps(2);
    press(&mut app, Modifiers::COMMAND, Key::T);
    app.event(Event::Text("Half a table".to_owned()));
    app.run_steps(3);
    run(&mut app, Action::OpenTable(file(folder.path(), "one.csv", ONE)));
    assert!(app.state().view().table_sheet.is_none());
    assert!(app.state_mut().notices().iter().any(|told| told.starts_with("A table is being typed")));
}

/// A file of three machines, one of them wrong, with a good many rows.
fn long() -> String {
    let mut text = "Model;Speed;ESP (Pa);Airflow (L/s);Watts;Remark\n".to_owned();
    for (model, most) in [("Furnace 60, upflow (invented)", 520), ("Furnace 80 (invented)", 640), ("Furnace 100", 7)] {
        for (rank, speed) in ["Low", "Medium", "High"].iter().enumerate() {
            for row in 1..=8 {
                let airflow = (most * (8 + rank) / 10_usize).saturating_sub(row * 9);
                let watts = 180 + 60 * rank + row * 8;
                let esp = row * 25;
                writeln!(text, "{model};{speed};{esp};{airflow},5;{watts};read by eye").unwrap();
            }
        }
    }
    text
}

/// A word for a kind in the title is offered, and nothing can be used until somebody has taken it or another.
#[test]
fn the_kind_that_a_title_names_is_a_guess_to_be_confirmed() {
    let folder = tempfile::tempdir().unwrap();
    let path =
        file(folder.path(), "elm.csv", "Elm furnace 40 airflow (L/s)\nESP (Pa),Low,High\n25,480,570\n50,460,550\n");
    let mut app = app(folder.path(), vec![]);
    run(&mut app, Action::OpenTable(path));
    assert!(!reading(&app).is_ready());
    app.get_by_label("Furnace, by its name").click();
    app.run_steps(4);
    assert!(reading(&app).is_ready());
    assert_eq!(reading(&app).tables[0].head.kind, EquipmentKind::Furnace);
    assert!(app.query_by_label("Furnace, by its name").is_none());
}

#[test]
fn it_is_drawn_at_every_size_in_both_themes() {
    if pictures::cannot_be_taken() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let path = file(folder.path(), "blowers.csv", &long());
    let down = file(
        folder.path(),
        "down.csv",
        "Furnace 60 (invented)\nSpeed,,0.1,0.2,0.3,0.4\nLow,CFM,1010,990,960,930\n,Watts,310,300,290,280\nHigh,CFM,1205,1180,1140,1100\n,Watts,420,410,400,390\n",
    );
    let looks = [
        ("sheet-light", [1440.0, 900.0], 1.0, Theme::Light, &path),
        ("sheet-dark", [1440.0, 900.0], 1.0, Theme::Dark, &path),
        ("sheet-small-light", [1024.0, 700.0], 1.0, Theme::Light, &path),
        ("sheet-double-dark", [720.0, 450.0], 2.0, Theme::Dark, &path),
        ("sheet-down-light", [1440.0, 900.0], 1.0, Theme::Light, &down),
        ("sheet-down-small-dark", [1024.0, 700.0], 1.0, Theme::Dark, &down),
    ];
    for (name, size, scale, theme, path) in looks {
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
        pictures::take(&mut app, name);
    }
}
