//! Every bad file is told in one sentence.

use super::*;

/// Replaces one place of the golden file and compares the sentence.
fn check(old: &str, new: &str, sentence: &str) {
    assert!(GOLDEN.contains(old), "the golden file has no {old}");
    let told = job_file::parse(&GOLDEN.replacen(old, new, 1)).unwrap_err().to_string();
    assert_eq!(told, sentence);
}

fn check_whole(text: &str, sentence: &str) {
    assert_eq!(job_file::parse(text).unwrap_err().to_string(), sentence);
}

#[test]
fn a_file_that_is_something_else_is_told_as_that() {
    check(
        "tapcross_job: 1",
        "tapcross_job: 2",
        "This job was written by a newer Tapcross (format 2; this program reads up to 1) and is left as it is",
    );
    check_whole(
        "(tapcross_job: 7, zones: {3: \"a thing of the future\"} )",
        "This job was written by a newer Tapcross (format 7; this program reads up to 1) and is left as it is",
    );
    check(
        "tapcross_job: 1",
        "tapcross_job: \"1\"",
        "The first field tapcross_job has no format number; it should read tapcross_job: 1",
    );
    check_whole(
        &blower_file::write(&small_machine()),
        "This is a blower table, not a job; add it to the library instead",
    );
    check_whole(&settings::write(&Settings::default()).unwrap(), "This is the program's settings file, not a job");
    check_whole("\n \n", "The file is empty, so there is no job in it");
    for text in ["{\"title\": \"house\"}", "Dear Sir, the furnace is loud", "(title: \"\", tapcross_job: 1)"] {
        check_whole(text, "This is not a Tapcross job; one begins with (tapcross_job: 1, …)");
    }
}

#[test]
fn a_text_that_cannot_be_read_says_where_and_why() {
    check(
        "place: ",
        "plaice: ",
        "The job cannot be read at line 5, column 5: there is no field plaice here; it should be one of tapcross_job, title, place, date, notes, illustrative, outdoor_unit_tons, return_openings, path, ports, …tions, shown, costs, other_machines, target, call_targets, limits, accuracy, figure_sources, machine",
    );
    check(
        "kind: ReturnDuct",
        "kind: ReturnPipe",
        "The job cannot be read at line 13, column 30: ReturnPipe is not a word for this field; it should be one of Louvre, ReturnGrille, ReturnDuct, Filter, Blower, HeatExchanger, Coil, Heater, SupplyDuct, Registers, AirCleaner, Humidifier, Damper, Leak, Bypass, SideBySide",
    );
    check("date: ", "title: ", "The job cannot be read at line 7, column 5: the field title stands here a second time");
    check(
        "altitude_ft: 5280.0",
        "altitude_m: 1609",
        "The job cannot be read at line 36, column 17: there is no field altitude_m here; it should be one of altitude_ft, station_pressure_in_hg, station_pressure_kpa, temperature_f, humidity_percent, humidity_fraction",
    );
    check(
        "id: 1, kind",
        "id: one, kind",
        "The job cannot be read at line 12, column 21: one stands here; it should be a whole number, not below zero and not of more than nine digits",
    );
    let behind = format!("{GOLDEN}\nand more");
    let line = behind.matches('\n').count() + 1;
    check_whole(
        &behind,
        &format!("The job cannot be read at line {line}, column 1: something stands behind the end of the job: and"),
    );
}

#[test]
fn a_missing_field_is_named() {
    let told = job_file::parse(&GOLDEN.replacen("altitude_ft: 5280.0,\n", "\n", 1));
    let told = told.unwrap_err().to_string();
    assert!(told.contains("the field altitude_ft is missing in the brackets that end here"), "{told}");
    check(
        "humidity_percent: 45.0,",
        "",
        "The job cannot be read at line 40, column 13: the field humidity_percent is missing in the brackets that end here",
    );
}

