//! The library as a person keeps it, in the real program: folders, twins, changing, copying, moving, giving away, and the job's own copy beside it.

#[path = "support/window.rs"]
#[expect(dead_code, reason = "each suite uses a part of the shared module")]
mod window;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::{Event, Key, Modifiers, Theme, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::edit::Edit;
use tapcross::files::blower_file;
use tapcross::files::library::Library;
use tapcross::files::places::Places;
use tapcross::model::facts::blower::{BlowerTable, Cell, TapData};
use tapcross::model::facts::change::{ChangeKind, Replacement};
use tapcross::ui::view::action::{Action, Command};
use tapcross::units::{Airflow, Pressure};
use tempfile::TempDir;
use window::{App, key, press, run, says, settle, texts};

fn shipped(name_start: &str) -> BlowerTable {
    let entries = Library::shipped().0.entries;
    entries.into_iter().map(|entry| entry.table).find(|table| table.name.starts_with(name_start)).unwrap()
}

/// The shipped 3½-ton air handler, under a name of its own and no longer invented.
fn own(name: &str) -> BlowerTable {
    BlowerTable { name: name.to_owned(), illustrative: false, ..shipped("AH-42T") }
}

/// The table with another airflow in one row of its third tap.
fn mistyped(table: &BlowerTable) -> BlowerTable {
    let mut other = table.clone();
    if let TapData::Column(rows) = &mut other.taps[2].data {
        let row = rows.iter_mut().find(|row| row.esp == Pressure::from_in_wc(0.5)).unwrap();
        row.cell = Cell::Airflow(Airflow::from_cfm(1230.0), None);
    }
    other
}

/// A window on a library with these files.
struct Shelf {
    root: TempDir,
    app: App,
}

impl Shelf {
    fn of(files: &[(&str, BlowerTable)], answers: Vec<Option<PathBuf>>) -> Self {
        Self::sized(files, answers, [1440.0, 900.0], Theme::Light)
    }

    fn sized(files: &[(&str, BlowerTable)], answers: Vec<Option<PathBuf>>, size: [f32; 2], theme: Theme) -> Self {
        let root = tempfile::tempdir().unwrap();
        let places = Places::within(root.path());
        for (name, table) in files {
            let path = places.blowers.join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, blower_file::write(table)).unwrap();
        }
        let dialogs = Box::new(ScriptedDialogs::answering(answers));
        let start = Start { places: Some(places), dialogs, ..Start::alone() };
        let mut app: App = Harness::builder()
            .with_size(vec2(size[0], size[1]))
            .with_theme(theme)
            .build_eframe(move |context| TapcrossApp::new(&context.egui_ctx, start));
        settle(&mut app);
        Self { root, app }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.root.path().join("blowers").join(name)
    }

    fn table(&self, name: &str) -> BlowerTable {
        blower_file::parse(&fs::read_to_string(self.path(name)).unwrap()).unwrap()
    }

    /// Opens the list and types words into it.
    fn find(&mut self, words: &str) {
        self.app.key_press_modifiers(Modifiers::COMMAND, Key::B);
        settle(&mut self.app);
        self.app.event(Event::Text(words.to_owned()));
        settle(&mut self.app);
    }
}

/// Types over what stands in the field in hand.
fn retype(app: &mut App, text: &str) {
    app.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(app);
    app.event(Event::Text(text.to_owned()));
    settle(app);
}

fn machine(app: &App) -> &BlowerTable {
    app.state().job().machine.as_ref().unwrap()
}

fn said(app: &App, fragment: &str) {
    assert!(says(app, fragment), "{fragment:?} is not said: {:?}", texts(app));
}

#[test]
fn the_list_says_where_a_table_lies_and_finds_it_by_its_folder() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder")), ("Furnaces/Two-stage/b.ron", own("Birch"))], vec![]);
    shelf.find("two-stage");
    said(&shelf.app, "Birch, in Furnaces / Two-stage");
    said(&shelf.app, "Your own table, in Furnaces / Two-stage");
    assert!(shelf.app.query_by_label("Alder").is_none());
    key(&mut shelf.app, Key::Enter);
    assert_eq!(machine(&shelf.app).name, "Birch");
}

