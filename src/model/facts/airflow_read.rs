//! What was read of the airflow by other means than the blower's table.

use crate::model::facts::duct::design::PathSide;
use crate::units::{Airflow, Pressure};

/// A second opinion on the airflow, by what it rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OpinionKind {
    /// Temperature rise and the heat that goes in.
    Heat,
    /// What the supply grilles give, added up.
    SupplySum,
    /// What the return grilles draw, added up.
    ReturnSum,
    /// A plate or grid in the filter's slot.
    Plate,
    /// The blower's watts, by the table's watts.
    Watts,
}

impl OpinionKind {
    /// Every one, in the order in which they are told.
    pub const ALL: [Self; 5] = [Self::Heat, Self::SupplySum, Self::ReturnSum, Self::Plate, Self::Watts];

    /// What sentences and choices call it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Heat => "rise and heat",
            Self::SupplySum => "supply grilles",
            Self::ReturnSum => "return grilles",
            Self::Plate => "plate",
            Self::Watts => "watts",
        }
    }
}

/// The opinion that a person trusts more than the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Anchor {
    /// By what.
    pub by: OpinionKind,
    /// Index of the reading set that it is of.
    pub set: usize,
    /// True where every tap of the table is scaled by it: a table that is wrong by a factor is wrong in every set.
    pub scales: bool,
}

/// What was read of the airflow besides static, rise and watts; all of it may be left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AirflowRead {
    /// Airflow of each supply grille, as a hood shows it, or one sum of all.
    pub supply_grilles: Vec<Airflow>,
    /// The same of the return grilles.
    pub return_grilles: Vec<Airflow>,
    /// A plate or grid in the filter's slot.
    pub plate: PlateRead,
}

impl AirflowRead {
    /// True where nothing was read.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The grilles of a side.
    pub fn grilles(&self, side: PathSide) -> &[Airflow] {
        match side {
            PathSide::Supply => &self.supply_grilles,
            PathSide::Return => &self.return_grilles,
        }
    }

    /// The same, to be changed.
    pub fn grilles_mut(&mut self, side: PathSide) -> &mut Vec<Airflow> {
        match side {
            PathSide::Supply => &mut self.supply_grilles,
            PathSide::Return => &mut self.return_grilles,
        }
    }

    /// All grilles of a side together; nothing where none was read.
    pub fn sum(&self, side: PathSide) -> Option<Airflow> {
        let grilles = self.grilles(side);
        (!grilles.is_empty()).then(|| grilles.iter().copied().sum())
    }
}

/// Exponent of most plates: their pressure difference goes with the square of the airflow.
pub const SQUARE_ROOT: f64 = 0.5;

/// What was read at a plate or grid in the filter's slot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateRead {
    /// Airflow read off its own scale.
    pub airflow: Option<Airflow>,
    /// Of its maker's law, airflow = K·Δpⁿ: K, the airflow at 1 in. w.c.
    pub at_one: Option<Airflow>,
    /// Of that law: n.
    pub exponent: f64,
    /// The pressure difference read at it.
    pub drop: Option<Pressure>,
    /// Static in the supply plenum as the system runs without the plate.
    pub usual_static: Option<Pressure>,
    /// The same with the plate in.
    pub plate_static: Option<Pressure>,
}

impl Default for PlateRead {
    fn default() -> Self {
        Self { airflow: None, at_one: None, exponent: SQUARE_ROOT, drop: None, usual_static: None, plate_static: None }
    }
}

impl PlateRead {
    /// True where nothing was read.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Static in the supply plenum as it usually is, and with the plate in, where both were read.
    pub fn statics(&self) -> Option<(Pressure, Pressure)> {
        self.usual_static.zip(self.plate_static)
    }
}
