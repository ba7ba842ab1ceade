//! What a traced chart says: airflows and static pressures, how far they may be off, and why it says nothing yet.

use crate::model::typed::chart_trace::{AxisOf, ChartTrace, MOST_POINTS, Scale, TapTrace};
use crate::model::typed::straightened::{CornerFault, Flat, crossed, length};
use crate::model::typed::table_draft::{AirflowUnit, DraftCell, DraftRow, TableDraft, too_large};
use crate::numerics::homography::{Homography, Place};
use crate::units::text::cut;
use crate::units::{Airflow, Pressure, show, text};

/// Least pixels between an axis' two points: nearer ones multiply what a hand is off.
const LEAST_APART: f64 = 20.0;
/// Least sine of the angle between the axes (30°); the lines of a chart stand upright on one another.
const LEAST_ANGLE: f64 = 0.5;
/// Pixels by which a hand misses the middle of a line, 95 % (common practice, no source).
const HAND: f64 = 1.0;
/// Decimals of a static pressure in inches: one more than a hand can tell.
const DIGITS: usize = 3;

/// Why a chart says no table yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TraceFault {
    /// Corners that straighten nothing.
    Corners(CornerFault),
    /// A point of an axis is not marked.
    NotMarked(AxisOf, usize),
    /// A value of an axis is no quantity of its kind.
    Value(AxisOf, usize, String),
    /// Both values of an axis are the same.
    SameValue(AxisOf),
    /// A value of a logarithmic axis is nought or less.
    NotAboveNought(AxisOf, usize),
    /// Both points of an axis lie on one another, or nearly.
    TooNear(AxisOf),
    /// The axes run nearly the same way.
    Parallel,
    /// A tap with fewer than two points.
    FewPoints(String),
    /// A tap with more than any curve needs.
    ManyPoints(String),
    /// Two points of a tap at one static pressure.
    SameStatic(String, String),
    /// A point that lies where no chart is.
    OffTheChart(String),
    /// More rows than the editor takes.
    TooLarge(String),
}

impl TraceFault {
    /// One sentence.
    pub fn sentence(&self) -> String {
        let which = |index: &usize| if *index == 0 { "first" } else { "second" };
        match self {
            Self::Corners(fault) => fault.sentence(),
            Self::NotMarked(of, index) => {
                format!("The {} point of the {} axis is not marked: press on it in the picture", which(index), of.name())
            }
            Self::Value(of, index, why) => format!("{} point of the {} axis: {why}", capital(which(index)), of.name()),
            Self::SameValue(of) => {
                format!("Both points of the {} axis have the same value; take two that lie far apart", of.name())
            }
            Self::NotAboveNought(of, index) => format!(
                "{} point of the {} axis: a logarithmic axis has values above 0 only; take it as linear, or another point",
                capital(which(index)),
                of.name()
            ),
            Self::TooNear(of) => format!(
                "Both points of the {} axis lie within {} pixels of one another; take two that lie far apart",
                of.name(),
                show::trimmed(LEAST_APART, 0)
            ),
            Self::Parallel => {
                "Both axes run nearly the same way; mark two points along the airflows and two along the static pressures"
                    .to_owned()
            }
            Self::FewPoints(tap) => format!("Tap \"{}\" has fewer than two points", cut(tap)),
            Self::ManyPoints(tap) => format!("Tap \"{}\" has more than {MOST_POINTS} points; a dozen says a curve", cut(tap)),
            Self::SameStatic(tap, esp) => {
                format!("Tap \"{}\" has two points at {esp}; remove one of them", cut(tap))
            }
            Self::OffTheChart(tap) => format!("Tap \"{}\" has a point at the horizon of the picture; remove it", cut(tap)),
            Self::TooLarge(sentence) => sentence.clone(),
        }
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters).collect()
}

/// A point of a curve, as it was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracedPoint {
    /// Airflow.
    pub airflow: Airflow,
    /// Static pressure.
    pub esp: Pressure,
}

/// A tap's curve, as it was read.
#[derive(Clone, Debug, PartialEq)]
pub struct TracedTap {
    /// Its name.
    pub name: String,
    /// Its points, rising in static pressure.
    pub points: Vec<TracedPoint>,
}

/// The chart's own ways: from the picture to the numbers along both axes.
struct Ways {
    straight: Option<Homography>,
    origin: [Place; 2],
    along: [Place; 2],
    values: [[f64; 2]; 2],
    scales: [Scale; 2],
}

impl ChartTrace {
    /// The points of every tap that has any, rising in static pressure.
    ///
    /// # Errors
    /// The first [`TraceFault`].
    pub fn taps(&self) -> Result<Vec<TracedTap>, TraceFault> {
        let ways = self.ways()?;
        self.taps.iter().filter(|tap| !tap.points.is_empty()).map(|tap| self.tap(&ways, tap)).collect()
    }

