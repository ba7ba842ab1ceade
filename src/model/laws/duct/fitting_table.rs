//! Loss coefficients as the handbook tabulates them, each for the proportions that it states.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;

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

    #[test]
    fn the_take_offs_stand_in_order_of_their_branch() {
        assert!(TAKE_OFFS.windows(2).all(|pair| pair[0].branch < pair[1].branch));
    }
}
