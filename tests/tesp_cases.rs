//! From readings to total external static and table entry, end to end through `Job` and `Answer`: the eight cases that every build must get right, and the mistakes that would show in them.

#[path = "reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;
#[path = "support/standard_air.rs"]
mod standard_air;

use checks::{curve_of, table_family, table_points, tap_of};
use standard_air::standard_air;
use tapcross::files::library::Library;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air::AirConditions;
use tapcross::model::facts::air_path::{
    AirPath, Element, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT, Whereabouts,
};
use tapcross::model::facts::blower::{
    Basis, BlowerTable, Call, CoilInTest, EquipmentKind, MotorFamily, PartInTest, Tap, TapData,
};
use tapcross::model::facts::drop_data::{DropData, SQUARE_LAW};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{CoilState, ReadAt, Reading};
use tapcross::model::facts::standing::{CurveStanding, PathStanding};
use tapcross::model::laws::tap_curve::{TapCurve, TapShape, shape_of};
use tapcross::model::path::tesp::Assumption;
use tapcross::model::solution::operating_point::NoCrossing;
use tapcross::model::verdicts::system::{NotRunning, Running};
use tapcross::units::{Airflow, Altitude, Density, Pressure, UnitSystem, text};

const SAME: f64 = 1e-9;

fn in_wc(value: f64) -> Pressure {
    Pressure::from_in_wc(value)
}

fn table_a() -> Tap {
    tap_of(table_points("A").into_iter().map(|(esp, cfm)| (esp, cfm, None)))
}

fn curve_a() -> TapCurve {
    curve_of(&table_a(), table_family("A"))
}

/// A machine with table A on its only tap.
fn machine(kind: EquipmentKind, basis: Basis) -> BlowerTable {
    BlowerTable {
        name: "Made up".to_owned(),
        kind,
        motor: MotorFamily::PermanentSplitCapacitor,
        basis,
        calls: vec![(Call::CoolingHigh, "1".to_owned())],
        taps: vec![table_a()],
        ..BlowerTable::default()
    }
}

/// A job for a machine, whose table was made in the job's own air, so that r = 1 exactly.
fn job_for(mut table: BlowerTable) -> Job {
    let mut job = Job { path: AirPath::for_equipment(table.kind, &table.basis), ..Job::default() };
    job.sets[0].air = standard_air();
    table.basis.density = Some(job.set().air.at_blower(table.kind, job.set().call).density);
    job.machine = Some(table);
    job
}

fn read(job: &mut Job, at: ReadAt, value: Pressure) {
    job.sets[0].readings.push(Reading { at, looks: vec![value] });
}

fn read_ports(job: &mut Job, before: f64, after: f64) {
    read(job, ReadAt::Port(RETURN_PORT), in_wc(before));
    read(job, ReadAt::Port(SUPPLY_PORT), in_wc(after));
}

fn id_of(job: &Job, kind: ElementKind) -> ElementId {
    job.path.first(kind).unwrap_or_else(|| panic!("the path has no {}", kind.name())).id
}

fn move_port(job: &mut Job, port: tapcross::model::facts::air_path::PortId, after: ElementKind) {
    let after = id_of(job, after);
    let found = job.path.ports.iter_mut().find(|candidate| candidate.id == port);
    found.expect("the port").after = after;
}

/// Data by which a part drops `drop` at the airflow of table A at `entry`; the exponent must not matter there.
fn dropping(drop: f64, entry: f64, exponent: f64) -> DropData {
    let airflow = curve_a().at(in_wc(entry)).expect("on the curve").airflow;
    DropData::at(airflow, in_wc(drop), exponent).expect("sound data")
}

/// Gives a part data that drop as stated in the job's air: published in standard air they are larger by the ratio of densities to the power 1 − n.
fn give_drop(job: &mut Job, kind: ElementKind, data: &DropData) {
    let table = job.machine.as_ref().expect("a machine");
    let density = job.set().air.at_blower(table.kind, job.set().call).density;
    let (airflow, drop) = data.points()[0];
    let standard = drop * (density / Density::STANDARD).powf(1.0 - data.exponent());
    let data = DropData::at(airflow, standard, data.exponent()).expect("sound data");
    let found = job.path.elements.iter_mut().find(|element| element.kind == kind);
    found.expect("the element").drop = Some(data);
}

