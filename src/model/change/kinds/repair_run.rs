//! A crushed or kinked run put right: a stated part of its drop was damage.

use crate::model::change::kinds::taken_away::takes_a_part_away;
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::caution::Caution;
use crate::model::facts::change::RepairRun;

takes_a_part_away!(
    RepairRun,
    "Repair a run",
    "A stated fraction of the run's drop goes away",
    "The fraction is a person's judgement",
    &[ElementKind::ReturnDuct, ElementKind::SupplyDuct],
    &[Caution::Repairs]
);
