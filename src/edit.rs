//! The only way a job changes: an edit is a value, applied here, named for undo.

mod brought;
mod option_edits;
mod path_edits;
mod visit_edits;

use self::brought::Brought;
use crate::model::change;
use crate::model::change::stated::{self, Held, Stated};
use crate::model::facts::air_path::chain::Beside;
use crate::model::facts::air_path::fault::PathFault;
use crate::model::facts::air_path::{AirPath, Bypass, Element, ElementId, ElementKind, PortId, Whereabouts};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::blower::{BlowerTable, Call, ReturnOpenings};
use crate::model::facts::change::{Change, ChangeId, ChangeKind, Switch};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::figure_source::{NamedSource, SourcePart};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::Oddity;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::number::Number;
use crate::model::facts::numbers::job::{GRILLE_AIRFLOW, READING};
use crate::model::facts::readings::{CoilState, Phase, ReadAt, Reading, ReadingSet};
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::Target;
use crate::model::facts::{holdable, plain_text};
use crate::units::{Airflow, Pressure};

pub use self::option_edits::OptionEdit;
pub use crate::model::facts::target::NOMINAL_PER_TON;

/// One change of a job.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// What the job is called.
    Title(String),
    /// Where it is.
    Place(String),
    /// When it was read.
    Date(String),
    /// Anything else in words.
    Notes(String),
    /// Another machine or another table of it; the path is laid anew where it was never changed by hand.
    Machine(Box<BlowerTable>),
    /// What the thermostat asked for; the coil is taken as wet while cooling, dry otherwise.
    Call(Call),
    /// The tap that ran, or nothing where the call decides.
    Tap(Option<String>),
    /// The looks at a place, with their signs; none removes the reading.
    Reading(ReadAt, Vec<Pressure>),
    /// A person's word that unusual signs are meant.
    ConfirmSigns,
    /// Another reading set after the judged one, as that one was; it is judged from then on.
    AddSet,
    /// Another reading set judged, by its index.
    JudgeSet(usize),
    /// A reading set taken away, by its index.
    RemoveSet(usize),
    /// What the judged reading set is called.
    NameSet(String),
    /// When the judged reading set was taken.
    SetTime(String),
    /// Anything else about the judged reading set.
    SetNote(String),
    /// Whether the judged reading set was taken after the repair.
    AfterRepair(bool),
    /// Whether something else of the path was otherwise in the judged reading set.
    Otherwise(bool),
    /// The opinion of the judged set that stands in the table's place, or the table.
    Anchor(Option<OpinionKind>),
    /// Whether every tap of the table is scaled by that opinion.
    ScaleTable(bool),
    /// State of the coil.
    Coil(CoilState),
    /// How electric elements are supplied.
    Phase(Phase),
    /// The airflow of each grille of a side, or one sum of all; none takes them away.
    Grilles(PathSide, Vec<Airflow>),
    /// Whether an element was out of the path.
    PartOut(ElementId, bool),
    /// Return openings used.
    ReturnOpenings(ReturnOpenings),
    /// A number of the job, or nothing where it may be left out, in its stored unit.
    Number(JobNumber, Option<f64>),
    /// Whose a limit or a figure of accuracy is, or of when; nothing typed names nobody.
    Source(JobNumber, SourcePart, String),
    /// How much air it ought to move in the call of the readings.
    Target(Option<Target>),
    /// How much air it ought to move in a call.
    TargetOf(Call, Option<Target>),
    /// Drop of an element by data.
    ElementDrop(ElementId, Option<DropData>),
    /// A port moved to just after another element.
    MovePort(PortId, ElementId),
    /// A new port after an element.
    AddPort(ElementId),
    /// A port taken away, with what was read there.
    RemovePort(PortId),
    /// A new element beside another.
    AddElement(ElementKind, Beside),
    /// An element taken out of the path for good.
    RemoveElement(ElementId),
    /// An element moved by one place, later or earlier in the flow.
    ShiftElement(ElementId, Direction),
    /// What a person calls an element; nothing for its kind's name.
    RenameElement(ElementId, String),
    /// Whether an element sits in the cabinet, where the table may contain it.
    Whereabouts(ElementId, Whereabouts),
    /// A second way laid beside a stretch of elements, from the first to the last.
    LayBeside(ElementId, ElementId),
    /// Another way in a group.
    AddWay(ElementId),
    /// A way of a group taken out.
    RemoveWay(ElementId, usize),
    /// A way's share of its group's airflow, as a fraction, or nothing for an equal one.
    WayFlow(ElementId, usize, Option<f64>),
    /// A leak just after an element, with its share of the air there, as a fraction.
    AddLeak(ElementId, f64),
    /// A way past the rooms, or none.
    Bypass(Option<Bypass>),
    /// An element's share of its segment, as a fraction, or nothing for the usual one.
    Share(ElementId, Option<f64>),
    /// An element's exponent, 1 to 2.2, or nothing for the usual one.
    Exponent(ElementId, Option<f64>),
    /// A change put on, at the end of the list.
    AddChange(ChangeKind),
    /// A change made another.
    ReplaceChange(ChangeId, ChangeKind),
    /// A change switched on or off.
    SwitchChange(ChangeId, Switch),
    /// A change moved up (negative) or down in the list.
    MoveChange(ChangeId, isize),
    /// The same change once more.
    DuplicateChange(ChangeId),
    /// A change taken away.
    RemoveChange(ChangeId),
    /// What a change costs.
    ChangePrice(ChangeId, Option<f64>),
    /// What of that is labour.
    ChangeLabour(ChangeId, Option<f64>),
    /// How money is written.
    Currency(String),
    /// Until when prices hold, as typed.
    ValidUntil(String),
    /// A note on a change.
    ChangeNote(ChangeId, String),
    /// A change of the options.
    Option(OptionEdit),
}

