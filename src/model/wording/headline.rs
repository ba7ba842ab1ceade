//! The verdict line: where the system runs, against target, rated maximum and rise. With changes on it is the changed system's, with as found beside it.

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::facts::target::TargetBand;
use crate::model::path::tesp::{Bound, ReadDifference};
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::findings::Finding;
use crate::model::verdicts::plate::{Deciding, PlateSide, PlateVerdict};
use crate::model::verdicts::system::{Projection, Running, System};
use crate::model::verdicts::taps::{Reach, TapPoint};
use crate::model::wording::{changes, delivered, ended, thin_air};
use crate::units::show::{self, airflow, airflow_bare, number, percent, pressure, pressure_bare};
use crate::units::{Airflow, Density, Pressure, UnitSystem};

/// Sums of shown figures that differ by less are the same; a thousandth of a pascal.
const SAME: Pressure = Pressure::from_pa(0.001);

/// A system and what it is told beside.
struct Line<'a> {
    job: &'a Job,
    running: &'a Running,
    system: &'a System,
    /// The changes, where they made the system.
    after: Option<&'a Projection>,
    /// True for a static too low for a sound system.
    is_little: bool,
    units: UnitSystem,
}

/// The verdict line of what runs.
pub(super) fn headline(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> String {
    let after = changes::with_changes(job, answer).map(|(_, after)| after);
    let system = after.map_or(&running.system, |after| &after.system);
    let is_little = answer.findings.iter().any(|finding| matches!(finding, Finding::LittleStatic { .. }));
    let line = Line { job, running, system, after, is_little, units };
    let sentences = [Some(line.air()), line.rise(), line.least_for_heat(), Some(line.total_static())];
    sentences.iter().flatten().map(|sentence| ended(sentence)).collect::<Vec<_>>().join(" ")
}

impl Line<'_> {
    /// "1,200 cfm on tap 4, 347 per ton, 13 % short of 400, ± 5".
    fn air(&self) -> String {
        let call = self.system.blower.call;
        let with = self.after.map(|after| match changes::how_many(self.job, after) {
            what if call == self.job.set().call => format!("With {what} "),
            what => format!("With {what}, in {}: ", super::uncapital(call.name())),
        });
        let with = with.unwrap_or_default();
        let Some(point) = self.system.runs() else {
            return format!("{with}{}", self.no_point());
        };
        let told = format!("{}{}{}", self.moved(point), self.beside(), self.to_rooms());
        let told = if with.is_empty() { super::capital(&told) } else { told };
        let against = self.system.blower.target.map_or_else(
            || format!("± {}", spread_of(point.spread.airflow, self.units)),
            |target| self.against(point, &target),
        );
        format!("{with}{told}, {against}")
    }

    /// "Rise 52 °F, ± 3, in the plate's 40 to 70", where the call heats and the plate has a range.
    fn rise(&self) -> Option<String> {
        let blower = &self.system.blower;
        let stage = self.system.runs()?.rise_of(blower.call).filter(|stage| stage.side.is_some())?;
        Some(super::capital(&changes::rise_told(blower.table(self.job)?, stage, "", self.units)))
    }

    /// "Less than the 1,100 cfm that this heat needs", where the call heats.
    fn least_for_heat(&self) -> Option<String> {
        let blower = &self.system.blower;
        let is_under = self.system.runs()?.rise_of(blower.call)?.under_minimum;
        let least = blower.table(self.job)?.heat_stage(blower.call)?.minimum_airflow.filter(|_| is_under)?;
        Some(format!("Less than the {} that this heat needs", airflow(least, self.units)))
    }

    fn tap(&self) -> String {
        let word = self.after.map_or_else(|| super::tap_word(self.job), |after| changes::word_then(self.job, after));
        let machine = self.system.blower.other.as_ref().map(|table| format!(" of {}", table.name));
        format!("{word} {}{}", self.system.tap().unwrap_or_default(), machine.unwrap_or_default())
    }

    /// "1,200 cfm on tap 4", or its bound.
    fn moved(&self, point: &TapPoint) -> String {
        let (now, tap) = (airflow(point.airflow(), self.units), self.tap());
        if let Some(below) = point.below {
            let bound = airflow(below, self.units);
            return format!(
                "below {bound} on {tap}; extrapolated, about {}",
                airflow_bare(point.airflow(), self.units)
            );
        }
        if self.system.published_bound().is_some() {
            return format!("{now} on {tap}, extrapolated");
        }
        if point.crossing.standing == CurveStanding::Extrapolated {
            return format!("at least {now} on {tap}: the static lies under the table's first row");
        }
        format!("{}{now} on {tap}", bound_word(point.bound, ("at most ", "at least ")).unwrap_or_default())
    }

    /// " (1,200 as found)", with changes.
    fn beside(&self) -> String {
        if self.after.is_none() {
            return String::new();
        }
        match self.running.system.runs().and_then(|point| point.below) {
            Some(below) => format!(" (below {} as found)", airflow_bare(below, self.units)),
            None => format!(" ({} as found)", airflow_bare(self.running.now.airflow, self.units)),
        }
    }

    /// ", 890 to the rooms", where leaks keep some of it from them.
    fn to_rooms(&self) -> String {
        let delivered = self.system.delivered.filter(|delivered| delivered::leaks(delivered, self.units));
        delivered
            .map(|delivered| format!(", {} to the rooms", airflow_bare(delivered.to_rooms, self.units)))
            .unwrap_or_default()
    }

    fn no_point(&self) -> String {
        let (tap, beside) = (self.tap(), self.beside());
        match self.system.why_not() {
            Some(NoCrossing::PastTheEnd { below, .. }) => {
                format!("below {} on {tap}{beside}: the table says no more", airflow(*below, self.units))
            }
            Some(NoCrossing::SingleRow(_) | NoCrossing::Unusable) | None => {
                format!("nothing can be said of {tap}{beside}")
            }
        }
    }

    /// A target by tons is told in airflow a ton, any other in airflow, and never one against the other.
    fn against(&self, point: &TapPoint, target: &TargetBand) -> String {
        let Some((each, wanted)) = point.per_ton.zip(target.per_ton()) else {
            return self.against_figure(point, target, &super::target(target, self.units));
        };
        let shown = |each: Airflow| number(self.units.airflow_number(each), 0);
        let told = match point.below {
            Some(below) => format!("under {}", shown(each * (below / point.airflow()))),
            None => shown(each),
        };
        let told = per_ton((&told, each), self.system.blower.air.density, self.units);
        format!("{told}, {}", self.against_figure(point, target, &shown(wanted)))
    }

    fn against_figure(&self, point: &TapPoint, target: &TargetBand, wanted: &str) -> String {
        let share = point.airflow() / target.actual - 1.0;
        let at_least = if point.bound.is_exact() { "" } else { "at least " };
        let spread = format!("± {}", number(point.spread.airflow / target.actual * 100.0, 0));
        match (point.reach, point.below) {
            (Some(Reach::NotSaid), None) => self.not_told(point, wanted),
            (Some(Reach::NotSaid), Some(below)) if below > target.high => {
                format!("short of {wanted}, within its band or over it: the table does not say")
            }
            (Some(Reach::NotSaid), Some(_)) => {
                format!("short of {wanted} or within its band: the table does not say")
            }
            (Some(Reach::Short), Some(below)) => {
                format!("at least {} short of {wanted}", percent(1.0 - below / target.actual))
            }
            (Some(Reach::InBand), _) => {
                let by = if point.is_near_edge(target) { ", by less than its ±" } else { "" };
                let off = match percent(share.abs()) {
                    none if none == percent(0.0) => "on the target of".to_owned(),
                    off if share < 0.0 => format!("{off} under"),
                    off => format!("{off} over"),
                };
                format!("{off} {wanted}, {spread}: in the band{by}{}", self.but())
            }
            (Some(Reach::TooMuch), _) => format!("{at_least}{} more than {wanted}, {spread}", percent(share)),
            (Some(Reach::Short) | None, _) => format!("{at_least}{} short of {wanted}, {spread}", percent(-share)),
        }
    }

    /// What takes the comfort out of a point in the band: air that the rooms do not get, or a static that cannot be right.
    fn but(&self) -> &'static str {
        if self.after.is_none() && self.is_little {
            " only if that static is right"
        } else if self.system.delivered.is_some_and(|air| air.is_lost(&self.job.limits)) {
            " at the blower"
        } else {
            ""
        }
    }

    fn not_told(&self, point: &TapPoint, wanted: &str) -> String {
        let lead = format!("whether that is in the band of {wanted} cannot be told");
        match (point.open_by_air(), self.system.blower.table(self.job)) {
            (Some(other), Some(table)) => {
                let either = thin_air::either(table.motor, other, point.airflow(), self.units);
                let spread = number(point.spread.airflow / point.airflow() * 100.0, 0);
                format!("{lead} in this air: {either}, each ± {spread} %")
            }
            _ => format!("{lead} while a part's drop is not known"),
        }
    }

    /// "Total external static 0.52 + 0.31 = 0.83 in. w.c., 0.13 over the rated maximum of 0.70".
    fn total_static(&self) -> String {
        let (found, units) = (self.running.now.tesp, self.units);
        let bound = bound_word(self.system.bound, ("at least ", "at most ")).unwrap_or_default();
        let sum = sum(self.running, units);
        let total = match (self.after, self.system.point()) {
            (Some(_), Some(point)) => {
                format!("{} ({} as found)", pressure(point.tesp, units), pressure_bare(found, units))
            }
            (None, _) => pressure(found, units).replacen(&pressure_bare(found, units), &sum, 1),
            (Some(_), None) => return format!("Total external static {sum} {} as found", units.pressure_unit()),
        };
        let total = format!("Total external static {bound}{total}");
        match self.system.plate() {
            Some(plate) => format!("{total}{}", self.against_plate(&plate)),
            None => format!("{total}; no rated maximum given"),
        }
    }

    fn against_plate(&self, plate: &PlateVerdict) -> String {
        let units = self.units;
        let tesp = self.system.point().map(|point| pressure_bare(point.tesp, units));
        let (worse, limit) = (pressure_bare(plate.worse, units), pressure_bare(plate.limit, units));
        let is_told = plate.deciding == Deciding::AtTableDensity && tesp.is_some_and(|tesp| tesp != worse);
        let at_density = if is_told { format!(", at the table's air density {worse}") } else { String::new() };
        match plate.side {
            PlateSide::Over => {
                format!("{at_density}, {} the rated maximum of {limit}", over(plate.worse - plate.limit, units))
            }
            PlateSide::AtLimit => format!("{at_density}, within its ± at the rated maximum of {limit}"),
            PlateSide::Under => {
                let stop = if at_density.is_empty() { ',' } else { ';' };
                format!("{at_density}{stop} rated maximum {limit}")
            }
        }
    }
}

