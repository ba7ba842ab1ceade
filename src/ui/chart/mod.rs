//! The chart: taps and path crossing, the plate, the target, and the measured point to drag.
//!
//! [`after`] is the path with its changes. [`scene`] samples what there is to draw, [`axes`] says which part is seen, [`drawing`] and [`paint`] draw it, [`visit`] is the other readings of the visit, [`aside`] what stands back beside them: another job, and other options, [`labels`] finds places for names, [`hover`] reads out, [`handle`] is the point under the hand, [`wish`] the path's curve under it.

pub mod after;
pub mod aside;
pub mod axes;
pub mod drawing;
pub mod handle;
pub mod hover;
pub mod labels;
pub mod legend;
pub mod paint;
pub mod scene;
pub mod visit;
pub mod wish;
pub mod words;

use eframe::egui::{Align, Label, Layout, Rect, RichText, Role, Shape, Ui, UiBuilder, WidgetInfo, vec2};
use egui_plot::{AxisHints, Plot, PlotResponse, PlotTransform};

use crate::ui::theme::{self, Palette};
use crate::ui::view::action::Action;
use crate::ui::view::held::Held;
use crate::ui::view::other_tap::run_on;
use crate::ui::view::{ChartView, LegendPlace, Screen, View};
use crate::ui::widgets::{hint, label};
use drawing::Drawing;
use scene::Scene;

/// Height of the lines over and under the plot.
const LINE: f32 = 20.0;
/// Room right of the plot for half of the last number.
const RIGHT: f32 = 20.0;
/// Width kept for the numbers of the y axis.
const Y_AXIS: f32 = 40.0;
/// Under this height the curves have all of it, without titles.
const LOW: f32 = 140.0;

/// Draws the chart, and on request the legend of its marks beside it or under it, where it does not stand in a panel.
pub fn chart(ui: &mut Ui, screen: &Screen<'_>, view: &mut View, out: &mut Vec<Action>) {
    view.chart_place = Some(ui.max_rect());
    let scene = Scene::of(screen);
    let room = ui.available_rect_before_wrap();
    if !view.chart.legend || view.legend_place == LegendPlace::ForTheJob {
        curves(ui, screen, &scene, view, out);
        return;
    }
    let left = legend::legend(ui, screen, &scene, &view.options.hidden, (LINE, room));
    curves(&mut ui.new_child(UiBuilder::new().max_rect(left)), screen, &scene, view, out);
    ui.advance_cursor_after_rect(room);
}

/// Draws the chart as it is printed: the part that is seen, and nothing to take hold of.
pub fn printed(ui: &mut Ui, screen: &Screen<'_>, seen: ChartView) {
    let (palette, scene) = (theme::palette(ui), Scene::of(screen));
    let view = View { chart: ChartView { dragged: None, wish: None, ..seen }, ..View::default() };
    title(ui, &axes::y_title(screen.units), palette);
    let under = ui.painter().add(Shape::Noop);
    let fitted = seen.fitted.unwrap_or_else(|| axes::fitted(screen, &scene));
    let transform = plot(ui, fitted, &view, (palette, LINE + theme::STEP)).transform;
    ui.painter().set(under, underlay(palette, &transform, &scene));
    let drawing = Drawing::of(screen, &scene, transform, palette, &view);
    drawing.lines(ui, &view);
    drawing.marks(ui, &view, false);
    drawing.labels(ui, &view, None);
    if let Some(text) = words::empty(screen, &scene) {
        in_the_middle(ui, *transform.frame(), text, palette);
    }
    foot(ui, screen, &scene, palette);
}

/// What lies under the grid.
fn underlay(palette: &Palette, transform: &PlotTransform, scene: &Scene<'_>) -> Shape {
    let (rated, target) = (scene.counts().rated.map(|(limit, _)| limit), scene.counts().target);
    paint::underlay(palette, transform, &scene.plane, target, rated)
}

