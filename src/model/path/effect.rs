//! What a change does to the parts of the path, at the airflow of the readings.
//!
//! Editors of a larger duct or grille scale the read drop by computed then / computed now, for the reading knows the fittings and the editor does not; only new runs are absolute.

use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, Way};
use crate::model::facts::blower::Call;
use crate::model::facts::change::{
    ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening, OtherCoilState,
    OtherDuct, OtherOpening, PanelOff, RepairRun, Seal, SecondReturn, check,
};
use crate::model::facts::duct::run::Run;
use crate::model::facts::numbers::job::LEAST_FLOW;
use crate::model::facts::standing::PathStanding;
use crate::model::laws::duct::air_properties::DuctAir;
use crate::model::laws::duct::{filter, opening, registers, run};
use crate::model::laws::system_curve::{PowerLaw, SystemCurve};
use crate::model::path::parts::{self, Part, Route};
use crate::units::Airflow;

/// Where changes are worked out: the air in the ducts and the airflow of the readings.
#[derive(Clone, Copy, Debug)]
pub struct Place<'a> {
    /// The chain.
    pub path: &'a AirPath,
    /// Air in the ducts.
    pub air: DuctAir,
    /// Airflow of the readings.
    pub airflow: Airflow,
    /// ρ/ρ_table, to which drops by data are brought.
    pub density_ratio: f64,
    /// The call that left a coil dry that was read wet.
    pub dried_for: Option<Call>,
}

impl Place<'_> {
    /// Whether the coil's state can be changed by hand.
    ///
    /// # Errors
    /// A sentence where another call has dried it already.
    pub fn other_coil_state(&self) -> Result<(), String> {
        let said = |call: Call| format!("{} leaves the coil dry already; take this off", call.name());
        self.dried_for.map_or(Ok(()), |call| Err(said(call)))
    }
}

/// Puts one change on the parts.
///
/// Changes of tap and blower leave the parts alone.
///
/// # Errors
/// A sentence: an element that is gone, a size that cannot be, a drop that would turn negative.
pub fn put_on(parts: &mut Vec<Part>, kind: &ChangeKind, place: &Place<'_>) -> Result<(), String> {
    let sentence = |error: crate::model::facts::duct::refusal::InputError| error.to_string();
    check::numbers(kind)?;
    match kind {
        ChangeKind::LessByHand(LessByHand { element, fraction })
        | ChangeKind::CleanCoil(CleanCoil { element, fraction })
        | ChangeKind::RepairRun(RepairRun { element, fraction }) => scale(parts, place.path, *element, 1.0 - fraction),
        ChangeKind::FilterLoading(FilterLoading { element, factor }) => scale(parts, place.path, *element, *factor),
        ChangeKind::ByData(ByData { element, data }) => {
            let part = part_of(parts, place.path, *element)?;
            let mut own = SystemCurve::default();
            own.add_data(data, data.density_factor(place.density_ratio));
            part.own = with_room(own, part.flow)?;
            part.standing = PathStanding::Assumed;
            Ok(())
        }
        ChangeKind::MoreFilterArea(MoreFilterArea { element, now, then }) => {
            // At n = 1 the factor is the areas' own ratio: the share of the air that the old media's area passes.
            let share = filter::area_factor(*now, *then, 1.0).map_err(sentence)?;
            pass_share(parts, place.path, *element, share)
        }
        ChangeKind::OtherDuct(OtherDuct { element, now, then }) => {
            let airflow = part_of(parts, place.path, *element)?.flow;
            let factor = run::drop_ratio(*now, *then, airflow, place.air).map_err(sentence)?;
            scale(parts, place.path, *element, factor)
        }
        ChangeKind::OtherOpening(OtherOpening { element, now, then }) => {
            let (now, then) = (opening_law(now, place.air)?.coefficient, opening_law(then, place.air)?.coefficient);
            if now <= 0.0 {
                return Err("An opening that is all free loses nothing, so nothing follows from its drop; give the free area that it has now".to_owned());
            }
            let factor = then / now;
            scale(parts, place.path, *element, factor)
        }
        ChangeKind::OpenRegisters(OpenRegisters { element, now, then, of }) => {
            // At n = 1 the factor is the counts' own ratio: the share of the air that as many as were open pass.
            let share = registers::from_open_to_open(*now, *then, *of, 1.0).map_err(sentence)?;
            pass_share(parts, place.path, *element, share)
        }
        ChangeKind::SecondReturn(SecondReturn { run, grille, filter }) => {
            if filter.is_none() && would_pass_by_filters(place.path) {
                return Err("Every filter stands before the place where a second return joins, so its air would pass none; give it a filter of its own".to_owned());
            }
            let way = second_way(run, grille, filter.as_ref(), place)?;
            join_return(parts, place.path, way, filter.is_some())
        }
        ChangeKind::Seal(Seal { element, fraction }) => seal(parts, place.path, *element, *fraction),
        ChangeKind::PanelOff(PanelOff { area }) => {
            let hole = opening::orifice_law(*area, place.air).map_err(sentence)?;
            panel_off(parts, place, hole)
        }
        ChangeKind::OtherCoilState(OtherCoilState { element, factor }) => {
            place.other_coil_state()?;
            scale(parts, place.path, *element, *factor)
        }
        ChangeKind::OtherTap(_)
        | ChangeKind::BelowTable { .. }
        | ChangeKind::OtherCall(_)
        | ChangeKind::OtherMachine(_) => Ok(()),
    }
}

