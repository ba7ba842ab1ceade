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
pub fn bracketed(function: impl Fn(f64) -> (f64, f64), low: f64, high: f64, relative: f64) -> Result<f64, NoRoot> {
    let (at_low, at_high) = (function(low).0, function(high).0);
    between(function, End { x: low, value: at_low }, End { x: high, value: at_high }, relative)
}

/// One end of a bracket, where the function's value is known already.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// Place.
    pub x: f64,
    /// Value there.
    pub value: f64,
}

/// Root between two ends whose values are known already; see [`bracketed`].
///
/// # Errors
/// See [`NoRoot`].
#[inline]
pub fn between(function: impl Fn(f64) -> (f64, f64), low: End, high: End, relative: f64) -> Result<f64, NoRoot> {
    if low.value == 0.0 {
        return Ok(low.x);
    }
    if high.value == 0.0 {
        return Ok(high.x);
    }
    if !low.value.is_finite() || !high.value.is_finite() {
        return Err(NoRoot::NotFinite);
    }
    if low.value.signum() == high.value.signum() {
        return Err(NoRoot::NoSignChange { at_low: low.value, at_high: high.value });
    }
    // The chord's root is a better start than either end's tangent, and lies inside.
    let start = low.x + (high.x - low.x) * (low.value / (low.value - high.value));
    polish(function, Bracket { low: low.x, high: high.x, rising: low.value < 0.0 }, start, relative)
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
