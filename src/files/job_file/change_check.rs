//! Whether a job's changes can be meant.
//!
//! A change on an element that the path no longer has, and a change to a tap that the table no longer has, are let through: they open, stay in their place, and the answer refuses them in words.

use crate::model::change::{Change, ChangeKind, Opening};
use crate::model::duct::input::{Field, InputError};
use crate::model::duct::registers;
use crate::model::duct::run::Run;

use super::change_to_model::place_of_change;
use super::check::{Checked, check_not_negative, check_target, check_within, twice, without_noise};
use super::error::JobFileError;

/// Refuses the first change that cannot be meant.
pub(super) fn check(changes: &[Change]) -> Checked {
    if let Some(id) = twice(changes.iter().map(|change| change.id)) {
        return Err(JobFileError::Contents(format!("Two changes share the number {}", id.0)));
    }
    changes.iter().try_for_each(check_one)
}

fn check_one(change: &Change) -> Checked {
    let place = place_of_change(change.id);
    if let Some(price) = change.price {
        check_not_negative(&format!("{place}: price"), price)?;
    }
    check_kind(&place, &change.kind)
}

fn check_kind(place: &str, kind: &ChangeKind) -> Checked {
    let sentence = |refused: InputError| JobFileError::Contents(format!("{place}: {refused}"));
    let factor = |value, range| check_within(&format!("{place}: factor"), value, range, "the factor");
    match kind {
        ChangeKind::LessByHand { fraction, .. }
        | ChangeKind::CleanCoil { fraction, .. }
        | ChangeKind::RepairRun { fraction, .. }
        | ChangeKind::Seal { fraction, .. } => check_within(
            &format!("{place}: fraction_percent"),
            without_noise(fraction * 100.0),
            (0.0, 100.0),
            "what is taken away",
        ),
        ChangeKind::FilterLoading { factor: value, .. } => factor(*value, (0.05, 20.0)),
        ChangeKind::BelowTable { factor: value } => factor(*value, (0.5, 1.0)),
        ChangeKind::MoreFilterArea { now, then, .. } => {
            [now, then].into_iter().try_for_each(|area| Field::MediaArea.check(area.in2()).map(drop)).map_err(sentence)
        }
        ChangeKind::OtherDuct { now, then, .. } => [now, then].into_iter().try_for_each(check_run).map_err(sentence),
        ChangeKind::SecondReturn { run, grille, .. } => {
            check_run(run).and_then(|()| check_opening(grille)).map_err(sentence)
        }
        ChangeKind::OtherOpening { now, then, .. } => {
            [now, then].into_iter().try_for_each(check_opening).map_err(sentence)
        }
        ChangeKind::OpenRegisters { now, then, of, .. } => {
            registers::from_open_to_open(*now, *then, *of, 2.0).map(drop).map_err(sentence)
        }
        ChangeKind::OtherCoilState { factor: value, .. } => factor(*value, (0.3, 3.0)),
        ChangeKind::PanelOff { area } => Field::FaceArea.check(area.in2()).map(drop).map_err(sentence),
        ChangeKind::OtherMachine(new) => {
            new.target.as_ref().map_or(Ok(()), |target| check_target(&format!("{place}: target"), target))
        }
        ChangeKind::ByData { .. } | ChangeKind::OtherTap(_) | ChangeKind::OtherCall(_) => Ok(()),
    }
}

fn check_run(run: &Run) -> Result<(), InputError> {
    run.checked().map(drop)
}

fn check_opening(opening: &Opening) -> Result<(), InputError> {
    Field::FaceArea.check(opening.face.in2())?;
    Field::FreeArea.check(opening.free_area).map(drop)
}
