//! A fan chart that this test draws from a known table is traced and gives the table back: straight, and photographed askew.
//!
//! The tilt, the perspective and the search for the points are this test's own and know nothing of the program's straightening.

use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};
use tapcross::files::blower_file;
use tapcross::files::picture_file;
use tapcross::model::facts::blower::{BlowerTable, TapData};
use tapcross::model::facts::severity::Severity;
use tapcross::model::typed::chart_trace::{AxisMark, ChartTrace, Scale, TapTrace};

const WHITE: Rgb<u8> = Rgb([255, 255, 255]);
const LINE: Rgb<u8> = Rgb([150, 150, 150]);
/// Colours of what is pressed on: corners, marks of the axes, then the taps.
const CORNER: [u8; 3] = [230, 0, 230];
const AXIS: [u8; 3] = [0, 200, 220];
const TAPS: [[u8; 3]; 3] = [[230, 20, 20], [20, 160, 20], [20, 40, 230]];

/// Size of the drawn chart and the place of its frame: left, top, right, bottom.
const SIZE: [u32; 2] = [1500, 1150];
const FRAME: [f64; 4] = [140.0, 90.0, 1380.0, 1030.0];
/// What the frame spans: cfm and in. w.c.
const SPAN: [[f64; 2]; 2] = [[500.0, 1700.0], [0.0, 1.1]];
/// Values at which the axes are marked.
const MARKS: [[f64; 2]; 2] = [[700.0, 1500.0], [0.2, 1.0]];

type Place = [f64; 2];

fn table() -> BlowerTable {
    blower_file::parse(include_str!("../blowers/gf-80t.ron")).unwrap()
}

/// Static pressure and airflow of the taps that are drawn.
fn truth() -> Vec<Vec<(f64, f64)>> {
    let table = table();
    let point = |row: &tapcross::model::facts::blower::Row| (row.esp.in_wc(), row.cell.airflow().unwrap().cfm());
    ["1", "3", "5"].iter().map(|name| table.tap(name).unwrap().data.rows().iter().map(point).collect()).collect()
}

/// How airflow lies across the chart.
#[derive(Clone, Copy)]
struct Drawn {
    across: Scale,
}

impl Drawn {
    fn place(self, cfm: f64, esp: f64) -> Place {
        let [[least, most], [low, high]] = SPAN;
        let share = match self.across {
            Scale::Linear => (cfm - least) / (most - least),
            Scale::Logarithmic => (cfm / least).ln() / (most / least).ln(),
        };
        let [left, top, right, bottom] = FRAME;
        [left + share * (right - left), bottom - (esp - low) / (high - low) * (bottom - top)]
    }

    /// The four corners, then both marks of each axis.
    fn corners_and_marks(self) -> ([Place; 4], [Place; 4]) {
        let [left, top, right, bottom] = FRAME;
        let [[low, high], [under, over]] = MARKS;
        let marks = [
            self.place(low, SPAN[1][0]),
            self.place(high, SPAN[1][0]),
            self.place(SPAN[0][0], under),
            self.place(SPAN[0][0], over),
        ];
        ([[left, top], [right, top], [right, bottom], [left, bottom]], marks)
    }

    fn picture(self) -> RgbImage {
        let mut picture = RgbImage::from_pixel(SIZE[0], SIZE[1], WHITE);
        let (corners, marks) = self.corners_and_marks();
        for side in 0..4 {
            line(&mut picture, corners[side], corners[(side + 1) % 4]);
        }
        for (tap, colour) in truth().iter().zip(TAPS) {
            let places: Vec<Place> = tap.iter().map(|(esp, cfm)| self.place(*cfm, *esp)).collect();
            for pair in places.windows(2) {
                line(&mut picture, pair[0], pair[1]);
            }
            for place in places {
                disc(&mut picture, place, colour);
            }
        }
        for (places, colour) in [(corners, CORNER), (marks, AXIS)] {
            for place in places {
                disc(&mut picture, place, colour);
            }
        }
        picture
    }
}

fn line(picture: &mut RgbImage, from: Place, to: Place) {
    let steps = (to[0] - from[0]).abs().max((to[1] - from[1]).abs()).ceil().max(1.0);
    let mut share = 0.0;
    while share <= 1.0 {
        let place = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
        put(picture, place[0].round(), place[1].round(), LINE);
        share += 1.0 / steps;
    }
}

