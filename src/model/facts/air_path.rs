//! Everything that the air meets between the rooms and the rooms again, in flow order, and the ports where static pressure is read.
//!
//! The chain is a list; an element of it may be several ways side by side, each a list again (two returns, zones, a duct and its leak).
//! How the chain is edited stands in [`chain`].

pub mod chain;
pub mod fault;

use std::collections::BTreeSet;

use crate::model::facts::air_path::fault::PathFault;
use crate::model::facts::blower::{Basis, EquipmentKind};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::numbers::job::BYPASS_FLOW;

pub use crate::model::facts::element_kind::{ElementKind, MOSTLY_FITTINGS};

/// Names an element for as long as the job lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ElementId(pub u32);

/// Names a port for as long as the job lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PortId(pub u32);

/// Where an element sits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Whereabouts {
    /// In the machine's cabinet, where the table basis decides whether it is part of the table.
    Cabinet,
    /// Anywhere else: always external.
    #[default]
    House,
}

/// One part that the air passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Its lasting name.
    pub id: ElementId,
    /// What it is.
    pub kind: ElementKind,
    /// What a person calls it ("upstairs return"); empty where its kind is name enough.
    pub name: String,
    /// Where it sits.
    pub whereabouts: Whereabouts,
    /// Its drop as it is now, by data, where known.
    pub drop: Option<DropData>,
    /// Its share of the segment that it stands in, as a fraction, where a person has said it.
    pub share: Option<f64>,
    /// Exponent of its drop, 1 to 2.2, where a person has said it.
    pub exponent: Option<f64>,
    /// The ways of [`ElementKind::SideBySide`], two or more; none for any other kind.
    pub ways: Vec<Way>,
}

/// One way of several side by side.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Way {
    /// Share of the group's airflow that passes here, as a fraction, where a person has said it.
    pub flow: Option<f64>,
    /// Its elements in flow order.
    pub elements: Vec<Element>,
}

impl Way {
    /// True when it is a hole: its air never passes the rooms.
    pub fn is_leak(&self) -> bool {
        self.elements.iter().any(|element| element.kind == ElementKind::Leak)
    }
}

impl Element {
    /// An element that nothing is known of yet.
    pub const fn new(id: ElementId, kind: ElementKind, whereabouts: Whereabouts) -> Self {
        Self { id, kind, name: String::new(), whereabouts, drop: None, share: None, exponent: None, ways: Vec::new() }
    }

    /// What a person calls it, else its name in the trade.
    pub fn name(&self) -> &str {
        if self.name.is_empty() { self.kind.name() } else { &self.name }
    }

    /// Weight by which an unsplit segment is first shared among its elements (assumed, to be replaced by what a person knows).
    ///
    /// Ways side by side weigh as the heaviest of them: what stands for a duct weighs as that duct, and a leak past it moves nothing.
    pub fn usual_weight(&self) -> f64 {
        let of_way = |way: &Way| way.elements.iter().map(Self::usual_weight).sum();
        self.ways.iter().map(of_way).fold(self.kind.usual_weight(), f64::max)
    }

    /// The exponent of its drop: stated, else the usual one of its kind.
    pub fn drop_exponent(&self) -> f64 {
        self.exponent.unwrap_or_else(|| self.kind.usual_exponent())
    }

    /// True for ways side by side.
    pub fn is_group(&self) -> bool {
        self.kind == ElementKind::SideBySide
    }

    /// The element of a lasting name, where it is this one or stands in one of its ways.
    pub fn within(&self, id: ElementId) -> Option<&Self> {
        if self.id == id {
            return Some(self);
        }
        self.ways.iter().flat_map(|way| &way.elements).find_map(|element| element.within(id))
    }

    /// Itself and, in a group, everything in its ways, in flow order.
    pub fn all(&self) -> Vec<&Self> {
        let within = self.ways.iter().flat_map(|way| &way.elements).flat_map(Self::all);
        std::iter::once(self).chain(within).collect()
    }
}

