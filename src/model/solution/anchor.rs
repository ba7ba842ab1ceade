//! A second opinion in the table's place: the curve of the tap that ran goes through it, and where a person says so the whole table is scaled by it.

use crate::model::facts::accuracy::{COVERAGE, from_95};
use crate::model::facts::airflow_read::OpinionKind;
use crate::units::Airflow;

/// An opinion in the table's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchored {
    /// By what.
    pub by: OpinionKind,
    /// Its airflow over the table's, where it was read.
    pub ratio: f64,
    /// Where it was read.
    pub from: AnchoredFrom,
}

/// Where the opinion was read that stands in the table's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AnchoredFrom {
    /// Beside these very readings: the tap that ran moves this airflow at the static that was read.
    Here {
        /// The airflow.
        airflow: Airflow,
        /// ± of it, 95 %.
        spread: Airflow,
        /// True where every tap is scaled, false where the others are as the table has them.
        scales: bool,
    },
    /// Beside other readings: every tap is the table's times the ratio.
    Elsewhere {
        /// Index of their set.
        set: usize,
        /// Standard uncertainty of the ratio, as a fraction of it: the opinion's and that of the static read there.
        doubt: f64,
        /// The tap that ran there.
        tap: usize,
    },
}

impl Anchored {
    /// True where every tap of the table is scaled.
    pub const fn scales(&self) -> bool {
        match self.from {
            AnchoredFrom::Here { scales, .. } => scales,
            AnchoredFrom::Elsewhere { .. } => true,
        }
    }

    /// True where it was read of this tap.
    pub(super) fn is_of_tap(&self, index: usize) -> bool {
        matches!(self.from, AnchoredFrom::Elsewhere { tap, .. } if tap == index)
    }

    /// True where the airflow that is told is the opinion's own.
    pub const fn is_here(&self) -> bool {
        matches!(self.from, AnchoredFrom::Here { .. })
    }

    /// What the other taps may be off by where they stay as the table has them: as much as the one that ran, if the table is off alike on all; standard uncertainty, a fraction.
    pub(super) fn apart(&self) -> f64 {
        if self.scales() { 0.0 } else { from_95((self.ratio - 1.0).abs()) }
    }

    /// Standard uncertainty of the opinion, as a fraction of it.
    pub(super) fn doubt(&self) -> f64 {
        match self.from {
            AnchoredFrom::Here { airflow, spread, .. } => spread / airflow / COVERAGE,
            AnchoredFrom::Elsewhere { doubt, .. } => doubt,
        }
    }

    /// The same opinion, told otherwise by a fraction.
    pub(super) fn moved(self, by: f64) -> Self {
        let from = match self.from {
            AnchoredFrom::Here { airflow, spread, scales } => {
                AnchoredFrom::Here { airflow: airflow * (1.0 + by), spread, scales }
            }
            elsewhere @ AnchoredFrom::Elsewhere { .. } => elsewhere,
        };
        Self { from, ..self }
    }
}
