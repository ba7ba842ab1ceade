//! What the chart draws, in the units shown: every tap sampled once, the path, the marks.
//!
//! Everything stands at the job's density: a table entry `p` at an airflow `Q` is drawn at the TESP that it stands for, `p·r` less the corrections at `Q`, so that taps and path cross where they are said to.

use eframe::egui::Pos2;
use egui_plot::{PlotPoint, PlotTransform};

use crate::model::answer::Answer;
use crate::model::curves::{self, Curve, Entries, Part, TableRow, Tap};
use crate::model::facts::blower::BlowerTable;
use crate::model::facts::job::Job;
use crate::model::facts::target::TargetBand;
use crate::model::solution::operating_point::Crossing;
use crate::model::verdicts::blower::Blower;
use crate::model::verdicts::needs::plate_limit;
use crate::model::verdicts::plate::PlateSide;
use crate::model::verdicts::system::{NotRunning, System};
use crate::model::verdicts::taps::TapAnswer;
use crate::model::wording::changes;
use crate::ui::view::Screen;
use crate::units::{Airflow, Pressure, UnitSystem};

/// From airflow and table entry to a place on the chart.
#[derive(Clone, Debug)]
pub struct Plane<'a> {
    /// Units shown.
    pub units: UnitSystem,
    entries: Entries<'a>,
}

impl<'a> Plane<'a> {
    /// The plane of a job.
    pub fn of(screen: &Screen<'a>) -> Self {
        Self { units: screen.units, entries: Entries::found(screen.job, screen.answer) }
    }

    /// The plane of a system with changes, whose inside parts and air may be others.
    pub const fn of_system(units: UnitSystem, system: &'a System) -> Self {
        Self { units, entries: Entries::of(system) }
    }

    /// TESP that a table entry at an airflow stands for.
    pub fn tesp(&self, entry: Pressure, airflow: Airflow) -> Pressure {
        self.entries.tesp(entry, airflow)
    }

    /// A table's static in the job's air, before any correction.
    pub fn at_job(&self, esp: Pressure) -> Pressure {
        self.entries.at_job(esp)
    }

    /// The place of an airflow and a TESP.
    pub fn place(&self, airflow: Airflow, tesp: Pressure) -> PlotPoint {
        PlotPoint::new(self.units.airflow_number(airflow), self.units.pressure_number(tesp))
    }

    fn on_curve(&self, curve: Curve<'_>, entry: Pressure) -> Sample {
        let airflow = curve.airflow(entry);
        Sample { entry, place: self.place(airflow, self.tesp(entry, airflow)) }
    }
}

/// A place on a tap's curve.
#[derive(Clone, Copy, Debug)]
pub struct Sample {
    /// The table entry there.
    pub entry: Pressure,
    /// The place, in the units shown.
    pub place: PlotPoint,
}

/// A tap as it is drawn.
#[derive(Clone, Debug)]
pub struct TapLine<'a> {
    /// Its index in the table.
    pub tap: usize,
    /// Its name with the word for it ("tap 4").
    pub name: String,
    /// Its name as the door panel has it ("4").
    pub bare_name: &'a str,
    /// Its rank by airflow, least first.
    pub rank: usize,
    /// True for the tap that ran.
    pub in_use: bool,
    /// Its curve, or its one row.
    pub drawn: Drawn<'a>,
}

/// The way a tap is drawn.
#[derive(Clone, Debug)]
pub enum Drawn<'a> {
    /// As a curve, from static zero upward.
    Curve {
        /// The curve.
        curve: Curve<'a>,
        /// Places along it.
        samples: Vec<Sample>,
        /// What each stretch between two places rests on.
        parts: Vec<Part>,
    },
    /// As one mark.
    Mark(TableRow),
}

/// A crossing of a tap with the path.
#[derive(Clone, Copy, Debug)]
pub struct Cross {
    /// Index of the tap.
    pub tap: usize,
    /// The crossing.
    pub crossing: Crossing,
    /// Its place.
    pub place: PlotPoint,
    /// ± of its airflow, 95 %.
    pub spread: Airflow,
    /// True where the table bars the tap.
    pub barred: bool,
    /// Against the rated maximum, where there is one.
    pub plate: Option<PlateSide>,
}

