//! How a person edits the chain: elements put in, taken out and moved, ways laid side by side, leaks and ports.
//!
//! Every edit either leaves a chain that [`AirPath::problem`] has nothing against, or says why not and changes nothing.

use crate::model::facts::air_path::fault::{PathFault, Side};
use crate::model::facts::air_path::{AirPath, Element, ElementId, ElementKind, Port, PortId, Way, Whereabouts};
use crate::model::facts::numbers::job::LEAK_FLOW;

/// Kinds that a person can put in.
pub const CAN_BE_ADDED: [ElementKind; 11] = [
    ElementKind::ReturnGrille,
    ElementKind::ReturnDuct,
    ElementKind::Filter,
    ElementKind::AirCleaner,
    ElementKind::Humidifier,
    ElementKind::Damper,
    ElementKind::Coil,
    ElementKind::Heater,
    ElementKind::SupplyDuct,
    ElementKind::Registers,
    ElementKind::Louvre,
];

/// Where an element is put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Just before an element, in the same list.
    Before(ElementId),
    /// Just after it.
    After(ElementId),
}

impl ElementKind {
    /// The side that its name says: true before the blower, false after it; nothing for what can stand on either.
    pub const fn side(self) -> Option<bool> {
        match self {
            Self::Louvre | Self::ReturnGrille | Self::ReturnDuct => Some(true),
            Self::HeatExchanger | Self::SupplyDuct | Self::Registers => Some(false),
            Self::Filter
            | Self::Blower
            | Self::Coil
            | Self::Heater
            | Self::AirCleaner
            | Self::Humidifier
            | Self::Damper
            | Self::Leak
            | Self::Bypass
            | Self::SideBySide => None,
        }
    }
}

impl AirPath {
    /// The list that holds an element, and its index there.
    pub fn list_of(&self, id: ElementId) -> Option<(&[Element], usize)> {
        list_of(&self.elements, id)
    }

    /// The element of a lasting name, to be changed.
    pub fn element_mut(&mut self, id: ElementId) -> Option<&mut Element> {
        element_mut(&mut self.elements, id)
    }

    /// The group that has an element in one of its ways, with the way's index.
    pub fn way_of(&self, id: ElementId) -> Option<(&Element, usize)> {
        self.all().into_iter().find_map(|group| {
            let way = group.ways.iter().position(|way| way.elements.iter().any(|element| element.id == id))?;
            Some((group, way))
        })
    }

    /// Puts in a new element of a kind and gives its lasting name; it stands in the house, where a person may move it into the cabinet.
    ///
    /// # Errors
    /// When the neighbour is gone or the kind belongs on the other side of the blower.
    pub fn put_in(&mut self, kind: ElementKind, at: Beside) -> Result<ElementId, PathFault> {
        let (Beside::Before(neighbour) | Beside::After(neighbour)) = at;
        let id = self.next_element();
        let mut path = self.clone();
        let list = list_mut(&mut path.elements, neighbour).ok_or_else(|| gone(neighbour))?;
        let index = list.iter().position(|element| element.id == neighbour).ok_or_else(|| gone(neighbour))?;
        let there = index + usize::from(matches!(at, Beside::After(_)));
        list.insert(there, Element::new(id, kind, Whereabouts::House));
        path.side_holds(id)?;
        if let Beside::After(_) = at {
            // A port just after the neighbour stays there; one that stood after it now has the new element behind it.
            path.ports_in_order();
        }
        self.take(path)?;
        Ok(id)
    }

