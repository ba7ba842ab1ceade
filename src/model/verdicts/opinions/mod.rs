//! Second opinions on the airflow: what rise and heat, grilles, a plate and watts say beside the table.

mod heat;
mod plate;
mod sums;
pub mod together;
pub mod watts;

use crate::model::facts::airflow_read::OpinionKind;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::duct::design::PathSide;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::verdicts::system::Running;
use crate::units::Airflow;

/// The airflow by other means than the table, beside the table's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opinion {
    /// By what.
    pub kind: OpinionKind,
    /// What it rests on.
    pub basis: Basis,
    /// The airflow where it was told: at the grilles, through the plate, at the blower.
    pub told: Airflow,
    /// The blower's airflow that it comes to.
    pub airflow: Airflow,
    /// ± of that, 95 %.
    pub spread: Airflow,
    /// The blower's airflow by the table.
    pub table: Airflow,
    /// ± of that, 95 %.
    pub table_spread: Airflow,
    /// How the table's is known.
    pub standing: CurveStanding,
    /// True where the two differ by no more than both leave in doubt.
    pub agrees: bool,
}

/// What an opinion rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    /// The rise that was read and the heat that was measured to go in.
    MeasuredHeat,
    /// The rise that was read and the heat by the rating plate.
    RatedHeat,
    /// Grilles added up.
    Grilles {
        /// How many.
        count: usize,
        /// Part of the blower's air that passes them, as far as the path tells it; 1 where nothing is lost.
        share: f64,
    },
    /// A plate in the filter's slot.
    Plate {
        /// True by its maker's law, false by its own scale.
        by_law: bool,
        /// True where what the plate itself takes is undone by the supply plenum's static.
        corrected: bool,
    },
    /// The watts that were read, by the table's.
    Watts,
}

/// What an opinion says before it is held against the table.
struct Said {
    basis: Basis,
    told: Airflow,
    airflow: Airflow,
    /// ± of the airflow, 95 %, as a fraction.
    spread: f64,
}

impl Opinion {
    /// The kinds of opinion whose airflow by itself differs from another's by no more than both leave in doubt.
    pub fn agrees_with(&self, other: &Self) -> bool {
        (self.airflow - other.airflow).abs().cfm() <= self.spread.cfm().hypot(other.spread.cfm())
    }

    /// The blower's airflow by it over the table's.
    pub fn ratio(&self) -> f64 {
        self.airflow / self.table
    }
}

/// Every opinion that the judged readings allow, in their order; `running` is solved by the table alone.
pub fn of(job: &Job, table: &BlowerTable, running: &Running) -> Vec<Opinion> {
    OpinionKind::ALL.into_iter().filter_map(|kind| one(job, table, running, kind)).collect()
}

/// The opinion of a kind, where the judged readings allow it.
pub fn one(job: &Job, table: &BlowerTable, running: &Running, kind: OpinionKind) -> Option<Opinion> {
    let said = match kind {
        OpinionKind::Heat => heat::said(job, table, running),
        OpinionKind::SupplySum => sums::said(job, running, PathSide::Supply),
        OpinionKind::ReturnSum => sums::said(job, running, PathSide::Return),
        OpinionKind::Plate => plate::said(job, running),
        OpinionKind::Watts => watts::said(job, table, running),
    }?;
    let (airflow, spread) = (said.airflow, said.airflow * said.spread);
    let (by_table, table_spread) = (running.now.airflow, running.system.spreads.now);
    let is_near = (airflow - by_table).abs().cfm() <= spread.cfm().hypot(table_spread.cfm());
    // The table's airflow errs in both alike: the watts themselves decide.
    let agrees = if kind == OpinionKind::Watts { watts::differ(job, running).is_none() } else { is_near };
    Some(Opinion {
        kind,
        basis: said.basis,
        told: said.told,
        airflow,
        spread,
        table: by_table,
        table_spread,
        standing: running.now.standing,
        agrees,
    })
}
