//! What every set of changes is made of, worked out once: changes that touch the same parts make a group, and each group's own sets are worked out before whole sets are put together.

use crate::model::air_path::ElementId;
use crate::model::answer::operation::{Inputs, tap_crossing};
use crate::model::answer::plate::{self, PlateSide};
use crate::model::answer::{Answer, Running, TargetBand, after};
use crate::model::blower::{BlowerTable, HeatStage};
use crate::model::change::effect::{self, Place};
use crate::model::change::{Change, ChangeId, ChangeKind};
use crate::model::job::Job;
use crate::model::operating_point::{Crossing, NoCrossing};
use crate::model::path_parts::Part;
use crate::model::search::Found;
use crate::model::system_curve::{SystemCurve, SystemLoad};
use crate::model::tap_curve::{TapCurve, TapShape};
use crate::model::target::rise_at;
use crate::units::{Airflow, Power, Pressure};

/// Distance from the band's edges at which a set is judged by two drops alone, without a crossing.
const CLEAR: f64 = 1e-6;

/// Why a set is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    Short,
    TooMuch,
    OverPlate,
    Barred,
    Heating,
    NoCurve,
}

/// A stretch of the path with one of its sets on: its curve, and its drops just outside the band's two edges.
#[derive(Clone, Debug, Default)]
struct Stretch {
    curve: SystemCurve,
    low: Pressure,
    high: Pressure,
}

/// Changes that touch the same parts; `stretches` is indexed by which of them are on.
struct Group {
    members: Vec<usize>,
    stretches: Vec<Option<Stretch>>,
}

/// A tap's curve, and the highest entries at which it moves just less than the band's low edge and just more than its high one.
struct Tap {
    shape: TapShape,
    falls: bool,
    highest_for_low: Option<Pressure>,
    highest_for_high: Option<Pressure>,
}

/// The job's changes laid out for the search.
pub(super) struct Ground<'a> {
    job: &'a Job,
    table: &'a BlowerTable,
    answer: &'a Answer,
    running: &'a Running,
    target: TargetBand,
    groups: Vec<Group>,
    untouched: Stretch,
    corrections: Stretch,
    /// Taps of the blower as the table has it, then of each change of the blower.
    speeds: Vec<(Option<usize>, Vec<Tap>)>,
    /// For each change the others that it shuts out.
    rivals: Vec<u32>,
    refused: Vec<(ChangeId, String)>,
    out: u32,
}

impl<'a> Ground<'a> {
    pub(super) fn lay_out(
        job: &'a Job,
        table: &'a BlowerTable,
        answer: &'a Answer,
        running: &'a Running,
        target: TargetBand,
    ) -> Self {
        let mut ground = Self {
            job,
            table,
            answer,
            running,
            target,
            groups: Vec::new(),
            untouched: Stretch::default(),
            corrections: Stretch::default(),
            speeds: Vec::new(),
            rivals: rivals(&job.changes),
            refused: Vec::new(),
            out: 0,
        };
        ground.corrections = ground.stretch(running.load.corrections.clone());
        ground.lay_out_parts();
        ground.lay_out_taps();
        ground
    }

    /// Drops of a curve just below the band and just above it.
    fn stretch(&self, curve: SystemCurve) -> Stretch {
        let (low, high) = clear_of(&self.target);
        Stretch { low: curve.drop_at(low), high: curve.drop_at(high), curve }
    }

    fn of_parts(&self, parts: &[Part]) -> Stretch {
        let mut curve = SystemCurve::default();
        for part in parts {
            curve.add(&part.curve);
        }
        self.stretch(curve)
    }

    fn lay_out_parts(&mut self) {
        let mut parts = self.running.parts.clone();
        for (held, members) in touching(self.job) {
            let (own, rest) = parts.into_iter().partition(|part| part.elements.iter().any(|id| held.contains(id)));
            parts = rest;
            let group = self.group(members, own);
            self.groups.push(group);
        }
        self.untouched = self.of_parts(&parts);
    }

    fn group(&mut self, members: Vec<usize>, own: Vec<Part>) -> Group {
        let place = Place {
            path: &self.job.path,
            air: after::duct_air(self.job, self.answer.air),
            airflow: self.running.now.airflow,
            density_ratio: self.answer.density_ratio,
        };
        let on = |set: usize| members.iter().enumerate().filter(move |(bit, _)| set >> bit & 1 == 1);
        let mut states: Vec<Option<Vec<Part>>> = vec![Some(own)];
        for set in 1..1_usize << members.len() {
            let last = set.ilog2() as usize;
            let change = &self.job.changes[members[last]];
            let is_out = on(set).any(|(_, member)| self.rivals[members[last]] >> member & 1 == 1);
            let before = states[set ^ (1 << last)].clone().filter(|_| !is_out);
            let state = before.and_then(|mut parts| match effect::put_on(&mut parts, &change.kind, &place) {
                Ok(()) => Some(parts),
                Err(sentence) => {
                    self.refuse(members[last], sentence);
                    None
                }
            });
            states.push(state);
        }
        let stretches = states.into_iter().map(|parts| Some(self.of_parts(&parts?))).collect();
        Group { members, stretches }
    }

