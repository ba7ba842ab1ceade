//! What the program says in words, from jobs that a practitioner would meet: right figure, right side, right caution.
//!
//! The machines are the shipped, invented ones; the rules behind the sentences are common practice or stand in the model with their source.

use tapcross::edit::{Edit, apply};
use tapcross::files::library::Library;
use tapcross::files::{demo, job_file};
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{ElementKind, PortId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::blower::{BlowerTable, Call, Cell, MotorFamily, PartInTest, Row, Tap, TapData};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::{CoilState, ReadAt};
use tapcross::model::facts::standing::{CurveStanding, PathStanding};
use tapcross::model::facts::target::Target;
use tapcross::model::search;
use tapcross::model::verdicts::findings::{Finding, StepDoubt};
use tapcross::model::verdicts::needs::Need;
use tapcross::model::verdicts::system::NotRunning;
use tapcross::model::verdicts::taps::Reach;
use tapcross::model::wording;
use tapcross::model::wording::{causes, problems};
use tapcross::report::json::Report;
use tapcross::units::{Airflow, Barometer, Capacity, Power, Pressure, UnitSystem, Voltage};

fn of(in_wc: f64) -> Pressure {
    Pressure::from_in_wc(in_wc)
}

fn machine(name: &str) -> BlowerTable {
    let (library, problems) = Library::shipped();
    assert_eq!(problems, []);
    let found = library.search(name);
    library.entries[found[0]].table.clone()
}

fn reading(before: f64, after: f64) -> Vec<Edit> {
    vec![
        Edit::Reading(ReadAt::Port(RETURN_PORT), vec![of(before)]),
        Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![of(after)]),
    ]
}

fn job_with(table: BlowerTable, edits: Vec<Edit>) -> Job {
    let mut job = Job::default();
    apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
    for edit in edits {
        apply(&mut job, edit).unwrap();
    }
    job
}

/// Headline and detail in one text, with every finding's sentence.
fn said(job: &Job) -> String {
    let answer = Answer::of(job);
    let verdict = wording::verdict(job, &answer, UnitSystem::InchPound);
    let findings: Vec<String> =
        answer.findings.iter().map(|finding| wording::sentence(job, finding, UnitSystem::InchPound)).collect();
    format!("{}\n{}\n{}", verdict.headline, verdict.detail, findings.join("\n"))
}

#[track_caller]
fn check(job: &Job, fragments: &[&str]) {
    let text = said(job);
    for fragment in fragments {
        assert!(text.contains(fragment), "no \"{fragment}\" in:\n{text}");
    }
}

/// A three-tap table (invented) that is easy to reckon with: airflow falls 100 cfm for each 0.1 in. w.c.
fn straight(name_motor: MotorFamily, taps: &[(&str, f64)], plate: f64) -> BlowerTable {
    let column = |first: f64| {
        TapData::Column(
            (1..=8)
                .map(|tenth| Row {
                    esp: of(f64::from(tenth) / 10.0),
                    cell: Cell::Airflow(Airflow::from_cfm(first - 100.0 * f64::from(tenth - 1)), None),
                    power: None,
                    speed: None,
                })
                .collect(),
        )
    };
    BlowerTable {
        name: "straight (invented)".to_owned(),
        motor: name_motor,
        rated_maximum: Some(of(plate)),
        cooling: Some(Capacity::from_tons(3.0)),
        calls: vec![(Call::CoolingHigh, taps[0].0.to_owned())],
        taps: taps.iter().map(|(name, first)| Tap { name: (*name).to_owned(), data: column(*first) }).collect(),
        ..BlowerTable::default()
    }
}

/// Air whose density at a furnace's blower is the standard 0.075, so that r is 1.
fn at_standard_air(mut job: Job) -> Job {
    if let Some(table) = job.machine.as_mut() {
        let air = job.sets[0].air.at_blower(table.kind, job.sets[0].call);
        table.basis.density = Some(air.density);
    }
    job
}

#[test]
fn the_headline_names_airflow_share_of_target_and_plate() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0), ("3", 1400.0)], 0.5);
    let mut edits = reading(-0.35, 0.25);
    edits.push(Edit::Target(Some(Target::Airflow(Airflow::from_cfm(1000.0)))));
    let job = at_standard_air(job_with(table, edits));
    // 0.60 in. w.c. is the sixth row: 1200 − 500 = 700 cfm, 30 % short of 1,000.
    check(
        &job,
        &[
            "700 cfm on tap 2",
            "30 % short of 1,000",
            "Total external static 0.35 + 0.25 = 0.60 in. w.c.",
            "0.10 over the rated maximum of 0.50",
            "The return side takes 58 % of the total",
        ],
    );
}

#[test]
fn what_it_takes_is_reckoned_at_the_target_and_not_from_todays_reading() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0), ("3", 1400.0)], 0.5);
    let mut edits = reading(-0.35, 0.25);
    edits.push(Edit::Target(Some(Target::Airflow(Airflow::from_cfm(1000.0)))));
    let job = at_standard_air(job_with(table, edits));
    let answer = Answer::of(&job);
    // Tap 2 delivers 1,000 at 0.30; the square-law path drops 0.60·(1000/700)² = 1.2245 there.
    let Some(Need::Ease(ease)) = answer.taps()[0].need else {
        panic!("tap 2 must need easing, not {:?}", answer.taps()[0].need);
    };
    assert!((ease.highest.in_wc() - 0.30).abs() < 1e-9);
    assert!((ease.path.in_wc() - 0.60 * (10.0_f64 / 7.0).powi(2)).abs() < 1e-9);
    assert!((ease.remove.in_wc() - (0.60 * (10.0_f64 / 7.0).powi(2) - 0.30)).abs() < 1e-9);
    assert!((ease.tempting.in_wc() - 0.30).abs() < 1e-9);
    // Tap 3 delivers 1,000 up to 0.50, which is the plate as well.
    let Some(Need::Ease(ease)) = answer.taps()[1].need else {
        panic!("tap 3 must need easing");
    };
    assert!((ease.allowed.in_wc() - 0.50).abs() < 1e-9);
    check(
        &job,
        &[
            "No tap lands in the target's band on this path, at or under the rated maximum; tap 3 needs 0.72 in. w.c. less drop at 1,000 cfm",
        ],
    );
}

#[test]
fn going_up_a_tap_raises_static_faster_than_airflow() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0), ("3", 1400.0)], 0.5);
    let job = at_standard_air(job_with(table, reading(-0.35, 0.25)));
    let answer = Answer::of(&job);
    let next = answer.findings.iter().find_map(|finding| match finding {
        Finding::NextTap { airflow, tesp, doubt, .. } => Some((*airflow, *tesp, *doubt)),
        _ => None,
    });
    let (airflow, tesp, doubt) = next.expect("a next tap");
    assert_eq!(doubt, Some(StepDoubt::OverPlate));
    assert!(tesp.1 / tesp.0 > airflow.1 / airflow.0);
    // On a square law static grows as the square of airflow.
    assert!((tesp.1 / tesp.0 - (airflow.1 / airflow.0).powi(2)).abs() < 1e-9);
}

#[test]
fn too_much_air_names_the_lowest_tap_in_the_band() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("4", 1400.0), ("3", 1200.0), ("2", 1000.0)], 0.8);
    let mut edits = reading(-0.15, 0.15);
    edits.push(Edit::Target(Some(Target::Airflow(Airflow::from_cfm(1050.0)))));
    let job = at_standard_air(job_with(table, edits));
    check(&job, &["14 % more than 1,050", "is above the band", "tap 3 is the lowest one in it"]);
}

#[test]
fn too_little_static_asks_what_is_open_or_missing() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let job = at_standard_air(job_with(table, reading(-0.08, 0.08)));
    check(&job, &["0.16 in. w.c. is low", "a panel off", "a missing filter", "a dirty wheel"]);
}

#[test]
fn off_the_table_the_bound_is_said_first() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let job = at_standard_air(job_with(table, reading(-0.50, 0.38)));
    check(&job, &["Below 500 cfm on tap 2; extrapolated, about"]);
    let answer = Answer::of(&job);
    let running = answer.point().unwrap();
    assert_eq!(running.standing.curve, CurveStanding::Extrapolated);
    assert!((running.airflow_before.cfm() - 500.0).abs() < 1e-9, "gains count from the last published airflow");
}

