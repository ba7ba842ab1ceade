//! What only paper says: what was measured and how, how sure it is, and what it is worth.

use crate::model::answer::Answer;
use crate::model::facts::air_path::{AirPath, RETURN_PORT, SUPPLY_PORT};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::costs::Costs;
use crate::model::facts::day::day;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::facts::readings::{CoilState, ReadAt, Reading};
use crate::model::verdicts::system::Running;
use crate::model::wording::{capital, changes, figures, tap_word, target, visit};
use crate::units::show::{airflow, number, pressure, pressure_bare, pressure_signed, spread_bare, trimmed};
use crate::units::{Pressure, UnitSystem};

/// A fact: what it is of, and what is told of it.
pub type Fact = (String, String);

/// For what and until when a report holds.
pub const VALID: &str = "This holds for the house, the machine and the readings named here, as they were when the readings were taken. After any work, read again: statics, watts or amps, and temperature rise, in heating and in cooling.";

/// How long prices hold; nothing where nobody says.
pub fn prices_hold(costs: &Costs) -> Option<String> {
    let days = costs.valid_days.map(|days| {
        let unit = if (days - 1.0).abs() < f64::EPSILON { "day" } else { "days" };
        format!("for {} {unit} from the day that the technician signs below", trimmed(days, 1))
    });
    // What is no day of the calendar is no promise.
    let is_until = !costs.valid_until.is_empty() && day(&costs.valid_until).is_ok();
    let until = is_until.then(|| format!("until {}", costs.valid_until));
    let told: Vec<String> = days.into_iter().chain(until).collect();
    (!told.is_empty()).then(|| format!("Prices hold {}.", told.join(", at the latest ")))
}

/// What stands under the lines to be signed on.
pub fn signed(job: &Job) -> Vec<&'static str> {
    let both = ["Technician, date", "Customer, date"];
    let chosen = (job.options.count() > 1).then_some("Option chosen");
    chosen.into_iter().chain(both).collect()
}

/// What a report is and is not.
pub const ADVISES: &str = "Tapcross advises; it does not certify. The maker's instructions, the rating plate, local codes and a licensed practitioner come first.";

/// The mark of a job whose house and machine nobody has.
pub const INVENTED: &str = "invented for illustration";

/// The numbers besides pressures that are read or stated of a house.
const READ: [JobNumber; 18] = [
    JobNumber::OutdoorUnit,
    JobNumber::Altitude,
    JobNumber::Temperature,
    JobNumber::Humidity,
    JobNumber::StationPressure,
    JobNumber::Voltage,
    JobNumber::Power,
    JobNumber::MeasuredRise,
    JobNumber::HeatInput,
    JobNumber::BurnerEfficiency,
    JobNumber::HeaterAmps,
    JobNumber::PlateAirflow,
    JobNumber::PlateDrop,
    JobNumber::UsualStatic,
    JobNumber::PlateStatic,
    JobNumber::ReturnLength,
    JobNumber::SupplyLength,
    JobNumber::DesignStatic,
];

/// The place of a reading: "Static before the blower".
pub fn read_at(path: &AirPath, at: ReadAt) -> String {
    match at {
        ReadAt::Port(RETURN_PORT) => "Static before the blower".to_owned(),
        ReadAt::Port(SUPPLY_PORT) => "Static after the blower".to_owned(),
        ReadAt::Total => "Total external static".to_owned(),
        ReadAt::Port(port) => {
            let after = path.port(port).and_then(|port| path.name_of(port.after)).unwrap_or("path");
            format!("Static after the {}, port {}", after.to_lowercase(), port.0)
        }
        ReadAt::Across(element) => {
            format!("Read across the {}", path.name_of(element).unwrap_or("part").to_lowercase())
        }
    }
}

/// Name, kind, motor and rated maximum of a table: "Name: Furnace, PSC, rated maximum 0.50 in. w.c.".
pub fn machine(table: &BlowerTable, units: UnitSystem) -> String {
    let plate = table.rated_maximum.map(|plate| format!(", rated maximum {}", pressure(plate, units)));
    format!("{}: {}, {}{}", table.name, table.kind.name(), table.motor.name(), plate.unwrap_or_default())
}

/// What was measured and how, and what follows of airflow and static with its ± and its standing.
pub fn measured(job: &Job, answer: &Answer, units: UnitSystem) -> Vec<Fact> {
    let fact = |name: &str, told: String| (name.to_owned(), told);
    let mut facts = Vec::new();
    if let Some(table) = &job.machine {
        facts.push(fact("Machine", machine(table, units)));
        facts.extend((!table.source.is_empty()).then(|| fact("Its table", table.source.clone())));
    }
    let tap = job.tap_in_use().map(|tap| format!(", {} {tap}", tap_word(job))).unwrap_or_default();
    facts.push(fact("Call", format!("{}{tap}", job.set().call.name())));
    facts.extend(job.set().readings.iter().filter_map(|reading| one_reading(job, reading, units)));
    facts.push(fact("State of the path", state(job)));
    facts.extend(conditions(job, units).map(|told| fact("Conditions", told)));
    let wanted = answer.blower().target;
    facts.extend(wanted.map(|wanted| fact("Target", format!("{} {}", target(&wanted, units), units.airflow_unit()))));
    facts.extend(answer.point().into_iter().flat_map(|running| solved(running, units)));
    facts
}