fn curves(ui: &mut Ui, screen: &Screen<'_>, scene: &Scene<'_>, view: &mut View, out: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let held = if view.chart.holds_axes { " · axes held" } else { "" };
    let is_bare = ui.available_height() < LOW;
    if !is_bare {
        title(ui, &format!("{}{held}", axes::y_title(screen.units)), palette);
    }
    let under = ui.painter().add(Shape::Noop);
    let fitted = axes::held(ui, screen, scene, &mut view.chart);
    let foot_height = if is_bare { 0.0 } else { LINE + theme::STEP };
    let plot = plot(ui, fitted, view, (palette, foot_height));
    let transform = plot.transform;
    plot.response.widget_info(|| WidgetInfo::labeled(Role::GraphicsDocument, true, words::spoken(screen, scene)));
    hint::hint(&plot.response, || {
        "Ctrl and the wheel zoom the chart, a double click fits it; a press on a curve lets that tap run".to_owned()
    });
    axes::zoom_and_pan(ui, &plot.response, &transform, fitted, &mut view.chart);
    ui.painter().set(under, underlay(palette, &transform, scene));
    let grip = handle::handle(ui, screen, scene, &transform, view, out);
    let held = grip.is_some_and(|grip| grip.hovered() || grip.dragged() || grip.has_focus());
    let drawing = Drawing::of(screen, scene, transform, palette, view);
    drawing.lines(ui, view);
    drawing.marks(ui, view, held);
    let note = view.chart.wish.map(|_| wish::note_area(*transform.frame()));
    let labels = drawing.labels(ui, view, note);
    if screen.in_hand.is_none() {
        let pulled = wish::grip(ui, screen, scene, &transform, &mut view.chart, &labels);
        view.held = pulled.map(Held::Wish).or_else(|| view.held.take());
        wish::note(ui, screen, *transform.frame(), &mut view.chart);
    }
    // Over everything else, so that nothing covers a number of it; under a card the chart reads nothing out.
    let is_over = plot.response.contains_pointer() && ui.rect_contains_pointer(plot.response.rect);
    if view.chart.dragged.is_none() && is_over {
        let tap = drawing.hover(ui, &labels);
        if plot.response.clicked() {
            out.extend(tap.and_then(|tap| run_on(screen.job, screen.answer, tap)));
        }
    }
    if let Some(text) = words::empty(screen, scene) {
        in_the_middle(ui, *transform.frame(), text, palette);
    }
    if !is_bare {
        foot(ui, screen, scene, palette);
    }
}

fn in_the_middle(ui: &mut Ui, frame: Rect, text: &str, palette: &Palette) {
    let text = RichText::new(text).font(theme::regular(theme::BODY)).color(palette.quiet);
    let area = Rect::from_center_size(frame.center(), vec2(frame.width() * 0.8, 48.0));
    ui.new_child(UiBuilder::new().max_rect(area)).vertical_centered(|ui| ui.add(Label::new(text).wrap()));
}

fn title(ui: &mut Ui, text: &str, palette: &Palette) {
    let text = RichText::new(text).font(theme::regular(theme::CHART)).color(palette.quiet);
    ui.add(Label::new(text).truncate());
}

fn plot(ui: &mut Ui, fitted: [f64; 2], view: &View, (palette, foot): (&Palette, f32)) -> PlotResponse<()> {
    let bounds = axes::visible(fitted, &view.chart);
    let hints = |axis: AxisHints<'static>| {
        axis.tick_label_font(theme::regular(theme::CHART))
            .tick_label_color(palette.quiet)
            .label_spacing(1.0..=2.0)
            .formatter(|mark, _| axes::mark_text(mark))
    };
    let size = ui.available_size();
    Plot::new("chart")
        .width((size.x - RIGHT).max(60.0))
        .height((size.y - foot).max(60.0))
        .custom_x_axes(vec![hints(AxisHints::new_x()).min_thickness(LINE)])
        .custom_y_axes(vec![hints(AxisHints::new_y()).min_thickness(Y_AXIS)])
        .x_grid_spacer(|input| axes::x_marks(&input))
        .y_grid_spacer(|input| axes::y_marks(&input))
        .grid_spacing(1.0..=2.0)
        .grid_color(palette.grid)
        .grid_fade(0.0)
        .show_background(false)
        .show_x(false)
        .show_y(false)
        .show_crosshair(false)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_axis_zoom_drag(false)
        .allow_double_click_reset(false)
        .show(ui, |plot| plot.set_plot_bounds(bounds))
}

fn foot(ui: &mut Ui, screen: &Screen<'_>, scene: &Scene<'_>, palette: &Palette) {
    let quiet = |text: String| {
        Label::new(RichText::new(text).font(theme::regular(theme::CHART)).color(palette.quiet)).truncate()
    };
    ui.allocate_ui_with_layout(vec2(ui.available_width(), LINE), Layout::left_to_right(Align::Center), |ui| {
        ui.add_space(Y_AXIS);
        ui.add(quiet(axes::x_title(screen.units)));
        if !scene.taps.is_empty() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add_space(RIGHT);
                let (wordings, font) = (words::key(screen, scene), theme::regular(theme::CHART));
                let key = label::longest_that_fits(ui, &wordings, &font, palette.quiet, ui.available_width());
                ui.add(Label::new(key));
            });
        }
    });
}