#[test]
fn a_value_that_cannot_be_meant_is_named_with_what_would_be_right() {
    check(
        "altitude_ft: 5280.0",
        "altitude_ft: 40000",
        "Set 1 (As found): An altitude of 40,000 ft cannot be; houses stand between −1,500 and 20,000 ft",
    );
    check(
        "humidity_percent: 45.0",
        "humidity_percent: 140",
        "Set 1 (As found): A relative humidity of 140 % cannot be; it lies between 0 and 100 %",
    );
    check(
        "temperature_f: 75.0",
        "temperature_f: 750",
        "Set 1 (As found): Return air of 750 °F cannot be; it lies between −40 and 150 °F",
    );
    check(
        "temperature_f: 75.0",
        "temperature_f: NaN",
        "Set 1 (As found): Return air of NaN °F cannot be; it lies between −40 and 150 °F",
    );
    check(
        "station_pressure_in_hg: 24.7",
        "station_pressure_in_hg: 247",
        "Set 1 (As found): A station pressure of 247.00 in. Hg cannot be; it lies between 13.06 and 33.16 in. Hg",
    );
    check(
        "looks_in_wc: [0.34]",
        "looks_in_wc: [inf]",
        "Set 1 (As found): Port 2: a reading of inf in. w.c. is no number",
    );
    check(
        "power_watts: 410.0",
        "power_watts: -410",
        "Set 1 (As found): A blower of −410 W cannot be; it lies between 5 and 10,000 W",
    );
    check(
        "outdoor_unit_tons: 2.0",
        "outdoor_unit_tons: 30000",
        "Outdoor unit: A capacity of 30,000 ton cannot be; it lies between 0.5 and 25 ton",
    );
    check("rise_f: 47.0", "rise_f: 0", "Target: A temperature rise of 0 °F cannot be; it lies between 5 and 150 °F");
    check(
        "accept_band_fraction: 0.12",
        "accept_band_fraction: 12",
        "Limits: An accepted band of ±1,200 % cannot be; it lies between 1 and 50 %",
    );
    check(
        "port_offset_in_wc: 0.02",
        "port_offset_in_wc: -0.02",
        "Accuracy: A port's error of −0.02 in. w.c. cannot be; it lies between 0 and 1 in. w.c.",
    );
}

/// 1 in. w.c. is 249.089 Pa, 1 ft is 0.3048 m, 1 cfm is 0.47195 L/s.
#[test]
fn who_reads_in_si_reads_what_a_file_refuses_in_si() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.ron");
    let cases = [
        // 40,000 ft is 12,192 m; −1,500 and 20,000 ft are −457.2 and 6,096 m.
        (
            ("altitude_ft: 5280.0", "altitude_ft: 40000"),
            "Set 1 (As found): An altitude of 12,192 m cannot be; houses stand between −457 and 6,096 m",
        ),
        // 0.12 in. w.c. is 29.89 Pa, 1,000 cfm are 471.95 L/s.
        (
            ("drop_in_wc: 0.12", "drop_in_wc: -0.12"),
            "Path, element 3: A drop of −29.9 Pa at 471.9 L/s cannot be; the airflow has to be above zero and the drop not below it",
        ),
    ];
    for ((old, new), sentence) in cases {
        fs::write(&path, GOLDEN.replacen(old, new, 1)).unwrap();
        let refused = job_file::open(&path).unwrap_err();
        let told = job_file::told(&refused, UnitSystem::SiLitres);
        assert_eq!(told, format!("{sentence}: {}", path.display()));
    }
}

#[test]
fn a_length_or_a_design_static_that_cannot_be_is_refused() {
    let length = "a total effective length is above 0 and at most 2,000 ft";
    let design = "it lies between 0.05 and 5 in. w.c.";
    let cases = [
        ("return_length_ft", "0", "A return length of 0 ft", length),
        ("return_length_ft", "-120", "A return length of −120 ft", length),
        ("supply_length_ft", "2000.5", "A supply length of 2,000.5 ft", length),
        ("supply_length_ft", "NaN", "A supply length of NaN ft", length),
        ("design_static_in_wc", "0.04", "A design static of 0.04 in. w.c.", design),
        ("design_static_in_wc", "50", "A design static of 50.00 in. w.c.", design),
        ("design_static_in_wc", "inf", "A design static of ∞ in. w.c.", design),
    ];
    for (name, value, what, right) in cases {
        let stated = format!("    ducts: ({name}: {value}),\n    target: ");
        check("    target: ", &stated, &format!("Ducts: {what} cannot be; {right}"));
    }
    check(
        "    target: ",
        "    figure_sources: {\"return_drop\": (name: \"Elm\")},\n    target: ",
        "figure_sources: \"return_drop\" is no limit and no figure of accuracy; those are named by their fields under limits and accuracy",
    );
    check(
        "    target: ",
        "    ducts: (return_length_m: 30),\n    target: ",
        "The job cannot be read at line 59, column 13: there is no field return_length_m here; it should be one of return_length_ft, supply_length_ft, design_static_in_wc",
    );
}