fn running(job: &Job) -> Running {
    match Answer::of(job).found {
        Ok(running) => *running,
        Err(reason) => panic!("it should run: {reason:?}"),
    }
}

/// TESP, table entry, and the airflow that table A gives at that entry.
fn check(job: &Job, tesp: f64, entry: f64) -> Running {
    let answer = Answer::of(job);
    assert!((answer.blower().density_ratio - 1.0).abs() < 1e-15, "r is one");
    let running = running(job);
    let (got, at) = (running.now.tesp.in_wc(), running.now.entry.in_wc());
    assert!((got - tesp).abs() < SAME, "TESP is {got}, not {tesp}");
    assert!((at - entry).abs() < SAME, "the table is entered at {at}, not {entry}");
    let expected = curve_a().at(in_wc(entry)).expect("on the curve").airflow.cfm();
    assert!((running.now.airflow.cfm() - expected).abs() < 1e-5, "{} cfm, not {expected}", running.now.airflow.cfm());
    running
}

fn with_filter() -> Basis {
    Basis { filter: PartInTest::Included, ..Basis::default() }
}

fn handler_basis() -> Basis {
    Basis { filter: PartInTest::Included, coil: CoilInTest::Dry, heater: PartInTest::Included, ..Basis::default() }
}

fn furnace(basis: Basis) -> Job {
    job_for(machine(EquipmentKind::Furnace, basis))
}

fn air_handler() -> Job {
    job_for(machine(EquipmentKind::DrawThroughAirHandler, handler_basis()))
}

// The eight cases

#[test]
fn case_1_a_furnace_read_after_its_filter_and_before_its_coil() {
    let mut job = furnace(Basis::default());
    read_ports(&mut job, -0.30, 0.40);
    let running = check(&job, 0.70, 0.70);
    assert_eq!(running.standing.words(), ("published", "measured"));
    assert_eq!(running.sum.assumptions, []);
}

#[test]
fn case_2_the_return_port_before_an_outside_filter_adds_the_filter() {
    for exponent in [1.0, 1.2, SQUARE_LAW] {
        let mut job = furnace(Basis::default());
        move_port(&mut job, RETURN_PORT, ElementKind::ReturnDuct);
        give_drop(&mut job, ElementKind::Filter, &dropping(0.18, 0.70, exponent));
        read_ports(&mut job, -0.12, 0.40);
        let running = check(&job, 0.70, 0.70);
        assert_eq!(running.sum.assumptions, [Assumption::ByData(ElementKind::Filter)]);
        assert_eq!(running.standing.path, PathStanding::Assumed);
    }
}

#[test]
fn case_3_the_supply_port_after_an_outside_coil_adds_the_coil() {
    for exponent in [1.0, 1.8, SQUARE_LAW] {
        let mut job = furnace(Basis::default());
        move_port(&mut job, SUPPLY_PORT, ElementKind::Coil);
        give_drop(&mut job, ElementKind::Coil, &dropping(0.22, 0.70, exponent));
        read_ports(&mut job, -0.30, 0.18);
        let running = check(&job, 0.70, 0.70);
        assert_eq!(running.sum.assumptions, [Assumption::ByData(ElementKind::Coil)]);
    }
}

#[test]
fn case_4_a_port_after_a_filter_that_the_table_has_takes_the_filter_off() {
    let mut job = furnace(with_filter());
    move_port(&mut job, RETURN_PORT, ElementKind::Filter);
    give_drop(&mut job, ElementKind::Filter, &dropping(0.15, 0.52, 1.2));
    read_ports(&mut job, -0.27, 0.40);
    check(&job, 0.52, 0.52);
}

#[test]
fn case_5_an_air_handler_read_outside_its_cabinet() {
    let mut job = air_handler();
    read_ports(&mut job, -0.12, 0.25);
    let running = check(&job, 0.37, 0.37);
    assert_eq!(running.sum.assumptions, []);
}

