//! What is left for the ducts and what they take, in words.

use crate::model::answer::Answer;
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::OPENING_DROP;
use crate::model::facts::standing::PathStanding;
use crate::model::verdicts::duct_allowance::{
    AirflowFrom, DuctAllowance, DuctSide, LengthVerdict, SideRead, StaticFrom,
};
use crate::model::verdicts::findings::Finding;
use crate::units::show::{airflow, friction_rate_said, friction_rate_said_bare, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// Where the limit by length comes from.
const SOURCE: &str = "ANSI/ACCA 1 Manual D, recalled";

/// A finding about ducts as a sentence without its period; empty for any other.
pub fn finding(finding: &Finding, units: UnitSystem) -> String {
    if let Finding::NothingLeft { taken, of, airflow: at } = finding {
        return format!("{} ({SOURCE})", nothing_left((*taken, *of), *at, units));
    }
    let Finding::DuctsTake { side, with, taken, airflow: at, limit, is_at_most, rates } = finding else {
        return String::new();
    };
    format!(
        "The {} ducts{} take {} at {}; their length leaves them {}{} ({SOURCE}): {} where {} is allowed",
        side.name(),
        with_parts(with),
        pressure(*taken, units),
        airflow(*at, units),
        if *is_at_most { "at most " } else { "" },
        pressure_bare(*limit, units),
        friction_rate_said(rates.1, units),
        friction_rate_said_bare(rates.0, units)
    )
}

fn nothing_left((taken, of): (Pressure, Pressure), at: Airflow, units: UnitSystem) -> String {
    format!(
        "The parts with data take {} of {} at {}; nothing is left for the ducts",
        pressure_bare(taken, units),
        pressure(of, units),
        airflow(at, units)
    )
}

/// " with the grille and the filter", or nothing.
fn with_parts(kinds: &[ElementKind]) -> String {
    if kinds.is_empty() { String::new() } else { format!(" with the {}", named(kinds, " and the ")) }
}

fn named(kinds: &[ElementKind], between: &str) -> String {
    let names: Vec<String> = kinds.iter().map(|kind| short_name(*kind)).collect();
    names.join(between)
}

/// An element's name where its side is said already.
fn short_name(kind: ElementKind) -> String {
    if kind == ElementKind::ReturnGrille { "grille".to_owned() } else { kind.name().to_lowercase() }
}

/// What the parts with data take, from what, at which airflow; a sentence with its period.
pub fn parts(allowance: &DuctAllowance, units: UnitSystem) -> String {
    let from = match allowance.from {
        StaticFrom::RatedMaximum => "rated maximum",
        StaticFrom::Tap => "the most at which the tap delivers it",
        StaticFrom::DesignStatic => "design static",
    };
    let at = match allowance.airflow_from {
        AirflowFrom::Target => format!("At the target, {},", airflow(allowance.airflow, units)),
        AirflowFrom::Reading => format!("At {}, as read,", airflow(allowance.airflow, units)),
    };
    let allowed = pressure(allowance.allowed, units);
    if allowance.taken.is_empty() {
        return format!("{at} {allowed} ({from}) and no part whose drop is known.");
    }
    let each = allowance.taken.iter().map(|taken| {
        let about = if taken.standing == PathStanding::Shared { "≈ " } else { "" };
        let usual = if taken.is_usual { " (usual)" } else { "" };
        format!("{} {about}{}{usual}", short_name(taken.kind), pressure_bare(taken.drop, units))
    });
    let each: Vec<String> = each.collect();
    let taken = pressure_bare(allowance.parts_take(), units);
    format!("{at} parts take {taken} of {allowed} ({from}): {}.", each.join(", "))
}

/// What is left for the ducts, without its period.
pub fn left(allowance: &DuctAllowance, units: UnitSystem) -> String {
    if allowance.is_spent() {
        return nothing_left((allowance.parts_take(), allowance.allowed), allowance.airflow, units);
    }
    let at_most = if allowance.missing().is_empty() { "" } else { "at most " };
    let rate = allowance.rate.map(|rate| format!(", {}", friction_rate_said(rate, units))).unwrap_or_default();
    format!("Left for the ducts: {at_most}{}{rate}", pressure(allowance.left, units))
}

/// What a person could add so that more can be said, each a sentence with its period.
pub fn wanted(job: &Job, answer: &Answer) -> Vec<String> {
    if job.ducts.is_empty() || answer.point().is_none() {
        return Vec::new();
    }
    let Some(allowance) = &answer.ducts else {
        return vec![
            "No rated maximum and no target to start from: type the static that the system was designed for."
                .to_owned(),
        ];
    };
    let mut wanted = Vec::new();
    let missing = allowance.missing();
    if !missing.is_empty() && !allowance.is_spent() {
        wanted.push(if let [one] = missing[..] {
            format!("The {}'s drop is not known: click it on the air path to type it by data.", short_name(one))
        } else {
            let names = named(&missing, " and the ");
            format!("The drops of the {names} are not known: click each on the air path to type it by data.")
        });
    }
    let no_length: Vec<&str> =
        allowance.sides.iter().filter(|side| side.length.is_none()).map(|side| side.side.name()).collect();
    match no_length[..] {
        [] => {}
        [one] => wanted.push(format!("The {one} length is missing; the sides share what is left by length.")),
        _ => wanted.push("The lengths are missing; the sides share what is left by them.".to_owned()),
    }
    for side in PathSide::BOTH {
        if job.ducts.length(side).is_some() && allowance.side(side).is_none() {
            wanted.push(format!("This air path has no {} duct; its length does not count.", side.name()));
        }
    }
    wanted
}

/// One side in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SideWords {
    /// "Return: 0.12 in. w.c. left, takes 0.42", without its period.
    pub headline: String,
    /// What was read, and the friction rates; with periods.
    pub detail: String,
    /// True where it takes more than its share.
    pub is_over: bool,
}