    /// Takes an element out for good; ports after it go to the element before it.
    ///
    /// # Errors
    /// For the blower and the heat exchanger, for the last element of a side, and for an element that a port needs.
    pub fn take_out(&mut self, id: ElementId) -> Result<(), PathFault> {
        let element = self.element(id).ok_or_else(|| gone(id))?;
        let name = || element.name().to_lowercase();
        if matches!(element.kind, ElementKind::Blower | ElementKind::HeatExchanger) {
            return Err(PathFault::IsMachine(name()));
        }
        let within: Vec<ElementId> = element.all().iter().map(|element| element.id).collect();
        let before = self.list_of(id).and_then(|(list, index)| Some(list[index.checked_sub(1)?].id));
        let before = before.or_else(|| self.before_the_group_of(id));
        let mut path = self.clone();
        for port in path.ports.iter_mut().filter(|port| within.contains(&port.after)) {
            port.after = before.ok_or_else(|| PathFault::HasPort(name()))?;
        }
        if path.two_ports_at_one_place() {
            return Err(PathFault::PortsMeetWithout(name()));
        }
        if self.is_end_of_bypass(&within) {
            return Err(PathFault::EndOfBypass(name()));
        }
        let list = list_mut(&mut path.elements, id).ok_or_else(|| gone(id))?;
        list.retain(|element| element.id != id);
        path.dissolve();
        let blower = path.blower().unwrap_or_default();
        if blower == 0 || blower + 1 == path.elements.len() {
            return Err(PathFault::LastOfSide(name()));
        }
        self.take(path)
    }

    /// Moves an element by one place within its list; ports stay where they are.
    ///
    /// # Errors
    /// When there is no place, or when it would leave the side of the blower that it belongs to.
    pub fn shift(&mut self, id: ElementId, later: bool) -> Result<(), PathFault> {
        let (list, index) = self.list_of(id).ok_or_else(|| gone(id))?;
        let element = &list[index];
        let name = || element.name().to_lowercase();
        let no_place = || PathFault::EndOfWay(name());
        let is_machine = |kind| matches!(kind, ElementKind::Blower | ElementKind::HeatExchanger);
        if is_machine(element.kind) {
            return Err(PathFault::Stays(name()));
        }
        let there = if later { index + 1 } else { index.checked_sub(1).ok_or_else(no_place)? };
        let neighbour = list.get(there).ok_or_else(no_place)?;
        if is_machine(neighbour.kind) && element.whereabouts == Whereabouts::House {
            return Err(PathFault::InHouse(name()));
        }
        if self.is_end_of_bypass(&[id]) {
            return Err(PathFault::EndOfBypass(name()));
        }
        let (one, other) = (element.id, neighbour.id);
        let mut path = self.clone();
        let list = list_mut(&mut path.elements, id).ok_or_else(|| gone(id))?;
        list.swap(index, there);
        for port in &mut path.ports {
            port.after = if port.after == one {
                other
            } else if port.after == other {
                one
            } else {
                port.after
            };
        }
        path.side_holds(one)?;
        path.sides_of_ports_hold(self)?;
        self.take(path)
    }

    /// Lays a second way beside a stretch of one list, alike but with nothing known of it, and gives the group's lasting name.
    ///
    /// # Errors
    /// When the stretch is not one, holds the machine, or a part in the cabinet, which all the air passes.
    pub fn lay_beside(&mut self, from: ElementId, to: ElementId) -> Result<ElementId, PathFault> {
        let (list, first) = self.list_of(from).ok_or_else(|| gone(from))?;
        let last = list.iter().position(|element| element.id == to).filter(|last| *last >= first);
        let last = last.ok_or(PathFault::NotInRow)?;
        let stretch = list[first..=last].to_vec();
        if let Some(inside) = stretch.iter().find(|element| element.whereabouts == Whereabouts::Cabinet) {
            return Err(PathFault::PassedByAll(inside.name().to_lowercase()));
        }
        let group = self.next_element();
        let twin = like(&stretch, &mut (group.0 + 1));
        self.wrap(group, &stretch, Way { flow: None, elements: twin })?;
        Ok(group)
    }

    /// Another way in a group, like its first.
    ///
    /// # Errors
    /// When the group is gone.
    pub fn add_way(&mut self, group: ElementId) -> Result<(), PathFault> {
        let mut next = self.next_element().0;
        let element = self.element_mut(group).filter(|element| element.is_group()).ok_or_else(|| gone(group))?;
        let model = element.ways.iter().find(|way| !way.is_leak()).ok_or_else(|| gone(group))?;
        let elements = like(&model.elements, &mut next);
        if element.ways.iter().all(|way| way.flow.is_some()) {
            // Stated shares that leave nothing for another way say nothing once there is one.
            unsay_flows(element);
        }
        element.ways.push(Way { flow: None, elements });
        Ok(())
    }

