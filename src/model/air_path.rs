//! Everything that the air meets between the rooms and the rooms again, in flow order, and the ports where static pressure is read.

use crate::model::blower::{Basis, EquipmentKind, PartInTest};
use crate::model::drop_data::{DRY_COIL, DropData, MEDIA_FILTER, SQUARE_LAW};

/// Names an element for as long as the job lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ElementId(pub u32);

/// Names a port for as long as the job lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PortId(pub u32);

/// What an element is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ElementKind {
    /// Closet door or louvre between the rooms and a machine without return duct.
    Louvre,
    /// Return grille.
    ReturnGrille,
    /// Return duct and plenum.
    ReturnDuct,
    /// Filter.
    Filter,
    /// The blower itself, where the pressure rises.
    Blower,
    /// Heat exchanger of a furnace, always part of the table.
    HeatExchanger,
    /// Cooling coil.
    Coil,
    /// Electric heater.
    Heater,
    /// Supply plenum and duct.
    SupplyDuct,
    /// Supply registers.
    Registers,
}

impl ElementKind {
    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Louvre => "Closet louvre",
            Self::ReturnGrille => "Return grille",
            Self::ReturnDuct => "Return duct",
            Self::Filter => "Filter",
            Self::Blower => "Blower",
            Self::HeatExchanger => "Heat exchanger",
            Self::Coil => "Coil",
            Self::Heater => "Electric heater",
            Self::SupplyDuct => "Supply duct",
            Self::Registers => "Registers",
        }
    }
}

impl ElementKind {
    /// Exponent of its drop where nobody has said another (assumed): media filters by measurement, coils and duct by common practice, the rest by the square law of fittings.
    pub const fn usual_exponent(self) -> f64 {
        match self {
            Self::Filter => MEDIA_FILTER,
            Self::Coil | Self::Heater => DRY_COIL,
            Self::ReturnDuct | Self::SupplyDuct => MOSTLY_FITTINGS,
            _ => SQUARE_LAW,
        }
    }

    /// Weight by which an unsplit segment is first shared among its elements (assumed, to be replaced by what a person knows).
    pub const fn usual_weight(self) -> f64 {
        match self {
            Self::Blower | Self::HeatExchanger => 0.0,
            Self::Louvre | Self::ReturnGrille | Self::Registers | Self::Heater => 1.0,
            Self::ReturnDuct | Self::Filter => 2.0,
            Self::Coil | Self::SupplyDuct => 3.0,
        }
    }
}

/// Exponent of a duct with its fittings: between straight duct's 1.8 to 1.9 by Colebrook and the fittings' 2 (common practice, no source).
pub const MOSTLY_FITTINGS: f64 = 1.9;

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
    /// Where it sits.
    pub whereabouts: Whereabouts,
    /// Its drop as it is now, by data, where known.
    pub drop: Option<DropData>,
    /// Its share of the segment that it stands in, as a fraction, where a person has said it.
    pub share: Option<f64>,
    /// Exponent of its drop, 1 to 2.2, where a person has said it.
    pub exponent: Option<f64>,
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
            EquipmentKind::BlowThroughAirHandler => &[(K::Filter, Cabinet), (K::Blower, Cabinet), (K::Coil, Cabinet)],
        };
        let before: &[(K, Whereabouts)] = match kind {
            EquipmentKind::NoReturnDuct => &louvre,
            _ => &ret,
        };
        let elements: Vec<Element> = before
            .iter()
            .chain(machine)
            .chain(&supply)
            .zip(1..)
            .map(|(&(kind, whereabouts), number)| Element {
                id: ElementId(number),
                kind,
                whereabouts,
                drop: None,
                share: None,
                exponent: None,
            })
            .collect();
        let mut path = Self { elements, ports: Vec::new() };
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
        element.whereabouts == Whereabouts::Cabinet
            && match element.kind {
                ElementKind::Blower | ElementKind::HeatExchanger => true,
                ElementKind::Filter => basis.filter == PartInTest::Included,
                ElementKind::Coil => basis.coil.is_included(),
                ElementKind::Heater => basis.heater == PartInTest::Included,
                _ => false,
            }
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

    /// The element of a lasting name.
    pub fn element(&self, id: ElementId) -> Option<&Element> {
        self.elements.iter().find(|element| element.id == id)
    }

    /// Index of an element.
    pub fn index_of(&self, id: ElementId) -> Option<usize> {
        self.elements.iter().position(|element| element.id == id)
    }

    /// The first element of a kind.
    pub fn first(&self, kind: ElementKind) -> Option<&Element> {
        self.elements.iter().find(|element| element.kind == kind)
    }

    /// The port of a lasting name.
    pub fn port(&self, id: PortId) -> Option<&Port> {
        self.ports.iter().find(|port| port.id == id)
    }

    /// Number of elements that the air has passed when it reaches a port; zero is the rooms.
    pub fn elements_before(&self, id: PortId) -> Option<usize> {
        let port = self.port(id)?;
        Some(self.index_of(port.after)? + 1)
    }

    /// True when a port stands before the blower.
    pub fn is_before_blower(&self, id: PortId) -> Option<bool> {
        Some(self.elements_before(id)? <= self.blower()?)
    }

    /// What makes the chain unusable, in one sentence.
    pub fn problem(&self) -> Option<String> {
        let blowers = self.elements.iter().filter(|element| element.kind == ElementKind::Blower).count();
        if blowers != 1 {
            return Some(format!("The air path has {blowers} blowers; it must have exactly one"));
        }
        let repeated = self
            .elements
            .iter()
            .enumerate()
            .find(|(index, element)| self.elements[..*index].iter().any(|other| other.id == element.id));
        if let Some((_, element)) = repeated {
            return Some(format!("Two elements of the air path share the number {}", element.id.0));
        }
        let astray = self.ports.iter().find(|port| self.index_of(port.after).is_none())?;
        Some(format!("Port {} stands after element {}, which the air path does not have", astray.id.0, astray.after.0))
    }
}