/// A way from the supply back to the return past the rooms (a bypass damper of a zoned system, a bypass humidifier).
#[derive(Clone, Debug, PartialEq)]
pub struct Bypass {
    /// Its lasting name, from the same row as the elements'.
    pub id: ElementId,
    /// The supply element of the chain behind which it leaves.
    pub leaves_after: ElementId,
    /// The return element of the chain behind which it comes back.
    pub joins_after: ElementId,
    /// Share of the blower's airflow that took it during the readings, as a fraction above 0 and below 0.9.
    pub flow: f64,
}

/// A place where static pressure is read against the rooms served.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Port {
    /// Its lasting name.
    pub id: PortId,
    /// The element that the air has just left there.
    pub after: ElementId,
}

/// The chain from the rooms to the rooms, with its ports.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AirPath {
    /// Elements in flow order.
    pub elements: Vec<Element>,
    /// Ports, in flow order.
    pub ports: Vec<Port>,
    /// A way past the rooms, where there is one.
    pub bypass: Option<Bypass>,
}

/// The port before the blower of a new path.
pub const RETURN_PORT: PortId = PortId(1);
/// The port after the blower of a new path.
pub const SUPPLY_PORT: PortId = PortId(2);

impl AirPath {
    /// The order that a kind of equipment sets, with one port on each side.
    ///
    /// The return port stands at the table's inlet plane: after a furnace's filter when the table has none, outside an air handler's cabinet when everything in it belongs to the table.
    /// The supply port stands behind the last part in the cabinet, where a drill can reach: before a furnace's outside coil, after an air handler's heater.
    pub fn for_equipment(kind: EquipmentKind, basis: &Basis) -> Self {
        use ElementKind as K;
        use Whereabouts::{Cabinet, House};
        let ret = [(K::ReturnGrille, House), (K::ReturnDuct, House)];
        let louvre = [(K::Louvre, House)];
        let supply = [(K::SupplyDuct, House), (K::Registers, House)];
        let machine: &[(K, Whereabouts)] = match kind {
            // A coil that the table was made with counts as part of the cabinet, wherever its casing stands.
            EquipmentKind::Furnace | EquipmentKind::NoReturnDuct if basis.coil.is_included() => {
                &[(K::Filter, Cabinet), (K::Blower, Cabinet), (K::HeatExchanger, Cabinet), (K::Coil, Cabinet)]
            }
            EquipmentKind::Furnace | EquipmentKind::NoReturnDuct => {
                &[(K::Filter, Cabinet), (K::Blower, Cabinet), (K::HeatExchanger, Cabinet), (K::Coil, House)]
            }
            EquipmentKind::DrawThroughAirHandler => {
                &[(K::Filter, Cabinet), (K::Coil, Cabinet), (K::Blower, Cabinet), (K::Heater, Cabinet)]
            }
            EquipmentKind::BlowThroughAirHandler if basis.contains(K::Heater) => {
                &[(K::Filter, Cabinet), (K::Blower, Cabinet), (K::Coil, Cabinet), (K::Heater, Cabinet)]
            }
            EquipmentKind::BlowThroughAirHandler => &[(K::Filter, Cabinet), (K::Blower, Cabinet), (K::Coil, Cabinet)],
        };
        let before: &[(K, Whereabouts)] = if kind == EquipmentKind::NoReturnDuct { &louvre } else { &ret };
        let elements: Vec<Element> = before
            .iter()
            .chain(machine)
            .chain(&supply)
            .zip(1..)
            .map(|(&(kind, whereabouts), number)| Element::new(ElementId(number), kind, whereabouts))
            .collect();
        let mut path = Self { elements, ..Self::default() };
        let inside = path.inside(basis);
        let first = *inside.start();
        let last = path.elements.iter().rposition(|element| element.whereabouts == Cabinet).unwrap_or(*inside.end());
        let after = |index: usize| path.elements.get(index).map(|element| element.id);
        path.ports = [(RETURN_PORT, after(first - 1)), (SUPPLY_PORT, after(last))]
            .into_iter()
            .filter_map(|(id, after)| Some(Port { id, after: after? }))
            .collect();
        path
    }

