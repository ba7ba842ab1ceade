//! The verdict: where the system runs, against target, rated maximum and rise. As a line for reports, and as the head of the window, where as found and with changes stand side by side.

use crate::model::answer::Answer;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::facts::target::TargetBand;
use crate::model::path::tesp::{Bound, ReadDifference};
use crate::model::solution::operating_point::NoCrossing;
use crate::model::verdicts::findings::{Finding, Weight};
use crate::model::verdicts::plate::{Deciding, PlateSide, PlateVerdict};
use crate::model::verdicts::system::{Projection, Running, System};
use crate::model::verdicts::taps::{Reach, RiseSide, StageRise, TapPoint};
use crate::model::wording::wanted::wanted;
use crate::model::wording::{causes, changes, delivered, ended, heat, opinions, thin_air};
use crate::units::show::{self, airflow, airflow_bare, number, percent, pressure, pressure_bare};
use crate::units::{Airflow, Density, Pressure, UnitSystem};

/// Sums of shown figures that differ by less are the same; a thousandth of a pascal.
const SAME: Pressure = Pressure::from_pa(0.001);

/// How a line of the head is to be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// As it should be.
    Good,
    /// To be mended.
    Bad,
    /// Neither.
    Plain,
}

/// One line of the head, in wordings from the whole one to the shortest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The wordings.
    pub wordings: Vec<String>,
    /// How it is to be taken.
    pub tone: Tone,
}

/// One half of the head: where a system runs, in the order in which it is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Half {
    /// "As found · tap 4", and shorter.
    pub title: [String; 4],
    /// "1,200".
    pub airflow: String,
    /// What stands behind it: "cfm ± 63, 890 to the rooms".
    pub beside: String,
    /// Against the target, the static as a sum, against the rated maximum.
    pub lines: Vec<Told>,
    /// All of it as sentences.
    pub sentence: String,
}

/// The other half of the head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Beside {
    /// Where it runs with the changes.
    Then(Half),
    /// What would reach the target, while no change is put on.
    Wanted {
        /// What it is about.
        title: &'static str,
        /// The sentence.
        sentence: String,
    },
}

/// Sentences under a heading, the weightiest first.
pub type Chapter = (String, Vec<(Weight, String)>);

/// What stands over the chart while there is a point: both answers, the weightiest finding, and all that is to be said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Where it runs as found.
    pub found: Half,
    /// Where it runs with the changes, or what would be needed.
    pub beside: Beside,
    /// The weightiest finding that neither half says.
    pub finding: Option<(Weight, String)>,
    /// Everything, with the halves and the finding.
    pub all: Vec<Chapter>,
}

/// The head of what runs.
pub fn head(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> Head {
    let after = changes::with_changes(job, answer).map(|(_, after)| after);
    let line = |system, after| Line { job, running, system, after, answer, units };
    let found = line(&running.system, None);
    let then = after.map(|after| line(&after.system, Some(after)));
    let said = |finding: &Finding| (finding.weight(), ended(&super::sentence(job, finding, units)));
    let wanted = || {
        let (title, sentence) = wanted(job, answer, units);
        Beside::Wanted { title, sentence }
    };
    let beside = then.as_ref().map_or_else(wanted, |then| Beside::Then(then.half()));
    let notes = |sentences: Vec<String>| sentences.into_iter().map(|told| (Weight::Note, ended(&told)));
    let with_changes: Vec<_> = notes(changes::sentences(job, answer, units)).collect();
    let shown = match &beside {
        Beside::Wanted { sentence, .. } => sentence.as_str(),
        Beside::Then(_) => "",
    };
    let is_in_a_half = |finding: &&Finding| matches!(finding, Finding::Plate(_));
    // Nobody runs another tap for a test.
    let is_test = job.is_test();
    let of_path = || answer.findings.iter().filter(|finding| !is_test && !is_in_a_half(finding));
    let first = of_path().filter(|finding| finding.comes_first()).map(said);
    let finding = first.chain(with_changes.iter().cloned()).chain(of_path().map(said)).find(|(_, told)| told != shown);
    let mut as_found: Vec<_> = notes(vec![found.sentence()]).collect();
    // With what may be behind it, which the head has no room for.
    let in_full = |finding: &Finding| {
        let causes = causes::sentence(job, finding).map(|causes| format!(" {}", ended(&causes)));
        let (weight, told) = said(finding);
        (weight, told + &causes.unwrap_or_default())
    };
    as_found.extend(answer.findings.iter().map(in_full));
    let rest = notes(super::beside_findings(job, answer, running, units));
    let rest: Vec<_> =
        rest.filter(|(_, told)| as_found.iter().all(|(_, said)| !said.starts_with(told.as_str()))).collect();
    as_found.extend(rest);
    let then = then.map(|then| notes(vec![then.sentence()]).chain(with_changes).collect());
    let all = std::iter::once((super::capital(&super::visit::found(job)), as_found))
        .chain(then.map(|then| ("With changes".to_owned(), then)))
        .collect();
    Head { found: found.half(), beside, finding, all }
}

/// True where the static is too low for a sound system.
fn is_little(answer: &Answer) -> bool {
    answer.findings.iter().any(|finding| matches!(finding, Finding::LittleStatic { .. }))
}

/// A system and what it is told beside.
struct Line<'a> {
    job: &'a Job,
    running: &'a Running,
    system: &'a System,
    /// The changes, where they made the system.
    after: Option<&'a Projection>,
    answer: &'a Answer,
    units: UnitSystem,
}

