//! What the changes of a job bring, in one sentence.

use crate::model::answer::Answer;
use crate::model::change::kinds::other_machine;
use crate::model::facts::air_path::{Element, ElementId, ElementKind};
use crate::model::facts::change::{Change, ChangeKind};
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::path::parts::flows;
use crate::model::path::parts::guesses::{Guess, Guessed};
use crate::model::path::tesp::Assumption;
use crate::model::search::NearestSet;
use crate::model::solution::gain::Gain;
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::findings::by_airflow;
use crate::model::verdicts::needs::Need;
use crate::model::verdicts::plate::{PlateSide, PlateVerdict};
use crate::model::verdicts::system::{NotRunning, Projection, Running};
use crate::model::verdicts::taps::{InDoubt, Reach, TapAnswer, TapPoint};
use crate::model::wording::{alone, delivered, needs};
use crate::units::show::{self, airflow, airflow_gained, airflow_signed, number, percent, pressure, pressure_bare};
use crate::units::{Airflow, Pressure, UnitSystem};

/// The path with its changes, where at least one of them is put on.
pub fn with_changes<'a>(job: &Job, answer: &'a Answer) -> Option<(&'a Running, &'a Projection)> {
    let running = answer.point()?;
    let after = answer.with_changes()?;
    (after.wish.is_some() || after.counted(job) > 0).then_some((running, after))
}

/// Why nothing stands beside a job's changes while none of them is put on.
pub fn none_told(job: &Job, answer: &Answer) -> &'static str {
    if matches!(answer.why_not(), Some(NotRunning::KeptBack)) {
        "What each of them brings is kept back with the answer."
    } else if job.changes_are_done() {
        "Read after the repair: those that are on count as done."
    } else {
        "The readings will say what each of them brings."
    }
}

/// What all changes together bring on the tap that runs with them, and its ± (95 %).
pub fn gain(after: &Projection) -> Option<(Gain, Airflow)> {
    let point = after.system.runs()?;
    Some((point.gain, point.spread.gain))
}

/// A gain with its sign, as the airflows beside it differ; "0 to +50" where an end of it lies off the table.
pub fn gain_bare(gain: Gain, units: UnitSystem) -> String {
    gain.most.map_or_else(
        || airflow_gained(gain.from, gain.from + gain.least, units),
        |most| format!("{} to {}", airflow_signed(gain.least, units), airflow_signed(most, units)),
    )
}

/// What a set's ± leaves open of it.
pub const fn in_doubt(doubt: InDoubt) -> &'static str {
    match doubt {
        InDoubt::Band => "Within its ± it may miss the band",
        InDoubt::Plate => "Within its ± it may be over the rated maximum",
        InDoubt::Heating => "Within its ± it may miss what its heat needs",
        InDoubt::LostAir => "Within its ± more air may be lost on the way to the rooms than may be",
    }
}

/// What the set that comes nearest to the target still lacks, its changes by their names.
pub fn nearest(job: &Job, near: &NearestSet, word: &str, names: &[String], units: UnitSystem) -> String {
    let names = if names.is_empty() { "no change at all".to_owned() } else { names.join("; ") };
    let tap = format!("{word} {}", near.tap);
    let limits = (&job.limits, units);
    format!(
        "Nearest: {names}; {}",
        needs::less_drop(&tap, (&near.ease, None), needs::Purpose::of(near.is_in_band), false, &[], limits)
    )
}

/// That conditions are on beside a set, by their names, and whether it is an answer only because of them.
pub fn beside_set(conditions: &[String], only_with: bool) -> String {
    let names = conditions.join("; ");
    if only_with {
        format!("It reaches the target only because of what is on beside it: {names}")
    } else {
        format!("Reckoned with what is on beside it: {names}")
    }
}

/// "at most " before every gain of a machine that has a part of which nothing is known; as found the part was there and read.
pub const fn at_most(unknown_part: Option<ElementKind>) -> &'static str {
    if unknown_part.is_some() { "at most " } else { "" }
}

/// What keeps the gain of one change alone from being told exactly: a part that its machine will have and that nothing gives a drop of.
pub fn unknown_alone(job: &Job, change: &Change) -> Option<ElementKind> {
    other_machine::unknown_part(job, change.kind.particulars().machine?)
}

/// "both changes": how many count, as a sentence calls them; of several options the one that they are, by its name.
pub(super) fn how_many(job: &Job, after: &Projection) -> String {
    let options = &job.options;
    if options.count() > 1 {
        return format!("\"{}\"", options.shown.called(options.index()));
    }
    match after.counted(job) {
        1 => "the change".to_owned(),
        2 => "both changes".to_owned(),
        many => format!("{many} changes"),
    }
}