    fn refuse(&mut self, index: usize, sentence: String) {
        if self.out >> index & 1 == 0 {
            self.out |= 1 << index;
            self.refused.push((self.job.changes[index].id, sentence));
        }
    }

    fn lay_out_taps(&mut self) {
        let inputs = Inputs {
            shapes: &self.answer.shapes,
            in_use: self.answer.in_use.unwrap_or_default(),
            budget: self.running.budget.clone(),
            density_ratio: self.answer.density_ratio,
            job: self.job,
            table: self.table,
            split: &[],
            exponent_shift: 0.0,
        };
        let taps = |shapes: Vec<TapShape>| shapes.into_iter().map(|shape| tap(shape, &self.target)).collect();
        let mut speeds = vec![(None, taps(self.answer.shapes.clone()))];
        let mut refused = Vec::new();
        for (index, change) in self.job.changes.iter().enumerate() {
            match &change.kind {
                ChangeKind::BelowTable { factor } => match after::below_table(&inputs, *factor) {
                    Ok(shapes) => speeds.push((Some(index), taps(shapes))),
                    Err(sentence) => refused.push((index, sentence)),
                },
                ChangeKind::OtherTap(name) => {
                    if let Err(sentence) = after::tap_named(self.table, name) {
                        refused.push((index, sentence));
                    }
                }
                _ => {}
            }
        }
        self.speeds = speeds;
        for (index, sentence) in refused {
            self.refuse(index, sentence);
        }
    }

    pub(super) fn changes(&self) -> usize {
        self.job.changes.len()
    }

    pub(super) fn refused(&self) -> &[(ChangeId, String)] {
        &self.refused
    }

    /// False for a set with a change that cannot be put on, or with two that shut each other out.
    pub(super) fn can_be(&self, mask: u32) -> bool {
        mask & self.out == 0 && bits(mask).all(|index| mask & self.rivals[index] == 0)
    }

    pub(super) fn price(&self, mask: u32) -> f64 {
        bits(mask).filter_map(|index| price_of(&self.job.changes[index])).fold(0.0, |total, price| total + price)
    }

    /// The tap that runs with a set, and its curve.
    fn tap(&self, mask: u32) -> Option<(usize, &Tap)> {
        let named = bits(mask).find_map(|index| match &self.job.changes[index].kind {
            ChangeKind::OtherTap(name) => after::tap_named(self.table, name).ok(),
            _ => None,
        });
        let is_on = |index: &Option<usize>| index.is_some_and(|index| mask >> index & 1 == 1);
        let (_, taps) = self.speeds.iter().find(|(index, _)| is_on(index)).or_else(|| self.speeds.first())?;
        let index = named.or(self.answer.in_use)?;
        Some((index, taps.get(index)?))
    }

