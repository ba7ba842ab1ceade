//! Flexible duct that is not pulled tight.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::units::Dimension;

/// How many times a compressed flexible duct loses what the same duct loses fully extended, `PDCF = 1 + 0.58·K_c·exp(−0.00496·D)`.
///
/// `K_c` is the compression in percent of the extended length (`compression` here is the fraction, 0 to 0.3), D the diameter in mm.
/// The fully extended duct is worked with a roughness of 0.9 mm.
/// The measurements behind it were made on 6, 8 and 10 in. ducts (Abushakra, Walker and Sherman 2004, by its abstract); other diameters are the formula's word.
/// The handbook's example goes to 30 %; beyond it there is no answer.
/// Source: the handbook, eq. 22.
///
/// # Errors
/// A diameter or compression out of range.
///
/// ```
/// use tapcross::model::laws::duct::flexible::compression_factor;
/// use tapcross::units::Dimension;
/// let factor = compression_factor(Dimension::from_in(6.0), 0.15).unwrap();
/// assert!((factor - 5.085_397).abs() < 1e-6);
/// ```
pub fn compression_factor(diameter: Dimension, compression: f64) -> Result<f64, InputError> {
    given::DIAMETER.check(diameter.inches())?;
    given::COMPRESSION.check(compression)?;
    Ok(factor_of(diameter, compression))
}

pub(super) fn factor_of(diameter: Dimension, compression: f64) -> f64 {
    (0.58 * compression * 100.0).mul_add((-0.004_96 * diameter.mm()).exp(), 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretched_duct_has_no_extra_loss_and_a_bunched_one_has_no_answer() {
        let eight = Dimension::from_in(8.0);
        assert!((compression_factor(eight, 0.0).unwrap() - 1.0).abs() < 1e-15);
        assert_eq!(
            compression_factor(eight, 0.5).unwrap_err().to_string(),
            "Compression of the flexible duct cannot be 50 %; it must be between 0 and 30 %"
        );
    }
}
