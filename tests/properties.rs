//! What must hold for every table, path and job, tried on random ones.

#[path = "properties/ducts.rs"]
mod ducts;
#[path = "properties/garbage.rs"]
mod garbage;
#[path = "properties/tables.rs"]
mod tables;

use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::RngSeed;
use tables::{Points, curve_of, falling, family, load_of, path_of, path_parts, rippled, tap_of};
use tapcross::files::job_file;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::AirPath;
use tapcross::model::facts::blower::{Basis, BlowerTable, EquipmentKind, MotorFamily};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::model::facts::standing::CurveStanding;
use tapcross::model::laws::system_curve::SystemLoad;
use tapcross::model::laws::tap_curve::{TapCurve, TapShape};
use tapcross::model::solution::operating_point::{Crossing, NoCrossing, crossing};
use tapcross::model::verdicts::duct_allowance::DuctAllowance;
use tapcross::model::verdicts::needs::{Need, need};
use tapcross::model::{search, wording};
use tapcross::numerics::pchip::Pchip;
use tapcross::report::json::{self, Report};
use tapcross::units::{
    Airflow, Altitude, Barometer, Capacity, Density, HeatRate, Pressure, Temperature, UnitSystem, show, text,
};

/// The same random cases at every run, so that a run does not fail by chance; `PROPTEST_RNG_SEED` and `PROPTEST_CASES` try others and more.
///
/// Found failures become tests with a name, not files beside the tests.
fn cases(count: u32) -> ProptestConfig {
    let said = |name: &str| std::env::var(name).ok();
    let cases = said("PROPTEST_CASES").and_then(|text| text.parse().ok()).unwrap_or(count);
    let seed = said("PROPTEST_RNG_SEED").and_then(|text| text.parse().ok()).unwrap_or(20_240_501);
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(seed),
        failure_persistence: None,
        max_global_rejects: 50 * cases,
        ..ProptestConfig::default()
    }
}

/// What the path asks for at the airflow of a table ESP, less that ESP.
fn residual(curve: &TapCurve, load: &SystemLoad, p: f64) -> f64 {
    load.entry(Airflow::from_cfm(curve.value_and_slope(p).0)).in_wc() - p
}

/// Places from 0 to the end of a curve.
fn places(curve: &TapCurve, count: u32) -> impl Iterator<Item = f64> + use<> {
    let end = curve.end().0.in_wc();
    (0..=count).map(move |step| end * f64::from(step) / f64::from(count))
}

/// The largest rise of airflow with static that a curve shows, in cfm.
fn own_rise(curve: &TapCurve) -> f64 {
    let mut least = f64::INFINITY;
    let rises = places(curve, 2000).map(|p| {
        let cfm = curve.value_and_slope(p).0;
        least = least.min(cfm);
        cfm - least
    });
    rises.fold(0.0, f64::max)
}

fn relative(one: f64, other: f64) -> f64 {
    (one - other).abs() / one.abs().max(other.abs()).max(1e-300)
}

/// A job for one table, read as one total.
fn job_of(points: &Points, motor: MotorFamily, reading: f64) -> Job {
    let table = BlowerTable { motor, taps: vec![tap_of(points)], ..BlowerTable::default() };
    let mut job = Job {
        path: AirPath::for_equipment(EquipmentKind::Furnace, &Basis::default()),
        machine: Some(table),
        ..Job::default()
    };
    job.sets[0].tap = Some("1".to_owned());
    job.sets[0].readings = vec![Reading { at: ReadAt::Total, looks: vec![Pressure::from_in_wc(reading)] }];
    job
}

