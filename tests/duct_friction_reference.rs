//! Friction of ducts, losses of fittings and viscosity of air against the independent library `fluids`.
//!
//! `tests/data/reference/make_friction.py` wrote the file; the versions stand in it.

use std::time::Instant;

use proptest::prelude::*;
use serde_json::Value;
use tapcross::model::facts::duct::material::Material;
use tapcross::model::facts::duct::run::{Run, Wall};
use tapcross::model::facts::duct::section::Section;
use tapcross::model::laws::duct::air_properties::{DuctAir, reynolds, sutherland_viscosity};
use tapcross::model::laws::duct::fitting::{mitred_elbow, round_bend, sharp_contraction, sharp_enlargement};
use tapcross::model::laws::duct::flexible::compression_factor;
use tapcross::model::laws::duct::friction::friction;
use tapcross::model::laws::duct::parallel::{Resistance, drop_and_slope, in_parallel};
use tapcross::model::laws::duct::size;
use tapcross::model::laws::system_curve::{PowerLaw, SystemCurve};
use tapcross::units::{Airflow, Dimension, Length, Pressure, Temperature};

const FILE: &str = include_str!("data/reference/friction_fluids.json");
/// Agreement asked for, relative.
const SAME: f64 = 1e-9;

fn rows(name: &str) -> Vec<Vec<f64>> {
    let file: Value = serde_json::from_str(FILE).expect("the file is JSON");
    let rows = file[name].as_array().unwrap_or_else(|| panic!("no {name} in the file")).clone();
    let number = |value: &Value| value.as_f64().expect("a number");
    rows.iter().map(|row| row.as_array().expect("a row").iter().map(number).collect()).collect()
}

fn check(what: &str, row: &[f64], ours: f64, theirs: f64) {
    assert!((ours / theirs - 1.0).abs() <= SAME, "{what}: {ours} here, {theirs} by fluids, for {row:?}");
}

#[test]
fn friction_agrees_with_fluids_over_sizes_airflows_and_roughness() {
    let grid = rows("friction");
    assert!(grid.len() > 1500, "{} rows", grid.len());
    assert!(grid.iter().any(|row| row[3] < 2300.0), "some of it is laminar");
    let air = DuctAir::STANDARD;
    for row in grid {
        let &[diameter, cfm, roughness_ft, reynolds_number, factor, drop] = &row[..] else {
            panic!("six columns, not {row:?}");
        };
        let section = Section::round(Dimension::from_in(diameter));
        let roughness = Dimension::from_ft(roughness_ft);
        let airflow = Airflow::from_cfm(cfm);
        let ours = reynolds(Dimension::from_in(diameter), section.velocity(airflow), air);
        check("Reynolds number", &row, ours, reynolds_number);
        check("friction factor", &row, friction(ours, roughness_ft * 12.0 / diameter).factor, factor);
        let run = Run::straight(section, Length::from_ft(100.0), Wall::Stiff(roughness));
        check("drop", &row, run.drop_at(airflow, air).expect("sound").total().in_wc(), drop);
    }
}

#[test]
fn losses_of_fittings_agree_with_fluids() {
    for row in rows("bends") {
        check("bend", &row, round_bend(row[0], row[1], row[2]).expect("sound"), row[3]);
    }
    for row in rows("mitres") {
        check("mitre", &row, mitred_elbow(row[0]).expect("sound"), row[1]);
    }
    for row in rows("contractions") {
        check("contraction", &row, sharp_contraction(row[0]).expect("sound"), row[1]);
    }
    for row in rows("enlargements") {
        check("enlargement", &row, sharp_enlargement(row[0]).expect("sound"), row[1]);
    }
}

#[test]
fn viscosity_agrees_with_fluids_over_house_temperatures() {
    for row in rows("viscosities") {
        check("viscosity", &row, sutherland_viscosity(Temperature::from_c(row[0])).pa_s(), row[1]);
    }
}

