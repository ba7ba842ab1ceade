//! A coil or a filter cleaned: a stated part of its drop was dirt.

use crate::model::change::kinds::taken_away::takes_a_part_away;
use crate::model::change::{Declaration, Kind as _, Lands};
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::caution::Caution;
use crate::model::facts::change::CleanCoil;

takes_a_part_away!(
    CleanCoil,
    "Clean",
    "A stated fraction of the part's drop goes away: it was dirt",
    "The fraction is a person's judgement",
    &[ElementKind::Filter, ElementKind::Coil],
    &[Caution::Filter, Caution::CoilWork]
);

/// It as the tray shows it: each part's own card, so that one press is enough.
pub(super) static CARDS: [Declaration; 2] = [
    Declaration { name: "Clean filter", lands: Lands::On(&[ElementKind::Filter]), ..CleanCoil::DECLARATION },
    Declaration { name: "Clean coil", lands: Lands::On(&[ElementKind::Coil]), ..CleanCoil::DECLARATION },
];
