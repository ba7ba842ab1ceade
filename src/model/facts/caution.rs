//! What somebody has to mind who reads, changes or mends a machine; [`crate::model::wording::cautions`] says it and when.

/// One caution of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// Too little air passes what heats.
    NoHeat,
    /// Holes for readings, and panels.
    Drilling,
    /// Watts and voltage.
    LiveCircuits,
    /// A tap, a jumper or a switch is moved.
    TapChange,
    /// Combustion air and venting after the pressures in a house were changed.
    Venting,
    /// Where return air is never drawn from.
    ReturnAir,
    /// A coil is cleaned or exchanged.
    CoilWork,
    /// Ducts are mended in attics and crawl spaces.
    Repairs,
    /// What filter fits, and none left out.
    Filter,
    /// Another machine is set.
    Machine,
    /// A panel is off while the blower runs.
    PanelOff,
}
