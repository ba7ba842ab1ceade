//! What an edit brings into a job: texts, which are made plain (see [`plain_text`]), and values, which have to be such that they can be meant.

use super::Edit;
use crate::model::change::stated::Held;
use crate::model::facts::air_path::{ElementId, PortId};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::change::ChangeKind;
use crate::model::facts::costs::LONGEST_CURRENCY;
use crate::model::facts::limits::{LONGEST_LINE, LONGEST_NOTES};
use crate::model::facts::number::Number;
use crate::model::facts::numbers::duct::EXPONENT;
use crate::model::facts::numbers::job::{LABOUR, PRICE, SHARE, WAY_FLOW};
use crate::model::facts::plain_text::{lines, of_table, one_line};
use crate::model::facts::target::Target;
use crate::units::{Airflow, Pressure};

/// What an edit brings.
pub(super) enum Brought<'a> {
    /// A text: what it is, and how long it may be; one that may be as long as notes has several lines.
    Text(&'static str, &'a mut String, usize),
    /// A blower table.
    Table(&'a mut BlowerTable),
    /// A tap by its name.
    Tap(&'a mut String),
    /// A change.
    Change(&'a mut ChangeKind),
    /// The looks at a place.
    Looks(&'a [Pressure]),
    /// The airflow of each grille of a side.
    Grilles(&'a [Airflow]),
    /// A number, or none.
    Number(&'static Number, Option<f64>),
    /// A target.
    Target(&'a Target),
    /// A port in another place.
    PortMove(PortId, ElementId),
    /// Nothing that could not be meant, or what the path itself looks at.
    Nothing,
}

impl Edit {
    /// What it brings.
    pub(super) fn brings(&mut self) -> Brought<'_> {
        match self {
            Self::Title(text) => Brought::Text("A job's name", text, LONGEST_LINE),
            Self::Place(text) => Brought::Text("A place", text, LONGEST_LINE),
            Self::Date(text) => Brought::Text("A date", text, LONGEST_LINE),
            Self::Notes(text) => Brought::Text("A note", text, LONGEST_NOTES),
            Self::RenameElement(_, text) => Brought::Text("An element's name", text, LONGEST_LINE),
            Self::NameSet(text) => Brought::Text("A name of readings", text, LONGEST_LINE),
            Self::SetTime(text) => Brought::Text("A time of readings", text, LONGEST_LINE),
            Self::SetNote(text) => Brought::Text("A note on readings", text, LONGEST_LINE),
            Self::ChangeNote(_, text) => Brought::Text("A note on a change", text, LONGEST_LINE),
            Self::Source(_, part, text) => Brought::Text(part.called(), text, LONGEST_LINE),
            Self::Option(edit) => edit.brings(),
            Self::Machine(table) => Brought::Table(table),
            Self::Tap(Some(tap)) => Brought::Tap(tap),
            Self::AddChange(kind) | Self::ReplaceChange(_, kind) => Brought::Change(kind),
            Self::Reading(_, looks) => Brought::Looks(looks),
            Self::Grilles(_, grilles) => Brought::Grilles(grilles),
            Self::Number(number, value) => Brought::Number(number.number(), *value),
            Self::Share(_, share) => Brought::Number(&SHARE, *share),
            Self::Exponent(_, exponent) => Brought::Number(&EXPONENT, *exponent),
            Self::WayFlow(_, _, flow) => Brought::Number(&WAY_FLOW, *flow),
            Self::ChangePrice(_, price) => Brought::Number(&PRICE, *price),
            Self::ChangeLabour(_, labour) => Brought::Number(&LABOUR, *labour),
            Self::Currency(text) => Brought::Text("A currency", text, LONGEST_CURRENCY),
            Self::ValidUntil(text) => Brought::Text("A last day of prices", text, LONGEST_LINE),
            Self::Target(Some(target)) | Self::TargetOf(_, Some(target)) => Brought::Target(target),
            Self::MovePort(port, after) => Brought::PortMove(*port, *after),
            Self::Tap(None)
            | Self::Target(None)
            | Self::TargetOf(_, None)
            | Self::Call(_)
            | Self::ConfirmSigns
            | Self::AddSet
            | Self::JudgeSet(_)
            | Self::RemoveSet(_)
            | Self::AfterRepair(_)
            | Self::Otherwise(_)
            | Self::Anchor(_)
            | Self::ScaleTable(_)
            | Self::Coil(_)
            | Self::Phase(_)
            | Self::PartOut(..)
            | Self::ReturnOpenings(_)
            | Self::ElementDrop(..)
            | Self::AddPort(_)
            | Self::RemovePort(_)
            | Self::AddElement(..)
            | Self::RemoveElement(_)
            | Self::ShiftElement(..)
            | Self::Whereabouts(..)
            | Self::LayBeside(..)
            | Self::AddWay(_)
            | Self::RemoveWay(..)
            | Self::AddLeak(..)
            | Self::Bypass(_)
            | Self::SwitchChange(..)
            | Self::MoveChange(..)
            | Self::DuplicateChange(_)
            | Self::RemoveChange(_) => Brought::Nothing,
        }
    }
}

/// Makes an edit's texts plain.
pub(super) fn make_plain(edit: &mut Edit) {
    match edit.brings() {
        Brought::Text(_, text, LONGEST_NOTES) => *text = lines(text),
        Brought::Text(_, text, _) | Brought::Tap(text) => *text = one_line(text),
        Brought::Table(table) => *table = of_table(std::mem::take(table)),
        Brought::Change(kind) => make_change_plain(kind),
        Brought::Looks(_)
        | Brought::Grilles(_)
        | Brought::Number(..)
        | Brought::Target(_)
        | Brought::PortMove(..)
        | Brought::Nothing => {}
    }
}

fn make_change_plain(kind: &mut ChangeKind) {
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
}
