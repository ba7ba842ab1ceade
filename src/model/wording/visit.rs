//! What a visit's reading sets say: each by itself, from one to the next, together, and after the repair.

use crate::model::answer::Answer;
use crate::model::answer::visit::{Correction, Kept, SetAnswer, Suspect, Visit};
use crate::model::facts::accuracy::COVERAGE;
use crate::model::facts::air_path::{ElementId, ElementKind};
use crate::model::facts::job::Job;
use crate::model::facts::readings::{CoilState, ReadingSet};
use crate::model::solution::fit::{Fit, FittedDrop};
use crate::model::wording::{capital, takes, tap_word, uncapital};
use crate::units::show::{airflow, airflow_bare, gained_as_shown, pressure_bare, pressure_spread_bare, spread_bare};
use crate::units::{Airflow, UnitSystem};

/// What pressures alone never show.
const NEVER_SHOWN: &str = "Pressures alone never show a dirty wheel, low voltage, or a tap or a table that is wrong throughout: that takes a second reading of the airflow";

/// What is said of a visit whose readings contradict each other.
pub(super) const CANNOT_ALL_BE_TRUE: &str = "The readings of this visit cannot all be true: judge nothing by them before what is named under the readings is read again";

/// What readings are that are no verdict on the system.
const STATE: &str =
    "these readings are a test: judge the system, and start fixes, by readings with every part in its place";

/// What a visit of one set calls what it read, and one of several a set that bears no other name.
const AS_FOUND: &str = "as found";

/// What was found, as a label: "as found", and where a visit has several sets the one that is judged by its name, "Filter out", or "Set 3" where it has none.
pub fn found(job: &Job) -> String {
    match label(job) {
        _ if job.sets.len() < 2 => AS_FOUND.to_owned(),
        Some(name) if name.eq_ignore_ascii_case(AS_FOUND) => AS_FOUND.to_owned(),
        Some(name) => name,
        None => format!("Set {}", job.judged + 1),
    }
}

/// The same within a sentence: "as found", "in \"Filter out\"", "in set 3".
pub fn as_found(job: &Job) -> String {
    let found = found(job);
    if found == AS_FOUND {
        found
    } else if label(job).is_some() {
        format!("in \"{found}\"")
    } else {
        format!("in {}", uncapital(&found))
    }
}

/// The name that somebody gave the set that is judged, or what is different in it; another tap alone is none, for curves go by that.
fn label(job: &Job) -> Option<String> {
    let own = given_name(job, job.judged);
    let differences = Differences::of(job, job.judged);
    let said = if own.is_empty() { capital(&differences.but_for_the_tap().join(", ")) } else { own };
    Some(said).filter(|said| !said.is_empty())
}

fn given_name(job: &Job, set: usize) -> String {
    job.sets.get(set).map(|set| set.name.clone()).unwrap_or_default()
}

/// Name of a set on the screen: its number, and its own name or what is different in it.
pub fn name(job: &Job, set: usize) -> String {
    let own = given_name(job, set);
    let said = if own.is_empty() { capital(&different(job, set).join(", ")) } else { own };
    format!("{} {said}", set + 1).trim_end().to_owned()
}

/// What is different in a set from the one before it: "filter out", "tap 4".
pub fn different(job: &Job, set: usize) -> Vec<String> {
    let Differences { path, tap, state } = Differences::of(job, set);
    path.into_iter().chain(tap).chain(state).collect()
}

/// What is different in a set from the one before it.
#[derive(Default)]
struct Differences {
    /// Parts pulled and put back, and the call.
    path: Vec<String>,
    tap: Option<String>,
    /// Of the coil, and whether the repair lies between.
    state: Vec<String>,
}

impl Differences {
    fn but_for_the_tap(self) -> Vec<String> {
        self.path.into_iter().chain(self.state).collect()
    }

    fn of(job: &Job, set: usize) -> Self {
        let sets = set.checked_sub(1).and_then(|before| Some((job.sets.get(before)?, job.sets.get(set)?)));
        sets.map(|(before, now)| between(job, before, now)).unwrap_or_default()
    }
}

fn between(job: &Job, before: &ReadingSet, now: &ReadingSet) -> Differences {
    let moved = |from: &ReadingSet, to: &ReadingSet, how: &str| -> Vec<String> {
        let new = to.parts_out.iter().filter(|id| !from.parts_out.contains(id));
        new.map(|id| format!("{} {how}", job.path.said(*id))).collect()
    };
    let tap = job.tap_of(now).filter(|tap| Some(*tap) != job.tap_of(before));
    let mut path = moved(before, now, "out");
    path.extend(moved(now, before, "back in"));
    path.extend((now.call != before.call).then(|| now.call.name().to_lowercase()));
    let tap = tap.map(|tap| format!("{} {tap}", tap_word(job)));
    let mut state = Vec::new();
    state.extend((now.coil != before.coil && now.call == before.call).then(|| {
        let state = if now.coil == CoilState::Wet { "wet" } else { "dry" };
        format!("coil {state}")
    }));
    state.extend((now.otherwise != before.otherwise).then(|| {
        let how = if now.otherwise { "something else different" } else { "as before again" };
        how.to_owned()
    }));
    state.extend((now.after_repair && !before.after_repair).then(|| "after the repair".to_owned()));
    Differences { path, tap, state }
}