#[test]
fn past_the_curves_end_there_is_only_the_bound() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let job = at_standard_air(job_with(table, reading(-0.90, 0.40)));
    assert!(matches!(Answer::of(&job).why_not(), Some(NotRunning::PastTheEnd { .. })));
    check(&job, &["Below 500 cfm on tap 2: that is all the table can say", "slipped decimal point"]);
}

#[test]
fn signs_that_cannot_be_are_asked_about_and_give_no_answer_until_then() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    for (before, after, question) in [
        (0.31, 0.30, "+0.31 before the blower: is the return pressurized, are the hoses swapped, or is it −0.31?"),
        (-0.31, -0.30, "−0.30 after the blower: are the hoses swapped, or is it +0.30?"),
    ] {
        let mut job = job_with(table.clone(), reading(before, after));
        assert_eq!(Answer::of(&job).why_not(), Some(&NotRunning::SignInDoubt));
        check(&job, &[question]);
        apply(&mut job, Edit::ConfirmSigns).unwrap();
        assert_ne!(Answer::of(&job).why_not(), Some(&NotRunning::SignInDoubt));
    }
}

#[test]
fn a_pressurized_return_is_taken_once_it_is_confirmed() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let mut edits = reading(0.05, 0.45);
    edits.push(Edit::ConfirmSigns);
    let job = at_standard_air(job_with(table, edits));
    // 0.45 − 0.05 = 0.40: the fourth row, 900 cfm.
    check(&job, &["900 cfm", "Total external static −0.05 + 0.45 = 0.40"]);
}

#[test]
fn ten_times_too_much_pressure_is_asked_about() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let job = job_with(table, reading(-3.1, 0.30));
    let problems = Answer::of(&job).problems;
    assert!(
        problems.iter().any(|problem| problems::sentence(&problem.what, UnitSystem::InchPound)
            .contains("is ten times an everyday reading; is it −0.31?")),
        "{problems:?}"
    );
}

#[test]
fn the_weather_services_pressure_is_asked_about_in_the_mountains() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let mut edits = reading(-0.2, 0.2);
    edits.push(Edit::Number(JobNumber::Altitude, Some(5280.0)));
    edits.push(Edit::Number(JobNumber::StationPressure, Some(Barometer::from_in_hg(29.92).kpa())));
    let problems = Answer::of(&job_with(table, edits)).problems;
    assert!(
        problems::sentence(&problems[0].what, UnitSystem::InchPound)
            .contains("29.92 in. Hg at 5,280 ft looks like the weather service's sea-level figure"),
        "{problems:?}"
    );
}

#[test]
fn a_tap_that_the_table_has_not_is_named_with_those_it_has() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0), ("3", 1400.0)], 0.5);
    let mut job = job_with(table, reading(-0.2, 0.2));
    job.sets[0].tap = Some("7".to_owned());
    assert_eq!(Answer::of(&job).why_not(), Some(&NotRunning::NoSuchTap("7".to_owned())));
    check(&job, &["The table has no tap \"7\"; it has 2, 3"]);
}

#[test]
fn a_barred_tap_is_said_with_the_tables_note() {
    let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
    if let TapData::Column(rows) = &mut table.taps[0].data {
        rows[6].cell = Cell::NotAllowed(Some("water carry-over".to_owned()));
        rows[7].cell = Cell::NotAllowed(None);
    }
    let job = at_standard_air(job_with(table, reading(-0.35, 0.30)));
    check(&job, &["The table does not allow tap 2 at this static (water carry-over)"]);
}

#[test]
fn a_single_row_is_a_point_that_is_assumed_and_projects_nothing_elsewhere() {
    let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
    if let TapData::Column(rows) = &mut table.taps[0].data {
        rows.truncate(1);
        rows[0].esp = of(0.5);
    }
    let near = at_standard_air(job_with(table.clone(), reading(-0.25, 0.28)));
    let answer = Answer::of(&near);
    assert_eq!(answer.point().unwrap().standing.path, PathStanding::Assumed);
    check(&near, &["1,200 cfm on tap 2"]);
    let far = at_standard_air(job_with(table, reading(-0.25, 0.40)));
    check(&far, &["This tap has one row only, 1,200 cfm at 0.50 in. w.c."]);
}

#[test]
fn a_person_of_si_units_reads_no_inches_in_a_remark_on_a_table() {
    let bad = |change: fn(&mut Vec<Row>)| {
        let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
        if let TapData::Column(rows) = &mut table.taps[0].data {
            change(rows);
        }
        at_standard_air(job_with(table, reading(-0.25, 0.28)))
    };
    let cases = [
        (bad(|rows| rows.swap(1, 2)), "static pressure"),
        (bad(|rows| rows[1].esp = of(7.0)), "Pa cannot be"),
        (bad(|rows| rows[1].cell = Cell::Airflow(Airflow::from_cfm(9e9), None)), "L/s cannot be"),
        (bad(|rows| rows[1].cell = Cell::Airflow(Airflow::from_cfm(2000.0), None)), "while static rises"),
    ];
    for (job, fragment) in cases {
        let told = wording::verdict(&job, &Answer::of(&job), UnitSystem::SiLitres).detail;
        assert!(told.contains(fragment) && told.contains(" Pa"), "{told}");
        assert!(!told.contains("in. w.c.") && !told.contains("cfm"), "{told}");
    }
}

#[test]
fn a_furnace_reads_its_sides_against_the_trades_limits() {
    let mut table = machine("gf-80t");
    table.rated_maximum = Some(of(0.8));
    let mut job = job_with(table, reading(-0.42, 0.63));
    apply(&mut job, Edit::Target(None)).unwrap();
    check(
        &job,
        &[
            "The return side with its filter takes 0.42 of",
            "more than 0.35 is a warning (common practice)",
            "The supply side with its coil takes 0.63 of",
            "more than 0.45 is a warning",
        ],
    );
}

#[test]
fn what_the_table_is_entered_with_is_told_as_a_sum_with_its_reasons() {
    // Heat-pump demo: 0.52 + 0.31 read, the table dry and the coil wet; its constant-torque motor enters the table as read.
    check(&demo::heat_pump(), &["Enter the table at 0.88 in. w.c.: 0.83 read + 0.05 wet coil"]);
    // Gas demo: the coil stands outside; one side return on a table through the bottom.
    check(&demo::gas_furnace(), &["Enter the table at 0.73 in. w.c.: 0.70 read + 0.03 return openings"]);
    // A motor that holds its speed enters it by the air's density as well.
    let of_speed = |mut job: Job| {
        job.machine.as_mut().unwrap().motor = MotorFamily::PermanentSplitCapacitor;
        job
    };
    check(
        &of_speed(demo::heat_pump()),
        &["Enter the table at 0.88 in. w.c.: 0.83 read + 0.06 wet coil, less 1 % for dense air"],
    );
    check(
        &of_speed(demo::gas_furnace()),
        &["Enter the table at 0.76 in. w.c.: 0.70 read + 0.02 return openings, plus 5 % for thin air"],
    );
}

#[test]
fn thin_air_is_assumed_for_a_motor_that_holds_its_torque_and_a_constant_speed_is_the_low_end() {
    let mut edits = reading(-0.20, 0.30);
    edits.push(Edit::Number(JobNumber::Altitude, Some(5280.0)));
    edits.push(Edit::Call(Call::HeatingHigh));
    let job = job_with(machine("gf-80t"), edits);
    let answer = Answer::of(&job);
    let running = answer.point().unwrap();
    assert!((running.now.entry - running.now.tesp).abs().in_wc() < 1e-9 && answer.blower().density_ratio < 0.85);
    assert_eq!(running.standing.path, PathStanding::Assumed);
    check(&job, &["% thinner than the table's: the motor holds its torque and turns faster"]);
    let point = answer.tap_in_use().unwrap().reached().unwrap();
    assert!(point.other_end.unwrap() < point.airflow(), "constant speed is the low end in thin air");
}

#[test]
fn a_wet_coil_on_a_dry_table_lowers_airflow_and_a_missing_correction_is_said() {
    let dry = job_with(machine("ah-42t"), [reading(-0.40, 0.30), vec![Edit::Coil(CoilState::Dry)]].concat());
    let wet = job_with(machine("ah-42t"), [reading(-0.40, 0.30), vec![Edit::Coil(CoilState::Wet)]].concat());
    let airflow = |job: &Job| Answer::of(job).point().unwrap().now.airflow;
    assert!(airflow(&wet) < airflow(&dry));
    let mut table = machine("ah-42t");
    table.corrections.wet_coil = None;
    let unknown = job_with(table, [reading(-0.40, 0.30), vec![Edit::Coil(CoilState::Wet)]].concat());
    check(&unknown, &["The coil is wet, the table was made dry and prints no correction: airflow is on the high side"]);
    assert_eq!(Answer::of(&unknown).point().unwrap().standing.path, PathStanding::Assumed);
}

