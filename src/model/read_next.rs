//! What to read next: of all the readings of the path that are not there yet, the one after which what is in doubt most is known best.
//!
//! Each reading is tried with the figures that the path as it is known would give, and everything is worked out again with it; what is left of the ± then is what it is worth.

use crate::model::answer::Answer;
use crate::model::facts::air_path::{Element, ElementId, ElementKind, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::change::{Change, ChangeId, ChangeKind, LessByHand, Switch};
use crate::model::facts::job::Job;
use crate::model::facts::limits::{MOST_ELEMENTS, MOST_SETS};
use crate::model::facts::readings::{ReadAt, Reading, ReadingSet};
use crate::model::path::parts::segments::segments;
use crate::model::path::parts::{self, Part, flows};
use crate::model::path::tesp::ReadDifference;
use crate::model::solution::operation;
use crate::model::solution::uncertainty::Doubt;
use crate::model::solution::worth::held_elements;
use crate::model::verdicts::opinions;
use crate::units::{Airflow, Pressure};

/// What must be left of a ± at most for a reading to be worth its hole or its trouble (common practice, no source).
const WORTH_IT: f64 = 0.8;
/// ± of a drop under which nobody's decision hangs on it (common practice, no source).
const WORTH_KNOWING: Pressure = Pressure::from_in_wc(0.03);
/// Readings that leave no more than so many times the least ± are as good as that; the one that is taken with least trouble is proposed.
const AS_GOOD: f64 = 1.1;
/// Most readings that are tried: more elements than that in one stretch are no house's.
const MOST_TRIED: usize = 16;
/// Part of its drop that a change takes off in order that an element is told by itself; it stays off.
const ANY_PART: f64 = 0.5;

/// A reading that is not there yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NextReading {
    /// The same again with a part pulled: no new hole.
    Without(ElementId),
    /// Across a part.
    Across(ElementId),
    /// At a port behind an element.
    PortAfter(ElementId),
}

/// What is in doubt most, and what is left of that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubted {
    /// What the changes that are on bring, on the tap that runs with them; both ±, 95 %.
    Gain {
        /// As it is.
        now: Airflow,
        /// With the reading.
        then: Airflow,
    },
    /// What an element takes; both ±, 95 %.
    Drop {
        /// The element.
        element: ElementId,
        /// What it takes, as far as that is known.
        drop: Pressure,
        /// As it is.
        now: Pressure,
        /// With the reading.
        then: Pressure,
    },
}

impl Doubted {
    /// What is left of the ±, as a fraction.
    fn left(&self) -> f64 {
        match self {
            Self::Gain { now, then } => *then / *now,
            Self::Drop { now, then, .. } => *then / *now,
        }
    }
}

/// The reading that is worth most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadNext {
    /// Where.
    pub reading: NextReading,
    /// What it is worth.
    pub doubted: Doubted,
}

/// The second opinion on the airflow that is worth most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpinionNext {
    /// By what.
    pub kind: OpinionKind,
    /// ± of the airflow as it is, by the table and the opinions that there are, 95 %.
    pub now: Airflow,
    /// ± of it by all of them and this one, where it agrees.
    pub then: Airflow,
}

/// What to read next: for how much air there is, and for where it is lost and what the changes bring.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Proposals {
    /// How much air.
    pub air: Option<OpinionNext>,
    /// Where it is lost, and what the changes bring.
    pub path: Option<ReadNext>,
}

impl Proposals {
    /// Both.
    pub fn of(job: &Job, answer: &Answer) -> Self {
        Self { air: of_air(job, answer), path: of_path(job, answer) }
    }
}

/// What must be left of the ± of an airflow at most for a second opinion to be worth its trouble: it needs no hole, and finds mistakes besides (common practice, no source).
const WORTH_HEARING: f64 = 0.9;
/// Opinions that a person may go and get: watts rest on the same table, and the return's grilles tell no more than the supply's.
const WORTH_ASKING: [OpinionKind; 3] = [OpinionKind::Heat, OpinionKind::SupplySum, OpinionKind::Plate];
/// Part of a burner's heat that the air gets, while only the ± of an opinion is asked for.
const ANY_EFFICIENCY: f64 = 0.8;