/// "0.13 over", or "just over" where the difference does not show.
pub(super) fn over(by: Pressure, units: UnitSystem) -> String {
    let by = pressure_bare(by, units);
    if by == pressure_bare(Pressure::ZERO, units) { "just over".to_owned() } else { format!("{by} over") }
}

/// What a bound is called: less air and more static, or the other way round.
const fn bound_word<'a>(bound: Bound, (less, more): (&'a str, &'a str)) -> Option<&'a str> {
    match (bound.less, bound.more) {
        (true, false) => Some(less),
        (false, true) => Some(more),
        (true, true) | (false, false) => None,
    }
}

/// "347 per ton at standard air": an airflow a ton is meant there, and it is said wherever that is another figure than in the air that is there, so that whoever divides the airflow by the tons is not misled.
pub(super) fn per_ton((told, each): (&str, Airflow), density: Density, units: UnitSystem) -> String {
    let shown = |each: Airflow| number(units.airflow_number(each), 0);
    let air = if shown(each) == shown(each * (Density::STANDARD / density)) { "" } else { " at standard air" };
    format!("{told} per ton{air}")
}

/// An airflow to the last unit, for a ±.
fn spread_of(spread: Airflow, units: UnitSystem) -> String {
    format!("{} {}", number(units.airflow_number(spread), 0), units.airflow_unit())
}

/// "0.52 + 0.31 = 0.83": what was read on both sides, where that is the whole of it and adds up as it is shown; else the total.
fn sum(running: &Running, units: UnitSystem) -> String {
    let total = pressure_bare(running.now.tesp, units);
    let ReadDifference::Ports { before, after } = running.sum.read else {
        return total;
    };
    if !running.sum.bound().is_exact() {
        return total;
    }
    let (first, second) = (Pressure::ZERO - before.1, after.1);
    let shown = |pressure| show::pressure_as_shown(pressure, units);
    if (shown(first) + shown(second) - shown(running.now.tesp)).abs() > SAME {
        return total;
    }
    let sign = if second < Pressure::ZERO { show::MINUS } else { '+' };
    format!("{} {sign} {} = {total}", pressure_bare(first, units), pressure_bare(second.abs(), units))
}
