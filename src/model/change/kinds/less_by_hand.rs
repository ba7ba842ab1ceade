//! An element takes a stated part less, whatever makes it.

use crate::model::change::kinds::taken_away::takes_a_part_away;
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::change::LessByHand;

const ANY: &[ElementKind] = &[
    ElementKind::Louvre,
    ElementKind::ReturnGrille,
    ElementKind::ReturnDuct,
    ElementKind::Filter,
    ElementKind::Coil,
    ElementKind::Heater,
    ElementKind::SupplyDuct,
    ElementKind::Registers,
    ElementKind::AirCleaner,
    ElementKind::Humidifier,
    ElementKind::Damper,
];

takes_a_part_away!(
    LessByHand,
    "Reduce by %",
    "An element's drop is reduced by a stated percentage",
    "For what-ifs: it says nothing of how",
    ANY,
    &[]
);
