//! PCHIP against scipy on 200 random tables: even, uneven and wildly uneven rows; falling, with flat stretches, and up and down.
//!
//! `tests/data/reference/make_pchip.py` wrote the file; the versions stand in it.

use serde_json::Value;
use tapcross::numerics::pchip::Pchip;

const FILE: &str = include_str!("data/reference/pchip_scipy.json");
/// Agreement asked for, relative to the size of the figures (airflow in cfm, slopes in cfm an inch).
const SAME: f64 = 1e-9;

fn numbers(value: &Value) -> Vec<f64> {
    let items = value.as_array().expect("a list");
    items.iter().map(|item| item.as_f64().expect("a number")).collect()
}

fn tables() -> Vec<Value> {
    let file: Value = serde_json::from_str(FILE).expect("the file is JSON");
    let tables = file["tables"].as_array().expect("tables").clone();
    assert!(tables.len() >= 200, "scipy {} made {} tables", file["meta"]["scipy"], tables.len());
    tables
}

fn curve(table: &Value) -> Pchip {
    let points: Vec<(f64, f64)> = numbers(&table["x"]).into_iter().zip(numbers(&table["y"])).collect();
    Pchip::through(&points).expect("sound points")
}

fn check(what: &str, table: &Value, ours: &[f64], theirs: &[f64]) {
    assert_eq!(ours.len(), theirs.len(), "{what} of {table}");
    for (our, their) in ours.iter().zip(theirs) {
        let size = their.abs().max(1.0);
        assert!((our - their).abs() <= SAME * size, "{what}: {our} here, {their} by scipy, in {table}");
    }
}

#[test]
fn values_between_the_rows_agree_with_scipy() {
    for table in tables() {
        let curve = curve(&table);
        let at = numbers(&table["at"]);
        let ours: Vec<f64> = at.iter().map(|&x| curve.value(x).expect("within the rows")).collect();
        check("values", &table, &ours, &numbers(&table["values"]));
    }
}

#[test]
fn slopes_at_the_rows_agree_with_scipy() {
    for table in tables() {
        check("slopes", &table, curve(&table).slopes(), &numbers(&table["slopes"]));
    }
}

#[test]
fn every_kind_of_table_is_among_them() {
    let tables = tables();
    for spacing in ["even", "uneven", "wild"] {
        for shape in ["falling", "flat", "turning"] {
            let kind = |table: &&Value| table["spacing"] == spacing && table["shape"] == shape;
            assert!(tables.iter().filter(kind).count() >= 5, "{spacing} and {shape}");
        }
    }
}
