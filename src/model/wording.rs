//! Findings and verdicts in a practitioner's words, in the units shown.

pub mod alone;
pub mod cautions;
pub mod changes;
pub mod delivered;
pub mod ducts;
pub mod problems;
pub mod tables;
mod thin_air;

use crate::model::answer::Answer;
use crate::model::facts::air_path::{Element, ElementKind, Whereabouts};
use crate::model::facts::blower::{CoilInTest, MotorFamily, PartInTest};
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Oddity, Problem};
use crate::model::facts::readings::{CoilState, ReadAt};
use crate::model::facts::standing::{CurveStanding, PathStanding};
use crate::model::facts::target::{Target, TargetBand, at_standard_air};
use crate::model::path::tesp::{Assumption, Bound, NotRead};
use crate::model::verdicts::findings::{self, Finding, NoTap, StepDoubt};
use crate::model::verdicts::plate::{Deciding, PlateSide, PlateVerdict};
use crate::model::verdicts::system::{NotRunning, Running};
use crate::model::verdicts::taps::{Reach, RiseSide, TapAnswer, TapPoint, per_ton};
use crate::units::show::{airflow, airflow_bare, number, percent, pressure, pressure_bare, rise, rise_bare};
use crate::units::{Airflow, Capacity, Pressure, UnitSystem};

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
        Ok(running) => {
            Verdict { headline: headline(job, answer, running, units), detail: detail(job, answer, running, units) }
        }
        Err(idle) => first_step(job, answer, &idle.why, units),
    }
}

/// The word for a column of the job's table: tap or setting.
pub fn tap_word(job: &Job) -> &'static str {
    job.machine.as_ref().map_or("tap", |table| table.motor.tap_word())
}

