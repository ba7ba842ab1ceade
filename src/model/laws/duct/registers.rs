//! Opening and closing some of a group of like branches.

use crate::model::facts::duct::refusal::{InputError, open_of};
use crate::model::facts::numbers::duct as given;

/// Factor on the group's coefficient when `open` of `of` like branches are open, `(N/N_open)ⁿ`.
///
/// The branches with their registers are one parallel group; the trunk before them keeps its coefficient.
/// Follows from the parallel rule with equal branches.
///
/// # Errors
/// No branches, none open, more open than there are, an exponent outside 1 to 2.2.
///
/// ```
/// use tapcross::model::laws::duct::registers::with_open;
/// assert!((with_open(6, 12, 2.0).unwrap() - 4.0).abs() < 1e-15);
/// assert_eq!(
///     with_open(9, 8, 2.0).unwrap_err().to_string(),
///     "9 branches are said to be open where there are 8; at most 8 can be"
/// );
/// ```
pub fn with_open(open: u32, of: u32, exponent: f64) -> Result<f64, InputError> {
    Ok(open_of(open, of)?.powf(given::EXPONENT.check(exponent)?))
}

/// Factor on the group's coefficient when `then` of `of` like branches are open instead of `now`, `(N_now/N_then)ⁿ`.
///
/// # Errors
/// As [`with_open`].
pub fn from_open_to_open(now: u32, then: u32, of: u32, exponent: f64) -> Result<f64, InputError> {
    Ok(with_open(then, of, exponent)? / with_open(now, of, exponent)?)
}

/// Factor on the group's coefficient when only the branches stay open that carried `share` of the flow (above 0 to 1), `(1/share)ⁿ`.
///
/// # Errors
/// A share or an exponent out of range.
///
/// ```
/// use tapcross::model::laws::duct::registers::with_share_open;
/// // registers that carried a fifth of the flow are shut
/// assert!((with_share_open(0.8, 2.0).unwrap() - 1.5625).abs() < 1e-12);
/// ```
pub fn with_share_open(share: f64, exponent: f64) -> Result<f64, InputError> {
    Ok(given::FLOW_SHARE.check(share)?.powf(-given::EXPONENT.check(exponent)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counting_and_sharing_agree_for_like_branches() {
        let counted = with_open(9, 12, 1.9).unwrap();
        let shared = with_share_open(0.75, 1.9).unwrap();
        assert!((counted / shared - 1.0).abs() < 1e-12);
        let opened = from_open_to_open(9, 12, 12, 1.9).unwrap();
        assert!((opened * counted - 1.0).abs() < 1e-12);
    }

    #[test]
    fn shutting_all_of_them_is_refused() {
        assert!(with_open(0, 8, 2.0).is_err() && with_open(0, 0, 2.0).is_err());
        assert!(with_share_open(0.0, 2.0).is_err() && with_share_open(1.2, 2.0).is_err());
    }
}
