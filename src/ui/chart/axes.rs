//! The visible part: fitted bounds that do not move with every reading, round steps, zoom and pan.

use eframe::egui::{InputState, Pos2, Response, Ui};
use egui_plot::{GridInput, GridMark, PlotBounds, PlotTransform};

use crate::ui::chart::scene::{Drawn, Scene, bound};
use crate::ui::view::beside::Beside;
use crate::ui::view::{ChartView, Screen};
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// Room above the largest airflow and static of the table.
const HEADROOM: f64 = 1.03;
/// Steps that a fitted axis has, about.
const X_STEPS: f64 = 9.0;
const Y_STEPS: f64 = 6.5;
/// Least distance of two marked steps along x, points.
const X_SPACING: f64 = 72.0;
/// Most steps along a tall y axis.
const Y_MARKS: f64 = 11.0;
/// Least distance of two marked steps along y on a low chart and on a tall one, points.
const Y_SPACING: (f64, f64) = (30.0, 56.0);
/// The chart never shows less than this share of the fitted part.
const CLOSEST: f64 = 0.05;

/// Visible part without a machine.
const EMPTY: (Airflow, Pressure) = (Airflow::from_cfm(1900.0), Pressure::from_in_wc(1.15));

/// The visible part: as zoomed, else fitted; both axes start at zero when fitted.
pub fn visible(fitted: [f64; 2], view: &ChartView) -> PlotBounds {
    match view.zoomed {
        Some([x0, y0, x1, y1]) => PlotBounds::from_min_max([x0, y0], [x1, y1]),
        None => PlotBounds::from_min_max([0.0, 0.0], fitted),
    }
}

/// Far corner of the fitted part: as it was while something moves under the hand, or a person holds the axes.
pub fn held(ui: &Ui, screen: &Screen<'_>, scene: &Scene<'_>, view: &mut ChartView) -> [f64; 2] {
    let moves = screen.was.is_some() || screen.in_hand.is_some() || ui.input(|input| input.pointer.any_down());
    let kept = view.fitted.filter(|_| moves || view.holds_axes);
    let fitted = kept.unwrap_or_else(|| fitted(screen, scene));
    view.fitted = Some(fitted);
    fitted
}

/// Far corner of the fitted part: whole steps past everything in the table, the target and the readings, so that small changes of a reading leave it as it is.
pub fn fitted(screen: &Screen<'_>, scene: &Scene<'_>) -> [f64; 2] {
    let units = screen.units;
    let (airflow, tesp) = reach(screen, scene);
    [
        whole_steps(units.airflow_number(airflow) * HEADROOM, X_STEPS),
        whole_steps(units.pressure_number(tesp) * HEADROOM, Y_STEPS),
    ]
}

fn reach(screen: &Screen<'_>, scene: &Scene<'_>) -> (Airflow, Pressure) {
    let mut airflow = Airflow::ZERO;
    let mut tesp = Pressure::ZERO;
    let then = scene.then.iter().flat_map(|then| then.taps.iter().map(|tap| (tap, &then.plane)));
    for (tap, plane) in scene.taps.iter().map(|tap| (tap, &scene.plane)).chain(then) {
        let ends = match &tap.drawn {
            Drawn::Curve { curve, .. } => [curve.first(), curve.end()],
            Drawn::Mark(row) => [(row.entry, row.airflow); 2],
        };
        for (esp, flow) in ends {
            airflow = airflow.max(flow);
            tesp = tesp.max(plane.at_job(esp));
        }
    }
    if scene.taps.is_empty() {
        return EMPTY;
    }
    let target = scene.counts().target.map_or(Airflow::ZERO, |target| target.high);
    let read = bound(screen.answer).map(|(_, tesp)| tesp);
    let read = read.or_else(|| screen.answer.point().map(|running| running.now.tesp));
    let beside = screen.beside.and_then(Beside::point).map(|running| running.now);
    let (beside_airflow, beside_tesp) = beside.map_or((Airflow::ZERO, Pressure::ZERO), |now| (now.airflow, now.tesp));
    let rated = scene.counts().rated.map_or(Pressure::ZERO, |(limit, _)| limit);
    let tesp = tesp.max(read.unwrap_or_default() * 1.05).max(rated * 1.2).max(beside_tesp * 1.05);
    (airflow.max(target * 1.03).max(beside_airflow * 1.03), tesp)
}

/// The next whole step past a value, of round steps of which about `count` fit.
fn whole_steps(value: f64, count: f64) -> f64 {
    let step = round_step(value / count);
    (value / step - 1e-9).ceil() * step
}

/// The smallest of 1, 2, 5 × 10ⁿ that is not under a value (above zero).
pub fn round_step(least: f64) -> f64 {
    let power = 10.0_f64.powf(least.max(1e-9).log10().floor());
    let step = [1.0, 2.0, 5.0].into_iter().find(|factor| factor * power >= least * (1.0 - 1e-9));
    step.unwrap_or(10.0) * power
}

/// Marked steps along x.
pub fn x_marks(input: &GridInput) -> Vec<GridMark> {
    marks(input, X_SPACING)
}

