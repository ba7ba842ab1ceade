//! The fit's weights need what a reading does to the airflow: the same fit worked here by the library's least squares, with that and without.

use tapcross::model::answer::Answer;
use tapcross::model::facts::air_path::{Element, ElementId, RETURN_PORT, SUPPLY_PORT};
use tapcross::model::facts::job::Job;
use tapcross::model::facts::readings::{ReadAt, Reading, ReadingSet};
use tapcross::model::laws::tap_curve::TapCurve;
use tapcross::numerics::least_squares::non_negative;

use super::coverage::{normal, within};
use super::house::{COIL, FILTER, GRILLE, REGISTERS, RETURN, SUPPLY, curve_in};
use super::truth::{Errors, Truth, job_of, machine};

/// Visits of the house.
const VISITS: usize = 500;
/// What no set tells from its neighbours is one unknown; the first two are on the return, the others on the supply.
const UNKNOWNS: [&[ElementId]; 4] = [&[GRILLE, RETURN], &[FILTER], &[COIL, SUPPLY], &[REGISTERS]];
/// Standard uncertainties of the manometer's gain, of each port, of each reading by itself, and of an exponent: the job's own figures, a limit of 1 %, 0.01, 0.005 beside 0.2 Pa, and 0.2 at 95 %.
const GAIN: f64 = 0.01 / ROOT_3;
const PORT: f64 = 0.01 / ROOT_3;
const ALONE: f64 = 0.005_06 / ROOT_3;
const EXPONENT: f64 = 0.2 / 2.0;
const ROOT_3: f64 = 1.732_050_807_568_877_2;

/// What a set says of the airflow by its curve: statics of the two sides, airflow, and what an inch of water more does to that.
struct Seen {
    out: Vec<ElementId>,
    sides: [f64; 2],
    flow: f64,
    slope: f64,
}

fn seen(set: &ReadingSet, curve: &TapCurve) -> Seen {
    let at = |port| set.at(ReadAt::Port(port)).and_then(Reading::average).expect("a look").in_wc();
    let sides = [-at(RETURN_PORT), at(SUPPLY_PORT)];
    let (flow, slope) = curve.value_and_slope(sides[0] + sides[1]);
    Seen { out: set.parts_out.clone(), sides, flow, slope }
}

/// Filter's and registers' drop with its standard uncertainty, by four rounds of weights; `counts` is whether what a reading does to the airflow is in them.
fn fitted(job: &Job, curve: &TapCurve, counts: bool) -> [(f64, f64); 2] {
    let sets: Vec<Seen> = job.sets.iter().map(|set| seen(set, curve)).collect();
    let judged = sets[0].flow;
    // The drop of an unknown in a row over that at the judged airflow, and its slope by the ratio of airflow.
    let share = |unknown: usize, set: &Seen, side: usize| {
        let ids = UNKNOWNS[unknown].iter().filter(|id| (unknown < 2) == (side == 0) && !set.out.contains(id));
        let parts = UNKNOWNS[unknown].iter().map(|id| job.path.element(*id).expect("an element"));
        let all: f64 = parts.map(Element::usual_weight).sum();
        let ratio = set.flow / judged;
        ids.map(|id| job.path.element(*id).expect("an element")).fold((0.0, 0.0), |sum, element| {
            let (weight, n) = (element.usual_weight() / all, element.drop_exponent());
            (sum.0 + weight * ratio.powf(n), sum.1 + weight * n * ratio.powf(n - 1.0))
        })
    };
    let rows: Vec<(usize, usize)> = (0..sets.len()).flat_map(|set| [(set, 0), (set, 1)]).collect();
    let design: Vec<Vec<f64>> =
        rows.iter().map(|(set, side)| (0..4).map(|unknown| share(unknown, &sets[*set], *side).0).collect()).collect();
    let right: Vec<f64> = rows.iter().map(|(set, side)| sets[*set].sides[*side]).collect();
    let mut drops = vec![0.1; 4];
    let mut own = [0.0; 4];
    for _ in 0..4 {
        let causes = causes(&sets, &rows, &drops, &share, counts);
        let solution = non_negative(&design, &right, &causes).expect("the sets tell them apart");
        drops.clone_from(&solution.unknowns);
        own = [0, 1, 2, 3].map(|unknown| solution.covariance[unknown][unknown].sqrt());
    }
    [(drops[1], own[1]), (drops[3], own[3])]
}

