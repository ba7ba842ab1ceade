//! Lengths and design static that the ducts are judged by.

use crate::model::facts::air_path::ElementKind;
use crate::units::{Length, Pressure};

/// What a person states so that the ducts can be judged by their lengths; all of it may be left out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DuctDesign {
    /// Total effective length of the return: its longest run with the equivalent lengths of its fittings, above 0 to 2,000 ft.
    pub return_length: Option<Length>,
    /// The same of the supply.
    pub supply_length: Option<Length>,
    /// External static that the system was designed for, in the job's own air, 0.05 to 5 in. w.c.; nothing means the rated maximum.
    pub design_static: Option<Pressure>,
}

impl DuctDesign {
    /// True where nothing was stated.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The length stated for a side.
    pub const fn length(&self, side: PathSide) -> Option<Length> {
        match side {
            PathSide::Return => self.return_length,
            PathSide::Supply => self.supply_length,
        }
    }
}

/// A side of the blower.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathSide {
    /// Before the blower.
    Return,
    /// After it.
    Supply,
}

impl PathSide {
    /// Both, as the air flows.
    pub const BOTH: [Self; 2] = [Self::Return, Self::Supply];

    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Return => "return",
            Self::Supply => "supply",
        }
    }

    /// The kind of its duct.
    pub const fn duct(self) -> ElementKind {
        match self {
            Self::Return => ElementKind::ReturnDuct,
            Self::Supply => ElementKind::SupplyDuct,
        }
    }
}
