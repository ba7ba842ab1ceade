//! Why an edit, a change or a job is refused, as data, each with its sentence.

use crate::model::facts::air_path::fault::PathFault;
use crate::model::facts::air_path::{ElementId, PortId};
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::ChangeId;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::job_check::Oddity;
use crate::model::facts::limits::{HIGHEST_NUMBER, TooMuch};
use crate::model::facts::number::{Number, OutOfRange};
use crate::model::facts::readings::ReadAt;
use crate::model::facts::table_check::TableProblem;
use crate::model::facts::told::told;
use crate::units::{Pressure, UnitSystem, show, text};

told! {
    /// Why an edit, a change or a job is refused.
    Refusal in units;
    /// Something in this place: "Set 1 (As found)".
    At(place: String, refusal: Box<Self>) = format!("{place}: {}", refusal.sentence(units));
    /// A number that cannot be.
    Number(refused: OutOfRange) = refused.sentence(units);
    /// Nothing where a number has to be.
    NothingFor(number: &'static Number) = number.nothing_typed(units);
    /// A size that cannot be.
    Size(size: InputError) = size.sentence(units);
    /// More than a job holds.
    TooMuch(most: TooMuch) = most.sentence();
    /// An air path that cannot be.
    Path(fault: PathFault) = fault.sentence(units);
    /// A table that cannot be taken up.
    Table(told: Box<(BlowerTable, TableProblem)>) = told.1.sentence(&told.0, units);
    /// Something that no question is asked about.
    Odd(what: Oddity) = text::shortened(&what.sentence(units));
    /// A change, by the name of its kind, on an element of a kind that it cannot go on.
    CannotGoOn(change: &'static str, name: String) = format!("{change} cannot go on the {name}");
    /// What has such a number, and one too high to count on from.
    TooHigh(of: &'static str, number: u32) = format!("A number of {} for {of} cannot be; numbers go up to {}", counted(*number), counted(HIGHEST_NUMBER));
    /// Two ports of one number.
    SamePort(id: PortId) = format!("Two ports of the air path share the number {}", id.0);
    /// Two changes of one number.
    SameChange(id: ChangeId) = format!("Two changes share the number {}", id.0);
    /// No reading set.
    NoSets = "A job without a reading set cannot be; it needs at least one";
    /// The index of a reading set that is not there, and how many are.
    NoSuchSet(index: usize, count: usize) = format!("There are no readings {}; they are numbered from 1 to {count}", index.wrapping_add(1));
    /// The index of an option that is not there, and how many are.
    NoSuchOption(index: usize, count: usize) = format!("There is no option {}; they are numbered from 1 to {count}", index.wrapping_add(1));
    /// Labour of more than the price.
    LabourOverPrice = "Labour is a part of the price and cannot be more than it; type the price first";
    /// The last option taken away.
    LastOption = "The only option stays; take its changes away instead";
    /// A call with two targets.
    TwoTargets(call: Call) = format!("{} has two targets; give each call one", call.name());
    /// A place read twice.
    ReadTwice(at: ReadAt) = format!("{} is read twice; all readings at one place belong into one list", named(*at));
    /// A port that is read and is not there.
    NoSuchPort(id: PortId) = format!("Port {} is read, but the air path has no such port", id.0);
    /// An element that is read across and is not there.
    NoSuchElement(id: ElementId) = format!("Element {} is read across, but the air path has no such element", id.0);
    /// A look that is no number.
    NoNumber(at: ReadAt, look: Pressure) = format!("{}: a reading of {} {} is no number", named(*at), units.pressure_number(*look), units.pressure_unit());
    /// An element out of the path that is not there.
    OutNowhere(id: ElementId) = format!("Element {} is said to be out of the path, but the air path has no such element", id.0);
    /// The element that it was put on is gone.
    ElementGone = "The element that this change was put on is gone";
    /// The element of this name has no drop of its own.
    NoOwnDrop(name: String) = format!("The {} is no external part with a drop of its own: the table contains it and nothing says what it drops clean, it is out of the path, or no drop is read, known or left for it", name.to_lowercase());
    /// The element of this name was out while these readings were taken.
    WasOut(name: String) = format!("These readings were taken without the {}, and they say nothing of what a change to that part does: show readings with that part in its place", name.to_lowercase());
    /// A call has dried the coil already.
    DriedBy(call: Call) = format!("{} leaves the coil dry already; take this off", call.name());
    /// What would stand beside goes past the place where the bypass joins.
    PastBypass(beside: Beside) = format!("{} goes past the place where the bypass joins, which cannot be worked out; take the bypass away or shut it first", beside.goes_past());
    /// There is nothing that it could stand beside.
    NothingBeside(beside: Beside) = beside.needs();
    /// The air of a second return would pass no filter.
    NoFilter = "Every filter stands before the place where a second return joins, so its air would pass none; give it a filter of its own";
    /// A law comes of it with which no drop can be worked out.
    NoRoom = "This leaves so little room for the air, or so much, that no drop can be worked out; is a size or a factor mistyped?";
    /// The opening that stands there is all free and loses nothing.
    AllFree = "An opening that is all free loses nothing, so nothing follows from its drop; give the free area that it has now";
    /// The table has no tap of this name, and what it calls one.
    NoTap(word: &'static str, tap: String) = format!("The table has no {word} \"{tap}\"");
    /// The table runs no tap for the call.
    NoTapFor(call: Call) = format!("The table does not say which tap runs {}; put another tap on instead", call.name().to_lowercase());
    /// No tap of another machine, by its table's name, is said, and its table has none for the call.
    NoTapOf(table: String) = format!("Say which tap of {table} runs; its table has no call for it");
    /// An element that was to leave with the old machine is not there.
    LeavesNowhere(id: ElementId) = format!("Element {} was to leave with the old machine, but the air path does not have it", id.0);
    /// The element of this name cannot leave with the old machine.
    CannotLeave(name: String) = format!("The {name} cannot leave with the old machine: it is all of its way, or nothing says what it takes of its stretch");
    /// The table prints no drop for a wet coil.
    NoWetDrop = "The table prints no drop for a wet coil, so nothing says what the coil inside the machine takes in its other state; give its clean drop by data, and the factor counts";
    /// Another change has put the coil into its other state.
    CoilAgain = "Another change puts the coil into its other state already; take this off";
    /// The element of this name is replaced after it.
    ReplacedAfter(name: String) = format!("The {name} is replaced by a new one after this, and nothing of this is left; move it down to do it to the new one");
    /// Another tap is put on after it; the word for a tap, and its name.
    TapAfter(word: &'static str, name: String) = format!("Nothing is left of this: {word} {name} is put on after it; take one of them off");
    /// Another call is put on after it.
    CallAfter(call: Call) = format!("Nothing is left of this: {} is called after it; take one of them off", call.name().to_lowercase());
    /// The tap's curve does not reach the path.
    OutOfReach = "The tap's curve does not reach this path";
}

/// What a change lays beside parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// A second return.
    Return,
    /// A hole between filter and blower.
    Hole,
}

impl Beside {
    const fn goes_past(self) -> &'static str {
        match self {
            Self::Return => "A second return with a filter of its own",
            Self::Hole => "A hole between filter and blower",
        }
    }

    const fn needs(self) -> &'static str {
        match self {
            Self::Return => "A second return needs a read or known drop of the return grille and duct to stand beside",
            Self::Hole => "A panel off needs a read return side to stand beside",
        }
    }
}

fn counted(number: u32) -> String {
    show::number(f64::from(number), 0)
}

fn named(at: ReadAt) -> String {
    match at {
        ReadAt::Port(id) => format!("Port {}", id.0),
        ReadAt::Total => "The total".to_owned(),
        ReadAt::Across(id) => format!("Across element {}", id.0),
    }
}

impl Refusal {
    /// The same in its place.
    #[must_use]
    pub fn at(self, place: impl Into<String>) -> Self {
        Self::At(place.into(), Box::new(self))
    }
}

impl From<InputError> for Refusal {
    fn from(size: InputError) -> Self {
        Self::Size(size)
    }
}

impl From<OutOfRange> for Refusal {
    fn from(number: OutOfRange) -> Self {
        Self::Number(number)
    }
}

impl From<TooMuch> for Refusal {
    fn from(most: TooMuch) -> Self {
        Self::TooMuch(most)
    }
}

impl From<PathFault> for Refusal {
    fn from(fault: PathFault) -> Self {
        Self::Path(fault)
    }
}
