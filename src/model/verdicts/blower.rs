//! The blower that a system is judged with.

use std::sync::Arc;

use crate::model::facts::air::BlowerAir;
use crate::model::facts::blower::{BlowerTable, Call};
use crate::model::facts::change::{ChangeId, Replacement};
use crate::model::facts::job::Job;
use crate::model::facts::target::TargetBand;
use crate::model::laws::tap_curve::TapShape;

/// A machine's blower for a call: its taps as curves, the air that it breathes, and the target.
#[derive(Clone, Debug, PartialEq)]
pub struct Blower {
    /// The table, where it is another than the job's.
    pub other: Option<Box<BlowerTable>>,
    /// The table's taps as curves, in its order; unusable ones stay in their place.
    pub shapes: Arc<[TapShape]>,
    /// Index of the tap that runs; nothing while none is said.
    pub in_use: Option<usize>,
    /// The call that it runs for.
    pub call: Call,
    /// Air at its inlet.
    pub air: BlowerAir,
    /// ρ/ρ_table.
    pub density_ratio: f64,
    /// What the static is divided by before its table is entered, by its motor's own law.
    pub entry_ratio: f64,
    /// The target; another machine may bring its own.
    pub target: Option<TargetBand>,
}

impl Blower {
    /// Its table; nothing where the job has no machine.
    pub fn table<'a>(&'a self, job: &'a Job) -> Option<&'a BlowerTable> {
        self.other.as_deref().or(job.machine.as_ref())
    }

    /// The other machine of the job, where one is on these ducts, with the change that brought it.
    pub fn replacement<'a>(&self, job: &'a Job) -> Option<(ChangeId, &'a Replacement)> {
        let table = self.other.as_deref()?;
        job.changes.iter().filter(|change| change.is_on()).find_map(|change| {
            let new = change.kind.particulars().machine?;
            (new.table == *table).then_some((change.id, new))
        })
    }
}