/// Every independent cause by what it does to each row.
fn causes(
    sets: &[Seen],
    rows: &[(usize, usize)],
    drops: &[f64],
    share: &impl Fn(usize, &Seen, usize) -> (f64, f64),
    counts: bool,
) -> Vec<Vec<f64>> {
    let judged = sets[0].flow;
    // A static of a set read higher by an inch of water: its own row's drop, and the airflow that both of its rows are judged at.
    let moved = |of: usize, at: usize| -> Vec<f64> {
        let row = |(set, side): &(usize, usize)| {
            let drop = if (*set, *side) == (of, at) { 1.0 } else { 0.0 };
            let steep: f64 = (0..4).map(|unknown| drops[unknown] * share(unknown, &sets[*set], *side).1).sum();
            let by = sets[of].slope / judged;
            let own = if *set == of { by } else { 0.0 };
            let of_all = if of == 0 { by * sets[*set].flow / judged } else { 0.0 };
            drop - if counts { steep * (own - of_all) } else { 0.0 }
        };
        rows.iter().map(row).collect()
    };
    let mut causes = Vec::new();
    let mut gain = vec![0.0; rows.len()];
    let mut ports = [vec![0.0; rows.len()], vec![0.0; rows.len()]];
    for &(set, side) in rows {
        let by = moved(set, side);
        causes.push(by.iter().map(|by| by * ALONE).collect());
        gain.iter_mut().zip(&by).for_each(|(sum, by)| *sum += by * GAIN * sets[set].sides[side]);
        ports[side].iter_mut().zip(&by).for_each(|(sum, by)| *sum += by * PORT);
    }
    causes.push(gain);
    causes.extend(ports);
    causes.extend((0..4).map(|unknown| {
        let row = |(set, side): &(usize, usize)| {
            let set = &sets[*set];
            drops[unknown] * share(unknown, set, *side).0 * (set.flow / judged).ln() * EXPONENT
        };
        rows.iter().map(row).collect()
    }));
    causes
}

/// A visit of four sets with every error in them.
fn visit(house: Truth, tap: &str, random: &mut fastrand::Rng) -> (Truth, Job) {
    let errors = Errors { gain: within(random, 0.01), ports: [0; 2].map(|_| within(random, 0.01)) };
    let mut house = Truth { of_table: 1.0 + within(random, 0.10), ..house };
    for alike in UNKNOWNS {
        let off = EXPONENT * normal(random);
        house.parts.iter_mut().filter(|(id, ..)| alike.contains(id)).for_each(|(_, _, exponent)| *exponent += off);
    }
    let mut read = |out: &[_]| {
        let scatter = [0; 2].map(|_| within(random, 0.005) + within(random, 0.0008));
        house.read(out, tap, errors, scatter)
    };
    let sets = vec![read(&[]), read(&[REGISTERS]), read(&[FILTER]), read(&[FILTER, REGISTERS])];
    (house, job_of(sets))
}

/// Of the filter and of the registers: in which part of the visits ± holds the truth, with what a reading does to the airflow in the weights and without.
fn covered(house: Truth, tap: &str) -> [[f64; 2]; 2] {
    let curve = curve_in(&machine(tap), tap);
    let mut random = fastrand::Rng::with_seed(16);
    let mut held = [[0_usize; 2]; 2];
    for _ in 0..VISITS {
        let (house, job) = visit(house, tap, &mut random);
        let flow = house.airflow(&curve, &[]);
        for (held, counts) in held.iter_mut().zip([true, false]) {
            for ((held, id), (drop, own)) in held.iter_mut().zip([FILTER, REGISTERS]).zip(fitted(&job, &curve, counts))
            {
                *held += usize::from((drop - house.drop_of(id, flow)).abs() <= 2.0 * own);
            }
        }
    }
    held.map(|held| held.map(|held| held as f64 / VISITS as f64))
}

/// Filter and registers of a house whose airflow moves well with its static.
const HOUSE: [f64; 6] = [0.08, 0.16, 0.20, 0.18, 0.18, 0.12];

#[test]
fn the_fit_worked_here_is_the_programs() {
    let mut random = fastrand::Rng::with_seed(17);
    let curve = curve_in(&machine("A"), "A");
    for _ in 0..20 {
        let (_, job) = visit(Truth::of(HOUSE), "A", &mut random);
        let fit = Answer::of(&job).visit.and_then(|visit| visit.fit).expect("a fit");
        for ((drop, own), id) in fitted(&job, &curve, true).into_iter().zip([FILTER, REGISTERS]) {
            let told = fit.drops.iter().find(|told| told.elements == [id]).expect("told apart");
            let (theirs, spread) = (told.drop.in_wc(), told.spread.in_wc());
            assert!((drop - theirs).abs() < 2e-4, "{drop}, not {theirs}");
            assert!((2.0 * own / spread - 1.0).abs() < 0.02, "± {}, not {spread}", 2.0 * own);
        }
    }
}

#[test]
fn without_what_a_reading_does_to_the_airflow_intervals_miss_the_truth() {
    let [with, without] = covered(Truth::of(HOUSE), "A");
    assert!(with.iter().all(|share| (0.93..=0.97).contains(share)), "{with:?}");
    assert!(without.iter().all(|share| *share < 0.88), "{without:?}");
}