/// Which way in the flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Against the flow.
    Earlier,
    /// With the flow.
    Later,
}

/// Merges runs of edits of the same thing into one step of undo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoalesceKey(String);

impl Edit {
    /// What undo calls it.
    pub fn label(&self) -> String {
        match self {
            Self::Title(_) => "job name".to_owned(),
            Self::Place(_) => "place".to_owned(),
            Self::Date(_) => "date".to_owned(),
            Self::Notes(_) => "notes".to_owned(),
            Self::Machine(table) => format!("blower {}", table.name),
            Self::Call(call) => format!("call {}", call.name().to_lowercase()),
            Self::Tap(Some(tap)) => format!("tap {tap}"),
            Self::Tap(None) => "tap by the call".to_owned(),
            Self::Reading(..) => "reading".to_owned(),
            Self::ConfirmSigns => "sign".to_owned(),
            Self::AddSet => "new readings".to_owned(),
            Self::JudgeSet(_) => "other readings shown".to_owned(),
            Self::RemoveSet(_) => "readings removed".to_owned(),
            Self::NameSet(_) => "name of the readings".to_owned(),
            Self::SetTime(_) => "time of the readings".to_owned(),
            Self::SetNote(_) => "note on the readings".to_owned(),
            Self::Otherwise(_) => "something else different".to_owned(),
            Self::AfterRepair(_) => "after the repair".to_owned(),
            Self::Anchor(Some(by)) => format!("airflow by {}", by.name()),
            Self::Anchor(None) => "airflow by the table".to_owned(),
            Self::ScaleTable(_) => "table scaled".to_owned(),
            Self::Coil(_) => "coil".to_owned(),
            Self::Phase(_) => "phases".to_owned(),
            Self::Grilles(PathSide::Supply, _) => "supply grilles".to_owned(),
            Self::Grilles(PathSide::Return, _) => "return grilles".to_owned(),
            Self::PartOut(..) => "part".to_owned(),
            Self::ReturnOpenings(_) => "return openings".to_owned(),
            Self::Number(number, _) => number.undo().to_owned(),
            Self::Source(number, ..) => format!("source of {}", number.undo()),
            Self::Target(_) => "target".to_owned(),
            Self::TargetOf(call, _) => format!("target of {}", call.name().to_lowercase()),
            Self::ElementDrop(..) => "drop by data".to_owned(),
            Self::MovePort(..) => "port".to_owned(),
            Self::AddPort(_) => "new port".to_owned(),
            Self::RemovePort(_) => "port removed".to_owned(),
            Self::AddElement(kind, _) => format!("new {}", kind.name().to_lowercase()),
            Self::RemoveElement(_) => "element removed".to_owned(),
            Self::ShiftElement(..) => "order of elements".to_owned(),
            Self::RenameElement(id, _) => format!("name of element {}", id.0),
            Self::Whereabouts(..) => "place of an element".to_owned(),
            Self::LayBeside(..) | Self::AddWay(_) => "way beside".to_owned(),
            Self::RemoveWay(..) => "way removed".to_owned(),
            Self::WayFlow(..) => "share of the air".to_owned(),
            Self::AddLeak(..) => "leak".to_owned(),
            Self::Bypass(Some(_)) => "bypass".to_owned(),
            Self::Bypass(None) => "bypass removed".to_owned(),
            Self::Share(..) => "share".to_owned(),
            Self::Exponent(..) => "exponent".to_owned(),
            Self::AddChange(kind) | Self::ReplaceChange(_, kind) => kind.declaration().name.to_lowercase(),
            Self::SwitchChange(_, Switch::On) => "change on".to_owned(),
            Self::SwitchChange(_, Switch::Off) => "change off".to_owned(),
            Self::MoveChange(..) => "order of changes".to_owned(),
            Self::DuplicateChange(_) => "change duplicated".to_owned(),
            Self::RemoveChange(_) => "change removed".to_owned(),
            Self::ChangePrice(..) => "price".to_owned(),
            Self::ChangeLabour(..) => "labour".to_owned(),
            Self::Currency(_) => "currency".to_owned(),
            Self::ValidUntil(_) => "how long prices hold".to_owned(),
            Self::ChangeNote(id, _) => format!("note on change {}", id.0),
            Self::Option(edit) => edit.label().to_owned(),
        }
    }

