//! A coil cleaned: a stated part of its drop was dirt.

use crate::model::change::kinds::taken_away::takes_a_part_away;
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::caution::Caution;
use crate::model::facts::change::CleanCoil;

takes_a_part_away!(
    CleanCoil,
    "Clean coil",
    "A stated fraction of the coil's drop goes away",
    "The fraction is a person's judgement",
    &[ElementKind::Coil],
    &[Caution::CoilWork]
);
