//! What an open change does by itself, worked out while it is edited, and the size that an allowed drop or velocity asks for.

use crate::model::change::on_parts::Place;
use crate::model::change::{self, Effect};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::{Change, ChangeKind, MoreFilterArea, Opening, OtherDuct, OtherOpening, SecondReturn};
use crate::model::laws::duct::{filter, opening, size, stock};
use crate::model::path::parts::{Part, flows};
use crate::model::solution::changed::duct_air;
use crate::model::verdicts::system::Running;
use crate::ui::view::{Allowed, Screen};
use crate::units::{Airflow, Area, Dimension, Pressure, Velocity, show};

/// What a change does alone to the parts that it takes hold of, at the airflow of the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eased {
    /// Their drop as read.
    pub before: Pressure,
    /// Their drop with the change.
    pub after: Pressure,
    /// Airflow at which both hold.
    pub airflow: Airflow,
}

fn place<'a>(screen: &Screen<'a>, point: &Running) -> Place<'a> {
    Place {
        path: &screen.job.path,
        basis: screen.job.machine.as_ref().map(|table| &table.basis),
        air: duct_air(screen.job, screen.answer.blower().air.density),
        airflow: point.now.airflow,
        density_ratio: screen.answer.blower().density_ratio,
        dried_for: None,
    }
}

/// What a change does alone; nothing where there is no point, or nothing that it takes hold of.
///
/// # Errors
/// The sentence why it cannot be put on.
pub fn eased(screen: &Screen<'_>, kind: &ChangeKind) -> Result<Option<Eased>, String> {
    let Some(point) = screen.answer.point() else {
        return Ok(None);
    };
    let held = kind.takes_hold_of(&screen.job.path);
    if held.is_empty() {
        return Ok(None);
    }
    let place = place(screen, point);
    let mut parts = point.system.parts.clone();
    let done = kind.put_on(&mut parts, &place).map_err(|refusal| refusal.sentence(screen.units))?;
    // Another machine brings parts of its own, and a coil in the table has no drop of its own.
    if !matches!(done, Effect::Done) || matches!(kind, ChangeKind::Seal(_)) {
        return Ok(None);
    }
    // An element in a way has its own share of the air.
    let at = |parts: &[Part]| match kind.element() {
        Some(id) => flows::at_element(parts, id, place.airflow),
        None => Some((place.airflow, drop_of(parts, &held, place.airflow))),
    };
    let (Some((airflow, before)), Some((_, after))) = (at(&point.system.parts), at(&parts)) else {
        return Ok(None);
    };
    Ok(Some(Eased { before, after, airflow }))
}

fn drop_of(parts: &[Part], held: &[ElementId], airflow: Airflow) -> Pressure {
    parts
        .iter()
        .filter(|part| !part.elements.is_empty() && part.elements.iter().all(|id| held.contains(id)))
        .fold(Pressure::ZERO, |sum, part| sum + part.drop_at(airflow))
}

/// The size that would do, in a line; nothing where nothing is allowed yet or nothing is read.
///
/// # Errors
/// The sentence why there is none.
pub fn size_for(screen: &Screen<'_>, kind: &ChangeKind, allowed: Allowed) -> Result<Option<String>, String> {
    let Some(point) = screen.answer.point() else {
        return Ok(None);
    };
    let place = place(screen, point);
    match (kind, allowed.drop, allowed.velocity) {
        (ChangeKind::SecondReturn { .. }, _, Some(velocity)) => for_velocity(screen, kind, velocity, &place),
        (_, Some(drop), _) => for_drop(screen, kind, drop, &place),
        _ => Ok(None),
    }
}

/// The editor's own figure is scaled to the reading, so the allowed drop is scaled back to what the formulas give.
fn for_drop(
    screen: &Screen<'_>,
    kind: &ChangeKind,
    allowed: Pressure,
    place: &Place<'_>,
) -> Result<Option<String>, String> {
    let units = screen.units;
    let sentence = |error: crate::model::facts::duct::refusal::InputError| error.sentence(units);
    let Some(eased) = eased(screen, kind)?.filter(|eased| eased.before > Pressure::ZERO) else {
        return Ok(None);
    };
    let (read, place) = (eased.before, &Place { airflow: eased.airflow, ..*place });
    let line = match kind {
        ChangeKind::OtherDuct(OtherDuct { now, then, .. }) => {
            let computed = now.drop_at(place.airflow, place.air).map_err(sentence)?.total();
            let diameter =
                size::round_for_drop(*then, place.airflow, computed * (allowed / read), place.air).map_err(sentence)?;
            round(screen, diameter)
        }
        ChangeKind::OtherOpening(OtherOpening { now, then, .. }) => {
            let computed = opening_drop(now, place)?;
            let coefficient = opening::grille_coefficient(then.free_area).map_err(sentence)?;
            let face = opening::face_for_drop(place.airflow, coefficient, computed * (allowed / read), place.air)
                .map_err(sentence)?;
            area(screen, face)
        }
        ChangeKind::MoreFilterArea(MoreFilterArea { element, now, .. }) => {
            let exponent = place.path.element(*element).map(crate::model::facts::air_path::Element::drop_exponent);
            let exponent = exponent.ok_or("The element that this change was put on is gone")?;
            area(screen, filter::area_for_drop(read, *now, allowed, exponent).map_err(sentence)?)
        }
        _ => return Ok(None),
    };
    Ok(Some(line))
}

