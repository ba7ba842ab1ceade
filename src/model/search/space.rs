//! What every set of changes is made of, worked out once: changes that touch the same parts make a group, and each group's own sets are worked out before whole sets are put together.

use crate::model::change::{Particulars, Role, Stage};
use crate::model::facts::air_path::ElementId;
use crate::model::facts::blower::HeatStage;
use crate::model::facts::change::{Change, ChangeId};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::{TargetBand, rise_at};
use crate::model::laws::system_curve::{SystemCurve, SystemLoad};
use crate::model::laws::tap_curve::{TapCurve, TapShape};
use crate::model::laws::thin_air;
use crate::model::path::parts::{self, Part, Route, flows};
use crate::model::search::{FoundSet, NearestSet};
use crate::model::solution::changed::{Changed, Found, in_order, sets_coil_again, tap_named};
use crate::model::solution::gain::Start;
use crate::model::solution::operating_point::{Crossing, NoCrossing};
use crate::model::solution::operation::{entry_of, tap_crossing};
use crate::model::verdicts::needs::{self, needs};
use crate::model::verdicts::plate;
use crate::model::verdicts::taps::{Reach, within_air};
use crate::model::verdicts::targets;
use crate::units::{Airflow, Power, Pressure};

/// Distance from the band's edges at which a set is judged by two drops alone, without a crossing.
const CLEAR: f64 = 1e-6;

/// Why a set is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NoAnswer {
    Short,
    TooMuch,
    InThisAir,
    OverPlate,
    Barred,
    Heating,
    Lost,
    NoCurve,
}

/// A stretch of the path with one of its sets on: its curve, what of it the table contains, and the drops of both just outside the band's two edges.
#[derive(Clone, Debug, Default)]
struct Stretch {
    curve: SystemCurve,
    inside: SystemCurve,
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
    /// Where it crosses the path as found: where every search begins.
    near: Option<Pressure>,
    highest_for_low: Option<Pressure>,
    highest_for_high: Option<Pressure>,
    /// Airflow that it moves at the rated maximum, and that static, where the rated maximum holds it to more air than the band's low edge.
    held: Option<(Airflow, Pressure)>,
}

/// The job's changes laid out for the search.
pub(super) struct SearchSpace<'a> {
    job: &'a Job,
    /// The system as read.
    found: Found<'a>,
    /// True where leaks or a bypass keep air from the rooms.
    loses: bool,
    /// The system with its conditions on, as they are switched; every set is put on to it.
    base: Changed<'a>,
    start: Start<'a>,
    target: TargetBand,
    groups: Vec<Group>,
    untouched: Stretch,
    corrections: Stretch,
    taps: Vec<Tap>,
    /// For each change the others that it shuts out.
    rivals: Vec<u32>,
    /// Changes that no set chooses: conditions.
    conditions: u32,
    /// Conditions of the parts that are on, which take their place among the fixes in every set.
    always: u32,
    refused: Vec<(ChangeId, Refusal)>,
    out: u32,
}

impl<'a> SearchSpace<'a> {
    pub(super) fn of(found: &Found<'a>, target: TargetBand) -> Self {
        let inputs = found.inputs;
        let job = inputs.job;
        let is_condition = |change: &&Change| self::is_condition(change);
        let is_of_parts = |change: &Change| self::is_of_parts(change, found);
        let ordered = in_order(job.changes.iter().filter(is_condition).filter(|change| change.is_on()));
        let again = ordered.iter().enumerate().filter(|(_, change)| is_of_parts(change));
        let again: Vec<(ChangeId, Refusal)> = again
            .filter_map(|(index, change)| Some((change.id, sets_coil_again(change, &ordered[..index])?)))
            .collect();
        let mut refused = again.clone();
        let on = job.changes.iter().filter(is_condition).filter(|change| change.is_on() && !is_of_parts(change));
        let base = found.with(on, |id, refusal| refused.push((id, refusal)));
        let mut space = Self {
            job,
            found: *found,
            loses: flows::delivered(&base.parts, found.operation.now.airflow).lost() > 0.0,
            start: Start::new(&found.operation.now, &inputs.shapes[inputs.in_use]),
            target,
            groups: Vec::new(),
            untouched: Stretch::default(),
            corrections: Stretch::default(),
            taps: taps(&base.shapes, &found.crossings_of(&base), &target),
            rivals: rivals(&job.changes),
            conditions: bits_where(&job.changes, self::is_condition),
            always: bits_where(&job.changes, |change| {
                is_of_parts(change) && change.is_on() && !again.iter().any(|(id, _)| *id == change.id)
            }),
            refused,
            out: 0,
            base,
        };
        space.corrections = space.stretch(SystemCurve::default(), space.base.corrections.clone().into_owned());
        space.hold_taps();
        space.solve_groups(found);
        space.look_for_taps();
        space
    }

