//! Whose a limit or a figure of accuracy is: the program's own source, as long as nobody changed the figure, else whom a person named.

use std::collections::BTreeMap;

/// What a person named of figures, by the keys that a job's file has for them; what is not in it was not named.
pub type Sources = BTreeMap<&'static str, NamedSource>;

/// Whose a figure is, as a person typed it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NamedSource {
    /// Whose, on one line: "City of Elm, mechanical code".
    pub name: String,
    /// Of when, as typed: "2024".
    pub date: String,
}

/// A part of what a person names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SourcePart {
    /// Whose it is.
    Name,
    /// Of when.
    Date,
}

/// Whose a figure of a job is; [`crate::model::facts::job_number::JobNumber::whose`] says it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whose {
    /// It is as the program has it, of this source.
    BuiltIn(&'static str),
    /// As a person named it.
    Named(NamedSource),
    /// A person changed it and named nobody.
    Unsaid,
}

impl NamedSource {
    /// Puts a part of what is named of a figure, by its key; of what nothing is left, nothing is kept.
    pub fn put(sources: &mut Sources, of: &'static str, part: SourcePart, text: &str) {
        let named = sources.entry(of).or_default();
        let held = match part {
            SourcePart::Name => &mut named.name,
            SourcePart::Date => &mut named.date,
        };
        text.trim().clone_into(held);
        if *named == Self::default() {
            sources.remove(of);
        }
    }

    /// A part of it.
    pub fn part(&self, part: SourcePart) -> &str {
        match part {
            SourcePart::Name => &self.name,
            SourcePart::Date => &self.date,
        }
    }
}

impl SourcePart {
    /// Every one.
    pub const ALL: [Self; 2] = [Self::Name, Self::Date];

    /// What a refusal calls it.
    pub const fn called(self) -> &'static str {
        match self {
            Self::Name => "A source of a figure",
            Self::Date => "A date of a figure",
        }
    }
}