    /// Takes a way out of a group; the last one left stands in the group's place.
    ///
    /// # Errors
    /// When group or way are gone, or a port stands in it.
    pub fn take_way(&mut self, group: ElementId, way: usize) -> Result<(), PathFault> {
        let element = self.element(group).ok_or_else(|| gone(group))?;
        let taken = element.ways.get(way).ok_or(PathFault::NoWay(way))?;
        let within: Vec<ElementId> = taken.elements.iter().flat_map(Element::all).map(|element| element.id).collect();
        if self.ports.iter().any(|port| within.contains(&port.after)) {
            return Err(PathFault::PortInWay);
        }
        let mut path = self.clone();
        let element = path.element_mut(group).ok_or_else(|| gone(group))?;
        element.ways.remove(way);
        // A stated share of the whole says nothing once the whole is another.
        unsay_flows(element);
        path.dissolve();
        self.take(path)
    }

    /// A leak just after an element: on the supply air goes out there instead of through what follows; on the return it comes in there instead of through what lies before.
    ///
    /// # Errors
    /// When the element is gone, is in the cabinet on the return side, or nothing lies beyond.
    pub fn leak_at(&mut self, id: ElementId, flow: f64) -> Result<ElementId, PathFault> {
        let (list, index) = self.list_of(id).ok_or_else(|| gone(id))?;
        let before = self.holder_of(id).zip(self.blower()).is_some_and(|(at, blower)| at < blower);
        let stretch = if before { list[..=index].to_vec() } else { list[index + 1..].to_vec() };
        if let Some(inside) = stretch.iter().find(|element| element.whereabouts == Whereabouts::Cabinet) {
            return Err(PathFault::LeakPast(inside.name().to_lowercase()));
        }
        if stretch.is_empty() {
            return Err(PathFault::LeakPastNothing);
        }
        LEAK_FLOW.check(flow)?;
        let group = self.next_element();
        let leak = Element::new(ElementId(group.0 + 1), ElementKind::Leak, Whereabouts::House);
        self.wrap(group, &stretch, Way { flow: Some(flow), elements: vec![leak] })?;
        Ok(ElementId(group.0 + 1))
    }

    /// A new port after an element, and its lasting name.
    ///
    /// # Errors
    /// When the element is gone, is the last of the path, or has a port already.
    pub fn add_port(&mut self, after: ElementId) -> Result<PortId, PathFault> {
        let element = self.element(after).ok_or_else(|| gone(after))?;
        let name = || element.name().to_lowercase();
        if element.kind == ElementKind::Leak {
            return Err(PathFault::NoDuct);
        }
        if self.is_at_the_rooms(after) {
            return Err(PathFault::AtTheRooms(name()));
        }
        if self.ports.iter().any(|port| port.after == after) {
            return Err(PathFault::PortThere(name()));
        }
        let next = self.ports.iter().map(|port| port.id.0).max().unwrap_or_default().max(super::SUPPLY_PORT.0) + 1;
        self.ports.push(Port { id: PortId(next), after });
        self.ports_in_order();
        Ok(PortId(next))
    }

    /// First number that no element has.
    pub fn next_element(&self) -> ElementId {
        let highest = self.all().iter().map(|element| element.id.0).max().unwrap_or_default();
        ElementId(highest.max(self.bypass.as_ref().map_or(0, |bypass| bypass.id.0)) + 1)
    }

    /// Puts the ports into flow order; one behind ways comes after those within them.
    pub fn ports_in_order(&mut self) {
        let order = exits(&self.elements);
        self.ports.sort_by_key(|port| order.iter().position(|id| *id == port.after));
    }

