//! A visit of several reading sets: each solved by itself, all of them fitted together, and those after the repair held against what the changes promised.

use crate::model::answer::Answer;
use crate::model::facts::air_path::ElementId;
use crate::model::facts::change::Change;
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadingSet;
use crate::model::laws::system_curve::SystemLoad;
use crate::model::laws::tap_curve::TapShape;
use crate::model::path::parts::{self, Separated};
use crate::model::solution::fit::{self, Fit, Residual, Solved};
use crate::model::solution::operating_point::Crossing;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::system::{NotRunning, Running};
use crate::units::{Airflow, Pressure};

/// How far above the best a correction's chi-squared may lie and still not be told apart from it (about 95 % for one degree of freedom).
const NOT_TOLD_APART: f64 = 4.0;

/// Every reading set of a job that has several.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Each set, in the job's order.
    pub sets: Vec<SetAnswer>,
    /// What those before the repair say together; nothing where they do not tell any part from another.
    pub fit: Option<Fit>,
    /// Where they cannot all be true: single corrections after which they could, the likeliest first, those that cannot be told from it with it.
    pub suspects: Vec<Suspect>,
}

/// One reading set, solved by itself, without changes; by the table, unless an opinion scales all of it.
#[derive(Clone, Debug, PartialEq)]
pub struct SetAnswer {
    /// Where it ran, or why nothing can be said.
    pub point: Result<SetPoint, NotRunning>,
    /// Index of an earlier set that says the very same.
    pub twin: Option<usize>,
    /// Against what the changes promised, for a set after the repair.
    pub kept: Option<Kept>,
}

/// Where the machine ran in a set.
#[derive(Clone, Debug, PartialEq)]
pub struct SetPoint {
    /// The point.
    pub at: Crossing,
    /// ± of its airflow, 95 %.
    pub spread: Airflow,
    /// ± of its total external static, 95 %.
    pub tesp_spread: Pressure,
    /// ± of its airflow that the readings alone leave, 95 %: the table's own error is that of every set.
    pub read_spread: Airflow,
    /// Static that the return side takes and the supply side, where two ports were read.
    pub sides: Option<(Pressure, Pressure)>,
    /// The tap that ran, by its name and its index.
    pub tap: (String, usize),
    /// What any tap had to work against.
    pub load: SystemLoad,
}

/// What the changes promised and what was measured after the repair.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Airflow measured, by the table.
    pub measured: Airflow,
    /// ± of its difference from the promise, 95 %: what the promise and the readings leave in doubt, the table's own error left out.
    pub spread: Airflow,
    /// Airflow promised over what the readings said that it starts from.
    pub gain: Airflow,
    /// The promise, on the tap that ran.
    pub promised: Crossing,
    /// That tap.
    pub promised_on: String,
    /// True where the readings that it starts from were taken on another tap.
    pub other_tap: bool,
    /// The tap that the changes would run, where another ran.
    pub planned: Option<String>,
}

impl Kept {
    /// Airflow measured less airflow promised.
    pub fn off(&self) -> Airflow {
        self.measured - self.promised.airflow
    }

    /// True where that is no more than its ±.
    pub fn agrees(&self) -> bool {
        self.off().abs() <= self.spread
    }

    /// True where it could as well be no gain at all.
    pub fn is_untold(&self) -> bool {
        self.agrees() && (self.off() + self.gain).abs() <= self.spread
    }
}

/// A single correction after which the readings could all be true.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Index of the set that it is of.
    pub set: usize,
    /// What would be otherwise.
    pub what: Correction,
    /// Chi-squared of the fit then.
    pub chi_squared: f64,
}

/// What of a set would be otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Correction {
    /// Another tap ran.
    Tap(String),
    /// A part that is said to have been out was in.
    WasIn(ElementId),
    /// A part that is said to have been in was out.
    WasOut(ElementId),
    /// Its readings are wrong.
    Readings,
}

impl Visit {
    /// The sets of a job; nothing where it has only one.
    pub(super) fn of(job: &Job) -> Option<Self> {
        if job.sets.len() < 2 {
            return None;
        }
        // A table wrong by a factor leaves the drops at the read airflow exact, so they are told apart by the table alone.
        let by_table = job.anchor.map(|_| Job { anchor: None, ..job.clone() });
        let bare = by_table.as_ref().unwrap_or(job);
        // Sets are compared on one footing: an opinion that does not scale the table is of its own set alone.
        let scales = job.anchor.is_some_and(|anchor| anchor.scales);
        let footing = each_solved(if scales { job } else { bare });
        let set = |(index, (_, answer)): (usize, &(Job, Answer))| SetAnswer {
            point: point(answer),
            twin: twin(job, index),
            kept: None,
        };
        let sets = footing.iter().enumerate().map(set).collect();
        let (job, solved) = (bare, if scales { each_solved(bare) } else { footing });
        let all = all_solved(job, solved);
        let fit = fit_together(job, &all);
        let suspects = fit.as_ref().filter(|fit| !fit.holds()).map(|fit| suspects(job, fit, &all)).unwrap_or_default();
        Some(Self { sets, fit, suspects })
    }

