//! What the reader takes, and what it says of what it does not take.

use serde::Deserialize;

use super::cell::CellDto;
use super::*;
use crate::model::facts::blower::{Cell, Row, TapData};
use crate::units::{Airflow, Pressure};

const UNITS: &str = "units: (airflow: Cfm, pressure: InchesOfWater)";

fn file(fields: &str) -> String {
    format!("(tapcross_blower: 1, name: \"A\", kind: Furnace, {fields})")
}

fn sentence(text: &str) -> String {
    parse(text).unwrap_err().to_string()
}

#[test]
fn a_cell_reads_in_each_of_its_wordings() {
    let check = |text: &str, expected: CellDto| {
        assert_eq!(CellDto::from_text(text), Ok(expected), "{text:?}");
    };
    check("not given", CellDto::NotGiven);
    check("Not given ", CellDto::NotGiven);
    check("-", CellDto::NotGiven);
    check("—", CellDto::NotGiven);
    check("", CellDto::NotGiven);
    check("not allowed", CellDto::NotAllowed(None));
    check("not allowed:", CellDto::NotAllowed(None));
    check("not allowed: 2 rows wet", CellDto::NotAllowed(Some("2 rows wet".to_owned())));
    check("1085", CellDto::Number(1085.0));
    check("1085 over plate", CellDto::Noted(1085.0, "over plate".to_owned()));
    check("1085.5  2nd stage", CellDto::Noted(1085.5, "2nd stage".to_owned()));
    check("no row", CellDto::NoRow);
}

#[test]
fn a_cell_that_says_none_of_them_is_refused_with_its_words() {
    for text in ["plenty", "inf", "NaN over plate", "1,085", "12x", "not allowed water", "over plate 1085"] {
        let refusal = CellDto::from_text(text).unwrap_err();
        assert!(refusal.contains(&format!("\"{text}\"")), "{refusal}");
    }
}

