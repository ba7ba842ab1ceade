//! The curves of taps and paths as points: what a drawing shows and reads out, so that none has to know a law.

use std::borrow::Cow;

use crate::model::answer::Answer;
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::standing::CurveStanding;
use crate::model::facts::table_check::{self, tap_is_usable};
use crate::model::laws::system_curve::{SystemCurve, SystemLoad};
use crate::model::laws::tap_curve::{Barred, SINGLE_ROW_REACH, SingleRow, TapCurve, TapShape, shape_of};
use crate::model::path::tesp;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::system::System;
use crate::units::{Airflow, Power, Pressure, Speed};

/// About how many points a tap's published part is sampled at.
const SAMPLES: usize = 56;
/// Points along each extension.
const EXTENSION_SAMPLES: usize = 4;
/// Points along a path's curve.
const PATH_SAMPLES: u32 = 64;
/// Points along a curve that is drawn small.
const SMALL_SAMPLES: u32 = 40;

/// From table entries to the static that they stand for: an entry `p` at an airflow `Q` is `p·r` less the corrections at `Q`.
#[derive(Clone, Debug)]
pub struct Entries<'a> {
    corrections: Cow<'a, SystemCurve>,
    entry_ratio: f64,
}

impl<'a> Entries<'a> {
    /// Those of the machine as found; without a point, the corrections are those of the readings as far as there are any.
    pub fn found(job: &'a Job, answer: &'a Answer) -> Self {
        let read = || job.machine.as_ref().and_then(|table| tesp::sum(job, table).ok());
        let corrections = match answer.point() {
            Some(running) => Cow::Borrowed(&running.system.load.corrections),
            None => Cow::Owned(read().map(|sum| sum.corrections_by_data()).unwrap_or_default()),
        };
        Self { corrections, entry_ratio: answer.blower().entry_ratio }
    }

    /// Those of a system, whose inside parts and air may be others.
    pub const fn of(system: &'a System) -> Self {
        Self { corrections: Cow::Borrowed(&system.load.corrections), entry_ratio: system.load.entry_ratio }
    }

    /// Static that a table entry at an airflow stands for.
    pub fn tesp(&self, entry: Pressure, airflow: Airflow) -> Pressure {
        entry * self.entry_ratio - self.corrections.drop_at(airflow)
    }

    /// A table's static in the job's air, before any correction.
    pub fn at_job(&self, esp: Pressure) -> Pressure {
        esp * self.entry_ratio
    }
}

/// A tap as it can be drawn.
#[derive(Clone, Copy, Debug)]
pub enum Tap<'a> {
    /// As a curve, from static zero upward.
    Curve(Curve<'a>),
    /// As one row.
    Row(TableRow),
}

/// A tap of a blower; nothing where its data cannot be drawn.
pub fn tap(blower: &Blower, index: usize) -> Option<Tap<'_>> {
    match blower.shapes.get(index)? {
        TapShape::Curve(curve) => Some(Tap::Curve(Curve(curve))),
        TapShape::Single(row) => Some(Tap::Row(TableRow::of(row))),
        TapShape::Unusable => None,
    }
}

/// The only row of a tap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableRow {
    /// Its airflow.
    pub airflow: Airflow,
    /// Its entry.
    pub entry: Pressure,
    /// How far to both sides of its entry it can be used.
    pub reach: Pressure,
}

impl TableRow {
    const fn of(row: &SingleRow) -> Self {
        Self { airflow: row.airflow, entry: row.esp, reach: SINGLE_ROW_REACH }
    }
}

/// What a stretch of a curve rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Rows of the table.
    Published,
    /// Past its first or last row.
    Extended,
    /// Where the table bars the tap.
    Barred,
}

/// A place on a tap's curve, with all that the table says of it.
#[derive(Clone, Copy, Debug)]
pub struct CurvePoint<'a> {
    /// Airflow there.
    pub airflow: Airflow,
    /// Published or extrapolated.
    pub standing: CurveStanding,
    /// Electric power, where the table has it.
    pub power: Option<Power>,
    /// Wheel speed, where the table has it.
    pub speed: Option<Speed>,
    /// The bar that covers it.
    pub barred: Option<&'a Barred>,
    /// The table's note on the row nearest to it.
    pub note: Option<&'a str>,
}

/// A tap's curve.
#[derive(Clone, Copy, Debug)]
pub struct Curve<'a>(&'a TapCurve);

impl<'a> Curve<'a> {
    /// First published row.
    pub const fn first(self) -> (Pressure, Airflow) {
        self.0.first()
    }

    /// Where the extension ends.
    pub fn end(self) -> (Pressure, Airflow) {
        self.0.end()
    }