/// One system as it is drawn: as it was found, or as changes make it.
#[derive(Clone, Debug)]
pub struct Scene<'a> {
    /// From quantities to places.
    pub plane: Plane<'a>,
    /// Taps that have something to draw, in the table's order.
    pub taps: Vec<TapLine<'a>>,
    /// Where taps cross the path.
    pub crosses: Vec<Cross>,
    /// The highest static on the chart that the plate allows, and the plate's own figure.
    pub rated: Option<(Pressure, Pressure)>,
    /// The target.
    pub target: Option<TargetBand>,
    /// The same of another machine, where one is put on the ducts: it is then the one that counts.
    pub then: Option<Box<Self>>,
}

impl<'a> Scene<'a> {
    /// The system as found, and another machine that the job's changes put there.
    pub fn of(screen: &Screen<'a>) -> Self {
        let Screen { job, answer, .. } = screen;
        let after = changes::with_changes(job, answer).map(|(_, after)| &after.system);
        let then = after.filter(|after| after.blower.other.is_some());
        let found = Self::of_blower(job, answer.blower(), answer.taps(), Plane::of(screen));
        Self { then: then.map(|system| Box::new(Self::of_system(screen.units, job, system))), ..found }
    }

    /// A system, whichever changes made it.
    pub fn of_system(units: UnitSystem, job: &'a Job, system: &'a System) -> Self {
        Self::of_blower(job, &system.blower, &system.taps, Plane::of_system(units, system))
    }

    /// Samples everything that does not depend on the visible part.
    fn of_blower(job: &'a Job, blower: &'a Blower, taps: &'a [TapAnswer], plane: Plane<'a>) -> Self {
        let table = blower.table(job);
        Self {
            taps: table.map(|table| tap_lines(blower, table, &plane)).unwrap_or_default(),
            crosses: crosses(taps, &plane),
            rated: rated(table, blower.entry_ratio),
            target: blower.target,
            then: None,
            plane,
        }
    }

    /// The machine that counts: the other one, where one is put on the ducts.
    pub fn counts(&self) -> &Self {
        self.then.as_deref().unwrap_or(self)
    }

    /// The tap in use.
    pub fn in_use(&self) -> Option<&TapLine<'a>> {
        self.taps.iter().find(|tap| tap.in_use)
    }

    /// A tap by its index in the table.
    pub fn tap(&self, index: usize) -> Option<&TapLine<'a>> {
        self.taps.iter().find(|tap| tap.tap == index)
    }

    /// Every tap's places on the screen; one place for a tap of one row.
    pub fn points(&self, transform: &PlotTransform) -> Vec<Vec<Pos2>> {
        let taps = self.taps.iter();
        taps.map(|tap| match &tap.drawn {
            Drawn::Curve { samples, .. } => on_screen(transform, samples),
            Drawn::Mark(row) => {
                let place = self.plane.place(row.airflow, self.plane.tesp(row.entry, row.airflow));
                vec![transform.position_from_point(&place)]
            }
        })
        .collect()
    }
}

/// ± of a system's airflow over that airflow.
pub fn share_of_spread(system: &System) -> f64 {
    system.runs().map_or(0.0, |runs| runs.spread.airflow / runs.airflow())
}

/// A system's path as places, past the far edge of the chart by as much as its band needs.
pub fn path_of(plane: &Plane<'_>, transform: &PlotTransform, system: &System) -> Vec<PlotPoint> {
    let edge = plane.units.airflow_of(transform.bounds().max()[0]);
    path(plane, &curves::path(&system.load, edge / (1.0 - share_of_spread(system).min(0.5))))
}

/// Why there is only a bound, where the static read lies past the end of the tap's curve.
pub fn bound(answer: &Answer) -> Option<(Airflow, Pressure)> {
    let Some(NotRunning::PastTheEnd { below, tesp, .. }) = answer.why_not() else {
        return None;
    };
    Some((*below, *tesp))
}

