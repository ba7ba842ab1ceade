//! What is left of the static for the ducts, and the friction rate that it allows.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::units::{FrictionRate, Length, Pressure};

/// Static left for the ducts: what the blower may work against less the parts with data.
///
/// `Δp_ducts = ESP − Σ(coil, filter, grilles, registers, dampers)`. Zero or below means that the parts take all of it.
/// Source: ANSI/ACCA 1 Manual D, recalled and not held against its text.
///
/// ```
/// use tapcross::model::laws::duct::available::available_static;
/// use tapcross::units::Pressure;
/// let parts = [0.22, 0.12, 0.03, 0.03].map(Pressure::from_in_wc);
/// assert!((available_static(Pressure::from_in_wc(0.5), &parts).in_wc() - 0.10).abs() < 1e-12);
/// ```
pub fn available_static(external_static: Pressure, parts: &[Pressure]) -> Pressure {
    external_static - parts.iter().copied().sum()
}

/// Friction rate that spends the static left over the total effective length, `F = Δp_ducts × 100 / TEL` in in. w.c. a hundred feet.
///
/// The total effective length is the longest return and the longest supply run with their fittings' equivalent lengths.
/// Source: ANSI/ACCA 1 Manual D, recalled and not held against its text.
///
/// # Errors
/// Nothing left for the ducts, or a length that is not above zero.
///
/// ```
/// use tapcross::model::laws::duct::available::friction_rate;
/// use tapcross::units::{Length, Pressure};
/// let rate = friction_rate(Pressure::from_in_wc(0.18), Length::from_ft(225.0)).unwrap();
/// assert!((rate.in_wc_100ft() - 0.08).abs() < 1e-12);
/// ```
pub fn friction_rate(available: Pressure, effective_length: Length) -> Result<FrictionRate, InputError> {
    let available = given::AVAILABLE_STATIC.check(available.in_wc())?;
    let length = given::EFFECTIVE_LENGTH.check(effective_length.ft())?;
    Ok(FrictionRate::from_in_wc_100ft(available * 100.0 / length))
}

/// The static left, shared between return and supply by their effective lengths.
///
/// # Errors
/// A length that is not above zero.
pub fn shared_by_length(
    available: Pressure,
    return_length: Length,
    supply_length: Length,
) -> Result<(Pressure, Pressure), InputError> {
    let back = given::EFFECTIVE_LENGTH.check(return_length.ft())?;
    let out = given::EFFECTIVE_LENGTH.check(supply_length.ft())?;
    let return_share = available * (back / (back + out));
    Ok((return_share, available - return_share))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_that_take_everything_leave_no_friction_rate() {
        let left = available_static(Pressure::from_in_wc(0.5), &[Pressure::from_in_wc(0.6)]);
        assert_eq!(
            friction_rate(left, Length::from_ft(200.0)).unwrap_err().to_string(),
            "Static left for the ducts cannot be −0.10 in. w.c.; it must be above 0 and at most 10 in. w.c."
        );
        assert!(friction_rate(Pressure::from_in_wc(0.2), Length::ZERO).is_err());
    }

    #[test]
    fn return_and_supply_share_all_of_it() {
        let available = Pressure::from_in_wc(0.24);
        let (back, out) = shared_by_length(available, Length::from_ft(80.0), Length::from_ft(160.0)).unwrap();
        assert!((back.in_wc() - 0.08).abs() < 1e-12 && (out.in_wc() - 0.16).abs() < 1e-12);
    }
}