    /// Airflow and static pressure at a place of the picture; nothing while the axes do not say it.
    pub fn at(&self, place: Place) -> Option<TracedPoint> {
        self.point(&self.ways().ok()?, place)
    }

    /// How far the airflows may be off by the hand alone, as a fraction at 95 %: that of the point whose airflow is moved most by `HAND` pixels across and up its curve.
    ///
    /// # Errors
    /// The first [`TraceFault`].
    pub fn reading_error(&self) -> Result<f64, TraceFault> {
        let ways = self.ways()?;
        let mut most: f64 = 0.0;
        for tap in &self.taps {
            for place in &tap.points {
                most = most.max(ways.error_at(*place, tap).unwrap_or_default());
            }
        }
        Ok(most)
    }

    /// The table of the points, to be checked and completed in the editor; a static pressure that a tap has no point at is no row of it.
    ///
    /// # Errors
    /// The first [`TraceFault`].
    pub fn draft(&self, file: &str) -> Result<TableDraft, TraceFault> {
        let taps = self.taps()?;
        let error = self.reading_error()?;
        let mut draft = TableDraft::empty();
        draft.head.airflow_unit = self.airflow_unit;
        draft.head.pressure_unit = self.pressure_unit;
        draft.head.source = format!("Digitised from {file}");
        draft.head.reading_error = percent(error);
        draft.taps = taps.iter().map(|tap| tap.name.clone()).collect();
        draft.rows = self.rows(&taps);
        too_large(draft.rows.len(), draft.taps.len()).map_or(Ok(draft), |sentence| Err(TraceFault::TooLarge(sentence)))
    }

    fn rows(&self, taps: &[TracedTap]) -> Vec<DraftRow> {
        let none = || DraftCell { airflow: "no row".to_owned(), ..DraftCell::default() };
        let mut rows: Vec<(f64, DraftRow)> = Vec::new();
        for (index, tap) in taps.iter().enumerate() {
            for point in &tap.points {
                let esp = self.esp_text(point.esp);
                let value = esp.parse().unwrap_or_default();
                let place = rows.iter().position(|(_, row)| row.esp == esp).unwrap_or_else(|| {
                    let place = rows.iter().position(|(other, _)| *other > value).unwrap_or(rows.len());
                    rows.insert(place, (value, DraftRow { esp, cells: vec![none(); taps.len()] }));
                    place
                });
                rows[place].1.cells[index].airflow = self.airflow_text(point.airflow);
            }
        }
        rows.into_iter().map(|(_, row)| row).collect()
    }

    /// A static pressure as the table's text.
    fn esp_text(&self, esp: Pressure) -> String {
        let system = self.pressure_unit.system();
        let digits = if system.pressure_decimals() == 0 { 1 } else { DIGITS };
        format!("{:.digits$}", system.pressure_number(esp))
    }

    fn airflow_text(&self, airflow: Airflow) -> String {
        let digits = match self.airflow_unit {
            AirflowUnit::Cfm | AirflowUnit::CubicMetresPerHour => 0,
            AirflowUnit::LitresPerSecond => 1,
        };
        format!("{:.digits$}", self.airflow_unit.system().airflow_number(airflow))
    }

    fn tap(&self, ways: &Ways, tap: &TapTrace) -> Result<TracedTap, TraceFault> {
        let name = tap.name.trim().to_owned();
        match tap.points.len() {
            0 | 1 => return Err(TraceFault::FewPoints(name)),
            count if count > MOST_POINTS => return Err(TraceFault::ManyPoints(name)),
            _ => {}
        }
        let read: Option<Vec<TracedPoint>> = tap.points.iter().map(|place| self.point(ways, *place)).collect();
        let mut points = read.ok_or_else(|| TraceFault::OffTheChart(name.clone()))?;
        points.sort_by(|one, other| one.esp.in_wc().total_cmp(&other.esp.in_wc()));
        let same = points.windows(2).find(|pair| self.esp_text(pair[0].esp) == self.esp_text(pair[1].esp));
        if let Some([point, _]) = same {
            let esp = format!("{} {}", self.esp_text(point.esp), self.pressure_unit.name());
            return Err(TraceFault::SameStatic(name, esp));
        }
        Ok(TracedTap { name, points })
    }

    fn point(&self, ways: &Ways, place: Place) -> Option<TracedPoint> {
        let [airflow, esp] = ways.values_at(place)?;
        Some(TracedPoint {
            airflow: self.airflow_unit.system().airflow_of(airflow),
            esp: self.pressure_unit.system().pressure_of(esp),
        })
    }

