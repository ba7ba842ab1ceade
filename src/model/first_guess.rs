//! What a change is when it has just been put on: every number of it is shown and asks to be typed over.

use crate::model::answer::Answer;
use crate::model::facts::air_path::{Element, ElementId, ElementKind, Whereabouts};
use crate::model::facts::blower::{BlowerTable, Call, PartInTest};
use crate::model::facts::change::declaration::{self, Declaration};
use crate::model::facts::change::{
    BelowTable, ByData, ChangeKind, CleanCoil, FilterLoading, LessByHand, MoreFilterArea, OpenRegisters, Opening,
    OtherCall, OtherCoilState, OtherDuct, OtherOpening, OtherTap, PanelOff, RepairRun, Replacement, Seal, SecondReturn,
};
use crate::model::facts::drop_data::{DRY_COIL, DropData, MEDIA_FILTER};
use crate::model::facts::duct::material::Material;
use crate::model::facts::duct::run::{Run, Wall};
use crate::model::facts::duct::section::Section;
use crate::model::facts::job::Job;
use crate::model::facts::readings::CoilState;
use crate::model::facts::target::{NOMINAL_PER_TON, Target};
use crate::model::path::effect;
use crate::model::solution::other_call::WET_OVER_DRY;
use crate::model::solution::other_machine::may_leave;
use crate::units::{Airflow, Area, Dimension, Length, Pressure};

/// A first version of a declared change on an element; nothing when it has nothing to start from (no other tap).
///
/// The numbers are everyday sizes (common practice, no source), not the house's: a person types the house's.
pub fn first(declared: &Declaration, element: ElementId, job: &Job, answer: &Answer) -> Option<ChangeKind> {
    let airflow = answer.blower().target.map(|target| target.actual).or_else(|| Some(answer.point()?.now.airflow));
    // To 5 cfm, as tables and data sheets print it.
    let airflow = Airflow::from_cfm((airflow.unwrap_or(Airflow::from_cfm(1200.0)).cfm() / 5.0).round() * 5.0);
    let data = |drop, exponent| DropData::at(airflow, Pressure::from_in_wc(drop), exponent).ok();
    let is_coil = job.path.element(element).is_some_and(|part| part.kind == ElementKind::Coil);
    let is = |other: &Declaration| declared == other;
    Some(if is(&declaration::BY_DATA) {
        let (drop, exponent) = if is_coil { (0.20, DRY_COIL) } else { (0.10, MEDIA_FILTER) };
        ChangeKind::ByData(ByData { element, data: data(drop, exponent)? })
    } else if is(&declaration::MORE_FILTER_AREA) {
        let face = |width: f64, height: f64| Area::from_in2(width * height);
        ChangeKind::MoreFilterArea(MoreFilterArea { element, now: face(16.0, 25.0), then: face(20.0, 25.0) })
    } else if is(&declaration::FILTER_LOADING) {
        ChangeKind::FilterLoading(FilterLoading { element, factor: 1.5 })
    } else if is(&declaration::CLEAN_COIL) {
        ChangeKind::CleanCoil(CleanCoil { element, fraction: 0.25 })
    } else if is(&declaration::OTHER_DUCT) {
        let now = duct(16.0, 20.0);
        ChangeKind::OtherDuct(OtherDuct {
            element,
            now,
            then: now.with_section(Section::round(Dimension::from_in(18.0))),
        })
    } else if is(&declaration::SECOND_RETURN) {
        let own = |airflow| DropData::at(airflow, Pressure::from_in_wc(0.10), MEDIA_FILTER).ok();
        let filter = effect::would_pass_by_filters(&job.path).then(|| own(airflow / 2.0)).flatten();
        ChangeKind::SecondReturn(SecondReturn { run: flexible(12.0, 20.0), grille: grille(14.0, 20.0), filter })
    } else if is(&declaration::OTHER_OPENING) {
        ChangeKind::OtherOpening(OtherOpening { element, now: grille(20.0, 20.0), then: grille(20.0, 30.0) })
    } else if is(&declaration::OPEN_REGISTERS) {
        ChangeKind::OpenRegisters(OpenRegisters { element, now: 8, then: 10, of: 10 })
    } else if is(&declaration::REPAIR_RUN) {
        ChangeKind::RepairRun(RepairRun { element, fraction: 0.25 })
    } else if is(&declaration::LESS_BY_HAND) {
        ChangeKind::LessByHand(LessByHand { element, fraction: 0.25 })
    } else if is(&declaration::SEAL) {
        ChangeKind::Seal(Seal { element, fraction: 0.5 })
    } else if is(&declaration::OTHER_COIL_STATE) {
        ChangeKind::OtherCoilState(OtherCoilState { element, factor: other_state(job.set().coil) })
    } else if is(&declaration::PANEL_OFF) {
        ChangeKind::PanelOff(PanelOff { area: Area::from_in2(14.0 * 20.0) })
    } else if is(&declaration::OTHER_CALL) {
        ChangeKind::OtherCall(OtherCall { call: other_call(job, answer)? })
    } else if is(&declaration::OTHER_MACHINE) {
        // Nothing to start from: a person chooses its table first (see `replacement`).
        return None;
    } else if is(&declaration::OTHER_TAP) {
        ChangeKind::OtherTap(OtherTap { tap: other_tap(job, answer)? })
    } else {
        ChangeKind::BelowTable(BelowTable { factor: 0.90 })
    })
}

