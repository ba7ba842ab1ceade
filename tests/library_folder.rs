//! A person's own tables: bad files, loading, saving, and finding them by search.

use std::fs;
use std::path::Path;

use tapcross::files::blower_file;
use tapcross::files::library::{self, Library, LibraryEntry, Origin, Twin, folders};
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
    let library =
        Library::of(vec![entry("Tall 36 ton"), entry("X 36B"), entry("Ab36"), entry("36B tall"), entry("36 big")]);
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

/// A library with a table in each of these folders, named after its folder.
fn library_in(root: &Path, folders: &[&str]) {
    for folder in folders {
        let table = BlowerTable { name: format!("Table of {folder}"), ..machine("AH-42T") };
        let path = root.join(folder);
        fs::create_dir_all(&path).unwrap();
        fs::write(path.join("table.ron"), blower_file::write(&table)).unwrap();
    }
}

/// Folder and name of each entry.
fn listed(entries: &[LibraryEntry]) -> Vec<(String, String)> {
    entries.iter().map(|entry| (folders::words(&entry.folder), entry.table.name.clone())).collect()
}

#[test]
fn tables_in_folders_are_read_folder_by_folder_and_found_by_their_folder() {
    let root = tempfile::tempdir().unwrap();
    library_in(root.path(), &["", "Furnaces", "Furnaces/Two-stage", "Air handlers", ".hidden"]);
    let (entries, problems) = library::load_folder(root.path());
    assert_eq!(problems, []);
    let expected = ["", "Air handlers", "Furnaces", "Furnaces / Two-stage"];
    assert_eq!(listed(&entries).iter().map(|(folder, _)| folder.as_str()).collect::<Vec<_>>(), expected);
    let library = Library::of(entries);
    let found = |words: &str| library.search(words).len();
    assert_eq!((found("furnaces"), found("two-stage"), found("FURNACES two"), found("hidden")), (2, 1, 1, 0));
    let folders: Vec<String> = library.folders().into_iter().map(folders::words).collect();
    assert_eq!(folders, expected);
}

#[test]
fn a_folder_that_is_too_deep_is_told_and_the_rest_is_read() {
    let root = tempfile::tempdir().unwrap();
    let deep = |count: usize| vec!["in"; count].join("/");
    library_in(root.path(), &[&deep(folders::DEEPEST), &deep(folders::DEEPEST + 1)]);
    let (entries, problems) = library::load_folder(root.path());
    assert_eq!(entries.len(), 1);
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert_eq!(problems[0].message, "Folders more than 8 deep are not looked into for blower tables");
    assert!(problems[0].path.ends_with(deep(folders::DEEPEST + 1)));
}

#[test]
fn more_folders_than_a_library_has_are_told_once() {
    let root = tempfile::tempdir().unwrap();
    for number in 0..folders::MOST_FOLDERS + 50 {
        fs::create_dir(root.path().join(format!("{number:04}"))).unwrap();
    }
    library_in(root.path(), &["", "0000"]);
    let (entries, problems) = library::load_folder(root.path());
    assert_eq!(entries.len(), 2);
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert!(problems[0].message.starts_with("This library has more than 2000 folders"), "{problems:?}");
}

#[cfg(unix)]
#[test]
fn links_in_a_circle_end_and_a_linked_folder_is_read_once() {
    use std::os::unix::fs::symlink;
    let (root, elsewhere) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    library_in(root.path(), &["", "Furnaces"]);
    library_in(elsewhere.path(), &["", "Deep"]);
    symlink(root.path(), root.path().join("circle")).unwrap();
    symlink(root.path(), root.path().join("Furnaces/back")).unwrap();
    symlink("itself", root.path().join("itself")).unwrap();
    symlink("nowhere", root.path().join("nothing")).unwrap();
    symlink(elsewhere.path(), root.path().join("shared")).unwrap();
    symlink(elsewhere.path(), root.path().join("shared again")).unwrap();
    let (entries, problems) = library::load_folder(root.path());
    assert_eq!(problems, []);
    let folders: Vec<String> = listed(&entries).into_iter().map(|(folder, _)| folder).collect();
    assert_eq!(folders, ["", "Furnaces", "shared", "shared / Deep"]);
}

