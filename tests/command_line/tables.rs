//! Blower tables from sheets of spreadsheets and into them: nothing is asked, nothing is half written, and nothing is written over.

use tapcross::files::blower_file;
use tapcross::model::facts::blower::{BlowerTable, EquipmentKind};

use super::*;

const ONE: &str = "ESP (in. w.c.),Low cfm,High cfm\n0.1,1010,1205\n0.2,990,1180\n0.3,960,1140\n";
const TWO: &str = "Model,Tap,ESP (Pa),Airflow\nA 1,Low,25,480\nA 1,Low,50,460\nB 2,Low,25,380\nB 2,Low,50,360\n";

/// What is told of every sheet that is taken.
const BASIS: &str = "taken as made without filter, coil and heater";

/// What a run ended with, and the lines that it told.
fn told(shop: &Shop, words: &[&str]) -> (Option<i32>, String) {
    let output = shop.run(&[&["tables"], words].concat());
    assert!(output.stdout.is_empty(), "{words:?}");
    (output.status.code(), stderr(&output))
}

/// The same without the line that every sheet has.
fn ended(shop: &Shop, words: &[&str]) -> (Option<i32>, String) {
    let (status, told) = told(shop, words);
    (status, told.split_inclusive('\n').filter(|line| !line.contains(BASIS)).collect())
}

#[test]
fn a_basis_that_nobody_stated_is_told_and_a_unit_that_nobody_named_is_asked() {
    let shop =
        Shop::new().with_text("one.csv", ONE).with_text("bare.csv", "Static,Low,High\n0.1,1010,1205\n0.2,990,1180\n");
    let words = ["--kind", "furnace", "--name", "Elm 40", "--out"];
    let (status, said) = told(&shop, &[&["one.csv"], &words[..], &["elm.ron"]].concat());
    assert!(status == Some(0) && said.contains("one.csv: ") && said.contains(BASIS), "{said}");
    let (status, said) = told(&shop, &[&["bare.csv"], &words[..], &["bare.ron"]].concat());
    assert_eq!(status, Some(1), "{said}");
    for part in [
        "the sheet names no unit of airflow; give --airflow",
        "the sheet names no unit of static pressure; give --static",
    ] {
        assert!(said.contains(part), "{said}");
    }
    assert!(!shop.path("bare.ron").exists());
}

/// Whatever may be replaced, a job may not; and a sheet holds no two tables of one name.
#[test]
fn no_job_gives_way_to_a_table_and_no_two_tables_run_together() {
    let shop = Shop::new().with_text("one.csv", ONE);
    let job = job_file::write(&demo::gas_furnace());
    fs::write(shop.path("job.ron"), &job).unwrap();
    let words = ["one.csv", "--kind", "furnace", "--name", "Elm 40", "--replace", "--out"];
    let (status, said) = told(&shop, &[&words[..], &["job.ron"]].concat());
    assert!(status == Some(1) && said.contains("job.ron is a job, and the table would take its place"), "{said}");
    assert_eq!(fs::read_to_string(shop.path("job.ron")).unwrap(), job);
    for name in ["a.ron", "b.ron"] {
        assert_eq!(told(&shop, &[&words[..], &[name]].concat()).0, Some(0));
    }
    let (status, said) = told(&shop, &["a.ron", "b.ron", "--out", "both.csv"]);
    assert!(status == Some(1) && said.contains("two tables are called Elm 40"), "{said}");
    assert!(!shop.path("both.csv").exists());
}

fn table(shop: &Shop, name: &str) -> BlowerTable {
    blower_file::parse(&fs::read_to_string(shop.path(name)).unwrap()).unwrap()
}

/// Every name in the folder, those of a folder in it behind its own.
fn names(shop: &Shop) -> Vec<String> {
    let of = |folder: PathBuf| fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let all = of(shop.path("")).flat_map(|path| if path.is_dir() { of(path).collect() } else { vec![path] });
    let name = |path: PathBuf| path.strip_prefix(shop.path("")).unwrap().to_string_lossy().into_owned();
    let mut names: Vec<String> = all.map(name).collect();
    names.sort();
    names
}

