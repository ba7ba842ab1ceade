//! Curves laid through a second opinion in the table's place, and taps that are moved by a factor.

use crate::model::laws::tap_curve::TapShape;
use crate::model::path::tesp::Assumption;
use crate::model::solution::anchor::{Anchored, AnchoredFrom};
use crate::model::solution::operation::Inputs;

impl Inputs<'_> {
    /// Every tap times a factor.
    pub(super) fn scale_all(&mut self, factor: f64) {
        self.shapes = self.shapes.iter().map(|shape| shape.clone().moving(factor)).collect();
        self.sum.airflow_factor *= factor;
    }

    /// The tap that ran times a factor.
    pub(super) fn scale_read_tap(&mut self, factor: f64) {
        let in_use = self.in_use;
        let own = |index: usize| if index == in_use { factor } else { 1.0 };
        let shapes = self.shapes.iter().enumerate();
        self.shapes = shapes.map(|(index, shape)| shape.clone().moving(own(index))).collect();
        let before = self.sum.tap_factor.map_or(1.0, |(_, before)| before);
        self.sum.tap_factor = Some((in_use, before * factor));
    }

    /// Every other tap times a factor.
    pub(super) fn scale_others(&mut self, factor: f64) {
        self.scale_all(factor);
        self.scale_read_tap(1.0 / factor);
    }

    /// Lays the curve of the tap that ran through the opinion at the static that was read: once for the solution, and again for whatever is moved by its uncertainty.
    ///
    /// Nothing is done where the table stands for itself, or the opinion's factor is that of other readings; where the curve has no air at that static it stays as it is.
    pub(super) fn lay_through_opinion(&mut self) {
        let Some(Anchored { from: AnchoredFrom::Here { airflow, scales, .. }, .. }) = self.anchored else {
            return;
        };
        let entry = self.sum.entry_at(airflow.cfm()).0 / self.entry_ratio();
        let by_table = match self.shapes.get(self.in_use) {
            Some(TapShape::Curve(curve)) => curve.value_and_slope(entry).0,
            Some(TapShape::Single(row)) => row.airflow.cfm(),
            Some(TapShape::Unusable) | None => return,
        };
        let factor = airflow.cfm() / by_table;
        if !(factor.is_finite() && factor > 0.0) {
            return;
        }
        if scales {
            self.scale_all(factor);
        } else {
            self.scale_read_tap(factor);
        }
    }

    /// Puts the opinion into the table's place: the curve of the tap that ran is laid through it, or, of other readings, every tap is the table's times its ratio.
    pub fn take_up_opinion(&mut self) {
        let Some(Anchored { by, ratio, from }) = self.anchored else {
            return;
        };
        match from {
            AnchoredFrom::Here { .. } => self.lay_through_opinion(),
            AnchoredFrom::Elsewhere { .. } => self.scale_all(ratio),
        }
        if self.anchored.is_some_and(|anchored| anchored.scales()) {
            self.sum.assumptions.push(Assumption::Scaled(by));
        }
    }
}
