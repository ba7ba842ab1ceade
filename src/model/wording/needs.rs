//! What has to come out of a path: into the target's band, and to the full target.

use crate::model::facts::limits::Limits;
use crate::model::facts::standing::CurveStanding;
use crate::model::verdicts::needs::Ease;
use crate::units::show::{airflow, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// What a lesser drop is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Purpose {
    /// To come into the target's band.
    IntoBand,
    /// In the band already: to come under the rated maximum.
    UnderPlate,
}

impl Purpose {
    /// Of a tap that is in the band, or not.
    pub(super) const fn of(is_in_band: bool) -> Self {
        if is_in_band { Self::UnderPlate } else { Self::IntoBand }
    }
}

/// "tap 4 needs 0.21 in. w.c. less drop at 1,250 cfm to come into the band, 19 % of the path, and 0.58 for the full target": one figure where both are shown alike.
pub(super) fn less_drop(
    tap: &str,
    (band, full): (&Ease, Option<&Ease>),
    purpose: Purpose,
    at_least: bool,
    blamed: &[String],
    (limits, units): (&Limits, UnitSystem),
) -> String {
    let at_least = if at_least { "at least " } else { "" };
    let shown = |ease: &Ease| pressure_bare(ease.remove, units);
    let (into, full) = match full.filter(|_| purpose == Purpose::IntoBand).filter(|full| shown(full) != shown(band)) {
        Some(full) => (" to come into the band", format!(", and {at_least}{} for the full target", shown(full))),
        None if purpose == Purpose::UnderPlate => (" to come under the rated maximum", String::new()),
        None => ("", String::new()),
    };
    let (less, at, of_path) = (drop(band, units), at(band, units), of_path(band, units));
    let cannot = if band.share() > limits.most_out { cannot(blamed) } else { String::new() };
    format!("{tap} needs {at_least}{less} less drop at {at}{into}{of_path}{full}{cannot}")
}

/// After what is more than work on a path takes out of it; `blamed` are the states of the path that make it so.
fn cannot(blamed: &[String]) -> String {
    match blamed {
        [] => ": this machine cannot do it on these ducts".to_owned(),
        _ => format!(": it is what is on that takes it ({}), not the machine or the ducts", blamed.join("; ")),
    }
}

/// What a system with changes that is in the band would still take for all of the target.
pub(super) fn full_target(full: &Ease, units: UnitSystem) -> String {
    format!(
        "With changes, the full target still takes {} less drop at {}{}",
        drop(full, units),
        at(full, units),
        of_path(full, units)
    )
}

/// Why no path brings a tap into the band.
pub(super) fn too_strong(tap: &str, least: Airflow, units: UnitSystem) -> String {
    let least = airflow(least, units);
    format!("{tap} is too strong for this target: at the rated maximum it still moves {least}, over the band")
}

/// A drop that shows as nothing is no figure.
fn is_shown(ease: &Ease, units: UnitSystem) -> bool {
    pressure_bare(ease.remove, units) != pressure_bare(Pressure::ZERO, units)
}

fn drop(ease: &Ease, units: UnitSystem) -> String {
    if is_shown(ease, units) {
        pressure(ease.remove, units)
    } else {
        format!("under {}", pressure(units.pressure_of(units.pick(0.01, 1.0)), units))
    }
}

/// The airflow that a drop is told at, with its standing.
fn at(ease: &Ease, units: UnitSystem) -> String {
    let standing = match ease.standing {
        CurveStanding::Published => "",
        CurveStanding::Extrapolated => " (extrapolated)",
    };
    format!("{}{standing}", airflow(ease.at, units))
}

fn of_path(ease: &Ease, units: UnitSystem) -> String {
    if is_shown(ease, units) { format!(", {} of the path", percent(ease.share())) } else { String::new() }
}