fn headline(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> String {
    let tap = format!("{} {}", tap_word(job), job.tap_in_use().unwrap_or_default());
    let below = answer.tap_in_use().and_then(TapAnswer::reached).and_then(|point| point.below);
    let now = airflow(running.now.airflow, units);
    let bound = running.sum.bound();
    let mut parts = vec![match below {
        Some(below) => format!(
            "Below {} on {tap}; extrapolated, about {}",
            airflow(below, units),
            airflow_bare(running.now.airflow, units)
        ),
        None if running.now.standing == CurveStanding::Extrapolated => {
            format!("At least {now} on {tap}: the static lies under the table's first row")
        }
        None => match (bound.less, bound.more) {
            (true, false) => format!("At most {now} on {tap}"),
            (false, true) => format!("At least {now} on {tap}"),
            _ => format!("About {now} on {tap}"),
        },
    }];
    let each = job.capacity().map(|capacity| each_ton(below.unwrap_or(running.now.airflow), answer, capacity, units));
    let under = if below.is_some() { "under " } else { "" };
    let told = each.as_ref().map(|each| format!("{under}{} per ton", each.standard));
    let (aside, told) = if each.is_some_and(|each| each.is_actual) { (None, told) } else { (told, None) };
    parts.extend(told);
    let wanted = answer.blower().target.map(|target| wanted(job, &target, aside.as_deref(), units));
    if let (None | Some((_, false)), Some(aside)) = (&wanted, aside) {
        parts[0] = format!("{} ({aside} at standard air)", parts[0]);
    }
    if let (Some(target), Some((wanted, _))) = (answer.blower().target, wanted) {
        let open = running.system.runs().and_then(TapPoint::open_by_air);
        parts.push(match open {
            Some(other) => {
                let motor = thin_air::either(motor_of(job), other, running.now.airflow, units);
                format!("whether that is in the band of {wanted} cannot be told in this air: {motor}")
            }
            None => against_target(running, &target, &wanted, below, findings::reach_now(&running.system)),
        });
    }
    format!("{} {}", ended(&parts.join(", ")), ended(&plate_sentence(running, units)))
}

/// A sentence with its period, or its question mark; units that end in a point need no second one.
pub fn ended(sentence: &str) -> String {
    if sentence.ends_with(['.', '?']) { sentence.to_owned() } else { format!("{sentence}.") }
}

/// Airflow a ton.
struct EachTon {
    /// At standard air, as the trade means it.
    standard: String,
    /// True where it is shown as the same figure in the air that is there.
    is_actual: bool,
}

fn each_ton(airflow: Airflow, answer: &Answer, capacity: Capacity, units: UnitSystem) -> EachTon {
    let shown = |airflow| number(units.airflow_number(per_ton(airflow, capacity)), 0);
    let standard = shown(at_standard_air(airflow, answer.blower().air.density));
    EachTon { is_actual: standard == shown(airflow), standard }
}

/// The target's figure; one found from tons is meant at standard air, which is said, with the airflow a ton, where the two differ: true then.
fn wanted(job: &Job, target: &TargetBand, each: Option<&str>, units: UnitSystem) -> (String, bool) {
    let (actual, standard) = (airflow_bare(target.actual, units), airflow_bare(target.standard, units));
    let is_other = actual != standard && matches!(job.target, Some(Target::PerTon { .. }));
    match each {
        _ if !is_other => (actual, false),
        Some(each) => (format!("{actual} (at standard air {each}, target {standard})"), true),
        None => (format!("{actual} ({standard} at standard air)"), true),
    }
}

fn against_target(
    running: &Running,
    target: &TargetBand,
    wanted: &str,
    below: Option<Airflow>,
    reach: Option<Reach>,
) -> String {
    let share = running.now.airflow / target.actual - 1.0;
    let at_least = if running.sum.bound().is_exact() { "" } else { "at least " };
    match (reach, below) {
        (Some(Reach::NotSaid), None) => {
            format!("whether that is in the band of {wanted} cannot be told while a part's drop is not known")
        }
        (Some(Reach::NotSaid), Some(_)) => {
            format!("short of {wanted} or within its band: the table does not say")
        }
        (Some(Reach::Short), Some(below)) => {
            format!("at least {} short of {wanted}", percent(1.0 - below / target.actual))
        }
        (Some(Reach::InBand), _) if share.abs() < 0.005 => format!("on the target of {wanted}"),
        (Some(Reach::InBand), _) => {
            let side = if share < 0.0 { "under" } else { "over" };
            format!("{} {side} the target of {wanted}, within the accepted band", percent(share.abs()))
        }
        (Some(Reach::TooMuch), _) => format!("{at_least}{} more than {wanted}", percent(share)),
        _ => format!("{at_least}{} short of {wanted}", percent(-share)),
    }
}

fn plate_sentence(running: &Running, units: UnitSystem) -> String {
    let bound = match running.sum.bound() {
        Bound { less: true, more: false } => "at least ",
        Bound { less: false, more: true } => "at most ",
        _ => "",
    };
    let total = format!("Total external static {bound}{}", pressure(running.now.tesp, units));
    let Some(plate) = running.system.plate() else {
        return format!("{total}; no rated maximum given");
    };
    let limit = pressure_bare(plate.limit, units);
    let at_density = if plate.deciding == Deciding::AtTableDensity && differs(plate, running, units) {
        format!(", at the table's air density {}", pressure_bare(plate.worse, units))
    } else {
        String::new()
    };
    if plate.side == PlateSide::AtLimit {
        return format!("{total}{at_density}, at the rated maximum of {limit}");
    }
    let stop = if at_density.is_empty() { ',' } else { ';' };
    let over = if plate.side == PlateSide::Over { "over the rated maximum of" } else { "rated maximum" };
    format!("{total}{at_density}{stop} {over} {limit}")
}

fn differs(plate: PlateVerdict, running: &Running, units: UnitSystem) -> bool {
    pressure_bare(plate.worse, units) != pressure_bare(running.now.tesp, units)
}

/// Sentences under the headline.
const MOST_SENTENCES: usize = 3;

fn detail(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> String {
    let mut sentences = Vec::new();
    if let (Some(taken), Some(other)) = (running.return_side, running.supply_side) {
        let (side, most) = if taken >= other { ("return", taken) } else { ("supply", other) };
        if most <= running.now.tesp {
            sentences.push(format!("The {side} side takes {} of the total.", pressure_bare(most, units)));
        }
    }
    sentences.extend(delivered::sentence(&running.delivered(), units).map(|sentence| ended(&sentence)));
    let with_changes: Vec<String> =
        changes::sentences(job, answer, units).iter().map(|sentence| ended(sentence)).collect();
    let path_meant = if with_changes.is_empty() { "on this path" } else { "on the path as found" };
    sentences.extend(with_changes);
    // What changes bring stands whole; what else could be said of the path as found stands back behind it.
    let most = MOST_SENTENCES.max(sentences.len());
    let wanted = answer.findings.iter().filter(|finding| {
        matches!(
            finding,
            Finding::Barred { .. }
                | Finding::TooMuchAir { .. }
                | Finding::LittleStatic { .. }
                | Finding::NoTapReaches(_)
                | Finding::TapsThatReach(_)
                | Finding::NextTap { .. }
        )
    });
    let reaches_now = findings::reach_now(&running.system) == Some(Reach::InBand);
    for finding in wanted {
        let idle = reaches_now && matches!(finding, Finding::NextTap { .. } | Finding::TapsThatReach(_));
        if !idle {
            sentences.push(ended(&sentence(job, finding, units).replace("on this path", path_meant)));
        }
    }
    sentences.truncate(most);
    if running.standing.path == PathStanding::Assumed {
        sentences.push(what_is_assumed(running));
    }
    sentences.join(" ")
}

/// A part that somebody must still measure is named at once.
fn what_is_assumed(running: &Running) -> String {
    match running.sum.unknown_part() {
        Some(kind) => format!(
            "No drop is known of the {} between port and machine: give its data or read across it.",
            kind.name().to_lowercase()
        ),
        None => "Part of this is assumed; \"What the numbers say\" under Every tap tells which.".to_owned(),
    }
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
        NotRunning::PastTheEnd { below, tesp, entry, end } => (
            format!(
                "Below {} on {word} {}: that is all the table can say.",
                airflow(*below, units),
                job.tap_in_use().unwrap_or_default()
            ),
            past_the_end(job, *tesp, *entry, *end, units),
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
        NotRunning::Shares(sentence) => ("The shares of a stretch cannot be used.".to_owned(), ended(sentence)),
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

fn past_the_end(job: &Job, tesp: Pressure, entry: Pressure, end: Pressure, units: UnitSystem) -> String {
    let total = pressure_bare(tesp, units);
    let figure = if pressure_bare(entry, units) == total {
        format!("{} in total", pressure(tesp, units))
    } else {
        format!("{total} in total enters the table at {}, which", pressure(entry, units))
    };
    let plate = job.machine.as_ref().and_then(|table| table.rated_maximum).filter(|plate| tesp > *plate);
    let over = plate
        .map(|plate| format!(" It is over the rated maximum of {} as well.", pressure_bare(plate, units)))
        .unwrap_or_default();
    let cause = "look for a slipped decimal point, a shut damper, a blocked filter or coil.";
    format!("{figure} lies past the curve's end, {}: {cause}{over}", pressure(end, units))
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
        Finding::ReturnTakes { taken, total, limit, with } => {
            let parts: Vec<String> = with.iter().map(|kind| kind.name().to_lowercase()).collect();
            let parts = if parts.is_empty() { String::new() } else { format!(" with its {}", parts.join(" and ")) };
            side(&format!("return side{parts}"), *taken, *total, *limit, units)
        }
        Finding::SupplyTakes { taken, total, limit } => side("supply side", *taken, *total, *limit, units),
        Finding::DuctsTake { .. } | Finding::NothingLeft { .. } => ducts::finding(finding, units),
        Finding::LittleStatic { tesp, design } => format!(
            "{}{}: look for a leak or an open duct, a panel off, a missing filter, a fouled coil inside the cabinet, a dirty wheel, or another {word} running than was noted",
            pressure(*tesp, units),
            match design {
                Some(design) => format!(" is under half of the design static of {}", pressure_bare(*design, units)),
                None => " is low".to_owned(),
            }
        ),
        Finding::TooMuchAir { airflow: now, high, lowest_in_band } => {
            let lowest = match lowest_in_band {
                Some(tap) => format!("{word} {tap} is the lowest one in it"),
                None => format!("no {word} lands in it{}", at_or_under_plate(job)),
            };
            format!(
                "{} is above the band, which ends at {}; {lowest}",
                airflow(*now, units),
                airflow_bare(*high, units)
            )
        }
        Finding::NextTap { name, airflow: flow, tesp, doubt } => {
            let doubt = match doubt {
                Some(StepDoubt::OverPlate) => ", over the rated maximum",
                Some(StepDoubt::AtPlate) => ", at the rated maximum",
                Some(StepDoubt::NotAllowed) => ", where the table does not allow it",
                Some(StepDoubt::OffTheTable) => ", extrapolated",
                Some(StepDoubt::WithinDoubt) => ", a step not above its uncertainty",
                None => "",
            };
            format!(
                "{} {name} would raise static by {} % for {} % more air: {} at {}{doubt}",
                capital(word),
                number((tesp.1 / tesp.0 - 1.0) * 100.0, 0),
                number((flow.1 / flow.0 - 1.0) * 100.0, 0),
                airflow(flow.1, units),
                pressure(tesp.1, units)
            )
        }
        Finding::TapsThatReach(taps) => {
            let plate = at_or_under_plate(job);
            match &taps[..] {
                [one] => format!("{} {one} lands in the target's band on this path{plate}", capital(word)),
                _ => format!("{}s {} land in the target's band on this path{plate}", capital(word), list(taps)),
            }
        }
        Finding::NoTapReaches(reason) => no_tap_reaches(job, reason, units),
        Finding::Rise { call, tap, rise: value, range, side } => {
            let what = if *side == RiseSide::OverRange {
                "too little air for this heat"
            } else {
                "too much air for this heat"
            };
            let table = job.machine.as_ref();
            let burner = thin_air::burner(table.map_or(1.0, |table| table.heat_share(job.set().air.altitude)));
            format!(
                "{}: a rise of {} on {word} {tap} where the plate says {} to {}: {what}{burner}",
                call.name(),
                rise(*value, units),
                rise_bare(range.0, units),
                rise(range.1, units)
            )
        }
        Finding::UnderHeatMinimum { call, tap, airflow: flow, least } => format!(
            "{}: {} on {word} {tap} where this heat needs at least {}",
            call.name(),
            airflow(*flow, units),
            airflow(*least, units)
        ),
        Finding::WattsPerCfm { value, limit } => {
            format!("{} W for each cfm, more than {}", number(*value, 2), number(*limit, 2))
        }
        Finding::Barred { tap, note } => {
            let note = note.as_deref().map(|note| format!(" ({note})")).unwrap_or_default();
            format!("The table does not allow {word} {tap} at this static{note}")
        }
        Finding::Knee { entry, knee } if entry <= knee => format!(
            "The motor holds its airflow; {} of static is left to its knee at {}",
            pressure(*knee - *entry, units),
            pressure(*knee, units)
        ),
        Finding::Knee { knee, .. } => {
            format!("The motor is past its knee at {} and no longer holds its airflow", pressure(*knee, units))
        }
        Finding::NoKnee { end } => format!(
            "The motor holds its airflow up to the table's end, {}; the table shows no knee",
            pressure(*end, units)
        ),
        Finding::OtherEnd(other) => thin_air::other_end(motor_of(job), *other, units),
        Finding::OneRow => format!("This {word} has one row only: its airflow is taken as it stands there"),
        Finding::TotalDiffers { ports, total } => format!(
            "The total was read as {} and the ports give {}: the ports count; read again",
            pressure_bare(*total, units),
            pressure(*ports, units)
        ),
        Finding::Corrected { tesp, entry, ratio } => entered(job, (*tesp, *entry), *ratio, units),
        Finding::Density { tesp, entry, ratio } => thin_air::in_air(motor_of(job), (*tesp, *entry), *ratio, units),
        Finding::Assumed(assumption) => assumed(assumption),
    }
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
    let read_across = |kind| {
        let part = job.path.first(kind);
        part.is_some_and(|part| {
            part.whereabouts == Whereabouts::Cabinet && job.set().at(ReadAt::Across(part.id)).is_some()
        })
    };
    let coil = match (table.basis.coil, job.set().coil) {
        _ if read_across(ElementKind::Coil) => Some("coil as read"),
        (CoilInTest::Dry, CoilState::Wet) => Some("wet coil"),
        (CoilInTest::Wet, CoilState::Dry) => Some("dry coil"),
        _ => None,
    };
    let own = |part: &Element| part.drop.is_some() || job.set().parts_out.contains(&part.id);
    let filter = (read_across(ElementKind::Filter)
        || table.basis.filter == PartInTest::Included && job.path.first(ElementKind::Filter).is_none_or(own))
    .then_some("filter");
    let openings = (table.corrections.one_side_return.is_some() && job.return_openings != table.basis.return_openings)
        .then_some("return openings");
    let said: Vec<&str> = coil.into_iter().chain(filter).chain(openings).collect();
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

fn side(name: &str, taken: Pressure, total: Pressure, limit: Pressure, units: UnitSystem) -> String {
    format!(
        "The {name} takes {} of {} ({}); more than {} is a warning (common practice)",
        pressure_bare(taken, units),
        pressure(total, units),
        percent(taken / total),
        pressure_bare(limit, units)
    )
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
        NoTap::NeedsEase { tap, ease, at_least } => format!(
            "No {word} lands in the target's band on this path{plate}; {word} {tap} needs {}{} less pressure drop at the target airflow, {} of the path",
            if *at_least { "at least " } else { "" },
            pressure(ease.remove, units),
            percent(ease.share())
        ),
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

/// Which way an assumption errs, in words.
pub fn assumed(assumption: &Assumption) -> String {
    match assumption {
        Assumption::OutsideDropUnknown(kind) => format!(
            "The {} between port and machine has no drop by data: total external static is at least what is shown, airflow at most",
            kind.name().to_lowercase()
        ),
        Assumption::InsideDropUnknown(kind) => format!(
            "The {} between port and machine belongs to the table and has no drop by data: total external static is at most what is shown, airflow at least",
            kind.name().to_lowercase()
        ),
        Assumption::FilterAsTestedUnknown => {
            "The table was made with a filter whose drop it does not print, and the slot is empty: airflow is on the low side".to_owned()
        }
        Assumption::WetCoilUnknown => {
            "The coil is wet, the table was made dry and prints no correction: airflow is on the high side".to_owned()
        }
        Assumption::DryCoilUnknown => {
            "The coil is dry, the table was made wet and prints no correction: airflow is on the low side".to_owned()
        }
        Assumption::ReturnOpeningsDiffer => {
            "The return enters in another way than in the test, and the table prints no correction".to_owned()
        }
        Assumption::VoltageDiffers => {
            "The supply voltage is not the table's, and the table prints no correction".to_owned()
        }
        Assumption::ByData(kind) => format!(
            "The {}'s drop is by data, not read",
            kind.name().to_lowercase()
        ),
        Assumption::VoltageByTable => {
            "Airflow at this supply voltage follows the table's printed factor".to_owned()
        }
    }
}

fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
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