#[test]
fn a_constant_airflow_motor_says_how_far_it_has_to_its_knee() {
    let job = job_with(machine("ah-36v"), reading(-0.20, 0.20));
    check(&job, &["setting", "of static is left to its knee"]);
}

#[test]
fn another_supply_voltage_is_said_and_the_tables_factor_used() {
    let with_factor = machine("ah-30t");
    let low = with_factor.corrections.low_voltage.expect("this table prints one").voltage;
    let edits =
        |volts: Voltage| [reading(-0.20, 0.20), vec![Edit::Number(JobNumber::Voltage, Some(volts.volts()))]].concat();
    let tested = with_factor.basis.voltage.unwrap();
    let airflow = |volts| {
        let job = job_with(machine("ah-30t"), edits(volts));
        Answer::of(&job).point().unwrap().now.airflow
    };
    let factor = with_factor.corrections.low_voltage.unwrap().airflow_factor;
    assert!(airflow(low) < airflow(tested) && factor < 1.0);
    let strange = job_with(straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5), reading(-0.2, 0.2));
    let mut strange = strange;
    strange.machine.as_mut().unwrap().basis.voltage = Some(Voltage::from_volts(230.0));
    apply(&mut strange, Edit::Number(JobNumber::Voltage, Some(208.0))).unwrap();
    check(&strange, &["The supply voltage is not the table's, and the table prints no correction"]);
}

#[test]
fn a_furnaces_rise_is_held_against_its_plate_on_the_tap_of_its_call() {
    let mut table = machine("gf-80t");
    let stage = table.heating.first_mut().unwrap();
    stage.rise = Some((tapcross::units::TemperatureRise::from_f(20.0), tapcross::units::TemperatureRise::from_f(25.0)));
    let job = job_with(table, reading(-0.30, 0.30));
    check(&job, &["where the plate says 20 to 25 °F: too little air for this heat"]);
}

#[test]
fn an_empty_job_says_what_to_do_first_and_each_step_the_next() {
    let mut job = Job::default();
    check(&job, &["Choose the blower, or type its table from the door panel."]);
    apply(&mut job, Edit::Machine(Box::new(machine("ah-42t")))).unwrap();
    check(&job, &["Type the static before and after the blower, or the total."]);
    apply(&mut job, Edit::Reading(ReadAt::Port(RETURN_PORT), vec![of(-0.4)])).unwrap();
    check(&job, &["Now the static after the blower."]);
    apply(&mut job, Edit::Reading(ReadAt::Port(SUPPLY_PORT), vec![of(0.3)])).unwrap();
    check(&job, &["1,"]);
}

#[test]
fn a_part_out_of_the_path_is_no_part_of_the_drop() {
    let mut job = job_with(machine("gf-80p"), reading(-0.12, 0.40));
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    let duct = job.path.first(ElementKind::ReturnDuct).unwrap().id;
    // The return port before a filter of unknown drop: TESP is at least what was read.
    apply(&mut job, Edit::MovePort(RETURN_PORT, duct)).unwrap();
    check(&job, &["The filter between port and machine has no drop by data", "airflow at most"]);
    apply(&mut job, Edit::PartOut(filter, true)).unwrap();
    let answer = Answer::of(&job);
    assert!(answer.findings.iter().all(|finding| !matches!(finding, Finding::Assumed(_))), "{:?}", answer.findings);
}

#[test]
fn sentences_change_their_units_and_nothing_else() {
    let job = job_with(machine("ah-42t"), reading(-0.40, 0.30));
    let answer = Answer::of(&job);
    let metric = wording::verdict(&job, &answer, UnitSystem::SiLitres).headline;
    let tesp = answer.point().unwrap().now.tesp.pa().round();
    assert!(metric.contains("L/s") && metric.contains(&format!("Total external static {tesp} Pa")), "{metric}");
}

#[test]
fn airflow_a_ton_is_that_of_the_outdoor_unit_in_the_target() {
    let mut job = job_with(machine("ah-42t"), reading(-0.40, 0.30));
    let target = Target::PerTon { capacity: Capacity::from_tons(3.0), per_ton: Airflow::from_cfm(400.0) };
    apply(&mut job, Edit::Target(Some(target))).unwrap();
    let answer = Answer::of(&job);
    let standard = tapcross::model::facts::target::at_standard_air(
        answer.point().unwrap().now.airflow,
        answer.blower().air.density,
    );
    let point = answer.tap_in_use().unwrap().reached().unwrap();
    assert!((point.per_ton.unwrap().cfm() - standard.cfm() / 3.0).abs() < 1e-9);
}

#[test]
fn off_the_table_the_low_extension_is_no_fact() {
    let at = |target: f64, plate: f64| {
        let mut edits = reading(-0.50, 0.38);
        edits.push(Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target)))));
        at_standard_air(job_with(straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], plate), edits))
    };
    // The last row is 500 cfm: below it 480 may be met, 1,000 is at least half short.
    check(
        &at(480.0, 0.9),
        &[
            "short of 480 or within its band: the table does not say",
            "Whether tap 2 lands in the target's band cannot be told: it is extrapolated there",
        ],
    );
    check(&at(1000.0, 0.9), &["at least 50 % short of 1,000"]);
    assert!(!said(&at(480.0, 0.9)).contains("% short"), "{}", said(&at(480.0, 0.9)));
    // Over the rated maximum it is no answer, wherever it lands.
    check(&at(480.0, 0.5), &["No tap lands in the target's band on this path, at or under the rated maximum"]);
}

#[test]
fn under_the_first_row_the_airflow_is_at_least_the_first_rows() {
    let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    if let TapData::Column(rows) = &mut table.taps[0].data {
        rows.drain(..2);
    }
    let job = at_standard_air(job_with(table, reading(-0.12, 0.12)));
    check(&job, &["At least 1,000 cfm on tap 2: the static lies under the table's first row"]);
}

#[test]
fn each_reason_why_no_tap_lands_in_the_band_is_told_as_it_is() {
    use MotorFamily::PermanentSplitCapacitor as Psc;
    let with = |taps: &[(&str, f64)], plate: f64, before: f64, after: f64, target: f64, band: f64| {
        let mut edits = reading(before, after);
        edits.push(Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target)))));
        edits.push(Edit::Number(JobNumber::AcceptBand, Some(band)));
        at_standard_air(job_with(straight(Psc, taps, plate), edits))
    };
    // Tap 2 runs 900 at 0.40; tap 3 crosses at about 1,080: a band of ±3 % about 1,000 lies between them.
    check(
        &with(&[("2", 1200.0), ("3", 1500.0)], 0.8, -0.20, 0.20, 1000.0, 0.03),
        &["Tap 2 stays under the target's band on this path, tap 3 goes over it"],
    );
    check(
        &with(&[("2", 1200.0)], 0.8, -0.20, 0.20, 2000.0, 0.10),
        &["No tap of this blower can reach the target on any path: 1,200 cfm is the most that one moves"],
    );
    let mut barred = with(&[("2", 1200.0)], 0.8, -0.20, 0.26, 850.0, 0.10);
    if let Some(table) = barred.machine.as_mut()
        && let TapData::Column(rows) = &mut table.taps[0].data
    {
        rows[4].cell = Cell::NotAllowed(None);
    }
    check(&barred, &["Tap 2 would land in the target's band, but the table does not allow it there"]);
    let mut no_plate = with(&[("2", 1200.0)], 0.8, -0.20, 0.20, 1100.0, 0.05);
    no_plate.machine.as_mut().unwrap().rated_maximum = None;
    let text = said(&no_plate);
    assert!(text.contains("no rated maximum given") && !text.contains("under the rated maximum"), "{text}");
}

