//! Options for a customer: sets of changes with a name and a reason, of which one is worked on and the others wait.

use crate::model::facts::change::Change;

/// What a person says of an option.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// What it is called; its number where that is empty.
    pub name: String,
    /// Why a customer would take it.
    pub reason: String,
}

impl About {
    /// Its name, or "Option 2" by its index.
    pub fn called(&self, index: usize) -> String {
        if self.name.is_empty() { format!("Option {}", index + 1) } else { self.name.clone() }
    }
}

/// A set of changes with what is said of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JobOption {
    /// What a person says of it.
    pub about: About,
    /// Its changes, in the person's order.
    pub changes: Vec<Change>,
}

/// The options of a job around the one that is worked on, whose changes are the job's own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Options {
    /// What is said of the one that is worked on.
    pub shown: About,
    /// Those before it.
    pub before: Vec<JobOption>,
    /// Those after it.
    pub after: Vec<JobOption>,
}

impl Options {
    /// How many there are; one at least.
    pub const fn count(&self) -> usize {
        self.before.len() + 1 + self.after.len()
    }

    /// Index of the one that is worked on.
    pub const fn index(&self) -> usize {
        self.before.len()
    }

    /// True where nobody has spoken of options: there is one, without a word.
    pub fn are_unsaid(&self) -> bool {
        *self == Self::default()
    }

    /// Those that wait.
    pub fn waiting(&self) -> impl Iterator<Item = &JobOption> {
        self.before.iter().chain(&self.after)
    }
}
