//! The only way a job changes: an edit is a value, applied here, named for undo.

mod path_edits;
mod plain;

use crate::model::facts::air_path::chain::Beside;
use crate::model::facts::air_path::{AirPath, Bypass, ElementId, ElementKind, PortId, Whereabouts};
use crate::model::facts::blower::{BlowerTable, Call, ReturnOpenings};
use crate::model::facts::change::{Change, ChangeId, ChangeKind, OtherTap, Switch, check};
use crate::model::facts::drop_data::DropData;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::limits::{LONGEST_LINE, LONGEST_NOTES};
use crate::model::facts::readings::{CoilState, ReadAt, Reading};
use crate::model::facts::target::Target;
use crate::model::facts::{holdable, job_check, plain_text, table_check};
use crate::units::{Altitude, Barometer, Capacity, Length, Power, Pressure, Temperature, Voltage, text};

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
    /// State of the coil.
    Coil(CoilState),
    /// Whether an element was out of the path.
    PartOut(ElementId, bool),
    /// Return openings used.
    ReturnOpenings(ReturnOpenings),
    /// Height of the house.
    Altitude(Altitude),
    /// Pressure read at the place.
    StationPressure(Option<Barometer>),
    /// Temperature of the return air.
    Temperature(Temperature),
    /// Relative humidity of the return air, 0 to 1.
    Humidity(f64),
    /// Blower's watts, if read.
    Power(Option<Power>),
    /// Supply voltage, if read.
    Voltage(Option<Voltage>),
    /// How much air it ought to move.
    Target(Option<Target>),
    /// Capacity of the outdoor unit.
    OutdoorUnit(Option<Capacity>),
    /// Accepted band about the target, as a fraction.
    AcceptBand(f64),
    /// Total effective length of the return, or nothing.
    ReturnLength(Option<Length>),
    /// Total effective length of the supply, or nothing.
    SupplyLength(Option<Length>),
    /// Static that the system was designed for, or nothing for the rated maximum.
    DesignStatic(Option<Pressure>),
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
    /// A note on a change.
    ChangeNote(ChangeId, String),
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
            Self::Coil(_) => "coil".to_owned(),
            Self::PartOut(..) => "part".to_owned(),
            Self::ReturnOpenings(_) => "return openings".to_owned(),
            Self::Altitude(_) => "altitude".to_owned(),
            Self::StationPressure(_) => "station pressure".to_owned(),
            Self::Temperature(_) => "temperature".to_owned(),
            Self::Humidity(_) => "humidity".to_owned(),
            Self::Power(_) => "watts".to_owned(),
            Self::Voltage(_) => "voltage".to_owned(),
            Self::Target(_) => "target".to_owned(),
            Self::OutdoorUnit(_) => "outdoor unit".to_owned(),
            Self::AcceptBand(_) => "accepted band".to_owned(),
            Self::ReturnLength(_) => "return length".to_owned(),
            Self::SupplyLength(_) => "supply length".to_owned(),
            Self::DesignStatic(_) => "design static".to_owned(),
            Self::ElementDrop(..) => "drop by data".to_owned(),
            Self::MovePort(..) => "port".to_owned(),
            Self::AddPort(_) => "new port".to_owned(),
            Self::RemovePort(_) => "port taken away".to_owned(),
            Self::AddElement(kind, _) => format!("new {}", kind.name().to_lowercase()),
            Self::RemoveElement(_) => "element taken out".to_owned(),
            Self::ShiftElement(..) => "order of elements".to_owned(),
            Self::RenameElement(id, _) => format!("name of element {}", id.0),
            Self::Whereabouts(..) => "place of an element".to_owned(),
            Self::LayBeside(..) | Self::AddWay(_) => "way beside".to_owned(),
            Self::RemoveWay(..) => "way taken out".to_owned(),
            Self::WayFlow(..) => "share of the air".to_owned(),
            Self::AddLeak(..) => "leak".to_owned(),
            Self::Bypass(Some(_)) => "bypass".to_owned(),
            Self::Bypass(None) => "bypass taken away".to_owned(),
            Self::Share(..) => "share".to_owned(),
            Self::Exponent(..) => "exponent".to_owned(),
            Self::AddChange(kind) | Self::ReplaceChange(_, kind) => kind.declaration().name.to_lowercase(),
            Self::SwitchChange(_, Switch::On) => "change on".to_owned(),
            Self::SwitchChange(_, Switch::Off) => "change off".to_owned(),
            Self::MoveChange(..) => "order of changes".to_owned(),
            Self::DuplicateChange(_) => "same change again".to_owned(),
            Self::RemoveChange(_) => "change removed".to_owned(),
            Self::ChangePrice(..) => "price".to_owned(),
            Self::ChangeNote(id, _) => format!("note on change {}", id.0),
        }
    }

    /// Text that is typed letter by letter is one step of undo; everything else is a step of its own.
    pub fn coalesce_key(&self) -> Option<CoalesceKey> {
        match self {
            Self::Title(_)
            | Self::Place(_)
            | Self::Date(_)
            | Self::Notes(_)
            | Self::ChangeNote(..)
            | Self::RenameElement(..) => Some(CoalesceKey(self.label())),
            // A slider that is moved hands out many of them.
            Self::ReplaceChange(id, _) => Some(CoalesceKey(format!("change {} made another", id.0))),
            _ => None,
        }
    }
}