proptest! {
    #![proptest_config(cases(512))]

    #[test]
    fn a_crossing_exists_if_and_only_if_the_residual_changes_sign(points in falling(), motor in family(), parts in path_parts(), r in 0.6..1.2_f64) {
        let (curve, load) = (curve_of(&points, motor), load_of(&parts, 1.0, r));
        let end = curve.end().0;
        let at_end = residual(&curve, &load, end.in_wc());
        prop_assert!(residual(&curve, &load, 0.0) > 0.0, "a path drops something at any airflow");
        match crossing(&curve, &load, None) {
            Ok(_) => prop_assert!(at_end <= 1e-12, "{at_end}"),
            Err(NoCrossing::PastTheEnd { below, end: said }) => {
                prop_assert!(at_end > -1e-12, "{at_end}");
                prop_assert_eq!((below, said), (curve.last().1, end));
            }
            Err(other) => prop_assert!(false, "{other:?}"),
        }
    }

    #[test]
    fn the_crossing_of_a_falling_table_is_the_only_one(points in falling(), motor in family(), parts in path_parts()) {
        let (curve, load) = (curve_of(&points, motor), load_of(&parts, 1.0, 1.0));
        let signs: Vec<bool> = places(&curve, 400).map(|p| residual(&curve, &load, p) > 0.0).collect();
        let changes = signs.windows(2).filter(|pair| pair[0] != pair[1]).count();
        prop_assert!(changes <= 1, "{changes} changes of sign");
        if let Ok(found) = crossing(&curve, &load, None) {
            let before = signs.iter().filter(|positive| **positive).count();
            let step = curve.end().0.in_wc() / 400.0;
            let stretch = (before as f64 - 1.0) * step - 1e-9..=(before as f64) * step + 1e-9;
            prop_assert!(stretch.contains(&found.entry.in_wc()), "{} is not in {stretch:?}", found.entry.in_wc());
        }
    }

    #[test]
    fn wherever_its_search_begins_a_crossing_is_the_same(points in falling(), motor in family(), parts in path_parts(), r in 0.6..1.2_f64, share in -0.1..1.1_f64) {
        let (curve, load) = (curve_of(&points, motor), load_of(&parts, 1.0, r));
        let near = curve.end().0 * share;
        match (crossing(&curve, &load, None), crossing(&curve, &load, Some(near))) {
            (Ok(one), Ok(other)) => {
                prop_assert!(relative(one.entry.in_wc(), other.entry.in_wc()) < 1e-11, "{one:?}, {other:?} from {near:?}");
                prop_assert!(relative(one.airflow.cfm(), other.airflow.cfm()) < 1e-11, "{one:?}, {other:?} from {near:?}");
            }
            (one, other) => prop_assert_eq!(one, other),
        }
    }

    #[test]
    fn a_crossing_lies_on_both_curves(points in rippled(), motor in family(), parts in path_parts(), r in 0.6..1.2_f64) {
        let (curve, load) = (curve_of(&points, motor), load_of(&parts, 1.0, r));
        if let Ok(found) = crossing(&curve, &load, None) {
            let on_tap = curve.at(found.entry).expect("within the curve");
            prop_assert!(relative(on_tap.airflow.cfm(), found.airflow.cfm()) < 1e-12);
            prop_assert_eq!(on_tap.standing, found.standing);
            prop_assert!(relative(path_of(&parts, 1.0).drop_at(found.airflow).in_wc(), found.tesp.in_wc()) < 1e-12);
            prop_assert!(relative(found.tesp.in_wc() / r, found.entry.in_wc()) < 1e-10, "{found:?}");
        }
    }

    #[test]
    fn more_resistance_never_moves_more_air(points in falling(), motor in family(), parts in path_parts(), factor in 1.0..4.0_f64) {
        let curve = curve_of(&points, motor);
        let easy = crossing(&curve, &load_of(&parts, 1.0, 1.0), None);
        let hard = crossing(&curve, &load_of(&parts, factor, 1.0), None);
        match (easy, hard) {
            (Ok(easy), Ok(hard)) => {
                prop_assert!(hard.airflow.cfm() <= easy.airflow.cfm() * (1.0 + 1e-12));
                prop_assert!(hard.entry.in_wc() >= easy.entry.in_wc() * (1.0 - 1e-12));
            }
            (Err(_), Ok(hard)) => prop_assert!(false, "more resistance found a crossing: {hard:?}"),
            _ => {}
        }
    }

    #[test]
    fn more_resistance_moves_more_air_by_no_more_than_the_tables_own_rise(points in rippled(), parts in path_parts(), factor in 1.0..4.0_f64) {
        let curve = curve_of(&points, MotorFamily::ConstantAirflow);
        let easy = crossing(&curve, &load_of(&parts, 1.0, 1.0), None);
        let hard = crossing(&curve, &load_of(&parts, factor, 1.0), None);
        if let (Ok(easy), Ok(hard)) = (easy, hard) {
            let gain = hard.airflow.cfm() - easy.airflow.cfm();
            prop_assert!(gain <= own_rise(&curve) * 1.001 + 0.01, "{gain} more, the table rises by {}", own_rise(&curve));
        }
    }

    #[test]
    fn a_curve_is_monotone_between_rows_and_keeps_within_its_neighbours(points in rippled()) {
        let curve = Pchip::through(&points).expect("sound points");
        for pair in points.windows(2) {
            let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
            let inside: Vec<f64> = (0..=50_u32).map(|step| pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(step) / 50.0)
                .map(|p| curve.value(p.min(pair[1].0)).expect("within the rows")).collect();
            let slack = 1e-12 * high;
            prop_assert!(inside.iter().all(|cfm| (low - slack..=high + slack).contains(cfm)), "{inside:?} between {low} and {high}");
            let rises = pair[1].1 > pair[0].1;
            let turns = inside.windows(2).any(|two| if rises { two[1] < two[0] - slack } else { two[1] > two[0] + slack });
            prop_assert!(!turns, "it turns between {pair:?}");
        }
    }

    #[test]
    fn a_tap_curve_is_exact_at_its_rows_and_continuous_past_them(points in rippled(), motor in family()) {
        let curve = curve_of(&points, motor);
        for &(esp, cfm) in &points {
            let point = curve.at(Pressure::from_in_wc(esp)).expect("a row");
            prop_assert!(relative(point.airflow.cfm(), cfm) < 1e-12);
            prop_assert_eq!(point.standing, CurveStanding::Published);
        }
        let (last, airflow) = curve.last();
        let just_past = curve.value_and_slope(last.in_wc() * (1.0 + 1e-12)).0;
        prop_assert!(relative(just_past, airflow.cfm()) < 1e-9);
        let (end, at_end) = curve.end();
        prop_assert!(end > last && at_end < airflow && at_end >= Airflow::ZERO);
    }

    #[test]
    fn the_highest_static_for_an_airflow_is_the_curves_inverse(points in rippled(), motor in family(), share in 0.02..1.3_f64) {
        let curve = curve_of(&points, motor);
        let wanted = Airflow::from_cfm(points.iter().map(|point| point.1).fold(0.0, f64::max) * share);
        let most = places(&curve, 3000).map(|p| curve.value_and_slope(p).0).fold(0.0, f64::max);
        let Some((esp, _)) = curve.highest_esp_for(wanted) else {
            prop_assert!(most < wanted.cfm() * (1.0 + 1e-9), "it moves {most} but never {}", wanted.cfm());
            return Ok(());
        };
        let there = curve.at(esp).expect("on the curve").airflow;
        let end = curve.end().0;
        if esp < end {
            prop_assert!(relative(there.cfm(), wanted.cfm()) < 1e-9, "{} is not {}", there.cfm(), wanted.cfm());
            let above = places(&curve, 3000).filter(|p| *p > esp.in_wc() * (1.0 + 1e-9));
            for p in above {
                let cfm = curve.value_and_slope(p).0;
                prop_assert!(cfm < wanted.cfm() * (1.0 + 1e-9), "at {p} it still moves {cfm}");
            }
        } else {
            prop_assert!(there.cfm() >= wanted.cfm() * (1.0 - 1e-9));
        }
    }

    #[test]
    fn a_tap_that_needs_nothing_reaches_the_target_and_one_that_needs_ease_does_not(
        points in falling(), motor in family(), parts in path_parts(), r in 0.7..1.1_f64, share in 0.3..1.1_f64,
    ) {
        let (curve, load) = (curve_of(&points, motor), load_of(&parts, 1.0, r));
        let target = Airflow::from_cfm(points[0].1 * share);
        let reached = crossing(&curve, &load, None).map(|found: Crossing| found.airflow.cfm()).ok();
        let at_end = curve.end().1;
        let shape = TapShape::Curve(Box::new(curve));
        match need(&shape, &load, target, Pressure::from_in_wc(0.5), None) {
            // Where the extension ends above the target the crossing may lie past it, and only the bound is known: still at least the target.
            Need::None { .. } => prop_assert!(reached.map_or(at_end >= target, |cfm| cfm >= target.cfm() * (1.0 - 1e-9)), "{reached:?}"),
            Need::Ease(ease) => {
                prop_assert!(reached.is_none_or(|cfm| cfm < target.cfm() * (1.0 + 1e-9)), "{reached:?}");
                prop_assert!(relative(ease.remove.in_wc(), (ease.path - ease.highest).in_wc()) < 1e-9);
                prop_assert!(ease.remove > Pressure::ZERO && ease.share() > 0.0);
            }
            Need::NeverEnough { most } => prop_assert!(most < target),
            other => prop_assert!(false, "{other:?}"),
        }
    }

    #[test]
    fn taking_out_what_is_needed_just_reaches_the_target(points in falling(), parts in path_parts(), share in 0.4..1.0_f64) {
        let (curve, load) = (curve_of(&points, MotorFamily::PermanentSplitCapacitor), load_of(&parts, 1.0, 1.0));
        let target = Airflow::from_cfm(points[0].1 * share);
        let shape = TapShape::Curve(Box::new(curve.clone()));
        if let Need::Ease(ease) = need(&shape, &load, target, Pressure::from_in_wc(0.5), None)
            && ease.highest.in_wc() > 0.01
            && ease.highest < curve.end().0
        {
            let eased = crossing(&curve, &load_of(&parts, 1.0 - ease.share(), 1.0), None).expect("the target is on the curve");
            prop_assert!(relative(eased.airflow.cfm(), target.cfm()) < 1e-8, "{} for {}", eased.airflow.cfm(), target.cfm());
        }
    }

    #[test]
    fn airflow_and_static_have_no_scale_of_their_own(points in falling(), motor in family(), parts in path_parts(), k in 0.2..5.0_f64, j in 0.2..5.0_f64) {
        let plain = crossing(&curve_of(&points, motor), &load_of(&parts, 1.0, 1.0), None);
        let scaled: Points = points.iter().map(|(esp, cfm)| (esp * j, cfm * k)).collect();
        let mut load = SystemLoad { entry_ratio: 1.0, ..SystemLoad::default() };
        for &(drop, exponent) in &parts {
            let law = tapcross::model::laws::system_curve::PowerLaw::through(Airflow::from_cfm(1000.0 * k), Pressure::from_in_wc(drop * j), exponent);
            load.external.add_law(law);
        }
        match (plain, crossing(&curve_of(&scaled, motor), &load, None)) {
            (Ok(plain), Ok(large)) => {
                prop_assert!(relative(plain.airflow.cfm() * k, large.airflow.cfm()) < 1e-9);
                prop_assert!(relative(plain.tesp.in_wc() * j, large.tesp.in_wc()) < 1e-9);
            }
            (Err(_), Err(_)) => {}
            (plain, large) => prop_assert!(false, "{plain:?} became {large:?}"),
        }
    }

    #[test]
    fn a_reading_enters_the_table_divided_by_the_ratio_of_its_motors_law(points in falling(), motor in family(), reading in 0.05..1.0_f64, altitude in 0.0..9000.0_f64, table in 0.055..0.08_f64) {
        let mut job = job_of(&points, motor, reading);
        job.sets[0].air.altitude = Altitude::from_ft(altitude);
        if let Some(machine) = &mut job.machine {
            machine.basis.density = Some(Density::from_lb_ft3(table));
        }
        let answer = Answer::of(&job);
        prop_assert!(relative(answer.blower().density_ratio, answer.blower().air.density.lb_ft3() / table) < 1e-12);
        if let Some(running) = answer.point() {
            prop_assert!(relative(running.now.entry.in_wc() * answer.blower().entry_ratio, reading) < 1e-9);
            prop_assert!(relative(running.now.tesp.in_wc(), reading) < 1e-12);
        }
    }

    #[test]
    fn thinner_air_lowers_the_constant_speed_airflow(points in falling(), reading in 0.05..1.0_f64, low in 0.0..4000.0_f64, more in 500.0..5000.0_f64) {
        let at = |altitude: f64| {
            let mut job = job_of(&points, MotorFamily::PermanentSplitCapacitor, reading);
            job.sets[0].air.altitude = Altitude::from_ft(altitude);
            Answer::of(&job).point().map(|running| running.now.airflow.cfm())
        };
        if let (Some(low_down), Some(high_up)) = (at(low), at(low + more)) {
            prop_assert!(high_up <= low_down * (1.0 + 1e-12));
        }
    }

    #[test]
    fn projecting_the_readings_own_tap_gives_the_reading_back(points in rippled(), motor in family(), reading in 0.03..1.2_f64) {
        let answer = Answer::of(&job_of(&points, motor, reading));
        if let Some(running) = answer.point() {
            let own = answer.tap_in_use().and_then(|tap| tap.reached()).expect("its own tap crosses");
            // Where a table rises with static a path may meet it more than once: the measured point is then one of the crossings.
            let load = &running.system.load;
            let meets = (load.entry(running.now.airflow) - running.now.entry).abs();
            prop_assert!(meets.in_wc() < 1e-9);
            prop_assert!(relative(own.crossing.tesp.in_wc(), reading) < 1e-9, "{} for {reading}", own.crossing.tesp.in_wc());
            prop_assert!(relative(own.airflow().cfm(), running.now.airflow.cfm()) < 1e-9);
        }
    }
}

