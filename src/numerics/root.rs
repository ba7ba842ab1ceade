//! A bracketed root finder that always ends: Newton's step kept inside the bracket, bisection where it is not.
//!
//! Source: W. H. Press and others, *Numerical Recipes*, 3rd ed., §9.4 (safe Newton), written anew.

/// Why there is no root.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoRoot {
    /// The function has the same sign at both ends, whose values are given.
    NoSignChange {
        /// Value at the lower end.
        at_low: f64,
        /// Value at the upper end.
        at_high: f64,
    },
    /// A value on the way was not a number.
    NotFinite,
}

/// More steps than any bracket of doubles needs: each of the first ones may be Newton's, bisection needs at most 64 after that.
const MOST_STEPS: usize = 200;

/// Root of a function that changes sign between `low` and `high`.
///
/// `function` gives value and slope at a point; the slope may be rough, since a step out of the bracket is replaced by bisection.
/// Ends when the bracket or the step is within `relative` of the root (or 1e-300 of zero).
///
/// # Errors
/// See [`NoRoot`]; the two ends decide whether there is a root at all.
#[inline]
pub fn bracketed(
    function: impl Fn(f64) -> (f64, f64),
    low: f64,
    high: f64,
    relative: f64,
) -> Result<f64, NoRoot> {
    let (at_low, slope_low) = function(low);
    let (at_high, _) = function(high);
    if at_low == 0.0 {
        return Ok(low);
    }
    if at_high == 0.0 {
        return Ok(high);
    }
    if !at_low.is_finite() || !at_high.is_finite() {
        return Err(NoRoot::NotFinite);
    }
    if at_low.signum() == at_high.signum() {
        return Err(NoRoot::NoSignChange { at_low, at_high });
    }
    let start = if slope_low == 0.0 {
        0.5 * (low + high)
    } else {
        low - at_low / slope_low
    };
    polish(function, Bracket { low, high, rising: at_low < 0.0 }, start, relative)
}

struct Bracket {
    low: f64,
    high: f64,
    rising: bool,
}

#[inline]
fn polish(
    function: impl Fn(f64) -> (f64, f64),
    mut bracket: Bracket,
    start: f64,
    relative: f64,
) -> Result<f64, NoRoot> {
    let mut x = start;
    for step in 0..MOST_STEPS {
        let newton_left_the_bracket = !(x > bracket.low && x < bracket.high);
        // Every eighth step bisects, so that a slow Newton cannot keep a wide bracket for ever.
        if newton_left_the_bracket || step % 8 == 7 {
            x = 0.5 * (bracket.low + bracket.high);
        }
        let (value, slope) = function(x);
        if !value.is_finite() {
            return Err(NoRoot::NotFinite);
        }
        if value == 0.0 {
            return Ok(x);
        }
        if (value < 0.0) == bracket.rising {
            bracket.low = x;
        } else {
            bracket.high = x;
        }
        let tolerance = relative * x.abs() + 1e-300;
        let next = if slope == 0.0 { f64::NAN } else { x - value / slope };
        if bracket.high - bracket.low <= tolerance || (next - x).abs() <= 0.5 * tolerance {
            let inside = next >= bracket.low && next <= bracket.high;
            return Ok(if inside { next } else { x });
        }
        x = next;
    }
    Ok(0.5 * (bracket.low + bracket.high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_finds_the_root_of_two() {
        let root = bracketed(|x| (x * x - 2.0, 2.0 * x), 0.0, 2.0, 1e-14).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-14);
    }

    #[test]
    fn it_survives_a_slope_that_lies() {
        let root = bracketed(|x| (x - 0.3, 1e-9), 0.0, 1.0, 1e-12).unwrap();
        assert!((root - 0.3).abs() < 1e-10);
    }

    #[test]
    fn it_says_when_there_is_no_root() {
        assert_eq!(
            bracketed(|x| (x + 1.0, 1.0), 0.0, 1.0, 1e-12),
            Err(NoRoot::NoSignChange { at_low: 1.0, at_high: 2.0 })
        );
    }
}