/// The hole of a leak or a bypass made smaller; shut altogether its way is gone.
fn seal(parts: &mut Vec<Part>, path: &AirPath, id: ElementId, fraction: f64) -> Result<(), String> {
    if fraction >= 1.0 {
        part_of(parts, path, id)?;
        close(parts, id);
        return Ok(());
    }
    pass_share(parts, path, id, 1.0 / (1.0 - fraction))
}

fn close(parts: &mut Vec<Part>, id: ElementId) {
    parts.retain(|part| !part.is(id));
    for part in parts {
        for way in &mut part.ways {
            close(way, id);
        }
        part.ways.retain(|way| !way.is_empty());
    }
}

/// A hole beside everything before the blower.
fn panel_off(parts: &mut Vec<Part>, place: &Place<'_>, hole: PowerLaw) -> Result<(), String> {
    let (before, rest): (Vec<Part>, Vec<Part>) =
        std::mem::take(parts).into_iter().partition(|part| part.before_blower && part.route != Route::Bypass);
    *parts = rest;
    one_route(&before, "A hole between filter and blower")?;
    let Some(first) = before.first() else {
        return Err("A panel off needs a read return side to stand beside".to_owned());
    };
    let mut own = SystemCurve::default();
    own.add_law(hole);
    let own = with_room(own, place.airflow)?;
    let hole = Part {
        elements: Vec::new(),
        before_blower: true,
        route: first.route,
        own,
        ways: Vec::new(),
        warmth: None,
        flow: place.airflow,
        leaks: true,
        standing: PathStanding::Assumed,
    };
    parts.insert(0, with_way_beside(before, hole));
    Ok(())
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

/// What is laid beside parts has to begin and end on one side of where a bypass joins.
fn one_route(beside: &[Part], what: &str) -> Result<(), String> {
    if beside.windows(2).all(|pair| pair[0].route == pair[1].route) {
        return Ok(());
    }
    Err(format!(
        "{what} goes past the place where the bypass joins, which cannot be worked out; take the bypass away or shut it first"
    ))
}

/// The elements that a change needs as parts of their own.
pub fn takes_hold_of(kind: &ChangeKind, path: &AirPath) -> Vec<ElementId> {
    match kind {
        ChangeKind::SecondReturn(SecondReturn { filter, .. }) => joined(path, filter.is_some()),
        ChangeKind::PanelOff { .. } => before_blower(path).iter().map(|element| element.id).collect(),
        ChangeKind::OtherMachine(replacement) => replacement.leaves.clone(),
        other => other.element().into_iter().collect(),
    }
}

fn part_of<'a>(parts: &'a mut [Part], path: &AirPath, id: ElementId) -> Result<&'a mut Part, String> {
    parts::part_mut(parts, id).ok_or_else(|| match path.name_of(id) {
        Some(name) => format!(
            "The {} is no external part with a drop of its own: it belongs to the table, is out of the path, or no drop is read, known or left for it",
            name.to_lowercase()
        ),
        None => "The element that this change was put on is gone".to_owned(),
    })
}

/// Every drop of an element, or of a group with all its ways, times a factor.
fn scale(parts: &mut [Part], path: &AirPath, id: ElementId, factor: f64) -> Result<(), String> {
    with_law(parts, path, id, |law| law.scaled(factor))
}

/// An element that passes `1/share` times the air at the same drop, whatever its law: more or less of the same stands beside itself.
fn pass_share(parts: &mut [Part], path: &AirPath, id: ElementId, share: f64) -> Result<(), String> {
    with_law(parts, path, id, |law| law.of_share(share))
}

fn with_law(
    parts: &mut [Part],
    path: &AirPath,
    id: ElementId,
    of_law: impl Fn(&SystemCurve) -> SystemCurve,
) -> Result<(), String> {
    let part = part_of(parts, path, id)?;
    let mut then = part.clone();
    then.each_law(&of_law);
    has_room(&then)?;
    *part = then;
    part.standing = part.standing.max(PathStanding::Assumed);
    Ok(())
}

/// Drop at the airflow of the readings past which a law shuts its way, in. w.c.: beside a part that drops 1 in. w.c. it would pass less than the least share of the air.
const SHUT: f64 = 1.0 / (LEAST_FLOW * LEAST_FLOW);

