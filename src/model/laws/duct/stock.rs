//! Sizes that are to be had: the next one up from a calculated size (common practice, no source).

use crate::model::facts::numbers::duct::LARGEST_SIZE;
use crate::units::Dimension;

/// Round ducts up to this diameter come in every whole inch, larger ones in even inches (common practice, no source).
const EVERY_INCH_UP_TO: f64 = 10.0;
/// Smallest round duct in stock, in. (common practice, no source).
const SMALLEST_ROUND: f64 = 4.0;
/// Sides of rectangular ducts come in even inches from here (common practice, no source).
const SMALLEST_SIDE: f64 = 4.0;
/// A calculated size this close above a stock size is that size, in.
const SAME_SIZE: f64 = 1e-6;

/// The stock round duct that is at least this large: 4 to 10 in. by the inch, then even inches; nothing past 100 in.
///
/// ```
/// use tapcross::model::laws::duct::stock::round_at_least;
/// use tapcross::units::Dimension;
/// let next = |inches| round_at_least(Dimension::from_in(inches)).map(Dimension::inches);
/// assert_eq!(next(8.3), Some(9.0));
/// assert_eq!(next(12.01), Some(14.0));
/// assert_eq!(next(120.0), None);
/// ```
pub fn round_at_least(diameter: Dimension) -> Option<Dimension> {
    let inches = (diameter.inches() - SAME_SIZE).max(SMALLEST_ROUND);
    let step = if inches > EVERY_INCH_UP_TO { 2.0 } else { 1.0 };
    in_stock((inches / step).ceil() * step)
}

/// The stock side of a rectangular duct that is at least this large: even inches from 4; nothing past 100 in.
pub fn side_at_least(side: Dimension) -> Option<Dimension> {
    let inches = (side.inches() - SAME_SIZE).max(SMALLEST_SIDE);
    in_stock((inches / 2.0).ceil() * 2.0)
}

fn in_stock(inches: f64) -> Option<Dimension> {
    let size = Dimension::from_in(inches);
    (size <= LARGEST_SIZE).then_some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stock_size_is_its_own_next() {
        for inches in [4.0, 7.0, 10.0, 12.0, 20.0, 100.0] {
            let size = Dimension::from_in(inches + 1e-9);
            assert_eq!(round_at_least(size), Some(Dimension::from_in(inches)));
        }
        assert_eq!(side_at_least(Dimension::from_in(1.0)), Some(Dimension::from_in(4.0)));
        assert_eq!(side_at_least(Dimension::from_in(13.2)), Some(Dimension::from_in(14.0)));
        assert_eq!(side_at_least(Dimension::from_in(f64::NAN)), Some(Dimension::from_in(4.0)));
    }
}
