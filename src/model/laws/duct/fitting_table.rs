//! Loss coefficients as the handbook tabulates them, each for the proportions that it states.

use crate::model::facts::duct::fitting::Fitting;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::model::laws::duct::fitting::{
    ABRUPT_EXIT, SHARP_ENTRANCE, mitred_elbow, sharp_contraction, sharp_enlargement,
};

/// A take-off of a round main, both coefficients for 80 % of the flow going straight on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TakeOff {
    /// What it is.
    pub name: &'static str,
    /// C of the straight way.
    pub main: f64,
    /// C of the branch, on the branch's velocity pressure.
    pub branch: f64,
    /// Where it comes from, with the proportions it holds for.
    pub source: &'static str,
}

const TABLE_10: &str =
    "ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 10: Qs/Qc 0.8, As/Ac 0.69, Qb/Qc 0.2, Ab/Ac 0.25";
const TABLE_11: &str = "ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 11: Qs/Qc 0.8, Qb/Qc 0.2";

/// The take-offs that the handbook compares, from the easiest branch to the hardest.
pub const TAKE_OFFS: [TakeOff; 5] = [
    TakeOff { name: "45° wye, conical branch tapered into the body", main: 0.15, branch: 0.45, source: TABLE_11 },
    TakeOff { name: "Tee with 45° entry branch", main: 0.15, branch: 0.64, source: TABLE_10 },
    TakeOff { name: "45° wye", main: 0.15, branch: 0.70, source: TABLE_11 },
    TakeOff { name: "Tee with conical branch tapered into the body", main: 0.15, branch: 1.1, source: TABLE_10 },
    TakeOff { name: "Plain tee", main: 0.15, branch: 1.8, source: TABLE_10 },
];

/// C of a die-stamped 90° elbow, r/D 1.5, 8 in. (ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 14 section 9).
pub const DIE_STAMPED_ELBOW: f64 = 0.11;

/// Radius over diameter of the rows of [`INLET_ELBOW`].
const INLET_RADII: [f64; 5] = [0.5, 1.0, 1.5, 2.0, 4.0];
/// Straight length over diameter of its columns.
const INLET_LENGTHS: [f64; 3] = [0.0, 2.0, 5.0];
/// C of a four-gore elbow at a centrifugal fan's inlet (ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 7).
const INLET_ELBOW: [[f64; 3]; 5] =
    [[1.8, 1.0, 0.53], [1.2, 0.67, 0.33], [1.1, 0.6, 0.33], [1.0, 0.53, 0.33], [0.67, 0.4, 0.22]];

/// Loss coefficient of an elbow close to a centrifugal fan's inlet: the system effect of a cramped return drop.
///
/// `radius` is r/D (0.5 and above; over 4 counts as 4), `length` the straight length from elbow to fan over D (over 5 counts as 5).
/// Linear between the tabulated values, which is the program's own doing.
/// Source: the handbook, Table 7.
///
/// # Errors
/// A radius under 0.5 or a length under 0.
///
/// ```
/// use tapcross::model::laws::duct::fitting_table::fan_inlet_elbow;
/// assert!((fan_inlet_elbow(1.0, 2.0).unwrap() - 0.67).abs() < 1e-12);
/// ```
pub fn fan_inlet_elbow(radius: f64, length: f64) -> Result<f64, InputError> {
    let radius = given::BEND_RADIUS.check(radius)?;
    let length = given::STRAIGHT_LENGTH.check(length)?;
    let row: [f64; 5] = INLET_ELBOW.map(|row| between(&INLET_LENGTHS, &row, length));
    Ok(between(&INLET_RADII, &row, radius))
}

const TABLE_7: &str =
    "ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 7: four gores, at the inlet of a centrifugal fan";
const TABLE_14: &str = "ASHRAE Handbook—Fundamentals 2021 (SI), ch. 21 Table 14 section 9: 8 in.";
const PIPE_FLOW: &str = "D. C. Rennels and H. M. Hudson, Pipe Flow, 2012";
const PIPE_FLOW_BEND: &str = "D. C. Rennels and H. M. Hudson, Pipe Flow, 2012: 10 in., Reynolds number 100,000";
const PIPE_FLOW_ENTRANCE: &str =
    "D. C. Rennels and H. M. Hudson, Pipe Flow, 2012; the 0.50 of handbooks is recalled and not used";
const BORDA: &str = "Borda and Carnot: all velocity pressure is lost, or its part at a widening";

/// C of smooth 90° bends by their radius over diameter, the duct of [`PIPE_FLOW_BEND`], its friction included.
const BENDS: [(f64, &str, f64); 3] = [
    (0.5, "Smooth 90° bend, r/D 0.5", 0.93),
    (1.0, "Smooth 90° bend, r/D 1", 0.34),
    (2.0, "Smooth 90° bend, r/D 2", 0.22),
];
/// The first rows of [`INLET_ELBOW`], without a straight length before the fan.
const INLET_NAMES: [&str; 3] =
    ["Elbow at the blower, r/D 0.5", "Elbow at the blower, r/D 1", "Elbow at the blower, r/D 1.5"];
