//! Blowers in thin air: each motor family by its own law, worked by hand from the table.
//!
//! The laws are reasoned from how such motors are controlled (common practice, no source): a PSC motor hardly changes its speed, so the fan laws at constant speed hold and a reading P enters the table as P/r; a constant-torque motor holds ρN², so its pressure stands and its speed rises by 1/√r; a constant-airflow motor holds the mass up to its knee.

use tapcross::edit::{self, Edit};
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{AirPath, ElementKind};
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Call, Cell, EquipmentKind, HeatStage, MotorFamily, Row, Tap, TapData,
};
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::job_number::JobNumber;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::facts::target::Target;
use tapcross::model::search;
use tapcross::model::verdicts::needs::Need;
use tapcross::model::verdicts::taps::Reach;
use tapcross::model::wording::{self, heat};
use tapcross::units::{Airflow, HeatRate, Pressure, UnitSystem, show};

/// Airflow of the invented table's only tap, falling by 10 cfm for each 0.1 in. w.c. up to 0.70 and steeply from there on.
const ROWS: [(f64, f64); 8] = [
    (0.1, 1200.0),
    (0.2, 1190.0),
    (0.3, 1180.0),
    (0.4, 1170.0),
    (0.5, 1160.0),
    (0.6, 1150.0),
    (0.7, 1140.0),
    (0.8, 900.0),
];

/// A job read as one total at an altitude; density ratio r by its own air.
fn job(motor: MotorFamily, reading: f64, altitude: f64) -> Job {
    let row = |(esp, cfm)| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    };
    let tap = Tap { name: "1".to_owned(), data: TapData::Column(ROWS.map(row).to_vec()) };
    let mut job = Job {
        path: AirPath::for_equipment(EquipmentKind::Furnace, &Basis::default()),
        machine: Some(BlowerTable { motor, taps: vec![tap], ..BlowerTable::default() }),
        ..Job::default()
    };
    job.sets[0].tap = Some("1".to_owned());
    job.sets[0].readings = vec![Reading { at: ReadAt::Total, looks: vec![Pressure::from_in_wc(reading)] }];
    edit::apply(&mut job, Edit::Number(JobNumber::Altitude, Some(altitude))).unwrap();
    job
}

fn read(job: &Job) -> (f64, f64) {
    let answer = Answer::of(job);
    (answer.point().expect("it runs").now.airflow.cfm(), answer.blower().density_ratio)
}

/// The table's rows lie on a straight line between 0.1 and 0.7.
fn by_table(esp: f64) -> f64 {
    1210.0 - 100.0 * esp
}

#[test]
fn the_headline_follows_the_law_of_the_motor() {
    for (motor, reading) in [
        (MotorFamily::PermanentSplitCapacitor, 0.45),
        (MotorFamily::ConstantTorque, 0.45),
        (MotorFamily::ConstantTorque, 0.6),
        (MotorFamily::ConstantAirflow, 0.3),
        (MotorFamily::Unstated, 0.3),
    ] {
        let (airflow, r) = read(&job(motor, reading, 5280.0));
        assert!((0.80..0.85).contains(&r), "{r}");
        let right = match motor {
            MotorFamily::PermanentSplitCapacitor | MotorFamily::Unstated => by_table(reading / r),
            MotorFamily::ConstantTorque => by_table(reading) / r.sqrt(),
            MotorFamily::ConstantAirflow => by_table(reading / r) / r,
        };
        assert!((airflow - right).abs() < 0.5, "{motor:?} at {reading}: {airflow}, by hand {right}");
    }
}

/// Past its knee the motor has no torque left to hold the mass: the constant-speed figure stands.
#[test]
fn past_its_knee_a_constant_airflow_motor_moves_what_it_does_at_constant_speed() {
    let (_, r) = read(&job(MotorFamily::ConstantAirflow, 0.5, 5280.0));
    let (airflow, _) = read(&job(MotorFamily::ConstantAirflow, 0.8 * r, 5280.0));
    assert!((airflow - 900.0).abs() < 1e-6, "{airflow}");
}

