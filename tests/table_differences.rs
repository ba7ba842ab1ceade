//! What two blower tables say differently: every number, nothing else, and the same from either side.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use tapcross::files::blower_file;
use tapcross::files::library::Library;
use tapcross::model::facts::blower::{BlowerTable, Cell, Row, Tap, TapData};
use tapcross::model::facts::table_difference::{Place, contents, differences};
use tapcross::model::wording::table_differences::{job_and_library, told};
use tapcross::units::{Airflow, Pressure, UnitSystem};

const UNITS: UnitSystem = UnitSystem::InchPound;

fn shipped() -> Vec<BlowerTable> {
    Library::shipped().0.entries.into_iter().map(|entry| entry.table).collect()
}

fn machine(name_start: &str) -> BlowerTable {
    shipped().into_iter().find(|table| table.name.starts_with(name_start)).expect("a shipped machine")
}

/// Tells the same from either side, and gives how many differences there are.
fn both_ways(one: &BlowerTable, other: &BlowerTable) -> usize {
    let (there, back) = (differences(one, other), differences(other, one));
    let turned: Vec<_> = back.iter().map(|found| (found.place, found.other, found.one)).collect();
    let straight: Vec<_> = there.iter().map(|found| (found.place, found.one, found.other)).collect();
    assert_eq!(straight, turned);
    assert_eq!(there.is_empty(), contents(one) == contents(other), "{there:?}");
    there.len()
}

/// Every stretch of figures in a text, as a number to be changed; those of names and words too.
fn numbers(text: &str) -> Vec<(usize, usize)> {
    let is_figure = |place: usize| text.as_bytes()[place].is_ascii_digit() || text.as_bytes()[place] == b'.';
    let mut found = Vec::new();
    let mut place = 0;
    while place < text.len() {
        let end = (place..text.len()).find(|place| !is_figure(*place)).unwrap_or(text.len());
        if end > place && text.as_bytes()[place] != b'.' {
            found.push((place, end));
        }
        place = end.max(place + 1);
    }
    found
}

/// The text with one number a little larger.
fn with_another(text: &str, (start, end): (usize, usize)) -> Option<String> {
    let value: f64 = text[start..end].parse().ok()?;
    let larger =
        if text[start..end].contains('.') { format!("{}", value * 1.01 + 0.001) } else { format!("{}", value + 1.0) };
    Some(format!("{}{larger}{}", &text[..start], &text[end..]))
}

#[test]
fn a_table_does_not_differ_from_itself() {
    for table in shipped() {
        assert_eq!(both_ways(&table, &table.clone()), 0, "{}", table.name);
        let read_back = blower_file::parse(&blower_file::write(&table)).expect("what was written");
        assert_eq!(both_ways(&table, &read_back), 0, "{}", table.name);
        assert_eq!(told(&table, &table, UNITS), None);
    }
}

/// The file's text is the witness: whichever of its figures is another, if that makes another table, a difference says so.
#[test]
fn every_single_changed_number_of_every_shipped_table_is_found() {
    let mut changed = 0;
    for table in shipped() {
        let text = blower_file::write(&table);
        let others =
            numbers(&text).into_iter().filter_map(|place| blower_file::parse(&with_another(&text, place)?).ok());
        for other in others.filter(|other| *other != table) {
            changed += 1;
            assert!(both_ways(&table, &other) > 0, "{}: {other:?}", table.name);
        }
    }
    assert!(changed > 1500, "{changed} numbers were changed");
}

#[test]
fn two_shipped_tables_are_two() {
    let tables = shipped();
    for (number, one) in tables.iter().enumerate() {
        for other in &tables[number + 1..] {
            assert!(both_ways(one, other) > 0, "{} and {}", one.name, other.name);
        }
    }
}

#[test]
fn rows_that_give_nothing_and_the_order_of_the_lists_mean_nothing() {
    let table = machine("AH-42T");
    let mut other = table.clone();
    other.taps.reverse();
    other.calls.reverse();
    other.heating.reverse();
    for tap in &mut other.taps {
        if let TapData::Column(rows) = &mut tap.data {
            rows.push(Row { esp: Pressure::from_in_wc(2.5), cell: Cell::NotGiven, power: None, speed: None });
            rows.rotate_right(1);
        }
    }
    assert_ne!(table, other);
    assert_eq!(both_ways(&table, &other), 0);
}

