//! What is said where ± is told by draws of all errors at once.

use crate::model::solution::draws::{Checked, Draws};
use crate::units::show;

/// Which figures' ± are told by draws, and why.
pub(super) fn sentence(draws: &Draws) -> String {
    let named = [(draws.now, "today's airflow"), (draws.then, "the airflow then"), (draws.gain, "the gain")];
    let told = |(checked, name): (Option<Checked>, &'static str)| checked.filter(Checked::differs).map(|_| name);
    let names: Vec<&str> = named.into_iter().filter_map(told).collect();
    format!(
        "± of {} is that of {} draws of all errors at once: the curves bend too much for the straight reckoning",
        names.join(" and "),
        show::number(draws.count as f64, 0)
    )
}
