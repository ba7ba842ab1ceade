//! The cheapest set of changes that reaches the target: every set of the job's changes is looked at, on or off as they may be.
//!
//! A set is an answer when the tap that runs after it lands in the target's accepted band, at or under the rated maximum (as read and at the table's density), on a row that is not barred, with the heating limits of [`CHECKED`] kept, and loses no more air on the way to the rooms than it may.
//! Two changes of one kind on one element shut each other out; so do two second returns and two other taps.
//! Conditions ([`crate::model::change::Role::Condition`]: a loaded filter, another call, another machine) stay as they are switched, and every set is put on to them.
//! The prices of conditions that are on count, and a set that is an answer only because of them says so.
//! Sets whose fixes all have a price come first; after them those with a fix that has none, which counts as nothing and is named as such.
//! A set that holds a cheaper answer whole is no runner-up.

mod space;

use std::sync::atomic::{AtomicBool, Ordering};

use crate::model::answer::Answer;
use crate::model::change::Role;
use crate::model::facts::air_path::ElementKind;
use crate::model::facts::change::{ChangeId, ChangeKind, Switch};
use crate::model::facts::job::Job;
use crate::model::facts::refusal::Refusal;
use crate::model::facts::target::TargetBand;
use crate::model::path::parts::flows::Delivered;
use crate::model::solution::changed::Found;
use crate::model::solution::gain::Gain;
use crate::model::solution::operating_point::Crossing;
use crate::model::solution::operation;
use crate::model::verdicts::needs::Ease;
use crate::model::verdicts::system::System;
pub use crate::model::verdicts::taps::InDoubt;
use crate::model::verdicts::taps::{StageRise, TapPoint};
use space::{NoAnswer, SearchSpace};

/// Most changes that are searched: 65,536 sets.
pub const MOST_CHANGES: usize = 16;
/// Most sets that are named.
pub const MOST_FOUND: usize = 5;
/// What a set is held against.
pub const CHECKED: &str = "The accepted band, the rated maximum as read and at the table's density, barred rows, and temperature rise and least airflow of the heating stages that the tap in use after the changes runs; stages on other taps are not looked at; and the most of the air that may be lost on the way to the rooms";
/// Sets between two looks at the clock: progress is told and a stop is heeded.
const STRIDE: usize = 256;

/// A set of changes that reaches the target.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundSet {
    /// The changes, in the job's order; none when the path does it as read.
    pub changes: Vec<ChangeId>,
    /// What they cost together, in the person's own money.
    pub price: f64,
    /// Those of them that have no price and count as free, another machine that is on among them.
    pub unpriced: Vec<ChangeId>,
    /// The tap that runs.
    pub tap: String,
    /// Where it runs.
    pub crossing: Crossing,
    /// Difference from today's airflow.
    pub gain: Gain,
    /// What a whole answer says of it: ±, watts, rating plate.
    pub runs: Option<TapPoint>,
    /// The air where it counts.
    pub delivered: Option<Delivered>,
    /// What the whole answer's ± leaves open of it besides its point: what its heat needs, and the air lost on the way.
    pub open: Vec<InDoubt>,
    /// The conditions that are on beside them, whose prices count as well.
    pub conditions: Vec<ChangeId>,
    /// True where the set is an answer only because of these.
    pub only_with_conditions: bool,
}

impl FoundSet {
    /// What its ± leaves open of being an answer.
    pub fn doubts(&self, target: &TargetBand) -> Vec<InDoubt> {
        let of_point = self.runs.as_ref().map(|runs| runs.in_doubt(Some(target))).unwrap_or_default();
        of_point.into_iter().chain(self.open.iter().copied()).collect()
    }

    /// What it costs, conditions included; nothing where nothing that is on has a price.
    pub fn told_price(&self) -> Option<f64> {
        let is_unpriced = self.price <= 0.0 && !self.unpriced.is_empty() && self.unpriced.len() >= self.changes.len();
        (!is_unpriced).then_some(self.price)
    }
}