/// 1,390 of 1,410: neither 16 % short nor in need of anything.
#[test]
fn a_constant_airflow_machine_is_not_called_short_for_its_altitude() {
    let mut job = job(MotorFamily::ConstantAirflow, 0.45, 5000.0);
    let (airflow, r) = read(&job);
    assert!((airflow - 1156.0 / r).abs() < 3.0, "{airflow}");
    job.target = Some(Target::Airflow(Airflow::from_cfm(1410.0)));
    let answer = Answer::of(&job);
    let point = answer.tap_in_use().unwrap().reached().unwrap();
    assert!(point.of_target.unwrap() > 0.97, "{:?}", point.of_target);
    assert_ne!(point.reach, Some(Reach::Short));
}

/// What it takes follows the same law: the tap delivers the target at the static at which it is read to do so.
#[test]
fn what_it_takes_follows_the_law_of_the_motor_as_well() {
    let mut job = job(MotorFamily::ConstantTorque, 0.6, 5280.0);
    let (airflow, r) = read(&job);
    let wanted = by_table(0.4) / r.sqrt();
    assert!(wanted > airflow);
    job.target = Some(Target::Airflow(Airflow::from_cfm(wanted)));
    let answer = Answer::of(&job);
    let Some(Need::Ease(ease)) = answer.tap_in_use().unwrap().need else { panic!("it needs easing") };
    assert!((ease.highest.in_wc() - 0.4).abs() < 2e-3, "{ease:?}");
    let tesp = answer.point().unwrap().now.tesp.in_wc();
    let by_square_law = tesp * (wanted / airflow).powi(2);
    assert!((ease.remove.in_wc() - (by_square_law - 0.4)).abs() < 2e-3, "{ease:?}");
}

/// At the table's density every family enters the table with what was read.
#[test]
fn at_the_tables_density_no_law_changes_anything() {
    for motor in [MotorFamily::PermanentSplitCapacitor, MotorFamily::ConstantTorque, MotorFamily::ConstantAirflow] {
        let mut job = job(motor, 0.45, 0.0);
        let density = Answer::of(&job).blower().air.density;
        job.machine.as_mut().unwrap().basis.density = Some(density);
        let (airflow, r) = read(&job);
        assert!((r - 1.0).abs() < 1e-12 && (airflow - by_table(0.45)).abs() < 0.5, "{motor:?}: {airflow}");
    }
}

/// A stage of 64,000 Btu/h on the only tap of a machine at an altitude: its rise in °F, and airflow and density that it is worked from.
fn rise(kind: EquipmentKind, altitude: f64) -> (f64, f64) {
    let mut job = job(MotorFamily::PermanentSplitCapacitor, 0.4, altitude);
    let table = job.machine.as_mut().unwrap();
    table.kind = kind;
    table.heating = vec![HeatStage {
        call: Call::HeatingHigh,
        output: HeatRate::from_btuh(64_000.0),
        rise: None,
        minimum_airflow: None,
    }];
    job.path = AirPath::for_equipment(kind, &table.basis);
    edit::apply(&mut job, Edit::Call(Call::HeatingHigh)).unwrap();
    let answer = Answer::of(&job);
    let point = answer.tap_in_use().unwrap().reached().unwrap();
    // 60 min/h × 0.24 Btu/(lb·°F) × ρ × cfm, as the factor 1.08 is made at 0.075 lb/ft³.
    let full = 64_000.0 / (60.0 * 0.24 * answer.blower().air.density.lb_ft3() * point.airflow().cfm());
    (point.rises[0].rise.f(), full)
}