    /// Finds what the rated maximum holds every tap to.
    fn hold_taps(&mut self) {
        let Some(plate) = self.base.table.rated_maximum else {
            return;
        };
        let load = SystemLoad {
            external: SystemCurve::default(),
            corrections: self.corrections.inside.clone(),
            entry_ratio: self.entry_ratio(),
        };
        for tap in &mut self.taps {
            tap.held = curve(&tap.shape).and_then(|shape| needs::held(shape, &load, self.target.low, plate));
        }
    }

    /// Drops just below the band and just above it.
    fn stretch(&self, curve: SystemCurve, inside: SystemCurve) -> Stretch {
        let (low, high) = clear_of(&self.target);
        let drop = |airflow| curve.drop_at(airflow) + inside.drop_at(airflow);
        Stretch { low: drop(low), high: drop(high), curve, inside }
    }

    fn of_parts(&self, parts: &[Part]) -> Stretch {
        self.stretch(parts::curve_of(parts), parts::inside_of(parts))
    }

    fn solve_groups(&mut self, found: &Found<'a>) {
        let mut parts = self.base.parts.clone();
        for (held, members) in touching(self.job, self.conditions & !self.always, &parts) {
            let touches_return = members.iter().any(|index| self.asked(*index).touches_return);
            let is_own = |part: &Part| part.holds_any(&held) || (touches_return && part.before_blower);
            let (own, rest) = parts.into_iter().partition(is_own);
            parts = rest;
            let group = self.group(found, members, own);
            self.groups.push(group);
        }
        self.untouched = self.of_parts(&parts);
    }

    fn group(&mut self, found: &Found<'a>, members: Vec<usize>, own: Vec<Part>) -> Group {
        let place = found.place(&self.base);
        let on = |set: usize| members.iter().enumerate().filter(move |(bit, _)| set >> bit & 1 == 1);
        let mut states: Vec<Option<Vec<Part>>> = vec![Some(own)];
        for set in 1..1_usize << members.len() {
            let last = set.ilog2() as usize;
            let change = &self.job.changes[members[last]];
            if !self.has_all_conditions(&members[..last], set) {
                states.push(None);
                continue;
            }
            let is_out = on(set).any(|(_, member)| self.rivals[members[last]] >> member & 1 == 1);
            let before = states[set ^ (1 << last)].clone().filter(|_| !is_out);
            let is_condition = self.always >> members[last] & 1 == 1;
            let state = before.and_then(|mut parts| match change.kind.put_on(&mut parts, &place) {
                Ok(_) => Some(parts),
                Err(refusal) => {
                    self.refuse(members[last], refusal);
                    is_condition.then_some(parts)
                }
            });
            states.push(state);
        }
        let stretches = states.into_iter().map(|parts| Some(self.of_parts(&parts?))).collect();
        Group { members, stretches }
    }

    /// False for a set without one of the conditions that come before its last member: nobody asks for it, and no set is made from it.
    fn has_all_conditions(&self, before_last: &[usize], set: usize) -> bool {
        before_last.iter().enumerate().all(|(bit, member)| self.always >> member & 1 == 0 || set >> bit & 1 == 1)
    }

    fn refuse(&mut self, index: usize, refusal: Refusal) {
        if self.out >> index & 1 == 0 {
            self.out |= 1 << index;
            self.refused.push((self.job.changes[index].id, refusal));
        }
    }

    fn look_for_taps(&mut self) {
        let job = self.job;
        for (index, change) in job.changes.iter().enumerate() {
            if let Some(name) = change.kind.particulars().tap
                && let Err(refusal) = tap_named(self.base.table, name)
            {
                self.refuse(index, refusal);
            }
        }
    }