/// Applies an edit.
///
/// # Errors
/// A sentence that names the value and says what would be right; the job is then unchanged.
pub fn apply(job: &mut Job, edit: Edit) -> Result<(), String> {
    *job = applied(job, edit)?;
    Ok(())
}

/// Whether an edit would be taken.
///
/// # Errors
/// The sentence that [`apply`] would give.
pub fn check(job: &Job, edit: &Edit) -> Result<(), String> {
    applied(job, edit.clone()).map(drop)
}

/// The job after an edit: one whose values can be meant, and that a file holds.
fn applied(job: &Job, edit: Edit) -> Result<Job, String> {
    let edit = plain::edit(edit);
    can_be_meant(job, &edit)?;
    let mut then = job.clone();
    change(&mut then, edit)?;
    holdable::check(&then)?;
    Ok(then)
}

fn change(job: &mut Job, edit: Edit) -> Result<(), String> {
    match edit {
        Edit::Title(text) => job.title = text,
        Edit::Place(text) => job.place = text,
        Edit::Date(text) => job.date = text,
        Edit::Notes(text) => job.notes = text,
        Edit::Machine(table) => set_machine(job, *table),
        Edit::Target(target) => job.target = target,
        Edit::OutdoorUnit(capacity) => job.outdoor_unit = capacity,
        Edit::AcceptBand(band) => job.limits.accept_band = band,
        Edit::ReturnLength(length) => job.ducts.return_length = length,
        Edit::SupplyLength(length) => job.ducts.supply_length = length,
        Edit::DesignStatic(pressure) => job.ducts.design_static = pressure,
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
        Edit::ChangePrice(id, price) => with_change(job, id, |change| change.price = price),
        Edit::ChangeNote(id, note) => with_change(job, id, |change| change.note = note),
        other if path_edits::is_of_path(&other) => path_edits::apply(job, other)?,
        other => apply_to_set(job, other),
    }
    Ok(())
}

fn new_change(job: &Job, kind: ChangeKind) -> Change {
    let number = job.changes.iter().map(|change| change.id.0).max().unwrap_or(0) + 1;
    Change { id: ChangeId(number), kind, switch: Switch::On, price: None, note: String::new() }
}