/// Above 2,000 ft a gas burner's heat is taken 4 % lower for every 1,000 ft (usual rule of North American gas codes and makers' instructions, from memory); electric heat stays.
#[test]
fn a_gas_furnace_at_altitude_heats_less_and_an_electric_one_does_not() {
    for (kind, altitude, share) in [
        (EquipmentKind::Furnace, 0.0, 1.0),
        (EquipmentKind::Furnace, 1_900.0, 1.0),
        (EquipmentKind::Furnace, 5_000.0, 0.8),
        (EquipmentKind::NoReturnDuct, 5_000.0, 0.8),
        (EquipmentKind::DrawThroughAirHandler, 5_000.0, 1.0),
        (EquipmentKind::BlowThroughAirHandler, 5_000.0, 1.0),
    ] {
        let (rise, full) = rise(kind, altitude);
        assert!((rise / full - share).abs() < 0.002, "{kind:?} at {altitude} ft: {rise} °F, {full} at full heat");
    }
}

#[test]
fn the_lower_heat_is_said_where_a_rise_is_judged() {
    let mut job = demo::gas_furnace();
    edit::apply(&mut job, Edit::Number(JobNumber::Altitude, Some(5000.0))).unwrap();
    let answer = Answer::of(&job);
    let table = job.machine.as_ref().unwrap();
    let said = heat::rises(table, answer.taps(), job.set().call, UnitSystem::InchPound);
    assert!(
        !said.is_empty()
            && said.iter().all(|(text, _)| text.contains("burner's heat taken 20 % lower at this altitude")),
        "{said:?}"
    );
    let low = heat::rises(table, Answer::of(&demo::gas_furnace()).taps(), job.set().call, UnitSystem::InchPound);
    assert!(low.iter().all(|(text, _)| !text.contains("burner")), "{low:?}");
}

/// Where the motor's own law is in the band and a constant speed is short of it, no reading so far decides.
#[test]
fn a_verdict_that_the_air_leaves_open_says_so_with_both_figures() {
    let mut job = job(MotorFamily::ConstantTorque, 0.5, 5280.0);
    let (own, _) = read(&job);
    let constant_speed = Answer::of(&job).tap_in_use().unwrap().reached().unwrap().other_end.unwrap().cfm();
    assert!(constant_speed < own * 0.95, "{constant_speed} of {own}");
    job.target = Some(Target::Airflow(Airflow::from_cfm(own)));
    job.limits.accept_band = 0.03;
    let answer = Answer::of(&job);
    assert_eq!(answer.tap_in_use().unwrap().reached().unwrap().reach, Some(Reach::NotSaid));
    let told = wording::verdict(&job, &answer, UnitSystem::InchPound);
    let said = format!("{} {}", told.headline, told.detail);
    for part in [
        "cannot be told".to_owned(),
        show::airflow_bare(Airflow::from_cfm(own), UnitSystem::InchPound),
        format!("{} at a constant speed", show::airflow(Airflow::from_cfm(constant_speed), UnitSystem::InchPound)),
    ] {
        assert!(said.contains(&part), "{part}: {said}");
    }
    assert!(!said.contains("No tap lands") && !said.contains("must") && !said.contains("a part's drop"), "{said}");
    // Both ends in the band, or both short of it: nothing is open.
    job.limits.accept_band = 0.3;
    assert_eq!(Answer::of(&job).tap_in_use().unwrap().reached().unwrap().reach, Some(Reach::InBand));
    job.limits.accept_band = 0.03;
    job.target = Some(Target::Airflow(Airflow::from_cfm(own * 1.3)));
    assert_eq!(Answer::of(&job).tap_in_use().unwrap().reached().unwrap().reach, Some(Reach::Short));
}

/// Past the knee both laws say the same, and the sentence that would name the other one is left out.
#[test]
fn one_airflow_is_not_told_as_two() {
    let says = |reading: f64| {
        let job = job(MotorFamily::ConstantAirflow, reading, 5280.0);
        let answer = Answer::of(&job);
        let mut sentences =
            answer.findings.iter().map(|finding| wording::sentence(&job, finding, UnitSystem::InchPound));
        sentences.any(|sentence| sentence.contains("at a constant speed"))
    };
    assert!(says(0.45), "before its knee the motor may hold the mass or not");
    assert!(!says(0.66), "past it there is one figure");
}

