//! What every element of a path takes, and the pressure between them, at one airflow of the blower.

use crate::model::facts::air_path::{Element, ElementId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::path::parts::flows::{self, Passing};
use crate::model::path::parts::{Part, Route, part_of};
use crate::model::path::tesp;
use crate::units::{Airflow, Pressure};

/// One element of the path, in the chain or in a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Along {
    /// Which one.
    pub element: ElementId,
    /// Airflow through it.
    pub airflow: Airflow,
    /// Its own drop at that airflow; nothing where it is one of several in an unsplit stretch, or not known.
    pub drop: Option<Pressure>,
    /// How its drop is known; nothing for an inside part, which the table has.
    pub standing: Option<PathStanding>,
}

/// The air and the pressure along a path.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Profile {
    /// Every element, those in ways included, in flow order.
    pub elements: Vec<Along>,
    /// Elements of the chain that are known together only, with their drop; none of them has a drop of its own.
    pub together: Vec<(Vec<ElementId>, Pressure)>,
    /// Airflow of each way: the group, the way's place in it, the airflow, and its share of the group's.
    pub ways: Vec<(ElementId, usize, Airflow, f64)>,
    /// Airflow of the bypass; nothing without one.
    pub bypass: Option<Airflow>,
    /// Drop of the whole external path.
    pub total: Pressure,
}

impl Profile {
    /// An element.
    pub fn at(&self, id: ElementId) -> Option<&Along> {
        self.elements.iter().find(|along| along.element == id)
    }

    /// An element's own drop.
    pub fn drop(&self, id: ElementId) -> Option<Pressure> {
        self.at(id)?.drop
    }

    /// Airflow of a way, and its share of the group's.
    pub fn way(&self, group: ElementId, place: usize) -> Option<(Airflow, f64)> {
        let found = self.ways.iter().find(|(id, way, ..)| *id == group && *way == place);
        found.map(|(.., airflow, share)| (*airflow, *share))
    }

    /// An element's share of the external drop.
    pub fn share(&self, id: ElementId) -> Option<f64> {
        self.share_of(self.at(id).filter(|along| along.standing.is_some())?.drop?)
    }

    /// A drop over the external drop.
    pub fn share_of(&self, drop: Pressure) -> Option<f64> {
        (self.total > Pressure::ZERO).then(|| drop / self.total)
    }
}

/// Works it out; `density_ratio` is ρ/ρ_table at the blower.
pub fn along(job: &Job, table: &BlowerTable, parts: &[Part], blower: Airflow, density_ratio: f64) -> Profile {
    let passing = flows::passing(parts, blower);
    let elements = job.path.all().into_iter().map(|element| {
        let own = passing.iter().find(|passing| passing.part.is(element.id));
        own.map_or_else(|| apart(job, table, element, blower, density_ratio), |own| known(element.id, own))
    });
    let has_bypass = job.path.bypass.is_some();
    Profile {
        elements: elements.collect(),
        together: together(&passing),
        ways: ways(job, parts, &passing),
        bypass: has_bypass.then(|| flows::through(parts, Route::Bypass, blower)),
        total: flows::total(parts, blower),
    }
}

fn known(element: ElementId, Passing { part, airflow, drop }: &Passing<'_>) -> Along {
    Along { element, airflow: *airflow, drop: Some(*drop), standing: Some(part.standing) }
}

/// An element that is no part of the external path by itself: inside the table's planes, out, or one of several.
fn apart(job: &Job, table: &BlowerTable, element: &Element, blower: Airflow, density_ratio: f64) -> Along {
    let set = job.set();
    let airflow = blower * job.path.index_of(element.id).map_or(1.0, |index| job.path.share_through(index));
    let is_out = set.parts_out.contains(&element.id);
    let data = element.drop.as_ref().or_else(|| tesp::printed_drop(element, table, job.is_inside(element.id)));
    let by_data = || Some(data?.in_air(airflow, density_ratio));
    let drop = if is_out { None } else { set.across(element.id).or_else(by_data) };
    Along { element: element.id, airflow, drop, standing: None }
}

fn together(passing: &[Passing<'_>]) -> Vec<(Vec<ElementId>, Pressure)> {
    let several = passing.iter().filter(|passing| passing.part.elements.len() > 1);
    several.map(|passing| (passing.part.elements.clone(), passing.drop)).collect()
}

fn ways(job: &Job, parts: &[Part], passing: &[Passing<'_>]) -> Vec<(ElementId, usize, Airflow, f64)> {
    let groups = job.path.all().into_iter().filter(|element| element.is_group());
    groups
        .filter_map(|group| {
            let at = passing.iter().find(|passing| passing.part.is(group.id))?;
            let flows = flows::of_ways(part_of(parts, group.id)?, at.airflow);
            let share = |flow: Airflow| if at.airflow > Airflow::ZERO { flow / at.airflow } else { 0.0 };
            Some(flows.into_iter().enumerate().map(move |(way, flow)| (group.id, way, flow, share(flow))))
        })
        .flatten()
        .collect()
}