#[test]
fn case_6_a_port_between_coil_and_blower_takes_coil_and_filter_off() {
    let mut job = air_handler();
    move_port(&mut job, RETURN_PORT, ElementKind::Coil);
    give_drop(&mut job, ElementKind::Coil, &dropping(0.28, 0.37, 1.8));
    give_drop(&mut job, ElementKind::Filter, &dropping(0.15, 0.37, 1.2));
    read_ports(&mut job, -0.55, 0.25);
    check(&job, 0.37, 0.37);
}

#[test]
fn case_7_a_wet_coil_on_a_dry_table_raises_the_entry_and_leaves_tesp() {
    let mut table = machine(EquipmentKind::DrawThroughAirHandler, handler_basis());
    table.corrections.wet_coil = Some(dropping(0.06, 0.43, 1.8));
    let mut job = job_for(table);
    job.sets[0].coil = CoilState::Wet;
    read_ports(&mut job, -0.12, 0.25);
    check(&job, 0.37, 0.43);
}

#[test]
fn case_7_turned_round_a_dry_coil_on_a_wet_table_lowers_the_entry() {
    let basis = Basis { coil: CoilInTest::Wet, ..handler_basis() };
    let mut table = machine(EquipmentKind::DrawThroughAirHandler, basis);
    table.corrections.wet_coil = Some(dropping(0.06, 0.31, 1.8));
    let mut job = job_for(table);
    read_ports(&mut job, -0.12, 0.25);
    check(&job, 0.37, 0.31);
}

/// The slot is empty and a filter stands in the house's return grille, by taking the part out or by having it elsewhere.
fn filter_grille_jobs(as_tested: Option<DropData>) -> [Job; 2] {
    let mut table = machine(EquipmentKind::DrawThroughAirHandler, handler_basis());
    table.corrections.filter_as_tested = as_tested;
    let mut taken_out = job_for(table);
    let slot = id_of(&taken_out, ElementKind::Filter);
    let mut elsewhere = taken_out.clone();
    taken_out.sets[0].parts_out = vec![slot];
    elsewhere.path.elements.retain(|element| element.id != slot);
    let grille = Element::new(ElementId(90), ElementKind::Filter, Whereabouts::House);
    elsewhere.path.elements.insert(1, grille.clone());
    taken_out.path.elements.insert(1, grille);
    for job in [&mut taken_out, &mut elsewhere] {
        read_ports(job, -0.27, 0.25);
    }
    [taken_out, elsewhere]
}

#[test]
fn case_8_an_empty_slot_on_a_table_with_filter_lowers_the_entry() {
    for job in filter_grille_jobs(Some(dropping(0.10, 0.42, 1.2))) {
        check(&job, 0.52, 0.42);
    }
}

#[test]
fn case_8_without_the_drop_as_tested_the_entry_stays_on_the_low_side_and_says_so() {
    for job in filter_grille_jobs(None) {
        let running = check(&job, 0.52, 0.52);
        assert_eq!(running.sum.assumptions, [Assumption::AsTestedUnknown(ElementKind::Filter)]);
        assert_eq!(running.standing.path, PathStanding::Assumed);
    }
}

// Mistakes that would show

#[test]
fn a_part_between_port_and_plane_without_data_is_named_never_dropped_in_silence() {
    let mut outside = furnace(Basis::default());
    move_port(&mut outside, RETURN_PORT, ElementKind::ReturnDuct);
    read_ports(&mut outside, -0.12, 0.40);
    assert_eq!(check(&outside, 0.52, 0.52).sum.assumptions, [Assumption::OutsideDropUnknown(ElementKind::Filter)]);
    let mut inside = furnace(with_filter());
    move_port(&mut inside, RETURN_PORT, ElementKind::Filter);
    read_ports(&mut inside, -0.27, 0.40);
    assert_eq!(check(&inside, 0.67, 0.67).sum.assumptions, [Assumption::InsideDropUnknown(ElementKind::Filter)]);
}

#[test]
fn each_side_keeps_its_own_reading() {
    let mut job = furnace(Basis::default());
    read_ports(&mut job, -0.52, 0.31);
    let running = check(&job, 0.83, 0.83);
    assert!((running.return_side.expect("two ports").in_wc() - 0.52).abs() < SAME);
    assert!((running.supply_side.expect("two ports").in_wc() - 0.31).abs() < SAME);
}