fn rated(table: Option<&BlowerTable>, entry_ratio: f64) -> Option<(Pressure, Pressure)> {
    let plate = table?.rated_maximum?;
    Some((plate_limit(plate, entry_ratio), plate))
}

fn tap_lines<'a>(blower: &'a Blower, table: &'a BlowerTable, plane: &Plane<'_>) -> Vec<TapLine<'a>> {
    let word = table.motor.tap_word();
    let drawable = table.taps.iter().enumerate();
    let mut lines: Vec<(TapLine<'a>, f64)> = drawable
        .filter_map(|(tap, published)| {
            let (drawn, airflow) = drawn(curves::tap(blower, tap)?, plane);
            let name = format!("{word} {}", published.name);
            let in_use = blower.in_use == Some(tap);
            let bare_name = published.name.as_str();
            Some((TapLine { tap, name, bare_name, rank: 0, in_use, drawn }, airflow.cfm()))
        })
        .collect();
    let airflows: Vec<f64> = lines.iter().map(|(_, airflow)| *airflow).collect();
    for (index, (line, airflow)) in lines.iter_mut().enumerate() {
        let less = |(other, value): (usize, &f64)| (value.total_cmp(airflow).then(other.cmp(&index))).is_lt();
        line.rank = airflows.iter().enumerate().filter(|pair| less(*pair)).count();
    }
    lines.into_iter().map(|(line, _)| line).collect()
}

fn drawn<'a>(tap: Tap<'a>, plane: &Plane<'_>) -> (Drawn<'a>, Airflow) {
    match tap {
        Tap::Curve(curve) => {
            let (entries, parts) = curve.sampled();
            let samples = entries.into_iter().map(|entry| plane.on_curve(curve, entry)).collect();
            (Drawn::Curve { curve, samples, parts }, curve.first().1)
        }
        Tap::Row(row) => (Drawn::Mark(row), row.airflow),
    }
}

fn crosses(taps: &[TapAnswer], plane: &Plane<'_>) -> Vec<Cross> {
    let reached = taps.iter().enumerate();
    reached
        .filter_map(|(tap, tap_answer)| {
            let point = tap_answer.reached()?;
            let crossing = point.crossing;
            Some(Cross {
                tap,
                crossing,
                place: plane.place(crossing.airflow, crossing.tesp),
                spread: point.spread.airflow,
                barred: point.barred.is_some(),
                plate: point.plate.map(|plate| plate.side),
            })
        })
        .collect()
}

/// The curve of a path as places.
pub fn path(plane: &Plane<'_>, curve: &[(Airflow, Pressure)]) -> Vec<PlotPoint> {
    curve.iter().map(|(airflow, tesp)| plane.place(*airflow, *tesp)).collect()
}

/// Places as points of the screen.
pub fn on_screen(transform: &PlotTransform, samples: &[Sample]) -> Vec<Pos2> {
    samples.iter().map(|sample| transform.position_from_point(&sample.place)).collect()
}

/// The place on a curve that is nearest to a point of the screen.
#[derive(Clone, Copy, Debug)]
pub struct Nearest {
    /// Table entry there.
    pub entry: Pressure,
    /// Where it lies on the screen.
    pub at: Pos2,
    /// How far it lies from the point asked for, in points of the screen.
    pub distance: f32,
}

/// Finds it.
pub fn nearest(samples: &[Sample], points: &[Pos2], to: Pos2) -> Option<Nearest> {
    let stretches = samples.windows(2).zip(points.windows(2));
    stretches
        .map(|(entries, ends)| {
            let along = ends[1] - ends[0];
            let length = along.length_sq().max(f32::EPSILON);
            let share = ((to - ends[0]).dot(along) / length).clamp(0.0, 1.0);
            let at = ends[0] + along * share;
            let rise = entries[1].entry - entries[0].entry;
            Nearest { entry: entries[0].entry + rise * f64::from(share), at, distance: at.distance(to) }
        })
        .min_by(|one, other| one.distance.total_cmp(&other.distance))
}