fn disc(picture: &mut RgbImage, [x, y]: Place, colour: [u8; 3]) {
    for down in -8..=8_i32 {
        for across in -8..=8_i32 {
            let (column, row) = (x.round() + f64::from(across), y.round() + f64::from(down));
            if (column - x).hypot(row - y) <= 7.0 {
                put(picture, column, row, Rgb(colour));
            }
        }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of a small picture")]
fn put(picture: &mut RgbImage, x: f64, y: f64, colour: Rgb<u8>) {
    if x >= 0.0 && y >= 0.0 && x < f64::from(picture.width()) && y < f64::from(picture.height()) {
        picture.put_pixel(x as u32, y as u32, colour);
    }
}

/// What is pressed on: whole pixels.
fn pressed(places: &[Place]) -> Vec<Place> {
    places.iter().map(|[x, y]| [x.round(), y.round()]).collect()
}

/// The trace of a chart whose points are known.
fn trace(drawn: Drawn, corners: &[Place], marks: &[Place], taps: &[Vec<Place>]) -> ChartTrace {
    let mut trace = ChartTrace::of(SIZE[0], SIZE[1]);
    trace.corners = corners.to_vec();
    trace.airflow.scale = drawn.across;
    for (index, at) in marks.iter().enumerate() {
        let axis = if index < 2 { &mut trace.airflow } else { &mut trace.esp };
        axis.marks[index % 2] = AxisMark { at: Some(*at), value: MARKS[index / 2][index % 2].to_string() };
    }
    let tap = |(index, points): (usize, &Vec<Place>)| TapTrace { name: format!("tap {index}"), points: points.clone() };
    trace.taps = taps.iter().enumerate().map(tap).collect();
    trace
}

/// The true airflow at a static pressure, on the line through its neighbours.
fn true_airflow(rows: &[(f64, f64)], esp: f64) -> f64 {
    let above = rows.partition_point(|(row, _)| *row < esp).clamp(1, rows.len() - 1);
    let ((low, first), (high, second)) = (rows[above - 1], rows[above]);
    first + (esp - low) / (high - low) * (second - first)
}

/// The farthest that a traced table is from the true one, as a share of airflow, once it has gone through the table editor.
fn farthest(trace: &ChartTrace) -> f64 {
    let mut draft = trace.draft("fan.jpg").unwrap();
    "Traced".clone_into(&mut draft.head.name);
    let (table, problems) = draft.read();
    let errors: Vec<_> = problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    assert_eq!(table.source, "Digitised from fan.jpg");
    let mut most: f64 = 0.0;
    for (tap, rows) in table.taps.iter().zip(truth()) {
        let TapData::Column(read) = &tap.data else { panic!("a column") };
        assert_eq!(read.len(), rows.len(), "every point is a row");
        for (row, (esp, _)) in read.iter().zip(&rows) {
            let airflow = row.cell.airflow().unwrap().cfm();
            let wanted = true_airflow(&rows, row.esp.in_wc());
            most = most.max((airflow / wanted - 1.0).abs());
            most = most.max((row.esp.in_wc() - esp).abs() / SPAN[1][1]);
        }
    }
    most
}

#[test]
fn a_straight_chart_gives_its_table_back_within_one_percent() {
    for across in Scale::ALL {
        let drawn = Drawn { across };
        let (corners, marks) = drawn.corners_and_marks();
        let taps: Vec<Vec<Place>> = truth()
            .iter()
            .map(|rows| pressed(&rows.iter().map(|(esp, cfm)| drawn.place(*cfm, *esp)).collect::<Vec<_>>()))
            .collect();
        for corners in [&[][..], &pressed(&corners)] {
            let trace = trace(drawn, corners, &pressed(&marks), &taps);
            let (most, told) = (farthest(&trace), trace.reading_error().unwrap());
            assert!(most < 0.01, "{across:?}: {most}");
            assert!((0.000_5..0.01).contains(&told), "the reading error that is told: {told}");
        }
    }
}

/// Where a place of the photograph lies on the page: turned by 10° about the middle, and farther away to the right and below.
fn on_the_page([x, y]: Place) -> Place {
    let (x, y) = (x - 900.0, y - 750.0);
    let away = 1.0 - 1.6e-4 * x - 1.1e-4 * y;
    let (x, y) = (x / away, y / away);
    let (sine, cosine) = 10.0_f64.to_radians().sin_cos();
    [750.0 + x * cosine + y * sine, 575.0 - x * sine + y * cosine]
}

/// A photograph of the page, each pixel mixed from its four neighbours there, as a JPEG of quality 60.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel and a colour")]
fn photographed(page: &RgbImage) -> Vec<u8> {
    let mut photograph = RgbImage::from_pixel(1800, 1500, Rgb([120, 115, 105]));
    for (x, y, pixel) in photograph.enumerate_pixels_mut() {
        let [column, row] = on_the_page([f64::from(x), f64::from(y)]);
        if column < 0.0 || row < 0.0 || column >= f64::from(SIZE[0] - 1) || row >= f64::from(SIZE[1] - 1) {
            continue;
        }
        let (left, top) = (column.floor(), row.floor());
        let (right_share, low_share) = (column - left, row - top);
        let mixed = std::array::from_fn(|colour| {
            let at =
                |across: u32, down: u32| f64::from(page.get_pixel(left as u32 + across, top as u32 + down)[colour]);
            let upper = at(0, 0) * (1.0 - right_share) + at(1, 0) * right_share;
            let lower = at(0, 1) * (1.0 - right_share) + at(1, 1) * right_share;
            (upper * (1.0 - low_share) + lower * low_share).round() as u8
        });
        *pixel = Rgb(mixed);
    }
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 60).encode_image(&photograph).unwrap();
    bytes
}

/// The middles of the spots of a colour, as the eye finds them in the picture.
fn spots(picture: &tapcross::model::facts::company::Picture, colour: [u8; 3]) -> Vec<Place> {
    let (width, height) = (picture.width as usize, picture.height as usize);
    let is_of = |place: usize| {
        let pixel = &picture.rgba[place * 4..place * 4 + 3];
        pixel.iter().zip(colour).all(|(one, other)| one.abs_diff(other) < 75)
    };
    let mut seen = vec![false; width * height];
    let mut found = Vec::new();
    for start in 0..width * height {
        if seen[start] || !is_of(start) {
            continue;
        }
        let (mut open, mut members) = (vec![start], Vec::new());
        seen[start] = true;
        while let Some(place) = open.pop() {
            members.push(place);
            let (x, y) = (place % width, place / width);
            let beside = [(x.wrapping_sub(1), y), (x + 1, y), (x, y.wrapping_sub(1)), (x, y + 1)];
            for (x, y) in beside.into_iter().filter(|(x, y)| *x < width && *y < height) {
                let next = y * width + x;
                if !seen[next] && is_of(next) {
                    seen[next] = true;
                    open.push(next);
                }
            }
        }
        if members.len() > 40 {
            let mean = |of: fn(usize, usize) -> usize| {
                members.iter().map(|place| of(*place, width) as f64).sum::<f64>() / members.len() as f64
            };
            found.push([mean(|place, width| place % width), mean(|place, width| place / width)]);
        }
    }
    found
}

/// Left upper, right upper, right lower, left lower.
fn in_order(spots: &[Place]) -> Vec<Place> {
    let most =
        |score: fn(&Place) -> f64| *spots.iter().max_by(|one, other| score(one).total_cmp(&score(other))).unwrap();
    vec![most(|[x, y]| -x - y), most(|[x, y]| x - y), most(|[x, y]| x + y), most(|[x, y]| y - x)]
}

#[test]
fn a_chart_photographed_askew_gives_its_table_back_within_two_percent() {
    for across in Scale::ALL {
        let drawn = Drawn { across };
        let picture = picture_file::decoded(&photographed(&drawn.picture())).unwrap();
        let corners = spots(&picture, CORNER);
        let mut marks = spots(&picture, AXIS);
        assert_eq!((corners.len(), marks.len()), (4, 4), "every mark is found");
        // The marks of the static axis lie to the left; of each pair the lower value is lower, or to the left.
        marks.sort_by(|one, other| one[0].total_cmp(&other[0]));
        let (upward, along) = marks.split_at_mut(2);
        upward.sort_by(|one, other| other[1].total_cmp(&one[1]));
        let marks = [along[0], along[1], upward[0], upward[1]];
        let taps: Vec<Vec<Place>> = TAPS.iter().map(|colour| pressed(&spots(&picture, *colour))).collect();
        let askew = trace(drawn, &pressed(&in_order(&corners)), &pressed(&marks), &taps);
        let most = farthest(&askew);
        assert!(most < 0.02, "{across:?}: {most}");
        // Without the corners the perspective stays in it: the test would see a straightening that does nothing.
        let left_askew = trace(drawn, &[], &pressed(&marks), &taps);
        assert!(farthest(&left_askew) > 0.02, "{across:?}");
    }
}