#[test]
fn a_target_of_zero_is_refused_in_each_of_its_three_forms() {
    let target = "HeatRise(output_btuh: 42700.0, rise_f: 47.0)";
    check(target, "Airflow(cfm: 0)", "Target: A target of 0 cfm cannot be; it lies between 50 and 20,000 cfm");
    check(
        target,
        "PerTon(capacity_tons: 0, per_ton_cfm: 400)",
        "Target: A capacity of 0 ton cannot be; it lies between 0.5 and 25 ton",
    );
    check(
        target,
        "PerTon(capacity_tons: 3, per_ton_cfm: 0)",
        "Target: A target of 0 cfm/ton cannot be; it lies between 100 and 1,000 cfm/ton, and 350 to 450 is usual",
    );
}

#[test]
fn a_path_that_does_not_hang_together_is_refused() {
    check("kind: Blower", "kind: Filter", "The air path has 0 blowers; it must have exactly one");
    check(
        "(id: 2, after: 5)",
        "(id: 2, after: 50)",
        "Port 2 stands after element 50, which the air path does not have",
    );
    check("(id: 2, after: 5)", "(id: 1, after: 5)", "Two ports of the air path share the number 1");
    check("Element(id: 2,", "Element(id: 1,", "Two elements of the air path share the number 1");
    check("at: Port(2)", "at: Port(9)", "Set 1 (As found): Port 9 is read, but the air path has no such port");
    check(
        "at: Port(2)",
        "at: Port(1)",
        "Set 1 (As found): Port 1 is read twice; all readings at one place belong into one list",
    );
    check(
        "parts_out: [3]",
        "parts_out: [33]",
        "Set 2 (Filter out): Element 33 is said to be out of the path, but the air path has no such element",
    );
    check("exponent: 1.2)", "exponent: 12)", "Path, element 3: An exponent of 12 cannot be; it lies between 1 and 2.2");
    check(
        "drop_in_wc: 0.12",
        "drop_in_wc: -0.12",
        "Path, element 3: A drop of −0.12 in. w.c. at 1,000 cfm cannot be; the airflow has to be above zero and the drop not below it",
    );
}

/// A change put before the target of the golden file, and the sentence.
fn check_change(what: &str, sentence: &str) {
    check(
        "    target: ",
        &format!("    changes: [(id: 1, what: OtherTap(tap: \"1\")), {what}],\n    target: "),
        sentence,
    );
}

#[test]
fn a_share_or_an_exponent_that_cannot_be_is_refused() {
    let duct = "Element(id: 2, kind: ReturnDuct, in: House";
    check(
        duct,
        &format!("{duct}, share_percent: 140"),
        "Path, element 2: A share of 140 % cannot be; it lies between 0 and 100 %",
    );
    check(
        duct,
        &format!("{duct}, exponent: 3"),
        "Path, element 2: An exponent of 3 cannot be; it lies between 1 and 2.2",
    );
    check(
        duct,
        &format!("{duct}, share_percent: 40, share_fraction: 0.4"),
        "Path, element 2: the same is given twice, as share_percent and share_fraction; one of them has to go",
    );
}