/// Smaller over larger diameter where one area is half of the other.
const HALF_THE_AREA: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Fittings that a run may have, each with its coefficient on the run's own velocity pressure, to a hundredth; those of a source stand together.
pub fn fittings() -> Vec<Fitting> {
    let of = |source| move |(name, coefficient): (&'static str, f64)| Fitting { name, coefficient, source };
    let to_a_hundredth = |coefficient: f64| (coefficient * 100.0).round() / 100.0;
    let worked = |coefficient: Result<f64, InputError>| coefficient.map(to_a_hundredth).ok();
    let formula = [
        ("Mitred 90° elbow without vanes", worked(mitred_elbow(90.0))),
        ("Sharp reduction from twice the area", worked(sharp_contraction(HALF_THE_AREA))),
    ];
    let formula = formula.into_iter().filter_map(|(name, coefficient)| Some((name, coefficient?)));
    let widened =
        worked(sharp_enlargement(HALF_THE_AREA)).map(|coefficient| ("Sharp widening to twice the area", coefficient));
    let ends = [("Abrupt exit into a room or plenum", ABRUPT_EXIT)].into_iter().chain(widened);
    let of_table = |table| TAKE_OFFS.into_iter().filter(move |it| it.source == table);
    let take_offs = of_table(TABLE_11).chain(of_table(TABLE_10));
    let take_offs = take_offs.map(|it| Fitting { name: it.name, coefficient: it.branch, source: it.source });
    let inlet = INLET_NAMES.into_iter().zip(INLET_ELBOW).map(|(name, row)| (name, row[0]));
    std::iter::once(("Die-stamped 90° elbow, r/D 1.5", DIE_STAMPED_ELBOW))
        .map(of(TABLE_14))
        .chain(BENDS.into_iter().map(|(_, name, coefficient)| (name, coefficient)).map(of(PIPE_FLOW_BEND)))
        .chain(formula.map(of(PIPE_FLOW)))
        .chain(std::iter::once(("Sharp-edged entrance", SHARP_ENTRANCE)).map(of(PIPE_FLOW_ENTRANCE)))
        .chain(ends.map(of(BORDA)))
        .chain(inlet.map(of(TABLE_7)))
        .chain(take_offs)
        .collect()
}

/// Linear interpolation, held at the ends; `xs` rises and is as long as `ys`.
fn between(xs: &[f64], ys: &[f64], x: f64) -> f64 {
    let points = || xs.iter().zip(ys);
    let (Some(low), Some(high)) = (points().rfind(|point| *point.0 <= x), points().find(|point| *point.0 >= x)) else {
        let end = if xs.first().is_some_and(|first| x < *first) { ys.first() } else { ys.last() };
        return end.copied().unwrap_or(0.0);
    };
    let span = high.0 - low.0;
    if span > 0.0 { (high.1 - low.1).mul_add((x - low.0) / span, *low.1) } else { *low.1 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_rows_and_columns_it_is_linear_and_past_the_table_it_stays() {
        let near = |radius, length, expected: f64| {
            assert!((fan_inlet_elbow(radius, length).unwrap() - expected).abs() < 1e-12, "{radius}, {length}");
        };
        near(0.5, 1.0, 1.4);
        near(0.75, 0.0, 1.5);
        near(20.0, 50.0, 0.22);
        assert!(fan_inlet_elbow(0.2, 1.0).is_err() && fan_inlet_elbow(1.0, f64::NAN).is_err());
    }

    /// The friction factor of the duct that they are stated for is about 0.0195.
    #[test]
    fn bends_are_those_of_their_formula() {
        for (radius, name, coefficient) in BENDS {
            let worked = crate::model::laws::duct::fitting::round_bend(90.0, radius, 0.0195).unwrap();
            assert!((worked / coefficient - 1.0).abs() < 0.05, "{name}: {worked}");
        }
    }

    /// 0.42·sin 45° + 2.56·sin³ 45° = 0.297 + 0.905; (1 − ½)² = 0.25.
    #[test]
    fn each_fitting_has_its_coefficient_and_its_source() {
        let all = fittings();
        let of = |name: &str| all.iter().find(|it| it.name.starts_with(name)).unwrap().coefficient;
        let near = |name, expected: f64| assert!((of(name) - expected).abs() < 1e-9, "{name}: {}", of(name));
        near("Mitred 90°", 1.20);
        near("Sharp widening", 0.25);
        near("Die-stamped", 0.11);
        near("Elbow at the blower, r/D 1", 1.2);
        near("Plain tee", 1.8);
        assert_eq!(all.len(), 17);
        assert!(all.iter().all(|it| it.source.contains("20") || it.source.contains("Borda")));
        let sources: Vec<&str> = all.iter().map(|it| it.source).collect();
        let each: std::collections::BTreeSet<&str> = sources.iter().copied().collect();
        assert_eq!(sources.chunk_by(|one, next| one == next).count(), each.len(), "those of a source stand together");
    }

    #[test]
    fn the_take_offs_stand_in_order_of_their_branch() {
        assert!(TAKE_OFFS.windows(2).all(|pair| pair[0].branch < pair[1].branch));
    }
}