#[test]
fn a_table_is_moved_to_a_new_folder_and_never_over_another() {
    let root = tempfile::tempdir().unwrap();
    library_in(root.path(), &["", "Furnaces"]);
    let (file, text) = (root.path().join("table.ron"), fs::read_to_string(root.path().join("table.ron")).unwrap());
    let refusal = |folder: &str| library::move_own(root.path(), &file, Path::new(folder)).unwrap_err().to_string();
    assert!(
        refusal("Furnaces").starts_with("Not moved: a file of that name is there already"),
        "{}",
        refusal("Furnaces")
    );
    assert!(refusal("").starts_with("Not moved: the table lies in that folder already"), "{}", refusal(""));
    assert_eq!(fs::read_to_string(&file).unwrap(), text, "it stays where it was");
    let moved = library::move_own(root.path(), &file, Path::new("Heat pumps/Old")).unwrap();
    assert_eq!(moved, root.path().join("Heat pumps/Old/table.ron"));
    assert_eq!(fs::read_to_string(&moved).unwrap(), text);
    assert!(refusal("Furnaces").starts_with("Not moved: the table's file cannot be found"), "{}", refusal("Furnaces"));
    assert_eq!(library::load_folder(root.path()).0.len(), 2);
}

#[cfg(unix)]
#[test]
fn a_table_behind_a_link_is_not_moved() {
    let root = tempfile::tempdir().unwrap();
    library_in(root.path(), &["Furnaces"]);
    let link = root.path().join("link.ron");
    std::os::unix::fs::symlink("Furnaces/table.ron", &link).unwrap();
    let refused = library::move_own(root.path(), &link, Path::new("Old")).unwrap_err().to_string();
    assert!(refused.starts_with("Not moved: the table's file is a link"), "{refused}");
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
}

#[test]
fn a_table_is_kept_beside_others_of_its_name() {
    let root = tempfile::tempdir().unwrap();
    let table = machine("AH-42T");
    let names: Vec<String> = (0..3)
        .map(|_| library::save_beside(root.path(), &table).unwrap().file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    let stem = "ah-42t-heat-pump-air-handler-3-ton";
    assert_eq!(names, [format!("{stem}.ron"), format!("{stem}-2.ron"), format!("{stem}-3.ron")]);
}

#[test]
fn twins_are_told_apart_by_their_contents() {
    let own = |name: &str, table: &BlowerTable| LibraryEntry::new(table.clone(), Origin::Own(name.into()));
    let table = machine("AH-42T");
    let mut turned = table.clone();
    turned.taps.reverse();
    let mut other = table.clone();
    other.rated_maximum = None;
    let alone = BlowerTable { name: "Alone".to_owned(), ..table.clone() };
    let mut library = Library::shipped().0;
    library.add_own(vec![own("a", &turned), own("b", &other), own("c", &alone)]);
    let shipped = library.entries.iter().position(|entry| entry.own_file().is_none() && entry.table == table).unwrap();
    assert_eq!(library.twin(0), Some(Twin::Same(shipped)), "the order of taps means nothing");
    assert_eq!(library.twin(1), Some(Twin::Other(0)));
    assert_eq!(library.twin(2), None);
    assert_eq!(library.twin(shipped), Some(Twin::Same(0)));
    let changes = library.changes();
    library.put_own(own("b", &table));
    assert_ne!(library.changes(), changes);
    assert_eq!(library.twin(1), Some(Twin::Same(0)));
    library.moved_own(Path::new("c"), "d/c".into(), "d".into());
    assert_eq!((library.entries[2].own_file(), library.search("d alone").len()), (Some(Path::new("d/c")), 1));
}

#[test]
fn a_jobs_copy_differs_only_where_the_library_has_its_name_and_nowhere_its_contents() {
    let library = Library::shipped().0;
    let table = machine("AH-42T");
    assert_eq!(library.differing(&table), None);
    let other = BlowerTable { rated_maximum: None, ..table.clone() };
    assert_eq!(library.differing(&other).map(|entry| &entry.table), Some(&table));
    assert_eq!(library.differing(&BlowerTable { name: "Unknown".to_owned(), ..table.clone() }), None);
    let mut both = library;
    both.add_own(vec![LibraryEntry::new(other.clone(), Origin::Own("b".into()))]);
    assert_eq!((both.differing(&other), both.differing(&table)), (None, None));
}