#[test]
fn a_change_that_cannot_be_meant_is_named_with_what_would_be_right() {
    let run = "section: Round(diameter_in: 12), length_ft: 20, wall: Galvanized, fittings: 1";
    let duct = |then: &str| format!("(id: 2, what: OtherDuct(element: 2, now: ({run}), then: ({then})))");
    let size =
        |name: &str, value: &str| format!("Change 2: {name} cannot be {value}; it must be above 0 and at most 100 in");
    let cases = [
        ("(id: 1, what: BelowTable(factor: 0.9))".to_owned(), "Two changes share the number 1".to_owned()),
        (
            "(id: 2, price: -5, what: BelowTable(factor: 0.9))".to_owned(),
            "Change 2: A price of −5 cannot be; it is between 0 and 1,000,000,000,000".to_owned(),
        ),
        (
            "(id: 2, price: 50, labour: 60, what: BelowTable(factor: 0.9))".to_owned(),
            "Change 2: Labour is a part of the price and cannot be more than it; type the price first".to_owned(),
        ),
        (
            "(id: 2, what: BelowTable(factor: 1.2))".to_owned(),
            "Change 2: A blower at 120 % of its table cannot be; it lies between 50 and 100 %".to_owned(),
        ),
        (
            "(id: 2, what: FilterLoading(element: 3, factor: 0))".to_owned(),
            "Change 2: A filter loaded 0 times cannot be; the factor lies between 0.05 and 20".to_owned(),
        ),
        (
            "(id: 2, what: LessByHand(element: 3, fraction_percent: 140))".to_owned(),
            "Change 2: Reducing a drop by 140 % would make it negative; it lies between 0 and 100 %".to_owned(),
        ),
        (
            "(id: 2, what: RepairRun(element: 2))".to_owned(),
            "Change 2: the field fraction_percent is missing".to_owned(),
        ),
        (duct("section: Round(diameter_in: 0), length_ft: 20, wall: Galvanized, fittings: 1"), size("Duct diameter", "0 in")),
        (duct("section: Round(diameter_in: 400), length_ft: 20, wall: Galvanized, fittings: 1"), size("Duct diameter", "400 in")),
        (
            duct("section: Round(diameter_in: 12), length_ft: 0, wall: Galvanized, fittings: 1"),
            "Change 2: Duct length cannot be 0 ft; it must be above 0 and at most 5,000 ft".to_owned(),
        ),
        (
            "(id: 2, what: OpenRegisters(element: 8, now: 9, then: 8, of: 8))".to_owned(),
            "Change 2: 9 branches are said to be open where there are 8; at most 8 can be".to_owned(),
        ),
        (
            "(id: 2, what: PartByData(element: 3, drop: (points: [(airflow_cfm: 1835, drop_in_wc: 0.005), (airflow_cfm: 1855, drop_in_wc: 0.43)], exponent: 1.2)))".to_owned(),
            "Change 2: No part's drop rises as steeply as this one up to 1,855 cfm; is a digit wrong?".to_owned(),
        ),
        (
            "(id: 2, what: PartByData(element: 3, drop: (points: [(airflow_cfm: 0, drop_in_wc: 0.1)], exponent: 1.2)))".to_owned(),
            "Change 2: A drop of 0.10 in. w.c. at 0 cfm cannot be; the airflow has to be above zero and the drop not below it".to_owned(),
        ),
        (
            "(id: 2, what: PartByData(element: 3, drop: (points: [(airflow_cfm: 1, drop_in_wc: 0.1)], exponent: 3)))".to_owned(),
            "Change 2: An exponent of 3 cannot be; it lies between 1 and 2.2".to_owned(),
        ),
        (
            "(id: 2, what: PartByData(element: 3, drop: (points: [(airflow_cfm: 1000, drop_in_wc: 0.1)], exponent: 2, density_lb_ft3: 0.65)))".to_owned(),
            "Change 2: A drop published in air of 0.6500 lb/ft³ cannot be; it lies between 0.03 and 0.1 lb/ft³, and 0.075 is usual".to_owned(),
        ),
    ];
    for (what, sentence) in cases {
        check_change(&what, &sentence);
    }
}

