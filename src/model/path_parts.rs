//! The external path as parts with a law each: what a change can take hold of.
//!
//! A segment lies between two neighbouring ports, or between a port and the rooms; a reading gives its drop, never one element's.
//! A segment of one element is that element's.
//! A segment of several stays one lump with a square law until a person states a share or a change takes hold of one of them; then it is split by shares (`shared`).

use crate::model::air_path::{AirPath, Element, ElementId, ElementKind};
use crate::model::answer::operation::LUMP_EXPONENT;
use crate::model::blower::BlowerTable;
use crate::model::job::Job;
use crate::model::readings::ReadAt;
use crate::model::standing::PathStanding;
use crate::model::system_curve::{PowerLaw, SystemCurve};
use crate::model::tesp::ReadDifference;
use crate::units::{Airflow, Pressure};

/// Part of the external path.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The element, or the several of an unsplit segment, in flow order.
    pub elements: Vec<ElementId>,
    /// True before the blower.
    pub before_blower: bool,
    /// Its law at the job's density; a drop that a port beyond its plane counted too much is negative.
    pub curve: SystemCurve,
    /// How it is known.
    pub standing: PathStanding,
}

impl Part {
    /// True when it is one element, which a change can take hold of.
    pub fn is(&self, id: ElementId) -> bool {
        self.elements == [id]
    }
}

/// A stretch with a read drop.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Its elements that take a share: external, in the path, without data of their own.
    pub elements: Vec<ElementId>,
    /// True before the blower.
    pub before_blower: bool,
    /// What was read, less what its elements with data take.
    pub drop: Pressure,
}

/// Shares of a segment's elements, adding up to 1; stated ones as they are, the rest by usual weight.
///
/// # Errors
/// A sentence when stated shares are not between 0 and 1, or do not add up.
pub fn shares(elements: &[&Element]) -> Result<Vec<f64>, String> {
    let stated: f64 = elements.iter().filter_map(|element| element.share).sum();
    if let Some(bad) = elements.iter().find(|element| element.share.is_some_and(|share| !(0.0..=1.0).contains(&share)))
    {
        let percent = bad.share.unwrap_or_default() * 100.0;
        return Err(format!("{}: a share of {percent:.0} % cannot be; it lies between 0 and 100 %", bad.kind.name()));
    }
    let open: f64 =
        elements.iter().filter(|element| element.share.is_none()).map(|element| element.kind.usual_weight()).sum();
    let all_stated = elements.iter().all(|element| element.share.is_some());
    let adds_up = if all_stated { (stated - 1.0).abs() < 0.005 } else { stated < 1.0 - 1e-9 };
    if !adds_up {
        let names: Vec<&str> = elements.iter().map(|element| element.kind.name()).collect();
        let wanted = if all_stated { "100 %" } else { "less than 100 %, for the rest has a share too" };
        return Err(format!(
            "The shares of {} add up to {:.0} %; they must make {wanted}",
            names.join(", ").to_lowercase(),
            stated * 100.0
        ));
    }
    let rest = (1.0 - stated).max(0.0);
    Ok(elements
        .iter()
        .map(|element| match element.share {
            Some(share) if all_stated => share / stated,
            Some(share) => share,
            None => rest * element.kind.usual_weight() / open,
        })
        .collect())
}

/// The exponent of an element's drop.
pub fn exponent(element: &Element) -> f64 {
    element.exponent.unwrap_or_else(|| element.kind.usual_exponent())
}

/// Everything that the path is made of at the airflow of the readings.
///
/// # Errors
/// A sentence when shares cannot be used.
pub fn parts(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Result<Vec<Part>, String> {
    let mut parts = by_data(job, table, at);
    for segment in segments(job, table, at) {
        parts.extend(segment_parts(&job.path, &segment, at)?);
    }
    Ok(parts)
}

/// The point that the readings led to, and how the path through it is to be laid out.
#[derive(Clone, Copy, Debug)]
pub struct ReadPoint<'a> {
    /// What the manometer gave.
    pub read: &'a ReadDifference,
    /// The airflow that it led to.
    pub airflow: Airflow,
    /// The total external static that it led to.
    pub tesp: Pressure,
    /// ρ/ρ_table, to which drops by data are brought.
    pub density_ratio: f64,
    /// Elements that a change takes hold of.
    pub split: &'a [ElementId],
    /// Added to every exponent that is not by data; zero but for working out the uncertainty.
    pub exponent_shift: f64,
}

fn segment_parts(path: &AirPath, segment: &Segment, at: &ReadPoint<'_>) -> Result<Vec<Part>, String> {
    let elements: Vec<&Element> = segment.elements.iter().filter_map(|id| path.element(*id)).collect();
    let takes_hold = |element: &&Element| element.share.is_some() || at.split.contains(&element.id);
    let lump = elements.len() != 1 && !elements.iter().any(takes_hold);
    let law = |drop, exponent| {
        let mut curve = SystemCurve::default();
        curve.add_law(PowerLaw::through(at.airflow, drop, exponent + at.exponent_shift));
        curve
    };
    if lump || elements.is_empty() || segment.drop <= Pressure::ZERO {
        return Ok(vec![Part {
            elements: segment.elements.clone(),
            before_blower: segment.before_blower,
            curve: law(segment.drop, LUMP_EXPONENT),
            standing: PathStanding::Measured,
        }]);
    }
    let standing = if elements.len() == 1 { PathStanding::Measured } else { PathStanding::Shared };
    let shares = shares(&elements)?;
    Ok(elements
        .iter()
        .zip(shares)
        .map(|(element, share)| Part {
            elements: vec![element.id],
            before_blower: segment.before_blower,
            curve: law(segment.drop * share, exponent(element)),
            standing,
        })
        .collect())
}

