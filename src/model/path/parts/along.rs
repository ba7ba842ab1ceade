//! What every element of a path takes, and how the air is divided among its ways, at one airflow of the blower.

use crate::model::facts::air_path::{Element, ElementId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::PathStanding;
use crate::model::path::air::{self, DataAir};
use crate::model::path::parts::flows::{self, Passing};
use crate::model::path::parts::{Part, Route};
use crate::units::{Airflow, Pressure};

/// One element of the path, in the chain or in a way, or its bypass.
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

/// The air of one way of a group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayAir {
    /// The group.
    pub group: ElementId,
    /// The way's place in it.
    pub way: usize,
    /// Airflow of the way.
    pub airflow: Airflow,
    /// Its share of the group's, as a fraction; nothing where a change joined the group with its neighbours.
    pub share: Option<f64>,
}

/// The air and the drops along a path.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Profile {
    /// Every element, those in ways included, in flow order.
    pub elements: Vec<Along>,
    /// Elements of the chain that are known together only, with their drop; none of them has a drop of its own.
    pub together: Vec<(Vec<ElementId>, Pressure)>,
    /// The air of every way.
    pub ways: Vec<WayAir>,
    /// The bypass; shut altogether it passes nothing and has no drop.
    pub bypass: Option<Along>,
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

    /// An element that is a part of the external path by itself.
    pub fn part(&self, id: ElementId) -> Option<&Along> {
        self.at(id).filter(|along| along.standing.is_some())
    }

    /// The air of a way.
    pub fn way(&self, group: ElementId, place: usize) -> Option<&WayAir> {
        self.ways.iter().find(|air| air.group == group && air.way == place)
    }

    /// An element's share of the external drop.
    pub fn share(&self, id: ElementId) -> Option<f64> {
        self.share_of(self.part(id)?.drop?)
    }

    /// A drop over the external drop.
    pub fn share_of(&self, drop: Pressure) -> Option<f64> {
        (self.total > Pressure::ZERO).then(|| drop / self.total)
    }
}

/// Works it out; `density_ratio` is ρ/ρ_table at the blower, `left` are elements that left with an old machine: they drop nothing.
pub fn along(
    job: &Job,
    table: &BlowerTable,
    (parts, left): (&[Part], &[ElementId]),
    blower: Airflow,
    density_ratio: f64,
) -> Profile {
    let passing = flows::passing(parts, blower);
    let elements = job.path.all().into_iter().map(|element| match of_part(&passing, element.id) {
        Some(own) => known(element.id, own),
        None if left.contains(&element.id) => Along {
            drop: Some(Pressure::ZERO),
            standing: Some(PathStanding::Measured),
            ..apart(job, table, element, blower, density_ratio)
        },
        None => apart(job, table, element, blower, density_ratio),
    });
    let shut = |element| Along { element, airflow: Airflow::ZERO, drop: None, standing: None };
    let of_bypass = |id| of_part(&passing, id).map_or_else(|| shut(id), |own| known(id, own));
    Profile {
        elements: elements.collect(),
        together: together(&passing),
        ways: ways(job, &passing),
        bypass: job.path.bypass.as_ref().map(|bypass| of_bypass(bypass.id)),
        total: flows::total(parts, blower),
    }
}

fn of_part<'a, 'p>(passing: &'a [Passing<'p>], id: ElementId) -> Option<&'a Passing<'p>> {
    passing.iter().find(|passing| passing.part.is(id))
}

fn known(element: ElementId, Passing { part, airflow, drop }: &Passing<'_>) -> Along {
    let standing = (part.route != Route::Inside).then_some(part.standing);
    Along { element, airflow: *airflow, drop: Some(*drop), standing }
}

/// An element that is no part of the external path by itself: inside the table's planes, out, or one of several.
fn apart(job: &Job, table: &BlowerTable, element: &Element, blower: Airflow, density_ratio: f64) -> Along {
    let set = job.set();
    let airflow = blower * job.path.index_of(element.id).map_or(1.0, |index| job.path.share_through(index));
    let is_out = set.parts_out.contains(&element.id);
    let data_air = DataAir::of(&set.air, table.basis.table_density() * density_ratio, table);
    let by_data = || Some(air::by_data(element, table, data_air)?.at_airflow(airflow));
    let drop = if is_out { None } else { set.across(element.id).or_else(by_data) };
    Along { element: element.id, airflow, drop, standing: None }
}

fn together(passing: &[Passing<'_>]) -> Vec<(Vec<ElementId>, Pressure)> {
    let several = passing.iter().filter(|passing| passing.part.elements.len() > 1);
    several.map(|passing| (passing.part.elements.clone(), passing.drop)).collect()
}

fn ways(job: &Job, passing: &[Passing<'_>]) -> Vec<WayAir> {
    let groups = job.path.all().into_iter().filter(|element| element.is_group());
    groups.flat_map(|group| (0..group.ways.len()).filter_map(|way| way_air(group, way, passing))).collect()
}

/// The air of a way, by an element in it, or by its place where the group's ways are still as many.
fn way_air(group: &Element, way: usize, passing: &[Passing<'_>]) -> Option<WayAir> {
    let whole = of_part(passing, group.id);
    let within = group.ways[way].elements.iter().find_map(|element| of_part(passing, element.id));
    let by_place = || {
        let flows = flows::of_ways(whole?.part, whole?.airflow);
        (flows.len() == group.ways.len()).then(|| flows[way])
    };
    let airflow = within.map(|passing| passing.airflow).or_else(by_place)?;
    let share = whole.filter(|whole| whole.airflow > Airflow::ZERO).map(|whole| airflow / whole.airflow);
    Some(WayAir { group: group.id, way, airflow, share })
}