    /// Index of the blower.
    pub fn blower(&self) -> Option<usize> {
        self.elements.iter().position(|element| element.kind == ElementKind::Blower)
    }

    /// Whether the table basis contains an element.
    pub fn is_inside(element: &Element, basis: &Basis) -> bool {
        element.whereabouts == Whereabouts::Cabinet && basis.contains(element.kind)
    }

    /// Indexes of the unbroken stretch of elements around the blower that the table basis contains; its outer faces are the table's planes.
    ///
    /// A path without a blower has the stretch at its end, empty of meaning; such a path is refused by [`AirPath::problem`].
    pub fn inside(&self, basis: &Basis) -> std::ops::RangeInclusive<usize> {
        let Some(blower) = self.blower() else {
            let end = self.elements.len().max(1);
            return end..=end;
        };
        let held = |index: &usize| Self::is_inside(&self.elements[*index], basis);
        let first = (0..blower).rev().take_while(held).last().unwrap_or(blower);
        let last = (blower + 1..self.elements.len()).take_while(held).last().unwrap_or(blower);
        first..=last
    }

    /// Every element, those in ways included, in flow order.
    pub fn all(&self) -> Vec<&Element> {
        self.elements.iter().flat_map(Element::all).collect()
    }

    /// The element of a lasting name, in the chain or in a way.
    pub fn element(&self, id: ElementId) -> Option<&Element> {
        self.elements.iter().find_map(|element| element.within(id))
    }

    /// What an element, or the bypass, is called.
    pub fn name_of(&self, id: ElementId) -> Option<&str> {
        let bypass = self.bypass.as_ref().filter(|bypass| bypass.id == id).map(|_| ElementKind::Bypass.name());
        self.element(id).map(Element::name).or(bypass)
    }

    /// What an element is called, in small letters; nothing where it is gone.
    pub fn said(&self, id: ElementId) -> String {
        self.name_of(id).unwrap_or_default().to_lowercase()
    }

    /// Index of an element that stands in the chain itself.
    pub fn index_of(&self, id: ElementId) -> Option<usize> {
        self.elements.iter().position(|element| element.id == id)
    }

    /// Index of the chain's element that is or holds an element.
    pub fn holder_of(&self, id: ElementId) -> Option<usize> {
        self.elements.iter().position(|element| element.within(id).is_some())
    }

    /// The first element of a kind.
    pub fn first(&self, kind: ElementKind) -> Option<&Element> {
        self.all().into_iter().find(|element| element.kind == kind)
    }

    /// The port of a lasting name.
    pub fn port(&self, id: PortId) -> Option<&Port> {
        self.ports.iter().find(|port| port.id == id)
    }

    /// Number of the chain's elements that the air has passed when it reaches a port; zero is the rooms, nothing is a port within a way.
    pub fn elements_before(&self, id: PortId) -> Option<usize> {
        let port = self.port(id)?;
        Some(self.index_of(port.after)? + 1)
    }

    /// True when a port stands before the blower.
    pub fn is_before_blower(&self, id: PortId) -> Option<bool> {
        Some(self.holder_of(self.port(id)?.after)? < self.blower()?)
    }

    /// What makes the chain unusable.
    pub fn problem(&self) -> Option<PathFault> {
        let blowers = self.elements.iter().filter(|element| element.kind == ElementKind::Blower).count();
        if blowers != 1 {
            return Some(PathFault::Blowers(blowers));
        }
        let all = self.all();
        let mut ids = all.iter().map(|element| element.id).chain(self.bypass.as_ref().map(|bypass| bypass.id));
        let mut seen = BTreeSet::new();
        if let Some(id) = ids.find(|id| !seen.insert(*id)) {
            return Some(PathFault::SameNumber(id));
        }
        let of_groups = self.elements.iter().find_map(|element| group_problem(element, 0));
        of_groups.or_else(|| self.bypass_problem(self.bypass.as_ref()?)).or_else(|| {
            let nowhere = self.ports.iter().find(|port| self.element(port.after).is_none())?;
            Some(PathFault::PortNowhere(nowhere.id, nowhere.after))
        })
    }