/// The second opinion that is worth most; nothing where those that there are contradict the table or each other, which comes first, or where none is worth its trouble.
///
/// Means that are independent of each other and agree are weighed by their ±: 1/u² is the sum of each one's 1/u².
pub fn of_air(job: &Job, answer: &Answer) -> Option<OpinionNext> {
    let (running, table) = (answer.point()?, job.machine.as_ref()?);
    let is_settled = !job.is_test() && answer.opinions.iter().all(|opinion| opinion.agrees);
    let runs = running.system.runs().filter(|_| is_settled)?;
    let precision = |spread: Airflow| spread.cfm().powi(-2);
    let of_kind = |kind: &OpinionKind| *kind != OpinionKind::Watts;
    let others =
        answer.opinions.iter().filter(|opinion| of_kind(&opinion.kind)).map(|opinion| precision(opinion.spread));
    let known = precision(running.system.spreads.now) + others.sum::<f64>();
    let spread = |precision: f64| Airflow::from_cfm(precision.sqrt().recip());
    let open = WORTH_ASKING.into_iter().filter(|kind| answer.opinions.iter().all(|opinion| opinion.kind != *kind));
    let of = |kind: OpinionKind| {
        let mut then = job.clone();
        let set = then.set_mut()?;
        match kind {
            OpinionKind::Heat => {
                let stage = table.heat_stage(set.call)?;
                set.heat.rise = Some(runs.rise_of(set.call)?.rise);
                set.heat.efficiency = table.kind.burns().then_some(ANY_EFFICIENCY);
                set.heat.input = Some(stage.output / set.heat.efficiency.unwrap_or(1.0));
            }
            OpinionKind::SupplySum => set.airflow.supply_grilles = vec![running.delivered().to_rooms],
            OpinionKind::Plate => set.airflow.plate.airflow = Some(running.now.airflow),
            OpinionKind::ReturnSum | OpinionKind::Watts => return None,
        }
        let opinion = opinions::one(&then, table, running, kind)?;
        Some(OpinionNext { kind, now: spread(known), then: spread(known + precision(opinion.spread)) })
    };
    let best = open.filter_map(of).min_by(|one, other| one.then.cfm().total_cmp(&other.then.cfm()));
    best.filter(|best| best.then <= best.now * WORTH_HEARING)
}

/// The reading of the path that is worth most; nothing where none is worth its trouble, where nothing runs, while parts are out for a test, or where a second opinion contradicts the table, which comes first.
pub fn of_path(job: &Job, answer: &Answer) -> Option<ReadNext> {
    let is_settled = answer.opinions.iter().all(|opinion| opinion.agrees);
    if job.is_test() || !is_settled || job.path.all().len() >= MOST_ELEMENTS {
        return None;
    }
    let lumps = lumps(job, answer)?;
    let watched = watching(job, &lumps.concat());
    let known = Answer::of(&watched);
    let (in_doubt, lump) = if let Some(spread) = gain_spread(job, answer) {
        (InDoubt::Gain(spread), held_lump(job, answer, &lumps)?)
    } else {
        let drops = drops(&watched, &known, &lumps.concat());
        let worth_knowing = drops.into_iter().filter(|(.., spread)| *spread >= WORTH_KNOWING);
        let (most, ..) = worth_knowing.max_by(|one, other| one.2.in_wc().total_cmp(&other.2.in_wc()))?;
        (InDoubt::Drop(most), lumps.iter().find(|lump| lump.contains(&most))?)
    };
    let tried = candidates(job, &known, lump).into_iter().take(MOST_TRIED).filter_map(|(reading, then)| {
        let doubted = in_doubt.doubted(&watched, &known, &then)?;
        Some(ReadNext { reading, doubted })
    });
    let tried: Vec<ReadNext> = tried.collect();
    let least = tried.iter().map(|next| next.doubted.left()).fold(f64::INFINITY, f64::min);
    let is_good = |next: &ReadNext| next.doubted.left() <= least * AS_GOOD && next.doubted.left() <= WORTH_IT;
    tried.into_iter().find(is_good)
}