    /// True where the sets of the path as it was before the repair cannot all be true, and the judged one is among them.
    pub(super) fn contradicts(&self, job: &Job) -> bool {
        let is_among = before_repair(job).contains(&job.judged);
        is_among && self.fit.as_ref().is_some_and(|fit| !fit.holds())
    }

    /// Elements that the sets tell apart, where they can all be true and the judged one is of the same path.
    pub(super) fn separated(&self, job: &Job) -> Vec<Separated> {
        let fit = self.fit.as_ref().filter(|fit| fit.holds() && !job.changes_are_done() && !job.set().otherwise);
        fit.map(Fit::separated).unwrap_or_default()
    }

    /// Tells the judged set's airflow as sure as the answer does, which draws may have made another ±.
    pub(super) fn tell_as_judged(&mut self, job: &Job, answer: &Answer) {
        let judged = self.sets.get_mut(job.judged).and_then(|set| set.point.as_mut().ok());
        if let Some((point, running)) = judged.zip(answer.point().filter(|_| answer.draws.is_some())) {
            point.spread = running.system.spreads.now;
        }
    }

    /// Holds every set after the repair against what the changes promise, all of which could be put on: both by the table alone, whose common error is that of both.
    pub(super) fn hold_against(&mut self, job: &Job, answer: &Answer) {
        let is_promised = job.changes.iter().any(Change::is_on);
        let mended = (0..job.sets.len()).filter(|set| is_promised && job.sets[*set].after_repair);
        for set in mended.collect::<Vec<_>>() {
            self.sets[set].kept = promises(job, set).and_then(|from| self.held(job, answer, (from, set)));
        }
    }

    fn held(&self, job: &Job, answer: &Answer, (from, set): (usize, usize)) -> Option<Kept> {
        let point = self.sets.get(set).filter(|set| set.twin.is_none())?.point.as_ref().ok()?;
        if from == job.judged && job.anchor.is_none() {
            return kept(job, answer, point);
        }
        let bare = Job { judged: from, anchor: None, ..job.clone() };
        let (_, by_table) = solved(bare.as_read(set));
        let point = self::point(&by_table).ok()?;
        let fit = fit_together(&bare, &all_solved(&bare, each_solved(&bare))).filter(Fit::holds);
        let separated = fit.as_ref().map(Fit::separated).unwrap_or_default();
        kept(&bare, &Answer::single(&bare, separated, (None, None)), &point)
    }
}

/// The set that the promise for a set after the repair starts from: the last before it of a whole path in the same call with the same parts and the coil in the same state, on the same tap where there is one.
fn promises(job: &Job, mended: usize) -> Option<usize> {
    let then = job.sets.get(mended)?;
    let is_whole = |index: &usize| {
        let job = Job { judged: *index, ..job.clone() };
        let set = job.set();
        let state = |set: &ReadingSet| (set.call, set.coil, set.parts_out.clone());
        let is_alike = state(set) == state(then);
        !set.after_repair && !job.is_test() && is_alike && twin(&job, *index).is_none()
    };
    let whole: Vec<usize> = (0..job.sets.len()).filter(is_whole).collect();
    let is_on_tap = |index: &&usize| job.tap_of(&job.sets[**index]) == job.tap_of(then);
    whole.iter().rev().find(is_on_tap).or(whole.last()).copied()
}

/// What was measured against what was promised for the tap that then ran; nothing where the machine of the promise has no such tap.
fn kept(job: &Job, answer: &Answer, point: &SetPoint) -> Option<Kept> {
    let (running, projection) = answer.point().zip(answer.with_changes())?;
    let is_whole = projection.counted(job) > 0 && projection.refused.is_empty();
    let system = Some(&projection.system).filter(|_| is_whole)?;
    let read = of_readings(running);
    let tap = system.taps.iter().position(|tap| tap.name == point.tap.0)?;
    let promised = *system.crossing(tap)?;
    let gain = (*system.spreads.taps.get(tap)?).map(|spread| spread.gain);
    let doubt = [gain.unwrap_or_default(), read, point.read_spread].map(|one| one.cfm().powi(2));
    let ran = Some(point.tap.0.as_str());
    let is_planned = system.tap() != job.tap_in_use();
    Some(Kept {
        measured: point.at.airflow,
        gain: promised.airflow - running.now.airflow,
        spread: Airflow::from_cfm(doubt.iter().sum::<f64>().sqrt()),
        promised,
        promised_on: point.tap.0.clone(),
        other_tap: job.tap_in_use() != ran,
        planned: system.tap().filter(|_| is_planned && system.tap() != ran).map(str::to_owned),
    })
}