#[test]
fn a_tap_that_one_lacks_is_told_alone() {
    let table = machine("AH-42T");
    let mut other = table.clone();
    let last = other.taps.pop().expect("a tap").name;
    let found = differences(&table, &other);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].place, Place::Tap(&last));
    assert_eq!(told(&table, &other, UNITS), Some(format!("tap {last}: one against none")));
}

/// The table of the sentences below: three taps at 0.5 in. w.c.
fn three_taps() -> BlowerTable {
    let row = |cfm| Row {
        esp: Pressure::from_in_wc(0.5),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    };
    let tap = |(name, cfm): (&str, f64)| Tap { name: name.to_owned(), data: TapData::Column(vec![row(cfm)]) };
    let taps = [("1", 800.0), ("2", 1000.0), ("3", 1195.0)].map(tap).to_vec();
    BlowerTable { name: "Three".to_owned(), taps, ..BlowerTable::default() }
}

fn with_airflow(tap: usize, cell: Cell) -> BlowerTable {
    let mut table = three_taps();
    if let TapData::Column(rows) = &mut table.taps[tap].data {
        rows[0].cell = cell;
    }
    table
}

#[test]
fn differences_are_told_in_the_trades_words_and_units() {
    let airflow = |cfm| Cell::Airflow(Airflow::from_cfm(cfm), None);
    let check = |other: &BlowerTable, expected: &str| {
        assert_eq!(told(&three_taps(), other, UNITS).as_deref(), Some(expected));
    };
    check(&with_airflow(2, airflow(1180.0)), "tap 3 at 0.50 in. w.c.: 1,195 against 1,180 cfm");
    check(&with_airflow(2, Cell::NotGiven), "tap 3 at 0.50 in. w.c.: 1,195 cfm against none");
    check(&with_airflow(2, Cell::NotAllowed(None)), "tap 3 at 0.50 in. w.c.: 1,195 cfm against not allowed");
    check(
        &with_airflow(2, airflow(1195.0 + 1e-6)),
        "tap 3 at 0.50 in. w.c.: both about 1,195 cfm, past the digits shown",
    );
    let mut other = with_airflow(2, airflow(1180.0));
    other.rated_maximum = Some(Pressure::from_in_wc(0.5));
    other.notes = "n".repeat(5000);
    other.source = "A door panel".to_owned();
    check(
        &other,
        "tap 3 at 0.50 in. w.c.: 1,195 against 1,180 cfm; rated maximum: none against 0.50 in. w.c.; and 2 more",
    );
    let mut words = three_taps();
    words.source = "A door panel".to_owned();
    words.notes = "Dry coil".to_owned();
    let mut others = words.clone();
    others.source = "n".repeat(5000);
    others.notes = String::new();
    assert_eq!(
        told(&words, &others, UNITS).as_deref(),
        Some("source in other words; notes: \"Dry coil\" against none")
    );
    let sentence = job_and_library(&three_taps(), &other, UNITS).expect("a sentence");
    assert!(sentence.contains("job against library: tap 3 at 0.50 in. w.c.: 1,195 against 1,180 cfm"), "{sentence}");
    let metric = told(&three_taps(), &with_airflow(2, airflow(1180.0)), UnitSystem::SiLitres).expect("a sentence");
    assert!(metric.starts_with("tap 3 at 124.5 Pa: 564 against 556.9 L/s"), "{metric}");
}

#[test]
fn however_long_its_words_are_a_difference_is_short_enough_to_read() {
    let long = BlowerTable { name: "x".repeat(3000), source: "y".repeat(3000), ..three_taps() };
    let sentence = told(&three_taps(), &long, UNITS).expect("a sentence");
    assert!(sentence.chars().count() <= 300, "{sentence}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, rng_seed: RngSeed::Fixed(20_261_201), failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever two shipped tables, taps shuffled: what one pair differs in stays what it differs in.
    #[test]
    fn the_order_of_taps_and_rows_changes_no_difference(one in 0..16_usize, other in 0..16_usize, turns in 0..7_usize) {
        let tables = shipped();
        let (one, other) = (&tables[one], &tables[other]);
        let mut turned = other.clone();
        let count = turned.taps.len();
        turned.taps.rotate_left(turns % count);
        for tap in &mut turned.taps {
            if let TapData::Column(rows) = &mut tap.data {
                let count = rows.len();
                rows.rotate_left(turns % count);
            }
        }
        prop_assert_eq!(differences(one, other), differences(one, &turned));
        prop_assert_eq!(contents(other), contents(&turned));
    }
}
