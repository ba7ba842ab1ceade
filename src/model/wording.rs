//! Findings and verdicts in a practitioner's words, in the units shown.

pub mod alone;
mod assumptions;
pub mod causes;
pub mod cautions;
pub mod changes;
pub mod commissioning;
pub mod delivered;
mod draws;
pub mod ducts;
pub mod field_sheet;
pub mod figures;
pub mod headline;
pub mod heat;
mod needs;
pub mod opinions;
pub mod options;
pub mod paper;
pub mod prices;
pub mod problems;
pub mod read_next;
mod sides;
pub mod table_differences;
pub mod tables;
mod thin_air;
pub mod visit;
mod wanted;

pub use assumptions::assumed;

use crate::model::answer::Answer;
use crate::model::facts::air_path::{AirPath, Element, ElementKind};
use crate::model::facts::blower::{Call, CoilInTest, MotorFamily};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Oddity, Problem};
use crate::model::facts::readings::CoilState;
use crate::model::facts::standing::{CurveStanding, PathStanding};
use crate::model::facts::target::{Target, TargetBand};
use crate::model::path::tesp::NotRead;
use crate::model::verdicts::findings::{self, Finding, NoTap, StepDoubt};
use crate::model::verdicts::plate::{Deciding, PlateSide, PlateVerdict};
use crate::model::verdicts::system::{NotRunning, Running};
use crate::model::verdicts::taps::{LeastSide, Reach, RiseSide};
use crate::units::show::{
    airflow, airflow_bare, airflow_exact, number, percent, pressure, pressure_bare, rise, rise_bare,
};
use crate::units::{Airflow, Pressure, UnitSystem};

/// What stands over the chart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Where it runs, against target and plate; or what to do first.
    pub headline: String,
    /// What takes the static and what to look at next.
    pub detail: String,
}

/// Puts an answer into one or two sentences, always true.
pub fn verdict(job: &Job, answer: &Answer, units: UnitSystem) -> Verdict {
    match &answer.found {
        Ok(running) => Verdict {
            headline: headline::headline(job, answer, running, units),
            detail: detail(job, answer, running, units),
        },
        Err(idle) => first_step(job, answer, &idle.why, units),
    }
}

/// A target's figure as it was typed: an airflow to the digit, tons times airflow a ton at standard air; wherever that is another figure in the air that is there, that one with standard air beside it.
pub fn target(target: &TargetBand, units: UnitSystem) -> String {
    match target.from {
        Target::Airflow(typed) => airflow_exact(typed, units),
        Target::HeatRise { .. } => airflow_bare(target.actual, units),
        Target::PerTon { .. } => {
            let (here, standard) = (airflow_bare(target.actual, units), airflow_bare(target.standard, units));
            if here == standard { here } else { format!("{here} ({standard} at standard air)") }
        }
    }
}

/// The word for a column of the job's table: tap or setting.
pub fn tap_word(job: &Job) -> &'static str {
    job.machine.as_ref().map_or("tap", |table| table.motor.tap_word())
}

/// A sentence with its period, or its question mark; units that end in a point need no second one.
pub fn ended(sentence: &str) -> String {
    if sentence.ends_with(['.', '?']) { sentence.to_owned() } else { format!("{sentence}.") }
}

/// Sentences under the headline.
const MOST_SENTENCES: usize = 3;