    /// What is asked of one change.
    fn asked(&self, index: usize) -> Particulars<'a> {
        self.job.changes[index].kind.particulars()
    }

    pub(super) fn changes(&self) -> usize {
        self.job.changes.len()
    }

    pub(super) fn refused(&self) -> &[(ChangeId, Refusal)] {
        &self.refused
    }

    /// False for a set with a change that cannot be put on or is a condition, or with two that shut each other out.
    pub(super) fn can_be(&self, mask: u32) -> bool {
        mask & (self.out | self.conditions) == 0 && bits(mask).all(|index| mask & self.rivals[index] == 0)
    }

    /// True for a set with a fix that has no price.
    pub(super) fn is_unpriced(&self, mask: u32) -> bool {
        bits(mask).any(|index| price_of(&self.job.changes[index]).is_none())
    }

    pub(super) fn price(&self, mask: u32) -> f64 {
        bits(mask | self.on_beside())
            .filter_map(|index| price_of(&self.job.changes[index]))
            .fold(0.0, |total, price| total + price)
    }

    /// The tap that runs with a set, and its curve.
    fn tap(&self, mask: u32) -> Option<(usize, &Tap)> {
        let named = bits(mask).find_map(|index| tap_named(self.base.table, self.asked(index).tap?).ok());
        let index = named.unwrap_or(self.base.in_use);
        Some((index, self.taps.get(index)?))
    }

    fn stretches(&self, mask: u32) -> impl Iterator<Item = &Stretch> {
        let mask = mask | self.always;
        let of_group = move |group: &'_ Group| {
            group.members.iter().enumerate().fold(0, |set, (bit, member)| set | ((mask >> member & 1) as usize) << bit)
        };
        let changed = self.groups.iter().filter_map(move |group| group.stretches.get(of_group(group))?.as_ref());
        changed.chain([&self.untouched])
    }

    fn entry_ratio(&self) -> f64 {
        thin_air::entry_ratio(self.base.table.motor, self.base.density_ratio)
    }

    /// Where a set runs.
    ///
    /// # Errors
    /// Why it is no answer.
    pub(super) fn judge(&self, mask: u32) -> Result<Crossing, NoAnswer> {
        let (index, tap) = self.tap(mask).ok_or(NoAnswer::NoCurve)?;
        self.clearly_out(mask, tap)?;
        let crossing = tap_crossing(&tap.shape, &self.load(mask), tap.near).map_err(|reason| match reason {
            NoCrossing::PastTheEnd { .. } => NoAnswer::Short,
            NoCrossing::SingleRow(_) | NoCrossing::Unusable => NoAnswer::NoCurve,
        })?;
        match self.verdict(index, &tap.shape, &crossing) {
            Some(refusal) => Err(refusal),
            None if self.loses && self.is_lost(mask, crossing.airflow) => Err(NoAnswer::Lost),
            None => Ok(crossing),
        }
    }

    /// Conditions that are on and put on, which stand beside every set.
    fn on_beside(&self) -> u32 {
        let is_refused = |change: &Change| self.refused.iter().any(|(id, _)| *id == change.id);
        bits_where(&self.job.changes, |change| is_condition(change) && change.is_on() && !is_refused(change))
    }

    /// Whether a set leaves the rooms without more of the air than may be lost.
    fn is_lost(&self, mask: u32, airflow: Airflow) -> bool {
        let on = bits(mask | self.on_beside()).map(|index| &self.job.changes[index]);
        let parts = self.found.with(on, |_, _| {}).parts;
        flows::delivered(&parts, airflow).is_lost(&self.job.limits)
    }

    /// Two drops tell most sets: a falling curve reaches an airflow if, and only if, the path asks there for no more than the tap has.
    fn clearly_out(&self, mask: u32, tap: &Tap) -> Result<(), NoAnswer> {
        if !curve(&tap.shape).is_some_and(TapCurve::falls) {
            return Ok(());
        }
        let (mut low, mut high) = (self.corrections.low, self.corrections.high);
        for stretch in self.stretches(mask) {
            low += stretch.low;
            high += stretch.high;
        }
        let ratio = self.entry_ratio();
        let is_short = tap.highest_for_low.is_none_or(|highest| low / ratio > highest * (1.0 + CLEAR));
        let is_too_much = tap.highest_for_high.is_some_and(|highest| high / ratio < highest * (1.0 - CLEAR));
        match (is_short, is_too_much) {
            (true, _) => Err(NoAnswer::Short),
            (false, true) => Err(NoAnswer::TooMuch),
            (false, false) => Ok(()),
        }
    }

    /// Drop that has to come out of a set's path, by the yardstick of [`needs`]: at the band's low edge for the tap, or where the rated maximum holds the tap to more air, at that airflow for the rated maximum; nothing where none has to, the tap never moves that much, or no path brings it into the band.
    fn missing(&self, mask: u32) -> Option<Pressure> {
        let (_, tap) = self.tap(mask)?;
        let missing = match tap.held {
            Some((at, _)) if at > self.target.high => return None,
            Some((at, limit)) => {
                self.stretches(mask).map(|stretch| stretch.curve.drop_at(at)).sum::<Pressure>() - limit
            }
            None => {
                let low = self.stretches(mask).fold(self.corrections.low, |sum, stretch| sum + stretch.low);
                low - tap.highest_for_low? * self.entry_ratio()
            }
        };
        (missing > Pressure::ZERO).then_some(missing)
    }

    /// The set for which least has to come out still, and how much.
    pub(super) fn nearest(&self, sets: impl Iterator<Item = u32>) -> Option<NearestSet> {
        let missing = sets.filter_map(|mask| Some((mask, self.missing(mask)?)));
        let by_drop = |one: &(u32, Pressure), other: &(u32, Pressure)| one.1.in_wc().total_cmp(&other.1.in_wc());
        let (mask, _) = missing.min_by(by_drop)?;
        let (index, tap) = self.tap(mask)?;
        let (today, plate) = (self.found.operation.now.tesp, self.base.table.rated_maximum);
        let needs = needs(&tap.shape, &self.load(mask), &self.target, (today, plate), false);
        Some(NearestSet {
            changes: bits(mask).map(|index| self.job.changes[index].id).collect(),
            tap: self.base.table.taps.get(index)?.name.clone(),
            is_in_band: self.judge(mask) == Err(NoAnswer::OverPlate),
            ease: *needs.band.ease()?,
        })
    }

    /// What a set's tap works against.
    fn load(&self, mask: u32) -> SystemLoad {
        let mut load = SystemLoad {
            external: SystemCurve::default(),
            corrections: self.corrections.inside.clone(),
            entry_ratio: self.entry_ratio(),
        };
        for stretch in self.stretches(mask) {
            load.external.add(&stretch.curve);
            load.corrections.add(&stretch.inside);
        }
        load
    }

    fn verdict(&self, index: usize, shape: &TapShape, crossing: &Crossing) -> Option<NoAnswer> {
        let over = self
            .base
            .table
            .rated_maximum
            .is_some_and(|limit| !plate::judge(crossing.tesp, limit, self.entry_ratio(), Pressure::ZERO).is_kept());
        let curve = curve(shape);
        let power = curve.and_then(|curve| curve.power_at(crossing.entry));
        if crossing.airflow < self.target.low {
            Some(NoAnswer::Short)
        } else if crossing.airflow > self.target.high {
            Some(NoAnswer::TooMuch)
        } else if curve.is_some_and(|curve| self.is_left_open_by_air(curve, crossing)) {
            Some(NoAnswer::InThisAir)
        } else if over {
            Some(NoAnswer::OverPlate)
        } else if curve.is_some_and(|curve| curve.barred_at(crossing.entry).is_some()) {
            Some(NoAnswer::Barred)
        } else if self.stages(index).all(|stage| self.is_kept(stage, crossing.airflow, power)) {
            None
        } else {
            Some(NoAnswer::Heating)
        }
    }

    /// Whether a crossing in the band is out of it by what else the motor may do in this air.
    fn is_left_open_by_air(&self, curve: &TapCurve, crossing: &Crossing) -> bool {
        let (motor, ratio) = (self.base.table.motor, self.base.density_ratio);
        let other = thin_air::other_end(curve, motor, crossing.entry * self.entry_ratio(), ratio);
        within_air(Reach::InBand, other, ratio, &self.target) != Reach::InBand
    }

    /// Heating stages that a tap runs: by the table's map, and the call of the readings.
    fn stages(&self, index: usize) -> impl Iterator<Item = &HeatStage> {
        let name = self.base.table.taps.get(index).map(|tap| tap.name.as_str());
        let runs = move |stage: &&HeatStage| {
            stage.call == self.base.call || (name.is_some() && self.base.table.tap_of_call(stage.call) == name)
        };
        self.base.table.heating.iter().filter(runs)
    }

    fn is_kept(&self, stage: &HeatStage, airflow: Airflow, power: Option<Power>) -> bool {
        let air = self.job.set().air.at_blower(self.base.table.kind, stage.call);
        let (heat, _) = targets::heat(self.job, self.base.table, stage, power);
        let rise = rise_at(heat, airflow, air.density);
        stage.rise.is_none_or(|(low, high)| (low..=high).contains(&rise))
            && stage.minimum_airflow.is_none_or(|least| airflow >= least)
    }

    pub(super) fn found(&self, mask: u32, price: f64, crossing: Crossing) -> FoundSet {
        let of = |mask| bits(mask).map(|index| &self.job.changes[index]);
        let on = || of(mask);
        let bought = of(mask | self.on_beside()).filter(|change| change.kind.is_bought());
        let (index, shape) = self.tap(mask).map(|(index, tap)| (index, &tap.shape)).unzip();
        let tap = index.and_then(|index| self.base.table.taps.get(index));
        FoundSet {
            changes: on().map(|change| change.id).collect(),
            price,
            unpriced: bought.filter(|change| price_of(change).is_none()).map(|change| change.id).collect(),
            tap: tap.map(|tap| tap.name.clone()).unwrap_or_default(),
            gain: shape.map(|shape| self.start.gain(&crossing, shape)).unwrap_or_default(),
            crossing,
            runs: None,
            delivered: None,
            open: Vec::new(),
            conditions: bits(self.on_beside()).map(|index| self.job.changes[index].id).collect(),
            only_with_conditions: false,
        }
    }
}

