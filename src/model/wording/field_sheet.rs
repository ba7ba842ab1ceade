//! The field sheet: what is written down where the machine stands, for a job's own machine and air path, or for one that nobody has seen yet.

use crate::model::answer::Answer;
use crate::model::facts::air_path::{AirPath, ElementKind, Port, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::blower::{Call, EquipmentKind, MotorFamily};
use crate::model::facts::caution::Caution;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::readings::ReadAt;
use crate::model::wording::paper::{self, read_at};
use crate::model::wording::{capital, cautions, ended, tap_word};
use crate::units::UnitSystem;

/// What the sheet is called.
pub const NAME: &str = "Field sheet";

/// How it is used.
pub const USE: &str = "One sheet for each call, tap and state of the path: tick what ran while the gauge was read.";

/// Lines for taps of a machine that nobody has seen yet.
const TAPS: usize = 6;
/// Ports besides the two at the blower, of a path that nobody has seen yet.
const MORE_PORTS: usize = 2;
/// Looks at each place.
const LOOKS: usize = 3;
/// Grilles on a line.
const GRILLES: usize = 5;
/// Lines for notes.
const NOTES: usize = 2;

/// A rule to write on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rule {
    /// What stands before it.
    pub before: String,
    /// What is on it already.
    pub known: String,
    /// The unit after it.
    pub unit: &'static str,
}

/// What is filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: it is told.
    Told(String),
    /// Boxes to tick; one without a word has a rule for it.
    Ticks(Vec<String>),
    /// Rules to write on, side by side.
    Rules(Vec<Rule>),
}

/// A line of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is of.
    pub name: String,
    /// More of it, quiet under the name.
    pub under: String,
    /// What is filled in beside that.
    pub fill: Fill,
}

impl Line {
    fn of(name: &str, fill: Fill) -> Self {
        Self { name: name.to_owned(), under: String::new(), fill }
    }

    fn rules(name: &str, rules: impl IntoIterator<Item = Rule>) -> Self {
        Self::of(name, Fill::Rules(rules.into_iter().collect()))
    }

    fn ticks<'a>(name: &str, words: impl IntoIterator<Item = &'a str>) -> Self {
        Self::of(name, Fill::Ticks(words.into_iter().map(str::to_owned).collect()))
    }
}

/// Lines under one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chapter {
    /// The heading.
    pub heading: String,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// Every chapter, in the order in which one goes about it.
pub fn chapters(job: &Job, units: UnitSystem) -> Vec<Chapter> {
    let chapter = |heading: &str, lines| Chapter { heading: heading.to_owned(), lines };
    let statics = format!(
        "Static pressure against the rooms, {}, with its sign: minus before the blower, plus after it",
        units.pressure_unit()
    );
    vec![
        chapter("The job and its machine", [about(job), machine(job, units)].concat()),
        chapter("While the gauge is read", state(job)),
        chapter(&statics, pressures(job)),
        chapter("Air, electricity and heat", conditions(job, units)),
        chapter("Airflow at the grilles, and notes", grilles_and_notes(units)),
    ]
}

/// What has to be minded up there, the gravest first: that of drilling in full, which has to be read before a panel comes off, the others in short, those of heat and drill in lines of their own.
pub fn minded(job: &Job, answer: &Answer) -> Vec<String> {
    let mut all = cautions::of_job(job, answer);
    // What the sheet itself asks for: volts and watts, a filter out of its slot.
    for asked in [Caution::LiveCircuits, Caution::Filter] {
        if !all.contains(&asked) {
            all.push(asked);
        }
    }
    let told = |caution| {
        let told = cautions::told(caution, job, answer);
        let said = if caution == Caution::Drilling { told.sentence } else { told.short };
        ended(&format!("{}: {said}", told.word))
    };
    let is_alone = |caution: &Caution| matches!(caution, Caution::NoHeat | Caution::Drilling);
    let (alone, others): (Vec<_>, Vec<_>) = all.into_iter().partition(is_alone);
    let others: Vec<String> = others.into_iter().map(told).collect();
    alone.into_iter().map(told).chain([others.join(" ")]).collect()
}

fn rule(before: &str) -> Rule {
    Rule { before: before.to_owned(), ..Rule::default() }
}

fn known(known: &str) -> Rule {
    Rule { known: known.to_owned(), ..Rule::default() }
}

fn number(of: JobNumber, units: UnitSystem) -> Rule {
    let number = of.number();
    Rule { unit: number.quantity.unit(units), ..rule(&number.name.to_lowercase()) }
}

fn about(job: &Job) -> Vec<Line> {
    vec![
        Line::rules("Job", [known(&job.title)]),
        Line::rules("Place", [known(&job.place)]),
        Line::rules("Date and time", [rule(""), rule("technician")]),
    ]
}

fn machine(job: &Job, units: UnitSystem) -> Vec<Line> {
    let mut lines = match &job.machine {
        Some(table) => vec![Line::of("Machine", Fill::Told(paper::machine(table, units)))],
        None => vec![
            Line::ticks("Machine", EquipmentKind::ALL.map(EquipmentKind::name)),
            Line::ticks("Motor", MotorFamily::ALL.map(MotorFamily::name)),
        ],
    };
    if !job.path.elements.is_empty() {
        let names: Vec<String> = job.path.elements.iter().map(|element| element.name().to_lowercase()).collect();
        lines.push(Line::of("Air path", Fill::Told(capital(&names.join(" › ")))));
    }
    let plate = Rule { unit: units.pressure_unit(), ..rule("rated maximum") };
    lines.push(Line::rules("On its plate", [rule("model"), rule("serial"), plate]));
    lines
}

