//! ± by draws of the whole budget of errors, beside what linear propagation tells.

use super::part::part;
use crate::model::solution::draws::{Checked, Draws};

part! {
    fn monte_carlo(draws: &Draws) -> MonteCarlo {
        draws: usize = draws.count,
        off_curve_fraction: f64 = draws.lost_fraction(),
        airflow: Option<CheckedPart> = draws.now.as_ref().map(checked),
        airflow_after: Option<CheckedPart> = draws.then.as_ref().map(checked),
        gain: Option<CheckedPart> = draws.gain.as_ref().map(checked),
    }
}

part! {
    fn checked(figure: &Checked) -> CheckedPart {
        u_linear_cfm: f64 = figure.linear.cfm(),
        u_drawn_cfm: f64 = figure.drawn.cfm(),
        u95_drawn_cfm: f64 = figure.spread.cfm(),
        u95_is_drawn: bool = figure.differs(),
    }
}