/// External elements with a drop of their own by data, wherever they stand.
fn by_data(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Vec<Part> {
    let covered: Vec<ElementId> = segments(job, table, at).into_iter().flat_map(|segment| segment.elements).collect();
    let blower = job.path.blower().unwrap_or_default();
    external(job, table)
        .filter(|(_, element)| !covered.contains(&element.id))
        .filter_map(|(index, element)| {
            let data = element.drop.as_ref().or_else(|| printed(element, table))?;
            let mut curve = SystemCurve::default();
            curve.add_data(data, data.density_factor(at.density_ratio));
            Some(Part {
                elements: vec![element.id],
                before_blower: index < blower,
                curve,
                standing: PathStanding::Assumed,
            })
        })
        .collect()
}

/// Drop that the table prints for an element outside its basis.
fn printed<'a>(element: &Element, table: &'a BlowerTable) -> Option<&'a crate::model::drop_data::DropData> {
    match element.kind {
        ElementKind::Heater => table.corrections.heater.as_ref(),
        _ => None,
    }
}

fn external<'a>(job: &'a Job, table: &'a BlowerTable) -> impl Iterator<Item = (usize, &'a Element)> {
    let inside = job.path.inside(&table.basis);
    let out = &job.set().parts_out;
    job.path
        .elements
        .iter()
        .enumerate()
        .filter(move |(index, element)| !inside.contains(index) && !out.contains(&element.id))
}

/// The read stretches of the external path, in flow order.
///
/// Inside elements between a port and its plane are taken out of the stretch by their data, external ones with data likewise.
pub fn segments(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Vec<Segment> {
    if matches!(at.read, ReadDifference::Total(_)) {
        return vec![whole(job, table, at)];
    }
    let marks = marks(job, at.read);
    let stretches: Vec<Segment> = marks
        .windows(2)
        .filter(|pair| !spans_blower(job, pair[0].0, pair[1].0))
        .map(|pair| stretch(job, table, pair[0], pair[1], at))
        .collect();
    if stretches.iter().any(|segment| segment.drop < Pressure::ZERO) {
        return vec![whole(job, table, at)];
    }
    stretches
}

/// Places with a known pressure against the rooms: elements passed, and the pressure; the rooms stand at both ends.
///
/// The two ports that gave the difference across the machine have the pressures of `read`, which may have been moved to work out a sensitivity.
fn marks(job: &Job, read: &ReadDifference) -> Vec<(usize, Pressure)> {
    let given = match read {
        ReadDifference::Ports { before, after } => vec![*before, *after],
        ReadDifference::Total(_) => Vec::new(),
    };
    let mut marks: Vec<(usize, Pressure)> = job
        .path
        .ports
        .iter()
        .filter_map(|port| {
            let moved = given.iter().find(|(id, _)| *id == port.id).map(|(_, pressure)| *pressure);
            let pressure = moved.or_else(|| job.set().at(ReadAt::Port(port.id))?.average())?;
            Some((job.path.elements_before(port.id)?, pressure))
        })
        .collect();
    marks.push((0, Pressure::ZERO));
    marks.push((job.path.elements.len(), Pressure::ZERO));
    marks.sort_by_key(|(passed, _)| *passed);
    marks
}

fn spans_blower(job: &Job, from: usize, to: usize) -> bool {
    job.path.blower().is_some_and(|blower| (from..to).contains(&blower))
}

fn stretch(
    job: &Job,
    table: &BlowerTable,
    from: (usize, Pressure),
    to: (usize, Pressure),
    at: &ReadPoint<'_>,
) -> Segment {
    let inside = job.path.inside(&table.basis);
    let blower = job.path.blower().unwrap_or_default();
    let mut drop = from.1 - to.1;
    let mut elements = Vec::new();
    for index in from.0..to.0 {
        let element = &job.path.elements[index];
        if job.set().parts_out.contains(&element.id) || element.kind == ElementKind::HeatExchanger {
            continue;
        }
        match (&element.drop, inside.contains(&index)) {
            (Some(data), _) => drop = drop - data.in_air(at.airflow, at.density_ratio),
            (None, false) => elements.push(element.id),
            (None, true) => {}
        }
    }
    Segment { elements, before_blower: from.0 < blower, drop }
}

/// The whole external path as one stretch, when no split by side is known.
fn whole(job: &Job, table: &BlowerTable, at: &ReadPoint<'_>) -> Segment {
    let mut drop = at.tesp;
    let mut elements = Vec::new();
    for (_, element) in external(job, table) {
        match &element.drop {
            Some(data) => drop = drop - data.in_air(at.airflow, at.density_ratio),
            None => elements.push(element.id),
        }
    }
    Segment { elements, before_blower: true, drop }
}