fn state(job: &Job) -> Vec<Line> {
    let taps = job.machine.iter().flat_map(|table| &table.taps).map(|tap| tap.name.as_str());
    let taps: Vec<&str> = if job.machine.is_some() { taps.collect() } else { vec![""; TAPS] };
    let path = match &job.machine {
        Some(_) => parts(&job.path),
        None => [ElementKind::Coil, ElementKind::Filter, ElementKind::Heater]
            .into_iter()
            .flat_map(|kind| states(kind, kind.name()))
            .collect(),
    };
    let mut lines = vec![
        Line::ticks("Call", Call::ALL.map(Call::name)),
        Line::ticks(&format!("{} that runs", capital(tap_word(job))), taps),
    ];
    lines.extend((!path.is_empty()).then(|| Line::of("State of the path", Fill::Ticks(path))));
    lines
}

/// What the parts of a path can be while it is read.
fn parts(path: &AirPath) -> Vec<String> {
    let all = path.all().into_iter();
    all.flat_map(|element| states(element.kind, element.name())).collect()
}

/// "Filter in its slot" and "filter out", of a part that can be otherwise while the path is read; nothing of any other.
fn states(kind: ElementKind, name: &str) -> Vec<String> {
    let [one, other] = match kind {
        ElementKind::Coil => ["wet", "dry"],
        ElementKind::Filter => ["in its slot", "out"],
        ElementKind::Heater => ["fitted", "not fitted"],
        ElementKind::Louvre
        | ElementKind::ReturnGrille
        | ElementKind::ReturnDuct
        | ElementKind::Blower
        | ElementKind::HeatExchanger
        | ElementKind::SupplyDuct
        | ElementKind::Registers
        | ElementKind::AirCleaner
        | ElementKind::Humidifier
        | ElementKind::Damper
        | ElementKind::Leak
        | ElementKind::Bypass
        | ElementKind::SideBySide => return Vec::new(),
    };
    [one, other].map(|state| format!("{} {state}", name.to_lowercase())).to_vec()
}

fn looks() -> impl Iterator<Item = Rule> {
    (1..=LOOKS).map(|look| rule(&look.to_string()))
}

fn pressures(job: &Job) -> Vec<Line> {
    let path = &job.path;
    let mut lines: Vec<Line> = if path.ports.is_empty() {
        let at_blower = [RETURN_PORT, SUPPLY_PORT].map(|port| read_at(path, ReadAt::Port(port)));
        let others = (0..MORE_PORTS).map(|_| "Static at another port".to_owned());
        let after = |name: String| Line::rules(&name, std::iter::once(rule("after the")).chain(looks()));
        at_blower.into_iter().chain(others).map(after).collect()
    } else {
        path.ports.iter().map(|port| at_port(path, port)).collect()
    };
    lines.push(Line::rules(&read_at(path, ReadAt::Total), looks()));
    let across = [ElementKind::Filter, ElementKind::Coil];
    let across = across.into_iter().filter(|kind| path.elements.is_empty() || path.first(*kind).is_some());
    let across: Vec<Rule> = across.map(|kind| rule(&kind.name().to_lowercase())).collect();
    lines.extend((!across.is_empty()).then(|| Line::rules("Read straight across", across)));
    lines
}

/// A port by the name that the window has for it; where it stands under that.
fn at_port(path: &AirPath, port: &Port) -> Line {
    let after = path.said(port.after);
    let under = match port.id {
        RETURN_PORT => format!("return, after the {after}"),
        SUPPLY_PORT => format!("supply, after the {after}"),
        _ => String::new(),
    };
    Line { under, ..Line::rules(&read_at(path, ReadAt::Port(port.id)), looks()) }
}

fn conditions(job: &Job, units: UnitSystem) -> Vec<Line> {
    let of = |name: &str, numbers: &[JobNumber]| Line::rules(name, numbers.iter().map(|of| number(*of, units)));
    let kind = job.machine.as_ref().map(|table| table.kind);
    let temperature = |before| Rule { unit: units.temperature_unit(), ..rule(before) };
    let heats_by_current = kind.is_none_or(|kind| !kind.burns());
    let electric = [JobNumber::Voltage, JobNumber::Power, JobNumber::HeaterAmps];
    let mut lines = vec![
        Line::rules("Temperatures", [temperature("return air"), temperature("supply air")]),
        of("Air", &[JobNumber::Altitude, JobNumber::Humidity]),
        of("Electricity", if heats_by_current { &electric } else { &electric[..2] }),
    ];
    if kind.is_none_or(EquipmentKind::burns) {
        lines.push(of("Gas meter", &[JobNumber::MeterSeconds, JobNumber::MeterDial, JobNumber::HeatingValue]));
    }
    lines
}

fn grilles_and_notes(units: UnitSystem) -> Vec<Line> {
    let row = |name: &str, first: usize| {
        let grilles = (first..first + GRILLES).map(|grille| rule(&grille.to_string()));
        Line::rules(name, grilles)
    };
    let [supply, ret] = ["Supply", "Return"].map(|side| format!("{side} grilles, {}", units.airflow_unit()));
    let grilles = [row(&supply, 1), row("", 1 + GRILLES), row(&ret, 1)];
    let notes = (0..NOTES).map(|line| Line::rules(if line == 0 { "Notes" } else { "" }, [rule("")]));
    grilles.into_iter().chain(notes).collect()
}