#[test]
fn a_table_that_is_there_twice_and_two_of_one_name_are_told_where_they_are_met() {
    let alder = own("Alder");
    let files = [("a.ron", alder.clone()), ("Old/a.ron", alder.clone()), ("Shop/a.ron", mistyped(&alder))];
    let mut shelf = Shelf::of(&files, vec![]);
    shelf.find("alder");
    said(&shelf.app, "The very same table lies in Old too");
    key(&mut shelf.app, Key::ArrowDown);
    said(&shelf.app, "The very same table lies among your own, in no folder too");
    key(&mut shelf.app, Key::ArrowDown);
    said(
        &shelf.app,
        "Another of this name lies among your own, in no folder; this one against that: tap 3 at 0.50 in. w.c.: 1,230 against ",
    );
    assert!(!says(&shelf.app, "and 1 more"));
}

#[test]
fn a_table_of_ones_own_is_changed_where_it_lies_and_no_job_with_it() {
    let mut shelf = Shelf::of(&[("Furnaces/a.ron", own("Alder"))], vec![]);
    let before = shelf.app.state().job().clone();
    shelf.find("alder");
    press(&mut shelf.app, "Change…");
    retype(&mut shelf.app, "Alder, from the door panel");
    press(&mut shelf.app, "Keep in my tables");
    assert_eq!(shelf.table("Furnaces/a.ron").name, "Alder, from the door panel");
    assert_eq!(fs::read_dir(shelf.path("")).unwrap().count(), 1, "nothing else was written");
    assert_eq!(*shelf.app.state().job(), before);
    assert!(shelf.app.state().view().table_editor.is_none());
    said(&shelf.app, "Alder, from the door panel, in Furnaces");
}

#[test]
fn a_shipped_table_is_changed_as_a_copy() {
    let mut shelf = Shelf::of(&[], vec![]);
    let before = shelf.app.state().job().clone();
    shelf.find("gf-80t");
    said(&shelf.app, "It ships with the program and is changed as a copy");
    assert!(shelf.app.query_by_label("Change…").is_none() && shelf.app.query_by_label("Move…").is_none());
    press(&mut shelf.app, "Copy…");
    press(&mut shelf.app, "Keep in my tables");
    let original = shipped("GF-80T");
    let copy = shelf.app.state().view().picker.as_ref().unwrap().words.clone();
    assert_eq!(copy, format!("{} (copy)", original.name));
    let files: Vec<PathBuf> = fs::read_dir(shelf.path("")).unwrap().map(|entry| entry.unwrap().path()).collect();
    assert_eq!(files.len(), 1);
    let kept = blower_file::parse(&fs::read_to_string(&files[0]).unwrap()).unwrap();
    assert_eq!(kept, BlowerTable { name: copy, ..original });
    assert_eq!(*shelf.app.state().job(), before);
}

#[test]
fn a_copy_lies_in_the_folder_of_its_original_and_both_stay() {
    let mut shelf = Shelf::of(&[("Furnaces/alder-copy.ron", own("Alder"))], vec![]);
    shelf.find("alder");
    press(&mut shelf.app, "Copy…");
    press(&mut shelf.app, "Keep in my tables");
    assert_eq!(shelf.table("Furnaces/alder-copy.ron").name, "Alder");
    assert_eq!(shelf.table("Furnaces/alder-copy-2.ron").name, "Alder (copy)");
}

/// What was opened from the library must not decide over a table that comes from elsewhere.
#[test]
fn a_table_typed_after_one_of_the_library_was_looked_at_replaces_nothing() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder"))], vec![]);
    shelf.find("alder");
    press(&mut shelf.app, "Change…");
    press(&mut shelf.app, "Close");
    run(&mut shelf.app, Command::EditTable.into());
    press(&mut shelf.app, "Keep in my tables");
    assert_eq!(shelf.table("a.ron"), own("Alder"));
}