/// A shown text, typed again and shown again, is the same quantity.
fn check_text<T: Copy + PartialEq + std::fmt::Debug, E: std::fmt::Debug>(
    value: T,
    units: UnitSystem,
    shown: impl Fn(T, UnitSystem) -> String,
    typed: impl Fn(&str, UnitSystem) -> Result<T, E>,
    number: impl Fn(T) -> f64,
    step: f64,
) -> Result<(), TestCaseError> {
    let read = |text: &str| {
        typed(text, units).map_err(|error| TestCaseError::fail(format!("\"{text}\" in {units:?}: {error:?}")))
    };
    let first = shown(value, units);
    let again = read(&first)?;
    let second = shown(again, units);
    prop_assert_eq!(read(&second)?, again, "{} became {} in {:?}", first, second, units);
    prop_assert!(
        (number(value) - number(again)).abs() <= step,
        "{value:?} was shown as {first} in {units:?} and read as {again:?}"
    );
    Ok(())
}

fn unit_system() -> impl Strategy<Value = UnitSystem> {
    proptest::sample::select(UnitSystem::ALL.to_vec())
}

proptest! {
    #![proptest_config(cases(512))]

    #[test]
    fn units_of_airflow_and_pressure_turn_back(value in -1e5..1e5_f64, units in unit_system()) {
        let airflow = Airflow::from_cfm(value);
        prop_assert!(relative(units.airflow_of(units.airflow_number(airflow)).cfm(), value) < 1e-14);
        let pressure = Pressure::from_in_wc(value);
        prop_assert!(relative(units.pressure_of(units.pressure_number(pressure)).in_wc(), value) < 1e-14);
        prop_assert!(relative(Temperature::from_c(Temperature::from_f(value).c()).f(), value) < 1e-9);
        prop_assert!(relative(HeatRate::from_watts(HeatRate::from_btuh(value).watts()).btuh(), value) < 1e-14);
        prop_assert!(relative(Altitude::from_m(Altitude::from_ft(value).m()).ft(), value) < 1e-14);
        prop_assert!(relative(Barometer::from_in_hg(Barometer::from_kpa(value).in_hg()).kpa(), value) < 1e-14);
        prop_assert!(relative(Density::from_kg_m3(Density::from_lb_ft3(value).kg_m3()).lb_ft3(), value) < 1e-14);
    }

    #[test]
    fn a_cubic_metre_an_hour_is_a_litre_a_second_by_three_point_six(value in 0.0..1e5_f64) {
        let airflow = Airflow::from_cfm(value);
        let (litres, metres) = (UnitSystem::SiLitres.airflow_number(airflow), UnitSystem::SiCubicMetres.airflow_number(airflow));
        prop_assert!(relative(litres * 3.6, metres) < 1e-14);
        // 1 m³/h = 0.5885777 cfm (exact foot: 1 / (60 × 0.3048³)).
        prop_assert!(relative(metres / (60.0 * 0.3048_f64.powi(3)), value) < 1e-9);
    }

    #[test]
    fn a_pressure_shown_is_a_pressure_typed(value in -5.0..5.0_f64, units in unit_system()) {
        check_text(Pressure::from_in_wc(value), units, show::pressure_exact, text::pressure, Pressure::in_wc, 0.000_3)?;
        check_text(Pressure::from_in_wc(value), units, show::pressure, text::pressure, Pressure::in_wc, 0.005_1)?;
    }

    #[test]
    fn an_airflow_shown_is_an_airflow_typed(value in 1.0..20_000.0_f64, units in unit_system()) {
        check_text(Airflow::from_cfm(value), units, show::airflow_exact, text::airflow, Airflow::cfm, 0.11)?;
        check_text(Airflow::from_cfm(value), units, show::airflow, text::airflow, Airflow::cfm, 5.5)?;
    }

    #[test]
    fn the_air_shown_is_the_air_typed(f in -40.0..150.0_f64, ft in -1500.0..20_000.0_f64, kpa in 40.0..112.0_f64, units in unit_system()) {
        check_text(Temperature::from_f(f), units, show::temperature_bare, text::temperature, Temperature::f, 0.1)?;
        check_text(Temperature::from_f(f), units, show::temperature, text::temperature, Temperature::f, 0.1)?;
        check_text(Altitude::from_ft(ft), units, show::altitude_bare, text::altitude, Altitude::ft, 1.7)?;
        check_text(Altitude::from_ft(ft), units, show::altitude, text::altitude, Altitude::ft, 1.7)?;
        check_text(Barometer::from_kpa(kpa), units, show::barometer_bare, text::barometer, Barometer::kpa, 0.051)?;
        check_text(Barometer::from_kpa(kpa), units, show::barometer, text::barometer, Barometer::kpa, 0.051)?;
    }

    #[test]
    fn capacity_and_heat_shown_are_those_typed(tons in 0.5..25.0_f64, halves in 1..50_u32, btuh in 1e3..5e5_f64, units in unit_system()) {
        for tons in [tons, f64::from(halves) / 2.0] {
            check_text(Capacity::from_tons(tons), units, show::capacity_bare, text::capacity, Capacity::tons, 0.015)?;
            check_text(Capacity::from_tons(tons), units, show::capacity, text::capacity, Capacity::tons, 0.015)?;
        }
        check_text(HeatRate::from_btuh(btuh), units, show::heat_bare, text::heat_rate, HeatRate::btuh, 171.0)?;
        check_text(HeatRate::from_btuh(btuh), units, show::heat, text::heat_rate, HeatRate::btuh, 171.0)?;
    }

    #[test]
    fn any_text_is_a_number_or_a_sentence(words in "\\PC{0,12}", units in unit_system()) {
        let mut sentences = Vec::new();
        sentences.extend(text::pressure(&words, units).err());
        sentences.extend(text::airflow(&words, units).err());
        sentences.extend(text::temperature(&words, units).err());
        sentences.extend(text::capacity(&words, units).err());
        sentences.extend(text::power(&words).err());
        sentences.extend(text::percent(&words).err());
        prop_assert!(sentences.iter().all(|error| !error.to_string().is_empty()));
        if let Ok(pressure) = text::pressure(&words, units) {
            prop_assert!(pressure.is_finite());
        }
    }

    #[test]
    fn digits_and_signs_in_any_order_never_panic(words in "[-+−0-9.,' a-zA-Z°³/\"½]{0,10}", units in unit_system()) {
        let _ = (text::pressure(&words, units), text::airflow(&words, units), text::altitude(&words, units), text::barometer(&words, units));
        let _ = (text::heat_rate(&words, units), text::capacity(&words, units), text::temperature_rise(&words, units), text::voltage(&words));
    }
}

