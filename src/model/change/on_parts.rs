//! What changes do to the parts of the path, at the airflow of the readings.
//!
//! Editors of a larger duct or grille scale the read drop by computed then / computed now, for the reading knows the fittings and the editor does not; only new runs are absolute.

use crate::model::change::Effect;
use crate::model::facts::air_path::{AirPath, Element, ElementId};
use crate::model::facts::blower::{Basis, Call};
use crate::model::facts::change::Opening;
use crate::model::facts::drop_data::AirRatio;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::numbers::job::LEAST_FLOW;
use crate::model::facts::refusal::{Beside, Refusal};
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::opening;
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::parts::{self, Part, Route};
use crate::units::Airflow;

/// Where changes are worked out: the air in the ducts and the airflow of the readings.
#[derive(Clone, Copy, Debug)]
pub struct Place<'a> {
    /// The chain.
    pub path: &'a AirPath,
    /// What the table of the machine that ran contains; nothing counts as contained where no table is known.
    pub basis: Option<&'a Basis>,
    /// Air in the ducts.
    pub air: DuctAir,
    /// Airflow of the readings.
    pub airflow: Airflow,
    /// The air at the blower over standard air, in which drops are published.
    pub data_air: AirRatio,
    /// The call that left a coil dry that was read wet.
    pub dried_for: Option<Call>,
}

impl Place<'_> {
    /// True for an element that the table of the machine that ran contains.
    pub fn is_inside(&self, id: ElementId) -> bool {
        let index = self.path.index_of(id).zip(self.basis);
        index.is_some_and(|(index, basis)| self.path.inside(basis).contains(&index))
    }
}

/// What a change does that is done to parts alone.
pub(crate) type OnParts = Result<Effect<'static>, Refusal>;

/// The part that an element is, where it has a drop of its own.
pub(super) fn part_of<'p>(parts: &'p mut [Part], path: &AirPath, id: ElementId) -> Result<&'p mut Part, Refusal> {
    parts::part_mut(parts, id).ok_or_else(|| match path.name_of(id) {
        Some(name) => Refusal::NoOwnDrop(name.to_owned()),
        None => Refusal::ElementGone,
    })
}

/// Every drop of an element, or of a group with all its ways, times a factor.
pub(crate) fn scale(parts: &mut [Part], path: &AirPath, id: ElementId, factor: f64) -> OnParts {
    changed(parts, path, id, |part| part.each_law(&|law| law.scaled(factor)))
}

/// An element that passes `1/share` times the air at the same drop, whatever its law: more or less of the same stands beside itself.
pub(super) fn pass_share(parts: &mut [Part], path: &AirPath, id: ElementId, share: f64) -> OnParts {
    changed(parts, path, id, |part| part.pass_share(share))
}

fn changed(parts: &mut [Part], path: &AirPath, id: ElementId, change: impl Fn(&mut Part)) -> OnParts {
    let part = part_of(parts, path, id)?;
    let mut then = part.clone();
    change(&mut then);
    has_room(&then)?;
    *part = then;
    part.standing = part.standing.max(PathStanding::Assumed);
    Ok(Effect::Done)
}

/// Drop at the airflow of the readings past which a law shuts its way, in. w.c.: beside a part that drops 1 in. w.c. it would pass less than the least share of the air.
const SHUT: f64 = 1.0 / (LEAST_FLOW * LEAST_FLOW);

/// A law with a drop that can be worked with at an airflow; sizes next to nothing, and changes on changes, lead to one without end.
pub(super) fn with_room(law: SystemCurve, airflow: Airflow) -> Result<SystemCurve, Refusal> {
    leaves_room(&law, airflow)?;
    Ok(law)
}

fn leaves_room(law: &SystemCurve, airflow: Airflow) -> Result<(), Refusal> {
    let drop = law.drop_at(airflow).in_wc();
    if drop.is_finite() && drop <= SHUT { Ok(()) } else { Err(Refusal::NoRoom) }
}

/// The same for every law of a part, each at the airflow of its own.
fn has_room(part: &Part) -> Result<(), Refusal> {
    leaves_room(&part.own, part.flow)?;
    part.ways.iter().flatten().try_for_each(has_room)
}

/// Law of a bare face by its free area.
pub(super) fn opening_law(face: &Opening, air: DuctAir) -> Result<PowerLaw, InputError> {
    opening::opening_law(face.face, opening::grille_coefficient(face.free_area)?, air)
}

/// The elements before the blower.
pub(super) fn before_blower(path: &AirPath) -> &[Element] {
    path.elements.get(..path.blower().unwrap_or_default()).unwrap_or_default()
}

/// Lays a way beside all the parts that `stands` chooses, which have to begin and end on one side of where a bypass joins; the way is made after the first of them.
pub(super) fn lay_beside(
    parts: &mut Vec<Part>,
    what: Beside,
    stands: impl Fn(&Part) -> bool,
    way: impl FnOnce(&Part) -> Part,
) -> OnParts {
    let stands = |part: &Part| part.route != Route::Inside && stands(part);
    let mut beside = parts.iter().filter(|part| stands(part));
    let first = beside.next().ok_or(Refusal::NothingBeside(what))?;
    if !beside.all(|part| part.route == first.route) {
        return Err(Refusal::PastBypass(what));
    }
    let way = way(first);
    let (stands, rest): (Vec<Part>, Vec<Part>) = std::mem::take(parts).into_iter().partition(stands);
    parts.push(with_way_beside(stands, way));
    parts.extend(rest);
    Ok(Effect::Done)
}

/// Parts with one more way beside all of them: a way of its own beside those that changes have laid there already, else a group of two.
///
/// So many second returns at one place are one group, and no group within a group within a group, which would be solved anew at every step of the outer one.
fn with_way_beside(stands: Vec<Part>, way: Part) -> Part {
    match <[Part; 1]>::try_from(stands) {
        Ok([mut group]) if is_laid_by_changes(&group) => {
            group.ways.push(vec![way]);
            group
        }
        Ok([alone]) => group_of(vec![alone], way),
        Err(several) => group_of(several, way),
    }
}

/// True for a group that [`with_way_beside`] has made: its last way is of no element of the path.
fn is_laid_by_changes(part: &Part) -> bool {
    part.ways.last().is_some_and(|way| matches!(&way[..], [last] if last.elements.is_empty()))
}

fn group_of(stands: Vec<Part>, way: Part) -> Part {
    let elements = stands.iter().flat_map(|part| part.elements.clone()).collect();
    let mut group = Part { elements, own: SystemCurve::default(), leaks: false, ..way.clone() };
    group.ways = vec![stands, vec![way]];
    group
}
