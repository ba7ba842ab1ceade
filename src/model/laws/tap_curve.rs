//! Airflow of one tap against external static pressure: exact at the published rows, an honest line past them.
//!
//! Between rows the curve is PCHIP (see [`crate::numerics::pchip`]).
//! Above the last row it goes on as a straight line that falls 1.5 times as steeply as the steepest of the curve's end slope and the last three published stretches, never less than `m·Q_last/P_last` (m = 1/4 for PSC and constant torque, 1 for constant airflow or an unstated family), up to 1.25 times the last published ESP, and never further than where a thousandth of the last airflow is left: built so as not to over-read, which tests hold against the DOE motor-family fits.
//! Below the first row it keeps the first row's airflow.

use crate::model::facts::blower::{Cell, MotorFamily, Row, Tap, TapData};
use crate::model::facts::standing::CurveStanding;
use crate::numerics::pchip::{Pchip, Stretch};
use crate::numerics::root;
use crate::units::{Airflow, Power, Pressure, Speed};

/// How much steeper than the published end the extension falls.
pub const EXTENSION_STEEPNESS: f64 = 1.5;
/// Where the extension ends, as a multiple of the last published ESP.
pub const EXTENSION_REACH: f64 = 1.25;
/// Share of the last published airflow that is left where the extension ends at the latest: without air no path can be drawn through a reading.
pub const LEAST_LEFT: f64 = 1e-3;
/// How far from its one row a tap with a single row can be used.
pub const SINGLE_ROW_REACH: Pressure = Pressure::from_in_wc(0.05);
/// Rows farther apart than this widen the table's tolerance.
pub const WIDE_ROWS: Pressure = Pressure::from_in_wc(0.25);
/// Relative width to which a table ESP is sought for watts.
const POWER_TOLERANCE: f64 = 1e-12;
/// Airflow under the setting by this fraction marks a constant-airflow motor's knee.
pub const KNEE_DROP: f64 = 0.05;

/// A stretch of ESP where the table bars the tap.
#[derive(Clone, Debug, PartialEq)]
pub struct Barred {
    /// Lower end, exclusive.
    pub from: Pressure,
    /// Upper end, exclusive; infinite past the table's end.
    pub to: Pressure,
    /// The table's note.
    pub note: Option<String>,
}

/// A tap that has one published row only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SingleRow {
    /// Its ESP.
    pub esp: Pressure,
    /// Its airflow.
    pub airflow: Airflow,
}

/// The line past the last row.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Extension {
    /// Fall of airflow, cfm for each in. w.c., positive.
    steepness: f64,
    /// Where it ends, in. w.c.
    end: f64,
}

/// A curve that can be projected along.
#[derive(Clone, Debug, PartialEq)]
pub struct TapCurve {
    pchip: Pchip,
    first: (f64, f64),
    last: (f64, f64),
    falls: bool,
    extension: Extension,
    power: Option<Pchip>,
    speed: Option<Pchip>,
    barred: Vec<Barred>,
    notes: Vec<(Pressure, String)>,
    /// What its airflows were read off a picture by, percent at 95 %.
    reading_error: f64,
    /// What it is at a constant speed, where its motor holds the mass of thinner or denser air.
    constant_speed: Option<Box<Self>>,
}

/// What a tap's data can be used as.
#[derive(Clone, Debug, PartialEq)]
pub enum TapShape {
    /// A curve.
    Curve(Box<TapCurve>),
    /// A single row: a point.
    Single(SingleRow),
    /// Nothing usable.
    Unusable,
}

impl TapShape {
    /// The curve, where it is one.
    pub fn curve(&self) -> Option<&TapCurve> {
        match self {
            Self::Curve(curve) => Some(curve),
            Self::Single(_) | Self::Unusable => None,
        }
    }

    /// The same, read off a picture by so many percent of its airflows.
    #[must_use]
    pub fn read_off(mut self, percent: Option<f64>) -> Self {
        if let (Self::Curve(curve), Some(percent)) = (&mut self, percent) {
            curve.reading_error = percent;
        }
        self
    }