    /// True when the air that leaves an element comes out in the rooms.
    pub fn is_at_the_rooms(&self, id: ElementId) -> bool {
        is_at_the_end(&self.elements, id)
    }

    /// True when a side of the blower, true for the one before it, has a port that all its air passes, another than one.
    pub fn has_port_of_chain(&self, before_blower: bool, but: Option<PortId>) -> bool {
        let others = self.ports.iter().filter(|port| Some(port.id) != but && self.index_of(port.after).is_some());
        others.into_iter().any(|port| self.is_before_blower(port.id) == Some(before_blower))
    }

    /// Why a stretch cannot go into a way: with it would go the last port of a side that all the air passes.
    fn shut_in(&self, then: &Self, stretch: &[ElementId]) -> Option<PathFault> {
        let is_lost = |before: bool| self.has_port_of_chain(before, None) && !then.has_port_of_chain(before, None);
        let before = [true, false].into_iter().find(|before| is_lost(*before))?;
        let port = self.ports.iter().find(|port| stretch.contains(&port.after))?;
        Some(PathFault::ShutIn(Side::of(before), self.said(port.after)))
    }

    fn two_ports_at_one_place(&self) -> bool {
        let is_taken =
            |(index, port): (usize, &Port)| self.ports[..index].iter().any(|other| other.after == port.after);
        self.ports.iter().enumerate().any(is_taken)
    }

    /// Empty ways go; a group of one way becomes the way, and what stood behind the group stands behind the way's last element.
    fn dissolve(&mut self) {
        let mut heirs = Vec::new();
        tidy(&mut self.elements, &mut heirs);
        for (group, heir) in heirs {
            let bypass = self.bypass.iter_mut().flat_map(|bypass| [&mut bypass.leaves_after, &mut bypass.joins_after]);
            let places = self.ports.iter_mut().map(|port| &mut port.after).chain(bypass);
            places.filter(|place| **place == group).for_each(|place| *place = heir);
        }
    }

    /// Puts a group in the place of a stretch, which becomes its first way; a port behind the stretch stands behind the group.
    fn wrap(&mut self, group: ElementId, stretch: &[Element], beside: Way) -> Result<(), PathFault> {
        let ids: Vec<ElementId> = stretch.iter().map(|element| element.id).collect();
        let (Some(first), Some(last)) = (ids.first(), ids.last()) else {
            return Err(PathFault::Nothing);
        };
        if self.is_end_of_bypass(&ids) {
            return Err(PathFault::EndOfBypassThere);
        }
        let mut path = self.clone();
        for port in path.ports.iter_mut().filter(|port| port.after == *last) {
            port.after = group;
        }
        let list = list_mut(&mut path.elements, *first).ok_or_else(|| gone(*first))?;
        let index = list.iter().position(|element| element.id == *first).ok_or_else(|| gone(*first))?;
        list.retain(|element| !ids.contains(&element.id));
        let mut held = Element::new(group, ElementKind::SideBySide, Whereabouts::House);
        held.ways = vec![Way { flow: None, elements: stretch.to_vec() }, beside];
        list.insert(index, held);
        self.shut_in(&path, &ids).map_or_else(|| self.take(path), Err)
    }

    fn is_end_of_bypass(&self, ids: &[ElementId]) -> bool {
        let ends = self.bypass.as_ref().map(|bypass| [bypass.leaves_after, bypass.joins_after]);
        ends.is_some_and(|ends| ends.iter().any(|end| ids.contains(end)))
    }

    fn before_the_group_of(&self, id: ElementId) -> Option<ElementId> {
        let (group, _) = self.way_of(id)?;
        let (list, index) = self.list_of(group.id)?;
        Some(list.get(index.checked_sub(1)?)?.id)
    }

    fn side_holds(&self, id: ElementId) -> Result<(), PathFault> {
        let (Some(index), Some(blower), Some(element)) = (self.holder_of(id), self.blower(), self.element(id)) else {
            return Ok(());
        };
        let is_before = index < blower;
        match element.kind.side() {
            Some(side) if side != is_before => Err(PathFault::BelongsTo(Side::of(side), element.name().to_lowercase())),
            Some(_) | None => Ok(()),
        }
    }

