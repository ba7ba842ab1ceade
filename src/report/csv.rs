#![doc = include_str!("../../assets/formats/tables.md")]

use serde_json::Value;

use crate::model::answer::Answer;
use crate::model::curves::{self, Curve, Entries, Part, Tap};
use crate::model::facts::job::Job;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::system::System;
use crate::report::form::Table;
use crate::report::json;
use crate::units::{Airflow, Pressure};

/// Keys of a tap's point that stand in its table, each a column of its own.
const OF_A_POINT: [&str; 22] = [
    "airflow_cfm",
    "u95_airflow_cfm",
    "airflow_below_cfm",
    "standard_airflow_cfm",
    "per_ton_standard_cfm",
    "of_target_fraction",
    "reach",
    "is_answer",
    "gain_cfm",
    "gain_up_to_cfm",
    "u95_gain_cfm",
    "tesp_in_wc",
    "table_entry_in_wc",
    "plate.limit_in_wc",
    "plate.worse_in_wc",
    "plate.side",
    "power_watts",
    "watts_per_cfm",
    "speed_rpm",
    "barred",
    "standing.curve",
    "standing.path",
];
/// What stands before them.
const OF_A_TAP: [&str; 6] = ["file", "system", "machine", "tap", "calls", "in_use"];
/// Keys of an option that stand in its table, each a column of its own, behind the file's.
const OF_AN_OPTION: [&str; 26] = [
    "name",
    "reason",
    "on_ids",
    "tap",
    "airflow_cfm",
    "u95_airflow_cfm",
    "airflow_below_cfm",
    "to_rooms_cfm",
    "gain_cfm",
    "gain_up_to_cfm",
    "u95_gain_cfm",
    "standing.curve",
    "standing.path",
    "tesp_in_wc",
    "limits",
    "per_ton_standard_cfm",
    "power_watts",
    "yearly_energy_kwh",
    "yearly_energy_cost",
    "watts_per_cfm",
    "price",
    "labour",
    "material",
    "unpriced",
    "price_with_tax",
    "price_per_cfm",
];
/// Columns of the curves.
const OF_A_CURVE: [&str; 8] = ["file", "system", "machine", "curve", "name", "part", "airflow_cfm", "tesp_in_wc"];
/// How far past the airflow of its strongest tap a path's curve goes.
const PAST_THE_TAPS: f64 = 1.05;

/// A job, what follows from it, and what it is called by.
#[derive(Clone, Copy, Debug)]
pub struct Named<'a> {
    /// The job file, as it was named.
    pub file: &'a str,
    /// The job.
    pub job: &'a Job,
    /// Everything that follows from it.
    pub answer: &'a Answer,
}

/// The table of one or several jobs.
///
/// # Errors
/// When a cell cannot be written, which no cell of these is known to do.
pub fn table(which: Table, jobs: &[Named<'_>]) -> Result<Vec<u8>, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    match which {
        Table::Taps => writer.write_record(OF_A_TAP.iter().chain(&OF_A_POINT))?,
        Table::Curves => writer.write_record(OF_A_CURVE)?,
        Table::Options => writer.write_record(["file"].iter().chain(&OF_AN_OPTION))?,
    }
    for named in jobs {
        let rows = match which {
            Table::Taps => taps(named)?,
            Table::Curves => points(named),
            Table::Options => options(named)?,
        };
        for row in rows {
            writer.write_record(row)?;
        }
    }
    writer.into_inner().map_err(|fault| csv::Error::from(fault.into_error()))
}

fn taps(Named { file, job, answer }: &Named<'_>) -> Result<Vec<Vec<String>>, csv::Error> {
    let fault = |fault: serde_json::Error| csv::Error::from(std::io::Error::from(fault));
    let (found, changed) = json::taps_of_both(job, answer).map_err(fault)?;
    let after = answer.with_changes().map(|after| &after.system.blower);
    let mut rows = Vec::new();
    for (system, blower, taps) in [("as_found", Some(answer.blower()), found), ("with_changes", after, changed)] {
        let machine = blower.and_then(|blower| blower.table(job)).map_or("", |table| table.name.as_str());
        for tap in &taps {
            let first = [(*file).to_owned(), system.to_owned(), machine.to_owned()];
            let own = ["name", "calls", "in_use"].map(|key| cell(tap, key));
            let point = OF_A_POINT.iter().map(|key| cell(&tap["point"], key));
            rows.push(first.into_iter().chain(own).chain(point).collect());
        }
    }
    Ok(rows)
}

fn options(Named { file, job, answer }: &Named<'_>) -> Result<Vec<Vec<String>>, csv::Error> {
    let all = json::every_option(job, answer).map_err(|fault| csv::Error::from(std::io::Error::from(fault)))?;
    let row = |option: &Value| {
        let cells = OF_AN_OPTION.iter().map(|key| cell(option, key));
        [(*file).to_owned()].into_iter().chain(cells).collect()
    };
    Ok(all.iter().map(row).collect())
}

/// The text of a value by its key, those of inner objects behind a point; a list's with a space between.
fn cell(of: &Value, key: &str) -> String {
    said(key.split('.').fold(of, |of, key| &of[key]))
}

fn said(value: &Value) -> String {
    match value {
        Value::Null | Value::Object(_) => String::new(),
        Value::String(text) => text.clone(),
        Value::Bool(_) | Value::Number(_) => value.to_string(),
        Value::Array(all) => all.iter().map(said).collect::<Vec<_>>().join(" "),
    }
}