    /// True for one that only shows another part of the job: which readings of a visit, or which option, are looked at.
    pub const fn is_look(&self) -> bool {
        matches!(self, Self::JudgeSet(_) | Self::Option(OptionEdit::Show(_)))
    }

    /// Text that is typed letter by letter is one step of undo; everything else is a step of its own.
    pub fn coalesce_key(&self) -> Option<CoalesceKey> {
        // A slider that is moved hands out many of them.
        if let Self::ReplaceChange(id, _) = self {
            return Some(CoalesceKey(format!("change {} made another", id.0)));
        }
        matches!(self.clone().brings(), Brought::Text(..)).then(|| CoalesceKey(self.label()))
    }
}

/// Applies an edit.
///
/// # Errors
/// Why it is refused; the job is then unchanged.
pub fn apply(job: &mut Job, edit: Edit) -> Result<(), Refusal> {
    *job = applied(job, edit)?;
    Ok(())
}

/// Whether an edit would be taken.
///
/// # Errors
/// What [`apply`] would say.
pub fn check(job: &Job, edit: &Edit) -> Result<(), Refusal> {
    applied(job, edit.clone()).map(drop)
}

/// The job after an edit: one whose values can be meant, and that a file holds.
fn applied(job: &Job, mut edit: Edit) -> Result<Job, Refusal> {
    brought::make_plain(&mut edit);
    can_be_meant(job, &mut edit)?;
    let mut then = job.clone();
    change(&mut then, edit)?;
    holdable::check(&then)?;
    change::can_be_held(then.changes_of_all())?;
    Ok(then)
}