/// A part between a port and the machine that nobody knows: what is told is the most, or the least, and nothing lands in a band for sure.
#[test]
fn a_part_of_unknown_drop_leaves_a_bound_and_no_band() {
    let furnace = |target: f64, port: PortId, after: ElementKind, taken: (f64, f64)| {
        let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target))));
        let mut job = job_with(machine("gf-80p"), [reading(taken.0, taken.1), vec![target]].concat());
        let after = job.path.elements.iter().find(|element| element.kind == after).expect("the element").id;
        apply(&mut job, Edit::MovePort(port, after)).expect("a move");
        job
    };
    let (coil, filter) = (ElementKind::Coil, ElementKind::ReturnDuct);
    let airflow = |job: &Job| Answer::of(job).point().expect("a point").now.airflow.cfm();
    let after_coil = |target| furnace(target, SUPPLY_PORT, coil, (-0.20, 0.20));
    let told = airflow(&after_coil(900.0));
    check(
        &after_coil(told),
        &[
            "At most ",
            "Total external static at least 0.40",
            "whether that is in the band",
            "No drop is known of the coil between",
        ],
    );
    check(&after_coil(2.0 * told), &["at least 50 % short of"]);
    check(&furnace(1300.0, SUPPLY_PORT, coil, (-0.35, 0.35)), &["At most ", "tap High needs at least "]);
    let before_filter = furnace(told, RETURN_PORT, filter, (-0.20, 0.20));
    check(&before_filter, &["At most ", "No drop is known of the filter between"]);
    for job in [after_coil(told), before_filter] {
        let answer = Answer::of(&job);
        let points: Vec<_> = answer.taps().iter().filter_map(|tap| tap.reached()).collect();
        assert!(!points.is_empty() && points.iter().all(|point| point.bound.less && !point.bound.more));
        assert!(points.iter().all(|point| matches!(point.reach, Some(Reach::Short | Reach::NotSaid))));
    }
    // Too much stays too much only where there may be more.
    let half = Answer::of(&after_coil(0.5 * told));
    assert_eq!(half.tap_in_use().and_then(|tap| tap.reached()?.reach), Some(Reach::NotSaid));
    let mut inside = machine("gf-80p");
    inside.basis.filter = PartInTest::Included;
    let mut job = job_with(inside, reading(-0.20, 0.20));
    let after = job.path.elements.iter().find(|element| element.kind == ElementKind::Filter).expect("a filter").id;
    apply(&mut job, Edit::MovePort(RETURN_PORT, after)).expect("a move");
    job.target = Some(Target::Airflow(Airflow::from_cfm(0.5 * airflow(&job))));
    check(&job, &["At least ", "Total external static at most 0.40", "at least 100 % more than"]);
}

#[test]
fn airflow_a_ton_is_told_with_the_air_that_it_is_meant_in() {
    let thin = |target| {
        let at = Edit::Number(JobNumber::Altitude, Some(5280.0));
        job_with(machine("gf-80p"), [reading(-0.20, 0.30), vec![at, Edit::Target(Some(target))]].concat())
    };
    let (capacity, per_ton) = (Capacity::from_tons(3.0), Airflow::from_cfm(400.0));
    let job = thin(Target::PerTon { capacity, per_ton });
    let answer = Answer::of(&job);
    let airflow = answer.point().expect("a point").now.airflow.cfm();
    let at_standard = airflow * answer.blower().air.density.kg_m3() / 1.20138 / 3.0;
    assert!((at_standard - airflow / 3.0).abs() > 20.0, "the two differ in thin air");
    // The target of 400 a ton is meant at standard air as well; nothing else stands in the comparison.
    let short = (1.0 - at_standard / 400.0) * 100.0;
    headline_says(&job, &[&format!(", {at_standard:.0} per ton at standard air, {short:.0} % short of 400, ±")]);
    let by_cfm = thin(Target::Airflow(Airflow::from_cfm(1200.0)));
    headline_says(&by_cfm, &[" % under 1,200, ±"]);
    assert!(line(&by_cfm).detail.contains(" cfm per ton at standard air."), "{}", line(&by_cfm).detail);
}

#[test]
fn whatever_is_assumed_is_said_in_the_verdict_and_explained_below() {
    let mut table = machine("ah-42t");
    table.corrections.wet_coil = None;
    let job = job_with(table, [reading(-0.52, 0.31), vec![Edit::Coil(CoilState::Wet)]].concat());
    check(&job, &["Part of this is assumed; the findings tell which."]);
    let thin = job_with(
        machine("gf-80t"),
        [reading(-0.20, 0.30), vec![Edit::Number(JobNumber::Altitude, Some(5280.0))]].concat(),
    );
    check(&thin, &["Part of this is assumed", "at a constant speed it moves"]);
}

#[test]
fn a_return_with_its_filter_may_take_what_both_may() {
    let mild = job_with(machine("gf-80p"), reading(-0.30, 0.20));
    assert!(!said(&mild).contains("The return side with"), "{}", said(&mild));
    check(&job_with(machine("gf-80p"), reading(-0.40, 0.20)), &["The return side with its filter takes 0.40 of"]);
}

#[test]
fn past_the_end_the_figures_that_are_compared_are_the_tables() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let mut edits = reading(-0.50, 0.45);
    edits.push(Edit::Number(JobNumber::Altitude, Some(5280.0)));
    check(
        &job_with(table, edits),
        &[
            "0.95 in total enters the table at 1.1",
            "which lies past the curve's end, 1.00 in. w.c.",
            "over the rated maximum of 0.50",
        ],
    );
}

#[test]
fn drops_by_data_are_worked_at_the_jobs_density() {
    use tapcross::model::facts::drop_data::DropData;
    use tapcross::model::facts::drop_data::SQUARE_LAW;
    let mut edits = reading(-0.12, 0.40);
    edits.push(Edit::Number(JobNumber::Altitude, Some(5280.0)));
    let mut job = job_with(machine("gf-80p"), edits);
    let filter = job.path.first(ElementKind::Filter).unwrap().id;
    let duct = job.path.first(ElementKind::ReturnDuct).unwrap().id;
    let data = DropData::at(Airflow::from_cfm(1000.0), of(0.18), SQUARE_LAW).unwrap();
    apply(&mut job, Edit::ElementDrop(filter, Some(data.clone()))).unwrap();
    apply(&mut job, Edit::MovePort(RETURN_PORT, duct)).unwrap();
    let answer = Answer::of(&job);
    let now = answer.point().unwrap().now;
    let by_data = data.at_airflow(now.airflow).in_wc() * answer.blower().density_ratio;
    assert!((now.tesp.in_wc() - (0.52 + by_data)).abs() < 1e-9);
}

#[test]
fn a_table_that_shows_no_knee_is_given_none() {
    let flat = straight(MotorFamily::ConstantAirflow, &[("A", 1200.0)], 0.8);
    let range = BlowerTable {
        taps: vec![Tap {
            name: "A".to_owned(),
            data: TapData::Range { airflow: Airflow::from_cfm(1200.0), from: of(0.1), to: of(0.8) },
        }],
        calls: vec![(Call::CoolingHigh, "A".to_owned())],
        ..flat
    };
    let text = said(&at_standard_air(job_with(range, reading(-0.20, 0.20))));
    assert!(text.contains("the table shows no knee") && !text.contains("knee at"), "{text}");
}

#[test]
fn a_total_that_the_ports_deny_is_asked_about() {
    let mut edits = reading(-0.30, 0.20);
    edits.push(Edit::Reading(ReadAt::Total, vec![of(0.70)]));
    check(
        &job_with(machine("gf-80p"), edits),
        &["The total was read as 0.70 and the ports give 0.50 in. w.c.: the ports count"],
    );
}

#[test]
fn a_coil_that_the_furnaces_table_holds_is_no_external_part() {
    let mut table = machine("gf-80p");
    table.basis.coil = tapcross::model::facts::blower::CoilInTest::Dry;
    let job = job_with(table, reading(-0.30, 0.30));
    let coil = job.path.first(ElementKind::Coil).unwrap();
    let basis = &job.machine.as_ref().unwrap().basis;
    assert!(tapcross::model::facts::air_path::AirPath::is_inside(coil, basis));
    let after = job.path.port(SUPPLY_PORT).unwrap().after;
    assert_eq!(after, coil.id, "the plenum is drilled behind the coil");
}

#[test]
fn two_heaters_of_one_call_are_each_held_to_their_own_range() {
    let mut table = machine("gf-80t");
    let mut second = table.heating[0].clone();
    let degrees = tapcross::units::TemperatureRise::from_f;
    table.heating[0].rise = Some((degrees(5.0), degrees(140.0)));
    second.output = second.output * 0.25;
    second.rise = Some((degrees(60.0), degrees(70.0)));
    table.heating = vec![table.heating[0].clone(), second];
    check(&job_with(table, reading(-0.30, 0.30)), &["where the plate says 60 to 70 °F: too much air for this heat"]);
}

