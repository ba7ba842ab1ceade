//! Files broken in every way that comes to mind: each is told in a short sentence that a person understands who never wrote a program.

use std::collections::BTreeSet;

use tapcross::files::settings::{self, Settings};
use tapcross::files::{blower_file, job_file};

/// Longest sentence, in letters.
const LONGEST: usize = 300;
/// Words of programmers, none of which a person should have to know.
const FORBIDDEN_WORDS: [&str; 30] = [
    "serde",
    "struct",
    " enum ",
    "tuple",
    "variant",
    "identifier",
    "f64",
    "f32",
    "u8",
    "u16",
    "u32",
    "u64",
    "i64",
    "usize",
    "bool",
    "boolean",
    "char",
    "option",
    "ron",
    "recursion",
    "unit value",
    "str",
    "string",
    "byte",
    "bytes",
    "integer",
    "float",
    "map",
    "raw",
    "utf",
];
const FORBIDDEN_ANYWHERE: [&str; 5] = ["Dto", "`", "::", "\n", "\u{1}"];

const JOBS: [&str; 4] = [
    include_str!("../assets/demo/gas-furnace.ron"),
    include_str!("../assets/demo/heat-pump.ron"),
    include_str!("data/jobs/v1-furnace.ron"),
    include_str!("data/jobs/v1-ways.ron"),
];
const BLOWERS: [&str; 2] = [include_str!("../blowers/ah-42t.ron"), include_str!("../blowers/gf-80t.ron")];

fn job_sentence(text: &str) -> Option<String> {
    job_file::parse(text).err().map(|refused| refused.to_string())
}

fn blower_sentence(text: &str) -> Option<String> {
    blower_file::parse(text).err().map(|refused| refused.to_string())
}

fn settings_sentence(text: &str) -> Option<String> {
    settings::parse(text).1
}

fn settings_text() -> String {
    let mut settings = Settings { window_points: Some((1440, 900)), ..Settings::default() };
    settings.opened(std::path::Path::new("house"));
    settings.folded.insert(settings::Panel::Job);
    settings::write(&settings).unwrap()
}

/// What stands in a text, piece by piece: texts in quotes, words and numbers, single signs; with begin and end.
fn pieces(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(first) = text[at..].chars().next() {
        let rest = &text[at..];
        let is_of_word = |letter: char| letter.is_alphanumeric() || "_.+-".contains(letter);
        let length = match first {
            '"' => rest[1..].find('"').map_or(rest.len(), |end| end + 2),
            '/' if rest.starts_with("//") => rest.find('\n').unwrap_or(rest.len()),
            letter if is_of_word(letter) => rest.find(|other| !is_of_word(other)).unwrap_or(rest.len()),
            letter => letter.len_utf8(),
        };
        if !first.is_whitespace() && !rest.starts_with("//") {
            found.push((at, at + length));
        }
        at += length;
    }
    found
}

/// What may stand in a piece's place.
fn replacements() -> Vec<String> {
    let deep = |bracket: &str, times: usize| bracket.repeat(times);
    let mut all: Vec<String> = [
        "",
        "5",
        "-3",
        "0.5",
        "1e999",
        "nan",
        "true",
        "word",
        "r#word",
        "r\"rough\"",
        "'c'",
        "b\"bites\"",
        "b'c'",
        "()",
        "(1)",
        "(1, 2)",
        "(1, 2, 3)",
        "[]",
        "[1]",
        "{}",
        "{1: 2}",
        "None",
        "Some(1)",
        "\"a text\"",
        "\"\\q\"",
        "\"\\u{110000}\"",
        "1u8",
        "1f64",
        "0x",
        "0b12",
        "1__",
        "_1",
        "1_.5",
        "4294967296",
        ")",
        "]",
        "}",
        "(",
        "[",
        "{",
        ",",
        ":",
        ";",
        "#",
        "@",
        "..",
        "/*",
        "//",
        "\"",
        "ä",
        "(a: 1)",
        "Word(1)",
        "Word(a: 1)",
        "(id: 1)",
        "Element(1)",
        "Port",
        "Total(1)",
        "Airflow",
    ]
    .map(str::to_owned)
    .into();
    all.extend([
        "9".repeat(60),
        format!("-{}", "9".repeat(400)),
        format!("\"{}\"", "long ".repeat(1000)),
        "w".repeat(5000),
    ]);
    all.extend([deep("(", 300), deep("[", 300), deep("Some(", 300), deep("((", 60) + &deep("))", 60)]);
    all
}