#[test]
fn a_sheet_becomes_a_table_and_a_table_a_sheet_that_gives_it_back() {
    let shop = Shop::new().with_text("one.csv", ONE);
    let (status, told) = ended(&shop, &["one.csv", "--kind", "furnace", "--name", "Elm 40", "--out", "elm.ron"]);
    assert_eq!((status, told.as_str()), (Some(0), ""));
    let elm = table(&shop, "elm.ron");
    assert_eq!((elm.name.as_str(), elm.kind, elm.taps.len()), ("Elm 40", EquipmentKind::Furnace, 2));
    for sheet in ["back.csv", "back.tsv"] {
        assert_eq!(ended(&shop, &["elm.ron", "-o", sheet]), (Some(0), String::new()));
        let again = format!("{sheet}.ron");
        assert_eq!(ended(&shop, &[sheet, "--kind=furnace", "-o", &again]), (Some(0), String::new()));
        assert_eq!(table(&shop, &again).taps, elm.taps, "{sheet}");
    }
    let [commas, tabs] = ["back.csv", "back.tsv"].map(|name| fs::read_to_string(shop.path(name)).unwrap());
    assert_eq!(commas.replace(',', "\t"), tabs);
}

#[test]
fn every_table_of_a_sheet_goes_into_a_folder_and_all_of_them_into_one_sheet() {
    let shop = Shop::new().with_text("two.csv", TWO);
    fs::create_dir(shop.path("mine")).unwrap();
    let words = ["two.csv", "--kind", "draw-through", "--airflow", "l/s", "--out", "mine"];
    assert_eq!(ended(&shop, &words), (Some(0), String::new()));
    assert_eq!(names(&shop), ["mine/a-1.ron", "mine/b-2.ron", "two.csv"]);
    let first = table(&shop, "mine/a-1.ron");
    assert_eq!(first.kind, EquipmentKind::DrawThroughAirHandler);
    assert!((first.taps[0].data.rows()[0].cell.airflow().unwrap().lps() - 480.0).abs() < 1e-9);
    assert_eq!(ended(&shop, &["mine/a-1.ron", "mine/b-2.ron", "-o", "all.csv"]), (Some(0), String::new()));
    let all = fs::read_to_string(shop.path("all.csv")).unwrap();
    assert_eq!(all.lines().count(), 5, "{all}");
}

