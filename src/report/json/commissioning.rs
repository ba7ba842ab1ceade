//! The commissioning line: figures, their limits and sources, and how each is graded.

use super::part::part;
use crate::model::facts::job::Job;
use crate::model::facts::job_number::JobNumber;
use crate::model::verdicts::commissioning::{Commissioning, Figure, Grade};
use crate::model::verdicts::plate::PlateVerdict;
use crate::model::verdicts::system::Running;
use crate::model::wording::commissioning::PLATE;
use crate::model::wording::figures;
use crate::units::Pressure;

const fn word(grade: Grade) -> &'static str {
    match grade {
        Grade::Pass => "pass",
        Grade::Fail => "fail",
        Grade::CannotTell => "cannot_tell",
    }
}

/// Of a job as it was read; nothing for a test.
pub(super) fn commissioning(job: &Job, running: &Running) -> Option<CommissioningPart> {
    Commissioning::of(job, running).as_ref().map(|of| told(job, of))
}

part! {
    fn told(job: &Job, of: &Commissioning) -> CommissioningPart [
        let limit = of.power_limit;
    ] {
        airflow: Option<AirflowGraded> = of.airflow.as_ref().map(|figure| airflow(job, figure)),
        power: Option<PowerGraded> = of.power.as_ref().map(|figure| power(job, figure, limit)),
        rating: Option<RatingGraded> = of.rating.as_ref().map(|(plate, spread, grade)| rating(plate, *spread, *grade)),
    }
}

part! {
    fn airflow(job: &Job, figure: &Figure) -> AirflowGraded {
        grade: &'static str = word(figure.grade),
        off_target_fraction: f64 = figure.value,
        u95_off_target_fraction: f64 = figure.spread,
        limit_fraction: f64 = figure.limit,
        source: String = figures::source(job, JobNumber::CommissionedAirflow),
    }
}

part! {
    fn power(job: &Job, figure: &Figure, limit: JobNumber) -> PowerGraded {
        grade: &'static str = word(figure.grade),
        watts_per_cfm: f64 = figure.value,
        u95_watts_per_cfm: f64 = figure.spread,
        limit_watts_per_cfm: f64 = figure.limit,
        source: String = figures::source(job, limit),
    }
}

part! {
    fn rating(plate: &PlateVerdict, spread: Pressure, grade: Grade) -> RatingGraded {
        grade: &'static str = word(grade),
        tesp_in_wc: f64 = plate.worse.in_wc(),
        u95_tesp_in_wc: f64 = spread.in_wc(),
        limit_in_wc: f64 = plate.limit.in_wc(),
        source: &'static str = PLATE,
    }
}
