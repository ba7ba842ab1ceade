//! What one change does by itself to the system as found, told while it is edited, and the size that an allowed drop or velocity asks for.
//!
//! It stands apart from the answer, which tells what a change brings to the point: here only the parts that it takes hold of are worked out, at the airflow of the readings.

use crate::model::answer::Answer;
use crate::model::change::on_parts::Place;
use crate::model::change::stated::{Held, Side};
use crate::model::change::{Allowed, AllowedDrop, Effect, Size};
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::change::{Change, ChangeKind};
use crate::model::facts::duct::fitting::Fitting;
use crate::model::facts::duct::section::Section;
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::laws::duct::{fitting_table, opening, size, stock};
use crate::model::path::air;
use crate::model::path::parts::{Part, flows};
use crate::model::solution::changed::duct_air;
use crate::model::verdicts::system::Running;
use crate::units::{Airflow, Area, Pressure, Velocity};

/// Part of its share by which a run's own drop may miss it before it is asked about: sizes are stated to an inch, and fittings are guessed (common practice, no source).
const AGREES: f64 = 0.5;

/// What a change does alone to the parts that it takes hold of, at the airflow of the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eased {
    /// Their drop as read.
    pub before: Pressure,
    /// Their drop with the change.
    pub after: Pressure,
    /// Airflow at which both hold.
    pub airflow: Airflow,
}

/// The air that a new way takes of what the blower moves with the changes that are on, or as read: the part of it that the first way no longer carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NewWay {
    /// Airflow that comes this way.
    pub airflow: Airflow,
    /// Cross-section of its run.
    pub section: Section,
    /// Velocity in the run.
    pub in_run: Velocity,
    /// Velocity at the grille's face.
    pub at_face: Velocity,
}

/// Airflow before and with a change, at the blower and to the rooms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtBlowerAndRooms {
    /// What the blower moves, before and with it.
    pub at_blower: (Airflow, Airflow),
    /// What comes out in the rooms, before and with it.
    pub to_rooms: (Airflow, Airflow),
}

/// A job with its answer, for the changes that are edited.
#[derive(Clone, Copy, Debug)]
struct Edited<'a> {
    answer: &'a Answer,
    point: &'a Running,
    place: Place<'a>,
}

/// Parts with a change on, and the elements that it takes hold of.
type PutOn = (Vec<Part>, Vec<ElementId>);

impl<'a> Edited<'a> {
    /// Nothing without a point.
    fn of(job: &'a Job, answer: &'a Answer) -> Option<Self> {
        let (point, blower) = (answer.point()?, answer.blower());
        let place = Place {
            path: &job.path,
            basis: job.machine.as_ref().map(|table| &table.basis),
            air: duct_air(job, blower.air.density),
            airflow: point.now.airflow,
            data_air: air::over_standard(&job.set().air, blower.air.density),
            dried_for: None,
        };
        Some(Self { answer, point, place })
    }

    /// With a change on; nothing where it is not told by the drops of its elements.
    fn put_on(&self, kind: &ChangeKind) -> Result<Option<PutOn>, Refusal> {
        let held = kind.takes_hold_of(self.place.path);
        if held.is_empty() {
            return Ok(None);
        }
        let mut then = self.point.system.parts.clone();
        let done = kind.put_on(&mut then, &self.place)?;
        // Another machine brings parts of its own, and a coil in the table has no drop of its own.
        let is_told = matches!(done, Effect::Done) && !kind.particulars().is_told_by_air;
        Ok(is_told.then_some((then, held)))
    }

    fn eased(&self, kind: &ChangeKind) -> Result<Option<Eased>, Refusal> {
        let now = &self.point.system.parts;
        let Some((then, held)) = self.put_on(kind)? else {
            return Ok(None);
        };
        // An element in a way has its own share of the air.
        let at = |parts: &[Part]| match kind.element() {
            Some(id) => flows::at_element(parts, id, self.place.airflow),
            None => Some((self.place.airflow, drop_of(parts, &held, self.place.airflow))),
        };
        let both = at(now).zip(at(&then));
        Ok(both.map(|((airflow, before), (_, after))| Eased { before, after, airflow }))
    }