/// What is in doubt most, as it is.
enum InDoubt {
    Gain(Airflow),
    Drop(ElementId),
}

impl InDoubt {
    /// The same with another reading.
    fn doubted(&self, watched: &Job, known: &Answer, then: &Job) -> Option<Doubted> {
        match self {
            Self::Gain(now) => {
                let then = gain_spread(then, &Answer::of(then))?;
                Some(Doubted::Gain { now: *now, then })
            }
            Self::Drop(element) => {
                let of = |job: &Job, answer: &Answer| drops(job, answer, &[*element]).first().copied();
                let (_, drop, now) = of(watched, known)?;
                let then = watching(then, &[*element]);
                let (.., then) = of(&then, &Answer::of(&then))?;
                Some(Doubted::Drop { element: *element, drop, now, then })
            }
        }
    }
}

/// ± of what the changes that are on bring, where some are and it is not nought.
fn gain_spread(job: &Job, answer: &Answer) -> Option<Airflow> {
    let after = answer.with_changes().filter(|after| after.counted(job) > 0)?;
    let spread = after.system.runs()?.spread.gain;
    (spread > Airflow::ZERO).then_some(spread)
}

/// Elements of the chain that nothing tells from their neighbours, each with these; nothing where there are none.
fn lumps(job: &Job, answer: &Answer) -> Option<Vec<Vec<ElementId>>> {
    let (inputs, operation) = answer.solved(job)?;
    let at = inputs.at(operation.now.airflow, operation.now.tesp);
    let all = segments(job, inputs.table, &at).into_iter().map(|lump| lump.elements);
    let lumps: Vec<Vec<ElementId>> = all.filter(|lump| lump.len() > 1).collect();
    (!lumps.is_empty()).then_some(lumps)
}

/// The one that a share is guessed in which the changes that are on take hold of.
fn held_lump<'l>(job: &Job, answer: &Answer, lumps: &'l [Vec<ElementId>]) -> Option<&'l Vec<ElementId>> {
    let guesses = &answer.point()?.guesses;
    let on = job.changes.iter().filter(|change| change.is_on());
    let held: Vec<ElementId> = on.flat_map(|change| change.kind.takes_hold_of(&job.path)).collect();
    let is_guessed = |id: &ElementId| held.contains(id) && guesses.iter().any(|guess| guess.among.contains(id));
    lumps.iter().find(|lump| lump.iter().any(is_guessed))
}

/// The job with a change on each of these elements that stays off: a change takes hold of an element, and so it is a part of its own.
fn watching(job: &Job, elements: &[ElementId]) -> Job {
    let mut job = job.clone();
    let first = job.next_change().0;
    let watch = |(element, number): (&ElementId, u32)| Change {
        id: ChangeId(number),
        kind: ChangeKind::LessByHand(LessByHand { element: *element, fraction: ANY_PART }),
        switch: Switch::Off,
        price: None,
        labour: None,
        note: String::new(),
    };
    job.changes.extend(elements.iter().zip(first..).map(watch));
    job
}

/// What elements take, each with its ± (95 %), as far as they are parts of their own.
fn drops(job: &Job, answer: &Answer, elements: &[ElementId]) -> Vec<(ElementId, Pressure, Pressure)> {
    let Some((mut inputs, operation)) = answer.solved(job) else {
        return Vec::new();
    };
    let held = held_elements(job);
    inputs.split = &held;
    let doubt = Doubt::of(&inputs, &operation);
    let of = |id: &ElementId| doubt.of_drop(&operation, *id).map(|(drop, spread)| (*id, drop, spread));
    elements.iter().filter_map(of).collect()
}