#[test]
fn a_call_that_is_mapped_twice_is_named() {
    const TOLD: &str = "Cooling, high runs \"2\" and \"3\"; give each call one tap";
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0), ("3", 1400.0)], 0.5);
    let mut twice = table.clone();
    twice.calls.push((Call::CoolingHigh, "3".to_owned()));
    let mut job = job_with(table, reading(-0.2, 0.2));
    assert_eq!(apply(&mut job.clone(), Edit::Machine(Box::new(twice.clone()))).unwrap_err().to_string(), TOLD);
    // A file of an earlier version may hold such a table; it opens, and the verdict says it.
    job.machine = Some(twice);
    let job = job_file::parse(&job_file::write(&job)).expect("an older file opens");
    check(&job, &[TOLD]);
}

/// The sentences of a job's problems.
fn asked(job: &Job, units: UnitSystem) -> Vec<String> {
    Answer::of(job).problems.iter().map(|problem| problem.what.sentence(units)).collect()
}

#[test]
fn return_air_of_the_other_unit_is_asked_about() {
    let mut job = demo::gas_furnace();
    for (given, ip, si) in [
        (18.0, "Return air of 18 °F; is that 18 °C (64 °F)?", "Return air of −7.8 °C; is that 18 °C (64 °F)?"),
        (142.0, "Return air of 142 °F; is that 61 °F (16 °C)?", "Return air of 61.1 °C; is that 61 °F (16 °C)?"),
    ] {
        apply(&mut job, Edit::Number(JobNumber::Temperature, Some(given))).unwrap();
        assert_eq!(asked(&job, UnitSystem::InchPound), [ip]);
        assert_eq!(asked(&job, UnitSystem::SiLitres), [si]);
    }
    // A cold house, a hot one, and air that is odd in either unit, are taken as they are.
    for given in [48.0, 70.0, 100.0, 0.0, 110.0] {
        apply(&mut job, Edit::Number(JobNumber::Temperature, Some(given))).unwrap();
        assert_eq!(asked(&job, UnitSystem::InchPound), [""; 0], "{given} °F");
    }
}

#[test]
fn tons_that_the_table_moves_no_usual_airflow_for_are_asked_about() {
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("1", 1200.0), ("2", 1400.0)], 0.5);
    let mut job = job_with(table, reading(-0.2, 0.2));
    let tons = |tons| {
        Edit::Target(Some(Target::PerTon { capacity: Capacity::from_tons(tons), per_ton: Airflow::from_cfm(400.0) }))
    };
    for (given, is_asked) in [(3.0, false), (4.0, false), (8.0, true), (1.0, true)] {
        apply(&mut job, tons(given)).unwrap();
        let said = asked(&job, UnitSystem::InchPound);
        assert_eq!(said.iter().any(|said| said.contains("do not fit this machine")), is_asked, "{given}: {said:?}");
    }
    let said = asked(&job, UnitSystem::SiLitres);
    assert!(said.iter().all(|said| !said.contains("cfm")), "{said:?}");
}

#[test]
fn a_tap_that_the_table_does_not_run_for_the_call_is_asked_about() {
    let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("1", 1200.0), ("2", 1400.0)], 0.5);
    table.calls = vec![(Call::CoolingHigh, "2".to_owned())];
    let mut job = job_with(table, reading(-0.2, 0.2));
    apply(&mut job, Edit::Call(Call::CoolingHigh)).unwrap();
    for (tap, question) in [(None, None), (Some("2"), None), (Some("1"), Some("tap 2 for cooling, high; did"))] {
        apply(&mut job, Edit::Tap(tap.map(str::to_owned))).unwrap();
        let said = asked(&job, UnitSystem::InchPound);
        assert_eq!(
            said.iter().any(|said| question.is_some_and(|asks| said.contains(asks))),
            question.is_some(),
            "{said:?}"
        );
    }
}

#[test]
fn a_drop_read_across_a_part_that_was_out_or_is_more_than_its_side_is_asked_about() {
    let mut job = demo::gas_furnace();
    let filter = job.path.first(ElementKind::Filter).expect("a filter").id;
    let read = |inches| Edit::Reading(ReadAt::Across(filter), vec![Pressure::from_in_wc(inches)]);
    apply(&mut job, read(0.11)).unwrap();
    assert_eq!(asked(&job, UnitSystem::InchPound), [""; 0]);
    apply(&mut job, Edit::PartOut(filter, true)).unwrap();
    let said = asked(&job, UnitSystem::InchPound);
    assert!(
        said.contains(
            &"The filter is said to be out of the path, and 0.11 in. w.c. is read across it; which of them is right?"
                .to_owned()
        ),
        "{said:?}"
    );
    apply(&mut job, Edit::PartOut(filter, false)).unwrap();
    apply(&mut job, read(0.90)).unwrap();
    let said = asked(&job, UnitSystem::InchPound);
    assert!(
        said.iter().any(|said| said.starts_with("0.90 in. w.c. is read across the filter, more than the 0.")),
        "{said:?}"
    );
}

/// Headline and detail.
fn line(job: &Job) -> wording::Verdict {
    wording::verdict(job, &Answer::of(job), UnitSystem::InchPound)
}

#[track_caller]
fn headline_says(job: &Job, fragments: &[&str]) {
    let headline = line(job).headline;
    for fragment in fragments {
        assert!(headline.contains(fragment), "no \"{fragment}\" in: {headline}");
    }
}

/// Tap 2 moves 700 cfm against 0.60; the square-law path drops 0.60·(900/700)² = 0.992 at the band's lower end of 900 and 1.224 at the target of 1,000.
///
/// Tap 2 moves 900 against 0.40 and 1,000 against 0.30: 0.592 has to come out for the band, 0.924 for the target.
#[test]
fn what_has_to_come_out_is_told_to_the_band_and_to_the_full_target() {
    let with = |taps: &[(&str, f64)], target: f64| {
        let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target))));
        let table = straight(MotorFamily::PermanentSplitCapacitor, taps, 0.5);
        at_standard_air(job_with(table, [reading(-0.35, 0.25), vec![target]].concat()))
    };
    check(
        &with(&[("2", 1200.0)], 1000.0),
        &[
            "tap 2 needs 0.59 in. w.c. less drop at 900 cfm to come into the band, 60 % of the path, and 0.92 for the full target",
        ],
    );
    // Tap 3 moves 900 against 0.60, over the plate of 0.50, where it moves 1,000: one figure, 1.224 − 0.50, 59 % of the path, and the least share.
    let both = with(&[("2", 1200.0), ("3", 1400.0)], 1000.0);
    check(&both, &["tap 3 needs 0.72 in. w.c. less drop at 1,000 cfm, 59 % of the path"]);
    assert!(!said(&both).contains("full target"), "{}", said(&both));
    // Tap 5 moves 1,300 here and 1,400 at the plate: more than the 990 where the band of 900 ends, on every path that the plate allows.
    let strong = with(&[("5", 1800.0)], 900.0);
    check(&strong, &["no tap lands in it, at or under the rated maximum"]);
    let Some(Need::TooStrong { least }) = Answer::of(&strong).taps()[0].into_band else { panic!("too strong") };
    assert!((least.cfm() - 1400.0).abs() < 1e-6, "{least:?}");
}

/// What the needs say comes out, and no more, brings a tap to where its point is an answer: the same yardstick.
#[test]
fn what_has_to_come_out_is_just_what_makes_an_answer() {
    use tapcross::model::verdicts::easier_path::{Present, factor_for, wished};
    for job in [demo::heat_pump(), demo::gas_furnace()] {
        let answer = Answer::of(&job);
        let running = answer.point().unwrap();
        let (target, plate) = (answer.blower().target.unwrap(), job.machine.as_ref().unwrap().rated_maximum.unwrap());
        let mut eased = 0;
        for (tap, shape) in answer.taps().iter().zip(&*answer.blower().shapes) {
            let Some(Need::Ease(ease)) = tap.into_band else { continue };
            let system = &running.system;
            let start = running.start().unwrap();
            let present = Present { parts: &system.parts, load: &system.load, shape, start };
            for (factor, is_answer) in [(0.999, true), (1.001, false)] {
                let there = wished(&present, factor_for(&ease) * factor, None).crossing.unwrap();
                let reaches = there.airflow >= target.low && there.airflow <= target.high && there.tesp <= plate;
                assert_eq!(reaches, is_answer, "{} tap {} at {factor}: {there:?}", job.title, tap.name);
            }
            eased += 1;
        }
        assert!(eased > 0, "{}", job.title);
    }
}

