//! The air path as format 1 has it.

use serde::{Deserialize, Serialize};
use serde_with::{As, skip_serializing_none};

use super::common::{DropDto, Read, drop_data, fraction, given_once, percent_of};
use super::error::Misfit;
use crate::files::quantities::OneLine;
use crate::files::words::{ElementKindDto, WhereaboutsDto, mirrors};
use crate::model::facts::air_path::{Bypass, Element, ElementId, ElementKind, Port, PortId, Way, Whereabouts};

/// An element's lasting number.
#[derive(Serialize, Deserialize)]
#[serde(transparent, remote = "ElementId")]
pub(super) struct ElementIdDto(u32);

/// A port's lasting number.
#[derive(Serialize, Deserialize)]
#[serde(transparent, remote = "PortId")]
pub(super) struct PortIdDto(u32);

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "Port")]
pub(super) struct PortDto {
    #[serde(with = "PortIdDto")]
    id: PortId,
    #[serde(with = "ElementIdDto")]
    after: ElementId,
}

mirrors!(ElementIdDto: ElementId, PortDto: Port);

/// One part of the path.
#[skip_serializing_none]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum PathPartDto {
    /// One element.
    Element {
        id: u32,
        #[serde(with = "ElementKindDto")]
        kind: ElementKind,
        #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
        name: String,
        #[serde(rename = "in", with = "WhereaboutsDto")]
        whereabouts: Whereabouts,
        drop: Option<DropDto>,
        share_percent: Option<f64>,
        share_fraction: Option<f64>,
        exponent: Option<f64>,
    },
    /// Ways side by side.
    SideBySide {
        id: u32,
        #[serde(default, skip_serializing_if = "String::is_empty", with = "As::<OneLine>")]
        name: String,
        share_percent: Option<f64>,
        share_fraction: Option<f64>,
        drop: Option<DropDto>,
        exponent: Option<f64>,
        ways: Vec<WayDto>,
    },
}

/// One way of several side by side.
#[skip_serializing_none]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WayDto {
    flow_percent: Option<f64>,
    flow_fraction: Option<f64>,
    elements: Vec<PathPartDto>,
}

/// A way past the rooms.
#[skip_serializing_none]
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct BypassDto {
    id: u32,
    leaves_after: u32,
    joins_after: u32,
    flow_percent: Option<f64>,
    flow_fraction: Option<f64>,
}

const FLOW: [&str; 2] = ["flow_percent", "flow_fraction"];

impl From<&Element> for PathPartDto {
    fn from(element: &Element) -> Self {
        let (share_percent, share_fraction) = element.share.map(percent_of).unwrap_or_default();
        let (id, name, exponent) = (element.id.0, element.name.clone(), element.exponent);
        let drop = element.drop.as_ref().map(DropDto::from);
        if element.is_group() {
            let ways = element.ways.iter().map(WayDto::from).collect();
            return Self::SideBySide { id, name, share_percent, share_fraction, drop, exponent, ways };
        }
        let (kind, whereabouts) = (element.kind, element.whereabouts);
        Self::Element { id, name, kind, whereabouts, drop, share_percent, share_fraction, exponent }
    }
}

impl From<&Way> for WayDto {
    fn from(way: &Way) -> Self {
        let (flow_percent, flow_fraction) = way.flow.map(percent_of).unwrap_or_default();
        Self { flow_percent, flow_fraction, elements: way.elements.iter().map(PathPartDto::from).collect() }
    }
}

impl From<&Bypass> for BypassDto {
    fn from(bypass: &Bypass) -> Self {
        let (flow_percent, flow_fraction) = percent_of(bypass.flow);
        let [id, leaves_after, joins_after] = [bypass.id, bypass.leaves_after, bypass.joins_after].map(|id| id.0);
        Self { id, leaves_after, joins_after, flow_percent, flow_fraction }
    }
}

pub(super) fn element(part: PathPartDto) -> Read<Element> {
    use PathPartDto::{Element as One, SideBySide};
    let (id, kind, whereabouts, ways, name, drop, share_percent, share_fraction, exponent) = match part {
        One { id, kind, name, whereabouts, drop, share_percent, share_fraction, exponent } => {
            (id, kind, whereabouts, Vec::new(), name, drop, share_percent, share_fraction, exponent)
        }
        SideBySide { id, name, share_percent, share_fraction, drop, exponent, ways } => {
            let (kind, whereabouts) = (ElementKind::SideBySide, Whereabouts::House);
            (id, kind, whereabouts, ways, name, drop, share_percent, share_fraction, exponent)
        }
    };
    let here = |misfit: Misfit| misfit.at(format!("Path, element {id}"));
    Ok(Element {
        name,
        share: fraction(["share_percent", "share_fraction"], share_percent, share_fraction).map_err(here)?,
        exponent,
        drop: drop.as_ref().map(drop_data).transpose().map_err(here)?,
        ways: ways.into_iter().map(|dto| way(id, dto)).collect::<Read<_>>()?,
        ..Element::new(ElementId(id), kind, whereabouts)
    })
}

fn way(group: u32, dto: WayDto) -> Read<Way> {
    Ok(Way {
        flow: fraction(FLOW, dto.flow_percent, dto.flow_fraction)
            .map_err(|misfit| misfit.at(format!("Path, a way of element {group}")))?,
        elements: dto.elements.into_iter().map(element).collect::<Read<_>>()?,
    })
}

pub(super) fn bypass(dto: &BypassDto) -> Read<Bypass> {
    Ok(Bypass {
        id: ElementId(dto.id),
        leaves_after: ElementId(dto.leaves_after),
        joins_after: ElementId(dto.joins_after),
        flow: given_once(FLOW, dto.flow_percent, dto.flow_fraction).map_err(|misfit| misfit.at("Bypass"))?,
    })
}
