//! Readings and data that contradict one another along the path: questions that need the path's own parts.

use crate::model::facts::air_path::PortId;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Field, Problem};
use crate::model::facts::readings::ReadAt;
use crate::model::facts::table_check::Severity;
use crate::model::path::parts::astray::{Astray, Why, astray};
use crate::model::path::parts::{Part, Segment, segments};
use crate::model::path::tesp::{ReadDifference, StaticBudget};
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// What a widening may give back: the velocity pressure of 900 fpm, the most that trunk ducts are laid out for (ANSI/ACCA 1 Manual D, recalled from memory).
const WIDENING: Pressure = Pressure::from_in_wc(0.05);

/// Questions about static that rises along the flow between two ports.
pub fn rising_pressures(job: &Job, read: &ReadDifference) -> Vec<Problem> {
    let place = |port: Option<PortId>| {
        let after = port.and_then(|id| job.path.name_of(job.path.port(id)?.after));
        after.map_or_else(|| "the rooms".to_owned(), |name| format!("the port after the {}", name.to_lowercase()))
    };
    let two_ports = job.accuracy.port_offset * 2.0;
    segments::rises(job, read)
        .into_iter()
        .map(|rise| {
            let why = if rise.by <= WIDENING + two_ports {
                "a widening duct or the two readings may explain it."
            } else {
                "no widening explains that; is a sign, a hose or the place of a port wrong?"
            };
            let by = show::pressure(rise.by, UnitSystem::InchPound);
            let message = format!(
                "Static rises by {by} along the flow from {} to {}: {why} What lies about it is taken as one stretch",
                place(rise.from),
                place(rise.to)
            );
            Problem { field: Field::Path, severity: Severity::Question, message }
        })
        .collect()
}

/// Questions about parts whose data ask for more, or less, than was read over them; parts inside the rating that ask for more than the whole side has.
pub fn contradicted_data(job: &Job, segments: &[Segment], budget: &StaticBudget, airflow: Airflow) -> Vec<Problem> {
    let two_ports = job.accuracy.port_offset * 2.0;
    let question = |message| Problem { field: Field::Path, severity: Severity::Question, message };
    let of_segments = segments.iter().filter(|segment| segment.is_contradicted(two_ports));
    let told = of_segments.map(|segment| question(contradiction(job, segment, airflow)));
    told.chain(inside_over_reading(budget, airflow).map(question)).collect()
}

/// "Filter: 0.24 in. w.c. by data at 1,030 cfm, but 0.18 was read …".
fn contradiction(job: &Job, segment: &Segment, airflow: Airflow) -> String {
    let names: Vec<&str> = segment.known.iter().filter_map(|id| job.path.name_of(*id)).collect();
    let units = UnitSystem::InchPound;
    format!(
        "{}: {} by data at {}, but {} was read over the stretch; the data, the reading or the place of a port is wrong. What was read counts",
        names.join(" and "),
        show::pressure(segment.known_drop, units),
        show::airflow(airflow, units),
        show::pressure_bare(segment.read, units),
    )
}

/// A side that would take less than nothing, though its port reads as it should.
fn inside_over_reading(budget: &StaticBudget, airflow: Airflow) -> Option<String> {
    let ReadDifference::Ports { before: (_, before), after: (_, after) } = budget.read else {
        return None;
    };
    let taken = budget.return_side(airflow)?;
    let sides = [("before", -before, taken), ("after", after, budget.tesp(airflow) - taken)];
    let (side, read, left) =
        sides.into_iter().find(|(_, read, left)| *read > Pressure::ZERO && *left < Pressure::ZERO)?;
    let units = UnitSystem::InchPound;
    Some(format!(
        "Inside the rating {} is taken {side} the blower by data at {}, more than the {} that its port reads; the data, the reading or the place of the port is wrong. The whole path is taken as one stretch",
        show::pressure(read - left, units),
        show::airflow(airflow, units),
        show::pressure_bare(read, units),
    ))
}

/// Questions about readings that part nothing: within ways side by side, or within the machine.
pub fn readings_astray(job: &Job, read: &ReadDifference, parts: &[Part]) -> Vec<Problem> {
    astray(job, read, parts)
        .into_iter()
        .filter_map(|Astray { port, why }| {
            let after = job.path.name_of(job.path.port(port)?.after)?.to_lowercase();
            let read = job.set().at(ReadAt::Port(port))?.average()?;
            let by = |pressure| show::pressure(pressure, UnitSystem::InchPound);
            let why = match why {
                Why::TooHigh(much) => format!("which is {} higher than before them", by(much)),
                Why::TooLow(much) => format!("which is {} lower than behind the ways", by(much)),
                Why::AtTheEnd => "where the ways join".to_owned(),
                Why::WithinMachine => String::new(),
            };
            let read = show::pressure_signed(read, UnitSystem::InchPound);
            let message = if why.is_empty() {
                format!("The port after the {after}, which reads {read}, stands between the two ports that the machine is read across; nothing is worked out from it")
            } else {
                format!("The port after the {after}, in one of several ways side by side, reads {read}, {why}; nothing is split by it")
            };
            Some(Problem { field: Field::Path, severity: Severity::Question, message })
        })
        .collect()
}
