//! What a report says: every key documented, every number that of the answer.

use std::collections::BTreeSet;

use serde_json::Value;
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::ElementKind;
use tapcross::model::facts::blower::CoilInTest;
use tapcross::model::facts::change::ChangeKind;
use tapcross::model::facts::job::Job;
use tapcross::model::facts::target::Target;
use tapcross::model::path::parts::flows;
use tapcross::model::search;
use tapcross::model::verdicts::taps::Reach;
use tapcross::report::json::{self, Report};

use crate::jobs::{
    jobs_of_every_kind, with_another_machine, with_changes, with_lengths, with_nothing_left, with_one_row_tap,
    with_short_ducts, with_total, with_ways, without_readings,
};
use crate::shop::report_of;

/// JSON is written with as many digits as bring back the number; the reader of these tests may be off by its last bit.
const LAST_BIT: f64 = 4.0 * f64::EPSILON;

/// Half of the last digit to which the regression figures below are noted.
const NOTED_CFM: f64 = 0.05;
/// The same for pressures.
const NOTED_IN_WC: f64 = 0.000_05;

fn number(report: &Value, pointer: &str) -> f64 {
    let value = report.pointer(pointer).unwrap_or_else(|| panic!("no {pointer}"));
    value.as_f64().unwrap_or_else(|| panic!("{pointer} is {value}"))
}

fn assert_same(report: &Value, pointer: &str, expected: f64) {
    let written = number(report, pointer);
    assert!((written - expected).abs() <= LAST_BIT * expected.abs(), "{pointer}: {written}, not {expected}");
}

#[test]
fn the_numbers_of_a_report_are_those_of_the_answer() {
    for job in [demo::heat_pump(), demo::gas_furnace(), with_total(1.05), with_one_row_tap("4")] {
        let report = report_of(&job);
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        assert_same(&report, "/operating_point/airflow_cfm", running.now.airflow.cfm());
        assert_same(&report, "/operating_point/u95_airflow_cfm", running.system.spreads.now.cfm());
        assert_same(&report, "/operating_point/tesp_in_wc", running.now.tesp.in_wc());
        assert_same(&report, "/operating_point/table_entry_in_wc", running.now.entry.in_wc());
        assert_same(&report, "/air/density_ratio", answer.blower().density_ratio);
        assert_same(&report, "/target/actual_cfm", answer.blower().target.unwrap().actual.cfm());
        assert_eq!(report["taps"].as_array().unwrap().len(), answer.taps().len());
        for (index, tap) in answer.taps().iter().enumerate() {
            let written = &report["taps"][index];
            assert_eq!(written["name"], tap.name.as_str());
            let Some(point) = tap.reached() else {
                assert!(written["point"].is_null() && written["no_point"]["code"].is_string());
                continue;
            };
            let (curve, path) = point.standing.words();
            assert_eq!(written["point"]["standing"]["curve"], curve);
            assert_eq!(written["point"]["standing"]["path"], path);
            assert_same(written, "/point/airflow_cfm", point.airflow().cfm());
            assert_same(written, "/point/tesp_in_wc", point.crossing.tesp.in_wc());
            assert_same(written, "/point/gain_cfm", point.gain.least.cfm());
        }
    }
}