fn detail(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> String {
    let with_changes = changes::sentences(job, answer, units);
    let mut sentences = if changes::with_changes(job, answer).is_some() {
        with_changes
    } else {
        let mut said: Vec<String> = with_changes.into_iter().chain(of_the_path(job, answer, running, units)).collect();
        said.extend(worth_a_look(job, answer, running, units));
        said.truncate(MOST_SENTENCES);
        said
    };
    if running.standing.path == PathStanding::Assumed {
        let assumed = || "Part of this is assumed; the findings tell which.".to_owned();
        sentences.push(what_is_not_known(running).unwrap_or_else(assumed));
    }
    let sentences: Vec<String> = sentences.iter().map(|sentence| ended(sentence)).collect();
    sentences.join(" ")
}

/// What is said of the path as found before its findings.
fn of_the_path(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> Vec<String> {
    let rooms = || delivered::sentence(&running.delivered(), &job.limits, units);
    let is_lost = running.delivered().is_lost(&job.limits);
    let is_first = |finding: &&Finding| {
        matches!(finding, Finding::CannotAllBeTrue | Finding::Pulled(_) | Finding::LittleStatic { .. })
            || matches!(finding, Finding::Opinion(opinion) if !opinion.agrees)
    };
    let first = answer.findings.iter().filter(is_first).map(|finding| sentence(job, finding, units));
    let said = [
        is_lost.then(rooms).flatten(),
        heat::of_rise(job, running),
        no_target(job, running),
        each_ton(running, units),
        most_of_it(running),
        (!is_lost).then(rooms).flatten(),
    ];
    first.chain(said.into_iter().flatten()).collect()
}

/// The same with the part that somebody must still measure; that something is assumed need not be said where every finding stands.
fn beside_findings(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> Vec<String> {
    of_the_path(job, answer, running, units).into_iter().chain(what_is_not_known(running)).collect()
}

/// That the call has no target of its own, where others have; heating is then held to its rise.
fn no_target(job: &Job, running: &Running) -> Option<String> {
    let blower = &running.system.blower;
    let others_have = job.target.is_some() || !job.call_targets.is_empty();
    let is_held =
        running.system.runs().and_then(|point| point.rise_of(blower.call)).is_some_and(|rise| rise.side.is_some());
    (blower.target.is_none() && others_have && !is_held).then(|| no_target_of(blower.call))
}

/// "No target is given for cooling, low".
pub fn no_target_of(call: Call) -> String {
    format!("No target is given for {}", call.name().to_lowercase())
}

/// Airflow a ton beside a target that is not one.
fn each_ton(running: &Running, units: UnitSystem) -> Option<String> {
    let system = &running.system;
    let of_tons = system.blower.target.is_some_and(|target| target.per_ton().is_some());
    let point = system.runs().filter(|_| !of_tons && system.blower.call == Call::CoolingHigh)?;
    let each = point.per_ton.filter(|_| point.below.is_none())?;
    let told = format!("{} {}", number(units.airflow_number(each), 0), units.airflow_unit());
    Some(format!("That is {}", headline::per_ton((&told, each), system.blower.air.density, units)))
}

/// The side that takes most of the static.
fn most_of_it(running: &Running) -> Option<String> {
    let (back, out) = running.return_side.zip(running.supply_side)?;
    let (side, most) = if back >= out { ("return", back) } else { ("supply", out) };
    let share = most / running.now.tesp;
    (share <= 1.0).then(|| format!("The {side} side takes {} of the total", percent(share)))
}

/// What else a practitioner would say of the path as found.
fn worth_a_look(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> Vec<String> {
    let reaches_now = findings::reach_now(&running.system) == Some(Reach::InBand);
    let is_wanted = |finding: &&Finding| {
        let is_a_step = matches!(finding, Finding::TapsThatReach { .. } | Finding::NextTap { .. });
        let is_wrong = matches!(
            finding,
            Finding::Barred { .. } | Finding::TooMuchAir { .. } | Finding::NoTapReaches(_) | Finding::UnderPlate { .. }
        );
        is_wrong || is_a_step && !reaches_now
    };
    answer.findings.iter().filter(is_wanted).map(|finding| sentence(job, finding, units)).collect()
}

/// A part that somebody must still measure is named at once.
fn what_is_not_known(running: &Running) -> Option<String> {
    running.sum.unknown_part().filter(|_| running.standing.path == PathStanding::Assumed).map(|kind| {
        format!(
            "No drop is known of the {} between port and machine: give its data or read across it.",
            kind.name().to_lowercase()
        )
    })
}

fn first_step(job: &Job, answer: &Answer, reason: &NotRunning, units: UnitSystem) -> Verdict {
    let word = tap_word(job);
    let (headline, detail) = match reason {
        NotRunning::NoMachine => (
            "Choose the blower, or type its table from the door panel.".to_owned(),
            "Then two pressures and the tap in use give the airflow.".to_owned(),
        ),
        NotRunning::NoTap => (format!("Choose the {word} that ran during the readings."), String::new()),
        NotRunning::NoSuchTap(_) | NotRunning::Unsound => {
            ("Something typed cannot be right.".to_owned(), first_message(job, answer, units))
        }
        NotRunning::NotRead(NotRead::Nothing) => (
            "Type the static before and after the blower, or the total.".to_owned(),
            "Panels on, filter in, registers open; the return reads below the rooms, the supply above them.".to_owned(),
        ),
        NotRunning::NotRead(NotRead::Before) => ("Now the static before the blower.".to_owned(), String::new()),
        NotRunning::NotRead(NotRead::After) => ("Now the static after the blower.".to_owned(), String::new()),
        NotRunning::SignInDoubt => ("Check a sign first.".to_owned(), sign_message(answer, units)),
        NotRunning::NoRise(tesp) if *tesp > Pressure::ZERO => (
            "The readings and the parts' data do not go together.".to_owned(),
            "The drops by data of the parts between the ports come to more than the reading; check them and the ports."
                .to_owned(),
        ),
        NotRunning::NoRise(tesp) => (
            ended(&format!("No pressure rise across the blower: {} in total", pressure(*tesp, units))),
            "The hoses are swapped, or the blower does not run.".to_owned(),
        ),
        NotRunning::PastTheEnd { below, tesp, entry, end, .. } => (
            format!(
                "Below {} on {word} {}: that is all the table can say.",
                airflow(*below, units),
                job.tap_in_use().unwrap_or_default()
            ),
            past_the_end(job, answer, (*tesp, *entry, *end), units),
        ),
        NotRunning::SingleRow(row) => (
            ended(&format!(
                "This {word} has one row only, {} at {}",
                airflow(row.airflow, units),
                pressure(row.esp, units)
            )),
            format!(
                "It says nothing at other pressures; within ±{} of its row it can be used.",
                pressure(crate::model::laws::tap_curve::SINGLE_ROW_REACH, units)
            ),
        ),
        NotRunning::Shares(why) => ("The shares of a stretch cannot be used.".to_owned(), ended(&why.sentence(units))),
        NotRunning::KeptBack => (
            "What does it move, and what takes the static?".to_owned(),
            "The answer is kept back until it is shown.".to_owned(),
        ),
        NotRunning::Unusable => (
            format!("The table of this {word} cannot be used yet."),
            tables::remarks(job, &answer.table_problems, units)
                .next()
                .map(|(_, said)| ended(&said))
                .unwrap_or_default(),
        ),
    };
    Verdict { headline, detail }
}

fn past_the_end(
    job: &Job,
    answer: &Answer,
    (tesp, entry, end): (Pressure, Pressure, Pressure),
    units: UnitSystem,
) -> String {
    let total = pressure_bare(tesp, units);
    let figure = if pressure_bare(entry, units) == total {
        format!("{} in total", pressure(tesp, units))
    } else {
        format!("{total} in total enters the table at {}, which", pressure(entry, units))
    };
    let cause = "look for a slipped decimal point, a shut damper, a blocked filter or coil.";
    let all_the_same = answer
        .findings
        .iter()
        .take(MOST_SENTENCES)
        .map(|finding| format!(" {}", ended(&sentence(job, finding, units))));
    format!("{figure} lies past the curve's end, {}: {cause}{}", pressure(end, units), all_the_same.collect::<String>())
}

/// The question about a sign.
fn sign_message(answer: &Answer, units: UnitSystem) -> String {
    let asks = answer.problems.iter().find(|problem| matches!(problem.what, Oddity::UnusualSign(..)));
    asks.map(|problem| ended(&problems::sentence(&problem.what, units))).unwrap_or_default()
}

/// The gravest remark on what was typed, else on the table.
fn first_message(job: &Job, answer: &Answer, units: UnitSystem) -> String {
    let said = |problem: &Problem| (problem.severity, problems::sentence(&problem.what, units));
    let table = tables::remarks(job, &answer.table_problems, units).map(|(problem, said)| (problem.severity, said));
    let gravest = table.chain(answer.problems.iter().map(said)).max_by_key(|(severity, _)| *severity);
    gravest.map(|(_, message)| ended(&message)).unwrap_or_default()
}

/// One finding as a sentence without its period.
#[expect(clippy::too_many_lines, reason = "a table of sentences, one arm each")]
pub fn sentence(job: &Job, finding: &Finding, units: UnitSystem) -> String {
    let word = tap_word(job);
    match finding {
        Finding::Plate(plate) => plate_finding(plate, units),
        Finding::PartTakes { .. } | Finding::ReturnTakes { .. } | Finding::SupplyTakes { .. } => {
            sides::finding(job, finding, units)
        }
        Finding::DuctsTake { .. } | Finding::NothingLeft { .. } => ducts::finding(finding, units),
        Finding::AirLost(air) => delivered::sentence(air, &job.limits, units).unwrap_or_default(),
        Finding::LittleStatic { tesp, at, design } => little_static(word, *tesp, *at, *design, units),
        Finding::TooMuchAir { airflow: now, high, lowest_in_band } => {
            let lowest = match lowest_in_band {
                Some(tap) => format!("{word} {tap} is the lowest one in it"),
                None => format!("no {word} lands in it{}", at_or_under_plate(job)),
            };
            let (moved, end) = (airflow(*now, units), airflow_bare(*high, units));
            let by = if airflow_bare(*now, units) == end { "just above" } else { "above" };
            format!("{moved} is {by} the band, which ends at {end}; {lowest}")
        }
        Finding::NextTap { name, airflow: flow, tesp, standing, doubt } => {
            let doubt = match doubt {
                Some(StepDoubt::OverPlate) => ", over the rated maximum",
                Some(StepDoubt::AtPlate) => ", at the rated maximum",
                Some(StepDoubt::NotAllowed) => ", where the table does not allow it",
                Some(StepDoubt::WithinDoubt) => ", a step not above its uncertainty",
                None => "",
            };
            format!(
                "{} {name} would raise static by {} % for {} % more air: {} at {}{}{doubt}",
                capital(word),
                number((tesp.1 / tesp.0 - 1.0) * 100.0, 0),
                number((flow.1 / flow.0 - 1.0) * 100.0, 0),
                airflow(flow.1, units),
                pressure(tesp.1, units),
                if *standing == CurveStanding::Extrapolated { ", extrapolated" } else { "" }
            )
        }
        Finding::TapsThatReach { taps, at_limit } => {
            let plate = match &at_limit[..] {
                [] => at_or_under_plate(job).to_owned(),
                all if all.len() == taps.len() => ", at the rated maximum within the readings' uncertainty".to_owned(),
                some => format!(", {} at the rated maximum within the readings' uncertainty", changes::listed(some)),
            };
            match &taps[..] {
                [one] => format!("{} {one} lands in the target's band on this path{plate}", capital(word)),
                _ => format!(
                    "{}s {} land in the target's band on this path{plate}",
                    capital(word),
                    changes::listed(taps)
                ),
            }
        }
        Finding::NoTapReaches(reason) => no_tap_reaches(job, reason, units),
        Finding::UnderPlate { tap, ease, at_least } => {
            let (tap, limits) = (format!("{} {tap}", capital(word)), (&job.limits, units));
            needs::less_drop(&tap, (ease, None), needs::Purpose::UnderPlate, *at_least, &[], limits)
        }
        Finding::Rise { tap, rise: stage, range, side } => {
            let what = match (stage.at_limit, side) {
                (None, RiseSide::OverRange) => ": too little air for this heat",
                (None, RiseSide::UnderRange) => ": too much air for this heat",
                (None, RiseSide::InRange) | (Some(_), _) => ", at its limit",
            };
            let table = job.machine.as_ref();
            let lost = table.map(|table| heat::lost(table, stage.heat_share)).unwrap_or_default();
            format!(
                "{}: a rise of {}, where the plate says {} to {}{what}{}",
                stage.call.name(),
                heat::rise_figure(stage, &format!(" on {word} {tap}"), units),
                rise_bare(range.0, units),
                rise(range.1, units),
                lost
            )
        }
        Finding::LeastAirflow { call, tap, airflow: flow, below, air } => {
            let on = |flow: &Airflow| format!("{} on {word} {tap}", airflow(*flow, units));
            let moved = match (below, flow) {
                (Some(below), Some(flow)) => {
                    format!("below {}, extrapolated about {},", on(below), airflow_bare(*flow, units))
                }
                (Some(below), None) => format!("below {}", on(below)),
                (None, flow) => flow.as_ref().map(on).unwrap_or_default(),
            };
            let by = match air.side {
                LeastSide::JustKept => ", kept, but the ± reaches under it",
                LeastSide::JustMissed if below.is_none() => ", missed, but the ± reaches over it",
                LeastSide::JustMissed | LeastSide::Kept | LeastSide::Missed => "",
            };
            format!("{}: {moved} where this heat needs at least {}{by}", call.name(), airflow(air.least, units))
        }
        Finding::WattsPerCfm { value, limit } => {
            // W/cfm is the trade's figure and the limit's; in other units it is told by theirs.
            let told = |per_cfm: f64| number(per_cfm / units.airflow_number(Airflow::from_cfm(1.0)), 2);
            format!("{} W for each {}, more than {}", told(*value), units.airflow_unit(), told(*limit))
        }
        Finding::Anchored(anchored) => opinions::anchored(job, anchored),
        Finding::Opinion(opinion) => opinions::sentence(opinion, word, units),
        Finding::Together(together) => opinions::together(together),
        Finding::WattsDiffer(watts) => opinions::watts_differ(watts),
        Finding::Barred { tap, note } => barred(&format!("{word} {tap}"), note.as_deref()),
        Finding::Knee { tesp, knee } => thin_air::knee(*tesp, *knee, units),
        Finding::NoKnee { end } => format!(
            "The motor holds its airflow up to the table's end, {}; the table shows no knee",
            pressure(*end, units)
        ),
        Finding::OtherEnd(other) => thin_air::other_end(motor_of(job), *other, units),
        Finding::Pulled(parts) => visit::a_test(job, parts),
        Finding::CannotAllBeTrue => visit::CANNOT_ALL_BE_TRUE.to_owned(),
        Finding::Drawn(draws) => draws::sentence(draws),
        Finding::OneRow => format!("This {word} has one row only: its airflow is taken as it stands there"),
        Finding::TotalDiffers { ports, total } => format!(
            "The total was read as {} and the ports give {}: the ports count; read again",
            pressure_bare(*total, units),
            pressure(*ports, units)
        ),
        Finding::Corrected { tesp, entry, ratio } => entered(job, (*tesp, *entry), *ratio, units),
        Finding::TakesMore { part, read, more } => format!(
            "{} is read across the {part}, {} more than when the table was made: dirt, ice or another part; the table is entered that much higher",
            pressure(*read, units),
            pressure_bare(*more, units)
        ),
        Finding::Density { tesp, entry, ratio, more } => {
            thin_air::in_air(motor_of(job), (*tesp, *entry), (*ratio, *more), units)
        }
        Finding::Assumed(assumption) => assumed(assumption),
    }
}

fn little_static(
    word: &str,
    tesp: Pressure,
    at: Option<(Pressure, Airflow)>,
    design: Option<Pressure>,
    units: UnitSystem,
) -> String {
    let (tesp, bare) = (pressure(tesp, units), pressure_bare);
    let told = at.map_or_else(
        || tesp.clone(),
        |(read, high)| format!("{} here comes to {tesp} at {}, which", pressure(read, units), airflow(high, units)),
    );
    let low = match design {
        Some(design) => format!("is under half of the design static of {}", bare(design, units)),
        None => "is low".to_owned(),
    };
    format!(
        "{told} {low}: look for a leak or an open duct, a panel off, a missing filter, a fouled coil inside the cabinet, a dirty wheel, or another {word} running than was noted"
    )
}

/// That the table bars a tap where it runs, with its note.
fn barred(tap: &str, note: Option<&str>) -> String {
    let note = note.map(|note| format!(" ({note})")).unwrap_or_default();
    format!("The table does not allow {tap} at this static{note}")
}

fn motor_of(job: &Job) -> MotorFamily {
    job.machine.as_ref().map_or(MotorFamily::Unstated, |table| table.motor)
}

/// "Enter the table at 0.88 in. w.c.: 0.83 read + 0.06 wet coil, less 1 % for dense air": what was read, what the parts inside add or take, and the air.
fn entered(job: &Job, (tesp, entry): (Pressure, Pressure), ratio: f64, units: UnitSystem) -> String {
    let inside = entry * ratio - tesp;
    let sign = if inside < Pressure::ZERO { '−' } else { '+' };
    let air = match percent((1.0 / ratio - 1.0).abs()) {
        none if none == percent(0.0) => String::new(),
        more if ratio < 1.0 => format!(", plus {more} for thin air"),
        less => format!(", less {less} for dense air"),
    };
    format!(
        "Enter the table at {}: {} read {sign} {} {}{air}",
        pressure(entry, units),
        pressure_bare(tesp, units),
        pressure_bare(inside.abs(), units),
        inside_said(job)
    )
}

/// What inside the machine is not as the table was made.
fn inside_said(job: &Job) -> String {
    let Some(table) = &job.machine else { return String::new() };
    let out = |part: &Element| job.set().parts_out.contains(&part.id);
    let of_table = |kind| job.path.first(kind).filter(|part| AirPath::is_inside(part, &table.basis));
    let read_across = |kind| {
        let is_known = |part: &Element| part.drop.is_some() || table.corrections.drop_of(kind).is_some();
        of_table(kind).is_some_and(|part| job.set().across(part.id).is_some() && is_known(part))
    };
    let coil = match (table.basis.coil, job.set().coil) {
        _ if read_across(ElementKind::Coil) => Some("coil as read"),
        (CoilInTest::Dry, CoilState::Wet) => Some("wet coil"),
        (CoilInTest::Wet, CoilState::Dry) => Some("dry coil"),
        (CoilInTest::Without, CoilState::Dry | CoilState::Wet)
        | (CoilInTest::Dry, CoilState::Dry)
        | (CoilInTest::Wet, CoilState::Wet) => None,
    };
    let own = |part: &Element| part.drop.is_some() || out(part);
    let is_another = |kind| table.basis.contains(kind) && (read_across(kind) || of_table(kind).is_none_or(own));
    let filter = is_another(ElementKind::Filter).then_some("filter");
    let heater = is_another(ElementKind::Heater).then_some("heater");
    let openings = (table.corrections.one_side_return.is_some() && job.return_openings != table.basis.return_openings)
        .then_some("return openings");
    let said: Vec<&str> = coil.into_iter().chain(filter).chain(heater).chain(openings).collect();
    if said.is_empty() { "inside the machine".to_owned() } else { said.join(" and ") }
}

fn plate_finding(plate: &PlateVerdict, units: UnitSystem) -> String {
    let figure = match plate.deciding {
        Deciding::AsRead => "as read",
        Deciding::AtTableDensity => "at the table's air density",
    };
    let worse = pressure(plate.worse, units);
    let limit = pressure_bare(plate.limit, units);
    if plate.side == PlateSide::AtLimit {
        format!("{worse} {figure} is at the rated maximum of {limit}, within the readings' uncertainty")
    } else {
        format!("{worse} {figure} is over the rated maximum of {limit}")
    }
}

/// The words for the rated maximum, where there is one.
fn at_or_under_plate(job: &Job) -> &'static str {
    let has_plate = job.machine.as_ref().is_some_and(|table| table.rated_maximum.is_some());
    if has_plate { ", at or under the rated maximum" } else { "" }
}

fn no_tap_reaches(job: &Job, reason: &NoTap, units: UnitSystem) -> String {
    let word = tap_word(job);
    let plate = at_or_under_plate(job);
    match reason {
        NoTap::NoneStrongEnough { most } => format!(
            "No {word} of this blower can reach the target on any path: {} is the most that one moves",
            airflow(*most, units)
        ),
        NoTap::NeedsEase { tap, band, full, at_least, is_in_band } => format!(
            "No {word} lands in the target's band on this path{plate}; {}",
            needs::less_drop(
                &format!("{word} {tap}"),
                (band, full.as_ref()),
                needs::Purpose::of(*is_in_band),
                *at_least,
                &[],
                (&job.limits, units)
            )
        ),
        NoTap::OverPlate { tap, over, band } => {
            let less = |band| {
                needs::less_drop(
                    &format!("{word} {tap}"),
                    (band, None),
                    needs::Purpose::UnderPlate,
                    false,
                    &[],
                    (&job.limits, units),
                )
            };
            let less = band.as_ref().map(less);
            let less = less.map(|less| format!("; {less}")).unwrap_or_default();
            format!("Airflow is in the band, but {} the rated maximum{less}", headline::over(*over, units))
        }
        NoTap::NotAllowed(tap) => {
            format!("{} {tap} would land in the target's band, but the table does not allow it there", capital(word))
        }
        NoTap::OffTheTable(tap) => {
            format!("Whether {word} {tap} lands in the target's band cannot be told: it is extrapolated there")
        }
        NoTap::PartUnknown(tap) => {
            format!("Whether {word} {tap} lands in the target's band cannot be told while a part's drop is not known")
        }
        NoTap::InThisAir { tap, other, own } => {
            let motor = thin_air::either(motor_of(job), *other, *own, units);
            format!("Whether {word} {tap} lands in the target's band cannot be told in this air: {motor}")
        }
        NoTap::Jumps { under, over } => {
            format!("{} {under} stays under the target's band on this path, {word} {over} goes over it", capital(word))
        }
        NoTap::Unknown => format!("No {word} lands in the target's band on this path{plate}"),
    }
}

/// The verb of parts: "takes" of one, "take" of several and of registers.
fn takes(kinds: &[ElementKind]) -> &'static str {
    if matches!(kinds, [one] if *one != ElementKind::Registers) { "takes" } else { "take" }
}

/// A sentence that goes on after others: its first letter small.
pub fn uncapital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

/// Words that begin a sentence: their first letter great.
pub fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