/// Marked steps along y.
pub fn y_marks(input: &GridInput) -> Vec<GridMark> {
    let height = (input.bounds.1 - input.bounds.0) / input.base_step_size;
    marks(input, (height / Y_MARKS).clamp(Y_SPACING.0, Y_SPACING.1))
}

/// `base_step_size` is the length of one point, for the grid's least spacing is set to 1.
fn marks(input: &GridInput, spacing: f64) -> Vec<GridMark> {
    let step_size = round_step(input.base_step_size * spacing);
    let (from, to) = input.bounds;
    let first = (from / step_size - 1e-6).ceil();
    let last = (to / step_size + 1e-6).floor();
    let count = (last - first).clamp(0.0, 200.0) as usize;
    (0..=count).map(|index| GridMark { value: (first + index as f64) * step_size, step_size }).collect()
}

/// The number at a step, with the digits that the step needs.
pub fn mark_text(mark: GridMark) -> String {
    let decimals = (-mark.step_size.log10() - 1e-9).ceil().clamp(0.0, 6.0) as usize;
    show::number(mark.value, decimals)
}

/// Title of the x axis.
pub fn x_title(units: UnitSystem) -> String {
    format!("Airflow, {}", units.airflow_unit())
}

/// Title of the y axis.
pub fn y_title(units: UnitSystem) -> String {
    format!("Total external static, {}", units.pressure_unit())
}

/// Zooms with Ctrl and the wheel or a pinch, pans where zoomed, fits on a double click.
pub fn zoom_and_pan(ui: &Ui, plot: &Response, transform: &PlotTransform, fitted: [f64; 2], view: &mut ChartView) {
    if plot.double_clicked() {
        *view = view.fit();
        return;
    }
    if view.dragged.is_some() {
        return;
    }
    let factor = f64::from(ui.input(InputState::zoom_delta));
    let pointer = ui.input(|input| input.pointer.hover_pos());
    if let Some(pointer) = pointer.filter(|_| plot.contains_pointer() && (factor - 1.0).abs() > 1e-4) {
        view.zoomed = zoomed(transform, pointer, factor, fitted);
    } else if plot.dragged()
        && let Some(zoomed) = &mut view.zoomed
    {
        let delta = plot.drag_delta();
        let [x, y] = transform.dvalue_dpos();
        *zoomed = panned(*zoomed, [-f64::from(delta.x) * x, -f64::from(delta.y) * y], fitted);
    }
}

fn zoomed(transform: &PlotTransform, pointer: Pos2, factor: f64, fitted: [f64; 2]) -> Option<[f64; 4]> {
    let about = transform.value_from_position(pointer);
    let bounds = transform.bounds();
    let share = |about: f64, min: f64, max: f64| (about - min) / (max - min);
    let span = |width: f64, whole: f64| (width / factor).clamp(whole * CLOSEST, whole);
    let width = span(bounds.width(), fitted[0]);
    let height = span(bounds.height(), fitted[1]);
    if width >= fitted[0] && height >= fitted[1] {
        return None;
    }
    let x = about.x - share(about.x, bounds.min()[0], bounds.max()[0]) * width;
    let y = about.y - share(about.y, bounds.min()[1], bounds.max()[1]) * height;
    Some(panned([x, y, x + width, y + height], [0.0, 0.0], fitted))
}

/// Moves the visible part, but never past the fitted one.
fn panned([x0, y0, x1, y1]: [f64; 4], by: [f64; 2], fitted: [f64; 2]) -> [f64; 4] {
    let (width, height) = (x1 - x0, y1 - y0);
    let x = (x0 + by[0]).clamp(0.0, (fitted[0] - width).max(0.0));
    let y = (y0 + by[1]).clamp(0.0, (fitted[1] - height).max(0.0));
    [x, y, x + width, y + height]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_the_axis_ends_on_one() {
        for (value, count, end) in
            [(1741.0, 9.0, 1800.0), (1.28, 6.5, 1.4), (319.0, 6.5, 350.0), (0.62, 6.5, 0.7), (820.0, 9.0, 900.0)]
        {
            assert!((whole_steps(value, count) - end).abs() < 1e-9, "{value}: {}", whole_steps(value, count));
        }
        assert!((round_step(0.2) - 0.2).abs() < 1e-12);
        assert!((round_step(0.21) - 0.5).abs() < 1e-12);
        assert!((round_step(60.0) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn a_step_shows_the_digits_it_needs() {
        let text = |value, step_size| mark_text(GridMark { value, step_size });
        assert_eq!(text(1200.0, 200.0), "1,200");
        assert_eq!(text(0.6, 0.2), "0.6");
        assert_eq!(text(0.9, 0.1), "0.9");
        assert_eq!(text(0.65, 0.05), "0.65");
        assert_eq!(text(0.0, 50.0), "0");
    }

    #[test]
    fn panning_stops_at_the_fitted_part() {
        let moved = panned([100.0, 0.1, 600.0, 0.5], [-500.0, 2.0], [2000.0, 1.2]);
        assert!(moved[0].abs() < 1e-12);
        assert!((moved[2] - 500.0).abs() < 1e-9 && (moved[3] - 1.2).abs() < 1e-9);
    }
}
