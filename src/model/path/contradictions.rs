//! Readings and data that contradict one another along the path: questions that need the path's own parts.

use crate::model::facts::air_path::PortId;
use crate::model::facts::air_path::fault::Side;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Field, Oddity, Problem};
use crate::model::facts::readings::ReadAt;
use crate::model::facts::severity::Severity;
use crate::model::path::parts::astray::{Astray, astray};
use crate::model::path::parts::{Part, Segment, segments};
use crate::model::path::tesp::{ReadDifference, StaticSum};
use crate::units::{Airflow, Pressure};

/// What a widening may give back: the velocity pressure of 900 fpm, the most that trunk ducts are laid out for (ANSI/ACCA 1 Manual D, recalled from memory).
const WIDENING: Pressure = Pressure::from_in_wc(0.05);

const fn question(what: Oddity) -> Problem {
    Problem { field: Field::Path, severity: Severity::Question, what }
}

/// The name of the element before a port, as it stands within a sentence.
fn name_before(job: &Job, port: PortId) -> Option<String> {
    Some(job.path.name_of(job.path.port(port)?.after)?.to_lowercase())
}

/// Questions about static that rises along the flow between two ports.
pub fn rising_pressures(job: &Job, read: &ReadDifference) -> Vec<Problem> {
    let place = |port: Option<PortId>| port.and_then(|port| name_before(job, port));
    let two_ports = job.accuracy.port_offset * 2.0;
    let rises = segments::rises(job, read).into_iter().map(|rise| Oddity::Rises {
        by: rise.by,
        from: place(rise.from),
        to: place(rise.to),
        may_be_a_widening: rise.by <= WIDENING + two_ports,
    });
    rises.map(question).collect()
}

/// Questions about parts whose data ask for more, or less, than was read over them; parts inside the rating that ask for more than the whole side has.
pub fn contradicted_data(job: &Job, segments: &[Segment], sum: &StaticSum, airflow: Airflow) -> Vec<Problem> {
    let two_ports = job.accuracy.port_offset * 2.0;
    let of_segments = segments.iter().filter(|segment| segment.is_contradicted(two_ports));
    let told = of_segments.map(|segment| Oddity::ContradictedData {
        parts: segment.known.iter().filter_map(|id| job.path.name_of(*id)).map(str::to_owned).collect(),
        by_data: segment.known_drop,
        airflow,
        read: segment.read,
    });
    told.chain(inside_over_reading(sum, airflow)).map(question).collect()
}

/// A side that would take less than nothing, though its port reads as it should.
fn inside_over_reading(sum: &StaticSum, airflow: Airflow) -> Option<Oddity> {
    let ReadDifference::Ports { before: (_, before), after: (_, after) } = sum.read else {
        return None;
    };
    let taken = sum.return_side(airflow)?;
    let sides = [(Side::Before, -before, taken), (Side::After, after, sum.tesp(airflow) - taken)];
    let (side, read, left) =
        sides.into_iter().find(|(_, read, left)| *read > Pressure::ZERO && *left < Pressure::ZERO)?;
    Some(Oddity::InsideOverReading { side, taken: read - left, airflow, read })
}

/// Questions about readings that part nothing: within ways side by side, or within the machine.
pub fn readings_astray(job: &Job, read: &ReadDifference, parts: &[Part]) -> Vec<Problem> {
    let told = astray(job, read, parts).into_iter().filter_map(|Astray { port, why }| {
        let read = job.set().at(ReadAt::Port(port))?.average()?;
        Some(Oddity::PartsNothing { after: name_before(job, port)?, read, why })
    });
    told.map(question).collect()
}
