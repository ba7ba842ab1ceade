use super::*;
use crate::units::Airflow;

fn mark(x: f64, y: f64, value: &str) -> AxisMark {
    AxisMark { at: Some([x, y]), value: value.to_owned() }
}

/// A chart of 1,000 by 800 pixels, 0 to 2,000 cfm over 800 of them and 0 to 1 in. w.c. over 600.
fn chart() -> ChartTrace {
    let mut chart = ChartTrace::of(1000, 800);
    chart.airflow.marks = [mark(100.0, 700.0, "0"), mark(900.0, 700.0, "2,000")];
    chart.esp.marks = [mark(100.0, 700.0, "0"), mark(100.0, 100.0, "1.0")];
    chart.taps[0].points = vec![[500.0, 640.0], [480.0, 400.0], [440.0, 220.0]];
    chart
}

fn close(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() <= 1e-9 * wanted.abs().max(1.0)
}

#[test]
fn a_straight_chart_is_read_along_its_axes() {
    let taps = chart().taps().unwrap();
    let read: Vec<(f64, f64)> = taps[0].points.iter().map(|point| (point.esp.in_wc(), point.airflow.cfm())).collect();
    for ((esp, cfm), (wanted_esp, wanted_cfm)) in read.iter().zip([(0.1, 1000.0), (0.5, 950.0), (0.8, 850.0)]) {
        assert!(close(*esp, wanted_esp) && close(*cfm, wanted_cfm), "{esp} {cfm}");
    }
    assert_eq!(read.len(), 3);
}

#[test]
fn a_chart_that_lies_turned_is_read_the_same_by_its_axes_alone() {
    let turned = |[x, y]: Place| {
        let (sine, cosine) = 0.2_f64.sin_cos();
        [300.0 + x * cosine - y * sine, 50.0 + x * sine + y * cosine]
    };
    let straight = chart();
    let mut chart = straight.clone();
    for of in AxisOf::ALL {
        for mark in &mut chart.axis_mut(of).marks {
            mark.at = mark.at.map(turned);
        }
    }
    chart.taps[0].points = chart.taps[0].points.iter().map(|place| turned(*place)).collect();
    for (one, other) in chart.taps().unwrap()[0].points.iter().zip(&straight.taps().unwrap()[0].points) {
        assert!(close(one.airflow.cfm(), other.airflow.cfm()) && close(one.esp.in_wc(), other.esp.in_wc()));
    }
}

#[test]
fn a_logarithmic_axis_multiplies() {
    let mut chart = chart();
    chart.airflow.scale = Scale::Logarithmic;
    chart.airflow.marks = [mark(100.0, 700.0, "200"), mark(900.0, 700.0, "2000")];
    let at = |x: f64| chart.at([x, 400.0]).unwrap().airflow.cfm();
    assert!(close(at(500.0), 200.0 * 10.0_f64.sqrt()) && close(at(100.0), 200.0) && close(at(900.0), 2000.0));
}

#[test]
fn values_may_stand_in_the_charts_own_units() {
    let mut chart = chart();
    chart.airflow_unit = AirflowUnit::LitresPerSecond;
    chart.pressure_unit = PressureUnit::Pascals;
    chart.esp.marks[1].value = "250".to_owned();
    let point = chart.at([500.0, 400.0]).unwrap();
    assert!(close(point.airflow.cfm(), Airflow::from_lps(1000.0).cfm()));
    assert!(close(point.esp.pa(), 125.0));
}

#[test]
fn the_table_of_the_points_says_where_it_comes_from() {
    let mut chart = chart();
    chart.taps.push(TapTrace { name: "High".to_owned(), points: vec![[600.0, 640.0], [560.0, 400.0]] });
    let draft = chart.draft("fan.png").unwrap();
    let esps: Vec<&str> = draft.rows.iter().map(|row| row.esp.as_str()).collect();
    assert_eq!(esps, ["0.100", "0.500", "0.800"]);
    let high: Vec<&str> = draft.rows.iter().map(|row| row.cells[1].airflow.as_str()).collect();
    assert_eq!(high, ["1250", "1150", "no row"]);
    assert_eq!(draft.head.source, "Digitised from fan.png");
    let (table, _) = draft.read();
    assert_eq!(table.taps[1].data.rows().len(), 2);
}

#[test]
fn a_hand_is_off_by_a_pixel_across_and_up_the_curve() {
    // At the last point a pixel is 2.5 cfm and 1/600 in. w.c., along which the curve falls by 100 cfm in 0.3 in. w.c.
    let chart = chart();
    let slope = 100.0 / 0.3;
    let wanted = 2.5_f64.hypot(slope / 600.0) / 850.0;
    let found = chart.reading_error().unwrap();
    assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
}

#[test]
fn what_says_no_table_yet_says_why() {
    type Spoil = fn(&mut ChartTrace);
    let rows: [(Spoil, &str); 14] = [
        (|chart| chart.corners = vec![[0.0, 0.0]; 2], "2 of 4 corners are marked"),
        (
            |chart| chart.corners = vec![[100.0, 100.0], [900.0, 700.0], [900.0, 100.0], [100.0, 700.0]],
            "The corners cross",
        ),
        (
            |chart| chart.corners = vec![[100.0, 100.0], [100.0, 700.0], [900.0, 700.0], [900.0, 100.0]],
            "The corners cross",
        ),
        (
            |chart| chart.corners = vec![[100.0, 100.0], [500.0, 101.0], [900.0, 102.0], [100.0, 700.0]],
            "The corners cross",
        ),
        (|chart| chart.airflow.marks[1].at = None, "The second point of the airflow axis is not marked"),
        (
            |chart| chart.esp.marks[0].value = "much".to_owned(),
            "First point of the static axis: \"much\" is not a number",
        ),
        (|chart| chart.esp.marks[0].value = "3 cfm".to_owned(), "First point of the static axis: \"cfm\" is no unit"),
        (
            |chart| chart.airflow.marks[0].value = "2000".to_owned(),
            "Both points of the airflow axis have the same value",
        ),
        (|chart| chart.airflow.scale = Scale::Logarithmic, "First point of the airflow axis: a logarithmic axis"),
        (
            |chart| chart.airflow.marks[1].at = Some([110.0, 700.0]),
            "Both points of the airflow axis lie within 20 pixels",
        ),
        (|chart| chart.esp.marks[1].at = Some([900.0, 650.0]), "Both axes run nearly the same way"),
        (|chart| chart.taps[0].points.truncate(1), "Tap \"1\" has fewer than two points"),
        (|chart| chart.taps[0].points = vec![[300.0, 400.0]; MOST_POINTS + 1], "Tap \"1\" has more than 60 points"),
        (|chart| chart.taps[0].points.push([700.0, 400.0]), "Tap \"1\" has two points at 0.500 in. w.c."),
    ];
    for (spoil, wanted) in rows {
        let mut chart = chart();
        spoil(&mut chart);
        let said = chart.draft("fan.png").unwrap_err().sentence();
        assert!(said.starts_with(wanted), "{said}");
    }
}
