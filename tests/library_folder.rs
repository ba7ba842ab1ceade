//! A person's own tables: bad files, loading, saving, and finding them by search.

use std::fs;
use std::path::Path;

use tapcross::files::blower_file;
use tapcross::files::library::{self, Library, LibraryEntry, Origin};
use tapcross::model::facts::blower::BlowerTable;

fn machine(name_start: &str) -> BlowerTable {
    let entries = Library::shipped().0.entries;
    let found = entries.into_iter().find(|entry| entry.table.name.starts_with(name_start));
    found.unwrap_or_else(|| panic!("no machine {name_start}")).table
}

#[test]
fn a_bad_file_gets_one_sentence_that_names_what_is_wrong() {
    let rows: &[(&str, &[&str])] = &[
        (
            "newer_version",
            &["written by a newer Tapcross (format 3, this program reads up to 1)", "nothing is changed"],
        ),
        ("truncated", &["line 15, column 25", "cut short"]),
        ("unknown_field", &["line 10", "no field colour", "rated_maximum"]),
        ("inches_said_as_pascals", &["units.pressure is Pascals", "0.5", "mean InchesOfWater?"]),
        ("pascals_said_as_inches", &["units.pressure is InchesOfWater", "125", "mean Pascals?"]),
        ("watts_of_a_tap_that_is_not_there", &["watts row at 0.1 needs 2 cells", "(1, 2)", "has 3"]),
        ("range_of_a_tap_that_is_not_there", &["ranges names the tap \"3\"", "(1, 2)"]),
        ("watts_at_an_esp_that_is_not_there", &["watts row at 0.6", "airflow grid"]),
        ("row_too_short", &["airflow row at 0.5 needs 2 cells", "(1, 2)", "has 1"]),
        ("nonsense_cell", &["line 15", "\"plenty\"", "not given", "not allowed"]),
        ("cell_of_the_wrong_kind", &["line 15", "a number or a text"]),
        ("unknown_kind", &["line 5", "Boiler", "Furnace"]),
        ("missing_units", &["the field units is missing"]),
        ("unknown_unit", &["line 9", "Gallons", "Cfm"]),
        ("heat_without_unit", &["output of 64000", "BtuPerHour or Kilowatts"]),
        ("one_point_without_exponent", &["corrections.wet_coil", "1000", "exponent"]),
        ("a_job", &["Tapcross job"]),
        ("no_ron_at_all", &["not a Tapcross blower table"]),
        ("another_ron", &["not a Tapcross blower table", "tapcross_blower: 1"]),
    ];
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/bad_blowers");
    for (name, fragments) in rows {
        let text = fs::read_to_string(folder.join(format!("{name}.ron"))).unwrap();
        let sentence = blower_file::parse(&text).unwrap_err().to_string();
        for fragment in *fragments {
            assert!(sentence.contains(fragment), "{name}: {sentence:?} lacks {fragment:?}");
        }
        assert!(!sentence.contains('\n') && !sentence.ends_with('.'), "{name}: {sentence:?} is one sentence");
    }
    assert_eq!(fs::read_dir(folder).unwrap().count(), rows.len(), "every bad file has its row");
}

#[test]
fn one_bad_file_does_not_stop_the_others() {
    let folder = tempfile::tempdir().unwrap();
    let table = machine("AH-42T");
    let good = library::save_own(folder.path(), &table).unwrap();
    fs::write(folder.path().join("aaa.ron"), "(tapcross_blower: 1, name: ").unwrap();
    fs::write(folder.path().join("bbb.ron"), [0xff, 0xfe, 0x00]).unwrap();
    fs::write(folder.path().join("notes.txt"), "not a table").unwrap();
    let mut no_tap = table.clone();
    no_tap.calls[0].1 = "9".to_owned();
    fs::write(folder.path().join("ccc.ron"), blower_file::write(&no_tap)).unwrap();
    let (entries, problems) = library::load_folder(folder.path());
    assert_eq!(entries, [LibraryEntry::new(table, Origin::Own(good))]);
    let expected = [("aaa.ron", "is cut short"), ("bbb.ron", "is not text"), ("ccc.ron", "\"9\"")];
    assert_eq!(problems.len(), expected.len(), "{problems:?}");
    for (problem, (name, fragment)) in problems.iter().zip(expected) {
        assert!(problem.path.ends_with(name) && problem.message.contains(fragment), "{problem:?}");
    }
}

#[test]
fn a_folder_that_is_not_there_is_an_empty_library() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(library::load_folder(&folder.path().join("none")), (vec![], vec![]));
}

