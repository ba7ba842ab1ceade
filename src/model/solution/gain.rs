//! Difference of two airflows, one or both of which may lie off the table.
//!
//! Past a curve's last row the airflow is below the last published one, and by extension on the low side. A gain with such an end is a range; verdicts and the search use its lower end, so that a low extension never sells a fix.

use crate::model::facts::standing::CurveStanding;
use crate::model::laws::tap_curve::{TapCurve, TapShape};
use crate::model::solution::operating_point::Crossing;
use crate::units::Airflow;

/// A difference of airflow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gain {
    /// The figure where both ends are published, else the lower end of the range: what verdicts use.
    pub least: Airflow,
    /// The upper end of the range; nothing where both ends are published.
    pub most: Option<Airflow>,
    /// The airflow that `least` is counted from.
    pub from: Airflow,
}

impl Gain {
    /// Of two airflows that are both known.
    pub fn of(before: Airflow, then: Airflow) -> Self {
        Self { least: then - before, most: None, from: before }
    }
}

/// What gains are counted from: where the machine ran, and on which curve.
#[derive(Clone, Copy, Debug)]
pub struct Start<'a> {
    /// Where it ran, by extension where that is off the table.
    pub now: Airflow,
    /// The same, or the last published airflow where it is off the table.
    pub published: Airflow,
    shape: &'a TapShape,
}

impl<'a> Start<'a> {
    /// From a point on a tap's curve.
    pub fn new(now: &Crossing, shape: &'a TapShape) -> Self {
        Self { now: now.airflow, published: bound(shape, now).unwrap_or(now.airflow), shape }
    }

    /// What a crossing of a tap's curve brings.
    ///
    /// From off the table to off the table on one curve the extension is the same at both ends: the gain lies between nothing and what the extension says.
    pub fn gain(&self, crossing: &Crossing, shape: &TapShape) -> Gain {
        let bound = bound(shape, crossing);
        let by_extension = crossing.airflow - self.now;
        let is_off = self.published > self.now;
        let from = self.published;
        let (least, most) = if is_off && bound.is_some() && shape == self.shape {
            (by_extension.min(Airflow::ZERO), by_extension.max(Airflow::ZERO))
        } else {
            (crossing.airflow - self.published, bound.unwrap_or(crossing.airflow) - self.now)
        };
        Gain { least, most: (most > least).then_some(most), from }
    }
}

/// The published airflow that a crossing past its curve's last row lies below.
fn bound(shape: &TapShape, crossing: &Crossing) -> Option<Airflow> {
    match shape {
        TapShape::Curve(curve) => below(curve, crossing),
        TapShape::Single(_) | TapShape::Unusable => None,
    }
}

/// The published airflow that a crossing past a curve's last row lies below.
pub fn below(curve: &TapCurve, crossing: &Crossing) -> Option<Airflow> {
    let (last_esp, last_airflow) = curve.last();
    let is_past = crossing.standing == CurveStanding::Extrapolated && crossing.entry > last_esp;
    is_past.then_some(last_airflow)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::facts::blower::Cell;
    use crate::model::facts::blower::MotorFamily;
    use crate::model::facts::blower::Row;
    use crate::model::facts::blower::Tap;
    use crate::model::facts::blower::TapData;
    use crate::model::laws::tap_curve::shape_of;
    use crate::units::Pressure;

    /// A tap that moves `top` cfm at 0.1 in. w.c. and 100 cfm less at each 0.1 more, published to 0.5.
    fn tap(top: f64) -> TapShape {
        let row = |step: u32| Row {
            esp: Pressure::from_in_wc(0.1 * f64::from(step)),
            cell: Cell::Airflow(Airflow::from_cfm(top - 100.0 * f64::from(step - 1)), None),
            power: None,
            speed: None,
        };
        shape_of(
            &Tap { name: "1".to_owned(), data: TapData::Column((1..6).map(row).collect()) },
            MotorFamily::PermanentSplitCapacitor,
        )
    }

    fn at(shape: &TapShape, esp: f64) -> Crossing {
        let TapShape::Curve(curve) = shape else { panic!("a curve") };
        let entry = Pressure::from_in_wc(esp);
        let airflow = Airflow::from_cfm(curve.value_and_slope(esp).0);
        Crossing { entry, airflow, tesp: entry, standing: curve.standing(entry) }
    }

    /// Gain from one ESP on one tap to another on the same or another tap, cfm.
    fn gain(from: (&TapShape, f64), to: (&TapShape, f64)) -> (f64, Option<f64>) {
        let now = at(from.0, from.1);
        let gain = Start::new(&now, from.0).gain(&at(to.0, to.1), to.0);
        (gain.least.cfm().round(), gain.most.map(|most| most.cfm().round()))
    }

    #[test]
    fn published_ends_give_a_figure_and_one_off_the_table_a_range() {
        let (one, two) = (&tap(1000.0), &tap(1200.0));
        let by_extension = at(one, 0.55).airflow.cfm().round();
        assert!(by_extension < 600.0, "the extension falls: {by_extension}");
        assert_eq!(gain((one, 0.4), (one, 0.3)), (100.0, None));
        assert_eq!(gain((one, 0.4), (two, 0.4)), (200.0, None));
        // Off the table before: at least from the last published 600, at most from the extension.
        assert_eq!(gain((one, 0.55), (one, 0.3)), (200.0, Some(800.0 - by_extension)));
        // Off the table after: the extension is the low end, the last published airflow the high one.
        assert_eq!(gain((one, 0.4), (one, 0.55)), (by_extension - 700.0, Some(-100.0)));
    }

    #[test]
    fn off_the_table_at_both_ends_nothing_is_sold_and_no_change_is_no_gain() {
        let (one, two) = (&tap(1000.0), &tap(1200.0));
        let step = (at(one, 0.52).airflow - at(one, 0.58).airflow).cfm().round();
        assert_eq!(gain((one, 0.55), (one, 0.55)), (0.0, None));
        assert_eq!(gain((one, 0.58), (one, 0.52)), (0.0, Some(step)));
        assert_eq!(gain((one, 0.52), (one, 0.58)), (-step, Some(0.0)));
        let (low, high) = (at(one, 0.55).airflow.cfm(), at(two, 0.55).airflow.cfm());
        assert_eq!(gain((one, 0.55), (two, 0.55)), ((high - 600.0).round(), Some((800.0 - low).round())));
    }
}
