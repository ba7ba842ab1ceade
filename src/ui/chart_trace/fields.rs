//! What is marked in the picture, step by step, and what is still missing.

use eframe::egui::{Align, Button, Id, Key, Layout, Modifiers, Role, TextEdit, Ui, WidgetInfo, vec2};

use crate::model::typed::chart_trace::{AxisOf, Scale};
use crate::model::typed::table_draft::{AirflowUnit, PressureUnit};
use crate::ui::chart_trace::canvas;
use crate::ui::theme;
use crate::ui::view::chart_trace::{Hand, TraceView, value_id};
use crate::ui::widgets::{choice, label};
use crate::units::show;

/// Width of a point's button, and of the field of its value.
const BUTTON: f32 = 112.0;
const VALUE: f32 = 84.0;

/// Draws the steps.
pub(super) fn fields(ui: &mut Ui, trace: &mut TraceView) {
    axes(ui, trace);
    corners(ui, trace);
    taps(ui, trace);
    state(ui, trace);
}

fn axes(ui: &mut Ui, trace: &mut TraceView) {
    for of in AxisOf::ALL {
        label::heading(
            ui,
            match of {
                AxisOf::Airflow => "Axis of airflow",
                AxisOf::Static => "Axis of static pressure",
            },
        );
        for index in [0, 1] {
            point(ui, trace, of, index);
        }
        ui.columns(2, |columns| {
            if let [left, right] = columns {
                scale(left, trace, of);
                unit(right, trace, of);
            }
        });
    }
}

fn scale(ui: &mut Ui, trace: &mut TraceView, of: AxisOf) {
    let chosen = trace.trace().axis(of).scale.name();
    if let Some(picked) = choice::list(ui, &format!("Scale of {}", of.name()), chosen, &Scale::ALL.map(Scale::name)) {
        trace.trace_mut().axis_mut(of).scale = Scale::ALL[picked];
    }
}

fn unit(ui: &mut Ui, trace: &mut TraceView, of: AxisOf) {
    match of {
        AxisOf::Airflow => {
            let names = AirflowUnit::ALL.map(AirflowUnit::name);
            let chosen = trace.trace().airflow_unit.name();
            if let Some(picked) = choice::list(ui, "Airflow in", chosen, &names) {
                trace.trace_mut().airflow_unit = AirflowUnit::ALL[picked];
            }
        }
        AxisOf::Static => {
            let names = PressureUnit::ALL.map(PressureUnit::name);
            let chosen = trace.trace().pressure_unit.name();
            if let Some(picked) = choice::list(ui, "Static in", chosen, &names) {
                trace.trace_mut().pressure_unit = PressureUnit::ALL[picked];
            }
        }
    }
}

/// A point of an axis: the button that has it marked, and its value.
fn point(ui: &mut Ui, trace: &mut TraceView, of: AxisOf, index: usize) {
    let which = if index == 0 { "First point" } else { "Second point" };
    let is_marked = trace.trace().axis(of).marks[index].at.is_some();
    let hand = Hand::Axis(of, index);
    ui.horizontal(|ui| {
        if hand_button(ui, which, &format!("{which} of {}", of.name()), trace.hand == hand) {
            trace.hand = hand;
        }
        let id = value_id(of, index);
        let name = format!("Value of the {} of {}", which.to_lowercase(), of.name());
        let mark = &mut trace.trace_mut().axis_mut(of).marks[index];
        let typed = TextEdit::singleline(&mut mark.value).id(id).hint_text("value").desired_width(VALUE);
        let response = ui.add(typed.margin(vec2(6.0, 4.0)));
        let text = mark.value.clone();
        response.widget_info(|| {
            let mut info = WidgetInfo::labeled(Role::TextInput, true, &name);
            info.current_text_value = Some(text.clone());
            info
        });
        if trace.go_to == Some(id) {
            trace.go_to = None;
            response.request_focus();
        }
        // Taken away, for the picture that gets the keys would mark a point by it.
        if response.lost_focus() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter)) {
            canvas::take_keys(ui);
        }
        label::caption(ui, if is_marked { "marked" } else { "not marked" });
    });
}