fn with_change(job: &mut Job, id: ChangeId, edit: impl FnOnce(&mut Change)) {
    if let Some(change) = job.changes.iter_mut().find(|change| change.id == id) {
        edit(change);
    }
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

fn apply_to_set(job: &mut Job, edit: Edit) {
    let Some(set) = job.sets.first_mut() else {
        return;
    };
    match edit {
        Edit::Call(call) => {
            set.call = call;
            set.coil = if call.is_cooling() { CoilState::Wet } else { CoilState::Dry };
        }
        Edit::Tap(tap) => set.tap = tap,
        Edit::Reading(at, looks) => {
            set.readings.retain(|reading| reading.at != at);
            set.signs_confirmed = false;
            if !looks.is_empty() {
                set.readings.push(Reading { at, looks });
                set.readings.sort_by_key(|reading| reading.at);
            }
        }
        Edit::ConfirmSigns => set.signs_confirmed = true,
        Edit::Coil(state) => set.coil = state,
        Edit::PartOut(id, out) => {
            set.parts_out.retain(|part| *part != id);
            if out {
                set.parts_out.push(id);
                set.parts_out.sort_unstable();
            }
        }
        Edit::Altitude(altitude) => set.air.altitude = altitude,
        Edit::StationPressure(pressure) => set.air.station_pressure = pressure,
        Edit::Temperature(temperature) => set.air.temperature = temperature,
        Edit::Humidity(humidity) => set.air.humidity = humidity,
        Edit::Power(power) => set.power = power,
        Edit::Voltage(voltage) => set.voltage = voltage,
        _ => {}
    }
}

/// Whether what an edit brings can be meant; what the job is with it, [`holdable::check`] looks at.
fn can_be_meant(job: &Job, edit: &Edit) -> Result<(), String> {
    match edit {
        Edit::Title(text) => plain_text::fits("A job's name", text, LONGEST_LINE),
        Edit::Place(text) => plain_text::fits("A place", text, LONGEST_LINE),
        Edit::Date(text) => plain_text::fits("A date", text, LONGEST_LINE),
        Edit::Notes(text) => plain_text::fits("A note", text, LONGEST_NOTES),
        Edit::RenameElement(_, text) => plain_text::fits("An element's name", text, LONGEST_LINE),
        Edit::ChangeNote(_, text) => plain_text::fits("A note on a change", text, LONGEST_LINE),
        Edit::Machine(table) => table_check::can_be_taken_up(table),
        Edit::Reading(_, looks) => looks.iter().try_for_each(|look| job_check::reading(*look)),
        Edit::Altitude(altitude) => job_check::altitude(*altitude),
        Edit::StationPressure(Some(pressure)) => job_check::station_pressure(*pressure),
        Edit::Temperature(temperature) => job_check::temperature(*temperature),
        Edit::Humidity(humidity) => job_check::humidity(*humidity),
        Edit::Voltage(Some(voltage)) => job_check::voltage(*voltage),
        Edit::Target(Some(target)) => job_check::target(target),
        Edit::OutdoorUnit(Some(capacity)) => job_check::capacity(*capacity),
        Edit::AcceptBand(band) => job_check::accept_band(*band),
        Edit::Power(Some(power)) => job_check::power(*power),
        Edit::ReturnLength(Some(length)) => job_check::effective_length(PathSide::Return, *length),
        Edit::SupplyLength(Some(length)) => job_check::effective_length(PathSide::Supply, *length),
        Edit::DesignStatic(Some(pressure)) => job_check::design_static(*pressure),
        Edit::Tap(Some(tap)) => known_tap(job, tap),
        Edit::MovePort(port, after) => path_edits::port_move(job, *port, *after),
        Edit::Share(_, Some(share)) => job_check::share(*share),
        Edit::Exponent(_, Some(exponent)) => job_check::exponent(*exponent),
        Edit::AddChange(kind) | Edit::ReplaceChange(_, kind) => {
            change_lands(job, kind)?;
            change_can_be_meant(kind)
        }
        Edit::ChangePrice(_, Some(price)) => job_check::price(*price),
        _ => Ok(()),
    }
}

/// A change with numbers that can be; another machine with a table and a target that the job would take itself.
fn change_can_be_meant(kind: &ChangeKind) -> Result<(), String> {
    check::numbers(kind)?;
    match kind {
        ChangeKind::OtherMachine(new) => {
            table_check::can_be_taken_up(&new.table)?;
            new.target.as_ref().map_or(Ok(()), job_check::target)
        }
        _ => Ok(()),
    }
}

/// A change lands on an element that is there and can take it.
fn change_lands(job: &Job, kind: &ChangeKind) -> Result<(), String> {
    let Some(id) = kind.element() else {
        return match kind {
            ChangeKind::OtherTap(OtherTap { tap }) => known_tap(job, tap),
            _ => Ok(()),
        };
    };
    let declaration = kind.declaration();
    let bypass = job.path.bypass.as_ref().filter(|bypass| bypass.id == id).map(|_| ElementKind::Bypass);
    match job.path.element(id).map(|element| element.kind).or(bypass) {
        None => Err(format!("The air path has no element {}", id.0)),
        Some(kind) if !declaration.lands_on(kind) => {
            let name = job.path.name_of(id).unwrap_or_default().to_lowercase();
            Err(format!("{} cannot go on the {name}", declaration.name))
        }
        Some(_) => Ok(()),
    }
}

fn known_tap(job: &Job, tap: &str) -> Result<(), String> {
    match &job.machine {
        Some(table) if table.tap(tap).is_none() => Err(text::shortened(&format!(
            "The table has no {} \"{}\"; it has {}",
            table.motor.tap_word(),
            text::cut(tap),
            crate::model::facts::table_check::tap_names(table)
        ))),
        _ => Ok(()),
    }
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
    let nominal = |table: &BlowerTable| Some(Target::PerTon { capacity: table.cooling?, per_ton: NOMINAL_PER_TON });
    // A target that only repeats the old machine's nominal size goes with it; one that a person typed stays.
    let goes = job.machine.as_ref().is_some_and(|old| job.target.is_some() && job.target == nominal(old));
    if job.target.is_none() || goes {
        job.target = nominal(&table);
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
mod tests {
    use super::*;
    use crate::model::facts::air_path::RETURN_PORT;
    use crate::model::facts::air_path::SUPPLY_PORT;
    use crate::model::facts::blower::EquipmentKind;
    use crate::units::Airflow;

    fn with_machine() -> Job {
        let mut job = Job::default();
        let table = BlowerTable {
            name: "invented".to_owned(),
            kind: EquipmentKind::Furnace,
            cooling: Some(Capacity::from_tons(3.0)),
            ..BlowerTable::default()
        };
        apply(&mut job, Edit::Machine(Box::new(table))).unwrap();
        job
    }

    #[test]
    fn choosing_a_machine_lays_the_path_and_a_target() {
        let job = with_machine();
        assert_eq!(job.path.ports.len(), 2);
        assert_eq!(job.target, Some(Target::PerTon { capacity: Capacity::from_tons(3.0), per_ton: NOMINAL_PER_TON }));
    }

    #[test]
    fn another_machine_brings_its_own_nominal_target_but_not_over_a_typed_one() {
        let mut job = with_machine();
        let larger = BlowerTable {
            name: "larger".to_owned(),
            cooling: Some(Capacity::from_tons(4.0)),
            ..BlowerTable::default()
        };
        apply(&mut job, Edit::Machine(Box::new(larger.clone()))).unwrap();
        let four = Target::PerTon { capacity: Capacity::from_tons(4.0), per_ton: NOMINAL_PER_TON };
        assert_eq!(job.target, Some(four));
        let mut typed = with_machine();
        let by_hand = Target::Airflow(Airflow::from_cfm(1100.0));
        apply(&mut typed, Edit::Target(Some(by_hand))).unwrap();
        apply(&mut typed, Edit::Machine(Box::new(larger))).unwrap();
        assert_eq!(typed.target, Some(by_hand));
    }

    #[test]
    fn what_cannot_be_leaves_the_job_as_it_was() {
        let job = with_machine();
        let refused = [
            (Edit::Humidity(1.4), "140 %"),
            (Edit::Altitude(Altitude::from_ft(40_000.0)), "40,000 ft"),
            (Edit::Reading(ReadAt::Port(RETURN_PORT), vec![Pressure::from_in_wc(-12.0)]), "12.00 in. w.c."),
            (Edit::Target(Some(Target::Airflow(Airflow::ZERO))), "target of 0 cfm"),
            (Edit::ReturnLength(Some(Length::ZERO)), "A return length of 0 ft cannot be"),
            (Edit::SupplyLength(Some(Length::from_ft(2000.5))), "A supply length of 2,000.5 ft cannot be"),
            (Edit::DesignStatic(Some(Pressure::from_in_wc(0.04))), "between 0.05 and 5 in. w.c."),
            (Edit::DesignStatic(Some(Pressure::from_in_wc(50.0))), "A design static of 50.00 in. w.c. cannot be"),
            (Edit::Tap(Some("9".to_owned())), "no tap \"9\""),
            (Edit::MovePort(SUPPLY_PORT, ElementId(1)), "own side"),
        ];
        for (edit, fragment) in refused {
            let mut changed = job.clone();
            let message = apply(&mut changed, edit).unwrap_err();
            assert!(message.contains(fragment), "{message}");
            assert_eq!(changed, job);
        }
    }

    #[test]
    fn a_new_reading_takes_back_the_word_about_its_sign() {
        let mut job = with_machine();
        apply(&mut job, Edit::ConfirmSigns).unwrap();
        let at = ReadAt::Port(RETURN_PORT);
        apply(&mut job, Edit::Reading(at, vec![Pressure::from_in_wc(0.1)])).unwrap();
        assert!(!job.set().signs_confirmed);
        apply(&mut job, Edit::Reading(at, Vec::new())).unwrap();
        assert!(job.set().readings.is_empty());
    }
}
