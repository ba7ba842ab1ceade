//! What a change is when it has just been put on: every number of it is shown and asks to be typed over.

use crate::model::air_path::ElementId;
use crate::model::answer::Answer;
use crate::model::change::declaration::{self, Declaration};
use crate::model::change::{ChangeKind, Opening};
use crate::model::drop_data::{DRY_COIL, DropData, MEDIA_FILTER};
use crate::model::duct::material::Material;
use crate::model::duct::run::{Run, Wall};
use crate::model::duct::section::Section;
use crate::model::job::Job;
use crate::units::{Airflow, Area, Dimension, Length, Pressure};

/// A first version of a declared change on an element; nothing when it has nothing to start from (no other tap).
///
/// The numbers are everyday sizes (common practice, no source), not the house's: a person types the house's.
pub fn first(declared: &Declaration, element: ElementId, job: &Job, answer: &Answer) -> Option<ChangeKind> {
    let airflow = answer.target.map(|target| target.actual).or_else(|| Some(answer.point()?.now.airflow));
    // To 5 cfm, as tables and data sheets print it.
    let airflow = Airflow::from_cfm((airflow.unwrap_or(Airflow::from_cfm(1200.0)).cfm() / 5.0).round() * 5.0);
    let data = |drop, exponent| DropData::at(airflow, Pressure::from_in_wc(drop), exponent).ok();
    let is_coil = job.path.element(element).is_some_and(|part| part.kind == crate::model::air_path::ElementKind::Coil);
    let is = |other: &Declaration| declared == other;
    Some(if is(&declaration::BY_DATA) {
        let (drop, exponent) = if is_coil { (0.20, DRY_COIL) } else { (0.10, MEDIA_FILTER) };
        ChangeKind::ByData { element, data: data(drop, exponent)? }
    } else if is(&declaration::MORE_FILTER_AREA) {
        let face = |width: f64, height: f64| Area::from_in2(width * height);
        ChangeKind::MoreFilterArea { element, now: face(16.0, 25.0), then: face(20.0, 25.0) }
    } else if is(&declaration::FILTER_LOADING) {
        ChangeKind::FilterLoading { element, factor: 1.5 }
    } else if is(&declaration::CLEAN_COIL) {
        ChangeKind::CleanCoil { element, fraction: 0.25 }
    } else if is(&declaration::OTHER_DUCT) {
        let now = duct(16.0, 20.0);
        ChangeKind::OtherDuct { element, now, then: now.with_section(Section::round(Dimension::from_in(18.0))) }
    } else if is(&declaration::SECOND_RETURN) {
        ChangeKind::SecondReturn { run: flexible(12.0, 20.0), grille: grille(14.0, 20.0), filter: None }
    } else if is(&declaration::OTHER_OPENING) {
        ChangeKind::OtherOpening { element, now: grille(20.0, 20.0), then: grille(20.0, 30.0) }
    } else if is(&declaration::OPEN_REGISTERS) {
        ChangeKind::OpenRegisters { element, now: 8, then: 10, of: 10 }
    } else if is(&declaration::REPAIR_RUN) {
        ChangeKind::RepairRun { element, fraction: 0.25 }
    } else if is(&declaration::LESS_BY_HAND) {
        ChangeKind::LessByHand { element, fraction: 0.25 }
    } else if is(&declaration::OTHER_TAP) {
        ChangeKind::OtherTap(other_tap(job, answer)?)
    } else {
        ChangeKind::BelowTable { factor: 0.90 }
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

/// The next tap up, else the next one down.
fn other_tap(job: &Job, answer: &Answer) -> Option<String> {
    let by_airflow = crate::model::findings::by_airflow(answer);
    let here = by_airflow.iter().position(|tap| Some(tap.name.as_str()) == job.tap_in_use())?;
    let next = by_airflow.get(here + 1).or_else(|| by_airflow.get(here.checked_sub(1)?))?;
    Some(next.name.clone())
}