/// A job judged by one of its sets alone, and its answer.
fn solved(job: Job) -> (Job, Answer) {
    let answer = Answer::single(&job, Vec::new(), (None, None));
    (job, answer)
}

fn point(answer: &Answer) -> Result<SetPoint, NotRunning> {
    let running = answer.found.as_ref().map_err(|idle| idle.why.clone())?;
    let system = &running.system;
    let tap = system.blower.in_use.zip(system.tap()).ok_or(NotRunning::NoTap)?;
    Ok(SetPoint {
        at: running.now,
        spread: system.spreads.now,
        tesp_spread: system.spreads.tesp,
        read_spread: of_readings(running),
        sides: running.return_side.zip(running.supply_side),
        tap: (tap.1.to_owned(), tap.0),
        load: system.load.clone(),
    })
}

/// ± of an airflow that the readings alone leave: that of the static that its tap's curve is entered with.
fn of_readings(running: &Running) -> Airflow {
    // An airflow that was read by itself does not rest on the static.
    if running.anchored.is_some_and(|anchored| anchored.is_here()) {
        return running.system.spreads.now;
    }
    let Blower { shapes, in_use, .. } = &running.system.blower;
    let slope = match in_use.and_then(|tap| shapes.get(tap)) {
        Some(TapShape::Curve(curve)) => curve.value_and_slope(running.now.entry.in_wc()).1,
        Some(TapShape::Single(_) | TapShape::Unusable) | None => 0.0,
    };
    Airflow::from_cfm(slope.abs() * running.system.spreads.tesp.in_wc())
}

/// An earlier set whose very readings a set has.
fn twin(job: &Job, set: usize) -> Option<usize> {
    let own = job.sets.get(set)?;
    job.sets.iter().take(set).position(|earlier| own.repeats(earlier))
}

/// Indexes of the sets of the path as it was before the repair, and in no other way otherwise; one that nobody has read yet is none.
fn before_repair(job: &Job) -> Vec<usize> {
    let sets = job.sets.iter().enumerate();
    sets.filter(|(index, set)| !set.after_repair && !set.otherwise && twin(job, *index).is_none())
        .map(|(index, _)| index)
        .collect()
}

/// Every set of a job, solved by itself; a part that some of them leave out is told by them, whatever its data say.
fn all_solved(job: &Job, known: Vec<(Job, Answer)>) -> Vec<(Job, Answer)> {
    match without_data(job, &before_repair(job)) {
        Some(bare) => each_solved(&bare),
        None => known,
    }
}

/// Every set of a job, solved by itself.
fn each_solved(job: &Job) -> Vec<(Job, Answer)> {
    (0..job.sets.len()).map(|index| solved(job.as_read(index))).collect()
}

/// What the sets before the repair say together, told at the judged one's airflow.
fn fit_together(job: &Job, all: &[(Job, Answer)]) -> Option<Fit> {
    let of_path = before_repair(job).into_iter().filter_map(|index| Some((index, all.get(index)?)));
    fit_of(job.judged, of_path)
}

/// The fit of those sets that count.
fn fit_of<'s>(judged: usize, sets: impl Iterator<Item = (usize, &'s (Job, Answer))>) -> Option<Fit> {
    let sets = sets.filter_map(|(set, (job, answer))| {
        let (inputs, operation) = answer.solved(job)?;
        Some(Solved { set, inputs, operation })
    });
    let sets: Vec<Solved<'_>> = sets.collect();
    let is_among = sets.iter().any(|solved| solved.set == judged);
    fit::fit(&sets, if is_among { judged } else { sets.first()?.set })
}