/// Regression, not truth: what the program gave when each motor family got its own law in thin air, noted to 0.1 cfm and 0.0001 in. w.c.
#[test]
fn the_main_figures_of_the_demo_jobs_stand_still() {
    type Figures<'a> = &'a [(&'a str, f64, f64)];
    let cases: [(Job, Figures<'_>); 2] = [(demo::heat_pump(), HEAT_PUMP), (demo::gas_furnace(), GAS_FURNACE)];
    for (job, figures) in cases {
        let report = report_of(&job);
        for (pointer, noted, tolerance) in figures {
            let written = number(&report, pointer);
            assert!((written - noted).abs() <= *tolerance, "{}: {pointer} is {written}, was {noted}", job.title);
        }
    }
}

const HEAT_PUMP: &[(&str, f64, f64)] = &[
    ("/operating_point/airflow_cfm", 1202.1, NOTED_CFM),
    ("/operating_point/u95_airflow_cfm", 63.0, NOTED_CFM),
    ("/operating_point/tesp_in_wc", 0.83, NOTED_IN_WC),
    ("/operating_point/table_entry_in_wc", 0.8848, NOTED_IN_WC),
    ("/target/actual_cfm", 1386.7, NOTED_CFM),
    ("/segments/0/drop_in_wc", 0.52, NOTED_IN_WC),
    ("/taps/4/point/airflow_cfm", 1273.7, NOTED_CFM),
    ("/taps/4/point/tesp_in_wc", 0.9319, NOTED_IN_WC),
    ("/taps/4/need/remove_in_wc", 0.4232, NOTED_IN_WC),
];

const GAS_FURNACE: &[(&str, f64, f64)] = &[
    ("/operating_point/airflow_cfm", 1151.0, NOTED_CFM),
    ("/operating_point/u95_airflow_cfm", 61.2, NOTED_CFM),
    ("/operating_point/tesp_in_wc", 0.70, NOTED_IN_WC),
    ("/operating_point/table_entry_in_wc", 0.7254, NOTED_IN_WC),
    ("/target/actual_cfm", 1259.2, NOTED_CFM),
    ("/segments/1/drop_in_wc", 0.42, NOTED_IN_WC),
    ("/taps/4/point/airflow_cfm", 1235.9, NOTED_CFM),
    ("/taps/4/need/remove_in_wc", 0.0768, NOTED_IN_WC),
];

/// A report without the program around it.
pub(crate) fn written(job: &Job) -> Value {
    let report = Report::of("job.ron", job, &Answer::checked(job), search::to_the_end(job));
    serde_json::from_str(&json::one(&report).unwrap()).unwrap()
}

/// Every key below a value, with dots between and `[]` behind an array.
fn keys_below(value: &Value, path: &str, keys: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                keys_below(inner, &path, keys);
                keys.insert(path);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| keys_below(item, &format!("{path}[]"), keys)),
        _ => {}
    }
}

/// Every key that has its row in the documentation.
pub(crate) fn documented_keys() -> BTreeSet<String> {
    include_str!("../../assets/formats/report.md")
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_key_is_documented_and_every_documented_key_is_written() {
    let documented = documented_keys();
    let mut keys = BTreeSet::new();
    for job in jobs_of_every_kind() {
        keys_below(&written(&job), "", &mut keys);
    }
    // A tap with changes has what every tap has.
    let keys: BTreeSet<String> = keys.iter().map(|key| key.replace("after.taps[].", "taps[].")).collect();
    let undocumented: Vec<&String> = keys.difference(&documented).collect();
    let never_written: Vec<&String> = documented.difference(&keys).collect();
    assert_eq!(undocumented, [] as [&String; 0], "written, not documented");
    assert_eq!(never_written, [] as [&String; 0], "documented, never written");
}

/// The last part of a key says the unit; a number without one is a count, a version or a ratio.
#[test]
fn every_number_says_its_unit_in_its_key() {
    const UNITS: &[&str] = &[
        "_cfm",
        "_in_wc",
        "_fraction",
        "_watts",
        "_volts",
        "_tons",
        "_ft",
        "_f",
        "_kpa",
        "_lb_ft3",
        "_rpm",
        "_fpm",
        "_btuh",
        "_in_wc_100ft",
        "_kwh",
        "_hours",
    ];
    const BARE: &[&str] = &[
        "tapcross_report",
        "port",
        "row",
        "density_ratio",
        "guessed_odds_ratio",
        "table_airflow_factor",
        "watts_per_cfm",
        "exponent",
        "id",
        "price",
        "examined",
        "unpriced",
        "value",
        "change_ids",
        "on_ids",
        "price_with_tax",
        "yearly_energy_cost",
        "unpriced_ids",
        "way",
        "set",
        "judged_set",
        "says_what_set_says",
        "chi_squared",
        "freedom",
        "draws",
    ];
    // Numbers of things, not of quantities.
    const NAMES: [&str; 2] = ["_id", "_ids"];
    fn numbers(key: &str, value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Object(fields) => fields.iter().for_each(|(key, inner)| numbers(key, inner, found)),
            Value::Array(items) => items.iter().for_each(|item| numbers(key, item, found)),
            Value::Number(_) => {
                found.insert(key.to_owned());
            }
            _ => {}
        }
    }
    let mut found = BTreeSet::new();
    for job in jobs_of_every_kind() {
        numbers("", &written(&job), &mut found);
    }
    assert!(found.len() > 30, "{found:?}");
    for key in found {
        let says = UNITS.iter().chain(&NAMES).any(|unit| key.ends_with(unit)) || BARE.contains(&key.as_str());
        assert!(says, "{key} has no unit");
    }
}

#[test]
fn changes_parts_and_every_tap_after_them_are_those_of_the_answer() {
    let job = with_changes();
    let (report, answer) = (report_of(&job), Answer::of(&job));
    let running = answer.point().unwrap();
    let after = answer.with_changes().unwrap();
    let ids: Vec<u64> =
        report["changes"].as_array().unwrap().iter().map(|change| change["id"].as_u64().unwrap()).collect();
    assert_eq!(ids, [4, 2, 7, 8, 9]);
    for (index, worth) in after.worths.iter().enumerate() {
        match &worth.gain {
            Ok(gain) => {
                assert_same(&report, &format!("/changes/{index}/worth_cfm"), gain.least.cfm());
                let rooms = worth.to_rooms.unwrap().least.cfm();
                assert_same(&report, &format!("/changes/{index}/worth_to_rooms_cfm"), rooms);
            }
            Err(sentence) => assert_eq!(report["changes"][index]["worth_unknown"], sentence.to_string()),
        }
    }
    assert_eq!(report["changes"][0]["element"], "return_duct");
    assert_eq!((&report["changes"][3]["on"], &report["changes"][1]["price"]), (&Value::Bool(false), &Value::Null));
    assert!(report["changes"][4]["refused"].as_str().unwrap().contains("is gone"));
    let point = after.system.point().unwrap();
    assert_eq!(report["after"]["tap"], "5");
    assert_same(&report, "/after/airflow_cfm", point.airflow.cfm());
    assert_same(&report, "/after/tesp_in_wc", point.tesp.in_wc());
    assert_same(&report, "/after/gain_cfm", (point.airflow - running.airflow_before).cfm());
    assert_same(
        &report,
        "/after/u95_gain_cfm",
        after.system.spreads.taps[after.system.blower.in_use.unwrap()].unwrap().gain.cfm(),
    );
    for index in 0..after.system.taps.len() {
        let tap = after.system.crossing(index).unwrap();
        assert_same(&report, &format!("/taps/{index}/after/airflow_cfm"), tap.airflow.cfm());
        assert_same(&report, &format!("/taps/{index}/after/tesp_in_wc"), tap.tesp.in_wc());
    }
    let sum = |pointer: &str| -> f64 {
        let parts = report.pointer(pointer).unwrap().as_array().unwrap();
        parts.iter().map(|part| part["drop_in_wc"].as_f64().unwrap()).sum()
    };
    assert!((sum("/parts") - running.now.tesp.in_wc()).abs() < 1e-9);
    assert!((sum("/after/parts") - point.tesp.in_wc()).abs() < 1e-9);
    assert_eq!(report["parts"][0]["side"], "return");
}

/// The element of a number in the report's flat path.
fn element(report: &Value, id: u32) -> &Value {
    let all = report["path"].as_array().unwrap();
    all.iter().find(|element| element["id"] == id).unwrap_or_else(|| panic!("no element {id}"))
}

#[test]
fn the_path_is_told_with_its_ways_flows_and_drops_before_and_after() {
    let job = with_ways();
    let (report, answer) = (report_of(&job), Answer::of(&job));
    let running = answer.point().unwrap();
    let after = answer.with_changes().unwrap();
    let ids: Vec<u64> = report["path"].as_array().unwrap().iter().map(|one| one["id"].as_u64().unwrap()).collect();
    let right: Vec<u64> = job.path.all().iter().map(|element| u64::from(element.id.0)).collect();
    assert_eq!(ids, right, "flow order, a group before what is in it");
    let blower = running.now.airflow;
    let point = after.system.point().unwrap().airflow;
    for one in job.path.all() {
        let told = element(&report, one.id.0);
        match flows::at_element(&running.system.parts, one.id, blower) {
            Some((airflow, drop)) => {
                assert_same(told, "/airflow_cfm", airflow.cfm());
                assert_same(told, "/drop_in_wc", drop.in_wc());
            }
            None => assert!(told["airflow_cfm"].is_null() && told["standing"].is_null(), "{told}"),
        }
        if let Some((airflow, drop)) = flows::at_element(&after.system.parts, one.id, point) {
            assert_same(told, "/after/airflow_cfm", airflow.cfm());
            assert_same(told, "/after/drop_in_wc", drop.in_wc());
        }
    }
    let group = job.path.first(ElementKind::SideBySide).unwrap();
    let told = element(&report, group.id.0);
    let (ways, airflow) = (told["ways"].as_array().unwrap(), told["airflow_cfm"].as_f64().unwrap());
    assert!((ways[0]["airflow_cfm"].as_f64().unwrap() - 0.6 * airflow).abs() < 1e-6);
    assert!((ways[1]["airflow_cfm"].as_f64().unwrap() - 0.4 * airflow).abs() < 1e-6);
    assert_eq!((&ways[0]["stated_flow_fraction"], &ways[1]["stated_flow_fraction"]), (&0.6.into(), &Value::Null));
    let duct = element(&report, job.path.first(ElementKind::ReturnDuct).unwrap().id.0);
    assert_eq!(
        (&duct["name"], &duct["in_group_id"], &duct["way"]),
        (&"Hall return".into(), &group.id.0.into(), &1.into())
    );
    assert_eq!((&duct["side"], &duct["in_table"]), (&"return".into(), &false.into()));
    let across = report["readings"]["places"].as_array().unwrap();
    assert!(across.iter().any(|place| place["at"] == "across" && place["across"] == "coil"), "{across:?}");
    let ports = report["ports"].as_array().unwrap();
    let in_a_way: Vec<bool> = ports.iter().map(|port| port["in_a_way"].as_bool().unwrap()).collect();
    assert_eq!(in_a_way.iter().filter(|within| **within).count(), 1, "{ports:?}");
}

#[test]
fn the_air_is_told_where_it_counts_before_and_after() {
    let job = with_ways();
    let (report, answer) = (report_of(&job), Answer::of(&job));
    let running = answer.point().unwrap();
    let after = answer.with_changes().unwrap();
    for (pointer, delivered) in
        [("/delivered", running.delivered()), ("/after/delivered", after.system.delivered.unwrap())]
    {
        assert_same(&report, &format!("{pointer}/blower_cfm"), delivered.blower.cfm());
        assert_same(&report, &format!("{pointer}/to_rooms_cfm"), delivered.to_rooms.cfm());
        assert_same(&report, &format!("{pointer}/from_rooms_cfm"), delivered.from_rooms.cfm());
    }
    let blower = number(&report, "/delivered/blower_cfm");
    // 15 % take the bypass; of the rest a tenth leaks.
    assert!((number(&report, "/delivered/from_rooms_cfm") - 0.85 * blower).abs() < 1e-6);
    assert!((number(&report, "/delivered/to_rooms_cfm") - 0.765 * blower).abs() < 1e-6);
    assert!((number(&report, "/bypass/airflow_cfm") - 0.15 * blower).abs() < 1e-6);
    assert_eq!(report["bypass"]["airflow_after_cfm"], 0.0, "shut");
    assert!(number(&report, "/after/delivered/to_rooms_cfm") > number(&report, "/delivered/to_rooms_cfm"));
    let parts = report["parts"].as_array().unwrap();
    assert!(parts.iter().any(|part| part["elements"] == serde_json::json!(["bypass"])), "{parts:?}");
}

#[test]
fn changes_say_their_role_and_the_doubt_of_their_worth() {
    let (report, answer) = (report_of(&with_ways()), Answer::of(&with_ways()));
    let after = answer.with_changes().unwrap();
    let roles: Vec<&Value> = report["changes"].as_array().unwrap().iter().map(|change| &change["role"]).collect();
    assert_eq!(roles, ["fix", "fix", "condition"]);
    assert_same(&report, "/changes/0/u95_worth_cfm", after.worths[0].spread.unwrap().cfm());
    assert_same(&report, "/changes/2/u95_worth_cfm", after.worths[2].spread.unwrap().cfm());
    assert_eq!(report["changes"][1]["element"], "bypass");
    assert_eq!((&report["after"]["call"], &report["after"]["machine"]), (&"heating_high".into(), &Value::Null));
}

#[test]
fn every_tap_after_the_changes_is_told_in_full() {
    for job in [with_changes(), with_ways(), with_another_machine()] {
        let (report, answer) = (report_of(&job), Answer::of(&job));
        let after = answer.with_changes().unwrap();
        let told = report["after"]["taps"].as_array().unwrap();
        assert_eq!(told.len(), after.system.taps.len());
        for (told, tap) in told.iter().zip(&after.system.taps) {
            assert_eq!(told["name"], tap.name.as_str());
            assert_eq!(told["in_use"], tap.in_use);
            let Some(point) = tap.reached() else {
                assert!(told["no_point"]["code"].is_string(), "{told}");
                continue;
            };
            assert_same(told, "/point/airflow_cfm", point.airflow().cfm());
            assert_same(told, "/point/gain_cfm", point.gain.least.cfm());
            assert_eq!(told["point"]["rises"].as_array().unwrap().len(), point.rises.len());
            assert_eq!(told["point"]["reach"].is_null(), point.reach.is_none());
            assert_eq!(told["need"].is_null(), tap.need.is_none());
            assert_eq!(told["point"]["is_answer"], point.is_answer());
        }
    }
}

#[test]
fn another_machine_is_told_with_its_own_taps_target_and_plate() {
    let job = with_another_machine();
    let (report, answer) = (report_of(&job), Answer::of(&job));
    let heat_pump = demo::heat_pump().machine.unwrap();
    assert_eq!(report["after"]["machine"], heat_pump.name.as_str());
    assert_eq!(report["after"]["tap"], "3");
    assert_same(&report, "/after/target/actual_cfm", 1000.0);
    assert_same(&report, "/after/plate/limit_in_wc", heat_pump.rated_maximum.unwrap().in_wc());
    let airflow = answer.with_changes().unwrap().system.point().unwrap().airflow;
    assert_same(&report, "/after/of_target_fraction", airflow.cfm() / 1000.0);
    assert_eq!(report["after"]["taps"].as_array().unwrap().len(), heat_pump.taps.len());
    // The job's own taps run on nothing any more.
    assert!(report["taps"].as_array().unwrap().iter().all(|tap| tap["after"].is_null()));
    assert!(number(&report, "/target/actual_cfm") > 1000.0);
}

/// A machine whose coil nobody knows moves at most what is told, which lands in no band for sure.
#[test]
fn where_the_changes_land_is_told_as_the_answer_judges_it() {
    let mut job = with_another_machine();
    let ChangeKind::OtherMachine(new) = &mut job.changes[0].kind else { panic!("another machine") };
    new.table.basis.coil = CoilInTest::Without;
    let airflow = |job: &Job| Answer::of(job).with_changes().unwrap().system.point().unwrap().airflow;
    let at_target = airflow(&job);
    let ChangeKind::OtherMachine(new) = &mut job.changes[0].kind else { panic!("another machine") };
    new.target = Some(Target::Airflow(at_target));
    let answer = Answer::of(&job);
    let runs = answer.with_changes().unwrap().system.runs().unwrap();
    assert_eq!(runs.reach, Some(Reach::NotSaid));
    let report = report_of(&job);
    let own = report["after"]["taps"].as_array().unwrap().iter().find(|tap| tap["in_use"] == true).unwrap();
    assert_eq!(report["after"]["reach"], own["point"]["reach"]);
}

#[test]
fn what_is_left_for_the_ducts_is_that_of_the_answer() {
    for job in [with_lengths(), with_nothing_left(), with_short_ducts()] {
        let (report, answer) = (report_of(&job), Answer::of(&job));
        let allowance = answer.ducts.unwrap();
        assert_same(&report, "/job/return_length_ft", 90.0);
        assert_same(&report, "/job/supply_length_ft", 160.0);
        assert_same(&report, "/ducts/allowed_in_wc", allowance.allowed.in_wc());
        assert_same(&report, "/ducts/left_in_wc", allowance.left.in_wc());
        assert_same(&report, "/ducts/airflow_cfm", allowance.airflow.cfm());
        assert_eq!(report["ducts"]["friction_rate_in_wc_100ft"].is_null(), allowance.rate.is_none());
        for (index, side) in allowance.sides.iter().enumerate() {
            let written = &report["ducts"]["sides"][index];
            let read = side.read.as_ref().unwrap();
            assert_same(written, "/read_in_wc", read.at_reading.in_wc());
            assert_same(written, "/taken_in_wc", read.at_allowance.in_wc());
            if let Some(rates) = side.rates() {
                assert_same(written, "/read_rate_in_wc_100ft", rates.0.in_wc_100ft());
                assert_same(written, "/taken_rate_in_wc_100ft", rates.1.in_wc_100ft());
            } else {
                assert!(written["read_rate_in_wc_100ft"].is_null() && written["taken_rate_in_wc_100ft"].is_null());
            }
            match side.share {
                Some(share) => assert_same(written, "/share_in_wc", share.in_wc()),
                None => assert!(written["share_in_wc"].is_null()),
            }
        }
    }
    let verdicts = |job: &Job| {
        report_of(job)["ducts"]["sides"]
            .as_array()
            .unwrap()
            .iter()
            .map(|side| side["verdict"].as_str().unwrap().to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(verdicts(&with_lengths()), ["not_said", "over"]);
    assert_eq!(verdicts(&with_nothing_left()), ["not_said", "not_said"]);
    assert_eq!(verdicts(&with_short_ducts()), ["within", "over"]);
    let report = report_of(&with_lengths());
    assert_eq!(report["ducts"]["without_data"], serde_json::json!(["filter"]));
    assert_eq!(report["ducts"]["sides"][0]["with"], serde_json::json!(["filter"]));
    assert_eq!(report["ducts"]["sides"][0]["less"], serde_json::json!(["return_grille"]));
    assert_eq!(report["ducts"]["parts"][0]["is_usual"], true);
    assert_eq!(
        (&report["ducts"]["parts"][1]["element"], &report["ducts"]["allowed_from"]),
        (&Value::from("coil"), &Value::from("design_static"))
    );
    assert!(report_of(&demo::heat_pump())["ducts"].is_null());
}

#[test]
fn a_job_without_changes_reports_none_and_no_search() {
    let report = report_of(&demo::heat_pump());
    assert_eq!(report["changes"], Value::Array(Vec::new()));
    assert!(report["after"].is_null() && report["cheapest"].is_null() && report["taps"][0]["after"].is_null());
}

#[test]
fn the_cheapest_sets_are_reported_in_their_order() {
    let report = report_of(&with_changes());
    let best = report["cheapest"]["best"].as_array().unwrap();
    assert!(!best.is_empty(), "{}", report["cheapest"]);
    let prices: Vec<f64> = best.iter().map(|set| set["price"].as_f64().unwrap()).collect();
    assert!(prices.is_sorted(), "{prices:?}");
    let target = (number(&report, "/target/low_cfm"), number(&report, "/target/high_cfm"));
    for set in best {
        let airflow = set["airflow_cfm"].as_f64().unwrap();
        assert!(airflow >= target.0 && airflow <= target.1, "{set}");
        assert!(!set["change_ids"].as_array().unwrap().contains(&Value::from(9)), "{set}");
    }
}

#[test]
fn the_head_of_a_report_says_version_program_and_job() {
    let report = report_of(&demo::heat_pump());
    assert_eq!(report["tapcross_report"], 1);
    assert_eq!(report["program_version"], env!("CARGO_PKG_VERSION"));
    assert_eq!(report["file"], "job.ron");
    assert_eq!(report["job"]["title"], demo::heat_pump().title);
    assert_eq!(report["job"]["illustrative"], true);
    assert!(report["why_not"].is_null());
    assert!(report["verdict"]["headline"].as_str().unwrap().contains("cfm"));
}

#[test]
fn a_job_without_an_operating_point_is_reported_with_the_reason() {
    let mut no_tap = demo::heat_pump();
    no_tap.sets[0].tap = Some("9".to_owned());
    let mut only_after = demo::heat_pump();
    only_after.sets[0].readings.remove(0);
    let cases = [
        (Job::default(), "no_machine"),
        (without_readings(), "nothing_read"),
        (only_after, "before_not_read"),
        (no_tap, "no_such_tap"),
        (with_total(1.45), "past_the_end"),
        (with_total(0.0), "no_rise"),
        (with_one_row_tap("3"), "single_row"),
    ];
    for (job, code) in cases {
        let report = report_of(&job);
        assert!(report["operating_point"].is_null(), "{code}");
        assert_eq!(report["why_not"]["code"], code);
        assert!(report["why_not"]["sentence"].as_str().unwrap().len() > 20, "{code}");
        assert_eq!(report["segments"], Value::Array(Vec::new()));
    }
}

#[test]
fn past_the_end_of_the_curve_the_bound_is_reported() {
    let report = report_of(&with_total(1.45));
    // The last row, 1,145 cfm, as its constant-torque motor moves it in this air.
    let last = 1145.0 / number(&report, "/air/density_ratio").sqrt();
    assert_same(&report, "/why_not/airflow_below_cfm", last);
    assert_same(&report, "/why_not/tesp_in_wc", 1.45);
    let off_the_table = report_of(&with_total(1.05));
    assert_same(&off_the_table, "/operating_point/airflow_below_cfm", last);
    assert_eq!(off_the_table["operating_point"]["standing"]["curve"], "extrapolated");
    assert!(number(&off_the_table, "/operating_point/airflow_cfm") < last);
}

/// Thin air leaves the motor's airflow in doubt, and no reading.
#[test]
fn each_result_has_the_standing_of_what_it_rests_on() {
    assert_eq!(report_of(&demo::gas_furnace())["operating_point"]["standing"]["path"], "measured");
    let mut job = demo::gas_furnace();
    job.sets[0].air.altitude = tapcross::units::Altitude::from_ft(5280.0);
    let report = report_of(&job);
    assert_eq!(report["operating_point"]["standing"]["path"], "assumed");
    assert_eq!(report["taps"][4]["need"]["standing"]["path"], "assumed");
    assert_eq!(report["operating_point"]["tesp_standing"]["path"], "measured");
    assert_eq!(report["segments"][0]["standing"]["path"], "measured");
    let off_the_table = report_of(&with_total(1.05));
    assert_eq!(off_the_table["taps"][4]["need"]["standing"]["curve"], "extrapolated");
    assert_eq!(off_the_table["operating_point"]["tesp_standing"]["curve"], "published");
}

/// Takes the report's words where words are meant, and nothing that a person typed.
#[test]
fn every_word_in_a_report_is_documented() {
    const WORDS: &[&str] = &[
        "kind",
        "motor",
        "filter",
        "coil",
        "heater",
        "return_openings",
        "position",
        "call",
        "calls",
        "at",
        "side",
        "after",
        "from",
        "reach",
        "curve",
        "path",
        "decides",
        "power_from",
        "allowed_from",
        "airflow_from",
        "element",
        "with",
        "without_data",
        "standing",
        "verdict",
        "code",
        "segment",
        "part",
        "weight",
        "field",
        "severity",
        "role",
        "stands",
        "standing",
    ];
    fn words(key: &str, value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Object(fields) => fields.iter().for_each(|(key, inner)| words(key, inner, found)),
            Value::Array(items) => items.iter().for_each(|item| words(key, item, found)),
            Value::String(word) if WORDS.contains(&key) => {
                found.insert(word.clone());
            }
            _ => {}
        }
    }
    let documentation = include_str!("../../assets/formats/report.md");
    let mut found = BTreeSet::new();
    for job in jobs_of_every_kind() {
        words("", &written(&job), &mut found);
    }
    assert!(found.len() > 40, "{found:?}");
    for word in found {
        assert!(documentation.contains(&format!("`{word}`")), "{word} is not documented");
    }
}