/// Total external static and airflow of a set, side by side: "0.83 · 1,195"; of one that says what an earlier one says, "as 1"; nothing without a point.
pub fn figures(set: &SetAnswer, units: UnitSystem) -> String {
    match (set.twin, &set.point) {
        (Some(twin), _) => format!("as {}", twin + 1),
        (None, Ok(point)) => {
            format!("{} · {}", pressure_bare(point.at.tesp, units), airflow_bare(point.at.airflow, units))
        }
        (None, Err(_)) => String::new(),
    }
}

/// What changed from the set before to this one; nothing for the first, or where one of the two has no point.
pub fn step(job: &Job, visit: &Visit, set: usize, units: UnitSystem) -> Option<String> {
    let point = |set: usize| visit.sets.get(set).filter(|set| set.twin.is_none())?.point.as_ref().ok();
    let (before, now) = (point(set.checked_sub(1)?)?, point(set)?);
    let mut said = Vec::new();
    if let (Some(from), Some(to)) = (before.sides, now.sides) {
        let side =
            |name: &str, from, to| format!("{name} {} to {}", pressure_bare(from, units), pressure_bare(to, units));
        said.extend([side("return", from.0, to.0), side("supply", from.1, to.1)]);
    }
    said.push(format!(
        "total {} to {} {}",
        pressure_bare(before.at.tesp, units),
        pressure_bare(now.at.tesp, units),
        units.pressure_unit()
    ));
    said.push(format!("airflow {} to {}", airflow_bare(before.at.airflow, units), airflow(now.at.airflow, units)));
    let what = different(job, set).join(", ");
    let pulled = visit.fit.as_ref().filter(|fit| fit.holds()).and_then(|fit| pulled(job, fit, set, units));
    let what = if what.is_empty() { "As the readings before".to_owned() } else { capital(&what) };
    Some(format!("{what}: {}{}", said.join(", "), pulled.unwrap_or_default()))
}

/// What the part takes that this step pulled or put back.
fn pulled(job: &Job, fit: &Fit, set: usize, units: UnitSystem) -> Option<String> {
    let (before, now) = (job.sets.get(set - 1)?, job.sets.get(set)?);
    let is_of_the_fit = !before.after_repair && !now.after_repair;
    let is_moved = |id: ElementId| is_of_the_fit && before.parts_out.contains(&id) != now.parts_out.contains(&id);
    let fitted =
        fit.drops.iter().find(|fitted| matches!(fitted.elements[..], [id] if !fitted.wetting && is_moved(id)))?;
    let of_kind = |id: &ElementId| Some(job.path.element(*id)?.kind);
    let kinds: Vec<ElementKind> = fitted.elements.iter().filter_map(of_kind).collect();
    let (name, takes) = (named(job, fitted), takes(&kinds));
    Some(format!("; the {name} {takes} {} at {}", with_spread(fitted, units), airflow(fit.airflow, units)))
}

/// What the sets say together, in sentences: what each part takes, or what could be wrong, and what was promised.
pub fn together(job: &Job, answer: &Answer, units: UnitSystem) -> Vec<String> {
    let Some(visit) = &answer.visit else {
        return Vec::new();
    };
    let mut said = Vec::new();
    match &visit.fit {
        None => said.push(
            "These readings tell no part from another: pull a part and read again, or read one port more".to_owned(),
        ),
        Some(fit) if fit.holds() => said.push(drops(job, fit, units)),
        Some(_) => {
            said.push(contradiction(job, &visit.suspects));
            said.push(NEVER_SHOWN.to_owned());
        }
    }
    said.extend(footing(job, answer, units));
    for (index, set) in visit.sets.iter().enumerate() {
        said.extend(set.kept.as_ref().map(|kept| promise(job, kept, units)));
        if let Some(twin) = set.twin {
            said.push(format!("{} says what {} says: type what was read", name(job, index), name(job, twin)));
        }
    }
    said
}

/// That sets are compared by the table where an opinion stands in its place for one of them alone.
fn footing(job: &Job, answer: &Answer, units: UnitSystem) -> Option<String> {
    let anchor = job.anchor.filter(|anchor| !anchor.scales)?;
    let opinion = answer.point().filter(|running| running.anchored.is_some_and(|anchored| anchored.is_here()));
    let own = opinion.map(|running| format!("{} by its {}", airflow(running.now.airflow, units), anchor.by.name()));
    let own = own.unwrap_or_else(|| format!("the airflow by its {}", anchor.by.name()));
    Some(format!("Readings are compared by the table; {own} is that of {} alone", name(job, anchor.set)))
}

/// That readings with parts pulled, or of a path that was otherwise, are no verdict on the system.
pub(super) fn a_test(job: &Job, pulled: &[ElementId]) -> String {
    if pulled.is_empty() {
        return format!("Something was different from the readings before, so {STATE}");
    }
    let out: Vec<String> = pulled.iter().map(|id| job.path.said(*id)).collect();
    format!("With the {} out {STATE}", out.join(", "))
}

