//! ± against the package `uncertainties`, which carries every figure with its derivatives, and against example H.2 of the GUM.
//!
//! `tests/data/reference/make_propagation.py` wrote the file; the versions stand in it.

use serde_json::Value;
use tapcross::files::demo;
use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::change::{ChangeKind, LessByHand};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading};
use tapcross::numerics::least_squares::non_negative;
use tapcross::units::Airflow;

use super::coverage::{FILTER, RETURN, change, in_wc};
use super::standard_air::standard_air;

const FILE: &str = include_str!("../data/reference/propagation_uncertainties.json");

/// Figures are those of the same curves and crossings.
const SAME_FIGURE: f64 = 1e-6;
/// The program moves each cause by its standard uncertainty where the package takes the tangent (GUM 5.1.3, note 2, beside 5.1.2): curves bend by this much within it.
const BEND: f64 = 0.02;

fn file(part: &str) -> Value {
    let file: Value = serde_json::from_str(FILE).expect("the file is JSON");
    file[part].clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// A figure and its ±, 95 %.
fn check(what: &str, told: (f64, f64), library: &Value) {
    let (figure, spread) = (number(&library[0]), number(&library[1]));
    assert!((told.0 - figure).abs() <= SAME_FIGURE * figure.abs().max(1.0), "{what}: {told:?}, not {library}");
    assert!((told.1 - spread).abs() <= BEND * spread, "{what}: ± {}, not {spread}", told.1);
}

fn cfm(figure: Airflow, spread: Airflow) -> (f64, f64) {
    (figure.cfm(), spread.cfm())
}

/// The demo furnace in the air of its table; every number of its budget is the demo's own.
fn furnace() -> Job {
    let mut job = demo::gas_furnace();
    job.sets[0].air = standard_air();
    let density = job.sets[0].air.at_blower(job.machine.as_ref().expect("a machine").kind, job.sets[0].call).density;
    job.machine.as_mut().expect("a machine").basis.density = Some(density);
    job
}

#[test]
fn static_airflow_taps_and_gains_are_as_sure_as_the_library_says() {
    let (job, library) = (furnace(), file("demo"));
    let answer = Answer::of(&job);
    let system = &answer.point().expect("it runs").system;
    let running = answer.point().expect("it runs");
    check("total static", (running.now.tesp.in_wc(), system.spreads.tesp.in_wc()), &library["tesp"]);
    check("airflow", cfm(running.now.airflow, system.spreads.now), &library["now"]);
    for (index, tap) in system.taps.iter().enumerate() {
        let point = tap.reached().expect("a point");
        let (what, spread) = (&tap.name, point.spread);
        check(&format!("tap {what}"), cfm(point.airflow(), spread.airflow), &library["taps"][index]);
        if tap.in_use {
            assert!(point.gain.least.cfm().abs() < SAME_FIGURE && spread.gain.cfm() < 0.01, "{spread:?}");
        } else {
            check(&format!("gain of tap {what}"), cfm(point.gain.least, spread.gain), &library["gains"][index]);
        }
    }
}

/// The manometer is one at all three ports: what it is off by leaves the filter's drop in proportion, which the coarse one tells.
#[test]
fn a_change_of_a_part_between_ports_is_as_sure_as_the_library_says() {
    for (case, manometer, offset, change_fraction) in [("demo", 0.01, 0.01, 0.25), ("coarse", 0.08, 0.001, 0.02)] {
        let (mut job, library) = (furnace(), file(case));
        let port = job.path.add_port(RETURN).expect("a place for a port");
        job.sets[0].readings = [(RETURN_PORT, -0.28), (SUPPLY_PORT, 0.42), (port, -0.12)]
            .map(|(port, value)| Reading { at: ReadAt::Port(port), looks: vec![in_wc(value)] })
            .to_vec();
        job.accuracy.manometer_fraction = manometer;
        job.accuracy.port_offset = in_wc(offset);
        job.accuracy.change_fraction = change_fraction;
        job.changes = vec![change(1, ChangeKind::LessByHand(LessByHand { element: FILTER, fraction: 0.5 }))];
        let answer = Answer::of(&job);
        let runs = answer.with_changes().expect("a change").system.runs().expect("a point");
        check(&format!("{case}: airflow then"), cfm(runs.airflow(), runs.spread.airflow), &library["filter_halved"]);
        check(&format!("{case}: gain"), cfm(runs.gain.least, runs.spread.gain), &library["filter_halved_gain"]);
    }
}

/// What the fit's weights are made of: independent causes that rows share. Each simultaneous observation is one, by its deviation over √(n(n − 1)), and moves what follows from the three quantities (JCGM 100:2008, H.2.3 and table H.4: u(R) = 0.071, u(X) = 0.295, u(Z) = 0.236 Ω; r(R, X) = −0.588, r(R, Z) = −0.485, r(X, Z) = 0.993, recalled from memory; the file has them from the observations).
///
/// With a design of ones the covariance of the unknowns is that of the rows. R, X and Z hang together, so two at a time.
#[test]
fn correlated_quantities_are_those_of_the_gum_and_of_the_library() {
    let library = file("gum_h2");
    let observed = library["observed"].as_array().expect("observations");
    let at = |set: &Value| [0, 1, 2].map(|index| number(&set[index]));
    let count = observed.len() as f64;
    let mut means = [0.0; 3];
    for set in observed {
        means.iter_mut().zip(at(set)).for_each(|(mean, value)| *mean += value / count);
    }
    let worked = |[volts, amps, phase]: [f64; 3]| {
        let impedance = volts / amps;
        [impedance * phase.cos(), impedance * phase.sin(), impedance]
    };
    let figures = worked(means);
    let moved = observed.iter().map(|set| {
        let mut inputs = means;
        for (index, value) in at(set).into_iter().enumerate() {
            inputs[index] += (value - means[index]) / (count * (count - 1.0)).sqrt();
        }
        let then = worked(inputs);
        [0, 1, 2].map(|index| then[index] - figures[index])
    });
    let moved: Vec<[f64; 3]> = moved.collect();
    let printed = [(0, 1, [0.071, 0.295], -0.588), (0, 2, [0.071, 0.236], -0.485), (1, 2, [0.295, 0.236], 0.993)];
    for (one, other, u, r) in printed {
        let causes: Vec<Vec<f64>> = moved.iter().map(|by| vec![by[one], by[other]]).collect();
        let solution = non_negative(&[vec![1.0, 0.0], vec![0.0, 1.0]], &[figures[one], figures[other]], &causes);
        let covariance = solution.expect("a solution").covariance;
        let own = [covariance[0][0].sqrt(), covariance[1][1].sqrt()];
        let together = covariance[0][1] / (own[0] * own[1]);
        for ((own, printed), index) in own.iter().zip(u).zip([one, other]) {
            let [figure, by_library] = [0, 1].map(|of| number(&library["results"][index][of]));
            assert!((figures[index] - figure).abs() < 1e-9 * figure, "{}", figures[index]);
            assert!((own / by_library - 1.0).abs() < 1e-3 && (own - printed).abs() < 1e-3, "{own}, not {by_library}");
        }
        let by_library = number(&library["correlation"][one][other]);
        assert!((together - by_library).abs() < 1e-3 && (together - r).abs() < 1e-3, "{together}, not {by_library}");
    }
}