#[test]
fn a_table_is_moved_into_a_new_folder_by_key_and_a_bad_name_is_refused() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder")), ("Furnaces/b.ron", own("Birch"))], vec![]);
    shelf.find("alder");
    press(&mut shelf.app, "Move…");
    said(&shelf.app, "Move Alder");
    for (name, word) in
        [("a/b", "cannot have / in it"), ("CON", "keep for a device"), ("..", "begins or ends with a dot")]
    {
        retype(&mut shelf.app, name);
        key(&mut shelf.app, Key::Enter);
        said(&shelf.app, word);
        assert!(shelf.path("a.ron").exists());
    }
    retype(&mut shelf.app, "Heat pumps");
    key(&mut shelf.app, Key::Enter);
    assert!(!shelf.path("a.ron").exists());
    assert_eq!(shelf.table("Heat pumps/a.ron").name, "Alder");
    said(&shelf.app, "Alder, in Heat pumps");
    assert!(shelf.app.state().view().picker.as_ref().is_some_and(|picker| picker.moving.is_none()));
    // Escape closes the question alone.
    press(&mut shelf.app, "Move…");
    key(&mut shelf.app, Key::Escape);
    assert!(shelf.app.state().view().picker.as_ref().is_some_and(|picker| picker.moving.is_none()));
    // With no name typed it goes nowhere from the folder in which it lies.
    press(&mut shelf.app, "Move…");
    press(&mut shelf.app, "Move");
    said(&shelf.app, "Not moved: the table lies in that folder already");
}

/// In a list that was closed and opened again, a question lies over it again and has the keys.
#[test]
fn a_question_that_was_asked_before_comes_over_the_list_again() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder"))], vec![]);
    for round in 0..3 {
        shelf.find("alder");
        // By the pointer, whose press brings the list to the top.
        let at = shelf.app.get_by_label("Move…").rect().center();
        for step in [App::hover_at, App::drag_at, App::drop_at] {
            step(&shelf.app, at);
            shelf.app.run_steps(2);
        }
        settle(&mut shelf.app);
        if round < 2 {
            key(&mut shelf.app, Key::Escape);
            key(&mut shelf.app, Key::Escape);
            assert!(shelf.app.state().view().picker.is_none(), "closed in round {round}");
        }
    }
    retype(&mut shelf.app, "Heat pumps");
    key(&mut shelf.app, Key::Enter);
    assert_eq!(shelf.table("Heat pumps/a.ron").name, "Alder");
}

/// The arrows choose a row, so that Tab need not go through them.
#[test]
fn one_tab_from_the_search_goes_to_the_work_on_the_table() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder")), ("b.ron", own("Birch"))], vec![]);
    shelf.find("");
    key(&mut shelf.app, Key::ArrowDown);
    key(&mut shelf.app, Key::Tab);
    key(&mut shelf.app, Key::Enter);
    let editor = shelf.app.state().view().table_editor.as_ref().expect("Change… was pressed");
    assert_eq!(editor.read().0.name, "Birch");
}

#[test]
fn the_work_on_a_row_is_opened_beside_it_and_takes_no_table() {
    let mut shelf = Shelf::of(&[("a.ron", own("Alder")), ("b.ron", own("Birch"))], vec![]);
    let before = machine(&shelf.app).clone();
    shelf.find("");
    press(&mut shelf.app, "Work on Birch");
    assert_eq!(shelf.app.state().view().picker.as_ref().unwrap().cursor, 1);
    assert_eq!(*machine(&shelf.app), before);
    press(&mut shelf.app, "Move…");
    said(&shelf.app, "Move Birch");
}