/// Best time of one call in nanoseconds, over rounds of many.
fn best_nanoseconds(mut call: impl FnMut(u32) -> f64) -> f64 {
    const ROUNDS: u32 = 5_000;
    let mut once = || {
        let start = Instant::now();
        let sum: f64 = (0..ROUNDS).map(&mut call).sum();
        assert!(sum > 0.0);
        start.elapsed().as_secs_f64() * 1e9 / f64::from(ROUNDS)
    };
    (0..20).map(|_| once()).fold(f64::INFINITY, f64::min)
}

/// Generous for a slow build on a busy machine: a friction factor takes about 60 ns, so that a tenfold loss is caught.
const MOST_FOR_FRICTION: f64 = 1000.0;
/// Likewise: two power laws, or a power law beside a return of three parts, take about 0.5 µs.
const MOST_FOR_A_GROUP: f64 = 8_000.0;

#[test]
fn friction_and_parallel_groups_are_worked_fast_enough_to_drag() {
    let factor = best_nanoseconds(|index| friction(4000.0 + 7.0 * f64::from(index), 3.6e-4).factor);
    let (duct, filter) = (law(5e-7, 2.0), law(9e-6, 1.5));
    let group = best_nanoseconds(|index| drop_and_slope(&[&duct, &filter], 300.0 + f64::from(index)).expect("sound").0);
    let mut second_return = SystemCurve::default();
    for part in [law(2e-7, 2.0), law(4e-5, 1.2), law(5e-7, 1.9)] {
        second_return.add_law(part);
    }
    let returns =
        best_nanoseconds(|index| drop_and_slope(&[&duct, &second_return], 300.0 + f64::from(index)).expect("sound").0);
    println!("{factor:.0} ns a friction factor, {group:.0} ns two laws, {returns:.0} ns a return of several parts");
    assert!(factor < MOST_FOR_FRICTION, "{factor} ns");
    assert!(group < MOST_FOR_A_GROUP && returns < MOST_FOR_A_GROUP, "{group} and {returns} ns");
}

fn walls() -> impl Strategy<Value = Wall> {
    prop_oneof![
        proptest::sample::select(Material::ALL.to_vec()).prop_map(Wall::from),
        (0.0..=0.3).prop_map(|compression| Wall::Flexible { compression }),
    ]
}

prop_compose! {
    fn runs()(length in 1.0..300.0, wall in walls(), fittings in prop_oneof![Just(0.0), 0.0..10.0]) -> Run {
        let section = Section::round(Dimension::from_in(12.0));
        Run { fittings, ..Run::straight(section, Length::from_ft(length), wall) }
    }
}

prop_compose! {
    /// From nearly laminar trickles to more than any house moves.
    fn airflows()(log_cfm in 1.0..9.0f64) -> Airflow {
        Airflow::from_cfm(log_cfm.exp())
    }
}

fn law(coefficient: f64, exponent: f64) -> PowerLaw {
    PowerLaw { coefficient, exponent }
}

prop_compose! {
    fn laws()(log_coefficient in -16.0..-6.0f64, exponent in 1.0..=2.2) -> PowerLaw {
        law(log_coefficient.exp(), exponent)
    }
}

fn lost(run: Run, section: Section, airflow: Airflow) -> Pressure {
    run.with_section(section).drop_at(airflow, DuctAir::STANDARD).expect("sound").total()
}