fn opening_drop(face: &Opening, place: &Place<'_>) -> Result<Pressure, String> {
    let coefficient = opening::grille_coefficient(face.free_area).map_err(|error| error.to_string())?;
    opening::opening_drop(place.airflow, face.face, coefficient, place.air).map_err(|error| error.to_string())
}

fn for_velocity(
    screen: &Screen<'_>,
    kind: &ChangeKind,
    velocity: Velocity,
    place: &Place<'_>,
) -> Result<Option<String>, String> {
    let Some(taken) = second_way_takes(screen, kind, place)? else {
        return Ok(None);
    };
    let diameter = size::round_for_velocity(taken, velocity).map_err(|error| error.sentence(screen.units))?;
    Ok(Some(round(screen, diameter)))
}

fn round(screen: &Screen<'_>, diameter: Dimension) -> String {
    let exact = show::dimension(diameter, screen.units);
    stock::round_at_least(diameter).map_or_else(
        || format!("{exact} round, larger than any stock size"),
        |stocked| format!("{} round, the next stock size over {exact}", show::dimension(stocked, screen.units)),
    )
}

fn area(screen: &Screen<'_>, face: Area) -> String {
    format!("{} or more", show::area(face, screen.units))
}

/// Airflow through a second return alone, while the blower moves what was read: the part of it that the first way no longer carries.
fn second_way_takes(screen: &Screen<'_>, kind: &ChangeKind, place: &Place<'_>) -> Result<Option<Airflow>, String> {
    let (Some(eased), Some(point)) = (eased(screen, kind)?, screen.answer.point()) else {
        return Ok(None);
    };
    let held = kind.takes_hold_of(&screen.job.path);
    // The first way's drop rises with its airflow, so halving finds the airflow that has the joined drop.
    let (mut low, mut high) = (Airflow::ZERO, place.airflow);
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        if drop_of(&point.system.parts, &held, middle) < eased.after {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Some(place.airflow - high))
}

/// What a seal does alone: it may cost the blower air while the rooms get more.
pub fn sealed(screen: &Screen<'_>, change: &Change) -> Option<String> {
    let point = screen.answer.point()?;
    let worth = screen.answer.with_changes()?.worths.iter().find(|worth| worth.id == change.id)?;
    let (gain, rooms) = (worth.gain.as_ref().ok()?.least, worth.to_rooms?);
    let from_to = |from: Airflow, gain: Airflow| {
        let bare = |airflow| show::airflow_bare(airflow, screen.units);
        format!("{} → {} {}", bare(from), bare(from + gain), screen.units.airflow_unit())
    };
    Some(format!(
        "At the blower {}, to the rooms {}",
        from_to(point.now.airflow, gain),
        from_to(point.delivered().to_rooms, rooms)
    ))
}

/// What else the editor says of a change: the airflow of a second return and its velocities.
///
/// # Errors
/// The sentence why it cannot be put on.
pub fn aside(screen: &Screen<'_>, kind: &ChangeKind) -> Result<Option<String>, String> {
    let (ChangeKind::SecondReturn(SecondReturn { run, grille, .. }), Some(point)) = (kind, screen.answer.point())
    else {
        return Ok(None);
    };
    let units = screen.units;
    let place = place(screen, point);
    let Some(taken) = second_way_takes(screen, kind, &place)? else {
        return Ok(None);
    };
    let at_face = opening::face_velocity(taken, grille.face).map_err(|error| error.sentence(units))?;
    Ok(Some(format!(
        "≈ {} come this way: {} in the {}, {} at the grille's face",
        show::airflow(taken, units),
        show::velocity(run.section.velocity(taken), units),
        change::section(run.section, units),
        show::velocity(at_face, units)
    )))
}
