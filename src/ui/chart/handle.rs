//! The measured point under the hand: it slides along the curve of the tap in use, and the readings follow.

use eframe::egui::{CursorIcon, EventFilter, Id, Key, Rect, Response, Sense, Ui, Vec2, WidgetInfo, accesskit};
use egui_plot::PlotTransform;

use crate::edit::Edit;
use crate::model::facts::job::Job;
use crate::model::facts::readings::ReadAt;
use crate::model::path::tesp::ReadDifference;
use crate::model::verdicts::system::Running;
use crate::ui::chart::scene::{self, Drawn, Scene};
use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::held::{self, Held};
use crate::ui::view::{ChartView, DraggedPoint, Screen, View};
use crate::ui::widgets::hint;
use crate::units::{Airflow, Pressure, UnitSystem, show};

/// One press of an arrow key, and the step that set readings are rounded to: 0.01 in. w.c. or 1 Pa.
pub const fn step(units: UnitSystem) -> Pressure {
    units.pick(Pressure::from_in_wc(0.01), Pressure::from_pa(1.0))
}

/// How the set readings are rounded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rounding {
    /// Not at all: while the hand still moves.
    None,
    /// To a step.
    To(Pressure),
}

impl Rounding {
    fn apply(self, pressure: Pressure) -> Pressure {
        match self {
            Self::None => pressure,
            Self::To(step) => rounded(pressure, step),
        }
    }
}

/// Whole steps, as the nearest decimal of the step's own unit.
fn rounded(pressure: Pressure, step: Pressure) -> Pressure {
    let steps = (pressure / step).round();
    let whole = step * steps;
    // 0.29 and not 0.29000000000000004: readings are saved as they stand.
    let tidy = (whole.in_wc() * 1e6).round() / 1e6;
    if (step.in_wc() - 0.01).abs() < 1e-12 { Pressure::from_in_wc(tidy) } else { whole }
}

/// The edits that make the static across the machine a given one: both ports scaled by one factor, or the total.
///
/// Each place gets one look, for nobody took several of them.
/// After rounding, the difference of the two is still exactly `across` rounded.
pub fn edits(job: &Job, read: &ReadDifference, across: Pressure, rounding: Rounding) -> Vec<Edit> {
    let wanted = rounding.apply(across);
    let factor = wanted / read.across();
    let mut edits = match read {
        ReadDifference::Total(_) => vec![Edit::Reading(ReadAt::Total, vec![wanted])],
        ReadDifference::Ports { before, after } => {
            let before_wanted = rounding.apply(before.1 * factor);
            let after_wanted = wanted + before_wanted;
            vec![
                Edit::Reading(ReadAt::Port(before.0), vec![before_wanted]),
                Edit::Reading(ReadAt::Port(after.0), vec![rounding.apply(after_wanted)]),
            ]
        }
    };
    if job.set().signs_confirmed {
        edits.push(Edit::ConfirmSigns);
    }
    edits
}

/// The point's widget, for screen readers and tests.
pub fn name(screen: &Screen<'_>, airflow: Airflow, tesp: Pressure) -> String {
    let units = screen.units;
    format!("Measured point: {} at {}", show::airflow(airflow, units), show::pressure(tesp, units))
}

/// Id of the point's widget.
pub fn id() -> Id {
    Id::unique("measured point")
}