/// Every text that comes of a good one by breaking it, one place in `stride` of each kind.
fn broken(good: &str, stride: usize) -> Vec<String> {
    let pieces = pieces(good);
    let replacements = replacements();
    let mut texts = Vec::new();
    for (number, &(begin, end)) in pieces.iter().enumerate() {
        if number % stride == 0 {
            texts.push(good[..end].to_owned());
            texts.push(good[..end - (end - begin).min(1)].to_owned());
        }
        for (index, new) in replacements.iter().enumerate() {
            if (number * 7 + index) % stride == 0 {
                texts.push(format!("{}{new}{}", &good[..begin], &good[end..]));
                texts.push(format!("{}{} {new}{}", &good[..begin], &good[begin..end], &good[end..]));
            }
        }
    }
    texts
}

fn check_sentence(sentence: &str) {
    let said: BTreeSet<&str> = sentence.split(|letter: char| !letter.is_alphanumeric()).collect();
    for word in FORBIDDEN_WORDS {
        assert!(!said.iter().any(|found| found.eq_ignore_ascii_case(word)), "{word:?} in {sentence:?}");
    }
    for part in FORBIDDEN_ANYWHERE {
        assert!(!sentence.contains(part), "{part:?} in {sentence:?}");
    }
    assert!(!sentence.contains("expected") && !sentence.contains("Expected"), "{sentence:?}");
    let letters = sentence.chars().count();
    assert!(letters <= LONGEST, "{letters} letters: {sentence:?}");
}

fn check_all(good: &str, stride: usize, sentence_of: impl Fn(&str) -> Option<String>) {
    assert_eq!(sentence_of(good), None, "the text is broken to begin with");
    let texts = broken(good, stride);
    let mut told = BTreeSet::new();
    for text in &texts {
        if let Some(sentence) = sentence_of(text) {
            check_sentence(&sentence);
            told.insert(sentence);
        }
    }
    assert!(told.len() * 4 > texts.len(), "{} sentences of {} texts", told.len(), texts.len());
    if std::env::var_os("TAPCROSS_SENTENCES").is_some() {
        told.iter().step_by(told.len().div_ceil(60)).for_each(|sentence| println!("{sentence}"));
    }
}

#[test]
fn a_broken_job_is_told_without_a_programmers_word() {
    for job in JOBS {
        check_all(job, 97, job_sentence);
    }
}

#[test]
fn a_broken_blower_table_is_told_without_a_programmers_word() {
    for blower in BLOWERS {
        check_all(blower, 41, blower_sentence);
    }
}

#[test]
fn broken_settings_are_told_without_a_programmers_word() {
    check_all(&settings_text(), 1, settings_sentence);
}

/// The sentences that a person once saw, by what brought them about.
#[test]
fn each_well_known_fault_is_told_with_what_stands_there_and_what_would_be_right() {
    let golden = JOBS[2];
    let nested = format!("path: {}", "[SideBySide(id: 1, ways: [(elements: ".repeat(60));
    let rows = [
        (
            "altitude_ft: 5280.0",
            "altitude_ft: \"high\"",
            "\"high\" stands here; it should be a number, such as 12 or 0.35",
        ),
        ("illustrative: true", "illustrative: maybe", "maybe stands here; it should be true or false"),
        ("path: [", "path: (", "( stands here; it should be a list in square brackets"),
        ("kind: ReturnDuct", "kind: \"ReturnDuct\"", "\"ReturnDuct\" stands here; it should be a name of letters"),
        ("id: 1, kind", "id: -1, kind", "-1 stands here; it should be a whole number, not below zero"),
        ("at: Port(1)", "at: Port", "it should be an opening round bracket"),
        ("at: Port(1)", "at: Port(\"1\")", "\"1\" stands here; it should be a whole number"),
        ("title: ", "title ", "it should be a colon behind the field's name"),
        ("path: [", &nested, "more brackets stand within each other here than in any job"),
    ];
    for (old, new, right) in rows {
        assert!(golden.contains(old), "the golden file has no {old}");
        let sentence = job_sentence(&golden.replacen(old, new, 1)).unwrap();
        assert!(
            sentence.starts_with("The job cannot be read at line ") && sentence.contains(right),
            "{new}: {sentence}"
        );
    }
}

#[test]
fn a_job_that_lacks_a_field_at_its_end_is_not_told_as_cut_short() {
    let sentence = job_sentence("(tapcross_job: 1, path: [], ports: [], sets: [])").unwrap();
    assert!(sentence.contains("the field limits is missing"), "{sentence}");
}

#[test]
fn settings_of_a_newer_program_are_known_whatever_they_say() {
    let sentence = settings_sentence("(tapcross_settings: 2, theme: @new{").unwrap();
    assert!(sentence.contains("written by a newer Tapcross (format 2)"), "{sentence}");
}