#[test]
fn a_table_is_written_whole_and_opens_on_another_computer_by_a_drop() {
    let elsewhere = tempfile::tempdir().unwrap();
    let file = elsewhere.path().join("for-you.ron");
    let mut shelf = Shelf::of(&[("Furnaces/a.ron", own("Alder"))], vec![Some(file.clone())]);
    shelf.find("alder");
    press(&mut shelf.app, "Write as a file…");
    settle(&mut shelf.app);
    assert_eq!(blower_file::parse(&fs::read_to_string(&file).unwrap()), Ok(own("Alder")));
    let mut other = Shelf::of(&[], vec![]);
    other.app.input_mut().dropped_files.push(Arc::new(Dropped(file.clone())));
    settle(&mut other.app);
    let editor = other.app.state().view().table_editor.as_ref().expect("the editor has opened");
    assert_eq!(*editor.read().0, own("Alder"));
}

#[test]
fn several_tables_that_are_dropped_are_kept_and_a_file_that_is_left_is_told() {
    let elsewhere = tempfile::tempdir().unwrap();
    let path = |name: &str| elsewhere.path().join(name);
    fs::write(path("a.ron"), blower_file::write(&own("Alder"))).unwrap();
    fs::write(path("b.ron"), blower_file::write(&own("Birch"))).unwrap();
    fs::write(path("c.csv"), "ESP;Low (m³/h)\n0,1;1800\n").unwrap();
    let mut shelf = Shelf::of(&[], vec![]);
    let drop_on = |shelf: &mut Shelf, names: &[&str]| {
        for name in names {
            shelf.app.input_mut().dropped_files.push(Arc::new(Dropped(path(name))));
        }
        settle(&mut shelf.app);
    };
    drop_on(&mut shelf, &["a.ron", "b.ron"]);
    assert_eq!((shelf.table("alder.ron"), shelf.table("birch.ron")), (own("Alder"), own("Birch")));
    assert!(shelf.app.state_mut().notices().iter().any(|told| told.starts_with("2 tables are among your own")));
    drop_on(&mut shelf, &["a.ron", "c.csv"]);
    let told = shelf.app.state_mut().notices();
    assert!(
        told.iter().any(|told| told.starts_with("One file is opened at a time, and the other one is left")),
        "{told:?}"
    );
    assert!(shelf.app.state().view().table_editor.is_some(), "the first is looked at");
}

/// What another window wrote into the file since it was read is not written over unasked.
#[test]
fn a_file_that_another_window_has_written_is_asked_about() {
    for (answer, first, second) in [
        ("Replace it", "Alder, mine", None),
        ("Keep both", "Alder, theirs", Some("Alder, mine")),
        ("Keep the file as it is", "Alder, theirs", None),
    ] {
        let mut shelf = Shelf::of(&[("Old/alder-mine.ron", own("Alder"))], vec![]);
        shelf.find("alder");
        press(&mut shelf.app, "Change…");
        retype(&mut shelf.app, "Alder, mine");
        fs::write(shelf.path("Old/alder-mine.ron"), blower_file::write(&own("Alder, theirs"))).unwrap();
        press(&mut shelf.app, "Keep in my tables");
        said(&shelf.app, "The table's file is not what was read here");
        press(&mut shelf.app, answer);
        assert_eq!(shelf.table("Old/alder-mine.ron").name, first, "{answer}");
        let other = shelf.path("Old/alder-mine-2.ron");
        assert_eq!(other.exists().then(|| shelf.table("Old/alder-mine-2.ron").name).as_deref(), second, "{answer}");
        assert_eq!(shelf.app.state().view().table_editor.is_some(), answer == "Keep the file as it is", "{answer}");
    }
}