/// Airflows just outside the band.
fn clear_of(target: &TargetBand) -> (Airflow, Airflow) {
    (target.low * (1.0 - CLEAR), target.high * (1.0 + CLEAR))
}

fn taps(shapes: &[TapShape], near: &[Result<Crossing, NoCrossing>], target: &TargetBand) -> Vec<Tap> {
    let (low, high) = clear_of(target);
    let tap = |(index, shape): (usize, &TapShape)| {
        let highest = |airflow| Some(curve(shape)?.highest_esp_for(airflow)?.0);
        Tap {
            near: entry_of(near, index),
            highest_for_low: highest(low),
            highest_for_high: highest(high),
            held: None,
            shape: shape.clone(),
        }
    };
    shapes.iter().enumerate().map(tap).collect()
}

fn curve(shape: &TapShape) -> Option<&TapCurve> {
    match shape {
        TapShape::Curve(curve) => Some(curve),
        TapShape::Single(_) | TapShape::Unusable => None,
    }
}

/// A price that can be meant; nothing where a change has none.
fn price_of(change: &Change) -> Option<f64> {
    change.price.filter(|price| price.is_finite() && *price >= 0.0)
}

fn is_condition(change: &Change) -> bool {
    change.kind.declaration().role == Role::Condition
}

/// Conditions that take hold of parts among the fixes: a filter loaded after it was replaced is the new one, loaded.
fn is_of_parts(change: &Change, found: &Found<'_>) -> bool {
    let is_of_table = change.kind.particulars().coil.is_some_and(|coil| found.is_inside(coil));
    is_condition(change) && change.kind.stage() >= Stage::State && !is_of_table
}