/// The set of changes that comes nearest to the target, where none reaches it.
#[derive(Clone, Debug, PartialEq)]
pub struct NearestSet {
    /// The changes, in the job's order.
    pub changes: Vec<ChangeId>,
    /// The tap that runs.
    pub tap: String,
    /// True where it lands in the band already, over the rated maximum.
    pub is_in_band: bool,
    /// How much easier the path must still become for the band and the rated maximum.
    pub ease: Ease,
}

/// How the sets failed that were no answer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fails {
    /// Under the accepted band, the curve's end included.
    pub short: usize,
    /// Over the accepted band.
    pub too_much: usize,
    /// In the band by the motor's own law, out of it at a constant speed, or the other way round.
    pub in_this_air: usize,
    /// In the band, over the rated maximum.
    pub over_plate: usize,
    /// In the band, where the table bars the tap.
    pub barred: usize,
    /// In the band, outside the limits of a heating stage.
    pub heating: usize,
    /// In the band, with more air lost on the way to the rooms than may be.
    pub lost: usize,
    /// On a tap that projects nothing: one row only, or no usable data.
    pub no_curve: usize,
}

/// Why no set is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoneReason {
    /// The machine does not run by the readings yet.
    NotRunning,
    /// No target is said.
    NoTarget,
    /// More changes than can be searched; how many there are.
    TooMany(usize),
    /// A part of another machine whose drop nobody knows; no set lands in a band for sure.
    UnknownPart(ElementKind),
    /// The same of a part between a port and the machine, on the path as found.
    UnknownOnPath(ElementKind),
    /// The readings were taken after the repair: changes count as done.
    Done,
    /// A panel is off, which is shown and never run: what it brings is no answer.
    PanelOff,
    /// A person stopped it.
    Stopped,
    /// Every set was looked at and none is an answer.
    NoneLands(Fails),
}

/// What the search brought.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchResult {
    /// The cheapest sets, cheapest first, those with a fix that has no price last; at most five; equal prices by fewer changes, then by the job's order.
    pub best: Vec<FoundSet>,
    /// Sets looked at; the rest come after the last one named.
    pub examined: usize,
    /// Changes that cannot be put on, with the reason; no set holds them.
    pub refused: Vec<(ChangeId, Refusal)>,
    /// What a set was held against.
    pub checked: &'static str,
    /// The band that they were held against.
    pub target: Option<TargetBand>,
    /// Why nothing is named.
    pub none_reason: Option<NoneReason>,
    /// Of sets that move too little air, or are over the rated maximum, the one for which least has to come out of the path still; nothing where a set is an answer, or none is short by a drop.
    pub nearest: Option<NearestSet>,
}

impl SearchResult {
    const fn none(reason: NoneReason) -> Self {
        Self {
            best: Vec::new(),
            examined: 0,
            refused: Vec::new(),
            checked: CHECKED,
            target: None,
            none_reason: Some(reason),
            nearest: None,
        }
    }
}

impl Fails {
    /// All of them.
    pub const fn all(&self) -> usize {
        self.short
            + self.too_much
            + self.in_this_air
            + self.over_plate
            + self.barred
            + self.heating
            + self.lost
            + self.no_curve
    }

    fn count(&mut self, refusal: NoAnswer) {
        *match refusal {
            NoAnswer::Short => &mut self.short,
            NoAnswer::TooMuch => &mut self.too_much,
            NoAnswer::InThisAir => &mut self.in_this_air,
            NoAnswer::OverPlate => &mut self.over_plate,
            NoAnswer::Barred => &mut self.barred,
            NoAnswer::Heating => &mut self.heating,
            NoAnswer::Lost => &mut self.lost,
            NoAnswer::NoCurve => &mut self.no_curve,
        } += 1;
    }