/// The nearest edge of the band lies 1 cfm away: 0.60·(701/700)² − 0.599 = 0.0027.
#[test]
fn a_drop_that_shows_as_nothing_is_no_figure() {
    let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(701.0 / 0.9))));
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
    let job = at_standard_air(job_with(table, [reading(-0.35, 0.25), vec![target]].concat()));
    check(&job, &["tap 2 needs under 0.01 in. w.c. less drop"]);
    assert!(!said(&job).contains("0.00") && !said(&job).contains(" 0 %"), "{}", said(&job));
}

/// 700 cfm are 3 % under 720, and 0.60 is 0.10 over the plate of 0.50: one sentence for both, and none that no tap lands in the band.
#[test]
fn in_the_band_and_over_the_plate_is_one_sentence() {
    let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(720.0))));
    let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
    let job = at_standard_air(job_with(table, [reading(-0.35, 0.25), vec![target]].concat()));
    check(&job, &["Airflow is in the band, but 0.10 over the rated maximum"]);
    assert!(!said(&job).contains("No tap lands"), "{}", said(&job));
    assert!(!said(&job).contains("0 % of the path"), "{}", said(&job));
}

#[test]
fn the_headline_has_the_sum_once_its_uncertainty_and_the_target_as_typed() {
    let job = demo::heat_pump();
    let told = line(&job);
    headline_says(&job, &["0.52 + 0.31 = 0.83 in. w.c., 0.13 over the rated maximum of 0.70"]);
    let all = format!("{} {}", told.headline, told.detail);
    assert_eq!(all.matches("0.52 + 0.31").count(), 1, "{all}");
    assert_eq!(all.matches("0.83").count(), 1, "{all}");
    // 1,202 cfm are 343 per ton; of air at 0.0757 lb/ft³ they are 347 at standard air: 13 % short of the 400 typed, with ± 70 of 1,387, 5 %.
    headline_says(&job, &["347 per ton at standard air, 13 % short of 400, ± 5 %"]);
    assert!(!all.contains("1,38"), "typed 400 per ton, and so 1,400: {all}");
    // Typed as an airflow it is shown as typed, and no airflow a ton stands beside it.
    let mut typed = job.clone();
    apply(&mut typed, Edit::Target(Some(Target::Airflow(Airflow::from_cfm(1400.0))))).unwrap();
    headline_says(&typed, &["14 % short of 1,400, ± 5 %"]);
    assert!(!line(&typed).headline.contains("per ton"), "{}", line(&typed).headline);
}

#[test]
fn in_the_band_by_less_than_its_uncertainty_is_said_so() {
    let with = |target: f64| {
        let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target))));
        let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
        at_standard_air(job_with(table, [reading(-0.25, 0.25), vec![target]].concat()))
    };
    // 800 cfm, ± about 7 %: 2 % under 816 both its ends lie in the band of ±10 %, 8 % under 870 one of them does not.
    headline_says(&with(816.0), &["2 % under 816, ± 6 %", ": in the band. "]);
    headline_says(&with(870.0), &["8 % under 870, ±", ": in the band, but the ± reaches past its edge. "]);
}

#[test]
fn while_changes_are_on_the_headline_is_the_changed_systems_with_as_found_beside_it() {
    use tapcross::model::facts::change::{ChangeKind, LessByHand};
    let mut job = demo::heat_pump();
    let duct = job.path.first(ElementKind::ReturnDuct).unwrap().id;
    let as_found = line(&job);
    assert!(as_found.headline.starts_with("1,200 cfm on tap 4"), "{}", as_found.headline);
    apply(&mut job, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element: duct, fraction: 0.8 }))).unwrap();
    let after = Answer::of(&job).with_changes().unwrap().system.point().copied().unwrap();
    let show = |airflow| tapcross::units::show::airflow(airflow, UnitSystem::InchPound);
    let told = line(&job);
    headline_says(
        &job,
        &[
            &format!("With the change {} on tap 4 (1,200 as found)", show(after.airflow)),
            &format!(
                "Total external static {} in. w.c. (0.83 as found)",
                tapcross::units::show::pressure_bare(after.tesp, UnitSystem::InchPound)
            ),
        ],
    );
    let all = format!("{} {}", told.headline, told.detail);
    assert_eq!(all.matches("0.83").count(), 1, "{all}");
    assert!(!told.detail.contains("as found") && !told.detail.contains("No tap lands"), "{}", told.detail);
}

/// What a change splits stands in one stretch still: the greatest in the side that takes most, as found and with changes.
#[test]
fn what_takes_most_is_looked_for_in_the_side_that_takes_most() {
    use tapcross::model::facts::change::{ChangeKind, LessByHand};
    let most = |fraction: f64| {
        let mut job = demo::heat_pump();
        for kind in [ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::Filter] {
            let element = job.path.first(kind).unwrap().id;
            apply(&mut job, Edit::AddChange(ChangeKind::LessByHand(LessByHand { element, fraction }))).unwrap();
        }
        let answer = Answer::of(&job);
        let is_before = |most: &Option<(Vec<tapcross::model::facts::air_path::ElementId>, f64)>| {
            let (ids, _) = most.as_ref().expect("several parts");
            ids.iter().all(|id| job.path.index_of(*id) < job.path.blower())
        };
        (is_before(&answer.point().unwrap().system.most), is_before(&answer.with_changes().unwrap().system.most))
    };
    assert_eq!(most(0.01), (true, true), "0.52 of 0.83");
    assert_eq!(most(0.9), (true, false), "a tenth of it is less than the supply's");
}

/// The plate of 0.70 less the 0.15 of grille and duct and the 0.20 of the filter leaves the supply 0.35.
#[test]
fn the_supply_of_an_air_handler_is_judged_by_what_the_plate_leaves_it() {
    let job = job_with(machine("ah-42t"), reading(-0.20, 0.60));
    check(
        &job,
        &[
            "The supply side takes 0.60 of 0.80 in. w.c. (75 %); more than 0.35 is a warning: the rated maximum less what the rest may take, and for its ducts no less than for the return's (own reckoning)",
        ],
    );
    let mild = job_with(machine("ah-42t"), reading(-0.20, 0.34));
    assert!(!said(&mild).contains("is a warning"), "{}", said(&mild));
    // A furnace whose plate is 0.50 is judged as well: 0.15 for its ducts, and 0.30 for the coil on top.
    let mut table = machine("gf-80t");
    table.rated_maximum = Some(of(0.5));
    check(
        &job_with(table, reading(-0.20, 0.50)),
        &["The supply side with its coil takes 0.50 of 0.70", "more than 0.45 is a warning"],
    );
}

/// The bound is the last row's 500 cfm: a band that ends at 440 lies under it, one from 432 to 528 on both sides of it.
#[test]
fn a_band_that_ends_below_the_bound_is_not_all_that_is_open() {
    let with = |target: f64| {
        let target = Edit::Target(Some(Target::Airflow(Airflow::from_cfm(target))));
        let table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.5);
        at_standard_air(job_with(table, [reading(-0.50, 0.38), vec![target]].concat()))
    };
    headline_says(&with(480.0), &["short of 480 or within its band: the table does not say"]);
    headline_says(&with(400.0), &["short of 400, within its band or over it: the table does not say"]);
}

/// A furnace of 48,000 Btu/h, 30 to 60 °F, whose tap 2 runs its heat and cooling (invented).
fn heating(reading_of: (f64, f64), range: (f64, f64)) -> Job {
    use tapcross::model::facts::blower::HeatStage;
    use tapcross::units::{HeatRate, TemperatureRise};
    let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
    table.calls.push((Call::HeatingHigh, "2".to_owned()));
    table.heating = vec![HeatStage {
        call: Call::HeatingHigh,
        output: HeatRate::from_btuh(48_000.0),
        rise: Some((TemperatureRise::from_f(range.0), TemperatureRise::from_f(range.1))),
        minimum_airflow: None,
    }];
    at_standard_air(job_with(
        table,
        [reading(reading_of.0, reading_of.1), vec![Edit::Call(Call::HeatingHigh)]].concat(),
    ))
}