#[test]
fn every_field_is_converted_by_the_units_that_the_file_says() {
    let table = parse(&file(
        "units: (airflow: CubicMetresPerHour, pressure: Pascals, temperature: Celsius, heat: Kilowatts),
         cooling_tons: 3, rated_maximum: 124.544455,
         corrections: (wet_coil: (points: [(1699.0107955, 24.908891)], exponent: 1.8)),
         heating: [(call: HeatingHigh, output: 10, rise: (20, 35), minimum_airflow: 1699.0107955)],
         taps: [\"1\", \"Fan\"], airflow: [(24.908891, [1699.0107955])],
         ranges: [(tap: \"Fan\", airflow: 849.50539776, from: 24.908891, to: 249.08891)],
         watts: [(24.908891, [300])], rpm: [(24.908891, [900])]",
    ))
    .unwrap();
    let close = |found: f64, expected: f64| {
        assert!((found - expected).abs() < 1e-6 * expected, "{found} for {expected}");
    };
    close(table.rated_maximum.unwrap().in_wc(), 0.5);
    let (airflow, drop) = table.corrections.wet_coil.as_ref().unwrap().points()[0];
    close(airflow.cfm(), 1000.0);
    close(drop.in_wc(), 0.1);
    let stage = &table.heating[0];
    close(stage.output.btuh(), 34_121.416);
    close(stage.rise.unwrap().0.f(), 36.0);
    close(stage.rise.unwrap().1.f(), 63.0);
    close(stage.minimum_airflow.unwrap().cfm(), 1000.0);
    let TapData::Column(rows) = &table.taps[0].data else { panic!("a column") };
    close(rows[0].esp.in_wc(), 0.1);
    close(rows[0].cell.airflow().unwrap().cfm(), 1000.0);
    close(rows[0].power.unwrap().watts(), 300.0);
    close(rows[0].speed.unwrap().rpm(), 900.0);
    let TapData::Range { airflow, from, to } = table.taps[1].data else { panic!("a range") };
    close(airflow.cfm(), 500.0);
    close(from.in_wc(), 0.1);
    close(to.in_wc(), 1.0);
}

#[test]
fn a_tap_with_a_range_takes_no_column_of_the_grid() {
    let table = parse(&file(&format!(
        "{UNITS}, taps: [\"A\", \"B\", \"C\"], airflow: [(0.1, [800, 1200])],
         ranges: [(tap: \"B\", airflow: 1000, from: 0.1, to: 0.8)]"
    )))
    .unwrap();
    let of = |name: &str| table.tap(name).map(|tap| tap.data.clone());
    let column = |cfm| {
        Some(TapData::Column(vec![Row {
            esp: Pressure::from_in_wc(0.1),
            cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
            power: None,
            speed: None,
        }]))
    };
    assert_eq!(of("A"), column(800.0));
    assert_eq!(of("C"), column(1200.0));
    assert!(matches!(of("B"), Some(TapData::Range { .. })));
}

#[test]
fn what_stands_before_the_first_field_does_not_hide_it() {
    for head in [
        "",
        "\u{feff}",
        "// mine\n",
        "/* a\nb */ ",
        "#![enable(implicit_some)]\n",
        "// x\n#![enable(implicit_some)] // y\nBlower",
    ] {
        let newer = format!("{head}( // first\n tapcross_blower : 0003, anything: new)");
        assert!(sentence(&newer).contains("newer Tapcross (format 3, this program reads up to 1)"), "{newer}");
        let fine = format!("{head}{}", file(UNITS));
        assert_eq!(parse(&fine).map(|table| table.name), Ok("A".to_owned()), "{fine}");
    }
}

#[test]
fn a_refusal_says_what_and_where() {
    let check = |text: &str, fragments: &[&str]| {
        let sentence = sentence(text);
        for fragment in fragments {
            assert!(sentence.contains(fragment), "{sentence:?} lacks {fragment:?}");
        }
        assert!(!sentence.contains('\n'), "{sentence:?} is more than a line");
    };
    check("", &["not a Tapcross blower table"]);
    check("name,esp,cfm\nA,0.1,1000", &["not a Tapcross blower table"]);
    check("(name: \"A\")", &["not a Tapcross blower table", "tapcross_blower: 1"]);
    check("(tapcross_job: 1)", &["job"]);
    check("(tapcross_blower: 99999999999999999999)", &["newer", "99999999999999999999"]);
    check("(tapcross_blower: \"one\")", &["line 1, column 19"]);
    check("(tapcross_blower: 1, name: \"A", &["is cut short"]);
    check("(tapcross_blower: 1, name: \"A\",\n kind: Boiler)", &["line 2", "Boiler"]);
    check(&file("notes: \"\""), &["the field units is missing"]);
    check(&file(&format!("{UNITS}, {UNITS}")), &["the field units stands here a second time"]);
    check(&file("units: (pressure: Pascals)"), &["the field airflow is missing"]);
    check(&file(&format!("{UNITS}, heating: [(call: HeatingHigh, output: 60000)]")), &["60000", "BtuPerHour"]);
    check(
        &file(
            "units: (airflow: Cfm, pressure: Pascals, heat: Kilowatts), heating: [(call: HeatingHigh, output: 9, rise: (20, 30))]",
        ),
        &["rise of 20", "Celsius"],
    );
    check(
        &file(&format!("{UNITS}, corrections: (wet_coil: (points: [(1000, 0.1)]))")),
        &["corrections.wet_coil", "1000", "exponent"],
    );
    check(
        &file(&format!("{UNITS}, corrections: (heater: (points: []))")),
        &["corrections.heater", "at least one point"],
    );
    check(
        &file(&format!("{UNITS}, corrections: (heater: (points: [(900, 0.1), (0, 0.2)]))")),
        &["0.20 in. w.c. at 0 cfm"],
    );
    check(
        &file(&format!("{UNITS}, corrections: (heater: (points: [(900, 0.1), (800, 0.2)]))")),
        &["airflows must rise"],
    );
    check(&file(&format!("{UNITS}, corrections: (heater: (points: [(900, 0.1)], exponent: 3))")), &["exponent of 3"]);
    check(&file(&format!("{UNITS}, taps: [\"1\"], airflow: [(0.1, [900])], rpm: [(0.2, [700])]")), &["rpm row at 0.2"]);
    check(
        &file(&format!("{UNITS}, taps: [\"1\"], airflow: [(0.1, [900])], watts: [(0.1, [\"not allowed\"])]")),
        &["watts row at 0.1", "not allowed"],
    );
    check(
        &file(&format!("{UNITS}, taps: [\"1\"], airflow: [(0.1, [\"no row\"])], watts: [(0.1, [90])]")),
        &["row at 0.1", "no row"],
    );
    check(&file(&format!("{UNITS}, taps: [\"1\"], airflow: [(0.1, [9000000000])]")), &["9000000000", "too large"]);
}

#[derive(Deserialize)]
struct Carrier {
    before: u8,
    machine: Option<BlowerDto>,
}

#[test]
fn a_table_travels_inside_another_file() {
    let table = crate::files::library::Library::shipped().0.entries.remove(0).table;
    let text = format!("(before: 7, machine: {})", body(&table));
    let back: Carrier = ron_words::read(&text, "carrier").unwrap();
    assert_eq!(back.before, 7);
    assert_eq!(BlowerTable::try_from(back.machine.unwrap()), Ok(table));
    assert!(text.lines().any(|line| line.starts_with("        (0.10, [")), "one line a row:\n{text}");
}