    fn stretches(&self, mask: u32) -> impl Iterator<Item = &Stretch> {
        let of_group = move |group: &'_ Group| {
            group.members.iter().enumerate().fold(0, |set, (bit, member)| set | ((mask >> member & 1) as usize) << bit)
        };
        let changed = self.groups.iter().filter_map(move |group| group.stretches.get(of_group(group))?.as_ref());
        changed.chain([&self.untouched])
    }

    /// Where a set runs.
    ///
    /// # Errors
    /// Why it is no answer.
    pub(super) fn judge(&self, mask: u32) -> Result<Crossing, Refusal> {
        let (index, tap) = self.tap(mask).ok_or(Refusal::NoCurve)?;
        self.clearly_out(mask, tap)?;
        let mut load = SystemLoad {
            external: SystemCurve::default(),
            corrections: self.corrections.curve.clone(),
            density_ratio: self.answer.density_ratio,
        };
        for stretch in self.stretches(mask) {
            load.external.add(&stretch.curve);
        }
        let crossing = tap_crossing(&tap.shape, &load).map_err(|reason| match reason {
            NoCrossing::PastTheEnd { .. } => Refusal::Short,
            NoCrossing::SingleRow(_) | NoCrossing::Unusable => Refusal::NoCurve,
        })?;
        self.verdict(index, &tap.shape, &crossing).map_or(Ok(crossing), Err)
    }

    /// Two drops tell most sets: a falling curve reaches an airflow if, and only if, the path asks there for no more than the tap has.
    fn clearly_out(&self, mask: u32, tap: &Tap) -> Result<(), Refusal> {
        if !tap.falls {
            return Ok(());
        }
        let (mut low, mut high) = (self.corrections.low, self.corrections.high);
        for stretch in self.stretches(mask) {
            low += stretch.low;
            high += stretch.high;
        }
        let ratio = self.answer.density_ratio;
        let is_short = tap.highest_for_low.is_none_or(|highest| low / ratio > highest * (1.0 + CLEAR));
        let is_too_much = tap.highest_for_high.is_some_and(|highest| high / ratio < highest * (1.0 - CLEAR));
        match (is_short, is_too_much) {
            (true, _) => Err(Refusal::Short),
            (_, true) => Err(Refusal::TooMuch),
            _ => Ok(()),
        }
    }

    fn verdict(&self, index: usize, shape: &TapShape, crossing: &Crossing) -> Option<Refusal> {
        let over = self.table.rated_maximum.is_some_and(|limit| {
            plate::judge(crossing.tesp, limit, self.answer.density_ratio, Pressure::ZERO).side == PlateSide::Over
        });
        let curve = curve(shape);
        let power = curve.and_then(|curve| curve.power_at(crossing.entry));
        if crossing.airflow < self.target.low {
            Some(Refusal::Short)
        } else if crossing.airflow > self.target.high {
            Some(Refusal::TooMuch)
        } else if over {
            Some(Refusal::OverPlate)
        } else if curve.is_some_and(|curve| curve.barred_at(crossing.entry).is_some()) {
            Some(Refusal::Barred)
        } else if self.stages(index).all(|stage| self.is_kept(stage, crossing.airflow, power)) {
            None
        } else {
            Some(Refusal::Heating)
        }
    }

    /// Heating stages that a tap runs: by the table's map, and the call of the readings.
    fn stages(&self, index: usize) -> impl Iterator<Item = &HeatStage> {
        let name = self.table.taps.get(index).map(|tap| tap.name.as_str());
        let runs = move |stage: &&HeatStage| {
            stage.call == self.job.set().call || (name.is_some() && self.table.tap_of_call(stage.call) == name)
        };
        self.table.heating.iter().filter(runs)
    }

    fn is_kept(&self, stage: &HeatStage, airflow: Airflow, power: Option<Power>) -> bool {
        let air = self.job.set().air.at_blower(self.table.kind, stage.call);
        let heat = stage.output + power.map(Power::as_heat).unwrap_or_default();
        let rise = rise_at(heat, airflow, air.density);
        stage.rise.is_none_or(|(low, high)| (low..=high).contains(&rise))
            && stage.minimum_airflow.is_none_or(|least| airflow >= least)
    }

    pub(super) fn found(&self, mask: u32, price: f64, crossing: Crossing) -> Found {
        let on = || bits(mask).map(|index| &self.job.changes[index]);
        let tap = self.tap(mask).and_then(|(index, _)| self.table.taps.get(index));
        Found {
            changes: on().map(|change| change.id).collect(),
            price,
            unpriced: on().filter(|change| price_of(change).is_none()).map(|change| change.id).collect(),
            tap: tap.map(|tap| tap.name.clone()).unwrap_or_default(),
            gain: crossing.airflow - self.running.airflow_before,
            crossing,
        }
    }
}

/// Airflows just outside the band.
fn clear_of(target: &TargetBand) -> (Airflow, Airflow) {
    (target.low * (1.0 - CLEAR), target.high * (1.0 + CLEAR))
}

fn tap(shape: TapShape, target: &TargetBand) -> Tap {
    let (low, high) = clear_of(target);
    let highest = |airflow| Some(curve(&shape)?.highest_esp_for(airflow)?.0);
    Tap {
        falls: curve(&shape).is_some_and(|curve| curve.stretches().iter().all(|stretch| stretch.y1 <= stretch.y0())),
        highest_for_low: highest(low),
        highest_for_high: highest(high),
        shape,
    }
}

fn curve(shape: &TapShape) -> Option<&TapCurve> {
    match shape {
        TapShape::Curve(curve) => Some(curve),
        _ => None,
    }
}

/// A price that can be meant; nothing where a change has none.
fn price_of(change: &Change) -> Option<f64> {
    change.price.filter(|price| price.is_finite() && *price >= 0.0)
}

fn bits(mask: u32) -> impl Iterator<Item = usize> {
    (0..u32::BITS as usize).filter(move |index| mask >> index & 1 == 1)
}

/// For each change the others of its kind in its place.
fn rivals(changes: &[Change]) -> Vec<u32> {
    let is_rival = |one: &Change, other: &Change| {
        one.id != other.id
            && one.kind.declaration() == other.kind.declaration()
            && one.kind.element() == other.kind.element()
    };
    changes
        .iter()
        .map(|one| {
            let others = changes.iter().enumerate().filter(|(_, other)| is_rival(one, other));
            others.fold(0, |mask, (index, _)| mask | 1 << index)
        })
        .collect()
}

/// Groups of changes that touch the same elements: the elements, and the changes in the order in which they are put on.
fn touching(job: &Job) -> Vec<(Vec<ElementId>, Vec<usize>)> {
    let mut groups: Vec<(Vec<ElementId>, Vec<usize>)> = Vec::new();
    for change in after::in_order(job.changes.iter()) {
        let mut held = effect::takes_hold_of(&change.kind, &job.path);
        let is_of_blower = matches!(change.kind, ChangeKind::OtherTap(_) | ChangeKind::BelowTable { .. });
        if is_of_blower {
            continue;
        }
        let (joined, rest): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|(elements, _)| elements.iter().any(|id| held.contains(id)));
        groups = rest;
        let mut members: Vec<usize> = Vec::new();
        for (elements, of_group) in joined {
            held.extend(elements);
            members.extend(of_group);
        }
        members.extend(job.changes.iter().position(|other| std::ptr::eq(other, change)));
        groups.push((held, members));
    }
    groups
}