/// The nominal target is 3 tons of 400: a heating reading of 700 cfm is neither short of that nor in its band.
#[test]
fn a_heating_reading_is_not_held_against_the_target_of_cooling() {
    let job = heating((-0.35, 0.25), (30.0, 61.0));
    let told = line(&job);
    assert!(!told.headline.contains("short of") && !told.headline.contains("per ton"), "{}", told.headline);
    assert_eq!(Answer::of(&job).blower().target, None);
    // 48,000 / (1.08 × 700) = 63.5 °F, and 64 in air of 0.0746 lb/ft³; ± 6 % of the airflow is ± 4, which reaches down to 61.
    headline_says(&job, &["700 cfm on tap 2, ± ", "Rise 64 °F, ± 4, at the limit of the plate's 30 to 61. "]);
    check(&job, &["Heating, high: a rise of 64 °F on tap 2, ± 4, where the plate says 30 to 61 °F, at its limit"]);
    headline_says(&heating((-0.35, 0.25), (30.0, 50.0)), &["Rise 64 °F, ± 4, over the plate's 30 to 50. "]);
    headline_says(&heating((-0.35, 0.25), (40.0, 90.0)), &["Rise 64 °F, ± 4, in the plate's 40 to 90. "]);
    // While cooling is read, its rise is no part of the headline.
    let mut cooling = heating((-0.35, 0.25), (30.0, 50.0));
    apply(&mut cooling, Edit::Call(Call::CoolingHigh)).unwrap();
    assert!(!line(&cooling).headline.contains("Rise"), "{}", line(&cooling).headline);
    headline_says(&at_standard_air(cooling), &["per ton at standard air, 42 % short of 400"]);
}

/// Four targets stand in one job; each call is judged by its own, and another call as a change as well.
#[test]
fn each_call_is_judged_by_its_own_target() {
    use tapcross::model::facts::change::{ChangeKind, OtherCall};
    let cfm = |airflow| Some(Target::Airflow(Airflow::from_cfm(airflow)));
    let mut job = heating((-0.35, 0.25), (30.0, 60.0));
    let calls = [Call::CoolingHigh, Call::CoolingLow, Call::HeatingHigh, Call::HeatingLow];
    for (call, target) in calls.into_iter().zip([1000.0, 800.0, 720.0, 600.0]) {
        apply(&mut job, Edit::TargetOf(call, cfm(target))).unwrap();
    }
    for (call, said) in calls.into_iter().zip([" short of 1,000", " short of 800", "under 720", "more than 600"]) {
        let mut read = job.clone();
        apply(&mut read, Edit::Call(call)).unwrap();
        apply(&mut read, Edit::Tap(Some("2".to_owned()))).unwrap();
        assert_eq!(calls.map(|call| read.target_of(call)), calls.map(|call| job.target_of(call)), "{call:?}");
        headline_says(&read, &[said]);
        assert_eq!(job_file::parse(&job_file::write(&read)).expect("the file opens"), read);
    }
    apply(&mut job, Edit::AddChange(ChangeKind::OtherCall(OtherCall { call: Call::CoolingHigh }))).unwrap();
    headline_says(&job, &["With the change, in cooling, high: ", " short of 1,000"]);
    // The one of a call is taken away alone.
    apply(&mut job, Edit::TargetOf(Call::CoolingHigh, None)).unwrap();
    assert_eq!((job.target_of(Call::CoolingHigh), job.target_of(Call::HeatingHigh)), (None, cfm(720.0)));
}

#[test]
fn a_typed_airflow_stays_the_target_of_the_call_that_was_read() {
    let mut job = job_with(machine("gf-80t"), reading(-0.30, 0.30));
    let typed = Target::Airflow(Airflow::from_cfm(1234.0));
    apply(&mut job, Edit::Target(Some(typed))).unwrap();
    apply(&mut job, Edit::Call(Call::HeatingHigh)).unwrap();
    assert_eq!((job.target_of(Call::CoolingHigh), job.target_of(Call::HeatingHigh)), (Some(typed), None));
    assert_eq!(job_file::parse(&job_file::write(&job)).expect("the file opens"), job);
    apply(&mut job, Edit::Call(Call::CoolingHigh)).unwrap();
    headline_says(&job, &["1,234"]);
}

/// The low stage reads 0.10 + 0.05 at 1,150 cfm: by the square law 0.15·(1,700/1,150)² = 0.33 at the target of the high one, and no leak.
#[test]
fn a_low_stage_is_taken_for_no_leak() {
    let low = |target: Option<f64>| {
        let mut table = straight(MotorFamily::PermanentSplitCapacitor, &[("2", 1200.0)], 0.8);
        table.calls.push((Call::CoolingLow, "2".to_owned()));
        let mut edits = reading(-0.10, 0.05);
        edits.push(Edit::Target(None));
        edits.push(Edit::TargetOf(Call::CoolingHigh, target.map(|cfm| Target::Airflow(Airflow::from_cfm(cfm)))));
        edits.push(Edit::Call(Call::CoolingLow));
        edits.push(Edit::Tap(Some("2".to_owned())));
        at_standard_air(job_with(table, edits))
    };
    for job in [low(Some(1700.0)), low(None)] {
        assert!(!said(&job).contains("look for a leak"), "{}", said(&job));
    }
    // At a target of 1,250 it comes to 0.15·(1,250/1,150)² = 0.18, which is low there too.
    check(
        &low(Some(1250.0)),
        &["0.15 in. w.c. here comes to 0.18 in. w.c. at 1,250 cfm, which is low: look for a leak"],
    );
}

/// The plate's 30 to 60 °F of 48,000 Btu/h at the target's own heat: 48,000 / (1.08 × 60) = 741 to 1,481 cfm, whatever is accepted of an airflow.
#[test]
fn the_band_of_a_heat_is_the_plates_range() {
    use tapcross::units::{HeatRate, TemperatureRise};
    let mut job = heating((-0.20, 0.20), (30.0, 60.0));
    let target = Target::HeatRise { output: HeatRate::from_btuh(48_000.0), rise: TemperatureRise::from_f(45.0) };
    apply(&mut job, Edit::Target(Some(target))).unwrap();
    let answer = Answer::of(&job);
    let band = answer.blower().target.unwrap();
    let by_hand = |rise: f64| 48_000.0 / (1.08 * rise) * (0.075 / answer.blower().air.density.lb_ft3());
    assert!((band.low.cfm() - by_hand(60.0)).abs() < 0.5 && (band.high.cfm() - by_hand(30.0)).abs() < 0.5, "{band:?}");
    // 900 cfm are 9 % short of the 988 at 45 °F (993 in this air) and 50 °F, in the range.
    headline_says(&job, &["9 % under 995", ": in the band", "in the plate's 30 to 60"]);
    job.machine.as_mut().unwrap().heating[0].rise = None;
    let band = Answer::of(&job).blower().target.unwrap();
    assert!((band.low / band.actual - 0.9).abs() < 1e-9, "without a range the accepted difference counts");
}

/// A table's airflows times a factor.
fn times(mut table: BlowerTable, factor: f64) -> BlowerTable {
    for tap in &mut table.taps {
        if let TapData::Column(rows) = &mut tap.data {
            for row in rows {
                if let Cell::Airflow(airflow, _) = &mut row.cell {
                    *airflow = *airflow * factor;
                }
            }
        }
    }
    table
}

/// The remarks on a job's table.
fn remarked(table: BlowerTable, units: UnitSystem) -> Vec<String> {
    let job = job_with(table, Vec::new());
    let answer = Answer::of(&job);
    wording::tables::remarks(&job, &answer.table_problems, units).map(|(_, said)| said).collect()
}

/// A cubic foot a minute is 0.4719 L/s and 1.699 m³/h. Tap 4 of a 3½-ton air handler moves 1,365 cfm in the middle of its column, 391 a ton: 829 or 184 where the unit is another.
#[test]
fn a_table_read_in_another_unit_than_it_was_printed_in_is_asked_about() {
    const LPS: f64 = 0.471_947_443_2;
    let table = || BlowerTable { heating: Vec::new(), ..machine("AH-42T") };
    assert_eq!(remarked(machine("AH-42T"), UnitSystem::InchPound), [""; 0]);
    let cases = [
        (1.0 / LPS, "828 cfm a ton", "was it printed in cfm and read as L/s?"),
        (LPS, "184 cfm a ton", "was it printed in L/s and read as cfm?"),
        (3.6 * LPS, "664 cfm a ton", "was it printed in m³/h and read as cfm?"),
        (1.0 / 3.6 / LPS, "230 cfm a ton", "was it printed in cfm and read as m³/h?"),
    ];
    for (factor, each, asks) in cases {
        let said = remarked(times(table(), factor), UnitSystem::InchPound);
        let [one] = &said[..] else { panic!("{factor}: {said:?}") };
        assert!(one.starts_with("Tap 4 moves ") && one.contains(each) && one.ends_with(asks), "{factor}: {one}");
        assert!(one.contains("where 350 to 450 is usual"), "{one}");
    }
    // Ten times as much is no other unit.
    let said = remarked(times(table(), 10.0), UnitSystem::SiLitres);
    assert!(said.iter().any(|said| said.contains("is usual; is a digit or the capacity mistyped?")), "{said:?}");
    assert!(said.iter().all(|said| !said.contains("cfm")), "{said:?}");
}