    fn ways(&self) -> Result<Ways, TraceFault> {
        let straight = self.straightened()?;
        let mut ways = Ways {
            straight,
            origin: [[0.0; 2]; 2],
            along: [[0.0; 2]; 2],
            values: [[0.0; 2]; 2],
            scales: AxisOf::ALL.map(|of| self.axis(of).scale),
        };
        for (place, of) in AxisOf::ALL.into_iter().enumerate() {
            let [first, second] = self.axis_points(of, straight.as_ref())?;
            ways.origin[place] = first;
            ways.along[place] = [second[0] - first[0], second[1] - first[1]];
            ways.values[place] = self.axis_values(of)?;
        }
        let [across, up] = ways.along;
        if crossed(across, up).abs() < LEAST_ANGLE * length(across) * length(up) {
            return Err(TraceFault::Parallel);
        }
        Ok(ways)
    }

    /// The map that straightens the picture, to pixels of about its own size.
    fn straightened(&self) -> Result<Option<Homography>, TraceFault> {
        let flat = Flat::between(&self.corners).map_err(TraceFault::Corners)?;
        flat.map(|flat| flat.from_picture()).transpose().map_err(TraceFault::Corners)
    }

    fn axis_points(&self, of: AxisOf, straight: Option<&Homography>) -> Result<[Place; 2], TraceFault> {
        let mut points = [[0.0; 2]; 2];
        for (index, mark) in self.axis(of).marks.iter().enumerate() {
            let at = mark.at.ok_or(TraceFault::NotMarked(of, index))?;
            points[index] =
                straight.map_or(Some(at), |map| map.of(at)).ok_or(TraceFault::Corners(CornerFault::Cross))?;
        }
        let [first, second] = points;
        if length([second[0] - first[0], second[1] - first[1]]) < LEAST_APART {
            return Err(TraceFault::TooNear(of));
        }
        Ok(points)
    }

    fn axis_values(&self, of: AxisOf) -> Result<[f64; 2], TraceFault> {
        let axis = self.axis(of);
        let mut values = [0.0; 2];
        for (index, mark) in axis.marks.iter().enumerate() {
            let read = match of {
                AxisOf::Airflow => {
                    let system = self.airflow_unit.system();
                    text::airflow(&mark.value, system).map(|airflow| system.airflow_number(airflow))
                }
                AxisOf::Static => {
                    let system = self.pressure_unit.system();
                    text::pressure(&mark.value, system).map(|esp| system.pressure_number(esp))
                }
            };
            values[index] = read.map_err(|error| TraceFault::Value(of, index, error.to_string()))?;
            if axis.scale == Scale::Logarithmic && values[index] <= 0.0 {
                return Err(TraceFault::NotAboveNought(of, index));
            }
        }
        let [first, second] = values;
        if (first - second).abs() <= f64::EPSILON * first.abs().max(second.abs()) {
            return Err(TraceFault::SameValue(of));
        }
        Ok(values)
    }
}

impl Ways {
    /// The numbers along both axes at a place of the picture.
    fn values_at(&self, place: Place) -> Option<[f64; 2]> {
        let place = self.straight.as_ref().map_or(Some(place), |map| map.of(place))?;
        let [across, up] = self.along;
        let turn = crossed(across, up);
        let from = |axis: usize| [place[0] - self.origin[axis][0], place[1] - self.origin[axis][1]];
        let shares = [crossed(from(0), up) / turn, crossed(across, from(1)) / turn];
        let value = |axis: usize| {
            let [first, second] = self.values[axis];
            match self.scales[axis] {
                Scale::Linear => first + shares[axis] * (second - first),
                Scale::Logarithmic => first * (second / first).powf(shares[axis]),
            }
        };
        let values = [value(0), value(1)];
        values.iter().all(|value| value.is_finite()).then_some(values)
    }

    /// Share of a point's airflow that a pixel moves it by: directly, and by the static pressure along its curve.
    fn error_at(&self, place: Place, tap: &TapTrace) -> Option<f64> {
        let [airflow, esp] = self.values_at(place)?;
        let moved = |by: Place| self.values_at([place[0] + by[0], place[1] + by[1]]);
        let (across, up) = (moved([HAND, 0.0])?, moved([0.0, HAND])?);
        let slope = self.slope_near(airflow, esp, tap);
        let by = |moved: [f64; 2]| (moved[0] - airflow) - slope * (moved[1] - esp);
        Some(by(across).hypot(by(up)) / airflow.abs()).filter(|share| share.is_finite())
    }

    /// How much airflow a static pressure makes along a tap's curve: from its nearest other point.
    fn slope_near(&self, airflow: f64, esp: f64, tap: &TapTrace) -> f64 {
        let others = tap.points.iter().filter_map(|place| self.values_at(*place));
        let apart = |other: &[f64; 2]| (other[1] - esp).abs();
        let nearest =
            others.filter(|other| apart(other) > 0.0).min_by(|one, other| apart(one).total_cmp(&apart(other)));
        nearest.map_or(0.0, |other| (other[0] - airflow) / (other[1] - esp))
    }
}

fn percent(share: f64) -> String {
    show::trimmed((share * 1000.0).ceil() / 10.0, 1)
}
