//! Weighted least squares that are not below zero against scipy's `nnls` on 60 random problems, with causes that rows share; their variances against the plain inverse.
//!
//! `tests/data/reference/make_least_squares.py` wrote the file; the versions stand in it.

use serde_json::Value;
use tapcross::numerics::least_squares::non_negative;

const FILE: &str = include_str!("data/reference/least_squares_scipy.json");
/// Agreement asked for, relative to the largest figure of a problem.
const SAME: f64 = 1e-8;

fn numbers(value: &Value) -> Vec<f64> {
    let items = value.as_array().expect("a list");
    items.iter().map(|item| item.as_f64().expect("a number")).collect()
}

fn table(value: &Value) -> Vec<Vec<f64>> {
    value.as_array().expect("a list").iter().map(numbers).collect()
}

fn check(what: &str, problem: usize, ours: &[f64], theirs: &[f64]) {
    assert_eq!(ours.len(), theirs.len());
    let size = theirs.iter().fold(1e-12_f64, |most, value| most.max(value.abs()));
    for (ours, theirs) in ours.iter().zip(theirs) {
        assert!((ours - theirs).abs() <= SAME * size, "{what} of problem {problem}: {ours}, not {theirs}");
    }
}

/// Every cause by what it does to each row: those that rows share, and one of each row alone.
fn causes(problem: &Value) -> Vec<Vec<f64>> {
    let alone = numbers(&problem["alone"]);
    let of = |at: usize| (0..alone.len()).map(|row| if row == at { alone[row] } else { 0.0 }).collect();
    table(&problem["shared"]).into_iter().chain((0..alone.len()).map(of)).collect()
}

#[test]
fn unknowns_variances_and_chi_squared_are_those_of_scipy() {
    let file: Value = serde_json::from_str(FILE).expect("the file is JSON");
    let problems = file["problems"].as_array().expect("problems");
    let mut held = 0;
    for (index, problem) in problems.iter().enumerate() {
        let [unknowns, free] = ["unknowns", "free"].map(|key| numbers(&problem[key]));
        let solution = non_negative(&table(&problem["rows"]), &numbers(&problem["right"]), &causes(problem));
        let solution = solution.expect("a solution");
        check("unknowns", index, &solution.unknowns, &unknowns);
        check(
            "chi-squared",
            index,
            &[solution.chi_squared],
            &numbers(&Value::from(vec![problem["chi_squared"].clone()])),
        );
        let variances: Vec<f64> = (0..unknowns.len()).map(|at| solution.covariance[at][at]).collect();
        check("variances", index, &variances, &numbers(&problem["variances"]));
        // Where scipy's own unconstrained solution is nowhere below zero it is the same one.
        if free.iter().all(|value| *value >= 0.0) {
            check("free", index, &solution.unknowns, &free);
        } else {
            held += 1;
        }
    }
    assert!(problems.len() == 60 && held > 10, "{held} of {} are held at zero", problems.len());
}