/// It stays in its place, and the answer says that it cannot be put on.
#[test]
fn a_change_on_an_element_or_a_tap_that_is_gone_still_opens() {
    let gone = "changes: [(id: 1, what: LessByHand(element: 77, fraction_percent: 5)), (id: 2, what: OtherTap(tap: \"none\"))],\n    target: ";
    let job = job_file::parse(&GOLDEN.replacen("target: ", gone, 1)).unwrap();
    let answer = Answer::of(&job);
    let refused = &answer.with_changes().unwrap().refused;
    let told: Vec<String> = refused.iter().map(|(_, sentence)| sentence.to_string()).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert_eq!(told[0], "The element that this change was put on is gone");
    assert!(told[1].starts_with("The table has no ") && told[1].ends_with("\"none\""), "{told:?}");
    assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job));
}

#[test]
fn a_job_without_reading_sets_is_refused() {
    let job = Job { sets: Vec::new(), ..Job::default() };
    check_whole(&job_file::write(&job), "A job without a reading set cannot be; it needs at least one");
}

#[test]
fn a_value_given_twice_in_two_units_is_refused() {
    check(
        "humidity_percent: 45.0",
        "humidity_percent: 45.0, humidity_fraction: 0.45",
        "The job cannot be read at line 40, column 13: the same is given twice, as humidity_percent and humidity_fraction; one of them has to go",
    );
    check(
        "station_pressure_in_hg: 24.7",
        "station_pressure_in_hg: 24.7, station_pressure_kpa: 83.6",
        "The job cannot be read at line 40, column 13: the same is given twice, as station_pressure_in_hg and station_pressure_kpa; one of them has to go",
    );
}

#[test]
fn a_machine_that_cannot_be_used_is_told_as_the_machine() {
    let told =
        job_file::parse(&GOLDEN.replacen("tapcross_blower: 1", "tapcross_blower: 9", 1)).unwrap_err().to_string();
    assert!(told.starts_with("The job's own blower table cannot be used: "), "{told}");
    // A job's own table is asked about its unit as a file of the library is.
    check(
        "pressure: InchesOfWater",
        "pressure: Pascals",
        "The job's own blower table cannot be used: units.pressure is Pascals, but the highest pressure in the table is 0.7: does the file mean InchesOfWater?",
    );
}

#[test]
fn files_that_cannot_be_read_end_with_their_path() {
    let folder = tempfile::tempdir().unwrap();
    let binary = folder.path().join("binary.ron");
    fs::write(&binary, [0xff, 0xfe, 0x00]).unwrap();
    let cut = folder.path().join("cut.ron");
    fs::write(&cut, &GOLDEN[..900]).unwrap();
    let missing = folder.path().join("missing.ron");
    let rows: [(&Path, &str); 4] = [
        (&binary, "The file is not text"),
        (&cut, "The job is cut short: the file ends at line "),
        (&missing, "There is no such file"),
        (folder.path(), "This is a folder, not a plain file"),
    ];
    for (path, right) in rows {
        let told = job_file::read(path).unwrap_err().to_string();
        assert!(told.starts_with(right), "{told}");
        assert!(told.ends_with(&path.display().to_string()), "{told}");
    }
}

/// A NUL ends a window's title, and a carriage return a line of a terminal.
#[test]
fn a_text_with_what_no_line_can_show_opens_with_spaces() {
    let cases = [
        ("title: \"Two", "title: \"Tw\\0o", "Tw o"),
        ("title: \"Two", "title: \"Tw\\r\\no", "Tw  o"),
        ("title: \"Two", "title: \"Tw\\u{1b}[31m", "Tw [31m"),
    ];
    for (old, new, begins) in cases {
        assert!(GOLDEN.contains(old));
        let job = job_file::parse(&GOLDEN.replacen(old, new, 1)).unwrap();
        assert!(job.title.starts_with(begins), "{:?}", job.title);
        assert_eq!(job_file::parse(&job_file::write(&job)), Ok(job));
    }
    let notes = GOLDEN.replacen("notes: \"", "notes: \"one\\r\\ntwo\\rthree\\0\\tfour", 1);
    let job = job_file::parse(&notes).unwrap();
    assert!(job.notes.starts_with("one\ntwo\nthree \tfour"), "{:?}", job.notes);
}