#[test]
fn a_part_by_data_counts_on_the_side_where_it_stands() {
    let mut before = furnace(Basis::default());
    move_port(&mut before, RETURN_PORT, ElementKind::ReturnDuct);
    give_drop(&mut before, ElementKind::Filter, &dropping(0.18, 0.70, 1.2));
    read_ports(&mut before, -0.12, 0.40);
    let running = check(&before, 0.70, 0.70);
    assert!((running.return_side.expect("two ports").in_wc() - 0.30).abs() < SAME);
    assert!((running.supply_side.expect("two ports").in_wc() - 0.40).abs() < SAME);
    let mut after = furnace(Basis::default());
    move_port(&mut after, SUPPLY_PORT, ElementKind::Coil);
    give_drop(&mut after, ElementKind::Coil, &dropping(0.22, 0.70, 1.8));
    read_ports(&mut after, -0.30, 0.18);
    let running = check(&after, 0.70, 0.70);
    assert!((running.return_side.expect("two ports").in_wc() - 0.30).abs() < SAME);
    assert!((running.supply_side.expect("two ports").in_wc() - 0.40).abs() < SAME);
}

#[test]
fn a_heater_that_the_table_has_not_is_added_between_blower_and_port() {
    let mut table =
        machine(EquipmentKind::DrawThroughAirHandler, Basis { heater: PartInTest::Without, ..handler_basis() });
    table.corrections.heater = Some(dropping(0.05, 0.42, SQUARE_LAW));
    let mut job = job_for(table);
    move_port(&mut job, SUPPLY_PORT, ElementKind::Heater);
    read_ports(&mut job, -0.12, 0.25);
    let running = check(&job, 0.42, 0.42);
    assert!((running.supply_side.expect("two ports").in_wc() - 0.30).abs() < SAME);
}

#[test]
fn swapped_ports_wait_for_a_persons_word() {
    let mut job = furnace(Basis::default());
    read_ports(&mut job, 0.40, -0.30);
    assert_eq!(Answer::of(&job).why_not(), Some(&NotRunning::SignInDoubt));
    job.sets[0].signs_confirmed = true;
    assert!(matches!(Answer::of(&job).why_not(), Some(NotRunning::NoRise(tesp)) if (tesp.in_wc() + 0.70).abs() < SAME));
}

#[test]
fn a_plus_at_the_return_is_a_question_until_it_is_confirmed() {
    let mut job = furnace(Basis::default());
    read_ports(&mut job, 0.05, 0.60);
    assert_eq!(Answer::of(&job).why_not(), Some(&NotRunning::SignInDoubt));
    job.sets[0].signs_confirmed = true;
    check(&job, 0.55, 0.55);
}

#[test]
fn a_reading_in_pascals_is_the_same_reading() {
    let mut inches = furnace(Basis::default());
    read_ports(&mut inches, -0.30, 0.40);
    let mut pascals = furnace(Basis::default());
    let typed = |words: &str| text::signed_pressure(words, UnitSystem::InchPound).expect("a pressure").0;
    read(&mut pascals, ReadAt::Port(RETURN_PORT), typed("−74.726673 Pa"));
    read(&mut pascals, ReadAt::Port(SUPPLY_PORT), typed("99.635564 Pa"));
    let (one, other) = (running(&inches).now, running(&pascals).now);
    assert!((one.tesp - other.tesp).in_wc().abs() < 1e-9);
    assert!((one.airflow - other.airflow).cfm().abs() < 1e-5);
}

/// A job in air that is `ratio` times as dense as the table's.
fn in_thin_air(ratio: f64) -> Job {
    let mut job = furnace(Basis::default());
    let table = job.machine.as_mut().expect("a machine");
    table.basis.density = table.basis.density.map(|density| density / ratio);
    job
}