fn inches(value: f64) -> Dimension {
    Dimension::from_in(value)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_bigger_duct_never_drops_more(run in runs(), airflow in airflows(), d in 4.0..60.0, more in 1.0..1.6, b in 4.0..60.0) {
        let bigger = d * more;
        let pairs = [
            (Section::round(inches(d)), Section::round(inches(bigger))),
            (Section::rectangular(inches(d), inches(b)), Section::rectangular(inches(bigger), inches(b))),
            (Section::flat_oval(inches(d), inches(4.0)), Section::flat_oval(inches(bigger), inches(4.0))),
        ];
        for (small, large) in pairs {
            let rounding = 1.0 + 1e-12;
            prop_assert!(lost(run, large, airflow) <= lost(run, small, airflow) * rounding, "{large:?} over {small:?}");
        }
    }

    #[test]
    fn more_air_never_drops_less(run in runs(), airflow in airflows(), more in 1.0..3.0, d in 4.0..40.0) {
        let section = Section::round(inches(d));
        prop_assert!(lost(run, section, airflow * more) >= lost(run, section, airflow) * (1.0 - 1e-12));
    }

    #[test]
    fn the_size_for_a_drop_has_that_drop(run in runs(), airflow in airflows(), d in 4.0..60.0) {
        let allowed = lost(run, Section::round(inches(d)), airflow);
        prop_assume!(allowed.in_wc() <= 10.0 && allowed.in_wc() > 0.0);
        let found = size::round_for_drop(run, airflow, allowed, DuctAir::STANDARD).expect("a size");
        prop_assert!((found.inches() / d - 1.0).abs() < 1e-9, "{} for {d}", found.inches());
    }

    #[test]
    fn the_side_for_a_drop_has_that_drop(run in runs(), airflow in airflows(), a in 4.0..60.0, b in 4.0..30.0) {
        let allowed = lost(run, Section::rectangular(inches(a), inches(b)), airflow);
        prop_assume!(allowed.in_wc() <= 10.0 && allowed.in_wc() > 0.0);
        let found = size::side_for_drop(run, airflow, allowed, DuctAir::STANDARD, inches(b)).expect("a side");
        prop_assert!((found.inches() / a - 1.0).abs() < 1e-9, "{} for {a}", found.inches());
    }

    #[test]
    fn the_airflow_for_a_drop_has_that_drop(run in runs(), airflow in airflows(), d in 4.0..60.0) {
        let section = Section::round(inches(d));
        let drop = lost(run, section, airflow);
        prop_assume!(drop.in_wc() <= 10.0);
        let found = size::airflow_for_drop(run.with_section(section), drop, DuctAir::STANDARD).expect("an airflow");
        prop_assert!((found / airflow - 1.0).abs() < 1e-9);
    }

    #[test]
    fn parallel_never_drops_more_than_either(first in laws(), second in laws(), airflow in airflows()) {
        let both = in_parallel(&[&first, &second], airflow).expect("sound");
        for branch in [first, second] {
            prop_assert!(both.drop.in_wc() <= branch.drop_and_slope(airflow.cfm()).0 * (1.0 + 1e-9));
        }
    }

    #[test]
    fn parallel_flows_add_up_at_one_drop(branches in proptest::collection::vec(laws(), 1..8), airflow in airflows()) {
        let ways: Vec<&dyn Resistance> = branches.iter().map(|branch| branch as &dyn Resistance).collect();
        let group = in_parallel(&ways, airflow).expect("sound");
        let all: Airflow = group.flows.iter().copied().sum();
        prop_assert!((all / airflow - 1.0).abs() < 1e-10);
        for (branch, flow) in branches.iter().zip(&group.flows) {
            let drop = branch.drop_and_slope(flow.cfm()).0;
            prop_assert!((drop / group.drop.in_wc() - 1.0).abs() < 1e-10);
        }
    }

    #[test]
    fn compression_never_helps(d in 4.0..30.0, compression in 0.0..0.3, more in 0.0..0.3) {
        let at = |compression: f64| compression_factor(inches(d), compression.min(0.3)).expect("sound");
        prop_assert!(at(compression) >= 1.0 && at(compression + more) >= at(compression));
    }

    #[test]
    fn no_number_whatever_is_answered_with_a_panic(
        d in any::<f64>(), length in any::<f64>(), fittings in any::<f64>(), compression in any::<f64>(),
        cfm in any::<f64>(), drop in any::<f64>(),
    ) {
        let run = Run {
            section: Section::rectangular(inches(d), inches(length)),
            length: Length::from_ft(length),
            wall: Wall::Flexible { compression },
            fittings,
        };
        let (airflow, drop) = (Airflow::from_cfm(cfm), Pressure::from_in_wc(drop));
        if let Ok(lost) = run.drop_at(airflow, DuctAir::STANDARD) {
            prop_assert!(lost.total().is_finite());
        }
        let sizes = [
            size::round_for_drop(run, airflow, drop, DuctAir::STANDARD),
            size::side_for_drop(run, airflow, drop, DuctAir::STANDARD, inches(d)),
        ];
        for size in sizes {
            prop_assert!(size.map_or_else(|error| !error.to_string().is_empty(), Dimension::is_finite));
        }
    }
}