    /// Airflow at a table entry.
    pub fn airflow(self, entry: Pressure) -> Airflow {
        Airflow::from_cfm(self.0.value_and_slope(entry.in_wc()).0)
    }

    /// All that is known at a table entry.
    pub fn at(self, entry: Pressure) -> CurvePoint<'a> {
        CurvePoint {
            airflow: self.airflow(entry),
            standing: self.0.standing(entry),
            power: self.0.power_at(entry),
            speed: self.0.speed_at(entry),
            barred: self.0.barred_at(entry),
            note: self.0.note_near(entry),
        }
    }

    /// Entries along the curve, extensions included, and what each stretch between two of them rests on.
    ///
    /// Every published row is among them, so that what is drawn passes exactly through the table.
    pub fn sampled(self) -> (Vec<Pressure>, Vec<Part>) {
        let entries = self.entries();
        let middle = |pair: &[f64]| Pressure::from_in_wc(f64::midpoint(pair[0], pair[1]));
        let parts = entries.windows(2).map(|pair| self.part(middle(pair))).collect();
        (entries.into_iter().map(Pressure::from_in_wc).collect(), parts)
    }

    fn entries(self) -> Vec<f64> {
        let (first, last, end) = (self.0.first().0.in_wc(), self.0.last().0.in_wc(), self.0.end().0.in_wc());
        let stretches = self.0.stretches();
        let each = SAMPLES.div_ceil(stretches.len().max(1)).max(2);
        let mut entries = Vec::with_capacity(each * stretches.len() + 2 * EXTENSION_SAMPLES + 2);
        let mut run = |from: f64, to: f64, count: usize| {
            if to > from {
                entries.extend((0..count).map(|step| from + (to - from) * step as f64 / count as f64));
            }
        };
        run(0.0, first, EXTENSION_SAMPLES);
        for stretch in stretches {
            run(stretch.x0, stretch.x1, each);
        }
        run(last, end, EXTENSION_SAMPLES);
        entries.push(end.max(last));
        entries
    }

    fn part(self, entry: Pressure) -> Part {
        match (self.0.barred_at(entry), self.0.standing(entry)) {
            (Some(_), _) => Part::Barred,
            (None, CurveStanding::Published) => Part::Published,
            (None, CurveStanding::Extrapolated) => Part::Extended,
        }
    }
}

/// A path's curve from standstill to an airflow.
pub fn path(load: &SystemLoad, up_to: Airflow) -> Vec<(Airflow, Pressure)> {
    let along = (0..=PATH_SAMPLES).map(|step| up_to * (f64::from(step) / f64::from(PATH_SAMPLES)));
    along.map(|airflow| (airflow, load.tesp(airflow))).collect()
}

/// A tap of a table as it is drawn small.
#[derive(Clone, Debug, PartialEq)]
pub struct SmallCurve {
    /// Its name.
    pub name: String,
    /// Airflow and static, with the standing there, from no static to the end.
    pub points: Vec<(Airflow, Pressure, CurveStanding)>,
    /// Airflow at the first row.
    pub first: Airflow,
}

/// The curves of the taps of a table that can be used, the one with least airflow first.
pub fn of_table(table: &BlowerTable) -> Vec<SmallCurve> {
    let problems = table_check::check(table);
    let usable = table.taps.iter().enumerate().filter(|(index, _)| tap_is_usable(&problems, *index));
    let drawn = usable.filter_map(|(_, tap)| {
        let points = match shape_of(tap, table.motor) {
            TapShape::Curve(curve) => small(&curve),
            TapShape::Single(row) => vec![(row.airflow, row.esp, CurveStanding::Published)],
            TapShape::Unusable => return None,
        };
        let first = points.iter().find(|point| point.2 == CurveStanding::Published)?.0;
        Some(SmallCurve { name: tap.name.clone(), points, first })
    });
    let mut drawn: Vec<SmallCurve> = drawn.collect();
    drawn.sort_by(|one, other| one.first.cfm().total_cmp(&other.first.cfm()));
    drawn
}

fn small(curve: &TapCurve) -> Vec<(Airflow, Pressure, CurveStanding)> {
    let end = curve.end().0;
    let spread = (0..=SMALL_SAMPLES).map(|step| end * (f64::from(step) / f64::from(SMALL_SAMPLES)));
    let mut statics: Vec<Pressure> = spread.chain([curve.first().0, curve.last().0]).collect();
    statics.sort_by(|one, other| one.in_wc().total_cmp(&other.in_wc()));
    statics.into_iter().filter_map(|esp| curve.at(esp).map(|point| (point.airflow, esp, point.standing))).collect()
}