#[test]
fn in_thin_air_a_half_inch_enters_the_table_as_six_tenths() {
    let mut job = in_thin_air(0.83);
    read_ports(&mut job, -0.20, 0.30);
    let thin = running(&job).now;
    assert!((thin.tesp.in_wc() - 0.50).abs() < SAME, "what was read stays");
    assert!((thin.entry.in_wc() - 0.50 / 0.83).abs() < SAME);
    assert_eq!(format!("{:.2}", thin.entry.in_wc()), "0.60");
    let mut standard = furnace(Basis::default());
    read_ports(&mut standard, -0.20, 0.30);
    assert!(thin.airflow < running(&standard).now.airflow, "a larger entry is a smaller airflow");
}

#[test]
fn at_five_thousand_feet_a_table_in_standard_air_is_entered_higher() {
    let mut job = furnace(Basis::default());
    job.machine.as_mut().expect("a machine").basis.density = None;
    job.sets[0].air = AirConditions { altitude: Altitude::from_ft(5000.0), ..AirConditions::default() };
    read_ports(&mut job, -0.20, 0.30);
    let answer = Answer::of(&job);
    // Standard atmosphere 0.832052 of sea level (check air.ratio_5000ft), times air at 70 °F and 50 % against 0.075 lb/ft³.
    assert!((0.81..0.84).contains(&answer.blower().density_ratio), "r is {}", answer.blower().density_ratio);
    let entry = running(&job).now.entry.in_wc();
    assert!((entry - 0.50 / answer.blower().density_ratio).abs() < SAME);
    assert!((0.595..0.615).contains(&entry), "0.50 enters as {entry}");
}

#[test]
fn a_total_alone_gives_what_two_ports_give() {
    let mut ports = in_thin_air(0.9);
    let mut total = ports.clone();
    read_ports(&mut ports, -0.37, 0.28);
    read(&mut total, ReadAt::Total, in_wc(0.65));
    let (ports, total) = (Answer::of(&ports), Answer::of(&total));
    let (one, other) = (ports.point().expect("runs"), total.point().expect("runs"));
    assert!((one.now.tesp - other.now.tesp).in_wc().abs() < 1e-12);
    assert!((one.now.airflow - other.now.airflow).cfm().abs() < SAME);
    assert_eq!(one.standing, other.standing);
    assert_eq!((other.return_side, other.supply_side), (None, None), "one number says nothing of the sides");
}

#[test]
fn looks_are_averaged_before_they_are_used() {
    let mut job = furnace(Basis::default());
    let looks = |values: [f64; 3]| values.map(in_wc).to_vec();
    job.sets[0].readings = vec![
        Reading { at: ReadAt::Port(RETURN_PORT), looks: looks([-0.28, -0.30, -0.32]) },
        Reading { at: ReadAt::Port(SUPPLY_PORT), looks: looks([0.38, 0.40, 0.42]) },
    ];
    check(&job, 0.70, 0.70);
}

// Every shipped machine, every tap

/// A job on a shipped machine with one tap in use.
fn shipped_job(table: &BlowerTable, tap: &str) -> Job {
    let mut job =
        Job { path: AirPath::for_equipment(table.kind, &table.basis), machine: Some(table.clone()), ..Job::default() };
    job.sets[0].tap = Some(tap.to_owned());
    job
}

/// Reads `entry` on the tap of a job: as a total, or shared between two ports.
fn read_entry(job: &Job, entry: f64, at_ports: bool) -> (Job, f64) {
    let mut job = job.clone();
    let reading = entry * Answer::of(&job).blower().entry_ratio;
    if at_ports {
        read_ports(&mut job, -0.6 * reading, 0.4 * reading);
    } else {
        read(&mut job, ReadAt::Total, in_wc(reading));
    }
    (job, reading)
}

/// Projecting the reading's own tap with no change gives the reading back; gives whether a part by data stood between port and plane.
fn round_trip(job: &Job, reading: f64, place: &str) -> bool {
    let answer = Answer::of(job);
    let running = answer.point().unwrap_or_else(|| panic!("{place}: {:?}", answer.found));
    let tap = answer
        .tap_in_use()
        .and_then(|tap| tap.reached())
        .unwrap_or_else(|| panic!("{place}: no crossing on its own tap"));
    let same = |what: &str, one: f64, other: f64| {
        assert!((one / other - 1.0).abs() < SAME, "{place}: {what} {other} came back as {one}");
    };
    let by_data = running.sum.to_planes.drop_at(running.now.airflow).in_wc();
    same("the reading", running.now.tesp.in_wc() - by_data, reading);
    same("TESP", tap.crossing.tesp.in_wc(), running.now.tesp.in_wc());
    same("airflow", tap.airflow().cfm(), running.now.airflow.cfm());
    same("the entry", tap.crossing.entry.in_wc(), running.now.entry.in_wc());
    by_data > 0.0
}

