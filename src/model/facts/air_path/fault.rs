//! Why an air path cannot be, or cannot be changed so, as data, each with its sentence.

use crate::model::facts::air_path::{ElementId, PortId};
use crate::model::facts::number::OutOfRange;
use crate::model::facts::told::told;
use crate::units::UnitSystem;

/// Which side of the blower.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Before it.
    Before,
    /// After it.
    After,
}

impl Side {
    /// The side before the blower, or the one after it.
    pub const fn of(before_blower: bool) -> Self {
        if before_blower { Self::Before } else { Self::After }
    }

    /// "before" or "after".
    pub const fn word(self) -> &'static str {
        match self {
            Self::Before => "before",
            Self::After => "after",
        }
    }
}

told! {
    /// Why an air path cannot be, or cannot be changed so; a text is the name of the element that it is about, in small letters.
    PathFault in units;
    /// A share of the air that cannot be.
    Number(refused: OutOfRange) = refused.sentence(units);
    /// There is no such element.
    NoElement(id: ElementId) = format!("The air path has no element {}", id.0);
    /// There is no such port.
    NoPort(id: PortId) = format!("The air path has no port {}", id.0);
    /// There is no such way in a group; by its index.
    NoWay(way: usize) = format!("There is no way {} here", way.saturating_add(1));
    /// So many blowers.
    Blowers(count: usize) = format!("The air path has {count} blowers; it must have exactly one");
    /// Two elements have this number.
    SameNumber(id: ElementId) = format!("Two elements of the air path share the number {}", id.0);
    /// The port stands after an element that is not there.
    PortNowhere(port: PortId, after: ElementId) = format!("Port {} stands after element {}, which the air path does not have", port.0, after.0);
    /// A bypass ends within what the table contains.
    BypassInMachine(name: String) = format!("The bypass begins or ends after the {name}, inside what the blower table contains; it leaves and joins outside the machine");
    /// A bypass does not lead from supply to return.
    BypassAstray = "A bypass leaves behind a supply element of the chain and joins behind a return element";
    /// The bypass begins or ends at it.
    EndOfBypass(name: String) = format!("The bypass begins or ends at the {name}; take the bypass away first");
    /// It has ways and is no group.
    NoGroup(name: String) = format!("The {name} cannot have ways; only ways side by side can");
    /// A leak in the chain itself.
    LeakInChain = "A leak stands in a way of its own, beside what it bypasses";
    /// A leak with others in its way.
    LeakNotAlone = "A leak stands alone in its way";
    /// A bypass in the chain.
    BypassInChain = "A bypass stands beside the chain, not in it";
    /// A part of the machine in a way.
    MachineInWay(name: String) = format!("The {name} cannot stand in a way; all the air passes it");
    /// More groups within groups than this.
    TooDeep(most: usize) = format!("Ways side by side stand in one another more than {most} deep");
    /// A group of so many ways.
    FewWays(id: ElementId, count: usize) = format!("Element {} has {count} ways; side by side are two or more", id.0);
    /// A group of leaks.
    LeaksOnly(id: ElementId) = format!("Element {} has leaks only; one of its ways has to lead on", id.0);
    /// A way of nothing.
    EmptyWay = "A way side by side has no elements; it needs at least one";
    /// It is the machine itself, which is not taken out.
    IsMachine(name: String) = format!("The {name} is the machine itself and cannot be taken out of the path");
    /// It is the machine itself, which does not move.
    Stays(name: String) = format!("The {name} stays; move the elements about it");
    /// A port needs the element.
    HasPort(name: String) = format!("A port stands after the {name}; take the port away or move it first");
    /// Two ports would come to one place.
    PortsMeet = "Two ports would stand at one place; take one away first";
    /// Two ports would come to one place without it.
    PortsMeetWithout(name: String) = format!("Two ports would stand at one place without the {name}; take one away first");
    /// It is the last of its side.
    LastOfSide(name: String) = format!("The {name} is the last element of its side; the path needs one there");
    /// It is at the end of its way already.
    EndOfWay(name: String) = format!("The {name} is already at the end of its way");
    /// It stands in the house, and the machine is in its way.
    InHouse(name: String) = format!("The {name} stands in the house; only parts in the cabinet can go past the blower");
    /// The elements do not follow one another.
    NotInRow = "A way is laid beside elements that follow one another";
    /// There are no elements.
    Nothing = "A way is laid beside at least one element";
    /// All the air passes it.
    PassedByAll(name: String) = format!("All the air passes the {name}; no way can be laid beside it");
    /// A port stands in the way.
    PortInWay = "A port stands in this way; take the port away or move it first";
    /// A leak would go past a part in the cabinet.
    LeakPast(name: String) = format!("A leak cannot go past the {name} in the cabinet; put it before the machine");
    /// A leak would go past nothing.
    LeakPastNothing = "Nothing lies beyond that a leak could go past; put it after the element before";
    /// A port behind a leak.
    NoDuct = "Behind a leak there is no duct to drill";
    /// The rooms lie behind it.
    AtTheRooms(name: String) = format!("Behind the {name} are the rooms, against which everything is read");
    /// There is a port after it.
    PortThere(name: String) = format!("There is a port after the {name} already");
    /// The last port of a side that reads all the air would go into a way: the one after it.
    ShutIn(side: Side, name: String) = format!("No port {} the blower would read all the air any more; move the one after the {name} out of the stretch first", side.word());
    /// It belongs on this side.
    BelongsTo(side: Side, name: String) = format!("The {name} stands {} the blower", side.word());
    /// An element takes a port past the blower.
    PortPastBlower = "A port stays on its own side of the blower; move the port first";
    /// A port would go past the blower.
    PortStays = "A port stays on its own side of the blower";
    /// The port that the job's own readings are taken at.
    OwnPort = "The job's own readings are taken at this port; move it instead";
    /// The only port of a side that reads all the air cannot be taken away.
    OnlyPort(side: Side) = format!("It is the only port {} the blower that reads all the air; move it instead", side.word());
    /// The only port of a side that reads all the air would go into a way.
    OnlyPortIntoWay(side: Side) = format!("It is the only port {} the blower that reads all the air; in a way it would read a part of it", side.word());
    /// It stands in a way and would go into the cabinet.
    InWay(name: String) = format!("The {name} stands in a way side by side; what is in the cabinet passes all the air");
    /// It has no place in the cabinet.
    NotForCabinet(name: String) = format!("A {name} has no place in the cabinet; filters, coils and heaters have");
    /// The bypass begins or ends in a stretch.
    EndOfBypassThere = "The bypass begins or ends there; take the bypass away first";
}

impl From<OutOfRange> for PathFault {
    fn from(refused: OutOfRange) -> Self {
        Self::Number(refused)
    }
}
