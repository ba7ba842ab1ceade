//! Random tables and paths of a plausible size.

use proptest::prelude::*;
use tapcross::model::facts::blower::{Cell, MotorFamily, Row, Tap, TapData};
use tapcross::model::laws::system_curve::{PowerLaw, SystemCurve, SystemLoad};
use tapcross::model::laws::tap_curve::{TapCurve, TapShape, shape_of};
use tapcross::units::{Airflow, Pressure};

/// Rows of ESP in in. w.c. and airflow in cfm.
pub(crate) type Points = Vec<(f64, f64)>;
/// Parts of a path: drop in in. w.c. at 1,000 cfm, and exponent.
pub(crate) type Parts = Vec<(f64, f64)>;

/// A table of 2 to 12 rows, 0.02 to 0.30 in. w.c. apart, whose airflow changes by the given fraction of what is left from row to row.
fn table(change: impl Strategy<Value = f64> + Clone + 'static) -> impl Strategy<Value = Points> {
    let rows = proptest::collection::vec((0.02..0.30_f64, change), 1..12);
    (0.0..0.2_f64, 300.0..2500.0_f64, rows).prop_map(|(first, most, rows)| {
        let mut points = vec![(first, most)];
        for (step, change) in rows {
            let (esp, cfm) = points[points.len() - 1];
            points.push((esp + step, cfm * (1.0 + change)));
        }
        points
    })
}

/// A table whose airflow falls from every row to the next.
pub(crate) fn falling() -> impl Strategy<Value = Points> {
    table(-0.15..-0.001_f64)
}

/// A table that falls in the whole but may rise by up to 2 % from a row to the next.
pub(crate) fn rippled() -> impl Strategy<Value = Points> {
    table(-0.08..0.02_f64)
}

/// Any motor family.
pub(crate) fn family() -> impl Strategy<Value = MotorFamily> {
    proptest::sample::select(MotorFamily::ALL.to_vec())
}

/// One to four parts in series, from next to nothing to far more than any blower moves air through.
pub(crate) fn path_parts() -> impl Strategy<Value = Parts> {
    proptest::collection::vec((0.001..1.5_f64, prop_oneof![Just(2.0), 1.0..2.2_f64]), 1..5)
}

/// The curve of a table.
pub(crate) fn curve_of(points: &[(f64, f64)], family: MotorFamily) -> TapCurve {
    match shape_of(&tap_of(points), family) {
        TapShape::Curve(curve) => *curve,
        other => panic!("{points:?} is a curve, not {other:?}"),
    }
}

/// The tap of a table.
pub(crate) fn tap_of(points: &[(f64, f64)]) -> Tap {
    let row = |&(esp, cfm): &(f64, f64)| Row {
        esp: Pressure::from_in_wc(esp),
        cell: Cell::Airflow(Airflow::from_cfm(cfm), None),
        power: None,
        speed: None,
    };
    Tap { name: "1".to_owned(), data: TapData::Column(points.iter().map(row).collect()) }
}

/// A path of parts with every drop multiplied by a factor.
pub(crate) fn path_of(parts: &[(f64, f64)], factor: f64) -> SystemCurve {
    let mut path = SystemCurve::default();
    for &(drop, exponent) in parts {
        path.add_law(PowerLaw::through(Airflow::from_cfm(1000.0), Pressure::from_in_wc(factor * drop), exponent));
    }
    path
}

/// What a tap works against on that path, in air `density_ratio` times as dense as the table's.
pub(crate) fn load_of(parts: &[(f64, f64)], factor: f64, density_ratio: f64) -> SystemLoad {
    SystemLoad { external: path_of(parts, factor), entry_ratio: density_ratio, ..SystemLoad::default() }
}
