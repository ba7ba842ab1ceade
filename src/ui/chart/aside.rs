//! What stands back on the chart beside the job as it is worked on: another job as it was read, and the job's other options.

use std::collections::BTreeSet;

use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};
use egui_plot::PlotTransform;

use crate::model::curves;
use crate::model::side_by_side::Column;
use crate::model::verdicts::system::System;
use crate::model::wording::options::shortened;
use crate::ui::chart::labels::{self, Look, Wanted};
use crate::ui::chart::scene::{self, Drawn, Plane, Scene};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::ui::view::beside::Beside;
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// Half of a point's side.
pub const POINT: f32 = 5.5;
/// Radius of an option's point.
pub const DOT: f32 = 4.0;
/// Width of another job's lines, and of an option's.
const LINE: f32 = 1.4;
const THIN: f32 = 1.0;
/// How far from its point a name may stand.
const RINGS: [f32; 6] = [POINT, 16.0, 28.0, 44.0, 66.0, 98.0];

/// What it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    /// Another job.
    Job,
    /// Another option of the job.
    Option,
}

/// One of them as it is drawn.
#[derive(Clone, Debug)]
pub struct Aside {
    what: What,
    at: Pos2,
    path: Vec<Pos2>,
    /// The curve that ran, for another job.
    tap: Vec<Pos2>,
    label: String,
    name: String,
}

/// Everything that stands back; options that are `hidden` do not stand at all.
pub fn all(screen: &Screen<'_>, transform: &PlotTransform, hidden: &BTreeSet<usize>) -> Vec<Aside> {
    let job = screen.beside.and_then(|beside| of_job(screen.units, transform, beside));
    let columns = screen.options.map(|(_, columns)| columns).unwrap_or_default();
    let waiting = columns.iter().enumerate().filter(|(index, _)| *index != screen.job.options.index());
    let options = waiting.filter(|(index, _)| !hidden.contains(index));
    job.into_iter().chain(options.filter_map(|(_, column)| of_option(screen.units, transform, column))).collect()
}

/// True where another option stands on the chart.
pub fn has_option(screen: &Screen<'_>, hidden: &BTreeSet<usize>) -> bool {
    let columns = screen.options.map(|(_, columns)| columns).unwrap_or_default();
    let mut others = columns.iter().enumerate();
    others.any(|(index, column)| {
        index != screen.job.options.index() && !hidden.contains(&index) && column.projection().is_some()
    })
}

fn of_job(units: UnitSystem, transform: &PlotTransform, beside: &Beside) -> Option<Aside> {
    let running = beside.point()?;
    let own = Scene::of_system(units, beside.job(), &running.system);
    let tap = match own.in_use().map(|tap| &tap.drawn) {
        Some(Drawn::Curve { samples, .. }) => scene::on_screen(transform, samples),
        Some(Drawn::Mark(_)) | None => Vec::new(),
    };
    let at = (running.now.airflow, running.now.tesp);
    Some(Aside { tap, ..of_system(What::Job, (units, transform), &running.system, at, beside.name()) })
}

fn of_option(units: UnitSystem, transform: &PlotTransform, column: &Column) -> Option<Aside> {
    let system = &column.projection()?.system;
    let point = system.runs()?.crossing;
    Some(of_system(What::Option, (units, transform), system, (point.airflow, point.tesp), &column.called()))
}

fn of_system(
    what: What,
    (units, transform): (UnitSystem, &PlotTransform),
    system: &System,
    (airflow, tesp): (Airflow, Pressure),
    name: &str,
) -> Aside {
    let plane = Plane::of_system(units, system);
    let edge = units.airflow_of(transform.bounds().max()[0]);
    let on_screen = |place: &egui_plot::PlotPoint| transform.position_from_point(place);
    let path = scene::path(&plane, &curves::path(&system.load, edge)).iter().map(on_screen).collect();
    let figures = format!("{} · {}", show::airflow_bare(airflow, units), show::pressure_bare(tesp, units));
    Aside {
        what,
        at: on_screen(&plane.place(airflow, tesp)),
        path,
        tap: Vec::new(),
        label: format!("{}: {figures}", shortened(name)),
        name: format!("{name}: {figures}"),
    }
}

impl Aside {
    /// Its lines.
    pub fn lines(&self) -> impl Iterator<Item = &Vec<Pos2>> {
        [&self.path, &self.tap].into_iter().filter(|line| !line.is_empty())
    }

    /// Draws its lines.
    pub fn draw(&self, painter: &Painter, palette: &Palette) {
        for line in self.lines() {
            match self.what {
                What::Job => painter.extend(dashes(line, palette)),
                What::Option => drop(painter.add(thin(line, palette))),
            }
        }
    }

    /// Draws its point, over every crossing.
    pub fn mark(&self, painter: &Painter, palette: &Palette) {
        painter.add(match self.what {
            What::Job => diamond(self.at, palette),
            What::Option => dot(self.at, palette),
        });
    }

    /// Area that labels keep off.
    pub fn taken(&self) -> Rect {
        Rect::from_center_size(self.at, vec2(2.0 * POINT, 2.0 * POINT))
    }

    /// Its name with its figures, by its point.
    pub fn label(&self, palette: &Palette) -> Wanted {
        Wanted {
            text: self.label.clone(),
            name: self.name.clone(),
            font: theme::regular(theme::CHART),
            ink: match self.what {
                What::Job => palette.quiet,
                What::Option => palette.change,
            },
            look: Look::Halo,
            over: 0.0,
            of: Some(self.at),
            places: labels::farther_and_farther(self.at, &RINGS),
        }
    }
}

/// A line of another job: a long dash and a short one.
pub fn dashes(line: &[Pos2], palette: &Palette) -> Vec<Shape> {
    Shape::dashed_line_with_offset(line, Stroke::new(LINE, palette.quiet), &[12.0, 2.5], &[4.0, 4.0], 0.0)
}

/// Another job's point: a square on its corner, for the others are round.
pub fn diamond(at: Pos2, palette: &Palette) -> Shape {
    let corners = [vec2(0.0, -POINT), vec2(POINT, 0.0), vec2(0.0, POINT), vec2(-POINT, 0.0)].map(|by| at + by);
    Shape::convex_polygon(corners.to_vec(), palette.card, Stroke::new(1.8, palette.quiet))
}

/// The path of another option.
pub fn thin(line: &[Pos2], palette: &Palette) -> Shape {
    Shape::line(line.to_vec(), Stroke::new(THIN, back(palette)))
}

/// Where another option would run.
pub fn dot(at: Pos2, palette: &Palette) -> Shape {
    Shape::circle_filled(at, DOT, back(palette))
}

fn back(palette: &Palette) -> Color32 {
    theme::standing_back(palette.change)
}