/// The widget over the plot; while the hand holds the point, it says which readings that would be.
pub fn handle(
    ui: &mut Ui,
    screen: &Screen<'_>,
    scene: &Scene<'_>,
    transform: &PlotTransform,
    view: &mut View,
    out: &mut Vec<Action>,
) -> Option<Response> {
    let Some(running) = screen.as_it_stands().point() else {
        view.chart.dragged = None;
        return None;
    };
    let (airflow, tesp) = shown(running, &view.chart);
    let at = transform.position_from_point(&scene.plane.place(airflow, tesp));
    let area = Rect::from_center_size(at, Vec2::splat(theme::HANDLE));
    let response = ui.interact(area, id(), Sense::drag()).on_hover_cursor(CursorIcon::Grab);
    let units = screen.units;
    response.widget_info(|| WidgetInfo::slider(true, units.pressure_number(tesp), name(screen, airflow, tesp)));
    hint::hint(&response, || "Up and Down move it by one step along its curve; the readings follow".to_owned());
    declare_steps(ui, screen, scene);
    let held = drag(ui, screen, scene, transform, &mut view.chart, &response, out);
    view.held = held.or_else(|| view.held.take());
    let presses = presses(ui, &response);
    if presses != 0 && view.chart.dragged.is_none() {
        step_by(screen, running, presses, out);
    }
    Some(response)
}

/// The point as it is drawn: under the hand, else measured.
pub fn shown(running: &Running, view: &ChartView) -> (Airflow, Pressure) {
    view.dragged.map_or((running.now.airflow, running.now.tesp), |dragged| (dragged.airflow, dragged.tesp))
}

