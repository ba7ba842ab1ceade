//! What `--out` writes by the ending of its file.

use tapcross::files::blower_file;
use tapcross::model::facts::blower::BlowerTable;
use tapcross::report::form::Paper;

use super::*;

#[test]
fn the_ending_says_what_is_written() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump()).with("b.ron", &demo::gas_furnace());
    let begins: [(&[&str], &str, &[u8]); 6] = [
        (&["a.ron", "--paper", "a4"], "a.pdf", b"%PDF-1.7"),
        (&["a.ron", "b.ron"], "both.pdf", b"%PDF-1.7"),
        (&["a.ron"], "a.svg", b"<?xml"),
        (&["a.ron", "--scale=1"], "a.png", b"\x89PNG"),
        (&["a.ron", "b.ron"], "a.csv", b"file,system,machine,tap,"),
        (&["a.ron", "--table", "curves"], "curves.csv", b"file,system,machine,curve,"),
    ];
    for (words, out, begin) in begins {
        let output = shop.run(&[&["report", "--out", out], words].concat());
        assert_eq!((output.status.code(), stderr(&output).as_str(), output.stdout.len()), (Some(0), "", 0), "{out}");
        assert!(fs::read(shop.path(out)).unwrap().starts_with(begin), "{out}");
    }
    let table = fs::read_to_string(shop.path("a.csv")).unwrap();
    for file in ["a.ron", "b.ron"] {
        assert_eq!(table.lines().filter(|line| line.starts_with(file)).count(), 5, "five taps of {file}");
    }
}

#[test]
fn what_cannot_be_written_is_said_in_one_line_and_nothing_is_left() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    fs::create_dir(shop.path("folder.png")).unwrap();
    let rows = [
        ("a.docx", 2, "tapcross: --out a.docx has an ending that no report has"),
        ("folder.png", 1, "tapcross: folder.png: "),
        ("gone/a.svg", 1, "tapcross: gone/a.svg: "),
    ];
    for (out, status, said) in rows {
        let output = shop.run(&["report", "a.ron", "--out", out]);
        let told = stderr(&output);
        assert_eq!(output.status.code(), Some(status), "{out}: {told}");
        assert!(told.starts_with(said) && told.lines().count() == 1, "{out}: {told}");
    }
    let left: Vec<String> =
        fs::read_dir(shop.path("")).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    assert!(left.iter().all(|name| ["a.ron", "folder.png", "data"].contains(&name.as_str())), "{left:?}");
}

/// The company of the settings stands at the head of a report; settings that cannot be read are told of, and it is written without.
#[test]
fn a_report_bears_the_company_of_the_settings() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    let out = |name: &str| shop.run(&["report", "a.ron", "--out", name]);
    assert_eq!(out("without.pdf").status.code(), Some(0));
    fs::create_dir(shop.path("data")).unwrap();
    let named = "(tapcross_settings: 1, company: (name: \"Alder Air\"))";
    fs::write(shop.path("data/settings.ron"), named).unwrap();
    assert_eq!((out("with.pdf").status.code(), stderr(&out("with.pdf"))), (Some(0), String::new()));
    fs::write(shop.path("data/settings.ron"), "gibberish").unwrap();
    let told = stderr(&out("damaged.pdf"));
    assert!(told.starts_with("tapcross: The settings cannot be read") && told.lines().count() == 1, "{told}");
    let [without, with, damaged] =
        ["without.pdf", "with.pdf", "damaged.pdf"].map(|name| fs::read(shop.path(name)).unwrap());
    assert!(without == damaged && without != with);
}

#[test]
fn a_field_sheet_is_a_pdf_of_each_job_or_of_none() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump()).with("b.ron", &demo::gas_furnace());
    for (words, out) in [(&["a.ron"][..], "a.pdf"), (&[], "any.pdf"), (&["a.ron", "b.ron", "--paper=a4"], "both.pdf")] {
        let output = shop.run(&[&["sheet", "--out", out], words].concat());
        assert_eq!((output.status.code(), stderr(&output).as_str(), output.stdout.len()), (Some(0), "", 0), "{out}");
        assert!(fs::read(shop.path(out)).unwrap().starts_with(b"%PDF-1.7"), "{out}");
    }
    let any = shop.run(&["sheet"]);
    assert_eq!((any.status.code(), any.stdout), (Some(0), fs::read(shop.path("any.pdf")).unwrap()));
    assert_ne!(fs::read(shop.path("a.pdf")).unwrap(), fs::read(shop.path("any.pdf")).unwrap());
}