/// A change that lands where only the air decides is no answer of the search either, and its sentence says so.
#[test]
fn search_and_changes_say_that_the_air_decides_as_the_verdict_does() {
    let mut job = job(MotorFamily::ConstantTorque, 0.5, 5280.0);
    let registers = job.path.first(ElementKind::Registers).unwrap().id;
    let less = ChangeKind::LessByHand(LessByHand { element: registers, fraction: 0.1 });
    edit::apply(&mut job, Edit::AddChange(less)).unwrap();
    let landed = Answer::of(&job).with_changes().unwrap().system.point().unwrap().airflow;
    job.target = Some(Target::Airflow(landed));
    job.limits.accept_band = 0.03;
    let answer = Answer::of(&job);
    assert_eq!(answer.with_changes().unwrap().system.runs().unwrap().reach, Some(Reach::NotSaid));
    let said = wording::verdict(&job, &answer, UnitSystem::InchPound).headline;
    assert!(said.contains("cannot be told in this air") && said.contains("at a constant speed"), "{said}");
    // The two figures span what it may be, and each of them is off by what the readings and the table are.
    let spread = answer.with_changes().unwrap().system.runs().unwrap().spread.airflow
        / answer.with_changes().unwrap().system.runs().unwrap().airflow();
    assert!(said.contains(&format!(", each ± {:.0} %", spread * 100.0)), "{said}");
    let found = search::to_the_end(&job);
    assert!(found.best.is_empty(), "{:?}", found.best);
    let why = found.none_reason.unwrap().sentence();
    assert!(why.contains("cannot be told in this air"), "{why}");
}

/// Rows of an invented constant-airflow machine: ESP, its lower setting and its highest one.
const TWO_SETTINGS: [(f64, f64, f64); 10] = [
    (0.1, 1040.0, 1190.0),
    (0.2, 1045.0, 1195.0),
    (0.3, 1050.0, 1200.0),
    (0.4, 1050.0, 1200.0),
    (0.5, 1050.0, 1200.0),
    (0.6, 1050.0, 1200.0),
    (0.7, 1045.0, 1180.0),
    (0.8, 1035.0, 1135.0),
    (0.9, 1000.0, 1065.0),
    (1.0, 940.0, 970.0),
];

/// A total read on the highest setting of that machine at 5,000 ft.
fn two_settings(reading: f64) -> Job {
    let column = |name: &str, airflow: fn(&(f64, f64, f64)) -> f64| Tap {
        name: name.to_owned(),
        data: TapData::Column(
            TWO_SETTINGS
                .iter()
                .map(|row| Row {
                    esp: Pressure::from_in_wc(row.0),
                    cell: Cell::Airflow(Airflow::from_cfm(airflow(row)), None),
                    power: None,
                    speed: None,
                })
                .collect(),
        ),
    };
    let mut job = job(MotorFamily::ConstantAirflow, reading, 5000.0);
    job.machine.as_mut().unwrap().taps = vec![column("2", |row| row.1), column("3", |row| row.2)];
    job.sets[0].tap = Some("3".to_owned());
    job
}

/// One wheel and one motor: what the highest setting cannot do, no lower demand brings.
#[test]
fn a_lower_setting_never_moves_more_than_the_highest_one() {
    for hundredths in 5..=83 {
        let reading = f64::from(hundredths) / 100.0;
        let answer = Answer::of(&two_settings(reading));
        let moved = |tap: usize| answer.taps()[tap].reached().unwrap().airflow().cfm();
        assert!(moved(0) < moved(1) + 1.0, "at {reading}: {} on the lower, {} on the highest", moved(0), moved(1));
    }
}

