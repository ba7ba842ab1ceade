//! Limits that verdicts use: data that a person may change, each with its source.

use crate::units::{Capacity, Length, Pressure};

/// The editable limits of a job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Accepted difference from the target, as a fraction (0.10 is ten percent).
    ///
    /// Default ±10 % (common practice, no source; ANSI/RESNET/ACCA 310 grade I accepts ±15 %, recalled from memory).
    pub accept_band: f64,
    /// Most that the return grille and duct should take: 0.10 to 0.15 in. w.c. (common practice, no source).
    pub return_drop: Pressure,
    /// Most that the supply side of a furnace with an outside coil should take: 0.5 to 0.6 in. w.c. (common practice, no source).
    pub furnace_supply_drop: Pressure,
    /// Total external static under this points at a leak, an open panel or a missing part: 0.20 in. w.c. (common practice, no source).
    pub least_static: Pressure,
    /// Electric power for each cfm: 0.58 W/cfm (Title 24 Part 6 §150.0(m)13, air handlers that are not gas furnaces; recalled from memory and read in a copy of the source).
    pub watts_per_cfm: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            accept_band: 0.10,
            return_drop: Pressure::from_in_wc(0.15),
            furnace_supply_drop: Pressure::from_in_wc(0.60),
            least_static: Pressure::from_in_wc(0.20),
            watts_per_cfm: 0.58,
        }
    }
}

/// What a filter between the rooms and the machine may take besides grille and duct: 0.20 in. w.c. (common practice, no source).
pub const FILTER_DROP: Pressure = Pressure::from_in_wc(0.20);
/// What a wet coil between the rooms and the machine may take besides: 0.30 in. w.c. (common practice, no source).
pub const COIL_DROP: Pressure = Pressure::from_in_wc(0.30);
/// Watts for each cfm of a gas furnace (Title 24 Part 6 §150.0(m)13; recalled from memory, read second-hand).
pub const FURNACE_WATTS_PER_CFM: f64 = 0.45;

/// Longest total effective length taken, of one side (common practice, no source); any length above zero is taken.
pub const LONGEST_EFFECTIVE_LENGTH: Length = Length::from_ft(2000.0);
/// Design static pressures taken (common practice, no source).
pub const DESIGN_STATIC_RANGE: (Pressure, Pressure) = (Pressure::from_in_wc(0.05), Pressure::from_in_wc(5.0));
/// Total external static under this share of the design static points at a leak, an open panel or a missing part (common practice, no source).
pub const LEAST_OF_DESIGN: f64 = 0.5;

/// Capacities that residential and light commercial equipment has.
pub const CAPACITY_RANGE: (Capacity, Capacity) = (Capacity::from_tons(0.5), Capacity::from_tons(25.0));