/// What a side's ducts may take and take; nothing while its share is not known.
pub fn side(allowance: &DuctAllowance, ducts: &DuctSide, units: UnitSystem) -> Option<SideWords> {
    let share = pressure(ducts.share?, units);
    let at_most = if allowance.missing().is_empty() { "" } else { "at most " };
    let name = super::capital(ducts.side.name());
    let is_over = allowance.verdict(ducts.side) == LengthVerdict::Over;
    let Some(read) = &ducts.read else {
        let headline = format!("{name}: {at_most}{share} left");
        return Some(SideWords { headline, detail: "Not read on this side alone.".to_owned(), is_over });
    };
    if read.holds_more() {
        let held = named(&read.with, " and the ");
        let detail = format!(
            "{} {} with the {held}, not the ducts alone.",
            pressure_bare(read.at_reading, units),
            how(read.standing)
        );
        return Some(SideWords { headline: format!("{name}: {at_most}{share} left"), detail, is_over });
    }
    let others_are = allowance
        .sides
        .iter()
        .any(|other| other.side != ducts.side && allowance.verdict(other.side) == LengthVerdict::Over);
    let is_worst = others_are && allowance.worst().is_some_and(|worst| worst.side == ducts.side);
    let over = match (is_over, is_worst) {
        (true, true) => " · most over",
        (true, false) => " · over",
        _ => "",
    };
    let headline = format!("{name}: {at_most}{share} left, takes {}{over}", pressure_bare(read.at_allowance, units));
    Some(SideWords { headline, detail: detail(allowance, ducts, read, units), is_over })
}

fn detail(allowance: &DuctAllowance, ducts: &DuctSide, read: &SideRead, units: UnitSystem) -> String {
    let at = airflow(allowance.airflow, units);
    let taken =
        both((pressure_bare(read.at_reading, units), pressure_bare(read.at_allowance, units)), how(read.standing), &at);
    let mut text = if !read.with.is_empty() {
        format!("{} {taken}.", super::capital(with_parts(&read.with).trim_start()))
    } else if !read.less.is_empty() {
        let each = pressure_bare(OPENING_DROP, units);
        format!("{taken}, {each} off for the {}.", named(&read.less, " and the "))
    } else {
        format!("{taken}.")
    };
    if let (Some(rate), Some((read_rate, at_allowance))) = (allowance.rate, ducts.rates()) {
        let taken = both(
            (friction_rate_said_bare(read_rate, units), friction_rate_said_bare(at_allowance, units)),
            how(read.standing),
            &at,
        );
        text = format!("{text} {} allowed, {taken}.", friction_rate_said(rate, units));
    }
    text
}

/// "0.31 read, 0.42 at 1,385 cfm", or "0.31 read" where both are the same.
fn both((read, brought): (String, String), how: &str, at: &str) -> String {
    if read == brought { format!("{read} {how}") } else { format!("{read} {how}, {brought} at {at}") }
}

/// How a drop is known.
const fn how(standing: PathStanding) -> &'static str {
    match standing {
        PathStanding::Measured => "read",
        PathStanding::Shared => "by its share",
        PathStanding::Assumed => "by data",
    }
}

/// The one thing that the foot of the air path says of the ducts, longest wording first; nothing while no side can be judged.
pub fn foot(allowance: &DuctAllowance, units: UnitSystem) -> Vec<String> {
    if allowance.is_spent() {
        let (taken, of) = (pressure_bare(allowance.parts_take(), units), pressure_bare(allowance.allowed, units));
        return vec![left(allowance, units), format!("Parts take {taken} of {of}: none left for ducts")];
    }
    if let Some(worst) = allowance.worst() {
        return over(allowance, worst, units);
    }
    let within = |side: &&DuctSide| allowance.verdict(side.side) == LengthVerdict::Within;
    let sides = allowance.sides.iter().filter(within).filter_map(|side| {
        let taken = pressure_bare(side.read.as_ref()?.at_allowance, units);
        Some(format!("{} {taken} of {}", side.side.name(), pressure_bare(side.share?, units)))
    });
    let sides = sides.collect::<Vec<_>>().join(", ");
    if sides.is_empty() {
        return Vec::new();
    }
    let at = airflow(allowance.airflow, units);
    vec![
        format!("Ducts within what their lengths leave at {at}: {sides} {}", units.pressure_unit()),
        format!("Ducts: {sides} {} left", units.pressure_unit()),
        format!("Ducts: {sides}"),
    ]
}

fn over(allowance: &DuctAllowance, worst: &DuctSide, units: UnitSystem) -> Vec<String> {
    let (Some(share), Some(read), Some(rate), Some(rates)) = (worst.share, &worst.read, allowance.rate, worst.rates())
    else {
        return Vec::new();
    };
    let name = worst.side.name();
    let at_most = if allowance.missing().is_empty() { "" } else { "at most " };
    let (left, bare) = (pressure(share, units), pressure_bare(share, units));
    let at = airflow(allowance.airflow, units);
    let taken = pressure_bare(read.at_allowance, units);
    let drops = both((pressure_bare(read.at_reading, units), taken.clone()), how(read.standing), &at);
    vec![
        format!(
            "Ducts: {at_most}{left} left for the {name}, {drops}; {} allowed, {} taken",
            friction_rate_said(rate, units),
            friction_rate_said_bare(rates.1, units)
        ),
        format!("Ducts: {at_most}{left} left for the {name}, {drops}"),
        format!("Ducts: {at_most}{bare} left for the {name}, takes {taken}"),
        format!("{} ducts: {taken} of {at_most}{bare}", super::capital(name)),
    ]
}
