//! A static pressure against the highest that the rating plate allows.

use crate::units::Pressure;

/// On which side of the plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlateSide {
    /// Under it.
    Under,
    /// Within the uncertainty of it.
    AtLimit,
    /// Over it.
    Over,
}

/// Which of the two figures decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deciding {
    /// TESP as read.
    AsRead,
    /// TESP brought to the table's density (higher in thin air).
    AtTableDensity,
}

/// The verdict against the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateVerdict {
    /// The rated maximum.
    pub limit: Pressure,
    /// The worse of the two figures.
    pub worse: Pressure,
    /// Which one it is.
    pub deciding: Deciding,
    /// Where it lies.
    pub side: PlateSide,
}

impl PlateVerdict {
    /// True at or under it by the figures themselves, whatever their ±: what advice is held to, and cheapest sets.
    pub fn is_kept(&self) -> bool {
        self.worse <= self.limit
    }
}

/// Compares TESP as read and at table density with the plate; the worse decides.
///
/// `entry_ratio` is what the static is divided by before the table is entered: a motor that holds its torque is held against the plate as read.
/// `spread` is the ± (95 %) of the static, within which it says *at the limit*; it grows with the figure that decides.
pub fn judge(tesp: Pressure, limit: Pressure, entry_ratio: f64, spread: Pressure) -> PlateVerdict {
    let at_table = tesp / entry_ratio;
    let (worse, deciding) =
        if at_table > tesp { (at_table, Deciding::AtTableDensity) } else { (tesp, Deciding::AsRead) };
    let side = if (worse - limit).abs() <= spread * (worse / tesp) {
        PlateSide::AtLimit
    } else if worse > limit {
        PlateSide::Over
    } else {
        PlateSide::Under
    };
    PlateVerdict { limit, worse, deciding, side }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_thin_air_the_table_density_decides() {
        let of = Pressure::from_in_wc;
        let verdict = judge(of(0.45), of(0.50), 0.83, Pressure::ZERO);
        assert_eq!((verdict.deciding, verdict.side), (Deciding::AtTableDensity, PlateSide::Over));
        let heavy = judge(of(0.45), of(0.50), 1.02, Pressure::ZERO);
        assert_eq!((heavy.deciding, heavy.side), (Deciding::AsRead, PlateSide::Under));
        let near = judge(of(0.49), of(0.50), 1.0, of(0.02));
        assert_eq!(near.side, PlateSide::AtLimit);
    }
}