fn declare_steps(ui: &Ui, screen: &Screen<'_>, scene: &Scene<'_>) {
    let step = screen.units.pressure_number(step(screen.units));
    let end = scene.in_use().and_then(|tap| match &tap.drawn {
        Drawn::Curve { samples, .. } => samples.last().map(|end| end.place.y),
        Drawn::Mark(row) => Some(screen.units.pressure_number(scene.plane.tesp(row.entry + row.reach, row.airflow))),
    });
    ui.ctx().accesskit_node_builder(id(), |node| {
        node.set_min_numeric_value(step);
        if let Some(end) = end {
            node.set_max_numeric_value(end);
        }
        node.set_numeric_value_step(step);
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
}

fn drag(
    ui: &Ui,
    screen: &Screen<'_>,
    scene: &Scene<'_>,
    transform: &PlotTransform,
    view: &mut ChartView,
    response: &Response,
    out: &mut Vec<Action>,
) -> Option<Held> {
    let running = screen.as_it_stands().point()?;
    if response.drag_started() {
        response.request_focus();
        let (airflow, tesp) = shown(running, view);
        let pressed = ui.input(|input| input.pointer.press_origin()).unwrap_or(response.rect.center());
        view.dragged = Some(DraggedPoint { airflow, tesp, grip: pressed - response.rect.center() });
    }
    if ui.input(|input| input.key_pressed(Key::Escape)) && view.dragged.is_some() {
        view.dragged = None;
        ui.ctx().stop_dragging();
    }
    if response.drag_stopped() {
        let dropped = view.dragged.take()?;
        let across = running.across(dropped.airflow, dropped.tesp);
        set_across(screen, running, across, out);
        return None;
    }
    if !response.dragged() {
        view.dragged = None;
        return None;
    }
    let dragged = view.dragged.as_mut()?;
    ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    if let Some(pointer) = response.interact_pointer_pos() {
        slide(scene, transform, dragged, pointer - dragged.grip);
    }
    let across = running.across(dragged.airflow, dragged.tesp);
    Some(Held::Point(edits(screen.job, &running.sum.read, across, Rounding::None)))
}

/// Moves the point to the place of the curve nearest to the pointer.
fn slide(scene: &Scene<'_>, transform: &PlotTransform, dragged: &mut DraggedPoint, to: eframe::egui::Pos2) {
    let Some(Drawn::Curve { curve, samples, .. }) = scene.in_use().map(|tap| &tap.drawn) else {
        return;
    };
    let least = step(scene.plane.units);
    let Some(nearest) = scene::nearest(samples, &scene::on_screen(transform, samples), to) else {
        return;
    };
    let airflow = curve.airflow(nearest.entry);
    let tesp = scene.plane.tesp(nearest.entry, airflow);
    if tesp >= least {
        dragged.airflow = airflow;
        dragged.tesp = tesp;
    }
}

/// Hands out the edits, unless nothing would change or the machine could not run there.
fn set_across(screen: &Screen<'_>, running: &Running, across: Pressure, out: &mut Vec<Action>) {
    let step = step(screen.units);
    let read = &running.sum.read;
    let wanted = rounded(across, step);
    if wanted < step || (wanted - read.across()).abs() < step * 0.5 {
        return;
    }
    let edits = edits(screen.job, read, wanted, Rounding::To(step));
    if held::would(screen.job, &edits).is_some() {
        out.push(Action::Edits(edits));
    }
}

/// Presses of the arrow keys, up less down, and what a screen reader asked for, on a handle that has the focus.
pub fn presses(ui: &Ui, response: &Response) -> i32 {
    let mut steps = 0;
    if response.has_focus() {
        let filter = EventFilter { vertical_arrows: true, horizontal_arrows: false, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        steps += ui.input(|input| {
            let presses = |key| i32::try_from(input.num_presses(key)).unwrap_or_default();
            if input.modifiers.any() { 0 } else { presses(Key::ArrowUp) - presses(Key::ArrowDown) }
        });
    }
    steps += ui.input(|input| {
        let asked =
            |action| i32::try_from(input.num_accesskit_action_requests(response.id, action)).unwrap_or_default();
        asked(accesskit::Action::Increment) - asked(accesskit::Action::Decrement)
    });
    steps
}

fn step_by(screen: &Screen<'_>, running: &Running, presses: i32, out: &mut Vec<Action>) {
    let step = step(screen.units);
    let across = rounded(running.sum.read.across(), step) + step * f64::from(presses);
    set_across(screen, running, across, out);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit;
    use crate::files::demo;
    use crate::model::answer::Answer;

    fn averages(job: &Job, edits: &[Edit]) -> (f64, f64, f64) {
        let mut changed = job.clone();
        for edit in edits {
            edit::apply(&mut changed, edit.clone()).unwrap();
        }
        let (before, after) = (changed.return_reading().unwrap(), changed.supply_reading().unwrap());
        (before.in_wc(), after.in_wc(), (after - before).in_wc())
    }

    #[test]
    fn both_ports_are_scaled_and_their_difference_is_what_was_asked_for() {
        let job = demo::heat_pump();
        let answer = Answer::of(&job);
        let read = &answer.point().unwrap().sum.read;
        for wanted in [0.05, 0.40, 0.84, 0.955] {
            let exact = edits(&job, read, Pressure::from_in_wc(wanted), Rounding::None);
            let (before, after, across) = averages(&job, &exact);
            assert!((across - wanted).abs() < 1e-12, "{wanted}");
            assert!((before / after - -0.52 / 0.31).abs() < 1e-9, "{wanted}");
            let step = step(UnitSystem::InchPound);
            let tidy = edits(&job, read, Pressure::from_in_wc(wanted), Rounding::To(step));
            let (_, _, across) = averages(&job, &tidy);
            assert!((across - rounded(Pressure::from_in_wc(wanted), step).in_wc()).abs() < 1e-9, "{wanted}");
        }
    }

    #[test]
    fn what_is_dragged_is_one_look_of_whole_steps() {
        let job = demo::heat_pump();
        let answer = Answer::of(&job);
        let read = &answer.point().unwrap().sum.read;
        for (units, unit) in [(UnitSystem::InchPound, 0.01), (UnitSystem::SiLitres, 1.0)] {
            for edit in edits(&job, read, Pressure::from_in_wc(0.6), Rounding::To(step(units))) {
                let Edit::Reading(at, looks) = edit else { unreachable!("readings only") };
                assert!(looks.len() == 1 && job.set().at(at).unwrap().looks.len() > 1);
                for look in looks {
                    let steps = units.pressure_number(look) / unit;
                    assert!((steps - steps.round()).abs() < 1e-6, "{steps}");
                }
            }
        }
    }
}