fn drops(job: &Job, fit: &Fit, units: UnitSystem) -> String {
    let each: Vec<String> = fit
        .drops
        .iter()
        .map(|fitted| {
            let told = with_spread(fitted, units);
            match fitted.elements.len() {
                _ if fitted.wetting => format!("wetting the {} adds {told}", named(job, fitted)),
                0 | 1 => format!("{} {told}", named(job, fitted)),
                _ => format!("{} together {told}", named(job, fitted)),
            }
        })
        .collect();
    let repaired = job.sets.iter().any(|set| set.after_repair);
    let when = if repaired { " before the repair" } else { "" };
    let (flow, unit) = (airflow(fit.airflow, units), units.pressure_unit());
    format!("At {flow} by all readings{when} ({unit}): {}", each.join("; "))
}

/// "0.17 ± 0.01", and "as airflow to the 1.3 ± 0.1" where that is told as well; no smaller than its ± is a figure.
fn with_spread(fitted: &FittedDrop, units: UnitSystem) -> String {
    let law = fitted.exponent.map(|told| {
        let spread = (COVERAGE * told.doubt).max(0.05);
        format!(", as airflow to the {:.1} ± {spread:.1}", told.value)
    });
    let (drop, spread) = (pressure_bare(fitted.drop, units), pressure_spread_bare(fitted.spread, units));
    format!("{drop} ± {spread}{}", law.unwrap_or_default())
}

fn named(job: &Job, fitted: &FittedDrop) -> String {
    let names: Vec<String> = fitted.elements.iter().map(|id| job.path.said(*id)).collect();
    match names.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => names.concat(),
    }
}

fn contradiction(job: &Job, suspects: &[Suspect]) -> String {
    let each: Vec<String> = suspects.iter().map(|suspect| suspicion(job, suspect)).collect();
    match &each[..] {
        [] => "These readings cannot all be true, and no single mistake explains them: read again".to_owned(),
        [one] => format!("These readings cannot all be true; they could be if {one}: read that again"),
        several => format!(
            "These readings cannot all be true; they could be if {}, which cannot be told apart: read those again",
            several.join(", or if ")
        ),
    }
}

fn suspicion(job: &Job, suspect: &Suspect) -> String {
    let set = name(job, suspect.set);
    match &suspect.what {
        Correction::Tap(tap) => format!("{} {tap} ran in readings {set}", tap_word(job)),
        Correction::WasIn(id) => format!("the {} was in its place in readings {set}", job.path.said(*id)),
        Correction::WasOut(id) => format!("the {} was out in readings {set}", job.path.said(*id)),
        Correction::Readings => format!("readings {set} are wrong"),
    }
}

/// What stands beside readings after the repair: the promise they are held against, or why there is none.
pub(super) fn after_repair(job: &Job, answer: &Answer, units: UnitSystem) -> String {
    let set = answer.visit.as_ref().and_then(|visit| visit.sets.get(job.judged));
    set.and_then(|set| set.kept.as_ref()).map_or_else(
        || "Read after the repair, so changes that are on count as done. Nothing was promised to hold this against: that takes readings of the whole path before the repair, in the same call and with the coil as wet or dry, and changes that are on".to_owned(),
        |kept| format!("{}. Changes that are on count as done here", promise(job, kept, units)),
    )
}

fn promise(job: &Job, kept: &Kept, units: UnitSystem) -> String {
    // As the two figures beside it differ.
    let shown = gained_as_shown(kept.promised.airflow, kept.measured, units).abs();
    let way = if kept.off() < Airflow::ZERO { "less" } else { "more" };
    let off = airflow(shown, units);
    let spread = spread_bare(kept.spread, units);
    let verdict = if kept.is_untold() {
        let what = if kept.gain < Airflow::ZERO { "loss" } else { "gain" };
        let gain = airflow(kept.gain.abs(), units);
        format!("{off} {way}, which within ± {spread} fits the promised {what} of {gain} as well as none at all")
    } else if kept.agrees() && airflow_bare(shown, units) == "0" {
        format!("the same within ± {spread}: as promised")
    } else if kept.agrees() {
        format!("{off} {way}, not more than ± {spread}: as promised")
    } else if kept.off() > Airflow::ZERO {
        format!("{off} {way}, beyond ± {spread}: better than promised")
    } else {
        format!(
            "{off} {way}, beyond ± {spread}: not as promised; look for what was done otherwise than the changes say"
        )
    };
    let both = (airflow(kept.measured, units), airflow_bare(kept.promised.airflow, units));
    let (word, ran) = (tap_word(job), &kept.promised_on);
    let other_tap = match &kept.planned {
        Some(planned) => format!(" on {word} {ran}, which ran in the place of {planned}"),
        None if kept.other_tap => format!(" on {word} {ran}"),
        None => String::new(),
    };
    let by_table = if job.anchor.is_some() { ", by the table," } else { "" };
    format!("After the repair{by_table} {} against {} promised{other_tap}: {verdict}", both.0, both.1)
}