proptest! {
    #![proptest_config(cases(3000))]

    #[test]
    fn whatever_a_job_holds_it_is_answered_in_words_and_never_panics(job in garbage::job()) {
        let answer = Answer::of(&job);
        for units in UnitSystem::ALL {
            prop_assert!(!wording::verdict(&job, &answer, units).headline.is_empty());
            prop_assert!(answer.findings.iter().all(|finding| !wording::sentence(&job, finding, units).is_empty()));
        }
        let _ = job_file::write(&job);
        prop_assert!(json::one(&Report::of("", &job, &answer, search::to_the_end(&job))).is_ok());
    }

    #[test]
    fn an_answer_to_a_job_that_a_file_may_hold_has_no_number_that_is_none(job in garbage::job()) {
        prop_assume!(job_file::check(&job).is_ok());
        let answer = Answer::of(&job);
        let Some(running) = answer.point() else {
            return Ok(());
        };
        let now = running.now;
        prop_assert!(now.airflow.is_finite() && now.tesp.is_finite() && now.entry.is_finite(), "{now:?}");
        prop_assert!(now.airflow > Airflow::ZERO && now.tesp > Pressure::ZERO, "{now:?}");
        prop_assert!(running.system.spreads.now.is_finite() && running.system.spreads.tesp.is_finite(), "{:?}", running.system.spreads);
        let after = answer.changed.iter().flat_map(|after| &after.system.taps);
        for point in answer.taps().iter().chain(after).filter_map(|tap| tap.reached()) {
            prop_assert!(point.airflow().is_finite() && point.crossing.tesp.is_finite(), "{point:?}");
            prop_assert!(point.spread.airflow.is_finite() && point.spread.gain.is_finite(), "{point:?}");
        }
        if let Some(allowance) = &answer.ducts {
            let reads = allowance.sides.iter().filter_map(|side| side.read.as_ref());
            prop_assert!(allowance.left.is_finite() && reads.clone().all(|read| read.at_allowance.is_finite()), "{allowance:?}");
        }
        for delivered in answer.changed.iter().filter_map(|after| after.system.delivered).chain([running.delivered()]) {
            let each = [delivered.to_rooms, delivered.from_rooms, delivered.bypassed];
            let is_part = |airflow: &Airflow| *airflow >= Airflow::ZERO && *airflow <= delivered.blower * (1.0 + 1e-9);
            prop_assert!(each.iter().all(is_part), "{delivered:?}");
        }
        for units in UnitSystem::ALL {
            let verdict = wording::verdict(&job, &answer, units);
            let sentences = answer.findings.iter().map(|finding| wording::sentence(&job, finding, units));
            let ducts = answer.ducts.iter().flat_map(|allowance| duct_words(allowance, units));
            for words in sentences.chain([verdict.headline, verdict.detail]).chain(ducts) {
                prop_assert!(!words.contains("NaN") && !words.contains('∞') && !words.split_whitespace().any(|word| word.trim_start_matches('−') == "inf"), "{words}");
            }
        }
    }
}