fn corners(ui: &mut Ui, trace: &mut TraceView) {
    label::heading(ui, "Corners, where it was taken askew");
    ui.horizontal(|ui| {
        if hand_button(ui, "Mark corners", "Mark the corners", trace.hand == Hand::Corner) {
            trace.hand = Hand::Corner;
        }
        let count = trace.trace().corners.len();
        if count > 0 && ui.button("Forget them").clicked() {
            trace.trace_mut().corners.clear();
            trace.hand = trace.next_unmarked();
        }
        label::caption(ui, format!("{count} of 4"));
    });
    label::caption(ui, "The frame's own: left above, right above, right below, left below");
}

fn taps(ui: &mut Ui, trace: &mut TraceView) {
    label::heading(ui, "Taps");
    let lines: Vec<(String, String, bool)> = trace
        .trace()
        .taps
        .iter()
        .enumerate()
        .map(|(index, tap)| {
            let count = tap.points.len();
            let points = format!("{count} point{}", if count == 1 { "" } else { "s" });
            (format!("Tap {}", tap.name), points, trace.hand == Hand::Tap(index))
        })
        .collect();
    if let Some(index) = choice::lines(ui, "Trace", &lines).pressed {
        trace.hand = Hand::Tap(index);
    }
    if let Hand::Tap(index) = trace.hand
        && let Some(tap) = trace.trace_mut().taps.get_mut(index)
    {
        ui.horizontal(|ui| {
            ui.allocate_ui_with_layout(vec2(BUTTON, theme::FINGER), Layout::left_to_right(Align::Center), |ui| {
                ui.set_min_width(BUTTON);
                label::caption(ui, "Its name");
            });
            let id = Id::unique(("name of traced tap", index));
            let response = ui.add(TextEdit::singleline(&mut tap.name).id(id).desired_width(VALUE));
            let text = tap.name.clone();
            response.widget_info(|| {
                let mut info = WidgetInfo::labeled(Role::TextInput, true, "Name of the traced tap");
                info.current_text_value = Some(text.clone());
                info
            });
        });
    }
    ui.horizontal(|ui| {
        if ui.button("Next tap").clicked() {
            trace.next_tap();
        }
        if ui.button("Take the last mark back").clicked() {
            trace.take_back();
        }
    });
}

/// What is missing, or how far the reading may be off.
fn state(ui: &mut Ui, trace: &TraceView) {
    label::heading(ui, "What it says");
    match (trace.trace().taps(), trace.trace().reading_error()) {
        (Ok(taps), Ok(error)) if !taps.is_empty() => {
            let points: usize = taps.iter().map(|tap| tap.points.len()).sum();
            let percent = show::trimmed((error * 1000.0).ceil() / 10.0, 1);
            label::caption(
                ui,
                format!(
                    "{} of {} read; a pixel beside it is up to {percent} % of airflow",
                    counted(points, "point"),
                    counted(taps.len(), "tap")
                ),
            );
        }
        (Ok(_), _) => {
            label::caption(ui, "The axes stand: press points along the first tap's curve");
        }
        (Err(fault), _) => {
            label::question(ui, &fault.sentence());
        }
    }
}

fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// A button that says what the next press marks.
fn hand_button(ui: &mut Ui, text: &str, name: &str, is_chosen: bool) -> bool {
    let palette = theme::palette(ui);
    let (fill, ink) = if is_chosen { (palette.tap_high, palette.on_tap) } else { (palette.raised, palette.ink) };
    let words = eframe::egui::RichText::new(text).color(ink);
    let response = ui.add(Button::new(words).fill(fill).min_size(vec2(BUTTON, theme::FINGER)));
    response.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, is_chosen, name));
    response.clicked()
}