/// The verdict line of what runs.
pub(super) fn headline(job: &Job, answer: &Answer, running: &Running, units: UnitSystem) -> String {
    let after = changes::with_changes(job, answer).map(|(_, after)| after);
    let system = after.map_or(&running.system, |after| &after.system);
    Line { job, running, system, after, answer, units }.sentence()
}

impl Line<'_> {
    /// All of it.
    fn sentence(&self) -> String {
        let of_heat = [heat::rise_of_call, heat::least_of_call].map(|told| told(self.job, self.system, self.units));
        let [rise, least] = of_heat;
        let sentences = [Some(self.air()), rise, least, Some(self.total_static())];
        sentences.iter().flatten().map(|sentence| ended(sentence)).collect::<Vec<_>>().join(" ")
    }

    /// The half of the head.
    fn half(&self) -> Half {
        let (airflow, beside) = self.figure();
        // Of a system that somebody took parts out of nothing is good.
        let is_test = self.job.is_test();
        let tone = |tone| if is_test && tone == Tone::Good { Tone::Plain } else { tone };
        let tone = |told: Told| Told { tone: tone(told.tone), ..told };
        let lines = [self.reached(), self.sides(), self.plate_line()].map(|line| line.map(tone));
        Half {
            title: self.title(),
            airflow,
            beside,
            lines: lines.into_iter().flatten().collect(),
            sentence: self.sentence(),
        }
    }

    /// "With 4 changes, in heating, high · tap 4", or "then · tap 4".
    fn title(&self) -> [String; 4] {
        let call = self.system.blower.call;
        let of = match self.after {
            None => super::capital(&super::visit::found(self.job)),
            Some(after) if call == self.job.set().call => changes::with_what(self.job, after),
            Some(after) => {
                format!("{}, in {}", changes::with_what(self.job, after), super::uncapital(call.name()))
            }
        };
        let short = self.after.map_or_else(|| "now".to_owned(), |_| super::options::then(self.job));
        let tap = self.tap_bare();
        let new = if self.system.blower.other.is_some() { " of the new machine" } else { "" };
        let bare = format!("{of} · {tap}");
        [format!("{of} · {}", self.tap()), format!("{bare}{new}"), bare, format!("{short} · {tap}")]
    }

    /// The airflow, and what stands behind it.
    fn figure(&self) -> (String, String) {
        let unit = self.units.airflow_unit();
        let Some(point) = self.system.runs() else {
            return match self.system.why_not() {
                Some(NoCrossing::PastTheEnd { below, .. }) => {
                    (format!("below {}", airflow_bare(*below, self.units)), format!("{unit}: the table says no more"))
                }
                Some(NoCrossing::SingleRow(_) | NoCrossing::Unusable) | None => {
                    ("–".to_owned(), "nothing can be said of it".to_owned())
                }
            };
        };
        let now = airflow_bare(point.airflow(), self.units);
        if let Some(below) = point.below {
            let about = format!("{unit}; extrapolated, about {now}{}", self.to_rooms());
            return (format!("below {}", airflow_bare(below, self.units)), about);
        }
        let spread = show::spread_bare(point.spread.airflow, self.units);
        let is_extrapolated = self.system.published_bound().is_some();
        if !is_extrapolated && point.crossing.standing == CurveStanding::Extrapolated {
            return (format!("at least {now}"), format!("{unit}: under the table's first row{}", self.to_rooms()));
        }
        let standing = if is_extrapolated { ", extrapolated" } else { "" };
        let bound = bound_word(point.bound, ("at most ", "at least ")).unwrap_or_default();
        let own = self.running.anchored.as_ref().filter(|_| self.system.blower.other.is_none());
        let by = opinions::standing(own, self.after.is_none());
        (format!("{bound}{now}"), format!("{unit} ± {spread}{standing}{by}{}", self.to_rooms()))
    }

    /// Against the target, and while it heats the rise against the plate.
    fn reached(&self) -> Option<Told> {
        let point = self.system.runs()?;
        let rise = heat::rise_of_call(self.job, self.system, self.units);
        let stage = point.rise_of(self.system.blower.call);
        let is_out = |stage: &StageRise| stage.is_starved() || stage.side == Some(RiseSide::UnderRange);
        let is_hot = stage.is_some_and(is_out);
        let of_target = self.system.blower.target.map(|target| {
            let short = match point.per_ton.zip(target.per_ton()) {
                Some((_, wanted)) => format!("{} per ton", number(self.units.airflow_number(wanted), 0)),
                None => format!("{} {}", super::target(&target, self.units), self.units.airflow_unit()),
            };
            let in_band = match point.reach {
                Some(Reach::InBand) => Some(self.in_band(point, &target, &short)),
                Some(Reach::NotSaid) if point.open_by_air().is_some() => {
                    Some(format!("in the band of {short} or not: this air cannot tell"))
                }
                Some(Reach::Short | Reach::TooMuch) if point.is_near_edge(&target) => {
                    let (at_least, off, way) = off_target(point, &target);
                    Some(format!("{at_least}{off} {way}, out of the band, ± reaches into it"))
                }
                Some(Reach::NotSaid | Reach::Short | Reach::TooMuch) | None => None,
            };
            let all = [self.against(point, &target), self.against_figure(point, &target, &short)];
            all.into_iter().chain(in_band).map(|told| super::capital(&told)).collect::<Vec<_>>()
        });
        let tone = match point.reach {
            _ if is_hot || point.barred.is_some() => Tone::Bad,
            // Nothing is good of readings that cannot all be true.
            Some(Reach::InBand) if !self.answer.findings.contains(&Finding::CannotAllBeTrue) => Tone::Good,
            Some(Reach::Short | Reach::TooMuch) => Tone::Bad,
            Some(Reach::InBand | Reach::NotSaid) | None => Tone::Plain,
        };
        let wordings = match (of_target, rise) {
            (Some(all), Some(rise)) => {
                let both = all.first().map(|long| format!("{long}; {}", super::uncapital(&rise)));
                both.into_iter().chain([rise]).chain(all).collect()
            }
            (Some(all), None) => all,
            (None, Some(rise)) => vec![rise],
            (None, None) => vec![super::no_target_of(self.system.blower.call)],
        };
        Some(Told { wordings, tone })
    }

    /// "in the band of 400", with whatever takes the comfort out of it.
    fn in_band(&self, point: &TapPoint, target: &TargetBand, short: &str) -> String {
        match (self.but(), point.is_near_edge(target)) {
            ("", true) => "in the band, ± past its edge".to_owned(),
            ("", false) => format!("in the band of {short}"),
            (but, true) => format!("in the band{but}, ± past its edge"),
            (but, false) => format!("in the band{but}"),
        }
    }

    /// "0.52 return + 0.31 supply = 0.83 in. w.c. total external static".
    fn sides(&self) -> Option<Told> {
        let units = self.units;
        let tesp = if self.after.is_some() { self.system.point()?.tesp } else { self.running.now.tesp };
        let (total, unit) = (pressure_bare(tesp, units), units.pressure_unit());
        let bound = bound_word(self.system.bound, ("at least ", "at most ")).unwrap_or_default();
        let what = "total external static";
        let short = format!("{bound}{total} {unit} {what}");
        let is_split = matches!(self.running.sum.read, ReadDifference::Ports { .. }) && self.system.bound.is_exact();
        let wordings = match self.system.sides().filter(|_| is_split) {
            Some((before, after)) => {
                let add_up = adds_up((before, after), tesp, units);
                let sign = if after < Pressure::ZERO { show::MINUS } else { '+' };
                let (before, after) = (pressure_bare(before, units), pressure_bare(after.abs(), units));
                if add_up {
                    vec![
                        format!("{before} return {sign} {after} supply = {total} {unit} {what}"),
                        format!("{before} {sign} {after} = {total} {unit} {what}"),
                        format!("{before} {sign} {after} = {total} {unit}"),
                    ]
                } else {
                    let sign = if sign == '+' { String::new() } else { sign.to_string() };
                    vec![format!("{before} return, {sign}{after} supply: {total} {unit} {what}"), short]
                }
            }
            None => vec![short],
        };
        Some(Told { wordings, tone: Tone::Plain })
    }

    /// "rated maximum 0.70: over by 0.13".
    fn plate_line(&self) -> Option<Told> {
        let units = self.units;
        let tesp = self.system.point()?.tesp;
        let Some(plate) = self.system.plate() else {
            return Some(Told { wordings: vec!["no rated maximum given".to_owned()], tone: Tone::Plain });
        };
        let (worse, limit) = (pressure_bare(plate.worse, units), pressure_bare(plate.limit, units));
        let is_told = plate.deciding == Deciding::AtTableDensity && pressure_bare(tesp, units) != worse;
        let at_density = if is_told { format!("{worse} at the table's air density, ") } else { String::new() };
        let by = pressure_bare((plate.worse - plate.limit).abs(), units);
        let is_nothing = by == pressure_bare(Pressure::ZERO, units);
        let (told, tone) = match plate.side {
            PlateSide::Over if is_nothing => ("just over".to_owned(), Tone::Bad),
            PlateSide::Over => (format!("over by {by}"), Tone::Bad),
            PlateSide::AtLimit if is_nothing => ("just at it".to_owned(), Tone::Bad),
            PlateSide::AtLimit => {
                let side = if plate.worse > plate.limit { "over" } else { "under" };
                (format!("{side} by {by}, less than its ±"), Tone::Bad)
            }
            PlateSide::Under if is_nothing => ("just under".to_owned(), Tone::Good),
            PlateSide::Under => (format!("under by {by}"), Tone::Good),
        };
        let whole = format!("rated maximum {limit}: {at_density}{told}");
        // Judged at another density than the total over it is read at, the figure that is judged goes with it.
        let wordings = if is_told {
            let short = format!("rated {limit}: {worse} at the table's density, {told}");
            vec![whole, short, format!("{worse} at the table's density, rated {limit}")]
        } else {
            vec![whole, format!("rated {limit}: {told}")]
        };
        Some(Told { wordings, tone })
    }

    /// "1,200 cfm on tap 4, 347 per ton, 13 % short of 400, ± 5 %".
    fn air(&self) -> String {
        let call = self.system.blower.call;
        let with = self.after.map(|after| match changes::with_what(self.job, after) {
            what if call != self.job.set().call => format!("{what}, in {}: ", super::uncapital(call.name())),
            what if after.wish.is_some() => format!("{what}: "),
            what => format!("{what} "),
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

    fn tap(&self) -> String {
        let machine = self.system.blower.other.as_ref().map(|table| format!(" of {}", table.name));
        format!("{}{}", self.tap_bare(), machine.unwrap_or_default())
    }

    fn tap_bare(&self) -> String {
        let word = self.after.map_or_else(|| super::tap_word(self.job), |after| changes::word_then(self.job, after));
        format!("{word} {}", self.system.tap().unwrap_or_default())
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
        let as_found = super::visit::as_found(self.job);
        match self.running.system.runs().and_then(|point| point.below) {
            Some(below) => format!(" (below {} {as_found})", airflow_bare(below, self.units)),
            None => format!(" ({} {as_found})", airflow_bare(self.running.now.airflow, self.units)),
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
        let spread = format!("± {}", percent(point.spread.airflow / target.actual));
        match (point.reach, point.below) {
            (Some(Reach::NotSaid), None) => self.not_told(point, wanted),
            (Some(Reach::NotSaid), Some(below)) if below > target.high => {
                format!("short of {wanted}, within its band or over it: the table does not say")
            }
            (Some(Reach::NotSaid), Some(_)) => {
                format!("short of {wanted} or within its band: the table does not say")
            }
            (Some(Reach::InBand), _) => {
                let by = if point.is_near_edge(target) { ", but the ± reaches past its edge" } else { "" };
                let off = match percent(share.abs()) {
                    none if none == percent(0.0) => "on the target of".to_owned(),
                    off if share < 0.0 => format!("{off} under"),
                    off => format!("{off} over"),
                };
                format!("{off} {wanted}, {spread}: in the band{}{by}", self.but())
            }
            (Some(Reach::Short | Reach::TooMuch) | None, below) => {
                let (at_least, off, way) = off_target(point, target);
                let spread = below.map_or_else(|| format!(", {spread}"), |_| String::new());
                let than = if way == SHORT { "of" } else { "than" };
                format!("{at_least}{off} {way} {than} {wanted}{spread}{}", Self::just_out(point, target))
            }
        }
    }

    /// That the ± of a point out of the band reaches into it.
    fn just_out(point: &TapPoint, target: &TargetBand) -> &'static str {
        if point.is_near_edge(target) { ": out of the band, but the ± reaches into it" } else { "" }
    }

    /// What takes the comfort out of a point in the band: air that the rooms do not get, or a static that cannot be right.
    fn but(&self) -> &'static str {
        if self.after.is_none() && is_little(self.answer) {
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
        let as_found = super::visit::as_found(self.job);
        let total = match (self.after, self.system.point()) {
            (Some(_), Some(point)) => {
                format!("{} ({} {as_found})", pressure(point.tesp, units), pressure_bare(found, units))
            }
            (None, _) => pressure(found, units).replacen(&pressure_bare(found, units), &sum, 1),
            (Some(_), None) => return format!("Total external static {sum} {} {as_found}", units.pressure_unit()),
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
            PlateSide::AtLimit => {
                let by = pressure_bare((plate.worse - plate.limit).abs(), units);
                let side = if plate.worse > plate.limit { "over" } else { "under" };
                if by == pressure_bare(Pressure::ZERO, units) {
                    format!("{at_density}, at the rated maximum of {limit}")
                } else {
                    format!("{at_density}, {side} the rated maximum of {limit} by {by}, less than its ±")
                }
            }
            PlateSide::Under => {
                let stop = if at_density.is_empty() { ',' } else { ';' };
                format!("{at_density}{stop} rated maximum {limit}")
            }
        }
    }
}

/// How far an airflow is off a target: "at least " where only its bound is known, "13 %", and which way.
fn off_target(point: &TapPoint, target: &TargetBand) -> (&'static str, String, &'static str) {
    let share = point.below.unwrap_or(point.airflow()) / target.actual - 1.0;
    let is_exact = point.bound.is_exact() && point.below.is_none();
    let way = if point.reach == Some(Reach::TooMuch) { "more" } else { SHORT };
    (if is_exact { "" } else { "at least " }, percent(share.abs()), way)
}

/// Less than a target.
const SHORT: &str = "short";

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
    format!("{} {}", show::spread_bare(spread, units), units.airflow_unit())
}

/// "0.52 + 0.31 = 0.83": what was read on both sides, where that is the whole of it and adds up as it is shown; else the total.
fn sum(running: &Running, units: UnitSystem) -> String {
    let total = pressure_bare(running.now.tesp, units);
    let ReadDifference::Ports { before, after } = running.sum.read else {
        return total;
    };
    let (first, second) = (Pressure::ZERO - before.1, after.1);
    if !running.sum.bound().is_exact() || !adds_up((first, second), running.now.tesp, units) {
        return total;
    }
    let sign = if second < Pressure::ZERO { show::MINUS } else { '+' };
    format!("{} {sign} {} = {total}", pressure_bare(first, units), pressure_bare(second.abs(), units))
}

/// True where two pressures as they are shown make the total as it is shown.
fn adds_up((first, second): (Pressure, Pressure), total: Pressure, units: UnitSystem) -> bool {
    let shown = |pressure| show::pressure_as_shown(pressure, units);
    (shown(first) + shown(second) - shown(total)).abs() <= SAME
}