#[test]
fn every_table_that_is_listed_goes_on_one_sheet_unless_two_have_one_name() {
    let elsewhere = tempfile::tempdir().unwrap();
    let (file, whole) = (elsewhere.path().join("all.csv"), elsewhere.path().join("all.ron"));
    let files = [("a.ron", own("Alder")), ("b.ron", own("Birch")), ("Old/a.ron", mistyped(&own("Alder")))];
    let mut shelf = Shelf::of(&files, vec![Some(file.clone()), Some(whole.clone()), Some(file.clone())]);
    shelf.find("birch");
    assert!(shelf.app.query_by_label("Write all 1…").is_none());
    key(&mut shelf.app, Key::Escape);
    shelf.find("ah-4");
    press(&mut shelf.app, "Write all 2…");
    settle(&mut shelf.app);
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("AH-42T") && text.contains("AH-48T"), "{text}");
    shelf.find("ah-4");
    press(&mut shelf.app, "Write all 2…");
    settle(&mut shelf.app);
    said(&shelf.app, "A .ron holds one table, and these are 2");
    assert!(!whole.exists());
    fs::remove_file(&file).unwrap();
    shelf.find("alder");
    press(&mut shelf.app, "Write all 2…");
    settle(&mut shelf.app);
    said(&shelf.app, "Two of these tables are named \"Alder\"");
    assert!(!file.exists());
}

/// A file that a hand lets go over the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl eframe::egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A window whose job has a table of a name that the library has with other contents.
fn differing(files: &[(&str, BlowerTable)], job: &BlowerTable) -> Shelf {
    let mut shelf = Shelf::of(files, vec![]);
    run(&mut shelf.app, Action::UseTable(Box::new(job.clone())));
    shelf
}

const DIFFERS: &str = "This job's table is not the library's of that name; job against library: ";

#[test]
fn a_jobs_copy_that_is_not_the_one_of_the_library_says_so_and_takes_it_in_one_step() {
    let alder = own("Alder");
    let mut shelf = differing(&[("a.ron", alder.clone())], &mistyped(&alder));
    said(&shelf.app, &format!("{DIFFERS}tap 3 at 0.50 in. w.c.: 1,230 against "));
    press(&mut shelf.app, "Take the library's");
    assert_eq!(*machine(&shelf.app), alder);
    assert!(!says(&shelf.app, DIFFERS));
    run(&mut shelf.app, Command::Undo.into());
    assert_eq!(*machine(&shelf.app), mistyped(&alder));
    said(&shelf.app, DIFFERS);
}

#[test]
fn a_jobs_copy_that_means_the_same_says_nothing() {
    let alder = own("Alder");
    let mut turned = alder.clone();
    turned.taps.reverse();
    for job in [alder.clone(), turned] {
        let shelf = differing(&[("a.ron", alder.clone())], &job);
        assert!(!says(&shelf.app, DIFFERS), "{:?}", texts(&shelf.app));
    }
}

#[test]
fn a_jobs_copy_is_kept_beside_that_of_the_library_or_in_its_place() {
    let alder = own("Alder");
    let job = mistyped(&alder);
    for (answer, first, second) in
        [("Keep both", &alder, Some(&job)), ("Replace that one", &job, None), ("Keep that one alone", &alder, None)]
    {
        let mut shelf = differing(&[("alder.ron", alder.clone())], &job);
        let before = shelf.app.state().job().clone();
        press(&mut shelf.app, "Put this one into my tables…");
        press(&mut shelf.app, answer);
        assert_eq!(shelf.table("alder.ron"), *first, "{answer}");
        assert_eq!(shelf.path("alder-2.ron").exists().then(|| shelf.table("alder-2.ron")), second.cloned(), "{answer}");
        assert_eq!(*shelf.app.state().job(), before, "{answer}");
        assert_eq!(says(&shelf.app, DIFFERS), answer == "Keep that one alone", "{answer}");
    }
}

#[test]
fn a_jobs_copy_of_a_shipped_name_is_kept_without_a_question() {
    let job = mistyped(&shipped("AH-42T"));
    let mut shelf = differing(&[], &job);
    said(&shelf.app, DIFFERS);
    press(&mut shelf.app, "Put this one into my tables…");
    assert!(shelf.app.state().view().confirm.is_none());
    assert_eq!(shelf.table("ah-42t-heat-pump-air-handler-3-ton.ron"), job);
    assert!(!says(&shelf.app, DIFFERS));
}

