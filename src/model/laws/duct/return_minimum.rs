//! Smallest return ducts and filter grilles that California's energy code lets pass without measuring airflow.

use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::duct as given;
use crate::units::{Area, Capacity, Dimension};

/// Where the figures come from.
pub const SOURCE: &str =
    "CEC Residential Compliance Manual Tables 4-10 and 4-11 (Title 24 Part 6 Tables 150.0-B and 150.0-C)";

/// One row: what a cooling capacity needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReturnMinimum {
    /// Nominal cooling capacity.
    pub capacity: Capacity,
    /// Smallest diameter of each return duct, the larger first.
    pub ducts: &'static [Dimension],
    /// Smallest gross face of all filter grilles together.
    pub grille: Area,
}

const fn row(tons: f64, ducts: &'static [Dimension], in2: f64) -> ReturnMinimum {
    ReturnMinimum { capacity: Capacity::from_tons(tons), ducts, grille: Area::from_in2(in2) }
}

const fn inches(value: f64) -> Dimension {
    Dimension::from_in(value)
}

/// One return duct (Table 150.0-B).
pub const ONE_RETURN: [ReturnMinimum; 3] =
    [row(1.5, &[inches(16.0)], 500.0), row(2.0, &[inches(18.0)], 600.0), row(2.5, &[inches(20.0)], 800.0)];

/// Two return ducts (Table 150.0-C).
pub const TWO_RETURNS: [ReturnMinimum; 7] = [
    row(1.5, &[inches(12.0), inches(10.0)], 500.0),
    row(2.0, &[inches(14.0), inches(12.0)], 600.0),
    row(2.5, &[inches(14.0), inches(14.0)], 800.0),
    row(3.0, &[inches(16.0), inches(14.0)], 900.0),
    row(3.5, &[inches(16.0), inches(16.0)], 1000.0),
    row(4.0, &[inches(18.0), inches(18.0)], 1200.0),
    row(5.0, &[inches(20.0), inches(20.0)], 1500.0),
];

/// The row of a table for a capacity, or for the next larger one listed; `None` past the table.
///
/// # Errors
/// A capacity that is not above zero.
///
/// ```
/// use tapcross::model::laws::duct::return_minimum::{TWO_RETURNS, minimum_for};
/// use tapcross::units::Capacity;
/// let row = minimum_for(&TWO_RETURNS, Capacity::from_tons(3.0)).unwrap().unwrap();
/// assert!((row.grille.in2() - 900.0).abs() < 1e-12);
/// ```
pub fn minimum_for(table: &[ReturnMinimum], capacity: Capacity) -> Result<Option<ReturnMinimum>, InputError> {
    given::CAPACITY.check(capacity.tons())?;
    Ok(table.iter().find(|row| row.capacity >= capacity).copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_between_rows_takes_the_larger_and_a_large_one_has_none() {
        let at = |tons| minimum_for(&ONE_RETURN, Capacity::from_tons(tons)).unwrap();
        assert_eq!(at(1.75), Some(ONE_RETURN[1]));
        assert_eq!(at(3.0), None);
        assert!(minimum_for(&ONE_RETURN, Capacity::ZERO).is_err());
    }
}
