//! Why a duct calculation has no answer, with the sentence in the units shown.

use crate::model::facts::number::OutOfRange;
use crate::model::facts::numbers::duct::{BRANCHES, LARGEST_SIZE, OPEN_BRANCHES};
use crate::units::quantity::Quantity;
use crate::units::{Dimension, Pressure, UnitSystem, show};

/// Why a duct calculation has no answer; [`InputError::sentence`] says it in the units shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InputError {
    /// A number that is not finite or outside its range.
    OutOfRange(OutOfRange),
    /// A flat oval duct whose short axis is longer than its long one.
    AxesSwapped {
        /// Long axis as given.
        major: Dimension,
        /// Short axis as given.
        minor: Dimension,
    },
    /// More branches open than there are.
    MoreOpenThanThere {
        /// Said to be open.
        open: u32,
        /// All of them.
        of: u32,
    },
    /// Filters of different depth compared by area alone.
    OtherDepth {
        /// Depth of the filter as it is.
        now: Dimension,
        /// Depth of the new one.
        then: Dimension,
    },
    /// A parallel group without branches.
    NoBranches,
    /// A branch whose drop does not rise with its airflow.
    NotRising,
    /// Even the largest size drops more than allowed.
    NoSizeIsEnough {
        /// Drop with the largest size.
        drop: Pressure,
        /// Drop allowed.
        allowed: Pressure,
    },
    /// Even the smallest size drops less than allowed.
    AnySizeIsEnough {
        /// Drop allowed.
        allowed: Pressure,
    },
}

impl InputError {
    /// One sentence naming the field, the value and what would be right.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let size = |dimension: Dimension| show::dimension(dimension, units);
        let pressure = |pressure: Pressure| Quantity::Pressure.written(pressure.in_wc(), units);
        match *self {
            Self::OutOfRange(refused) => refused.sentence(units),
            Self::AxesSwapped { major, minor } => format!(
                "The oval duct's short axis of {} is longer than its long axis of {}; swap the two",
                size(minor),
                size(major)
            ),
            Self::MoreOpenThanThere { open, of } => {
                format!("{open} branches are said to be open where there are {of}; at most {of} can be")
            }
            Self::OtherDepth { now, then } => format!(
                "A filter {} deep cannot be judged from one {} deep by its face area; give its own drop data",
                size(then),
                size(now)
            ),
            Self::NoBranches => "The parallel group has no branches; it takes at least one".to_owned(),
            Self::NotRising => {
                "A branch of the parallel group does not drop more at more airflow; its drops must be above zero"
                    .to_owned()
            }
            Self::NoSizeIsEnough { drop, allowed } => format!(
                "No duct up to {} keeps to {}; the largest still drops {}",
                size(LARGEST_SIZE),
                pressure(allowed),
                pressure(drop)
            ),
            Self::AnySizeIsEnough { allowed } => format!(
                "Any duct drops less than the {} allowed at this airflow; check the airflow, the length and the drop",
                pressure(allowed)
            ),
        }
    }
}

impl std::fmt::Display for InputError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.sentence(UnitSystem::InchPound))
    }
}

impl std::error::Error for InputError {}

impl From<OutOfRange> for InputError {
    fn from(refused: OutOfRange) -> Self {
        Self::OutOfRange(refused)
    }
}

/// A number of branches as a factor.
///
/// # Errors
/// Zero, more than 1,000, or more open than there are.
pub fn open_of(open: u32, of: u32) -> Result<f64, InputError> {
    BRANCHES.check(f64::from(of))?;
    OPEN_BRANCHES.check(f64::from(open))?;
    if open > of {
        return Err(InputError::MoreOpenThanThere { open, of });
    }
    Ok(f64::from(of) / f64::from(open))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::number::Number;
    use crate::model::facts::numbers::duct as given;

    fn check(number: &'static Number, value: f64, units: UnitSystem, sentence: &str) {
        assert_eq!(number.check(value).unwrap_err().sentence(units), sentence);
    }

    #[test]
    fn every_bad_number_gets_one_sentence_in_the_units_shown() {
        let (ip, si) = (UnitSystem::InchPound, UnitSystem::SiLitres);
        check(&given::DIAMETER, 0.0, ip, "Duct diameter cannot be 0 in; it must be above 0 and at most 100 in");
        check(
            &given::DIAMETER,
            400.0,
            si,
            "Duct diameter cannot be 10,160 mm; it must be above 0 and at most 2,540 mm",
        );
        check(&given::RUN_LENGTH, 0.0, ip, "Duct length cannot be 0 ft; it must be above 0 and at most 5,000 ft");
        check(&given::EXPONENT, 2.5, ip, "An exponent of 2.5 cannot be; it lies between 1 and 2.2");
        check(&given::AIRFLOW, f64::NAN, ip, "Airflow cannot be NaN cfm; it must be between 0 and 100,000 cfm");
        check(&given::FREE_AREA, 1.2, ip, "Free area cannot be 120 %; it must be above 0 and at most 100 %");
        check(&given::COEFFICIENT, -1.0, ip, "Coefficient of the power law cannot be −1; it must be above zero");
    }

    #[test]
    fn numbers_in_range_pass_and_their_bounds_are_as_said() {
        assert!(given::EXPONENT.check(1.0).is_ok() && given::EXPONENT.check(2.2).is_ok());
        assert!(given::DIAMETER.check(100.0).is_ok() && given::DIAMETER.check(f64::INFINITY).is_err());
        assert!(given::AIRFLOW.check(0.0).is_ok() && given::DESIGN_AIRFLOW.check(0.0).is_err());
        assert_eq!(given::COMPRESSION.range, crate::model::facts::number::Range::Between(0.0, 0.3));
    }
}