fn change(job: &mut Job, edit: Edit) -> Result<(), Refusal> {
    match edit {
        Edit::Title(text) => job.title = text,
        Edit::Place(text) => job.place = text,
        Edit::Date(text) => job.date = text,
        Edit::Notes(text) => job.notes = text,
        Edit::Machine(table) => set_machine(job, *table),
        Edit::Number(number, value) => number.put(job, value).map_err(Refusal::NothingFor)?,
        Edit::Source(number, part, text) => NamedSource::put(&mut job.sources, number.number().file, part, &text),
        Edit::Target(target) => job.set_target(job.set().call, target),
        Edit::TargetOf(call, target) => job.set_target(call, target),
        Edit::ReturnOpenings(openings) => job.return_openings = openings,
        Edit::AddChange(kind) => {
            let change = new_change(job, kind);
            job.changes.push(change);
        }
        Edit::DuplicateChange(id) => duplicate_change(job, id),
        Edit::MoveChange(id, by) => move_change(job, id, by),
        Edit::RemoveChange(id) => job.changes.retain(|change| change.id != id),
        Edit::ReplaceChange(id, kind) => with_change(job, id, |change| change.kind = kind),
        Edit::SwitchChange(id, switch) => with_change(job, id, |change| change.switch = switch),
        Edit::ChangePrice(id, price) => with_change(job, id, |change| set_price(change, price)),
        Edit::ChangeLabour(id, labour) => with_change(job, id, |change| change.labour = labour),
        Edit::Currency(text) => job.costs.currency = text,
        Edit::ValidUntil(text) => job.costs.valid_until = text,
        Edit::ChangeNote(id, note) => with_change(job, id, |change| change.note = note),
        Edit::Option(edit) => option_edits::change(job, edit)?,
        Edit::Call(call) => set_call(job, call),
        Edit::Tap(tap) => with_set(job, |set| set.tap = tap),
        Edit::Reading(at, looks) => with_set(job, |set| set_reading(set, at, looks)),
        Edit::ConfirmSigns => with_set(job, |set| set.signs_confirmed = true),
        Edit::AddSet => visit_edits::add_set(job)?,
        Edit::JudgeSet(index) => visit_edits::judge(job, index)?,
        Edit::RemoveSet(index) => visit_edits::remove_set(job, index)?,
        Edit::NameSet(name) => with_set(job, |set| set.name = name),
        Edit::SetTime(time) => with_set(job, |set| set.time = time),
        Edit::SetNote(note) => with_set(job, |set| set.note = note),
        Edit::Otherwise(otherwise) => with_set(job, |set| set.otherwise = otherwise),
        Edit::AfterRepair(after) => with_set(job, |set| set.after_repair = after),
        Edit::Anchor(by) => visit_edits::anchor(job, by),
        Edit::ScaleTable(scales) => visit_edits::scale(job, scales),
        Edit::Coil(state) => with_set(job, |set| set.coil = state),
        Edit::Phase(phase) => with_set(job, |set| set.heat.phase = phase),
        Edit::Grilles(side, grilles) => with_set(job, |set| *set.airflow.grilles_mut(side) = grilles),
        Edit::PartOut(id, out) => with_set(job, |set| set_out(set, id, out)),
        Edit::ElementDrop(id, drop) => with_element(job, id, |element| element.drop = drop)?,
        Edit::Share(id, share) => with_element(job, id, |element| element.share = share)?,
        Edit::Exponent(id, exponent) => with_element(job, id, |element| element.exponent = exponent)?,
        Edit::RenameElement(id, name) => with_element(job, id, |element| element.name = name)?,
        Edit::MovePort(id, after) => path_edits::move_port(&mut job.path, id, after),
        Edit::AddPort(after) => job.path.add_port(after).map(drop)?,
        Edit::RemovePort(id) => path_edits::remove_port(job, id)?,
        Edit::AddElement(kind, at) => job.path.put_in(kind, at).map(drop)?,
        Edit::RemoveElement(id) => job.path.take_out(id).map(|()| path_edits::forget(job))?,
        Edit::ShiftElement(id, direction) => job.path.shift(id, direction == Direction::Later)?,
        Edit::Whereabouts(id, there) => path_edits::set_whereabouts(job, id, there)?,
        Edit::LayBeside(from, to) => job.path.lay_beside(from, to).map(drop)?,
        Edit::AddWay(group) => job.path.add_way(group)?,
        Edit::RemoveWay(group, way) => job.path.take_way(group, way).map(|()| path_edits::forget(job))?,
        Edit::WayFlow(group, way, flow) => path_edits::set_flow(&mut job.path, group, way, flow)?,
        Edit::AddLeak(id, flow) => job.path.leak_at(id, flow).map(drop)?,
        Edit::Bypass(bypass) => path_edits::set_bypass(job, bypass)?,
    }
    Ok(())
}