    fn for_drop(&self, kind: &ChangeKind, allowed: Pressure) -> Result<Option<Size>, Refusal> {
        match self.eased(kind)?.filter(|eased| eased.before > Pressure::ZERO) {
            Some(Eased { before: read, airflow, .. }) => {
                kind.size_for_drop(&AllowedDrop { place: Place { airflow, ..self.place }, read, allowed })
            }
            None => Ok(None),
        }
    }

    fn for_velocity(&self, kind: &ChangeKind, velocity: Velocity) -> Result<Option<Size>, Refusal> {
        match self.taken_by_new_way(kind)? {
            Some(taken) => Ok(Some(Size::Round(size::round_for_velocity(taken, velocity)?))),
            None => Ok(None),
        }
    }

    /// Airflow that ducts and grilles are to carry: that with the changes that are on, or as read where there are none.
    fn carried(&self) -> Airflow {
        let then = self.answer.with_changes().and_then(|after| after.system.point());
        then.map_or(self.place.airflow, |point| point.airflow)
    }

    fn taken_by_new_way(&self, kind: &ChangeKind) -> Result<Option<Airflow>, Refusal> {
        if kind.particulars().new_way.is_none() {
            return Ok(None);
        }
        let now = &self.point.system.parts;
        let Some((then, held)) = self.put_on(kind)? else {
            return Ok(None);
        };
        let all = self.carried();
        let joined = drop_of(&then, &held, all);
        // The first way's drop rises with its airflow, so halving finds the airflow that has the joined drop.
        let (mut low, mut high) = (Airflow::ZERO, all);
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if drop_of(now, &held, middle) < joined {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Some(all - high))
    }

    fn new_way(&self, kind: &ChangeKind) -> Result<Option<NewWay>, Refusal> {
        let Some((airflow, (run, grille))) = self.taken_by_new_way(kind)?.zip(kind.particulars().new_way) else {
            return Ok(None);
        };
        let at_face = opening::face_velocity(airflow, grille.face)?;
        Ok(Some(NewWay { airflow, section: run.section, in_run: run.section.velocity(airflow), at_face }))
    }

    fn at_face(&self, kind: &ChangeKind) -> Option<Velocity> {
        let ChangeKind::OtherOpening(other) = kind else {
            return None;
        };
        self.place.path.element(other.element).filter(|element| element.kind == ElementKind::ReturnGrille)?;
        let parts = self.answer.with_changes().map_or(&self.point.system.parts, |after| &after.system.parts);
        let (airflow, _) = flows::at_element(parts, other.element, self.carried())?;
        opening::face_velocity(airflow, other.then.face).ok()
    }

    fn by_air(&self, change: &Change) -> Option<AtBlowerAndRooms> {
        if !change.kind.particulars().is_told_by_air {
            return None;
        }
        let worth = self.answer.with_changes()?.worths.iter().find(|worth| worth.id == change.id)?;
        let (gain, rooms) = (worth.gain.as_ref().ok()?.least, worth.to_rooms?.least);
        let from_to = |from: Airflow, gain: Airflow| (from, from + gain);
        Some(AtBlowerAndRooms {
            at_blower: from_to(self.point.now.airflow, gain),
            to_rooms: from_to(self.point.delivered().to_rooms, rooms),
        })
    }
}

fn drop_of(parts: &[Part], held: &[ElementId], airflow: Airflow) -> Pressure {
    let is_held = |part: &&Part| !part.elements.is_empty() && part.elements.iter().all(|id| held.contains(id));
    parts.iter().filter(is_held).fold(Pressure::ZERO, |sum, part| sum + part.drop_at(airflow))
}