fn shipped() -> Vec<BlowerTable> {
    let (library, problems) = Library::shipped();
    assert_eq!(problems, []);
    assert!(library.entries.len() >= 12);
    library.entries.into_iter().map(|entry| entry.table).collect()
}

/// Every shipped machine and tap that is a curve, with the curve.
fn every_curve() -> Vec<(BlowerTable, String, TapCurve)> {
    let curves = shipped().into_iter().flat_map(|table| {
        let taps = table.taps.clone();
        taps.into_iter().filter_map(move |tap| match shape_of(&tap, table.motor) {
            TapShape::Curve(curve) => Some((table.clone(), tap.name, *curve)),
            _ => None,
        })
    });
    curves.collect()
}

#[test]
fn the_measured_point_comes_back_on_every_tap_of_every_shipped_machine() {
    let mut trips = std::collections::BTreeMap::new();
    let curves = every_curve();
    assert!(curves.len() >= 40, "{} curves", curves.len());
    for (table, tap, curve) in curves {
        let (first, last, end) = (curve.first().0.in_wc(), curve.last().0.in_wc(), curve.end().0.in_wc());
        let between = (1..=9_u32).map(|step| first + (last - first) * f64::from(step) / 9.7);
        let rows = curve.stretches().iter().map(|stretch| stretch.x1);
        let past = [0.5 * first, 0.5 * (last + end), end - 1e-6 * end];
        let places = between.chain(rows).chain(past).filter(|entry| *entry > 0.01);
        for altitude in [0.0, 5000.0] {
            let mut job = shipped_job(&table, &tap);
            job.sets[0].air.altitude = Altitude::from_ft(altitude);
            for (entry, at_ports) in places.clone().flat_map(|entry| [(entry, false), (entry, true)]) {
                let (job, reading) = read_entry(&job, entry, at_ports);
                let place = format!("{} tap {tap} at {entry:.3} and {altitude} ft", table.name);
                if added_static(&job, curve.first().1 * 1.05) > room_above(&curve, entry) {
                    continue;
                }
                *trips.entry(round_trip(&job, reading, &place)).or_insert(0) += 1;
            }
        }
    }
    assert!(trips[&false] > 1000 && trips[&true] > 100, "{trips:?}");
}

/// Static that a job's parts by data would add to its reading at an airflow, in in. w.c.
fn added_static(job: &Job, airflow: Airflow) -> f64 {
    let table = job.machine.as_ref().expect("a machine");
    let data = [&table.corrections.heater, &table.corrections.wet_coil, &table.corrections.filter_as_tested];
    data.into_iter().flatten().map(|data| data.at_airflow(airflow).in_wc()).sum()
}

/// Static between an entry and the end of a curve.
fn room_above(curve: &TapCurve, entry: f64) -> f64 {
    curve.end().0.in_wc() - entry
}

#[test]
fn past_the_last_row_the_answer_is_extrapolated_and_says_its_bound() {
    for (table, tap, curve) in every_curve() {
        let (job, _) = read_entry(&bare(&table, &tap), 0.5 * (curve.last().0 + curve.end().0).in_wc(), false);
        let answer = Answer::of(&job);
        let place = format!("{} tap {tap}", table.name);
        assert_eq!(
            answer.point().expect("within the extension").standing.curve,
            CurveStanding::Extrapolated,
            "{place}"
        );
        let point = answer.tap_in_use().and_then(|tap| tap.reached()).expect("a crossing");
        assert_eq!(point.below, Some(curve.last().1), "{place}");
        assert!(point.airflow() < curve.last().1, "{place}");
        assert_eq!(point.standing.curve, CurveStanding::Extrapolated, "{place}");
    }
}