fn points(Named { file, job, answer }: &Named<'_>) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    let found = answer.point().map(|running| &running.system);
    let mut add = |system: &str, blower: &Blower, entries: &Entries<'_>, solved: Option<&System>| {
        let machine = blower.table(job);
        let first = [(*file).to_owned(), system.to_owned(), machine.map_or("", |table| table.name.as_str()).to_owned()];
        let mut row = |curve: &str, name: &str, part: &str, (airflow, tesp): (Airflow, Pressure)| {
            let figures = [airflow.cfm().to_string(), tesp.in_wc().to_string()];
            let words = [curve, name, part].map(str::to_owned);
            rows.push(first.iter().cloned().chain(words).chain(figures).collect());
        };
        let mut most = Airflow::ZERO;
        for (index, tap) in machine.into_iter().flat_map(|table| table.taps.iter().enumerate()) {
            for (part, place) in curves::tap(blower, index).map(|drawn| along(drawn, entries)).unwrap_or_default() {
                most = most.max(place.0);
                row("tap", &tap.name, part, place);
            }
        }
        if let Some(solved) = solved {
            for place in curves::path(&solved.load, most * PAST_THE_TAPS) {
                row("path", "", "", place);
            }
        }
    };
    add("as_found", answer.blower(), &Entries::found(job, answer), found);
    if let Some(after) = answer.with_changes() {
        add("with_changes", &after.system.blower, &Entries::of(&after.system), Some(&after.system));
    }
    rows
}

/// The places along a tap's curve, each with the word for what the curve rests on from there.
fn along(drawn: Tap<'_>, entries: &Entries<'_>) -> Vec<(&'static str, (Airflow, Pressure))> {
    let place = |airflow: Airflow, entry: Pressure| (airflow, entries.tesp(entry, airflow));
    match drawn {
        Tap::Row(row) => vec![("published", place(row.airflow, row.entry))],
        Tap::Curve(curve) => {
            let (sampled, parts) = Curve::sampled(curve);
            let last = parts.last().copied();
            let part = |part: Part| match part {
                Part::Published => "published",
                Part::Extended => "extrapolated",
                Part::Barred => "barred",
            };
            let parts = parts.into_iter().chain(last).map(part);
            parts.zip(sampled).map(|(part, entry)| (part, place(curve.airflow(entry), entry))).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::files::demo;
    use crate::model::search;
    use crate::report::json::Report;

    fn read(which: Table, job: &Job) -> Vec<std::collections::BTreeMap<String, String>> {
        let answer = Answer::of(job);
        let bytes = table(which, &[Named { file: "a.ron", job, answer: &answer }]).unwrap();
        let mut reader = csv::Reader::from_reader(&bytes[..]);
        reader.deserialize().map(Result::unwrap).collect()
    }

    fn number(row: &std::collections::BTreeMap<String, String>, column: &str) -> f64 {
        row[column].parse().unwrap_or_else(|_| panic!("{column}: {row:?}"))
    }

    #[test]
    fn every_figure_of_the_taps_is_that_of_the_json() {
        let job = demo::gas_furnace();
        let report = Report::of("a.ron", &job, &Answer::of(&job), search::to_the_end(&job));
        let json = serde_json::to_value(&report).unwrap();
        let rows = read(Table::Taps, &job);
        let told = json["taps"].as_array().unwrap();
        let found: Vec<_> = rows.iter().filter(|row| row["system"] == "as_found").collect();
        assert_eq!(found.len(), told.len());
        for (row, tap) in found.iter().zip(told) {
            assert_eq!(row["tap"], tap["name"].as_str().unwrap());
            for column in ["airflow_cfm", "u95_airflow_cfm", "tesp_in_wc"] {
                let expected = tap["point"][column].as_f64().unwrap();
                assert_eq!(number(row, column).to_bits(), expected.to_bits(), "{column}");
            }
            let calls: Vec<&str> = tap["calls"].as_array().unwrap().iter().map(|call| call.as_str().unwrap()).collect();
            assert_eq!(row["calls"], calls.join(" "));
            assert_eq!(row["standing.curve"], tap["point"]["standing"]["curve"].as_str().unwrap());
        }
        // The columns are keys that a point has.
        let point = &told[0]["point"];
        for key in OF_A_POINT {
            let has = key.split('.').try_fold(point, |of, key| of.get(key));
            assert!(has.is_some(), "{key}");
        }
    }

    #[test]
    fn a_tap_crosses_the_path_in_the_curves_where_the_taps_say() {
        let job = demo::heat_pump();
        let taps = read(Table::Taps, &job);
        let curves = read(Table::Curves, &job);
        let of = |curve: &str, name: &str| -> Vec<(f64, f64)> {
            let own =
                curves.iter().filter(|row| row["system"] == "as_found" && row["curve"] == curve && row["name"] == name);
            own.map(|row| (number(row, "tesp_in_wc"), number(row, "airflow_cfm"))).collect()
        };
        let path = of("path", "");
        for tap in taps.iter().filter(|row| row["system"] == "as_found" && row["in_use"] == "true") {
            let (airflow, tesp) = (number(tap, "airflow_cfm"), number(tap, "tesp_in_wc"));
            for curve in [of("tap", &tap["tap"]), path.clone()] {
                // Both are drawn through so many points that a straight line between two of them misses by little.
                let pair = curve.windows(2).find(|pair| {
                    let (low, high) = (pair[0].0.min(pair[1].0), pair[0].0.max(pair[1].0));
                    low <= tesp && tesp <= high
                });
                let [one, other] = pair.expect("the curve reaches the static") else { unreachable!() };
                let at = one.1 + (other.1 - one.1) * (tesp - one.0) / (other.0 - one.0);
                assert!((at - airflow).abs() < 2.0, "{at} {airflow}");
            }
        }
    }
}