/// What a system with changes is told under: "With 4 changes", "If the path were this easy".
pub(super) fn with_what(job: &Job, after: &Projection) -> String {
    after.wish.map_or_else(|| format!("With {}", how_many(job, after)), |factor| wished(factor).to_owned())
}

/// A path with a factor on every drop that somebody wishes for.
pub const fn wished(factor: f64) -> &'static str {
    if factor > 1.0 { "If the path were this hard" } else { "If the path were this easy" }
}

/// "With both changes 1,350 cfm at 0.59 in. w.c. on tap 4", without its period; nothing when no change is on.
pub fn sentence(job: &Job, answer: &Answer, units: UnitSystem) -> Option<String> {
    let Some((_, after)) = with_changes(job, answer) else {
        return refused(answer, units);
    };
    let what = how_many(job, after);
    let word = word_then(job, after);
    let machine = after.system.blower.other.as_ref().map(|table| format!(" of {}", table.name)).unwrap_or_default();
    let tap = format!("{word} {}{machine}", after.system.tap().unwrap_or_default());
    Some(match (after.system.runs(), after.system.why_not()) {
        (Some(runs), _) => {
            let (tesp, moved) = (
                pressure(runs.crossing.tesp, units),
                format!("{}{}", at_most(after.system.unknown_part), airflow(runs.airflow(), units)),
            );
            let plate = after.system.plate().map(|plate| over_plate(&plate, units)).unwrap_or_default();
            if let Some(bound) = runs.below {
                let bound = airflow(bound, units);
                format!("With {what} below {bound} on {tap}; extrapolated, about {moved} at {tesp}{plate}")
            } else {
                let off = if after.system.published_bound().is_some() { ", extrapolated" } else { "" };
                format!("With {what} {moved} at {tesp} on {tap}{off}{plate}")
            }
        }
        (None, Some(NoCrossing::PastTheEnd { below, .. })) => {
            format!("With {what} below {} on {tap}: the table says no more", airflow(*below, units))
        }
        (None, Some(NoCrossing::SingleRow(_) | NoCrossing::Unusable) | None) => {
            format!("With {what} nothing can be said of {tap}")
        }
    })
}

/// Why nothing of what is on could be put on.
fn refused(answer: &Answer, units: UnitSystem) -> Option<String> {
    let (_, refusal) = answer.with_changes()?.refused.first()?;
    Some(format!("The change cannot be put on: {}", super::uncapital(&refusal.sentence(units))))
}

fn over_plate(plate: &PlateVerdict, units: UnitSystem) -> String {
    let limit = pressure_bare(plate.limit, units);
    match plate.side {
        PlateSide::Over => format!(", over the rated maximum of {limit}"),
        PlateSide::AtLimit => format!(", at the rated maximum of {limit}"),
        PlateSide::Under => String::new(),
    }
}

/// What a tap of the machine with changes is called.
pub fn word_then(job: &Job, after: &Projection) -> &'static str {
    after.system.blower.other.as_ref().map_or_else(|| super::tap_word(job), |table| table.motor.tap_word())
}

/// What stands beside where the system runs with changes, without periods: what it would still take, how sure the gain is, what the rooms get, and what nothing is known of.
pub fn sentences(job: &Job, answer: &Answer, units: UnitSystem) -> Vec<String> {
    let Some((running, after)) = with_changes(job, answer) else {
        return refused(answer, units).into_iter().collect();
    };
    let need = need(job, after, units).into_iter().chain(other_tap(job, after, units));
    let unsure = unsure(running, after, units);
    let counted = || job.changes.iter().filter(|change| after.counts(change));
    let held: Vec<ElementId> = counted().flat_map(|change| change.kind.takes_hold_of(&job.path)).collect();
    let guess = told_guesses(job, running, &held, units).into_iter().next();
    let panel_is_off = counted().any(|change| matches!(change.kind, ChangeKind::PanelOff(_)));
    let shown = panel_is_off.then(|| "A panel off is a fault to show and never to run".to_owned());
    let at_blower = gain(after).map(|(_, spread)| spread);
    let spreads = at_blower.zip(rooms_gain(running, after).map(|(_, spread)| spread));
    let rooms =
        after.system.delivered.as_ref().and_then(|then| {
            delivered::change((&running.delivered(), then), spreads, panel_is_off, (&job.limits, units))
        });
    let unknown = after.system.unknown_part.map(unknown_part);
    let assumed = after.system.assumptions.iter().map(of_new_machine);
    let own = own_target(answer, after, units);
    let asked = counted().flat_map(|change| alone::questions(job, answer, &change.kind, units));
    let test = job.is_test().then(|| super::visit::a_test(job, &job.pulled()));
    test.into_iter()
        .chain(shown)
        .chain(own)
        .chain(need)
        .chain(unsure)
        .chain(asked)
        .chain(guess)
        .chain(rooms)
        .chain(unknown)
        .chain(assumed)
        .collect()
}