#[test]
fn between_the_rows_the_answer_is_published_and_below_the_first_it_is_not() {
    for (table, tap, curve) in every_curve() {
        let job = bare(&table, &tap);
        let place = format!("{} tap {tap}", table.name);
        let middle = 0.5 * (curve.first().0 + curve.last().0).in_wc();
        let (inside, _) = read_entry(&job, middle, false);
        assert_eq!(running(&inside).standing.curve, CurveStanding::Published, "{place}");
        let low = 0.5 * curve.first().0.in_wc();
        if low > 0.0 {
            let (under, _) = read_entry(&job, low, false);
            let under = running(&under);
            assert_eq!(under.standing.curve, CurveStanding::Extrapolated, "{place}");
            assert!((under.now.airflow - curve.first().1).cfm().abs() < 1e-9, "{place}: the first row's airflow");
        }
    }
}

#[test]
fn past_the_extensions_end_there_is_only_the_bound() {
    for (table, tap, curve) in every_curve() {
        let (job, reading) = read_entry(&bare(&table, &tap), 1.01 * curve.end().0.in_wc(), false);
        let answer = Answer::of(&job);
        let Some(&NotRunning::PastTheEnd { below, tesp, end, .. }) = answer.why_not() else {
            panic!("{} tap {tap}: {:?}", table.name, answer.found);
        };
        assert_eq!((below, end), (curve.last().1, curve.end().0));
        assert!((tesp.in_wc() - reading).abs() < SAME);
        assert!(answer.taps().iter().all(|tap| tap.point.is_none()), "no tap can be projected from a bound");
    }
}

/// A shipped machine whose inside parts and air are as they were tested: nothing is added to the readings.
fn bare(table: &BlowerTable, tap: &str) -> Job {
    let mut table = table.clone();
    table.corrections = tapcross::model::facts::blower::Corrections::default();
    table.basis = Basis { coil: CoilInTest::Without, ..table.basis };
    let density = Answer::of(&shipped_job(&table, tap)).blower().air.density;
    table.basis.density = Some(density);
    shipped_job(&table, tap)
}

// Taps that are points

fn single_row_job(reading: f64) -> Job {
    let mut table = machine(EquipmentKind::Furnace, Basis::default());
    table.taps.push(Tap { name: "2".to_owned(), ..tap_of([(0.50, 1000.0, None)]) });
    let mut job = job_for(table);
    job.sets[0].tap = Some("2".to_owned());
    read(&mut job, ReadAt::Total, in_wc(reading));
    job
}

#[test]
fn a_tap_of_one_row_is_a_point_that_holds_for_a_twentieth_and_is_assumed() {
    for reading in [0.46, 0.50, 0.54] {
        let running = running(&single_row_job(reading));
        assert!((running.now.airflow.cfm() - 1000.0).abs() < SAME);
        assert_eq!(running.standing.path, PathStanding::Assumed);
    }
    for reading in [0.44, 0.56] {
        assert!(matches!(Answer::of(&single_row_job(reading)).why_not(), Some(NotRunning::SingleRow(_))), "{reading}");
    }
}

#[test]
fn a_tap_of_one_row_takes_no_projection_from_another_tap() {
    let mut job = single_row_job(0.9);
    job.sets[0].tap = Some("1".to_owned());
    let answer = Answer::of(&job);
    assert!(matches!(answer.taps()[1].point, Some(Err(NoCrossing::SingleRow(_)))), "{:?}", answer.taps()[1].point);
}

#[test]
fn a_range_is_a_published_curve_over_its_range() {
    let range = TapData::Range { airflow: Airflow::from_cfm(1200.0), from: in_wc(0.1), to: in_wc(0.8) };
    let mut table = machine(EquipmentKind::Furnace, Basis::default());
    table.motor = MotorFamily::ConstantAirflow;
    table.taps = vec![Tap { name: "1".to_owned(), data: range }];
    let mut job = job_for(table);
    read(&mut job, ReadAt::Total, in_wc(0.61));
    let inside = running(&job);
    assert_eq!((inside.now.airflow.cfm(), inside.standing.curve), (1200.0, CurveStanding::Published));
}
