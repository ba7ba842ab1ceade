//! The line past a table's last row never over-reads: the acceptance of the extension on curves that go on where the table is cut.
//!
//! Curves: the US DOE motor-family fits (docket EERE-2014-BT-STD-0048-0098, app. 7-C, read in a public transcription), and the invented tables A to D of the reference checks, each cut short at every row from the third on.

#[path = "reference/checks.rs"]
#[expect(dead_code, reason = "each test file uses a part of the shared module")]
mod checks;

use checks::{MotorFit, curve_through, table_family, table_points};
use tapcross::model::facts::blower::MotorFamily;
use tapcross::model::facts::standing::CurveStanding;
use tapcross::model::laws::tap_curve::TapCurve;
use tapcross::units::Pressure;

/// Most that an extension may read over the true curve.
const OVER_READING: f64 = 0.005;
/// Steps between the last row left and the extension's end.
const STEPS: u32 = 200;
/// Fewest rows that a table is cut to.
const FEWEST_ROWS: usize = 3;

/// The largest over-reading of an extension: (fraction, ESP), nothing where no step has a true airflow.
fn worst_over_reading(cut: &TapCurve, truth: &dyn Fn(f64) -> Option<f64>) -> Option<(f64, f64)> {
    let (from, to) = (cut.last().0.in_wc(), cut.end().0.in_wc());
    assert!(to > from, "the extension has a length");
    (1..=STEPS)
        .map(|step| from + (to - from) * f64::from(step) / f64::from(STEPS))
        .filter_map(|p| {
            let point = cut.at(Pressure::from_in_wc(p.min(to))).expect("within the extension");
            assert_eq!(point.standing, CurveStanding::Extrapolated, "at {p}");
            Some((point.airflow.cfm() / truth(p)? - 1.0, p))
        })
        .max_by(|one, other| one.0.total_cmp(&other.0))
}

/// Cuts a table at every row from the third on and lists the cuts whose extension over-reads; gives the number of cuts compared too.
fn over_readings(
    name: &str,
    points: &[(f64, f64)],
    family: MotorFamily,
    truth: &dyn Fn(f64) -> Option<f64>,
) -> (usize, Vec<String>) {
    let worst = (FEWEST_ROWS..=points.len()).filter_map(|rows| {
        let (over, p) = worst_over_reading(&curve_through(&points[..rows], family), truth)?;
        Some((points[rows - 1].0, over, p))
    });
    let worst: Vec<(f64, f64, f64)> = worst.collect();
    let failures = worst
        .iter()
        .filter(|(_, over, _)| *over > OVER_READING)
        .map(|(last, over, p)| format!("{name} cut at {last:.2}: {:+.3} % at {p:.3} in. w.c.", over * 100.0));
    (worst.len(), failures.collect())
}

fn check(results: Vec<(usize, Vec<String>)>, least_cuts: usize) {
    let cuts: usize = results.iter().map(|(cuts, _)| cuts).sum();
    let failures: Vec<String> = results.into_iter().flat_map(|(_, failures)| failures).collect();
    assert!(cuts >= least_cuts, "only {cuts} cuts were compared");
    assert!(failures.is_empty(), "{} of {cuts} cuts over-read:\n{}", failures.len(), failures.join("\n"));
}

fn check_fits(step: f64, least_cuts: usize) {
    let fits = MotorFit::every();
    assert_eq!(fits.len(), 7, "the published fits");
    let results = fits.iter().map(|fit| {
        let points: Vec<(f64, f64)> = MotorFit::esps(step).into_iter().map(|p| (p, fit.cfm(p))).collect();
        let truth = |p: f64| Some(fit.cfm(p)).filter(|cfm| *cfm > 0.0);
        over_readings(&format!("{} every {step}", fit.name), &points, fit.family, &truth)
    });
    check(results.collect(), least_cuts);
}

#[test]
fn on_the_doe_fits_with_a_row_every_tenth_the_extension_never_over_reads() {
    check_fits(0.1, 70);
}

#[test]
fn on_the_doe_fits_with_a_row_every_twentieth_the_extension_never_over_reads() {
    check_fits(0.05, 140);
}

#[test]
fn on_the_doe_fits_with_rows_a_fifth_apart_the_extension_never_over_reads() {
    check_fits(0.2, 20);
}

#[test]
fn on_the_invented_tables_cut_short_the_extension_never_over_reads() {
    let results = ["A", "B", "C", "D"].map(|letter| {
        let points = table_points(letter);
        let family = table_family(letter);
        let whole = curve_through(&points, family);
        let last = whole.last().0.in_wc();
        let truth = |p: f64| (p <= last).then(|| whole.value_and_slope(p).0);
        over_readings(&format!("table {letter}"), &points[..points.len() - 1], family, &truth)
    });
    check(results.into(), 7 + 7 + 7 + 2);
}

#[test]
fn a_table_of_an_unstated_family_is_extended_as_carefully_as_a_constant_airflow_one() {
    let points = table_points("C");
    for rows in FEWEST_ROWS..=points.len() {
        let stated = curve_through(&points[..rows], MotorFamily::ConstantAirflow);
        let unstated = curve_through(&points[..rows], MotorFamily::Unstated);
        assert_eq!(stated.end(), unstated.end());
    }
}

#[test]
fn the_check_itself_notices_a_line_that_over_reads() {
    // A curve that falls off a cliff right after the cut: no honest line could follow it.
    let points = [(0.1, 1200.0), (0.2, 1195.0), (0.3, 1190.0)];
    let cliff = |_: f64| Some(300.0);
    let (cuts, failures) = over_readings("cliff", &points, MotorFamily::PermanentSplitCapacitor, &cliff);
    assert_eq!((cuts, failures.len()), (1, 1));
}
