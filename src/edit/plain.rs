//! Texts of an edit as a job keeps them (see [`plain_text`]).

use super::Edit;
use crate::model::change::stated::Held;
use crate::model::facts::change::ChangeKind;
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

fn of_change(mut kind: ChangeKind) -> ChangeKind {
    for one in kind.stated() {
        match one.held {
            Held::Tap(tap) | Held::OwnTap(Some(tap)) => *tap = one_line(tap),
            Held::Machine(table) => *table = of_table(std::mem::take(table)),
            Held::OwnTap(None)
            | Held::Element(_)
            | Held::Number(..)
            | Held::Area(..)
            | Held::Count(..)
            | Held::Run(_)
            | Held::Opening(_)
            | Held::Drop(_)
            | Held::OwnDrop(..)
            | Held::Call(_)
            | Held::Leaves(_)
            | Held::Target(_) => {}
        }
    }
    kind
}
