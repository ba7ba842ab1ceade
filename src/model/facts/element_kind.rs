//! What an element of the air path is.

use crate::model::facts::drop_data::{DRY_COIL, LEAK_EXPONENT, MEDIA_FILTER, SQUARE_LAW};

/// What an element is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ElementKind {
    /// Closet door or louvre between the rooms and a machine without return duct.
    Louvre,
    /// Return grille.
    ReturnGrille,
    /// Return duct and plenum.
    ReturnDuct,
    /// Filter.
    Filter,
    /// The blower itself, where the pressure rises.
    Blower,
    /// Heat exchanger of a furnace, always part of the table.
    HeatExchanger,
    /// Cooling coil.
    Coil,
    /// Electric heater.
    Heater,
    /// Supply plenum and duct.
    SupplyDuct,
    /// Supply registers.
    Registers,
    /// Air cleaner in a housing of its own.
    AirCleaner,
    /// Humidifier in the duct.
    Humidifier,
    /// Damper.
    Damper,
    /// Hole in a duct, alone in its way: air that never passes the rooms.
    Leak,
    /// Way from supply back to return past the rooms.
    Bypass,
    /// Ways side by side, which flow as one element.
    SideBySide,
}

impl ElementKind {
    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Louvre => "Closet louver",
            Self::ReturnGrille => "Return grille",
            Self::ReturnDuct => "Return duct",
            Self::Filter => "Filter",
            Self::Blower => "Blower",
            Self::HeatExchanger => "Heat exchanger",
            Self::Coil => "Coil",
            Self::Heater => "Electric heater",
            Self::SupplyDuct => "Supply duct",
            Self::Registers => "Registers",
            Self::AirCleaner => "Air cleaner",
            Self::Humidifier => "Humidifier",
            Self::Damper => "Damper",
            Self::Leak => "Leak",
            Self::Bypass => "Bypass",
            Self::SideBySide => "Side by side",
        }
    }

    /// Parts that one pulls for a reading, and puts back.
    pub const fn is_pulled(self) -> bool {
        match self {
            Self::Filter | Self::ReturnGrille | Self::Registers | Self::Louvre => true,
            Self::Coil
            | Self::Heater
            | Self::AirCleaner
            | Self::Humidifier
            | Self::Damper
            | Self::ReturnDuct
            | Self::Blower
            | Self::HeatExchanger
            | Self::SupplyDuct
            | Self::Leak
            | Self::Bypass
            | Self::SideBySide => false,
        }
    }

    /// Exponent of its drop where nobody has said another (assumed): media filters by measurement, coils and duct by common practice, the rest by the square law of fittings.
    pub const fn usual_exponent(self) -> f64 {
        match self {
            Self::Filter | Self::AirCleaner => MEDIA_FILTER,
            Self::Leak => LEAK_EXPONENT,
            Self::Coil | Self::Heater => DRY_COIL,
            Self::ReturnDuct | Self::SupplyDuct => MOSTLY_FITTINGS,
            Self::Louvre
            | Self::ReturnGrille
            | Self::Registers
            | Self::Blower
            | Self::HeatExchanger
            | Self::Humidifier
            | Self::Damper
            | Self::Bypass
            | Self::SideBySide => SQUARE_LAW,
        }
    }

    /// Its weight among elements that share a drop, where nobody stated a share; a group has none of its own.
    pub(super) const fn usual_weight(self) -> f64 {
        match self {
            Self::Blower | Self::HeatExchanger | Self::Bypass | Self::SideBySide => 0.0,
            Self::Louvre
            | Self::ReturnGrille
            | Self::Registers
            | Self::Heater
            | Self::Leak
            | Self::Humidifier
            | Self::Damper => 1.0,
            Self::ReturnDuct | Self::Filter | Self::AirCleaner => 2.0,
            Self::Coil | Self::SupplyDuct => 3.0,
        }
    }
}

/// Exponent of a duct with its fittings: between straight duct's 1.8 to 1.9 by Colebrook and the fittings' 2 (common practice, no source).
pub const MOSTLY_FITTINGS: f64 = 1.9;
