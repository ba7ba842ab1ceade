//! Why a change cannot be put on, and the one place that says it in words.

use crate::model::facts::blower::Call;
use crate::model::facts::duct::refusal::InputError;
use crate::model::facts::number::OutOfRange;
use crate::units::UnitSystem;

/// Why a change cannot be put on.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A number of it cannot be.
    Number(OutOfRange),
    /// A size of it cannot be.
    Size(InputError),
    /// The element that it was put on is gone.
    ElementGone,
    /// The element of this name has no drop of its own.
    NoOwnDrop(String),
    /// A call has dried the coil already.
    DriedBy(Call),
    /// What would stand beside goes past the place where the bypass joins.
    PastBypass(Beside),
    /// There is nothing that it could stand beside.
    NothingBeside(Beside),
    /// The air of a second return would pass no filter.
    NoFilter,
    /// A law comes of it with which no drop can be worked out.
    NoRoom,
    /// The opening that stands there is all free and loses nothing.
    AllFree,
}

/// What a change lays beside parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// A second return.
    Return,
    /// A hole between filter and blower.
    Hole,
}

impl Refusal {
    /// One sentence, in the units shown.
    pub fn sentence(&self, units: UnitSystem) -> String {
        match self {
            Self::Number(number) => number.sentence(units),
            Self::Size(size) => size.sentence(units),
            Self::ElementGone => "The element that this change was put on is gone".to_owned(),
            Self::NoOwnDrop(name) => format!(
                "The {} is no external part with a drop of its own: it belongs to the table, is out of the path, or no drop is read, known or left for it",
                name.to_lowercase()
            ),
            Self::DriedBy(call) => format!("{} leaves the coil dry already; take this off", call.name()),
            Self::PastBypass(beside) => {
                let what = match beside {
                    Beside::Return => "A second return with a filter of its own",
                    Beside::Hole => "A hole between filter and blower",
                };
                format!(
                    "{what} goes past the place where the bypass joins, which cannot be worked out; take the bypass away or shut it first"
                )
            }
            Self::NothingBeside(Beside::Return) => {
                "A second return needs a read or known drop of the return grille and duct to stand beside".to_owned()
            }
            Self::NothingBeside(Beside::Hole) => "A panel off needs a read return side to stand beside".to_owned(),
            Self::NoRoom => "This leaves so little room for the air, or so much, that no drop can be worked out; is a size or a factor mistyped?".to_owned(),
            Self::AllFree => "An opening that is all free loses nothing, so nothing follows from its drop; give the free area that it has now".to_owned(),
            Self::NoFilter => "Every filter stands before the place where a second return joins, so its air would pass none; give it a filter of its own".to_owned(),
        }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.sentence(UnitSystem::InchPound))
    }
}

impl std::error::Error for Refusal {}

impl From<Refusal> for String {
    fn from(refusal: Refusal) -> Self {
        refusal.to_string()
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