#[test]
fn saving_never_overwrites_a_different_table() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("deep/blowers");
    let mut table = machine("AH-42T");
    let path = library::save_own(&own, &table).unwrap();
    assert_eq!(path.file_name().unwrap(), "ah-42t-heat-pump-air-handler-3-ton.ron");
    assert_eq!(library::save_own(&own, &table).unwrap(), path, "the same table again is no conflict");
    let before = fs::read_to_string(&path).unwrap();
    table.notes = "other".to_owned();
    let refusal = library::save_own(&own, &table).unwrap_err().to_string();
    assert!(refusal.contains("AH-42T") && refusal.contains("another name"), "{refusal}");
    assert_eq!(fs::read_to_string(&path).unwrap(), before);
    library::replace_own(&path, &table).unwrap();
    assert_eq!(blower_file::parse(&fs::read_to_string(&path).unwrap()), Ok(table.clone()));
    table.name = "½ — ".to_owned();
    let refusal = library::save_own(&own, &table).unwrap_err().to_string();
    assert!(refusal.contains("no letter or digit"), "{refusal}");
}

#[test]
fn search_finds_by_name_motor_kind_and_size() {
    let library = Library::shipped().0;
    let check = |words: &str, first: &str, at_most: usize| {
        let found = library.search(words);
        let name = found.first().map(|&index| library.entries[index].table.name.as_str());
        assert!(name.is_some_and(|name| name.starts_with(first)), "{words:?}: {name:?}");
        assert!(found.len() <= at_most, "{words:?}: {} found", found.len());
    };
    check("ah-42t", "AH-42T", 1);
    check("AH-42", "AH-42T", 1);
    check("3.5 ton", "AH-42T", 1);
    check("3½", "AH-42T", 1);
    check("heat-pump 3½ torque", "AH-42T", 1);
    check("manufactured", "MH-70P", 1);
    check("no return duct", "MH-70P", 1);
    check("blow-through", "AH-36B", 1);
    check("furnace constant airflow", "GF-100V", 1);
    check("gf 80 two-stage", "GF-80T", 1);
    check("42 kbtu", "AH-42T", 2);
    check("gf", "GF-", 6);
    assert_eq!(library.search("").len(), library.entries.len());
    assert_eq!(library.search("zeppelin"), [] as [usize; 0]);
    assert_eq!(library.search("furnace zeppelin"), [] as [usize; 0]);
}

#[test]
fn a_name_that_begins_with_the_words_comes_first() {
    let entry = |name: &str| {
        let table = BlowerTable { name: name.to_owned(), ..BlowerTable::default() };
        LibraryEntry::new(table, Origin::Shipped("none"))
    };
    let library = Library {
        entries: vec![entry("Tall 36 ton"), entry("X 36B"), entry("Ab36"), entry("36B tall"), entry("36 big")],
    };
    assert_eq!(library.search("36b"), [3, 1]);
    assert_eq!(library.search("36"), [3, 4, 0, 1, 2]);
}

#[test]
fn a_folder_read_on_a_thread_of_its_own_gives_the_same_in_the_same_order() {
    let folder = tempfile::tempdir().unwrap();
    let mut table = machine("AH-42T");
    for number in 0..600 {
        table.name = format!("Table {number:03}");
        library::save_own(folder.path(), &table).unwrap();
        if number % 50 == 0 {
            fs::write(folder.path().join(format!("table-{number:03}-bad.ron")), "no table").unwrap();
        }
    }
    let (entries, problems) = library::load_folder(folder.path());
    assert_eq!((entries.len(), problems.len()), (600, 6));
    assert_eq!(problems[5].message, "7 more files in this folder cannot be used as blower tables");
    let (woken, wakes) = std::sync::mpsc::channel();
    let loading = library::Loading::begin(folder.path().to_path_buf(), move || woken.send(()).unwrap());
    let (batch, is_everything) = loading.wait(std::time::Duration::from_mins(1));
    assert!(is_everything && loading.poll().is_none());
    assert_eq!((batch.entries, batch.problems), (entries, problems));
    assert!(wakes.iter().count() >= 3, "woken for each batch and at the end");
}

#[test]
fn own_tables_that_come_in_later_stand_behind_the_own_ones_and_before_the_programs() {
    let own = |name: &str| {
        let table = BlowerTable { name: name.to_owned(), ..BlowerTable::default() };
        LibraryEntry::new(table, Origin::Own(name.into()))
    };
    let mut library = Library::shipped().0;
    let shipped = library.entries.len();
    library.add_own(vec![own("b"), own("c")]);
    library.add_own(vec![own("c"), own("a")]);
    let names: Vec<&str> = library.entries.iter().take(3).map(|entry| entry.table.name.as_str()).collect();
    assert_eq!((names, library.own_count(), library.entries.len()), (vec!["b", "c", "a"], 3, shipped + 3));
}