    /// The same with every airflow times a factor above zero: another supply voltage, a motor that turns faster.
    #[must_use]
    pub fn moving(self, factor: f64) -> Self {
        match self {
            Self::Curve(curve) => Self::Curve(Box::new(curve.moving(factor))),
            Self::Single(row) => Self::Single(SingleRow { airflow: row.airflow * factor, ..row }),
            Self::Unusable => Self::Unusable,
        }
    }
}

/// Airflow at an ESP, with the standing of the curve there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// The airflow.
    pub airflow: Airflow,
    /// Published or extrapolated.
    pub standing: CurveStanding,
}

/// Makes a tap's data usable; rows must be sound (see [`crate::model::facts::table_check`]).
pub fn shape_of(tap: &Tap, motor: MotorFamily) -> TapShape {
    match &tap.data {
        TapData::Range { airflow, from, to } => {
            let points = [(from.in_wc(), airflow.cfm()), (to.in_wc(), airflow.cfm())];
            curve(&points, motor, &[])
        }
        TapData::Column(rows) => {
            let points: Vec<(f64, f64)> =
                rows.iter().filter_map(|row| Some((row.esp.in_wc(), row.cell.airflow()?.cfm()))).collect();
            match points[..] {
                [(esp, cfm)] => {
                    TapShape::Single(SingleRow { esp: Pressure::from_in_wc(esp), airflow: Airflow::from_cfm(cfm) })
                }
                _ => curve(&points, motor, rows),
            }
        }
    }
}

fn curve(points: &[(f64, f64)], motor: MotorFamily, rows: &[Row]) -> TapShape {
    let (Ok(pchip), Some(&first), Some(&last)) = (Pchip::through(points), points.first(), points.last()) else {
        return TapShape::Unusable;
    };
    TapShape::Curve(Box::new(TapCurve {
        extension: extension(&pchip, points, motor),
        falls: points.windows(2).all(|pair| pair[1].1 <= pair[0].1),
        pchip,
        first,
        last,
        power: column(rows, |row| row.power.map(Power::watts)),
        speed: column(rows, |row| row.speed.map(Speed::rpm)),
        barred: barred(rows),
        notes: notes(rows),
        reading_error: 0.0,
        constant_speed: None,
    }))
}

fn column(rows: &[Row], value: impl Fn(&Row) -> Option<f64>) -> Option<Pchip> {
    let points: Vec<(f64, f64)> = rows.iter().filter_map(|row| Some((row.esp.in_wc(), value(row)?))).collect();
    Pchip::through(&points).ok()
}

fn notes(rows: &[Row]) -> Vec<(Pressure, String)> {
    rows.iter()
        .filter_map(|row| match &row.cell {
            Cell::Airflow(_, Some(note)) => Some((row.esp, note.clone())),
            Cell::Airflow(_, None) | Cell::NotGiven | Cell::NotAllowed(_) => None,
        })
        .collect()
}

/// From the published row before a barred one to the published row after it: where exactly the bar begins, the table does not say.
fn barred(rows: &[Row]) -> Vec<Barred> {
    rows.iter()
        .enumerate()
        .filter_map(|(index, row)| {
            let Cell::NotAllowed(note) = &row.cell else {
                return None;
            };
            let published = |row: &&Row| row.cell.airflow().is_some();
            Some(Barred {
                from: rows[..index].iter().rfind(published).map_or(Pressure::from_in_wc(-1.0), |row| row.esp),
                to: rows[index..].iter().find(published).map_or(Pressure::from_in_wc(f64::INFINITY), |row| row.esp),
                note: note.clone(),
            })
        })
        .collect()
}

fn extension(pchip: &Pchip, points: &[(f64, f64)], motor: MotorFamily) -> Extension {
    let least_share = match motor {
        MotorFamily::PermanentSplitCapacitor | MotorFamily::ConstantTorque => 0.25,
        MotorFamily::ConstantAirflow | MotorFamily::Unstated => 1.0,
    };
    let (esp, cfm) = points.last().copied().unwrap_or_default();
    let end_slope = pchip.slopes().last().copied().unwrap_or_default();
    let steepest_stretch = points
        .windows(2)
        .rev()
        .take(3)
        .map(|pair| (pair[0].1 - pair[1].1) / (pair[1].0 - pair[0].0))
        .fold(0.0, f64::max);
    let published = EXTENSION_STEEPNESS * steepest_stretch.max(-end_slope);
    let steepness = published.max(least_share * cfm / esp);
    Extension { steepness, end: (esp * EXTENSION_REACH).min(esp + cfm * (1.0 - LEAST_LEFT) / steepness) }
}