/// The lowest other tap that is an answer with the same changes, where the one that runs is none.
fn other_tap(job: &Job, after: &Projection, units: UnitSystem) -> Option<String> {
    let is_answer = |tap: &TapAnswer| tap.reached().is_some_and(TapPoint::is_answer);
    after.system.running().filter(|tap| !is_answer(tap) && slow_blower(job, after).is_none())?;
    let tap = by_airflow(&after.system.taps).into_iter().find(|tap| is_answer(tap))?;
    let point = &tap.reached()?.crossing;
    let (word, tesp) = (word_then(job, after), pressure(point.tesp, units));
    let off = if point.standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" };
    Some(format!(
        "On {word} {} the same changes give {} at {tesp}{off}, in the band",
        tap.name,
        airflow(point.airflow, units)
    ))
}

/// That the gain may be none: what the rooms get, where that is not what the blower moves.
fn unsure(running: &Running, after: &Projection, units: UnitSystem) -> Option<String> {
    let (gain, spread, whose) = match rooms_gain(running, after) {
        Some((gain, spread)) => (gain, spread, " to the rooms"),
        None => gain(after).map(|(gain, spread)| (gain, spread, ""))?,
    };
    if !is_unsure(gain, spread) {
        return None;
    }
    let bare = |airflow: Airflow| number(units.airflow_number(airflow), 0);
    let by = show::airflow(gain.least.abs(), units);
    if by == show::airflow(Airflow::ZERO, units) {
        return Some(format!("Neither a gain nor a loss{whose} can be told: 0 ± {}", bare(spread)));
    }
    let what = if gain.least < Airflow::ZERO { "loss" } else { "gain" };
    Some(format!("The {what} of {by}{whose} is not above its uncertainty of ± {}", bare(spread)))
}

/// True for a gain that may be none within its ±.
pub fn is_unsure(gain: Gain, spread: Airflow) -> bool {
    gain.most.is_none() && gain.least.abs() < spread
}

/// What the rooms gain with all changes, and its ± (95 %), where that is another figure than the blower's; nothing where that is a range.
pub fn rooms_gain(running: &Running, after: &Projection) -> Option<(Gain, Airflow)> {
    let spread = after.rooms_spread.filter(|_| gain(after).is_some_and(|(gain, _)| gain.most.is_none()))?;
    Some((Gain::of(running.delivered().to_rooms, after.system.delivered?.to_rooms), spread.gain))
}

/// That another machine is held against a target of its own.
fn own_target(answer: &Answer, after: &Projection, units: UnitSystem) -> Option<String> {
    let (own, jobs) = (after.system.blower.target?, answer.blower().target?);
    let is_own = after.system.blower.other.is_some() && (own.standard - jobs.standard).abs() > Airflow::from_cfm(0.5);
    is_own.then(|| format!("The new machine is held against a target of its own, {}", airflow(own.actual, units)))
}

/// The guesses that what a change brings hangs on, and how to be rid of each.
pub fn guesses(job: &Job, running: &Running, change: &Change, units: UnitSystem) -> Vec<String> {
    told_guesses(job, running, &change.kind.takes_hold_of(&job.path), units)
}

/// The same of elements that are held, the one that takes most first.
fn told_guesses(job: &Job, running: &Running, held: &[ElementId], units: UnitSystem) -> Vec<String> {
    let is_held = |element: &Element| held.iter().any(|id| element.within(*id).is_some());
    let drop = |id: &ElementId| {
        let element = job.path.element(*id)?;
        Some((element, flows::at_element(&running.system.parts, *id, running.now.airflow)?.1))
    };
    // Ways side by side are known by what stands in the first.
    let name = |element: &Element| {
        let first = element.ways.first().and_then(|way| way.elements.first()).unwrap_or(element);
        super::uncapital(first.name())
    };
    let sentence = |guessed: &Guessed| match guessed.guess {
        Guess::Share(id) => {
            let (element, takes) = drop(&id).filter(|(element, _)| is_held(element))?;
            let among: Vec<(&Element, Pressure)> = guessed.among.iter().filter_map(drop).collect();
            let names: Vec<String> = among.iter().map(|(element, _)| name(element)).collect();
            let whole = among.iter().map(|(_, drop)| *drop).sum();
            let verb = super::takes(&[element.kind]);
            let it = if element.kind == ElementKind::Registers { "them" } else { "it" };
            let told = format!(
                "A guess: the {} {verb} {} of the {} of {}; read across {it} first",
                name(element),
                pressure_bare(takes, units),
                pressure(whole, units),
                listed(&names)
            );
            Some((takes.in_wc(), told))
        }
        Guess::Flow(id, way) => {
            let group = job.path.element(id)?;
            let elements = &group.ways.get(way)?.elements;
            let first = elements.iter().find(|element| is_held(element))?;
            let air = flows::at_element(&running.system.parts, first.id, running.now.airflow)?.0;
            let told = format!(
                "A guess: {} of the air takes the way of the {}; give each way's share",
                percent(air / running.now.airflow),
                name(first)
            );
            Some((0.0, told))
        }
    };
    let mut told: Vec<(f64, String)> = running.guesses.iter().filter_map(sentence).collect();
    told.sort_by(|one, other| other.0.total_cmp(&one.0));
    told.into_iter().map(|(_, sentence)| sentence).collect()
}