/// 400 W for 1,390 cfm are 0.288 W/cfm, 415 for 1,345 are 0.309, 0.298 between them; ten times as much no blower of a house takes, nor a twentieth.
#[test]
fn watts_that_no_blower_takes_for_its_air_are_asked_about() {
    let with = |factor: f64| {
        let mut table = machine("AH-42T");
        for tap in &mut table.taps {
            if let TapData::Column(rows) = &mut tap.data {
                for row in rows {
                    row.power = row.power.map(|power| Power::from_watts(power.watts() * factor));
                }
            }
        }
        remarked(table, UnitSystem::InchPound)
    };
    assert_eq!(with(1.0), [""; 0]);
    for (factor, each) in [(10.0, "2.982"), (0.05, "0.015")] {
        let said = with(factor);
        let asks = format!(" {each} W/cfm; is another unit or another column meant?");
        assert!(matches!(&said[..], [one] if one.starts_with("Tap 4 takes ") && one.ends_with(&asks)), "{said:?}");
    }
}

/// 10 kW are 34,130 Btu/h: at 150 cfm the air would rise by 34,130 / (1.08 × 150) = 211 °F; 11,000 cfm is more than the table's 1,690.
#[test]
fn a_least_airflow_that_cannot_be_meant_is_asked_about() {
    let with = |least: f64| {
        let mut table = machine("AH-42T");
        table.heating[0].minimum_airflow = Some(Airflow::from_cfm(least));
        remarked(table, UnitSystem::InchPound)
    };
    for (least, asks) in [
        (1100.0, None),
        (600.0, None),
        (150.0, Some("Heating, high needs at least 150 cfm, which it would heat by 211 °F; is that figure mistyped?")),
        (
            11_000.0,
            Some(
                "Heating, high needs at least 11,000 cfm, and the table moves 1,690 cfm at most; is that figure mistyped?",
            ),
        ),
    ] {
        assert_eq!(with(least), asks.map(str::to_owned).into_iter().collect::<Vec<_>>(), "{least}");
    }
}

/// Every number of a job's file in turn, far past what can be meant: whatever is said of it can be read.
#[test]
fn a_number_past_all_measure_is_told_in_few_digits() {
    let text = job_file::write(&demo::gas_furnace());
    let is_of_number = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '-');
    let mut starts = Vec::new();
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        if letter.is_ascii_digit() && matches!(before, ' ' | '[' | '(' | '-') {
            starts.push(if before == '-' { at - 1 } else { at });
        }
        before = letter;
    }
    assert!(starts.len() > 100, "{}", starts.len());
    let mut told = 0;
    for at in starts {
        let rest = &text[at..];
        let end = rest.find(|letter| !is_of_number(letter)).unwrap();
        for huge in ["-1e308", "1.5e300", "9.5e14"] {
            let changed = format!("{}{huge}{}", &text[..at], &rest[end..]);
            for units in [UnitSystem::InchPound, UnitSystem::SiLitres] {
                let said = match job_file::parse(&changed) {
                    Err(refused) => vec![refused.said(units)],
                    Ok(job) => {
                        let answer = Answer::of(&job);
                        let table = wording::tables::remarks(&job, &answer.table_problems, units).map(|(_, said)| said);
                        let problems = answer.problems.iter().map(|problem| problem.what.sentence(units));
                        let verdict = wording::verdict(&job, &answer, units);
                        table.chain(problems).chain([verdict.headline, verdict.detail]).collect()
                    }
                };
                for sentence in said {
                    told += 1;
                    let digits = sentence.split(|letter: char| !letter.is_ascii_digit() && letter != ',').map(str::len);
                    assert!(digits.max() < Some(24), "{huge}: {sentence}");
                    assert!(!sentence.contains("inf") && !sentence.contains("NaN"), "{huge}: {sentence}");
                    assert!(!sentence.contains("1.5e") || sentence.contains("1.5e30"), "{huge}: {sentence}");
                }
            }
        }
    }
    assert!(told > 300, "{told}");
}

/// A part that takes too much says why it may, in what order one looks, and what settles each; a stretch that nothing tells apart names each part's likeliest.
#[test]
fn a_drop_that_is_too_high_names_its_likely_causes_and_what_settles_them() {
    let job = demo::gas_furnace();
    let parts = |parts: Vec<ElementKind>| Finding::PartTakes {
        parts,
        taken: Pressure::from_in_wc(0.30),
        total: Pressure::from_in_wc(0.70),
        limit: Pressure::from_in_wc(0.10),
        at: None,
        of_supply: false,
    };
    let said = |kinds: &[ElementKind]| causes::sentence(&job, &parts(kinds.to_vec())).unwrap();
    let filter = said(&[ElementKind::Filter]);
    assert!(
        filter.starts_with("Likely, in order: dirt (pull it and look, and read with a clean one); too little"),
        "{filter}"
    );
    let lump = said(&[ElementKind::ReturnGrille, ElementKind::ReturnDuct, ElementKind::Filter]);
    let order = ["filter: dirt", "return grille: too little free area", "return duct: too small"];
    let places: Vec<usize> =
        order.iter().map(|part| lump.find(part).unwrap_or_else(|| panic!("{part}: {lump}"))).collect();
    assert!(places.is_sorted(), "{lump}");
    assert_eq!(causes::sentence(&job, &Finding::OneRow), None);
    // Every kind that takes static has causes, each with what settles it.
    let kinds = [
        ElementKind::Louvre,
        ElementKind::ReturnGrille,
        ElementKind::ReturnDuct,
        ElementKind::Filter,
        ElementKind::Blower,
        ElementKind::HeatExchanger,
        ElementKind::Coil,
        ElementKind::Heater,
        ElementKind::SupplyDuct,
        ElementKind::Registers,
        ElementKind::AirCleaner,
        ElementKind::Humidifier,
        ElementKind::Damper,
        ElementKind::Leak,
        ElementKind::Bypass,
        ElementKind::SideBySide,
    ];
    for kind in kinds {
        let is_passive = matches!(
            kind,
            ElementKind::Blower
                | ElementKind::HeatExchanger
                | ElementKind::Leak
                | ElementKind::Bypass
                | ElementKind::SideBySide
        );
        assert_eq!(causes::of_kind(kind).is_empty(), is_passive, "{kind:?}");
        assert!(causes::of_kind(kind).iter().all(|cause| !cause.why.is_empty() && !cause.settled_by.is_empty()));
    }
}

/// Who reads a report is told in a sentence that the table behind it was read off a chart, and how well; path and curve are as well founded as before, for the ± holds all of it.
#[test]
fn a_table_that_was_read_off_a_chart_says_so_in_a_sentence() {
    let printed = demo::heat_pump();
    let mut digitised = printed.clone();
    digitised.machine.as_mut().unwrap().basis.reading_error = Some(2.5);
    let told = |job: &Job| {
        let answer = Answer::of(job);
        let said = answer.findings.iter().map(|one| wording::sentence(job, one, UnitSystem::InchPound));
        let said: Vec<String> = said.filter(|said| said.contains("digitised")).collect();
        let report = Report::of("a.ron", job, &answer, search::to_the_end(job));
        let json = serde_json::to_value(&report).unwrap()["assumptions"].clone();
        (said, json, answer.point().unwrap().standing)
    };
    let (said, json, standing) = told(&digitised);
    let sentence = "The table was digitised from a chart, read to ± 2.5 %: each tap's airflow may be off by that besides what printed tables are";
    assert_eq!(said, [sentence]);
    assert_eq!((&json[0]["code"], &json[0]["sentence"]), (&"read_off_chart".into(), &sentence.into()));
    let (said, json, before) = told(&printed);
    assert_eq!((said, json.as_array().unwrap().len()), (Vec::new(), 0));
    assert_eq!(standing, before);
}