/// Everything that is said of the ducts.
fn duct_words(allowance: &DuctAllowance, units: UnitSystem) -> Vec<String> {
    let sides = allowance.sides.iter().filter_map(|side| wording::ducts::side(allowance, side, units));
    let sides = sides.flat_map(|words| [words.headline, words.detail]);
    let whole = [wording::ducts::parts(allowance, units), wording::ducts::left(allowance, units)];
    sides.chain(whole).chain(wording::ducts::foot(allowance, units)).collect()
}

/// The random jobs must not all stop at the door: some have to run, or the test above says little.
#[test]
fn random_jobs_reach_every_depth() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let strategy = garbage::job();
    let (mut run, mut reach, mut found, mut ducts) = (0, 0, 0, 0);
    for _ in 0..3000 {
        let job = strategy.new_tree(&mut runner).expect("a job").current();
        let answer = Answer::of(&job);
        run += usize::from(answer.point().is_some());
        reach += usize::from(answer.taps().iter().any(|tap| tap.reached().is_some()));
        found += usize::from(!answer.findings.is_empty());
        ducts += usize::from(answer.ducts.is_some());
    }
    assert!(
        run >= 60 && reach >= 60 && found >= 60 && ducts >= 20,
        "of 3000 jobs {run} run, {reach} reach a tap, {found} find something, {ducts} say something of the ducts"
    );
}

