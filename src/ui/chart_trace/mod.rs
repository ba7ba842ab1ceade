//! A fan chart in a picture, traced by hand: two points on each axis, each tap point by point, corners where it was taken askew.

mod canvas;
mod fields;

use eframe::egui::{Button, Key, Modifiers, RichText, Ui, Vec2, vec2};

use crate::ui::theme;
use crate::ui::view::action::Action;
use crate::ui::view::chart_trace::TraceView;
use crate::ui::view::{Screen, View};
use crate::ui::widgets::{focus, label, sheet};

/// Largest that it gets, points.
const LARGEST: Vec2 = vec2(1320.0, 840.0);
/// Under this width the parts stand under each other.
const SIDE_BY_SIDE: f32 = 720.0;
/// Width of the fields beside the picture.
const FIELDS: f32 = 300.0;
/// Least height of the picture where the parts stand under each other.
const PICTURE_LEAST: f32 = 220.0;

/// How it ends.
enum Ending {
    Take,
    Leave,
    /// The picture shows a printed table, which is typed with it over the grid.
    Type,
}

/// Draws the picture while `view.chart_trace` is there.
pub fn show(ui: &mut Ui, _screen: &Screen<'_>, view: &mut View, _out: &mut Vec<Action>) {
    let Some(trace) = view.chart_trace.as_mut() else {
        return;
    };
    let modal = sheet::over_all(ui, "chart trace", LARGEST, |ui, size| contents(ui, trace, size));
    if trace.asks {
        match ask(ui) {
            Some(true) => view.chart_trace = None,
            Some(false) => trace.asks = false,
            None => {}
        }
        return;
    }
    let leave = modal.should_close().then_some(Ending::Leave);
    match modal.inner.or(leave) {
        Some(Ending::Take) => {
            if let Ok(draft) = trace.draft() {
                view.take_draft(draft);
            }
        }
        Some(Ending::Type) => {
            let (file, picture) = trace.look.clone().into_picture();
            view.chart_trace = None;
            view.edit_table(None, view.table_for);
            view.table_editor.iter_mut().for_each(|editor| editor.lay_beside(file.clone(), picture.clone()));
        }
        Some(Ending::Leave) if trace.trace().is_empty() => view.chart_trace = None,
        Some(Ending::Leave) => trace.asks = true,
        None => {}
    }
}

/// Asks before marks are thrown away; true for yes.
fn ask(ui: &Ui) -> Option<bool> {
    let mut answer = None;
    let modal = sheet::question(ui, "leave the picture", |ui| {
        ui.set_width(340.0);
        label::strong(ui, "What was marked in this picture is in no table yet. Throw it away?");
        ui.add_space(theme::STEP);
        ui.horizontal(|ui| {
            let keep = ui.button("Keep marking");
            focus::by_default(&keep);
            if keep.clicked() {
                answer = Some(false);
            }
            if ui.button(RichText::new("Throw the marks away").color(theme::palette(ui).over)).clicked() {
                answer = Some(true);
            }
        });
    });
    answer.or(modal.should_close().then_some(false))
}

fn contents(ui: &mut Ui, trace: &mut TraceView, size: Vec2) -> Option<Ending> {
    let accept = !trace.asks && ui.input_mut(|input| input.consume_key(Modifiers::COMMAND, Key::Enter));
    label::strong(ui, format!("Trace the fan chart in {}", trace.look.file));
    label::caption(ui, "Press two points on each axis and type their values, then each tap's curve point by point");
    let body = vec2(size.x, (size.y - 92.0).max(120.0));
    if size.x >= SIDE_BY_SIDE {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0 * theme::STEP;
            sheet::part(ui, "fields", vec2(FIELDS, body.y), |ui| fields::fields(ui, trace));
            canvas::canvas(ui, trace, vec2(body.x - FIELDS - 2.0 * theme::STEP, body.y));
        });
    } else {
        sheet::part(ui, "all", body, |ui| {
            let width = ui.available_width();
            canvas::canvas(ui, trace, vec2(width, PICTURE_LEAST.max(body.y * 0.6)));
            fields::fields(ui, trace);
        });
    }
    foot(ui, trace, accept)
}

fn foot(ui: &mut Ui, trace: &TraceView, accept: bool) -> Option<Ending> {
    let is_table = trace.in_hand().is_some();
    let mut ending = None;
    ui.add_space(theme::STEP * 0.5);
    ui.horizontal_wrapped(|ui| {
        let take = Button::new(RichText::new("Open in the table editor").font(theme::strong(theme::BODY)));
        if ui.add_enabled(is_table, take).clicked() || accept && is_table {
            ending = Some(Ending::Take);
        }
        // Once something is marked it is a chart.
        if trace.trace().is_empty() && ui.button("It shows a table: type it").clicked() {
            ending = Some(Ending::Type);
        }
        if ui.button("Close").clicked() {
            ending = Some(Ending::Leave);
        }
        label::caption(ui, "Ctrl+Enter opens it in the editor, where the machine is named");
    });
    ending
}