    /// Why a bypass cannot stand beside a machine: its ends lie outside what the blower table contains, for all the blower's air passes that.
    pub fn bypass_within(&self, basis: &Basis) -> Option<PathFault> {
        let bypass = self.bypass.as_ref()?;
        let inside = self.inside(basis);
        let within = [
            (bypass.leaves_after, self.index_of(bypass.leaves_after)? < *inside.end()),
            (bypass.joins_after, self.index_of(bypass.joins_after)? >= *inside.start()),
        ];
        let (end, _) = within.into_iter().find(|(_, is_within)| *is_within)?;
        Some(PathFault::BypassInMachine(self.said(end)))
    }

    fn bypass_problem(&self, bypass: &Bypass) -> Option<PathFault> {
        if let Err(refused) = BYPASS_FLOW.check(bypass.flow) {
            return Some(refused.into());
        }
        let blower = self.blower()?;
        let leaves = self.index_of(bypass.leaves_after).is_some_and(|index| index >= blower);
        let joins = self.index_of(bypass.joins_after).is_some_and(|index| index < blower);
        let last = self.elements.last().is_some_and(|element| element.id == bypass.leaves_after);
        (!leaves || !joins || last).then_some(PathFault::BypassAstray)
    }

    /// True for an element of the chain that lies on the rooms' side of a bypass.
    pub fn is_beyond_bypass(&self, index: usize) -> bool {
        self.bypass.as_ref().is_some_and(|bypass| {
            let joins = self.index_of(bypass.joins_after).unwrap_or_default();
            let leaves = self.index_of(bypass.leaves_after).unwrap_or(usize::MAX);
            index <= joins || index > leaves
        })
    }

    /// Share of the blower's air that passes an element of the chain during the readings, as a fraction.
    pub fn share_through(&self, index: usize) -> f64 {
        match &self.bypass {
            Some(bypass) if self.is_beyond_bypass(index) => 1.0 - bypass.flow,
            Some(_) | None => 1.0,
        }
    }
}

/// Groups within groups that a path may have: three suffice for zones of branches with leaks.
pub const DEEPEST: usize = 3;

fn group_problem(element: &Element, depth: usize) -> Option<PathFault> {
    let name = || element.name().to_lowercase();
    if !element.is_group() {
        if !element.ways.is_empty() {
            return Some(PathFault::NoGroup(name()));
        }
        return match element.kind {
            ElementKind::Leak => (depth == 0).then_some(PathFault::LeakInChain),
            ElementKind::Bypass => Some(PathFault::BypassInChain),
            ElementKind::Blower | ElementKind::HeatExchanger => (depth > 0).then(|| PathFault::MachineInWay(name())),
            ElementKind::Louvre
            | ElementKind::ReturnGrille
            | ElementKind::ReturnDuct
            | ElementKind::Filter
            | ElementKind::Coil
            | ElementKind::Heater
            | ElementKind::SupplyDuct
            | ElementKind::Registers
            | ElementKind::AirCleaner
            | ElementKind::Humidifier
            | ElementKind::Damper
            | ElementKind::SideBySide => None,
        };
    }
    if depth == DEEPEST {
        return Some(PathFault::TooDeep(DEEPEST));
    }
    if element.ways.len() < 2 {
        return Some(PathFault::FewWays(element.id, element.ways.len()));
    }
    if element.ways.iter().all(Way::is_leak) {
        return Some(PathFault::LeaksOnly(element.id));
    }
    element.ways.iter().find_map(|way| way_problem(way, depth))
}

fn way_problem(way: &Way, depth: usize) -> Option<PathFault> {
    if way.elements.is_empty() {
        return Some(PathFault::EmptyWay);
    }
    if way.is_leak() && way.elements.len() > 1 {
        return Some(PathFault::LeakNotAlone);
    }
    way.elements.iter().find_map(|element| group_problem(element, depth + 1))
}