/// What a change does alone; nothing where there is no point, or nothing that it takes hold of.
///
/// # Errors
/// Why it cannot be put on.
pub fn eased(job: &Job, answer: &Answer, kind: &ChangeKind) -> Result<Option<Eased>, Refusal> {
    Edited::of(job, answer).map_or(Ok(None), |edited| edited.eased(kind))
}

/// A run of which its own sizes say another drop than its share of the stretch does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddRun {
    /// What it takes by its own sizes.
    pub by_size: Pressure,
    /// What its share of the stretch says.
    pub by_share: Pressure,
    /// Airflow at which both hold.
    pub airflow: Airflow,
}

/// Where the two disagree by more than half of the share: the fields are of the trunk alone, or of another run than what was read. Nothing where they agree, or for a change of no run.
pub fn odd_run(job: &Job, answer: &Answer, kind: &ChangeKind) -> Option<OddRun> {
    let ChangeKind::OtherDuct(duct) = kind else {
        return None;
    };
    let edited = Edited::of(job, answer)?;
    let (airflow, share) = flows::at_element(&edited.point.system.parts, duct.element, edited.place.airflow)?;
    let by_share = share * duct.of_drop;
    let by_size = duct.now.drop_at(airflow, edited.place.air).ok()?.total();
    ((by_size - by_share).abs() > by_share * AGREES).then_some(OddRun { by_size, by_share, airflow })
}

/// The size that would do with what is allowed; nothing where nothing is read, or where its size is asked for by something else.
///
/// The editor's own figure is scaled to the reading, so the allowed drop is scaled back to what the formulas give.
///
/// # Errors
/// Why there is none.
pub fn size_for(job: &Job, answer: &Answer, kind: &ChangeKind, allowed: Allowed) -> Result<Option<Size>, Refusal> {
    Edited::of(job, answer).map_or(Ok(None), |edited| match allowed {
        Allowed::Drop(drop) => edited.for_drop(kind, drop),
        Allowed::Velocity(velocity) => edited.for_velocity(kind, velocity),
    })
}

/// A face of whole square inches, no smaller.
pub fn whole(face: Area) -> Area {
    Area::from_in2(face.in2().ceil())
}

/// The same change in the size that was worked out: the next stock size of a round duct, whole square inches of a face. Nothing where it is that size already.
pub fn resized(kind: &ChangeKind, size: Size) -> Option<ChangeKind> {
    let mut then = kind.clone();
    for one in then.stated().into_iter().filter(|one| one.side != Side::Now) {
        match size {
            Size::Round(diameter) => {
                if let Held::Run(run) = one.held {
                    run.section = Section::round(stock::round_at_least(diameter).unwrap_or(diameter));
                }
            }
            Size::Area(area) => {
                if let Held::Area(_, _, face) = one.held {
                    *face = whole(area);
                } else if let Held::Opening(opening) = one.held {
                    opening.face = whole(area);
                }
            }
        }
    }
    (then != *kind).then_some(then)
}

/// Fittings with their published loss coefficients, for a run's sum; those of a source stand together.
pub fn fittings() -> Vec<Fitting> {
    fitting_table::fittings()
}

/// The air of a second return and its velocities; nothing for a change that lays no way.
///
/// # Errors
/// Why it cannot be put on.
pub fn new_way(job: &Job, answer: &Answer, kind: &ChangeKind) -> Result<Option<NewWay>, Refusal> {
    Edited::of(job, answer).map_or(Ok(None), |edited| edited.new_way(kind))
}

/// Velocity at the face of another return grille, at the air that passes it with the changes that are on, or as read; nothing for any other change: registers are many, each with some of the air.
pub fn at_face(job: &Job, answer: &Answer, kind: &ChangeKind) -> Option<Velocity> {
    Edited::of(job, answer)?.at_face(kind)
}

/// What a change does that its drop does not tell: a seal may cost the blower air while the rooms get more.
pub fn by_air(job: &Job, answer: &Answer, change: &Change) -> Option<AtBlowerAndRooms> {
    Edited::of(job, answer)?.by_air(change)
}