fn duct(diameter: f64, length: f64) -> Run {
    Run {
        section: Section::round(Dimension::from_in(diameter)),
        length: Length::from_ft(length),
        wall: Wall::from(Material::Galvanized),
        fittings: 1.0,
    }
}

fn flexible(diameter: f64, length: f64) -> Run {
    Run {
        section: Section::round(Dimension::from_in(diameter)),
        length: Length::from_ft(length),
        wall: Wall::Flexible { compression: 0.04 },
        fittings: 1.0,
    }
}

fn grille(width: f64, height: f64) -> Opening {
    Opening { face: Area::from_in2(width * height), free_area: 0.70 }
}

/// Factor on a coil's drop in its other state.
fn other_state(now: CoilState) -> f64 {
    if now == CoilState::Wet { 1.0 / WET_OVER_DRY } else { WET_OVER_DRY }
}

/// The machine's table that changes work on: another machine's where one is put on the ducts.
pub fn table_then<'a>(job: &'a Job, answer: &'a Answer) -> Option<&'a BlowerTable> {
    let after = answer.with_changes();
    after.and_then(|after| after.system.blower.other.as_deref()).or(job.machine.as_ref())
}

/// The first heating call that the table maps, else fan only, else any other call that it maps.
fn other_call(job: &Job, answer: &Answer) -> Option<Call> {
    let table = table_then(job, answer)?;
    let now = job.set().call;
    let order = [Call::HeatingHigh, Call::HeatingLow, Call::FanOnly, Call::CoolingHigh, Call::CoolingLow];
    order.into_iter().find(|call| *call != now && table.tap_of_call(*call).is_some())
}

/// Another machine as it is first put on the ducts of a job: the old machine's coil and heater outside its table leave, its cabinet filter too where the new table has one; a nominal capacity brings its own target.
///
/// The tap is left to the new table's map of calls where that has the call of the readings.
pub fn replacement(job: &Job, table: BlowerTable) -> Replacement {
    let call = job.set().call;
    let first_tap = || Some(table.calls.first().map_or(table.taps.first()?.name.as_str(), |(_, tap)| tap.as_str()));
    let tap = if table.tap_of_call(call).is_some() { None } else { first_tap().map(str::to_owned) };
    let leaves =
        may_leave(job).into_iter().filter(|element| leaves_at_first(element, &table)).map(|element| element.id);
    let per_ton = match job.target {
        Some(Target::PerTon { per_ton, .. }) => per_ton,
        _ => NOMINAL_PER_TON,
    };
    Replacement {
        tap,
        leaves: leaves.collect(),
        coil: None,
        filter: None,
        target: table.cooling.map(|capacity| Target::PerTon { capacity, per_ton }),
        table,
    }
}

fn leaves_at_first(element: &Element, new: &BlowerTable) -> bool {
    match element.kind {
        ElementKind::Coil | ElementKind::Heater => true,
        ElementKind::Filter => element.whereabouts == Whereabouts::Cabinet && new.basis.filter == PartInTest::Included,
        _ => false,
    }
}

/// The next tap up, else the next one down.
fn other_tap(job: &Job, answer: &Answer) -> Option<String> {
    if let Some(after) = answer.with_changes().filter(|after| after.system.blower.other.is_some()) {
        let (taps, in_use) = (&after.system.taps, after.system.blower.in_use?);
        let next = taps.get(in_use + 1).or_else(|| taps.get(in_use.checked_sub(1)?))?;
        return Some(next.name.clone());
    }
    let by_airflow = crate::model::verdicts::findings::by_airflow(answer.taps());
    let here = by_airflow.iter().position(|tap| Some(tap.name.as_str()) == job.tap_in_use())?;
    let next = by_airflow.get(here + 1).or_else(|| by_airflow.get(here.checked_sub(1)?))?;
    Some(next.name.clone())
}