/// A machine that was being picked for the ducts must not turn the library's table into a change.
#[test]
fn a_table_of_the_library_becomes_the_jobs_own_whatever_the_list_was_open_for_last() {
    let alder = own("Alder");
    let mut shelf = differing(&[("a.ron", alder.clone())], &mistyped(&alder));
    run(&mut shelf.app, Action::PickMachine(None));
    key(&mut shelf.app, Key::Escape);
    press(&mut shelf.app, "Take the library's");
    assert_eq!((machine(&shelf.app), shelf.app.state().job().changes.len()), (&alder, 0));
}

/// The machine of a change is the job's own copy as well; what was chosen for it stays, and taking the library's is a step of its own.
#[test]
fn another_machines_copy_is_held_against_the_library_too() {
    let alder = own("Alder");
    let mut shelf = Shelf::of(&[("a.ron", alder.clone())], vec![]);
    run(&mut shelf.app, Action::PickMachine(None));
    run(&mut shelf.app, Action::UseTable(Box::new(mistyped(&alder))));
    said(&shelf.app, &format!("{DIFFERS}tap 3 at 0.50 in. w.c.: 1,230 against "));
    let new = |shelf: &Shelf| match &shelf.app.state().job().changes[0].kind {
        ChangeKind::OtherMachine(new) => new.as_ref().clone(),
        other => panic!("{other:?}"),
    };
    let put_on = &shelf.app.state().job().changes[0];
    let changed = Replacement { tap: Some("2".to_owned()), ..new(&shelf) };
    let edit = Edit::ReplaceChange(put_on.id, ChangeKind::OtherMachine(Box::new(changed.clone())));
    run(&mut shelf.app, edit.into());
    shelf.app.get_by_label("Take the library's for the new machine").click_accesskit();
    settle(&mut shelf.app);
    assert_eq!(new(&shelf), Replacement { table: alder, ..changed.clone() });
    assert!(!says(&shelf.app, DIFFERS));
    run(&mut shelf.app, Command::Undo.into());
    assert_eq!(new(&shelf), changed);
}

#[test]
fn the_library_is_drawn_at_every_size_in_both_themes() {
    let alder = own("Alder 80, two-stage");
    let files = [
        ("Furnaces/a.ron", alder.clone()),
        ("Furnaces, two-stage, of the shop downtown/Old/a.ron", alder.clone()),
        ("Shop/a.ron", mistyped(&alder)),
        ("b.ron", own("Birch")),
    ];
    for size in [[1440.0, 900.0], [1024.0, 700.0], [720.0, 450.0]] {
        for theme in [Theme::Light, Theme::Dark] {
            let mut shelf = Shelf::sized(&files, vec![], size, theme);
            run(&mut shelf.app, Action::UseTable(Box::new(mistyped(&own("Birch")))));
            let name = |what: &str| format!("library-{what}-{}-{theme:?}", size[0]);
            picture(&mut shelf.app, &name("job"));
            shelf.find("alder");
            key(&mut shelf.app, Key::ArrowDown);
            key(&mut shelf.app, Key::ArrowDown);
            picture(&mut shelf.app, &name("list"));
            for part in ["Change…", "Move…", "Write as a file…", "Search blowers"] {
                let place = shelf.app.get_by_label(part).rect();
                let is_inside = place.min.y >= 0.0 && place.max.x <= size[0] && place.max.y <= size[1];
                assert!(is_inside, "{part} at {size:?}: {place:?}");
            }
            press(&mut shelf.app, "Move…");
            picture(&mut shelf.app, &name("move"));
        }
    }
}

/// Writes what is drawn beside the build, for a person to look at.
fn picture(app: &mut App, name: &str) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    fs::create_dir_all(&folder).unwrap();
    app.render().expect("a picture").save(folder.join(format!("{name}.png"))).unwrap();
}
