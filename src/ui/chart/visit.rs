//! The other readings of the visit on the chart: those that the ones shown are compared with, each with its path and number, and the rest as small dots.

use eframe::egui::{Painter, Pos2, Rect, Shape, Stroke, vec2};
use egui_plot::PlotTransform;

use crate::model::curves;
use crate::model::facts::job::Job;
use crate::model::wording::visit;
use crate::ui::chart::labels::{self, Look, Wanted};
use crate::ui::chart::scene::{self, Plane};
use crate::ui::theme::{self, Palette};
use crate::ui::view::Screen;

/// Radius of a reading set's point that has a number.
pub const POINT: f32 = 4.0;
/// Radius of one that has none.
pub const DOT: f32 = 2.2;
/// Points of the screen nearer than this have one number together.
const TOGETHER: f32 = 14.0;
/// Width of the trail from one to the next.
const TRAIL: f32 = 1.0;
/// How far from its point a number may stand.
const RINGS: [f32; 6] = [POINT, 14.0, 26.0, 42.0, 64.0, 96.0];

/// A set that is told: its place in the visit, where it ran, and its path.
#[derive(Clone, Debug)]
struct Told {
    set: usize,
    at: Pos2,
    path: Vec<Pos2>,
}

/// The readings of the visit as they are drawn.
#[derive(Clone, Debug, Default)]
pub struct OtherReadings {
    told: Vec<Told>,
    dots: Vec<Pos2>,
    /// From the first that is told to the one shown and on, in the order in which they were taken.
    trail: Vec<Pos2>,
}

impl OtherReadings {
    /// Brings them to the screen; told are the first, the one before the one shown, and `pointed`.
    pub fn of(screen: &Screen<'_>, plane: &Plane<'_>, transform: &PlotTransform, pointed: Option<usize>) -> Self {
        let mut readings = Self::default();
        let judged = screen.job.judged;
        let sets = screen.answer.visit.iter().flat_map(|visit| &visit.sets).enumerate();
        for (set, point) in sets.filter_map(|(set, told)| Some((set, told.point.as_ref().ok()?))) {
            let at = transform.position_from_point(&plane.place(point.at.airflow, point.at.tesp));
            let is_told = is_told(screen.job, set, pointed);
            if set == judged || is_told {
                readings.trail.push(at);
            }
            if set == judged {
                continue;
            }
            if is_told {
                let edge = plane.units.airflow_of(transform.bounds().max()[0]);
                let places = scene::path(plane, &curves::path(&point.load, edge));
                let path = places.iter().map(|place| transform.position_from_point(place)).collect();
                readings.told.push(Told { set, at, path });
            } else {
                readings.dots.push(at);
            }
        }
        readings
    }

    /// Paths of those that are told.
    pub fn paths(&self) -> impl Iterator<Item = &Vec<Pos2>> {
        self.told.iter().map(|told| &told.path)
    }

    /// Trail, paths and points.
    pub fn draw(&self, painter: &Painter, palette: &Palette) {
        let ink = palette.quiet.gamma_multiply(0.6);
        painter.add(Shape::line(self.trail.clone(), Stroke::new(TRAIL, ink)));
        for told in &self.told {
            painter.extend(Shape::dotted_line(&told.path, ink, 6.0, 0.9));
        }
        for at in &self.dots {
            painter.circle_filled(*at, DOT, palette.quiet);
        }
        for told in &self.told {
            painter.circle(told.at, POINT, palette.quiet, Stroke::new(1.0, palette.card));
        }
    }

    /// Areas that labels keep off.
    pub fn taken(&self) -> impl Iterator<Item = Rect> {
        let square = |at: Pos2, radius: f32| Rect::from_center_size(at, vec2(2.0 * radius, 2.0 * radius));
        let told = self.told.iter().map(move |told| square(told.at, POINT));
        told.chain(self.dots.iter().map(move |at| square(*at, DOT)))
    }

    /// Their numbers, one for all that lie together.
    pub fn numbers(&self, job: &Job, palette: &Palette) -> Vec<Wanted> {
        let mut groups: Vec<(Pos2, Vec<usize>)> = Vec::new();
        for told in &self.told {
            match groups.iter_mut().find(|(at, _)| at.distance(told.at) < TOGETHER) {
                Some((_, sets)) => sets.push(told.set),
                None => groups.push((told.at, vec![told.set])),
            }
        }
        let number = |(at, sets): (Pos2, Vec<usize>)| {
            let names: Vec<String> = sets.iter().map(|set| visit::name(job, *set)).collect();
            Wanted {
                text: numbered(&sets),
                name: format!("Readings {}", names.join(", ")),
                font: theme::strong(theme::SMALL),
                ink: palette.quiet,
                look: Look::Disk,
                over: 0.0,
                of: Some(at),
                places: labels::farther_and_farther(at, &RINGS),
            }
        };
        groups.into_iter().map(number).collect()
    }
}

/// Whether readings beside those shown have their path and number: the first, the ones before, and those pointed at.
pub fn is_told(job: &Job, set: usize, pointed: Option<usize>) -> bool {
    set == 0 || Some(set) == job.judged.checked_sub(1) || Some(set) == pointed
}

/// "3", "1–3" for neighbors, "1, 3" for others; counted from one.
fn numbered(sets: &[usize]) -> String {
    match sets {
        [first, .., last] if last - first + 1 == sets.len() => format!("{}–{}", first + 1, last + 1),
        _ => sets.iter().map(|set| (set + 1).to_string()).collect::<Vec<_>>().join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbors_are_numbered_from_the_first_to_the_last() {
        for (sets, text) in [(vec![4], "5"), (vec![0, 1], "1–2"), (vec![0, 1, 2], "1–3"), (vec![0, 2], "1, 3")] {
            assert_eq!(numbered(&sets), text);
        }
    }
}
