//! A person's folder of ten thousand tables: the window is there before they are, and finding one is quick.

use std::fs;
use std::time::{Duration, Instant};

use eframe::egui::{Key, Modifiers, vec2};
use egui_kittest::Harness;
use tapcross::app::dialogs::ScriptedDialogs;
use tapcross::app::{Start, TapcrossApp};
use tapcross::files::blower_file;
use tapcross::files::library::{Library, LibraryEntry, Origin};
use tapcross::files::places::Places;
use tapcross::model::facts::blower::BlowerTable;

const TABLES: usize = 10_000;

/// The shipped machines over and over, each under a name of its own.
fn tables() -> Vec<BlowerTable> {
    let shipped = Library::shipped().0.entries.into_iter().map(|entry| entry.table);
    let shipped: Vec<BlowerTable> = shipped.collect();
    let named = |(number, table): (usize, &BlowerTable)| BlowerTable {
        name: format!("{} no. {number}", table.name),
        ..table.clone()
    };
    shipped.iter().cycle().take(TABLES).enumerate().map(named).collect()
}

fn found(app: &Harness<'_, TapcrossApp>) -> usize {
    app.state().view().picker.as_ref().map_or(0, |picker| picker.found.len())
}

/// Far more than it takes, and far less than reading the tables takes in a test build.
const FIRST_FRAME: Duration = Duration::from_secs(5);
/// A key of search in a test build on a busy machine; the program itself takes a twentieth.
const A_KEY: Duration = Duration::from_millis(100);

#[test]
fn the_window_does_not_wait_for_ten_thousand_tables() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::within(folder.path());
    fs::create_dir_all(&places.blowers).unwrap();
    for (number, table) in tables().iter().enumerate() {
        fs::write(places.blowers.join(format!("{number:05}.ron")), blower_file::write(table)).unwrap();
    }
    let start =
        Start { job: None, places: Some(places), dialogs: Box::new(ScriptedDialogs::default()), ..Start::alone() };
    let began = Instant::now();
    let mut app: Harness<'_, TapcrossApp> =
        Harness::builder().with_size(vec2(1440.0, 900.0)).build_eframe(|cc| TapcrossApp::new(&cc.egui_ctx, start));
    let first = began.elapsed();
    assert!(first < FIRST_FRAME, "the first frame came after {first:?}");
    app.key_press_modifiers(Modifiers::COMMAND, Key::B);
    app.step();
    let at_first = found(&app);
    while found(&app) < (at_first + 1000).min(TABLES) {
        app.step();
        assert!(began.elapsed() < Duration::from_mins(2), "{at_first} tables, then {}", found(&app));
    }
}

#[test]
fn a_key_of_search_among_ten_thousand_tables_is_quick() {
    let entries = tables().into_iter().map(|table| LibraryEntry::new(table, Origin::Shipped("none")));
    let library = Library::of(entries.collect());
    let words = "gf-80t no. 49";
    for end in 1..=words.len() {
        let began = Instant::now();
        assert!(!library.search(&words[..end]).is_empty());
        assert!(began.elapsed() < A_KEY, "{:?} took {:?}", &words[..end], began.elapsed());
    }
}