    fn sides_of_ports_hold(&self, old: &Self) -> Result<(), PathFault> {
        let kept = self.ports.iter().all(|port| self.is_before_blower(port.id) == old.is_before_blower(port.id));
        if kept { Ok(()) } else { Err(PathFault::PortPastBlower) }
    }

    fn take(&mut self, mut path: Self) -> Result<(), PathFault> {
        path.ports_in_order();
        if path.two_ports_at_one_place() && !self.two_ports_at_one_place() {
            return Err(PathFault::PortsMeet);
        }
        if let Some(fault) = path.problem() {
            return Err(fault);
        }
        *self = path;
        Ok(())
    }
}

const fn gone(id: ElementId) -> PathFault {
    PathFault::NoElement(id)
}

fn list_of(list: &[Element], id: ElementId) -> Option<(&[Element], usize)> {
    if let Some(index) = list.iter().position(|element| element.id == id) {
        return Some((list, index));
    }
    list.iter().flat_map(|element| &element.ways).find_map(|way| list_of(&way.elements, id))
}

fn list_mut(list: &mut Vec<Element>, id: ElementId) -> Option<&mut Vec<Element>> {
    if list.iter().any(|element| element.id == id) {
        return Some(list);
    }
    list.iter_mut().flat_map(|element| &mut element.ways).find_map(|way| list_mut(&mut way.elements, id))
}

fn element_mut(list: &mut [Element], id: ElementId) -> Option<&mut Element> {
    for element in list {
        if element.id == id {
            return Some(element);
        }
        if let Some(found) = element.ways.iter_mut().find_map(|way| element_mut(&mut way.elements, id)) {
            return Some(found);
        }
    }
    None
}

/// Elements in the order in which the air leaves them.
fn exits(list: &[Element]) -> Vec<ElementId> {
    let mut order = Vec::new();
    for element in list {
        order.extend(element.ways.iter().flat_map(|way| exits(&way.elements)));
        order.push(element.id);
    }
    order
}

/// True when an element is the last of a list, or the last of a way of the last.
fn is_at_the_end(list: &[Element], id: ElementId) -> bool {
    let is_end = |last: &Element| last.id == id || last.ways.iter().any(|way| is_at_the_end(&way.elements, id));
    list.last().is_some_and(is_end)
}

/// Takes back the stated shares of a group's ways; a leak keeps its own, for it has no other.
fn unsay_flows(group: &mut Element) {
    for way in group.ways.iter_mut().filter(|way| !way.is_leak()) {
        way.flow = None;
    }
}

/// Empty ways go; a group of one way becomes the way, whose last element is the group's heir.
fn tidy(list: &mut Vec<Element>, heirs: &mut Vec<(ElementId, ElementId)>) {
    let mut index = 0;
    while index < list.len() {
        for way in &mut list[index].ways {
            tidy(&mut way.elements, heirs);
        }
        list[index].ways.retain(|way| !way.elements.is_empty());
        let lone = list[index].is_group() && list[index].ways.len() <= 1;
        if lone {
            let mut group = list.remove(index);
            let within = group.ways.pop().map(|way| way.elements).unwrap_or_default();
            heirs.extend(within.last().map(|last| (group.id, last.id)));
            list.splice(index..index, within);
        } else {
            index += 1;
        }
    }
}

/// Elements of the same kinds, numbered on, with nothing known of them; leaks are not copied.
fn like(elements: &[Element], next: &mut u32) -> Vec<Element> {
    let mut twins = Vec::new();
    for element in elements {
        let id = ElementId(*next);
        *next += 1;
        let mut twin = Element::new(id, element.kind, element.whereabouts);
        for way in element.ways.iter().filter(|way| !way.is_leak()) {
            twin.ways.push(Way { flow: None, elements: like(&way.elements, next) });
        }
        twins.push(twin);
    }
    tidy(&mut twins, &mut Vec::new());
    twins
}