/// "−0.52 in. w.c. after the filter, mean of −0.52, −0.51, −0.53".
fn one_reading(job: &Job, reading: &Reading, units: UnitSystem) -> Option<Fact> {
    let average = reading.average()?;
    let is_signed = matches!(reading.at, ReadAt::Port(_));
    let bare = |value: Pressure| if is_signed { pressure_signed(value, units) } else { pressure_bare(value, units) };
    let after = match reading.at {
        ReadAt::Port(port @ (RETURN_PORT | SUPPLY_PORT)) => job
            .path
            .port(port)
            .and_then(|port| job.path.name_of(port.after))
            .map(|name| format!(", after the {}", name.to_lowercase())),
        ReadAt::Port(_) | ReadAt::Total | ReadAt::Across(_) => None,
    };
    let looks = (reading.looks.len() > 1).then(|| {
        let all: Vec<String> = reading.looks.iter().map(|look| bare(*look)).collect();
        format!(", mean of {}", all.join(", "))
    });
    let told = format!(
        "{} {}{}{}",
        bare(average),
        units.pressure_unit(),
        after.unwrap_or_default(),
        looks.unwrap_or_default()
    );
    Some((read_at(&job.path, reading.at), told))
}

/// "Coil wet, filter out".
fn state(job: &Job) -> String {
    let set = job.set();
    let coil = if set.coil == CoilState::Wet { "coil wet" } else { "coil dry" };
    let out: Vec<String> = set.parts_out.iter().map(|id| job.path.said(*id)).collect();
    let out = if out.is_empty() { "all parts in place".to_owned() } else { format!("{} out", changes::listed(&out)) };
    let repaired = if set.after_repair { ", after the repair" } else { "" };
    let otherwise = if set.otherwise { ", something else different" } else { "" };
    format!("{}, {out}{otherwise}{repaired}", capital(coil))
}

/// Every number besides the pressures that was read or stated of the house.
fn conditions(job: &Job, units: UnitSystem) -> Option<String> {
    let told = READ.into_iter().filter_map(|of| valued(job, of, units)).collect::<Vec<_>>();
    (!told.is_empty()).then(|| told.join(", "))
}

fn valued(job: &Job, of: JobNumber, units: UnitSystem) -> Option<String> {
    let number = of.number();
    Some(format!("{} {}", number.name.to_lowercase(), number.quantity.written(of.of(job)?, units)))
}

/// Airflow and static with ± and standing.
fn solved(running: &Running, units: UnitSystem) -> [Fact; 2] {
    let (curve, path) = running.standing.words();
    let spreads = &running.system.spreads;
    let flow = airflow(running.now.airflow, units);
    let flow = format!("{flow} ± {}, 95 %: curve {curve}, path {path}", spread_bare(spreads.now, units));
    let (tesp, of_static) = (pressure(running.now.tesp, units), running.static_standing().path.word());
    // ± has a digit more than the static, for it is often under what that one shows.
    let spread = number(units.pressure_number(spreads.tesp), units.pressure_decimals() + 1);
    let total = format!("{tesp} ± {spread}, 95 %: {of_static}");
    [("Airflow", flow), ("Total external static", total)].map(|(name, told)| (name.to_owned(), told))
}

/// The steps of a visit: each set with its static and airflow, what changed, and what all say together; nothing of one set alone.
pub fn visited(job: &Job, answer: &Answer, units: UnitSystem) -> Vec<String> {
    let Some(told) = &answer.visit else {
        return Vec::new();
    };
    let unit = format!("{} · {}", units.pressure_unit(), units.airflow_unit());
    let set = |index: usize| {
        let figures = || Some(format!("{} ({unit})", visit::figures(told.sets.get(index)?, units)));
        let said = visit::step(job, told, index, units).or_else(figures).unwrap_or_default();
        let name = visit::name(job, index);
        let number = index + 1;
        // What changed often is the name.
        if said.starts_with(name.trim_start_matches(&format!("{number} "))) {
            format!("{number} {said}")
        } else {
            format!("{name}: {said}")
        }
    };
    (0..job.sets.len()).map(set).chain(visit::together(job, answer, units)).collect()
}

/// What ± reckons with, and the limits that findings are held against.
pub fn accuracy(job: &Job, units: UnitSystem) -> String {
    let told = |of| {
        let valued = valued(job, of, units)?;
        let source = figures::own_sources(job, [of]);
        Some(source.map_or_else(|| valued.clone(), |source| format!("{valued} ({source})")))
    };
    let told = JobNumber::figures().filter_map(told).collect::<Vec<_>>();
    format!("± is 95 % (k = 2). Limits and accuracy taken: {}.", told.join("; "))
}