/// "a, b and c".
pub(super) fn listed(names: &[String]) -> String {
    match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((only, _)) => only.clone(),
        None => String::new(),
    }
}

/// What the tap that runs with the changes would still need for the target; nothing where it needs nothing or nothing can be said.
///
/// "Tap 4 needs 0.08 in. w.c. less drop at 1,260 cfm to come into the band, 11 % of the path, and 0.31 for the full target".
pub fn need(job: &Job, after: &Projection, units: UnitSystem) -> Option<String> {
    if let Some(slow) = slow_blower(job, after) {
        return Some(slow);
    }
    let tap = after.system.running()?;
    let target = after.system.blower.target?;
    let named = format!("{} {}", word_then(job, after), tap.name);
    if let Some(barred) = tap.reached().and_then(|point| point.barred.as_ref()) {
        return Some(super::barred(&named, barred.as_deref()));
    }
    let reach = tap.reached().and_then(|point| point.reach);
    match (tap.into_band?, tap.need?) {
        (Need::Ease(band), full) => {
            let at_least = tap.reached().is_some_and(|point| point.bound.less);
            let blamed = job.changes.iter().filter(|change| after.blamed.contains(&change.id));
            let blamed: Vec<String> = blamed.map(|change| change.kind.title(job)).collect();
            Some(super::capital(&needs::less_drop(
                &named,
                (&band, full.ease()),
                needs::Purpose::of(reach == Some(Reach::InBand)),
                at_least,
                &blamed,
                (&job.limits, units),
            )))
        }
        (Need::NeverEnough { most }, _) => Some(format!(
            "{} cannot reach {}: {} is the most that it moves",
            super::capital(&named),
            airflow(target.low, units),
            airflow(most, units)
        )),
        (Need::TooStrong { least }, _) => Some(super::capital(&needs::too_strong(&named, least, units))),
        (Need::Barred { .. }, _) => {
            Some(format!("{} is not allowed where it would land in the band", super::capital(&named)))
        }
        (Need::None { .. }, _) if reach == Some(Reach::TooMuch) => {
            let end = airflow(target.high, units);
            let shown = after.system.runs().map(|point| airflow(point.airflow(), units));
            let by = if shown.as_ref() == Some(&end) { "just over" } else { "over" };
            Some(format!("That is {by} the target's band, which ends at {end}"))
        }
        (Need::None { .. }, Need::Ease(full)) if reach == Some(Reach::InBand) => Some(needs::full_target(&full, units)),
        (Need::None { .. } | Need::Unknown, _) => None,
    }
}

/// Where to look first for a blower that moves less than its table; nothing where none is on.
fn slow_blower(job: &Job, after: &Projection) -> Option<String> {
    let counted = job.changes.iter().filter(|change| after.counts(change));
    let slower = counted.filter_map(|change| change.kind.particulars().slower);
    let left: f64 = slower.product();
    let less = percent(1.0 - left);
    (left < 1.0).then(|| {
        format!(
            "The blower moves {less} less than its table says: look at its wheel, belt, voltage and tap before any duct"
        )
    })
}

/// What nothing gives a drop of in another machine, and which way that errs.
pub fn unknown_part(kind: ElementKind) -> String {
    format!(
        "No drop is known of the new machine's {}: static is at least what is shown, airflow at most",
        kind.name().to_lowercase()
    )
}

/// What had to be taken for granted of another machine.
pub fn of_new_machine(assumption: &Assumption) -> String {
    format!("Of the new machine: {}", super::uncapital(&super::assumed(assumption)))
}

/// Why what changes bring by themselves is not what they bring together.
pub const DO_NOT_ADD_UP: &str = "Worths do not add up: each change meets the air and the drop that the others leave";

/// A price of the list in another currency than the job's, which is left out.
pub fn price_elsewhere(price: f64, of_list: &str, of_job: &str) -> String {
    format!(
        "The price list has {} for this, and this job counts in {of_job}: no price is put on",
        show::money(price, of_list)
    )
}