    fn told(&self) -> String {
        let each = [
            (self.short, "too little air"),
            (self.too_much, "too much air"),
            (self.in_this_air, "in or out of the band, which cannot be told in this air"),
            (self.over_plate, "over the rated maximum"),
            (self.barred, "barred by the table"),
            (self.heating, "outside the heating limits"),
            (self.lost, "with too much air lost on the way to the rooms"),
            (self.no_curve, "on a tap that cannot be projected"),
        ];
        let said: Vec<String> =
            each.iter().filter(|(count, _)| *count > 0).map(|(count, why)| format!("{count} {why}")).collect();
        said.join(", ")
    }
}

impl NoneReason {
    /// One sentence for a person.
    pub fn sentence(&self) -> String {
        match self {
            Self::NotRunning => {
                "The readings do not say yet where the machine runs, so no change can be judged".to_owned()
            }
            Self::NoTarget => "Say a target first; without one no set of changes can be judged".to_owned(),
            Self::TooMany(count) => {
                format!("{count} changes are too many to try every set; at most {MOST_CHANGES} can be")
            }
            Self::UnknownPart(kind) => format!(
                "No drop is known of the new machine's {}, so no set of changes can be judged; give its data first",
                kind.name().to_lowercase()
            ),
            Self::UnknownOnPath(kind) => format!(
                "No drop is known of the {} between port and machine, so no set of changes can be judged; give its data or read across it first",
                kind.name().to_lowercase()
            ),
            Self::Done => "These readings were taken after the repair, with its changes in them: look for fixes from readings before it".to_owned(),
            Self::PanelOff => {
                "A panel off is a fault to show and never to run: switch it off before fixes are looked for".to_owned()
            }
            Self::Stopped => "The search was stopped before every set was looked at".to_owned(),
            Self::NoneLands(fails) if fails.all() == 1 => format!("The only set is no answer: {}", fails.told()),
            Self::NoneLands(fails) => {
                format!("None of the {} sets of these changes is an answer: {}", fails.all(), fails.told())
            }
        }
    }
}

/// The cheapest sets of the job's changes that reach its target.
///
/// `stop` ends the search soon after it turns true, then nothing is named; `progress` is told the fraction of sets looked at.
/// Switches of fixes do not count: one that is off is tried like any other.
pub fn cheapest(job: &Job, stop: &AtomicBool, progress: &mut dyn FnMut(f32)) -> SearchResult {
    if job.changes.len() > MOST_CHANGES {
        return SearchResult::none(NoneReason::TooMany(job.changes.len()));
    }
    if job.changes_are_done() {
        return SearchResult::none(NoneReason::Done);
    }
    let answer = Answer::of(job);
    let (Some(running), Some((inputs, operation))) = (answer.point(), answer.solved(job)) else {
        return SearchResult::none(NoneReason::NotRunning);
    };
    if job.changes.iter().any(|change| change.is_on() && matches!(change.kind, ChangeKind::PanelOff(_))) {
        return SearchResult::none(NoneReason::PanelOff);
    }
    let then = answer.with_changes().map(|after| &after.system);
    let Some(target) = then.map_or(answer.blower(), |then| &then.blower).target else {
        return SearchResult::none(NoneReason::NoTarget);
    };
    if let Some(kind) = then.and_then(|then| then.unknown_part) {
        return SearchResult::none(NoneReason::UnknownPart(kind));
    }
    if let Some(kind) = running.sum.unknown_part() {
        return SearchResult::none(NoneReason::UnknownOnPath(kind));
    }
    let crossings = operation::crossings(&inputs.shapes, &operation.load, &[]);
    let found = Found { inputs: &inputs, operation: &operation, crossings: &crossings, wish: None };
    let space = SearchSpace::of(&found, target);
    let mut result = search(&space, stop, progress);
    result.target = Some(target);
    for set in &mut result.best {
        let with = |on| answer_with(job, &set.changes, on);
        let is_answer = |answer: &Answer| {
            let system = answer.then();
            let is_lost = |system: &System| system.delivered.is_some_and(|air| air.is_lost(&job.limits));
            system.is_some_and(|system| system.runs().is_some_and(TapPoint::is_answer) && !is_lost(system))
        };
        set.only_with_conditions = !set.conditions.is_empty() && !is_answer(&with(Switch::Off));
        let answer = with(Switch::On);
        let Some(system) = answer.then() else { continue };
        set.open = open(job, &answer, system);
        set.runs = system.runs().cloned();
        set.delivered = system.delivered;
    }
    result
}