/// Far under its knee the motor has room to hold the mass, past it none is left: between them the credit goes away little by little, and nothing jumps within 0.02 in. w.c.
#[test]
fn what_is_credited_for_the_held_mass_goes_away_little_by_little_up_to_the_knee() {
    let ends = |reading: f64| {
        let answer = Answer::of(&two_settings(reading));
        let point = answer.tap_in_use().unwrap().reached().unwrap().clone();
        (point.airflow().cfm(), point.other_end.unwrap().cfm())
    };
    let r = read(&two_settings(0.2)).1;
    // By hand: 1,200 at 0.30 in the table is 1,200/r where 0.30·r is read; at 0.90, past the knee, the table's 1,065 stands.
    assert!((ends(0.3 * r).0 - 1200.0 / r).abs() < 0.5, "{:?}", ends(0.3 * r));
    assert!((ends(0.3 * r).1 - 1200.0).abs() < 0.5, "{:?}", ends(0.3 * r));
    assert!((ends(0.9 * r).0 - 1065.0).abs() < 0.5 && (ends(0.9 * r).1 - 1065.0).abs() < 0.5, "{:?}", ends(0.9 * r));
    // The knee, 5 % under 1,200, is at 0.79 in the table: from there the motor's limit goes back by its mean fall to the last row,
    // (1,140 − 970)/(1.00 − 0.79) = 810 cfm for each in. w.c.: 1,140 + 810 × 0.19 = 1,294 at 0.60.
    assert!((ends(0.6 * r).0 - 1294.0).abs() < 6.0, "{:?}", ends(0.6 * r));
    for step in 10..41 {
        let reading = f64::from(step) * 0.02;
        let (one, other) = (ends(reading), ends(reading + 0.02));
        // The steepest of the table is 95 cfm in 0.1 in. w.c., 23 cfm in 0.02/r; PCHIP bends by less than as much again.
        assert!((one.0 - other.0).abs() < 46.0, "from {reading}: {one:?} to {other:?}");
        // Between rows the curve may bend by a few cfm below the other.
        assert!(one.0 + 5.0 > one.1, "a constant speed is the low end at {reading}: {one:?}");
    }
}

/// The knee stands on the scale of what was read, and past it the sentences promise no more air than there is.
#[test]
fn the_knee_is_told_on_the_scale_as_read_and_no_held_mass_past_it() {
    let said = |reading: f64| {
        let job = two_settings(reading);
        let answer = Answer::of(&job);
        let told = answer.findings.iter().map(|finding| wording::sentence(&job, finding, UnitSystem::InchPound));
        told.collect::<Vec<_>>().join(". ")
    };
    let r = read(&two_settings(0.2)).1;
    // Past the knee: 0.90 in the table; the figure is the table's.
    let past = said(0.9 * r);
    assert!(past.contains("past its knee") && !past.contains("more air than the table says"), "{past}");
    // Any knee told stands on the scale as read: more than what is read before it, less past it.
    for reading in [0.1, 0.3, 0.6, 0.7] {
        let told = said(reading);
        assert!(!told.contains("0.00 in. w.c."), "{told}");
        let knee = told.split("knee at ").nth(1).expect("a knee is told");
        let at: f64 = knee.split(' ').next().unwrap().parse().unwrap();
        assert_eq!(told.contains("past its knee"), reading > at, "{reading}: {told}");
    }
}

/// A PSC motor keeps its speed in any air: no other airflow stands beside its own.
#[test]
fn a_motor_that_keeps_its_speed_has_one_airflow() {
    let job = job(MotorFamily::PermanentSplitCapacitor, 0.45, 5280.0);
    let answer = Answer::of(&job);
    assert_eq!(answer.tap_in_use().unwrap().reached().unwrap().other_end, None);
    let said = answer.findings.iter().map(|finding| wording::sentence(&job, finding, UnitSystem::InchPound));
    let said = said.collect::<Vec<_>>().join(". ");
    assert!(!said.contains("may move") && said.contains("thinner than the table's"), "{said}");
}
