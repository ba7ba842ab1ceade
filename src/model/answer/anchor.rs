//! Which opinion stands in the table's place for the judged readings.

use crate::model::answer::Answer;
use crate::model::facts::accuracy::COVERAGE;
use crate::model::facts::airflow_read::Anchor;
use crate::model::facts::job::Job;
use crate::model::facts::job_check::{Field, Oddity, Problem};
use crate::model::facts::readings::name_of_set;
use crate::model::facts::severity::Severity;
use crate::model::laws::tap_curve::TapShape;
use crate::model::solution::anchor::{Anchored, AnchoredFrom};
use crate::model::verdicts::system::Running;

/// What the table says alone of a reading set.
pub(super) fn by_table(job: &Job, set: usize) -> Answer {
    Answer::single(&Job { anchor: None, ..job.as_read(set) }, Vec::new(), (None, None))
}

/// The opinion in the table's place; nothing where it is of other readings and does not scale the table, so that these stand by the table.
///
/// # Errors
/// A question, where the readings that it should be of do not give it.
pub(super) fn anchored(job: &Job, anchor: Anchor, by_table: &Answer) -> Result<Option<Anchored>, Problem> {
    if anchor.set == job.judged {
        return here(anchor, by_table).map(Some).ok_or_else(|| missing(job, anchor));
    }
    if !anchor.scales {
        return Ok(None);
    }
    let there = self::by_table(job, anchor.set);
    elsewhere(anchor, &there).map(Some).ok_or_else(|| missing(job, anchor))
}

fn here(anchor: Anchor, by_table: &Answer) -> Option<Anchored> {
    let opinion = by_table.opinions.iter().find(|opinion| opinion.kind == anchor.by)?;
    let from = AnchoredFrom::Here { airflow: opinion.airflow, spread: opinion.spread, scales: anchor.scales };
    Some(Anchored { by: anchor.by, ratio: opinion.ratio(), from })
}

fn elsewhere(anchor: Anchor, there: &Answer) -> Option<Anchored> {
    let opinion = there.opinions.iter().find(|opinion| opinion.kind == anchor.by)?;
    let running = there.point()?;
    let tap = running.system.blower.in_use?;
    // The ratio is as sure as the opinion and the static that the table was entered with there.
    let doubt = (opinion.spread / opinion.airflow).hypot(of_static(running)) / COVERAGE;
    Some(Anchored {
        by: anchor.by,
        ratio: opinion.ratio(),
        from: AnchoredFrom::Elsewhere { set: anchor.set, doubt, tap },
    })
}

/// ± of an airflow that the static alone leaves, as a fraction, 95 %.
fn of_static(running: &Running) -> f64 {
    let blower = &running.system.blower;
    let curve = blower.in_use.and_then(|tap| blower.shapes.get(tap)).and_then(TapShape::curve);
    let slope = curve.map_or(0.0, |curve| curve.value_and_slope(running.now.entry.in_wc()).1);
    slope.abs() * running.system.spreads.tesp.in_wc() / running.now.airflow.cfm()
}

fn missing(job: &Job, anchor: Anchor) -> Problem {
    let name = job.sets.get(anchor.set).map(|set| set.name.as_str()).unwrap_or_default();
    let what = Oddity::NoOpinion(anchor.by, name_of_set(anchor.set, name));
    Problem { field: Field::Anchor, severity: Severity::Question, what }
}