/// Each is refused in a line that names the option that settles it, or the place; nothing is written.
#[test]
fn what_a_sheet_leaves_open_is_refused_by_the_option_that_says_it() {
    let mixed = "Tap,ESP Pa,Airflow cfm,Airflow L/s\nLow,25,1000,470\nLow,50,900,425\n";
    let odd = "Model,Tap,ESP,CFM\nC 3,Low,0.1,1000\nC 3,Low,0.2,1000000\n";
    let shop = Shop::new()
        .with_text("one.csv", ONE)
        .with_text("two.csv", TWO)
        .with_text("mixed.csv", mixed)
        .with_text("odd.csv", odd)
        .with_text("there.ron", "old")
        .with_text("titled.csv", "Elm furnace 40 airflow (L/s)\nESP (Pa),Low\n25,480\n50,460\n")
        .with_text("words.csv", "Dear customer\n")
        .with("job.ron", &demo::heat_pump())
        .with_text("own.ron", include_str!("../../blowers/gf-80t.ron"));
    let before = names(&shop);
    let kinds = "give --kind furnace or draw-through or blow-through or no-return-duct";
    let rows: [(&[&str], &str); 15] = [
        (
            &["one.csv", "-o", "a.ron"],
            &format!("one.csv: the sheet does not say what kind of machine it is of; {kinds}"),
        ),
        (
            &["one.csv", "--kind=furnace", "-o", "a.ron"],
            "one.csv: the sheet does not say what the machine is called; give --name",
        ),
        (
            &["two.csv", "--kind=furnace", "-o", "a.csv"],
            "two.csv: the sheet does not say in what unit its airflow is, and its static is not in in. w.c.; give --airflow cfm or l/s or m3/h",
        ),
        (
            &["two.csv", "--kind=furnace", "--airflow=cfm", "-o", "a.ron"],
            "2 tables do not go into one a.ron; name a folder for --out",
        ),
        (&["mixed.csv", "--kind=furnace", "-o", "a.ron"], "mixed.csv: Two units of airflow are named, "),
        // The other column would be read as what it is not.
        (
            &["mixed.csv", "--kind=furnace", "--airflow=cfm", "--name=X", "-o", "a.ron"],
            "mixed.csv: Two units of airflow are named, ",
        ),
        (
            &["one.csv", "--kind=furnace", "--airflow=l/s", "--static=pa", "--name=X", "-o", "a.ron"],
            "one.csv: the sheet itself says cfm, and --airflow something else; leave --airflow out",
        ),
        (
            &["titled.csv", "-o", "a.ron"],
            &format!(
                "titled.csv: the sheet does not say what kind of machine it is of (its name says furnace); {kinds}"
            ),
        ),
        (&["odd.csv", "--kind=furnace", "-o", "a.ron"], "odd.csv: C 3: "),
        (&["words.csv", "--kind=furnace", "-o", "a.ron"], "words.csv: Nothing here looks like a blower table"),
        (&["gone.csv", "-o", "a.ron"], "gone.csv: There is no such file"),
        (&["job.ron", "-o", "a.csv"], "job.ron: This is a job, not a blower table"),
        (&["own.ron", "-o", "gone/a.csv"], "gone/a.csv: Not saved: the folder does not exist"),
        (&["own.ron", "-o", "a.docx"], "--out a.docx is no folder that is there and no name of a table"),
        (
            &["own.ron", "--kind=furnace", "-o", "a.csv"],
            "the options of a sheet say nothing of tables of the program's own",
        ),
    ];
    for (words, told) in rows {
        let (status, said) = ended(&shop, words);
        assert_eq!(status, Some(1), "{words:?}: {said}");
        assert!(said.lines().any(|line| line.starts_with(&format!("tapcross: {told}"))), "{words:?}: {said}");
    }
    assert_eq!(names(&shop), before);
}

#[test]
fn files_that_are_there_stay_unless_they_may_be_replaced() {
    let shop = Shop::new()
        .with_text("two.csv", TWO)
        .with_text("own.ron", include_str!("../../blowers/gf-80t.ron"))
        .with_text("there.csv", "old");
    let (status, told) = ended(&shop, &["own.ron", "-o", "there.csv"]);
    let said = "tapcross: there.csv is there already, and nothing is written; --replace writes over it\n";
    assert_eq!((status, told.as_str()), (Some(1), said));
    assert_eq!(fs::read_to_string(shop.path("there.csv")).unwrap(), "old");
    assert_eq!(ended(&shop, &["own.ron", "--replace", "-o", "there.csv"]), (Some(0), String::new()));
    assert!(fs::read_to_string(shop.path("there.csv")).unwrap().starts_with("machine,tap,"));
    // A table is never written over what it was read from.
    let (status, told) = ended(&shop, &["own.ron", "--replace", "-o", "./own.ron"]);
    assert!(status == Some(1) && told.contains("is read, and its own table would take its place"), "{told}");
    // One of two is there: neither is written.
    fs::create_dir(shop.path("mine")).unwrap();
    fs::write(shop.path("mine/b-2.ron"), "old").unwrap();
    let words = ["two.csv", "--kind=furnace", "--airflow=l/s", "-o", "mine"];
    assert_eq!(ended(&shop, &words).0, Some(1));
    assert!(!shop.path("mine/a-1.ron").exists());
    // One cannot be written, though it may be replaced: the other is taken away again.
    fs::remove_file(shop.path("mine/b-2.ron")).unwrap();
    fs::create_dir(shop.path("mine/b-2.ron")).unwrap();
    let (status, told) = ended(&shop, &[&words[..], &["--replace"]].concat());
    assert!(status == Some(1) && told.contains("the path is a folder"), "{told}");
    assert!(!shop.path("mine/a-1.ron").exists());
}
