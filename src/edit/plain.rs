//! Texts of an edit as a job keeps them (see [`plain_text`]).

use super::Edit;
use crate::model::facts::change::{ChangeKind, OtherTap, Replacement};
use crate::model::facts::plain_text::{lines, of_table, one_line};

/// The edit with plain texts.
pub(super) fn edit(edit: Edit) -> Edit {
    match edit {
        Edit::Title(text) => Edit::Title(one_line(&text)),
        Edit::Place(text) => Edit::Place(one_line(&text)),
        Edit::Date(text) => Edit::Date(one_line(&text)),
        Edit::Notes(text) => Edit::Notes(lines(&text)),
        Edit::Machine(table) => Edit::Machine(Box::new(of_table(*table))),
        Edit::Tap(tap) => Edit::Tap(tap.as_deref().map(one_line)),
        Edit::RenameElement(id, name) => Edit::RenameElement(id, one_line(&name)),
        Edit::AddChange(kind) => Edit::AddChange(of_change(kind)),
        Edit::ReplaceChange(id, kind) => Edit::ReplaceChange(id, of_change(kind)),
        Edit::ChangeNote(id, note) => Edit::ChangeNote(id, one_line(&note)),
        other @ (Edit::Call(_)
        | Edit::Reading(..)
        | Edit::ConfirmSigns
        | Edit::Coil(_)
        | Edit::PartOut(..)
        | Edit::ReturnOpenings(_)
        | Edit::Number(..)
        | Edit::Target(_)
        | Edit::ElementDrop(..)
        | Edit::MovePort(..)
        | Edit::AddPort(_)
        | Edit::RemovePort(_)
        | Edit::AddElement(..)
        | Edit::RemoveElement(_)
        | Edit::ShiftElement(..)
        | Edit::Whereabouts(..)
        | Edit::LayBeside(..)
        | Edit::AddWay(_)
        | Edit::RemoveWay(..)
        | Edit::WayFlow(..)
        | Edit::AddLeak(..)
        | Edit::Bypass(_)
        | Edit::Share(..)
        | Edit::Exponent(..)
        | Edit::SwitchChange(..)
        | Edit::MoveChange(..)
        | Edit::DuplicateChange(_)
        | Edit::RemoveChange(_)
        | Edit::ChangePrice(..)) => other,
    }
}

fn of_change(kind: ChangeKind) -> ChangeKind {
    match kind {
        ChangeKind::OtherTap(OtherTap { tap }) => ChangeKind::OtherTap(OtherTap { tap: one_line(&tap) }),
        ChangeKind::OtherMachine(new) => {
            let Replacement { table, tap, .. } = *new;
            ChangeKind::OtherMachine(Box::new(Replacement {
                table: of_table(table),
                tap: tap.as_deref().map(one_line),
                ..*new
            }))
        }
        other => other,
    }
}