/// A law with a drop that can be worked with at an airflow; sizes next to nothing, and changes on changes, lead to one without end.
fn with_room(law: SystemCurve, airflow: Airflow) -> Result<SystemCurve, String> {
    leaves_room(&law, airflow)?;
    Ok(law)
}

fn leaves_room(law: &SystemCurve, airflow: Airflow) -> Result<(), String> {
    let drop = law.drop_at(airflow).in_wc();
    if drop.is_finite() && drop <= SHUT {
        return Ok(());
    }
    Err("This leaves so little room for the air, or so much, that no drop can be worked out; is a size or a factor mistyped?".to_owned())
}

/// The same for every law of a part, each at the airflow of its own.
fn has_room(part: &Part) -> Result<(), String> {
    leaves_room(&part.own, part.flow)?;
    part.ways.iter().flatten().try_for_each(has_room)
}

/// Law of a bare face by its free area.
fn opening_law(face: &Opening, air: DuctAir) -> Result<PowerLaw, String> {
    opening::grille_coefficient(face.free_area)
        .and_then(|coefficient| opening::opening_law(face.face, coefficient, air))
        .map_err(|error| error.to_string())
}

/// The new run with its grille and, where it has one, its filter.
fn second_way(
    run: &Run,
    grille: &Opening,
    own_filter: Option<&crate::model::facts::drop_data::DropData>,
    place: &Place<'_>,
) -> Result<SystemCurve, String> {
    // Half the read airflow: the law of a duct hardly changes about it (its exponent is taken there).
    let airflow = place.airflow / 2.0;
    let lost = run.drop_at(airflow, place.air).map_err(|error| error.to_string())?;
    let mut way = SystemCurve::default();
    way.add_law(PowerLaw::through(airflow, lost.total(), lost.exponent()));
    way.add_law(opening_law(grille, place.air)?);
    if let Some(filter) = own_filter {
        way.add_data(filter, filter.density_factor(place.density_ratio));
    }
    with_room(way, place.airflow)
}

fn before_blower(path: &AirPath) -> &[Element] {
    path.elements.get(..path.blower().unwrap_or_default()).unwrap_or_default()
}

/// The elements that a second return stands beside: grilles and ducts, and the filters before the last of them; those behind it too where the new one brings its own.
fn joined(path: &AirPath, with_filter: bool) -> Vec<ElementId> {
    let before = before_blower(path);
    let end = before.iter().rposition(|element| is_of_return(element, false)).map_or(0, |last| last + 1);
    let beside = |(index, element): &(usize, &Element)| is_of_return(element, with_filter || *index < end);
    before.iter().enumerate().filter(beside).map(|(_, element)| element.id).collect()
}

/// True where all that filters the return's air stands before the place at which a second return without a filter joins.
pub(crate) fn would_pass_by_filters(path: &AirPath) -> bool {
    let beside = joined(path, false);
    let has_filter =
        |element: &&Element| element.kind == ElementKind::Filter || element.ways.iter().any(way_has_filter);
    let mut filters = before_blower(path).iter().filter(has_filter).peekable();
    filters.peek().is_some() && filters.all(|element| beside.contains(&element.id))
}

fn way_has_filter(way: &Way) -> bool {
    way.elements.iter().any(|element| element.kind == ElementKind::Filter || element.ways.iter().any(way_has_filter))
}

fn is_of_return(element: &Element, with_filter: bool) -> bool {
    match element.kind {
        ElementKind::Louvre | ElementKind::ReturnGrille | ElementKind::ReturnDuct | ElementKind::Leak => true,
        ElementKind::Filter => with_filter,
        // Filters in the grilles of a group are its own: what joins behind the group stands beside them as well.
        ElementKind::SideBySide => {
            element.ways.iter().flat_map(|way| &way.elements).all(|within| is_of_return(within, true))
        }
        _ => false,
    }
}

fn join_return(parts: &mut Vec<Part>, path: &AirPath, way: SystemCurve, with_filter: bool) -> Result<(), String> {
    let beside = joined(path, with_filter);
    let (stands, rest): (Vec<Part>, Vec<Part>) = std::mem::take(parts)
        .into_iter()
        .partition(|part| !part.elements.is_empty() && part.elements.iter().all(|id| beside.contains(id)));
    *parts = rest;
    one_route(&stands, "A second return with a filter of its own")?;
    let Some(first) = stands.first() else {
        return Err(
            "A second return needs a read or known drop of the return grille and duct to stand beside".to_owned()
        );
    };
    let second = Part {
        elements: Vec::new(),
        own: way,
        ways: Vec::new(),
        leaks: false,
        standing: PathStanding::Assumed,
        ..first.clone()
    };
    parts.insert(0, with_way_beside(stands, second));
    Ok(())
}