/// The job without the data of parts that stand in a stretch that was read and are out in some sets only; nothing where it has none.
fn without_data(job: &Job, counted: &[usize]) -> Option<Job> {
    let out = |index: &usize, id: ElementId| job.sets.get(*index).is_some_and(|set| set.parts_out.contains(&id));
    let is_told = |id: ElementId| {
        let somewhere_out = counted.iter().any(|index| out(index, id)) && !counted.iter().all(|index| out(index, id));
        somewhere_out && counted.iter().any(|index| is_in_a_stretch(&job.as_read(*index), id))
    };
    let with_data = job.path.elements.iter().filter(|element| element.drop.is_some());
    let told: Vec<ElementId> = with_data.map(|element| element.id).filter(|id| is_told(*id)).collect();
    let mut bare = (!told.is_empty()).then(|| job.clone())?;
    for element in bare.path.elements.iter_mut().filter(|element| told.contains(&element.id)) {
        element.drop = None;
    }
    Some(bare)
}

fn is_in_a_stretch(job: &Job, id: ElementId) -> bool {
    let answer = Answer::single(job, Vec::new(), (None, None));
    let stretches = answer.solved(job).map(|(inputs, operation)| {
        let at = inputs.at(operation.now.airflow, operation.now.tesp);
        parts::segments(job, inputs.table, &at)
    });
    stretches.into_iter().flatten().any(|stretch| stretch.known.contains(&id) || stretch.elements.contains(&id))
}

/// Sets in which a mistake is looked for: those that are furthest off, for in long visits every one has to be fitted anew.
const MOST_SUSPECTED: usize = 3;
/// Other taps, and parts, that are tried in a set.
const MOST_TRIED: usize = 8;

/// Every single correction after which the readings could all be true.
fn suspects(job: &Job, fit: &Fit, all: &[(Job, Answer)]) -> Vec<Suspect> {
    let mut furthest: Vec<&Residual> = fit.residuals.iter().collect();
    furthest.sort_by(|one, other| other.in_spreads().total_cmp(&one.in_spreads()));
    let mut sets: Vec<usize> = Vec::new();
    for residual in furthest {
        if !sets.contains(&residual.set) && sets.len() < MOST_SUSPECTED {
            sets.push(residual.set);
        }
    }
    let parts: Vec<ElementId> =
        fit.drops.iter().filter(|fitted| !fitted.wetting).flat_map(|fitted| fitted.elements.iter().copied()).collect();
    let counted = before_repair(job);
    let mut found: Vec<Suspect> = Vec::new();
    for set in sets {
        // With the set otherwise, or without it.
        let fit = |then: Option<&(Job, Answer)>| {
            let sets = counted.iter().filter_map(|index| {
                let of = if *index == set { then } else { all.get(*index) };
                Some((*index, of?))
            });
            fit_of(job.judged, sets)
        };
        for (what, then) in corrections(all, set, &parts) {
            found.extend(fit(Some(&solved(then))).and_then(|fit| suspect(set, what, &fit)));
        }
        found.extend(fit(None).and_then(|fit| suspect(set, Correction::Readings, &fit)));
    }
    found.sort_by(|one, other| one.chi_squared.total_cmp(&other.chi_squared));
    let best = found.first().map_or(0.0, |suspect| suspect.chi_squared);
    found.retain(|suspect| suspect.chi_squared <= best + NOT_TOLD_APART);
    found
}

fn suspect(set: usize, what: Correction, fit: &Fit) -> Option<Suspect> {
    fit.holds().then_some(Suspect { set, what, chi_squared: fit.chi_squared })
}

/// The set as it would be with one thing otherwise.
fn corrections(all: &[(Job, Answer)], set: usize, parts: &[ElementId]) -> Vec<(Correction, Job)> {
    let Some((job, _)) = all.get(set) else {
        return Vec::new();
    };
    let with = |change: &dyn Fn(&mut ReadingSet)| {
        let mut then = job.clone();
        then.set_mut().into_iter().for_each(change);
        then
    };
    let ran = job.tap_in_use();
    let taps = job.machine.iter().flat_map(|table| &table.taps).map(|tap| &tap.name);
    let others = taps.filter(|name| Some(name.as_str()) != ran).take(MOST_TRIED);
    let tap = |name: &String| (Correction::Tap(name.clone()), with(&|set| set.tap = Some(name.clone())));
    // Nobody takes a duct out for a reading.
    let is_pulled = |id: &ElementId| job.path.element(*id).is_some_and(|element| element.kind.is_pulled());
    let part = |id: &ElementId| {
        if job.set().parts_out.contains(id) {
            return Some((Correction::WasIn(*id), with(&|set| set.parts_out.retain(|out| out != id))));
        }
        is_pulled(id).then(|| (Correction::WasOut(*id), with(&|set| set.parts_out.push(*id))))
    };
    others.map(tap).chain(parts.iter().filter_map(part).take(MOST_TRIED)).collect()
}