/// Changes the reading set that everything is judged by.
fn with_set(job: &mut Job, edit: impl FnOnce(&mut ReadingSet)) {
    if let Some(set) = job.set_mut() {
        edit(set);
    }
}

/// Another call was read; a target stays that of the call that it was of.
fn set_call(job: &mut Job, call: Call) {
    let was = job.target.map(|target| (job.call_of(target), target));
    with_set(job, |set| {
        set.call = call;
        set.coil = if call.is_cooling() { CoilState::Wet } else { CoilState::Dry };
    });
    if let Some((of, target)) = was.filter(|(of, target)| job.call_of(*target) != *of) {
        job.target = None;
        job.set_target(of, Some(target));
    }
}

fn set_reading(set: &mut ReadingSet, at: ReadAt, looks: Vec<Pressure>) {
    set.readings.retain(|reading| reading.at != at);
    set.signs_confirmed = false;
    if !looks.is_empty() {
        set.readings.push(Reading { at, looks });
        set.readings.sort_by_key(|reading| reading.at);
    }
}

fn set_out(set: &mut ReadingSet, id: ElementId, out: bool) {
    set.parts_out.retain(|part| *part != id);
    if out {
        set.parts_out.push(id);
        set.parts_out.sort_unstable();
    }
}

fn with_element(job: &mut Job, id: ElementId, edit: impl FnOnce(&mut Element)) -> Result<(), PathFault> {
    job.path.element_mut(id).map(edit).ok_or(PathFault::NoElement(id))
}

fn new_change(job: &Job, kind: ChangeKind) -> Change {
    Change { id: job.next_change(), kind, switch: Switch::On, price: None, labour: None, note: String::new() }
}

fn with_change(job: &mut Job, id: ChangeId, edit: impl FnOnce(&mut Change)) {
    if let Some(change) = job.changes.iter_mut().find(|change| change.id == id) {
        edit(change);
    }
}

/// Another price; labour that would be more than it goes.
fn set_price(change: &mut Change, price: Option<f64>) {
    change.price = price;
    change.labour = change.labour.filter(|labour| price.is_some_and(|price| *labour <= price));
}

fn duplicate_change(job: &mut Job, id: ChangeId) {
    let Some(index) = job.changes.iter().position(|change| change.id == id) else {
        return;
    };
    let copy = Change { id: new_change(job, job.changes[index].kind.clone()).id, ..job.changes[index].clone() };
    job.changes.insert(index + 1, copy);
}

fn move_change(job: &mut Job, id: ChangeId, by: isize) {
    let Some(index) = job.changes.iter().position(|change| change.id == id) else {
        return;
    };
    if let Some(there) = index.checked_add_signed(by).filter(|there| *there < job.changes.len()) {
        let change = job.changes.remove(index);
        job.changes.insert(there, change);
    }
}

/// Whether what an edit brings can be meant; what the job is with it, [`holdable::check`] looks at.
fn can_be_meant(job: &Job, edit: &mut Edit) -> Result<(), Refusal> {
    match edit.brings() {
        Brought::Text(what, text, most) => Ok(plain_text::fits(what, text, most)?),
        Brought::Table(table) => stated::table_can_be_meant(table),
        Brought::Tap(tap) => known_tap(job, tap),
        Brought::Change(kind) => {
            change_lands(job, kind)?;
            change_can_be_meant(kind)
        }
        Brought::Looks(looks) => looks.iter().try_for_each(|look| meant(&READING, Some(look.in_wc()))),
        Brought::Grilles(grilles) => grilles.iter().try_for_each(|one| meant(&GRILLE_AIRFLOW, Some(one.cfm()))),
        Brought::Number(number, value) => meant(number, value),
        Brought::Target(target) => Ok(target.check().map(drop)?),
        Brought::PortMove(port, after) => Ok(path_edits::port_move(job, port, after)?),
        Brought::Nothing => Ok(()),
    }
}