fn bits_where(changes: &[Change], holds: impl Fn(&Change) -> bool) -> u32 {
    changes.iter().enumerate().filter(|(_, change)| holds(change)).fold(0, |mask, (index, _)| mask | 1 << index)
}

fn bits(mask: u32) -> impl Iterator<Item = usize> {
    (0..u32::BITS as usize).filter(move |index| mask >> index & 1 == 1)
}

/// For each change the others of its kind in its place.
fn rivals(changes: &[Change]) -> Vec<u32> {
    let is_rival = |one: &Change, other: &Change| {
        one.id != other.id
            && !is_condition(one)
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

/// Groups of changes that touch the same parts: the elements of those parts, and the changes in the order in which they are put on.
fn touching(job: &Job, conditions: u32, parts: &[Part]) -> Vec<(Vec<ElementId>, Vec<usize>)> {
    let mut groups: Vec<(Vec<ElementId>, Vec<usize>)> = Vec::new();
    for change in in_order(job.changes.iter()) {
        let Some(index) = job.changes.iter().position(|other| std::ptr::eq(other, change)) else {
            continue;
        };
        if conditions >> index & 1 == 1 || change.kind.particulars().tap.is_some() {
            continue;
        }
        let mut held = whole_parts(parts, change.kind.takes_hold_of(&job.path));
        let (joined, rest): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|(elements, _)| elements.iter().any(|id| held.contains(id)));
        groups = rest;
        let mut members: Vec<usize> = Vec::new();
        for (elements, of_group) in joined {
            held.extend(elements);
            members.extend(of_group);
        }
        members.push(index);
        groups.push((held, members));
    }
    groups
}

/// The elements, with every other element of the parts that hold them; with a bypass all that shares the rooms' air belongs together.
fn whole_parts(parts: &[Part], ids: Vec<ElementId>) -> Vec<ElementId> {
    let is_shared = |part: &&Part| matches!(part.route, Route::Rooms | Route::Bypass);
    let has_bypass = parts.iter().any(|part| part.route == Route::Bypass);
    let touches_shared = has_bypass && parts.iter().filter(is_shared).any(|part| part.holds_any(&ids));
    let touched = parts.iter().filter(|part| part.holds_any(&ids) || (touches_shared && is_shared(part)));
    let mut held: Vec<ElementId> = touched.flat_map(Part::all_elements).collect();
    held.extend(ids);
    held
}