/// Every reading that could be taken, the ones that are least trouble first, and the job with it.
fn candidates(job: &Job, known: &Answer, open: &[ElementId]) -> Vec<(NextReading, Job)> {
    let Some(running) = known.point() else {
        return Vec::new();
    };
    let (parts, airflow) = (&running.system.parts, running.now.airflow);
    let of_chain = || job.path.elements.iter().filter(|element| open.contains(&element.id));
    let pulled =
        of_chain().filter_map(|element| Some((NextReading::Without(element.id), without(job, known, element)?)));
    let across = of_chain().filter(|element| is_read_across(element.kind)).filter_map(|element| {
        let (_, drop) = flows::at_element(parts, element.id, airflow)?;
        Some((NextReading::Across(element.id), with_reading(job, ReadAt::Across(element.id), drop)))
    });
    let ports = of_chain().filter_map(|element| {
        let there = at_port(job, parts, element.id, airflow)?;
        let mut then = job.clone();
        let standing = then.path.ports.iter().find(|port| port.after == element.id).map(|port| port.id);
        let port = standing.or_else(|| then.path.add_port(element.id).ok())?;
        let is_read = job.set().at(ReadAt::Port(port)).is_some();
        (!is_read).then(|| (NextReading::PortAfter(element.id), with_reading(&then, ReadAt::Port(port), there)))
    });
    pulled.chain(across).chain(ports).collect()
}

/// Parts across which one reads: what stands in a rack or a case of its own.
const fn is_read_across(kind: ElementKind) -> bool {
    match kind {
        ElementKind::Filter
        | ElementKind::Coil
        | ElementKind::Heater
        | ElementKind::AirCleaner
        | ElementKind::Humidifier
        | ElementKind::Damper => true,
        ElementKind::Louvre
        | ElementKind::ReturnGrille
        | ElementKind::ReturnDuct
        | ElementKind::Blower
        | ElementKind::HeatExchanger
        | ElementKind::SupplyDuct
        | ElementKind::Registers
        | ElementKind::Leak
        | ElementKind::Bypass
        | ElementKind::SideBySide => false,
    }
}

fn with_reading(job: &Job, at: ReadAt, value: Pressure) -> Job {
    let mut then = job.clone();
    if let Some(set) = then.set_mut() {
        put(set, at, value);
    }
    then
}

fn put(set: &mut ReadingSet, at: ReadAt, value: Pressure) {
    set.readings.retain(|reading| reading.at != at);
    set.readings.push(Reading { at, looks: vec![value] });
}

/// Static against the rooms behind an element of the chain; nothing where a drop on the way there is not known by itself.
fn at_port(job: &Job, parts: &[Part], after: ElementId, airflow: Airflow) -> Option<Pressure> {
    let (at, blower) = (job.path.index_of(after)?, job.path.blower()?);
    let drop = |element: &Element| flows::at_element(parts, element.id, airflow).map(|(_, drop)| drop);
    let sum = |elements: &[Element]| elements.iter().map(drop).sum::<Option<Pressure>>();
    if at < blower { sum(&job.path.elements[..=at]).map(|before| -before) } else { sum(&job.path.elements[at + 1..]) }
}

/// The job with one set more, in which an element is out; nothing for what is not pulled, or where its readings cannot be told.
fn without(job: &Job, known: &Answer, element: &Element) -> Option<Job> {
    let (inputs, now) = known.solved(job).filter(|_| element.kind.is_pulled() && job.sets.len() < MOST_SETS)?;
    let mut left = now.parts.clone();
    left.retain(|part| !part.is(element.id));
    let load = parts::load_of(&left, &inputs.sum.corrections, inputs.entry_ratio());
    let point = operation::tap_crossing(inputs.shapes.get(inputs.in_use)?, &load, Some(now.now.entry)).ok()?;
    let across = known.point()?.across(point.airflow, point.tesp);
    let before = flows::before_blower(&left, point.airflow);
    let mut set = ReadingSet { name: String::new(), ..job.set().clone() };
    set.parts_out.push(element.id);
    // What else was read belongs to the path with the part in it.
    set.readings.clear();
    match inputs.sum.read {
        ReadDifference::Ports { .. } => {
            put(&mut set, ReadAt::Port(RETURN_PORT), -before);
            put(&mut set, ReadAt::Port(SUPPLY_PORT), across - before);
        }
        ReadDifference::Total(_) => put(&mut set, ReadAt::Total, across),
    }
    let mut then = job.clone();
    then.sets.push(set);
    Some(then)
}
