//! The path as a tree laid flat: elements in flow order with the ways they stand in, ports, bypass, and the air where it counts.

use serde::Serialize;

use super::judged::path_word;
use super::part::part;
use super::words;
use crate::model::answer::Answer;
use crate::model::facts::air_path::{AirPath, Element, Port, Whereabouts};
use crate::model::facts::job::Job;
use crate::model::facts::readings::{ReadAt, Reading};
use crate::model::path::parts::along::{Along, Profile};
use crate::model::path::parts::flows::Delivered;
use crate::units::Pressure;

#[derive(Debug, Serialize)]
pub(super) struct ElementPart {
    id: u32,
    kind: &'static str,
    name: String,
    side: Option<&'static str>,
    stands: &'static str,
    in_table: bool,
    out: bool,
    in_group_id: Option<u32>,
    way: Option<usize>,
    stated_share_fraction: Option<f64>,
    exponent: f64,
    exponent_is_stated: bool,
    #[serde(flatten)]
    read: Flow,
    after: Option<Flow>,
    ways: Vec<WayPart>,
}

/// The air through an element and what it drops; nothing for one that has no drop of its own.
#[derive(Debug, Default, Serialize)]
struct Flow {
    airflow_cfm: Option<f64>,
    drop_in_wc: Option<f64>,
    standing: Option<&'static str>,
}

#[derive(Debug, Serialize)]
struct WayPart {
    way: usize,
    element_ids: Vec<u32>,
    is_leak: bool,
    stated_flow_fraction: Option<f64>,
    airflow_cfm: Option<f64>,
    airflow_after_cfm: Option<f64>,
}

#[derive(Debug, Serialize)]
pub(super) struct BypassPart {
    id: u32,
    leaves_after_id: u32,
    joins_after_id: u32,
    stated_flow_fraction: f64,
    airflow_cfm: Option<f64>,
    drop_in_wc: Option<f64>,
    airflow_after_cfm: Option<f64>,
}

part! {
    #[expect(clippy::struct_field_names, reason = "every number says its unit in its key")]
    fn delivered(of: &Delivered) -> DeliveredPart {
        blower_cfm: f64 = of.blower.cfm(),
        to_rooms_cfm: f64 = of.to_rooms.cfm(),
        from_rooms_cfm: f64 = of.from_rooms.cfm(),
        bypassed_cfm: f64 = of.bypassed.cfm(),
    }
}

fn flow(along: Option<&Along>) -> Flow {
    along.map_or_else(Flow::default, |along| Flow {
        airflow_cfm: Some(along.airflow.cfm()),
        drop_in_wc: along.drop.map(Pressure::in_wc),
        standing: along.standing.map(path_word),
    })
}

/// What every element is told from.
struct Profiles<'a> {
    job: &'a Job,
    read: Option<&'a Profile>,
    after: Option<&'a Profile>,
}

impl<'a> Profiles<'a> {
    fn of(job: &'a Job, answer: &'a Answer) -> Self {
        Self {
            job,
            read: answer.point().and_then(|running| running.system.profile.as_ref()),
            after: answer.with_changes().and_then(|after| after.system.profile.as_ref()),
        }
    }

    fn list(&self, list: &[Element], place: Option<(u32, usize)>, all: &mut Vec<ElementPart>) {
        for element in list {
            all.push(self.element(element, place));
            for (way, number) in element.ways.iter().zip(1..) {
                self.list(&way.elements, Some((element.id.0, number)), all);
            }
        }
    }

    fn element(&self, element: &Element, place: Option<(u32, usize)>) -> ElementPart {
        let path = &self.job.path;
        let before = path.holder_of(element.id).zip(path.blower()).filter(|(index, blower)| index != blower);
        let inside = self.job.machine.as_ref().map(|table| path.inside(&table.basis));
        let index = path.index_of(element.id);
        ElementPart {
            id: element.id.0,
            kind: words::element(element.kind),
            name: element.name.clone(),
            side: before.map(|(index, blower)| words::side(index < blower)),
            stands: match element.whereabouts {
                Whereabouts::Cabinet => "cabinet",
                Whereabouts::House => "house",
            },
            in_table: index.zip(inside).is_some_and(|(index, inside)| inside.contains(&index)),
            out: self.job.set().parts_out.contains(&element.id),
            in_group_id: place.map(|(group, _)| group),
            way: place.map(|(_, way)| way),
            stated_share_fraction: element.share,
            exponent: element.drop_exponent(),
            exponent_is_stated: element.exponent.is_some(),
            read: flow(self.read.and_then(|profile| profile.part(element.id))),
            after: self.after.map(|profile| flow(profile.part(element.id))),
            ways: (0..element.ways.len()).map(|index| self.way(element, index)).collect(),
        }
    }

    fn way(&self, group: &Element, index: usize) -> WayPart {
        let way = &group.ways[index];
        let airflow = |profile: Option<&Profile>| Some(profile?.way(group.id, index)?.airflow.cfm());
        WayPart {
            way: index + 1,
            element_ids: way.elements.iter().map(|element| element.id.0).collect(),
            is_leak: way.is_leak(),
            stated_flow_fraction: way.flow,
            airflow_cfm: airflow(self.read),
            airflow_after_cfm: airflow(self.after),
        }
    }
}

/// Every element in flow order, a group before what stands in its ways.
pub(super) fn elements(job: &Job, answer: &Answer) -> Vec<ElementPart> {
    let mut all = Vec::new();
    Profiles::of(job, answer).list(&job.path.elements, None, &mut all);
    all
}

/// Every port in flow order.
pub(super) fn ports(job: &Job) -> Vec<PortPart> {
    job.path.ports.iter().map(|one| port(job, &job.path, one)).collect()
}

part! {
    fn port(job: &Job, path: &AirPath, port: &Port) -> PortPart {
        id: u32 = port.id.0,
        after_id: u32 = port.after.0,
        side: Option<&'static str> = path.is_before_blower(port.id).map(words::side),
        in_a_way: bool = path.element(port.after).is_some() && path.index_of(port.after).is_none(),
        reading_in_wc: Option<f64> = job.set().at(ReadAt::Port(port.id)).and_then(Reading::average).map(Pressure::in_wc),
    }
}

/// The way past the rooms, where there is one.
pub(super) fn bypass(job: &Job, answer: &Answer) -> Option<BypassPart> {
    let bypass = job.path.bypass.as_ref()?;
    let profiles = Profiles::of(job, answer);
    let read = flow(profiles.read.and_then(|profile| profile.bypass.as_ref()));
    Some(BypassPart {
        id: bypass.id.0,
        leaves_after_id: bypass.leaves_after.0,
        joins_after_id: bypass.joins_after.0,
        stated_flow_fraction: bypass.flow,
        airflow_cfm: read.airflow_cfm,
        drop_in_wc: read.drop_in_wc,
        // Shut altogether it is no part any more and passes nothing.
        airflow_after_cfm: profiles.after.and_then(|profile| profile.bypass).map(|bypass| bypass.airflow.cfm()),
    })
}