/// One piece of a tap's curve, found once and then followed without a search.
#[derive(Clone, Copy, Debug)]
pub enum Piece<'a> {
    /// Between two published rows.
    Between(&'a Stretch),
    /// A straight line through an ESP and airflow with a slope.
    Line {
        /// ESP, in. w.c.
        esp: f64,
        /// Airflow there, cfm.
        cfm: f64,
        /// cfm for each in. w.c.
        slope: f64,
    },
}

impl Piece<'_> {
    /// Airflow in cfm and its slope at a table ESP in in. w.c.
    #[inline]
    pub fn value_and_slope(&self, esp_in_wc: f64) -> (f64, f64) {
        match self {
            Self::Between(stretch) => stretch.value_and_slope(esp_in_wc),
            Self::Line { esp, cfm, slope } => (cfm + slope * (esp_in_wc - esp), *slope),
        }
    }
}

impl TapCurve {
    /// The line past the last row.
    #[inline]
    pub const fn past_the_last(&self) -> Piece<'_> {
        Piece::Line { esp: self.last.0, cfm: self.last.1, slope: -self.extension.steepness }
    }

    /// The level line before the first row.
    #[inline]
    pub const fn before_the_first(&self) -> Piece<'_> {
        Piece::Line { esp: self.first.0, cfm: self.first.1, slope: 0.0 }
    }

    /// The same curve with every airflow times a factor above zero.
    #[must_use]
    fn moving(mut self, factor: f64) -> Self {
        self.pchip = self.pchip.scaled(factor);
        self.first.1 *= factor;
        self.last.1 *= factor;
        self.extension.steepness *= factor;
        self.constant_speed = self.constant_speed.map(|own| Box::new(own.moving(factor)));
        self
    }

    /// The same curve with other airflows at its rows; past the last it falls as it did, for its share of airflow.
    fn with_airflows(self, airflow: impl Fn(f64, f64) -> f64) -> Self {
        let ends = self.stretches().iter().map(|stretch| (stretch.x1, stretch.y1));
        let rows: Vec<(f64, f64)> =
            std::iter::once(self.first).chain(ends).map(|(esp, cfm)| (esp, airflow(esp, cfm))).collect();
        let (Ok(pchip), Some(&first), Some(&last)) = (Pchip::through(&rows), rows.first(), rows.last()) else {
            return self;
        };
        let steepness = self.extension.steepness * last.1 / self.last.1;
        Self {
            falls: rows.windows(2).all(|pair| pair[1].1 <= pair[0].1),
            extension: Extension { steepness, ..self.extension },
            pchip,
            first,
            last,
            ..self
        }
    }

    /// The curve of a motor that holds its mass in air of a density ratio above zero, up to the motor's limit (see [`crate::model::laws::thin_air`]).
    #[must_use]
    pub fn holding_mass(self, ratio: f64) -> Self {
        let at_knee = self.most().cfm() * (1.0 - KNEE_DROP);
        let knee = self.knee().map(Pressure::in_wc).filter(|knee| *knee < self.last.0);
        let fall = knee.map(|knee| (at_knee - self.last.1) / (self.last.0 - knee));
        let limit = |esp: f64, cfm: f64| match knee.zip(fall) {
            Some((knee, fall)) if esp <= knee => cfm.max(at_knee + fall * (knee - esp)),
            Some(_) => cfm,
            None => f64::INFINITY,
        };
        let most = self.most().cfm();
        let asked = |cfm: f64| if cfm >= at_knee { cfm } else { most };
        let held = self.clone().with_airflows(|esp, cfm| (asked(cfm) / ratio).min(limit(esp, cfm)));
        Self { constant_speed: Some(Box::new(self)), ..held }
    }

    /// The same curve, at no row above another one but for what it moves at a constant speed.
    #[must_use]
    pub fn under(self, highest: &Self) -> Self {
        let Some(own) = self.constant_speed.clone() else { return self };
        let most = |esp: f64| {
            let esp = Pressure::from_in_wc(esp);
            let most = highest.at(esp)?.airflow.max(own.at(esp)?.airflow);
            Some(most.cfm())
        };
        self.with_airflows(|esp, cfm| most(esp).map_or(cfm, |most| cfm.min(most)))
    }

    /// The same tap at a constant speed, where its motor holds the mass of thinner or denser air.
    pub fn at_constant_speed(&self) -> Option<&Self> {
        self.constant_speed.as_deref()
    }

    /// What its airflows were read off a picture by, percent at 95 %; nought for a printed table.
    pub const fn reading_error(&self) -> f64 {
        self.reading_error
    }

    /// The most that it moves at its table's density.
    pub fn own_most(&self) -> Airflow {
        self.constant_speed.as_ref().map_or_else(|| self.most(), |own| own.most())
    }

    /// True where no row moves more than one of less static, so that every path is met once only.
    pub const fn falls(&self) -> bool {
        self.falls
    }

    /// First published row.
    pub const fn first(&self) -> (Pressure, Airflow) {
        (Pressure::from_in_wc(self.first.0), Airflow::from_cfm(self.first.1))
    }

    /// Last published row.
    pub const fn last(&self) -> (Pressure, Airflow) {
        (Pressure::from_in_wc(self.last.0), Airflow::from_cfm(self.last.1))
    }

    /// Where the extension ends, and the airflow there.
    pub fn end(&self) -> (Pressure, Airflow) {
        let fall = self.extension.steepness * (self.extension.end - self.last.0);
        (Pressure::from_in_wc(self.extension.end), Airflow::from_cfm((self.last.1 - fall).max(0.0)))
    }

    /// Airflow at a table ESP from 0 to the extension's end, nothing outside.
    pub fn at(&self, esp: Pressure) -> Option<CurvePoint> {
        let p = esp.in_wc();
        if !(0.0..=self.extension.end).contains(&p) {
            return None;
        }
        let (cfm, _) = self.value_and_slope(p);
        Some(CurvePoint { airflow: Airflow::from_cfm(cfm), standing: self.standing(esp) })
    }

    /// Published between the first and the last row, extrapolated elsewhere.
    pub fn standing(&self, esp: Pressure) -> CurveStanding {
        if (self.first.0..=self.last.0).contains(&esp.in_wc()) {
            CurveStanding::Published
        } else {
            CurveStanding::Extrapolated
        }
    }

    /// Airflow in cfm and its slope in cfm for each in. w.c. at a table ESP; past the end the line goes on.
    #[inline]
    pub fn value_and_slope(&self, esp_in_wc: f64) -> (f64, f64) {
        if esp_in_wc > self.last.0 {
            let fall = self.extension.steepness * (esp_in_wc - self.last.0);
            return (self.last.1 - fall, -self.extension.steepness);
        }
        match self.pchip.stretch_at(esp_in_wc) {
            Some(stretch) => stretch.value_and_slope(esp_in_wc),
            None => (self.first.1, 0.0),
        }
    }

    /// The published stretches.
    pub fn stretches(&self) -> &[Stretch] {
        self.pchip.stretches()
    }

    /// Electric power at a table ESP, within the published rows.
    pub fn power_at(&self, esp: Pressure) -> Option<Power> {
        let watts = self.power.as_ref()?.value(esp.in_wc())?;
        Some(Power::from_watts(watts))
    }

    /// The table ESP at which the tap takes so much electric power, within the published rows; nothing where its watts turn round between two of them, stay level, or do not come to that.
    pub fn entry_of_power(&self, power: Power) -> Option<Pressure> {
        let column = self.power.as_ref()?;
        let stretches = column.stretches();
        let falls = |stretch: &Stretch| stretch.y1 < stretch.y0();
        let rises = |stretch: &Stretch| stretch.y1 > stretch.y0();
        if !(stretches.iter().all(falls) || stretches.iter().all(rises)) {
            return None;
        }
        let holds = |stretch: &&Stretch| (stretch.y0() - power.watts()) * (stretch.y1 - power.watts()) <= 0.0;
        let stretch = stretches.iter().find(holds)?;
        let residual = |esp: f64| {
            let (watts, slope) = stretch.value_and_slope(esp);
            (watts - power.watts(), slope)
        };
        root::bracketed(residual, stretch.x0, stretch.x1, POWER_TOLERANCE).ok().map(Pressure::from_in_wc)
    }

    /// Wheel speed at a table ESP, within the published rows.
    pub fn speed_at(&self, esp: Pressure) -> Option<Speed> {
        let rpm = self.speed.as_ref()?.value(esp.in_wc())?;
        Some(Speed::from_rpm(rpm))
    }

    /// The bar that covers a table ESP.
    pub fn barred_at(&self, esp: Pressure) -> Option<&Barred> {
        self.barred.iter().find(|barred| esp > barred.from && esp < barred.to)
    }

    /// The table's notes, with the ESP of their rows.
    pub fn notes(&self) -> &[(Pressure, String)] {
        &self.notes
    }

    /// The table's note on the row nearest to an ESP, within half an ordinary row (0.05 in. w.c.).
    pub fn note_near(&self, esp: Pressure) -> Option<&str> {
        self.notes.iter().find(|(row, _)| (*row - esp).abs() <= SINGLE_ROW_REACH).map(|(_, note)| note.as_str())
    }

    /// The largest published airflow; between rows no curve rises above both of them.
    pub fn most(&self) -> Airflow {
        Airflow::from_cfm(self.stretches().iter().map(|stretch| stretch.y1).fold(self.first.1, f64::max))
    }

    /// Highest table ESP at which the tap still moves an airflow, with the standing of the curve there; nothing when it never does.
    ///
    /// A tap that moves more than asked even at the extension's end is said to do so at that end, which is the low side.
    pub fn highest_esp_for(&self, airflow: Airflow) -> Option<(Pressure, CurveStanding)> {
        let wanted = airflow.cfm();
        if self.last.1 >= wanted {
            let by_line = self.last.0 + (self.last.1 - wanted) / self.extension.steepness;
            let esp = Pressure::from_in_wc(by_line.min(self.extension.end));
            return Some((esp, self.standing(esp)));
        }
        let stretch = self.stretches().iter().rev().find(|stretch| stretch.value(stretch.x0) >= wanted)?;
        let root = crate::numerics::root::bracketed(
            |p| (stretch.value(p) - wanted, stretch.slope(p)),
            stretch.x0,
            stretch.x1,
            1e-13,
        );
        Some((Pressure::from_in_wc(root.ok()?), CurveStanding::Published))
    }

    /// Distance between the curve and the straight line where rows are more than 0.25 in. w.c. apart; zero elsewhere.
    pub fn wide_row_doubt(&self, esp: Pressure) -> Airflow {
        let Some(stretch) = self.pchip.stretch_at(esp.in_wc()) else {
            return Airflow::ZERO;
        };
        let width = stretch.x1 - stretch.x0;
        if width <= WIDE_ROWS.in_wc() {
            return Airflow::ZERO;
        }
        let share = (esp.in_wc() - stretch.x0) / width;
        let ends = (stretch.value(stretch.x0), stretch.value(stretch.x1));
        let straight = ends.0 + share * (ends.1 - ends.0);
        Airflow::from_cfm(stretch.value(esp.in_wc()) - straight).abs()
    }

    /// The knee of a constant-airflow motor: lowest ESP past which airflow stays 5 % under the largest published one; nothing where the table ends before it shows one.
    pub fn knee(&self) -> Option<Pressure> {
        let (esp, standing) = self.highest_esp_for(self.most() * (1.0 - KNEE_DROP))?;
        (standing == CurveStanding::Published).then_some(esp)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Table A of the reference checks (invented).
    fn table_a() -> TapCurve {
        let points: Vec<(f64, f64)> = [1412.0, 1383.0, 1347.0, 1303.0, 1251.0, 1189.0, 1116.0, 1030.0, 928.0, 807.0]
            .into_iter()
            .zip(1..)
            .map(|(cfm, tenth)| (f64::from(tenth) / 10.0, cfm))
            .collect();
        match curve(&points, MotorFamily::PermanentSplitCapacitor, &[]) {
            TapShape::Curve(curve) => *curve,
            other => unreachable!("a curve, not {other:?}"),
        }
    }

    #[test]
    fn the_most_is_the_largest_row_wherever_it_stands() {
        let TapShape::Curve(rising) =
            curve(&[(0.1, 1000.0), (0.2, 1010.0), (0.3, 900.0)], MotorFamily::ConstantTorque, &[])
        else {
            panic!("three rows make a curve");
        };
        assert!((rising.most().cfm() - 1010.0).abs() < 1e-9);
        assert!((table_a().most().cfm() - 1412.0).abs() < 1e-9);
    }

    #[test]
    fn past_the_last_row_it_falls_steeper_and_ends() {
        let curve = table_a();
        let (end, airflow) = curve.end();
        // End slope −1305 is the steepest; 1.5 × 1305 × 0.25 = 489.4 below 807.
        assert!((end.in_wc() - 1.25).abs() < 1e-12);
        assert!((airflow.cfm() - (807.0 - 1.5 * 1305.0 * 0.25)).abs() < 1e-6);
        assert_eq!(curve.at(Pressure::from_in_wc(1.2501)), None);
        assert_eq!(curve.at(Pressure::from_in_wc(1.1)).unwrap().standing, CurveStanding::Extrapolated);
    }

    #[test]
    fn the_line_past_the_last_row_ends_before_its_air_does() {
        let steep = curve(&[(0.7, 275.0), (0.8, 75.0)], MotorFamily::PermanentSplitCapacitor, &[]);
        let TapShape::Curve(steep) = steep else {
            panic!("two rows make a curve");
        };
        let (end, airflow) = steep.end();
        assert!((airflow.cfm() - 0.075).abs() < 1e-9, "{airflow:?} at {end:?}");
    }

    #[test]
    fn below_the_first_row_it_keeps_the_first_airflow() {
        let point = table_a().at(Pressure::ZERO).unwrap();
        assert_eq!((point.airflow.cfm(), point.standing), (1412.0, CurveStanding::Extrapolated));
    }

    #[test]
    fn the_highest_static_that_still_delivers_is_the_curves_inverse() {
        let curve = table_a();
        for cfm in [1400.0, 1303.0, 1100.0, 810.0] {
            let (esp, standing) = curve.highest_esp_for(Airflow::from_cfm(cfm)).unwrap();
            assert_eq!(standing, CurveStanding::Published);
            assert!((curve.at(esp).unwrap().airflow.cfm() - cfm).abs() < 1e-7, "{cfm}");
        }
        assert_eq!(curve.highest_esp_for(Airflow::from_cfm(1413.0)), None);
        let (_, standing) = curve.highest_esp_for(Airflow::from_cfm(700.0)).unwrap();
        assert_eq!(standing, CurveStanding::Extrapolated);
    }

    #[test]
    fn a_range_is_flat_and_then_falls_at_least_in_proportion() {
        let tap = Tap {
            name: "A".to_owned(),
            data: TapData::Range {
                airflow: Airflow::from_cfm(1200.0),
                from: Pressure::from_in_wc(0.1),
                to: Pressure::from_in_wc(0.8),
            },
        };
        let TapShape::Curve(curve) = shape_of(&tap, MotorFamily::ConstantAirflow) else {
            unreachable!("a range is a curve");
        };
        let flat = curve.at(Pressure::from_in_wc(0.6)).unwrap().airflow;
        assert!((flat.cfm() - 1200.0).abs() < 1e-9);
        // m = 1: slope Q/P = 1500, so 0.2 further gives 900.
        assert!((curve.end().1.cfm() - 900.0).abs() < 1e-9);
    }

    #[test]
    fn a_barred_row_bars_as_far_as_its_published_neighbours() {
        let row = |esp: f64, cell: Cell| Row { esp: Pressure::from_in_wc(esp), cell, power: None, speed: None };
        let cfm = |value: f64| Cell::Airflow(Airflow::from_cfm(value), None);
        let tap = Tap {
            name: "1".to_owned(),
            data: TapData::Column(vec![
                row(0.1, cfm(1000.0)),
                row(0.2, cfm(950.0)),
                row(0.3, Cell::NotAllowed(Some("not for heating".to_owned()))),
            ]),
        };
        let TapShape::Curve(curve) = shape_of(&tap, MotorFamily::PermanentSplitCapacitor) else {
            unreachable!("two rows are a curve");
        };
        assert!(curve.barred_at(Pressure::from_in_wc(0.2)).is_none());
        let barred = curve.barred_at(Pressure::from_in_wc(0.21)).unwrap();
        assert_eq!(barred.note.as_deref(), Some("not for heating"));
    }
}