/// Whether a value can be meant, where there is one.
fn meant(number: &'static Number, value: Option<f64>) -> Result<(), Refusal> {
    value.map_or(Ok(()), |value| Ok(number.check(value).map(drop)?))
}

/// A change with numbers that can be; another machine with a table and a target that the job would take itself.
fn change_can_be_meant(kind: &ChangeKind) -> Result<(), Refusal> {
    kind.check()?;
    kind.clone().stated().iter().try_for_each(Stated::can_be_meant)
}

/// A change lands on an element that is there and can take it, and another tap is one of the table's.
fn change_lands(job: &Job, kind: &ChangeKind) -> Result<(), Refusal> {
    kind.clone().stated().iter().try_for_each(|one| match &one.held {
        Held::Element(id) => lands_on(job, kind, **id),
        Held::Tap(tap) => known_tap(job, tap),
        Held::Number(..)
        | Held::Area(..)
        | Held::Count(..)
        | Held::Run(_)
        | Held::Opening(_)
        | Held::Drop(_)
        | Held::OwnDrop(..)
        | Held::Call(_)
        | Held::OwnTap(_)
        | Held::Leaves(_)
        | Held::Machine(_)
        | Held::Target(_) => Ok(()),
    })
}

fn lands_on(job: &Job, kind: &ChangeKind, id: ElementId) -> Result<(), Refusal> {
    let declaration = kind.declaration();
    let bypass = job.path.bypass.as_ref().filter(|bypass| bypass.id == id).map(|_| ElementKind::Bypass);
    match job.path.element(id).map(|element| element.kind).or(bypass) {
        None => Err(PathFault::NoElement(id).into()),
        Some(kind) if !declaration.lands_on(kind) => Err(Refusal::CannotGoOn(declaration.name, job.path.said(id))),
        Some(_) => Ok(()),
    }
}

fn known_tap(job: &Job, tap: &str) -> Result<(), Refusal> {
    let unknown = job.machine.as_ref().and_then(|table| Oddity::of_tap(table, tap));
    unknown.map_or(Ok(()), |unknown| Err(Refusal::Odd(unknown)))
}

fn set_machine(job: &mut Job, table: BlowerTable) {
    let untouched = match &job.machine {
        Some(old) => job.path == AirPath::for_equipment(old.kind, &old.basis),
        None => job.path.elements.is_empty(),
    };
    let other_kind = job.machine.as_ref().is_some_and(|old| old.kind != table.kind);
    if untouched || other_kind {
        lay_anew(job, AirPath::for_equipment(table.kind, &table.basis));
    }
    let is_another = job.machine.as_ref().is_none_or(|old| old.name != table.name);
    for set in &mut job.sets {
        set.tap = set.tap.take().filter(|tap| !is_another && table.tap(tap).is_some());
        if job.machine.is_none() && set.call.is_cooling() {
            set.coil = CoilState::Wet;
        }
    }
    // The outdoor unit says how much cooling there is, where it is said; else the table does.
    let outdoor = job.outdoor_unit;
    let nominal =
        |table: &BlowerTable| Some(Target::PerTon { capacity: outdoor.or(table.cooling)?, per_ton: NOMINAL_PER_TON });
    // A target that only repeats the old machine's nominal size goes with it to one that has a size; one that a person typed stays.
    let goes = job.machine.as_ref().is_some_and(|old| job.target.is_some() && job.target == nominal(old));
    if job.target.is_none() || goes {
        job.target = nominal(&table).or(job.target);
    }
    job.machine = Some(table);
}

/// Another path in the place of the job's: what was read at ports and across parts that it does not have goes, and so does what was out of the old one.
fn lay_anew(job: &mut Job, path: AirPath) {
    let old = std::mem::replace(&mut job.path, path);
    let kind_of = |path: &AirPath, id| path.element(id).map(|element| element.kind);
    let is_another = |id: ElementId| kind_of(&old, id) != kind_of(&job.path, id);
    for set in &mut job.sets {
        set.parts_out.clear();
        set.readings.retain(|reading| !matches!(reading.at, ReadAt::Across(id) if is_another(id)));
    }
    path_edits::forget(job);
}

#[cfg(test)]
mod tests;
