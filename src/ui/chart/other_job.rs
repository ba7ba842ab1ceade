//! Another job on the chart: its path, the curve that ran, and where they cross, all of them quiet.

use eframe::egui::{Painter, Pos2, Rect, Shape, Stroke, vec2};
use egui_plot::PlotTransform;

use crate::model::curves;
use crate::ui::chart::labels::{self, Look, Wanted};
use crate::ui::chart::scene::{self, Drawn, Plane, Scene};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;
use crate::units::show;

/// Half of its point's side.
pub const POINT: f32 = 5.5;
/// Width of its lines.
const LINE: f32 = 1.4;
/// How far from its point its name may stand.
const RINGS: [f32; 6] = [POINT, 16.0, 28.0, 44.0, 66.0, 98.0];

/// Another job as it is drawn.
#[derive(Clone, Debug)]
pub struct OtherJob {
    at: Pos2,
    path: Vec<Pos2>,
    tap: Vec<Pos2>,
    label: String,
    name: String,
}

impl OtherJob {
    /// Brings it to the screen, each at its own air's density.
    pub fn of(screen: &Screen<'_>, transform: &PlotTransform) -> Option<Self> {
        let beside = screen.beside?;
        let running = beside.point()?;
        let plane = Plane::of_system(screen.units, &running.system);
        let edge = screen.units.airflow_of(transform.bounds().max()[0]);
        let on_screen = |place: &egui_plot::PlotPoint| transform.position_from_point(place);
        let path = scene::path(&plane, &curves::path(&running.system.load, edge)).iter().map(on_screen).collect();
        let own = Scene::of_system(screen.units, beside.job(), &running.system);
        let ran = own.in_use().map(|tap| &tap.drawn);
        let tap = match ran {
            Some(Drawn::Curve { samples, .. }) => scene::on_screen(transform, samples),
            Some(Drawn::Mark(_)) | None => Vec::new(),
        };
        let (airflow, tesp) = (running.now.airflow, running.now.tesp);
        let figures =
            format!("{} · {}", show::airflow_bare(airflow, screen.units), show::pressure_bare(tesp, screen.units));
        Some(Self {
            at: on_screen(&plane.place(airflow, tesp)),
            path,
            tap,
            label: format!("{}: {figures}", beside.short_name()),
            name: format!("{}: {figures}", beside.name()),
        })
    }

    /// Its path and its tap's curve.
    pub fn lines(&self) -> [&Vec<Pos2>; 2] {
        [&self.path, &self.tap]
    }

    /// Draws its lines.
    pub fn draw(&self, painter: &Painter, palette: &Palette) {
        for line in self.lines() {
            painter.extend(dashes(line, palette));
        }
    }

    /// Draws its point, over every crossing.
    pub fn mark(&self, painter: &Painter, palette: &Palette) {
        painter.add(diamond(self.at, palette));
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
            ink: palette.quiet,
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

/// Its point: a square on its corner, for the others are round.
pub fn diamond(at: Pos2, palette: &Palette) -> Shape {
    let corners = [vec2(0.0, -POINT), vec2(POINT, 0.0), vec2(0.0, POINT), vec2(-POINT, 0.0)].map(|by| at + by);
    Shape::convex_polygon(corners.to_vec(), palette.card, Stroke::new(1.8, palette.quiet))
}
