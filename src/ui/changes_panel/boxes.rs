//! Boxes for what is typed of a change.

/// One box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its number within the change.
    pub number: u8,
    /// Its name for screen readers and in refusals.
    pub name: String,
    /// What stands in it.
    pub shown: String,
    /// True where a point has to fit in.
    pub is_wide: bool,
}

/// A box under its label, with its number among the boxes of its value.
pub type Box = (String, Slot);

/// A box for a number.
pub fn narrow(number: u8, label: String, name: impl Into<String>, shown: String) -> Box {
    (label, Slot { number, name: name.into(), shown, is_wide: false })
}

/// A box in which a point has to fit.
pub fn wide(number: u8, label: String, name: impl Into<String>, shown: String) -> Box {
    (label, Slot { number, name: name.into(), shown, is_wide: true })
}
