//! The commissioning line in words: what was found, against which limit of which source, and how it is graded.

use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::verdicts::commissioning::{Commissioning, Figure, Grade};
use crate::model::verdicts::system::Running;
use crate::model::wording::{figures, visit};
use crate::units::show::{number, percent, pressure_bare, pressure_spread_bare};
use crate::units::{Airflow, UnitSystem};

/// What stands over it, with the readings that are graded: "Commissioning, as found".
pub fn title(job: &Job) -> String {
    format!("Commissioning, {}", visit::as_found(job))
}

/// Where the limit of the static comes from.
pub const PLATE: &str = "The machine's rating plate, as its table has it";

/// One line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What is graded.
    pub what: &'static str,
    /// What was found, with its ±.
    pub found: String,
    /// What it may be.
    pub limit: String,
    /// Where the limit comes from.
    pub source: String,
    /// How it is graded, in words.
    pub grade: &'static str,
}

/// The word for a grade.
pub const fn word(grade: Grade) -> &'static str {
    match grade {
        Grade::Pass => "pass",
        Grade::Fail => "fail",
        Grade::CannotTell => "cannot tell within the uncertainty",
    }
}

/// Every line of a job as it was read.
pub fn lines(job: &Job, running: &Running, units: UnitSystem) -> Vec<Line> {
    let Some(told) = Commissioning::of(job, running) else {
        return Vec::new();
    };
    let airflow = told.airflow.map(|figure| Line {
        what: "Airflow against the target",
        found: format!("{} % ± {}", signed(figure.value), percent(figure.spread)),
        limit: format!("within ±{}", percent(figure.limit)),
        source: figures::source(job, JobNumber::CommissionedAirflow),
        grade: word(figure.grade),
    });
    let source = || figures::source(job, told.power_limit);
    let each = |per_cfm: f64| number(per_cfm / units.airflow_number(Airflow::from_cfm(1.0)), 2);
    let unit = told.power_limit.number().quantity.unit(units);
    let power = |Figure { value, spread, limit, grade }: Figure| Line {
        what: "Blower's watts, as read",
        found: format!("{} {unit} ± {}", each(value), each(spread)),
        limit: format!("at most {} {unit}", each(limit)),
        source: source(),
        grade: word(grade),
    };
    let unread = || Line {
        what: "Blower's watts",
        found: "not read".to_owned(),
        limit: told.power_limit.of(job).map(|limit| format!("at most {} {unit}", each(limit))).unwrap_or_default(),
        source: source(),
        grade: "cannot tell: read the watts",
    };
    let power = told.power.map_or_else(unread, power);
    let rating = told.rating.map(|(plate, spread, grade)| Line {
        what: "Total external static against the rating",
        found: format!(
            "{} {} ± {}",
            pressure_bare(plate.worse, units),
            units.pressure_unit(),
            pressure_spread_bare(spread, units)
        ),
        limit: format!("at most {} {}", pressure_bare(plate.limit, units), units.pressure_unit()),
        source: PLATE.to_owned(),
        grade: word(grade),
    });
    airflow.into_iter().chain([power]).chain(rating).collect()
}

/// "+3", "−13".
fn signed(fraction: f64) -> String {
    let told = number(fraction * 100.0, 0);
    if fraction > 0.0 && told != "0" { format!("+{told}") } else { told }
}

/// The same as sentences.
pub fn sentences(job: &Job, running: &Running, units: UnitSystem) -> Vec<(Grade, String)> {
    let grades = [Grade::Pass, Grade::Fail];
    let told = |line: Line| {
        let grade = grades.into_iter().find(|grade| word(*grade) == line.grade).unwrap_or(Grade::CannotTell);
        (grade, format!("{}: {}, {}: {} ({})", line.what, line.found, line.limit, line.grade, line.source))
    };
    lines(job, running, units).into_iter().map(told).collect()
}