/// What is open of a set besides its point.
fn open(job: &Job, answer: &Answer, system: &System) -> Vec<InDoubt> {
    let heats = system.rises_on_running().any(StageRise::is_in_doubt).then_some(InDoubt::Heating);
    let spread = answer.with_changes().and_then(|after| after.rooms_spread);
    let is_lost = |air: &Delivered| spread.is_some_and(|spread| air.may_be_lost(spread.lost, &job.limits));
    let lost = system.delivered.as_ref().is_some_and(is_lost).then_some(InDoubt::LostAir);
    heats.into_iter().chain(lost).collect()
}

/// The answer with a set of fixes on; the conditions as they are switched, or off.
fn answer_with(job: &Job, changes: &[ChangeId], conditions: Switch) -> Answer {
    let mut job = job.clone();
    for change in &mut job.changes {
        let is_fix = change.kind.declaration().role == Role::Fix;
        if is_fix || conditions == Switch::Off {
            change.switch = if changes.contains(&change.id) { Switch::On } else { Switch::Off };
        }
    }
    Answer::of(&job)
}

/// The same search to its end, which nobody listens to.
pub fn to_the_end(job: &Job) -> SearchResult {
    cheapest(job, &AtomicBool::new(false), &mut |_| {})
}

fn search(space: &SearchSpace<'_>, stop: &AtomicBool, progress: &mut dyn FnMut(f32)) -> SearchResult {
    let sets = sets(space);
    let mut result = SearchResult { refused: space.refused().to_vec(), ..SearchResult::none(NoneReason::Stopped) };
    let mut fails = Fails::default();
    let mut answers: Vec<u32> = Vec::new();
    for (index, &(_, price, _, mask)) in sets.iter().enumerate() {
        if index % STRIDE == 0 {
            if stop.load(Ordering::Relaxed) {
                return SearchResult { best: Vec::new(), ..result };
            }
            progress(index as f32 / sets.len() as f32);
        }
        result.examined += 1;
        if answers.iter().any(|answer| mask & answer == *answer) {
            continue;
        }
        match space.judge(mask) {
            Ok(crossing) => {
                answers.push(mask);
                result.best.push(space.found(mask, price, crossing));
            }
            Err(refusal) => fails.count(refusal),
        }
        if answers.len() == MOST_FOUND {
            break;
        }
    }
    progress(1.0);
    let is_none = answers.is_empty();
    result.none_reason = is_none.then_some(NoneReason::NoneLands(fails));
    result.nearest = is_none.then(|| space.nearest(sets.iter().map(|(.., mask)| *mask))).flatten();
    result
}

/// Every set that can be, those without a fix that has no price first, cheapest first: whether it has one, price, number of changes, one bit for each change.
fn sets(space: &SearchSpace<'_>) -> Vec<(bool, f64, u32, u32)> {
    let mut sets: Vec<(bool, f64, u32, u32)> = (0..1_u32 << space.changes())
        .filter(|mask| space.can_be(*mask))
        .map(|mask| (space.is_unpriced(mask), space.price(mask), mask.count_ones(), mask))
        .collect();
    sets.sort_unstable_by(|one, other| {
        let by_price = one.0.cmp(&other.0).then(one.1.total_cmp(&other.1));
        by_price.then(one.2.cmp(&other.2)).then(one.3.cmp(&other.3))
    });
    sets
}