/// Tables that random jobs found to slip through to an answer with no number in it.
#[test]
fn a_table_that_cannot_be_as_a_whole_gives_no_answer() {
    type Spoil = (&'static str, fn(&mut BlowerTable));
    let spoiled: [Spoil; 7] = [
        ("a rated maximum that is no number", |table| table.rated_maximum = Some(Pressure::from_in_wc(f64::NAN))),
        ("a rated maximum without end", |table| table.rated_maximum = Some(Pressure::from_in_wc(f64::NEG_INFINITY))),
        ("a capacity that is no number", |table| table.cooling = Some(Capacity::from_tons(f64::NAN))),
        ("a negative capacity", |table| table.cooling = Some(Capacity::from_tons(-3.0))),
        ("no density", |table| table.basis.density = Some(Density::ZERO)),
        ("a density ten times that of air", |table| table.basis.density = Some(Density::from_lb_ft3(0.75))),
        ("next to no airflow", |table| table.taps = vec![tap_of(&[(0.1, 1e-300), (1.0, 5e-301)])]),
    ];
    let answered = spoiled.into_iter().filter(|(_, spoil)| {
        let mut job =
            job_of(&vec![(0.1, 1200.0), (0.5, 1000.0), (0.9, 700.0)], MotorFamily::PermanentSplitCapacitor, 0.5);
        spoil(job.machine.as_mut().expect("a machine"));
        Answer::of(&job).point().is_some()
    });
    assert_eq!(answered.map(|(what, _)| what).collect::<Vec<_>>(), Vec::<&str>::new());
}

/// Swapped drops give a negative exponent, and at low airflow a drop without end.
#[test]
fn a_part_that_drops_less_the_more_air_it_passes_is_refused() {
    let point = |cfm: f64, drop: f64| (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop));
    let swapped = tapcross::model::facts::drop_data::DropData::new(vec![point(800.0, 0.25), point(1600.0, 0.10)], 2.0);
    assert!(swapped.is_err(), "{swapped:?}");
}