#[test]
fn a_field_sheet_that_cannot_be_written_is_said_in_one_line_and_nothing_is_left() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump()).with_text("broken.ron", "(");
    fs::create_dir(shop.path("folder.pdf")).unwrap();
    let rows: [(&[&str], i32, &str); 6] = [
        (&["a.ron", "--out", "a.svg"], 2, "tapcross: --out a.svg is no name of a field sheet, which is a PDF"),
        (&["a.ron", "--out", "a.ron"], 2, "tapcross: --out a.ron is a job or has a job file's name"),
        (&["--out", "folder.pdf"], 1, "tapcross: folder.pdf: "),
        (&["--out", "gone/a.pdf"], 1, "tapcross: gone/a.pdf: "),
        (&["broken.ron", "--out", "b.pdf"], 1, "tapcross: broken.ron: "),
        (&["missing.ron", "--out", "m.pdf"], 1, "tapcross: missing.ron: "),
    ];
    for (words, status, said) in rows {
        let output = shop.run(&[&["sheet"], words].concat());
        let told = stderr(&output);
        assert_eq!(output.status.code(), Some(status), "{words:?}: {told}");
        assert!(told.starts_with(said) && told.lines().count() == 1 && output.stdout.is_empty(), "{words:?}: {told}");
    }
    let left: Vec<String> =
        fs::read_dir(shop.path("")).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    assert!(left.iter().all(|name| ["a.ron", "broken.ron", "folder.pdf"].contains(&name.as_str())), "{left:?}");
}

/// Where no paper is named, pages are on the one that the person has set; a paper that is named counts, and settings that cannot be read are told of.
#[test]
fn pages_are_on_the_paper_of_the_settings_unless_one_is_named() {
    let shop = Shop::new().with("a.ron", &demo::heat_pump());
    let paper = |task: &str, words: &[&str]| {
        let output = shop.run(&[&[task, "a.ron", "--out", "out.pdf"], words].concat());
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        let bytes = fs::read(shop.path("out.pdf")).unwrap();
        let is_a4 = String::from_utf8_lossy(&bytes).contains("/MediaBox [0 0 595 842]");
        (if is_a4 { Paper::A4 } else { Paper::Letter }, stderr(&output).lines().count())
    };
    for task in ["report", "sheet"] {
        assert_eq!(paper(task, &[]), (Paper::Letter, 0), "{task}: nothing is set");
    }
    fs::create_dir(shop.path("data")).unwrap();
    fs::write(shop.path("data/settings.ron"), "(tapcross_settings: 1, paper: A4)").unwrap();
    for task in ["report", "sheet"] {
        assert_eq!(paper(task, &[]), (Paper::A4, 0), "{task}");
        assert_eq!(paper(task, &["--paper", "letter"]), (Paper::Letter, 0), "{task}");
    }
    fs::write(shop.path("data/settings.ron"), "gibberish").unwrap();
    for task in ["report", "sheet"] {
        assert_eq!(paper(task, &[]), (Paper::Letter, 1), "{task}: told of, and the usual paper");
    }
    assert_eq!(paper("sheet", &["--paper=a4"]), (Paper::A4, 0), "nothing of the settings is needed");
}

/// As in the window: a page says where the person keeps another table of that name, and is the same page where the kept one means the same.
#[test]
fn a_page_holds_the_jobs_table_against_the_persons_library() {
    let mut job = demo::heat_pump();
    let table = job.machine.as_mut().unwrap();
    table.name = "A table of one's own".to_owned();
    let (same, mut other) = (table.clone(), table.clone());
    other.rated_maximum = None;
    let shop = Shop::new().with("a.ron", &job);
    let page = || {
        let output = shop.run(&["report", "a.ron", "--out", "page.pdf"]);
        assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""));
        fs::read(shop.path("page.pdf")).unwrap()
    };
    let keep = |table: &BlowerTable| {
        fs::create_dir_all(shop.path("data/blowers/Air handlers")).unwrap();
        fs::write(shop.path("data/blowers/Air handlers/own.ron"), blower_file::write(table)).unwrap();
    };
    let alone = page();
    keep(&other);
    assert!(page() != alone, "another table of that name is kept");
    keep(&same);
    assert!(page() == alone, "the same table is kept");
}
